//! One turn of the work at the tool: the surface the tool leaves, drawn as roundness is measured.
//!
//! Centred on its least-squares circle (dashed, true to scale), with what stands out of it or back `times` larger. Source:
//! least-squares circle of roundness measurement (from memory).

use super::shapes::words;
use super::{Align, Bounds, Fill, Item, Line, Path, Picture, Role, Stand, TextSize, at};
use crate::mechanics::cut::circle_through;

/// What one turn left.
#[derive(Clone, Debug, PartialEq)]
pub struct TurnScene {
    /// Mean of the radius.
    pub radius_mm: f64,
    /// Side of the work (rad, from the right upwards, mark at the right) and what stands out of the least-squares circle
    /// there, all round in rising order.
    pub out_mm: Vec<(f64, f64)>,
}

impl TurnScene {
    /// From sides and radii round the middle of the section, which is off the circle by little; nothing for fewer than
    /// three.
    #[must_use]
    pub fn of(turn_mm: &[(f64, f64)]) -> Option<Self> {
        if turn_mm.len() < 3 {
            return None;
        }
        let places_mm: Vec<[f64; 2]> =
            (turn_mm.iter()).map(|(side_rad, here_mm)| [here_mm * side_rad.cos(), here_mm * side_rad.sin()]).collect();
        let (centre_mm, radius_mm) = circle_through(&places_mm);
        let out = |place_mm: &[f64; 2]| {
            let arm = [place_mm[0] - centre_mm[0], place_mm[1] - centre_mm[1]];
            (arm[1].atan2(arm[0]).rem_euclid(std::f64::consts::TAU), arm[0].hypot(arm[1]) - radius_mm)
        };
        let mut out_mm: Vec<(f64, f64)> = places_mm.iter().map(out).collect();
        out_mm.sort_by(|a, b| a.0.total_cmp(&b.0));
        Some(Self { radius_mm, out_mm })
    }

    /// Largest distance that is drawn larger, for choosing by how much.
    #[must_use]
    pub fn largest_mm(&self) -> f64 {
        self.out_mm.iter().map(|(_, out_mm)| out_mm.abs()).fold(0.0, f64::max)
    }
}

/// The picture, with what is out of the circle `times` larger.
#[must_use]
pub fn one_turn(scene: &TurnScene, times: f64) -> Picture {
    let r = scene.radius_mm;
    let mut items: Vec<Item> = Vec::new();
    for (right, up) in [(1.4 * r, 0.0), (0.0, 1.4 * r)] {
        items.push(Path::segment(at(-right, -up), at(right, up), Role::CentreLine).lined(Line::Chain).into());
    }
    let trace = scene.out_mm.iter().map(|(side_rad, out_mm)| {
        let here = r + times * out_mm;
        at(here * side_rad.cos(), here * side_rad.sin())
    });
    let outline = Path::outline(trace, Role::RunOut);
    let ground = Path { role: Role::Fresh, ..outline.clone() };
    items.push(ground.lined(None).filled(Fill::Soft).into());
    items.push(Path::circle(at(0.0, 0.0), r, Role::Text).lined(Line::Dashed).into());
    items.push(outline.lined(Line::Thick).into());
    // The mark from which sides of the work are counted.
    items.push(Path::segment(at(1.45 * r, 0.0), at(1.6 * r, 0.0), Role::Text).lined(Line::Thick).into());
    items
        .push(words(at(1.52 * r, -0.08 * r), Align::Centre, Stand::Below, TextSize::Small, Role::Faint, "mark").into());
    let half = 1.5 * r;
    Picture { bounds: Bounds { left_mm: -1.75 * r, right_mm: 1.75 * r, bottom_mm: -half, top_mm: half }, items }
}
