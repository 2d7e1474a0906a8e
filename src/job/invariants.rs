//! What every job is, always: numbers finite and of the right sign, within what a lathe can be; ids unique; lists not
//! empty where one is needed and never absurdly long.
//!
//! [`Job::apply`], [`super::Document::pin`] and the file reader refuse what breaks this; [`Job::check`] speaks of
//! everything softer.

mod arrangement;

use super::pins::LETTERS;
use super::{
    BoreLand, EditError, Feature, FeatureKind, Job, Land, Lathe, MaterialChoice, Pins, Shaft, Spread, Stated,
    Stiffness, Tolerance,
};
use arrangement::arrangement;

/// Longest length along the bed, 100 m.
const MAX_LENGTH_MM: f64 = 1e5;
/// Largest diameter, 10 m.
const MAX_DIAMETER_MM: f64 = 1e4;
/// Shortest length and smallest diameter that is not nothing.
const LEAST_MM: f64 = 1e-3;
/// Stiffer than any part of a machine; beyond it a part is called rigid.
const MAX_STIFFNESS: f64 = 1e15;
const LEAST_STIFFNESS: f64 = 1e-6;
/// Longest list of anything; with the next ones, what keeps every job well within the largest file.
const MAX_COUNT: usize = 1000;
/// Most set-ups, and longest list within one.
const MAX_COUNT_IN_SETUP: usize = 50;
/// Longest notes, in bytes.
const MAX_NOTES: usize = 200_000;
/// Longest name of anything, in bytes.
const MAX_NAME: usize = 1000;

type Checked = Result<(), EditError>;

fn impossible(what: impl Into<String>, why: impl Into<String>) -> EditError {
    EditError::Impossible { what: what.into(), why: why.into() }
}

/// Where a number stands, as the user sees it; written out only when it is wrong.
struct Place<'a> {
    of: &'a dyn Fn() -> String,
}

impl Place<'_> {
    fn wrong(&self, field: &str, why: impl Into<String>) -> Checked {
        Err(impossible(format!("{}, {field}", (self.of)()), why))
    }

    fn finite(&self, field: &str, value: f64) -> Checked {
        if value.is_finite() { Ok(()) } else { self.wrong(field, "is not a number") }
    }

    /// Anything between the two, both included.
    fn between(&self, field: &str, value: f64, least: f64, most: f64, why: &str) -> Checked {
        self.finite(field, value)?;
        if (least..=most).contains(&value) { Ok(()) } else { self.wrong(field, why) }
    }

    /// A place or offset, of either sign.
    fn place(&self, field: &str, mm: f64) -> Checked {
        self.between(field, mm, -MAX_LENGTH_MM, MAX_LENGTH_MM, "is out of all reach (more than 100 m, 328 ft)")
    }

    fn length(&self, field: &str, mm: f64) -> Checked {
        self.sized(field, mm, MAX_LENGTH_MM, "is out of all reach (more than 100 m, 328 ft)")
    }

    fn diameter(&self, field: &str, mm: f64) -> Checked {
        self.sized(field, mm, MAX_DIAMETER_MM, "is larger than any lathe takes (more than 10 m)")
    }

    fn sized(&self, field: &str, mm: f64, most: f64, why: &str) -> Checked {
        self.finite(field, mm)?;
        match mm {
            _ if mm <= 0.0 => self.wrong(field, "must be more than 0"),
            _ if mm < LEAST_MM => self.wrong(field, "is less than a micrometre"),
            _ if mm > most => self.wrong(field, why),
            _ => Ok(()),
        }
    }

    fn at_least_nothing(&self, field: &str, value: f64, most: f64) -> Checked {
        self.finite(field, value)?;
        match value {
            _ if value < 0.0 => self.wrong(field, "must not be less than 0"),
            _ if value > most => self.wrong(field, "is far too large"),
            _ => Ok(()),
        }
    }

    fn positive(&self, field: &str, value: f64, most: f64) -> Checked {
        self.finite(field, value)?;
        match value {
            _ if value <= 0.0 => self.wrong(field, "must be more than 0"),
            _ if value > most => self.wrong(field, "is far too large"),
            _ => Ok(()),
        }
    }

    fn stiffness(&self, field: &str, stiffness: Stiffness) -> Checked {
        match stiffness {
            Stiffness::Rigid => Ok(()),
            Stiffness::Spring(Stated { value, .. }) => {
                self.positive(field, value, MAX_STIFFNESS)?;
                if value < LEAST_STIFFNESS { self.wrong(field, "is next to nothing") } else { Ok(()) }
            }
        }
    }

    fn angle(&self, field: &str, rad: f64, least_deg: f64, most_deg: f64) -> Checked {
        self.finite(field, rad)?;
        // Compared in degrees with a hair's breadth, so that a typed limit itself is let through.
        let deg = rad.to_degrees();
        if (least_deg - 1e-9..=most_deg + 1e-9).contains(&deg) {
            Ok(())
        } else {
            self.wrong(field, format!("must lie between {least_deg} and {most_deg} degrees"))
        }
    }

    fn name(&self, field: &str, name: &str) -> Checked {
        if name.len() <= MAX_NAME { Ok(()) } else { self.wrong(field, "is too long") }
    }

    fn count(&self, field: &str, count: usize, most: usize) -> Checked {
        if count <= most { Ok(()) } else { self.wrong(field, format!("are more than {most}")) }
    }
}

