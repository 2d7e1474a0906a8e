//! Work that comes out of round: a lobed bearing spot is copied, a cut does not clean up work that ran out, or the push
//! changes round the work.
//!
//! Judged where a set-up's last pass leaves each place: told above 10 µm on radius, or above a quarter of the tolerance on
//! diameter where that is closer (common practice, no source). Odd lobes measure the same across everywhere, so two
//! points do not show them. Source: texts on measuring roundness (from memory); trade practice, F8.

use super::runout::{over_limit, told_above, width_mm};
use super::why::rest::{Turning, of_turning};
use super::why::sum::{Sum, number};
use super::words;
use super::{Finding, Verdict};
use crate::job::{Edit, Job, Rest, Setup, Spot, Subject};
use crate::study::{JobResult, Station};

/// Roundness that is told whatever the tolerance, on radius.
const ALWAYS_TOLD_MM: f64 = 0.01;
/// The share of a tolerance on diameter that roundness on radius may take.
const SHARE_RATIO: f64 = 0.25;

/// At most one finding a set-up.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    job.setups.iter().filter_map(|setup| finding_of(job, result, setup)).collect()
}

fn finding_of(job: &Job, result: &JobResult, setup: &Setup) -> Option<Finding> {
    let units = job.units;
    let used_ratio = |station: &Station| {
        let share_mm = width_mm(job, setup, station).map_or(f64::INFINITY, |width_mm| SHARE_RATIO * width_mm);
        station.turned.roundness_mm / ALWAYS_TOLD_MM.min(share_mm)
    };
    let (pass, worst) = over_limit(job, result, setup, used_ratio)?;
    let lobed = (setup.rests.iter().filter(|rest| rest.spot.height_mm > 0.0))
        .max_by(|a, b| a.spot.height_mm.total_cmp(&b.spot.height_mm));
    let to_come_off_mm = worst.old_diameter_mm - worst.wanted_diameter_mm;
    let (from, how) = match lobed {
        Some(rest) => {
            let Spot { n_lobes, height_mm } = rest.spot;
            let from = format!(
                "{n_lobes} lobes of {} under {} are copied",
                words::amount(height_mm, units),
                words::rest_name(rest, units)
            );
            (from, measuring(n_lobes))
        }
        None if worst.turned.before_mm > to_come_off_mm => {
            let from = format!(
                "the cut does not clean it up, it ran out {} and {} is to come off",
                words::amount(worst.turned.before_mm, units),
                words::amount(to_come_off_mm, units)
            );
            (from, "Part of the old surface stays: true the work up first, or take as much as it runs out.")
        }
        None => (
            "the depth changes round it, and it springs with the depth".to_owned(),
            "A second cut of even depth takes most of it away.",
        ),
    };
    Some(Finding {
        rule: "out_of_round",
        about: lobed.map_or(Subject::Pass(setup.id, pass.id), |rest| Subject::Rest(setup.id, rest.id)),
        verdict: Verdict::Watch,
        text: format!(
            "{} leaves the work {} out of round at {}: {from}",
            words::pass_name(job, setup, pass),
            words::amount(worst.turned.roundness_mm, units),
            words::place(worst.z_mm, units),
        ),
        why: match lobed {
            Some(_) => format!(
                "The jaws lift and drop the work at every lobe, and the tool cuts what stands before it. {how} Turn a \
                 true band for the jaws first, or put a cat head over it."
            ),
            None => format!("It turns with the work. {how}"),
        },
        z_mm: Some(worst.z_mm),
        remedy: lobed.map(|rest| {
            let round = Rest { spot: Spot { height_mm: 0.0, ..rest.spot }, ..rest.clone() };
            ("Turn the spot true".to_owned(), Edit::SetRest { setup: setup.id, rest: round })
        }),
        behind: of_turning(job, Turning::Round, worst)
            .with(Sum::figure(
                "out of round",
                "of the whole computation, angle after angle of a turn, on radius",
                number(worst.turned.roundness_mm),
                words::amount(worst.turned.roundness_mm, units),
            ))
            .with(told_above(ALWAYS_TOLD_MM, SHARE_RATIO, width_mm(job, setup, worst), units)),
    })
}

/// What shows lobes of this number.
fn measuring(n_lobes: u32) -> &'static str {
    if n_lobes % 2 == 1 {
        "A micrometer will not show odd lobes: it measures the same across everywhere; a vee block or an indicator does."
    } else {
        "A micrometer shows lobes of an even number as it goes round."
    }
}
