//! The window itself: lays out the panels, takes keys, drains what the panels ask for, and sees to files and questions.

use std::path::PathBuf;
use std::sync::Arc;

use egui::{
    Align, CentralPanel, Context, Frame, Label, Layout, Panel, Rangef, RichText, ScrollArea, Sense, Ui, UiBuilder,
    ViewportCommand,
};

use super::desk::Desk;
use super::drafts::{Drafts, Found};
use super::files::{DesktopPicker, FilePicker, Files};
use super::gallery::Gallery;
use super::menu::{self, MenuState};
use super::new_job::NewJobForm;
use super::places::Places;
use super::plan::PlanWindow;
use super::questions::{Next, Question};
use super::settings::{Settings, ZOOM_RANGE};
use super::sheets::Sheets;
use super::state::N_CURVES;
use super::why_panel::why_panel_ui;
use super::windows::{OwnProgram, Windows};
use super::worker::Wake;
use super::{
    Action, Commands, Exaggeration, Palette, Selected, View, bench, commands, compare_table, curves, details, end_view,
    entry, focus, notes, printing, rails, recovery, strip, theme,
};
use crate::advice::words::capital;
use crate::job::{Document, PassId, SetupId};
use crate::study::placement::Measure;

/// Smallest window everything fits into side by side, in points.
pub const MIN_SIZE: egui::Vec2 = egui::vec2(960.0, 600.0);
/// Room that is left to large type: one side panel at a time, and fewer curves.
const LEAST_ROOM: egui::Vec2 = egui::vec2(860.0, 500.0);

/// What the panels show of the view: where it differs after them, some of them were drawn too early.
#[derive(Clone, Copy, PartialEq)]
struct Seen {
    what: (SetupId, Option<PassId>, Selected, f64, [bool; N_CURVES]),
    places: (Measure, Option<bool>, Option<bool>),
    exaggeration: Exaggeration,
    z_view_mm: (f64, f64),
    y_centre_mm: f64,
    cursor_z_mm: Option<f64>,
    fit: bool,
    plot_x_range: Option<Rangef>,
}

impl Seen {
    fn of(view: &View) -> Self {
        Self {
            what: (view.setup, view.pass, view.selected, view.tool_z_mm, view.curves_shown),
            places: (view.measure, view.with_follower, view.with_tailstock),
            exaggeration: view.exaggeration,
            z_view_mm: (*view.z_view_mm.start(), *view.z_view_mm.end()),
            y_centre_mm: view.y_centre_mm,
            cursor_z_mm: view.cursor_z_mm,
            fit: view.fit,
            plot_x_range: view.plot_x_range,
        }
    }
}

/// The program's window.
pub struct MidspanApp {
    pub desk: Desk,
    /// The list of best places.
    pub places: Places,
    pub(super) files: Files,
    pub settings: Settings,
    /// What must be answered before anything else.
    pub(super) question: Option<Question>,
    pub(super) new_job: Option<NewJobForm>,
    pub(super) plan: Option<PlanWindow>,
    /// The example jobs, while they are shown.
    pub(super) gallery: Option<Gallery>,
    /// The list of keys is shown.
    pub(super) keys_shown: bool,
    /// What is kept of the job while it is unsaved.
    pub(super) drafts: Drafts,
    /// Jobs that another window has left unsaved, to be asked about.
    pub(super) found: Vec<Found>,
    /// What was on the desk before.
    pub(super) last: Option<Box<Desk>>,
    /// The set-up sheet.
    pub sheets: Sheets,
    /// Opens other windows.
    pub windows: Arc<dyn Windows>,
    /// What comes after the save under way.
    pub(super) after_save: Option<Next>,
    /// Actions put off by one frame so that the field being typed in could be left and its text entered.
    put_off: Vec<Action>,
    /// The answer to "quit?" was yes.
    pub(super) quitting: bool,
    title_shown: String,
    applied: Option<Settings>,
}

impl MidspanApp {
    /// The window with a job on the desk; `path` is where the job came from.
    #[must_use]
    pub fn new(ctx: &Context, document: impl Into<Document>, path: Option<PathBuf>, settings: Settings) -> Self {
        Self::with_picker(ctx, document, path, settings, Arc::new(DesktopPicker))
    }

