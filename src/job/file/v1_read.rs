//! From what format 1 shares with the later ones to the document. Whether the numbers can be is for the invariants to say.

use crate::job;

use super::v1;

/// The items of a list, each turned over.
pub(super) fn all<T, U: From<T>>(read: Vec<T>) -> Vec<U> {
    read.into_iter().map(Into::into).collect()
}

impl From<v1::Reading> for job::Reading {
    fn from(read: v1::Reading) -> Self {
        let v1::Reading { pass, z_mm, diameter_mm, warmer_by_k } = read;
        Self { pass, z_mm, diameter_mm, warmer_by_k }
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

impl From<v1::Jaw> for job::Jaw {
    fn from(read: v1::Jaw) -> Self {
        let v1::Jaw { angle_rad, gap_mm, k_n_per_mm } = read;
        Self { angle_rad, gap_mm, k_n_per_mm: k_n_per_mm.into() }
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
