//! What a pass asks of the lathe and what the lathe can give, and what its jaws feel, against figures worked by hand.

use std::f64::consts::PI;

use midspan::job::{Follower, FollowerSide, Job, Lathe, Sleeve, TailKind, TipKind};
use midspan::study::jaw_contact::{JawContact, hardest, of_shape};
use midspan::study::machine::{
    SPINDLE_SHARE_RATIO, cutting_speed_m_per_min, given_power_w, hardest_load, has_feed, has_speed, real_cut,
    real_feed_mm_per_rev, real_speed_rpm,
};
use midspan::study::{PassResult, Support, compute, shape_at};

use crate::close::close;
use crate::quiet::{PASS, REST, SETUP, job, steady};
use crate::quiet_result::result;

fn only_pass(job: &Job) -> PassResult {
    result(job).setups.remove(0).passes.remove(0)
}

/// Source: an exam problem (inputs read): 160 mm, 400 rpm, main force 1200 N; worked by hand 201.1 m/min and 4.02 kW.
/// E6 of our own worked examples: 1948 N at 100 m/min are 3.25 kW.
#[test]
fn power_is_main_force_times_cutting_speed() {
    for (diameter_mm, speed_rpm, main_n, speed_m_per_min, power_kw) in
        [(160.0, 400.0, 1200.0, 201.1, 4.02), (40.0, 100_000.0 / (PI * 40.0), 1948.0, 100.0, 3.25)]
    {
        let mut job = job();
        job.setups[0].passes[0].speed_rpm = speed_rpm;
        let mut pass = only_pass(&job);
        for station in &mut pass.stations {
            (station.old_diameter_mm, station.fc_n) = (diameter_mm, main_n);
        }
        let load = hardest_load(&job, &job.setups[0], &job.setups[0].passes[0], &pass).expect("it was cut");
        close(load.cutting_speed_m_per_min, speed_m_per_min, 0.0, 0.051);
        close(load.power_w / 1000.0, power_kw, 0.0, 0.0051);
        close(load.cut_torque_nmm, main_n * diameter_mm / 2.0, 1e-12, 0.0);
        assert_eq!(load.friction_torque_nmm, 0.0);
    }
}

/// Source: n = 1000 v / (pi d), in inches 3.82 fpm / d (TM 1-420 C1, 1942, read).
#[test]
fn cutting_speed_meets_the_shop_formula() {
    let speed_rpm = 3.82 * 100.0 / 2.0;
    close(cutting_speed_m_per_min(2.0 * 25.4, speed_rpm), 100.0 * 0.3048, 1e-3, 0.0);
}

/// Source: 0.7 to 0.85 of the motor's power reach the spindle of a geared head (texts on turning, from memory).
#[test]
fn the_lathe_gives_a_share_of_its_motor() {
    assert!((0.7..=0.85).contains(&SPINDLE_SHARE_RATIO.value));
    let job = job();
    close(given_power_w(&job.lathe), 3000.0, 1e-12, 0.0);
    let load = hardest_load(&job, &job.setups[0], &job.setups[0].passes[0], &only_pass(&job)).expect("it was cut");
    close(load.given_torque_nmm, 3000.0 * 60.0 / (2.0 * PI * 400.0) * 1000.0, 1e-12, 0.0);
    close(load.given_power_w, 3000.0, 1e-12, 0.0);
    close(load.used_ratio(), load.torque_nmm() / load.given_torque_nmm, 1e-12, 0.0);
}

/// Three bronze jaws of 60 N at 0.1 drag with 18 N at 20 mm: 360 N·mm on top of 400 N at 20 mm.
#[test]
fn the_drag_of_the_jaws_is_part_of_the_load() {
    let mut job = job();
    job.setups[0].rests.push(steady(15.0));
    let load = hardest_load(&job, &job.setups[0], &job.setups[0].passes[0], &only_pass(&job)).expect("it was cut");
    close(load.friction_torque_nmm, 360.0, 1e-9, 0.0);
    close(load.torque_nmm(), 8360.0, 1e-9, 0.0);
    job.setups[0].rests[0].tip = TipKind::Roller;
    let rolling = hardest_load(&job, &job.setups[0], &job.setups[0].passes[0], &only_pass(&job)).expect("it was cut");
    assert!(rolling.friction_torque_nmm < 0.05 * load.friction_torque_nmm);
}

