//! The side view of a set-up: work, holding, rests, tool and tailstock from the front, as the bench draws them, without
//! words and without what only fills the screen. What the set-up takes off is hatched, the tool stands where it begins.
//!
//! The tailstock is cut off behind its front, with a break line. Where room is short the drawing is cropped to the work
//! and what holds it: chuck, quill and the feet of what stands on the bed are broken off too.

use super::crop::{Edge, broken_off};
use crate::job::{DriveKind, Job, Pass, PassKind, Setup, TailKind};
use crate::picture::bench::{Scene, bench};
use crate::picture::proportions::Proportions;
use crate::picture::shapes::arrow;
use crate::picture::tailstock::tail_places;
use crate::picture::{Bounds, Item, Line, Part, Path, Picture, Role, at};
use crate::study::{JobResult, PassResult};

/// The kink of a break line against the height of centres.
const KINK: f64 = 0.035;

/// The stretch that is cut, in the direction of the feed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct CutSpan {
    pub from_z_mm: f64,
    pub to_z_mm: f64,
}

/// From where to where the passes along the outside go, taken together; nothing where there are none.
pub(super) fn cut_span(setup: &Setup) -> Option<CutSpan> {
    let along = |pass: &&Pass| !matches!(pass.kind, PassKind::Face | PassKind::Drill | PassKind::Bore);
    let first = setup.passes.iter().find(along)?;
    let ends = setup.passes.iter().filter(along).map(Pass::span_mm);
    let (low, high) = ends.fold(first.span_mm(), |(low, high), (from, to)| (low.min(from), high.max(to)));
    Some(if first.feeds_to_headstock() {
        CutSpan { from_z_mm: high, to_z_mm: low }
    } else {
        CutSpan { from_z_mm: low, to_z_mm: high }
    })
}

/// How much of the lathe is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Extent {
    /// From the chuck to the front of the tailstock, down to the bed.
    Bed,
    /// The work and what holds it.
    Cropped,
    /// The work and the tool alone: signs stand for what holds it.
    Work,
}

/// The view in mm of the lathe.
pub(super) fn view(job: &Job, result: &JobResult, setup: &Setup, extent: Extent) -> Picture {
    let symbols = extent == Extent::Work;
    let computed = result.setup(setup.id);
    let span = cut_span(setup);
    // One pass and one result for all that the set-up takes along the outside.
    let pass = span.zip(setup.passes.first()).map(|(span, first)| Pass {
        from_z_mm: span.from_z_mm,
        to_z_mm: span.to_z_mm,
        kind: PassKind::Turn,
        ..first.clone()
    });
    let all = computed.and_then(|computed| {
        let first = computed.passes.first()?;
        Some(PassResult { before: computed.before.clone(), after: computed.after().clone(), ..first.clone() })
    });
    let pass_result = pass.as_ref().and(all.as_ref());
    let scene = Scene {
        job,
        setup,
        pass: pass.as_ref().filter(|_| pass_result.is_some()),
        pass_result,
        before: computed.map(|computed| &*computed.before),
        tool_z_mm: pass.as_ref().map_or(0.0, |pass| pass.from_z_mm),
        shape: None,
        exaggeration_times: 1.0,
        spans_row: None,
        ghosts: &[],
    };
    let sizes = scene.sizes();
    let on_centre = setup.drive.kind == DriveKind::CentreAndDog;
    let keep = Keep {
        headstock: !on_centre && setup.work_start_z_mm < sizes.headstock_right_mm,
        tool: span.is_some(),
        tail: setup.tail.kind != TailKind::Free && !symbols,
        holding: !symbols,
    };
    let mut items = Vec::new();
    keep.of(bench(&scene).items, None, &mut items);
    items = match extent {
        Extent::Bed if keep.tail => {
            let cut_z_mm = tail_places(job, setup, &sizes).body_z_mm + 0.6 * sizes.centre_height_mm;
            let kink_mm = KINK * sizes.centre_height_mm;
            broken_off(items, Edge::Right(cut_z_mm), &[Role::Tailstock, Role::Quill], kink_mm)
        }
        Extent::Cropped => cropped(items, job, setup, &sizes),
        Extent::Bed | Extent::Work => items,
    };
    let mut picture = Picture::of(items);
    let Bounds { left_mm, right_mm, .. } = picture.bounds;
    let bed = Path::segment(at(left_mm, sizes.bed_top_mm), at(right_mm, sizes.bed_top_mm), Role::BedLine);
    // Where nothing stands on the bed it would only make the drawing higher.
    let stands = !setup.rests.is_empty() || setup.tail.kind != TailKind::Free;
    if stands && extent == Extent::Bed {
        picture.items.push(bed.lined(Line::Thick).into());
    }
    if let Some(span) = span.filter(|_| !symbols) {
        // The feed, over the work where the tool goes along it.
        let up_mm = 0.5 * sizes.centre_height_mm;
        let head_mm = (0.12 * sizes.centre_height_mm).min((span.to_z_mm - span.from_z_mm).abs());
        picture.items.extend(arrow(at(span.from_z_mm, up_mm), at(span.to_z_mm, up_mm), head_mm, Role::Tool));
    }
    let bounds = Picture::of(std::mem::take(&mut picture.items));
    Picture { bounds: bounds.bounds, items: bounds.items }
}

