//! Receptance: how far the work moves at the tool under a swinging unit force there, at every place of the tool.
//!
//! With structural damping `D = (1 + iη) K - P - ω² M` (η twice the damping ratio, on work, springs and jaws alike).
//! Divided by `1 + iη` that is the static stiffness with a complex inertia, so one walk from either end with complex
//! numbers condenses the work on both sides of every place, as in [`super::held`]; joined there, they give the answer for
//! a cost like that of the sweep. Jaws are put in afterwards, `G - Gₜ N (diag(1/k) + Nᵀ G N)⁻¹ Nᵀ Gₜ`, and couple the
//! two planes. Four frequencies go through a walk together.
//!
//! Limit: the damping is stated, not known; jaws go on touching.

use std::f64::consts::PI;

use super::beam::Element;
use super::chain::{JawSpring, NodeBlock, Row, Span, State, Watched, applied, dot, own_row, principal};
use super::mass::NodeMass;
use super::number::{Complex, Lanes, Number};
use super::receptance_walk::{SIDE_BY_SIDE, Seen, Several, Way};
use super::walk::NodeSpring;
use super::wide::widely;

/// The work in which the tool travels.
#[derive(Clone, Copy, Debug)]
pub struct Travel<'a> {
    /// The elements as they are on the headstock side of the tool, and their masses at both nodes.
    pub front: &'a [Element],
    pub front_masses: &'a [[NodeMass; 2]],
    /// As they are on the tailstock side of it.
    pub back: &'a [Element],
    pub back_masses: &'a [[NodeMass; 2]],
    /// Springs at nodes, in any order.
    pub springs: &'a [(usize, NodeSpring)],
    /// Nodes of the steady rests, rising, each once.
    pub rest_nodes: &'a [usize],
    /// Places of the tool, rising.
    pub stops: &'a [Stop],
}

/// A place of the tool.
#[derive(Clone, Debug, PartialEq)]
pub struct Stop {
    pub node: usize,
    /// The jaws that touch: at nodes of the rests, and at one other node (the follower's) at most.
    pub jaws: Vec<JawSpring>,
}

/// What the work does at the tool, in mm per N of a force or per N·mm of a moment in the horizontal plane.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Receptance {
    /// Away, per force away.
    pub xx: Complex,
    /// Away per force up, and up per force away.
    pub xy: Complex,
    /// Up, per force up.
    pub yy: Complex,
    /// Away, per moment.
    pub x_per_moment: Complex,
    /// Up, per moment.
    pub y_per_moment: Complex,
}

/// Gives the receptance at every stop for every frequency to `take(stop, frequency, receptance)`, both counted from 0.
pub fn receptances(
    travel: &Travel,
    frequencies_hz: &[f64],
    damping_ratio: f64,
    take: impl FnMut(usize, usize, &Receptance),
) {
    Line::of(travel).receptances(frequencies_hz, damping_ratio, take);
}

/// How closely frequencies lie about natural ones.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Comb {
    /// Between two of them, in damping ratios.
    pub step_ratio: f64,
    /// As far as that either way, in damping ratios.
    pub close_ratio: f64,
    /// On from there, wider and wider, as far as this share of the frequency.
    pub reach_ratio: f64,
}

impl Comb {
    /// Where a curve is wanted.
    pub const FINE: Self = Self { step_ratio: 0.25, close_ratio: 2.0, reach_ratio: 0.0 };
}

