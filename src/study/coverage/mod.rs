//! What is cut where: along the shaft, which lengths come to the wanted size, in which set-up, and which never do.
//!
//! Judged by the dial and by what is really there together: a length is to size where either stands within what the
//! drawing allows, so that spring alone makes no gap (the size rule tells of that). Places along the shaft, from end A.

mod marks;
mod runs;
pub mod table;

use super::outline::stock_surface;
use super::results::{JobResult, Span, Surface};
use crate::job::{DriveKind, Job, RestId, Setup, SetupId, Shaft};
pub use marks::{EndCover, FeatureCover};
pub use runs::{Run, RunKind};

/// A diameter without a stated tolerance counts as reached within so much, either way. Source: ISO 2768-1, class m, the
/// narrowest row (from memory).
pub const FREE_SIZE_MM: f64 = 0.1;
/// A tolerance no wider than this is taken for a fit. Common practice, no source.
pub const FIT_MM: f64 = 0.1;
/// Sizes and places nearer than this are the same.
const SAME_MM: f64 = 1e-6;
/// A seam so near a shoulder is hidden by it. Common practice, no source.
const SHOULDER_MM: f64 = 0.5;

/// How far a stretch has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cover {
    /// The drawing says nothing of it.
    NotDrawn,
    /// The drawing leaves the stock as it is, without a tolerance.
    AsStock,
    /// Cut to what the drawing allows.
    ToSize,
    /// The drawing wants it cut, and no pass reaches it.
    Uncut,
    /// Cut, but with more left on it than the drawing allows.
    Heavy,
    /// The dial goes below what the drawing allows.
    Undersize,
}

/// A stretch of the shaft in one state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    pub from_s_mm: f64,
    pub to_s_mm: f64,
    pub cover: Cover,
    /// The most that is still to come off, on diameter; below the wanted size, the most that is missing.
    pub by_mm: f64,
    /// The set-up that cut its outside last.
    pub last: Option<SetupId>,
}

impl Stretch {
    /// Its length.
    #[must_use]
    pub fn length_mm(&self) -> f64 {
        self.to_s_mm - self.from_s_mm
    }

    /// The drawing wants no more done here.
    #[must_use]
    pub fn is_done(&self) -> bool {
        matches!(self.cover, Cover::NotDrawn | Cover::AsStock | Cover::ToSize)
    }
}

/// One set-up.
#[derive(Clone, Debug, PartialEq)]
pub struct SetupCover {
    pub setup: SetupId,
    /// What its passes really cut, rising, one kind after the other.
    pub cut: Vec<Run>,
    /// What is inside chuck, collet or face plate, and so cannot be cut.
    pub held: Option<(f64, f64)>,
    /// What is under the jaws of each rest.
    pub under: Vec<(RestId, f64, f64)>,
}

/// Where the cuts of two set-ups meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seam {
    pub s_mm: f64,
    /// Towards end A and towards end B of it.
    pub setups: [SetupId; 2],
    /// How much larger the work is on the side of end B, on diameter.
    pub step_mm: f64,
    /// The diameters on the side of end A and on that of end B.
    pub sizes_mm: [f64; 2],
    /// How far the later cut runs over the earlier one.
    pub overlap_mm: f64,
    /// The land of the finished part it falls on; `None` where a shoulder hides it.
    pub land: Option<usize>,
}

/// The whole job.
#[derive(Clone, Debug, PartialEq)]
pub struct Coverage {
    pub setups: Vec<SetupCover>,
    /// The shaft as it leaves the last set-up, without gaps, rising.
    pub stretches: Vec<Stretch>,
    pub seams: Vec<Seam>,
    /// Threads and grooves of the drawing.
    pub features: Vec<FeatureCover>,
    /// The ends of the finished part where stock stands beyond them: end A, end B.
    pub ends: [Option<EndCover>; 2],
}

impl Coverage {
    /// The stretches in one state.
    pub fn of(&self, cover: Cover) -> impl Iterator<Item = &Stretch> {
        self.stretches.iter().filter(move |stretch| stretch.cover == cover)
    }

