//! Every rule is provoked, and what is behind its finding is worked out anew: formulas give what stands beside them, and
//! the number that the finding speaks of is among them.

use std::collections::BTreeSet;
use std::sync::Arc;

use midspan::advice::why::Purpose;
use midspan::advice::{Finding, findings};
use midspan::job::{
    BoreLand, Cut, DriveKind, Feature, FeatureKind, Follower, FollowerSide, Force, Job, Pass, PassId, PassKind, Sleeve,
    Stated, TailKind, TipKind, Tolerance, Units, examples,
};
use midspan::picture::why_sketch::why_sketch;
use midspan::study::{JobResult, Turned, compute, compute_with_bands};

use crate::advice::{set_jaw_force, the_pass, with_steady};
use crate::advice_contact::{pressed, tube};
use crate::advice_endways::{fed_to_the_tailstock, on_centre};
use crate::advice_fights::bar_in_a_rest_in;
use crate::advice_turning::{lobed, turned};
use crate::coverage::both_ends;
use crate::kinds_advice::end_job;
use crate::quiet::{job, land, steady};
use crate::quiet_result::{pass_result, result};
use crate::random_job::random_job;
use crate::why::check;

/// What the words of a finding tell of the formulas behind it.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Tells {
    /// What one comes to.
    Result,
    /// Two numbers that one sets against each other (told in the units that formulas are written in).
    Both,
    /// That it is so; the formula tells more than the words.
    NoNumber,
    /// Stated facts are held against one another: there is no formula.
    NoFormula,
}

