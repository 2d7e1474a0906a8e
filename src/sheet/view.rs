//! The side view of a set-up: work, holding, rests, tool and tailstock from the front, as the bench draws them, without
//! words and without what only fills the screen. What the set-up takes off is hatched, the tool stands where it begins.
//!
//! The tailstock is cut off behind its front, with a break line; nothing else is left out.

use crate::job::{DriveKind, Job, Pass, PassKind, Setup, TailKind};
use crate::picture::bench::{Scene, bench};
use crate::picture::print::flattened;
use crate::picture::shapes::arrow;
use crate::picture::tailstock::tail_places;
use crate::picture::{Bounds, Item, Line, Part, Path, Picture, Point, Role, at};
use crate::study::{JobResult, PassResult};

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

/// The view in mm of the lathe; the work and the tool alone where signs stand for what holds it.
pub(super) fn view(job: &Job, result: &JobResult, setup: &Setup, symbols: bool) -> Picture {
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
        before: computed.map(|computed| &computed.before),
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
    if keep.tail {
        let places = tail_places(job, setup, &sizes);
        let length_mm = places.base_end_z_mm - places.body_z_mm;
        let cut_z_mm = places.body_z_mm + length_mm.min(0.6 * sizes.centre_height_mm);
        if cut_z_mm < places.base_end_z_mm {
            items = items.into_iter().filter_map(|item| cut_off(item, cut_z_mm)).collect();
            items.push(break_line(cut_z_mm, sizes.centre_height_mm));
        }
    }
    let mut picture = Picture::of(items);
    let Bounds { left_mm, right_mm, .. } = picture.bounds;
    let bed = Path::segment(at(left_mm, sizes.bed_top_mm), at(right_mm, sizes.bed_top_mm), Role::BedLine);
    // Where nothing stands on the bed it would only make the drawing higher.
    let stands = !setup.rests.is_empty() || setup.tail.kind != TailKind::Free;
    if stands && !symbols {
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

/// What of a path lies to the left of a place, all of it for what is no part of the tailstock.
fn cut_off(item: Item, z_mm: f64) -> Option<Item> {
    let Item::Path(path) = item else { return Some(item) };
    let mut reach_mm = f64::NEG_INFINITY;
    path.for_each_point(&mut |point| reach_mm = reach_mm.max(point.right_mm));
    if reach_mm <= z_mm || !matches!(path.role, Role::Tailstock | Role::Quill) {
        return Some(Item::Path(path));
    }
    let corners = flattened(&path);
    let n = if path.closed { corners.len() } else { corners.len() - 1 };
    let mut kept: Vec<Point> = Vec::new();
    // Sutherland and Hodgman's clipping at one edge.
    for (index, from) in corners.iter().take(n.max(1)).enumerate() {
        let to = corners[(index + 1) % corners.len()];
        if from.right_mm <= z_mm {
            kept.push(*from);
        }
        if (from.right_mm <= z_mm) != (to.right_mm <= z_mm) {
            let share = (z_mm - from.right_mm) / (to.right_mm - from.right_mm);
            kept.push(at(z_mm, from.up_mm + share * (to.up_mm - from.up_mm)));
        }
    }
    if !path.closed && corners.last().is_some_and(|last| last.right_mm <= z_mm) {
        kept.extend(corners.last());
    }
    let cut = Path::through(kept, path.role);
    (!cut.segments.is_empty()).then(|| Path { closed: path.closed, line: path.line, fill: path.fill, ..cut }.into())
}

/// A thin line with a kink where a part is broken off.
fn break_line(z_mm: f64, height_mm: f64) -> Item {
    let (low, high, kink) = (-1.02 * height_mm, 0.34 * height_mm, 0.05 * height_mm);
    let points = [
        at(z_mm, low),
        at(z_mm, -2.0 * kink),
        at(z_mm + kink, -kink),
        at(z_mm - kink, kink),
        at(z_mm, 2.0 * kink),
        at(z_mm, high),
    ];
    Path::through(points, Role::Tailstock).into()
}