    /// Length in one state.
    #[must_use]
    pub fn length_mm(&self, cover: Cover) -> f64 {
        self.of(cover).map(Stretch::length_mm).sum()
    }

    /// One set-up.
    #[must_use]
    pub fn setup(&self, id: SetupId) -> Option<&SetupCover> {
        self.setups.iter().find(|setup| setup.setup == id)
    }
}

/// What is cut where.
#[must_use]
pub fn coverage(job: &Job, result: &JobResult) -> Coverage {
    let stock = stock_surface(&job.shaft);
    let mut painted = runs::Painted::default();
    let mut setups = Vec::with_capacity(job.setups.len());
    let mut last_after = &stock;
    for setup in &job.setups {
        let Some(computed) = result.setup(setup.id) else { continue };
        let cut = runs::of_setup(job, setup, computed);
        for run in cut.iter().filter(|run| run.kind == RunKind::Outside) {
            painted.paint(run, setup.id);
        }
        last_after = computed.after();
        setups.push(SetupCover { setup: setup.id, cut, held: held(job, setup), under: under_rests(job, setup) });
    }
    let stretches = stretches(&job.shaft, &stock, last_after, &painted);
    let seams = seams(&job.shaft, last_after, &painted, &setups);
    let features = marks::features(&job.shaft, last_after);
    let ends = marks::ends(job);
    Coverage { setups, stretches, seams, features, ends }
}

/// A length of wanted profile with what it may be.
struct Wanted {
    from_s_mm: f64,
    to_s_mm: f64,
    ends_mm: [f64; 2],
    /// Below and above the wanted size; `None` where no tolerance is stated.
    limits_mm: Option<(f64, f64)>,
}

impl Wanted {
    fn at_mm(&self, s_mm: f64) -> f64 {
        between(self.from_s_mm, self.to_s_mm, self.ends_mm, s_mm)
    }
}

