//! A set-up stands on one sheet; where it honestly cannot, the sheet says that it goes on. Counted on the pages' own data.

use midspan::job::{Job, Land, PassId, RestId, Tolerance, WantedLand, examples};
use midspan::picture::lettering::{Lettering, lettering, room};
use midspan::sheet::{Choices, Page, PageSize, Paper, Sheet, sheet};
use midspan::study;

use crate::page_faults::{faults, parts, words};
use crate::quiet::steady;
use crate::random_job::{plain_job, random_job};

/// How many sheets each set-up takes.
fn n_sheets(job: &Job, sheet: &Sheet) -> Vec<usize> {
    let n = |setup: &midspan::job::Setup| sheet.pages.iter().filter(|page| page.setup == Some(setup.id)).count();
    job.setups.iter().map(n).collect()
}

/// What may go on in the next column: sentences one after another, no tables.
const LISTS: [&str; 4] = ["Steps", "Cautions", "Found in this set-up", "Remarks"];

/// White that may be left where what comes next is kept whole.
const TABLE_MM: f64 = 45.0;

/// How much more white there is under one column than under another: the lowest words that begin in it, by columns as the
/// headings of the page show them.
fn uneven_mm(page: &Page, paper: Paper) -> f64 {
    let foot_mm = paper.inside().bottom_mm + if paper.landscape { 8.2 } else { 16.4 } + 6.4;
    let (texts, _) = parts(&page.picture);
    let rooms: Vec<_> = texts.iter().map(|text| room(text)).filter(|room| room.bottom_mm > foot_mm - 0.1).collect();
    let lefts = texts.iter().filter(|text| ["Pass", "From datum", "Drive", "1"].contains(&text.text.as_str()));
    let mut edges_mm: Vec<f64> = lefts.map(|text| room(text).left_mm).collect();
    edges_mm.sort_by(f64::total_cmp);
    edges_mm.dedup_by(|a, b| *a - *b < 12.0);
    edges_mm.push(paper.width_mm());
    let lowest = |ends: &[f64]| {
        let inside = rooms.iter().filter(|room| (ends[0] - 8.0..ends[1] - 8.0).contains(&room.left_mm));
        inside.map(|room| room.bottom_mm).fold(f64::INFINITY, f64::min)
    };
    let ends_mm: Vec<f64> = edges_mm.windows(2).map(lowest).filter(|end_mm| end_mm.is_finite()).collect();
    let most = |sign: f64| ends_mm.iter().map(|end_mm| sign * end_mm).fold(f64::NEG_INFINITY, f64::max);
    if ends_mm.is_empty() { 0.0 } else { most(1.0) + most(-1.0) }
}

#[test]
fn every_set_up_of_every_example_takes_one_sheet_of_any_paper() {
    let papers = [
        (PageSize::A4, true),
        (PageSize::A4, false),
        (PageSize::Letter, true),
        (PageSize::Letter, false),
        (PageSize::A3, true),
        (PageSize::A3, false),
    ];
    for example in examples::EXAMPLES {
        let job = examples::load(example.key).unwrap();
        let result = study::compute_with_bands(&job);
        for (size, landscape) in papers {
            let paper = Paper { size, landscape };
            let sheet = sheet(&job, &result, &Choices { paper, ..Choices::default() });
            assert_eq!(n_sheets(&job, &sheet), vec![1; job.setups.len()], "{} on {paper:?}", example.key);
            let n_covers = usize::from(job.setups.len() > 1);
            assert_eq!(sheet.pages.len(), job.setups.len() + n_covers, "{} on {paper:?}", example.key);
            let all: String = sheet.pages.iter().map(|page| words(&page.picture) + " ").collect();
            assert!(!all.contains("continued on") && !all.contains(", more on"), "{}", example.key);
            for page in &sheet.pages {
                let uneven_mm = uneven_mm(page, paper);
                assert!(uneven_mm < TABLE_MM, "{} on {paper:?}: {uneven_mm}", example.key);
                for text in parts(&page.picture).0.iter().filter_map(|text| text.text.strip_suffix(", continued")) {
                    assert!(LISTS.contains(&text), "{} on {paper:?}: {text:?} is torn", example.key);
                }
            }
        }
    }
}

