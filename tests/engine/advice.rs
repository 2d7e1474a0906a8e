//! Every rule of the advice: a quiet set-up, one change, exactly one finding.

use std::sync::Arc;

use midspan::advice::{Finding, Verdict, cautions, findings};
use midspan::job::{
    Cut, DriveKind, Edit, Feature, FeatureKind, Job, Pass, PassId, PassKind, Sleeve, Subject, TailKind, TipKind,
    Tolerance, Units,
};
use midspan::study::{JobResult, PassResult, Status};

use crate::quiet::{PASS, REST, SETUP, job, land, steady};
use crate::quiet_result::{cylinder, pass_result, result};
use crate::reach::NO_GROUND;
use crate::remarks::{only, remarks};

/// The quiet job with a steady that is out of the way, bearing on a straight band.
pub fn with_steady() -> Job {
    let mut job = job();
    job.setups[0].rests.push(steady(15.0));
    assert_eq!(remarks(&job, &result(&job)), vec![], "the steady is quiet");
    job
}

pub fn the_pass(result: &mut JobResult) -> &mut PassResult {
    &mut result.setups[0].passes[0]
}

/// Sets the force of one jaw of the steady at every station.
pub fn set_jaw_force(pass: &mut PassResult, jaw: usize, force_n: f64) {
    let column = 4 + jaw;
    let n_supports = pass.supports.len();
    for station in 0..pass.stations.len() {
        pass.forces_n[station * n_supports + column] = force_n;
    }
}

#[test]
fn a_quiet_set_up_gets_one_fine_finding_that_the_tolerance_is_kept() {
    let job = job();
    let all = findings(&job, &result(&job));
    assert_eq!(all.len(), 1, "{all:#?}");
    assert_eq!((all[0].rule, all[0].verdict), ("size", Verdict::Fine));
    assert!(all[0].text.contains("journal"), "{}", all[0].text);
}

#[test]
fn a_hump_beyond_the_tolerance_is_trouble_where_it_is_highest() {
    let job = job();
    let mut result = result(&job);
    *the_pass(&mut result) = pass_result(&job.setups[0], &job.setups[0].passes[0], 0.030);
    let finding = only(&job, &result);
    assert_eq!((finding.rule, finding.verdict), ("size", Verdict::Trouble));
    assert_eq!(finding.about, Subject::Pass(SETUP, PASS));
    assert_eq!(finding.z_mm, Some(197.5), "half way between 100 and 295");
}

#[test]
fn a_hump_that_fits_the_tolerance_with_another_dial_gets_that_dial() {
    let job = job();
    let mut result = result(&job);
    *the_pass(&mut result) = pass_result(&job.setups[0], &job.setups[0].passes[0], 0.030);
    // Errors run from 0 to 30 um, allowed is -20 to 20: 15 um smaller puts them in the middle.
    let Some((_, Edit::SetPass { pass, .. })) = only(&job, &result).remedy else { panic!("no dial") };
    let Cut::ToDrawing { leave_on_diameter_mm } = pass.cut else { panic!("{:?}", pass.cut) };
    assert!((leave_on_diameter_mm + 0.015).abs() < 1e-9, "{leave_on_diameter_mm}");
}

#[test]
fn a_hump_wider_than_the_tolerance_gets_a_spring_pass_after_it() {
    let job = job();
    let mut result = result(&job);
    *the_pass(&mut result) = pass_result(&job.setups[0], &job.setups[0].passes[0], 0.080);
    let Some((_, Edit::AddPass { at, pass, .. })) = only(&job, &result).remedy else { panic!("no spring pass") };
    assert_eq!((at, pass.kind), (1, PassKind::Spring));
}

#[test]
fn a_spring_pass_that_hardly_mends_gets_no_other() {
    let mut job = job();
    let spring = Pass { id: PassId(3), kind: PassKind::Spring, ..job.setups[0].passes[0].clone() };
    job.setups[0].passes.push(spring.clone());
    let mut result = result(&job);
    result.setups[0].passes[0] = pass_result(&job.setups[0], &job.setups[0].passes[0], 0.080);
    result.setups[0].passes[1] = pass_result(&job.setups[0], &spring, 0.079);
    assert_eq!(only(&job, &result).remedy, None);
}

