//! Where a rest may stand, as a person meets it: a drag or an arrow key stops at a band's edge, goes past it when it is
//! meant, and the reason shows at the pointer.

use std::sync::Arc;

use egui::accesskit::Role;
use egui::{Event, Key, Modifiers, Pos2, Shape, pos2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use midspan::app::{MidspanApp, Selected};
use midspan::job::{Follower, Job};

use crate::bench::press_and_move;
use crate::desk::{Answer, job, keys, press, says, window_with};

type Window = Harness<'static, MidspanApp>;

/// The pass cuts from here to 560; the carriage keeps a steady rest half a base of 80 and a wing of 120 off it.
const CUT_FROM_MM: f64 = 420.0;
const EDGE_MM: f64 = CUT_FROM_MM - 160.0;

/// A shaft of 600 mm with a steady at 200, and one pass along its tailstock third.
fn one_pass() -> Job {
    let mut job = job();
    let setup = &mut job.setups[0];
    setup.rests[0].z_mm = 200.0;
    setup.passes.truncate(1);
    (setup.passes[0].from_z_mm, setup.passes[0].to_z_mm) = (560.0, CUT_FROM_MM);
    job
}

fn shown(job: Job) -> Window {
    let mut window = window_with(job, None, &Arc::new(Answer::default()));
    window.state_mut().desk.view.tool_z_mm = 500.0;
    window.run_steps(3);
    window
}

fn place(window: &Window) -> f64 {
    window.state().desk.job().setups[0].rests[0].z_mm
}

/// Where a place of the bed lies across the screen, and points to the millimetre.
fn across(window: &Window, z_mm: f64) -> (f32, f64) {
    let view = &window.state().desk.view;
    let range = view.plot_x_range.expect("the curves tell where their frame is");
    let scale = f64::from(range.span()) / (view.z_view_mm.end() - view.z_view_mm.start());
    ((f64::from(range.min) + (z_mm - view.z_view_mm.start()) * scale) as f32, scale)
}

/// Drags the steady rest by millimetres; the button stays down.
fn drag(window: &mut Window, by_mm: f64) -> Pos2 {
    let from = window.get_by_role_and_label(Role::Slider, "Steady rest 1").rect().center();
    let by = vec2((by_mm * across(window, 0.0).1) as f32, 0.0);
    press_and_move(window, from, by);
    from + by
}

fn release(window: &mut Window, at: Pos2) {
    window.drop_at(at);
    window.run_steps(3);
}

/// How often words are painted anywhere in the window.
fn painted(window: &Window, words: &str) -> usize {
    fn count(shape: &Shape, words: &str) -> usize {
        match shape {
            Shape::Vec(shapes) => shapes.iter().map(|shape| count(shape, words)).sum(),
            Shape::Text(text) => usize::from(text.galley.text().contains(words)),
            _ => 0,
        }
    }
    window.output().shapes.iter().map(|clipped| count(&clipped.shape, words)).sum()
}

#[test]
fn a_drag_stops_at_the_edge_of_its_band_says_why_and_is_one_undo() {
    let mut window = shown(one_pass());
    let before = window.state().desk.job().clone();
    let past_mm = 50.0 / across(&window, 0.0).1;
    let at = drag(&mut window, EDGE_MM - 200.0 + past_mm);
    assert_eq!(place(&window), EDGE_MM, "it waits at the edge while the pointer is {past_mm} mm beyond");
    assert_eq!(painted(&window, "stops here: the carriage meets it in pass 1"), 1);
    assert_eq!(says(&window, "Steady rest stopped: the carriage meets it in pass 1"), 1);
    release(&mut window, at);
    assert_eq!(place(&window), EDGE_MM);
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(*window.state().desk.job(), before);
    assert!(!window.state().desk.history().can_undo());
}

#[test]
fn pulled_well_past_the_edge_it_goes_there_and_the_clash_is_shown_in_place() {
    let mut window = shown(one_pass());
    // Zoomed in so far that the pull past the edge does not end in the cut, which is another reason.
    window.state_mut().desk.view.z_view_mm = -50.0..=650.0;
    window.run_steps(3);
    let past_mm = 62.0 / across(&window, 0.0).1;
    let clash = "The carriage meets it in pass 1: the tool must stay 160.0 mm off its jaws";
    assert_eq!(painted(&window, clash), 0);
    let at = drag(&mut window, EDGE_MM - 200.0 + past_mm);
    release(&mut window, at);
    assert!((place(&window) - EDGE_MM - past_mm).abs() <= 1.0, "{} against {past_mm} past the edge", place(&window));
    assert_eq!(painted(&window, clash), 1, "beside the selected rest");
    assert!(window.state().desk.results().findings.iter().any(|finding| finding.rule == "in_the_way"));
    // Where it stands wrong it is free to go anywhere, and back in its band it is stopped again.
    let at = drag(&mut window, -past_mm - 30.0);
    release(&mut window, at);
    assert!((place(&window) - EDGE_MM + 30.0).abs() <= 1.0, "{}", place(&window));
    assert_eq!(painted(&window, clash), 0);
    let at = drag(&mut window, 40.0);
    release(&mut window, at);
    assert_eq!(place(&window), EDGE_MM);
}

#[test]
fn an_arrow_key_held_stops_at_the_edge_and_pressed_once_more_goes_past() {
    let mut job = one_pass();
    job.setups[0].rests[0].z_mm = EDGE_MM - 1.0;
    let mut window = shown(job);
    window.get_by_role_and_label(Role::Slider, "Steady rest 1").focus();
    window.run_steps(3);
    let key = |pressed| Event::Key {
        key: Key::ArrowRight,
        physical_key: None,
        pressed,
        repeat: false,
        modifiers: Modifiers::NONE,
    };
    for _ in 0..4 {
        window.event(key(true));
        window.run_steps(1);
    }
    assert_eq!(place(&window), EDGE_MM, "held, it stays at the edge");
    window.event(key(false));
    window.run_steps(3);
    keys(&mut window, Modifiers::NONE, Key::ArrowRight);
    assert_eq!(place(&window), EDGE_MM + 1.0, "pressed afresh, it is meant");
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(place(&window), EDGE_MM);
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(place(&window), EDGE_MM - 1.0, "one hold is one undo");
}

#[test]
fn the_reason_shows_at_the_pointer_over_a_hatched_stretch_and_a_click_selects_the_rest() {
    let mut window = shown(one_pass());
    window.state_mut().desk.view.selected = Selected::Setup;
    window.run_steps(2);
    let row = window.get_by_label_contains("Where steady rest 1 may stand").rect();
    let (reason, other) = ("pass 1 runs the tool into its jaws", "the carriage meets it in pass 1");
    assert_eq!((says(&window, reason), says(&window, other)), (1, 1), "in the row's own words only");
    let at = pos2(across(&window, 500.0).0, row.center().y);
    window.hover_at(at);
    window.run_steps(8);
    assert_eq!((says(&window, reason), says(&window, other)), (2, 1));
    window.hover_at(pos2(across(&window, 300.0).0, row.center().y));
    window.run_steps(8);
    assert_eq!((says(&window, reason), says(&window, other)), (1, 2));
    window.drag_at(at);
    window.run_steps(1);
    window.drop_at(at);
    window.run_steps(3);
    let id = window.state().desk.job().setups[0].rests[0].id;
    assert_eq!(window.state().desk.view.selected, Selected::Rest(id));
}

#[test]
fn rows_take_their_height_from_the_bench_and_none_is_shown_without_a_rest() {
    let plots = |window: &Window| window.get_by_label_contains("Plot: Size error").rect();
    let mut job = one_pass();
    job.setups[0].follower = Some(Follower::usual());
    let window = shown(job.clone());
    assert_eq!(
        (says(&window, "Where steady rest 1 may stand"), says(&window, "Where the follower rest may run")),
        (1, 1)
    );
    let with_rows = plots(&window);
    job.setups[0].follower = None;
    job.setups[0].rests.clear();
    let window = shown(job);
    assert_eq!((says(&window, "may stand."), says(&window, "may run.")), (0, 0));
    assert_eq!(plots(&window), with_rows);
}

#[test]
fn a_steady_rest_that_is_added_comes_to_a_place_where_it_may_stand() {
    let mut job = one_pass();
    job.setups[0].rests.clear();
    let mut window = shown(job);
    press(&mut window, "+ steady rest");
    assert_eq!(place(&window), EDGE_MM, "the nearest to half-way");
    press(&mut window, "+ steady rest");
    let results = window.state().desk.results();
    let rests = &window.state().desk.job().setups[0].rests;
    assert_eq!(rests.len(), 2);
    for rest in rests {
        let reach = results.reach(rest.id).expect("worked out with everything else");
        assert_eq!(reach.first_against(rest.z_mm), None, "at {}", rest.z_mm);
    }
}
