//! The end view of the tool where something turns with the work: what one turn leaves there, and its figures.

use egui::{Label, RichText, Sense, Ui, vec2};

use crate::advice::why::Figure;
use crate::advice::words;
use crate::app::bench::map::Map;
use crate::app::bench::paint::paint_picture;
use crate::app::figure::pairs_ui;
use crate::app::{Commands, Palette, Results, Selected, View};
use crate::job::Units;
use crate::picture::Part;
use crate::picture::one_turn::{TurnScene, one_turn};
use crate::picture::spring::round_exaggeration;
use crate::study::Station;

/// The largest distance is drawn about this share of the radius.
const SEEN_RATIO: f64 = 0.25;
/// Height of a pair of figures.
const PAIR_HEIGHT: f32 = 40.0;
/// What is rounder than this is drawn round.
const LEAST_MM: f64 = 0.0005;

/// What one turn at the tool leaves, where the tool is looked at and something turns.
pub fn turn_at_tool(view: &View, results: &Results) -> Option<(TurnScene, Station)> {
    let shape = results.shape.as_ref().filter(|_| view.selected == Selected::Tool)?;
    Some((TurnScene::of(&shape.turn_mm)?, shape.cut?))
}

/// The picture of one turn with a table under it.
pub fn turn_ui(ui: &mut Ui, scene: &TurnScene, cut: &Station, units: Units, palette: &Palette, out: &mut Commands) {
    let title = format!("One turn at the tool, at {}", words::place(cut.z_mm, units));
    ui.add(Label::new(RichText::new(title).strong()).wrap());
    let figures = [
        (Figure::RunOut, "before the cut, as held", "before, as held", cut.turned.before_mm),
        (Figure::RunOut, "runs out, as held", "runs out, as held", cut.turned.left_mm),
        (Figure::LetGo, "once let go", "once let go", cut.turned.free_mm),
        (Figure::OutOfRound, "out of round", "out of round", cut.turned.roundness_mm),
    ];
    let table_height = 2.0 * PAIR_HEIGHT + 8.0;
    let size = vec2(ui.available_width(), (ui.available_height() - table_height).max(80.0));
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Canvas, true, "One turn of the work at the tool"));
    let times = round_exaggeration(scene.largest_mm().max(LEAST_MM), SEEN_RATIO * scene.radius_mm);
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 3.0, palette.canvas);
    let picture = one_turn(scene, times);
    let map = Map::fitting(rect.shrink(4.0), picture.bounds);
    paint_picture(&painter, &map, &picture, palette, &[], &|_: Part| None);
    let font = egui::TextStyle::Small.resolve(ui.style());
    let corners = [
        (rect.left_top() + vec2(6.0, 4.0), egui::Align2::LEFT_TOP, format!("out of round\n{times:.0} \u{d7}")),
        (rect.right_top() + vec2(-6.0, 4.0), egui::Align2::RIGHT_TOP, "seen from\nthe tailstock".to_owned()),
        (rect.left_bottom() + vec2(6.0, -4.0), egui::Align2::LEFT_BOTTOM, "dashed:\nbest circle".to_owned()),
    ];
    for (at, align, text) in corners {
        painter.text(at, align, text, font.clone(), palette.ink_weak);
    }
    pairs_ui(ui, &figures.map(|(figure, name, shown, mm)| (figure, name, shown, words::amount(mm, units))), out);
}
