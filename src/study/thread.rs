//! Threading: a pointed tool fed straight in, pass after pass on the bottom of the thread, the crests left alone.
//!
//! The surface that is cut is the root: where a thread pass has been, the bottom it really left; elsewhere the outside.
//! So a thread pass is a sweep over an outline with the roots in place of the crests, with the law of
//! [`crate::mechanics::cutting::ThreadChip`] and with a follower that rides on the crests. What carries is the root:
//! a little too soft (the ridges add some stiffness, by which the spring comes out at most about a fifth too large), so
//! it errs on the safe side. The feed is the pitch.
//!
//! Source: ISO 68-1 and ISO 965: h3 = 17/24 H = 0.61343 P (from memory, sure; agrees with printed tables of depths).

use std::sync::Arc;

use super::force::{Engagement, ForceModel};
use super::outline::{Found, Outline, Piece, SAME_PLACE_MM, Side};
use super::prepared::{Prepared, Scene, Sides, side_index};
use super::results::{Measured, PassResult, Status};
use super::sweep::{Room, fresh_pieces, run_through};
use super::task::Task;

/// Depth of an outside thread for each unit of pitch: 17/24 of the height √3/2 P of the sharp profile.
pub const DEPTH_PER_PITCH_RATIO: f64 = 17.0 / 24.0 * 0.866_025_403_784_438_6;

/// Deepest single cut that tables of infeeds show, radial. Source: two threading-tool makers' tables (read).
const DEEPEST_INFEED_MM: f64 = 0.5;

/// Pitch and number of passes. Source: a threading-tool maker's table (read).
const PASS_COUNTS: [(f64, f64); 8] =
    [(0.75, 4.0), (1.0, 5.0), (1.25, 7.0), (1.5, 8.0), (1.75, 10.0), (2.0, 12.0), (2.5, 14.0), (3.0, 16.0)];

/// Infeeds that are printed for a pitch. Source: another threading-tool maker's table (read).
const PRINTED_INFEEDS: [(f64, &[f64]); 3] = [
    (1.0, &[0.20, 0.15, 0.10, 0.10, 0.06]),
    (1.5, &[0.25, 0.20, 0.15, 0.15, 0.10, 0.07]),
    (2.0, &[0.25, 0.25, 0.20, 0.15, 0.15, 0.10, 0.08, 0.05]),
];

/// Depth of an outside thread from crest to root, radial.
#[must_use]
pub fn full_depth_mm(pitch_mm: f64) -> f64 {
    DEPTH_PER_PITCH_RATIO * pitch_mm
}

/// How deep each pass usually goes for a pitch (0.2 mm or more), radial, first pass first.
///
/// As printed for 1, 1.5 and 2 mm (there they add up to the full depth within 0.005 mm). For other pitches every pass
/// takes the same area: after pass i of n the thread is `h √(i/n)` deep (textbooks, from memory, sure), with as many
/// passes as the table says, and more where the first would go deeper than 0.5 mm.
#[must_use]
pub fn usual_infeeds_mm(pitch_mm: f64) -> Vec<f64> {
    if let Some((_, printed)) = PRINTED_INFEEDS.iter().find(|(pitch, _)| (pitch - pitch_mm).abs() < 1e-6) {
        return printed.to_vec();
    }
    let full_mm = full_depth_mm(pitch_mm.max(0.0));
    let fewest = (full_mm / DEEPEST_INFEED_MM).powi(2);
    let n_passes = pass_count(pitch_mm).max(fewest).ceil().clamp(1.0, 1000.0);
    let deep_mm = |pass: f64| full_mm * (pass / n_passes).sqrt();
    let mut infeeds_mm = Vec::new();
    let mut pass = 1.0;
    while pass <= n_passes {
        infeeds_mm.push(deep_mm(pass) - deep_mm(pass - 1.0));
        pass += 1.0;
    }
    infeeds_mm
}

/// Number of passes of the table, between its pitches in a straight line, beyond its ends that of the end.
fn pass_count(pitch_mm: f64) -> f64 {
    let after = PASS_COUNTS.partition_point(|(pitch, _)| *pitch < pitch_mm);
    let (Some(low), Some(high)) = (after.checked_sub(1).map(|index| PASS_COUNTS[index]), PASS_COUNTS.get(after)) else {
        return PASS_COUNTS[after.min(PASS_COUNTS.len() - 1)].1;
    };
    low.1 + (high.1 - low.1) * (pitch_mm - low.0) / (high.0 - low.0)
}

