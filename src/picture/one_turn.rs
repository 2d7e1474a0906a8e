//! One turn of the work at the tool: the surface the tool leaves, drawn much larger off its circle than it is.
//!
//! The surface is taken apart as roundness is measured: the least-squares circle (dashed), off the middle of the section by
//! the first wave, and what is left round it. Both are drawn `times` larger on a circle of the true radius, so a true
//! circle stays a circle. Source: least-squares circle of roundness measurement (from memory).

use super::shapes::{arrow, words};
use super::{Align, Bounds, Fill, Item, Line, Path, Picture, Role, Stand, TextSize, at};

/// What one turn left.
#[derive(Clone, Debug, PartialEq)]
pub struct TurnScene {
    /// Mean of the radius.
    pub radius_mm: f64,
    /// Middle of the least-squares circle off the middle of the section: right, up, with the mark at the right.
    pub off_mm: [f64; 2],
    /// Side of the work (rad, from the right upwards) and what stands out of the least-squares circle there, all round.
    pub out_mm: Vec<(f64, f64)>,
}

impl TurnScene {
    /// From sides and radii round the middle of the section; nothing for fewer than three.
    #[must_use]
    pub fn of(turn_mm: &[(f64, f64)]) -> Option<Self> {
        if turn_mm.len() < 3 {
            return None;
        }
        let share = 1.0 / turn_mm.len() as f64;
        let radius_mm = turn_mm.iter().map(|(_, radius_mm)| radius_mm).sum::<f64>() * share;
        let wave = |part: fn(f64) -> f64| {
            turn_mm.iter().map(|(side_rad, here_mm)| (here_mm - radius_mm) * part(*side_rad)).sum::<f64>() * 2.0 * share
        };
        let off_mm = [wave(f64::cos), wave(f64::sin)];
        let out = |(side_rad, here_mm): &(f64, f64)| {
            (*side_rad, here_mm - radius_mm - off_mm[0] * side_rad.cos() - off_mm[1] * side_rad.sin())
        };
        Some(Self { radius_mm, off_mm, out_mm: turn_mm.iter().map(out).collect() })
    }

    /// Largest distance that is drawn larger, for choosing by how much.
    #[must_use]
    pub fn largest_mm(&self) -> f64 {
        let out_mm = self.out_mm.iter().map(|(_, out_mm)| out_mm.abs()).fold(0.0, f64::max);
        out_mm.max(self.off_mm[0].hypot(self.off_mm[1]))
    }
}

/// The picture, with what is off and out `times` larger.
#[must_use]
pub fn one_turn(scene: &TurnScene, times: f64) -> Picture {
    let r = scene.radius_mm;
    let middle = at(times * scene.off_mm[0], times * scene.off_mm[1]);
    let mut items: Vec<Item> = Vec::new();
    for (right, up) in [(1.5 * r, 0.0), (0.0, 1.5 * r)] {
        items.push(Path::segment(at(-right, -up), at(right, up), Role::CentreLine).lined(Line::Chain).into());
    }
    let mut sides = scene.out_mm.clone();
    sides.sort_by(|a, b| a.0.total_cmp(&b.0));
    let trace = sides.iter().map(|(side_rad, out_mm)| {
        let here = r + times * out_mm;
        at(middle.right_mm + here * side_rad.cos(), middle.up_mm + here * side_rad.sin())
    });
    let outline = Path::outline(trace, Role::RunOut);
    let ground = Path { role: Role::Fresh, ..outline.clone() };
    items.push(ground.lined(None).filled(Fill::Soft).into());
    items.push(Path::circle(middle, r, Role::Faint).lined(Line::Dashed).into());
    items.push(outline.lined(Line::Thick).into());
    items.extend(arrow(at(0.0, 0.0), middle, 0.14 * r, Role::RunOut));
    // The mark from which sides of the work are counted.
    items.push(Path::segment(at(1.55 * r, 0.0), at(1.7 * r, 0.0), Role::Text).lined(Line::Thick).into());
    items
        .push(words(at(1.62 * r, -0.08 * r), Align::Centre, Stand::Below, TextSize::Small, Role::Faint, "mark").into());
    let half = 1.85 * r;
    Picture { bounds: Bounds { left_mm: -half, right_mm: half, bottom_mm: -1.5 * r, top_mm: 1.5 * r }, items }
}