    /// As [`Self::new`], with other dialogs than the desktop's.
    #[must_use]
    pub fn with_picker(
        ctx: &Context,
        document: impl Into<Document>,
        path: Option<PathBuf>,
        settings: Settings,
        picker: Arc<dyn FilePicker>,
    ) -> Self {
        theme::install(ctx);
        ctx.options_mut(|options| options.zoom_with_keyboard = false);
        let mut files = Files::new(picker);
        files.recent.clone_from(&settings.recent);
        if let Some(path) = &path {
            files.remember(path);
        }
        let own_ctx = ctx.clone();
        let wake = Wake::by(move || own_ctx.request_repaint());
        Self {
            places: Places::new(wake.clone()),
            desk: Desk::new(document, path).waking(wake),
            files,
            settings,
            question: None,
            new_job: None,
            plan: None,
            gallery: None,
            keys_shown: false,
            drafts: Drafts::default(),
            found: Vec::new(),
            last: None,
            sheets: Sheets::new(Arc::new(printing::PrintCommands::of_desktop())),
            windows: Arc::new(OwnProgram::default()),
            after_save: None,
            put_off: Vec::new(),
            quitting: false,
            title_shown: String::new(),
            applied: None,
        }
    }

    /// Keeps the job in this folder while it is unsaved, and asks about those that were left there.
    #[must_use]
    pub fn keeping_unsaved(mut self, folder: PathBuf) -> Self {
        (self.drafts, self.found) = Drafts::in_folder(folder);
        self
    }

    /// One frame.
    pub fn frame_ui(&mut self, ui: &mut Ui) {
        let ctx = ui.ctx().clone();
        self.apply_settings(&ctx);
        let mut out = Commands::default();
        out.actions.append(&mut self.put_off);
        if self.is_asking() {
            self.desk.view.play.pause();
        } else {
            let step_open = self.desk.history().step_is_open();
            let playing = self.desk.view.play.is_playing();
            out.actions.extend(commands::take_keys(&ctx, entry::is_typing(&ctx), playing, step_open));
        }
        if self.desk.play_on(ctx.input(|input| input.time)) {
            ctx.request_repaint();
        }
        self.desk.view.has_dragged |= self.settings.has_dragged;
        let before = Seen::of(&self.desk.view);
        self.panels_ui(ui, &mut out);
        self.settings.has_dragged |= self.desk.view.has_dragged;
        if before.fit && self.desk.view.plot_x_range != before.plot_x_range {
            // It was fitted over a frame that no longer is: the window opens, or changed its size.
            self.desk.view.fit = true;
        }
        self.over_ui(&ctx, &mut out);
        self.sheets_ui(&ctx);
        self.asking_ui(&ctx, &mut out);
        self.poll_files(&ctx);
        self.take_dropped(&ctx);
        self.guard_closing(&ctx);
        focus::ring(&ctx);

        if entry::is_typing(&ctx) && out.actions.iter().any(|action| commands::needs_entered_text(*action)) {
            self.put_off = std::mem::take(&mut out.actions);
            if let Some(focused) = ctx.memory(egui::Memory::focused) {
                ctx.memory_mut(|memory| memory.surrender_focus(focused));
            }
            ctx.request_repaint();
        }
        let asked = !out.edits.is_empty() || !out.actions.is_empty() || !out.pinning.is_empty();
        for action in self.desk.take(out) {
            self.act(&ctx, action);
        }
        self.places.keep_up(self.desk.job(), &self.desk.view);
        self.keep_unsaved(&ctx);
        entry::leave_refusal(&ctx, self.desk.refusal.clone());
        let after = Seen::of(&self.desk.view);
        if asked || (after.what, after.places) != (before.what, before.places) {
            // Panels drawn before the change are drawn again in this very frame.
            ctx.request_discard("the job or what is looked at changed");
        } else if after != before {
            ctx.request_repaint();
        }
        self.show_title(&ctx);
    }

