//! Plans for invented shafts: whole, legal, in the trade's order, or a plain word why there is none.

use midspan::advice::{Verdict, findings, plan_words};
use midspan::job::{Cut, DriveKind, Job, Lathe, Pass, PassKind, Rest, Setup, Sleeve, TailKind, Tolerance, examples};
use midspan::study::coverage::{Cover, coverage};
use midspan::study::plan::{NoPlan, Plan, What, Why, plan};
use midspan::study::{Status, compute};
use proptest::prelude::*;

use crate::plan_shafts::{job, shaft, shafts, wanted};

fn planned(job: &Job) -> Plan {
    plan(job, &|| true).unwrap_or_else(|why| panic!("{why:?}"))
}

/// The job with its plan taken.
fn taken(job: &Job, plan: &Plan) -> Job {
    let mut taken = job.clone();
    taken.apply(&plan.edit(job)).expect("a plan is legal");
    taken
}

fn named(name: &str) -> Job {
    shafts().into_iter().find(|(known, _)| *known == name).expect("it is in the list").1
}

/// What every plan must keep.
fn is_sound(name: &str, job: &Job, plan: &Plan) {
    let taken = taken(job, plan);
    assert_eq!(taken.check(), [], "{name}");
    let result = compute(&taken);
    assert!(
        result.setups.iter().flat_map(|setup| &setup.passes).all(|pass| pass.status == Status::Solved),
        "{name}: {:?}",
        result.setups.iter().flat_map(|setup| &setup.passes).map(|pass| pass.status).collect::<Vec<_>>()
    );
    let coverage = coverage(&taken, &result);
    let left_mm = |cover| coverage.of(cover).filter(|one| one.by_mm > 0.0).map(|one| one.length_mm()).sum::<f64>();
    let uncut_mm = left_mm(Cover::Uncut) + left_mm(Cover::Undersize) + left_mm(Cover::Heavy);
    let told_mm: f64 = plan.left.iter().map(|stretch| stretch.length_mm()).sum();
    assert!((uncut_mm - told_mm).abs() < 1e-6, "{name}: {uncut_mm} mm left, {told_mm} mm told");
    in_order(name, &taken);
    for step in &plan.steps {
        assert!(step.setup < plan.setups().len(), "{name}: {step:?}");
        assert_eq!(step.comes_to.is_some(), !step.passes.is_empty(), "{name}: {step:?}");
        assert!(!plan_words::heading(job, plan, step).is_empty());
        assert!(!step.why.is_empty() && plan_words::reasons(job, step).iter().all(|words| words.ends_with('.')));
    }
    // Lengths and speeds are ones that this lathe has, and nothing is in the way of anything.
    let bad: Vec<_> = findings(&taken, &result)
        .into_iter()
        .filter(|finding| match finding.rule {
            "in_the_way" | "tool_room" | "rest_room" | "bearing_spot" | "speed_step" | "feed_step" => {
                finding.verdict > Verdict::Fine
            }
            "problems" | "unsolved" | "power" | "chuck_speed" | "endways" | "leaves_centre" | "bar_tail" => {
                finding.verdict == Verdict::Trouble
            }
            _ => false,
        })
        .map(|finding| format!("{}: {}", finding.rule, finding.text))
        .collect();
    assert_eq!(bad, Vec::<String>::new(), "{name}");
}

/// Thinner than three quarters of the thickest land on either side.
fn is_neck(job: &Job, s_mm: f64) -> bool {
    let thickest_mm = |on_side: &dyn Fn(f64, f64) -> bool| {
        (job.shaft.wanted_spans().filter(|(from_mm, to_mm, _)| on_side(*from_mm, *to_mm)))
            .map(|(_, _, one)| one.land.start_diameter_mm.max(one.land.end_diameter_mm))
            .fold(0.0, f64::max)
    };
    let (before_mm, after_mm) = (thickest_mm(&|_, to_mm| to_mm <= s_mm), thickest_mm(&|from_mm, _| from_mm >= s_mm));
    job.shaft.wanted_diameter_mm(s_mm).is_some_and(|wanted_mm| wanted_mm < 0.75 * before_mm.min(after_mm))
}

/// The pass is along a neck.
fn cuts_a_neck(job: &Job, setup: &Setup, pass: &Pass) -> bool {
    is_neck(job, setup.s_of_z_mm(&job.shaft, f64::midpoint(pass.from_z_mm, pass.to_z_mm)))
}

