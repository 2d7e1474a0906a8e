//! Invented example jobs, embedded in the program; the first is the one it opens with.
//!
//! Each is a file as the program itself writes it, without a problem that [`Job::check`] would report. Some cut well
//! and some badly: they are there to be changed.

use super::file::{self, FileError, FileTrouble};
use super::{Job, Lathe, MaterialChoice, Setup, SetupId, Shaft, Units};

/// An example job.
#[derive(Clone, Copy, Debug)]
pub struct Example {
    /// Short name that does not change.
    pub key: &'static str,
    /// Name on screen.
    pub title: &'static str,
    /// What is to be seen in it, in one sentence.
    pub about: &'static str,
    /// The job's file.
    pub text: &'static str,
}

/// All examples, the opening one first.
pub const EXAMPLES: &[Example] = &[
    Example {
        key: "pump-shaft",
        title: "Pump shaft",
        about: "A stepped shaft in chuck and live centre with one steady rest, then turned end for end.",
        text: include_str!("../../assets/examples/pump-shaft.ron"),
    },
    Example {
        key: "hinge-pin",
        title: "Hinge pin",
        about: "A small pin in chuck and live centre, in inches, without a rest.",
        text: include_str!("../../assets/examples/hinge-pin.ron"),
    },
    Example {
        key: "grinding-arbor",
        title: "Grinding arbor",
        about: "Between centres with a dog, both ends from the same two centres.",
        text: include_str!("../../assets/examples/grinding-arbor.ron"),
    },
    Example {
        key: "guide-rod",
        title: "Guide rod",
        about: "A slender rod of one diameter between centres, with a follower rest behind the tool.",
        text: include_str!("../../assets/examples/guide-rod.ron"),
    },
    Example {
        key: "spindle-nose",
        title: "Spindle nose",
        about: "The outer end runs in a steady rest without a tailstock, to be faced, drilled and bored.",
        text: include_str!("../../assets/examples/spindle-nose.ron"),
    },
    Example {
        key: "forged-spindle",
        title: "Forged spindle",
        about: "A rough forging on a large lathe, the steady rest running on a cat head.",
        text: include_str!("../../assets/examples/forged-spindle.ron"),
    },
    Example {
        key: "lead-screw",
        title: "Lead screw blank",
        about: "Eight feet of bar with two steady rests, its end turned and threaded, in inches.",
        text: include_str!("../../assets/examples/lead-screw.ron"),
    },
    Example {
        key: "plain-roll",
        title: "Plain roll",
        about: "Stout cast iron between springy ends, where the machine gives more than the work.",
        text: include_str!("../../assets/examples/plain-roll.ron"),
    },
    Example {
        key: "boring-bar",
        title: "Boring-bar blank",
        about: "A bar in a collet with its outer end free, and two spring passes.",
        text: include_str!("../../assets/examples/boring-bar.ron"),
    },
    Example {
        key: "sleeve",
        title: "Sleeve",
        about: "Stainless pipe on a bull-nose centre with a steady rest.",
        text: include_str!("../../assets/examples/sleeve.ron"),
    },
    Example {
        key: "test-bar",
        title: "Test bar",
        about: "An aluminium bar between centres, the tailstock off the axis, with five readings.",
        text: include_str!("../../assets/examples/test-bar.ron"),
    },
];

/// The example with this key.
///
/// # Errors
/// [`FileError`] where there is none; its text being at fault is ruled out by a test.
pub fn load(key: &str) -> Result<Job, FileError> {
    match EXAMPLES.iter().find(|example| example.key == key) {
        Some(example) => file::from_text(example.text).map(|document| document.job),
        None => Err(FileTrouble::NoExample(key.to_owned()).into()),
    }
}

/// The job the program opens with.
#[must_use]
pub fn opening() -> Job {
    let read = EXAMPLES.first().and_then(|example| load(example.key).ok());
    // A test keeps every example readable; a plain bar stands in rather than a crash.
    read.unwrap_or_else(plain_bar)
}

/// A bar in chuck and live centre, nothing cut yet: where a new job begins.
#[must_use]
pub fn plain_bar() -> Job {
    let shaft = Shaft::bar(MaterialChoice::Listed("C45".to_owned()), 40.0, 600.0);
    Job::new("New job", Units::Metric, shaft, Lathe::medium(), Setup::chuck_and_centre(SetupId(0), 35.0))
}
