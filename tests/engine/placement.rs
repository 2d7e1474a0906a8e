//! The search finds what trying everything finds; known best places; mirror images; what is told holds in the sweep.

use midspan::advice::places::bought;
use midspan::job::{
    Cut, DriveEnd, Force, Hold, Job, Pass, PassId, Rest, RestId, SetTo, Spread, Stiffness, TailEnd, TailKind,
    Tolerance, examples,
};
use midspan::study::placement::{
    Ask, Board, Deepest, FAST, Grid, Measure, Room, Searched, Stretch, Strip, Trial, Tried, WorstSize, best_places,
    deepest, search, strip, value_now,
};
use midspan::study::{compute, sweep};

use crate::bar_job::Ends;
use crate::close::close;
use crate::random_job::{Lot, jaw, plain_job, random_job};
use crate::worked_jobs::{self, INCH_MM, POUND_N};

fn whole(job: &Job) -> Vec<Vec<Stretch>> {
    let end_mm = job.setups[0].work_end_z_mm(&job.shaft);
    vec![vec![Stretch { from_mm: 10.0, to_mm: end_mm - 10.0 }]]
}

fn ask(job: &Job, measure: Measure) -> Ask {
    let setup = &job.setups[0];
    Ask {
        setup: setup.id,
        measure,
        follower: setup.follower.is_some(),
        tailstock: setup.tail.kind != TailKind::Free,
        step_mm: 5.0,
        least_apart_mm: 60.0,
        allowed: whole(job),
    }
}

/// A board of a job drawn by lot for so many rests on some `n_places` in two stretches; `None` where nothing holds.
fn drawn(number: u64, n_rests: usize, n_places: f64) -> Option<(Board, Grid)> {
    let job = random_job(number);
    let mut lot = Lot(number ^ 0xbead);
    let setup = &job.setups[0];
    let end_mm = setup.work_end_z_mm(&job.shaft);
    let hole = lot.between(0.2, 0.7) * end_mm;
    let bands = vec![
        Stretch { from_mm: 15.0, to_mm: hole },
        Stretch { from_mm: hole + lot.between(20.0, 60.0), to_mm: end_mm - lot.between(5.0, 60.0) },
    ];
    let follower = setup.follower.is_some() && n_rests <= 2;
    let mut trial = Trial::new(&job, setup.id, n_rests, follower, setup.tail.kind != TailKind::Free)?;
    let grid = Grid::new(&vec![bands; n_rests], (0.0, end_mm), end_mm / n_places, 50.0, &[]);
    let spread = grid.spread()?;
    trial.put(&grid.places_of(&spread));
    let reference = trial.compute_setup(FAST, &mut sweep::Room::default())?;
    let measure = if number.is_multiple_of(3) { Measure::Springiness } else { Measure::Size };
    Some((Board::new(&trial, &reference, &grid.places_mm, FAST, measure)?, grid))
}

/// The least value of all placements there are.
fn least_of_all(board: &Board, grid: &Grid, n_rests: usize) -> f64 {
    let mut room = Room::default();
    let mut least = f64::INFINITY;
    let n = grid.places_mm.len();
    let mut rests_at = vec![0; n_rests];
    let mut code = 0;
    while code < n.pow(n_rests as u32) {
        let mut rest = code;
        for place in &mut rests_at {
            *place = rest % n;
            rest /= n;
        }
        code += 1;
        let allowed = rests_at.iter().enumerate().all(|(rest, place)| grid.of_rest(rest).contains(place));
        if allowed && grid.fits(&rests_at) {
            least = least.min(board.value(&mut room, &rests_at, least));
        }
    }
    least
}

/// Asserts that what was found is the least of all there are; false where nothing holds anywhere.
pub fn is_the_least(number: u64, best: &[Tried], least: f64, grid: &Grid) -> bool {
    if !least.is_finite() {
        assert!(best.is_empty(), "job {number}: nothing holds, yet {best:?}");
        return false;
    }
    let found = best.first().unwrap_or_else(|| panic!("job {number}: nothing found"));
    assert!(
        found.value <= least * (1.0 + 1e-6) + 1e-9,
        "job {number}: {} at {:?}, all tried {least}",
        found.value,
        grid.places_of(&found.rests_at)
    );
    true
}

