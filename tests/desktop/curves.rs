//! Curves, notes and end view as a person uses them: hover, wheel, click, drag, by label.

use egui::{Modifiers, MouseWheelUnit, PointerButton, Pos2, Vec2, pos2};
use egui_kittest::{Harness, kittest::Queryable as _};
use midspan::advice;
use midspan::advice::compared::Told;
use midspan::app::comparing::{ComparedAll, Name, Pinned};
use midspan::app::{
    Action, Commands, Exaggeration, Explained, Palette, Results, Selected, View, curves::curves_ui,
    end_view::end_view_ui, notes::notes_ui, sureness::DearBands,
};
use midspan::job::{Cut, Edit, Follower, FollowerSide, Jaw, Job, PassId, Stiffness, TipKind, Units};
use midspan::study;

use crate::quiet::{PASS, REST, SETUP, job, steady};

/// What a window keeps, as far as these panels need it.
struct Desk {
    job: Job,
    view: View,
    results: Results,
    out: Commands,
}

impl Desk {
    fn new(job: Job) -> Self {
        let result = study::compute(&job);
        let shape = study::shape_at(&job, &result, SETUP, Some(PASS), Some(200.0));
        let findings = advice::findings(&job, &result);
        let results = Results {
            job: job.clone(),
            coverage: study::coverage::coverage(&job, &result),
            result: std::sync::Arc::new(result),
            shape,
            at_rest: None,
            depths: None,
            promise: None,
            dear_bands: DearBands::default(),
            compared: ComparedAll::default(),
            compute_ms: 0.3,
            findings,
            reaches: vec![],
        };
        let view = View {
            setup: SETUP,
            pass: Some(PASS),
            selected: Selected::Setup,
            tool_z_mm: 200.0,
            play: midspan::app::play::Play::default(),
            z_view_mm: 0.0..=300.0,
            plot_x_range: None,
            y_centre_mm: 0.0,
            fit: false,
            cursor_z_mm: None,
            has_dragged: false,
            curves_shown: [true, true, true, false, false],
            run_out_came_on: false,
            bands_shown: true,
            measure: midspan::study::placement::Measure::Size,
            with_follower: None,
            with_tailstock: None,
            coverage_shown: true,
            setup_coverage_shown: false,
            exaggeration: Exaggeration::Auto,
            comparing: false,
            why: None,
        };
        Self { job, view, results, out: Commands::default() }
    }
}

/// 330 N at the steady, so that the spring can be seen.
fn sprung_job() -> Job {
    let mut job = job();
    job.setups[0].rests.push(steady(15.0));
    for jaw in &mut job.setups[0].rests[0].jaws {
        jaw.k_n_per_mm = Stiffness::assumed(20_000.0);
    }
    job.setups[0].passes[0].cut = Cut::ToDrawing { leave_on_diameter_mm: 0.0 };
    job
}

fn curves(desk: Desk, size: Vec2) -> Harness<'static, Desk> {
    let mut harness = Harness::builder().with_size(size).build_ui_state(
        |ui, desk: &mut Desk| {
            let palette = Palette::for_ui(ui);
            curves_ui(ui, &desk.job, &mut desk.view, &desk.results, &palette, &mut desk.out);
        },
        desk,
    );
    harness.run();
    harness
}

/// The middle of a plot's frame, up and down, and the place across that shows `z_mm`.
fn place(harness: &Harness<'_, Desk>, plot: &str, z_mm: f64) -> Pos2 {
    let rect = harness.get_by_label_contains(&format!("Plot: {plot}")).rect();
    let view = &harness.state().view;
    let range = view.plot_x_range.expect("the curves tell where their frame is");
    let share = (z_mm - view.z_view_mm.start()) / (view.z_view_mm.end() - view.z_view_mm.start());
    pos2(range.min + share as f32 * range.span(), rect.center().y)
}

#[test]
fn all_plots_stand_on_the_same_stretch_to_the_pixel() {
    let harness = curves(Desk::new(sprung_job()), Vec2::new(766.0, 313.0));
    let range = harness.state().view.plot_x_range.expect("a range");
    for plot in ["Size error", "Spring at the tool", "Shape of the work"] {
        let rect = harness.get_by_label_contains(&format!("Plot: {plot}")).rect();
        assert!((rect.left() - range.min).abs() < 0.01 && (rect.right() - range.max).abs() < 0.01, "{plot}: {rect:?}");
        assert!(rect.height() >= 46.0 && rect.bottom() <= 313.0, "{plot} is {} high", rect.height());
    }
}

#[test]
fn the_pointer_over_any_plot_sets_the_one_cursor_and_takes_it_away_again() {
    let mut harness = curves(Desk::new(sprung_job()), Vec2::new(800.0, 500.0));
    for plot in ["Size error", "Spring at the tool", "Shape of the work"] {
        let at = place(&harness, plot, 150.0);
        harness.hover_at(at);
        harness.run();
        let cursor_z_mm = harness.state().view.cursor_z_mm.expect("a cursor");
        assert!((cursor_z_mm - 150.0).abs() < 0.5, "{plot}: {cursor_z_mm}");
    }
    harness.hover_at(pos2(400.0, 6.0));
    harness.run();
    assert_eq!(harness.state().view.cursor_z_mm, None, "the pointer is over a heading");
    harness.state_mut().view.cursor_z_mm = Some(77.0);
    harness.run();
    assert_eq!(harness.state().view.cursor_z_mm, Some(77.0), "a cursor set by the bench stays");
}

