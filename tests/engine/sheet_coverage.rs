//! The bar of what is cut where, measured on the page: to the drawing's scale, in hatches that need no colour, and what
//! nobody cuts is said in words.

use midspan::job::{Job, PassKind, Setup, examples};
use midspan::picture::{Path, Role};
use midspan::sheet::{Choices, Page, Sheet, sheet};
use midspan::study;
use midspan::study::coverage::{Cover, RunKind, coverage};

use crate::page_faults::{parts, words};
use crate::quiet::job as quiet_job;

fn printed(job: &Job) -> Sheet {
    sheet(job, &study::compute_with_bands(job), &Choices::default())
}

fn reach_mm(path: &Path) -> (f64, f64) {
    let mut reach = (f64::INFINITY, f64::NEG_INFINITY);
    path.for_each_point(&mut |point| reach = (reach.0.min(point.right_mm), reach.1.max(point.right_mm)));
    reach
}

/// Bars of one role, without the sample in the legend, which comes first.
fn bars_mm(page: &Page, role: Role) -> Vec<(f64, f64)> {
    let (_, paths) = parts(&page.picture);
    paths.iter().filter(|path| path.role == role).skip(1).map(|path| reach_mm(path)).collect()
}

/// Where z = 0 lies on the page: the middle of the datum's ring, the only round thing among dimensions.
fn datum_mm(page: &Page) -> f64 {
    let (_, paths) = parts(&page.picture);
    let is_ring = |path: &&&Path| {
        path.role == Role::Dimension && path.closed && path.segments.len() == 4 && {
            matches!(path.segments[0], midspan::picture::Segment::Curve(..))
        }
    };
    let (left_mm, right_mm) = reach_mm(paths.iter().find(is_ring).expect("a datum"));
    f64::midpoint(left_mm, right_mm)
}

fn page_of<'a>(sheet: &'a Sheet, setup: &Setup) -> &'a Page {
    sheet.pages.iter().find(|page| page.setup == Some(setup.id)).expect("a page of the set-up")
}

#[test]
fn what_a_set_up_cuts_is_as_long_on_the_bar_as_on_the_drawing() {
    let mut n_seen = 0;
    for example in examples::EXAMPLES {
        let job = examples::load(example.key).unwrap();
        let result = study::compute_with_bands(&job);
        let cover = coverage(&job, &result);
        let sheet = sheet(&job, &result, &Choices::default());
        for setup in &job.setups {
            let page = page_of(&sheet, setup);
            let (zero_mm, ratio) = (datum_mm(page), page.scale.unwrap().ratio());
            let mut wanted: Vec<(f64, f64)> = (cover.setup(setup.id).unwrap().cut.iter())
                .filter(|run| run.kind == RunKind::Outside)
                .map(|run| [run.from_s_mm, run.to_s_mm].map(|s_mm| zero_mm + ratio * setup.z_of_s_mm(&job.shaft, s_mm)))
                .map(|[a, b]| (a.min(b), a.max(b)))
                .collect();
            wanted.sort_by(|a, b| a.0.total_cmp(&b.0));
            let mut shown = bars_mm(page, Role::CutNow);
            shown.sort_by(|a, b| a.0.total_cmp(&b.0));
            assert_eq!(shown.len(), wanted.len(), "{}", example.key);
            for (shown, wanted) in shown.iter().zip(&wanted) {
                assert!((shown.0 - wanted.0).abs() < 1e-6 && (shown.1 - wanted.1).abs() < 1e-6, "{}", example.key);
                n_seen += 1;
            }
        }
    }
    assert!(n_seen >= 11, "{n_seen}");
}

#[test]
fn what_an_earlier_set_up_cut_has_another_hatch_and_the_cover_shows_the_whole_job() {
    let job = examples::load("pump-shaft").unwrap();
    let sheet = printed(&job);
    let [first, second] = [0, 1].map(|index| page_of(&sheet, &job.setups[index]));
    assert!(words(&first.picture).contains("in a later one") && !words(&first.picture).contains("in an earlier one"));
    assert!(words(&second.picture).contains("in an earlier one"));
    assert!(bars_mm(first, Role::CutBefore).is_empty() && !bars_mm(second, Role::CutBefore).is_empty());
    let cover = &sheet.pages[0];
    assert_eq!(cover.setup, None);
    let text = words(&cover.picture);
    assert!(text.contains("cut last in set-up 1") && text.contains("in set-up 2"), "{text}");
    assert!(!bars_mm(cover, Role::CutNow).is_empty() && !bars_mm(cover, Role::CutBefore).is_empty());
}

/// The pass is ended 100 mm short: the drawing wants that length cut too.
#[test]
fn a_length_that_nobody_cuts_is_framed_at_its_place_and_said_in_words() {
    let mut job = quiet_job();
    let pass = &mut job.setups[0].passes[0];
    assert_eq!(pass.kind, PassKind::Turn);
    let (from_mm, to_mm) = (pass.from_z_mm.max(pass.to_z_mm), pass.from_z_mm.min(pass.to_z_mm) + 100.0);
    (pass.from_z_mm, pass.to_z_mm) = (from_mm, to_mm);
    let result = study::compute(&job);
    let cover = coverage(&job, &result);
    let missed = cover.of(Cover::Uncut).max_by(|a, b| a.length_mm().total_cmp(&b.length_mm())).unwrap();
    assert!(missed.length_mm() > 99.0);
    let sheet = sheet(&job, &result, &Choices::default());
    let page = &sheet.pages[0];
    let text = words(&page.picture);
    assert!(text.contains("not cut in any set-up") && text.contains("2.000 mm to come off"), "{text}");
    assert!(text.contains("wanted, but never cut"));
    let (zero_mm, ratio) = (datum_mm(page), page.scale.unwrap().ratio());
    let ends =
        [missed.from_s_mm, missed.to_s_mm].map(|s_mm| zero_mm + ratio * job.setups[0].z_of_s_mm(&job.shaft, s_mm));
    let bars = bars_mm(page, Role::NotCut);
    assert!(
        bars.iter().any(|bar| (bar.0 - ends[0]).abs() < 1e-6 && (bar.1 - ends[1]).abs() < 1e-6),
        "{bars:?} {ends:?}"
    );
}

/// Four short passes with bare stock between them.
#[test]
fn many_lengths_that_nobody_cuts_are_told_by_twos_and_summed_up() {
    let mut job = quiet_job();
    let pass = job.setups[0].passes[0].clone();
    job.setups[0].passes = (0..4)
        .map(|index| {
            let from_z_mm = 290.0 - 60.0 * f64::from(index);
            let id = midspan::job::PassId(100 + index);
            midspan::job::Pass { id, from_z_mm, to_z_mm: from_z_mm - 30.0, ..pass.clone() }
        })
        .collect();
    job.next_id = 200;
    let result = study::compute(&job);
    let n_missed = coverage(&job, &result).of(Cover::Uncut).count();
    assert!(n_missed >= 4, "{n_missed}");
    let text = words(&sheet(&job, &result, &Choices::default()).pages[0].picture);
    assert!(text.contains(&format!("{} more lengths are not cut in any set-up", n_missed - 2)), "{text}");
}
