//! Arrangements beside one another as CSV: a row a figure, a column an arrangement.

use super::table::{Cell, Column, Table};
use crate::advice::compared::Row;

/// The table under its title; `names` are those of the arrangements, in the order of the cells.
#[must_use]
pub fn csv(title: &str, names: &[String], rows: &[Row]) -> String {
    let heading = if title.is_empty() { "Arrangements".to_owned() } else { format!("Arrangements of {title}") };
    let columns = (0..=names.len()).map(|_| Column { title: String::new(), share: 1.0 }).collect();
    let words = |text: &str| Cell::Words(text.to_owned());
    let head = std::iter::once(words("")).chain(names.iter().map(|name| words(name))).collect();
    let line = |row: &Row| {
        let cells = row.cells.iter().map(|cell| {
            let best = if cell.is_best { ", best" } else { "" };
            Cell::Words(format!("{}{best}", cell.whole()))
        });
        std::iter::once(words(row.name)).chain(cells).collect()
    };
    let rows = std::iter::once(head).chain(rows.iter().map(line)).collect();
    Table { heading, columns, rows }.csv()
}