type Case = (&'static str, Tells, Job, Option<JobResult>);

/// A job, and what was computed of it where that is made up, for every rule.
fn cases() -> Vec<Case> {
    let changed = |change: &dyn Fn(&mut Job)| {
        let mut job = job();
        change(&mut job);
        job
    };
    let made_up = |rule: &'static str, job: Job| {
        let result = result(&job);
        (rule, Tells::Result, job, Some(result))
    };
    let quiet = |rule: &'static str, change: &dyn Fn(&mut Job)| made_up(rule, changed(change));
    let telling = |tells: Tells, case: Case| (case.0, tells, case.2, case.3);
    let roller = |tip: TipKind| changed(&|job| job.setups[0].rests.push(midspan::job::Rest { tip, ..steady(15.0) }));
    let mut all: Vec<Case> = Vec::new();

    all.push(telling(
        Tells::NoFormula,
        quiet("problems", &|job| job.lathe.swing_over_cross_slide_mm = Stated::given(39.0)),
    ));
    let mut lost = result(&job());
    the_pass(&mut lost).status = midspan::study::Status::NotHeld;
    all.push(("unsolved", Tells::NoFormula, job(), Some(lost)));
    all.push(telling(
        Tells::Both,
        quiet("not_cut", &|job| {
            job.shaft.features.push(Feature {
                kind: FeatureKind::Groove { depth_mm: 2.0 },
                from_s_mm: 200.0,
                to_s_mm: 204.5,
            });
        }),
    ));
    let mut short = crate::coverage::whole();
    short.setups[0].passes.iter_mut().for_each(|pass| pass.to_z_mm += 5.0);
    all.push(("not_cut", Tells::Result, short.clone(), None));
    short.setups[0].passes[1].cut = Cut::ToDiameter { diameter_mm: 35.5 };
    all.push(("not_cut", Tells::Result, short, None));
    for hump_mm in [0.005, 0.012, 0.030, -0.030] {
        let job = job();
        let mut result = result(&job);
        *the_pass(&mut result) = pass_result(&job.setups[0], &job.setups[0].passes[0], hump_mm);
        all.push(("size", Tells::Result, job, Some(result)));
    }
    let mut thread = changed(&|job| {
        job.shaft.wanted.clear();
        job.shaft.stock = vec![land(325.0, 14.0)];
        let pass = &mut job.setups[0].passes[0];
        pass.kind = PassKind::Thread;
        (pass.from_z_mm, pass.to_z_mm, pass.feed_mm_per_rev, pass.speed_rpm) = (250.0, 60.0, 2.0, 60.0);
        pass.cut = Cut::Depth { on_diameter_mm: 1.2 };
    });
    let last =
        Pass { id: PassId(9), cut: Cut::ToDrawing { leave_on_diameter_mm: 0.0 }, ..thread.setups[0].passes[0].clone() };
    thread.setups[0].passes.push(last);
    all.push(("thread_depth", Tells::Result, thread, None));

    for (x_mm, y_mm) in [(-0.1, 0.0), (0.1, 0.0), (0.0, 0.1)] {
        let mut face = end_job(PassKind::Face, 100.0, 100.0, Cut::Depth { on_diameter_mm: 0.5 });
        let rest = &mut face.setups[0].rests[0];
        (rest.offset_x_mm, rest.offset_y_mm) = (x_mm, y_mm);
        all.push(("end_work", Tells::Result, face, None));
    }
    let mut bore = end_job(PassKind::Bore, 100.0, 60.0, Cut::ToDiameter { diameter_mm: 22.0 });
    bore.shaft.bores =
        vec![BoreLand { from_s_mm: 60.0, to_s_mm: 125.0, start_diameter_mm: 20.0, end_diameter_mm: 20.0 }];
    for x_mm in [0.1, -0.1] {
        bore.setups[0].rests[0].offset_x_mm = x_mm;
        all.push(("end_work", Tells::Result, bore.clone(), None));
    }
    let mut drill = end_job(PassKind::Drill, 100.0, 70.0, Cut::ToDiameter { diameter_mm: 6.0 });
    drill.setups[0].tail.offset_x_mm = 0.05;
    all.push(("end_work", Tells::Result, drill, None));
    let mut parted = end_job(PassKind::Part, 43.0, 40.0, Cut::ToDiameter { diameter_mm: 0.0 });
    all.push(("parting", Tells::NoNumber, parted.clone(), None));
    parted.setups[0].rests.clear();
    parted.setups[0].passes[0].force =
        Force::Typed { radial_n: 2000.0, main_n: 0.0, feed_n: 0.0, follows_depth: false };
    parted.shaft.stock = vec![land(125.0, 12.0)];
    all.push(("parting", Tells::Result, parted, None));

    let mut tail = changed(&|job| {
        job.shaft.stock = vec![land(36.0 * 25.4 + 450.0 + 300.0, 0.75 * 25.4)];
        job.setups[0].work_start_z_mm = -450.0 - 36.0 * 25.4;
    });
    tail.shaft.wanted.clear();
    all.push(("bar_tail", Tells::Result, tail, Some(JobResult { setups: vec![], bands: None })));
    all.push(telling(Tells::Both, quiet("chuck_speed", &|job| job.lathe.chuck_max_rpm = Stated::given(360.0))));
    all.push(quiet("power", &|job| job.lathe.power_kw = Stated::given(0.4)));
    all.push(telling(
        Tells::NoFormula,
        quiet("endways", &|job| {
            job.setups[0].drive.kind = DriveKind::CentreAndDog;
            job.setups[0].tail.kind = TailKind::Free;
            job.setups[0].rests.push(steady(250.0));
        }),
    ));
    all.push(made_up("leaves_centre", fed_to_the_tailstock(20.0)));
    for z_mm in [150.0, 60.0] {
        all.push(quiet("in_the_way", &|job| job.setups[0].rests.push(steady(z_mm))));
    }
    all.push(quiet("rest_room", &|job| {
        job.setups[0].passes.clear();
        job.setups[0].rests.push(steady(290.0));
        job.setups[0].tail.quill_out_mm = 0.0;
        job.lathe.centre_length_mm.value = 10.0;
    }));
    all.push(quiet("rest_room", &|job| {
        job.setups[0].rests.push(steady(15.0));
        job.setups[0].rests[0].sleeve = Sleeve::CatHead { diameter_mm: 60.0, width_mm: 40.0 };
        job.lathe.rest_bore_mm = Stated::given(70.0);
    }));
    all.push(quiet("tool_room", &|job| job.lathe.holder_right_mm = Stated::given(110.0)));
    all.push(quiet("tool_room", &|job| {
        job.lathe.carriage_right_mm = Stated::given(110.0);
        job.lathe.wings_pass_tailstock = false;
    }));
    all.push(quiet("tool_room", &|job| job.lathe.nearest_to_jaws_mm = Stated::given(112.0)));
    all.push(quiet("tool_room", &|job| {
        job.setups[0].drive.kind = DriveKind::CentreAndDog;
        job.setups[0].drive.dog.length_mm = Stated::given(105.0);
    }));
    let spot = changed(&|job| job.setups[0].rests.push(steady(200.0)));
    all.push(("bearing_spot", Tells::Result, spot, Some(JobResult { setups: vec![], bands: None })));
    let tapered = with_steady();
    let mut taper = result(&tapered);
    let span = &mut Arc::make_mut(&mut taper.setups[0].before).spans[0];
    (span.start_diameter_mm, span.end_diameter_mm) = (30.0, 40.0);
    (span.start_dial_mm, span.end_dial_mm) = (30.0, 40.0);
    all.push(("bearing_spot", Tells::NoNumber, tapered, Some(taper)));
    all.push(telling(
        Tells::Both,
        quiet("follower_path", &|job| {
            job.setups[0].follower =
                Some(Follower { side: FollowerSide::Ahead, distance_mm: 20.0, ..Follower::usual() });
            let kind = FeatureKind::Keyway { width_mm: 8.0, depth_mm: 4.0 };
            job.shaft.features.push(Feature { kind, from_s_mm: 200.0, to_s_mm: 220.0 });
        }),
    ));
    let mut slack = with_steady();
    slack.setups[0].rests[0].jaws[1].gap_mm = 0.1;
    let mut clear = result(&slack);
    set_jaw_force(the_pass(&mut clear), 1, 0.0);
    all.push(("slack_jaw", Tells::Result, slack, Some(clear)));
    let mut springs = result(&job());
    let station = &mut the_pass(&mut springs).stations[10];
    (station.real_depth_mm, station.spring_y_mm) = (1.8, 1.0);
    all.push(("springy", Tells::Result, job(), Some(springs)));
    for (rule, tip, force_n) in [("jaw_force", TipKind::Bronze, 191.0), ("jaw_marks", TipKind::Roller, 573.0)] {
        let job = roller(tip);
        let result = pressed(&job, force_n);
        all.push((rule, Tells::Result, job, Some(result)));
    }
    let mut dented = tube(37.0);
    dented.setups[0].rests.push(steady(15.0));
    let dent = pressed(&dented, 130.0);
    all.push(("dented_tube", Tells::Result, dented.clone(), Some(dent)));
    // One jaw pressed harder than the others.
    let mut uneven = pressed(&dented, 90.0);
    set_jaw_force(the_pass(&mut uneven), 0, 170.0);
    dented.setups[0].rests[0].jaws[1].angle_rad = 200.3_f64.to_radians();
    all.push(("dented_tube", Tells::Result, dented, Some(uneven)));
    for drive in [DriveKind::ThreeJaw, DriveKind::FourJaw] {
        let mut squeezed = tube(34.0);
        squeezed.setups[0].passes[0].to_z_mm = 30.0;
        squeezed.setups[0].drive.kind = drive;
        squeezed.setups[0].drive.grip_force_n = Stated::given(9000.0);
        all.push(made_up("squeezed_tube", squeezed));
    }
    all.push(quiet("off_axis", &|job| job.setups[0].tail.offset_x_mm = -0.03));
    all.push(telling(Tells::NoNumber, quiet("off_axis", &|job| job.setups[0].tail.offset_y_mm = 0.5)));
    all.push(("off_axis", Tells::Result, bar_in_a_rest_in(4.0, [0.254, 0.0]), None));
    all.push(quiet("fights", &|job| {
        job.setups[0].tail.kind = TailKind::Free;
        job.setups[0].rests.push(steady(250.0));
        job.shaft.bow_tir_mm = 0.2;
    }));
    for warmer_by_k in [10.0, -10.0] {
        let mut warm = on_centre(TailKind::DeadCentre);
        warm.setups[0].warmer_by_k = warmer_by_k;
        all.push(made_up("warm", warm));
    }
    let reading = Turned { left_mm: 0.03, free_mm: 0.041, before_mm: 0.1, ..Turned::default() };
    all.push(("runout", Tells::Result, job(), Some(turned(&job(), reading))));
    let mut close = job();
    close.shaft.wanted[0].tolerance = Tolerance::Limits { lower_mm: -0.005, upper_mm: 0.005 };
    all.push(("runout", Tells::Result, close.clone(), Some(turned(&close, reading))));
    all.push(("seam", Tells::Result, both_ends([150.0, 150.0]), None));
    let round = lobed(3);
    let reading = Turned { roundness_mm: 0.0153, ..Turned::default() };
    let lobes = turned(&round, reading);
    all.push(("out_of_round", Tells::Result, round, Some(lobes)));
    all.push(quiet("overhang", &|job| job.setups[0].tail.kind = TailKind::Free));
    all.push(quiet("slender", &|job| job.shaft.stock = vec![land(425.0, 40.0), land(200.0, 31.0)]));
    let mut shallow = result(&job());
    for station in &mut the_pass(&mut shallow).stations {
        (station.real_depth_mm, station.fp_n, station.ff_n) = (0.6, 225.0, 100.0);
    }
    all.push(("nose_radius", Tells::Result, job(), Some(shallow)));
    all.push(telling(Tells::Both, quiet("speed_step", &|job| job.lathe.speeds_rpm = vec![180.0, 250.0, 355.0, 500.0])));
    all.push(telling(
        Tells::Both,
        quiet("feed_step", &|job| {
            job.lathe.feeds_mm_per_rev = vec![0.08, 0.125, 0.2];
            job.setups[0].passes[0].feed_mm_per_rev = 0.11;
        }),
    ));
    all
}

