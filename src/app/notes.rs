//! The notes: the figures that matter of the chosen pass, the loads on what holds the work, and the findings.
//!
//! A finding shows its verdict as a word and a shape, never by colour alone; a click selects what it is about, a
//! button makes the change that mends it.

mod along;
mod contact;
mod lively;
mod spindle;
mod turning;

use egui::{Button, Color32, Label, Layout, RichText, Sense, Shape as PaintShape, Stroke, Ui, UiBuilder, pos2, vec2};

use super::figure::{self, Words, name_words, pairs_ui, press, put, row_ui, value_words, words_ui};
use super::{Action, Commands, Explained, Palette, Results, Selected, View, theme};
use crate::advice::why::Figure;
use crate::advice::{self, Finding, Verdict, cautions, outcome, words};
use crate::job::quantity::{self, Kind};
use crate::job::{Job, Pass, Setup, Subject, TailKind};
use crate::study::band::Curve;
use crate::study::{Measured, PassResult, Status, Support};

/// Height of a line of words that nobody presses.
const LINE_HEIGHT: f32 = 21.0;

/// Shows the notes of the chosen set-up and pass.
pub fn notes_ui(ui: &mut Ui, job: &Job, view: &mut View, results: &Results, palette: &Palette, out: &mut Commands) {
    let Some(setup) = job.setup(view.setup) else {
        ui.weak("This set-up is no longer there.");
        return;
    };
    ui.spacing_mut().interact_size.y = 20.0;
    let pass = view.pass.and_then(|id| Some((setup.pass(id)?, results.result.pass(id)?)));
    match pass {
        Some((pass, result)) => {
            ui.strong(words::pass_name(job, setup, pass));
            error_ui(ui, job, results, pass, result, palette, out);
            turning::turning_ui(ui, view, results, result, palette, out);
        }
        None => {
            ui.strong("The work as it comes into this set-up");
        }
    }
    ui.add_space(4.0);
    findings_ui(ui, view, results, palette, out);
    ui.separator();
    forces_ui(ui, job, results, out);
    along::along_ui(ui, job, setup, results, pass.map(|(pass, _)| pass), out);
    ui.scope(|ui| loads_ui(ui, job, setup, results, pass.map(|(_, result)| result), out));
    contact::contact_ui(ui, job, setup, results, pass.map(|(pass, _)| pass), view.selected, out);
    if let Some((pass, result)) = pass {
        spindle::spindle_ui(ui, job, setup, pass, result, out);
    }
    lively::lively_ui(ui, job, pass.map(|(pass, _)| pass), view, results, palette, out);
    ui.separator();
    footer_ui(ui, setup, results);
}

/// What came of the study, in words.
fn status_words(status: Status) -> &'static str {
    match status {
        Status::Solved => "worked out and checked",
        Status::StoppedEarly => "search stopped early: not to be relied on",
        Status::NotHeld => "nothing holds the work",
        Status::NothingToCut => "nothing to cut",
    }
}

/// The largest error of the pass, where, and what came of the computation.
fn error_ui(
    ui: &mut Ui,
    job: &Job,
    results: &Results,
    pass: &Pass,
    result: &PassResult,
    palette: &Palette,
    out: &mut Commands,
) {
    let units = job.units;
    ui.scope(|ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        if let Some(worst) = result.worst() {
            let name = if result.measured == Measured::ThreadRoot { "Thread depth" } else { "Largest error" };
            let error = outcome::error_words(result.measured, worst.error_mm, units);
            let verdict = advice::size::verdict_of_pass(job, &results.result, pass.id);
            judged_ui(ui, (Figure::Error, name), &error, verdict, palette, out);
            if let Some(edges_mm) = edges_of_worst_mm(results, result) {
                let between = words::sizes_between(edges_mm, units);
                row_ui(ui, (Figure::ErrorBetween, "may lie between"), &between, out);
            }
            let left = format!("\u{d8} {}", words::diameter(worst.left_diameter_mm, units));
            let found = (Figure::FoundAt, "found at", "found at", words::place(worst.z_mm, units));
            pairs_ui(ui, &[found, (Figure::SizeLeft, "size left there", "size left there", left)], out);
        }
        for (name, value) in outcome::lines(job, pass, result) {
            row_ui(ui, (Figure::Outcome(name), name), &value, out);
        }
        if result.status != Status::Solved {
            row_ui(ui, (Figure::Status, "Result"), status_words(result.status), out);
        }
    });
}