/// Source: ISO 3 series R20/3 and R20/4 (DIN 804), regenerated from 10^(1/20) (computed) and known by heart.
#[test]
fn spindle_ladders_are_those_of_the_standard() {
    let r20_3 =
        [11.2, 16.0, 22.4, 31.5, 45.0, 63.0, 90.0, 125.0, 180.0, 250.0, 355.0, 500.0, 710.0, 1000.0, 1400.0, 2000.0];
    let r20_4 = [11.2, 18.0, 28.0, 45.0, 71.0, 112.0, 180.0, 280.0, 450.0, 710.0, 1120.0, 1800.0];
    for (series, step) in [(&r20_3[..], 3), (&r20_4[..], 4)] {
        for (index, speed_rpm) in series.iter().enumerate() {
            // The standard's own figures are rounded by up to 1.26 % (ISO 3, from memory).
            close(*speed_rpm, 10_f64.powf((21.0 + f64::from(step) * index as f64) / 20.0), 0.0127, 0.0);
        }
    }
    for (lathe, series) in [(Lathe::small(), &r20_4[..]), (Lathe::medium(), &r20_3[..]), (Lathe::large(), &r20_3[..])] {
        let first = series.iter().position(|speed| *speed == lathe.speeds_rpm[0]).expect("a step of the series");
        assert_eq!(lathe.speeds_rpm, series[first..first + lathe.speeds_rpm.len()], "{}", lathe.name);
    }
}

/// Source: if the exact speed is not there, the next lower step (a note on stepped drives, read).
#[test]
fn the_gearbox_gives_the_step_at_or_below_the_wish() {
    let lathe = Lathe { speeds_rpm: vec![180.0, 250.0, 355.0, 500.0], ..Lathe::medium() };
    for (wanted_rpm, given_rpm) in
        [(250.0, 250.0), (300.0, 250.0), (333.0, 250.0), (354.0, 355.0), (480.0, 500.0), (900.0, 500.0), (90.0, 180.0)]
    {
        assert_eq!(real_speed_rpm(&lathe, wanted_rpm), given_rpm, "{wanted_rpm}");
    }
    assert!(has_speed(&lathe, 250.0) && has_speed(&lathe, 360.0) && !has_speed(&lathe, 300.0));
    let free = Lathe { speeds_rpm: vec![], ..Lathe::medium() };
    assert_eq!(real_speed_rpm(&free, 333.0), 333.0);
    assert!(has_speed(&free, 333.0));
}

#[test]
fn the_feed_box_gives_the_nearest_feed_in_proportion() {
    let lathe = Lathe { feeds_mm_per_rev: vec![0.08, 0.1, 0.125, 0.16, 0.2], ..Lathe::medium() };
    // 0.112 is nearer to 0.125 than to 0.1 (1.116 against 1.12); 0.003 in is the step of 0.08.
    for (wanted_mm, given_mm) in [(0.1, 0.1), (0.112, 0.125), (0.11, 0.1), (0.0762, 0.08), (0.5, 0.2), (0.01, 0.08)] {
        assert_eq!(real_feed_mm_per_rev(&lathe, wanted_mm), given_mm, "{wanted_mm}");
    }
    assert!(has_feed(&lathe, 0.0762) && !has_feed(&lathe, 0.112));
    let mut job = job();
    job.lathe = Lathe { speeds_rpm: vec![250.0, 355.0, 500.0], ..lathe };
    let real = real_cut(&job, &job.setups[0], &job.setups[0].passes[0]);
    assert_eq!((real.speed_rpm, real.feed_mm_per_rev), (355.0, 0.1));
    close(real.cutting_speed_m_per_min, PI * 40.0 * 355.0 / 1000.0, 1e-12, 0.0);
}

/// The jaws of the quiet steady with `force_n` on each.
fn jaws_of(job: &Job, force_n: f64) -> Vec<JawContact> {
    let mut pass = only_pass(job);
    pass.forces_n.fill(force_n);
    hardest(job, &job.setups[0], &job.setups[0].passes[0], &pass).into_iter().map(|(_, jaw)| jaw).collect()
}

/// By hand: 300 N on a flat bronze tip (100 GPa, 0.34) 15 mm wide on 40 mm of C45 (207 GPa, 0.30): E* = 75.53 GPa, half
/// width 0.0821 mm, peak 155 MPa. The pad of 15 by 10 mm has 2 MPa at 0.838 m/s (400 rpm): 1.676 of 1.3125 MPa m/s;
/// friction 30 N, 600 N·mm, 25.1 W.
#[test]
fn a_flat_bronze_jaw_feels_what_was_worked_by_hand() {
    let mut job = job();
    job.setups[0].rests.push(steady(15.0));
    job.lathe.rest_jaw_width_mm.value = 15.0;
    let jaws = jaws_of(&job, 300.0);
    assert_eq!(jaws.len(), 3);
    assert_eq!(jaws[1].support, Support::Jaw { rest: REST, jaw: 1 });
    let jaw = jaws[0];
    close(jaw.half_width_mm.expect("a line"), 0.0821, 0.0, 0.00006);
    close(jaw.peak_mpa.expect("a line"), 155.05, 0.0, 0.06);
    close(jaw.mean_mpa, 2.0, 1e-12, 0.0);
    close(jaw.rubbing_m_per_s, 0.8378, 0.0, 0.00006);
    close(jaw.pv_used_ratio().expect("bronze is listed"), 1.6755 / 1.3125, 1e-4, 0.0);
    close(jaw.friction_n, 30.0, 1e-12, 0.0);
    close(jaw.torque_nmm, 600.0, 1e-12, 0.0);
    close(jaw.heat_w, 25.13, 0.0, 0.006);
}

