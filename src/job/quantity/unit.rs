//! The units that may be typed for each kind of number, with their exact factors to inside units.
//!
//! Source: the inch is 25.4 mm, the pound 0.453 592 37 kg and standard gravity 9.806 65 m/s2 by definition, so the
//! pound-force is 4.448 221 615 260 5 N exactly. A "thou" is 0.001 in and a "tenth" 0.0001 in (trade custom).

use super::rational::Rational;
use super::{Kind, Units};

/// How a number in a unit becomes one in inside units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Scale {
    Times(Rational),
    /// To radians.
    Degrees,
}

/// A unit a value is shown in.
#[derive(Clone, Copy, Debug)]
pub(super) struct DisplayUnit {
    pub name: &'static str,
    pub scale: Scale,
}

const LBF_NUM: u128 = 44_482_216_152_605;
const LBF_DEN: u128 = 10_000_000_000_000;

const MM: Rational = Rational::ONE;
const MICROMETRE: Rational = Rational::new(1, 1000);
const INCH: Rational = Rational::new(254, 10);
const FOOT: Rational = Rational::new(3048, 10);
const THOU: Rational = Rational::new(254, 10_000);
const TENTH: Rational = Rational::new(254, 100_000);
const NEWTON: Rational = Rational::ONE;
const LBF: Rational = Rational::new(LBF_NUM, LBF_DEN);
const N_PER_UM: Rational = Rational::new(1000, 1);
const LBF_PER_IN: Rational = Rational::new(LBF_NUM * 10, LBF_DEN * 254);
const LBF_PER_THOU: Rational = Rational::new(LBF_NUM * 10_000, LBF_DEN * 254);
const NM_PER_RAD: Rational = Rational::new(1000, 1);
const LBF_IN_PER_RAD: Rational = Rational::new(LBF_NUM * 254, LBF_DEN * 10);
const NEWTON_METRE: Rational = Rational::new(1000, 1);
const LBF_FT: Rational = Rational::new(LBF_NUM * 3048, LBF_DEN * 10);
/// 550 ft lbf/s, in kW.
const HORSEPOWER: Rational = Rational::new(LBF_NUM * 550 * 3048, LBF_DEN * 10_000_000);
const POUND: Rational = Rational::new(45_359_237, 100_000_000);
const FAHRENHEIT: Rational = Rational::new(5, 9);
const PERCENT: Rational = Rational::new(1, 100);
const FT_PER_MIN: Rational = Rational::new(3048, 600_000);
const PSI: Rational = Rational::new(LBF_NUM * 100, LBF_DEN * 64_516);

/// The unit a bare number of this kind is taken in.
pub(super) fn display_unit(kind: Kind, units: Units) -> DisplayUnit {
    let by = |name, factor| DisplayUnit { name, scale: Scale::Times(factor) };
    let metric = units == Units::Metric;
    match kind {
        Kind::Length | Kind::Diameter | Kind::Error => {
            if metric {
                by("mm", MM)
            } else {
                by("in", INCH)
            }
        }
        Kind::Force => {
            if metric {
                by("N", NEWTON)
            } else {
                by("lbf", LBF)
            }
        }
        Kind::Stiffness => {
            if metric {
                by("N/\u{b5}m", N_PER_UM)
            } else {
                by("lbf/thou", LBF_PER_THOU)
            }
        }
        Kind::RotationStiffness => {
            if metric {
                by("N\u{b7}m/rad", NM_PER_RAD)
            } else {
                by("lbf\u{b7}in/rad", LBF_IN_PER_RAD)
            }
        }
        Kind::Angle => DisplayUnit { name: "\u{b0}", scale: Scale::Degrees },
        Kind::Feed => {
            if metric {
                by("mm/rev", MM)
            } else {
                by("in/rev", INCH)
            }
        }
        Kind::SpindleSpeed => by("rpm", Rational::ONE),
        Kind::Power => {
            if metric {
                by("kW", Rational::ONE)
            } else {
                by("hp", HORSEPOWER)
            }
        }
        Kind::Mass => {
            if metric {
                by("kg", Rational::ONE)
            } else {
                by("lb", POUND)
            }
        }
        Kind::TemperatureRise => {
            if metric {
                by("K", Rational::ONE)
            } else {
                by("\u{b0}F", FAHRENHEIT)
            }
        }
        Kind::Ratio | Kind::Count => by("", Rational::ONE),
        Kind::Percent => by("%", PERCENT),
        Kind::SurfaceSpeed => {
            if metric {
                by("m/s", Rational::ONE)
            } else {
                by("ft/min", FT_PER_MIN)
            }
        }
        Kind::Torque => {
            if metric {
                by("N\u{b7}m", NEWTON_METRE)
            } else {
                by("lbf\u{b7}ft", LBF_FT)
            }
        }
        Kind::Pressure => {
            if metric {
                by("MPa", Rational::ONE)
            } else {
                by("psi", PSI)
            }
        }
    }
}

