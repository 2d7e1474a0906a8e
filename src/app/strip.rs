//! The strip at the foot of the window: set-ups in the order they are done, the passes of the one looked at, and what
//! holds the work in it, each to be put on and taken off with one press.

use egui::{Button, Margin, RichText, ScrollArea, Ui};

use super::menu::PLAN;
use super::{Action, Commands, Results, Selected, View, focus, play};
use crate::advice::words;
use crate::job::{Cut, Edit, Follower, Job, Pass, PassId, PassKind, Rest, RestId, Setup, TailEnd, TailKind, quantity};
use crate::study::JobResult;
use crate::study::reach::bare_rest_reach;

/// A window narrower than this has no room for the button for what is uncertain, in points.
const SURENESS_WIDTH: f32 = 1300.0;
/// A window narrower than this has no room for the button for pinning.
const PIN_WIDTH: f32 = 1440.0;

/// Shows the strip.
pub fn strip_ui(ui: &mut Ui, job: &Job, view: &mut View, results: &Results, out: &mut Commands) {
    // The bar of a row that scrolls lies in the margin between the rows.
    ui.spacing_mut().item_spacing.y = 0.0;
    ui.spacing_mut().scroll = egui::style::ScrollStyle {
        floating_allocated_width: 0.0,
        content_margin: Margin::symmetric(0, 2),
        ..egui::style::ScrollStyle::thin()
    };
    row_ui(
        ui,
        "Set-ups",
        (view, out),
        |ui, (view, _)| setups_ui(ui, job, view),
        |ui, (view, out)| setup_tools_ui(ui, job, view, out),
    );
    let Some(setup) = job.setup(view.setup) else { return };
    row_ui(
        ui,
        "Passes",
        (view, out),
        |ui, (view, _)| passes_ui(ui, job, setup, view),
        |ui, (view, out)| {
            play::play_ui(ui, job, setup, view, out);
            pass_tools_ui(ui, job, setup, view, out);
        },
    );
    row_ui(
        ui,
        "Holding",
        (view, out),
        |ui, (view, _)| holding_ui(ui, setup, view),
        |ui, (view, out)| holding_tools_ui(ui, job, setup, view, results, out),
    );
}

/// Where less than this is left beside the tools of a row, they scroll with its things, in points.
const LEAST_THINGS: f32 = 300.0;

/// A row: its name, its things, which scroll where they are many, and the tools for them, which always stay in sight.
fn row_ui<'a>(
    ui: &mut Ui,
    name: &str,
    on: (&'a mut View, &'a mut Commands),
    things_ui: impl FnOnce(&mut Ui, (&mut View, &mut Commands)),
    tools_ui: impl FnOnce(&mut Ui, (&mut View, &mut Commands)),
) {
    ui.horizontal(|ui| {
        ui.label(RichText::new(name).strong());
        let id = ui.scope_id().with((name, "width of the tools"));
        let tools_width: f32 = ui.data(|data| data.get_temp(id)).unwrap_or(0.0);
        if ui.available_width() - tools_width < LEAST_THINGS {
            // No room for things beside them: all of the row scrolls.
            ScrollArea::horizontal().id_salt((name, "whole")).show(ui, |ui| {
                ui.horizontal(|ui| {
                    things_ui(ui, (&mut *on.0, &mut *on.1));
                    ui.separator();
                    tools_ui(ui, (&mut *on.0, &mut *on.1));
                });
                focus::bring_into_sight(ui);
            });
            return;
        }
        let room = (ui.available_width() - tools_width - ui.spacing().item_spacing.x).max(60.0);
        ScrollArea::horizontal().id_salt(name).max_width(room).show(ui, |ui| {
            ui.horizontal(|ui| things_ui(ui, (&mut *on.0, &mut *on.1)));
            focus::bring_into_sight(ui);
        });
        let tools = ui.horizontal(|ui| tools_ui(ui, (&mut *on.0, &mut *on.1))).response.rect.width();
        if (tools - tools_width).abs() > 0.5 {
            ui.data_mut(|data| data.insert_temp(id, tools));
            ui.ctx().request_discard("the tools of a row take another width");
        }
    });
}

