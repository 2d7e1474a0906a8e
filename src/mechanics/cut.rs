//! The cut, the spring of the work and the jaws together, at one place of the tool.
//!
//! The tool tip stands at radius `R + s` from the spindle axis (`s`: give of carriage and tool post under the radial
//! force), the work's axis is moved by `(u, v)`. The radius left is `r = √((R + s + u)² + v²)` for a tool at the
//! front (in a bore `s` counts the other way), the real depth `a = |r_old - r|`, and the force follows `a` ([`super::cutting::Law`]): one equation in `a`.
//! For a given set of touching jaws `u` and `v` are straight-line functions of the three forces, so that equation is
//! solved by a bracketed Newton search; then the jaws' signs are looked at ([`super::contact`]) and the set changed
//! until all are right.
//!
//! A jaw also drags: friction moves the work sideways by a share of the jaw's force.
//!
//! Limit: unique where the cut pushes back harder the deeper it is, in every state of contact.

use super::contact::{Factor, Search, Touching, Verdict, rounding_floor};
use super::cutting::{Forces, Law};
use super::held::AtTool;

mod pressed;
mod revolution;
pub use revolution::{Revolution, Turn, circle_through, range_mm};

/// A jaw where it stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JawAt {
    /// Number of the point of [`AtTool`] it bears on.
    pub point: usize,
    /// From the axis to the jaw in the end view: away, up. A unit vector.
    pub direction: [f64; 2],
    /// What the work is pushed against per unit of the jaw's force: `direction`, and the drag of friction, whose
    /// reaction points the way the work's surface turns.
    pub against: [f64; 2],
    /// How far the work's axis must move towards the jaw from the spindle axis to touch it.
    pub gap_mm: f64,
    pub k_n_per_mm: f64,
}

impl JawAt {
    /// A jaw at a watched point; `friction_ratio` of its force drags on the work against its turn (anticlockwise in the
    /// end view), 0 for none.
    #[must_use]
    pub fn new(point: usize, angle_rad: f64, gap_mm: f64, k_n_per_mm: f64, friction_ratio: f64) -> Self {
        let direction = [angle_rad.cos(), angle_rad.sin()];
        let against = [direction[0] - friction_ratio * direction[1], direction[1] + friction_ratio * direction[0]];
        Self { point, direction, against, gap_mm, k_n_per_mm }
    }
}

/// The tool where it stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToolAt {
    /// Radius the dial says.
    pub wanted_radius_mm: f64,
    /// Radius of the work before the cut.
    pub old_radius_mm: f64,
    /// Give of carriage and tool post per radial force.
    pub carriage_mm_per_n: f64,
    /// +1 for a tool at the front, -1 at the rear.
    pub side: f64,
    /// Moment on the work per unit feed force, with its sign: minus the radius for a front tool fed to the headstock.
    pub feed_lever_mm: f64,
    /// The tool stands in a bore and cuts its wall, the one on its own side: it pushes the work towards itself, and
    /// both radii are those of the bore.
    pub inside: bool,
}

/// What comes out.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct CutState {
    /// Radial depth really taken.
    pub depth_mm: f64,
    pub radius_left_mm: f64,
    pub forces: Forces,
    /// The work's axis at the tool: away, up.
    pub spring_mm: [f64; 2],
    /// Largest violation of the equations.
    pub residual_mm: f64,
    /// False where thrust buckles the work, whatever jaws touch.
    pub held: bool,
    /// False where a search was stopped at its limit, or more than one set of jaws was found to fit.
    pub solved: bool,
}

/// Room for the numbers of one place, used again at the next; keeps the contact set as the next one's start.
#[derive(Clone, Debug, Default)]
pub struct Workbench {
    /// Jaws that touch; the last answer, and the next start.
    pub touching: Touching,
    /// Force of every jaw.
    pub jaw_force_n: Vec<f64>,
    /// Clearance of every jaw, 0 where it touches.
    pub jaw_gap_mm: Vec<f64>,
    /// What the tool does to the work: force away, force up, moment in the horizontal plane.
    pub push: [f64; 3],
    /// Sides of the work and the radius left there, one for every angle of the last turn.
    pub turn_mm: Vec<(f64, f64)>,
    /// What stands out of the least-squares circle at each of these sides.
    pub out_mm: Vec<f64>,
    /// What each jaw's newton presses back at all jaws, jaw after jaw; of those that have touched at this place.
    columns: Vec<f64>,
    has_column: Vec<bool>,
    /// Where the work lies at the tool with no jaw touching and no cut.
    free_mm: [f64; 2],
    /// What presses each jaw in: free work, per unit tool force away, per unit up, per unit moment.
    pressed: Vec<Affine>,
    /// Forces of the touching jaws for each of these.
    answers: Vec<Affine>,
    factor: Factor,
    /// The set `factor` belongs to, while the place is the same.
    factored: Touching,
    is_factored: bool,
}

