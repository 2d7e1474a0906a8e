//! The drawing of a set-up has the largest standard scale that the width of the paper allows. Where it has not, the set-up
//! is listed here with the reason, and the reason is checked by asking for that scale.

use midspan::job::{Job, Setup, TailKind, examples};
use midspan::picture::lettering::{Lettering, lettering};
use midspan::picture::proportions::Proportions;
use midspan::picture::tailstock::tail_places;
use midspan::sheet::{Choices, Page, PageSize, Paper, Scale, Sheet, sheet};
use midspan::study::{self, JobResult};

use crate::page_faults::{parts, words};

/// Why a drawing is smaller than the width allows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Why {
    /// The set-up would take two pages even in the smallest letters.
    TwoPages,
    /// A table would be torn.
    Torn,
    /// The drawing alone leaves no room under it.
    TooHigh,
    /// The words would be smaller than is asked of large paper.
    SmallLetters,
}

/// The left edge of the paper's contents, where the figures of the curve have their room.
const FIGURES_MM: f64 = 15.0;

/// Left and right of the datum, what is never left out: the work, the jaws with a third of the chuck, the tailstock's
/// centre and as much of its quill as it is thick.
fn least_reach_mm(job: &Job, setup: &Setup) -> (f64, f64) {
    let sizes = Proportions::of(&job.lathe, setup.drive.kind);
    let chuck_mm = sizes.chuck_front_mm + (sizes.chuck_back_mm - sizes.chuck_front_mm) / 3.0;
    let end_mm = setup.work_end_z_mm(&job.shaft);
    let quill_mm = (job.lathe.quill_diameter_mm.value / 2.0).max(0.07 * sizes.centre_height_mm);
    let places = tail_places(job, setup, &sizes);
    let body_mm = places.body_z_mm - 0.025 * (places.base_end_z_mm - places.body_z_mm);
    let tail_mm = body_mm.min(places.quill_face_z_mm + quill_mm);
    let right_mm = if setup.tail.kind == TailKind::Free { end_mm } else { end_mm.max(tail_mm) };
    (chuck_mm.min(setup.work_start_z_mm), right_mm)
}

fn largest_for_the_width(job: &Job, setup: &Setup, paper: Paper) -> Scale {
    let (left_mm, right_mm) = least_reach_mm(job, setup);
    let room_mm = paper.inside().right_mm - paper.inside().left_mm;
    let fits = |scale: &Scale| (-left_mm * scale.ratio()).max(FIGURES_MM) + right_mm * scale.ratio() <= room_mm;
    Scale::all().find(fits).expect("the smallest scale fits anything")
}

fn page<'a>(sheet: &'a Sheet, setup: &Setup) -> &'a Page {
    sheet.pages.iter().find(|page| page.setup == Some(setup.id)).expect("a page of the set-up")
}

/// What would be wrong with a page drawn to this scale; nothing where it would do.
fn obstacle(job: &Job, result: &JobResult, setup: &Setup, (paper, scale): (Paper, Scale)) -> Option<Why> {
    let choices = Choices { paper, scale: Some(scale), setup: Some(setup.id), ..Choices::default() };
    let sheet = sheet(job, result, &choices);
    let page = page(&sheet, setup);
    if words(&page.picture).contains("the drawing does not fit on") {
        return Some(Why::TooHigh);
    }
    if sheet.pages.len() > 1 {
        return Some(Why::TwoPages);
    }
    let (texts, _) = parts(&page.picture);
    let lists = ["Steps", "Cautions", "Found", "Remarks"];
    if texts
        .iter()
        .any(|text| text.text.ends_with(", continued") && !lists.iter().any(|list| text.text.starts_with(list)))
    {
        return Some(Why::Torn);
    }
    let begun = texts.iter().position(|text| text.text == "Steps").expect("steps stand on it");
    let is_large = matches!(paper.size, PageSize::A3 | PageSize::Tabloid);
    (is_large && lettering(texts[begun + 1].size) != Lettering::Body).then_some(Why::SmallLetters)
}

