//! The example jobs to choose from, each with a small picture of its first set-up, to scale.

use egui::{Context, Id, Modal, Rect, Role, ScrollArea, Sense, StrokeKind, TextStyle, Ui, Vec2, WidgetInfo, vec2};

use super::bench::camera::whole;
use super::bench::map::Map;
use super::bench::paint::paint_picture;
use super::{Palette, theme};
use crate::job::Job;
use crate::job::examples::{self, EXAMPLES, Example};
use crate::picture::bench::{Scene, bench};
use crate::picture::{Bounds, Item, Part, Picture};

/// Least width of a card, height of its picture and of a whole card, in points.
const CARD_WIDTH: f32 = 250.0;
const PICTURE_HEIGHT: f32 = 84.0;
const CARD_HEIGHT: f32 = 168.0;

/// An example and what it looks like.
struct Card {
    index: usize,
    example: &'static Example,
    picture: Picture,
}

/// The examples, laid out.
pub struct Gallery {
    cards: Vec<Card>,
    /// It was not on the screen before.
    fresh: bool,
}

/// What became of the gallery in this frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Chosen {
    Nothing,
    Back,
    Example(usize),
}

impl Gallery {
    /// With a picture of every example.
    #[must_use]
    pub fn new() -> Self {
        let card = |(index, example): (usize, &'static Example)| {
            let job = examples::load(example.key).ok()?;
            Some(Card { index, example, picture: picture(&job)? })
        };
        Self { cards: EXAMPLES.iter().enumerate().filter_map(card).collect(), fresh: true }
    }

    /// Draws it over the window.
    pub fn show(&mut self, ctx: &Context) -> Chosen {
        let mut chosen = Chosen::Nothing;
        let modal = Modal::new(Id::unique("example jobs")).frame(theme::question_frame(ctx)).show(ctx, |ui| {
            let room = ui.ctx().content_rect();
            ui.set_width(1130.0_f32.min(room.width() - 60.0));
            ui.heading("Example jobs");
            ui.weak("Invented, some good and some bad: they are there to be changed.");
            let height = room.height() - 150.0;
            ScrollArea::vertical().max_height(height).min_scrolled_height(height).show(ui, |ui| {
                let gap = ui.spacing().item_spacing.x;
                let n_columns = ((ui.available_width() + gap) / (CARD_WIDTH + gap)).floor().max(1.0);
                let width = ((ui.available_width() + gap) / n_columns - gap).floor();
                for row in self.cards.chunks(n_columns as usize) {
                    ui.horizontal(|ui| {
                        for card in row {
                            if card.show(ui, vec2(width, CARD_HEIGHT), self.fresh && card.index == 0) {
                                chosen = Chosen::Example(card.index);
                            }
                        }
                    });
                }
            });
            ui.add_space(6.0);
            if ui.button("Go back").clicked() {
                chosen = Chosen::Back;
            }
        });
        self.fresh = false;
        if modal.should_close() && chosen == Chosen::Nothing { Chosen::Back } else { chosen }
    }
}

impl Default for Gallery {
    fn default() -> Self {
        Self::new()
    }
}

impl Card {
    /// Draws it as a button; true where it was pressed.
    fn show(&self, ui: &mut Ui, size: Vec2, focus: bool) -> bool {
        let (rect, response) = ui.allocate_exact_size(size, Sense::click());
        let Example { title, about, .. } = *self.example;
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, title));
        ui.ctx().accesskit_node_builder(response.id, |node| node.set_description(about));
        if focus {
            response.request_focus();
        }
        if response.gained_focus() {
            response.scroll_to_me(None);
        }
        if ui.is_rect_visible(rect) {
            let (palette, look) = (Palette::for_ui(ui), *ui.style().interact(&response));
            let painter = ui.painter_at(rect);
            painter.rect(rect, 4.0, look.weak_bg_fill, look.bg_stroke, StrokeKind::Inside);
            let inside = rect.shrink(6.0);
            let frame = Rect::from_min_size(inside.min, vec2(inside.width(), PICTURE_HEIGHT));
            let canvas = painter.with_clip_rect(frame);
            canvas.rect_filled(frame, 2.0, palette.canvas);
            paint_picture(
                &canvas,
                &Map::fitting(frame.shrink(3.0), self.picture.bounds),
                &self.picture,
                &palette,
                &[],
                &|_| None,
            );
            let line = |style: TextStyle, words: &str| {
                painter.layout(words.to_owned(), style.resolve(ui.style()), look.text_color(), inside.width())
            };
            let title = line(TextStyle::Button, title);
            let at = frame.left_bottom() + vec2(0.0, 5.0);
            let below = at + vec2(0.0, title.size().y + 2.0);
            painter.galley(at, title, palette.ink);
            painter.galley(below, line(TextStyle::Small, about), palette.ink);
        }
        response.clicked()
    }
}

/// The first set-up as the work comes into it, without words.
pub(super) fn picture(job: &Job) -> Option<Picture> {
    let setup = job.setups.first()?;
    let tool_z_mm = setup.passes.first().map_or(0.0, |pass| {
        let (low_mm, high_mm) = pass.span_mm();
        f64::midpoint(low_mm, high_mm)
    });
    let scene = Scene {
        job,
        setup,
        pass: None,
        pass_result: None,
        before: None,
        tool_z_mm,
        shape: None,
        exaggeration_times: 1.0,
        spans_row: None,
        ghosts: &[],
    };
    let mut picture = bench(&scene);
    picture
        .items
        .retain(|item| !matches!(item, Item::Group(group) if [Part::Spans, Part::Labels].contains(&group.part)));
    let (z_mm, up_mm) = whole(job, setup, &scene.sizes());
    picture.bounds = Bounds { left_mm: z_mm.0, right_mm: z_mm.1, bottom_mm: up_mm.0, top_mm: up_mm.1 };
    Some(picture)
}
