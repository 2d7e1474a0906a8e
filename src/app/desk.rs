//! The heart of the window, without the window: the job on the desk, its history, what is seen of it and what was
//! computed for it. Everything a panel asks for passes through [`Desk::take`].

mod computed;
mod pinning;

use std::path::PathBuf;
use std::sync::Arc;

use super::comparing::Comparing;
use super::depth_limits::DepthLimits;
use super::history::History;
use super::play;
use super::promised::Promised;
use super::state::{DEPTHS, RUN_OUT, SHAPE};
use super::sureness::{ShapeOf, Sureness};
use super::worker::Wake;
use super::{Action, Commands, Results, Selected, View};
use crate::advice;
use crate::job::{Document, Edit, Job, Pinning, TailKind};
use computed::{ShapeKey, compute, shape_key, shapes};

/// A sentence at the foot of the window.
#[derive(Clone, Debug, PartialEq)]
pub struct Status {
    pub text: String,
    /// Something was refused or failed.
    pub trouble: bool,
}

/// A job being worked on.
#[derive(Debug)]
pub struct Desk {
    work: Document,
    history: History<Document>,
    pub view: View,
    results: Results,
    /// What the shape in `results` was computed for.
    shape_key: ShapeKey,
    sureness: Sureness,
    comparing: Comparing,
    promised: Promised,
    depth_limits: DepthLimits,
    /// Asks for a frame, from another thread.
    wake: Wake,
    /// The job and its pins as they are in the file, or as they were laid out; what differs from it is unsaved.
    saved: Option<Document>,
    /// Where the job was opened from or saved to.
    pub path: Option<PathBuf>,
    pub status: Option<Status>,
    /// Why the edits of the last drain were refused; shown at the field they were typed in.
    pub refusal: Option<String>,
    /// The gesture under way was given up: what it still asks for is not done until it has ended.
    given_up: bool,
}

impl Desk {
    /// Lays a job on the desk; what is there counts as saved.
    #[must_use]
    pub fn new(document: impl Into<Document>, path: Option<PathBuf>) -> Self {
        let work = document.into();
        let mut view = View::first(&work.job);
        let results = compute(&work.job, &view);
        let shape_key = shape_key(&view);
        bring_run_out_on(&mut view, &results);
        let mut desk = Self {
            saved: Some(work.clone()),
            work,
            history: History::default(),
            view,
            results,
            shape_key,
            sureness: Sureness::default(),
            comparing: Comparing::default(),
            promised: Promised::default(),
            depth_limits: DepthLimits::default(),
            wake: Wake::default(),
            path,
            status: None,
            refusal: None,
            given_up: false,
        };
        desk.refresh_promise();
        desk.refresh_dear_bands();
        desk
    }

    /// Says how to ask for a frame when something has been worked out beside the window.
    #[must_use]
    pub fn waking(self, wake: Wake) -> Self {
        Self { wake, ..self }
    }

    /// How a frame is asked for from another thread.
    #[must_use]
    pub fn wake(&self) -> &Wake {
        &self.wake
    }

    /// Something is still being worked out beside the window.
    #[must_use]
    pub fn is_working(&self) -> bool {
        self.sureness.is_busy() || self.is_comparing() || self.promised.is_busy() || self.depth_limits.is_busy()
    }

    /// Pinned arrangements are still being worked out.
    #[must_use]
    pub fn is_comparing(&self) -> bool {
        self.comparing.is_busy()
    }

    /// The job as it is now.
    #[must_use]
    pub fn job(&self) -> &Job {
        &self.work.job
    }

    /// The job and what is pinned beside it.
    #[must_use]
    pub fn document(&self) -> &Document {
        &self.work
    }

    /// What was computed for it.
    #[must_use]
    pub fn results(&self) -> &Results {
        &self.results
    }

    /// The steps back and forward.
    #[must_use]
    pub fn history(&self) -> &History<Document> {
        &self.history
    }

    /// True where the job or its pins differ from the file.
    #[must_use]
    pub fn is_unsaved(&self) -> bool {
        self.saved.as_ref() != Some(&self.work)
    }

    /// What is in its file, as far as this window knows; nothing where it stands in none.
    #[must_use]
    pub fn saved(&self) -> Option<&Document> {
        self.saved.as_ref()
    }

    /// The job stands in this file now.
    pub fn mark_saved(&mut self, path: PathBuf) {
        self.history.close_step(&self.work);
        self.saved = Some(self.work.clone());
        self.path = Some(path);
    }

    /// The job was just made up and stands in no file.
    pub fn mark_new(&mut self) {
        self.saved = None;
    }

    /// Says so at the foot of the window.
    pub fn say(&mut self, text: impl Into<String>) {
        self.status = Some(Status { text: text.into(), trouble: false });
    }

    /// Says at the foot of the window what went wrong.
    pub fn warn(&mut self, text: impl Into<String>) {
        self.status = Some(Status { text: text.into(), trouble: true });
    }

    /// The parts of the desk the panels of one frame are shown: the job and results to read, the view to change.
    pub fn parts(&mut self) -> (&Job, &Results, &mut View) {
        (&self.work.job, &self.results, &mut self.view)
    }

