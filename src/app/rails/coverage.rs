//! What is cut where: a thin row for the shaft as it leaves the last set-up, and where it is wanted one for the set-up
//! looked at. A fill is cut, a hatch in a frame is not, a flag is a seam, and words say it as well; a click goes to the
//! place. Folded away, the row of the whole job stays as long as something in it is not as the drawing wants it.

use egui::{Color32, Id, Rect, Response, Role, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use super::{ROW_HEIGHT, Row};
use crate::advice::cover_words;
use crate::advice::words::capital;
use crate::app::bench::map::Map;
use crate::app::bench::paint::hatched;
use crate::app::{Palette, Results, View, notes};
use crate::job::{Job, SetupId, Subject};
use crate::study::coverage::{Cover, RunKind, Stretch};
use crate::study::reach;

/// How a stretch is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Ink {
    Filled(Color32),
    Hatched(Color32),
    /// Not as the drawing wants it: hatched over a fill, and never too narrow to be seen.
    Wrong(Color32),
    Open,
}

/// Narrowest bar of what is not as the drawing wants it, in points.
const SEEN_WIDTH: f32 = 6.0;

/// Which of the two rows are shown: the set-up's, the whole job's.
fn shown(job: &Job, view: &View, results: &Results) -> [bool; 2] {
    let is_drawn = !job.shaft.wanted.is_empty();
    let is_whole = results.coverage.stretches.iter().all(|stretch| stretch.is_done());
    [view.setup_coverage_shown && job.setups.len() > 1, is_drawn && (view.coverage_shown || !is_whole)]
}

/// Height of the rows, in points.
pub fn height(job: &Job, view: &View, results: &Results) -> f32 {
    shown(job, view, results).into_iter().filter(|is_shown| *is_shown).count() as f32 * ROW_HEIGHT
}

/// Shows the rows at the top of `room`.
pub fn show(ui: &Ui, room: Rect, job: &Job, view: &mut View, results: &Results, palette: &Palette) {
    let Some(setup) = job.setup(view.setup) else { return };
    let [of_setup, of_job] = shown(job, view, results);
    let row = |index: u8| {
        let top = room.top() + f32::from(index) * ROW_HEIGHT;
        let rect = Rect::from_x_y_ranges(room.x_range(), top..=top + ROW_HEIGHT);
        Row { job, setup, palette, map: Map::of(rect, view.plot_x_range, &view.z_view_mm, 0.0), mark_z_mm: None }
    };
    if of_setup {
        row(0).setup_ui(ui, results);
    }
    if of_job && let Some(stretch) = row(u8::from(of_setup)).job_ui(ui, results) {
        go_to(job, view, results, &stretch);
    }
}

