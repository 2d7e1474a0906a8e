//! Beams with a printed answer, put to the program and to the plain solver alike.
//!
//! "Recomputed" figures come from an independent finite-element script; where a printed figure is rounded or off, the
//! comment says by how much, and the tolerance is that of the source. Grades: A, the printed answer was read and
//! recomputed; B, inputs read, answer from memory, recomputed; C, all from memory, recomputed.

use crate::beam_case::{Case, RIGID_N_PER_MM};
use crate::close::close;

fn inertia_mm4(diameter_mm: f64) -> f64 {
    std::f64::consts::PI / 64.0 * diameter_mm.powi(4)
}

/// Source: lecture notes on the stiffness of the process system, 360docs.net/doc/0b9443134: a bar between centres
/// gives F·(L-x)²·x²/(3EIL) under a force at x, at most F·L³/48EI.
/// Grade A: the formula was read.
#[test]
fn bar_between_centres_gives_under_the_tool_as_the_lecture_says() {
    let (length, force, ei) = (600.0_f64, 300.0, 2e5 * inertia_mm4(30.0));
    for x in [50.0, 100.0, 275.0, 300.0, 480.0] {
        let case = Case::thin(length, ei).pinned(0.0).pinned(length).push(x, force);
        for solved in case.solved() {
            close(solved.shift_at(x), force * (length - x).powi(2) * x * x / (3.0 * ei * length), 1e-6, 0.0);
        }
    }
}

/// Source: example of a Chinese textbook on manufacturing technology, from memory: bar of 30 x 600 mm between
/// centres, 300 N. Printed 0.052, 0.132, 0.17 mm at L/6, L/3, L/2; 0.132 is 1.6 % low (0.1341 recomputed).
/// Grade C: from memory, recomputed.
#[test]
fn slender_bar_between_centres_meets_the_textbook_table() {
    for (sixths, printed_mm) in [(1.0, 0.052), (2.0, 0.132), (3.0, 0.17), (4.0, 0.132), (5.0, 0.052)] {
        let x = 100.0 * sixths;
        let case = Case::thin(600.0, 2e5 * inertia_mm4(30.0)).pinned(0.0).pinned(600.0).push(x, 300.0);
        for solved in case.solved() {
            close(solved.shift_at(x), printed_mm, 0.02, 0.0);
            if sixths == 3.0 {
                // Recomputed: 0.1698; twice that on diameter.
                close(2.0 * solved.shift_at(x), 0.3395, 3e-4, 0.0);
            }
        }
    }
}

/// Source: same family of textbooks, from memory: stiff work on centres of 60 and 50 N/um with a tool post of
/// 40 N/um under 300 N; seven places, printed to three digits.
/// Grade C: from memory, recomputed.
#[test]
fn stiff_work_on_a_soft_lathe_meets_the_textbook_table() {
    let printed_mm = [0.0125, 0.0111, 0.0104, 0.0103, 0.0107, 0.0118, 0.0135];
    let recomputed_mm = [0.012_500, 0.011_139, 0.010_389, 0.010_250, 0.010_722, 0.011_806, 0.013_500];
    for (i, (printed_mm, recomputed_mm)) in printed_mm.into_iter().zip(recomputed_mm).enumerate() {
        let x = 100.0 * i as f64;
        // A thousand million times as stiff as steel, so that shear and bending are out.
        let stiff = Case { lands: vec![(600.0, 30.0)], e_mpa: 2e14, ..Case::thin(600.0, 1.0) };
        for solved in stiff.sprung(0.0, 6e4).sprung(600.0, 5e4).push(x, 300.0).solved() {
            let give_mm = solved.shift_at(x) + 300.0 / 4e4;
            close(give_mm, printed_mm, 5e-3, 0.0);
            close(give_mm, recomputed_mm, 1e-4, 0.0);
        }
    }
}