fn search_finds_the_best_of_all(n_rests: usize, n_places: f64, numbers: std::ops::Range<u64>, fewest: usize) {
    let (mut n_compared, mut n_followers) = (0, 0);
    for number in numbers {
        let Some((board, grid)) = drawn(number, n_rests, n_places) else { continue };
        let least = least_of_all(&board, &grid, n_rests);
        let Searched { best, .. } = search(&board, &grid, &mut Room::default(), &|_| true).expect("not stopped");
        if is_the_least(number, &best, least, &grid) {
            n_compared += 1;
            n_followers += usize::from(random_job(number).setups[0].follower.is_some());
        }
    }
    assert!(
        n_compared >= fewest && 5 * n_followers >= n_compared,
        "{n_compared} compared, {n_followers} with followers"
    );
}

#[test]
fn one_rest_is_put_where_trying_every_place_would_put_it() {
    search_finds_the_best_of_all(1, 80.0, 0..60, 50);
}

#[test]
fn two_rests_are_put_where_trying_every_pair_would_put_them() {
    search_finds_the_best_of_all(2, 160.0, 100..160, 50);
}

/// Springiness jumps where another jaw comes to bear, so the best can lie between walls nearer than the first grid.
#[test]
fn two_rests_are_put_into_a_valley_narrower_than_the_first_grid() {
    for number in [1146, 1177, 1228, 1236] {
        let (board, grid) = drawn(number, 2, 240.0).expect("drawn");
        let least = least_of_all(&board, &grid, 2);
        let found = search(&board, &grid, &mut Room::default(), &|_| true).expect("not stopped");
        assert!(is_the_least(number, &found.best, least, &grid));
    }
}

#[test]
fn three_rests_are_put_where_trying_all_would_put_them() {
    search_finds_the_best_of_all(3, 56.0, 300..308, 6);
}

/// A plain bar with rigid ends, light, pushed away by the same force everywhere, with one rigid rest that holds both ways.
fn rigid_bar(length_mm: f64, between_centres: bool) -> Job {
    let mut job = plain_job(length_mm, 20.0);
    job.lathe.headstock_k_n_per_mm = Stiffness::Rigid;
    job.lathe.tailstock_k_n_per_mm = Stiffness::Rigid;
    job.lathe.carriage_k_n_per_mm = Stiffness::Rigid;
    let setup = &mut job.setups[0];
    setup.work_start_z_mm = 0.0;
    setup.drive = if between_centres { DriveEnd::between_centres() } else { DriveEnd::three_jaw(0.0) };
    setup.drive.radial_k_n_per_mm = Stiffness::Rigid;
    if !between_centres {
        setup.drive.hold = Hold::Clamped;
        setup.drive.rotation_k_nmm_per_rad = Stiffness::Rigid;
    }
    setup.tail = TailEnd { kind: TailKind::DeadCentre, thrust_n: 0.0, quill_out_mm: 0.0, ..TailEnd::free() };
    let pressed = [0.0, 90.0, 180.0, 270.0].map(|degrees| jaw(degrees, 0.0, 1e9));
    setup.rests =
        vec![Rest { jaws: pressed.to_vec(), set_to: SetTo::Work, ..Rest::three_jaw(RestId(50), length_mm / 3.0) }];
    let push = Force::Typed { radial_n: 40.0, main_n: 0.0, feed_n: 0.0, follows_depth: false };
    let cut = Cut::Depth { on_diameter_mm: 1.0 };
    setup.passes = vec![Pass { force: push, ..Pass::turn(PassId(60), length_mm, 0.0, cut, 0.1, 500.0) }];
    job
}

/// The best place of one rest, as a share of the length.
fn best_ratio(job: &Job) -> (f64, f64) {
    let length_mm = job.shaft.length_mm();
    let ask = Ask { step_mm: length_mm / 400.0, ..ask(job, Measure::Size) };
    let answer = best_places(job, &ask, 1, &|_| true).expect("not stopped");
    (answer.told[0].places_mm[0] / length_mm, answer.told[0].value)
}

#[test]
fn between_two_rigid_centres_one_rest_stands_at_mid_length() {
    let (ratio, _) = best_ratio(&rigid_bar(600.0, true));
    close(ratio, 0.5, 0.0, 0.0026);
}

