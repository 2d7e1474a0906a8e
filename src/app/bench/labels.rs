//! Words on a picture: each at a fixed size, kept inside the canvas and off the work, off other words and off their
//! leaders. A word that has to move gets a leader of its own; where all of a kind have no room they say less together;
//! where even that is too much some are left out, and the nearest one that stays says how many: "4 +2".

use std::sync::Arc;

use egui::{Align2, Color32, FontId, Galley, Painter, Pos2, Rect, Stroke, Vec2, pos2, vec2};

use super::ink::{ink, text_points};
use super::map::Map;
use crate::app::Palette;
use crate::picture::{Align, Stand, Text};

/// How many lines a label may move before it is left out.
const MOST_LINES: i32 = 8;
/// A label may move sideways by so much of its width, so that its leader still stands upright; it rather moves by so many
/// lines.
const ASIDE: f32 = 0.5;
const ASIDE_LINES: i32 = 2;
/// Over the thing it names a label goes last: rather by so many lines the other way.
const OVER_LINES: i32 = 4;
/// Points kept free at either side of a label, and about a leader.
const CLEAR: f32 = 3.0;
const LEADER_CLEAR: f32 = 2.0;

/// Words to be placed.
#[derive(Clone, Debug)]
pub struct Word {
    anchor: Pos2,
    align: Align,
    stand: Stand,
    /// What it says, longest first.
    forms: Vec<String>,
    size: f32,
    colour: Color32,
    /// It may not be wider; what has a room of its own stays in it.
    room: f32,
    gives_way: bool,
    /// Lines are broken where it is wider than this.
    wrap: f32,
    /// What is selected takes its place before the others.
    first: bool,
}

impl Word {
    /// The words of a picture on the screen.
    #[must_use]
    pub fn of(text: &Text, first: bool, map: &Map, clip: Rect, palette: &Palette) -> Self {
        let (anchor, room) = seen_anchor(map, text, clip);
        Self {
            anchor,
            align: text.align,
            stand: text.stand,
            forms: std::iter::once(&text.text).chain(&text.shorter).cloned().collect(),
            size: text_points(text.size),
            colour: ink(text.role, palette).line,
            room,
            gives_way: text.gives_way,
            wrap: f32::INFINITY,
            first,
        }
    }

    /// A remark over a place, in lines, that takes its place before all others that give way.
    #[must_use]
    pub fn remark(anchor: Pos2, text: String, colour: Color32, wrap: f32) -> Self {
        let (align, stand) = (Align::Centre, Stand::Above);
        let forms = vec![text];
        let room = f32::INFINITY;
        Self { anchor, align, stand, forms, size: 12.5, colour, room, gives_way: true, wrap, first: true }
    }

    fn has_forms(&self) -> bool {
        self.forms.len() > 1 && self.room.is_infinite()
    }
}

/// A word in its place.
struct Placed {
    rect: Rect,
    /// From its thing to the word, where it has moved.
    leader: Option<[Pos2; 2]>,
    galley: Arc<Galley>,
}

impl Placed {
    /// A word with a thin halo of the canvas, so that lines behind do not cut it.
    fn paint(self, painter: &Painter, palette: &Palette) {
        if let Some(leader) = self.leader {
            painter.line_segment(leader, Stroke::new(0.9, palette.ink_weak));
        }
        painter.rect_filled(self.rect.expand2(vec2(2.0, -1.0)), 2.0, palette.canvas.gamma_multiply(0.72));
        painter.galley(self.rect.min, self.galley, palette.ink);
    }
}

/// Places and paints words: first what stays put, then what is selected, then the others. `reserved` is taken already,
/// `work` is what words keep off where they can move.
pub fn paint_words(painter: &Painter, words: &[Word], palette: &Palette, reserved: &[Rect], work: &[Rect]) {
    let (mut placed, n_lost) = placed_words(painter, words, reserved, work, 0);
    if n_lost > 0 {
        // None of a kind has room beside the one that is selected: that one tells how many there are.
        placed = placed_words(painter, words, reserved, work, n_lost).0;
    }
    for placed in placed {
        placed.paint(painter, palette);
    }
}

