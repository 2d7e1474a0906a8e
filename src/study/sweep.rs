//! One pass: the tool goes from station to station, the work gives, the jaws push back, a surface is left.
//!
//! Ahead of the tool the work has the surface the last pass really left, behind it the size the dial says; where the
//! error comes out above 1 % of the diameter, a second sweep takes what the first one left. A follower behind the tool
//! bears on the surface this very sweep has just left, one jaw distance ago.

use super::force::ForceModel;
use super::holding::{NEVER_MM, supports, tool_side};
use super::layout::{CutSpan, Place};
use super::outline::{Outline, Piece, Side};
use super::prepared::{Prepared, Scene, side_index};
use super::results::{Measured, PassResult, Station, Status};
use super::task::{Task, repeated};
use super::{bore, end_work, point_cut, thread};
use crate::job::{FollowerSide, Material, Pass, PassKind};
use crate::mechanics::RIGID_N_PER_MM;
use crate::mechanics::contact::Touching;
use crate::mechanics::cut::{CutState, JawAt, ToolAt, Workbench};
use crate::mechanics::held::{AtTool, Held};

/// An error above this share of the diameter asks for a second sweep.
const SECOND_SWEEP_RATIO: f64 = 0.01;

/// What is carried along a sweep besides the result.
#[derive(Debug, Default)]
struct Travel {
    /// Place, and how much over the dial's radius the surface left there is, in cutting order.
    left: Vec<(f64, f64)>,
    /// How much over the dial's radius the surface was where the follower's jaws were set.
    follower_set_mm: Option<f64>,
    /// Radial depths of the last three stations, newest first, to guess the next from.
    depth_mm: [f64; 3],
}

/// Computes a pass. `outline` is the work before it; `last_depth_mm` the radial depth of the pass before.
#[must_use]
pub fn sweep(
    scene: &Scene,
    outline: &Outline,
    material: &Material,
    pass: &Pass,
    last_depth_mm: f64,
    room: &mut Room,
) -> PassResult {
    let surface = |outline: &Outline| outline.to_surface(&scene.job.shaft, scene.setup);
    let mut result = PassResult {
        pass: pass.id,
        status: Status::NothingToCut,
        stations: Vec::new(),
        supports: supports(scene.setup),
        forces_n: Vec::new(),
        before: surface(outline),
        behind: None,
        after: surface(outline),
        measured: Measured::Outside,
        plunge: None,
        end: None,
    };
    let repeated = repeated(scene.setup, pass);
    let task = Task { scene, outline, material, pass, last_depth_mm };
    match repeated.kind {
        PassKind::Turn | PassKind::Spring => {}
        PassKind::Thread => return thread::sweep(&task, repeated.feed_mm_per_rev, room, result),
        PassKind::Bore => return bore::sweep(&task, room, result),
        PassKind::Groove | PassKind::Part => return point_cut::plunge(&task, repeated, room, result),
        PassKind::Face => return end_work::face(&task, result),
        PassKind::Drill => return end_work::drill(&task, result),
    }
    let Some(cut) = scene.cut_span(pass) else { return result };
    let mut prepared = scene.prepare(outline, Some(pass), None);
    let model = ForceModel::new(material, &scene.setup.tool, pass, last_depth_mm);
    run_through(scene, outline, &mut prepared, cut, &model, room, &mut result);
    if matches!(result.status, Status::Solved | Status::StoppedEarly) {
        result.after = surface(&outline.with_fresh(&fresh_pieces(&result.stations)));
    }
    result
}

/// Solves all places of a prepared pass, and once more where the errors are too large to take the dial's sizes behind
/// the tool; puts the stations in rising order.
pub fn run_through(
    scene: &Scene,
    outline: &Outline,
    prepared: &mut Prepared,
    cut: CutSpan,
    model: &ForceModel,
    room: &mut Room,
    result: &mut PassResult,
) {
    Run::new(scene, prepared, cut, room).go(model, result);
    // What a boring tool leaves is far from changing the work's stiffness.
    if needs_second_sweep(&result.stations) && result.status == Status::Solved && !prepared.inside {
        let mut rising = result.stations.clone();
        if cut.to_headstock() {
            rising.reverse();
        }
        let left = outline.with_fresh(&fresh_pieces(&rising));
        take_what_was_left(scene, prepared, &left);
        result.behind = Some(left.to_surface(&scene.job.shaft, scene.setup));
        Run::new(scene, prepared, cut, room).go(model, result);
    }
    if cut.to_headstock() {
        result.stations.reverse();
        let n_supports = result.supports.len();
        let rows: Vec<f64> = result.forces_n.chunks(n_supports).rev().flatten().copied().collect();
        result.forces_n = rows;
    }
}

/// An error somewhere is so large that the stiffness behind the tool must follow it.
fn needs_second_sweep(stations: &[Station]) -> bool {
    stations.iter().any(|s| s.error_mm.abs() > SECOND_SWEEP_RATIO * s.wanted_diameter_mm)
}

