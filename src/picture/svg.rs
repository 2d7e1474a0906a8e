//! A picture as SVG 1.1 in mm, to scale: one file a page.
//!
//! Words stay words, in the font's name with a common one behind it; `textLength` holds them to the width that was
//! measured, whatever font the viewer has. The same picture always gives the same bytes.

use std::fmt::Write as _;

use super::lettering::Face;
use super::print::{Mark, marks};
use super::{Path, Picture, Point, Segment};

/// The text of an SVG file that shows all of a picture, 1 mm as 1 mm.
#[must_use]
pub fn svg(picture: &Picture, title: &str) -> String {
    let frame = picture.bounds;
    let (width_mm, height_mm) = (frame.right_mm - frame.left_mm, frame.top_mm - frame.bottom_mm);
    let pen = Pen { left_mm: frame.left_mm, top_mm: frame.top_mm };
    let (w, h) = (number(width_mm), number(height_mm));
    let mut out = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" \
         height=\"{h}mm\" viewBox=\"0 0 {w} {h}\" xml:lang=\"en\">\n<title>{}</title>\n\
         <rect width=\"{w}\" height=\"{h}\" fill=\"#fff\"/>\n",
        escaped(title)
    );
    for mark in marks(picture) {
        pen.mark(&mark, &mut out);
    }
    out.push_str("</svg>\n");
    out
}

struct Pen {
    left_mm: f64,
    top_mm: f64,
}

impl Pen {
    fn xy(&self, point: Point) -> String {
        format!("{} {}", number(point.right_mm - self.left_mm), number(self.top_mm - point.up_mm))
    }

    fn path(&self, path: &Path) -> String {
        let mut d = format!("M{}", self.xy(path.start));
        for segment in &path.segments {
            // Writing to a string cannot fail.
            let _ = match *segment {
                Segment::Line(end) => write!(d, "L{}", self.xy(end)),
                Segment::Curve(a, b, end) => write!(d, "C{} {} {}", self.xy(a), self.xy(b), self.xy(end)),
            };
        }
        if path.closed {
            d.push('Z');
        }
        d
    }

    fn mark(&self, mark: &Mark<'_>, out: &mut String) {
        let _ = match mark {
            Mark::Area { path, grey } => {
                writeln!(out, "<path d=\"{}\" fill=\"{}\"/>", self.path(path), colour(grey.0))
            }
            Mark::Stroke { path, width_mm, dashes_mm, grey } => {
                let dashes: Vec<String> = dashes_mm.iter().map(|dash_mm| number(*dash_mm)).collect();
                let dashes = match dashes.len() {
                    0 => String::new(),
                    _ => format!(" stroke-dasharray=\"{}\"", dashes.join(" ")),
                };
                writeln!(
                    out,
                    "<path d=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\" stroke-linejoin=\"round\"{dashes}/>",
                    self.path(path),
                    colour(grey.0),
                    number(*width_mm)
                )
            }
            Mark::Hatch { lines, .. } if lines.is_empty() => Ok(()),
            Mark::Hatch { lines, width_mm } => {
                let lines = lines.iter().map(|[from, to]| format!("M{}L{}", self.xy(*from), self.xy(*to)));
                let d: String = lines.collect();
                writeln!(out, "<path d=\"{d}\" fill=\"none\" stroke=\"#000\" stroke-width=\"{}\"/>", number(*width_mm))
            }
            Mark::Words { text, .. } if text.text.trim().is_empty() => Ok(()),
            Mark::Words { text, begin, lettering, grey } => {
                let weight = match lettering.face() {
                    Face::Regular => "",
                    Face::SemiBold => " font-weight=\"600\"",
                };
                writeln!(
                    out,
                    "<text x=\"{}\" y=\"{}\" font-family=\"Inter, sans-serif\" font-size=\"{}\"{weight} fill=\"{}\" \
                     textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\" xml:space=\"preserve\">{}</text>",
                    number(begin.right_mm - self.left_mm),
                    number(self.top_mm - begin.up_mm),
                    number(lettering.em_mm()),
                    colour(grey.0),
                    number(lettering.width_mm(&text.text)),
                    escaped(&text.text)
                )
            }
        };
    }
}

fn colour(grey: u8) -> String {
    format!("#{grey:02x}{grey:02x}{grey:02x}")
}

/// To a thousandth of a millimetre, without needless zeros.
fn number(value: f64) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Text as XML takes it; what XML forbids becomes a space.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\u{fffe}' | '\u{ffff}' => out.push(' '),
            letter if letter.is_control() => out.push(' '),
            letter => out.push(letter),
        }
    }
    out
}
