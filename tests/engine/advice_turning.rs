//! Rules about what turns with the work: a quiet set-up, one change, exactly one finding.

use midspan::advice::{Finding, findings, runout};
use midspan::job::{DogKind, DriveKind, Edit, Job, Spot, Subject, TailKind, Tolerance};
use midspan::study::{JobResult, Turned, compute};

use crate::close::close;
use crate::quiet::{PASS, REST, SETUP, job, land, steady};
use crate::quiet_result::{pass_result, result};

/// What is to be said beyond "fine", but for the length that the one short pass leaves uncut.
fn remarks(job: &Job, result: &JobResult) -> Vec<Finding> {
    crate::remarks::remarks(job, result).into_iter().filter(|finding| finding.rule != "not_cut").collect()
}

fn only(job: &Job, result: &JobResult) -> Finding {
    let mut all = remarks(job, result);
    assert_eq!(all.len(), 1, "{all:#?}");
    all.remove(0)
}

/// A made-up result that leaves the same on every place of the pass.
pub fn turned(job: &Job, turned: Turned) -> JobResult {
    let mut result = result(job);
    let pass = &mut result.setups[0].passes[0];
    *pass = pass_result(&job.setups[0], &job.setups[0].passes[0], 0.0);
    pass.turns = true;
    pass.stations.iter_mut().for_each(|station| station.turned = turned);
    result
}

#[test]
fn run_out_is_told_above_twenty_micrometres_as_held_and_let_go() {
    let job = job();
    assert_eq!(remarks(&job, &turned(&job, Turned { left_mm: 0.0199, free_mm: 0.0199, ..Turned::default() })), vec![]);
    for told in [Turned { left_mm: 0.0201, ..Turned::default() }, Turned { free_mm: 0.0201, ..Turned::default() }] {
        let finding = only(&job, &turned(&job, told));
        assert_eq!((finding.rule, finding.about), ("runout", Subject::Pass(SETUP, PASS)));
        assert!(finding.text.contains("not an error of size"), "{}", finding.text);
    }
    // What was there before the cut is no longer there.
    assert_eq!(remarks(&job, &turned(&job, Turned { before_mm: 0.5, ..Turned::default() })), vec![]);
}

#[test]
fn a_closer_tolerance_leaves_run_out_half_of_itself() {
    let mut job = job();
    job.shaft.wanted[0].tolerance = Tolerance::Limits { lower_mm: -0.005, upper_mm: 0.005 };
    assert_eq!(remarks(&job, &turned(&job, Turned { left_mm: 0.0049, ..Turned::default() })), vec![]);
    assert_eq!(only(&job, &turned(&job, Turned { left_mm: 0.0051, ..Turned::default() })).rule, "runout");
}

/// By hand: a bar clamped straight in a grip 60 µm out of true and led to the axis by its tailstock centre lies along
/// `1 - ((3ζ² - ζ³)/2 + sζ)/(1 + s)` of 30 µm (propped cantilever, `s = 3EI/κGAL²` for shear); turned true to the spindle
/// axis and let go, the surface runs out of true with the bar by twice that: 60 µm x 0.850 = 51 µm at a third of the
/// length. Little is taken off, so that the bar is as stiff all along.
#[test]
fn a_grip_out_of_true_leaves_run_out_once_the_work_is_let_go() {
    let mut job = job();
    job.shaft.stock = vec![land(325.0, 38.4)];
    job.setups[0].drive.runout_tir_mm = 0.06;
    let result = compute(&job);
    let finding = only(&job, &result);
    assert_eq!((finding.rule, finding.z_mm), ("runout", Some(100.0)));
    for words in ["0 \u{b5}m as held", "51 \u{b5}m once let go", "from the grip (60 \u{b5}m out of true)"] {
        assert!(finding.text.contains(words), "{words}: {}", finding.text);
    }
    let free_mm = result.setups[0].passes[0].stations[0].turned.free_mm;
    // κ of a round section, 6(1 + ν)/(7 + 6ν) with ν 0.3: Cowper (1966).
    let s = 7.8 * 38f64.powi(2) / (16.0 * (7.8 / 8.8) * 300f64.powi(2));
    let led_away = ((3.0 / 9.0 - 1.0 / 27.0) / 2.0 + s / 3.0) / (1.0 + s);
    close(free_mm, 0.06 * (1.0 - led_away), 3e-3, 0.0);
    job.apply(&finding.remedy.expect("indicate it true").1).expect("the remedy can be made");
    assert_eq!(remarks(&job, &compute(&job)), vec![]);
}

#[test]
fn a_bent_bar_and_a_centre_hole_off_the_middle_are_named_the_larger_first() {
    let told = |bow_tir_mm: f64, hole_tir_mm: f64| {
        let mut job = job();
        job.shaft.bow_tir_mm = bow_tir_mm;
        job.shaft.centre_hole_b.as_mut().expect("a hole").off_tir_mm = hole_tir_mm;
        only(&job, &turned(&job, Turned { free_mm: 0.1, ..Turned::default() })).text
    };
    assert!(told(0.3, 0.0).ends_with("from the bent bar (300 \u{b5}m)"), "{}", told(0.3, 0.0));
    let both = told(0.1, 0.2);
    assert!(both.ends_with("from a centre hole off the middle (200 \u{b5}m) and the bent bar (100 \u{b5}m)"), "{both}");
    assert!(!told(0.3, 0.01).contains("hole"), "a thirtieth is not worth naming");
    // The hole at the chuck holds nothing.
    let mut job = job();
    job.shaft.centre_hole_a.as_mut().expect("a hole").off_tir_mm = 0.2;
    let text = only(&job, &turned(&job, Turned { free_mm: 0.1, ..Turned::default() })).text;
    assert!(text.contains("an earlier set-up"), "{text}");
}