/// Capitals of 2.5 mm where there is room, as on A3; on A4 the figures that matter are as high as there.
#[test]
fn large_paper_is_written_larger_and_figures_are_four_millimetres_high_on_any() {
    for example in examples::EXAMPLES {
        let job = examples::load(example.key).unwrap();
        let result = study::compute_with_bands(&job);
        for (size, kinds) in [
            (PageSize::A3, vec![Lettering::Body]),
            (PageSize::A4, vec![Lettering::Body, Lettering::CloseBody, Lettering::CloseFine]),
        ] {
            let paper = Paper { size, landscape: true };
            let sheet = sheet(&job, &result, &Choices { paper, ..Choices::default() });
            for page in sheet.pages.iter().filter(|page| page.setup.is_some()) {
                let (texts, _) = parts(&page.picture);
                let begun = texts.iter().position(|text| text.text == "Steps").expect("steps stand on it");
                // After the heading and the first number or line of words.
                let step = lettering(texts[begun + 1].size);
                assert!(kinds.contains(&step), "{} on {size:?}: {step:?}", example.key);
                assert!(texts.iter().any(|text| lettering(text.size) == Lettering::Figure), "{}", example.key);
            }
        }
    }
}

#[test]
fn forty_lands_and_ten_rests_go_on_on_further_sheets_and_each_says_so() {
    let mut job = plain_job(2400.0, 60.0);
    let lands = (0..40).map(|index| {
        let diameter_mm = 58.0 - 0.5 * f64::from(index);
        let land = Land { length_mm: 60.0, start_diameter_mm: diameter_mm, end_diameter_mm: diameter_mm };
        WantedLand { land, tolerance: Tolerance::Free, name: format!("Seat {index}") }
    });
    job.shaft.wanted = lands.collect();
    let setup = &mut job.setups[0];
    setup.rests = (0..10_u32)
        .map(|n| midspan::job::Rest { id: RestId(50 + n), ..steady(200.0 * f64::from(n) + 150.0) })
        .collect();
    let pass = setup.passes[0].clone();
    setup.passes = (0..20).map(|n| midspan::job::Pass { id: PassId(200 + n), ..pass.clone() }).collect();
    job.next_id = 300;
    let paper = Paper { size: PageSize::A4, landscape: true };
    let sheet = sheet(&job, &study::compute_with_bands(&job), &Choices { paper, ..Choices::default() });
    assert_eq!(faults(&sheet, paper), Vec::<String>::new());
    let n_pages = sheet.pages.len();
    assert!(n_pages > 1);
    for (index, page) in sheet.pages.iter().enumerate() {
        let text = words(&page.picture);
        assert_eq!(text.contains(&format!(", more on {}", index + 2)), index + 1 < n_pages, "{text}");
        assert_eq!(text.contains("Set-up, continued"), index > 0);
    }
    let all: String = sheet.pages.iter().map(|page| words(&page.picture) + " ").collect();
    assert!((1..=10).all(|number| all.contains(&format!("Steady {number} "))));
}

#[test]
fn jobs_drawn_by_lot_in_fractions_of_an_inch_stay_whole_on_upright_paper() {
    for number in 100..110 {
        let mut job = random_job(number);
        job.units = midspan::job::Units::Inch;
        for size in [PageSize::A4, PageSize::Tabloid] {
            let paper = Paper { size, landscape: false };
            let sheet = sheet(&job, &study::compute_with_bands(&job), &Choices { paper, ..Choices::default() });
            assert_eq!(faults(&sheet, paper), Vec::<String>::new(), "job {number} on {size:?}");
        }
    }
}
