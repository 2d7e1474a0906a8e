//! Pinned arrangements beside one another: pinned, named, changed places with, let go, overlaid, told in a table, saved.

use std::sync::{Arc, Mutex};

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use midspan::app::windows::{OwnProgram, Windows};
use midspan::app::{Action, Commands, Desk, MidspanApp, Selected};
use midspan::job::examples::EXAMPLES;
use midspan::job::{Edit, Rest};
use midspan::study;

use crate::desk::{Answer, come_to_rest, enter_into, job, keys, press, says, wait_until, window, window_with};

const PLACE: &str = "Place from the jaw face";

fn pin(window: &mut Harness<'_, MidspanApp>) {
    keys(window, Modifiers::NONE, Key::P);
    come_to_rest(window);
}

fn letters(window: &Harness<'_, MidspanApp>) -> Vec<usize> {
    window.state().desk.pins().all().map(|(letter, _)| letter).collect()
}

fn open_table(window: &mut Harness<'_, MidspanApp>) {
    keys(window, Modifiers::COMMAND, Key::K);
    come_to_rest(window);
    assert!(window.query_by_label("Arrangements compared").is_some());
}

/// Presses a button of the table, wherever that stands.
fn press_there(window: &mut Harness<'_, MidspanApp>, label: &str) {
    window.get_by_role_and_label(Role::Button, label).click_accesskit();
    window.run_steps(4);
}

/// Two arrangements pinned (with the steady where it was, and at 150 mm), none at present.
fn compared() -> Harness<'static, MidspanApp> {
    let mut window = window();
    pin(&mut window);
    enter_into(&mut window, PLACE, "150");
    pin(&mut window);
    press(&mut window, "Take the steady away");
    open_table(&mut window);
    window
}

#[test]
fn a_key_pins_and_lets_go_of_what_is_just_like_it_and_undo_takes_it_back() {
    let mut window = window();
    let before = window.state().desk.job().clone();
    pin(&mut window);
    assert_eq!(letters(&window), [0]);
    press(&mut window, "Take the steady away");
    come_to_rest(&mut window);
    let compared = &window.state().desk.results().compared;
    let told = compared.pinned[0].told.as_ref().expect("worked out");
    assert_eq!(told.of.job.setups, before.setups, "it stays as it was");
    assert_eq!(told.of.result, study::compute_with_bands(&before));
    pin(&mut window);
    assert_eq!(letters(&window), [0, 1]);
    pin(&mut window);
    assert_eq!(letters(&window), [0], "the one just like the present is let go");
    for left in [vec![0, 1], vec![0]] {
        keys(&mut window, Modifiers::COMMAND, Key::Z);
        assert_eq!(letters(&window), left);
    }
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(letters(&window), Vec::<usize>::new());
    assert_eq!(*window.state().desk.job(), before);
}

#[test]
fn four_are_pinned_and_a_fifth_is_refused_in_words() {
    let mut window = window();
    for place in ["100", "200", "300", "400", "450"] {
        enter_into(&mut window, PLACE, place);
        keys(&mut window, Modifiers::NONE, Key::P);
    }
    assert_eq!(letters(&window), [0, 1, 2, 3]);
    let status = window.state().desk.status.clone().expect("it is said");
    assert!(status.trouble && status.text.contains("Four"), "{status:?}");
    come_to_rest(&mut window);
    assert_eq!(window.unnamed_widgets(), Vec::<String>::new());
}

