//! A job put to the plain solver: springs, jaws and gaps worked out anew from the job, the work meshed as the study
//! meshes it, one place of the tool at a time.

use midspan::job::{
    CentreHole, Cut as Dial, DogKind, DriveKind, FollowerSide, Job, Pass, PassKind, SetTo, Setup, Stiffness, TailKind,
    TipKind, ToolSide,
};
use midspan::study::force::ForceModel;
use midspan::study::layout::Place;
use midspan::study::outline::{Outline, Side};
use midspan::study::prepared::{Prepared, Scene, Sizes};
use midspan::study::{JobResult, PassResult, SetupResult};

use crate::dense::wide::Wide;
use crate::dense::{self, Beam, Cut, CutAnswer, Dof, Element, Forces, Load, Material, Plane, Spring};

const RIGID_N_PER_MM: f64 = 1e12;
const RIGID_NMM_PER_RAD: f64 = 1e15;

/// Which of its sizes the work has on both sides of the tool.
#[derive(Clone, Copy)]
pub enum Work {
    /// As it came.
    Old,
    /// Finished behind the tool at a node, old ahead of it.
    Cut { node: usize, to_headstock: bool },
}

fn material(job: &Job) -> Material {
    let material = job.material();
    Material {
        e_mpa: material.e_mpa.value,
        poisson_ratio: material.poisson_ratio.value,
        density_t_per_mm3: material.density_kg_per_m3.value * 1e-12,
    }
}

/// The bare work with its end springs.
/// `along_n` is the force along the work at the headstock side and at the tailstock side of the tool.
pub fn beam(job: &Job, setup: &Setup, prepared: &Prepared, work: Work, along_n: [f64; 2]) -> Beam {
    let nodes_mm = &prepared.layout.nodes_mm;
    let element = |i: usize| {
        let finished = match work {
            Work::Old => false,
            Work::Cut { node, to_headstock } => (i >= node) == to_headstock,
        };
        let outside = |sizes: &Sizes| if finished { sizes.finished_mm } else { sizes.old_mm };
        let (left, right) = (&prepared.sizes[i][1], &prepared.sizes[i + 1][0]);
        Element {
            length_mm: nodes_mm[i + 1] - nodes_mm[i],
            outside_left_mm: outside(left),
            outside_right_mm: outside(right),
            bore_left_mm: left.bore_mm,
            bore_right_mm: right.bore_mm,
            thrust_n: match work {
                Work::Cut { node, .. } if i >= node => along_n[1],
                _ => along_n[0],
            },
        }
    };
    Beam {
        material: material(job),
        elements: (0..nodes_mm.len() - 1).map(element).collect(),
        springs: springs(job, setup, nodes_mm.len() - 1),
        loads: Vec::new(),
        weighs: true,
    }
}

/// Chuck and spindle one behind the other, the grip's hold against turning, the tailstock's centre.
fn springs(job: &Job, setup: &Setup, last: usize) -> Vec<Spring> {
    let k = match (job.lathe.headstock_k_n_per_mm, setup.drive.radial_k_n_per_mm) {
        (Stiffness::Rigid, Stiffness::Rigid) => RIGID_N_PER_MM,
        (headstock, chuck) => 1.0 / (1.0 / headstock.value_or(RIGID_N_PER_MM) + 1.0 / chuck.value_or(RIGID_N_PER_MM)),
    };
    let turn_k = match setup.drive.rotation_k_nmm_per_rad {
        Stiffness::Rigid => RIGID_NMM_PER_RAD,
        Stiffness::Spring(stated) => stated.value,
    };
    let mut springs = Vec::new();
    for plane in [Plane::X, Plane::Y] {
        springs.push(Spring { node: 0, plane, dof: Dof::Shift, k, anchor: 0.0 });
        springs.push(Spring { node: 0, plane, dof: Dof::Turn, k: turn_k, anchor: 0.0 });
    }
    if setup.tail.kind != TailKind::Free {
        // The quill's give grows in a straight line from drawn in to fully out.
        let out = (setup.tail.quill_out_mm / job.lathe.quill_travel_mm.value).min(1.0);
        let k = match job.lathe.tailstock_k_n_per_mm {
            Stiffness::Rigid => RIGID_N_PER_MM,
            Stiffness::Spring(stated) => {
                let in_give = 1.0 / (stated.value * setup.tail.kind.stiffness_ratio());
                let out_give = in_give / job.lathe.quill_out_stiffness_ratio.value;
                1.0 / (in_give + (out_give - in_give) * out)
            }
        };
        for (plane, anchor) in [(Plane::X, setup.tail.offset_x_mm), (Plane::Y, setup.tail.offset_y_mm)] {
            springs.push(Spring { node: last, plane, dof: Dof::Shift, k, anchor });
        }
    }
    springs
}

