//! Receptance at the tool against whole complex matrices, and the chatter limit against the textbook's formulas.

use std::f64::consts::PI;

use midspan::mechanics::chatter::{Orientation, Response, limit, limit_at_speed, lobe};
use midspan::mechanics::number::Complex;
use midspan::mechanics::receptance::{Comb, Receptance, Stop, Travel, frequencies_near_hz, receptances};
use midspan::mechanics::vibration::modes;

use crate::close::close;
use crate::random_job::Lot;
use crate::swing_case::{Meshed, Rod};

/// Receptances at the stops of work that is the same on both sides of the tool.
fn everywhere(meshed: &Meshed, nodes: &[usize], frequencies_hz: &[f64], damping_ratio: f64) -> Vec<Vec<Receptance>> {
    let stops: Vec<Stop> = nodes.iter().map(|&node| Stop { node, jaws: meshed.jaws.clone() }).collect();
    let mut rest_nodes: Vec<usize> = meshed.jaws.iter().map(|jaw| jaw.node).collect();
    rest_nodes.sort_unstable();
    rest_nodes.dedup();
    let travel = Travel {
        front: &meshed.elements,
        front_masses: &meshed.masses,
        back: &meshed.elements,
        back_masses: &meshed.masses,
        springs: &meshed.springs,
        rest_nodes: &rest_nodes,
        stops: &stops,
    };
    let mut found = vec![Vec::new(); nodes.len()];
    receptances(&travel, frequencies_hz, damping_ratio, |stop, _, receptance| found[stop].push(*receptance));
    found
}

/// Work that is turned down behind the tool, rests anywhere, a follower near the tool at every stop: against the whole
/// matrix at each stop and frequency.
#[test]
fn receptance_of_random_work_is_that_of_the_whole_matrix() {
    let mut n_checked = 0;
    for number in 0..60 {
        let mut lot = Lot(20_000 + number);
        let mut rod = Rod::random(&mut lot);
        rod.masses.clear();
        let mut finished = rod.clone();
        for (_, round, _) in &mut finished.lands {
            (round.outside0_mm, round.outside1_mm) = (0.93 * round.outside0_mm, 0.9 * round.outside1_mm);
        }
        let (old, finished) = (rod.mesh(), finished.mesh());
        let Some(whole) = old.matrices().swings() else { continue };
        let last = old.elements.len();
        let damping_ratio = lot.between(0.005, 0.05);
        let mut nodes: Vec<usize> = (0..3).map(|_| lot.below(last + 1)).collect();
        nodes.sort_unstable();
        let mut rest_nodes: Vec<usize> = old.jaws.iter().map(|jaw| jaw.node).collect();
        rest_nodes.sort_unstable();
        rest_nodes.dedup();
        let stops: Vec<Stop> = nodes
            .iter()
            .map(|&node| {
                // Jaws that do not touch at this stop, and a follower ahead of the tool or behind it.
                let mut jaws: Vec<_> = old.jaws.iter().filter(|_| lot.chance(0.8)).copied().collect();
                let follower = (node + lot.below(4)).saturating_sub(lot.below(4)).min(last);
                if lot.chance(0.6) {
                    for degrees in [10.0_f64, 85.0] {
                        let (up, away) = degrees.to_radians().sin_cos();
                        let k_n_per_mm = lot.tenfold(1e3, 1e5);
                        jaws.push(midspan::mechanics::chain::JawSpring {
                            node: follower,
                            direction: [away, up],
                            k_n_per_mm,
                        });
                    }
                }
                Stop { node, jaws }
            })
            .collect();
        let frequencies_hz: Vec<f64> = (0..6).map(|_| lot.tenfold(0.3 * whole[0].0, 1.5 * whole[5].0)).collect();
        let travel = Travel {
            front: &old.elements,
            front_masses: &old.masses,
            back: &finished.elements,
            back_masses: &finished.masses,
            springs: &old.springs,
            rest_nodes: &rest_nodes,
            stops: &stops,
        };
        receptances(&travel, &frequencies_hz, damping_ratio, |stop, frequency, found| {
            let here = &stops[stop];
            let mut joined = old.joined(&finished, here.node);
            joined.jaws.clone_from(&here.jaws);
            let columns = joined.matrices().receptance(here.node, frequencies_hz[frequency], 2.0 * damping_ratio);
            let [x, slope, y] = columns;
            let size = x[0].0.hypot(x[0].1).max(y[1].0.hypot(y[1].1));
            let turn_size = x[2].0.hypot(x[2].1).max(1e-3 * size);
            for (found, whole, size) in [
                (found.xx, x[0], size),
                (found.xy, x[1], size),
                // Maxwell: up per force away.
                (found.xy, y[0], size),
                (found.yy, y[1], size),
                (found.x_per_moment, x[2], turn_size),
                // Maxwell: slope per force away.
                (found.x_per_moment, slope[0], turn_size),
                (found.y_per_moment, y[2], turn_size),
                (found.y_per_moment, slope[1], turn_size),
            ] {
                close(found.re, whole.0, 0.0, 1e-7 * size);
                close(found.im, whole.1, 0.0, 1e-7 * size);
            }
            n_checked += 1;
        });
    }
    assert!(n_checked > 800, "{n_checked}");
}

