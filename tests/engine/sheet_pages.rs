//! The pages of the set-up sheet, on the picture itself: nothing over anything, nothing cut off, true to scale, and whole
//! for jobs that strain them.

use midspan::advice::cautions;
use midspan::job::{Job, Land, PassId, RestId, SetupId, Tolerance, Units, WantedLand, examples};
use midspan::picture::lettering::{Lettering, lettering};
use midspan::picture::{Path, Role};
use midspan::sheet::{Choices, PageSize, Paper, Scale, Sheet, sheet};
use midspan::study;

use crate::page_faults::{faults, parts, words};
use crate::quiet::{job as quiet_job, steady};
use crate::random_job::{plain_job, random_job};

fn on(job: &Job, size: PageSize, landscape: bool) -> (Sheet, Paper) {
    let paper = Paper { size, landscape };
    let choices = Choices { paper, reasons: true, ..Choices::default() };
    (sheet(job, &study::compute_with_bands(job), &choices), paper)
}

#[track_caller]
fn whole(job: &Job, size: PageSize, landscape: bool) -> Sheet {
    let (sheet, paper) = on(job, size, landscape);
    assert!(!sheet.pages.is_empty());
    assert_eq!(faults(&sheet, paper), Vec::<String>::new(), "{} on {paper:?}", job.title);
    sheet
}

#[test]
fn every_example_stays_whole_on_every_paper_in_both_units() {
    for example in examples::EXAMPLES {
        let mut job = examples::load(example.key).unwrap();
        let result = study::compute_with_bands(&job);
        for units in [Units::Metric, Units::Inch] {
            job.units = units;
            for size in PageSize::ALL {
                for landscape in [true, false] {
                    let paper = Paper { size, landscape };
                    let sheet = sheet(&job, &result, &Choices { paper, ..Choices::default() });
                    let found = faults(&sheet, paper);
                    assert_eq!(found, Vec::<String>::new(), "{} on {paper:?} in {units:?}", example.key);
                }
            }
        }
    }
}

#[test]
fn twenty_jobs_drawn_by_lot_stay_whole() {
    for number in 0..20 {
        let mut job = random_job(number);
        job.units = if number % 2 == 0 { Units::Metric } else { Units::Inch };
        let (sheet, paper) = on(&job, [PageSize::A4, PageSize::Letter][number as usize % 2], number % 3 != 0);
        assert_eq!(faults(&sheet, paper), Vec::<String>::new(), "job {number}");
    }
}

#[test]
fn six_metres_of_work_a_stub_and_a_needle_stay_whole() {
    for (length_mm, diameter_mm) in [(6000.0, 60.0), (6000.0, 400.0), (60.0, 50.0), (400.0, 1.5)] {
        let mut job = plain_job(length_mm, diameter_mm);
        job.title = format!("{length_mm} by {diameter_mm}");
        if length_mm < 100.0 {
            job.setups[0].passes[0].from_z_mm = 25.0;
            job.setups[0].passes[0].to_z_mm = 5.0;
        }
        whole(&job, PageSize::A4, true);
        whole(&job, PageSize::Letter, false);
    }
}

#[test]
fn forty_lands_eight_steadies_and_twenty_passes_stay_whole() {
    let mut job = plain_job(2000.0, 60.0);
    let lands = (0..40).map(|index| {
        let diameter_mm = 58.0 - 0.5 * f64::from(index);
        let land = Land { length_mm: 50.0, start_diameter_mm: diameter_mm, end_diameter_mm: diameter_mm };
        WantedLand {
            land,
            tolerance: Tolerance::Free,
            name: format!("Seat {index} for the bearing with the long name"),
        }
    });
    job.shaft.wanted = lands.collect();
    let setup = &mut job.setups[0];
    setup.rests =
        (0..8_u32).map(|n| midspan::job::Rest { id: RestId(50 + n), ..steady(200.0 * f64::from(n) + 150.0) }).collect();
    let pass = setup.passes[0].clone();
    setup.passes = (0..20).map(|n| midspan::job::Pass { id: PassId(200 + n), ..pass.clone() }).collect();
    job.next_id = 300;
    let sheet = whole(&job, PageSize::A4, true);
    let text: String = sheet.pages.iter().map(|page| words(&page.picture)).collect();
    for number in 1..=8 {
        assert!(text.contains(&format!("Steady {number}")), "steady {number} is on the sheet");
    }
}

