//! From the document to format 3. Every field is taken apart by name, so that a new one cannot be forgotten.

use crate::job;

use super::v2_write::all;
use super::v3;

impl From<&job::Document> for v3::Job {
    fn from(held: &job::Document) -> Self {
        let job::Document { job, pins } = held;
        let job::Job { title, notes, title_block, units, shaft, lathe, setups, readings, spread, next_id } = job;
        let job::Pins { present_name, pinned } = pins;
        let pinned = v3::LETTERS.into_iter().zip(pinned).filter_map(|(letter, pin)| {
            let job::Arrangement { name, setups, readings } = pin.as_ref()?;
            Some(v3::Pinned { letter, name: name.clone(), setups: all(setups), readings: all(readings) })
        });
        Self {
            format: 3,
            title: title.clone(),
            notes: notes.clone(),
            title_block: title_block.into(),
            units: units.into(),
            shaft: shaft.into(),
            lathe: lathe.into(),
            setups: all(setups),
            readings: all(readings),
            spread: spread.into(),
            present_name: present_name.clone(),
            pinned: pinned.collect(),
            next_id: *next_id,
        }
    }
}
