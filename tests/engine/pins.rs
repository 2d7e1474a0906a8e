//! Pinned arrangements in the document and in its file: changed whole or not at all, checked like the job itself, told
//! by the letter and name the user sees.

use std::fs;
use std::path::Path;

use midspan::job::file::{MAX_BYTES, from_text, read, to_text};
use midspan::job::{
    Cut, Document, Edit, EditError, Force, Jaw, Pass, PassId, PassKind, Pinning, Rest, RestId, Setup, SetupId, Sleeve,
    Stiffness, examples,
};

/// The pump shaft, its arrangement pinned once for each name.
fn pinned(names: &[&str]) -> Document {
    let mut document: Document = examples::load("pump-shaft").unwrap().into();
    for (letter, name) in names.iter().enumerate() {
        document.pin(&Pinning::Pin).unwrap();
        document.pin(&Pinning::Rename(Some(letter), (*name).to_owned())).unwrap();
    }
    document
}

#[test]
fn what_cannot_be_pinned_leaves_everything_as_it_was() {
    let mut document = pinned(&["a", "b", "c", "d"]);
    let before = document.clone();
    assert_eq!(document.pin(&Pinning::Pin), Err(EditError::AllPinned));
    let long = document.pin(&Pinning::Rename(None, "long ".repeat(300))).unwrap_err();
    assert_eq!(long.to_string(), "The present arrangement, name: is too long");
    assert_eq!(document, before);
    document.pin(&Pinning::LetGo(1)).unwrap();
    for nothing in [Pinning::LetGo(1), Pinning::Swap(1), Pinning::Rename(Some(1), "b".to_owned()), Pinning::Swap(9)] {
        assert_eq!(document.pin(&nothing), Err(EditError::NotPinned));
    }
    document.pin(&Pinning::Pin).unwrap();
    assert_eq!(document.pins.pinned[1].as_ref().unwrap().setups, document.job.setups, "the first free letter");
}

#[test]
fn changing_places_twice_is_nothing() {
    let mut document = pinned(&["as drawn"]);
    let setup = document.job.setups[0].id;
    document.job.apply(&Edit::RemoveSetup(setup)).unwrap();
    let before = document.clone();
    document.pin(&Pinning::Swap(0)).unwrap();
    assert_eq!(document.job, examples::load("pump-shaft").unwrap());
    assert_eq!(document.pins.present_name, "as drawn");
    assert_eq!(document.pins.pinned[0].as_ref().unwrap().setups, before.job.setups);
    document.pin(&Pinning::Swap(0)).unwrap();
    assert_eq!(document, before);
}

/// A document of format 3 with every word that came with it: it must read for ever.
#[test]
fn a_job_with_pins_reads_and_is_written_alike() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/format-3/everything.ron");
    let document = read(&path).unwrap();
    assert_eq!(to_text(&document), fs::read_to_string(&path).unwrap());
    let pins = &document.pins;
    assert_eq!(pins.all().map(|(letter, _)| letter).collect::<Vec<_>>(), [0, 2], "a free letter stays free");
    assert_eq!((pins.present_name.as_str(), pins.pinned[2].as_ref().unwrap().name.as_str()), ("one more set-up", ""));
    assert_ne!(pins.pinned[0].as_ref().unwrap().setups, document.job.setups);
    assert!(!pins.pinned[0].as_ref().unwrap().readings.is_empty() && document.job.readings.is_empty());
}

#[test]
fn the_shaft_and_the_lathe_stand_once_however_much_is_pinned() {
    let text = to_text(&pinned(&["two rests", "", "", ""]));
    for word in ["stock: [", "lathe: (", "spindle_bore_mm"] {
        assert_eq!(text.matches(word).count(), 1, "{word}");
    }
}

