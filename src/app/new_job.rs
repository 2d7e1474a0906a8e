//! The short form of a new job: material, lathe, the lands with the size each is to have, and how the work is held.
//! What comes of it is a job with a rough and a finish pass; everything else is then typed or dragged.

use egui::{Context, Grid, Id, Modal, RichText, ScrollArea, Ui};

use super::entry::{Entry, Named, error_ui};
use super::fields::Fields;
use super::theme;
use crate::job::materials::MATERIALS;
use crate::job::quantity::{Kind, unit_name};
use crate::job::{
    CentreHole, Cut, Edit, Job, Land, Lathe, MaterialChoice, Pass, PassId, Rest, RestId, Setup, SetupId, Shaft, Spread,
    TitleBlock, Tolerance, Units, WantedLand,
};

/// Left on diameter by the rough pass. Common practice, no source.
const LEFT_BY_ROUGHING_MM: f64 = 0.5;
/// Feeds of the two passes. Common practice, no source.
const ROUGH_FEED_MM_PER_REV: f64 = 0.2;
const FINE_FEED_MM_PER_REV: f64 = 0.1;
/// Cutting speed the spindle speed is taken from: carbide in steel, taken gently for slender work. Common practice,
/// no source.
const CUTTING_SPEED_M_PER_MIN: f64 = 60.0;
/// Work a driving dog takes up at the headstock end. Common practice, no source.
const DOG_MM: f64 = 35.0;
/// Room between jaw face and the end of a cut. Common practice, no source.
const JAW_CLEARANCE_MM: f64 = 5.0;

/// How the work is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Holding {
    Chuck,
    ChuckAndCentre,
    BetweenCentres,
}

/// A row of the table of lands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FormLand {
    pub length_mm: f64,
    pub diameter_mm: f64,
    pub wanted_diameter_mm: f64,
}

/// The form as filled in so far.
#[derive(Clone, Debug)]
pub struct NewJobForm {
    pub title: String,
    pub units: Units,
    /// Row of [`MATERIALS`].
    pub material: usize,
    /// Small, medium or large: 0 to 2.
    pub lathe: usize,
    pub lands: Vec<FormLand>,
    pub holding: Holding,
    /// A steady rest half-way along.
    pub steady: bool,
    error: Option<String>,
}

/// What became of the form in this frame.
#[derive(Clone, Debug)]
pub enum Outcome {
    /// Still being filled in.
    Open,
    /// Given up.
    Back,
    /// The job that was asked for.
    Job(Box<Job>),
}

impl NewJobForm {
    /// The form with a plain shaft in it.
    #[must_use]
    pub fn new(units: Units) -> Self {
        let (length_mm, diameter_mm, wanted_diameter_mm) = match units {
            Units::Metric => (600.0, 32.0, 30.0),
            Units::Inch => (24.0 * 25.4, 1.25 * 25.4, 1.125 * 25.4),
        };
        Self {
            title: String::new(),
            units,
            material: 0,
            lathe: 1,
            lands: vec![FormLand { length_mm, diameter_mm, wanted_diameter_mm }],
            holding: Holding::ChuckAndCentre,
            steady: false,
            error: None,
        }
    }

    /// Draws the form over the window.
    pub fn show(&mut self, ctx: &Context) -> Outcome {
        let mut outcome = Outcome::Open;
        let modal = Modal::new(Id::unique("new job")).frame(theme::question_frame(ctx)).show(ctx, |ui| {
            let room = ui.ctx().content_rect();
            ui.set_width(460.0_f32.min(room.width() - 60.0));
            ui.heading("New job");
            ScrollArea::vertical().max_height(room.height() - 200.0).show(ui, |ui| {
                self.rows_ui(ui);
            });
            error_ui(ui, self.error.as_deref());
            ui.add_space(6.0);
            ui.horizontal(|ui| {
                if ui.button("Begin this job").clicked() {
                    match self.build() {
                        Ok(job) => outcome = Outcome::Job(Box::new(job)),
                        Err(sentence) => self.error = Some(sentence),
                    }
                }
                if ui.button("Go back").clicked() {
                    outcome = Outcome::Back;
                }
            });
        });
        if modal.should_close() && matches!(outcome, Outcome::Open) {
            outcome = Outcome::Back;
        }
        outcome
    }

