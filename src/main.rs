//! The program: opens the window, or runs a headless command.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Parser, Subcommand};
use midspan::advice::{places, plan_words};
use midspan::app::{MidspanApp, Settings, files, window};
use midspan::job::{Job, examples, file};
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

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    let done = match arguments.command {
        Some(Command::Compute { job, out }) => compute(&job, out.as_deref()),
        Some(Command::Place { job, setup, rests, by, follower, tailstock }) => {
            place(&job, setup, usize::from(rests), by, follower, tailstock)
        }
        Some(Command::Cover { job, out }) => cover(&job, out.as_deref()),
        Some(Command::Plan { job, out }) => plan(&job, out.as_deref()),
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
    let job = files::open(path)?;
    print(&study::table::csv(&job, &study::compute_with_bands(&job)), out)
}

/// Prints what is cut where.
fn cover(path: &Path, out: Option<&Path>) -> Result<(), String> {
    let job = files::open(path)?;
    print(&study::coverage::table::csv(&job, &study::coverage::coverage(&job, &study::compute(&job))), out)
}

/// Prints a plan, and takes it where a file is named for the job.
fn plan(path: &Path, out: Option<&Path>) -> Result<(), String> {
    let mut job = files::open(path)?;
    let plan = study::plan::plan(&job, &|| true).map_err(|why| {
        let why: Vec<String> = why.iter().map(|why| plan_words::no_plan(&job, why)).collect();
        format!("no plan can be made for {}: {}", path.display(), why.join(" "))
    })?;
    print(&plan_words::text(&job, &plan), None)?;
    let Some(out) = out else { return Ok(()) };
    let edit = plan.edit(&job);
    job.apply(&edit).map_err(|error| format!("the plan cannot be taken: {error}"))?;
    file::write(out, &job).map_err(|error| error.to_string())
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
    let job = files::open(path)?;
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

/// Opens the window and stays until it is closed.
fn open_window(path: Option<PathBuf>) -> Result<(), String> {
    let job: Job = match &path {
        Some(path) => files::open(path)?,
        None => examples::opening(),
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
            .with_drag_and_drop(true),
        ..eframe::NativeOptions::default()
    };
    let create = move |creation: &eframe::CreationContext<'_>| {
        let settings = Settings::load(creation.storage);
        let app = MidspanApp::new(&creation.egui_ctx, job, path, settings);
        let app = match eframe::storage_dir(APP_ID) {
            Some(folder) => app.keeping_unsaved(folder.join("unsaved")),
            None => app,
        };
        Ok(Box::new(app) as Box<dyn eframe::App>)
    };
    eframe::run_native(APP_ID, options, Box::new(create)).map_err(|error| {
        let reason = error.to_string();
        if reason.contains("DISPLAY") {
            "there is no display to open a window on; `midspan compute JOB.ron` works without one".to_owned()
        } else {
            format!("the window cannot be opened: {reason}")
        }
    })
}
