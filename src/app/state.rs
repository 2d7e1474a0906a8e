//! The three kinds of state of the window: the job (saved, undone), the view (kept, not undone), results (recomputed).
//!
//! A panel is a free function: it reads the job and the results, may change the view, and pushes edits and actions
//! into [`Commands`], which the window drains in one place after all panels have run.

use std::ops::RangeInclusive;
use std::sync::Arc;

use super::comparing::ComparedAll;
use super::depth_limits::Depths;
use super::play::Play;
use super::promised::Promise;
use super::sureness::DearBands;
use crate::advice::Finding;
use crate::advice::why::Figure;
use crate::job::{Edit, Job, PassId, Pinning, RestId, SetupId, Subject};
use crate::study::coverage::Coverage;
use crate::study::placement::{Measure, Strip};
use crate::study::reach::RestReach;
use crate::study::{JobResult, Shape};

/// What is selected in the present set-up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Selected {
    Shaft,
    /// A land of the stock, counted from end A.
    StockLand(usize),
    /// A land of the finished part, counted from end A.
    WantedLand(usize),
    Lathe,
    /// By how much assumed figures may be off.
    Sureness,
    Drive,
    Tail,
    Tool,
    Follower,
    Rest(RestId),
    Pass(PassId),
    Setup,
    /// The best places of the steady rests.
    Places,
}

impl Selected {
    /// The shaft, or a land of it.
    #[must_use]
    pub const fn is_of_shaft(self) -> bool {
        matches!(self, Self::Shaft | Self::StockLand(_) | Self::WantedLand(_))
    }
}

/// By how much the spring is drawn larger than it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Exaggeration {
    /// A round number that shows the spring well.
    Auto,
    Times(f64),
}

/// The plots under the bench.
pub const N_CURVES: usize = 5;
/// The place of the shape of the work among them.
pub const SHAPE: usize = 2;
/// The place of run-out among them.
pub const RUN_OUT: usize = 3;
/// The place of the depth before chatter is to be expected.
pub const DEPTHS: usize = 4;

/// What has an explanation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Explained {
    Figure(Figure),
    /// What a rule found about something, counted among its findings about that.
    Finding {
        rule: &'static str,
        about: Subject,
        nth: usize,
    },
}

impl Explained {
    /// The one with this place in a list of findings.
    #[must_use]
    pub fn finding(findings: &[Finding], index: usize) -> Option<Self> {
        let Finding { rule, about, .. } = *findings.get(index)?;
        let nth = findings[..index].iter().filter(|other| other.rule == rule && other.about == about).count();
        Some(Self::Finding { rule, about, nth })
    }

    /// The finding that is meant; nothing where it is a figure, or gone.
    #[must_use]
    pub fn of<'a>(&self, findings: &'a [Finding]) -> Option<&'a Finding> {
        let Self::Finding { rule, about, nth } = *self else { return None };
        findings.iter().filter(|other| other.rule == rule && other.about == about).nth(nth)
    }
}

/// What the window shows of the job; not undone.
#[derive(Clone, Debug)]
pub struct View {
    pub setup: SetupId,
    /// The pass looked at; `None` is the work as it comes into the set-up.
    pub pass: Option<PassId>,
    pub selected: Selected,
    /// Where the tool stands in the pass.
    pub tool_z_mm: f64,
    /// The cut as it is played.
    pub play: Play,
    /// The stretch of the bed that is seen, bench and curves alike.
    pub z_view_mm: RangeInclusive<f64>,
    /// Height on the bench's middle line (y up from the spindle axis).
    pub y_centre_mm: f64,
    /// Fit everything at the next frame.
    pub fit: bool,
    /// The one cursor through bench and curves.
    pub cursor_z_mm: Option<f64>,
    /// Something on the bench was dragged, now or on an earlier day.
    pub has_dragged: bool,
    /// Which of the curves are shown: size error, spring at the tool, shape of the work, run-out, depth before
    /// chatter.
    pub curves_shown: [bool; N_CURVES],
    /// Run-out has come on by itself, the first time something turned with the work; it does so no more.
    pub run_out_came_on: bool,
    /// The bands round the curves are drawn.
    pub bands_shown: bool,
    /// What the places of rests are judged by.
    pub measure: Measure,
    /// Best places are looked for with or without a follower and a tailstock, where not as the set-up has them.
    pub with_follower: Option<bool>,
    pub with_tailstock: Option<bool>,
    /// The row of what is cut where in the whole job is shown even where all is as the drawing wants it.
    pub coverage_shown: bool,
    /// So is a row for the set-up looked at.
    pub setup_coverage_shown: bool,
    pub exaggeration: Exaggeration,
    /// What is explained.
    pub why: Option<Explained>,
    /// The table of arrangements is open.
    pub comparing: bool,
    /// Where the plots' frame stood across the window in the last frame, in points; the bench draws over it.
    pub plot_x_range: Option<egui::Rangef>,
}

