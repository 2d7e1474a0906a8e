//! The set-up sheet as files: true scale in the PDF's own operators and in the SVG, real words, the same bytes each time.

use midspan::job::{Units, examples};
use midspan::picture::{Picture, Point, png, svg};
use midspan::sheet::save::{FileKind, SaveError, paths, save};
use midspan::sheet::{Choices, PageSize, Paper, Sheet, sheet};
use midspan::study;

use crate::page_faults::parts;

fn pump_sheet(units: Units) -> Sheet {
    let job = examples::load("pump-shaft").unwrap();
    let choices = Choices { units: Some(units), date: Some("2026-11-27".to_owned()), ..Choices::default() };
    sheet(&job, &study::compute_with_bands(&job), &choices)
}

/// What a PDF's compressed streams hold, those that are text of operators.
fn contents(pdf: &[u8]) -> Vec<String> {
    let find = |from: usize, what: &[u8]| pdf[from..].windows(what.len()).position(|at| at == what).map(|at| from + at);
    let (mut streams, mut from) = (Vec::new(), 0);
    while let Some(begin) = find(from, b"stream\n") {
        let end = find(begin, b"endstream").expect("a stream ends");
        if let Ok(bytes) = miniz_oxide::inflate::decompress_to_vec_zlib(&pdf[begin + 7..end])
            && let Ok(text) = String::from_utf8(bytes)
            && text.contains(" cm ")
        {
            streams.push(text);
        }
        from = end + 9;
    }
    streams
}

/// Straight lines a page draws, in mm of paper: from, to. Matrices are carried as the PDF reference 1.7, 8.3.4, says.
fn straight_lines_mm(content: &str) -> Vec<[(f64, f64); 2]> {
    let mut matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];
    let (mut saved, mut numbers, mut lines) = (Vec::new(), Vec::<f64>::new(), Vec::new());
    let mut here = (0.0, 0.0);
    for token in content.split_whitespace() {
        if let Ok(number) = token.parse() {
            numbers.push(number);
            continue;
        }
        let mm = |x: f64, y: f64, m: &[f64; 6]| {
            ((m[0] * x + m[2] * y + m[4]) * 25.4 / 72.0, (m[1] * x + m[3] * y + m[5]) * 25.4 / 72.0)
        };
        match (token, &numbers[..]) {
            ("q", _) => saved.push(matrix),
            ("Q", _) => matrix = saved.pop().expect("as many back as kept"),
            ("cm", &[a, b, c, d, e, f]) => {
                let m = matrix;
                matrix = [
                    a * m[0] + b * m[2],
                    a * m[1] + b * m[3],
                    c * m[0] + d * m[2],
                    c * m[1] + d * m[3],
                    e * m[0] + f * m[2] + m[4],
                    e * m[1] + f * m[3] + m[5],
                ];
            }
            ("m", &[x, y]) => here = mm(x, y, &matrix),
            ("l", &[x, y]) => {
                let to = mm(x, y, &matrix);
                lines.push([here, to]);
                here = to;
            }
            ("c", &[.., x, y]) => here = mm(x, y, &matrix),
            _ => {}
        }
        numbers.clear();
    }
    lines
}

/// The ends of the line that is measured on the print.
fn measured_line(picture: &Picture) -> [Point; 2] {
    let (texts, paths) = parts(picture);
    let words = texts.iter().find(|text| text.text.starts_with("This line measures")).unwrap();
    let line = paths.iter().find(|path| {
        path.start.right_mm == words.anchor.right_mm && (path.start.up_mm - words.anchor.up_mm - 2.0).abs() < 1e-9
    });
    let mut ends = Vec::new();
    line.unwrap().for_each_point(&mut |point| ends.push(point));
    [ends[0], ends[1]]
}

#[test]
fn the_pdf_draws_a_hundred_millimetres_as_a_hundred_millimetres() {
    for (units, length_mm) in [(Units::Metric, 100.0), (Units::Inch, 101.6)] {
        let sheet = pump_sheet(units);
        let pages = contents(&sheet.pdf().unwrap());
        assert_eq!(pages.len(), sheet.pages.len());
        let mut n_found = 0;
        for (page, content) in sheet.pages.iter().zip(&pages) {
            if page.scale.is_none() {
                continue;
            }
            let [from, to] = measured_line(&page.picture);
            let near = |a: (f64, f64), b: Point| (a.0 - b.right_mm).hypot(a.1 - b.up_mm) < 0.01;
            let line = straight_lines_mm(content).into_iter().find(|[a, b]| near(*a, from) && near(*b, to));
            let [a, b] = line.expect("the line is in the file where it is in the picture");
            assert!(((b.0 - a.0) - length_mm).abs() < 0.01, "{a:?} to {b:?}");
            n_found += 1;
        }
        assert_eq!(n_found, 2, "one a set-up");
    }
}

#[test]
fn the_pdf_has_the_size_of_its_paper_a_title_a_language_tags_and_words() {
    let job = examples::load("pump-shaft").unwrap();
    let result = study::compute(&job);
    for size in PageSize::ALL {
        let paper = Paper { size, landscape: true };
        let pdf = sheet(&job, &result, &Choices { paper, ..Choices::default() }).pdf().unwrap();
        let text = String::from_utf8_lossy(&pdf);
        let points: Vec<f64> = text
            .split("/MediaBox [")
            .nth(1)
            .or_else(|| text.split("/MediaBox[").nth(1))
            .and_then(|rest| rest.split(']').next())
            .map(|four| four.split_whitespace().filter_map(|number| number.parse().ok()).collect())
            .expect("a page has a size");
        assert!((points[2] * 25.4 / 72.0 - paper.width_mm()).abs() < 0.01, "{points:?}");
        assert!((points[3] * 25.4 / 72.0 - paper.height_mm()).abs() < 0.01, "{points:?}");
        for needed in ["/Lang", "/StructTreeRoot", "/ToUnicode", "/Title"] {
            assert!(text.contains(needed), "{needed}");
        }
    }
}

