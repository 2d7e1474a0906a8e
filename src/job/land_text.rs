//! A table of lands as text: what stands in its cells, and the whole of it tab-separated, to and from a spreadsheet.
//!
//! Pasted text may have a header, which then says the order of the columns and their unit (`length (in)`); without one
//! the columns stand in the order they are copied in. Cells may be quoted as spreadsheets do.

use super::land_row::{Keyway, LandRow};
use super::quantity::{Kind, QuantityError, Units, parse, show_exact, show_for_entry, unit_name};
use super::{Land, Tolerance};

/// A column of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Column {
    Length,
    Diameter,
    /// Diameter at the end away from A; empty for a cylinder.
    AtItsEnd,
    Bore,
    Thread,
    Keyway,
    Tolerance,
    Use,
}

/// All columns in the order they are shown and copied in.
pub const COLUMNS: [Column; 8] = [
    Column::Length,
    Column::Diameter,
    Column::AtItsEnd,
    Column::Tolerance,
    Column::Bore,
    Column::Thread,
    Column::Keyway,
    Column::Use,
];

/// Longest table that is read.
const MOST_ROWS: usize = 1000;

impl Column {
    /// What stands over it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Length => "length",
            Self::Diameter => "diameter",
            Self::AtItsEnd => "at its end",
            Self::Bore => "bore",
            Self::Thread => "thread",
            Self::Keyway => "keyway",
            Self::Tolerance => "tolerance",
            Self::Use => "use",
        }
    }

    /// What its figures are, where they are plain numbers.
    #[must_use]
    pub const fn kind(self) -> Option<Kind> {
        match self {
            Self::Length => Some(Kind::Length),
            Self::Diameter | Self::AtItsEnd | Self::Bore => Some(Kind::Diameter),
            Self::Thread | Self::Keyway | Self::Tolerance | Self::Use => None,
        }
    }

    /// The column a header means, as people write them.
    fn of_header(text: &str) -> Option<Self> {
        let plain = text.to_lowercase();
        let says = |words: &[&str]| words.iter().any(|word| plain.contains(word));
        Some(match () {
            () if says(&["tol"]) => Self::Tolerance,
            () if says(&["bore"]) => Self::Bore,
            () if says(&["thread", "pitch"]) => Self::Thread,
            () if says(&["key"]) => Self::Keyway,
            () if says(&["end", "taper"]) => Self::AtItsEnd,
            () if says(&["dia", "\u{f8}", "\u{2300}"]) => Self::Diameter,
            () if says(&["length", "long"]) => Self::Length,
            () if says(&["use", "name", "for"]) => Self::Use,
            () => return None,
        })
    }

    /// What stands in a cell of it, to be typed over; `exact` with every digit.
    fn text(self, row: &LandRow, units: Units, exact: bool) -> String {
        let figure = |mm: f64, kind| if exact { show_exact(mm, kind, units) } else { show_for_entry(mm, kind, units) };
        let Land { length_mm, start_diameter_mm, end_diameter_mm } = row.wanted.land;
        let is_taper = start_diameter_mm.to_bits() != end_diameter_mm.to_bits();
        match self {
            Self::Length => figure(length_mm, Kind::Length),
            Self::Diameter => figure(start_diameter_mm, Kind::Diameter),
            Self::AtItsEnd if is_taper => figure(end_diameter_mm, Kind::Diameter),
            Self::AtItsEnd => String::new(),
            Self::Bore => row.bore_mm.map(|mm| figure(mm, Kind::Diameter)).unwrap_or_default(),
            Self::Thread => row.thread_mm.map(|mm| thread_text(mm, units)).unwrap_or_default(),
            Self::Keyway => row
                .keyway
                .map(|Keyway { width_mm, depth_mm }| {
                    format!("{} x {}", figure(width_mm, Kind::Length), figure(depth_mm, Kind::Length))
                })
                .unwrap_or_default(),
            Self::Tolerance => row.wanted.tolerance.show(units),
            Self::Use => row.wanted.name.clone(),
        }
    }

    /// What stands in a cell of it, to be typed over.
    #[must_use]
    pub fn shown(self, row: &LandRow, units: Units) -> String {
        self.text(row, units, false)
    }

    /// Takes a text into a cell of it.
    ///
    /// # Errors
    /// A sentence for the user; the row is then as it was.
    pub fn take(self, text: &str, row: &mut LandRow, units: Units) -> Result<(), QuantityError> {
        let text = text.trim();
        let nothing = text.is_empty() || text == "-" || text == "\u{2013}";
        let size = |text: &str, kind| {
            let mm = parse(text, kind, units)?;
            if mm > 0.0 { Ok(mm) } else { Err(QuantityError(format!("\u{201c}{text}\u{201d} must be more than 0"))) }
        };
        let land = &mut row.wanted.land;
        match self {
            Self::Length => land.length_mm = size(text, Kind::Length)?,
            Self::Diameter => {
                let is_cylinder = land.start_diameter_mm.to_bits() == land.end_diameter_mm.to_bits();
                land.start_diameter_mm = size(text, Kind::Diameter)?;
                if is_cylinder {
                    land.end_diameter_mm = land.start_diameter_mm;
                }
            }
            Self::AtItsEnd if nothing => land.end_diameter_mm = land.start_diameter_mm,
            Self::AtItsEnd => land.end_diameter_mm = size(text, Kind::Diameter)?,
            Self::Bore if nothing || text == "0" => row.bore_mm = None,
            Self::Bore => row.bore_mm = Some(size(text, Kind::Diameter)?),
            Self::Thread if nothing => row.thread_mm = None,
            Self::Thread => row.thread_mm = Some(thread_mm(text, units)?),
            Self::Keyway if nothing => row.keyway = None,
            Self::Keyway => {
                let plain = text.to_lowercase().replace(['\u{d7}', '*'], "x");
                let mut sizes = plain.split('x');
                let width_mm = size(sizes.next().unwrap_or_default(), Kind::Length)?;
                let depth_mm = sizes.next().map_or(Ok(0.5 * width_mm), |depth| size(depth, Kind::Length))?;
                if sizes.next().is_some() {
                    return Err(QuantityError(format!("\u{201c}{text}\u{201d} is more than width x depth")));
                }
                row.keyway = Some(Keyway { width_mm, depth_mm });
            }
            Self::Tolerance => row.wanted.tolerance = Tolerance::parse(text, units)?,
            Self::Use => text.clone_into(&mut row.wanted.name),
        }
        Ok(())
    }
}

