//! The bands round the curves, as a person sees and hides them.

use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use midspan::app::{Commands, MidspanApp};
use midspan::job::{Edit, Spread, Stiffness, examples};
use midspan::study::band::shape_band;

use crate::desk::{come_to_rest, press, window, window_with};

/// How many legends say that a shaded stretch is what a curve may lie between.
fn n_legends(window: &Harness<'_, MidspanApp>) -> usize {
    window.query_all_by_label("may lie between").count()
}

fn edit(window: &mut Harness<'_, MidspanApp>, edit: Edit) {
    window.state_mut().desk.take(Commands { edits: vec![edit], ..Commands::default() });
    window.run_steps(3);
}

#[test]
fn size_spring_and_shape_have_a_band_and_a_click_hides_it() {
    let mut window = window();
    // Three legends, and the line of the notes.
    assert_eq!(n_legends(&window), 4);
    window.get_by_label("Bands").click();
    window.run_steps(3);
    assert_eq!(n_legends(&window), 1, "the notes still say it in figures");
    window.get_by_label("Bands").click();
    window.run_steps(3);
    assert_eq!(n_legends(&window), 4);
}

#[test]
fn the_depth_before_chatter_gets_its_band_a_little_later_and_loses_it_with_its_curve() {
    let mut window = window();
    window.get_by_label("Depth before chatter").click();
    come_to_rest(&mut window);
    let pass = window.state().desk.view.pass.expect("a pass");
    assert!(window.state().desk.results().dear_bands.depths(pass).is_some());
    assert_eq!(n_legends(&window), 5);
    window.get_by_label("Depth before chatter").click();
    window.run_steps(3);
    assert!(window.state().desk.results().dear_bands.depths(pass).is_none());
    assert_eq!(n_legends(&window), 4);
}

/// While a new band is worked out the last one stands round the new curve: nothing flickers.
#[test]
fn the_band_of_run_out_comes_and_stays_while_the_job_changes() {
    let job = examples::load("guide-rod").expect("an example");
    let mut window = window_with(job, None, &std::sync::Arc::default());
    come_to_rest(&mut window);
    let bands = |window: &Harness<'_, MidspanApp>| window.state().desk.results().dear_bands.turning.clone();
    let before = bands(&window).expect("bands of run-out");
    let mut lathe = window.state().desk.job().lathe.clone();
    lathe.tailstock_k_n_per_mm = Stiffness::assumed(4000.0);
    window.state_mut().desk.take(Commands { edits: vec![Edit::SetLathe(lathe)], ..Commands::default() });
    assert!(bands(&window).is_some(), "in the frame in which the job changes");
    come_to_rest(&mut window);
    assert_ne!(bands(&window).expect("the new bands"), before);
}

#[test]
fn the_menu_switches_the_bands_too() {
    let mut window = window();
    press(&mut window, "View");
    // The last one drawn is that of the menu, which lies over the curves.
    window.get_all_by_label("Bands").last().expect("in the menu").click();
    window.run_steps(3);
    assert!(!window.state().desk.view.bands_shown);
    assert_eq!(n_legends(&window), 1);
}

#[test]
fn a_spread_of_nothing_takes_the_band_away() {
    let mut window = window();
    let spread = Spread { main_ratio: 0.0, radial_ratio: 0.0, stiffness_factor: 1.0, ..Spread::usual() };
    edit(&mut window, Edit::SetSpread(spread));
    come_to_rest(&mut window);
    assert_eq!(n_legends(&window), 0);
    edit(&mut window, Edit::SetSpread(Spread::usual()));
    come_to_rest(&mut window);
    assert_eq!(n_legends(&window), 4);
}

/// A band would come late if it were worked out elsewhere: it is there in the frame in which the job changes, for the
/// job that is on the desk.
#[test]
fn the_band_belongs_to_the_job_on_the_desk_in_every_frame() {
    let mut window = window();
    let mut lathe = window.state().desk.job().lathe.clone();
    let width_mm = |window: &Harness<'_, MidspanApp>| {
        let results = window.state().desk.results();
        assert_eq!(results.job, *window.state().desk.job());
        let pass = &results.result.setups[0].passes[0];
        let band = results.result.band(pass.pass).expect("a band");
        let edges_mm = band.edges_mm(midspan::study::band::Curve::Error, pass);
        edges_mm.iter().map(|[low_mm, high_mm]| high_mm - low_mm).fold(0.0, f64::max)
    };
    let mut last_mm = width_mm(&window);
    for k_n_per_mm in [20_000.0, 10_000.0, 5000.0] {
        lathe.carriage_k_n_per_mm = Stiffness::assumed(k_n_per_mm);
        window.state_mut().desk.take(Commands { edits: vec![Edit::SetLathe(lathe.clone())], ..Commands::default() });
        let now_mm = width_mm(&window);
        assert!(now_mm > last_mm, "a softer carriage is a wider band: {now_mm} after {last_mm}");
        last_mm = now_mm;
    }
}

#[test]
fn every_example_is_shown_with_its_bands() {
    for example in examples::EXAMPLES {
        let job = examples::load(example.key).expect("an example");
        let mut window = window_with(job, None, &std::sync::Arc::default());
        let result = &window.state().desk.results().result;
        let banded = (result.setups.iter())
            .flat_map(|setup| setup.passes.iter().map(|pass| (setup.setup, pass)))
            .filter(|(_, pass)| !pass.stations.is_empty())
            .map(|(setup, pass)| (setup, pass.pass))
            .find(|(_, pass)| result.band(*pass).is_some());
        let (setup, pass) = banded.expect("a pass that is worked out");
        let view = &mut window.state_mut().desk.view;
        (view.setup, view.pass) = (setup, Some(pass));
        window.run_steps(3);
        assert!(n_legends(&window) >= 2, "{}", example.key);
    }
}

/// While something is dragged the band of the shape comes beside the window, at rest it is that of the job as it stands.
#[test]
fn the_band_of_the_shape_stays_while_the_job_changes_and_becomes_that_of_the_new_one() {
    let mut window = window();
    let view = window.state().desk.view.clone();
    let band = |window: &Harness<'_, MidspanApp>| {
        window.state().desk.results().dear_bands.shape(view.setup, view.pass).cloned().expect("a band")
    };
    let before = band(&window);
    let mut rest = window.state().desk.job().setups[0].rests[0].clone();
    rest.z_mm += 60.0;
    window
        .state_mut()
        .desk
        .take(Commands { edits: vec![Edit::SetRest { setup: view.setup, rest }], ..Commands::default() });
    assert_eq!(band(&window), before, "the last one stays");
    come_to_rest(&mut window);
    let desk = &window.state().desk;
    let bands = desk.results().result.bands.as_ref().expect("bands");
    let now = shape_band(desk.job(), bands, view.setup, view.pass, Some(view.tool_z_mm)).expect("a band");
    assert_eq!(band(&window), now);
    assert_ne!(now, before);
}
