//! From the document to what format 3 shares with format 2. Every field is taken apart by name, so that a new one cannot be forgotten.

use crate::job;

use super::{v1, v2};

/// The items of a list, each turned over.
pub(super) fn all<'a, T, U: From<&'a T>>(held: &'a [T]) -> Vec<U> {
    held.iter().map(Into::into).collect()
}

impl From<&job::Reading> for v1::Reading {
    fn from(held: &job::Reading) -> Self {
        let job::Reading { pass, z_mm, diameter_mm, warmer_by_k } = held;
        Self { pass: *pass, z_mm: *z_mm, diameter_mm: *diameter_mm, warmer_by_k: *warmer_by_k }
    }
}

impl From<&job::TitleBlock> for v2::TitleBlock {
    fn from(held: &job::TitleBlock) -> Self {
        let job::TitleBlock { part, owner, date } = held.clone();
        Self { part, owner, date }
    }
}

impl From<&job::Shaft> for v2::Shaft {
    fn from(held: &job::Shaft) -> Self {
        let job::Shaft {
            material,
            stock,
            bores,
            wanted_start_s_mm,
            wanted,
            features,
            centre_hole_a,
            centre_hole_b,
            bow_tir_mm,
            bow_at_rad,
        } = held;
        Self {
            material: material.into(),
            stock: all(stock),
            bores: all(bores),
            wanted_start_s_mm: *wanted_start_s_mm,
            wanted: all(wanted),
            features: all(features),
            centre_hole_a: centre_hole_a.as_ref().map(Into::into),
            centre_hole_b: centre_hole_b.as_ref().map(Into::into),
            bow_tir_mm: *bow_tir_mm,
            bow_at_rad: *bow_at_rad,
        }
    }
}

impl From<&job::material::OwnMaterial> for v1::OwnMaterial {
    fn from(held: &job::material::OwnMaterial) -> Self {
        let job::material::OwnMaterial {
            name,
            e_mpa,
            poisson_ratio,
            density_kg_per_m3,
            growth_per_k,
            kc11_mpa,
            mc,
            thrust_ratio,
        } = held;
        Self {
            name: name.clone(),
            e_mpa: *e_mpa,
            poisson_ratio: *poisson_ratio,
            density_kg_per_m3: *density_kg_per_m3,
            growth_per_k: *growth_per_k,
            kc11_mpa: *kc11_mpa,
            mc: *mc,
            thrust_ratio: *thrust_ratio,
        }
    }
}

impl From<&job::Land> for v1::Land {
    fn from(held: &job::Land) -> Self {
        let job::Land { length_mm, start_diameter_mm, end_diameter_mm } = held;
        Self { length_mm: *length_mm, start_diameter_mm: *start_diameter_mm, end_diameter_mm: *end_diameter_mm }
    }
}

impl From<&job::WantedLand> for v1::WantedLand {
    fn from(held: &job::WantedLand) -> Self {
        let job::WantedLand { name, land, tolerance } = held;
        Self { name: name.clone(), land: land.into(), tolerance: tolerance.into() }
    }
}

impl From<&job::BoreLand> for v1::BoreLand {
    fn from(held: &job::BoreLand) -> Self {
        let job::BoreLand { from_s_mm, to_s_mm, start_diameter_mm, end_diameter_mm } = held;
        Self {
            from_s_mm: *from_s_mm,
            to_s_mm: *to_s_mm,
            start_diameter_mm: *start_diameter_mm,
            end_diameter_mm: *end_diameter_mm,
        }
    }
}

impl From<&job::Feature> for v1::Feature {
    fn from(held: &job::Feature) -> Self {
        let job::Feature { kind, from_s_mm, to_s_mm } = held;
        Self { kind: kind.into(), from_s_mm: *from_s_mm, to_s_mm: *to_s_mm }
    }
}

impl From<&job::CentreHole> for v2::CentreHole {
    fn from(held: &job::CentreHole) -> Self {
        let job::CentreHole { pilot_mm, off_tir_mm, off_at_rad } = held;
        Self { pilot_mm: *pilot_mm, off_tir_mm: *off_tir_mm, off_at_rad: *off_at_rad }
    }
}

