//! Why a figure is what it is: what it means in a sentence, its formula with this job's numbers put in, where that comes
//! from and how far it is trusted, and which small picture goes with it.
//!
//! Plain data, made anew whenever it is looked at. A figure that comes of the whole computation says so, and has a
//! textbook's estimate beside it where there is one.

pub(super) mod along;
pub(super) mod bar;
mod force;
pub(super) mod jaws;
pub(super) mod lively;
pub(super) mod rest;
pub(super) mod ring;
pub(super) mod room;
pub(super) mod size;
pub(super) mod spindle;
pub(super) mod spot;
pub(super) mod sum;

pub use sum::{Purpose, Sum};

use crate::job::quantity::Kind;
use crate::job::{Job, Pass, PassId, RestId, Setup, SetupId};
use crate::mechanics::ring::{Load, Ring};
use crate::study::{JobResult, PassResult, Shape, Station, Support};

/// A figure on screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figure {
    Error,
    ErrorBetween,
    FoundAt,
    SizeLeft,
    Spring,
    Shape,
    Stiffness,
    /// The largest error of the set-up's finished places.
    SetupSize,
    /// The most any jaw of the set-up feels.
    JawLoad,
    /// What is really taken off.
    Depth,
    MainForce,
    PushAway,
    FeedForce,
    /// The load on a part, now or at most.
    Load(Support),
    Pressure(Support),
    Drag(Support),
    Heat(Support),
    Rubbing(Support),
    /// Air under a jaw.
    Gap,
    Power,
    Torque,
    GearSpeed,
    GearFeed,
    Marks,
    WornMarks,
    Swings,
    Whip,
    Buckling,
    BarTail,
    Chatter,
    Warmth,
    Pressed,
    RunOut,
    LetGo,
    OutOfRound,
    /// A line that belongs to a kind of pass, by its name.
    Outcome(&'static str),
    Status,
    /// What a rest needs under its jaws where it stands.
    Spot(RestId),
    /// The rows under the bench.
    Rows,
}

/// The little picture of an explanation.
#[derive(Clone, Debug, PartialEq)]
pub enum Sketch {
    /// A bar on one or two supports with a load; the second support is missing where it stands out.
    Bar { from_mm: f64, to_mm: Option<f64>, load_at_mm: f64, diameter_mm: f64 },
    /// A tool's nose in the work, seen from above.
    Chip { depth_mm: f64, feed_mm: f64, nose_mm: f64, entering_rad: f64 },
    /// The marks of a nose, one a turn.
    Marks { feed_mm: f64, nose_mm: f64 },
    /// A ring under jaws: where each stands (as the angles of jaws) and how hard it presses.
    Ring { ring: Ring, loads: Vec<Load> },
    /// A tip on the work.
    Tip { diameter_mm: f64, force_n: f64 },
    /// Lengths along the work, from where to where, with their names.
    Lengths(Vec<(f64, f64, &'static str)>),
}

/// An explanation.
#[derive(Clone, Debug, PartialEq)]
pub struct Why {
    /// What the figure is, in a sentence.
    pub what: String,
    /// Formulas with their numbers, in the order in which they are worked out.
    pub sums: Vec<Sum>,
    /// What else there is to say.
    pub more: Vec<String>,
    /// Where the formula comes from.
    pub source: String,
    /// How far that is trusted.
    pub trust: &'static str,
    pub sketch: Option<Sketch>,
}

impl Why {
    pub(super) fn new(what: &str, source: &str, trust: &'static str) -> Self {
        Self {
            what: what.to_owned(),
            sums: Vec::new(),
            more: Vec::new(),
            source: source.to_owned(),
            trust,
            sketch: None,
        }
    }

    /// One more formula.
    pub(super) fn with(mut self, sum: Sum) -> Self {
        self.sums.push(sum);
        self
    }

    /// One more sentence.
    pub(super) fn and(mut self, more: impl Into<String>) -> Self {
        self.more.push(more.into());
        self
    }

    /// With this picture.
    pub(super) fn drawn(self, sketch: impl Into<Option<Sketch>>) -> Self {
        Self { sketch: sketch.into(), ..self }
    }
}

/// The job and what of it is looked at.
#[derive(Clone, Copy, Debug)]
pub struct Asked<'a> {
    pub job: &'a Job,
    pub result: &'a JobResult,
    pub setup: &'a Setup,
    pub pass: Option<(&'a Pass, &'a PassResult)>,
    pub shape: Option<&'a Shape>,
    pub tool_z_mm: f64,
}

impl<'a> Asked<'a> {
    /// Of a set-up, a pass of it and the shape of the work with the tool there; nothing where the set-up is gone.
    #[must_use]
    pub fn of(
        job: &'a Job,
        result: &'a JobResult,
        setup: SetupId,
        pass: Option<PassId>,
        shape: Option<&'a Shape>,
        tool_z_mm: f64,
    ) -> Option<Self> {
        let setup = job.setup(setup)?;
        let pass = pass.and_then(|pass| Some((setup.pass(pass)?, result.pass(pass)?)));
        Some(Self { job, result, setup, pass, shape, tool_z_mm })
    }