/// Source: coefficients 3, 48 and 102 of the three usual mountings; 48 in the lecture notes above, 3 in any beam
/// table, 102 from memory of Russian technology textbooks and of Roark (0.0098·W·l³/EI at 0.414·l from the prop).
/// Grade A for 3 and 48, C for 102.
#[test]
fn three_usual_mountings_give_their_worst_coefficients() {
    let (length, worst_from_chuck) = (1000.0, (2.0 - 2.0_f64.sqrt()) * 1000.0);
    let bar = || Case::thin(length, length.powi(3));
    for solved in bar().clamped(0.0).push(length, 1.0).solved() {
        close(solved.shift_at(length), 1.0 / 3.0, 1e-6, 0.0);
    }
    for solved in bar().pinned(0.0).pinned(length).push(500.0, 1.0).solved() {
        close(solved.shift_at(500.0), 1.0 / 48.0, 1e-6, 0.0);
    }
    for solved in bar().clamped(0.0).pinned(length).push(worst_from_chuck, 1.0).solved() {
        close(solved.shift_at(worst_from_chuck), 0.009_812_42, 1e-6, 0.0);
        close(solved.shift_at(worst_from_chuck), 1.0 / 102.0, 2e-3, 0.0);
    }
    // Closed form, load at a from the chuck: F·a³·(L-a)²·(4L-a)/(12·EI·L³).
    for a in [200.0_f64, 400.0, 650.0, 900.0] {
        let exact = a.powi(3) * (length - a).powi(2) * (4.0 * length - a) / (12.0 * length.powi(6));
        for solved in bar().clamped(0.0).pinned(length).push(a, 1.0).solved() {
            close(solved.shift_at(a), exact, 1e-6, 0.0);
        }
    }
}

/// Source: Shigley, Mechanical Engineering Design, 8th ed., solutions, problem 7-8: 2.823e-4, 4.342e-4, 3.04e-4 rad.
/// Grade A: read, recomputed.
#[test]
fn uniform_shaft_slopes_meet_shigley() {
    let case = Case::thin(279.4, 206_840.0 * inertia_mm4(47.625)).pinned(0.0).pinned(279.4).push(228.6, 6445.5);
    for solved in case.solved() {
        close(solved.turn_at(0.0), 2.823e-4, 5e-4, 0.0);
        close(solved.turn_at(279.4), -4.342e-4, 5e-4, 0.0);
        close(solved.turn_at(228.6), -3.04e-4, 5e-4, 0.0);
    }
}

/// Source: Shigley, 8th ed., solutions, problem 7-10 (M/I table read; slopes from memory): 0.0014260, 0.0001466,
/// 0.0013120 rad.
/// Grade B: slopes from memory, recomputed.
#[test]
fn stepped_shaft_slopes_meet_shigley() {
    let lands = [(40.0, 35.0), (60.0, 40.0), (110.0, 45.0), (65.0, 40.0), (40.0, 35.0)];
    let ratios = lands.map(|(length, diameter)| (length, diameter / 40.0));
    let case = Case::thin_stepped(207_000.0 * inertia_mm4(40.0), &ratios);
    for solved in case.pinned(0.0).pinned(315.0).push(140.0, 7000.0).solved() {
        close(solved.turn_at(0.0), 0.001_426_0, 1e-3, 0.0);
        close(solved.turn_at(140.0), 0.000_146_6, 1e-3, 0.0);
        close(solved.turn_at(315.0), -0.001_312_0, 1e-3, 0.0);
    }
}

/// Source: Shigley, 9th ed., example 7-4: all diameters of a stepped shaft times 1.216 bring a slope of 0.001095 rad
/// to 0.0005 rad.
/// Grade A.
#[test]
fn slope_falls_with_the_fourth_power_of_all_diameters() {
    let slope = |scale: f64| {
        let lands = [(80.0, 0.9 * scale), (150.0, scale), (70.0, 0.8 * scale)];
        let case = Case::thin_stepped(1e10, &lands);
        // The unit diameter carries EI; scaled lands keep it.
        case.pinned(0.0).pinned(300.0).push(140.0, 1000.0).solved()
    };
    for (thin, thick) in slope(1.0).iter().zip(slope(1.216)) {
        close(0.001_095 * thick.turn_at(300.0) / thin.turn_at(300.0), 0.0005, 3e-3, 0.0);
    }
}