/// Rough cuts go down level by level, and come before finishing in their set-up: heavy before thin. A neck comes after
/// all that.
fn in_order(name: &str, job: &Job) {
    for setup in job.setups.iter().filter(|setup| !setup.name.ends_with("spot")) {
        let mut level_mm = f64::INFINITY;
        let (mut finishing, mut in_neck) = (false, false);
        for pass in setup.passes.iter().filter(|pass| pass.kind == PassKind::Turn) {
            if cuts_a_neck(job, setup, pass) {
                in_neck = true;
                continue;
            }
            assert!(!in_neck, "{name}: a neck before its neighbours");
            match pass.cut {
                Cut::ToDiameter { diameter_mm } => {
                    assert!(diameter_mm <= level_mm + 1e-9, "{name}: a thin one before a heavy one");
                    assert!(!finishing, "{name}: roughing after finishing");
                    level_mm = diameter_mm;
                }
                Cut::ToDrawing { leave_on_diameter_mm } if leave_on_diameter_mm > 0.3 => {
                    assert!(!finishing, "{name}: roughing after finishing");
                }
                _ => finishing = true,
            }
        }
    }
}

#[test]
fn every_invented_shaft_gets_a_sound_plan_that_cuts_all() {
    let all = shafts();
    assert!(all.len() >= 8);
    for (name, job) in all {
        let plan = planned(&job);
        assert_eq!(plan.left, [], "{name}");
        is_sound(name, &job, &plan);
        let made = coverage(&plan.job, &plan.result);
        assert!(made.features.iter().all(|feature| feature.gaps.is_empty()), "{name}: {:?}", made.features);
    }
}

#[test]
fn every_example_gets_a_sound_plan() {
    for example in examples::EXAMPLES {
        let job = examples::load(example.key).unwrap();
        match plan(&job, &|| true) {
            Ok(plan) => is_sound(example.key, &job, &plan),
            Err(why) => panic!("{}: {why:?}", example.key),
        }
    }
}

type Is = fn(&Plan) -> bool;

/// Worked set-ups of the trade, and shafts that ask for them. Common practice, no source.
#[test]
fn worked_set_ups_are_given_to_shafts_that_ask_for_them() {
    let chuck_and_centre: Is = |plan| {
        let [one] = plan.setups() else { return false };
        one.drive.kind == DriveKind::ThreeJaw && one.tail.kind != TailKind::Free && one.rests.is_empty()
    };
    let follower: Is = |plan| plan.setups().iter().all(|setup| setup.follower.is_some());
    let steady_at_the_end: Is = |plan| {
        let carries = |setup: &Setup| setup.tail.kind == TailKind::Free && setup.rests.len() == 1;
        plan.setups().iter().any(|setup| carries(setup) && setup.passes.iter().any(|pass| pass.kind == PassKind::Drill))
    };
    let cat_head: Is = |plan| {
        let is_cat_head = |rest: &Rest| matches!(rest.sleeve, Sleeve::CatHead { .. });
        plan.setups().iter().flat_map(|setup| &setup.rests).any(is_cat_head)
    };
    let through_spindle: Is = |plan| {
        let whats = plan.steps.iter().map(|step| step.what);
        whats.filter(|what| matches!(what, What::FaceAndCentre { through_spindle: true, .. })).count() == 2
    };
    let bull_nose: Is = |plan| plan.setups().iter().any(|setup| setup.tail.kind == TailKind::BullNose);
    let end_for_end: Is = |plan| plan.steps.iter().any(|step| step.what == What::TurnEndForEnd);
    let leapfrog: Is = |plan| plan.steps.iter().any(|step| step.why.contains(&Why::Leapfrog));
    let moved: Is = |plan| plan.steps.iter().any(|step| matches!(step.what, What::MoveRest { .. }));
    let lead_screw = || examples::load("lead-screw").unwrap();
    let worked: [(&str, Job, Is); 10] = [
        ("chuck and centre", named("with a stub to hold"), chuck_and_centre),
        ("follower along one diameter", named("slender rod"), follower),
        ("steady at the end to drill a centre", named("no centres"), steady_at_the_end),
        ("cat head on rough stock", named("no centres"), cat_head),
        ("through the spindle", named("thin bar without centres"), through_spindle),
        ("bull-nose centre in a tube", named("tube"), bull_nose),
        ("end for end", named("stepped both ways"), end_for_end),
        ("spot and steady", named("slender and stepped"), |plan| plan.setups().iter().any(|one| !one.rests.is_empty())),
        ("leapfrog", lead_screw(), leapfrog),
        ("steady moved to the other side", lead_screw(), moved),
    ];
    for (what, job, is_given) in worked {
        let plan = planned(&job);
        assert!(is_given(&plan), "{what}:\n{}", plan_words::text(&job, &plan));
    }
}

#[test]
fn a_short_stub_needs_neither_tailstock_nor_rest() {
    let plan = planned(&named("stub"));
    assert_eq!(plan.setups().len(), 1);
    assert_eq!(plan.setups()[0].tail.kind, TailKind::Free);
    assert!(plan.setups()[0].rests.is_empty() && plan.setups()[0].follower.is_none());
}

