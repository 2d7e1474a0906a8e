//! The parser and the formatter, against what a machinist types and reads.

use midspan::job::quantity::{Kind, Units, parse, parse_entry, show, show_for_entry, show_signed, unit_name};
use proptest::prelude::*;

use crate::close::close;

const KINDS: [Kind; 17] = [
    Kind::Length,
    Kind::Diameter,
    Kind::Error,
    Kind::Force,
    Kind::Stiffness,
    Kind::RotationStiffness,
    Kind::Angle,
    Kind::Feed,
    Kind::SpindleSpeed,
    Kind::Power,
    Kind::Mass,
    Kind::TemperatureRise,
    Kind::Ratio,
    Kind::Percent,
    Kind::Pressure,
    Kind::SurfaceSpeed,
    Kind::Torque,
];

#[track_caller]
fn reads(text: &str, kind: Kind, units: Units, expected: f64) {
    assert_eq!(parse(text, kind, units), Ok(expected), "{text:?} as {kind:?} in {units:?}");
}

#[track_caller]
fn refused(text: &str, kind: Kind, units: Units, snippet: &str) {
    let error = parse(text, kind, units).expect_err(text);
    assert!(error.0.contains(snippet), "{text:?}: {:?} does not say {snippet:?}", error.0);
}

/// Source: the inch is 25.4 mm by definition, so 1-3/8 in is 34.925 mm exactly.
#[test]
fn one_and_three_eighths_is_the_same_size_however_it_is_typed() {
    for units in [Units::Metric, Units::Inch] {
        for text in [
            "1-3/8",
            "1 3/8",
            "1 3/8\"",
            "1-3/8 in",
            "1\u{215c}",
            "1 \u{215c}\u{2033}",
            "1-\u{215c}",
            "11/8",
            "1.375\"",
            "1,375 inch",
            "34.925mm",
            "3.4925 cm",
            "1375 thou",
        ] {
            if text == "1,375 inch" && units == Units::Inch {
                continue;
            }
            reads(text, Kind::Diameter, units, 34.925);
        }
    }
}

#[test]
fn bare_numbers_are_in_the_display_unit() {
    reads(".750", Kind::Length, Units::Inch, 19.05);
    reads(".750", Kind::Length, Units::Metric, 0.75);
    reads("0,75", Kind::Length, Units::Metric, 0.75);
    reads("0,75", Kind::Length, Units::Inch, 19.05);
    reads("34,925", Kind::Diameter, Units::Metric, 34.925);
    reads("35mm", Kind::Length, Units::Inch, 35.0);
    reads("210", Kind::Angle, Units::Inch, 210f64.to_radians());
    reads("355", Kind::SpindleSpeed, Units::Inch, 355.0);
}

#[test]
fn units_of_the_shop_are_read_in_any_job() {
    for units in [Units::Metric, Units::Inch] {
        reads("4' 6\"", Kind::Length, units, 1371.6);
        reads("4\u{2032} 6\u{2033}", Kind::Length, units, 1371.6);
        reads("4ft 6in", Kind::Length, units, 1371.6);
        reads("4' 6-1/2\"", Kind::Length, units, 1384.3);
        reads("4'6", Kind::Length, units, 1371.6);
        reads("3/8in", Kind::Length, units, 9.525);
        reads("3 / 8", Kind::Length, units, 9.525);
        reads("1/2 mm", Kind::Length, units, 0.5);
        reads("12 thou", Kind::Error, units, 0.3048);
        reads("3 tenths", Kind::Error, units, 0.00762);
        reads("25 um", Kind::Error, units, 0.025);
        reads("25 \u{b5}m", Kind::Error, units, 0.025);
        reads("25 \u{3bc}m", Kind::Error, units, 0.025);
        reads("10 lbf", Kind::Force, units, 44.482_216_152_605);
        reads("90 N", Kind::Force, units, 90.0);
        reads("60 N/um", Kind::Stiffness, units, 60_000.0);
        reads("60 N/\u{b5}m", Kind::Stiffness, units, 60_000.0);
        reads("210\u{b0}", Kind::Angle, units, 210f64.to_radians());
        reads("210 deg", Kind::Angle, units, 210f64.to_radians());
        reads("0.2 mm/rev", Kind::Feed, units, 0.2);
        reads(".008 in/rev", Kind::Feed, units, 0.2032);
        reads("8 thou/rev", Kind::Feed, units, 0.2032);
        reads("20 N\u{b7}m/rad", Kind::RotationStiffness, units, 20_000.0);
        reads("18 \u{b0}F", Kind::TemperatureRise, units, 10.0);
        reads("50 %", Kind::Ratio, units, 0.5);
        reads("200 GPa", Kind::Pressure, units, 200_000.0);
    }
}