/// What is wrong with what is behind a finding.
fn faults(job: &Job, finding: &Finding, wrong: &mut Vec<String>) {
    let (why, of) = (&finding.behind, format!("{} ({}): {}", job.title, finding.rule, finding.text));
    assert!(!why.what.is_empty() && !why.source.is_empty() && !why.trust.is_empty(), "{of}");
    assert!(why.what.ends_with('.') && why.more.iter().all(|more| more.ends_with('.')), "{of}: {why:#?}");
    wrong.extend(why.sums.iter().filter_map(|sum| check(sum, &of)));
    if let Some(sketch) = &why.sketch {
        let bounds = why_sketch(sketch, job.units).bounds;
        for edge_mm in [bounds.left_mm, bounds.right_mm, bounds.bottom_mm, bounds.top_mm] {
            assert!(edge_mm.abs() < 500.0, "{of}: {sketch:?} reaches {edge_mm}");
        }
    }
}

/// The words of a finding tell what one of its formulas comes to.
fn tells_a_result(finding: &Finding) -> bool {
    let words = format!("{} {}", finding.text, finding.why);
    let figures = finding.behind.sums.iter().filter(|sum| sum.purpose == Purpose::Figure);
    let is_whole = |at: usize| !words[..at].ends_with(|before: char| before.is_ascii_digit() || ".-/".contains(before));
    figures.into_iter().any(|sum| words.match_indices(&sum.result).any(|(at, _)| is_whole(at)))
}

