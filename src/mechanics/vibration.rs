//! Natural frequencies of the held work and the shapes it swings in.
//!
//! Each frequency is first fenced in by counts ([`super::count`]), so none can be missed; then inverse iteration with
//! the frequencies of a fence taken together gives their shapes and the figures to some 8 digits. Both planes swing at
//! once: without jaws, or with jaws that hold all ways alike, frequencies come in equal pairs, one sideways and one up.
//! The work whirls first at the speed of its first frequency.
//!
//! Limits: rounding is some n⁴ units of the last place, as in any elimination; no damping, no gyroscopic effect of the
//! turning work, the jaws that touch go on touching.

use std::f64::consts::PI;

use super::chain::{Chain, Work};
use super::shifted::{Factor, Field, inner, massed};
use super::small_matrix::{cholesky, eigen};

/// One natural frequency.
#[derive(Clone, Debug, PartialEq)]
pub struct Mode {
    pub frequency_hz: f64,
    /// Away and up at every node, in shares of the largest movement, which is 1.
    pub move_ratio: Vec<[f64; 2]>,
}

impl Mode {
    /// The speed at which the work turns once for each swing.
    #[must_use]
    pub fn whip_rpm(&self) -> f64 {
        60.0 * self.frequency_hz
    }
}

/// The first `n_modes` natural frequencies with their shapes, rising; `None` where nothing holds the work.
///
/// Of frequencies that are equal the one that moves sideways most comes first.
#[must_use]
pub fn modes(work: &Work, n_modes: usize) -> Option<Vec<Mode>> {
    let chain = Chain::of(work);
    let mut found = Vec::with_capacity(n_modes);
    for fence in fences(&chain, n_modes, TOGETHER_RATIO, &[])? {
        found.extend(inside(&chain, fence));
    }
    found.truncate(n_modes);
    Some(found)
}

/// The first `n_modes` natural frequencies alone, to within the share `tolerance_ratio`; `None` where nothing holds the
/// work. `near_hz`, rising, is where they may be thought to lie: the nearer, the sooner they are found.
#[must_use]
pub fn frequencies_hz(work: &Work, n_modes: usize, tolerance_ratio: f64, near_hz: &[f64]) -> Option<Vec<f64>> {
    let chain = Chain::of(work);
    let together_ratio = (2.0 * tolerance_ratio).max(TOGETHER_RATIO);
    let narrow = |fence: Fence| {
        let fence = narrowed(&chain, fence, 2.0 * tolerance_ratio);
        std::iter::repeat_n((fence.low * fence.high).powf(0.25) / (2.0 * PI), fence.n_inside())
    };
    let mut found: Vec<f64> = fences(&chain, n_modes, together_ratio, near_hz)?.into_iter().flat_map(narrow).collect();
    found.truncate(n_modes);
    Some(found)
}

/// A stretch of ω² with the number of frequencies below either end.
#[derive(Clone, Copy, Debug)]
struct Fence {
    low: f64,
    high: f64,
    n_low: usize,
    n_high: usize,
}

impl Fence {
    fn n_inside(&self) -> usize {
        self.n_high - self.n_low
    }

    /// Ratio of the ends, less 1.
    fn width_ratio(&self) -> f64 {
        self.high / self.low - 1.0
    }

    /// The five parts of the fence, each end a fixed ratio above the last.
    fn parts(&self, chain: &Chain) -> [Self; 5] {
        let step = (self.high / self.low).powf(0.2);
        let tries = [self.low * step, self.low * step * step, self.high / (step * step), self.high / step];
        let counts = chain.counts(tries, [1.0; 4]);
        let mut parts = [*self; 5];
        let mut n_least = self.n_low;
        for (index, (omega2, count)) in tries.into_iter().zip(counts).enumerate() {
            // As in `fences`.
            n_least = count.clamp(n_least, self.n_high);
            (parts[index].high, parts[index].n_high) = (omega2, n_least);
            (parts[index + 1].low, parts[index + 1].n_low) = (omega2, n_least);
        }
        parts
    }
}

/// One frequency alone may stay in a wide fence; several must be as good as one.
const ALONE_RATIO: f64 = 0.02;
const TOGETHER_RATIO: f64 = 1e-3;

/// Work that swings slower than this, once in some three minutes, counts as held by nothing (rad²/s²).
const LEAST_OMEGA2: f64 = 1e-3;

/// About a frequency that is thought to be known, as far either way: a fifth of that is narrow enough for one alone.
const THOUGHT_RATIO: f64 = 0.024;

