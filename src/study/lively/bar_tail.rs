//! The free tail of a bar behind the headstock, as a perfect cantilever from the spindle's rear end.
//!
//! Limit: a real tail is bent and rattles in the bore, so it whips far earlier than this says; the answer is to support
//! it, never a speed.

use crate::job::{DriveKind, Job, Setup};
use crate::mechanics::beam::{Elastic, Element, Round};
use crate::mechanics::chain::Work;
use crate::mechanics::deflection::bent_line;
use crate::mechanics::mass::element_mass;
use crate::mechanics::vibration::modes;
use crate::mechanics::walk::NodeSpring;
use crate::mechanics::{GRAVITY_N_PER_KG, RIGID_N_PER_MM, RIGID_NMM_PER_RAD};

/// Elements in the tail, and more for its steps.
const N_ELEMENTS: usize = 40;

/// A bar standing out behind the spindle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BarTail {
    pub length_mm: f64,
    /// How far its end hangs down standing still.
    pub sag_mm: f64,
    /// First whip speed of a perfectly straight tail, held perfectly.
    pub first_whip_rpm: f64,
}

/// The tail of the stock behind the spindle in a set-up; `None` where none stands out.
#[must_use]
pub fn bar_tail(job: &Job, setup: &Setup) -> Option<BarTail> {
    if setup.drive.kind == DriveKind::CentreAndDog {
        return None;
    }
    let start_mm = setup.work_start_z_mm;
    let rear_mm = (-job.lathe.headstock_length_mm.value).min(setup.work_end_z_mm(&job.shaft));
    let length_mm = rear_mm - start_mm;
    if length_mm <= 1e-3 {
        return None;
    }
    // Nodes from the tail's free end to the spindle's rear end.
    let even = (0..=N_ELEMENTS).map(|step| start_mm + length_mm * step as f64 / N_ELEMENTS as f64);
    let shaft = &job.shaft;
    let ends_s_mm = shaft.stock_spans().flat_map(|(from, to, _)| [from, to]);
    let bores_s_mm = shaft.bores.iter().flat_map(|bore| [bore.from_s_mm, bore.to_s_mm]);
    let steps = ends_s_mm.chain(bores_s_mm).map(|s_mm| setup.z_of_s_mm(shaft, s_mm));
    let mut nodes_mm: Vec<f64> = even.chain(steps.filter(|z_mm| *z_mm > start_mm && *z_mm < rear_mm)).collect();
    nodes_mm.sort_by(f64::total_cmp);
    nodes_mm.dedup_by(|later, earlier| *later - *earlier < 1e-6);

    let material = job.material();
    let weight_n_per_mm3 = material.density_kg_per_m3.value * GRAVITY_N_PER_KG * 1e-9;
    let elastic = Elastic::new(material.e_mpa.value, material.poisson_ratio.value, weight_n_per_mm3);
    let round = |pair: &[f64]| {
        // Just inside the ends, where a step has one diameter only.
        let inside_mm = 1e-4 * (pair[1] - pair[0]);
        let at = |z_mm: f64| {
            let s_mm = setup.s_of_z_mm(shaft, z_mm);
            let outside_mm = shaft.stock_diameter_mm(s_mm).unwrap_or(1.0);
            (outside_mm, shaft.bore_diameter_mm(s_mm).min(0.99 * outside_mm))
        };
        let ((outside0_mm, bore0_mm), (outside1_mm, bore1_mm)) = (at(pair[0] + inside_mm), at(pair[1] - inside_mm));
        Round { outside0_mm, outside1_mm, bore0_mm, bore1_mm }
    };
    let pieces: Vec<(f64, Round)> = nodes_mm.windows(2).map(|pair| (pair[1] - pair[0], round(pair))).collect();
    let elements: Vec<Element> =
        pieces.iter().map(|(length_mm, round)| Element::new(*length_mm, round, &elastic, 0.0)).collect();
    let masses: Vec<_> = pieces.iter().map(|(length_mm, round)| element_mass(*length_mm, round, &elastic)).collect();
    let clamp =
        NodeSpring { radial_n_per_mm: RIGID_N_PER_MM, turning_nmm_per_rad: RIGID_NMM_PER_RAD, anchor_mm: [0.0; 2] };
    let springs = [(elements.len(), clamp)];
    let bent = bent_line(&elements, &springs, &[])?;
    let work = Work { elements: &elements, masses: &masses, node_masses: &[], springs: &springs, jaws: &[] };
    let first = modes(&work, 1)?;
    Some(BarTail { length_mm, sag_mm: -bent.first()?.move_mm[1], first_whip_rpm: first.first()?.whip_rpm() })
}