    fn panels_ui(&mut self, ui: &mut Ui, out: &mut Commands) {
        let state = MenuState {
            can_undo: self.desk.history().can_undo(),
            can_redo: self.desk.history().can_redo(),
            dialog_open: self.files.is_waiting(),
            recent: &self.files.recent,
            last_job: self.last.as_ref().map(|desk| recovery::title(desk.job())),
        };
        let status = self.desk.status.clone();
        let (unsaved, in_file) = (self.desk.is_unsaved(), self.desk.path.is_some());
        let (job, results, view) = self.desk.parts();
        let (settings, places) = (&mut self.settings, &mut self.places);
        let palette = Palette::for_ui(ui);
        let narrow = ui.available_width() < MIN_SIZE.x;
        let had_details = settings.details_open;
        let roomy = ui.available_height() >= theme::ROOMY_HEIGHT;

        Panel::top("menu and tools").show(ui, |ui| {
            menu::top_ui(ui, job, view, settings, &state, out);
        });
        if narrow && settings.details_open && settings.notes_open {
            // Room for one of them: the one just asked for.
            (settings.details_open, settings.notes_open) = if had_details { (false, true) } else { (true, false) };
        }
        Panel::bottom("status").show(ui, |ui| {
            let words = match &status {
                Some(status) if status.trouble => {
                    RichText::new(capital(&status.text)).color(ui.visuals().error_fg_color)
                }
                Some(status) => RichText::new(&status.text),
                None => RichText::new(match (unsaved, in_file) {
                    (true, _) => "Changed, not saved.",
                    (false, true) => "Saved.",
                    (false, false) => "Nothing changed yet.",
                })
                .weak(),
            };
            ui.horizontal(|ui| {
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                    ui.weak("Estimates, not promises.").on_hover_text(
                        "Forces and stiffnesses are uncertain: check by measuring. Nothing here is a safe speed or a \
                         promise that a cut will not chatter.",
                    );
                    // What is too long for its room is shown whole at the pointer.
                    ui.with_layout(Layout::left_to_right(Align::Center), |ui| ui.add(Label::new(words).truncate()));
                });
            });
        });
        Panel::bottom("strip").resizable(false).show(ui, |ui| strip::strip_ui(ui, job, view, results, out));
        Panel::left("details").default_size(304.0).size_range(240.0..=460.0).show_collapsible(
            ui,
            &mut settings.details_open,
            |ui| {
                scrolled_ui(ui, "details scroll", |ui| details::details_ui(ui, job, view, results, places, out));
            },
        );
        Panel::right("notes").default_size(300.0).size_range(220.0..=460.0).show_collapsible(
            ui,
            &mut settings.notes_open,
            |ui| {
                if end_view::has_something_to_show(job, view, results) {
                    let all = ui.available_height();
                    let end_view_height = (all * 0.5).max(300.0).min(all * 0.62).min(ui.available_width() + 60.0);
                    Panel::bottom("end view").exact_size(end_view_height).show(ui, |ui| {
                        boxed_ui(ui, |ui| end_view::end_view_ui(ui, job, view, results, &palette, out));
                    });
                }
                scrolled_ui(ui, "notes scroll", |ui| notes::notes_ui(ui, job, view, results, &palette, out));
            },
        );
        CentralPanel::default().frame(Frame::new().fill(palette.canvas)).show(ui, |ui| {
            // Many plots at once need some of the bench's room.
            let crowded = match view.curves_shown.iter().filter(|shown| **shown).count() {
                N_CURVES => 0.07,
                n if n + 1 == N_CURVES => 0.03,
                _ => 0.0,
            };
            let share = if roomy { 0.46 } else { 0.43 } - crowded;
            // The rails stand in what would be the bench's lower margin: the plots keep their height.
            let rails_height = rails::height(job, view, results);
            let bench_height = (ui.available_height() * share - rails_height).max(120.0);
            Panel::top("bench").exact_size(bench_height).frame(Frame::new()).show_separator_line(true).show(ui, |ui| {
                bench::bench_ui(ui, job, view, results, &palette, out);
            });
            if rails_height > 0.0 {
                let rails = Panel::top("rails").exact_size(rails_height).frame(Frame::new());
                rails.show_separator_line(false).show(ui, |ui| rails::rails_ui(ui, job, view, results, &palette, out));
            }
            CentralPanel::default().frame(Frame::new()).show(ui, |ui| {
                curves::curves_ui(ui, job, view, results, &palette, out);
            });
        });
    }

    /// What lies over the panels without being in the way: the table of arrangements and the explanation of a figure.
    fn over_ui(&mut self, ctx: &Context, out: &mut Commands) {
        let (can_save, is_asking) = (!self.files.is_waiting(), self.is_asking());
        let (job, results, view) = self.desk.parts();
        if view.comparing {
            compare_table::compare_table_ui(ctx, job, &results.compared, can_save, out);
        }
        why_panel_ui(ctx, job, view, results, is_asking, out);
    }

    fn apply_settings(&mut self, ctx: &Context) {
        self.settings.recent.clone_from(&self.files.recent);
        let zoom = self.settings.zoom.min(largest_zoom(ctx));
        if (ctx.zoom_factor() - zoom).abs() > 1e-3 {
            ctx.set_zoom_factor(zoom);
        }
        if self.applied.as_ref() == Some(&self.settings) {
            return;
        }
        theme::choose(ctx, self.settings.theme);
        let animation_time = if self.settings.calm { 0.0 } else { theme::ANIMATION_S };
        ctx.all_styles_mut(|style| style.animation_time = animation_time);
        self.applied = Some(self.settings.clone());
    }

    /// Makes type larger or smaller by a step, from what is shown.
    pub(super) fn change_zoom(&mut self, ctx: &Context, by: f32) {
        let largest = largest_zoom(ctx);
        let zoom = ((self.settings.zoom.min(largest) + by) * 20.0).round() / 20.0;
        self.settings.zoom = zoom.clamp(*ZOOM_RANGE.start(), largest);
        if zoom > largest {
            self.desk.say("Larger type than this needs a larger window.");
        }
    }

    fn show_title(&mut self, ctx: &Context) {
        let name = self.desk.path.as_ref().and_then(|path| path.file_name()).map_or_else(
            || if self.desk.job().title.is_empty() { "new job".to_owned() } else { self.desk.job().title.clone() },
            |name| name.to_string_lossy().into_owned(),
        );
        let dot = if self.desk.is_unsaved() { "• " } else { "" };
        let title = format!("{dot}{name} - Midspan");
        if title != self.title_shown {
            ctx.send_viewport_cmd(ViewportCommand::Title(title.clone()));
            self.title_shown = title;
        }
    }

    /// The title of the window.
    #[must_use]
    pub fn title(&self) -> &str {
        &self.title_shown
    }
}

