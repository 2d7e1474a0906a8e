//! Why a figure is what it is: a mark beside every figure on screen, and the panel it opens.

use std::sync::Arc;

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use midspan::advice::why::Figure;
use midspan::app::{Commands, Explained, MidspanApp, Selected};
use midspan::job::examples::{self, EXAMPLES};
use midspan::job::{Edit, Units};

use crate::jargon_words::jargon;

use crate::desk::{Answer, come_to_rest, job, keys, says, shown, unfold, window, window_with};

/// Lines of the notes that hold a number and are no figure of the computation: they name things, or are findings.
fn is_figure(text: &str) -> bool {
    let begins = text.trim_start_matches(['\u{d8}', ' ', '+', '-', '\u{2212}']).chars().next();
    begins.is_some_and(|first| first.is_ascii_digit()) && !text.ends_with("ms")
}

/// Figures of the notes that stand in no line, sentence or column that is pressed to ask why.
fn bare_figures(window: &Harness<'_, MidspanApp>) -> Vec<String> {
    let edge = window.ctx.content_rect().right() - 310.0;
    let marks: Vec<egui::Rect> = window
        .query_all_by_role(Role::Button)
        .filter(|node| node.accesskit_node().label().is_some_and(|label| label.starts_with("Why: ")))
        .map(|node| node.rect())
        .collect();
    window
        .query_all_by_role(Role::Label)
        .filter(|node| node.rect().left() > edge)
        .filter_map(|node| Some((node.accesskit_node().value()?, node.rect())))
        .filter(|(text, _)| is_figure(text))
        .filter(|(_, rect)| !marks.iter().any(|mark| mark.expand(0.5).contains_rect(*rect)))
        .map(|(text, _)| text)
        .collect()
}

#[test]
fn every_figure_of_the_notes_has_its_mark_in_every_example() {
    for example in EXAMPLES {
        let job = examples::load(example.key).unwrap();
        let mut window = window_with(job.clone(), None, &Arc::new(Answer::default()));
        // High enough that nothing is scrolled out of sight.
        window.set_size(egui::vec2(1600.0, 2600.0));
        window.run_steps(4);
        let mut n_marks = 0;
        for setup in &job.setups {
            for pass in setup.passes.iter().map(|pass| Some(pass.id)).chain([None]) {
                let view = &mut window.state_mut().desk.view;
                (view.setup, view.pass) = (setup.id, pass);
                view.selected = setup.rests.first().map_or(Selected::Tool, |rest| Selected::Rest(rest.id));
                if setup.follower.is_some() {
                    view.selected = Selected::Follower;
                }
                window.run_steps(3);
                assert_eq!(bare_figures(&window), Vec::<String>::new(), "{} {pass:?}", example.key);
                n_marks += window.query_all_by_label_contains("Why: ").count();
            }
        }
        assert_eq!(window.unnamed_widgets(), Vec::<String>::new(), "{}", example.key);
        assert!(n_marks > 10, "{}: {n_marks}", example.key);
    }
}

#[test]
fn every_mark_opens_an_explanation_of_a_figure_that_is_there() {
    // Opened once in each way it is named; that all are there in all examples is the engine's test.
    let mut opened = std::collections::HashSet::new();
    for example in EXAMPLES {
        let mut window = shown(examples::load(example.key).unwrap());
        window.set_size(egui::vec2(1600.0, 2600.0));
        window.state_mut().desk.view.curves_shown = [true; 5];
        window.run_steps(3);
        unfold(&mut window, "How lively it is, estimated");
        come_to_rest(&mut window);
        let n_marks = window.query_all_by_label_contains("Why: ").count();
        assert!(n_marks > 15, "{}: {n_marks}", example.key);
        for number in 0..n_marks {
            let mark = window.query_all_by_label_contains("Why: ").nth(number).unwrap();
            let name = mark.accesskit_node().label().unwrap_or_default();
            if !opened.insert(name.clone()) {
                continue;
            }
            mark.click_accesskit();
            window.run_steps(3);
            let figure = window.state().desk.view.why;
            assert!(figure.is_some(), "{}: {name}", example.key);
            // A figure of another kind of pass, or of work that runs true, has its plot but no number.
            let may_be_away = matches!(
                figure,
                Some(Explained::Figure(Figure::RunOut | Figure::Error | Figure::Spring | Figure::Shape))
            );
            if !may_be_away {
                assert_eq!(says(&window, "This figure is not there just now"), 0, "{}: {name}", example.key);
                assert!(says(&window, "Source: ") > 0 && says(&window, "How far to trust it") > 0, "{name}");
            }
            assert_eq!(window.unnamed_widgets(), Vec::<String>::new(), "{name}");
            window.get_by_role_and_label(Role::Button, "Close the explanation").click_accesskit();
            window.run_steps(3);
            assert_eq!(window.state().desk.view.why, None, "{name}");
        }
    }
}

#[test]
fn the_panel_follows_the_job_and_is_closed_by_esc_without_changing_anything() {
    let mut window = window();
    let before = window.state().desk.job().clone();
    window.get_by_role_and_label(Role::Button, "Why: push away").focus();
    window.run_steps(2);
    keys(&mut window, Modifiers::NONE, Key::Enter);
    assert_eq!(window.state().desk.view.why, Some(Explained::Figure(Figure::PushAway)));
    let told = |window: &Harness<'_, MidspanApp>| {
        window.query_all_by_label_contains("cos(").next().and_then(|node| node.accesskit_node().value()).unwrap()
    };
    let first = told(&window);
    let (from_mm, to_mm) = before.setups[0].passes[0].span_mm();
    window.state_mut().desk.view.tool_z_mm = from_mm + 0.9 * (to_mm - from_mm);
    window.run_steps(3);
    assert_ne!(told(&window), first, "with the numbers of where the tool stands now");
    keys(&mut window, Modifiers::NONE, Key::Escape);
    assert_eq!(window.state().desk.view.why, None);
    assert_eq!(*window.state().desk.job(), before);
    assert!(!window.state().desk.history().can_undo());
}

