//! The search for touching jaws against the trial of every set, on problems drawn by lot from a cold, random start.
#![allow(clippy::needless_range_loop, reason = "a matrix is read by its indices")]

use midspan::mechanics::contact::{Touching, solve};

use crate::close::close;
use crate::random_job::Lot;

/// Compliance between jaws and what the free work presses each one in.
struct Problem {
    give_mm_per_n: Vec<f64>,
    pressed_mm: Vec<f64>,
}

/// Jaws at a few places of a bar, in directions by lot: compliance `N G Nᵀ + diag(1/k)`, with `G` from a bar on two
/// pins, `G_ab = a·(L-b)·(L² - (L-b)² - a²)/(6·EI·L)` for a below b (any beam table).
fn problem(lot: &mut Lot, n_jaws: usize, k_low: f64, k_high: f64) -> Problem {
    let (length_mm, bending) = (1000.0_f64, 207_000.0 * 4e4);
    let n_places = 1 + lot.below(4);
    let places: Vec<f64> = (0..n_places).map(|_| lot.between(0.1, 0.9) * length_mm).collect();
    let jaws: Vec<(f64, f64)> =
        (0..n_jaws).map(|_| (places[lot.below(n_places)], lot.between(0.0, std::f64::consts::TAU))).collect();
    let between = |a: f64, b: f64| {
        let (a, rest) = (a.min(b), length_mm - a.max(b));
        a * rest * (length_mm * length_mm - rest * rest - a * a) / (6.0 * bending * length_mm)
    };
    let mut give_mm_per_n = Vec::new();
    for (i, (a, turned)) in jaws.iter().enumerate() {
        for (j, (b, other)) in jaws.iter().enumerate() {
            let own = if i == j { 1.0 / lot.tenfold(k_low, k_high) } else { 0.0 };
            give_mm_per_n.push(between(*a, *b) * (turned - other).cos() + own);
        }
    }
    Problem { give_mm_per_n, pressed_mm: (0..n_jaws).map(|_| lot.between(-0.05, 0.05)).collect() }
}

/// Gauss elimination with the largest pivot, on the touching jaws only.
fn forces_of(problem: &Problem, touching: u32) -> Vec<f64> {
    let n = problem.pressed_mm.len();
    let jaws: Vec<usize> = (0..n).filter(|jaw| touching >> jaw & 1 == 1).collect();
    let mut rows: Vec<Vec<f64>> = jaws
        .iter()
        .map(|&i| jaws.iter().map(|&j| problem.give_mm_per_n[i * n + j]).chain([problem.pressed_mm[i]]).collect())
        .collect();
    let m = jaws.len();
    for column in 0..m {
        let pivot = (column..m).max_by(|&a, &b| rows[a][column].abs().total_cmp(&rows[b][column].abs())).unwrap();
        rows.swap(column, pivot);
        for row in 0..m {
            if row != column {
                let share = rows[row][column] / rows[column][column];
                for k in column..=m {
                    let above = rows[column][k];
                    rows[row][k] -= share * above;
                }
            }
        }
    }
    let mut forces = vec![0.0; n];
    for (row, &jaw) in jaws.iter().enumerate() {
        forces[jaw] = rows[row][m] / rows[row][row];
    }
    forces
}

/// How far each jaw is off the work.
fn openings(problem: &Problem, forces: &[f64]) -> Vec<f64> {
    let n = forces.len();
    (0..n)
        .map(|i| (0..n).map(|j| problem.give_mm_per_n[i * n + j] * forces[j]).sum::<f64>() - problem.pressed_mm[i])
        .collect()
}

/// All sets tried: the forces of those that fit.
fn fitting(problem: &Problem) -> Vec<Vec<f64>> {
    let n = problem.pressed_mm.len();
    (0..1_u32 << n)
        .map(|touching| (touching, forces_of(problem, touching)))
        .filter(|(touching, forces)| {
            let openings_mm = openings(problem, forces);
            (0..n).all(|jaw| if touching >> jaw & 1 == 1 { forces[jaw] >= 0.0 } else { openings_mm[jaw] >= 0.0 })
        })
        .map(|(_, forces)| forces)
        .collect()
}

fn random_start(lot: &mut Lot, n_jaws: usize) -> Touching {
    let mut touching = Touching::none(n_jaws);
    (0..n_jaws).for_each(|jaw| touching.set(jaw, lot.chance(0.5)));
    touching
}

fn search_meets_all_sets_tried(seed: u64, k_low: f64, k_high: f64, agree: f64) {
    let mut lot = Lot(seed);
    for _ in 0..600 {
        let n_jaws = 1 + lot.below(8);
        let problem = problem(&mut lot, n_jaws, k_low, k_high);
        let answers = fitting(&problem);
        assert_eq!(answers.len(), 1, "exactly one set of jaws fits");
        let largest_n = answers[0].iter().fold(0.0, |largest: f64, force| largest.max(force.abs()));
        for _ in 0..4 {
            let found = solve(&problem.give_mm_per_n, &problem.pressed_mm, random_start(&mut lot, n_jaws));
            assert!(found.solved);
            for (force, expected) in found.force_n.iter().zip(&answers[0]) {
                close(*force, *expected, 0.0, agree * largest_n);
            }
        }
    }
}

#[test]
fn search_finds_the_set_of_jaws_that_all_sets_tried_give() {
    search_meets_all_sets_tried(1, 1e4, 1e6, 1e-9);
}

/// Three rigid jaws at one place share their load by their give of 1e-12 mm/N alone: eight digits are lost.
#[test]
fn search_finds_the_set_of_nearly_rigid_jaws() {
    search_meets_all_sets_tried(2, 1e8, 1e10, 1e-6);
}

#[test]
fn jaws_push_or_are_open_and_never_both() {
    let mut lot = Lot(3);
    for _ in 0..2000 {
        let n_jaws = 1 + lot.below(12);
        let problem = problem(&mut lot, n_jaws, 1e4, 1e6);
        let found = solve(&problem.give_mm_per_n, &problem.pressed_mm, random_start(&mut lot, n_jaws));
        assert!(found.solved);
        let openings_mm = openings(&problem, &found.force_n);
        for jaw in 0..n_jaws {
            assert!(found.force_n[jaw] >= 0.0, "a jaw only pushes");
            assert!(openings_mm[jaw] >= -1e-12, "no jaw is entered");
            assert!(found.force_n[jaw] * openings_mm[jaw] <= 1e-9, "an open jaw carries nothing");
            assert_eq!(found.touching.contains(jaw), found.force_n[jaw] > 0.0);
        }
        assert!(found.residual_mm <= 1e-12, "the answer keeps its own equations");
    }
}

#[test]
fn lifted_jaw_carries_no_load() {
    // Two jaws facing each other, the work pressed into the first.
    let give = [2e-5, -1e-5, -1e-5, 2e-5];
    let found = solve(&give, &[0.01, -0.01], Touching::none(2));
    close(found.force_n[0], 500.0, 1e-12, 0.0);
    assert_eq!(found.force_n[1], 0.0);
    assert!(found.touching.contains(0) && !found.touching.contains(1));
}

#[test]
fn no_jaw_at_all_is_solved_at_once() {
    let found = solve(&[], &[], Touching::none(0));
    assert!(found.solved && found.force_n.is_empty());
}
