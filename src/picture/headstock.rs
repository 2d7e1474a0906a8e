//! The headstock end: bed, headstock, and what turns the work: jaws, collet, face plate, or centre with dog and
//! drive plate. The bar may go back through the spindle.

use super::centres::cone;
use super::proportions::Proportions;
use super::shapes::group;
use super::{Fill, Item, Line, Part, Path, Role, at};
use crate::job::{Dog, DogKind, DriveKind, Hold, Lathe, Setup};

/// The bed, under everything.
#[must_use]
pub fn bed(sizes: &Proportions) -> Item {
    let h = sizes.centre_height_mm;
    let (left, right) = (sizes.bed_left_mm, sizes.bed_right_mm);
    let way = sizes.bed_top_mm - 0.07 * h;
    let items = vec![
        Path::rect(at(left, sizes.bed_bottom_mm), at(right, sizes.bed_top_mm), Role::BedLine)
            .lined(Line::Thin)
            .filled(Fill::Solid)
            .into(),
        Path::segment(at(left, sizes.bed_top_mm), at(right, sizes.bed_top_mm), Role::BedLine).lined(Line::Thick).into(),
        Path::segment(at(left, way), at(right, way), Role::BedLine).into(),
        // The rack under the way, suggested by a second line.
        Path::segment(at(left, way - 0.08 * h), at(right, way - 0.08 * h), Role::BedLine).into(),
    ];
    group(Part::Bed, items)
}

/// Headstock body and the drive, but for jaws and dog, which lie before the work.
#[must_use]
pub fn headstock(sizes: &Proportions, lathe: &Lathe, setup: &Setup) -> Item {
    let h = sizes.centre_height_mm;
    let (left, right, top) = (sizes.headstock_left_mm, sizes.headstock_right_mm, sizes.headstock_top_mm);
    let mut items: Vec<Item> = vec![
        Path::rounded(at(left, -h), at(right, top), 0.09 * h, Role::Casting)
            .lined(Line::Thick)
            .filled(Fill::Solid)
            .into(),
        Path::segment(at(left, 0.42 * h), at(right, 0.42 * h), Role::Casting).into(),
        Path::segment(at(left, -0.72 * h), at(right, -0.72 * h), Role::Casting).into(),
    ];
    let width = right - left;
    for (share, radius) in [(0.30, 0.085), (0.62, 0.085)] {
        let knob = at(left + share * width, 0.57 * h);
        items.push(Path::circle(knob, (radius * h).min(0.12 * width), Role::Casting).into());
    }
    // Spindle bore, hidden.
    let bore = lathe.spindle_bore_mm.value / 2.0;
    if bore > 0.0 && bore < h {
        for side in [1.0, -1.0] {
            items.push(
                Path::segment(at(left, side * bore), at(sizes.chuck_back_mm, side * bore), Role::Casting)
                    .lined(Line::Dashed)
                    .into(),
            );
        }
    }
    // Spindle nose.
    let nose = 0.45 * sizes.chuck_radius_mm;
    items.push(
        Path::rect(at(right, -nose), at(sizes.chuck_back_mm, nose), Role::Chuck)
            .filled(Fill::Solid)
            .lined(Line::Thin)
            .into(),
    );
    let r = sizes.chuck_radius_mm;
    let (front, back) = (sizes.chuck_front_mm, sizes.chuck_back_mm);
    match setup.drive.kind {
        DriveKind::ThreeJaw | DriveKind::FourJaw => {
            items.push(
                Path::rounded(at(back, -r), at(front, r), 0.05 * r, Role::Chuck)
                    .lined(Line::Thick)
                    .filled(Fill::Solid)
                    .into(),
            );
            let joint = back + 0.28 * (front - back);
            items.push(Path::segment(at(joint, -r), at(joint, r), Role::Chuck).into());
        }
        DriveKind::Collet => {
            let n = 0.62 * r;
            items.push(
                Path::outline([at(back, -0.8 * r), at(back, 0.8 * r), at(front, n), at(front, -n)], Role::Chuck)
                    .lined(Line::Thick)
                    .filled(Fill::Solid)
                    .into(),
            );
        }
        DriveKind::FacePlate | DriveKind::CentreAndDog => {
            let plate = if setup.drive.kind == DriveKind::FacePlate { (1.25 * r).min(0.95 * h) } else { r };
            items.push(
                Path::rounded(at(back, -plate), at(front, plate), 0.04 * r, Role::Chuck)
                    .lined(Line::Thick)
                    .filled(Fill::Solid)
                    .into(),
            );
            items.push(
                Path::outline(
                    [
                        at(back, -0.40 * plate),
                        at(back, 0.40 * plate),
                        at(back - 0.10 * plate, 0.34 * plate),
                        at(back - 0.10 * plate, -0.34 * plate),
                    ],
                    Role::Chuck,
                )
                .into(),
            );
        }
    }
    group(Part::Drive, items)
}