/// Source: slender beam, clamped at the chuck, pinned at the centre, from the cantilever's `x²(3s - x)/6EI` by taking the
/// pin's and the rest's share off; trade-practice tells about 0.56 for a rest with some give.
#[test]
fn between_rigid_chuck_and_centre_one_rest_stands_where_the_closed_form_puts_it() {
    // In lengths of the bar and 1/EI.
    let cantilever = |x: f64, s: f64| {
        let (x, s) = (x.min(s), x.max(s));
        x * x * (3.0 * s - x) / 6.0
    };
    let pinned = |x: f64, s: f64| cantilever(x, s) - cantilever(x, 1.0) * cantilever(1.0, s) / cantilever(1.0, 1.0);
    let with_rest = |rest: f64, s: f64| pinned(s, s) - pinned(s, rest).powi(2) / pinned(rest, rest);
    let largest = |rest: f64| (1..2000).map(|step| with_rest(rest, f64::from(step) / 2000.0)).fold(0.0, f64::max);
    let best = (300..800).map(|step| f64::from(step) / 1000.0).min_by(|a, b| largest(*a).total_cmp(&largest(*b)));
    let best = best.expect("some places");
    close(best, 0.56, 0.0, 0.03);
    let job = rigid_bar(900.0, false);
    let (ratio, value_mm) = best_ratio(&job);
    close(ratio, best, 0.0, 0.004);
    // Twice the spring, on diameter.
    let ei_nmm2 = job.material().e_mpa.value * std::f64::consts::PI / 64.0 * 20.0_f64.powi(4);
    // The tool takes half a millimetre of radius off behind itself: a little softer than the bar it came as.
    let wanted_mm = 2.0 * 40.0 * 900.0_f64.powi(3) * largest(best) / ei_nmm2;
    assert!(value_mm > wanted_mm && value_mm < 1.25 * wanted_mm, "{value_mm}, closed form {wanted_mm}");
}

/// The best places of steadies of 50 000 lbf/in on a bar in chuck and centre, in inches, and what twice the spring comes to
/// in thou under a push of 20 lbf.
fn best_of_worked(diameter_in: f64, length_in: f64, n_rests: usize) -> (Vec<f64>, f64) {
    let mut job = worked_jobs::bar(diameter_in, length_in, Ends::ChuckAndCentre, 20.0);
    job.setups[0].rests = vec![worked_jobs::steady(7, 3.0, 50_000.0)];
    let whole = Stretch { from_mm: INCH_MM, to_mm: (length_in - 1.0) * INCH_MM };
    let asked = Ask {
        step_mm: INCH_MM / 8.0,
        least_apart_mm: INCH_MM,
        allowed: vec![vec![whole]],
        ..ask(&job, Measure::Springiness)
    };
    let answer = best_places(&job, &asked, n_rests, &|_| true).expect("not stopped");
    let best = &answer.told[0];
    let thou = 2000.0 * best.value * 20.0 * POUND_N / INCH_MM;
    (best.places_mm.iter().map(|z_mm| z_mm / INCH_MM).collect(), thou)
}

/// Source: worked lessons, printed to two figures: a bar of 3/4 in and 24 in, one steady best at about 13.5 in, 1.85 thou;
/// one of 1 in and 60 in, at 33.5 in 7.9 thou, two at 23 and 42 in 2.7 thou (where they come from: `worked_jobs.rs`).
#[test]
fn worked_bars_get_their_steadies_where_the_worked_answers_put_them() {
    for (bar_in, wanted_in, wanted_thou) in
        [((0.75, 24.0), &[13.5][..], 1.85), ((1.0, 60.0), &[33.5], 7.9), ((1.0, 60.0), &[23.0, 42.0], 2.7)]
    {
        let (places_in, thou) = best_of_worked(bar_in.0, bar_in.1, wanted_in.len());
        for (place_in, wanted_in) in places_in.iter().zip(wanted_in) {
            // Printed to half an inch or an inch, and the least is flat.
            close(*place_in, *wanted_in, 0.0, 0.02 * bar_in.1);
        }
        close(thou, wanted_thou, 0.02, 0.02);
    }
}