#[test]
fn a_later_pass_that_mends_the_place_takes_the_trouble_away() {
    let mut job = job();
    let spring = Pass { id: PassId(3), kind: PassKind::Spring, ..job.setups[0].passes[0].clone() };
    job.setups[0].passes.push(spring.clone());
    let mut result = result(&job);
    result.setups[0].passes[0] = pass_result(&job.setups[0], &job.setups[0].passes[0], 0.080);
    result.setups[0].passes[1] = pass_result(&job.setups[0], &spring, 0.006);
    assert_eq!(remarks(&job, &result), vec![]);
}

#[test]
fn a_pass_that_leaves_metal_on_is_not_measured_against_the_drawing() {
    let job = job();
    let mut result = result(&job);
    *the_pass(&mut result) = pass_result(&job.setups[0], &job.setups[0].passes[0], 0.4);
    for station in &mut the_pass(&mut result).stations {
        station.wanted_diameter_mm = 39.0;
    }
    assert_eq!(remarks(&job, &result), vec![]);
}

#[test]
fn more_than_half_of_the_tolerance_is_to_be_watched() {
    let job = job();
    let mut result = result(&job);
    *the_pass(&mut result) = pass_result(&job.setups[0], &job.setups[0].passes[0], 0.012);
    let finding = only(&job, &result);
    assert_eq!((finding.rule, finding.verdict), ("size", Verdict::Watch));
}

/// A shaft of class h cut with the dial at its nominal size has no room at the upper side.
#[test]
fn a_size_on_the_limit_is_watched_and_gets_a_dial_in_the_middle() {
    let mut job = job();
    job.shaft.wanted[0].tolerance = Tolerance::Limits { lower_mm: -0.024, upper_mm: 0.0 };
    let mut result = result(&job);
    *the_pass(&mut result) = pass_result(&job.setups[0], &job.setups[0].passes[0], 0.0002);
    let finding = only(&job, &result);
    assert_eq!((finding.rule, finding.verdict), ("size", Verdict::Watch), "{}", finding.text);
    let Some((_, Edit::SetPass { pass, .. })) = finding.remedy else { panic!("no dial") };
    assert_eq!(pass.cut, Cut::ToDrawing { leave_on_diameter_mm: -0.012 });
}

#[test]
fn a_land_without_tolerance_is_told_but_not_judged() {
    let mut job = job();
    job.shaft.wanted[0].tolerance = Tolerance::Free;
    let all = findings(&job, &result(&job));
    assert_eq!((all[0].rule, all[0].verdict), ("size", Verdict::Fine));
    assert!(all[0].text.contains("no tolerance is stated"), "{}", all[0].text);
}

#[test]
fn work_that_springs_more_than_is_cut_may_climb() {
    let job = job();
    let mut result = result(&job);
    let station = &mut the_pass(&mut result).stations[10];
    // 0.9 mm a side comes off, the work goes 1.0 mm.
    (station.real_depth_mm, station.spring_y_mm) = (1.8, 1.0);
    let z_mm = station.z_mm;
    let finding = only(&job, &result);
    assert_eq!((finding.rule, finding.z_mm), ("springy", Some(z_mm)));
}

/// A thin bar hangs by its weight: that is no spring under the cut.
#[test]
fn sag_is_not_taken_for_spring() {
    let mut job = job();
    job.shaft.stock = vec![land(1525.0, 20.0)];
    job.shaft.wanted[0].land = land(1525.0, 19.0);
    let mut result = midspan::study::compute(&job);
    let z_mm = the_pass(&mut result).stations[0].z_mm;
    let at_rest = midspan::study::shape_at(&job, &result, SETUP, Some(PASS), None).expect("it can be solved");
    let lowest_mm = at_rest.y_mm.iter().copied().fold(0.0, f64::min);
    assert!(lowest_mm < -0.1, "it sags by {lowest_mm}");
    let index = at_rest.z_mm.partition_point(|z| *z < z_mm);
    for station in &mut the_pass(&mut result).stations {
        station.real_depth_mm = 0.06;
        (station.spring_x_mm, station.spring_y_mm) = (0.0, 0.0);
    }
    the_pass(&mut result).stations.truncate(1);
    the_pass(&mut result).stations[0].spring_y_mm = at_rest.y_mm[index];
    assert!(findings(&job, &result).iter().all(|finding| finding.rule != "springy"));
}

