//! The window as a whole: nothing cut off, nothing nameless, nothing repainting while idle.

use std::sync::Arc;
use std::time::Duration;

use egui::accesskit::Role;
use egui::{Event, Key, Modifiers, PointerButton, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use midspan::app::{MidspanApp, Selected};
use midspan::job::examples::{self, EXAMPLES};

use crate::desk::{Answer, come_to_rest, job, keys, press, window, window_with};

#[test]
fn every_panel_of_details_can_be_shown_and_every_field_has_a_name() {
    let mut window = window();
    let setup = &job().setups[0];
    for selected in [
        Selected::Shaft,
        Selected::StockLand(0),
        Selected::WantedLand(0),
        Selected::Lathe,
        Selected::Sureness,
        Selected::Drive,
        Selected::Tail,
        Selected::Tool,
        Selected::Rest(setup.rests[0].id),
        Selected::Pass(setup.passes[0].id),
        Selected::Setup,
    ] {
        window.state_mut().desk.view.selected = selected;
        window.run_steps(3);
        assert_eq!(window.unnamed_widgets(), Vec::<String>::new(), "{selected:?}");
    }
}

#[test]
fn showing_details_changes_nothing() {
    let mut window = window();
    let before = window.state().desk.job().clone();
    for selected in [Selected::Shaft, Selected::Lathe, Selected::Drive, Selected::Tail, Selected::Tool] {
        window.state_mut().desk.view.selected = selected;
        window.run_steps(3);
    }
    assert_eq!(*window.state().desk.job(), before);
}

/// How long the window means to wait before it draws itself again unasked.
fn repaint_delay(window: &Harness<'_, MidspanApp>) -> Duration {
    window.output().viewport_output[&egui::ViewportId::ROOT].repaint_delay
}

#[test]
fn an_idle_window_asks_for_no_repaint() {
    for example in EXAMPLES {
        let job = examples::load(example.key).unwrap();
        let mut window = window_with(job, None, &Arc::new(Answer::default()));
        window.run_steps(20);
        come_to_rest(&mut window);
        for _ in 0..5 {
            window.step();
            let delay = repaint_delay(&window);
            assert_eq!(delay, Duration::MAX, "{}: repaint asked for in {delay:?}", example.key);
        }
    }
}

#[test]
fn a_window_comes_to_rest_after_a_drag_with_the_pointer_left_on_the_bench() {
    let mut window = window();
    // Away from the rest, or it would be the tool that is grasped.
    window.state_mut().desk.view.tool_z_mm = 480.0;
    window.run_steps(3);
    let from = window.get_by_role_and_label(Role::Slider, "Steady rest 1").rect().center();
    let place = window.state().desk.job().setups[0].rests[0].z_mm;
    window.hover_at(from);
    window.drag_at(from);
    for away in [10.0, 20.0, 30.0] {
        window.hover_at(from + vec2(away, 0.0));
    }
    let pos = from + vec2(30.0, 0.0);
    let modifiers = Modifiers::NONE;
    window.event(Event::PointerButton { pos, button: PointerButton::Primary, pressed: false, modifiers });
    window.run_steps(20);
    assert!(window.state().desk.job().setups[0].rests[0].z_mm > place, "the rest was dragged");
    for _ in 0..5 {
        window.step();
        let delay = repaint_delay(&window);
        assert_eq!(delay, Duration::MAX, "repaint asked for in {delay:?}");
    }
}

#[test]
fn set_ups_and_passes_are_added_copied_and_removed_on_the_strip() {
    let mut window = window();
    press(&mut window, "+ spring pass");
    assert_eq!(window.state().desk.job().setups[0].passes.len(), 3);
    assert_eq!(window.state().desk.view.pass, Some(window.state().desk.job().setups[0].passes[1].id));
    press(&mut window, "Remove pass");
    assert_eq!(window.state().desk.job().setups[0].passes.len(), 2);
    press(&mut window, "Copy");
    assert_eq!(window.state().desk.job().setups.len(), 2);
    assert_eq!(window.state().desk.view.setup, window.state().desk.job().setups[1].id, "the copy is looked at");
    press(&mut window, "Turn end for end");
    assert!(window.state().desk.job().setups[1].end_for_end);
    press(&mut window, "Remove set-up");
    assert_eq!(window.state().desk.job().setups.len(), 1);
}

#[test]
fn choosing_as_it_comes_in_shows_the_work_before_the_first_pass() {
    let mut window = window();
    press(&mut window, "as it comes in");
    assert_eq!(window.state().desk.view.pass, None);
}

#[test]
fn no_panel_of_details_pushes_the_bench_aside() {
    let mut window = window();
    press(&mut window, "in");
    let setup = &job().setups[0];
    let curves_left = |window: &Harness<'_, MidspanApp>| window.get_by_label("Size error").rect().left();
    let before = curves_left(&window);
    assert!(before < 320.0, "details are {before} points wide");
    for selected in [
        Selected::Shaft,
        Selected::Lathe,
        Selected::Sureness,
        Selected::Drive,
        Selected::Tail,
        Selected::Tool,
        Selected::Rest(setup.rests[0].id),
        Selected::Pass(setup.passes[0].id),
        Selected::Setup,
    ] {
        window.state_mut().desk.view.selected = selected;
        window.run_steps(4);
        assert!((curves_left(&window) - before).abs() < 0.5, "{selected:?}: {}", curves_left(&window));
    }
}

#[test]
fn no_field_of_details_is_cut_off_at_the_side() {
    for units in ["mm", "in"] {
        let mut window = window();
        press(&mut window, units);
        let setup = &job().setups[0];
        let edge = window.get_by_label("Size error").rect().left();
        for selected in [
            Selected::Shaft,
            Selected::Lathe,
            Selected::Sureness,
            Selected::Drive,
            Selected::Tail,
            Selected::Tool,
            Selected::Rest(setup.rests[0].id),
            Selected::Pass(setup.passes[0].id),
            Selected::Setup,
        ] {
            window.state_mut().desk.view.selected = selected;
            window.run_steps(4);
            let fields = window.query_all_by_role(egui::accesskit::Role::TextInput);
            let furthest = fields.map(|field| field.rect().right()).filter(|right| *right < 600.0).fold(0.0, f32::max);
            assert!(furthest < edge - 4.0, "{units}, {selected:?}: a field ends at {furthest}, the panel at {edge}");
            let tags = window.query_all_by_label("assumed").map(|tag| tag.rect().right()).fold(0.0, f32::max);
            assert!(tags < edge - 4.0, "{units}, {selected:?}: a tag ends at {tags}, the panel at {edge}");
        }
    }
}

#[test]
fn what_is_chosen_is_shown_in_the_same_frame() {
    let mut window = window();
    window.get_by_role_and_label(egui::accesskit::Role::Button, "Lathe").click();
    window.run_steps(2);
    // One step for the press, one for the release: no third frame is needed.
    assert!(window.query_by_label("Swing over the bed").is_some());
    assert_eq!(window.state().desk.view.selected, Selected::Lathe);
}

#[test]
fn type_is_made_larger_and_smaller_by_key_within_limits() {
    let mut window = window();
    keys(&mut window, Modifiers::COMMAND, Key::Plus);
    assert!((window.ctx.zoom_factor() - 1.1).abs() < 1e-3, "{}", window.ctx.zoom_factor());
    for _ in 0..10 {
        keys(&mut window, Modifiers::COMMAND, Key::Minus);
    }
    assert!((window.ctx.zoom_factor() - 0.7).abs() < 1e-3, "{}", window.ctx.zoom_factor());
}

#[test]
fn light_and_dark_are_changed_by_a_press() {
    let mut window = window();
    let dark = window.ctx.global_style().visuals.dark_mode;
    press(&mut window, if dark { "Light" } else { "Dark" });
    assert_eq!(window.ctx.global_style().visuals.dark_mode, !dark);
}

#[test]
fn side_panels_are_put_away_and_brought_back() {
    let mut window = window();
    let left = |window: &Harness<'_, MidspanApp>| window.get_by_label("Size error").rect().left();
    let before = left(&window);
    press(&mut window, "Details");
    window.run_steps(12);
    assert!(left(&window) < before - 200.0, "the bench takes the room");
    press(&mut window, "Details");
    window.run_steps(12);
    assert!((left(&window) - before).abs() < 1.0);
}
