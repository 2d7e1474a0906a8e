//! Random numbers for tests: the same number to begin with always gives the same ones.

/// Even random numbers.
///
/// Source: the generator splitmix64 (G. L. Steele, D. Lea, C. H. Flood, OOPSLA 2014; public-domain code from memory).
pub struct Lot(pub u64);

impl Lot {
    /// From 0 up to, not including, 1.
    pub fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// Evenly spread over the powers of ten.
    pub fn tenfold(&mut self, low: f64, high: f64) -> f64 {
        low * (high / low).powf(self.share())
    }

    pub fn below(&mut self, n: usize) -> usize {
        ((self.share() * n as f64) as usize).min(n - 1)
    }

    pub fn chance(&mut self, share: f64) -> bool {
        self.share() < share
    }

    pub fn one_of<T: Clone>(&mut self, choices: &[T]) -> T {
        choices[self.below(choices.len())].clone()
    }
}
