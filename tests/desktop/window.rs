//! The window as a whole: nothing cut off, nothing nameless, nothing repainting while idle.

use egui::{Key, Modifiers};
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
