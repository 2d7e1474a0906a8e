//! No word of the computation's own trade reaches the screen or the paper: everything said of examples and of jobs drawn
//! by lot, and every string of the layers that speak.

use std::path::Path;

use midspan::advice::{cautions, findings, places, plan_words, steps};
use midspan::job::{Job, examples};
use midspan::study;

use crate::jargon_words::jargon;
use crate::random_job::random_job;

fn assert_plain(text: &str, of: &str) {
    assert_eq!(jargon(text), Vec::<&str>::new(), "{of}: {text}");
}

#[test]
fn the_list_finds_what_it_is_for() {
    assert_eq!(jargon("Element 3 of the mesh"), ["element", "mesh"]);
    assert_eq!(jargon("The nodes"), Vec::<&str>::new(), "a short word is matched whole only");
    assert_eq!(jargon("A model of the elements"), ["element"]);
    assert_eq!(jargon("The work gives way under the tool"), Vec::<&str>::new());
}

fn all_said(job: &Job) -> Vec<String> {
    let result = study::compute_with_bands(job);
    let mut said: Vec<String> = Vec::new();
    for finding in findings(job, &result) {
        said.extend([finding.text, finding.why]);
        said.extend(finding.remedy.map(|(words, _)| words));
    }
    for setup in &job.setups {
        said.extend(steps::for_setup(job, setup).into_iter().flat_map(|step| [step.text, step.why.to_owned()]));
        said.extend(cautions::for_setup(setup).map(|caution| caution.text.to_owned()));
        for pass in &setup.passes {
            if let Some(computed) = result.pass(pass.id) {
                said.extend(midspan::advice::outcome::lines(job, pass, computed).into_iter().map(|(_, value)| value));
                said.extend(midspan::advice::outcome::sentence(job, pass, computed));
            }
        }
    }
    said
}

#[test]
fn what_is_said_of_examples_and_of_jobs_drawn_by_lot_is_in_a_turner_s_words() {
    let mut n_said = 0;
    let jobs =
        examples::EXAMPLES.iter().map(|example| examples::load(example.key).unwrap()).chain((0..60).map(random_job));
    for job in jobs {
        for text in all_said(&job) {
            assert_plain(&text, &job.title);
            n_said += 1;
        }
    }
    assert!(n_said > 1000, "{n_said} sentences");
    let job = examples::opening();
    let plan = study::plan::plan(&job, &|| true).unwrap();
    assert_plain(&plan_words::text(&job, &plan), "the plan");
    assert_plain(places::HOW_FAR, "best places");
}

/// The strings of a source file that are sentences or labels, without its tests: in quotes, off comments.
fn strings(source: &str) -> Vec<String> {
    let mut all = Vec::new();
    for line in source.split("#[cfg(test)]").next().unwrap_or_default().lines() {
        let line = line.trim_start();
        if line.starts_with("//") || line.starts_with("#[") || line.contains("reason = ") {
            continue;
        }
        // Odd pieces between quotes are strings.
        let pieces = line.split('"').skip(1).step_by(2);
        all.extend(
            pieces
                .filter(|piece| piece.contains(' ') || piece.chars().next().is_some_and(char::is_uppercase))
                .map(str::to_owned),
        );
    }
    all
}

fn every_file(folder: &Path, see: &mut impl FnMut(&Path)) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() { every_file(&path, see) } else { see(&path) }
    }
}

#[test]
fn no_string_of_the_layers_that_speak_has_a_word_of_the_computation_s_trade() {
    let mut n_strings = 0;
    for layer in ["job", "advice", "picture", "sheet", "app"] {
        every_file(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src").join(layer), &mut |path| {
            for text in strings(&std::fs::read_to_string(path).unwrap()) {
                let text = text.replace("Machine Elements", "the title of a book");
                // Ids of things on screen and of threads, and what only a programming error would print, are never seen.
                assert_plain(&text, &path.display().to_string());
                n_strings += 1;
            }
        });
    }
    assert!(n_strings > 1500, "{n_strings} strings");
}
