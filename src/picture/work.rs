//! The work: its outside as it is at this moment (cut behind the tool, uncut before it), bores, the finished part
//! inside it, and the features a rest must know of.
//!
//! Threads are drawn after ISO 6410 (thin line at the root), flats with thin diagonals, hidden edges dashed.

use super::profile::Profile;
use super::shapes::group;
use super::{Fill, Item, Line, Part, Path, Role, at};
use crate::job::{CentreHole, FeatureKind, Setup, Shaft};

/// The work in its three states along the bed.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkState {
    /// What is there now.
    pub now: Profile,
    /// The stretch this pass has cut already.
    pub fresh: Option<(f64, f64)>,
    /// What the pass will still take, between this and `now`.
    pub to_cut: Profile,
    /// Holes and bottoms of threads made so far in the job.
    pub holes: Profile,
    pub roots: Profile,
}

/// The stretch of the bed where chuck and headstock lie before the work.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hidden {
    pub from_z_mm: f64,
    pub to_z_mm: f64,
}

impl Hidden {
    /// What can be seen of a stretch: all of it, or what stands out in front of the chuck.
    fn seen(self, from_z_mm: f64, to_z_mm: f64) -> Option<(f64, f64)> {
        if to_z_mm <= self.from_z_mm || from_z_mm >= self.to_z_mm {
            Some((from_z_mm, to_z_mm))
        } else if to_z_mm > self.to_z_mm {
            Some((self.to_z_mm, to_z_mm))
        } else {
            None
        }
    }
}

/// Everything about the work but what holds it.
#[must_use]
pub fn work(shaft: &Shaft, setup: &Setup, state: &WorkState, hidden: Hidden) -> Item {
    let mut items = Vec::new();
    body(&state.now, Role::Steel, &mut items);
    if let Some((from, to)) = state.fresh {
        body(&state.now.between(from, to), Role::Fresh, &mut items);
    }
    body(&state.now.between(f64::NEG_INFINITY, hidden.from_z_mm), Role::BarTail, &mut items);
    removed(&state.now, &state.to_cut, &mut items);
    outline(&state.now, &mut items);
    bores(shaft, setup, &mut items);
    lines_inside(&state.holes, Role::Bore, Line::Dashed, &mut items);
    lines_inside(&state.roots, Role::Feature, Line::Thin, &mut items);
    wanted(shaft, setup, hidden, &mut items);
    features(shaft, setup, &state.now, hidden, &mut items);
    for (hole, s_mm) in [(shaft.centre_hole_a, 0.0), (shaft.centre_hole_b, shaft.length_mm())] {
        let z_mm = setup.z_of_s_mm(shaft, s_mm);
        if hidden.seen(z_mm - 1e-3, z_mm + 1e-3).is_some() {
            centre_hole(setup, hole, z_mm, &mut items);
        }
    }
    if let Some((start, end)) = state.now.ends_mm() {
        let over = 0.6 * state.now.max_radius_mm() + 4.0;
        items.push(
            Path::segment(at(start - over, 0.0), at(end + over, 0.0), Role::CentreLine).lined(Line::Chain).into(),
        );
    }
    group(Part::Work, items)
}

/// The work's hidden outline where chuck and headstock lie before it.
#[must_use]
pub fn hidden_in_headstock(now: &Profile, front_mm: f64, back_mm: f64) -> Item {
    let Some((start, _)) = now.ends_mm() else { return group(Part::Work, Vec::new()) };
    let mut items = Vec::new();
    let inside = now.between(back_mm, front_mm);
    for stretch in &inside.stretches {
        for side in [1.0, -1.0] {
            items.push(
                Path::segment(
                    at(stretch.from_z_mm, side * stretch.start_radius_mm),
                    at(stretch.to_z_mm, side * stretch.end_radius_mm),
                    Role::Steel,
                )
                .lined(Line::Dashed)
                .into(),
            );
        }
    }
    if start > back_mm && start < front_mm {
        let radius = now.radius_at(start);
        items.push(Path::segment(at(start, -radius), at(start, radius), Role::Steel).lined(Line::Dashed).into());
    }
    group(Part::Work, items)
}

fn body(profile: &Profile, role: Role, items: &mut Vec<Item>) {
    for stretch in &profile.stretches {
        let (z0, z1, r0, r1) = (stretch.from_z_mm, stretch.to_z_mm, stretch.start_radius_mm, stretch.end_radius_mm);
        items.push(
            Path::outline([at(z0, r0), at(z1, r1), at(z1, -r1), at(z0, -r0)], role)
                .lined(None)
                .filled(Fill::Solid)
                .into(),
        );
    }
}

