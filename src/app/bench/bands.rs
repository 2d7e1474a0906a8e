//! A rest against the bands where it may stand: a move stops at a band's edge and passes it by intent only, a rest that
//! stands where it cannot is hatched in place with the reason, and the bed under the shaft is hatched while one is moved.

use egui::{Rect, Shape, Stroke, StrokeKind, pos2};

use super::labels::Word;
use super::paint::hatched;
use super::stage::Stage;
use crate::advice::standing;
use crate::advice::words::capital;
use crate::app::Selected;
use crate::job::Rest;
use crate::study::reach::{RestReach, Standing, Stretch};

/// A drag must go on so far past an edge to pass it, in points.
pub const PAST_POINTS: f64 = 60.0;
/// Height of the hatching under the shaft, in points.
const STRIP: f32 = 14.0;

/// The edge at which a move from one place to another stops: that of the band it begins in, to whole steps inside it.
/// `None` where nothing stops it, or where it ends in another band.
#[must_use]
pub fn stop_mm(bands: &[Stretch], from_mm: f64, to_mm: f64, step_mm: f64) -> Option<f64> {
    let band = bands.iter().find(|band| band.holds(from_mm))?;
    if bands.iter().any(|band| band.holds(to_mm)) {
        return None;
    }
    let edge_mm = to_mm.clamp(band.from_mm, band.to_mm);
    let steps = edge_mm / step_mm;
    let whole_mm = if to_mm > edge_mm { (steps + 1e-6).floor() } else { (steps - 1e-6).ceil() } * step_mm;
    Some(if band.holds(whole_mm) { whole_mm } else { edge_mm })
}

/// Why a move that stopped at a place, on its way to another, stopped.
#[must_use]
pub fn why_it_stops(stage: &Stage, reach: &RestReach, stop_mm: f64, wanted_mm: f64) -> Option<String> {
    let band = reach.allowed.iter().find(|band| band.holds(stop_mm))?;
    let beyond_mm = if wanted_mm > stop_mm { band.to_mm + 1e-3 } else { band.from_mm - 1e-3 };
    let why = reach.first_against(beyond_mm)?;
    Some(standing::because(stage.job, stage.setup, why))
}

/// Hatches the bed under the shaft where a rest cannot stand.
pub fn hatch_under_the_shaft(stage: &mut Stage, reach: &RestReach) {
    let map = stage.map;
    let top = map.y(-stage.now.max_radius_mm()) + 3.0;
    let strip = Rect::from_x_y_ranges(map.x_range, top..=top + STRIP);
    let line = stage.palette.ink_weak.gamma_multiply(0.6);
    for (stretch, what) in reach.stretches() {
        let (left, right) = (map.x(stretch.from_mm).max(strip.left()), map.x(stretch.to_mm).min(strip.right()));
        let rect = Rect::from_x_y_ranges(left..=right, strip.y_range());
        if !rect.is_positive() {
            continue;
        }
        match what {
            Standing::No(_) => stage.marks.extend(hatched(rect, map.rect, line)),
            Standing::Free | Standing::SpotFirst => {
                let edge = [rect.left_bottom(), rect.right_bottom()];
                stage.marks.push(Shape::line_segment(edge, Stroke::new(2.0, stage.palette.fine)));
            }
        }
    }
}

/// Hatches a rest that stands where it cannot, and writes the reason beside the selected one.
pub fn clash(stage: &mut Stage, rest: &Rest, reach: &RestReach) {
    let Some(why) = reach.first_against(rest.z_mm) else { return };
    let half_mm = stage.job.lathe.rest_base_mm.value / 2.0;
    let (from_mm, to_mm) = (rest.z_mm - half_mm, rest.z_mm + half_mm);
    let rect = stage.map.rect_of(from_mm, to_mm, stage.sizes.bed_top_mm, -stage.sizes.rest_inner_mm);
    let colour = stage.palette.trouble;
    stage.marks.extend(hatched(rect, stage.map.rect, colour));
    stage.marks.push(Shape::rect_stroke(rect, 0.0, Stroke::new(1.5, colour), StrokeKind::Inside));
    if stage.view.selected != Selected::Rest(rest.id) {
        return;
    }
    let text = capital(&standing::because(stage.job, stage.setup, why));
    // At its foot: about the jaws there are the hand and what it reads.
    let foot = pos2(rect.center().x, rect.bottom() - 6.0);
    stage.remarks.push(Word::remark(foot, text, colour, stage.map.rect.width().min(260.0)));
}

#[cfg(test)]
mod tests {
    use super::*;

    const BANDS: [Stretch; 2] = [Stretch::new(8.0, 100.4), Stretch::new(200.0, 300.0)];

    #[test]
    fn a_move_stops_at_the_last_whole_step_inside_its_band() {
        assert_eq!(stop_mm(&BANDS, 50.0, 120.0, 1.0), Some(100.0));
        assert_eq!(stop_mm(&BANDS, 50.0, 2.0, 1.0), Some(8.0));
        assert_eq!(stop_mm(&BANDS, 250.0, 150.0, 1.0), Some(200.0));
    }

    #[test]
    fn a_band_without_a_whole_step_stops_at_its_own_edge() {
        assert_eq!(stop_mm(&[Stretch::new(10.2, 10.8)], 10.5, 20.0, 1.0), Some(10.8));
    }

    #[test]
    fn a_move_inside_a_band_or_into_another_goes_on_and_so_does_one_that_begins_outside() {
        assert_eq!(stop_mm(&BANDS, 50.0, 90.0, 1.0), None);
        assert_eq!(stop_mm(&BANDS, 50.0, 250.0, 1.0), None);
        assert_eq!(stop_mm(&BANDS, 150.0, 120.0, 1.0), None);
    }
}
