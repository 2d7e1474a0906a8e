//! Why what turns with the work, and what comes of threads, grooves, faces, holes and bores, is what it is; and what the
//! rows under the bench say. Mostly words: these come of the whole computation.

use super::sum::{Sum, number};
use super::{Asked, Why};
use crate::advice::end_work::growth;
use crate::advice::words;
use crate::job::Job;
use crate::study::{Station, Turned};

const TURNS: &str = "the same bending, walked once more with what turns with the work, angle after angle";
const TURNS_TRUST: &str = "as good as the indicator readings that were typed";
const END: &str = "the bent line of the work at its end; geometry";
const AS_BAND: &str = "as sure as force and stiffness are";

/// Which reading of what turns with the work.
#[derive(Clone, Copy, PartialEq)]
pub enum Turning {
    Held,
    LetGo,
    Round,
}

fn worst(asked: &Asked<'_>, read_mm: fn(&Turned) -> f64) -> Option<Station> {
    let (_, result) = asked.pass?;
    result.stations.iter().max_by(|a, b| read_mm(&a.turned).total_cmp(&read_mm(&b.turned))).copied()
}

/// A reading of what turns with the work.
pub fn turning(asked: &Asked<'_>, which: Turning) -> Option<Why> {
    Some(of_turning(asked.job, which, &worst(asked, |turned| turned.left_mm)?))
}

/// The same at a place.
pub fn of_turning(job: &Job, which: Turning, at: &Station) -> Why {
    let what = match which {
        Turning::Held => {
            "What an indicator on the fresh surface would swing in one turn, the work still held. It is no error of size."
        }
        Turning::LetGo => {
            "The same once the work is let go and turns about its own centre holes: a bent bar springs back."
        }
        Turning::Round => "From the lowest to the highest place of the fresh surface, measured from its own middle.",
    };
    let mut why = Why::new(what, TURNS, TURNS_TRUST);
    why.more.push(format!(
        "Before the cut it ran out {} there, as it was held; each pass leaves a share of what it finds, as it leaves a share of the size.",
        words::amount(at.turned.before_mm, job.units)
    ));
    if which == Turning::Held && at.turned.before_mm > 0.0 {
        why.sums.push(Sum::estimate(
            "share left",
            "run-out left \u{f7} run-out before",
            format!("{} \u{f7} {}", number(at.turned.left_mm), number(at.turned.before_mm)),
            number((at.turned.left_mm / at.turned.before_mm * 1e4).round() / 1e4),
        ));
    }
    why
}

/// A figure that belongs to a kind of pass, by its name in the notes.
pub fn outcome(asked: &Asked<'_>, name: &str) -> Option<Why> {
    let (_, result) = asked.pass?;
    let what = match name {
        "the thread is" => "The root is what the tool leaves; a root left big is a thread too shallow.",
        "Spring, to begin" => "How far the work gives way as the tool begins to cut.",
        "at the bottom" | "half way through" => {
            "How far the work gives way when the tool is deepest, or half of the wall is parted through."
        }
        "drawn out at once" => {
            "The error if the tool is drawn out the moment the feed stops: the work still stands away from it."
        }
        "after a dwell" => {
            "The error if the tool waits until it has stopped cutting: the work has come back, and only what is off the axis stays."
        }
        "Face" => {
            "How much deeper, or less deep, the middle of the face lies than its rim: the work's end stands aslant, and turns."
        }
        "pip in its middle" => {
            "What a tool on centre height leaves standing in the middle: twice as wide as the work's axis stands off it there."
        }
        "Bore" => "How the hole's diameter changes along it: the work gives most at its free end.",
        "Work off the drill" => "How far the middle of the work is from the drill's axis where the hole begins.",
        "Work lies there" => "Where the middle of the work's end lies under the cut, seen from the spindle's axis.",
        _ => return None,
    };
    let mut why = Why::new(what, END, AS_BAND);
    if name == "Bore"
        && let (Some(deep), Some(mouth)) = (result.stations.first(), result.stations.last())
    {
        why.sums.push(growth(deep, mouth, asked.job.units));
    }
    why.more.push("This comes of the whole computation of the bent work at that place.".to_owned());
    Some(why)
}

/// What came of the computation.
pub fn status() -> Why {
    let mut why = Why::new(
        "Whether the computation came to an end that fits its own equations.",
        "the program's own check",
        "sure",
    );
    why.more.push("Every place is checked: forces balance, jaws only push, and none goes into the work. Where that fails, or nothing holds the work, no figure is to be relied on.".to_owned());
    why
}

/// What the rows under the bench say.
pub fn rows() -> Why {
    let what = "The rows stand under the bench on its own scale: what is cut where, where each rest may stand or run, and what the steady looked at would come to elsewhere.";
    let source = "what is cut: the program's own bookkeeping; where a rest may stand: measures of the lathe, and common practice without a source for what a jaw may run on; what it would come to: the program's own computation";
    let trust = "what is cut and where a rest may stand: as sure as the measures of the lathe, of which those nobody stated are assumed; the order of places: sure, their figures: coarser than the curves";
    let mut why = Why::new(what, source, trust);
    why.more = [
        "All, or a set-up: which lengths of the shaft are cut to size, and which are not. Every pass is laid over the shaft with what it really leaves; jaws, dog, centres and rests keep the tool off some of it.",
        "Steady or follower: where the carriage, the tailstock and the jaws leave it room, and the jaws find a true round place. Each end of a stretch has its own reason, told at the pointer.",
        "Size, spring or chatter: what this rest would come to if it stood anywhere else, everything else staying as it is. It is tried at some two hundred places on a coarse grid, with the same computation of bending and cutting.",
    ]
    .map(str::to_owned)
    .to_vec();
    why
}
