//! Holding and rests as simple signs instead of drawings, in the spirit of process drawings: a support is a triangle
//! whose tip is where it bears, a clamp is an arrow on to the work. Drawn afresh, after no standard's sheet; so a legend
//! always goes with them. Signs keep their size on paper whatever the scale.

use super::piece::line;
use super::view::{CutSpan, cut_span};
use crate::job::{DriveKind, FollowerSide, Job, Setup, TailKind};
use crate::picture::carriage::follower_z_mm;
use crate::picture::lettering::Lettering;
use crate::picture::shapes::arrow;
use crate::picture::{Align, Bounds, Fill, Item, Line, Path, Point, Role, at};

/// Height of a sign, and half its width.
const HIGH_MM: f64 = 6.0;
const HALF_MM: f64 = 2.6;
/// What signs, and the arrow of the feed over them, need around the work.
pub(super) const ROOM_MM: f64 = HIGH_MM + 6.0;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Sign {
    /// Arrow on to the work.
    Clamp,
    /// Does not turn.
    Centre,
    TurningCentre,
    SpringCentre,
    Driver,
    Steady,
    Follower,
}

/// A sign, its tip at `tip`, lying away from the work in the direction (right, up).
fn drawn(sign: Sign, tip: Point, away: (f64, f64)) -> Vec<Item> {
    let to = |out_mm: f64, side_mm: f64| {
        at(tip.right_mm + out_mm * away.0 - side_mm * away.1, tip.up_mm + out_mm * away.1 + side_mm * away.0)
    };
    let triangle = |fill| -> Item {
        let corners = [to(0.0, 0.0), to(HIGH_MM, HALF_MM), to(HIGH_MM, -HALF_MM)];
        Path::outline(corners, Role::Text).lined(Line::Thick).filled(fill).into()
    };
    let stroke = |from, end| -> Item { Path::segment(from, end, Role::Text).lined(Line::Thick).into() };
    match sign {
        Sign::Clamp => arrow(to(HIGH_MM, 0.0), to(0.0, 0.0), 2.6, Role::Force),
        Sign::Centre => vec![triangle(Fill::Hatch)],
        Sign::TurningCentre => {
            let hub = Path::circle(to(HIGH_MM + 1.2, 0.0), 1.2, Role::Text).lined(Line::Thick);
            vec![triangle(Fill::Solid), hub.into()]
        }
        Sign::SpringCentre => {
            let coil = [(0.0, 0.0), (0.5, 1.4), (1.1, -1.4), (1.7, 1.4), (2.3, -1.4), (2.6, 0.0)];
            let coil = Path::through(coil.map(|(out, side)| to(HIGH_MM + out, side)), Role::Text);
            vec![triangle(Fill::Solid), coil.lined(Line::Thick).into()]
        }
        Sign::Driver => vec![
            stroke(to(0.0, 0.0), to(HIGH_MM, 0.0)),
            Path::circle(to(1.2, 0.0), 1.2, Role::Text).lined(Line::Thick).filled(Fill::Hatch).into(),
        ],
        Sign::Steady => vec![triangle(Fill::Solid), stroke(to(HIGH_MM, -HALF_MM - 1.4), to(HIGH_MM, HALF_MM + 1.4))],
        Sign::Follower => {
            let mut items = vec![triangle(Fill::Solid)];
            for side in [-1.0, 1.0] {
                items.extend(arrow(
                    to(HIGH_MM + 1.4, 0.0),
                    to(HIGH_MM + 1.4, side * (HALF_MM + 1.8)),
                    1.8,
                    Role::Force,
                ));
            }
            items
        }
    }
}

/// One support or clamp.
struct Sited {
    sign: Sign,
    name: &'static str,
    z_mm: f64,
    /// On the work's surface, above and below, or at its end.
    at_end: bool,
    /// Of a pair, the upper one alone.
    upper_only: bool,
    /// Lies to the right of what it holds.
    to_right: bool,
}

