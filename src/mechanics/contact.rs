//! Which jaws touch, and how hard: jaws only push.
//!
//! With forces `λ` the jaws are pressed in by `p = d - G λ`, where `d` is what the free work would press in and `G` the
//! compliance between jaws. A jaw of stiffness `k` pushes with `k p` where `p > 0`. With `A = G + diag(1/k)` this is
//! the linear complementarity problem `s = A λ - d >= 0, λ >= 0, s λ = 0`. `A` is symmetric positive definite, so
//! there is exactly one answer.
//!
//! Method: block pivoting (flip every jaw whose sign is wrong) while the number of wrong ones falls, then Murty's
//! least-index rule, which ends for every such matrix.
//! Source: K. G. Murty, Opsearch 11 (1974); J. J. Júdice and F. M. Pires, Computers Ops Res. 21 (1994) 587-596 (both
//! cited from memory).

/// A set of jaws that touch.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Touching {
    flags: Vec<bool>,
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

/// Cholesky factor of the block of `A` for the touching jaws, and solutions with it.
#[derive(Clone, Debug, Default)]
pub struct Factor {
    jaws: Vec<usize>,
    lower: Vec<f64>,
}

impl Factor {
    /// Factors the touching block of the row-major `n x n` matrix; false where it is not positive definite.
    pub fn factor(&mut self, a: &[f64], touching: &Touching) -> bool {
        let n = touching.n_jaws();
        self.jaws.clear();
        self.jaws.extend(touching.iter());
        let m = self.jaws.len();
        self.lower.clear();
        self.lower.resize(m * m, 0.0);
        for row in 0..m {
            for column in 0..=row {
                let mut sum = a[self.jaws[row] * n + self.jaws[column]];
                for inner in 0..column {
                    sum -= self.lower[row * m + inner] * self.lower[column * m + inner];
                }
                if row == column {
                    if sum.is_nan() || sum <= 0.0 {
                        return false;
                    }
                    self.lower[row * m + row] = sum.sqrt();
                } else {
                    self.lower[row * m + column] = sum / self.lower[column * m + column];
                }
            }
        }
        true
    }

    /// Solves for the touching jaws; the others get 0.
    pub fn solve(&self, right: &[f64], answer: &mut [f64]) {
        let m = self.jaws.len();
        answer.fill(0.0);
        for row in 0..m {
            let mut sum = right[self.jaws[row]];
            for inner in 0..row {
                sum -= self.lower[row * m + inner] * answer[self.jaws[inner]];
            }
            answer[self.jaws[row]] = sum / self.lower[row * m + row];
        }
        for row in (0..m).rev() {
            let mut sum = answer[self.jaws[row]];
            for inner in row + 1..m {
                sum -= self.lower[inner * m + row] * answer[self.jaws[inner]];
            }
            answer[self.jaws[row]] = sum / self.lower[row * m + row];
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

/// Solves `s = A λ - d >= 0, λ >= 0, s λ = 0` for a row-major symmetric positive definite `A` (mm/N) and `d` (mm),
/// starting from `start`.
#[must_use]
pub fn solve(a: &[f64], d_mm: &[f64], start: Touching) -> Contact {
    let n = d_mm.len();
    let mut touching = start;
    let mut search = Search::new(n);
    let mut factor = Factor::default();
    let mut force_n = vec![0.0; n];
    let mut slack_mm = vec![0.0; n];
    loop {
        let sound = factor.factor(a, &touching);
        factor.solve(d_mm, &mut force_n);
        slacks(a, d_mm, &force_n, &mut slack_mm);
        let floor_mm = rounding_floor(d_mm);
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

/// Below this, a slack is rounding: relative to the size of what presses in.
#[must_use]
pub fn rounding_floor(d_mm: &[f64]) -> f64 {
    64.0 * f64::EPSILON * d_mm.iter().fold(0.0, |largest: f64, d| largest.max(d.abs()))
}

/// `s = A λ - d`.
fn slacks(a: &[f64], d_mm: &[f64], force_n: &[f64], slack_mm: &mut [f64]) {
    let n = d_mm.len();
    for jaw in 0..n {
        slack_mm[jaw] = (0..n).map(|other| a[jaw * n + other] * force_n[other]).sum::<f64>() - d_mm[jaw];
    }
}
