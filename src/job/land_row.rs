//! A land of the finished part as one row of a table: its sizes, tolerance and use, and the bore, thread and keyway on
//! it. Rows are what is typed, copied and pasted; the shaft behind them keeps places of its own for features and bores.

use super::{BoreLand, Feature, FeatureKind, Land, Shaft, Tolerance, WantedLand};

/// One land with all that is on it.
#[derive(Clone, Debug, PartialEq)]
pub struct LandRow {
    pub wanted: WantedLand,
    /// A straight bore all along the land.
    pub bore_mm: Option<f64>,
    /// Pitch of a thread on it.
    pub thread_mm: Option<f64>,
    pub keyway: Option<Keyway>,
}

/// The size of a keyway.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Keyway {
    pub width_mm: f64,
    pub depth_mm: f64,
}

/// A hair of slack at the ends of lands, whose places are sums.
const SLACK_MM: f64 = 1e-6;

impl LandRow {
    /// A plain cylinder without anything on it.
    #[must_use]
    pub fn plain(length_mm: f64, diameter_mm: f64) -> Self {
        let land = Land::cylinder(length_mm, diameter_mm);
        let wanted = WantedLand { land, tolerance: Tolerance::Free, name: String::new() };
        Self { wanted, bore_mm: None, thread_mm: None, keyway: None }
    }

    /// The rows of a shaft's finished part.
    #[must_use]
    pub fn of_shaft(shaft: &Shaft) -> Vec<Self> {
        let row = |(from_s_mm, to_s_mm, wanted): (f64, f64, &WantedLand)| {
            let mut kinds = shaft.features.iter().filter(|one| is_on(one, from_s_mm, to_s_mm)).map(|one| one.kind);
            let thread_mm = kinds.clone().find_map(|kind| match kind {
                FeatureKind::Thread { pitch_mm } => Some(pitch_mm),
                _ => None,
            });
            let keyway = kinds.find_map(|kind| match kind {
                FeatureKind::Keyway { width_mm, depth_mm } => Some(Keyway { width_mm, depth_mm }),
                _ => None,
            });
            Self { wanted: wanted.clone(), bore_mm: bore_along_mm(shaft, from_s_mm, to_s_mm), thread_mm, keyway }
        };
        shaft.wanted_spans().map(row).collect()
    }

    /// The shaft with these rows as its finished part. What a row says as it said before stays as it lies; other lands'
    /// threads, keyways and bores are laid anew, over the whole land or in its middle.
    #[must_use]
    pub fn on_shaft(rows: &[Self], shaft: &Shaft) -> Shaft {
        let before = Self::of_shaft(shaft);
        let mut new = shaft.clone();
        new.wanted = rows.iter().map(|row| row.wanted.clone()).collect();
        let same_lands = new.wanted.len() == shaft.wanted.len();
        if !same_lands {
            new.features.retain(|one| !is_thread(one.kind) && !is_keyway(one.kind));
            new.bores.clear();
        }
        let spans: Vec<(f64, f64)> = new.wanted_spans().map(|(from, to, _)| (from, to)).collect();
        for (index, (row, span)) in rows.iter().zip(spans).enumerate() {
            let old = before.get(index).filter(|_| same_lands);
            if old.map_or(row.thread_mm.is_some(), |old| old.thread_mm != row.thread_mm) {
                lay(&mut new, span, is_thread, row.thread_mm.map(|pitch_mm| FeatureKind::Thread { pitch_mm }));
            }
            if old.map_or(row.keyway.is_some(), |old| old.keyway != row.keyway) {
                let kind = row.keyway.map(|Keyway { width_mm, depth_mm }| FeatureKind::Keyway { width_mm, depth_mm });
                lay(&mut new, span, is_keyway, kind);
            }
            if old.map_or(row.bore_mm.is_some(), |old| old.bore_mm != row.bore_mm) {
                bore(&mut new, span, row.bore_mm);
            }
        }
        new
    }
}

