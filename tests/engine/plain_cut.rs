//! A cut whose force follows its depth, found by halving on the plain solver: for threads and bores, where the other
//! plain cut does not go. With weightless steel of round figures, so that forces can be worked out by hand.

use midspan::job::material::OwnMaterial;
use midspan::job::{Job, MaterialChoice, Rest, RestId, SetTo, Sleeve, Stiffness, TailEnd, TailKind, TipKind, ToolSide};
use midspan::study::layout::Place;
use midspan::study::prepared::Prepared;

use crate::dense::{Dof, Jaw, Load, Plane, solve};
use crate::random_job::{jaw, plain_job};
use crate::second_method::{Work, beam};

pub const E_MPA: f64 = 210_000.0;

/// A weightless bar of this diameter in a rigid chuck, `length_mm` of it out of the jaws and nothing at its end; kc1.1
/// is 2000 N/mm², m 0.25, thrust 0.5, sharp carbide at the reference rake, at 100 m/min for a diameter of 40 mm.
pub fn bar_in_chuck(diameter_mm: f64, length_mm: f64) -> Job {
    let mut job = plain_job(length_mm + 30.0, diameter_mm);
    job.shaft.material = MaterialChoice::Own(OwnMaterial {
        name: "steel".to_owned(),
        e_mpa: E_MPA,
        poisson_ratio: 0.3,
        density_kg_per_m3: 1e-9,
        growth_per_k: 1.2e-5,
        kc11_mpa: 2000.0,
        mc: 0.25,
        thrust_ratio: 0.5,
    });
    job.lathe.headstock_k_n_per_mm = Stiffness::Rigid;
    job.lathe.tailstock_k_n_per_mm = Stiffness::Rigid;
    job.lathe.carriage_k_n_per_mm = Stiffness::Rigid;
    let setup = &mut job.setups[0];
    setup.drive.radial_k_n_per_mm = Stiffness::Rigid;
    setup.drive.rotation_k_nmm_per_rad = Stiffness::Rigid;
    setup.tail = TailEnd::free();
    setup.passes[0].speed_rpm = 100_000.0 / (std::f64::consts::PI * 40.0);
    setup.passes[0].from_z_mm = length_mm;
    setup.passes[0].to_z_mm = length_mm / 2.0;
    job
}

/// A steady of four rigid jaws about the axis.
pub fn four_jaws(z_mm: f64, offset_x_mm: f64, offset_y_mm: f64) -> Rest {
    Rest {
        id: RestId(7),
        z_mm,
        jaws: [0.0, 90.0, 180.0, 270.0].map(|angle| jaw(angle, 0.0, 1e12)).to_vec(),
        tip: TipKind::Bronze,
        set_to: SetTo::Axis,
        offset_x_mm,
        offset_y_mm,
        sleeve: Sleeve::None,
        spot: midspan::job::Spot::round(),
        tip_bored_mm: None,
    }
}

/// How far the end of a clamped bar moves for 1 N at its end, shear included.
pub fn end_give_mm_per_n(diameter_mm: f64, bore_mm: f64, length_mm: f64) -> f64 {
    let inertia_mm4 = std::f64::consts::PI / 64.0 * (diameter_mm.powi(4) - bore_mm.powi(4));
    let area_mm2 = std::f64::consts::FRAC_PI_4 * (diameter_mm.powi(2) - bore_mm.powi(2));
    // Cowper for a hollow section: 6(1+ν)(1+m²)² / ((7+6ν)(1+m²)² + (20+12ν)m²), m = bore / outside, ν = 0.3.
    let m2 = (bore_mm / diameter_mm).powi(2);
    let shape = (1.0 + m2).powi(2);
    let kappa = 7.8 * shape / (8.8 * shape + 23.6 * m2);
    length_mm.powi(3) / (3.0 * E_MPA * inertia_mm4) + length_mm / (kappa * E_MPA / 2.6 * area_mm2)
}