fn removed(now: &Profile, to_cut: &Profile, items: &mut Vec<Item>) {
    for stretch in &to_cut.stretches {
        // The old surface is cut at the new one's joints, so that each piece is a plain quadrilateral.
        for old in &now.between(stretch.from_z_mm, stretch.to_z_mm).stretches {
            let new = to_cut.between(old.from_z_mm, old.to_z_mm);
            let Some(new) = new.stretches.first() else { continue };
            if new.start_radius_mm >= old.start_radius_mm && new.end_radius_mm >= old.end_radius_mm {
                continue;
            }
            for side in [1.0, -1.0] {
                items.push(
                    Path::outline(
                        [
                            at(old.from_z_mm, side * old.start_radius_mm),
                            at(old.to_z_mm, side * old.end_radius_mm),
                            at(old.to_z_mm, side * new.end_radius_mm.min(old.end_radius_mm)),
                            at(old.from_z_mm, side * new.start_radius_mm.min(old.start_radius_mm)),
                        ],
                        Role::SteelToCut,
                    )
                    .lined(None)
                    .filled(Fill::Solid)
                    .into(),
                );
            }
        }
    }
}

fn outline(now: &Profile, items: &mut Vec<Item>) {
    for run in now.runs() {
        for side in [1.0, -1.0] {
            let points = run.iter().flat_map(|stretch| {
                [
                    at(stretch.from_z_mm, side * stretch.start_radius_mm),
                    at(stretch.to_z_mm, side * stretch.end_radius_mm),
                ]
            });
            items.push(Path::through(points, Role::Steel).lined(Line::Thick).into());
        }
        let edge = |z_mm: f64, radius_mm: f64, line| {
            Path::segment(at(z_mm, -radius_mm), at(z_mm, radius_mm), Role::Steel).lined(line).into()
        };
        if let (Some(first), Some(last)) = (run.first(), run.last()) {
            items.push(edge(first.from_z_mm, first.start_radius_mm, Line::Thick));
            items.push(edge(last.to_z_mm, last.end_radius_mm, Line::Thick));
        }
        for pair in run.windows(2) {
            let (before, after) = (pair[0].end_radius_mm, pair[1].start_radius_mm);
            let line = if (before - after).abs() > 0.25 { Line::Thick } else { Line::Thin };
            if (before - after).abs() > 0.02 {
                items.push(edge(pair[1].from_z_mm, before.max(after), line));
            }
        }
    }
}

fn bores(shaft: &Shaft, setup: &Setup, items: &mut Vec<Item>) {
    for bore in &shaft.bores {
        let (a, b) = (setup.z_of_s_mm(shaft, bore.from_s_mm), setup.z_of_s_mm(shaft, bore.to_s_mm));
        let (ra, rb) = (bore.start_diameter_mm / 2.0, bore.end_diameter_mm / 2.0);
        for side in [1.0, -1.0] {
            items.push(Path::segment(at(a, side * ra), at(b, side * rb), Role::Bore).lined(Line::Dashed).into());
        }
        for (z_mm, radius, s_mm) in [(a, ra, bore.from_s_mm), (b, rb, bore.to_s_mm)] {
            if s_mm > 0.0 && s_mm < shaft.length_mm() {
                items.push(Path::segment(at(z_mm, -radius), at(z_mm, radius), Role::Bore).lined(Line::Dashed).into());
            }
        }
    }
}

/// Both sides of what lies inside the outline, closed where it begins and ends.
fn lines_inside(inside: &Profile, role: Role, line: Line, items: &mut Vec<Item>) {
    for run in inside.runs() {
        for side in [1.0, -1.0] {
            let points = run.iter().flat_map(|stretch| {
                [
                    at(stretch.from_z_mm, side * stretch.start_radius_mm),
                    at(stretch.to_z_mm, side * stretch.end_radius_mm),
                ]
            });
            items.push(Path::through(points, role).lined(line).into());
        }
        for (z_mm, radius_mm) in [
            run.first().map(|first| (first.from_z_mm, first.start_radius_mm)),
            run.last().map(|last| (last.to_z_mm, last.end_radius_mm)),
        ]
        .into_iter()
        .flatten()
        {
            items.push(Path::segment(at(z_mm, -radius_mm), at(z_mm, radius_mm), role).lined(line).into());
        }
    }
}

fn wanted(shaft: &Shaft, setup: &Setup, hidden: Hidden, items: &mut Vec<Item>) {
    for (from_s, to_s, wanted) in shaft.wanted_spans() {
        let ends = [
            (setup.z_of_s_mm(shaft, from_s), wanted.land.start_diameter_mm / 2.0),
            (setup.z_of_s_mm(shaft, to_s), wanted.land.end_diameter_mm / 2.0),
        ];
        let [(a, ra), (b, rb)] = if ends[0].0 <= ends[1].0 { ends } else { [ends[1], ends[0]] };
        let Some((from, to)) = hidden.seen(a, b) else { continue };
        let radius_at = |z: f64| if b > a { ra + (rb - ra) * (z - a) / (b - a) } else { ra };
        for side in [1.0, -1.0] {
            items.push(
                Path::through(
                    [at(from, 0.0), at(from, side * radius_at(from)), at(to, side * radius_at(to)), at(to, 0.0)],
                    Role::Wanted,
                )
                .lined(Line::Thin)
                .into(),
            );
        }
    }
}

