//! Every edit once: what it changes, what takes it back, and what it refuses without a trace.

use midspan::job::quantity::Units;
use midspan::job::{
    BoreLand, Cut, DriveEnd, Edit, EditError, Follower, Job, Lathe, Pass, PassId, Reading, Rest, RestId, SetupId,
    Stated, Stiffness, TailEnd, TitleBlock, Tolerance, Tool, ToolWear, examples,
};

fn pump_shaft() -> Job {
    examples::load("pump-shaft").unwrap()
}

#[track_caller]
fn applied(job: &Job, edit: &Edit) -> Job {
    let mut next = job.clone();
    next.apply(edit).unwrap();
    assert_eq!(next.validate(), Ok(()));
    next
}

/// The job is as it was, and the reason names what the user sees.
#[track_caller]
fn refused(job: &Job, edit: &Edit, snippet: &str) {
    let mut next = job.clone();
    let error = next.apply(edit).expect_err(snippet);
    assert!(error.to_string().contains(snippet), "{error} does not say {snippet:?}");
    assert_eq!(next, *job);
}

fn first(job: &Job) -> SetupId {
    job.setups[0].id
}

#[test]
fn words_and_units_are_set_and_set_back() {
    let job = pump_shaft();
    let next = applied(&job, &Edit::SetTitle("Other".to_owned()));
    assert_eq!(next.title, "Other");
    assert_eq!(applied(&next, &Edit::SetTitle(job.title.clone())), job);
    let block = TitleBlock { part: "12-7".to_owned(), owner: "Shop".to_owned(), date: "today".to_owned() };
    assert_eq!(applied(&job, &Edit::SetTitleBlock(block.clone())).title_block, block);
    let long = TitleBlock { owner: "x".repeat(2000), ..block };
    assert!(job.clone().apply(&Edit::SetTitleBlock(long)).unwrap_err().to_string().contains("owner"));
    let next = applied(&job, &Edit::SetNotes("Mind the shoulder".to_owned()));
    assert_eq!(next.notes, "Mind the shoulder");
    let next = applied(&job, &Edit::SetUnits(Units::Inch));
    assert_eq!(applied(&next, &Edit::SetUnits(Units::Metric)), job);
    let setup = first(&job);
    let next = applied(&job, &Edit::RenameSetup { setup, name: "First side".to_owned() });
    assert_eq!(next.setups[0].name, "First side");
}

#[test]
fn a_whole_object_replaces_the_old_one_and_back() {
    let job = pump_shaft();
    let setup = first(&job);
    let old = &job.setups[0];
    let mut shaft = job.shaft.clone();
    shaft.stock[0].length_mm += 1.0;
    let tail = TailEnd { offset_x_mm: 0.05, ..TailEnd::dead() };
    let tool = Tool { wear: ToolWear::Blunt, ..Tool::usual() };
    let reading = Reading { pass: old.passes[0].id, z_mm: 500.0, diameter_mm: 35.01, warmer_by_k: Some(4.0) };
    for (there, back) in [
        (Edit::SetShaft(shaft), Edit::SetShaft(job.shaft.clone())),
        (Edit::SetLathe(Lathe::large()), Edit::SetLathe(job.lathe.clone())),
        (Edit::SetReadings(vec![reading]), Edit::SetReadings(Vec::new())),
        (Edit::SetWorkStart { setup, z_mm: -30.0 }, Edit::SetWorkStart { setup, z_mm: old.work_start_z_mm }),
        (
            Edit::SetDrive { setup, drive: DriveEnd::between_centres() },
            Edit::SetDrive { setup, drive: old.drive.clone() },
        ),
        (Edit::SetTail { setup, tail }, Edit::SetTail { setup, tail: old.tail.clone() }),
        (Edit::SetTool { setup, tool }, Edit::SetTool { setup, tool: old.tool.clone() }),
        (
            Edit::SetFollower { setup, follower: Some(Follower::usual()) },
            Edit::SetFollower { setup, follower: old.follower.clone() },
        ),
        (Edit::TurnEndForEnd(setup), Edit::TurnEndForEnd(setup)),
    ] {
        let next = applied(&job, &there);
        assert_ne!(next, job, "{there:?} changed nothing");
        assert_eq!(applied(&next, &back), job, "{back:?} did not take it back");
    }
}