/// Source: 1 lbf = 4.448 221 615 260 5 N and 1 in = 25.4 mm by definition; 1 hp = 550 ft lbf/s = 0.745 700 kW,
/// 1 psi = 6.894 757 kPa (tables of unit conversion, from memory).
#[test]
fn inch_units_convert_as_the_tables_say() {
    let value = |text, kind| parse(text, kind, Units::Metric).unwrap();
    close(value("340 lbf/thou", Kind::Stiffness), 340.0 * 4.448_221_615_260_5 / 0.0254, 1e-14, 0.0);
    close(value("1 hp", Kind::Power), 0.745_699_872, 1e-9, 0.0);
    close(value("1000 psi", Kind::Pressure), 6.894_757_293, 1e-9, 0.0);
    close(value("1000000 lbf in/rad", Kind::RotationStiffness), 1.129_848_29e8, 1e-8, 0.0);
    close(value("100 lb", Kind::Mass), 45.359_237, 1e-15, 0.0);
}

#[test]
fn signs_are_read() {
    reads("-0.5", Kind::Length, Units::Metric, -0.5);
    reads("+0.5", Kind::Length, Units::Metric, 0.5);
    reads("\u{2212}12 thou", Kind::Error, Units::Inch, -0.3048);
    reads("-1-3/8", Kind::Length, Units::Inch, -34.925);
    reads("- 4' 6\"", Kind::Length, Units::Inch, -1371.6);
    assert!(parse("-0", Kind::Length, Units::Metric).unwrap().is_sign_positive());
}

#[test]
fn what_cannot_be_read_is_quoted_with_an_example() {
    refused("abc", Kind::Length, Units::Inch, "\u{201c}abc\u{201d} is not a length; type for example 1-3/8");
    refused("", Kind::Force, Units::Metric, "type a force, for example 90");
    refused("5 kg", Kind::Length, Units::Metric, "has a unit that a length does not have");
    refused("5 mm", Kind::Force, Units::Metric, "has a unit that a force does not have");
    refused("1.2.3", Kind::Length, Units::Metric, "two decimal marks");
    refused("1,234.5", Kind::Force, Units::Metric, "two decimal marks");
    refused("3/0", Kind::Length, Units::Inch, "divides by nothing");
    refused("1-9/8", Kind::Length, Units::Inch, "not smaller than 1");
    refused("1.5-3/8", Kind::Length, Units::Inch, "is not a length");
    refused("1-3", Kind::Length, Units::Inch, "is not a length");
    refused("--1", Kind::Length, Units::Inch, "is not a length");
    refused("4' 6' 2\"", Kind::Length, Units::Inch, "is not a length");
    refused("NaN", Kind::Length, Units::Metric, "is not a length");
    refused("inf", Kind::Length, Units::Metric, "is not a length");
    refused("1e999", Kind::Length, Units::Metric, "out of range");
    refused(&"9".repeat(500), Kind::Length, Units::Metric, "too long");
    refused(&"9".repeat(50), Kind::Length, Units::Metric, "too many digits");
}