/// Jaws, collet nose, clamps, centre or dog: what touches the work, drawn over it.
#[must_use]
pub fn grip(sizes: &Proportions, setup: &Setup, radius_at_face_mm: f64) -> Item {
    let r = sizes.chuck_radius_mm;
    let front = sizes.chuck_front_mm;
    let held = radius_at_face_mm.clamp(0.5, r);
    let mut items: Vec<Item> = Vec::new();
    match setup.drive.kind {
        DriveKind::ThreeJaw | DriveKind::FourJaw => {
            // Both jaws turned into the plane of the drawing.
            let reach = (held + 0.42 * r).min(0.98 * r).max(held + 0.1 * r);
            let grip = setup.drive.grip_mm.clamp(0.02 * r, (-front).max(0.02 * r));
            for side in [1.0, -1.0] {
                items.push(
                    Path::outline(
                        [
                            at(front, side * held.max(0.0)),
                            at(-grip, side * held),
                            at(0.0, side * held),
                            at(0.0, side * (held + 0.55 * (reach - held))),
                            at(0.45 * front, side * (held + 0.55 * (reach - held))),
                            at(0.45 * front, side * reach),
                            at(front, side * reach),
                        ],
                        Role::ChuckJaw,
                    )
                    .lined(Line::Thick)
                    .filled(Fill::Solid)
                    .into(),
                );
                if setup.drive.hold == Hold::Hinge {
                    // The ring of wire under the jaws.
                    items.push(
                        Path::circle(at(-0.5 * grip, side * held), 0.035 * r, Role::Tool).filled(Fill::Solid).into(),
                    );
                }
            }
        }
        DriveKind::Collet => {
            let outer = (1.35 * held).clamp(held + 0.06 * r, 0.62 * r + held);
            for side in [1.0, -1.0] {
                items.push(
                    Path::outline(
                        [
                            at(front, side * held),
                            at(0.0, side * held),
                            at(0.0, side * f64::midpoint(held, outer)),
                            at(front, side * outer),
                        ],
                        Role::ChuckJaw,
                    )
                    .lined(Line::Thick)
                    .filled(Fill::Solid)
                    .into(),
                );
            }
        }
        DriveKind::FacePlate => {
            let bolt = (held + 0.35 * r).min(1.1 * r);
            for side in [1.0, -1.0] {
                items.push(
                    Path::rounded(
                        at(0.55 * front, side * 0.8 * held),
                        at(0.0, side * (bolt + 0.12 * r)),
                        0.03 * r,
                        Role::ChuckJaw,
                    )
                    .lined(Line::Thick)
                    .filled(Fill::Solid)
                    .into(),
                );
                items.push(
                    Path::rect(
                        at(front, side * (bolt - 0.05 * r)),
                        at(0.10 * r, side * (bolt + 0.05 * r)),
                        Role::ChuckJaw,
                    )
                    .filled(Fill::Solid)
                    .into(),
                );
            }
        }
        DriveKind::CentreAndDog => {
            items.extend(cone(0.0, front, 0.13 * r, -1.0, Role::Centre));
            dog(sizes, &setup.drive.dog, held, &mut items);
        }
    }
    group(Part::Drive, items)
}

/// A bent-tail dog clamped on the work, its tail in the drive plate's slot, or a dog with a tail at either side. The
/// tail bears where the job says, as far as that lies between the ring and the rim of the plate.
fn dog(sizes: &Proportions, dog: &Dog, held_mm: f64, items: &mut Vec<Item>) {
    let r = sizes.chuck_radius_mm;
    let plate = sizes.chuck_front_mm;
    let (left, right) = (0.05 * r, 0.27 * r);
    let ring = held_mm + 0.14 * r;
    let tail = (dog.tail_radius_mm.value + 0.065 * r).min(0.97 * r).max(ring + 0.05 * r);
    let (reach, inner) = (plate - 0.05 * r, tail - 0.13 * r);
    let middle = f64::midpoint(left, right);
    let body = match dog.kind {
        DogKind::OneTail => Path::outline(
            [at(reach, inner), at(left, inner), at(left, -ring), at(right, -ring), at(right, tail), at(reach, tail)],
            Role::Dog,
        ),
        DogKind::TwoTails => Path::outline(
            [
                at(reach, inner),
                at(left, inner),
                at(left, -inner),
                at(reach, -inner),
                at(reach, -tail),
                at(right, -tail),
                at(right, tail),
                at(reach, tail),
            ],
            Role::Dog,
        ),
    };
    items.push(body.lined(Line::Thick).filled(Fill::Soft).into());
    // The clamp screw: below the ring, or turned to the viewer where a second tail is in its place.
    let screw = match dog.kind {
        DogKind::OneTail => (at(middle - 0.04 * r, -ring), at(middle + 0.04 * r, -ring - 0.18 * r)),
        DogKind::TwoTails => (at(middle - 0.05 * r, -0.05 * r), at(middle + 0.05 * r, 0.05 * r)),
    };
    items.push(Path::rect(screw.0, screw.1, Role::Dog).filled(Fill::Solid).into());
}
