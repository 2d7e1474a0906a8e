//! A pass made ready for the mechanics: nodes, the two states of the work, springs, watched points, jaws.

use std::sync::Arc;

use super::axial::axial;
use super::force::Factors;
use super::heat::{Warmth, warmth};
use super::holding::{bending_span_mm, drive_spring, follower_reach_mm, jaws, tail_spring};
use super::layout::{CutSpan, Fineness, Layout, Layouts, Wish, node_at};
use super::outline::{Found, Outline, Side, wanted_surface};
use super::turning::Turning;
use crate::job::{Cut, Job, Pass, PassKind, SetTo, Setup};
use crate::mechanics::GRAVITY_N_PER_KG;
use crate::mechanics::beam::{Elastic, Element, Round};
use crate::mechanics::cut::JawAt;
use crate::mechanics::held::{AtTool, Held};
use crate::mechanics::walk::NodeSpring;

/// Headstock side and tailstock side of a node.
pub type Sides<T> = [T; 2];

/// Index into [`Sides`].
#[must_use]
pub fn side_index(side: Side) -> usize {
    match side {
        Side::Headstock => 0,
        Side::Tailstock => 1,
    }
}

/// What the pass finds and wants at one side of a node, on diameter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sizes {
    /// What is there before.
    pub old_mm: f64,
    /// What the dial said before.
    pub old_dial_mm: f64,
    /// What the dial says in this pass.
    pub dial_mm: f64,
    /// Behind the tool: the smaller of `old_mm` and `dial_mm`, or what a first sweep left.
    pub finished_mm: f64,
    pub bore_mm: f64,
    /// Centre of the surface that is there, off the middle of the section: away, up.
    pub old_off_mm: [f64; 2],
    /// What carries where a thread is cut: its root. Infinite elsewhere.
    pub core_mm: f64,
}

/// A set-up that holds the work, with no pass yet.
#[derive(Clone, Debug)]
pub struct Scene<'a> {
    pub job: &'a Job,
    pub setup: &'a Setup,
    pub elastic: Elastic,
    /// The wanted profile as it lies here.
    pub wanted: Outline,
    pub bending_mm: (f64, f64),
    pub fineness: Fineness,
    /// What turns with the work; nothing where all runs true.
    pub turning: Option<Turning>,
    /// How warm the work is, and the thrust of the centre.
    pub warmth: Warmth,
    /// On the force of the chip.
    pub factors: Factors,
    /// Where the work lies at each rest with no rest touching: away, up.
    pub lie_mm: Vec<[f64; 2]>,
    /// Places that get a node besides those of the set-up: where rests might stand.
    pub also_nodes_mm: Vec<f64>,
}

/// A pass, or one place of it, ready to be solved.
#[derive(Clone, Debug)]
pub struct Prepared {
    pub layout: Arc<Layout>,
    pub sizes: Vec<Sides<Sizes>>,
    /// Force along the work behind the tool, positive where it presses.
    pub behind_n: f64,
    /// The work as it is ahead of the tool.
    pub old: Vec<Element>,
    /// The work as it is behind it.
    pub finished: Vec<Element>,
    pub springs: Vec<(usize, NodeSpring)>,
    /// Watched nodes, rising: drive, rests, tailstock end.
    pub tracked: Vec<usize>,
    pub jaws: Vec<JawAt>,
    /// Node of each jaw of the steady rests.
    pub jaw_nodes: Vec<Option<usize>>,
    /// The outside, where the tool cuts something else or leaves it alone until the end: the crests of a thread, on
    /// which a follower rides before and after the tool alike.
    pub crest: Option<Vec<Sides<Found>>>,
    /// The tool stands in the bore and cuts its wall: sizes of the cut are those of the bore.
    pub inside: bool,
}

impl Prepared {
    /// The node nearest to a place.
    #[must_use]
    pub fn nearest_node(&self, z_mm: f64) -> usize {
        let nodes_mm = &self.layout.nodes_mm;
        let after = nodes_mm.partition_point(|node| *node < z_mm).min(nodes_mm.len() - 1);
        match after.checked_sub(1) {
            Some(before) if z_mm - nodes_mm[before] < nodes_mm[after] - z_mm => before,
            _ => after,
        }
    }
}

