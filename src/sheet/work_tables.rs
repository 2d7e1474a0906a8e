//! Tables of the holding, of the tool and of the passes.

use super::distances::{bare, bare_length};
use super::table::{Cell, Column, Table, pairs};
use crate::advice::words;
use crate::job::quantity::{Kind, show, unit_name};
use crate::job::{
    Cut, DogKind, DriveKind, Hold, Job, Pass, PassKind, Setup, TailKind, Tool, ToolMaterial, ToolSide, ToolWear,
};
use crate::study::{JobResult, PassResult};

/// Holding and drive.
pub(super) fn holding(job: &Job, setup: &Setup) -> Table {
    let units = job.units;
    let length = |mm: f64| words::length(mm, units);
    let drive = &setup.drive;
    let on_centre = drive.kind == DriveKind::CentreAndDog;
    let mut rows: Vec<(&str, String)> = Vec::new();
    let kind = match drive.kind {
        DriveKind::ThreeJaw => "three-jaw chuck",
        DriveKind::FourJaw => "four-jaw chuck",
        DriveKind::Collet => "collet",
        DriveKind::FacePlate => "face plate",
        DriveKind::CentreAndDog => match drive.dog.kind {
            DogKind::OneTail => "headstock centre, dog with one tail",
            DogKind::TwoTails => "headstock centre, dog with two tails",
        },
    };
    let hold = match drive.hold {
        Hold::Clamped => "held fast",
        Hold::SoftClamp => "short or soft grip",
        Hold::Hinge => "on a ring of wire, free to swing",
    };
    let grip = length(drive.grip_mm);
    rows.push(("Drive", if on_centre { kind.to_owned() } else { format!("{kind}, {hold}, grip {grip}") }));
    if on_centre {
        let back = if drive.hold_back {
            "tied back on its centre"
        } else if setup.tail.kind == TailKind::Free {
            "NOT tied back, and no centre at the tail: nothing holds it endways"
        } else {
            "held by the tailstock centre"
        };
        rows.push(("Endways", back.to_owned()));
    } else {
        let (force, mark) = (drive.grip_force_n, job.lathe.chuck_max_rpm);
        let shown = [show(force.value, Kind::Force, units), show(mark.value, Kind::SpindleSpeed, units)];
        let assumed = [force.assumed, mark.assumed];
        let note = |is_assumed: bool| if is_assumed { " (assumed)" } else { "" };
        let text = match assumed {
            [true, true] => format!("{} a jaw; chuck marked {} (both assumed)", shown[0], shown[1]),
            [one, other] => {
                format!("{} a jaw{}; chuck marked {}{}", shown[0], note(one), shown[1], note(other))
            }
        };
        rows.push(("Force", text));
    }
    if drive.runout_tir_mm != 0.0 {
        rows.push(("Run-out", format!("{} on the indicator there", words::amount(drive.runout_tir_mm, units))));
    }
    let tail = &setup.tail;
    let name = match tail.kind {
        TailKind::Free => "none",
        TailKind::DeadCentre => "dead centre, oiled",
        TailKind::LiveCentre => "running centre",
        TailKind::SpringCentre => "spring-loaded centre",
        TailKind::HalfCentre => "half centre, oiled",
        TailKind::BullNose => "bull-nose centre",
    };
    rows.push((
        "Tailstock",
        match tail.kind {
            TailKind::Free => name.to_owned(),
            _ => format!(
                "{name}, quill out {}, thrust {}",
                length(tail.quill_out_mm),
                show(tail.thrust_n, Kind::Force, units)
            ),
        },
    ));
    if tail.kind != TailKind::Free && (tail.offset_x_mm != 0.0 || tail.offset_y_mm != 0.0) {
        let away = (tail.offset_x_mm != 0.0).then(|| words::away_or_toward(tail.offset_x_mm, units));
        let up = (tail.offset_y_mm != 0.0).then(|| words::up_or_down(tail.offset_y_mm, units));
        rows.push(("Set over", away.into_iter().chain(up).collect::<Vec<_>>().join(", ")));
    }
    let out_mm = -job.lathe.headstock_length_mm.value - setup.work_start_z_mm;
    if out_mm > 0.0 && !on_centre {
        rows.push(("Bar behind", format!("{} out of the spindle: support and guard all of it", length(out_mm))));
    }
    rows.push((
        "Work",
        format!(
            "{}, {} long, largest \u{d8} {}, about {}{}",
            job.material().name,
            length(job.shaft.length_mm()),
            words::diameter(job.shaft.max_diameter_mm(), units),
            show(job.shaft.stock_mass_kg(), Kind::Mass, units),
            if setup.end_for_end { "; end A at the tailstock" } else { "; end A at the headstock" },
        ),
    ));
    rows.push(("Lathe", job.lathe.name.clone()));
    pairs("Holding and drive", rows)
}

