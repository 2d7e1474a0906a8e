//! The whole bench from the front: lathe, holding, rests, tool, work at this moment of the pass, and its spring.

use super::carriage::{CarriageState, carriage, follower, follower_z_mm, tool};
use super::headstock::{bed, grip, headstock};
use super::profile::Profile;
use super::proportions::Proportions;
use super::rest::{JawNow, rest};
use super::shapes::{group, words};
use super::spans::{Row, spans};
use super::spring::{ghost_spring, spring};
use super::tailstock::tailstock;
use super::work::{Hidden, WorkState, hidden_in_headstock, work};
use super::{Align, Fill, Item, Line, Part, Path, Picture, Point, Role, Stand, Text, TextSize, at};
use crate::job::quantity::{Kind, show};
use crate::job::{DriveKind, Job, Pass, PassId, Setup, SetupId, TailKind};
use crate::study::{JobResult, PassResult, Shape, Span, Support, Surface};

/// What is drawn: a set-up of a job at one moment of one pass.
#[derive(Clone, Copy, Debug)]
pub struct Scene<'a> {
    pub job: &'a Job,
    pub setup: &'a Setup,
    /// `None`: the work as it comes into the set-up, tool drawn back.
    pub pass: Option<&'a Pass>,
    pub pass_result: Option<&'a PassResult>,
    /// The work before the pass, or as it comes in.
    pub before: Option<&'a Surface>,
    pub tool_z_mm: f64,
    /// The work bent, with the tool where it stands.
    pub shape: Option<&'a Shape>,
    /// Spring is drawn so many times larger.
    pub exaggeration_times: f64,
    /// Where the distances between supports are written; `None`: right under the bed.
    pub spans_row: Option<Row>,
    /// Kept arrangements to compare with.
    pub ghosts: &'a [GhostScene<'a>],
}

/// What is drawn of a kept arrangement.
#[derive(Clone, Copy, Debug)]
pub struct GhostScene<'a> {
    pub letter: &'a str,
    pub setup: &'a Setup,
    pub shape: Option<&'a Shape>,
}

impl<'a> Scene<'a> {
    /// The scene of a set-up and pass; `None` where the set-up is gone. An unknown pass counts as none.
    #[must_use]
    pub fn of(
        job: &'a Job,
        result: &'a JobResult,
        setup: SetupId,
        pass: Option<PassId>,
        tool_z_mm: f64,
        shape: Option<&'a Shape>,
    ) -> Option<Self> {
        let setup = job.setup(setup)?;
        let pass = pass.and_then(|id| setup.pass(id));
        let pass_result = pass.and_then(|pass| result.pass(pass.id));
        let before =
            pass_result.map(|result| &*result.before).or_else(|| result.setup(setup.id).map(|result| &*result.before));
        let tool_z_mm = pass.map_or(tool_z_mm, |pass| {
            let (from, to) = pass.span_mm();
            tool_z_mm.clamp(from, to.max(from))
        });
        Some(Self {
            job,
            setup,
            pass,
            pass_result,
            before,
            tool_z_mm,
            shape,
            exaggeration_times: 1.0,
            spans_row: None,
            ghosts: &[],
        })
    }

    /// The feed runs towards the headstock; also where there is no pass.
    #[must_use]
    pub fn feeds_to_headstock(&self) -> bool {
        self.pass.is_none_or(Pass::feeds_to_headstock)
    }

    /// Proportions of the drawn lathe.
    #[must_use]
    pub fn sizes(&self) -> Proportions {
        Proportions::of(&self.job.lathe, self.setup.drive.kind)
    }

    /// The work at this moment: behind the tool as cut, before it as it was.
    #[must_use]
    pub fn work_state(&self) -> WorkState {
        let (shaft, setup) = (&self.job.shaft, self.setup);
        let before = Profile::of(shaft, setup, self.before);
        let inside = |spans: &[Span]| Profile::of_spans(shaft, setup, spans);
        let at_rest = |now: Profile| WorkState {
            now,
            fresh: None,
            to_cut: Profile::default(),
            holes: inside(self.before.map_or(&[], |surface| &surface.bored)),
            roots: inside(self.before.map_or(&[], |surface| &surface.roots)),
        };
        let (Some(pass), Some(result)) = (self.pass, self.pass_result) else { return at_rest(before) };
        let after = Profile::of(shaft, setup, Some(&result.after));
        let Some((start, end)) = before.ends_mm() else { return at_rest(before) };
        let (from, to) = pass.span_mm();
        let tool_z = self.tool_z_mm;
        // What is cut lies on the side of the tool that it comes from.
        let to_headstock = pass.feeds_to_headstock();
        let joined = |before: &Profile, after: &Profile| {
            let (low, high) = if to_headstock { (before, after) } else { (after, before) };
            low.between(start - 1.0, tool_z).followed_by(high.between(tool_z, end + 1.0))
        };
        WorkState {
            now: joined(&before, &after),
            fresh: Some(if to_headstock { (tool_z, to) } else { (from, tool_z) }),
            to_cut: if to_headstock { after.between(from, tool_z) } else { after.between(tool_z, to) },
            holes: joined(&inside(&result.before.bored), &inside(&result.after.bored)),
            roots: joined(&inside(&result.before.roots), &inside(&result.after.roots)),
        }
    }

