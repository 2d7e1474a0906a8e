//! What is cut where: examples against a plain second reading of the dials, gaps to the millimetre, seams.

use midspan::advice::{Finding, Verdict, findings};
use midspan::job::{
    Cut, Edit, Feature, FeatureKind, Job, Lathe, Pass, PassId, PassKind, Setup, SetupId, Tolerance, examples,
};
use midspan::study::compute;
use midspan::study::coverage::{Cover, Coverage, FREE_SIZE_MM, RunKind, coverage, table};

use crate::close::close;
use crate::plan_shafts::{job, shaft, wanted};

fn turn(id: u32, from_z_mm: f64, to_z_mm: f64, leave_on_diameter_mm: f64) -> Pass {
    Pass::turn(PassId(id), from_z_mm, to_z_mm, Cut::ToDrawing { leave_on_diameter_mm }, 0.1, 500.0)
}

/// 300 mm of 40 mm bar, 45 mm of it a stub, the rest to be 36 mm; roughed and finished in one holding.
pub fn whole() -> Job {
    let shaft = shaft(&[(300.0, 40.0)], 45.0, vec![wanted(255.0, 36.0, Tolerance::H { grade: 9 })], [true, true]);
    let mut job = job(shaft, Lathe::medium());
    let mut setup = Setup::chuck_and_centre(SetupId(1), 35.0);
    setup.passes = vec![turn(2, 265.0, 10.0, 0.5), turn(3, 265.0, 10.0, 0.0)];
    job.setups = vec![setup];
    job.next_id = 20;
    job
}

/// 400 mm of 40 mm bar, all of it to be 36 mm: one end, then the other, the cuts meeting at `seam_s_mm` from end A.
pub fn both_ends(seam_s_mm: [f64; 2]) -> Job {
    let shaft = shaft(&[(400.0, 40.0)], 0.0, vec![wanted(400.0, 36.0, Tolerance::H { grade: 7 })], [true, true]);
    let mut job = job(shaft, Lathe::medium());
    let mut one = Setup::chuck_and_centre(SetupId(1), 35.0);
    one.passes = vec![turn(2, 365.0, seam_s_mm[0] - 35.0, 0.0)];
    let mut two = Setup { end_for_end: true, ..Setup::chuck_and_centre(SetupId(3), 35.0) };
    two.passes = vec![turn(4, 365.0, 365.0 - seam_s_mm[1], 0.0)];
    job.setups = vec![one, two];
    job.next_id = 20;
    job
}

fn of(job: &Job) -> Coverage {
    coverage(job, &compute(job))
}

/// The stretches in one state as (from, to).
fn lengths(coverage: &Coverage, cover: Cover) -> Vec<(f64, f64)> {
    coverage.of(cover).map(|stretch| (stretch.from_s_mm, stretch.to_s_mm)).collect()
}

fn only_gap(job: &Job) -> (f64, f64) {
    let gaps = lengths(&of(job), Cover::Uncut);
    assert_eq!(gaps.len(), 1, "{gaps:?}");
    gaps[0]
}

fn told(job: &Job, rule: &str) -> Vec<Finding> {
    findings(job, &compute(job)).into_iter().filter(|finding| finding.rule == rule).collect()
}

