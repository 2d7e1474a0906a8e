//! What turns with the work in a set-up: a bent bar, an off-true grip, centre holes off the middle, a lobed bearing
//! spot, the sideways push of a one-tail dog.
//!
//! The bar at ease is bent by `e(z)`, a parabola with half the total indicator reading at mid-length, counted so that it
//! leaves the jaw face straight on: a grip takes the bar by its own end. Held, it moves by `w = e + w'`: elements bend by
//! `w'` only, so the ends pull `w'` to their own offset less `e`, and force along the work pushes on the bend of `e`.
//! Both planes answer alike, so all of it turns as one; rests and tool stand still and are met angle by angle
//! ([`crate::mechanics::cut::Revolution`]).
//!
//! Limit: slow turning; lobes are not carried to the next pass, offsets of the surface are.

use std::f64::consts::TAU;

use super::holding::{drive_spring, tail_spring};
use super::outline::{Outline, SAME_PLACE_MM, seen_from_other_end};
use super::prepared::Prepared;
use crate::job::{CentreHole, DogKind, DriveKind, Job, Setup, Sleeve, TailKind};
use crate::mechanics::beam::{Crossing, Element};
use crate::mechanics::cut::range_mm;
use crate::mechanics::held::{AtTool, Held};
use crate::mechanics::walk::{NodeLoad, NodeSpring};

/// Fewest angles of a turn.
const FEWEST_ANGLES: usize = 36;
/// Angles that a lobe gets.
const ANGLES_A_LOBE: usize = 16;
/// Most angles of a turn.
const MOST_ANGLES: usize = 400;

/// What turns with the work in one set-up; vectors are away, up, as the work lies with its mark at angle 0.
#[derive(Clone, Debug, PartialEq)]
pub struct Turning {
    work_start_z_mm: f64,
    work_length_mm: f64,
    /// Where the bar leaves the drive end.
    straight_z_mm: f64,
    /// Bend of the bar at mid-length off the line through its ends.
    bow_mm: [f64; 2],
    /// Where the drive end takes the work off the spindle axis.
    drive_off_mm: [f64; 2],
    /// Where the centre takes the work off the spindle axis, its hole's offset included.
    tail_off_mm: [f64; 2],
    /// Places and offsets of what the free work is measured on: its centre holes, or the middles of its ends.
    datum: [(f64, [f64; 2]); 2],
    dog: Option<DogPush>,
    n_angles: usize,
}

/// A one-tail dog.
#[derive(Clone, Copy, Debug, PartialEq)]
struct DogPush {
    /// From the axis to where the plate pushes.
    tail_radius_mm: f64,
    /// From the centre's point back to there.
    reach_mm: f64,
}

fn along(length_mm: f64, angle_rad: f64) -> [f64; 2] {
    [length_mm * angle_rad.cos(), length_mm * angle_rad.sin()]
}

impl Turning {
    /// What turns with the work that comes as `outline`; `None` where all runs true.
    #[must_use]
    pub fn of(job: &Job, setup: &Setup, outline: &Outline, bending_mm: (f64, f64)) -> Option<Self> {
        let shaft = &job.shaft;
        let hole_off_mm = |hole: Option<CentreHole>| {
            let off = hole.map_or([0.0; 2], |hole| along(hole.off_tir_mm / 2.0, hole.off_at_rad));
            seen_from_other_end(off, setup)
        };
        let (hole_a, hole_b) = (hole_off_mm(shaft.centre_hole_a), hole_off_mm(shaft.centre_hole_b));
        let (head_hole, tail_hole) = if setup.end_for_end { (hole_b, hole_a) } else { (hole_a, hole_b) };
        let between_centres = setup.drive.kind == DriveKind::CentreAndDog;
        let runout = along(setup.drive.runout_tir_mm / 2.0, setup.drive.runout_at_rad);
        let drive_off_mm = if between_centres { [runout[0] - head_hole[0], runout[1] - head_hole[1]] } else { runout };
        let tail_off_mm = match setup.tail.kind {
            TailKind::Free => [0.0; 2],
            TailKind::BullNose => [setup.tail.runout_tir_mm / 2.0, 0.0],
            // A centre that does not turn has no run-out of its own: it would stand off the axis.
            TailKind::DeadCentre | TailKind::HalfCentre => tail_hole.map(|part| -part),
            TailKind::LiveCentre | TailKind::SpringCentre => {
                [setup.tail.runout_tir_mm / 2.0 - tail_hole[0], -tail_hole[1]]
            }
        };
        let dog = (between_centres && setup.drive.dog.kind == DogKind::OneTail).then_some(DogPush {
            tail_radius_mm: setup.drive.dog.tail_radius_mm.value,
            reach_mm: setup.drive.dog.tail_reach_mm.value,
        });
        let bow_mm = seen_from_other_end(along(shaft.bow_tir_mm / 2.0, shaft.bow_at_rad), setup);
        let most_lobes =
            setup.rests.iter().filter(|rest| rest.spot.height_mm > 0.0).map(|rest| rest.spot.n_lobes as usize).max();
        let surface_off = outline.pieces.iter().any(|piece| piece.off_mm != [[0.0; 2]; 2]);
        let nothing = [bow_mm, drive_off_mm, tail_off_mm].iter().all(|off| *off == [0.0; 2]);
        if nothing && dog.is_none() && most_lobes.is_none() && !surface_off {
            return None;
        }
        let work_length_mm = shaft.length_mm();
        let ends_mm = [setup.work_start_z_mm, setup.work_start_z_mm + work_length_mm];
        let turning = Self {
            work_start_z_mm: setup.work_start_z_mm,
            work_length_mm,
            straight_z_mm: bending_mm.0,
            bow_mm,
            drive_off_mm,
            tail_off_mm,
            datum: [(ends_mm[0], head_hole), (ends_mm[1], tail_hole)],
            dog,
            n_angles: (ANGLES_A_LOBE * most_lobes.unwrap_or(0)).clamp(FEWEST_ANGLES, MOST_ANGLES),
        };
        Some(turning)
    }