#[test]
fn the_stretch_told_to_be_as_good_is_so_in_the_sweep_and_ends_where_it_is_no_more() {
    let mut job = toleranced();
    job.spread = Spread { main_ratio: 0.0, radial_ratio: 0.0, stiffness_factor: 1.0, ..job.spread };
    let asked = ask(&job, Measure::Size);
    let answer = best_places(&job, &asked, 1, &|_| true).expect("not stopped");
    let best = &answer.told[0];
    let mut trial = Trial::as_it_is(&job, asked.setup).expect("there");
    let mut swept = |z_mm: f64| {
        trial.put(&[z_mm]);
        let result = compute(&trial.job);
        WorstSize::of(&trial.job, trial.setup(), &result.setups[0]).expect("turned").value
    };
    let Stretch { from_mm, to_mm } = best.as_good[0];
    assert!(to_mm - from_mm >= 2.0 * asked.step_mm, "{from_mm} to {to_mm}");
    // A twentieth more is as good; the search's mesh is coarser than the sweep's.
    let mut z_mm = from_mm;
    while z_mm <= to_mm {
        assert!(swept(z_mm) <= 1.05 * 1.01 * best.value, "{} at {z_mm}, best {}", swept(z_mm), best.value);
        z_mm += asked.step_mm;
    }
    for beyond_mm in [from_mm - asked.step_mm, to_mm + asked.step_mm] {
        assert!(swept(beyond_mm) > 1.05 * 0.99 * best.value, "{} at {beyond_mm}", swept(beyond_mm));
    }
}

/// Taking what was told is one edit; the job is then what was tried, whatever it had before.
#[test]
fn the_edit_of_a_placement_sets_the_job_up_like_it() {
    // Rests not in their order along the bed; the numbers are those of a job laid out by hand.
    for (has, n_rests) in [(&[][..], 2), (&[500.0, 200.0], 3), (&[500.0, 200.0, 350.0], 1), (&[400.0], 0)] {
        for (follower, tailstock) in [(false, true), (true, true), (true, false)] {
            let mut job = toleranced();
            let setup = job.setups[0].id;
            job.setups[0].rests = (50..).zip(has).map(|(id, z_mm)| Rest::three_jaw(RestId(id), *z_mm)).collect();
            job.next_id = 100;
            let before = job.clone();
            let asked = Ask { follower, tailstock, step_mm: 20.0, ..ask(&job, Measure::Size) };
            let answer = best_places(&job, &asked, n_rests, &|_| true).expect("not stopped");
            let best = answer.told.first().expect("it is held");
            let edit = best.edit(&job, setup, follower, tailstock).expect("the set-up is there");
            job.apply(&edit).expect("it can be made");
            let held = &job.setups[0];
            let mut places_mm: Vec<f64> = held.rests.iter().map(|rest| rest.z_mm).collect();
            places_mm.sort_by(f64::total_cmp);
            assert_eq!(places_mm, best.places_mm, "{has:?}");
            assert_eq!((held.follower.is_some(), held.tail.kind != TailKind::Free), (follower, tailstock));
            // The rests there are stay the ones they are, those nearest the headstock first.
            let kept = before.setups[0].rests.iter().filter(|rest| held.rest(rest.id).is_some()).count();
            assert_eq!(kept, has.len().min(n_rests));
            let again = best.edit(&job, setup, follower, tailstock).expect("the set-up is there");
            assert!(again.is_nothing(), "{again:?}");
            let (value, _) = value_now(&job, setup, Measure::Size, &|_| true).expect("turned");
            close(value, best.value, 1e-9, 1e-12);
        }
    }
}

#[test]
fn mirror_images_give_mirrored_places() {
    let mut job = rigid_bar(800.0, true);
    // Centres that are alike.
    let alike = DriveEnd {
        rotation_k_nmm_per_rad: Stiffness::Spring(midspan::job::Stated::given(0.0)),
        ..job.setups[0].drive.clone()
    };
    job.setups[0].drive = alike;
    job.shaft.stock = vec![midspan::job::Land::cylinder(250.0, 22.0), midspan::job::Land::cylinder(550.0, 18.0)];
    let mut mirrored = job.clone();
    mirrored.shaft.stock.reverse();
    let pass = &mut mirrored.setups[0].passes[0];
    (pass.from_z_mm, pass.to_z_mm) = (800.0 - pass.from_z_mm, 800.0 - pass.to_z_mm);
    for n_rests in 1..=2 {
        let find = |job: &Job| {
            let answer = best_places(job, &ask(job, Measure::Size), n_rests, &|_| true).expect("not stopped");
            answer.told[0].clone()
        };
        let (one, other) = (find(&job), find(&mirrored));
        close(one.value, other.value, 1e-3, 0.0);
        for (a_mm, b_mm) in one.places_mm.iter().zip(other.places_mm.iter().rev()) {
            close(*a_mm, 800.0 - b_mm, 0.0, 5.1);
        }
    }
}

