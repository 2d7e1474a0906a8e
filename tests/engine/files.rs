//! The job file: what is written is read back, what is broken is told with its place, what is saved is whole.

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use midspan::job::file::{FileTrouble, MAX_BYTES, from_text, read, to_text, write};
use midspan::job::{Document, Pins, examples};

fn data(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data").join(name)
}

fn pump_shaft() -> Document {
    examples::load("pump-shaft").unwrap().into()
}

/// Every folder below `broken` is named for what is wrong; `says.txt` in it holds words that the message must have.
#[test]
fn every_broken_file_is_told_apart() {
    let mut n_files = 0;
    for folder in fs::read_dir(data("broken")).unwrap() {
        let folder = folder.unwrap().path();
        let says = fs::read_to_string(folder.join("says.txt")).unwrap();
        for file in fs::read_dir(&folder).unwrap() {
            let file = file.unwrap().path();
            if file.extension().is_none_or(|extension| extension != "ron") {
                continue;
            }
            n_files += 1;
            let message = read(&file).map(|_| ()).expect_err(&file.display().to_string()).to_string();
            for snippet in says.lines().filter(|line| !line.is_empty()) {
                assert!(message.contains(snippet), "{}: {message:?} does not say {snippet:?}", file.display());
            }
            assert!(message.ends_with(&format!("({})", file.display())), "{message:?}: the path comes last");
        }
    }
    assert!(n_files >= 12, "{n_files} broken files");
}

/// Reads a file of an older format: all it says is said in the newest one, in the same order.
fn read_and_lose_nothing(name: &str) -> Document {
    let path = data(name);
    let read = read(&path).unwrap();
    assert_eq!(from_text(&to_text(&read)).unwrap(), read);
    let (old, new) = (fs::read_to_string(&path).unwrap(), to_text(&read));
    let words = |text: &str| -> Vec<String> {
        let parts = text.split(|c: char| c.is_whitespace() || "(),[]:".contains(c));
        parts.filter(|part| !part.is_empty()).map(str::to_owned).collect()
    };
    let mut later = words(&new).into_iter();
    for word in words(&old).into_iter().skip(2) {
        assert!(later.any(|new| new == word), "{word} of {name} is lost or out of order");
    }
    assert_eq!(read.pins, Pins::default());
    read
}

/// A job of format 1 with every word the format has: it must read for ever.
#[test]
fn a_job_of_format_1_reads_and_loses_nothing() {
    let job = read_and_lose_nothing("format-1/everything.ron").job;
    assert_eq!((job.setups.len(), job.setups[0].rests.len(), job.setups[0].passes.len()), (3, 3, 6));
    assert_eq!(job.spread, midspan::job::Spread::usual());
    assert!(job.setups.iter().all(|setup| setup.warmer_by_k == 0.0 && setup.drive.dog == midspan::job::Dog::usual()));
}

/// A job of format 2 with every word the format has: it must read for ever.
#[test]
fn a_job_of_format_2_reads_and_loses_nothing() {
    let job = read_and_lose_nothing("format-2/everything.ron").job;
    assert_eq!(job.setups[0].passes.last().map(|pass| pass.kind), Some(midspan::job::PassKind::Part));
}

/// A job of format 2 written before it said how much room rests, tool holder and dog take, or had a title block: all else
/// reads as it stands, and what it does not say is as usual, and assumed, or empty.
#[test]
fn a_job_of_format_2_that_says_nothing_of_room_reads_with_the_usual_room() {
    let early = read(&data("format-2/before-room.ron")).unwrap().job;
    let mut told = read(&data("format-2/everything.ron")).unwrap().job;
    told.title_block = midspan::job::TitleBlock::default();
    let usual = midspan::job::Lathe::medium();
    told.lathe.holder_left_mm = usual.holder_left_mm;
    told.lathe.holder_right_mm = usual.holder_right_mm;
    told.lathe.nearest_to_jaws_mm = usual.nearest_to_jaws_mm;
    told.lathe.wings_pass_tailstock = usual.wings_pass_tailstock;
    told.lathe.wings_pass_rest = usual.wings_pass_rest;
    told.lathe.rest_bore_mm = usual.rest_bore_mm;
    told.lathe.follower_width_mm = usual.follower_width_mm;
    for setup in &mut told.setups {
        setup.drive.dog.length_mm = midspan::job::Dog::usual().length_mm;
    }
    assert_eq!(early, told);
    assert!(early.lathe.holder_right_mm.assumed && early.setups[0].drive.dog.length_mm.assumed);
}

