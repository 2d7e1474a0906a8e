//! Tables: cells of words that break into lines, figures that are read from afar, and blank boxes to write into. They
//! are data first, laid out for paper or written as CSV.

use super::hand::{CLOSE, CLOSEST, Hand, OPEN};
use super::piece::{Block, Piece, line};
use crate::picture::lettering::Lettering;
use crate::picture::{Align, Fill, Item, Line, Path, Role, at};

/// A column of a table.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Column {
    pub title: String,
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

impl Column {
    pub fn new(title: impl Into<String>, share: f64) -> Self {
        Self { title: title.into(), share }
    }
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
            lines += &row(self.columns.iter().map(|column| column.title.clone()).collect());
        }
        lines + &self.rows.iter().map(|cells| row(cells.iter().map(Cell::text).collect())).collect::<String>()
    }

    /// Laid out as wide as that; no pieces where there are no rows.
    pub fn block(&self, width_mm: f64, hand: Hand) -> Block {
        // Figures on one line in smaller letters are read better than broken ones.
        let own = [OPEN, CLOSE].into_iter().find(|own| own.body == hand.body).unwrap_or(CLOSEST);
        let letters = |from: Hand| Hand { body: from.body, strong: from.strong, fine: from.fine, ..hand };
        let smaller = [hand, own, CLOSE, CLOSEST].map(letters);
        let has_titles = self.columns.iter().any(|column| !column.title.is_empty());
        let good_enough =
            if has_titles { [Broken::Nowhere, Broken::OneColumn, Broken::Columns] } else { [Broken::Columns; 3] };
        let fits = |broken| smaller.into_iter().find(|hand| widths_mm(self, width_mm, *hand).1 <= broken);
        let found = good_enough.into_iter().find_map(fits);
        table(self, width_mm, found.unwrap_or(letters(CLOSEST)))
    }
}

/// A field of CSV, in quotes where it needs them. Words that a spreadsheet would take for a formula get a space in front.
fn quoted(text: &str) -> String {
    let is_formula = text.starts_with(['=', '+', '-', '@']) && text.parse::<f64>().is_err();
    let text = if is_formula { format!(" {text}") } else { text.to_owned() };
    if text.contains(['"', ',', '\n', '\r']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
}

/// Room inside a cell to its left and right.
const PAD_MM: f64 = 0.8;
/// Lines of a cell; what is longer is told in full under the table.
const MOST_LINES: usize = 5;
/// Lines of what is told in full.
const MOST_LINES_IN_FULL: usize = 30;

/// A cell's pieces of words, and what had to be cut.
fn cell_piece(cell: &Cell, width_mm: f64, hand: Hand, cut: &mut Vec<String>) -> Piece {
    let mut paragraph = |text: &str, kind: Lettering| {
        let (piece, left_out) = Piece::paragraph(text, kind, Role::Text, width_mm, MOST_LINES);
        if left_out {
            cut.push(text.to_owned());
        }
        piece
    };
    match cell {
        Cell::Words(text) => paragraph(text, hand.body),
        Cell::Strong(text) => paragraph(text, hand.strong),
        Cell::Figure(text) => {
            paragraph(text, if Lettering::Figure.width_mm(text) <= width_mm { Lettering::Figure } else { hand.strong })
        }
        Cell::Two(first, second) => paragraph(first, hand.strong).over(paragraph(second, hand.fine)),
        Cell::Blank => Piece::gap(hand.blank_mm),
    }
}

/// What of a table does not stand on one line.
#[derive(Clone, Copy, PartialEq, PartialOrd)]
enum Broken {
    Nowhere,
    /// Of one column, between words.
    OneColumn,
    /// Of several, between words.
    Columns,
    /// Words themselves.
    Words,
}

/// Widths of the columns: what is in them on one line where there is room, the rest by the columns' shares; else at least
/// their longest words. What breaks comes with it.
fn widths_mm(table: &Table, width_mm: f64, hand: Hand) -> (Vec<f64>, Broken) {
    let share_sum: f64 = table.columns.iter().map(|column| column.share).sum();
    let share_mm = |column: &Column| column.share / share_sum * width_mm;
    let all = table.columns.iter().enumerate().map(|(index, column)| {
        let mut lines = vec![(column.title.as_str(), hand.fine)];
        for cell in table.rows.iter().filter_map(|row| row.get(index)) {
            match cell {
                Cell::Words(text) => lines.push((text, hand.body)),
                Cell::Strong(text) => lines.push((text, hand.strong)),
                Cell::Figure(text) => lines.push((text, Lettering::Figure)),
                Cell::Two(first, second) => lines.extend([(first.as_str(), hand.strong), (second, hand.fine)]),
                Cell::Blank => return [share_mm(column); 2],
            }
        }
        let widest = |widths: &mut dyn Iterator<Item = f64>| widths.fold(0.0, f64::max) + 2.0 * PAD_MM + 0.01;
        let word = |(text, kind): &(&str, Lettering)| {
            text.split_whitespace().map(|word| kind.width_mm(word)).fold(0.0, f64::max)
        };
        [widest(&mut lines.iter().map(word)), widest(&mut lines.iter().map(|(text, kind)| kind.width_mm(text)))]
    });
    let all: Vec<[f64; 2]> = all.collect();
    let most_mm: f64 = all.iter().map(|both| both[1]).sum();
    // Words break in as few columns as can be: those with the longest lines give way first.
    let over_mm = most_mm - width_mm;
    let slack_mm = |index: usize| all[index][1] - all[index][0];
    let mut order: Vec<usize> = (0..all.len()).collect();
    order.sort_by(|a, b| slack_mm(*b).total_cmp(&slack_mm(*a)));
    let mut gives_mm = vec![0.0; all.len()];
    let mut left_mm = over_mm.max(0.0);
    for index in order {
        gives_mm[index] = slack_mm(index).min(left_mm);
        left_mm -= gives_mm[index];
    }
    let broken = match gives_mm.iter().filter(|mm| **mm > 0.0).count() {
        _ if left_mm > 1e-9 => Broken::Words,
        0 => Broken::Nowhere,
        1 => Broken::OneColumn,
        _ => Broken::Columns,
    };
    let width = |(index, (column, [_, most])): (usize, (&Column, &[f64; 2]))| match broken {
        Broken::Words => share_mm(column),
        Broken::Nowhere => most - column.share / share_sum * over_mm,
        Broken::OneColumn | Broken::Columns => most - gives_mm[index],
    };
    (table.columns.iter().zip(&all).enumerate().map(width).collect(), broken)
}

fn table(table: &Table, width_mm: f64, hand: Hand) -> Block {
    let Table { heading, columns, rows } = table;
    let (widths_mm, _) = widths_mm(table, width_mm, hand);
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
            .map(|(cell, width_mm)| cell_piece(cell, width_mm - 2.0 * PAD_MM, hand, &mut cut))
            .collect();
        let height_mm = cells.iter().map(|cell| cell.height_mm).fold(0.0, f64::max) + 0.6;
        let mut items: Vec<Item> = Vec::new();
        for (index, piece) in cells.into_iter().enumerate() {
            let left_mm = lefts_mm[index];
            if row[index] == Cell::Blank {
                let right_mm = left_mm + widths_mm[index];
                let corners = (at(left_mm + 0.4, -0.4), at(right_mm - 0.4, -height_mm + 0.4));
                items.push(Path::rect(corners.0, corners.1, Role::Text).lined(Line::Thin).into());
            }
            items.extend(piece.moved(left_mm + PAD_MM, -0.3).items);
        }
        items.push(rule(width_mm, -height_mm));
        pieces.push(Piece { height_mm, items });
    }
    for text in cut {
        let full = format!("In full: {text}");
        pieces.extend(Piece::lines(&full, hand.fine, Role::Text, width_mm, MOST_LINES_IN_FULL));
    }
    let head = columns.iter().any(|column| !column.title.is_empty()).then(|| {
        let titles: Vec<Piece> = columns
            .iter()
            .zip(&widths_mm)
            .map(|(column, width_mm)| {
                Piece::paragraph(&column.title, hand.fine, Role::Text, width_mm - 2.0 * PAD_MM, 3).0
            })
            .collect();
        let height_mm = titles.iter().map(|title| title.height_mm).fold(0.0, f64::max) + 0.8;
        let ground = Path::rect(at(0.0, 0.0), at(width_mm, -height_mm), Role::Rule).lined(None).filled(Fill::Solid);
        let mut items: Vec<Item> = vec![ground.into()];
        for (piece, left_mm) in titles.into_iter().zip(&lefts_mm) {
            items.extend(piece.moved(left_mm + PAD_MM, -0.3).items);
        }
        Piece { height_mm, items }
    });
    Block { heading: heading.clone(), head, pieces, whole: true }
}

