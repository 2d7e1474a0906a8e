//! The table of materials: figures of the bar, then its resistance to the cut.
//!
//! Two families of cutting constants do not agree by some 20 %: Kienzle's main values (`kc11_mpa`, `mc`) are used for
//! the main force, and the three-component constants of Koenig and Essel (1973) only for the ratio of thrust to main
//! force. Where the latter are not known the shop rule 0.50 and 0.25 of the main force stands in: 0.56 together.

use super::material::{Fact, Material, MaterialChoice, Thrust, Trust};

/// One row: a [`Material`] that can stand in a constant.
#[derive(Clone, Debug)]
pub struct Listed {
    pub key: &'static str,
    pub name: &'static str,
    pub e_mpa: Fact,
    pub poisson_ratio: Fact,
    pub density_kg_per_m3: Fact,
    pub growth_per_k: Fact,
    pub kc11_mpa: Fact,
    pub mc: Fact,
    pub thrust: Thrust,
    pub reference_rake_rad: f64,
}

impl Listed {
    /// The row as a [`Material`].
    #[must_use]
    pub fn to_material(&self) -> Material {
        Material {
            key: self.key.to_owned(),
            name: self.name.to_owned(),
            e_mpa: self.e_mpa,
            poisson_ratio: self.poisson_ratio,
            density_kg_per_m3: self.density_kg_per_m3,
            growth_per_k: self.growth_per_k,
            kc11_mpa: self.kc11_mpa,
            mc: self.mc,
            thrust: self.thrust,
            reference_rake_rad: self.reference_rake_rad,
        }
    }
}

impl MaterialChoice {
    /// The figures; an unknown key gets those of the first material of the table.
    #[must_use]
    pub fn resolve(&self) -> Material {
        match self {
            Self::Listed(key) => {
                MATERIALS.iter().find(|entry| entry.key == *key).unwrap_or(&MATERIALS[0]).to_material()
            }
            Self::Own(own) => own.to_material(),
        }
    }
}

/// Stiffness, weight and growth of a class of material.
struct Body {
    e_mpa: Fact,
    poisson_ratio: Fact,
    density_kg_per_m3: Fact,
    growth_per_k: Fact,
}

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

const HIBBELER: &str = "Table of material properties in a mechanics text (Hibbeler type)";
const CALLISTER: &str = "Callister, Materials Science and Engineering, appendix B";
const GERE: &str = "Gere, Mechanics of Materials, 5th ed., property tables";
const EN_DATA: &str = "EN material data";
const STEEL_TABLES: &str = "General steel tables";
const KIENZLE: &str = "Kienzle and Victor 1957, main values as reprinted in an encyclopaedia";
const KIENZLE_CHECKED: &str = "Kienzle and Victor 1957 after Paucksch, confirmed by a printed table of kc against feed";
const CHUCK_TABLE: &str = "Table of kc against feed in a technical manual on chucks, fitted";
const PAUCKSCH: &str = "Paucksch, Zerspantechnik";
const TRADE: &str = "Trade tables of specific cutting force";
const KOENIG: &str = "Koenig and Essel, Spezifische Schnittkraftwerte, 1973";
const C45_ROW: &str = "Row shared with E335 and C60 in a printed table of kc against feed; pairing inferred";
const MEASURED_TI: &str = "Trade tables of specific cutting force, about as fitted by Klippel et al. 2024";

