//! Details of a steady rest.

use super::jaws::{gap_rows, stiffness_fold, tip_rows};
use super::standing::{bearing_rows, standing_fold, standing_title};
use crate::app::fields::Fields;
use crate::app::{Commands, Results};
use crate::job::quantity::{self, Kind};
use crate::job::usual::REST_JAW_K_N_PER_MM;
use crate::job::{Edit, Jaw, Job, Rest, SetTo, Setup, Sleeve, Spot, Units};
use crate::study::outline::{Outline, Side};

/// Every field of a steady rest.
pub fn rest_ui(fields: &mut Fields<'_>, job: &Job, setup: &Setup, rest: &Rest, results: &Results, out: &mut Commands) {
    let mut new = rest.clone();
    fields.number("Place from the jaw face", &mut new.z_mm, Kind::Length);
    fields.choice("Jaws set to", &mut new.set_to, &[(SetTo::Work, "work as it lies"), (SetTo::Axis, "spindle axis")]);
    let runs_on_mm = runs_on_diameter_mm(job, setup, &new, results);
    tip_rows(fields, &mut new.tip, &mut new.tip_bored_mm, &job.lathe, runs_on_mm);

    fields.heading("Gap between jaw and work");
    gap_rows(fields, &mut new.jaws);

    fields.heading("Off its setting");
    fields.direction("Across", &mut new.offset_x_mm, "toward you", "away");
    fields.direction("Height", &mut new.offset_y_mm, "down", "up");

    sleeve_rows(fields, job, setup, &mut new);
    bearing_rows(fields, setup, rest, results, out);
    if let Some(reach) = results.reach(rest.id) {
        standing_fold(fields, job, setup, reach, standing_title(reach, rest.z_mm));
    }
    spot_fold(fields, &mut new);
    fields.fold("jaws", "Where its jaws stand", |fields| jaw_places(fields, &mut new.jaws));
    stiffness_fold(fields, &mut new.jaws, REST_JAW_K_N_PER_MM);
    if fields.changed {
        out.edits.push(Edit::SetRest { setup: setup.id, rest: new });
    }
    fields.ui.add_space(8.0);
    if fields.ui.button("Remove this rest").clicked() {
        out.edits.push(Edit::RemoveRest { setup: setup.id, rest: rest.id });
    }
}

/// How round the work, or the sleeve on it, is under the jaws; folded away, since it is seldom known.
fn spot_fold(fields: &mut Fields<'_>, rest: &mut Rest) {
    let title = spot_title(&rest.spot, fields.units);
    let sleeved = rest.sleeve != Sleeve::None;
    fields.fold("spot", &title, |fields| {
        fields.number("High to low, on radius", &mut rest.spot.height_mm, Kind::Error);
        if rest.spot.height_mm != 0.0 {
            fields.count("Lobes around it", &mut rest.spot.n_lobes);
        }
        let what = if sleeved { "the sleeve" } else { "the work" };
        fields.hint(&format!(
            "How far the highest place of {what} under the jaws stands above the lowest. An oval has 2 lobes; 3 or 5 \
             hide from a micrometer."
        ));
    });
}

/// What the fold says while it is shut.
fn spot_title(spot: &Spot, units: Units) -> String {
    let title = "How round the spot is";
    if spot.height_mm == 0.0 {
        return title.to_owned();
    }
    format!("{title} ({})", quantity::show(spot.height_mm, Kind::Error, units))
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

/// Diameter the jaws run on: the sleeve's, else the work's as the dial left it when it comes into the set-up.
fn runs_on_diameter_mm(job: &Job, setup: &Setup, rest: &Rest, results: &Results) -> f64 {
    match rest.sleeve {
        Sleeve::CatHead { diameter_mm, .. } | Sleeve::Bush { diameter_mm, .. } => return diameter_mm,
        Sleeve::None => {}
    }
    let found = results.result.setup(setup.id).and_then(|computed| {
        let outline = Outline::of(&computed.before, &job.shaft, setup);
        outline.at(rest.z_mm, Side::Headstock).or_else(|| outline.at(rest.z_mm, Side::Tailstock))
    });
    found.map_or_else(|| work_diameter_mm(job, setup, rest.z_mm), |found| found.dial_mm)
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
