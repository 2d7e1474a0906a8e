//! Where the rests of a planned set-up stand, and the true bands turned for them before.

use super::draft::{Builder, SAME_MM, Side};
use super::{What, Why, cuts, room};
use crate::job::{Cut, FeatureKind, Force, Job, Pass, PassId, PassKind, Rest, RestId, Setup, Sleeve};
use crate::study::bearing_spot::cat_head;
use crate::study::layout::Fineness;
use crate::study::machine::real_feed_mm_per_rev;
use crate::study::reach::{allowance_mm, approach_mm, cat_head_circle_mm};

/// Taken off for a true band, on diameter. Common practice, no source.
const SPOT_DEPTH_MM: f64 = 0.6;
const SPOT_FEED_MM_PER_REV: f64 = 0.08;
/// Least room between a rest's base and chuck or dog. Common practice, no source.
const CLEAR_MM: f64 = 5.0;
/// Diameters along a band may differ by this much.
const STRAIGHT_MM: f64 = 0.02;

/// What a rest would run on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ground {
    /// Turned, or stated to be true.
    True,
    /// A band must be turned first, and can be.
    ToSpot,
    /// Stock the drawing leaves as it is.
    AsItIs,
}

/// Puts rests to a holding; `None` where there is no place for them.
pub fn put(builder: &mut Builder, setup: &mut Setup, side: &Side, n_rests: usize) -> Option<()> {
    let places = places(builder, setup, side, n_rests)?;
    let to_spot: Vec<f64> =
        places.iter().filter(|(_, ground)| *ground == Ground::ToSpot).map(|(z_mm, _)| *z_mm).collect();
    if !to_spot.is_empty() {
        spot(builder, setup, &to_spot)?;
    }
    for (z_mm, ground) in places {
        let is_rough = ground == Ground::AsItIs && !is_bright(builder, setup, z_mm);
        let rest = Rest::three_jaw(RestId(0), z_mm);
        let rest = if is_rough { on_cat_head(builder, setup, rest)? } else { rest };
        setup.rests.push(rest);
    }
    Some(())
}

/// A straight bar that has its finished size as it comes.
pub fn is_bright(builder: &Builder, setup: &Setup, z_mm: f64) -> bool {
    let shaft = &builder.job.shaft;
    let s_mm = setup.s_of_z_mm(shaft, z_mm);
    let is_finished = |wanted_mm: f64| builder.now_mm(s_mm).is_some_and(|now_mm| wanted_mm > now_mm - SAME_MM);
    shaft.bow_tir_mm == 0.0 && shaft.wanted_diameter_mm(s_mm).is_some_and(is_finished)
}

/// The rest with a cat head between it and the work; `None` where there is no room for one in its jaws and its frame.
pub fn on_cat_head(builder: &Builder, setup: &Setup, rest: Rest) -> Option<Rest> {
    let lathe = &builder.job.lathe;
    let sleeve = cat_head(builder.now_mm(setup.s_of_z_mm(&builder.job.shaft, rest.z_mm))?);
    let Sleeve::CatHead { diameter_mm, width_mm } = sleeve else { return None };
    let (low_mm, high_mm) = (rest.z_mm - width_mm / 2.0, rest.z_mm + width_mm / 2.0);
    let is_on_work = low_mm > 0.0 && high_mm < setup.work_end_z_mm(&builder.job.shaft);
    let fits = diameter_mm <= lathe.rest_max_diameter_mm.value
        && cat_head_circle_mm(diameter_mm) <= lathe.rest_bore_mm.value.min(lathe.swing_over_bed_mm.value);
    (is_on_work && fits).then_some(Rest { sleeve, ..rest })
}

/// The rests of a set-up along the shaft, and what each runs on.
pub fn placed(builder: &Builder, setup: &Setup) -> Vec<(f64, Why)> {
    (setup.rests.iter())
        .map(|rest| {
            let s_mm = setup.s_of_z_mm(&builder.job.shaft, rest.z_mm);
            let spotted = builder
                .steps
                .iter()
                .any(|step| matches!(step.what, What::Spot { s_mm: spot_mm, .. } if (spot_mm - s_mm).abs() < 1.0));
            let why = match ground(builder, setup, rest.z_mm) {
                _ if rest.sleeve != Sleeve::None => Why::CatHead,
                Some(Ground::True) if spotted => Why::TrueBand,
                Some(Ground::True) => Why::OnCutWork,
                _ => Why::AsItIs,
            };
            (s_mm, why)
        })
        .collect()
}

