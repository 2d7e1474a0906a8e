//! A picture as what ink does on paper, in order: areas filled, lines drawn, words set. Every painter for paper walks
//! this one list, so that PDF, SVG, PNG and the preview cannot differ.
//!
//! Line widths and dashes follow ISO 128-2, group 0.5: thick 0.5 mm, thin 0.25 mm. Nothing rests on colour: materials
//! are greys and hatches that a copier keeps.

use super::lettering::{self, Lettering};
use super::{Fill, Item, Line, Path, Picture, Point, Role, Segment, Text, at};

/// A grey: 0 is black, 255 white.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Grey(pub u8);

const BLACK: Grey = Grey(0);

/// One thing ink does.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark<'a> {
    Area {
        path: &'a Path,
        grey: Grey,
    },
    Stroke {
        path: &'a Path,
        width_mm: f64,
        dashes_mm: &'static [f64],
        grey: Grey,
    },
    /// Thin straight lines, each by itself.
    Hatch {
        lines: Vec<[Point; 2]>,
        width_mm: f64,
    },
    Words {
        text: &'a Text,
        begin: Point,
        lettering: Lettering,
        grey: Grey,
    },
}

/// How an area is filled on paper.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Ground {
    Plain(u8),
    /// White, with slanting lines so far apart; leaning to the left for less than 0.
    Hatched(f64),
}

/// What is between the lines of a hatch filled by [`Fill::Hatch`].
const HATCH_MM: f64 = 1.6;

/// Width of a kind of line.
#[must_use]
pub const fn width_mm(line: Line) -> f64 {
    match line {
        Line::Thick => 0.5,
        Line::Thin | Line::Dashed | Line::Chain => 0.25,
    }
}

/// Dash, gap, dash, gap of a kind of line; empty for a whole one. Source: ISO 128-2, 12 and 3 widths for hidden edges, 24,
/// 3, half and 3 for axes (from memory); a dot is drawn one width long, so that it prints.
#[must_use]
pub const fn dashes_mm(line: Line) -> &'static [f64] {
    match line {
        Line::Thick | Line::Thin => &[],
        Line::Dashed => &[2.5, 0.9],
        Line::Chain => &[6.0, 0.9, 0.4, 0.9],
    }
}

/// Grey of the lines of a role.
fn line_grey(role: Role) -> Grey {
    match role {
        Role::Faint => Grey(70),
        Role::Rule => Grey(90),
        Role::Grid => Grey(150),
        Role::Casting | Role::BedLine | Role::Carriage | Role::Tailstock => Grey(60),
        _ => BLACK,
    }
}

fn ground(role: Role, fill: Fill) -> Option<Ground> {
    let plain = |grey| Some(Ground::Plain(grey));
    match (fill, role) {
        (Fill::None, _) => None,
        (Fill::Hatch, _) => Some(Ground::Hatched(HATCH_MM)),
        (_, Role::SteelToCut) => Some(Ground::Hatched(1.0)),
        (_, Role::BarTail) => Some(Ground::Hatched(-1.4)),
        (_, Role::TrueSpot) => Some(Ground::Hatched(-1.0)),
        (_, Role::Allowed) => Some(Ground::Hatched(1.6)),
        (_, Role::CutNow) => plain(95),
        (_, Role::CutBefore) => Some(Ground::Hatched(1.2)),
        (_, Role::NotCut) => Some(Ground::Hatched(-0.8)),
        (Fill::Soft, Role::Feature) => plain(150),
        (_, Role::Steel) => plain(214),
        (_, Role::MayLie) => plain(205),
        (_, Role::ChuckJaw | Role::Dog) => plain(175),
        (Fill::Soft, Role::Rest | Role::Follower | Role::Sleeve) => plain(238),
        (_, Role::Chuck | Role::Rest | Role::Follower | Role::Tailstock | Role::Quill | Role::Centre) => plain(245),
        (_, Role::RestJaw) => plain(110),
        (_, Role::Tool | Role::Force | Role::Dimension | Role::Feature | Role::Curve) => plain(0),
        (_, Role::Rule) => plain(232),
        _ => plain(255),
    }
}

