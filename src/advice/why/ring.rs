//! Why a thin tube goes in under jaws: the ring it is taken for, step by step.

use std::f64::consts::PI;

use super::sum::{Sum, number};
use super::{Sketch, Why};
use crate::advice::words;
use crate::job::Units;
use crate::mechanics::ring::{Load, Ring};

pub const SOURCE: &str = "thin rings: Timoshenko, Strength of Materials II; Roark, Formulas for Stress and Strain; checked \
                          against the energy of the ring";
pub const TRUST: &str = "from memory, and checked; an upper bound, since the tube beside the jaws holds the ring";

/// How stiff the wall is, as a step.
pub fn section(ring: &Ring) -> Sum {
    let numbers = format!("{} \u{d7} {}^3 \u{f7} 12", number(ring.width_mm), number(ring.wall_mm));
    let words = "how stiff its wall is: length along the work \u{d7} wall\u{b3} \u{f7} 12";
    Sum::step("section", words, numbers, ring.i_mm4(), "mm\u{2074}")
}

/// How far the wall goes in under the jaw at `at_rad`, under all of them.
pub fn going_in(ring: &Ring, loads: &[Load], at_rad: f64, units: Units) -> Why {
    let mut why = Why::new(
        "How far the wall of a ring as long as the jaw is wide goes in under this jaw, pressed by all jaws of the rest.",
        SOURCE,
        TRUST,
    )
    .with(section(ring));
    let alone = |load: &Load| ring.in_mm(&[Load { force_n: 1.0, ..*load }], at_rad);
    let mut parts = Vec::new();
    for load in loads.iter().filter(|load| load.force_n > 0.0) {
        let degrees = (at_rad - load.angle_rad).to_degrees().rem_euclid(360.0);
        let degrees = format!("{degrees:.7}").trim_end_matches('0').trim_end_matches('.').to_owned();
        let (sine, cosine) = (format!("sin({degrees})"), format!("cos({degrees})"));
        let angle = format!("(\u{3c0} \u{d7} {degrees} \u{f7} 180)");
        let wave = alone(load) * PI * ring.e_mpa * ring.i_mm4() / ring.mean_radius_mm.powi(3);
        let gives = if degrees == "0" { "by this jaw" } else { "by another" };
        why = why.with(Sum::step(
            gives,
            "sum of all waves of a ring, a the angle from the force: (2 \u{d7} cos a \u{d7} (\u{3c0}\u{b2} \u{f7} 6 \u{2212} \u{3c0} \u{d7} a \u{f7} 2 + a\u{b2} \u{f7} 4) \
             \u{2212} 2 \u{2212} 0.75 \u{d7} cos a + (\u{3c0} \u{2212} a) \u{d7} sin a) \u{f7} 4",
            format!(
                "(2 \u{d7} {cosine} \u{d7} (\u{3c0}^2 \u{f7} 6 \u{2212} \u{3c0} \u{d7} {angle} \u{f7} 2 + {angle}^2 \u{f7} 4) \u{2212} 2 \u{2212} 0.75 \u{d7} {cosine} \
                 + (\u{3c0} \u{2212} {angle}) \u{d7} {sine}) \u{f7} 4"
            ),
            wave,
            "",
        ));
        parts.push(format!("{} \u{d7} {}", number(load.force_n), number(wave)));
    }
    let numbers = format!(
        "{}^3 \u{f7} (\u{3c0} \u{d7} {} \u{d7} {}) \u{d7} ({})",
        number(ring.mean_radius_mm),
        number(ring.e_mpa),
        number(ring.i_mm4()),
        parts.join(" + ")
    );
    why.with(Sum::figure(
        "wall goes in",
        "mean radius\u{b3} \u{f7} (\u{3c0} \u{d7} stiffness of the material \u{d7} section) \u{d7} (force of each jaw \u{d7} its share, together)",
        numbers,
        words::amount(ring.in_mm(loads, at_rad), units),
    ))
    .drawn(ring_sketch(ring, loads.to_vec()))
}

/// Its picture.
pub fn ring_sketch(ring: &Ring, loads: Vec<Load>) -> Sketch {
    Sketch::Ring { ring: *ring, loads }
}
