//! Rests tried in many places without a sweep: tables of the work without its rests, one a pass, and the very contact and
//! cut of the sweep on what they give ([`crate::mechanics::influence`]).
//!
//! What a pass finds is carried stop by stop, so real depth, errors copied from pass to pass, a follower on the fresh
//! surface, gaps, friction and rests set to the work are all in it. One thing is not: the *stiffness* of what an earlier
//! pass left is that of the reference result the board was made from, which matters by some four times error over
//! diameter. With rests where the reference has them, and for the first pass anywhere, a board says what the sweep says
//! on the same mesh, to rounding (short of errors that ask for a second sweep).

use super::measure::{Measure, Weights};
use super::table::{Old, PassTable, Sources, Stop, Surface, is_turned, lie_mm};
use super::trial::Trial;
use crate::job::{PassId, SetTo, Setup};
use crate::mechanics::beam::Elastic;
use crate::mechanics::chain::JawSpring;
use crate::mechanics::contact::Touching;
use crate::mechanics::cut::{JawAt, ToolAt, Workbench};
use crate::mechanics::held::AtTool;
use crate::mechanics::influence::Rider;
use crate::study::force::ForceModel;
use crate::study::holding::jaws;
use crate::study::last_depth_mm;
use crate::study::layout::{CutSpan, Fineness};
use crate::study::outline::{Outline, Piece, SAME_PLACE_MM};
use crate::study::prepared::{Prepared, Scene};
use crate::study::results::{SetupResult, Status};
use crate::study::sweep::take_what_was_left;

/// A set-up ready to have rests tried in it.
#[derive(Clone, Debug)]
pub struct Board {
    passes: Vec<PassTable>,
    places_mm: Vec<f64>,
    /// Where the work lies at every place with no rest touching.
    lie_mm: Vec<[f64; 2]>,
    rests: Vec<Standing>,
    follower: Vec<JawAt>,
    /// In groups that are looked at together: each by itself, but those of a chained pass all in cutting order, since
    /// none of them can be solved without those before it.
    checks: Vec<Vec<Check>>,
    measure: Measure,
    has_limits: bool,
}

/// A rest that can stand anywhere.
#[derive(Clone, Debug)]
struct Standing {
    /// Their gaps as about the spindle axis.
    jaws: Vec<JawAt>,
    to_work: bool,
}

/// A stop that counts, and how much.
#[derive(Clone, Copy, Debug)]
struct Check {
    pass: usize,
    stop: usize,
    weight: f64,
}

/// Room for trying, and what the last placement came to.
#[derive(Clone, Debug, Default)]
pub struct Room {
    at_tool: AtTool,
    bench: Workbench,
    jaws: Vec<JawAt>,
    /// By pass and stop.
    done: Vec<Vec<Done>>,
    /// Jaws that touched with the last placement, to begin with: by pass and stop.
    touching: Vec<Vec<Touching>>,
    /// By pass.
    rides: Vec<Rides>,
    turn: u32,
    /// Groups of checks, those that threw out the most lately first.
    order: Vec<usize>,
    /// Stops solved so far.
    pub n_solved: usize,
}

/// How far a pass with a follower is done for this placement.
#[derive(Clone, Copy, Debug, Default)]
struct Rides {
    set_on_mm: Option<f64>,
    /// Stops done, in cutting order.
    n_done: usize,
}

#[derive(Clone, Copy, Debug, Default)]
struct Done {
    turn: u32,
    held: bool,
    error_mm: f64,
    depth_mm: f64,
    give_mm_per_n: f64,
}

/// A pass that has got its table.
#[derive(Clone, Debug)]
pub struct Tabled {
    pub pass: PassId,
    /// Without rests; all the places are nodes.
    pub prepared: Prepared,
    pub cut: CutSpan,
    pub last_depth_mm: f64,
    pub elastic: Elastic,
}

/// What a board finds at one stop.
#[derive(Clone, Debug, Default)]
pub struct Contact {
    /// The jaws that touch, at the rest of their `node` counted in the placement; the follower counts as one more.
    pub jaws: Vec<JawSpring>,
    /// On radius.
    pub depth_mm: f64,
}

impl Board {
    /// Tables for rests at `places_mm` (rising, on the work). `reference` is the set-up as computed with rests somewhere.
    /// `None` where there is no length to bend or nothing is turned.
    #[must_use]
    pub fn new(
        trial: &Trial,
        reference: &SetupResult,
        places_mm: &[f64],
        fineness: Fineness,
        measure: Measure,
    ) -> Option<Self> {
        Self::telling(trial, reference, places_mm, fineness, measure, &mut |_| {})
    }