const STRUCTURAL: Body = Body {
    e_mpa: read(200_000.0, HIBBELER),
    poisson_ratio: read(0.32, HIBBELER),
    density_kg_per_m3: read(7850.0, HIBBELER),
    growth_per_k: read(12e-6, HIBBELER),
};
const FREE_CUTTING: Body = Body {
    e_mpa: fair(205_000.0, STEEL_TABLES),
    poisson_ratio: fair(0.29, STEEL_TABLES),
    density_kg_per_m3: fair(7850.0, STEEL_TABLES),
    growth_per_k: fair(11.75e-6, STEEL_TABLES),
};
const CARBON: Body = Body {
    e_mpa: sure(207_000.0, CALLISTER),
    poisson_ratio: sure(0.30, CALLISTER),
    density_kg_per_m3: read(7850.0, CALLISTER),
    growth_per_k: sure(11.3e-6, CALLISTER),
};
const CHROME_MOLY: Body = Body {
    e_mpa: sure(207_000.0, CALLISTER),
    poisson_ratio: sure(0.30, CALLISTER),
    density_kg_per_m3: read(7850.0, CALLISTER),
    growth_per_k: sure(12.3e-6, CALLISTER),
};
const CASE_HARDENING: Body = Body {
    e_mpa: fair(210_000.0, EN_DATA),
    poisson_ratio: fair(0.30, EN_DATA),
    density_kg_per_m3: fair(7850.0, EN_DATA),
    growth_per_k: fair(11.5e-6, EN_DATA),
};
const TOOL_STEEL: Body = Body {
    e_mpa: read(200_000.0, HIBBELER),
    poisson_ratio: read(0.32, HIBBELER),
    density_kg_per_m3: sure(7800.0, STEEL_TABLES),
    growth_per_k: read(12e-6, HIBBELER),
};
const STAINLESS_304: Body = Body {
    e_mpa: read(193_000.0, HIBBELER),
    poisson_ratio: read(0.27, HIBBELER),
    density_kg_per_m3: read(7860.0, HIBBELER),
    growth_per_k: read(17e-6, HIBBELER),
};
const STAINLESS_316: Body = Body {
    e_mpa: sure(193_000.0, CALLISTER),
    poisson_ratio: sure(0.30, CALLISTER),
    density_kg_per_m3: read(8000.0, CALLISTER),
    growth_per_k: sure(15.9e-6, CALLISTER),
};
const GREY_IRON_SOFT: Body = Body {
    e_mpa: read(67_000.0, HIBBELER),
    poisson_ratio: read(0.28, HIBBELER),
    density_kg_per_m3: read(7190.0, HIBBELER),
    growth_per_k: read(12e-6, HIBBELER),
};
const GREY_IRON: Body = Body {
    e_mpa: sure(110_000.0, "EN 1561, annex; falls with stress"),
    poisson_ratio: sure(0.26, "EN 1561, annex"),
    density_kg_per_m3: sure(7200.0, "EN 1561, annex"),
    growth_per_k: sure(11e-6, "EN 1561, annex"),
};
const DUCTILE_IRON: Body = Body {
    e_mpa: sure(169_000.0, "EN 1563, annex"),
    poisson_ratio: sure(0.275, "EN 1563, annex"),
    density_kg_per_m3: read(7100.0, CALLISTER),
    growth_per_k: sure(12e-6, "EN 1563, annex"),
};
const ALUMINIUM_6061: Body = Body {
    e_mpa: read(68_900.0, HIBBELER),
    poisson_ratio: read(0.35, HIBBELER),
    density_kg_per_m3: read(2710.0, HIBBELER),
    growth_per_k: read(24e-6, HIBBELER),
};
const ALUMINIUM_6082: Body = Body {
    e_mpa: sure(70_000.0, EN_DATA),
    poisson_ratio: sure(0.33, EN_DATA),
    density_kg_per_m3: sure(2700.0, EN_DATA),
    growth_per_k: sure(23.4e-6, EN_DATA),
};
const BRASS: Body = Body {
    e_mpa: read(103_000.0, GERE),
    poisson_ratio: read(0.34, GERE),
    density_kg_per_m3: read(8500.0, GERE),
    growth_per_k: read(20e-6, GERE),
};
const FREE_BRASS: Body = Body {
    e_mpa: sure(97_000.0, CALLISTER),
    poisson_ratio: sure(0.34, CALLISTER),
    density_kg_per_m3: read(8500.0, CALLISTER),
    growth_per_k: sure(20.5e-6, CALLISTER),
};
const TIN_BRONZE: Body = Body {
    e_mpa: fair(112_000.0, EN_DATA),
    poisson_ratio: fair(0.34, EN_DATA),
    density_kg_per_m3: fair(8800.0, EN_DATA),
    growth_per_k: fair(18.2e-6, EN_DATA),
};
const BEARING_BRONZE: Body = Body {
    e_mpa: sure(100_000.0, "Copper development data"),
    poisson_ratio: sure(0.34, "Copper development data"),
    density_kg_per_m3: sure(8930.0, "Copper development data"),
    growth_per_k: sure(18e-6, "Copper development data"),
};
const TITANIUM: Body = Body {
    e_mpa: read(120_000.0, HIBBELER),
    poisson_ratio: read(0.36, HIBBELER),
    density_kg_per_m3: read(4430.0, HIBBELER),
    growth_per_k: read(9.4e-6, HIBBELER),
};

/// Thrust 0.50 along the feed and 0.25 across it, of the main force: together the root of the sum of squares.
const SHOP_RULE: Thrust =
    Thrust::Ratio(read(0.56, "Isakov, Calculated forces when turning, 2013: rough rule of thumb"));

/// Constants of the three components, in the order of their source.
const fn components(kc11: f64, one_mc: f64, kf11: f64, one_mf: f64, kp11: f64, one_mp: f64) -> Thrust {
    Thrust::ThreeComponent {
        kc11_mpa: kc11,
        one_minus_mc: one_mc,
        kf11_mpa: kf11,
        one_minus_mf: one_mf,
        kp11_mpa: kp11,
        one_minus_mp: one_mp,
        source: KOENIG,
        trust: Trust::MemoryFair,
    }
}

