//! One pass: the tool goes from station to station, the work gives, the jaws push back, a surface is left.
//!
//! Ahead of the tool the work has the surface the last pass really left, behind it the size the dial says; where the
//! error comes out above 1 % of the diameter, a second sweep takes what the first one left. A follower behind the tool
//! bears on the surface this very sweep has just left, one jaw distance ago.

use std::sync::Arc;

use super::between::over_between;
use super::force::ForceModel;
use super::holding::{NEVER_MM, supports, tool_side};
use super::layout::{CutSpan, Layouts, Place, inward};
use super::outline::{Outline, Piece, SAME_PLACE_MM, Side};
use super::prepared::{Prepared, Scene, side_index};
use super::results::{Measured, PassResult, Station, Status, Surface, Turned};
use super::task::{Task, repeated};
use super::turning::{TurningWork, indicator_reading_mm, lobes, on_cat_heads};
use super::{bore, end_work, point_cut, thread};
use crate::job::{FollowerSide, Material, Pass, PassKind};
use crate::mechanics::RIGID_N_PER_MM;
use crate::mechanics::contact::Touching;
use crate::mechanics::cut::{CutState, JawAt, ToolAt, Turn, Workbench};
use crate::mechanics::cutting::Law;
use crate::mechanics::held::{AtTool, Held};

/// A turn of the work is worked out at so many places of a pass, and taken straight between them.
const TURNED_PLACES: usize = 48;

/// An error above this share of the diameter asks for a second sweep.
const SECOND_SWEEP_RATIO: f64 = 0.01;

/// What is carried along a sweep besides the result.
#[derive(Debug, Default)]
struct Travel {
    /// Place, and how much over the dial's radius the surface left there is, in cutting order.
    left: Vec<(f64, f64)>,
    /// How much over the dial's radius the surface was where the follower's jaws were set.
    follower_set_mm: Option<f64>,
    /// Place and offset of the fresh surface's centre, where a turn was worked out, in cutting order.
    off: Vec<(f64, [f64; 2])>,
    /// Radial depths of the last three stations, newest first, to guess the next from.
    depth_mm: [f64; 3],
}

