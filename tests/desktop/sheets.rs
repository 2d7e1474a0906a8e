//! The set-up sheet in the window: looked at page by page, saved, handed to be printed.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use midspan::app::MidspanApp;
use midspan::app::printing::{PrintCommands, Printer};
use midspan::app::sheets::Sheets;
use midspan::job::{Units, examples};
use midspan::sheet::PageSize;

use crate::desk::{
    Answer, choose, enter_into, job, keys, press, shown, text_in, tick, wait_until, window, window_with,
};

const PLACE: &str = "Place from the jaw face";
const PATH: &str = "Path of the file";

/// Keeps what it is given and answers as it was told.
#[derive(Debug)]
struct Paper {
    got: Mutex<Vec<(PathBuf, Vec<u8>)>>,
    answer: Result<String, String>,
}

impl Printer for Paper {
    fn hand_over(&self, pdf: &Path) -> Result<String, String> {
        self.got.lock().unwrap().push((pdf.to_owned(), std::fs::read(pdf).unwrap()));
        self.answer.clone()
    }
}

fn open(window: &mut Harness<'_, MidspanApp>) {
    keys(window, Modifiers::COMMAND, Key::P);
    assert!(window.query_by_label("Page 1 of the set-up sheet").is_some(), "the first page is seen");
}

/// Over what stands there.
fn type_path(window: &mut Harness<'_, MidspanApp>, path: &str) {
    window.get_by_role_and_label(egui::accesskit::Role::TextInput, PATH).focus();
    window.run_steps(2);
    keys(window, Modifiers::COMMAND, Key::A);
    enter_into(window, PATH, path);
}

fn said(window: &Harness<'_, MidspanApp>) -> (String, bool) {
    window.state().sheets.preview.as_ref().and_then(|preview| preview.said.clone()).expect("something was said")
}

fn has_said(app: &MidspanApp) -> bool {
    app.sheets.preview.as_ref().is_some_and(|preview| preview.said.is_some())
}

#[test]
fn the_menu_shows_the_sheet() {
    let mut window = window();
    press(&mut window, "File");
    window.get_by_label_contains("Set-up sheet…").click();
    window.run_steps(4);
    assert!(window.query_by_label("Page 1 of the set-up sheet").is_some());
}

#[test]
fn a_key_shows_the_sheet_page_by_page_and_escape_puts_it_away() {
    let job = examples::opening();
    let mut window = window_with(job.clone(), None, &Arc::new(Answer::default()));
    open(&mut window);
    let n_pages = window.state().sheets.preview.as_ref().expect("the sheet is open").sheet.pages.len();
    assert!(n_pages > 2);
    assert!(window.query_by_label(&format!("Page 1 of {n_pages}")).is_some());
    for page in 2..=n_pages {
        press(&mut window, "Next page");
        assert_eq!(window.state().sheets.preview.as_ref().unwrap().page + 1, page);
        assert!(window.query_by_label(&format!("Page {page} of {n_pages}")).is_some(), "page {page}");
        assert!(window.query_by_label(&format!("Page {page} of the set-up sheet")).is_some());
    }
    press(&mut window, "Next page");
    assert!(
        window.query_by_label(&format!("Page {n_pages} of {n_pages}")).is_some(),
        "there is no page behind the last"
    );
    press(&mut window, "Page before");
    assert!(window.query_by_label(&format!("Page {} of {n_pages}", n_pages - 1)).is_some());
    keys(&mut window, Modifiers::NONE, Key::Escape);
    assert!(window.state().sheets.preview.is_none());
    assert_eq!(*window.state().desk.job(), job);
    assert!(window.state().desk.pins().is_empty(), "Ctrl+P pins nothing");
}

#[test]
fn what_is_typed_stands_on_the_sheet_and_keys_of_the_bench_do_nothing_under_it() {
    let mut window = window();
    crate::desk::type_into(&mut window, PLACE, "222");
    open(&mut window);
    let pages = &window.state().sheets.preview.as_ref().unwrap().sheet;
    assert!(pages.csv().contains("Steady 1; bronze tips,222.0,"), "{}", pages.csv());
    keys(&mut window, Modifiers::NONE, Key::Delete);
    assert_eq!(window.state().desk.job().setups[0].rests.len(), 1);
}

#[test]
fn paper_scale_units_and_reasons_are_chosen_and_kept_for_the_next_time() {
    let mut window = window();
    open(&mut window);
    choose(&mut window, "Paper", "Letter");
    choose(&mut window, "Lying", "portrait");
    choose(&mut window, "Units", "inches");
    choose(&mut window, "Scale", "1:20");
    tick(&mut window, "Reasons under the steps");
    let preview = window.state().sheets.preview.as_ref().unwrap();
    assert_eq!(preview.choices.paper.size, PageSize::Letter);
    assert_eq!(preview.choices.units, Some(Units::Inch));
    assert_eq!(preview.sheet.pages[0].scale.map(|scale| scale.to_string()).as_deref(), Some("1:20"));
    assert!((preview.sheet.pages[0].picture.bounds.right_mm - 215.9).abs() < 1e-9, "the sheet is laid out anew");
    let choices = preview.choices.clone();
    press(&mut window, "Close");
    assert_eq!(window.state().desk.job().units, Units::Metric, "the job keeps its own units");
    open(&mut window);
    assert_eq!(window.state().sheets.preview.as_ref().unwrap().choices, choices);
}