fn features(shaft: &Shaft, setup: &Setup, now: &Profile, hidden: Hidden, items: &mut Vec<Item>) {
    for feature in &shaft.features {
        let (a, b) = (setup.z_of_s_mm(shaft, feature.from_s_mm), setup.z_of_s_mm(shaft, feature.to_s_mm));
        let Some((from, to)) = hidden.seen(a.min(b), a.max(b)) else { continue };
        let middle = f64::midpoint(from, to);
        let radius = now.radius_at(middle);
        let mut lines: Vec<Item> = Vec::new();
        let mut line = |z0: f64, y0: f64, z1: f64, y1: f64, kind| {
            lines.push(Path::segment(at(z0, y0), at(z1, y1), Role::Feature).lined(kind).into());
        };
        match feature.kind {
            FeatureKind::Thread { pitch_mm } => {
                // Root of a 60 degree thread on the drawing: 0.61 of the pitch deep.
                let root = (radius - 0.61 * pitch_mm).max(0.3 * radius);
                for side in [1.0, -1.0] {
                    line(from, side * root, to, side * root, Line::Thin);
                }
                line(from, -radius, from, radius, Line::Thick);
                line(to, -radius, to, radius, Line::Thick);
            }
            FeatureKind::Spline => {
                for share in [0.82, 0.45, 0.0, -0.45, -0.82] {
                    line(from, share * radius, to, share * radius, Line::Thin);
                }
                line(from, -radius, from, radius, Line::Thin);
                line(to, -radius, to, radius, Line::Thin);
            }
            FeatureKind::Flat => {
                let half = 0.75 * radius;
                line(from, -half, to, half, Line::Thin);
                line(from, half, to, -half, Line::Thin);
                for side in [1.0, -1.0] {
                    line(from, side * half, to, side * half, Line::Thin);
                }
                line(from, -half, from, half, Line::Thin);
                line(to, -half, to, half, Line::Thin);
            }
            FeatureKind::Keyway { width_mm, .. } => {
                let half = (width_mm / 2.0).min(radius);
                items.push(Path::rounded(at(from, -half), at(to, half), half, Role::Feature).filled(Fill::Soft).into());
            }
            FeatureKind::CrossHole { diameter_mm } => {
                items.push(Path::circle(at(middle, 0.0), diameter_mm / 2.0, Role::Feature).filled(Fill::Soft).into());
            }
            FeatureKind::Groove { depth_mm } => {
                for side in [1.0, -1.0] {
                    items.push(
                        Path::rect(at(from, side * (radius - depth_mm).max(0.0)), at(to, side * radius), Role::Feature)
                            .filled(Fill::Soft)
                            .into(),
                    );
                }
                line(from, -radius, from, radius, Line::Thin);
                line(to, -radius, to, radius, Line::Thin);
            }
            FeatureKind::Weld => {
                items.push(Path::rect(at(from, -radius), at(to, radius), Role::Feature).filled(Fill::Hatch).into());
            }
            FeatureKind::TrueSpot => {
                items.push(Path::rect(at(from, -radius), at(to, radius), Role::TrueSpot).filled(Fill::Soft).into());
            }
        }
        items.append(&mut lines);
    }
}

fn centre_hole(setup: &Setup, hole: Option<CentreHole>, z_mm: f64, items: &mut Vec<Item>) {
    let Some(hole) = hole else { return };
    let inward = if z_mm > setup.work_start_z_mm { -1.0 } else { 1.0 };
    let (mouth, depth) = centre_hole_size_mm(hole);
    let pilot = hole.pilot_mm / 2.0;
    let points = [
        at(z_mm, mouth),
        at(z_mm + inward * depth, pilot),
        at(z_mm + inward * 2.0 * depth, pilot),
        at(z_mm + inward * 2.0 * depth, -pilot),
        at(z_mm + inward * depth, -pilot),
        at(z_mm, -mouth),
    ];
    items.push(Path::through(points, Role::Bore).lined(Line::Dashed).into());
}

/// Radius of a 60 degree centre hole's mouth, and the depth of its cone.
#[must_use]
pub fn centre_hole_size_mm(hole: CentreHole) -> (f64, f64) {
    let mouth = hole.mouth_radius_mm();
    (mouth, (mouth - hole.pilot_mm / 2.0) / 30f64.to_radians().tan())
}