#[test]
fn receptance_standing_still_is_the_static_give() {
    let mut n_checked = 0;
    for number in 0..40 {
        let meshed = Rod::random(&mut Lot(30_000 + number)).mesh();
        if meshed.matrices().swings().is_none() {
            continue;
        }
        let still = everywhere(&meshed, &[2, 5], &[0.0], 0.0);
        for (node, found) in [2, 5].into_iter().zip(still) {
            n_checked += 1;
            let [x, _, y] = meshed.matrices().receptance(node, 0.0, 0.0);
            close(found[0].xx.re, x[0].0, 1e-8, 0.0);
            close(found[0].yy.re, y[1].0, 1e-8, 0.0);
            close(found[0].xy.re, x[1].0, 0.0, 1e-8 * x[0].0);
            close(found[0].xx.im, 0.0, 0.0, 1e-15 * x[0].0);
        }
    }
    assert!(n_checked > 60);
}

/// The closed form of a cantilever, `L³/3EI` and `L²/2EI`; the clamp's own give is 4e-8 of it.
#[test]
fn a_moment_moves_the_work_as_a_force_turns_it() {
    let (length, diameter, e) = (600.0_f64, 30.0_f64, 2.1e5);
    let meshed = Rod::thin(length, diameter, e, 7850.0).clamped(0.0).mesh();
    let tip = meshed.elements.len();
    let found = everywhere(&meshed, &[tip], &[0.0], 0.0)[0][0];
    let ei = e * PI / 64.0 * diameter.powi(4);
    close(found.xx.re, length.powi(3) / (3.0 * ei), 1e-7, 0.0);
    close(found.x_per_moment.re, length.powi(2) / (2.0 * ei), 1e-7, 0.0);
}

/// With structural damping the real part is least at `ω²/ω₀² = 1 + η`, where it is -1/(2ηk) for one swing alone.
#[test]
fn one_swing_dips_as_structural_damping_says() {
    let rod = Rod::thin(800.0, 20.0, 2.1e5, 0.0).pinned(0.0).pinned(800.0).mass_kg(400.0, 3.0);
    let meshed = rod.mesh();
    // Receptance takes its masses from elements; the disc goes to one of them.
    let mut massed = meshed.clone();
    let node = meshed.node_masses[0].0;
    massed.masses[node][0] += meshed.node_masses[0].1;
    let damping_ratio: f64 = 0.02;
    let natural_hz = modes(&meshed.work(), 1).unwrap()[0].frequency_hz;
    let at_hz = natural_hz * (1.0 + 2.0 * damping_ratio).sqrt();
    let found = everywhere(&massed, &[node], &[0.0, 0.99 * at_hz, at_hz, 1.01 * at_hz], damping_ratio);
    let [still, before, dip, after] = [0, 1, 2, 3].map(|i| found[0][i].xx);
    let give = still.size() * (1.0 + 4.0 * damping_ratio * damping_ratio).sqrt();
    close(dip.re, -give / (4.0 * damping_ratio), 1e-6, 0.0);
    assert!(before.re > dip.re && after.re > dip.re);
}

