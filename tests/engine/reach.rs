//! Where rests may stand: a quiet set-up, one change, one stretch with its reason and figures.

use std::f64::consts::FRAC_PI_6;

use midspan::job::{
    DriveKind, Feature, FeatureKind, Follower, FollowerSide, Job, Land, Pass, PassId, PassKind, RestId, Sleeve, Stated,
    TailKind, WantedLand,
};
use midspan::study::reach::{
    Forbidden, Meets, RestReach, Standing, Stretch, Why, bare_rest_reach, follower_reach, follower_travel_mm,
    least_apart_mm, reach_on, rest_reach, rest_reach_beside_others, tool_room_mm,
};
use midspan::study::{JobResult, compute};

use crate::close::close;
use crate::quiet::{PASS, REST, SETUP, job, land, steady};

fn nothing_computed() -> JobResult {
    JobResult { setups: vec![], bands: None }
}

/// The quiet job with nothing to cut: 300 mm out of the chuck, jaws 12 wide, base 40, bed to 1260.
fn idle() -> Job {
    let mut job = job();
    job.setups[0].passes.clear();
    job
}

fn reach(job: &Job) -> RestReach {
    reach_on(job, &nothing_computed(), SETUP, Sleeve::None).expect("the set-up is there")
}

fn bands(reach: &RestReach) -> Vec<(f64, f64)> {
    reach.allowed.iter().map(|band| (band.from_mm, band.to_mm)).collect()
}

/// The one stretch the second forbids and the first does not.
fn one_more(before: &RestReach, after: &RestReach) -> Forbidden {
    let new: Vec<&Forbidden> = after.forbidden.iter().filter(|one| !before.forbidden.contains(one)).collect();
    assert_eq!(new.len(), 1, "{new:#?}");
    *new[0]
}

fn is(one: &Forbidden, from_mm: f64, to_mm: f64) {
    close(one.from_mm, from_mm, 1e-12, 1e-9);
    close(one.to_mm, to_mm, 1e-12, 1e-9);
}

#[test]
fn bare_stock_in_chuck_and_centre_may_carry_a_rest_from_jaws_to_end_once_spots_are_turned() {
    let found = reach(&idle());
    assert_eq!(bands(&found), [(6.0, 294.0)]);
    assert_eq!(found.to_turn, found.allowed, "nothing is turned yet");
    let face_mm = 300.0 - 4.24 / FRAC_PI_6.tan() + 60.0 + 40.0;
    let whys: Vec<Why> = found.forbidden.iter().map(|one| one.why).collect();
    assert!(whys.contains(&Why::Chuck { half_jaw_mm: 6.0 }));
    assert!(whys.contains(&Why::OffWork { work_from_mm: -25.0, work_to_mm: 300.0 }));
    assert!(whys.contains(&Why::BedEnd { bed_end_mm: 1260.0, half_base_mm: 20.0 }));
    let tail = found.forbidden.iter().find(|one| matches!(one.why, Why::Tailstock { .. })).expect("a tailstock");
    is(tail, face_mm - 20.0, 1260.0);
}

#[test]
fn stretches_cover_the_whole_bed_without_gaps() {
    let stretches = reach(&job()).stretches();
    assert_eq!((stretches[0].0.from_mm, stretches[stretches.len() - 1].0.to_mm), (-25.0, 1260.0));
    assert!(stretches.windows(2).all(|pair| (pair[0].0.to_mm - pair[1].0.from_mm).abs() < 1e-9));
    assert!(stretches.windows(2).all(|pair| pair[0].1 != pair[1].1));
}