#[test]
fn long_and_foreign_titles_are_cut_and_told_in_full_and_missing_letters_are_owned_up_to() {
    let long = "Long shaft with a very long name ".repeat(9);
    let foreign = "Вал насоса, άξονας αντλίας, 软轴 シャフト";
    for title in [long.trim(), foreign, "Nobreakatallinthistitlewhichgoesonandonandon".repeat(6).as_str()] {
        let mut job = quiet_job();
        job.title = title.to_owned();
        job.setups[0].name = title.to_owned();
        job.title_block.owner = title.to_owned();
        job.title_block.part = title.to_owned();
        job.notes = title.repeat(20);
        for landscape in [true, false] {
            whole(&job, PageSize::A4, landscape);
        }
    }
    let mut job = quiet_job();
    job.title = foreign.to_owned();
    let sheet = whole(&job, PageSize::A4, true);
    let text: String = sheet.pages.iter().map(|page| words(&page.picture)).collect();
    assert!(text.contains("A box stands for a letter"), "{text}");
    job.title = "Вал насоса, άξονας".to_owned();
    let sheet = whole(&job, PageSize::A4, true);
    let text: String = sheet.pages.iter().map(|page| words(&page.picture)).collect();
    assert!(text.contains("Вал насоса") && !text.contains("A box stands"), "the font has Cyrillic and Greek");
}

#[test]
fn process_signs_are_off_by_default_and_come_with_a_legend_that_names_each_of_them() {
    for example in examples::EXAMPLES {
        let job = examples::load(example.key).unwrap();
        let result = study::compute_with_bands(&job);
        for landscape in [true, false] {
            let paper = Paper { size: PageSize::A4, landscape };
            let plain = Choices { paper, ..Choices::default() };
            let with_signs = Choices { symbols: true, ..plain.clone() };
            let drawn = |choices: &Choices| {
                let sheet = sheet(&job, &result, choices);
                assert_eq!(faults(&sheet, paper), Vec::<String>::new(), "{} {landscape}", example.key);
                sheet.pages.iter().map(|page| words(&page.picture) + " ").collect::<String>()
            };
            let (plain, with_signs) = (drawn(&plain), drawn(&with_signs));
            assert!(!plain.contains("Signs:"));
            assert_eq!(with_signs.matches("Signs:").count(), job.setups.len(), "{}", example.key);
            let legend: Vec<&str> = with_signs.split("Signs:").skip(1).collect();
            for (setup, legend) in job.setups.iter().zip(legend) {
                let legend = legend.split("Predicted error").next().unwrap();
                assert_eq!(legend.contains("steady rest"), !setup.rests.is_empty(), "{legend}");
                assert_eq!(legend.contains("follower,"), setup.follower.is_some(), "{legend}");
            }
        }
    }
}

/// The forging is cut to 89 mm up to the shoulder at 1085 mm, where its land of 106 mm ends.
#[test]
fn sizes_are_measured_off_the_shoulder_and_against_the_land_that_is_cut() {
    let job = examples::load("forged-spindle").unwrap();
    let csv = sheet(&job, &study::compute_with_bands(&job), &Choices::default()).csv();
    let table = csv.split("\n\n").find(|table| table.contains(": Sizes after the last pass")).unwrap();
    for row in table.trim().lines().skip(2) {
        let place_mm: f64 = row.split(',').next().unwrap().parse().unwrap();
        assert!((1088.0..=1442.0).contains(&place_mm) && row.contains("Ø 89.000"), "{row}");
    }
}

/// As in [`work_and_rest_are_drawn_to_the_scale_that_is_named`]; the tip of a sign is where it bears.
#[test]
fn the_sign_of_a_steady_touches_the_work_at_its_place() {
    let mut job = quiet_job();
    job.setups[0].rests.push(steady(150.0));
    let choices = Choices { symbols: true, scale: Some("1:5".parse().unwrap()), ..Choices::default() };
    let sheet = sheet(&job, &study::compute(&job), &choices);
    let (_, paths) = parts(&sheet.pages[0].picture);
    let paths = side_view(&paths);
    let (left_mm, _) = width_mm(&paths, Role::Steel);
    let place_mm = left_mm + (150.0 - job.setups[0].work_start_z_mm) / 5.0;
    let tips: Vec<f64> = paths
        .iter()
        .filter(|path| path.closed && path.role == Role::Text && (path.start.right_mm - place_mm).abs() < 1e-9)
        .map(|path| path.start.up_mm)
        .collect();
    // 40 mm stock, before it is cut.
    let [upper, lower] = tips[..] else { panic!("above and below: {tips:?}") };
    assert!((upper - lower - 40.0 / 5.0).abs() < 1e-9, "{upper} {lower}");
}

