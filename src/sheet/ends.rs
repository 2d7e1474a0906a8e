//! Every rest on a card: what the table of rests says of it, and beside it the rest seen from the tailstock with the
//! angles of its jaws, not to scale.

use super::hand::Hand;
use super::piece::{Block, Piece, line};
use super::support_table;
use super::table::Cell;
use crate::job::quantity::{Kind, show};
use crate::job::{Jaw, Job, Setup};
use crate::picture::carriage::follower_z_mm;
use crate::picture::end_view::{EndScene, beside, end_view};
use crate::picture::lettering::Lettering;
use crate::picture::shapes::words as placed_words;
use crate::picture::{Align, Item, Line, Path, Role, TextSize, at};

/// What the place of a rest is.
const FROM: &str = "from datum";
/// How far out an angle stands, of half the drawing.
const ANGLES_OUT: f64 = 0.86;

/// One rest.
struct End<'a> {
    jaws: &'a [Jaw],
    scene: EndScene,
}

/// In the order of the table of rests.
fn ends<'a>(job: &Job, setup: &'a Setup) -> Vec<End<'a>> {
    let diameter_mm =
        |z_mm: f64| job.dial_diameter_into_mm(setup.id, setup.s_of_z_mm(&job.shaft, z_mm)).unwrap_or(20.0);
    let mut ends: Vec<End<'_>> = Vec::new();
    for rest in &setup.rests {
        let scene = EndScene::of_rest(rest, 0, diameter_mm(rest.z_mm) / 2.0, None, job.units);
        ends.push(End { jaws: &rest.jaws, scene });
    }
    if let Some(follower) = &setup.follower {
        let first = setup.passes.first();
        let tool_z_mm = first.map_or(0.0, |pass| pass.from_z_mm);
        let z_mm = follower_z_mm(follower, tool_z_mm, first.is_none_or(crate::job::Pass::feeds_to_headstock));
        let scene = EndScene::of_follower(&follower.jaws, 0, z_mm, diameter_mm(z_mm) / 2.0, None, job.units);
        ends.push(End { jaws: &follower.jaws, scene });
    }
    ends
}

/// The cards of a set-up; no pieces where there is no rest.
pub(super) fn block(job: &Job, setup: &Setup, width_mm: f64, hand: Hand) -> Block {
    let rows = support_table::table(job, setup).rows;
    let pieces = rows.iter().zip(ends(job, setup)).map(|(row, end)| card(job, row, &end, width_mm, hand)).collect();
    Block { heading: "Rests from the tailstock, you at the left".to_owned(), head: None, pieces, whole: true }
}

fn card(job: &Job, row: &[Cell], end: &End<'_>, width_mm: f64, hand: Hand) -> Piece {
    let view_mm = view_width_mm(job, end, hand);
    let room_mm = width_mm - view_mm - 1.0;
    let mut said = Piece::gap(0.4);
    let mut row = row.to_vec();
    if let [Cell::Two(name, tips), Cell::Figure(place), _, Cell::Words(set)] = &row[..]
        && let Some(first) = name_and_place(name, place, room_mm, hand)
    {
        said = said.over(first);
        let set = Cell::Words(format!("{tips}; {set}"));
        row.splice(.., [row[2].clone(), set]);
    }
    for cell in &row {
        let piece = match cell {
            Cell::Two(first, second) => two(first, second, room_mm, hand),
            Cell::Figure(text) => two(text, FROM, room_mm, Hand { strong: Lettering::Figure, ..hand }),
            Cell::Words(text) | Cell::Strong(text) => Piece::paragraph(text, hand.body, Role::Text, room_mm, 6).0,
            Cell::Blank => Piece::gap(0.0),
        };
        said = said.over(piece);
    }
    let view = view(job, end, hand);
    let height_mm = said.height_mm.max(view.height_mm) + 0.6;
    let rule = Path::segment(at(0.0, -height_mm), at(width_mm, -height_mm), Role::Rule).lined(Line::Thin);
    let mut items = said.items;
    items.extend(view.moved(width_mm - view_mm, 0.0).items);
    items.push(rule.into());
    Piece { height_mm: height_mm + 0.6, items }
}

