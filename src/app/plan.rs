//! "Plan the job": the plan is worked out beside the window, the window shows its steps with reasons and a small picture of each
//! set-up, and taking it is one ordinary edit.

use egui::{Context, Id, Label, Modal, RichText, ScrollArea, Sense, Ui, vec2};

use super::bench::map::Map;
use super::bench::paint::paint_picture;
use super::worker::{Wake, Worker};
use super::{Palette, theme};
use crate::advice::plan_words;
use crate::advice::words::capital;
use crate::job::{Edit, Job};
use crate::picture::bench::{Scene, bench};
use crate::picture::{Bounds, Item, Part, Picture};
use crate::study::plan::{NoPlan, Plan, plan};

/// Size of the small pictures, in points.
const PICTURE: egui::Vec2 = vec2(300.0, 92.0);

type Answer = Result<Plan, Vec<NoPlan>>;

/// The window of the plan.
#[derive(Debug)]
pub struct PlanWindow {
    /// The job it is for.
    job: Job,
    /// Let go with the window, and with it what it works on.
    worker: Worker<Job, Answer>,
    answer: Option<Answer>,
}

/// What became of it in this frame.
#[derive(Clone, Debug)]
pub enum Outcome {
    Open,
    /// Left aside.
    Back,
    /// To be put in place of the set-ups.
    Take(Box<Edit>),
}

impl PlanWindow {
    /// Begins to work out a plan for a job.
    #[must_use]
    pub fn open(job: &Job, ctx: &Context) -> Self {
        let ctx = ctx.clone();
        let wake = Wake::by(move || ctx.request_repaint());
        let worker = Worker::start("plan", wake, |job: Job, keep_going| Some(plan(&job, keep_going)));
        worker.ask(job.clone());
        Self { job: job.clone(), worker, answer: None }
    }

    /// The plan has come, or why there is none.
    #[must_use]
    pub fn has_answer(&self) -> bool {
        self.answer.is_some()
    }

    /// Draws it over the window.
    pub fn show(&mut self, ctx: &Context) -> Outcome {
        if let Some(answer) = self.worker.take() {
            self.answer = Some(answer);
        }
        let mut outcome = Outcome::Open;
        let modal = Modal::new(Id::unique("plan the job")).frame(theme::question_frame(ctx)).show(ctx, |ui| {
            let room = ui.ctx().content_rect();
            ui.set_width(820.0_f32.min(room.width() - 60.0));
            ui.heading("Plan the job");
            match &self.answer {
                None => {
                    ui.horizontal(|ui| {
                        ui.spinner();
                        ui.label("Ways of doing it are being compared\u{2026}");
                    });
                }
                Some(Ok(found)) => {
                    // As high as the window lets it be, from the first frame on.
                    let height = (room.height() - 300.0).max(120.0);
                    ScrollArea::vertical().max_height(height).min_scrolled_height(height).show(ui, |ui| {
                        steps_ui(ui, &self.job, found);
                    });
                    ui.separator();
                    for sentence in plan_words::outcome(&self.job, found) {
                        ui.add(Label::new(sentence).wrap());
                    }
                    let custom = "The order follows the customs of the trade; the sizes are estimates. Everything in it \
                                  can be changed afterwards.";
                    ui.add(Label::new(RichText::new(custom).small().weak()).wrap());
                }
                Some(Err(why)) => {
                    ui.label("No plan can be made for this job:");
                    for why in why {
                        ui.add(Label::new(format!("\u{2022} {}", plan_words::no_plan(&self.job, why))).wrap());
                    }
                }
            }
            ui.add_space(6.0);
            ui.horizontal(|ui| {
                if let Some(Ok(found)) = &self.answer {
                    let take = ui.button("Take this plan").on_hover_text("Puts it in place of all set-ups; undo brings them back");
                    let is_first = ui.memory(|memory| memory.focused().is_none());
                    if is_first {
                        take.request_focus();
                    }
                    if take.clicked() {
                        outcome = Outcome::Take(Box::new(found.edit(&self.job)));
                    }
                }
                let words = if self.answer.is_some() { "Go back" } else { "Stop" };
                if ui.button(words).clicked() {
                    outcome = Outcome::Back;
                }
            });
        });
        if modal.should_close() && matches!(outcome, Outcome::Open) {
            outcome = Outcome::Back;
        }
        outcome
    }
}

fn steps_ui(ui: &mut Ui, job: &Job, found: &Plan) {
    let mut number = 0;
    for (index, setup) in found.setups().iter().enumerate() {
        ui.add_space(4.0);
        ui.strong(format!("Set-up {}: {}", index + 1, setup.name));
        ui.horizontal_top(|ui| {
            picture_ui(ui, found, index);
            ui.vertical(|ui| {
                for step in found.steps.iter().filter(|step| step.setup == index) {
                    number += 1;
                    let heading = format!("{number}. {}", plan_words::heading(job, found, step));
                    ui.add(Label::new(RichText::new(heading).strong()).wrap());
                    let why = plan_words::reasons(job, step).join(" ");
                    ui.add(Label::new(RichText::new(capital(&why)).weak()).wrap());
                }
            });
        });
    }
}

/// The set-up from the front, half-way through its longest pass.
fn picture_ui(ui: &mut Ui, found: &Plan, index: usize) {
    let (rect, response) = ui.allocate_exact_size(PICTURE, Sense::hover());
    let Some(setup) = found.setups().get(index) else { return };
    response.widget_info(|| {
        egui::WidgetInfo::labeled(egui::Role::Image, true, format!("Set-up {} from the front", index + 1))
    });
    let length_mm = |pass: &&crate::job::Pass| pass.span_mm().1 - pass.span_mm().0;
    let pass = setup.passes.iter().max_by(|a, b| length_mm(a).total_cmp(&length_mm(b)));
    let tool_z_mm = pass.map_or(0.0, |pass| f64::midpoint(pass.from_z_mm, pass.to_z_mm));
    let id = pass.map(|pass| pass.id);
    let Some(scene) = Scene::of(&found.job, &found.result, setup.id, id, tool_z_mm, None) else { return };
    let palette = Palette::for_ui(ui);
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 3.0, palette.canvas);
    let sizes = scene.sizes();
    let h = sizes.centre_height_mm;
    let bounds = Bounds {
        left_mm: setup.work_start_z_mm.min(sizes.headstock_right_mm) - 0.3 * h,
        right_mm: setup.work_end_z_mm(&found.job.shaft) + 1.2 * h,
        bottom_mm: sizes.bed_bottom_mm,
        top_mm: sizes.headstock_top_mm.max(sizes.rest_outer_mm),
    };
    let picture = without_words(bench(&scene));
    paint_picture(&painter, &Map::fitting(rect, bounds), &picture, &palette, &[], &|_| None);
}

/// A picture this small has no room for words.
fn without_words(picture: Picture) -> Picture {
    let says = |item: &Item| match item {
        Item::Text(_) => true,
        Item::Group(group) => matches!(group.part, Part::Labels | Part::Spans),
        Item::Path(_) => false,
    };
    Picture { items: picture.items.into_iter().filter(|item| !says(item)).collect(), ..picture }
}