    /// Moves the tool on where the cut is played; true where that goes on in the next frame.
    pub fn play_on(&mut self, now_s: f64) -> bool {
        if !self.view.play.is_playing() {
            return false;
        }
        let goes_on = play::play_on(&self.work.job, &mut self.view, now_s);
        self.refresh();
        goes_on
    }

    /// Does what the panels of one frame asked for and brings the results up to date. Gives back the actions that
    /// need a window (files, dialogs, type size).
    pub fn take(&mut self, commands: Commands) -> Vec<Action> {
        let Commands { edits, actions, pinning, said, gesture_open } = commands;
        self.refusal = None;
        if actions.contains(&Action::CancelGesture) {
            self.given_up = gesture_open;
            if let Some(before) = self.history.give_up_step() {
                self.work = before;
            }
        } else if !self.given_up {
            for edit in &edits {
                self.make(edit);
            }
            for one in &pinning {
                self.pin(one);
            }
        }
        if let Some(said) = said {
            self.say(said);
        }
        if !gesture_open {
            self.given_up = false;
            self.history.close_step(&self.work);
        }
        let left = actions.into_iter().filter(|action| !self.act(*action)).collect();
        self.mend_view();
        self.refresh();
        left
    }

    fn make(&mut self, edit: &Edit) {
        self.history.open_step(&self.work);
        let before = self.work.job.next_id;
        match self.work.job.apply(edit) {
            Ok(()) => {
                self.status = None;
                self.look_at_what_came(edit, before);
            }
            Err(error) => {
                let sentence = error.to_string();
                self.refusal = Some(sentence.clone());
                self.warn(sentence);
            }
        }
    }

    /// A set-up, rest or pass just added is what the user wants to see next.
    fn look_at_what_came(&mut self, edit: &Edit, first_new_id: u32) {
        match edit {
            Edit::Together(edits) => {
                // A list of best places goes on being looked at when one of it is taken; a whole plan is looked at.
                let plans = edits.iter().filter(|edit| matches!(edit, Edit::SetSetups(_)));
                plans.for_each(|edit| self.look_at_what_came(edit, first_new_id));
            }
            Edit::AddSetup { .. } | Edit::CopySetup(_) | Edit::SetSetups(_) => {
                if let Some(setup) = self.work.job.setups.iter().find(|setup| setup.id.0 >= first_new_id) {
                    self.view.setup = setup.id;
                    self.view.pass = setup.passes.first().map(|pass| pass.id);
                    self.view.selected = Selected::Setup;
                }
            }
            Edit::AddRest { setup, .. } => {
                let rests = self.work.job.setup(*setup).map_or(&[][..], |setup| &setup.rests);
                if let Some(rest) = rests.iter().find(|rest| rest.id.0 >= first_new_id) {
                    self.view.selected = Selected::Rest(rest.id);
                }
            }
            Edit::AddPass { setup, .. } => {
                let passes = self.work.job.setup(*setup).map_or(&[][..], |setup| &setup.passes);
                if let Some(pass) = passes.iter().find(|pass| pass.id.0 >= first_new_id) {
                    self.view.pass = Some(pass.id);
                    self.view.selected = Selected::Pass(pass.id);
                }
            }
            _ => {}
        }
    }

    /// Does an action that needs no window; false where it does.
    fn act(&mut self, action: Action) -> bool {
        match action {
            Action::Undo => {
                if !self.history.undo(&mut self.work) {
                    self.say("Nothing to undo.");
                }
            }
            Action::Redo => {
                if !self.history.redo(&mut self.work) {
                    self.say("Nothing to redo.");
                }
            }
            Action::Fit => self.view.fit = true,
            Action::Pin => self.pin_or_let_go(),
            Action::Swap(letter) => self.pin(&Pinning::Swap(letter)),
            Action::Why(figure) => self.view.why = figure,
            Action::Compare => self.view.comparing = !self.view.comparing,
            Action::DeleteSelected => self.delete_selected(),
            Action::Play => {
                if !play::play_or_pause(&self.work.job, &mut self.view) {
                    self.say("There is no pass to play.");
                }
            }
            Action::StepOn | Action::StepBack => play::step(&self.work.job, &mut self.view, action == Action::StepOn),
            Action::EndPlay => play::give_up(&self.work.job, &mut self.view),
            Action::CancelGesture => {}
            _ => return false,
        }
        true
    }

