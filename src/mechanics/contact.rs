//! Which jaws touch, and how hard: jaws only push.
//!
//! With forces `λ` the jaws are pressed in by `p = d - G λ`, where `d` is what the free work would press in and `G` the
//! compliance between jaws. A jaw of stiffness `k` pushes with `k p` where `p > 0`. With `A = G + diag(1/k)` this is
//! the linear complementarity problem `s = A λ - d >= 0, λ >= 0, s λ = 0`. Without friction `A` is symmetric positive
//! definite, so there is exactly one answer. Friction (each jaw also drags sideways with a share of its force) makes `A`
//! unsymmetric; for shares well below 1 all its principal minors stay positive, and the answer is still one.
//!
//! Method: block pivoting (flip every jaw whose sign is wrong) while the number of wrong ones falls, then Murty's
//! least-index rule, which ends for every such matrix.
//! Source: K. G. Murty, Opsearch 11 (1974); J. J. Júdice and F. M. Pires, Computers Ops Res. 21 (1994) 587-596 (both
//! cited from memory).

/// A set of jaws that touch.
#[derive(Debug, PartialEq, Eq, Default)]
pub struct Touching {
    flags: Vec<bool>,
}

impl Clone for Touching {
    fn clone(&self) -> Self {
        Self { flags: self.flags.clone() }
    }

    /// Into the memory there is: this is done at every set of jaws that is tried.
    fn clone_from(&mut self, source: &Self) {
        self.flags.clone_from(&source.flags);
    }
}

impl Touching {
    /// No jaw of `n_jaws` touches.
    #[must_use]
    pub fn none(n_jaws: usize) -> Self {
        Self { flags: vec![false; n_jaws] }
    }

    /// Whether a jaw touches.
    #[must_use]
    pub fn contains(&self, jaw: usize) -> bool {
        self.flags[jaw]
    }

    /// Numbers of the jaws that touch, rising.
    pub fn iter(&self) -> impl Iterator<Item = usize> + '_ {
        self.flags.iter().enumerate().filter_map(|(jaw, touches)| touches.then_some(jaw))
    }

    /// Puts a jaw in or takes it out.
    pub fn set(&mut self, jaw: usize, touches: bool) {
        self.flags[jaw] = touches;
    }

    /// Number of jaws, touching or not.
    #[must_use]
    pub fn n_jaws(&self) -> usize {
        self.flags.len()
    }
}

/// How the search changes its mind; kept over the tries at one problem.
#[derive(Clone, Debug)]
pub struct Search {
    fewest_wrong: usize,
    block_tries_left: usize,
    tries_left: usize,
}

/// What a look at the signs says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// All signs are right: this is the answer.
    Done,
    /// Solve again with the changed set.
    Again,
    /// The limit of tries is reached.
    Stopped,
}

impl Search {
    /// A fresh search among `n_jaws`.
    #[must_use]
    pub fn new(n_jaws: usize) -> Self {
        Self { fewest_wrong: n_jaws + 1, block_tries_left: 4, tries_left: 4000 }
    }

    /// Looks at the trial: `wrong(jaw, touches)` says whether the jaw's sign is wrong, beyond rounding, given whether
    /// it was taken to touch. Changes `touching`.
    pub fn step(&mut self, touching: &mut Touching, wrong: impl Fn(usize, bool) -> bool) -> Verdict {
        let n_jaws = touching.n_jaws();
        let n_wrong = (0..n_jaws).filter(|&jaw| wrong(jaw, touching.contains(jaw))).count();
        if n_wrong == 0 {
            return Verdict::Done;
        }
        if self.tries_left == 0 {
            return Verdict::Stopped;
        }
        self.tries_left -= 1;
        if n_wrong < self.fewest_wrong {
            self.fewest_wrong = n_wrong;
            self.block_tries_left = 4;
        } else if self.block_tries_left > 0 {
            self.block_tries_left -= 1;
        }
        let block = self.block_tries_left > 0;
        for jaw in 0..n_jaws {
            let touches = touching.contains(jaw);
            if wrong(jaw, touches) {
                touching.set(jaw, !touches);
                if !block {
                    break;
                }
            }
        }
        Verdict::Again
    }
}

/// Factors `L U` of the block of `A` for the touching jaws, and solutions with them; without exchange of rows, which a
/// matrix with positive principal minors does not need.
#[derive(Clone, Debug, Default)]
pub struct Factor {
    jaws: Vec<usize>,
    /// Row-major: below the diagonal `L` (its diagonal is 1), above it `U`, on it the reciprocals of `U`'s diagonal.
    rows: Vec<f64>,
}

impl Factor {
    /// Numbers of the jaws in the block, rising.
    #[must_use]
    pub fn jaws(&self) -> &[usize] {
        &self.jaws
    }

    /// Factors the touching block of the matrix `a(row, column)`; false where a pivot is not positive.
    pub fn factor(&mut self, a: impl Fn(usize, usize) -> f64, touching: &Touching) -> bool {
        self.factor_if(a, touching, |pivot| pivot > 0.0)
    }

