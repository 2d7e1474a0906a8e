//! What the drawing wants besides lengths of outside: threads, grooves, and ends that are to be faced or parted off.

use super::SAME_MM;
use crate::job::{Cut, FeatureKind, Job, PassId, PassKind, SetupId, Shaft};
use crate::study::results::{Span, Surface};
use crate::study::thread::full_depth_mm;

/// A facing or parting cut so near the end of the finished part is the cut of that end. Common practice, no source.
const AT_THE_END_MM: f64 = 0.5;
/// A thread so much too shallow, on diameter, is still cut: a dial's division. Common practice, no source.
const SHALLOW_MM: f64 = 0.02;

/// A thread or groove of the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct FeatureCover {
    /// Its place in the shaft's list.
    pub feature: usize,
    /// Where it is not cut, or not deep enough; empty where all is done.
    pub gaps: Vec<(f64, f64)>,
}

/// An end of the finished part beyond which there is stock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndCover {
    pub s_mm: f64,
    /// Length of stock beyond it.
    pub spare_mm: f64,
    /// The facing or parting pass that takes it off.
    pub by: Option<(SetupId, PassId)>,
}

/// A groove of the drawing.
pub struct Groove {
    pub from_s_mm: f64,
    pub to_s_mm: f64,
    pub depth_on_diameter_mm: f64,
}

/// The grooves of the drawing.
pub fn grooves(shaft: &Shaft) -> Vec<Groove> {
    (shaft.features.iter())
        .filter_map(|feature| match feature.kind {
            FeatureKind::Groove { depth_mm } => Some(Groove {
                from_s_mm: feature.from_s_mm,
                to_s_mm: feature.to_s_mm,
                depth_on_diameter_mm: 2.0 * depth_mm,
            }),
            _ => None,
        })
        .collect()
}

/// Threads and grooves, and where they are not cut.
pub fn features(shaft: &Shaft, now: &Surface) -> Vec<FeatureCover> {
    (shaft.features.iter().enumerate())
        .filter_map(|(index, feature)| {
            let (spans, below_mm): (&[Span], f64) = match feature.kind {
                FeatureKind::Thread { pitch_mm } => (&now.roots, 2.0 * full_depth_mm(pitch_mm)),
                FeatureKind::Groove { depth_mm } => (&now.spans, 2.0 * depth_mm),
                _ => return None,
            };
            // On work that is not drawn there the crest is what is there.
            let crest_mm =
                |s_mm: f64| shaft.wanted_diameter_mm(s_mm).or_else(|| shaft.stock_diameter_mm(s_mm)).unwrap_or(0.0);
            let is_deep = |span: &&Span| {
                let middle_mm = f64::midpoint(span.from_s_mm, span.to_s_mm);
                let (dial_mm, diameter_mm) = super::sizes_mm(span, middle_mm);
                dial_mm.min(diameter_mm) <= crest_mm(middle_mm) - below_mm + SHALLOW_MM
            };
            let deep: Vec<(f64, f64)> =
                spans.iter().filter(is_deep).map(|span| (span.from_s_mm, span.to_s_mm)).collect();
            Some(FeatureCover { feature: index, gaps: gaps(feature.from_s_mm, feature.to_s_mm, &deep) })
        })
        .collect()
}

/// What is left of a stretch once the rising `covered` is taken out of it.
fn gaps(from_mm: f64, to_mm: f64, covered: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut gaps = Vec::new();
    let mut reached_mm = from_mm;
    for (low_mm, high_mm) in covered.iter().filter(|(low_mm, high_mm)| *high_mm > from_mm && *low_mm < to_mm) {
        if *low_mm > reached_mm + SAME_MM {
            gaps.push((reached_mm, *low_mm));
        }
        reached_mm = reached_mm.max(*high_mm);
    }
    if reached_mm < to_mm - SAME_MM {
        gaps.push((reached_mm, to_mm));
    }
    gaps
}

/// The two ends of the finished part, where stock stands beyond them.
pub fn ends(job: &Job) -> [Option<EndCover>; 2] {
    let shaft = &job.shaft;
    if shaft.wanted.is_empty() {
        return [None; 2];
    }
    let (start_mm, length_mm) = (shaft.wanted_start_s_mm, shaft.length_mm());
    let end_mm = start_mm + shaft.wanted_length_mm();
    [(start_mm, start_mm), (end_mm, length_mm - end_mm)].map(|(s_mm, spare_mm)| {
        (spare_mm > SAME_MM).then(|| EndCover { s_mm, spare_mm, by: cut_off_by(job, s_mm, spare_mm) })
    })
}

/// The pass that makes an end of the finished part: one that faces or parts there, or the last of those that together
/// face the spare stock away.
fn cut_off_by(job: &Job, s_mm: f64, spare_mm: f64) -> Option<(SetupId, PassId)> {
    let mut by = None;
    let mut faced_mm = 0.0;
    for (setup, pass) in job.setups.iter().flat_map(|setup| setup.passes.iter().map(move |pass| (setup, pass))) {
        let z_mm = setup.z_of_s_mm(&job.shaft, s_mm);
        let (low_mm, high_mm) = pass.span_mm();
        let makes = match pass.kind {
            PassKind::Face => {
                let from_end_mm = (pass.to_z_mm - z_mm).abs();
                if let Cut::Depth { on_diameter_mm: deep_mm } = pass.cut
                    && from_end_mm <= spare_mm + AT_THE_END_MM
                {
                    faced_mm += deep_mm;
                }
                from_end_mm <= AT_THE_END_MM || faced_mm >= spare_mm - AT_THE_END_MM
            }
            PassKind::Part => (low_mm - AT_THE_END_MM..=high_mm + AT_THE_END_MM).contains(&z_mm),
            _ => false,
        };
        if makes {
            by = Some((setup.id, pass.id));
        }
    }
    by
}
