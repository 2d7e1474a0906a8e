//! A thing on the bench that can be moved along the bed, or up and down: a real widget, reached by Tab, moved by drag,
//! arrows and assistive technology, named and valued in words.
//!
//! Drags are absolute: the place is where it was at the press plus the pointer's whole way since, so nothing drifts,
//! the travel before egui calls it a drag is not lost, and a panel that changes its width meanwhile moves nothing.

use std::ops::RangeInclusive;

use egui::accesskit::{Action as Asked, ActionData};
use egui::{Context, CursorIcon, Event, EventFilter, Id, Key, Pos2, Rect, Response, Sense, Ui, Vec2, WidgetInfo};

use super::bands::{PAST_POINTS, stop_mm};
use super::map::Map;
use super::snap::{self, Landmark, snapped};
use crate::app::{Action, Commands};
use crate::job::Units;
use crate::study::reach::Stretch;

/// Smallest side of what can be grasped, in points.
pub const GRASP: f32 = 32.0;

/// Which way a handle is moved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Way {
    Along,
    /// A diameter, drawn at this place along the bed; so many points of the pointer's way are a millimetre of it.
    Up {
        z_mm: f64,
        points_per_mm: f64,
    },
}

impl Way {
    /// One step of the arrow keys and of the grid.
    #[must_use]
    pub const fn step_mm(self, units: Units) -> f64 {
        match self {
            Self::Along => snap::step_mm(units),
            Self::Up { .. } => snap::diameter_step_mm(units),
        }
    }

    const fn cursor(self) -> CursorIcon {
        match self {
            Self::Along => CursorIcon::ResizeHorizontal,
            Self::Up { .. } => CursorIcon::ResizeVertical,
        }
    }

    /// The arrows for more and for less.
    const fn arrows(self) -> (Key, Key) {
        match self {
            Self::Along => (Key::ArrowRight, Key::ArrowLeft),
            Self::Up { .. } => (Key::ArrowUp, Key::ArrowDown),
        }
    }

    /// Where the pointer wants what was at `start_mm`, on the grid.
    fn target(self, start_mm: f64, moved: Vec2, free: bool, handle: &Handle, map: &Map, units: Units) -> snap::Snapped {
        match self {
            Self::Along => {
                let target = start_mm + f64::from(moved.x) / map.px_per_mm;
                snapped(target, handle.origin_mm, units, handle.landmarks, map.px_per_mm, free)
            }
            Self::Up { points_per_mm, .. } => {
                let target = start_mm - f64::from(moved.y) / points_per_mm;
                snap::Snapped { z_mm: snap::snapped_diameter_mm(target, units, free), landmark: None }
            }
        }
    }
}

/// What can be moved.
pub struct Handle<'a> {
    /// Stays the same while others come and go.
    pub id: Id,
    /// Where it can be grasped; the first is the widget, the others belong to it.
    pub grips: Vec<Rect>,
    /// "Rest 1".
    pub name: String,
    /// Where it is along the bed, or what its diameter is.
    pub z_mm: f64,
    /// Where it may go.
    pub range_mm: RangeInclusive<f64>,
    /// Whole units are counted from here.
    pub origin_mm: f64,
    pub landmarks: &'a [Landmark],
    /// Where it may stand: a move stops at the edge of one. None stop it where there are none.
    pub bands: &'a [Stretch],
    /// Its place in words, as the readout and assistive technology say it.
    pub words: &'a dyn Fn(f64) -> String,
    /// It is selected: arrow keys move it while no widget has the keyboard.
    pub selected: bool,
}

/// What was done to it in this frame.
pub struct Handled {
    pub response: Response,
    /// Its new place, if it was moved.
    pub moved_to_mm: Option<f64>,
    pub dragging: bool,
    /// Where it has just snapped to.
    pub landmark: Option<Landmark>,
    /// Where a band's edge has stopped it, and where it was to go.
    pub stopped_mm: Option<(f64, f64)>,
}

