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
pub const LEFT_OUT: &str = "Not looked at: balance, slipping jaws, strength of centres, and what happens if the work comes loose. Chatter and whip \
     are estimated only, and no speed is called safe.";

/// Every caution, in the order they matter before the start.
pub const CAUTIONS: [Caution; 17] = [
    Caution {
        when: When::Chuck,
        text: "Take the key out of the chuck, every time, before anything else.",
        source: "film and television safety bulletin on lathes; makers' lathe manuals",
    },
    Caution {
        when: When::Chuck,
        text: "Keep below the speed marked on the chuck; its grip falls as it turns faster. Fit the guard.",
        source: "ISO 23125 and VDI 3106, from memory",
    },
    Caution {
        when: When::Always,
        text: "Clamp tailstock, tool and work, turn the spindle one full turn by hand and wind the carriage through its \
               whole travel before power.",
        source: "film and television safety bulletin on lathes; by hand: common practice",
    },
    Caution {
        when: When::Rest,
        text: "Set the rest's jaws to the work before the start, latch the top and clamp the base.",
        source: "film and television safety bulletin on lathes; latch: common practice",
    },
    Caution {
        when: When::Rest,
        text: "Keep the jaws oiled, and stop the spindle before touching them; they get hot.",
        source: "textbooks on the steady rest; stopping: common practice",
    },
    Caution {
        when: When::DeadCentre,
        text: "Oil the dead centre and ease it as the work warms and grows; listen for it.",
        source: "makers' lathe manuals; easing: common practice",
    },
    Caution {
        when: When::Dog,
        text: "Guard the dog and its screw: anything that stands out and turns catches sleeves.",
        source: "29 CFR 1910.212(a)(1), general duty to guard",
    },
    Caution {
        when: When::BarInSpindle,
        text: "Support and guard the bar behind the headstock along its whole length, hold it on the axis, start slow, \
               and stand clear. Otherwise cut it shorter.",
        source: "report on a fatal accident with an overhanging bar; HSG129, from memory",
    },
    Caution {
        when: When::Always,
        text: "Support what stands out more than three diameters from the chuck, and run long stock slowly.",
        source: "maker's lathe manual",
    },
    Caution {
        when: When::Always,
        text: "Measure, and adjust rests or chuck, only with the spindle stopped and the power off. Mind the tool's point.",
        source: "navy engineering textbook on lathe safety",
    },
    Caution {
        when: When::Always,
        text: "Never clear chips by hand; long strings wrap round long work. Stop, then use a hook and a brush.",
        source: "navy engineering textbook on lathe safety; WAC 296-806-45006",
    },
    Caution {
        when: When::Always,
        text: "Never hold emery cloth by hand against turning work; a keyway takes the hand with it.",
        source: "HSE engineering information on emery cloth",
    },
    Caution {
        when: When::Always,
        text: "No gloves, rings, watches or loose sleeves; hair tied back; eyes protected.",
        source: "navy engineering textbook on lathe safety; HSG129, from memory",
    },
    Caution {
        when: When::Always,
        text: "Hands off the chuck; do not brake the spindle by hand.",
        source: "film and television safety bulletin on lathes; maker's lathe manual",
    },
    Caution {
        when: When::Always,
        text: "Lift heavy work and chucks with help or a hoist, and block the work before easing a centre.",
        source: "navy engineering textbook on lathe safety; blocking: common practice",
    },
    Caution {
        when: When::Rest,
        text: "Do not force bent work straight with the jaws: it stays strained and springs back when released.",
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
