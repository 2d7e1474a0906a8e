//! The force of a chip: Kienzle's main force with its corrections, and how the thrust splits into a push on the work
//! and a push along it.
//!
//! `Fc = kc1.1 · h^-mc · ap · f · corrections`, `h = f sin κ` (not below 0.05 mm, where the law would be stretched).
//! The thrust in the horizontal plane is `ratio · Fc`, across the chord of the engaged edge: with the chord at `κ_eq`
//! to the feed, `Ff = F sin κ_eq` and `Fp = F cos κ_eq`. A depth below the nose radius therefore pushes mostly away.
//!
//! Source: O. Kienzle, H. Victor, Werkstattstechnik u. Maschinenbau 47 (1957) 224; chord rule after L. V. Colwell,
//! Trans. ASME 76 (1954) 199; correction factors after H. Tschätsch, Praxiswissen Zerspantechnik (from memory).
//! Limit: tables of specific force differ by some 20 % for Fc and 40 % for Fp.

/// Smallest chip thickness the law is used at.
pub const LEAST_THICKNESS_MM: f64 = 0.05;

/// Specific cutting force at chip thickness `thickness_mm`, not clamped.
#[must_use]
pub fn kienzle_kc_mpa(kc11_mpa: f64, mc: f64, thickness_mm: f64) -> f64 {
    kc11_mpa * thickness_mm.powf(-mc)
}

/// Correction for rake: 1.5 % a degree from the reference rake.
///
/// Source: Tschätsch, from memory (sure).
#[must_use]
pub fn rake_factor(rake_rad: f64, reference_rake_rad: f64) -> f64 {
    1.0 - (rake_rad - reference_rake_rad).to_degrees() / 66.7
}

/// Correction for cutting speed, 1 at 100 m/min.
///
/// Source: Tschätsch, from memory (fair). Below 20 m/min the value at 20 is kept.
#[must_use]
pub fn speed_factor(cutting_speed_m_per_min: f64) -> f64 {
    let speed = cutting_speed_m_per_min.max(20.0);
    if speed < 100.0 { 2.023 / speed.powf(0.153) } else { 1.380 / speed.powf(0.07) }
}

/// Angle of the chord of the engaged edge to the feed direction, from depth (radial), feed, nose radius and entering
/// angle.
#[must_use]
pub fn chord_angle_rad(depth_mm: f64, feed_mm: f64, nose_radius_mm: f64, entering_angle_rad: f64) -> f64 {
    depth_mm.atan2(Edge::new(feed_mm, nose_radius_mm, entering_angle_rad).chord_run(depth_mm).0)
}

/// The plan of a cutting edge as far as the chord rule needs it: a nose arc and a straight edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    nose_radius_mm: f64,
    /// Depth at which the nose arc ends.
    nose_depth_mm: f64,
    /// Run of the chord along the feed that is there whatever the depth, beyond the nose.
    nose_run_mm: f64,
    half_feed_mm: f64,
    /// Run of the straight edge per depth.
    run_ratio: f64,
}

impl Edge {
    /// The edge of a tool at a feed per revolution.
    #[must_use]
    pub fn new(feed_mm: f64, nose_radius_mm: f64, entering_angle_rad: f64) -> Self {
        Self {
            nose_radius_mm,
            nose_depth_mm: nose_radius_mm * (1.0 - entering_angle_rad.cos()),
            nose_run_mm: nose_radius_mm * (entering_angle_rad / 2.0).tan(),
            half_feed_mm: feed_mm / 2.0,
            run_ratio: 1.0 / entering_angle_rad.tan(),
        }
    }

    /// How far the chord runs along the feed for its depth, and the derivative of that with depth.
    #[inline]
    fn chord_run(&self, depth_mm: f64) -> (f64, f64) {
        if depth_mm >= self.nose_depth_mm {
            (depth_mm * self.run_ratio + self.nose_run_mm + self.half_feed_mm, self.run_ratio)
        } else {
            let arc_mm = (depth_mm * (2.0 * self.nose_radius_mm - depth_mm)).max(0.0).sqrt();
            let slope = if arc_mm > 0.0 { (self.nose_radius_mm - depth_mm) / arc_mm } else { 0.0 };
            (arc_mm + self.half_feed_mm, slope)
        }
    }
}

/// The three parts of the force on the work, all 0 or more in an ordinary cut.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Forces {
    /// Main force, along the cutting speed.
    pub main_n: f64,
    /// Radial (passive) force, away from the tool.
    pub radial_n: f64,
    /// Feed force, along the work.
    pub feed_n: f64,
}

impl Forces {
    /// The forces after a step of the depth, along their slopes.
    #[must_use]
    pub fn moved(&self, per_mm: &Self, step_mm: f64) -> Self {
        Self {
            main_n: self.main_n + per_mm.main_n * step_mm,
            radial_n: self.radial_n + per_mm.radial_n * step_mm,
            feed_n: self.feed_n + per_mm.feed_n * step_mm,
        }
    }
}