#[test]
fn a_dog_with_one_tail_is_named_and_two_tails_mend_it() {
    let mut job = job();
    let setup = &mut job.setups[0];
    setup.drive.kind = DriveKind::CentreAndDog;
    setup.tail.kind = TailKind::DeadCentre;
    setup.drive.dog.kind = DogKind::OneTail;
    let told = turned(&job, Turned { left_mm: 0.03, ..Turned::default() });
    let finding = findings(&job, &told).into_iter().find(|finding| finding.rule == "runout").expect("run-out");
    assert!(finding.text.ends_with("from the one-tail dog"), "{}", finding.text);
    let Some((_, Edit::SetDrive { drive, .. })) = finding.remedy else { panic!("no remedy") };
    assert_eq!(drive.dog.kind, DogKind::TwoTails);
}

/// A later pass over the same places takes the run-out of the one before with it.
#[test]
fn only_what_the_last_pass_leaves_is_told() {
    let mut job = job();
    let again = midspan::job::Pass { id: midspan::job::PassId(3), ..job.setups[0].passes[0].clone() };
    job.setups[0].passes.push(again);
    let mut told = turned(&job, Turned { left_mm: 0.1, ..Turned::default() });
    assert_eq!(remarks(&job, &told), vec![]);
    told.setups[0].passes.swap(0, 1);
    let ids = [PASS, midspan::job::PassId(3)];
    told.setups[0].passes.iter_mut().zip(ids).for_each(|(pass, id)| pass.pass = id);
    assert_eq!(only(&job, &told).about, Subject::Pass(SETUP, ids[1]));
}

/// By hand: work that runs out by 60 µm needs as much off its diameter to be cut all round; 20 µm leaves a bare side.
#[test]
fn a_cut_too_shallow_to_clean_up_is_told_as_such() {
    let mut job = job();
    job.shaft.stock = vec![land(325.0, 38.02)];
    job.setups[0].drive.runout_tir_mm = 0.06;
    let told = |job: &Job| findings(job, &compute(job)).into_iter().find(|finding| finding.rule == "out_of_round");
    let finding = told(&job).expect("a bare side");
    assert!(finding.text.contains("the cut does not clean it up"), "{}", finding.text);
    job.shaft.stock = vec![land(325.0, 38.4)];
    assert_eq!(told(&job), None);
}

pub fn lobed(n_lobes: u32) -> Job {
    let mut job = job();
    job.setups[0].rests.push(steady(15.0));
    job.setups[0].rests[0].spot = Spot { n_lobes, height_mm: 0.02 };
    job
}

/// Source: odd lobes measure the same across everywhere, so that two points do not show them (texts on measuring
/// roundness, from memory).
#[test]
fn odd_lobes_come_with_the_warning_that_a_micrometer_does_not_show_them() {
    let job = lobed(3);
    assert_eq!(remarks(&job, &turned(&job, Turned { roundness_mm: 0.0099, ..Turned::default() })), vec![]);
    let finding = only(&job, &turned(&job, Turned { roundness_mm: 0.0101, ..Turned::default() }));
    assert_eq!((finding.rule, finding.about), ("out_of_round", Subject::Rest(SETUP, REST)));
    assert!(finding.text.contains("3 lobes of 20 \u{b5}m"), "{}", finding.text);
    assert!(finding.why.contains("A micrometer will not show odd lobes"), "{}", finding.why);
    let even = lobed(4);
    let finding = only(&even, &turned(&even, Turned { roundness_mm: 0.02, ..Turned::default() }));
    assert!(finding.why.contains("A micrometer shows lobes of an even number"), "{}", finding.why);
}

#[test]
fn a_closer_tolerance_leaves_roundness_a_quarter_of_itself() {
    let mut job = lobed(3);
    job.shaft.wanted[0].tolerance = Tolerance::Limits { lower_mm: -0.005, upper_mm: 0.005 };
    assert_eq!(remarks(&job, &turned(&job, Turned { roundness_mm: 0.0024, ..Turned::default() })), vec![]);
    assert_eq!(only(&job, &turned(&job, Turned { roundness_mm: 0.0026, ..Turned::default() })).rule, "out_of_round");
}

/// The study itself copies the lobes of a spot next to the cut, and a true spot leaves round work. Five of them: three
/// lobes under three jaws all come at once and move nothing.
#[test]
fn the_lobes_of_a_spot_beside_the_cut_come_out_on_the_work_until_the_spot_is_turned_true() {
    let mut job = lobed(5);
    let rest = &mut job.setups[0].rests[0];
    rest.z_mm = 90.0;
    rest.spot.height_mm = 0.06;
    let told = |job: &Job| -> Vec<Finding> {
        let is_told = |finding: &Finding| ["runout", "out_of_round"].contains(&finding.rule);
        findings(job, &compute(job)).into_iter().filter(is_told).collect()
    };
    let found = told(&job);
    assert_eq!(found.iter().map(|finding| finding.rule).collect::<Vec<_>>(), ["out_of_round"], "{found:#?}");
    job.apply(&found[0].remedy.clone().expect("turn it true").1).expect("the remedy can be made");
    assert_eq!(told(&job), vec![]);
}

#[test]
fn nothing_is_to_be_seen_where_all_runs_true() {
    let quiet = job();
    assert!(!runout::can_be_seen(&compute(&quiet).setups[0]));
    let mut bent = job();
    bent.shaft.bow_tir_mm = 0.1;
    assert!(runout::can_be_seen(&compute(&bent).setups[0]));
}