#[test]
fn the_tailstock_with_its_quill_in_stops_the_rests_base() {
    let mut job = idle();
    job.setups[0].tail.quill_out_mm = 0.0;
    job.lathe.centre_length_mm.value = 10.0;
    let face_mm = 310.0 - 4.24 / FRAC_PI_6.tan();
    close(reach(&job).allowed[0].to_mm, face_mm - 20.0, 1e-12, 0.0);
    let reach_mm = reach(&job).first_against(290.0).copied();
    assert!(matches!(reach_mm, Some(Why::Tailstock { quill_out_mm: 0.0, .. })), "{reach_mm:?}");
    job.setups[0].tail.kind = TailKind::Free;
    assert_eq!(bands(&reach(&job)), [(6.0, 294.0)], "no tailstock, no stop");
}

#[test]
fn the_dog_takes_its_length_of_the_work() {
    let mut job = idle();
    job.setups[0].drive.kind = DriveKind::CentreAndDog;
    job.setups[0].work_start_z_mm = 0.0;
    job.setups[0].drive.dog.length_mm = Stated::given(18.0);
    let found = reach(&job);
    assert_eq!(found.allowed[0].from_mm, 24.0);
    assert_eq!(found.first_against(20.0), Some(&Why::Dog { length_mm: 18.0 }));
}

#[test]
fn work_as_long_as_the_bed_leaves_the_bed_end_to_the_base() {
    let mut job = idle();
    job.setups[0].tail.kind = TailKind::Free;
    job.lathe.between_centres_mm.value = 200.0;
    job.lathe.centre_length_mm.value = 20.0;
    job.lathe.tailstock_base_mm.value = 70.0;
    // Bed end 290, half a base of 20 before it; the work ends at 300.
    assert_eq!(bands(&reach(&job)), [(6.0, 270.0)]);
    assert_eq!(reach(&job).first_against(280.0), Some(&Why::BedEnd { bed_end_mm: 290.0, half_base_mm: 20.0 }));
}

/// Source: the nearest cut from the left is z - (half base + b), from the right z + (half base + a), from
/// trade-practice 3.2; a = 60, b = 80, half base 20 and jaws 12 wide.
#[test]
fn a_pass_keeps_the_rest_off_by_base_and_wing_on_either_side() {
    let mut job = idle();
    let pass = Pass { from_z_mm: 200.0, to_z_mm: 150.0, ..crate::quiet::job().setups[0].passes[0].clone() };
    job.setups[0].passes.push(pass.clone());
    let found = reach(&job);
    assert_eq!(bands(&found), [(6.0, 150.0 - 20.0 - 60.0)], "towards the tailstock the work ends before 200 + 100");
    let of = |why: Why| *found.forbidden.iter().find(|one| one.why == why).expect("told");
    is(&of(Why::Cut { pass: PASS }), 144.0, 206.0);
    is(&of(Why::Carriage { pass: PASS, approach_mm: 80.0 }), 70.0, 144.0);
    is(&of(Why::Carriage { pass: PASS, approach_mm: 100.0 }), 206.0, 300.0);
    // The mirror image: wings changed, the same pass from the other side.
    job.setups[0].passes[0] = Pass { from_z_mm: 100.0, to_z_mm: 150.0, ..pass };
    (job.lathe.carriage_left_mm.value, job.lathe.carriage_right_mm.value) = (80.0, 60.0);
    assert_eq!(bands(&reach(&job)), [(230.0, 294.0)], "150 + 20 + 60 and beyond; 100 - 20 - 80 is in the chuck");
}

