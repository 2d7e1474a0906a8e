//! Rules about jaws and thin tubes: a quiet set-up, one change, exactly one finding.

use midspan::advice::{Finding, findings};
use midspan::job::{BoreLand, Job, MaterialChoice, Sleeve, Stated, Subject, TipKind, Tolerance, examples};
use midspan::study::{JobResult, compute};

use crate::quiet::{REST, SETUP, job, steady};
use crate::quiet_result::result;
use crate::remarks::{only, remarks};

/// A made-up result with the same force on every jaw of the steady (or of the follower).
pub fn pressed(job: &Job, force_n: f64) -> JobResult {
    let mut result = result(job);
    let pass = &mut result.setups[0].passes[0];
    let n_supports = pass.supports.len();
    for row in pass.forces_n.chunks_mut(n_supports) {
        row[4..].fill(force_n);
    }
    result
}

pub fn with_steady(tip: TipKind) -> Job {
    let mut job = job();
    job.setups[0].rests.push(steady(15.0));
    job.setups[0].rests[0].tip = tip;
    assert_eq!(remarks(&job, &result(&job)), vec![]);
    job
}

/// By hand: C45 yields at 305 MPa, so at a peak of 509 MPa below its skin (1.67, Johnson 1985, from memory); a roller of
/// 20 mm, 12 mm wide, reaches that on 40 mm work at 569 N.
#[test]
fn a_roller_pressed_beyond_first_yield_may_mark_the_work() {
    let job = with_steady(TipKind::Roller);
    assert_eq!(remarks(&job, &pressed(&job, 565.0)), vec![]);
    let finding = only(&job, &pressed(&job, 573.0));
    assert_eq!((finding.rule, finding.about), ("jaw_marks", Subject::Rest(SETUP, REST)));
    assert!(finding.text.contains("may mark") && finding.why.contains("judgement"), "{finding:#?}");
}

#[test]
fn softer_work_is_marked_sooner_and_a_sleeve_keeps_it_unmarked() {
    let mut job = with_steady(TipKind::Roller);
    job.shaft.material = MaterialChoice::Listed("S235".into());
    assert_eq!(only(&job, &pressed(&job, 400.0)).rule, "jaw_marks");
    job.setups[0].rests[0].sleeve = Sleeve::CatHead { diameter_mm: 60.0, width_mm: 30.0 };
    assert_eq!(remarks(&job, &pressed(&job, 400.0)), vec![]);
}

/// A tip softer than the work wears to fit instead of marking it: only what its rubbing asks for is told.
#[test]
fn a_soft_tip_is_not_said_to_mark_the_work() {
    let job = with_steady(TipKind::Bronze);
    let finding = only(&job, &pressed(&job, 5000.0));
    assert_eq!(finding.rule, "jaw_force");
}

/// A longer tip around the work, or a wider one along it, carries more (force over area).
#[test]
fn a_larger_tip_takes_the_hard_work_away() {
    let mut job = with_steady(TipKind::Bronze);
    assert_eq!(only(&job, &pressed(&job, 200.0)).rule, "jaw_force");
    job.lathe.pad_length_mm = Stated::given(15.0);
    assert_eq!(remarks(&job, &pressed(&job, 200.0)), vec![]);
}

/// A nylon tip is listed for a twenty-fifth of what bronze is (Mott, read).
#[test]
fn a_plastic_tip_is_hard_pressed_at_once() {
    let job = {
        let mut job = job();
        job.setups[0].rests.push(steady(15.0));
        job.setups[0].rests[0].tip = TipKind::Plastic;
        job
    };
    assert_eq!(remarks(&job, &pressed(&job, 7.0)), vec![]);
    assert_eq!(only(&job, &pressed(&job, 8.0)).rule, "jaw_force");
}

/// The quiet job as a tube of this bore, all along.
pub fn tube(bore_mm: f64) -> Job {
    let mut job = job();
    let bore = BoreLand { from_s_mm: 0.0, to_s_mm: 325.0, start_diameter_mm: bore_mm, end_diameter_mm: bore_mm };
    job.shaft.bores.push(bore);
    assert_eq!(remarks(&job, &result(&job)), vec![], "cut far from the jaws");
    job
}

