//! Force along the work on either side of the tool: thrust of the centre, and the feed force that the drive end takes.
//!
//! Fed to the headstock, the tool pushes the stretch between itself and the drive together; fed to the tailstock it pulls
//! it, which keeps slender work straight. A chuck can pull; a headstock centre only pushes, and where the feed force is
//! more than the thrust, work without a hold-back leaves it and the tailstock takes it all.
//!
//! Limit: one feed force for a whole pass, the mean of what its dial asks for; the tailstock counts as soft along the
//! bed beside the drive end, so the feed force does not reach it.

use super::force::ForceModel;
use super::layout::CutSpan;
use super::outline::{Outline, Side};
use super::prepared::{Scene, dial};
use crate::job::{DriveKind, Pass, PassKind, TailKind};

/// Force along the work, positive where it is pressed together.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Axial {
    /// Between drive end and tool.
    pub front_n: f64,
    /// Between tool and tailstock.
    pub back_n: f64,
}

/// Places along a cut from which the mean feed force is taken.
const PLACES: usize = 16;

/// The forces with the tool of a pass in the work; `cut` `None` is the tool drawn back.
#[must_use]
pub fn axial(scene: &Scene, outline: &Outline, pass: Option<&Pass>, cut: Option<CutSpan>) -> Axial {
    let thrust_n = scene.warmth.thrust_n;
    let (Some(pass), Some(cut)) = (pass, cut) else { return Axial { front_n: thrust_n, back_n: thrust_n } };
    // Threads and plunges push all but nothing along the work, and boring is left out.
    let along = matches!(pass.kind, PassKind::Turn | PassKind::Spring);
    let feed_n = if along { mean_feed_n(scene, outline, pass, cut) } else { 0.0 };
    if cut.to_headstock() {
        return Axial { front_n: thrust_n + feed_n, back_n: thrust_n };
    }
    let drive = &scene.setup.drive;
    let can_pull = drive.kind != DriveKind::CentreAndDog || drive.hold_back;
    if can_pull || feed_n <= thrust_n {
        Axial { front_n: thrust_n - feed_n, back_n: thrust_n }
    } else if scene.setup.tail.kind == TailKind::Free {
        // Nothing stands against it at either end.
        Axial::default()
    } else {
        Axial { front_n: 0.0, back_n: feed_n }
    }
}

/// Mean feed force of a pass at the depth its dial asks for.
fn mean_feed_n(scene: &Scene, outline: &Outline, pass: &Pass, cut: CutSpan) -> f64 {
    let material = scene.job.material();
    let model = ForceModel::new(&material, &scene.setup.tool, pass, 0.0).times(scene.factors);
    let (low_mm, high_mm) = cut.ends_mm();
    let mut reader = outline.reader();
    let mut sum_n = 0.0;
    // Dial, depth and feed force of the place before: mostly the same again.
    let mut last: Option<[f64; 3]> = None;
    for place in 0..PLACES {
        let z_mm = low_mm + (high_mm - low_mm) * (place as f64 + 0.5) / PLACES as f64;
        let Some(found) = reader.at(z_mm, Side::Tailstock) else { continue };
        let wanted = || scene.wanted.at(z_mm, Side::Tailstock).map(|found| found.diameter_mm);
        let depth_mm = (found.dial_mm - dial(pass, found.dial_mm, wanted)) / 2.0;
        let feed_n = match last {
            Some([dial_mm, of_mm, feed_n]) if [dial_mm, of_mm] == [found.dial_mm, depth_mm] => feed_n,
            _ => model.law(found.dial_mm, depth_mm).forces(depth_mm).0.feed_n,
        };
        last = Some([found.dial_mm, depth_mm, feed_n]);
        sum_n += feed_n;
    }
    sum_n / PLACES as f64
}
