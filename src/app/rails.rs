//! Rails: thin rows under the bench, one for each rest, over the same stretch of bed. A filled band is where the rest may
//! stand, an open one where a true spot must be turned first, a hatched one where it cannot, each with a word; the reason
//! shows at the pointer. Over them stands what is cut where; under them one row says what the steady looked at would come to
//! anywhere else.

mod coverage;
mod promise;

use egui::{Align2, FontId, Id, Rect, Role, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

use super::bench::follow_pointer;
use super::bench::map::Map;
use super::bench::paint::hatched;
use super::figure::mark_at;
use super::{Commands, Palette, Results, Selected, View, theme};
use crate::advice::standing;
use crate::advice::why::{Figure, title};
use crate::advice::words::capital;
use crate::job::{Job, RestId, Setup};
use crate::study::reach::{RestReach, Standing, Stretch, follower_reach};

/// Height of a row, in points.
const ROW_HEIGHT: f32 = 18.0;
/// Size of its words.
const SMALL: f32 = 12.0;
/// Half the width of a mark, which words keep off.
const MARK: f32 = 6.0;
/// So many steady rests have a row at once; of more, those about the selected one.
const MOST_STEADIES: usize = 3;

/// Whose row it is: a steady by its index in the set-up.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Whose {
    Steady(usize, RestId),
    Follower,
}

/// The rows of a set-up; the follower has one where there is a pass to look at.
fn rows(setup: &Setup, view: &View) -> Vec<Whose> {
    let selected = setup.rests.iter().position(|rest| view.selected == Selected::Rest(rest.id)).unwrap_or(0);
    let first = (selected + 1).saturating_sub(MOST_STEADIES);
    let steadies = setup.rests.iter().enumerate().skip(first).take(MOST_STEADIES);
    let follower = setup.follower.as_ref().and(view.pass).map(|_| Whose::Follower);
    steadies.map(|(index, rest)| Whose::Steady(index, rest.id)).chain(follower).collect()
}

/// Height of all rows, in points.
#[must_use]
pub fn height(job: &Job, view: &View, results: &Results) -> f32 {
    let n_rows = job.setup(view.setup).map_or(0, |setup| rows(setup, view).len());
    n_rows as f32 * ROW_HEIGHT + coverage::height(job, view, results) + promise::height(results)
}

/// The steady rest whose promise is shown: the selected one, else the first.
#[must_use]
pub fn steady_shown(setup: &Setup, view: &View) -> Option<RestId> {
    match view.selected {
        Selected::Rest(id) if setup.rest(id).is_some() => Some(id),
        _ => setup.rests.first().map(|rest| rest.id),
    }
}

/// Shows a row for each rest of the set-up; a click on one selects its rest.
pub fn rails_ui(ui: &mut Ui, job: &Job, view: &mut View, results: &Results, palette: &Palette, out: &mut Commands) {
    let Some(setup) = job.setup(view.setup) else { return };
    let room = ui.available_rect_before_wrap();
    ui.painter().rect_filled(room, 0.0, palette.canvas);
    coverage::show(ui, room, job, view, results, palette);
    let rests_top = room.top() + coverage::height(job, view, results);
    for (index, whose) in rows(setup, view).into_iter().enumerate() {
        let top = rests_top + index as f32 * ROW_HEIGHT;
        let rect = Rect::from_x_y_ranges(room.x_range(), top..=top + ROW_HEIGHT);
        let map = Map::of(rect, view.plot_x_range, &view.z_view_mm, 0.0);
        let mark_z_mm = match whose {
            Whose::Steady(index, _) => Some(setup.rests[index].z_mm),
            Whose::Follower => None,
        };
        let row = Row { job, setup, palette, map, mark_z_mm };
        let selects = match whose {
            Whose::Steady(index, id) => {
                let (name, whose) = (format!("Steady {}", index + 1), format!("steady rest {}", index + 1));
                let words = ["may stand", &name, &whose];
                let clicked = results.reach(id).is_some_and(|reach| row.show(ui, reach, words));
                row.mark(ui, setup.rests[index].z_mm, view.selected == Selected::Rest(id));
                clicked.then_some(Selected::Rest(id))
            }
            Whose::Follower => {
                let reach = view.pass.and_then(|pass| follower_reach(job, &results.result, setup.id, pass));
                let words = ["may run", "Follower", "the follower rest"];
                let clicked = reach.is_some_and(|reach| row.show(ui, &reach, words));
                clicked.then_some(Selected::Follower)
            }
        };
        if let Some(selected) = selects {
            view.selected = selected;
        }
    }
    if let Some(promise) = results.promise.as_ref().filter(|_| promise::height(results) > 0.0) {
        let rect = Rect::from_x_y_ranges(room.x_range(), room.bottom() - promise::HEIGHT..=room.bottom());
        let map = Map::of(rect, view.plot_x_range, &view.z_view_mm, 0.0);
        let row = Row { job, setup, palette, map, mark_z_mm: None };
        match &promise.strip {
            Some(strip) => promise::show(ui, &row, strip, results.reach(strip.rest)),
            None => promise::show_awaited(ui, &row, promise.measure()),
        }
    }
    mark_ui(ui, room, view, out);
    let whole = Map::of(room, view.plot_x_range, &view.z_view_mm, 0.0);
    follow_pointer(ui, &whole, view, "rails cursor");
    if let Some(x) = view.cursor_z_mm.map(|z_mm| whole.x(z_mm)).filter(|x| whole.x_range.contains(*x)) {
        ui.painter_at(room).vline(x, room.y_range(), (1.0, palette.cursor.gamma_multiply(0.55)));
    }
}

