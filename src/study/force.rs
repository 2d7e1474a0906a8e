//! The force law of a pass, from material, tool and chip or from the push the user typed.

use std::cell::Cell;
use std::f64::consts::PI;

use crate::job::material::Thrust;
use crate::job::{Cut, Force, Material, Pass, Tool, ToolMaterial, ToolWear};
use crate::mechanics::cutting::{
    Edge, Forces, LEAST_THICKNESS_MM, Law, ThreadChip, kienzle_kc_mpa, rake_factor, speed_factor,
};

/// A high-speed-steel edge against carbide.
///
/// Source: Tschätsch, Praxiswissen Zerspantechnik, from memory (fair); not stacked with the speed factor.
const HIGH_SPEED_STEEL_FACTOR: f64 = 1.2;

/// How far the chip's force is from what the tables say, as a factor; a push the user typed stays what it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Factors {
    /// On the main force.
    pub main_ratio: f64,
    /// On the thrust: the push away and the feed force. Not on top of `main_ratio`.
    pub radial_ratio: f64,
}

impl Factors {
    /// What the tables say.
    pub const ONE: Self = Self { main_ratio: 1.0, radial_ratio: 1.0 };
}

/// Boring against turning outside.
///
/// Source: Tschätsch, Praxiswissen Zerspantechnik, from memory (fair).
pub const BORING_FACTOR: f64 = 1.2;

/// Grooving and parting against turning along the work. Source: as [`BORING_FACTOR`].
pub const PLUNGE_FACTOR: f64 = 1.3;

/// Radial force of a threading tool fed straight in, against its main force; 0.4 to 0.7 are told.
///
/// Source: from memory (weak).
pub const THREAD_RADIAL_RATIO: f64 = 0.5;

/// How the tool of a pass meets the work.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Engagement {
    /// Along the work or across a face: the chip is as deep as the cut.
    Along,
    /// Along the wall of a bore.
    Bore,
    /// Into a thread of this pitch.
    Thread { pitch_mm: f64 },
    /// Straight in with an edge so wide, parallel to the axis: the chip is as thick as the feed, however deep it is.
    Plunge { width_mm: f64 },
    /// The feed has stopped and the tool has cut itself free.
    Dwell,
}

/// What the force of a chip is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChipTerms {
    pub kc11_mpa: f64,
    pub mc: f64,
    pub thickness_mm: f64,
    /// Corrections of the main force for rake and wear.
    pub rake_and_wear_ratio: f64,
    /// For speed and the material of the edge, and for boring.
    pub edge_ratio: f64,
    /// Horizontal thrust against main force.
    pub thrust_ratio: f64,
}

/// Everything of a pass that decides its force but the diameter.
#[derive(Clone, Debug)]
pub struct ForceModel<'a> {
    tool: &'a Tool,
    pass: &'a Pass,
    /// Radial depth of the last pass that set a new dial, for a push typed "at full depth" in a spring pass.
    last_depth_mm: f64,
    /// Main force per mm of radial depth without the factor for speed, and thrust against main force.
    chip: (f64, f64),
    edge: Edge,
    /// The factor for speed at the diameter it was last asked for.
    speed: Cell<(f64, f64)>,
    engagement: Engagement,
    /// The law of a chip without the factor for speed, for a thread.
    thread: ThreadChip,
}

