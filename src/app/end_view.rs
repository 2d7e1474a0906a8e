//! The end view: work and jaws at one rest as they are seen from the tailstock, with a table of the jaws.
//!
//! Shown is the selected rest or follower, else the steady rest nearest to the tool, else the follower. Where the tool is
//! selected and something turns with the work, it is one turn at the tool.

mod turn;

use egui::{Galley, Grid, Label, Rect, RichText, Sense, Shape as PaintShape, Ui, vec2};

use super::bench::map::Map;
use super::bench::paint::paint_picture;
use super::figure::{column_ui, head_ui};
use super::{Commands, Palette, Results, Selected, View};
use crate::advice::why::Figure;
use crate::advice::words;
use crate::job::quantity::{self, Kind};
use crate::job::{Follower, Job, Rest, Setup, Sleeve, ToolSide, Units};
use crate::picture::Part;
use crate::picture::end_view::{EndScene, end_view};
use crate::picture::profile::Profile;
use crate::picture::spring::round_exaggeration;
use crate::study::jaw_contact::of_shape;
use crate::study::{Shape, Support};

/// Height of a line of the jaw table.
const LINE_HEIGHT: f32 = 21.0;
/// The largest displacement or gap is drawn about this share of the work's radius.
const SEEN_RATIO: f64 = 0.35;
/// Lobes are drawn about this share of the work's radius high.
const LOBES_RATIO: f64 = 0.2;
/// While something is dragged the exaggeration stays, as long as the picture is this near to what it should be.
const KEPT_RATIO: std::ops::RangeInclusive<f64> = 0.1..=1.6;

/// What is looked at.
enum Place<'a> {
    Rest { rest: &'a Rest, first_jaw: usize },
    Follower { follower: &'a Follower, z_mm: f64, first_jaw: usize },
}

/// Shows the end view at the selected rest.
pub fn end_view_ui(ui: &mut Ui, job: &Job, view: &mut View, results: &Results, palette: &Palette, out: &mut Commands) {
    let Some(setup) = job.setup(view.setup) else {
        ui.weak("This set-up is no longer there.");
        return;
    };
    if let Some((scene, cut)) = turn::turn_at_tool(view, results) {
        turn::turn_ui(ui, &scene, &cut, job.units, palette, out);
        return;
    }
    let Some(place) = place_of(setup, view) else {
        ui.weak("No rest in this set-up. With one, its jaws are shown here as seen from the tailstock.");
        return;
    };
    let shape = results.shape.as_ref();
    let scene = scene_of(job, setup, view, results, &place);
    ui.add(Label::new(RichText::new(title(&place, job.units)).strong()).wrap());

    let n_lines = scene.jaws.len() as f32 + 1.0;
    let table_height = n_lines * LINE_HEIGHT + 8.0;
    let size = vec2(ui.available_width(), (ui.available_height() - table_height).max(80.0));
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    let name = match &place {
        Place::Rest { .. } => "End view of the steady rest",
        Place::Follower { .. } => "End view of the follower",
    };
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Canvas, true, name));
    let times = exaggeration(ui, &scene, out.gesture_open || view.play.is_playing());
    paint(ui, rect, &scene, times, palette);
    if response.clicked() {
        view.selected = match &place {
            Place::Rest { rest, .. } => Selected::Rest(rest.id),
            Place::Follower { .. } => Selected::Follower,
        };
    }
    table_ui(ui, &place, &scene, shape.is_some(), job.units, out);
}

/// True where a rest is what is looked at, or the tool, whose travel lifts and loads the jaws, or under which the work
/// runs out; otherwise the notes take the room.
pub fn has_something_to_show(job: &Job, view: &View, results: &Results) -> bool {
    if turn::turn_at_tool(view, results).is_some() {
        return true;
    }
    let looked_at = matches!(view.selected, Selected::Rest(_) | Selected::Follower | Selected::Tool);
    looked_at && job.setup(view.setup).is_some_and(|setup| place_of(setup, view).is_some())
}

fn place_of<'a>(setup: &'a Setup, view: &View) -> Option<Place<'a>> {
    let rest_place = |index: usize| Place::Rest {
        rest: &setup.rests[index],
        first_jaw: setup.rests[..index].iter().map(|rest| rest.jaws.len()).sum(),
    };
    let follower_place = || {
        let follower = setup.follower.as_ref()?;
        let pass = view.pass.and_then(|id| setup.pass(id));
        let z_mm = words::follower_z_mm(setup, pass, view.tool_z_mm)?;
        Some(Place::Follower { follower, z_mm, first_jaw: setup.rests.iter().map(|rest| rest.jaws.len()).sum() })
    };
    match view.selected {
        Selected::Rest(id) => {
            if let Some(index) = setup.rests.iter().position(|rest| rest.id == id) {
                return Some(rest_place(index));
            }
        }
        Selected::Follower => {
            if let Some(place) = follower_place() {
                return Some(place);
            }
        }
        _ => {}
    }
    let to_tool_mm = |index: &usize| (setup.rests[*index].z_mm - view.tool_z_mm).abs();
    let nearest = (0..setup.rests.len()).min_by(|a, b| to_tool_mm(a).total_cmp(&to_tool_mm(b)));
    nearest.map(rest_place).or_else(follower_place)
}

