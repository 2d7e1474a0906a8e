//! What goes along when the shoulders of the finished part move: shoulders of the stock, bores, features, ends of cuts,
//! and the diameters cuts are set to.
//!
//! A place on a shoulder goes with it; a place within a land goes with the land where the whole of it is shifted, and
//! stays where only one of its ends is. Common practice, no source.

use super::{impossible, shoulders_s_mm};
use crate::job::{Cut, Edit, EditError, Feature, FeatureKind, Job, Land, Pass, PassKind, Setup, Shaft};

/// Nearer than this to a shoulder is on it.
const ON_MM: f64 = 0.05;
/// A cut to a diameter that comes as near to a land's size keeps what it leaves on it. Common practice, no source.
const LEAVES_AT_MOST_MM: f64 = 2.0;
/// As far under a land's size a cut may aim and still belong to it.
const UNDER_MM: f64 = 0.5;

/// Where everything along the shaft goes.
struct Way {
    /// Shoulders before, and how far each goes.
    shoulders: Vec<(f64, f64)>,
    /// Where the stock ended, and how far its end goes.
    end: (f64, f64),
}

impl Way {
    fn of(old: &Shaft, new: &Shaft) -> Self {
        let shoulders: Vec<(f64, f64)> =
            shoulders_s_mm(old).into_iter().zip(shoulders_s_mm(new)).map(|(from, to)| (from, to - from)).collect();
        let mut way = Self { shoulders, end: (old.length_mm(), 0.0) };
        way.end.1 = way.by_shoulder_mm(way.end.0).unwrap_or(0.0);
        way
    }

    /// How far the shoulder at a place goes; `None` where there is none.
    fn by_shoulder_mm(&self, s_mm: f64) -> Option<f64> {
        self.shoulders.iter().find(|(at_mm, _)| (at_mm - s_mm).abs() < ON_MM).map(|(_, by_mm)| *by_mm)
    }

    fn by_mm(&self, s_mm: f64) -> f64 {
        if let Some(by_mm) = self.by_shoulder_mm(s_mm) {
            return by_mm;
        }
        if s_mm > self.end.0 - ON_MM {
            return self.end.1;
        }
        let around = self.shoulders.windows(2).find(|pair| pair[0].0 < s_mm && s_mm < pair[1].0);
        around.filter(|pair| (pair[0].1 - pair[1].1).abs() < 1e-9).map_or(0.0, |pair| pair[0].1)
    }

    fn moved_mm(&self, s_mm: f64) -> f64 {
        s_mm + self.by_mm(s_mm)
    }

    /// Both ends of something that keeps its length.
    fn moved_whole(&self, from_mm: f64, to_mm: f64) -> (f64, f64) {
        let by_mm = self.by_shoulder_mm(from_mm).or_else(|| self.by_shoulder_mm(to_mm));
        let by_mm = by_mm.unwrap_or_else(|| self.by_mm(f64::midpoint(from_mm, to_mm)));
        (from_mm + by_mm, to_mm + by_mm)
    }
}

/// The shaft in place of the job's, and what hangs on it; every pass is named, so that one such edit undoes another.
pub(super) fn carried(job: &Job, mut shaft: Shaft) -> Result<Edit, EditError> {
    let old = &job.shaft;
    if shaft.wanted.len() != old.wanted.len() || old.wanted.is_empty() {
        return Ok(Edit::SetShaft(shaft));
    }
    let way = Way::of(old, &shaft);
    if shaft.stock == old.stock {
        shaft.stock = stock(old, &way);
    }
    if shaft.bores == old.bores {
        for bore in &mut shaft.bores {
            (bore.from_s_mm, bore.to_s_mm) = (way.moved_mm(bore.from_s_mm), way.moved_mm(bore.to_s_mm));
        }
    }
    if shaft.features == old.features {
        for (index, one) in shaft.features.iter_mut().enumerate() {
            *one = feature(*one, &way);
            if one.to_s_mm < one.from_s_mm {
                return Err(impossible(format!("Feature {}", index + 1), "would have no length left"));
            }
        }
    }
    let mut edits = vec![Edit::SetShaft(shaft.clone())];
    for (number, setup) in job.setups.iter().enumerate() {
        for (index, one) in setup.passes.iter().enumerate() {
            let carried = pass(job, setup, one, &shaft, &way);
            if (carried.to_z_mm - carried.from_z_mm) * (one.to_z_mm - one.from_z_mm) < 0.0 {
                let what = format!("Set-up {}, pass {}", number + 1, index + 1);
                return Err(impossible(what, "would have nothing left to cut"));
            }
            edits.push(Edit::SetPass { setup: setup.id, pass: carried });
        }
    }
    Ok(Edit::Together(edits))
}

