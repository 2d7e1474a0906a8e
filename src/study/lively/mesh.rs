//! The work of a pass as elements with mass: at one place of the tool, or coarser for a whole pass.
//!
//! Swinging needs far fewer elements than the sweep, whose stations stand 2 mm apart: masses err with the fourth power
//! of the length ([`crate::mechanics::mass`]). So of the sweep's nodes only those are kept that carry a shoulder, a rest,
//! a stop of the tool or the follower, and enough others to fill the gaps.

use crate::job::{Job, Pass, PassId, PassKind, SetupId};
use crate::mechanics::beam::{Elastic, Element};
use crate::mechanics::chain::JawSpring;
use crate::mechanics::cut::JawAt;
use crate::mechanics::mass::{NodeMass, element_mass};
use crate::mechanics::walk::NodeSpring;
use crate::study::force::Factors;
use crate::study::layout::Fineness;
use crate::study::outline::Outline;
use crate::study::prepared::{Prepared, Scene, Sizes, round_between};
use crate::study::results::{JobResult, PassResult};
use crate::study::sweep::take_what_was_left;
use crate::study::task::repeated;

/// Longest element for the length of the work, for a whole pass.
pub const FEWEST_ELEMENTS: f64 = 64.0;

/// A change of slope that moves a diameter by less than this share of it from one of the sweep's nodes to the next is
/// no corner.
const CORNER_RATIO: f64 = 2e-4;

/// Elements with their masses.
#[derive(Clone, Debug, Default)]
pub struct Bars {
    pub elements: Vec<Element>,
    pub masses: Vec<[NodeMass; 2]>,
}

/// The work with the tool at one place.
#[derive(Clone, Debug)]
pub struct AtTool {
    pub z_mm: Vec<f64>,
    pub elements: Vec<Element>,
    pub masses: Vec<[NodeMass; 2]>,
    pub springs: Vec<(usize, NodeSpring)>,
    pub jaws: Vec<JawSpring>,
}

/// A pass that has been computed and is looked at again.
pub struct Looked<'a> {
    pub scene: Scene<'a>,
    pub pass: &'a Pass,
    pub computed: &'a PassResult,
    pub outline: Outline,
    pub last_depth_mm: f64,
}

impl<'a> Looked<'a> {
    /// The pass, or `None` where it is not there or is not computed.
    pub fn of(job: &'a Job, result: &'a JobResult, setup: SetupId, pass: PassId) -> Option<Self> {
        Self::at(job, result, setup, pass, Fineness::USUAL, Factors::ONE)
    }

    /// The same for a result computed so finely and with the force of the chip so many times larger.
    pub fn at(
        job: &'a Job,
        result: &'a JobResult,
        setup: SetupId,
        pass: PassId,
        fineness: Fineness,
        factors: Factors,
    ) -> Option<Self> {
        let setup = job.setup(setup)?;
        let computed_setup = result.setup(setup.id)?;
        let index = setup.passes.iter().position(|candidate| candidate.id == pass)?;
        let (pass, computed) = (&setup.passes[index], computed_setup.passes.get(index)?);
        let scene = Scene::new(job, setup, &Outline::of(&computed_setup.before, &job.shaft, setup), fineness)?;
        let scene = Scene { factors, ..scene };
        let outline = Outline::of(&computed.before, &job.shaft, setup);
        let last_depth_mm = crate::study::last_depth_mm(setup, index, &computed_setup.passes);
        Some(Self { scene, pass, computed, outline, last_depth_mm })
    }

    /// The pass meets the outside that is walked here; threads, bores and plunges meet another surface.
    pub fn turns(&self) -> bool {
        matches!(repeated(self.scene.setup, self.pass).kind, PassKind::Turn | PassKind::Spring)
    }

    /// The pass made ready as the sweep had it, at all its stations or at one place only.
    pub fn prepare(&self, only_tool_mm: Option<f64>) -> Prepared {
        let mut prepared = self.scene.prepare(&self.outline, Some(self.pass), only_tool_mm);
        if let Some(behind) = &self.computed.behind {
            let left = Outline::of(behind, &self.scene.job.shaft, self.scene.setup);
            take_what_was_left(&self.scene, &mut prepared, &left);
        }
        prepared
    }
}

impl AtTool {
    /// The work as it is with the tool there and these jaws touching.
    pub fn of(
        job: &Job,
        result: &JobResult,
        setup: SetupId,
        pass: Option<PassId>,
        tool_z_mm: Option<f64>,
        touching: &[bool],
    ) -> Option<Self> {
        let looked = match pass {
            Some(pass) => Some(Looked::of(job, result, setup, pass)?),
            None => None,
        };
        if let (Some(z_mm), Some(looked)) = (tool_z_mm, looked.as_ref().filter(|looked| looked.turns())) {
            let cut = looked.scene.cut_span(looked.pass)?;
            let (low_mm, high_mm) = cut.ends_mm();
            let prepared = looked.prepare(Some(z_mm.clamp(low_mm, high_mm)));
            let place = *prepared.layout.places.first()?;
            let is_finished = |index: usize| (index >= place.node) == cut.to_headstock();
            return Some(Self::with(&looked.scene.elastic, &prepared, touching, place.follower, is_finished));
        }
        let set_up = job.setup(setup)?;
        let computed = result.setup(setup)?;
        let before = Outline::of(&computed.before, &job.shaft, set_up);
        let (scene, outline) = match looked {
            Some(looked) => (looked.scene, looked.outline),
            None => (Scene::new(job, set_up, &before, Fineness::USUAL)?, before),
        };
        let prepared = scene.prepare(&outline, None, None);
        Some(Self::with(&scene.elastic, &prepared, touching, None, |_| false))
    }