    /// Angles in which a turn is worked out.
    #[must_use]
    pub fn n_angles(&self) -> usize {
        self.n_angles
    }

    /// Share of the bend at mid-length, and its slope, at a place along the work: `4 ζ (L - ζ)/L²`.
    fn bow_share(&self, z_mm: f64) -> (f64, f64) {
        let (from_mm, length_mm) = (z_mm - self.work_start_z_mm, self.work_length_mm);
        let scale = 4.0 / (length_mm * length_mm);
        (scale * from_mm * (length_mm - from_mm), scale * (length_mm - 2.0 * from_mm))
    }

    /// Where the axis of the bar at ease lies, straight on where it leaves the drive end.
    #[must_use]
    pub fn at_ease_mm(&self, z_mm: f64) -> [f64; 2] {
        let (start, start_slope) = self.bow_share(self.straight_z_mm);
        let (here, _) = self.bow_share(z_mm);
        self.bow_mm.map(|bow| bow * (here - start - start_slope * (z_mm - self.straight_z_mm)))
    }

    fn at_ease_slope(&self, z_mm: f64) -> [f64; 2] {
        let slope = self.bow_share(z_mm).1 - self.bow_share(self.straight_z_mm).1;
        self.bow_mm.map(|bow| bow * slope)
    }

    /// Run-out of a surface whose centre lies `off_mm` off the middle of the section, once the work is let go: total
    /// indicator reading about the line through its centre holes.
    #[must_use]
    pub fn free_runout_mm(&self, z_mm: f64, off_mm: [f64; 2]) -> f64 {
        let [(z0_mm, hole0), (z1_mm, hole1)] = self.datum;
        let (at0, at1, here) = (self.at_ease_mm(z0_mm), self.at_ease_mm(z1_mm), self.at_ease_mm(z_mm));
        let share = (z_mm - z0_mm) / (z1_mm - z0_mm).max(SAME_PLACE_MM);
        let apart = [0, 1].map(|plane| {
            let (from, to) = (at0[plane] + hole0[plane], at1[plane] + hole1[plane]);
            here[plane] + off_mm[plane] - (from + (to - from) * share)
        });
        2.0 * apart[0].hypot(apart[1])
    }

    /// Sideways push of the dog for a main force at a radius: away, up. It turns with the work, tail at angle 0.
    fn dog_push_n(&self, torque_nmm: f64) -> f64 {
        self.dog.map_or(0.0, |dog| torque_nmm / dog.tail_radius_mm)
    }
}

/// What turns, walked along the work of one pass.
#[derive(Debug)]
pub struct TurningWork<'a> {
    turning: &'a Turning,
    faults: Held,
    at_faults: AtTool,
    /// The answer to a unit push of the dog.
    dog: Option<(Held, AtTool)>,
}

impl<'a> TurningWork<'a> {
    /// Walks both ways along the work as it is in front of the tool and behind it.
    #[must_use]
    pub fn new(turning: &'a Turning, job: &Job, setup: &Setup, prepared: &Prepared, parts: [&[Element]; 2]) -> Self {
        let nodes_mm = &prepared.layout.nodes_mm;
        let last = nodes_mm.len() - 1;
        let held = |drive_off: [f64; 2], tail_off: [f64; 2], bent: bool, head_loads: &[NodeLoad]| {
            // Force along the work pushes on the bend of the bar at ease, at both ends of every element.
            let loaded = |mut crossing: Crossing, element: &Element, ends: [usize; 2]| {
                let turn = element.axial_turn_nmm_per_rad();
                let load = |node: usize| {
                    let slope = if bent { turning.at_ease_slope(nodes_mm[node]) } else { [0.0; 2] };
                    slope.map(|slope| [0.0, slope * turn])
                };
                (crossing.start_load, crossing.end_load) = (load(ends[0]), load(ends[1]));
                crossing
            };
            let front = (parts[0].iter().enumerate())
                .map(|(index, element)| loaded(element.towards_tailstock(), element, [index, index + 1]));
            let back = (parts[1].iter().enumerate().rev())
                .map(|(index, element)| loaded(element.towards_headstock(), element, [index + 1, index]));
            let mut springs = vec![(0, NodeSpring { anchor_mm: drive_off, ..drive_spring(job, setup) })];
            springs.extend(tail_spring(job, setup).map(|spring| (last, NodeSpring { anchor_mm: tail_off, ..spring })));
            let mut held = Held::default();
            held.run_crossed(front, back, &springs, &prepared.tracked, head_loads);
            held
        };
        let tail_ease = turning.at_ease_mm(nodes_mm[last]);
        let tail_off = [0, 1].map(|plane| turning.tail_off_mm[plane] - tail_ease[plane]);
        let faults = held(turning.drive_off_mm, tail_off, turning.bow_mm != [0.0; 2], &[]);
        let dog = turning.dog.map(|dog| {
            let push = NodeLoad { node: 0, force_n: [0.0, 1.0], moment_nmm: [0.0, -dog.reach_mm] };
            (held([0.0; 2], [0.0; 2], false, &[push]), AtTool::default())
        });
        Self { turning, faults, at_faults: AtTool::default(), dog }
    }