/// A steel or non-ferrous row: reference rake 6 degrees.
const fn row(key: &'static str, name: &'static str, body: Body, kc11_mpa: Fact, mc: Fact, thrust: Thrust) -> Listed {
    Listed {
        key,
        name,
        e_mpa: body.e_mpa,
        poisson_ratio: body.poisson_ratio,
        density_kg_per_m3: body.density_kg_per_m3,
        growth_per_k: body.growth_per_k,
        kc11_mpa,
        mc,
        thrust,
        reference_rake_rad: 6.0 * std::f64::consts::PI / 180.0,
    }
}

/// A cast-iron row: reference rake 2 degrees.
const fn iron(key: &'static str, name: &'static str, body: Body, kc11_mpa: Fact, mc: Fact, thrust: Thrust) -> Listed {
    Listed { reference_rake_rad: 2.0 * std::f64::consts::PI / 180.0, ..row(key, name, body, kc11_mpa, mc, thrust) }
}

/// All materials the program knows; the first is the one a new job starts with.
pub const MATERIALS: &[Listed] = &[
    row(
        "C45",
        "C45 / 1045, normalised",
        CARBON,
        fair(2100.0, C45_ROW),
        fair(0.17, C45_ROW),
        components(1659.0, 0.79, 521.0, 0.51, 309.0, 0.60),
    ),
    row("S235", "S235 / S275, mild steel", STRUCTURAL, read(1780.0, KIENZLE), read(0.17, KIENZLE), SHOP_RULE),
    row(
        "E295",
        "E295 structural steel",
        STRUCTURAL,
        sure(1990.0, KIENZLE_CHECKED),
        sure(0.26, KIENZLE_CHECKED),
        components(1499.0, 0.71, 351.0, 0.30, 274.0, 0.51),
    ),
    row("E335", "E335 structural steel", STRUCTURAL, read(2110.0, KIENZLE), read(0.17, KIENZLE), SHOP_RULE),
    row(
        "E360",
        "E360 structural steel",
        STRUCTURAL,
        sure(2260.0, KIENZLE_CHECKED),
        sure(0.30, KIENZLE_CHECKED),
        components(1595.0, 0.68, 228.0, -0.07, 152.0, 0.10),
    ),
    row("11SMn30", "11SMn30, free-cutting", FREE_CUTTING, fair(1310.0, PAUCKSCH), fair(0.18, PAUCKSCH), SHOP_RULE),
    row("35S20", "35S20, free-cutting", FREE_CUTTING, fair(1420.0, PAUCKSCH), fair(0.17, PAUCKSCH), SHOP_RULE),
    row(
        "C45+QT",
        "C45E / 1045, tempered",
        CARBON,
        fair(1584.0, KOENIG),
        fair(0.26, KOENIG),
        components(1584.0, 0.74, 364.0, 0.27, 282.0, 0.57),
    ),
    row("C60", "C60 / 1060", CARBON, fair(2130.0, PAUCKSCH), fair(0.18, PAUCKSCH), SHOP_RULE),
    row(
        "40Mn4",
        "40Mn4, tempered",
        CARBON,
        fair(1691.0, KOENIG),
        fair(0.22, KOENIG),
        components(1691.0, 0.78, 350.0, 0.31, 244.0, 0.55),
    ),
    row(
        "41Cr4",
        "41Cr4 / 5140, tempered",
        CHROME_MOLY,
        fair(1596.0, KOENIG),
        fair(0.23, KOENIG),
        components(1596.0, 0.77, 291.0, 0.27, 215.0, 0.52),
    ),
    row(
        "42CrMo4",
        "42CrMo4 / 4140, annealed or lightly tempered",
        CHROME_MOLY,
        read(2500.0, KIENZLE),
        read(0.26, KIENZLE),
        SHOP_RULE,
    ),
    row(
        "42CrMo4+QT",
        "42CrMo4 / 4140, pre-hardened",
        CHROME_MOLY,
        read(2375.0, CHUCK_TABLE),
        read(0.20, CHUCK_TABLE),
        components(1773.0, 0.83, 354.0, 0.43, 252.0, 0.49),
    ),
    row(
        "16MnCr5",
        "16MnCr5, case-hardening, not hardened",
        CASE_HARDENING,
        read(2100.0, KIENZLE),
        read(0.26, KIENZLE),
        components(1411.0, 0.70, 406.0, 0.37, 312.0, 0.50),
    ),
    row(
        "20MnCr5",
        "20MnCr5, case-hardening, not hardened",
        CASE_HARDENING,
        fair(1464.0, KOENIG),
        fair(0.26, KOENIG),
        components(1464.0, 0.74, 356.0, 0.24, 300.0, 0.58),
    ),
    row(
        "18CrNi8",
        "18CrNi8, annealed",
        CASE_HARDENING,
        sure(2260.0, KIENZLE_CHECKED),
        sure(0.30, KIENZLE_CHECKED),
        components(1446.0, 0.73, 351.0, 0.27, 257.0, 0.47),
    ),
    row(
        "100Cr6",
        "100Cr6 / 52100, annealed",
        CHROME_MOLY,
        fair(1726.0, KOENIG),
        fair(0.28, KOENIG),
        components(1726.0, 0.72, 318.0, 0.14, 362.0, 0.47),
    ),
    row(
        "X210Cr12",
        "X210Cr12 tool steel, annealed",
        TOOL_STEEL,
        fair(1820.0, PAUCKSCH),
        fair(0.26, PAUCKSCH),
        SHOP_RULE,
    ),
    row(
        "55NiCrMoV6",
        "55NiCrMoV6 tool steel, tempered",
        TOOL_STEEL,
        fair(1740.0, PAUCKSCH),
        fair(0.24, PAUCKSCH),
        components(1595.0, 0.71, 269.0, 0.21, 198.0, 0.34),
    ),
    row("hardened", "Hardened steel, about 50 HRC", TOOL_STEEL, weak(3050.0, TRADE), weak(0.25, TRADE), SHOP_RULE),
    row("GE240", "GE240 cast steel", STRUCTURAL, sure(1600.0, KIENZLE_CHECKED), sure(0.17, KIENZLE_CHECKED), SHOP_RULE),
    row("GE260", "GE260 cast steel", STRUCTURAL, sure(1780.0, KIENZLE_CHECKED), sure(0.17, KIENZLE_CHECKED), SHOP_RULE),
    row("304", "X5CrNi18-10 / 304 stainless", STAINLESS_304, fair(2350.0, TRADE), fair(0.21, TRADE), SHOP_RULE),
    row("316", "X6CrNiMoTi17-12-2 / 316 stainless", STAINLESS_316, weak(2400.0, TRADE), weak(0.21, TRADE), SHOP_RULE),
    iron(
        "GJL-150",
        "EN-GJL-150 grey iron",
        GREY_IRON_SOFT,
        sure(950.0, KIENZLE_CHECKED),
        sure(0.21, KIENZLE_CHECKED),
        SHOP_RULE,
    ),
    iron(
        "GJL-250",
        "EN-GJL-250 grey iron",
        GREY_IRON,
        sure(1160.0, KIENZLE_CHECKED),
        sure(0.26, KIENZLE_CHECKED),
        SHOP_RULE,
    ),
    iron(
        "GJL-300",
        "EN-GJL-300 grey iron",
        GREY_IRON,
        fair(899.0, KOENIG),
        fair(0.41, KOENIG),
        components(899.0, 0.59, 170.0, 0.09, 164.0, 0.30),
    ),
    iron("GJS-400", "EN-GJS-400 ductile iron", DUCTILE_IRON, weak(1005.0, TRADE), weak(0.25, TRADE), SHOP_RULE),
    iron("GJS-600", "EN-GJS-600 ductile iron", DUCTILE_IRON, weak(1480.0, TRADE), weak(0.17, TRADE), SHOP_RULE),
    row("6061", "Aluminium 6061-T6", ALUMINIUM_6061, fair(830.0, TRADE), fair(0.23, TRADE), SHOP_RULE),
    row("6082", "Aluminium 6082-T6", ALUMINIUM_6082, fair(830.0, TRADE), fair(0.23, TRADE), SHOP_RULE),
    row("brass", "Brass", BRASS, read(780.0, KIENZLE), read(0.18, KIENZLE), SHOP_RULE),
    row(
        "CW614N",
        "CuZn39Pb3 / C36000 free-cutting brass",
        FREE_BRASS,
        fair(665.0, TRADE),
        fair(0.18, TRADE),
        SHOP_RULE,
    ),
    row("CuSn8", "CuSn8 / CW453K bronze", TIN_BRONZE, weak(1780.0, PAUCKSCH), weak(0.17, PAUCKSCH), SHOP_RULE),
    row(
        "C93200",
        "C93200 / SAE 660 bearing bronze",
        BEARING_BRONZE,
        fair(640.0, PAUCKSCH),
        fair(0.25, PAUCKSCH),
        SHOP_RULE,
    ),
    row("Ti-6Al-4V", "Titanium Ti-6Al-4V", TITANIUM, fair(1370.0, MEASURED_TI), fair(0.22, MEASURED_TI), SHOP_RULE),
];
