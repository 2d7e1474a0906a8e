//! The lathe as a person can measure it with a tape and read it off its plate, and how much it gives.
//!
//! Every number is [`Stated`]: it knows whether it is the user's or assumed, and says so wherever it is shown.

/// A number and whether it is a default that nobody has confirmed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stated {
    pub value: f64,
    /// True until the user states the value.
    pub assumed: bool,
}

impl Stated {
    /// A default of the program.
    #[must_use]
    pub const fn assumed(value: f64) -> Self {
        Self { value, assumed: true }
    }

    /// A value the user gave.
    #[must_use]
    pub const fn given(value: f64) -> Self {
        Self { value, assumed: false }
    }
}

/// How much a part gives: not at all, or as a spring. The unit is that of the field that holds it
/// (N/mm, or N·mm/rad for a rotation).
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stiffness {
    /// For teaching and checking.
    Rigid,
    Spring(Stated),
}

impl Stiffness {
    /// An assumed spring.
    #[must_use]
    pub const fn assumed(value: f64) -> Self {
        Self::Spring(Stated::assumed(value))
    }

    /// The spring constant, or `rigid` where nothing gives.
    #[must_use]
    pub fn value_or(self, rigid: f64) -> f64 {
        match self {
            Self::Rigid => rigid,
            Self::Spring(stated) => stated.value,
        }
    }
}

/// A manual engine lathe. Lengths in mm, along the bed from the chuck jaw face unless said.
#[derive(Clone, Debug, PartialEq)]
pub struct Lathe {
    pub name: String,
    /// Largest diameter that clears the bed.
    pub swing_over_bed_mm: Stated,
    /// Largest diameter that clears the cross slide.
    pub swing_over_cross_slide_mm: Stated,
    /// Distance between centres.
    pub between_centres_mm: Stated,
    pub spindle_bore_mm: Stated,
    /// From the jaw face back to the rear end of the spindle.
    pub headstock_length_mm: Stated,
    /// Body of the chuck.
    pub chuck_diameter_mm: Stated,
    /// Speed stamped on the chuck.
    pub chuck_max_rpm: Stated,
    /// Depth the jaws can grip.
    pub jaw_depth_mm: Stated,
    /// From the tool tip to the headstock-side end of the carriage wings.
    pub carriage_left_mm: Stated,
    /// From the tool tip to the tailstock-side end of the carriage wings.
    pub carriage_right_mm: Stated,
    /// From the tool tip to the headstock-side end of what stands higher than the wings: cross slide and tool holder.
    pub holder_left_mm: Stated,
    /// The same to their tailstock-side end.
    pub holder_right_mm: Stated,
    /// From the chuck's jaw face to the tool tip with the carriage up against headstock or chuck; 0 where the tool
    /// reaches the jaws.
    pub nearest_to_jaws_mm: Stated,
    /// The wings run past the tailstock, on other ways than it is clamped to.
    pub wings_pass_tailstock: bool,
    /// Length of the steady rest's base along the bed.
    pub rest_base_mm: Stated,
    /// The wings run past the steady rest's base, on other ways than it is clamped to.
    pub wings_pass_rest: bool,
    /// Width of a steady-rest jaw along the work.
    pub rest_jaw_width_mm: Stated,
    pub rest_min_diameter_mm: Stated,
    pub rest_max_diameter_mm: Stated,
    /// What turns freely inside the closed frame of the steady rest.
    pub rest_bore_mm: Stated,
    pub follower_min_diameter_mm: Stated,
    pub follower_max_diameter_mm: Stated,
    /// Width of the follower rest along the work, jaws and frame.
    pub follower_width_mm: Stated,
    /// Length of the tailstock base along the bed.
    pub tailstock_base_mm: Stated,
    pub quill_travel_mm: Stated,
    pub quill_diameter_mm: Stated,
    /// From the quill's end to the point of a dead centre in it.
    pub centre_length_mm: Stated,
    /// Spindle speeds of the gearbox, rising; empty where the speed can be set freely.
    pub speeds_rpm: Vec<f64>,
    /// Feeds of the gearbox per revolution, rising; empty where free.
    pub feeds_mm_per_rev: Vec<f64>,
    pub power_kw: Stated,
    /// Heaviest work between centres.
    pub max_work_kg: Stated,
    /// Radial stiffness of the spindle at its nose (N/mm).
    pub headstock_k_n_per_mm: Stiffness,
    /// Radial stiffness of the tailstock with a dead centre and the quill drawn in (N/mm).
    pub tailstock_k_n_per_mm: Stiffness,
    /// What is left of that stiffness with the quill fully out.
    pub quill_out_stiffness_ratio: Stated,
    /// Stiffness of the tailstock along the bed, with a dead centre (N/mm).
    pub tailstock_axial_k_n_per_mm: Stiffness,
    /// What a spring-loaded centre gives along the bed (N/mm).
    pub spring_centre_k_n_per_mm: Stated,
    /// Length of a jaw's tip around the work.
    pub pad_length_mm: Stated,
    /// Diameter of the rollers of a roller rest.
    pub roller_diameter_mm: Stated,
    /// Radial stiffness of carriage, slides and tool post at the tool tip (N/mm).
    pub carriage_k_n_per_mm: Stiffness,
}
