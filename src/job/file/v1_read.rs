//! From format 1 to the document. Whether the numbers can be is for the invariants to say.

use crate::job;

use super::v1;

fn all<T, U: From<T>>(read: Vec<T>) -> Vec<U> {
    read.into_iter().map(Into::into).collect()
}

impl From<v1::Job> for job::Job {
    fn from(read: v1::Job) -> Self {
        let v1::Job { format: _, title, notes, units, shaft, lathe, setups, readings, next_id } = read;
        Self {
            title,
            notes,
            units: units.into(),
            shaft: shaft.into(),
            lathe: lathe.into(),
            setups: all(setups),
            readings: all(readings),
            next_id,
        }
    }
}

impl From<v1::Reading> for job::Reading {
    fn from(read: v1::Reading) -> Self {
        let v1::Reading { pass, z_mm, diameter_mm, warmer_by_k } = read;
        Self { pass, z_mm, diameter_mm, warmer_by_k }
    }
}

impl From<v1::Shaft> for job::Shaft {
    fn from(read: v1::Shaft) -> Self {
        let v1::Shaft {
            material,
            stock,
            bores,
            wanted_start_s_mm,
            wanted,
            features,
            centre_hole_a,
            centre_hole_b,
            bow_tir_mm,
        } = read;
        Self {
            material: material.into(),
            stock: all(stock),
            bores: all(bores),
            wanted_start_s_mm,
            wanted: all(wanted),
            features: all(features),
            centre_hole_a: centre_hole_a.map(Into::into),
            centre_hole_b: centre_hole_b.map(Into::into),
            bow_tir_mm,
        }
    }
}

impl From<v1::OwnMaterial> for job::material::OwnMaterial {
    fn from(read: v1::OwnMaterial) -> Self {
        let v1::OwnMaterial { name, e_mpa, poisson_ratio, density_kg_per_m3, growth_per_k, kc11_mpa, mc, thrust_ratio } =
            read;
        Self { name, e_mpa, poisson_ratio, density_kg_per_m3, growth_per_k, kc11_mpa, mc, thrust_ratio }
    }
}

impl From<v1::Land> for job::Land {
    fn from(read: v1::Land) -> Self {
        let v1::Land { length_mm, start_diameter_mm, end_diameter_mm } = read;
        Self { length_mm, start_diameter_mm, end_diameter_mm }
    }
}

impl From<v1::WantedLand> for job::WantedLand {
    fn from(read: v1::WantedLand) -> Self {
        let v1::WantedLand { name, land, tolerance } = read;
        Self { name, land: land.into(), tolerance: tolerance.into() }
    }
}

impl From<v1::BoreLand> for job::BoreLand {
    fn from(read: v1::BoreLand) -> Self {
        let v1::BoreLand { from_s_mm, to_s_mm, start_diameter_mm, end_diameter_mm } = read;
        Self { from_s_mm, to_s_mm, start_diameter_mm, end_diameter_mm }
    }
}

impl From<v1::Feature> for job::Feature {
    fn from(read: v1::Feature) -> Self {
        let v1::Feature { kind, from_s_mm, to_s_mm } = read;
        Self { kind: kind.into(), from_s_mm, to_s_mm }
    }
}

impl From<v1::CentreHole> for job::CentreHole {
    fn from(read: v1::CentreHole) -> Self {
        let v1::CentreHole { pilot_mm } = read;
        Self { pilot_mm }
    }
}