fn setups_ui(ui: &mut Ui, job: &Job, view: &mut View) {
    for (index, setup) in job.setups.iter().enumerate() {
        let chosen = setup.id == view.setup;
        let response = ui.add(Button::new(setup_name(index, setup)).selected(chosen));
        if response.on_hover_text(setup_summary(setup)).clicked() {
            if !chosen {
                view.setup = setup.id;
                view.pass = setup.passes.first().map(|pass| pass.id);
            }
            view.selected = Selected::Setup;
        }
    }
}

fn setup_tools_ui(ui: &mut Ui, job: &Job, view: &View, out: &mut Commands) {
    if ui.button("+ set-up").on_hover_text("Add a set-up after the last").clicked() {
        out.edits.push(Edit::AddSetup { at: job.setups.len() });
    }
    ui.separator();
    let Some(index) = job.setup_index(view.setup) else { return };
    let setup = view.setup;
    if ui.button("Copy").on_hover_text("Copy this set-up").clicked() {
        out.edits.push(Edit::CopySetup(setup));
    }
    if ui.add_enabled(index > 0, Button::new("<")).on_hover_text("Do this set-up earlier").clicked() {
        out.edits.push(Edit::MoveSetup { setup, to: index - 1 });
    }
    if ui.add_enabled(index + 1 < job.setups.len(), Button::new(">")).on_hover_text("Do this set-up later").clicked() {
        out.edits.push(Edit::MoveSetup { setup, to: index + 1 });
    }
    if ui.button("Turn end for end").on_hover_text("Hold the shaft the other way round in this set-up").clicked() {
        out.edits.push(Edit::TurnEndForEnd(setup));
    }
    let remove = ui.add_enabled(job.setups.len() > 1, Button::new("Remove set-up"));
    if remove.on_disabled_hover_text("A job needs at least one set-up").clicked() {
        out.edits.push(Edit::RemoveSetup(setup));
    }
}

fn passes_ui(ui: &mut Ui, job: &Job, setup: &Setup, view: &mut View) {
    if ui
        .add(Button::new("as it comes in").selected(view.pass.is_none()))
        .on_hover_text("The work before the first pass of this set-up")
        .clicked()
    {
        view.pass = None;
        view.selected = Selected::Setup;
    }
    for (index, pass) in setup.passes.iter().enumerate() {
        let chosen = view.pass == Some(pass.id);
        let button = ui.add(Button::new(pass_name(job, index, pass)).selected(chosen));
        if chosen && view.play.is_playing() {
            button.scroll_to_me_animation(None, egui::style::ScrollAnimation::none());
        }
        if button.clicked() {
            if !chosen {
                let (low_mm, high_mm) = pass.span_mm();
                view.tool_z_mm = view.tool_z_mm.clamp(low_mm, high_mm);
            }
            view.pass = Some(pass.id);
            view.selected = Selected::Pass(pass.id);
        }
    }
}

/// Where a pass after the one looked at goes.
fn place_after(setup: &Setup, view: &View) -> usize {
    view.pass
        .and_then(|pass| setup.passes.iter().position(|p| p.id == pass))
        .map_or(setup.passes.len(), |index| index + 1)
}

fn pass_tools_ui(ui: &mut Ui, job: &Job, setup: &Setup, view: &View, out: &mut Commands) {
    let at = place_after(setup, view);
    let (setup_id, like) = (setup.id, at.checked_sub(1).and_then(|before| setup.passes.get(before)));
    if ui.button("+ pass").on_hover_text("Add a pass after the one looked at").clicked() {
        let pass = like.cloned().unwrap_or_else(|| first_pass(job, setup));
        out.edits.push(Edit::AddPass { setup: setup_id, at, pass });
    }
    if let Some(like) = like {
        let spring = ui.button("+ spring pass").on_hover_text("Add the same pass again on the same dial");
        if spring.clicked() {
            let pass = Pass::spring(PassId(0), like);
            out.edits.push(Edit::AddPass { setup: setup_id, at, pass });
        }
    }
    let is_empty = job.setups.iter().all(|setup| setup.passes.is_empty());
    if is_empty && ui.button(PLAN).on_hover_text("Proposes set-ups and passes, with the reason for each step").clicked()
    {
        out.actions.push(Action::Plan);
    }
    ui.separator();
    let Some((pass, index)) = view.pass.zip(at.checked_sub(1)) else { return };
    if ui.add_enabled(index > 0, Button::new("<")).on_hover_text("Take this pass earlier").clicked() {
        out.edits.push(Edit::MovePass { setup: setup_id, pass, to: index - 1 });
    }
    if ui.add_enabled(at < setup.passes.len(), Button::new(">")).on_hover_text("Take this pass later").clicked() {
        out.edits.push(Edit::MovePass { setup: setup_id, pass, to: index + 1 });
    }
    if ui.button("Remove pass").clicked() {
        out.edits.push(Edit::RemovePass { setup: setup_id, pass });
    }
}

