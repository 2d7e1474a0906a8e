//! Words never lie on words, nor on the work: read off what the window really paints, over all examples and jobs drawn
//! by lot with many rests, near and far.

use std::sync::Arc;

use egui::accesskit::Role;
use egui::epaint::ClippedShape;
use egui::{Key, Modifiers, Rect, Shape, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use midspan::app::bench::map::Map;
use midspan::app::key_list::keys_told;
use midspan::app::{MidspanApp, Selected};
use midspan::job::examples::{self, EXAMPLES};
use midspan::job::{Job, Land, Rest, RestId, Units};
use midspan::picture::bench::Scene;

use crate::desk::{Answer, job, keys, window_with};
use crate::random_job::{Lot, random_job};

type Window = Harness<'static, MidspanApp>;

/// Words that lie over the picture with a ground of their own: how the spring is drawn.
const LEGEND: [&str; 3] = ["Spring ", "away ", "up"];

#[derive(Debug)]
pub struct Words {
    text: String,
    /// What is seen of them.
    rect: Rect,
    clip: Rect,
}

fn words_in(shape: &Shape, clip: Rect, found: &mut Vec<Words>) {
    match shape {
        Shape::Vec(shapes) => shapes.iter().for_each(|shape| words_in(shape, clip, found)),
        Shape::Text(text) if !text.galley.text().trim().is_empty() => {
            let rect = text.visual_bounding_rect().intersect(clip);
            if rect.width() > 1.0 && rect.height() > 1.0 {
                found.push(Words { text: text.galley.text().to_owned(), rect, clip });
            }
        }
        _ => {}
    }
}

pub fn painted(window: &Window) -> Vec<Words> {
    let mut found = Vec::new();
    for ClippedShape { clip_rect, shape, .. } in &window.output().shapes {
        words_in(shape, *clip_rect, &mut found);
    }
    found
}

/// Fails where two words meet.
pub fn assert_apart(words: &[Words], of: &str) {
    for (index, one) in words.iter().enumerate() {
        for other in &words[index + 1..] {
            // What is left of a line between two words is no overlap.
            let shared = one.rect.intersect(other.rect);
            assert!(shared.width() < 1.0 || shared.height() < 1.5, "{of}: {one:?} on {other:?}");
        }
    }
}

fn bench_rect(window: &Window) -> Rect {
    window.get_by_role_and_label(Role::Canvas, "Bench: the lathe and the work from the front").rect()
}

/// Where the body of the work is seen.
fn work(window: &Window) -> Vec<Rect> {
    let (desk, rect) = (&window.state().desk, bench_rect(window));
    let view = &desk.view;
    let map = Map::of(rect, view.plot_x_range, &view.z_view_mm, view.y_centre_mm);
    let result = &desk.results().result;
    let scene =
        Scene::of(desk.job(), result, view.setup, view.pass, view.tool_z_mm, None).expect("the set-up is there");
    // What chuck and headstock hide is drawn in thin dashes only.
    let front = if scene.setup.drive.kind == midspan::job::DriveKind::CentreAndDog {
        f64::NEG_INFINITY
    } else {
        scene.sizes().chuck_front_mm
    };
    let now = scene.work_state().now.between(front, f64::INFINITY);
    let stretches = now.stretches.iter().map(|stretch| {
        let radius_mm = stretch.start_radius_mm.min(stretch.end_radius_mm);
        map.rect_of(stretch.from_z_mm, stretch.to_z_mm, -radius_mm, radius_mm)
    });
    stretches.collect()
}

fn assert_bench_is_clear(window: &Window, of: &str) -> usize {
    let bench = bench_rect(window);
    let words: Vec<Words> = painted(window).into_iter().filter(|words| words.clip == bench).collect();
    assert_apart(&words, of);
    for words in words.iter().filter(|words| !LEGEND.iter().any(|start| words.text.starts_with(start))) {
        for stretch in work(window) {
            let shared = words.rect.shrink(1.5).intersect(stretch);
            assert!(!shared.is_positive(), "{of}: {words:?} lies on the work {stretch:?}");
        }
    }
    words.len()
}

/// Looks at the job whole, nearer and farther, with every rest selected in turn.
fn look_all_over(job: Job, of: &str) {
    let mut window = window_with(job, None, &Arc::new(Answer::default()));
    window.run_steps(3);
    let whole = window.state().desk.view.z_view_mm.clone();
    let (middle, length) = (0.5 * (whole.start() + whole.end()), whole.end() - whole.start());
    let rests: Vec<Rest> = window.state().desk.job().setups[0].rests.clone();
    assert!(assert_bench_is_clear(&window, of) > 2, "{of}: there are words at all");
    let places = [middle, rests.first().map_or(middle, |rest| rest.z_mm), *whole.end()];
    for (index, zoom) in [0.3, 1.0, 2.0, 4.0, 12.0, 60.0].into_iter().enumerate() {
        let place = places[index % places.len()];
        let view = &mut window.state_mut().desk.view;
        view.z_view_mm = place - 0.5 * length / zoom..=place + 0.5 * length / zoom;
        view.selected = rests.get(index).map_or(Selected::Tool, |rest| Selected::Rest(rest.id));
        window.run_steps(2);
        assert_bench_is_clear(&window, &format!("{of}, {zoom} times nearer at {place:.0}"));
    }
    window.set_size(vec2(1920.0, 1080.0));
    window.state_mut().desk.view.fit = true;
    window.run_steps(3);
    assert_bench_is_clear(&window, &format!("{of}, in a large window"));
}

/// Six metres with ten rests.
fn long_job(units: Units) -> Job {
    let mut job = job();
    job.units = units;
    job.shaft.stock = vec![Land { length_mm: 6000.0, ..job.shaft.stock[0] }];
    job.shaft.wanted.clear();
    let setup = &mut job.setups[0];
    setup.rests = (0..10).map(|index| Rest::three_jaw(RestId(100 + index), 300.0 + 560.0 * f64::from(index))).collect();
    setup.passes.iter_mut().for_each(|pass| (pass.from_z_mm, pass.to_z_mm) = (5990.0, 10.0));
    job.next_id = 200;
    job
}

#[test]
fn words_on_the_bench_keep_off_each_other_and_off_the_work_in_all_examples() {
    for example in EXAMPLES {
        look_all_over(examples::load(example.key).unwrap(), example.key);
    }
}

#[test]
fn they_do_with_ten_rests_on_six_metres_and_the_selected_one_is_named_in_full() {
    for units in [Units::Metric, Units::Inch] {
        look_all_over(long_job(units), &format!("six metres, {units:?}"));
    }
    let mut window = window_with(long_job(Units::Metric), None, &Arc::new(Answer::default()));
    window.state_mut().desk.view.selected = Selected::Rest(RestId(104));
    window.run_steps(3);
    let words = painted(&window);
    let says = |text: &str| words.iter().any(|words| words.text == text);
    assert!(says("Steady rest 5 · 2540.0 mm"), "{words:?}");
    for number in [1, 2, 3, 4, 6, 7, 8, 9, 10] {
        let place = 300 + 560 * (number - 1);
        assert!(says(&format!("{number} · {place}.0 mm")), "rest {number}: {words:?}");
    }
}

#[test]
fn where_rests_stand_too_close_for_words_their_number_is_told() {
    let mut job = long_job(Units::Metric);
    let rests = &mut job.setups[0].rests;
    *rests = (0..30).map(|index| Rest::three_jaw(RestId(100 + index), 2000.0 + 20.0 * f64::from(index))).collect();
    let mut window = window_with(job, None, &Arc::new(Answer::default()));
    window.run_steps(3);
    assert_bench_is_clear(&window, "thirty rests");
    let bench = bench_rect(&window);
    let told: usize = painted(&window)
        .iter()
        .filter(|words| words.clip == bench)
        .map(|words| {
            let (name, more) = words.text.split_once(" +").unwrap_or((&words.text, "0"));
            let names = name.starts_with("Steady rest ") || name.parse::<u32>().is_ok();
            if names { 1 + more.parse::<usize>().expect("a number") } else { 0 }
        })
        .sum();
    assert_eq!(told, 30, "each is named or counted");
}

#[test]
fn they_do_on_jobs_drawn_by_lot() {
    for number in 0..8 {
        let mut job = random_job(number);
        let mut lot = Lot(number);
        let end_mm = job.setups[0].work_end_z_mm(&job.shaft);
        for index in 0..lot.below(12) as u32 {
            job.setups[0].rests.push(Rest::three_jaw(RestId(5000 + index), lot.between(0.0, end_mm)));
        }
        job.next_id = 6000;
        look_all_over(job, &format!("job {number}"));
    }
}

#[test]
fn no_words_of_the_window_lie_on_others() {
    for example in EXAMPLES {
        for units in [Units::Metric, Units::Inch] {
            let mut job = examples::load(example.key).unwrap();
            job.units = units;
            let mut window = window_with(job, None, &Arc::new(Answer::default()));
            for selected in [None, Some(Selected::Tool)] {
                if let Some(selected) = selected {
                    window.state_mut().desk.view.selected = selected;
                }
                window.run_steps(4);
                assert_apart(&painted(&window), example.key);
            }
        }
    }
}

#[test]
fn the_rows_of_the_list_of_keys_stand_apart() {
    let mut window = window_with(job(), None, &Arc::new(Answer::default()));
    keys(&mut window, Modifiers::NONE, Key::F1);
    window.run_steps(8);
    let told = keys_told(&window.ctx);
    let is_told = |words: &Words| told.iter().any(|(keys, does)| *keys == words.text || *does == words.text);
    let words: Vec<Words> = painted(&window).into_iter().filter(is_told).collect();
    assert!(words.len() > 30, "{} words", words.len());
    assert_apart(&words, "the list of keys");
}