/// A Newton step below this is the last, where no more is left over than [`NEWTON_REST_MM`]: what it leaves is its square.
const NEWTON_END_MM: f64 = 5e-9;

/// Of work that all but swings the least chip moves the tool's place a long way: a small step may leave much.
const NEWTON_REST_MM: f64 = 1e-6;

/// An answer that misses its equations by more than a tenth of the finest figure shown, 0.1 um, is not one. Work that all
/// but swings on its holding costs so many digits, and jaws pressed against each other harder than any jaw could stand.
const MOST_RESIDUAL_MM: f64 = 1e-5;

/// Clearances wider than this are no measure of rounding.
const NEAR_MM: f64 = 1e6;

/// One set of touching jaws tried.
struct Tried {
    /// False where the set has no answer.
    sound: bool,
    /// Clearances below this are rounding.
    floor_mm: f64,
    /// Spring at the tool in the tool forces: away, up.
    lines: [Affine; 2],
}

/// Whether a touching jaw pulls, or the work has entered an open one.
fn is_wrong(touches: bool, force_n: f64, gap_mm: f64, floor_mm: f64) -> bool {
    if touches { force_n < 0.0 } else { gap_mm < -floor_mm }
}

/// How far a push against one direction counts along another.
fn opposed(direction: [f64; 2], against: [f64; 2]) -> f64 {
    direction[0] * against[0] + direction[1] * against[1]
}

/// A line in the three tool forces: `[free, per away, per up, per moment]`.
type Affine = [f64; 4];

fn at(line: &Affine, push: &[f64; 3]) -> f64 {
    line[0] + line[1] * push[0] + line[2] * push[1] + line[3] * push[2]
}

fn along(line: &Affine, push: &[f64; 3]) -> f64 {
    line[1] * push[0] + line[2] * push[1] + line[3] * push[2]
}

impl ToolAt {
    /// +1 on the outside, -1 in a bore: which way the radial force, and the real depth, count on the radius.
    #[inline]
    fn outward(&self) -> f64 {
        if self.inside { -1.0 } else { 1.0 }
    }

    /// The forces as a push away, a push up and a moment in the horizontal plane.
    #[inline]
    fn push(&self, forces: &Forces) -> [f64; 3] {
        [self.side * self.outward() * forces.radial_n, self.side * forces.main_n, self.feed_lever_mm * forces.feed_n]
    }

    /// Tries a depth: the radius left, its change per mm of depth, the forces and theirs.
    #[inline]
    fn try_depth(&self, law: &Law, depth_mm: f64, u: &Affine, v: &Affine) -> Trial {
        let (forces, per_mm) = law.forces(depth_mm);
        let (push, push_per_mm) = (self.push(&forces), self.push(&per_mm));
        let give_mm_per_n = self.outward() * self.carriage_mm_per_n;
        let across = self.wanted_radius_mm + forces.radial_n * give_mm_per_n + self.side * at(u, &push);
        let across_per_mm = per_mm.radial_n * give_mm_per_n + self.side * along(u, &push_per_mm);
        let (up, up_per_mm) = (at(v, &push), along(v, &push_per_mm));
        let radius_mm = (across * across + up * up).sqrt();
        Trial { radius_mm, radius_per_mm: (across * across_per_mm + up * up_per_mm) / radius_mm, forces, per_mm }
    }

