//! The plain way to sweep a pass, to measure the quick one against: at every place of the tool the whole work is
//! assembled as a band matrix with four unknowns a node, and factored anew for every set of touching jaws tried.
//!
//! Same elements, same force law, same jaws as the study; straightforward scalar code, as one writes it first.

use midspan::job::{FollowerSide, Job, Pass, Setup};
use midspan::mechanics::beam::Element;
use midspan::mechanics::cut::JawAt;
use midspan::mechanics::cutting::Law;
use midspan::study::force::ForceModel;
use midspan::study::outline::{Outline, Piece, stock_surface};
use midspan::study::prepared::{Prepared, Scene, side_index};

const REACH: usize = 7;

/// A symmetric band matrix, then its factors L·D·Lᵀ in place.
#[derive(Clone)]
struct Band {
    rows: Vec<[f64; REACH + 1]>,
}

impl Band {
    fn add(&mut self, row: usize, column: usize, value: f64) {
        let (row, column) = (row.max(column), row.min(column));
        self.rows[row][REACH + column - row] += value;
    }

    fn factor(&mut self) {
        for row in 0..self.rows.len() {
            let first = row.saturating_sub(REACH);
            for column in first..row {
                let mut sum = self.rows[row][REACH + column - row];
                for k in first.max(column.saturating_sub(REACH))..column {
                    sum -= self.rows[row][REACH + k - row] * self.rows[column][REACH + k - column];
                }
                self.rows[row][REACH + column - row] = sum;
            }
            for column in first..row {
                let scaled = self.rows[row][REACH + column - row];
                let entry = scaled / self.rows[column][REACH];
                self.rows[row][REACH + column - row] = entry;
                self.rows[row][REACH] -= scaled * entry;
            }
        }
    }

    fn solve(&self, x: &mut [f64]) {
        for row in 0..x.len() {
            for column in row.saturating_sub(REACH)..row {
                x[row] -= self.rows[row][REACH + column - row] * x[column];
            }
        }
        for row in (0..x.len()).rev() {
            x[row] /= self.rows[row][REACH];
        }
        for row in (0..x.len()).rev() {
            for column in row.saturating_sub(REACH)..row {
                x[column] -= self.rows[row][REACH + column - row] * x[row];
            }
        }
    }
}

/// One element into the matrix and the loads: `f⁻¹` carried to both ends, axial force, weight.
fn put_element(band: &mut Band, loads: &mut [f64], left: usize, element: &Element) {
    let crossing = element.towards_tailstock();
    let det = crossing.f11 * crossing.f22 - crossing.f12 * crossing.f12;
    let k = [[crossing.f22 / det, -crossing.f12 / det], [-crossing.f12 / det, crossing.f11 / det]];
    let t = [[-1.0, -crossing.step_mm, 1.0, 0.0], [0.0, -1.0, 0.0, 1.0]];
    for plane in 0..2 {
        let at = [0, 1, 4, 5].map(|dof| 4 * left + 2 * plane + dof);
        for i in 0..4 {
            for j in 0..=i {
                let mut sum = 0.0;
                for a in 0..2 {
                    for b in 0..2 {
                        sum += t[a][i] * k[a][b] * t[b][j];
                    }
                }
                band.add(at[i], at[j], sum);
            }
        }
        band.add(at[1], at[1], -crossing.axial_turn);
        band.add(at[3], at[3], -crossing.axial_turn);
    }
    for dof in 0..2 {
        loads[4 * left + 2 + dof] += crossing.start_load[1][dof];
        loads[4 * left + 6 + dof] += crossing.end_load[1][dof];
    }
}

/// Where the tool stands.
struct Tool<'a> {
    node: usize,
    wanted_radius_mm: f64,
    old_radius_mm: f64,
    give_mm_per_n: f64,
    lever_mm: f64,
    law: &'a Law,
}

