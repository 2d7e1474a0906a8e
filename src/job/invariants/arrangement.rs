//! What every arrangement is, the present one or a pinned one: its set-ups with drive, tailstock, tool, rests and passes,
//! what was measured, and ids that are each given once.

use super::{Checked, MAX_COUNT, MAX_COUNT_IN_SETUP, MAX_DIAMETER_MM, MAX_LENGTH_MM, Place, impossible};
use crate::job::{Cut, DriveEnd, EditError, Follower, Force, Jaw, Pass, Reading, Rest, Setup, Sleeve, TailEnd, Tool};

pub(super) fn arrangement(setups: &[Setup], readings: &[Reading], next_id: u32) -> Checked {
    let job = Place { of: &|| "The job".to_owned() };
    if setups.is_empty() {
        return Err(EditError::LastSetup);
    }
    job.count("set-ups", setups.len(), MAX_COUNT_IN_SETUP)?;
    for (index, one) in setups.iter().enumerate() {
        setup(index + 1, one)?;
    }
    job.count("readings", readings.len(), MAX_COUNT)?;
    for (index, reading) in readings.iter().enumerate() {
        let here = Place { of: &|| format!("Reading {}", index + 1) };
        here.place("place", reading.z_mm)?;
        here.diameter("diameter", reading.diameter_mm)?;
        if let Some(warmer_by_k) = reading.warmer_by_k {
            here.between("temperature", warmer_by_k, -300.0, 2000.0, "is no temperature of work on a lathe")?;
        }
    }
    ids(setups, next_id)
}

fn ids(setups: &[Setup], next_id: u32) -> Checked {
    let mut ids: Vec<u32> = Vec::new();
    for one in setups {
        ids.push(one.id.0);
        ids.extend(one.rests.iter().map(|rest| rest.id.0));
        ids.extend(one.passes.iter().map(|pass| pass.id.0));
    }
    ids.sort_unstable();
    if let Some(pair) = ids.windows(2).find(|pair| pair[0] == pair[1]) {
        return Err(impossible("The job", format!("has two things with the number {}", pair[0])));
    }
    match ids.last() {
        Some(last) if *last >= next_id => {
            Err(impossible("The job", format!("has a next number {next_id} that is taken")))
        }
        _ => Ok(()),
    }
}

fn setup(number: usize, setup: &Setup) -> Checked {
    let of = || format!("Set-up {number}");
    let here = Place { of: &of };
    here.name("name", &setup.name)?;
    here.place("start of the work", setup.work_start_z_mm)?;
    drive(&Place { of: &|| format!("{}, drive end", of()) }, &setup.drive)?;
    tail(&Place { of: &|| format!("{}, tailstock", of()) }, &setup.tail)?;
    tool(&Place { of: &|| format!("{}, tool", of()) }, &setup.tool)?;
    here.between("warmth of the work", setup.warmer_by_k, -300.0, 2000.0, "is no temperature of work on a lathe")?;
    here.count("steady rests", setup.rests.len(), MAX_COUNT_IN_SETUP)?;
    for (index, one) in setup.rests.iter().enumerate() {
        rest(&|| format!("{}, steady rest {}", of(), index + 1), one)?;
    }
    if let Some(one) = &setup.follower {
        follower(&|| format!("{}, follower rest", of()), one)?;
    }
    here.count("passes", setup.passes.len(), MAX_COUNT_IN_SETUP)?;
    for (index, one) in setup.passes.iter().enumerate() {
        pass(&Place { of: &|| format!("{}, pass {}", of(), index + 1) }, one)?;
    }
    Ok(())
}

fn drive(here: &Place<'_>, drive: &DriveEnd) -> Checked {
    here.at_least_nothing("grip", drive.grip_mm, MAX_LENGTH_MM)?;
    here.stiffness("radial stiffness", drive.radial_k_n_per_mm)?;
    here.stiffness("stiffness of the grip", drive.rotation_k_nmm_per_rad)?;
    here.at_least_nothing("run-out", drive.runout_tir_mm, 100.0)?;
    here.angle("side of the run-out", drive.runout_at_rad, -360.0, 360.0)?;
    here.at_least_nothing("force of a chuck jaw", drive.grip_force_n.value, 1e7)?;
    here.length("radius of the dog's tail", drive.dog.tail_radius_mm.value)?;
    here.place("reach of the dog's tail", drive.dog.tail_reach_mm.value)?;
    here.at_least_nothing("length of the dog", drive.dog.length_mm.value, MAX_LENGTH_MM)
}