/// Thrust of the centre with the work warm: its growth against the give of tailstock, spring and work, which is summed
/// over a thousand slices.
fn thrust_n(job: &Job, setup: &Setup, outline: &Outline, (start_mm, end_mm): (f64, f64)) -> f64 {
    if setup.tail.kind == TailKind::Free {
        return 0.0;
    }
    let material = job.material();
    let slice_mm = (end_mm - start_mm) / 1000.0;
    let slices = (0..1000).map(|i| {
        let z_mm = start_mm + (f64::from(i) + 0.5) * slice_mm;
        let outside_mm = outline.at(z_mm, Side::Tailstock).unwrap().diameter_mm;
        let bore_mm = job.shaft.bore_diameter_mm(setup.s_of_z_mm(&job.shaft, z_mm));
        slice_mm / (material.e_mpa.value * std::f64::consts::PI / 4.0 * (outside_mm.powi(2) - bore_mm.powi(2)))
    });
    let mut give = slices.sum::<f64>();
    if let Stiffness::Spring(stated) = job.lathe.tailstock_axial_k_n_per_mm {
        give += 1.0 / (stated.value * setup.tail.kind.stiffness_ratio());
    }
    if setup.tail.kind == TailKind::SpringCentre {
        give += 1.0 / job.lathe.spring_centre_k_n_per_mm.value;
    }
    let grown_mm = material.growth_per_k.value * setup.warmer_by_k * (end_mm - start_mm);
    (setup.tail.thrust_n + grown_mm / give).max(0.0)
}

/// What a support does to the work.
#[derive(Clone, Copy)]
pub struct SupportForce {
    pub force_n: f64,
    /// Stiffness of an end's spring, off whose movement the study reads the force; 0 for a jaw.
    pub spring_k_n_per_mm: f64,
}

/// A place solved.
pub struct Solved {
    pub cut: CutAnswer,
    /// In the study's order.
    pub supports: Vec<SupportForce>,
}

/// A set-up as the plain solver sees it.
pub struct Second<'a> {
    pub job: &'a Job,
    pub setup: &'a Setup,
    pub scene: Scene<'a>,
    /// Where the bare work lies at each rest.
    lie_mm: Vec<[f64; 2]>,
    /// Of the tailstock centre, what warmth adds included.
    thrust_n: f64,
}

/// One pass of it.
pub struct SecondPass<'a> {
    pub second: &'a Second<'a>,
    pub pass: &'a Pass,
    pub prepared: Prepared,
    pub last_depth_mm: f64,
    /// Force along the work at the headstock side and at the tailstock side of the tool.
    along_n: [f64; 2],
    /// Place and radius the tool has left so far, in cutting order: what a follower behind it rides on.
    pub left: Vec<(f64, f64)>,
}

fn node_at(prepared: &Prepared, z_mm: f64) -> usize {
    prepared.layout.nodes_mm.iter().position(|node| (node - z_mm).abs() < 1e-6).expect("the place is a node")
}

impl<'a> Second<'a> {
    pub fn new(job: &'a Job, setup: &'a Setup, result: &SetupResult) -> Self {
        let outline = Outline::of(&result.before, &job.shaft, setup);
        let scene =
            Scene::new(job, setup, &outline, midspan::study::Fineness::USUAL).expect("the work has a length to bend");
        let bare = scene.prepare(&outline, None, None);
        let thrust_n = thrust_n(job, setup, &outline, (bare.layout.nodes_mm[0], *bare.layout.nodes_mm.last().unwrap()));
        let shape = beam(job, setup, &bare, Work::Old, [thrust_n; 2]).shape();
        let lie = |z_mm: f64| {
            let node = node_at(&bare, z_mm);
            match &shape {
                // Work that would swing further than half its radius is not held without its rest.
                Some(shape) if shape[node][0].hypot(shape[node][2]) < bare.sizes[node][0].old_mm / 4.0 => {
                    [shape[node][0], shape[node][2]]
                }
                _ => [0.0; 2],
            }
        };
        let lie_mm = setup.rests.iter().map(|rest| lie(rest.z_mm)).collect();
        Self { job, setup, scene, lie_mm, thrust_n }
    }

