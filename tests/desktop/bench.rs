//! The bench as a person uses it: drag, keys, wheel and menu on the drawn lathe, and what assistive technology is told.

use egui::accesskit::Role;
use egui::{Key, Modifiers, PointerButton, Pos2, Vec2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use midspan::app::new_job::{NewJobForm, StockKind};
use midspan::app::{MidspanApp, Selected};
use midspan::job::land_row::LandRow;
use midspan::job::{Follower, FollowerSide, Job, Setup, Spot, TipKind, Units};
use std::sync::Arc;

use crate::desk::{Answer, job, keys, window, window_with};

type Window = Harness<'static, MidspanApp>;

/// The window with the tool far from the rest, so that each can be grasped.
fn bench() -> Window {
    bench_with(job())
}

fn bench_with(job: Job) -> Window {
    let mut window = window_with(job, None, &Arc::new(Answer::default()));
    window.state_mut().desk.view.tool_z_mm = 480.0;
    window.run_steps(3);
    window
}

fn setup(window: &Window) -> &Setup {
    &window.state().desk.job().setups[0]
}

/// Points to the millimetre on the bench.
pub fn scale(window: &Window) -> f64 {
    let view = &window.state().desk.view;
    let range = view.plot_x_range.expect("the curves tell where their frame is");
    f64::from(range.span()) / (view.z_view_mm.end() - view.z_view_mm.start())
}

pub fn middle_of(window: &Window, handle: &str) -> Pos2 {
    window.get_by_role_and_label(Role::Slider, handle).rect().center()
}

/// Presses at `from` and moves by `by` in small steps; the button stays down.
pub fn press_and_move(window: &mut Window, from: Pos2, by: Vec2) {
    window.hover_at(from);
    window.run_steps(2);
    window.drag_at(from);
    window.run_steps(2);
    for step in 1..=8 {
        window.hover_at(from + by * (step as f32 / 8.0));
        window.run_steps(1);
    }
    window.run_steps(2);
}

fn release(window: &mut Window, at: Pos2) {
    window.drop_at(at);
    window.run_steps(3);
}

fn drag(window: &mut Window, from: Pos2, by: Vec2) {
    press_and_move(window, from, by);
    release(window, from + by);
}

fn drag_handle(window: &mut Window, handle: &str, by_mm: f64) {
    let by = vec2((by_mm * scale(window)) as f32, 0.0);
    drag(window, middle_of(window, handle), by);
}

#[test]
fn dragging_a_rest_moves_it_changes_the_curves_and_is_one_undo() {
    let mut window = bench();
    let (before, place) = (window.state().desk.job().clone(), setup(&window).rests[0].z_mm);
    let error = window.state().desk.results().result.setups[0].passes[0].stations.clone();
    drag_handle(&mut window, "Steady rest 1", -90.0);
    let moved = setup(&window).rests[0].z_mm;
    assert!((moved - (place - 90.0)).abs() <= 1.0, "from {place} to {moved}");
    assert!((moved - moved.round()).abs() < 1e-9, "{moved} is a whole millimetre");
    assert_ne!(window.state().desk.results().result.setups[0].passes[0].stations, error);
    assert_eq!(window.state().desk.view.selected, Selected::Rest(setup(&window).rests[0].id));
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(*window.state().desk.job(), before);
    assert!(!window.state().desk.history().can_undo());
}

#[test]
fn the_job_follows_while_the_button_is_still_down() {
    let mut window = bench();
    let place = setup(&window).rests[0].z_mm;
    let from = middle_of(&window, "Steady rest 1");
    let by = vec2((-60.0 * scale(&window)) as f32, 0.0);
    press_and_move(&mut window, from, by);
    assert!((setup(&window).rests[0].z_mm - (place - 60.0)).abs() <= 1.0);
    let drawn = middle_of(&window, "Steady rest 1");
    assert!((drawn.x - (from.x + by.x)).abs() < 1.5, "drawn at {drawn}, the pointer moved by {by}");
    release(&mut window, from + by);
}

#[test]
fn escape_in_a_drag_puts_everything_back() {
    let mut window = bench();
    let before = window.state().desk.job().clone();
    let from = middle_of(&window, "Steady rest 1");
    press_and_move(&mut window, from, vec2(-40.0, 0.0));
    assert_ne!(*window.state().desk.job(), before);
    window.key_press(Key::Escape);
    window.run_steps(3);
    window.hover_at(from + vec2(-70.0, 0.0));
    window.run_steps(3);
    release(&mut window, from + vec2(-70.0, 0.0));
    assert_eq!(*window.state().desk.job(), before);
    assert!(!window.state().desk.history().can_undo());
}

#[test]
fn shift_lets_a_drag_off_the_grid() {
    let mut window = bench();
    let from = middle_of(&window, "Steady rest 1");
    let by = vec2((-59.5 * scale(&window)) as f32, 0.0);
    window.event(egui::Event::ModifiersChanged(Modifiers::SHIFT));
    press_and_move(&mut window, from, by);
    let moved = setup(&window).rests[0].z_mm;
    release(&mut window, from + by);
    assert!((moved - moved.round()).abs() > 0.05, "{moved} is off the grid");
}

#[test]
fn arrows_move_the_selected_rest_by_one_and_with_shift_by_ten() {
    let mut window = bench();
    window.get_by_role_and_label(Role::Slider, "Steady rest 1").focus();
    window.run_steps(3);
    let place = setup(&window).rests[0].z_mm;
    keys(&mut window, Modifiers::NONE, Key::ArrowRight);
    assert_eq!(setup(&window).rests[0].z_mm, place + 1.0);
    keys(&mut window, Modifiers::SHIFT, Key::ArrowLeft);
    assert_eq!(setup(&window).rests[0].z_mm, place - 9.0);
}

#[test]
fn assistive_technology_reads_and_moves_a_rest() {
    let mut window = bench();
    let place = setup(&window).rests[0].z_mm;
    let node = window.get_by_role_and_label(Role::Slider, "Steady rest 1");
    assert_eq!(node.accesskit_node().numeric_value(), Some(place));
    assert_eq!(node.accesskit_node().min_numeric_value(), Some(0.0));
    assert!(node.value().unwrap_or_default().contains("from the jaw face"), "{:?}", node.value());
    node.increment_accesskit();
    window.run_steps(3);
    assert_eq!(setup(&window).rests[0].z_mm, place + 1.0);
}

#[test]
fn the_tool_is_dragged_within_its_pass_and_changes_no_job() {
    let mut window = bench();
    let before = window.state().desk.job().clone();
    let shape = window.state().desk.results().shape.clone();
    drag_handle(&mut window, "Tool", -50.0);
    assert!((window.state().desk.view.tool_z_mm - 430.0).abs() <= 1.0, "{}", window.state().desk.view.tool_z_mm);
    assert_ne!(window.state().desk.results().shape, shape);
    assert_eq!(*window.state().desk.job(), before);
    let (low, _) = setup(&window).passes[0].span_mm();
    drag_handle(&mut window, "Tool", -2000.0);
    assert_eq!(window.state().desk.view.tool_z_mm, low);
}

#[test]
fn dragging_the_tailstock_draws_the_quill_out() {
    let mut window = bench();
    let out = setup(&window).tail.quill_out_mm;
    drag_handle(&mut window, "Tailstock", 20.0);
    assert!((setup(&window).tail.quill_out_mm - out - 20.0).abs() <= 1.0, "{}", setup(&window).tail.quill_out_mm);
    drag_handle(&mut window, "Tailstock", -5000.0);
    assert_eq!(setup(&window).tail.quill_out_mm, 0.0);
}

#[test]
fn dragging_the_follower_over_the_tool_changes_its_side() {
    let mut job = job();
    job.setups[0].follower = Some(Follower { distance_mm: 60.0, ..Follower::usual() });
    let mut window = bench_with(job);
    let side = |window: &Window| setup(window).follower.as_ref().expect("a follower").side;
    assert_eq!(side(&window), FollowerSide::Behind);
    drag_handle(&mut window, "Follower rest", -120.0);
    assert_eq!(side(&window), FollowerSide::Ahead);
    let distance = setup(&window).follower.as_ref().expect("a follower").distance_mm;
    assert!((distance - 60.0).abs() <= 1.0, "{distance}");
}

/// A shaft of two lands, 250 mm and 350 mm.
fn stepped_job() -> Job {
    let mut form = NewJobForm::new(Units::Metric);
    form.rows = vec![LandRow::plain(250.0, 38.0), LandRow::plain(350.0, 30.0)];
    form.stock = StockKind::Stepped;
    form.build().expect("the form is filled in")
}

#[test]
fn dragging_a_shoulder_of_the_stock_keeps_the_length_of_the_shaft() {
    let mut window = bench_with(stepped_job());
    let lands = |window: &Window| -> Vec<f64> {
        window.state().desk.job().shaft.stock.iter().map(|land| land.length_mm).collect()
    };
    let before = lands(&window);
    window.state_mut().desk.view.selected = Selected::StockLand(0);
    window.run_steps(3);
    drag_handle(&mut window, "Stock shoulder 1", 30.0);
    let now = lands(&window);
    assert!((now.iter().sum::<f64>() - before.iter().sum::<f64>()).abs() < 1e-9, "{now:?}");
    assert!((now[0] - before[0] - 30.0).abs() <= 1.0, "{before:?} became {now:?}");
}

#[test]
fn the_ends_of_the_selected_pass_are_dragged() {
    let mut window = bench();
    let pass = setup(&window).passes[0].clone();
    assert!(window.query_by_role_and_label(Role::Slider, "End of the cut").is_none());
    window.state_mut().desk.view.selected = Selected::Pass(pass.id);
    window.run_steps(3);
    drag_handle(&mut window, "End of the cut", 70.0);
    let moved = &setup(&window).passes[0];
    assert!((moved.to_z_mm - pass.to_z_mm - 70.0).abs() <= 1.0, "{} to {}", pass.to_z_mm, moved.to_z_mm);
    assert_eq!(moved.from_z_mm, pass.from_z_mm);
}

#[test]
fn the_wheel_zooms_about_the_pointer_and_a_key_fits_it_all_again() {
    let mut window = bench();
    let fitted = window.state().desk.view.z_view_mm.clone();
    let canvas = window.get_by_label_contains("Bench: ").rect();
    let at = canvas.left_top() + vec2(0.62 * canvas.width(), 34.0);
    let place = |window: &Window| {
        let view = &window.state().desk.view;
        let range = view.plot_x_range.expect("a range");
        view.z_view_mm.start() + f64::from(at.x - range.min) / scale(window)
    };
    let before = place(&window);
    window.hover_at(at);
    window.run_steps(2);
    window.event(egui::Event::MouseWheel {
        unit: egui::MouseWheelUnit::Point,
        delta: Vec2::new(0.0, 160.0),
        phase: egui::TouchPhase::Move,
        source: egui::MouseWheelSource::Wheel,
        modifiers: Modifiers::NONE,
    });
    window.run_steps(10);
    let view = window.state().desk.view.z_view_mm.clone();
    assert!(view.end() - view.start() < 0.8 * (fitted.end() - fitted.start()), "{view:?} in {fitted:?}");
    assert!((place(&window) - before).abs() < 0.5, "{} under the pointer, was {before}", place(&window));
    keys(&mut window, Modifiers::NONE, Key::F);
    let again = window.state().desk.view.z_view_mm.clone();
    assert!((again.start() - fitted.start()).abs() < 1e-6 && (again.end() - fitted.end()).abs() < 1e-6);
}

#[test]
fn dragging_the_empty_bed_pans_and_changes_no_job() {
    let mut window = bench();
    let before = window.state().desk.job().clone();
    let seen = window.state().desk.view.clone();
    let canvas = window.get_by_label_contains("Bench: ").rect();
    let mm_per_point = 1.0 / scale(&window);
    drag(&mut window, canvas.left_top() + vec2(0.62 * canvas.width(), 34.0), vec2(50.0, 20.0));
    let view = &window.state().desk.view;
    assert!((view.z_view_mm.start() - (seen.z_view_mm.start() - 50.0 * mm_per_point)).abs() < 0.5);
    assert!((view.y_centre_mm - (seen.y_centre_mm + 20.0 * mm_per_point)).abs() < 0.5);
    assert_eq!(*window.state().desk.job(), before);
}

#[test]
fn the_menu_of_the_bed_adds_a_rest_where_it_was_opened() {
    let mut job = job();
    let first = &mut job.setups[0].rests[0];
    first.tip = TipKind::Plastic;
    (first.spot.height_mm, first.tip_bored_mm) = (0.02, Some(40.0));
    let mut window = bench_with(job);
    let canvas = window.get_by_label_contains("Bench: ").rect();
    let at = canvas.left_top() + vec2(0.62 * canvas.width(), 34.0);
    let view = window.state().desk.view.clone();
    let range = view.plot_x_range.expect("a range");
    let place = view.z_view_mm.start() + f64::from(at.x - range.min) / scale(&window);
    window.hover_at(at);
    window.run_steps(2);
    for pressed in [true, false] {
        window.event(egui::Event::PointerButton {
            pos: at,
            button: PointerButton::Secondary,
            pressed,
            modifiers: Modifiers::NONE,
        });
        window.run_steps(2);
    }
    window.get_by_label_contains("Add a steady rest here").click();
    window.run_steps(3);
    let rests = &setup(&window).rests;
    assert_eq!(rests.len(), 2);
    assert!((rests[1].z_mm - place).abs() <= 0.51, "{} added, opened at {place}", rests[1].z_mm);
    assert_eq!(rests[1].tip, TipKind::Plastic, "it is like the first");
    assert_eq!(
        (rests[1].spot, rests[1].tip_bored_mm),
        (Spot::round(), None),
        "but stands on another place of the work"
    );
}

#[test]
fn a_click_on_the_drawing_selects_what_is_there() {
    let mut window = bench();
    for (name, role, selected) in [
        ("Three-jaw chuck", Role::Button, Selected::Drive),
        ("Tailstock", Role::Slider, Selected::Tail),
        ("Tool", Role::Slider, Selected::Tool),
        ("Steady rest 1", Role::Slider, Selected::Rest(setup(&window).rests[0].id)),
    ] {
        window.get_by_role_and_label(role, name).click();
        window.run_steps(3);
        assert_eq!(window.state().desk.view.selected, selected);
    }
}

#[test]
fn a_handle_that_gets_the_keyboard_out_of_sight_is_brought_into_view() {
    let mut window = bench();
    window.state_mut().desk.view.z_view_mm = 2000.0..=2500.0;
    window.run_steps(3);
    window.get_by_role_and_label(Role::Slider, "Steady rest 1").focus();
    window.run_steps(3);
    assert!(window.state().desk.view.z_view_mm.contains(&setup(&window).rests[0].z_mm));
}

#[test]
fn what_can_be_grasped_is_large_enough_for_a_finger() {
    let window = window();
    for name in ["Steady rest 1", "Tool", "Tailstock"] {
        let rect = window.get_by_role_and_label(Role::Slider, name).rect();
        assert!(rect.width() >= 32.0 && rect.height() >= 32.0, "{name}: {rect:?}");
    }
}
