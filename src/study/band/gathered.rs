//! What the members of one pass come to, and the band they make.

use std::sync::{Arc, OnceLock};

use super::reach::{Plane, Scratch};
use super::{Curve, LoadBand, PassBand, same_place};
use crate::study::results::{PassResult, Status, Support};

/// The members of one pass.
#[derive(Debug)]
pub struct Gathered {
    /// The pass as the job stands.
    first: PassResult,
    curves: &'static [Curve],
    supports: Vec<Support>,
    largest_n: Vec<f64>,
    /// Of every member that holds: every station's differences to `first`, by curve.
    offs_mm: Vec<f64>,
    /// Of every member that holds: the difference of the largest force of each support.
    offs_n: Vec<f64>,
    n_held: usize,
    n_lost: usize,
}

impl Gathered {
    /// Of a pass as the job stands, which is the first member.
    pub fn new(first: &PassResult, n_members: usize, curves: &'static [Curve]) -> Self {
        let (supports, largest_n): (Vec<Support>, Vec<f64>) = (first.supports.iter())
            .filter(|support| !matches!(support, Support::DriveY | Support::TailY))
            .filter_map(|support| Some((*support, first.largest_n(*support)?)))
            .unzip();
        let mut gathered = Self {
            offs_mm: Vec::with_capacity(n_members * first.stations.len() * curves.len()),
            offs_n: Vec::with_capacity(n_members * supports.len()),
            first: first.clone(),
            curves,
            supports,
            largest_n,
            n_held: 0,
            n_lost: 0,
        };
        gathered.add(Some(first));
        gathered
    }

    /// Takes a member in; `None` where a pass before this one already failed.
    pub fn add(&mut self, pass: Option<&PassResult>) {
        let stations = &self.first.stations;
        let same_places = |pass: &&PassResult| {
            pass.stations.len() == stations.len()
                && pass.stations.iter().zip(stations).all(|(one, first)| same_place(one.z_mm, first.z_mm))
        };
        let (before_mm, before_n) = (self.offs_mm.len(), self.offs_n.len());
        if let Some(pass) = pass.filter(|pass| pass.status == Status::Solved).filter(same_places) {
            for (one, first) in pass.stations.iter().zip(stations) {
                self.offs_mm.extend(self.curves.iter().map(|curve| curve.read_mm(one) - curve.read_mm(first)));
            }
            let largest_n = self.supports.iter().filter_map(|support| pass.largest_n(*support));
            self.offs_n.extend(largest_n.zip(&self.largest_n).map(|(one_n, first_n)| one_n - first_n));
            let all_finite = |offs: &[f64]| offs.iter().all(|off| off.is_finite());
            if all_finite(&self.offs_mm[before_mm..]) && all_finite(&self.offs_n[before_n..]) {
                self.n_held += 1;
                return;
            }
        }
        self.offs_mm.truncate(before_mm);
        self.offs_n.truncate(before_n);
        self.n_lost += 1;
    }

    /// The band to put round the finely computed pass; nothing where that has no figures to rely on.
    pub fn band(self, fine: &PassResult, plane: &Arc<Plane>, scratch: &mut Scratch) -> Option<PassBand> {
        if self.first.status != Status::Solved || fine.status != Status::Solved || self.n_held == 0 {
            return None;
        }
        let mut loads = Vec::with_capacity(self.supports.len());
        for (index, &support) in self.supports.iter().enumerate() {
            let [below_n, above_n] = plane.reach_at(&self.offs_n, self.supports.len(), index, scratch);
            let largest_n = fine.largest_n(support)?;
            // No support pulls.
            loads.push(LoadBand { support, largest_n: [(largest_n + below_n).max(0.0), largest_n + above_n] });
        }
        Some(PassBand {
            pass: fine.pass,
            z_mm: self.first.stations.iter().map(|station| station.z_mm).collect(),
            loads,
            n_members: self.n_held + self.n_lost,
            n_lost: self.n_lost,
            reaches: Reaches::of(self, plane),
        })
    }
}

/// How far the curves of a pass reach below and above what is drawn. A curve is worked out when it is first asked for:
/// few are looked at.
#[derive(Clone, Debug)]
pub struct Reaches {
    gathered: Arc<Gathered>,
    plane: Arc<Plane>,
    by_curve_mm: Vec<OnceLock<Vec<[f64; 2]>>>,
}

impl Reaches {
    fn of(gathered: Gathered, plane: &Arc<Plane>) -> Self {
        let by_curve_mm = vec![OnceLock::new(); gathered.curves.len()];
        Self { gathered: Arc::new(gathered), plane: plane.clone(), by_curve_mm }
    }

    /// At every coarse station of a curve; nothing where it has no band.
    pub fn of_curve_mm(&self, curve: Curve) -> &[[f64; 2]] {
        let number = self.gathered.curves.iter().position(|other| *other == curve);
        number.map_or(&[], |number| self.at_mm(number))
    }

    /// Of all curves, one after the other.
    pub fn all_mm(&self) -> impl Iterator<Item = &[[f64; 2]]> {
        (0..self.by_curve_mm.len()).map(|number| self.at_mm(number))
    }

    fn at_mm(&self, number: usize) -> &[[f64; 2]] {
        self.by_curve_mm[number].get_or_init(|| {
            let Gathered { curves, first, offs_mm, .. } = &*self.gathered;
            let (n_curves, n_stations) = (curves.len(), first.stations.len());
            let mut scratch = Scratch::default();
            let mut reach_mm = |station: usize| {
                self.plane.reach_at(offs_mm, n_stations * n_curves, station * n_curves + number, &mut scratch)
            };
            (0..n_stations).map(&mut reach_mm).collect()
        })
    }
}

impl PartialEq for Reaches {
    fn eq(&self, other: &Self) -> bool {
        self.gathered.curves == other.gathered.curves && self.all_mm().eq(other.all_mm())
    }
}
