//! At what stress the materials of the table yield: for marks under jaws only, never for the strength of a part.
//!
//! Bars of some 16 to 40 mm, the lower end of what is delivered; cast irons by their 0.1 % limit in compression.
//! Source: a table of steels after EN 10025 and EN 10083 on a teaching site for tribology (read), otherwise standards
//! and handbooks from memory. A heat of its own, cold drawing or hardening changes these more than any other figure.

use super::material::{Fact, MaterialChoice, Trust};

const TABLE: &str = "Table of steels after EN 10025 and EN 10083 on a teaching site for tribology";
const EN: &str = "EN standard for the material, lower limit";
const BOOKS: &str = "Materials handbooks";

const fn read(value: f64) -> Fact {
    Fact { value, source: TABLE, trust: Trust::Read }
}

const fn sure(value: f64) -> Fact {
    Fact { value, source: EN, trust: Trust::MemorySure }
}

const fn fair(value: f64) -> Fact {
    Fact { value, source: EN, trust: Trust::MemoryFair }
}

const fn weak(value: f64) -> Fact {
    Fact { value, source: BOOKS, trust: Trust::MemoryWeak }
}

/// Yield stress in MPa by the material's key.
const YIELD_MPA: [(&str, Fact); 36] = [
    ("C45", sure(305.0)),
    ("S235", read(225.0)),
    ("E295", read(285.0)),
    ("E335", read(325.0)),
    ("E360", read(355.0)),
    ("11SMn30", weak(250.0)),
    ("35S20", weak(270.0)),
    ("C45+QT", read(430.0)),
    ("C60", fair(340.0)),
    ("40Mn4", weak(540.0)),
    ("41Cr4", fair(660.0)),
    ("42CrMo4", weak(450.0)),
    ("42CrMo4+QT", fair(750.0)),
    ("16MnCr5", weak(300.0)),
    ("20MnCr5", weak(320.0)),
    ("18CrNi8", weak(330.0)),
    ("100Cr6", weak(350.0)),
    ("X210Cr12", weak(400.0)),
    ("55NiCrMoV6", weak(900.0)),
    ("hardened", weak(1500.0)),
    ("GE240", sure(240.0)),
    ("GE260", fair(260.0)),
    ("304", sure(190.0)),
    ("316", sure(200.0)),
    ("GJL-150", fair(195.0)),
    ("GJL-250", fair(325.0)),
    ("GJL-300", fair(390.0)),
    ("GJS-400", sure(250.0)),
    ("GJS-600", sure(370.0)),
    ("6061", sure(275.0)),
    ("6082", sure(250.0)),
    ("brass", weak(150.0)),
    ("CW614N", fair(200.0)),
    ("CuSn8", weak(280.0)),
    ("C93200", fair(125.0)),
    ("Ti-6Al-4V", sure(830.0)),
];

impl MaterialChoice {
    /// Yield stress of a material of the table; nothing for the user's own, whose figures do not hold it.
    #[must_use]
    pub fn yield_mpa(&self) -> Option<Fact> {
        let Self::Listed(key) = self else { return None };
        YIELD_MPA.iter().find(|(other, _)| other == key).map(|(_, fact)| *fact)
    }
}
