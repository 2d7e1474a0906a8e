//! Heights and lengths of the drawn lathe, from the numbers of its document where there are any, otherwise in
//! proportion to its centre height. Nothing computed rests on the proportions that are only drawn.

use crate::job::{DriveKind, Lathe};

/// The drawn lathe; all in the bench picture's frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proportions {
    /// Half the swing: the axis above the bed.
    pub centre_height_mm: f64,
    /// Top of the bed ways, below the axis.
    pub bed_top_mm: f64,
    pub bed_bottom_mm: f64,
    pub bed_left_mm: f64,
    pub bed_right_mm: f64,
    pub chuck_radius_mm: f64,
    /// Front of the chuck's body, behind the jaws; negative.
    pub chuck_front_mm: f64,
    /// Back of the chuck's body.
    pub chuck_back_mm: f64,
    /// Front wall of the headstock.
    pub headstock_right_mm: f64,
    pub headstock_left_mm: f64,
    pub headstock_top_mm: f64,
    /// Top of the saddle, to both sides of the cross slide.
    pub saddle_top_mm: f64,
    /// Top of the cross slide.
    pub slide_top_mm: f64,
    /// Inside of a steady rest's frame, from the axis.
    pub rest_inner_mm: f64,
    /// Outside of it.
    pub rest_outer_mm: f64,
}

impl Proportions {
    /// The proportions of a lathe with this drive on its spindle.
    #[must_use]
    pub fn of(lathe: &Lathe, drive: DriveKind) -> Self {
        let h = (lathe.swing_over_bed_mm.value / 2.0).max(1.0);
        let chuck_radius_mm = (lathe.chuck_diameter_mm.value / 2.0).clamp(0.1 * h, 0.97 * h);
        let jaw_depth = lathe.jaw_depth_mm.value.max(1.0);
        let (chuck_front_mm, chuck_length) = match drive {
            DriveKind::ThreeJaw | DriveKind::FourJaw => (-jaw_depth, 0.75 * chuck_radius_mm),
            DriveKind::Collet => (-0.12 * chuck_radius_mm, 0.75 * chuck_radius_mm),
            DriveKind::FacePlate => (-0.30 * chuck_radius_mm, 0.25 * chuck_radius_mm),
            DriveKind::CentreAndDog => (-0.55 * chuck_radius_mm, 0.22 * chuck_radius_mm),
        };
        let chuck_back_mm = chuck_front_mm - chuck_length;
        let headstock_right_mm = chuck_back_mm - 0.18 * chuck_radius_mm;
        let headstock_left_mm = (-lathe.headstock_length_mm.value).min(headstock_right_mm - 0.5 * h);
        let slide_top_mm = -(lathe.swing_over_cross_slide_mm.value / 2.0).clamp(0.15 * h, 0.92 * h);
        let rest_inner_mm = (lathe.rest_max_diameter_mm.value / 2.0).clamp(0.2 * h, 0.80 * h);
        let bed_right_mm = lathe.between_centres_mm.value.max(h)
            + lathe.centre_length_mm.value
            + 1.1 * lathe.tailstock_base_mm.value.max(0.5 * h);
        Self {
            centre_height_mm: h,
            bed_top_mm: -h,
            bed_bottom_mm: -1.30 * h,
            bed_left_mm: headstock_left_mm,
            bed_right_mm,
            chuck_radius_mm,
            chuck_front_mm,
            chuck_back_mm,
            headstock_right_mm,
            headstock_left_mm,
            headstock_top_mm: 0.72 * h,
            saddle_top_mm: -h + 0.45 * (slide_top_mm + h),
            slide_top_mm,
            rest_inner_mm,
            rest_outer_mm: (rest_inner_mm + 0.16 * h).min(0.97 * h),
        }
    }
}
