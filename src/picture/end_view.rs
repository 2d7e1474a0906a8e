//! The work and its jaws at one rest, from the tailstock towards the headstock: rear at the right, tool at the left.
//!
//! Work and rest are to scale; the work's displacement and every gap are drawn `times` larger. A jaw's flat tip
//! stands off the circle by its enlarged gap along its own direction, which is exact for a flat tip. Lobes of the spot are
//! a line of their own about the circle, by a factor of their own; drag is drawn on the jaw, the way the work turns.

use super::shapes::{arrow, group, words};
use super::{Align, Fill, Item, Line, Part, Path, Picture, Point, Role, Stand, TextSize, at};
use crate::job::quantity::{Kind, show};
use crate::job::{Jaw, Rest, Units};
use crate::study::{Shape, Support};

/// One jaw as it is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JawState {
    pub angle_rad: f64,
    /// Air between tip and work; 0 where it touches.
    pub gap_mm: f64,
    pub force_n: f64,
    /// Friction along the work's surface; 0 where it is not looked at.
    pub drag_n: f64,
}

/// What an end view shows.
#[derive(Clone, Debug, PartialEq)]
pub struct EndScene {
    /// Radius the jaws run on.
    pub radius_mm: f64,
    /// Work's axis, away from the operator and up.
    pub away_mm: f64,
    pub up_mm: f64,
    pub jaws: Vec<JawState>,
    /// The jaws' places are computed, not only set.
    pub computed: bool,
    /// Tool in the cut at this very place; otherwise it is drawn faint.
    pub tool_here: bool,
    pub tool_at_rear: bool,
    /// Lobes under the jaws: how many, their whole height on radius, and by how much they are drawn larger.
    pub lobes: Option<(u32, f64, f64)>,
    /// A follower has no ring.
    pub follower: bool,
    pub units: Units,
}

impl EndScene {
    /// Where the work and the jaws of a steady rest are in a bent shape. `rest_index` counts in document order,
    /// `first_jaw` is its first jaw's place in [`Shape::jaw_gaps_mm`].
    #[must_use]
    pub fn of_rest(rest: &Rest, first_jaw: usize, radius_mm: f64, shape: Option<&Shape>, units: Units) -> Self {
        let force = |jaw: usize| shape.map_or(0.0, |shape| force_n(shape, Support::Jaw { rest: rest.id, jaw }));
        Self::gathered(&rest.jaws, first_jaw, rest.z_mm, radius_mm, shape, force, units)
    }

    /// The same for the follower's two jaws at `z_mm`.
    #[must_use]
    pub fn of_follower(
        jaws: &[Jaw; 2],
        first_jaw: usize,
        z_mm: f64,
        radius_mm: f64,
        shape: Option<&Shape>,
        units: Units,
    ) -> Self {
        let force = |jaw: usize| shape.map_or(0.0, |shape| force_n(shape, Support::FollowerJaw { jaw }));
        Self { follower: true, ..Self::gathered(jaws, first_jaw, z_mm, radius_mm, shape, force, units) }
    }

    fn gathered(
        jaws: &[Jaw],
        first_jaw: usize,
        z_mm: f64,
        radius_mm: f64,
        shape: Option<&Shape>,
        force: impl Fn(usize) -> f64,
        units: Units,
    ) -> Self {
        let (away_mm, up_mm) = shape.map_or((0.0, 0.0), |shape| axis_at(shape, z_mm));
        let computed = shape.is_some_and(|shape| shape.jaw_gaps_mm.len() >= first_jaw + jaws.len());
        let jaws = jaws
            .iter()
            .enumerate()
            .map(|(index, jaw)| JawState {
                angle_rad: jaw.angle_rad,
                gap_mm: shape
                    .and_then(|shape| shape.jaw_gaps_mm.get(first_jaw + index))
                    .copied()
                    .unwrap_or(jaw.gap_mm)
                    .max(0.0),
                force_n: force(index),
                drag_n: 0.0,
            })
            .collect();
        Self {
            radius_mm: radius_mm.max(0.5),
            away_mm,
            up_mm,
            jaws,
            computed,
            tool_here: false,
            tool_at_rear: false,
            lobes: None,
            follower: false,
            units,
        }
    }

    /// Largest displacement or gap, for choosing the exaggeration.
    #[must_use]
    pub fn largest_mm(&self) -> f64 {
        let gap = self.jaws.iter().map(|jaw| jaw.gap_mm).fold(0.0, f64::max);
        self.away_mm.hypot(self.up_mm).max(gap)
    }
}

fn force_n(shape: &Shape, support: Support) -> f64 {
    shape.reactions.iter().find(|reaction| reaction.support == support).map_or(0.0, |reaction| reaction.force_n)
}

