//! The row of distances under the bed: how long the work is free between its supports, in length and in diameters.
//!
//! The diameter counted is the thinnest of the stretch, since that is what bends.

use super::profile::Profile;
use super::proportions::Proportions;
use super::shapes::{group, words};
use super::{Align, Fill, Item, Line, Part, Path, Role, Stand, TextSize, at};
use crate::job::quantity::{Kind, show};
use crate::job::{Job, Setup, TailKind};

/// A stretch of work between two supports, or between a support and its free end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FreeSpan {
    pub from_z_mm: f64,
    pub to_z_mm: f64,
    /// Thinnest diameter in it.
    pub diameter_mm: f64,
}

impl FreeSpan {
    /// Length in diameters; 0 where there is no work.
    #[must_use]
    pub fn slenderness_ratio(&self) -> f64 {
        if self.diameter_mm > 0.0 { (self.to_z_mm - self.from_z_mm) / self.diameter_mm } else { 0.0 }
    }
}

/// The free stretches from the jaw face to the tailstock end.
#[must_use]
pub fn free_spans(job: &Job, setup: &Setup, now: &Profile) -> Vec<FreeSpan> {
    let end = setup.work_end_z_mm(&job.shaft);
    let mut places: Vec<f64> = setup.rests.iter().map(|rest| rest.z_mm).filter(|z| *z > 0.0 && *z < end).collect();
    places.push(0.0);
    places.push(end);
    places.sort_by(f64::total_cmp);
    places
        .windows(2)
        .filter(|pair| pair[1] - pair[0] > 1e-6)
        .map(|pair| {
            let thinnest = now
                .between(pair[0], pair[1])
                .stretches
                .iter()
                .map(|stretch| stretch.start_radius_mm.min(stretch.end_radius_mm))
                .fold(f64::INFINITY, f64::min);
            let diameter_mm = if thinnest.is_finite() { 2.0 * thinnest } else { 0.0 };
            FreeSpan { from_z_mm: pair[0], to_z_mm: pair[1], diameter_mm }
        })
        .collect()
}

/// Where the row of dimensions lies and how large its marks are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    pub up_mm: f64,
    /// Half the height of the marks at a support, and the length of an arrow.
    pub mark_mm: f64,
}

impl Row {
    /// Right under the bed.
    #[must_use]
    pub fn under_bed(sizes: &Proportions) -> Self {
        let h = sizes.centre_height_mm;
        Self { up_mm: sizes.bed_bottom_mm - 0.12 * h, mark_mm: 0.055 * h }
    }
}

/// The row of dimensions.
#[must_use]
pub fn spans(job: &Job, setup: &Setup, now: &Profile, at_row: Row) -> Item {
    let (row, tick) = (at_row.up_mm, at_row.mark_mm);
    let end = setup.work_end_z_mm(&job.shaft);
    let mut items: Vec<Item> = Vec::new();
    for span in free_spans(job, setup, now) {
        let (from, to) = (span.from_z_mm, span.to_z_mm);
        items.push(Path::segment(at(from, row), at(to, row), Role::Dimension).lined(Line::Thin).into());
        for z in [from, to] {
            items.push(Path::segment(at(z, row - tick), at(z, row + tick), Role::Dimension).lined(Line::Thin).into());
        }
        let head = (1.1 * tick).min(0.3 * (to - from));
        for (tip, back) in [(from, head), (to, -head)] {
            items.push(
                Path::outline(
                    [at(tip, row), at(tip + back, row + 0.3 * head), at(tip + back, row - 0.3 * head)],
                    Role::Dimension,
                )
                .lined(None)
                .filled(Fill::Solid)
                .into(),
            );
        }
        let free_end = to >= end - 1e-6 && setup.tail.kind == TailKind::Free;
        let text = format!(
            "{}{} · {:.1} diameters",
            if free_end { "free end " } else { "" },
            show(to - from, Kind::Length, job.units),
            span.slenderness_ratio()
        );
        let mut label = words(
            at(f64::midpoint(from, to), row),
            Align::Centre,
            Stand::Below,
            TextSize::Dimension,
            Role::Dimension,
            text,
        );
        label.gives_way = true;
        label.room_mm = Some(to - from);
        label.shorter = vec![show(to - from, Kind::Length, job.units)];
        items.push(label.into());
    }
    group(Part::Spans, items)
}