impl Job {
    /// Whether the job is one that can be, whatever its sense.
    ///
    /// # Errors
    /// [`EditError::Impossible`] with the first thing found, named as the user sees it.
    pub fn validate(&self) -> Result<(), EditError> {
        shaft(&self.shaft)?;
        lathe(&self.lathe)?;
        let job = Place { of: &|| "The job".to_owned() };
        job.name("title", &self.title)?;
        job.name("part number", &self.title_block.part)?;
        job.name("owner", &self.title_block.owner)?;
        job.name("date", &self.title_block.date)?;
        if self.notes.len() > MAX_NOTES {
            return job.wrong("notes", "are too long");
        }
        spread(&job, &self.spread)?;
        arrangement(&self.setups, &self.readings, self.next_id)
    }
}

impl Pins {
    /// Whether each pinned arrangement can be one of a job with this next number.
    ///
    /// # Errors
    /// [`EditError`] with the first thing found, the arrangement named as the user sees it.
    pub fn validate(&self, next_id: u32) -> Result<(), EditError> {
        Place { of: &|| "The present arrangement".to_owned() }.name("name", &self.present_name)?;
        for (letter, pin) in self.all() {
            let which = format!("pinned arrangement {}", LETTERS[letter]);
            Place { of: &|| which.clone() }.name("name", &pin.name)?;
            arrangement(&pin.setups, &pin.readings, next_id).map_err(|why| EditError::Pinned {
                which: if pin.name.is_empty() { which } else { format!("{which}, '{}'", pin.name) },
                why: Box::new(why),
            })?;
        }
        Ok(())
    }
}

fn spread(job: &Place<'_>, spread: &Spread) -> Checked {
    job.between("spread of the main force", spread.main_ratio, 0.0, 0.9, "must lie between 0 and 90 %")?;
    job.between("spread of the push away", spread.radial_ratio, 0.0, 0.9, "must lie between 0 and 90 %")?;
    job.between("spread of stiffness", spread.stiffness_factor, 1.0, 100.0, "must lie between 1 and 100")?;
    job.between("damping ratio", spread.damping_ratio.value, 1e-4, 0.5, "must lie between 0.0001 and 0.5")
}

fn shaft(shaft: &Shaft) -> Checked {
    let here = Place { of: &|| "The shaft".to_owned() };
    if shaft.stock.is_empty() {
        return here.wrong("stock", "needs at least one length");
    }
    here.count("lengths of stock", shaft.stock.len(), MAX_COUNT)?;
    here.count("lengths of the finished part", shaft.wanted.len(), MAX_COUNT)?;
    here.count("bores", shaft.bores.len(), MAX_COUNT)?;
    here.count("features", shaft.features.len(), MAX_COUNT)?;
    for (index, one) in shaft.stock.iter().enumerate() {
        land(&Place { of: &|| format!("The stock, length {}", index + 1) }, one)?;
    }
    for (index, wanted) in shaft.wanted.iter().enumerate() {
        let here = Place { of: &|| format!("The finished part, length {}", index + 1) };
        here.name("name", &wanted.name)?;
        land(&here, &wanted.land)?;
        tolerance(&here, wanted.tolerance)?;
    }
    for (index, one) in shaft.bores.iter().enumerate() {
        bore(&Place { of: &|| format!("Bore {}", index + 1) }, one, shaft)?;
    }
    for (index, one) in shaft.features.iter().enumerate() {
        feature(&Place { of: &|| format!("Feature {}", index + 1) }, one)?;
    }
    here.place("start of the finished part", shaft.wanted_start_s_mm)?;
    here.at_least_nothing("run-out of the bar", shaft.bow_tir_mm, MAX_DIAMETER_MM)?;
    here.angle("side the bar is bent to", shaft.bow_at_rad, -360.0, 360.0)?;
    for (name, hole) in [("centre hole at end A", shaft.centre_hole_a), ("centre hole at end B", shaft.centre_hole_b)] {
        if let Some(hole) = hole {
            here.diameter(name, hole.pilot_mm)?;
            here.at_least_nothing(&format!("{name}, run-out"), hole.off_tir_mm, 1000.0)?;
            here.angle(&format!("{name}, side"), hole.off_at_rad, -360.0, 360.0)?;
        }
    }
    material(&shaft.material)
}