/// The unit typed behind a number. `typed` is in lower case without spaces, dots and hyphens.
pub(super) fn typed_unit(kind: Kind, typed: &str) -> Option<Scale> {
    if kind == Kind::Angle {
        return match typed {
            "\u{b0}" | "deg" | "degs" | "degree" | "degrees" => Some(Scale::Degrees),
            "rad" => Some(Scale::Times(Rational::ONE)),
            _ => None,
        };
    }
    let factor = match kind {
        Kind::Length | Kind::Diameter | Kind::Error => length_unit(typed),
        Kind::Feed => {
            let per_turn = ["/rev", "/r", "/u", "/turn", "perrev"].iter().find_map(|end| typed.strip_suffix(end));
            if typed == "ipr" { Some(INCH) } else { length_unit(per_turn.unwrap_or(typed)) }
        }
        Kind::Force => force_unit(typed),
        Kind::Stiffness => match typed {
            "n/mm" => Some(NEWTON),
            "n/um" | "n/micron" | "kn/mm" | "mn/m" => Some(N_PER_UM),
            "lbf/in" | "lb/in" | "lbs/in" | "lbf/inch" | "lb/inch" => Some(LBF_PER_IN),
            "lbf/thou" | "lb/thou" | "lbs/thou" | "lbf/mil" | "lb/mil" => Some(LBF_PER_THOU),
            _ => None,
        },
        Kind::RotationStiffness => match typed {
            "nmm/rad" => Some(NEWTON),
            "nm/rad" => Some(NM_PER_RAD),
            "knm/rad" => Some(Rational::new(1_000_000, 1)),
            "lbfin/rad" | "inlbf/rad" | "lbin/rad" | "inlb/rad" => Some(LBF_IN_PER_RAD),
            "lbfft/rad" | "ftlbf/rad" | "lbft/rad" | "ftlb/rad" => Some(LBF_FT),
            _ => None,
        },
        Kind::SpindleSpeed => {
            matches!(typed, "rpm" | "r/min" | "rev/min" | "u/min" | "1/min" | "/min" | "min1").then_some(Rational::ONE)
        }
        Kind::Power => match typed {
            "kw" => Some(Rational::ONE),
            "w" => Some(Rational::new(1, 1000)),
            "hp" => Some(HORSEPOWER),
            _ => None,
        },
        Kind::Mass => match typed {
            "kg" => Some(Rational::ONE),
            "g" => Some(Rational::new(1, 1000)),
            "t" => Some(Rational::new(1000, 1)),
            "lb" | "lbs" | "lbm" => Some(POUND),
            "oz" => Some(Rational::new(45_359_237, 1_600_000_000)),
            _ => None,
        },
        Kind::TemperatureRise => match typed {
            "k" | "c" | "\u{b0}c" | "degc" => Some(Rational::ONE),
            "f" | "\u{b0}f" | "degf" => Some(FAHRENHEIT),
            _ => None,
        },
        Kind::Pressure => match typed {
            "mpa" | "n/mm2" | "n/mm\u{b2}" => Some(Rational::ONE),
            "gpa" | "kn/mm2" | "kn/mm\u{b2}" => Some(Rational::new(1000, 1)),
            "kpa" => Some(Rational::new(1, 1000)),
            "bar" => Some(Rational::new(1, 10)),
            "psi" | "lbf/in2" | "lbf/in\u{b2}" => Some(PSI),
            "ksi" => Some(Rational::new(LBF_NUM * 100_000, LBF_DEN * 64_516)),
            _ => None,
        },
        Kind::Torque => match typed {
            "nmm" => Some(NEWTON),
            "nm" => Some(NEWTON_METRE),
            "lbfin" | "inlbf" | "lbin" | "inlb" => Some(LBF_IN_PER_RAD),
            "lbfft" | "ftlbf" | "lbft" | "ftlb" => Some(LBF_FT),
            _ => None,
        },
        Kind::SurfaceSpeed => match typed {
            "m/s" => Some(Rational::ONE),
            "m/min" => Some(Rational::new(1, 60)),
            "ft/min" | "sfm" | "fpm" => Some(FT_PER_MIN),
            _ => None,
        },
        Kind::Ratio | Kind::Percent => match typed {
            "%" | "percent" => Some(PERCENT),
            _ => None,
        },
        Kind::Angle | Kind::Count => None,
    };
    factor.map(Scale::Times)
}

/// A typed unit of length, in mm.
pub(super) fn length_unit(typed: &str) -> Option<Rational> {
    Some(match typed {
        "mm" => MM,
        "cm" => Rational::new(10, 1),
        "m" => Rational::new(1000, 1),
        "um" | "u" | "micron" | "microns" => MICROMETRE,
        "\"" | "in" | "ins" | "inch" | "inches" => INCH,
        "'" | "ft" | "foot" | "feet" => FOOT,
        "thou" | "thous" | "mil" | "mils" | "thousandth" | "thousandths" => THOU,
        "tenth" | "tenths" => TENTH,
        _ => return None,
    })
}

fn force_unit(typed: &str) -> Option<Rational> {
    Some(match typed {
        "n" => NEWTON,
        "dan" => Rational::new(10, 1),
        "kn" => Rational::new(1000, 1),
        "lbf" | "lb" | "lbs" => LBF,
        "ozf" => Rational::new(LBF_NUM, LBF_DEN * 16),
        "kgf" | "kp" => Rational::new(980_665, 100_000),
        _ => return None,
    })
}