    fn rows_ui(&mut self, ui: &mut Ui) {
        let mut fields = Fields::new(ui, self.units);
        fields.words("Title of the part", &mut self.title);
        fields.choice("Units", &mut self.units, &[(Units::Metric, "millimetres"), (Units::Inch, "inches")]);
        let materials: Vec<(usize, &str)> = MATERIALS.iter().enumerate().map(|(i, entry)| (i, entry.name)).collect();
        fields.choice("Made of", &mut self.material, &materials);
        fields.choice("On a lathe that is", &mut self.lathe, &[(0, "small"), (1, "medium"), (2, "large")]);
        fields.choice(
            "Held in",
            &mut self.holding,
            &[
                (Holding::Chuck, "a chuck only"),
                (Holding::ChuckAndCentre, "a chuck, with a centre"),
                (Holding::BetweenCentres, "between centres"),
            ],
        );
        fields.check("With a steady rest half-way along", &mut self.steady);
        let unit = unit_name(Kind::Length, fields.units);
        fields.heading(&format!("Lands from the headstock end ({unit})"));
        self.lands_ui(ui);
        if self.holding != Holding::BetweenCentres {
            ui.label(RichText::new("A stub for the jaws is added at the headstock end.").weak().small());
        }
    }

    fn lands_ui(&mut self, ui: &mut Ui) {
        let units = self.units;
        let (mut errors, mut taken) = (Vec::new(), None);
        let n_lands = self.lands.len();
        Grid::new("lands of the new job").num_columns(5).spacing([8.0, 4.0]).show(ui, |ui| {
            for word in ["", "length", "stock diameter", "wanted diameter"] {
                ui.label(RichText::new(word).weak().small());
            }
            ui.end_row();
            for (index, land) in self.lands.iter_mut().enumerate() {
                ui.label(format!("{}", index + 1));
                for (what, value, kind) in [
                    ("length", &mut land.length_mm, Kind::Length),
                    ("stock diameter", &mut land.diameter_mm, Kind::Diameter),
                    ("wanted diameter", &mut land.wanted_diameter_mm, Kind::Diameter),
                ] {
                    let name = format!("Land {} {what}", index + 1);
                    let id = ui.make_persistent_id((&name, "new job"));
                    let entry =
                        Entry { id, named: Named::As(&name), value: *value, kind, units, width: 84.0, assumed: false };
                    let entered = entry.show(ui);
                    if let Some(new) = entered.value {
                        *value = new;
                    }
                    errors.extend(entered.error);
                }
                if n_lands > 1 && ui.button("Remove").clicked() {
                    taken = Some(index);
                }
                ui.end_row();
            }
        });
        error_ui(ui, errors.first().map(String::as_str));
        if let Some(index) = taken {
            self.lands.remove(index);
        }
        if ui.button("Add a land").clicked()
            && let Some(last) = self.lands.last().copied()
        {
            self.lands.push(FormLand { length_mm: 50.0, ..last });
        }
    }

    /// The job the form describes.
    ///
    /// # Errors
    /// A sentence where a size cannot be.
    pub fn build(&self) -> Result<Job, String> {
        for (index, land) in self.lands.iter().enumerate() {
            if !(land.length_mm > 0.0 && land.diameter_mm > 0.0 && land.wanted_diameter_mm > 0.0) {
                return Err(format!("Land {}: length and diameters must be more than 0.", index + 1));
            }
            if land.wanted_diameter_mm > land.diameter_mm {
                return Err(format!("Land {}: the wanted diameter is larger than the stock.", index + 1));
            }
        }
        let lathe = match self.lathe {
            0 => Lathe::small(),
            1 => Lathe::medium(),
            _ => Lathe::large(),
        };
        let grip_mm = lathe.jaw_depth_mm.value;
        let stub_mm = if self.holding == Holding::BetweenCentres { 0.0 } else { grip_mm + JAW_CLEARANCE_MM };
        let shaft = self.shaft(stub_mm);
        let setup = self.setup(&shaft, &lathe, grip_mm);
        let mut job = Job {
            title: self.title.trim().to_owned(),
            notes: String::new(),
            title_block: TitleBlock::default(),
            units: self.units,
            shaft,
            lathe,
            setups: vec![setup],
            readings: Vec::new(),
            spread: Spread::usual(),
            next_id: 5,
        };
        let shaft = job.shaft.clone();
        job.apply(&Edit::SetShaft(shaft)).map_err(|error| error.to_string())?;
        Ok(job)
    }