    fn with(
        elastic: &Elastic,
        prepared: &Prepared,
        touching: &[bool],
        follower: Option<usize>,
        is_finished: impl Fn(usize) -> bool,
    ) -> Self {
        let element = |index: usize| if is_finished(index) { prepared.finished[index] } else { prepared.old[index] };
        let outside = |index: usize, sizes: &Sizes| if is_finished(index) { sizes.finished_mm } else { sizes.old_mm };
        let masses = prepared.sizes.windows(2).enumerate().map(|(index, pair)| {
            let round = round_between(&pair[0][1], &pair[1][0], |sizes| outside(index, sizes));
            element_mass(prepared.old[index].length_mm, &round, elastic)
        });
        Self {
            elements: (0..prepared.old.len()).map(element).collect(),
            masses: masses.collect(),
            springs: prepared.springs.clone(),
            jaws: jaw_springs(prepared, touching, follower, Some),
            z_mm: prepared.layout.nodes_mm.clone(),
        }
    }
}

/// The jaws that touch, as springs; `renumber` gives the new number of a node.
pub fn jaw_springs(
    prepared: &Prepared,
    touching: &[bool],
    follower: Option<usize>,
    renumber: impl Fn(usize) -> Option<usize>,
) -> Vec<JawSpring> {
    let spring = |(index, jaw): (usize, &JawAt)| {
        let node = if index < prepared.jaw_nodes.len() { prepared.jaw_nodes[index] } else { follower };
        let touches = touching.get(index).copied().unwrap_or(false);
        let node = renumber(node.filter(|_| touches)?)?;
        Some(JawSpring { node, direction: jaw.direction, k_n_per_mm: jaw.k_n_per_mm })
    };
    prepared.jaws.iter().enumerate().filter_map(spring).collect()
}

/// A coarser choice of a pass's nodes.
#[derive(Clone, Debug)]
pub struct Coarse {
    /// Numbers of the nodes kept, rising.
    pub kept: Vec<usize>,
}

impl Coarse {
    /// Keeps the ends, shoulders, rests and `wanted` nodes, and fills the gaps for so many elements of one length.
    pub fn of(prepared: &Prepared, wanted: impl Iterator<Item = usize>, fewest_elements: f64) -> Self {
        let nodes_mm = &prepared.layout.nodes_mm;
        let last = nodes_mm.len() - 1;
        let mut keep = vec![false; last + 1];
        for node in prepared.tracked.iter().copied().chain(wanted).chain([0, last]) {
            keep[node] = true;
        }
        for (node, keep) in keep.iter_mut().enumerate() {
            *keep |= node > 0 && node < last && is_corner(prepared, node);
        }
        let coarsest_mm = (nodes_mm[last] - nodes_mm[0]) / fewest_elements;
        let mut kept = vec![0];
        let mut from_mm = nodes_mm[0];
        for node in 1..=last {
            let next_mm = nodes_mm[(node + 1).min(last)];
            if keep[node] || next_mm - from_mm > coarsest_mm {
                kept.push(node);
                from_mm = nodes_mm[node];
            }
        }
        Self { kept }
    }

    /// The new number of a node that is kept.
    pub fn number(&self, node: usize) -> Option<usize> {
        self.kept.binary_search(&node).ok()
    }

    /// The elements between the kept nodes, with one of the sizes as outside; `fine` are the sweep's own.
    pub fn bars(
        &self,
        prepared: &Prepared,
        elastic: &Elastic,
        fine: &[Element],
        outside: impl Fn(&Sizes) -> f64,
    ) -> Bars {
        let mut bars = Bars::default();
        for pair in self.kept.windows(2) {
            let (low, high) = (pair[0], pair[1]);
            let length_mm = prepared.layout.nodes_mm[high] - prepared.layout.nodes_mm[low];
            let round = round_between(&prepared.sizes[low][1], &prepared.sizes[high][0], &outside);
            let axial_work = fine[low..high].iter().map(|element| element.axial_n() * element.length_mm).sum::<f64>();
            bars.elements.push(Element::new(length_mm, &round, elastic, axial_work / length_mm));
            bars.masses.push(element_mass(length_mm, &round, elastic));
        }
        bars
    }
}

/// Whether a size steps or turns at a node.
fn is_corner(prepared: &Prepared, node: usize) -> bool {
    let nodes_mm = &prepared.layout.nodes_mm;
    let share = (nodes_mm[node] - nodes_mm[node - 1]) / (nodes_mm[node + 1] - nodes_mm[node - 1]);
    let sizes = &prepared.sizes;
    let largest_mm = sizes[node][0].old_mm.max(sizes[node][1].old_mm);
    [|sizes: &Sizes| sizes.old_mm, |sizes: &Sizes| sizes.finished_mm, |sizes: &Sizes| sizes.bore_mm].iter().any(|of| {
        let (before, after) = (of(&sizes[node - 1][1]), of(&sizes[node + 1][0]));
        let straight = before + (after - before) * share;
        let off = |side: usize| (of(&sizes[node][side]) - straight).abs();
        off(0).max(off(1)) > CORNER_RATIO * largest_mm
    })
}