/// What the plain solver finds.
#[derive(Clone, Copy, Debug)]
pub struct Found {
    pub depth_mm: f64,
    pub radius_left_mm: f64,
    pub u_mm: f64,
    pub v_mm: f64,
}

/// The surface that is cut at one place.
pub struct PlainCut<'a> {
    pub job: &'a Job,
    pub prepared: &'a Prepared,
    pub place: Place,
    /// The wall of a bore, not the outside.
    pub inside: bool,
    pub old_radius_mm: f64,
    pub wanted_radius_mm: f64,
    pub lever_mm: f64,
    /// Main, radial and feed force of a depth.
    pub forces: &'a dyn Fn(f64) -> [f64; 3],
    /// The wall behind the tool: bores that differ from those of `prepared`, by node and side.
    pub jaws: Vec<Jaw>,
}

impl PlainCut<'_> {
    /// Fed to the headstock; the depth by halving.
    pub fn solve(&self, work: &dyn Fn(&mut crate::dense::Beam)) -> Found {
        let (mut low_mm, mut high_mm) = (0.0, self.old_radius_mm);
        loop {
            let depth_mm = 0.5 * (low_mm + high_mm);
            let found = self.at(depth_mm, work);
            let really_mm = (found.radius_left_mm - self.old_radius_mm).abs();
            if high_mm - low_mm < 1e-13 {
                return found;
            }
            if really_mm > depth_mm {
                low_mm = depth_mm;
            } else {
                high_mm = depth_mm;
            }
        }
    }

    fn at(&self, depth_mm: f64, work: &dyn Fn(&mut crate::dense::Beam)) -> Found {
        let setup = &self.job.setups[0];
        let [main_n, radial_n, feed_n] = (self.forces)(depth_mm);
        let side = if setup.tool.side == ToolSide::Rear { -1.0 } else { 1.0 };
        let push = if self.inside { -1.0 } else { 1.0 };
        let node = self.place.node;
        // Cold work: the thrust is what was typed. What such a cut pushes along the work is left out.
        let thrust_n = if setup.tail.kind == TailKind::Free { 0.0 } else { setup.tail.thrust_n };
        let mut beam = beam(self.job, setup, self.prepared, Work::Cut { node, to_headstock: true }, [thrust_n; 2]);
        work(&mut beam);
        let load = |plane, dof, value| Load { node, plane, dof, value };
        beam.loads = vec![
            load(Plane::X, Dof::Shift, side * push * radial_n),
            load(Plane::Y, Dof::Shift, side * main_n),
            load(Plane::X, Dof::Turn, -side * self.lever_mm * feed_n),
        ];
        let answer = solve(&beam, &self.jaws).expect("the work is held");
        let [u_mm, _, v_mm, _] = answer.shape[node];
        let give_mm = match self.job.lathe.carriage_k_n_per_mm {
            Stiffness::Rigid => 0.0,
            Stiffness::Spring(stated) => radial_n / stated.value,
        };
        let radius_left_mm = (self.wanted_radius_mm + push * give_mm + side * u_mm).hypot(v_mm);
        Found { depth_mm, radius_left_mm, u_mm, v_mm }
    }
}

/// The jaws of the job's rests, as the plain solver takes them; rests set to the axis.
pub fn plain_jaws(job: &Job, prepared: &Prepared) -> Vec<Jaw> {
    let mut jaws = Vec::new();
    for rest in &job.setups[0].rests {
        let node = prepared.layout.nodes_mm.iter().position(|z_mm| (z_mm - rest.z_mm).abs() < 1e-6).unwrap();
        for jaw in &rest.jaws {
            let (nx, ny) = (jaw.angle_rad.cos(), jaw.angle_rad.sin());
            let gap_mm = jaw.gap_mm + nx * rest.offset_x_mm + ny * rest.offset_y_mm;
            let friction_ratio = if job.setups[0].jaw_friction { rest.tip.friction_ratio() } else { 0.0 };
            jaws.push(Jaw { node, nx, ny, gap_mm, k_n_per_mm: jaw.k_n_per_mm.value_or(1e12), friction_ratio });
        }
    }
    jaws
}