fn rule(width_mm: f64, up_mm: f64) -> Item {
    Path::segment(at(0.0, up_mm), at(width_mm, up_mm), Role::Rule).lined(Line::Thin).into()
}

/// A list of names and what they are.
pub(super) fn pairs(heading: &str, rows: Vec<(&str, String)>) -> Table {
    let columns = vec![Column::new("", 0.17), Column::new("", 0.83)];
    let rows = rows.into_iter().map(|(name, value)| vec![Cell::Strong(name.to_owned()), Cell::Words(value)]);
    Table { heading: heading.to_owned(), columns, rows: rows.collect() }
}

/// One line of a list.
pub(super) struct Entry {
    pub text: String,
    /// In smaller letters under it; may be empty.
    pub why: String,
}

/// Numbered or plain lines of words in one lettering, with a reason in small letters under each.
pub(super) fn list(
    heading: &str,
    numbered: bool,
    rows: &[Entry],
    kind: Lettering,
    (width_mm, hand): (f64, Hand),
) -> Block {
    let mark_kind = if numbered { hand.strong } else { kind };
    let indent_mm = mark_kind.width_mm(if numbered { "00" } else { "\u{2022}" }) + 1.2;
    let mut pieces: Vec<Piece> = Vec::new();
    for (index, Entry { text, why }) in rows.iter().enumerate() {
        let room_mm = width_mm - indent_mm;
        let mut piece = Piece::paragraph(text, kind, Role::Text, room_mm, 12).0;
        if !why.is_empty() {
            piece = piece.over(Piece::paragraph(why, hand.fine, Role::Faint, room_mm, 8).0);
        }
        let mut piece = piece.moved(indent_mm, 0.0);
        let mark = if numbered { (index + 1).to_string() } else { "\u{2022}".to_owned() };
        piece.items.push(line(indent_mm - 1.2, 0.0, Align::Right, mark_kind, Role::Text, &mark).into());
        piece.height_mm += 0.1 * kind.line_mm();
        pieces.push(piece);
    }
    Block { heading: heading.to_owned(), head: None, pieces, whole: false }
}