/// Frequencies at which a receptance is worth knowing, rising: about each stretch of natural frequencies (lowest and
/// highest along the travel).
///
/// The real part is least at a share of one damping ratio above a natural frequency, or as far below it where the swing
/// moves the edge against the force.
#[must_use]
pub fn frequencies_near_hz(natural_hz: &[[f64; 2]], damping_ratio: f64, comb: &Comb) -> Vec<f64> {
    let Comb { step_ratio, close_ratio, reach_ratio } = *comb;
    let mut frequencies_hz = Vec::new();
    for [low_hz, high_hz] in natural_hz {
        let near_step_hz = step_ratio * damping_ratio.max(1e-4) * low_hz;
        let first_hz = low_hz * (1.0 - close_ratio * damping_ratio).max(0.1);
        let (mut at_hz, mut step_hz) = (first_hz, near_step_hz);
        while at_hz < high_hz * (1.0 + close_ratio * damping_ratio) {
            frequencies_hz.push(at_hz);
            at_hz += step_hz;
        }
        while at_hz < high_hz * (1.0 + reach_ratio) {
            frequencies_hz.push(at_hz);
            step_hz *= 1.3;
            at_hz += step_hz;
        }
        (at_hz, step_hz) = (first_hz - near_step_hz, near_step_hz);
        while at_hz > (low_hz * (1.0 - reach_ratio)).max(0.0) {
            frequencies_hz.push(at_hz);
            step_hz *= 1.3;
            at_hz -= step_hz;
        }
    }
    frequencies_hz.sort_by(f64::total_cmp);
    frequencies_hz.dedup_by(|later, earlier| *later - *earlier < 0.1 * damping_ratio * *earlier);
    frequencies_hz
}

/// A stop with its springs put to points.
struct StopAt {
    block: NodeBlock,
    points: Vec<Point>,
    /// Number among the points, and the spring.
    springs: Vec<(usize, JawSpring)>,
}

/// A watched point as a stop knows it.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Point {
    /// By number from the headstock.
    Rest(usize),
    Follower,
}

/// The work and the stops of the tool in it, ready to be asked at any frequency.
pub struct Line {
    forward: Way,
    backward: Way,
    n_rests: usize,
    stops: Vec<StopAt>,
    seen: [Vec<Seen>; 2],
    room: Room,
}

/// Room for the points and the factor of the jaws.
#[derive(Default)]
struct Room {
    /// How each point moves per unit force and per unit moment at the tool.
    per: Vec<Row<Several>>,
    /// What the points answer each other: packed lower triangle.
    between: Vec<Several>,
    lower: Vec<Several>,
    one_by_pivot: Vec<Several>,
    pressed: Vec<[Several; 3]>,
}

impl Line {
    /// Makes the work ready.
    #[must_use]
    pub fn of(travel: &Travel) -> Self {
        let last = travel.front.len();
        let mut from_springs = vec![NodeBlock::default(); last + 1];
        for (node, spring) in travel.springs {
            from_springs[*node].add_spring(spring);
        }
        let mass = |masses: &[[NodeMass; 2]], index: usize| masses.get(index).copied().unwrap_or_default();
        let with = |block: &mut NodeBlock, elements: &[Element], masses: &[[NodeMass; 2]], index: usize, end: usize| {
            if let Some(element) = elements.get(index) {
                block.add_element_end(element, mass(masses, index)[end]);
            }
        };
        let (front, back) = ((travel.front, travel.front_masses), (travel.back, travel.back_masses));
        let block = |node: usize, before: (&[Element], &[[NodeMass; 2]]), after: (&[Element], &[[NodeMass; 2]])| {
            let mut block = from_springs[node];
            if node > 0 {
                with(&mut block, before.0, before.1, node - 1, 1);
            }
            with(&mut block, after.0, after.1, node, 0);
            block
        };

        let mut stops = Vec::new();
        let mut followers = [Vec::new(), Vec::new()];
        for (index, stop) in travel.stops.iter().enumerate() {
            let mut at = StopAt { block: block(stop.node, front, back), points: Vec::new(), springs: Vec::new() };
            let mut nodes = Vec::new();
            for spring in principal(&stop.jaws) {
                if nodes.last() != Some(&spring.node) {
                    nodes.push(spring.node);
                    let rest = travel.rest_nodes.iter().position(|node| *node == spring.node);
                    at.points.push(rest.map_or(Point::Follower, Point::Rest));
                    if rest.is_none() {
                        let behind = usize::from(spring.node > stop.node);
                        let step = if behind == 1 { last - spring.node } else { spring.node };
                        followers[behind].push((step, index));
                    }
                }
                at.springs.push((nodes.len() - 1, spring));
            }
            stops.push(at);
        }
        let [mut fore_followers, mut aft_followers] = followers;
        fore_followers.sort_unstable();
        aft_followers.sort_unstable();
        let steps = || travel.stops.iter().enumerate().map(|(index, stop)| (stop.node, index));
        let mut aft_stops: Vec<_> = steps().map(|(node, index)| (last - node, index)).collect();
        aft_stops.reverse();
        aft_stops.sort_by_key(|(step, _)| *step);
        let mut fore_stops: Vec<_> = steps().collect();
        fore_stops.sort_by_key(|(step, _)| *step);
        let nothing = Seen { state: State::nothing(), watched: Watched::none(), follower: None };
        let seen = vec![nothing; travel.stops.len()];
        Self {
            forward: Way {
                spans: travel.front.iter().map(|element| Span::of(&element.towards_tailstock())).collect(),
                blocks: (0..=last).map(|node| block(node, front, front)).collect(),
                rests: travel.rest_nodes.to_vec(),
                stops: fore_stops,
                followers: fore_followers,
                own_node: true,
            },
            backward: Way {
                spans: travel.back.iter().rev().map(|element| Span::of(&element.towards_headstock())).collect(),
                blocks: (0..=last).rev().map(|node| block(node, back, back)).collect(),
                rests: travel.rest_nodes.iter().rev().map(|node| last - node).collect(),
                stops: aft_stops,
                followers: aft_followers,
                own_node: false,
            },
            n_rests: travel.rest_nodes.len(),
            stops,
            seen: [seen.clone(), seen],
            room: Room::default(),
        }
    }