/// The largest type with which everything fits into the window as large as it is.
fn largest_zoom(ctx: &Context) -> f32 {
    let now = ctx.pixels_per_point() / ctx.native_pixels_per_point().unwrap_or(1.0);
    let times = ctx.content_rect().size() / LEAST_ROOM * now;
    let whole_steps = (times.min_elem() * 20.0 + 0.01).floor() / 20.0;
    whole_steps.clamp(1.0, *ZOOM_RANGE.end())
}

/// All the room there is for `contents`, and no more: what is too wide is cut off instead of widening the panel.
fn boxed_ui(ui: &mut Ui, contents: impl FnOnce(&mut Ui)) {
    let room = ui.available_rect_before_wrap();
    let mut inside = ui.new_child(UiBuilder::new().max_rect(room));
    inside.shrink_clip_rect(room);
    contents(&mut inside);
    ui.allocate_rect(room, Sense::hover());
}

/// As [`boxed_ui`], with `contents` scrolled up and down.
fn scrolled_ui(ui: &mut Ui, salt: &str, contents: impl FnOnce(&mut Ui)) {
    boxed_ui(ui, |ui| {
        ScrollArea::vertical().auto_shrink([false, false]).id_salt(salt).show(ui, |ui| {
            contents(ui);
            focus::bring_into_sight(ui);
        });
    });
}

impl eframe::App for MidspanApp {
    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        self.frame_ui(ui);
    }

    fn save(&mut self, storage: &mut dyn eframe::Storage) {
        self.settings.store(storage);
    }
}
