//! Steps, what to watch and cautions of a set-up. The cautions cannot be left out.

use super::hand::Hand;
use super::piece::{Block, Piece};
use super::table::{Entry, list};
use crate::advice::cautions::{LEFT_OUT, for_setup};
use crate::advice::{Finding, Verdict, steps};
use crate::job::{Job, Setup, SetupId, Subject};
use crate::picture::Role;

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
pub(super) fn watch(findings: &[Finding], setup: &Setup, width_mm: f64, hand: Hand) -> Block {
    let rows: Vec<Entry> = findings
        .iter()
        .filter(|finding| finding.verdict != Verdict::Fine && is_about(finding, setup.id))
        .map(|finding| {
            let mark = if finding.verdict == Verdict::Trouble { "TROUBLE: " } else { "" };
            Entry { text: format!("{mark}{}", finding.text), why: String::new() }
        })
        .collect();
    list("Found in this set-up", false, &rows, hand.body, (width_mm, hand))
}

/// What to do, in order, with the reasons where they are wanted.
pub(super) fn steps_block(job: &Job, setup: &Setup, reasons: bool, width_mm: f64, hand: Hand) -> Block {
    let rows: Vec<Entry> = steps::for_setup(job, setup)
        .into_iter()
        .map(|step| Entry { text: step.text, why: if reasons { step.why } else { "" }.to_owned() })
        .collect();
    list("Steps", true, &rows, hand.body, (width_mm, hand))
}

/// What must not be forgotten, each with the numbers of its sources, which follow in one paragraph.
pub(super) fn cautions(setup: &Setup, width_mm: f64, hand: Hand) -> Block {
    let mut sources: Vec<&str> = Vec::new();
    let mut rows: Vec<Entry> = for_setup(setup)
        .map(|caution| {
            let numbers = caution.source.split("; ").map(|source| {
                // "latch: common practice" names what the custom is of; here it stands at its own line.
                let source = source.rsplit(": ").next().unwrap_or(source).trim_end_matches(", no source");
                let known = sources.iter().position(|known| *known == source);
                let index = known.unwrap_or_else(|| {
                    sources.push(source);
                    sources.len() - 1
                });
                (index + 1).to_string()
            });
            let numbers = numbers.collect::<Vec<_>>().join(",");
            Entry { text: format!("{} [{numbers}]", caution.text), why: String::new() }
        })
        .collect();
    rows.push(Entry { text: LEFT_OUT.to_owned(), why: String::new() });
    let mut block = list("Cautions", false, &rows, hand.fine, (width_mm, hand));
    if hand.runs_in {
        let all = rows.iter().map(|row| format!("\u{2022} {}", row.text)).collect::<Vec<_>>().join(" ");
        block.pieces = Piece::lines(&all, hand.fine, Role::Text, width_mm, 60);
    }
    let sources = sources.iter().enumerate().map(|(index, source)| format!("[{}] {source}", index + 1));
    let sources = sources.collect::<Vec<_>>().join("; ");
    block.pieces.extend(Piece::lines(&sources, hand.fine, Role::Faint, width_mm, 20));
    block
}
