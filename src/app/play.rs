//! The cut played: the tool travels the pass looked at and goes on to the next one of the set-up, and everything drawn
//! follows it, as it does when the tool is moved by hand.
//!
//! Only the view is moved, so nothing of it gets into the job or its history. The hand comes first: where the tool is not
//! where this put it, or another pass is looked at, somebody has taken over, and the playing stops.

use egui::{Button, Slider, SliderClamping, Ui, WidgetInfo, vec2};

use super::bench::step_mm;
use super::commands::keys_text;
use super::strip::pass_name;
use super::{Action, Commands, Selected, View};
use crate::job::quantity::{Kind, show};
use crate::job::{Job, Pass, PassId, Setup, SetupId};

/// What has no length to travel, as a face or a groove, is looked at for so long.
const STANDING_S: f64 = 1.5;
/// A frame later than this moves the tool no further.
const LONGEST_FRAME_S: f64 = 0.25;
/// Steps by key along a whole pass.
const N_STEPS: f64 = 40.0;
/// Width of the slider, and where the window is narrow.
const SLIDER_WIDTHS: [f32; 2] = [180.0, 100.0];
/// A window as wide as this has room for the wider one, in points.
const ROOMY_WIDTH: f32 = 1300.0;

/// How fast the tool travels.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Pace {
    Slow,
    #[default]
    Usual,
    Quick,
    /// As long as the cut takes on the lathe.
    AsCut,
}

impl Pace {
    /// All of them with their words.
    pub const ALL: [(Self, &'static str); 4] = [
        (Self::Slow, "Slow, 24 seconds a pass"),
        (Self::Usual, "Usual, 8 seconds"),
        (Self::Quick, "Quick, 3 seconds"),
        (Self::AsCut, "As long as the cut takes"),
    ];

    /// How long a pass takes.
    #[must_use]
    pub fn pass_s(self, pass: &Pass) -> f64 {
        let (low_mm, high_mm) = pass.span_mm();
        let as_cut_s = 60.0 * (high_mm - low_mm) / (pass.feed_mm_per_rev * pass.speed_rpm);
        match self {
            _ if high_mm - low_mm <= 0.0 => STANDING_S,
            Self::Slow => 24.0,
            Self::Usual => 8.0,
            Self::Quick => 3.0,
            Self::AsCut if as_cut_s.is_finite() => as_cut_s,
            Self::AsCut => STANDING_S,
        }
    }
}

/// The cut as it is played, or not; kept with the view.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Play {
    pub pace: Pace,
    under_way: Option<UnderWay>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct UnderWay {
    of: (SetupId, PassId),
    /// How much of the pass is done, and where that put the tool.
    done_ratio: f64,
    tool_z_mm: f64,
    /// The clock at the last frame.
    last_s: Option<f64>,
    /// What was looked at, and where the tool stood, before it was played.
    before: (Option<PassId>, f64),
}

impl Play {
    /// True while the tool travels.
    #[must_use]
    pub fn is_playing(&self) -> bool {
        self.under_way.is_some()
    }

    /// The tool stays where it is.
    pub fn pause(&mut self) {
        self.under_way = None;
    }
}

/// Where a share of a pass is done.
fn place_mm(pass: &Pass, done_ratio: f64) -> f64 {
    pass.from_z_mm + done_ratio * (pass.to_z_mm - pass.from_z_mm)
}

/// How much of a pass is done with the tool at a place; what has no length is never begun.
fn done_ratio(pass: &Pass, tool_z_mm: f64) -> f64 {
    let way_mm = pass.to_z_mm - pass.from_z_mm;
    if way_mm == 0.0 { 0.0 } else { ((tool_z_mm - pass.from_z_mm) / way_mm).clamp(0.0, 1.0) }
}

/// The pass looked at and its place in its set-up.
fn looked_at<'a>(job: &'a Job, view: &View) -> Option<(&'a Setup, usize)> {
    let setup = job.setup(view.setup)?;
    let index = setup.passes.iter().position(|pass| Some(pass.id) == view.pass)?;
    Some((setup, index))
}

/// Looks at a pass with the tool where so much of it is done.
fn look_at(view: &mut View, pass: &Pass, done_ratio: f64) {
    if matches!(view.selected, Selected::Pass(_)) {
        view.selected = Selected::Pass(pass.id);
    }
    view.pass = Some(pass.id);
    view.tool_z_mm = place_mm(pass, done_ratio);
}

/// Plays from where the tool stands, from the next pass at the end of one, and from the first at the end of the last; or
/// stays where it is. False where there is no pass.
pub fn play_or_pause(job: &Job, view: &mut View) -> bool {
    if view.play.is_playing() {
        view.play.pause();
        return true;
    }
    let before = (view.pass, view.tool_z_mm);
    let Some(setup) = job.setup(view.setup) else { return false };
    let index = looked_at(job, view).map(|(_, index)| index);
    let at_end = index.is_none_or(|index| done_ratio(&setup.passes[index], view.tool_z_mm) >= 1.0);
    let from = if at_end { index.map_or(0, |index| (index + 1) % setup.passes.len()) } else { index.unwrap_or(0) };
    let Some(pass) = setup.passes.get(from) else { return false };
    let done = if at_end { 0.0 } else { done_ratio(pass, view.tool_z_mm) };
    look_at(view, pass, done);
    view.play.under_way =
        Some(UnderWay { of: (setup.id, pass.id), done_ratio: done, tool_z_mm: view.tool_z_mm, last_s: None, before });
    true
}

