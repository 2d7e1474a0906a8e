//! The window as a whole: nothing cut off, nothing nameless, nothing repainting while idle.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use midspan::app::Selected;

use crate::desk::{job, keys, press, window};

#[test]
fn every_panel_of_details_can_be_shown_and_every_field_has_a_name() {
    let mut window = window();
    let setup = &job().setups[0];
    for selected in [
        Selected::Shaft,
        Selected::StockLand(0),
        Selected::WantedLand(0),
        Selected::Lathe,
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

#[test]
fn an_idle_window_asks_for_no_repaint() {
    let mut window = window();
    window.run_steps(20);
    let delay = window.output().viewport_output[&egui::ViewportId::ROOT].repaint_delay;
    assert!(delay > std::time::Duration::from_secs(1), "repaint asked for in {delay:?}");
}

#[test]
fn a_pinned_arrangement_stays_while_the_job_changes() {
    let mut window = window();
    let before = window.state().desk.job().clone();
    keys(&mut window, Modifiers::NONE, Key::P);
    press(&mut window, "Take the steady away");
    let pinned = window.state().desk.view.pinned.as_ref().expect("pinned by its key");
    assert_eq!(pinned.job, before);
    keys(&mut window, Modifiers::NONE, Key::P);
    assert!(window.state().desk.view.pinned.is_none());
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
    let curves_left =
        |window: &egui_kittest::Harness<'_, midspan::app::MidspanApp>| window.get_by_label("Size error").rect().left();
    let before = curves_left(&window);
    assert!(before < 320.0, "details are {before} points wide");
    for selected in [
        Selected::Shaft,
        Selected::Lathe,
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
