//! The passes of one holding: rough cuts level by level from the stock down, then each land to the middle of its
//! tolerance, then grooves and threads. Going down by levels, heavy diameters are done before thin ones, and a neck
//! between heavier lands is left at its stock diameter until these are finished.

use std::ops::Range;

use super::draft::{Builder, SAME_MM, Side};
use super::{What, Why, room};
use crate::job::{Cut, DriveKind, Feature, FeatureKind, Force, Pass, PassId, PassKind, Setup, Shaft};
use crate::study::machine::{real_feed_mm_per_rev, real_speed_rpm};
use crate::study::thread::{full_depth_mm, usual_infeeds_mm};

/// Left on diameter by roughing. Common practice, no source.
const LEFT_BY_ROUGHING_MM: f64 = 0.5;
/// Feeds. Common practice, no source.
const ROUGH_FEED_MM_PER_REV: f64 = 0.2;
const FINE_FEED_MM_PER_REV: f64 = 0.1;
const GROOVE_FEED_MM_PER_REV: f64 = 0.05;
/// Less than this is left to the next pass.
const WORTH_A_PASS_MM: f64 = 0.02;
/// A set-up takes no more rough cuts than this, nor a groove more plunges: a guard, no custom.
const MOST_LEVELS: f64 = 200.0;
/// No tool is set to cut a shorter run.
const SLIVER_MM: f64 = 0.1;
/// A grooving tool is no wider than this.
const WIDEST_TOOL_MM: f64 = 5.0;
/// Speeds of grooving and threading against turning. Common practice, no source.
const GROOVE_SPEED_RATIO: f64 = 0.5;
const THREAD_SPEED_RATIO: f64 = 0.3;

/// Thinner than so much of the lands on both sides is a neck. No source: its section is then a third as stiff.
const NECK_RATIO: f64 = 0.75;

/// Passes with the steps they are.
#[derive(Default)]
pub struct Made {
    pub passes: Vec<Pass>,
    pub steps: Vec<MadeStep>,
}

/// A step and which of the passes are its own.
pub struct MadeStep {
    pub what: What,
    pub why: Vec<Why>,
    pub passes: Range<usize>,
}

impl Made {
    /// The passes from the `n_before`-th on are a step.
    fn step(&mut self, what: What, why: Vec<Why>, n_before: usize) {
        self.steps.push(MadeStep { what, why, passes: n_before..self.passes.len() });
    }
}

/// A length straight in what is there and what is wanted.
#[derive(Clone, Copy, Debug)]
struct Segment {
    from_s_mm: f64,
    to_s_mm: f64,
    now_mm: [f64; 2],
    wanted_mm: [f64; 2],
    /// From the wanted size to the middle of its tolerance.
    middle_mm: f64,
}

impl Segment {
    fn still_mm(&self) -> f64 {
        (self.now_mm[0] - self.wanted_mm[0]).max(self.now_mm[1] - self.wanted_mm[1]) - self.middle_mm
    }

    fn largest_mm(&self) -> f64 {
        self.now_mm[0].max(self.now_mm[1])
    }

    /// The finished part is much thicker somewhere on either side.
    fn is_neck(&self, shaft: &Shaft) -> bool {
        let largest_mm = |on_side: &dyn Fn(f64, f64) -> bool| {
            let spans = shaft.wanted_spans().filter(|(from_mm, to_mm, _)| on_side(*from_mm, *to_mm));
            spans.map(|(_, _, one)| one.land.start_diameter_mm.max(one.land.end_diameter_mm)).fold(0.0, f64::max)
        };
        let before_mm = largest_mm(&|_, to_mm| to_mm <= self.from_s_mm + SAME_MM);
        let after_mm = largest_mm(&|from_mm, _| from_mm >= self.to_s_mm - SAME_MM);
        self.wanted_mm[0].max(self.wanted_mm[1]) < NECK_RATIO * before_mm.min(after_mm)
    }
}

