//! The few pictures of the whole window, drawn by a software Vulkan driver and compared with the ones kept beside this
//! file. One of them is the README's: `UPDATE_SNAPSHOTS=1 cargo test --features pixel-tests --test pixels` takes all
//! of them anew. Nothing in them depends on the clock, the home folder or files opened before.

use egui::epaint::ClippedShape;
use egui::{Key, Modifiers, Rect, Shape, Theme, ThemePreference};
use egui_kittest::kittest::Queryable as _;
use egui_kittest::{Harness, SnapshotOptions};
use midspan::app::{MidspanApp, Settings};
use midspan::job::{Edit, Job, Units, examples};

/// Where the pictures are kept that are for comparison only.
const KEPT: &str = "tests/pixels/snapshots";

/// Where the README's picture is kept.
const ASSETS: &str = "assets";

/// A pixel is wrong where its colour is further off than this (squared distance in YIQ, weighted), and no pixel may
/// be wrong. Both are the defaults of the comparing crate, written out so that no file outside this folder alters them.
const COLOUR_THRESHOLD: f32 = 0.6;
const MOST_WRONG_PIXELS: usize = 0;

/// The beginning of the one line of the window that tells a time measured.
const MEASURED_TIME: &str = "worked out in";

/// The window at rest with `job` on the desk, all worked out: no settings kept, no file, no pointer.
fn window(job: Job, theme: Theme) -> Harness<'static, MidspanApp> {
    let settings = Settings { theme: ThemePreference::from(theme), ..Settings::default() };
    let mut window = Harness::builder()
        .with_size([1366.0, 768.0])
        .with_pixels_per_point(1.0)
        .with_os(egui::os::OperatingSystem::Nix)
        .with_theme(theme)
        .with_max_steps(20)
        .build_eframe(move |creation| MidspanApp::new(&creation.egui_ctx, job, None, settings));
    window.run();
    while window.state().desk.is_working() {
        std::thread::yield_now();
    }
    window.run();
    window
}

fn example(key: &str, units: Units) -> Job {
    let mut job = examples::load(key).unwrap();
    job.apply(&Edit::SetUnits(units)).unwrap();
    job
}

/// The lines of the window on which a time measured can be seen, each over the full width it is clipped to: a time is
/// now longer and now shorter.
fn measured_times(window: &Harness<'_, MidspanApp>) -> Vec<Rect> {
    let shapes = &window.output().shapes;
    let seen = |clipped: &ClippedShape| {
        let Shape::Text(text) = &clipped.shape else { return None };
        let line = Rect::from_x_y_ranges(clipped.clip_rect.x_range(), text.visual_bounding_rect().y_range());
        let seen = line.intersect(clipped.clip_rect);
        (text.galley.text().starts_with(MEASURED_TIME) && seen.is_positive()).then_some(seen)
    };
    shapes.iter().filter_map(seen).collect()
}

/// Compares the window with the picture kept, lines that tell a time measured covered.
fn compare(mut window: Harness<'_, MidspanApp>, folder: &str, name: &str) {
    for line in measured_times(&window) {
        window.mask(line);
    }
    let options =
        SnapshotOptions::new().threshold(COLOUR_THRESHOLD).max_failed_pixels(MOST_WRONG_PIXELS).output_path(folder);
    window.snapshot_options(name, &options);
}

#[test]
fn the_readme_shows_the_window_as_it_opens() {
    let window = window(examples::opening(), Theme::Dark);
    assert_eq!(measured_times(&window), [], "a line of the README's picture would be covered");
    compare(window, ASSETS, "window");
}

#[test]
fn a_time_measured_is_found_where_the_window_is_tall_enough_to_show_it() {
    let mut window = window(examples::opening(), Theme::Dark);
    window.set_size(egui::vec2(1366.0, 3000.0));
    window.run();
    assert_eq!(measured_times(&window).len(), 1);
}

#[test]
fn the_opening_example_by_day_in_inches() {
    compare(window(example("pump-shaft", Units::Inch), Theme::Light), KEPT, "opening-light-inch");
}

#[test]
fn a_rod_with_a_follower_rest() {
    compare(window(example("guide-rod", Units::Metric), Theme::Dark), KEPT, "follower");
}

#[test]
fn the_form_of_a_new_job() {
    let mut window = window(examples::opening(), Theme::Light);
    window.key_press_modifiers(Modifiers::COMMAND, Key::N);
    window.run();
    assert!(window.query_by_label("Begin this job").is_some());
    compare(window, KEPT, "new-job");
}
