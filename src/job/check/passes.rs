//! Passes against the work, the drawing and the lathe.

use crate::job::{Cut, DriveKind, Pass, PassKind};

use super::{Check, HAIR_MM, SetupHere, Subject};

/// A pass may begin in the air and run out into the air so far beyond the work.
const RUN_OUT_MM: f64 = 20.0;

impl Check<'_> {
    pub(super) fn passes(&mut self, here: SetupHere<'_>) {
        for (index, pass) in here.setup.passes.iter().enumerate() {
            let about = Subject::Pass(here.setup.id, pass.id);
            let name = format!("{}, pass {}", here.name(), index + 1);
            let along = matches!(pass.kind, PassKind::Turn | PassKind::Spring | PassKind::Thread);
            let (from_z_mm, to_z_mm) = pass.span_mm();
            if along && to_z_mm - from_z_mm < HAIR_MM {
                self.found(about, format!("{name} has no length"));
            } else {
                self.place_of_pass(here, pass, &name);
            }
            if pass.kind == PassKind::Spring && !follows_a_cut(&here.setup.passes[..index], pass) {
                self.found(about, format!("{name} is a spring pass, but nothing was cut there before it"));
            }
            self.speed_of_pass(here, pass, &name);
            if pass.kind == PassKind::Turn {
                self.cut_of_pass(here, pass, &name);
            }
        }
    }

    fn place_of_pass(&mut self, here: SetupHere<'_>, pass: &Pass, name: &str) {
        let setup = here.setup;
        let about = Subject::Pass(setup.id, pass.id);
        let (from_z_mm, to_z_mm) = pass.span_mm();
        let (start_z_mm, end_z_mm) = (setup.work_start_z_mm, setup.work_end_z_mm(&self.job.shaft));
        let (from, to) = (self.length(from_z_mm), self.length(to_z_mm));
        if to_z_mm < start_z_mm - HAIR_MM || from_z_mm > end_z_mm + HAIR_MM {
            self.found(about, format!("{name}, from {from} to {to}, does not meet the work"));
        } else if here.in_chuck() && from_z_mm < -HAIR_MM {
            self.found(about, format!("{name} runs into the chuck"));
        } else if !here.in_chuck() && from_z_mm < start_z_mm - RUN_OUT_MM {
            self.found(about, format!("{name} runs into the headstock centre"));
        } else if to_z_mm > end_z_mm + RUN_OUT_MM {
            let end = self.length(end_z_mm);
            self.found(about, format!("{name} reaches to {to}, but the work ends at {end}"));
        }
    }

    fn speed_of_pass(&mut self, here: SetupHere<'_>, pass: &Pass, name: &str) {
        let stamped_rpm = self.job.lathe.chuck_max_rpm.value;
        let jaws = matches!(here.setup.drive.kind, DriveKind::ThreeJaw | DriveKind::FourJaw | DriveKind::FacePlate);
        if jaws && pass.speed_rpm > stamped_rpm {
            let about = Subject::Pass(here.setup.id, pass.id);
            let rpm = pass.speed_rpm;
            self.found(about, format!("{name} turns at {rpm:.0} rpm; the chuck is stamped {stamped_rpm:.0} rpm"));
        }
    }

    /// What a turning pass leaves, by the dial, where the shape of the work or the drawing changes.
    fn cut_of_pass(&mut self, here: SetupHere<'_>, pass: &Pass, name: &str) {
        let (setup, shaft) = (here.setup, &self.job.shaft);
        let about = Subject::Pass(setup.id, pass.id);
        let (from_z_mm, to_z_mm) = pass.span_mm();
        let (a, b) = (setup.s_of_z_mm(shaft, from_z_mm), setup.s_of_z_mm(shaft, to_z_mm));
        let (low, high) = (a.min(b).max(0.0), a.max(b).min(shaft.length_mm()));
        if high - low < HAIR_MM {
            return;
        }
        let across_mm = self.largest_between_mm(here, from_z_mm, to_z_mm);
        let swing_mm = self.job.lathe.swing_over_cross_slide_mm.value;
        if across_mm > swing_mm {
            let (across, swing) = (self.length(across_mm), self.length(swing_mm));
            let text = format!("{name}: the work is {across} across and does not clear the cross slide ({swing})");
            self.found(about, text);
        }
        if matches!(pass.cut, Cut::ToDrawing { .. }) {
            let meets = shaft.wanted_spans().any(|(from, to, _)| to.min(high) - from.max(low) > HAIR_MM);
            if !meets {
                self.found(about, format!("{name} follows the drawing, but nothing is drawn there"));
            }
        }
        let steps = shaft.stock_spans().flat_map(|(from, to, _)| [from, to]);
        let drawn = shaft.wanted_spans().flat_map(|(from, to, _)| [from, to]);
        let bores = shaft.bores.iter().flat_map(|bore| [bore.from_s_mm, bore.to_s_mm]);
        let inner: Vec<f64> = steps.chain(drawn).chain(bores).filter(|s_mm| (low..=high).contains(s_mm)).collect();
        let nothing_left = inner.into_iter().chain([low, high, f64::midpoint(low, high)]).any(|s_mm| {
            let before_mm = self.job.dial_diameter_mm(setup.id, Some(pass.id), s_mm).unwrap_or(0.0);
            self.job.dial_after_mm(setup, pass, s_mm, before_mm) <= shaft.bore_diameter_mm(s_mm)
        });
        if nothing_left {
            self.found(about, format!("{name} cuts so deep that nothing is left of the work"));
        }
    }
}

/// Whether a pass before it that a spring pass can repeat, in the same holding, cut some of the same stretch.
fn follows_a_cut(before: &[Pass], spring: &Pass) -> bool {
    let (from_z_mm, to_z_mm) = spring.span_mm();
    before.iter().any(|pass| {
        let (from, to) = pass.span_mm();
        let along = matches!(pass.kind, PassKind::Turn | PassKind::Thread | PassKind::Bore | PassKind::Groove);
        along && to.min(to_z_mm) - from.max(from_z_mm) > HAIR_MM
    })
}
