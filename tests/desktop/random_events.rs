//! The window under random hands: clicks, drags, keys, words and sizes by lot, a hundred thousand and more of them in all.
//!
//! After every frame the job is one that can be, what is drawn was computed for it, and what is looked at is there. At
//! the end nothing is stuck: the window comes to rest, all steps go back and forward again, and the mouse still works.

use std::path::Path;
use std::sync::Arc;
use std::time::{Duration, Instant};

use egui::accesskit::Role;
use egui::{
    Event, Key, Modifiers, MouseWheelSource, MouseWheelUnit, PointerButton, Pos2, Rect, TouchPhase, pos2, vec2,
};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use midspan::app::MidspanApp;
use midspan::app::printing::Printer;
use midspan::app::sheets::Sheets;
use midspan::app::windows::Windows;
use midspan::job::{Job, examples, file};

use crate::desk::{Answer, come_to_rest, job, keys, window_keeping};
use crate::lot::Lot;

/// Events of one run; there are four.
const N_EVENTS: usize = 26_000;
/// Most that come before one frame.
const MOST_A_FRAME: usize = 48;
/// Frames between two looks at what there is to press.
const FRAMES_A_LOOK: usize = 8;

const WORDS: [&str; 14] = [
    "12",
    "0,75",
    "1-3/8",
    "-5",
    "1e9",
    "0",
    "h7",
    "",
    "  ",
    "35 mm",
    "Welle Größe 7 \u{4e2d}\u{6587}",
    "nan",
    "+0 -0.02",
    "\t",
];

/// Takes any sheet and says so.
#[derive(Debug)]
struct Tray;

impl Printer for Tray {
    fn hand_over(&self, _pdf: &Path) -> Result<String, String> {
        Ok("Taken.".to_owned())
    }
}

/// Opens no second window.
#[derive(Debug)]
struct NoMore;

impl Windows for NoMore {
    fn open(&self) -> Result<(), String> {
        Err("One window is enough.".to_owned())
    }
}

/// A hand that does anything.
struct Hand {
    lot: Lot,
    at: Pos2,
    held: Option<PointerButton>,
    /// Where there is something to press.
    targets: Vec<Rect>,
}

impl Hand {
    fn look(&mut self, window: &Harness<'_, MidspanApp>) {
        let nodes = window.root().children_recursive();
        let roles = [Role::Button, Role::Slider, Role::TextInput, Role::CheckBox, Role::ComboBox, Role::RadioButton];
        let pressed = nodes.filter(|node| roles.contains(&node.accesskit_node().role()));
        self.targets = pressed.map(|node| node.rect()).filter(|rect| rect.is_finite()).collect();
    }

    fn place(&mut self, screen: Rect) -> Pos2 {
        let rect =
            if self.targets.is_empty() || self.lot.chance(0.3) { screen } else { self.lot.one_of(&self.targets) };
        rect.lerp_inside(vec2(self.lot.share() as f32, self.lot.share() as f32))
    }

    fn modifiers(&mut self) -> Modifiers {
        let mut modifiers = Modifiers::NONE;
        if self.lot.chance(0.2) {
            modifiers |= Modifiers::SHIFT;
        }
        if self.lot.chance(0.25) {
            modifiers |= Modifiers::COMMAND | Modifiers::CTRL;
        }
        if self.lot.chance(0.1) {
            modifiers |= Modifiers::ALT;
        }
        modifiers
    }

    fn moved(&mut self, to: Pos2) -> Event {
        self.at = to;
        Event::PointerMoved(to)
    }

    fn button(&self, button: PointerButton, pressed: bool, modifiers: Modifiers) -> Event {
        Event::PointerButton { pos: self.at, button, pressed, modifiers }
    }

    fn press(&mut self, key: Key, modifiers: Modifiers) -> [Event; 2] {
        let stroke = |pressed| Event::Key { key, physical_key: None, pressed, repeat: false, modifiers };
        [stroke(true), stroke(false)]
    }

    /// The next few events.
    fn does(&mut self, screen: Rect) -> Vec<Event> {
        let modifiers = self.modifiers();
        let place = self.place(screen);
        if let Some(button) = self.held {
            // Along, now and then a long way, and let go sooner or later.
            let near = self.at + vec2(self.lot.between(-30.0, 30.0) as f32, self.lot.between(-30.0, 30.0) as f32);
            let to = if self.lot.chance(0.9) { near } else { place };
            let moved = self.moved(to);
            if self.lot.chance(0.8) {
                return vec![moved];
            }
            self.held = None;
            return vec![moved, self.button(button, false, modifiers)];
        }
        match self.lot.below(100) {
            0..20 => vec![self.moved(place)],
            20..45 => {
                let button = if self.lot.chance(0.85) { PointerButton::Primary } else { PointerButton::Secondary };
                let moved = self.moved(place);
                vec![moved, self.button(button, true, modifiers), self.button(button, false, modifiers)]
            }
            45..60 => {
                let button = if self.lot.chance(0.85) { PointerButton::Primary } else { PointerButton::Middle };
                self.held = Some(button);
                let moved = self.moved(place);
                vec![moved, self.button(button, true, modifiers)]
            }
            60..75 => {
                let key = self.lot.one_of(Key::ALL);
                self.press(key, modifiers).into()
            }
            75..85 => {
                let often =
                    [Key::Tab, Key::Enter, Key::Escape, Key::ArrowLeft, Key::ArrowRight, Key::ArrowUp, Key::Space];
                let key = self.lot.one_of(&often);
                self.press(key, if modifiers.shift { Modifiers::SHIFT } else { Modifiers::NONE }).into()
            }
            85..93 => vec![Event::Text(self.lot.one_of(&WORDS).to_owned())],
            93..95 => vec![Event::Paste(self.lot.one_of(&WORDS).to_owned())],
            95..96 => vec![Event::Copy, Event::Cut],
            96..98 => vec![Event::MouseWheel {
                unit: MouseWheelUnit::Point,
                delta: vec2(0.0, self.lot.between(-120.0, 120.0) as f32),
                phase: TouchPhase::Move,
                source: MouseWheelSource::Unknown,
                modifiers,
            }],
            98..99 => vec![Event::PointerGone],
            _ => vec![Event::WindowFocused(self.lot.chance(0.5))],
        }
    }
}

