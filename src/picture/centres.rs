//! Lathe centres, drawn from their point backwards.

use super::{Fill, Item, Line, Path, Role, at};
use crate::job::TailKind;

/// A 60 degree point at `tip_z_mm` and its shank back to `back_z_mm`; `toward` is the direction of its body (+1 to the
/// right).
#[must_use]
pub fn cone(tip_z_mm: f64, back_z_mm: f64, radius_mm: f64, toward: f64, role: Role) -> Vec<Item> {
    let length = radius_mm / 30f64.to_radians().tan();
    let shoulder = tip_z_mm + toward * length;
    let back = if toward * (back_z_mm - shoulder) > 0.0 { back_z_mm } else { shoulder + toward * radius_mm };
    vec![
        Path::outline(
            [
                at(tip_z_mm, 0.0),
                at(shoulder, radius_mm),
                at(back, radius_mm),
                at(back, -radius_mm),
                at(shoulder, -radius_mm),
            ],
            role,
        )
        .lined(Line::Thick)
        .filled(Fill::Solid)
        .into(),
        Path::segment(at(shoulder, radius_mm), at(shoulder, -radius_mm), role).into(),
    ]
}

/// The centre in the tailstock's quill: point at `tip_z_mm`, quill face at `face_z_mm`.
#[must_use]
pub fn tail_centre(
    kind: TailKind,
    tip_z_mm: f64,
    face_z_mm: f64,
    quill_radius_mm: f64,
    hole_radius_mm: f64,
) -> Vec<Item> {
    let length = (face_z_mm - tip_z_mm).max(1.0);
    let shank = (0.62 * quill_radius_mm).min(0.5 * length);
    match kind {
        TailKind::Free => Vec::new(),
        TailKind::DeadCentre => cone(tip_z_mm, face_z_mm, shank, 1.0, Role::Centre),
        TailKind::HalfCentre => {
            let mut items = cone(tip_z_mm, face_z_mm, shank, 1.0, Role::Centre);
            // The flat that lets the tool face the end.
            let shoulder = tip_z_mm + shank / 30f64.to_radians().tan();
            items.push(
                Path::rect(at(tip_z_mm, 0.12 * shank), at(f64::midpoint(shoulder, face_z_mm), shank), Role::Centre)
                    .filled(Fill::Hatch)
                    .into(),
            );
            items
        }
        TailKind::LiveCentre | TailKind::SpringCentre => {
            let point = (0.42 * quill_radius_mm).min(0.35 * length);
            let nose = tip_z_mm + (point / 30f64.to_radians().tan()).min(0.45 * length);
            let body = tip_z_mm + 0.55 * length;
            let case = 1.05 * quill_radius_mm;
            let mut items = cone(tip_z_mm, body, point, 1.0, Role::Centre);
            items.push(
                Path::rounded(
                    at(body.max(nose), -case),
                    at(face_z_mm - 0.06 * length, case),
                    0.12 * case,
                    Role::Centre,
                )
                .lined(Line::Thick)
                .filled(Fill::Solid)
                .into(),
            );
            items.push(
                Path::rect(at(face_z_mm - 0.06 * length, -shank), at(face_z_mm, shank), Role::Centre)
                    .filled(Fill::Solid)
                    .into(),
            );
            if kind == TailKind::SpringCentre {
                let (from, to) = (body + 0.08 * length, face_z_mm - 0.12 * length);
                let points = (0..=8).map(|i| {
                    let share = f64::from(i) / 8.0;
                    at(from + share * (to - from), if i % 2 == 0 { 0.55 * case } else { -0.55 * case })
                });
                items.push(Path::through(points, Role::Centre).into());
            }
            items
        }
        TailKind::BullNose => {
            // A blunt cone that sits in a bore.
            let small = (0.7 * hole_radius_mm).max(0.3 * quill_radius_mm);
            let large = (1.35 * hole_radius_mm).max(1.1 * quill_radius_mm);
            let shoulder = tip_z_mm + 0.55 * length;
            vec![
                Path::outline(
                    [
                        at(tip_z_mm, small),
                        at(shoulder, large),
                        at(shoulder + 0.2 * length, large),
                        at(shoulder + 0.2 * length, shank),
                        at(face_z_mm, shank),
                        at(face_z_mm, -shank),
                        at(shoulder + 0.2 * length, -shank),
                        at(shoulder + 0.2 * length, -large),
                        at(shoulder, -large),
                        at(tip_z_mm, -small),
                    ],
                    Role::Centre,
                )
                .lined(Line::Thick)
                .filled(Fill::Solid)
                .into(),
                Path::segment(at(shoulder, -large), at(shoulder, large), Role::Centre).into(),
            ]
        }
    }
}
