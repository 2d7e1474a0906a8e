//! The program without a window: tables on standard output or in a file, and plain refusals.

use std::path::Path;
use std::process::{Command, Output};

use midspan::advice::{places, plan_words};
use midspan::job::{Document, Pinning, examples, file};
use midspan::study;
use midspan::study::coverage;
use midspan::study::placement::{Ask, Measure, best_places, value_now};
use midspan::study::table::csv;

fn midspan(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_midspan"))
        .args(arguments)
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .env_remove("WAYLAND_SOCKET")
        .output()
        .expect("the program starts")
}

fn text(path: &Path) -> &str {
    path.to_str().expect("a temporary path is text")
}

#[test]
fn every_example_gives_a_table_a_pass_with_as_many_fields_as_its_header() {
    for example in examples::EXAMPLES {
        let job = examples::load(example.key).expect("an example is readable");
        let text = csv(&job, &study::compute_with_bands(&job));
        let n_passes: usize = job.setups.iter().map(|setup| setup.passes.len()).sum();
        let tables: Vec<&str> = text.split("\n\n").collect();
        assert_eq!(tables.len(), n_passes, "{}", example.key);
        for table in tables {
            let mut lines = table.lines();
            let header: Vec<&str> = lines.next().expect("a table has a header").split(',').collect();
            assert_eq!(header[..3], ["set-up", "pass", "z_mm"], "{}", example.key);
            assert_eq!(header.last(), Some(&"status"), "{}", example.key);
            let mut n_rows = 0;
            for line in lines {
                let fields: Vec<&str> = line.split(',').collect();
                assert_eq!(fields.len(), header.len(), "{}: {line}", example.key);
                let numbers = &fields[..fields.len() - 1];
                let all_read =
                    numbers.iter().all(|field| field.is_empty() || field.parse::<f64>().is_ok_and(f64::is_finite));
                assert!(all_read, "{}: {line}", example.key);
                n_rows += 1;
            }
            assert!(n_rows > 0, "{}: a pass without a row", example.key);
        }
    }
}

#[test]
fn compute_prints_what_the_library_computes() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("job.ron");
    let job = examples::opening();
    file::write(&path, &job.clone().into()).unwrap();
    let printed = midspan(&["compute", text(&path)]);
    assert!(printed.status.success(), "{}", String::from_utf8_lossy(&printed.stderr));
    assert_eq!(String::from_utf8_lossy(&printed.stdout), csv(&job, &study::compute_with_bands(&job)));
}

#[test]
fn compute_writes_to_the_file_it_is_given() {
    let folder = tempfile::tempdir().unwrap();
    let (path, out) = (folder.path().join("job.ron"), folder.path().join("table.csv"));
    let job = examples::opening();
    file::write(&path, &job.clone().into()).unwrap();
    let done = midspan(&["compute", text(&path), "--out", text(&out)]);
    assert!(done.status.success());
    assert!(done.stdout.is_empty());
    assert_eq!(std::fs::read_to_string(&out).unwrap(), csv(&job, &study::compute_with_bands(&job)));
}

#[test]
fn place_prints_the_ranked_list_and_refuses_a_set_up_that_is_not_there() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("job.ron");
    let job = examples::load("pump-shaft").unwrap();
    file::write(&path, &job.clone().into()).unwrap();
    let printed = midspan(&["place", text(&path), "--rests", "2", "--tailstock", "yes"]);
    assert!(printed.status.success(), "{}", String::from_utf8_lossy(&printed.stderr));
    let setup = &job.setups[0];
    let ask = Ask::of(&job, setup.id, Measure::Size, None, Some(true)).unwrap();
    let answers: Vec<_> = (0..=2).map(|n_rests| best_places(&job, &ask, n_rests, &|_| true).unwrap()).collect();
    let now = value_now(&job, setup.id, Measure::Size, &|_| true);
    let said = String::from_utf8_lossy(&printed.stdout).into_owned();
    assert_eq!(said, places::table(&job, setup, Measure::Size, &answers, now.map(|now| now.0)));
    let rows = said.lines().filter(|line| line.starts_with(['0', '1', '2'])).count();
    assert_eq!(rows, 3, "{said}");
    let refused = midspan(&["place", text(&path), "--setup", "99"]);
    assert!(!refused.status.success());
    assert!(String::from_utf8_lossy(&refused.stderr).contains("set-ups 1 to"));
}

#[test]
fn cover_prints_or_writes_what_is_cut_where() {
    let folder = tempfile::tempdir().unwrap();
    let (path, out) = (folder.path().join("job.ron"), folder.path().join("cover.csv"));
    let job = examples::opening();
    file::write(&path, &job.clone().into()).unwrap();
    let expected = coverage::table::csv(&job, &coverage::coverage(&job, &study::compute(&job)));
    assert_eq!(String::from_utf8_lossy(&midspan(&["cover", text(&path)]).stdout), expected);
    assert!(midspan(&["cover", text(&path), "--out", text(&out)]).status.success());
    assert_eq!(std::fs::read_to_string(&out).unwrap(), expected);
}

