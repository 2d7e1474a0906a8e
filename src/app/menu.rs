//! The menu bar and the tools beside it.

use egui::{Button, MenuBar, RichText, ScrollArea, ThemePreference, Ui};

use super::commands::keys_text;
use super::play::Pace;
use super::settings::Settings;
use super::theme::TARGET;
use super::{Action, Commands, Exaggeration, Selected, View, curves};
use crate::job::{Edit, Job, Units};

/// What menu and tool row need to know of the window.
#[derive(Clone, Copy, Debug)]
pub struct MenuState<'a> {
    pub can_undo: bool,
    pub can_redo: bool,
    /// A file dialog is open.
    pub dialog_open: bool,
    pub recent: &'a [std::path::PathBuf],
    /// What the job before this one is called.
    pub last_job: Option<&'a str>,
}

/// What the table of arrangements is called in menus.
const COMPARE: &str = "Compare what is pinned";

/// What the plan is called wherever it is offered.
pub const PLAN: &str = "Plan the job…";

fn item(ui: &mut Ui, out: &mut Commands, enabled: bool, words: &str, action: Action) {
    let mut button = Button::new(words);
    if let Some(keys) = keys_text(ui.ctx(), action) {
        button = button.shortcut_text(keys);
    }
    if ui.add_enabled(enabled, button).clicked() {
        out.actions.push(action);
        ui.close();
    }
}

/// Menus and tools need so much width to stand in one row, in points; less without the tools that menus have too.
const ONE_ROW: f32 = 780.0;
const ALL_TOOLS: f32 = 1010.0;
/// So much more for the button of the examples, which the File menu has as well.
const EXAMPLES_WIDTH: f32 = 60.0;

/// The menus, and the tools beside them or, where the window is narrow, beneath them.
pub fn top_ui(
    ui: &mut Ui,
    job: &Job,
    view: &mut View,
    settings: &mut Settings,
    state: &MenuState<'_>,
    out: &mut Commands,
) {
    let width = ui.available_width();
    let one_row = width >= ONE_ROW;
    let all_tools = !one_row || width >= ALL_TOOLS;
    let roomy = !one_row || width >= ALL_TOOLS + EXAMPLES_WIDTH;
    let style = ui.style().clone();
    MenuBar::new().ui(ui, |ui| {
        menus_ui(ui, job, view, settings, state, out);
        if roomy && ui.button("Examples").clicked() {
            out.actions.push(Action::Gallery);
        }
        ui.menu_button("Help", |ui| item(ui, out, true, "Keys and mouse", Action::KeyList));
        if one_row {
            ui.set_style(style);
            ui.separator();
            tools_ui(ui, job, (settings, all_tools), state, out);
        }
    });
    if !one_row {
        ui.horizontal_wrapped(|ui| tools_ui(ui, job, (settings, all_tools), state, out));
    }
}

fn menus_ui(
    ui: &mut Ui,
    job: &Job,
    view: &mut View,
    settings: &mut Settings,
    state: &MenuState<'_>,
    out: &mut Commands,
) {
    ui.menu_button("File", |ui| file_menu(ui, state, out));
    ui.menu_button("Edit", |ui| {
        item(ui, out, state.can_undo, "Undo", Action::Undo);
        item(ui, out, state.can_redo, "Redo", Action::Redo);
        ui.separator();
        item(ui, out, true, "Take away what is selected", Action::DeleteSelected);
        ui.separator();
        item(ui, out, true, PLAN, Action::Plan);
    });
    ui.menu_button("Select", |ui| in_sight(ui, |ui| select_menu(ui, job, view)));
    ui.menu_button("View", |ui| in_sight(ui, |ui| view_menu(ui, view, settings, out)));
}

/// A menu that scrolls where the window is lower than it.
fn in_sight(ui: &mut Ui, contents: impl FnOnce(&mut Ui)) {
    let height = ui.ctx().content_rect().height() - 2.0 * TARGET;
    ScrollArea::vertical().max_height(height).show(ui, contents);
}