/// Displacement of the axis at a place, straight between the computed points.
#[must_use]
pub fn axis_at(shape: &Shape, z_mm: f64) -> (f64, f64) {
    let n = shape.z_mm.len().min(shape.x_mm.len()).min(shape.y_mm.len());
    if n == 0 {
        return (0.0, 0.0);
    }
    let after = shape.z_mm[..n].partition_point(|z| *z < z_mm).min(n - 1);
    let before = after.saturating_sub(1);
    let length = shape.z_mm[after] - shape.z_mm[before];
    let share = if length > 0.0 { ((z_mm - shape.z_mm[before]) / length).clamp(0.0, 1.0) } else { 1.0 };
    let between = |values: &[f64]| values[before] + share * (values[after] - values[before]);
    (between(&shape.x_mm), between(&shape.y_mm))
}

/// The end view, displacement and gaps `times` larger.
#[must_use]
pub fn end_view(scene: &EndScene, times: f64) -> Picture {
    let r = scene.radius_mm;
    let inner = 2.05 * r;
    let outer = 2.45 * r;
    let mut items: Vec<Item> = Vec::new();
    items.extend(frame(scene, inner, outer));
    // Axes of the spindle.
    for (dx, dy) in [(1.5 * r, 0.0), (0.0, 1.5 * r)] {
        items.push(Path::segment(at(-dx, -dy), at(dx, dy), Role::CentreLine).lined(Line::Chain).into());
    }
    let centre = at(times * scene.away_mm, times * scene.up_mm);
    items.push(group(
        Part::Work,
        vec![
            Path::circle(at(0.0, 0.0), r, Role::Wanted).lined(Line::Dashed).into(),
            Path::circle(centre, r, Role::Steel).lined(Line::Thick).filled(Fill::Soft).into(),
            Path::segment(
                at(centre.right_mm - 0.14 * r, centre.up_mm),
                at(centre.right_mm + 0.14 * r, centre.up_mm),
                Role::Steel,
            )
            .into(),
            Path::segment(
                at(centre.right_mm, centre.up_mm - 0.14 * r),
                at(centre.right_mm, centre.up_mm + 0.14 * r),
                Role::Steel,
            )
            .into(),
        ],
    ));
    items.extend(lobed_line(scene, centre));
    if scene.largest_mm() > 0.0 {
        items.extend(arrow(at(0.0, 0.0), centre, 0.14 * r, Role::SpringAway));
    }
    let most_n = scene.jaws.iter().map(|jaw| jaw.force_n).fold(0.0, f64::max);
    for (index, jaw) in scene.jaws.iter().enumerate() {
        items.extend(jaw_items(scene, index, jaw, centre, times, inner, most_n));
    }
    items.extend(tool_items(scene, r));
    for (side, text) in [(-1.0, "toward you"), (1.0, "away")] {
        let foot = at(side * 0.7 * outer, -1.28 * outer);
        let mut name = words(foot, Align::Centre, Stand::Above, TextSize::Small, Role::Faint, text);
        (name.gives_way, name.room_mm) = (true, Some(1.3 * outer));
        items.push(name.into());
    }
    let mut picture = Picture::of(items);
    let half = 1.28 * outer;
    picture.bounds = super::Bounds { left_mm: -half, right_mm: half, bottom_mm: -half, top_mm: half };
    picture
}

/// The lobes of the spot about the circle, as they lie with the mark at the right.
fn lobed_line(scene: &EndScene, centre: Point) -> Option<Item> {
    const POINTS_A_LOBE: u32 = 48;
    let (n_lobes, height_mm, times) = scene.lobes?;
    let n_points = POINTS_A_LOBE * n_lobes.max(1);
    let points = (0..n_points).map(|point| {
        let side_rad = std::f64::consts::TAU * f64::from(point) / f64::from(n_points);
        let here = scene.radius_mm + times * height_mm / 2.0 * (f64::from(n_lobes) * side_rad).cos();
        at(centre.right_mm + here * side_rad.cos(), centre.up_mm + here * side_rad.sin())
    });
    Some(Path::outline(points, Role::RunOut).lined(Line::Thin).into())
}

/// The ring of a steady rest, or the angle of a follower.
fn frame(scene: &EndScene, inner: f64, outer: f64) -> Vec<Item> {
    if scene.follower {
        let w = outer - inner;
        return vec![
            Path::outline(
                [
                    at(inner, -1.1 * outer),
                    at(inner, inner),
                    at(-0.6 * scene.radius_mm, inner),
                    at(-0.6 * scene.radius_mm, inner + w),
                    at(inner + w, inner + w),
                    at(inner + w, -1.1 * outer),
                ],
                Role::Follower,
            )
            .lined(Line::Thin)
            .filled(Fill::Soft)
            .into(),
        ];
    }
    let foot = 0.5 * outer;
    vec![
        Path::outline(
            [
                at(-foot, -1.2 * outer),
                at(-0.62 * foot, -0.9 * outer),
                at(0.62 * foot, -0.9 * outer),
                at(foot, -1.2 * outer),
            ],
            Role::Rest,
        )
        .lined(Line::Thin)
        .filled(Fill::Soft)
        .into(),
        Path::circle(at(0.0, 0.0), outer, Role::Rest).lined(Line::Thin).into(),
        Path::circle(at(0.0, 0.0), inner, Role::Rest).lined(Line::Thin).into(),
    ]
}

