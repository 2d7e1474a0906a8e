//! The cut played: it travels, goes on to the next pass, ends, and leaves job and history alone, whatever is done to it.

use std::time::Duration;

use egui::accesskit::Role;
use egui::{Key, Modifiers, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use midspan::app::play::Pace;
use midspan::app::{Action, Commands, MidspanApp, Selected};
use midspan::job::{Edit, PassId};

use crate::desk::{job, keys, press, select, type_into, window};

type Window = Harness<'static, MidspanApp>;

fn place_mm(window: &Window) -> f64 {
    window.state().desk.view.tool_z_mm
}

fn is_playing(window: &Window) -> bool {
    window.state().desk.view.play.is_playing()
}

fn passes(window: &Window) -> Vec<PassId> {
    window.state().desk.job().setups[0].passes.iter().map(|pass| pass.id).collect()
}

fn space(window: &mut Window) {
    keys(window, Modifiers::NONE, Key::Space);
}

fn edit(window: &mut Window, edit: Edit) {
    let commands = Commands { edits: vec![edit], ..Commands::default() };
    window.state_mut().desk.take(commands);
    window.run_steps(2);
}

fn assert_idle(window: &mut Window) {
    window.run_steps(8);
    for _ in 0..3 {
        window.step();
        let delay = window.output().viewport_output[&egui::ViewportId::ROOT].repaint_delay;
        assert_eq!(delay, Duration::MAX, "a repaint is asked for");
    }
}

#[test]
fn the_tool_travels_and_the_shape_of_the_work_with_it_and_neither_job_nor_history_know() {
    let mut window = window();
    let (before, from_mm) = (window.state().desk.job().clone(), place_mm(&window));
    press(&mut window, "\u{25b6} Play");
    let mut last_mm = place_mm(&window);
    for _ in 0..4 {
        window.step();
        assert!(place_mm(&window) < last_mm, "towards the headstock");
        last_mm = place_mm(&window);
        let cut = window.state().desk.results().shape.as_ref().and_then(|shape| shape.cut).expect("it cuts");
        assert!((cut.z_mm - last_mm).abs() < 1e-6, "the shape is that of {}, the tool at {last_mm}", cut.z_mm);
    }
    assert!(last_mm < from_mm);
    press(&mut window, "\u{23f8} Pause");
    last_mm = place_mm(&window);
    assert_idle(&mut window);
    assert_eq!(place_mm(&window), last_mm);
    assert_eq!(*window.state().desk.job(), before);
    assert!(!window.state().desk.history().can_undo());
}

#[test]
fn a_window_that_plays_asks_for_frames_and_one_that_has_played_to_the_end_does_not() {
    let mut window = window();
    window.state_mut().desk.view.play.pace = Pace::Quick;
    let passes = passes(&window);
    assert_eq!(passes.len(), 2);
    select(&mut window, Selected::Pass(passes[0]));
    space(&mut window);
    window.step();
    assert_eq!(window.output().viewport_output[&egui::ViewportId::ROOT].repaint_delay, Duration::ZERO);
    for _ in 0..60 {
        window.step();
        if window.state().desk.view.pass == Some(passes[1]) {
            break;
        }
    }
    let view = &window.state().desk.view;
    assert_eq!((view.pass, view.selected), (Some(passes[1]), Selected::Pass(passes[1])), "on to the next");
    assert!(is_playing(&window));
    window.run_steps(30);
    assert!(!is_playing(&window), "ended at the last");
    let last = &window.state().desk.job().setups[0].passes[1];
    assert_eq!(place_mm(&window), last.to_z_mm);
    assert_idle(&mut window);
    // Once more: from the first.
    space(&mut window);
    assert_eq!(window.state().desk.view.pass, Some(passes[0]));
    assert!(is_playing(&window));
}

#[test]
fn escape_ends_it_and_puts_the_tool_back() {
    let mut window = window();
    let looked_at = |window: &Window| (window.state().desk.view.pass, place_mm(window));
    let before = looked_at(&window);
    space(&mut window);
    window.run_steps(4);
    assert_ne!(looked_at(&window), before);
    keys(&mut window, Modifiers::NONE, Key::Escape);
    assert_eq!(looked_at(&window), before);
    assert_idle(&mut window);
}

#[test]
fn keys_step_along_the_passes_and_back() {
    let mut window = window();
    let passes = passes(&window);
    window.state_mut().desk.view.tool_z_mm = f64::MAX;
    window.run_steps(2);
    let first = window.state().desk.job().setups[0].passes[0].clone();
    window.state_mut().desk.view.tool_z_mm = first.from_z_mm;
    let mut seen = vec![first.from_z_mm];
    for _ in 0..40 {
        keys(&mut window, Modifiers::NONE, Key::Period);
        seen.push(place_mm(&window));
    }
    assert!(seen.windows(2).all(|pair| pair[1] < pair[0]), "{seen:?}");
    assert_eq!((place_mm(&window), window.state().desk.view.pass), (first.to_z_mm, Some(passes[0])));
    keys(&mut window, Modifiers::NONE, Key::Period);
    assert_eq!(window.state().desk.view.pass, Some(passes[1]));
    keys(&mut window, Modifiers::NONE, Key::Comma);
    assert_eq!((place_mm(&window), window.state().desk.view.pass), (first.to_z_mm, Some(passes[0])));
    keys(&mut window, Modifiers::NONE, Key::Comma);
    assert!(place_mm(&window) > first.to_z_mm);
}

#[test]
fn the_slider_is_the_place_of_the_tool_and_moving_it_pauses() {
    let mut window = window();
    space(&mut window);
    let slider = window.get_by_role_and_label(Role::Slider, "Place of the tool");
    let node = slider.accesskit_node();
    let pass = &window.state().desk.job().setups[0].passes[0];
    assert_eq!((node.min_numeric_value(), node.max_numeric_value()), (Some(pass.to_z_mm), Some(pass.from_z_mm)));
    assert!((node.numeric_value().expect("a value") - place_mm(&window)).abs() < 1e-9);
    assert!(node.value().expect("in words").contains("from the jaw face"), "{:?}", node.value());
    slider.focus();
    window.run_steps(2);
    keys(&mut window, Modifiers::NONE, Key::ArrowRight);
    assert!(!is_playing(&window), "the hand comes first");
    let before = place_mm(&window);
    keys(&mut window, Modifiers::NONE, Key::ArrowRight);
    assert_eq!(place_mm(&window), before + 1.0);
}

#[test]
fn a_pass_taken_away_while_it_is_played_ends_it_without_harm() {
    let mut window = window();
    let passes = passes(&window);
    space(&mut window);
    let setup = window.state().desk.view.setup;
    edit(&mut window, Edit::RemovePass { setup, pass: passes[0] });
    assert!(!is_playing(&window));
    assert_eq!(window.state().desk.view.pass, Some(passes[1]));
    space(&mut window);
    edit(&mut window, Edit::RemovePass { setup, pass: passes[1] });
    assert!(!is_playing(&window));
    space(&mut window);
    assert!(!is_playing(&window), "nothing to play");
    assert_eq!(window.state().desk.status.as_ref().map(|status| &*status.text), Some("There is no pass to play."));
    assert_idle(&mut window);
}

#[test]
fn undo_and_a_drag_go_on_beside_it_and_another_job_ends_it() {
    let mut window = window();
    window.state_mut().desk.view.play.pace = Pace::Slow;
    let before = job();
    space(&mut window);
    press(&mut window, "Take the steady away");
    assert!(is_playing(&window), "and the work is seen without it");
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(*window.state().desk.job(), before);
    assert!(is_playing(&window));

    let from = window.get_by_role_and_label(Role::Slider, "Steady rest 1").rect().center();
    window.hover_at(from);
    window.drag_at(from);
    for away in [10.0, 20.0, 30.0] {
        window.hover_at(from + vec2(away, -20.0));
        window.step();
    }
    window.drop_at(from + vec2(30.0, -20.0));
    window.run_steps(2);
    assert_ne!(*window.state().desk.job(), before, "the rest was dragged");
    assert!(is_playing(&window));
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(*window.state().desk.job(), before, "as one step");

    keys(&mut window, Modifiers::COMMAND, Key::E);
    assert!(window.state().is_asking() && !is_playing(&window), "a question pauses it");
}

#[test]
fn space_presses_what_has_the_keyboard_and_bare_keys_are_typed_into_fields() {
    let mut window = window();
    window.get_by_role_and_label(Role::Button, "Lathe").focus();
    window.run_steps(2);
    space(&mut window);
    assert!(!is_playing(&window));
    assert_eq!(window.state().desk.view.selected, Selected::Lathe);
    let rest = window.state().desk.job().setups[0].rests[0].id;
    select(&mut window, Selected::Rest(rest));
    let before = place_mm(&window);
    type_into(&mut window, "Place from the jaw face", "2");
    for key in [Key::Space, Key::Period, Key::Comma] {
        keys(&mut window, Modifiers::NONE, key);
    }
    assert!(!is_playing(&window));
    assert_eq!(place_mm(&window), before);
}

#[test]
fn space_plays_with_the_keyboard_on_a_thing_of_the_bench() {
    let mut window = window();
    window.get_by_role_and_label(Role::Slider, "Steady rest 1").focus();
    window.run_steps(2);
    space(&mut window);
    assert!(is_playing(&window));
}

#[test]
fn work_as_it_comes_in_is_played_from_its_first_pass() {
    let mut window = window();
    press(&mut window, "as it comes in");
    let action = Commands { actions: vec![Action::Play], ..Commands::default() };
    window.state_mut().desk.take(action);
    assert_eq!(window.state().desk.view.pass, Some(passes(&window)[0]));
    window.run_steps(2);
    assert!(is_playing(&window));
    keys(&mut window, Modifiers::NONE, Key::Escape);
    assert_eq!(window.state().desk.view.pass, None);
}
