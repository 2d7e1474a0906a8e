//! What is cut where, as a person meets it: rows under the bench, a finding that cannot be missed, a click, a fold.

use egui::{Key, Modifiers, Shape, pos2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use midspan::app::{Commands, MidspanApp};
use midspan::job::{Cut, Edit, Job, Pass, PassId, Setup, SetupId, examples};
use midspan::study::coverage::Cover;

use crate::desk::{keys, press, says, shown};

type Window = Harness<'static, MidspanApp>;

/// 300 mm of bar to be turned from end to end in two holdings that meet, or leave a gap, half-way.
fn both_ends(gap_mm: f64) -> Job {
    let mut job = crate::quiet::job();
    let pass =
        |id, to_z_mm| Pass::turn(PassId(id), 300.0, to_z_mm, Cut::ToDrawing { leave_on_diameter_mm: 0.0 }, 0.1, 500.0);
    let one = Setup { passes: vec![pass(2, 150.0 + gap_mm)], ..job.setups[0].clone() };
    let two = Setup { id: SetupId(3), end_for_end: true, passes: vec![pass(4, 125.0)], ..one.clone() };
    job.setups = vec![one, two];
    job.next_id = 20;
    job
}

/// How often these very words are painted.
fn painted(window: &Window, words: &str) -> usize {
    fn count(shape: &Shape, words: &str) -> usize {
        match shape {
            Shape::Vec(shapes) => shapes.iter().map(|shape| count(shape, words)).sum(),
            Shape::Text(text) => usize::from(text.galley.text() == words),
            _ => 0,
        }
    }
    window.output().shapes.iter().map(|clipped| count(&clipped.shape, words)).sum()
}

/// What a bar of an uncut length says, as long as there is room.
fn marks(window: &Window) -> usize {
    ["not cut", "uncut", "!"].map(|words| painted(window, words)).iter().sum()
}

fn uncut_mm(window: &Window) -> f64 {
    window.state().desk.results().coverage.length_mm(Cover::Uncut)
}

fn switch(window: &mut Window, row: &str) {
    window.get_by_label("View").click();
    window.run_steps(3);
    window.get_by_label(row).click();
    window.run_steps(3);
    keys(window, Modifiers::NONE, Key::Escape);
}

#[test]
fn an_uncut_length_is_trouble_in_the_notes_and_in_the_row_and_its_button_closes_it_in_one_undo() {
    let mut window = shown(both_ends(60.0));
    assert!((uncut_mm(&window) - 60.0).abs() < 1e-6, "{}", uncut_mm(&window));
    assert_eq!(says(&window, "Not cut in any set-up: 175.0 to 235.0 mm from end A"), 1);
    assert_eq!(marks(&window), 1, "in the row");
    assert_eq!(says(&window, "Cut in the whole job"), 1);
    assert_eq!(
        says(&window, "175.0 to 235.0 mm from end A: not cut in any set-up"),
        1,
        "the row tells a screen reader"
    );
    let before = window.state().desk.job().clone();
    press(&mut window, "Carry the pass on to 150.0 mm");
    assert!(uncut_mm(&window) < 1e-6);
    assert_eq!(says(&window, "Not cut in any set-up"), 0);
    assert_eq!(marks(&window), 0);
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(*window.state().desk.job(), before);
    assert!((uncut_mm(&window) - 60.0).abs() < 1e-6);
}

#[test]
fn folded_away_the_rows_go_but_never_while_a_length_is_not_cut() {
    let mut window = shown(both_ends(0.0));
    assert_eq!((says(&window, "Cut in this set-up"), says(&window, "Cut in the whole job")), (0, 1));
    switch(&mut window, "What this set-up cuts");
    assert_eq!((says(&window, "Cut in this set-up"), says(&window, "Cut in the whole job")), (1, 1));
    switch(&mut window, "What this set-up cuts");
    assert_eq!((painted(&window, "set-up 1"), painted(&window, "set-up 2")), (1, 1), "who cut what");
    switch(&mut window, "What is cut where");
    assert_eq!((says(&window, "Cut in this set-up"), says(&window, "Cut in the whole job")), (0, 0));
    let mut pass = window.state().desk.job().setups[1].passes[0].clone();
    pass.to_z_mm += 1.0;
    let edits = vec![Edit::SetPass { setup: SetupId(3), pass }];
    window.state_mut().desk.take(Commands { edits, ..Commands::default() });
    window.run_steps(3);
    assert_eq!((says(&window, "Cut in this set-up"), says(&window, "Cut in the whole job")), (0, 1));
}

#[test]
fn a_click_on_the_row_goes_to_the_set_up_that_cut_the_place() {
    let mut window = shown(both_ends(0.0));
    assert_eq!(window.state().desk.view.setup, SetupId(1));
    let row = window.get_by_label_contains("Cut in the whole job").rect();
    let view = &window.state().desk.view;
    let range = view.plot_x_range.expect("the curves tell where their frame is");
    let scale = f64::from(range.span()) / (view.z_view_mm.end() - view.z_view_mm.start());
    // 60 mm from end A lies 35 mm from the jaws of set-up 1, and was cut in set-up 2.
    let x = f64::from(range.min) + (35.0 - view.z_view_mm.start()) * scale;
    let at = pos2(x as f32, row.center().y);
    window.hover_at(at);
    window.run_steps(2);
    window.drag_at(at);
    window.run_steps(1);
    window.drop_at(at);
    window.run_steps(3);
    assert_eq!(window.state().desk.view.setup, SetupId(3));
}

#[test]
fn every_example_can_be_shown_and_one_with_a_gap_says_so() {
    for example in examples::EXAMPLES {
        let window = shown(examples::load(example.key).expect("an example is readable"));
        let told = says(&window, "Not cut in any set-up");
        assert_eq!(told > 0, uncut_mm(&window) > 0.0, "{}", example.key);
    }
}