fn jaw_items(
    scene: &EndScene,
    index: usize,
    jaw: &JawState,
    centre: Point,
    times: f64,
    inner: f64,
    most_n: f64,
) -> Vec<Item> {
    let r = scene.radius_mm;
    let (nx, ny) = (jaw.angle_rad.cos(), jaw.angle_rad.sin());
    // Along the jaw from the spindle axis; u lies to the left of it.
    let place = |along: f64, across: f64| at(along * nx - across * ny, along * ny + across * nx);
    let tip = r + times * jaw.gap_mm + centre.right_mm * nx + centre.up_mm * ny;
    let half = 0.20 * r;
    let root = inner.max(tip + 0.5 * r);
    let lifted = scene.computed && jaw.gap_mm > 0.0;
    let role = if lifted { Role::JawLifted } else { Role::RestJaw };
    let body = Path::outline(
        [
            place(tip, half),
            place(tip + 0.22 * r, half),
            place(tip + 0.22 * r, 0.7 * half),
            place(root, 0.7 * half),
            place(root, -0.7 * half),
            place(tip + 0.22 * r, -0.7 * half),
            place(tip + 0.22 * r, -half),
            place(tip, -half),
        ],
        role,
    );
    let mut items: Vec<Item> = vec![if lifted {
        body.lined(Line::Dashed).filled(Fill::None).into()
    } else {
        body.lined(Line::Thin).filled(Fill::Solid).into()
    }];
    let share = if most_n > 0.0 { (jaw.force_n / most_n).clamp(0.0, 1.0) } else { 0.0 };
    if scene.computed && !lifted && jaw.drag_n > 0.0 {
        let along = tip + 0.34 * r;
        items.extend(arrow(place(along, -1.9 * half), place(along, 2.3 * half), 0.17 * r, Role::Drag));
        let value = show(jaw.drag_n, Kind::Force, scene.units);
        let (align, stand) = beside((-ny, nx));
        let mut value = words(place(along, 2.5 * half), align, stand, TextSize::Small, Role::Drag, value);
        value.gives_way = true;
        items.push(value.into());
    }
    let label_at = place(1.28 * inner, 0.0);
    let text = if lifted {
        format!("off by {}", show(jaw.gap_mm, Kind::Error, scene.units))
    } else if scene.computed {
        items.extend(arrow(place(tip, 0.0), place(tip + (0.35 + 0.75 * share) * r, 0.0), 0.24 * r, Role::Force));
        show(jaw.force_n, Kind::Force, scene.units)
    } else {
        format!("jaw {}", index + 1)
    };
    let align = if nx > 0.35 {
        Align::Left
    } else if nx < -0.35 {
        Align::Right
    } else {
        Align::Centre
    };
    let role = if lifted { Role::JawLifted } else { Role::Text };
    let mut label =
        words(label_at, align, if ny > 0.35 { Stand::Above } else { Stand::Below }, TextSize::Dimension, role, text);
    label.gives_way = true;
    items.push(label.into());
    items
}

/// How words stand at the end of something that points this way, (right, up).
#[must_use]
pub fn beside((right, up): (f64, f64)) -> (Align, Stand) {
    let align = if right > 0.35 {
        Align::Left
    } else if right < -0.35 {
        Align::Right
    } else {
        Align::Centre
    };
    let stand = if up > 0.35 {
        Stand::Above
    } else if up < -0.35 {
        Stand::Below
    } else {
        Stand::Middle
    };
    (align, stand)
}

/// The tool on its side, faint where it stands elsewhere along the work.
fn tool_items(scene: &EndScene, r: f64) -> Vec<Item> {
    let side = if scene.tool_at_rear { 1.0 } else { -1.0 };
    let path = Path::outline(
        [
            at(side * 1.03 * r, 0.0),
            at(side * 2.0 * r, 0.0),
            at(side * 2.0 * r, -0.30 * r),
            at(side * 1.10 * r, -0.30 * r),
        ],
        Role::Tool,
    );
    vec![group(
        Part::Tool,
        vec![if scene.tool_here {
            path.lined(Line::Thick).filled(Fill::Solid).into()
        } else {
            path.lined(Line::Thin).filled(Fill::None).into()
        }],
    )]
}
