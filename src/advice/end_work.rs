//! A face that is not flat, a bore that is not straight, a drill that misses the middle: work that leans at its end.
//!
//! Nothing is toleranced there in the job, so what counts is what a shop can just measure: 10 µm on a face or along a
//! bore, 20 µm under a drill, a pip as wide as a scriber's point (0.1 mm). Those figures: common practice, no source.
//! The way to move the steady follows from where the work lies in it. Source of the signs: geometry ([`crate::study::end_work`]).

use super::outcome::{bore_words, hollow_or_domed, place_words};
use super::why::Why;
use super::why::sum::{Sum, number, size};
use super::words::{self, Computed, computed_passes};
use super::{Finding, Verdict};
use crate::job::{Edit, Job, PassKind, Rest, RestId, Subject, TailEnd, TailKind, Units};
use crate::study::{EndWork, JobResult, Station, Status};

const TELLING_MM: f64 = 0.01;
const DRILL_OFF_MM: f64 = 0.02;
const PIP_MM: f64 = 0.1;
/// Nearer to the axis than this a rest stands on it, for any indicator in a shop.
const ON_AXIS_MM: f64 = 0.001;

/// At most one finding a facing, drilling or boring pass.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    computed_passes(job, result)
        .filter(|computed| matches!(computed.result.status, Status::Solved | Status::StoppedEarly))
        .filter_map(|computed| {
            let end = computed.result.end.as_ref()?;
            finding_of(job, &computed, end)
        })
        .collect()
}

/// What is wrong with one end.
struct Fault {
    verdict: Verdict,
    text: String,
    why: &'static str,
    /// 0 where it is sideways, 1 where it is the height.
    plane: usize,
    sum: Option<Sum>,
}

fn finding_of(job: &Job, computed: &Computed<'_>, end: &EndWork) -> Option<Finding> {
    let fault = fault(job, computed, end)?;
    let name = words::pass_name(job, computed.setup, computed.pass);
    let steady = end.at_steady.and_then(|(id, lies_mm)| Some((computed.setup.rest(id)?, lies_mm)));
    let advice = match steady {
        Some((rest, lies_mm)) if lies_mm[fault.plane].abs() >= TELLING_MM / 2.0 => {
            steady_words(job, rest, lies_mm, &fault)
        }
        _ if computed.pass.kind == PassKind::Drill => " Bring the tailstock to where the work turns.".to_owned(),
        _ => " It is mostly the push of the cut: take less, or let the work stand out less.".to_owned(),
    };
    Some(Finding {
        rule: "end_work",
        about: Subject::Pass(computed.setup.id, computed.pass.id),
        verdict: fault.verdict,
        text: format!("{name}: {}", fault.text),
        why: format!("{}{advice}", fault.why),
        z_mm: Some(end.z_mm),
        remedy: remedy(computed, end.at_steady, fault.plane),
        behind: behind(fault.sum),
    })
}

fn behind(sum: Option<Sum>) -> Why {
    let why = Why::new(
        "Where the middle of the work lies at its end, and how aslant it stands there: both come of the whole computation.",
        "the bent line of the work at its end; geometry",
        "as sure as force and stiffness are; what is worth telling: common practice, no source",
    );
    Why { sums: sum.into_iter().collect(), ..why }
}

fn fault(job: &Job, computed: &Computed<'_>, end: &EndWork) -> Option<Fault> {
    let units = job.units;
    match computed.pass.kind {
        PassKind::Drill if computed.setup.tail.kind != TailKind::Free => Some(Fault {
            verdict: Verdict::Trouble,
            text: "the tailstock centre is in the way of the drill".to_owned(),
            why: "The drill wants the tailstock for itself: the end is carried by a steady, or stands out short.",
            plane: 0,
            sum: None,
        }),
        PassKind::Drill => {
            let off_mm = [end.off_x_mm, end.off_y_mm];
            (off_mm[0].hypot(off_mm[1]) > DRILL_OFF_MM).then(|| Fault {
                verdict: Verdict::Watch,
                text: format!("the middle of the work lies {} from the drill's axis", place_words(off_mm, units)),
                why: "A drill that does not meet the middle cuts its mouth too wide, and a centre drill may break.",
                plane: usize::from(off_mm[1].abs() > off_mm[0].abs()),
                sum: Some(Sum::figure(
                    "off the drill's axis",
                    "sideways and up together",
                    format!("\u{221a}({}^2 + {}^2)", number(off_mm[0].abs()), number(off_mm[1].abs())),
                    words::amount(off_mm[0].hypot(off_mm[1]), units),
                )),
            })
        }
        PassKind::Face => {
            let dish_mm = end.dish_mm.filter(|dish_mm| dish_mm.abs() > TELLING_MM);
            if let Some(dish_mm) = dish_mm {
                return Some(Fault {
                    verdict: Verdict::Watch,
                    text: format!("the face comes out {}", hollow_or_domed(dish_mm, units)),
                    why: "The tool goes straight across, but the work turns about an axis that leans: toward you it \
                          faces hollow, away it faces domed.",
                    plane: 0,
                    sum: dish(computed, end, dish_mm, units),
                });
            }
            let pip_mm = end.pip_mm.filter(|pip_mm| *pip_mm > PIP_MM)?;
            Some(Fault {
                verdict: Verdict::Watch,
                text: format!("a pip of {} is left in the middle of the face", words::amount(pip_mm, units)),
                why: "The middle of the work lies above or below the tool, which passes it by.",
                plane: 1,
                sum: Some(Sum::figure(
                    "pip",
                    "2 \u{d7} how far the middle of the work lies above or below the tool",
                    format!("2 \u{d7} {}", number(pip_mm / 2.0)),
                    words::amount(pip_mm, units),
                )),
            })
        }
        // A boring pass, or a spring pass in a bore.
        _ => {
            let result = computed.result;
            let (deep, mouth) = (result.stations.first()?, result.stations.last()?);
            let growth_mm = mouth.left_diameter_mm - deep.left_diameter_mm;
            (growth_mm.abs() > TELLING_MM).then(|| Fault {
                verdict: Verdict::Watch,
                text: format!("the bore is {}", bore_words(result, units).unwrap_or_default()),
                why: "The tool runs along the bed while the work leans. The near wall is cut: work that lies away from \
                      you is bored too wide, work that lies toward you, or is pulled there by the cut, too tight.",
                plane: 0,
                sum: Some(growth(deep, mouth, units)),
            })
        }
    }
}