impl<'a> ForceModel<'a> {
    /// The model of a pass.
    #[must_use]
    pub fn new(material: &Material, tool: &'a Tool, pass: &'a Pass, last_depth_mm: f64) -> Self {
        let thickness_mm = (pass.feed_mm_per_rev * tool.entering_angle_rad.sin()).max(LEAST_THICKNESS_MM);
        let (wear_factor, wear_thrust_factor) = wear_factors(tool.wear);
        let main_n_per_mm = kienzle_kc_mpa(material.kc11_mpa.value, material.mc.value, thickness_mm)
            * pass.feed_mm_per_rev
            * rake_factor(tool.rake_rad, material.reference_rake_rad).max(0.3)
            * wear_factor;
        let ratio = thrust_ratio(&material.thrust, thickness_mm) * wear_thrust_factor;
        let edge = Edge::new(pass.feed_mm_per_rev, tool.nose_radius_mm, tool.entering_angle_rad);
        let thread = ThreadChip {
            kc11_mpa: material.kc11_mpa.value,
            mc: material.mc.value,
            correction_ratio: rake_factor(tool.rake_rad, material.reference_rake_rad).max(0.3) * wear_factor,
            radial_ratio: THREAD_RADIAL_RATIO * wear_thrust_factor,
            deep_mm: 0.0,
            root_width_mm: 0.0,
        };
        let speed = Cell::new((f64::NAN, 1.0));
        let engagement = Engagement::Along;
        Self { tool, pass, last_depth_mm, edge, chip: (main_n_per_mm, ratio), speed, engagement, thread }
    }

    /// The model of a pass whose tool meets the work in another way than along its outside.
    #[must_use]
    pub fn engaged(
        material: &Material,
        tool: &'a Tool,
        pass: &'a Pass,
        last_depth_mm: f64,
        engagement: Engagement,
    ) -> Self {
        let mut model = Self::new(material, tool, pass, last_depth_mm);
        model.engagement = engagement;
        if let Engagement::Plunge { .. } = engagement {
            // The whole edge lies along the work: the chip is as thick as the feed, whatever the entering angle.
            let thickness_mm = pass.feed_mm_per_rev.max(LEAST_THICKNESS_MM);
            let kc_mpa = kienzle_kc_mpa(model.thread.kc11_mpa, model.thread.mc, thickness_mm);
            let (_, wear_thrust_factor) = wear_factors(tool.wear);
            model.chip = (
                kc_mpa * pass.feed_mm_per_rev * model.thread.correction_ratio * PLUNGE_FACTOR,
                thrust_ratio(&material.thrust, thickness_mm) * wear_thrust_factor,
            );
        }
        model
    }

    /// The same with a chip that is so many times harder.
    #[must_use]
    pub fn times(mut self, factors: Factors) -> Self {
        let (main_n_per_mm, thrust_ratio) = self.chip;
        self.chip = (main_n_per_mm * factors.main_ratio, thrust_ratio * (factors.radial_ratio / factors.main_ratio));
        self.thread.correction_ratio *= factors.main_ratio;
        self.thread.radial_ratio *= factors.radial_ratio / factors.main_ratio;
        self
    }

    /// What the force of a chip along the work is made of at one diameter.
    #[must_use]
    pub fn terms(&self, diameter_mm: f64) -> ChipTerms {
        let _ = self.chip_law(diameter_mm, 0.0);
        let boring = if self.engagement == Engagement::Bore { BORING_FACTOR } else { 1.0 };
        let feed_thickness_mm = self.pass.feed_mm_per_rev * self.tool.entering_angle_rad.sin();
        ChipTerms {
            kc11_mpa: self.thread.kc11_mpa,
            mc: self.thread.mc,
            thickness_mm: feed_thickness_mm.max(LEAST_THICKNESS_MM),
            rake_and_wear_ratio: self.thread.correction_ratio,
            edge_ratio: self.speed.get().1 * boring,
            thrust_ratio: self.chip.1,
        }
    }

    /// The law at one diameter, for a dial that asks for `depth_mm` (radial).
    #[must_use]
    pub fn law(&self, diameter_mm: f64, depth_mm: f64) -> Law {
        self.law_over(diameter_mm, depth_mm, 0.0)
    }

