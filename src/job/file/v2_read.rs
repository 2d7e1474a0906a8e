//! From what format 2 shares with the later ones to the document. Whether the numbers can be is for the invariants to say.

use crate::job;

use super::v1_read::all;
use super::v2;

impl From<v2::TitleBlock> for job::TitleBlock {
    fn from(read: v2::TitleBlock) -> Self {
        let v2::TitleBlock { part, owner, date } = read;
        Self { part, owner, date }
    }
}

impl From<v2::Shaft> for job::Shaft {
    fn from(read: v2::Shaft) -> Self {
        let v2::Shaft {
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
            bow_at_rad,
        }
    }
}

impl From<v2::CentreHole> for job::CentreHole {
    fn from(read: v2::CentreHole) -> Self {
        let v2::CentreHole { pilot_mm, off_tir_mm, off_at_rad } = read;
        Self { pilot_mm, off_tir_mm, off_at_rad }
    }
}

impl From<v2::Lathe> for job::Lathe {
    fn from(read: v2::Lathe) -> Self {
        let v2::Lathe {
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
            holder_left_mm: holder_left_mm.into(),
            holder_right_mm: holder_right_mm.into(),
            nearest_to_jaws_mm: nearest_to_jaws_mm.into(),
            wings_pass_tailstock,
            rest_base_mm: rest_base_mm.into(),
            wings_pass_rest,
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
            speeds_rpm,
            feeds_mm_per_rev,
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

impl From<v2::Setup> for job::Setup {
    fn from(read: v2::Setup) -> Self {
        let v2::Setup {
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
        } = read;
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
            warmer_by_k,
            jaw_friction,
            passes: all(passes),
        }
    }
}

impl From<v2::DriveEnd> for job::DriveEnd {
    fn from(read: v2::DriveEnd) -> Self {
        let v2::DriveEnd {
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
        } = read;
        Self {
            kind: kind.into(),
            grip_mm,
            hold: hold.into(),
            radial_k_n_per_mm: radial_k_n_per_mm.into(),
            rotation_k_nmm_per_rad: rotation_k_nmm_per_rad.into(),
            runout_tir_mm,
            runout_at_rad,
            grip_force_n: grip_force_n.into(),
            dog: dog.into(),
            hold_back,
        }
    }
}

impl From<v2::TailEnd> for job::TailEnd {
    fn from(read: v2::TailEnd) -> Self {
        let v2::TailEnd { kind, thrust_n, quill_out_mm, offset_x_mm, offset_y_mm, runout_tir_mm } = read;
        Self { kind: kind.into(), thrust_n, quill_out_mm, offset_x_mm, offset_y_mm, runout_tir_mm }
    }
}

impl From<v2::Rest> for job::Rest {
    fn from(read: v2::Rest) -> Self {
        let v2::Rest { id, z_mm, set_to, tip, offset_x_mm, offset_y_mm, sleeve, spot, tip_bored_mm, jaws } = read;
        Self {
            id,
            z_mm,
            set_to: set_to.into(),
            tip: tip.into(),
            offset_x_mm,
            offset_y_mm,
            sleeve: sleeve.into(),
            spot: spot.into(),
            tip_bored_mm,
            jaws: all(jaws),
        }
    }
}

impl From<v2::Follower> for job::Follower {
    fn from(read: v2::Follower) -> Self {
        let v2::Follower { distance_mm, side, tip, tip_bored_mm, start_mm, rear_jaw, top_jaw } = read;
        Self {
            distance_mm,
            side: side.into(),
            tip: tip.into(),
            tip_bored_mm,
            start_mm,
            jaws: [rear_jaw.into(), top_jaw.into()],
        }
    }
}

impl From<v2::Pass> for job::Pass {
    fn from(read: v2::Pass) -> Self {
        let v2::Pass { id, kind, from_z_mm, to_z_mm, cut, feed_mm_per_rev, speed_rpm, force } = read;
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

impl From<v2::Spread> for job::Spread {
    fn from(read: v2::Spread) -> Self {
        let v2::Spread { main_ratio, radial_ratio, stiffness_factor, damping_ratio } = read;
        Self { main_ratio, radial_ratio, stiffness_factor, damping_ratio: damping_ratio.into() }
    }
}

impl From<v2::Dog> for job::Dog {
    fn from(read: v2::Dog) -> Self {
        let v2::Dog { kind, tail_radius_mm, tail_reach_mm, length_mm } = read;
        Self {
            kind: kind.into(),
            tail_radius_mm: tail_radius_mm.into(),
            tail_reach_mm: tail_reach_mm.into(),
            length_mm: length_mm.into(),
        }
    }
}

impl From<v2::Spot> for job::Spot {
    fn from(read: v2::Spot) -> Self {
        let v2::Spot { n_lobes, height_mm } = read;
        Self { n_lobes, height_mm }
    }
}