impl From<v1::Lathe> for job::Lathe {
    fn from(read: v1::Lathe) -> Self {
        let v1::Lathe {
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
            rest_base_mm,
            rest_jaw_width_mm,
            rest_min_diameter_mm,
            rest_max_diameter_mm,
            follower_min_diameter_mm,
            follower_max_diameter_mm,
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
            carriage_k_n_per_mm,
        } = read;
        Self {
            name,
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
            rest_base_mm: rest_base_mm.into(),
            rest_jaw_width_mm: rest_jaw_width_mm.into(),
            rest_min_diameter_mm: rest_min_diameter_mm.into(),
            rest_max_diameter_mm: rest_max_diameter_mm.into(),
            follower_min_diameter_mm: follower_min_diameter_mm.into(),
            follower_max_diameter_mm: follower_max_diameter_mm.into(),
            tailstock_base_mm: tailstock_base_mm.into(),
            quill_travel_mm: quill_travel_mm.into(),
            quill_diameter_mm: quill_diameter_mm.into(),
            centre_length_mm: centre_length_mm.into(),
            speeds_rpm,
            feeds_mm_per_rev,
            power_kw: power_kw.into(),
            max_work_kg: max_work_kg.into(),
            headstock_k_n_per_mm: headstock_k_n_per_mm.into(),
            tailstock_k_n_per_mm: tailstock_k_n_per_mm.into(),
            quill_out_stiffness_ratio: quill_out_stiffness_ratio.into(),
            carriage_k_n_per_mm: carriage_k_n_per_mm.into(),
        }
    }
}

impl From<v1::Setup> for job::Setup {
    fn from(read: v1::Setup) -> Self {
        let v1::Setup { id, name, end_for_end, work_start_z_mm, drive, tail, rests, follower, tool, passes } = read;
        Self {
            id,
            name,
            end_for_end,
            work_start_z_mm,
            drive: drive.into(),
            tail: tail.into(),
            rests: all(rests),
            follower: follower.map(Into::into),
            tool: tool.into(),
            passes: all(passes),
        }
    }
}

impl From<v1::DriveEnd> for job::DriveEnd {
    fn from(read: v1::DriveEnd) -> Self {
        let v1::DriveEnd { kind, grip_mm, hold, radial_k_n_per_mm, rotation_k_nmm_per_rad, runout_tir_mm, hold_back } =
            read;
        Self {
            kind: kind.into(),
            grip_mm,
            hold: hold.into(),
            radial_k_n_per_mm: radial_k_n_per_mm.into(),
            rotation_k_nmm_per_rad: rotation_k_nmm_per_rad.into(),
            runout_tir_mm,
            hold_back,
        }
    }
}

impl From<v1::TailEnd> for job::TailEnd {
    fn from(read: v1::TailEnd) -> Self {
        let v1::TailEnd { kind, thrust_n, quill_out_mm, offset_x_mm, offset_y_mm } = read;
        Self { kind: kind.into(), thrust_n, quill_out_mm, offset_x_mm, offset_y_mm }
    }
}

impl From<v1::Jaw> for job::Jaw {
    fn from(read: v1::Jaw) -> Self {
        let v1::Jaw { angle_rad, gap_mm, k_n_per_mm } = read;
        Self { angle_rad, gap_mm, k_n_per_mm: k_n_per_mm.into() }
    }
}

impl From<v1::Rest> for job::Rest {
    fn from(read: v1::Rest) -> Self {
        let v1::Rest { id, z_mm, set_to, tip, offset_x_mm, offset_y_mm, sleeve, jaws } = read;
        Self {
            id,
            z_mm,
            set_to: set_to.into(),
            tip: tip.into(),
            offset_x_mm,
            offset_y_mm,
            sleeve: sleeve.into(),
            jaws: all(jaws),
        }
    }
}

impl From<v1::Follower> for job::Follower {
    fn from(read: v1::Follower) -> Self {
        let v1::Follower { distance_mm, side, tip, rear_jaw, top_jaw } = read;
        Self { distance_mm, side: side.into(), tip: tip.into(), jaws: [rear_jaw.into(), top_jaw.into()] }
    }
}

impl From<v1::Tool> for job::Tool {
    fn from(read: v1::Tool) -> Self {
        let v1::Tool { side, material, entering_angle_rad, nose_radius_mm, rake_rad, wear } = read;
        Self {
            side: side.into(),
            material: material.into(),
            entering_angle_rad,
            nose_radius_mm,
            rake_rad,
            wear: wear.into(),
        }
    }
}

