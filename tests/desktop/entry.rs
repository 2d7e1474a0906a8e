//! Number fields: any unit may be typed, nothing typed is lost, nothing changes by itself.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use midspan::app::{MidspanApp, Selected};
use midspan::job::{Edit, Units};

use crate::desk::{enter_into, keys, press, text_in, type_into, window};

const PLACE: &str = "Place from the jaw face";

fn rest_z_mm(app: &MidspanApp) -> f64 {
    app.desk.job().setups[0].rests[0].z_mm
}

#[test]
fn inches_typed_as_a_fraction_into_a_metric_place_become_millimetres() {
    let mut window = window();
    enter_into(&mut window, PLACE, "1-3/8 in");
    // 1.375 x 25.4, the inch being 25.4 mm by definition.
    assert_eq!(rest_z_mm(window.state()), 34.925);
    assert_eq!(text_in(&window, PLACE), "34.925");
}

#[test]
fn a_bare_fraction_in_an_inch_job_is_inches() {
    let mut window = window();
    press(&mut window, "in");
    assert_eq!(window.state().desk.job().units, Units::Inch);
    enter_into(&mut window, PLACE, "1-3/8");
    assert_eq!(rest_z_mm(window.state()), 34.925);
}

#[test]
fn nothing_reaches_the_job_before_the_text_is_entered() {
    let mut window = window();
    let before = rest_z_mm(window.state());
    type_into(&mut window, PLACE, "123");
    assert_eq!(rest_z_mm(window.state()), before);
    assert_eq!(text_in(&window, PLACE), "123");
}

#[test]
fn tab_enters_the_text_and_goes_on() {
    let mut window = window();
    type_into(&mut window, PLACE, "123");
    keys(&mut window, Modifiers::NONE, Key::Tab);
    assert_eq!(rest_z_mm(window.state()), 123.0);
}

#[test]
fn escape_puts_the_old_text_back() {
    let mut window = window();
    let (before, text) = (rest_z_mm(window.state()), text_in(&window, PLACE));
    type_into(&mut window, PLACE, "123");
    keys(&mut window, Modifiers::NONE, Key::Escape);
    assert_eq!(rest_z_mm(window.state()), before);
    assert_eq!(text_in(&window, PLACE), text);
}

#[test]
fn a_text_that_is_no_number_stays_and_the_reason_stands_beneath_it() {
    let mut window = window();
    let before = rest_z_mm(window.state());
    enter_into(&mut window, PLACE, "half-way");
    assert_eq!(rest_z_mm(window.state()), before);
    assert_eq!(text_in(&window, PLACE), "half-way");
    let reasons = window.query_all_by_label_contains("half-way").count();
    assert!(reasons >= 1, "no sentence names what was typed");
}

#[test]
fn a_number_the_job_refuses_stays_and_the_reason_stands_beneath_it() {
    let mut window = window();
    window.state_mut().desk.view.selected = Selected::Shaft;
    window.run_steps(3);
    let field = "Stock land 1 diameter";
    let before = window.state().desk.job().clone();
    enter_into(&mut window, field, "-5");
    assert_eq!(*window.state().desk.job(), before);
    assert_eq!(text_in(&window, field), "-5");
    let reason = window.state().desk.status.clone().expect("the refusal is said at the foot of the window");
    assert!(reason.trouble);
    assert!(window.query_all_by_label_contains(&reason.text).count() >= 2, "said at the foot and at the field");
}

#[test]
fn arrow_keys_step_the_value_and_shift_makes_ten_steps() {
    let mut window = window();
    enter_into(&mut window, PLACE, "200");
    type_into(&mut window, PLACE, "200");
    keys(&mut window, Modifiers::NONE, Key::ArrowUp);
    assert_eq!(rest_z_mm(window.state()), 201.0);
    keys(&mut window, Modifiers::SHIFT, Key::ArrowDown);
    assert_eq!(rest_z_mm(window.state()), 191.0);
}

#[test]
fn a_field_that_is_only_visited_changes_nothing() {
    let mut window = window();
    // A third of an inch has no short decimal in millimetres.
    let setup = window.state().desk.job().setups[0].id;
    let mut rest = window.state().desk.job().setups[0].rests[0].clone();
    rest.z_mm = 25.4 / 3.0 * 20.0;
    let mut commands = midspan::app::Commands::default();
    commands.edits.push(Edit::SetRest { setup, rest: rest.clone() });
    window.state_mut().desk.take(commands);
    window.run_steps(3);
    window.get_by_role_and_label(egui::accesskit::Role::TextInput, PLACE).focus();
    window.run_steps(2);
    keys(&mut window, Modifiers::NONE, Key::Enter);
    assert_eq!(rest_z_mm(window.state()).to_bits(), rest.z_mm.to_bits());
}

#[test]
fn a_default_is_marked_until_it_is_entered() {
    let mut window = window();
    window.state_mut().desk.view.selected = Selected::Lathe;
    window.run_steps(3);
    let assumed = |window: &egui_kittest::Harness<'_, MidspanApp>| window.query_all_by_label("assumed").count();
    let before = assumed(&window);
    assert!(before > 0);
    assert!(window.state().desk.job().lathe.swing_over_bed_mm.assumed);
    enter_into(&mut window, "Swing over the bed", "330");
    assert!(!window.state().desk.job().lathe.swing_over_bed_mm.assumed);
    assert_eq!(window.state().desk.job().lathe.swing_over_bed_mm.value, 330.0);
    assert_eq!(assumed(&window), before - 1);
}

#[test]
fn enter_on_an_untouched_default_makes_it_the_users_own() {
    let mut window = window();
    window.state_mut().desk.view.selected = Selected::Lathe;
    window.run_steps(3);
    window.get_by_role_and_label(egui::accesskit::Role::TextInput, "Swing over the bed").focus();
    window.run_steps(2);
    keys(&mut window, Modifiers::NONE, Key::Enter);
    assert!(!window.state().desk.job().lathe.swing_over_bed_mm.assumed);
}