/// A slender bar with a tolerance, nothing uncertain but what is assumed.
fn toleranced() -> Job {
    let mut job = plain_job(900.0, 30.0);
    job.setups[0].rests = vec![Rest::three_jaw(RestId(10), 400.0)];
    job.shaft.wanted[0].land.start_diameter_mm = 29.0;
    job.shaft.wanted[0].land.end_diameter_mm = 29.0;
    job.shaft.wanted[0].tolerance = Tolerance::Limits { lower_mm: -0.02, upper_mm: 0.02 };
    job
}

#[test]
fn what_is_told_is_what_the_sweep_says_with_the_rests_there() {
    for (number, measure) in [(3, Measure::Size), (5, Measure::Size), (9, Measure::Springiness)] {
        let job = random_job(number);
        let answer = best_places(&job, &ask(&job, measure), 2, &|_| true).expect("not stopped");
        for told in &answer.told {
            let follower = job.setups[0].follower.is_some();
            let tailstock = job.setups[0].tail.kind != TailKind::Free;
            let mut trial = Trial::new(&job, job.setups[0].id, 2, follower, tailstock).expect("there");
            trial.put(&told.places_mm);
            let result = compute(&trial.job);
            let worst = WorstSize::of(&trial.job, trial.setup(), &result.setups[0]).expect("turned");
            let station = &result.setups[0].passes[worst.pass].stations[worst.station];
            assert_eq!(told.worst_error, Some((station.error_mm, station.z_mm)));
            if measure == Measure::Size {
                close(told.value, worst.value, 1e-12, 0.0);
            }
            assert!(told.between[0] <= told.value && told.value <= told.between[1], "{told:?}");
            assert!(told.as_good.iter().zip(&told.places_mm).all(|(s, z_mm)| s.from_mm <= *z_mm && *z_mm <= s.to_mm));
        }
    }
}

#[test]
fn no_place_of_a_coarse_grid_swept_really_beats_what_is_told() {
    for number in [1, 4, 6, 8, 11, 12] {
        let mut job = random_job(number);
        // Nothing uncertain: one case, so that the best by the middle figures comes first.
        (job.spread.main_ratio, job.spread.radial_ratio) = (0.0, 0.0);
        let answer = best_places(&job, &ask(&job, Measure::Size), 1, &|_| true).expect("not stopped");
        let (setup, end_mm) = (&job.setups[0], job.setups[0].work_end_z_mm(&job.shaft));
        let mut trial =
            Trial::new(&job, setup.id, 1, setup.follower.is_some(), setup.tail.kind != TailKind::Free).expect("there");
        let mut least = f64::INFINITY;
        for step in 1..40 {
            trial.put(&[10.0 + (end_mm - 20.0) * f64::from(step) / 40.0]);
            let result = compute(&trial.job);
            let worst = WorstSize::of(&trial.job, trial.setup(), &result.setups[0]).expect("turned");
            least = least.min(worst.value);
        }
        let told = answer.told.first().map_or(f64::INFINITY, |best| best.value);
        // The mesh of the search is coarser than that of the screen, and a step of it is 5 mm.
        assert!(told <= 1.05 * least, "job {number}: {told}, of the grid {least}");
    }
}

/// The strip of a job's first rest (one in the middle where it has none) in two stretches, and what a board says with the
/// rest at every place; `None` where a rest stands off the work.
fn strip_and_all(number: u64, measure: Measure, step_mm: impl Fn(f64) -> f64) -> Option<(Strip, Vec<f64>)> {
    let mut job = random_job(number);
    let end_mm = job.setups[0].work_end_z_mm(&job.shaft);
    if job.setups[0].rests.is_empty() {
        job.setups[0].rests.push(Rest::three_jaw(RestId(10), end_mm / 2.0));
    }
    let (setup, rest) = (job.setups[0].id, job.setups[0].rests[0].id);
    let result = compute(&job);
    let allowed =
        [Stretch { from_mm: 20.0, to_mm: 0.45 * end_mm }, Stretch { from_mm: 0.5 * end_mm, to_mm: 0.9 * end_mm }];
    let drawn = strip(&job, &result, setup, rest, &allowed, step_mm(end_mm), measure)?;
    let trial = Trial::as_it_is(&job, setup).expect("there");
    let moved = trial.setup().rests.iter().position(|one| one.id == rest).expect("there");
    let others = trial.places_mm();
    let grid = Grid::new(&[allowed.to_vec()], (0.0, end_mm), step_mm(end_mm), 0.0, &others);
    let mut rests_at: Vec<usize> = others.iter().map(|z_mm| grid.number(*z_mm)).collect::<Option<_>>()?;
    let board = Board::new(&trial, &result.setups[0], &grid.places_mm, FAST, measure).expect("turned");
    let mut room = Room::default();
    if measure == Measure::Size {
        // Where the rest stands the board is the sweep, on a coarser mesh.
        let worst = WorstSize::of(&job, &job.setups[0], &result.setups[0]).expect("turned");
        close(board.value(&mut room, &rests_at, f64::INFINITY), worst.value, 0.05, 1e-4);
    }
    let at_every = drawn.z_mm.iter().map(|z_mm| {
        rests_at[moved] = grid.number(*z_mm).expect("a place");
        board.value(&mut room, &rests_at, f64::INFINITY)
    });
    let all = at_every.collect();
    Some((drawn, all))
}

