//! The program: opens the window, or runs a headless command.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Parser, Subcommand};
use midspan::advice::{self, Verdict, places, plan_words};
use midspan::app::{MidspanApp, Settings, files, window};
use midspan::job::{Job, Units, examples, file};
use midspan::sheet::{self, Choices, PageSize, Paper, Scale, save};
use midspan::study;
use midspan::study::placement::{Answer, Ask, Measure, best_places, value_now};

/// Where to support long, slender work on a manual lathe, and what the cut will leave.
///
/// Without a command the window opens, with JOB in it if one is given. All figures are estimates.
#[derive(Debug, Parser)]
#[command(name = "midspan", version, args_conflicts_with_subcommands = true)]
struct Arguments {
    /// Job file to open.
    job: Option<PathBuf>,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Computes a job without a window and prints one CSV table a pass.
    ///
    /// Columns: set-up, pass, z_mm (from the jaw face), wanted_diameter_mm, diameter_left_mm, error_mm (left minus
    /// wanted), error_low_mm, error_high_mm (between which it may lie, force and stiffness being uncertain),
    /// spring_x_mm (away from the operator), spring_y_mm (up), real_depth_mm (on diameter), fc_n, fp_n, ff_n (main,
    /// radial and feed force), one column a reaction in N, status. A blank line parts the passes.
    Compute {
        /// Job file to compute.
        job: PathBuf,
        /// Writes to this file instead of standard output.
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
    },
    /// Finds the best places for no, one, two and three steady rests in a set-up, and prints them as a table: distances
    /// from the jaw face, how far each rest may be moved without being worse, what it comes to, and what each rest buys.
    Place {
        /// Job file.
        job: PathBuf,
        /// Number of the set-up, in the order of work.
        #[arg(long, value_name = "NUMBER", default_value_t = 1)]
        setup: usize,
        /// The most rests that are tried.
        #[arg(long, value_name = "NUMBER", default_value_t = 3, value_parser = clap::value_parser!(u8).range(0..=3))]
        rests: u8,
        /// What is to be small, or for chatter large.
        #[arg(long, value_enum, default_value_t = By::Size)]
        by: By,
        /// With a follower rest or without; as the set-up has it where this is not given.
        #[arg(long, value_name = "YES-OR-NO", value_parser = yes_or_no)]
        follower: Option<bool>,
        /// With a tailstock centre or without; as the set-up has it where this is not given.
        #[arg(long, value_name = "YES-OR-NO", value_parser = yes_or_no)]
        tailstock: Option<bool>,
    },
    /// Prints which lengths of the shaft are cut in which set-up, and which never, as one CSV table.
    ///
    /// Columns: set-up (`all` for the shaft as it leaves the last one), what, from_s_mm and to_s_mm (from end A),
    /// on_diameter_mm (still to come off, missing, or the step at a seam).
    Cover {
        /// Job file to look at.
        job: PathBuf,
        /// Writes to this file instead of standard output.
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
    },
    /// Prints set-ups and passes proposed for the shaft of a job, with the reason for each step.
    Plan {
        /// Job file with shaft and lathe; its set-ups are left aside.
        job: PathBuf,
        /// Writes the job with the plan in place of its set-ups to this file.
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
    },
    /// Writes the set-up sheet that goes to the lathe.
    ///
    /// A PDF holds all pages; of SVG and PNG there is a file a page, numbered where there are several. The same job and
    /// choices give the same bytes.
    Sheet(SheetArguments),
    /// Prints what is found in a job, worst first, a line each; ends with 2 where something is trouble.
    Check {
        /// Job file to check.
        job: PathBuf,
    },
}

#[derive(Debug, clap::Args)]
struct SheetArguments {
    /// Job file.
    job: PathBuf,
    /// Where to write; the ending says what: .pdf, .svg, .png, or .csv for the tables alone.
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
    /// A4 where the units are mm and Letter where they are inches, unless given.
    #[arg(long, value_enum)]
    paper: Option<PaperName>,
    /// The longer side of the paper upright.
    #[arg(long)]
    portrait: bool,
    /// Scale of the drawings, such as 1:5; the largest standard one that fits where none is given.
    #[arg(long)]
    scale: Option<Scale>,
    /// Units on the sheet instead of the job's.
    #[arg(long, value_enum)]
    units: Option<UnitsName>,
    /// Only this set-up, counted from 1.
    #[arg(long, value_name = "NUMBER")]
    set_up: Option<usize>,
    /// Signs with a legend for what holds the work, instead of drawings.
    #[arg(long)]
    symbols: bool,
    /// Why, under every step.
    #[arg(long)]
    reasons: bool,
    /// Date in the title block instead of the job's.
    #[arg(long)]
    date: Option<String>,
    /// Dots to the inch of a PNG.
    #[arg(long, default_value_t = save::DOTS_PER_INCH)]
    dpi: f64,
}

