//! A jaw that rubs on turning work: how fast, how hard for its speed, what it takes from the spindle and how warm it gets.
//!
//! `v = pi d n`, `p v` against the figure a bearing material is listed for, friction `mu F`, its moment `mu F d / 2`,
//! its heat `mu F v`. Source: plain-bearing practice (Mott, Machine Elements in Mechanical Design).
//! Limit: one friction figure for all; a dry or scored tip has several times that of an oiled one.

use std::f64::consts::PI;

/// Speed of a surface of this diameter, in m/s.
#[must_use]
pub fn speed_m_per_s(diameter_mm: f64, speed_rpm: f64) -> f64 {
    PI * diameter_mm * speed_rpm / 60_000.0
}

/// What a rubbing jaw costs.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Friction {
    /// Along the surface, against its motion.
    pub force_n: f64,
    /// About the work's axis.
    pub torque_nmm: f64,
    /// Power turned into heat, in W.
    pub heat_w: f64,
}

/// Friction of a jaw pressed with `pressed_n` on work of `diameter_mm` at `speed_rpm`.
#[must_use]
pub fn friction(pressed_n: f64, friction_ratio: f64, diameter_mm: f64, speed_rpm: f64) -> Friction {
    let force_n = friction_ratio * pressed_n.max(0.0);
    Friction {
        force_n,
        torque_nmm: force_n * diameter_mm / 2.0,
        heat_w: force_n * speed_m_per_s(diameter_mm, speed_rpm),
    }
}

/// Power of a moment at a spindle speed, in W.
#[must_use]
pub fn power_w(torque_nmm: f64, speed_rpm: f64) -> f64 {
    torque_nmm / 1000.0 * speed_rpm * 2.0 * PI / 60.0
}

/// Moment that a power turns a spindle with.
#[must_use]
pub fn torque_nmm(power_w: f64, speed_rpm: f64) -> f64 {
    power_w / (speed_rpm * 2.0 * PI / 60.0) * 1000.0
}
