//! The question at the start about jobs that a window which did not end orderly has left unsaved.

use std::time::Duration;

use egui::{Button, Context, Id, Modal, RichText, Role, Ui, WidgetInfo};

use super::drafts::Found;
use super::theme;
use crate::job::Job;

/// What is to be done about the jobs found, each by its place among them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Told {
    OpenAgain(usize),
    DoNotKeep(usize),
    Later,
}

/// Asks about them.
pub fn recovery_ui(ctx: &Context, found: &[Found]) -> Option<Told> {
    let modal = Modal::new(Id::unique("jobs not saved")).frame(theme::question_frame(ctx)).show(ctx, |ui| {
        ui.set_width(520.0_f32.min(ui.ctx().content_rect().width() - 60.0));
        ui.heading("Open what was not saved?");
        ui.label("Midspan ended before this was saved:");
        let mut told = None;
        egui::ScrollArea::vertical().max_height(300.0).show(ui, |ui| {
            for (index, one) in found.iter().enumerate() {
                told = told.or(ui.push_id(index, |ui| found_ui(ui, index, one)).inner);
            }
        });
        ui.separator();
        told.or(ui.button("Decide at the next start").clicked().then_some(Told::Later))
    });
    let closed = modal.should_close();
    modal.inner.or(closed.then_some(Told::Later))
}

fn found_ui(ui: &mut Ui, index: usize, found: &Found) -> Option<Told> {
    ui.add_space(6.0);
    let title = title(&found.document.job);
    ui.label(RichText::new(format!("{title}, last changed {}", ago(found.age))).strong());
    match &found.of_file {
        Some(path) => ui.weak(format!("Of the file {}, which is as it was last saved.", path.display())),
        None => ui.weak("It was in no file yet."),
    };
    ui.horizontal(|ui| {
        let named = |ui: &mut Ui, words: &str| {
            let button = ui.add(Button::new(words));
            button.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("{words}: {title}")));
            button
        };
        let open = named(ui, "Open it again");
        if index == 0 && ui.memory(|memory| memory.focused().is_none()) {
            open.request_focus();
        }
        let throw = named(ui, "Do not keep it");
        if open.clicked() {
            return Some(Told::OpenAgain(index));
        }
        throw.clicked().then_some(Told::DoNotKeep(index))
    })
    .inner
}

/// What a job is called on screen.
#[must_use]
pub fn title(job: &Job) -> &str {
    if job.title.trim().is_empty() { "A job without a name" } else { job.title.trim() }
}

/// A length of time past, in words.
fn ago(age: Duration) -> String {
    let minutes = age.as_secs() / 60;
    let of = |n: u64, unit: &str| format!("{n} {unit}{} ago", if n == 1 { "" } else { "s" });
    match minutes {
        0 | 1 => "a moment ago".to_owned(),
        2..=89 => of(minutes, "minute"),
        90..=2879 => of((minutes + 30) / 60, "hour"),
        _ => of((minutes + 720) / 1440, "day"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_past_are_told_in_round_words() {
        let minutes = |n: u64| ago(Duration::from_secs(60 * n));
        assert_eq!(minutes(0), "a moment ago");
        assert_eq!(minutes(2), "2 minutes ago");
        assert_eq!(minutes(95), "2 hours ago");
        assert_eq!(minutes(26 * 60), "26 hours ago");
        assert_eq!(minutes(3 * 1440), "3 days ago");
    }
}
