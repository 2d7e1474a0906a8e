//! What the jaws of the selected rest feel with the work as it is drawn: pressure on the line they bear on, rubbing,
//! drag and heat.
//!
//! All for smooth, oiled tips ([`crate::study::jaw_contact`]); estimates.

use egui::{Grid, Label, Rect, RichText, Shape, Ui, vec2};

use crate::advice::why::Figure;
use crate::advice::words;
use crate::app::figure::{column_ui, head_ui, sentence_ui};
use crate::app::{Commands, Results, Selected};
use crate::job::quantity::{self, Kind};
use crate::job::{Job, Pass, Setup};
use crate::study::Support;
use crate::study::jaw_contact::{JawContact, of_shape};

/// A table where a rest or the follower is selected and a jaw of it touches.
pub fn contact_ui(
    ui: &mut Ui,
    job: &Job,
    setup: &Setup,
    results: &Results,
    pass: Option<&Pass>,
    selected: Selected,
    out: &mut Commands,
) {
    let is_looked_at = |support: Support| match (support, selected) {
        (Support::Jaw { rest, .. }, Selected::Rest(id)) => rest == id,
        (Support::FollowerJaw { .. }, Selected::Follower) => true,
        _ => false,
    };
    let Some(shape) = &results.shape else { return };
    let jaws: Vec<JawContact> = of_shape(job, setup, pass, shape)
        .into_iter()
        .filter(|jaw| is_looked_at(jaw.support) && jaw.force_n > 0.0)
        .collect();
    let Some(first) = jaws.first() else { return };
    ui.add_space(6.0);
    let show = |value: f64, kind: Kind| quantity::show(value, kind, job.units);
    let part = words::capital(&words::support_parts(setup, first.support, job.units).0);
    let rubbing = match first.rubbing_m_per_s > 0.0 {
        true => format!(", rubbing at {}", show(first.rubbing_m_per_s, Kind::SurfaceSpeed)),
        false => ", standing still".to_owned(),
    };
    let text = RichText::new(format!("{part}{rubbing}")).small();
    let turns = first.rubbing_m_per_s > 0.0;
    let told = match turns {
        true => sentence_ui(ui, (Figure::Rubbing(first.support), "rubbing speed"), text, out),
        false => ui.label(text),
    };
    told.on_hover_text(
        "Smooth, oiled tips in line with the work. The pressure is the peak on the line a tip bears on, or the mean where \
         the tip lies round the work.",
    );
    // The heads explain the jaw that is pressed most.
    let hardest = jaws.iter().max_by(|a, b| a.force_n.total_cmp(&b.force_n)).map_or(first.support, |jaw| jaw.support);
    let heads = [
        ("jaw", None),
        ("force", Some(Figure::Load(hardest))),
        ("pressure", Some(Figure::Pressure(hardest))),
        ("drag", Some(Figure::Drag(hardest))),
        ("heat", Some(Figure::Heat(hardest))),
    ];
    let heads = &heads[..if turns { 5 } else { 3 }];
    let behind: Vec<_> = heads.iter().map(|_| ui.painter().add(Shape::Noop)).collect();
    let mut columns = vec![Rect::NOTHING; heads.len()];
    let small = |text: String| Label::new(RichText::new(text).small()).selectable(false);
    Grid::new("jaw contact").num_columns(heads.len()).spacing(vec2(7.0, 2.0)).show(ui, |ui| {
        for (column, (head, figure)) in columns.iter_mut().zip(heads) {
            let head = RichText::new(*head).small();
            *column = match figure {
                Some(_) => ui.horizontal(|ui| head_ui(ui, head)).inner,
                None => ui.label(head.weak()).rect,
            };
        }
        ui.end_row();
        for jaw in &jaws {
            let name = words::support_parts(setup, jaw.support, job.units).1.unwrap_or_default();
            let name = name.trim_end_matches(" jaw").to_owned();
            let mut cells = vec![name, show(jaw.force_n, Kind::Force), pressure(jaw, job)];
            if turns {
                cells.push(show(jaw.friction_n, Kind::Force));
                cells.push(format!("{:.*} W", usize::from(jaw.heat_w < 9.95), jaw.heat_w));
            }
            for (column, cell) in columns.iter_mut().zip(cells) {
                *column = column.union(ui.add(small(cell)).rect);
            }
            ui.end_row();
        }
    });
    for (((head, figure), column), behind) in heads.iter().zip(columns).zip(behind) {
        if let Some(figure) = figure {
            column_ui(ui, column, behind, (*figure, &format!("{head} of the jaw pressed most")), out);
        }
    }
}

/// The peak on the line, or the mean of a tip that lies round the work.
fn pressure(jaw: &JawContact, job: &Job) -> String {
    match jaw.peak_mpa {
        Some(peak_mpa) => quantity::show(peak_mpa, Kind::Pressure, job.units),
        None => format!("{} mean", quantity::show(jaw.mean_mpa, Kind::Pressure, job.units)),
    }
}
