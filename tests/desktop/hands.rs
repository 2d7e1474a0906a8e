//! For old eyes and oily fingers: everything has a name and can be reached by key, what is pressed is large enough, what
//! has the keyboard wears a ring, and the largest type leaves nothing cut off.

use std::sync::Arc;

use egui::accesskit::{Action as Asked, Role};
use egui::epaint::ClippedShape;
use egui::{Color32, Key, Modifiers, Rect, Shape, pos2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use midspan::advice::why::Figure;
use midspan::app::{Explained, MidspanApp, Palette, Selected};
use midspan::job::Job;
use midspan::job::examples::{self, EXAMPLES};

use crate::desk::{Answer, keys, press, window, window_with};

type Window = Harness<'static, MidspanApp>;

fn show(job: Job) -> Window {
    let mut window = window_with(job, None, &Arc::new(Answer::default()));
    window.run_steps(3);
    window
}

/// Everything that can be looked at in the details.
fn all_selected(job: &Job) -> Vec<Selected> {
    let setup = &job.setups[0];
    let mut all = vec![
        Selected::Shaft,
        Selected::StockLand(0),
        Selected::Lathe,
        Selected::Sureness,
        Selected::Drive,
        Selected::Tail,
        Selected::Tool,
        Selected::Places,
        Selected::Setup,
    ];
    all.extend(setup.rests.first().map(|rest| Selected::Rest(rest.id)));
    all.extend(setup.follower.as_ref().map(|_| Selected::Follower));
    all.extend(setup.passes.first().map(|pass| Selected::Pass(pass.id)));
    all.extend((!job.shaft.wanted.is_empty()).then_some(Selected::WantedLand(0)));
    all
}

/// What stands in the tree for screen readers.
#[derive(Debug)]
struct Thing {
    role: Role,
    name: String,
    rect: Rect,
    takes_focus: bool,
    has_range: bool,
    has_value: bool,
    moves: bool,
}

fn things(window: &Window) -> Vec<Thing> {
    let root = window.root();
    root.children_recursive()
        .map(|node| {
            let node = node.accesskit_node();
            let rect = node.bounding_box().map_or(Rect::NOTHING, |bounds| {
                Rect::from_min_max(pos2(bounds.x0 as f32, bounds.y0 as f32), pos2(bounds.x1 as f32, bounds.y1 as f32))
            });
            let asked = |asked| node.data().supports_action(asked);
            Thing {
                role: node.role(),
                // What is words itself says them as its value.
                name: node.label().or_else(|| node.value()).unwrap_or_default(),
                rect,
                takes_focus: asked(Asked::Focus),
                has_range: node.min_numeric_value().is_some() && node.max_numeric_value().is_some(),
                has_value: node.numeric_value().is_some() && node.value().is_some_and(|value| !value.is_empty()),
                moves: asked(Asked::Increment) && asked(Asked::Decrement) || asked(Asked::SetValue),
            }
        })
        .collect()
}

#[test]
fn everything_that_takes_the_keyboard_has_a_name_and_what_moves_has_value_and_range() {
    for example in EXAMPLES {
        let mut window = show(examples::load(example.key).unwrap());
        for selected in all_selected(&window.state().desk.job().clone()) {
            window.state_mut().desk.view.selected = selected;
            window.run_steps(3);
            let all = things(&window);
            assert!(all.iter().filter(|thing| thing.takes_focus).count() > 30, "{}: {}", example.key, all.len());
            for thing in all {
                let of = format!("{}, {selected:?}: {thing:?}", example.key);
                if thing.role == Role::Unknown {
                    // What is scrolled out of sight is told once it comes into sight.
                    continue;
                }
                assert!(!thing.takes_focus || !thing.name.trim().is_empty(), "{of} has no name");
                if thing.role == Role::Slider {
                    assert!(thing.has_range && thing.has_value && thing.moves, "{of} tells no value or range");
                }
            }
        }
    }
}

#[test]
fn a_figure_is_pressed_anywhere_on_its_line_and_told_with_its_value() {
    let mut window = show(examples::load("pump-shaft").unwrap());
    window.set_size(egui::vec2(1600.0, 2600.0));
    window.run_steps(3);
    let line = window.get_by_role_and_label(Role::Button, "Why: may lie between");
    let (rect, value) = (line.rect(), line.accesskit_node().value().unwrap_or_default());
    assert!(value.contains("big") && rect.width() > 220.0, "{value:?} {rect:?}");
    for at in [rect.left_top() + egui::vec2(3.0, 3.0), rect.center(), rect.right_bottom() - egui::vec2(3.0, 3.0)] {
        window.state_mut().desk.view.why = None;
        window.run_steps(2);
        window.hover_at(at);
        window.run_steps(2);
        for pressed in [true, false] {
            let (button, modifiers) = (egui::PointerButton::Primary, Modifiers::NONE);
            window.event(egui::Event::PointerButton { pos: at, button, pressed, modifiers });
            window.run_steps(2);
        }
        let asked = window.state().desk.view.why;
        assert_eq!(asked, Some(Explained::Figure(Figure::ErrorBetween)), "pressed at {at:?} of {rect:?}");
    }
}

#[test]
fn what_is_pressed_or_typed_into_is_32_points_high() {
    let mut low = Vec::new();
    for example in EXAMPLES {
        let mut window = show(examples::load(example.key).unwrap());
        for (index, selected) in all_selected(&window.state().desk.job().clone()).into_iter().enumerate() {
            let view = &mut window.state_mut().desk.view;
            // With all curves, with some and with none.
            view.selected = selected;
            view.curves_shown = [[true; 5], [true, true, false, false, false], [false; 5]][index % 3];
            window.run_steps(3);
            for thing in things(&window) {
                let pressed = matches!(
                    thing.role,
                    Role::Button
                        | Role::CheckBox
                        | Role::RadioButton
                        | Role::TextInput
                        | Role::MultilineTextInput
                        | Role::ComboBox
                        | Role::Slider
                        | Role::SpinButton
                        | Role::DisclosureTriangle
                );
                let line = format!("{:?} {:?} is {:?}", thing.role, thing.name, thing.rect.size());
                // What asks why is no narrower than it is high; a switch or a small button is as wide as its word.
                let is_narrow = thing.name.starts_with("Why: ") && thing.rect.width() < 31.9;
                if pressed && (thing.rect.height() < 31.9 || is_narrow) && !low.contains(&line) {
                    low.push(line);
                }
            }
        }
    }
    assert!(low.is_empty(), "too low for a finger:\n{}", low.join("\n"));
}

fn rings_in(shape: &Shape, colour: Color32, found: &mut Vec<Rect>) {
    match shape {
        Shape::Vec(shapes) => shapes.iter().for_each(|shape| rings_in(shape, colour, found)),
        Shape::Rect(rect) if rect.stroke.width >= 2.0 && rect.stroke.color == colour => {
            found.push(rect.rect);
        }
        _ => {}
    }
}

fn rings(window: &Window) -> Vec<Rect> {
    let colour = Palette::of(window.ctx.global_style().visuals.dark_mode).selected;
    let mut found = Vec::new();
    for ClippedShape { shape, .. } in &window.output().shapes {
        rings_in(shape, colour, &mut found);
    }
    found
}

/// Goes round by Tab; whatever has the keyboard is seen whole, with its ring. Gives back the names it came by.
fn tab_round(window: &mut Window, n_stops: usize, of: &str) -> Vec<String> {
    let mut names = Vec::new();
    for _ in 0..n_stops {
        window.key_press(Key::Tab);
        window.run_steps(3);
        let Some(focused) = window.root().children_recursive().find(|node| node.is_focused()) else { continue };
        let (rect, name) = (focused.rect(), focused.accesskit_node().label().unwrap_or_default());
        let room = window.ctx.content_rect();
        let fits = |ring: &Rect| {
            // Of what lies on the bench there is as much in sight as the bench shows, and one grip of several.
            let on_bench = focused.accesskit_node().role() == Role::Slider && name != "Place of the tool";
            if on_bench {
                ring.intersects(rect)
            } else {
                ring.expand(1.0).contains_rect(rect) && room.contains_rect(rect)
            }
        };
        let rings = rings(window);
        assert!(rings.iter().any(fits), "{of}: {name:?} at {rect:?}, rings {rings:?}");
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

#[test]
fn what_has_the_keyboard_wears_a_ring_and_is_in_sight_wherever_tab_goes() {
    for example in ["pump-shaft", "guide-rod"] {
        let mut window = show(examples::load(example).unwrap());
        let names = tab_round(&mut window, 130, example);
        for name in ["Tool", "Place of the tool", "Tailstock"] {
            assert!(names.iter().any(|other| other == name), "{example}: Tab does not come to {name}: {names:?}");
        }
    }
}

/// Room that is left on 1366 x 768 with the largest type.
const SMALL: egui::Vec2 = egui::vec2(910.0, 512.0);

#[test]
fn with_the_largest_type_on_a_small_screen_everything_is_still_whole() {
    for example in ["pump-shaft", "guide-rod"] {
        let mut window = show(examples::load(example).unwrap());
        window.set_size(SMALL);
        window.run_steps(6);
        for (details, notes) in [(true, false), (false, true)] {
            (window.state_mut().settings.details_open, window.state_mut().settings.notes_open) = (details, notes);
            window.run_steps(12);
            let names = tab_round(&mut window, 90, &format!("{example}, details {details}"));
            assert!(names.len() > 30, "{example}: {names:?}");
            crate::labels::assert_apart(&crate::labels::painted(&window), example);
        }
    }
}

#[test]
fn on_a_small_screen_one_side_panel_makes_room_for_the_other() {
    let mut window = window();
    window.set_size(SMALL);
    window.run_steps(6);
    let open = |window: &Window| (window.state().settings.details_open, window.state().settings.notes_open);
    assert_ne!(open(&window), (true, true));
    press(&mut window, "Details");
    assert_eq!(open(&window), (true, false));
    press(&mut window, "Notes");
    assert_eq!(open(&window), (false, true));
    press(&mut window, "Details");
    assert_eq!(open(&window), (true, false));
}

#[test]
fn type_grows_as_far_as_the_window_has_room_and_that_is_told() {
    let mut window = window();
    window.set_size(SMALL);
    window.run_steps(4);
    keys(&mut window, Modifiers::COMMAND, Key::Plus);
    assert!((window.ctx.zoom_factor() - 1.0).abs() < 1e-6, "{}", window.ctx.zoom_factor());
    let told = window.state().desk.status.as_ref().map(|status| status.text.clone()).unwrap_or_default();
    assert!(told.contains("larger window"), "{told}");
}

#[test]
fn type_is_made_as_it_was_by_key() {
    let mut window = window();
    for _ in 0..3 {
        keys(&mut window, Modifiers::COMMAND, Key::Plus);
    }
    assert!(window.ctx.zoom_factor() > 1.2);
    keys(&mut window, Modifiers::COMMAND, Key::Num0);
    assert!((window.ctx.zoom_factor() - 1.0).abs() < 1e-6);
    assert!((window.state().settings.zoom - 1.0).abs() < 1e-6);
}