    /// As [`receptances`].
    pub fn receptances(
        &mut self,
        frequencies_hz: &[f64],
        damping_ratio: f64,
        mut take: impl FnMut(usize, usize, &Receptance),
    ) {
        let loss_ratio = 2.0 * damping_ratio;
        let one_by = Complex { re: 1.0, im: loss_ratio }.inverse();
        let g = Several { re: Lanes::of(one_by.re), im: Lanes::of(one_by.im) };
        for (group, chunk) in frequencies_hz.chunks(SIDE_BY_SIDE).enumerate() {
            let omega2 = Lanes(std::array::from_fn(|lane| {
                let frequency_hz = chunk.get(lane).or(chunk.last()).copied().unwrap_or(0.0);
                (2.0 * PI * frequency_hz).powi(2)
            }));
            let z = Several { re: omega2.times(one_by.re), im: omega2.times(one_by.im) };
            widely(
                #[inline(always)]
                || self.walk(z, g),
            );
            for stop in 0..self.stops.len() {
                let answer = widely(
                    #[inline(always)]
                    || self.join(stop, z, g).map(|part| part * g),
                );
                for lane in 0..chunk.len() {
                    let [xx, xy, yy, x_per_moment, y_per_moment] =
                        answer.map(|part| Complex { re: part.re.0[lane], im: part.im.0[lane] });
                    let receptance = Receptance { xx, xy, yy, x_per_moment, y_per_moment };
                    take(stop, group * SIDE_BY_SIDE + lane, &receptance);
                }
            }
        }
    }

    #[inline(always)]
    fn walk(&mut self, z: Several, g: Several) {
        let [fore, aft] = &mut self.seen;
        self.forward.walk(z, g, fore);
        self.backward.walk(z, g, aft);
    }

    /// Which walk saw a point, and under which number; the follower has none.
    #[inline(always)]
    fn seen_by(&self, stop: usize, point: Point) -> (usize, Option<usize>) {
        let n_fore = self.seen[0][stop].watched.rows.len();
        match point {
            Point::Rest(rest) if rest < n_fore => (0, Some(rest)),
            Point::Rest(rest) => (1, Some(self.n_rests - 1 - rest)),
            Point::Follower => (usize::from(self.seen[0][stop].follower.is_none()), None),
        }
    }

    #[inline(always)]
    fn row(&self, stop: usize, (side, met): (usize, Option<usize>)) -> Row<Several> {
        let seen = &self.seen[side][stop];
        match met {
            Some(met) => seen.watched.rows[met],
            None => seen.follower.as_ref().map_or_else(own_row, |near| near.row),
        }
    }

