//! A rest in the way of the set-up's passes: of the tool, of the carriage beside it, and of the carriage on its way from
//! one pass to the next.
//!
//! The nearest cut beside a rest is half its base plus the carriage wing on that side away; where the wings run past the
//! base, half its frame (taken as wide as its jaws) plus the tool holder. Source: geometry of the carriage; common
//! practice, no source.

use super::stretch::Stretch;
use super::{Forbidden, Why, bed};
use crate::job::{DriveKind, Job, Lathe, Pass, PassKind, Setup};

/// The heads of a cat head's screws stand out so far. Common practice, no source.
const SCREW_HEADS_MM: f64 = 8.0;

/// How near the tool comes to a rest's jaws: with the tool on their headstock side, and on their tailstock side.
#[must_use]
pub fn approach_mm(lathe: &Lathe) -> [f64; 2] {
    if lathe.wings_pass_rest {
        let half_frame_mm = lathe.rest_jaw_width_mm.value / 2.0;
        return [half_frame_mm + lathe.holder_right_mm.value, half_frame_mm + lathe.holder_left_mm.value];
    }
    let half_base_mm = lathe.rest_base_mm.value / 2.0;
    // On the headstock side of the rest the wing towards the tailstock meets it, and the other way round.
    [half_base_mm + lathe.carriage_right_mm.value, half_base_mm + lathe.carriage_left_mm.value]
}

/// What meets chuck, dog or tailstock where the tool can go no further.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Meets {
    /// What stands higher than the wings: cross slide and tool holder.
    Holder,
    /// The carriage itself.
    Carriage,
}

/// Between which places the tool can cut, and what stops it there: at the drive end, and at the tailstock, which there
/// may be none.
#[must_use]
pub fn tool_room_mm(job: &Job, setup: &Setup) -> ((f64, Meets), Option<(f64, Meets)>) {
    let lathe = &job.lathe;
    let between_centres = setup.drive.kind == DriveKind::CentreAndDog;
    let reach_mm = if between_centres { setup.drive.dog.length_mm.value } else { 0.0 };
    let holder_mm = reach_mm + lathe.holder_left_mm.value;
    // Measured at the chuck, which is not there for work between centres.
    let carriage_mm = if between_centres { f64::NEG_INFINITY } else { lathe.nearest_to_jaws_mm.value };
    let from = if carriage_mm > holder_mm { (carriage_mm, Meets::Carriage) } else { (holder_mm, Meets::Holder) };
    let to = bed::tailstock_face_mm(job, setup).map(|face_mm| {
        let (holder_mm, wing_mm) = (lathe.holder_right_mm.value, lathe.carriage_right_mm.value);
        if !lathe.wings_pass_tailstock && wing_mm > holder_mm {
            (face_mm - wing_mm, Meets::Carriage)
        } else {
            (face_mm - holder_mm, Meets::Holder)
        }
    });
    (from, to)
}

/// Where the screws of a cat head meet frame, bed or cross slide.
pub fn cat_head_swing(job: &Job, setup: &Setup, diameter_mm: f64, width_mm: f64, whole: &Stretch) -> Vec<Forbidden> {
    let lathe = &job.lathe;
    let circle_mm = diameter_mm + 2.0 * SCREW_HEADS_MM;
    let mut all = Vec::new();
    let (bore_mm, swing_mm) = (lathe.rest_bore_mm.value, lathe.swing_over_bed_mm.value);
    for (limit_mm, why) in
        [(bore_mm, Why::SleeveInFrame { circle_mm, bore_mm }), (swing_mm, Why::SleeveOnBed { circle_mm, swing_mm })]
    {
        if circle_mm > limit_mm {
            all.push(Forbidden { from_mm: whole.from_mm, to_mm: whole.to_mm, why });
        }
    }
    let swing_mm = lathe.swing_over_cross_slide_mm.value;
    if circle_mm > swing_mm {
        all.extend(setup.passes.iter().filter(|pass| takes_the_carriage(pass)).map(|pass| {
            let (low_mm, high_mm) = pass.span_mm();
            Forbidden {
                from_mm: low_mm - lathe.holder_left_mm.value - width_mm / 2.0,
                to_mm: high_mm + lathe.holder_right_mm.value + width_mm / 2.0,
                why: Why::SleeveOnSlide { pass: pass.id, circle_mm, swing_mm },
            }
        }));
    }
    all
}

/// A pass for which the carriage goes along the work. A drill comes from the tailstock, and a boring bar reaches into
/// the work: the carriage stays off its end.
#[must_use]
pub fn takes_the_carriage(pass: &Pass) -> bool {
    !matches!(pass.kind, PassKind::Drill | PassKind::Bore)
}

/// What the passes of the set-up forbid a steady rest.
pub fn forbidden(job: &Job, setup: &Setup) -> Vec<Forbidden> {
    let half_jaw_mm = job.lathe.rest_jaw_width_mm.value / 2.0;
    let [before_rest_mm, behind_rest_mm] = approach_mm(&job.lathe);
    let mut passes: Vec<&Pass> = setup.passes.iter().filter(|pass| takes_the_carriage(pass)).collect();
    passes.sort_by(|a, b| a.span_mm().0.total_cmp(&b.span_mm().0));
    let mut all = Vec::new();
    // The pass before that reaches furthest to the tailstock.
    let mut furthest: Option<&Pass> = None;
    for pass in passes {
        let (low_mm, high_mm) = pass.span_mm();
        let sides = [
            (low_mm - behind_rest_mm, low_mm - half_jaw_mm, behind_rest_mm),
            (high_mm + half_jaw_mm, high_mm + before_rest_mm, before_rest_mm),
        ];
        all.push(Forbidden {
            from_mm: low_mm - half_jaw_mm,
            to_mm: high_mm + half_jaw_mm,
            why: Why::Cut { pass: pass.id },
        });
        all.extend(sides.map(|(from_mm, to_mm, approach_mm)| Forbidden {
            from_mm,
            to_mm,
            why: Why::Carriage { pass: pass.id, approach_mm },
        }));
        if let Some(before) = furthest {
            all.push(Forbidden {
                from_mm: before.span_mm().1 + before_rest_mm,
                to_mm: low_mm - behind_rest_mm,
                why: Why::BetweenPasses { headstock_side: before.id, tailstock_side: pass.id },
            });
        }
        if furthest.is_none_or(|before| before.span_mm().1 < high_mm) {
            furthest = Some(pass);
        }
    }
    all.retain(|one| one.to_mm > one.from_mm);
    all
}
