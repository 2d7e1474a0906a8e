//! The bar of what is cut where: of one set-up under its drawing and to its scale, of the whole job on the cover. Greys and
//! hatches only, named in a legend; what the drawing wants cut and nobody cuts is said in words.

use super::piece::line;
use crate::advice::cover_words;
use crate::job::{Job, Setup};
use crate::picture::lettering::Lettering;
use crate::picture::{Align, Fill, Item, Line, Path, Role, at};
use crate::study::coverage::{Cover, Coverage, RunKind, Stretch};

/// Height of the bar.
const BAR_MM: f64 = 3.0;
/// So many lengths that are not cut are told one by one.
const MOST_TOLD: usize = 2;
/// What is not cut is never narrower than this.
const SEEN_MM: f64 = 0.8;

/// What a length of the bar is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Ink {
    Now,
    Before,
    Later,
    NotCut,
    Left,
}

/// In the order of the legend.
const INKS: [Ink; 5] = [Ink::Now, Ink::Before, Ink::Later, Ink::Left, Ink::NotCut];

/// Where the bar lies: between left and right, z = 0 at `zero_mm`.
#[derive(Clone, Copy, Debug)]
pub(super) struct BarAt {
    pub left_mm: f64,
    pub right_mm: f64,
    pub top_mm: f64,
    pub zero_mm: f64,
    pub ratio: f64,
}

/// A length of the shaft in one ink.
struct Length {
    from_s_mm: f64,
    to_s_mm: f64,
    ink: Ink,
}

/// The bar of one set-up, and how high it is.
pub(super) fn of_setup(job: &Job, coverage: &Coverage, setup: &Setup, here: BarAt) -> (Vec<Item>, f64) {
    let lengths = lengths(job, coverage, setup);
    let across = |s_mm: f64| here.zero_mm + here.ratio * setup.z_of_s_mm(&job.shaft, s_mm);
    let names = |ink| match ink {
        Ink::Now => "cut in this set-up",
        Ink::Before => "in an earlier one",
        Ink::Later => "in a later one",
        Ink::NotCut => "wanted, but never cut",
        Ink::Left => "left as it is",
    };
    bar(job, coverage, &lengths, (here, &across), ("Cut along the work", &names))
}

/// The bar of the whole job as wide as that, end A at the left, and how high it is.
pub(super) fn of_job(job: &Job, coverage: &Coverage, width_mm: f64, top_mm: f64) -> (Vec<Item>, f64) {
    let ratio = width_mm / job.shaft.length_mm().max(1e-6);
    let lengths: Vec<Length> = (coverage.stretches.iter())
        .map(|one| {
            let last = one.last.and_then(|id| job.setup_index(id));
            let ink = match last {
                _ if is_missed(one) => Ink::NotCut,
                None => Ink::Left,
                Some(index) if index % 2 == 0 => Ink::Now,
                Some(_) => Ink::Before,
            };
            Length { from_s_mm: one.from_s_mm, to_s_mm: one.to_s_mm, ink }
        })
        .collect();
    let is_two = job.setups.len() <= 2;
    let names = |ink| match ink {
        Ink::Now if is_two => "cut last in set-up 1",
        Ink::Before if is_two => "in set-up 2",
        Ink::Now => "cut last in set-up 1, 3, 5",
        Ink::Before => "in set-up 2, 4, 6",
        Ink::Later => "",
        Ink::NotCut => "wanted, but never cut",
        Ink::Left => "left as it is",
    };
    let here = BarAt { left_mm: 0.0, right_mm: width_mm, top_mm, zero_mm: 0.0, ratio };
    bar(job, coverage, &lengths, (here, &|s_mm| ratio * s_mm), ("", &names))
}

fn is_missed(stretch: &Stretch) -> bool {
    stretch.cover == Cover::Uncut
}

/// Rising along the shaft, without gaps.
fn lengths(job: &Job, coverage: &Coverage, setup: &Setup) -> Vec<Length> {
    let now = job.setup_index(setup.id);
    let runs = || {
        coverage.setups.iter().flat_map(|cover| {
            let index = job.setup_index(cover.setup);
            cover.cut.iter().filter(|run| run.kind == RunKind::Outside).map(move |run| (index, run))
        })
    };
    let mut breaks_mm: Vec<f64> = vec![0.0, job.shaft.length_mm()];
    breaks_mm.extend(runs().flat_map(|(_, run)| [run.from_s_mm, run.to_s_mm]));
    breaks_mm.extend(coverage.stretches.iter().flat_map(|one| [one.from_s_mm, one.to_s_mm]));
    breaks_mm.retain(|s_mm| (0.0..=job.shaft.length_mm()).contains(s_mm));
    breaks_mm.sort_by(f64::total_cmp);
    let mut all: Vec<Length> = Vec::new();
    for ends in breaks_mm.windows(2).filter(|ends| ends[1] - ends[0] > 1e-6) {
        let middle_mm = f64::midpoint(ends[0], ends[1]);
        let holds = |from_mm: f64, to_mm: f64| (from_mm..to_mm).contains(&middle_mm);
        let by = || runs().filter(|(_, run)| holds(run.from_s_mm, run.to_s_mm)).map(|(index, _)| index);
        let missed = coverage.stretches.iter().any(|one| is_missed(one) && holds(one.from_s_mm, one.to_s_mm));
        let ink = if by().any(|index| index == now) {
            Ink::Now
        } else if by().any(|index| index < now) {
            Ink::Before
        } else if by().next().is_some() {
            Ink::Later
        } else if missed {
            Ink::NotCut
        } else {
            Ink::Left
        };
        match all.last_mut().filter(|last| last.ink == ink) {
            Some(last) => last.to_s_mm = ends[1],
            None => all.push(Length { from_s_mm: ends[0], to_s_mm: ends[1], ink }),
        }
    }
    all
}