#[test]
fn a_tip_bored_to_the_work_bears_all_over_and_a_little_larger_nearly_so() {
    let mut job = job();
    job.setups[0].rests.push(steady(15.0));
    let flat = jaws_of(&job, 300.0)[0];
    for (bored_mm, has_line) in [(42.0, true), (40.005, false), (40.0, false), (39.0, false)] {
        job.setups[0].rests[0].tip_bored_mm = Some(bored_mm);
        let bored = jaws_of(&job, 300.0)[0];
        assert_eq!((bored.peak_mpa.is_some(), bored.half_width_mm.is_some()), (has_line, has_line), "{bored_mm}");
        assert_eq!(bored.mean_mpa, flat.mean_mpa);
        assert!(bored.peak_mpa.is_none_or(|peak_mpa| peak_mpa < flat.peak_mpa.expect("flat") / 3.0));
    }
}

/// By hand: a roller of 20 mm, 12 mm wide, 300 N on C45: E* = 114.6 GPa, b² = 2·300/(pi·12)/114 560/0.075 mm².
#[test]
fn a_roller_presses_on_a_narrow_line_and_does_not_rub() {
    let mut job = job();
    job.setups[0].rests.push(steady(15.0));
    job.setups[0].rests[0].tip = TipKind::Roller;
    let jaw = jaws_of(&job, 300.0)[0];
    let half_mm = (600.0 / (PI * 12.0) / 114_560.0 / 0.075_f64).sqrt();
    close(jaw.half_width_mm.expect("a line"), half_mm, 1e-3, 0.0);
    close(jaw.mean_mpa, 300.0 / (2.0 * half_mm * 12.0), 1e-3, 0.0);
    assert_eq!((jaw.pv_mpa_m_per_s, jaw.pv_limit_mpa_m_per_s), (None, None));
    assert!(jaw.heat_w < 1.0);
}

#[test]
fn jaws_on_a_cat_head_rub_at_its_diameter() {
    let mut job = job();
    let mut rest = steady(15.0);
    rest.sleeve = Sleeve::CatHead { diameter_mm: 60.0, width_mm: 8.0 };
    job.setups[0].rests.push(rest);
    let jaw = jaws_of(&job, 120.0)[0];
    assert!(jaw.on_sleeve);
    close(jaw.rubbing_m_per_s, PI * 60.0 * 400.0 / 60_000.0, 1e-12, 0.0);
    // The sleeve is narrower than the jaw of 12 mm.
    close(jaw.mean_mpa, 120.0 / (8.0 * 10.0), 1e-12, 0.0);
}

#[test]
fn a_follower_bears_on_the_fresh_diameter_or_on_the_old_one() {
    for (side, diameter_mm) in [(FollowerSide::Behind, 38.0), (FollowerSide::Ahead, 40.0)] {
        let mut job = job();
        job.setups[0].follower = Some(Follower { side, ..Follower::usual() });
        let jaws = jaws_of(&job, 50.0);
        assert_eq!(jaws.len(), 2);
        assert_eq!(jaws[0].diameter_mm, diameter_mm);
    }
}

/// The drawn shape and the pass tell the same of the jaws at the same place of the tool; with the spindle at rest nothing
/// rubs.
#[test]
fn the_bench_and_the_pass_tell_the_same_of_a_jaw() {
    let mut job = job();
    job.setups[0].tail.kind = TailKind::Free;
    job.setups[0].rests.push(steady(260.0));
    job.setups[0].passes[0].from_z_mm = 200.0;
    let computed = compute(&job);
    let (setup, pass) = (&job.setups[0], &job.setups[0].passes[0]);
    let result = computed.pass(PASS).expect("computed");
    let (tool_z_mm, jaw) = hardest(&job, setup, pass, result)
        .into_iter()
        .max_by(|a, b| a.1.force_n.total_cmp(&b.1.force_n))
        .expect("there are jaws");
    assert!(jaw.force_n > 10.0);
    let shape = shape_at(&job, &computed, SETUP, Some(PASS), Some(tool_z_mm)).expect("it can be drawn");
    let drawn = of_shape(&job, setup, Some(pass), &shape);
    let same = drawn.iter().find(|other| other.support == jaw.support).expect("the same jaw");
    close(same.peak_mpa.expect("flat"), jaw.peak_mpa.expect("flat"), 1e-6, 0.0);
    close(same.heat_w, jaw.heat_w, 1e-6, 0.0);
    let standing = of_shape(&job, setup, None, &shape);
    assert!(standing.iter().all(|jaw| jaw.heat_w == 0.0 && jaw.rubbing_m_per_s == 0.0));
}
