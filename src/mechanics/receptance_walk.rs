//! One way along the work with complex numbers, leaving at every stop of the tool what [`super::receptance`] joins there.
//!
//! Rests are carried along as watched nodes. A follower goes with its tool, so its node is met for one stop only and
//! carried over the few elements between the two.

use super::chain::{NodeBlock, Row, Span, State, Watched, dot, own_row};
use super::number::{Complex, Lanes, Number};

/// Frequencies that go through a walk together.
pub(super) const SIDE_BY_SIDE: usize = 4;

pub(super) type Several = Complex<Lanes<SIDE_BY_SIDE>>;

/// A walk's way: everything in walking order.
pub(super) struct Way {
    pub spans: Vec<Span>,
    pub blocks: Vec<NodeBlock>,
    /// Steps at which rests are met, rising.
    pub rests: Vec<usize>,
    /// Step and number of every stop, rising by step.
    pub stops: Vec<(usize, usize)>,
    /// Step at which a follower is met and the stop it belongs to, rising by step.
    pub followers: Vec<(usize, usize)>,
    /// Rests at a stop's own node belong to this walk.
    pub own_node: bool,
}

/// What a walk leaves at a stop.
#[derive(Clone)]
pub(super) struct Seen {
    pub state: State<Several>,
    pub watched: Watched<Several>,
    pub follower: Option<Near>,
}

/// The follower's node on the way to its tool.
#[derive(Clone)]
pub(super) struct Near {
    pub stop: usize,
    pub row: Row<Several>,
    pub own: Several,
    /// With each rest met.
    pub with_rests: Vec<Several>,
}

impl Way {
    /// Walks, and leaves in `seen` what each stop needs.
    #[inline(always)]
    pub fn walk(&self, z: Several, g: Several, seen: &mut [Seen]) {
        let mut state = State::nothing();
        let mut watched = Watched::room_for(self.rests.len());
        let mut near: Vec<Near> = Vec::new();
        let mut rests = self.rests.iter().peekable();
        let mut stops = self.stops.iter().peekable();
        let mut followers = self.followers.iter().peekable();
        for (step, block) in self.blocks.iter().enumerate() {
            if self.own_node {
                while rests.next_if(|at| **at == step).is_some() {
                    watched.meet();
                }
            }
            while let Some(&(_, stop)) = followers.next_if(|(at, _)| *at == step) {
                near.push(Near { stop, row: own_row(), own: Several::of(0.0), with_rests: Vec::new() });
            }
            while let Some(&(_, stop)) = stops.next_if(|(at, _)| *at == step) {
                let left = &mut seen[stop];
                left.state = state;
                left.watched.rows.clone_from(&watched.rows);
                left.watched.between.clone_from(&watched.between);
                let found = near.iter().position(|near| near.stop == stop);
                left.follower = found.map(|index| near.swap_remove(index));
                if let Some(follower) = &mut left.follower {
                    follower.with_rests.resize(watched.rows.len(), Several::of(0.0));
                }
            }
            if stops.peek().is_none() {
                // Nobody asks what lies behind the last stop.
                break;
            }
            if !self.own_node {
                while rests.next_if(|at| **at == step).is_some() {
                    watched.meet();
                }
            }
            let Some(span) = self.spans.get(step) else { break };
            let crossed = state.with_block(block, z, g).cross(span);
            if !(watched.rows.is_empty() && near.is_empty()) {
                let left = crossed.left_behind(span);
                for near in &mut near {
                    let moved = left.under(near.row);
                    near.own = near.own + dot(moved, near.row);
                    near.with_rests.resize(watched.rows.len(), Several::of(0.0));
                    for (with, row) in near.with_rests.iter_mut().zip(&watched.rows) {
                        *with = *with + dot(moved, *row);
                    }
                    near.row = left.carry(near.row);
                }
                watched.carry(&left);
            }
            state = crossed.end;
        }
    }
}