impl<'a> Scene<'a> {
    /// The scene of a set-up into which the work comes as `outline`; `None` where there is no length to bend.
    #[must_use]
    pub fn new(job: &'a Job, setup: &'a Setup, outline: &Outline, fineness: Fineness) -> Option<Self> {
        Self::with_nodes(job, setup, outline, fineness, Vec::new())
    }

    /// As [`Self::new`], with nodes at these places too.
    #[must_use]
    pub fn with_nodes(
        job: &'a Job,
        setup: &'a Setup,
        outline: &Outline,
        fineness: Fineness,
        also_nodes_mm: Vec<f64>,
    ) -> Option<Self> {
        let bending_mm = bending_span_mm(job, setup);
        if bending_mm.1 - bending_mm.0 < 1e-3 {
            return None;
        }
        let material = job.material();
        let weight_n_per_mm3 = material.density_kg_per_m3.value * GRAVITY_N_PER_KG * 1e-9;
        let elastic = Elastic::new(material.e_mpa.value, material.poisson_ratio.value, weight_n_per_mm3);
        let wanted = Outline::of(&wanted_surface(&job.shaft), &job.shaft, setup);
        let turning = if fineness.turns { Turning::of(job, setup, outline, bending_mm) } else { None };
        let warmth = warmth(job, setup, &material, outline, bending_mm);
        let lie_mm = vec![[0.0; 2]; setup.rests.len()];
        let factors = Factors::ONE;
        let mut scene =
            Self { job, setup, elastic, wanted, bending_mm, fineness, turning, warmth, factors, lie_mm, also_nodes_mm };
        scene.find_lie(outline);
        Some(scene)
    }

    /// Where the work lies at the rests with none touching. Work that cannot lie there without them (it would swing
    /// further than half its own radius) counts as lying on the axis.
    fn find_lie(&mut self, outline: &Outline) {
        // Rests set to the axis do not ask.
        if self.setup.rests.iter().all(|rest| rest.set_to != SetTo::Work) {
            return;
        }
        let prepared = self.prepare(outline, None, None);
        let mut held = Held::default();
        held.run_to_end(&prepared.old, &prepared.springs, &prepared.tracked);
        let mut at_tool = AtTool::default();
        if !held.join(prepared.layout.nodes_mm.len() - 1, None, &mut at_tool) || at_tool.n_lost > 0 {
            return;
        }
        let mut jaw = 0;
        for (index, rest) in self.setup.rests.iter().enumerate() {
            if let Some(node) = prepared.jaw_nodes.get(jaw).copied().flatten() {
                let [x_mm, y_mm] = at_tool.points[prepared.jaws[jaw].point].free_mm;
                if x_mm.hypot(y_mm) < prepared.sizes[node][0].old_mm / 4.0 {
                    self.lie_mm[index] = [x_mm, y_mm];
                }
            }
            jaw += rest.jaws.len();
        }
    }

    /// The stretch of the pass that meets the bending work.
    #[must_use]
    pub fn cut_span(&self, pass: &Pass) -> Option<CutSpan> {
        let (low_mm, high_mm) = self.bending_mm;
        let (from_z_mm, to_z_mm) = (pass.from_z_mm.clamp(low_mm, high_mm), pass.to_z_mm.clamp(low_mm, high_mm));
        ((from_z_mm - to_z_mm).abs() > 1e-3).then_some(CutSpan { from_z_mm, to_z_mm })
    }

    /// Makes a pass ready (or the bare work, for `None`), at all its stations or at one place of the tool only.
    #[must_use]
    pub fn prepare(&self, outline: &Outline, pass: Option<&Pass>, only_tool_mm: Option<f64>) -> Prepared {
        self.prepare_with(outline, pass, only_tool_mm, &mut Layouts::default())
    }

