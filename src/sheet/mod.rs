//! The set-up sheet: pages of paper as plain pictures in mm, one set-up after another, to go to the lathe.
//!
//! A set-up stands on one page where that can be, on more where it cannot, and then says so: its drawing to a standard
//! scale, distances from one datum, what is cut where and the predicted error; under and beside it tables, steps and
//! cautions in columns. Nothing is clipped and nothing lies over anything else. Every width is measured in the very font that is printed. What is printed depends on job, result
//! and choices only, never on the clock.

pub mod comparison;
mod cover;
mod coverage_bar;
mod crop;
mod curve;
mod distances;
mod ends;
mod flow;
mod hand;
mod measure_line;
pub mod paper;
mod piece;
mod procedure;
pub mod save;
mod scale;
mod setup_page;
mod sizes;
mod support_table;
mod symbols;
mod table;
mod title_block;
mod view;
mod work_tables;

pub use paper::{PageSize, Paper};
pub use scale::{Scale, ScaleError};

use crate::job::{Job, SetupId, Units};
use crate::picture::pdf::{PdfError, pdf};
use crate::picture::{Bounds, Item, Picture};
use crate::study::JobResult;
use crate::study::coverage::coverage;
use table::Table;

/// How the sheet is to be.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Choices {
    pub paper: Paper,
    /// Scale of the drawing; the largest standard one that fits where there is none.
    pub scale: Option<Scale>,
    /// Other units than the job's.
    pub units: Option<Units>,
    /// This set-up only.
    pub setup: Option<SetupId>,
    /// Holding and rests as signs with a legend instead of drawings.
    pub symbols: bool,
    /// A reason under every step.
    pub reasons: bool,
    /// Date in the title block instead of the job's.
    pub date: Option<String>,
}

/// One side of paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// To scale, bounds those of the paper.
    pub picture: Picture,
    /// The set-up it belongs to; nothing for a cover.
    pub setup: Option<SetupId>,
    /// Scale of the drawing on it.
    pub scale: Option<Scale>,
}

/// All pages of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    pub title: String,
    pub pages: Vec<Page>,
    tables: Vec<Table>,
}

impl Sheet {
    /// The pages as one PDF.
    ///
    /// # Errors
    /// [`PdfError`] where it cannot be written.
    pub fn pdf(&self) -> Result<Vec<u8>, PdfError> {
        let about = "Set-up sheet for the lathe. Predictions are estimates, not guarantees.";
        pdf(self.pages.iter().map(|page| &page.picture), &self.title, about)
    }

    /// Its tables as CSV, each under its heading, parted by blank lines; in the units of the sheet.
    #[must_use]
    pub fn csv(&self) -> String {
        self.tables.iter().map(Table::csv).collect::<Vec<_>>().join("\n")
    }
}

/// A page before its title block is drawn: that needs to know how many there are.
struct Draft {
    items: Vec<Item>,
    setup: Option<SetupId>,
    scale: Option<Scale>,
    /// What it is about goes on on the next page.
    goes_on: bool,
}

/// The sheet of a job: a cover where it has several set-ups, then every set-up.
#[must_use]
pub fn sheet(job: &Job, result: &JobResult, choices: &Choices) -> Sheet {
    let mut job = job.clone();
    job.units = choices.units.unwrap_or(job.units);
    if let Some(date) = &choices.date {
        job.title_block.date.clone_from(date);
    }
    let job = &job;
    let chosen: Vec<usize> =
        (0..job.setups.len()).filter(|index| choices.setup.is_none_or(|id| id == job.setups[*index].id)).collect();
    let with_cover = choices.setup.is_none() && job.setups.len() > 1;
    let coverage = coverage(job, result);
    let findings = crate::advice::findings_with(job, result, &coverage);
    let given =
        setup_page::Given { job, result, findings: &findings, coverage: &coverage, choices, with_remarks: !with_cover };
    let setups: Vec<Vec<Draft>> = chosen.iter().map(|index| setup_page::drafts(given, *index)).collect();
    let mut drafts = Vec::new();
    if with_cover {
        let n_pages: Vec<usize> = setups.iter().map(Vec::len).collect();
        // How many pages the cover takes does not hang on the numbers written on it.
        let n_cover = cover::drafts(job, result, &coverage, choices.paper, &n_pages, 0).len();
        drafts = cover::drafts(job, result, &coverage, choices.paper, &n_pages, n_cover);
    }
    drafts.extend(setups.into_iter().flatten());
    let n_pages = drafts.len();
    let pages = drafts.into_iter().enumerate().map(|(index, draft)| {
        let mut items = draft.items;
        let number = (index + 1, n_pages);
        items.extend(title_block::items(job, choices.paper, draft.scale, number, draft.goes_on));
        let bounds = Bounds {
            left_mm: 0.0,
            right_mm: choices.paper.width_mm(),
            bottom_mm: 0.0,
            top_mm: choices.paper.height_mm(),
        };
        Page { picture: Picture { bounds, items }, setup: draft.setup, scale: draft.scale }
    });
    let title = if job.title.trim().is_empty() { "Set-up sheet".to_owned() } else { job.title.clone() };
    let mut tables = vec![cover::work(job)];
    for index in chosen {
        let named =
            |table: Table| Table { heading: format!("{}: {}", setup_page::name(job, index), table.heading), ..table };
        let all = setup_page::tables(job, result, &job.setups[index]);
        tables.extend(all.into_iter().filter(|table| !table.rows.is_empty()).map(named));
    }
    Sheet { title, pages: pages.collect(), tables }
}
