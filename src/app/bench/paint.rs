//! Walks a picture and paints it with egui: fills as meshes without seams, lines crisp, words at a fixed size.

use egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, pos2};

use super::fill::filled;
use super::ink::{ink, width};
use super::labels::{Word, paint_words};
use super::map::Map;
use crate::app::Palette;
use crate::picture::{Fill, Item, Line, Part, Path, Picture, Role, Segment};

/// Points between the lines of a hatch.
const HATCH_STEP: f32 = 6.0;

/// Paints a picture. `emphasis` gives the colour in which a part's outlines stand out, where it is selected or under
/// the pointer; words keep off `reserved`.
pub fn paint_picture(
    painter: &Painter,
    map: &Map,
    picture: &Picture,
    palette: &Palette,
    reserved: &[Rect],
    emphasis: &dyn Fn(Part) -> Option<Color32>,
) {
    paint_with_marks(painter, map, picture, palette, reserved, (Vec::new(), Vec::new()), emphasis);
}

/// The same, with marks over the picture and remarks among its words.
pub fn paint_with_marks(
    painter: &Painter,
    map: &Map,
    picture: &Picture,
    palette: &Palette,
    reserved: &[Rect],
    (marks, remarks): (Vec<Shape>, Vec<Word>),
    emphasis: &dyn Fn(Part) -> Option<Color32>,
) {
    let pen = Pen { painter, map, palette, pixels_per_point: painter.pixels_per_point() };
    let mut found = Found { words: remarks, work: Vec::new() };
    pen.items(&picture.items, None, emphasis, &mut found);
    painter.extend(marks);
    paint_words(painter, &found.words, palette, reserved, &found.work);
}

/// What is painted last, and where the body of the work is.
struct Found {
    words: Vec<Word>,
    work: Vec<Rect>,
}

struct Pen<'a> {
    painter: &'a Painter,
    map: &'a Map,
    palette: &'a Palette,
    pixels_per_point: f32,
}

impl Pen<'_> {
    fn items(
        &self,
        items: &[Item],
        colour: Option<Color32>,
        emphasis: &dyn Fn(Part) -> Option<Color32>,
        found: &mut Found,
    ) {
        for item in items {
            match item {
                Item::Path(path) => {
                    self.path(path, colour);
                    if matches!(path.fill, Fill::Solid | Fill::Soft) && matches!(path.role, Role::Steel | Role::BarTail)
                    {
                        found.work.push(body_of(path, self.map));
                    }
                }
                Item::Text(text) => {
                    let clip = self.painter.clip_rect();
                    let is_selected = colour == Some(self.palette.selected);
                    found.words.push(Word::of(text, is_selected, self.map, clip, self.palette));
                }
                Item::Group(group) => self.items(&group.items, emphasis(group.part).or(colour), emphasis, found),
            }
        }
    }

    fn path(&self, path: &Path, colour: Option<Color32>) {
        let mut points = flattened(path, self.map);
        if !points.iter().all(|point| point.is_finite()) {
            return;
        }
        let clip = self.painter.clip_rect();
        if points.len() < 2 || !clip.expand(4.0).intersects(Rect::from_points(&points)) {
            return;
        }
        let inks = ink(path.role, self.palette);
        snap_to_pixels(&mut points, path.closed, self.pixels_per_point);
        match path.fill {
            Fill::None => {}
            Fill::Solid => {
                self.painter.add(filled(&points, inks.solid));
            }
            Fill::Soft => {
                self.painter.add(filled(&points, inks.soft));
            }
            Fill::Hatch => self.hatch(&points, inks.line),
        }
        let Some(line) = path.line else { return };
        let stands_out = colour.filter(|_| line == Line::Thick);
        let width = width(line) + if stands_out.is_some() { 0.7 } else { 0.0 };
        let stroke = Stroke::new(width, stands_out.unwrap_or(inks.line));
        match line {
            Line::Thick | Line::Thin => {
                self.painter.add(if path.closed {
                    Shape::closed_line(points, stroke)
                } else {
                    Shape::line(points, stroke)
                });
            }
            Line::Dashed => self.dashes(points, path.closed, stroke, &[5.5], &[3.5]),
            Line::Chain => self.dashes(points, path.closed, stroke, &[14.0, 2.5], &[3.5, 3.5]),
        }
    }

    /// Dashes only what is on the canvas: a line may be many thousand points long at a large zoom.
    fn dashes(&self, mut points: Vec<Pos2>, closed: bool, stroke: Stroke, dashes: &[f32], gaps: &[f32]) {
        if closed && let Some(first) = points.first().copied() {
            points.push(first);
        }
        let clip = self.painter.clip_rect().expand(24.0);
        let mut run: Vec<Pos2> = Vec::new();
        let mut shapes = Vec::new();
        let mut flush = |run: &mut Vec<Pos2>| {
            if run.len() > 1 {
                Shape::dashed_line_many_with_offset(run, stroke, dashes, gaps, 0.0, &mut shapes);
            }
            run.clear();
        };
        for pair in points.windows(2) {
            match clipped(pair[0], pair[1], clip) {
                Some((a, b)) => {
                    if run.last().is_none_or(|last| *last != a) {
                        flush(&mut run);
                        run.push(a);
                    }
                    run.push(b);
                }
                None => flush(&mut run),
            }
        }
        flush(&mut run);
        self.painter.extend(shapes);
    }

    /// Slanting lines over the outline's rectangle; hatched outlines are upright rectangles.
    fn hatch(&self, points: &[Pos2], colour: Color32) {
        self.painter.extend(hatched(Rect::from_points(points), self.painter.clip_rect(), colour));
    }
}