/// The error, and under it its verdict: a line of its own, since beside a large error it would be wider than the panel.
fn judged_ui(
    ui: &mut Ui,
    asked: (Figure, &str),
    error: &str,
    verdict: Option<Verdict>,
    palette: &Palette,
    out: &mut Commands,
) {
    let width = figure::width(ui);
    let words = [name_words(asked.1, width), value_words(RichText::new(error).strong(), width)];
    let Some(verdict) = verdict else {
        words_ui(ui, width, asked, error, &words, out);
        return;
    };
    let behind = ui.painter().add(PaintShape::Noop);
    let (rect, _) = ui.allocate_exact_size(vec2(width, 2.0 * LINE_HEIGHT + 2.0), Sense::hover());
    let (upper, lower) = rect.split_top_bottom_at_fraction(0.5);
    for words in words {
        put(ui, upper, &words);
    }
    let value = value_words(RichText::new(""), width);
    put(ui, lower, &Words::new(0.0..=value.left(), RichText::new("tolerance").weak()));
    let room = lower.with_min_x(lower.left() + value.left());
    let layout = Layout::left_to_right(egui::Align::Center);
    verdict_ui(&mut ui.new_child(UiBuilder::new().max_rect(room).layout(layout)), verdict, palette);
    press(ui, rect, behind, asked, &format!("{error}, {}", verdict.word()), out);
}

/// Between what the largest error of a pass may lie.
fn edges_of_worst_mm(results: &Results, result: &PassResult) -> Option<[f64; 2]> {
    let band = results.result.band(result.pass).filter(|band| band.is_wide())?;
    let worst = result.worst()?;
    let index = result.stations.iter().position(|station| std::ptr::eq(station, worst))?;
    band.edges_mm(Curve::Error, result).get(index).copied()
}

/// What the tool does at its present place.
fn forces_ui(ui: &mut Ui, job: &Job, results: &Results, out: &mut Commands) {
    let units = job.units;
    let Some(cut) = results.shape.as_ref().and_then(|shape| shape.cut.as_ref()) else { return };
    let force = |force_n: f64| quantity::show(force_n, Kind::Force, units);
    ui.weak(format!("With the tool at {}", words::place(cut.z_mm, units)));
    let taken_off = format!("{} on \u{d8}", words::diameter(cut.real_depth_mm, units));
    let rows = [
        (Figure::Depth, "really taken off", taken_off),
        (Figure::MainForce, "main force", force(cut.fc_n)),
        (Figure::PushAway, "push away", force(cut.fp_n)),
        (Figure::FeedForce, "feed force", force(cut.ff_n)),
    ];
    let figures = rows.map(|(figure, name, value)| (figure, name, name, value));
    pairs_ui(ui, &figures, out);
}

/// One line of the table of loads.
struct Load {
    support: Support,
    /// What holds the work: the part, or the rest its jaws belong to.
    part: String,
    /// The jaw; nothing for a chuck or a centre.
    jaw: Option<String>,
    at_tool_n: Option<f64>,
    largest_n: Option<f64>,
    /// Between what the largest may lie.
    largest_between_n: Option<[f64; 2]>,
}

/// The chuck or centre at either end as one force each, and every jaw.
fn loads(job: &Job, setup: &Setup, results: &Results, pass: Option<&PassResult>) -> Vec<Load> {
    let shape = results.shape.as_ref();
    let band = pass.and_then(|pass| results.result.band(pass.pass)).filter(|band| band.is_wide());
    let mut supports: Vec<Support> = pass.map_or_else(Vec::new, |pass| pass.supports.clone());
    if supports.is_empty() {
        supports =
            shape.map_or_else(Vec::new, |shape| shape.reactions.iter().map(|reaction| reaction.support).collect());
    }
    let at_tool = |support: Support| {
        shape?.reactions.iter().find(|reaction| reaction.support == support).map(|reaction| reaction.force_n)
    };
    let has_tail = setup.tail.kind != TailKind::Free;
    supports
        .iter()
        .filter(|support| match support {
            Support::DriveY | Support::TailY => false,
            Support::TailX => has_tail,
            _ => true,
        })
        .map(|support| {
            let second = match support {
                Support::DriveX => Some(Support::DriveY),
                Support::TailX => Some(Support::TailY),
                _ => None,
            };
            let largest_n = pass.and_then(|pass| pass.largest_n(*support));
            let largest_between_n = band.and_then(|band| band.load(*support));
            let at_tool_n = at_tool(*support).map(|first_n| first_n.hypot(second.and_then(at_tool).unwrap_or(0.0)));
            let (part, jaw) = words::support_parts(setup, *support, job.units);
            Load { support: *support, part: words::capital(&part), jaw, at_tool_n, largest_n, largest_between_n }
        })
        .collect()
}