/// What must hold after any frame.
fn check(window: &Harness<'_, MidspanApp>, when: &str) {
    let desk = &window.state().desk;
    let job = desk.job();
    job.validate().unwrap_or_else(|error| panic!("{when}: {error}"));
    assert!(desk.results().job == *job, "{when}: drawn from results of another job");
    let setup = job.setup(desk.view.setup);
    assert!(setup.is_some() || job.setups.is_empty(), "{when}: a set-up is looked at that is not there");
    let pass = desk.view.pass.map(|pass| setup.and_then(|setup| setup.pass(pass)));
    assert!(pass != Some(None), "{when}: a pass is looked at that is not there");
}

fn run(number: u64, job: Job) {
    let folder = tempfile::tempdir().expect("a folder");
    let answer = Arc::new(Answer::default());
    *answer.0.lock().expect("the path") = Some(folder.path().join("job.ron"));
    let mut window = window_keeping(job, None, &answer, Some(&folder.path().join("unsaved")));
    window.state_mut().sheets = Sheets::new(Arc::new(Tray));
    window.state_mut().windows = Arc::new(NoMore);
    // What the fonts lack is a box on any desktop too.
    window.ctx.set_missing_glyph_policy(egui::MissingGlyphPolicy::Tofu);
    let mut hand = Hand { lot: Lot(number), at: pos2(300.0, 300.0), held: None, targets: Vec::new() };
    let (mut n_events, mut n_frames, mut n_changes) = (0, 0_usize, 0);
    let mut last: Vec<Event> = Vec::new();
    while n_events < N_EVENTS {
        if n_frames.is_multiple_of(FRAMES_A_LOOK) {
            hand.look(&window);
            if hand.lot.chance(0.1) {
                let (width, height) = (hand.lot.tenfold(500.0, 2000.0), hand.lot.tenfold(300.0, 1200.0));
                window.set_size(vec2(width as f32, height as f32));
                n_events += 1;
            }
        }
        let screen = window.ctx.content_rect();
        last.clear();
        for _ in 0..=hand.lot.below(MOST_A_FRAME) {
            last.extend(hand.does(screen));
        }
        if window.state().is_asking() && hand.lot.chance(0.3) {
            // As people do with what they did not ask for; else most of it would happen to a question.
            last.extend(hand.press(Key::Escape, Modifiers::NONE));
        }
        if window.query_by_label("Path of the file").is_some() {
            // What it would type here it would write into whatever folder the tests are run in.
            last = hand.press(Key::Escape, Modifiers::NONE).into();
        }
        n_events += last.len();
        window.input_mut().events.clone_from(&last);
        let before = window.state().desk.job().clone();
        window.run_steps(1);
        n_frames += 1;
        n_changes += usize::from(*window.state().desk.job() != before);
        check(&window, &format!("run {number}, frame {n_frames}, after {last:?}"));
    }

    // Measured: 69 to 80 of about 650 frames change the job.
    assert!(n_changes > 40, "run {number}: a hand that does next to nothing: {n_changes} changes");
    // Nothing is stuck.
    let held = hand.held.take().map(|button| hand.button(button, false, Modifiers::NONE));
    window.input_mut().events.extend(held.into_iter().chain([Event::WindowFocused(true)]));
    window.set_size(vec2(1366.0, 768.0));
    for _ in 0..6 {
        keys(&mut window, Modifiers::NONE, Key::Escape);
    }
    // An odd job can keep the bands busy for a while.
    let begun = Instant::now();
    while window.state().desk.is_working() && begun.elapsed() < Duration::from_secs(120) {
        window.run_steps(1);
        std::thread::sleep(Duration::from_millis(20));
    }
    come_to_rest(&mut window);
    let ended = window.state().desk.document().clone();
    assert!(
        file::from_text(&file::to_text(&ended)).is_ok_and(|read| read == ended),
        "run {number}: the file is another job"
    );
    let mut n_back = 0;
    while window.state().desk.history().can_undo() {
        assert!(n_back < 1000, "run {number}: undo has no end");
        keys(&mut window, Modifiers::COMMAND, Key::Z);
        check(&window, &format!("run {number}, {n_back} steps back"));
        n_back += 1;
    }
    for _ in 0..n_back {
        keys(&mut window, Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    }
    assert!(*window.state().desk.document() == ended, "run {number}: back and forward again is another job");
}

#[test]
fn a_plain_shaft_stands_anything() {
    run(1, job());
}

#[test]
fn the_opening_example_stands_anything() {
    run(2, examples::opening());
}

#[test]
fn a_job_with_a_follower_stands_anything() {
    run(3, examples::load("guide-rod").expect("an example of this name"));
}

#[test]
fn the_lead_screw_stands_anything() {
    run(4, examples::load("lead-screw").expect("an example of this name"));
}