impl From<&job::Lathe> for v2::Lathe {
    fn from(held: &job::Lathe) -> Self {
        let job::Lathe {
            name,
            swing_over_bed_mm,
            swing_over_cross_slide_mm,
            between_centres_mm,
            spindle_bore_mm,
            headstock_length_mm,
            chuck_diameter_mm,
            chuck_max_rpm,
            jaw_depth_mm,
            carriage_left_mm,
            carriage_right_mm,
            holder_left_mm,
            holder_right_mm,
            nearest_to_jaws_mm,
            wings_pass_tailstock,
            rest_base_mm,
            wings_pass_rest,
            rest_jaw_width_mm,
            rest_min_diameter_mm,
            rest_max_diameter_mm,
            rest_bore_mm,
            follower_min_diameter_mm,
            follower_max_diameter_mm,
            follower_width_mm,
            tailstock_base_mm,
            quill_travel_mm,
            quill_diameter_mm,
            centre_length_mm,
            speeds_rpm,
            feeds_mm_per_rev,
            power_kw,
            max_work_kg,
            headstock_k_n_per_mm,
            tailstock_k_n_per_mm,
            quill_out_stiffness_ratio,
            tailstock_axial_k_n_per_mm,
            spring_centre_k_n_per_mm,
            pad_length_mm,
            roller_diameter_mm,
            carriage_k_n_per_mm,
        } = held;
        Self {
            name: name.clone(),
            swing_over_bed_mm: swing_over_bed_mm.into(),
            swing_over_cross_slide_mm: swing_over_cross_slide_mm.into(),
            between_centres_mm: between_centres_mm.into(),
            spindle_bore_mm: spindle_bore_mm.into(),
            headstock_length_mm: headstock_length_mm.into(),
            chuck_diameter_mm: chuck_diameter_mm.into(),
            chuck_max_rpm: chuck_max_rpm.into(),
            jaw_depth_mm: jaw_depth_mm.into(),
            carriage_left_mm: carriage_left_mm.into(),
            carriage_right_mm: carriage_right_mm.into(),
            holder_left_mm: holder_left_mm.into(),
            holder_right_mm: holder_right_mm.into(),
            nearest_to_jaws_mm: nearest_to_jaws_mm.into(),
            wings_pass_tailstock: *wings_pass_tailstock,
            rest_base_mm: rest_base_mm.into(),
            wings_pass_rest: *wings_pass_rest,
            rest_jaw_width_mm: rest_jaw_width_mm.into(),
            rest_min_diameter_mm: rest_min_diameter_mm.into(),
            rest_max_diameter_mm: rest_max_diameter_mm.into(),
            rest_bore_mm: rest_bore_mm.into(),
            follower_min_diameter_mm: follower_min_diameter_mm.into(),
            follower_max_diameter_mm: follower_max_diameter_mm.into(),
            follower_width_mm: follower_width_mm.into(),
            tailstock_base_mm: tailstock_base_mm.into(),
            quill_travel_mm: quill_travel_mm.into(),
            quill_diameter_mm: quill_diameter_mm.into(),
            centre_length_mm: centre_length_mm.into(),
            speeds_rpm: speeds_rpm.clone(),
            feeds_mm_per_rev: feeds_mm_per_rev.clone(),
            power_kw: power_kw.into(),
            max_work_kg: max_work_kg.into(),
            headstock_k_n_per_mm: headstock_k_n_per_mm.into(),
            tailstock_k_n_per_mm: tailstock_k_n_per_mm.into(),
            quill_out_stiffness_ratio: quill_out_stiffness_ratio.into(),
            tailstock_axial_k_n_per_mm: tailstock_axial_k_n_per_mm.into(),
            spring_centre_k_n_per_mm: spring_centre_k_n_per_mm.into(),
            pad_length_mm: pad_length_mm.into(),
            roller_diameter_mm: roller_diameter_mm.into(),
            carriage_k_n_per_mm: carriage_k_n_per_mm.into(),
        }
    }
}

impl From<&job::Setup> for v2::Setup {
    fn from(held: &job::Setup) -> Self {
        let job::Setup {
            id,
            name,
            end_for_end,
            work_start_z_mm,
            drive,
            tail,
            rests,
            follower,
            tool,
            warmer_by_k,
            jaw_friction,
            passes,
        } = held;
        Self {
            id: *id,
            name: name.clone(),
            end_for_end: *end_for_end,
            work_start_z_mm: *work_start_z_mm,
            drive: drive.into(),
            tail: tail.into(),
            rests: all(rests),
            follower: follower.as_ref().map(Into::into),
            tool: tool.into(),
            warmer_by_k: *warmer_by_k,
            jaw_friction: *jaw_friction,
            passes: all(passes),
        }
    }
}

