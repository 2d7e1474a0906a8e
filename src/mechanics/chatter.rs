//! Chatter of a single edge: the chip width at which a wave left by one turn feeds the next, and the speeds that matter.
//!
//! A chip `h` thick and `b` wide pushes with `F = K b h` in a fixed direction; the work moves across the edge by `G F`,
//! where `G` is the receptance turned into these directions, and the chip is as much thinner now as it was thicker one
//! turn ago. The largest width that dies out at every speed is `b = -1/(2 K min Re G)`. At a frequency `f` with
//! `Re G < 0` the limit is met at `n = 60 f/(k + ε/2π)`, `ε = 3π + 2ψ`, ψ the angle of `G`, for k = 0, 1, 2 whole waves.
//!
//! Source: Y. Altintas, Manufacturing Automation, 2nd ed. (from memory), after S. A. Tobias and J. Tlusty. Limits: a
//! straight line in `h` (no edge ploughing, which steadies slow cutting), the work alone swings (carriage and tool are
//! rigid), stated damping. What comes out is an estimate; neither a depth below it nor a speed is promised to be quiet.

use std::f64::consts::PI;

use super::number::Complex;
use super::receptance::Receptance;

/// How force and chip stand to the work, per unit of main force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Orientation {
    /// Force on the work for a main force of 1: away, up.
    pub force_ratio: [f64; 2],
    /// Moment in the horizontal plane for a main force of 1.
    pub moment_mm: f64,
    /// Across the edge: how the chip thins for a move of 1 away, and for one of 1 up.
    pub normal_ratio: [f64; 2],
}

impl Orientation {
    /// Turning along the work, which cannot give along its axis: `chord_angle_rad` is that of the engaged edge to the
    /// feed, `thrust_ratio` the thrust in the horizontal plane against the main force, `side` +1 for a tool at the front
    /// and -1 at the rear, `feed_lever_mm` the moment per unit feed force.
    #[must_use]
    pub fn turning(side: f64, chord_angle_rad: f64, thrust_ratio: f64, feed_lever_mm: f64) -> Self {
        let (sine, cosine) = chord_angle_rad.sin_cos();
        Self {
            force_ratio: [side * thrust_ratio * cosine, side],
            moment_mm: feed_lever_mm * thrust_ratio * sine,
            normal_ratio: [side * cosine, 0.0],
        }
    }

    /// The receptance across the edge per unit of main force.
    #[must_use]
    pub fn receptance(&self, work: &Receptance) -> Complex {
        let part = |of: fn(&Complex) -> f64| {
            let [away, up] = self.force_ratio;
            let x = away * of(&work.xx) + up * of(&work.xy) + self.moment_mm * of(&work.x_per_moment);
            let y = away * of(&work.xy) + up * of(&work.yy) + self.moment_mm * of(&work.y_per_moment);
            self.normal_ratio[0] * x + self.normal_ratio[1] * y
        };
        Complex { re: part(|value| value.re), im: part(|value| value.im) }
    }
}

/// The receptance across the edge at a frequency, mm/N.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Response {
    pub frequency_hz: f64,
    pub receptance: Complex,
}

/// Where a cut is at the edge of chatter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// Width of chip along the edge.
    pub width_mm: f64,
    /// Frequency of the chatter.
    pub frequency_hz: f64,
}

/// Steps of frequency that differ by no more lie about evenly.
const EVEN_RATIO: f64 = 3.0;