/// Puts the diameters a first sweep left in place of the dial's behind the tool.
pub fn take_what_was_left(scene: &Scene, prepared: &mut Prepared, left: &Outline) {
    let mut left_at = left.reader();
    for (z_mm, sizes) in prepared.layout.nodes_mm.iter().zip(&mut prepared.sizes) {
        for side in [Side::Headstock, Side::Tailstock] {
            if let Some(found) = left_at.at(*z_mm, side) {
                sizes[side_index(side)].finished_mm = found.diameter_mm;
            }
        }
    }
    prepared.finished = scene.elements(&prepared.layout.nodes_mm, &prepared.sizes, |sizes| sizes.finished_mm);
}

/// The surface between stations, in rising order.
pub fn fresh_pieces(stations: &[Station]) -> Vec<Piece> {
    stations
        .windows(2)
        .filter(|pair| pair[1].z_mm > pair[0].z_mm)
        .map(|pair| Piece {
            from_z_mm: pair[0].z_mm,
            to_z_mm: pair[1].z_mm,
            diameter_mm: [pair[0].left_diameter_mm, pair[1].left_diameter_mm],
            dial_mm: [pair[0].wanted_diameter_mm, pair[1].wanted_diameter_mm],
        })
        .collect()
}

/// Memory that one pass hands to the next.
#[derive(Debug, Default)]
pub struct Room {
    held: Held,
    at_tool: AtTool,
    bench: Workbench,
}

/// A pass under way: the walks are done, stations follow each other.
pub struct Run<'a> {
    scene: &'a Scene<'a>,
    prepared: &'a Prepared,
    cut: CutSpan,
    room: &'a mut Room,
    jaws: Vec<JawAt>,
    travel: Travel,
}

impl<'a> Run<'a> {
    /// Walks both ways along the prepared work.
    #[must_use]
    pub fn new(scene: &'a Scene<'a>, prepared: &'a Prepared, cut: CutSpan, room: &'a mut Room) -> Self {
        let (front, back) =
            if cut.to_headstock() { (&prepared.old, &prepared.finished) } else { (&prepared.finished, &prepared.old) };
        room.bench.touching = Touching::default();
        room.held.run(front, back, &prepared.springs, &prepared.tracked);
        Self { scene, prepared, cut, room, jaws: prepared.jaws.clone(), travel: Travel::default() }
    }

    /// Tells the run what an earlier sweep left behind the tool, for a single place of it.
    pub fn remember(&mut self, left: Vec<(f64, f64)>, follower_set_mm: Option<f64>) {
        self.travel.left = left;
        self.travel.follower_set_mm = follower_set_mm;
    }

    fn go(&mut self, model: &ForceModel, result: &mut PassResult) {
        result.stations.clear();
        result.forces_n.clear();
        result.status = Status::Solved;
        for place in &self.prepared.layout.places {
            let Some((station, solved)) = self.station(place, model) else {
                result.status = Status::NotHeld;
                result.stations.clear();
                result.forces_n.clear();
                return;
            };
            if !solved {
                result.status = Status::StoppedEarly;
            }
            if station.spring_x_mm.abs().max(station.spring_y_mm.abs()) > station.old_diameter_mm / 4.0 {
                result.status = Status::NotHeld;
            }
            self.travel.left.push((station.z_mm, station.error_mm / 2.0));
            let [last_mm, before_mm, _] = self.travel.depth_mm;
            self.travel.depth_mm = [station.real_depth_mm / 2.0, last_mm, before_mm];
            result.stations.push(station);
            self.put_forces(&mut result.forces_n);
        }
    }

    /// Solves one place; `None` where nothing holds the work.
    pub fn station(&mut self, place: &Place, model: &ForceModel) -> Option<(Station, bool)> {
        let z_mm = self.prepared.layout.nodes_mm[place.node];
        let sizes = &self.prepared.sizes[place.node][side_index(place.side)];
        if !self.room.held.join(place.node, place.follower, &mut self.room.at_tool) {
            return None;
        }
        self.place_follower(place);
        let inward = if self.prepared.inside { -1.0 } else { 1.0 };
        let nominal_depth_mm = inward * (sizes.old_dial_mm - sizes.dial_mm) / 2.0;
        let tool = self.tool_at(place, nominal_depth_mm);
        let crest = self.prepared.crest.as_ref().map(|crest| crest[place.node][side_index(place.side)]);
        let thread_mm = crest.map_or(0.0, |crest| (crest.diameter_mm - sizes.old_mm) / 2.0);
        let law = model.law_over(sizes.old_dial_mm, nominal_depth_mm, thread_mm);
        let [last_mm, before_mm, third_mm] = self.travel.depth_mm;
        let guess_mm = 3.0 * (last_mm - before_mm) + third_mm;
        let state = self.room.bench.solve(&self.room.at_tool, &self.jaws, Some((&tool, &law)), guess_mm);
        Some((station(z_mm, sizes.dial_mm, sizes.old_mm, &state), state.solved))
    }