/// A second way: the dials alone, place by place, as [`Job::dial_diameter_mm`] adds them up.
#[test]
fn examples_are_covered_as_their_dials_say() {
    for example in examples::EXAMPLES {
        let job = examples::load(example.key).unwrap();
        let coverage = of(&job);
        let last = job.setups.last().unwrap().id;
        let length_mm = job.shaft.length_mm();
        close(coverage.stretches.first().unwrap().from_s_mm, 0.0, 0.0, 1e-9);
        close(coverage.stretches.last().unwrap().to_s_mm, length_mm, 0.0, 1e-6);
        for pair in coverage.stretches.windows(2) {
            close(pair[0].to_s_mm, pair[1].from_s_mm, 0.0, 1e-6);
        }
        let mut step = 0;
        for stretch in &coverage.stretches {
            for share in [0.03, 0.25, 0.5, 0.75, 0.97] {
                let s_mm = stretch.from_s_mm + share * stretch.length_mm();
                let dial_mm = job.dial_diameter_mm(last, None, s_mm).unwrap();
                let stock_mm = job.shaft.stock_diameter_mm(s_mm).unwrap();
                let land = job.shaft.wanted_spans().find(|(from, to, _)| (*from..*to).contains(&s_mm));
                let place = format!("{} at {s_mm} mm: {:?}", example.key, stretch.cover);
                let Some((from_mm, _, land)) = land else {
                    assert_eq!(stretch.cover, Cover::NotDrawn, "{place}");
                    continue;
                };
                let wanted_mm = land.land.diameter_at_mm(s_mm - from_mm);
                let limits_mm = land.tolerance.limits_mm(wanted_mm).unwrap_or((-FREE_SIZE_MM, FREE_SIZE_MM));
                let within = dial_mm >= wanted_mm + limits_mm.0 - 1e-6 && dial_mm <= wanted_mm + limits_mm.1 + 1e-6;
                match stretch.cover {
                    Cover::Uncut => assert!((dial_mm - stock_mm).abs() < 1e-9, "{place}"),
                    Cover::Heavy => assert!(dial_mm > wanted_mm + limits_mm.1 && dial_mm < stock_mm, "{place}"),
                    Cover::ToSize => assert!(within && dial_mm < stock_mm, "{place}: {dial_mm} of {wanted_mm}"),
                    Cover::AsStock => assert!((wanted_mm - stock_mm).abs() < 1e-6, "{place}"),
                    Cover::NotDrawn | Cover::Undersize => panic!("{place}"),
                }
                step += 1;
            }
        }
        assert!(step > 0, "{}", example.key);
    }
}

/// Read off the passes of the files: where the last turning pass ends, and where the part begins.
#[test]
fn what_the_examples_leave_uncut_is_known() {
    let known: [(&str, &[(f64, f64)]); 11] = [
        ("boring-bar", &[(50.8, 57.15)]),
        ("forged-spindle", &[(0.0, 1140.0)]),
        ("grinding-arbor", &[]),
        ("guide-rod", &[]),
        ("hinge-pin", &[]),
        ("lead-screw", &[(50.8, 1498.6)]),
        ("plain-roll", &[(220.0, 230.0)]),
        ("pump-shaft", &[]),
        ("sleeve", &[(40.0, 430.0)]),
        ("spindle-nose", &[(0.0, 381.0)]),
        ("test-bar", &[(0.0, 12.7)]),
    ];
    assert_eq!(known.len(), examples::EXAMPLES.len());
    for (key, gaps) in known {
        let found = lengths(&of(&examples::load(key).unwrap()), Cover::Uncut);
        assert_eq!(found.len(), gaps.len(), "{key}: {found:?}");
        for (found, gap) in found.iter().zip(gaps) {
            close(found.0, gap.0, 0.0, 1e-6);
            close(found.1, gap.1, 0.0, 1e-6);
        }
    }
}

/// Its two cuts run 20 mm over each other at one setting of the dial: the later one takes nothing off there.
#[test]
fn where_a_later_cut_only_goes_over_an_earlier_one_the_earlier_one_stays_the_last() {
    let seams = of(&examples::load("grinding-arbor").unwrap()).seams;
    assert_eq!(seams.len(), 1, "{seams:?}");
    close(seams[0].s_mm, 200.0, 0.0, 1e-6);
}

#[test]
fn a_whole_job_leaves_no_gap() {
    let coverage = of(&whole());
    assert_eq!(lengths(&coverage, Cover::ToSize), vec![(45.0, 300.0)]);
    assert_eq!(lengths(&coverage, Cover::NotDrawn), vec![(0.0, 45.0)]);
    assert_eq!(coverage.stretches.len(), 2);
    assert_eq!(coverage.setups[0].held, Some((0.0, 35.0)));
    assert!(told(&whole(), "not_cut").is_empty());
}

#[test]
fn a_pass_shortened_by_5_mm_leaves_a_gap_of_5_mm_and_a_button_that_closes_it() {
    let mut job = whole();
    for pass in &mut job.setups[0].passes {
        pass.to_z_mm += 5.0;
    }
    let (from_mm, to_mm) = only_gap(&job);
    close(from_mm, 45.0, 0.0, 1e-6);
    close(to_mm, 50.0, 0.0, 1e-6);
    let told = told(&job, "not_cut");
    assert_eq!(told.len(), 1, "{told:#?}");
    assert_eq!(told[0].verdict, Verdict::Trouble);
    assert!(told[0].text.contains("45.0 to 50.0 mm from end A"), "{}", told[0].text);
    close(told[0].z_mm.unwrap(), 12.5, 0.0, 1e-6);
    let (_, edit) = told[0].remedy.clone().expect("a pass ends at the gap");
    job.apply(&edit).unwrap();
    assert_eq!(job.setups[0].passes[1].to_z_mm, 10.0);
    assert_eq!(lengths(&of(&job), Cover::Uncut), vec![]);
}