/// Places in whole millimetres, the one nearest to the cut first.
fn places(builder: &Builder, setup: &Setup, side: &Side, n_rests: usize) -> Option<Vec<(f64, Ground)>> {
    let (shaft, lathe) = (&builder.job.shaft, &builder.job.lathe);
    let ends = [side.from_s_mm, side.to_s_mm].map(|s_mm| setup.z_of_s_mm(shaft, s_mm));
    let (low_mm, high_mm) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
    let [before_mm, behind_mm] = approach_mm(lathe);
    let base_mm = lathe.rest_base_mm.value;
    let head_mm = room::head_mm(setup);
    let least_mm = head_mm + base_mm / 2.0 + CLEAR_MM;
    let most_mm = setup.work_end_z_mm(shaft) - band_mm(&builder.job);
    let fit = |z_mm: f64| ground(builder, setup, z_mm).map(|ground| (z_mm, ground));
    let mut found: Vec<(f64, Ground)> = Vec::new();
    let (mut from_mm, to_mm, step_mm) = if side.rest_at_tail {
        ((high_mm + before_mm).ceil(), most_mm, 1.0)
    } else {
        ((low_mm - behind_mm).floor(), least_mm, -1.0)
    };
    while found.is_empty() && (to_mm - from_mm) * step_mm >= 0.0 {
        found.extend(fit(from_mm));
        from_mm += step_mm;
    }
    let (nearest_mm, _) = *found.first()?;
    // The others share what is left to the end of the holding.
    let end_mm = if side.rest_at_tail { setup.work_end_z_mm(shaft) } else { head_mm };
    for number in 1..n_rests {
        let share = number as f64 / n_rests as f64;
        let wish_mm = (nearest_mm + (end_mm - nearest_mm) * share).round();
        let place = (0..200).map(f64::from).flat_map(|off_mm| [wish_mm + off_mm, wish_mm - off_mm]).find_map(|z_mm| {
            let is_free = found.iter().all(|(other_mm, _)| (z_mm - other_mm).abs() >= base_mm + CLEAR_MM);
            let is_near = (least_mm..=most_mm).contains(&z_mm) && (z_mm < nearest_mm) != side.rest_at_tail;
            if is_free && is_near { fit(z_mm) } else { None }
        });
        found.push(place?);
    }
    Some(found)
}

/// What a rest would run on at a place of a set-up; `None` where it cannot run.
pub fn ground(builder: &Builder, setup: &Setup, z_mm: f64) -> Option<Ground> {
    let (shaft, lathe) = (&builder.job.shaft, &builder.job.lathe);
    let half_mm = band_mm(&builder.job) / 2.0;
    let middle_s_mm = setup.s_of_z_mm(shaft, z_mm);
    let (from_s_mm, to_s_mm) = (middle_s_mm - half_mm, middle_s_mm + half_mm);
    if from_s_mm < 0.0 || to_s_mm > shaft.length_mm() {
        return None;
    }
    let mut under = shaft.features.iter().filter(|one| one.from_s_mm < to_s_mm && one.to_s_mm > from_s_mm);
    if under.clone().any(|one| one.kind != FeatureKind::TrueSpot) {
        return None;
    }
    let half_jaw_mm = lathe.rest_jaw_width_mm.value / 2.0;
    let stated =
        under.any(|one| one.from_s_mm <= middle_s_mm - half_jaw_mm && one.to_s_mm >= middle_s_mm + half_jaw_mm);
    let samples: Vec<f64> =
        (0..=8).map(|step| from_s_mm + 0.01 + (to_s_mm - from_s_mm - 0.02) * f64::from(step) / 8.0).collect();
    let sizes: Option<Vec<f64>> = samples.iter().map(|s_mm| builder.now_mm(*s_mm)).collect();
    let sizes = sizes?;
    let (least_mm, most_mm) =
        (sizes.iter().copied().fold(f64::INFINITY, f64::min), sizes.iter().copied().fold(0.0, f64::max));
    let range = lathe.rest_min_diameter_mm.value..=lathe.rest_max_diameter_mm.value;
    if most_mm - least_mm > STRAIGHT_MM || !range.contains(&most_mm) || !range.contains(&(least_mm - SPOT_DEPTH_MM)) {
        return None;
    }
    let is_turned = samples
        .iter()
        .zip(&sizes)
        .all(|(s_mm, size_mm)| shaft.stock_diameter_mm(*s_mm).is_some_and(|stock_mm| stock_mm - size_mm > SAME_MM));
    if is_turned || stated {
        return Some(Ground::True);
    }
    let can_spot = samples.iter().all(|s_mm| {
        shaft.wanted_diameter_mm(*s_mm).is_none_or(|wanted_mm| wanted_mm <= least_mm - 1.5 * SPOT_DEPTH_MM)
    });
    Some(if can_spot { Ground::ToSpot } else { Ground::AsItIs })
}

