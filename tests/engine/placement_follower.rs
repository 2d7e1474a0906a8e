//! Rests beside a follower that rides on what the tool has just left: the shorter search, tried by two threads, finds what
//! trying everything finds, and says the same every time.

use std::cell::Cell;

use midspan::job::{Follower, FollowerSide, TailKind, ToolSide};
use midspan::study::placement::{Board, FAST, Grid, Measure, Room, Stretch, Trial, search};
use midspan::study::sweep;

use crate::placement::is_the_least;
use crate::random_job::{Lot, random_job};

/// Places so many that the first grid has every fourth of them only.
const N_PLACES: f64 = 72.0;

/// A board of a job drawn by lot, with two rests and a follower behind the tool, on places in two stretches.
fn drawn(number: u64, n_places: f64) -> Option<(Board, Grid)> {
    let mut job = random_job(number);
    let mut lot = Lot(number ^ 0xf011);
    let setup = &mut job.setups[0];
    let turned_rad = if setup.tool.side == ToolSide::Rear { std::f64::consts::PI } else { 0.0 };
    let follower = setup.follower.get_or_insert_with(|| {
        let mut usual = Follower::usual();
        usual.jaws.iter_mut().for_each(|jaw| jaw.angle_rad += turned_rad);
        usual
    });
    follower.side = FollowerSide::Behind;
    let setup = &job.setups[0];
    let end_mm = setup.work_end_z_mm(&job.shaft);
    let hole_mm = lot.between(0.2, 0.7) * end_mm;
    let bands = vec![
        Stretch { from_mm: 15.0, to_mm: hole_mm },
        Stretch { from_mm: hole_mm + lot.between(20.0, 60.0), to_mm: end_mm - lot.between(5.0, 60.0) },
    ];
    let mut trial = Trial::new(&job, setup.id, 2, true, setup.tail.kind != TailKind::Free)?;
    let grid = Grid::new(&[bands.clone(), bands], (0.0, end_mm), end_mm / n_places, 50.0, &[]);
    trial.put(&grid.places_of(&grid.spread()?));
    let reference = trial.compute_setup(FAST, &mut sweep::Room::default())?;
    let measure = if number.is_multiple_of(3) { Measure::Springiness } else { Measure::Size };
    let board = Board::new(&trial, &reference, &grid.places_mm, FAST, measure)?;
    board.is_chained().then_some((board, grid))
}

/// The least value of all pairs of places there are, and how many stops that took.
fn least_of_all(board: &Board, grid: &Grid) -> (f64, usize) {
    let (mut room, mut least) = (Room::default(), f64::INFINITY);
    for low in grid.of_rest(0) {
        for high in grid.of_rest(1) {
            if grid.fits(&[*low, *high]) {
                least = least.min(board.value(&mut room, &[*low, *high], least));
            }
        }
    }
    (least, room.n_solved)
}

#[test]
fn beside_a_follower_two_rests_are_put_where_trying_every_pair_would_put_them() {
    let (mut n_compared, mut n_solved, mut n_for_all) = (0, 0, 0);
    for number in 0..30 {
        let Some((board, grid)) = drawn(number, N_PLACES) else { continue };
        let (least, n) = least_of_all(&board, &grid);
        n_for_all += n;
        let mut room = Room::default();
        let found = search(&board, &grid, &mut room, &|_| true).expect("not stopped");
        n_solved += room.n_solved;
        n_compared += usize::from(is_the_least(number, &found.best, least, &grid));
    }
    assert!(n_compared >= 25, "{n_compared} compared");
    assert!(2 * n_solved < n_for_all, "{n_solved} stops solved, {n_for_all} for all there are");
}

/// At the end of a stretch (29), as near to the other rest as may be (65, 616), and a place away from that (647).
#[test]
fn beside_a_follower_the_best_is_found_at_the_border_of_what_is_allowed() {
    for (number, n_places) in [(29, 96.0), (65, 72.0), (616, 120.0), (647, 96.0)] {
        let (board, grid) = drawn(number, n_places).expect("drawn");
        let (least, _) = least_of_all(&board, &grid);
        let found = search(&board, &grid, &mut Room::default(), &|_| true).expect("not stopped");
        assert!(is_the_least(number, &found.best, least, &grid));
    }
}

/// Two threads try halves that are laid down beforehand: which of them is faster makes no difference to any figure.
#[test]
fn beside_a_follower_the_search_says_the_same_every_time() {
    for number in [1, 2, 7] {
        let (board, grid) = drawn(number, N_PLACES).expect("drawn");
        let find = || search(&board, &grid, &mut Room::default(), &|_| true).expect("not stopped");
        let first = find();
        assert!(first.best.len() > 1);
        for _ in 0..3 {
            let again = find();
            assert_eq!((&again.best, &again.coarse), (&first.best, &first.coarse), "job {number}");
        }
    }
}

/// Wherever it is called off, in either half.
#[test]
fn beside_a_follower_a_search_that_is_called_off_answers_nothing() {
    let (board, grid) = drawn(2, N_PLACES).expect("drawn");
    let n_asked = Cell::new(0_usize);
    let count = |_: f64| {
        n_asked.set(n_asked.get() + 1);
        true
    };
    assert!(search(&board, &grid, &mut Room::default(), &count).is_some());
    let n_asked = n_asked.get();
    assert!(n_asked > 3);
    for n_allowed in [0, 1, n_asked / 2, n_asked - 1] {
        let left = Cell::new(n_allowed);
        let until = |_: f64| left.replace(left.get().saturating_sub(1)) > 0;
        assert!(search(&board, &grid, &mut Room::default(), &until).is_none(), "called off after {n_allowed}");
    }
}