/// The tool.
pub(super) fn tool(job: &Job, setup: &Setup) -> Table {
    let Tool { side, material, entering_angle_rad, nose_radius_mm, rake_rad, wear } = &setup.tool;
    let side = match side {
        ToolSide::Front => "at the front",
        ToolSide::Rear => "at the rear, upside down",
    };
    let material = match material {
        ToolMaterial::HighSpeedSteel => "high-speed steel",
        ToolMaterial::Carbide => "carbide",
    };
    let wear = match wear {
        ToolWear::Sharp => "sharp",
        ToolWear::Used => "used",
        ToolWear::Blunt => "blunt",
    };
    let angle = |rad: f64| show(rad, Kind::Angle, job.units);
    let edge = format!(
        "entering {}, nose {}, rake {}",
        angle(*entering_angle_rad),
        words::diameter(*nose_radius_mm, job.units),
        angle(*rake_rad)
    );
    pairs("Tool", vec![("Tool", format!("{material}, {wear}, {side}; {edge}"))])
}

/// Holding and tool as one table, as they stand on paper.
pub(super) fn joined(holding: Table, tool: Table) -> Table {
    let rows = holding.rows.into_iter().chain(tool.rows).collect();
    Table { heading: "Holding, drive and tool".to_owned(), columns: holding.columns, rows }
}

/// The passes in order.
pub(super) fn passes(job: &Job, result: &JobResult, setup: &Setup) -> Table {
    let columns = vec![
        Column::new("Pass", 0.18),
        Column::new("From, to", 0.25),
        Column::new("Cut", 0.25),
        Column::new("Off \u{d8}", 0.11),
        Column::new("Dial", 0.11),
        Column::new("Feed", 0.12),
        Column::new("rpm", 0.11),
    ];
    let rows: Vec<Vec<Cell>> = setup
        .passes
        .iter()
        .enumerate()
        .map(|(index, pass)| {
            let [from, to] = [pass.from_z_mm, pass.to_z_mm].map(|z_mm| bare_length(z_mm, job));
            let places = if from == to { from } else { format!("{from} \u{2013} {to}") };
            // The word "pass" stands over the column.
            let kind = words::kind_name(pass.kind).trim_end_matches(" pass");
            let [off, dial] = depth(job, pass, result.pass(pass.id));
            vec![
                Cell::Words(format!("{} {}", index + 1, kind)),
                Cell::Words(places),
                Cell::Words(cut(job, pass)),
                Cell::Strong(off),
                Cell::Strong(dial),
                Cell::Strong(bare(pass.feed_mm_per_rev, Kind::Feed, job.units)),
                Cell::Strong(bare(pass.speed_rpm, Kind::SpindleSpeed, job.units)),
            ]
        })
        .collect();
    let units = [Kind::Diameter, Kind::Feed].map(|kind| unit_name(kind, job.units)).join(", ");
    Table { heading: format!("Passes: {units}; dial reads the radius"), columns, rows }
}

fn cut(job: &Job, pass: &Pass) -> String {
    let size = |mm: f64| bare(mm, Kind::Diameter, job.units);
    match (pass.kind, pass.cut) {
        (PassKind::Spring, _) => "same dial".to_owned(),
        (PassKind::Part, _) => "right through".to_owned(),
        (_, Cut::Depth { on_diameter_mm }) => format!("{} off", size(on_diameter_mm)),
        (_, Cut::ToDiameter { diameter_mm }) => format!("\u{d8} {}", size(diameter_mm)),
        (_, Cut::ToDrawing { leave_on_diameter_mm: 0.0 }) => "the drawing".to_owned(),
        (_, Cut::ToDrawing { leave_on_diameter_mm }) => format!(
            "drawing {}{}",
            if leave_on_diameter_mm > 0.0 { "+" } else { "\u{2212}" },
            size(leave_on_diameter_mm.abs())
        ),
    }
}

/// How far the dial goes in: the most on diameter along the pass, and half of it for a dial that reads the radius.
fn depth(job: &Job, pass: &Pass, result: Option<&PassResult>) -> [String; 2] {
    let none = || ["\u{2013}", "\u{2013}"].map(str::to_owned);
    if !matches!(pass.kind, PassKind::Turn | PassKind::Bore | PassKind::Thread) {
        return none();
    }
    let most_mm = result.and_then(|result| {
        let depths = result.stations.iter().map(|at| (at.old_diameter_mm - at.wanted_diameter_mm).abs());
        depths.filter(|mm| mm.is_finite()).reduce(f64::max)
    });
    let unit = unit_name(Kind::Diameter, job.units);
    let shown = |mm: f64| words::depth(mm, job.units).trim_end_matches(unit).trim_end().to_owned();
    most_mm.map_or_else(none, |mm| [shown(mm), shown(mm / 2.0)])
}
