//! What a pass asks of the lathe, and what the lathe can really give: power and moment at the spindle, and the speeds
//! and feeds of its gearboxes.
//!
//! `P = Fc v + friction at the jaws`, with `v` at the diameter before the cut; of the motor's power a share reaches the
//! spindle. Where the exact speed is not there the next lower step is taken (note on stepped drives, read), of the feeds
//! the nearest. Source of the power: any text on turning.
//! Limit: estimates; a belt that slips, a worn clutch or a motor on a weak supply gives less.

use std::f64::consts::PI;

use super::jaw_contact::PassJaws;
use super::results::PassResult;
use crate::job::material::{Fact, Trust};
use crate::job::{Job, Lathe, Pass, Setup};
use crate::mechanics::rubbing::{power_w, torque_nmm};

/// Share of the motor's power that reaches the spindle.
pub const SPINDLE_SHARE_RATIO: Fact = Fact {
    value: 0.75,
    source: "texts on turning give 0.7 to 0.85 for a geared head; from memory, 0.75 assumed",
    trust: Trust::MemoryFair,
};

/// Two steps nearer to each other than this are one: a step of R40, the finest series in common use.
///
/// Source: ISO 3 (from memory), ratio 1.06. A force differs by less than its tables do with a feed so much off.
pub const SAME_STEP_RATIO: f64 = 1.06;

/// What a pass asks of the spindle where it asks most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpindleLoad {
    /// Where the tool stands then.
    pub z_mm: f64,
    pub main_n: f64,
    pub cutting_speed_m_per_min: f64,
    /// Of the main force about the axis.
    pub cut_torque_nmm: f64,
    /// Of the friction at all jaws.
    pub friction_torque_nmm: f64,
    /// Both together, as power.
    pub power_w: f64,
    /// What the lathe gives at the spindle.
    pub given_power_w: f64,
    /// The same as a moment at this speed.
    pub given_torque_nmm: f64,
}

impl SpindleLoad {
    /// Moment asked of the spindle.
    #[must_use]
    pub fn torque_nmm(&self) -> f64 {
        self.cut_torque_nmm + self.friction_torque_nmm
    }

    /// 1 where all is used up.
    #[must_use]
    pub fn used_ratio(&self) -> f64 {
        self.power_w / self.given_power_w
    }
}

/// What a pass asks of the spindle where it asks most; nothing where nothing was computed or it stands still.
#[must_use]
pub fn hardest_load(job: &Job, setup: &Setup, pass: &Pass, result: &PassResult) -> Option<SpindleLoad> {
    if pass.speed_rpm <= 0.0 {
        return None;
    }
    let given_power_w = given_power_w(&job.lathe);
    let jaws = PassJaws::new(job, setup, Some(pass), result.supports.iter().copied());
    let load = |station: usize| {
        let at = &result.stations[station];
        let cut_torque_nmm = at.fc_n * at.old_diameter_mm / 2.0;
        let friction_torque_nmm = jaws.friction_torque_nmm(at, result.forces_at(station));
        SpindleLoad {
            z_mm: at.z_mm,
            main_n: at.fc_n,
            cutting_speed_m_per_min: cutting_speed_m_per_min(at.old_diameter_mm, pass.speed_rpm),
            cut_torque_nmm,
            friction_torque_nmm,
            power_w: power_w(cut_torque_nmm + friction_torque_nmm, pass.speed_rpm),
            given_power_w,
            given_torque_nmm: torque_nmm(given_power_w, pass.speed_rpm),
        }
    };
    (0..result.stations.len()).map(load).max_by(|a, b| a.power_w.total_cmp(&b.power_w))
}

/// Power at the spindle.
#[must_use]
pub fn given_power_w(lathe: &Lathe) -> f64 {
    lathe.power_kw.value * 1000.0 * SPINDLE_SHARE_RATIO.value
}

/// Speed of the work under the tool.
///
/// Source: TM 1-420 C1 (1942), read: n = 1000 v / (pi d).
#[must_use]
pub fn cutting_speed_m_per_min(diameter_mm: f64, speed_rpm: f64) -> f64 {
    PI * diameter_mm * speed_rpm / 1000.0
}