/// Source: Ugural, Mechanical Design of Machine Components, example 9.6: I in the outer quarters, 2I in the middle
/// half, load at mid: 3·W·L³/(256·E·I), 78.125 um.
/// Grade A: closed form read.
#[test]
fn stepped_shaft_with_mid_load_meets_ugural() {
    let thick = 2.0_f64.powf(0.25);
    let case = Case::thin_stepped(2e5 * 0.3e6, &[(250.0, 1.0), (500.0, thick), (250.0, 1.0)]);
    for solved in case.pinned(0.0).pinned(1000.0).push(500.0, 400.0).solved() {
        close(solved.shift_at(500.0), 0.078_125, 1e-6, 0.0);
    }
}

/// Source: a published calculation sheet (scribd 180712151): two loads of 500 lbf on 55 in, 26 in from the ends:
/// 0.00183953 in at the centre, 0.001831734 in under the loads; fixed-fixed with both at the centre 0.000461906 in.
/// Grade A: recomputed to all printed digits.
#[test]
fn four_point_bending_and_fixed_ends_meet_the_sheet() {
    let bar = || Case::thin(55.0, 28e6 * 67.0);
    for solved in bar().pinned(0.0).pinned(55.0).push(26.0, 500.0).push(29.0, 500.0).watch(27.5).solved() {
        close(solved.shift_at(27.5), 0.001_839_53, 1e-5, 0.0);
        close(solved.shift_at(26.0), 0.001_831_734, 1e-5, 0.0);
    }
    for solved in bar().clamped(0.0).clamped(55.0).push(27.5, 1000.0).solved() {
        close(solved.shift_at(27.5), 0.000_461_906, 1e-5, 0.0);
    }
}

/// Source: Bhavikatti, Strength of Materials, example 5.10: 23.2 mm at most, 21.3 mm at the load, 0.0017 rad at mid
/// (printed so; recomputed 23.225, 21.333, 0.0016667).
/// Grade A.
#[test]
fn off_centre_load_meets_bhavikatti() {
    let case = Case::thin(6000.0, 2e5 * 15e6).pinned(0.0).pinned(6000.0).push(4000.0, 18_000.0).watch(3000.0);
    for solved in case.solved() {
        close(solved.max_shift().0, 23.2, 0.0, 0.05);
        close(solved.max_shift().0, 23.225, 1e-4, 0.0);
        close(solved.shift_at(4000.0), 21.3, 0.0, 0.05);
        close(solved.turn_at(3000.0), 0.0017, 0.0, 5e-5);
    }
}

/// Source: beam formula table: overhang a beyond a span L, load F at the tip: uplift F·a·L²/(9√3·EI) at L/√3, tip
/// F·a²·(L+a)/3EI.
/// Grade A.
#[test]
fn overhanging_end_meets_the_beam_table() {
    let case = Case::thin(2500.0, 1e9).pinned(0.0).pinned(2000.0).push(2500.0, 10.0);
    for solved in case.solved() {
        close(solved.shift_at(2500.0), 10.0 * 500.0 * 500.0 * 2500.0 / 3e9, 1e-6, 0.0);
        let uplift = -10.0 * 500.0 * 2000.0 * 2000.0 / (9.0 * 3.0_f64.sqrt() * 1e9);
        // The lowest node is within half an element of the lowest point.
        close(solved.min_shift(), uplift, 2e-5, 0.0);
    }
}

/// Source: Bhavikatti, examples 5.2 and 5.4 (9.08, 6.85 mm); B. K. Sarkar, Strength of Materials, problems 6.5 and
/// 6.6 (0.43 mm, 0.00031 rad; 0.00267 rad, 9.14 mm). Printed digits; Sarkar's maximum of 9.38 mm in 6.6 is wrong
/// (9.407) and not used.
/// Grade A.
#[test]
fn cantilevers_and_a_long_span_meet_the_textbooks() {
    let case = Case::thin(3000.0, 2e5 * 2e8).clamped(0.0).push(2000.0, 2e4).push(3000.0, 3e4);
    for solved in case.solved() {
        close(solved.shift_at(3000.0), 9.08, 0.0, 0.005);
    }
    let case = Case::thin(3000.0, 2e5 * 1.8e8).clamped(0.0).even(0.0, 2000.0, 20.0).push(3000.0, 2e4);
    for solved in case.solved() {
        close(solved.shift_at(3000.0), 6.85, 0.0, 0.005);
    }
    let inertia = 100.0 * 200.0_f64.powi(3) / 12.0;
    let case = Case::thin(2000.0, 2.1e5 * inertia).clamped(0.0).even(1000.0, 2000.0, 2.0).push(2000.0, 1000.0);
    for solved in case.solved() {
        close(solved.shift_at(2000.0), 0.43, 0.0, 0.005);
        close(solved.shift_at(2000.0), 0.4345, 1e-4, 0.0);
        close(solved.turn_at(2000.0), 0.000_31, 0.0, 5e-6);
    }
    let case = Case::thin(10_000.0, 2.1e5 * 1e8).pinned(0.0).pinned(10_000.0).push(6000.0, 1e4);
    for solved in case.solved() {
        close(solved.turn_at(0.0), 0.002_67, 0.0, 5e-6);
        close(solved.shift_at(6000.0), 9.14, 0.0, 0.005);
        close(solved.max_shift().0, 9.407, 1e-4, 0.0);
    }
}