fn holding_ui(ui: &mut Ui, setup: &Setup, view: &mut View) {
    if ui.add(Button::new("Headstock end").selected(view.selected == Selected::Drive)).clicked() {
        view.selected = Selected::Drive;
    }
    for (index, rest) in setup.rests.iter().enumerate() {
        let selected = Selected::Rest(rest.id);
        let name = format!("Steady rest {}", index + 1);
        if ui.add(Button::new(&name).selected(view.selected == selected)).clicked() {
            view.selected = selected;
        }
    }
}

fn holding_tools_ui(ui: &mut Ui, job: &Job, setup: &Setup, view: &mut View, results: &Results, out: &mut Commands) {
    let id = setup.id;
    let width = ui.ctx().content_rect().width();
    for (words, selected, from_width) in [
        ("Tool", Selected::Tool, 0.0),
        ("Shaft", Selected::Shaft, 0.0),
        ("Lathe", Selected::Lathe, 0.0),
        ("How sure", Selected::Sureness, SURENESS_WIDTH),
    ] {
        if width < from_width {
            // The menu has it too.
            continue;
        }
        if ui.add(Button::new(words).selected(view.selected == selected)).clicked() {
            view.selected = selected;
        }
    }
    ui.separator();
    let best = Button::new("Best places").selected(view.selected == Selected::Places);
    if ui.add(best).on_hover_text("Where the steady rests should stand, and what one more would buy").clicked() {
        view.selected = Selected::Places;
    }
    if ui
        .button("+ steady rest")
        .on_hover_text("Add a steady rest in the longest free stretch, where one may stand")
        .clicked()
    {
        out.edits.push(Edit::AddRest { setup: id, rest: new_rest(job, setup, &results.result) });
    }
    if let Some(rest) = present_rest(setup, view)
        && ui.button("Take the steady away").on_hover_text("Undo puts it back").clicked()
    {
        out.edits.push(Edit::RemoveRest { setup: id, rest });
    }
    let mut follows = setup.follower.is_some();
    if ui.checkbox(&mut follows, "Follower rest").clicked() {
        out.edits.push(Edit::SetFollower { setup: id, follower: follows.then(Follower::usual) });
        if follows {
            view.selected = Selected::Follower;
        }
    }
    let mut tail = setup.tail.kind != TailKind::Free;
    if ui.checkbox(&mut tail, "Tailstock").clicked() {
        out.edits.push(Edit::SetTail { setup: id, tail: tail_on_or_off(&setup.tail, tail) });
        view.selected = Selected::Tail;
    }
    if width < PIN_WIDTH {
        // The tools at the top have it too.
        return;
    }
    ui.separator();
    if ui.button("Pin to compare").on_hover_text("Keep this arrangement as a ghost behind the next").clicked() {
        out.actions.push(Action::Pin);
    }
}

/// The rest that "the steady" means: the one selected, or the only one.
fn present_rest(setup: &Setup, view: &View) -> Option<RestId> {
    match (view.selected, &setup.rests[..]) {
        (Selected::Rest(rest), _) => setup.rest(rest).map(|rest| rest.id),
        (_, [only]) => Some(only.id),
        _ => None,
    }
}

/// A steady rest half-way along the longest stretch that nothing carries, or as near to it as one may stand.
fn new_rest(job: &Job, setup: &Setup, result: &JobResult) -> Rest {
    let mut carried = vec![0.0, setup.work_end_z_mm(&job.shaft).max(1.0)];
    carried.extend(setup.rests.iter().map(|rest| rest.z_mm));
    carried.sort_by(f64::total_cmp);
    let middle_mm = carried
        .windows(2)
        .max_by(|a, b| (a[1] - a[0]).total_cmp(&(b[1] - b[0])))
        .map_or(0.0, |gap| 0.5 * (gap[0] + gap[1]));
    let reach = bare_rest_reach(job, result, setup.id, None);
    let z_mm = reach.and_then(|reach| reach.nearest_mm(middle_mm, |_| true)).unwrap_or(middle_mm.round());
    Rest::three_jaw(RestId(0), z_mm)
}

