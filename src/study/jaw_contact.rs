//! What every jaw of a rest or follower feels: pressure, rubbing, pressure times speed, friction and heat.
//!
//! Forces are the study's; the line under a tip is that of [`crate::mechanics::hertz`], the mean that of a pad as long
//! as the lathe says around the work. Where the line would be wider than the tip, the tip bears all over and only its
//! mean pressure is told. A sleeve (cat head, bush) is taken as steel.
//! Limit: tips that are smooth, in line with the work and oiled; a fresh flat tip wears to fit and presses less.

use super::results::{PassResult, Shape, Station, Support};
use crate::job::{FollowerSide, Job, Pass, Rest, Setup, Sleeve, TipKind};
use crate::mechanics::hertz::{Body, Face, line, pad_mean_mpa};
use crate::mechanics::rubbing::{friction, speed_m_per_s};

/// What a sleeve is made of. Source: general tables for steel.
const SLEEVE: Body = Body { e_mpa: 210_000.0, poisson_ratio: 0.30 };

/// What one jaw feels with the tool at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JawContact {
    pub support: Support,
    pub tip: TipKind,
    /// A cat head or a bush is between tip and work.
    pub on_sleeve: bool,
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

/// The jaws of a pass, or of the standing work, ready to be asked at any place of the tool.
#[derive(Clone, Debug)]
pub struct PassJaws {
    /// One for each column: nothing for a chuck or a centre.
    columns: Vec<(Support, Option<Tip>)>,
    /// Length of a pad around the work.
    around_mm: f64,
    roller_diameter_mm: f64,
    speed_rpm: f64,
}

/// The tip of a jaw and what it runs on.
#[derive(Clone, Copy, Debug)]
struct Tip {
    kind: TipKind,
    bored_mm: Option<f64>,
    on_sleeve: bool,
    runs_on: RunsOn,
    work: Body,
    /// Of the tip that bears, along the work.
    length_mm: f64,
}

#[derive(Clone, Copy, Debug)]
enum RunsOn {
    Diameter(f64),
    /// The diameter at the tool before the cut, or after it by the dial; a jaw's distance off a step it is another.
    OldAtTool,
    FreshAtTool,
}

impl RunsOn {
    fn diameter_mm(self, at: Option<&Station>) -> Option<f64> {
        match self {
            Self::Diameter(diameter_mm) => Some(diameter_mm),
            Self::OldAtTool => Some(at?.old_diameter_mm),
            Self::FreshAtTool => Some(at?.wanted_diameter_mm.min(at?.old_diameter_mm)),
        }
    }
}

impl PassJaws {
    /// The jaws behind these supports; with no pass the spindle stands and the work is as it comes in.
    #[must_use]
    pub fn new(job: &Job, setup: &Setup, pass: Option<&Pass>, supports: impl Iterator<Item = Support>) -> Self {
        let material = job.material();
        let work = Body { e_mpa: material.e_mpa.value, poisson_ratio: material.poisson_ratio.value };
        let tip = |support: Support| match support {
            Support::Jaw { rest, .. } => of_rest(job, setup, pass, setup.rest(rest)?, work),
            Support::FollowerJaw { .. } => {
                let follower = setup.follower.as_ref()?;
                Some(Tip {
                    kind: follower.tip,
                    bored_mm: follower.tip_bored_mm,
                    on_sleeve: false,
                    runs_on: match follower.side {
                        FollowerSide::Ahead => RunsOn::OldAtTool,
                        FollowerSide::Behind => RunsOn::FreshAtTool,
                    },
                    work,
                    length_mm: job.lathe.rest_jaw_width_mm.value,
                })
            }
            Support::DriveX | Support::DriveY | Support::TailX | Support::TailY => None,
        };
        Self {
            columns: supports.map(|support| (support, tip(support))).collect(),
            around_mm: job.lathe.pad_length_mm.value,
            roller_diameter_mm: job.lathe.roller_diameter_mm.value,
            speed_rpm: pass.map_or(0.0, |pass| pass.speed_rpm),
        }
    }

    /// Every jaw under these forces, one for each column, with the tool at `at` (drawn back for `None`).
    #[must_use]
    pub fn at(&self, at: Option<&Station>, forces_n: &[f64]) -> Vec<JawContact> {
        (0..self.columns.len()).filter_map(|column| self.contact(column, at, forces_n[column])).collect()
    }

    /// What the jaw of a column runs on with the tool at a station; nothing for a chuck or a centre.
    #[must_use]
    pub fn diameter_mm(&self, column: usize, at: &Station) -> Option<f64> {
        self.columns.get(column)?.1?.runs_on.diameter_mm(Some(at))
    }

