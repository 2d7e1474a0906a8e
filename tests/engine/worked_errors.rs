//! Worked jobs in inches about what is off the axis, what gives beside the work, and what hangs: sizes left and forces.
//!
//! Source of the expected values: as in `worked_jobs.rs`, and closed forms named beside each. Here too shear is taken off
//! by a third computation: a bar moved by `e` at one place lies at `e·G(x)/G(0)` elsewhere and asks for `e/G(0)` there,
//! with `G` from the plain solver under a unit push.

use midspan::job::{Cut, Job, MaterialChoice, Stated, Stiffness};
use midspan::study::{Shape, Support};

use crate::bar_job::{Ends, between, first_pass, lying, reaction_n, rest_push_n, set_push, with_and_without_shear};
use crate::beam_case::Solved;
use crate::close::close;
use crate::worked_jobs::{E_MPA, E_PSI, INCH_MM, POUND_N, POUND_PER_INCH, bar, held, meets, steady};

/// A steady so stiff that it does not give.
const STIFF_LBF_PER_IN: f64 = 1e9;

/// With shear and without: a bar under a unit push at `place_in`.
fn pushed(diameter_in: f64, length_in: f64, ends: Ends, place_in: f64, watched_in: &[f64]) -> [Solved; 2] {
    let hold = held(ends, length_in);
    with_and_without_shear(&[(length_in, diameter_in)], E_PSI, |case| {
        watched_in.iter().fold(hold(case).push(place_in, 1.0), |case, place| case.watch(*place))
    })
}

/// 1.25 x 30 in with a stiff steady at 15 in, off by so much toward the operator and up; one light cut, no push.
fn nudged(ends: Ends, toward_in: f64, up_in: f64) -> Job {
    let mut job = bar(1.25, 30.0, ends, 0.0);
    let mut rest = steady(7, 15.0, STIFF_LBF_PER_IN);
    rest.offset_x_mm = -toward_in * INCH_MM;
    rest.offset_y_mm = up_in * INCH_MM;
    job.setups[0].rests = vec![rest];
    job.setups[0].passes[0].cut = Cut::Depth { on_diameter_mm: 0.0005 * INCH_MM };
    job
}

fn error_thou(job: &Job, place_in: f64) -> f64 {
    1000.0 * between(&first_pass(job), place_in * INCH_MM, |station| station.error_mm) / INCH_MM
}

fn rest_lbf(job: &Job, shape: &Shape) -> [f64; 2] {
    rest_push_n(shape, job).map(|force_n| force_n / POUND_N)
}

/// Chuck and centre, the steady 0.003 in toward the operator: -6.0 thou at 15 and at 18 in, -3.5 at 9, -3.8 at 24, nothing
/// at both ends; 44 lbf on the jaws, 247 lbf·in at the chuck. Between centres the same offset needs only 19 lbf.
#[test]
fn a_steady_nudged_toward_the_tool_makes_a_dip_and_loads_its_jaws() {
    let job = nudged(Ends::ChuckAndCentre, 0.003, 0.0);
    let places_in = [9.0, 18.0, 24.0];
    let plain = pushed(1.25, 30.0, Ends::ChuckAndCentre, 15.0, &places_in);
    for (place_in, printed) in [(9.0, -3.5), (15.0, -6.0), (18.0, -6.0), (24.0, -3.8)] {
        let lies = plain.each_ref().map(|solved| -6.0 * solved.shift_at(place_in) / solved.shift_at(15.0));
        let found = error_thou(&job, place_in);
        // The light cut takes 0.04 % off the bar behind the tool.
        close(found, lies[0], 5e-4, 0.0);
        close(found - (lies[0] - lies[1]), printed, 0.01, 0.05);
    }
    for end_in in [0.0, 30.0] {
        close(error_thou(&job, end_in), 0.0, 0.0, 1e-4);
    }
    let shape = lying(&job);
    let [away_lbf, up_lbf] = rest_lbf(&job, &shape);
    let asks = plain.each_ref().map(|solved| 0.003 / solved.shift_at(15.0));
    meets(-away_lbf, 44.0, 0.5, asks);
    close(up_lbf, 0.0, 0.0, 1e-3);
    // The chuck's couple by statics, from what rest and centre push with.
    let couple_lbf_in = away_lbf * 15.0 + reaction_n(&shape, Support::TailX) / POUND_N * 30.0;
    let couples = plain.each_ref().map(|solved| 0.003 * solved.carried_nmm[0].abs() / solved.shift_at(15.0));
    meets(-couple_lbf_in, 247.0, 0.5, couples);

    let job = nudged(Ends::TwoCentres, 0.003, 0.0);
    let asks = pushed(1.25, 30.0, Ends::TwoCentres, 15.0, &[]).map(|solved| 0.003 / solved.shift_at(15.0));
    meets(-rest_lbf(&job, &lying(&job))[0], 19.0, 0.5, asks);
}