impl From<&job::DriveEnd> for v2::DriveEnd {
    fn from(held: &job::DriveEnd) -> Self {
        let job::DriveEnd {
            kind,
            grip_mm,
            hold,
            radial_k_n_per_mm,
            rotation_k_nmm_per_rad,
            runout_tir_mm,
            runout_at_rad,
            grip_force_n,
            dog,
            hold_back,
        } = held;
        Self {
            kind: kind.into(),
            grip_mm: *grip_mm,
            hold: hold.into(),
            radial_k_n_per_mm: radial_k_n_per_mm.into(),
            rotation_k_nmm_per_rad: rotation_k_nmm_per_rad.into(),
            runout_tir_mm: *runout_tir_mm,
            runout_at_rad: *runout_at_rad,
            grip_force_n: grip_force_n.into(),
            dog: dog.into(),
            hold_back: *hold_back,
        }
    }
}

impl From<&job::TailEnd> for v2::TailEnd {
    fn from(held: &job::TailEnd) -> Self {
        let job::TailEnd { kind, thrust_n, quill_out_mm, offset_x_mm, offset_y_mm, runout_tir_mm } = held;
        Self {
            kind: kind.into(),
            thrust_n: *thrust_n,
            quill_out_mm: *quill_out_mm,
            offset_x_mm: *offset_x_mm,
            offset_y_mm: *offset_y_mm,
            runout_tir_mm: *runout_tir_mm,
        }
    }
}

impl From<&job::Jaw> for v1::Jaw {
    fn from(held: &job::Jaw) -> Self {
        let job::Jaw { angle_rad, gap_mm, k_n_per_mm } = held;
        Self { angle_rad: *angle_rad, gap_mm: *gap_mm, k_n_per_mm: k_n_per_mm.into() }
    }
}

impl From<&job::Rest> for v2::Rest {
    fn from(held: &job::Rest) -> Self {
        let job::Rest { id, z_mm, jaws, tip, set_to, offset_x_mm, offset_y_mm, sleeve, spot, tip_bored_mm } = held;
        Self {
            id: *id,
            z_mm: *z_mm,
            set_to: set_to.into(),
            tip: tip.into(),
            offset_x_mm: *offset_x_mm,
            offset_y_mm: *offset_y_mm,
            sleeve: sleeve.into(),
            spot: spot.into(),
            tip_bored_mm: *tip_bored_mm,
            jaws: all(jaws),
        }
    }
}

impl From<&job::Follower> for v2::Follower {
    fn from(held: &job::Follower) -> Self {
        let job::Follower { distance_mm, side, jaws: [rear_jaw, top_jaw], tip, tip_bored_mm, start_mm } = held;
        Self {
            distance_mm: *distance_mm,
            side: side.into(),
            tip: tip.into(),
            tip_bored_mm: *tip_bored_mm,
            start_mm: *start_mm,
            rear_jaw: rear_jaw.into(),
            top_jaw: top_jaw.into(),
        }
    }
}

impl From<&job::Tool> for v1::Tool {
    fn from(held: &job::Tool) -> Self {
        let job::Tool { side, material, entering_angle_rad, nose_radius_mm, rake_rad, wear } = held;
        Self {
            side: side.into(),
            material: material.into(),
            entering_angle_rad: *entering_angle_rad,
            nose_radius_mm: *nose_radius_mm,
            rake_rad: *rake_rad,
            wear: wear.into(),
        }
    }
}

impl From<&job::Pass> for v2::Pass {
    fn from(held: &job::Pass) -> Self {
        let job::Pass { id, kind, from_z_mm, to_z_mm, cut, feed_mm_per_rev, speed_rpm, force } = held;
        Self {
            id: *id,
            kind: kind.into(),
            from_z_mm: *from_z_mm,
            to_z_mm: *to_z_mm,
            cut: cut.into(),
            feed_mm_per_rev: *feed_mm_per_rev,
            speed_rpm: *speed_rpm,
            force: force.into(),
        }
    }
}