/// What ink does for a whole picture, the later over the earlier.
#[must_use]
pub fn marks(picture: &Picture) -> Vec<Mark<'_>> {
    let mut marks = Vec::new();
    gather(&picture.items, &mut marks);
    marks
}

fn gather<'a>(items: &'a [Item], marks: &mut Vec<Mark<'a>>) {
    for item in items {
        match item {
            Item::Group(group) => gather(&group.items, marks),
            Item::Text(text) => marks.push(Mark::Words {
                text,
                begin: lettering::begin(text),
                lettering: lettering::lettering(text.size),
                grey: line_grey(text.role),
            }),
            Item::Path(path) => {
                if path.segments.is_empty() || !is_finite(path) {
                    continue;
                }
                match ground(path.role, path.fill) {
                    None => {}
                    Some(Ground::Plain(grey)) => marks.push(Mark::Area { path, grey: Grey(grey) }),
                    Some(Ground::Hatched(apart_mm)) => {
                        marks.push(Mark::Area { path, grey: Grey(255) });
                        marks.push(Mark::Hatch { lines: hatch(path, apart_mm), width_mm: 0.18 });
                    }
                }
                if let Some(line) = path.line {
                    marks.push(Mark::Stroke {
                        path,
                        width_mm: if path.role == Role::Grid { 0.13 } else { width_mm(line) },
                        dashes_mm: dashes_mm(line),
                        grey: line_grey(path.role),
                    });
                }
            }
        }
    }
}

fn is_finite(path: &Path) -> bool {
    let mut finite = true;
    path.for_each_point(&mut |point| finite &= point.right_mm.is_finite() && point.up_mm.is_finite());
    finite
}

/// A path's corners, curves in eight pieces.
#[must_use]
pub fn flattened(path: &Path) -> Vec<Point> {
    const PIECES: u32 = 8;
    let mut points = vec![path.start];
    for segment in &path.segments {
        match *segment {
            Segment::Line(end) => points.push(end),
            Segment::Curve(a, b, end) => {
                let from = points[points.len() - 1];
                points.extend((1..=PIECES).map(|piece| {
                    let t = f64::from(piece) / f64::from(PIECES);
                    let s = 1.0 - t;
                    let on = |p: f64, a: f64, b: f64, q: f64| {
                        s * s * s * p + 3.0 * s * s * t * a + 3.0 * s * t * t * b + t * t * t * q
                    };
                    at(
                        on(from.right_mm, a.right_mm, b.right_mm, end.right_mm),
                        on(from.up_mm, a.up_mm, b.up_mm, end.up_mm),
                    )
                }));
            }
        }
    }
    points
}

/// Slanting lines inside an outline, each from edge to edge.
fn hatch(path: &Path, apart_mm: f64) -> Vec<[Point; 2]> {
    const MOST: f64 = 4000.0;
    let corners = flattened(path);
    // In the frame of the hatch its lines are level: turned by 45 degrees one way or the other.
    let lean = if apart_mm < 0.0 { -1.0 } else { 1.0 };
    let root = std::f64::consts::SQRT_2;
    let across = |p: Point| (p.up_mm - lean * p.right_mm) / root;
    let along = |p: Point| (p.up_mm + lean * p.right_mm) / root;
    let back = |along: f64, across: f64| at(lean * (along - across) / root, (along + across) / root);
    let reach = corners.iter().map(|corner| across(*corner));
    let (low, high) = reach.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| (low.min(x), high.max(x)));
    let step = apart_mm.abs().max((high - low) / MOST);
    let mut lines = Vec::new();
    let mut level = (low / step).ceil() * step;
    while level < high {
        let mut cuts: Vec<f64> = Vec::new();
        for (index, from) in corners.iter().enumerate() {
            let to = corners[(index + 1) % corners.len()];
            let (a, b) = (across(*from), across(to));
            if (a <= level) != (b <= level) {
                cuts.push(along(*from) + (level - a) / (b - a) * (along(to) - along(*from)));
            }
        }
        cuts.sort_by(f64::total_cmp);
        lines.extend(cuts.chunks_exact(2).map(|pair| [back(pair[0], level), back(pair[1], level)]));
        level += step;
    }
    lines
}
