//! Run-out left on the work: it turns with it and is no error of size.
//!
//! Judged where a set-up's last pass leaves each place, as held and once let go about the centre holes, whichever is
//! more: told above 20 µm, or above half the land's tolerance where that is closer (common practice, no source; a drawing
//! that states run-out goes before it). Where it comes from is told by the faults stated, the largest first; a one-tail
//! dog counts by what its push moves the headstock centre.

use super::size::allowed_at;
use super::why::rest::{Turning, of_turning};
use super::why::sum::{Sum, number};
use super::words::{self, computed_passes};
use super::{Finding, Verdict};
use crate::job::{DogKind, DriveEnd, DriveKind, Edit, Job, Pass, Setup, Subject, TailKind, Units};
use crate::study::holding::drive_spring;
use crate::study::{JobResult, Measured, PassResult, SetupResult, Station, Turned};

/// Run-out that is told whatever the tolerance.
const ALWAYS_TOLD_MM: f64 = 0.02;
/// The share of a tolerance on diameter that run-out may take.
const SHARE_RATIO: f64 = 0.5;
/// Below this nothing shows on an indicator.
const SEEN_MM: f64 = 0.0005;
/// Faults smaller than this share of the largest are not named.
const NAMED_RATIO: f64 = 0.2;

/// True where something that turns with the work leaves what an indicator could show in a set-up.
#[must_use]
pub fn can_be_seen(result: &SetupResult) -> bool {
    let largest_mm =
        |turned: &Turned| turned.before_mm.max(turned.left_mm).max(turned.free_mm).max(turned.roundness_mm);
    let passes = result.passes.iter().filter(|pass| pass.turns);
    passes.flat_map(|pass| &pass.stations).any(|station| largest_mm(&station.turned) >= SEEN_MM)
}

/// The station with the most of its limit used, where that is all of it or more, of those on which something turned with
/// the work and which no later pass goes over again; and its pass.
pub(super) fn over_limit<'a>(
    job: &'a Job,
    result: &'a JobResult,
    setup: &'a Setup,
    used_ratio: impl Fn(&Station) -> f64,
) -> Option<(&'a Pass, &'a Station)> {
    let (pass, worst) = (last_left(job, result, setup).into_iter())
        .filter(|(pass, _)| pass.turns)
        .max_by(|a, b| used_ratio(a.1).total_cmp(&used_ratio(b.1)))
        .filter(|(_, worst)| used_ratio(worst) > 1.0)?;
    Some((setup.pass(pass.pass)?, worst))
}

/// The stations of a set-up that no later pass of it goes over again, with the pass each belongs to.
fn last_left<'a>(job: &'a Job, result: &'a JobResult, setup: &Setup) -> Vec<(&'a PassResult, &'a Station)> {
    let mut covered_mm: Vec<(f64, f64)> = Vec::new();
    let mut last = Vec::new();
    let outside =
        |computed: &words::Computed<'_>| computed.setup.id == setup.id && computed.result.measured == Measured::Outside;
    let passes: Vec<_> = computed_passes(job, result).filter(outside).collect();
    for computed in passes.iter().rev() {
        let stations = &computed.result.stations;
        let (Some(first), Some(end)) = (stations.first(), stations.last()) else { continue };
        let is_new = |z_mm: f64| !covered_mm.iter().any(|(low_mm, high_mm)| z_mm >= *low_mm && z_mm <= *high_mm);
        last.extend(stations.iter().filter(|station| is_new(station.z_mm)).map(|station| (computed.result, station)));
        covered_mm.push((first.z_mm, end.z_mm));
    }
    last
}

/// The whole width of the tolerance on diameter at a place that is cut to the drawing.
pub(super) fn width_mm(job: &Job, setup: &Setup, station: &Station) -> Option<f64> {
    let (lower_mm, upper_mm) = allowed_at(job, setup, station)?.limits_mm?;
    Some(upper_mm - lower_mm)
}

/// At most one finding a set-up.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    job.setups.iter().filter_map(|setup| finding_of(job, result, setup)).collect()
}

fn finding_of(job: &Job, result: &JobResult, setup: &Setup) -> Option<Finding> {
    let units = job.units;
    let limit_mm = |station: &Station| {
        width_mm(job, setup, station).map_or(ALWAYS_TOLD_MM, |width_mm| ALWAYS_TOLD_MM.min(SHARE_RATIO * width_mm))
    };
    let (pass, worst) = over_limit(job, result, setup, |station| {
        station.turned.left_mm.max(station.turned.free_mm) / limit_mm(station)
    })?;
    let faults = faults(job, setup, worst);
    let from = if faults.is_empty() {
        "what an earlier set-up left".to_owned()
    } else {
        faults.iter().map(|fault| fault.words.as_str()).collect::<Vec<_>>().join(" and ")
    };
    let amount = |mm: f64| words::amount(mm, units);
    let limit = match width_mm(job, setup, worst) {
        Some(width_mm) if SHARE_RATIO * width_mm < ALWAYS_TOLD_MM => {
            format!("half the tolerance there is {}", amount(SHARE_RATIO * width_mm))
        }
        _ => format!("{} is told of whatever the tolerance", amount(ALWAYS_TOLD_MM)),
    };
    Some(Finding {
        rule: "runout",
        about: Subject::Pass(setup.id, pass.id),
        verdict: Verdict::Watch,
        text: format!(
            "{} leaves run-out, not an error of size: at {} {} as held, {} once let go, from {from}",
            words::pass_name(job, setup, pass),
            words::place(worst.z_mm, units),
            amount(worst.turned.left_mm),
            amount(worst.turned.free_mm),
        ),
        why: format!(
            "It turns with the work: the diameter can be right all along and the journal still run out of true with its \
             neighbours; a micrometer does not show it, an indicator does. Let go means about its centre holes ({limit}). \
             {}",
            faults.first().map_or("Take a light cut in the last holding to true it up.", |fault| fault.cure)
        ),
        z_mm: Some(worst.z_mm),
        remedy: faults.into_iter().next().and_then(|fault| fault.remedy),
        behind: of_turning(job, Turning::Held, worst)
            .with(Sum::figure(
                "as held",
                "of the whole computation, angle after angle of a turn",
                number(worst.turned.left_mm),
                amount(worst.turned.left_mm),
            ))
            .with(Sum::figure(
                "once let go",
                "the same about its own centre holes",
                number(worst.turned.free_mm),
                amount(worst.turned.free_mm),
            ))
            .with(told_above(ALWAYS_TOLD_MM, SHARE_RATIO, width_mm(job, setup, worst), units)),
    })
}