/// The rectangle a body fills; of a round one what lies inside it.
fn body_of(path: &Path, map: &Map) -> Rect {
    let around = Rect::from_points(&flattened(path, map));
    let is_round = path.segments.iter().any(|segment| matches!(segment, Segment::Curve(..)));
    if is_round { around.scale_from_center(std::f32::consts::FRAC_1_SQRT_2) } else { around }
}

/// Slanting lines over what is seen of a rectangle.
pub fn hatched(rect: Rect, clip: Rect, colour: Color32) -> Vec<Shape> {
    let seen = rect.intersect(clip);
    if !seen.is_positive() {
        return Vec::new();
    }
    let stroke = Stroke::new(0.8, colour);
    let n_lines = ((seen.width() + seen.height()) / HATCH_STEP).ceil() as usize;
    let starts = (0..n_lines).map(|line| seen.left() - seen.height() + line as f32 * HATCH_STEP);
    let line = |x: f32| clipped(pos2(x, seen.bottom()), pos2(x + seen.height(), seen.top()), seen);
    starts.filter_map(line).map(|(a, b)| Shape::line_segment([a, b], stroke)).collect()
}

/// The piece of a straight line inside a rectangle (Liang and Barsky's method).
fn clipped(a: Pos2, b: Pos2, rect: Rect) -> Option<(Pos2, Pos2)> {
    let d = b - a;
    let (mut from, mut to) = (0.0_f32, 1.0_f32);
    for (run, room) in
        [(-d.x, a.x - rect.left()), (d.x, rect.right() - a.x), (-d.y, a.y - rect.top()), (d.y, rect.bottom() - a.y)]
    {
        if run == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if run < 0.0 {
            from = from.max(room / run);
        } else {
            to = to.min(room / run);
        }
    }
    (from < to).then(|| (if from > 0.0 { a + from * d } else { a }, if to < 1.0 { a + to * d } else { b }))
}

/// A path as points on the screen; curves in pieces of a few pixels.
fn flattened(path: &Path, map: &Map) -> Vec<Pos2> {
    let mut points = vec![map.pos(path.start)];
    for segment in &path.segments {
        match *segment {
            Segment::Line(end) => points.push(map.pos(end)),
            Segment::Curve(a, b, end) => {
                let from = *points.last().unwrap_or(&Pos2::ZERO);
                let (a, b, end) = (map.pos(a), map.pos(b), map.pos(end));
                let length = (a - from).length() + (b - a).length() + (end - b).length();
                let n = ((length / 4.0).sqrt() * 2.0).ceil().clamp(2.0, 48.0) as usize;
                for i in 1..=n {
                    let t = i as f32 / n as f32;
                    let s = 1.0 - t;
                    let point = s * s * s * from.to_vec2()
                        + 3.0 * s * s * t * a.to_vec2()
                        + 3.0 * s * t * t * b.to_vec2()
                        + t * t * t * end.to_vec2();
                    points.push(point.to_pos2());
                }
            }
        }
    }
    points.dedup_by(|a, b| (*a - *b).length_sq() < 1e-4);
    if path.closed && points.len() > 2 && (points[0] - points[points.len() - 1]).length_sq() < 1e-4 {
        points.pop();
    }
    points
}

/// Puts level and upright edges on the middle of a pixel, so that they are crisp.
fn snap_to_pixels(points: &mut [Pos2], closed: bool, pixels_per_point: f32) {
    let n = points.len();
    let crisp = |v: f32| ((v * pixels_per_point).floor() + 0.5) / pixels_per_point;
    let edges = if closed { n } else { n - 1 };
    for i in 0..edges {
        let j = (i + 1) % n;
        if (points[i].y - points[j].y).abs() < 0.05 {
            let y = crisp(points[i].y);
            (points[i].y, points[j].y) = (y, y);
        }
        if (points[i].x - points[j].x).abs() < 0.05 {
            let x = crisp(points[i].x);
            (points[i].x, points[j].x) = (x, x);
        }
    }
}