fn view_menu(ui: &mut Ui, view: &mut View, settings: &mut Settings, out: &mut Commands) {
    item(ui, out, true, "Fit the whole set-up", Action::Fit);
    item(ui, out, true, "Pin this arrangement", Action::Pin);
    item(ui, out, true, COMPARE, Action::Compare);
    ui.separator();
    ui.checkbox(&mut settings.details_open, "Details at the left");
    ui.checkbox(&mut settings.notes_open, "Notes and end view at the right");
    ui.separator();
    ui.menu_button("Curves", |ui| {
        for (title, shown) in curves::TITLES.into_iter().zip(&mut view.curves_shown) {
            ui.checkbox(shown, title);
        }
    });
    ui.checkbox(&mut view.bands_shown, curves::BANDS).on_hover_text(curves::BANDS_HINT);
    ui.checkbox(&mut view.coverage_shown, "What is cut where")
        .on_hover_text("A row under the bench; it stays while something is not cut to size");
    ui.checkbox(&mut view.setup_coverage_shown, "What this set-up cuts")
        .on_hover_text("One more row, of jobs with several set-ups");
    ui.menu_button("Spring drawn larger", |ui| exaggeration_menu(ui, view));
    ui.menu_button("The cut played", |ui| play_menu(ui, view, out));
    ui.menu_button("Light or dark", |ui| theme_menu(ui, settings));
    ui.checkbox(&mut settings.calm, "Less movement").on_hover_text("What is switched is shown at once");
    ui.menu_button("Type size", |ui| {
        item(ui, out, true, "Larger", Action::LargerType);
        item(ui, out, true, "Smaller", Action::SmallerType);
        item(ui, out, true, "As it was at first", Action::UsualType);
    });
}

fn file_menu(ui: &mut Ui, state: &MenuState<'_>, out: &mut Commands) {
    let free = !state.dialog_open;
    item(ui, out, free, "New job…", Action::NewJob);
    item(ui, out, true, "New window", Action::NewWindow);
    item(ui, out, free, "Open…", Action::Open);
    item(ui, out, free, "Open by typing its path…", Action::OpenByPath);
    item(ui, out, free, "Example jobs…", Action::Gallery);
    ui.add_enabled_ui(free && !state.recent.is_empty(), |ui| {
        ui.menu_button("Opened before", |ui| {
            for (index, path) in state.recent.iter().enumerate() {
                let name = path.file_name().map_or_else(|| path.display().to_string(), |n| n.to_string_lossy().into());
                if ui.button(name).on_hover_text(path.display().to_string()).clicked() {
                    out.actions.push(Action::Recent(index));
                    ui.close();
                }
            }
        });
    });
    let words =
        state.last_job.map_or("Bring back the last job".into(), |title| format!("Bring back \u{201c}{title}\u{201d}"));
    item(ui, out, free && state.last_job.is_some(), &words, Action::LastJob);
    ui.separator();
    item(ui, out, free, "Save", Action::Save);
    item(ui, out, free, "Save as…", Action::SaveAs);
    ui.separator();
    item(ui, out, free, "Set-up sheet…", Action::Sheet);
    ui.separator();
    item(ui, out, true, "Quit", Action::Quit);
}

/// Everything that can be selected, for those who do not click on the picture.
fn select_menu(ui: &mut Ui, job: &Job, view: &mut View) {
    let Some(setup) = job.setup(view.setup) else { return };
    let mut choices = vec![
        ("Shaft".to_owned(), Selected::Shaft),
        ("Lathe".to_owned(), Selected::Lathe),
        ("How sure".to_owned(), Selected::Sureness),
        ("Set-up".to_owned(), Selected::Setup),
        ("Best places".to_owned(), Selected::Places),
        ("Headstock end".to_owned(), Selected::Drive),
        ("Tailstock end".to_owned(), Selected::Tail),
        ("Tool".to_owned(), Selected::Tool),
    ];
    for (index, rest) in setup.rests.iter().enumerate() {
        choices.push((format!("Steady rest {}", index + 1), Selected::Rest(rest.id)));
    }
    if setup.follower.is_some() {
        choices.push(("Follower rest".to_owned(), Selected::Follower));
    }
    for (index, pass) in setup.passes.iter().enumerate() {
        choices.push((format!("Pass {}", index + 1), Selected::Pass(pass.id)));
    }
    for (words, selected) in choices {
        if ui.selectable_label(view.selected == selected, words).clicked() {
            view.selected = selected;
            if let Selected::Pass(pass) = selected {
                view.pass = Some(pass);
            }
            ui.close();
        }
    }
}

