//! The shaft against itself and against the lathe.

use crate::job::materials::MATERIALS;
use crate::job::quantity::{Kind, show};
use crate::job::{MaterialChoice, Tolerance};

use super::{Check, HAIR_MM, Subject};

/// Diameters that differ by less are the same.
const SAME_MM: f64 = 1e-4;

impl Check<'_> {
    pub(super) fn shaft(&mut self) {
        let shaft = &self.job.shaft;
        if let MaterialChoice::Listed(key) = &shaft.material
            && !MATERIALS.iter().any(|listed| listed.key == key)
        {
            self.found(Subject::Shaft, format!("The material \u{201c}{key}\u{201d} is not in the table"));
        }
        self.finished_part();
        self.bores();
        let length_mm = shaft.length_mm();
        for (index, feature) in shaft.features.iter().enumerate() {
            if feature.from_s_mm < -HAIR_MM || feature.to_s_mm > length_mm + HAIR_MM {
                self.found(Subject::Shaft, format!("Feature {} reaches past the shaft", index + 1));
            }
        }
    }

    fn finished_part(&mut self) {
        let shaft = &self.job.shaft;
        let (start, end) = (shaft.wanted_start_s_mm, shaft.wanted_start_s_mm + shaft.wanted_length_mm());
        if !shaft.wanted.is_empty() && (start < -HAIR_MM || end > shaft.length_mm() + HAIR_MM) {
            let text = format!(
                "The finished part reaches past the stock: from {} to {} from end A, in stock of {}",
                self.length(start),
                self.length(end),
                self.length(shaft.length_mm())
            );
            self.found(Subject::Shaft, text);
        }
        for (index, (from, to, wanted)) in shaft.wanted_spans().enumerate() {
            let name = match wanted.name.as_str() {
                "" => format!("The finished part, length {}", index + 1),
                name => format!("The finished part, length {} ({name})", index + 1),
            };
            // Straight on both sides, so the ends of every common stretch decide.
            let too_large = shaft.stock_spans().find_map(|(stock_from, stock_to, land)| {
                let (from, to, start) = (from.max(stock_from), to.min(stock_to), from);
                if to - from < HAIR_MM {
                    return None;
                }
                [from, to].into_iter().find_map(|s_mm| {
                    let wanted_mm = wanted.land.diameter_at_mm(s_mm - start);
                    let stock_mm = land.diameter_at_mm(s_mm - stock_from);
                    (wanted_mm > stock_mm + SAME_MM).then_some((wanted_mm, stock_mm))
                })
            });
            if let Some((wanted_mm, stock_mm)) = too_large {
                let (wanted_mm, stock_mm) = (self.diameter(wanted_mm), self.diameter(stock_mm));
                self.found(Subject::Shaft, format!("{name} is larger than its stock: {wanted_mm} out of {stock_mm}"));
            }
            let tolerance = wanted.tolerance;
            match tolerance {
                Tolerance::Limits { lower_mm, upper_mm } if lower_mm > upper_mm => {
                    self.found(Subject::Shaft, format!("{name}: the tolerance is upside down"));
                }
                Tolerance::H { .. } | Tolerance::Js { .. }
                    if tolerance.limits_mm(wanted.land.start_diameter_mm).is_none() =>
                {
                    let class = tolerance.show(self.job.units);
                    self.found(Subject::Shaft, format!("{name}: no figures are known for {class} at this diameter"));
                }
                _ => {}
            }
        }
    }

    fn bores(&mut self) {
        let shaft = &self.job.shaft;
        for (index, bore) in shaft.bores.iter().enumerate() {
            if bore.to_s_mm > shaft.length_mm() + HAIR_MM {
                self.found(Subject::Shaft, format!("Bore {} reaches past the shaft", index + 1));
            }
            let no_wall = shaft.wanted_spans().enumerate().find(|(_, (from, to, wanted))| {
                let (low, high) = (from.max(bore.from_s_mm), to.min(bore.to_s_mm));
                high - low > HAIR_MM
                    && [low, high]
                        .into_iter()
                        .any(|s_mm| shaft.bore_diameter_mm(s_mm) > wanted.land.diameter_at_mm(s_mm - from) - SAME_MM)
            });
            if let Some((land, _)) = no_wall {
                let text = format!("Bore {} leaves no wall under length {} of the finished part", index + 1, land + 1);
                self.found(Subject::Shaft, text);
            }
        }
    }

    pub(super) fn lathe(&mut self) {
        let lathe = &self.job.lathe;
        for (name, least, most) in [
            ("steady rest", lathe.rest_min_diameter_mm, lathe.rest_max_diameter_mm),
            ("follower rest", lathe.follower_min_diameter_mm, lathe.follower_max_diameter_mm),
        ] {
            if least.value > most.value {
                let text = format!(
                    "The lathe's {name} takes {} at the least and {} at the most: the wrong way round",
                    self.diameter(least.value),
                    self.diameter(most.value)
                );
                self.found(Subject::Lathe, text);
            }
        }
        if lathe.swing_over_cross_slide_mm.value > lathe.swing_over_bed_mm.value {
            self.found(Subject::Lathe, "The lathe's swing over the cross slide is more than that over the bed");
        }
        let largest_mm = self.job.shaft.max_diameter_mm();
        if largest_mm > lathe.swing_over_bed_mm.value {
            let (work, swing) = (self.length(largest_mm), self.length(lathe.swing_over_bed_mm.value));
            self.found(Subject::Shaft, format!("The work is {work} across and does not clear the bed (swing {swing})"));
        }
        let mass_kg = self.job.shaft.stock_mass_kg();
        if mass_kg > lathe.max_work_kg.value {
            let weight = |kg| show(kg, Kind::Mass, self.job.units);
            let text = format!(
                "The work weighs {}, more than the lathe carries ({})",
                weight(mass_kg),
                weight(lathe.max_work_kg.value)
            );
            self.found(Subject::Shaft, text);
        }
    }
}