/// Where segments touch they are one run.
fn joined(segments: &[&Segment]) -> Vec<(f64, f64)> {
    let mut runs: Vec<(f64, f64)> = Vec::new();
    for one in segments {
        match runs.last_mut() {
            Some(last) if one.from_s_mm - last.1 < SAME_MM => last.1 = one.to_s_mm,
            _ => runs.push((one.from_s_mm, one.to_s_mm)),
        }
    }
    runs
}

/// All passes of a holding.
pub fn passes(builder: &Builder, setup: &Setup, side: &Side, roughs: bool, finishes: bool) -> Made {
    let (necks, lands): (Vec<Segment>, Vec<Segment>) =
        segments(builder, side).into_iter().partition(|one| one.is_neck(&builder.job.shaft));
    let mut made = Made::default();
    let pen = Pen { builder, setup };
    if roughs {
        let size_mm = |one: &Segment| one.wanted_mm[0].max(one.wanted_mm[1]);
        let one_size = lands.windows(2).all(|pair| (size_mm(&pair[0]) - size_mm(&pair[1])).abs() < SAME_MM);
        pen.rough(&lands, if one_size { Vec::new() } else { vec![Why::HeavyBeforeThin] }, &mut made);
    }
    if finishes {
        pen.finish(&lands, roughs, &mut made);
        pen.rough(&necks, vec![Why::NeckLast], &mut made);
        pen.finish(&necks, true, &mut made);
        pen.grooves(side, &mut made);
        pen.threads(side, &mut made);
    }
    made
}

/// The one diameter that is there all along a side, where one diameter is wanted as well and nothing breaks the surface;
/// a follower needs all three.
pub fn one_diameter_mm(builder: &Builder, side: &Side) -> Option<f64> {
    let breaks = |one: &Feature| {
        let follows = matches!(one.kind, FeatureKind::TrueSpot | FeatureKind::Thread { .. });
        !follows && one.from_s_mm < side.to_s_mm && one.to_s_mm > side.from_s_mm
    };
    if builder.job.shaft.features.iter().any(breaks) {
        return None;
    }
    let segments = segments(builder, side);
    let first = segments.first()?;
    let same = |ends: [f64; 2], size_mm: f64| ends.iter().all(|end_mm| (end_mm - size_mm).abs() < SAME_MM);
    let is_one =
        segments.iter().all(|one| same(one.now_mm, first.now_mm[0]) && same(one.wanted_mm, first.wanted_mm[0]));
    is_one.then_some(first.now_mm[0])
}

/// The side in straight lengths; what is not drawn is left out.
fn segments(builder: &Builder, side: &Side) -> Vec<Segment> {
    let shaft = &builder.job.shaft;
    let mut breaks_mm = vec![side.from_s_mm, side.to_s_mm];
    breaks_mm.extend(shaft.wanted_spans().flat_map(|(from_mm, to_mm, _)| [from_mm, to_mm]));
    breaks_mm.extend(shaft.stock_spans().flat_map(|(from_mm, to_mm, _)| [from_mm, to_mm]));
    for setup in &builder.job.setups {
        for pass in &setup.passes {
            breaks_mm.extend([pass.from_z_mm, pass.to_z_mm].map(|z_mm| setup.s_of_z_mm(shaft, z_mm)));
        }
    }
    breaks_mm.retain(|s_mm| (side.from_s_mm..=side.to_s_mm).contains(s_mm));
    breaks_mm.sort_by(f64::total_cmp);
    (breaks_mm.windows(2))
        .filter(|ends| ends[1] - ends[0] > 10.0 * SAME_MM)
        .filter_map(|ends| {
            // Just inside, clear of the steps at the ends.
            let inside = [ends[0] + 2.0 * SAME_MM, ends[1] - 2.0 * SAME_MM];
            let middle_s_mm = f64::midpoint(ends[0], ends[1]);
            let (from_s_mm, _, wanted) =
                shaft.wanted_spans().find(|(from_mm, to_mm, _)| (*from_mm..*to_mm).contains(&middle_s_mm))?;
            let wanted_mm = inside.map(|s_mm| wanted.land.diameter_at_mm(s_mm - from_s_mm));
            let now_mm = [builder.now_mm(inside[0])?, builder.now_mm(inside[1])?];
            let larger_mm = wanted.land.start_diameter_mm.max(wanted.land.end_diameter_mm);
            let middle_mm = wanted.tolerance.limits_mm(larger_mm).map_or(0.0, |(low, high)| f64::midpoint(low, high));
            // Nobody sets a dial finer.
            let middle_mm = (middle_mm * 1000.0).round() / 1000.0;
            Some(Segment { from_s_mm: ends[0], to_s_mm: ends[1], now_mm, wanted_mm, middle_mm })
        })
        .filter(|segment| segment.still_mm() > SAME_MM)
        .collect()
}

