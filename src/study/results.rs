//! What the study gives back, in the job's frame and units, ready to be drawn or written.

use std::sync::Arc;

use super::band::{JobBands, PassBand};
use crate::job::{PassId, RestId, SetupId};

/// How far a result can be used.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Status {
    /// Solved, and checked against its own equations.
    Solved,
    /// The contact search was stopped at its limit, or work that only its jaws keep from buckling may lie in more than one
    /// way; the figures are the last ones tried.
    StoppedEarly,
    /// Nothing holds the work in this direction: it would swing or fall, or buckles under the force along it.
    NotHeld,
    /// The pass does not meet the work.
    NothingToCut,
}

/// A part that carries the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Support {
    /// Chuck or headstock centre; the force in one direction, positive when it pushes the work away (x) or up (y).
    DriveX,
    DriveY,
    /// Tailstock centre, as for the drive end.
    TailX,
    TailY,
    /// One jaw of a steady rest, counted from 0 in the order of the document; 0 or more, a jaw only pushes.
    Jaw {
        rest: RestId,
        jaw: usize,
    },
    /// A follower jaw: 0 rear, 1 top.
    FollowerJaw {
        jaw: usize,
    },
}

/// A force on the work from one part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reaction {
    pub support: Support,
    pub force_n: f64,
}

/// Which diameter the stations of a pass speak of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measured {
    Outside,
    /// The bottom of a thread: big is a thread too shallow.
    ThreadRoot,
    /// The hole: big is what it is for a hole, too wide.
    Bore,
    /// None: the pass has no stations.
    Nothing,
}

/// What happens with the tool at one place.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Station {
    pub z_mm: f64,
    /// Diameter the dial stands at for this pass.
    pub wanted_diameter_mm: f64,
    /// Diameter before the pass.
    pub old_diameter_mm: f64,
    pub left_diameter_mm: f64,
    /// `left - wanted`, on diameter; positive is big, in a bore as well.
    pub error_mm: f64,
    /// Where the work's axis is at the tool: positive away from the operator.
    pub spring_x_mm: f64,
    /// Positive up.
    pub spring_y_mm: f64,
    /// What is really taken off, on diameter.
    pub real_depth_mm: f64,
    /// Main, radial and feed force on the work.
    pub fc_n: f64,
    pub fp_n: f64,
    pub ff_n: f64,
    /// Largest error of the equations that were solved, as a length.
    pub residual_mm: f64,
    /// What turns with the work, apart from size; all 0 where nothing does.
    pub turned: Turned,
}

/// Run-out and roundness at a place: bends that turn with the work, which leave the size alone.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Turned {
    /// Total indicator reading on the surface there before the cut, as the work is held, the tool drawn back.
    pub before_mm: f64,
    /// The same on the fresh surface.
    pub left_mm: f64,
    /// Run-out of the fresh surface once the work is let go, about the line through its centre holes (or the middles of
    /// its ends), total indicator reading.
    pub free_mm: f64,
    /// How far from round the fresh surface is, from its lowest to its highest place, on radius.
    pub roundness_mm: f64,
    /// Centre of the fresh surface off the middle of the section, away and up in the set-up, mark at angle 0.
    pub off_mm: [f64; 2],
}

impl Turned {
    /// All its figures are numbers.
    #[must_use]
    pub fn is_finite(&self) -> bool {
        let Self { before_mm, left_mm, free_mm, roundness_mm, off_mm } = self;
        [*before_mm, *left_mm, *free_mm, *roundness_mm, off_mm[0], off_mm[1]].iter().all(|figure| figure.is_finite())
    }
}

/// One pass.
#[derive(Clone, Debug, PartialEq)]
pub struct PassResult {
    pub pass: PassId,
    pub status: Status,
    /// In rising z, whichever way the tool went.
    pub stations: Vec<Station>,
    /// The columns of `forces_n`.
    pub supports: Vec<Support>,
    /// `supports.len()` values a station, station after station.
    pub forces_n: Vec<f64>,
    /// Something turns with the work: `Station::turned` was worked out.
    pub turns: bool,
    /// The work before the pass.
    pub before: Arc<Surface>,
    /// What the work behind the tool was taken to be where the errors were too large to take the dial's sizes: what a
    /// first sweep left.
    pub behind: Option<Surface>,
    /// The work after it.
    pub after: Arc<Surface>,
    pub measured: Measured,
    /// What the tool of a grooving or parting pass does to the work.
    pub plunge: Option<Plunge>,
    /// What becomes of the end of the work: facing, drilling and boring passes.
    pub end: Option<EndWork>,
}

/// A tool fed straight in: it pushes just as hard until the feed stops.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plunge {
    /// Middle of the tool.
    pub z_mm: f64,
    /// Width of the tool, which is that of the stretch.
    pub width_mm: f64,
    /// Main and radial force on the work while it is fed in.
    pub fc_n: f64,
    pub fp_n: f64,
    /// Where the axis of the work is at the tool (away, up) when it begins to cut.
    pub spring_at_start_mm: [f64; 2],
    /// The same at the bottom of the groove, or with half of the wall parted through.
    pub spring_at_bottom_mm: [f64; 2],
    /// Error on the groove's diameter when the tool is drawn out the moment the feed stops; nothing for parting.
    pub fed_out_error_mm: Option<f64>,
    /// The same when the tool dwells until it has stopped cutting: what is off the axis, without any spring.
    pub dwell_error_mm: Option<f64>,
}

