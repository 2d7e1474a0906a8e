//! Stretches of the bed: joined, cut out of each other, kept within bounds.

/// A stretch of z.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    pub from_mm: f64,
    pub to_mm: f64,
}

/// Stretches shorter than this are none.
const LEAST_MM: f64 = 1e-6;

impl Stretch {
    /// From one place to another, in rising order.
    #[must_use]
    pub const fn new(from_mm: f64, to_mm: f64) -> Self {
        Self { from_mm, to_mm }
    }

    /// It holds the place; its ends belong to it.
    #[must_use]
    pub fn holds(&self, z_mm: f64) -> bool {
        (self.from_mm - LEAST_MM..=self.to_mm + LEAST_MM).contains(&z_mm)
    }

    /// Longer at both ends, or shorter where `by_mm` is negative.
    #[must_use]
    pub fn grown(&self, by_mm: f64) -> Self {
        Self::new(self.from_mm - by_mm, self.to_mm + by_mm)
    }

    /// What both have in common.
    #[must_use]
    pub fn within(&self, other: &Self) -> Option<Self> {
        let common = Self::new(self.from_mm.max(other.from_mm), self.to_mm.min(other.to_mm));
        common.has_length().then_some(common)
    }

    /// It is longer than nothing.
    #[must_use]
    pub fn has_length(&self) -> bool {
        self.to_mm - self.from_mm > LEAST_MM
    }
}

/// Joined where they touch or overlap, rising.
#[must_use]
pub fn joined(mut stretches: Vec<Stretch>) -> Vec<Stretch> {
    stretches.sort_by(|a, b| a.from_mm.total_cmp(&b.from_mm));
    let mut all: Vec<Stretch> = Vec::with_capacity(stretches.len());
    for next in stretches {
        match all.last_mut() {
            Some(last) if next.from_mm <= last.to_mm + LEAST_MM => last.to_mm = last.to_mm.max(next.to_mm),
            _ => all.push(next),
        }
    }
    all
}

/// What is left of `whole` without `taken`, rising.
#[must_use]
pub fn without(whole: &[Stretch], taken: Vec<Stretch>) -> Vec<Stretch> {
    let taken = joined(taken);
    let mut left = Vec::new();
    for stretch in whole {
        let mut from_mm = stretch.from_mm;
        for hole in taken.iter().filter(|hole| hole.within(stretch).is_some()) {
            left.push(Stretch::new(from_mm, hole.from_mm));
            from_mm = hole.to_mm;
        }
        left.push(Stretch::new(from_mm, stretch.to_mm));
    }
    left.retain(Stretch::has_length);
    left
}
