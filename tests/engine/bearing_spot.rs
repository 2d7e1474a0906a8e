//! Spots to be turned for rests, by formulas and by one change of a quiet set-up.

use midspan::advice::why::{self, Asked, Figure};
use midspan::advice::{Verdict, findings};
use midspan::job::{Cut, Edit, Feature, FeatureKind, Job, Rest, Setup, SetupId, Sleeve, TailKind, Units};
use midspan::study::bearing_spot::{Bearing, SpotToTurn, bearing};
use midspan::study::reach::Why;
use midspan::study::{JobResult, compute};

use crate::close::close;
use crate::quiet::{REST, SETUP, job, land, steady};
use crate::why::check as why_check;
use crate::worked_sum::worked_out;

fn nothing_computed() -> JobResult {
    JobResult { setups: vec![], bands: None }
}

fn with_steady(z_mm: f64) -> Job {
    let mut job = job();
    job.setups[0].passes.clear();
    job.setups[0].rests.push(steady(z_mm));
    job
}

fn found(job: &Job) -> Bearing {
    bearing(job, &nothing_computed(), SETUP, REST).expect("a rest on the work")
}

fn to_turn(job: &Job) -> SpotToTurn {
    match found(job) {
        Bearing::Turn(spot) => spot,
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_spot_is_as_wide_as_the_jaws_and_a_quarter_inch_and_just_cleans_up() {
    let spot = to_turn(&with_steady(150.0));
    close(spot.at.to_mm - spot.at.from_mm, 12.0 + 6.35, 1e-12, 0.0);
    close(spot.diameter_mm, 39.7, 1e-12, 0.0);
    assert_eq!(spot.leaps_mm, Some(vec![]));
    let mut bent = with_steady(150.0);
    bent.shaft.bow_tir_mm = 0.8;
    close(to_turn(&bent).diameter_mm, 38.9, 1e-12, 0.0);
}

#[test]
fn the_remedy_turns_the_spot_and_the_finding_is_gone() {
    let mut job = with_steady(150.0);
    job.shaft.bow_tir_mm = 0.4;
    let told =
        |job: &Job| findings(job, &nothing_computed()).into_iter().find(|finding| finding.rule == "bearing_spot");
    let finding = told(&job).expect("stock");
    assert_eq!(finding.verdict, Verdict::Watch, "the bar runs out: {}", finding.text);
    let (_, edit) = finding.remedy.expect("a remedy");
    job.apply(&edit).expect("it can be made");
    assert_eq!(told(&job), None);
    let s_mm = 175.0;
    close(job.shaft.stock_diameter_mm(s_mm).expect("stock"), 39.3, 1e-12, 0.0);
    close(job.shaft.length_mm(), 325.0, 1e-12, 0.0);
    assert_eq!(found(&job), Bearing::Fit);
}

#[test]
fn a_straight_stout_bar_is_told_without_alarm() {
    let all = findings(&with_steady(150.0), &nothing_computed());
    let finding = all.iter().find(|finding| finding.rule == "bearing_spot").expect("stock");
    assert_eq!(finding.verdict, Verdict::Fine);
    assert!(finding.text.contains("39.7") && finding.text.contains("18.4"), "{}", finding.text);
}

#[test]
fn a_thread_or_a_spline_wants_a_bush_anything_else_a_cat_head() {
    for (kind, bush) in [
        (FeatureKind::Thread { pitch_mm: 2.0 }, true),
        (FeatureKind::Spline, true),
        (FeatureKind::Weld, false),
        (FeatureKind::Keyway { width_mm: 8.0, depth_mm: 4.0 }, false),
    ] {
        let mut job = with_steady(150.0);
        job.shaft.features.push(Feature { kind, from_s_mm: 0.0, to_s_mm: 325.0 });
        let Bearing::Sleeve(needed) = found(&job) else { panic!("no spot on a feature") };
        assert_eq!(needed.why, Some(Why::Feature(kind)));
        assert_eq!(matches!(needed.sleeve, Sleeve::Bush { .. }), bush, "{kind:?}");
        let (_, edit) = findings(&job, &nothing_computed())
            .into_iter()
            .find(|finding| finding.rule == "bearing_spot")
            .and_then(|finding| finding.remedy)
            .expect("nowhere better: a sleeve");
        job.apply(&edit).expect("it can be made");
        assert_eq!(found(&job), Bearing::Fit);
    }
}

#[test]
fn bent_stock_at_its_finished_size_leaves_nothing_to_turn_a_spot_from() {
    let mut job = with_steady(150.0);
    job.shaft.wanted[0].land = land(325.0, 40.0);
    assert_eq!(found(&job), Bearing::Fit, "straight, it is run on as it is");
    job.shaft.bow_tir_mm = 0.2;
    assert!(matches!(found(&job), Bearing::Sleeve(needed) if needed.why.is_none()));
}

#[test]
fn what_an_earlier_set_up_turned_is_fit() {
    let mut job = job();
    let second = Setup { id: SetupId(11), passes: vec![], rests: vec![steady(150.0)], ..job.setups[0].clone() };
    job.setups.push(second);
    assert_eq!(bearing(&job, &compute(&job), SetupId(11), REST), Some(Bearing::Fit));
}

/// A free bar of 16 mm in a rigid chuck: it gives z^3 / 3EI, so that where a light cut springs it by half its depth lies
/// at z (half depth / spring)^(1/3).
#[test]
fn a_free_slender_bar_is_spotted_first_where_the_cantilever_formula_says() {
    let mut job = with_steady(260.0);
    job.shaft.stock = vec![land(325.0, 16.0)];
    job.shaft.wanted.clear();
    job.setups[0].tail.kind = TailKind::Free;
    let spot = to_turn(&job);
    let cut = spot.light_cut;
    assert!(cut.spring_mm > cut.depth_mm, "{cut:?}");
    let e_mpa = job.material().e_mpa.value;
    let i_mm4 = std::f64::consts::PI / 64.0 * 16f64.powi(4);
    // The push of the light cut, from Kienzle's law: some tens of newtons.
    let push_n = cut.spring_mm * 3.0 * e_mpa * i_mm4 / 260f64.powi(3);
    assert!((5.0..60.0).contains(&push_n), "{push_n}");
    let leaps_mm = spot.leaps_mm.expect("leapfrogging gets there");
    let first_mm = 260.0 * (0.5 * cut.depth_mm / cut.spring_mm).cbrt();
    close(leaps_mm[0], first_mm, 0.0, 3.0);
    assert!(leaps_mm[0] <= first_mm + 0.1, "{leaps_mm:?}, {first_mm}");
    assert!(leaps_mm.windows(2).all(|pair| pair[1] > pair[0]) && leaps_mm.iter().all(|z_mm| *z_mm < 260.0));
    let told = findings(&job, &nothing_computed());
    let finding = told.iter().find(|finding| finding.rule == "bearing_spot").expect("told");
    assert_eq!(finding.verdict, Verdict::Watch);
    assert!(finding.text.contains("too springy"), "{}", finding.text);
}

/// The share of the run-out a cut leaves, e = C k / (1 + C k), against the sweep's own answer: the depth a full cut
/// gives up for a step in the stock, cut twice. The lever of the feed force is in the sweep only: clamped and pinned at the
/// ends it turns the middle by 6/7L of what the push bends it, here 2.9 % for a feed force as large as the push, and the
/// feed force grows up to twice as fast with depth: some 6 % of e, twice that of its square.
#[test]
fn of_the_run_out_two_light_cuts_leave_what_the_sweep_leaves_of_a_step() {
    let mut job = with_steady(150.0);
    job.shaft.stock = vec![land(325.0, 20.0)];
    job.shaft.wanted.clear();
    job.shaft.bow_tir_mm = 0.05;
    let spot = to_turn(&job);
    // The sweep, with the stock a hundredth thicker and thinner, at the same dial, light cut, feed and speed.
    let left = |stock_mm: f64| {
        let mut job = job.clone();
        job.shaft.bow_tir_mm = 0.0;
        job.shaft.stock = vec![land(325.0, stock_mm)];
        job.setups[0].rests.clear();
        let template = crate::quiet::job().setups[0].passes[0].clone();
        job.setups[0].passes = vec![midspan::job::Pass {
            from_z_mm: 155.0,
            to_z_mm: 145.0,
            cut: Cut::ToDiameter { diameter_mm: 19.8 },
            feed_mm_per_rev: 0.05,
            speed_rpm: 250.0,
            ..template
        }];
        let result = compute(&job);
        let stations = &result.setups[0].passes[0].stations;
        stations[stations.len() / 2].left_diameter_mm
    };
    let share = (left(20.01) - left(19.99)) / 0.02;
    let runs_out_mm = 0.05 * 4.0 * (175.0 / 325.0) * (150.0 / 325.0);
    close(spot.runs_out_mm, runs_out_mm, 1e-9, 0.0);
    close(spot.light_cut.left_tir_mm, runs_out_mm * share * share, 0.15, 0.0);
}

#[test]
fn a_rest_on_a_true_spot_already_helps_to_spot_the_next() {
    let mut job = with_steady(260.0);
    job.shaft.stock = vec![land(325.0, 16.0)];
    job.shaft.wanted.clear();
    job.setups[0].tail.kind = TailKind::Free;
    let alone = to_turn(&job).light_cut.spring_mm;
    job.shaft.features.push(Feature { kind: FeatureKind::TrueSpot, from_s_mm: 200.0, to_s_mm: 260.0 });
    job.setups[0].rests.push(Rest { id: midspan::job::RestId(8), ..steady(210.0) });
    let helped = to_turn(&job).light_cut.spring_mm;
    assert!(helped < 0.5 * alone, "{helped} against {alone}");
}

/// A free bar clamped at 0 and propped at a by a rest with rigid jaws gives `f(z, z) - f(a, z)^2 / f(a, a)` at z, with
/// `f(x, y) = x^2 (3y - x) / 6EI + x / kGA` for x up to y: the force method on a clamped bar with shear. The share of what
/// the bar gives without the rest knows nothing of the push.
///
/// Source: S. Timoshenko, Strength of Materials (force method; from memory); shear factor after Cowper (1966).
#[test]
fn a_rest_with_rigid_jaws_props_the_work_without_giving() {
    let (prop_mm, spot_mm) = (210.0, 228.0);
    let mut job = with_steady(spot_mm);
    job.shaft.stock = vec![land(325.0, 16.0)];
    job.shaft.wanted.clear();
    job.setups[0].tail.kind = TailKind::Free;
    let alone = to_turn(&job).light_cut.spring_mm;
    job.shaft.features.push(Feature { kind: FeatureKind::TrueSpot, from_s_mm: 225.0, to_s_mm: 243.0 });
    job.setups[0].rests.push(Rest { id: midspan::job::RestId(8), ..steady(prop_mm) });
    let helped = to_turn(&job).light_cut.spring_mm;

    let material = job.material();
    let (e_mpa, nu) = (material.e_mpa.value, material.poisson_ratio.value);
    let (area_mm2, i_mm4) = (std::f64::consts::PI * 8f64.powi(2), std::f64::consts::PI / 64.0 * 16f64.powi(4));
    let shear_per_n = 2.0 * (1.0 + nu) / (e_mpa * area_mm2 * 6.0 * (1.0 + nu) / (7.0 + 6.0 * nu));
    let f = |x: f64, y: f64| x * x * (3.0 * y - x) / (6.0 * e_mpa * i_mm4) + x * shear_per_n;
    let propped = f(spot_mm, spot_mm) - f(prop_mm, spot_mm).powi(2) / f(prop_mm, prop_mm);
    close(helped / alone, propped / f(spot_mm, spot_mm), 1e-3, 0.0);
}

#[test]
fn a_spot_remedy_is_an_edit_of_the_shaft() {
    let job = with_steady(150.0);
    let finding = findings(&job, &nothing_computed()).into_iter().find(|finding| finding.rule == "bearing_spot");
    let Some((_, Edit::SetShaft(shaft))) = finding.and_then(|finding| finding.remedy) else { panic!("no edit") };
    assert_eq!(shaft.features.last().map(|feature| feature.kind), Some(FeatureKind::TrueSpot));
}

/// The numbers of an explanation, by what they give.
fn given(found: &why::Why, gives: &str) -> f64 {
    let sum = found.sums.iter().find(|sum| sum.gives == gives);
    let sum = sum.unwrap_or_else(|| panic!("{gives}: {:?}", found.sums));
    assert_eq!(why_check(sum, gives), None);
    worked_out(&sum.numbers)
}

/// Width and size by the rules in words, the run-out and the share of it that is left by their formulas.
#[test]
fn the_explanation_of_a_spot_gives_its_figures_by_formulas_anew() {
    for (units, bow_mm) in [(Units::Metric, 0.4), (Units::Metric, 5.0), (Units::Inch, 0.4)] {
        let mut job = with_steady(150.0);
        (job.units, job.shaft.bow_tir_mm) = (units, bow_mm);
        job.shaft.wanted.clear();
        let result = nothing_computed();
        let asked = Asked::of(&job, &result, SETUP, None, None, 0.0).unwrap();
        let found = why::why(&asked, Figure::Spot(REST)).expect("a spot to be turned");
        let in_units = |mm: f64| if units == Units::Inch { mm / 25.4 } else { mm };
        let wide_mm = job.lathe.rest_jaw_width_mm.value + (2.0 * bow_mm).max(25.4 / 4.0);
        close(given(&found, "wide"), in_units(wide_mm), 1e-5, 0.0);
        close(given(&found, "to a diameter of"), in_units(40.0 - 0.3 - bow_mm), 1e-5, 0.0);
        // In thousandths of a millimetre or of an inch; what is large is told in millimetres.
        let small = |gives: &str, mm: f64| {
            let sum = found.sums.iter().find(|sum| sum.gives == gives);
            if sum.is_some_and(|sum| sum.result.ends_with(" mm")) { mm } else { in_units(mm) * 1000.0 }
        };
        let share = job.setups[0].s_of_z_mm(&job.shaft, 150.0) / job.shaft.length_mm();
        let runs_out_mm = bow_mm * 4.0 * share * (1.0 - share);
        let runs_out = small("runs out there", runs_out_mm);
        close(given(&found, "runs out there"), runs_out, 1e-4, 0.0);
        let cut = to_turn(&job).light_cut;
        let gain = cut.spring_mm / given(&found, "push of a light cut") * cut.gain_n_per_mm;
        let left_mm = runs_out_mm * (1.0 / (1.0 + 1.0 / gain)).powi(2);
        let left = small("and still, once spotted", left_mm);
        close(given(&found, "and still, once spotted"), left, 1e-3, 0.0);
        // The finding of the rest tells the same.
        let finding = findings(&job, &result).into_iter().find(|finding| finding.rule == "bearing_spot").unwrap();
        assert_eq!(finding.behind, found);
    }
}

/// A free bar in a rigid chuck gives z^3 / 3EI; shear, which that leaves out, adds some (diameter / z)^2.
#[test]
fn the_spring_in_the_explanation_is_the_cantilever_s() {
    let mut job = with_steady(260.0);
    job.shaft.stock = vec![land(325.0, 16.0)];
    job.shaft.wanted.clear();
    job.setups[0].tail.kind = TailKind::Free;
    let result = nothing_computed();
    let asked = Asked::of(&job, &result, SETUP, None, None, 0.0).unwrap();
    let found = why::why(&asked, Figure::Spot(REST)).expect("a spot to be turned");
    let i_mm4 = std::f64::consts::PI / 64.0 * 16f64.powi(4);
    let give_mm_per_n = 260f64.powi(3) / (3.0 * job.material().e_mpa.value * i_mm4);
    let spring_um = 1000.0 * give_mm_per_n * given(&found, "push of a light cut");
    close(given(&found, "a light cut springs it"), spring_um, 0.005, 0.0);
    assert!(found.more.iter().any(|more| more.starts_with("It does not. Nearer")), "{:?}", found.more);
}

#[test]
fn a_rest_that_needs_no_spot_has_none_explained() {
    let mut job = with_steady(150.0);
    job.setups[0].rests[0].sleeve = Sleeve::CatHead { diameter_mm: 60.0, width_mm: 40.0 };
    let result = nothing_computed();
    let asked = Asked::of(&job, &result, SETUP, None, None, 0.0).unwrap();
    assert_eq!(why::why(&asked, Figure::Spot(REST)), None);
    assert_eq!(why::why(&asked, Figure::Spot(midspan::job::RestId(99))), None);
}
