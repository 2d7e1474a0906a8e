//! How lively the work is, as a person sees it: the depth before chatter, and the section of the notes.

use std::sync::Arc;
use std::time::Duration;

use egui::accesskit::Role;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use midspan::app::{MidspanApp, Selected};
use midspan::job::{Job, Units};
use midspan::study::lively::depth_limits;

use crate::desk::{Answer, come_to_rest, job, select, window_with};

fn shown(job: Job) -> Harness<'static, MidspanApp> {
    window_with(job, None, &Arc::new(Answer::default()))
}

fn has(window: &Harness<'_, MidspanApp>, words: &str) -> bool {
    window.query_all_by_label_contains(words).next().is_some()
}

fn switch(window: &mut Harness<'_, MidspanApp>, plot: &str) {
    window.get_by_role_and_label(Role::CheckBox, plot).click();
    window.run_steps(3);
}

#[test]
fn the_depth_before_chatter_is_off_until_it_is_asked_for_and_worked_out_only_then() {
    let mut window = shown(job());
    assert!(!has(&window, "Plot: Depth before chatter"));
    assert!(window.state().desk.results().depths.is_none());
    switch(&mut window, "Depth before chatter");
    let depths = window.state().desk.results().depths.as_ref().expect("worked out");
    assert!(depths.limits.len() > 20, "{} places", depths.limits.len());
    assert!(has(&window, "Plot: Depth before chatter, at "), "with its readout in the very frame");
    assert!(window.query_by_label("estimated").is_some(), "the line says what it is");
    switch(&mut window, "Depth before chatter");
    assert!(window.state().desk.results().depths.is_none());
}

#[test]
fn the_depth_before_chatter_stays_until_that_of_the_changed_job_has_come() {
    let mut window = shown(job());
    switch(&mut window, "Depth before chatter");
    let limits = |window: &Harness<'_, MidspanApp>| window.state().desk.results().depths.clone().expect("shown").limits;
    let before = limits(&window);
    let setup = window.state().desk.job().setups[0].id;
    let mut rest = window.state().desk.job().setups[0].rests[0].clone();
    rest.z_mm += 30.0;
    let edits = vec![midspan::job::Edit::SetRest { setup, rest }];
    window.state_mut().desk.take(midspan::app::Commands { edits, ..Default::default() });
    assert_eq!(limits(&window), before, "in the frame in which the job changes");
    come_to_rest(&mut window);
    let desk = &window.state().desk;
    let (job, pass) = (desk.job(), desk.view.pass.expect("a pass"));
    let damping_ratio = job.spread.damping_ratio.value;
    let fresh = depth_limits(job, &desk.results().result, setup, pass, damping_ratio, &|| true);
    assert_ne!(fresh, before);
    assert_eq!(limits(&window), fresh);
}

#[test]
fn every_plot_at_once_can_still_be_read_on_a_small_screen() {
    let mut window = shown(job());
    for plot in ["Run-out", "Depth before chatter"] {
        switch(&mut window, plot);
    }
    for plot in ["Size error", "Spring at the tool", "Shape of the work", "Run-out", "Depth before chatter"] {
        let rect = window.get_by_label_contains(&format!("Plot: {plot}")).rect();
        assert!(rect.height() >= 38.0, "{plot} is {} high", rect.height());
    }
}

#[test]
fn the_section_of_the_notes_opens_by_a_click_and_promises_nothing() {
    let mut window = shown(job());
    select(&mut window, Selected::Shaft);
    assert!(!has(&window, "Whips at"));
    window.get_by_label("How lively it is, estimated").click_accesskit();
    window.run_steps(20);
    for words in [
        "Swings with one bend at",
        " Hz ",
        "never run near it",
        "before the work bows out",
        "chatter is to be expected",
    ] {
        assert!(has(&window, words), "{words}");
    }
    assert!(has(&window, "Depth over the speeds"));
    assert!(has(&window, "no promise of quiet"));
    window.step();
    assert_eq!(window.output().viewport_output[&egui::ViewportId::ROOT].repaint_delay, Duration::MAX, "at rest");
}

#[test]
fn the_bar_behind_the_headstock_is_told_to_be_supported() {
    let mut long = job();
    long.units = Units::Inch;
    long.shaft.stock[0].length_mm += 1500.0;
    long.setups[0].work_start_z_mm -= 1500.0;
    let mut window = shown(long);
    select(&mut window, Selected::Shaft);
    window.get_by_label("How lively it is, estimated").click_accesskit();
    window.run_steps(20);
    assert!(has(&window, "at its end: support it"));
}