struct Pen<'a> {
    builder: &'a Builder,
    setup: &'a Setup,
}

impl Pen<'_> {
    fn rough(&self, segments: &[Segment], mut why: Vec<Why>, made: &mut Made) {
        let floor = |segment: &Segment| segment.wanted_mm.map(|size_mm| size_mm + LEFT_BY_ROUGHING_MM);
        let left_mm =
            |segment: &Segment| segment.now_mm[0].max(segment.now_mm[1]) - floor(segment)[0].min(floor(segment)[1]);
        let rough: Vec<&Segment> = segments.iter().filter(|one| left_mm(one) > WORTH_A_PASS_MM).collect();
        let (Some(first), Some(last)) = (rough.first(), rough.last()) else { return };
        let top_mm = rough.iter().map(|one| one.largest_mm()).fold(0.0, f64::max);
        let lowest_mm = rough.iter().flat_map(|one| floor(one)).fold(f64::INFINITY, f64::min);
        let depth_mm = self.builder.choice.depth_mm.max((top_mm - lowest_mm) / MOST_LEVELS);
        let n_before = made.passes.len();
        let mut level_mm = top_mm - depth_mm;
        while level_mm > lowest_mm + SAME_MM {
            for (from_s_mm, to_s_mm) in runs_above(&rough, level_mm) {
                let cut = Cut::ToDiameter { diameter_mm: level_mm };
                made.passes.push(self.turn(from_s_mm, to_s_mm, cut, ROUGH_FEED_MM_PER_REV, level_mm + depth_mm));
            }
            level_mm -= depth_mm;
        }
        for (from_s_mm, to_s_mm) in joined(&rough) {
            let cut = Cut::ToDrawing { leave_on_diameter_mm: LEFT_BY_ROUGHING_MM };
            made.passes.push(self.turn(from_s_mm, to_s_mm, cut, ROUGH_FEED_MM_PER_REV, top_mm));
        }
        let (from_s_mm, to_s_mm) = (first.from_s_mm, last.to_s_mm);
        let what = What::Rough { from_s_mm, to_s_mm, n_passes: made.passes.len() - n_before };
        why.push(Why::LeftForFinishing { on_diameter_mm: LEFT_BY_ROUGHING_MM });
        if self.builder.choice.rough_first {
            why.push(Why::RoughingFirst);
        }
        made.step(what, why, n_before);
    }

    /// Each stretch of one setting of the dial, heavy ones first.
    fn finish(&self, segments: &[Segment], just_roughed: bool, made: &mut Made) {
        let mut stretches: Vec<(f64, f64, f64, f64)> = Vec::new();
        for segment in segments {
            let size_mm = segment.wanted_mm[0].max(segment.wanted_mm[1]);
            let over_mm = if just_roughed { size_mm + LEFT_BY_ROUGHING_MM } else { segment.largest_mm() };
            match stretches.last_mut() {
                Some((_, to_s_mm, middle_mm, over))
                    if *middle_mm == segment.middle_mm && segment.from_s_mm - *to_s_mm < SAME_MM =>
                {
                    *to_s_mm = segment.to_s_mm;
                    *over = over.max(over_mm);
                }
                _ => stretches.push((segment.from_s_mm, segment.to_s_mm, segment.middle_mm, over_mm)),
            }
        }
        let (Some(first), Some(last)) = (stretches.first().copied(), stretches.last().copied()) else { return };
        stretches.sort_by(|a, b| b.3.total_cmp(&a.3));
        let n_before = made.passes.len();
        for (from_s_mm, to_s_mm, leave_on_diameter_mm, over_mm) in stretches {
            let cut = Cut::ToDrawing { leave_on_diameter_mm };
            let pass = self.turn(from_s_mm, to_s_mm, cut, FINE_FEED_MM_PER_REV, over_mm);
            let springs = vec![Pass::spring(PassId(0), &pass); self.builder.choice.n_springs];
            made.passes.push(pass);
            made.passes.extend(springs);
        }
        let what = What::Finish { from_s_mm: first.0, to_s_mm: last.1, n_passes: made.passes.len() - n_before };
        let mut why = vec![Why::ToTheMiddle];
        if self.builder.choice.n_springs > 0 {
            why.push(Why::SpringPasses);
        }
        made.step(what, why, n_before);
    }

    fn grooves(&self, side: &Side, made: &mut Made) {
        let shaft = &self.builder.job.shaft;
        for feature in &shaft.features {
            let FeatureKind::Groove { depth_mm } = feature.kind else { continue };
            let Some(crest_mm) = shaft.wanted_diameter_mm(f64::midpoint(feature.from_s_mm, feature.to_s_mm)) else {
                continue;
            };
            let diameter_mm = crest_mm - 2.0 * depth_mm;
            if !self.holds(side, feature.from_s_mm, feature.to_s_mm) || diameter_mm <= 0.0 {
                continue;
            }
            let n_before = made.passes.len();
            let (length_mm, mut cut_mm) = (feature.to_s_mm - feature.from_s_mm, 0.0);
            let width_mm = length_mm / (length_mm / WIDEST_TOOL_MM).ceil().clamp(1.0, MOST_LEVELS);
            while cut_mm < length_mm - SAME_MM {
                let from_s_mm = feature.from_s_mm + cut_mm;
                let to_s_mm = (from_s_mm + width_mm).min(feature.to_s_mm);
                let cut = Cut::ToDiameter { diameter_mm };
                let turned = self.turn(from_s_mm, to_s_mm, cut, GROOVE_FEED_MM_PER_REV, crest_mm);
                let speed_rpm = self.speed_rpm(crest_mm, GROOVE_SPEED_RATIO);
                made.passes.push(Pass { kind: PassKind::Groove, speed_rpm, ..turned });
                cut_mm += width_mm;
            }
            let what = What::Groove { from_s_mm: feature.from_s_mm, to_s_mm: feature.to_s_mm };
            made.step(what, vec![Why::AfterDiameters], n_before);
        }
    }

    fn threads(&self, side: &Side, made: &mut Made) {
        let shaft = &self.builder.job.shaft;
        for feature in &shaft.features {
            let FeatureKind::Thread { pitch_mm } = feature.kind else { continue };
            let crest_mm = shaft.wanted_diameter_mm(f64::midpoint(feature.from_s_mm, feature.to_s_mm));
            let Some(crest_mm) = crest_mm.filter(|crest_mm| *crest_mm > 2.5 * full_depth_mm(pitch_mm)) else {
                continue;
            };
            if !self.holds(side, feature.from_s_mm, feature.to_s_mm) {
                continue;
            }
            let n_before = made.passes.len();
            let infeeds_mm = usual_infeeds_mm(pitch_mm);
            let last = infeeds_mm.len().saturating_sub(1);
            for (index, infeed_mm) in infeeds_mm.iter().enumerate() {
                let cut = if index == last {
                    Cut::ToDrawing { leave_on_diameter_mm: 0.0 }
                } else {
                    Cut::Depth { on_diameter_mm: 2.0 * infeed_mm }
                };
                let turned = self.turn(feature.from_s_mm, feature.to_s_mm, cut, FINE_FEED_MM_PER_REV, crest_mm);
                let speed_rpm = self.speed_rpm(crest_mm, THREAD_SPEED_RATIO);
                made.passes.push(Pass { kind: PassKind::Thread, feed_mm_per_rev: pitch_mm, speed_rpm, ..turned });
            }
            let what = What::Thread {
                from_s_mm: feature.from_s_mm,
                to_s_mm: feature.to_s_mm,
                pitch_mm,
                n_passes: infeeds_mm.len(),
            };
            made.step(what, vec![Why::AfterDiameters], n_before);
        }
    }

    /// The side has all of a stretch.
    fn holds(&self, side: &Side, from_s_mm: f64, to_s_mm: f64) -> bool {
        from_s_mm >= side.from_s_mm - SAME_MM && to_s_mm <= side.to_s_mm + SAME_MM
    }

    /// A pass along a stretch, fed to the headstock.
    fn turn(&self, from_s_mm: f64, to_s_mm: f64, cut: Cut, feed_mm_per_rev: f64, largest_mm: f64) -> Pass {
        let (shaft, lathe) = (&self.builder.job.shaft, &self.builder.job.lathe);
        let ends = [from_s_mm, to_s_mm].map(|s_mm| self.setup.z_of_s_mm(shaft, s_mm));
        Pass {
            id: PassId(0),
            kind: PassKind::Turn,
            from_z_mm: ends[0].max(ends[1]),
            to_z_mm: ends[0].min(ends[1]),
            cut,
            feed_mm_per_rev: real_feed_mm_per_rev(lathe, feed_mm_per_rev),
            speed_rpm: self.speed_rpm(largest_mm, 1.0),
            force: Force::FromCut,
        }
    }

    fn speed_rpm(&self, diameter_mm: f64, ratio: f64) -> f64 {
        speed_rpm(self.builder, self.setup, diameter_mm, ratio)
    }
}

