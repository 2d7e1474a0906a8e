//! The best places of the steady rests: a short ranked list with small pictures, for no, one, two and three rests; one
//! press takes an arrangement.

use egui::{Align2, Button, FontId, Pos2, Rect, RichText, Role, Sense, Shape, Stroke, Ui, WidgetInfo, pos2, vec2};

use crate::advice::why::Figure;
use crate::advice::{places as told, words};
use crate::app::fields::Fields;
use crate::app::figure::sentence_ui;
use crate::app::places::Places;
use crate::app::{Commands, Palette, View};
use crate::job::{Edit, Job, Setup, TailKind};
use crate::study::placement::{Answer, Measure, Placing};

/// Arrangements shown of so many rests.
const MOST_SHOWN: usize = 3;
/// Height of a picture, in points.
const PICTURE_HEIGHT: f32 = 44.0;

/// What the list is judged by and for which holding, and the list.
pub fn places_ui(
    fields: &mut Fields<'_>,
    job: &Job,
    setup: &Setup,
    view: &mut View,
    places: &mut Places,
    out: &mut Commands,
) {
    let measures = [Measure::Size, Measure::Springiness, Measure::Chatter].map(|one| (one, told::measure_name(one)));
    fields.choice("Judged by", &mut view.measure, &measures);
    choose_holding(fields, "With a follower rest", &mut view.with_follower, setup.follower.is_some());
    choose_holding(fields, "With a tailstock", &mut view.with_tailstock, setup.tail.kind != TailKind::Free);
    let ui = &mut *fields.ui;
    under_way_ui(ui, places);
    as_it_stands(ui, job, view.measure, places, out);
    if places.nothing_is_turned() {
        return;
    }
    if let Some(words) = told::fewest_words(places.fresh()) {
        ui.label(words);
    }
    let answers: Vec<(&Answer, bool)> = places.answers().collect();
    for (index, (answer, fresh)) in answers.iter().enumerate() {
        ui.push_id(("so many rests", answer.n_rests), |ui| {
            let before = index.checked_sub(1).and_then(|before| answers.get(before)).map(|(before, _)| *before);
            answer_ui(ui, job, setup, view.measure, (before, answer, *fresh), places, out);
        });
    }
    fields.hint(told::HOW_FAR);
}

/// How far the search is, on a line that is always there, so that nothing jumps when it is done.
fn under_way_ui(ui: &mut Ui, places: &mut Places) {
    ui.horizontal(|ui| {
        ui.set_min_height(ui.spacing().interact_size.y);
        let under_way = places.under_way();
        ui.weak(match under_way {
            Some(n_rests) => format!("Looking into {}\u{2026}", told::number_of_rests(n_rests)),
            None if places.is_stopped() => "Stopped.".to_owned(),
            None => "All worked out.".to_owned(),
        });
        if under_way.is_some() && ui.button("Stop").clicked() {
            places.stop(true);
        } else if places.is_stopped() && ui.button("Go on").clicked() {
            places.stop(false);
        }
    });
}

/// With it or without; as the set-up has it until something else is asked for.
fn choose_holding(fields: &mut Fields<'_>, label: &str, wanted: &mut Option<bool>, has_it: bool) {
    let mut with = wanted.unwrap_or(has_it);
    if fields.ui.checkbox(&mut with, label).changed() {
        *wanted = (with != has_it).then_some(with);
    }
}

fn as_it_stands(ui: &mut Ui, job: &Job, measure: Measure, places: &Places, out: &mut Commands) {
    let Some(stands) = places.as_it_stands() else {
        ui.weak("As it stands: being worked out\u{2026}");
        return;
    };
    let explained = match measure {
        Measure::Size => Figure::SetupSize,
        Measure::Springiness => Figure::Stiffness,
        Measure::Chatter => Figure::Chatter,
    };
    match stands.value {
        Some((value, has_limits)) => {
            let words = format!("As it stands: {}.", told::figure(measure, has_limits, value, job.units));
            sentence_ui(ui, (explained, told::measure_name(measure)), RichText::new(words), out);
        }
        None => {
            ui.label("Nothing is turned along the work in this set-up, so no place is better than another.");
        }
    }
    if let Some(deepest) = stands.deepest {
        ui.label(told::deepest_words(&deepest, job.units));
    }
}