    /// As [`Self::new`]; tells of every pass that gets a table, in their order.
    pub fn telling(
        trial: &Trial,
        reference: &SetupResult,
        places_mm: &[f64],
        fineness: Fineness,
        measure: Measure,
        tell: &mut dyn FnMut(Tabled),
    ) -> Option<Self> {
        let (job, with_rests) = (&trial.job, trial.setup());
        let setup = &Setup { rests: Vec::new(), ..with_rests.clone() };
        let mut outline = Outline::of(&reference.before, &job.shaft, setup);
        let mut scene = Scene::with_nodes(job, setup, &outline, fineness, places_mm.to_vec())?;
        scene.factors = trial.factors;
        let points: Vec<_> = (0..with_rests.rests.len()).map(Some).collect();
        let mut all_jaws = jaws(with_rests, &points, &vec![[0.0; 2]; points.len()]).into_iter();
        let rests = (with_rests.rests.iter())
            .map(|rest| Standing {
                jaws: all_jaws.by_ref().take(rest.jaws.len()).collect(),
                to_work: rest.set_to == SetTo::Work,
            })
            .collect();
        let follower = (all_jaws.zip(with_rests.follower.iter().flat_map(|follower| &follower.jaws)))
            .map(|(jaw, set)| JawAt { gap_mm: set.gap_mm, ..jaw })
            .collect();
        let mut board = Self {
            passes: Vec::new(),
            places_mm: places_mm.to_vec(),
            lie_mm: lie_mm(&scene, &outline, places_mm),
            rests,
            follower,
            checks: Vec::new(),
            measure,
            has_limits: false,
        };
        let material = job.material();
        let mut in_table: Vec<usize> = Vec::new();
        let mut as_computed = true;
        for (index, pass) in setup.passes.iter().enumerate() {
            let computed = reference.passes.get(index)?;
            let cut = scene.cut_span(pass);
            let solved = matches!(computed.status, Status::Solved | Status::StoppedEarly);
            as_computed &= solved || computed.status == Status::NothingToCut;
            let after = || Outline::of(&computed.after, &job.shaft, setup);
            let Some(cut) = cut.filter(|_| is_turned(setup, pass)) else {
                if as_computed {
                    outline = after();
                }
                continue;
            };
            let mut prepared = scene.prepare(&outline, Some(pass), None);
            if let Some(behind) = &computed.behind {
                take_what_was_left(&scene, &mut prepared, &Outline::of(behind, &job.shaft, setup));
            }
            let last_mm = last_depth_mm(setup, index, &reference.passes);
            let model = ForceModel::new(&material, &setup.tool, pass, last_mm).times(scene.factors);
            let sources = Sources { setup, n_before: index, numbers: &in_table, tables: &board.passes };
            outline = if as_computed { after() } else { as_dialled(&outline, &prepared, &cut) };
            board.passes.push(PassTable::new(&scene, &prepared, &cut, &model, places_mm, &sources));
            in_table.push(index);
            tell(Tabled { pass: pass.id, prepared, cut, last_depth_mm: last_mm, elastic: scene.elastic });
        }
        board.put_checks(trial, &in_table);
        (!board.checks.is_empty()).then_some(board)
    }

    /// Where rests may stand, rising.
    #[must_use]
    pub fn places_mm(&self) -> &[f64] {
        &self.places_mm
    }

    /// Values of the size measure are shares of half the tolerance, not mm.
    #[must_use]
    pub fn has_limits(&self) -> bool {
        self.has_limits
    }

    /// A follower rides on what a pass has just left: no stop of that pass is to be had without those before it.
    #[must_use]
    pub fn is_chained(&self) -> bool {
        self.passes.iter().any(|table| table.chained)
    }

    fn put_checks(&mut self, trial: &Trial, in_table: &[usize]) {
        let stops = || {
            self.passes
                .iter()
                .enumerate()
                .flat_map(|(pass, table)| (0..table.stops.len()).map(move |stop| (pass, stop)))
        };
        let weights = if self.measure == Measure::Springiness {
            Weights { weights: stops().map(|_| Some(1.0)).collect(), has_limits: false }
        } else {
            let places = stops().map(|(pass, stop)| {
                let at = &self.passes[pass].stops[stop];
                (in_table[pass], at.z_mm, at.dial_mm)
            });
            Weights::of(&trial.job, trial.setup(), places)
        };
        self.has_limits = weights.has_limits;
        let weighed = stops().zip(weights.weights);
        let checks: Vec<Check> =
            weighed.filter_map(|((pass, stop), weight)| Some(Check { pass, stop, weight: weight? })).collect();
        let together = |a: &Check, b: &Check| a.pass == b.pass && self.passes[a.pass].chained;
        self.checks = checks.chunk_by(together).map(<[Check]>::to_vec).collect();
    }