/// Computes a pass. `outline` is the work before it, as it lies here, and `before` the same on the shaft;
/// `last_depth_mm` is the radial depth of the pass before.
#[must_use]
pub fn sweep(
    scene: &Scene,
    outline: &Outline,
    before: &Arc<Surface>,
    material: &Material,
    pass: &Pass,
    last_depth_mm: f64,
    room: &mut Room,
) -> PassResult {
    let mut result = PassResult {
        pass: pass.id,
        status: Status::NothingToCut,
        stations: Vec::new(),
        supports: supports(scene.setup),
        forces_n: Vec::new(),
        after: before.clone(),
        before: before.clone(),
        behind: None,
        turns: false,
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
    let mut prepared = scene.prepare_with(outline, Some(pass), None, &mut room.layouts);
    result.turns = scene.turning.is_some();
    let model = ForceModel::new(material, &scene.setup.tool, pass, last_depth_mm).times(scene.factors);
    run_through(scene, outline, &mut prepared, cut, &model, room, &mut result);
    if matches!(result.status, Status::Solved | Status::StoppedEarly) {
        let after = outline.with_fresh(&fresh_pieces(&result.stations));
        result.after = Arc::new(after.to_surface(&scene.job.shaft, scene.setup));
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
        // Row by row: all backwards, then each row again.
        result.forces_n.reverse();
        result.forces_n.chunks_mut(result.supports.len()).for_each(<[f64]>::reverse);
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
    let behind_n = prepared.behind_n;
    prepared.finished = scene.elements(&prepared.layout.nodes_mm, &prepared.sizes, behind_n, |sizes| sizes.finished_mm);
}

/// The surface between stations, in rising order.
pub fn fresh_pieces(stations: &[Station]) -> Vec<Piece> {
    let mut pieces = Vec::with_capacity(stations.len());
    pieces.extend(stations.windows(2).filter(|pair| pair[1].z_mm > pair[0].z_mm).map(|pair| Piece {
        from_z_mm: pair[0].z_mm,
        to_z_mm: pair[1].z_mm,
        diameter_mm: [pair[0].left_diameter_mm, pair[1].left_diameter_mm],
        dial_mm: [pair[0].wanted_diameter_mm, pair[1].wanted_diameter_mm],
        off_mm: [pair[0].turned.off_mm, pair[1].turned.off_mm],
    }));
    pieces
}

/// Memory that one pass hands to the next.
#[derive(Debug, Default)]
pub struct Room {
    layouts: Layouts,
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
    turning: Option<TurningWork<'a>>,
}

impl<'a> Run<'a> {
    /// Walks both ways along the prepared work.
    #[must_use]
    pub fn new(scene: &'a Scene<'a>, prepared: &'a Prepared, cut: CutSpan, room: &'a mut Room) -> Self {
        let (front, back) =
            if cut.to_headstock() { (&prepared.old, &prepared.finished) } else { (&prepared.finished, &prepared.old) };
        room.bench.touching = Touching::default();
        room.held.run(front, back, &prepared.springs, &prepared.tracked);
        // A turn is worked out for turning along the outside only.
        let outside = !prepared.inside && prepared.crest.is_none();
        let turning = scene
            .turning
            .as_ref()
            .filter(|_| outside)
            .map(|turning| TurningWork::new(turning, scene.job, scene.setup, prepared, [front, back]));
        Self { scene, prepared, cut, room, jaws: prepared.jaws.clone(), travel: Travel::default(), turning }
    }

    /// Tells the run what an earlier sweep left behind the tool, for a single place of it.
    pub fn remember(&mut self, left: Vec<(f64, f64)>, off: Vec<(f64, [f64; 2])>, follower_set_mm: Option<f64>) {
        self.travel.off = off;
        self.travel.left = left;
        self.travel.follower_set_mm = follower_set_mm;
    }

    /// Begins with the jaws touching that push in a row of support forces, the jaws last, of an earlier sweep.
    pub fn lie_as(&mut self, forces_n: &[f64]) {
        let Some(first) = forces_n.len().checked_sub(self.jaws.len()) else { return };
        let mut touching = Touching::none(self.jaws.len());
        forces_n[first..].iter().enumerate().for_each(|(jaw, force_n)| touching.set(jaw, *force_n > 0.0));
        self.room.bench.touching = touching;
    }

    fn go(&mut self, model: &ForceModel, result: &mut PassResult) {
        result.stations.clear();
        result.forces_n.clear();
        result.status = Status::Solved;
        let places = &self.prepared.layout.places;
        result.stations.reserve(places.len());
        result.forces_n.reserve(places.len() * result.supports.len());
        self.travel.left.reserve(places.len());
        let every = places.len().div_ceil(TURNED_PLACES);
        let mut turned_at = Vec::new();
        for (index, place) in places.iter().enumerate() {
            let Some((mut station, solved)) = self.station(place, model) else {
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
            self.put_forces(&mut result.forces_n);
            let at_shoulder = [index.checked_sub(1), Some(index + 1)]
                .into_iter()
                .flatten()
                .any(|near| places.get(near).is_some_and(|near| near.node == place.node));
            // A rest bends the path of the work sharply.
            let at_rest = self.prepared.jaw_nodes.contains(&Some(place.node));
            let wanted = index % every == 0 || at_shoulder || at_rest || index + 1 == places.len();
            // What a turn leaves where still work has no answer means nothing.
            if solved
                && wanted
                && let Some((turned, solved)) = self.turned(place, model, &station)
            {
                let found = turned.is_finite();
                if !(solved && found) && result.status == Status::Solved {
                    result.status = Status::StoppedEarly;
                }
                if found {
                    station.turned = turned;
                    self.travel.off.push((station.z_mm, turned.off_mm));
                    turned_at.push(index);
                }
            }
            result.stations.push(station);
        }
        self.fill_turned(&turned_at, &mut result.stations);
    }

    /// One turn of the work at a place just solved, and whether all its angles were; nothing where all runs true.
    pub fn turned(&mut self, place: &Place, model: &ForceModel, station: &Station) -> Option<(Turned, bool)> {
        let mut turning = self.turning.take()?;
        let turned = turning.join(place.node, place.follower).then(|| {
            let (tool, law) = self.tool_and_law(place, model);
            let torque_nmm = station.fc_n * station.left_diameter_mm / 2.0;
            let z_mm = station.z_mm;
            let jaws_mm = self.turning_under_jaws_mm(&turning, place, torque_nmm);
            let turn = Turn {
                tool_mm: turning.tool_mm(z_mm, torque_nmm),
                jaws_mm: &jaws_mm,
                lobes: &lobes(self.scene.setup),
                old_off_mm: self.prepared.sizes[place.node][side_index(place.side)].old_off_mm,
                n_angles: turning.turning().n_angles(),
            };
            let depth_mm = station.real_depth_mm / 2.0;
            let (at_tool, bench) = (&self.room.at_tool, &mut self.room.bench);
            let fresh = bench.revolve(at_tool, &self.jaws, (&tool, &law), depth_mm, &turn);
            // The indicator is read without a cut, and without the dog's push.
            let jaws_mm = self.turning_under_jaws_mm(&turning, place, 0.0);
            let idle = Turn { tool_mm: turning.tool_mm(z_mm, 0.0), jaws_mm: &jaws_mm, ..turn };
            let path_mm = self.room.bench.idle_turn(&self.room.at_tool, &self.jaws, &idle);
            let turned = Turned {
                before_mm: indicator_reading_mm(&path_mm, turn.old_off_mm, &[], tool.side),
                left_mm: indicator_reading_mm(&path_mm, fresh.off_mm, &self.room.bench.out_mm, tool.side),
                free_mm: turning.turning().free_runout_mm(z_mm, fresh.off_mm),
                roundness_mm: fresh.roundness_mm,
                off_mm: fresh.off_mm,
            };
            (turned, fresh.solved)
        });
        self.turning = Some(turning);
        turned
    }

    /// How the surface under each jaw goes round with the work, no jaw touching.
    fn turning_under_jaws_mm(&self, turning: &TurningWork, place: &Place, torque_nmm: f64) -> Vec<[f64; 2]> {
        let nodes_mm = &self.prepared.layout.nodes_mm;
        let n_rest_jaws = self.prepared.jaw_nodes.len();
        let cat_heads = on_cat_heads(self.scene.setup);
        let under = self.jaws.iter().enumerate().map(|(index, jaw)| {
            let node = if index < n_rest_jaws { self.prepared.jaw_nodes[index] } else { place.follower };
            let Some(node) = node else { return [0.0; 2] };
            let middle = turning.point_mm(jaw.point, nodes_mm[node], torque_nmm);
            if cat_heads[index] {
                // Set to run true with no cut on: only what the cut adds is left.
                let idle = turning.point_mm(jaw.point, nodes_mm[node], 0.0);
                return [middle[0] - idle[0], middle[1] - idle[1]];
            }
            let off = self.surface_off_mm(node, index >= n_rest_jaws);
            [middle[0] + off[0], middle[1] + off[1]]
        });
        under.collect()
    }

    /// Centre of the surface at a node off the middle of the section: what this pass has left there, if it has been
    /// there and the jaws ride on it, else what was there.
    fn surface_off_mm(&self, node: usize, of_follower: bool) -> [f64; 2] {
        let behind = self.scene.setup.follower.as_ref().is_some_and(|follower| follower.side == FollowerSide::Behind);
        if of_follower && behind {
            let z_mm = self.prepared.layout.nodes_mm[node];
            let way = |place_mm: f64| if self.cut.to_headstock() { -place_mm } else { place_mm };
            let after = self.travel.off.partition_point(|(place_mm, _)| way(*place_mm) < way(z_mm));
            if let Some((_, off)) = self.travel.off.get(after).or(self.travel.off.last()) {
                return *off;
            }
        }
        self.prepared.sizes[node][usize::from(!self.cut.to_headstock())].old_off_mm
    }

    /// Takes run-out and roundness straight between the stations where a turn was worked out.
    fn fill_turned(&self, turned_at: &[usize], stations: &mut [Station]) {
        let Some(turning) = &self.turning else { return };
        for pair in turned_at.windows(2) {
            let (from, to) = (stations[pair[0]], stations[pair[1]]);
            for station in &mut stations[pair[0] + 1..pair[1]] {
                let share = (station.z_mm - from.z_mm) / (to.z_mm - from.z_mm);
                let between = |read: fn(&Turned) -> f64| read(&from.turned) * (1.0 - share) + read(&to.turned) * share;
                // The tool's path is straight, the bar may not be: the surface's centre is taken straight in space.
                let ease = [from.z_mm, station.z_mm, to.z_mm].map(|z_mm| turning.turning().at_ease_mm(z_mm));
                let off_mm = [0, 1].map(|plane| {
                    let ends = [from.turned.off_mm[plane] + ease[0][plane], to.turned.off_mm[plane] + ease[2][plane]];
                    ends[0] + (ends[1] - ends[0]) * share - ease[1][plane]
                });
                station.turned = Turned {
                    before_mm: between(|turned| turned.before_mm),
                    left_mm: between(|turned| turned.left_mm),
                    free_mm: turning.turning().free_runout_mm(station.z_mm, off_mm),
                    roundness_mm: between(|turned| turned.roundness_mm),
                    off_mm,
                };
            }
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
        let (tool, law) = self.tool_and_law(place, model);
        let [last_mm, before_mm, third_mm] = self.travel.depth_mm;
        let guess_mm = 3.0 * (last_mm - before_mm) + third_mm;
        let state = self.room.bench.solve(&self.room.at_tool, &self.jaws, Some((&tool, &law)), guess_mm);
        if !state.held {
            return None;
        }
        Some((station(z_mm, sizes.dial_mm, sizes.old_mm, &state), state.solved))
    }

    fn tool_and_law(&self, place: &Place, model: &ForceModel) -> (ToolAt, Law) {
        tool_and_law(self.scene, self.prepared, &self.cut, place, model)
    }

    /// Puts the follower's jaws where the carriage is, on the surface that is there. What counts is how much it stands
    /// over the dial: at a step of the work the jaws are taken to be set again.
    fn place_follower(&mut self, place: &Place) {
        let Some(follower) = &self.scene.setup.follower else { return };
        let first = self.jaws.len() - follower.jaws.len();
        let ahead = if self.cut.to_headstock() { 0 } else { 1 };
        let travelled_mm = (self.prepared.layout.nodes_mm[place.node] - self.cut.from_z_mm).abs();
        let over_start_mm = travelled_mm - follower.start_mm;
        // Where it is brought on it is off for the station that looks back, and on for the one that looks ahead.
        let looks_ahead = place.side == inward(&self.cut);
        let brought_on = over_start_mm > SAME_PLACE_MM || over_start_mm >= -SAME_PLACE_MM && looks_ahead;
        let riding = place.follower.filter(|_| brought_on);
        let over_mm = riding.and_then(|node| match (follower.side, &self.prepared.crest) {
            // The crests of a thread are there before and after the tool.
            (_, Some(crest)) => Some((crest[node][ahead].diameter_mm - crest[node][ahead].dial_mm) / 2.0),
            (FollowerSide::Behind, None) => {
                let z_mm = self.prepared.layout.nodes_mm[node];
                over_between(&self.travel.left, z_mm, self.cut.to_headstock())
            }
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

/// The tool at a place of a prepared pass, and the law of its chip there.
pub fn tool_and_law(
    scene: &Scene,
    prepared: &Prepared,
    cut: &CutSpan,
    place: &Place,
    model: &ForceModel,
) -> (ToolAt, Law) {
    let sizes = &prepared.sizes[place.node][side_index(place.side)];
    let inward = if prepared.inside { -1.0 } else { 1.0 };
    let nominal_depth_mm = inward * (sizes.old_dial_mm - sizes.dial_mm) / 2.0;
    let side = tool_side(scene.setup);
    let wanted_radius_mm = sizes.dial_mm / 2.0;
    let half_depth_mm = nominal_depth_mm.max(0.0) / 2.0;
    let lever_mm = wanted_radius_mm + if prepared.inside { -half_depth_mm } else { half_depth_mm };
    let tool = ToolAt {
        wanted_radius_mm,
        old_radius_mm: sizes.old_mm / 2.0,
        carriage_mm_per_n: 1.0 / scene.job.lathe.carriage_k_n_per_mm.value_or(RIGID_N_PER_MM),
        side,
        feed_lever_mm: side * if cut.to_headstock() { -lever_mm } else { lever_mm },
        inside: prepared.inside,
    };
    let crest = prepared.crest.as_ref().map(|crest| crest[place.node][side_index(place.side)]);
    let thread_mm = crest.map_or(0.0, |crest| (crest.diameter_mm - sizes.old_mm) / 2.0);
    (tool, model.law_over(sizes.old_dial_mm, nominal_depth_mm, thread_mm))
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
        turned: Turned::default(),
    }
}
