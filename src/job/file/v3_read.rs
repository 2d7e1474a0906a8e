//! From format 3 to the document. Whether the numbers can be is for the invariants to say; that no two arrangements want
//! one letter, and so that there are no more than four, is said here.

use crate::job;
use crate::job::pins::LETTERS;

use super::v1_read::all;
use super::{FileTrouble, v3};

impl TryFrom<v3::Job> for job::Document {
    type Error = FileTrouble;

    fn try_from(read: v3::Job) -> Result<Self, FileTrouble> {
        let v3::Job {
            format: _,
            title,
            notes,
            title_block,
            units,
            shaft,
            lathe,
            setups,
            readings,
            spread,
            present_name,
            pinned,
            next_id,
        } = read;
        let mut pins = job::Pins { present_name, ..job::Pins::default() };
        if pinned.len() > pins.pinned.len() {
            return Err(FileTrouble::TooManyPinned { n_pinned: pinned.len() });
        }
        for one in pinned {
            let v3::Pinned { letter, name, setups, readings } = one;
            let place = &mut pins.pinned[letter as usize];
            if place.is_some() {
                return Err(FileTrouble::PinnedTwice { letter: LETTERS[letter as usize] });
            }
            *place = Some(job::Arrangement { name, setups: all(setups), readings: all(readings) });
        }
        let job = job::Job {
            title,
            notes,
            title_block: title_block.into(),
            units: units.into(),
            shaft: shaft.into(),
            lathe: lathe.into(),
            setups: all(setups),
            readings: all(readings),
            spread: spread.into(),
            next_id,
        };
        Ok(Self { job, pins })
    }
}
