//! A broken line as one item of a plot: a line for every dash would cost more than all else in the frame once several
//! arrangements are pinned.

use std::ops::RangeInclusive;

use egui::{Color32, Shape, Ui};
use egui_plot::{PlotBounds, PlotGeometry, PlotItem, PlotItemBase, PlotPoint, PlotTransform};

/// Its dashes, each through some points.
pub struct Broken {
    base: PlotItemBase,
    dashes: Vec<Vec<[f64; 2]>>,
    stroke: egui::Stroke,
}

impl Broken {
    /// A line of these dashes.
    pub fn new(name: &str, dashes: Vec<Vec<[f64; 2]>>, width: f32, colour: Color32) -> Self {
        Self { base: PlotItemBase::new(name.to_owned()), dashes, stroke: egui::Stroke::new(width, colour) }
    }
}

impl PlotItem for Broken {
    fn shapes(&self, _ui: &Ui, transform: &PlotTransform, shapes: &mut Vec<Shape>) {
        let place = |at: &[f64; 2]| transform.position_from_point(&PlotPoint::new(at[0], at[1]));
        shapes.extend(self.dashes.iter().map(|dash| match dash[..] {
            [from, to] => Shape::line_segment([place(&from), place(&to)], self.stroke),
            _ => Shape::line(dash.iter().map(place).collect(), self.stroke),
        }));
    }

    fn initialize(&mut self, _x_range: RangeInclusive<f64>) {}

    fn color(&self) -> Color32 {
        self.stroke.color
    }

    fn allow_hover(&self) -> bool {
        false
    }

    fn geometry(&self) -> PlotGeometry<'_> {
        PlotGeometry::None
    }

    /// The plots have their own limits, whatever is in them.
    fn bounds(&self) -> PlotBounds {
        PlotBounds::NOTHING
    }

    fn base(&self) -> &PlotItemBase {
        &self.base
    }

    fn base_mut(&mut self) -> &mut PlotItemBase {
        &mut self.base
    }
}
