//! Pictures: what is drawn lies where the job says, and nothing a job can hold breaks a drawing.

use midspan::job::{
    BoreLand, CentreHole, DogKind, DriveKind, Feature, FeatureKind, Follower, FollowerSide, Jaw, Job, PassKind, Rest,
    Sleeve, Stated, Stiffness, TailKind, TipKind, ToolSide, Units, WantedLand,
};
use midspan::picture::bench::{Scene, bench};
use midspan::picture::end_view::{EndScene, JawState, axis_at, end_view};
use midspan::picture::profile::Profile;
use midspan::picture::spans::free_spans;
use midspan::picture::spring::{round_exaggeration, spring};
use midspan::picture::{Fill, Item, Part, Path, Picture, Point, Role, Segment};
use midspan::study::{JobResult, Reaction, Shape, Status, Support};

use crate::close::close;
use crate::quiet::{PASS, REST, SETUP, job, land, steady};
use crate::quiet_result::result;

/// Paths of one role, wherever they are.
fn paths(picture: &Picture, role: Role) -> Vec<&Path> {
    fn gather<'a>(items: &'a [Item], role: Role, found: &mut Vec<&'a Path>) {
        for item in items {
            match item {
                Item::Path(path) if path.role == role => found.push(path),
                Item::Group(group) => gather(&group.items, role, found),
                Item::Path(_) | Item::Text(_) => {}
            }
        }
    }
    let mut found = Vec::new();
    gather(&picture.items, role, &mut found);
    found
}

fn points(path: &Path) -> Vec<Point> {
    let mut all = vec![path.start];
    for segment in &path.segments {
        match *segment {
            Segment::Line(end) | Segment::Curve(_, _, end) => all.push(end),
        }
    }
    all
}

/// A shape that gives way by `x_mm` and `y_mm` in the middle, with these gaps at the jaws.
fn shape(length_mm: f64, x_mm: f64, y_mm: f64, jaw_gaps_mm: Vec<f64>) -> Shape {
    Shape {
        status: Status::Solved,
        z_mm: vec![0.0, length_mm / 2.0, length_mm],
        x_mm: vec![0.0, x_mm, 0.0],
        y_mm: vec![0.0, y_mm, 0.0],
        reactions: Vec::new(),
        cut: None,
        jaw_gaps_mm,
        turn_mm: vec![],
    }
}

fn draw(job: &Job, result: &JobResult, shape: Option<&Shape>, tool_z_mm: f64) -> Picture {
    let scene = Scene::of(job, result, SETUP, Some(PASS), tool_z_mm, shape).expect("the set-up is there");
    bench(&Scene { exaggeration_times: 500.0, ..scene })
}

#[test]
fn the_work_is_cut_behind_the_tool_and_uncut_before_it() {
    let job = job();
    let result = result(&job);
    let scene = Scene::of(&job, &result, SETUP, Some(PASS), 150.0, None).expect("the set-up is there");
    assert!(scene.feeds_to_headstock(), "the quiet set-up feeds to the headstock");
    let state = scene.work_state();
    close(state.now.radius_at(200.0), 19.0, 1e-9, 0.0);
    close(state.now.radius_at(100.0), 20.0, 1e-9, 0.0);
    close(state.to_cut.radius_at(100.0), 19.0, 1e-9, 0.0);
    assert_eq!(state.to_cut.radius_at(200.0), 0.0);
}

#[test]
fn work_turned_end_for_end_is_drawn_the_other_way_round() {
    let mut job = job();
    job.shaft.stock = vec![land(100.0, 40.0), land(225.0, 30.0)];
    let there = Profile::of(&job.shaft, &job.setups[0], None);
    close(there.radius_at(0.0), 20.0, 1e-12, 0.0);
    job.setups[0].end_for_end = true;
    let back = Profile::of(&job.shaft, &job.setups[0], None);
    close(back.radius_at(0.0), 15.0, 1e-12, 0.0);
    assert_eq!(back.ends_mm(), there.ends_mm());
    close(back.radius_at(299.0), 20.0, 1e-12, 0.0);
}

