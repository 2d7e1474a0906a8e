//! The strip of promise, and the list of best places, as a person uses them.

use std::sync::Arc;

use egui::accesskit::Role;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use midspan::app::{Action, Commands, MidspanApp, Selected};
use midspan::job::{Cut, Edit, Job, TailKind, Tolerance, Units};
use midspan::study::placement::{Measure, WorstSize};

use crate::desk::{choose, come_to_rest, job, press, select, tick, window_with};

/// The words of the strip.
fn promise(window: &Harness<'_, MidspanApp>) -> String {
    let node = window.get_by_label_contains("Promise.").accesskit_node();
    node.label().or(node.value()).expect("it has words")
}

fn edit(window: &mut Harness<'_, MidspanApp>, edit: Edit) {
    window.state_mut().desk.take(Commands { edits: vec![edit], ..Commands::default() });
    window.run_steps(3);
}

/// Frames until the list is whole.
fn wait(window: &mut Harness<'_, MidspanApp>) {
    for _ in 0..2_000_000 {
        window.run_steps(1);
        if !window.state().places.is_busy() {
            window.run_steps(2);
            return;
        }
        std::thread::yield_now();
    }
    panic!("the list is never done");
}

/// A shaft of 600 mm with a tolerance and a steady at 120, and one pass along its tailstock third: a rest may stand all
/// along the rest of it.
fn one_pass() -> Job {
    let mut job = job();
    let setup = &mut job.setups[0];
    setup.rests[0].z_mm = 120.0;
    setup.passes.truncate(1);
    let pass = &mut setup.passes[0];
    (pass.from_z_mm, pass.to_z_mm) = (560.0, 420.0);
    pass.cut = Cut::ToDrawing { leave_on_diameter_mm: 0.0 };
    for wanted in &mut job.shaft.wanted {
        wanted.tolerance = Tolerance::Limits { lower_mm: -0.02, upper_mm: 0.02 };
    }
    job
}

fn shown() -> Harness<'static, MidspanApp> {
    window_with(one_pass(), None, &Arc::default())
}

#[test]
fn the_strip_tells_the_best_place_and_a_rest_put_there_stands_there() {
    let mut window = shown();
    assert!(promise(&window).contains("Largest size error if steady rest 1 stood there"), "{}", promise(&window));
    let strip = window.state().desk.results().strip().expect("a strip").clone();
    let (best_mm, least) = strip.best.expect("a place");
    let stands_mm = window.state().desk.job().setups[0].rests[0].z_mm;
    let now = strip.value_at(stands_mm).expect("it may stand where it does");
    assert!(least < now, "the test shaft's rest does not stand at the best place: {least}, {now}");
    let setup = window.state().desk.job().setups[0].clone();
    let mut rest = setup.rests[0].clone();
    rest.z_mm = best_mm;
    edit(&mut window, Edit::SetRest { setup: setup.id, rest });
    // Moving the rest does not change what was promised, and the real curves keep it.
    assert_eq!(window.state().desk.results().strip(), Some(&strip));
    let (job, results) = (window.state().desk.job(), window.state().desk.results());
    let worst = WorstSize::of(job, &job.setups[0], &results.result.setups[0]).expect("something is turned");
    assert!((worst.value - least).abs() < 0.05 * least, "{} where {least} was promised", worst.value);
    let stretch = strip.as_good().expect("a stretch");
    assert!(stretch.from_mm <= best_mm && best_mm <= stretch.to_mm);
}

#[test]
fn the_strip_follows_whatever_else_changes() {
    let mut window = shown();
    let mut last = promise(&window);
    let mut differs = |window: &Harness<'_, MidspanApp>, after: &str| {
        let now = promise(window);
        assert_ne!(now, last, "after {after}");
        last = now;
    };
    let setup = window.state().desk.job().setups[0].clone();
    edit(&mut window, Edit::SetUnits(Units::Inch));
    differs(&window, "inches");
    edit(
        &mut window,
        Edit::SetTail { setup: setup.id, tail: midspan::job::TailEnd { kind: TailKind::Free, ..setup.tail.clone() } },
    );
    differs(&window, "the tailstock has gone");
    let mut pass = setup.passes[0].clone();
    pass.feed_mm_per_rev *= 2.0;
    edit(&mut window, Edit::SetPass { setup: setup.id, pass });
    differs(&window, "a coarser feed");
    window.state_mut().desk.view.measure = Measure::Springiness;
    window.run_steps(3);
    differs(&window, "springiness is looked at");
    assert!(promise(&window).contains("Largest spring under the tool"), "{}", promise(&window));
}

#[test]
fn the_strip_is_no_wider_than_where_the_rest_may_stand_and_goes_with_the_rest() {
    let mut window = shown();
    let results = window.state().desk.results();
    let strip = results.strip().expect("a strip");
    let reach = results.reach(strip.rest).expect("bands");
    assert!(strip.z_mm.len() > 150 && strip.z_mm.iter().all(|z_mm| reach.allows(*z_mm)));
    for run in strip.runs() {
        assert!(strip.z_mm[run].windows(2).all(|pair| pair[1] - pair[0] < 2.0 + 1e-9), "at every 2 mm");
    }
    let row = window.get_by_label_contains("Promise.").rect();
    assert!(row.height() <= 20.0, "a thin row: {row}");
    let (setup, rest) = (window.state().desk.view.setup, strip.rest);
    edit(&mut window, Edit::RemoveRest { setup, rest });
    assert!(window.query_by_label_contains("Promise.").is_none());
}

