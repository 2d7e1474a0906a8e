//! Details of the shaft: material, stock, what is wanted of it, and the features a rest must know of.

use super::lands;
use crate::app::fields::Fields;
use crate::app::{Commands, View};
use crate::job::feature_kinds::FEATURES;
use crate::job::material::OwnMaterial;
use crate::job::materials::MATERIALS;
use crate::job::quantity::Kind;
use crate::job::{BoreLand, CentreHole, Edit, Feature, FeatureKind, Job, MaterialChoice, Reshape, Shaft, Units};

/// How a side of the work is told.
const SIDE_HINT: &str = "Towards which side of the work: degrees from a mark on it, anticlockwise seen from end B.";

/// Every field of the shaft.
pub fn shaft_ui(fields: &mut Fields<'_>, job: &Job, view: &mut View, out: &mut Commands) {
    let mut new = job.shaft.clone();
    material_rows(fields, &mut new);
    let unit = if job.units == Units::Inch { "inches" } else { "mm" };
    fields.heading(&format!("Finished part from end A, in {unit}"));
    let lands = lands::wanted_ui(fields, &new, view);
    fields.number("Begins in the stock at", &mut new.wanted_start_s_mm, Kind::Length);
    fields.heading(&format!("Stock from end A, in {unit}"));
    lands::stock_ui(fields, &mut new, view);
    fields.heading("How straight");
    fields.number("Bow of the bar", &mut new.bow_tir_mm, Kind::Error);
    fields.hint("Total indicator reading at mid-length. It turns with the work.");
    if fields.side("Bent towards", new.bow_tir_mm, &mut new.bow_at_rad) {
        fields.hint(SIDE_HINT);
    }
    bore_rows(fields, &mut new);
    feature_rows(fields, &mut new);
    centre_hole_rows(fields, &mut new);
    if fields.changed {
        out.edits.push(if new.wanted_start_s_mm.to_bits() == job.shaft.wanted_start_s_mm.to_bits() {
            Edit::SetShaft(new)
        } else {
            Edit::Reshape(Reshape::Typed(Box::new(new)))
        });
    }
    out.edits.extend(lands);
}

fn material_rows(fields: &mut Fields<'_>, shaft: &mut Shaft) {
    const OWN: usize = usize::MAX;
    let listed = |key: &str| MATERIALS.iter().position(|entry| entry.key == key).unwrap_or(0);
    let mut choice = match &shaft.material {
        MaterialChoice::Listed(key) => listed(key),
        MaterialChoice::Own(_) => OWN,
    };
    let mut options: Vec<(usize, &str)> = MATERIALS.iter().enumerate().map(|(i, entry)| (i, entry.name)).collect();
    options.push((OWN, "own figures"));
    if fields.choice("Material", &mut choice, &options) {
        shaft.material = match MATERIALS.get(choice) {
            Some(entry) => MaterialChoice::Listed(entry.key.to_owned()),
            None => MaterialChoice::Own(own_like(&shaft.material)),
        };
    }
    if let MaterialChoice::Own(own) = &mut shaft.material {
        fields.words("Its name", &mut own.name);
        fields.number("Modulus of elasticity", &mut own.e_mpa, Kind::Pressure);
        fields.number("Poisson's ratio", &mut own.poisson_ratio, Kind::Ratio);
        fields.number("Density, kg/m³", &mut own.density_kg_per_m3, Kind::Ratio);
        let mut growth_um_per_m_k = own.growth_per_k * 1e6;
        if fields.number("Growth, µm per m and K", &mut growth_um_per_m_k, Kind::Ratio) {
            own.growth_per_k = growth_um_per_m_k * 1e-6;
        }
        fields.number("Cutting force kc1.1", &mut own.kc11_mpa, Kind::Pressure);
        fields.number("Its exponent mc", &mut own.mc, Kind::Ratio);
        fields.number("Thrust against main force", &mut own.thrust_ratio, Kind::Ratio);
    }
}

/// The figures of a material as the user's own, to start from.
fn own_like(material: &MaterialChoice) -> OwnMaterial {
    let figures = material.resolve();
    OwnMaterial {
        name: figures.name.clone(),
        e_mpa: figures.e_mpa.value,
        poisson_ratio: figures.poisson_ratio.value,
        density_kg_per_m3: figures.density_kg_per_m3.value,
        growth_per_k: figures.growth_per_k.value,
        kc11_mpa: figures.kc11_mpa.value,
        mc: figures.mc.value,
        thrust_ratio: 0.5,
    }
}

