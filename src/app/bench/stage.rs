//! What all parts of the bench share in one frame: where things are drawn, what is under the pointer or dragged, and
//! what is to be painted over the picture.

use egui::{Color32, Id, Rect, Shape, Ui};

use super::handle::{Handle, Handled, Way};
use super::labels::Word;
use super::map::Map;
use super::snap::Landmark;
use crate::app::{Commands, Palette, Results, Selected, View};
use crate::job::quantity::{Kind, show};
use crate::job::{Job, Setup, Units};
use crate::picture::Part;
use crate::picture::profile::Profile;
use crate::picture::proportions::Proportions;
use crate::study;

/// Words beside a dragged thing.
#[derive(Clone, Debug, PartialEq)]
pub struct Readout {
    pub z_mm: f64,
    pub lines: Vec<String>,
    /// What it has snapped to.
    pub landmark: Option<Landmark>,
}

/// One frame of the bench.
pub struct Stage<'a> {
    pub ui: &'a Ui,
    pub map: Map,
    pub job: &'a Job,
    pub setup: &'a Setup,
    pub sizes: Proportions,
    pub now: &'a Profile,
    pub bent: Option<&'a study::Shape>,
    pub results: &'a Results,
    pub palette: &'a Palette,
    pub view: &'a mut View,
    pub out: &'a mut Commands,
    /// Parts under the pointer or dragged.
    pub hovered: Vec<Part>,
    /// Painted over the picture, under its words.
    pub marks: Vec<Shape>,
    /// Labels of the picture keep off these.
    pub reserved: Vec<Rect>,
    /// Placed among the words of the picture.
    pub remarks: Vec<Word>,
    pub readout: Option<Readout>,
}

impl Stage<'_> {
    /// An id that lasts as long as its thing.
    #[must_use]
    pub fn id(&self, what: impl std::hash::Hash + std::fmt::Debug + Send + Sync + 'static) -> Id {
        Id::unique(("bench", what))
    }

    /// Units of the job.
    #[must_use]
    pub fn units(&self) -> Units {
        self.job.units
    }

    /// A length as it is read.
    #[must_use]
    pub fn length(&self, value_mm: f64) -> String {
        show(value_mm, Kind::Length, self.job.units)
    }

    /// Shows a handle, selects what is grasped, and notes what is to be painted for it.
    pub fn handle(&mut self, handle: &Handle, selected: Selected, part: Option<Part>) -> Handled {
        self.handle_way(handle, Way::Along, selected, part)
    }

    /// The same for a handle that is moved this way.
    pub fn handle_way(&mut self, handle: &Handle, way: Way, selected: Selected, part: Option<Part>) -> Handled {
        let handled = handle.show(self.ui, way, &self.map, self.job.units, self.out);
        let response = &handled.response;
        if response.clicked() || response.drag_started() || response.secondary_clicked() {
            self.view.selected = selected;
        }
        if (response.hovered() || handled.dragging)
            && let Some(part) = part
        {
            self.hovered.push(part);
        }
        let place_mm = |value_mm: f64| if let Way::Up { z_mm, .. } = way { z_mm } else { value_mm };
        if response.gained_focus() && !handled.dragging {
            self.bring_into_view(place_mm(handle.z_mm));
        }
        if handled.dragging {
            self.view.has_dragged |= handled.moved_to_mm.is_some();
            let value_mm = handled.moved_to_mm.unwrap_or(handle.z_mm);
            let lines = vec![(handle.words)(value_mm)];
            self.readout = Some(Readout { z_mm: place_mm(value_mm), lines, landmark: handled.landmark });
        }
        handled
    }

    /// Pans so far that a place reached by Tab is seen.
    fn bring_into_view(&mut self, z_mm: f64) {
        let (start, end) = (*self.view.z_view_mm.start(), *self.view.z_view_mm.end());
        if (start..=end).contains(&z_mm) {
            return;
        }
        let half = 0.5 * (end - start);
        self.view.z_view_mm = z_mm - half..=z_mm + half;
        self.ui.ctx().request_discard("what has the keyboard was out of sight");
    }

    /// The colour in which a part stands out, if it does.
    #[must_use]
    pub fn emphasis(&self, part: Part) -> Option<Color32> {
        let is_selected = match (self.view.selected, part) {
            (Selected::Rest(id), Part::Rest(of)) => id == of,
            (Selected::Drive, Part::Drive)
            | (Selected::Tail, Part::Tail)
            | (Selected::Tool, Part::Tool)
            | (Selected::Follower, Part::Follower) => true,
            _ => false,
        };
        if is_selected {
            Some(self.palette.selected)
        } else if self.hovered.contains(&part) {
            Some(self.palette.selected.gamma_multiply(0.75))
        } else {
            None
        }
    }
}
