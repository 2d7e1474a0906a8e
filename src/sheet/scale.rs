//! Standard scales of drawings. Source: ISO 5455, 1, 2 and 5 with their tenfolds, either way (from memory).

use std::fmt;
use std::str::FromStr;

/// So many mm of paper for so many mm of the lathe.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scale {
    pub paper: u32,
    pub real: u32,
}

/// What is no standard scale.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0:?} is no standard scale: 1:1, 1:2, 1:5, 1:10, 1:20 and so on, or 2:1, 5:1, 10:1")]
pub struct ScaleError(String);

const REDUCTIONS: [u32; 13] = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000];
const ENLARGEMENTS: [u32; 5] = [50, 20, 10, 5, 2];

impl Scale {
    /// All of them, the largest first.
    pub fn all() -> impl Iterator<Item = Self> {
        let larger = ENLARGEMENTS.into_iter().map(|paper| Self { paper, real: 1 });
        larger.chain(REDUCTIONS.into_iter().map(|real| Self { paper: 1, real }))
    }

    /// Paper against lathe.
    #[must_use]
    pub fn ratio(self) -> f64 {
        f64::from(self.paper) / f64::from(self.real)
    }
}

impl fmt::Display for Scale {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(to, "{}:{}", self.paper, self.real)
    }
}

impl FromStr for Scale {
    type Err = ScaleError;

    fn from_str(text: &str) -> Result<Self, ScaleError> {
        let wrong = || ScaleError(text.to_owned());
        let (paper, real) = text.split_once(':').ok_or_else(wrong)?;
        let read = |part: &str| part.trim().parse::<u32>().map_err(|_| wrong());
        let scale = Self { paper: read(paper)?, real: read(real)? };
        Self::all().find(|known| *known == scale).ok_or_else(wrong)
    }
}