/// What lies between the line to be measured and the leaders of the distances: the side view, without the rests seen
/// from the tailstock.
fn side_view<'a>(paths: &[&'a Path]) -> Vec<&'a Path> {
    let is_measure = |path: &&&Path| path.role == Role::Dimension;
    paths.iter().skip_while(is_measure).take_while(|path| !is_measure(path)).copied().collect()
}

fn width_mm(paths: &[&Path], role: Role) -> (f64, f64) {
    let mut reach = (f64::INFINITY, f64::NEG_INFINITY);
    for path in paths.iter().filter(|path| path.role == role) {
        path.for_each_point(&mut |point| reach = (reach.0.min(point.right_mm), reach.1.max(point.right_mm)));
    }
    reach
}

/// The work is 330 mm long with 30 mm of it in the jaws; the steady stands at 150 mm.
#[test]
fn work_and_rest_are_drawn_to_the_scale_that_is_named() {
    for scale in ["1:5", "1:10", "1:20"].map(|text| text.parse::<Scale>().unwrap()) {
        let mut job = quiet_job();
        job.setups[0].rests.push(steady(150.0));
        let choices = Choices { scale: Some(scale), ..Choices::default() };
        let sheet = sheet(&job, &study::compute(&job), &choices);
        let page = &sheet.pages[0];
        assert_eq!(page.scale, Some(scale));
        let (texts, paths) = parts(&page.picture);
        let ratio = scale.ratio();
        let drawing = side_view(&paths);
        let (left_mm, right_mm) = width_mm(&drawing, Role::Steel);
        let length_mm = job.shaft.length_mm();
        assert!((right_mm - left_mm - ratio * length_mm).abs() < 1e-9, "{scale}: {}", right_mm - left_mm);
        let rest = width_mm(&drawing, Role::RestJaw);
        let datum_mm = left_mm - ratio * job.setups[0].work_start_z_mm;
        assert!((f64::midpoint(rest.0, rest.1) - datum_mm - ratio * 150.0).abs() < 1e-9, "{scale}");
        // Its leader begins at its very place and ends at its figure.
        let figure = texts.iter().find(|text| text.text == "150.0").expect("the distance is written");
        let leader = paths
            .iter()
            .find(|path| path.role == Role::Dimension && (path.start.right_mm - datum_mm - ratio * 150.0).abs() < 1e-9);
        let mut end_mm = f64::NAN;
        leader.expect("a leader at the rest").for_each_point(&mut |point| end_mm = point.right_mm);
        assert!((end_mm - figure.anchor.right_mm).abs() < 1e-9);
    }
}

#[test]
fn the_line_to_be_measured_is_a_hundred_millimetres_or_four_inches() {
    for (units, length_mm, name) in [(Units::Metric, 100.0, "100 mm"), (Units::Inch, 101.6, "4 in")] {
        let job = Job { units, ..quiet_job() };
        let sheet = sheet(&job, &study::compute(&job), &Choices::default());
        let (texts, paths) = parts(&sheet.pages[0].picture);
        let words = texts.iter().find(|text| text.text.starts_with("This line measures")).expect("it says what it is");
        assert!(words.text.contains(name));
        let lines: Vec<f64> = paths
            .iter()
            .filter(|path| path.role == Role::Dimension && path.start.right_mm == words.anchor.right_mm)
            .map(|path| {
                let mut end_mm = 0.0;
                path.for_each_point(&mut |point| end_mm = point.right_mm);
                end_mm - path.start.right_mm
            })
            .collect();
        assert!(lines.iter().any(|line_mm| (line_mm - length_mm).abs() < 1e-9), "{lines:?}");
    }
}