fn land(here: &Place<'_>, land: &Land) -> Checked {
    here.length("length", land.length_mm)?;
    here.diameter("diameter at its start", land.start_diameter_mm)?;
    here.diameter("diameter at its end", land.end_diameter_mm)
}

fn tolerance(here: &Place<'_>, tolerance: Tolerance) -> Checked {
    match tolerance {
        Tolerance::Free => Ok(()),
        Tolerance::Limits { lower_mm, upper_mm } => {
            let why = "is no tolerance of a turned size (more than 100 mm)";
            here.between("lower limit", lower_mm, -100.0, 100.0, why)?;
            here.between("upper limit", upper_mm, -100.0, 100.0, why)
        }
        Tolerance::H { grade } | Tolerance::Js { grade } => {
            if (5..=11).contains(&grade) {
                Ok(())
            } else {
                here.wrong("tolerance", format!("has grade {grade}; grades 5 to 11 are known"))
            }
        }
    }
}

fn bore(here: &Place<'_>, bore: &BoreLand, shaft: &Shaft) -> Checked {
    here.at_least_nothing("start", bore.from_s_mm, MAX_LENGTH_MM)?;
    here.place("end", bore.to_s_mm)?;
    if bore.to_s_mm <= bore.from_s_mm {
        return here.wrong("end", "must lie beyond its start");
    }
    here.diameter("diameter at its start", bore.start_diameter_mm)?;
    here.diameter("diameter at its end", bore.end_diameter_mm)?;
    // Both are straight between their ends, so the ends of the common stretches decide.
    for (from_s_mm, to_s_mm, land) in shaft.stock_spans() {
        let (from, to) = (from_s_mm.max(bore.from_s_mm), to_s_mm.min(bore.to_s_mm));
        if to <= from {
            continue;
        }
        for s_mm in [from, to] {
            let outside = land.start_diameter_mm
                + (land.end_diameter_mm - land.start_diameter_mm) * (s_mm - from_s_mm) / land.length_mm;
            let share = (s_mm - bore.from_s_mm) / (bore.to_s_mm - bore.from_s_mm);
            let inside = bore.start_diameter_mm + (bore.end_diameter_mm - bore.start_diameter_mm) * share;
            if inside >= outside {
                return here.wrong("diameter", "leaves no wall: it is as large as the stock around it");
            }
        }
    }
    Ok(())
}

fn feature(here: &Place<'_>, feature: &Feature) -> Checked {
    here.place("start", feature.from_s_mm)?;
    here.place("end", feature.to_s_mm)?;
    if feature.to_s_mm < feature.from_s_mm {
        return here.wrong("end", "must not lie before its start");
    }
    match feature.kind {
        FeatureKind::Thread { pitch_mm } => here.length("pitch", pitch_mm),
        FeatureKind::Keyway { width_mm, depth_mm } => {
            here.length("width", width_mm)?;
            here.length("depth", depth_mm)
        }
        FeatureKind::CrossHole { diameter_mm } => here.diameter("diameter", diameter_mm),
        FeatureKind::Groove { depth_mm } => here.length("depth", depth_mm),
        FeatureKind::Flat | FeatureKind::Spline | FeatureKind::Weld | FeatureKind::TrueSpot => Ok(()),
    }
}