#[test]
fn joints_no_eye_can_see_are_joined_and_steps_are_kept() {
    let mut job = job();
    job.shaft.stock = vec![land(100.0, 40.0), land(100.0, 40.0005), land(125.0, 30.0)];
    let profile = Profile::of(&job.shaft, &job.setups[0], None);
    assert_eq!(profile.stretches.len(), 2, "{profile:?}");
    assert_eq!(profile.ends_mm(), Some((-25.0, 300.0)));
}

/// What is drawn of one part.
fn items_of(items: &[Item], part: Part) -> Vec<Item> {
    let found = items.iter().flat_map(|item| match item {
        Item::Group(group) if group.part == part => group.items.clone(),
        Item::Group(group) => items_of(&group.items, part),
        _ => Vec::new(),
    });
    found.collect()
}

#[test]
fn a_rest_is_drawn_about_its_place() {
    let mut job = job();
    job.setups[0].rests = vec![steady(123.0)];
    let picture = draw(&job, &JobResult { setups: vec![], bands: None }, None, 200.0);
    let bounds = Picture::of(items_of(&picture.items, Part::Rest(REST))).bounds;
    close(f64::midpoint(bounds.left_mm, bounds.right_mm), 123.0, 0.0, 1e-9);
    // The base stands on the bed, half the swing below the axis.
    close(bounds.bottom_mm, -175.0, 0.0, 1e-9);
}

#[test]
fn the_tools_point_is_on_the_axis_where_the_tool_stands() {
    let picture = draw(&job(), &result(&job()), None, 150.0);
    let edges = paths(&picture, Role::Tool);
    let tip = edges.iter().map(|path| path.start).find(|point| point.up_mm == 0.0).expect("an edge at centre height");
    close(tip.right_mm, 150.0, 0.0, 1e-9);
}

/// The dog: how far its one path reaches up, down and to the left.
fn dog_reach(kind: DogKind, tail_radius_mm: f64) -> (f64, f64, f64) {
    let mut job = job();
    let drive = &mut job.setups[0].drive;
    drive.kind = DriveKind::CentreAndDog;
    (drive.dog.kind, drive.dog.tail_radius_mm) = (kind, Stated::given(tail_radius_mm));
    let picture = draw(&job, &JobResult { setups: vec![], bands: None }, None, 150.0);
    let body = points(paths(&picture, Role::Dog).first().expect("a dog is drawn between centres"));
    let left = body.iter().map(|point| point.right_mm).fold(f64::INFINITY, f64::min);
    let at_the_plate = body.iter().filter(|point| point.right_mm == left).map(|point| point.up_mm);
    let (low, high) =
        at_the_plate.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), up| (low.min(up), high.max(up)));
    (high, low, left)
}

#[test]
fn a_dog_with_two_tails_reaches_into_the_plate_at_either_side() {
    let (high, low, left) = dog_reach(DogKind::OneTail, 60.0);
    assert!(low > 0.0, "one tail, above the axis: {low}");
    assert!((low..=high).contains(&60.0), "the tail bears where the job says: {low} to {high}");
    let (high_of_two, low_of_two, left_of_two) = dog_reach(DogKind::TwoTails, 60.0);
    assert_eq!((high_of_two, low_of_two, left_of_two), (high, -high, left));
    let (further, ..) = dog_reach(DogKind::OneTail, 70.0);
    close(further - high, 10.0, 0.0, 1e-9);
}