#[test]
fn a_jaw_set_clear_that_never_touches_is_slack_and_can_be_set_to_touch() {
    let mut job = with_steady();
    job.setups[0].rests[0].jaws[1].gap_mm = 0.1;
    let mut result = result(&job);
    set_jaw_force(the_pass(&mut result), 1, 0.0);
    let finding = only(&job, &result);
    assert_eq!((finding.rule, finding.about), ("slack_jaw", Subject::Rest(SETUP, REST)));
    let Some((_, Edit::SetRest { rest, .. })) = finding.remedy else { panic!("no remedy") };
    assert_eq!(rest.jaws[1].gap_mm, 0.0);
}

#[test]
fn a_jaw_set_to_touch_that_the_cut_lifts_is_as_it_should_be() {
    let job = with_steady();
    let mut result = result(&job);
    set_jaw_force(the_pass(&mut result), 1, 0.0);
    assert_eq!(remarks(&job, &result), vec![]);
}

#[test]
fn a_rest_that_never_touches_carries_nothing() {
    let job = with_steady();
    let mut result = result(&job);
    (0..3).for_each(|jaw| set_jaw_force(the_pass(&mut result), jaw, 0.0));
    let finding = only(&job, &result);
    assert_eq!(finding.rule, "slack_jaw");
    assert!(finding.text.contains("never touches the work"), "{}", finding.text);
}

#[test]
fn a_rest_lifted_where_the_error_is_largest_is_told() {
    let job = with_steady();
    let mut result = result(&job);
    let pass = the_pass(&mut result);
    let n_supports = pass.supports.len();
    pass.forces_n[20 * n_supports + 4..20 * n_supports + 7].fill(0.0);
    let finding = only(&job, &result);
    assert_eq!((finding.rule, finding.z_mm), ("slack_jaw", Some(197.5)));
}

/// Source: Mott lists 2.625 MPa m/s for leaded tin bronze; half of it on a 10 x 12 mm pad at 40 mm and 400 rpm
/// (0.838 m/s) is reached at 188 N.
#[test]
fn a_bronze_jaw_pressed_beyond_half_its_listed_pressure_and_speed_is_told() {
    let job = with_steady();
    let mut result = result(&job);
    set_jaw_force(the_pass(&mut result), 2, 185.0);
    assert_eq!(remarks(&job, &result), vec![]);
    set_jaw_force(the_pass(&mut result), 2, 191.0);
    let finding = only(&job, &result);
    assert_eq!(finding.rule, "jaw_force");
    assert!(finding.text.contains("estimate"), "{}", finding.text);
}

#[test]
fn a_roller_has_no_rubbing_limit() {
    let mut job = with_steady();
    job.setups[0].rests[0].tip = TipKind::Roller;
    let mut result = result(&job);
    // More than twice what a bronze tip may carry here; a roller marks the work long after that.
    set_jaw_force(the_pass(&mut result), 2, 500.0);
    assert_eq!(remarks(&job, &result), vec![]);
}

/// Source: makers' lathe manuals, tailstock centre beyond 2.5 diameters, support beyond 3.
#[test]
fn a_free_end_far_out_of_the_chuck_is_hinted_at() {
    let mut job = job();
    job.setups[0].tail.kind = TailKind::Free;
    let finding = only(&job, &result(&job));
    assert_eq!((finding.rule, finding.about), ("overhang", Subject::Tail(SETUP)));
    assert!(finding.text.contains("7.5 times"), "300 mm of 40 mm: {}", finding.text);
}