/// Viscous single swing: `1/k/(1 - r² + 2iζr)`.
fn viscous(natural_hz: f64, damping_ratio: f64, k_n_per_mm: f64, frequency_hz: f64) -> (f64, f64) {
    let r = frequency_hz / natural_hz;
    let (a, b) = (1.0 - r * r, 2.0 * damping_ratio * r);
    let size = k_n_per_mm * (a * a + b * b);
    (a / size, -b / size)
}

fn responses(parts: &[(f64, f64, f64, f64)], low_hz: f64, high_hz: f64, n: usize) -> Vec<Response> {
    let at = |i: usize| low_hz + (high_hz - low_hz) * i as f64 / n as f64;
    let response = |frequency_hz: f64| {
        let mut sum = Complex { re: 0.0, im: 0.0 };
        for &(natural_hz, damping_ratio, k, angle_degrees) in parts {
            let (re, im) = viscous(natural_hz, damping_ratio, k, frequency_hz);
            let share = f64::to_radians(angle_degrees).cos().powi(2);
            (sum.re, sum.im) = (sum.re + share * re, sum.im + share * im);
        }
        Response { frequency_hz, receptance: sum }
    };
    (0..=n).map(at).map(response).collect()
}

/// A swing that moves the edge against the force has its real part turned over: it is least at `r² = 1 - 2ζ`, where it is
/// -1/(4kζ(1-ζ)). (From the same closed form as below, r² = 1 ∓ 2ζ being where the real part of a single swing is most and
/// least.) Asked near the natural frequencies alone, such a swing is found beside an ordinary one; the stretch between the
/// two, which is not asked, gives nothing.
#[test]
fn a_swing_against_the_force_chatters_below_its_frequency() {
    let (zeta, kc) = (0.02, 2000.0);
    for (first, second) in [((140.0, 9e4, 1.0), (275.0, 3e4, -1.0)), ((140.0, 9e4, -1.0), (275.0, 3e4, 1.0))] {
        let at = |frequency_hz: f64| {
            let mut sum = Complex { re: 0.0, im: 0.0 };
            for (natural_hz, k, sign) in [first, second] {
                let (re, im) = viscous(natural_hz, zeta, k, frequency_hz);
                (sum.re, sum.im) = (sum.re + sign * re, sum.im + sign * im);
            }
            Response { frequency_hz, receptance: sum }
        };
        let everywhere: Vec<Response> = (0..=40_000).map(|i| at(100.0 + 0.006 * f64::from(i))).collect();
        let near = frequencies_near_hz(&[[first.0; 2], [second.0; 2]], zeta, &Comb::FINE);
        let responses: Vec<Response> = near.into_iter().map(at).collect();
        let (found, dense) = (limit(kc, &responses).unwrap(), limit(kc, &everywhere).unwrap());
        close(found.width_mm, dense.width_mm, 5e-3, 0.0);
        close(found.frequency_hz, dense.frequency_hz, 2e-3, 0.0);
        let closed_mm = 2.0 * second.1 * zeta * (1.0 + second.2 * zeta) / kc;
        // The other swing adds its static give, a part in sixty of the dip.
        close(found.width_mm, closed_mm, 0.05, 0.0);
        close(found.frequency_hz, second.0 * (1.0 + second.2 * 2.0 * zeta).sqrt(), 2e-3, 0.0);
    }
}

