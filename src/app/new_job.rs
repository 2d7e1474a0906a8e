//! The form of a new job: material, lathe, holding, stock and the table of the finished part's lands, with the shaft
//! drawn as it is typed. What comes of it is a job with a rough and a finish pass; everything else is then typed or
//! dragged.

use egui::{Context, Id, Modal, Rect, RichText, ScrollArea, Sense, Ui, vec2};

use super::bench::{map::Map, paint::paint_picture};
use super::entry::{error_ui, n_refused};
use super::fields::Fields;
use super::land_table::{LandTable, TableChange};
use super::{Palette, gallery, theme};
use crate::job::land_row::LandRow;
use crate::job::materials::MATERIALS;
use crate::job::quantity::{Kind, show};
use crate::job::{
    CentreHole, Cut, Edit, Job, Land, Lathe, MaterialChoice, Pass, PassId, Rest, RestId, Setup, SetupId, Shaft, Spread,
    Stated, TitleBlock, Tolerance, Units,
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

/// A bar is at least so much larger than what is turned of it. Common practice, no source.
const ALLOWANCE_MM: f64 = 2.0;
const ALLOWANCE_IN: f64 = 0.125;
/// What is said where the job cannot begin yet.
const NOT_TAKEN: &str = "Put right first what is written in red.";
/// Height of the drawing in the form, in points.
const DRAWING_HEIGHT: f32 = 108.0;

/// How the work is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Holding {
    Chuck,
    ChuckAndCentre,
    BetweenCentres,
}

