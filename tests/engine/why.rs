//! Explanations of figures: with their numbers worked out anew they give the figure on screen, to its rounding; and they
//! are there for every figure, in every example.

use midspan::advice::compared::{Told, rows};
use midspan::advice::why::{Asked, Figure, Purpose, Sum, Why, why};
use midspan::advice::words;
use midspan::job::quantity::{Kind, show};
use midspan::job::{Job, Units, examples};
use midspan::picture::why_sketch::why_sketch;
use midspan::study::jaw_contact::of_shape;
use midspan::study::{self, JobResult, Shape, Status, Support};

use crate::random_job::random_job;
use crate::worked_sum::{shown, worked_out};

/// Every figure there may be with these supports.
fn figures(supports: &[Support]) -> Vec<Figure> {
    let mut all = vec![
        Figure::Error,
        Figure::ErrorBetween,
        Figure::FoundAt,
        Figure::SizeLeft,
        Figure::Spring,
        Figure::Shape,
        Figure::Stiffness,
        Figure::SetupSize,
        Figure::JawLoad,
        Figure::Depth,
        Figure::MainForce,
        Figure::PushAway,
        Figure::FeedForce,
        Figure::Gap,
        Figure::Power,
        Figure::Torque,
        Figure::GearSpeed,
        Figure::GearFeed,
        Figure::Marks,
        Figure::WornMarks,
        Figure::Swings,
        Figure::Whip,
        Figure::Buckling,
        Figure::BarTail,
        Figure::Chatter,
        Figure::Warmth,
        Figure::Pressed,
        Figure::RunOut,
        Figure::LetGo,
        Figure::OutOfRound,
        Figure::Outcome("Bore"),
        Figure::Outcome("pip in its middle"),
        Figure::Status,
        Figure::Rows,
    ];
    for support in supports {
        all.extend([
            Figure::Load(*support),
            Figure::Pressure(*support),
            Figure::Drag(*support),
            Figure::Heat(*support),
            Figure::Rubbing(*support),
        ]);
    }
    all
}