fn bore_rows(fields: &mut Fields<'_>, shaft: &mut Shaft) {
    fields.heading("Bores");
    let mut taken = None;
    for (index, bore) in shaft.bores.iter_mut().enumerate() {
        let number = index + 1;
        fields.part(("bore", index), |fields| {
            fields.number(&format!("Bore {number} from end A"), &mut bore.from_s_mm, Kind::Length);
            fields.number(&format!("Bore {number} to"), &mut bore.to_s_mm, Kind::Length);
            let straight = bore.start_diameter_mm.to_bits() == bore.end_diameter_mm.to_bits();
            if fields.number(&format!("Bore {number} diameter"), &mut bore.start_diameter_mm, Kind::Diameter)
                && straight
            {
                bore.end_diameter_mm = bore.start_diameter_mm;
            }
            fields.number(&format!("Bore {number} diameter at its end"), &mut bore.end_diameter_mm, Kind::Diameter);
            if fields.ui.button(format!("Take bore {number} away")).clicked() {
                taken = Some(index);
            }
        });
    }
    if let Some(index) = taken {
        shaft.bores.remove(index);
        fields.changed = true;
    }
    if fields.ui.button("Add a bore").clicked() {
        let from_s_mm = shaft.bores.last().map_or(0.0, |bore| bore.to_s_mm).min(0.9 * shaft.length_mm());
        let diameter_mm = (0.3 * smallest_diameter_mm(shaft)).round().max(1.0);
        shaft.bores.push(BoreLand {
            from_s_mm,
            to_s_mm: shaft.length_mm(),
            start_diameter_mm: diameter_mm,
            end_diameter_mm: diameter_mm,
        });
        fields.changed = true;
    }
}

fn smallest_diameter_mm(shaft: &Shaft) -> f64 {
    shaft.stock.iter().map(|land| land.start_diameter_mm.min(land.end_diameter_mm)).fold(f64::INFINITY, f64::min)
}

fn feature_rows(fields: &mut Fields<'_>, shaft: &mut Shaft) {
    fields.heading("Features a rest must know of");
    let options: Vec<(usize, &str)> = FEATURES.iter().enumerate().map(|(index, (words, _))| (index, *words)).collect();
    let mut taken = None;
    for (index, feature) in shaft.features.iter_mut().enumerate() {
        let number = index + 1;
        fields.part(("feature", index), |fields| {
            let mut kind = feature.kind.index();
            if fields.choice(&format!("Feature {number}"), &mut kind, &options)
                && let Some((_, usual)) = FEATURES.get(kind)
            {
                feature.kind = *usual;
            }
            fields.number(&format!("Feature {number} from end A"), &mut feature.from_s_mm, Kind::Length);
            fields.number(&format!("Feature {number} to"), &mut feature.to_s_mm, Kind::Length);
            match &mut feature.kind {
                FeatureKind::Thread { pitch_mm } => {
                    fields.number("Pitch", pitch_mm, Kind::Length);
                }
                FeatureKind::Keyway { width_mm, depth_mm } => {
                    fields.number("Keyway width", width_mm, Kind::Length);
                    fields.number("Keyway depth", depth_mm, Kind::Length);
                }
                FeatureKind::CrossHole { diameter_mm } => {
                    fields.number("Hole diameter", diameter_mm, Kind::Diameter);
                }
                FeatureKind::Groove { depth_mm } => {
                    fields.number("Groove depth", depth_mm, Kind::Length);
                }
                FeatureKind::Flat | FeatureKind::Spline | FeatureKind::Weld | FeatureKind::TrueSpot => {}
            }
            if fields.ui.button(format!("Take feature {number} away")).clicked() {
                taken = Some(index);
            }
        });
    }
    if let Some(index) = taken {
        shaft.features.remove(index);
        fields.changed = true;
    }
    if fields.ui.button("Add a feature").clicked() {
        let middle_mm = (0.5 * shaft.length_mm()).round();
        shaft.features.push(Feature {
            kind: FeatureKind::TrueSpot,
            from_s_mm: middle_mm,
            to_s_mm: (middle_mm + 30.0).min(shaft.length_mm()),
        });
        fields.changed = true;
    }
}

fn centre_hole_rows(fields: &mut Fields<'_>, shaft: &mut Shaft) {
    fields.heading("Centre holes");
    let (mut any, mut any_side) = (false, false);
    for (end, hole) in [("A", &mut shaft.centre_hole_a), ("B", &mut shaft.centre_hole_b)] {
        let mut there = hole.is_some();
        if fields.check(&format!("Centre hole in end {end}"), &mut there) {
            *hole = there.then_some(CentreHole::in_the_middle(4.0));
        }
        if let Some(hole) = hole {
            any = true;
            fields.number(&format!("Pilot diameter, end {end}"), &mut hole.pilot_mm, Kind::Diameter);
            fields.number(&format!("Off the middle, end {end}"), &mut hole.off_tir_mm, Kind::Error);
            any_side |= fields.side(&format!("Off towards, end {end}"), hole.off_tir_mm, &mut hole.off_at_rad);
        }
    }
    if any {
        fields.hint("Off the middle: how far that end runs out when it turns on the hole, total indicator reading.");
    }
    if any_side {
        fields.hint(SIDE_HINT);
    }
}