/// A thread pass as a sweep over the roots.
#[derive(Clone, Debug)]
pub struct OverRoots<'a> {
    /// The set-up, the drawing read as that of the roots.
    pub scene: Scene<'a>,
    /// The work with the roots in place of the crests.
    pub outline: Outline,
    crests: &'a Outline,
}

impl<'a> OverRoots<'a> {
    /// The roots of the work a pass finds, for a thread of this pitch.
    #[must_use]
    pub fn new(task: &Task<'a>, pitch_mm: f64) -> Self {
        let crests = task.outline;
        let mut outline = Outline { roots: Vec::new(), ..crests.clone() };
        for run in crests.roots.chunk_by(|one, next| next.from_z_mm - one.to_z_mm < SAME_PLACE_MM) {
            outline = outline.with_fresh(run);
        }
        let mut scene = task.scene.clone();
        scene.wanted = drawn_roots(crests, &task.scene.wanted, 2.0 * full_depth_mm(pitch_mm));
        Self { scene, outline, crests }
    }

    /// Makes the pass ready, at all its stations or at one place of the tool only.
    #[must_use]
    pub fn prepare(&self, task: &Task<'a>, only_tool_mm: Option<f64>) -> Prepared {
        let mut prepared = self.scene.prepare(&self.outline, Some(task.pass), only_tool_mm);
        prepared.crest = Some(outside(self.crests, &prepared));
        prepared
    }
}

/// What the outside is at every node of a prepared pass.
#[must_use]
pub fn outside(outline: &Outline, prepared: &Prepared) -> Vec<Sides<Found>> {
    let mut reader = outline.reader();
    (prepared.layout.nodes_mm.iter().zip(&prepared.sizes))
        .map(|(z_mm, sizes)| {
            [Side::Headstock, Side::Tailstock].map(|side| {
                let there = &sizes[side_index(side)];
                let as_cut = Found { diameter_mm: there.old_mm, dial_mm: there.old_dial_mm, off_mm: there.old_off_mm };
                reader.at(*z_mm, side).unwrap_or(as_cut)
            })
        })
        .collect()
}

/// The bottom of a full thread: below the drawing where something is drawn, elsewhere below the crest the dial stood at.
fn drawn_roots(crests: &Outline, wanted: &Outline, below_mm: f64) -> Outline {
    let lowered = |piece: &Piece| {
        let dial_mm = piece.dial_mm.map(|dial_mm| (dial_mm - below_mm).max(1e-3));
        Piece { diameter_mm: dial_mm, dial_mm, ..*piece }
    };
    let present = Outline { pieces: crests.pieces.iter().map(lowered).collect(), ..Outline::default() };
    let drawn: Vec<Piece> = wanted.pieces.iter().map(lowered).collect();
    present.with_fresh(&drawn)
}

/// Computes a thread pass, or a spring pass after one.
#[must_use]
pub fn sweep(task: &Task, pitch_mm: f64, room: &mut Room, mut result: PassResult) -> PassResult {
    result.measured = Measured::ThreadRoot;
    let Some(cut) = task.scene.cut_span(task.pass) else { return result };
    let over = OverRoots::new(task, pitch_mm);
    let mut prepared = over.prepare(task, None);
    run_through(&over.scene, &over.outline, &mut prepared, cut, &model(task, pitch_mm), room, &mut result);
    if matches!(result.status, Status::Solved | Status::StoppedEarly) {
        let after = task.outline.with_roots(&fresh_pieces(&result.stations));
        result.after = Arc::new(after.to_surface(&task.scene.job.shaft, task.scene.setup));
    }
    result
}

/// The force model of a thread pass.
#[must_use]
pub fn model<'a>(task: &Task<'a>, pitch_mm: f64) -> ForceModel<'a> {
    let engagement = Engagement::Thread { pitch_mm };
    ForceModel::engaged(task.material, &task.scene.setup.tool, task.pass, task.last_depth_mm, engagement)
        .times(task.scene.factors)
}
