//! Letters on paper: how wide words are in the very font that is printed, and how they are broken to fit.
//!
//! Letters are set one after another by their own width, without kerning, so that what is measured here is what stands
//! on paper to the last bit. Heights follow ISO 3098: 2.5 mm capitals for what is read, 1.8 mm at the least where room
//! is short, 4 mm for the figures that matter. Letters the font lacks take the room of its empty box.

use std::sync::LazyLock;

use skrifa::instance::{LocationRef, Size};
use skrifa::metrics::GlyphMetrics;
use skrifa::{FontRef, MetadataProvider as _};

use super::{Align, Bounds, Point, Stand, Text, TextSize, at};

/// The text face, Inter Regular.
pub const REGULAR: &[u8] = include_bytes!("../../assets/fonts/Inter-Regular.otf");
/// The heavier face, Inter SemiBold.
pub const SEMI_BOLD: &[u8] = include_bytes!("../../assets/fonts/Inter-SemiBold.otf");

/// Height of capitals against the em: 1490 of 2048.
const CAPITAL: f64 = 0.7275;
/// Above and below the line, what no letter of Latin, Greek or Cyrillic words passes.
const ASCENT: f64 = 0.97;
const DESCENT: f64 = 0.24;
/// From line to line, in ems.
const LEADING: f64 = 1.22;

/// Stands for words left out.
pub const ELLIPSIS: char = '\u{2026}';

/// A kind of lettering on paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Lettering {
    /// Title of a page.
    Title,
    /// Heading of a table.
    Heading,
    /// Numbers that matter: read at arm's length.
    Figure,
    Body,
    /// Body that stands out.
    Strong,
    /// Captions, reasons and sources.
    Fine,
    /// The same four where a page is full.
    CloseHeading,
    CloseBody,
    CloseStrong,
    CloseFine,
}

/// Which of the two fonts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Face {
    Regular,
    SemiBold,
}

/// A font taken apart.
pub struct Font {
    /// The file's own bytes.
    pub bytes: &'static [u8],
    pub font: FontRef<'static>,
    metrics: GlyphMetrics<'static>,
    units_per_em: f64,
}

/// One letter of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glyph {
    pub id: u32,
    /// The letter's place in the text, in bytes.
    pub from: usize,
    pub to: usize,
    /// From its left edge to the next letter's, in ems.
    pub advance_ems: f64,
}

static FONTS: LazyLock<[Font; 2]> = LazyLock::new(|| [REGULAR, SEMI_BOLD].map(Font::of));

impl Font {
    fn of(bytes: &'static [u8]) -> Self {
        let font = FontRef::new(bytes).expect("the fonts in assets are fonts");
        let metrics = font.glyph_metrics(Size::unscaled(), LocationRef::default());
        let units = font.metrics(Size::unscaled(), LocationRef::default()).units_per_em;
        Self { bytes, metrics, units_per_em: f64::from(units), font }
    }

    /// The letters of a line, from left to right.
    #[must_use]
    pub fn glyphs(&self, text: &str) -> Vec<Glyph> {
        let map = self.font.charmap();
        let glyph = |(from, letter): (usize, char)| {
            let shown = if letter.is_control() { ' ' } else { letter };
            let id = map.map(shown).unwrap_or_default();
            let advance = self.metrics.advance_width(id).unwrap_or_default();
            let advance_ems = f64::from(advance) / self.units_per_em;
            Glyph { id: id.to_u32(), from, to: from + letter.len_utf8(), advance_ems }
        };
        text.char_indices().map(glyph).collect()
    }

    /// True where the font has every letter.
    #[must_use]
    pub fn has_all(&self, text: &str) -> bool {
        let map = self.font.charmap();
        text.chars().all(|letter| letter.is_control() || map.map(letter).is_some())
    }
}

impl Face {
    /// The font itself.
    #[must_use]
    pub fn font(self) -> &'static Font {
        &FONTS[self as usize]
    }
}

impl Lettering {
    /// The size of the font: its em.
    #[must_use]
    pub const fn em_mm(self) -> f64 {
        match self {
            Self::Title => 5.4,
            Self::Figure => 4.0 / CAPITAL,
            Self::Heading => 3.9,
            Self::Body | Self::Strong => 2.5 / CAPITAL,
            Self::CloseHeading => 2.3 / CAPITAL,
            Self::Fine | Self::CloseBody | Self::CloseStrong => 2.0 / CAPITAL,
            Self::CloseFine => 1.8 / CAPITAL,
        }
    }