fn title(place: &Place<'_>, units: Units) -> String {
    let (what, z_mm) = match place {
        Place::Rest { rest, .. } => ("Steady rest", rest.z_mm),
        Place::Follower { z_mm, .. } => ("Follower", *z_mm),
    };
    format!("{what} at {}", words::length(z_mm, units))
}

fn scene_of(job: &Job, setup: &Setup, view: &View, results: &Results, place: &Place<'_>) -> EndScene {
    let shape = results.shape.as_ref();
    let tool_at_rear = setup.tool.side == ToolSide::Rear;
    match place {
        Place::Rest { rest, first_jaw } => {
            let radius_mm = match rest.sleeve {
                Sleeve::None => work_radius_mm(job, setup, view, results, rest.z_mm),
                Sleeve::CatHead { diameter_mm, .. } | Sleeve::Bush { diameter_mm, .. } => diameter_mm / 2.0,
            };
            let half_jaw_mm = job.lathe.rest_jaw_width_mm.value / 2.0;
            let tool_here = cut_of(shape).is_some_and(|z_mm| (z_mm - rest.z_mm).abs() <= half_jaw_mm);
            let lobes = (rest.spot.height_mm > 0.0).then(|| {
                let times = round_exaggeration(rest.spot.height_mm, LOBES_RATIO * radius_mm);
                (rest.spot.n_lobes, rest.spot.height_mm, times)
            });
            let mut scene = EndScene::of_rest(rest, *first_jaw, radius_mm, shape, job.units);
            put_drag(&mut scene, job, setup, view, shape, |jaw| Support::Jaw { rest: rest.id, jaw });
            EndScene { tool_here, tool_at_rear, lobes, ..scene }
        }
        Place::Follower { follower, z_mm, first_jaw } => {
            let cut = shape.and_then(|shape| shape.cut.as_ref());
            let radius_mm = match (cut, follower.side) {
                (Some(cut), crate::job::FollowerSide::Behind) => cut.left_diameter_mm / 2.0,
                (Some(cut), crate::job::FollowerSide::Ahead) => cut.old_diameter_mm / 2.0,
                (None, _) => work_radius_mm(job, setup, view, results, *z_mm),
            };
            let mut scene = EndScene::of_follower(&follower.jaws, *first_jaw, *z_mm, radius_mm, shape, job.units);
            put_drag(&mut scene, job, setup, view, shape, |jaw| Support::FollowerJaw { jaw });
            EndScene { tool_at_rear, ..scene }
        }
    }
}

/// Friction at every jaw, where it counts and the spindle turns.
fn put_drag(
    scene: &mut EndScene,
    job: &Job,
    setup: &Setup,
    view: &View,
    shape: Option<&Shape>,
    support: impl Fn(usize) -> Support,
) {
    let (Some(pass), Some(shape)) = (view.pass.and_then(|id| setup.pass(id)), shape) else { return };
    if !setup.jaw_friction {
        return;
    }
    let contacts = of_shape(job, setup, Some(pass), shape);
    for (index, jaw) in scene.jaws.iter_mut().enumerate() {
        let found = contacts.iter().find(|contact| contact.support == support(index));
        jaw.drag_n = found.map_or(0.0, |contact| contact.friction_n);
    }
}

fn cut_of(shape: Option<&Shape>) -> Option<f64> {
    shape.and_then(|shape| shape.cut.as_ref()).map(|cut| cut.z_mm)
}

/// Radius of the work as it comes into the chosen pass.
fn work_radius_mm(job: &Job, setup: &Setup, view: &View, results: &Results, z_mm: f64) -> f64 {
    let before_pass = view.pass.and_then(|id| results.result.pass(id)).map(|pass| &*pass.before);
    let surface = before_pass.or_else(|| results.result.setup(setup.id).map(|setup_result| &*setup_result.before));
    let radius_mm = Profile::of(&job.shaft, setup, surface).radius_at(z_mm);
    if radius_mm > 0.0 { radius_mm } else { job.shaft.max_diameter_mm() / 2.0 }
}