#[test]
fn what_other_editors_add_is_read() {
    let text = to_text(&pump_shaft());
    for changed in [
        format!("\u{feff}{text}"),
        text.replace('\n', "\r\n"),
        format!("// My best shaft\n{text}\n/* the end */\n"),
        text.replace("speed_rpm: 710.0", "speed_rpm: 710"),
        text.replace("warmer_by_k: None", "warmer_by_k: None,"),
    ] {
        assert_eq!(from_text(&changed).unwrap(), pump_shaft());
    }
}

#[test]
fn optional_things_may_stand_with_or_without_some() {
    let text = to_text(&pump_shaft());
    assert!(text.contains("centre_hole_a: (\n"), "an optional thing stands plainly");
    let plain = "centre_hole_a: (\n      pilot_mm: 6.3,\n      off_tir_mm: 0.0,\n      off_at_rad: 0.0,\n    ),";
    let some = "centre_hole_a: Some((pilot_mm: 6.3, off_tir_mm: 0.0, off_at_rad: 0.0)),";
    let (before, after) = (text.replace("pilot_mm: 4.0", "pilot_mm: 6.3"), text);
    assert!(before.contains(plain) && !after.contains(plain));
    assert_eq!(from_text(&before.replacen(plain, some, 1)).unwrap(), from_text(&before).unwrap());
}

#[test]
fn an_endless_file_is_not_read() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("long.ron");
    fs::write(&path, vec![b' '; usize::try_from(MAX_BYTES).unwrap() + 1]).unwrap();
    assert!(matches!(read(&path).unwrap_err().trouble, FileTrouble::TooLarge));
    assert!(matches!(from_text(&fs::read_to_string(&path).unwrap()).unwrap_err().trouble, FileTrouble::TooLarge));
}

#[test]
fn a_missing_file_and_bytes_that_are_no_text_are_told() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("none.ron");
    let message = read(&path).unwrap_err().to_string();
    assert!(message.starts_with("the file cannot be read") && message.contains("none.ron"), "{message}");
    fs::write(&path, [b'(', 0xff, 0xfe]).unwrap();
    assert!(matches!(read(&path).unwrap_err().trouble, FileTrouble::NotText));
}

#[test]
fn texts_of_other_programs_are_told_to_be_no_jobs() {
    for text in
        ["length;diameter\n100;20", "{\"format\": 2}", "<?xml version=\"1.0\"?>", "format: 2", "[job]\nformat = 2"]
    {
        let error = from_text(text).unwrap_err();
        assert!(matches!(error.trouble, FileTrouble::Foreign), "{text}: {error}");
    }
    // A slip of the hand in a job is told with its place.
    assert!(matches!(from_text("(format: 2, title: )").unwrap_err().trouble, FileTrouble::Text { .. }));
}

#[test]
fn refusals_of_the_system_are_told_in_plain_words() {
    for (kind, says) in [
        (ErrorKind::StorageFull, "the disk is full"),
        (ErrorKind::QuotaExceeded, "your share of the disk is used up"),
        (ErrorKind::ReadOnlyFilesystem, "the disk is write-protected"),
        (ErrorKind::PermissionDenied, "you are not allowed to write there"),
        (ErrorKind::NotFound, "its folder is not there"),
        (ErrorKind::TimedOut, "its drive does not answer"),
    ] {
        let message = FileTrouble::Write(kind.into()).to_string();
        assert!(message.starts_with("the file cannot be written: ") && message.contains(says), "{message}");
    }
    let message = FileTrouble::Read(ErrorKind::PermissionDenied.into()).to_string();
    assert!(message.contains("you are not allowed to read it"), "{message}");
    let folder = tempfile::tempdir().unwrap();
    assert!(matches!(read(folder.path()).unwrap_err().trouble, FileTrouble::Folder));
    let long = folder.path().join("n".repeat(400));
    for message in [read(&long).map(|_| ()).unwrap_err(), write(&long, &pump_shaft()).unwrap_err()] {
        assert!(message.to_string().contains("too long"), "{message}");
    }
}

