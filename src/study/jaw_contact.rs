//! What every jaw of a rest or follower feels: pressure, rubbing, pressure times speed, friction and heat.
//!
//! Forces are the study's; the line under a tip is that of [`crate::mechanics::hertz`], the mean that of a pad as long
//! as the lathe says around the work. Where the line would be wider than the tip, the tip bears all over and only its
//! mean pressure is told. A sleeve (cat head, bush) is taken as steel.
//! Limit: tips that are smooth, in line with the work and oiled; a fresh flat tip wears to fit and presses less.

use super::holding::follower_reach_mm;
use super::results::{PassResult, Reaction, Shape, Support};
use crate::job::{Follower, FollowerSide, Job, Pass, Rest, Setup, Sleeve, TipKind};
use crate::mechanics::hertz::{Body, Face, Line, line, pad_mean_mpa};
use crate::mechanics::rubbing::{friction, speed_m_per_s};

/// What a sleeve is made of. Source: general tables for steel.
const SLEEVE: Body = Body { e_mpa: 210_000.0, poisson_ratio: 0.30 };

/// What one jaw feels with the tool at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JawContact {
    pub support: Support,
    pub force_n: f64,
    /// What it runs on, by the dial; the sleeve's diameter where there is one.
    pub diameter_mm: f64,
    /// Half the width of the line on which it bears; nothing where the tip lies round the work.
    pub half_width_mm: Option<f64>,
    /// Largest pressure on that line.
    pub peak_mpa: Option<f64>,
    /// Pressure averaged over the pad; for a roller over its line.
    pub mean_mpa: f64,
    /// Speed of the surface under it; a roller goes along with it.
    pub rubbing_m_per_s: f64,
    /// Mean pressure times speed; nothing for a roller, which does not rub.
    pub pv_mpa_m_per_s: Option<f64>,
    /// What to work with for the tip's material, half of what it is listed for; nothing where no figure is known.
    pub pv_limit_mpa_m_per_s: Option<f64>,
    /// Drag along the surface.
    pub friction_n: f64,
    /// Drag about the axis.
    pub torque_nmm: f64,
    pub heat_w: f64,
}

impl JawContact {
    /// Pressure times speed against what to work with; nothing where either is not known.
    #[must_use]
    pub fn pv_used_ratio(&self) -> Option<f64> {
        Some(self.pv_mpa_m_per_s? / self.pv_limit_mpa_m_per_s?)
    }
}

/// The tip of a jaw and what it runs on.
struct Under {
    tip: TipKind,
    bored_mm: Option<f64>,
    diameter_mm: f64,
    work: Body,
    /// Of the tip that bears, along the work.
    length_mm: f64,
}

/// Every jaw with the tool at a station of a pass, in the order of the columns.
#[must_use]
pub fn at_station(job: &Job, setup: &Setup, pass: &Pass, result: &PassResult, station: usize) -> Vec<JawContact> {
    let Some(at) = result.stations.get(station) else { return Vec::new() };
    let reactions = result.supports.iter().zip(result.forces_at(station));
    let reactions = reactions.map(|(support, force_n)| Reaction { support: *support, force_n: *force_n });
    of_reactions(job, setup, Some(pass), Some(at.z_mm), reactions)
}

/// Every jaw of the work as it is drawn, in the order of the reactions; with no pass the spindle stands.
#[must_use]
pub fn of_shape(job: &Job, setup: &Setup, pass: Option<&Pass>, shape: &Shape) -> Vec<JawContact> {
    of_reactions(job, setup, pass, shape.cut.map(|cut| cut.z_mm), shape.reactions.iter().copied())
}

/// Every jaw at its hardest place of a pass, with the tool's place there; in the order of the columns.
#[must_use]
pub fn hardest(job: &Job, setup: &Setup, pass: &Pass, result: &PassResult) -> Vec<(f64, JawContact)> {
    (result.supports.iter().enumerate())
        .filter_map(|(column, support)| {
            let force_n = |station: usize| result.forces_at(station)[column];
            let station = (0..result.stations.len()).max_by(|a, b| force_n(*a).total_cmp(&force_n(*b)))?;
            let z_mm = result.stations[station].z_mm;
            let under = under(job, setup, Some(pass), Some(z_mm), *support)?;
            Some((z_mm, contact(job, &under, *support, force_n(station), pass.speed_rpm)))
        })
        .collect()
}

fn of_reactions(
    job: &Job,
    setup: &Setup,
    pass: Option<&Pass>,
    tool_z_mm: Option<f64>,
    reactions: impl Iterator<Item = Reaction>,
) -> Vec<JawContact> {
    let speed_rpm = pass.map_or(0.0, |pass| pass.speed_rpm);
    reactions
        .filter_map(|reaction| {
            let under = under(job, setup, pass, tool_z_mm, reaction.support)?;
            Some(contact(job, &under, reaction.support, reaction.force_n, speed_rpm))
        })
        .collect()
}