    /// The same with pivots of any sign, for work that its jaws keep from buckling; false where one is nothing.
    pub fn factor_of_any_sign(&mut self, a: impl Fn(usize, usize) -> f64, touching: &Touching) -> bool {
        self.factor_if(a, touching, |pivot| pivot.is_finite() && pivot != 0.0)
    }

    /// How many pivots of the last factor were negative.
    #[must_use]
    pub fn n_negative(&self) -> usize {
        let m = self.jaws.len();
        (0..m).filter(|row| self.rows[row * m + row] < 0.0).count()
    }

    fn factor_if(&mut self, a: impl Fn(usize, usize) -> f64, touching: &Touching, sound: impl Fn(f64) -> bool) -> bool {
        self.jaws.clear();
        self.jaws.extend(touching.iter());
        let m = self.jaws.len();
        self.rows.clear();
        for &jaw in &self.jaws {
            self.rows.extend(self.jaws.iter().map(|&other| a(jaw, other)));
        }
        for pivot in 0..m {
            let (above, below) = self.rows.split_at_mut((pivot + 1) * m);
            let row = &mut above[pivot * m..];
            let diagonal = row[pivot];
            if !sound(diagonal) {
                return false;
            }
            let reciprocal = 1.0 / diagonal;
            row[pivot] = reciprocal;
            for lower in below.chunks_exact_mut(m) {
                let share = lower[pivot] * reciprocal;
                lower[pivot] = share;
                for (entry, upper) in lower[pivot + 1..].iter_mut().zip(&row[pivot + 1..]) {
                    *entry -= share * upper;
                }
            }
        }
        true
    }

    /// Solves for `W` right sides at once. `right` has a row for every jaw, `answer` gets one for every touching jaw in
    /// the order of [`Self::jaws`].
    pub fn solve<const W: usize>(&self, right: &[[f64; W]], answer: &mut Vec<[f64; W]>) {
        let m = self.jaws.len();
        answer.clear();
        for (row, &jaw) in self.jaws.iter().enumerate() {
            let mut rest = right[jaw];
            for (share, known) in self.rows[row * m..row * m + row].iter().zip(answer.iter()) {
                for (rest, known) in rest.iter_mut().zip(known) {
                    *rest -= share * known;
                }
            }
            answer.push(rest);
        }
        for row in (0..m).rev() {
            let (before, after) = answer.split_at_mut(row + 1);
            let mut rest = before[row];
            for (upper, known) in self.rows[row * m + row + 1..(row + 1) * m].iter().zip(after) {
                for (rest, known) in rest.iter_mut().zip(known.iter()) {
                    *rest -= upper * known;
                }
            }
            before[row] = rest.map(|rest| rest * self.rows[row * m + row]);
        }
    }
}

/// The answer of a contact problem.
#[derive(Clone, Debug, PartialEq)]
pub struct Contact {
    pub force_n: Vec<f64>,
    pub touching: Touching,
    /// Largest violation of the conditions, as a length.
    pub residual_mm: f64,
    /// False where the search was stopped at its limit.
    pub solved: bool,
}

/// Solves `s = A λ - d >= 0, λ >= 0, s λ = 0` for a row-major `A` (mm/N) with positive principal minors and `d` (mm),
/// starting from `start`.
#[must_use]
pub fn solve(a: &[f64], d_mm: &[f64], start: Touching) -> Contact {
    let n = d_mm.len();
    let mut touching = start;
    let mut search = Search::new(n);
    let mut factor = Factor::default();
    let right: Vec<[f64; 1]> = d_mm.iter().map(|d| [*d]).collect();
    let mut answer = Vec::new();
    let floor_mm = rounding_floor(d_mm.iter().fold(0.0, |largest: f64, d| largest.max(d.abs())));
    loop {
        let sound = factor.factor(|row, column| a[row * n + column], &touching);
        let mut force_n = vec![0.0; n];
        if sound {
            factor.solve(&right, &mut answer);
            for (jaw, [force]) in factor.jaws().iter().zip(&answer) {
                force_n[*jaw] = *force;
            }
        }
        let slack_mm: Vec<f64> = (0..n)
            .map(|jaw| (0..n).map(|other| a[jaw * n + other] * force_n[other]).sum::<f64>() - d_mm[jaw])
            .collect();
        let verdict = search.step(
            &mut touching,
            |jaw, touches| {
                if touches { force_n[jaw] < 0.0 } else { slack_mm[jaw] < -floor_mm }
            },
        );
        if verdict == Verdict::Again && sound {
            continue;
        }
        let residual_mm = (0..n)
            .map(|jaw| if touching.contains(jaw) { slack_mm[jaw].abs() } else { (-slack_mm[jaw]).max(0.0) })
            .fold(0.0, f64::max);
        return Contact { force_n, touching, residual_mm, solved: verdict == Verdict::Done && sound };
    }
}

/// Below this, a slack is rounding: relative to the most that the free work would be pressed in by.
#[must_use]
pub fn rounding_floor(largest_mm: f64) -> f64 {
    64.0 * f64::EPSILON * largest_mm
}