#[test]
fn a_shaft_that_has_no_stub_is_turned_end_for_end_and_meets_at_a_shoulder() {
    let job = named("stepped both ways");
    let plan = planned(&job);
    let ways: Vec<bool> = plan.setups().iter().map(|setup| setup.end_for_end).collect();
    assert!(ways.contains(&true) && ways.contains(&false));
    let at_shoulder = plan.steps.iter().flat_map(|step| &step.why).any(|why| matches!(why, Why::SeamAtShoulder { .. }));
    assert!(at_shoulder);
    assert_eq!(plan.outside_mm, 0.0);
    // Close tolerances: all is roughed before anything is finished on the end cut first.
    let first_finish = plan.steps.iter().position(|step| matches!(step.what, What::Finish { .. })).unwrap();
    let last_rough = plan.steps.iter().rposition(|step| matches!(step.what, What::Rough { .. })).unwrap();
    assert!(last_rough < first_finish, "{:#?}", plan.steps);
}

/// Largest error of the lands beside the neck.
fn worst_beside_mm(job: &Job) -> f64 {
    let result = compute(job);
    let after = result.setups.last().expect("a set-up").after();
    let mut worst_mm = 0.0_f64;
    for (from_mm, to_mm, wanted) in job.shaft.wanted_spans().filter(|(from_mm, ..)| !is_neck(job, from_mm + 1.0)) {
        for span in after.spans.iter().filter(|span| span.from_s_mm >= from_mm && span.to_s_mm <= to_mm) {
            worst_mm = worst_mm.max((span.start_diameter_mm - wanted.land.start_diameter_mm).abs());
        }
    }
    worst_mm
}

/// The sweep itself says why: the same passes with those of the neck first leave the lands far worse.
#[test]
fn a_neck_is_cut_once_the_lands_beside_it_are_finished_and_cut_first_it_would_spoil_them() {
    let job = named("thin neck");
    let plan = planned(&job);
    assert!(plan.steps.iter().any(|step| step.why.contains(&Why::NeckLast)));
    let right = taken(&job, &plan);
    let mut wrong = right.clone();
    for setup in &mut wrong.setups {
        let (necks, lands): (Vec<Pass>, Vec<Pass>) =
            setup.passes.drain(..).partition(|pass| cuts_a_neck(&right, right.setup(setup.id).unwrap(), pass));
        setup.passes = necks.into_iter().chain(lands).collect();
    }
    assert_ne!(right.setups, wrong.setups);
    let (right_mm, wrong_mm) = (worst_beside_mm(&right), worst_beside_mm(&wrong));
    assert!(wrong_mm > 1.5 * right_mm, "{wrong_mm} against {right_mm}");
}

#[test]
fn a_slender_rod_of_one_diameter_gets_a_follower_and_says_what_it_is_worth() {
    let plan = planned(&named("slender rod"));
    assert!(plan.setups().iter().all(|setup| setup.follower.is_some()));
    let worth = plan.steps.iter().flat_map(|step| &step.why).find_map(|why| match why {
        Why::Stiffer { without_mm, with_mm } => Some((*without_mm, *with_mm)),
        _ => None,
    });
    let (without_mm, with_mm) = worth.expect("the follower has a reason");
    assert!(with_mm < 0.1 * without_mm, "{with_mm} of {without_mm}");
    assert_eq!(plan.outside_mm, 0.0);
}

#[test]
fn a_slender_stepped_shaft_gets_a_spot_before_its_steady() {
    let plan = planned(&named("slender and stepped"));
    let spot = plan.steps.iter().position(|step| matches!(step.what, What::Spot { .. })).expect("a spot");
    let rest = plan.steps.iter().position(|step| matches!(step.what, What::SetRest { .. })).expect("a rest");
    assert!(spot < rest && plan.steps[spot].setup < plan.steps[rest].setup);
    assert!(plan.setups().iter().any(|setup| !setup.rests.is_empty()));
}

#[test]
fn ends_without_centres_are_faced_and_centred_before_anything_runs_on_them() {
    let job = named("no centres");
    let plan = planned(&job);
    let taken = taken(&job, &plan);
    assert!(taken.shaft.centre_hole_a.is_some() && taken.shaft.centre_hole_b.is_some());
    let drilled = |turned: bool| {
        taken.setups.iter().position(|setup| {
            setup.end_for_end == turned && setup.passes.iter().any(|pass| pass.kind == PassKind::Drill)
        })
    };
    for (index, setup) in taken.setups.iter().enumerate() {
        if setup.tail.kind != TailKind::Free {
            let at = drilled(setup.end_for_end).expect("its end is drilled");
            assert!(at < index);
        }
    }
    // 3 mm stand beyond end B of the finished part.
    let end = coverage(&taken, &compute(&taken)).ends[1].expect("stock beyond end B");
    assert!(end.by.is_some(), "{end:?}");
}