#[test]
fn a_job_in_inches_begins_on_letter_paper() {
    let mut job = job();
    job.units = Units::Inch;
    let mut window = window_with(job, None, &Arc::new(Answer::default()));
    open(&mut window);
    assert_eq!(window.state().sheets.preview.as_ref().unwrap().choices.paper.size, PageSize::Letter);
}

#[test]
fn the_dialog_says_where_it_is_saved() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shaft");
    let answer = Arc::new(Answer(Mutex::new(Some(path.clone()))));
    let mut window = window_with(job(), None, &answer);
    open(&mut window);
    press(&mut window, "Save as PDF…");
    wait_until(&mut window, "the sheet is saved", has_said);
    let pdf = path.with_extension("pdf");
    assert!(std::fs::read(&pdf).unwrap().starts_with(b"%PDF"));
    assert_eq!(said(&window), (format!("Saved to {}", pdf.display()), false));
    assert!(window.state().desk.path.is_none(), "the job itself was not saved");
    // A folder that is not there.
    *answer.0.lock().unwrap() = Some(folder.path().join("none/shaft.pdf"));
    press(&mut window, "Save as PDF…");
    wait_until(&mut window, "it is refused", |app| app.sheets.preview.as_ref().unwrap().said.as_ref().unwrap().1);
    assert!(said(&window).0.contains("shaft.pdf"));
}

#[test]
fn a_path_is_typed_where_there_is_no_dialog_and_files_are_not_replaced_unasked() {
    let folder = tempfile::tempdir().unwrap();
    let mut window = shown(examples::load("pump-shaft").unwrap());
    open(&mut window);
    press(&mut window, "Save as SVG…");
    wait_until(&mut window, "there is no dialog", |app| app.is_asking() && !has_said(app));
    window.run_steps(20);
    wait_until(&mut window, "a path is asked for", |_| true);
    assert!(text_in(&window, PATH).ends_with("pump-shaft.svg"), "{}", text_in(&window, PATH));
    let path = folder.path().join("typed.svg");
    let first = folder.path().join("typed-1.svg");
    std::fs::write(&first, "mine").unwrap();
    type_path(&mut window, path.to_str().unwrap());
    assert_eq!(std::fs::read_to_string(&first).unwrap(), "mine", "the user is asked first");
    press(&mut window, "Save over it");
    assert!(std::fs::read_to_string(&first).unwrap().starts_with("<?xml"));
    let n_pages = window.state().sheets.preview.as_ref().unwrap().sheet.pages.len();
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), n_pages, "a file a page");

    press(&mut window, "Save by typing its path…");
    let odd = folder.path().join("sheet.doc");
    type_path(&mut window, odd.to_str().unwrap());
    assert!(
        window.query_by_label_contains("the sheet is saved as .pdf").is_some(),
        "it is asked again, with the reason"
    );
    type_path(&mut window, odd.with_extension("png").to_str().unwrap());
    assert!(std::fs::read(folder.path().join("sheet-1.png")).unwrap().starts_with(b"\x89PNG"));
}

#[test]
fn print_hands_the_pdf_over_and_says_what_was_done() {
    for answer in [Ok("Shown by a viewer.".to_owned()), Err("Nothing would take it.".to_owned())] {
        let paper = Arc::new(Paper { got: Mutex::default(), answer: answer.clone() });
        let mut window = window();
        window.state_mut().sheets = Sheets::new(Arc::clone(&paper) as Arc<dyn Printer>);
        open(&mut window);
        press(&mut window, "Print");
        wait_until(&mut window, "something is said", has_said);
        let failed = answer.is_err();
        assert_eq!(said(&window), (answer.unwrap_or_else(|sentence| sentence), failed));
        let got = paper.got.lock().unwrap();
        let [(path, bytes)] = &got[..] else { panic!("one sheet: {}", got.len()) };
        assert_eq!(*bytes, window.state().sheets.preview.as_ref().unwrap().sheet.pdf().unwrap());
        std::fs::remove_file(path).expect("it stays until it is no longer needed");
    }
}

#[test]
fn where_no_command_takes_the_sheet_it_is_said_where_it_is() {
    let pdf = Path::new("sheet-to-print.pdf");
    let none =
        PrintCommands { tried: vec![("no-such-viewer", vec![], "shown"), ("no-such-printer", vec![], "printed")] };
    let said = none.hand_over(pdf).unwrap_err();
    assert!(said.contains("no-such-viewer nor no-such-printer") && said.contains("sheet-to-print.pdf"), "{said}");
    // This very program knows no such argument and ends badly; listing its tests it ends well.
    let own = std::env::current_exe().unwrap().display().to_string().leak() as &'static str;
    let both = PrintCommands {
        tried: vec![(own, vec!["--no-such-argument"], "shown"), (own, vec!["--list", "--exact"], "printed")],
    };
    let said = both.hand_over(pdf).unwrap();
    assert!(said.contains("printed") && said.contains("100 %"), "{said}");
}
