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
    /// Run-out of that end when it turns on this hole, because the hole is off the middle: total indicator reading.
    pub off_tir_mm: f64,
    /// Which way the hole lies from the middle of the face: clock angle on the work, as [`Shaft::bow_at_rad`].
    pub off_at_rad: f64,
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
    /// Towards which side the bar is bent: clock angle on the work from a mark, seen from end B, from right to up.
    pub bow_at_rad: f64,
}

impl Land {
    /// A cylinder.
    #[must_use]
    pub const fn cylinder(length_mm: f64, diameter_mm: f64) -> Self {
        Self { length_mm, start_diameter_mm: diameter_mm, end_diameter_mm: diameter_mm }
    }

    /// Diameter so far from the land's start; outside the land that of the nearer end.
    #[must_use]
    pub fn diameter_at_mm(&self, from_start_mm: f64) -> f64 {
        let share = (from_start_mm / self.length_mm).clamp(0.0, 1.0);
        self.start_diameter_mm + (self.end_diameter_mm - self.start_diameter_mm) * share
    }
}

impl Shaft {
    /// A plain round bar with centre holes of the pilot diameter the size calls for, to be finished to nothing yet.
    #[must_use]
    pub fn bar(material: MaterialChoice, diameter_mm: f64, length_mm: f64) -> Self {
        let hole = Some(CentreHole::in_the_middle(CentreHole::usual_pilot_mm(diameter_mm)));
        Self {
            material,
            stock: vec![Land::cylinder(length_mm, diameter_mm)],
            bores: Vec::new(),
            wanted_start_s_mm: 0.0,
            wanted: Vec::new(),
            features: Vec::new(),
            centre_hole_a: hole,
            centre_hole_b: hole,
            bow_tir_mm: 0.0,
            bow_at_rad: 0.0,
        }
    }

    /// Diameter of the stock at a place along the shaft; at a step the larger, outside the shaft nothing.
    #[must_use]
    pub fn stock_diameter_mm(&self, s_mm: f64) -> Option<f64> {
        largest_at(self.stock_spans(), s_mm)
    }

    /// Diameter of the finished part at a place along the shaft; at a step the larger, outside the part nothing.
    #[must_use]
    pub fn wanted_diameter_mm(&self, s_mm: f64) -> Option<f64> {
        largest_at(self.wanted_spans().map(|(from, to, wanted)| (from, to, &wanted.land)), s_mm)
    }

    /// Diameter of the bore at a place along the shaft; where there is none, 0.
    #[must_use]
    pub fn bore_diameter_mm(&self, s_mm: f64) -> f64 {
        let here = self.bores.iter().filter(|bore| (bore.from_s_mm..=bore.to_s_mm).contains(&s_mm));
        let diameter = |bore: &BoreLand| {
            let share = (s_mm - bore.from_s_mm) / (bore.to_s_mm - bore.from_s_mm);
            bore.start_diameter_mm + (bore.end_diameter_mm - bore.start_diameter_mm) * share
        };
        here.map(diameter).fold(0.0, f64::max)
    }

    /// The same with a true spot turned on the stock: a land of its own where the stock is larger, and the feature.
    #[must_use]
    pub fn with_true_spot(&self, from_s_mm: f64, to_s_mm: f64, diameter_mm: f64) -> Self {
        let mut stock = Vec::with_capacity(self.stock.len() + 2);
        for (from_mm, to_mm, land) in self.stock_spans() {
            let cuts = [from_mm, from_s_mm.clamp(from_mm, to_mm), to_s_mm.clamp(from_mm, to_mm), to_mm];
            for (part, ends) in cuts.windows(2).enumerate().filter(|(_, ends)| ends[1] - ends[0] > EDGE_MM) {
                let at = |s_mm: f64| {
                    let there_mm = land.diameter_at_mm(s_mm - from_mm);
                    if part == 1 { there_mm.min(diameter_mm) } else { there_mm }
                };
                let (start_diameter_mm, end_diameter_mm) = (at(ends[0]), at(ends[1]));
                stock.push(Land { length_mm: ends[1] - ends[0], start_diameter_mm, end_diameter_mm });
            }
        }
        let mut features = self.features.clone();
        features.push(Feature { kind: FeatureKind::TrueSpot, from_s_mm, to_s_mm });
        Self { stock, features, ..self.clone() }
    }

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

impl CentreHole {
    /// A hole in the very middle of the face.
    #[must_use]
    pub const fn in_the_middle(pilot_mm: f64) -> Self {
        Self { pilot_mm, off_tir_mm: 0.0, off_at_rad: 0.0 }
    }

    /// Radius of the mouth.
    ///
    /// Source: DIN 332 form A, mouth about 2.12 times the pilot (from memory).
    #[must_use]
    pub fn mouth_radius_mm(&self) -> f64 {
        1.06 * self.pilot_mm
    }

    /// Pilot diameter customary for a shaft of this diameter.
    ///
    /// Source: ISO 6411 pilots against shaft diameters, a school extract of the standard (read); guidance only.
    #[must_use]
    pub fn usual_pilot_mm(diameter_mm: f64) -> f64 {
        match diameter_mm {
            d if d <= 8.0 => 1.0,
            d if d <= 12.0 => 1.6,
            d if d <= 18.0 => 2.0,
            d if d <= 25.0 => 2.5,
            d if d <= 40.0 => 3.15,
            d if d <= 80.0 => 4.0,
            d if d <= 180.0 => 6.3,
            _ => 10.0,
        }
    }
}

/// A hair of slack at the ends of lands, whose places are sums.
const EDGE_MM: f64 = 1e-6;

fn largest_at<'a>(spans: impl Iterator<Item = (f64, f64, &'a Land)>, s_mm: f64) -> Option<f64> {
    spans
        .filter(|(from, to, _)| (from - EDGE_MM..=to + EDGE_MM).contains(&s_mm))
        .map(|(from, _, land)| land.diameter_at_mm(s_mm - from))
        .reduce(f64::max)
}