fn field((left, right): (f64, f64), top: f64, ink: Ink) -> Vec<Item> {
    let rect = |role| Path::rect(at(left, top - BAR_MM), at(right, top), role);
    let foot = top - BAR_MM / 2.0;
    match ink {
        Ink::Now => vec![rect(Role::CutNow).lined(Line::Thin).filled(Fill::Solid).into()],
        Ink::Before => vec![rect(Role::CutBefore).lined(Line::Thin).filled(Fill::Hatch).into()],
        Ink::Later => vec![rect(Role::Rule).lined(Line::Thin).into()],
        Ink::Left => vec![
            rect(Role::Rule).lined(Line::Thin).into(),
            Path::segment(at(left, foot), at(right, foot), Role::Rule).lined(Line::Thin).into(),
        ],
        Ink::NotCut => vec![rect(Role::NotCut).lined(Line::Thick).filled(Fill::Solid).into()],
    }
}

/// Heading and legend in one row, or the legend under the heading; the bar; and words about what is not cut.
fn bar(
    job: &Job,
    coverage: &Coverage,
    lengths: &[Length],
    (here, across): (BarAt, &dyn Fn(f64) -> f64),
    (heading, names): (&str, &dyn Fn(Ink) -> &'static str),
) -> (Vec<Item>, f64) {
    let mut items: Vec<Item> = Vec::new();
    let kind = Lettering::Fine;
    let mut top_mm = here.top_mm;
    let mut left_mm = here.left_mm;
    if !heading.is_empty() {
        items.push(line(left_mm, top_mm, Align::Left, Lettering::CloseStrong, Role::Text, heading).into());
        left_mm += Lettering::CloseStrong.width_mm(heading) + 5.0;
    }
    for ink in INKS.into_iter().filter(|ink| lengths.iter().any(|length| length.ink == *ink)) {
        let name = names(ink);
        let wide_mm = 7.5 + kind.width_mm(name);
        if left_mm + wide_mm > here.right_mm && left_mm > here.left_mm {
            left_mm = here.left_mm;
            top_mm -= kind.line_mm();
        }
        items.extend(field((left_mm, left_mm + 6.0), top_mm - 0.1, ink));
        items.push(line(left_mm + 7.5, top_mm, Align::Left, kind, Role::Text, name).into());
        left_mm += wide_mm + 4.0;
    }
    let mut told = told(job, coverage);
    // A line that has room beside the legend stands there.
    if let [only] = &told[..]
        && left_mm + kind.width_mm(only) <= here.right_mm
    {
        items.push(line(here.right_mm, top_mm, Align::Right, kind, Role::Text, only).into());
        told.clear();
    }
    top_mm -= kind.line_mm() + 0.6;
    // What is not cut over all else, so that a narrow length of it is seen.
    let (missed, others): (Vec<&Length>, Vec<&Length>) = lengths.iter().partition(|one| one.ink == Ink::NotCut);
    for length in others.into_iter().chain(missed) {
        let ends = [across(length.from_s_mm), across(length.to_s_mm)];
        let (mut left, mut right) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
        if length.ink == Ink::NotCut && right - left < SEEN_MM {
            let middle = f64::midpoint(left, right);
            (left, right) = (middle - SEEN_MM / 2.0, middle + SEEN_MM / 2.0);
        }
        let shown = (left.max(here.left_mm), right.min(here.right_mm));
        if shown.1 > shown.0 {
            items.extend(field(shown, top_mm, length.ink));
        }
    }
    top_mm -= BAR_MM + 0.4;
    for words in told {
        let (lines, _) = kind.wrapped(&words, here.right_mm - here.left_mm, 3);
        for words in lines {
            items.push(line(here.left_mm, top_mm, Align::Left, kind, Role::Text, &words).into());
            top_mm -= kind.line_mm();
        }
    }
    (items, here.top_mm - top_mm)
}

/// What the drawing wants cut and no set-up cuts, in words.
fn told(job: &Job, coverage: &Coverage) -> Vec<String> {
    if job.shaft.wanted.is_empty() {
        return Vec::new();
    }
    let missed: Vec<&Stretch> = coverage.stretches.iter().filter(|one| is_missed(one)).collect();
    let mut told: Vec<String> = missed.iter().take(MOST_TOLD).map(|one| cover_words::line(job, one)).collect();
    match missed.len() {
        0 => told.push("All the outside that the drawing wants cut is cut.".to_owned()),
        n if n > MOST_TOLD => {
            let mm: f64 = missed.iter().map(|one| one.length_mm()).sum();
            let all = crate::advice::words::length(mm, job.units);
            told.push(format!("{} more lengths are not cut in any set-up, {all} taken all together.", n - MOST_TOLD));
        }
        _ => {}
    }
    told
}