    /// What two points answer each other on their own side of the tool.
    #[inline(always)]
    fn same_side(&self, stop: usize, a: (usize, Option<usize>), b: (usize, Option<usize>)) -> Several {
        if a.0 != b.0 {
            return Several::of(0.0);
        }
        let seen = &self.seen[a.0][stop];
        let near = |with: Option<usize>| {
            seen.follower.as_ref().map_or(Several::of(0.0), |near| with.map_or(near.own, |met| near.with_rests[met]))
        };
        match (a.1, b.1) {
            (Some(a), Some(b)) => {
                let (high, low) = (a.max(b), a.min(b));
                seen.watched.between[high * (high + 1) / 2 + low]
            }
            (met, None) | (None, met) => near(met),
        }
    }

    /// xx, xy, yy, x per moment, y per moment at a stop.
    #[inline(always)]
    fn join(&mut self, stop: usize, z: Several, g: Several) -> [Several; 5] {
        let at = &self.stops[stop];
        let state = self.seen[0][stop].state.plus(&self.seen[1][stop].state).with_block(&at.block, z, g);
        let give = state.inverse();
        let zero = Several::of(0.0);
        let mut answer = [give[0], zero, give[0], give[1], zero];
        if at.springs.is_empty() {
            return answer;
        }
        let mut room = std::mem::take(&mut self.room);
        self.see_points(stop, &give, &mut room);
        room.factor(&self.stops[stop].springs, &mut answer);
        self.room = room;
        answer
    }

    /// What the points of a stop do under the tool and to each other.
    #[inline(always)]
    fn see_points(&self, stop: usize, give: &[Several; 3], room: &mut Room) {
        room.per.clear();
        room.between.clear();
        let points = &self.stops[stop].points;
        for (index, point) in points.iter().enumerate() {
            let who = self.seen_by(stop, *point);
            let per = applied(give, self.row(stop, who));
            room.per.push(per);
            for other in &points[..=index] {
                let other = self.seen_by(stop, *other);
                room.between.push(dot(per, self.row(stop, other)) + self.same_side(stop, who, other));
            }
        }
    }
}

impl Room {
    /// Takes off the answer what the springs give back: `L D Lᵀ` of `diag(1/k) + Nᵀ G N`, and the squares of `L⁻¹ Nᵀ Gₜ`
    /// over D. No pivoting: with damping the imaginary part has one sign.
    #[inline(always)]
    fn factor(&mut self, springs: &[(usize, JawSpring)], answer: &mut [Several; 5]) {
        let (zero, n) = (Several::of(0.0), springs.len());
        self.lower.clear();
        self.lower.resize(n * n, zero);
        self.pressed.clear();
        self.one_by_pivot.clear();
        for (i, (point, spring)) in springs.iter().enumerate() {
            let [per_force, per_moment] = self.per[*point];
            let [away, up] = spring.direction;
            let mut own = [per_force.times(away), per_force.times(up), per_moment.times(away)];
            let mut pivot = self.between[point * (point + 3) / 2] + Several::of(1.0 / spring.k_n_per_mm);
            for (j, (other_point, other)) in springs[..i].iter().enumerate() {
                let mut value = zero;
                // Springs at one point stand at right angles.
                if other_point != point {
                    let facing = away * other.direction[0] + up * other.direction[1];
                    value = self.between[point * (point + 1) / 2 + other_point].times(facing);
                }
                for k in 0..j {
                    // An entry holds its pivot; over it on one side.
                    value = value - self.lower[i * n + k] * self.lower[j * n + k] * self.one_by_pivot[k];
                }
                let share = value * self.one_by_pivot[j];
                for (own, known) in own.iter_mut().zip(self.pressed[j]) {
                    *own = *own - share * known;
                }
                pivot = pivot - share * value;
                self.lower[i * n + j] = value;
            }
            let one_by = pivot.inverse();
            let [x, y, moment] = own;
            let (over_x, over_y) = (x * one_by, y * one_by);
            answer[0] = answer[0] - over_x * x;
            answer[1] = answer[1] - over_x * y;
            answer[2] = answer[2] - over_y * y;
            answer[3] = answer[3] - over_x * moment;
            answer[4] = answer[4] - over_y * moment;
            self.one_by_pivot.push(one_by);
            self.pressed.push(own);
        }
    }
}