fn loads_ui(ui: &mut Ui, job: &Job, setup: &Setup, results: &Results, pass: Option<&PassResult>, out: &mut Commands) {
    let loads = loads(job, setup, results, pass);
    if loads.is_empty() {
        return;
    }
    let force = |force_n: Option<f64>, is_jaw: bool| match force_n {
        Some(force_n) if is_jaw && force_n <= 0.0 => "lifted".to_owned(),
        Some(force_n) => quantity::show(force_n, Kind::Force, job.units),
        None => "\u{2013}".to_owned(),
    };
    ui.add_space(6.0);
    ui.spacing_mut().item_spacing.y = 0.0;
    let width = figure::width(ui);
    let [now, most] = [0.54 * width..=0.77 * width, 0.77 * width..=width];
    let (head, _) = ui.allocate_exact_size(vec2(width, LINE_HEIGHT), Sense::hover());
    for (across, text) in [(0.0..=0.5 * width, "Load on"), (now.clone(), "now"), (most.clone(), "at most")] {
        put(ui, head, &Words::new(across, RichText::new(text).weak()));
    }
    let mut last_part = "";
    for load in &loads {
        let (name, called) = match &load.jaw {
            Some(jaw) => (format!("    {jaw}"), format!("load on the {jaw}")),
            None => (load.part.clone(), format!("load on the {}", load.part)),
        };
        if load.jaw.is_some() && load.part != last_part {
            ui.label(&load.part);
        }
        last_part = &load.part;
        let at_tool = force(load.at_tool_n, load.jaw.is_some());
        let largest = force(load.largest_n, load.jaw.is_some()).replace("lifted", "never");
        let told = format!("now {at_tool}, at most {largest}");
        let words = [
            Words::new(0.0..=0.53 * width, RichText::new(name)).signed(),
            Words::new(now.clone(), RichText::new(at_tool)),
            Words::new(most.clone(), RichText::new(largest)),
        ];
        let row = words_ui(ui, width, (Figure::Load(load.support), &called), &told, &words, out);
        if let Some(edges_n) = load.largest_between_n {
            row.on_hover_text(format!("At most: may lie between {}", words::forces_between(edges_n, job.units)));
        }
    }
}

fn findings_ui(ui: &mut Ui, view: &mut View, results: &Results, palette: &Palette, out: &mut Commands) {
    if results.findings.is_empty() {
        ui.weak("Nothing to remark.");
    }
    for (index, finding) in results.findings.iter().enumerate() {
        let explained = Explained::finding(&results.findings, index);
        ui.push_id((finding.rule, finding.about, index), |ui| finding_ui(ui, finding, explained, view, palette, out));
        ui.add_space(6.0);
    }
}

fn finding_ui(
    ui: &mut Ui,
    finding: &Finding,
    explained: Option<Explained>,
    view: &mut View,
    palette: &Palette,
    out: &mut Commands,
) {
    ui.horizontal_top(|ui| {
        verdict_ui(ui, finding.verdict, palette);
        ui.vertical(|ui| {
            let text = ui
                .add(Label::new(&finding.text).wrap().selectable(false).sense(Sense::click()))
                .on_hover_cursor(egui::CursorIcon::PointingHand);
            if text.clicked() {
                select(view, finding);
            }
            ui.horizontal_wrapped(|ui| {
                if let Some((words, edit)) = &finding.remedy
                    && ui.add(Button::new(words).min_size(vec2(0.0, theme::TARGET))).clicked()
                {
                    out.edits.push(edit.clone());
                }
                // Its whole width goes to the next line: torn, it could not wear its ring.
                ui.style_mut().wrap_mode = Some(egui::TextWrapMode::Extend);
                if ui.link("Why?").clicked() {
                    select(view, finding);
                    out.actions.push(Action::Why(explained));
                }
            });
        });
    });
}

