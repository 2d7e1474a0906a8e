//! Rules about what acts along the work: a quiet set-up, one change, exactly one finding.

use midspan::advice::Verdict;
use midspan::job::{DogKind, DriveKind, Edit, Job, Stated, Stiffness, Subject, TailKind};
use midspan::study::along::along;

use crate::close::close;
use crate::quiet::{PASS, SETUP, job};
use crate::quiet_result::result;
use crate::remarks::{only, remarks};

/// The quiet job with 50 N/µm along the bed, on this centre.
pub fn on_centre(kind: TailKind) -> Job {
    let mut job = job();
    job.lathe.tailstock_axial_k_n_per_mm = Stiffness::Spring(Stated::given(50_000.0));
    job.setups[0].tail.kind = kind;
    assert_eq!(remarks(&job, &result(&job)), vec![]);
    job
}

/// Source: growth `α L ΔT`, thrust `ΔL/(L/EA + 1/k)` beside what was set. By hand for 300 mm of 40 mm C45 (E 207 GPa,
/// 11.5e-6 /K), 10 K: 34.5 µm, over 1.153 + 20 µm/kN 1631 N, beside the 300 N set 1930 N.
#[test]
fn warm_work_on_a_dead_centre_is_told_with_growth_and_thrust() {
    let mut job = on_centre(TailKind::DeadCentre);
    job.setups[0].warmer_by_k = 10.0;
    let finding = only(&job, &result(&job));
    assert_eq!((finding.rule, finding.about), ("warm", Subject::Tail(SETUP)));
    let growth_um = job.material().growth_per_k.value * 300.0 * 10.0 * 1e3;
    assert!(finding.text.contains(&format!("grows {growth_um:.0} \u{b5}m")), "{}", finding.text);
    assert!(finding.text.contains("dead centre") && finding.text.contains("ease the centre"), "{}", finding.text);
    let e_mpa = job.material().e_mpa.value;
    let give_mm_per_n = 300.0 / (e_mpa * std::f64::consts::PI * 400.0) + 1.0 / 50_000.0;
    let thrust_n = 300.0 + growth_um / 1e3 / give_mm_per_n;
    let told = along(&job, &result(&job), SETUP, Some(PASS)).expect("solved").warmth.thrust_n;
    close(told, thrust_n, 1e-3, 0.0);
    assert!(finding.text.contains(&format!("{:.0} N", (thrust_n / 10.0).round() * 10.0)), "{}", finding.text);
    job.apply(&finding.remedy.expect("ease it").1).expect("the remedy can be made");
    assert_eq!(remarks(&job, &result(&job)), vec![]);
}

#[test]
fn a_spring_centre_takes_growth_up_and_little_warmth_is_not_told() {
    let mut job = on_centre(TailKind::SpringCentre);
    job.setups[0].warmer_by_k = 10.0;
    assert_eq!(remarks(&job, &result(&job)), vec![]);
    let mut job = on_centre(TailKind::LiveCentre);
    job.setups[0].warmer_by_k = 0.4;
    assert_eq!(remarks(&job, &result(&job)), vec![]);
    job.setups[0].warmer_by_k = 2.0;
    assert!(!only(&job, &result(&job)).text.contains("dead"));
}

#[test]
fn cold_work_slackens_its_centre() {
    let mut job = on_centre(TailKind::LiveCentre);
    job.setups[0].warmer_by_k = -1.0;
    assert_eq!(remarks(&job, &result(&job)), vec![], "it still presses");
    job.setups[0].warmer_by_k = -10.0;
    let finding = only(&job, &result(&job));
    assert_eq!(finding.rule, "warm");
    assert!(finding.text.contains("slack") && finding.text.contains("shorter"), "{}", finding.text);
    let Some((_, Edit::SetConditions { warmer_by_k, jaw_friction, .. })) = finding.remedy else { panic!("no remedy") };
    assert_eq!((warmer_by_k, jaw_friction), (0.0, job.setups[0].jaw_friction));
}

/// Between centres, fed to the tailstock.
pub fn fed_to_the_tailstock(thrust_n: f64) -> Job {
    let mut job = job();
    let setup = &mut job.setups[0];
    setup.drive.kind = DriveKind::CentreAndDog;
    setup.drive.dog.kind = DogKind::TwoTails;
    setup.work_start_z_mm = 0.0;
    setup.tail.kind = TailKind::DeadCentre;
    setup.tail.thrust_n = thrust_n;
    let pass = &mut setup.passes[0];
    (pass.from_z_mm, pass.to_z_mm) = (pass.to_z_mm, pass.from_z_mm);
    job
}

/// A headstock centre only pushes (statics): more feed force than thrust lifts the work off it.
#[test]
fn a_feed_to_the_tailstock_with_more_than_the_thrust_takes_the_work_off_its_centre() {
    let quiet = fed_to_the_tailstock(2000.0);
    assert_eq!(remarks(&quiet, &result(&quiet)), vec![]);
    let mut job = fed_to_the_tailstock(20.0);
    let feed_n = along(&job, &result(&job), SETUP, Some(PASS)).expect("solved").axial.back_n;
    assert!(feed_n > 50.0, "{feed_n}");
    let finding = only(&job, &result(&job));
    assert_eq!((finding.rule, finding.verdict), ("leaves_centre", Verdict::Trouble));
    assert_eq!(finding.about, Subject::Drive(SETUP));
    // Just more thrust than feed is enough, and so is a hold-back or a feed to the headstock.
    let enough = fed_to_the_tailstock(feed_n + 1.0);
    assert_eq!(remarks(&enough, &result(&enough)), vec![]);
    let mut to_headstock = job.clone();
    let pass = &mut to_headstock.setups[0].passes[0];
    (pass.from_z_mm, pass.to_z_mm) = (pass.to_z_mm, pass.from_z_mm);
    assert_eq!(remarks(&to_headstock, &result(&to_headstock)), vec![]);
    job.apply(&finding.remedy.expect("hold it back").1).expect("the remedy can be made");
    assert!(job.setups[0].drive.hold_back);
    assert_eq!(remarks(&job, &result(&job)), vec![]);
}