    /// As [`Self::law`], where a thread is already `thread_mm` deep.
    #[must_use]
    pub fn law_over(&self, diameter_mm: f64, depth_mm: f64, thread_mm: f64) -> Law {
        if self.engagement == Engagement::Dwell {
            return Law::Constant(Forces::default());
        }
        match self.pass.force {
            Force::FromCut => self.chip_law(diameter_mm, thread_mm),
            Force::Typed { radial_n, main_n, feed_n, follows_depth } => {
                let at_depth = Forces { main_n, radial_n, feed_n };
                // The chip of a plunge has one thickness, so its push does not know the depth.
                if !follows_depth || matches!(self.engagement, Engagement::Plunge { .. }) {
                    return Law::Constant(at_depth);
                }
                let own_mm = match self.pass.cut {
                    Cut::Depth { on_diameter_mm } => on_diameter_mm / 2.0,
                    Cut::ToDiameter { .. } | Cut::ToDrawing { .. } => 0.0,
                };
                let full_mm = [depth_mm, own_mm, self.last_depth_mm].into_iter().find(|depth| *depth > 1e-6);
                full_mm.map_or(Law::Constant(Forces::default()), |depth_mm| Law::Proportional { at_depth, depth_mm })
            }
        }
    }

    fn chip_law(&self, diameter_mm: f64, thread_mm: f64) -> Law {
        let (at_mm, mut edge_factor) = self.speed.get();
        if at_mm != diameter_mm {
            let speed = speed_factor(PI * diameter_mm * self.pass.speed_rpm / 1000.0);
            edge_factor = match self.tool.material {
                ToolMaterial::HighSpeedSteel => speed.max(HIGH_SPEED_STEEL_FACTOR),
                ToolMaterial::Carbide => speed,
            };
            self.speed.set((diameter_mm, edge_factor));
        }
        let (main_n_per_mm, thrust_ratio) = (self.chip.0 * edge_factor, self.chip.1);
        match self.engagement {
            Engagement::Along => Law::Chip { main_n_per_mm, thrust_ratio, edge: self.edge },
            Engagement::Bore => {
                Law::Chip { main_n_per_mm: main_n_per_mm * BORING_FACTOR, thrust_ratio, edge: self.edge }
            }
            Engagement::Thread { pitch_mm } => Law::Thread(ThreadChip {
                correction_ratio: self.thread.correction_ratio * edge_factor,
                deep_mm: thread_mm.max(0.0),
                root_width_mm: pitch_mm / 6.0,
                ..self.thread
            }),
            Engagement::Plunge { width_mm } => {
                let main_n = main_n_per_mm * width_mm;
                Law::Constant(Forces { main_n, radial_n: thrust_ratio * main_n, feed_n: 0.0 })
            }
            Engagement::Dwell => Law::Constant(Forces::default()),
        }
    }
}

/// What wear does to the main force, and how much more to the thrust.
///
/// Source: main force 1.3 at the usual end of life, 1.5 blunt: Tschätsch, from memory (sure); that the thrust may
/// double with a blunt edge: general workshop texts, from memory (fair).
fn wear_factors(wear: ToolWear) -> (f64, f64) {
    match wear {
        ToolWear::Sharp => (1.0, 1.0),
        ToolWear::Used => (1.3, 1.2),
        ToolWear::Blunt => (1.5, 4.0 / 3.0),
    }
}

/// Horizontal thrust against main force at a chip thickness.
#[must_use]
pub fn thrust_ratio(thrust: &Thrust, thickness_mm: f64) -> f64 {
    match *thrust {
        Thrust::Ratio(ratio) => ratio.value,
        Thrust::ThreeComponent { kc11_mpa, one_minus_mc, kf11_mpa, one_minus_mf, kp11_mpa, one_minus_mp, .. } => {
            let feed = kf11_mpa * thickness_mm.powf(one_minus_mf);
            let radial = kp11_mpa * thickness_mm.powf(one_minus_mp);
            feed.hypot(radial) / (kc11_mpa * thickness_mm.powf(one_minus_mc))
        }
    }
}