/// Depth of cut for straight-line movements `u` and `v` in the forces, by Newton within brackets; with it the push.
fn depth(tool: &Tool, u: &[f64; 4], v: &[f64; 4]) -> (f64, [f64; 4]) {
    let at = |line: &[f64; 4], push: &[f64; 4]| line.iter().zip(push).map(|(a, b)| a * b).sum::<f64>();
    let (mut low_mm, mut high_mm) = (0.0, tool.old_radius_mm);
    let mut depth_mm = 0.0;
    for _ in 0..200 {
        let (forces, slope) = tool.law.forces(depth_mm);
        let push = [1.0, forces.radial_n, forces.main_n, tool.lever_mm * forces.feed_n];
        let push_slope = [0.0, slope.radial_n, slope.main_n, tool.lever_mm * slope.feed_n];
        let across = tool.wanted_radius_mm + forces.radial_n * tool.give_mm_per_n + at(u, &push);
        let up = at(v, &push);
        let radius = across.hypot(up);
        let radius_slope =
            (across * (slope.radial_n * tool.give_mm_per_n + at(u, &push_slope)) + up * at(v, &push_slope)) / radius;
        let rest_mm = tool.old_radius_mm - radius - depth_mm;
        if depth_mm == 0.0 && rest_mm <= 0.0 || high_mm - low_mm < 1e-14 {
            return (depth_mm, push);
        }
        if rest_mm > 0.0 {
            low_mm = depth_mm;
        } else {
            high_mm = depth_mm;
        }
        let step_mm = rest_mm / (1.0 + radius_slope);
        if step_mm.abs() < 1e-13 {
            return (depth_mm, push);
        }
        let newton_mm = depth_mm + step_mm;
        depth_mm = if newton_mm > low_mm && newton_mm < high_mm { newton_mm } else { 0.5 * (low_mm + high_mm) };
    }
    (depth_mm, [1.0, 0.0, 0.0, 0.0])
}

/// The depth at one place; `touching` is the set to start from and gets the one that fits.
fn station(
    elements: impl Fn(usize) -> Element,
    prepared: &Prepared,
    jaws: &[(usize, JawAt)],
    tool: &Tool,
    touching: &mut u32,
) -> f64 {
    let n_nodes = prepared.layout.nodes_mm.len();
    let shift = |node: usize, plane: usize| 4 * node + 2 * plane;
    for _ in 0..100 {
        let mut band = Band { rows: vec![[0.0; REACH + 1]; 4 * n_nodes] };
        let mut loads = vec![0.0; 4 * n_nodes];
        for left in 0..n_nodes - 1 {
            put_element(&mut band, &mut loads, left, &elements(left));
        }
        for (node, spring) in &prepared.springs {
            for plane in 0..2 {
                let at = shift(*node, plane);
                band.add(at, at, spring.radial_n_per_mm);
                band.add(at + 1, at + 1, spring.turning_nmm_per_rad);
                loads[at] += spring.radial_n_per_mm * spring.anchor_mm[plane];
            }
        }
        for (node, jaw) in jaws.iter().enumerate().filter(|(i, _)| *touching >> i & 1 == 1).map(|(_, jaw)| jaw) {
            let (x, y, k) = (shift(*node, 0), shift(*node, 1), jaw.k_n_per_mm);
            let [away, up] = jaw.direction;
            band.add(x, x, k * away * away);
            band.add(y, x, k * away * up);
            band.add(y, y, k * up * up);
            loads[x] += k * jaw.gap_mm * away;
            loads[y] += k * jaw.gap_mm * up;
        }
        band.factor();
        let mut answers = vec![loads];
        for at in [shift(tool.node, 0), shift(tool.node, 1), shift(tool.node, 0) + 1] {
            let mut unit = vec![0.0; 4 * n_nodes];
            unit[at] = 1.0;
            answers.push(unit);
        }
        answers.iter_mut().for_each(|answer| band.solve(answer));
        let line = |at: usize| [0, 1, 2, 3].map(|part| answers[part][at]);
        let (depth_mm, push) = depth(tool, &line(shift(tool.node, 0)), &line(shift(tool.node, 1)));
        let mut wrong = 0;
        for (i, (node, jaw)) in jaws.iter().enumerate() {
            let moved = |plane| line(shift(*node, plane)).iter().zip(&push).map(|(a, b)| a * b).sum::<f64>();
            let entry_mm = jaw.direction[0] * moved(0) + jaw.direction[1] * moved(1) - jaw.gap_mm;
            let touches = *touching >> i & 1 == 1;
            if touches && entry_mm < 0.0 || !touches && entry_mm > 1e-14 {
                wrong |= 1 << i;
            }
        }
        if wrong == 0 {
            return depth_mm;
        }
        *touching ^= wrong;
    }
    0.0
}