#[test]
fn the_legend_of_every_curve_names_all_four_on_a_small_screen() {
    let mut window = window();
    for place in ["100", "200", "300", "400"] {
        enter_into(&mut window, PLACE, place);
        pin(&mut window);
    }
    enter_into(&mut window, PLACE, "450");
    open_table(&mut window);
    let name = "a name far too long for the line over a plot of a small window";
    enter_into(&mut window, "Name of B", name);
    press_there(&mut window, "Close the table");
    come_to_rest(&mut window);
    let names: Vec<String> =
        window.state().desk.results().compared.pinned.iter().map(|pinned| pinned.name.shown().to_owned()).collect();
    assert_eq!((names.len(), names[1].as_str()), (4, name));
    let frame = window.state().desk.view.plot_x_range.expect("plots");
    let n_plots = window.state().desk.view.curves_shown.iter().filter(|shown| **shown).count();
    assert!(n_plots > 2, "{n_plots}");
    for (letter, name) in ["A", "B", "C", "D"].into_iter().zip(&names) {
        let letters: Vec<egui::Rect> = window.query_all_by_label(letter).map(|node| node.rect()).collect();
        assert_eq!(letters.len(), n_plots, "{letter} {letters:?}");
        // Names may be cut off with dots, but not to nothing, and are told whole.
        let told: Vec<egui::Rect> = window.query_all_by_label(name).map(|node| node.rect()).collect();
        for letter in &letters {
            let beside =
                |name: &&egui::Rect| name.y_range().contains(letter.center().y) && name.left() >= letter.right();
            let name = told.iter().filter(beside).min_by(|a, b| a.left().total_cmp(&b.left())).expect("its name");
            assert!(name.left() - letter.right() < 8.0 && name.width() > 40.0, "{name:?} behind {letter:?}");
            assert!(letter.left() >= frame.min && name.right() <= frame.max + 10.0, "{name:?} in {frame:?}");
        }
    }
    crate::labels::assert_apart(&crate::labels::painted(&window), "four pinned");
}

#[test]
fn changing_places_loses_nothing_and_is_one_step() {
    let mut window = compared();
    let before = (window.state().desk.job().clone(), window.state().desk.pins().clone());
    keys(&mut window, Modifiers::COMMAND, Key::Num2);
    let desk = &window.state().desk;
    assert_eq!(desk.job().setups[0].rests[0].z_mm, 150.0);
    assert_eq!(desk.pins().pinned[1].as_ref().unwrap().setups, before.0.setups, "what was present is pinned");
    assert_eq!(desk.results().job, *desk.job());
    assert!(desk.is_unsaved());
    let after = (desk.job().clone(), desk.pins().clone());
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!((window.state().desk.job().clone(), window.state().desk.pins().clone()), before);
    keys(&mut window, Modifiers::COMMAND, Key::Y);
    assert_eq!((window.state().desk.job().clone(), window.state().desk.pins().clone()), after);
    // The same by button; there and back is as before.
    press_there(&mut window, "Change places with B");
    assert_eq!((window.state().desk.job().clone(), window.state().desk.pins().clone()), before);
    keys(&mut window, Modifiers::COMMAND, Key::Num4);
    assert_eq!(*window.state().desk.job(), before.0, "nothing is pinned as D");
}