#[test]
fn a_comma_that_could_group_thousands_is_asked_about() {
    refused("1,500", Kind::Force, Units::Metric, "could mean 1.500 or 1500");
    refused("1,375", Kind::Diameter, Units::Inch, "could mean 1.375 or 1375");
    reads("0,375", Kind::Diameter, Units::Inch, 9.525);
    reads("1,5", Kind::Force, Units::Metric, 1.5);
}

/// Source: trade practice, errors to 1 um or 0.1 thou, sizes on diameter, fractions for stick-out.
#[test]
fn values_are_shown_as_a_turner_reads_them() {
    use Units::{Inch, Metric};
    assert_eq!(show(35.0, Kind::Length, Metric), "35.0 mm");
    assert_eq!(show(34.925, Kind::Length, Inch), "1-3/8 in");
    assert_eq!(show(9.525, Kind::Length, Inch), "3/8 in");
    assert_eq!(show(25.4, Kind::Length, Inch), "1 in");
    assert_eq!(show(-34.925, Kind::Length, Inch), "-1-3/8 in");
    assert_eq!(show(35.0, Kind::Length, Inch), "1.38 in");
    assert_eq!(show(0.0, Kind::Length, Inch), "0 in");
    assert_eq!(show(34.925, Kind::Diameter, Metric), "34.925 mm");
    assert_eq!(show(34.925, Kind::Diameter, Inch), "1.3750 in");
    assert_eq!(show(0.0124, Kind::Error, Metric), "12 \u{b5}m");
    assert_eq!(show(-0.0004, Kind::Error, Metric), "0 \u{b5}m");
    assert_eq!(show(0.02, Kind::Error, Inch), "0.8 thou");
    assert_eq!(show_signed(0.0124, Kind::Error, Metric), "+12 \u{b5}m");
    assert_eq!(show_signed(-0.0124, Kind::Error, Metric), "-12 \u{b5}m");
    assert_eq!(show_signed(0.0001, Kind::Error, Metric), "0 \u{b5}m");
    assert_eq!(show(4.23, Kind::Force, Metric), "4.2 N");
    assert_eq!(show(85.4, Kind::Force, Metric), "85.4 N");
    assert_eq!(show(1414.0, Kind::Force, Metric), "1410 N");
    assert_eq!(show(12_340.0, Kind::Force, Metric), "12.3 kN");
    assert_eq!(show(90.0, Kind::Force, Inch), "20.2 lbf");
    assert_eq!(show(216_000.0, Kind::Stiffness, Metric), "216 N/\u{b5}m");
    assert_eq!(show(60_000.0, Kind::Stiffness, Inch), "343 lbf/thou");
    assert_eq!(show(210f64.to_radians(), Kind::Angle, Inch), "210\u{b0}");
    assert_eq!(show(0.2, Kind::Feed, Metric), "0.20 mm/rev");
    assert_eq!(show(0.125, Kind::Feed, Metric), "0.125 mm/rev");
    assert_eq!(show(0.2032, Kind::Feed, Inch), "0.0080 in/rev");
    assert_eq!(show(22.4, Kind::SpindleSpeed, Metric), "22.4 rpm");
    assert_eq!(show(355.0, Kind::SpindleSpeed, Metric), "355 rpm");
    assert_eq!(show(0.56, Kind::Ratio, Metric), "0.56");
    assert_eq!(show(999.6, Kind::Pressure, Metric), "1000 MPa");
    assert_eq!(show(f64::NAN, Kind::Length, Metric), "\u{2013}");
}