#[test]
fn the_quill_stands_out_by_what_the_job_says() {
    let mut job = job();
    let length = |job: &Job| {
        let picture = draw(job, &JobResult { setups: vec![], bands: None }, None, 200.0);
        let quill = paths(&picture, Role::Quill);
        let all: Vec<Point> = quill.iter().flat_map(|path| points(path)).collect();
        let right = all.iter().map(|point| point.right_mm).fold(f64::MIN, f64::max);
        right - all.iter().map(|point| point.right_mm).fold(f64::MAX, f64::min)
    };
    close(length(&job), 40.0, 0.0, 1e-9);
    job.setups[0].tail.quill_out_mm = 77.5;
    close(length(&job), 77.5, 0.0, 1e-9);
}

#[test]
fn a_jaw_that_has_let_go_is_drawn_as_lifted_and_the_others_are_not() {
    let mut job = job();
    job.setups[0].rests = vec![steady(150.0)];
    let bent = shape(300.0, 0.02, 0.01, vec![0.0, 0.03, 0.0]);
    let picture = draw(&job, &JobResult { setups: vec![], bands: None }, Some(&bent), 200.0);
    assert_eq!(paths(&picture, Role::JawLifted).len(), 1);
    assert_eq!(paths(&picture, Role::RestJaw).len(), 2);
}

/// Filled from the tip by the share of the most any jaw carries: the same told without colour.
#[test]
fn a_jaw_is_filled_the_further_the_more_it_carries() {
    let mut job = job();
    job.setups[0].rests = vec![steady(150.0)];
    let nothing = JobResult { setups: vec![], bands: None };
    let loaded = |force_n: f64| {
        let force = |jaw: usize, force_n: f64| Reaction { support: Support::Jaw { rest: REST, jaw }, force_n };
        let reactions = vec![force(0, force_n), force(1, 400.0), force(2, 0.0)];
        let bent = Shape { reactions, ..shape(300.0, 0.02, 0.01, vec![0.0; 3]) };
        let picture = draw(&job, &nothing, Some(&bent), 200.0);
        let jaws: Vec<Path> = paths(&picture, Role::RestJaw).into_iter().cloned().collect();
        let heights = jaws.iter().filter(|path| path.fill == Fill::Solid && path.line.is_none()).map(|path| {
            let points = points(path);
            let up_mm = points.iter().map(|point| point.up_mm);
            up_mm.clone().fold(f64::MIN, f64::max) - up_mm.fold(f64::MAX, f64::min)
        });
        (heights.collect::<Vec<_>>(), jaws)
    };
    let (quarter, jaws) = loaded(100.0);
    let soft = jaws.iter().filter(|path| path.fill == Fill::Soft).count();
    let whole = jaws.iter().filter(|path| path.fill == Fill::Solid && path.line.is_some()).count();
    assert_eq!((quarter.len(), soft, whole), (1, 2, 1), "one in part, one whole, one that only touches");
    let (half, _) = loaded(200.0);
    close(half[0], 2.0 * quarter[0], 1e-9, 0.0);
}

#[test]
fn bar_behind_the_spindle_is_drawn_as_such() {
    let mut job = job();
    let none = JobResult { setups: vec![], bands: None };
    assert!(paths(&draw(&job, &none, None, 20.0), Role::BarTail).is_empty());
    job.shaft.stock = vec![land(1000.0, 40.0)];
    job.setups[0].work_start_z_mm = -700.0;
    let picture = draw(&job, &none, None, 20.0);
    let tails = paths(&picture, Role::BarTail);
    let right = tails.iter().flat_map(|path| points(path)).map(|point| point.right_mm).fold(f64::MIN, f64::max);
    // The headstock is 450 mm long.
    close(right, -450.0, 0.0, 1e-9);
}

/// Lengths and diameters by hand: 120 / 40 and 180 / 30.
#[test]
fn free_lengths_are_counted_in_the_thinnest_diameter_between_supports() {
    let mut job = job();
    job.shaft.stock = vec![land(200.0, 40.0), land(125.0, 30.0)];
    job.setups[0].rests = vec![steady(120.0)];
    let now = Profile::of(&job.shaft, &job.setups[0], None);
    let spans = free_spans(&job, &job.setups[0], &now);
    assert_eq!(spans.len(), 2);
    close(spans[0].slenderness_ratio(), 3.0, 1e-12, 0.0);
    close(spans[1].slenderness_ratio(), 6.0, 1e-12, 0.0);
}