/// The arrangements with so many rests, under what the last of these rests buys.
fn answer_ui(
    ui: &mut Ui,
    job: &Job,
    setup: &Setup,
    measure: Measure,
    (before, answer, fresh): (Option<&Answer>, &Answer, bool),
    places: &Places,
    out: &mut Commands,
) {
    ui.add_space(8.0);
    ui.label(RichText::new(words::capital(&told::number_of_rests(answer.n_rests))).strong());
    if let Some(bought) = before.and_then(|before| told::bought(measure, before, answer, job.units)) {
        ui.label(RichText::new(bought).small());
    } else if answer.told.is_empty() {
        ui.weak("Nothing holds the work so.");
    }
    for (number, placing) in answer.told.iter().take(MOST_SHOWN).enumerate() {
        ui.push_id(number, |ui| {
            ui.set_opacity(if fresh { 1.0 } else { 0.5 });
            placing_ui(ui, job, setup, (measure, answer, placing), places.has_tailstock());
            let edit = places.edit(job, placing);
            let stands = edit.as_ref().is_some_and(Edit::is_nothing);
            let words = if stands { "It stands so" } else { "Set up like this" };
            let named = format!("{words}: {}", told::places(placing, job.units));
            let button = ui.add_enabled(fresh && !stands && edit.is_some(), Button::new(words));
            button.widget_info(|| WidgetInfo::labeled(Role::Button, fresh && !stands, &named));
            if button.clicked() {
                out.edits.extend(edit);
            }
            ui.add_space(4.0);
        });
    }
    if let Some(deepest) = answer.deepest {
        ui.label(RichText::new(told::deepest_words(&deepest, job.units)).small());
    }
}

fn placing_ui(
    ui: &mut Ui,
    job: &Job,
    setup: &Setup,
    (measure, answer, placing): (Measure, &Answer, &Placing),
    tailstock: bool,
) {
    let units = job.units;
    let line = format!(
        "At {}: {}",
        told::places(placing, units),
        told::told_figure(measure, answer.has_limits, placing, units)
    );
    let line = if placing.places_mm.is_empty() { words::capital(&line.replacen("At ", "", 1)) } else { line };
    picture(ui, job, setup, (placing, tailstock), &line);
    ui.label(line);
    if placing.as_good.iter().any(|stretch| stretch.from_mm < stretch.to_mm) {
        ui.label(RichText::new(format!("As good anywhere from {}.", told::as_good(placing, units))).small());
    }
}

/// The work in its holding, small: a wedge under it for every rest, a bar where that may stand as well, a mark over the
/// work where the size is worst.
fn picture(ui: &mut Ui, job: &Job, setup: &Setup, (placing, tailstock): (&Placing, bool), words: &str) {
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), PICTURE_HEIGHT), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, format!("Picture. {words}")));
    let palette = Palette::for_ui(ui);
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 3.0, palette.canvas);
    let (from_mm, to_mm) = (setup.work_start_z_mm.min(0.0), setup.work_end_z_mm(&job.shaft));
    let room = rect.shrink2(vec2(14.0, 0.0));
    let x = |z_mm: f64| room.left() + ((z_mm - from_mm) / (to_mm - from_mm).max(1.0)) as f32 * room.width();
    let axis_y = rect.top() + 19.0;
    let lands: Vec<(f64, f64, f64)> = (job.shaft.stock_spans())
        .map(|(from, to, land)| {
            let [a, b] = [from, to].map(|s_mm| setup.z_of_s_mm(&job.shaft, s_mm));
            (a, b, land.start_diameter_mm.max(land.end_diameter_mm))
        })
        .collect();
    let largest_mm = lands.iter().map(|land| land.2).fold(1e-6, f64::max);
    for (a, b, diameter_mm) in lands {
        let half = 7.0 * (diameter_mm / largest_mm) as f32;
        let land = Rect::from_two_pos(pos2(x(a), axis_y - half), pos2(x(b), axis_y + half));
        painter.rect(land, 0.0, palette.work_steel, Stroke::new(0.8, palette.work_edge), egui::StrokeKind::Inside);
    }
    let chuck =
        Rect::from_min_max(pos2(rect.left() + 2.0, axis_y - 14.0), pos2(x(0.0).max(rect.left() + 6.0), axis_y + 14.0));
    painter.rect_filled(chuck, 1.0, palette.headstock);
    if tailstock {
        painter.add(wedge(pos2(x(to_mm), axis_y), vec2(12.0, 0.0), 6.0, palette.headstock));
    }
    for stretch in &placing.as_good {
        let y = axis_y + 22.0;
        painter.line_segment([pos2(x(stretch.from_mm) - 0.5, y), pos2(x(stretch.to_mm) + 0.5, y)], (3.0, palette.fine));
    }
    for z_mm in &placing.places_mm {
        painter.add(wedge(pos2(x(*z_mm), axis_y + 7.0), vec2(0.0, 13.0), 5.0, palette.support));
    }
    if let Some((_, z_mm)) = placing.worst_error {
        let at = pos2(x(z_mm), axis_y - 8.0);
        painter.add(wedge(at, vec2(0.0, -7.0), 4.0, palette.error_curve));
        let _ = painter.text(
            at + vec2(6.0, -2.0),
            Align2::LEFT_BOTTOM,
            "worst",
            FontId::proportional(10.0),
            palette.ink_weak,
        );
    }
}

/// A triangle with its point at `tip`.
fn wedge(tip: Pos2, to_base: egui::Vec2, half: f32, colour: egui::Color32) -> Shape {
    let across = to_base.normalized().rot90() * half;
    Shape::convex_polygon(vec![tip, tip + to_base + across, tip + to_base - across], colour, Stroke::NONE)
}