/// Fences around the first frequencies, rising, those with several no wider than `together_ratio`.
fn fences(chain: &Chain, n_modes: usize, together_ratio: f64, near_hz: &[f64]) -> Option<Vec<Fence>> {
    let mut tries = vec![LEAST_OMEGA2];
    for near_hz in near_hz {
        let [low, high] = [1.0 - THOUGHT_RATIO, 1.0 + THOUGHT_RATIO].map(|ratio| (2.0 * PI * near_hz * ratio).powi(2));
        match tries.last_mut() {
            Some(last) if *last > low => *last = last.max(high),
            _ => tries.extend([low, high]),
        }
    }
    let mut ends: Vec<(f64, usize)> = Vec::new();
    for tries in tries.chunks(4) {
        let padded = std::array::from_fn(|lane| tries[lane.min(tries.len() - 1)]);
        ends.extend(tries.iter().copied().zip(chain.counts(padded, [1.0; 4])));
    }
    if ends[0].1 > 0 {
        return None;
    }
    let mut start = ends.last().map_or(1e2, |(last, _)| last.max(1.0) * 1e2);
    while ends.last().is_none_or(|(_, count)| *count < n_modes) && start < 1e40 {
        let tries = [start, 1e2 * start, 1e4 * start, 1e6 * start];
        ends.extend(tries.into_iter().zip(chain.counts(tries, [1.0; 4])));
        start *= 1e8;
    }
    let mut n_least = 0;
    for (_, count) in &mut ends {
        // A count beside a frequency may be off by rounding; it must still rise.
        n_least = n_least.max(*count);
        *count = n_least;
    }
    let fence = |pair: &[(f64, usize)]| Fence { low: pair[0].0, high: pair[1].0, n_low: pair[0].1, n_high: pair[1].1 };
    let mut waiting: Vec<Fence> = ends.windows(2).rev().map(fence).collect();
    let mut done = Vec::new();
    while let Some(fence) = waiting.pop() {
        if fence.n_inside() == 0 {
            continue;
        }
        if fence.n_low >= n_modes {
            break;
        }
        let wide = if fence.n_inside() == 1 { ALONE_RATIO } else { together_ratio };
        if fence.width_ratio() < wide {
            done.push(fence);
        } else {
            waiting.extend(fence.parts(chain).into_iter().rev());
        }
    }
    Some(done)
}

/// A fence drawn closer; where it falls apart, the part that holds most.
fn narrowed(chain: &Chain, mut fence: Fence, width_ratio: f64) -> Fence {
    while fence.width_ratio() > width_ratio {
        let parts = fence.parts(chain);
        if let Some(whole) = parts.iter().find(|part| part.n_inside() == fence.n_inside()) {
            fence = *whole;
        } else {
            break;
        }
    }
    fence
}

/// The frequencies inside a fence, with their shapes.
fn inside(chain: &Chain, fence: Fence) -> Vec<Mode> {
    let mut fence = fence;
    let mut swings = Swings::start(chain, fence.n_inside());
    loop {
        let shift = 0.5 * (fence.low + fence.high);
        let settled = swings.iterate(chain, shift);
        let margin = 1e-9 * shift;
        let within = |omega2: &f64| *omega2 > fence.low - margin && *omega2 < fence.high + margin;
        if settled && swings.omega2.iter().all(within) {
            break;
        }
        let closer = narrowed(chain, fence, 0.1 * fence.width_ratio());
        if closer.width_ratio() < 1e-9 || closer.width_ratio() >= fence.width_ratio() {
            // The count is to be trusted.
            swings.omega2.fill(0.5 * (closer.low + closer.high));
            break;
        }
        fence = closer;
    }
    swings.set_upright(chain);
    let modes = swings.omega2.iter().zip(&swings.fields).map(|(omega2, field)| mode(*omega2, field));
    modes.collect()
}

fn mode(omega2: f64, field: &Field) -> Mode {
    let largest =
        field.iter().fold(
            [0.0, 0.0],
            |largest: [f64; 2], [u, _, v, _]| {
                if u.hypot(*v) > largest[0].hypot(largest[1]) { [*u, *v] } else { largest }
            },
        );
    let leading = if largest[0].abs() >= largest[1].abs() { largest[0] } else { largest[1] };
    let scale = leading.signum() / largest[0].hypot(largest[1]).max(f64::MIN_POSITIVE);
    Mode {
        frequency_hz: omega2.sqrt() / (2.0 * PI),
        move_ratio: field.iter().map(|[u, _, v, _]| [u * scale, v * scale]).collect(),
    }
}

/// Swings that are looked for together.
struct Swings {
    fields: Vec<Field>,
    omega2: Vec<f64>,
}

impl Swings {
    /// Fields with something of every shape in them.
    fn start(chain: &Chain, n: usize) -> Self {
        // Weyl's sequence of the golden ratio: even, and no shape's own rhythm.
        let mut share = 0.0;
        let mut next = || {
            share = (share + 0.618_033_988_749_894_9) % 1.0;
            share - 0.3
        };
        let fields = (0..n).map(|_| chain.nodes.iter().map(|_| [next(), 0.0, next(), 0.0]).collect()).collect();
        Self { fields, omega2: vec![0.0; n] }
    }

