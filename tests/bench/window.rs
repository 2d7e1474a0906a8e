//! How long a frame of the whole window takes, from pointer event to triangles, without a graphics card and without
//! a screen reader listening: at rest, and while a steady rest is dragged and everything is computed anew. Beside it
//! the computing alone, so that it is seen what the rest of the frame costs. Read the column of medians; a screen of
//! 60 pictures a second leaves 16.7 ms.

use std::fmt;

use egui::accesskit::Role;
use egui::{Context, Event, Modifiers, PointerButton, Pos2, RawInput, Rect, ViewportId, pos2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use midspan::app::{MidspanApp, Settings};
use midspan::job::{Edit, Job, examples};
use midspan::study::band::{bands, shape_band};
use midspan::study::bearing_spot::bearing;
use midspan::study::coverage::coverage;
use midspan::study::reach;
use midspan::{advice, study};

/// A common small screen.
const SIZE: [f32; 2] = [1366.0, 768.0];

/// The pointer swings this far to both sides of where it took hold, so much a frame, in points.
const SWING: f32 = 20.0;
const SWING_A_FRAME: f32 = 2.0;

/// Jobs the window is measured with, both of two set-ups with three passes each.
#[derive(Clone, Copy)]
enum Measured {
    /// 840 mm, a steady rest in each set-up.
    Opening,
    /// Eight feet, two steady rests in each set-up.
    Long,
}

const MEASURED: [Measured; 2] = [Measured::Opening, Measured::Long];

impl fmt::Display for Measured {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Opening => "opening example",
            Self::Long => "eight feet, two steadies",
        })
    }
}

impl Measured {
    fn job(self) -> Job {
        let mut job = match self {
            Self::Opening => examples::opening(),
            Self::Long => {
                let mut job = examples::load("lead-screw").expect("an example of this name");
                // Turned twice, as when speeds were first written down, and not threaded.
                job.setups.truncate(1);
                job.apply(&Edit::CopySetup(job.setups[0].id)).expect("the set-up is there");
                job.apply(&Edit::TurnEndForEnd(job.setups[1].id)).expect("the copy is there");
                job
            }
        };
        let n_passes: Vec<usize> = job.setups.iter().map(|setup| setup.passes.len()).collect();
        assert_eq!(n_passes, [3, 3], "{self}");
        // On stock, in the middle of a band wide enough for the whole swing: where it must be spotted costs most.
        job.setups[0].rests[0].z_mm = match self {
            Self::Opening => 209.0,
            Self::Long => 775.0,
        };
        job
    }
}

fn main() {
    for measured in MEASURED {
        every_frame_of_the_drag_moves_the_rest(measured);
    }
    divan::main();
}

#[divan::bench(args = MEASURED)]
fn at_rest(bencher: divan::Bencher, measured: Measured) {
    let mut window = Window::open(measured.job());
    bencher.bench_local(|| window.frame(Vec::new()));
}

#[divan::bench(args = MEASURED)]
fn rest_dragged(bencher: divan::Bencher, measured: Measured) {
    let mut window = Window::open(measured.job());
    window.take_hold();
    bencher.bench_local(|| window.drag_on());
}

#[divan::bench(args = MEASURED)]
fn computing_alone(bencher: divan::Bencher, measured: Measured) {
    let job = measured.job();
    bencher.bench_local(|| {
        let result = study::compute(divan::black_box(&job));
        advice::findings(&job, &result)
    });
}

/// The parts of what a frame of the drag works out besides the curves, each by itself.
#[divan::bench(args = MEASURED)]
fn findings_alone(bencher: divan::Bencher, measured: Measured) {
    let job = measured.job();
    let result = study::compute_with_bands(&job);
    bencher.bench_local(|| advice::findings(&job, divan::black_box(&result)));
}

#[divan::bench(args = MEASURED)]
fn bands_alone(bencher: divan::Bencher, measured: Measured) {
    let job = measured.job();
    let result = study::compute(&job);
    bencher.bench_local(|| bands(&job, divan::black_box(&result), &|| true));
}

#[divan::bench(args = MEASURED)]
fn shape_band_alone(bencher: divan::Bencher, measured: Measured) {
    let job = measured.job();
    let result = study::compute_with_bands(&job);
    let (setup, bands) = (&job.setups[0], result.bands.as_ref().expect("a band"));
    bencher.bench_local(|| shape_band(&job, bands, setup.id, Some(setup.passes[0].id), Some(300.0)));
}

