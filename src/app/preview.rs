//! The set-up sheet before it is saved or printed, page by page: the very dots that would be saved as PNG.

use egui::{Color32, ColorImage, ComboBox, Context, Id, Modal, ScrollArea, TextureHandle, TextureOptions, Ui, vec2};

use super::{Results, theme};
use crate::job::{Job, SetupId, Units};
use crate::picture::png::dots;
use crate::sheet::save::FileKind;
use crate::sheet::{self, Choices, PageSize, Paper, Scale, Sheet};

/// Room for what is said and the buttons under it.
const FOOT: f32 = 84.0;
/// Room for all scales.
const LIST_HEIGHT: f32 = 460.0;

/// What is asked for in the preview.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asked {
    Save(FileKind),
    SaveByPath(FileKind),
    Print,
    Close,
}

/// The sheet on screen.
pub struct Preview {
    pub choices: Choices,
    pub sheet: Sheet,
    /// The page that is seen, counted from 0.
    pub page: usize,
    /// As wide as there is room for, and scrolled; else the whole page.
    full_width: bool,
    /// The set-up that was looked at when the preview was opened.
    setup: SetupId,
    /// What was last done, and whether it failed.
    pub said: Option<(String, bool)>,
    /// A page as dots, with its place and its width in dots.
    drawn: Option<(usize, u32, TextureHandle)>,
}

impl Preview {
    /// The sheet of a job on paper that is usual for its units, or as chosen before.
    #[must_use]
    pub fn new(job: &Job, results: &Results, setup: SetupId, before: Option<Choices>) -> Self {
        let usual = || Choices { paper: Paper::usual(job.units), ..Choices::default() };
        let choices = Choices { setup: None, ..before.unwrap_or_else(usual) };
        let sheet = sheet::sheet(job, &results.result, &choices);
        Self { choices, sheet, page: 0, full_width: false, setup, said: None, drawn: None }
    }

    /// Draws it over the window. `busy` while a dialog is open or something is being printed.
    pub fn show(&mut self, ctx: &Context, job: &Job, results: &Results, busy: bool) -> Option<Asked> {
        let before = self.choices.clone();
        let modal = Modal::new(Id::unique("sheet preview")).frame(theme::question_frame(ctx)).show(ctx, |ui| {
            let room = ui.ctx().content_rect();
            let high = room.height() - 80.0;
            ui.set_width(room.width() - 80.0);
            ui.set_height(high);
            ui.horizontal_wrapped(|ui| {
                ui.heading("Set-up sheet");
                ui.separator();
                self.choices_ui(ui, job);
            });
            ui.horizontal_wrapped(|ui| self.pages_ui(ui));
            let used = ui.cursor().top() - ui.min_rect().top();
            let height = (high - used - FOOT).max(120.0);
            self.page_ui(ui, height);
            if let Some((said, failed)) = &self.said {
                let colour = if *failed { ui.visuals().error_fg_color } else { ui.visuals().text_color() };
                ui.colored_label(colour, said);
            } else {
                ui.weak("Print at 100 %, and measure the line at the head of the page on the print.");
            }
            ui.horizontal_wrapped(|ui| asked_ui(ui, busy)).inner
        });
        if self.choices != before {
            self.sheet = sheet::sheet(job, &results.result, &self.choices);
            self.page = self.page.min(self.sheet.pages.len().saturating_sub(1));
            self.drawn = None;
            ctx.request_repaint();
        }
        let closed = modal.should_close() && !busy;
        modal.inner.or(closed.then_some(Asked::Close))
    }

    fn choices_ui(&mut self, ui: &mut Ui, job: &Job) {
        let choices = &mut self.choices;
        let sizes = PageSize::ALL.map(|size| (size, size.name().to_owned()));
        choice(ui, "Paper", &mut choices.paper.size, &sizes);
        let ways = [(true, "landscape".to_owned()), (false, "portrait".to_owned())];
        choice(ui, "Lying", &mut choices.paper.landscape, &ways);
        let mut scales = vec![(None, "largest that fits".to_owned())];
        scales.extend(Scale::all().map(|scale| (Some(scale), scale.to_string())));
        choice(ui, "Scale", &mut choices.scale, &scales);
        let mut units = choices.units.unwrap_or(job.units);
        choice(ui, "Units", &mut units, &[(Units::Metric, "mm".to_owned()), (Units::Inch, "inches".to_owned())]);
        choices.units = (units != job.units).then_some(units);
        if job.setups.len() > 1 {
            let setups = [(None, "all set-ups".to_owned()), (Some(self.setup), "this set-up only".to_owned())];
            choice(ui, "Pages of", &mut choices.setup, &setups);
        }
        ui.checkbox(&mut choices.symbols, "Process signs").on_hover_text("Signs with a legend for what holds the work");
        ui.checkbox(&mut choices.reasons, "Reasons under the steps");
    }

