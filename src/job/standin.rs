//! Usual values, until the layer has them.
use super::*;
impl Rest {
    /// Usual.
    #[must_use]
    pub fn three_jaw(id: RestId, z_mm: f64) -> Self {
        let jaws = [90.0_f64, 210.0, 330.0]
            .map(|d| Jaw { angle_rad: d.to_radians(), gap_mm: 0.0, k_n_per_mm: Stiffness::assumed(20_000.0) })
            .to_vec();
        Self {
            id,
            z_mm,
            jaws,
            tip: TipKind::Bronze,
            set_to: SetTo::Work,
            offset_x_mm: 0.0,
            offset_y_mm: 0.0,
            sleeve: Sleeve::None,
        }
    }
}
impl Follower {
    /// Usual.
    #[must_use]
    pub fn usual() -> Self {
        let jaw = |d: f64| Jaw { angle_rad: d.to_radians(), gap_mm: 0.0, k_n_per_mm: Stiffness::assumed(20_000.0) };
        Self { distance_mm: 20.0, side: FollowerSide::Behind, jaws: [jaw(0.0), jaw(90.0)], tip: TipKind::Bronze }
    }
}
impl Tool {
    /// Usual.
    #[must_use]
    pub fn usual() -> Self {
        Self {
            side: ToolSide::Front,
            material: ToolMaterial::Carbide,
            entering_angle_rad: 1.5,
            nose_radius_mm: 0.4,
            rake_rad: 0.1,
            wear: ToolWear::Used,
        }
    }
}
impl DriveEnd {
    /// Usual.
    #[must_use]
    pub fn usual(kind: DriveKind) -> Self {
        Self {
            kind,
            grip_mm: 40.0,
            hold: Hold::Clamped,
            radial_k_n_per_mm: Stiffness::assumed(2e5),
            rotation_k_nmm_per_rad: Stiffness::assumed(1e9),
            runout_tir_mm: 0.0,
            hold_back: false,
        }
    }
}
impl TailEnd {
    /// Usual.
    #[must_use]
    pub fn usual(kind: TailKind) -> Self {
        Self { kind, thrust_n: 500.0, quill_out_mm: 50.0, offset_x_mm: 0.0, offset_y_mm: 0.0 }
    }
}
impl Tolerance {
    /// Read.
    pub fn parse(text: &str, _units: Units) -> Result<Self, quantity::QuantityError> {
        match text {
            "" => Ok(Self::Free),
            "h7" => Ok(Self::H { grade: 7 }),
            _ => Err(quantity::QuantityError("not a tolerance".into())),
        }
    }
    /// Text.
    #[must_use]
    pub fn text(&self, _units: Units) -> String {
        match self {
            Self::H { grade } => format!("h{grade}"),
            _ => String::new(),
        }
    }
}