/// The one finding whose panel is open, by what the panel says of it.
fn assert_explained(window: &Harness<'_, MidspanApp>, index: usize) {
    let found = &window.state().desk.results().findings[index];
    assert_eq!(
        window.state().desk.view.why.and_then(|why| why.of(&window.state().desk.results().findings)),
        Some(found)
    );
    // Once in the notes, once at the head of the panel.
    assert!(says(window, &found.text) > 1 && says(window, &found.why) > 0, "{}", found.text);
    assert!(says(window, "Source: ") > 0 && says(window, "How far to trust it") > 0, "{}", found.text);
    for sum in &found.behind.sums {
        assert!(says(window, &format!("{} = {}", sum.numbers, sum.result)) > 0, "{}: {sum:?}", found.text);
    }
}

#[test]
fn every_finding_of_every_example_opens_what_is_behind_it_in_mm_and_in_inches() {
    let mut opened = std::collections::BTreeSet::new();
    for example in EXAMPLES {
        for units in [Units::Metric, Units::Inch] {
            let mut job = examples::load(example.key).unwrap();
            job.units = units;
            let mut window = window_with(job, None, &Arc::new(Answer::default()));
            window.set_size(egui::vec2(1600.0, 3000.0));
            window.run_steps(3);
            let n_findings = window.state().desk.results().findings.len();
            for index in 0..n_findings {
                window.query_all_by_label("Why?").nth(index).unwrap().click_accesskit();
                window.run_steps(3);
                assert_explained(&window, index);
                assert_eq!(window.unnamed_widgets(), Vec::<String>::new());
                opened.insert(window.state().desk.results().findings[index].rule);
                keys(&mut window, Modifiers::NONE, Key::Escape);
                assert_eq!(window.state().desk.view.why, None);
            }
        }
    }
    assert!(opened.len() > 8, "{opened:?}");
}

#[test]
fn what_is_behind_a_finding_follows_the_job_until_it_is_no_longer_found() {
    let mut off = job();
    off.setups[0].tail.offset_x_mm = 0.1;
    let mut window = window_with(off.clone(), None, &Arc::new(Answer::default()));
    window.set_size(egui::vec2(1600.0, 3000.0));
    window.run_steps(3);
    let index = window.state().desk.results().findings.iter().position(|one| one.rule == "off_axis").expect("told");
    window.query_all_by_label("Why?").nth(index).unwrap().click_accesskit();
    window.run_steps(3);
    assert!(says(&window, "(2 \u{d7} 0.1)") > 0);
    for (offset_x_mm, told) in [(0.2, "(2 \u{d7} 0.2)"), (0.0, "This is no longer found.")] {
        off.setups[0].tail.offset_x_mm = offset_x_mm;
        let edit = Edit::SetTail { setup: off.setups[0].id, tail: off.setups[0].tail.clone() };
        window.state_mut().desk.take(Commands { edits: vec![edit], ..Commands::default() });
        window.run_steps(3);
        assert!(says(&window, told) > 0, "{told}");
    }
}

#[test]
fn an_open_explanation_asks_for_no_repaint() {
    let mut window = window();
    window.get_by_role_and_label(Role::Button, "Why: main force").click_accesskit();
    window.run_steps(10);
    come_to_rest(&mut window);
    for _ in 0..5 {
        window.step();
        let delay = window.output().viewport_output[&egui::ViewportId::ROOT].repaint_delay;
        assert_eq!(delay, std::time::Duration::MAX);
    }
}

#[test]
fn no_label_of_the_desk_speaks_of_how_it_is_computed() {
    for example in EXAMPLES {
        let job = examples::load(example.key).unwrap();
        let mut window = shown(job.clone());
        window.set_size(egui::vec2(1600.0, 2600.0));
        window.state_mut().desk.view.curves_shown = [true; 5];
        unfold(&mut window, "How lively it is, estimated");
        let setup = &job.setups[0];
        let rests = setup.rests.iter().map(|rest| Selected::Rest(rest.id));
        let passes = setup.passes.iter().map(|pass| Selected::Pass(pass.id));
        let panels = [
            Selected::Shaft,
            Selected::StockLand(0),
            Selected::Lathe,
            Selected::Sureness,
            Selected::Drive,
            Selected::Tail,
            Selected::Tool,
            Selected::Follower,
            Selected::Setup,
            Selected::Places,
        ];
        let mut n_labels = 0;
        for selected in panels.into_iter().chain(rests).chain(passes) {
            window.state_mut().desk.view.selected = selected;
            window.run_steps(3);
            for node in window.query_all(egui_kittest::kittest::By::new()) {
                let node = node.accesskit_node();
                for text in [node.label(), node.value(), node.placeholder().map(str::to_owned)].into_iter().flatten() {
                    assert_eq!(jargon(&text), Vec::<&str>::new(), "{} {selected:?}: {text}", example.key);
                    n_labels += 1;
                }
            }
        }
        assert!(n_labels > 1000, "{}: {n_labels}", example.key);
    }
}