    fn pages_ui(&mut self, ui: &mut Ui) {
        let n_pages = self.sheet.pages.len();
        if ui.add_enabled(self.page > 0, egui::Button::new("Page before")).clicked() {
            self.page -= 1;
        }
        ui.label(format!("Page {} of {n_pages}", self.page + 1));
        if ui.add_enabled(self.page + 1 < n_pages, egui::Button::new("Next page")).clicked() {
            self.page += 1;
        }
        ui.separator();
        ui.selectable_value(&mut self.full_width, false, "Whole page");
        ui.selectable_value(&mut self.full_width, true, "Full width");
        if let Some(scale) = self.sheet.pages.get(self.page).and_then(|page| page.scale) {
            ui.separator();
            ui.label(format!("drawn at {scale}"));
        }
    }

    fn page_ui(&mut self, ui: &mut Ui, height: f32) {
        let Some(page) = self.sheet.pages.get(self.page) else { return };
        let bounds = page.picture.bounds;
        let wide_mm = (bounds.right_mm - bounds.left_mm) as f32;
        let high_mm = (bounds.top_mm - bounds.bottom_mm) as f32;
        let full = ui.available_width() - 16.0;
        let width = if self.full_width { full } else { full.min((height - 6.0) * wide_mm / high_mm) };
        let size = vec2(width, width * high_mm / wide_mm);
        let n_dots = (width * ui.pixels_per_point()).round().max(1.0);
        if self.drawn.as_ref().is_none_or(|(of, wide, _)| (*of, *wide) != (self.page, n_dots as u32)) {
            let Ok((of, rgba)) = dots(&page.picture, f64::from(n_dots / wide_mm) * 25.4) else { return };
            let image = ColorImage::from_rgba_premultiplied(of, &rgba);
            let texture = ui.ctx().load_texture("page of the sheet", image, TextureOptions::LINEAR);
            self.drawn = Some((self.page, n_dots as u32, texture));
        }
        let Some((_, _, texture)) = &self.drawn else { return };
        let words = format!("Page {} of the set-up sheet", self.page + 1);
        ScrollArea::both().id_salt(self.page).max_height(height).auto_shrink([false, false]).show(ui, |ui| {
            ui.vertical_centered(|ui| {
                let image = egui::Image::new((texture.id(), size)).bg_fill(Color32::WHITE).alt_text(words);
                ui.add(image);
            });
        });
    }
}

fn asked_ui(ui: &mut Ui, busy: bool) -> Option<Asked> {
    let mut asked = None;
    ui.add_enabled_ui(!busy, |ui| {
        for kind in FileKind::ALL {
            if ui.button(format!("Save as {}…", kind.ending().to_uppercase())).clicked() {
                asked = Some(Asked::Save(kind));
            }
        }
        if ui.button("Save by typing its path…").clicked() {
            asked = Some(Asked::SaveByPath(FileKind::Pdf));
        }
        ui.separator();
        if ui.button("Print").on_hover_text("Hands the PDF to the desktop's viewer or printer").clicked() {
            asked = Some(Asked::Print);
        }
        ui.separator();
        if ui.button("Close").clicked() {
            asked = Some(Asked::Close);
        }
    });
    asked
}

fn choice<T: Clone + PartialEq>(ui: &mut Ui, label: &str, value: &mut T, all: &[(T, String)]) {
    let words = all.iter().find(|(of, _)| of == value).map_or("", |(_, words)| words);
    let name = ui.label(label).id;
    let shown = ComboBox::from_id_salt(label).height(LIST_HEIGHT).selected_text(words).show_ui(ui, |ui| {
        for (of, words) in all {
            ui.selectable_value(value, of.clone(), words);
        }
    });
    shown.response.labelled_by(name);
}
