//! Dashes laid along the whole of a line, as long on the screen as they are said to be however short the pieces of the line.
//!
//! A dash that runs over a point of the line stays in one piece: drawn piece by piece it would fall apart into dots where
//! the stations lie as close as the pixels. Only what is seen is dashed, so that a line far out of sight costs nothing.

/// A kind of broken line: over how many points it repeats, and which pieces of that are drawn (where each begins, and how
/// long it is).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pattern {
    pub cycle_points: f64,
    pub pieces: &'static [(f64, f64)],
}

/// Long dashes.
pub const DASHED: Pattern = Pattern { cycle_points: 11.2, pieces: &[(0.0, 7.0)] };
/// Those of pinned arrangements, by letter: long dashes, short ones, a dot between dashes, two dots between dashes.
pub const PINNED: [Pattern; 4] = [
    DASHED,
    Pattern { cycle_points: 6.0, pieces: &[(0.0, 3.5)] },
    Pattern { cycle_points: 18.0, pieces: &[(0.0, 10.0), (13.0, 2.0)] },
    Pattern { cycle_points: 23.0, pieces: &[(0.0, 10.0), (13.0, 2.0), (18.0, 2.0)] },
];

/// A line longer than this on the screen is dashed no further.
const MOST_POINTS: f64 = 1e9;

/// What of a plot is seen, in its units, and how large one of these is on the screen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    /// Least place and height.
    pub from: [f64; 2],
    /// Largest place and height.
    pub to: [f64; 2],
    pub points_per_unit: [f64; 2],
}

impl Seen {
    /// Between which shares of the way from one point to the next the straight line is seen.
    fn shares(&self, start: [f64; 2], end: [f64; 2]) -> Option<(f64, f64)> {
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        for axis in 0..2 {
            let way = end[axis] - start[axis];
            let [low, high] = [self.from[axis], self.to[axis]].map(|edge| edge - start[axis]);
            if way == 0.0 {
                if low > 0.0 || high < 0.0 {
                    return None;
                }
                continue;
            }
            enter = enter.max((low / way).min(high / way));
            leave = leave.min((low / way).max(high / way));
        }
        (enter <= leave).then_some((enter, leave))
    }
}

/// The dashes of a line, each through the points of the line that lie on it.
pub fn dashes(line: &[[f64; 2]], seen: &Seen, pattern: Pattern) -> Vec<Vec<[f64; 2]>> {
    pattern.pieces.iter().flat_map(|piece| pieces(line, seen, pattern.cycle_points, *piece)).collect()
}

/// All of one piece of the pattern: `begin` and length of it within the cycle.
fn pieces(line: &[[f64; 2]], seen: &Seen, cycle: f64, (begin, dash_points): (f64, f64)) -> Vec<Vec<[f64; 2]>> {
    let mut dashes: Vec<Vec<[f64; 2]>> = Vec::new();
    let (mut travelled, mut last) = (0.0, None);
    for pair in line.windows(2) {
        let [start, end] = [pair[0], pair[1]];
        let length = [0, 1].map(|axis| (end[axis] - start[axis]) * seen.points_per_unit[axis]);
        let length = length[0].hypot(length[1]);
        if !(length > 0.0 && travelled + length < MOST_POINTS) {
            continue;
        }
        let at = |share: f64| [0, 1].map(|axis| start[axis] + (end[axis] - start[axis]) * share);
        let (enter, leave) = seen.shares(start, end).unwrap_or((1.0, 0.0));
        let mut number = ((travelled + enter * length - begin) / cycle).floor();
        while number * cycle + begin <= travelled + leave * length {
            let start_points = number * cycle + begin - travelled;
            let from = (start_points / length).max(0.0);
            let to = ((start_points + dash_points) / length).min(1.0);
            if from < to {
                match dashes.last_mut() {
                    Some(dash) if from == 0.0 && last == Some(number) => dash.push(at(to)),
                    _ => dashes.push(vec![at(from), at(to)]),
                }
                last = Some(number);
            }
            number += 1.0;
        }
        travelled += length;
    }
    dashes
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEN_AND_SIX: Pattern = Pattern { cycle_points: 16.0, pieces: &[(0.0, 10.0)] };

    fn seen(to_z_mm: f64) -> Seen {
        Seen { from: [0.0, -1.0], to: [to_z_mm, 1.0], points_per_unit: [2.0, 10.0] }
    }

    /// A level line of 40 mm at 2 points a millimetre, dashes of 10 points and gaps of 6: 5 mm and 3 mm.
    #[test]
    fn dashes_are_as_long_however_short_the_pieces_of_the_line() {
        let ends: Vec<[f64; 2]> =
            (0..5).map(|number| [8.0 * f64::from(number), 8.0 * f64::from(number) + 5.0]).collect();
        for n_pieces in [1, 2, 40, 333] {
            let line: Vec<[f64; 2]> =
                (0..=n_pieces).map(|piece| [40.0 * f64::from(piece) / f64::from(n_pieces), 0.5]).collect();
            let found = dashes(&line, &seen(40.0), TEN_AND_SIX);
            assert_eq!(found.len(), 5, "{n_pieces} pieces");
            for (dash, ends) in found.iter().zip(&ends) {
                let (first, last) = (dash[0], dash[dash.len() - 1]);
                assert!((first[0] - ends[0]).abs() < 1e-9 && (last[0] - ends[1]).abs() < 1e-9, "{first:?} to {last:?}");
            }
        }
    }

    #[test]
    fn a_dash_goes_round_a_corner_and_up_a_step() {
        // 4 points along, 10 up: the first dash of 10 ends 6 points up the step.
        let found = dashes(&[[0.0, 0.0], [2.0, 0.0], [2.0, 1.0]], &seen(40.0), TEN_AND_SIX);
        assert_eq!(found, vec![vec![[0.0, 0.0], [2.0, 0.0], [2.0, 0.6]]]);
    }

    #[test]
    fn a_dot_stands_in_the_middle_of_every_gap() {
        // 2 points a millimetre: dashes of 5 mm, dots of 1 mm from 6.5 mm on, all again after 9 mm.
        let found = dashes(&[[0.0, 0.5], [18.0, 0.5]], &seen(40.0), PINNED[2]);
        let ends: Vec<[f64; 2]> = found.iter().map(|piece| [piece[0][0], piece[piece.len() - 1][0]]).collect();
        assert_eq!(ends, [[0.0, 5.0], [9.0, 14.0], [6.5, 7.5], [15.5, 16.5]]);
    }

    #[test]
    fn what_is_out_of_sight_has_no_dashes_and_moves_none() {
        let far = [[0.0, 0.5], [40.0, 0.5], [41.0, 1e12], [42.0, 0.5], [1e9, 0.5]];
        assert_eq!(dashes(&far, &seen(40.0), TEN_AND_SIX), dashes(&far[..2], &seen(40.0), TEN_AND_SIX));
        assert_eq!(dashes(&[[0.0, 5.0], [40.0, 5.0]], &seen(40.0), TEN_AND_SIX), Vec::<Vec<[f64; 2]>>::new());
        assert!(dashes(&[[0.0, 0.5], [1.0, f64::NAN], [2.0, 0.5]], &seen(40.0), TEN_AND_SIX).is_empty());
    }
}