impl From<&job::Tolerance> for v1::Tolerance {
    fn from(held: &job::Tolerance) -> Self {
        match *held {
            job::Tolerance::Free => Self::Free,
            job::Tolerance::Limits { lower_mm, upper_mm } => Self::Limits { lower_mm, upper_mm },
            job::Tolerance::H { grade } => Self::H { grade },
            job::Tolerance::Js { grade } => Self::Js { grade },
        }
    }
}

impl From<&job::MaterialChoice> for v1::Material {
    fn from(held: &job::MaterialChoice) -> Self {
        match held {
            job::MaterialChoice::Listed(key) => Self::Listed(key.clone()),
            job::MaterialChoice::Own(own) => Self::Own(own.into()),
        }
    }
}

impl From<&job::FeatureKind> for v1::FeatureKind {
    fn from(held: &job::FeatureKind) -> Self {
        match *held {
            job::FeatureKind::Thread { pitch_mm } => Self::Thread { pitch_mm },
            job::FeatureKind::Keyway { width_mm, depth_mm } => Self::Keyway { width_mm, depth_mm },
            job::FeatureKind::Flat => Self::Flat,
            job::FeatureKind::Spline => Self::Spline,
            job::FeatureKind::Weld => Self::Weld,
            job::FeatureKind::CrossHole { diameter_mm } => Self::CrossHole { diameter_mm },
            job::FeatureKind::Groove { depth_mm } => Self::Groove { depth_mm },
            job::FeatureKind::TrueSpot => Self::TrueSpot,
        }
    }
}

impl From<&job::Sleeve> for v1::Sleeve {
    fn from(held: &job::Sleeve) -> Self {
        match *held {
            job::Sleeve::None => Self::Bare,
            job::Sleeve::CatHead { diameter_mm, width_mm } => Self::CatHead { diameter_mm, width_mm },
            job::Sleeve::Bush { diameter_mm, width_mm } => Self::Bush { diameter_mm, width_mm },
        }
    }
}

impl From<&job::Cut> for v1::Cut {
    fn from(held: &job::Cut) -> Self {
        match *held {
            job::Cut::Depth { on_diameter_mm } => Self::Depth { on_diameter_mm },
            job::Cut::ToDiameter { diameter_mm } => Self::ToDiameter { diameter_mm },
            job::Cut::ToDrawing { leave_on_diameter_mm } => Self::ToDrawing { leave_on_diameter_mm },
        }
    }
}

impl From<&job::Force> for v1::Force {
    fn from(held: &job::Force) -> Self {
        match *held {
            job::Force::FromCut => Self::FromCut,
            job::Force::Typed { radial_n, main_n, feed_n, follows_depth } => {
                Self::Typed { radial_n, main_n, feed_n, follows_depth }
            }
        }
    }
}

impl From<&job::Stated> for v1::Stated {
    fn from(held: &job::Stated) -> Self {
        if held.assumed { Self::Assumed(held.value) } else { Self::Stated(held.value) }
    }
}

impl From<&job::Stiffness> for v1::Stiffness {
    fn from(held: &job::Stiffness) -> Self {
        match held {
            job::Stiffness::Rigid => Self::Rigid,
            job::Stiffness::Spring(job::Stated { value, assumed: true }) => Self::Assumed(*value),
            job::Stiffness::Spring(job::Stated { value, assumed: false }) => Self::Stated(*value),
        }
    }
}

impl From<&job::Spread> for v2::Spread {
    fn from(held: &job::Spread) -> Self {
        let job::Spread { main_ratio, radial_ratio, stiffness_factor, damping_ratio } = held;
        Self {
            main_ratio: *main_ratio,
            radial_ratio: *radial_ratio,
            stiffness_factor: *stiffness_factor,
            damping_ratio: damping_ratio.into(),
        }
    }
}

impl From<&job::Dog> for v2::Dog {
    fn from(held: &job::Dog) -> Self {
        let job::Dog { kind, tail_radius_mm, tail_reach_mm, length_mm } = held;
        Self {
            kind: kind.into(),
            tail_radius_mm: tail_radius_mm.into(),
            tail_reach_mm: tail_reach_mm.into(),
            length_mm: length_mm.into(),
        }
    }
}

impl From<&job::Spot> for v2::Spot {
    fn from(held: &job::Spot) -> Self {
        let job::Spot { n_lobes, height_mm } = held;
        Self { n_lobes: *n_lobes, height_mm: *height_mm }
    }
}