/// Source: a worked case in inches: rest at 20 in, base 3.5 in, wing b = 10 in: the nearest cut from the left is
/// 20 - (1.75 + 10) = 8.25 in. With a = 4.5 in the uncut gap is 18 in.
#[test]
fn the_nearest_cut_beside_a_rest_at_20_inches_is_at_8_and_a_quarter() {
    const IN: f64 = 25.4;
    let mut job = idle();
    job.shaft.stock = vec![land(40.0 * IN, 40.0)];
    job.shaft.wanted.clear();
    (job.lathe.carriage_left_mm.value, job.lathe.carriage_right_mm.value) = (4.5 * IN, 10.0 * IN);
    job.lathe.rest_base_mm.value = 3.5 * IN;
    let mut pass = crate::quiet::job().setups[0].passes[0].clone();
    (pass.from_z_mm, pass.to_z_mm) = (8.25 * IN, 2.0 * IN);
    job.setups[0].passes.push(pass);
    assert!(reach(&job).allows(20.0 * IN));
    assert!(!reach(&job).allows(19.99 * IN));
    (job.setups[0].passes[0].from_z_mm, job.setups[0].passes[0].to_z_mm) = (34.0 * IN, 26.25 * IN);
    assert!(reach(&job).allows(20.0 * IN) && !reach(&job).allows(20.01 * IN), "20 + 1.75 + 4.5 in");
    let [before, behind] = midspan::study::reach::approach_mm(&job.lathe);
    close(before + behind, 18.0 * IN, 1e-12, 0.0);
}

#[test]
fn wings_that_run_past_the_base_let_the_tool_holder_come_to_the_frame() {
    let mut job = job();
    job.lathe.wings_pass_rest = true;
    // The pass ends at 100: half a frame of 6 and 2 of holder at the headstock side of the tool.
    assert_eq!(bands(&reach(&job)), [(6.0, 92.0)]);
}

#[test]
fn a_drill_and_a_boring_bar_are_in_nobodys_way() {
    for kind in [PassKind::Drill, PassKind::Bore] {
        let mut job = idle();
        let pass = Pass { kind, from_z_mm: 300.0, to_z_mm: 200.0, ..crate::quiet::job().setups[0].passes[0].clone() };
        job.setups[0].passes.push(pass);
        assert_eq!(bands(&reach(&job)), [(6.0, 294.0)]);
    }
}

#[test]
fn the_carriage_cannot_get_past_a_rest_between_two_passes() {
    let mut job = idle();
    job.shaft.stock = vec![land(825.0, 40.0)];
    job.shaft.wanted.clear();
    let near = Pass { from_z_mm: 60.0, to_z_mm: 40.0, ..crate::quiet::job().setups[0].passes[0].clone() };
    let far = Pass { id: PassId(3), from_z_mm: 780.0, to_z_mm: 600.0, ..near.clone() };
    job.setups[0].passes = vec![far, near];
    let found = reach(&job);
    let why = Why::BetweenPasses { headstock_side: PASS, tailstock_side: PassId(3) };
    let one = found.forbidden.iter().find(|one| one.why == why).expect("told");
    is(one, 160.0, 520.0);
    assert!(found.allowed.is_empty());
}

#[test]
fn jaws_too_small_and_jaws_that_cannot_close_forbid_that_part_of_a_cone() {
    let mut job = idle();
    job.shaft.wanted.clear();
    job.shaft.stock = vec![Land { length_mm: 325.0, start_diameter_mm: 30.0, end_diameter_mm: 62.5 }];
    // 0.1 mm of diameter a mm from z = -25 on; a spot can be turned anywhere.
    assert_eq!(bands(&reach(&job)), [(6.0, 294.0)]);
    let before = reach(&job);
    job.lathe.rest_max_diameter_mm.value = 50.0;
    let large = one_more(&before, &reach(&job));
    is(&large, 175.0, 300.0);
    assert_eq!(large.why, Why::JawsTooSmall { diameter_mm: 62.5, largest_mm: 50.0 });
    job.lathe.rest_max_diameter_mm.value = 100.0;
    job.lathe.rest_min_diameter_mm.value = 40.0;
    let small = one_more(&before, &reach(&job));
    is(&small, -25.0, 75.0);
    assert_eq!(small.why, Why::JawsCannotClose { diameter_mm: 30.0, smallest_mm: 40.0 });
}