/// Source: Y. Altintas, Manufacturing Automation, 2nd ed., page 131 (the formula read in course notes, the closed form
/// for one swing from memory): 2kζ(1+ζ)/(K cos²θ).
#[test]
fn limit_of_one_swing_is_the_closed_form() {
    let (k, zeta, kc, theta) = (2.26e5, 0.012, 1000.0, 30.0_f64);
    let found = limit(kc, &responses(&[(250.0, zeta, k, theta)], 240.0, 270.0, 400)).unwrap();
    let closed = 2.0 * k * zeta * (1.0 + zeta) / (kc * theta.to_radians().cos().powi(2));
    close(found.width_mm, closed, 1e-5, 0.0);
    close(found.width_mm, 7.319, 1e-3, 0.0);
    close(found.frequency_hz, 250.0 * (1.0 + 2.0 * zeta).sqrt(), 1e-4, 0.0);
    // The dip lies between frequencies; 0.4ζ apart they still find it.
    let coarse = limit(kc, &responses(&[(250.0, zeta, k, theta)], 240.0, 270.0, 25)).unwrap();
    close(coarse.width_mm, closed, 5e-3, 0.0);
    // Above its resonance only is a single swing pushed back with the wrong sign.
    assert_eq!(limit(kc, &responses(&[(250.0, zeta, k, theta)], 100.0, 249.0, 50)), None);
}

/// Source: leekunhwee/Dynamics, "Two DOF Example" (course notes after Altintas): swings of 250 Hz (ζ 0.012, 2.26e8 N/m,
/// +30°) and 150 Hz (ζ 0.010, 2.13e8 N/m, -45°), 1000 N/mm². Read off its plot (±2.5 %): valleys of some 7.25 mm near
/// 8700, 5500, 4050 rpm, and of 9.6 mm near 11 800, 5150, 3300, 2400 rpm. Recomputed: 7.185 mm at 252.98 Hz, 8678, 5521,
/// 4049 rpm; 9.458 mm at 151.49 Hz, 11 850, 5144, 3285, 2413 rpm.
#[test]
fn two_swings_meet_the_worked_example() {
    let parts = [(250.0, 0.012, 2.26e5, 30.0), (150.0, 0.010, 2.13e5, -45.0)];
    let valley = |low_hz: f64, high_hz: f64, n_waves: &[u32]| {
        let band = responses(&parts, low_hz, high_hz, 4000);
        let lowest = |n_waves: u32| {
            let points = lobe(1000.0, &band, n_waves);
            *points.iter().min_by(|a, b| a.limit.width_mm.total_cmp(&b.limit.width_mm)).unwrap()
        };
        (limit(1000.0, &band).unwrap(), n_waves.iter().map(|n| lowest(*n).speed_rpm).collect::<Vec<_>>())
    };
    let (deep, speeds_rpm) = valley(200.0, 400.0, &[1, 2, 3]);
    close(deep.width_mm, 7.25, 0.025, 0.0);
    close(deep.width_mm, 7.185, 2e-4, 0.0);
    close(deep.frequency_hz, 252.98, 1e-4, 0.0);
    for (found, (printed, recomputed)) in speeds_rpm.iter().zip([(8700.0, 8678.0), (5500.0, 5521.0), (4050.0, 4049.0)])
    {
        close(*found, printed, 0.025, 0.0);
        close(*found, recomputed, 1e-3, 0.0);
    }
    let (shallow, speeds_rpm) = valley(150.2, 170.0, &[0, 1, 2, 3]);
    close(shallow.width_mm, 9.6, 0.025, 0.0);
    close(shallow.width_mm, 9.458, 2e-4, 0.0);
    close(shallow.frequency_hz, 151.49, 1e-4, 0.0);
    let printed = [(11_800.0, 11_850.0), (5150.0, 5144.0), (3300.0, 3285.0), (2400.0, 2413.0)];
    for (found, (printed, recomputed)) in speeds_rpm.iter().zip(printed) {
        close(*found, printed, 0.025, 0.0);
        close(*found, recomputed, 1e-3, 0.0);
    }
}

