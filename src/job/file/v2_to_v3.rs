//! From format 2 to format 3: nothing is pinned yet.

use super::{v2, v3};

impl From<v2::Job> for v3::Job {
    fn from(read: v2::Job) -> Self {
        let v2::Job { format, title, notes, title_block, units, shaft, lathe, setups, readings, spread, next_id } =
            read;
        Self {
            format,
            title,
            notes,
            title_block,
            units,
            shaft,
            lathe,
            setups,
            readings,
            spread,
            present_name: String::new(),
            pinned: Vec::new(),
            next_id,
        }
    }
}
