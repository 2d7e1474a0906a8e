//! A picture as PNG: the same marks on pixels, letters as their own outlines.

use skrifa::MetadataProvider as _;
use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use tiny_skia::{Color, FillRule, LineJoin, Paint, PathBuilder, Pixmap, Stroke, StrokeDash, Transform};

use super::lettering::Lettering;
use super::print::{Mark, marks};
use super::{Path, Picture, Point, Segment};

/// Why a picture cannot be made of pixels.
#[derive(Debug, thiserror::Error)]
pub enum PngError {
    #[error("a page of so many dots is too large; ask for fewer dots to the inch")]
    TooLarge,
    #[error("the picture cannot be packed as PNG: {0}")]
    NotPacked(String),
}

/// The bytes of a PNG file that shows all of a picture with so many dots to the inch.
///
/// # Errors
/// [`PngError`] where the picture has no size or more dots than can be held.
pub fn png(picture: &Picture, dots_per_inch: f64) -> Result<Vec<u8>, PngError> {
    inked(picture, dots_per_inch)?.encode_png().map_err(|error| PngError::NotPacked(error.to_string()))
}

/// The same for a screen: how many dots across and down, and red, green, blue and opacity of each, row after row.
///
/// # Errors
/// As [`png`].
pub fn dots(picture: &Picture, dots_per_inch: f64) -> Result<([usize; 2], Vec<u8>), PngError> {
    let sheet = inked(picture, dots_per_inch)?;
    Ok(([sheet.width() as usize, sheet.height() as usize], sheet.take()))
}

fn inked(picture: &Picture, dots_per_inch: f64) -> Result<Pixmap, PngError> {
    const MOST: f64 = 20_000.0;
    let frame = picture.bounds;
    let scale = dots_per_inch / 25.4;
    let size = [frame.right_mm - frame.left_mm, frame.top_mm - frame.bottom_mm].map(|mm| (mm * scale).round());
    if !size.iter().all(|dots| (1.0..=MOST).contains(dots)) {
        return Err(PngError::TooLarge);
    }
    let mut sheet = Pixmap::new(size[0] as u32, size[1] as u32).ok_or(PngError::TooLarge)?;
    sheet.fill(Color::WHITE);
    let pen = Pen {
        left_mm: frame.left_mm,
        top_mm: frame.top_mm,
        to_dots: Transform::from_scale(scale as f32, scale as f32),
    };
    for mark in marks(picture) {
        pen.mark(&mark, &mut sheet);
    }
    Ok(sheet)
}

struct Pen {
    left_mm: f64,
    top_mm: f64,
    to_dots: Transform,
}

impl Pen {
    fn xy(&self, point: Point) -> (f32, f32) {
        ((point.right_mm - self.left_mm) as f32, (self.top_mm - point.up_mm) as f32)
    }

    fn path(&self, path: &Path) -> Option<tiny_skia::Path> {
        let mut built = PathBuilder::new();
        let (x, y) = self.xy(path.start);
        built.move_to(x, y);
        for segment in &path.segments {
            match *segment {
                Segment::Line(end) => {
                    let (x, y) = self.xy(end);
                    built.line_to(x, y);
                }
                Segment::Curve(a, b, end) => {
                    let ((ax, ay), (bx, by), (x, y)) = (self.xy(a), self.xy(b), self.xy(end));
                    built.cubic_to(ax, ay, bx, by, x, y);
                }
            }
        }
        if path.closed {
            built.close();
        }
        built.finish()
    }

    fn mark(&self, mark: &Mark<'_>, sheet: &mut Pixmap) {
        match mark {
            Mark::Area { path, grey } => {
                if let Some(path) = self.path(path) {
                    sheet.fill_path(&path, &ink(grey.0), FillRule::Winding, self.to_dots, None);
                }
            }
            Mark::Stroke { path, width_mm, dashes_mm, grey } => {
                let dashes = dashes_mm.iter().map(|dash_mm| *dash_mm as f32).collect();
                let dash = StrokeDash::new(dashes, 0.0);
                let stroke = Stroke { width: *width_mm as f32, line_join: LineJoin::Round, dash, ..Stroke::default() };
                if let Some(path) = self.path(path) {
                    sheet.stroke_path(&path, &ink(grey.0), &stroke, self.to_dots, None);
                }
            }
            Mark::Hatch { lines, width_mm } => {
                let mut built = PathBuilder::new();
                for [from, to] in lines {
                    let ((x0, y0), (x1, y1)) = (self.xy(*from), self.xy(*to));
                    built.move_to(x0, y0);
                    built.line_to(x1, y1);
                }
                let stroke = Stroke { width: *width_mm as f32, ..Stroke::default() };
                if let Some(path) = built.finish() {
                    sheet.stroke_path(&path, &ink(0), &stroke, self.to_dots, None);
                }
            }
            Mark::Words { text, begin, lettering, grey } => {
                if let Some(letters) = self.letters(&text.text, *begin, *lettering) {
                    sheet.fill_path(&letters, &ink(grey.0), FillRule::Winding, self.to_dots, None);
                }
            }
        }
    }

    /// The outlines of all letters of a line.
    fn letters(&self, text: &str, begin: Point, lettering: Lettering) -> Option<tiny_skia::Path> {
        let font = lettering.face().font();
        let outlines = font.font.outline_glyphs();
        let (x, y) = self.xy(begin);
        let mut pen = LetterPen { built: PathBuilder::new(), x, y };
        for glyph in font.glyphs(text) {
            if let Some(outline) = outlines.get(glyph.id.into()) {
                let settings = DrawSettings::unhinted(Size::new(lettering.em_mm() as f32), LocationRef::default());
                // A letter whose outline is broken is left out, as it would be on screen.
                let _ = outline.draw(settings, &mut pen);
            }
            pen.x += (glyph.advance_ems * lettering.em_mm()) as f32;
        }
        pen.built.finish()
    }
}

/// Draws one letter after another, y down.
struct LetterPen {
    built: PathBuilder,
    x: f32,
    y: f32,
}

impl OutlinePen for LetterPen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.built.move_to(self.x + x, self.y - y);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.built.line_to(self.x + x, self.y - y);
    }

    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        self.built.quad_to(self.x + cx, self.y - cy, self.x + x, self.y - y);
    }

    fn curve_to(&mut self, ax: f32, ay: f32, bx: f32, by: f32, x: f32, y: f32) {
        self.built.cubic_to(self.x + ax, self.y - ay, self.x + bx, self.y - by, self.x + x, self.y - y);
    }

    fn close(&mut self) {
        self.built.close();
    }
}

fn ink(grey: u8) -> Paint<'static> {
    let mut paint = Paint::default();
    paint.set_color_rgba8(grey, grey, grey, 255);
    paint
}