    fn shaft(&self, stub_mm: f64) -> Shaft {
        let mut stock: Vec<Land> = self
            .lands
            .iter()
            .map(|land| Land {
                length_mm: land.length_mm,
                start_diameter_mm: land.diameter_mm,
                end_diameter_mm: land.diameter_mm,
            })
            .collect();
        if let Some(first) = stock.first_mut() {
            first.length_mm += stub_mm;
        }
        let wanted = self
            .lands
            .iter()
            .map(|land| WantedLand {
                land: Land {
                    length_mm: land.length_mm,
                    start_diameter_mm: land.wanted_diameter_mm,
                    end_diameter_mm: land.wanted_diameter_mm,
                },
                tolerance: Tolerance::Free,
                name: String::new(),
            })
            .collect();
        let hole = Some(CentreHole::in_the_middle(4.0));
        Shaft {
            material: MaterialChoice::Listed(MATERIALS.get(self.material).unwrap_or(&MATERIALS[0]).key.to_owned()),
            stock,
            bores: Vec::new(),
            wanted_start_s_mm: stub_mm,
            wanted,
            features: Vec::new(),
            centre_hole_a: if self.holding == Holding::BetweenCentres { hole } else { None },
            centre_hole_b: if self.holding == Holding::Chuck { None } else { hole },
            bow_tir_mm: 0.0,
            bow_at_rad: 0.0,
        }
    }

    fn setup(&self, shaft: &Shaft, lathe: &Lathe, grip_mm: f64) -> Setup {
        let mut setup = match self.holding {
            Holding::Chuck => Setup::in_chuck(SetupId(1), grip_mm),
            Holding::ChuckAndCentre => Setup::chuck_and_centre(SetupId(1), grip_mm),
            Holding::BetweenCentres => Setup::between_centres(SetupId(1)),
        };
        let end_z_mm = setup.work_end_z_mm(shaft);
        let stop_z_mm = if self.holding == Holding::BetweenCentres { DOG_MM } else { JAW_CLEARANCE_MM };
        let to_z_mm = stop_z_mm.min(0.5 * end_z_mm);
        let rpm = spindle_speed_rpm(shaft.max_diameter_mm(), &lathe.speeds_rpm);
        let leaving = |leave_on_diameter_mm| Cut::ToDrawing { leave_on_diameter_mm };
        setup.passes = vec![
            Pass::turn(PassId(2), end_z_mm, to_z_mm, leaving(LEFT_BY_ROUGHING_MM), ROUGH_FEED_MM_PER_REV, rpm),
            Pass::turn(PassId(3), end_z_mm, to_z_mm, leaving(0.0), FINE_FEED_MM_PER_REV, rpm),
        ];
        if self.steady {
            setup.rests.push(Rest::three_jaw(RestId(4), (0.5 * end_z_mm).round()));
        }
        setup
    }
}

/// The highest spindle speed of the gearbox that keeps to the cutting speed, the lowest one where none does.
fn spindle_speed_rpm(diameter_mm: f64, speeds_rpm: &[f64]) -> f64 {
    let most_rpm = 1000.0 * CUTTING_SPEED_M_PER_MIN / (std::f64::consts::PI * diameter_mm);
    let lowest_rpm = speeds_rpm.first().copied().unwrap_or_else(|| (most_rpm / 10.0).floor() * 10.0);
    speeds_rpm.iter().copied().filter(|rpm| *rpm <= most_rpm).fold(lowest_rpm, f64::max)
}