    /// The pass with this index, all its stations or the one at `only_tool_mm`.
    pub fn pass(&'a self, result: &'a JobResult, index: usize, only_tool_mm: Option<f64>) -> SecondPass<'a> {
        let computed = result.setup(self.setup.id).expect("the set-up was computed");
        let pass = &self.setup.passes[index];
        let outline = Outline::of(&computed.passes[index].before, &self.job.shaft, self.setup);
        let prepared = self.scene.prepare(&outline, Some(pass), only_tool_mm);
        let turned = (0..index)
            .rev()
            .find(|&i| self.setup.passes[i].kind == PassKind::Turn && !computed.passes[i].stations.is_empty());
        let last_depth_mm = turned.map_or(0.0, |i| {
            let stations = &computed.passes[i].stations;
            let middle = &stations[stations.len() / 2];
            0.5 * (middle.old_diameter_mm - middle.wanted_diameter_mm).max(0.0)
        });
        let along_n = self.along_n(pass, &outline);
        SecondPass { second: self, pass, prepared, last_depth_mm, along_n, left: Vec::new() }
    }

    /// What the feed force does along the work: it presses or pulls the headstock side, and all that a headstock centre
    /// cannot hold comes on the tailstock.
    fn along_n(&self, pass: &Pass, outline: &Outline) -> [f64; 2] {
        let (setup, material) = (self.setup, self.job.material());
        let (start_mm, end_mm) = self.scene.bending_mm;
        let (from_mm, to_mm) = (pass.from_z_mm.clamp(start_mm, end_mm), pass.to_z_mm.clamp(start_mm, end_mm));
        let model = ForceModel::new(&material, &setup.tool, pass, 0.0);
        let feeds_n = (0..16).map(|i| {
            let z_mm = from_mm.min(to_mm) + (to_mm - from_mm).abs() * (f64::from(i) + 0.5) / 16.0;
            let old_mm = outline.at(z_mm, Side::Tailstock).unwrap().dial_mm;
            let dial_mm = match (pass.kind, pass.cut) {
                (PassKind::Spring, _) => old_mm,
                (_, Dial::Depth { on_diameter_mm }) => old_mm - on_diameter_mm,
                (_, Dial::ToDiameter { diameter_mm }) => diameter_mm.min(old_mm),
                (_, Dial::ToDrawing { leave_on_diameter_mm }) => {
                    let wanted = self.scene.wanted.at(z_mm, Side::Tailstock);
                    wanted.map_or(old_mm, |wanted| (wanted.diameter_mm + leave_on_diameter_mm).min(old_mm))
                }
            };
            let depth_mm = 0.5 * (old_mm - dial_mm);
            model.law(old_mm, depth_mm).forces(depth_mm).0.feed_n
        });
        let feed_n = feeds_n.sum::<f64>() / 16.0;
        let centre = setup.drive.kind == DriveKind::CentreAndDog && !setup.drive.hold_back;
        match pass.to_z_mm < pass.from_z_mm {
            true => [self.thrust_n + feed_n, self.thrust_n],
            false if centre && feed_n > self.thrust_n => [0.0, feed_n],
            false => [self.thrust_n - feed_n, self.thrust_n],
        }
    }
}

