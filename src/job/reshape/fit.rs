//! Whether a finished part changed by hand still fits its stock, its bores and its features, or fits no worse than
//! before.

use super::{impossible, land_name, shoulders_s_mm};
use crate::job::quantity::{Kind, show};
use crate::job::{Edit, EditError, Job, Shaft};

/// Sizes and places that differ by less are the same.
const SAME_MM: f64 = 1e-4;

/// Refuses what did not stand in the way before.
pub(super) fn check(job: &Job, edit: &Edit) -> Result<(), EditError> {
    let edits = std::slice::from_ref(edit);
    let edits = if let Edit::Together(all) = edit { all } else { edits };
    let Some(new) = edits.iter().find_map(|edit| if let Edit::SetShaft(shaft) = edit { Some(shaft) } else { None })
    else {
        return Ok(());
    };
    let old = &job.shaft;
    let (start_s_mm, end_s_mm) = (new.wanted_start_s_mm, new.wanted_start_s_mm + new.wanted_length_mm());
    let past_mm = |shaft: &Shaft| {
        let end_s_mm = shaft.wanted_start_s_mm + shaft.wanted_length_mm();
        (-shaft.wanted_start_s_mm).max(end_s_mm - shaft.length_mm())
    };
    if past_mm(new) > past_mm(old).max(0.0) + SAME_MM {
        let end = if end_s_mm > new.length_mm() + SAME_MM { end_s_mm - new.length_mm() } else { -start_s_mm };
        let by = show(end, Kind::Length, job.units);
        return Err(impossible("The finished part", format!("would reach {by} past its stock")));
    }
    let diameter = |mm: f64| show(mm, Kind::Diameter, job.units);
    if let (Some((land, over_mm, stock_mm)), before) = (tightest(new), tightest(old))
        && over_mm > before.map_or(0.0, |(_, over_mm, _)| over_mm.max(0.0)) + SAME_MM
    {
        let why = format!("would be larger than its stock, {}", diameter(stock_mm));
        return Err(impossible(land_name(land), why));
    }
    if let Some((land, bore_mm)) = without_wall(new)
        && without_wall(old).is_none()
    {
        return Err(impossible(land_name(land), format!("would leave no wall around its bore, {}", diameter(bore_mm))));
    }
    if let Some(name) = cut_by_a_shoulder(new)
        && cut_by_a_shoulder(old).is_none()
    {
        return Err(impossible("The shoulder", format!("would stand in the {name}")));
    }
    Ok(())
}

/// The land that is larger than its stock by most (or smaller by least), by how much, and that stock.
fn tightest(shaft: &Shaft) -> Option<(usize, f64, f64)> {
    let lands = shaft.wanted_spans().enumerate();
    let places = lands.flat_map(|(index, (from, to, wanted))| {
        shaft.stock_spans().flat_map(move |(stock_from, stock_to, land)| {
            let (low, high) = (from.max(stock_from), to.min(stock_to));
            let ends = if high - low > SAME_MM { vec![low, high] } else { Vec::new() };
            let over = move |s_mm: f64| {
                let stock_mm = land.diameter_at_mm(s_mm - stock_from);
                (index, wanted.land.diameter_at_mm(s_mm - from) - stock_mm, stock_mm)
            };
            ends.into_iter().map(over)
        })
    });
    places.max_by(|a, b| a.1.total_cmp(&b.1))
}

/// The first land that is no larger than its bore somewhere, and the bore there.
fn without_wall(shaft: &Shaft) -> Option<(usize, f64)> {
    shaft.wanted_spans().enumerate().find_map(|(index, (from, to, wanted))| {
        shaft.bores.iter().find_map(|bore| {
            let (low, high) = (from.max(bore.from_s_mm), to.min(bore.to_s_mm));
            let ends = if high - low > SAME_MM { vec![low, high] } else { Vec::new() };
            let thin = |s_mm: &f64| shaft.bore_diameter_mm(*s_mm) >= wanted.land.diameter_at_mm(s_mm - from) - SAME_MM;
            ends.into_iter().find(thin).map(|s_mm| (index, shaft.bore_diameter_mm(s_mm)))
        })
    })
}

/// What has a shoulder in it and cannot have one.
fn cut_by_a_shoulder(shaft: &Shaft) -> Option<&'static str> {
    let shoulders = shoulders_s_mm(shaft);
    shaft.features.iter().find_map(|feature| {
        let inside = |s_mm: &f64| feature.from_s_mm + 0.05 < *s_mm && *s_mm < feature.to_s_mm - 0.05;
        (feature.kind.needs_one_land() && shoulders.iter().any(inside)).then(|| feature.kind.name())
    })
}