    /// Regular or heavier.
    #[must_use]
    pub const fn face(self) -> Face {
        match self {
            Self::Body | Self::Fine | Self::CloseBody | Self::CloseFine => Face::Regular,
            Self::Title | Self::Heading | Self::Figure | Self::Strong | Self::CloseHeading | Self::CloseStrong => {
                Face::SemiBold
            }
        }
    }

    /// From line to line.
    #[must_use]
    pub const fn line_mm(self) -> f64 {
        LEADING * self.em_mm()
    }

    /// From the top of a line to where its letters stand.
    #[must_use]
    pub const fn drop_mm(self) -> f64 {
        ASCENT * self.em_mm()
    }

    /// How wide a line is.
    #[must_use]
    pub fn width_mm(self, text: &str) -> f64 {
        self.face().font().glyphs(text).iter().map(|glyph| glyph.advance_ems).sum::<f64>() * self.em_mm()
    }

    /// The text where it fits into `room_mm`, else its beginning with an ellipsis.
    #[must_use]
    pub fn cut(self, text: &str, room_mm: f64) -> String {
        if self.width_mm(text) <= room_mm {
            return text.to_owned();
        }
        let mut kept = text.to_owned();
        while kept.pop().is_some() {
            let shown = format!("{}{ELLIPSIS}", kept.trim_end());
            if self.width_mm(&shown) <= room_mm {
                return shown;
            }
        }
        String::new()
    }

    /// The text in lines no wider than `room_mm`, broken between words where that can be; at most `n_lines`, the last
    /// one ending in an ellipsis where words are left out. Never empty; whether anything was left out comes with it.
    #[must_use]
    pub fn wrapped(self, text: &str, room_mm: f64, n_lines: usize) -> (Vec<String>, bool) {
        let mut lines: Vec<String> = Vec::new();
        for paragraph in text.split('\n') {
            let mut line = String::new();
            for word in paragraph.split_whitespace() {
                let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
                if self.width_mm(&longer) <= room_mm {
                    line = longer;
                    continue;
                }
                if !line.is_empty() {
                    lines.push(std::mem::take(&mut line));
                }
                for letter in word.chars() {
                    line.push(letter);
                    if self.width_mm(&line) > room_mm && line.chars().nth(1).is_some() {
                        line.pop();
                        lines.push(std::mem::replace(&mut line, letter.to_string()));
                    }
                }
                if lines.len() > n_lines {
                    break;
                }
            }
            lines.push(line);
            if lines.len() > n_lines {
                break;
            }
        }
        let too_long = lines.len() > n_lines;
        lines.truncate(n_lines.max(1));
        if too_long && let Some(last) = lines.last_mut() {
            *last = self.cut(&format!("{last}{ELLIPSIS}"), room_mm);
            if !last.ends_with(ELLIPSIS) {
                last.push(ELLIPSIS);
            }
        }
        (lines, too_long)
    }
}

/// The lettering of a text on paper, whatever it is on a screen.
#[must_use]
pub fn lettering(size: TextSize) -> Lettering {
    match size {
        TextSize::Paper(lettering) => lettering,
        TextSize::Label | TextSize::Dimension => Lettering::Body,
        TextSize::Small => Lettering::Fine,
    }
}

/// Where a text begins on paper: left end of the line its letters stand on.
#[must_use]
pub fn begin(text: &Text) -> Point {
    let kind = lettering(text.size);
    let width_mm = kind.width_mm(&text.text);
    let right_mm = text.anchor.right_mm
        - match text.align {
            Align::Left => 0.0,
            Align::Centre => width_mm / 2.0,
            Align::Right => width_mm,
        };
    let up_mm = text.anchor.up_mm
        - kind.em_mm()
            * match text.stand {
                Stand::Above => -DESCENT,
                Stand::Middle => CAPITAL / 2.0,
                Stand::Below => ASCENT,
            };
    at(right_mm, up_mm)
}

/// The room a text takes on paper.
#[must_use]
pub fn room(text: &Text) -> Bounds {
    let kind = lettering(text.size);
    let begin = begin(text);
    Bounds {
        left_mm: begin.right_mm,
        right_mm: begin.right_mm + kind.width_mm(&text.text),
        bottom_mm: begin.up_mm - DESCENT * kind.em_mm(),
        top_mm: begin.up_mm + ASCENT * kind.em_mm(),
    }
}
