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
use crate::study::coverage::{Coverage, coverage};

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
enum Rule {
    OfJob(fn(&Job, &JobResult) -> Vec<Finding>),
    /// Of what is cut where.
    OfCoverage(fn(&Job, &JobResult, &Coverage) -> Vec<Finding>),
}

use Rule::{OfCoverage, OfJob};

/// Every rule, in the order in which findings of the same verdict are told.
const RULES: [Rule; 34] = [
    OfJob(problems::findings),
    OfJob(unsolved::findings),
    OfCoverage(not_cut::findings),
    OfJob(size::findings),
    OfJob(thread_depth::findings),
    OfJob(end_work::findings),
    OfJob(parting::findings),
    OfJob(bar_tail::findings),
    OfJob(chuck_speed::findings),
    OfJob(power::findings),
    OfJob(endways::findings),
    OfJob(leaves_centre::findings),
    OfJob(in_the_way::findings),
    OfJob(rest_room::findings),
    OfJob(tool_room::findings),
    OfJob(bearing_spot::findings),
    OfJob(follower_path::findings),
    OfJob(slack_jaw::findings),
    OfJob(springy::findings),
    OfJob(jaw_force::findings),
    OfJob(jaw_marks::findings),
    OfJob(dented_tube::findings),
    OfJob(squeezed_tube::findings),
    OfJob(off_axis::findings),
    OfJob(fights::findings),
    OfJob(warm::findings),
    OfJob(runout::findings),
    OfCoverage(seam::findings),
    OfJob(out_of_round::findings),
    OfJob(overhang::findings),
    OfJob(slender::findings),
    OfJob(nose_radius::findings),
    OfJob(speed_step::findings),
    OfJob(feed_step::findings),
];

/// All findings, worst first.
#[must_use]
pub fn findings(job: &Job, result: &JobResult) -> Vec<Finding> {
    findings_with(job, result, &coverage(job, result))
}

/// As [`findings`], where it is known already what is cut where.
#[must_use]
pub fn findings_with(job: &Job, result: &JobResult, coverage: &Coverage) -> Vec<Finding> {
    let found = |rule: &Rule| match rule {
        OfJob(rule) => rule(job, result),
        OfCoverage(rule) => rule(job, result, coverage),
    };
    let mut all: Vec<Finding> = RULES.iter().flat_map(found).collect();
    // The sort is stable: within one verdict the order of the rules stays.
    all.sort_by_key(|finding| std::cmp::Reverse(finding.verdict));
    all
}