#[test]
fn every_feature_but_a_true_spot_forbids_its_length_and_half_a_jaw_either_side_and_mirrors_with_the_work() {
    let kinds = [
        FeatureKind::Thread { pitch_mm: 2.0 },
        FeatureKind::Keyway { width_mm: 8.0, depth_mm: 4.0 },
        FeatureKind::Flat,
        FeatureKind::Spline,
        FeatureKind::Weld,
        FeatureKind::CrossHole { diameter_mm: 5.0 },
        FeatureKind::Groove { depth_mm: 1.0 },
    ];
    for kind in kinds {
        let mut job = idle();
        let before = reach(&job);
        job.shaft.features.push(Feature { kind, from_s_mm: 100.0, to_s_mm: 140.0 });
        let one = one_more(&before, &reach(&job));
        is(&one, 75.0 - 6.0, 115.0 + 6.0);
        assert_eq!(one.why, Why::Feature(kind));
        assert!(one.why.a_sleeve_helps());
        assert_eq!(bands(&reach(&job)), [(6.0, 69.0), (121.0, 294.0)]);
        // End for end a place s lies at 300 - s.
        job.setups[0].end_for_end = true;
        is(&one_more(&before, &reach(&job)), 160.0 - 6.0, 200.0 + 6.0);
    }
}

#[test]
fn a_true_spot_needs_no_turning_and_nothing_else_changes() {
    let mut job = idle();
    job.shaft.features.push(Feature { kind: FeatureKind::TrueSpot, from_s_mm: 100.0, to_s_mm: 130.0 });
    let found = reach(&job);
    assert_eq!(bands(&found), [(6.0, 294.0)]);
    // From z 75 to 105, the jaws wholly on it.
    assert_eq!(found.to_turn, [Stretch::new(6.0, 81.0), Stretch::new(99.0, 294.0)]);
    assert_eq!(found.standing(90.0), Standing::Free);
    assert_eq!(found.standing(80.0), Standing::SpotFirst);
}

#[test]
fn what_an_earlier_set_up_turned_is_true() {
    let mut job = job();
    let mut second = job.setups[0].clone();
    second.id = midspan::job::SetupId(11);
    second.passes.clear();
    second.end_for_end = true;
    job.setups.push(second);
    let result = compute(&job);
    let found = reach_on(&job, &result, midspan::job::SetupId(11), Sleeve::None).expect("there");
    // Turned from z 100 to 295, that is s 125 to 320; end for end z = 300 - s: -20 to 175.
    assert!(found.to_turn.iter().all(|stretch| stretch.from_mm > 160.0), "{:?}", found.to_turn);
    assert_eq!(found.standing(100.0), Standing::Free);
}

/// A shoulder the drawing keeps, so that no spot can be turned across it.
fn stepped(lengths_mm: [f64; 3]) -> Job {
    let mut job = idle();
    job.shaft.stock = vec![land(lengths_mm[0], 40.0), land(lengths_mm[1], 36.0), land(lengths_mm[2], 40.0)];
    let tolerance = job.shaft.wanted[0].tolerance;
    job.shaft.wanted =
        job.shaft.stock.iter().map(|land| WantedLand { land: *land, tolerance, name: String::new() }).collect();
    job
}

/// Source: a steady wants a land of its jaws' width and twice the run-out, at least 1/4 in (trade-practice 3.2): jaws of
/// 12 mm want 18.35 mm.
#[test]
fn a_short_land_carries_a_rest_from_jaw_width_and_a_quarter_inch_on() {
    let carried = |length_mm: f64| {
        let found = reach(&stepped([125.0, length_mm, 200.0 - length_mm]));
        found.allowed.iter().any(|band| band.from_mm > 90.0 && band.to_mm < 100.0 + length_mm)
    };
    assert!(!carried(18.3));
    assert!(carried(18.4));
    let found = reach(&stepped([125.0, 30.0, 170.0]));
    assert_eq!(bands(&found).len(), 3);
    close(found.allowed[1].from_mm, 100.0 + 9.175, 1e-12, 0.0);
    close(found.allowed[1].to_mm, 130.0 - 9.175, 1e-12, 0.0);
    let why = found.first_against(100.0).expect("a shoulder");
    assert_eq!(*why, Why::Step { at_mm: 100.0, change_mm: 4.0, beside_mm: 3.175 });
    // A bar that runs out 5 mm wants 10 mm of room, not 6.35.
    let mut bent = stepped([125.0, 30.0, 170.0]);
    bent.shaft.bow_tir_mm = 5.0;
    close(reach(&bent).allowed[1].from_mm, 100.0 + 11.0, 1e-12, 0.0);
}