#[test]
fn only_the_finishing_pass_shortened_leaves_work_heavy() {
    let mut job = whole();
    job.setups[0].passes[1].to_z_mm += 5.0;
    let coverage = of(&job);
    assert_eq!(lengths(&coverage, Cover::Uncut), vec![]);
    let heavy: Vec<_> = coverage.of(Cover::Heavy).copied().collect();
    assert_eq!(heavy.len(), 1);
    close(heavy[0].length_mm(), 5.0, 0.0, 1e-6);
    close(heavy[0].by_mm, 0.5, 0.0, 0.02);
    assert_eq!(told(&job, "not_cut")[0].verdict, Verdict::Watch);
}

#[test]
fn a_dial_below_the_drawing_is_undersize_by_plan() {
    let mut job = whole();
    job.setups[0].passes[1].cut = Cut::ToDiameter { diameter_mm: 35.5 };
    let under: Vec<_> = of(&job).of(Cover::Undersize).copied().collect();
    assert_eq!(under.len(), 1);
    close(under[0].by_mm, 0.5, 0.0, 0.02);
    assert_eq!(told(&job, "not_cut")[0].verdict, Verdict::Trouble);
}

#[test]
fn a_gap_in_the_jaws_is_closed_by_turning_the_shaft_end_for_end() {
    let mut one = both_ends([150.0, 150.0]);
    one.setups.truncate(1);
    assert_eq!(only_gap(&one), (0.0, 150.0));
    let job = both_ends([150.0, 150.0]);
    let coverage = of(&job);
    assert_eq!(lengths(&coverage, Cover::Uncut), vec![]);
    let last: Vec<_> = coverage.stretches.iter().map(|stretch| stretch.last).collect();
    assert_eq!(last, vec![Some(SetupId(3)), Some(SetupId(1))]);
    assert_eq!(coverage.setups[1].held, Some((365.0, 400.0)));
}

#[test]
fn two_cuts_that_do_not_meet_leave_what_is_between_them() {
    let (from_mm, to_mm) = only_gap(&both_ends([153.0, 150.0]));
    close(from_mm, 150.0, 0.0, 1e-6);
    close(to_mm, 153.0, 0.0, 1e-6);
}

#[test]
fn a_seam_on_a_fit_is_told_and_one_at_a_shoulder_is_not() {
    let job = both_ends([150.0, 150.0]);
    let seams = of(&job).seams;
    assert_eq!(seams.len(), 1, "{seams:?}");
    close(seams[0].s_mm, 150.0, 0.0, 1e-6);
    assert_eq!((seams[0].setups, seams[0].land), ([SetupId(3), SetupId(1)], Some(0)));
    close(seams[0].overlap_mm, 0.0, 0.0, 1e-6);
    assert_eq!(told(&job, "seam").len(), 1);

    let mut stepped = both_ends([150.0, 150.0]);
    let h7 = Tolerance::H { grade: 7 };
    stepped.shaft.wanted = vec![wanted(150.0, 34.0, h7), wanted(250.0, 36.0, h7)];
    let seams = of(&stepped).seams;
    assert_eq!((seams.len(), seams[0].land), (1, None));
    assert!(told(&stepped, "seam").is_empty());
}

#[test]
fn cuts_that_overlap_say_by_how_much() {
    let mut job = both_ends([150.0, 170.0]);
    job.setups[1].passes[0].cut = Cut::ToDrawing { leave_on_diameter_mm: -0.02 };
    let seams = of(&job).seams;
    assert_eq!(seams.len(), 1, "{seams:?}");
    close(seams[0].s_mm, 170.0, 0.0, 1e-6);
    close(seams[0].overlap_mm, 20.0, 0.0, 1e-6);
    // The first cut stands larger there, by the dial 20 um.
    close(seams[0].step_mm, 0.02, 0.0, 0.01);
}

