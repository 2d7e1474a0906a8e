//! Steps, what to watch and cautions of a set-up. The cautions cannot be left out.

use super::piece::Block;
use super::table::list;
use crate::advice::cautions::{LEFT_OUT, for_setup};
use crate::advice::{Finding, Verdict, steps};
use crate::job::{Job, Setup, SetupId, Subject};

/// Whether a finding is about a set-up, or about the job as a whole.
fn is_about(finding: &Finding, id: SetupId) -> bool {
    match finding.about {
        Subject::Job | Subject::Shaft | Subject::Lathe => true,
        Subject::Setup(of)
        | Subject::Drive(of)
        | Subject::Tail(of)
        | Subject::Tool(of)
        | Subject::Follower(of)
        | Subject::Rest(of, _)
        | Subject::Pass(of, _) => of == id,
    }
}

/// What was found in this set-up and is not fine.
pub(super) fn watch(findings: &[Finding], setup: &Setup, width_mm: f64) -> Block {
    let rows: Vec<(String, String)> = findings
        .iter()
        .filter(|finding| finding.verdict != Verdict::Fine && is_about(finding, setup.id))
        .map(|finding| {
            let mark = if finding.verdict == Verdict::Trouble { "TROUBLE: " } else { "" };
            (format!("{mark}{}", finding.text), String::new())
        })
        .collect();
    list("Found in this set-up", false, &rows, width_mm)
}

/// What to do, in order, with the reasons where they are wanted.
pub(super) fn steps_block(job: &Job, setup: &Setup, reasons: bool, width_mm: f64) -> Block {
    let rows: Vec<(String, String)> = steps::for_setup(job, setup)
        .into_iter()
        .map(|step| (step.text, if reasons { step.why } else { "" }.to_owned()))
        .collect();
    list("Steps", true, &rows, width_mm)
}

/// What must not be forgotten.
pub(super) fn cautions(setup: &Setup, width_mm: f64) -> Block {
    let mut rows: Vec<(String, String)> =
        for_setup(setup).map(|caution| (caution.text.to_owned(), caution.source.to_owned())).collect();
    rows.push((LEFT_OUT.to_owned(), String::new()));
    list("Cautions", false, &rows, width_mm)
}