#[test]
fn an_added_set_up_holds_the_work_like_the_one_before() {
    let job = pump_shaft();
    let next = applied(&job, &Edit::AddSetup { at: 1 });
    let (like, added) = (&next.setups[0], &next.setups[1]);
    assert_eq!(added.id, SetupId(job.next_id));
    assert_eq!(added.rests[0].id, RestId(job.next_id + 1));
    assert_eq!(next.next_id, job.next_id + 2);
    assert!(added.passes.is_empty() && added.name.is_empty());
    assert_eq!((&added.drive, &added.tail, &added.tool), (&like.drive, &like.tail, &like.tool));
    assert_eq!(added.rests[0].jaws, like.rests[0].jaws);
    assert_eq!(next.setups.len(), 3);
    // Taking it away again leaves the job as it was but for the numbers used up.
    let back = applied(&next, &Edit::RemoveSetup(added.id));
    assert_eq!(Job { next_id: job.next_id, ..back }, job);
    // Before the first there is nothing to copy but the first itself; behind the end is the end.
    assert_eq!(applied(&job, &Edit::AddSetup { at: 0 }).setups[1], job.setups[0]);
    assert_eq!(applied(&job, &Edit::AddSetup { at: 99 }).setups[..2], job.setups[..]);
}

#[test]
fn a_copied_set_up_is_the_same_under_new_numbers() {
    let job = pump_shaft();
    let next = applied(&job, &Edit::CopySetup(first(&job)));
    let (old, copy) = (&next.setups[0], &next.setups[1]);
    assert_eq!(copy.id, SetupId(job.next_id));
    assert_eq!(copy.passes.len(), old.passes.len());
    for (old, copy) in old.passes.iter().zip(&copy.passes) {
        assert!(copy.id.0 >= job.next_id);
        assert_eq!(*copy, Pass { id: copy.id, ..old.clone() });
    }
    assert_eq!(next.setups[2], job.setups[1]);
}

#[test]
fn set_ups_move_and_the_last_one_stays() {
    let job = pump_shaft();
    let (one, two) = (job.setups[0].id, job.setups[1].id);
    let next = applied(&job, &Edit::MoveSetup { setup: one, to: 1 });
    assert_eq!((next.setups[0].id, next.setups[1].id), (two, one));
    assert_eq!(applied(&next, &Edit::MoveSetup { setup: one, to: 0 }), job);
    assert_eq!(applied(&job, &Edit::MoveSetup { setup: one, to: 99 }), next);
    let left = applied(&job, &Edit::RemoveSetup(one));
    assert_eq!(left.setups.len(), 1);
    refused(&left, &Edit::RemoveSetup(two), "at least one set-up");
}

#[test]
fn rests_come_change_and_go() {
    let job = pump_shaft();
    let setup = first(&job);
    let next = applied(&job, &Edit::AddRest { setup, rest: Rest::three_jaw(RestId(0), 420.0) });
    let id = RestId(job.next_id);
    let added = next.setups[0].rest(id).unwrap().clone();
    assert_eq!(added, Rest::three_jaw(id, 420.0));
    let moved = applied(&next, &Edit::SetRest { setup, rest: Rest { z_mm: 430.0, ..added } });
    assert_eq!(moved.setups[0].rest(id).unwrap().z_mm, 430.0);
    let back = applied(&moved, &Edit::RemoveRest { setup, rest: id });
    assert_eq!(Job { next_id: job.next_id, ..back.clone() }, job);
    refused(&back, &Edit::RemoveRest { setup, rest: id }, "rest is no longer there");
    refused(&back, &Edit::SetRest { setup, rest: Rest::three_jaw(id, 1.0) }, "rest is no longer there");
}