/// A pipe would keep the window waiting for ever; a device written over would be gone.
#[cfg(unix)]
#[test]
fn pipes_and_devices_are_neither_read_nor_written() {
    use std::os::unix::net::UnixListener;

    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("socket");
    let _listener = UnixListener::bind(&path).unwrap();
    for path in [path.as_path(), Path::new("/dev/zero")] {
        assert!(matches!(read(path).unwrap_err().trouble, FileTrouble::NotAFile));
    }
    assert!(matches!(write(&path, &pump_shaft()).unwrap_err().trouble, FileTrouble::NotAFile));
    assert!(path.exists());
}

#[test]
fn saving_and_opening_gives_the_same_job() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shaft.ron");
    write(&path, &pump_shaft()).unwrap();
    assert_eq!(read(&path).unwrap(), pump_shaft());
    let mut other = pump_shaft();
    other.job.title = "Other \"shaft\"\nin two lines \u{d8}40".to_owned();
    write(&path, &other).unwrap();
    assert_eq!(read(&path).unwrap(), other);
    let names: Vec<_> = fs::read_dir(folder.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    assert_eq!(names, ["shaft.ron"], "nothing temporary is left");
}

#[test]
fn a_save_that_fails_leaves_the_old_file() {
    let folder = tempfile::tempdir().unwrap();
    let message = write(&folder.path().join("no/such/folder.ron"), &pump_shaft()).unwrap_err().to_string();
    assert!(message.starts_with("the file cannot be written"), "{message}");
    let message = write(folder.path(), &pump_shaft()).unwrap_err().to_string();
    assert!(message.contains("that is a folder"), "{message}");
    let path = folder.path().join("kept.ron");
    fs::write(&path, "old").unwrap();
    let mut permissions = fs::metadata(&path).unwrap().permissions();
    permissions.set_readonly(true);
    fs::set_permissions(&path, permissions).unwrap();
    let message = write(&path, &pump_shaft()).unwrap_err().to_string();
    assert!(message.contains("write-protected"), "{message}");
    assert_eq!(fs::read_to_string(&path).unwrap(), "old");
}

#[cfg(unix)]
#[test]
fn saving_keeps_permissions_and_follows_links() {
    use std::os::unix::fs::{PermissionsExt as _, symlink};

    let folder = tempfile::tempdir().unwrap();
    let (path, link) = (folder.path().join("shaft.ron"), folder.path().join("link.ron"));
    fs::write(&path, "old").unwrap();
    fs::set_permissions(&path, fs::Permissions::from_mode(0o664)).unwrap();
    symlink("shaft.ron", &link).unwrap();
    write(&link, &pump_shaft()).unwrap();
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_eq!(read(&path).unwrap(), pump_shaft());
    assert_eq!(fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o664);
    // A link to a file that is not there yet makes it.
    let (fresh, dangling) = (folder.path().join("fresh.ron"), folder.path().join("dangling.ron"));
    symlink("fresh.ron", &dangling).unwrap();
    write(&dangling, &pump_shaft()).unwrap();
    assert_eq!(read(&fresh).unwrap(), pump_shaft());
    assert_ne!(fs::metadata(&fresh).unwrap().permissions().mode() & 0o400, 0);
    // Links in a circle are an error, not a hang.
    let (one, two) = (folder.path().join("one"), folder.path().join("two"));
    symlink("two", &one).unwrap();
    symlink("one", &two).unwrap();
    assert!(write(&one, &pump_shaft()).is_err());
}

/// The desktop tells a job from other files by how it begins.
#[test]
fn job_files_begin_as_the_file_type_for_the_desktop_says() {
    let kind = include_str!("../../assets/desktop/midspan-job.xml");
    let magic = |value: &str| kind.contains(&format!("value=\"{}\"", value.replace('\n', "\\n")));
    let (first, second) = ("(\n  format: ", ",\n  title: ");
    assert!(magic(first) && magic(second) && kind.contains("offset=\"12:16\""));
    for example in examples::EXAMPLES {
        let text = to_text(&examples::load(example.key).unwrap().into());
        assert!(text.starts_with(first), "{}", example.key);
        assert!((12..=16).any(|at| text[at..].starts_with(second)), "{}", example.key);
    }
    assert!(include_str!("../../assets/desktop/midspan.desktop").contains("MimeType=application/x-midspan-job;"));
    assert!(kind.contains("type=\"application/x-midspan-job\""));
}
