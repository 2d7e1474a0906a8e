//! A rest must run on a round, smooth, straight band: turned first, or covered by a sleeve where none can be turned.
//!
//! Source: textbooks on the steady rest (true, round, smooth band turned first; spotted from a support outwards where the
//! work is too springy); features: common practice.

use super::why::spot;
use super::{Finding, Verdict, standing, words};
use crate::job::{Edit, Job, Rest, Setup, Sleeve, Subject};
use crate::study::JobResult;
use crate::study::bearing_spot::{Bearing, SleeveToUse, SpotToTurn, TRUE_TIR_MM, bearing};
use crate::study::reach::{Why, bare_rest_reach};

/// At most one finding for each steady rest.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    job.setups
        .iter()
        .flat_map(|setup| setup.rests.iter().filter_map(move |rest| finding_of(job, result, setup, rest)))
        .collect()
}

fn finding_of(job: &Job, result: &JobResult, setup: &Setup, rest: &Rest) -> Option<Finding> {
    match bearing(job, result, setup.id, rest.id)? {
        Bearing::Fit => None,
        Bearing::Turn(spot) => Some(to_turn(job, setup, rest, &spot)),
        Bearing::Sleeve(needed) => Some(no_spot(job, result, setup, rest, &needed)),
    }
}

fn to_turn(job: &Job, setup: &Setup, rest: &Rest, found: &SpotToTurn) -> Finding {
    let units = job.units;
    let heading = words::rest_heading(job, setup, rest);
    let wide = words::length(found.at.to_mm - found.at.from_mm, units);
    let size = words::diameter(found.diameter_mm, units);
    let spring = words::amount(found.light_cut.spring_mm, units);
    let depth = words::amount(found.light_cut.depth_mm, units);
    let springy = format!("a light cut of {depth} a side there springs it {spring}");
    let true_enough = words::amount(TRUE_TIR_MM, units);
    let (text, how) = match found.leaps_mm.as_deref() {
        Some([]) => (
            format!("{heading} stands on stock: turn a true spot first, {wide} wide, to {size}"),
            format!("{}, and the spot comes out true within {true_enough}.", words::capital(&springy)),
        ),
        Some(leaps_mm) => {
            let places: Vec<String> = leaps_mm.iter().map(|z_mm| words::length(*z_mm, units)).collect();
            let places = places.join(", then at ");
            (
                format!(
                    "{heading} stands on stock too springy to spot there: turn a spot at {places} first, set the rest on \
                     it, then spot {wide} wide to {size}"
                ),
                format!("{}: spotted from a support outwards it comes out true.", words::capital(&springy)),
            )
        }
        None => (
            format!("{heading} stands on stock too springy to turn a true spot on: put a cat head under it"),
            format!("{}, and spotting nearer to a support first does not get there either.", words::capital(&springy)),
        ),
    };
    let runs_out = if found.runs_out_mm > 0.0 {
        format!(" The bar runs out {} there.", words::amount(found.runs_out_mm, units))
    } else {
        String::new()
    };
    let is_straight = found.runs_out_mm <= TRUE_TIR_MM && found.leaps_mm.as_ref().is_some_and(Vec::is_empty);
    Finding {
        rule: "bearing_spot",
        about: Subject::Rest(setup.id, rest.id),
        verdict: if is_straight { Verdict::Fine } else { Verdict::Watch },
        text,
        why: format!("What runs out under the jaws, or is not round, is copied into the work.{runs_out} {how}"),
        z_mm: Some(rest.z_mm),
        remedy: Some(match found.leaps_mm {
            Some(_) => {
                let ends = [found.at.from_mm, found.at.to_mm].map(|z_mm| setup.s_of_z_mm(&job.shaft, z_mm));
                let shaft = job.shaft.with_true_spot(ends[0].min(ends[1]), ends[0].max(ends[1]), found.diameter_mm);
                ("The spot is turned".to_owned(), Edit::SetShaft(shaft))
            }
            None => put_on(setup, rest, found.instead),
        }),
        behind: spot::to_turn(job, setup, rest, found),
    }
}

fn no_spot(job: &Job, result: &JobResult, setup: &Setup, rest: &Rest, needed: &SleeveToUse) -> Finding {
    let heading = words::rest_heading(job, setup, rest);
    let text = match &needed.why {
        Some(Why::Step { .. }) => format!("{heading} stands on or close to a shoulder"),
        Some(why) => format!("{heading} stands on a {}", standing::brief(why)),
        None => format!("{heading} stands on stock with nothing left to turn a true spot from"),
    };
    let better = bare_rest_reach(job, result, setup.id, Some(rest.id)).and_then(|reach| {
        // Stock with nothing left to turn is no better elsewhere, where it wants a spot there too.
        reach.nearest_mm(rest.z_mm, |z_mm| needed.why.is_some() || !reach.needs_a_spot(z_mm))
    });
    Finding {
        rule: "bearing_spot",
        about: Subject::Rest(setup.id, rest.id),
        verdict: Verdict::Trouble,
        text,
        why: "The jaws need a true, round, smooth band slightly wider than they are; anything else thumps, marks or \
              moves the work at every turn. Move the rest, or put a cat head or a bush under it."
            .to_owned(),
        z_mm: Some(rest.z_mm),
        remedy: Some(match better {
            Some(z_mm) => (
                format!("Move it to {}", words::length(z_mm, job.units)),
                Edit::SetRest { setup: setup.id, rest: Rest { z_mm, ..rest.clone() } },
            ),
            None => put_on(setup, rest, needed.sleeve),
        }),
        behind: spot::none(job, rest, needed),
    }
}

fn put_on(setup: &Setup, rest: &Rest, sleeve: Sleeve) -> (String, Edit) {
    let what = if matches!(sleeve, Sleeve::Bush { .. }) { "bush" } else { "cat head" };
    (format!("Put a {what} under it"), Edit::SetRest { setup: setup.id, rest: Rest { sleeve, ..rest.clone() } })
}
