//! What can be wrong with a page, looked for in its picture: words over words, words or lines off the paper's margins.

use midspan::picture::lettering::{ELLIPSIS, room};
use midspan::picture::{Bounds, Item, Path, Picture, Text};
use midspan::sheet::{Paper, Sheet};

/// A hair's breadth on paper.
const HAIR_MM: f64 = 0.02;

/// Everything on a picture, one list of words and one of lines.
pub fn parts(picture: &Picture) -> (Vec<&Text>, Vec<&Path>) {
    fn gather<'a>(items: &'a [Item], texts: &mut Vec<&'a Text>, paths: &mut Vec<&'a Path>) {
        for item in items {
            match item {
                Item::Text(text) => texts.push(text),
                Item::Path(path) => paths.push(path),
                Item::Group(group) => gather(&group.items, texts, paths),
            }
        }
    }
    let (mut texts, mut paths) = (Vec::new(), Vec::new());
    gather(&picture.items, &mut texts, &mut paths);
    (texts, paths)
}

/// All words of a page, one after another.
pub fn words(picture: &Picture) -> String {
    parts(picture).0.iter().map(|text| text.text.as_str()).collect::<Vec<_>>().join(" ")
}

fn is_inside(inner: Bounds, outer: Bounds) -> bool {
    inner.left_mm >= outer.left_mm - HAIR_MM
        && inner.right_mm <= outer.right_mm + HAIR_MM
        && inner.bottom_mm >= outer.bottom_mm - HAIR_MM
        && inner.top_mm <= outer.top_mm + HAIR_MM
}

fn overlap(a: Bounds, b: Bounds) -> bool {
    a.left_mm + HAIR_MM < b.right_mm
        && b.left_mm + HAIR_MM < a.right_mm
        && a.bottom_mm + HAIR_MM < b.top_mm
        && b.bottom_mm + HAIR_MM < a.top_mm
}

/// What is wrong with the pages of a sheet on this paper.
pub fn faults(sheet: &Sheet, paper: Paper) -> Vec<String> {
    let mut faults = Vec::new();
    // A word too long for its line is broken in it.
    let unbroken = |text: &str| text.split_whitespace().collect::<String>();
    let all_words: String = sheet.pages.iter().map(|page| unbroken(&words(&page.picture))).collect();
    for (index, page) in sheet.pages.iter().enumerate() {
        let mut wrong = |what: String| faults.push(format!("page {}: {what}", index + 1));
        let (texts, paths) = parts(&page.picture);
        let rooms: Vec<Bounds> = texts.iter().map(|text| room(text)).collect();
        for (one, text) in texts.iter().enumerate() {
            if text.text.trim().is_empty() {
                continue;
            }
            if !is_inside(rooms[one], paper.inside()) {
                wrong(format!("{:?} leaves the margins: {:?}", text.text, rooms[one]));
            }
            for (other, with) in texts.iter().enumerate().skip(one + 1) {
                if !with.text.trim().is_empty() && overlap(rooms[one], rooms[other]) {
                    wrong(format!("{:?} lies over {:?}", text.text, with.text));
                }
            }
            if let Some(begun) = text.text.strip_suffix(ELLIPSIS)
                && all_words.matches(&unbroken(begun)).count() < 2
            {
                wrong(format!("{:?} is cut and told nowhere in full", text.text));
            }
        }
        for path in paths {
            path.for_each_point(&mut |point| {
                let dot = Bounds {
                    left_mm: point.right_mm,
                    right_mm: point.right_mm,
                    bottom_mm: point.up_mm,
                    top_mm: point.up_mm,
                };
                if !is_inside(dot, paper.inside()) {
                    wrong(format!("a line of {:?} leaves the margins at {point:?}", path.role));
                }
            });
        }
    }
    faults
}