/// The one mark that explains the rows, at the end of the gutter where their names stand, as high as all of them. A row by
/// itself is too low for a finger: there it reaches up over the foot of the bench, where nothing is pressed.
fn mark_ui(ui: &mut Ui, room: Rect, view: &View, out: &mut Commands) {
    let Some(range) = view.plot_x_range else { return };
    let top = room.top().min(room.bottom() - theme::TARGET);
    let rect = Rect::from_x_y_ranges(range.min - theme::TARGET..=range.min, top..=room.bottom());
    let at = pos2(range.min - MARK, room.center().y);
    mark_at(ui, rect, at, (Figure::Rows, title(Figure::Rows)), out);
}

/// What one row is drawn with; the map's rectangle is the row's own.
struct Row<'a> {
    job: &'a Job,
    setup: &'a Setup,
    palette: &'a Palette,
    map: Map,
    /// Where a line is drawn over it, that words keep off.
    mark_z_mm: Option<f64>,
}

impl Row<'_> {
    /// Draws the bands and tells the reason at the pointer; whether it was clicked. The words: what the rest may do, its
    /// name, and its name in a sentence.
    fn show(&self, ui: &Ui, reach: &RestReach, [may, name, whose]: [&str; 3]) -> bool {
        let map = &self.map;
        self.name(ui, name);
        let stretches = reach.stretches();
        for (stretch, what) in &stretches {
            let rect = self.rect_of(stretch);
            if rect.is_positive() {
                self.band(ui, rect, what, may);
            }
        }
        let row = ui.interact(map.rect, Id::unique(("rail", whose)), Sense::CLICK);
        let told: Vec<String> = stretches.iter().map(|one| self.line(one)).collect();
        let told = format!("Where {whose} {may}. {}", told.join(". "));
        row.widget_info(|| WidgetInfo::labeled(Role::Label, true, &told));
        let clicked = row.clicked();
        if let Some(pos) = row.hover_pos().filter(|pos| map.x_range.contains(pos.x)) {
            row.on_hover_ui_at_pointer(|ui| self.told(ui, reach, &stretches, map.z_mm(pos.x)));
        }
        clicked
    }

    /// Writes its name in the gutter.
    fn name(&self, ui: &Ui, name: &str) {
        let gutter = Rect::from_x_y_ranges(self.map.rect.left()..=self.map.x_range.min, self.map.rect.y_range());
        let at = gutter.left_center() + vec2(6.0, 0.0);
        ui.painter_at(gutter).text(at, Align2::LEFT_CENTER, name, FontId::proportional(SMALL), self.palette.ink);
    }

    /// What is seen of a stretch of the bed.
    fn rect_of(&self, stretch: &Stretch) -> Rect {
        let map = &self.map;
        let (left, right) = (map.x(stretch.from_mm), map.x(stretch.to_mm));
        let seen = left.max(map.x_range.min)..=right.min(map.x_range.max);
        Rect::from_x_y_ranges(seen, map.rect.y_range().shrink(1.5))
    }

    /// What goes for a place, and what else is against it.
    fn told(&self, ui: &mut Ui, reach: &RestReach, stretches: &[(Stretch, Standing)], z_mm: f64) {
        let Some(here) = stretches.iter().find(|(stretch, _)| stretch.holds(z_mm)) else { return };
        ui.label(self.line(here));
        // Each kind of reason once: every pass of a cut has its own.
        let mut told: Vec<&str> = Vec::new();
        if let Standing::No(why) = &here.1 {
            told.push(standing::brief(why));
        }
        for one in reach.against(z_mm) {
            let brief = standing::brief(&one.why);
            if !told.contains(&brief) {
                let place = standing::from_to(&Stretch::new(one.from_mm, one.to_mm), self.job.units);
                ui.label(format!("Also {place}: {}", standing::because(self.job, self.setup, &one.why)));
                told.push(brief);
            }
        }
    }

    /// "0 to 8 mm: it would stand in the chuck".
    fn line(&self, (stretch, what): &(Stretch, Standing)) -> String {
        let words = standing::standing(self.job, self.setup, what);
        capital(&format!("{}: {words}", standing::from_to(stretch, self.job.units)))
    }

    fn band(&self, ui: &Ui, rect: Rect, what: &Standing, may: &str) {
        let painter = ui.painter_at(self.map.rect);
        let palette = self.palette;
        let edge = Stroke::new(1.5, palette.fine);
        let words: &[&str] = match what {
            Standing::Free => {
                painter.rect_filled(rect, 2.0, palette.fine.gamma_multiply(0.35));
                painter.rect_stroke(rect, 2.0, edge, StrokeKind::Inside);
                &[may]
            }
            Standing::SpotFirst => {
                painter.rect_stroke(rect, 2.0, edge, StrokeKind::Inside);
                &["true spot first", "spot first", "spot"]
            }
            Standing::No(why) => {
                painter.extend(hatched(rect, self.map.rect, palette.ink_weak.gamma_multiply(0.7)));
                painter.rect_stroke(rect, 0.0, Stroke::new(0.6, palette.ink_weak), StrokeKind::Inside);
                &[standing::brief(why)]
            }
        };
        self.words_in(ui, rect, words);
    }

    /// The first of these words that has room in the middle of a rectangle.
    fn words_in(&self, ui: &Ui, rect: Rect, words: &[&str]) {
        let (painter, palette) = (ui.painter_at(self.map.rect), self.palette);
        let rect = match self.mark_z_mm.map(|z_mm| self.map.x(z_mm)) {
            Some(x) if rect.expand(MARK).x_range().contains(x) => {
                let (left, right) = rect.split_left_right_at_x(x.clamp(rect.left(), rect.right()));
                let (left, right) = (left.with_max_x(left.right() - MARK), right.with_min_x(right.left() + MARK));
                if left.width() > right.width() { left } else { right }
            }
            _ => rect,
        };
        let lay = |words: &&str| {
            let galley = painter.layout_no_wrap((*words).to_owned(), FontId::proportional(SMALL), palette.ink);
            let place = Align2::CENTER_CENTER.anchor_size(rect.center(), galley.size());
            (place.width() + 6.0 <= rect.width()).then_some((place, galley))
        };
        if let Some((place, galley)) = words.iter().find_map(lay) {
            painter.rect_filled(place.expand2(vec2(2.0, -2.0)), 2.0, palette.canvas.gamma_multiply(0.85));
            painter.galley(place.min, galley, palette.ink);
        }
    }

    /// A wedge where the rest stands, filled where it is selected.
    fn mark(&self, ui: &Ui, z_mm: f64, selected: bool) {
        let (x, top) = (self.map.x(z_mm), self.map.rect.top());
        if !self.map.x_range.contains(x) {
            return;
        }
        let painter = ui.painter_at(self.map.rect);
        let colour = if selected { self.palette.selected } else { self.palette.ink };
        painter.vline(x, self.map.rect.y_range(), Stroke::new(1.5, colour));
        let wedge = vec![pos2(x - 5.0, top), pos2(x + 5.0, top), pos2(x, top + 9.0)];
        let fill = if selected { self.palette.selected } else { self.palette.canvas };
        painter.add(Shape::convex_polygon(wedge, fill, Stroke::new(1.2, self.palette.ink)));
    }
}