#[test]
fn an_entry_field_shows_what_was_typed() {
    let typed = |text: &str, kind, units| show_for_entry(parse(text, kind, units).unwrap(), kind, units);
    assert_eq!(typed("1-3/8", Kind::Diameter, Units::Inch), "1.375");
    assert_eq!(typed("1/64", Kind::Length, Units::Inch), "0.015625");
    assert_eq!(typed("35", Kind::Length, Units::Metric), "35");
    assert_eq!(typed("12 thou", Kind::Error, Units::Inch), "0.012");
    assert_eq!(typed("93", Kind::Angle, Units::Metric), "93");
    assert_eq!(typed("35 mm", Kind::Length, Units::Inch), "1.378", "a tenth of a thou is what a lathe can do");
    assert_eq!(typed("300 mm", Kind::Length, Units::Inch), "11.811");
    assert_eq!(typed("35 mm", Kind::Diameter, Units::Inch), "1.37795");
    assert_eq!(unit_name(Kind::Length, Units::Inch), "in");
}

#[test]
fn an_untouched_entry_changes_nothing_at_all() {
    let shown = show_for_entry(35.0, Kind::Length, Units::Inch);
    assert_eq!(parse_entry(&shown, 35.0, Kind::Length, Units::Inch), Ok(35.0));
    assert_eq!(parse_entry("1-3/8", 35.0, Kind::Length, Units::Inch), Ok(34.925));
}

#[test]
fn errors_that_are_no_small_ones_are_told_in_whole_units() {
    assert_eq!(show(0.012, Kind::Error, Units::Metric), "12 \u{b5}m");
    assert_eq!(show(-15.0, Kind::Error, Units::Metric), "-15.00 mm");
    assert_eq!(show(0.0508, Kind::Error, Units::Inch), "2.0 thou");
    assert_eq!(show(5.08, Kind::Error, Units::Inch), "0.200 in");
}

/// Source: the foot is 0.3048 m by definition, so 1 m/s is 60/0.3048 = 196.85 ft/min.
#[test]
fn surface_speeds_are_in_metres_a_second_or_feet_a_minute() {
    assert_eq!(show(1.42, Kind::SurfaceSpeed, Units::Metric), "1.4 m/s");
    assert_eq!(show(1.0, Kind::SurfaceSpeed, Units::Inch), "197 ft/min");
    assert_eq!(parse("300 ft/min", Kind::SurfaceSpeed, Units::Metric), Ok(1.524));
}

/// Source: a kelvin is a degree Celsius and 1.8 degrees Fahrenheit, by definition. A difference has no offset: no
/// difference is 0 in every scale, not 32 \u{b0}F.
#[test]
fn a_difference_of_temperature_knows_no_offset() {
    for units in [Units::Metric, Units::Inch] {
        for text in ["10 K", "10 C", "10 \u{b0}C", "10 deg C", "18 F", "18 \u{b0}F", "18\u{ba}F", "18 deg F"] {
            reads(text, Kind::TemperatureRise, units, 10.0);
        }
        for text in ["0 K", "0 \u{b0}C", "0 \u{b0}F", "0"] {
            reads(text, Kind::TemperatureRise, units, 0.0);
        }
        reads("-9 \u{b0}F", Kind::TemperatureRise, units, -5.0);
    }
    reads("10", Kind::TemperatureRise, Units::Metric, 10.0);
    reads("18", Kind::TemperatureRise, Units::Inch, 10.0);
    assert_eq!(show(10.0, Kind::TemperatureRise, Units::Metric), "10 K");
    assert_eq!(show(10.0, Kind::TemperatureRise, Units::Inch), "18 \u{b0}F");
    assert_eq!(show(0.0, Kind::TemperatureRise, Units::Inch), "0 \u{b0}F");
    assert_eq!(show_signed(-2.5, Kind::TemperatureRise, Units::Inch), "-4.5 \u{b0}F");
    assert_eq!(show_for_entry(10.0, Kind::TemperatureRise, Units::Inch), "18");
    refused("10 mm", Kind::TemperatureRise, Units::Metric, "has a unit that a temperature difference does not have");
    refused("warm", Kind::TemperatureRise, Units::Inch, "is not a temperature difference; type for example 18 or 10 K");
}