#[test]
fn the_line_over_a_plot_tells_the_values_at_the_cursor() {
    let mut desk = Desk::new(sprung_job());
    desk.view.cursor_z_mm = Some(200.0);
    let told = desk.results.result.pass(PASS).expect("a pass").stations.len();
    assert!(told > 100, "{told} stations");
    let harness = curves(desk, Vec2::new(900.0, 500.0));
    assert!(harness.query_by_label_contains("Plot: Size error, at 200").is_some());
    assert!(harness.query_by_label_contains("Plot: Spring at the tool, at 200").is_some());
}

#[test]
fn the_wheel_zooms_about_the_pointer() {
    let mut harness = curves(Desk::new(sprung_job()), Vec2::new(800.0, 500.0));
    let at = place(&harness, "Size error", 100.0);
    harness.hover_at(at);
    harness.run();
    harness.event(egui::Event::MouseWheel {
        unit: MouseWheelUnit::Point,
        delta: Vec2::new(0.0, 100.0),
        phase: egui::TouchPhase::Move,
        source: egui::MouseWheelSource::Wheel,
        modifiers: Modifiers::NONE,
    });
    harness.run();
    let seen = harness.state().view.z_view_mm.clone();
    assert!(seen.end() - seen.start() < 290.0, "{seen:?}");
    let again = place(&harness, "Size error", 100.0);
    assert!((again.x - at.x).abs() < 1.0, "100 mm stays under the pointer: {} then {}", at.x, again.x);
}

#[test]
fn a_drag_over_a_plot_moves_along_the_bed_and_a_click_puts_the_tool_there() {
    let mut harness = curves(Desk::new(sprung_job()), Vec2::new(800.0, 500.0));
    let from = place(&harness, "Spring at the tool", 150.0);
    harness.hover_at(from);
    harness.run();
    harness.drag_at(from);
    harness.run();
    for step in 1..=10 {
        harness.hover_at(from + Vec2::new(8.0 * step as f32, 0.0));
        harness.step();
    }
    let range = harness.state().view.plot_x_range.expect("a range");
    let expected_mm = -80.0 / f64::from(range.span()) * 300.0;
    harness.drop_at(from + Vec2::new(80.0, 0.0));
    harness.run();
    let start_mm = *harness.state().view.z_view_mm.start();
    assert!((start_mm - expected_mm).abs() < 3.0, "80 points to the right: {start_mm}, expected {expected_mm}");

    assert!((harness.state().view.tool_z_mm - 200.0).abs() < 1e-9, "a drag leaves the tool alone");
    let at = place(&harness, "Size error", 180.0);
    harness.hover_at(at);
    harness.run();
    for pressed in [true, false] {
        harness.event(egui::Event::PointerButton {
            pos: at,
            button: PointerButton::Primary,
            pressed,
            modifiers: Modifiers::NONE,
        });
        harness.run();
    }
    assert!((harness.state().view.tool_z_mm - 180.0).abs() < 0.5, "{}", harness.state().view.tool_z_mm);
}

#[test]
fn a_click_on_its_name_hides_a_plot_and_gives_its_room_to_the_others() {
    let mut harness = curves(Desk::new(sprung_job()), Vec2::new(800.0, 400.0));
    let before = harness.get_by_label_contains("Plot: Size error").rect().height();
    harness.get_by_label("Spring at the tool").click();
    harness.run();
    assert_eq!(harness.state().view.curves_shown, [true, false, true, false, false]);
    assert!(harness.query_by_label_contains("Plot: Spring at the tool").is_none());
    assert!(harness.get_by_label_contains("Plot: Size error").rect().height() > before + 20.0);
}

#[test]
fn with_no_pass_chosen_a_sentence_says_what_to_do() {
    let mut desk = Desk::new(sprung_job());
    desk.view.pass = None;
    let harness = curves(desk, Vec2::new(800.0, 400.0));
    assert!(harness.query_by_label_contains("Choose a pass to see what it leaves").is_some());
}

#[test]
fn a_pinned_arrangement_does_not_disturb_the_plots() {
    let mut desk = Desk::new(sprung_job());
    let told = Told::of(&desk.job, &|| true).map(std::sync::Arc::new);
    let shape = desk.results.shape.clone();
    for letter in [0, 2] {
        let (name, told, shape) = (Name::default(), told.clone(), shape.clone());
        desk.results.compared.pinned.push(Pinned { letter, name, told, setup: Some(SETUP), pass: Some(PASS), shape });
    }
    let harness = curves(desk, Vec2::new(1100.0, 400.0));
    for letter in ["A", "C"] {
        assert_eq!(harness.query_all_by_label(letter).count(), 3, "one entry in each legend");
    }
}