impl SecondPass<'_> {
    fn to_headstock(&self) -> bool {
        self.pass.to_z_mm < self.pass.from_z_mm
    }

    /// Takes what a computed pass left as what the tool has left so far.
    pub fn remember(&mut self, computed: &PassResult) {
        self.left = computed.stations.iter().map(|s| (s.z_mm, 0.5 * s.left_diameter_mm)).collect();
        if self.to_headstock() {
            self.left.reverse();
        }
    }

    /// Radius left at a place the tool has passed, straight between stations; the side the tool came from at a step.
    fn left_at(&self, z_mm: f64) -> Option<f64> {
        let way = |place_mm: f64| if self.to_headstock() { -place_mm } else { place_mm };
        let (first, _) = self.left.first()?;
        if way(z_mm) < way(*first) - 1e-6 {
            return None;
        }
        let after = self.left.iter().position(|(place, _)| way(*place) >= way(z_mm) - 1e-9)?;
        let (after_mm, after_radius_mm) = self.left[after];
        if after == 0 || (after_mm - z_mm).abs() < 1e-9 {
            return Some(after_radius_mm);
        }
        let (before_mm, before_radius_mm) = self.left[after - 1];
        let share = (z_mm - before_mm) / (after_mm - before_mm);
        Some(before_radius_mm + share * (after_radius_mm - before_radius_mm))
    }

    /// How much the surface under the follower stands over the dial's radius there, with its jaws at `node`.
    fn over_dial_mm(&self, side: FollowerSide, node: usize) -> Option<f64> {
        let sizes = &self.prepared.sizes[node];
        let (come_from, go_to) = if self.to_headstock() { (1, 0) } else { (0, 1) };
        match side {
            FollowerSide::Behind => {
                let z_mm = self.prepared.layout.nodes_mm[node];
                let left_mm = self.left_at(z_mm)?;
                // Where the cut began, the side the tool came from was not cut.
                let at_start = (z_mm - self.left[0].0).abs() < 1e-6;
                let side = if at_start { go_to } else { come_from };
                Some(left_mm - 0.5 * sizes[side].dial_mm)
            }
            FollowerSide::Ahead => Some(0.5 * (sizes[go_to].old_mm - sizes[go_to].old_dial_mm)),
        }
    }

    /// Jaws of the rests, then the follower's two where it is over the work. `set_on_mm` is how much over the
    /// dial the surface was where it was set.
    fn jaws(&self, place: &Place, set_on_mm: Option<f64>) -> (Vec<dense::Jaw>, bool) {
        let setup = self.second.setup;
        let k_of = |stiffness: Stiffness| match stiffness {
            Stiffness::Rigid => RIGID_N_PER_MM,
            Stiffness::Spring(stated) => stated.value,
        };
        let friction_ratio = |tip: TipKind| if setup.jaw_friction { tip.friction_ratio() } else { 0.0 };
        let mut jaws = Vec::new();
        for (rest, lie_mm) in setup.rests.iter().zip(&self.second.lie_mm) {
            let node = node_at(&self.prepared, rest.z_mm);
            let mut centre_mm = [rest.offset_x_mm, rest.offset_y_mm];
            if rest.set_to == SetTo::Work {
                centre_mm = [centre_mm[0] + lie_mm[0], centre_mm[1] + lie_mm[1]];
            }
            for jaw in &rest.jaws {
                let (nx, ny) = (jaw.angle_rad.cos(), jaw.angle_rad.sin());
                let gap_mm = jaw.gap_mm + nx * centre_mm[0] + ny * centre_mm[1];
                let (k_n_per_mm, friction_ratio) = (k_of(jaw.k_n_per_mm), friction_ratio(rest.tip));
                jaws.push(dense::Jaw { node, nx, ny, gap_mm, k_n_per_mm, friction_ratio });
            }
        }
        let rides = setup.follower.as_ref().and_then(|follower| {
            let node = place.follower?;
            let over_mm = self.over_dial_mm(follower.side, node)?;
            Some((follower, node, over_mm))
        });
        if let Some((follower, node, over_mm)) = rides {
            let lower_mm = set_on_mm.unwrap_or(over_mm) - over_mm;
            for jaw in &follower.jaws {
                let (nx, ny) = (jaw.angle_rad.cos(), jaw.angle_rad.sin());
                let gap_mm = jaw.gap_mm + lower_mm;
                let (k_n_per_mm, friction_ratio) = (k_of(jaw.k_n_per_mm), friction_ratio(follower.tip));
                jaws.push(dense::Jaw { node, nx, ny, gap_mm, k_n_per_mm, friction_ratio });
            }
        }
        (jaws, rides.is_some())
    }

    /// How much over the dial the surface was where the follower was set: where it first stands on the work.
    pub fn follower_set_on_mm(&self, places: &[Place]) -> Option<f64> {
        let side = self.second.setup.follower.as_ref()?.side;
        places.iter().find_map(|place| self.over_dial_mm(side, place.follower?))
    }

    /// The bare work with the tool at a place: finished behind it, as it was ahead.
    pub fn beam_at(&self, place: &Place) -> Beam {
        let work = Work::Cut { node: place.node, to_headstock: self.to_headstock() };
        beam(self.second.job, self.second.setup, &self.prepared, work, self.along_n)
    }

    /// All sets of jaws that last with the tool at a place and these forces, without a follower.
    pub fn answers(&self, place: &Place, forces: Forces) -> Vec<dense::Answer> {
        let sizes = self.sizes_at(place);
        let setup = self.second.setup;
        let mut beam = self.beam_at(place);
        let cut = Cut {
            node: place.node,
            rear: setup.tool.side == ToolSide::Rear,
            wanted_radius_mm: 0.5 * sizes.dial_mm,
            old_radius_mm: 0.5 * sizes.old_mm,
            lever_mm: 0.25 * (sizes.dial_mm + sizes.old_dial_mm),
            feeds_to_headstock: self.to_headstock(),
            carriage_k_n_per_mm: 1e12,
            forces: &|_| forces,
        };
        beam.loads.extend(dense::tool_loads(&cut, forces));
        dense::all_answers(&beam, &self.jaws(place, None).0)
    }

    /// The plain solver's answer at a place.
    pub fn solve(&self, place: &Place, set_on_mm: Option<f64>) -> Option<Solved> {
        self.solve_with(place, set_on_mm, self.beam_at(place), |_| 0.0)
    }

    /// The same with the work turned by an angle from its mark, and everything that turns with it; surfaces lie about the
    /// middle of the bar. `torque_nmm` is what the dog has to turn.
    pub fn solve_turned(
        &self,
        place: &Place,
        set_on_mm: Option<f64>,
        angle_rad: f64,
        torque_nmm: f64,
    ) -> Option<Solved> {
        let (job, setup) = (self.second.job, self.second.setup);
        let flip = if setup.end_for_end { -1.0 } else { 1.0 };
        let turned = |length_mm: f64, at_rad: f64, flip: f64| -> [f64; 2] {
            let (x, y) = (flip * length_mm * at_rad.cos(), length_mm * at_rad.sin());
            [x * angle_rad.cos() - y * angle_rad.sin(), x * angle_rad.sin() + y * angle_rad.cos()]
        };
        let hole = |hole: Option<CentreHole>| {
            hole.map_or([0.0; 2], |hole| turned(0.5 * hole.off_tir_mm, hole.off_at_rad, flip))
        };
        let (head, tail) = match setup.end_for_end {
            false => (hole(job.shaft.centre_hole_a), hole(job.shaft.centre_hole_b)),
            true => (hole(job.shaft.centre_hole_b), hole(job.shaft.centre_hole_a)),
        };
        let centres = setup.drive.kind == DriveKind::CentreAndDog;
        let grip = turned(0.5 * setup.drive.runout_tir_mm, setup.drive.runout_at_rad, 1.0);
        let own_run_out = turned(0.5 * setup.tail.runout_tir_mm, 0.0, 1.0);
        let mut beam = self.beam_at(place);
        let last = beam.n_nodes() - 1;
        for spring in beam.springs.iter_mut().filter(|spring| spring.dof == Dof::Shift) {
            let plane = usize::from(spring.plane == Plane::Y);
            spring.anchor += match spring.node {
                0 => grip[plane] - if centres { head[plane] } else { 0.0 },
                _ => match setup.tail.kind {
                    TailKind::Free => 0.0,
                    TailKind::BullNose => own_run_out[plane],
                    TailKind::DeadCentre | TailKind::HalfCentre => -tail[plane],
                    TailKind::LiveCentre | TailKind::SpringCentre => own_run_out[plane] - tail[plane],
                },
            };
        }
        // The bar at ease, laid so that it leaves the drive end straight on; loads that would hold it so.
        let length_mm = job.shaft.length_mm();
        let nodes_mm = &self.prepared.layout.nodes_mm;
        let bend = |z_mm: f64| {
            let (here, start) = (z_mm - setup.work_start_z_mm, nodes_mm[0] - setup.work_start_z_mm);
            let share = |s: f64| 4.0 * s * (length_mm - s) / length_mm.powi(2);
            let slope = |s: f64| 4.0 * (length_mm - 2.0 * s) / length_mm.powi(2);
            (share(here) - share(start) - slope(start) * (here - start), slope(here) - slope(start))
        };
        let bow = turned(0.5 * job.shaft.bow_tir_mm, job.shaft.bow_at_rad, flip);
        for index in 0..last {
            let stiffness = beam.elements[index].stiffness(&beam.material);
            let (near, far) = (bend(nodes_mm[index]), bend(nodes_mm[index + 1]));
            let lies = [near.0, near.1, far.0, far.1];
            let ends = [(index, Dof::Shift), (index, Dof::Turn), (index + 1, Dof::Shift), (index + 1, Dof::Turn)];
            for (row, (node, dof)) in ends.into_iter().enumerate() {
                let holds =
                    (0..4).fold(Wide::ZERO, |sum, column| sum + stiffness[row][column] * Wide::from(lies[column]));
                for (plane, bow) in [Plane::X, Plane::Y].into_iter().zip(bow) {
                    beam.loads.push(Load { node, plane, dof, value: (holds * Wide::from(bow)).to_f64() });
                }
            }
        }
        if centres && setup.drive.dog.kind == DogKind::OneTail {
            let dog = &setup.drive.dog;
            let push_n = turned(torque_nmm / dog.tail_radius_mm.value, std::f64::consts::FRAC_PI_2, 1.0);
            for (plane, push_n) in [Plane::X, Plane::Y].into_iter().zip(push_n) {
                beam.loads.push(Load { node: 0, plane, dof: Dof::Shift, value: push_n });
                let moment_nmm = -push_n * dog.tail_reach_mm.value;
                beam.loads.push(Load { node: 0, plane, dof: Dof::Turn, value: moment_nmm });
            }
        }
        let lobes: Vec<f64> = (setup.rests.iter())
            .flat_map(|rest| {
                rest.jaws.iter().map(|jaw| {
                    0.5 * rest.spot.height_mm * (f64::from(rest.spot.n_lobes) * (jaw.angle_rad - angle_rad)).cos()
                })
            })
            .collect();
        self.solve_with(place, set_on_mm, beam, |jaw| lobes.get(jaw).copied().unwrap_or(0.0))
    }

    fn solve_with(
        &self,
        place: &Place,
        set_on_mm: Option<f64>,
        beam: Beam,
        lobe_mm: impl Fn(usize) -> f64,
    ) -> Option<Solved> {
        let (job, setup) = (self.second.job, self.second.setup);
        let sizes = self.sizes_at(place);
        let nominal_mm = 0.5 * (sizes.old_dial_mm - sizes.dial_mm);
        let material = job.material();
        let model = ForceModel::new(&material, &setup.tool, self.pass, self.last_depth_mm);
        let law = model.law(sizes.old_dial_mm, nominal_mm);
        let forces = |depth_mm: f64| {
            let (forces, _) = law.forces(depth_mm);
            Forces { fc_n: forces.main_n, fp_n: forces.radial_n, ff_n: forces.feed_n }
        };
        let (mut jaws, rides) = self.jaws(place, set_on_mm);
        for (index, jaw) in jaws.iter_mut().enumerate() {
            jaw.gap_mm -= lobe_mm(index);
        }
        let cut = Cut {
            node: place.node,
            rear: setup.tool.side == ToolSide::Rear,
            wanted_radius_mm: 0.5 * sizes.dial_mm,
            old_radius_mm: 0.5 * sizes.old_mm,
            lever_mm: 0.5 * sizes.dial_mm + 0.5 * nominal_mm,
            feeds_to_headstock: self.to_headstock(),
            carriage_k_n_per_mm: match job.lathe.carriage_k_n_per_mm {
                Stiffness::Rigid => RIGID_N_PER_MM,
                Stiffness::Spring(stated) => stated.value,
            },
            forces: &forces,
        };
        let answer = cut.solve(&beam, &jaws)?;
        let springs = beam.springs.iter().zip(&answer.work.springs_n);
        let mut supports: Vec<SupportForce> = springs
            .filter(|(spring, _)| spring.dof == Dof::Shift)
            .map(|(spring, &force_n)| SupportForce { force_n, spring_k_n_per_mm: spring.k })
            .collect();
        let mut jaw_forces_n = answer.work.forces_n.clone();
        if setup.follower.is_some() && !rides {
            jaw_forces_n.extend([0.0, 0.0]);
        }
        supports.extend(jaw_forces_n.iter().map(|&force_n| SupportForce { force_n, spring_k_n_per_mm: 0.0 }));
        Some(Solved { cut: answer, supports })
    }

    /// The whole pass by the plain solver alone: every station in cutting order, the follower riding on what this very
    /// sweep left; a second sweep where the first leaves more than 1 % of error. Radius left at every place.
    pub fn sweep(&mut self) -> Vec<Solved> {
        let places = self.prepared.layout.places.clone();
        let first = self.one_sweep(&places);
        let wanted_mm = |place: &Place| self.sizes_at(place).dial_mm;
        let far_off = |(place, solved): (&Place, &Solved)| {
            (2.0 * solved.cut.radius_left_mm - wanted_mm(place)).abs() > 0.01 * wanted_mm(place)
        };
        if !places.iter().zip(&first).any(far_off) {
            return first;
        }
        self.finish_as_left(&places);
        self.one_sweep(&places)
    }

    fn one_sweep(&mut self, places: &[Place]) -> Vec<Solved> {
        self.left.clear();
        let mut set_on_mm = None;
        let mut all = Vec::new();
        for place in places {
            let follower = self.second.setup.follower.as_ref();
            set_on_mm = set_on_mm.or_else(|| self.over_dial_mm(follower?.side, place.follower?));
            let solved = self.solve(place, set_on_mm).expect("the work is held");
            self.left.push((self.prepared.layout.nodes_mm[place.node], solved.cut.radius_left_mm));
            all.push(solved);
        }
        all
    }

    /// Behind the tool the work gets the diameters left, straight between stations.
    fn finish_as_left(&mut self, places: &[Place]) {
        let side_of = |place: &Place| if place.side == Side::Headstock { 0 } else { 1 };
        let stations: Vec<(f64, usize, f64)> = places
            .iter()
            .zip(&self.left)
            .map(|(place, (z_mm, radius_mm))| (*z_mm, side_of(place), 2.0 * radius_mm))
            .collect();
        let (low_mm, high_mm) = {
            let ends = [self.pass.from_z_mm, self.pass.to_z_mm];
            (ends[0].min(ends[1]), ends[0].max(ends[1]))
        };
        for (node, z_mm) in self.prepared.layout.nodes_mm.iter().enumerate() {
            for side in [0, 1] {
                let outside = *z_mm < low_mm - 1e-6
                    || *z_mm > high_mm + 1e-6
                    || (side == 0 && *z_mm < low_mm + 1e-6)
                    || (side == 1 && *z_mm > high_mm - 1e-6);
                if outside {
                    continue;
                }
                let here: Vec<_> = stations.iter().filter(|(at_mm, ..)| (at_mm - z_mm).abs() < 1e-6).collect();
                let exact = here.iter().find(|(_, of, _)| here.len() == 1 || *of == side);
                self.prepared.sizes[node][side].finished_mm = match exact {
                    Some((_, _, diameter_mm)) => *diameter_mm,
                    None => {
                        let mut rising = stations.clone();
                        rising.sort_by(|a, b| a.0.total_cmp(&b.0));
                        let after = rising.iter().position(|(at_mm, ..)| at_mm > z_mm).expect("inside the cut");
                        let (before, after) = (rising[after - 1], rising[after]);
                        before.2 + (after.2 - before.2) * (z_mm - before.0) / (after.0 - before.0)
                    }
                };
            }
        }
    }

    fn sizes_at(&self, place: &Place) -> &Sizes {
        &self.prepared.sizes[place.node][if place.side == Side::Headstock { 0 } else { 1 }]
    }
}
