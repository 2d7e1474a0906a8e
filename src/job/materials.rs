//! The table of materials.

use super::material::{Fact, Material, Thrust, Trust};

/// One row: a [`Material`] that can stand in a constant.
#[derive(Clone, Debug)]
pub struct Listed {
    pub key: &'static str,
    pub name: &'static str,
    pub e_mpa: Fact,
    pub poisson_ratio: Fact,
    pub density_kg_per_m3: Fact,
    pub growth_per_k: Fact,
    pub kc11_mpa: Fact,
    pub mc: Fact,
    pub thrust: Thrust,
    pub reference_rake_rad: f64,
}

impl Listed {
    /// The row as a [`Material`].
    #[must_use]
    pub fn to_material(&self) -> Material {
        Material {
            key: self.key.to_owned(),
            name: self.name.to_owned(),
            e_mpa: self.e_mpa,
            poisson_ratio: self.poisson_ratio,
            density_kg_per_m3: self.density_kg_per_m3,
            growth_per_k: self.growth_per_k,
            kc11_mpa: self.kc11_mpa,
            mc: self.mc,
            thrust: self.thrust,
            reference_rake_rad: self.reference_rake_rad,
        }
    }
}

const fn read(value: f64, source: &'static str) -> Fact {
    Fact { value, source, trust: Trust::Read }
}

/// All materials the program knows; the first is the one a new job starts with.
pub const MATERIALS: &[Listed] = &[Listed {
    key: "C45",
    name: "C45 / 1045, normalised",
    e_mpa: read(207_000.0, "Callister, Materials Science and Engineering, App. B"),
    poisson_ratio: read(0.30, "Callister"),
    density_kg_per_m3: read(7850.0, "Callister"),
    growth_per_k: read(11.3e-6, "Callister"),
    kc11_mpa: read(2100.0, "Kienzle"),
    mc: read(0.17, "Kienzle"),
    thrust: Thrust::Ratio(read(0.56, "rule of thumb")),
    reference_rake_rad: 0.104_719_755_119_659_77,
}];
