//! Drive end and tailstock end against the work and the lathe.

use crate::job::{DriveKind, Hold, TailKind};

use super::{Check, HAIR_MM, SetupHere, Subject};

/// The work may begin so far behind the headstock centre's point, which stands in the centre hole.
const DEEPEST_CENTRE_HOLE_MM: f64 = 30.0;

impl SetupHere<'_> {
    /// Set-up by its number.
    pub(super) fn name(self) -> String {
        format!("Set-up {}", self.number)
    }

    pub(super) fn in_chuck(self) -> bool {
        self.setup.drive.kind != DriveKind::CentreAndDog
    }

    pub(super) fn has_tailstock(self) -> bool {
        self.setup.tail.kind != TailKind::Free
    }
}

impl Check<'_> {
    pub(super) fn holding(&mut self, here: SetupHere<'_>) {
        if here.in_chuck() {
            self.chuck(here);
        } else {
            self.headstock_centre(here);
        }
        if here.has_tailstock() {
            self.tailstock(here);
        } else {
            self.free_end(here);
        }
    }

    fn chuck(&mut self, here: SetupHere<'_>) {
        let (setup, lathe) = (here.setup, &self.job.lathe);
        let (drive, about, name) = (&setup.drive, Subject::Drive(setup.id), here.name());
        let what = match drive.kind {
            DriveKind::Collet => "collet",
            DriveKind::FacePlate => "face plate",
            DriveKind::ThreeJaw | DriveKind::FourJaw | DriveKind::CentreAndDog => "chuck",
        };
        if drive.grip_mm <= 0.0 {
            self.found(about, format!("{name}: the {what} grips nothing"));
            return;
        }
        let start_z_mm = setup.work_start_z_mm;
        let end_z_mm = setup.work_end_z_mm(&self.job.shaft);
        if start_z_mm >= 0.0 {
            self.found(about, format!("{name}: the work does not reach into the {what}"));
        } else if start_z_mm > -drive.grip_mm + HAIR_MM {
            let (grip, inside) = (self.length(drive.grip_mm), self.length(-start_z_mm));
            self.found(about, format!("{name}: the {what} is to grip {grip}, but only {inside} of the work is in it"));
        }
        if end_z_mm <= HAIR_MM {
            self.found(about, format!("{name}: nothing of the work stands out of the {what}"));
        }
        let jaws = matches!(drive.kind, DriveKind::ThreeJaw | DriveKind::FourJaw);
        if jaws && drive.grip_mm > lathe.jaw_depth_mm.value + HAIR_MM {
            let (grip, depth) = (self.length(drive.grip_mm), self.length(lathe.jaw_depth_mm.value));
            self.found(about, format!("{name}: a grip of {grip} is more than the jaws reach ({depth})"));
        }
        // What lies behind the jaws must go into the spindle.
        if start_z_mm < -drive.grip_mm - HAIR_MM {
            let behind_mm = self.largest_between_mm(here, start_z_mm, -drive.grip_mm);
            let bore_mm = lathe.spindle_bore_mm.value;
            if behind_mm > bore_mm {
                let (work, bore) = (self.length(behind_mm), self.length(bore_mm));
                let text = format!("{name}: the work behind the {what} is {work}, the spindle bore only {bore}");
                self.found(about, text);
            }
        }
    }

    fn headstock_centre(&mut self, here: SetupHere<'_>) {
        let (setup, about, name) = (here.setup, Subject::Drive(here.setup.id), here.name());
        let end_s_mm = if setup.end_for_end { self.job.shaft.length_mm() } else { 0.0 };
        if !self.has_seat(end_s_mm) {
            self.found(about, format!("{name}: the headstock centre finds no centre hole in the work"));
        }
        if setup.work_start_z_mm > HAIR_MM {
            let gap = self.length(setup.work_start_z_mm);
            self.found(about, format!("{name}: the work stands {gap} off the headstock centre"));
        } else if setup.work_start_z_mm < -DEEPEST_CENTRE_HOLE_MM {
            let behind = self.length(-setup.work_start_z_mm);
            self.found(about, format!("{name}: the work reaches {behind} back over the headstock centre"));
        }
        let (circle_mm, swing_mm) =
            (2.0 * setup.drive.dog.tail_radius_mm.value, self.job.lathe.swing_over_bed_mm.value);
        if circle_mm > swing_mm {
            let (circle, swing) = (self.length(circle_mm), self.length(swing_mm));
            self.found(about, format!("{name}: the dog's tail swings {circle} and does not clear the bed ({swing})"));
        }
    }

    fn tailstock(&mut self, here: SetupHere<'_>) {
        let (setup, lathe) = (here.setup, &self.job.lathe);
        let (about, name) = (Subject::Tail(setup.id), here.name());
        let end_s_mm = if setup.end_for_end { 0.0 } else { self.job.shaft.length_mm() };
        if setup.tail.kind == TailKind::BullNose {
            if self.job.shaft.bore_diameter_mm(end_s_mm) <= 0.0 {
                self.found(about, format!("{name}: the bull-nose centre finds no bore at that end of the work"));
            }
        } else if !self.has_seat(end_s_mm) {
            self.found(about, format!("{name}: the tailstock centre finds no centre hole in the work"));
        }
        let end_z_mm = setup.work_end_z_mm(&self.job.shaft);
        if end_z_mm > lathe.between_centres_mm.value {
            let (end, most) = (self.length(end_z_mm), self.length(lathe.between_centres_mm.value));
            self.found(about, format!("{name}: the work ends at {end}, beyond what goes between centres ({most})"));
        }
        if setup.tail.quill_out_mm > lathe.quill_travel_mm.value {
            let (out, travel) = (self.length(setup.tail.quill_out_mm), self.length(lathe.quill_travel_mm.value));
            self.found(about, format!("{name}: the quill stands {out} out, its travel is {travel}"));
        }
    }

    fn free_end(&mut self, here: SetupHere<'_>) {
        let (setup, name) = (here.setup, here.name());
        let hinge = !here.in_chuck() || setup.drive.hold == Hold::Hinge;
        if hinge && setup.rests.is_empty() {
            let text = format!("{name}: nothing carries the tailstock end of the work");
            self.found(Subject::Setup(setup.id), text);
        }
    }

    /// A 60 degree centre sits in a centre hole or on the edge of a bore.
    fn has_seat(&self, end_s_mm: f64) -> bool {
        let shaft = &self.job.shaft;
        let hole = if end_s_mm > 0.0 { shaft.centre_hole_b } else { shaft.centre_hole_a };
        hole.is_some() || shaft.bore_diameter_mm(end_s_mm) > 0.0
    }

    /// Largest diameter of the work between two places of a set-up as it comes in: lands are straight, so their ends
    /// and the stretch's ends decide.
    pub(super) fn largest_between_mm(&self, here: SetupHere<'_>, from_z_mm: f64, to_z_mm: f64) -> f64 {
        let (shaft, setup) = (&self.job.shaft, here.setup);
        let a = setup.s_of_z_mm(shaft, from_z_mm);
        let b = setup.s_of_z_mm(shaft, to_z_mm);
        let (low, high) = (a.min(b).max(0.0), a.max(b).min(shaft.length_mm()));
        let steps = shaft.stock_spans().flat_map(|(from, to, _)| [from, to]);
        let inner: Vec<f64> = steps.filter(|s_mm| (low..=high).contains(s_mm)).collect();
        (inner.into_iter().chain([low, high]))
            .filter_map(|s_mm| self.job.dial_diameter_into_mm(setup.id, s_mm))
            .fold(0.0, f64::max)
    }
}
