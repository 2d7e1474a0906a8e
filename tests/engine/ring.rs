//! A thin ring in jaws, against printed formulas, a worked tube and the energy of the bent wall summed up by steps.

use std::f64::consts::PI;

use midspan::mechanics::ring::{Load, Ring};

use crate::close::close;

const INCH_MM: f64 = 25.4;
const PSI_MPA: f64 = 0.006_894_757;
const LBF_N: f64 = 4.448_222;

/// A ring of which `W R³/(E I)` is 1 mm for 1 N.
fn unit_ring() -> Ring {
    Ring { mean_radius_mm: 10.0, wall_mm: 1.0, width_mm: 12.0, e_mpa: 1000.0 }
}

/// Source: Roark, Formulas for Stress and Strain, circular rings, n equal radial loads evenly spaced (from memory), with
/// theta half the angle between loads: at the loads `(1/sin²)(theta/2 + sin cos /2) - 1/theta`, halved; between them
/// `(2/theta - 1/sin - theta cos/sin²)/4`. For two loads these are the 0.149 and 0.137 of W R³/(E I), on diameter, of
/// every text (Timoshenko).
#[test]
fn equal_jaws_press_a_ring_as_the_printed_formulas_say() {
    for n in [2_usize, 3, 4, 6] {
        let theta = PI / n as f64;
        let (sine, cosine) = theta.sin_cos();
        let load = 0.5 * ((theta / 2.0 + sine * cosine / 2.0) / (sine * sine) - 1.0 / theta);
        let between = 0.25 * (2.0 / theta - 1.0 / sine - theta * cosine / (sine * sine));
        let found = unit_ring().squeeze(n, 1.0);
        close(found.in_at_jaws_mm, load, 1e-10, 0.0);
        close(found.out_between_mm, between, 1e-10, 0.0);
    }
    let two = unit_ring().squeeze(2, 1.0);
    close(2.0 * two.in_at_jaws_mm, 0.149, 0.0, 0.0005);
    close(2.0 * two.out_between_mm, 0.137, 0.0, 0.0005);
}

/// A tube worked by hand with the printed formula: 3 in outside, 0.125 in wall, 1.5 in grip, steel of 30e6 psi, 500 lbf a
/// jaw of a three-jaw chuck: 0.0032 in in at the jaws, 0.0029 in out between.
#[test]
fn three_jaws_press_the_worked_tube_out_of_round() {
    let tube = Ring::of_tube(3.0 * INCH_MM, 2.75 * INCH_MM, 1.5 * INCH_MM, 30e6 * PSI_MPA);
    close(tube.mean_radius_mm, 1.4375 * INCH_MM, 1e-12, 0.0);
    let found = tube.squeeze(3, 500.0 * LBF_N);
    close(found.in_at_jaws_mm / INCH_MM, 0.0032, 0.0, 0.00005);
    close(found.out_between_mm / INCH_MM, 0.0029, 0.0, 0.00005);
    assert!(tube.is_thin());
}

/// Bending moment in half of the stretch between two loads of 1 N on a ring of radius 1, at an angle from the middle.
/// Shear is nothing there and the hoop force is `1/(2 sin theta)`; the moment at the middle is the one that leaves both
/// ends of the half stretch unturned.
struct HalfStretch {
    theta_rad: f64,
    middle_moment: f64,
}

impl HalfStretch {
    fn new(n: usize) -> Self {
        let theta_rad = PI / n as f64;
        let without = Self { theta_rad, middle_moment: 0.0 };
        let turned = by_steps(theta_rad, |angle| without.moment(angle));
        Self { theta_rad, middle_moment: -turned / theta_rad }
    }

    fn moment(&self, from_middle_rad: f64) -> f64 {
        self.middle_moment + (1.0 - from_middle_rad.cos()) / (2.0 * self.theta_rad.sin())
    }
}

fn by_steps(to_rad: f64, value: impl Fn(f64) -> f64) -> f64 {
    let n = 4000;
    let step = to_rad / f64::from(n);
    (0..n).map(|index| value((f64::from(index) + 0.5) * step) * step).sum()
}

/// A second method: the moments of the bent wall come from balance and symmetry alone, their energy (Castigliano) gives
/// how far the loads go in, and with loads put half way between (virtual work) how far the wall comes out there.
#[test]
fn the_energy_of_the_bent_wall_gives_the_same_squeeze() {
    for n in [2, 3, 4, 5, 8] {
        let half = HalfStretch::new(n);
        // Twice the energy of the 2 n half stretches is the work of n loads: 2 integral of M² each.
        let at_loads = 2.0 * by_steps(half.theta_rad, |angle| half.moment(angle).powi(2));
        // Loads outwards at the middles give the same moments, from the other end and of the other sign.
        let between = 2.0 * by_steps(half.theta_rad, |angle| -half.moment(angle) * half.moment(half.theta_rad - angle));
        let found = unit_ring().squeeze(n, 1.0);
        close(found.in_at_jaws_mm, at_loads, 1e-6, 0.0);
        close(found.out_between_mm, between, 1e-6, 0.0);
    }
}

/// One jaw moves the ring as a whole but bends it too: against the sum of waves, term by term. Source: a thin ring bends
/// in waves of `P R³/(pi E I (k² - 1)²)` (Timoshenko, from memory).
#[test]
fn a_single_jaw_bends_the_ring_as_its_waves_say() {
    let loads = [Load { angle_rad: 0.4, force_n: 2.0 }];
    for at_rad in [0.4, 1.0, 2.9, 4.4, -3.0] {
        let waves: f64 = (2..2000_i32).map(f64::from).map(|k| (k * (at_rad - 0.4)).cos() / (k * k - 1.0).powi(2)).sum();
        close(unit_ring().in_mm(&loads, at_rad), 2.0 / PI * waves, 0.0, 1e-9);
    }
}

/// The ring keeps its length, so what goes in somewhere comes out elsewhere (geometry).
#[test]
fn what_goes_in_comes_out_elsewhere() {
    let loads = [(0.1, 30.0), (1.9, 5.0), (4.0, 60.0)].map(|(angle_rad, force_n)| Load { angle_rad, force_n });
    let mean = by_steps(2.0 * PI, |at_rad| unit_ring().in_mm(&loads, at_rad)) / (2.0 * PI);
    let most = unit_ring().in_mm(&loads, 4.0);
    close(mean, 0.0, 0.0, 1e-6 * most);
}

/// Half the wall gives eight times as much, half the grip twice (section of the wall).
#[test]
fn a_thinner_wall_or_a_shorter_grip_gives_more() {
    let squeeze = |wall_mm: f64, width_mm: f64| {
        Ring { mean_radius_mm: 40.0, wall_mm, width_mm, e_mpa: 200_000.0 }.squeeze(3, 1000.0).in_at_jaws_mm
    };
    close(squeeze(2.0, 30.0) / squeeze(4.0, 30.0), 8.0, 1e-12, 0.0);
    close(squeeze(4.0, 15.0) / squeeze(4.0, 30.0), 2.0, 1e-12, 0.0);
    assert!(!Ring::of_tube(60.0, 20.0, 30.0, 2e5).is_thin() && !Ring::of_tube(60.0, 60.0, 30.0, 2e5).is_thin());
}