    /// As [`Self::prepare`], with the layouts made before.
    #[must_use]
    pub fn prepare_with(
        &self,
        outline: &Outline,
        pass: Option<&Pass>,
        only_tool_mm: Option<f64>,
        layouts: &mut Layouts,
    ) -> Prepared {
        let cut = pass.and_then(|pass| self.cut_span(pass));
        let mut corners_mm: Vec<f64> = outline.corners_mm().collect();
        let shaft = &self.job.shaft;
        for bore in &shaft.bores {
            corners_mm.extend([bore.from_s_mm, bore.to_s_mm].map(|s_mm| self.setup.z_of_s_mm(shaft, s_mm)));
        }
        if pass.is_some_and(|pass| matches!(pass.cut, Cut::ToDrawing { .. }) && pass.kind != PassKind::Spring) {
            corners_mm.extend(self.wanted.corners_mm());
        }
        let rests_mm: Vec<f64> = self.setup.rests.iter().map(|rest| rest.z_mm).collect();
        let reach_mm = cut.and_then(|cut| follower_reach_mm(self.setup, cut.to_headstock()));
        let wanted_nodes_mm = [&rests_mm[..], &self.also_nodes_mm].concat();
        let layout = layouts.lay_out(&Wish {
            bending_mm: self.bending_mm,
            cut,
            corners_mm: &corners_mm,
            wanted_nodes_mm: &wanted_nodes_mm,
            follower_reach_mm: reach_mm,
            fineness: self.fineness,
            stop_after_mm: self.setup.follower.as_ref().map(|follower| follower.start_mm),
            only_tool_mm,
        });
        let sizes = self.sizes(&layout.nodes_mm, outline, pass, cut);
        let axial = axial(self, outline, pass, cut);
        // The finished work lies where the tool has been.
        let to_headstock = cut.is_some_and(|cut| cut.to_headstock());
        let [ahead_n, behind_n] =
            if to_headstock { [axial.front_n, axial.back_n] } else { [axial.back_n, axial.front_n] };
        let old = self.elements(&layout.nodes_mm, &sizes, ahead_n, |sizes| sizes.old_mm);
        let finished = if cut.is_some() {
            self.elements(&layout.nodes_mm, &sizes, behind_n, |sizes| sizes.finished_mm)
        } else {
            old.clone()
        };
        let last = layout.nodes_mm.len() - 1;
        let mut springs = vec![(0, drive_spring(self.job, self.setup))];
        springs.extend(tail_spring(self.job, self.setup).map(|spring| (last, spring)));

        let rest_nodes: Vec<_> = rests_mm.iter().map(|z_mm| node_at(&layout.nodes_mm, *z_mm)).collect();
        let mut tracked: Vec<usize> = rest_nodes.iter().flatten().copied().chain([0, last]).collect();
        tracked.sort_unstable();
        let point_of_rest: Vec<_> = points_of_rests(&tracked, &rest_nodes);
        let jaw_nodes = (self.setup.rests.iter().zip(&rest_nodes))
            .flat_map(|(rest, node)| rest.jaws.iter().map(|_| *node))
            .collect();
        let jaws = jaws(self.setup, &point_of_rest, &self.lie_mm);
        let (crest, inside) = (None, false);
        Prepared { layout, sizes, behind_n, old, finished, springs, tracked, jaws, jaw_nodes, crest, inside }
    }

    /// Sizes at both sides of every node.
    fn sizes(
        &self,
        nodes_mm: &[f64],
        outline: &Outline,
        pass: Option<&Pass>,
        cut: Option<CutSpan>,
    ) -> Vec<Sides<Sizes>> {
        let mut old_at = outline.reader();
        let mut wanted_at = self.wanted.reader();
        nodes_mm
            .iter()
            .map(|&z_mm| {
                [Side::Headstock, Side::Tailstock].map(|side| {
                    let other = if side == Side::Headstock { Side::Tailstock } else { Side::Headstock };
                    let found = (old_at.at(z_mm, side)).or_else(|| old_at.at(z_mm, other)).unwrap_or(Found {
                        diameter_mm: 1.0,
                        dial_mm: 1.0,
                        off_mm: [0.0; 2],
                    });
                    let bored_mm = outline.bored_at(z_mm, side).map_or(0.0, |bored| bored.diameter_mm);
                    let bore_mm = self.bore_mm(z_mm, side).max(bored_mm);
                    let core_mm = outline.root_at(z_mm, side).map_or(f64::INFINITY, |root| root.diameter_mm);
                    let in_cut = cut.is_some_and(|cut| {
                        let (low_mm, high_mm) = cut.ends_mm();
                        match side {
                            Side::Headstock => z_mm > low_mm + 1e-9 && z_mm <= high_mm + 1e-9,
                            Side::Tailstock => z_mm >= low_mm - 1e-9 && z_mm < high_mm - 1e-9,
                        }
                    });
                    let dial_mm = match pass {
                        Some(pass) if in_cut => {
                            let wanted = || wanted_at.at(z_mm, side).map(|found| found.diameter_mm);
                            dial(pass, found.dial_mm, wanted).max(bore_mm + 1e-3)
                        }
                        _ => found.dial_mm,
                    };
                    let finished_mm = if in_cut { found.diameter_mm.min(dial_mm) } else { found.diameter_mm };
                    Sizes {
                        old_mm: found.diameter_mm,
                        old_dial_mm: found.dial_mm,
                        dial_mm,
                        finished_mm,
                        bore_mm,
                        old_off_mm: found.off_mm,
                        core_mm,
                    }
                })
            })
            .collect()
    }

