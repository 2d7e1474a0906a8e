//! Where the passes of a set-up really take something off, and which set-up cut each place of the outside last.

use super::SAME_MM;
use crate::job::{Job, Setup, SetupId};
use crate::study::results::{Measured, PassResult, SetupResult, Span, Status};

/// Less than this on diameter is no cut: the tool goes over what was there, and no shop micrometer (0.01 mm a division)
/// tells the difference. Common practice, no source.
const SKIN_MM: f64 = 0.005;

/// What a run is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RunKind {
    Outside,
    Thread,
    Bore,
}

/// A length of the shaft that a set-up cuts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run {
    pub kind: RunKind,
    pub from_s_mm: f64,
    pub to_s_mm: f64,
}

/// What the passes of a set-up cut: outside, then threads, then holes, each rising and without touching neighbours.
pub fn of_setup(job: &Job, setup: &Setup, computed: &SetupResult) -> Vec<Run> {
    let mut all: Vec<Run> = Vec::new();
    for pass in &computed.passes {
        if !matches!(pass.status, Status::Solved | Status::StoppedEarly) {
            continue;
        }
        let kind = match pass.measured {
            Measured::Outside => RunKind::Outside,
            Measured::ThreadRoot => RunKind::Thread,
            Measured::Bore => RunKind::Bore,
            Measured::Nothing => {
                all.extend(drilled(pass));
                continue;
            }
        };
        all.extend(cut_by(job, setup, pass, kind));
    }
    [RunKind::Outside, RunKind::Thread, RunKind::Bore]
        .into_iter()
        .flat_map(|kind| joined(all.iter().filter(|run| run.kind == kind).copied().collect()))
        .collect()
}

/// The lengths between stations at which the tool cuts.
fn cut_by(job: &Job, setup: &Setup, pass: &PassResult, kind: RunKind) -> Vec<Run> {
    (pass.stations.windows(2))
        .filter(|pair| pair[1].z_mm - pair[0].z_mm > SAME_MM / 10.0)
        .filter(|pair| pair.iter().all(|station| station.real_depth_mm > SKIN_MM))
        .map(|pair| {
            let ends = [pair[0].z_mm, pair[1].z_mm].map(|z_mm| setup.s_of_z_mm(&job.shaft, z_mm));
            Run { kind, from_s_mm: ends[0].min(ends[1]), to_s_mm: ends[0].max(ends[1]) }
        })
        .collect()
}

/// Holes that are there after a pass and were not before.
fn drilled(pass: &PassResult) -> Vec<Run> {
    let is_new = |span: &&Span| !pass.before.bored.contains(span);
    let run = |span: &Span| Run { kind: RunKind::Bore, from_s_mm: span.from_s_mm, to_s_mm: span.to_s_mm };
    pass.after.bored.iter().filter(is_new).map(run).collect()
}

/// Runs of one kind, those that touch made one.
fn joined(mut runs: Vec<Run>) -> Vec<Run> {
    runs.sort_by(|a, b| a.from_s_mm.total_cmp(&b.from_s_mm));
    let mut all: Vec<Run> = Vec::new();
    for run in runs {
        match all.last_mut() {
            Some(last) if run.from_s_mm <= last.to_s_mm + SAME_MM => last.to_s_mm = last.to_s_mm.max(run.to_s_mm),
            _ => all.push(run),
        }
    }
    all
}

/// A length of the outside and the set-up that cut it last.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LastCut {
    pub from_s_mm: f64,
    pub to_s_mm: f64,
    pub by: SetupId,
}

/// Who cut what last: rising, with gaps where nobody did.
#[derive(Debug, Default)]
pub struct Painted(Vec<LastCut>);

impl Painted {
    /// Puts a run over what was there.
    pub fn paint(&mut self, run: &Run, by: SetupId) {
        let mut all = Vec::with_capacity(self.0.len() + 2);
        for old in &self.0 {
            let before = LastCut { to_s_mm: old.to_s_mm.min(run.from_s_mm), ..*old };
            let after = LastCut { from_s_mm: old.from_s_mm.max(run.to_s_mm), ..*old };
            all.extend([before, after].into_iter().filter(|part| part.to_s_mm - part.from_s_mm > SAME_MM));
        }
        all.push(LastCut { from_s_mm: run.from_s_mm, to_s_mm: run.to_s_mm, by });
        all.sort_by(|a, b| a.from_s_mm.total_cmp(&b.from_s_mm));
        self.0 = all;
    }

    /// Who cut a place last.
    pub fn at(&self, s_mm: f64) -> Option<SetupId> {
        self.0.iter().find(|run| (run.from_s_mm..run.to_s_mm).contains(&s_mm)).map(|run| run.by)
    }

    /// Where the answer changes.
    pub fn breaks_mm(&self) -> impl Iterator<Item = f64> + '_ {
        self.0.iter().flat_map(|run| [run.from_s_mm, run.to_s_mm])
    }

    /// All of it.
    pub fn runs(&self) -> &[LastCut] {
        &self.0
    }
}