    /// Looks from the tool at a node; false where nothing holds the work.
    pub fn join(&mut self, node: usize, follower: Option<usize>) -> bool {
        self.faults.join(node, follower, &mut self.at_faults)
            && self.dog.as_mut().is_none_or(|(held, at_tool)| held.join(node, follower, at_tool))
    }

    /// Whether the work joined last is held without its jaws, so that it really goes where the figures below say.
    #[must_use]
    pub fn stands_alone(&self) -> bool {
        self.at_faults.n_lost == 0
    }

    /// Where the middle of the section under the tool goes, with no jaw touching, for a torque of the cut.
    #[must_use]
    pub fn tool_mm(&self, z_mm: f64, torque_nmm: f64) -> [f64; 2] {
        self.whole(z_mm, self.at_faults.free_mm, self.dog.as_ref().map(|(_, at_tool)| at_tool.free_mm), torque_nmm)
    }

    /// The same for a watched point at a place.
    #[must_use]
    pub fn point_mm(&self, point: usize, z_mm: f64, torque_nmm: f64) -> [f64; 2] {
        let dog = self.dog.as_ref().map(|(_, at_tool)| at_tool.points[point].free_mm);
        self.whole(z_mm, self.at_faults.points[point].free_mm, dog, torque_nmm)
    }

    fn whole(&self, z_mm: f64, fault: [f64; 2], dog: Option<[f64; 2]>, torque_nmm: f64) -> [f64; 2] {
        let (ease, push_n) = (self.turning.at_ease_mm(z_mm), self.turning.dog_push_n(torque_nmm));
        [0, 1].map(|plane| fault[plane] + ease[plane] + dog.map_or(0.0, |dog| dog[plane] * push_n))
    }

    /// The faults this is about.
    #[must_use]
    pub fn turning(&self) -> &Turning {
        self.turning
    }
}

/// Lobes under each jaw of the steady rests in document order, then the follower's: count and half height. A cat head
/// or bush has the lobes of its own outside.
#[must_use]
pub fn lobes(setup: &Setup) -> Vec<(f64, f64)> {
    let rests = setup.rests.iter().flat_map(|rest| {
        let spot = (f64::from(rest.spot.n_lobes), rest.spot.height_mm / 2.0);
        rest.jaws.iter().map(move |_| spot)
    });
    let follower = setup.follower.iter().flat_map(|follower| follower.jaws.iter().map(|_| (0.0, 0.0)));
    rests.chain(follower).collect()
}

/// Which jaws run on a cat head, which is adjusted to run true.
#[must_use]
pub fn on_cat_heads(setup: &Setup) -> Vec<bool> {
    let rests =
        setup.rests.iter().flat_map(|rest| rest.jaws.iter().map(|_| matches!(rest.sleeve, Sleeve::CatHead { .. })));
    let follower = setup.follower.iter().flat_map(|follower| follower.jaws.iter().map(|_| false));
    rests.chain(follower).collect()
}

/// Total indicator reading of a surface whose centre lies `off_mm` off the middle of a section that goes along `path`
/// in one turn; the indicator stands where the tool is. `out_mm` is what stands out of the surface's circle there, angle
/// after angle (none for a round one), `side` that of the tool.
#[must_use]
pub fn indicator_reading_mm(path_mm: &[[f64; 2]], off_mm: [f64; 2], out_mm: &[f64], side: f64) -> f64 {
    let step_rad = TAU / path_mm.len() as f64;
    let across_mm: Vec<f64> = (path_mm.iter().enumerate())
        .map(|(index, place_mm)| {
            let (sine, cosine) = (step_rad * index as f64).sin_cos();
            let out_mm = out_mm.get(index).copied().unwrap_or(0.0);
            place_mm[0] + off_mm[0] * cosine - off_mm[1] * sine - side * out_mm
        })
        .collect();
    range_mm(&across_mm)
}