#[test]
fn passes_come_move_change_and_go() {
    let job = pump_shaft();
    let setup = first(&job);
    let cut = Cut::Depth { on_diameter_mm: 1.0 };
    let pass = Pass::turn(PassId(0), 800.0, 500.0, cut, 0.2, 500.0);
    let next = applied(&job, &Edit::AddPass { setup, at: 1, pass: pass.clone() });
    let id = PassId(job.next_id);
    assert_eq!(next.setups[0].passes[1], Pass { id, ..pass.clone() });
    let moved = applied(&next, &Edit::MovePass { setup, pass: id, to: 0 });
    assert_eq!(moved.setups[0].passes[0].id, id);
    assert_eq!(applied(&moved, &Edit::MovePass { setup, pass: id, to: 1 }), next);
    let slower = applied(&next, &Edit::SetPass { setup, pass: Pass { id, speed_rpm: 250.0, ..pass.clone() } });
    assert_eq!(slower.setups[0].pass(id).unwrap().speed_rpm, 250.0);
    let back = applied(&slower, &Edit::RemovePass { setup, pass: id });
    assert_eq!(Job { next_id: job.next_id, ..back.clone() }, job);
    refused(&back, &Edit::RemovePass { setup, pass: id }, "pass is no longer there");
    refused(&back, &Edit::MovePass { setup, pass: id, to: 0 }, "pass is no longer there");
    refused(&back, &Edit::SetPass { setup, pass: Pass { id, ..pass } }, "pass is no longer there");
}

#[test]
fn edits_together_are_made_all_or_not_at_all() {
    let job = pump_shaft();
    let good = Edit::SetTitle("Other".to_owned());
    let both = Edit::Together(vec![good.clone(), Edit::TurnEndForEnd(first(&job))]);
    let next = applied(&job, &both);
    assert_eq!(next.title, "Other");
    assert!(next.setups[0].end_for_end);
    refused(&job, &Edit::Together(vec![good, Edit::RemoveSetup(SetupId(999))]), "set-up is no longer there");
    // What is impossible only half way through is let through: the end counts.
    let mut shaft = job.shaft.clone();
    shaft.stock.clear();
    applied(&job, &Edit::Together(vec![Edit::SetShaft(shaft), Edit::SetShaft(job.shaft.clone())]));
}

#[test]
fn every_edit_of_a_set_up_that_is_gone_is_refused() {
    let job = pump_shaft();
    let (setup, rest, pass) = (SetupId(999), RestId(1), PassId(1));
    let turn = Pass::turn(pass, 1.0, 0.0, Cut::Depth { on_diameter_mm: 1.0 }, 0.1, 100.0);
    for edit in [
        Edit::CopySetup(setup),
        Edit::RemoveSetup(setup),
        Edit::MoveSetup { setup, to: 0 },
        Edit::RenameSetup { setup, name: String::new() },
        Edit::TurnEndForEnd(setup),
        Edit::SetWorkStart { setup, z_mm: 0.0 },
        Edit::SetDrive { setup, drive: DriveEnd::three_jaw(10.0) },
        Edit::SetTail { setup, tail: TailEnd::free() },
        Edit::SetTool { setup, tool: Tool::usual() },
        Edit::SetFollower { setup, follower: None },
        Edit::AddRest { setup, rest: Rest::three_jaw(rest, 1.0) },
        Edit::SetRest { setup, rest: Rest::three_jaw(rest, 1.0) },
        Edit::RemoveRest { setup, rest },
        Edit::AddPass { setup, at: 0, pass: turn.clone() },
        Edit::SetPass { setup, pass: turn },
        Edit::RemovePass { setup, pass },
        Edit::MovePass { setup, pass, to: 0 },
    ] {
        refused(&job, &edit, "set-up is no longer there");
    }
}