#[test]
fn a_taper_forbids_where_so_much_of_the_jaw_lies_on_it_and_a_cat_head_allows_it() {
    let mut job = idle();
    let cone = Land { length_mm: 50.0, start_diameter_mm: 40.0, end_diameter_mm: 35.0 };
    job.shaft.stock = vec![land(125.0, 40.0), cone, land(150.0, 35.0)];
    let tolerance = job.shaft.wanted[0].tolerance;
    job.shaft.wanted =
        job.shaft.stock.iter().map(|land| WantedLand { land: *land, tolerance, name: String::new() }).collect();
    let found = reach(&job);
    // 0.1 mm a mm: half a mm of the jaw on it is 0.05 mm on diameter.
    assert_eq!(bands(&found), [(6.0, 94.5), (155.5, 294.0)]);
    let Some(Why::Taper { change_mm }) = found.first_against(120.0) else { panic!("a taper") };
    close(*change_mm, 1.2, 1e-9, 0.0);
    let sleeved = Sleeve::CatHead { diameter_mm: 60.0, width_mm: 40.0 };
    let under = reach_on(&job, &nothing_computed(), SETUP, sleeved).expect("there");
    assert_eq!(bands(&under), [(6.0, 294.0)]);
    assert_eq!(under.to_turn, []);
}

#[test]
fn a_rough_taper_is_forbidden_only_where_no_spot_can_be_turned_in_its_allowance() {
    let mut job = idle();
    job.shaft.stock = vec![Land { length_mm: 325.0, start_diameter_mm: 44.0, end_diameter_mm: 41.0 }];
    assert_eq!(bands(&reach(&job)), [(6.0, 294.0)], "41 less 0.3 is above the 38 wanted");
    job.shaft.wanted[0].land = land(325.0, 40.9);
    assert!(reach(&job).allowed.is_empty());
}

#[test]
fn a_sleeve_must_go_over_the_work_into_the_jaws_and_swing_clear() {
    let on = |diameter_mm: f64, change: &dyn Fn(&mut Job)| {
        let mut job = job();
        change(&mut job);
        let sleeve = Sleeve::CatHead { diameter_mm, width_mm: 40.0 };
        let found = reach_on(&job, &nothing_computed(), SETUP, sleeve).expect("there");
        let whys: Vec<Why> = found.forbidden.iter().map(|one| one.why).collect();
        (found, whys)
    };
    let (found, _) = on(60.0, &|_| ());
    assert_eq!(bands(&found), [(6.0, 20.0)]);
    let (_, whys) = on(39.0, &|_| ());
    assert!(whys.contains(&Why::SleeveTooSmall { sleeve_mm: 39.0, work_mm: 40.0 }));
    let (_, whys) = on(101.0, &|_| ());
    assert!(whys.contains(&Why::JawsTooSmall { diameter_mm: 101.0, largest_mm: 100.0 }));
    // Screw heads of 8 mm: 60 swings 76.
    let (_, whys) = on(60.0, &|job| job.lathe.rest_bore_mm.value = 75.0);
    assert!(whys.contains(&Why::SleeveInFrame { circle_mm: 76.0, bore_mm: 75.0 }));
    let (_, whys) = on(60.0, &|job| job.lathe.swing_over_bed_mm.value = 75.0);
    assert!(whys.contains(&Why::SleeveOnBed { circle_mm: 76.0, swing_mm: 75.0 }));
    let (found, _) = on(60.0, &|job| job.lathe.swing_over_cross_slide_mm.value = 75.0);
    let why = Why::SleeveOnSlide { pass: PASS, circle_mm: 76.0, swing_mm: 75.0 };
    let one = found.forbidden.iter().find(|one| one.why == why).expect("told");
    // 2 of holder before the tool at 100, 70 behind it at 295, half the sleeve's width of 40 either way.
    is(one, 78.0, 385.0);
}