/// Places that are off by more than three parts in a hundred of the value and of the least one; none of those where nothing holds the work.
fn off(drawn: &Strip, all: &[f64]) -> Vec<f64> {
    let least = all.iter().copied().fold(f64::INFINITY, f64::min);
    let pairs = drawn.z_mm.iter().zip(drawn.values.iter().zip(all)).filter(|(_, (_, value))| value.is_finite());
    let is_near = |drawn: f64, value: f64| (drawn - value).abs() <= 0.03 * value + 0.03 * least;
    pairs.filter(|(_, (drawn, value))| !is_near(**drawn, **value)).map(|(z_mm, _)| *z_mm).collect()
}

#[test]
fn the_strip_is_what_trying_the_rest_at_every_place_gives() {
    for number in [2, 7, 13, 21] {
        let (drawn, all) = strip_and_all(number, Measure::Size, |_| 2.0).expect("a strip");
        assert_eq!(off(&drawn, &all), [0.0; 0], "job {number}");
        let (_, best) = drawn.best.expect("something holds");
        close(best, all.iter().copied().fold(f64::INFINITY, f64::min), 0.02, 0.0);
        assert!(drawn.n_worked_out < drawn.z_mm.len(), "{} of {}", drawn.n_worked_out, drawn.z_mm.len());
    }
}

/// As many places as a shaft of 1.5 m has at every 2 mm. Springiness jumps where another jaw comes to bear, and the curve
/// between two places that are worked out may hide a jump.
#[test]
fn so_is_a_strip_of_hundreds_of_places_of_which_few_are_worked_out() {
    for (measure, one_in) in [(Measure::Size, 1000), (Measure::Springiness, 50)] {
        let (mut n_places, mut n_off, mut n_worked_out) = (0, 0, 0);
        for number in 0..30 {
            let Some((drawn, all)) = strip_and_all(number, measure, |end_mm| 0.85 * end_mm / 700.0) else { continue };
            let Some((_, best)) = drawn.best else { continue };
            close(best, all.iter().copied().fold(f64::INFINITY, f64::min), 0.02, 0.0);
            n_places += all.len();
            n_off += off(&drawn, &all).len();
            n_worked_out += drawn.n_worked_out;
        }
        assert!(n_places > 12_000 && one_in * n_off <= n_places, "{measure:?}: {n_off} of {n_places}");
        assert!(6 * n_worked_out < n_places, "{measure:?}: {n_worked_out} of {n_places}");
    }
}

#[test]
fn rests_stay_in_their_bands_and_apart() {
    let job = random_job(17);
    let bands = [Stretch { from_mm: 80.0, to_mm: 140.0 }, Stretch { from_mm: 170.0, to_mm: 215.0 }];
    let asked = Ask { allowed: vec![bands.to_vec()], least_apart_mm: 70.0, ..ask(&job, Measure::Size) };
    let answer = best_places(&job, &asked, 2, &|_| true).expect("not stopped");
    assert!(!answer.told.is_empty());
    for told in &answer.told {
        assert!(told.places_mm[1] - told.places_mm[0] >= 70.0 - 1e-9, "{told:?}");
        let held = |z_mm: &f64| bands.iter().any(|band| band.from_mm <= *z_mm && *z_mm <= band.to_mm);
        assert!(told.places_mm.iter().all(held), "{told:?}");
    }
    let nowhere = Ask { allowed: vec![Vec::new()], ..asked.clone() };
    assert!(best_places(&job, &nowhere, 1, &|_| true).expect("not stopped").told.is_empty());
    let too_tight = Ask { least_apart_mm: 5000.0, ..asked };
    assert!(best_places(&job, &too_tight, 2, &|_| true).expect("not stopped").told.is_empty());
}

