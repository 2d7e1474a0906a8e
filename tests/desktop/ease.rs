//! The bent line eases to its new shape where something is switched, and only there.

use std::time::Duration;

use egui::accesskit::Role;
use egui::epaint::{ClippedShape, ColorMode};
use egui::{Shape, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use midspan::app::{Exaggeration, MidspanApp, Palette};

use crate::desk::window;

type Window = Harness<'static, MidspanApp>;

fn lines(shape: &Shape, found: &mut Vec<Vec<f32>>) {
    match shape {
        Shape::Vec(shapes) => shapes.iter().for_each(|shape| lines(shape, found)),
        Shape::Path(path) if !path.closed && path.points.len() > 20 => {
            let away = [Palette::of(false), Palette::of(true)].map(|palette| ColorMode::Solid(palette.spring_x));
            if away.contains(&path.stroke.color) {
                found.push(path.points.iter().map(|point| point.y).collect());
            }
        }
        _ => {}
    }
}

/// How high the line of the spring away from the operator is drawn on the bench, in points.
fn drawn_height(window: &Window) -> f32 {
    let bench = window.get_by_role_and_label(Role::Canvas, "Bench: the lathe and the work from the front").rect();
    let mut found = Vec::new();
    for ClippedShape { clip_rect, shape, .. } in &window.output().shapes {
        if *clip_rect == bench {
            lines(shape, &mut found);
        }
    }
    let line = found.first().expect("the spring is drawn");
    line.iter().copied().fold(f32::MIN, f32::max) - line.iter().copied().fold(f32::MAX, f32::min)
}

fn still(window: &Window) -> bool {
    window.output().viewport_output[&egui::ViewportId::ROOT].repaint_delay == Duration::MAX
}

/// The window with the spring drawn by one factor, and the finishing pass looked at since a moment ago.
fn at_next_pass(calm: bool) -> (Window, f32) {
    let mut window = window();
    window.state_mut().settings.calm = calm;
    window.state_mut().desk.view.exaggeration = Exaggeration::Times(3000.0);
    window.run_steps(6);
    let before = drawn_height(&window);
    let next = window.state().desk.job().setups[0].passes[1].id;
    window.state_mut().desk.view.pass = Some(next);
    window.state_mut().desk.refresh();
    window.step();
    (window, before)
}

#[test]
fn what_is_switched_is_first_drawn_as_it_was_and_then_as_it_is() {
    let (mut window, before) = at_next_pass(false);
    let begun = drawn_height(&window);
    assert!((begun - before).abs() < 0.5, "{begun} drawn, {before} before");
    assert!(!still(&window));
    window.run_steps(2);
    let arrived = drawn_height(&window);
    assert!((arrived - before).abs() > 4.0, "{arrived} drawn, {before} before");
    window.run_steps(4);
    assert_eq!(drawn_height(&window), arrived);
    assert!(still(&window));
}

#[test]
fn where_less_movement_is_wanted_it_is_drawn_as_it_is_at_once() {
    let (mut window, before) = at_next_pass(true);
    let at_once = drawn_height(&window);
    assert!((at_once - before).abs() > 4.0, "{at_once} drawn, {before} before");
    window.run_steps(4);
    assert_eq!(drawn_height(&window), at_once);
}

#[test]
fn what_is_dragged_is_drawn_as_it_is_in_every_frame() {
    let mut window = window();
    window.state_mut().desk.view.exaggeration = Exaggeration::Times(3000.0);
    window.state_mut().desk.view.tool_z_mm = 480.0;
    window.run_steps(6);
    let from = window.get_by_role_and_label(Role::Slider, "Steady rest 1").rect().center();
    window.hover_at(from);
    window.drag_at(from);
    for away in [10.0, 40.0, 80.0] {
        window.hover_at(from + vec2(away, 0.0));
        window.step();
        let drawn = drawn_height(&window);
        window.step();
        assert!((drawn_height(&window) - drawn).abs() < 1e-3, "it goes on moving while the hand rests");
    }
}