/// Set-ups in which true bands are turned at these places of a holding, nearest to the chuck first.
fn spot(builder: &mut Builder, holding: &Setup, places_mm: &[f64]) -> Option<()> {
    let mut places_mm = places_mm.to_vec();
    places_mm.sort_by(f64::total_cmp);
    let mut bare = holding.clone();
    for z_mm in &places_mm {
        bare.passes.push(spot_pass(builder, &bare, *z_mm)?);
    }
    let before = if is_springy(builder, &bare) { leapfrog(builder, &bare, &places_mm) } else { None };
    if let Some((near, resting)) = before {
        let z_mm = near.passes.first().map_or(0.0, |pass| f64::midpoint(pass.from_z_mm, pass.to_z_mm));
        let s_mm = near.s_of_z_mm(&builder.job.shaft, z_mm);
        builder.step_of(What::Spot { s_mm, width_mm: band_mm(&builder.job) }, vec![Why::Leapfrog], 0..1);
        builder.add(near);
        builder.step(What::SetRest { s_mm }, vec![Why::TrueBand]);
        bare.rests = resting;
    }
    for (index, z_mm) in places_mm.iter().enumerate() {
        let s_mm = bare.s_of_z_mm(&builder.job.shaft, *z_mm);
        let what = What::Spot { s_mm, width_mm: band_mm(&builder.job) };
        builder.step_of(what, vec![Why::TrueBand], index..index + 1);
    }
    bare.name = "True spot".to_owned();
    builder.add(bare);
    Some(())
}

/// Width of a band for the jaws, in whole millimetres.
fn band_mm(job: &Job) -> f64 {
    (job.lathe.rest_jaw_width_mm.value + allowance_mm(job)).ceil()
}

/// A light cut just wide enough for the jaws.
fn spot_pass(builder: &Builder, setup: &Setup, z_mm: f64) -> Option<Pass> {
    let lathe = &builder.job.lathe;
    let now_mm = builder.now_mm(setup.s_of_z_mm(&builder.job.shaft, z_mm))?;
    let half_mm = band_mm(&builder.job) / 2.0;
    Some(Pass {
        id: PassId(0),
        kind: PassKind::Turn,
        from_z_mm: z_mm + half_mm,
        to_z_mm: z_mm - half_mm,
        cut: Cut::ToDiameter { diameter_mm: now_mm - SPOT_DEPTH_MM },
        feed_mm_per_rev: real_feed_mm_per_rev(lathe, SPOT_FEED_MM_PER_REV),
        speed_rpm: cuts::speed_rpm(builder, setup, now_mm, 1.0),
        force: Force::FromCut,
    })
}

/// Turning the bands, the work springs by more than the cut takes off a side.
fn is_springy(builder: &Builder, setup: &Setup) -> bool {
    let mut job = builder.job.clone();
    let mut setup = setup.clone();
    setup.id = crate::job::SetupId(u32::MAX - 1);
    for (number, pass) in (0..).zip(&mut setup.passes) {
        pass.id = PassId(u32::MAX - 2 - number);
    }
    let id = setup.id;
    job.setups.push(setup);
    let coarse = Fineness { spacing_mm: 12.0, fewest_stations: 3.0, parts_outside: 40.0, turns: false };
    let result = crate::study::compute_at(&job, coarse);
    let passes = result.setup(id).map_or(&[][..], |setup| &setup.passes);
    passes.iter().flat_map(|pass| &pass.stations).any(|station| station.error_mm > SPOT_DEPTH_MM / 2.0)
}

/// A band nearer to the chuck, turned first, with the rest that then stands on it.
fn leapfrog(builder: &Builder, bare: &Setup, places_mm: &[f64]) -> Option<(Setup, Vec<Rest>)> {
    let [_, behind_mm] = approach_mm(&builder.job.lathe);
    let half_band_mm = band_mm(&builder.job) / 2.0;
    let nearest_mm = *places_mm.first()?;
    let z_mm = (nearest_mm / 2.0).min(nearest_mm - behind_mm - half_band_mm).floor();
    let least_mm = builder.job.lathe.rest_base_mm.value / 2.0 + CLEAR_MM;
    if z_mm < least_mm || ground(builder, bare, z_mm) != Some(Ground::ToSpot) {
        return None;
    }
    let mut near = Setup { passes: Vec::new(), name: "First spot".to_owned(), ..bare.clone() };
    near.passes.push(spot_pass(builder, &near, z_mm)?);
    Some((near, vec![Rest::three_jaw(RestId(0), z_mm)]))
}
