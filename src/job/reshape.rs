//! The finished part changed by hand: a shoulder moved, a diameter changed, lands split and joined.
//!
//! What hangs on a shoulder goes along with it (`carry`): cuts that end there, the shoulder of the stock around it,
//! the thread that runs up to it. Rests stay where they are clamped. A change that would leave no land, no wall or no
//! stock around the part is refused; one that only leaves as it was what did not fit before is not.

mod carry;
mod fit;

use super::land_row::LandRow;
use super::{Edit, EditError, Job, Land, Shaft, WantedLand};

/// A change of the finished part, made with everything that hangs on it.
#[derive(Clone, Debug, PartialEq)]
pub enum Reshape {
    /// The shaft as it was typed, whether it fits or not.
    Typed(Box<Shaft>),
    /// The finished part as a table says it.
    Rows(Vec<LandRow>),
    /// A shoulder of the finished part to a place along the shaft. Counted from its beginning towards end A (0) to its
    /// end; lands on both sides share what is moved.
    MoveShoulder { shoulder: usize, to_s_mm: f64 },
    /// The size of a land, at one end or all along.
    SetDiameter { land: usize, ends: LandEnds, diameter_mm: f64 },
    /// A land divided in two at a place along the shaft.
    Split { land: usize, at_s_mm: f64 },
    /// A land taken over by its neighbour `keeps`, whose size, tolerance and name hold for both.
    Join { land: usize, keeps: usize },
}

/// Which end of a land, as counted from end A.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LandEnds {
    Start,
    End,
    Both,
}

/// Shortest land a move or a split may leave.
pub const SHORTEST_LAND_MM: f64 = 0.5;

/// How far a change can go on its way.
#[derive(Clone, Debug)]
pub struct Reached {
    pub value_mm: f64,
    /// What makes it so; none where nothing of the way is possible.
    pub edit: Option<Edit>,
    /// Why it went no further.
    pub stopped: Option<EditError>,
}

impl Reshape {
    /// The change as plain edits of `job`. Those of one shoulder or diameter, made from the same job, replace each other
    /// wholly, so that a drag leaves no trace of its way.
    ///
    /// # Errors
    /// [`EditError::Impossible`] where the change leaves something that cannot be, in words for the user.
    pub fn edit(&self, job: &Job) -> Result<Edit, EditError> {
        let old = &job.shaft;
        let shaft = match self {
            Self::Typed(shaft) => return carry::carried(job, (**shaft).clone()),
            Self::Rows(rows) => return with_rows(job, rows),
            Self::MoveShoulder { shoulder, to_s_mm } => moved_shoulder(old, *shoulder, *to_s_mm)?,
            Self::SetDiameter { land, ends, diameter_mm } => with_diameter(old, *land, *ends, *diameter_mm)?,
            Self::Split { land, at_s_mm } => split(old, *land, *at_s_mm)?,
            Self::Join { land, keeps } => joined(old, *land, *keeps)?,
        };
        let edit = carry::carried(job, shaft)?;
        fit::check(job, &edit)?;
        Ok(edit)
    }

    /// The furthest value on the way from one to another at which `change` can be made of `job`, in whole steps counted
    /// back from where it was to go.
    pub fn furthest(job: &Job, (from_mm, to_mm): (f64, f64), step_mm: f64, change: impl Fn(f64) -> Self) -> Reached {
        let stopped = match change(to_mm).edit(job) {
            Ok(edit) => return Reached { value_mm: to_mm, edit: Some(edit), stopped: None },
            Err(error) => Some(error),
        };
        let back_mm = step_mm.copysign(to_mm - from_mm);
        let (mut fails, mut holds) = (0.0, ((to_mm - from_mm) / back_mm).abs().ceil());
        let at = |n_steps: f64| {
            let value_mm = to_mm - n_steps * back_mm;
            if (value_mm - from_mm) * back_mm < 0.0 { from_mm } else { value_mm }
        };
        while holds - fails > 1.0 {
            let middle = f64::midpoint(fails, holds).floor();
            if change(at(middle)).edit(job).is_ok() {
                holds = middle;
            } else {
                fails = middle;
            }
        }
        let value_mm = at(holds);
        Reached { value_mm, edit: change(value_mm).edit(job).ok(), stopped }
    }
}