fn exaggeration_menu(ui: &mut Ui, view: &mut View) {
    ui.selectable_value(&mut view.exaggeration, Exaggeration::Auto, "By itself, a round number");
    for times in [1.0, 10.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0] {
        ui.selectable_value(&mut view.exaggeration, Exaggeration::Times(times), format!("{times:.0} times"));
    }
}

fn play_menu(ui: &mut Ui, view: &mut View, out: &mut Commands) {
    let words = if view.play.is_playing() { "Pause the cut" } else { "Play the cut" };
    item(ui, out, true, words, Action::Play);
    item(ui, out, true, "Tool a step on", Action::StepOn);
    item(ui, out, true, "Tool a step back", Action::StepBack);
    ui.separator();
    for (pace, words) in Pace::ALL {
        ui.selectable_value(&mut view.play.pace, pace, words);
    }
}

fn theme_menu(ui: &mut Ui, settings: &mut Settings) {
    for (preference, words) in [
        (ThemePreference::System, "As the desktop"),
        (ThemePreference::Light, "Light"),
        (ThemePreference::Dark, "Dark"),
    ] {
        ui.selectable_value(&mut settings.theme, preference, words);
    }
}

/// The tools beside it, one after another in the layout of `ui`.
fn tools_ui(ui: &mut Ui, job: &Job, (settings, all): (&mut Settings, bool), state: &MenuState<'_>, out: &mut Commands) {
    ui.toggle_value(&mut settings.details_open, "Details").on_hover_text("Show or hide the panel at the left");
    ui.separator();
    tool(ui, out, state.can_undo, "Undo", Action::Undo);
    tool(ui, out, state.can_redo, "Redo", Action::Redo);
    if all {
        ui.separator();
        tool(ui, out, true, "Fit", Action::Fit);
        tool(ui, out, true, "Pin", Action::Pin);
        tool(ui, out, true, "Compare", Action::Compare);
    }
    ui.separator();
    for (units, words, hint) in
        [(Units::Metric, "mm", "Show and type millimetres"), (Units::Inch, "in", "Show and type inches")]
    {
        if ui.selectable_label(job.units == units, words).on_hover_text(hint).clicked() && job.units != units {
            out.edits.push(Edit::SetUnits(units));
        }
    }
    ui.separator();
    let dark = ui.visuals().dark_mode;
    let (words, other) = if dark { ("Light", ThemePreference::Light) } else { ("Dark", ThemePreference::Dark) };
    if all && ui.button(words).on_hover_text("Change between light and dark").clicked() {
        settings.theme = other;
    }
    if ui.button(RichText::new("A−")).on_hover_text("Smaller type").clicked() {
        out.actions.push(Action::SmallerType);
    }
    if ui.button(RichText::new("A+")).on_hover_text("Larger type").clicked() {
        out.actions.push(Action::LargerType);
    }
    ui.separator();
    ui.toggle_value(&mut settings.notes_open, "Notes").on_hover_text("Show or hide the panel at the right");
}

fn tool(ui: &mut Ui, out: &mut Commands, enabled: bool, words: &str, action: Action) {
    let mut response = ui.add_enabled(enabled, Button::new(words));
    if let Some(keys) = keys_text(ui.ctx(), action) {
        response = response.on_hover_text(keys);
    }
    if response.clicked() {
        out.actions.push(action);
    }
}