/// From what on a reading is told: a share of the tolerance where that is closer.
pub(super) fn told_above(always_mm: f64, share_ratio: f64, width_mm: Option<f64>, units: Units) -> Sum {
    let (words, numbers, limit_mm) = match width_mm.filter(|width_mm| share_ratio * width_mm < always_mm) {
        Some(width_mm) => (
            "share of the tolerance (common practice, no source) \u{d7} the tolerance there",
            format!("{} \u{d7} {}", number(share_ratio), number(width_mm)),
            share_ratio * width_mm,
        ),
        None => ("told whatever the tolerance (common practice, no source)", number(always_mm), always_mm),
    };
    Sum::figure("told above", words, numbers, words::amount(limit_mm, units))
}

/// Something that turns with the work.
struct Fault {
    size_mm: f64,
    words: String,
    cure: &'static str,
    remedy: Option<(String, Edit)>,
}

/// What is stated in a set-up that turns with the work, the largest first, without what is small beside it.
fn faults(job: &Job, setup: &Setup, worst: &Station) -> Vec<Fault> {
    let (shaft, drive, tail) = (&job.shaft, &setup.drive, &setup.tail);
    let amount = |mm: f64| words::amount(mm, job.units);
    let between_centres = drive.kind == DriveKind::CentreAndDog;
    let mut all = Vec::new();
    let mut fault = |size_mm: f64, words: String, cure: &'static str, remedy: Option<(String, Edit)>| {
        if size_mm > 0.0 {
            all.push(Fault { size_mm, words, cure, remedy });
        }
    };
    let true_drive = DriveEnd { runout_tir_mm: 0.0, ..drive.clone() };
    let grip = if between_centres { "the headstock centre" } else { "the grip" };
    fault(
        drive.runout_tir_mm,
        format!("{grip} ({} out of true)", amount(drive.runout_tir_mm)),
        "True it up at the jaw face under an indicator, with four jaws or packing; a centre is trued in its place.",
        Some(("Indicate it true".to_owned(), Edit::SetDrive { setup: setup.id, drive: true_drive })),
    );
    fault(
        shaft.bow_tir_mm,
        format!("the bent bar ({})", amount(shaft.bow_tir_mm)),
        "Straighten it, or rough it all over and let it rest before the last cuts; a pull of the jaws only hides the bend.",
        None,
    );
    let held_holes = [
        (between_centres, if setup.end_for_end { shaft.centre_hole_b } else { shaft.centre_hole_a }),
        (tail.kind != TailKind::Free, if setup.end_for_end { shaft.centre_hole_a } else { shaft.centre_hole_b }),
    ];
    let hole_mm = held_holes.iter().filter(|(held, _)| *held).filter_map(|(_, hole)| *hole);
    let hole_mm = hole_mm.map(|hole| hole.off_tir_mm).fold(0.0, f64::max);
    fault(
        hole_mm,
        format!("a centre hole off the middle ({})", amount(hole_mm)),
        "Turned on the same two holes all over, the work runs true to them; what was turned before, or in a chuck, does \
         not. Make the hole anew.",
        None,
    );
    let turning_centre = matches!(tail.kind, TailKind::LiveCentre | TailKind::SpringCentre | TailKind::BullNose);
    fault(
        if turning_centre { tail.runout_tir_mm } else { 0.0 },
        format!("the rotating centre itself ({})", amount(tail.runout_tir_mm)),
        "A dead centre has no run-out of its own.",
        None,
    );
    let dog_mm = if between_centres && drive.dog.kind == DogKind::OneTail {
        let push_n = worst.fc_n * worst.left_diameter_mm / 2.0 / drive.dog.tail_radius_mm.value;
        2.0 * push_n / drive_spring(job, setup).radial_n_per_mm
    } else {
        0.0
    };
    let mut two_tails = drive.clone();
    two_tails.dog.kind = DogKind::TwoTails;
    fault(
        dog_mm,
        "the one-tail dog".to_owned(),
        "One tail pushes the work sideways once a turn as well as round. Two tails, or a plate that floats, only turn it; \
         so does a tail that bears further out, the less it pushes.",
        Some(("Take a two-tail dog".to_owned(), Edit::SetDrive { setup: setup.id, drive: two_tails })),
    );
    all.sort_by(|a, b| b.size_mm.total_cmp(&a.size_mm));
    let least_mm = all.first().map_or(0.0, |first| NAMED_RATIO * first.size_mm);
    all.retain(|fault| fault.size_mm >= least_mm);
    all
}