#[test]
fn two_rests_stand_no_nearer_than_base_to_base() {
    let mut job = idle();
    job.setups[0].rests.push(steady(100.0));
    job.setups[0].rests.push(midspan::job::Rest { id: RestId(8), ..steady(200.0) });
    close(least_apart_mm(&job), 40.0, 0.0, 1e-12);
    let alone = rest_reach(&job, &nothing_computed(), SETUP, REST).expect("there");
    assert_eq!(bands(&alone), [(6.0, 294.0)]);
    let beside = rest_reach_beside_others(&job, &nothing_computed(), SETUP, REST).expect("there");
    assert_eq!(bands(&beside), [(6.0, 160.0), (240.0, 294.0)]);
    assert_eq!(beside.first_against(190.0), Some(&Why::OtherRest(RestId(8))));
    assert_eq!(rest_reach(&job, &nothing_computed(), SETUP, RestId(99)), None);
}

/// Source: the tool reaches the tailstock end only where quill and centre stand out by what the holder does (trade-
/// practice 3.2).
#[test]
fn the_tool_has_room_between_dog_and_tailstock() {
    let mut job = job();
    let face_mm = 300.0 - 4.24 / FRAC_PI_6.tan() + 100.0;
    let ((from_mm, stops), to) = tool_room_mm(&job, &job.setups[0]);
    let (to_mm, stops_there) = to.expect("a tailstock");
    close(from_mm, 2.0, 1e-12, 0.0);
    close(to_mm, face_mm - 70.0, 1e-12, 0.0);
    assert_eq!((stops, stops_there), (Meets::Holder, Meets::Holder));
    job.lathe.nearest_to_jaws_mm = Stated::given(25.0);
    job.lathe.wings_pass_tailstock = false;
    let (from, to) = tool_room_mm(&job, &job.setups[0]);
    assert_eq!(from, (25.0, Meets::Carriage));
    let (to_mm, stops_there) = to.expect("a tailstock");
    close(to_mm, face_mm - job.lathe.carriage_right_mm.value, 1e-12, 0.0);
    assert_eq!(stops_there, Meets::Carriage);
    job.setups[0].drive.kind = DriveKind::CentreAndDog;
    job.setups[0].tail.kind = TailKind::Free;
    assert_eq!(tool_room_mm(&job, &job.setups[0]), ((14.0, Meets::Holder), None), "no chuck between centres");
}

fn followed(side: FollowerSide) -> Job {
    let mut job = job();
    job.setups[0].follower = Some(Follower { distance_mm: 20.0, side, ..Follower::usual() });
    job
}

#[test]
fn the_follower_travels_with_the_tool_from_where_it_is_brought_on() {
    let mut job = followed(FollowerSide::Behind);
    let travel = |job: &Job| follower_travel_mm(&job.setups[0], &job.setups[0].passes[0]).expect("a follower");
    assert_eq!(travel(&job), Stretch::new(120.0, 315.0));
    job.setups[0].follower.as_mut().expect("a follower").start_mm = 50.0;
    assert_eq!(travel(&job), Stretch::new(120.0, 265.0));
    let ahead = followed(FollowerSide::Ahead);
    assert_eq!(travel(&ahead), Stretch::new(80.0, 275.0));
}

