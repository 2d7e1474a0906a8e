//! Details of a steady rest.

use super::jaws::{TIPS, gap_rows, stiffness_fold};
use crate::app::Commands;
use crate::app::fields::Fields;
use crate::job::quantity::Kind;
use crate::job::usual::REST_JAW_K_N_PER_MM;
use crate::job::{Edit, Jaw, Job, Rest, SetTo, Setup, Sleeve};

/// Every field of a steady rest.
pub fn rest_ui(fields: &mut Fields<'_>, job: &Job, setup: &Setup, rest: &Rest, out: &mut Commands) {
    let mut new = rest.clone();
    fields.number("Place from the jaw face", &mut new.z_mm, Kind::Length);
    fields.choice("Jaws set to", &mut new.set_to, &[(SetTo::Work, "work as it lies"), (SetTo::Axis, "spindle axis")]);
    fields.choice("Tips", &mut new.tip, TIPS);

    fields.heading("Gap between jaw and work");
    gap_rows(fields, &mut new.jaws);

    fields.heading("Off its setting");
    fields.direction("Across", &mut new.offset_x_mm, "toward you", "away");
    fields.direction("Height", &mut new.offset_y_mm, "down", "up");

    sleeve_rows(fields, job, setup, &mut new);
    fields.part("jaws", |fields| fields.fold("Where its jaws stand", |fields| jaw_places(fields, &mut new.jaws)));
    stiffness_fold(fields, &mut new.jaws, REST_JAW_K_N_PER_MM);
    if fields.changed {
        out.edits.push(Edit::SetRest { setup: setup.id, rest: new });
    }
    fields.ui.add_space(8.0);
    if fields.ui.button("Remove this rest").clicked() {
        out.edits.push(Edit::RemoveRest { setup: setup.id, rest: rest.id });
    }
}

/// The angle of each jaw; jaws are taken away and added here.
fn jaw_places(fields: &mut Fields<'_>, jaws: &mut Vec<Jaw>) {
    let mut taken = None;
    for (index, jaw) in jaws.iter_mut().enumerate() {
        fields.number(&format!("Jaw {} angle", index + 1), &mut jaw.angle_rad, Kind::Angle);
    }
    fields.hint("Seen from the tailstock: 0 points away from you, 90 up.");
    if jaws.len() > 2 {
        fields.ui.horizontal_wrapped(|ui| {
            for index in 0..jaws.len() {
                if ui.button(format!("Take jaw {} away", index + 1)).clicked() {
                    taken = Some(index);
                }
            }
        });
    }
    if let Some(index) = taken {
        jaws.remove(index);
        fields.changed = true;
    }
    if jaws.len() < 4 && fields.ui.button("Add a jaw").clicked() {
        let jaw = jaw_in_the_widest_gap(jaws);
        jaws.push(jaw);
        fields.changed = true;
    }
}

fn sleeve_rows(fields: &mut Fields<'_>, job: &Job, setup: &Setup, rest: &mut Rest) {
    #[derive(Clone, Copy, PartialEq)]
    enum Over {
        Nothing,
        CatHead,
        Bush,
    }
    let mut over = match rest.sleeve {
        Sleeve::None => Over::Nothing,
        Sleeve::CatHead { .. } => Over::CatHead,
        Sleeve::Bush { .. } => Over::Bush,
    };
    let options = [(Over::Nothing, "the work itself"), (Over::CatHead, "a cat head"), (Over::Bush, "a split bush")];
    let (mut diameter_mm, mut width_mm) = match rest.sleeve {
        Sleeve::None => (work_diameter_mm(job, setup, rest.z_mm) + 20.0, 40.0),
        Sleeve::CatHead { diameter_mm, width_mm } | Sleeve::Bush { diameter_mm, width_mm } => (diameter_mm, width_mm),
    };
    fields.heading("What the jaws run on");
    fields.choice("Jaws run on", &mut over, &options);
    if over != Over::Nothing {
        fields.number("Sleeve diameter", &mut diameter_mm, Kind::Diameter);
        fields.number("Sleeve width", &mut width_mm, Kind::Length);
    }
    rest.sleeve = match over {
        Over::Nothing => Sleeve::None,
        Over::CatHead => Sleeve::CatHead { diameter_mm, width_mm },
        Over::Bush => Sleeve::Bush { diameter_mm, width_mm },
    };
}

/// Diameter of the stock at a place in the set-up, the largest where the place is off the work.
fn work_diameter_mm(job: &Job, setup: &Setup, z_mm: f64) -> f64 {
    let s_mm = setup.s_of_z_mm(&job.shaft, z_mm);
    job.shaft
        .stock_spans()
        .find(|(from, to, _)| (*from..=*to).contains(&s_mm))
        .map_or(job.shaft.max_diameter_mm(), |(_, _, land)| land.start_diameter_mm.max(land.end_diameter_mm))
}

/// A jaw like the first, in the middle of the widest angle between two.
fn jaw_in_the_widest_gap(jaws: &[Jaw]) -> Jaw {
    use std::f64::consts::TAU;
    let mut angles: Vec<f64> = jaws.iter().map(|jaw| jaw.angle_rad.rem_euclid(TAU)).collect();
    angles.sort_by(f64::total_cmp);
    let mut widest = (0.0, 0.5 * std::f64::consts::PI);
    for (index, angle) in angles.iter().enumerate() {
        let next = angles.get(index + 1).copied().unwrap_or_else(|| angles[0] + TAU);
        if next - angle > widest.0 {
            widest = (next - angle, (0.5 * (angle + next)).rem_euclid(TAU));
        }
    }
    let like =
        jaws.first().copied().unwrap_or(Jaw { angle_rad: 0.0, gap_mm: 0.0, k_n_per_mm: crate::job::Stiffness::Rigid });
    Jaw { angle_rad: widest.1, gap_mm: 0.0, ..like }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::Stiffness;

    #[test]
    fn a_new_jaw_stands_in_the_middle_of_the_widest_gap() {
        let jaw = |degrees: f64| Jaw { angle_rad: degrees.to_radians(), gap_mm: 0.0, k_n_per_mm: Stiffness::Rigid };
        let added = jaw_in_the_widest_gap(&[jaw(0.0), jaw(90.0)]);
        assert!((added.angle_rad.to_degrees() - 225.0).abs() < 1e-9, "{}", added.angle_rad.to_degrees());
    }
}