impl Row<'_> {
    fn setup_ui(&self, ui: &Ui, results: &Results) {
        let id = self.setup.id;
        self.name(ui, &capital(&cover_words::number(self.job, id)));
        let Some(cover) = results.coverage.setup(id) else { return };
        let palette = self.palette;
        let mut told = Vec::new();
        for run in &cover.cut {
            let rect = self.along(run.from_s_mm, run.to_s_mm);
            let words = cover_words::run(run.kind);
            match run.kind {
                RunKind::Outside => self.bar(ui, rect, Ink::Filled(palette.fine), &[words]),
                // A line along the foot of the row, over what else is cut there.
                RunKind::Thread | RunKind::Bore => {
                    let foot = Rect::from_x_y_ranges(rect.x_range(), rect.bottom() - 3.0..=rect.bottom());
                    if foot.is_positive() {
                        ui.painter_at(self.map.rect).rect_filled(foot, 0.0, palette.ink);
                    }
                }
            }
            told.push(((run.from_s_mm, run.to_s_mm), words));
        }
        if let Some((from_s_mm, to_s_mm)) = cover.held {
            let words = "in the jaws";
            self.bar(ui, self.along(from_s_mm, to_s_mm), Ink::Hatched(palette.ink_weak), &[words, "jaws"]);
            told.push(((from_s_mm, to_s_mm), words));
        }
        for (_, from_s_mm, to_s_mm) in &cover.under {
            self.bar(ui, self.along(*from_s_mm, *to_s_mm), Ink::Hatched(palette.support), &[]);
            told.push(((*from_s_mm, *to_s_mm), "under a steady rest"));
        }
        let lines: Vec<String> = (told.iter())
            .map(|((from_s_mm, to_s_mm), words)| {
                format!("{}: {words}", cover_words::along(self.job, *from_s_mm, *to_s_mm))
            })
            .collect();
        let row = self.sense(ui, "what is cut in this set-up", &format!("Cut in this set-up. {}", lines.join(". ")));
        let Some(s_mm) = self.pointed_s_mm(&row) else { return };
        row.on_hover_ui_at_pointer(|ui| {
            let mut is_told = false;
            for (((from_s_mm, to_s_mm), _), line) in told.iter().zip(&lines) {
                if (*from_s_mm..=*to_s_mm).contains(&s_mm) {
                    ui.label(line);
                    ui.label(capital(&cover_words::here(self.job, self.setup, *from_s_mm, *to_s_mm)));
                    is_told = true;
                }
            }
            if !is_told {
                ui.label("Not cut in this set-up");
            }
        });
    }

    /// The stretch that was clicked.
    fn job_ui(&self, ui: &Ui, results: &Results) -> Option<Stretch> {
        let name = if self.job.setups.len() > 1 { "All" } else { "Cut" };
        self.name(ui, name);
        let coverage = &results.coverage;
        let palette = self.palette;
        // What is wrong over what is done.
        let (done, wrong): (Vec<&Stretch>, Vec<&Stretch>) = coverage.stretches.iter().partition(|one| one.is_done());
        for stretch in done.into_iter().chain(wrong) {
            let ink = match stretch.cover {
                Cover::NotDrawn if stretch.last.is_none() => continue,
                Cover::NotDrawn | Cover::AsStock => Ink::Open,
                Cover::ToSize => Ink::Filled(self.shade(stretch.last)),
                Cover::Uncut if stretch.by_mm > 0.0 => Ink::Wrong(palette.trouble),
                Cover::Undersize => Ink::Wrong(palette.trouble),
                Cover::Uncut | Cover::Heavy => Ink::Wrong(palette.watch),
            };
            let words = cover_words::brief(self.job, stretch);
            let words: Vec<&str> = words.iter().map(String::as_str).collect();
            self.bar(ui, self.along(stretch.from_s_mm, stretch.to_s_mm), ink, &words);
        }
        for seam in &coverage.seams {
            self.flag(ui, self.setup.z_of_s_mm(&self.job.shaft, seam.s_mm));
        }
        let stretches = coverage.stretches.iter().map(|stretch| cover_words::line(self.job, stretch));
        let lines: Vec<String> =
            stretches.chain(coverage.seams.iter().map(|seam| cover_words::seam(self.job, seam))).collect();
        let row = self.sense(ui, "what is cut where", &format!("Cut in the whole job. {}", lines.join(". ")));
        let s_mm = self.pointed_s_mm(&row)?;
        let stretch = coverage.stretches.iter().find(|one| (one.from_s_mm..=one.to_s_mm).contains(&s_mm))?;
        if row.clicked() {
            return Some(*stretch);
        }
        let near_mm = 4.0 / self.map.px_per_mm;
        row.on_hover_ui_at_pointer(|ui| {
            ui.label(cover_words::line(self.job, stretch));
            ui.label(capital(&cover_words::here(self.job, self.setup, stretch.from_s_mm, stretch.to_s_mm)));
            for seam in coverage.seams.iter().filter(|seam| (seam.s_mm - s_mm).abs() < near_mm) {
                ui.label(cover_words::seam(self.job, seam));
            }
        });
        None
    }

    /// What is seen of a stretch of the shaft.
    fn along(&self, from_s_mm: f64, to_s_mm: f64) -> Rect {
        let ends = [from_s_mm, to_s_mm].map(|s_mm| self.setup.z_of_s_mm(&self.job.shaft, s_mm));
        self.rect_of(&reach::Stretch::new(ends[0].min(ends[1]), ends[0].max(ends[1])))
    }

    fn bar(&self, ui: &Ui, mut rect: Rect, ink: Ink, words: &[&str]) {
        if !rect.is_positive() {
            return;
        }
        if matches!(ink, Ink::Wrong(_)) && rect.width() < SEEN_WIDTH {
            rect = Rect::from_center_size(rect.center(), vec2(SEEN_WIDTH, rect.height()));
        }
        let painter = ui.painter_at(self.map.rect);
        match ink {
            Ink::Filled(colour) => {
                painter.rect_filled(rect, 2.0, colour.gamma_multiply(0.35));
                painter.rect_stroke(rect, 2.0, Stroke::new(1.2, colour), StrokeKind::Inside);
            }
            Ink::Hatched(colour) => {
                painter.extend(hatched(rect, self.map.rect, colour));
                painter.rect_stroke(rect, 0.0, Stroke::new(1.5, colour), StrokeKind::Inside);
            }
            Ink::Wrong(colour) => {
                painter.rect_filled(rect, 0.0, colour.gamma_multiply(0.3));
                painter.extend(hatched(rect, self.map.rect, colour));
                painter.rect_stroke(rect, 0.0, Stroke::new(2.0, colour), StrokeKind::Inside);
            }
            Ink::Open => {
                painter.rect_stroke(rect, 0.0, Stroke::new(0.8, self.palette.ink_weak), StrokeKind::Inside);
            }
        }
        self.words_in(ui, rect, words);
    }

    /// A flag where two set-ups meet.
    fn flag(&self, ui: &Ui, z_mm: f64) {
        let (x, top) = (self.map.x(z_mm), self.map.rect.top());
        if !self.map.x_range.contains(x) {
            return;
        }
        let painter = ui.painter_at(self.map.rect);
        painter.vline(x, self.map.rect.y_range(), Stroke::new(1.5, self.palette.ink));
        let cloth = vec![pos2(x, top), pos2(x + 7.0, top + 3.5), pos2(x, top + 7.0)];
        painter.add(Shape::convex_polygon(cloth, self.palette.ink, Stroke::NONE));
    }

    /// The colour of what a set-up cut: two shades by turns.
    fn shade(&self, setup: Option<SetupId>) -> Color32 {
        let is_odd = setup.and_then(|id| self.job.setup_index(id)).is_some_and(|index| index % 2 == 1);
        self.palette.fine.gamma_multiply(if is_odd { 0.55 } else { 1.0 })
    }

    fn sense(&self, ui: &Ui, id: &'static str, told: &str) -> Response {
        let row = ui.interact(self.map.rect, Id::unique(id), Sense::CLICK);
        row.widget_info(|| WidgetInfo::labeled(Role::Label, true, told));
        row
    }

    /// The place along the shaft under the pointer.
    fn pointed_s_mm(&self, row: &Response) -> Option<f64> {
        let pos = row.interact_pointer_pos().or(row.hover_pos())?;
        let is_on = self.map.x_range.contains(pos.x);
        is_on.then(|| self.setup.s_of_z_mm(&self.job.shaft, self.map.z_mm(pos.x)))
    }
}

/// To the finding about a stretch, where there is one; else to the set-up that cut it last.
fn go_to(job: &Job, view: &mut View, results: &Results, stretch: &Stretch) {
    let is_about = |finding: &&crate::advice::Finding| {
        let Subject::Setup(id) = finding.about else { return false };
        let place = job.setup(id).zip(finding.z_mm).map(|(setup, z_mm)| setup.s_of_z_mm(&job.shaft, z_mm));
        finding.rule == "not_cut" && place.is_some_and(|s_mm| (stretch.from_s_mm..=stretch.to_s_mm).contains(&s_mm))
    };
    if let Some(finding) = results.findings.iter().find(is_about) {
        notes::select(view, finding);
    } else if let Some(setup) = stretch.last.and_then(|id| job.setup(id)) {
        if view.setup != setup.id {
            view.setup = setup.id;
            view.pass = setup.passes.first().map(|pass| pass.id);
        }
        let middle_mm = f64::midpoint(stretch.from_s_mm, stretch.to_s_mm);
        view.cursor_z_mm = Some(setup.z_of_s_mm(&job.shaft, middle_mm));
    }
}