/// The limit at a speed is the lowest lobe there: on a valley's speed it is the valley, and it is never below the limit
/// at the worst speed. What it finds meets the two conditions of the textbook, worked out anew at its frequency.
#[test]
fn limit_at_a_speed_is_the_lowest_lobe() {
    let parts = [(250.0, 0.012, 2.26e5, 30.0), (150.0, 0.010, 2.13e5, -45.0)];
    let band = responses(&parts, 140.0, 600.0, 20_000);
    let worst = limit(1000.0, &band).unwrap();
    for speed_rpm in [8678.0, 5521.0, 4049.0] {
        close(limit_at_speed(1000.0, &band, speed_rpm).unwrap().width_mm, worst.width_mm, 1e-3, 0.0);
    }
    let at = |frequency_hz: f64| responses(&parts, frequency_hz, frequency_hz + 1.0, 1)[0].receptance;
    let mut n_found = 0;
    for step in 0..200 {
        let speed_rpm = 2000.0 + 50.0 * f64::from(step);
        let Some(found) = limit_at_speed(1000.0, &band, speed_rpm) else { continue };
        n_found += 1;
        assert!(found.width_mm > 0.9999 * worst.width_mm);
        let here = at(found.frequency_hz);
        close(found.width_mm, -1.0 / (2.0 * 1000.0 * here.re), 1e-3, 0.0);
        let waves = 60.0 * found.frequency_hz / speed_rpm - (3.0 * PI + 2.0 * here.angle_rad()) / (2.0 * PI);
        close(waves, waves.round(), 0.0, 0.01);
    }
    assert!(n_found > 150, "{n_found}");
    // Every lobe passes where it says, so the lowest can only be lower.
    for n_waves in 0..5 {
        for point in lobe(1000.0, &band, n_waves).iter().step_by(97) {
            let found = limit_at_speed(1000.0, &band, point.speed_rpm).unwrap();
            assert!(found.width_mm < 1.001 * point.limit.width_mm, "{point:?}");
        }
    }
}

fn turning() -> Orientation {
    Orientation::turning(1.0, 60.0_f64.to_radians(), 0.6, 0.0)
}

/// Chip width limits along a rod at all its nodes, by frequencies near its natural ones.
fn limits_along(rod: &Rod, damping_ratio: f64) -> (Vec<f64>, Vec<f64>) {
    let meshed = rod.mesh();
    let natural: Vec<[f64; 2]> =
        modes(&meshed.work(), 6).unwrap().iter().map(|mode| [mode.frequency_hz, mode.frequency_hz]).collect();
    let frequencies_hz = frequencies_near_hz(&natural, damping_ratio, &Comb::FINE);
    let nodes: Vec<usize> = (0..meshed.z_mm.len()).collect();
    let found = everywhere(&meshed, &nodes, &frequencies_hz, damping_ratio);
    let limits = found.iter().map(|at| {
        let response = |(frequency_hz, work): (&f64, &Receptance)| Response {
            frequency_hz: *frequency_hz,
            receptance: turning().receptance(work),
        };
        let responses: Vec<Response> = frequencies_hz.iter().zip(at).map(response).collect();
        limit(2000.0, &responses).map_or(f64::INFINITY, |limit| limit.width_mm)
    });
    (meshed.z_mm.clone(), limits.collect())
}

fn lowest_at(z_mm: &[f64], limits: &[f64]) -> f64 {
    let lowest = (0..limits.len()).min_by(|a, b| limits[*a].total_cmp(&limits[*b])).unwrap();
    z_mm[lowest]
}