    /// Elements between the nodes, with one of the sizes as outside.
    pub fn elements(
        &self,
        nodes_mm: &[f64],
        sizes: &[Sides<Sizes>],
        axial_n: f64,
        outside: impl Fn(&Sizes) -> f64,
    ) -> Vec<Element> {
        (nodes_mm.windows(2).zip(sizes.windows(2)))
            .map(|(ends_mm, pair)| {
                let carries = |sizes: &Sizes| outside(sizes).min(sizes.core_mm);
                let round = round_between(&pair[0][1], &pair[1][0], carries);
                Element::new(ends_mm[1] - ends_mm[0], &round, &self.elastic, axial_n)
            })
            .collect()
    }

    /// The largest bore of the stock at a side of a place; 0 where it is solid.
    pub fn bore_mm(&self, z_mm: f64, side: Side) -> f64 {
        let shaft = &self.job.shaft;
        let mut largest_mm: f64 = 0.0;
        for bore in &shaft.bores {
            let ends = [bore.from_s_mm, bore.to_s_mm].map(|s_mm| self.setup.z_of_s_mm(shaft, s_mm));
            let (low_mm, high_mm) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
            let inside = match side {
                Side::Headstock => z_mm > low_mm + 1e-9 && z_mm <= high_mm + 1e-9,
                Side::Tailstock => z_mm >= low_mm - 1e-9 && z_mm < high_mm - 1e-9,
            };
            if inside {
                let share = ((z_mm - ends[0]) / (ends[1] - ends[0])).clamp(0.0, 1.0);
                largest_mm =
                    largest_mm.max(bore.start_diameter_mm + (bore.end_diameter_mm - bore.start_diameter_mm) * share);
            }
        }
        largest_mm
    }
}

/// The section between the tailstock side of one node and the headstock side of the next.
pub(crate) fn round_between(low: &Sizes, high: &Sizes, outside: impl Fn(&Sizes) -> f64) -> Round {
    Round {
        outside0_mm: outside(low),
        outside1_mm: outside(high),
        bore0_mm: low.bore_mm.min(0.99 * outside(low)),
        bore1_mm: high.bore_mm.min(0.99 * outside(high)),
    }
}

/// Number in `tracked` of each rest, or `None` off the work. The drive is number 0 and the tailstock end the last.
fn points_of_rests(tracked: &[usize], rest_nodes: &[Option<usize>]) -> Vec<Option<usize>> {
    rest_nodes.iter().map(|node| node.and_then(|node| tracked.iter().position(|tracked| *tracked == node))).collect()
}

/// The size the dial stands at in a pass, where it stood at `old_dial_mm`.
#[must_use]
pub fn dial(pass: &Pass, old_dial_mm: f64, wanted_mm: impl FnOnce() -> Option<f64>) -> f64 {
    if pass.kind == PassKind::Spring {
        return old_dial_mm;
    }
    let asked_mm = match pass.cut {
        Cut::Depth { on_diameter_mm } => old_dial_mm - on_diameter_mm,
        Cut::ToDiameter { diameter_mm } => diameter_mm,
        Cut::ToDrawing { leave_on_diameter_mm } => {
            wanted_mm().map_or(old_dial_mm, |wanted| wanted + leave_on_diameter_mm)
        }
    };
    asked_mm.min(old_dial_mm)
}
