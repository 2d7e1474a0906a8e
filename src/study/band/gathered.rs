//! What the members of one pass come to, and the band they make.

use super::reach::{Plane, Scratch};
use super::{Curve, LoadBand, PassBand, same_place};
use crate::study::results::{PassResult, Status, Support};

/// The members of one pass.
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
    pub fn band(&self, fine: &PassResult, plane: &Plane, scratch: &mut Scratch) -> Option<PassBand> {
        if self.first.status != Status::Solved || fine.status != Status::Solved || self.n_held == 0 {
            return None;
        }
        let mut column = Vec::with_capacity(self.n_held);
        let mut reach = |rows: &[f64], row: usize, at: usize| {
            column.clear();
            column.extend(rows.iter().skip(at).step_by(row));
            plane.reach(&column, scratch)
        };
        let (n_curves, n_stations) = (self.curves.len(), self.first.stations.len());
        let row = n_stations * n_curves;
        let offs_mm = (0..n_curves)
            .map(|curve| (0..n_stations).map(|station| reach(&self.offs_mm, row, station * n_curves + curve)).collect())
            .collect();
        let mut loads = Vec::with_capacity(self.supports.len());
        for (index, &support) in self.supports.iter().enumerate() {
            let [below_n, above_n] = reach(&self.offs_n, self.supports.len(), index);
            let largest_n = fine.largest_n(support)?;
            // No support pulls.
            loads.push(LoadBand { support, largest_n: [(largest_n + below_n).max(0.0), largest_n + above_n] });
        }
        Some(PassBand {
            pass: fine.pass,
            z_mm: self.first.stations.iter().map(|station| station.z_mm).collect(),
            curves: self.curves,
            offs_mm,
            loads,
            n_members: self.n_held + self.n_lost,
            n_lost: self.n_lost,
        })
    }
}
