//! The features a shaft can have, by the names a turner uses, and what a new one looks like on a land. Sizes are common
//! practice, no source; every one is to be typed over.

use super::{Feature, FeatureKind, Shaft};

/// Every kind with usual sizes, in the order they are offered.
pub const FEATURES: &[(&str, FeatureKind)] = &[
    ("thread", FeatureKind::Thread { pitch_mm: 2.0 }),
    ("keyway", FeatureKind::Keyway { width_mm: 8.0, depth_mm: 4.0 }),
    ("flat", FeatureKind::Flat),
    ("spline", FeatureKind::Spline),
    ("weld", FeatureKind::Weld),
    ("cross hole", FeatureKind::CrossHole { diameter_mm: 6.0 }),
    ("groove", FeatureKind::Groove { depth_mm: 1.0 }),
    ("true spot", FeatureKind::TrueSpot),
];

impl FeatureKind {
    /// Its row in [`FEATURES`].
    #[must_use]
    pub fn index(self) -> usize {
        let same = std::mem::discriminant(&self);
        FEATURES.iter().position(|(_, known)| std::mem::discriminant(known) == same).unwrap_or(0)
    }

    /// What it is called.
    #[must_use]
    pub fn name(self) -> &'static str {
        FEATURES[self.index()].0
    }

    /// It cannot go on over a shoulder of the finished part.
    #[must_use]
    pub const fn needs_one_land(self) -> bool {
        !matches!(self, Self::Weld | Self::TrueSpot)
    }

    /// This kind in sizes that go with a diameter.
    #[must_use]
    pub fn for_diameter(self, diameter_mm: f64) -> Self {
        let whole_mm = |share: f64| (share * diameter_mm).round().max(1.0);
        match self {
            Self::Thread { .. } => Self::Thread { pitch_mm: if diameter_mm < 12.0 { 1.0 } else { 2.0 } },
            Self::Keyway { .. } => Self::Keyway { width_mm: whole_mm(0.25), depth_mm: whole_mm(0.125) },
            Self::CrossHole { .. } => Self::CrossHole { diameter_mm: whole_mm(0.15) },
            other => other,
        }
    }

    /// How long it is on work of this diameter; `None` for what covers its land.
    fn usual_length_mm(self, diameter_mm: f64) -> Option<f64> {
        match self {
            Self::Thread { .. } | Self::Spline => None,
            Self::Keyway { .. } => Some(1.2 * diameter_mm),
            Self::Flat => Some(diameter_mm),
            Self::CrossHole { diameter_mm } => Some(diameter_mm),
            Self::Groove { .. } => Some(3.0),
            Self::Weld => Some(10.0),
            Self::TrueSpot => Some(30.0),
        }
    }
}

impl Feature {
    /// A feature of this kind on a land of the finished part, about a place on it; `None` where there is no such land.
    #[must_use]
    pub fn usual_on(shaft: &Shaft, land: usize, kind: FeatureKind, about_s_mm: f64) -> Option<Self> {
        let (from_s_mm, to_s_mm, wanted) = shaft.wanted_spans().nth(land)?;
        let diameter_mm = wanted.land.diameter_at_mm(about_s_mm - from_s_mm);
        let kind = kind.for_diameter(diameter_mm);
        let Some(length_mm) = kind.usual_length_mm(diameter_mm) else {
            return Some(Self { kind, from_s_mm, to_s_mm });
        };
        let half_mm = 0.5 * length_mm.round().max(1.0).min(to_s_mm - from_s_mm);
        let middle_mm = about_s_mm.clamp(from_s_mm + half_mm, (to_s_mm - half_mm).max(from_s_mm + half_mm));
        Some(Self { kind, from_s_mm: middle_mm - half_mm, to_s_mm: middle_mm + half_mm })
    }
}