impl From<v1::Pass> for job::Pass {
    fn from(read: v1::Pass) -> Self {
        let v1::Pass { id, kind, from_z_mm, to_z_mm, cut, feed_mm_per_rev, speed_rpm, force } = read;
        Self {
            id,
            kind: kind.into(),
            from_z_mm,
            to_z_mm,
            cut: cut.into(),
            feed_mm_per_rev,
            speed_rpm,
            force: force.into(),
        }
    }
}

impl From<v1::Tolerance> for job::Tolerance {
    fn from(read: v1::Tolerance) -> Self {
        match read {
            v1::Tolerance::Free => Self::Free,
            v1::Tolerance::Limits { lower_mm, upper_mm } => Self::Limits { lower_mm, upper_mm },
            v1::Tolerance::H { grade } => Self::H { grade },
            v1::Tolerance::Js { grade } => Self::Js { grade },
        }
    }
}

impl From<v1::Material> for job::MaterialChoice {
    fn from(read: v1::Material) -> Self {
        match read {
            v1::Material::Listed(key) => Self::Listed(key),
            v1::Material::Own(own) => Self::Own(own.into()),
        }
    }
}

impl From<v1::FeatureKind> for job::FeatureKind {
    fn from(read: v1::FeatureKind) -> Self {
        match read {
            v1::FeatureKind::Thread { pitch_mm } => Self::Thread { pitch_mm },
            v1::FeatureKind::Keyway { width_mm, depth_mm } => Self::Keyway { width_mm, depth_mm },
            v1::FeatureKind::Flat => Self::Flat,
            v1::FeatureKind::Spline => Self::Spline,
            v1::FeatureKind::Weld => Self::Weld,
            v1::FeatureKind::CrossHole { diameter_mm } => Self::CrossHole { diameter_mm },
            v1::FeatureKind::Groove { depth_mm } => Self::Groove { depth_mm },
            v1::FeatureKind::TrueSpot => Self::TrueSpot,
        }
    }
}

impl From<v1::Sleeve> for job::Sleeve {
    fn from(read: v1::Sleeve) -> Self {
        match read {
            v1::Sleeve::Bare => Self::None,
            v1::Sleeve::CatHead { diameter_mm, width_mm } => Self::CatHead { diameter_mm, width_mm },
            v1::Sleeve::Bush { diameter_mm, width_mm } => Self::Bush { diameter_mm, width_mm },
        }
    }
}

impl From<v1::Cut> for job::Cut {
    fn from(read: v1::Cut) -> Self {
        match read {
            v1::Cut::Depth { on_diameter_mm } => Self::Depth { on_diameter_mm },
            v1::Cut::ToDiameter { diameter_mm } => Self::ToDiameter { diameter_mm },
            v1::Cut::ToDrawing { leave_on_diameter_mm } => Self::ToDrawing { leave_on_diameter_mm },
        }
    }
}

impl From<v1::Force> for job::Force {
    fn from(read: v1::Force) -> Self {
        match read {
            v1::Force::FromCut => Self::FromCut,
            v1::Force::Typed { radial_n, main_n, feed_n, follows_depth } => {
                Self::Typed { radial_n, main_n, feed_n, follows_depth }
            }
        }
    }
}

impl From<v1::Stated> for job::Stated {
    fn from(read: v1::Stated) -> Self {
        match read {
            v1::Stated::Assumed(value) => Self::assumed(value),
            v1::Stated::Stated(value) => Self::given(value),
        }
    }
}

impl From<v1::Stiffness> for job::Stiffness {
    fn from(read: v1::Stiffness) -> Self {
        match read {
            v1::Stiffness::Rigid => Self::Rigid,
            v1::Stiffness::Assumed(value) => Self::Spring(job::Stated::assumed(value)),
            v1::Stiffness::Stated(value) => Self::Spring(job::Stated::given(value)),
        }
    }
}
