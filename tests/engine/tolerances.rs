//! Tolerances against the printed table of ISO 286-1, and what may be typed for them.

use midspan::job::{Tolerance, Units};

use crate::close::close;

#[track_caller]
fn lower_of_h(grade: u8, diameter_mm: f64, expected_um: f64) {
    let (lower_mm, upper_mm) = Tolerance::H { grade }.limits_mm(diameter_mm).unwrap();
    close(lower_mm * 1000.0, -expected_um, 1e-12, 0.0);
    assert_eq!(upper_mm, 0.0);
}

/// Source: ISO 286-1, standard tolerances IT5 to IT11 in um (read in two independent reprints, which agree): every
/// figure of the table, at the end of its step and just over the end of the one before.
#[test]
fn class_h_has_the_standard_tolerance_below_the_wanted_size() {
    let table: [(f64, f64, [f64; 7]); 10] = [
        (0.0, 3.0, [4.0, 6.0, 10.0, 14.0, 25.0, 40.0, 60.0]),
        (3.0, 6.0, [5.0, 8.0, 12.0, 18.0, 30.0, 48.0, 75.0]),
        (6.0, 10.0, [6.0, 9.0, 15.0, 22.0, 36.0, 58.0, 90.0]),
        (10.0, 18.0, [8.0, 11.0, 18.0, 27.0, 43.0, 70.0, 110.0]),
        (18.0, 30.0, [9.0, 13.0, 21.0, 33.0, 52.0, 84.0, 130.0]),
        (30.0, 50.0, [11.0, 16.0, 25.0, 39.0, 62.0, 100.0, 160.0]),
        (50.0, 80.0, [13.0, 19.0, 30.0, 46.0, 74.0, 120.0, 190.0]),
        (80.0, 120.0, [15.0, 22.0, 35.0, 54.0, 87.0, 140.0, 220.0]),
        (120.0, 180.0, [18.0, 25.0, 40.0, 63.0, 100.0, 160.0, 250.0]),
        (180.0, 250.0, [20.0, 29.0, 46.0, 72.0, 115.0, 185.0, 290.0]),
    ];
    for (over_mm, to_mm, row_um) in table {
        for (grade, expected_um) in (5..).zip(row_um) {
            lower_of_h(grade, to_mm, expected_um);
            lower_of_h(grade, over_mm + 0.001, expected_um);
            lower_of_h(grade, 0.5 * (over_mm + to_mm), expected_um);
        }
    }
}

/// Source: ISO 286-1: js lies evenly about the wanted size.
#[test]
fn class_js_is_half_either_way() {
    let (lower_mm, upper_mm) = Tolerance::Js { grade: 6 }.limits_mm(40.0).unwrap();
    close(upper_mm, 0.008, 1e-12, 0.0);
    close(lower_mm, -0.008, 1e-12, 0.0);
}

/// Source: ISO 286-1, annex: i = 0.45 D^(1/3) + 0.001 D in um, D the geometric mean of the step; IT5 to IT11 are 7,
/// 10, 16, 25, 40, 64 and 100 i, then rounded (to 1 um below 100, to 5 or 10 um above).
#[test]
fn the_table_agrees_with_the_formula_of_the_standard() {
    let steps = [(10.0_f64, 18.0_f64), (18.0, 30.0), (30.0, 50.0), (50.0, 80.0), (80.0, 120.0), (120.0, 180.0)];
    for (over, to) in steps {
        let mean: f64 = (over * to).sqrt();
        let i_um = 0.45 * mean.cbrt() + 0.001 * mean;
        for (grade, factor) in [(5, 7.0), (6, 10.0), (7, 16.0), (8, 25.0), (9, 40.0), (10, 64.0), (11, 100.0)] {
            let (lower_mm, _) = Tolerance::H { grade }.limits_mm(to).unwrap();
            close(-lower_mm * 1000.0, factor * i_um, 0.04, 0.8);
        }
    }
}

#[test]
fn beyond_the_table_there_are_no_figures() {
    assert_eq!(Tolerance::H { grade: 7 }.limits_mm(250.1), None);
    assert_eq!(Tolerance::H { grade: 4 }.limits_mm(30.0), None);
    assert_eq!(Tolerance::H { grade: 12 }.limits_mm(30.0), None);
    assert_eq!(Tolerance::H { grade: 7 }.limits_mm(-1.0), None);
    assert_eq!(Tolerance::H { grade: 7 }.limits_mm(f64::NAN), None);
    assert_eq!(Tolerance::Free.limits_mm(30.0), None);
}

#[test]
fn tolerances_are_read_as_they_are_typed() {
    let reads = |text: &str, expected: Tolerance| {
        assert_eq!(Tolerance::parse(text, Units::Metric), Ok(expected), "{text:?}");
    };
    let limits = |lower_mm: f64, upper_mm: f64| Tolerance::Limits { lower_mm, upper_mm };
    reads("", Tolerance::Free);
    reads("h7", Tolerance::H { grade: 7 });
    reads(" H 7 ", Tolerance::H { grade: 7 });
    reads("js6", Tolerance::Js { grade: 6 });
    reads("+0.02 -0.01", limits(-0.01, 0.02));
    reads("-0.01 +0.02", limits(-0.01, 0.02));
    reads("+0.02/-0.01", limits(-0.01, 0.02));
    reads("+0,02 -0,01", limits(-0.01, 0.02));
    reads("0 -0.02", limits(-0.02, 0.0));
    reads("0/-0.02", limits(-0.02, 0.0));
    reads("-0.02", limits(-0.02, 0.0));
    reads("+0.02 0", limits(0.0, 0.02));
    reads("\u{b1}0.05", limits(-0.05, 0.05));
    reads("+/- 0.05", limits(-0.05, 0.05));
    reads("\u{b1}25 um", limits(-0.025, 0.025));
    assert_eq!(Tolerance::parse("+.001 -.0005", Units::Inch), Ok(limits(-0.0127, 0.0254)));
    assert_eq!(Tolerance::parse("+0 -1 thou", Units::Inch), Ok(limits(-0.0254, 0.0)));
}

#[test]
fn what_is_no_tolerance_is_refused_with_an_example() {
    for text in ["h4", "h12", "h", "js", "k6", "0.02", "+0.02 -0.01 -0.03", "+a -b", "js6.5"] {
        let error = Tolerance::parse(text, Units::Metric).expect_err(text);
        assert!(error.0.contains("type for example"), "{text:?}: {}", error.0);
    }
}

#[test]
fn a_tolerance_is_shown_as_it_is_typed() {
    for text in ["", "h7", "js6", "+0.02 -0.01", "0 -0.02", "\u{b1}0.05", "-0.01 -0.02"] {
        let read = Tolerance::parse(text, Units::Metric).unwrap();
        assert_eq!(read.show(Units::Metric), text);
        // In the other units a field is rounded to a millionth of an inch.
        let (there, back) = (read.show(Units::Inch), Tolerance::parse(&read.show(Units::Inch), Units::Inch).unwrap());
        match (read.limits_mm(40.0), back.limits_mm(40.0)) {
            (Some((lower, upper)), Some((lower_back, upper_back))) => {
                close(lower_back, lower, 0.0, 2.54e-5);
                close(upper_back, upper, 0.0, 2.54e-5);
            }
            (before, after) => assert_eq!(before, after, "{there}"),
        }
    }
}