/// Force as a function of the real radial depth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Law {
    /// A chip.
    Chip {
        /// Main force per mm of radial depth.
        main_n_per_mm: f64,
        /// Horizontal thrust against main force.
        thrust_ratio: f64,
        edge: Edge,
    },
    /// A push that is there whatever the depth.
    Constant(Forces),
    /// A push in proportion to depth, `at_depth` at `depth_mm`.
    Proportional { at_depth: Forces, depth_mm: f64 },
    /// One more cut of a thread, fed in at a right angle to the axis.
    Thread(ThreadChip),
}

/// What a pointed 60 degree tool meets when it goes deeper into a thread, on both flanks at once.
///
/// From depth `a1` to `a2` it takes `ΔA = (a2 - a1) w0 + (a2² - a1²) tan 30°` with a root as wide as `w0`. The chip on
/// the flanks is half as thick as the tool goes in (`sin 30°`), so `Fc = kc(h) ΔA` with `h = (a2 - a1) / 2`.
/// Source: geometry, worked out beside the project; the flanks push against each other along the work, so nothing is
/// left of the feed force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThreadChip {
    pub kc11_mpa: f64,
    pub mc: f64,
    /// All corrections of the main force together.
    pub correction_ratio: f64,
    /// Radial force against main force.
    pub radial_ratio: f64,
    /// How deep the thread is already, from the crest: `a1`.
    pub deep_mm: f64,
    /// Width of the root: `w0`.
    pub root_width_mm: f64,
}

/// The tangent of half the angle of a thread's profile.
const TAN_30: f64 = 0.577_350_269_189_625_8;

impl ThreadChip {
    /// Cross-section of what is taken off, and its growth per mm of depth.
    #[must_use]
    pub fn area_mm2(&self, depth_mm: f64) -> (f64, f64) {
        let width_mm = self.root_width_mm + (2.0 * self.deep_mm + depth_mm) * TAN_30;
        (depth_mm * width_mm, width_mm + depth_mm * TAN_30)
    }

    fn forces(&self, depth_mm: f64) -> (Forces, Forces) {
        if depth_mm <= 0.0 {
            return (Forces::default(), Forces::default());
        }
        let (area_mm2, area_per_mm) = self.area_mm2(depth_mm);
        let thickness_mm = depth_mm / 2.0;
        let kc_mpa =
            self.correction_ratio * kienzle_kc_mpa(self.kc11_mpa, self.mc, thickness_mm.max(LEAST_THICKNESS_MM));
        let kc_per_mm = if thickness_mm > LEAST_THICKNESS_MM { -self.mc * kc_mpa / depth_mm } else { 0.0 };
        let part = |main_n: f64| Forces { main_n, radial_n: self.radial_ratio * main_n, feed_n: 0.0 };
        (part(kc_mpa * area_mm2), part(kc_mpa * area_per_mm + kc_per_mm * area_mm2))
    }
}

impl Law {
    /// The forces at a radial depth, and what each gains per mm of depth.
    #[must_use]
    #[inline]
    pub fn forces(&self, depth_mm: f64) -> (Forces, Forces) {
        match *self {
            Self::Chip { main_n_per_mm, thrust_ratio, ref edge } => {
                if depth_mm <= 0.0 {
                    return (Forces::default(), Forces::default());
                }
                let (run_mm, run_slope) = edge.chord_run(depth_mm);
                let one_by_chord = 1.0 / (depth_mm * depth_mm + run_mm * run_mm).sqrt();
                let (sine, cosine) = (depth_mm * one_by_chord, run_mm * one_by_chord);
                let turn_per_mm = (cosine - sine * run_slope) * one_by_chord;
                let main_n = main_n_per_mm * depth_mm;
                let thrust_n = thrust_ratio * main_n;
                let thrust_per_mm = thrust_ratio * main_n_per_mm;
                (
                    Forces { main_n, radial_n: thrust_n * cosine, feed_n: thrust_n * sine },
                    Forces {
                        main_n: main_n_per_mm,
                        radial_n: thrust_per_mm * cosine - thrust_n * sine * turn_per_mm,
                        feed_n: thrust_per_mm * sine + thrust_n * cosine * turn_per_mm,
                    },
                )
            }
            Self::Constant(forces) => (forces, Forces::default()),
            Self::Thread(ref chip) => chip.forces(depth_mm),
            Self::Proportional { at_depth, depth_mm: full_mm } => {
                let share = depth_mm.max(0.0) / full_mm;
                let per_mm = Forces {
                    main_n: at_depth.main_n / full_mm,
                    radial_n: at_depth.radial_n / full_mm,
                    feed_n: at_depth.feed_n / full_mm,
                };
                (
                    Forces {
                        main_n: at_depth.main_n * share,
                        radial_n: at_depth.radial_n * share,
                        feed_n: at_depth.feed_n * share,
                    },
                    per_mm,
                )
            }
        }
    }
}