    /// The real depth: root of `r_old - r(a) - a` (in a bore of `r(a) - r_old - a`), or 0 where the tool does not reach
    /// the work.
    fn real_depth(&self, law: &Law, start_mm: f64, u: &Affine, v: &Affine) -> Depth {
        let outward = self.outward();
        let most_mm = if self.inside { self.old_radius_mm + self.wanted_radius_mm } else { self.old_radius_mm };
        let (mut low_mm, mut high_mm) = (0.0, most_mm);
        let mut depth_mm = if start_mm > 0.0 && start_mm < high_mm { start_mm } else { 0.0 };
        let floor_mm = 4.0 * f64::EPSILON * self.old_radius_mm;
        for _ in 0..100 {
            let trial = self.try_depth(law, depth_mm, u, v);
            let rest_mm = outward * (self.old_radius_mm - trial.radius_mm) - depth_mm;
            let found = |step_mm: f64| Depth {
                depth_mm: depth_mm + step_mm,
                forces: trial.forces.moved(&trial.per_mm, step_mm),
                ended: true,
            };
            if rest_mm.is_nan() {
                break;
            }
            if depth_mm == 0.0 && rest_mm <= 0.0 {
                return found(0.0);
            }
            let step_mm = rest_mm / (1.0 + outward * trial.radius_per_mm);
            let newton_mm = depth_mm + step_mm;
            let small = step_mm.abs() < NEWTON_END_MM && rest_mm.abs() < NEWTON_REST_MM;
            if depth_mm > 0.0 && newton_mm > 0.0 && small || rest_mm.abs() <= floor_mm {
                return found(if newton_mm > 0.0 { step_mm } else { 0.0 });
            }
            if rest_mm > 0.0 {
                low_mm = depth_mm;
            } else {
                high_mm = depth_mm;
            }
            if high_mm - low_mm <= 4.0 * f64::EPSILON * high_mm {
                return found(0.0);
            }
            depth_mm = if newton_mm > low_mm && newton_mm < high_mm {
                newton_mm
            } else if low_mm == 0.0 && depth_mm > 0.0 && high_mm < 1e-6 * self.old_radius_mm {
                0.0
            } else {
                0.5 * (low_mm + high_mm)
            };
        }
        Depth::default()
    }
}

/// One depth tried.
struct Trial {
    radius_mm: f64,
    radius_per_mm: f64,
    forces: Forces,
    per_mm: Forces,
}

/// The depth found.
#[derive(Default)]
struct Depth {
    depth_mm: f64,
    forces: Forces,
    ended: bool,
}

impl Workbench {
    /// Solves one place. `tool` `None` is the tool drawn back. `start_depth_mm` is a guess (0 for none). Leaves jaw
    /// forces, gaps and the contact set in `self`.
    pub fn solve(
        &mut self,
        at_tool: &AtTool,
        jaws: &[JawAt],
        tool: Option<(&ToolAt, &Law)>,
        start_depth_mm: f64,
    ) -> CutState {
        self.lay_out(at_tool, jaws);
        self.settle(at_tool, jaws, tool, start_depth_mm)
    }

    /// Finds depth, jaw forces and contact set for what is laid out, beginning with the set there is.
    fn settle(
        &mut self,
        at_tool: &AtTool,
        jaws: &[JawAt],
        tool: Option<(&ToolAt, &Law)>,
        start_depth_mm: f64,
    ) -> CutState {
        if at_tool.n_lost > 0 {
            return self.settle_pressed(at_tool, jaws, tool, start_depth_mm);
        }
        let mut search = Search::new(jaws.len());
        let mut state = CutState { depth_mm: start_depth_mm, ..CutState::default() };
        loop {
            let tried = self.try_set(at_tool, jaws, tool, &mut state);
            let (forces, gaps) = (&self.jaw_force_n, &self.jaw_gap_mm);
            let verdict = search
                .step(&mut self.touching, |jaw, touches| is_wrong(touches, forces[jaw], gaps[jaw], tried.floor_mm));
            if verdict == Verdict::Again && tried.sound {
                continue;
            }
            return self.finish(tool, &tried, verdict == Verdict::Done, state);
        }
    }