/// Example, set-up, paper with a scale that it is wide enough for, and reason, of every drawing that is smaller than the width allows.
const SMALLER: &[(&str, usize, &str, Why)] = &[
    ("pump-shaft", 1, "A4, 1:5", Why::TwoPages),
    ("pump-shaft", 2, "A4, 1:5", Why::TwoPages),
    ("pump-shaft", 1, "Letter, 1:5", Why::TwoPages),
    ("pump-shaft", 2, "Letter, 1:5", Why::TwoPages),
    ("pump-shaft", 1, "Letter upright, 1:5", Why::TwoPages),
    ("pump-shaft", 2, "Letter upright, 1:5", Why::TwoPages),
    ("hinge-pin", 1, "A3, 1:1", Why::SmallLetters),
    ("hinge-pin", 1, "Letter, 1:2", Why::TwoPages),
    ("hinge-pin", 1, "Tabloid, 1:1", Why::SmallLetters),
    ("guide-rod", 1, "A4, 1:5", Why::TwoPages),
    ("guide-rod", 2, "A4, 1:5", Why::TwoPages),
    ("guide-rod", 1, "Letter, 1:5", Why::TwoPages),
    ("guide-rod", 2, "Letter, 1:5", Why::TwoPages),
    ("spindle-nose", 1, "A4, 1:2", Why::TwoPages),
    ("spindle-nose", 1, "Letter, 1:2", Why::TwoPages),
    ("spindle-nose", 1, "Letter, 1:5", Why::TwoPages),
    ("spindle-nose", 1, "Letter upright, 1:5", Why::TwoPages),
    ("forged-spindle", 1, "Letter, 1:10", Why::TwoPages),
    ("forged-spindle", 1, "Letter upright, 1:10", Why::TwoPages),
    ("forged-spindle", 1, "Tabloid, 1:5", Why::SmallLetters),
    ("lead-screw", 1, "A4, 1:10", Why::TwoPages),
    ("lead-screw", 2, "A4, 1:10", Why::TwoPages),
    ("boring-bar", 1, "A4, 1:1", Why::TooHigh),
    ("boring-bar", 1, "A3, 1:1", Why::TwoPages),
    ("boring-bar", 1, "A3 upright, 1:1", Why::TooHigh),
    ("boring-bar", 1, "Letter, 1:1", Why::TooHigh),
    ("boring-bar", 1, "Letter upright, 1:2", Why::TwoPages),
    ("boring-bar", 1, "Tabloid, 1:1", Why::SmallLetters),
    ("boring-bar", 1, "Tabloid upright, 1:1", Why::TooHigh),
    ("sleeve", 1, "Letter upright, 1:5", Why::TwoPages),
    ("sleeve", 1, "Tabloid, 1:2", Why::TooHigh),
    ("test-bar", 1, "Tabloid, 1:2", Why::SmallLetters),
];

#[test]
fn every_drawing_has_the_largest_scale_that_the_width_allows_or_a_named_reason() {
    let mut found = Vec::new();
    for example in examples::EXAMPLES {
        let job = examples::load(example.key).unwrap();
        let result = study::compute_with_bands(&job);
        for size in PageSize::ALL {
            for landscape in [true, false] {
                let paper = Paper { size, landscape };
                let named = format!("{}{}", size.name(), if landscape { "" } else { " upright" });
                let sheet = sheet(&job, &result, &Choices { paper, ..Choices::default() });
                for (index, setup) in job.setups.iter().enumerate() {
                    let scale = page(&sheet, setup).scale.unwrap();
                    let largest = largest_for_the_width(&job, setup, paper);
                    assert!(scale.ratio() <= largest.ratio(), "{} {named}: {scale} over {largest}", example.key);
                    if scale != largest {
                        let larger = Scale::all().take_while(|one| *one != scale);
                        for larger in larger.skip_while(|one| *one != largest) {
                            let why = obstacle(&job, &result, setup, (paper, larger));
                            found.push((example.key, index + 1, format!("{named}, {larger}"), why));
                        }
                    }
                }
            }
        }
    }
    let listed = SMALLER.iter().map(|(key, setup, on, why)| (*key, *setup, (*on).to_owned(), Some(*why)));
    assert_eq!(found, listed.collect::<Vec<_>>(), "found and listed");
}