/// What the shaft is turned from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StockKind {
    /// A round bar of one diameter.
    Bar,
    /// Forged or roughed to the shape of the finished part.
    Stepped,
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
    /// The finished part, from the headstock end.
    pub rows: Vec<LandRow>,
    pub stock: StockKind,
    /// Diameter of the bar; while it is assumed it goes with the largest land.
    pub bar_mm: Stated,
    /// How much stepped stock is larger on diameter.
    pub allowance_mm: f64,
    pub holding: Holding,
    /// A steady rest half-way along.
    pub steady: bool,
    selected: usize,
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
        let row = match units {
            Units::Metric => LandRow::plain(600.0, 30.0),
            Units::Inch => LandRow::plain(24.0 * 25.4, 1.125 * 25.4),
        };
        let mut form = Self {
            title: String::new(),
            units,
            material: 0,
            lathe: 1,
            rows: vec![row],
            stock: StockKind::Bar,
            bar_mm: Stated::assumed(0.0),
            allowance_mm: ALLOWANCE_MM,
            holding: Holding::ChuckAndCentre,
            steady: false,
            selected: 0,
            error: None,
        };
        form.choose_bar();
        form
    }

    /// The bar there is for the largest land, unless the user has said which.
    pub fn choose_bar(&mut self) {
        if !self.bar_mm.assumed {
            return;
        }
        let lands = self.rows.iter().map(|row| row.wanted.land.start_diameter_mm.max(row.wanted.land.end_diameter_mm));
        let largest_mm = lands.fold(0.0, f64::max);
        self.bar_mm.value = match self.units {
            Units::Metric => (largest_mm + ALLOWANCE_MM - 1e-6).ceil(),
            Units::Inch => ((largest_mm / 25.4 + ALLOWANCE_IN - 1e-6) * 8.0).ceil() * 25.4 / 8.0,
        };
    }

    /// Draws the form over the window.
    pub fn show(&mut self, ctx: &Context) -> Outcome {
        let mut outcome = Outcome::Open;
        let modal = Modal::new(Id::unique("new job")).frame(theme::question_frame(ctx)).show(ctx, |ui| {
            let room = ui.ctx().content_rect();
            ui.set_width(820.0_f32.min(room.width() - 60.0));
            ui.heading("New job");
            let height = room.height() - 150.0;
            let n_before = n_refused(ui.ctx());
            ScrollArea::vertical().max_height(height).min_scrolled_height(height.min(480.0)).show(ui, |ui| {
                self.rows_ui(ui);
            });
            let all_taken = n_refused(ui.ctx()) == n_before;
            if all_taken {
                self.error.take_if(|error| error == NOT_TAKEN);
            }
            error_ui(ui, self.error.as_deref());
            ui.add_space(6.0);
            ui.horizontal(|ui| {
                if ui.button("Begin this job").clicked() {
                    match self.build() {
                        _ if !all_taken => self.error = Some(NOT_TAKEN.to_owned()),
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
        let built = self.build();
        self.drawing_ui(ui, built.as_ref().ok());
        ui.columns(2, |sides| {
            let [left, right] = sides else { return };
            let mut fields = Fields::new(left, self.units);
            fields.words("Title of the part", &mut self.title);
            fields.choice("Units", &mut self.units, &[(Units::Metric, "millimetres"), (Units::Inch, "inches")]);
            let materials: Vec<(usize, &str)> =
                MATERIALS.iter().enumerate().map(|(i, entry)| (i, entry.name)).collect();
            fields.choice("Made of", &mut self.material, &materials);
            let stock = [(StockKind::Bar, "a round bar"), (StockKind::Stepped, "stepped as it is")];
            fields.choice("Turned from", &mut self.stock, &stock);
            match self.stock {
                StockKind::Bar => fields.stated("Diameter of the bar", &mut self.bar_mm, Kind::Diameter),
                StockKind::Stepped => fields.number("Larger on diameter by", &mut self.allowance_mm, Kind::Diameter),
            };
            let mut fields = Fields::new(right, self.units);
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
            if self.holding != Holding::BetweenCentres {
                fields.hint("A stub for the jaws is added at the headstock end.");
            }
            if let Ok(job) = &built {
                for problem in job.check().iter().take(2) {
                    fields.ui.label(RichText::new(&problem.text).color(fields.ui.visuals().warn_fg_color).small());
                }
            }
        });
        let unit = if self.units == Units::Inch { "inches" } else { "mm" };
        ui.add_space(6.0);
        ui.label(RichText::new(format!("Finished part, land after land from the headstock end, in {unit}")).strong());
        self.lands_ui(ui);
        self.choose_bar();
    }

    fn lands_ui(&mut self, ui: &mut Ui) {
        let fault = |land: usize| self.fault(land);
        let table =
            LandTable { units: self.units, land: "Land", wide: true, selected: Some(self.selected), fault: &fault };
        let change = table.show(ui, &self.rows);
        ui.label(RichText::new("At its end: only for a taper. Tolerance: h7, js6, +0.02 -0.01. Thread: its pitch, 12 tpi or M20x1.5. Keyway: width x depth.").weak().small());
        let Some(change) = change else { return };
        self.error = None;
        match change {
            TableChange::Select(land) => self.selected = land,
            TableChange::Typed(rows) | TableChange::Pasted(rows) => self.rows = rows,
            TableChange::Add(land) => {
                let wanted = &self.rows[land].wanted.land;
                self.rows.insert(land + 1, LandRow::plain(50.0, wanted.end_diameter_mm));
                self.selected = land + 1;
            }
            TableChange::Split(land) => {
                let mut second = self.rows[land].clone();
                let first = &mut self.rows[land].wanted.land;
                let (half_mm, middle_mm) = (0.5 * first.length_mm, first.diameter_at_mm(0.5 * first.length_mm));
                (first.length_mm, first.end_diameter_mm) = (half_mm, middle_mm);
                (second.wanted.land.length_mm, second.wanted.land.start_diameter_mm) = (half_mm, middle_mm);
                self.rows.insert(land + 1, second);
            }
            TableChange::Remove(land) => {
                self.rows.remove(land);
                self.selected = self.selected.min(self.rows.len() - 1);
            }
        }
    }

    /// The shaft as it is typed; empty while it cannot be drawn.
    fn drawing_ui(&self, ui: &mut Ui, job: Option<&Job>) {
        let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), DRAWING_HEIGHT), Sense::hover());
        let palette = Palette::for_ui(ui);
        let painter = ui.painter_at(rect);
        painter.rect_filled(rect, 3.0, palette.canvas);
        let Some(picture) = job.and_then(gallery::picture) else { return };
        let frame: Rect = rect.shrink(4.0);
        paint_picture(&painter, &Map::fitting(frame, picture.bounds), &picture, &palette, &[], &|_| None);
    }

    /// The stock's diameters at both ends of a land.
    fn stock_of(&self, row: &LandRow) -> (f64, f64) {
        let land = &row.wanted.land;
        match self.stock {
            StockKind::Bar => (self.bar_mm.value, self.bar_mm.value),
            StockKind::Stepped => {
                (land.start_diameter_mm + self.allowance_mm, land.end_diameter_mm + self.allowance_mm)
            }
        }
    }

    /// What is wrong with a land, in words for beside it.
    #[must_use]
    pub fn fault(&self, land: usize) -> Option<String> {
        let row = self.rows.get(land)?;
        let name = format!("Land {}", land + 1);
        let Land { length_mm, start_diameter_mm, end_diameter_mm } = row.wanted.land;
        if !(length_mm > 0.0 && start_diameter_mm > 0.0 && end_diameter_mm > 0.0) {
            return Some(format!("{name}: length and diameters must be more than 0."));
        }
        let diameter = |mm: f64| show(mm, Kind::Diameter, self.units);
        let (stock_start_mm, stock_end_mm) = self.stock_of(row);
        if start_diameter_mm > stock_start_mm || end_diameter_mm > stock_end_mm {
            let stock = diameter(stock_start_mm.min(stock_end_mm));
            return Some(format!("{name}: the wanted diameter is larger than the stock, {stock}."));
        }
        let smallest_mm = start_diameter_mm.min(end_diameter_mm);
        if let Some(bore_mm) = row.bore_mm
            && bore_mm >= smallest_mm
        {
            return Some(format!("{name}: a bore of {} leaves no wall.", diameter(bore_mm)));
        }
        let tolerance = row.wanted.tolerance;
        if tolerance != Tolerance::Free && tolerance.limits_mm(start_diameter_mm).is_none() {
            let class = tolerance.show(self.units);
            return Some(format!("{name}: no figures are known for {class} at this diameter."));
        }
        None
    }

    /// The job the form describes.
    ///
    /// # Errors
    /// A sentence where a size cannot be.
    pub fn build(&self) -> Result<Job, String> {
        if let Some(fault) = (0..self.rows.len()).find_map(|land| self.fault(land)) {
            return Err(fault);
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
        let length_mm: f64 = self.rows.iter().map(|row| row.wanted.land.length_mm).sum();
        let mut stock: Vec<Land> = match self.stock {
            StockKind::Bar => vec![Land::cylinder(length_mm, self.bar_mm.value)],
            StockKind::Stepped => {
                let land = |row: &LandRow| {
                    let (start_diameter_mm, end_diameter_mm) = self.stock_of(row);
                    Land { length_mm: row.wanted.land.length_mm, start_diameter_mm, end_diameter_mm }
                };
                self.rows.iter().map(land).collect()
            }
        };
        // The stub is a cylinder, whatever the first land.
        match stock.first_mut() {
            Some(first) if first.start_diameter_mm.to_bits() == first.end_diameter_mm.to_bits() => {
                first.length_mm += stub_mm;
            }
            Some(first) if stub_mm > 0.0 => {
                let diameter_mm = first.start_diameter_mm;
                stock.insert(0, Land::cylinder(stub_mm, diameter_mm));
            }
            _ => {}
        }
        let first_mm = self.rows.first().map_or(0.0, |row| row.wanted.land.start_diameter_mm);
        let last_mm = self.rows.last().map_or(0.0, |row| row.wanted.land.end_diameter_mm);
        let hole = |diameter_mm: f64| Some(CentreHole::in_the_middle(CentreHole::usual_pilot_mm(diameter_mm)));
        let blank = Shaft {
            material: MaterialChoice::Listed(MATERIALS.get(self.material).unwrap_or(&MATERIALS[0]).key.to_owned()),
            stock,
            bores: Vec::new(),
            wanted_start_s_mm: stub_mm,
            wanted: Vec::new(),
            features: Vec::new(),
            centre_hole_a: if self.holding == Holding::BetweenCentres { hole(first_mm) } else { None },
            centre_hole_b: if self.holding == Holding::Chuck { None } else { hole(last_mm) },
            bow_tir_mm: 0.0,
            bow_at_rad: 0.0,
        };
        LandRow::on_shaft(&self.rows, &blank)
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
