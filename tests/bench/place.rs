//! How long it takes to find the best places of rests: the strip of one rest, and one, two and three rests among all
//! places of a shaft of 1.5 m, beside trying all placements the same way, and beside sweeping some of them.

use std::time::Instant;

use midspan::job::{
    Cut, DriveEnd, DriveKind, Job, Land, MaterialChoice, Pass, PassId, RestId, Setup, SetupId, Shaft, TailEnd,
    Tolerance, WantedLand, examples,
};
use midspan::study::placement::{
    Ask, Board, Effort, FAST, Grid, Measure, Room, Screened, Searched, Stretch, Trial, best_places, search, search_by,
    strip,
};
use midspan::study::sweep;
use midspan::study::{Fineness, JobResult, compute, compute_at};

fn main() {
    // `cargo bench --bench place -- follower` (or `chatter`) is that part alone.
    let part = std::env::args().skip(1).find(|arg| !arg.starts_with('-'));
    let wanted = |name: &str| part.as_deref().is_none_or(|part| part == name);
    let job = shaft();
    let setup = job.setups[0].id;
    let allowed = vec![vec![Stretch { from_mm: 40.0, to_mm: 1440.0 }]];
    println!("1.5 m, 40 mm and 36 mm, chuck and centre, two passes and a spring pass; times in ms, medians");
    if wanted("size") {
        by_size(&job, setup, &allowed);
    }
    if wanted("chatter") {
        by_depth(&job, setup, &allowed);
    }
    for n_rests in (1..=3).filter(|_| wanted("follower")) {
        let trial = Trial::new(&job, setup, n_rests, true, true).expect("there");
        let (time_ms, _, (grid, found)) = one_search(trial, &allowed, 5, Measure::Size);
        let best = &found.best[0];
        println!(
            "{time_ms:9.2}  {n_rests} rests with a follower behind the tool: {:.6} at {:.0?}",
            best.value,
            grid.places_of(&best.rests_at)
        );
    }
}

fn by_size(job: &Job, setup: SetupId, allowed: &[Vec<Stretch>]) {
    for step_mm in [7.0, 2.0] {
        strips(job, setup, &allowed[0], step_mm);
    }
    for (n_rests, n_times) in [(1, 21), (2, 11), (3, 3)] {
        searched(job, setup, allowed, n_rests, n_times);
        let trial = Trial::new(job, setup, n_rests, false, true).expect("there");
        let (time_ms, _, (grid, found)) = one_search(trial, allowed, n_times, Measure::Springiness);
        let best = &found.best[0];
        println!(
            "{time_ms:9.2}  {n_rests} rests by spring: {:.9} mm/N at {:.0?}",
            best.value,
            grid.places_of(&best.rests_at)
        );
    }
    for n_rests in 0..=3 {
        let ask = Ask {
            setup,
            measure: Measure::Size,
            follower: false,
            tailstock: true,
            step_mm: 3.0,
            least_apart_mm: 90.0,
            allowed: allowed.to_vec(),
        };
        let (time_ms, answer) = timed(3, || best_places(job, &ask, n_rests, &|_| true).expect("not stopped"));
        let best = answer.told.first().expect("something holds");
        println!(
            "{time_ms:9.2}  whole answer, {n_rests} rests: {:.4} at {:.0?}, as good {:.0?}",
            best.value,
            best.places_mm,
            best.as_good.iter().map(|s| [s.from_mm, s.to_mm]).collect::<Vec<_>>()
        );
    }
}