/// How a face comes out that goes to the middle: the work stands as aslant there as under the rim.
fn dish(computed: &Computed<'_>, end: &EndWork, dish_mm: f64, units: Units) -> Option<Sum> {
    let radius_mm =
        computed.result.before.spans.iter().map(|span| span.start_dial_mm.max(span.end_dial_mm)).fold(0.0, f64::max)
            / 2.0;
    let (slope_rad, is_whole) = (end.slope_x_rad.abs(), end.pip_mm.is_some());
    let numbers =
        if is_whole { format!("{} \u{d7} {}", number(slope_rad), number(radius_mm)) } else { number(dish_mm.abs()) };
    let words = if is_whole {
        "how far the work goes aside for each mm along it, at its end \u{d7} radius of the face"
    } else {
        "how aslant the work stands under the outer rim \u{d7} its radius, less the same at the inner one"
    };
    Some(Sum::figure("middle against rim", words, numbers, words::amount(dish_mm, units)))
}

/// How much wider or tighter a bore is at its mouth.
pub(super) fn growth(deep: &Station, mouth: &Station, units: Units) -> Sum {
    let growth_mm = mouth.left_diameter_mm - deep.left_diameter_mm;
    let (words, large, small) = if growth_mm >= 0.0 {
        ("diameter at the mouth \u{2212} diameter at the bottom", mouth, deep)
    } else {
        ("diameter at the bottom \u{2212} diameter at the mouth", deep, mouth)
    };
    let numbers = format!("{} \u{2212} {}", size(large.left_diameter_mm), size(small.left_diameter_mm));
    Sum::figure("change", words, numbers, words::amount(growth_mm, units))
}

/// Where the work lies in the steady with no tool cutting, and which way to bring it.
fn steady_words(job: &Job, rest: &Rest, lies_mm: [f64; 2], fault: &Fault) -> String {
    let (lies, way) = if fault.plane == 0 {
        let way = if lies_mm[0] > 0.0 { "toward you" } else { "away from you" };
        (words::away_or_toward(lies_mm[0], job.units), way)
    } else {
        let way = if lies_mm[1] > 0.0 { "down" } else { "up" };
        (words::up_or_down(lies_mm[1], job.units), way)
    };
    format!(
        " With no tool cutting the work lies {lies} in {}: bring its jaws {way} by about as much.",
        words::rest_name(rest, job.units)
    )
}

/// Puts a rest, or the tailstock, back on the axis, where it was set off it.
fn remedy(computed: &Computed<'_>, at_steady: Option<(RestId, [f64; 2])>, plane: usize) -> Option<(String, Edit)> {
    let setup = computed.setup;
    let off = |offsets_mm: [f64; 2]| offsets_mm[plane].abs() >= ON_AXIS_MM;
    let rest = at_steady.and_then(|(id, _)| setup.rest(id)).filter(|rest| off([rest.offset_x_mm, rest.offset_y_mm]));
    if let Some(rest) = rest {
        let rest = Rest { offset_x_mm: 0.0, offset_y_mm: 0.0, ..rest.clone() };
        return Some(("Put the steady back on its setting".to_owned(), Edit::SetRest { setup: setup.id, rest }));
    }
    let tail = &setup.tail;
    (computed.pass.kind == PassKind::Drill && off([tail.offset_x_mm, tail.offset_y_mm])).then(|| {
        let tail = TailEnd { offset_x_mm: 0.0, offset_y_mm: 0.0, ..tail.clone() };
        ("Put the tailstock on the axis".to_owned(), Edit::SetTail { setup: setup.id, tail })
    })
}