/// The stock with the shoulders that stand on those of the finished part; a land without length is left to the job to
/// refuse.
fn stock(old: &Shaft, way: &Way) -> Vec<Land> {
    let mut start_s_mm = 0.0;
    old.stock_spans()
        .map(|(_, to_s_mm, land)| {
            let end_s_mm = way.moved_mm(to_s_mm);
            let length_mm = end_s_mm - start_s_mm;
            start_s_mm = end_s_mm;
            // Sums are not exact: what was not moved stays to the last bit.
            let same = (length_mm - land.length_mm).abs() < 1e-9;
            Land { length_mm: if same { land.length_mm } else { length_mm }, ..*land }
        })
        .collect()
}

/// What has its size of a tool or a key keeps it; what covers the work up to a shoulder goes on covering it.
fn feature(feature: Feature, way: &Way) -> Feature {
    let Feature { kind, from_s_mm, to_s_mm } = feature;
    let (from_s_mm, to_s_mm) = match kind {
        FeatureKind::Keyway { .. } | FeatureKind::CrossHole { .. } | FeatureKind::Groove { .. } | FeatureKind::Weld => {
            way.moved_whole(from_s_mm, to_s_mm)
        }
        FeatureKind::Thread { .. } | FeatureKind::Flat | FeatureKind::Spline | FeatureKind::TrueSpot => {
            (way.moved_mm(from_s_mm), way.moved_mm(to_s_mm))
        }
    };
    Feature { kind, from_s_mm, to_s_mm }
}

fn pass(job: &Job, setup: &Setup, pass: &Pass, shaft: &Shaft, way: &Way) -> Pass {
    let s_mm = |z_mm: f64| setup.s_of_z_mm(&job.shaft, z_mm);
    let ends = (s_mm(pass.from_z_mm), s_mm(pass.to_z_mm));
    let (from_s_mm, to_s_mm) = match pass.kind {
        PassKind::Turn | PassKind::Spring | PassKind::Thread | PassKind::Bore => {
            (way.moved_mm(ends.0), way.moved_mm(ends.1))
        }
        PassKind::Face | PassKind::Drill | PassKind::Groove | PassKind::Part => way.moved_whole(ends.0, ends.1),
    };
    let place = |old_s_mm: f64, s_mm: f64, z_mm: f64| {
        let new_z_mm = setup.z_of_s_mm(shaft, s_mm);
        let stays = (old_s_mm - s_mm).abs() < 1e-9 && (new_z_mm - z_mm).abs() < 1e-9;
        if stays { z_mm } else { new_z_mm }
    };
    Pass {
        from_z_mm: place(ends.0, from_s_mm, pass.from_z_mm),
        to_z_mm: place(ends.1, to_s_mm, pass.to_z_mm),
        cut: cut(&job.shaft, shaft, pass, ends),
        ..pass.clone()
    }
}

/// A cut to a diameter leaves as much on the largest land it belongs to as before.
fn cut(old: &Shaft, new: &Shaft, pass: &Pass, (from_s_mm, to_s_mm): (f64, f64)) -> Cut {
    let Cut::ToDiameter { diameter_mm } = pass.cut else { return pass.cut };
    if pass.kind != PassKind::Turn {
        return pass.cut;
    }
    let (low_mm, high_mm) = (from_s_mm.min(to_s_mm), from_s_mm.max(to_s_mm));
    let size_mm = |land: &Land| land.start_diameter_mm.max(land.end_diameter_mm);
    let over = old.wanted_spans().zip(&new.wanted).filter(|((from, to, wanted), _)| {
        to.min(high_mm) - from.max(low_mm) > 1.0 && size_mm(&wanted.land) <= diameter_mm + UNDER_MM
    });
    let sizes = over.map(|((_, _, wanted), new)| (size_mm(&wanted.land), size_mm(&new.land)));
    let largest = sizes.reduce(|a, b| (a.0.max(b.0), a.1.max(b.1)));
    match largest {
        Some((old_mm, new_mm)) if diameter_mm - old_mm <= LEAVES_AT_MOST_MM && (old_mm - new_mm).abs() > 1e-9 => {
            Cut::ToDiameter { diameter_mm: new_mm + (diameter_mm - old_mm) }
        }
        _ => pass.cut,
    }
}