/// A stepped shaft in a chuck with a live centre, passes along nearly all of it.
fn shaft() -> Job {
    let mut job = examples::opening();
    job.shaft = Shaft::bar(MaterialChoice::Listed("C45".to_owned()), 40.0, 1500.0);
    job.shaft.stock = vec![Land::cylinder(800.0, 40.0), Land::cylinder(700.0, 36.0)];
    let wanted = |land: &Land| WantedLand {
        land: Land::cylinder(land.length_mm, land.start_diameter_mm - 3.0),
        tolerance: Tolerance::Free,
        name: String::new(),
    };
    job.shaft.wanted = job.shaft.stock.iter().map(wanted).collect();
    let mut setup = Setup::chuck_and_centre(SetupId(0), 40.0);
    setup.drive = DriveEnd::gripped(DriveKind::ThreeJaw, 40.0);
    setup.tail = TailEnd::live();
    setup.rests = vec![midspan::job::Rest::three_jaw(RestId(1), 600.0)];
    let turn = |id: u32, leave: f64| {
        let cut = Cut::ToDrawing { leave_on_diameter_mm: leave };
        Pass::turn(PassId(id), 1450.0, 20.0, cut, 0.15, 400.0)
    };
    let finish = turn(12, 0.0);
    setup.passes = vec![turn(11, 1.5), finish.clone(), Pass::spring(PassId(13), &finish)];
    job.setups = vec![setup];
    job
}

/// Judged by the depth before chatter; beside it every placement worked out as a whole.
fn by_depth(job: &Job, setup: SetupId, allowed: &[Vec<Stretch>]) {
    let (result, rest) = (compute(job), job.setups[0].rests[0].id);
    for step_mm in [7.0, 2.0] {
        let by = |measure| strip(job, &result, setup, rest, &allowed[0], step_mm, measure).expect("there is a strip");
        let (time_ms, drawn) = timed(3, || by(Measure::Chatter));
        println!("{time_ms:9.2}  strip by Chatter, {} places, {} worked out", drawn.z_mm.len(), drawn.n_worked_out);
    }
    for n_rests in 1..=3 {
        let mut trial = Trial::new(job, setup, n_rests, false, true).expect("there");
        let grid = Grid::new(&vec![allowed[0].clone(); n_rests], (0.0, 1460.0), 3.0, 90.0, &[]);
        trial.put(&grid.places_of(&grid.spread().expect("room")));
        let (time_ms, (found, told)) = timed(if n_rests < 3 { 5 } else { 3 }, || {
            let mut screened = Screened::new(&trial, &grid.places_mm).expect("turned");
            let found = screened.search(&grid, &|_| true).expect("not stopped");
            (found, (screened.n_whole, screened.n_alone, screened.n_spots()))
        });
        let mut n_tried = 0;
        let (before_ms, all_anew) = timed(1, || {
            let mut screened = Screened::new(&trial, &grid.places_mm).expect("turned");
            let mut judge = |rests_at: &[usize], _: f64| {
                n_tried += 1;
                screened.value(rests_at, f64::INFINITY, &|| true)
            };
            search_by(&mut judge, &grid, &Effort::DEAR, &|_| true).expect("not stopped")
        });
        for (time_ms, how, found) in [
            (time_ms, format!("{} whole, {} stops alone, {} of them different", told.0, told.1, told.2), found),
            (before_ms, format!("each of {n_tried} whole"), all_anew),
        ] {
            let best = &found.best[0];
            println!(
                "{time_ms:9.2}  {n_rests} rests by Chatter, {how}: from {:.6} mm at {:.0?}",
                1.0 / best.value,
                grid.places_of(&best.rests_at)
            );
        }
        println!("           ratio {:.1}", before_ms / time_ms);
    }
}

fn timed<T>(n_times: usize, mut work: impl FnMut() -> T) -> (f64, T) {
    let mut times_ms = Vec::new();
    let mut last = None;
    for _ in 0..n_times {
        let start = Instant::now();
        last = Some(divan::black_box(work()));
        times_ms.push(start.elapsed().as_secs_f64() * 1e3);
    }
    times_ms.sort_by(f64::total_cmp);
    (times_ms[n_times / 2], last.expect("at least once"))
}

