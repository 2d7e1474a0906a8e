//! What the tips of jaws are made of: stiffness, friction, strength, and the pressure times speed they are listed for.
//!
//! One grade stands for each kind: leaded tin bronze, free-cutting brass, grey iron, a nylon-like plastic, and a roller
//! of hardened steel. Pressure times speed counts for a pad that is oiled and worn to fit; half of the listed figure is
//! the one to work with (Mott, from memory). Friction is that of an oiled tip; dry it is a few times more.

use super::material::{Fact, Trust};
use super::setup::TipKind;

/// The figures of one kind of tip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TipFigures {
    pub e_mpa: Fact,
    pub poisson_ratio: Fact,
    /// Friction against pressing force; for a roller what its bearing and its rolling cost.
    pub friction_ratio: Fact,
    /// Pressure times rubbing speed it is listed for; nothing for a roller, and where no figure was found.
    pub listed_pv_mpa_m_per_s: Option<Fact>,
    pub yield_mpa: Fact,
}

/// The share of the listed figure to work with. Source: Mott, Machine Elements in Mechanical Design, from memory (fair).
pub const DESIGN_PV_RATIO: f64 = 0.5;

const MOTT: &str = "Mott, Machine Elements in Mechanical Design, table 16-1, boundary lubrication";
const CDA: &str = "Copper alloy data sheets";
const OILED: &str = "General figures for boundary lubrication, bronze 0.08 to 0.12, others a little more";
const STAND_IN: &str = "None found for brass; the lowest printed for a bronze (porous, 1.75; Mott) stands in";

const fn read(value: f64, source: &'static str) -> Fact {
    Fact { value, source, trust: Trust::Read }
}

const fn sure(value: f64, source: &'static str) -> Fact {
    Fact { value, source, trust: Trust::MemorySure }
}

const fn fair(value: f64, source: &'static str) -> Fact {
    Fact { value, source, trust: Trust::MemoryFair }
}

const fn weak(value: f64, source: &'static str) -> Fact {
    Fact { value, source, trust: Trust::MemoryWeak }
}

/// Leaded tin bronze C93200, SAE 660.
const BRONZE: TipFigures = TipFigures {
    e_mpa: sure(100_000.0, CDA),
    poisson_ratio: sure(0.34, CDA),
    friction_ratio: fair(0.10, OILED),
    listed_pv_mpa_m_per_s: Some(read(2.625, MOTT)),
    yield_mpa: fair(125.0, CDA),
};

/// Free-cutting brass C36000, half hard.
const BRASS: TipFigures = TipFigures {
    e_mpa: sure(97_000.0, CDA),
    poisson_ratio: sure(0.34, CDA),
    friction_ratio: weak(0.15, OILED),
    listed_pv_mpa_m_per_s: Some(weak(1.75, STAND_IN)),
    yield_mpa: fair(310.0, CDA),
};

/// Grey iron EN-GJL-250.
const CAST_IRON: TipFigures = TipFigures {
    e_mpa: sure(110_000.0, "EN 1561, annex"),
    poisson_ratio: sure(0.26, "EN 1561, annex"),
    friction_ratio: weak(0.15, OILED),
    listed_pv_mpa_m_per_s: None,
    yield_mpa: fair(325.0, "EN 1561, annex: 0.1 % in compression"),
};

/// A nylon-like plastic without filler.
const PLASTIC: TipFigures = TipFigures {
    e_mpa: fair(3_000.0, "General tables of plastics"),
    poisson_ratio: fair(0.40, "General tables of plastics"),
    friction_ratio: fair(0.25, "Neale, The Tribology Handbook, prints 0.15 to 0.40 for thermoplastics; the middle"),
    listed_pv_mpa_m_per_s: Some(read(0.105, "Mott, table 16-1, nylon, dry")),
    yield_mpa: weak(60.0, "General tables of plastics"),
};

/// Hardened bearing steel, running on needles or balls.
const ROLLER: TipFigures = TipFigures {
    e_mpa: sure(210_000.0, "EN steel data"),
    poisson_ratio: sure(0.30, "EN steel data"),
    friction_ratio: fair(
        0.003,
        "Rolling-bearing handbooks, 0.0015 to 0.005 for the bearing, and something for the rolling",
    ),
    listed_pv_mpa_m_per_s: None,
    yield_mpa: weak(1800.0, "Bearing steel of about 60 HRC"),
};

impl TipKind {
    /// The figures of this kind of tip.
    #[must_use]
    pub const fn figures(self) -> &'static TipFigures {
        match self {
            Self::Bronze => &BRONZE,
            Self::Brass => &BRASS,
            Self::CastIron => &CAST_IRON,
            Self::Plastic => &PLASTIC,
            Self::Roller => &ROLLER,
        }
    }

    /// Friction of an oiled tip against the force that presses it.
    #[must_use]
    pub fn friction_ratio(self) -> f64 {
        self.figures().friction_ratio.value
    }

    /// Pressure times speed to work with (MPa m/s): [`DESIGN_PV_RATIO`] of what the material is listed for.
    #[must_use]
    pub fn design_pv_mpa_m_per_s(self) -> Option<f64> {
        Some(DESIGN_PV_RATIO * self.figures().listed_pv_mpa_m_per_s?.value)
    }
}
