//! What turns with the work, and what else the study came to say, as a person sees it in the window.

use std::sync::Arc;

use egui::accesskit::Role;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use midspan::app::{MidspanApp, Selected};
use midspan::job::{DogKind, Edit, Job, Spot, Stated, Stiffness, TailKind, Units, examples};

use crate::desk::{Answer, job, select, window_with};

fn shown(job: Job) -> Harness<'static, MidspanApp> {
    window_with(job, None, &Arc::new(Answer::default()))
}

/// The test shaft with a grip out of true by 60 µm.
fn off_true() -> Job {
    let mut job = job();
    job.setups[0].drive.runout_tir_mm = 0.06;
    job
}

fn has(window: &Harness<'_, MidspanApp>, words: &str) -> bool {
    window.query_all_by_label_contains(words).next().is_some()
}

fn run_out_is_shown(window: &Harness<'_, MidspanApp>) -> bool {
    has(window, "Plot: Run-out")
}

#[test]
fn run_out_comes_on_the_first_time_something_turns_and_stays_off_once_it_is_hidden() {
    let mut window = shown(job());
    assert!(!run_out_is_shown(&window), "everything runs true");
    let true_drive = window.state().desk.job().setups[0].drive.clone();
    let set_runout = |window: &mut Harness<'_, MidspanApp>, runout_tir_mm: f64| {
        let setup = window.state().desk.job().setups[0].id;
        let drive = midspan::job::DriveEnd { runout_tir_mm, ..true_drive.clone() };
        let edits = vec![Edit::SetDrive { setup, drive }];
        window.state_mut().desk.take(midspan::app::Commands { edits, ..Default::default() });
        window.run_steps(3);
    };
    set_runout(&mut window, 0.06);
    assert!(run_out_is_shown(&window));
    window.get_by_label("Run-out").click();
    window.run_steps(3);
    assert!(!run_out_is_shown(&window));
    set_runout(&mut window, 0.0);
    set_runout(&mut window, 0.08);
    assert!(!run_out_is_shown(&window), "it was hidden by hand");
    window.get_by_label("Run-out").click();
    window.run_steps(3);
    assert!(run_out_is_shown(&window));
}

#[test]
fn the_line_over_run_out_tells_every_figure_at_the_cursor() {
    let mut window = shown(off_true());
    window.state_mut().desk.view.cursor_z_mm = Some(300.0);
    window.run_steps(3);
    let told = window.get_by_label_contains("Plot: Run-out, at 300.0 mm: runs out");
    let told = format!("{told:?}");
    for words in ["once let go", "out of round"] {
        assert!(told.contains(words), "{words}: {told}");
    }
}

#[test]
fn where_all_runs_true_the_plot_says_so() {
    let mut window = shown(job());
    window.get_by_label("Run-out").click();
    window.run_steps(3);
    assert!(has(&window, "Plot: Run-out, Everything runs true: nothing that turns with the work is bent or off."));
}

#[test]
fn four_plots_can_be_read_on_a_small_screen_and_hidden_ones_share_one_line() {
    let mut window = shown(off_true());
    let plots = ["Size error", "Spring at the tool", "Shape of the work", "Run-out"];
    for plot in plots {
        let height = window.get_by_label_contains(&format!("Plot: {plot}")).rect().height();
        assert!(height >= 46.0, "{plot} is {height} high");
    }
    for plot in [plots[1], plots[3]] {
        window.get_by_role_and_label(Role::CheckBox, plot).click();
        window.run_steps(3);
    }
    let line = |window: &Harness<'_, MidspanApp>, plot| window.get_by_role_and_label(Role::CheckBox, plot).rect();
    let (first, second) = (line(&window, plots[1]), line(&window, plots[3]));
    assert_eq!(first.center().y, second.center().y, "hidden plots stand in one line");
    assert!(first.right() < second.left());
    assert!(window.get_by_label_contains("Plot: Size error").rect().height() > 100.0);
}

#[test]
fn notes_tell_run_out_where_it_is_worst_and_lead_to_one_turn_at_the_tool() {
    let mut window = shown(off_true());
    select(&mut window, Selected::Shaft);
    assert!(has(&window, "Turns with the work") && has(&window, "once let go"));
    assert!(!has(&window, "One turn of the work at the tool"));
    window.get_by_label("Show one turn at the tool").click();
    window.run_steps(3);
    assert_eq!(window.state().desk.view.selected, Selected::Tool);
    assert!(has(&window, "One turn of the work at the tool"));
    assert!(has(&window, "One turn at the tool, at"));
    let window = shown(job());
    assert!(!has(&window, "Turns with the work"), "nothing to say");
}

