//! Tables: cells of words that break into lines, figures that are read from afar, and blank boxes to write into. They
//! are data first, laid out for paper or written as CSV.

use super::piece::{Block, Piece, line};
use crate::picture::lettering::Lettering;
use crate::picture::{Align, Fill, Item, Line, Path, Role, at};

/// A column of a table.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Column {
    pub title: &'static str,
    /// Width against the other columns'.
    pub share: f64,
}

/// A cell.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Cell {
    Words(String),
    Strong(String),
    /// Read at arm's length.
    Figure(String),
    /// A box to write into by hand.
    Blank,
    /// The same, under a number of some lines; both kept apart.
    Two(String, String),
}

/// A table before it is laid out.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Table {
    pub heading: String,
    pub columns: Vec<Column>,
    /// Of as many cells as there are columns.
    pub rows: Vec<Vec<Cell>>,
}

impl Cell {
    /// Its words in one line, as they stand in a file.
    fn text(&self) -> String {
        match self {
            Self::Words(text) | Self::Strong(text) | Self::Figure(text) => text.clone(),
            Self::Two(first, second) if second.is_empty() => first.clone(),
            Self::Two(first, second) => format!("{first}; {second}"),
            Self::Blank => String::new(),
        }
    }
}

impl Table {
    /// Its heading, the titles of its columns where they have any, and its rows, as lines of CSV (RFC 4180).
    pub fn csv(&self) -> String {
        let row = |cells: Vec<String>| cells.iter().map(|text| quoted(text)).collect::<Vec<_>>().join(",") + "\n";
        let mut lines = row(vec![self.heading.clone()]);
        if self.columns.iter().any(|column| !column.title.is_empty()) {
            lines += &row(self.columns.iter().map(|column| column.title.to_owned()).collect());
        }
        lines + &self.rows.iter().map(|cells| row(cells.iter().map(Cell::text).collect())).collect::<String>()
    }

    /// Laid out as wide as that; no pieces where there are no rows.
    pub fn block(&self, width_mm: f64) -> Block {
        table(&self.heading, &self.columns, &self.rows, width_mm)
    }
}