/// The end of the work, as the axis of the work lies there under the cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndWork {
    /// The face, or the mouth of the bore.
    pub z_mm: f64,
    /// Slope of the axis there, away and up per length towards the tailstock.
    pub slope_x_rad: f64,
    pub slope_y_rad: f64,
    /// How far the axis of the work lies from the spindle axis there, away and up; for a drill from the tailstock's.
    pub off_x_mm: f64,
    pub off_y_mm: f64,
    /// Growth of the bore's diameter towards its mouth over its length, for 100 mm; positive is open at the mouth.
    pub bore_taper_mm_per_100mm: Option<f64>,
    /// How much deeper the middle of the face lies than its rim; negative is domed.
    pub dish_mm: Option<f64>,
    /// Diameter of the pip a tool on centre height leaves in the middle of the face.
    pub pip_mm: Option<f64>,
    /// The steady nearest to the end, and where the axis of the work lies in it (away, up) with no tool cutting.
    pub at_steady: Option<(RestId, [f64; 2])>,
}

impl PassResult {
    /// The support forces at one station, in the order of `supports`.
    #[must_use]
    pub fn forces_at(&self, station: usize) -> &[f64] {
        let n_supports = self.supports.len();
        &self.forces_n[station * n_supports..(station + 1) * n_supports]
    }

    /// The largest force of a support over the pass; chuck and centre are asked for by their x column and give the
    /// whole of both directions. `None` where the support or the stations are not there.
    #[must_use]
    pub fn largest_n(&self, support: Support) -> Option<f64> {
        let column = |support: Support| self.supports.iter().position(|other| *other == support);
        let second = match support {
            Support::DriveX => column(Support::DriveY),
            Support::TailX => column(Support::TailY),
            _ => None,
        };
        let first = column(support)?;
        let rows = self.forces_n.chunks_exact(self.supports.len());
        match second {
            Some(second) => rows.map(|forces_n| forces_n[first].hypot(forces_n[second])).max_by(f64::total_cmp),
            None => rows.map(|forces_n| forces_n[first].abs()).max_by(f64::total_cmp),
        }
    }

    /// The station with the largest error either way.
    #[must_use]
    pub fn worst(&self) -> Option<&Station> {
        self.stations.iter().max_by(|a, b| a.error_mm.abs().total_cmp(&b.error_mm.abs()))
    }
}

/// One set-up: its passes in order.
#[derive(Clone, Debug, PartialEq)]
pub struct SetupResult {
    pub setup: SetupId,
    /// The work as it comes into the set-up.
    pub before: Arc<Surface>,
    pub passes: Vec<PassResult>,
}

impl SetupResult {
    /// The work as it leaves the set-up.
    #[must_use]
    pub fn after(&self) -> &Arc<Surface> {
        self.passes.last().map_or(&self.before, |pass| &pass.after)
    }
}

/// The whole job.
#[derive(Clone, Debug, PartialEq)]
pub struct JobResult {
    pub setups: Vec<SetupResult>,
    /// How far the figures may be off, where that was worked out.
    pub bands: Option<Arc<JobBands>>,
}

impl JobResult {
    /// The result of one pass.
    #[must_use]
    pub fn pass(&self, id: PassId) -> Option<&PassResult> {
        self.setups.iter().flat_map(|setup| &setup.passes).find(|pass| pass.pass == id)
    }

    /// The band of one pass, where it was worked out.
    #[must_use]
    pub fn band(&self, id: PassId) -> Option<&PassBand> {
        self.bands.as_ref()?.pass(id)
    }

    /// The result of one set-up.
    #[must_use]
    pub fn setup(&self, id: SetupId) -> Option<&SetupResult> {
        self.setups.iter().find(|setup| setup.setup == id)
    }
}

/// A stretch of the work's outside, of the bottom of a thread or of a hole, straight between its ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    pub from_s_mm: f64,
    pub to_s_mm: f64,
    /// Diameter that is there, at `from_s_mm` and `to_s_mm`.
    pub start_diameter_mm: f64,
    pub end_diameter_mm: f64,
    /// Diameter the dial said, at the same places.
    pub start_dial_mm: f64,
    pub end_dial_mm: f64,
    /// Centre of the surface off the middle of the section, at the same places; in the frame of the shaft, seen from end
    /// B: right, up.
    pub start_off_mm: [f64; 2],
    pub end_off_mm: [f64; 2],
}

/// The work at some moment, along the shaft from end A.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Surface {
    /// The outside, the crests of threads included: spans without gaps, steps between them.
    pub spans: Vec<Span>,
    /// Bottoms of the threads cut so far: rising, with gaps.
    pub roots: Vec<Span>,
    /// Holes drilled and bored so far, besides those of the stock: rising, with gaps.
    pub bored: Vec<Span>,
}

/// The work bent, with the tool at one place (or drawn back).
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    pub status: Status,
    /// Rising, from the drive end to the tailstock end of what is computed.
    pub z_mm: Vec<f64>,
    /// Axis of the work away from the operator, at each z.
    pub x_mm: Vec<f64>,
    /// Axis of the work upwards, at each z.
    pub y_mm: Vec<f64>,
    pub reactions: Vec<Reaction>,
    /// What the tool does there; nothing where it is drawn back.
    pub cut: Option<Station>,
    /// Clearance between each jaw (steady rests in document order, then follower) and the work; 0 where it touches.
    pub jaw_gaps_mm: Vec<f64>,
    /// One turn of the work at the tool, where something turns with it: side of the work (rad, seen from the tailstock,
    /// mark at 0) and radius left there, angle after angle.
    pub turn_mm: Vec<(f64, f64)>,
}