#[test]
fn the_exaggeration_is_the_largest_round_number_that_fits() {
    assert_eq!(round_exaggeration(0.024, 21.0), 500.0);
    assert_eq!(round_exaggeration(-0.01, 10.0), 1000.0);
    assert_eq!(round_exaggeration(3.0, 12.0), 2.0);
    assert_eq!(round_exaggeration(0.0, 12.0), 1.0);
    assert_eq!(round_exaggeration(f64::NAN, 12.0), 1.0);
    for step in 1..200 {
        let largest_mm = 1.07_f64.powi(step) * 1e-5;
        let drawn_mm = round_exaggeration(largest_mm, 15.0) * largest_mm;
        assert!((6.0 - 1e-9..=15.0 + 1e-6).contains(&drawn_mm), "{largest_mm} is drawn {drawn_mm} high");
    }
}

#[test]
fn the_bent_line_goes_up_for_a_spring_away_from_the_operator() {
    let Item::Group(group) = spring(&shape(300.0, 0.04, -0.01, vec![]), 200.0) else { panic!("a group") };
    let picture = Picture::of(group.items);
    let highest = |role| {
        let lines: Vec<&Path> = paths(&picture, role).into_iter().filter(|path| path.line.is_some()).collect();
        assert_eq!(lines.len(), 1);
        points(lines[0])[1].up_mm
    };
    close(highest(Role::SpringAway), 8.0, 1e-12, 0.0);
    close(highest(Role::SpringUp), -2.0, 1e-12, 0.0);
}

#[test]
fn the_axis_between_two_computed_places_is_straight() {
    let bent = shape(300.0, 0.04, -0.01, vec![]);
    let (x, y) = axis_at(&bent, 75.0);
    close(x, 0.02, 1e-12, 0.0);
    close(y, -0.005, 1e-12, 0.0);
    let (beyond, _) = axis_at(&bent, 1e6);
    close(beyond, 0.0, 0.0, 1e-12);
}

/// Checked against the geometry: a flat tip across the direction n touches a circle of radius r about c where
/// n . p = n . c + r.
#[test]
fn in_the_end_view_a_touching_tip_touches_and_a_lifted_one_stands_off_by_its_enlarged_gap() {
    let jaws: Vec<JawState> = [(90.0_f64, 0.0), (210.0, 0.013), (330.0, 0.0)]
        .map(|(degrees, gap_mm)| JawState { angle_rad: degrees.to_radians(), gap_mm, force_n: 50.0, drag_n: 0.0 })
        .to_vec();
    let scene = EndScene {
        radius_mm: 20.0,
        away_mm: 0.031,
        up_mm: 0.012,
        jaws: jaws.clone(),
        computed: true,
        tool_here: false,
        tool_at_rear: false,
        lobes: None,
        follower: false,
        units: Units::Metric,
    };
    let times = 100.0;
    let picture = end_view(&scene, times);
    for jaw in jaws {
        let (nx, ny) = (jaw.angle_rad.cos(), jaw.angle_rad.sin());
        let along = |point: &Point| point.right_mm * nx + point.up_mm * ny;
        let role = if jaw.gap_mm > 0.0 { Role::JawLifted } else { Role::RestJaw };
        let nearest = paths(&picture, role)
            .into_iter()
            .map(|path| points(path).iter().map(along).fold(f64::MAX, f64::min))
            .filter(|along| *along > 0.0)
            .fold(f64::MAX, f64::min);
        let centre = times * (0.031 * nx + 0.012 * ny);
        close(nearest - centre - 20.0, times * jaw.gap_mm, 1e-9, 1e-9);
    }
}

