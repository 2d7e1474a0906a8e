//! What is cut where: a row for the set-up looked at, and one for the shaft as it leaves the last set-up. A fill is cut,
//! a hatch in a frame is not, a flag is a seam, and words say it as well; a click goes to the place.

use egui::{Color32, Id, Rect, Response, Role, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo, pos2};

use super::{ROW_HEIGHT, Rail, Row};
use crate::advice::cover_words;
use crate::advice::words::capital;
use crate::app::bench::paint::hatched;
use crate::app::notes;
use crate::job::SetupId;
use crate::study::coverage::{Cover, RunKind, Stretch};

/// The set-up looked at.
pub const SETUP_ROW: Row =
    Row { height: |job, _, _| if job.setups.len() > 1 { ROW_HEIGHT } else { 0.0 }, show: show_setup };

/// The whole job.
pub const JOB_ROW: Row =
    Row { height: |job, _, _| if job.shaft.wanted.is_empty() { 0.0 } else { ROW_HEIGHT }, show: show_job };

/// How a stretch is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Ink {
    Filled(Color32),
    Hatched(Color32),
    /// Framed with a dashed bottom line only.
    Open,
}

fn show_setup(ui: &mut Ui, rail: &mut Rail<'_>) {
    let id = rail.setup.id;
    rail.name(ui, &capital(&cover_words::number(rail.job, id)));
    let Some(cover) = rail.results.coverage.setup(id) else { return };
    let palette = rail.palette;
    let mut told = Vec::new();
    for run in &cover.cut {
        let rect = rect_of(rail, run.from_s_mm, run.to_s_mm, 3.0);
        let words = cover_words::run(run.kind);
        match run.kind {
            RunKind::Outside => bar(ui, rail, rect, Ink::Filled(palette.fine), words),
            // A line along the foot of the row, over what else is cut there.
            RunKind::Thread | RunKind::Bore => {
                let foot = Rect::from_x_y_ranges(rect.x_range(), rect.bottom() - 3.0..=rect.bottom());
                if foot.is_positive() {
                    ui.painter_at(rail.map.rect).rect_filled(foot, 0.0, palette.ink);
                }
            }
        }
        told.push(((run.from_s_mm, run.to_s_mm), words.to_owned()));
    }
    if let Some((from_s_mm, to_s_mm)) = cover.held {
        let rect = rect_of(rail, from_s_mm, to_s_mm, 3.0);
        bar(ui, rail, rect, Ink::Hatched(palette.ink_weak), "in the jaws");
        told.push(((from_s_mm, to_s_mm), "in the jaws".to_owned()));
    }
    for (_, from_s_mm, to_s_mm) in &cover.under {
        let rect = rect_of(rail, *from_s_mm, *to_s_mm, 3.0);
        bar(ui, rail, rect, Ink::Hatched(palette.support), "");
        told.push(((*from_s_mm, *to_s_mm), "under a steady rest".to_owned()));
    }
    let all: Vec<String> = told
        .iter()
        .map(|((from_s_mm, to_s_mm), words)| format!("{}: {words}", cover_words::along(rail.job, *from_s_mm, *to_s_mm)))
        .collect();
    let row = row(ui, rail, "what is cut in this set-up", &format!("Cut in this set-up. {}", all.join(". ")));
    let Some(s_mm) = pointed_s_mm(&row, rail) else { return };
    let here: Vec<String> = (told.iter().zip(&all))
        .filter(|(((from_s_mm, to_s_mm), _), _)| (*from_s_mm..=*to_s_mm).contains(&s_mm))
        .map(|(((from_s_mm, to_s_mm), _), line)| {
            format!("{line} ({})", cover_words::here(rail.job, rail.setup, *from_s_mm, *to_s_mm))
        })
        .collect();
    let here = if here.is_empty() { vec!["Not cut in this set-up".to_owned()] } else { here };
    row.on_hover_ui_at_pointer(|ui| here.iter().for_each(|line| drop(ui.label(line))));
}

