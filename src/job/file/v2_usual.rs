//! What came into format 2 after files of it had been written: where a file says nothing, it is as usual on a lathe of
//! middle size, and assumed.

use super::v1::Stated;
use crate::job::{self, Dog, Lathe};

fn of_lathe(field: fn(&Lathe) -> job::Stated) -> Stated {
    (&field(&Lathe::medium())).into()
}

pub(super) fn holder_left() -> Stated {
    of_lathe(|lathe| lathe.holder_left_mm)
}

pub(super) fn holder_right() -> Stated {
    of_lathe(|lathe| lathe.holder_right_mm)
}

pub(super) fn nearest_to_jaws() -> Stated {
    of_lathe(|lathe| lathe.nearest_to_jaws_mm)
}

pub(super) fn wings_pass_tailstock() -> bool {
    Lathe::medium().wings_pass_tailstock
}

pub(super) fn rest_bore() -> Stated {
    of_lathe(|lathe| lathe.rest_bore_mm)
}

pub(super) fn follower_width() -> Stated {
    of_lathe(|lathe| lathe.follower_width_mm)
}

pub(super) fn dog_length() -> Stated {
    (&Dog::usual().length_mm).into()
}