#[test]
fn distances_are_written_four_millimetres_high_and_nothing_below_seven_points() {
    assert!((Lettering::Figure.em_mm() * 0.7275 - 4.0).abs() < 1e-9);
    let mut job = quiet_job();
    job.setups[0].rests.push(steady(150.0));
    let (sheet, _) = on(&job, PageSize::A4, true);
    let figures = sheet.pages.iter().flat_map(|page| parts(&page.picture).0);
    let (mut n_large, mut least_mm) = (0, f64::INFINITY);
    for text in figures {
        least_mm = least_mm.min(lettering(text.size).em_mm() * 0.7275);
        n_large += usize::from(text.text == "150.0" && lettering(text.size) == Lettering::Figure);
    }
    assert_eq!(n_large, 2, "under the drawing and on its card");
    assert!(least_mm >= 1.8 - 1e-9, "{least_mm}");
    assert!(Lettering::CloseFine.em_mm() >= 7.0 * 25.4 / 72.0, "of type");
}

#[test]
fn the_scale_asked_for_is_taken_where_it_fits_and_owned_up_to_where_not() {
    let job = quiet_job();
    let result = study::compute(&job);
    let asked = |scale: &str| {
        let choices = Choices { scale: Some(scale.parse().unwrap()), ..Choices::default() };
        let page = sheet(&job, &result, &choices).pages.swap_remove(0);
        (page.scale.unwrap().to_string(), words(&page.picture))
    };
    assert_eq!(asked("1:20").0, "1:20");
    let (drawn, text) = asked("10:1");
    assert!(text.contains("At 10:1 the drawing does not fit on A4") && text.contains(&format!("drawn at {drawn}")));
    let largest = sheet(&job, &result, &Choices::default()).pages[0].scale.unwrap().to_string();
    assert_eq!(drawn, largest, "the largest that fits");
    assert!("1:3".parse::<Scale>().is_err() && "0:0".parse::<Scale>().is_err() && "1".parse::<Scale>().is_err());
}

#[test]
fn cautions_estimate_and_sheet_number_stand_on_paper_whatever_is_chosen() {
    let job = examples::load("guide-rod").unwrap();
    let result = study::compute(&job);
    for setup in [None, Some(job.setups[1].id)] {
        let sheet = sheet(&job, &result, &Choices { setup, ..Choices::default() });
        let mut texts = std::collections::BTreeMap::<Option<SetupId>, String>::new();
        for (index, page) in sheet.pages.iter().enumerate() {
            let text = words(&page.picture);
            assert!(text.contains(cautions::ON_PAPER), "page {}", index + 1);
            assert!(text.contains(&format!("{} of {}", index + 1, sheet.pages.len())));
            texts.entry(page.setup).or_default().push_str(&(text + " "));
        }
        assert_eq!(texts.contains_key(&None), setup.is_none(), "a cover where there are several set-ups");
        for setup in job.setups.iter().filter(|own| setup.is_none_or(|id| id == own.id)) {
            for caution in cautions::for_setup(setup) {
                assert!(texts[&Some(setup.id)].contains(caution.text), "{}", caution.text);
            }
        }
    }
}

#[test]
fn reasons_are_printed_on_request_only() {
    let job = quiet_job();
    let result = study::compute(&job);
    let why = midspan::advice::steps::for_setup(&job, &job.setups[0])[0].why;
    for reasons in [false, true] {
        let sheet = sheet(&job, &result, &Choices { reasons, ..Choices::default() });
        let text: String = sheet.pages.iter().map(|page| words(&page.picture) + " ").collect();
        assert_eq!(text.contains(why), reasons);
    }
}

#[test]
fn five_to_nine_places_are_to_be_measured_with_an_empty_box_each() {
    for example in examples::EXAMPLES {
        let job = examples::load(example.key).unwrap();
        let result = study::compute_with_bands(&job);
        let csv = sheet(&job, &result, &Choices::default()).csv();
        for table in csv.split("\n\n").filter(|table| table.contains(": Sizes after the last pass")) {
            let n_rows = table.trim().lines().count() - 2;
            assert!((3..=9).contains(&n_rows), "{}: {table}", example.key);
            assert!(table.trim().lines().skip(2).all(|row| row.ends_with(",,")), "boxes are empty: {table}");
        }
    }
}
