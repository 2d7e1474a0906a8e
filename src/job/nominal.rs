//! The work as the dials say it is: what stock and passes leave if nothing springs.
//!
//! Enough to say whether a rest, a chuck or a drawing fits; what the cut really leaves is the study's business.

use super::{Cut, Job, Pass, PassId, PassKind, Setup, SetupId, Shaft};

impl Shaft {
    /// Weight of the stock, bores taken away (kg).
    #[must_use]
    pub fn stock_mass_kg(&self) -> f64 {
        let frustum_mm3 = |length_mm: f64, a_mm: f64, b_mm: f64| {
            std::f64::consts::PI / 12.0 * length_mm * (a_mm * a_mm + a_mm * b_mm + b_mm * b_mm)
        };
        let solid: f64 = (self.stock.iter())
            .map(|land| frustum_mm3(land.length_mm, land.start_diameter_mm, land.end_diameter_mm))
            .sum();
        let bored: f64 = (self.bores.iter())
            .map(|bore| frustum_mm3(bore.to_s_mm - bore.from_s_mm, bore.start_diameter_mm, bore.end_diameter_mm))
            .sum();
        (solid - bored) * self.material.resolve().density_kg_per_m3.value * 1e-9
    }
}

impl Job {
    /// Diameter the dials stand for at a place along the shaft, when the work comes into `setup` and the passes
    /// before `before` (all of them, where it is `None`) are done; outside the shaft nothing.
    #[must_use]
    pub fn dial_diameter_mm(&self, setup: SetupId, before: Option<PassId>, s_mm: f64) -> Option<f64> {
        let mut diameter_mm = self.shaft.stock_diameter_mm(s_mm)?;
        for one in &self.setups {
            for pass in &one.passes {
                if one.id == setup && before == Some(pass.id) {
                    return Some(diameter_mm);
                }
                diameter_mm = self.dial_after_mm(one, pass, s_mm, diameter_mm);
            }
            if one.id == setup {
                break;
            }
        }
        Some(diameter_mm)
    }

    /// Diameter the dials stand for when the work comes into `setup`.
    #[must_use]
    pub fn dial_diameter_into_mm(&self, setup: SetupId, s_mm: f64) -> Option<f64> {
        let first = self.setup(setup)?.passes.first();
        self.dial_diameter_mm(setup, first.map(|pass| pass.id), s_mm)
    }

    /// Diameter the dial stands for at one place after one pass that found `diameter_mm` there.
    #[must_use]
    pub fn dial_after_mm(&self, setup: &Setup, pass: &Pass, s_mm: f64, diameter_mm: f64) -> f64 {
        let (from_z_mm, to_z_mm) = pass.span_mm();
        let z_mm = setup.z_of_s_mm(&self.shaft, s_mm);
        let shapes = matches!(pass.kind, PassKind::Turn | PassKind::Groove);
        if !shapes || !(from_z_mm..=to_z_mm).contains(&z_mm) {
            return diameter_mm;
        }
        match pass.cut {
            Cut::Depth { on_diameter_mm } => diameter_mm - on_diameter_mm,
            Cut::ToDiameter { diameter_mm: to_mm } => diameter_mm.min(to_mm),
            Cut::ToDrawing { leave_on_diameter_mm } => match self.shaft.wanted_diameter_mm(s_mm) {
                Some(wanted_mm) => diameter_mm.min(wanted_mm + leave_on_diameter_mm),
                None => diameter_mm,
            },
        }
    }
}