/// A pitch as it is typed: in inches as turns to the inch where that is a whole number.
fn thread_text(pitch_mm: f64, units: Units) -> String {
    let per_inch = 25.4 / pitch_mm;
    if units == Units::Inch && (per_inch - per_inch.round()).abs() < 1e-6 {
        format!("{per_inch:.0} tpi")
    } else {
        show_exact(pitch_mm, Kind::Length, units)
    }
}

/// `1.5`, `M20x1.5`, `12 tpi`.
fn thread_mm(text: &str, units: Units) -> Result<f64, QuantityError> {
    let refused = || QuantityError(format!("\u{201c}{text}\u{201d} is no thread; type its pitch, 12 tpi or M20x1.5"));
    let plain = text.to_lowercase().replace('\u{d7}', "x");
    let pitch_mm = if let Some(per_inch) = plain.strip_suffix("tpi") {
        25.4 / parse(per_inch, Kind::Ratio, units).map_err(|_| refused())?
    } else if let Some(metric) = plain.strip_prefix('m') {
        let pitch = metric.split_once('x').map(|(_, pitch)| pitch).ok_or_else(refused)?;
        parse(pitch, Kind::Length, Units::Metric).map_err(|_| refused())?
    } else {
        parse(&plain, Kind::Length, units).map_err(|_| refused())?
    };
    if pitch_mm.is_finite() && pitch_mm > 0.0 { Ok(pitch_mm) } else { Err(refused()) }
}

/// The rows as tab-separated text with a header, in these units.
#[must_use]
pub fn written(rows: &[LandRow], units: Units) -> String {
    let unit = unit_name(Kind::Length, units);
    let header = COLUMNS.map(|column| match column {
        Column::Use => column.name().to_owned(),
        _ => format!("{} ({unit})", column.name()),
    });
    let mut lines = vec![header.join("\t")];
    // A cell cannot hold what divides cells.
    let clean = |text: String| text.replace(['\t', '\n', '\r', '"'], " ");
    lines.extend(rows.iter().map(|row| COLUMNS.map(|column| clean(column.text(row, units, true))).join("\t")));
    lines.join("\n") + "\n"
}