/// The same steady 0.003 in up: the same 44 lbf, but only 0.000014 in on diameter ("0.00001" where it is printed to one
/// figure): e²/R.
#[test]
fn a_steady_nudged_up_loads_its_jaws_and_leaves_the_size() {
    let job = nudged(Ends::ChuckAndCentre, 0.0, 0.003);
    let [away_lbf, up_lbf] = rest_lbf(&job, &lying(&job));
    let asks = pushed(1.25, 30.0, Ends::ChuckAndCentre, 15.0, &[]).map(|solved| 0.003 / solved.shift_at(15.0));
    meets(up_lbf, 44.0, 0.5, asks);
    close(away_lbf, 0.0, 0.0, 1e-3);
    let left_in = error_thou(&job, 15.0) / 1000.0;
    close(left_in, 0.000_014, 0.0, 5e-7);
    close(left_in, 0.003 * 0.003 / 0.625, 0.01, 0.0);
}

/// 3 in thick, a steady at 20 in 0.005 in toward the operator, no tailstock: -2·e at the steady, fading to nothing at the
/// chuck. The axis leans there by 1.5·e/L where the chuck clamps and e/L where it is a hinge: a bore of 3 in depth is
/// 2.3 or 1.5 thou tapered, a face 0.6 or 0.4 thou dished.
#[test]
fn an_end_in_an_offset_steady_leans_by_the_slope_of_the_closed_form() {
    for (hinge, taper, dish) in [(false, 2.3, 0.6), (true, 1.5, 0.4)] {
        let mut job = bar(3.0, 22.0, Ends::ChuckOnly, 0.0);
        let setup = &mut job.setups[0];
        let mut rest = steady(7, 20.0, STIFF_LBF_PER_IN);
        rest.offset_x_mm = -0.005 * INCH_MM;
        setup.rests = vec![rest];
        if hinge {
            setup.drive.rotation_k_nmm_per_rad = Stiffness::Spring(Stated::given(1.0));
        }
        let shape = lying(&job);
        let last = shape.z_mm.len() - 1;
        let slope = -(shape.x_mm[last] - shape.x_mm[last - 1]) / (shape.z_mm[last] - shape.z_mm[last - 1]);
        let expected = if hinge {
            [0.005 / 20.0; 2]
        } else {
            let plain = pushed(3.0, 22.0, Ends::ChuckOnly, 20.0, &[]);
            plain.map(|solved| 0.005 * solved.turn_at(20.0) / solved.shift_at(20.0))
        };
        meets(2000.0 * slope * 3.0, taper, 0.051, expected.map(|slope| 2000.0 * slope * 3.0));
        meets(1000.0 * slope * 1.5, dish, 0.051, expected.map(|slope| 1000.0 * slope * 1.5));
        job.setups[0].passes[0].from_z_mm = 20.0 * INCH_MM;
        close(error_thou(&job, 20.0), -10.0, 1e-3, 0.0);
        close(error_thou(&job, 0.0), 0.0, 0.0, 1e-4);
    }
}

/// A steady 0.010 in off the axis fights a bar of 1 in by 3·EI·e/L³: 690, 205, 86, 26 and 5.5 lbf at 4, 6, 8, 12 and 20 in
/// from the chuck. Shear takes 3 % off the first.
#[test]
fn an_offset_steady_fights_the_work_the_harder_the_nearer_the_chuck() {
    for (place_in, printed, half_last) in
        [(4.0, 690.0, 5.0), (6.0, 205.0, 0.5), (8.0, 86.0, 0.5), (12.0, 26.0, 0.5), (20.0, 5.5, 0.05)]
    {
        let mut job = bar(1.0, place_in + 1.0, Ends::ChuckOnly, 0.0);
        let mut rest = steady(7, place_in, STIFF_LBF_PER_IN);
        rest.offset_x_mm = 0.010 * INCH_MM;
        job.setups[0].rests = vec![rest];
        let asks = pushed(1.0, place_in + 1.0, Ends::ChuckOnly, place_in, &[]).map(|s| 0.010 / s.shift_at(place_in));
        meets(rest_lbf(&job, &lying(&job))[0], printed, half_last, asks);
    }
}