/// Puts what a finding is about in front of the user: selection, pass, cursor.
pub fn select(view: &mut View, finding: &Finding) {
    let (setup, pass, selected) = match finding.about {
        Subject::Job | Subject::Shaft => (None, None, Selected::Shaft),
        Subject::Lathe => (None, None, Selected::Lathe),
        Subject::Setup(setup) => (Some(setup), None, Selected::Setup),
        Subject::Drive(setup) => (Some(setup), None, Selected::Drive),
        Subject::Tail(setup) => (Some(setup), None, Selected::Tail),
        Subject::Tool(setup) => (Some(setup), None, Selected::Tool),
        Subject::Follower(setup) => (Some(setup), None, Selected::Follower),
        Subject::Rest(setup, rest) => (Some(setup), None, Selected::Rest(rest)),
        Subject::Pass(setup, pass) => (Some(setup), Some(pass), Selected::Pass(pass)),
    };
    view.selected = selected;
    if let Some(setup) = setup.filter(|setup| *setup != view.setup) {
        view.setup = setup;
        // A pass of the other set-up would show nothing.
        view.pass = None;
    }
    if pass.is_some() {
        view.pass = pass;
    }
    if finding.z_mm.is_some() {
        view.cursor_z_mm = finding.z_mm;
    }
}

/// The verdict as a shape and a word: a triangle for trouble, a diamond for watch, a ring for fine.
fn verdict_ui(ui: &mut Ui, verdict: Verdict, palette: &Palette) {
    let colour = verdict_colour(verdict, palette);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        let (rect, _) = ui.allocate_exact_size(vec2(14.0, 18.0), Sense::hover());
        let centre = rect.center();
        let half = 6.0;
        let painter = ui.painter();
        match verdict {
            Verdict::Trouble => {
                let corners = [(0.0, -half), (half, half), (-half, half)];
                let points = corners.map(|(x, y)| pos2(centre.x + x, centre.y + y)).to_vec();
                painter.add(PaintShape::convex_polygon(points, colour, Stroke::NONE));
                let mark = Stroke::new(1.5, contrast(colour));
                painter.vline(centre.x, centre.y - 2.0..=centre.y + 2.0, mark);
                painter.vline(centre.x, centre.y + 3.2..=centre.y + 4.7, mark);
            }
            Verdict::Watch => {
                let corners = [(0.0, -half), (half, 0.0), (0.0, half), (-half, 0.0)];
                let points = corners.map(|(x, y)| pos2(centre.x + x, centre.y + y)).to_vec();
                painter.add(PaintShape::convex_polygon(points, colour, Stroke::NONE));
            }
            Verdict::Fine => {
                painter.circle_stroke(centre, half - 1.0, Stroke::new(2.0, colour));
            }
        }
        ui.label(RichText::new(verdict.word()).color(colour).strong());
    });
}

fn verdict_colour(verdict: Verdict, palette: &Palette) -> Color32 {
    match verdict {
        Verdict::Fine => palette.fine,
        Verdict::Watch => palette.watch,
        Verdict::Trouble => palette.trouble,
    }
}

/// Black or white, whichever stands out.
fn contrast(colour: Color32) -> Color32 {
    let brightness = u32::from(colour.r()) * 3 + u32::from(colour.g()) * 6 + u32::from(colour.b());
    if brightness > 1300 { Color32::BLACK } else { Color32::WHITE }
}

fn footer_ui(ui: &mut Ui, setup: &Setup, results: &Results) {
    ui.add(Label::new(RichText::new(cautions::ESTIMATE).strong()).wrap());
    ui.add(Label::new(RichText::new(cautions::LEFT_OUT).small().weak()).wrap());
    ui.spacing_mut().interact_size.y = theme::TARGET;
    egui::CollapsingHeader::new("Usual cautions").id_salt("cautions").show(ui, |ui| {
        for caution in cautions::for_setup(setup) {
            ui.add(Label::new(RichText::new(format!("\u{2022} {}", caution.text)).small()).wrap())
                .on_hover_text(format!("Source: {}", caution.source));
        }
    });
    ui.label(RichText::new(format!("worked out in {:.1} ms", results.compute_ms)).small().weak());
}
