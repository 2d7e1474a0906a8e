//! The shaft: what the stock is, what is wanted of it, and the features a rest must know of.
//!
//! Positions `s_mm` run along the shaft from its end A. In a set-up end A is at the headstock, or at the tailstock
//! where the set-up holds the shaft turned end for end.

use super::material::MaterialChoice;
use super::tolerance::Tolerance;

/// A stretch of the stock, cylindrical or tapered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Land {
    pub length_mm: f64,
    /// Diameter at the end nearer A.
    pub start_diameter_mm: f64,
    /// Diameter at the other end.
    pub end_diameter_mm: f64,
}

/// A stretch of the finished part.
#[derive(Clone, Debug, PartialEq)]
pub struct WantedLand {
    pub land: Land,
    pub tolerance: Tolerance,
    /// What it is for ("bearing seat"), may be empty.
    pub name: String,
}

/// A stretch of bore.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoreLand {
    pub from_s_mm: f64,
    pub to_s_mm: f64,
    /// Diameter at `from_s_mm`.
    pub start_diameter_mm: f64,
    /// Diameter at `to_s_mm`.
    pub end_diameter_mm: f64,
}

/// What a rest must not stand on, or must know of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FeatureKind {
    Thread {
        pitch_mm: f64,
    },
    Keyway {
        width_mm: f64,
        depth_mm: f64,
    },
    Flat,
    Spline,
    Weld,
    CrossHole {
        diameter_mm: f64,
    },
    Groove {
        depth_mm: f64,
    },
    /// A true bearing spot, turned and polished, ready for jaws.
    TrueSpot,
}

/// A feature over a stretch of the shaft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Feature {
    pub kind: FeatureKind,
    pub from_s_mm: f64,
    pub to_s_mm: f64,
}

/// A 60 degree centre hole in an end face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CentreHole {
    /// Pilot diameter.
    pub pilot_mm: f64,
}

/// The work.
#[derive(Clone, Debug, PartialEq)]
pub struct Shaft {
    pub material: MaterialChoice,
    /// From end A, one after another; never empty.
    pub stock: Vec<Land>,
    pub bores: Vec<BoreLand>,
    /// Where the finished part begins in the stock, from end A.
    pub wanted_start_s_mm: f64,
    /// The finished part from there on; may be shorter than the stock (a chucking stub).
    pub wanted: Vec<WantedLand>,
    pub features: Vec<Feature>,
    pub centre_hole_a: Option<CentreHole>,
    pub centre_hole_b: Option<CentreHole>,
    /// Run-out of the bar itself at mid-length, total indicator reading.
    pub bow_tir_mm: f64,
}

impl Shaft {
    /// Length of the stock.
    #[must_use]
    pub fn length_mm(&self) -> f64 {
        self.stock.iter().map(|land| land.length_mm).sum()
    }

    /// Length of the finished part.
    #[must_use]
    pub fn wanted_length_mm(&self) -> f64 {
        self.wanted.iter().map(|wanted| wanted.land.length_mm).sum()
    }

    /// Largest diameter of the stock.
    #[must_use]
    pub fn max_diameter_mm(&self) -> f64 {
        self.stock.iter().map(|land| land.start_diameter_mm.max(land.end_diameter_mm)).fold(0.0, f64::max)
    }

    /// The wanted lands with where each begins and ends, from end A.
    pub fn wanted_spans(&self) -> impl Iterator<Item = (f64, f64, &WantedLand)> {
        let mut s_mm = self.wanted_start_s_mm;
        self.wanted.iter().map(move |wanted| {
            let from = s_mm;
            s_mm += wanted.land.length_mm;
            (from, s_mm, wanted)
        })
    }

    /// The stock lands with where each begins and ends, from end A.
    pub fn stock_spans(&self) -> impl Iterator<Item = (f64, f64, &Land)> {
        let mut s_mm = 0.0;
        self.stock.iter().map(move |land| {
            let from = s_mm;
            s_mm += land.length_mm;
            (from, s_mm, land)
        })
    }
}
