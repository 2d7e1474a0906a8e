//! Worked jobs in inches for teaching, put through the whole study: how far a bar springs, where to put what under it.
//!
//! Source of the expected values: computed beside the project with a finite-element script of Euler beams, E = 30e6
//! psi, supports as plain springs (checked there against F·L³/3EI and F·L³/48EI); printed to two or three figures.
//! They leave shear out. So every figure is computed a third time by the plain solver of the tests, with shear and
//! without: the program must meet it with shear, and the printed figure without, to 1 % or half its last digit.

use midspan::job::{DriveKind, Follower, FollowerSide, Hold, Job, Rest, Stiffness, TipKind};
use midspan::study::PassResult;

use crate::bar_job::{self, Ends, between, first_pass, furthest, set_push, spring_rest, with_and_without_shear};
use crate::beam_case::{Case, Solved};
use crate::close::close;
use crate::random_job::jaw;

pub const INCH_MM: f64 = 25.4;
pub const POUND_N: f64 = 4.448_221_6;
pub const POUND_PER_INCH: f64 = POUND_N / INCH_MM;
pub const E_PSI: f64 = 30e6;
pub const E_MPA: f64 = E_PSI * POUND_N / (INCH_MM * INCH_MM);

/// A weightless steel bar between rigid ends, pushed by `push_lbf` at the tool wherever it is.
pub fn bar(diameter_in: f64, length_in: f64, ends: Ends, push_lbf: f64) -> Job {
    let mut job = bar_job::bar(&[(length_in * INCH_MM, diameter_in * INCH_MM)], ends, E_MPA);
    set_push(&mut job, push_lbf * POUND_N, false);
    job
}

/// A rest that is a spring in every direction.
pub fn steady(number: u32, place_in: f64, k_lbf_per_in: f64) -> Rest {
    spring_rest(number, place_in * INCH_MM, k_lbf_per_in * POUND_PER_INCH)
}

/// Twice the horizontal spring, in thou: what a deep enough cut would leave on diameter.
pub fn thou_at(result: &PassResult, place_in: f64) -> f64 {
    2000.0 * between(result, place_in * INCH_MM, |station| station.spring_x_mm) / INCH_MM
}

/// The worst of it, and where.
fn worst_thou(result: &PassResult) -> (f64, f64) {
    let worst = furthest(result);
    (2000.0 * worst.spring_x_mm / INCH_MM, worst.z_mm / INCH_MM)
}

/// The bar as the plain solver holds it, in inches and pounds.
pub fn held(ends: Ends, length_in: f64) -> impl Fn(Case) -> Case {
    move |case| match ends {
        Ends::ChuckOnly => case.clamped(0.0),
        Ends::ChuckAndCentre => case.clamped(0.0).pinned(length_in),
        Ends::TwoCentres => case.pinned(0.0).pinned(length_in),
    }
}

/// What the plain solver says, with shear and without, of twice the spring under a push at `place_in`, in thou. `more`
/// puts rests on.
pub fn plain_thou(
    lands_in: &[(f64, f64)],
    ends: Ends,
    push_lbf: f64,
    place_in: f64,
    more: impl Fn(Case) -> Case,
) -> [f64; 2] {
    let length_in: f64 = lands_in.iter().map(|land| land.0).sum();
    let hold = held(ends, length_in);
    let solved = with_and_without_shear(lands_in, E_PSI, |case| more(hold(case)).push(place_in, push_lbf));
    solved.map(|solved: Solved| 2000.0 * solved.shift_at(place_in))
}

/// The program meets the plain solver with shear, and the printed figure once shear is taken off.
#[track_caller]
pub fn meets(program: f64, printed: f64, half_last_digit: f64, [sheared, unsheared]: [f64; 2]) {
    close(program, sheared, 1e-4, 0.0);
    close(program - (sheared - unsheared), printed, 0.01, half_last_digit);
}

/// Stick-out 3, 4, 6 and 8 in of a bar of 1 in under 20 lbf: 0.24, 0.58, 1.96, 4.64 thou on diameter. 8 in is 8 times
/// 4 in. The same 2.0 thou at 6 in stands as "a perfect wall" beside two softer grips: 3.4 thou with a grip of 1e6
/// lbf·in/rad and 6.8 with one of 3e5.
#[test]
fn stick_out_counts_by_its_cube_and_the_grip_besides() {
    let push_lbf = 20.0;
    let mut unsheared = Vec::new();
    for (length_in, printed) in [(3.0, 0.24), (4.0, 0.58), (6.0, 1.96), (8.0, 4.64)] {
        let (found, place_in) = worst_thou(&first_pass(&bar(1.0, length_in, Ends::ChuckOnly, push_lbf)));
        close(place_in, length_in, 1e-9, 0.0);
        let plain = plain_thou(&[(length_in, 1.0)], Ends::ChuckOnly, push_lbf, length_in, |case| case);
        meets(found, printed, 0.005, plain);
        unsheared.push(found - (plain[0] - plain[1]));
    }
    close(unsheared[3] / unsheared[1], 8.0, 0.01, 0.0);

    for (grip_lbf_in_per_rad, printed) in [(1e15, 2.0), (1e6, 3.4), (3e5, 6.8)] {
        let mut job = bar(1.0, 6.0, Ends::ChuckOnly, push_lbf);
        job.setups[0].drive.rotation_k_nmm_per_rad = Stiffness::assumed(grip_lbf_in_per_rad * POUND_N * INCH_MM);
        let turned = 2000.0 * push_lbf * 6.0 * 6.0 / grip_lbf_in_per_rad;
        let plain = plain_thou(&[(6.0, 1.0)], Ends::ChuckOnly, push_lbf, 6.0, |case| case);
        meets(worst_thou(&first_pass(&job)).0, printed, 0.05, plain.map(|thou| thou + turned));
    }
}