/// The grasp of the drag under way.
#[derive(Clone, Copy, Debug)]
struct Grasp {
    handle: Id,
    /// Where the thing was, and where the pointer was on the screen, at the press.
    start_mm: f64,
    from: Pos2,
}

fn grasp_key() -> Id {
    Id::unique("bench grasp")
}

/// A thing on the bench has the keyboard.
#[must_use]
pub fn is_on_bench(ctx: &Context, focused: Id) -> bool {
    ctx.data(|data| data.get_temp(keyboard_key())) == Some(focused)
}

fn keyboard_key() -> Id {
    Id::unique("bench handle with the keyboard")
}

/// Grows a rectangle about its middle to a size that can be grasped.
#[must_use]
pub fn graspable(rect: Rect) -> Rect {
    Rect::from_center_size(rect.center(), rect.size().max(Vec2::splat(GRASP)))
}

impl Handle<'_> {
    /// Puts the handle on the bench and takes what the user does to it.
    pub fn show(&self, ui: &Ui, way: Way, map: &Map, units: Units, out: &mut Commands) -> Handled {
        let mut grips = self.grips.iter().map(|grip| grip.intersect(map.rect));
        let first = grips.next().unwrap_or(Rect::NOTHING);
        let mut response = ui.interact(first, self.id, Sense::click_and_drag());
        for (index, grip) in grips.enumerate() {
            response |= ui.interact(grip, self.id.with(index), Sense::CLICK | Sense::DRAG);
        }
        let mut response = response.on_hover_and_drag_cursor(way.cursor());
        let (dragged_to, landmark, dragging) = self.dragged(ui, way, &response, map, units, out);
        let mut stopped_mm = None;
        let dragged_to = dragged_to.map(|wanted_mm| {
            let stop_mm = stop_mm(self.bands, self.z_mm, wanted_mm, way.step_mm(units))
                .filter(|stop_mm| (wanted_mm - stop_mm).abs() * map.px_per_mm < PAST_POINTS);
            stopped_mm = stop_mm.map(|stop_mm| (stop_mm, wanted_mm));
            stop_mm.unwrap_or(wanted_mm)
        });
        let keyed_to = self.keyed(ui, way, &response, units, out).map(|(wanted_mm, afresh)| {
            // At the edge already, a key pressed afresh is meant.
            let stop_mm = stop_mm(self.bands, self.z_mm, wanted_mm, way.step_mm(units))
                .filter(|stop_mm| !(afresh && (stop_mm - self.z_mm).abs() < 1e-9));
            stopped_mm = stopped_mm.or(stop_mm.map(|stop_mm| (stop_mm, wanted_mm)));
            stop_mm.unwrap_or(wanted_mm)
        });
        let moved = dragged_to.or(keyed_to).or_else(|| self.asked(ui, way.step_mm(units)));
        let moved_to_mm = moved
            .map(|z_mm| z_mm.clamp(*self.range_mm.start(), self.range_mm.end().max(*self.range_mm.start())))
            .filter(|z_mm| (z_mm - self.z_mm).abs() > 1e-9);
        if moved_to_mm.is_some() {
            response.mark_changed();
        }
        self.describe(ui, &response, moved_to_mm.unwrap_or(self.z_mm), way.step_mm(units));
        Handled { response, moved_to_mm, dragging, landmark, stopped_mm }
    }

    fn dragged(
        &self,
        ui: &Ui,
        way: Way,
        response: &Response,
        map: &Map,
        units: Units,
        out: &mut Commands,
    ) -> (Option<f64>, Option<Landmark>, bool) {
        let held: Option<Grasp> = ui.data(|data| data.get_temp(grasp_key()));
        let held = held.filter(|grasp| grasp.handle == self.id);
        if !response.dragged() {
            if let Some(grasp) = held {
                ui.data_mut(|data| data.remove::<Grasp>(grasp_key()));
                if ui.input(|input| input.key_pressed(Key::Escape)) {
                    out.actions.push(Action::CancelGesture);
                    return (Some(grasp.start_mm), None, false);
                }
            }
            if response.clicked() {
                response.request_focus();
            }
            return (None, None, false);
        }
        out.gesture_open = true;
        let (origin, pointer, modifiers) =
            ui.input(|input| (input.pointer.press_origin(), input.pointer.latest_pos(), input.modifiers));
        let Some(pointer) = pointer else { return (None, None, true) };
        let grasp = held.unwrap_or_else(|| {
            let from = origin.unwrap_or(pointer);
            response.request_focus();
            let grasp = Grasp { handle: self.id, start_mm: self.z_mm, from };
            ui.data_mut(|data| data.insert_temp(grasp_key(), grasp));
            grasp
        });
        let free = modifiers.alt || modifiers.shift;
        let place = way.target(grasp.start_mm, pointer - grasp.from, free, self, map, units);
        let landmark = place.landmark.filter(|landmark| self.range_mm.contains(&landmark.z_mm));
        (Some(place.z_mm), landmark, true)
    }

    /// Where the arrow keys want it, and whether one was pressed afresh, not held.
    fn keyed(&self, ui: &Ui, way: Way, response: &Response, units: Units, out: &mut Commands) -> Option<(f64, bool)> {
        let (more, less) = way.arrows();
        let focused = response.has_focus();
        if focused {
            ui.data_mut(|data| data.insert_temp(keyboard_key(), self.id));
            let along = way == Way::Along;
            let filter = EventFilter { horizontal_arrows: along, vertical_arrows: !along, ..EventFilter::default() };
            ui.memory_mut(|memory| memory.set_focus_lock_filter(self.id, filter));
        } else if !self.selected || ui.memory(|memory| memory.focused().is_some()) {
            return None;
        }
        let (steps, afresh, held) = ui.input(|input| {
            let (mut steps, mut afresh) = (0, false);
            for event in &input.events {
                let Event::Key { key, pressed: true, repeat, modifiers, .. } = event else { continue };
                let size = if modifiers.shift { 10 } else { 1 };
                let by = match key {
                    key if *key == more => size,
                    key if *key == less => -size,
                    _ => continue,
                };
                steps += by;
                afresh |= !repeat;
            }
            (steps, afresh, input.key_down(more) || input.key_down(less))
        });
        // One hold of a key is one step of undo.
        out.gesture_open |= held;
        (steps != 0).then(|| (self.z_mm + f64::from(steps) * way.step_mm(units), afresh))
    }

    fn asked(&self, ui: &Ui, step_mm: f64) -> Option<f64> {
        let (steps, typed) = ui.input(|input| {
            let steps = input.num_accesskit_action_requests(self.id, Asked::Increment) as f64
                - input.num_accesskit_action_requests(self.id, Asked::Decrement) as f64;
            let typed =
                input.accesskit_action_requests(self.id, Asked::SetValue).find_map(|request| match request.data {
                    Some(ActionData::NumericValue(z_mm)) if z_mm.is_finite() => Some(z_mm),
                    _ => None,
                });
            (steps, typed)
        });
        typed.or_else(|| (steps != 0.0).then_some(self.z_mm + steps * step_mm))
    }

    fn describe(&self, ui: &Ui, response: &Response, z_mm: f64, step_mm: f64) {
        let name = &self.name;
        response.widget_info(|| WidgetInfo::slider(true, z_mm, name));
        let (low, high) = (*self.range_mm.start(), *self.range_mm.end());
        ui.ctx().accesskit_node_builder(self.id, |node| {
            node.set_min_numeric_value(low);
            node.set_max_numeric_value(high);
            node.set_numeric_value_step(step_mm);
            node.set_value((self.words)(z_mm));
            node.add_action(Asked::Increment);
            node.add_action(Asked::Decrement);
            node.add_action(Asked::SetValue);
        });
    }
}