/// By how much spring and gaps are drawn larger; it stays while something is dragged.
fn exaggeration(ui: &Ui, scene: &EndScene, in_gesture: bool) -> f64 {
    let id = ui.scope_id().with("end view exaggeration");
    let last: Option<f64> = ui.data(|data| data.get_temp(id));
    let room_mm = SEEN_RATIO * scene.radius_mm;
    let in_drag = in_gesture || ui.input(|input| input.pointer.any_down());
    if let Some(last) = last.filter(|_| in_drag)
        && KEPT_RATIO.contains(&(last * scene.largest_mm() / room_mm))
    {
        return last;
    }
    let times = round_exaggeration(scene.largest_mm(), room_mm);
    if last != Some(times) {
        ui.data_mut(|data| data.insert_temp(id, times));
    }
    times
}

fn paint(ui: &Ui, rect: Rect, scene: &EndScene, times: f64, palette: &Palette) {
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 3.0, palette.canvas);
    let picture = end_view(scene, times);
    let map = Map::fitting(rect.shrink(4.0), picture.bounds);
    let font = egui::TextStyle::Small.resolve(ui.style());
    let lay = |text: String, colour| painter.layout_no_wrap(text, font.clone(), colour);
    let right = |galley: &Galley, top: f32| rect.right_top() + vec2(-6.0 - galley.size().x, top);
    let from = lay("seen from\nthe tailstock".to_owned(), palette.ink_weak);
    let mut corners = vec![(right(&from, 4.0), from)];
    if let Some((n_lobes, _, times)) = scene.lobes {
        let lobes = lay(format!("{n_lobes} lobes\n{times:.0} \u{d7}"), palette.run_out);
        corners.push((right(&lobes, 38.0), lobes));
    }
    if times > 1.0 {
        // The work itself is to scale; only what springs and gapes is larger.
        let larger = lay(format!("spring and\ngaps {times:.0} \u{d7}"), palette.ink_weak);
        corners.push((rect.left_top() + vec2(6.0, 4.0), larger));
    }
    let reserved: Vec<Rect> = corners.iter().map(|(at, galley)| Rect::from_min_size(*at, galley.size())).collect();
    paint_picture(&painter, &map, &picture, palette, &reserved, &|_: Part| None);
    for (at, galley) in corners {
        painter.galley(at, galley, palette.ink_weak);
    }
}

/// One line a jaw: which, its force, and whether it touches, in words.
fn table_ui(ui: &mut Ui, place: &Place<'_>, scene: &EndScene, computed: bool, units: Units, out: &mut Commands) {
    ui.spacing_mut().interact_size.y = LINE_HEIGHT - 3.0;
    let hardest = (0..scene.jaws.len())
        .max_by(|a, b| scene.jaws[*a].force_n.total_cmp(&scene.jaws[*b].force_n))
        .map_or(0, |jaw| jaw);
    let support = match place {
        Place::Rest { rest, .. } => Support::Jaw { rest: rest.id, jaw: hardest },
        Place::Follower { .. } => Support::FollowerJaw { jaw: hardest },
    };
    // Force and contact are pressed from the head of their column to its foot.
    let heads = [("force", Figure::Load(support)), ("contact", Figure::Gap)];
    let behind = heads.map(|_| ui.painter().add(PaintShape::Noop));
    let mut columns = [Rect::NOTHING; 2];
    Grid::new("jaws").num_columns(3).spacing(vec2(14.0, 3.0)).show(ui, |ui| {
        ui.weak("Jaw");
        for (column, (head, _)) in columns.iter_mut().zip(heads) {
            *column = ui.horizontal(|ui| head_ui(ui, RichText::new(head))).inner;
        }
        ui.end_row();
        for (index, jaw) in scene.jaws.iter().enumerate() {
            let name = match place {
                Place::Rest { rest, .. } => words::jaw_name(rest, index),
                Place::Follower { .. } => words::follower_jaw_name(index).to_owned(),
            };
            ui.label(words::capital(name.trim_end_matches(" jaw")));
            let clear = words::amount(jaw.gap_mm, units);
            let none = || "\u{2013}".to_owned();
            let cells = if !computed {
                [none(), format!("set {clear} off")]
            } else if jaw.gap_mm <= 0.0 {
                [quantity::show(jaw.force_n, Kind::Force, units), "touching".to_owned()]
            } else {
                [none(), format!("lifted {clear}")]
            };
            for (column, cell) in columns.iter_mut().zip(cells) {
                *column = column.union(ui.add(Label::new(cell).selectable(false)).rect);
            }
            ui.end_row();
        }
    });
    for (((head, figure), column), behind) in heads.into_iter().zip(columns).zip(behind) {
        column_ui(ui, column, behind, (figure, &format!("{head} at the jaws")), out);
    }
}
