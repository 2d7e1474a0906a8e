//! The example jobs are chosen from their pictures, by mouse and by keyboard.

use std::time::Duration;

use egui::accesskit::Role;
use egui::{Key, Modifiers, ViewportId, vec2};
use egui_kittest::kittest::Queryable as _;
use midspan::job::examples::{self, EXAMPLES};

use crate::desk::{enter_into, keys, press, window};

#[test]
fn the_gallery_is_walked_with_the_keyboard() {
    let mut window = window();
    keys(&mut window, Modifiers::COMMAND, Key::E);
    assert!(window.state().is_asking());
    assert!(window.get_by_role_and_label(Role::Button, EXAMPLES[0].title).is_focused());
    keys(&mut window, Modifiers::NONE, Key::ArrowRight);
    keys(&mut window, Modifiers::NONE, Key::ArrowDown);
    let focused =
        EXAMPLES.iter().filter(|example| window.get_by_role_and_label(Role::Button, example.title).is_focused());
    let focused: Vec<_> = focused.collect();
    assert_eq!(focused.len(), 1);
    let key = focused[0].key;
    assert_ne!(key, EXAMPLES[0].key);
    keys(&mut window, Modifiers::NONE, Key::Enter);
    assert!(!window.state().is_asking());
    assert_eq!(*window.state().desk.job(), examples::load(key).unwrap());
}

#[test]
fn esc_leaves_the_gallery_and_the_job() {
    let mut window = window();
    let before = window.state().desk.job().clone();
    press(&mut window, "File");
    window.get_by_label_contains("Example jobs").click();
    window.run_steps(3);
    assert!(window.state().is_asking());
    keys(&mut window, Modifiers::NONE, Key::Escape);
    assert!(!window.state().is_asking());
    assert_eq!(*window.state().desk.job(), before);
}

#[test]
fn an_example_over_unsaved_changes_is_asked_about() {
    let mut window = window();
    enter_into(&mut window, "Place from the jaw face", "200");
    let changed = window.state().desk.job().clone();
    press(&mut window, "Examples");
    press(&mut window, EXAMPLES[1].title);
    assert!(window.query_by_label("The job has unsaved changes").is_some());
    press(&mut window, "Go back");
    assert_eq!(*window.state().desk.job(), changed);
}

#[test]
fn in_the_smallest_window_every_picture_is_reached_and_the_window_rests() {
    let mut window = window();
    window.set_size(midspan::app::window::MIN_SIZE);
    window.run_steps(3);
    let notes = window.get_by_role_and_label(Role::Button, "Notes").rect();
    assert!(notes.right() < midspan::app::window::MIN_SIZE.x, "the tools fit: {notes:?}");
    keys(&mut window, Modifiers::COMMAND, Key::E);
    let room = egui::Rect::from_min_size(egui::Pos2::ZERO, midspan::app::window::MIN_SIZE);
    assert!(room.contains_rect(window.get_by_label("Go back").rect()));
    for example in EXAMPLES {
        let card = window.get_by_role_and_label(Role::Button, example.title);
        assert!(card.is_focused(), "{} is next", example.key);
        let rect = card.rect();
        assert!(room.expand2(vec2(0.0, 4.0)).contains_rect(rect), "{}: {rect:?}", example.key);
        keys(&mut window, Modifiers::NONE, Key::Tab);
        window.run_steps(8);
    }
    assert_eq!(window.unnamed_widgets(), Vec::<String>::new());
    window.step();
    assert_eq!(window.output().viewport_output[&ViewportId::ROOT].repaint_delay, Duration::MAX);
}
