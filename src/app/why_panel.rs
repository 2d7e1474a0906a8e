//! Why a figure is what it is: the panel that a figure opens over the window, which follows the job while it is open.

use egui::{Context, Id, Key, Label, RichText, Role, ScrollArea, Sense, Ui, WidgetInfo, vec2};

use super::bench::map::Map;
use super::bench::paint::paint_picture;
use super::{Action, Commands, Explained, Palette, Results, View, theme};
use crate::advice::why::{Asked, Purpose, Sketch, Sum, Why, title, units_told, why};
use crate::job::{Job, Units};
use crate::picture::Part;
use crate::picture::why_sketch::why_sketch;

const WIDTH: f32 = 430.0;
const SKETCH_HEIGHT: f32 = 104.0;

/// The panel, while a figure or a finding is asked about.
pub fn why_panel_ui(ctx: &Context, job: &Job, view: &View, results: &Results, is_asking: bool, out: &mut Commands) {
    let Some(explained) = view.why else { return };
    let finding = explained.of(&results.findings);
    let (head, found) = match explained {
        Explained::Figure(figure) => {
            let asked = Asked::of(job, &results.result, view.setup, view.pass, results.shape.as_ref(), view.tool_z_mm);
            (title(figure), asked.and_then(|asked| why(&asked, figure)))
        }
        Explained::Finding { .. } => {
            (finding.map_or("What was found", |finding| &finding.text), finding.map(|finding| finding.behind.clone()))
        }
    };
    let room = ctx.content_rect();
    let height = room.height() - 260.0;
    let mut close = !is_asking && ctx.input(|input| input.key_pressed(Key::Escape) && !input.pointer.any_down());
    egui::Window::new("Why")
        .id(Id::unique("why"))
        .frame(theme::question_frame(ctx))
        .title_bar(false)
        .resizable(false)
        .constrain(true)
        .default_pos(room.right_top() + vec2(-330.0 - WIDTH, 110.0))
        .show(ctx, |ui| {
            ui.set_width(WIDTH.min(room.width() - 60.0));
            let palette = Palette::for_ui(ui);
            match finding {
                Some(_) => wrapped(ui, RichText::new(head).strong()),
                None => drop(ui.heading(head)),
            }
            ScrollArea::vertical().max_height(height).min_scrolled_height(height).auto_shrink([false, true]).show(
                ui,
                |ui| match &found {
                    Some(found) => {
                        if let Some(finding) = finding {
                            wrapped(ui, RichText::new(&finding.why));
                            ui.add_space(4.0);
                        }
                        told_ui(ui, job, found, &palette);
                    }
                    None => {
                        ui.label(match explained {
                            Explained::Figure(_) => "This figure is not there just now.",
                            Explained::Finding { .. } => "This is no longer found.",
                        });
                    }
                },
            );
            ui.add_space(4.0);
            let button = ui.button("Close the explanation");
            if ui.memory(|memory| memory.focused().is_none()) {
                button.request_focus();
            }
            close |= button.clicked();
        });
    if close {
        out.actions.push(Action::Why(None));
    }
}

fn told_ui(ui: &mut Ui, job: &Job, found: &Why, palette: &Palette) {
    wrapped(ui, RichText::new(&found.what));
    if let Some(sketch) = &found.sketch {
        sketch_ui(ui, sketch, job.units, palette);
    }
    for sum in &found.sums {
        sum_ui(ui, sum);
    }
    for more in &found.more {
        wrapped(ui, RichText::new(more));
    }
    let units = units_told(job);
    if !units.is_empty() && !found.sums.is_empty() {
        wrapped(ui, RichText::new(units).small().weak());
    }
    ui.add_space(4.0);
    wrapped(ui, RichText::new(format!("Source: {}", found.source)).small().weak());
    wrapped(ui, RichText::new(format!("How far to trust it: {}.", found.trust)).small().weak());
}

fn wrapped(ui: &mut Ui, text: RichText) {
    ui.add(Label::new(text).wrap());
}

fn sum_ui(ui: &mut Ui, sum: &Sum) {
    ui.add_space(4.0);
    let beside = if sum.purpose == Purpose::Estimate { "  (beside it, an estimate)" } else { "" };
    wrapped(ui, RichText::new(format!("{} = {}{beside}", sum.gives, sum.words)).small().weak());
    let line = RichText::new(format!("{} = {}", sum.numbers, sum.result));
    wrapped(ui, if sum.purpose == Purpose::Figure { line.strong() } else { line });
}

fn sketch_ui(ui: &mut Ui, sketch: &Sketch, units: Units, palette: &Palette) {
    ui.add_space(4.0);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), SKETCH_HEIGHT), Sense::hover());
    let words = match sketch {
        Sketch::Bar { .. } => "Picture: the work as a bar under the push of the tool",
        Sketch::Chip { .. } => "Picture: the edge in the work, and which way it pushes",
        Sketch::Marks { .. } => "Picture: the marks of the nose, one a turn",
        Sketch::Ring { .. } => "Picture: the wall of the tube under the jaws, its give drawn large",
        Sketch::Tip { .. } => "Picture: the tip of a jaw on the work",
        Sketch::Lengths(_) => "Picture: lengths along the work",
    };
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, words));
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 3.0, palette.canvas);
    let picture = why_sketch(sketch, units);
    // Room for words above and below what is drawn.
    let map = Map::fitting(rect.shrink2(vec2(30.0, 20.0)), picture.bounds);
    paint_picture(&painter, &map, &picture, palette, &[], &|_: Part| None);
}
