//! A pass that asks more of the spindle than the lathe gives.
//!
//! Power of the main force and of the friction at the jaws, against the share of the motor's power that reaches the
//! spindle; more than that is trouble, and watched is what may be more within the stated spread of the main force.
//! Source: texts on turning (see [`crate::study::machine`]).

use super::why::spindle::of_power;
use super::words::{self, Computed, computed_passes};
use super::{Finding, Verdict};
use crate::job::quantity::{self, Kind};
use crate::job::{Edit, Force, Job, Pass, Subject};
use crate::study::machine::{SPINDLE_SHARE_RATIO, SpindleLoad, hardest_load, real_speed_rpm};
use crate::study::{JobResult, Status};

/// Power falls at least so fast with speed: the main force rises as the work turns slower, with the speed to -0.153.
///
/// Source: the speed factor after Tschätsch, see `mechanics::cutting`; rounded to the careful side.
const POWER_EXPONENT: f64 = 0.8;

/// At most one finding a pass.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    computed_passes(job, result)
        .filter(|computed| matches!(computed.result.status, Status::Solved | Status::StoppedEarly))
        .filter_map(|computed| finding_of(job, &computed))
        .collect()
}

fn finding_of(job: &Job, computed: &Computed<'_>) -> Option<Finding> {
    let load = hardest_load(job, computed.setup, computed.pass, computed.result)?;
    // What the user typed himself is taken as known.
    let spread_ratio = if computed.pass.force == Force::FromCut { job.spread.main_ratio } else { 0.0 };
    let verdict = match load.used_ratio() {
        ratio if ratio > 1.0 => Verdict::Trouble,
        ratio if ratio * (1.0 + spread_ratio) > 1.0 => Verdict::Watch,
        _ => return None,
    };
    let kilowatts = |power_w: f64| quantity::show(power_w / 1000.0, Kind::Power, job.units);
    let (asked, given) = (kilowatts(load.power_w), kilowatts(load.given_power_w));
    let name = words::pass_name(job, computed.setup, computed.pass);
    Some(Finding {
        rule: "power",
        about: Subject::Pass(computed.setup.id, computed.pass.id),
        verdict,
        text: match verdict {
            Verdict::Trouble => format!("{name} asks for about {asked} at the spindle; the lathe gives about {given}"),
            _ => format!("{name} asks for about {asked} of the {given} or so that the lathe gives at the spindle"),
        },
        why: format!(
            "About {:.0} % of the motor's {}{} reaches the spindle, at any of its speeds. The cut{} asks for more than \
             that, or may: the main force is an estimate. A spindle that stalls in the cut breaks the tool or throws \
             the work.",
            100.0 * SPINDLE_SHARE_RATIO.value,
            quantity::show(job.lathe.power_kw.value, Kind::Power, job.units),
            if job.lathe.power_kw.assumed { " (assumed)" } else { "" },
            if load.friction_torque_nmm > 0.0 { ", with the drag of the jaws," } else { "" },
        ),
        z_mm: Some(load.z_mm),
        remedy: (verdict == Verdict::Trouble).then(|| slower(job, computed, &load)).flatten(),
        behind: of_power(job, computed.pass, &load),
    })
}

/// The same pass at a speed at which the power should do.
fn slower(job: &Job, computed: &Computed<'_>, load: &SpindleLoad) -> Option<(String, Edit)> {
    let limit_rpm = computed.pass.speed_rpm * load.used_ratio().powf(-1.0 / POWER_EXPONENT);
    let speed_rpm = match job.lathe.speeds_rpm.is_empty() {
        true if limit_rpm >= 20.0 => (limit_rpm / 10.0).floor() * 10.0,
        true => return None,
        false => real_speed_rpm(&job.lathe, limit_rpm),
    };
    // A step that rounds up may still be too fast.
    let speed_rpm = if speed_rpm > limit_rpm {
        job.lathe.speeds_rpm.iter().copied().filter(|step| *step <= limit_rpm).reduce(f64::max)?
    } else {
        speed_rpm
    };
    let pass = Pass { speed_rpm, ..computed.pass.clone() };
    Some((
        format!("Turn at {}", quantity::show(speed_rpm, Kind::SpindleSpeed, job.units)),
        Edit::SetPass { setup: computed.setup.id, pass },
    ))
}
