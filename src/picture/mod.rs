//! A picture as plain data in mm: paths, texts and groups, styled by role. Screen, SVG and PDF painters walk the same
//! data, so that they cannot differ.
//!
//! Points are (right, up) in mm. A bench picture is the front view in the job's frame (right = z, up = y); an end view
//! looks from the tailstock to the headstock (right = x, the rear). Painters flip y themselves. Line kinds follow the
//! drawing standard ISO 128: thick outline, thin, dashed for hidden, chain for axes.

pub mod bench;
pub mod carriage;
pub mod centres;
pub mod end_view;
pub mod headstock;
pub mod lettering;
pub mod one_turn;
pub mod pdf;
pub mod png;
pub mod print;
pub mod profile;
pub mod proportions;
pub mod rest;
pub mod shapes;
pub mod spans;
pub mod spring;
pub mod svg;
pub mod tailstock;
pub mod why_sketch;
pub mod work;

use crate::job::RestId;

/// A place on the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// To the right.
    pub right_mm: f64,
    /// Upwards.
    pub up_mm: f64,
}

/// A point from its two numbers.
#[must_use]
pub const fn at(right_mm: f64, up_mm: f64) -> Point {
    Point { right_mm, up_mm }
}

/// One piece of an outline, from where the last one ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Segment {
    Line(Point),
    /// Cubic curve: two control points and the end.
    Curve(Point, Point, Point),
}

/// What a thing is; painters choose its colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Role {
    /// The bed and what stands still.
    BedLine,
    /// Cast bodies: headstock, saddle, tailstock.
    Casting,
    /// Chuck, collet, face plate and drive plate.
    Chuck,
    ChuckJaw,
    Dog,
    /// The work as it is.
    Steel,
    /// What this pass will still take off.
    SteelToCut,
    /// Cut in this pass.
    Fresh,
    /// Bar that sticks out behind the spindle.
    BarTail,
    /// The finished part.
    Wanted,
    /// Thread, keyway and the like.
    Feature,
    /// A true bearing spot.
    TrueSpot,
    Bore,
    CentreLine,
    Rest,
    RestJaw,
    JawLifted,
    Sleeve,
    Follower,
    Tool,
    ToolPost,
    Carriage,
    Tailstock,
    Quill,
    Centre,
    /// Spring of the work away from or toward the operator.
    SpringAway,
    /// Spring of the work up or down.
    SpringUp,
    /// What turns with the work.
    RunOut,
    /// A force.
    Force,
    /// What friction drags with.
    Drag,
    /// An arrangement kept for comparison.
    Ghost,
    Dimension,
    /// A computed curve on paper.
    Curve,
    /// Between what a curve may lie.
    MayLie,
    /// What the drawing allows.
    Allowed,
    /// A bar of what is cut where: cut now, and cut before.
    CutNow,
    CutBefore,
    /// What the drawing wants cut and nobody cuts.
    NotCut,
    /// Lines of tables and boxes.
    Rule,
    /// Lines behind a curve.
    Grid,
    /// Words.
    Text,
    /// Words of less weight.
    Faint,
}

/// Line kinds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Line {
    /// Visible outline.
    Thick,
    /// Dimension lines, less important outlines.
    Thin,
    /// Hidden edges.
    Dashed,
    /// Axes.
    Chain,
}

/// How an outline is filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fill {
    None,
    /// The full colour of the role.
    Solid,
    /// A tint through which things behind can be seen.
    Soft,
    /// Thin slanting lines.
    Hatch,
}

/// An outline or a line. A filled outline must not cross itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Path {
    pub start: Point,
    pub segments: Vec<Segment>,
    pub closed: bool,
    pub role: Role,
    pub line: Option<Line>,
    pub fill: Fill,
}

/// Where the anchor lies along a text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    Left,
    Centre,
    Right,
}

/// Where a text lies against its anchor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stand {
    Above,
    Middle,
    Below,
}

/// How large a text is. Painters give each a fixed size, whatever the scale of the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TextSize {
    Label,
    Dimension,
    Small,
    /// On a page, in mm of paper.
    Paper(lettering::Lettering),
}

/// Words at a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    pub anchor: Point,
    pub align: Align,
    pub stand: Stand,
    pub size: TextSize,
    pub role: Role,
    pub text: String,
    /// Said instead where there is no room for `text`, longest first.
    pub shorter: Vec<String>,
    /// The words must not be wider than this on the picture.
    pub room_mm: Option<f64>,
    /// The painter may move it off other words (with a leader), or leave it out where there is no room.
    pub gives_way: bool,
}

/// What a group of items belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Part {
    Bed,
    Drive,
    Work,
    /// Both halves of a steady rest, behind and before the work.
    Rest(RestId),
    Follower,
    Carriage,
    Tool,
    Tail,
    Spring,
    Ghost,
    /// Distances between supports.
    Spans,
    Labels,
}

/// Items that belong together.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    pub part: Part,
    pub items: Vec<Item>,
}

/// One thing on a picture.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    Path(Path),
    Text(Text),
    Group(Group),
}

/// The smallest upright rectangle around something.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    pub left_mm: f64,
    pub right_mm: f64,
    pub bottom_mm: f64,
    pub top_mm: f64,
}

/// A whole picture; later items lie over earlier ones.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// What a painter must show to show all of it.
    pub bounds: Bounds,
    pub items: Vec<Item>,
}

impl Picture {
    /// A picture around its items; one that has no paths is given a size of 1 mm.
    #[must_use]
    pub fn of(items: Vec<Item>) -> Self {
        let mut bounds: Option<Bounds> = None;
        for item in &items {
            item.for_each_point(&mut |point| {
                let here = Bounds {
                    left_mm: point.right_mm,
                    right_mm: point.right_mm,
                    bottom_mm: point.up_mm,
                    top_mm: point.up_mm,
                };
                bounds = Some(bounds.map_or(here, |all| all.with(here)));
            });
        }
        let bounds = bounds.unwrap_or(Bounds { left_mm: 0.0, right_mm: 1.0, bottom_mm: 0.0, top_mm: 1.0 });
        Self { bounds, items }
    }
}

impl Bounds {
    /// The bounds around both.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        Self {
            left_mm: self.left_mm.min(other.left_mm),
            right_mm: self.right_mm.max(other.right_mm),
            bottom_mm: self.bottom_mm.min(other.bottom_mm),
            top_mm: self.top_mm.max(other.top_mm),
        }
    }
}

impl Path {
    /// Calls `see` with every point, control points too.
    pub fn for_each_point(&self, see: &mut impl FnMut(Point)) {
        see(self.start);
        for segment in &self.segments {
            match *segment {
                Segment::Line(end) => see(end),
                Segment::Curve(a, b, end) => {
                    see(a);
                    see(b);
                    see(end);
                }
            }
        }
    }
}

impl Item {
    /// Calls `see` with every point of every path in it (control points too) and the anchor of every text.
    pub fn for_each_point(&self, see: &mut impl FnMut(Point)) {
        match self {
            Self::Path(path) => path.for_each_point(see),
            Self::Text(text) => see(text.anchor),
            Self::Group(group) => {
                for item in &group.items {
                    item.for_each_point(see);
                }
            }
        }
    }
}