/// The strip at so many mm; beside it every place worked out on the same board, and what sweeping them would take.
fn strips(job: &Job, setup: SetupId, allowed: &[Stretch], step_mm: f64) {
    let result: JobResult = compute(job);
    let rest = job.setups[0].rests[0].id;
    for measure in [Measure::Size, Measure::Springiness] {
        let (time_ms, drawn) =
            timed(21, || strip(job, &result, setup, rest, allowed, step_mm, measure).expect("there is a strip"));
        println!("{time_ms:9.2}  strip by {measure:?}, {} places, {} worked out", drawn.z_mm.len(), drawn.n_worked_out);
        let trial = Trial::as_it_is(job, setup).expect("there");
        let grid = Grid::new(&[allowed.to_vec()], (0.0, 1460.0), step_mm, 0.0, &[]);
        let (table_ms, board) =
            timed(11, || Board::new(&trial, &result.setups[0], &grid.places_mm, FAST, measure).expect("turned"));
        let (all_ms, all) = timed(1, || {
            let mut room = Room::default();
            let value = |place: usize| board.value(&mut room, &[place], f64::INFINITY);
            (0..grid.places_mm.len()).map(value).collect::<Vec<f64>>()
        });
        let height = all.iter().copied().fold(0.0, f64::max);
        let off = drawn
            .z_mm
            .iter()
            .zip(&drawn.values)
            .filter_map(|(z_mm, value)| Some((value - all[grid.number(*z_mm)?]).abs() / height));
        println!(
            "           tables {table_ms:.2}; every place worked out {all_ms:.1} ({} stops); at most {:.4} of the height apart",
            all.len(),
            off.fold(0.0, f64::max)
        );
    }
    let (sweep_ms, _) = timed(21, || compute_at(job, Fineness { turns: false, ..Fineness::USUAL }));
    println!("           one sweep {sweep_ms:.2}, so sweeping 201 places {:.0}", 201.0 * sweep_ms);
}

fn one_search(
    mut trial: Trial,
    allowed: &[Vec<Stretch>],
    n_times: usize,
    measure: Measure,
) -> (f64, Board, (Grid, Searched)) {
    let all: Vec<Vec<Stretch>> = vec![allowed[0].clone(); trial.places_mm().len()];
    let (time_ms, (board, found, n_solved)) = timed(n_times, || {
        let grid = Grid::new(&all, (0.0, 1460.0), 3.0, 90.0, &[]);
        let spread = grid.places_of(&grid.spread().expect("room"));
        trial.put(&spread);
        let reference = trial.compute_setup(FAST, &mut sweep::Room::default()).expect("there");
        let board = Board::new(&trial, &reference, &grid.places_mm, FAST, measure).expect("turned");
        let mut room = Room::default();
        let found = search(&board, &grid, &mut room, &|_| true).expect("not stopped");
        (board, (grid, found), room.n_solved)
    });
    println!("           {n_solved} stops solved");
    (time_ms, board, found)
}

/// A search of the whole grid at 3 mm, tables and reference included.
fn searched(job: &Job, setup: SetupId, allowed: &[Vec<Stretch>], n_rests: usize, n_times: usize) {
    let trial = Trial::new(job, setup, n_rests, false, true).expect("there");
    let (time_ms, board, (grid, found)) = one_search(trial.clone(), allowed, n_times, Measure::Size);
    let best = &found.best[0];
    println!("{time_ms:9.2}  {n_rests} rests: {:.6} at {:.0?}", best.value, grid.places_of(&best.rests_at));
    if n_rests < 3 {
        let mut room = Room::default();
        let (all_ms, (n, value)) = timed(1, || {
            let (mut n, mut least) = (0, f64::INFINITY);
            for a in 0..grid.places_mm.len() {
                let mut visit = |rests_at: &[usize]| {
                    if grid.fits(rests_at) {
                        n += 1;
                        least = board.value(&mut room, rests_at, least).min(least);
                    }
                };
                if n_rests == 1 {
                    visit(&[a]);
                } else {
                    (a + 1..grid.places_mm.len()).for_each(|b| visit(&[a, b]));
                }
            }
            (n, least)
        });
        println!(
            "           all {n} placements tried on the same board: {all_ms:.1}, {value:.6}; ratio {:.1}",
            all_ms / time_ms
        );
        let (sweep_ms, _) = timed(11, || trial.compute_setup(FAST, &mut sweep::Room::default()));
        let sweeps_ms = sweep_ms * f64::from(n);
        println!("           swept one by one on the same mesh: {sweeps_ms:.0}; ratio {:.0}", sweeps_ms / time_ms);
    }
}
