//! Every rest seen from the tailstock, with the angles of its jaws: small, not to scale, side by side.

use super::piece::{Block, Piece, line};
use crate::advice::words;
use crate::job::quantity::{Kind, show};
use crate::job::{Jaw, Job, Setup};
use crate::picture::carriage::follower_z_mm;
use crate::picture::end_view::{EndScene, end_view};
use crate::picture::lettering::Lettering;
use crate::picture::shapes::words as placed_words;
use crate::picture::{Align, Item, Role, Stand, TextSize, at};

/// Room for one rest.
const CELL_MM: (f64, f64) = (58.0, 47.0);
/// Half the height of the drawing in it.
const HALF_MM: f64 = 15.5;

/// One rest.
struct End<'a> {
    name: String,
    jaws: &'a [Jaw],
    scene: EndScene,
}

fn ends<'a>(job: &Job, setup: &'a Setup) -> Vec<End<'a>> {
    let diameter_mm =
        |z_mm: f64| job.dial_diameter_into_mm(setup.id, setup.s_of_z_mm(&job.shaft, z_mm)).unwrap_or(20.0);
    let mut ends: Vec<End<'_>> = Vec::new();
    for (index, rest) in setup.rests.iter().enumerate() {
        let scene = EndScene::of_rest(rest, 0, diameter_mm(rest.z_mm) / 2.0, None, job.units);
        ends.push(End { name: format!("Steady {}", index + 1), jaws: &rest.jaws, scene });
    }
    if let Some(follower) = &setup.follower {
        let first = setup.passes.first();
        let tool_z_mm = first.map_or(0.0, |pass| pass.from_z_mm);
        let z_mm = follower_z_mm(follower, tool_z_mm, first.is_none_or(crate::job::Pass::feeds_to_headstock));
        let scene = EndScene::of_follower(&follower.jaws, 0, z_mm, diameter_mm(z_mm) / 2.0, None, job.units);
        ends.push(End { name: "Follower".to_owned(), jaws: &follower.jaws, scene });
    }
    ends
}

/// All rests of a set-up; no pieces where there are none.
pub(super) fn block(job: &Job, setup: &Setup, width_mm: f64) -> Block {
    let n_across = ((width_mm / CELL_MM.0).floor() as usize).max(1);
    let all = ends(job, setup);
    let pieces = all.chunks(n_across).map(|row| {
        let mut items = Vec::new();
        for (index, end) in row.iter().enumerate() {
            let cell = Piece { height_mm: CELL_MM.1, items: cell(job, end) };
            items.extend(cell.moved(width_mm / n_across as f64 * index as f64, 0.0).items);
        }
        Piece { height_mm: CELL_MM.1, items }
    });
    let heading = "Rests seen from the tailstock, not to scale".to_owned();
    Block { heading: Lettering::Heading.cut(&heading, width_mm), head: None, pieces: pieces.collect() }
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

fn cell(job: &Job, end: &End<'_>) -> Vec<Item> {
    let mut scene = end.scene.clone();
    // As set: the gaps are in the table, where they can be read.
    scene.jaws.iter_mut().for_each(|jaw| jaw.gap_mm = 0.0);
    let picture = end_view(&scene, 1.0);
    let times = HALF_MM / picture.bounds.top_mm.max(1e-6);
    let centre = at(CELL_MM.0 / 2.0, -HALF_MM - 5.0);
    let mut items: Vec<Item> =
        without_words(picture.items).into_iter().map(|item| item.placed(times, centre)).collect();
    for jaw in end.jaws {
        let (right, up) = (jaw.angle_rad.cos(), jaw.angle_rad.sin());
        let align = match right {
            x if x > 0.35 => Align::Left,
            x if x < -0.35 => Align::Right,
            _ => Align::Centre,
        };
        let out_mm = HALF_MM * 0.86;
        let place = at(centre.right_mm + out_mm * right, centre.up_mm + out_mm * up);
        let stand = if up > 0.35 {
            Stand::Above
        } else if up < -0.35 {
            Stand::Below
        } else {
            Stand::Middle
        };
        let angle = show(jaw.angle_rad.rem_euclid(std::f64::consts::TAU), Kind::Angle, job.units);
        items.push(placed_words(place, align, stand, TextSize::Paper(Lettering::Strong), Role::Text, angle).into());
    }
    let sides: Vec<&str> = end.jaws.iter().map(|jaw| words::jaw_side(jaw.angle_rad)).collect();
    let caption = Lettering::Fine.cut(&format!("{}: {}", end.name, sides.join(", ")), CELL_MM.0 - 2.0);
    let under = -2.0 * HALF_MM - 6.2;
    for (x, align, words) in [(1.0, Align::Left, "toward you"), (CELL_MM.0 - 1.0, Align::Right, "away")] {
        items.push(line(x, under, align, Lettering::Fine, Role::Faint, words).into());
    }
    let under = under - Lettering::Fine.line_mm() - 0.4;
    items.push(line(CELL_MM.0 / 2.0, under, Align::Centre, Lettering::Fine, Role::Text, &caption).into());
    items
}