impl View {
    /// The whole shaft, the first set-up, its first pass, the tool half-way along it.
    #[must_use]
    pub fn first(job: &Job) -> Self {
        let setup = job.setups.first();
        let pass = setup.and_then(|setup| setup.passes.first());
        let z_view_mm = setup.map_or(0.0..=1000.0, |setup| setup.work_start_z_mm..=setup.work_end_z_mm(&job.shaft));
        let tool_z_mm = pass.map_or(0.5 * (z_view_mm.start() + z_view_mm.end()), |pass| {
            let (low_mm, high_mm) = pass.span_mm();
            0.5 * (low_mm + high_mm)
        });
        Self {
            setup: setup.map_or(SetupId(0), |setup| setup.id),
            pass: pass.map(|pass| pass.id),
            selected: setup
                .and_then(|setup| setup.rests.first())
                .map_or(Selected::Setup, |rest| Selected::Rest(rest.id)),
            tool_z_mm,
            play: Play::default(),
            z_view_mm,
            y_centre_mm: 0.0,
            fit: true,
            cursor_z_mm: None,
            has_dragged: false,
            curves_shown: [true, true, true, false, false],
            run_out_came_on: false,
            bands_shown: true,
            measure: Measure::Size,
            with_follower: None,
            with_tailstock: None,
            coverage_shown: true,
            setup_coverage_shown: false,
            exaggeration: Exaggeration::Auto,
            why: None,
            comparing: false,
            plot_x_range: None,
        }
    }
}

/// What was computed, and for which job; recomputed in the frame in which the job changes.
#[derive(Clone, Debug)]
pub struct Results {
    /// The job these belong to.
    pub job: Job,
    pub result: Arc<JobResult>,
    /// The work with the tool at its present place.
    pub shape: Option<Shape>,
    /// The work with the tool drawn back.
    pub at_rest: Option<Shape>,
    pub findings: Vec<Finding>,
    /// What is cut where.
    pub coverage: Coverage,
    /// Where each steady rest of the job may stand, the others of its set-up in the way.
    pub reaches: Vec<(RestId, RestReach)>,
    /// Where chatter is to be expected along the chosen pass; worked out only while its curve is shown.
    pub depths: Option<Depths>,
    /// What the steady rest looked at would come to wherever it may stand; see [`Self::strip`].
    pub promise: Option<Promise>,
    /// Bands that come some frames later.
    pub dear_bands: DearBands,
    /// What is pinned, and the table of arrangements.
    pub compared: ComparedAll,
    /// How long the computation took.
    pub compute_ms: f64,
}

impl Results {
    /// Where a steady rest may stand.
    #[must_use]
    pub fn reach(&self, rest: RestId) -> Option<&RestReach> {
        self.reaches.iter().find(|(id, _)| *id == rest).map(|(_, reach)| reach)
    }

    /// What the steady rest looked at would come to wherever it may stand.
    #[must_use]
    pub fn strip(&self) -> Option<&Strip> {
        self.promise.as_ref().and_then(|promise| promise.strip.as_ref())
    }
}

/// Something the window does that is not an edit of the job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    NewJob,
    Open,
    OpenByPath,
    Save,
    SaveAs,
    /// Shows the set-up sheet, to be saved or printed.
    Sheet,
    Undo,
    Redo,
    Fit,
    /// Pins this arrangement, or lets the one go that is just like it.
    Pin,
    /// Changes places with a pinned arrangement, by its letter counted from 0.
    Swap(usize),
    /// Opens or shuts the table of arrangements.
    Compare,
    /// Explains a figure or a finding, or no more.
    Why(Option<Explained>),
    /// Saves that table.
    SaveComparison,
    /// Opens another window of the program.
    NewWindow,
    DeleteSelected,
    /// Works out set-ups for the job.
    Plan,
    /// Gives up the gesture under way: the job goes back to where it was when the gesture began.
    CancelGesture,
    /// Opens one of the files opened before, newest first, counted from 0.
    Recent(usize),
    /// Brings back the job that was on the desk before this one.
    LastJob,
    /// Shows the example jobs to choose from.
    Gallery,
    /// Shows the list of keys and of what the mouse does.
    KeyList,
    /// Plays the cut from where the tool stands, or pauses it.
    Play,
    StepOn,
    StepBack,
    /// Ends the playing: the tool goes back to where it stood.
    EndPlay,
    LargerType,
    SmallerType,
    UsualType,
    Quit,
}

/// What the panels of one frame ask for.
#[derive(Debug, Default)]
pub struct Commands {
    pub edits: Vec<Edit>,
    pub actions: Vec<Action>,
    /// What is to become of pinned arrangements, after the edits.
    pub pinning: Vec<Pinning>,
    /// A sentence for the foot of the window, once the edits are made.
    pub said: Option<String>,
    /// A drag or a text entry is under way: edits belong to one undo step until a frame without it.
    pub gesture_open: bool,
}
