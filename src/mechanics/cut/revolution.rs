//! One turn of the work at one place of the tool, for bends that turn with it.
//!
//! What turns with the work (a bent bar, an off-true grip, an off-centre hole, a lobed spot) moves the places where tool
//! and jaws meet it round and round. Angle after angle the contact and the cut are solved as for work that stands still;
//! every angle cuts another side of the work. The radius so left, measured from the middle of the section, is taken
//! apart into its mean (size), its first wave (the fresh surface's centre: run-out) and the rest (roundness).
//!
//! Source: first wave by least squares, the usual least-squares circle of roundness measurement (from memory).
//! Limit: the work turns slowly (no inertia), and what one turn leaves is not felt by the next.

use std::f64::consts::TAU;

use super::{AtTool, JawAt, Law, ToolAt, Workbench};

/// What turns with the work at a place of the tool, as it lies at angle 0: away, up.
#[derive(Clone, Copy, Debug)]
pub struct Turn<'a> {
    /// The middle of the section under the tool, with no jaw touching and no cut, off where still work would lie.
    pub tool_mm: [f64; 2],
    /// The same for the surface under each jaw.
    pub jaws_mm: &'a [[f64; 2]],
    /// Lobes of the surface under each jaw: how many, and their half height.
    pub lobes: &'a [(f64, f64)],
    /// Centre of the old surface under the tool, off the middle of the section.
    pub old_off_mm: [f64; 2],
    pub n_angles: usize,
}

/// What a turn leaves.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Revolution {
    /// Centre of the fresh surface, off the middle of the section, as it lies at angle 0: away, up.
    pub off_mm: [f64; 2],
    /// From the lowest to the highest place round the least-squares circle.
    pub roundness_mm: f64,
    /// False where a search was stopped at its limit at any angle.
    pub solved: bool,
}

/// A vector that turns with the work, at an angle given by its cosine and sine.
fn turned(vector: [f64; 2], [cosine, sine]: [f64; 2]) -> [f64; 2] {
    [vector[0] * cosine - vector[1] * sine, vector[0] * sine + vector[1] * cosine]
}

/// Centre and radius of the least-squares circle through places all round: a few Gauss-Newton steps from the middle.
#[must_use]
pub fn circle_through(places_mm: &[[f64; 2]]) -> ([f64; 2], f64) {
    let share = 1.0 / places_mm.len() as f64;
    let (mut centre, mut mean_mm) = ([0.0; 2], 0.0);
    for _ in 0..4 {
        mean_mm = places_mm.iter().map(|place| (place[0] - centre[0]).hypot(place[1] - centre[1])).sum::<f64>() * share;
        let wave = first_wave(places_mm, centre, mean_mm);
        centre = [centre[0] + wave[0], centre[1] + wave[1]];
    }
    (centre, mean_mm)
}

/// First wave of the radii about a centre.
fn first_wave(places_mm: &[[f64; 2]], centre: [f64; 2], mean_mm: f64) -> [f64; 2] {
    let share = 2.0 / places_mm.len() as f64;
    places_mm.iter().fold([0.0; 2], |sum, place| {
        let arm = [place[0] - centre[0], place[1] - centre[1]];
        let radius_mm = arm[0].hypot(arm[1]).max(f64::MIN_POSITIVE);
        let over_mm = (radius_mm - mean_mm) * share / radius_mm;
        [sum[0] + over_mm * arm[0], sum[1] + over_mm * arm[1]]
    })
}

/// From the lowest to the highest of values taken evenly round a turn, the tops and bottoms between them found by a
/// parabola through three neighbours.
#[must_use]
pub fn range_mm(values_mm: &[f64]) -> f64 {
    let n = values_mm.len();
    let peak = |sign: f64| {
        let at = |index: usize| sign * values_mm[index % n];
        let top = (0..n).max_by(|a, b| at(*a).total_cmp(&at(*b))).unwrap_or(0);
        let (before, here, after) = (at(top + n - 1), at(top), at(top + 1));
        let bend = before - 2.0 * here + after;
        if bend < 0.0 { here - (after - before) * (after - before) / (8.0 * bend) } else { here }
    };
    if n < 3 { 0.0 } else { peak(1.0) + peak(-1.0) }
}