/// Reasoned, not published: the limit is lowest where the work gives most: mid-length between centres, 0.414 of the
/// length from the centre with a chuck (the first swing's own crest is at 0.419), the free end of work in a chuck alone.
#[test]
fn limit_is_lowest_where_the_work_gives_most() {
    let bar = || Rod::bar(1000.0, 25.0, 2.1e5, 7850.0);
    let (z_mm, limits) = limits_along(&bar().pinned(0.0).pinned(1000.0), 0.02);
    close(lowest_at(&z_mm, &limits), 500.0, 0.0, 1e-6);
    let (z_mm, limits) = limits_along(&bar().clamped(0.0).pinned(1000.0), 0.02);
    close(lowest_at(&z_mm, &limits), 586.0, 0.0, 15.0);
    let (z_mm, limits) = limits_along(&bar().clamped(0.0), 0.02);
    close(lowest_at(&z_mm, &limits), 1000.0, 0.0, 1e-6);
}

/// Reasoned: with one swing that rules, the limit goes as one over the square of its shape.
#[test]
fn limit_goes_as_one_over_the_square_of_the_shape() {
    let rod = Rod::bar(1000.0, 25.0, 2.1e5, 7850.0).pinned(0.0).pinned(1000.0);
    let (z_mm, limits) = limits_along(&rod, 0.01);
    let middle = limits[limits.len() / 2];
    for (z_mm, width_mm) in z_mm.iter().zip(&limits) {
        if (300.0..=700.0).contains(z_mm) {
            // The other swings add a little static give of their own.
            close(width_mm * (PI * z_mm / 1000.0).sin().powi(2) / middle, 1.0, 0.03, 0.0);
        }
    }
}

/// Reasoned: give falls with the fourth power of the diameter, so the limit rises with it.
#[test]
fn limit_rises_with_the_fourth_power_of_the_diameter() {
    let middle = |diameter_mm: f64| {
        let rod = Rod::thin(1000.0, diameter_mm, 2.1e5, 7850.0).pinned(0.0).pinned(1000.0);
        let (_, limits) = limits_along(&rod, 0.02);
        limits[limits.len() / 2]
    };
    close(middle(30.0) / middle(20.0), 1.5_f64.powi(4), 1e-6, 0.0);
}

/// With the limit's formula written out: pinned bar, first swing alone, -1/(2 K min Re G), min Re G = -G₁/(2η),
/// `G₁ = 2 L³/(π⁴ EI)` at mid-length, times thrust ratio and cos² of the chord.
#[test]
fn limit_between_centres_is_that_of_its_first_swing() {
    let (length, diameter, zeta) = (1000.0_f64, 25.0_f64, 0.005);
    let rod = Rod::thin(length, diameter, 2.1e5, 7850.0).pinned(0.0).pinned(length);
    let (_, limits) = limits_along(&rod, zeta);
    let first = 2.0 * length.powi(3) / (PI.powi(4) * 2.1e5 * PI / 64.0 * diameter.powi(4));
    let dip = -first / (4.0 * zeta) * 0.6 * 60.0_f64.to_radians().cos().powi(2);
    close(limits[limits.len() / 2], -1.0 / (2.0 * 2000.0 * dip), 0.01, 0.0);
}

#[test]
fn a_jaw_that_couples_the_planes_lets_the_main_force_into_the_chip() {
    let bar = || Rod::bar(800.0, 20.0, 2.1e5, 7850.0).pinned(0.0).pinned(800.0);
    let found = |rod: &Rod| everywhere(&rod.mesh(), &[40], &[30.0], 0.02)[0][0];
    let level = found(&bar().jaw(500.0, 0.0, 1e4));
    close(level.xy.size(), 0.0, 0.0, 1e-18);
    let slanted = found(&bar().jaw(500.0, 45.0, 1e4));
    assert!(slanted.xy.size() > 0.1 * slanted.xx.size());
    let mirrored = found(&bar().jaw(500.0, 135.0, 1e4));
    close(mirrored.xy.re, -slanted.xy.re, 1e-9, 0.0);
}