/// All passes of the first set-up; gives the diameters left at the stations of the last one, in cutting order.
pub fn sweep_all(job: &Job) -> Vec<f64> {
    let setup: &Setup = &job.setups[0];
    let surface = stock_surface(&job.shaft);
    let mut outline = Outline::of(&surface, &job.shaft, setup);
    let scene =
        Scene::new(job, setup, &outline, midspan::study::Fineness::USUAL).expect("the work has a length to bend");
    let material = job.material();
    let mut diameters_mm = Vec::new();
    for pass in &setup.passes {
        let model = ForceModel::new(&material, &setup.tool, pass, 0.0);
        let prepared = scene.prepare(&outline, Some(pass), None);
        let left = sweep_pass(job, setup, pass, &prepared, &model);
        let mut rising = left.clone();
        if pass.feeds_to_headstock() {
            rising.reverse();
        }
        let fresh: Vec<Piece> = (rising.windows(2).filter(|pair| pair[1].0 > pair[0].0))
            .map(|pair| Piece {
                from_z_mm: pair[0].0,
                to_z_mm: pair[1].0,
                diameter_mm: [pair[0].1, pair[1].1],
                dial_mm: [pair[0].2, pair[1].2],
                off_mm: [[0.0; 2]; 2],
            })
            .collect();
        outline = outline.with_fresh(&fresh);
        diameters_mm = left.iter().map(|place| place.1).collect();
    }
    diameters_mm
}

/// How much the fresh surface stands over the dial, on diameter, at a place behind the tool, straight between stations.
fn over_dial_mm(left: &[(f64, f64, f64)], z_mm: f64) -> Option<f64> {
    let over = |place: &(f64, f64, f64)| place.1 - place.2;
    let met = left.iter().position(|(at_mm, ..)| (at_mm - z_mm).abs() < 1e-6);
    if let Some(met) = met {
        return Some(over(&left[met]));
    }
    let pair = left.windows(2).find(|pair| (pair[0].0 - z_mm) * (pair[1].0 - z_mm) < 0.0)?;
    let share = (z_mm - pair[0].0) / (pair[1].0 - pair[0].0);
    Some(over(&pair[0]) + share * (over(&pair[1]) - over(&pair[0])))
}

/// Place, diameter left and dial at every station.
fn sweep_pass(job: &Job, setup: &Setup, pass: &Pass, prepared: &Prepared, model: &ForceModel) -> Vec<(f64, f64, f64)> {
    let to_headstock = pass.feeds_to_headstock();
    let behind = setup.follower.as_ref().is_some_and(|follower| follower.side == FollowerSide::Behind);
    assert!(behind, "this measure rides a follower behind the tool");
    let n_rest_jaws = prepared.jaw_nodes.len();
    let mut touching = 0;
    let mut left: Vec<(f64, f64, f64)> = Vec::new();
    for place in &prepared.layout.places {
        let sizes = &prepared.sizes[place.node][side_index(place.side)];
        let nominal_mm = 0.5 * (sizes.old_dial_mm - sizes.dial_mm);
        let mut jaws: Vec<(usize, JawAt)> =
            (prepared.jaw_nodes.iter().zip(&prepared.jaws)).filter_map(|(node, jaw)| Some(((*node)?, *jaw))).collect();
        if let (Some(node), Some(follower)) = (place.follower, &setup.follower) {
            let z_mm = prepared.layout.nodes_mm[node];
            if let Some(over_mm) = over_dial_mm(&left, z_mm) {
                let lower_mm = 0.5 * (left[0].1 - left[0].2 - over_mm);
                for (jaw, set) in prepared.jaws[n_rest_jaws..].iter().zip(&follower.jaws) {
                    jaws.push((node, JawAt { gap_mm: set.gap_mm + lower_mm, ..*jaw }));
                }
            }
        }
        let lever_mm = 0.5 * (sizes.dial_mm + nominal_mm);
        let tool = Tool {
            node: place.node,
            wanted_radius_mm: 0.5 * sizes.dial_mm,
            old_radius_mm: 0.5 * sizes.old_mm,
            give_mm_per_n: 1.0 / job.lathe.carriage_k_n_per_mm.value_or(1e12),
            lever_mm: if to_headstock { -lever_mm } else { lever_mm },
            law: &model.law(sizes.old_dial_mm, nominal_mm),
        };
        let element = |index: usize| {
            if (index >= place.node) == to_headstock { prepared.finished[index] } else { prepared.old[index] }
        };
        touching &= (1 << jaws.len()) - 1;
        let depth_mm = station(element, prepared, &jaws, &tool, &mut touching);
        left.push((prepared.layout.nodes_mm[place.node], sizes.old_mm - 2.0 * depth_mm, sizes.dial_mm));
    }
    left
}