impl Workbench {
    /// One turn of the work. Call after [`Workbench::solve`] of the same place, whose contact set it starts from and
    /// whose forces it leaves changed.
    pub fn revolve(
        &mut self,
        at_tool: &AtTool,
        jaws: &[JawAt],
        (tool, law): (&ToolAt, &Law),
        start_depth_mm: f64,
        turn: &Turn<'_>,
    ) -> Revolution {
        let still = self.still();
        let mut places_mm = Vec::with_capacity(turn.n_angles);
        let mut solved = true;
        let mut start_depth_mm = start_depth_mm;
        for step in 0..turn.n_angles {
            let angle_rad = TAU * step as f64 / turn.n_angles as f64;
            self.turn_to(angle_rad, at_tool, jaws, turn, &still);
            let facing = [angle_rad.cos(), angle_rad.sin()];
            let old_off = turned(turn.old_off_mm, facing);
            let here = ToolAt { old_radius_mm: tool.old_radius_mm - tool.side * old_off[0], ..*tool };
            let state = self.settle(at_tool, jaws, Some((&here, law)), start_depth_mm);
            start_depth_mm = state.depth_mm;
            solved &= state.solved;
            // From the middle of the section to the tip; where nothing is cut, to the old surface that faces the tool.
            let radius_mm = state.radius_left_mm;
            let up_mm = if state.depth_mm > 0.0 { -state.spring_mm[1] } else { 0.0 };
            let across_mm = -tool.side * (radius_mm * radius_mm - up_mm * up_mm).max(0.0).sqrt();
            places_mm.push(turned([across_mm, up_mm], [facing[0], -facing[1]]));
        }
        self.lie_still(at_tool, &still);
        let (off_mm, mean_mm) = circle_through(&places_mm);
        let radii_mm: Vec<f64> =
            places_mm.iter().map(|place| (place[0] - off_mm[0]).hypot(place[1] - off_mm[1])).collect();
        self.turn_mm.clear();
        self.turn_mm.extend(places_mm.iter().map(|place| (place[1].atan2(place[0]), place[0].hypot(place[1]))));
        self.out_mm.clear();
        self.out_mm.extend(radii_mm.iter().map(|radius_mm| radius_mm - mean_mm));
        Revolution { off_mm, roundness_mm: range_mm(&radii_mm), solved }
    }

    /// Where the middle of the section at the tool goes in one turn, tool drawn back: a place for every angle. Call after
    /// [`Workbench::solve`] of the same place.
    pub fn idle_turn(&mut self, at_tool: &AtTool, jaws: &[JawAt], turn: &Turn<'_>) -> Vec<[f64; 2]> {
        let still = self.still();
        let mut path_mm = Vec::with_capacity(turn.n_angles);
        for step in 0..turn.n_angles {
            self.turn_to(TAU * step as f64 / turn.n_angles as f64, at_tool, jaws, turn, &still);
            path_mm.push(self.settle(at_tool, jaws, None, 0.0).spring_mm);
        }
        self.lie_still(at_tool, &still);
        path_mm
    }

    /// What presses each jaw in with the work as it would lie still.
    fn still(&self) -> Vec<f64> {
        self.pressed.iter().map(|line| line[0]).collect()
    }

    fn lie_still(&mut self, at_tool: &AtTool, still: &[f64]) {
        self.free_mm = at_tool.free_mm;
        for (line, still) in self.pressed.iter_mut().zip(still) {
            line[0] = *still;
        }
    }

    /// Turns the work by an angle.
    fn turn_to(&mut self, angle_rad: f64, at_tool: &AtTool, jaws: &[JawAt], turn: &Turn<'_>, still: &[f64]) {
        let facing = [angle_rad.cos(), angle_rad.sin()];
        let moved = turned(turn.tool_mm, facing);
        self.free_mm = [at_tool.free_mm[0] + moved[0], at_tool.free_mm[1] + moved[1]];
        for (index, jaw) in jaws.iter().enumerate() {
            let moved = turned(turn.jaws_mm[index], facing);
            let (n_lobes, half_mm) = turn.lobes[index];
            let lobe_mm = if half_mm > 0.0 {
                let jaw_rad = jaw.direction[1].atan2(jaw.direction[0]);
                half_mm * (n_lobes * (jaw_rad - angle_rad)).cos()
            } else {
                0.0
            };
            self.pressed[index][0] = still[index] + jaw.direction[0] * moved[0] + jaw.direction[1] * moved[1] + lobe_mm;
        }
    }
}
