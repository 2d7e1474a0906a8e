//! A thin tube squeezed out of round by the jaws of its chuck: turned round there, it springs to lobes when released.
//!
//! A ring as long as the grip under equal jaws, taken by itself: the tube beyond the jaws holds it, so this is the most
//! it can be. Told where the work is cut to the drawing within one diameter of the jaws, about as far as lobes reach along a tube (they
//! fade to a third within one to two radii: bending of the wall against its stretch, computed), and only against a
//! stated tolerance. Source of the ring: see [`crate::mechanics::ring`].

use super::size::closest_tolerance_mm;
use super::why::Why;
use super::why::ring::{SOURCE, TRUST, ring_sketch, section};
use super::why::sum::{Sum, number};
use super::words;
use super::{Finding, Verdict};
use crate::job::quantity::{self, Kind};
use crate::job::{DriveKind, Job, Setup, Subject};
use crate::mechanics::ring::{Load, Ring, Squeeze};
use crate::study::JobResult;

/// Places along the grip where the wall is looked at.
const N_PLACES: usize = 5;

/// At most one finding a set-up.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    job.setups.iter().filter_map(|setup| finding_of(job, result, setup)).collect()
}

fn finding_of(job: &Job, result: &JobResult, setup: &Setup) -> Option<Finding> {
    let (n_jaws, count) = match setup.drive.kind {
        DriveKind::ThreeJaw => (3, "three"),
        DriveKind::FourJaw => (4, "four"),
        DriveKind::Collet | DriveKind::FacePlate | DriveKind::CentreAndDog => return None,
    };
    let (ring, outside_mm) = thinnest_ring(job, setup)?;
    let grip = setup.drive.grip_force_n;
    let squeeze = ring.squeeze(n_jaws, grip.value);
    let out_of_round_mm = squeeze.in_at_jaws_mm + squeeze.out_between_mm;
    let passes = setup.passes.iter().filter_map(|pass| result.pass(pass.id));
    let near_the_jaws = passes.flat_map(|pass| &pass.stations).filter(|station| station.z_mm <= outside_mm);
    let allowed_mm = closest_tolerance_mm(job, setup, near_the_jaws)? / 2.0;
    if out_of_round_mm <= allowed_mm {
        return None;
    }
    let amount = |mm: f64| words::amount(mm, job.units);
    Some(Finding {
        rule: "squeezed_tube",
        about: Subject::Drive(setup.id),
        verdict: Verdict::Watch,
        text: words::capital(&format!(
            "{}{count} jaws may squeeze the tube in by up to {} at each and out by up to {} between them",
            words::of_setup(job, setup),
            amount(squeeze.in_at_jaws_mm),
            amount(squeeze.out_between_mm),
        )),
        why: format!(
            "What is turned round in the jaws springs to {count} lobes when they let go{}; the tolerance near the jaws \
             has room for {} on radius. This is the most it can be, from a ring of the grip's length by itself with {} \
             a jaw{}. A plug in the bore, jaws that reach round, or a lighter grip help.",
            if n_jaws == 3 { ", and a micrometer does not see three" } else { "" },
            amount(allowed_mm),
            quantity::show(grip.value, Kind::Force, job.units),
            if grip.assumed { " (assumed)" } else { "" },
        ),
        z_mm: Some(0.0),
        remedy: None,
        behind: behind(job, &ring, n_jaws, grip.value, squeeze).with(Sum::figure(
            "room",
            "closest tolerance near the jaws \u{f7} 2, on radius",
            format!("{} \u{f7} 2", number(2.0 * allowed_mm)),
            amount(allowed_mm),
        )),
    })
}

fn behind(job: &Job, ring: &Ring, n_jaws: usize, force_n: f64, squeeze: Squeeze) -> Why {
    let apart = 180.0 / n_jaws as f64;
    let [sine, cosine] = ["sin", "cos"].map(|turned| format!("{turned}({})", number(apart)));
    let share = format!("(\u{3c0} \u{f7} {n_jaws})");
    let press = format!(
        "{} \u{d7} {}^3 \u{f7} ({} \u{d7} {})",
        number(force_n),
        number(ring.mean_radius_mm),
        number(ring.e_mpa),
        number(ring.i_mm4())
    );
    let by = "force of a jaw \u{d7} mean radius\u{b3} \u{f7} (stiffness of the material \u{d7} section)";
    let loads = (0..n_jaws).map(|jaw| Load { angle_rad: (90.0 + 2.0 * apart * jaw as f64).to_radians(), force_n });
    Why::new(
        "How far the wall of a ring as long as the grip goes in under each jaw, and out half way between jaws.",
        SOURCE,
        TRUST,
    )
    .with(section(ring))
    .with(Sum::figure(
        "in at each jaw",
        &format!("{by} \u{d7} ((a + sin a \u{d7} cos a) \u{f7} (2 \u{d7} sin\u{b2} a) \u{2212} 1 \u{f7} a) \u{f7} 2, a half the angle between jaws"),
        format!("{press} \u{d7} (({share} + {sine} \u{d7} {cosine}) \u{f7} (2 \u{d7} {sine}^2) \u{2212} 1 \u{f7} {share}) \u{f7} 2"),
        words::amount(squeeze.in_at_jaws_mm, job.units),
    ))
    .with(Sum::figure(
        "out between",
        &format!("{by} \u{d7} (2 \u{f7} a \u{2212} 1 \u{f7} sin a \u{2212} a \u{d7} cos a \u{f7} sin\u{b2} a) \u{f7} 4"),
        format!("{press} \u{d7} (2 \u{f7} {share} \u{2212} 1 \u{f7} {sine} \u{2212} {share} \u{d7} {cosine} \u{f7} {sine}^2) \u{f7} 4"),
        words::amount(squeeze.out_between_mm, job.units),
    ))
    .drawn(ring_sketch(ring, loads.collect()))
}

/// The ring in the jaws where the wall is thinnest, with its outside; nothing where the work is solid or stout there.
fn thinnest_ring(job: &Job, setup: &Setup) -> Option<(Ring, f64)> {
    let grip_mm = setup.drive.grip_mm;
    let e_mpa = job.material().e_mpa.value;
    let places = (0..N_PLACES).filter_map(|place| {
        let s_mm = setup.s_of_z_mm(&job.shaft, -grip_mm * (place as f64 + 0.5) / N_PLACES as f64);
        let outside_mm = job.dial_diameter_into_mm(setup.id, s_mm)?;
        let bore_mm = job.shaft.bore_diameter_mm(s_mm);
        (bore_mm > 0.0).then(|| (Ring::of_tube(outside_mm, bore_mm, grip_mm, e_mpa), outside_mm))
    });
    places.min_by(|a, b| a.0.wall_mm.total_cmp(&b.0.wall_mm)).filter(|(ring, _)| ring.is_thin())
}