/// Moves the tool on as far as the clock says; true where it is to go on in the next frame.
pub fn play_on(job: &Job, view: &mut View, now_s: f64) -> bool {
    let Some(mut now) = view.play.under_way else { return false };
    let is_ours = (view.setup, view.pass) == (now.of.0, Some(now.of.1)) && view.tool_z_mm == now.tool_z_mm;
    view.play.pause();
    let Some((setup, index)) = looked_at(job, view).filter(|_| is_ours) else { return false };
    let pass = &setup.passes[index];
    let frame_s = now.last_s.map_or(0.0, |last_s| (now_s - last_s).clamp(0.0, LONGEST_FRAME_S));
    now.last_s = Some(now_s);
    now.done_ratio += frame_s / view.play.pace.pass_s(pass);
    if now.done_ratio < 1.0 {
        look_at(view, pass, now.done_ratio);
    } else if let Some(next) = setup.passes.get(index + 1) {
        look_at(view, next, 0.0);
        (now.of.1, now.done_ratio) = (next.id, 0.0);
    } else {
        look_at(view, pass, 1.0);
        return false;
    }
    now.tool_z_mm = view.tool_z_mm;
    view.play.under_way = Some(now);
    true
}

/// Ends the playing: what was looked at before is looked at again.
pub fn give_up(job: &Job, view: &mut View) {
    let Some(UnderWay { before: (pass, tool_z_mm), .. }) = view.play.under_way else { return };
    view.play.pause();
    match pass {
        None => view.pass = None,
        Some(id) => {
            if let Some(pass) = job.setup(view.setup).and_then(|setup| setup.pass(id)) {
                look_at(view, pass, 0.0);
                view.tool_z_mm = tool_z_mm;
            }
        }
    }
}

/// Takes the tool a step along its way or back, over the ends of passes.
pub fn step(job: &Job, view: &mut View, onward: bool) {
    view.play.pause();
    let Some((setup, index)) = looked_at(job, view) else {
        if let Some(first) = job.setup(view.setup).and_then(|setup| setup.passes.first()).filter(|_| onward) {
            look_at(view, first, 0.0);
        }
        return;
    };
    let pass = &setup.passes[index];
    let done = done_ratio(pass, view.tool_z_mm);
    let has_length = pass.from_z_mm != pass.to_z_mm;
    if has_length && (if onward { done < 1.0 } else { done > 0.0 }) {
        let steps = done * N_STEPS;
        let steps = if onward { (steps + 1e-6).floor() + 1.0 } else { (steps - 1e-6).ceil() - 1.0 };
        look_at(view, pass, (steps / N_STEPS).clamp(0.0, 1.0));
    } else if onward && index + 1 < setup.passes.len() {
        look_at(view, &setup.passes[index + 1], 0.0);
    } else if !onward && index > 0 {
        look_at(view, &setup.passes[index - 1], 1.0);
    }
}

/// The button that plays, and the slider that is the tool's place along the pass.
pub fn play_ui(ui: &mut Ui, job: &Job, setup: &Setup, view: &mut View, out: &mut Commands) {
    let words = if view.play.is_playing() { "\u{23f8} Pause" } else { "\u{25b6} Play" };
    let button = ui.add_enabled(!setup.passes.is_empty(), Button::new(words).min_size(vec2(84.0, 0.0)));
    let keys = keys_text(ui.ctx(), Action::Play).unwrap_or_default();
    let hint = format!("The tool travels the pass and goes on to the next ({keys})");
    if button.on_hover_text(hint).on_disabled_hover_text("There is no pass in this set-up yet").clicked() {
        out.actions.push(Action::Play);
    }
    let found = looked_at(job, view).map(|(setup, index)| (index, &setup.passes[index]));
    let (low_mm, high_mm) = found.map_or((0.0, 0.0), |(_, pass)| pass.span_mm());
    let mut z_mm = view.tool_z_mm.clamp(low_mm, high_mm);
    let [wide, narrow] = SLIDER_WIDTHS;
    ui.spacing_mut().slider_width = if ui.ctx().content_rect().width() < ROOMY_WIDTH { narrow } else { wide };
    let slider = Slider::new(&mut z_mm, low_mm..=high_mm).show_value(false).step_by(step_mm(job.units));
    let slider = slider.clamping(SliderClamping::Edits);
    let slider = ui.add_enabled(high_mm > low_mm, slider);
    slider.widget_info(|| WidgetInfo::slider(high_mm > low_mm, z_mm, "Place of the tool"));
    let told = found.map_or("no pass".to_owned(), |(index, pass)| {
        format!("{}: {} from the jaw face", pass_name(job, index, pass), show(z_mm, Kind::Length, job.units))
    });
    ui.ctx().accesskit_node_builder(slider.id, |node| node.set_value(told.clone()));
    if slider.changed() {
        view.tool_z_mm = z_mm;
    }
    slider.on_hover_text(told);
    ui.separator();
}
