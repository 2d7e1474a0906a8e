//! Numbers only: how a round bar bends, which jaws touch, what the cut asks for. Pure functions that know no job.
//!
//! The order to read in: [`beam`] gives one element; [`walk`] condenses everything on one side of the
//! tool in a single pass along the work; [`held`] joins two walks at the tool and says what each support feels;
//! [`contact`] finds which jaws touch; [`cutting`] is the force of a chip; [`cut`] puts force, spring and contact
//! together at one place of the tool; [`deflection`] draws the whole bent line for forces that are known. [`influence`]
//! keeps what [`held`] would say for rests at any of many places.
//!
//! What a support feels beyond its force: [`hertz`] is the pressure under a jaw's tip, [`rubbing`] its friction and heat,
//! [`ring`] a thin wall pressed in; [`roughness`] is the mark of the tool's nose.
//! What moves: [`mass`] puts the work's mass to the nodes; [`chain`] is the walk once more, for any kind of [`number`];
//! [`count`] counts lost stiffness with it, [`vibration`] finds natural frequencies and [`buckling`] the critical axial
//! force by counts; [`receptance`] is the give of the work at the tool under a swinging force, and [`chatter`] what chip
//! that allows.

pub mod beam;
pub mod buckling;
pub mod chain;
pub mod chatter;
pub mod contact;
pub mod count;
pub mod cut;
pub mod cutting;
pub mod deflection;
pub mod held;
pub mod hertz;
pub mod influence;
pub mod mass;
pub mod number;
pub mod receptance;
mod receptance_walk;
pub mod ring;
pub mod roughness;
pub mod rubbing;
mod shifted;
mod small_matrix;
pub mod vibration;
pub mod walk;
mod wide;

/// A radial spring so stiff that it counts as rigid: 1e12 N/mm.
pub const RIGID_N_PER_MM: f64 = 1e12;

/// A rotational spring so stiff that it counts as rigid: 1e15 N·mm/rad.
pub const RIGID_NMM_PER_RAD: f64 = 1e15;

/// Standard gravity, m/s² or N/kg.
///
/// Source: 3rd General Conference on Weights and Measures, 1901.
pub const GRAVITY_N_PER_KG: f64 = 9.806_65;