fn between(from_mm: f64, to_mm: f64, ends: [f64; 2], at_mm: f64) -> f64 {
    let share = ((at_mm - from_mm) / (to_mm - from_mm).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
    ends[0] + (ends[1] - ends[0]) * share
}

/// Dial and diameter of a surface at a place within a span.
fn sizes_mm(span: &Span, s_mm: f64) -> (f64, f64) {
    let at = |ends| between(span.from_s_mm, span.to_s_mm, ends, s_mm);
    (at([span.start_dial_mm, span.end_dial_mm]), at([span.start_diameter_mm, span.end_diameter_mm]))
}

/// The shaft with the outside `now`, in stretches of one state.
fn stretches(shaft: &Shaft, stock: &Surface, now: &Surface, painted: &runs::Painted) -> Vec<Stretch> {
    let wanted: Vec<Wanted> = (shaft.wanted_spans())
        .map(|(from_s_mm, to_s_mm, wanted)| Wanted {
            from_s_mm,
            to_s_mm,
            ends_mm: [wanted.land.start_diameter_mm, wanted.land.end_diameter_mm],
            limits_mm: wanted.tolerance.limits_mm(wanted.land.start_diameter_mm.max(wanted.land.end_diameter_mm)),
        })
        .collect();
    let grooves = marks::grooves(shaft);
    let mut breaks_mm: Vec<f64> = Vec::with_capacity(2 * now.spans.len());
    breaks_mm.extend(now.spans.iter().chain(&stock.spans).flat_map(|span| [span.from_s_mm, span.to_s_mm]));
    breaks_mm.extend(wanted.iter().flat_map(|wanted| [wanted.from_s_mm, wanted.to_s_mm]));
    breaks_mm.extend(painted.breaks_mm());
    breaks_mm.extend(grooves.iter().flat_map(|groove| [groove.from_s_mm, groove.to_s_mm]));
    let length_mm = shaft.length_mm();
    breaks_mm.retain(|s_mm| (0.0..=length_mm).contains(s_mm));
    breaks_mm.sort_by(f64::total_cmp);

    let mut all: Vec<Stretch> = Vec::new();
    let (mut now_at, mut stock_at) = (0, 0);
    for ends in breaks_mm.windows(2).filter(|ends| ends[1] - ends[0] > SAME_MM) {
        let middle_mm = f64::midpoint(ends[0], ends[1]);
        let (Some(there), Some(raw)) =
            (span_at(&now.spans, &mut now_at, middle_mm), span_at(&stock.spans, &mut stock_at, middle_mm))
        else {
            continue;
        };
        let wanted = wanted.iter().find(|wanted| (wanted.from_s_mm..wanted.to_s_mm).contains(&middle_mm));
        let last = painted.at(middle_mm);
        let in_groove = grooves.iter().find(|groove| (groove.from_s_mm..groove.to_s_mm).contains(&middle_mm));
        let groove_mm = in_groove.map_or(0.0, |groove| groove.depth_on_diameter_mm);
        let (cover, by_mm) = wanted.map_or((Cover::NotDrawn, 0.0), |wanted| {
            let is_cut = last.is_some();
            // The worse of both ends, just inside.
            let near = [ends[0] + SAME_MM / 2.0, ends[1] - SAME_MM / 2.0];
            near.map(|s_mm| state(wanted, raw, there, is_cut, groove_mm, s_mm))
                .into_iter()
                .max_by(|a, b| (rank(a.0), a.1).partial_cmp(&(rank(b.0), b.1)).unwrap_or(std::cmp::Ordering::Equal))
                .unwrap_or((Cover::NotDrawn, 0.0))
        });
        match all.last_mut() {
            Some(before) if before.cover == cover && before.last == last => {
                before.to_s_mm = ends[1];
                before.by_mm = before.by_mm.max(by_mm);
            }
            _ => all.push(Stretch { from_s_mm: ends[0], to_s_mm: ends[1], cover, by_mm, last }),
        }
    }
    all
}

fn rank(cover: Cover) -> u8 {
    match cover {
        Cover::NotDrawn | Cover::AsStock | Cover::ToSize => 0,
        Cover::Heavy => 1,
        Cover::Uncut => 2,
        Cover::Undersize => 3,
    }
}

/// The state of one place, and by how much it is off.
fn state(wanted: &Wanted, raw: &Span, there: &Span, is_cut: bool, groove_mm: f64, s_mm: f64) -> (Cover, f64) {
    let wanted_mm = wanted.at_mm(s_mm);
    let (dial_mm, diameter_mm) = sizes_mm(there, s_mm);
    let (stock_mm, _) = sizes_mm(raw, s_mm);
    let (lower_mm, upper_mm) = wanted.limits_mm.unwrap_or((-FREE_SIZE_MM, FREE_SIZE_MM));
    let (least_mm, most_mm) = (wanted_mm + lower_mm - groove_mm - SAME_MM, wanted_mm + upper_mm + SAME_MM);
    let smaller_mm = dial_mm.min(diameter_mm);
    let still_mm = smaller_mm - wanted_mm;
    if !is_cut && (dial_mm - stock_mm).abs() < SAME_MM {
        return match wanted.limits_mm {
            None if (stock_mm - wanted_mm).abs() < SAME_MM => (Cover::AsStock, 0.0),
            // The stock itself is never undersize by plan: the check of the drawing tells of it.
            _ => (Cover::Uncut, still_mm.max(0.0)),
        };
    }
    if smaller_mm > most_mm {
        (Cover::Heavy, still_mm)
    } else if dial_mm.max(diameter_mm) < least_mm {
        (Cover::Undersize, -still_mm)
    } else {
        (Cover::ToSize, 0.0)
    }
}

/// The span about a place, looked for from the last one found.
fn span_at<'a>(spans: &'a [Span], from: &mut usize, s_mm: f64) -> Option<&'a Span> {
    while spans.get(*from).is_some_and(|span| span.to_s_mm < s_mm) {
        *from += 1;
    }
    spans.get(*from).filter(|span| span.from_s_mm <= s_mm)
}