#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum PaperName {
    A4,
    A3,
    Letter,
    Tabloid,
}

#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum UnitsName {
    Mm,
    Inch,
}

impl SheetArguments {
    fn choices(&self, job: &Job) -> Result<Choices, String> {
        let units = self.units.map(|units| match units {
            UnitsName::Mm => Units::Metric,
            UnitsName::Inch => Units::Inch,
        });
        let size = match self.paper {
            None => Paper::usual(units.unwrap_or(job.units)).size,
            Some(PaperName::A4) => PageSize::A4,
            Some(PaperName::A3) => PageSize::A3,
            Some(PaperName::Letter) => PageSize::Letter,
            Some(PaperName::Tabloid) => PageSize::Tabloid,
        };
        let setup = match self.set_up {
            None => None,
            Some(number) => Some(
                number
                    .checked_sub(1)
                    .and_then(|index| job.setups.get(index))
                    .map(|setup| setup.id)
                    .ok_or_else(|| format!("there is no set-up {number}; the job has {}", job.setups.len()))?,
            ),
        };
        Ok(Choices {
            paper: Paper { size, landscape: !self.portrait },
            scale: self.scale,
            units,
            setup,
            symbols: self.symbols,
            reasons: self.reasons,
            date: self.date.clone(),
        })
    }
}

/// What placements are judged by.
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum By {
    /// The largest size error, against the tolerance where the drawing states one.
    Size,
    /// How far the work gives under the tool.
    Spring,
    /// The depth of cut before chatter is to be expected.
    Chatter,
}

fn yes_or_no(text: &str) -> Result<bool, String> {
    match text {
        "yes" => Ok(true),
        "no" => Ok(false),
        _ => Err("say yes or no".to_owned()),
    }
}

/// Names the window for the desktop and the folder of the settings.
const APP_ID: &str = "midspan";

/// What the desktop shows of the window.
const ICON: &[u8] = include_bytes!("../assets/desktop/midspan.png");

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    let done = match arguments.command {
        Some(Command::Compute { job, out }) => compute(&job, out.as_deref()),
        Some(Command::Place { job, setup, rests, by, follower, tailstock }) => {
            place(&job, setup, usize::from(rests), by, follower, tailstock)
        }
        Some(Command::Cover { job, out }) => cover(&job, out.as_deref()),
        Some(Command::Plan { job, out }) => plan(&job, out.as_deref()),
        Some(Command::Sheet(arguments)) => write_sheet(&arguments),
        Some(Command::Check { job }) => match check(&job) {
            Ok(true) => Ok(()),
            // Trouble in the job, not in the program.
            Ok(false) => return ExitCode::from(2),
            Err(sentence) => Err(sentence),
        },
        None => open_window(arguments.job),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(sentence) => {
            eprintln!("midspan: {sentence}");
            ExitCode::FAILURE
        }
    }
}

/// Prints the tables of a job.
fn compute(path: &Path, out: Option<&Path>) -> Result<(), String> {
    let job = files::open(path)?.job;
    print(&study::table::csv(&job, &study::compute_with_bands(&job)), out)
}

/// Prints what is cut where.
fn cover(path: &Path, out: Option<&Path>) -> Result<(), String> {
    let job = files::open(path)?.job;
    print(&study::coverage::table::csv(&job, &study::coverage::coverage(&job, &study::compute(&job))), out)
}

/// Prints a plan, and takes it where a file is named for the job.
fn plan(path: &Path, out: Option<&Path>) -> Result<(), String> {
    let mut document = files::open(path)?;
    let job = &mut document.job;
    let plan = study::plan::plan(job, &|| true).map_err(|why| {
        let why: Vec<String> = why.iter().map(|why| plan_words::no_plan(job, why)).collect();
        format!("no plan can be made for {}: {}", path.display(), why.join(" "))
    })?;
    print(&plan_words::text(job, &plan), None)?;
    let Some(out) = out else { return Ok(()) };
    let edit = plan.edit(job);
    job.apply(&edit).map_err(|error| format!("the plan cannot be taken: {error}"))?;
    file::write(out, &document).map_err(|error| error.to_string())
}