/// Source: B. K. Sarkar, problems 12.1 (prop 7.407 kN) and 12.3 (117.5 kN, wall 315 kN·m).
/// Grade A.
#[test]
fn propped_cantilevers_meet_sarkar() {
    let bar = || Case::thin(6.0, 1e3).clamped(0.0).pinned(6.0);
    for solved in bar().even(0.0, 4.0, 10.0).solved() {
        close(solved.carried_n[1], 7.407, 1e-4, 0.0);
    }
    for solved in bar().even(0.0, 6.0, 30.0).push(3.0, 160.0).solved() {
        close(solved.carried_n[1], 117.5, 1e-6, 0.0);
        close(solved.carried_nmm[0].abs(), 315.0, 1e-6, 0.0);
    }
}

/// Source: tests of the open library IndeterminateBeam, propped beam with a mid
/// load: 10312.5 and 4687.5 N, 16875 N·m; 0.016 and 0.017 m (recomputed 0.016316, 0.016677).
/// Grade A.
#[test]
fn propped_beam_with_mid_load_meets_an_open_library() {
    let case = Case::thin(6.0, 200e9 * 9.05e-6).clamped(0.0).pinned(6.0).push(3.0, 15_000.0);
    for solved in case.solved() {
        close(solved.carried_n[0], 10_312.5, 1e-6, 0.0);
        close(solved.carried_n[1], 4687.5, 1e-6, 0.0);
        close(solved.carried_nmm[0].abs(), 16_875.0, 1e-6, 0.0);
        close(solved.shift_at(3.0), 0.016_316, 1e-4, 0.0);
        close(solved.max_shift().0, 0.016_677, 1e-4, 0.0);
    }
}

/// Source: the same library's first example: pin, pin and clamp at 0, 5 and 7 m; 1000 N at 2 m, 2000 N/m from 1 to
/// 4 m, couple 2000 N·m at 3.5 m. Shear -2381.5 N, largest 4618.5 N, least -3069.2 N; 0.0036, 0.0041, -0.0003 m.
/// Grade A for forces.
#[test]
fn continuous_beam_meets_an_open_library() {
    let case = Case::thin(7.0, 200e9 * 9.05e-6).pinned(0.0).pinned(5.0).clamped(7.0);
    let case = case.push(2.0, 1000.0).even(1.0, 4.0, 2000.0).couple(3.5, 2000.0).watch(3.0);
    for solved in case.solved() {
        close(solved.carried_n[0], 2381.5, 2e-5, 0.0);
        close(7000.0 - solved.carried_n[0], 4618.5, 2e-5, 0.0);
        close(solved.carried_n[1], 7687.69, 2e-5, 0.0);
        close(solved.carried_n[2], -3069.2, 2e-5, 0.0);
        close(solved.shift_at(3.0), 0.003_565, 2e-4, 0.0);
        close(solved.max_shift().0, 0.004_110, 2e-4, 0.0);
        close(solved.min_shift(), -0.000_335, 2e-3, 0.0);
    }
}

