//! What the work is made of: stiffness, weight, growth and resistance to the cut, each figure with its source.

/// How far a figure can be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trust {
    /// The number was read in the source named.
    Read,
    /// From memory, and it would be a surprise if it were wrong.
    MemorySure,
    /// From memory; check before relying on it.
    MemoryFair,
    /// From memory; an order of magnitude only.
    MemoryWeak,
    /// The user's own value.
    Own,
}

/// A figure with where it comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fact {
    pub value: f64,
    pub source: &'static str,
    pub trust: Trust,
}

/// The share of the cutting force that lies in the horizontal plane, against the main force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Thrust {
    /// Thrust = ratio x main force: the shop rule.
    Ratio(Fact),
    /// Three-component constants: `kf1.1`, `1-mf`, `kp1.1`, `1-mp` against `kc1.1`, `1-mc` of the same table, from
    /// which the ratio follows at any chip thickness.
    ThreeComponent {
        kc11_mpa: f64,
        one_minus_mc: f64,
        kf11_mpa: f64,
        one_minus_mf: f64,
        kp11_mpa: f64,
        one_minus_mp: f64,
        source: &'static str,
        trust: Trust,
    },
}

/// One material.
#[derive(Clone, Debug, PartialEq)]
pub struct Material {
    /// Name in the file, e.g. `"C45"`.
    pub key: String,
    /// Name on screen.
    pub name: String,
    pub e_mpa: Fact,
    pub poisson_ratio: Fact,
    pub density_kg_per_m3: Fact,
    /// Thermal growth per K.
    pub growth_per_k: Fact,
    /// Specific cutting force at 1 mm x 1 mm, Kienzle's main value.
    pub kc11_mpa: Fact,
    /// Kienzle's exponent.
    pub mc: Fact,
    pub thrust: Thrust,
    /// Reference rake of `kc11_mpa` (rad): 6 degrees for steel, 2 for cast iron.
    pub reference_rake_rad: f64,
}

/// The material of a shaft: one of the table, or the user's own figures.
#[derive(Clone, Debug, PartialEq)]
pub enum MaterialChoice {
    /// A key of [`super::materials::MATERIALS`]; [`super::Job::check`] reports one that is not there.
    Listed(String),
    Own(OwnMaterial),
}

/// A material the user typed.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnMaterial {
    pub name: String,
    pub e_mpa: f64,
    pub poisson_ratio: f64,
    pub density_kg_per_m3: f64,
    pub growth_per_k: f64,
    pub kc11_mpa: f64,
    pub mc: f64,
    /// Horizontal thrust against main force.
    pub thrust_ratio: f64,
}

impl OwnMaterial {
    /// The figures as a [`Material`].
    #[must_use]
    pub fn to_material(&self) -> Material {
        let own = |value: f64| Fact { value, source: "your own value", trust: Trust::Own };
        Material {
            key: String::new(),
            name: self.name.clone(),
            e_mpa: own(self.e_mpa),
            poisson_ratio: own(self.poisson_ratio),
            density_kg_per_m3: own(self.density_kg_per_m3),
            growth_per_k: own(self.growth_per_k),
            kc11_mpa: own(self.kc11_mpa),
            mc: own(self.mc),
            thrust: Thrust::Ratio(own(self.thrust_ratio)),
            reference_rake_rad: 6f64.to_radians(),
        }
    }
}