#[test]
fn notes_tell_growth_and_thrust_of_warm_work() {
    let mut warm = job();
    warm.lathe.tailstock_axial_k_n_per_mm = Stiffness::Spring(Stated::given(50_000.0));
    let window = shown(warm.clone());
    assert!(!has(&window, "Warmer by"));
    warm.setups[0].warmer_by_k = 10.0;
    let window = shown(warm.clone());
    assert!(has(&window, "Warmer by 10 K") && has(&window, "grows by"));
    warm.setups[0].warmer_by_k = -60.0;
    let window = shown(warm.clone());
    assert!(has(&window, "Colder by 60 K") && has(&window, "the centre is slack"));
    warm.setups[0].warmer_by_k = 10.0;
    warm.setups[0].tail.kind = TailKind::Free;
    assert!(has(&shown(warm), "its end is free"));
}

#[test]
fn notes_tell_whether_the_work_is_pressed_or_pulled_at_the_tool() {
    let mut pulled = job();
    assert!(has(&shown(pulled.clone()), "chuck to tool") && has(&shown(pulled.clone()), "pressed together with"));
    let pass = &mut pulled.setups[0].passes[0];
    (pass.from_z_mm, pass.to_z_mm) = (pass.to_z_mm, pass.from_z_mm);
    pulled.setups[0].tail.thrust_n = 1.0;
    assert!(has(&shown(pulled), "which keeps it straight"));
}

#[test]
fn notes_tell_what_the_jaws_of_the_selected_rest_feel() {
    let mut window = shown(job());
    let rest = window.state().desk.job().setups[0].rests[0].id;
    select(&mut window, Selected::Rest(rest));
    assert!(has(&window, "rubbing at") && has(&window, " MPa") && has(&window, " W"));
    select(&mut window, Selected::Shaft);
    assert!(!has(&window, "rubbing at"));
    // Without a pass the spindle stands: there is pressure, but no drag and no heat.
    window.state_mut().desk.view.pass = None;
    select(&mut window, Selected::Rest(rest));
    assert!(!has(&window, "rubbing at"));
}

#[test]
fn notes_tell_power_and_torque_against_what_there_is_and_the_gears_there_are() {
    let mut geared = job();
    geared.lathe.speeds_rpm.clear();
    geared.lathe.feeds_mm_per_rev.clear();
    let window = shown(geared.clone());
    assert!(has(&window, "Power, at most") && has(&window, " N\u{b7}m"));
    assert!(!has(&window, "the gearbox gives") && !has(&window, "the feed box gives"));
    let pass = &geared.setups[0].passes[0];
    geared.lathe.speeds_rpm = vec![0.5 * pass.speed_rpm, 0.8 * pass.speed_rpm, 1.3 * pass.speed_rpm];
    geared.lathe.feeds_mm_per_rev = vec![1.2 * pass.feed_mm_per_rev];
    geared.units = Units::Inch;
    let window = shown(geared);
    assert!(has(&window, "the gearbox gives") && has(&window, "the feed box gives"));
    assert!(has(&window, " lbf\u{b7}ft") && has(&window, " hp"));
}

#[test]
fn the_end_view_of_a_lobed_spot_and_of_a_dog_can_be_drawn() {
    let mut lobed = job();
    lobed.setups[0].rests[0].spot = Spot { n_lobes: 5, height_mm: 0.02 };
    let mut window = shown(lobed);
    let rest = window.state().desk.job().setups[0].rests[0].id;
    select(&mut window, Selected::Rest(rest));
    assert!(has(&window, "End view of the steady rest"));
    select(&mut window, Selected::Tool);
    assert!(has(&window, "One turn of the work at the tool"));

    let arbor = examples::load("grinding-arbor").expect("embedded");
    assert_eq!(arbor.setups[0].drive.dog.kind, DogKind::OneTail);
    let mut window = shown(arbor);
    assert!(run_out_is_shown(&window), "its dog pushes once a turn");
    select(&mut window, Selected::Tool);
    assert!(has(&window, "One turn of the work at the tool"));
}

#[test]
fn a_window_with_run_out_comes_to_rest() {
    let mut window = shown(off_true());
    select(&mut window, Selected::Tool);
    window.run_steps(20);
    for _ in 0..5 {
        window.step();
        let delay = window.output().viewport_output[&egui::ViewportId::ROOT].repaint_delay;
        assert_eq!(delay, std::time::Duration::MAX, "repaint asked for in {delay:?}");
    }
}