    /// The drag of all jaws about the axis.
    #[must_use]
    pub fn friction_torque_nmm(&self, at: &Station, forces_n: &[f64]) -> f64 {
        self.columns.iter().zip(forces_n).fold(0.0, |sum_nmm, ((_, tip), force_n)| {
            let of_jaw = |tip: &Tip| Some((tip.kind.friction_ratio(), tip.runs_on.diameter_mm(Some(at))?));
            let torque_nmm = tip.as_ref().and_then(of_jaw).map_or(0.0, |(friction_ratio, diameter_mm)| {
                friction(*force_n, friction_ratio, diameter_mm, self.speed_rpm).torque_nmm
            });
            sum_nmm + torque_nmm
        })
    }

    fn contact(&self, column: usize, at: Option<&Station>, force_n: f64) -> Option<JawContact> {
        let (support, tip) = self.columns[column];
        let tip = tip?;
        let diameter_mm = tip.runs_on.diameter_mm(at)?;
        let force_n = force_n.max(0.0);
        let figures = tip.kind.figures();
        let body = Body { e_mpa: figures.e_mpa.value, poisson_ratio: figures.poisson_ratio.value };
        let is_roller = tip.kind == TipKind::Roller;
        let face = match tip.bored_mm {
            _ if is_roller => Face::Round { diameter_mm: self.roller_diameter_mm },
            Some(diameter_mm) => Face::Hollow { diameter_mm },
            None => Face::Flat,
        };
        let bears_on = line(force_n, tip.length_mm, diameter_mm, face, tip.work, body)
            .filter(|line| is_roller || 2.0 * line.half_width_mm <= self.around_mm.min(diameter_mm));
        let mean_mpa = match bears_on {
            Some(line) if is_roller => line.mean_mpa(),
            _ => pad_mean_mpa(force_n, tip.length_mm, self.around_mm, diameter_mm),
        };
        let rubbing_m_per_s = speed_m_per_s(diameter_mm, self.speed_rpm);
        let drag = friction(force_n, tip.kind.friction_ratio(), diameter_mm, self.speed_rpm);
        Some(JawContact {
            support,
            tip: tip.kind,
            on_sleeve: tip.on_sleeve,
            force_n,
            diameter_mm,
            half_width_mm: bears_on.map(|line| line.half_width_mm),
            peak_mpa: bears_on.map(|line| line.peak_mpa),
            mean_mpa,
            rubbing_m_per_s,
            pv_mpa_m_per_s: (!is_roller).then_some(mean_mpa * rubbing_m_per_s),
            pv_limit_mpa_m_per_s: tip.kind.design_pv_mpa_m_per_s(),
            friction_n: drag.force_n,
            torque_nmm: drag.torque_nmm,
            heat_w: drag.heat_w,
        })
    }
}

/// The tip of a steady; nothing where there is no work under it.
fn of_rest(job: &Job, setup: &Setup, pass: Option<&Pass>, rest: &Rest, work: Body) -> Option<Tip> {
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
            (diameter_mm?, work, width_mm)
        }
    };
    Some(Tip {
        kind: rest.tip,
        bored_mm: rest.tip_bored_mm,
        on_sleeve: rest.sleeve != Sleeve::None,
        runs_on: RunsOn::Diameter(diameter_mm),
        work,
        length_mm,
    })
}

/// Every jaw of the work as it is drawn, in the order of the reactions; with no pass the spindle stands. A follower
/// whose tool is drawn back is left out.
#[must_use]
pub fn of_shape(job: &Job, setup: &Setup, pass: Option<&Pass>, shape: &Shape) -> Vec<JawContact> {
    let jaws = PassJaws::new(job, setup, pass, shape.reactions.iter().map(|reaction| reaction.support));
    let forces_n: Vec<f64> = shape.reactions.iter().map(|reaction| reaction.force_n).collect();
    jaws.at(shape.cut.as_ref(), &forces_n)
}

/// Every jaw at its hardest place of a pass, with the tool's place there; in the order of the columns.
#[must_use]
pub fn hardest(job: &Job, setup: &Setup, pass: &Pass, result: &PassResult) -> Vec<(f64, JawContact)> {
    let jaws = PassJaws::new(job, setup, Some(pass), result.supports.iter().copied());
    (0..result.supports.len())
        .filter_map(|column| {
            let force_n = |station: usize| result.forces_at(station)[column];
            let station = (0..result.stations.len()).max_by(|a, b| force_n(*a).total_cmp(&force_n(*b)))?;
            let at = &result.stations[station];
            Some((at.z_mm, jaws.contact(column, Some(at), force_n(station))?))
        })
        .collect()
}