/// Words in their places, and how many of a kind are told by none; what is selected says "+" `n_more`.
fn placed_words(
    painter: &Painter,
    words: &[Word],
    reserved: &[Rect],
    work: &[Rect],
    n_more: usize,
) -> (Vec<Placed>, usize) {
    let clip = painter.clip_rect();
    let seen: Vec<&Word> = words.iter().filter(|word| is_seen(word, clip)).collect();
    let mut ground = Ground {
        painter,
        clip,
        taken: reserved.to_vec(),
        leaders: Vec::new(),
        spared: Vec::new(),
        work,
        placed: Vec::new(),
    };
    let (fixed, yielding): (Vec<&Word>, Vec<&Word>) = seen.into_iter().partition(|word| !word.gives_way);
    for word in fixed {
        let galley = ground.laid(word, &word.forms[0]);
        let rect = kept_inside(placed(word, galley.size()), clip);
        ground.take(Placed { rect, leader: None, galley });
    }
    let (first, others): (Vec<&Word>, Vec<&Word>) = yielding.into_iter().partition(|word| word.first);
    let (with_forms, plain): (Vec<&Word>, Vec<&Word>) = others.into_iter().partition(|word| word.has_forms());
    // What is selected rather leaves the others of its kind room for two rows of shorter words, or at least their
    // shortest ones.
    let homes = |form: fn(&Word) -> &String, n_rows: usize| -> Vec<Rect> {
        let home = |word: &&Word| kept_inside(placed(word, ground.laid(word, form(word)).size()), clip);
        let rows = |rect: Rect| (0..n_rows).map(move |row| rect.translate(vec2(0.0, -(row as f32) * rect.height())));
        with_forms.iter().map(home).flat_map(rows).collect()
    };
    let spared = [homes(|word| &word.forms[1], 2), homes(|word| &word.forms[word.forms.len() - 1], 1), Vec::new()];
    for word in first {
        let found = if word.has_forms() {
            let forms: Vec<String> = word.forms.iter().map(|form| with_more(form, n_more)).collect();
            let apart = spared.iter().find_map(|spared| {
                ground.spared.clone_from(spared);
                ground.find(word, &forms[0])
            });
            ground.spared.clear();
            apart.or_else(|| forms.iter().find_map(|form| ground.find(word, form)))
        } else {
            word.forms.iter().find_map(|form| ground.find(word, form))
        };
        if let Some(placed) = found {
            ground.take(placed);
        }
    }
    for word in plain {
        if let Some(placed) = word.forms.iter().find_map(|form| ground.find(word, form)) {
            ground.take(placed);
        }
    }
    let n_lost = ground.take_all(with_forms);
    (ground.placed, n_lost)
}

fn with_more(text: &str, n_more: usize) -> String {
    if n_more > 0 { format!("{text} +{n_more}") } else { text.to_owned() }
}

fn is_seen(word: &Word, clip: Rect) -> bool {
    word.anchor.is_finite() && clip.x_range().contains(word.anchor.x)
}

struct Ground<'a> {
    painter: &'a Painter,
    clip: Rect,
    /// Rectangles of words, grown by what is kept free.
    taken: Vec<Rect>,
    leaders: Vec<Rect>,
    /// Room left to others, for now.
    spared: Vec<Rect>,
    work: &'a [Rect],
    placed: Vec<Placed>,
}

