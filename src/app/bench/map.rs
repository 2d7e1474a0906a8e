//! From millimetres on the bed to points on the screen and back; one scale for both directions.

use std::ops::RangeInclusive;

use egui::{Pos2, Rangef, Rect, pos2};

use crate::picture::{Bounds, Point};

/// Room left of the picture where no plot has told where its frame stands, in points.
pub const LEFT_GUTTER: f32 = 56.0;

/// Where the picture lies on the screen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Map {
    /// The canvas, in points.
    pub rect: Rect,
    /// Where `left_mm` and the far end of the stretch lie across the screen.
    pub x_range: Rangef,
    /// What lies at the left of `x_range`.
    pub left_mm: f64,
    /// What lies on the canvas's middle line.
    pub centre_up_mm: f64,
    pub px_per_mm: f64,
}

impl Map {
    /// The bench over the plots' range, or over the canvas less a gutter.
    #[must_use]
    pub fn of(rect: Rect, plot_x_range: Option<Rangef>, z_view_mm: &RangeInclusive<f64>, y_centre_mm: f64) -> Self {
        let own = Rangef::new((rect.left() + LEFT_GUTTER).min(rect.right() - 1.0), rect.right());
        let x_range = plot_x_range.filter(|range| range.span() > 8.0).unwrap_or(own);
        let length_mm = (z_view_mm.end() - z_view_mm.start()).max(1e-3);
        Self {
            rect,
            x_range,
            left_mm: *z_view_mm.start(),
            centre_up_mm: y_centre_mm,
            px_per_mm: f64::from(x_range.span().max(1.0)) / length_mm,
        }
    }

    /// A picture fitted whole into a rectangle.
    #[must_use]
    pub fn fitting(rect: Rect, bounds: Bounds) -> Self {
        let (width_mm, height_mm) =
            ((bounds.right_mm - bounds.left_mm).max(1e-6), (bounds.top_mm - bounds.bottom_mm).max(1e-6));
        let px_per_mm =
            (f64::from(rect.width().max(1.0)) / width_mm).min(f64::from(rect.height().max(1.0)) / height_mm);
        let spare_mm = f64::from(rect.width().max(1.0)) / px_per_mm - width_mm;
        Self {
            rect,
            x_range: rect.x_range(),
            left_mm: bounds.left_mm - 0.5 * spare_mm,
            centre_up_mm: f64::midpoint(bounds.bottom_mm, bounds.top_mm),
            px_per_mm,
        }
    }

    /// A place along the bed, across the screen.
    #[must_use]
    pub fn x(&self, z_mm: f64) -> f32 {
        (f64::from(self.x_range.min) + (z_mm - self.left_mm) * self.px_per_mm) as f32
    }

    /// A height, down the screen.
    #[must_use]
    pub fn y(&self, up_mm: f64) -> f32 {
        (f64::from(self.rect.center().y) - (up_mm - self.centre_up_mm) * self.px_per_mm) as f32
    }

    /// A point of the picture on the screen.
    #[must_use]
    pub fn pos(&self, point: Point) -> Pos2 {
        pos2(self.x(point.right_mm), self.y(point.up_mm))
    }

    /// The place along the bed under a point across the screen.
    #[must_use]
    pub fn z_mm(&self, x: f32) -> f64 {
        self.left_mm + f64::from(x - self.x_range.min) / self.px_per_mm
    }

    /// The height under a point down the screen.
    #[must_use]
    pub fn up_mm(&self, y: f32) -> f64 {
        self.centre_up_mm - f64::from(y - self.rect.center().y) / self.px_per_mm
    }

    /// A rectangle of the picture on the screen.
    #[must_use]
    pub fn rect_of(&self, left_mm: f64, right_mm: f64, bottom_mm: f64, top_mm: f64) -> Rect {
        Rect::from_two_pos(pos2(self.x(left_mm), self.y(top_mm)), pos2(self.x(right_mm), self.y(bottom_mm)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_comes_back_from_the_screen() {
        let rect = Rect::from_min_max(pos2(10.0, 20.0), pos2(810.0, 320.0));
        let map = Map::of(rect, Some(Rangef::new(70.0, 790.0)), &(-100.0..=1340.0), -30.0);
        assert!((map.z_mm(map.x(412.0)) - 412.0).abs() < 1e-3);
        assert!((map.up_mm(map.y(55.0)) - 55.0).abs() < 1e-3);
        assert!((map.x(-100.0) - 70.0).abs() < 1e-4 && (map.x(1340.0) - 790.0).abs() < 1e-4);
    }
}