    fn cut(&self) -> Option<&'a Station> {
        self.shape?.cut.as_ref()
    }
}

/// Why a figure is what it is; nothing where it is not there.
#[must_use]
pub fn why(asked: &Asked<'_>, figure: Figure) -> Option<Why> {
    match figure {
        Figure::Error => size::error(asked),
        Figure::ErrorBetween => size::between(asked),
        Figure::FoundAt => size::found_at(asked),
        Figure::SizeLeft => size::left(asked),
        Figure::Spring => size::spring(asked),
        Figure::Shape => size::shape(asked),
        Figure::Stiffness => size::stiffness(asked),
        Figure::SetupSize => size::of_setup(asked),
        Figure::JawLoad => Some(jaws::most()),
        Figure::Depth => size::depth(asked),
        Figure::MainForce => force::force(asked, force::Part::Main),
        Figure::PushAway => force::force(asked, force::Part::Push),
        Figure::FeedForce => force::force(asked, force::Part::Feed),
        Figure::Load(support) => jaws::load(asked, support),
        Figure::Pressure(support) => jaws::felt(asked, support, jaws::Part::Pressure),
        Figure::Drag(support) => jaws::felt(asked, support, jaws::Part::Drag),
        Figure::Heat(support) => jaws::felt(asked, support, jaws::Part::Heat),
        Figure::Rubbing(support) => jaws::felt(asked, support, jaws::Part::Rubbing),
        Figure::Gap => Some(jaws::gap()),
        Figure::Power => spindle::power(asked),
        Figure::Torque => spindle::torque(asked),
        Figure::GearSpeed => Some(spindle::gear(asked, Kind::SpindleSpeed)),
        Figure::GearFeed => Some(spindle::gear(asked, Kind::Feed)),
        Figure::Marks => spindle::marks(asked, false),
        Figure::WornMarks => spindle::marks(asked, true),
        Figure::Swings => lively::swings(asked),
        Figure::Whip => lively::whip(asked),
        Figure::Buckling => lively::buckling(asked),
        Figure::BarTail => lively::bar_tail(asked.job, asked.setup),
        Figure::Chatter => lively::chatter(asked),
        Figure::Warmth => along::warmth(asked),
        Figure::Pressed => along::pressed(asked),
        Figure::RunOut => rest::turning(asked, rest::Turning::Held),
        Figure::LetGo => rest::turning(asked, rest::Turning::LetGo),
        Figure::OutOfRound => rest::turning(asked, rest::Turning::Round),
        Figure::Outcome(name) => rest::outcome(asked, name),
        Figure::Status => Some(rest::status()),
        Figure::Spot(rest) => spot::spot(asked, rest),
        Figure::Rows => Some(rest::rows()),
    }
}

/// What a figure is called, at the head of its explanation.
#[must_use]
pub fn title(figure: Figure) -> &'static str {
    match figure {
        Figure::Error => "Largest error",
        Figure::ErrorBetween => "Between what it may lie",
        Figure::FoundAt => "Where it is found",
        Figure::SizeLeft => "Size left",
        Figure::Spring => "Spring at the tool",
        Figure::Shape => "Shape of the work",
        Figure::Stiffness => "Stiffness under the tool",
        Figure::SetupSize => "Largest size error",
        Figure::JawLoad => "Largest load on a jaw",
        Figure::Depth => "What is really taken off",
        Figure::MainForce => "Main force",
        Figure::PushAway => "Push away",
        Figure::FeedForce => "Feed force",
        Figure::Load(_) => "Load",
        Figure::Pressure(_) => "Pressure under a jaw",
        Figure::Drag(_) => "Drag of a jaw",
        Figure::Heat(_) => "Heat at a jaw",
        Figure::Rubbing(_) => "Rubbing speed",
        Figure::Gap => "Air at a jaw",
        Figure::Power => "Power",
        Figure::Torque => "Torque",
        Figure::GearSpeed => "Speed of the gearbox",
        Figure::GearFeed => "Feed of the feed box",
        Figure::Marks => "Feed marks",
        Figure::WornMarks => "Feed marks with a worn edge",
        Figure::Swings => "How fast it swings",
        Figure::Whip => "Whip speed",
        Figure::Buckling => "Margin to bowing out",
        Figure::BarTail => "Bar behind the headstock",
        Figure::Chatter => "Depth before chatter",
        Figure::Warmth => "Growth with heat",
        Figure::Pressed => "Force along the work",
        Figure::RunOut => "Run-out, as held",
        Figure::LetGo => "Run-out once let go",
        Figure::OutOfRound => "Out of round",
        Figure::Outcome(name) => name,
        Figure::Status => "Result",
        Figure::Spot(_) => "Bearing spot of a rest",
        Figure::Rows => "What the rows under the bench say",
    }
}

/// In which units formulas are worked out, where they are not those on screen; else nothing.
#[must_use]
pub fn units_told(job: &Job) -> &'static str {
    sum::in_metric(job.units)
}
