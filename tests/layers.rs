//! Keeps the shape of the house: layers look only to their left, every file says what it is for, egui stays in `app`,
//! files stay short.

use std::fs;
use std::path::{Path, PathBuf};

/// Layers from left to right; a layer uses those to its left only.
const LAYERS: [&str; 7] = ["job", "mechanics", "study", "advice", "picture", "sheet", "app"];

/// What a layer may not use although it stands to its left.
const APART: [(&str, &str); 1] = [("mechanics", "job")];

/// Crates of the window.
const WINDOW_CRATES: [&str; 4] = ["egui", "eframe", "egui_plot", "rfd"];

/// More lines than this, and there is a noun in the file that wants its own.
const MOST_LINES: usize = 700;

fn rust_files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("the source folder can be read") {
        let path = entry.expect("an entry can be read").path();
        if path.is_dir() {
            rust_files(&path, found);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            found.push(path);
        }
    }
}

fn sources() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut paths = Vec::new();
    rust_files(&root, &mut paths);
    paths
        .into_iter()
        .map(|path| {
            let name = path.strip_prefix(&root).expect("below src").to_string_lossy().replace('\\', "/");
            (name, fs::read_to_string(&path).expect("a source file is text"))
        })
        .collect()
}

/// Lines that are code, comments cut away.
fn code_lines(text: &str) -> impl Iterator<Item = &str> {
    text.lines().map(|line| line.split("//").next().unwrap_or(""))
}

/// Whether a line of code names a path that begins with `word::`.
fn names_crate(line: &str, word: &str) -> bool {
    let path = format!("{word}::");
    line.match_indices(&path).any(|(at, _)| {
        let before = line[..at].chars().next_back();
        before.is_none_or(|c| !(c.is_alphanumeric() || c == '_' || c == ':'))
    })
}

/// Layers a line of code names, by `crate::layer` or in a `crate::{...}` list.
fn names_layer(line: &str, layer: &str) -> bool {
    let word_at = |text: &str, at: usize| {
        let edge = |c: Option<char>| c.is_none_or(|c| !(c.is_alphanumeric() || c == '_'));
        edge(text[..at].chars().next_back()) && edge(text[at + layer.len()..].chars().next())
    };
    let holds_word = |text: &str| text.match_indices(layer).any(|(at, _)| word_at(text, at));
    line.match_indices("crate::").any(|(at, path)| {
        let rest = &line[at + path.len()..];
        match rest.strip_prefix('{') {
            Some(list) => holds_word(list),
            None => rest.starts_with(layer) && word_at(rest, 0),
        }
    })
}

/// Layers a file of the library names.
fn layers_named(text: &str) -> Vec<&'static str> {
    LAYERS.into_iter().filter(|layer| code_lines(text).any(|line| names_layer(line, layer))).collect()
}

#[test]
fn a_layer_uses_those_to_its_left_only() {
    let mut wrong = Vec::new();
    for (name, text) in sources() {
        let Some(own) = LAYERS.iter().position(|layer| name.starts_with(&format!("{layer}/"))) else { continue };
        for used in layers_named(&text) {
            let used_at = LAYERS.iter().position(|layer| *layer == used).expect("a known layer");
            if used_at > own || APART.contains(&(LAYERS[own], used)) {
                wrong.push(format!("{name} uses {used}"));
            }
        }
    }
    assert!(wrong.is_empty(), "layers crossed:\n{}", wrong.join("\n"));
}

#[test]
fn the_check_itself_sees_a_crossing() {
    assert_eq!(layers_named("use crate::app::View;"), ["app"]);
    assert_eq!(layers_named("use crate::{advice, study};"), ["study", "advice"]);
    assert_eq!(layers_named("let apparatus = crate::application::run();"), [""; 0]);
    assert_eq!(layers_named("// use crate::app::View;"), [""; 0]);
    assert!(names_crate("let id = egui::Id::NULL;", "egui"));
    assert!(!names_crate("let id = my_egui::Id::NULL;", "egui"));
}

#[test]
fn the_window_toolkit_stays_in_app_and_main() {
    let mut wrong = Vec::new();
    for (name, text) in sources() {
        if name.starts_with("app/") || name == "main.rs" {
            continue;
        }
        for word in WINDOW_CRATES {
            if code_lines(&text).any(|line| names_crate(line, word)) {
                wrong.push(format!("{name} uses {word}"));
            }
        }
    }
    assert!(wrong.is_empty(), "the window leaks:\n{}", wrong.join("\n"));
}

#[test]
fn every_file_says_what_it_is_for() {
    let silent: Vec<_> =
        sources().into_iter().filter(|(_, text)| !text.starts_with("//! ")).map(|(name, _)| name).collect();
    assert!(silent.is_empty(), "no `//!` at the head of: {silent:?}");
}

#[test]
fn files_stay_short() {
    let long: Vec<_> = sources()
        .into_iter()
        .filter(|(_, text)| text.lines().count() > MOST_LINES)
        .map(|(name, text)| format!("{name}: {} lines", text.lines().count()))
        .collect();
    assert!(long.is_empty(), "too long: {long:?}");
}