#[test]
fn stock_too_large_for_the_chuck_runs_between_its_centres() {
    let mut job = named("heavy roll");
    job.lathe.chuck_diameter_mm.value = 120.0;
    let plan = planned(&job);
    assert!(plan.setups().iter().all(|setup| setup.drive.kind == DriveKind::CentreAndDog));
    is_sound("heavy roll between centres", &job, &plan);
    job.shaft.centre_hole_a = None;
    let why = plan_why(&job);
    assert!(matches!(why[..], [NoPlan::TooLargeForChuck { .. }]), "{why:?}");
}

fn plan_why(job: &Job) -> Vec<NoPlan> {
    plan(job, &|| true).expect_err("no plan")
}

#[test]
fn where_there_is_no_plan_it_says_why() {
    let wide = Tolerance::Limits { lower_mm: -0.1, upper_mm: 0.1 };
    let with = |stock: &[(f64, f64)], lands| job(shaft(stock, 0.0, lands, [true, true]), Lathe::small());
    let long = with(&[(900.0, 30.0)], vec![wanted(900.0, 28.0, wide)]);
    assert!(matches!(plan_why(&long)[..], [NoPlan::TooLong { .. }]), "{:?}", plan_why(&long));
    let heavy = with(&[(480.0, 120.0)], vec![wanted(480.0, 118.0, wide)]);
    assert!(matches!(plan_why(&heavy)[0], NoPlan::TooHeavy { .. }), "{:?}", plan_why(&heavy));
    let large = with(&[(60.0, 200.0)], vec![wanted(60.0, 190.0, wide)]);
    assert!(plan_why(&large).iter().any(|why| matches!(why, NoPlan::TooLargeForSlide { .. })));
    let nothing = with(&[(300.0, 30.0)], vec![]);
    assert_eq!(plan_why(&nothing), [NoPlan::NothingToCut]);
    let wrong = with(&[(300.0, 30.0)], vec![wanted(300.0, 31.0, wide)]);
    assert!(matches!(plan_why(&wrong)[0], NoPlan::Problem(_)));
    for job in [long, heavy, large, nothing, wrong] {
        for why in plan_why(&job) {
            assert!(plan_words::no_plan(&job, &why).ends_with('.'));
        }
    }
}

#[test]
fn it_stops_when_asked() {
    assert_eq!(plan(&named("stepped both ways"), &|| false), Err(vec![NoPlan::Stopped]));
}

#[test]
fn taking_a_plan_replaces_every_set_up_and_drops_the_readings_of_passes_that_are_gone() {
    let mut job = named("thin neck");
    job.readings.push(midspan::job::Reading {
        pass: midspan::job::PassId(77),
        z_mm: 10.0,
        diameter_mm: 42.0,
        warmer_by_k: None,
    });
    let plan = planned(&job);
    let taken = taken(&job, &plan);
    assert_eq!(taken.setups.len(), plan.setups().len());
    assert!(taken.readings.is_empty());
    assert!(taken.setups.iter().all(|setup| setup.id.0 >= job.next_id));
}

fn lands() -> impl Strategy<Value = Vec<(f64, f64, u8)>> {
    prop::collection::vec((8.0..260.0, 0.35..1.0, 0_u8..4), 1..6)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn random_shafts_are_cut_whole_or_the_reason_is_told(
        lands in lands(),
        diameter_mm in 8.0..140.0_f64,
        stub_mm in prop_oneof![Just(0.0), 10.0..80.0_f64],
        spare_mm in prop_oneof![Just(0.0), 0.5..30.0_f64],
        holes in any::<[bool; 2]>(),
        size in 0_usize..3,
    ) {
        let tolerance = |kind| match kind {
            0 => Tolerance::Free,
            1 => Tolerance::H { grade: 8 },
            2 => Tolerance::Js { grade: 10 },
            _ => Tolerance::Limits { lower_mm: -0.1, upper_mm: 0.05 },
        };
        let parts: Vec<_> =
            lands.iter().map(|(length_mm, ratio, kind)| wanted(*length_mm, ratio * diameter_mm, tolerance(*kind))).collect();
        let length_mm = stub_mm + spare_mm + lands.iter().map(|land| land.0).sum::<f64>();
        let lathe = midspan::job::lathes::lathes()[size].clone();
        let job = job(shaft(&[(length_mm, diameter_mm)], stub_mm, parts, holes), lathe);
        match plan(&job, &|| true) {
            Ok(plan) => is_sound("drawn by lot", &job, &plan),
            Err(why) => {
                prop_assert!(!why.is_empty());
                for why in why {
                    prop_assert!(!plan_words::no_plan(&job, &why).is_empty());
                }
            }
        }
    }
}