#[test]
fn an_idle_window_of_curves_asks_for_no_further_frames() {
    let mut harness = curves(Desk::new(sprung_job()), Vec2::new(800.0, 400.0));
    harness.run();
    assert!(!harness.ctx.has_requested_repaint());
}

fn notes(desk: Desk) -> Harness<'static, Desk> {
    let mut harness = Harness::builder().with_size(Vec2::new(300.0, 1200.0)).build_ui_state(
        |ui, desk: &mut Desk| {
            let palette = Palette::for_ui(ui);
            notes_ui(ui, &desk.job, &mut desk.view, &desk.results, &palette, &mut desk.out);
        },
        desk,
    );
    harness.run();
    harness
}

#[test]
fn the_button_of_a_finding_asks_for_its_edit() {
    let mut job = sprung_job();
    job.setups[0].tail.offset_x_mm = 0.05;
    let mut harness = notes(Desk::new(job));
    harness.get_by_label("Put it on the axis").click();
    harness.run();
    let edits = &harness.state().out.edits;
    assert!(matches!(&edits[..], [Edit::SetTail { tail, .. }] if tail.offset_x_mm == 0.0), "{edits:?}");
}

#[test]
fn a_click_on_a_finding_selects_what_it_is_about() {
    let mut job = sprung_job();
    job.setups[0].rests[0].offset_x_mm = 0.05;
    let mut harness = notes(Desk::new(job));
    harness.get_by_label_contains("off its setting").click();
    harness.run();
    let view = &harness.state().view;
    assert_eq!((view.selected, view.cursor_z_mm), (Selected::Rest(REST), Some(15.0)));
}

#[test]
fn why_asks_for_what_is_behind_the_finding() {
    let mut desk = Desk::new(sprung_job());
    // A button before it would make the link run over two lines, and a click on its middle miss it.
    desk.results.findings.retain(|finding| finding.remedy.is_none());
    desk.results.findings.truncate(1);
    let explained = Explained::finding(&desk.results.findings, 0);
    assert!(explained.is_some());
    let mut harness = notes(desk);
    harness.get_by_label("Why?").click();
    harness.run();
    assert_eq!(harness.state().out.actions, [Action::Why(explained)]);
}

#[test]
fn notes_end_with_the_line_that_they_are_an_estimate() {
    let harness = notes(Desk::new(sprung_job()));
    assert!(harness.query_by_label_contains("An estimate, not a guarantee").is_some());
    assert!(harness.query_by_label_contains("Largest error").is_some());
}

fn end_view(desk: Desk) -> Harness<'static, Desk> {
    let mut harness = Harness::builder().with_size(Vec2::new(300.0, 380.0)).build_ui_state(
        |ui, desk: &mut Desk| {
            let palette = Palette::for_ui(ui);
            end_view_ui(ui, &desk.job, &mut desk.view, &desk.results, &palette, &mut desk.out);
        },
        desk,
    );
    harness.run();
    harness
}

#[test]
fn the_end_view_names_its_rest_and_tells_each_jaw_in_words() {
    let mut harness = end_view(Desk::new(sprung_job()));
    assert!(harness.query_by_label_contains("Steady rest at 15").is_some());
    for jaw in ["Top", "Lower front", "Lower rear"] {
        assert!(harness.query_by_label(jaw).is_some(), "{jaw}");
    }
    let n_touching = harness.query_all_by_label("touching").count();
    let n_lifted = harness.query_all_by_label_contains("lifted").count();
    assert_eq!(n_touching + n_lifted, 3, "{n_touching} touching, {n_lifted} lifted");
    harness.get_by_label("End view of the steady rest").click();
    harness.run();
    assert_eq!(harness.state().view.selected, Selected::Rest(REST));
}

#[test]
fn without_a_rest_the_end_view_says_so_and_with_a_follower_it_shows_it() {
    let harness = end_view(Desk::new(job()));
    assert!(harness.query_by_label_contains("No rest in this set-up").is_some());
    let mut job = job();
    let jaw = |degrees: f64| Jaw { angle_rad: degrees.to_radians(), gap_mm: 0.0, k_n_per_mm: Stiffness::Rigid };
    job.setups[0].follower = Some(Follower {
        distance_mm: 20.0,
        side: FollowerSide::Behind,
        jaws: [jaw(0.0), jaw(90.0)],
        tip: TipKind::Bronze,
        tip_bored_mm: None,
        start_mm: 0.0,
    });
    let harness = end_view(Desk::new(job));
    assert!(
        harness.query_by_label_contains("Follower at 220").is_some(),
        "behind a tool at 200 that feeds to the chuck"
    );
}

#[test]
fn panels_survive_a_pass_that_is_gone() {
    let mut desk = Desk::new(sprung_job());
    desk.view.pass = Some(PassId(99));
    desk.job.units = Units::Inch;
    let harness = curves(desk, Vec2::new(800.0, 400.0));
    assert!(harness.state().out.edits.is_empty());
    assert!(!harness.state().out.actions.contains(&Action::Quit));
}