#[test]
fn a_rest_makes_slender_work_better_and_stopping_gives_nothing() {
    let job = toleranced();
    let with = |n_rests| best_places(&job, &ask(&job, Measure::Size), n_rests, &|_| true).expect("not stopped");
    let (none, one) = (with(0), with(1));
    assert!(none.has_limits && one.has_limits);
    assert!(one.told[0].value < 0.7 * none.told[0].value, "{} and {}", one.told[0].value, none.told[0].value);
    assert!(none.told[0].places_mm.is_empty() && none.told[0].as_good.is_empty());
    for n_looks in [0, 3, 20] {
        let looks = std::cell::Cell::new(0);
        let stop = |share: f64| {
            assert!((0.0..=1.0).contains(&share));
            looks.set(looks.get() + 1);
            looks.get() <= n_looks
        };
        assert_eq!(best_places(&job, &ask(&job, Measure::Size), 3, &stop), None);
    }
}

#[test]
fn the_largest_depth_just_keeps_what_is_allowed() {
    let job = toleranced();
    let setup = job.setups[0].id;
    let trial = Trial::as_it_is(&job, setup).expect("there");
    let Deepest { on_diameter_mm: depth_mm, allowed_mm } = deepest(&trial, &|| true).expect("some depth does");
    close(allowed_mm, 0.02, 1e-9, 0.0);
    let error_mm = |depth_mm: f64| {
        let mut job = job.clone();
        job.setups[0].passes[0].cut = Cut::Depth { on_diameter_mm: depth_mm };
        compute(&job).setups[0].passes[0].worst().expect("stations").error_mm.abs()
    };
    assert!(error_mm(depth_mm) <= 0.02, "{}", error_mm(depth_mm));
    assert!(error_mm(1.01 * depth_mm) > 0.02, "{}", error_mm(1.01 * depth_mm));
    assert_eq!(deepest(&trial, &|| false), None);
    let mut free = job.clone();
    free.shaft.wanted[0].tolerance = Tolerance::Free;
    assert_eq!(deepest(&Trial::as_it_is(&free, setup).expect("there"), &|| true), None);
}

#[test]
fn the_best_place_against_chatter_is_no_worse_than_any_of_a_coarse_grid() {
    let job = toleranced();
    let setup = job.setups[0].id;
    let asked = Ask { step_mm: 10.0, ..ask(&job, Measure::Chatter) };
    let answer = best_places(&job, &asked, 1, &|_| true).expect("not stopped");
    let best = &answer.told[0];
    let mut trial = Trial::new(&job, setup, 1, false, true).expect("there");
    for step in 1..12 {
        trial.put(&[10.0 + 840.0 * f64::from(step) / 12.0]);
        let (value, _) = value_now(&trial.job, setup, Measure::Chatter, &|_| true).expect("turned");
        assert!(best.value <= 1.001 * value, "{} at {:?}, {value} at step {step}", best.value, best.places_mm);
    }
}

/// A rest with a paper's clearance does nothing for a cut that springs the work less than that; said is why, and it is
/// so: brought to touch, the same rest holds the work.
#[test]
fn a_rest_the_work_never_reaches_is_told_as_such() {
    let bought_with_gap = |gap_mm: f64| {
        let mut job = examples::opening();
        job.setups.truncate(1);
        job.setups[0].rests[0].jaws.iter_mut().for_each(|jaw| jaw.gap_mm = gap_mm);
        let ask = Ask::of(&job, job.setups[0].id, Measure::Size, None, None).expect("the set-up is there");
        let answer = |n_rests| best_places(&job, &ask, n_rests, &|_| true).expect("not stopped");
        bought(Measure::Size, &answer(0), &answer(1), job.units).expect("told")
    };
    let (clear, touching) = (bought_with_gap(0.025), bought_with_gap(0.0));
    assert!(clear.contains("buys next to nothing") && clear.contains("stand 25 \u{b5}m clear"), "{clear}");
    assert!(touching.contains("One rest brings") && !touching.contains("clear"), "{touching}");
}