fn material(choice: &MaterialChoice) -> Checked {
    let here = Place { of: &|| "The material".to_owned() };
    let own = match choice {
        MaterialChoice::Listed(key) => return here.name("name", key),
        MaterialChoice::Own(own) => own,
    };
    here.name("name", &own.name)?;
    here.positive("stiffness of the material (E)", own.e_mpa, 1e7)?;
    here.between("Poisson's ratio", own.poisson_ratio, 0.0, 0.499, "must lie between 0 and 0.499")?;
    here.positive("density", own.density_kg_per_m3, 1e5)?;
    here.at_least_nothing("growth with heat", own.growth_per_k, 1e-3)?;
    here.positive("specific cutting force", own.kc11_mpa, 1e5)?;
    here.between("exponent of the chip thickness", own.mc, 0.0, 0.99, "must lie between 0 and 0.99")?;
    here.at_least_nothing("thrust against main force", own.thrust_ratio, 10.0)
}

fn lathe(lathe: &Lathe) -> Checked {
    let here = Place { of: &|| "The lathe".to_owned() };
    here.name("name", &lathe.name)?;
    for (field, stated) in [
        ("swing over bed", lathe.swing_over_bed_mm),
        ("swing over cross slide", lathe.swing_over_cross_slide_mm),
        ("spindle bore", lathe.spindle_bore_mm),
        ("chuck diameter", lathe.chuck_diameter_mm),
        ("smallest diameter in the steady rest", lathe.rest_min_diameter_mm),
        ("largest diameter in the steady rest", lathe.rest_max_diameter_mm),
        ("bore of the steady rest's frame", lathe.rest_bore_mm),
        ("smallest diameter in the follower rest", lathe.follower_min_diameter_mm),
        ("largest diameter in the follower rest", lathe.follower_max_diameter_mm),
        ("quill diameter", lathe.quill_diameter_mm),
        ("rollers of the rest", lathe.roller_diameter_mm),
    ] {
        here.diameter(field, stated.value)?;
    }
    for (field, stated) in [
        ("distance between centres", lathe.between_centres_mm),
        ("headstock length", lathe.headstock_length_mm),
        ("jaw depth of the chuck", lathe.jaw_depth_mm),
        ("carriage to the left of the tool", lathe.carriage_left_mm),
        ("carriage to the right of the tool", lathe.carriage_right_mm),
        ("base of the steady rest", lathe.rest_base_mm),
        ("width of the follower rest", lathe.follower_width_mm),
        ("width of the steady rest's jaws", lathe.rest_jaw_width_mm),
        ("base of the tailstock", lathe.tailstock_base_mm),
        ("quill travel", lathe.quill_travel_mm),
        ("centre length", lathe.centre_length_mm),
        ("tips of the rest around the work", lathe.pad_length_mm),
    ] {
        here.length(field, stated.value)?;
    }
    here.at_least_nothing("nearest the tool comes to the jaws", lathe.nearest_to_jaws_mm.value, MAX_LENGTH_MM)?;
    here.at_least_nothing("tool holder to the left of the tool", lathe.holder_left_mm.value, MAX_LENGTH_MM)?;
    here.at_least_nothing("tool holder to the right of the tool", lathe.holder_right_mm.value, MAX_LENGTH_MM)?;
    here.positive("speed stamped on the chuck", lathe.chuck_max_rpm.value, 1e5)?;
    here.positive("power", lathe.power_kw.value, 1e4)?;
    here.positive("heaviest work", lathe.max_work_kg.value, 1e6)?;
    let ratio = lathe.quill_out_stiffness_ratio.value;
    here.between("stiffness left with the quill out", ratio, 0.01, 1.0, "must lie between 0.01 and 1")?;
    here.stiffness("stiffness of the headstock", lathe.headstock_k_n_per_mm)?;
    here.stiffness("stiffness of the tailstock", lathe.tailstock_k_n_per_mm)?;
    here.stiffness("stiffness of the tailstock along the bed", lathe.tailstock_axial_k_n_per_mm)?;
    here.stiffness("spring of the spring centre", Stiffness::Spring(lathe.spring_centre_k_n_per_mm))?;
    here.stiffness("stiffness of the carriage", lathe.carriage_k_n_per_mm)?;
    rising(&here, "spindle speeds", &lathe.speeds_rpm, 1e5)?;
    rising(&here, "feeds", &lathe.feeds_mm_per_rev, 100.0)
}

fn rising(here: &Place<'_>, field: &str, steps: &[f64], most: f64) -> Checked {
    here.count(field, steps.len(), MAX_COUNT_IN_SETUP)?;
    for step in steps {
        here.positive(field, *step, most)?;
    }
    if steps.windows(2).all(|pair| pair[0] < pair[1]) {
        Ok(())
    } else {
        here.wrong(field, "must rise from one to the next")
    }
}