impl Ground<'_> {
    fn laid(&self, word: &Word, text: &str) -> Arc<Galley> {
        self.painter.layout(text.to_owned(), FontId::proportional(word.size), word.colour, word.wrap)
    }

    fn take(&mut self, placed: Placed) {
        self.taken.push(placed.rect.expand2(vec2(CLEAR, 0.0)));
        self.leaders.extend(placed.leader.map(strip_of));
        self.placed.push(placed);
    }

    /// All of a kind in their longest form that has room for all of them; of the shortest, as many as have room. Gives back
    /// how many are told by none.
    fn take_all(&mut self, words: Vec<&Word>) -> usize {
        let n_words = words.len();
        let n_forms = words.iter().map(|word| word.forms.len()).max().unwrap_or(0);
        let mark = (self.taken.len(), self.leaders.len(), self.placed.len());
        let mut kept: Vec<(&Word, usize)> = words.into_iter().map(|word| (word, 0)).collect();
        kept.sort_by(|a, b| a.0.anchor.x.total_cmp(&b.0.anchor.x));
        let mut form = 0;
        while !kept.is_empty() {
            let mut left_out = Vec::new();
            for (index, (word, n_more)) in kept.iter().enumerate() {
                let text = &word.forms[form.min(word.forms.len() - 1)];
                match self.find(word, &with_more(text, *n_more)) {
                    Some(placed) => self.take(placed),
                    None => left_out.push(index),
                }
            }
            if left_out.is_empty() {
                return 0;
            }
            self.taken.truncate(mark.0);
            self.leaders.truncate(mark.1);
            self.placed.truncate(mark.2);
            if form + 1 < n_forms {
                form += 1;
                continue;
            }
            for index in left_out.into_iter().rev() {
                let (word, n_more) = kept.remove(index);
                let away = |other: &(&Word, usize)| (other.0.anchor.x - word.anchor.x).abs();
                if let Some(nearest) = kept.iter_mut().min_by(|a, b| away(a).total_cmp(&away(b))) {
                    nearest.1 += n_more + 1;
                }
            }
        }
        n_words
    }

    /// The nearest free place of a word that says this.
    fn find(&self, word: &Word, text: &str) -> Option<Placed> {
        let galley = self.laid(word, text);
        let wanted = placed(word, galley.size());
        if word.room.is_finite() {
            // It belongs to its place: it says less rather than move.
            let fits = wanted.width() <= word.room && self.clip.contains_rect(wanted);
            return (fits && self.is_free(wanted)).then_some(Placed { rect: wanted, leader: None, galley });
        }
        let home = kept_inside(wanted, self.clip);
        let line = wanted.height() + 1.0;
        let (first, over_lines) = match word.stand {
            Stand::Above => (-1.0, OVER_LINES),
            Stand::Middle => (1.0, 0),
            Stand::Below => (1.0, OVER_LINES),
        };
        let at = |aside: f32, lines: i32, way: f32| {
            let is_near = (0..=MOST_LINES).contains(&lines);
            is_near.then(|| home.translate(vec2(aside * home.width(), way * lines as f32 * line)))
        };
        // The nearest first.
        let places = (0..=MOST_LINES + ASIDE_LINES + over_lines).flat_map(|cost| {
            let off = [(0.0, 0), (-ASIDE, ASIDE_LINES), (ASIDE, ASIDE_LINES)];
            let ways = off
                .map(|(aside, lines)| [at(aside, cost - lines, first), at(aside, cost - lines - over_lines, -first)]);
            ways.into_iter().flatten().flatten()
        });
        places.into_iter().find_map(|rect| {
            let leader = self.leader(word.anchor, home, rect);
            let is_clear = leader.is_none_or(|leader| self.is_clear(strip_of(leader)));
            (self.clip.contains_rect(rect) && is_clear && self.is_free(rect)).then(|| Placed {
                rect,
                leader,
                galley: Arc::clone(&galley),
            })
        })
    }

    /// From the thing to the word, where that does not stand at it.
    fn leader(&self, anchor: Pos2, home: Rect, rect: Rect) -> Option<[Pos2; 2]> {
        let moved = (rect.center().y - home.center().y).abs() > 0.8 * rect.height();
        let from = self.clip.shrink(1.0).clamp(anchor);
        moved.then(|| [from, rect.clamp(from)])
    }

    fn is_free(&self, rect: Rect) -> bool {
        let meets = |others: &[Rect]| others.iter().any(|other| other.intersects(rect));
        !meets(&self.taken) && !meets(&self.leaders) && !meets(&self.spared) && !meets(self.work)
    }

    /// A leader cuts neither words nor the work.
    fn is_clear(&self, strip: Rect) -> bool {
        let meets = |others: &[Rect]| others.iter().any(|other| other.intersects(strip));
        !meets(&self.taken) && !meets(self.work)
    }
}

/// A leader with the room about it.
fn strip_of(leader: [Pos2; 2]) -> Rect {
    Rect::from_two_pos(leader[0], leader[1]).expand2(vec2(LEADER_CLEAR, 0.0))
}

/// Where a text stands and how wide it may be: words that have a room of their own stand in the middle of what is
/// seen of it.
fn seen_anchor(map: &Map, text: &Text, clip: Rect) -> (Pos2, f32) {
    let anchor = map.pos(text.anchor);
    let Some(room_mm) = text.room_mm else { return (anchor, f32::INFINITY) };
    let half = (0.5 * room_mm * map.px_per_mm) as f32;
    let (left, right) = ((anchor.x - half).max(clip.left()), (anchor.x + half).min(clip.right()));
    (pos2(f32::midpoint(left, right), anchor.y), (right - left).max(0.0))
}

fn placed(word: &Word, size: Vec2) -> Rect {
    let horizontal = match word.align {
        Align::Left => egui::Align::Min,
        Align::Centre => egui::Align::Center,
        Align::Right => egui::Align::Max,
    };
    let vertical = match word.stand {
        Stand::Above => egui::Align::Max,
        Stand::Middle => egui::Align::Center,
        Stand::Below => egui::Align::Min,
    };
    Align2([horizontal, vertical]).anchor_size(word.anchor, size)
}

fn kept_inside(rect: Rect, clip: Rect) -> Rect {
    let room = clip.shrink(2.0);
    let right = (room.right() - rect.right()).min(0.0);
    let left = (room.left() - rect.left()).max(0.0);
    let down = (room.top() - rect.top()).max(0.0);
    let up = (room.bottom() - rect.bottom()).min(0.0);
    rect.translate(vec2(right + left, down + up))
}