/// A stout bar, 3 x 20 in between centres under 150 lbf, whose ends give 1 in per 100 000 lbf: small in the middle, +3.0,
/// 2.1, 1.9, 2.1, 3.0 thou; with a headstock twice as stiff +1.5, 1.3, 1.5, 2.0, 3.0.
#[test]
fn a_stout_bar_between_soft_ends_comes_out_as_an_hourglass() {
    let (push_lbf, tail) = (150.0, 1e5);
    for (head, printed) in [(1e5, [3.0, 2.1, 1.9, 2.1, 3.0]), (2e5, [1.5, 1.3, 1.5, 2.0, 3.0])] {
        let scale = 0.1;
        let mut job = bar(3.0, 20.0, Ends::TwoCentres, 0.0);
        job.lathe.headstock_k_n_per_mm = Stiffness::Spring(Stated::given(head * POUND_PER_INCH));
        job.lathe.tailstock_k_n_per_mm = Stiffness::Spring(Stated::given(tail * POUND_PER_INCH));
        job.setups[0].passes[0].cut = Cut::Depth { on_diameter_mm: 0.001 * INCH_MM };
        set_push(&mut job, push_lbf * scale * POUND_N, false);
        for (quarter, printed) in (0..5).zip(printed) {
            let place_in = 5.0 * f64::from(quarter);
            let plain = with_and_without_shear(&[(20.0, 3.0)], E_PSI, |case| {
                case.sprung(0.0, head).sprung(20.0, tail).push(place_in, push_lbf)
            });
            let found = error_thou(&job, place_in) / scale;
            let plain = plain.map(|solved| 2000.0 * solved.shift_at(place_in));
            // The stock is 0.03 % thicker than the bar.
            close(found, plain[0], 5e-4, 0.0);
            close(found - (plain[0] - plain[1]), printed, 0.01, 0.05);
        }
    }
}

/// Readings of a bar of 1 x 18 in between centres, above the wanted size: 0, 2.9, 5.3, 4.9, 4.0 thou at 0, 4.5, 9, 13.5 and
/// 18 in from the headstock. A tailstock 2.0 thou away from the operator and the spring under 20 lbf (3.3 thou in the
/// middle) give them: so moving it 2.0 thou toward the operator leaves the hump alone. (Everything a hundredth of its
/// size, so that the bar keeps one diameter.)
#[test]
fn readings_of_an_offset_tailstock_are_a_straight_line_and_a_hump() {
    let scale = 0.01;
    let errors = |tail_away_in: f64| {
        let mut job = bar(1.0, 18.0, Ends::TwoCentres, 20.0 * scale);
        job.setups[0].tail.offset_x_mm = tail_away_in * scale * INCH_MM;
        job.setups[0].passes[0].cut = Cut::Depth { on_diameter_mm: 0.010 * scale * INCH_MM };
        [0.0, 4.5, 9.0, 13.5, 18.0].map(|place_in| error_thou(&job, place_in) / scale)
    };
    for (found, printed) in errors(0.002).into_iter().zip([0.0, 2.9, 5.3, 4.9, 4.0]) {
        close(found, printed, 0.01, 0.05);
    }
    let hump = errors(0.0);
    close(hump[2], 3.3, 0.01, 0.05);
    close(hump[0].abs().max(hump[4].abs()), 0.0, 0.0, 1e-4);
}

/// Steel of 0.2836 lb/in³. 2 x 120 in between centres weighs 107 lb, sags 0.102 in, and comes out +10 thou in the middle
/// when it is cut as it hangs; 1 x 36 in sags 0.0033 in and comes out 0.00002 in large. (5·w·L⁴/384·EI and y²/R.)
#[test]
fn sag_spoils_the_size_of_very_long_bars_only() {
    let hanging = |diameter_in: f64, length_in: f64, over_in: f64| {
        let mut job = bar(diameter_in + over_in, length_in, Ends::TwoCentres, 0.0);
        let mut steel = crate::bar_job::weightless(E_MPA);
        steel.density_kg_per_m3 = 0.2836 * 0.453_592_37 / (INCH_MM * INCH_MM * INCH_MM) * 1e9;
        job.shaft.material = MaterialChoice::Own(steel);
        job.setups[0].passes[0].cut = Cut::ToDiameter { diameter_mm: diameter_in * INCH_MM };
        job
    };
    for (diameter_in, length_in, sag_in, half_last, left_in, half_left, over_in) in
        [(2.0, 120.0, 0.102, 5e-4, 0.010, 5e-4, 0.015), (1.0, 36.0, 0.0033, 5e-5, 0.000_02, 5e-6, 0.0002)]
    {
        let shape = lying(&hanging(diameter_in, length_in, 0.0));
        let deepest_in = -shape.y_mm.iter().copied().fold(f64::INFINITY, f64::min) / INCH_MM;
        close(deepest_in, sag_in, 0.01, half_last);
        let left = error_thou(&hanging(diameter_in, length_in, over_in), length_in / 2.0) / 1000.0;
        close(left, left_in, 0.01, half_left);
        if diameter_in == 2.0 {
            let weight_n = [Support::DriveY, Support::TailY].map(|end| reaction_n(&shape, end)).iter().sum::<f64>();
            close(weight_n / POUND_N, 107.0, 0.0, 0.5);
        }
    }
}