/// By hand: a ring of 18.5 mm mean radius, 3 mm wall and 25 mm grip, 207 GPa, 5000 N a jaw: W R³/(E I) = 2.719 mm, of
/// which three jaws take 0.01594 in and 0.01426 out (Roark): 43 and 39 um, against 20 um on radius.
#[test]
fn a_tube_turned_near_three_jaws_may_come_out_in_lobes() {
    let mut job = tube(34.0);
    job.setups[0].passes[0].to_z_mm = 30.0;
    let finding = only(&job, &result(&job));
    assert_eq!((finding.rule, finding.about), ("squeezed_tube", Subject::Drive(SETUP)));
    assert!(finding.text.contains("up to 43 \u{b5}m") && finding.text.contains("39 \u{b5}m"), "{}", finding.text);
    assert!(finding.why.contains("assumed") && finding.why.contains("most it can be"), "{}", finding.why);
    // A quarter of the grip is 20.5 um in all, a fifth 16.4.
    job.setups[0].drive.grip_force_n = Stated::given(1250.0);
    assert!(!only(&job, &result(&job)).why.contains("assumed"));
    job.setups[0].drive.grip_force_n = Stated::given(1000.0);
    assert_eq!(remarks(&job, &result(&job)), vec![]);
}

#[test]
fn a_solid_or_stout_or_roughly_wanted_end_is_not_squeezed() {
    let near = |bore_mm: f64| {
        let mut job = if bore_mm > 0.0 { tube(bore_mm) } else { job() };
        job.setups[0].passes[0].to_z_mm = 30.0;
        job
    };
    assert_eq!(remarks(&near(0.0), &result(&near(0.0))), vec![]);
    assert_eq!(remarks(&near(20.0), &result(&near(20.0))), vec![]);
    let mut rough = near(34.0);
    rough.shaft.wanted[0].tolerance = Tolerance::Limits { lower_mm: -0.2, upper_mm: 0.2 };
    assert_eq!(remarks(&rough, &result(&rough)), vec![]);
    rough.shaft.wanted[0].tolerance = Tolerance::Free;
    assert_eq!(remarks(&rough, &result(&rough)), vec![]);
}

/// By hand: a ring of 19.25 mm mean radius, 1.5 mm wall and 12 mm jaw: 10.21 um a newton; three jaws of 60 N press it in by
/// 0.01594 of 613 um, 9.8 um, of 130 N by 21.2 um, which is 42 um on diameter against 40.
#[test]
fn a_thin_tube_in_a_steady_gives_under_the_jaws() {
    let mut job = tube(37.0);
    job.setups[0].rests.push(steady(15.0));
    assert_eq!(remarks(&job, &pressed(&job, 120.0)), vec![]);
    let finding = only(&job, &pressed(&job, 130.0));
    assert_eq!((finding.rule, finding.about), ("dented_tube", Subject::Rest(SETUP, REST)));
    assert!(finding.text.contains("up to 21 \u{b5}m"), "{}", finding.text);
    // One jaw alone presses in further than three that hold each other up.
    let mut one_sided = pressed(&job, 0.0);
    let pass = &mut one_sided.setups[0].passes[0];
    let n_supports = pass.supports.len();
    pass.forces_n.chunks_mut(n_supports).for_each(|row| row[5] = 60.0);
    assert_eq!(only(&job, &one_sided).rule, "dented_tube");
    job.setups[0].rests[0].sleeve = Sleeve::CatHead { diameter_mm: 60.0, width_mm: 30.0 };
    assert_eq!(remarks(&job, &pressed(&job, 100.0)), vec![], "the sleeve spreads it");
}

/// The one tube of the examples is stout under its steady and cut far from its jaws, and rollers and tips of all examples
/// press less than the work bears.
#[test]
fn no_example_is_squeezed_dented_or_marked() {
    for example in examples::EXAMPLES {
        let job = examples::load(example.key).expect("embedded");
        let told: Vec<Finding> = findings(&job, &compute(&job))
            .into_iter()
            .filter(|finding| ["squeezed_tube", "dented_tube", "jaw_marks"].contains(&finding.rule))
            .collect();
        assert_eq!(told, vec![], "{}", example.key);
    }
}
