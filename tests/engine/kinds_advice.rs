//! Findings about threads, faces, bores, drills and parting: the quiet set-up, one change, one finding more.

use midspan::advice::{Finding, Verdict, findings, outcome, thread_depth};
use midspan::job::{Cut, Force, Job, Pass, PassId, PassKind, TailEnd, Units};
use midspan::study::{Measured, compute};

use crate::close::close;
use crate::quiet::{self, steady};

const NO_PUSH: Force = Force::Typed { radial_n: 0.0, main_n: 0.0, feed_n: 0.0, follows_depth: false };

/// The quiet work, short of its tailstock: 100 mm out of the chuck with a steady at 80 mm, one pass of a kind.
pub fn end_job(kind: PassKind, from_z_mm: f64, to_z_mm: f64, cut: Cut) -> Job {
    let mut job = quiet::job();
    job.shaft.stock = vec![quiet::land(125.0, 40.0)];
    job.shaft.wanted.clear();
    let setup = &mut job.setups[0];
    setup.tail = TailEnd::free();
    setup.rests = vec![steady(80.0)];
    setup.passes = vec![Pass { kind, from_z_mm, to_z_mm, cut, force: NO_PUSH, ..setup.passes[0].clone() }];
    job
}

fn of_rule(job: &Job, rule: &str) -> Vec<Finding> {
    let mut all = findings(job, &compute(job));
    all.retain(|finding| finding.rule == rule);
    all
}

fn set_off(job: &mut Job, x_mm: f64, y_mm: f64) {
    let rest = &mut job.setups[0].rests[0];
    (rest.offset_x_mm, rest.offset_y_mm) = (x_mm, y_mm);
}

fn mended(job: &Job, finding: &Finding) -> Job {
    let mut job = job.clone();
    job.apply(&finding.remedy.as_ref().expect("there is a remedy").1).unwrap();
    job
}

#[test]
fn a_face_that_is_not_flat_is_told_with_the_way_to_move_the_steady() {
    let mut job = end_job(PassKind::Face, 100.0, 100.0, Cut::Depth { on_diameter_mm: 0.5 });
    assert!(of_rule(&job, "end_work").is_empty());
    for (x_mm, shape, lies, way) in
        [(-0.1, "hollow", "toward you", "away from you"), (0.1, "domed", "away", "toward you")]
    {
        set_off(&mut job, x_mm, 0.0);
        let found = of_rule(&job, "end_work");
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].verdict, Verdict::Watch);
        assert!(found[0].text.contains(shape), "{}", found[0].text);
        assert!(found[0].why.contains(&format!("100 \u{b5}m {lies} in the steady")), "{}", found[0].why);
        assert!(found[0].why.contains(&format!("bring its jaws {way}")), "{}", found[0].why);
        assert!(of_rule(&mended(&job, &found[0]), "end_work").is_empty());
    }
}

#[test]
fn a_pip_is_told_where_the_work_is_too_high() {
    let mut job = end_job(PassKind::Face, 100.0, 100.0, Cut::Depth { on_diameter_mm: 0.5 });
    set_off(&mut job, 0.0, 0.1);
    let found = of_rule(&job, "end_work");
    assert_eq!(found.len(), 1);
    assert!(found[0].text.contains("pip") && found[0].why.contains("jaws down"), "{found:?}");
}

#[test]
fn a_bore_that_is_not_straight_is_told_open_or_tight() {
    let mut job = end_job(PassKind::Bore, 100.0, 60.0, Cut::ToDiameter { diameter_mm: 22.0 });
    job.shaft.bores = vec![midspan::job::BoreLand {
        from_s_mm: 60.0,
        to_s_mm: 125.0,
        start_diameter_mm: 20.0,
        end_diameter_mm: 20.0,
    }];
    assert!(of_rule(&job, "end_work").is_empty());
    for (x_mm, words) in [(0.1, "larger at the mouth over 40"), (-0.1, "tighter at the mouth over 40")] {
        set_off(&mut job, x_mm, 0.0);
        let found = of_rule(&job, "end_work");
        assert_eq!(found.len(), 1);
        assert!(found[0].text.contains(words), "{}", found[0].text);
        assert!(of_rule(&mended(&job, &found[0]), "end_work").is_empty());
    }
    // A boring bar reaches through the steady: nothing of the carriage comes near it.
    assert!(of_rule(&job, "in_the_way").is_empty());
}