#[test]
fn a_steady_near_the_end_takes_the_overhang_away() {
    let mut job = job();
    job.setups[0].tail.kind = TailKind::Free;
    job.setups[0].rests.push(steady(250.0));
    job.setups[0].passes[0].from_z_mm = 130.0;
    assert_eq!(remarks(&job, &result(&job)), vec![]);
}

/// Source: workshop texts, from memory: a rest beyond 10 to 12 diameters between the ends.
#[test]
fn long_work_without_a_rest_is_hinted_at_with_what_is_computed() {
    let mut job = job();
    job.shaft.stock = vec![land(625.0, 40.0)];
    let mut result = result(&job);
    let all = findings(&job, &result);
    let hint = all.iter().find(|finding| finding.rule == "slender").expect("15 diameters");
    assert_eq!(hint.verdict, Verdict::Fine, "the computed size is fine");
    *the_pass(&mut result) = pass_result(&job.setups[0], &job.setups[0].passes[0], 0.012);
    let watched = remarks(&job, &result);
    assert!(watched.iter().any(|finding| finding.rule == "slender"), "{watched:#?}");
    job.setups[0].rests.push(steady(15.0));
    assert!(findings(&job, &result).iter().all(|finding| finding.rule != "slender"));
}

#[test]
fn a_steady_in_the_cut_is_in_the_way_and_the_pass_can_end_before_it() {
    let mut job = job();
    job.setups[0].rests.push(steady(150.0));
    let finding = only(&job, &result(&job));
    assert_eq!((finding.rule, finding.verdict), ("in_the_way", Verdict::Trouble));
    let Some((_, Edit::SetPass { pass, .. })) = finding.remedy else { panic!("no remedy") };
    // Half the base of 40 mm and the wing of 60 mm towards the headstock.
    assert_eq!((pass.from_z_mm, pass.to_z_mm), (295.0, 230.0));
}

#[test]
fn a_steady_the_carriage_only_comes_near_is_to_be_watched() {
    let mut job = job();
    job.setups[0].rests.push(steady(60.0));
    let finding = only(&job, &result(&job));
    assert_eq!((finding.rule, finding.verdict), ("in_the_way", Verdict::Watch));
    let Some((_, Edit::SetPass { pass, .. })) = finding.remedy else { panic!("no remedy") };
    assert_eq!(pass.to_z_mm, 140.0);
}

#[test]
fn several_passes_too_near_one_steady_are_one_finding_with_one_remedy() {
    let mut job = job();
    job.setups[0].rests.push(steady(60.0));
    let again = Pass { id: PassId(3), ..job.setups[0].passes[0].clone() };
    job.setups[0].passes.push(again);
    let finding = only(&job, &result(&job));
    assert_eq!((finding.rule, finding.about), ("in_the_way", Subject::Rest(SETUP, REST)));
    let Some((_, Edit::Together(edits))) = &finding.remedy else { panic!("no remedy") };
    assert_eq!(edits.len(), 2);
    let edit = finding.remedy.expect("just seen").1;
    job.apply(&edit).expect("the remedy can be made");
    assert_eq!(remarks(&job, &result(&job)), vec![], "mended");
}

/// Source: lesson S-F of the trade-practice notes: a bar of 3/4 in, 36 in free behind the spindle, sags 0.056 in standing
/// still; as a perfect cantilever it first whips at about 980 rpm. The answer is to support it, not a speed.
#[test]
fn a_long_bar_behind_the_spindle_is_told_with_its_sag_and_to_support_it() {
    let mut job = job();
    job.units = Units::Inch;
    job.shaft.stock = vec![land(36.0 * 25.4 + 450.0 + 300.0, 0.75 * 25.4)];
    job.setups[0].work_start_z_mm = -450.0 - 36.0 * 25.4;
    let told = findings(&job, &JobResult { setups: vec![], bands: None });
    let finding = told.into_iter().find(|finding| finding.rule == "bar_tail").expect("36 in stand out");
    let number = |before: &str| -> f64 {
        let from = finding.why.find(before).expect(before) + before.len();
        finding.why[from..].split(' ').next().and_then(|word| word.parse().ok()).expect("a number")
    };
    crate::close::close(number("its end hangs "), 56.0, 0.0, 0.6);
    crate::close::close(number("whip at about "), 980.0, 0.01, 0.0);
    assert!(finding.why.contains("far sooner: support it") && !finding.why.contains("safe"), "{}", finding.why);
}

