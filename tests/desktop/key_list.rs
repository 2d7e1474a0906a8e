//! The list of keys tells all of them, and comes and goes by key.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use midspan::app::commands::SHORTCUTS;

use crate::desk::{keys, press, type_into, window};

const TITLE: &str = "Keys and mouse";

#[test]
fn every_key_of_the_table_stands_in_the_list() {
    let mut window = window();
    keys(&mut window, Modifiers::NONE, Key::F1);
    assert!(window.query_by_label(TITLE).is_some());
    for (shortcut, action, does) in SHORTCUTS {
        let text = window.ctx.format_shortcut(shortcut);
        let row = window.query_all_by_label_contains(&text).next();
        assert!(row.is_some() && !does.is_empty(), "{action:?} by {text}");
    }
    assert!(window.query_by_label("zooms about the pointer").is_some());
    assert_eq!(window.unnamed_widgets(), Vec::<String>::new());
}

#[test]
fn the_list_is_closed_by_esc_by_its_own_key_and_by_enter() {
    let mut window = window();
    for close in [Key::Escape, Key::F1, Key::Enter] {
        keys(&mut window, Modifiers::NONE, Key::F1);
        assert!(window.state().is_asking(), "{close:?}");
        keys(&mut window, Modifiers::NONE, close);
        assert!(!window.state().is_asking(), "{close:?}");
    }
    press(&mut window, "Help");
    window.get_by_label_contains(TITLE).click();
    window.run_steps(3);
    assert!(window.state().is_asking());
}

#[test]
fn the_list_can_be_looked_at_while_typing_and_what_was_typed_counts() {
    let mut window = window();
    type_into(&mut window, "Place from the jaw face", "222");
    keys(&mut window, Modifiers::NONE, Key::F1);
    assert!(window.state().is_asking());
    keys(&mut window, Modifiers::NONE, Key::Escape);
    assert_eq!(window.state().desk.job().setups[0].rests[0].z_mm, 222.0);
}