    /// What each jaw of a rest (by its place in the document) does; empty where nothing is computed.
    #[must_use]
    pub fn jaws_now(&self, rest_index: usize) -> Vec<JawNow> {
        let Some(shape) = self.shape else { return Vec::new() };
        let first: usize = self.setup.rests.iter().take(rest_index).map(|rest| rest.jaws.len()).sum();
        let Some(rest) = self.setup.rests.get(rest_index) else { return Vec::new() };
        let jaws = (0..rest.jaws.len()).take(shape.jaw_gaps_mm.len().saturating_sub(first));
        jaws.map(|jaw| self.jaw_now(shape, first + jaw, Support::Jaw { rest: rest.id, jaw })).collect()
    }

    /// The same for the follower's rear and top jaw.
    #[must_use]
    pub fn follower_jaws_now(&self) -> [JawNow; 2] {
        let first: usize = self.setup.rests.iter().map(|rest| rest.jaws.len()).sum();
        [0, 1].map(|jaw| {
            let now = |shape| self.jaw_now(shape, first + jaw, Support::FollowerJaw { jaw });
            self.shape.map_or(JawNow::UNKNOWN, now)
        })
    }

    fn jaw_now(&self, shape: &Shape, place: usize, support: Support) -> JawNow {
        if shape.jaw_gaps_mm.get(place).is_some_and(|gap_mm| *gap_mm > TOUCHING_MM) {
            return JawNow::Lifted;
        }
        let is_jaw = |support: Support| matches!(support, Support::Jaw { .. } | Support::FollowerJaw { .. });
        let here_n = shape.reactions.iter().filter(|one| is_jaw(one.support)).map(|one| one.force_n);
        let supports = self.pass_result.into_iter().flat_map(|pass| pass.supports.iter().map(move |one| (pass, *one)));
        let in_pass_n = supports.filter(|(_, one)| is_jaw(*one)).filter_map(|(pass, one)| pass.largest_n(one));
        let most_n = here_n.chain(in_pass_n).fold(0.0, f64::max);
        let force_n = shape.reactions.iter().find(|one| one.support == support).map_or(0.0, |one| one.force_n);
        JawNow::Bears { load_ratio: if most_n > 0.0 { force_n / most_n } else { 0.0 } }
    }
}

/// A gap below this is rounding of the solver, not air.
const TOUCHING_MM: f64 = 1e-9;

/// The front view.
#[must_use]
pub fn bench(scene: &Scene) -> Picture {
    let Scene { job, setup, .. } = *scene;
    let lathe = &job.lathe;
    let sizes = scene.sizes();
    let state = scene.work_state();
    let now = &state.now;
    let carried = CarriageState {
        tool_z_mm: scene.tool_z_mm,
        side: setup.tool.side,
        feeds_to_headstock: scene.feeds_to_headstock(),
        cutting: scene.pass.is_some(),
    };

    let mut items = vec![bed(&sizes), headstock(&sizes, lathe, setup), carriage(&sizes, lathe, &carried)];
    let mut before_work = Vec::new();
    for (index, one) in setup.rests.iter().enumerate() {
        let halves = rest(&sizes, lathe, one, now.radius_at(one.z_mm), &scene.jaws_now(index));
        items.push(halves.behind);
        before_work.push(halves.before);
    }
    if let Some(one) = &setup.follower {
        let z_mm = follower_z_mm(one, scene.tool_z_mm, scene.feeds_to_headstock());
        let radius_mm = now.radius_at(z_mm);
        let (behind, before) = follower(&sizes, lathe, z_mm, scene.tool_z_mm, radius_mm, scene.follower_jaws_now());
        items.push(behind);
        before_work.push(before);
    }
    items.push(tailstock(job, setup, &sizes, now.ends_mm().map_or(0.0, |(_, end)| now.radius_at(end))));
    items.push(visible_work(&sizes, setup, scene, &state));
    items.push(grip(&sizes, setup, now.radius_at(0.0).max(now.radius_at(1e-3))));
    items.append(&mut before_work);
    if !scene.ghosts.is_empty() {
        items.push(group(Part::Ghost, ghost_items(scene.ghosts, &sizes, scene.exaggeration_times)));
    }
    items.push(tool(&sizes, &carried));
    if let Some(shape) = scene.shape {
        items.push(spring(shape, scene.exaggeration_times));
    }
    items.push(spans(job, setup, now, scene.spans_row.unwrap_or_else(|| Row::under_bed(&sizes))));
    items.push(group(Part::Labels, labels(scene, &sizes)));
    Picture::of(items)
}

