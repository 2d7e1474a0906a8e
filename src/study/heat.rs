//! Warm work between a chuck and a centre: how much it grows, and how hard that presses on the tailstock.
//!
//! Growth `ΔL = α L ΔT`; the thrust it adds is `ΔL / (∫ dz/EA + 1/k)`, with `k` the give of the tailstock along the bed
//! and, for a spring-loaded centre, of its spring behind it. Cold work slackens the centre; thrust ends at nothing.
//!
//! Source: trade formula `F = ΔL/(L/EA + 1/k)` (any text on heat in restrained bars). Limit: the headstock end counts as
//! rigid along the bed, the bed does not warm, and the work is evenly warm.

use std::f64::consts::PI;

use super::outline::Outline;
use crate::job::{Job, Material, Setup, Stiffness, TailKind};

/// What warmth does to the held work.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Warmth {
    /// How much longer the work between its ends is (shorter where negative).
    pub growth_mm: f64,
    /// Give of the tailstock end along the bed per newton; nothing where it is free.
    pub tail_give_mm_per_n: f64,
    /// Give of the work itself along its length.
    pub work_give_mm_per_n: f64,
    /// Thrust of the centre on the work, warmth included; 0 where the end is free.
    pub thrust_n: f64,
    /// The part of it that growth made.
    pub added_n: f64,
}

/// Warmth of the work that comes as `outline` into a set-up and bends between `bending_mm`.
#[must_use]
pub fn warmth(job: &Job, setup: &Setup, material: &Material, outline: &Outline, bending_mm: (f64, f64)) -> Warmth {
    let growth_mm = material.growth_per_k.value * (bending_mm.1 - bending_mm.0) * setup.warmer_by_k;
    if setup.tail.kind == TailKind::Free {
        return Warmth { growth_mm, ..Warmth::default() };
    }
    let tail_give_mm_per_n = tail_give_mm_per_n(job, setup);
    let work_give_mm_per_n = work_give_mm_per_n(job, setup, material, outline, bending_mm);
    let thrust_n = (setup.tail.thrust_n + growth_mm / (tail_give_mm_per_n + work_give_mm_per_n)).max(0.0);
    let added_n = thrust_n - setup.tail.thrust_n;
    Warmth { growth_mm, tail_give_mm_per_n, work_give_mm_per_n, thrust_n, added_n }
}

/// Tailstock, centre and its spring one behind the other. A rotating centre gives along the bed as it does across.
fn tail_give_mm_per_n(job: &Job, setup: &Setup) -> f64 {
    let tailstock = match job.lathe.tailstock_axial_k_n_per_mm {
        Stiffness::Rigid => 0.0,
        Stiffness::Spring(stated) => 1.0 / (stated.value * setup.tail.kind.stiffness_ratio()),
    };
    let spring = match setup.tail.kind {
        TailKind::SpringCentre => 1.0 / job.lathe.spring_centre_k_n_per_mm.value,
        _ => 0.0,
    };
    tailstock + spring
}

/// `∫ dz/EA`, by the middle of short parts of each straight piece.
fn work_give_mm_per_n(
    job: &Job,
    setup: &Setup,
    material: &Material,
    outline: &Outline,
    (low_mm, high_mm): (f64, f64),
) -> f64 {
    const PARTS: usize = 4;
    let mut give = 0.0;
    for piece in &outline.pieces {
        let (from_mm, to_mm) = (piece.from_z_mm.max(low_mm), piece.to_z_mm.min(high_mm));
        if to_mm <= from_mm {
            continue;
        }
        let part_mm = (to_mm - from_mm) / PARTS as f64;
        for part in 0..PARTS {
            let z_mm = from_mm + (part as f64 + 0.5) * part_mm;
            let share = (z_mm - piece.from_z_mm) / (piece.to_z_mm - piece.from_z_mm);
            let outside_mm = piece.diameter_mm[0] + (piece.diameter_mm[1] - piece.diameter_mm[0]) * share;
            let bore_mm = job.shaft.bore_diameter_mm(setup.s_of_z_mm(&job.shaft, z_mm)).min(0.99 * outside_mm);
            let area_mm2 = PI / 4.0 * (outside_mm * outside_mm - bore_mm * bore_mm);
            give += part_mm / (material.e_mpa.value * area_mm2);
        }
    }
    give
}
