//! Findings: what a turner should know of a computed job, one rule a file, each with its evidence.
//!
//! A rule is a free function from job and result to findings; it says nothing where all is well, but for the size
//! rule, which also says when the tolerance is kept. Findings are estimates in words, never a promise.

pub mod bar_tail;
pub mod bearing_spot;
pub mod cautions;
pub mod chuck_speed;
pub mod compared;
pub mod cover_words;
pub mod dented_tube;
pub mod end_work;
pub mod endways;
pub mod feed_step;
pub mod fights;
pub mod follower_path;
pub mod in_the_way;
pub mod jaw_force;
pub mod jaw_marks;
pub mod jaws;
pub mod leaves_centre;
pub mod nose_radius;
pub mod not_cut;
pub mod off_axis;
pub mod out_of_round;
pub mod outcome;
pub mod overhang;
pub mod parting;
pub mod places;
pub mod plan_words;
pub mod power;
pub mod problems;
pub mod rest_room;
pub mod runout;
pub mod seam;
pub mod size;
pub mod slack_jaw;
pub mod slender;
pub mod speed_step;
pub mod springy;
pub mod squeezed_tube;
pub mod standing;
pub mod steps;
pub mod thread_depth;
pub mod tool_room;
pub mod unsolved;
pub mod warm;
pub mod why;
pub mod words;

use crate::job::{Edit, Job, Subject};
use crate::study::JobResult;

/// How bad it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    Fine,
    Watch,
    Trouble,
}

impl Verdict {
    /// The one word for it on screen and on paper.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Fine => "fine",
            Self::Watch => "watch",
            Self::Trouble => "trouble",
        }
    }
}

/// One thing to know, in a turner's words.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The rule that found it: the name of its file.
    pub rule: &'static str,
    pub about: Subject,
    pub verdict: Verdict,
    /// One short sentence with the numbers in it, in the job's units.
    pub text: String,
    /// Why it matters, one or two sentences.
    pub why: String,
    /// The place on the work it is about.
    pub z_mm: Option<f64>,
    /// An edit that mends it, with the words on its button.
    pub remedy: Option<(String, Edit)>,
    /// What the numbers in it come of.
    pub behind: why::Why,
}

/// A rule: looks at one thing only.
type Rule = fn(&Job, &JobResult) -> Vec<Finding>;

/// Every rule, in the order in which findings of the same verdict are told.
const RULES: [Rule; 34] = [
    problems::findings,
    unsolved::findings,
    not_cut::findings,
    size::findings,
    thread_depth::findings,
    end_work::findings,
    parting::findings,
    bar_tail::findings,
    chuck_speed::findings,
    power::findings,
    endways::findings,
    leaves_centre::findings,
    in_the_way::findings,
    rest_room::findings,
    tool_room::findings,
    bearing_spot::findings,
    follower_path::findings,
    slack_jaw::findings,
    springy::findings,
    jaw_force::findings,
    jaw_marks::findings,
    dented_tube::findings,
    squeezed_tube::findings,
    off_axis::findings,
    fights::findings,
    warm::findings,
    runout::findings,
    seam::findings,
    out_of_round::findings,
    overhang::findings,
    slender::findings,
    nose_radius::findings,
    speed_step::findings,
    feed_step::findings,
];

/// All findings, worst first.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    let mut all: Vec<Finding> = RULES.iter().flat_map(|rule| rule(job, result)).collect();
    // The sort is stable: within one verdict the order of the rules stays.
    all.sort_by_key(|finding| std::cmp::Reverse(finding.verdict));
    all
}
