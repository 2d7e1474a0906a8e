//! The tailstock: base, body, quill out to scale, and its centre in the end of the work. With no centre it stands
//! at the end of the bed, out of the way.

use super::centres::tail_centre;
use super::proportions::Proportions;
use super::shapes::group;
use super::{Fill, Item, Line, Part, Path, Role, at};
use crate::job::{Job, Setup, TailKind};
use crate::study::reach::tailstock_face_mm;

/// Where the pieces of the tailstock are along the bed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TailPlaces {
    /// Point of the centre.
    pub tip_z_mm: f64,
    /// Free end of the quill.
    pub quill_face_z_mm: f64,
    /// Front of the body, where the quill goes in.
    pub body_z_mm: f64,
    pub base_end_z_mm: f64,
}

/// Where the tailstock stands: behind the work it carries, or at the end of the bed.
#[must_use]
pub fn tail_places(job: &Job, setup: &Setup, sizes: &Proportions) -> TailPlaces {
    let lathe = &job.lathe;
    let base = lathe.tailstock_base_mm.value.max(0.3 * sizes.centre_height_mm);
    let Some(body_z_mm) = tailstock_face_mm(job, setup) else {
        let body_z_mm = sizes.bed_right_mm - base;
        return TailPlaces {
            tip_z_mm: body_z_mm,
            quill_face_z_mm: body_z_mm - 4.0,
            body_z_mm,
            base_end_z_mm: sizes.bed_right_mm,
        };
    };
    let quill_face_z_mm = body_z_mm - setup.tail.quill_out_mm.max(0.0);
    let tip_z_mm = quill_face_z_mm - lathe.centre_length_mm.value.max(1.0);
    TailPlaces { tip_z_mm, quill_face_z_mm, body_z_mm, base_end_z_mm: body_z_mm + base }
}

/// The drawn tailstock.
#[must_use]
pub fn tailstock(job: &Job, setup: &Setup, sizes: &Proportions, work_end_radius_mm: f64) -> Item {
    let places = tail_places(job, setup, sizes);
    let carries = setup.tail.kind != TailKind::Free;
    if !carries && setup.work_end_z_mm(&job.shaft) > places.quill_face_z_mm {
        // Taken off the bed, since the work reaches through where it would stand.
        return group(Part::Tail, Vec::new());
    }
    let h = sizes.centre_height_mm;
    let q = (job.lathe.quill_diameter_mm.value / 2.0).clamp(0.02 * h, 0.5 * h);
    let barrel = (1.75 * q).clamp(0.2 * h, 0.6 * h);
    let (body, end) = (places.body_z_mm, places.base_end_z_mm);
    let length = end - body;
    let step = -h + 0.16 * h;
    let mut items: Vec<Item> = vec![
        Path::rect(at(body - 0.02 * length, -h), at(end, step), Role::Tailstock)
            .lined(Line::Thick)
            .filled(Fill::Solid)
            .into(),
        Path::outline(
            [
                at(body + 0.10 * length, step),
                at(body + 0.16 * length, -barrel),
                at(body, -barrel),
                at(body, barrel),
                at(end - 0.12 * length, barrel),
                at(end - 0.12 * length, -barrel),
                at(end - 0.18 * length, -barrel),
                at(end - 0.06 * length, step),
            ],
            Role::Tailstock,
        )
        .lined(Line::Thick)
        .filled(Fill::Solid)
        .into(),
        // Handwheel behind, and the quill's clamp lever.
        Path::rounded(
            at(end - 0.07 * length, -1.5 * barrel),
            at(end - 0.01 * length, 1.5 * barrel),
            0.03 * length,
            Role::Tailstock,
        )
        .lined(Line::Thick)
        .filled(Fill::Solid)
        .into(),
        Path::rect(at(end - 0.12 * length, -0.35 * barrel), at(end - 0.07 * length, 0.35 * barrel), Role::Tailstock)
            .filled(Fill::Solid)
            .into(),
        Path::segment(at(body + 0.22 * length, barrel), at(body + 0.30 * length, 1.55 * barrel), Role::Tailstock)
            .lined(Line::Thick)
            .into(),
        Path::circle(at(body + 0.30 * length, 1.6 * barrel), 0.05 * h, Role::Tailstock).filled(Fill::Solid).into(),
        Path::rect(at(places.quill_face_z_mm, -q), at(body, q), Role::Quill)
            .lined(Line::Thick)
            .filled(Fill::Solid)
            .into(),
    ];
    if carries {
        let hole_radius = bore_radius_at_tail(job, setup).unwrap_or(0.5 * work_end_radius_mm);
        items.extend(tail_centre(setup.tail.kind, places.tip_z_mm, places.quill_face_z_mm, q, hole_radius));
    }
    group(Part::Tail, items)
}

fn bore_radius_at_tail(job: &Job, setup: &Setup) -> Option<f64> {
    let end_s = if setup.end_for_end { 0.0 } else { job.shaft.length_mm() };
    job.shaft.bores.iter().find_map(|bore| {
        if (bore.from_s_mm - end_s).abs() < 1e-6 {
            Some(bore.start_diameter_mm / 2.0)
        } else if (bore.to_s_mm - end_s).abs() < 1e-6 {
            Some(bore.end_diameter_mm / 2.0)
        } else {
            None
        }
    })
}