fn sited(job: &Job, setup: &Setup) -> Vec<Sited> {
    let side = |sign, name, z_mm| Sited { sign, name, z_mm, at_end: false, upper_only: false, to_right: false };
    let mut all = Vec::new();
    let start_mm = setup.work_start_z_mm;
    let clamp_mm = -0.5 * setup.drive.grip_mm.min((-start_mm).max(0.0));
    match setup.drive.kind {
        DriveKind::CentreAndDog => {
            all.push(Sited { at_end: true, ..side(Sign::Centre, "headstock centre", start_mm) });
            let dog_mm = start_mm + 0.5 * setup.drive.dog.length_mm.value;
            all.push(Sited { upper_only: true, ..side(Sign::Driver, "dog", dog_mm) });
        }
        DriveKind::ThreeJaw => all.push(side(Sign::Clamp, "three-jaw chuck", clamp_mm)),
        DriveKind::FourJaw => all.push(side(Sign::Clamp, "four-jaw chuck", clamp_mm)),
        DriveKind::Collet => all.push(side(Sign::Clamp, "collet", clamp_mm)),
        DriveKind::FacePlate => all.push(side(Sign::Clamp, "clamps of the face plate", clamp_mm)),
    }
    all.extend(setup.rests.iter().map(|rest| side(Sign::Steady, "steady rest", rest.z_mm)));
    if let Some(follower) = &setup.follower {
        let first = setup.passes.first();
        let to_headstock = first.is_none_or(crate::job::Pass::feeds_to_headstock);
        let z_mm = follower_z_mm(follower, first.map_or(0.0, |pass| pass.from_z_mm), to_headstock);
        let name = match follower.side {
            FollowerSide::Behind => "follower, behind the tool",
            FollowerSide::Ahead => "follower, ahead of the tool",
        };
        all.push(Sited { upper_only: true, ..side(Sign::Follower, name, z_mm) });
    }
    let tail = match setup.tail.kind {
        TailKind::Free => None,
        TailKind::DeadCentre => Some((Sign::Centre, "dead centre")),
        TailKind::HalfCentre => Some((Sign::Centre, "half centre")),
        TailKind::LiveCentre => Some((Sign::TurningCentre, "running centre")),
        TailKind::BullNose => Some((Sign::TurningCentre, "bull-nose centre")),
        TailKind::SpringCentre => Some((Sign::SpringCentre, "spring-loaded centre")),
    };
    let end_mm = setup.work_end_z_mm(&job.shaft);
    all.extend(tail.map(|(sign, name)| Sited { at_end: true, to_right: true, ..side(sign, name, end_mm) }));
    all
}

/// The bounds of the work drawn wider to where the outermost signs stand.
pub(super) fn with_signs(bounds: Bounds, job: &Job, setup: &Setup) -> Bounds {
    sited(job, setup).iter().fold(bounds, |bounds, sited| Bounds {
        left_mm: bounds.left_mm.min(sited.z_mm),
        right_mm: bounds.right_mm.max(sited.z_mm),
        ..bounds
    })
}

/// The signs of a set-up on the drawing, whose (0, 0) lies at `origin` and whose highest point at `top_mm`, with the
/// arrow of the feed over them.
pub(super) fn signs(job: &Job, setup: &Setup, (origin, top_mm): (Point, f64), ratio: f64) -> Vec<Item> {
    let mut items = Vec::new();
    if let Some(CutSpan { from_z_mm, to_z_mm }) = cut_span(setup) {
        let [from, to] = [from_z_mm, to_z_mm].map(|z_mm| at(origin.right_mm + ratio * z_mm, top_mm + ROOM_MM - 2.0));
        items.extend(arrow(from, to, 3.0_f64.min((from.right_mm - to.right_mm).abs()), Role::Tool));
    }
    for Sited { sign, z_mm, at_end, upper_only, to_right, .. } in sited(job, setup) {
        let right_mm = origin.right_mm + ratio * z_mm;
        if at_end {
            let away = if to_right { 1.0 } else { -1.0 };
            items.extend(drawn(sign, at(right_mm, origin.up_mm), (away, 0.0)));
            continue;
        }
        let s_mm = setup.s_of_z_mm(&job.shaft, z_mm);
        let radius_mm = job.dial_diameter_into_mm(setup.id, s_mm).unwrap_or_default() / 2.0 * ratio;
        items.extend(drawn(sign, at(right_mm, origin.up_mm + radius_mm), (0.0, 1.0)));
        if !upper_only {
            items.extend(drawn(sign, at(right_mm, origin.up_mm - radius_mm), (0.0, -1.0)));
        }
    }
    items
}

/// What the signs mean, in rows between left and right; and how high the rows are.
pub(super) fn legend(job: &Job, setup: &Setup, (left_mm, right_mm): (f64, f64), top_mm: f64) -> (Vec<Item>, f64) {
    const ROW_MM: f64 = HIGH_MM + 1.5;
    let (kind, cell_mm) = (Lettering::Body, 2.0 * HALF_MM + 4.5);
    let mut known: Vec<&str> = Vec::new();
    let (mut x, mut top) = (left_mm, top_mm);
    let mut items: Vec<Item> = Vec::new();
    let mut put = |x: f64, top: f64, words: &str| {
        items.push(line(x, top - 1.2, Align::Left, kind, Role::Text, words).into());
    };
    put(x, top, "Signs:");
    x += kind.width_mm("Signs:") + 4.0;
    let mut placed = Vec::new();
    for Sited { sign, name, .. } in sited(job, setup) {
        if known.contains(&name) {
            continue;
        }
        known.push(name);
        let width_mm = cell_mm + kind.width_mm(name) + 5.0;
        if x + width_mm > right_mm && x > left_mm {
            (x, top) = (left_mm, top - ROW_MM);
        }
        placed.push((sign, at(x + HALF_MM + 1.6, top - HIGH_MM)));
        put(x + cell_mm, top, name);
        x += width_mm;
    }
    items.extend(placed.into_iter().flat_map(|(sign, tip)| drawn(sign, tip, (0.0, 1.0)).into_iter()));
    (items, top_mm - top + ROW_MM)
}
