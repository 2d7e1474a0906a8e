//! How lively the held work is: natural frequencies with their shapes, whip speed, margin to buckling, the depth at
//! which chatter is to be expected along a pass, and the bar that hangs out behind the spindle.
//!
//! All with the work as it is with the tool there (old on one side of it, turned on the other) and the jaws that touch
//! there under the cut. Every figure is an estimate on a stated damping; none is a promise of quiet, and no speed is
//! safe because it is below a whip speed.

mod bar_tail;
mod depths;
mod mesh;

pub use bar_tail::{BarTail, bar_tail};
pub use depths::{DepthLimit, Lobes, Look, SpeedLimit, depth_limits, depth_limits_of, lobes};
pub(in crate::study) use depths::{Near, Pitch, Tip};

use super::results::{JobResult, Shape, Support};
use super::shape_at;
use crate::job::{Job, PassId, SetupId};
use crate::mechanics::buckling::critical_factor;
use crate::mechanics::chain::Work;
use crate::mechanics::vibration::{Mode, modes};

use mesh::AtTool;
pub(in crate::study) use mesh::{Bars, Coarse, FEWEST_ELEMENTS};

/// The damping ratio of each swing where nothing else is stated.
///
/// Source: common practice, 0.01 to 0.05 for work in a lathe (no source); an assumption, to be shown as one.
pub const DAMPING_RATIO: f64 = 0.02;

/// How many natural frequencies are given: three bends in two directions.
pub const N_SWINGS: usize = 6;

/// One natural frequency.
#[derive(Clone, Debug, PartialEq)]
pub struct Swing {
    pub frequency_hz: f64,
    /// 1 for the first bend in its direction, 2 for the second: swings of one number in the two directions are a pair.
    pub bend: usize,
    /// Away, at each z, in shares of the largest movement of this swing.
    pub x_ratio: Vec<f64>,
    /// Up.
    pub y_ratio: Vec<f64>,
}

/// How lively the work is with the tool at one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Lively {
    /// Rising, from the drive end to the tailstock end of what is computed.
    pub z_mm: Vec<f64>,
    /// Rising in frequency.
    pub swings: Vec<Swing>,
    /// Speed at which the work would turn once for each of its slowest swings.
    pub first_whip_rpm: f64,
    /// By how much all axial force could grow before the work buckles; `None` where nothing presses it.
    pub buckling_factor: Option<f64>,
    /// The damping ratio that goes with it; frequencies do not depend on it.
    pub damping_ratio: f64,
}

/// The work with the tool of `pass` at `tool_z_mm` (kept within the pass), or with the tool drawn back, as
/// [`super::shape_at`] takes them. `None` where nothing can be solved or nothing holds the work.
#[must_use]
pub fn lively(
    job: &Job,
    result: &JobResult,
    setup: SetupId,
    pass: Option<PassId>,
    tool_z_mm: Option<f64>,
    damping_ratio: f64,
) -> Option<Lively> {
    let shape = shape_at(job, result, setup, pass, tool_z_mm)?;
    let at_tool = AtTool::of(job, result, setup, pass, tool_z_mm, &touching(&shape))?;
    let work = at_tool.work();
    let found = modes(&work, N_SWINGS)?;
    let first_whip_rpm = found.first()?.whip_rpm();
    Some(Lively {
        first_whip_rpm,
        swings: swings(&found),
        buckling_factor: critical_factor(&work),
        z_mm: at_tool.z_mm,
        damping_ratio,
    })
}

/// Which jaws touch, steady rests in document order and then the follower.
fn touching(shape: &Shape) -> Vec<bool> {
    let jaws = shape
        .reactions
        .iter()
        .filter(|reaction| matches!(reaction.support, Support::Jaw { .. } | Support::FollowerJaw { .. }));
    jaws.map(|reaction| reaction.force_n > 0.0).collect()
}

/// Modes numbered by their bend in either direction.
fn swings(modes: &[Mode]) -> Vec<Swing> {
    // The leading direction of a mode, doubled in angle so that there and back are one.
    let direction = |mode: &Mode| {
        mode.move_ratio.iter().fold([0.0, 0.0], |sum: [f64; 2], [x, y]| [sum[0] + x * x - y * y, sum[1] + 2.0 * x * y])
    };
    let first = modes.first().map_or([1.0, 0.0], direction);
    let mut n_bends = [0, 0];
    let swing = |mode: &Mode| {
        let own = direction(mode);
        let across = usize::from(own[0] * first[0] + own[1] * first[1] < 0.0);
        n_bends[across] += 1;
        Swing {
            frequency_hz: mode.frequency_hz,
            bend: n_bends[across],
            x_ratio: mode.move_ratio.iter().map(|[x, _]| *x).collect(),
            y_ratio: mode.move_ratio.iter().map(|[_, y]| *y).collect(),
        }
    };
    modes.iter().map(swing).collect()
}

impl AtTool {
    fn work(&self) -> Work<'_> {
        Work {
            elements: &self.elements,
            masses: &self.masses,
            node_masses: &[],
            springs: &self.springs,
            jaws: &self.jaws,
        }
    }
}
