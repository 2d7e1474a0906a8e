//! A steady rest seen from the front: base on the bed, its ring cut open so that the work is seen, and each jaw where
//! it really stands. Jaws at the front lie before the work, those at the rear behind it.

use super::proportions::Proportions;
use super::shapes::group;
use super::{Fill, Item, Line, Part, Path, Role, at};
use crate::job::{Jaw, Lathe, Rest, Sleeve};

/// Both halves of a rest: what lies behind the work, and what lies before it.
#[derive(Clone, Debug, PartialEq)]
pub struct RestHalves {
    pub behind: Item,
    pub before: Item,
}

/// What a jaw does at this moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum JawNow {
    /// It stands off the work.
    Lifted,
    /// It touches, and carries this share of the most that any jaw carries in the pass.
    Bears { load_ratio: f64 },
}

impl JawNow {
    /// A jaw of which nothing is computed.
    pub const UNKNOWN: Self = Self::Bears { load_ratio: 1.0 };
}

/// A rest at its place. `radius_mm` is the work's there; `jaws` says what each jaw does, and is empty where nothing is
/// computed.
#[must_use]
pub fn rest(sizes: &Proportions, lathe: &Lathe, rest: &Rest, radius_mm: f64, jaws: &[JawNow]) -> RestHalves {
    let h = sizes.centre_height_mm;
    let z = rest.z_mm;
    let jaw = (lathe.rest_jaw_width_mm.value / 2.0).clamp(0.01 * h, 0.4 * h);
    let frame = (1.7 * jaw).clamp(0.09 * h, 0.22 * h);
    let base = (lathe.rest_base_mm.value / 2.0).max(frame);
    let (inner, outer) = (sizes.rest_inner_mm, sizes.rest_outer_mm);
    let cap = 0.18 * h;
    let (on, sleeve) = on_what(rest, radius_mm);

    let mut behind: Vec<Item> = vec![
        // The far side of the ring.
        Path::rect(at(z - frame, -inner), at(z + frame, inner), Role::Rest).lined(Line::Thin).filled(Fill::Soft).into(),
    ];
    let mut before: Vec<Item> = Vec::new();
    if let Some(half_width) = sleeve {
        before.push(
            Path::rect(at(z - half_width, -on), at(z + half_width, on), Role::Sleeve)
                .lined(Line::Thick)
                .filled(Fill::Soft)
                .into(),
        );
        if matches!(rest.sleeve, Sleeve::CatHead { .. }) {
            for (dz, side) in [(-0.7, 1.0), (0.7, 1.0), (-0.7, -1.0), (0.7, -1.0)] {
                let screw = z + dz * half_width;
                before.push(
                    Path::segment(at(screw, side * radius_mm), at(screw, side * (on + 0.03 * h)), Role::Sleeve)
                        .lined(Line::Thick)
                        .into(),
                );
            }
        }
    }
    for (index, one) in rest.jaws.iter().enumerate() {
        let now = jaws.get(index).copied().unwrap_or(JawNow::UNKNOWN);
        let is_before = one.angle_rad.cos() < -1e-6 || one.angle_rad.cos().abs() <= 1e-6;
        let half = if is_before { &mut before } else { &mut behind };
        half.extend(jaw_items(one, z, jaw, on, inner, now));
    }
    // Ring above and below, in section; the hinge of the upper half; the base and its clamp.
    before.push(
        Path::rounded(at(z - frame, inner), at(z + frame, outer), 0.4 * frame, Role::Rest)
            .lined(Line::Thick)
            .filled(Fill::Solid)
            .into(),
    );
    before.push(
        Path::rounded(at(z - 0.55 * frame, outer), at(z + 0.55 * frame, outer + 0.07 * h), 0.2 * frame, Role::Rest)
            .filled(Fill::Solid)
            .into(),
    );
    before.push(
        Path::outline(
            [
                at(z - base, -h),
                at(z - base, -h + 0.55 * cap),
                at(z - frame, -outer.min(h - cap)),
                at(z - frame, -inner),
                at(z + frame, -inner),
                at(z + frame, -outer.min(h - cap)),
                at(z + base, -h + 0.55 * cap),
                at(z + base, -h),
            ],
            Role::Rest,
        )
        .lined(Line::Thick)
        .filled(Fill::Solid)
        .into(),
    );
    RestHalves { behind: group(Part::Rest(rest.id), behind), before: group(Part::Rest(rest.id), before) }
}

/// Radius the jaws run on, and half the width of the sleeve where there is one.
fn on_what(rest: &Rest, radius_mm: f64) -> (f64, Option<f64>) {
    match rest.sleeve {
        Sleeve::None => (radius_mm, None),
        Sleeve::CatHead { diameter_mm, width_mm } | Sleeve::Bush { diameter_mm, width_mm } => {
            ((diameter_mm / 2.0).max(radius_mm), Some(width_mm / 2.0))
        }
    }
}

fn jaw_items(jaw: &Jaw, z_mm: f64, half_width_mm: f64, radius_mm: f64, inner_mm: f64, now: JawNow) -> Vec<Item> {
    let up = jaw.angle_rad.sin();
    let role = Role::RestJaw;
    // A jaw that lies level is seen end on.
    let (tip, root) = if up.abs() < 0.2 {
        (-half_width_mm, half_width_mm)
    } else {
        (
            up * radius_mm,
            up.signum() * (inner_mm.max(radius_mm + half_width_mm) * up.abs()).max(radius_mm * up.abs() + 1.0),
        )
    };
    let shaft = if up.abs() < 0.2 { half_width_mm } else { 0.82 * half_width_mm };
    let neck = tip + 0.22 * (root - tip);
    let path = Path::outline(
        [
            at(z_mm - half_width_mm, tip),
            at(z_mm - half_width_mm, neck),
            at(z_mm - shaft, neck),
            at(z_mm - shaft, root),
            at(z_mm + shaft, root),
            at(z_mm + shaft, neck),
            at(z_mm + half_width_mm, neck),
            at(z_mm + half_width_mm, tip),
        ],
        role,
    );
    borne(path, (z_mm - shaft, z_mm + shaft), (tip, root), now)
}

/// A jaw as it bears: an outline in the air, filled from its tip the further the more it carries.
pub(super) fn borne(
    jaw: Path,
    (left_mm, right_mm): (f64, f64),
    (tip_mm, root_mm): (f64, f64),
    now: JawNow,
) -> Vec<Item> {
    let load_ratio = match now {
        JawNow::Lifted => {
            return vec![Path { role: Role::JawLifted, ..jaw }.lined(Line::Dashed).filled(Fill::None).into()];
        }
        JawNow::Bears { load_ratio } => load_ratio.clamp(0.0, 1.0),
    };
    let touching: Item = jaw.clone().lined(Line::Thin).filled(Fill::Soft).into();
    if load_ratio >= 1.0 {
        vec![jaw.lined(Line::Thin).filled(Fill::Solid).into()]
    } else if load_ratio > 0.0 {
        let level_mm = tip_mm + load_ratio * (root_mm - tip_mm);
        let column = Path::rect(at(left_mm, tip_mm), at(right_mm, level_mm), jaw.role).lined(None).filled(Fill::Solid);
        vec![touching, column.into()]
    } else {
        vec![touching]
    }
}