/// The rows of a pasted text.
///
/// # Errors
/// A sentence for each cell that cannot be read, naming its row and column.
pub fn read(text: &str, units: Units) -> Result<Vec<LandRow>, Vec<String>> {
    let mut lines = cells(text).into_iter().enumerate().filter(|(_, cells)| !cells.is_empty()).peekable();
    let is_header = |cells: &Vec<String>| {
        let first = cells.iter().find(|cell| !cell.is_empty());
        first.is_some_and(|cell| Column::of_header(cell).is_some() && !cell.starts_with(|c: char| c.is_ascii_digit()))
    };
    let header = lines.next_if(|(_, cells)| is_header(cells)).map(|(_, cells)| cells);
    let columns = header
        .map_or_else(|| Ok(COLUMNS.map(|column| Some((column, units))).to_vec()), |cells| columns(&cells, units))?;
    let (mut rows, mut errors) = (Vec::new(), Vec::new());
    for (line, cells) in lines {
        let mut row = LandRow::plain(f64::NAN, f64::NAN);
        let land = rows.len() + 1;
        let mut wrong = |column: &str, why: &str| {
            errors.push(format!("Land {land} (row {}), {column}: {why}", line + 1));
        };
        for (index, cell) in cells.iter().enumerate().skip(columns.len()).filter(|(_, cell)| !cell.is_empty()) {
            wrong(&format!("column {}", index + 1), &format!("\u{201c}{cell}\u{201d} stands beyond the table"));
        }
        // The diameter at the end comes after the one at the start, wherever its column stands.
        let mut given: Vec<(Column, Units, &str)> = columns
            .iter()
            .zip(&cells)
            .filter_map(|(column, cell)| {
                let (column, units) = (*column)?;
                Some((column, units, cell.as_str()))
            })
            .collect();
        given.sort_by_key(|(column, _, _)| COLUMNS.iter().position(|known| known == column));
        for (column, units, cell) in &given {
            let optional = !matches!(column, Column::Length | Column::Diameter);
            if optional && cell.is_empty() {
                continue;
            }
            if let Err(error) = column.take(cell, &mut row, *units) {
                wrong(column.name(), &error.to_string());
            } else if *column == Column::Diameter {
                row.wanted.land.end_diameter_mm = row.wanted.land.start_diameter_mm;
            }
        }
        for column in [Column::Length, Column::Diameter] {
            if !given.iter().any(|(known, _, _)| *known == column) {
                wrong(column.name(), "is missing");
            }
        }
        rows.push(row);
        if rows.len() > MOST_ROWS {
            return Err(vec![format!("The table has more than {MOST_ROWS} rows.")]);
        }
    }
    if rows.is_empty() {
        errors.push("There is no table of lands to paste: copy rows with a length and a diameter first.".to_owned());
    }
    if errors.is_empty() { Ok(rows) } else { Err(errors) }
}

/// What the cells of a header mean, each with the unit it says or the usual one; an empty cell heads a column that must
/// be empty too.
fn columns(header: &[String], units: Units) -> Result<Vec<Option<(Column, Units)>>, Vec<String>> {
    let known = COLUMNS.map(Column::name).join(", ");
    let mut columns: Vec<Option<(Column, Units)>> = Vec::new();
    let mut errors = Vec::new();
    for (index, cell) in header.iter().enumerate() {
        if cell.is_empty() {
            columns.push(None);
            continue;
        }
        let Some(column) = Column::of_header(cell) else {
            errors.push(format!("Header, column {}: \u{201c}{cell}\u{201d} is none of {known}", index + 1));
            continue;
        };
        if columns.iter().flatten().any(|(other, _)| *other == column) {
            errors.push(format!("Header, column {}: there are two columns for {}", index + 1, column.name()));
        }
        let unit = cell.split_once('(').map(|(_, unit)| unit.trim_end_matches(')').trim().to_lowercase());
        let units = match unit.as_deref() {
            Some("mm") => Units::Metric,
            Some("in" | "inch" | "inches" | "\"") => Units::Inch,
            _ => units,
        };
        columns.push(Some((column, units)));
    }
    if errors.is_empty() { Ok(columns) } else { Err(errors) }
}

/// The cells of each line, trimmed and without empty ones at its end. A cell that begins with a quotation mark goes on to
/// the next single one.
fn cells(text: &str) -> Vec<Vec<String>> {
    let mut lines: Vec<Vec<String>> = Vec::new();
    let (mut line, mut cell, mut quoted) = (Vec::new(), String::new(), false);
    let mut chars = text.chars().peekable();
    let mut end_line = |line: &mut Vec<String>, cell: &mut String| {
        line.push(std::mem::take(cell).trim().to_owned());
        while line.last().is_some_and(String::is_empty) {
            line.pop();
        }
        lines.push(std::mem::take(line));
    };
    while let Some(c) = chars.next() {
        match c {
            '"' if quoted && chars.peek() == Some(&'"') => {
                chars.next();
                cell.push('"');
            }
            '"' if quoted => quoted = false,
            '"' if cell.is_empty() => quoted = true,
            '\t' if !quoted => line.push(std::mem::take(&mut cell).trim().to_owned()),
            '\n' if !quoted => end_line(&mut line, &mut cell),
            '\r' if !quoted => {}
            c => cell.push(c),
        }
    }
    end_line(&mut line, &mut cell);
    lines
}