    /// Solves with the touching jaws as they are; `state` brings a guess of the depth and takes what is found.
    fn try_set(
        &mut self,
        at_tool: &AtTool,
        jaws: &[JawAt],
        tool: Option<(&ToolAt, &Law)>,
        state: &mut CutState,
    ) -> Tried {
        let mut sound = self.is_factored && self.factored == self.touching;
        if !sound {
            self.put_columns(at_tool, jaws);
            let entry = |row: usize, column: usize| self.columns[column * jaws.len() + row];
            sound = if at_tool.n_lost > 0 {
                self.factor.factor_of_any_sign(entry, &self.touching)
            } else {
                self.factor.factor(entry, &self.touching)
            };
            self.is_factored = sound;
            self.factored.clone_from(&self.touching);
        }
        self.answers.clear();
        if sound {
            self.factor.solve(&self.pressed, &mut self.answers);
        }
        let lines = self.spring_lines(at_tool, jaws);
        let [u, v] = &lines;
        let mut push = [0.0; 3];
        if let Some((tool, law)) = tool {
            let depth = tool.real_depth(law, state.depth_mm, u, v);
            sound &= depth.ended;
            state.depth_mm = depth.depth_mm;
            state.radius_left_mm = tool.old_radius_mm - tool.outward() * depth.depth_mm;
            state.forces = depth.forces;
            push = tool.push(&state.forces);
        }
        state.spring_mm = [at(u, &push), at(v, &push)];
        self.push = push;
        let floor_mm = self.put_forces();
        Tried { sound, floor_mm, lines }
    }

    /// Whether the set just tried has an answer in which no touching jaw pulls and the work has entered no open one.
    fn is_right(&self, tried: &Tried) -> bool {
        let wrong =
            |jaw| is_wrong(self.touching.contains(jaw), self.jaw_force_n[jaw], self.jaw_gap_mm[jaw], tried.floor_mm);
        tried.sound && !(0..self.jaw_force_n.len()).any(wrong)
    }

    /// Says how well the last set tried keeps its equations; `right` where it is the one that fits.
    fn finish(&mut self, tool: Option<(&ToolAt, &Law)>, tried: &Tried, right: bool, mut state: CutState) -> CutState {
        let rest_mm = match tool {
            Some((tool, law)) if state.depth_mm > 0.0 => {
                let radius_mm = tool.try_depth(law, state.depth_mm, &tried.lines[0], &tried.lines[1]).radius_mm;
                tool.outward() * (tool.old_radius_mm - radius_mm) - state.depth_mm
            }
            _ => 0.0,
        };
        state.residual_mm = self.clear_touching_gaps(rest_mm.abs());
        // A clearance that is no number passes every comparison above.
        let sound = tried.sound && self.jaw_gap_mm.iter().all(|gap_mm| gap_mm.is_finite());
        state.held = true;
        state.solved = right && sound && state.residual_mm <= MOST_RESIDUAL_MM;
        state
    }

    /// Sets the clearance of touching jaws to 0; gives the largest violation found, or `residual_mm` if that is larger.
    fn clear_touching_gaps(&mut self, residual_mm: f64) -> f64 {
        let mut largest_mm = residual_mm;
        for (jaw, gap_mm) in self.jaw_gap_mm.iter_mut().enumerate() {
            let touches = self.touching.contains(jaw);
            largest_mm = largest_mm.max(if touches { gap_mm.abs() } else { -*gap_mm });
            if touches || *gap_mm < 0.0 {
                *gap_mm = 0.0;
            }
        }
        largest_mm
    }

    /// Where a point of the work lies with the forces found last, that lies at `free_mm` without them: away, up.
    #[must_use]
    pub fn point_mm(&self, at_tool: &AtTool, jaws: &[JawAt], point: usize, free_mm: [f64; 2]) -> [f64; 2] {
        let watched = &at_tool.points[point];
        let push = &self.push;
        let mut place = free_mm;
        place[0] += watched.per_force * push[0] + watched.per_moment * push[2];
        place[1] += watched.per_force * push[1];
        for (jaw, force_n) in jaws.iter().zip(&self.jaw_force_n) {
            let reach = at_tool.between(point, jaw.point) * force_n;
            place[0] -= reach * jaw.against[0];
            place[1] -= reach * jaw.against[1];
        }
        place
    }