/// Calls `see` with every pass of a job, the tool at some places of it.
fn look(job: &Job, result: &JobResult, mut see: impl FnMut(&Asked<'_>)) {
    for setup in &job.setups {
        for pass in &setup.passes {
            let (from_mm, to_mm) = pass.span_mm();
            for share in [0.0, 0.37, 0.8] {
                let z_mm = from_mm + share * (to_mm - from_mm);
                let shape = study::shape_at(job, result, setup.id, Some(pass.id), Some(z_mm));
                see(&Asked::of(job, result, setup.id, Some(pass.id), shape.as_ref(), z_mm).unwrap());
            }
        }
    }
}

fn supports(shape: Option<&Shape>) -> Vec<Support> {
    shape.map_or_else(Vec::new, |shape| shape.reactions.iter().map(|reaction| reaction.support).collect())
}

/// The numbers that are written give the figure that is told; else what is wrong.
pub fn check(sum: &Sum, of: &str) -> Option<String> {
    let value = worked_out(&sum.numbers);
    let (told, half_step) = shown(&sum.result);
    // Six figures stand in a formula.
    let near = half_step * (1.0 + 1e-6) + 2e-5 * value.abs();
    let wrong = || format!("{of}: {} = {value}, told as {}", sum.numbers, sum.result);
    let is_near = (value - told).abs() <= near;
    (!is_near).then(wrong)
}

fn check_all(job: &Job, result: &JobResult, n_sums: &mut usize, wrong: &mut Vec<String>) {
    look(job, result, |asked| {
        let spots = asked.setup.rests.iter().map(|rest| Figure::Spot(rest.id));
        for figure in figures(&supports(asked.shape)).into_iter().chain(spots) {
            let Some(found) = why(asked, figure) else { continue };
            assert!(!found.what.is_empty() && !found.source.is_empty() && !found.trust.is_empty(), "{figure:?}");
            assert!(found.what.ends_with('.') && found.more.iter().all(|more| more.ends_with('.')), "{figure:?}");
            for sum in &found.sums {
                wrong.extend(check(sum, &format!("{}, {figure:?} ({})", job.title, sum.gives)));
                *n_sums += 1;
            }
            if let Some(sketch) = &found.sketch {
                let bounds = why_sketch(sketch, job.units).bounds;
                for edge in [bounds.left_mm, bounds.right_mm, bounds.bottom_mm, bounds.top_mm] {
                    assert!(edge.abs() < 500.0, "{figure:?}: {sketch:?} reaches {edge}");
                }
            }
        }
    });
}

#[test]
fn every_formula_of_every_example_gives_its_figure_in_mm_and_in_inches() {
    let (mut n_sums, mut wrong) = (0, Vec::new());
    for example in examples::EXAMPLES {
        for units in [Units::Metric, Units::Inch] {
            let mut job = examples::load(example.key).unwrap();
            job.units = units;
            check_all(&job, &study::compute_with_bands(&job), &mut n_sums, &mut wrong);
        }
    }
    assert!(wrong.is_empty(), "{} wrong: {wrong:#?}", wrong.len());
    assert!(n_sums > 2000, "{n_sums} formulas");
}

#[test]
fn so_does_every_formula_of_jobs_drawn_by_lot() {
    let (mut n_sums, mut wrong) = (0, Vec::new());
    for number in 0..40 {
        let mut job = random_job(number);
        job.title = format!("job {number}");
        check_all(&job, &study::compute_with_bands(&job), &mut n_sums, &mut wrong);
    }
    assert!(wrong.is_empty(), "{} wrong: {wrong:#?}", wrong.len());
    assert!(n_sums > 1000, "{n_sums} formulas");
}

/// The result of the formula that gives the figure itself.
fn told(found: &Why) -> Vec<&str> {
    found.sums.iter().filter(|sum| sum.purpose == Purpose::Figure).map(|sum| sum.result.as_str()).collect()
}

#[test]
fn what_the_formulas_give_is_what_the_notes_tell() {
    let mut n_cuts = 0;
    for example in examples::EXAMPLES {
        let job = examples::load(example.key).unwrap();
        let result = study::compute_with_bands(&job);
        look(&job, &result, |asked| {
            let (pass, passed) = asked.pass.unwrap();
            let of = |figure| why(asked, figure);
            if let Some(worst) = passed.worst() {
                assert_eq!(told(&of(Figure::Error).unwrap()), [words::amount(worst.error_mm, job.units)]);
                assert_eq!(told(&of(Figure::SizeLeft).unwrap()), [words::diameter(worst.left_diameter_mm, job.units)]);
            }
            if let Some(cut) = asked.shape.and_then(|shape| shape.cut.as_ref()) {
                assert_eq!(told(&of(Figure::Depth).unwrap()), [words::diameter(cut.real_depth_mm, job.units)]);
                for (figure, force_n) in
                    [(Figure::MainForce, cut.fc_n), (Figure::PushAway, cut.fp_n), (Figure::FeedForce, cut.ff_n)]
                {
                    let found = of(figure).unwrap();
                    let told = told(&found);
                    assert!(told.is_empty() || told == [words::force(force_n, job.units)], "{told:?}");
                    n_cuts += told.len();
                }
            }
            for jaw in asked.shape.map(|shape| of_shape(&job, asked.setup, Some(pass), shape)).unwrap_or_default() {
                let drag = of(Figure::Drag(jaw.support)).unwrap();
                assert_eq!(told(&drag), [show(jaw.friction_n, Kind::Force, job.units)]);
                assert!(of(Figure::Pressure(jaw.support)).is_some());
                assert!(of(Figure::Load(jaw.support)).is_some());
            }
            if passed.status == Status::Solved && !passed.stations.is_empty() && pass.speed_rpm > 0.0 {
                assert_eq!(told(&of(Figure::Power).unwrap()).len(), 2);
            }
        });
    }
    assert!(n_cuts > 100, "{n_cuts} forces of chips");
}

#[test]
fn the_lines_of_every_kind_of_pass_are_explained() {
    let mut n_lines = 0;
    for example in examples::EXAMPLES {
        let job = examples::load(example.key).unwrap();
        let result = study::compute(&job);
        look(&job, &result, |asked| {
            let (pass, passed) = asked.pass.unwrap();
            for (name, _) in midspan::advice::outcome::lines(&job, pass, passed) {
                assert!(why(asked, Figure::Outcome(name)).is_some(), "{name}");
                n_lines += 1;
            }
        });
    }
    assert!(n_lines > 20, "{n_lines}");
}

/// Source: the printed answer for a simply supported bar under a load in its middle, F L³ / (48 E I).
#[test]
fn the_textbook_bar_is_the_textbook_s() {
    let mut job = crate::quiet::job();
    job.setups[0].passes[0].force =
        midspan::job::Force::Typed { radial_n: 100.0, main_n: 0.0, feed_n: 0.0, follows_depth: false };
    let result = study::compute(&job);
    let setup = &job.setups[0];
    let end_mm = setup.work_end_z_mm(&job.shaft);
    let pass = setup.passes[0].id;
    let shape = study::shape_at(&job, &result, setup.id, Some(pass), Some(end_mm / 2.0));
    let asked = Asked::of(&job, &result, setup.id, Some(pass), shape.as_ref(), end_mm / 2.0).unwrap();
    let found = why(&asked, Figure::Spring).unwrap();
    let estimate = found.sums.iter().find(|sum| sum.purpose == Purpose::Estimate).expect("an estimate");
    let i_mm4 = std::f64::consts::PI / 64.0 * 40f64.powi(4);
    let expected_mm = 100.0 * end_mm.powi(3) / (48.0 * job.material().e_mpa.value * i_mm4);
    assert!((worked_out(&estimate.numbers) - 1000.0 * expected_mm).abs() < 1e-4 * 1000.0 * expected_mm);
    assert!(found.more.iter().any(|more| more.contains("times that")), "how they differ is told: {:?}", found.more);
}

#[test]
fn arrangements_are_compared_by_the_study_s_figures() {
    let job = examples::opening();
    let mut bare = job.clone();
    for setup in &mut bare.setups {
        setup.rests.clear();
    }
    let told = [&job, &bare].map(|job| Told::of(job, &|| true).expect("worked out"));
    assert!(Told::of(&job, &|| false).is_none(), "told to give up");
    let setup = job.setups[0].id;
    let pass = job.setups[0].passes[0].id;
    let rows = rows(&job, setup, Some(pass), &[Some(&told[0]), Some(&told[1]), None]);
    for row in &rows {
        assert_eq!(row.cells.len(), 3);
        assert_eq!(row.cells[2], Default::default(), "{}: not worked out yet", row.name);
        let best = row.cells.iter().filter(|cell| cell.is_best).count();
        assert!(best < 2, "{}: at most one of two differing figures is best", row.name);
    }
    let load = rows.iter().find(|row| row.name == "Largest load on a jaw").unwrap();
    let most_n = told[0].of.result.setup(setup).unwrap().passes.iter().flat_map(|pass| {
        let jaws =
            pass.supports.iter().filter(|support| matches!(support, Support::Jaw { .. } | Support::FollowerJaw { .. }));
        jaws.filter_map(|support| pass.largest_n(*support)).collect::<Vec<_>>()
    });
    assert_eq!(load.cells[0].text, words::force(most_n.fold(0.0, f64::max), job.units));
    let error = rows.iter().find(|row| row.name == "of the pass looked at").unwrap();
    let worst_mm = told[1].of.result.pass(pass).unwrap().worst().unwrap().error_mm;
    assert_eq!(error.cells[1].text, words::big_or_small(worst_mm, job.units));
}