#[test]
fn a_drill_that_misses_the_middle_is_told_and_one_behind_a_centre_is_trouble() {
    let mut job = end_job(PassKind::Drill, 100.0, 70.0, Cut::ToDiameter { diameter_mm: 6.0 });
    assert!(of_rule(&job, "end_work").is_empty());
    job.setups[0].tail.offset_x_mm = 0.05;
    let found = of_rule(&job, "end_work");
    assert_eq!(found.len(), 1);
    assert!(found[0].text.contains("toward you from the drill's axis"), "{}", found[0].text);
    assert!(of_rule(&mended(&job, &found[0]), "end_work").is_empty());
    job.setups[0].tail = quiet::job().setups[0].tail.clone();
    let found = of_rule(&job, "end_work");
    assert_eq!((found.len(), found[0].verdict), (1, Verdict::Trouble));
}

#[test]
fn parting_is_told_where_the_kerf_can_close_or_the_work_gives_way() {
    let mut job = end_job(PassKind::Part, 43.0, 40.0, Cut::ToDiameter { diameter_mm: 0.0 });
    job.setups[0].rests.clear();
    assert!(of_rule(&job, "parting").is_empty());

    job.setups[0].rests = vec![steady(80.0)];
    let found = of_rule(&job, "parting");
    assert_eq!(found.iter().map(|finding| finding.verdict).collect::<Vec<_>>(), [Verdict::Watch]);
    assert!(found[0].text.contains("stays in the steady rest"), "{}", found[0].text);

    job.setups[0].rests.clear();
    job.setups[0].tail = quiet::job().setups[0].tail.clone();
    let found = of_rule(&job, "parting");
    assert_eq!(found.iter().map(|finding| finding.verdict).collect::<Vec<_>>(), [Verdict::Trouble]);

    job.setups[0].tail = TailEnd::free();
    let push = Force::Typed { radial_n: 2000.0, main_n: 0.0, feed_n: 0.0, follows_depth: false };
    job.setups[0].passes[0].force = push;
    job.shaft.stock = vec![quiet::land(125.0, 12.0)];
    let found = of_rule(&job, "parting");
    assert_eq!(found.iter().map(|finding| finding.verdict).collect::<Vec<_>>(), [Verdict::Watch]);
    assert!(found[0].text.contains("fed in a turn"), "{}", found[0].text);

    job.setups[0].passes[0].force = NO_PUSH;
    let after = Pass { id: PassId(9), kind: PassKind::Turn, ..job.setups[0].passes[0].clone() };
    job.setups[0].passes.push(after);
    assert!(of_rule(&job, "parting")[0].text.contains("followed"));
}

/// Source: ISO 965-1, grade 6: 170 µm for M20 x 2.5, 132 µm for M10 x 1.5 (from memory, sure); the standard takes the
/// middle of a range of diameters and rounds to preferred numbers, some 3 % either way.
#[test]
fn grade_6_is_about_what_the_standard_prints() {
    for (diameter_mm, pitch_mm, printed_um) in [(20.0, 2.5, 170.0), (10.0, 1.5, 132.0)] {
        close(1000.0 * thread_depth::grade_6_mm(pitch_mm, diameter_mm), printed_um, 0.04, 0.0);
    }
}

#[test]
fn a_shallow_thread_is_told_after_its_last_pass_with_a_spring_pass_to_mend_it() {
    let mut job = quiet::job();
    job.shaft.wanted.clear();
    let setup = &mut job.setups[0];
    let thread = Pass {
        kind: PassKind::Thread,
        from_z_mm: 250.0,
        to_z_mm: 60.0,
        cut: Cut::Depth { on_diameter_mm: 1.2 },
        feed_mm_per_rev: 2.0,
        speed_rpm: 60.0,
        ..setup.passes[0].clone()
    };
    let last = Pass { id: PassId(9), cut: Cut::ToDrawing { leave_on_diameter_mm: 0.0 }, ..thread.clone() };
    setup.passes = vec![thread, last];
    assert!(of_rule(&job, "thread_depth").is_empty(), "stout work");
    // 14 mm thick the same work gives way by a good deal more.
    job.shaft.stock = vec![quiet::land(325.0, 14.0)];
    let found = of_rule(&job, "thread_depth");
    assert_eq!(found.len(), 1, "only the last pass is judged");
    assert!(found[0].text.contains("Pass 2 (threading)") && found[0].text.contains("too shallow"), "{}", found[0].text);
    let better = mended(&job, &found[0]);
    assert_eq!(better.setups[0].passes[2].kind, PassKind::Spring);
    let worst = |job: &Job| compute(job).setups[0].passes.last().unwrap().worst().unwrap().error_mm;
    assert!(worst(&better) < worst(&job), "so wide a chip leaves soft work something even then");
    assert!(of_rule(&job, "size").is_empty(), "the root is not held against the drawing of the outside");
}