/// Writes tables to a file, or to standard output.
fn print(text: &str, out: Option<&Path>) -> Result<(), String> {
    match out {
        Some(out) => std::fs::write(out, text).map_err(|error| format!("{}: {error}", out.display())),
        None => match std::io::stdout().write_all(text.as_bytes()) {
            // Whoever read the tables has seen enough.
            Err(error) if error.kind() == std::io::ErrorKind::BrokenPipe => Ok(()),
            written => written.map_err(|error| format!("it cannot be printed: {error}")),
        },
    }
}

/// Prints the best places of the rests of a set-up.
fn place(
    path: &Path,
    setup: usize,
    most_rests: usize,
    by: By,
    follower: Option<bool>,
    tailstock: Option<bool>,
) -> Result<(), String> {
    let job = files::open(path)?.job;
    let setup = setup.checked_sub(1).and_then(|index| job.setups.get(index));
    let setup = setup.ok_or_else(|| format!("the job has set-ups 1 to {}", job.setups.len()))?;
    let measure = match by {
        By::Size => Measure::Size,
        By::Spring => Measure::Springiness,
        By::Chatter => Measure::Chatter,
    };
    let ask = Ask::of(&job, setup.id, measure, follower, tailstock).ok_or("the set-up is not there")?;
    let answers: Option<Vec<Answer>> =
        (0..=most_rests).map(|n_rests| best_places(&job, &ask, n_rests, &|_| true)).collect();
    let answers = answers.ok_or("the search was stopped")?;
    let Some((now, _)) = value_now(&job, setup.id, measure, &|_| true) else {
        return Err("this set-up turns nothing along the work, so no place is better than another".to_owned());
    };
    print(&places::table(&job, setup, measure, &answers, Some(now)), None)
}

/// Writes the sheet of a job and names the files.
fn write_sheet(arguments: &SheetArguments) -> Result<(), String> {
    let job = files::open(&arguments.job)?.job;
    let sheet = sheet::sheet(&job, &study::compute_with_bands(&job), &arguments.choices(&job)?);
    let written = save::save(&sheet, &arguments.out, arguments.dpi).map_err(|error| error.to_string())?;
    print(&written.iter().map(|path| format!("{}\n", path.display())).collect::<String>(), None)
}

/// Prints the findings of a job; false where one is trouble.
fn check(path: &Path) -> Result<bool, String> {
    let job = files::open(path)?.job;
    let findings = advice::findings(&job, &study::compute_with_bands(&job));
    let line = |finding: &advice::Finding| format!("{}: {}\n", finding.verdict.word(), finding.text);
    print(&findings.iter().map(line).collect::<String>(), None)?;
    Ok(findings.iter().all(|finding| finding.verdict != Verdict::Trouble))
}

/// Opens the window and stays until it is closed.
fn open_window(path: Option<PathBuf>) -> Result<(), String> {
    // Who opened the file from the desktop sees no terminal: what is wrong with it is said in the window.
    let opened = path.as_deref().map(files::open).transpose();
    let (document, path, trouble) = match opened {
        Ok(Some(document)) => (document, path, None),
        Ok(None) => (examples::opening().into(), None, None),
        Err(sentence) => (examples::opening().into(), None, Some(sentence)),
    };
    let options = eframe::NativeOptions {
        renderer: eframe::Renderer::Glow,
        system_font_fallback: false,
        viewport: egui::ViewportBuilder::default()
            .with_app_id(APP_ID)
            .with_title("Midspan")
            .with_inner_size([1366.0, 768.0])
            .with_maximized(true)
            .with_min_inner_size(window::MIN_SIZE)
            .with_icon(eframe::icon_data::from_png_bytes(ICON).unwrap_or_default())
            .with_drag_and_drop(true),
        ..eframe::NativeOptions::default()
    };
    let no_window = trouble.clone();
    let create = move |creation: &eframe::CreationContext<'_>| {
        let settings = Settings::load(creation.storage);
        let mut app = MidspanApp::new(&creation.egui_ctx, document, path, settings);
        trouble.into_iter().for_each(|sentence| app.desk.warn(sentence));
        let app = match eframe::storage_dir(APP_ID) {
            Some(folder) => app.keeping_unsaved(folder.join("unsaved")),
            None => app,
        };
        Ok(Box::new(app) as Box<dyn eframe::App>)
    };
    eframe::run_native(APP_ID, options, Box::new(create)).map_err(|error| {
        if let Some(trouble) = no_window {
            return trouble;
        }
        let reason = error.to_string();
        if reason.contains("DISPLAY") {
            "there is no display to open a window on; `midspan compute JOB.ron` works without one".to_owned()
        } else {
            format!("the window cannot be opened: {reason}")
        }
    })
}