fn is_on(feature: &Feature, from_s_mm: f64, to_s_mm: f64) -> bool {
    let middle_mm = f64::midpoint(feature.from_s_mm, feature.to_s_mm);
    (from_s_mm..to_s_mm).contains(&middle_mm)
}

fn is_thread(kind: FeatureKind) -> bool {
    matches!(kind, FeatureKind::Thread { .. })
}

fn is_keyway(kind: FeatureKind) -> bool {
    matches!(kind, FeatureKind::Keyway { .. })
}

/// The one straight bore along a stretch.
fn bore_along_mm(shaft: &Shaft, from_s_mm: f64, to_s_mm: f64) -> Option<f64> {
    let along = shaft.bores.iter().find(|bore| {
        let straight = bore.start_diameter_mm.to_bits() == bore.end_diameter_mm.to_bits();
        straight && bore.from_s_mm <= from_s_mm + SLACK_MM && bore.to_s_mm >= to_s_mm - SLACK_MM
    })?;
    let alone = shaft.bores.iter().all(|other| {
        std::ptr::eq(other, along) || other.to_s_mm <= from_s_mm + SLACK_MM || other.from_s_mm >= to_s_mm - SLACK_MM
    });
    alone.then_some(along.start_diameter_mm)
}

/// Changes the features of one kind on a land: its size where there is one, or lays one.
fn lay(shaft: &mut Shaft, (from_s_mm, to_s_mm): (f64, f64), is: fn(FeatureKind) -> bool, kind: Option<FeatureKind>) {
    let Some(kind) = kind else {
        shaft.features.retain(|one| !(is(one.kind) && is_on(one, from_s_mm, to_s_mm)));
        return;
    };
    if let Some(there) = shaft.features.iter_mut().find(|one| is(one.kind) && is_on(one, from_s_mm, to_s_mm)) {
        there.kind = kind;
        return;
    }
    let land = shaft.wanted_spans().position(|(from, _, _)| (from - from_s_mm).abs() < SLACK_MM).unwrap_or(0);
    let middle_mm = f64::midpoint(from_s_mm, to_s_mm);
    if let Some(usual) = Feature::usual_on(shaft, land, kind, middle_mm) {
        shaft.features.push(Feature { kind, ..usual });
    }
}

/// Bores a stretch to one diameter, or fills it up; what lies beside it stays, and equal neighbours become one.
fn bore(shaft: &mut Shaft, (from_s_mm, to_s_mm): (f64, f64), bore_mm: Option<f64>) {
    let mut bores: Vec<BoreLand> = Vec::with_capacity(shaft.bores.len() + 1);
    for one in &shaft.bores {
        let at_mm = |s_mm: f64| {
            let share = (s_mm - one.from_s_mm) / (one.to_s_mm - one.from_s_mm);
            one.start_diameter_mm + (one.end_diameter_mm - one.start_diameter_mm) * share
        };
        for (from, to) in [(one.from_s_mm, one.to_s_mm.min(from_s_mm)), (one.from_s_mm.max(to_s_mm), one.to_s_mm)] {
            if to - from > SLACK_MM {
                let (start_diameter_mm, end_diameter_mm) = (at_mm(from), at_mm(to));
                bores.push(BoreLand { from_s_mm: from, to_s_mm: to, start_diameter_mm, end_diameter_mm });
            }
        }
    }
    if let Some(diameter_mm) = bore_mm {
        bores.push(BoreLand { from_s_mm, to_s_mm, start_diameter_mm: diameter_mm, end_diameter_mm: diameter_mm });
    }
    bores.sort_by(|a, b| a.from_s_mm.total_cmp(&b.from_s_mm));
    shaft.bores.clear();
    for one in bores {
        if let Some(last) = shaft.bores.last_mut()
            && (one.from_s_mm - last.to_s_mm).abs() < SLACK_MM
            && [last.start_diameter_mm, last.end_diameter_mm, one.end_diameter_mm]
                .iter()
                .all(|mm| mm.to_bits() == one.start_diameter_mm.to_bits())
        {
            last.to_s_mm = one.to_s_mm;
        } else {
            shaft.bores.push(one);
        }
    }
}