    /// What rests at these places (numbers into [`Self::places_mm`], in the order of the set-up's rests) come to by the
    /// measure: the smaller the better, infinite where nothing holds the work. Above `limit` the figure is only a lower
    /// bound, found early.
    pub fn value(&self, room: &mut Room, rests_at: &[usize], limit: f64) -> f64 {
        self.lay_out(room, rests_at);
        let mut largest: f64 = 0.0;
        for at in 0..room.order.len() {
            for check in &self.checks[room.order[at]] {
                let done = self.solve(room, rests_at, check.pass, check.stop);
                let value = match (done.held, self.measure) {
                    (false, _) => f64::INFINITY,
                    (true, Measure::Springiness) => done.give_mm_per_n,
                    (true, _) => done.error_mm.abs() * check.weight,
                };
                largest = largest.max(value);
                if value > limit {
                    room.order[..=at].rotate_right(1);
                    return largest;
                }
            }
        }
        largest
    }

    /// Errors on diameter at all stops of all passes in the tables, in cutting order; `None` where nothing holds the work.
    pub fn errors_mm(&self, room: &mut Room, rests_at: &[usize]) -> Vec<Vec<(f64, Option<f64>)>> {
        self.lay_out(room, rests_at);
        let all = self.passes.iter().enumerate().map(|(pass, table)| {
            let stops = table.stops.iter().enumerate().map(|(stop, at)| {
                let done = self.solve(room, rests_at, pass, stop);
                (at.z_mm, done.held.then_some(done.error_mm))
            });
            stops.collect()
        });
        all.collect()
    }

    /// Which jaws touch with the tool at a stop (in cutting order) of one of the tables' passes; `None` where nothing holds
    /// the work or no answer is found. [`Self::lay_out`] comes before.
    pub fn contact(&self, room: &mut Room, rests_at: &[usize], pass: usize, stop: usize) -> Option<Contact> {
        let done = self.solve(room, rests_at, pass, stop);
        let springs = room.touching[pass][stop].iter().map(|index| &room.jaws[index]);
        let springs =
            springs.map(|jaw| JawSpring { node: jaw.point, direction: jaw.direction, k_n_per_mm: jaw.k_n_per_mm });
        done.held.then(|| Contact { jaws: springs.collect(), depth_mm: done.depth_mm })
    }

    /// Puts rests to places; what was found of the placement before is forgotten.
    pub fn lay_out(&self, room: &mut Room, rests_at: &[usize]) {
        let same_stops = room.done.iter().map(Vec::len).eq(self.passes.iter().map(|table| table.stops.len()));
        if !same_stops || room.order.len() != self.checks.len() {
            room.done = self.passes.iter().map(|table| vec![Done::default(); table.stops.len()]).collect();
            room.touching = self.passes.iter().map(|table| vec![Touching::default(); table.stops.len()]).collect();
            room.rides = vec![Rides::default(); self.passes.len()];
            room.order = spread(self.checks.len());
            room.turn = 0;
        }
        room.turn += 1;
        room.rides.fill(Rides::default());
        room.jaws.clear();
        for (number, (standing, &place)) in self.rests.iter().zip(rests_at).enumerate() {
            let lie = if standing.to_work { self.lie_mm[place] } else { [0.0; 2] };
            room.jaws.extend(standing.jaws.iter().map(|jaw| JawAt {
                point: number,
                gap_mm: jaw.gap_mm + jaw.direction[0] * lie[0] + jaw.direction[1] * lie[1],
                ..*jaw
            }));
        }
        room.jaws.extend_from_slice(&self.follower);
    }

    /// Solves a stop, and whatever it follows from, unless it was for this placement.
    fn solve(&self, room: &mut Room, rests_at: &[usize], pass: usize, stop: usize) -> Done {
        let known = room.done[pass][stop];
        if known.turn == room.turn {
            return known;
        }
        if self.passes[pass].chained {
            for before in room.rides[pass].n_done..stop {
                self.solve_one(room, rests_at, pass, before);
            }
            room.rides[pass].n_done = stop + 1;
        }
        self.solve_one(room, rests_at, pass, stop)
    }

