//! The short form of a new job.

use egui::{Key, Modifiers};
use midspan::app::new_job::{Holding, NewJobForm};
use midspan::job::{Cut, DriveKind, TailKind, Units};

use crate::desk::{enter_into, keys, press, window};

#[test]
fn the_form_makes_a_job_with_the_sizes_typed() {
    let mut window = window();
    keys(&mut window, Modifiers::COMMAND, Key::N);
    enter_into(&mut window, "Title of the part", "Spindle");
    enter_into(&mut window, "Land 1 length", "18 in");
    enter_into(&mut window, "Land 1 stock diameter", "26");
    enter_into(&mut window, "Land 1 wanted diameter", "24");
    press(&mut window, "Begin this job");
    let job = window.state().desk.job();
    assert_eq!(job.title, "Spindle");
    // 18 x 25.4
    assert_eq!(job.shaft.wanted[0].land.length_mm, 457.2);
    assert_eq!(job.shaft.wanted[0].land.start_diameter_mm, 24.0);
    assert_eq!(job.shaft.stock[0].start_diameter_mm, 26.0);
    assert!(window.state().desk.is_unsaved(), "a new job stands in no file yet");
}

#[test]
fn a_new_job_has_a_rough_and_a_finish_pass_over_work_that_can_be_reached() {
    for holding in [Holding::Chuck, Holding::ChuckAndCentre, Holding::BetweenCentres] {
        let mut form = NewJobForm::new(Units::Metric);
        form.holding = holding;
        let job = form.build().unwrap();
        assert!(job.check().is_empty(), "{holding:?}: {:?}", job.check());
        let setup = &job.setups[0];
        let cuts: Vec<Cut> = setup.passes.iter().map(|pass| pass.cut).collect();
        let leaving = |leave_on_diameter_mm| Cut::ToDrawing { leave_on_diameter_mm };
        assert_eq!(cuts, [leaving(0.5), leaving(0.0)], "{holding:?}");
        let (low_mm, high_mm) = setup.passes[0].span_mm();
        assert!(
            low_mm > 0.0 && high_mm <= setup.work_end_z_mm(&job.shaft) + 1e-9,
            "{holding:?}: {low_mm} to {high_mm}"
        );
        assert_eq!(setup.drive.kind == DriveKind::CentreAndDog, holding == Holding::BetweenCentres);
        assert_eq!(setup.tail.kind == TailKind::Free, holding == Holding::Chuck);
    }
}

#[test]
fn a_wanted_diameter_above_the_stock_is_refused_in_words() {
    let mut form = NewJobForm::new(Units::Metric);
    form.lands[0].wanted_diameter_mm = 40.0;
    let sentence = form.build().unwrap_err();
    assert!(sentence.contains("Land 1"), "{sentence}");
}

#[test]
fn going_back_from_the_form_leaves_the_job() {
    let mut window = window();
    let before = window.state().desk.job().clone();
    keys(&mut window, Modifiers::COMMAND, Key::N);
    press(&mut window, "Go back");
    assert_eq!(*window.state().desk.job(), before);
}

#[test]
fn every_example_of_the_gallery_opens_and_is_computed() {
    for example in midspan::job::examples::EXAMPLES {
        let mut window = window();
        press(&mut window, "Examples");
        press(&mut window, example.title);
        let desk = &window.state().desk;
        assert_eq!(*desk.job(), midspan::job::examples::load(example.key).unwrap(), "{}", example.key);
        assert!(!desk.is_unsaved(), "{}", example.key);
        assert_eq!(desk.results().job, *desk.job(), "{}", example.key);
        assert_eq!(window.unnamed_widgets(), Vec::<String>::new(), "{}", example.key);
    }
}
