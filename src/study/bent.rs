//! The bare work of a set-up bent by its weight, its supports and a push that is known: at rest, or at an end that is
//! faced or bored.
//!
//! Which jaws touch is solved as anywhere; then all forces are known and the whole line, slopes included, follows in
//! one walk.

use super::outline::Outline;
use super::prepared::{Prepared, Scene};
use crate::mechanics::cut::{ToolAt, Workbench};
use crate::mechanics::cutting::{Forces, Law};
use crate::mechanics::deflection::{NodeMove, bent_line};
use crate::mechanics::held::{AtTool, Held};
use crate::mechanics::walk::NodeLoad;

/// A push of the tool.
#[derive(Clone, Copy, Debug)]
pub struct Push {
    /// Taken to the nearest node.
    pub z_mm: f64,
    /// From where, and on which side; its radii do not matter.
    pub tool: ToolAt,
    pub forces: Forces,
}

/// The work bent.
#[derive(Clone, Debug)]
pub struct Bent {
    pub prepared: Prepared,
    pub bench: Workbench,
    /// Jaws and tool as loads at their nodes.
    pub loads: Vec<NodeLoad>,
    /// At every node.
    pub moves: Vec<NodeMove>,
    /// False where the contact search was stopped at its limit.
    pub solved: bool,
}

/// Bends the work; `None` where nothing holds it.
#[must_use]
pub fn bend(scene: &Scene, outline: &Outline, push: Option<&Push>) -> Option<Bent> {
    let prepared = scene.prepare(outline, None, None);
    let last = prepared.layout.nodes_mm.len() - 1;
    let node = push.map_or(last, |push| prepared.nearest_node(push.z_mm));
    let mut held = Held::default();
    held.run(&prepared.old, &prepared.old, &prepared.springs, &prepared.tracked);
    let mut at_tool = AtTool::default();
    if !held.join(node, None, &mut at_tool) {
        return None;
    }
    let mut bench = Workbench::default();
    let law = push.map(|push| (push.tool, Law::Constant(push.forces)));
    let state = bench.solve(&at_tool, &prepared.jaws, law.as_ref().map(|(tool, law)| (tool, law)), 0.0);
    if !state.held {
        return None;
    }
    let mut loads: Vec<NodeLoad> = (prepared.jaw_nodes.iter().zip(&prepared.jaws).zip(&bench.jaw_force_n))
        .filter_map(|((node, jaw), force_n)| {
            let node = (*node)?;
            Some(NodeLoad { node, force_n: jaw.against.map(|part| -part * force_n), moment_nmm: [0.0; 2] })
        })
        .collect();
    let [away_n, up_n, moment_nmm] = bench.push;
    loads.push(NodeLoad { node, force_n: [away_n, up_n], moment_nmm: [moment_nmm, 0.0] });
    loads.sort_by_key(|load| load.node);
    let moves = bent_line(&prepared.old, &prepared.springs, &loads)?;
    Some(Bent { prepared, bench, loads, moves, solved: state.solved })
}

impl Bent {
    /// The work's axis at the node nearest to a place.
    #[must_use]
    pub fn at(&self, z_mm: f64) -> NodeMove {
        self.moves[self.prepared.nearest_node(z_mm)]
    }

    /// The work swings further somewhere than half its own radius: nothing really holds it.
    #[must_use]
    pub fn swings_free(&self) -> bool {
        self.moves
            .iter()
            .zip(&self.prepared.sizes)
            .any(|(node, sizes)| node.move_mm[0].hypot(node.move_mm[1]) > sizes[0].old_mm.max(sizes[1].old_mm) / 4.0)
    }
}