    fn solve_one(&self, room: &mut Room, rests_at: &[usize], pass: usize, stop: usize) -> Done {
        let at = &self.passes[pass].stops[stop];
        let over_mm = self.over_mm(room, rests_at, &at.old);
        let tool = ToolAt { old_radius_mm: at.old_dial_mm / 2.0 + over_mm, ..at.tool };
        let rider = self.place_follower(room, rests_at, pass, at);
        let influence = &self.passes[pass].influence;
        let mut done = Done { turn: room.turn, ..Done::default() };
        if influence.join(at.post, rests_at, rider, &mut room.at_tool) {
            let guess_mm = room.done[pass][stop].depth_mm;
            if let Some(before) = stop.checked_sub(1).filter(|_| self.passes[pass].chained) {
                // The jaws that touch at the stop before are more often right than those of the last placement.
                let (befores, here) = room.touching[pass].split_at_mut(stop);
                here[0].clone_from(&befores[before]);
            }
            let n_away = if rider.is_none() { self.follower.len() } else { 0 };
            let jaws = &room.jaws[..room.jaws.len() - n_away];
            std::mem::swap(&mut room.bench.touching, &mut room.touching[pass][stop]);
            let state = room.bench.solve(&room.at_tool, jaws, Some((&tool, &at.law)), guess_mm);
            std::mem::swap(&mut room.bench.touching, &mut room.touching[pass][stop]);
            room.n_solved += 1;
            let most_mm = tool.old_radius_mm / 2.0;
            done.held = state.solved && state.spring_mm.iter().all(|spring_mm| spring_mm.abs() <= most_mm);
            done.error_mm = 2.0 * state.radius_left_mm - at.dial_mm;
            done.depth_mm = state.depth_mm;
            if self.measure == Measure::Springiness {
                done.give_mm_per_n = room.bench.give_along_push(&room.at_tool, jaws);
            }
        }
        room.done[pass][stop] = done;
        done
    }

    fn over_mm(&self, room: &mut Room, rests_at: &[usize], old: &Old) -> f64 {
        match *old {
            Old::Over(over_mm) => over_mm,
            Old::Left(pass, between) => {
                let half = |stop: usize, room: &mut Room| self.solve(room, rests_at, pass, stop).error_mm / 2.0;
                let after = half(between.after, room);
                if between.share == 1.0 {
                    return after;
                }
                let before = half(between.before, room);
                before + (after - before) * between.share
            }
        }
    }

    /// Puts the follower's jaws on the surface that is there; `None` where they are off the work.
    fn place_follower<'a>(
        &'a self,
        room: &mut Room,
        rests_at: &[usize],
        pass: usize,
        at: &'a Stop,
    ) -> Option<&'a Rider> {
        let ride = at.ride.as_ref()?;
        let over_mm = self.under_follower_mm(room, rests_at, pass, &ride.on);
        let set_on_mm = match room.rides[pass].set_on_mm {
            Some(set_on_mm) => set_on_mm,
            None => {
                let first = self.passes[pass].first_ride.as_ref()?;
                self.under_follower_mm(room, rests_at, pass, first)
            }
        };
        room.rides[pass].set_on_mm = Some(set_on_mm);
        let first = room.jaws.len() - self.follower.len();
        for (jaw, set) in room.jaws[first..].iter_mut().zip(&self.follower) {
            jaw.point = rests_at.len();
            jaw.gap_mm = set.gap_mm + (set_on_mm - over_mm);
        }
        Some(&ride.rider)
    }

    fn under_follower_mm(&self, room: &mut Room, rests_at: &[usize], pass: usize, on: &Surface) -> f64 {
        match on {
            // The stops before this one are done.
            Surface::Fresh(between) => between.of(|stop| room.done[pass][stop].error_mm / 2.0),
            Surface::Found(old) => self.over_mm(room, rests_at, old),
        }
    }
}

/// What a pass would leave if nothing gave.
fn as_dialled(outline: &Outline, prepared: &Prepared, cut: &CutSpan) -> Outline {
    let (low_mm, high_mm) = cut.ends_mm();
    let inside = |z_mm: f64| z_mm >= low_mm - SAME_PLACE_MM && z_mm <= high_mm + SAME_PLACE_MM;
    let pieces = prepared.layout.nodes_mm.windows(2).zip(prepared.sizes.windows(2));
    let fresh: Vec<Piece> = pieces
        .filter(|(ends_mm, _)| inside(ends_mm[0]) && inside(ends_mm[1]))
        .map(|(ends_mm, sizes)| Piece {
            from_z_mm: ends_mm[0],
            to_z_mm: ends_mm[1],
            diameter_mm: [sizes[0][1].finished_mm, sizes[1][0].finished_mm],
            dial_mm: [sizes[0][1].dial_mm, sizes[1][0].dial_mm],
            off_mm: [[0.0; 2]; 2],
        })
        .collect();
    outline.with_fresh(&fresh)
}

/// The numbers from 0 up to `n`, so that every beginning of the row is spread over all: halving again and again.
pub fn spread(n: usize) -> Vec<usize> {
    let n_bits = n.next_power_of_two().trailing_zeros();
    (0..1_usize << n_bits)
        .map(|number| if n_bits == 0 { 0 } else { number.reverse_bits() >> (usize::BITS - n_bits) })
        .filter(|number| *number < n)
        .collect()
}