#[test]
fn a_bad_pin_is_told_by_its_letter_and_name() {
    let text = to_text(&pinned(&["two rests", ""]));
    let (job, pins) = text.split_at(text.find("pinned: [").unwrap());
    let (first, second) = pins.split_at(pins.find("letter: B").unwrap());
    let told = |pins: &str| from_text(&format!("{job}{pins}")).map(drop).unwrap_err().to_string();
    assert_eq!(
        told(&pins.replacen("feed_mm_per_rev: 0.2", "feed_mm_per_rev: NaN", 1)),
        "the job cannot be: pinned arrangement A, 'two rests': Set-up 1, pass 1, feed: is not a number"
    );
    let negative = second.replacen("quill_out_mm: 30.0", "quill_out_mm: -30.0", 1);
    assert_eq!(
        told(&format!("{first}{negative}")),
        "the job cannot be: pinned arrangement B: Set-up 1, tailstock, quill out: must not be less than 0"
    );
    assert_eq!(told(&pins.replace("letter: B", "letter: A")), "two arrangements are pinned as A");
    for (from, to, says) in [
        ("letter: B", "letter: E", "`E`"),
        ("name: \"two rests\"", "name: \"two rests\", colour: 3", "`colour` in `Pinned`"),
        ("id: 4,", "id: 3,", "pinned arrangement A, 'two rests': The job: has two things with the number 3"),
        ("id: 4,", "id: 99,", "pinned arrangement A, 'two rests': The job: has a next number 11 that is taken"),
    ] {
        let message = told(&pins.replacen(from, to, 1));
        assert!(message.contains(says), "{message}");
    }
    let empty = "pinned: [(letter: C, name: \"\", setups: [], readings: [])], next_id: 11)";
    assert_eq!(told(empty), "the job cannot be: pinned arrangement C: a job needs at least one set-up");
    let (_, last) = pins.rsplit_once("\n  ],").unwrap();
    let one = "(letter: A, name: \"\", setups: [], readings: []),";
    assert_eq!(
        told(&format!("pinned: [{}],{last}", one.repeat(5))),
        "5 arrangements are pinned; there is room for four"
    );
}

/// Nothing may be saved that is then too large to be opened.
#[test]
fn the_largest_document_there_can_be_is_opened_again() {
    let long = "\u{1}".repeat(1000);
    let digits = -0.123_456_789_012_345_67;
    let mut document = pinned(&[]);
    let job = &mut document.job;
    let of = job.setups[0].clone();
    let jaw = Jaw { angle_rad: digits, gap_mm: digits, k_n_per_mm: Stiffness::assumed(-digits * 1e-5) };
    let sleeve = Sleeve::CatHead { diameter_mm: -digits, width_mm: -digits };
    let rest = Rest {
        z_mm: digits,
        jaws: vec![jaw; 8],
        offset_x_mm: digits,
        offset_y_mm: digits,
        sleeve,
        tip_bored_mm: Some(-digits),
        ..of.rests[0].clone()
    };
    let mut pass = of.passes[0].clone();
    pass.kind = PassKind::Thread;
    (pass.from_z_mm, pass.to_z_mm, pass.feed_mm_per_rev, pass.speed_rpm) = (digits, digits, -digits, -digits);
    pass.cut = Cut::ToDrawing { leave_on_diameter_mm: digits };
    pass.force = Force::Typed { radial_n: digits, main_n: digits, feed_n: digits, follows_depth: false };
    let mut ids = 0..;
    let mut id = || ids.next().unwrap();
    job.setups = (0..50)
        .map(|_| Setup {
            id: SetupId(id()),
            name: long.clone(),
            rests: (0..50).map(|_| Rest { id: RestId(id()), ..rest.clone() }).collect(),
            passes: (0..50).map(|_| Pass { id: PassId(id()), ..pass.clone() }).collect(),
            ..of.clone()
        })
        .collect();
    job.next_id = id();
    (job.title, job.notes) = (long.clone(), "\u{1}".repeat(200_000));
    job.shaft.wanted[0].name.clone_from(&long);
    job.shaft.wanted = vec![job.shaft.wanted[0].clone(); 1000];
    job.shaft.stock = vec![job.shaft.stock[0]; 1000];
    for letter in 0..4 {
        document.pin(&Pinning::Pin).unwrap();
        document.pin(&Pinning::Rename(Some(letter), long.clone())).unwrap();
    }
    assert_eq!(document.validate(), Ok(()));
    let text = to_text(&document);
    assert!(text.len() as u64 * 5 < MAX_BYTES * 4, "{} bytes", text.len());
    assert_eq!(from_text(&text).unwrap(), document);
}
