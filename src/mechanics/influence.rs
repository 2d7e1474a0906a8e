//! How many places along the work answer tool and each other, ready to be asked for: for a search among them.
//!
//! With the tool at a *post* (a node where it stops) and rests at any of the places, all that [`AtTool`] holds is there
//! in O(1). A place's own row `t` and offset are those of the walks ([`super::walk`]); besides them
//! `V_b = Σ Φ Z t_bᵀ` is carried, `Φ` the product of the `M` from the place on. Then two places on one side of the tool,
//! `b` the nearer one, answer each other by `C_ab = t_a(b) · V_b` with the tool's node clamped, where `t_a(b)` is the row
//! of `a` as the node of `b` sees it: that of the last post between them, carried on by what lies between that post and `b`.
//! (The inverse of a matrix of few diagonals is semiseparable.) Rows go from post to post, not from node to node.
//! Cost: nodes + places, and for every place that is asked for 8 numbers at every post.

use std::sync::OnceLock;

use super::held::{AtTool, Bare, Held, Point, point};
use super::walk::{LeftBehind, Row, Symmetric, Walk};

/// Rows and columns of two.
type Square = [[f64; 2]; 2];
const IDENTITY: Square = [[1.0, 0.0], [0.0, 1.0]];

/// The tables of one pass.
#[derive(Clone, Debug)]
pub struct Influence {
    held: Held,
    posts: Vec<Post>,
    spots: Vec<Spot>,
    to_tail: Legs,
    to_head: Legs,
    /// By place, an entry for every post, once it was asked for: a search asks for few of the places there are, but for
    /// those at one post after another.
    columns: Vec<OnceLock<Box<[Entry]>>>,
}

/// A node at which the tool stops.
#[derive(Clone, Copy, Debug, Default)]
struct Post {
    node: usize,
    holds: bool,
    compliance: Symmetric,
    free: [[f64; 2]; 2],
}

/// A place, and how it lies between the posts.
#[derive(Clone, Copy, Debug, Default)]
struct Spot {
    node: usize,
    /// Last post at or before it, and the product of `M` from there to it, walking to the tailstock.
    before: usize,
    from_before: Square,
    /// First post at or after it, and the product walking to the headstock.
    after: usize,
    from_after: Square,
}

/// A place with the tool at a post.
#[derive(Clone, Copy, Debug, Default)]
struct Entry {
    point: Point,
    v: [f64; 2],
}

/// Jaws that travel with the tool, with it at one post.
#[derive(Clone, Copy, Debug)]
pub struct Rider {
    spot: Spot,
    entry: Entry,
}

/// How rows go from post to post along one walk; all numbers in walking order.
#[derive(Clone, Debug)]
struct Legs {
    /// From every post to the next.
    ways: Vec<LeftBehind>,
    /// Of every place the first post at or after it, and its row there.
    begun: Vec<(usize, Carried)>,
}

/// A row on its way.
#[derive(Clone, Copy, Debug)]
struct Carried {
    phi: Square,
    v: [f64; 2],
    offset_mm: [f64; 2],
}

impl Carried {
    const START: Self = Self { phi: IDENTITY, v: [0.0; 2], offset_mm: [0.0; 2] };

    #[inline]
    fn carry(&mut self, way: &LeftBehind) {
        let [t0, t1] = self.phi[0];
        let zt = [way.z.a11 * t0 + way.z.a12 * t1, way.z.a12 * t0 + way.z.a22 * t1];
        for row in 0..2 {
            self.v[row] += dot(self.phi[row], zt);
        }
        for plane in 0..2 {
            self.offset_mm[plane] += dot([t0, t1], way.drift[plane]);
        }
        self.phi = self.phi.map(|row| times(row, &way.m));
    }

    fn row(&self) -> Row {
        Row { t: self.phi[0], offset_mm: self.offset_mm }
    }
}