/// The chip width up to which waves die out at every speed, for `kc_mpa` of main force per area of chip and responses
/// rising in frequency; `None` where none has a negative real part.
///
/// Between frequencies the real part is taken as a parabola where three of them lie about evenly: across a gap, as from
/// the last that was asked of one swing to the first of the next, it is not known.
#[must_use]
pub fn limit(kc_mpa: f64, responses: &[Response]) -> Option<Limit> {
    let real = |index: usize| responses[index].receptance.re;
    let least = (0..responses.len()).min_by(|a, b| real(*a).total_cmp(&real(*b)))?;
    let (mut least_re, mut frequency_hz) = (real(least), responses[least].frequency_hz);
    if least > 0 && least + 1 < responses.len() {
        let at = |index: usize| responses[index].frequency_hz - frequency_hz;
        let (x0, x2) = (at(least - 1), at(least + 1));
        let (y0, y2) = (real(least - 1) - least_re, real(least + 1) - least_re);
        // y = p x + q x² through the two neighbours.
        let q = (y2 / x2 - y0 / x0) / (x2 - x0);
        let p = y2 / x2 - q * x2;
        if q > 0.0 && x2 < EVEN_RATIO * -x0 && -x0 < EVEN_RATIO * x2 {
            let x = (-p / (2.0 * q)).clamp(x0, x2);
            (least_re, frequency_hz) = (least_re + p * x + q * x * x, frequency_hz + x);
        }
    }
    (least_re < 0.0).then(|| Limit { width_mm: width_mm(kc_mpa, least_re), frequency_hz })
}

fn width_mm(kc_mpa: f64, re_mm_per_n: f64) -> f64 {
    -1.0 / (2.0 * kc_mpa * re_mm_per_n)
}

/// By how much of a wave one turn lags the next, `ε/2π`, from 0 to 1.
fn lag_ratio(receptance: Complex) -> f64 {
    ((3.0 * PI + 2.0 * receptance.angle_rad()) / (2.0 * PI)).rem_euclid(1.0)
}

/// A point of a lobe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LobePoint {
    pub speed_rpm: f64,
    pub limit: Limit,
}

/// The lobe with `n_waves` whole waves on the work: a point for each response with a negative real part.
#[must_use]
pub fn lobe(kc_mpa: f64, responses: &[Response], n_waves: u32) -> Vec<LobePoint> {
    let chatters = responses.iter().filter(|response| response.receptance.re < 0.0);
    chatters
        .map(|response| LobePoint {
            speed_rpm: 60.0 * response.frequency_hz / (f64::from(n_waves) + lag_ratio(response.receptance)),
            limit: Limit { width_mm: width_mm(kc_mpa, response.receptance.re), frequency_hz: response.frequency_hz },
        })
        .collect()
}

/// The limit at one spindle speed: the lowest of all lobes there; `None` where no lobe of these responses reaches it.
#[must_use]
pub fn limit_at_speed(kc_mpa: f64, responses: &[Response], speed_rpm: f64) -> Option<Limit> {
    let mut lowest: Option<Limit> = None;
    for pair in responses.windows(2) {
        let [re0, re1] = [pair[0].receptance.re, pair[1].receptance.re];
        let lags = [lag_ratio(pair[0].receptance), lag_ratio(pair[1].receptance)];
        if re0 >= 0.0 || re1 >= 0.0 || (lags[1] - lags[0]).abs() > 0.5 {
            continue;
        }
        // Whole waves on the work, at either end of the step; a lobe passes where the number is whole.
        let waves = [0, 1].map(|end| 60.0 * pair[end].frequency_hz / speed_rpm - lags[end]);
        let (few, many) = (waves[0].min(waves[1]), waves[0].max(waves[1]));
        let mut n_waves = few.ceil().max(0.0);
        while n_waves <= many {
            let share = if many > few { (n_waves - waves[0]) / (waves[1] - waves[0]) } else { 0.0 };
            let width_mm = width_mm(kc_mpa, re0 + (re1 - re0) * share);
            if lowest.is_none_or(|limit| width_mm < limit.width_mm) {
                let frequency_hz = pair[0].frequency_hz + (pair[1].frequency_hz - pair[0].frequency_hz) * share;
                lowest = Some(Limit { width_mm, frequency_hz });
            }
            n_waves += 1.0;
        }
    }
    lowest
}
