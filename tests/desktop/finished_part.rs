//! The finished part drawn by hand: shoulders and sizes dragged on the bench, its menu, and the table beside it.

use std::sync::Arc;

use egui::accesskit::Role;
use egui::{Event, Key, Modifiers, OutputCommand, PointerButton, Pos2, Vec2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use midspan::app::new_job::{NewJobForm, StockKind};
use midspan::app::{MidspanApp, Selected};
use midspan::job::land_row::LandRow;
use midspan::job::{Cut, Edit, FeatureKind, Job, Pass, Shaft, Tolerance, Units};

use crate::bench::{middle_of, press_and_move, scale};
use crate::desk::{Answer, enter_into, keys, says, select, shown, text_in, window_with};

type Window = Harness<'static, MidspanApp>;

/// Lands of 38 and 30 mm, 250 and 350 mm long, out of stock 4 mm larger all along; the second pass of the set-up ends
/// at the shoulder between them.
fn stepped(units: Units) -> Job {
    let mut form = NewJobForm::new(Units::Metric);
    form.rows = vec![LandRow::plain(250.0, 38.0), LandRow::plain(350.0, 30.0)];
    (form.stock, form.allowance_mm) = (StockKind::Stepped, 4.0);
    let mut job = form.build().expect("the form is filled in");
    let setup = &job.setups[0];
    let shoulder_z_mm = setup.z_of_s_mm(&job.shaft, job.shaft.wanted_start_s_mm + 250.0);
    let pass = Pass { to_z_mm: shoulder_z_mm, cut: Cut::ToDiameter { diameter_mm: 30.0 }, ..setup.passes[1].clone() };
    let edit = Edit::SetPass { setup: setup.id, pass };
    job.apply(&edit).expect("a pass to the shoulder");
    job.units = units;
    job
}

fn window(units: Units) -> Window {
    let mut window = window_with(stepped(units), None, &Arc::new(Answer::default()));
    window.state_mut().desk.view.tool_z_mm = 560.0;
    window.run_steps(3);
    select(&mut window, Selected::WantedLand(1));
    window
}

fn shaft(window: &Window) -> &Shaft {
    &window.state().desk.job().shaft
}

fn lengths(window: &Window) -> Vec<f64> {
    shaft(window).wanted.iter().map(|wanted| wanted.land.length_mm).collect()
}

fn drag(window: &mut Window, handle: &str, by: Vec2) {
    let from = middle_of(window, handle);
    press_and_move(window, from, by);
    window.drop_at(from + by);
    window.run_steps(3);
}

fn has(window: &Window, handle: &str) -> bool {
    window.query_by_role_and_label(Role::Slider, handle).is_some()
}

#[test]
fn the_shaft_can_be_grasped_only_while_it_is_selected() {
    let mut window = window(Units::Metric);
    assert!(has(&window, "Shoulder 1") && has(&window, "Land 2 diameter") && !has(&window, "Stock shoulder 1"));
    select(&mut window, Selected::StockLand(0));
    assert!(!has(&window, "Shoulder 1") && has(&window, "Stock shoulder 1"));
    select(&mut window, Selected::Tool);
    assert!(!has(&window, "Shoulder 1") && !has(&window, "Land 2 diameter") && !has(&window, "Stock shoulder 1"));
}

#[test]
fn a_click_on_the_work_selects_its_land_and_another_its_stock() {
    let mut window = window(Units::Metric);
    let canvas = window.get_by_label_contains("Bench: ").rect();
    let at = Pos2::new(middle_of(&window, "Land 1 diameter").x + 40.0, middle_of(&window, "Land 1 diameter").y + 24.0);
    assert!(canvas.contains(at));
    select(&mut window, Selected::Setup);
    for selected in [Selected::WantedLand(0), Selected::StockLand(0), Selected::WantedLand(0)] {
        window.hover_at(at);
        window.run_steps(2);
        window.drag_at(at);
        window.run_steps(1);
        window.drop_at(at);
        // Longer than a double click.
        window.run_steps(40);
        assert_eq!(window.state().desk.view.selected, selected);
    }
}

#[test]
fn dragging_a_shoulder_takes_cut_and_stock_along_and_is_one_undo() {
    let mut window = window(Units::Metric);
    let before = window.state().desk.job().clone();
    let by = vec2((30.0 * scale(&window)) as f32, 0.0);
    drag(&mut window, "Shoulder 1", by);
    let now = lengths(&window);
    let moved = now[0] - 250.0;
    assert!((moved - 30.0).abs() <= 1.0 && (now[0] + now[1] - 600.0).abs() < 1e-9, "{now:?}");
    let job = window.state().desk.job();
    let pass_moved = job.setups[0].passes[1].to_z_mm - before.setups[0].passes[1].to_z_mm;
    assert!((pass_moved - moved).abs() < 1e-9, "the cut that ended there moved by {pass_moved}");
    assert_eq!(job.setups[0].passes[0].to_z_mm, before.setups[0].passes[0].to_z_mm);
    let stock_moved = job.shaft.stock[0].length_mm - before.shaft.stock[0].length_mm;
    assert!((stock_moved - moved).abs() < 1e-9, "the stock's shoulder moved by {stock_moved}");
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(*window.state().desk.job(), before);
    assert!(!window.state().desk.history().can_undo());
}

#[test]
fn dragging_a_diameter_stops_at_the_stock_and_escape_gives_it_up() {
    let mut window = window(Units::Metric);
    let before = window.state().desk.job().clone();
    let from = middle_of(&window, "Land 2 diameter");
    press_and_move(&mut window, from, vec2(0.0, -20.0));
    let size = shaft(&window).wanted[1].land.start_diameter_mm;
    assert!(size > 31.0 && size <= 34.0 && (2.0 * size).fract() == 0.0, "{size} is on the grid of half millimetres");
    assert_eq!(window.state().desk.job().setups[0].passes[1].cut, Cut::ToDiameter { diameter_mm: size });
    window.hover_at(from + vec2(0.0, -400.0));
    window.run_steps(3);
    assert_eq!(shaft(&window).wanted[1].land.start_diameter_mm, 34.0, "no larger than its stock");
    let status = window.state().desk.status.clone().expect("it says why").text;
    assert!(status.contains("larger than its stock"), "{status}");
    window.key_press(Key::Escape);
    window.run_steps(3);
    window.drop_at(from);
    window.run_steps(3);
    assert_eq!(*window.state().desk.job(), before);
    assert!(!window.state().desk.history().can_undo());
}

#[test]
fn arrows_move_shoulder_and_diameter_by_a_step_of_the_display_unit() {
    for (units, along_mm, across_mm) in [(Units::Metric, 1.0, 0.5), (Units::Inch, 25.4 / 16.0, 25.4 / 64.0)] {
        let mut window = window(units);
        window.get_by_role_and_label(Role::Slider, "Shoulder 1").focus();
        window.run_steps(3);
        keys(&mut window, Modifiers::NONE, Key::ArrowRight);
        assert!((lengths(&window)[0] - 250.0 - along_mm).abs() < 1e-9, "{:?}", lengths(&window));
        window.get_by_role_and_label(Role::Slider, "Land 2 diameter").focus();
        window.run_steps(3);
        keys(&mut window, Modifiers::NONE, Key::ArrowDown);
        let size = shaft(&window).wanted[1].land.start_diameter_mm;
        assert!((size - 30.0 + across_mm).abs() < 1e-9, "{size}");
    }
}

#[test]
fn assistive_technology_reads_and_sets_a_diameter() {
    let mut window = window(Units::Metric);
    let node = window.get_by_role_and_label(Role::Slider, "Land 2 diameter");
    assert_eq!(node.accesskit_node().numeric_value(), Some(30.0));
    assert_eq!(node.value().as_deref(), Some("land 2 \u{d8} 30.000 mm"));
    node.increment_accesskit();
    window.run_steps(3);
    assert_eq!(shaft(&window).wanted[1].land.start_diameter_mm, 30.5);
    let words = window.get_by_role_and_label(Role::Slider, "Shoulder 1").value().unwrap_or_default();
    assert!(words.contains("from the jaw face") && words.contains("land 1 250.0 mm"), "{words}");
}

fn open_menu_by_key(window: &mut Window, handle: &str) {
    window.get_by_role_and_label(Role::Slider, handle).focus();
    window.run_steps(3);
    keys(window, Modifiers::SHIFT, Key::F10);
}

fn choose(window: &mut Window, words: &str) {
    window.get_by_label_contains(words).click();
    window.run_steps(4);
}

#[test]
fn the_menu_splits_and_joins_lands_and_makes_tapers() {
    let mut window = window(Units::Metric);
    open_menu_by_key(&mut window, "Land 2 diameter");
    choose(&mut window, "Split it here");
    assert_eq!(lengths(&window), [250.0, 175.0, 175.0]);
    open_menu_by_key(&mut window, "Land 2 diameter");
    choose(&mut window, "Take land 3 into it");
    assert_eq!(lengths(&window), [250.0, 350.0]);
    open_menu_by_key(&mut window, "Land 2 diameter");
    choose(&mut window, "Make it a taper");
    assert_eq!(shaft(&window).wanted[1].land.end_diameter_mm, 27.0);
    assert!(!has(&window, "Land 2 diameter"), "a taper has a size at each end");
    drag(&mut window, "Land 2 diameter at its end", vec2(0.0, 8.0));
    let land = shaft(&window).wanted[1].land;
    assert!(land.start_diameter_mm == 30.0 && land.end_diameter_mm < 27.0, "{land:?}");
}

#[test]
fn the_menu_where_the_work_is_clicked_puts_features_there() {
    let mut window = window(Units::Metric);
    let on_work = middle_of(&window, "Land 2 diameter") + vec2(-40.0, 22.0);
    let pressed = |window: &mut Window| {
        window.hover_at(on_work);
        window.run_steps(2);
        for pressed in [true, false] {
            let (button, modifiers) = (PointerButton::Secondary, Modifiers::NONE);
            window.event(Event::PointerButton { pos: on_work, button, pressed, modifiers });
            window.run_steps(2);
        }
    };
    pressed(&mut window);
    choose(&mut window, "Put on it");
    window.get_by_role_and_label(Role::Button, "keyway").click();
    window.run_steps(4);
    let feature = shaft(&window).features[0];
    assert!(matches!(feature.kind, FeatureKind::Keyway { .. }), "{feature:?}");
    let start = shaft(&window).wanted_start_s_mm;
    assert!(feature.from_s_mm >= start + 250.0 && feature.to_s_mm <= start + 600.0, "on its land: {feature:?}");
    pressed(&mut window);
    choose(&mut window, "Take the keyway away");
    assert!(shaft(&window).features.is_empty());
    pressed(&mut window);
    choose(&mut window, "Take the centre hole away from end B");
    assert_eq!(shaft(&window).centre_hole_b, None);
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert!(shaft(&window).centre_hole_b.is_some(), "one step of undo");
}

#[test]
fn the_table_types_everything_a_land_has() {
    let mut window = window(Units::Metric);
    enter_into(&mut window, "Wanted land 2 tolerance", "+0 -0.02");
    assert_eq!(shaft(&window).wanted[1].tolerance, Tolerance::Limits { lower_mm: -0.02, upper_mm: 0.0 });
    enter_into(&mut window, "Wanted land 2 thread", "M30x2");
    enter_into(&mut window, "Wanted land 2 keyway", "8 x 4");
    enter_into(&mut window, "Wanted land 2 bore", "12,5");
    let row = &LandRow::of_shaft(shaft(&window))[1];
    assert_eq!((row.thread_mm, row.bore_mm), (Some(2.0), Some(12.5)));
    assert_eq!(row.keyway.map(|keyway| (keyway.width_mm, keyway.depth_mm)), Some((8.0, 4.0)));
    enter_into(&mut window, "Wanted land 2 thread", "steep");
    assert!(says(&window, "is no thread") > 0);
    assert_eq!(text_in(&window, "Wanted land 2 thread"), "steep", "what was typed stays");
    enter_into(&mut window, "Wanted land 2 thread", "-");
    assert_eq!(LandRow::of_shaft(shaft(&window))[1].thread_mm, None);
}

fn copied(window: &mut Window) -> String {
    window.get_by_role_and_label(Role::Button, "Copy table").click();
    for _ in 0..4 {
        window.step();
        for command in &window.output().platform_output.commands {
            if let OutputCommand::CopyText(text) = command {
                return text.clone();
            }
        }
    }
    panic!("nothing was copied");
}

#[test]
fn a_table_is_copied_and_pasted_as_one_step() {
    for units in [Units::Metric, Units::Inch] {
        let mut window = window(units);
        let before = window.state().desk.job().clone();
        let text = copied(&mut window);
        let unit = if units == Units::Metric { "mm" } else { "in" };
        assert!(text.starts_with(&format!("length ({unit})\tdiameter ({unit})\t")), "{text}");
        let shorter = if units == Units::Metric {
            ("350\t30", "340\t29")
        } else {
            ("13.779527559\t1.181102362", "13.5\t1-1/8\"")
        };
        assert!(text.contains(shorter.0), "{text}");
        window.event(Event::Paste(text.replace(shorter.0, shorter.1)));
        window.run_steps(4);
        let land = shaft(&window).wanted[1].land;
        let expected = if units == Units::Metric { (340.0, 29.0) } else { (342.9, 28.575) };
        assert_eq!((land.length_mm, land.start_diameter_mm), expected);
        keys(&mut window, Modifiers::COMMAND, Key::Z);
        assert_eq!(*window.state().desk.job(), before);
        assert!(!window.state().desk.history().can_undo());
    }
}

#[test]
fn a_pasted_table_that_is_wrong_names_row_and_column_and_changes_nothing() {
    let mut window = window(Units::Metric);
    let before = window.state().desk.job().clone();
    window.event(Event::Paste("length\tdiameter\ttolerance\n100\t30\th7\n200\tthick\th99\n".to_owned()));
    window.run_steps(4);
    assert_eq!(*window.state().desk.job(), before);
    assert!(says(&window, "Land 2 (row 3), diameter") > 0);
    assert!(says(&window, "Land 2 (row 3), tolerance") > 0);
    assert!(says(&window, "Nothing was changed") > 0);
    window.event(Event::Paste("100\t30\n200\t28\n300\t26\n".to_owned()));
    window.run_steps(4);
    assert_eq!(lengths(&window), [100.0, 200.0, 300.0], "without a header, and another number of lands");
    assert_eq!(says(&window, "Nothing was changed"), 0);
}

#[test]
fn the_hint_stands_on_the_opening_example_until_the_first_drag() {
    let mut window = shown(midspan::job::examples::opening());
    assert_eq!(says(&window, "drag me"), 1);
    let from = middle_of(&window, "Steady rest 1");
    press_and_move(&mut window, from, vec2(-30.0, 0.0));
    assert_eq!(says(&window, "drag me"), 0);
    window.drop_at(from);
    window.run_steps(3);
    assert!(window.state().settings.has_dragged, "and it is kept for other days");
    let other = shown(stepped(Units::Metric));
    assert_eq!(says(&other, "drag me"), 0, "only on the opening example");
}
