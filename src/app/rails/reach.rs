//! Where the selected rest may stand: a filled band where it may, an open one where a true spot must be turned first, a
//! hatched one where it cannot, each with a word; the reason shows at the pointer.

use egui::{Id, Rect, Role, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo, pos2};

use super::{ROW_HEIGHT, Rail, Row};
use crate::advice::standing;
use crate::advice::words::capital;
use crate::app::bench::paint::hatched;
use crate::app::{Selected, View};
use crate::job::{RestId, Setup};
use crate::study::reach::{RestReach, Standing, Stretch, follower_reach};

/// The row, in a set-up that has a rest.
pub const ROW: Row = Row {
    height: |_, setup, view| if about(setup, view).is_some() { ROW_HEIGHT } else { 0.0 },
    show,
};

/// Whose bands are shown.
#[derive(Clone, Copy, Debug, PartialEq)]
enum About {
    Steady(RestId),
    Follower,
}

/// The selected rest, else the first steady; the follower where there is nothing else, and a pass to look at.
fn about(setup: &Setup, view: &View) -> Option<About> {
    let follower = setup.follower.as_ref().and(view.pass).map(|_| About::Follower);
    match view.selected {
        Selected::Rest(id) if setup.rest(id).is_some() => Some(About::Steady(id)),
        Selected::Follower if follower.is_some() => follower,
        _ => setup.rests.first().map(|rest| About::Steady(rest.id)).or(follower),
    }
}

fn show(ui: &mut Ui, rail: &mut Rail<'_>) {
    let Some(about) = about(rail.setup, rail.view) else { return };
    match about {
        About::Steady(id) => {
            let number = rail.setup.rests.iter().position(|rest| rest.id == id).map_or(0, |index| index + 1);
            if let Some(reach) = rail.results.reach(id) {
                bands(ui, rail, reach, &format!("Steady {number}"), &format!("steady rest {number}"));
            }
            marks(ui, rail, id);
        }
        About::Follower => {
            let (job, setup) = (rail.job, rail.setup.id);
            let reach = rail.view.pass.and_then(|pass| follower_reach(job, &rail.results.result, setup, pass));
            if let Some(reach) = reach {
                bands(ui, rail, &reach, "Follower", "the follower rest");
            }
        }
    }
}

fn bands(ui: &mut Ui, rail: &Rail<'_>, reach: &RestReach, name: &str, whose: &str) {
    rail.name(ui, name);
    let stretches = reach.stretches();
    for (stretch, what) in &stretches {
        let rect = rail.rect_of(stretch.from_mm, stretch.to_mm, 3.0);
        if rect.is_positive() {
            band(ui, rail, rect, what);
        }
    }
    let (job, setup) = (rail.job, rail.setup);
    let row = ui.interact(rail.map.rect, Id::unique("where a rest may stand"), Sense::hover());
    let told: Vec<String> = stretches.iter().map(|one| line(rail, one)).collect();
    row.widget_info(|| WidgetInfo::labeled(Role::Label, true, format!("Where {whose} may stand. {}", told.join(". "))));
    let Some(pos) = row.hover_pos().filter(|pos| rail.map.x_range.contains(pos.x)) else { return };
    let z_mm = rail.map.z_mm(pos.x);
    row.on_hover_ui_at_pointer(|ui| {
        if let Some(here) = stretches.iter().find(|(stretch, _)| stretch.holds(z_mm)) {
            ui.label(line(rail, here));
            // What else is against it.
            let mut said = vec![standing::standing(job, setup, &here.1)];
            for one in reach.against(z_mm) {
                let because = standing::because(job, setup, &one.why);
                if !said.contains(&because) {
                    let stretch = Stretch::new(one.from_mm, one.to_mm);
                    ui.label(format!("Also {}: {because}", standing::from_to(job, &stretch)));
                    said.push(because);
                }
            }
        }
    });
}

/// "0 to 8 mm: it would stand in the chuck".
fn line(rail: &Rail<'_>, (stretch, what): &(Stretch, Standing)) -> String {
    let words = standing::standing(rail.job, rail.setup, what);
    capital(&format!("{}: {words}", standing::from_to(rail.job, stretch)))
}

fn band(ui: &Ui, rail: &Rail<'_>, rect: Rect, what: &Standing) {
    let painter = ui.painter_at(rail.map.rect);
    let palette = rail.palette;
    match what {
        Standing::Free => {
            painter.rect_filled(rect, 2.0, palette.fine.gamma_multiply(0.35));
            painter.rect_stroke(rect, 2.0, Stroke::new(1.5, palette.fine), StrokeKind::Inside);
            rail.words_in(ui, rect, "may stand");
        }
        Standing::SpotFirst => {
            painter.rect_stroke(rect, 2.0, Stroke::new(1.5, palette.fine), StrokeKind::Inside);
            rail.words_in(ui, rect, "true spot first");
        }
        Standing::No(why) => {
            painter.extend(hatched(rect, rail.map.rect, palette.ink_weak.gamma_multiply(0.7)));
            painter.rect_stroke(rect, 0.0, Stroke::new(0.6, palette.ink_weak), StrokeKind::Inside);
            rail.words_in(ui, rect, standing::brief(why));
        }
    }
}

/// A wedge at the place of each steady of the set-up, the one spoken of filled.
fn marks(ui: &Ui, rail: &Rail<'_>, id: RestId) {
    let painter = ui.painter_at(rail.map.rect);
    for rest in &rail.setup.rests {
        let (x, top) = (rail.map.x(rest.z_mm), rail.map.rect.top());
        if !rail.map.x_range.contains(x) {
            continue;
        }
        let wedge = vec![pos2(x - 5.0, top), pos2(x + 5.0, top), pos2(x, top + 9.0)];
        let line = Stroke::new(1.2, rail.palette.ink);
        let fill = if rest.id == id { rail.palette.selected } else { rail.palette.canvas };
        painter.add(Shape::convex_polygon(wedge, fill, line));
        if rest.id == id {
            painter.vline(x, rail.map.rect.y_range(), Stroke::new(1.5, rail.palette.selected));
        }
    }
}