/// A bar of 1 x 12 in: 15.6 thou at the tip in the chuck alone, 0.46 at 7.0 in from the chuck with a centre: 34 times
/// stiffer.
#[test]
fn a_centre_makes_a_bar_in_the_chuck_some_thirty_times_stiffer() {
    let worst = |ends: Ends| worst_thou(&first_pass(&bar(1.0, 12.0, ends, 20.0)));
    let plain = |ends: Ends, place_in: f64| plain_thou(&[(12.0, 1.0)], ends, 20.0, place_in, |case| case);
    let (alone, at_tip) = worst(Ends::ChuckOnly);
    meets(alone, 15.6, 0.05, plain(Ends::ChuckOnly, at_tip));
    let (with_centre, place_in) = worst(Ends::ChuckAndCentre);
    meets(with_centre, 0.46, 0.005, plain(Ends::ChuckAndCentre, place_in));
    close(place_in, 7.0, 0.0, 0.1);
    close(plain(Ends::ChuckOnly, 12.0)[1] / plain(Ends::ChuckAndCentre, place_in)[1], 34.0, 0.0, 0.5);
}

/// A bar of 3/4 x 24 in between centres: a barrel, every 3 in 0, 4.7, 13.9, 21.7, 24.7, 21.7, 13.9, 4.7, 0 thou.
#[test]
fn a_bar_between_centres_comes_out_as_a_barrel() {
    let result = first_pass(&bar(0.75, 24.0, Ends::TwoCentres, 20.0));
    for (place_in, printed) in (0..9).map(|i| 3.0 * f64::from(i)).zip([0.0, 4.7, 13.9, 21.7, 24.7, 21.7, 13.9, 4.7]) {
        if place_in == 0.0 {
            close(thou_at(&result, place_in), printed, 0.0, 1e-6);
        } else {
            let plain = plain_thou(&[(24.0, 0.75)], Ends::TwoCentres, 20.0, place_in, |case| case);
            meets(thou_at(&result, place_in), printed, 0.05, plain);
        }
    }
    close(thou_at(&result, 24.0), 0.0, 0.0, 1e-6);
}

/// The same bar in chuck and centre: at most 11.6 thou, at 14 in (0.585 of the length). With a ring of wire under the
/// jaws it is back at the curve of two centres.
#[test]
fn a_chuck_halves_the_barrel_and_a_ring_of_wire_gives_it_back() {
    let (worst, place_in) = worst_thou(&first_pass(&bar(0.75, 24.0, Ends::ChuckAndCentre, 20.0)));
    meets(worst, 11.6, 0.05, plain_thou(&[(24.0, 0.75)], Ends::ChuckAndCentre, 20.0, place_in, |case| case));
    close(place_in, 14.0, 0.0, 0.1);
    let mut ring = bar(0.75, 24.0, Ends::ChuckAndCentre, 20.0);
    let drive = &mut ring.setups[0].drive;
    assert_eq!(drive.kind, DriveKind::ThreeJaw);
    drive.hold = Hold::Hinge;
    drive.rotation_k_nmm_per_rad = Stiffness::assumed(1.0);
    let (ring, centres) = (first_pass(&ring), first_pass(&bar(0.75, 24.0, Ends::TwoCentres, 20.0)));
    for place_in in [3.0, 6.0, 12.0, 18.0, 21.0] {
        close(thou_at(&ring, place_in), thou_at(&centres, place_in), 1e-5, 0.0);
    }
}

