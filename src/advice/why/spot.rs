//! Why a bearing spot is as wide and as large as it is, and whether it comes out true: what the jaws of a rest want, and what
//! a light cut does to the work before the rest is there.
//!
//! Of what runs out before, one cut leaves the share e = C k / (1 + C k), with C the give of the work there and k what
//! the push gains with depth: as the study reckons it ([`crate::study::bearing_spot`]).

use super::room::{measured, of_reason};
use super::sum::{Sum, number};
use super::{Asked, Sketch, Why};
use crate::advice::words;
use crate::job::quantity::{Kind, show};
use crate::job::{Job, Rest, RestId, Setup};
use crate::study::bearing_spot::{Bearing, LIGHT_FEED_MM, N_CUTS, SleeveToUse, SpotToTurn, TRUE_TIR_MM, bearing};
use crate::study::reach::{CLEAN_UP_MM, LEAST_ALLOWANCE_MM, allowance_mm};

const SOURCE: &str = "textbooks on the steady rest: a true band a little wider than the jaws, turned with a very light cut, from a support outwards \
                      where the work is too springy; how much wider, how light and how true: common practice, no source.";
const TRUST: &str = "width and size: sure, if the stock is as stated; the spring: as sure as force and stiffness are";

/// What a rest needs under its jaws; nothing where they already find it.
pub fn spot(asked: &Asked<'_>, rest: RestId) -> Option<Why> {
    let rest = asked.setup.rest(rest)?;
    match bearing(asked.job, asked.result, asked.setup.id, rest.id)? {
        Bearing::Fit => None,
        Bearing::Turn(spot) => Some(to_turn(asked.job, asked.setup, rest, &spot)),
        Bearing::Sleeve(needed) => Some(none(asked.job, rest, &needed)),
    }
}

/// A spot that is to be turned.
pub fn to_turn(job: &Job, setup: &Setup, rest: &Rest, spot: &SpotToTurn) -> Why {
    let units = job.units;
    let amount = |mm: f64| words::amount(mm, units);
    let (bow_mm, jaws_mm, cut) = (job.shaft.bow_tir_mm, job.lathe.rest_jaw_width_mm.value, &spot.light_cut);
    let mut why = Why::new(
        "A bearing spot is a short band, turned round and true before the rest is set, on which its jaws run: what runs out or is not round under them is copied into the work.",
        SOURCE,
        TRUST,
    );
    let room_mm = allowance_mm(job);
    let (words, numbers) = if room_mm > LEAST_ALLOWANCE_MM {
        ("2 \u{d7} what the bar runs out", format!("2 \u{d7} {}", number(bow_mm)))
    } else {
        ("a quarter of an inch: twice what the bar runs out is no more", number(LEAST_ALLOWANCE_MM))
    };
    why.sums.push(Sum::step("room beside the jaws", words, numbers, room_mm, "mm"));
    why.sums.push(Sum::figure(
        "wide",
        "width of the jaws + room beside them",
        format!("{} + {}", number(jaws_mm), number(room_mm)),
        words::length(spot.at.to_mm - spot.at.from_mm, units),
    ));
    why.sums.push(Sum::figure(
        "to a diameter of",
        "least diameter of the stock there \u{2212} what cleans it up \u{2212} what the bar runs out",
        format!("{} \u{2212} {} \u{2212} {}", number(spot.stock_mm), number(CLEAN_UP_MM), number(bow_mm)),
        words::diameter(spot.diameter_mm, units),
    ));
    let push_n = cut.away_n.hypot(cut.up_n);
    why.sums.push(Sum::step(
        "push of a light cut",
        "\u{221a}(push away^2 + main force^2)",
        format!("\u{221a}({}^2 + {}^2)", number(cut.away_n), number(cut.up_n)),
        push_n,
        "N",
    ));
    why.sums.push(Sum::figure(
        "a light cut springs it",
        "push \u{d7} how far the work gives to one newton there, of the whole computation",
        format!("{} \u{d7} {}", number(push_n), number(cut.give_mm_per_n)),
        amount(cut.spring_mm),
    ));
    if spot.runs_out_mm > 0.0 {
        let length_mm = job.shaft.length_mm();
        let s_mm = setup.s_of_z_mm(&job.shaft, rest.z_mm);
        let share = format!("{} \u{f7} {}", number(s_mm), number(length_mm));
        why.sums.push(Sum::figure(
            "runs out there",
            "what the bar runs out half-way \u{d7} 4 \u{d7} share of its length \u{d7} the other share",
            format!("{} \u{d7} 4 \u{d7} ({share}) \u{d7} (1 \u{2212} {share})", number(bow_mm)),
            amount(spot.runs_out_mm),
        ));
        let gives = format!("{} \u{d7} {}", number(cut.give_mm_per_n), number(cut.gain_n_per_mm));
        why.sums.push(Sum::figure(
            "and still, once spotted",
            "that \u{d7} (g \u{f7} (1 + g))^cuts, with g = give of the work \u{d7} what the push gains with depth",
            format!("{} \u{d7} ({gives} \u{f7} (1 + {gives}))^{N_CUTS}", number(spot.runs_out_mm)),
            amount(cut.left_tir_mm),
        ));
    }
    why.more.push(format!(
        "A light cut here is {} a side at {}. The spot comes out true if the work springs no more than half of that, and no more than {} of run-out is left.",
        amount(cut.depth_mm),
        show(LIGHT_FEED_MM, Kind::Feed, units),
        amount(TRUE_TIR_MM)
    ));
    why.more.push(match spot.leaps_mm.as_deref() {
        Some([]) => "It does: it can be spotted at once.".to_owned(),
        Some(leaps_mm) => {
            let places: Vec<String> = leaps_mm.iter().map(|z_mm| words::length(*z_mm, units)).collect();
            format!(
                "It does not. Nearer to a support the work is stiff enough: a spot at {}, the rest set there, and then this one.",
                places.join(", then one at ")
            )
        }
        None => "It does not, and spotting nearer to a support first does not get there either: hence the cat head.".to_owned(),
    });
    let half_mm = jaws_mm / 2.0;
    let jaws = (rest.z_mm - half_mm, rest.z_mm + half_mm, "jaws");
    why.drawn(Sketch::Lengths(vec![(spot.at.from_mm, spot.at.to_mm, "spot"), jaws]))
}

/// Nothing that a spot could be turned on.
pub fn none(job: &Job, rest: &Rest, needed: &SleeveToUse) -> Why {
    let mut why = measured("What lies under the jaws where the rest stands: a feature of the work, as drawn or cut.");
    why.sums.extend(needed.why.as_ref().and_then(|reason| of_reason(job, Some(rest), reason)));
    let wide_mm = job.lathe.rest_jaw_width_mm.value;
    let (from_mm, to_mm) = (rest.z_mm - wide_mm / 2.0, rest.z_mm + wide_mm / 2.0);
    why.and(format!(
        "The jaws lie from {} on, {} wide.",
        words::length(from_mm, job.units),
        words::length(to_mm - from_mm, job.units)
    ))
}