#[test]
fn an_arrangement_of_the_list_is_taken_with_one_press_and_undone_with_one() {
    let mut window = shown();
    press(&mut window, "Best places");
    assert_eq!(window.state().desk.view.selected, Selected::Places);
    wait(&mut window);
    for words in ["No rest", "One rest", "Two rests", "Three rests"] {
        assert!(window.query_by_label(words).is_some(), "{words}");
    }
    assert!(window.query_all_by_label_contains("Picture. At").count() >= 3);
    assert!(window.query_by_label_contains("As it stands:").is_some());
    let answers = window.state().places.fresh().to_vec();
    assert_eq!(answers.len(), 4);
    let before = window.state().desk.job().clone();
    let best = answers[2].told[0].places_mm.clone();
    let words = take_words(&answers[2].told[0], &before);
    let named = window.query_all_by_role_and_label(Role::Button, &words).next().expect("a button");
    named.click_accesskit();
    window.run_steps(3);
    let stand = |window: &Harness<'_, MidspanApp>| -> Vec<f64> {
        window.state().desk.job().setups[0].rests.iter().map(|rest| rest.z_mm).collect()
    };
    assert_eq!(stand(&window), best);
    // The list is about the same holding: it stays as it is, and says which one was taken.
    assert_eq!(window.state().places.fresh(), answers);
    wait(&mut window);
    assert!(window.query_by_label_contains("It stands so").is_some());
    window.state_mut().desk.take(Commands { actions: vec![Action::Undo], ..Commands::default() });
    window.run_steps(3);
    assert_eq!(window.state().desk.job().setups, before.setups);
}

fn take_words(placing: &midspan::study::placement::Placing, job: &Job) -> String {
    format!("Set up like this: {}", midspan::advice::places::places(placing, job.units))
}

#[test]
fn without_the_tailstock_is_another_list_and_taking_from_it_takes_the_tailstock_away() {
    let mut window = shown();
    select(&mut window, Selected::Places);
    wait(&mut window);
    let with = window.state().places.fresh().to_vec();
    tick(&mut window, "With a tailstock");
    wait(&mut window);
    let without = window.state().places.fresh().to_vec();
    assert_ne!(with, without);
    assert!(without[1].told[0].value > with[1].told[0].value, "a free end is softer");
    let before = window.state().desk.job().clone();
    let words = take_words(&without[1].told[0], &before);
    window.get_by_role_and_label(Role::Button, &words).click_accesskit();
    window.run_steps(3);
    let setup = &window.state().desk.job().setups[0];
    assert_eq!((setup.tail.kind, setup.rests.len()), (TailKind::Free, 1));
    assert_eq!(setup.rests[0].z_mm, without[1].told[0].places_mm[0]);
    window.state_mut().desk.take(Commands { actions: vec![Action::Undo], ..Commands::default() });
    assert_eq!(window.state().desk.job().setups, before.setups);
}

#[test]
fn the_list_is_judged_by_what_is_chosen_and_can_be_stopped() {
    let mut window = shown();
    select(&mut window, Selected::Places);
    wait(&mut window);
    choose(&mut window, "Judged by", "largest spring under the tool");
    wait(&mut window);
    assert_eq!(window.state().desk.view.measure, Measure::Springiness);
    assert!(window.query_all_by_label_contains("N/\u{b5}m").next().is_some());
    assert!(window.query_by_label("Stop").is_none(), "nothing is under way");
    window.state_mut().desk.view.measure = Measure::Chatter;
    window.run_steps(2);
    press(&mut window, "Stop");
    wait(&mut window);
    assert!(window.state().places.fresh().len() < 4, "stopped, it does not go on");
    window.state_mut().desk.view.measure = Measure::Size;
    window.run_steps(2);
    wait(&mut window);
    assert_eq!(window.state().places.fresh().len(), 4, "another question is another search");
}

#[test]
fn where_nothing_is_turned_the_list_says_so_and_searches_for_nothing() {
    let mut job = one_pass();
    job.setups[0].passes.clear();
    let mut window = window_with(job, None, &Arc::default());
    select(&mut window, Selected::Places);
    wait(&mut window);
    assert!(window.query_by_label_contains("Nothing is turned along the work").is_some());
    assert!(window.state().places.fresh().is_empty() && window.query_by_label("One rest").is_none());
    assert!(window.query_by_label_contains("Promise.").is_none());
}

/// By the depth before chatter the strip comes a little later, and is then of that measure.
#[test]
fn the_strip_is_of_the_measure_chosen_even_where_that_is_dear() {
    let mut window = shown();
    window.state_mut().desk.view.measure = Measure::Chatter;
    come_to_rest(&mut window);
    let strip = window.state().desk.results().strip().expect("a strip").clone();
    assert_eq!(strip.measure, Measure::Chatter);
    let told = promise(&window);
    assert!(told.contains("Depth before chatter if steady rest 1 stood there") && told.contains("Best at"), "{told}");
    // Moving the rest itself does not change what was promised; something else does, and the last strip stays meanwhile.
    let setup = window.state().desk.job().setups[0].clone();
    let mut rest = setup.rests[0].clone();
    rest.z_mm += 40.0;
    edit(&mut window, Edit::SetRest { setup: setup.id, rest });
    come_to_rest(&mut window);
    assert_eq!(window.state().desk.results().strip(), Some(&strip));
    let mut lathe = window.state().desk.job().lathe.clone();
    lathe.tailstock_k_n_per_mm = midspan::job::Stiffness::assumed(2000.0);
    window.state_mut().desk.take(Commands { edits: vec![Edit::SetLathe(lathe)], ..Commands::default() });
    assert_eq!(window.state().desk.results().strip(), Some(&strip), "in the frame of the change");
    come_to_rest(&mut window);
    assert_ne!(window.state().desk.results().strip(), Some(&strip));
}