#[inline]
fn dot(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

#[inline]
fn times(row: [f64; 2], square: &Square) -> [f64; 2] {
    [row[0] * square[0][0] + row[1] * square[1][0], row[0] * square[0][1] + row[1] * square[1][1]]
}

impl Influence {
    /// For a walked work: `posts` and `places` are nodes, rising and different from each other; the first and the last node
    /// of the work are among the posts.
    #[must_use]
    pub fn new(held: Held, posts: &[usize], places: &[usize]) -> Self {
        let last = held.n_nodes() - 1;
        let n_posts = posts.len();
        let mut spots: Vec<Spot> = places.iter().map(|node| Spot { node: *node, ..Spot::default() }).collect();
        let posts_back: Vec<usize> = posts.iter().rev().map(|node| last - node).collect();
        let places_back: Vec<usize> = places.iter().rev().map(|node| last - node).collect();
        let between = lie_between(held.backward(), &posts_back, &places_back);
        for (spot, (post, way)) in spots.iter_mut().rev().zip(between) {
            (spot.after, spot.from_after) = (n_posts - 1 - post, way);
        }
        let between = lie_between(held.forward(), posts, places);
        for (spot, (post, way)) in spots.iter_mut().zip(between) {
            (spot.before, spot.from_before) = (post, way);
        }
        Self {
            posts: posts.iter().map(|node| post(&held, *node)).collect(),
            spots,
            to_tail: Legs::new(held.forward(), posts, places),
            to_head: Legs::new(held.backward(), &posts_back, &places_back),
            columns: vec![OnceLock::new(); places.len()],
            held,
        }
    }

    /// Where the work lies at a place with the tool drawn back to a post and no jaw touching: away, up. `None` where
    /// nothing holds it.
    #[must_use]
    pub fn free_mm(&self, post: usize, place: usize) -> Option<[f64; 2]> {
        self.posts[post].holds.then(|| self.entry(post, place).point.free_mm)
    }

    /// Jaws at `node`, near the tool at `post`.
    #[must_use]
    pub fn rider(&self, post: usize, node: usize) -> Rider {
        let tool = self.posts[post].node;
        let last = self.held.n_nodes() - 1;
        let (walk, from, to) = if node > tool {
            (self.held.backward(), last - node, last - tool)
        } else {
            (self.held.forward(), node, tool)
        };
        let mut carried = Carried::START;
        (from..to).for_each(|step| carried.carry(walk.left_behind(step)));
        let row = if node > tool { self.held.counted_from_axis(carried.row()) } else { carried.row() };
        let after = self.posts.partition_point(|post| post.node < node);
        let before = if self.posts[after].node == node { after } else { after - 1 };
        let product = |walk: &Walk, from: usize, to: usize| {
            (from..to).fold(IDENTITY, |product, step| product.map(|row| times(row, &walk.left_behind(step).m)))
        };
        let spot = Spot {
            node,
            before,
            from_before: product(self.held.forward(), self.posts[before].node, node),
            after,
            from_after: product(self.held.backward(), last - self.posts[after].node, last - node),
        };
        Rider { spot, entry: entry_of(&self.posts[post], row, &carried) }
    }

    /// All that cut and jaws need with the tool at `post` and rests at `places` (any order), whose points come in this order,
    /// and the rider's last. False where nothing holds the work.
    pub fn join(&self, post: usize, places: &[usize], rider: Option<&Rider>, at_tool: &mut AtTool) -> bool {
        let there = &self.posts[post];
        if !there.holds {
            return false;
        }
        at_tool.compliance = there.compliance;
        at_tool.free_mm = [there.free[0][0], there.free[1][0]];
        at_tool.begin(places.len() + usize::from(rider.is_some()));
        for (number, &place) in places.iter().enumerate() {
            let entry = self.entry(post, place);
            at_tool.points.push(entry.point);
            at_tool.set_between(number, number, entry.v[0]);
            for (other, &other_place) in places[..number].iter().enumerate() {
                at_tool.set_between(number, other, self.same_side(post, place, other_place));
            }
        }
        if let Some(rider) = rider {
            let number = places.len();
            at_tool.points.push(rider.entry.point);
            at_tool.set_between(number, number, rider.entry.v[0]);
            for (other, &place) in places.iter().enumerate() {
                at_tool.set_between(number, other, self.same_side_as_rider(post, place, rider));
            }
        }
        true
    }

    #[inline]
    fn entry(&self, post: usize, place: usize) -> &Entry {
        &self.columns[place].get_or_init(|| self.column(place))[post]
    }

    /// A place with the tool at every post.
    fn column(&self, place: usize) -> Box<[Entry]> {
        let n_posts = self.posts.len();
        let mut column = vec![Entry::default(); n_posts].into_boxed_slice();
        // Backward first: where a place and a post are one node, the place counts to the headstock's side.
        for (post, carried) in self.to_head.of_place(self.columns.len() - 1 - place) {
            let post = n_posts - 1 - post;
            column[post] = entry_of(&self.posts[post], self.held.counted_from_axis(carried.row()), &carried);
        }
        for (post, carried) in self.to_tail.of_place(place) {
            column[post] = entry_of(&self.posts[post], carried.row(), &carried);
        }
        column
    }

    /// What two places on one side of the tool answer each other with the tool's node clamped, 0 across the tool.
    fn same_side(&self, post: usize, one: usize, other: usize) -> f64 {
        let (low, high) = (one.min(other), one.max(other));
        let tool = self.posts[post].node;
        if self.spots[high].node <= tool {
            dot(self.row_walking_up(low, &self.spots[high]), self.entry(post, high).v)
        } else if self.spots[low].node > tool {
            dot(self.row_walking_down(high, &self.spots[low]), self.entry(post, low).v)
        } else {
            0.0
        }
    }

    fn same_side_as_rider(&self, post: usize, place: usize, rider: &Rider) -> f64 {
        let tool = self.posts[post].node;
        let (node, rides) = (self.spots[place].node, rider.spot.node);
        let last = self.held.n_nodes() - 1;
        if (node <= tool) != (rides <= tool) {
            return 0.0;
        }
        let between_them = (rides < node && node <= tool) || (tool < node && node < rides);
        if !between_them {
            let row = if node <= tool {
                self.row_walking_up(place, &rider.spot)
            } else {
                self.row_walking_down(place, &rider.spot)
            };
            return dot(row, rider.entry.v);
        }
        let row = if node <= tool {
            carried_row([1.0, 0.0], self.held.forward(), rides, node)
        } else {
            carried_row([1.0, 0.0], self.held.backward(), last - rides, last - node)
        };
        dot(row, self.entry(post, place).v)
    }

    /// The row of a place as a spot further to the tailstock sees it.
    fn row_walking_up(&self, place: usize, seen_from: &Spot) -> [f64; 2] {
        let node = self.spots[place].node;
        if self.posts[seen_from.before].node >= node {
            return times(self.entry(seen_from.before, place).point.t(), &seen_from.from_before);
        }
        carried_row([1.0, 0.0], self.held.forward(), node, seen_from.node)
    }

    /// The row of a place as a spot further to the headstock sees it.
    fn row_walking_down(&self, place: usize, seen_from: &Spot) -> [f64; 2] {
        let (node, post) = (self.spots[place].node, self.posts[seen_from.after].node);
        if post < node {
            return times(self.entry(seen_from.after, place).point.t(), &seen_from.from_after);
        }
        if post == node {
            return seen_from.from_after[0];
        }
        let last = self.held.n_nodes() - 1;
        carried_row([1.0, 0.0], self.held.backward(), last - node, last - seen_from.node)
    }
}

fn carried_row(row: [f64; 2], walk: &Walk, from: usize, to: usize) -> [f64; 2] {
    (from..to).fold(row, |row, step| times(row, &walk.left_behind(step).m))
}

fn post(held: &Held, node: usize) -> Post {
    match held.at(node) {
        Some(Bare { compliance, free, n_lost: 0 }) => Post { node, holds: true, compliance, free },
        // Work that only its jaws keep from buckling is no ground to try jaws on.
        _ => Post { node, ..Post::default() },
    }
}

fn entry_of(post: &Post, row: Row, carried: &Carried) -> Entry {
    Entry { point: point(&row, &post.compliance, &post.free), v: carried.v }
}

/// Of every spot the last post at or before it, and the product of `M` between; all numbers in walking order.
fn lie_between(walk: &Walk, posts: &[usize], spots: &[usize]) -> Vec<(usize, Square)> {
    let mut post = 0;
    let (mut node, mut way) = (posts[0], IDENTITY);
    let mut found = Vec::with_capacity(spots.len());
    for &spot in spots {
        while posts.get(post + 1).is_some_and(|next| *next <= spot) {
            post += 1;
            (node, way) = (posts[post], IDENTITY);
        }
        while node < spot {
            way = way.map(|row| times(row, &walk.left_behind(node).m));
            node += 1;
        }
        found.push((post, way));
    }
    found
}

impl Legs {
    fn new(walk: &Walk, posts: &[usize], places: &[usize]) -> Self {
        let mut legs = Self { ways: Vec::with_capacity(posts.len() - 1), begun: Vec::with_capacity(places.len()) };
        // From every node since the last post to the one that comes.
        let mut ways: Vec<LeftBehind> = Vec::new();
        let mut from = 0;
        for (number, &node) in posts.iter().enumerate() {
            ways.clear();
            ways.push(LeftBehind::NOWHERE);
            for step in (from..node).rev() {
                let further = ways[ways.len() - 1];
                ways.push(walk.left_behind(step).then(&further));
            }
            if number > 0 {
                legs.ways.push(ways[ways.len() - 1]);
            }
            while let Some(&place) = places.get(legs.begun.len()).filter(|place| **place <= node) {
                let mut carried = Carried::START;
                carried.carry(&ways[node - place]);
                legs.begun.push((number, carried));
            }
            from = node;
        }
        legs
    }

    /// The row of a place at every post from the first on that it comes to.
    fn of_place(&self, place: usize) -> impl Iterator<Item = (usize, Carried)> {
        let (first, begun) = self.begun[place];
        let ways = std::iter::once(None).chain(self.ways[first..].iter().map(Some));
        ways.enumerate().scan(begun, move |carried, (number, way)| {
            if let Some(way) = way {
                carried.carry(way);
            }
            Some((first + number, *carried))
        })
    }
}