fn tail(here: &Place<'_>, tail: &TailEnd) -> Checked {
    here.at_least_nothing("thrust", tail.thrust_n, 1e7)?;
    here.at_least_nothing("quill out", tail.quill_out_mm, MAX_LENGTH_MM)?;
    here.between("offset", tail.offset_x_mm, -100.0, 100.0, "is more than 100 mm")?;
    here.between("offset up or down", tail.offset_y_mm, -100.0, 100.0, "is more than 100 mm")?;
    here.at_least_nothing("run-out of the centre", tail.runout_tir_mm, 100.0)
}

fn tool(here: &Place<'_>, tool: &Tool) -> Checked {
    here.angle("entering angle", tool.entering_angle_rad, 10.0, 130.0)?;
    here.at_least_nothing("nose radius", tool.nose_radius_mm, 100.0)?;
    here.angle("rake", tool.rake_rad, -45.0, 45.0)
}

fn jaw(here: &Place<'_>, jaw: &Jaw) -> Checked {
    here.angle("angle", jaw.angle_rad, -360.0, 360.0)?;
    here.between("gap", jaw.gap_mm, -10.0, 1000.0, "must lie between 10 mm pressed in and 1 m away")?;
    here.stiffness("stiffness", jaw.k_n_per_mm)
}

fn rest(of: &dyn Fn() -> String, rest: &Rest) -> Checked {
    let here = Place { of };
    here.place("place", rest.z_mm)?;
    here.count("jaws", rest.jaws.len(), 8)?;
    for (index, one) in rest.jaws.iter().enumerate() {
        jaw(&Place { of: &|| format!("{}, jaw {}", of(), index + 1) }, one)?;
    }
    here.between("offset", rest.offset_x_mm, -100.0, 100.0, "is more than 100 mm")?;
    here.between("offset up or down", rest.offset_y_mm, -100.0, 100.0, "is more than 100 mm")?;
    here.between("lobes of the spot", f64::from(rest.spot.n_lobes), 2.0, 50.0, "must be between 2 and 50")?;
    here.at_least_nothing("height of the lobes", rest.spot.height_mm, 10.0)?;
    if let Some(bored_mm) = rest.tip_bored_mm {
        here.diameter("bore of the tips", bored_mm)?;
    }
    match rest.sleeve {
        Sleeve::None => Ok(()),
        Sleeve::CatHead { diameter_mm, width_mm } | Sleeve::Bush { diameter_mm, width_mm } => {
            here.diameter("diameter of the sleeve", diameter_mm)?;
            here.length("width of the sleeve", width_mm)
        }
    }
}

fn follower(of: &dyn Fn() -> String, follower: &Follower) -> Checked {
    let here = Place { of };
    here.length("distance from the tool", follower.distance_mm)?;
    here.at_least_nothing("length turned before it is brought on", follower.start_mm, MAX_LENGTH_MM)?;
    if let Some(bored_mm) = follower.tip_bored_mm {
        here.diameter("bore of the tips", bored_mm)?;
    }
    for (name, one) in ["rear jaw", "top jaw"].iter().zip(&follower.jaws) {
        jaw(&Place { of: &|| format!("{}, {name}", of()) }, one)?;
    }
    Ok(())
}

fn pass(here: &Place<'_>, pass: &Pass) -> Checked {
    here.place("start", pass.from_z_mm)?;
    here.place("end", pass.to_z_mm)?;
    here.positive("feed", pass.feed_mm_per_rev, 1000.0)?;
    here.positive("speed", pass.speed_rpm, 1e5)?;
    match pass.cut {
        Cut::Depth { on_diameter_mm } => here.at_least_nothing("depth", on_diameter_mm, MAX_DIAMETER_MM)?,
        Cut::ToDiameter { diameter_mm } => here.diameter("diameter", diameter_mm)?,
        Cut::ToDrawing { leave_on_diameter_mm } => {
            here.between("what is left on", leave_on_diameter_mm, -1000.0, 1000.0, "is more than 1 m")?;
        }
    }
    match pass.force {
        Force::FromCut => Ok(()),
        Force::Typed { radial_n, main_n, feed_n, .. } => {
            for (field, force_n) in [("radial force", radial_n), ("main force", main_n), ("feed force", feed_n)] {
                here.between(field, force_n, -1e7, 1e7, "is larger than any lathe stands")?;
            }
            Ok(())
        }
    }
}