/// The follower of 15 mm width: 7.5 mm before chuck, shoulder, feature, tailstock and steady.
#[test]
fn the_follower_stops_its_own_half_width_short_of_everything() {
    let mut job = followed(FollowerSide::Ahead);
    let against = |job: &Job, z_mm: f64| {
        let found = follower_reach(job, &nothing_computed(), SETUP, PASS).expect("a follower");
        found.first_against(z_mm).copied()
    };
    assert_eq!(against(&job, 7.4), Some(Why::Chuck { half_jaw_mm: 7.5 }));
    assert_eq!(against(&job, 7.6), None);
    let face_mm = 400.0 - 4.24 / FRAC_PI_6.tan();
    assert!(matches!(against(&job, face_mm - 7.4), Some(Why::Tailstock { .. })));
    assert_eq!(against(&job, face_mm - 7.6), None);
    job.shaft.stock = vec![land(225.0, 40.0), land(100.0, 36.0)];
    assert!(matches!(against(&job, 192.6), Some(Why::Step { at_mm: 200.0, .. })));
    assert_eq!(against(&job, 192.4), None);
    job.shaft.features.push(Feature { kind: FeatureKind::Flat, from_s_mm: 100.0, to_s_mm: 110.0 });
    assert_eq!(against(&job, 67.6), Some(Why::Feature(FeatureKind::Flat)));
    assert_eq!(against(&job, 67.4), None);
    job.setups[0].rests.push(steady(150.0));
    assert_eq!(against(&job, 150.0 + 13.4), Some(Why::OtherRest(REST)));
    assert_eq!(against(&job, 150.0 + 13.6), None);
    job.lathe.follower_max_diameter_mm.value = 38.0;
    assert!(matches!(against(&job, 120.0), Some(Why::JawsTooSmall { .. })));
}

#[test]
fn behind_the_tool_the_follower_meets_the_shoulder_the_pass_leaves() {
    let mut job = followed(FollowerSide::Behind);
    job.shaft.wanted = vec![
        WantedLand { land: land(225.0, 38.0), ..job.shaft.wanted[0].clone() },
        WantedLand { land: land(100.0, 36.0), ..job.shaft.wanted[0].clone() },
    ];
    let result = compute(&job);
    let found = follower_reach(&job, &result, SETUP, PASS).expect("a follower");
    assert!(found.against(200.0).any(|one| matches!(one.why, Why::Step { .. })), "{:?}", found.forbidden);
    job.setups[0].follower.as_mut().expect("there").side = FollowerSide::Ahead;
    let found = follower_reach(&job, &compute(&job), SETUP, PASS).expect("a follower");
    assert!(!found.against(200.0).any(|one| matches!(one.why, Why::Step { .. })), "the old surface is straight");
}

#[test]
fn every_example_has_every_rest_where_it_may_stand() {
    for example in midspan::job::examples::EXAMPLES {
        let job = midspan::job::examples::load(example.key).expect("an example is readable");
        let result = compute(&job);
        for setup in &job.setups {
            for rest in &setup.rests {
                let found = rest_reach_beside_others(&job, &result, setup.id, rest.id).expect("there");
                assert_eq!(found.first_against(rest.z_mm), None, "{}, rest at {}", example.key, rest.z_mm);
            }
        }
    }
}

/// A rest yet to come goes to the nearest place that is left beside the others.
#[test]
fn the_nearest_place_is_in_a_band_and_off_the_other_rests() {
    let mut job = idle();
    job.setups[0].rests.push(steady(150.0));
    let apart_mm = least_apart_mm(&job);
    let reach = bare_rest_reach(&job, &nothing_computed(), SETUP, None).expect("there");
    assert_eq!(reach.nearest_mm(151.0, |_| true), Some(150.0 + apart_mm));
    assert_eq!(reach.nearest_mm(151.0, |z_mm| z_mm < 150.0), Some(150.0 - apart_mm));
    assert_eq!(reach.nearest_mm(151.0, |_| false), None);
    let itself = bare_rest_reach(&job, &nothing_computed(), SETUP, Some(REST)).expect("there");
    assert_eq!(itself.nearest_mm(151.2, |_| true), Some(151.0));
}