/// The work, hidden where chuck and headstock lie before it.
fn visible_work(sizes: &Proportions, setup: &Setup, scene: &Scene, state: &WorkState) -> Item {
    let front = match setup.drive.kind {
        DriveKind::CentreAndDog => {
            let nothing = Hidden { from_z_mm: sizes.headstock_left_mm, to_z_mm: sizes.headstock_left_mm };
            return work(&scene.job.shaft, setup, state, nothing);
        }
        _ => sizes.chuck_front_mm,
    };
    let back = sizes.headstock_left_mm;
    let shown =
        |profile: &Profile| profile.between(f64::NEG_INFINITY, back).followed_by(profile.between(front, f64::INFINITY));
    let visible = WorkState { now: shown(&state.now), ..state.clone() };
    let mut items = vec![work(&scene.job.shaft, setup, &visible, Hidden { from_z_mm: back, to_z_mm: front })];
    items.push(hidden_in_headstock(&state.now, front, back));
    group(Part::Work, items)
}

/// Rests that stand nearer than this to one another are drawn as one ghost, with the letters of all.
const SAME_PLACE_MM: f64 = 1.0;

fn ghost_items(ghosts: &[GhostScene], sizes: &Proportions, times: f64) -> Vec<Item> {
    let mut places: Vec<(f64, String)> = Vec::new();
    for (ghost, rest) in ghosts.iter().flat_map(|ghost| ghost.setup.rests.iter().map(move |rest| (ghost, rest))) {
        match places.iter_mut().find(|(z_mm, _)| (z_mm - rest.z_mm).abs() < SAME_PLACE_MM) {
            Some((_, letters)) if letters.ends_with(ghost.letter) => {}
            Some((_, letters)) => *letters = format!("{letters} {}", ghost.letter),
            None => places.push((rest.z_mm, ghost.letter.to_owned())),
        }
    }
    let half = 0.11 * sizes.centre_height_mm;
    let mut items: Vec<Item> = Vec::new();
    for (z_mm, letters) in places {
        let frame = Path::rounded(
            at(z_mm - half, sizes.bed_top_mm),
            at(z_mm + half, sizes.rest_outer_mm),
            0.4 * half,
            Role::Ghost,
        );
        items.push(frame.lined(Line::Dashed).filled(Fill::Soft).into());
        let foot = at(z_mm, sizes.bed_top_mm + 0.1 * sizes.centre_height_mm);
        let mut label = words(foot, Align::Centre, Stand::Above, TextSize::Label, Role::Ghost, letters);
        label.gives_way = true;
        items.push(label.into());
    }
    items.extend(ghosts.iter().filter_map(|ghost| ghost.shape).flat_map(|shape| ghost_spring(shape, times)));
    items
}

/// Words that give way to others, in the middle of their place.
fn label(anchor: Point, stand: Stand, role: Role, text: String) -> Text {
    Text { gives_way: true, ..words(anchor, Align::Centre, stand, TextSize::Label, role, text) }
}

/// Words beside the parts.
fn labels(scene: &Scene, sizes: &Proportions) -> Vec<Item> {
    let Scene { job, setup, .. } = *scene;
    let h = sizes.centre_height_mm;
    let length = |value_mm: f64| show(value_mm, Kind::Length, job.units);
    let mut items: Vec<Item> = Vec::new();
    for (index, rest) in setup.rests.iter().enumerate() {
        let (number, place) = (index + 1, length(rest.z_mm));
        let over = at(rest.z_mm, sizes.rest_outer_mm + 0.09 * h);
        let mut name = label(over, Stand::Above, Role::Text, format!("Steady rest {number} · {place}"));
        name.shorter = vec![format!("{number} · {place}"), number.to_string()];
        items.push(group(Part::Rest(rest.id), vec![name.into()]));
    }
    let start = setup.work_start_z_mm;
    if start < sizes.headstock_left_mm {
        let text = format!("{} of bar behind the spindle", length(sizes.headstock_left_mm - start));
        let over = at(f64::midpoint(start, sizes.headstock_left_mm), 0.2 * h);
        items.push(label(over, Stand::Above, Role::BarTail, text).into());
    }
    // On the apron, where nothing else is written.
    let (role, text) = if scene.pass.is_some() {
        (Role::Tool, format!("Tool · {}", length(scene.tool_z_mm)))
    } else {
        (Role::Faint, "tool drawn back".to_owned())
    };
    let apron = at(scene.tool_z_mm, f64::midpoint(sizes.bed_top_mm, sizes.bed_bottom_mm));
    items.push(label(apron, Stand::Middle, role, text).into());
    if setup.tail.kind != TailKind::Free {
        let places = super::tailstock::tail_places(job, setup, sizes);
        let middle = f64::midpoint(places.quill_face_z_mm, places.body_z_mm);
        let text = format!("quill out {}", length(setup.tail.quill_out_mm));
        let text = Text { size: TextSize::Small, ..label(at(middle, -0.2 * h), Stand::Below, Role::Text, text) };
        items.push(text.into());
    }
    items
}