    fn delete_selected(&mut self) {
        let setup = self.view.setup;
        let Some(held) = self.work.job.setup(setup) else { return };
        let edit = match self.view.selected {
            Selected::Rest(rest) => Edit::RemoveRest { setup, rest },
            Selected::Pass(pass) => Edit::RemovePass { setup, pass },
            Selected::Follower if held.follower.is_some() => Edit::SetFollower { setup, follower: None },
            Selected::Tail if held.tail.kind != TailKind::Free => {
                Edit::SetTail { setup, tail: crate::job::TailEnd { kind: TailKind::Free, ..held.tail.clone() } }
            }
            Selected::Setup => Edit::RemoveSetup(setup),
            Selected::StockLand(land)
                if self.work.job.shaft.stock.len() > 1 && land < self.work.job.shaft.stock.len() =>
            {
                let mut shaft = self.work.job.shaft.clone();
                shaft.stock.remove(land);
                Edit::SetShaft(shaft)
            }
            Selected::WantedLand(land) if land < self.work.job.shaft.wanted.len() => {
                let mut shaft = self.work.job.shaft.clone();
                shaft.wanted.remove(land);
                Edit::SetShaft(shaft)
            }
            _ => {
                self.say("What is selected cannot be taken away.");
                return;
            }
        };
        self.make(&edit);
        self.history.close_step(&self.work);
    }

    /// What is looked at must be there.
    fn mend_view(&mut self) {
        let view = &mut self.view;
        if self.work.job.setup(view.setup).is_none()
            && let Some(first) = self.work.job.setups.first()
        {
            view.setup = first.id;
            view.pass = first.passes.first().map(|pass| pass.id);
            view.selected = Selected::Setup;
        }
        let Some(setup) = self.work.job.setup(view.setup) else { return };
        if let Some(pass) = view.pass
            && setup.pass(pass).is_none()
        {
            view.pass = setup.passes.last().map(|pass| pass.id);
        }
        let there = match view.selected {
            Selected::Rest(rest) => setup.rest(rest).is_some(),
            Selected::Pass(pass) => setup.pass(pass).is_some(),
            Selected::Follower => setup.follower.is_some(),
            Selected::StockLand(land) => land < self.work.job.shaft.stock.len(),
            Selected::WantedLand(land) => land < self.work.job.shaft.wanted.len(),
            Selected::Shaft
            | Selected::Lathe
            | Selected::Sureness
            | Selected::Drive
            | Selected::Tail
            | Selected::Tool
            | Selected::Places
            | Selected::Setup => true,
        };
        if !there {
            view.selected = match view.selected {
                Selected::StockLand(_) | Selected::WantedLand(_) => Selected::Shaft,
                _ => Selected::Setup,
            };
        }
        if let Some(pass) = view.pass.and_then(|pass| setup.pass(pass)) {
            let (low_mm, high_mm) = pass.span_mm();
            view.tool_z_mm = view.tool_z_mm.clamp(low_mm, high_mm);
        }
    }

    /// Computes again what the job or the view have outdated.
    pub fn refresh(&mut self) {
        let key = shape_key(&self.view);
        if self.work.job != self.results.job {
            let dear_bands = std::mem::take(&mut self.results.dear_bands);
            let promise = self.results.promise.take();
            let compared = std::mem::take(&mut self.results.compared);
            let depths = self.results.depths.take();
            self.results = Results { dear_bands, promise, compared, depths, ..compute(&self.work.job, &self.view) };
        } else if key != self.shape_key {
            (self.results.shape, self.results.at_rest) = shapes(&self.work.job, &self.results.result, &self.view);
        }
        let is_same_look = key == self.shape_key;
        self.shape_key = key;
        self.refresh_compared(is_same_look);
        self.refresh_depths();
        self.refresh_promise();
        bring_run_out_on(&mut self.view, &self.results);
        self.refresh_dear_bands();
    }

    /// The bands that are worked out beside the window, of what is looked at.
    fn refresh_dear_bands(&mut self) {
        let view = &self.view;
        let shown = |curve: usize| view.bands_shown && view.curves_shown[curve];
        let depths_of = view.pass.filter(|_| shown(DEPTHS)).map(|pass| (view.setup, pass));
        let Results { result, dear_bands, .. } = &mut self.results;
        let shape_of = result.bands.as_ref().filter(|_| shown(SHAPE)).map(|bands| {
            let (setup, pass, tool_z_mm) = shape_key(view);
            ShapeOf { setup, pass, tool_z_mm: pass.map(|_| tool_z_mm), bands: Arc::clone(bands) }
        });
        self.sureness.refresh_shape(dear_bands, &self.work.job, shape_of, &self.wake);
        self.sureness.refresh(dear_bands, (&self.work.job, result), shown(RUN_OUT), depths_of, &self.wake);
    }

    /// What the steady rest looked at would come to elsewhere.
    fn refresh_promise(&mut self) {
        self.promised.refresh(&mut self.results, &self.work.job, &self.view, &self.wake);
    }

    /// Where chatter is to be expected along the pass looked at, while that is shown.
    fn refresh_depths(&mut self) {
        let pass = self.view.pass.filter(|_| self.view.curves_shown[DEPTHS]);
        let looked_at = pass.map(|pass| (self.view.setup, pass));
        self.depth_limits.refresh(&mut self.results, looked_at, &self.wake);
    }
}

/// Shows the run-out the first time something that turns with the work can be seen in the set-up looked at.
fn bring_run_out_on(view: &mut View, results: &Results) {
    let is_there = || results.result.setup(view.setup).is_some_and(advice::runout::can_be_seen);
    if !view.run_out_came_on && is_there() {
        view.run_out_came_on = true;
        view.curves_shown[RUN_OUT] = true;
    }
}