    /// Inverse iteration about a shift; true when the frequencies have settled.
    fn iterate(&mut self, chain: &Chain, shift: f64) -> bool {
        let factor = Factor::of(chain, shift);
        let mut pushed: Vec<Field> = self.fields.iter().map(|field| massed(chain, field)).collect();
        for round in 0..12 {
            let answers: Vec<Field> = pushed.iter().map(|field| factor.solve(chain, field.clone())).collect();
            let answers_massed: Vec<Field> = answers.iter().map(|field| massed(chain, field)).collect();
            let Some(mix) = mixed(&answers, &pushed, &answers_massed) else { return false };
            let last = std::mem::replace(&mut self.omega2, mix.iter().map(|(theta, _)| shift + theta).collect());
            let combine = |of: &[Field]| mix.iter().map(|(_, shares)| combined(of, shares)).collect::<Vec<_>>();
            self.fields = combine(&answers);
            pushed = combine(&answers_massed);
            let still = self.omega2.iter().zip(&last).all(|(now, before)| (now - before).abs() < 1e-12 * shift);
            if round >= 2 && still {
                return true;
            }
        }
        false
    }

    /// Turns equal pairs so that the first moves sideways and the second up.
    fn set_upright(&mut self, chain: &Chain) {
        for first in 1..self.fields.len() {
            let (a, b) = (first - 1, first);
            if (self.omega2[b] - self.omega2[a]).abs() > 1e-8 * self.omega2[a] {
                continue;
            }
            let sideways = |field: &Field| -> Field { field.iter().map(|w| [w[0], w[1], 0.0, 0.0]).collect() };
            let flat = [sideways(&self.fields[a]), sideways(&self.fields[b])];
            let weighed = flat.each_ref().map(|field| massed(chain, field));
            let share = |i: usize, j: usize| inner(&flat[i], &weighed[j]);
            let mut turns = eigen(vec![share(0, 0), share(0, 1), share(0, 1), share(1, 1)], 2);
            turns.reverse();
            let pair = [self.fields[a].clone(), self.fields[b].clone()];
            self.fields[a] = combined(&pair, &turns[0].1);
            self.fields[b] = combined(&pair, &turns[1].1);
        }
    }
}

fn combined(fields: &[Field], shares: &[f64]) -> Field {
    let mut sum = vec![[0.0; 4]; fields[0].len()];
    for (field, share) in fields.iter().zip(shares) {
        for (sum, w) in sum.iter_mut().zip(field) {
            for part in 0..4 {
                sum[part] += share * w[part];
            }
        }
    }
    sum
}

/// The best frequencies, less the shift, and shares of the answers: `Yᵀ M X s = θ Yᵀ M Y s`.
fn mixed(answers: &[Field], pushed: &[Field], answers_massed: &[Field]) -> Option<Vec<(f64, Vec<f64>)>> {
    let n = answers.len();
    let mut work = vec![0.0; n * n];
    let mut mass = vec![0.0; n * n];
    for i in 0..n {
        for j in 0..=i {
            let both = 0.5 * (inner(&answers[i], &pushed[j]) + inner(&answers[j], &pushed[i]));
            let own = inner(&answers[i], &answers_massed[j]);
            (work[i * n + j], work[j * n + i]) = (both, both);
            (mass[i * n + j], mass[j * n + i]) = (own, own);
        }
    }
    // Scaled to ones on the diagonal, so that a large answer drowns no other.
    let scale: Vec<f64> = (0..n).map(|i| 1.0 / mass[i * n + i].abs().sqrt()).collect();
    for i in 0..n {
        for j in 0..n {
            work[i * n + j] *= scale[i] * scale[j];
            mass[i * n + j] *= scale[i] * scale[j];
        }
    }
    let lower = cholesky(&mass, n)?;
    let forward = |column: &mut [f64]| {
        for i in 0..n {
            let done: f64 = (0..i).map(|k| lower[i * n + k] * column[k]).sum();
            column[i] = (column[i] - done) / lower[i * n + i];
        }
    };
    // L⁻¹ W L⁻ᵀ, row by row and then column by column.
    let mut half: Vec<f64> = work;
    for row in half.chunks_mut(n) {
        forward(row);
    }
    let mut turned: Vec<f64> = (0..n * n).map(|at| half[(at % n) * n + at / n]).collect();
    for row in turned.chunks_mut(n) {
        forward(row);
    }
    let mut pairs = eigen(turned, n);
    for (theta, shares) in &mut pairs {
        if !theta.is_finite() {
            return None;
        }
        for i in (0..n).rev() {
            let done: f64 = (i + 1..n).map(|k| lower[k * n + i] * shares[k]).sum();
            shares[i] = (shares[i] - done) / lower[i * n + i];
        }
        for (share, scale) in shares.iter_mut().zip(&scale) {
            *share *= scale;
        }
    }
    Some(pairs)
}