/// A field of CSV, in quotes where it needs them. Words that a spreadsheet would take for a formula get a space in front.
fn quoted(text: &str) -> String {
    let is_formula = text.starts_with(['=', '+', '-', '@']) && text.parse::<f64>().is_err();
    let text = if is_formula { format!(" {text}") } else { text.to_owned() };
    if text.contains(['"', ',', '\n', '\r']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
}

/// Room inside a cell to its left and right.
const PAD_MM: f64 = 0.9;
/// Least height of a box that is written into.
const BLANK_MM: f64 = 7.5;
/// Lines of a cell; what is longer is told in full under the table.
const MOST_LINES: usize = 5;
/// Lines of what is told in full.
const MOST_LINES_IN_FULL: usize = 30;

/// A cell's pieces of words, and what had to be cut.
fn cell_piece(cell: &Cell, width_mm: f64, cut: &mut Vec<String>) -> Piece {
    let mut paragraph = |text: &str, kind: Lettering| {
        let (piece, left_out) = Piece::paragraph(text, kind, Role::Text, width_mm, MOST_LINES);
        if left_out {
            cut.push(text.to_owned());
        }
        piece
    };
    match cell {
        Cell::Words(text) => paragraph(text, Lettering::Body),
        Cell::Strong(text) => paragraph(text, Lettering::Strong),
        Cell::Figure(text) => {
            let kind = if Lettering::Figure.width_mm(text) <= width_mm { Lettering::Figure } else { Lettering::Strong };
            paragraph(text, kind)
        }
        Cell::Two(first, second) => paragraph(first, Lettering::Strong).over(paragraph(second, Lettering::Fine)),
        Cell::Blank => Piece::gap(BLANK_MM),
    }
}

fn table(heading: &str, columns: &[Column], rows: &[Vec<Cell>], width_mm: f64) -> Block {
    let sum: f64 = columns.iter().map(|column| column.share).sum();
    let widths_mm: Vec<f64> = columns.iter().map(|column| column.share / sum * width_mm).collect();
    let lefts_mm: Vec<f64> = widths_mm
        .iter()
        .scan(0.0, |left_mm, width_mm| {
            let here_mm = *left_mm;
            *left_mm += width_mm;
            Some(here_mm)
        })
        .collect();
    let mut cut = Vec::new();
    let mut pieces: Vec<Piece> = Vec::new();
    for row in rows {
        let cells: Vec<Piece> = row
            .iter()
            .zip(&widths_mm)
            .map(|(cell, width_mm)| cell_piece(cell, width_mm - 2.0 * PAD_MM, &mut cut))
            .collect();
        let height_mm = cells.iter().map(|cell| cell.height_mm).fold(0.0, f64::max) + 1.2;
        let mut items: Vec<Item> = Vec::new();
        for (index, piece) in cells.into_iter().enumerate() {
            let left_mm = lefts_mm[index];
            if row[index] == Cell::Blank {
                let right_mm = left_mm + widths_mm[index];
                let corners = (at(left_mm + 0.4, -0.4), at(right_mm - 0.4, -height_mm + 0.4));
                items.push(Path::rect(corners.0, corners.1, Role::Text).lined(Line::Thin).into());
            }
            items.extend(piece.moved(left_mm + PAD_MM, -0.5).items);
        }
        items.push(rule(width_mm, -height_mm));
        pieces.push(Piece { height_mm, items });
    }
    for text in cut {
        let full = format!("In full: {text}");
        pieces.extend(Piece::lines(&full, Lettering::Fine, Role::Text, width_mm, MOST_LINES_IN_FULL));
    }
    let head = columns.iter().any(|column| !column.title.is_empty()).then(|| {
        let titles: Vec<Piece> = columns
            .iter()
            .zip(&widths_mm)
            .map(|(column, width_mm)| {
                Piece::paragraph(column.title, Lettering::Fine, Role::Text, width_mm - 2.0 * PAD_MM, 3).0
            })
            .collect();
        let height_mm = titles.iter().map(|title| title.height_mm).fold(0.0, f64::max) + 1.0;
        let ground = Path::rect(at(0.0, 0.0), at(width_mm, -height_mm), Role::Rule).lined(None).filled(Fill::Solid);
        let mut items: Vec<Item> = vec![ground.into()];
        for (piece, left_mm) in titles.into_iter().zip(&lefts_mm) {
            items.extend(piece.moved(left_mm + PAD_MM, -0.4).items);
        }
        Piece { height_mm, items }
    });
    Block { heading: heading.to_owned(), head, pieces }
}

fn rule(width_mm: f64, up_mm: f64) -> Item {
    Path::segment(at(0.0, up_mm), at(width_mm, up_mm), Role::Rule).lined(Line::Thin).into()
}

/// A list of names and what they are.
pub(super) fn pairs(heading: &str, rows: Vec<(&str, String)>) -> Table {
    let columns = vec![Column { title: "", share: 0.27 }, Column { title: "", share: 0.73 }];
    let rows = rows.into_iter().map(|(name, value)| vec![Cell::Words(name.to_owned()), Cell::Strong(value)]);
    Table { heading: heading.to_owned(), columns, rows: rows.collect() }
}

/// Numbered or plain lines of words with a reason in smaller letters under each.
pub(super) fn list(heading: &str, numbered: bool, rows: &[(String, String)], width_mm: f64) -> Block {
    let indent_mm = if numbered { Lettering::Strong.width_mm("00") + 1.6 } else { 3.0 };
    let mut pieces: Vec<Piece> = Vec::new();
    for (index, (text, why)) in rows.iter().enumerate() {
        let room_mm = width_mm - indent_mm;
        let mut piece = Piece::paragraph(text, Lettering::Body, Role::Text, room_mm, 12).0;
        if !why.is_empty() {
            piece = piece.over(Piece::paragraph(why, Lettering::Fine, Role::Faint, room_mm, 8).0);
        }
        let mut piece = piece.moved(indent_mm, 0.0);
        let mark = if numbered { (index + 1).to_string() } else { "\u{2022}".to_owned() };
        let at_mm = if numbered { indent_mm - 1.6 } else { 0.6 };
        let align = if numbered { Align::Right } else { Align::Left };
        piece.items.push(line(at_mm, 0.0, align, Lettering::Strong, Role::Text, &mark).into());
        piece.height_mm += 1.0;
        pieces.push(piece);
    }
    Block { heading: heading.to_owned(), head: None, pieces }
}
