//! Pictures as the pages of a PDF, to scale: words are text in an embedded, subsetted font, tagged in the order in which
//! they stand on the picture; the drawing is marked as no text. No clock and no chance: the same pages, the same bytes.

use krilla::color::luma;
use krilla::document::Document;
use krilla::geom::{PathBuilder, Point as At, Transform};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, SpanTag, Tag, TagGroup, TagTree};
use krilla::text::{Font, GlyphId, KrillaGlyph};

use super::lettering::Face;
use super::print::{Mark, marks};
use super::{Path, Picture, Point, Segment};

/// Points of a PDF in a millimetre.
const POINTS_PER_MM: f32 = 72.0 / 25.4;

/// Why there is no PDF.
#[derive(Debug, thiserror::Error)]
pub enum PdfError {
    #[error("a page without a size cannot be printed")]
    NoSize,
    #[error("the PDF cannot be written: {0}")]
    NotWritten(String),
}

/// The bytes of a PDF, a page a picture, 1 mm as 1 mm.
///
/// # Errors
/// [`PdfError`] where a page has no size or the font cannot be embedded.
pub fn pdf<'a>(pages: impl IntoIterator<Item = &'a Picture>, title: &str, about: &str) -> Result<Vec<u8>, PdfError> {
    let fonts = [Face::Regular, Face::SemiBold].map(|face| Font::new(face.font().bytes.into(), 0));
    let [Some(regular), Some(semi_bold)] = fonts else {
        return Err(PdfError::NotWritten("its font cannot be read".to_owned()));
    };
    let fonts = [regular, semi_bold];
    let mut document = Document::new();
    let mut tags = TagTree::new().with_lang(Some("en".to_owned()));
    for picture in pages {
        let frame = picture.bounds;
        let size = [frame.right_mm - frame.left_mm, frame.top_mm - frame.bottom_mm].map(|mm| mm as f32 * POINTS_PER_MM);
        let settings = PageSettings::from_wh(size[0], size[1]).ok_or(PdfError::NoSize)?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        surface.push_transform(&Transform::from_scale(POINTS_PER_MM, POINTS_PER_MM));
        let pen = Pen { left_mm: frame.left_mm, top_mm: frame.top_mm, fonts: &fonts };
        let mut section = TagGroup::new(Tag::Section);
        for mark in marks(picture) {
            pen.mark(&mark, &mut surface, &mut section);
        }
        surface.pop();
        surface.finish();
        page.finish();
        tags.push(section);
    }
    document.set_tag_tree(tags);
    document.set_metadata(
        Metadata::new()
            .title(title.to_owned())
            .description(about.to_owned())
            .creator("Midspan".to_owned())
            .language("en".to_owned()),
    );
    document.finish().map_err(|error| PdfError::NotWritten(format!("{error:?}")))
}

struct Pen<'f> {
    left_mm: f64,
    top_mm: f64,
    /// By [`Face`].
    fonts: &'f [Font; 2],
}

impl Pen<'_> {
    fn xy(&self, point: Point) -> (f32, f32) {
        ((point.right_mm - self.left_mm) as f32, (self.top_mm - point.up_mm) as f32)
    }

    fn path(&self, path: &Path) -> Option<krilla::geom::Path> {
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

    fn mark(&self, mark: &Mark<'_>, surface: &mut Surface<'_>, section: &mut TagGroup) {
        if let Mark::Words { text, begin, lettering, grey } = mark {
            if text.text.trim().is_empty() {
                return;
            }
            let face = lettering.face();
            let glyphs: Vec<KrillaGlyph> = face
                .font()
                .glyphs(&text.text)
                .iter()
                .map(|glyph| KrillaGlyph {
                    glyph_id: GlyphId::new(glyph.id),
                    text_range: glyph.from..glyph.to,
                    x_advance: glyph.advance_ems as f32,
                    x_offset: 0.0,
                    y_offset: 0.0,
                    y_advance: 0.0,
                    location: None,
                })
                .collect();
            let (x, y) = self.xy(*begin);
            surface.set_stroke(None);
            surface.set_fill(Some(fill(grey.0)));
            let words = surface.start_tagged(ContentTag::Span(SpanTag::empty()));
            let font = self.fonts[face as usize].clone();
            surface.draw_glyphs(At::from_xy(x, y), &glyphs, font, &text.text, lettering.em_mm() as f32, false);
            surface.end_tagged();
            let mut paragraph = TagGroup::new(Tag::P);
            paragraph.push(words);
            section.push(paragraph);
            return;
        }
        surface.start_tagged(ContentTag::Artifact(Artifact::with_kind(ArtifactType::Other)));
        match mark {
            Mark::Area { path, grey } => {
                surface.set_stroke(None);
                surface.set_fill(Some(fill(grey.0)));
                if let Some(path) = self.path(path) {
                    surface.draw_path(&path);
                }
            }
            Mark::Stroke { path, width_mm, dashes_mm, grey } => {
                let array: Vec<f32> = dashes_mm.iter().map(|dash_mm| *dash_mm as f32).collect();
                let dash = (!array.is_empty()).then_some(StrokeDash { array, offset: 0.0 });
                surface.set_fill(None);
                surface.set_stroke(Some(stroke(grey.0, *width_mm, dash)));
                if let Some(path) = self.path(path) {
                    surface.draw_path(&path);
                }
            }
            Mark::Hatch { lines, width_mm } => {
                let mut built = PathBuilder::new();
                for [from, to] in lines {
                    let ((x0, y0), (x1, y1)) = (self.xy(*from), self.xy(*to));
                    built.move_to(x0, y0);
                    built.line_to(x1, y1);
                }
                surface.set_fill(None);
                surface.set_stroke(Some(stroke(0, *width_mm, None)));
                if let Some(path) = built.finish() {
                    surface.draw_path(&path);
                }
            }
            Mark::Words { .. } => {}
        }
        surface.end_tagged();
    }
}

fn fill(grey: u8) -> Fill {
    Fill { paint: luma::Color::new(grey).into(), opacity: NormalizedF32::ONE, rule: krilla::paint::FillRule::NonZero }
}

fn stroke(grey: u8, width_mm: f64, dash: Option<StrokeDash>) -> Stroke {
    Stroke {
        paint: luma::Color::new(grey).into(),
        width: width_mm as f32,
        line_join: LineJoin::Round,
        dash,
        ..Stroke::default()
    }
}