#[test]
fn names_are_typed_and_go_with_their_arrangement() {
    let mut window = compared();
    enter_into(&mut window, "Name of A", "as drawn");
    enter_into(&mut window, "Name of the present arrangement", "bare");
    let pins = window.state().desk.pins().clone();
    assert_eq!((pins.pinned[0].as_ref().unwrap().name.as_str(), pins.present_name.as_str()), ("as drawn", "bare"));
    keys(&mut window, Modifiers::COMMAND, Key::Num1);
    let pins = window.state().desk.pins().clone();
    assert_eq!((pins.pinned[0].as_ref().unwrap().name.as_str(), pins.present_name.as_str()), ("bare", "as drawn"));
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    keys(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(window.state().desk.pins().present_name, "");
    press_there(&mut window, "Unpin A");
    assert_eq!(letters(&window), [1]);
}

#[test]
fn the_table_tells_the_study_s_figures_and_marks_the_best_of_a_row() {
    let window = compared();
    let rows = &window.state().desk.results().compared.rows;
    let row = |name: &str| rows.iter().find(|row| row.name == name).unwrap_or_else(|| panic!("no row {name}"));
    for row in rows {
        assert_eq!(row.cells.len(), 3, "{}", row.name);
    }
    assert_eq!(row("Largest load on a jaw").cells[0].text, "\u{2013}", "no steady, no jaw");
    assert_eq!(row("Steady rests").cells[2].text, "150.0 mm");
    // Without a steady it gives most: the best is one of the pinned ones, as the study says.
    let stiffest = row("Stiffness under the tool");
    assert!(!stiffest.cells[0].is_best && stiffest.cells.iter().any(|cell| cell.is_best), "{stiffest:?}");
    let springs: Vec<f64> = window
        .state()
        .desk
        .results()
        .compared
        .pinned
        .iter()
        .map(|pinned| {
            let told = pinned.told.as_ref().unwrap();
            let measure = study::placement::Measure::Springiness;
            study::placement::value_now(&told.of.job, pinned.setup.unwrap(), measure, &|_| true).unwrap().0
        })
        .collect();
    assert_eq!(stiffest.cells[1].is_best, springs[0] <= springs[1]);
    assert!(!row("Largest size error").cells[1].between.is_empty(), "with its band");
    assert!(says(&window, "best") > 0);
    assert_eq!(window.unnamed_widgets(), Vec::<String>::new());
}

#[test]
fn pins_are_worked_out_anew_for_the_shaft_as_it_is_and_not_for_what_is_dragged() {
    let mut window = compared();
    let told = |window: &Harness<'_, MidspanApp>| {
        let pinned = &window.state().desk.results().compared.pinned;
        pinned.iter().map(|one| Arc::clone(one.told.as_ref().expect("worked out"))).collect::<Vec<_>>()
    };
    let before = told(&window);
    keys(&mut window, Modifiers::COMMAND, Key::K);
    press(&mut window, "+ steady rest");
    come_to_rest(&mut window);
    for z_mm in [200.0, 220.0, 240.0] {
        let desk = &mut window.state_mut().desk;
        let setup = &desk.job().setups[0];
        let rest = Rest { z_mm, ..setup.rests[0].clone() };
        let edits = vec![Edit::SetRest { setup: setup.id, rest }];
        desk.take(Commands { edits, gesture_open: true, ..Commands::default() });
        assert!(!desk.is_comparing(), "moving a rest asks nothing of what is pinned");
    }
    window.state_mut().desk.take(Commands::default());
    come_to_rest(&mut window);
    assert!(told(&window).iter().zip(&before).all(|(now, before)| Arc::ptr_eq(now, before)));

    let mut shaft = window.state().desk.job().shaft.clone();
    for land in &mut shaft.stock {
        land.start_diameter_mm += 6.0;
        land.end_diameter_mm += 6.0;
    }
    window.state_mut().desk.take(Commands { edits: vec![Edit::SetShaft(shaft.clone())], ..Commands::default() });
    assert!(window.state().desk.results().compared.is_stale);
    come_to_rest(&mut window);
    let after = told(&window);
    assert!(!window.state().desk.results().compared.is_stale);
    for (after, before) in after.iter().zip(&before) {
        assert_eq!(after.of.job.shaft, shaft);
        assert_eq!(after.of.job.setups, before.of.job.setups);
        assert_ne!(after.of.result, before.of.result);
        assert_eq!(after.of.result, study::compute_with_bands(&after.of.job));
    }
}

#[test]
fn an_idle_window_with_pins_and_table_asks_for_no_repaint() {
    let mut window = compared();
    window.run_steps(10);
    for _ in 0..5 {
        window.step();
        let delay = window.output().viewport_output[&egui::ViewportId::ROOT].repaint_delay;
        assert_eq!(delay, std::time::Duration::MAX);
    }
}

#[test]
fn every_pin_has_its_letter_in_the_legends() {
    let mut window = compared();
    keys(&mut window, Modifiers::COMMAND, Key::K);
    window.state_mut().settings.notes_open = false;
    window.state_mut().desk.view.bands_shown = false;
    window.run_steps(12);
    for letter in ["A", "B"] {
        assert!(window.query_all_by_label(letter).count() >= 2, "{letter}");
    }
    press(&mut window, "as it comes in");
    come_to_rest(&mut window);
    window.state_mut().desk.view.selected = Selected::Shaft;
    window.run_steps(3);
}