/// Every kind of drive, tail, rest and feature, at ordinary and at absurd sizes.
#[test]
fn nothing_a_job_can_hold_breaks_the_drawing() {
    let drives =
        [DriveKind::ThreeJaw, DriveKind::FourJaw, DriveKind::Collet, DriveKind::FacePlate, DriveKind::CentreAndDog];
    let tails = [
        TailKind::Free,
        TailKind::DeadCentre,
        TailKind::LiveCentre,
        TailKind::SpringCentre,
        TailKind::HalfCentre,
        TailKind::BullNose,
    ];
    for size in [1e-3, 1.0, 1e5] {
        for drive in drives {
            for tail in tails {
                let job = strange_job(size, drive, tail);
                let bent = shape(300.0, size, f64::NAN, vec![size]);
                for shape in [None, Some(&bent)] {
                    let picture = draw(&job, &JobResult { setups: vec![], bands: None }, shape, 1e9);
                    for item in &picture.items {
                        item.for_each_point(&mut |point| {
                            assert!(
                                point.right_mm.is_finite() && point.up_mm.is_finite(),
                                "{drive:?}, {tail:?}, size {size}: {point:?}"
                            );
                        });
                    }
                }
            }
        }
    }
}

fn strange_job(size: f64, drive: DriveKind, tail: TailKind) -> Job {
    let mut job = job();
    let shaft = &mut job.shaft;
    shaft.stock = vec![land(300.0 * size, 40.0), land(10.0, 40.0 * size), land(1.0, 0.01)];
    shaft.wanted = vec![WantedLand { land: land(2000.0 * size, 50.0), ..shaft.wanted[0].clone() }];
    shaft.bores =
        vec![BoreLand { from_s_mm: 0.0, to_s_mm: 30.0 * size, start_diameter_mm: 90.0, end_diameter_mm: 1.0 }];
    (shaft.centre_hole_a, shaft.centre_hole_b) =
        (Some(CentreHole::in_the_middle(size)), Some(CentreHole::in_the_middle(4.0)));
    let kinds = [
        FeatureKind::Thread { pitch_mm: 100.0 * size },
        FeatureKind::Keyway { width_mm: 90.0, depth_mm: 5.0 },
        FeatureKind::Flat,
        FeatureKind::Spline,
        FeatureKind::Weld,
        FeatureKind::CrossHole { diameter_mm: 80.0 },
        FeatureKind::Groove { depth_mm: 50.0 },
        FeatureKind::TrueSpot,
    ];
    shaft.features = kinds.map(|kind| Feature { kind, from_s_mm: 20.0 * size, to_s_mm: 20.0 * size + 10.0 }).to_vec();
    job.lathe.swing_over_bed_mm = Stated::given(350.0 * size);
    job.lathe.rest_max_diameter_mm = Stated::given(1e4);
    let setup = &mut job.setups[0];
    (setup.drive.kind, setup.tail.kind) = (drive, tail);
    setup.tool.side = ToolSide::Rear;
    setup.passes[0].kind = PassKind::Bore;
    let jaw = |angle_rad: f64| Jaw { angle_rad, gap_mm: -1.0, k_n_per_mm: Stiffness::Rigid };
    setup.rests = vec![
        Rest {
            jaws: vec![jaw(0.0), jaw(3.2)],
            sleeve: Sleeve::CatHead { diameter_mm: 1.0, width_mm: size },
            ..steady(-50.0)
        },
        Rest { jaws: vec![], sleeve: Sleeve::Bush { diameter_mm: 500.0, width_mm: 1.0 }, ..steady(1e6) },
    ];
    setup.follower = Some(Follower {
        distance_mm: 1e4 * size,
        side: FollowerSide::Ahead,
        jaws: [jaw(0.0), jaw(1.5)],
        tip: TipKind::Roller,
        tip_bored_mm: None,
        start_mm: 0.0,
    });
    job
}