#[test]
fn bar_behind_the_spindle_is_trouble_and_no_speed_is_called_safe() {
    let mut job = job();
    job.shaft.stock = vec![land(925.0, 40.0)];
    job.shaft.wanted_start_s_mm = 600.0;
    job.setups[0].work_start_z_mm = -625.0;
    let mut result = result(&job);
    result.setups[0].before = cylinder(925.0, 40.0);
    let finding = only(&job, &result);
    assert_eq!((finding.rule, finding.verdict), ("bar_tail", Verdict::Trouble));
    assert!(finding.text.contains("175"), "625 less a headstock of 450: {}", finding.text);
    let told = format!("{} {}", finding.text, finding.why).to_lowercase();
    assert!(!told.contains("rpm") && !told.contains("safe"), "{told}");
}

/// An offset of e toward the operator takes twice e off the diameter. Source: geometry.
#[test]
fn a_tailstock_off_the_axis_means_a_taper_of_twice_the_offset() {
    let mut job = job();
    job.setups[0].tail.offset_x_mm = -0.03;
    let finding = only(&job, &result(&job));
    assert_eq!((finding.rule, finding.about), ("off_axis", Subject::Tail(SETUP)));
    assert!(finding.text.contains("small"), "{}", finding.text);
    let Some((_, Edit::SetTail { tail, .. })) = finding.remedy else { panic!("no remedy") };
    assert_eq!(tail.offset_x_mm, 0.0);
}

#[test]
fn a_steady_off_the_axis_is_told() {
    let mut job = with_steady();
    job.setups[0].rests[0].offset_x_mm = 0.05;
    let finding = only(&job, &result(&job));
    assert_eq!((finding.rule, finding.about), ("off_axis", Subject::Rest(SETUP, REST)));
}

#[test]
fn a_steady_on_any_feature_but_a_true_spot_is_trouble_and_a_sleeve_mends_it() {
    for kind in NO_GROUND {
        let mut job = with_steady();
        // The steady stands at 15 mm, that is at 40 mm along the shaft.
        job.shaft.features.push(Feature { kind, from_s_mm: 30.0, to_s_mm: 38.0 });
        // No pass makes the thread or the groove.
        let told = |job: &Job| -> Vec<Finding> {
            remarks(job, &result(job)).into_iter().filter(|finding| finding.rule != "not_cut").collect()
        };
        let mut found = told(&job);
        assert_eq!(found.len(), 1, "{found:#?}");
        let finding = found.remove(0);
        assert_eq!((finding.rule, finding.verdict), ("bearing_spot", Verdict::Trouble), "{kind:?}");
        let Some((_, Edit::SetRest { rest, .. })) = finding.remedy else { panic!("no better place") };
        let s_mm = rest.z_mm + 25.0;
        assert!(s_mm + 6.0 <= 30.0 || s_mm - 6.0 >= 38.0, "{kind:?}: the jaws clear it at {s_mm}");
        job.setups[0].rests[0].sleeve = Sleeve::CatHead { diameter_mm: 60.0, width_mm: 40.0 };
        assert_eq!(told(&job), vec![], "{kind:?}");
    }
    let mut job = with_steady();
    job.shaft.features.push(Feature { kind: FeatureKind::TrueSpot, from_s_mm: 30.0, to_s_mm: 45.0 });
    assert_eq!(remarks(&job, &result(&job)), vec![]);
}

