//! The data behind jaw contact: what tips are made of, and at what stress the work yields.

use midspan::job::material::Trust;
use midspan::job::materials::MATERIALS;
use midspan::job::{MaterialChoice, TipKind};

use crate::close::close;

const TIPS: [TipKind; 5] = [TipKind::Bronze, TipKind::Brass, TipKind::CastIron, TipKind::Plastic, TipKind::Roller];

/// Source: Mott, Machine Elements in Mechanical Design, table 16-1 (read): leaded tin bronze 2.625, nylon 0.105 MPa m/s;
/// half of it to work with (same book, from memory).
#[test]
fn listed_pressure_times_speed_is_what_was_read() {
    close(TipKind::Bronze.design_pv_mpa_m_per_s().expect("listed"), 1.3125, 1e-12, 0.0);
    close(TipKind::Plastic.design_pv_mpa_m_per_s().expect("listed"), 0.0525, 1e-12, 0.0);
    for kind in [TipKind::Bronze, TipKind::Plastic] {
        assert_eq!(kind.figures().listed_pv_mpa_m_per_s.expect("listed").trust, Trust::Read);
    }
    // A stand-in is marked as weak, and what was not found is not made up; a roller does not rub.
    assert_eq!(TipKind::Brass.figures().listed_pv_mpa_m_per_s.expect("a stand-in").trust, Trust::MemoryWeak);
    assert_eq!(TipKind::CastIron.design_pv_mpa_m_per_s(), None);
    assert_eq!(TipKind::Roller.design_pv_mpa_m_per_s(), None);
}

/// Source: bronze on steel with boundary oil 0.08 to 0.12 (general, from memory); thermoplastics 0.15 to 0.40 (Neale, The
/// Tribology Handbook, p. 31, read); rolling bearings some thousandths (from memory).
#[test]
fn friction_lies_within_the_figures_known() {
    assert!((0.08..=0.12).contains(&TipKind::Bronze.friction_ratio()));
    assert!((0.15..=0.40).contains(&TipKind::Plastic.friction_ratio()));
    assert!((0.001..=0.01).contains(&TipKind::Roller.friction_ratio()));
    for kind in TIPS {
        let figures = kind.figures();
        assert!(figures.friction_ratio.value >= TipKind::Roller.friction_ratio());
        for fact in [figures.e_mpa, figures.poisson_ratio, figures.friction_ratio, figures.yield_mpa] {
            assert!(fact.value > 0.0 && !fact.source.is_empty());
            assert_ne!(fact.trust, Trust::Own);
        }
    }
}

/// Source: a table of steels after EN 10025 and EN 10083 (read): E295 285, E335 325, E360 355, S235 225 and C45 quenched
/// and tempered 430 MPa between 16 and 40 mm.
#[test]
fn every_material_of_the_table_has_a_yield_stress() {
    let of = |key: &str| MaterialChoice::Listed(key.to_owned()).yield_mpa();
    for material in MATERIALS {
        let yields = of(material.key).unwrap_or_else(|| panic!("no yield stress of {}", material.key));
        assert!((100.0..2000.0).contains(&yields.value), "{}: {}", material.key, yields.value);
    }
    for (key, yield_mpa) in [("E295", 285.0), ("E335", 325.0), ("E360", 355.0), ("S235", 225.0), ("C45+QT", 430.0)] {
        let found = of(key).expect("in the table");
        assert_eq!((found.value, found.trust), (yield_mpa, Trust::Read));
    }
    assert_eq!(of("no such material"), None);
}