/// Work, jaws and a third of the chuck, the tailstock's centre and the beginning of its quill; the feet of what stands on
/// the bed no further down than what turns.
fn cropped(items: Vec<Item>, job: &Job, setup: &Setup, sizes: &Proportions) -> Vec<Item> {
    let height_mm = sizes.centre_height_mm;
    let kink_mm = KINK * height_mm;
    let mut items = items;
    let (front_mm, back_mm) = (sizes.chuck_front_mm, sizes.chuck_back_mm);
    let left_mm = front_mm + (back_mm - front_mm) / 3.0;
    if setup.work_start_z_mm > left_mm {
        let roles = [Role::Chuck, Role::Casting];
        items = broken_off(items, Edge::Left(left_mm), &roles, kink_mm);
    }
    if setup.tail.kind != TailKind::Free {
        let places = tail_places(job, setup, sizes);
        let shown_mm = (job.lathe.quill_diameter_mm.value / 2.0).max(2.0 * kink_mm);
        // The foot of the tailstock stands out a little before its body.
        let body_mm = places.body_z_mm - 0.025 * (places.base_end_z_mm - places.body_z_mm);
        let right_mm = body_mm.min(places.quill_face_z_mm + shown_mm);
        items = broken_off(items, Edge::Right(right_mm), &[Role::Tailstock, Role::Quill], kink_mm);
    }
    let stands = [Role::Rest, Role::Tailstock, Role::Casting, Role::Follower];
    let mut foot_mm = if setup.rests.is_empty() { 0.0 } else { -sizes.rest_outer_mm - 2.0 * kink_mm };
    for item in &items {
        if let Item::Path(path) = item
            && path.role != Role::BedLine
            && !stands.contains(&path.role)
        {
            path.for_each_point(&mut |point| foot_mm = foot_mm.min(point.up_mm));
        }
    }
    broken_off(items, Edge::Under(foot_mm), &stands, kink_mm)
}

/// Which parts of the bench are shown.
struct Keep {
    headstock: bool,
    tool: bool,
    tail: bool,
    /// Drive and rests.
    holding: bool,
}

impl Keep {
    fn of(&self, items: Vec<Item>, part: Option<Part>, kept: &mut Vec<Item>) {
        for item in items {
            match item {
                Item::Group(group) => self.of(group.items, Some(group.part), kept),
                Item::Text(_) => {}
                Item::Path(path) => {
                    let shown = match part {
                        Some(Part::Bed | Part::Carriage | Part::Spans | Part::Labels | Part::Spring | Part::Ghost)
                        | None => false,
                        Some(Part::Tool) => self.tool && path.role == Role::Tool,
                        Some(Part::Tail) => self.tail,
                        Some(Part::Drive) => self.holding && (self.headstock || path.role != Role::Casting),
                        Some(Part::Rest(_) | Part::Follower) => self.holding,
                        Some(Part::Work) => true,
                    };
                    if shown {
                        kept.push(Item::Path(path));
                    }
                }
            }
        }
    }
}
