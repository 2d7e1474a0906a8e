//! From format 1 to format 2: what came new is as a job of format 1 meant it, or as it is usual.

use crate::job;

use super::v1_read::all;
use super::{v1, v2};

impl From<v1::Job> for v2::Job {
    fn from(read: v1::Job) -> Self {
        let v1::Job { format, title, notes, units, shaft, lathe, setups, readings, next_id } = read;
        Self {
            format,
            title,
            notes,
            title_block: (&job::TitleBlock::default()).into(),
            units,
            shaft: shaft.into(),
            lathe: lathe.into(),
            setups: all(setups),
            readings,
            spread: (&job::Spread::usual()).into(),
            next_id,
        }
    }
}

impl From<v1::Shaft> for v2::Shaft {
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
            material,
            stock,
            bores,
            wanted_start_s_mm,
            wanted,
            features,
            centre_hole_a: centre_hole_a.map(Into::into),
            centre_hole_b: centre_hole_b.map(Into::into),
            bow_tir_mm,
            bow_at_rad: 0.0,
        }
    }
}

impl From<v1::CentreHole> for v2::CentreHole {
    fn from(read: v1::CentreHole) -> Self {
        let v1::CentreHole { pilot_mm } = read;
        Self { pilot_mm, off_tir_mm: 0.0, off_at_rad: 0.0 }
    }
}

impl From<v1::Lathe> for v2::Lathe {
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
        let usual = v2::Lathe::from(&job::Lathe::medium());
        Self {
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
            ..usual
        }
    }
}

impl From<v1::Setup> for v2::Setup {
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
            tool,
            warmer_by_k: 0.0,
            jaw_friction: true,
            passes: all(passes),
        }
    }
}

impl From<v1::DriveEnd> for v2::DriveEnd {
    fn from(read: v1::DriveEnd) -> Self {
        let v1::DriveEnd { kind, grip_mm, hold, radial_k_n_per_mm, rotation_k_nmm_per_rad, runout_tir_mm, hold_back } =
            read;
        Self {
            kind,
            grip_mm,
            hold,
            radial_k_n_per_mm,
            rotation_k_nmm_per_rad,
            runout_tir_mm,
            runout_at_rad: 0.0,
            grip_force_n: v1::Stated::Assumed(job::usual::GRIP_FORCE_N),
            dog: (&job::Dog::usual()).into(),
            hold_back,
        }
    }
}

impl From<v1::TailEnd> for v2::TailEnd {
    fn from(read: v1::TailEnd) -> Self {
        let v1::TailEnd { kind, thrust_n, quill_out_mm, offset_x_mm, offset_y_mm } = read;
        Self { kind, thrust_n, quill_out_mm, offset_x_mm, offset_y_mm, runout_tir_mm: 0.0 }
    }
}

impl From<v1::Rest> for v2::Rest {
    fn from(read: v1::Rest) -> Self {
        let v1::Rest { id, z_mm, set_to, tip, offset_x_mm, offset_y_mm, sleeve, jaws } = read;
        Self {
            id,
            z_mm,
            set_to,
            tip,
            offset_x_mm,
            offset_y_mm,
            sleeve,
            spot: (&job::Spot::round()).into(),
            tip_bored_mm: None,
            jaws,
        }
    }
}

impl From<v1::Follower> for v2::Follower {
    fn from(read: v1::Follower) -> Self {
        let v1::Follower { distance_mm, side, tip, rear_jaw, top_jaw } = read;
        Self { distance_mm, side, tip, tip_bored_mm: None, start_mm: 0.0, rear_jaw, top_jaw }
    }
}

impl From<v1::Pass> for v2::Pass {
    fn from(read: v1::Pass) -> Self {
        let v1::Pass { id, kind, from_z_mm, to_z_mm, cut, feed_mm_per_rev, speed_rpm, force } = read;
        Self { id, kind: kind.into(), from_z_mm, to_z_mm, cut, feed_mm_per_rev, speed_rpm, force }
    }
}