    /// Movement of the work at the tool along the push found last for each newton of it, with the jaws that touch (mm/N);
    /// 0 where nothing pushes.
    #[must_use]
    pub fn give_along_push(&self, at_tool: &AtTool, jaws: &[JawAt]) -> f64 {
        let [away_n, up_n, moment_nmm] = self.push;
        let push2 = away_n * away_n + up_n * up_n;
        if push2 <= 0.0 {
            return 0.0;
        }
        let grows = [0.0, away_n, up_n, moment_nmm];
        let [u, v] = self.spring_lines(at_tool, jaws);
        let along_line = |line: &Affine| (1..4).map(|part| line[part] * grows[part]).sum::<f64>();
        (along_line(&u) * away_n + along_line(&v) * up_n) / push2
    }

    /// Fills the right sides; columns come with the jaws that touch.
    fn lay_out(&mut self, at_tool: &AtTool, jaws: &[JawAt]) {
        let n = jaws.len();
        if self.touching.n_jaws() != n {
            self.touching = Touching::none(n);
        }
        self.columns.resize(n * n, 0.0);
        self.has_column.clear();
        self.has_column.resize(n, false);
        self.jaw_force_n.resize(n, 0.0);
        self.jaw_gap_mm.resize(n, 0.0);
        self.pressed.clear();
        self.is_factored = false;
        self.free_mm = at_tool.free_mm;
        self.pressed.extend(jaws.iter().map(|jaw| {
            let point = &at_tool.points[jaw.point];
            let [away, up] = jaw.direction;
            [
                away * point.free_mm[0] + up * point.free_mm[1] - jaw.gap_mm,
                away * point.per_force,
                up * point.per_force,
                away * point.per_moment,
            ]
        }));
    }

    /// Columns of the jaws that touch, where they are not there yet.
    fn put_columns(&mut self, at_tool: &AtTool, jaws: &[JawAt]) {
        for touching in self.touching.iter() {
            if std::mem::replace(&mut self.has_column[touching], true) {
                continue;
            }
            let own = &jaws[touching];
            let column = &mut self.columns[touching * jaws.len()..][..jaws.len()];
            for (entry, jaw) in column.iter_mut().zip(jaws) {
                *entry = opposed(jaw.direction, own.against) * at_tool.between(jaw.point, own.point);
            }
            column[touching] += 1.0 / own.k_n_per_mm;
        }
    }

    /// Spring at the tool as lines in the tool forces, for the contact set of the last factor.
    fn spring_lines(&self, at_tool: &AtTool, jaws: &[JawAt]) -> [Affine; 2] {
        let compliance = &at_tool.compliance;
        let mut u = [self.free_mm[0], compliance.a11, 0.0, compliance.a12];
        let mut v = [self.free_mm[1], 0.0, compliance.a11, 0.0];
        for (&jaw, answer) in self.factor.jaws().iter().zip(&self.answers) {
            let jaw = &jaws[jaw];
            let per_force = at_tool.points[jaw.point].per_force;
            let (away, up) = (jaw.against[0] * per_force, jaw.against[1] * per_force);
            for part in 0..4 {
                u[part] -= away * answer[part];
                v[part] -= up * answer[part];
            }
        }
        [u, v]
    }

    /// Jaw forces, and clearances: for a touching jaw what is left of its equation, otherwise negative where the work
    /// is inside the jaw. Gives the size below which a clearance is rounding.
    fn put_forces(&mut self) -> f64 {
        let n = self.jaw_force_n.len();
        let mut largest_mm: f64 = 0.0;
        self.jaw_force_n.fill(0.0);
        self.jaw_gap_mm.fill(0.0);
        for (&jaw, answer) in self.factor.jaws().iter().zip(&self.answers) {
            let force_n = at(answer, &self.push);
            self.jaw_force_n[jaw] = force_n;
            for (gap_mm, given_back) in self.jaw_gap_mm.iter_mut().zip(&self.columns[jaw * n..]) {
                *gap_mm += given_back * force_n;
            }
        }
        for (gap_mm, pressed) in self.jaw_gap_mm.iter_mut().zip(&self.pressed) {
            let pressed_in_mm = at(pressed, &self.push);
            *gap_mm -= pressed_in_mm;
            if pressed_in_mm > -NEAR_MM {
                largest_mm = largest_mm.max(pressed_in_mm.abs());
            }
        }
        rounding_floor(largest_mm)
    }
}