/// The words of a finding tell two numbers that stand in one of its formulas.
fn tells_both(finding: &Finding) -> bool {
    let is_part = |letter: char| !(letter.is_ascii_digit() || letter == '.');
    let numbers = |text: &str| -> BTreeSet<String> {
        let all = text.split(is_part).filter(|number| number.len() > 1);
        all.filter_map(|number| Some(number.trim_end_matches('.').parse::<f64>().ok()?.to_string())).collect()
    };
    let told = numbers(&finding.text);
    finding.behind.sums.iter().any(|sum| numbers(&sum.numbers).intersection(&told).count() >= 2)
}

#[test]
fn behind_what_every_rule_finds_stands_a_formula_that_gives_the_number_it_speaks_of() {
    let mut wrong = Vec::new();
    let mut provoked = BTreeSet::new();
    for (rule, tells, job, made_up) in cases() {
        for units in [Units::Metric, Units::Inch] {
            let job = Job { units, ..job.clone() };
            let result = made_up.clone().unwrap_or_else(|| compute(&job));
            let found = findings(&job, &result);
            let of_rule: Vec<&Finding> = found.iter().filter(|finding| finding.rule == rule).collect();
            assert!(!of_rule.is_empty(), "{rule} is not provoked: {found:#?}");
            provoked.insert(rule);
            found.iter().for_each(|finding| faults(&job, finding, &mut wrong));
            let is_told = match tells {
                Tells::Result => of_rule.iter().all(|finding| tells_a_result(finding)),
                Tells::Both => units == Units::Inch || of_rule.iter().all(|finding| tells_both(finding)),
                Tells::NoNumber => of_rule.iter().all(|finding| !finding.behind.sums.is_empty()),
                Tells::NoFormula => of_rule.iter().all(|finding| finding.behind.sums.is_empty()),
            };
            if !is_told {
                wrong.push(format!("{rule} {units:?} does not tell its number: {of_rule:#?}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{} wrong: {}", wrong.len(), wrong.join("\n"));
    // As many as there are: a new rule comes with a case here.
    let rules = std::fs::read_dir(format!("{}/src/advice", env!("CARGO_MANIFEST_DIR"))).unwrap();
    let rules: BTreeSet<String> = rules
        .filter_map(|entry| std::fs::read_to_string(entry.unwrap().path()).ok())
        .flat_map(|text| {
            text.split("rule: \"")
                .skip(1)
                .filter_map(|rest| Some(rest.split_once('"')?.0.to_owned()))
                .collect::<Vec<_>>()
        })
        .collect();
    assert!(rules.len() > 30, "{rules:?}");
    assert_eq!(rules, provoked.into_iter().map(str::to_owned).collect());
}

#[test]
fn so_do_all_findings_of_the_examples_and_of_jobs_drawn_by_lot() {
    let mut wrong = Vec::new();
    let mut n_sums = 0;
    let mut see = |job: &Job| {
        for finding in findings(job, &compute_with_bands(job)) {
            faults(job, &finding, &mut wrong);
            n_sums += finding.behind.sums.len();
        }
    };
    for example in examples::EXAMPLES {
        for units in [Units::Metric, Units::Inch] {
            see(&Job { units, ..examples::load(example.key).unwrap() });
        }
    }
    for number in 0..40 {
        see(&Job { title: format!("job {number}"), ..random_job(number) });
    }
    assert!(wrong.is_empty(), "{} wrong: {}", wrong.len(), wrong.join("\n"));
    assert!(n_sums > 300, "{n_sums} formulas");
}