/// The same bar with one steady of 50 000 lbf/in: in chuck and centre 2.5 thou with it at mid-span, best 1.85 with it at
/// about 13.5 in, 0.56 of the length; between centres best at mid-span, 2.6.
#[test]
fn a_steady_is_best_a_little_past_the_middle_with_a_chuck() {
    let worst = |ends: Ends, steady_in: f64| {
        let mut job = bar(0.75, 24.0, ends, 20.0);
        job.setups[0].rests = vec![steady(7, steady_in, 50_000.0)];
        worst_thou(&first_pass(&job))
    };
    for (ends, steady_in, printed, half_last) in [
        (Ends::ChuckAndCentre, 12.0, 2.5, 0.05),
        (Ends::ChuckAndCentre, 13.5, 1.85, 0.005),
        (Ends::TwoCentres, 12.0, 2.6, 0.05),
    ] {
        let (found, place_in) = worst(ends, steady_in);
        let rest = |case: Case| case.sprung(steady_in, 50_000.0);
        meets(found, printed, half_last, plain_thou(&[(24.0, 0.75)], ends, 20.0, place_in, rest));
    }
    let best_in = |ends: Ends| {
        let places = (100..160).map(|tenth| f64::from(tenth) / 10.0);
        places.min_by(|a, b| worst(ends, *a).0.total_cmp(&worst(ends, *b).0)).expect("places to choose from")
    };
    close(best_in(Ends::ChuckAndCentre), 13.5, 0.0, 0.25);
    close(best_in(Ends::TwoCentres), 12.0, 0.0, 0.05);
}

/// A bar of 1 x 60 in, steadies of 50 000 lbf/in: none 57.6 thou, one at mid-span 10.9, one at 33.5 in 7.9, two at thirds
/// 3.6, two at 23 and 42 in 2.7.
#[test]
fn two_steadies_well_placed_beat_two_at_thirds() {
    for (places_in, printed) in
        [(&[][..], 57.6), (&[30.0], 10.9), (&[33.5], 7.9), (&[20.0, 40.0], 3.6), (&[23.0, 42.0], 2.7)]
    {
        let mut job = bar(1.0, 60.0, Ends::ChuckAndCentre, 20.0);
        job.setups[0].rests = (places_in.iter().zip(7..)).map(|(place, number)| steady(number, *place, 5e4)).collect();
        let (found, place_in) = worst_thou(&first_pass(&job));
        let rests = |case: Case| places_in.iter().fold(case, |case, place| case.sprung(*place, 5e4));
        meets(found, printed, 0.05, plain_thou(&[(60.0, 1.0)], Ends::ChuckAndCentre, 20.0, place_in, rests));
    }
}

/// The barrel of 3/4 x 24 in with a follower behind the tool: 24.7 thou in the middle become 0.82 with 50 000 lbf/in half
/// an inch away, 1.4 with it two inches away, 1.9 with 20 000 lbf/in half an inch away.
#[test]
fn a_follower_close_to_the_tool_all_but_takes_the_spring_away() {
    for (distance_in, k_lbf_per_in, printed, half_last) in
        [(0.5, 5e4, 0.82, 0.005), (2.0, 5e4, 1.4, 0.05), (0.5, 2e4, 1.9, 0.05)]
    {
        let mut job = bar(0.75, 24.0, Ends::TwoCentres, 20.0);
        let k = k_lbf_per_in * POUND_PER_INCH;
        job.setups[0].follower = Some(Follower {
            distance_mm: distance_in * INCH_MM,
            side: FollowerSide::Behind,
            jaws: [jaw(0.0, 0.0, k), jaw(90.0, 0.0, k)],
            tip: TipKind::Bronze,
            tip_bored_mm: None,
            start_mm: 0.0,
        });
        // The tool travels towards the headstock, so behind it is the tailstock side.
        let follower = |case: Case| case.sprung(12.0 + distance_in, k_lbf_per_in);
        let plain = plain_thou(&[(24.0, 0.75)], Ends::TwoCentres, 20.0, 12.0, follower);
        meets(thou_at(&first_pass(&job), 12.0), printed, half_last, plain);
    }
}

/// A tube of 2 in with a wall of 1/8 in keeps 41 % of the stiffness of the solid bar with 23 % of its weight.
#[test]
fn a_thin_tube_keeps_two_fifths_of_the_stiffness_with_a_quarter_of_the_weight() {
    let length_in = 60.0;
    let figures = |bore_in: f64| {
        let mut job = bar(2.0, length_in, Ends::TwoCentres, 20.0);
        if bore_in > 0.0 {
            job.shaft.bores.push(midspan::job::BoreLand {
                from_s_mm: 0.0,
                to_s_mm: length_in * INCH_MM,
                start_diameter_mm: bore_in * INCH_MM,
                end_diameter_mm: bore_in * INCH_MM,
            });
        }
        let spring = thou_at(&first_pass(&job), 30.0);
        let mut heavy = bar_job::weightless(E_MPA);
        heavy.density_kg_per_m3 = 7850.0;
        job.shaft.material = midspan::job::MaterialChoice::Own(heavy);
        let shape = bar_job::lying(&job);
        let ends = [midspan::study::Support::DriveY, midspan::study::Support::TailY];
        (1.0 / spring, ends.map(|end| bar_job::reaction_n(&shape, end)).iter().sum::<f64>())
    };
    let ((solid_k, solid_n), (tube_k, tube_n)) = (figures(0.0), figures(1.75));
    close(tube_k / solid_k, 0.41, 0.0, 0.005);
    close(tube_n / solid_n, 0.23, 0.0, 0.005);
}
