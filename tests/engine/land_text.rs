//! Tables of lands as tab-separated text: copied and pasted without loss, read as people and spreadsheets write them.

use midspan::job::land_row::{Keyway, LandRow};
use midspan::job::land_text::{read, written};
use midspan::job::{Reshape, Tolerance, Units, examples};

#[track_caller]
fn rows(text: &str, units: Units) -> Vec<LandRow> {
    read(text, units).expect("a table that can be read")
}

#[track_caller]
fn errors(text: &str) -> Vec<String> {
    read(text, Units::Metric).expect_err("it cannot be read")
}

fn sizes(rows: &[LandRow]) -> Vec<(f64, f64, f64)> {
    let sizes = |row: &LandRow| {
        let land = row.wanted.land;
        (land.length_mm, land.start_diameter_mm, land.end_diameter_mm)
    };
    rows.iter().map(sizes).collect()
}

#[test]
fn what_is_copied_is_pasted_as_it_was() {
    for example in examples::EXAMPLES {
        let job = examples::load(example.key).expect("an example");
        let before = LandRow::of_shaft(&job.shaft);
        for units in [Units::Metric, Units::Inch] {
            let after = rows(&written(&before, units), units);
            assert_eq!(after.len(), before.len(), "{}", example.key);
            for (after, before) in sizes(&after).iter().zip(sizes(&before)) {
                let off = (after.0 - before.0).abs().max((after.1 - before.1).abs()).max((after.2 - before.2).abs());
                assert!(off < 1e-7, "{}: {before:?} became {after:?}", example.key);
            }
            if units == job.units {
                assert_eq!(after, before, "{}: in its own units to the last bit", example.key);
                let mut pasted = job.clone();
                let edit = Reshape::Rows(after).edit(&job).expect("the same again");
                pasted.apply(&edit).expect("it is whole");
                assert_eq!(pasted, job, "{}: pasting what was copied changes nothing", example.key);
            }
        }
    }
}

#[test]
fn a_header_says_order_and_unit() {
    let table = rows("Tol.\tDia (in)\tLength (mm)\nh7\t1\t100\n\t1-3/8\t50\n", Units::Metric);
    assert_eq!(sizes(&table), [(100.0, 25.4, 25.4), (50.0, 34.925, 34.925)]);
    assert_eq!(table[0].wanted.tolerance, Tolerance::H { grade: 7 });
    let table = rows("use\tlength\tdiameter\tat its end\nnose\t40\t30\t25\n", Units::Metric);
    assert_eq!((sizes(&table)[0], table[0].wanted.name.as_str()), ((40.0, 30.0, 25.0), "nose"));
}

#[test]
fn cells_are_read_as_people_and_spreadsheets_write_them() {
    let text = "100,5\t30\t\t+0 -0,02\t12\tM30x1.5\t8 x 4\tseat\r\n\"1 3/8\"\"\"\t1.25in\t\tjs6\t\t12 tpi\t6\t\"a \"\"good\"\" one\"\r\n\r\n";
    let table = rows(text, Units::Metric);
    assert_eq!(sizes(&table), [(100.5, 30.0, 30.0), (34.925, 31.75, 31.75)]);
    assert_eq!(table[0].wanted.tolerance, Tolerance::Limits { lower_mm: -0.02, upper_mm: 0.0 });
    assert_eq!((table[0].bore_mm, table[0].thread_mm), (Some(12.0), Some(1.5)));
    assert_eq!(table[0].keyway, Some(Keyway { width_mm: 8.0, depth_mm: 4.0 }));
    assert_eq!(table[1].thread_mm, Some(25.4 / 12.0));
    assert_eq!(table[1].keyway, Some(Keyway { width_mm: 6.0, depth_mm: 3.0 }), "half as deep as wide");
    assert_eq!(table[1].wanted.name, "a \"good\" one");
}

#[test]
fn what_is_wrong_names_its_row_and_column() {
    let told = errors("length\tdiameter\tbore\n100\t30\n\t28\n50\t-3\tthick\n");
    assert_eq!(told.len(), 3, "{told:?}");
    assert!(told[0].starts_with("Land 2 (row 3), length: "), "{told:?}");
    assert!(told[1].starts_with("Land 3 (row 4), diameter: ") && told[1].contains("more than 0"), "{told:?}");
    assert!(told[2].starts_with("Land 3 (row 4), bore: "), "{told:?}");
    let told = errors("length\tcolour\tdiameter\tdia\n1\t2\t3\t4\n");
    assert!(told[0].contains("column 2") && told[0].contains("colour"), "{told:?}");
    assert!(told[1].contains("two columns for diameter"), "{told:?}");
    assert!(errors("length\tuse\n100\tseat\n")[0].contains("diameter: is missing"));
    assert!(errors(" \n\n")[0].contains("no table"));
    assert!(errors("100\t30\t\t\t\t\t\t\tmore\n")[0].contains("column 9"));
    assert!(errors(&"1\t1\n".repeat(1002))[0].contains("more than 1000"));
}

proptest::proptest! {
    #[test]
    fn no_text_makes_it_panic(text in "(?s)[-\"0-9.,/xXhH \t\n\ra-d\u{b1}]{0,80}", inch in proptest::prelude::any::<bool>()) {
        let _ = read(&text, if inch { Units::Inch } else { Units::Metric });
    }
}