#[test]
fn a_steady_on_a_thread_cut_before_is_trouble_without_a_feature_of_the_shaft() {
    let mut job = quiet::job();
    job.setups[0].passes[0].kind = PassKind::Thread;
    job.setups[0].passes[0].feed_mm_per_rev = 1.5;
    job.setups[0].passes[0].cut = Cut::Depth { on_diameter_mm: 0.4 };
    let mut second = job.setups[0].clone();
    second.id = midspan::job::SetupId(30);
    second.passes.clear();
    second.rests = vec![steady(200.0)];
    job.setups.push(second);
    let found = of_rule(&job, "bearing_spot");
    assert_eq!(found.len(), 1);
    assert!(found[0].text.contains("a thread"), "{}", found[0].text);
}

#[test]
fn errors_are_named_after_what_is_measured() {
    let told = |measured, error_mm| outcome::error_words(measured, error_mm, Units::Metric);
    assert_eq!(told(Measured::Outside, 0.008), "8 \u{b5}m big");
    assert_eq!(told(Measured::ThreadRoot, 0.008), "root 8 \u{b5}m big");
    assert_eq!(told(Measured::ThreadRoot, -0.008), "root 8 \u{b5}m small");
    let deep = |error_mm| outcome::depth_words(error_mm, Units::Metric);
    assert_eq!([deep(0.008), deep(-0.008), deep(0.0001)], ["too shallow", "too deep", "as deep as the dial"]);
    assert_eq!(told(Measured::Bore, -0.008), "bore 8 \u{b5}m small");
    assert_eq!(outcome::hollow_or_domed(0.012, Units::Metric), "12 \u{b5}m hollow");
    assert_eq!(outcome::hollow_or_domed(-0.0254, Units::Inch), "1.0 thou domed");
    assert_eq!(outcome::hollow_or_domed(0.0, Units::Inch), "flat");
    assert_eq!(outcome::place_words([0.0, 0.0001], Units::Metric), "on the axis");
    assert_eq!(outcome::place_words([-0.004, 0.002], Units::Metric), "4 \u{b5}m toward you and 2 \u{b5}m up");
}

#[test]
fn a_pass_without_sizes_is_told_in_a_sentence_and_in_figures() {
    let mut job = end_job(PassKind::Face, 100.0, 100.0, Cut::Depth { on_diameter_mm: 0.5 });
    set_off(&mut job, -0.1, 0.0);
    let told = |job: &Job| {
        let result = compute(job);
        let pass = &job.setups[0].passes[0];
        let lines = outcome::lines(job, pass, result.pass(pass.id).unwrap());
        (outcome::sentence(job, pass, result.pass(pass.id).unwrap()), lines)
    };
    let (sentence, lines) = told(&job);
    assert!(sentence.unwrap().starts_with("The face comes out") && lines[0].1.contains("hollow"));
    job.setups[0].passes[0].kind = PassKind::Part;
    (job.setups[0].passes[0].from_z_mm, job.setups[0].passes[0].to_z_mm) = (30.0, 27.0);
    assert!(told(&job).0.unwrap().starts_with("Parting leaves no diameter"));
    job.setups[0].passes[0].kind = PassKind::Groove;
    job.setups[0].passes[0].cut = Cut::Depth { on_diameter_mm: 2.0 };
    let (sentence, lines) = told(&job);
    assert_eq!(sentence, None);
    assert!(lines.iter().any(|(name, _)| *name == "after a dwell"));
}