#[test]
fn a_percentage_is_a_hundredth_with_its_sign_and_without() {
    for units in [Units::Metric, Units::Inch] {
        reads("20", Kind::Percent, units, 0.2);
        reads("20 %", Kind::Percent, units, 0.2);
        reads("0,5%", Kind::Percent, units, 0.005);
        reads("2 percent", Kind::Percent, units, 0.02);
        assert_eq!(show(0.2, Kind::Percent, units), "20 %");
        assert_eq!(show(0.025, Kind::Percent, units), "2.5 %");
        assert_eq!(show_for_entry(0.4, Kind::Percent, units), "40");
        assert_eq!(unit_name(Kind::Percent, units), "%");
    }
    refused("20 mm", Kind::Percent, Units::Metric, "has a unit that a percentage does not have");
}

#[test]
fn a_count_is_a_whole_number() {
    reads("3", Kind::Count, Units::Inch, 3.0);
    reads("3.0", Kind::Count, Units::Inch, 3.0);
    assert_eq!(show(5.0, Kind::Count, Units::Metric), "5");
    assert_eq!(show_for_entry(5.0, Kind::Count, Units::Metric), "5");
    refused("2.5", Kind::Count, Units::Metric, "\u{201c}2.5\u{201d} is not a whole number; type for example 3");
    refused("5/2", Kind::Count, Units::Inch, "is not a whole number");
    refused("3 %", Kind::Count, Units::Metric, "has a unit that a whole number does not have");
}

proptest! {
    #[test]
    fn what_is_typed_in_the_display_unit_comes_back_to_the_last_bit(
        kind in prop::sample::select(KINDS.to_vec()),
        inch in any::<bool>(),
        whole in 0u32..100_000,
        decimals in 0u32..1_000_000,
        negative in any::<bool>(),
    ) {
        let units = if inch { Units::Inch } else { Units::Metric };
        let text = format!("{}{whole}.{decimals:06}", if negative { "-" } else { "" });
        let value = parse(&text, kind, units).unwrap();
        let shown = show_for_entry(value, kind, units);
        prop_assert_eq!(parse(&shown, kind, units), Ok(value), "{} became {}", text, shown);
    }

    #[test]
    fn fractions_of_an_inch_come_back_to_the_last_bit(whole in 0u32..200, top in 0u32..64, inch in any::<bool>()) {
        let units = if inch { Units::Inch } else { Units::Metric };
        let value = parse(&format!("{whole}-{top}/64"), Kind::Length, units).unwrap();
        // 25.4 / 64 = 254 / 640, whole numbers, so that only the quotient is rounded.
        prop_assert_eq!(value, f64::from((whole * 64 + top) * 254) / 640.0);
        let shown = show_for_entry(value, Kind::Length, units);
        prop_assert_eq!(parse(&shown, Kind::Length, units), Ok(value));
        // The words of the formatter read back as the same length.
        let words = show(value, Kind::Length, Units::Inch);
        prop_assert_eq!(parse(&words, Kind::Length, units), Ok(value), "{}", words);
    }

    #[test]
    fn no_text_makes_the_parser_panic(text in ".{0,30}", numbers in "[-+]?[0-9.,/ '\"-]{1,20}[a-z\u{b0}]{0,3}") {
        for kind in KINDS.into_iter().chain([Kind::Count]) {
            for text in [&text, &numbers] {
                if let Ok(value) = parse(text, kind, Units::Inch) {
                    prop_assert!(value.is_finite());
                }
            }
        }
    }

    #[test]
    fn no_value_makes_the_formatter_panic(value in any::<f64>()) {
        for kind in KINDS.into_iter().chain([Kind::Count]) {
            for units in [Units::Metric, Units::Inch] {
                let _ = (show_signed(value, kind, units), show_for_entry(value, kind, units));
                prop_assert!(!show(value, kind, units).contains("NaN"));
            }
        }
    }
}
