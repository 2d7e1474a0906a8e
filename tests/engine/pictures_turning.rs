//! Pictures of what turns with the work, and of drag at the jaws, against their geometry.

use std::f64::consts::TAU;

use midspan::job::Units;
use midspan::picture::end_view::{EndScene, JawState, end_view};
use midspan::picture::one_turn::{TurnScene, one_turn};
use midspan::picture::{Item, Line, Path, Picture, Point, Role, Segment};

use crate::close::close;

fn paths(picture: &Picture, role: Role) -> Vec<Path> {
    fn gather(items: &[Item], role: Role, found: &mut Vec<Path>) {
        for item in items {
            match item {
                Item::Path(path) if path.role == role => found.push(path.clone()),
                Item::Group(group) => gather(&group.items, role, found),
                _ => {}
            }
        }
    }
    let mut found = Vec::new();
    gather(&picture.items, role, &mut found);
    found
}

fn corners(path: &Path) -> Vec<Point> {
    let ends = path.segments.iter().map(|segment| match *segment {
        Segment::Line(end) | Segment::Curve(_, _, end) => end,
    });
    std::iter::once(path.start).chain(ends).collect()
}

/// One turn seen from the middle of the section: a circle of radius 20 with its centre (3, 4) µm off, and on it three lobes
/// of 2 µm half height, counted backwards from the tool as the study does.
fn turn() -> Vec<(f64, f64)> {
    (0..48)
        .map(|step| {
            let side_rad = std::f64::consts::PI - TAU * f64::from(step) / 48.0;
            let radius_mm = 20.0 + 0.002 * (3.0 * side_rad).cos();
            let (x_mm, y_mm) = (0.003 + radius_mm * side_rad.cos(), 0.004 + radius_mm * side_rad.sin());
            (y_mm.atan2(x_mm), x_mm.hypot(y_mm))
        })
        .collect()
}

/// Source: least-squares circle of evenly spread places, by orthogonality; the made-up lobes come back.
#[test]
fn a_turn_is_taken_apart_into_circle_and_what_stands_out_of_it() {
    let scene = TurnScene::of(&turn()).expect("48 sides");
    close(scene.radius_mm, 20.0, 0.0, 1e-12);
    close(scene.largest_mm(), 0.002, 0.0, 1e-12);
    assert_eq!(scene.out_mm.len(), 48);
    for (side_rad, out_mm) in &scene.out_mm {
        close(*out_mm, 0.002 * (3.0 * side_rad).cos(), 0.0, 1e-12);
    }
    assert_eq!(TurnScene::of(&turn()[..2]), None);
}

#[test]
fn a_turn_is_drawn_about_its_circle_with_what_stands_out_larger_and_the_radius_as_it_is() {
    let scene = TurnScene::of(&turn()).expect("48 sides");
    let picture = one_turn(&scene, 1000.0);
    let traces = paths(&picture, Role::RunOut);
    let [trace] = &traces[..] else { panic!("{} traces", traces.len()) };
    assert!(trace.closed);
    for point in corners(trace) {
        let side_rad = point.up_mm.atan2(point.right_mm);
        close(point.right_mm.hypot(point.up_mm), 20.0 + 2.0 * (3.0 * side_rad).cos(), 0.0, 1e-9);
    }
    let circle = paths(&picture, Role::Text).into_iter().find(|path| path.line == Some(Line::Dashed)).expect("circle");
    for point in corners(&circle) {
        close(point.right_mm.hypot(point.up_mm), 20.0, 0.0, 1e-9);
    }
}

fn scene(drag_n: [f64; 3]) -> EndScene {
    let jaw = |(degrees, drag_n): (f64, f64)| JawState {
        angle_rad: degrees.to_radians(),
        gap_mm: if degrees < 91.0 { 0.0 } else { 0.01 * f64::from(u8::from(degrees > 300.0)) },
        force_n: 100.0,
        drag_n,
    };
    EndScene {
        radius_mm: 20.0,
        away_mm: 0.0,
        up_mm: 0.0,
        jaws: [90.0, 210.0, 330.0].into_iter().zip(drag_n).map(jaw).collect(),
        computed: true,
        tool_here: false,
        tool_at_rear: false,
        lobes: None,
        follower: false,
        units: Units::Metric,
    }
}

/// The work turns anticlockwise in the end view and drags each jaw with it: from angle a towards a + 90 degrees.
#[test]
fn drag_is_drawn_across_each_touching_jaw_the_way_the_work_turns() {
    let picture = end_view(&scene([10.0, 10.0, 10.0]), 1.0);
    let shafts: Vec<Path> = paths(&picture, Role::Drag).into_iter().filter(|path| !path.closed).collect();
    assert_eq!(shafts.len(), 2, "the third jaw is lifted");
    for (shaft, degrees) in shafts.iter().zip([90.0_f64, 210.0]) {
        let ends = corners(shaft);
        let angle_rad = degrees.to_radians();
        let along = (ends[1].right_mm - ends[0].right_mm) * -angle_rad.sin()
            + (ends[1].up_mm - ends[0].up_mm) * angle_rad.cos();
        let out =
            (ends[1].right_mm - ends[0].right_mm) * angle_rad.cos() + (ends[1].up_mm - ends[0].up_mm) * angle_rad.sin();
        assert!(along > 5.0, "jaw at {degrees}: {along}");
        close(out, 0.0, 0.0, 1e-9);
    }
    assert_eq!(paths(&end_view(&scene([0.0; 3]), 1.0), Role::Drag), vec![]);
}

#[test]
fn lobes_are_a_line_about_the_circle_by_their_own_factor() {
    let with_lobes = EndScene { lobes: Some((3, 0.02, 200.0)), ..scene([0.0; 3]) };
    let lines = paths(&end_view(&with_lobes, 1.0), Role::RunOut);
    let [line] = &lines[..] else { panic!("{} lines", lines.len()) };
    let radii: Vec<f64> = corners(line).iter().map(|point| point.right_mm.hypot(point.up_mm)).collect();
    close(radii.iter().copied().fold(0.0, f64::max), 22.0, 1e-9, 0.0);
    close(radii.iter().copied().fold(f64::MAX, f64::min), 18.0, 1e-6, 0.0);
    close(radii[0], 22.0, 1e-9, 0.0);
    assert_eq!(paths(&end_view(&scene([0.0; 3]), 1.0), Role::RunOut), vec![]);
}