/// A speed of the gearbox for a diameter, within what the chuck is stamped.
pub fn speed_rpm(builder: &Builder, setup: &Setup, diameter_mm: f64, ratio: f64) -> f64 {
    let lathe = &builder.job.lathe;
    let stamped_rpm =
        if setup.drive.kind == DriveKind::CentreAndDog { f64::INFINITY } else { lathe.chuck_max_rpm.value };
    real_speed_rpm(lathe, (ratio * room::usual_speed_rpm(diameter_mm)).min(stamped_rpm))
}

/// Where the work is larger than a level that the drawing lets the tool go down to: runs along the shaft.
fn runs_above(segments: &[&Segment], level_mm: f64) -> Vec<(f64, f64)> {
    let mut runs: Vec<(f64, f64)> = Vec::new();
    for segment in segments.iter().filter(|one| one.largest_mm() > level_mm + WORTH_A_PASS_MM) {
        let floor = segment.wanted_mm.map(|size_mm| size_mm + LEFT_BY_ROUGHING_MM);
        let below = floor.map(|floor_mm| floor_mm <= level_mm + SAME_MM);
        let at_level_mm = || {
            let share = ((level_mm - floor[0]) / (floor[1] - floor[0])).clamp(0.0, 1.0);
            segment.from_s_mm + share * (segment.to_s_mm - segment.from_s_mm)
        };
        let (from_s_mm, to_s_mm) = match below {
            [true, true] => (segment.from_s_mm, segment.to_s_mm),
            [true, false] => (segment.from_s_mm, at_level_mm()),
            [false, true] => (at_level_mm(), segment.to_s_mm),
            [false, false] => continue,
        };
        match runs.last_mut() {
            Some(last) if from_s_mm - last.1 < SAME_MM => last.1 = to_s_mm,
            _ => runs.push((from_s_mm, to_s_mm)),
        }
    }
    runs.retain(|(from_s_mm, to_s_mm)| to_s_mm - from_s_mm >= SLIVER_MM);
    runs
}