/// A rest's name, its place and from where that is, on one line; nothing where there is no room.
fn name_and_place(name: &str, place: &str, room_mm: f64, hand: Hand) -> Option<Piece> {
    let words = [(name, hand.strong), (place, Lettering::Figure), (FROM, hand.fine)];
    let mut items: Vec<Item> = Vec::new();
    let mut left_mm = 0.0;
    for (words, kind) in words {
        // All stand on the line of the figure.
        let up_mm = kind.drop_mm() - Lettering::Figure.drop_mm();
        items.push(line(left_mm, up_mm, Align::Left, kind, Role::Text, words).into());
        left_mm += kind.width_mm(words) + 1.6;
    }
    (left_mm - 1.6 <= room_mm).then_some(Piece { height_mm: Lettering::Figure.line_mm(), items })
}

/// Strong words with small ones beside them, on the same line, where there is room, else under them.
fn two(first: &str, second: &str, room_mm: f64, hand: Hand) -> Piece {
    let mut piece = Piece::paragraph(first, hand.strong, Role::Text, room_mm, 6).0;
    let beside_mm = hand.strong.width_mm(first) + 1.6;
    if beside_mm + hand.fine.width_mm(second) > room_mm {
        return piece.over(Piece::paragraph(second, hand.fine, Role::Text, room_mm, 6).0);
    }
    let up_mm = hand.fine.drop_mm() - hand.strong.drop_mm();
    piece.items.push(line(beside_mm, up_mm, Align::Left, hand.fine, Role::Text, second).into());
    piece
}

fn without_words(items: Vec<Item>) -> Vec<Item> {
    items
        .into_iter()
        .filter_map(|item| match item {
            Item::Text(_) => None,
            Item::Group(mut group) => {
                group.items = without_words(group.items);
                Some(Item::Group(group))
            }
            path => Some(path),
        })
        .collect()
}

/// The angle of a jaw as it is written.
fn angle(job: &Job, jaw: &Jaw) -> String {
    show(jaw.angle_rad.rem_euclid(std::f64::consts::TAU), Kind::Angle, job.units)
}

/// A drawing with its angles, the widest of them on both sides.
fn view_width_mm(job: &Job, end: &End<'_>, hand: Hand) -> f64 {
    let widths = end.jaws.iter().map(|jaw| hand.strong.width_mm(&angle(job, jaw)));
    2.0 * (ANGLES_OUT * hand.end_half_mm + widths.fold(0.0, f64::max) + 0.6)
}

fn view(job: &Job, end: &End<'_>, hand: Hand) -> Piece {
    let mut scene = end.scene.clone();
    // As set: the gaps are beside it, where they can be read.
    scene.jaws.iter_mut().for_each(|jaw| jaw.gap_mm = 0.0);
    let picture = end_view(&scene, 1.0);
    let half_mm = hand.end_half_mm;
    let times = half_mm / picture.bounds.top_mm.max(1e-6);
    // Above it stands the angle of a jaw at the top.
    let label_mm = hand.strong.line_mm();
    let centre = at(view_width_mm(job, end, hand) / 2.0, -half_mm - label_mm);
    let mut items: Vec<Item> =
        without_words(picture.items).into_iter().map(|item| item.placed(times, centre)).collect();
    for jaw in end.jaws {
        let (right, up) = (jaw.angle_rad.cos(), jaw.angle_rad.sin());
        let (align, stand) = beside((right, up));
        let out_mm = half_mm * ANGLES_OUT;
        let place = at(centre.right_mm + out_mm * right, centre.up_mm + out_mm * up);
        items.push(placed_words(place, align, stand, TextSize::Paper(hand.strong), Role::Text, angle(job, jaw)).into());
    }
    Piece { height_mm: label_mm + 2.0 * half_mm + 0.8, items }
}