fn contact(job: &Job, under: &Under, support: Support, force_n: f64, speed_rpm: f64) -> JawContact {
    let force_n = force_n.max(0.0);
    let figures = under.tip.figures();
    let tip = Body { e_mpa: figures.e_mpa.value, poisson_ratio: figures.poisson_ratio.value };
    let is_roller = under.tip == TipKind::Roller;
    let around_mm = job.lathe.pad_length_mm.value;
    let face = match under.bored_mm {
        _ if is_roller => Face::Round { diameter_mm: job.lathe.roller_diameter_mm.value },
        Some(diameter_mm) => Face::Hollow { diameter_mm },
        None => Face::Flat,
    };
    let bears_on = line(force_n, under.length_mm, under.diameter_mm, face, under.work, tip)
        .filter(|line| is_roller || 2.0 * line.half_width_mm <= around_mm.min(under.diameter_mm));
    let mean_mpa = match bears_on {
        Some(line) if is_roller => line.mean_mpa(),
        _ => pad_mean_mpa(force_n, under.length_mm, around_mm, under.diameter_mm),
    };
    let rubbing_m_per_s = speed_m_per_s(under.diameter_mm, speed_rpm);
    let drag = friction(force_n, under.tip.friction_ratio(), under.diameter_mm, speed_rpm);
    JawContact {
        support,
        force_n,
        diameter_mm: under.diameter_mm,
        half_width_mm: bears_on.map(|line: Line| line.half_width_mm),
        peak_mpa: bears_on.map(|line| line.peak_mpa),
        mean_mpa,
        rubbing_m_per_s,
        pv_mpa_m_per_s: (!is_roller).then_some(mean_mpa * rubbing_m_per_s),
        pv_limit_mpa_m_per_s: under.tip.design_pv_mpa_m_per_s(),
        friction_n: drag.force_n,
        torque_nmm: drag.torque_nmm,
        heat_w: drag.heat_w,
    }
}

/// What a jaw runs on; nothing for a chuck or a centre, and where there is no work.
fn under(job: &Job, setup: &Setup, pass: Option<&Pass>, tool_z_mm: Option<f64>, support: Support) -> Option<Under> {
    match support {
        Support::Jaw { rest, .. } => under_rest(job, setup, pass, setup.rest(rest)?),
        Support::FollowerJaw { .. } => under_follower(job, setup, pass?, tool_z_mm?, setup.follower.as_ref()?),
        Support::DriveX | Support::DriveY | Support::TailX | Support::TailY => None,
    }
}

fn under_rest(job: &Job, setup: &Setup, pass: Option<&Pass>, rest: &Rest) -> Option<Under> {
    let width_mm = job.lathe.rest_jaw_width_mm.value;
    let (diameter_mm, work, length_mm) = match rest.sleeve {
        Sleeve::CatHead { diameter_mm, width_mm: sleeve_mm } | Sleeve::Bush { diameter_mm, width_mm: sleeve_mm } => {
            (diameter_mm, SLEEVE, width_mm.min(sleeve_mm))
        }
        Sleeve::None => {
            let s_mm = setup.s_of_z_mm(&job.shaft, rest.z_mm);
            let diameter_mm = match pass {
                Some(pass) => job.dial_diameter_mm(setup.id, Some(pass.id), s_mm),
                None => job.dial_diameter_into_mm(setup.id, s_mm),
            };
            (diameter_mm?, work_body(job), width_mm)
        }
    };
    Some(Under { tip: rest.tip, bored_mm: rest.tip_bored_mm, diameter_mm, work, length_mm })
}

/// The fresh diameter behind the tool, the old one ahead of it; where its jaws are off the work, that at the tool.
fn under_follower(job: &Job, setup: &Setup, pass: &Pass, tool_z_mm: f64, follower: &Follower) -> Option<Under> {
    let reach_mm = follower_reach_mm(setup, pass.feeds_to_headstock())?;
    let diameter_at = |z_mm: f64| {
        let s_mm = setup.s_of_z_mm(&job.shaft, z_mm);
        let before_mm = job.dial_diameter_mm(setup.id, Some(pass.id), s_mm)?;
        Some(match follower.side {
            FollowerSide::Ahead => before_mm,
            FollowerSide::Behind => job.dial_after_mm(setup, pass, s_mm, before_mm),
        })
    };
    Some(Under {
        tip: follower.tip,
        bored_mm: follower.tip_bored_mm,
        diameter_mm: diameter_at(tool_z_mm + reach_mm).or_else(|| diameter_at(tool_z_mm))?,
        work: work_body(job),
        length_mm: job.lathe.rest_jaw_width_mm.value,
    })
}

fn work_body(job: &Job) -> Body {
    let material = job.material();
    Body { e_mpa: material.e_mpa.value, poisson_ratio: material.poisson_ratio.value }
}
