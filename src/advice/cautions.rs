//! The usual cautions that go with long work on a lathe: for the foot of the notes and for the set-up sheet.
//!
//! Each line is told in our own words with where it comes from. They are reminders, not a full list: the machine's
//! manual, local rules and a trained person's word come first.

use crate::job::{DriveKind, Setup, TailKind};

/// When a caution applies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    Always,
    /// The work stands in a chuck, a collet or on a face plate.
    Chuck,
    /// A dog turns the work.
    Dog,
    /// A steady rest or a follower is used.
    Rest,
    /// A centre that does not turn.
    DeadCentre,
    /// The bar reaches into the spindle.
    BarInSpindle,
}

/// One caution.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Caution {
    pub when: When,
    pub text: &'static str,
    pub source: &'static str,
}

/// The line that stands under every prediction.
pub const ESTIMATE: &str =
    "An estimate, not a guarantee; follow the machine's manual, local rules and a trained person's word.";

/// The same on every page of the sheet.
pub const ON_PAPER: &str = "An estimate, not a guarantee. Follow the machine's manual, local rules and the word of a licensed or trained person.";

/// What the program leaves out.
pub const LEFT_OUT: &str = "Not looked at: balance, slipping jaws, strength of centres, work coming loose. Chatter and whip are estimates; no speed \
     is called safe.";

/// Every caution, in the order they matter before the start.
pub const CAUTIONS: [Caution; 17] = [
    Caution {
        when: When::Chuck,
        text: "Key out of the chuck, every time, before anything else.",
        source: "film and television safety bulletin; makers' lathe manuals",
    },
    Caution {
        when: When::Chuck,
        text: "Stay below the speed on the chuck: its grip falls off. Guard shut.",
        source: "ISO 23125 and VDI 3106, from memory",
    },
    Caution {
        when: When::Always,
        text: "Before power: all clamped, one turn by hand, carriage end to end.",
        source: "film and television safety bulletin; by hand: common practice",
    },
    Caution {
        when: When::Rest,
        text: "Rest: jaws set to the work, top latched, base clamped before start.",
        source: "film and television safety bulletin; latch: common practice",
    },
    Caution {
        when: When::Rest,
        text: "Jaws get hot: keep them oiled; stop the spindle to touch them.",
        source: "textbooks on the steady rest; stopping: common practice",
    },
    Caution {
        when: When::DeadCentre,
        text: "Oil the dead centre, ease it as the work warms; listen for it.",
        source: "makers' lathe manuals; easing: common practice",
    },
    Caution {
        when: When::Dog,
        text: "Guard dog and screw: what stands out and turns catches sleeves.",
        source: "29 CFR 1910.212(a)(1), general duty to guard",
    },
    Caution {
        when: When::BarInSpindle,
        text: "Bar behind the headstock: support and guard all of it, on the axis; start slow, stand clear; or cut it shorter.",
        source: "report on a fatal accident with an overhanging bar; HSG129, from memory",
    },
    Caution {
        when: When::Always,
        text: "Support what stands out over 3 diameters; run long stock slowly.",
        source: "makers' lathe manuals",
    },
    Caution {
        when: When::Always,
        text: "Spindle stopped, power off to measure or adjust. Mind the tool.",
        source: "navy engineering textbook",
    },
    Caution {
        when: When::Always,
        text: "Chips: stop, then hook and brush, never the hand; strings wrap.",
        source: "navy engineering textbook; WAC 296-806-45006",
    },
    Caution {
        when: When::Always,
        text: "Never hold emery cloth by hand to turning work or a keyway.",
        source: "HSE engineering information on emery cloth",
    },
    Caution {
        when: When::Always,
        text: "No gloves, rings, watch, loose sleeves; hair tied, eyes protected.",
        source: "navy engineering textbook; HSG129, from memory",
    },
    Caution {
        when: When::Always,
        text: "Hands off the chuck; never brake the spindle by hand.",
        source: "film and television safety bulletin; makers' lathe manuals",
    },
    Caution {
        when: When::Always,
        text: "Lift work and chucks with help; block before easing a centre.",
        source: "navy engineering textbook; blocking: common practice",
    },
    Caution {
        when: When::Rest,
        text: "Never force bent work straight with the jaws: it springs back.",
        source: "common practice, no source",
    },
    Caution {
        when: When::Always,
        text: "Do not part off long work between supports.",
        source: "common practice, no source",
    },
];

/// The cautions that go with one set-up.
pub fn for_setup(setup: &Setup) -> impl Iterator<Item = &'static Caution> {
    let has_rest = !setup.rests.is_empty() || setup.follower.is_some();
    let on_centre = setup.drive.kind == DriveKind::CentreAndDog;
    let dead = matches!(setup.tail.kind, TailKind::DeadCentre | TailKind::HalfCentre);
    let bar_in_spindle = setup.work_start_z_mm < -setup.drive.grip_mm - 1.0 && !on_centre;
    CAUTIONS.iter().filter(move |caution| match caution.when {
        When::Always => true,
        When::Chuck => !on_centre,
        When::Dog => on_centre,
        When::Rest => has_rest,
        When::DeadCentre => dead,
        When::BarInSpindle => bar_in_spindle,
    })
}