/// Sizes first, with what hangs on them, then what lies on the lands.
fn with_rows(job: &Job, rows: &[LandRow]) -> Result<Edit, EditError> {
    let wanted = rows.iter().map(|row| row.wanted.clone()).collect();
    let sizes = carry::carried(job, Shaft { wanted, ..job.shaft.clone() })?;
    if rows.len() != job.shaft.wanted.len() {
        return Ok(Edit::SetShaft(LandRow::on_shaft(rows, &job.shaft)));
    }
    let mut sized = job.clone();
    sized.apply(&sizes)?;
    Ok(Edit::Together(vec![sizes, Edit::SetShaft(LandRow::on_shaft(rows, &sized.shaft))]))
}

/// The name of a land as every message has it.
fn land_name(index: usize) -> String {
    format!("Land {} of the finished part", index + 1)
}

fn impossible(what: impl Into<String>, why: impl Into<String>) -> EditError {
    EditError::Impossible { what: what.into(), why: why.into() }
}

fn gone() -> EditError {
    impossible("The land", "is no longer there")
}

/// Where the shoulders of the finished part are, its two ends among them.
#[must_use]
pub fn shoulders_s_mm(shaft: &Shaft) -> Vec<f64> {
    let ends = shaft.wanted_spans().map(|(_, to_s_mm, _)| to_s_mm);
    std::iter::once(shaft.wanted_start_s_mm).chain(ends).collect()
}

fn moved_shoulder(old: &Shaft, shoulder: usize, to_s_mm: f64) -> Result<Shaft, EditError> {
    let mut at_s_mm = shoulders_s_mm(old);
    if old.wanted.is_empty() || !to_s_mm.is_finite() {
        return Err(gone());
    }
    *at_s_mm.get_mut(shoulder).ok_or_else(gone)? = to_s_mm;
    let mut shaft = old.clone();
    shaft.wanted_start_s_mm = at_s_mm[0];
    let touched = [shoulder.checked_sub(1), Some(shoulder)];
    for land in touched.into_iter().flatten().filter(|land| *land < old.wanted.len()) {
        let length_mm = at_s_mm[land + 1] - at_s_mm[land];
        if length_mm < SHORTEST_LAND_MM {
            return Err(impossible(land_name(land), "would have no length left"));
        }
        shaft.wanted[land].land.length_mm = length_mm;
    }
    Ok(shaft)
}

fn with_diameter(old: &Shaft, land: usize, ends: LandEnds, diameter_mm: f64) -> Result<Shaft, EditError> {
    let mut shaft = old.clone();
    let wanted = &mut shaft.wanted.get_mut(land).ok_or_else(gone)?.land;
    if diameter_mm.is_nan() || diameter_mm <= 0.0 {
        return Err(impossible(land_name(land), "would have no diameter left"));
    }
    if ends != LandEnds::End {
        wanted.start_diameter_mm = diameter_mm;
    }
    if ends != LandEnds::Start {
        wanted.end_diameter_mm = diameter_mm;
    }
    Ok(shaft)
}

fn split(old: &Shaft, land: usize, at_s_mm: f64) -> Result<Shaft, EditError> {
    let (from_s_mm, to_s_mm, wanted) = old.wanted_spans().nth(land).ok_or_else(gone)?;
    if !(from_s_mm + SHORTEST_LAND_MM..=to_s_mm - SHORTEST_LAND_MM).contains(&at_s_mm) {
        return Err(impossible(land_name(land), "cannot be split so near its end"));
    }
    let first_mm = at_s_mm - from_s_mm;
    let diameter_mm = wanted.land.diameter_at_mm(first_mm);
    let first = Land { length_mm: first_mm, end_diameter_mm: diameter_mm, ..wanted.land };
    let second = Land { length_mm: wanted.land.length_mm - first_mm, start_diameter_mm: diameter_mm, ..wanted.land };
    let mut shaft = old.clone();
    shaft.wanted[land].land = first;
    shaft.wanted.insert(land + 1, WantedLand { land: second, ..wanted.clone() });
    Ok(shaft)
}

fn joined(old: &Shaft, land: usize, keeps: usize) -> Result<Shaft, EditError> {
    if land.abs_diff(keeps) != 1 || land.max(keeps) >= old.wanted.len() {
        return Err(impossible("The lands", "do not lie beside each other"));
    }
    let mut shaft = old.clone();
    shaft.wanted[keeps].land.length_mm += old.wanted[land].land.length_mm;
    shaft.wanted.remove(land);
    Ok(shaft)
}