/// What the lathe can really give of a pass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RealCut {
    /// The step itself where the wish is one of the gearbox, else the next lower; the lowest where all are faster.
    pub speed_rpm: f64,
    /// The nearest of the feed box, in proportion.
    pub feed_mm_per_rev: f64,
    /// At the largest diameter the dial finds along the pass.
    pub cutting_speed_m_per_min: f64,
}

/// Speed, feed and cutting speed with the gears there are.
#[must_use]
pub fn real_cut(job: &Job, setup: &Setup, pass: &Pass) -> RealCut {
    let (speed_rpm, feed_mm_per_rev) =
        (real_speed_rpm(&job.lathe, pass.speed_rpm), real_feed_mm_per_rev(&job.lathe, pass.feed_mm_per_rev));
    let shaft = &job.shaft;
    let (from_z_mm, to_z_mm) = pass.span_mm();
    let ends_mm = [from_z_mm, to_z_mm].map(|z_mm| setup.s_of_z_mm(shaft, z_mm));
    let stretch_mm = ends_mm[0].min(ends_mm[1])..=ends_mm[0].max(ends_mm[1]);
    let steps = shaft.stock_spans().chain(shaft.wanted_spans().map(|(from, to, wanted)| (from, to, &wanted.land)));
    let inner = steps.flat_map(|(from_mm, to_mm, _)| [from_mm, to_mm]).filter(|s_mm| stretch_mm.contains(s_mm));
    let diameter_mm =
        inner.chain(ends_mm).filter_map(|s_mm| job.dial_diameter_mm(setup.id, Some(pass.id), s_mm)).fold(0.0, f64::max);
    RealCut { speed_rpm, feed_mm_per_rev, cutting_speed_m_per_min: cutting_speed_m_per_min(diameter_mm, speed_rpm) }
}

/// The speed the gearbox gives for a wish: a step that is nearly it ([`SAME_STEP_RATIO`]), else the next lower one, else
/// the lowest there is. Without a list every speed can be set.
#[must_use]
pub fn real_speed_rpm(lathe: &Lathe, wanted_rpm: f64) -> f64 {
    let steps = &lathe.speeds_rpm;
    same_step(steps, wanted_rpm)
        .or_else(|| steps.iter().copied().filter(|step| *step <= wanted_rpm).reduce(f64::max))
        .or_else(|| steps.iter().copied().reduce(f64::min))
        .unwrap_or(wanted_rpm)
}

/// The feed the feed box gives for a wish: the nearest, in proportion. Without a list every feed can be set.
#[must_use]
pub fn real_feed_mm_per_rev(lathe: &Lathe, wanted_mm_per_rev: f64) -> f64 {
    nearest(&lathe.feeds_mm_per_rev, wanted_mm_per_rev).unwrap_or(wanted_mm_per_rev)
}

/// The gearbox has this speed, or any.
#[must_use]
pub fn has_speed(lathe: &Lathe, speed_rpm: f64) -> bool {
    lathe.speeds_rpm.is_empty() || same_step(&lathe.speeds_rpm, speed_rpm).is_some()
}

/// The feed box has this feed, or any.
#[must_use]
pub fn has_feed(lathe: &Lathe, feed_mm_per_rev: f64) -> bool {
    lathe.feeds_mm_per_rev.is_empty() || same_step(&lathe.feeds_mm_per_rev, feed_mm_per_rev).is_some()
}

fn apart_ratio(a: f64, b: f64) -> f64 {
    (a / b).max(b / a)
}

fn nearest(steps: &[f64], wanted: f64) -> Option<f64> {
    steps.iter().copied().min_by(|a, b| apart_ratio(*a, wanted).total_cmp(&apart_ratio(*b, wanted)))
}

fn same_step(steps: &[f64], wanted: f64) -> Option<f64> {
    nearest(steps, wanted).filter(|step| apart_ratio(*step, wanted) < SAME_STEP_RATIO)
}