#[test]
fn a_tolerance_on_stock_left_as_it_is_is_told_but_is_no_trouble() {
    let mut job = whole();
    job.shaft.wanted[0].land = midspan::job::Land::cylinder(255.0, 40.0);
    job.setups[0].passes.clear();
    assert_eq!(only_gap(&job), (45.0, 300.0));
    assert_eq!(told(&job, "not_cut")[0].verdict, Verdict::Watch);
    job.shaft.wanted[0].tolerance = Tolerance::Free;
    assert_eq!(lengths(&of(&job), Cover::AsStock), vec![(45.0, 300.0)]);
    assert!(told(&job, "not_cut").is_empty());
}

#[test]
fn a_thread_is_cut_where_its_root_is_deep_enough() {
    let mut job = whole();
    job.shaft.features =
        vec![Feature { kind: FeatureKind::Thread { pitch_mm: 1.5 }, from_s_mm: 250.0, to_s_mm: 300.0 }];
    assert_eq!(of(&job).features[0].gaps, vec![(250.0, 300.0)]);
    assert_eq!(told(&job, "not_cut").len(), 1);
    let thread = Pass {
        kind: PassKind::Thread,
        feed_mm_per_rev: 1.5,
        cut: Cut::ToDrawing { leave_on_diameter_mm: 0.0 },
        ..turn(5, 265.0, 225.0, 0.0)
    };
    job.setups[0].passes.push(thread);
    let coverage = of(&job);
    let gaps = &coverage.features[0].gaps;
    assert_eq!(gaps.len(), 1, "{gaps:?}");
    close(gaps[0].0, 250.0, 0.0, 1e-6);
    close(gaps[0].1, 260.0, 0.0, 1e-6);
    assert!(coverage.setups[0].cut.iter().any(|run| run.kind == RunKind::Thread));
    job.setups[0].passes[2].to_z_mm = 215.0;
    assert_eq!(of(&job).features[0].gaps, vec![]);
}

#[test]
fn a_groove_of_the_drawing_is_not_undersize() {
    let mut job = whole();
    job.shaft.features =
        vec![Feature { kind: FeatureKind::Groove { depth_mm: 2.0 }, from_s_mm: 100.0, to_s_mm: 104.0 }];
    let groove =
        Pass { kind: PassKind::Groove, cut: Cut::ToDiameter { diameter_mm: 32.0 }, ..turn(5, 69.0, 65.0, 0.0) };
    job.setups[0].passes.push(groove);
    let coverage = of(&job);
    assert_eq!(coverage.features[0].gaps, vec![]);
    assert_eq!(lengths(&coverage, Cover::Undersize), vec![]);
    job.shaft.features.clear();
    let under = lengths(&of(&job), Cover::Undersize);
    assert_eq!(under.len(), 1);
    close(under[0].1 - under[0].0, 4.0, 0.0, 1e-6);
}

#[test]
fn an_end_with_stock_beyond_it_is_made_by_a_facing_or_a_parting_pass() {
    let mut job = whole();
    assert!(of(&job).ends[1].is_none());
    let end = of(&job).ends[0].expect("the stub stands beyond end A of the part");
    close(end.spare_mm, 45.0, 0.0, 1e-9);
    assert_eq!(end.by, None);
    job.setups[0].passes.push(Pass { kind: PassKind::Part, ..turn(5, 10.0, 7.0, 0.0) });
    assert_eq!(of(&job).ends[0].unwrap().by, Some((SetupId(1), PassId(5))));
}

#[test]
fn what_lies_under_a_rest_is_known() {
    let mut job = whole();
    job.apply(&Edit::AddRest {
        setup: SetupId(1),
        rest: midspan::job::Rest::three_jaw(midspan::job::RestId(0), 100.0),
    })
    .unwrap();
    let under = &of(&job).setups[0].under;
    assert_eq!(under.len(), 1);
    let half_mm = job.lathe.rest_jaw_width_mm.value / 2.0;
    close(under[0].1, 135.0 - half_mm, 0.0, 1e-9);
    close(under[0].2, 135.0 + half_mm, 0.0, 1e-9);
}

#[test]
fn the_table_has_a_row_for_each_stretch() {
    let job = both_ends([153.0, 150.0]);
    let text = table::csv(&job, &of(&job));
    assert!(text.starts_with("set-up,what,from_s_mm,to_s_mm,on_diameter_mm\n"));
    assert!(text.contains("\nall,not-cut,150.000,153.000,4.000000\n"), "{text}");
    assert!(text.contains("\n1,in-the-jaws,0.000,35.000,\n"), "{text}");
    for line in text.lines() {
        assert_eq!(line.split(',').count(), 5, "{line}");
    }
}