fn show_job(ui: &mut Ui, rail: &mut Rail<'_>) {
    rail.name(ui, "Cut");
    let coverage = &rail.results.coverage;
    let palette = rail.palette;
    for stretch in &coverage.stretches {
        let ink = match stretch.cover {
            Cover::NotDrawn if stretch.last.is_none() => continue,
            Cover::NotDrawn | Cover::AsStock => Ink::Open,
            Cover::ToSize => Ink::Filled(shade(rail, stretch.last)),
            Cover::Uncut if stretch.by_mm > 0.0 => Ink::Hatched(palette.trouble),
            Cover::Undersize => Ink::Hatched(palette.trouble),
            Cover::Uncut | Cover::Heavy => Ink::Hatched(palette.watch),
        };
        let rect = rect_of(rail, stretch.from_s_mm, stretch.to_s_mm, 3.0);
        bar(ui, rail, rect, ink, &cover_words::brief(rail.job, stretch));
    }
    let flag = Stroke::new(1.5, palette.ink);
    for seam in &coverage.seams {
        let x = rail.map.x(rail.setup.z_of_s_mm(&rail.job.shaft, seam.s_mm));
        if rail.map.x_range.contains(x) {
            let (top, painter) = (rail.map.rect.top(), ui.painter_at(rail.map.rect));
            painter.vline(x, rail.map.rect.y_range(), flag);
            let cloth = vec![pos2(x, top), pos2(x + 7.0, top + 3.5), pos2(x, top + 7.0)];
            painter.add(Shape::convex_polygon(cloth, palette.ink, Stroke::NONE));
        }
    }
    let lines: Vec<String> = coverage
        .stretches
        .iter()
        .map(|stretch| cover_words::line(rail.job, stretch))
        .chain(coverage.seams.iter().map(|seam| cover_words::seam(rail.job, seam)))
        .collect();
    let row = row(ui, rail, "what is cut where", &format!("Cut in the whole job. {}", lines.join(". ")));
    let Some(s_mm) = pointed_s_mm(&row, rail) else { return };
    let Some(stretch) = coverage.stretches.iter().find(|one| (one.from_s_mm..=one.to_s_mm).contains(&s_mm)) else {
        return;
    };
    if row.clicked() {
        go_to(rail, stretch);
        return;
    }
    let near_mm = 4.0 / rail.map.px_per_mm;
    row.on_hover_ui_at_pointer(|ui| {
        ui.label(cover_words::line(rail.job, stretch));
        ui.label(capital(&cover_words::here(rail.job, rail.setup, stretch.from_s_mm, stretch.to_s_mm)));
        for seam in coverage.seams.iter().filter(|seam| (seam.s_mm - s_mm).abs() < near_mm) {
            ui.label(cover_words::seam(rail.job, seam));
        }
    });
}

/// To the finding about a stretch, where there is one; else to the set-up that cut it last.
fn go_to(rail: &mut Rail<'_>, stretch: &Stretch) {
    let job = rail.job;
    let is_about = |finding: &&crate::advice::Finding| {
        let crate::job::Subject::Setup(id) = finding.about else { return false };
        let place = job.setup(id).zip(finding.z_mm).map(|(setup, z_mm)| setup.s_of_z_mm(&job.shaft, z_mm));
        finding.rule == "not_cut" && place.is_some_and(|s_mm| (stretch.from_s_mm..=stretch.to_s_mm).contains(&s_mm))
    };
    if let Some(finding) = rail.results.findings.iter().find(is_about) {
        notes::select(rail.view, finding);
    } else if let Some(setup) = stretch.last.and_then(|id| job.setup(id)) {
        if rail.view.setup != setup.id {
            rail.view.setup = setup.id;
            rail.view.pass = setup.passes.first().map(|pass| pass.id);
        }
        let middle_mm = f64::midpoint(stretch.from_s_mm, stretch.to_s_mm);
        rail.view.cursor_z_mm = Some(setup.z_of_s_mm(&job.shaft, middle_mm));
    }
}

/// The colour of what a set-up cut: two shades by turns.
fn shade(rail: &Rail<'_>, setup: Option<SetupId>) -> Color32 {
    let odd = setup.and_then(|id| rail.job.setup_index(id)).is_some_and(|index| index % 2 == 1);
    rail.palette.fine.gamma_multiply(if odd { 0.55 } else { 1.0 })
}

fn rect_of(rail: &Rail<'_>, from_s_mm: f64, to_s_mm: f64, shrink: f32) -> Rect {
    let ends = [from_s_mm, to_s_mm].map(|s_mm| rail.setup.z_of_s_mm(&rail.job.shaft, s_mm));
    rail.rect_of(ends[0].min(ends[1]), ends[0].max(ends[1]), shrink)
}

fn bar(ui: &Ui, rail: &Rail<'_>, rect: Rect, ink: Ink, words: &str) {
    if !rect.is_positive() {
        return;
    }
    let painter = ui.painter_at(rail.map.rect);
    match ink {
        Ink::Filled(colour) => {
            painter.rect_filled(rect, 2.0, colour.gamma_multiply(0.35));
            painter.rect_stroke(rect, 2.0, Stroke::new(1.2, colour), StrokeKind::Inside);
        }
        Ink::Hatched(colour) => {
            painter.extend(hatched(rect, rail.map.rect, colour));
            painter.rect_stroke(rect, 0.0, Stroke::new(1.5, colour), StrokeKind::Inside);
        }
        Ink::Open => {
            painter.rect_stroke(rect, 0.0, Stroke::new(0.8, rail.palette.ink_weak), StrokeKind::Inside);
        }
    }
    rail.words_in(ui, rect, words);
}

fn row(ui: &Ui, rail: &Rail<'_>, id: &'static str, told: &str) -> Response {
    let row = ui.interact(rail.map.rect, Id::unique(id), Sense::CLICK);
    row.widget_info(|| WidgetInfo::labeled(Role::Label, true, told.to_owned()));
    row
}

/// The place along the shaft under the pointer.
fn pointed_s_mm(row: &Response, rail: &Rail<'_>) -> Option<f64> {
    let pos = row.interact_pointer_pos().or(row.hover_pos())?;
    rail.map.x_range.contains(pos.x).then(|| rail.setup.s_of_z_mm(&rail.job.shaft, rail.map.z_mm(pos.x)))
}