/// Source: FrontISTR-Commons/FrontISTR, merge request 626: L = 1, P = 0.1, EI = 1, κGA = 5: tip 0.0533333, turn 0.05.
/// Grade A.
#[test]
fn short_cantilever_bends_and_shears_as_timoshenko_says() {
    // κGA/EI = 48/((7+6ν)·d²) for a solid round bar with Cowper's κ: choose d for 5, then E for EI = 1.
    let diameter = (48.0_f64 / (5.0 * (7.0 + 6.0 * 0.3))).sqrt();
    let case = Case { lands: vec![(1.0, diameter)], e_mpa: 1.0 / inertia_mm4(diameter), ..Case::thin(1.0, 1.0) };
    for solved in case.clamped(0.0).push(1.0, 0.1).solved() {
        close(solved.shift_at(1.0), 0.1 / 3.0 + 0.1 / 5.0, 1e-9, 0.0);
        close(solved.shift_at(1.0), 0.053_333_3, 1e-6, 0.0);
        close(solved.turn_at(1.0), 0.05, 1e-9, 0.0);
    }
}

/// Source: form factor 10/9 of the solid round section (Gere and Timoshenko), κ = 0.9; Cowper's 0.886 at ν = 0.3
/// differs by 1.5 %, below 0.02 % of the deflection at L/D of 10 and more.
/// Grade A for 10/9, C for Cowper's factor.
#[test]
fn shear_factor_of_a_round_bar_agrees_with_the_energy_form() {
    close(crate::dense::beam::cowper(0.3, 0.0), 0.9, 0.016, 0.0);
    let (length, diameter, e_mpa) = (400.0_f64, 40.0, 2.1e5);
    let case = Case { lands: vec![(length, diameter)], e_mpa, ..Case::thin(length, 1.0) };
    let g_area = e_mpa / 2.6 * std::f64::consts::PI / 4.0 * diameter * diameter;
    let energy_form = length.powi(3) / (3.0 * e_mpa * inertia_mm4(diameter)) + length / (0.9 * g_area);
    for solved in case.clamped(0.0).push(length, 1.0).solved() {
        close(solved.shift_at(length), energy_form, 2e-4, 0.0);
    }
}

/// Source: Airy points L/√3 (end faces upright), scribd 442629217; Bessel points 0.5594·L (least shortening; a metre
/// bar of 1020 mm on supports 571 mm apart), published notes on length standards.
/// Grade A.
#[test]
fn airy_and_bessel_points_are_where_they_should_be() {
    let bar = |apart: f64| {
        let case = Case::thin(1000.0, 1e9).even(0.0, 1000.0, 1.0);
        case.pinned(0.5 * (1000.0 - apart)).pinned(0.5 * (1000.0 + apart)).solved()
    };
    for solved in bar(1000.0 / 3.0_f64.sqrt()) {
        // Against the slope q·L³/24EI of the same bar held at its ends.
        close(solved.turn_at(0.0), 0.0, 0.0, 1e-7);
    }
    // Shortening is half the integral of the squared slope.
    let shortening = |apart: f64, solver: usize| {
        let solved = &bar(apart)[solver];
        let pieces = solved.z_mm.windows(2).zip(solved.turn_rad.windows(2));
        pieces.map(|(z, t)| (z[1] - z[0]) * (t[0] * t[0] + t[0] * t[1] + t[1] * t[1]) / 6.0).sum::<f64>()
    };
    for solver in 0..bar(500.0).len() {
        let [before, at, after] = [556.4, 559.4, 562.4].map(|apart| shortening(apart, solver));
        let least = 559.4 + 0.5 * 3.0 * (before - after) / (before - 2.0 * at + after);
        close(least, 559.4, 2e-4, 0.0);
        close(1.02 * least, 571.0, 0.0, 0.5);
    }
}

/// Source: Pytel and Kiusalaas, Mechanics of Materials, example 7.4: span 12 ft, 60 lb/ft over the last 9 ft:
/// 190 and 350 lb, 532 lb·ft. The printed -380 lb·ft at the right end is wrong (683.44) and not used.
/// Grade A for three of four.
#[test]
fn fixed_ends_under_part_load_meet_pytel() {
    for solved in Case::thin(12.0, 1e3).clamped(0.0).clamped(12.0).even(3.0, 12.0, 60.0).solved() {
        close(solved.carried_n[0], 190.0, 0.0, 0.5);
        close(solved.carried_n[1], 350.0, 0.0, 0.5);
        close(solved.carried_nmm[0].abs(), 532.0, 0.0, 0.5);
        close(solved.carried_nmm[0].abs(), 531.56, 1e-5, 0.0);
        close(solved.carried_n[0], 189.84, 5e-5, 0.0);
        close(solved.carried_nmm[1].abs(), 683.44, 1e-5, 0.0);
    }
}

