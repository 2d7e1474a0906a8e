//! The few shapes the drawings are made of: lines, rectangles, circles, arrows, and words.
//!
//! A circle is four cubic curves with the usual control length (4/3)(sqrt 2 - 1) r, out of round by 0.03 % of r.

use super::{Align, Fill, Group, Item, Line, Part, Path, Point, Role, Segment, Stand, Text, TextSize, at};

/// Control length of a quarter circle of radius 1.
const QUARTER: f64 = 0.552_284_749_830_793_4;

impl Path {
    /// A line through points; nothing is drawn through fewer than two.
    #[must_use]
    pub fn through(points: impl IntoIterator<Item = Point>, role: Role) -> Self {
        let mut points = points.into_iter();
        let start = points.next().unwrap_or(at(0.0, 0.0));
        Self {
            start,
            segments: points.map(Segment::Line).collect(),
            closed: false,
            role,
            line: Some(Line::Thin),
            fill: Fill::None,
        }
    }

    /// A straight line.
    #[must_use]
    pub fn segment(from: Point, to: Point, role: Role) -> Self {
        Self::through([from, to], role)
    }

    /// A closed outline through points.
    #[must_use]
    pub fn outline(points: impl IntoIterator<Item = Point>, role: Role) -> Self {
        Self { closed: true, ..Self::through(points, role) }
    }

    /// An upright rectangle between two corners.
    #[must_use]
    pub fn rect(one: Point, other: Point, role: Role) -> Self {
        Self::outline([one, at(other.right_mm, one.up_mm), other, at(one.right_mm, other.up_mm)], role)
    }

    /// An upright rectangle with round corners; the radius is kept within half the shorter side.
    #[must_use]
    pub fn rounded(one: Point, other: Point, radius_mm: f64, role: Role) -> Self {
        let (left, right) = (one.right_mm.min(other.right_mm), one.right_mm.max(other.right_mm));
        let (low, high) = (one.up_mm.min(other.up_mm), one.up_mm.max(other.up_mm));
        let r = radius_mm.min((right - left) / 2.0).min((high - low) / 2.0).max(0.0);
        let c = r * (1.0 - QUARTER);
        let segments = vec![
            Segment::Line(at(right - r, low)),
            Segment::Curve(at(right - c, low), at(right, low + c), at(right, low + r)),
            Segment::Line(at(right, high - r)),
            Segment::Curve(at(right, high - c), at(right - c, high), at(right - r, high)),
            Segment::Line(at(left + r, high)),
            Segment::Curve(at(left + c, high), at(left, high - c), at(left, high - r)),
            Segment::Line(at(left, low + r)),
            Segment::Curve(at(left, low + c), at(left + c, low), at(left + r, low)),
        ];
        Self { start: at(left + r, low), segments, closed: true, role, line: Some(Line::Thin), fill: Fill::None }
    }

    /// A circle.
    #[must_use]
    pub fn circle(centre: Point, radius_mm: f64, role: Role) -> Self {
        let (x, y, r) = (centre.right_mm, centre.up_mm, radius_mm);
        let k = r * QUARTER;
        let segments = vec![
            Segment::Curve(at(x + r, y + k), at(x + k, y + r), at(x, y + r)),
            Segment::Curve(at(x - k, y + r), at(x - r, y + k), at(x - r, y)),
            Segment::Curve(at(x - r, y - k), at(x - k, y - r), at(x, y - r)),
            Segment::Curve(at(x + k, y - r), at(x + r, y - k), at(x + r, y)),
        ];
        Self { start: at(x + r, y), segments, closed: true, role, line: Some(Line::Thin), fill: Fill::None }
    }

    /// The same with another line, or none.
    #[must_use]
    pub fn lined(mut self, line: impl Into<Option<Line>>) -> Self {
        self.line = line.into();
        self
    }

    /// The same, filled.
    #[must_use]
    pub fn filled(mut self, fill: Fill) -> Self {
        self.fill = fill;
        self
    }
}

impl Item {
    /// The same drawn `times` as large about (0, 0), which comes to lie at `to`. Words keep their size.
    #[must_use]
    pub fn placed(mut self, times: f64, to: Point) -> Self {
        let place = |p: &mut Point| *p = at(to.right_mm + times * p.right_mm, to.up_mm + times * p.up_mm);
        match &mut self {
            Self::Path(path) => {
                place(&mut path.start);
                for segment in &mut path.segments {
                    match segment {
                        Segment::Line(end) => place(end),
                        Segment::Curve(a, b, end) => [a, b, end].into_iter().for_each(place),
                    }
                }
            }
            Self::Text(text) => {
                place(&mut text.anchor);
                text.room_mm = text.room_mm.map(|room_mm| times * room_mm);
            }
            Self::Group(group) => {
                let items = std::mem::take(&mut group.items);
                group.items = items.into_iter().map(|item| item.placed(times, to)).collect();
            }
        }
        self
    }
}

impl From<Path> for Item {
    fn from(path: Path) -> Self {
        Self::Path(path)
    }
}

impl From<Text> for Item {
    fn from(text: Text) -> Self {
        Self::Text(text)
    }
}

/// Items under one name.
#[must_use]
pub fn group(part: Part, items: Vec<Item>) -> Item {
    Item::Group(Group { part, items })
}

/// Words that stay where they are put.
#[must_use]
pub fn words(anchor: Point, align: Align, stand: Stand, size: TextSize, role: Role, text: impl Into<String>) -> Text {
    Text { anchor, align, stand, size, role, text: text.into(), shorter: Vec::new(), room_mm: None, gives_way: false }
}

/// An arrow from one point to another with a filled head.
#[must_use]
pub fn arrow(from: Point, to: Point, head_mm: f64, role: Role) -> Vec<Item> {
    let (dx, dy) = (to.right_mm - from.right_mm, to.up_mm - from.up_mm);
    let length = dx.hypot(dy);
    if length <= f64::EPSILON {
        return Vec::new();
    }
    let head = head_mm.min(length);
    let (ux, uy) = (dx / length, dy / length);
    let neck = at(to.right_mm - head * ux, to.up_mm - head * uy);
    let half = 0.32 * head;
    let wing = |side: f64| at(neck.right_mm - side * half * uy, neck.up_mm + side * half * ux);
    vec![
        Path::segment(from, neck, role).lined(Line::Thick).into(),
        Path::outline([to, wing(1.0), wing(-1.0)], role).lined(None).filled(Fill::Solid).into(),
    ]
}