#[test]
fn the_table_is_saved_as_csv_and_nothing_is_replaced_unasked() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("compared");
    let answer = Arc::new(Answer(Mutex::new(Some(path.clone()))));
    let mut window = window_with(job(), None, &answer);
    pin(&mut window);
    press(&mut window, "Take the steady away");
    open_table(&mut window);
    enter_into(&mut window, "Name of A", "one, steady");
    press_there(&mut window, "Save as CSV…");
    wait_until(&mut window, "it is saved", |app| {
        app.desk.status.as_ref().is_some_and(|status| status.text.contains("Saved to"))
    });
    let text = std::fs::read_to_string(path.with_extension("csv")).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines[0], "Arrangements of Test shaft");
    assert!(lines[1].contains("Present: no steady") && lines[1].contains("\"A: one, steady\""), "{}", lines[1]);
    let rows = &window.state().desk.results().compared.rows;
    for (line, row) in lines[2..].iter().zip(rows) {
        assert!(line.starts_with(row.name), "{line}");
        for cell in &row.cells {
            assert!(line.replace('"', "").contains(&cell.whole()), "{line}: {}", cell.whole());
        }
    }
    assert_eq!(lines.len(), rows.len() + 2);
    assert!(text.contains(", best"), "{text}");
    assert!(window.state().desk.path.is_none(), "the job itself was not saved");

    *answer.0.lock().unwrap() = None;
    std::fs::write(folder.path().join("mine.csv"), "mine").unwrap();
    press_there(&mut window, "Save as CSV…");
    wait_until(&mut window, "a path is asked for", |app| app.is_asking());
    let typed = folder.path().join("mine.csv").display().to_string();
    window.get_by_role_and_label(Role::TextInput, "Path of the file").focus();
    window.run_steps(2);
    keys(&mut window, Modifiers::COMMAND, Key::A);
    enter_into(&mut window, "Path of the file", &typed);
    assert_eq!(std::fs::read_to_string(&typed).unwrap(), "mine");
    press(&mut window, "Save over it");
    assert_eq!(std::fs::read_to_string(&typed).unwrap(), text);
}

#[test]
fn pins_go_with_their_job_and_come_back_with_it() {
    let mut window = compared();
    window.state_mut().desk.mark_saved("/nowhere/shaft.ron".into());
    keys(&mut window, Modifiers::COMMAND, Key::E);
    press(&mut window, EXAMPLES[1].title);
    assert_eq!(letters(&window), Vec::<usize>::new(), "another job, other pins");
    keys(&mut window, Modifiers::COMMAND | Modifiers::SHIFT, Key::T);
    come_to_rest(&mut window);
    assert_eq!(letters(&window), [0, 1]);
}

#[test]
fn pinning_needs_no_window() {
    let mut desk = Desk::new(job(), None);
    let act = |desk: &mut Desk, action| desk.take(Commands { actions: vec![action], ..Commands::default() });
    assert!(act(&mut desk, Action::Pin).is_empty());
    assert!(desk.pins().like(desk.job()).is_some());
    assert!(desk.is_unsaved(), "a pin is a person's work");
    act(&mut desk, Action::Undo);
    assert!(desk.pins().is_empty() && !desk.is_unsaved());
}

/// Counts what is asked of it.
#[derive(Default)]
struct Asked(Mutex<usize>);

impl Windows for Asked {
    fn open(&self) -> Result<(), String> {
        *self.0.lock().unwrap() += 1;
        if *self.0.lock().unwrap() == 1 { Ok(()) } else { Err("There is no room for another window.".to_owned()) }
    }
}

#[test]
fn another_window_is_opened_by_menu_and_key_and_failure_is_told() {
    let asked = Arc::new(Asked::default());
    let mut window = window();
    window.state_mut().windows = Arc::clone(&asked) as Arc<dyn Windows>;
    press(&mut window, "File");
    window.get_by_label_contains("New window").click();
    window.run_steps(4);
    assert_eq!(*asked.0.lock().unwrap(), 1);
    let before = window.state().desk.job().clone();
    keys(&mut window, Modifiers::COMMAND | Modifiers::SHIFT, Key::N);
    assert_eq!(*asked.0.lock().unwrap(), 2);
    assert!(window.state().desk.status.as_ref().is_some_and(|status| status.trouble));
    assert_eq!(*window.state().desk.job(), before);
    assert!(!window.state().is_asking(), "no new job is begun");
}

#[test]
fn another_window_is_this_very_program_and_nobody_waits_for_it() {
    // The program of this test lists its tests and ends.
    assert_eq!(OwnProgram { arguments: vec!["--list".to_owned()] }.open(), Ok(()));
}
