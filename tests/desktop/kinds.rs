//! Passes that are not turned along the outside, in the window: what the curves and notes say, what the fields are called.

use std::sync::Arc;

use egui::accesskit::Role;
use egui_kittest::{Harness, kittest::Queryable as _};
use midspan::app::MidspanApp;
use midspan::job::{Cut, Job, PassKind, examples};

use crate::desk::{Answer, enter_into, press, text_in, window_with};
use crate::quiet::job;

fn shown(job: Job) -> Harness<'static, MidspanApp> {
    window_with(job, None, &Arc::new(Answer::default()))
}

#[test]
fn passes_at_the_end_of_the_work_are_told_in_words() {
    let mut window = shown(examples::load("spindle-nose").unwrap());
    press(&mut window, "1  face 0.0200 in off");
    assert!(window.query_by_label_contains("Plot: Size error, The face comes out").is_some());
    assert_eq!(text_in(&window, "Off the face"), "0.02");
    press(&mut window, "2  drill to 1.0000 in");
    assert!(window.query_by_label_contains("Plot: Size error, The middle of the work lies").is_some());
    assert_eq!(text_in(&window, "Drill diameter"), "1");
    assert!(window.query_by_label("Pushes the work away").is_none());
    press(&mut window, "3  bore to 1.1250 in");
    assert_eq!(
        window.query_all_by_label_contains("tighter at the mouth over 2-1/4 in").count(),
        2,
        "figure and finding"
    );
    let desk = &window.state().desk;
    let bored = desk.results().result.pass(desk.job().setups[0].passes[2].id).unwrap();
    let worst = midspan::advice::words::big_or_small(bored.worst().unwrap().error_mm, desk.job().units);
    assert!(worst.ends_with("small"), "{worst}");
    assert!(window.query_all_by_label_contains(&format!("bore {worst}")).count() > 0, "{worst}");
    assert_eq!(window.unnamed_widgets(), Vec::<String>::new());
}

#[test]
fn a_thread_is_cut_in_its_usual_passes_by_one_button() {
    let mut job = job();
    let pass = &mut job.setups[0].passes[0];
    (pass.kind, pass.feed_mm_per_rev, pass.cut) = (PassKind::Thread, 0.5, Cut::Depth { on_diameter_mm: 0.4 });
    let mut window = shown(job);
    press(&mut window, "1  thread 0.400 mm deeper");
    assert_eq!(text_in(&window, "Deeper, on diameter"), "0.4");
    enter_into(&mut window, "Pitch", "1.5");
    window.get_by_role_and_label(Role::Button, "Cut it in 6 usual passes, 0.920 mm deep").click_accesskit();
    window.run_steps(3);
    let passes = &window.state().desk.job().setups[0].passes;
    assert_eq!(passes.len(), 6);
    assert!(passes.iter().all(|pass| pass.kind == PassKind::Thread && pass.feed_mm_per_rev == 1.5));
    assert_eq!(passes[0].cut, Cut::Depth { on_diameter_mm: 0.5 });
    assert_eq!(passes[5].cut, Cut::ToDrawing { leave_on_diameter_mm: 0.0 });
    assert!(window.query_by_label("Thread depth").is_some());
    press(&mut window, "Undo");
    assert_eq!(window.state().desk.job().setups[0].passes.len(), 1, "one button, one step");
}

#[test]
fn parting_asks_for_no_diameter_and_shows_its_spring() {
    let mut job = job();
    let pass = &mut job.setups[0].passes[0];
    (pass.kind, pass.from_z_mm, pass.to_z_mm) = (PassKind::Part, 43.0, 40.0);
    let mut window = shown(job);
    press(&mut window, "1  part off");
    assert!(window.query_by_label_contains("Plot: Size error, Parting leaves no diameter").is_some());
    assert!(window.query_by_label("Dial set").is_none());
    assert!(window.query_by_label_contains("parts the work between its ends' supports").is_some());
}
