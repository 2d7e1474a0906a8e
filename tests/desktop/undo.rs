//! Undo and redo: one gesture is one step.

use egui::{Key, Modifiers};
use midspan::app::{Action, Commands, Desk};
use midspan::job::Edit;

use crate::desk::{enter_into, job, keys, press, window};

const PLACE: &str = "Place from the jaw face";

/// The edit that puts the steady of the test job at a place.
fn rest_at(desk: &Desk, z_mm: f64) -> Edit {
    let setup = &desk.job().setups[0];
    let mut rest = setup.rests[0].clone();
    rest.z_mm = z_mm;
    Edit::SetRest { setup: setup.id, rest }
}

fn drag_to(desk: &mut Desk, z_mm: f64, gesture_open: bool) {
    let edits = vec![rest_at(desk, z_mm)];
    desk.take(Commands { edits, gesture_open, ..Commands::default() });
}

#[test]
fn a_typed_number_is_one_step_back_and_one_forward() {
    let mut window = window();
    let first = window.state().desk.job().clone();
    enter_into(&mut window, PLACE, "120");
    let second = window.state().desk.job().clone();
    enter_into(&mut window, PLACE, "150");
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(*window.state().desk.job(), second);
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(*window.state().desk.job(), first);
    assert!(!window.state().desk.history().can_undo());
    keys(&mut window, Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    assert_eq!(*window.state().desk.job(), second);
    keys(&mut window, Modifiers::COMMAND, Key::Y);
    assert_eq!(window.state().desk.job().setups[0].rests[0].z_mm, 150.0);
}

#[test]
fn a_drag_of_many_moves_is_one_step() {
    let mut desk = Desk::new(job(), None);
    let before = desk.job().clone();
    for z_mm in [310.0, 320.0, 330.0] {
        drag_to(&mut desk, z_mm, true);
    }
    desk.take(Commands::default());
    assert_eq!(desk.job().setups[0].rests[0].z_mm, 330.0);
    desk.take(Commands { actions: vec![Action::Undo], ..Commands::default() });
    assert_eq!(*desk.job(), before);
    assert!(!desk.history().can_undo());
}

#[test]
fn a_drag_given_up_leaves_the_job_and_the_history_as_they_were() {
    let mut desk = Desk::new(job(), None);
    let before = desk.job().clone();
    drag_to(&mut desk, 310.0, true);
    desk.take(Commands { actions: vec![Action::CancelGesture], gesture_open: true, ..Commands::default() });
    assert_eq!(*desk.job(), before);
    // The pointer is still down and moving.
    drag_to(&mut desk, 320.0, true);
    assert_eq!(*desk.job(), before);
    desk.take(Commands::default());
    assert!(!desk.history().can_undo());
    drag_to(&mut desk, 320.0, false);
    assert_eq!(desk.job().setups[0].rests[0].z_mm, 320.0, "the next drag works again");
}

#[test]
fn a_change_after_undo_forgets_what_was_undone() {
    let mut desk = Desk::new(job(), None);
    drag_to(&mut desk, 310.0, false);
    desk.take(Commands { actions: vec![Action::Undo], ..Commands::default() });
    assert!(desk.history().can_redo());
    drag_to(&mut desk, 320.0, false);
    assert!(!desk.history().can_redo());
}

#[test]
fn results_belong_to_the_job_on_the_desk_after_every_step() {
    let mut desk = Desk::new(job(), None);
    let before = desk.results().result.clone();
    drag_to(&mut desk, 500.0, true);
    assert_eq!(desk.results().job, *desk.job());
    assert_ne!(desk.results().result, before, "the curves follow the hand");
    desk.take(Commands { actions: vec![Action::Undo], ..Commands::default() });
    assert_eq!(desk.results().result, before);
}

#[test]
fn the_steady_is_taken_away_by_button_and_comes_back_by_undo() {
    let mut window = window();
    let with = window.state().desk.results().result.clone();
    press(&mut window, "Take the steady away");
    assert!(window.state().desk.job().setups[0].rests.is_empty());
    assert_ne!(window.state().desk.results().result, with);
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(window.state().desk.job().setups[0].rests.len(), 1);
    assert_eq!(window.state().desk.results().result, with);
}

#[test]
fn a_steady_is_added_by_button_and_selected() {
    let mut window = window();
    press(&mut window, "+ steady rest");
    let rests = &window.state().desk.job().setups[0].rests;
    assert_eq!(rests.len(), 2);
    assert_eq!(window.state().desk.view.selected, midspan::app::Selected::Rest(rests[1].id));
}

#[test]
fn delete_takes_what_is_selected_away() {
    let mut window = window();
    keys(&mut window, Modifiers::NONE, Key::Delete);
    assert!(window.state().desk.job().setups[0].rests.is_empty());
}
