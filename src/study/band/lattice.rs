//! Points spread evenly through a cube of as many dimensions as there are figures.
//!
//! Figure c of member i stands at `t = (2 r + 1 - n)/n`, `r = (i a^c + (n - 1)/2) mod n`: every figure takes n values
//! evenly apart, member 0 stands in the middle and the others lie opposite each other in pairs. From c = (n - 1)/2 on
//! the figures before would come again, so `i` is put to a power first, which keeps all this but goes in step with none.
//! Source: a rank-1 lattice after N. M. Korobov (1959), shifted to the middle (from memory); the power is our own.

/// What the number of a member is put to for the later figures: odd, so that opposite ones stay opposite.
const POWER: u32 = 13;

/// A lattice of an odd prime number of points.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lattice {
    /// An odd prime; `n - 1` has no divisor in common with 13.
    pub n_members: u64,
    /// A number whose powers run through all remainders but 0 when divided by `n_members`.
    pub generator: u64,
}

impl Lattice {
    /// Where a figure stands within its spread in a member, from -1 to 1; 0 in member 0.
    #[must_use]
    pub fn place(&self, member: usize, figure: usize) -> f64 {
        let n = self.n_members;
        let half = (n - 1) / 2;
        let member = if (figure as u64) < half {
            member as u64
        } else {
            (0..POWER).fold(1, |product, _| product * member as u64 % n)
        };
        let step = (0..figure).fold(1, |step, _| step * self.generator % n);
        let rest = (member * step + half) % n;
        (2.0 * rest as f64 + 1.0 - n as f64) / n as f64
    }
}