#[test]
fn the_svg_is_in_millimetres_and_draws_the_line_at_its_length() {
    let sheet = pump_sheet(Units::Metric);
    let picture = &sheet.pages[1].picture;
    let text = svg::svg(picture, &sheet.title);
    assert!(text.contains("width=\"297mm\" height=\"210mm\" viewBox=\"0 0 297 210\""));
    let [from, to] = measured_line(picture);
    let shown = |value: f64| {
        let text = format!("{value:.3}");
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    };
    let y = shown(210.0 - from.up_mm);
    let line = format!("M{} {y}L{} {y}", shown(from.right_mm), shown(to.right_mm));
    assert!(text.contains(&line), "{line}");
    assert!((to.right_mm - from.right_mm - 100.0).abs() < 1e-9);
    for words in parts(picture).0.iter().filter(|text| !text.text.trim().is_empty()) {
        assert!(text.contains(&words.text.replace('&', "&amp;")), "{:?}", words.text);
    }
}

#[test]
fn what_xml_forbids_is_written_so_that_it_may_stand_there() {
    let mut job = crate::quiet::job();
    job.title = "<b> & \"so\"\u{1}\u{ffff}".to_owned();
    let sheet = sheet(&job, &study::compute(&job), &Choices::default());
    let text = svg::svg(&sheet.pages[0].picture, &sheet.title);
    assert!(text.contains("&lt;b&gt; &amp; &quot;so&quot;"));
    assert!(!text.contains("<b>") && !text.contains('\u{1}') && !text.contains('\u{ffff}'));
    assert!(sheet.pdf().is_ok() && png::png(&sheet.pages[0].picture, 50.0).is_ok());
}

#[test]
fn the_png_has_as_many_dots_as_were_asked_for_and_ink_where_the_line_is() {
    let sheet = pump_sheet(Units::Metric);
    let picture = &sheet.pages[1].picture;
    let ([wide, high], rgba) = png::dots(picture, 254.0).unwrap();
    assert_eq!((wide, high), (2970, 2100));
    let [from, to] = measured_line(picture);
    let ink = |x_mm: f64, up_mm: f64| {
        let (x, y) = ((x_mm * 10.0) as usize, ((210.0 - up_mm) * 10.0) as usize);
        rgba[4 * (y * wide + x)]
    };
    assert!(ink(f64::midpoint(from.right_mm, to.right_mm) + 3.0, from.up_mm) < 120, "ink on the line");
    assert!(
        ink(to.right_mm + 0.5, to.up_mm) > 200 && ink(from.right_mm - 0.5, from.up_mm) > 200,
        "none beside its ends"
    );
    assert!(
        png::png(picture, 1e9).is_err() && png::png(picture, f64::NAN).is_err() && png::png(picture, -3.0).is_err()
    );
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    for kind in FileKind::ALL {
        let folder = tempfile::tempdir().unwrap();
        let written = ["one", "two"].map(|name| {
            let path = folder.path().join(name).with_extension(kind.ending());
            let sheet = pump_sheet(Units::Metric);
            let written = save(&sheet, &path, 60.0).unwrap();
            assert_eq!(written, paths(&sheet, &path));
            written.iter().map(|path| std::fs::read(path).unwrap()).collect::<Vec<_>>()
        });
        assert_eq!(written[0], written[1], "{kind:?}");
        let one_a_page = matches!(kind, FileKind::Svg | FileKind::Png);
        assert_eq!(written[0].len(), if one_a_page { pump_sheet(Units::Metric).pages.len() } else { 1 });
    }
}

#[test]
fn a_file_of_another_kind_or_in_no_folder_is_refused_by_name() {
    let sheet = pump_sheet(Units::Metric);
    let folder = tempfile::tempdir().unwrap();
    let refused = save(&sheet, &folder.path().join("sheet.docx"), 100.0);
    assert!(matches!(&refused, Err(SaveError::NoSuchKind(_))));
    assert!(refused.unwrap_err().to_string().contains("sheet.docx"));
    let refused = save(&sheet, &folder.path().join("none/sheet.pdf"), 100.0).unwrap_err().to_string();
    assert!(refused.contains("sheet.pdf"), "{refused}");
}

#[test]
fn tables_come_out_as_csv_with_every_field_in_its_column() {
    let csv = pump_sheet(Units::Metric).csv();
    let tables: Vec<&str> = csv.split("\n\n").collect();
    // The work, and for both set-ups sizes, rests, holding, tool and passes.
    assert_eq!(tables.len(), 11, "{csv}");
    let fields = |line: &str| {
        let mut quoted = false;
        1 + line
            .chars()
            .filter(|letter| {
                quoted ^= *letter == '"';
                *letter == ',' && !quoted
            })
            .count()
    };
    for table in tables {
        let mut lines = table.trim().lines();
        assert_eq!(fields(lines.next().unwrap()), 1);
        let counts: Vec<usize> = lines.map(fields).collect();
        assert!(!counts.is_empty() && counts.iter().all(|n| *n == counts[0] && *n > 1), "{table}");
    }
    assert!(csv.contains("Steady 1; bronze tips,300.0,"), "{csv}");
}