/// The tailstock put to the work or taken away; its offsets and what its centre runs out are the lathe's and stay.
fn tail_on_or_off(tail: &TailEnd, on: bool) -> TailEnd {
    if on { TailEnd::live().standing_like(tail) } else { TailEnd { kind: TailKind::Free, ..tail.clone() } }
}

/// A pass along the work outside the jaws, for a set-up that has none.
fn first_pass(job: &Job, setup: &Setup) -> Pass {
    let end_mm = setup.work_end_z_mm(&job.shaft).max(1.0);
    let cut = Cut::ToDrawing { leave_on_diameter_mm: 0.5 };
    Pass::turn(PassId(0), end_mm, 5.0_f64.min(0.5 * end_mm), cut, 0.15, 300.0)
}

/// What a set-up is called on screen.
#[must_use]
pub fn setup_name(index: usize, setup: &Setup) -> String {
    let mut name = format!("{}", index + 1);
    if !setup.name.is_empty() {
        name = format!("{name}  {}", setup.name);
    }
    if setup.end_for_end && !setup.name.contains("turned") {
        name.push_str("  (turned)");
    }
    name
}

/// A set-up in one line: how the work is held and how often it is cut.
fn setup_summary(setup: &Setup) -> String {
    let drive = words::drive_name(setup.drive.kind);
    let tail = match setup.tail.kind {
        TailKind::Free => "nothing at the tailstock end",
        TailKind::DeadCentre => "dead centre",
        TailKind::LiveCentre => "live centre",
        TailKind::SpringCentre => "spring-loaded centre",
        TailKind::HalfCentre => "half centre",
        TailKind::BullNose => "bull-nose centre",
    };
    let mut parts = vec![drive.to_owned(), tail.to_owned()];
    match setup.rests.len() {
        0 => {}
        1 => parts.push("one steady rest".to_owned()),
        n_rests => parts.push(format!("{n_rests} steady rests")),
    }
    if setup.follower.is_some() {
        parts.push("follower rest".to_owned());
    }
    parts.push(match setup.passes.len() {
        0 => "no passes".to_owned(),
        1 => "one pass".to_owned(),
        n_passes => format!("{n_passes} passes"),
    });
    parts.join(", ")
}

/// What a pass is called on screen.
#[must_use]
pub fn pass_name(job: &Job, index: usize, pass: &Pass) -> String {
    let what = match pass.kind {
        PassKind::Turn => "turn",
        PassKind::Spring => return format!("{}  spring pass", index + 1),
        PassKind::Thread => "thread",
        PassKind::Face => "face",
        PassKind::Drill => "drill",
        PassKind::Bore => "bore",
        PassKind::Groove => "groove",
        PassKind::Part => return format!("{}  part off", index + 1),
    };
    let diameter = |mm: f64| quantity::show(mm, quantity::Kind::Diameter, job.units);
    let cut = match pass.cut {
        Cut::Depth { on_diameter_mm } if pass.kind == PassKind::Thread => {
            format!("{} deeper", diameter(on_diameter_mm))
        }
        Cut::Depth { on_diameter_mm } if pass.kind == PassKind::Bore => format!("{} wider", diameter(on_diameter_mm)),
        Cut::ToDrawing { leave_on_diameter_mm: 0.0 } if pass.kind == PassKind::Thread => "to full depth".to_owned(),
        Cut::Depth { on_diameter_mm } => format!("{} off", diameter(on_diameter_mm)),
        Cut::ToDiameter { diameter_mm } => format!("to {}", diameter(diameter_mm)),
        Cut::ToDrawing { leave_on_diameter_mm: 0.0 } => "to the drawing".to_owned(),
        Cut::ToDrawing { leave_on_diameter_mm } if leave_on_diameter_mm < 0.0 => {
            format!("{} under the drawing", diameter(-leave_on_diameter_mm))
        }
        Cut::ToDrawing { leave_on_diameter_mm } => format!("leaving {}", diameter(leave_on_diameter_mm)),
    };
    format!("{}  {what} {cut}", index + 1)
}
