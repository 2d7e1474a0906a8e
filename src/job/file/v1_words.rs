//! The words of format 1 that stand for one word of the document each, both ways.

use crate::job;

use super::v1;

/// Both conversions between two lists of the same words.
macro_rules! same_words {
    ($($name:ident { $($word:ident),+ })+) => {$(
        impl From<v1::$name> for job::$name {
            fn from(read: v1::$name) -> Self {
                match read {
                    $(v1::$name::$word => Self::$word,)+
                }
            }
        }

        impl From<&job::$name> for v1::$name {
            fn from(held: &job::$name) -> Self {
                match held {
                    $(job::$name::$word => Self::$word,)+
                }
            }
        }
    )+};
}

same_words! {
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
    PassKind { Turn, Spring, Thread, Face, Drill, Bore }
}