    fn tool_at(&self, place: &Place, nominal_depth_mm: f64) -> ToolAt {
        let sizes = &self.prepared.sizes[place.node][side_index(place.side)];
        let side = tool_side(self.scene.setup);
        let wanted_radius_mm = sizes.dial_mm / 2.0;
        let half_depth_mm = nominal_depth_mm.max(0.0) / 2.0;
        let lever_mm = wanted_radius_mm + if self.prepared.inside { -half_depth_mm } else { half_depth_mm };
        ToolAt {
            wanted_radius_mm,
            old_radius_mm: sizes.old_mm / 2.0,
            carriage_mm_per_n: 1.0 / self.scene.job.lathe.carriage_k_n_per_mm.value_or(RIGID_N_PER_MM),
            side,
            feed_lever_mm: side * if self.cut.to_headstock() { -lever_mm } else { lever_mm },
            inside: self.prepared.inside,
        }
    }

    /// Puts the follower's jaws where the carriage is, on the surface that is there. What counts is how much it stands
    /// over the dial: at a step of the work the jaws are taken to be set again.
    fn place_follower(&mut self, place: &Place) {
        let Some(follower) = &self.scene.setup.follower else { return };
        let first = self.jaws.len() - follower.jaws.len();
        let ahead = if self.cut.to_headstock() { 0 } else { 1 };
        let over_mm = place.follower.and_then(|node| match (follower.side, &self.prepared.crest) {
            // The crests of a thread are there before and after the tool.
            (_, Some(crest)) => Some((crest[node][ahead].diameter_mm - crest[node][ahead].dial_mm) / 2.0),
            (FollowerSide::Behind, None) => self.fresh_over_mm(self.prepared.layout.nodes_mm[node]),
            (FollowerSide::Ahead, None) => {
                let sizes = &self.prepared.sizes[node][ahead];
                Some((sizes.old_mm - sizes.old_dial_mm) / 2.0)
            }
        });
        for (jaw, set) in self.jaws[first..].iter_mut().zip(&follower.jaws) {
            let Some(over_mm) = over_mm else {
                jaw.point = 0;
                jaw.gap_mm = NEVER_MM;
                continue;
            };
            let set_on_mm = *self.travel.follower_set_mm.get_or_insert(over_mm);
            jaw.point = self.room.at_tool.points.len() - 1;
            jaw.gap_mm = set.gap_mm + (set_on_mm - over_mm);
        }
    }

    /// How much over the dial's radius this sweep has left the work behind the tool, if it has been there; on a shoulder
    /// the side the tool came from.
    fn fresh_over_mm(&self, z_mm: f64) -> Option<f64> {
        let left = &self.travel.left;
        let way = |place_mm: f64| (place_mm - self.cut.from_z_mm) * if self.cut.to_headstock() { -1.0 } else { 1.0 };
        let target = way(z_mm);
        if target < -1e-6 {
            return None;
        }
        let after = left.partition_point(|(place_mm, _)| way(*place_mm) < target - 1e-9);
        let (place_mm, over_mm) = *left.get(after).or(left.last())?;
        let Some((before_mm, before_over_mm)) = after.checked_sub(1).and_then(|index| left.get(index)).copied() else {
            return Some(over_mm);
        };
        let gone_mm = way(place_mm) - way(before_mm);
        if gone_mm <= 0.0 {
            return Some(over_mm);
        }
        let share = ((target - way(before_mm)) / gone_mm).clamp(0.0, 1.0);
        Some(before_over_mm + (over_mm - before_over_mm) * share)
    }

    /// Force on the work from every support, in the order of the columns.
    pub fn put_forces(&self, forces_n: &mut Vec<f64>) {
        let at_tool = &self.room.at_tool;
        let ends = [(0, at_tool.points[0].free_mm), (self.prepared.tracked.len() - 1, at_tool.tail_free_mm)];
        for ((_, spring), (point, free_mm)) in self.prepared.springs.iter().zip(ends) {
            // Counted from where the spring itself stands.
            let place = self.room.bench.point_mm(at_tool, &self.jaws, point, free_mm);
            forces_n.extend(place.map(|place_mm| -spring.radial_n_per_mm * place_mm));
        }
        forces_n.extend_from_slice(&self.room.bench.jaw_force_n);
    }

    /// Jaw forces, clearances and tool push of the last station.
    #[must_use]
    pub fn bench(&self) -> &Workbench {
        &self.room.bench
    }

    /// The jaws as they stood at the last station, the follower's included.
    #[must_use]
    pub fn jaws(&self) -> &[JawAt] {
        &self.jaws
    }
}

fn station(z_mm: f64, dial_mm: f64, old_mm: f64, state: &CutState) -> Station {
    let left_diameter_mm = 2.0 * state.radius_left_mm;
    Station {
        z_mm,
        wanted_diameter_mm: dial_mm,
        old_diameter_mm: old_mm,
        left_diameter_mm,
        error_mm: left_diameter_mm - dial_mm,
        spring_x_mm: state.spring_mm[0],
        spring_y_mm: state.spring_mm[1],
        real_depth_mm: 2.0 * state.depth_mm,
        fc_n: state.forces.main_n,
        fp_n: state.forces.radial_n,
        ff_n: state.forces.feed_n,
        residual_mm: state.residual_mm,
    }
}
