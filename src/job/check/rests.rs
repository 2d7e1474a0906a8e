//! Steady rests and the follower rest against the work and each other.

use std::f64::consts::{PI, TAU};

use crate::job::{Rest, Sleeve};

use super::{Check, HAIR_MM, SetupHere, Subject};

/// Two jaws nearer to each other than this do the work of one.
const NEAREST_PAIR_RAD: f64 = PI / 6.0;

/// Middle of a follower's jaw to the tool: no jaw is so narrow that it could stand nearer (common practice, no source).
const NEAREST_FOLLOWER_MM: f64 = 1.0;

impl Check<'_> {
    pub(super) fn rests(&mut self, here: SetupHere<'_>) {
        let rests = &here.setup.rests;
        for (index, rest) in rests.iter().enumerate() {
            self.rest(here, rest);
            let base_mm = self.job.lathe.rest_base_mm.value;
            for other in &rests[..index] {
                let apart_mm = (rest.z_mm - other.z_mm).abs();
                let about = Subject::Rest(here.setup.id, rest.id);
                if apart_mm < HAIR_MM {
                    let place = self.length(rest.z_mm);
                    self.found(about, format!("{}: two steady rests stand at {place}", here.name()));
                } else if apart_mm < base_mm {
                    let text = format!(
                        "{}: the steady rests at {} and {} stand in each other (their bases are {} long)",
                        here.name(),
                        self.length(other.z_mm.min(rest.z_mm)),
                        self.length(other.z_mm.max(rest.z_mm)),
                        self.length(base_mm)
                    );
                    self.found(about, text);
                }
            }
        }
    }

    fn rest(&mut self, here: SetupHere<'_>, rest: &Rest) {
        let (setup, lathe) = (here.setup, &self.job.lathe);
        let about = Subject::Rest(setup.id, rest.id);
        let the_rest = format!("{}: the steady rest at {}", here.name(), self.length(rest.z_mm));
        let end_z_mm = setup.work_end_z_mm(&self.job.shaft);
        let half_jaw_mm = lathe.rest_jaw_width_mm.value / 2.0;
        let mut on_the_work = false;
        if rest.z_mm < setup.work_start_z_mm - HAIR_MM {
            self.found(about, format!("{the_rest} stands off the work"));
        } else if rest.z_mm > end_z_mm + HAIR_MM {
            let what = if here.has_tailstock() { "stands beyond the tailstock centre" } else { "stands off the work" };
            self.found(about, format!("{the_rest} {what}"));
        } else if here.in_chuck() && rest.z_mm < half_jaw_mm {
            self.found(about, format!("{the_rest} stands in the chuck"));
        } else {
            on_the_work = true;
        }
        if !(2..=4).contains(&rest.jaws.len()) {
            let count = rest.jaws.len();
            self.found(about, format!("{the_rest} has {count} jaws; a rest has two to four"));
        } else if one_sided(rest) {
            self.found(about, format!("{the_rest} has all its jaws on one side of the work"));
        }
        if on_the_work {
            self.rest_diameter(here, rest, &the_rest);
        }
    }

    /// What the jaws close on, against their range and the sleeve.
    fn rest_diameter(&mut self, here: SetupHere<'_>, rest: &Rest, the_rest: &str) {
        let (setup, lathe) = (here.setup, &self.job.lathe);
        let about = Subject::Rest(setup.id, rest.id);
        let s_mm = setup.s_of_z_mm(&self.job.shaft, rest.z_mm);
        let Some(work_mm) = self.job.dial_diameter_into_mm(setup.id, s_mm) else { return };
        let under_mm = match rest.sleeve {
            Sleeve::None => work_mm,
            Sleeve::CatHead { diameter_mm, .. } | Sleeve::Bush { diameter_mm, .. } => {
                if diameter_mm <= work_mm {
                    let (sleeve, work) = (self.diameter(diameter_mm), self.diameter(work_mm));
                    self.found(about, format!("{the_rest} has a sleeve of {sleeve} over work of {work}"));
                }
                diameter_mm
            }
        };
        let (least, most) = (lathe.rest_min_diameter_mm.value, lathe.rest_max_diameter_mm.value);
        if under_mm < least || under_mm > most {
            let (under, least, most) = (self.diameter(under_mm), self.length(least), self.length(most));
            self.found(about, format!("{the_rest} is to close on {under}; its jaws take {least} to {most}"));
        }
    }

    pub(super) fn follower(&mut self, here: SetupHere<'_>) {
        let (setup, lathe) = (here.setup, &self.job.lathe);
        let Some(follower) = &setup.follower else { return };
        let about = Subject::Follower(setup.id);
        let name = here.name();
        let reach_mm = lathe.carriage_left_mm.value.max(lathe.carriage_right_mm.value);
        if follower.distance_mm > reach_mm {
            let (distance, reach) = (self.length(follower.distance_mm), self.length(reach_mm));
            let text = format!("{name}: the follower rest is {distance} from the tool, off the carriage ({reach})");
            self.found(about, text);
        }
        if follower.distance_mm < NEAREST_FOLLOWER_MM {
            let distance = self.length(follower.distance_mm);
            let text =
                format!("{name}: the follower rest is {distance} from the tool, where its jaws would be in the cut");
            self.found(about, text);
        }
        let (least, most) = (lathe.follower_min_diameter_mm.value, lathe.follower_max_diameter_mm.value);
        let outside = setup.passes.iter().find_map(|pass| {
            let (from_z_mm, to_z_mm) = pass.span_mm();
            [from_z_mm, to_z_mm].into_iter().find_map(|z_mm| {
                let s_mm = setup.s_of_z_mm(&self.job.shaft, z_mm);
                let diameter_mm = self.job.dial_diameter_mm(setup.id, Some(pass.id), s_mm)?;
                (!(least..=most).contains(&diameter_mm)).then_some(diameter_mm)
            })
        });
        if let Some(diameter_mm) = outside {
            let (under, least, most) = (self.diameter(diameter_mm), self.length(least), self.length(most));
            self.found(about, format!("{name}: the follower rest is to bear on {under}; it takes {least} to {most}"));
        }
    }
}

/// The work could leave without lifting a jaw; a pair may leave one side open, as weight or the cut keeps it closed.
fn one_sided(rest: &Rest) -> bool {
    let mut angles: Vec<f64> = rest.jaws.iter().map(|jaw| jaw.angle_rad.rem_euclid(TAU)).collect();
    angles.sort_by(f64::total_cmp);
    let between = angles.windows(2).map(|pair| pair[1] - pair[0]);
    let round = angles[0] + TAU - angles[angles.len() - 1];
    let widest = between.fold(round, f64::max);
    let open = if angles.len() == 2 { TAU - NEAREST_PAIR_RAD } else { PI + 1e-9 };
    widest > open
}