#[test]
fn numbers_that_cannot_be_are_refused_by_name() {
    let job = pump_shaft();
    let setup = first(&job);
    let old = job.setups[0].clone();
    let shaft = |change: &dyn Fn(&mut midspan::job::Shaft)| {
        let mut shaft = job.shaft.clone();
        change(&mut shaft);
        Edit::SetShaft(shaft)
    };
    let pass = |change: &dyn Fn(&mut Pass)| {
        let mut pass = old.passes[0].clone();
        change(&mut pass);
        Edit::SetPass { setup, pass }
    };
    let rest = |change: &dyn Fn(&mut Rest)| {
        let mut rest = old.rests[0].clone();
        change(&mut rest);
        Edit::SetRest { setup, rest }
    };
    let nan = f64::NAN;
    refused(&job, &shaft(&|s| s.stock[1].length_mm = nan), "The stock, length 2, length: is not a number");
    refused(&job, &shaft(&|s| s.stock[0].end_diameter_mm = 0.0), "diameter at its end: must be more than 0");
    refused(&job, &shaft(&|s| s.stock[0].length_mm = f64::INFINITY), "is not a number");
    refused(&job, &shaft(&|s| s.stock.clear()), "needs at least one length");
    refused(&job, &shaft(&|s| s.wanted[2].land.length_mm = -1.0), "The finished part, length 3");
    refused(&job, &shaft(&|s| s.wanted[0].tolerance = Tolerance::H { grade: 3 }), "grades 5 to 11");
    let bore = BoreLand { from_s_mm: 0.0, to_s_mm: 200.0, start_diameter_mm: 20.0, end_diameter_mm: 60.0 };
    refused(&job, &shaft(&|s| s.bores = vec![bore]), "Bore 1, diameter: leaves no wall");
    refused(&job, &shaft(&|s| s.bow_tir_mm = -0.1), "run-out of the bar");
    refused(&job, &pass(&|p| p.feed_mm_per_rev = 0.0), "Set-up 1, pass 1, feed: must be more than 0");
    refused(&job, &pass(&|p| p.speed_rpm = -1.0), "speed");
    refused(&job, &pass(&|p| p.cut = Cut::ToDiameter { diameter_mm: 0.0 }), "diameter");
    refused(&job, &pass(&|p| p.to_z_mm = 1e9), "out of all reach");
    refused(&job, &rest(&|r| r.z_mm = nan), "Set-up 1, steady rest 1, place: is not a number");
    refused(&job, &rest(&|r| r.jaws[2].k_n_per_mm = Stiffness::assumed(0.0)), "jaw 3, stiffness: must be more than 0");
    refused(&job, &rest(&|r| r.jaws[0].angle_rad = 7.0), "jaw 1, angle: must lie between");
    let drive = DriveEnd { grip_mm: -1.0, ..old.drive.clone() };
    refused(&job, &Edit::SetDrive { setup, drive }, "Set-up 1, drive end, grip");
    let tail = TailEnd { thrust_n: -1.0, ..old.tail.clone() };
    refused(&job, &Edit::SetTail { setup, tail }, "Set-up 1, tailstock, thrust");
    let tool = Tool { entering_angle_rad: 0.0, ..old.tool.clone() };
    refused(&job, &Edit::SetTool { setup, tool }, "entering angle: must lie between 10 and 130 degrees");
    let follower = Some(Follower { distance_mm: 0.0, ..Follower::usual() });
    refused(&job, &Edit::SetFollower { setup, follower }, "follower rest, distance from the tool");
    let lathe = Lathe { spindle_bore_mm: Stated::given(-5.0), ..job.lathe.clone() };
    refused(&job, &Edit::SetLathe(lathe), "The lathe, spindle bore");
    let lathe = Lathe { speeds_rpm: vec![100.0, 90.0], ..job.lathe.clone() };
    refused(&job, &Edit::SetLathe(lathe), "spindle speeds: must rise");
    let reading = Reading { pass: old.passes[0].id, z_mm: 1.0, diameter_mm: -1.0, warmer_by_k: None };
    refused(&job, &Edit::SetReadings(vec![reading]), "Reading 1, diameter");
    refused(&job, &Edit::SetWorkStart { setup, z_mm: nan }, "start of the work");
}

#[test]
fn numbers_are_never_used_twice_even_at_the_very_last() {
    let mut job = pump_shaft();
    job.next_id = u32::MAX;
    let setup = first(&job);
    refused(&job, &Edit::AddRest { setup, rest: Rest::three_jaw(RestId(0), 400.0) }, "used up its numbers");
    assert_eq!(EditError::LastSetup.to_string(), "a job needs at least one set-up");
}