/// What the jaws hide.
fn held(job: &Job, setup: &Setup) -> Option<(f64, f64)> {
    if setup.drive.kind == DriveKind::CentreAndDog {
        return None;
    }
    clipped(job, setup, f64::NEG_INFINITY, 0.0)
}

fn under_rests(job: &Job, setup: &Setup) -> Vec<(RestId, f64, f64)> {
    let half_mm = job.lathe.rest_jaw_width_mm.value / 2.0;
    (setup.rests.iter())
        .filter_map(|rest| {
            let (from_s_mm, to_s_mm) = clipped(job, setup, rest.z_mm - half_mm, rest.z_mm + half_mm)?;
            Some((rest.id, from_s_mm, to_s_mm))
        })
        .collect()
}

/// A stretch of the bed as the stretch of the shaft that lies there.
fn clipped(job: &Job, setup: &Setup, from_z_mm: f64, to_z_mm: f64) -> Option<(f64, f64)> {
    let shaft = &job.shaft;
    let (low_mm, high_mm) = (from_z_mm.max(setup.work_start_z_mm), to_z_mm.min(setup.work_end_z_mm(shaft)));
    let ends = [low_mm, high_mm].map(|z_mm| setup.s_of_z_mm(shaft, z_mm));
    (high_mm - low_mm > SAME_MM).then(|| (ends[0].min(ends[1]), ends[0].max(ends[1])))
}

/// Where the outside was cut last by different set-ups on either side.
fn seams(shaft: &Shaft, now: &Surface, painted: &runs::Painted, setups: &[SetupCover]) -> Vec<Seam> {
    let mut seams = Vec::new();
    for pair in painted.runs().windows(2) {
        let (low, high) = (&pair[0], &pair[1]);
        if high.from_s_mm - low.to_s_mm > SAME_MM || low.by == high.by {
            continue;
        }
        let s_mm = high.from_s_mm;
        let drawn = |at_mm: f64| shaft.wanted_diameter_mm(at_mm);
        let Some(_) = drawn(s_mm) else { continue };
        let at_shoulder = shaft.wanted_spans().any(|(from_mm, to_mm, _)| {
            [from_mm, to_mm].into_iter().any(|edge_mm| {
                let beside = [edge_mm - 2.0 * SAME_MM, edge_mm + 2.0 * SAME_MM].map(drawn);
                let steps = match beside {
                    [Some(a), Some(b)] => (a - b).abs() > SAME_MM,
                    _ => true,
                };
                (edge_mm - s_mm).abs() <= SHOULDER_MM && steps
            })
        });
        let land = shaft.wanted_spans().position(|(from_mm, to_mm, _)| (from_mm..=to_mm).contains(&s_mm));
        let ends_there = now.spans.iter().find(|span| (span.to_s_mm - s_mm).abs() < SAME_MM);
        let begins_there = now.spans.iter().find(|span| (span.from_s_mm - s_mm).abs() < SAME_MM);
        let sizes_mm = match (ends_there, begins_there) {
            (Some(before), Some(after)) => [before.end_diameter_mm, after.start_diameter_mm],
            _ => [0.0; 2],
        };
        seams.push(Seam {
            s_mm,
            setups: [low.by, high.by],
            step_mm: sizes_mm[1] - sizes_mm[0],
            sizes_mm,
            overlap_mm: overlap_mm(setups, [low.by, high.by], s_mm),
            land: land.filter(|_| !at_shoulder),
        });
    }
    seams
}

/// The length about a place that both set-ups cut.
fn overlap_mm(setups: &[SetupCover], both: [SetupId; 2], s_mm: f64) -> f64 {
    let run = |id: SetupId| {
        let setup = setups.iter().find(|setup| setup.setup == id)?;
        let about = |run: &&Run| {
            run.kind == RunKind::Outside && (run.from_s_mm - SAME_MM..=run.to_s_mm + SAME_MM).contains(&s_mm)
        };
        setup.cut.iter().find(about)
    };
    match both.map(run) {
        [Some(a), Some(b)] => (a.to_s_mm.min(b.to_s_mm) - a.from_s_mm.max(b.from_s_mm)).max(0.0),
        _ => 0.0,
    }
}
