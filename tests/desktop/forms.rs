//! The short form of a new job.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use midspan::app::new_job::{Holding, NewJobForm, StockKind};
use midspan::job::land_row::LandRow;
use midspan::job::{Cut, DriveKind, Land, TailKind, Tolerance, Units};

use crate::desk::{enter_into, keys, press, says, text_in, window};

#[test]
fn the_form_makes_a_job_with_the_sizes_typed() {
    let mut window = window();
    keys(&mut window, Modifiers::COMMAND, Key::N);
    enter_into(&mut window, "Title of the part", "Spindle");
    enter_into(&mut window, "Land 1 length", "18 in");
    enter_into(&mut window, "Land 1 diameter", "24");
    assert_eq!(text_in(&window, "Diameter of the bar"), "26", "the bar goes with the largest land");
    enter_into(&mut window, "Land 1 tolerance", "h7");
    press(&mut window, "Add a land");
    enter_into(&mut window, "Land 2 length", "40");
    enter_into(&mut window, "Land 2 diameter", "20");
    enter_into(&mut window, "Land 2 diameter at its end", "18");
    enter_into(&mut window, "Land 2 thread", "12 tpi");
    enter_into(&mut window, "Land 1 keyway", "6 x 3");
    enter_into(&mut window, "Land 1 bore", "8");
    press(&mut window, "Begin this job");
    let job = window.state().desk.job();
    assert_eq!(job.title, "Spindle");
    // 18 x 25.4
    assert_eq!(job.shaft.wanted[0].land.length_mm, 457.2);
    assert_eq!(job.shaft.wanted[0].land.start_diameter_mm, 24.0);
    assert_eq!(job.shaft.wanted[0].tolerance, Tolerance::H { grade: 7 });
    assert_eq!(job.shaft.wanted[1].land, Land { length_mm: 40.0, start_diameter_mm: 20.0, end_diameter_mm: 18.0 });
    assert_eq!(job.shaft.stock[0].start_diameter_mm, 26.0);
    let rows = LandRow::of_shaft(&job.shaft);
    assert_eq!((rows[0].bore_mm, rows[0].keyway.map(|keyway| keyway.width_mm)), (Some(8.0), Some(6.0)));
    assert_eq!(rows[1].thread_mm, Some(25.4 / 12.0));
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
fn what_is_wrong_is_said_beside_the_land_and_the_form_stays() {
    let mut window = window();
    keys(&mut window, Modifiers::COMMAND, Key::N);
    enter_into(&mut window, "Diameter of the bar", "28");
    assert!(says(&window, "Land 1: the wanted diameter is larger than the stock, 28.000 mm") > 0);
    press(&mut window, "Begin this job");
    assert!(window.query_by_label("New job").is_some(), "the form is still there");
    enter_into(&mut window, "Diameter of the bar", "32");
    enter_into(&mut window, "Land 1 length", "very long");
    assert!(says(&window, "Land 1 length: ") > 0);
    press(&mut window, "Begin this job");
    assert!(window.query_by_label("New job").is_some(), "no job begins with another length than the one typed");
    assert!(says(&window, "Put right first") > 0);
    assert_eq!(text_in(&window, "Land 1 length"), "very long");
    enter_into(&mut window, "Land 1 length", "-5");
    assert!(says(&window, "must be more than 0") > 0);
    enter_into(&mut window, "Land 1 length", "500");
    enter_into(&mut window, "Land 1 bore", "31");
    assert!(says(&window, "leaves no wall") > 0);
    assert_eq!(says(&window, "Put right first"), 0, "nothing is red any more");
    enter_into(&mut window, "Land 1 thread", "coarse");
    press(&mut window, "Begin this job");
    assert!(says(&window, "Put right first") > 0);
    enter_into(&mut window, "Land 1 thread", "1.5");
    enter_into(&mut window, "Land 1 bore", "0");
    press(&mut window, "Begin this job");
    assert_eq!(window.state().desk.job().shaft.wanted_length_mm(), 500.0);
}

#[test]
fn a_table_is_pasted_into_the_form() {
    let mut window = window();
    keys(&mut window, Modifiers::COMMAND, Key::N);
    window.event(egui::Event::Paste("Length\tDia\tTol.\n1 3/8\"\t1,25 in\th7\n100\t30\t\n".to_owned()));
    window.run_steps(4);
    press(&mut window, "Begin this job");
    let wanted = &window.state().desk.job().shaft.wanted;
    assert_eq!((wanted[0].land.length_mm, wanted[0].land.start_diameter_mm), (34.925, 31.75));
    assert_eq!(wanted[0].tolerance, Tolerance::H { grade: 7 });
    assert_eq!(wanted.len(), 2);
}

#[test]
fn every_choice_of_the_form_makes_a_job() {
    for units in [Units::Metric, Units::Inch] {
        for holding in [Holding::Chuck, Holding::ChuckAndCentre, Holding::BetweenCentres] {
            for (stock, lathe) in [(StockKind::Bar, 0), (StockKind::Bar, 1), (StockKind::Stepped, 2)] {
                let mut form = NewJobForm::new(units);
                (form.holding, form.stock, form.lathe) = (holding, stock, lathe);
                let job = form.build().unwrap();
                assert_eq!(job.validate(), Ok(()), "{units:?} {holding:?} {stock:?}");
            }
        }
    }
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