#[test]
fn a_steady_on_a_taper_is_trouble() {
    let job = with_steady();
    let mut result = result(&job);
    let span = &mut Arc::make_mut(&mut result.setups[0].before).spans[0];
    (span.start_diameter_mm, span.end_diameter_mm) = (30.0, 40.0);
    (span.start_dial_mm, span.end_dial_mm) = (30.0, 40.0);
    let finding = only(&job, &result);
    assert_eq!(finding.rule, "bearing_spot");
    assert!(finding.text.contains("a taper"), "{}", finding.text);
    let Some((_, Edit::SetRest { rest, .. })) = finding.remedy else { panic!("no sleeve") };
    assert!(matches!(rest.sleeve, Sleeve::CatHead { .. }), "it is tapered all along");
}

#[test]
fn a_dog_without_tailstock_centre_needs_a_hold_back() {
    let mut job = job();
    job.setups[0].drive.kind = DriveKind::CentreAndDog;
    job.setups[0].work_start_z_mm = 0.0;
    job.shaft.stock = vec![land(300.0, 40.0)];
    job.shaft.wanted[0].land = land(300.0, 38.0);
    assert_eq!(remarks(&job, &result(&job)), vec![], "between centres");
    job.setups[0].tail.kind = TailKind::Free;
    job.setups[0].rests.push(steady(250.0));
    job.setups[0].passes[0].from_z_mm = 130.0;
    let finding = only(&job, &result(&job));
    assert_eq!((finding.rule, finding.verdict), ("endways", Verdict::Trouble));
    let Some((_, Edit::SetDrive { drive, .. })) = finding.remedy else { panic!("no remedy") };
    assert!(drive.hold_back);
}

/// Source: Colwell's chord rule: 0.3 mm with a 0.8 mm nose pushes 2.25 times as much sideways as endways.
#[test]
fn a_cut_below_the_nose_radius_is_told_and_watched_only_where_the_size_suffers() {
    let job = job();
    let mut result = result(&job);
    for station in &mut the_pass(&mut result).stations {
        (station.real_depth_mm, station.fp_n, station.ff_n) = (0.6, 225.0, 100.0);
    }
    let mut blunt = job.clone();
    blunt.setups[0].tool.nose_radius_mm = 0.8;
    let all = findings(&blunt, &result);
    assert!(all.iter().any(|finding| finding.rule == "nose_radius" && finding.verdict == Verdict::Fine), "{all:#?}");
    assert!(findings(&job, &result).iter().any(|finding| finding.rule == "nose_radius"), "0.3 is below 0.4 as well");
    for station in &mut the_pass(&mut result).stations {
        station.real_depth_mm = 2.0;
    }
    assert!(findings(&blunt, &result).iter().all(|finding| finding.rule != "nose_radius"));
}

#[test]
fn every_status_but_solved_is_told_in_words() {
    let job = job();
    let cases = [
        (Status::StoppedEarly, Verdict::Watch),
        (Status::NotHeld, Verdict::Trouble),
        (Status::NothingToCut, Verdict::Watch),
    ];
    for (status, verdict) in cases {
        let mut result = result(&job);
        the_pass(&mut result).status = status;
        let finding = only(&job, &result);
        assert_eq!((finding.rule, finding.verdict), ("unsolved", verdict), "{status:?}");
    }
}

#[test]
fn findings_come_worst_first() {
    let mut job = job();
    job.setups[0].tail.offset_x_mm = 0.02;
    job.setups[0].rests.push(steady(150.0));
    let verdicts: Vec<Verdict> = findings(&job, &result(&job)).iter().map(|finding| finding.verdict).collect();
    assert_eq!(verdicts, [Verdict::Trouble, Verdict::Watch, Verdict::Fine, Verdict::Fine]);
}

#[test]
fn findings_speak_the_units_of_the_job() {
    let mut job = job();
    job.units = Units::Inch;
    job.setups[0].rests.push(steady(152.4));
    let text = only(&job, &result(&job)).text;
    assert!(text.contains('6') && !text.contains("mm"), "152.4 mm is 6 in: {text}");
}

#[test]
fn a_job_without_results_gets_findings_all_the_same() {
    let mut job = job();
    job.setups[0].tail.offset_x_mm = 0.02;
    let finding = only(&job, &JobResult { setups: vec![], bands: None });
    assert_eq!(finding.rule, "off_axis");
}