#[test]
fn plan_prints_its_steps_and_writes_the_job_with_the_plan_taken() {
    let folder = tempfile::tempdir().unwrap();
    let (path, out) = (folder.path().join("job.ron"), folder.path().join("planned.ron"));
    let mut document = Document::from(examples::opening());
    document.pin(&Pinning::Pin).unwrap();
    let Document { mut job, pins } = document.clone();
    file::write(&path, &document).unwrap();
    let plan = study::plan::plan(&job, &|| true).expect("the opening example can be planned");
    let printed = midspan(&["plan", text(&path), "--out", text(&out)]);
    assert!(printed.status.success(), "{}", String::from_utf8_lossy(&printed.stderr));
    assert_eq!(String::from_utf8_lossy(&printed.stdout), plan_words::text(&job, &plan));
    let edit = plan.edit(&job);
    job.apply(&edit).unwrap();
    assert_eq!(file::read(&out).unwrap(), Document { job: job.clone(), pins }, "what is pinned stays");

    job.shaft.wanted.clear();
    file::write(&path, &job.clone().into()).unwrap();
    let refused = midspan(&["plan", text(&path)]);
    assert!(!refused.status.success() && refused.stdout.is_empty());
    assert!(String::from_utf8_lossy(&refused.stderr).contains("Nothing is drawn yet"));
}

#[test]
fn a_bad_file_is_refused_in_one_message_that_names_it() {
    let folder = tempfile::tempdir().unwrap();
    let bad = folder.path().join("bad.ron");
    std::fs::write(&bad, "(format: 1, title: )").unwrap();
    let missing = folder.path().join("missing.ron");
    for path in [&bad, &missing] {
        for arguments in [vec!["compute", text(path)], vec!["cover", text(path)], vec![text(path)]] {
            let refused = midspan(&arguments);
            assert!(!refused.status.success());
            assert!(refused.stdout.is_empty());
            let said = String::from_utf8_lossy(&refused.stderr).into_owned();
            let name = path.file_name().and_then(|name| name.to_str()).unwrap();
            assert!(said.contains(name), "{said}");
            assert_eq!(said.matches("midspan:").count(), 1, "{said}");
        }
    }
}

#[cfg(target_os = "linux")]
#[test]
fn without_a_display_the_window_is_refused_in_one_sentence() {
    let refused = midspan(&[]);
    assert!(!refused.status.success());
    let said = String::from_utf8_lossy(&refused.stderr).into_owned();
    assert!(said.contains("no display"), "{said}");
}

#[test]
fn sheet_writes_the_files_it_names_and_the_same_ones_each_time() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("job.ron");
    file::write(&path, &examples::opening().into()).unwrap();
    for name in ["sheet.pdf", "sheet.svg", "sheet.png", "sheet.csv"] {
        let out = folder.path().join(name);
        let arguments = [
            "sheet",
            text(&path),
            "--out",
            text(&out),
            "--paper",
            "letter",
            "--portrait",
            "--scale",
            "1:10",
            "--units",
            "inch",
            "--set-up",
            "1",
            "--date",
            "2026-11-27",
            "--dpi",
            "40",
        ];
        let written = || {
            let done = midspan(&arguments);
            assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
            let said = String::from_utf8(done.stdout).unwrap();
            said.lines().map(|line| std::fs::read(line).unwrap()).collect::<Vec<_>>()
        };
        let first = written();
        assert!(!first.is_empty() && first.iter().all(|bytes| bytes.len() > 500), "{name}");
        assert_eq!(first, written(), "{name}");
    }
}

#[test]
fn sheet_refuses_in_one_sentence_what_cannot_be() {
    let folder = tempfile::tempdir().unwrap();
    let (path, out) = (folder.path().join("job.ron"), folder.path().join("sheet.pdf"));
    file::write(&path, &examples::opening().into()).unwrap();
    let (job, pdf, doc) = (text(&path), text(&out), folder.path().join("sheet.doc"));
    for (arguments, says) in [
        (vec!["sheet", job, "--out", pdf, "--set-up", "9"], "there is no set-up 9"),
        (vec!["sheet", job, "--out", pdf, "--scale", "1:3"], "no standard scale"),
        (vec!["sheet", job, "--out", text(&doc)], ".pdf, .svg, .png or .csv"),
        (vec!["sheet", job], "--out"),
        (vec!["sheet", "nowhere.ron", "--out", pdf], "nowhere.ron"),
    ] {
        let refused = midspan(&arguments);
        let said = String::from_utf8_lossy(&refused.stderr).into_owned();
        assert!(!refused.status.success() && said.contains(says), "{arguments:?}: {said}");
    }
    assert!(!out.exists());
}

#[test]
fn check_prints_findings_and_ends_with_two_on_trouble() {
    use midspan::advice::{Verdict, findings};
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("job.ron");
    let mut codes = Vec::new();
    for example in examples::EXAMPLES {
        let job = examples::load(example.key).unwrap();
        file::write(&path, &job.clone().into()).unwrap();
        let done = midspan(&["check", text(&path)]);
        let said = String::from_utf8_lossy(&done.stdout).into_owned();
        let found = findings(&job, &study::compute_with_bands(&job));
        let lines: String =
            found.iter().map(|finding| format!("{}: {}\n", finding.verdict.word(), finding.text)).collect();
        assert_eq!(said, lines, "{}", example.key);
        let is_trouble = found.iter().any(|finding| finding.verdict == Verdict::Trouble);
        assert_eq!(done.status.code(), Some(if is_trouble { 2 } else { 0 }), "{}", example.key);
        codes.extend(done.status.code());
    }
    assert!(codes.contains(&0) && codes.contains(&2), "{codes:?}");
    let missing = midspan(&["check", "nowhere.ron"]);
    assert_eq!(missing.status.code(), Some(1), "not the same as trouble in the job");
}

#[test]
fn help_names_the_ways_to_use_the_program() {
    let help = midspan(&["--help"]);
    let said = String::from_utf8_lossy(&help.stdout).into_owned();
    assert!(
        said.contains("compute") && said.contains("cover") && said.contains("plan") && said.contains("[JOB]"),
        "{said}"
    );
    let columns = String::from_utf8_lossy(&midspan(&["compute", "--help"]).stdout).into_owned();
    assert!(columns.contains("real_depth_mm"), "{columns}");
}