#[divan::bench(args = MEASURED)]
fn coverage_alone(bencher: divan::Bencher, measured: Measured) {
    let job = measured.job();
    let result = study::compute(&job);
    bencher.bench_local(|| coverage(&job, divan::black_box(&result)));
}

/// Where every rest may stand, and what its jaws find there.
#[divan::bench(args = MEASURED)]
fn standing_alone(bencher: divan::Bencher, measured: Measured) {
    let job = measured.job();
    let result = study::compute(&job);
    bencher.bench_local(|| {
        let rests = job.setups.iter().flat_map(|setup| setup.rests.iter().map(|rest| (setup.id, rest.id)));
        let of_rest = |(setup, rest)| {
            (reach::rest_reach_beside_others(&job, &result, setup, rest), bearing(&job, &result, setup, rest))
        };
        rests.map(of_rest).collect::<Vec<_>>()
    });
}

/// The window as the desktop runs it, frame by frame.
struct Window {
    ctx: Context,
    app: MidspanApp,
    input: RawInput,
    /// Where the handle of the first steady rest was when the window opened.
    handle: Pos2,
    n_drags: usize,
}

impl Window {
    fn open(job: Job) -> Self {
        let mut harness = Harness::builder()
            .with_size(SIZE)
            .build_eframe(move |creation| MidspanApp::new(&creation.egui_ctx, job, None, Settings::default()));
        harness.run_steps(8);
        let handle = harness.get_by_role_and_label(Role::Slider, "Steady rest 1").rect().center();
        let ctx = harness.ctx.clone();
        let app = harness.into_state();
        // The tests read the tree a screen reader is given; few desktops ask for it.
        ctx.disable_accesskit();
        let mut input =
            RawInput { screen_rect: Some(Rect::from_min_size(Pos2::ZERO, SIZE.into())), ..RawInput::default() };
        input.viewports.entry(ViewportId::ROOT).or_default().native_pixels_per_point = Some(1.0);
        let mut window = Self { ctx, app, input, handle, n_drags: 0 };
        for _ in 0..4 {
            window.frame(Vec::new());
        }
        window
    }

    /// One frame, to the triangles that would go to the graphics card.
    fn frame(&mut self, events: Vec<Event>) {
        let input = RawInput { events, ..self.input.clone() };
        let mut output = self.ctx.run_ui(input, |ui| self.app.frame_ui(ui));
        output.textures_delta.clear();
        divan::black_box(self.ctx.tessellate(output.shapes, output.pixels_per_point));
    }

    /// Presses the button on the steady rest and begins to pull; Shift is held, so that the rest sticks nowhere.
    fn take_hold(&mut self) {
        let (pos, modifiers) = (self.handle, Modifiers::SHIFT);
        self.frame(vec![Event::ModifiersChanged(modifiers), Event::PointerMoved(pos)]);
        self.frame(vec![Event::PointerMoved(pos)]);
        self.frame(vec![Event::PointerButton { pos, button: PointerButton::Primary, pressed: true, modifiers }]);
        for away in [3.0, 6.0, 9.0] {
            self.frame(vec![Event::PointerMoved(pos + vec2(away, 0.0))]);
        }
    }

    /// One frame with the button down, the pointer a little further on.
    fn drag_on(&mut self) {
        let there_and_back = (4.0 * SWING / SWING_A_FRAME) as usize;
        let step = (self.n_drags % there_and_back) as f32 * SWING_A_FRAME;
        let away = if step < 2.0 * SWING { step - SWING } else { 3.0 * SWING - step };
        self.n_drags += 1;
        self.frame(vec![Event::PointerMoved(pos2(self.handle.x + away, self.handle.y))]);
    }

    fn rest_z_mm(&self) -> f64 {
        self.app.desk.job().setups[0].rests[0].z_mm
    }
}

/// Were the rest to stand still in some of the frames, those would be measured in which nothing is computed.
fn every_frame_of_the_drag_moves_the_rest(measured: Measured) {
    let mut window = Window::open(measured.job());
    window.take_hold();
    for n_frames in 0..100 {
        let before_mm = window.rest_z_mm();
        window.drag_on();
        let results = window.app.desk.results();
        assert!(window.rest_z_mm().to_bits() != before_mm.to_bits(), "{measured}: still at {before_mm} in {n_frames}");
        assert_eq!(results.job, *window.app.desk.job(), "{measured}: drawn from results of another job");
    }
}
