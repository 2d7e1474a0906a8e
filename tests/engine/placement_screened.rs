//! By the depth before chatter most placements are thrown out at single stops of the tool: what that finds is what working
//! all of them out finds, and no stop alone says more than the whole.

use midspan::study::placement::{Grid, Screened};

use crate::close::close;
use crate::lot::Lot;
use crate::placement::is_the_least;
use crate::placement_chatter::drawn;

/// Every placement of one or two rests.
fn placements(grid: &Grid, n_rests: usize) -> Vec<Vec<usize>> {
    if n_rests == 1 {
        return grid.of_rest(0).iter().map(|place| vec![*place]).collect();
    }
    let pairs = grid.of_rest(0).iter().flat_map(|a| grid.of_rest(1).iter().map(|b| vec![*a, *b]));
    pairs.filter(|pair| grid.fits(pair)).collect()
}

fn finds_the_best_of_all(numbers: std::ops::Range<u64>, n_passes: usize, n_rests: usize, n_places: f64, fewest: usize) {
    let (mut n_compared, mut n_whole, mut n_all) = (0, 0, 0);
    for number in numbers {
        let Some((trial, grid)) = drawn(number, n_passes, n_rests, n_places) else { continue };
        let Some(mut whole) = Screened::new(&trial, &grid.places_mm) else { continue };
        let all = placements(&grid, n_rests);
        let each = all.iter().map(|rests_at| whole.value(rests_at, f64::INFINITY, &|| true));
        let least = each.fold(f64::INFINITY, f64::min);
        let mut screened = Screened::new(&trial, &grid.places_mm).expect("turned");
        let best = screened.search(&grid, &|_| true).expect("not stopped").best;
        if !is_the_least(number, &best, least, &grid) {
            continue;
        }
        let found = &best[0];
        // What is told of the best is what it comes to as a whole.
        close(found.value, whole.value(&found.rests_at, f64::INFINITY, &|| true), 1e-9, 0.0);
        n_compared += 1;
        n_whole += screened.n_whole;
        n_all += all.len();
    }
    assert!(n_compared >= fewest, "{n_compared} compared");
    // Else the search would be no search.
    assert!(4 * n_whole < 3 * n_all, "{n_whole} of {n_all} worked out as a whole");
}

#[test]
fn one_rest_is_put_where_working_out_every_place_would_put_it() {
    finds_the_best_of_all(200..265, 1, 1, 36.0, 55);
}

#[test]
fn one_rest_is_put_there_with_several_passes_too() {
    finds_the_best_of_all(300..320, 3, 1, 30.0, 15);
}

#[test]
fn two_rests_are_put_where_working_out_every_pair_would_put_them() {
    finds_the_best_of_all(400..404, 1, 2, 22.0, 3);
}

#[test]
fn two_rests_are_put_there_where_the_search_does_not_try_all_pairs() {
    let mut n_compared = 0;
    for number in 100..104 {
        let Some((trial, grid)) = drawn(number, 1, 2, 64.0) else { continue };
        let Some(mut whole) = Screened::new(&trial, &grid.places_mm) else { continue };
        let mut least = f64::INFINITY;
        for rests_at in placements(&grid, 2) {
            least = least.min(whole.value(&rests_at, least, &|| true));
        }
        let mut screened = Screened::new(&trial, &grid.places_mm).expect("turned");
        let best = screened.search(&grid, &|_| true).expect("not stopped").best;
        n_compared += usize::from(is_the_least(number, &best, least, &grid));
    }
    assert!(n_compared >= 4, "{n_compared} compared");
}

/// What throws a placement out is less than what the placement comes to.
#[test]
fn no_stop_alone_says_more_than_the_whole() {
    let (mut n_jobs, mut n_compared, mut n_near) = (0, 0, 0);
    for number in 0..60 {
        let Some((trial, grid)) = drawn(number, 3, 1 + (number % 2) as usize, 60.0) else { continue };
        let Some(mut screened) = Screened::new(&trial, &grid.places_mm) else { continue };
        let all = placements(&grid, trial.places_mm().len());
        let mut lot = Lot(number);
        let mut tried = Vec::new();
        for _ in 0..6 {
            let rests_at = lot.one_of(&all);
            let value = screened.value(&rests_at, f64::INFINITY, &|| true);
            if value.is_finite() && value > 0.0 {
                tried.push((rests_at, value));
            }
        }
        // By now it knows the stops that matter.
        for (rests_at, value) in &tried {
            let bound = screened.bound(rests_at);
            assert!(bound < 1.001 * value, "job {number} at {rests_at:?}: {bound}, {value} as a whole");
            n_compared += 1;
            n_near += usize::from(bound > 0.999 * value);
        }
        n_jobs += usize::from(!tried.is_empty());
    }
    assert!(n_jobs >= 50, "{n_jobs} jobs");
    assert!(10 * n_near >= 9 * n_compared, "{n_near} of {n_compared} near");
}
