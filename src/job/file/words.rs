//! The words of the formats that stand for one word of the document each, both ways.

use crate::job;

use super::{v1, v2};

/// Both conversions between two lists of the same words.
macro_rules! same_words {
    ($format:ident: $($name:ident { $($word:ident),+ })+) => {$(
        impl From<$format::$name> for job::$name {
            fn from(read: $format::$name) -> Self {
                match read {
                    $($format::$name::$word => Self::$word,)+
                }
            }
        }

        impl From<&job::$name> for $format::$name {
            fn from(held: &job::$name) -> Self {
                match held {
                    $(job::$name::$word => Self::$word,)+
                }
            }
        }
    )+};
}

same_words! { v1:
    Units { Metric, Inch }
    DriveKind { ThreeJaw, FourJaw, Collet, FacePlate, CentreAndDog }
    Hold { Clamped, SoftClamp, Hinge }
    TailKind { Free, DeadCentre, LiveCentre, SpringCentre, HalfCentre, BullNose }
    SetTo { Work, Axis }
    TipKind { Bronze, Brass, CastIron, Plastic, Roller }
    FollowerSide { Behind, Ahead }
    ToolSide { Front, Rear }
    ToolMaterial { HighSpeedSteel, Carbide }
    ToolWear { Sharp, Used, Blunt }
}

same_words! { v2:
    DogKind { OneTail, TwoTails }
    PassKind { Turn, Spring, Thread, Face, Drill, Bore, Groove, Part }
}

impl From<v1::PassKind> for v2::PassKind {
    fn from(read: v1::PassKind) -> Self {
        match read {
            v1::PassKind::Turn => Self::Turn,
            v1::PassKind::Spring => Self::Spring,
            v1::PassKind::Thread => Self::Thread,
            v1::PassKind::Face => Self::Face,
            v1::PassKind::Drill => Self::Drill,
            v1::PassKind::Bore => Self::Bore,
        }
    }
}