#[test]
fn cautions_fit_the_holding_and_promise_nothing() {
    let job = with_steady();
    let told: Vec<&str> = cautions::for_setup(&job.setups[0]).map(|caution| caution.text).collect();
    assert!(told.iter().any(|text| text.contains("Key out of the chuck")));
    assert!(told.iter().any(|text| text.contains("Rest: jaws")));
    assert!(!told.iter().any(|text| text.contains("dead centre,")), "it is a live centre");
    for caution in cautions::CAUTIONS {
        assert!(!caution.source.is_empty());
        assert!(!caution.text.to_lowercase().contains("safe speed"), "{}", caution.text);
    }
}

/// Half a micrometre is 0.02 thou.
#[test]
fn what_is_outside_by_less_than_is_shown_is_not_told_as_nothing() {
    use midspan::advice::words::some;
    assert_eq!(some(0.0005, Units::Inch), "less than 0.1 thou");
    assert_eq!(some(-0.0004, Units::Metric), "less than 1 \u{b5}m");
    assert_eq!((some(0.0, Units::Metric), some(0.0254, Units::Inch)), ("0 \u{b5}m".into(), "1.0 thou".into()));
    let mut n_less = 0;
    for example in midspan::job::examples::EXAMPLES {
        let mut job = midspan::job::examples::load(example.key).unwrap();
        let result = midspan::study::compute_with_bands(&job);
        for units in [Units::Metric, Units::Inch] {
            job.units = units;
            for finding in findings(&job, &result) {
                let is_nothing = ["reaches 0.0 thou", "reaches 0 \u{b5}m", " 0.0 thou outside", " 0 \u{b5}m outside"];
                assert!(!is_nothing.iter().any(|words| finding.text.contains(words)), "{}", finding.text);
                n_less += usize::from(finding.text.contains("reaches less than 0.1 thou outside"));
            }
        }
    }
    assert!(n_less > 0, "the blank of a boring bar is one");
}

/// 52.7 to 128.3: a band 76 wide is told in fives; one 4 wide in ones, and nothing finer than the display.
#[test]
fn a_range_is_told_in_figures_no_finer_than_it_is_wide() {
    use midspan::advice::words::{big_or_small, forces_between, sizes_between, up_or_down, with_range};
    let metric = |low_um: f64, high_um: f64| sizes_between([low_um / 1000.0, high_um / 1000.0], Units::Metric);
    assert_eq!(metric(52.7, 128.3), "55 and 130 \u{b5}m big");
    assert_eq!(metric(3.4, 7.8), "3 and 8 \u{b5}m big");
    assert_eq!(metric(-128.3, -52.7), "55 and 130 \u{b5}m small");
    assert_eq!(metric(-4.6, 30.2), "4 \u{b5}m small and 30 \u{b5}m big");
    assert_eq!(metric(0.1, 30.2), "to size and 30 \u{b5}m big");
    assert_eq!(metric(1.1, 1.3), "1 \u{b5}m big");
    assert_eq!(metric(700.0, 1540.0), "700 \u{b5}m big and 1.55 mm big");
    let thou = 0.0254;
    assert_eq!(sizes_between([2.31 * thou, 4.18 * thou], Units::Inch), "2.3 and 4.2 thou big");
    assert_eq!(forces_between([123.4, 311.0], Units::Metric), "120 and 310 N");
    let told = with_range(0.080, [0.0527, 0.1283], Units::Metric, big_or_small);
    assert_eq!(told, "80 \u{b5}m big (55 to 130)");
    let told = with_range(-0.004, [-0.0078, 0.0012], Units::Metric, up_or_down);
    assert_eq!(told, "4 \u{b5}m down (8 \u{b5}m down to 1 \u{b5}m up)");
    let told = with_range(0.001, [-0.0078, 0.0012], Units::Metric, up_or_down);
    assert_eq!(told, "1 \u{b5}m up (8 \u{b5}m down to 1 \u{b5}m up)");
}