/// Source: Pytel and Kiusalaas, example 7.3: clamped beam of 4 m, 5000 N at 2 m, the end support 12 mm away at
/// first: 3718.75 N, 1281.25 N, 4875 N·m. The gap closes from 900 N on (reckoned here from the free tip).
/// Grade A for the reactions.
#[test]
fn gap_under_the_prop_closes_as_pytel_says() {
    let bar = |force: f64| {
        let case = Case::thin(4000.0, 1e4 * 50e6).clamped(0.0).propped(4000.0, 12.0, RIGID_N_PER_MM);
        case.push(2000.0, force).solved()
    };
    for solved in bar(5000.0) {
        close(solved.carried_n[0], 3718.75, 1e-6, 0.0);
        close(solved.propped_n[0], 1281.25, 1e-6, 0.0);
        close(solved.carried_nmm[0].abs(), 4_875_000.0, 1e-6, 0.0);
    }
    for solved in bar(899.0) {
        assert_eq!(solved.propped_n[0], 0.0, "the gap is still open");
    }
    for solved in bar(901.0) {
        assert!(solved.propped_n[0] > 0.0, "the gap has closed");
    }
}

/// Source: B. K. Sarkar, problem 12.8: 8 m, 3 kN/m: level prop 15 kN, ends 4.5 kN; prop 20 mm low 14.625 kN, ends
/// 4.69 kN (4.6875).
/// Grade A.
#[test]
fn sinking_middle_prop_meets_sarkar() {
    for (gap, prop_n, end_n) in [(0.0, 15_000.0, 4500.0), (20.0, 14_625.0, 4687.5)] {
        let case = Case::thin(8000.0, 2e4 * 1e7).pinned(0.0).pinned(8000.0).even(0.0, 8000.0, 3.0);
        for solved in case.propped(4000.0, gap, RIGID_N_PER_MM).solved() {
            close(solved.propped_n[0], prop_n, 1e-6, 0.0);
            close(solved.carried_n[0], end_n, 1e-6, 0.0);
            close(solved.carried_n[1], end_n, 1e-6, 0.0);
        }
    }
}

/// Source: worked question on propped cantilevers (holooly.com, chapter 2, Q 2.7): V = 3wl/8, V = 3wl/8 - 3EIy/l³
/// with the prop y low, (wl⁴/8EI)/(l³/3EI + 1/k) on a spring. Own figures for a bar of 20 mm: 1.767146 N for 3 mm,
/// 72.8543 N at 20 N/mm. From y = wl⁴/8EI on, the prop is free.
/// Grade A.
#[test]
fn rigid_sinking_and_springy_props_meet_their_closed_forms() {
    let (length, q, ei) = (2000.0_f64, 0.1, 2e5 * inertia_mm4(20.0));
    let prop =
        |gap: f64, k: f64| Case::thin(length, ei).clamped(0.0).even(0.0, length, q).propped(length, gap, k).solved();
    for solved in prop(0.0, RIGID_N_PER_MM) {
        close(solved.propped_n[0], 75.0, 1e-6, 0.0);
    }
    for solved in prop(3.0, RIGID_N_PER_MM) {
        close(75.0 - solved.propped_n[0], 1.767_146, 1e-6, 0.0);
    }
    for solved in prop(0.0, 20.0) {
        close(solved.propped_n[0], 72.8543, 1e-6, 0.0);
    }
    let lifts_at = q * length.powi(4) / (8.0 * ei);
    for solved in prop(1.0001 * lifts_at, RIGID_N_PER_MM) {
        assert_eq!(solved.propped_n[0], 0.0, "the prop is free");
    }
    for solved in prop(0.9999 * lifts_at, RIGID_N_PER_MM) {
        assert!(solved.propped_n[0] > 0.0, "the prop still carries");
    }
}
