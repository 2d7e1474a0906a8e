//! Who tries placements: one thread, or two, each a fixed half of what is to be tried.
//!
//! Each of the two keeps the best of its half, thrown out only by what it found itself: what all placements come to, and
//! in which order, is then the same whatever the machine does. The price is a bound that is a little later to fall.

use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::ScopedJoinHandle;

use super::search::{Effort, Judge, Tried};

/// Fewer placements than these are not worth a second thread.
const FEWEST_SHARED: usize = 8;

/// A judge that may work beside another.
pub type Beside<'a> = dyn FnMut(&[usize], f64) -> f64 + Send + 'a;

pub enum Hands<'a, 'b> {
    One(&'a mut Judge<'b>),
    Two(&'a mut Beside<'b>, &'a mut Beside<'b>),
}

/// The best ones in hand, best first.
#[derive(Clone)]
pub struct Best {
    pub kept: Vec<Tried>,
    n_kept: usize,
}

impl Best {
    /// None so far, and room for so many.
    pub fn of(n_kept: usize) -> Self {
        Self { kept: Vec::new(), n_kept }
    }

    /// What is worse than this is not kept.
    pub fn limit(&self) -> f64 {
        if self.kept.len() < self.n_kept { f64::INFINITY } else { self.kept[self.n_kept - 1].value }
    }

    pub fn put(&mut self, value: f64, rests_at: &[usize]) {
        if value < self.limit() {
            let at = self.kept.partition_point(|tried| tried.value <= value);
            self.kept.insert(at, Tried { value, rests_at: rests_at.to_vec() });
            self.kept.truncate(self.n_kept);
        }
    }

    pub fn least(&self) -> f64 {
        self.kept.first().map_or(f64::INFINITY, |tried| tried.value)
    }

    /// Takes over what another one found that began with the same placements.
    fn join(&mut self, other: &Self) {
        for Tried { value, rests_at } in &other.kept {
            if self.kept.iter().all(|tried| tried.rests_at != *rests_at) {
                self.put(*value, rests_at);
            }
        }
    }
}

impl Hands<'_, '_> {
    /// Tries all of these and keeps the best; `keep_going` hears the share done, `None` where it said no.
    pub fn try_all(
        &mut self,
        placements: &[Vec<usize>],
        best: &mut Best,
        effort: &Effort,
        keep_going: &dyn Fn(f64) -> bool,
    ) -> Option<()> {
        match self {
            Self::One(judge) => try_each(*judge, placements, best, effort, keep_going),
            Self::Two(judge, _) if placements.len() < FEWEST_SHARED => {
                try_each(*judge, placements, best, effort, keep_going)
            }
            Self::Two(one, other) => {
                let (mine, others) = placements.split_at(placements.len() / 2);
                let mut found = best.clone();
                let stopped = AtomicBool::new(false);
                let not_stopped = |_: f64| !stopped.load(Ordering::Relaxed);
                let mut work = || try_each(*other, others, &mut found, effort, &not_stopped);
                let (mine, beside) = std::thread::scope(|scope| {
                    let beside = std::thread::Builder::new().name("places".to_owned()).spawn_scoped(scope, &mut work);
                    let mine = try_each(*one, mine, best, effort, keep_going);
                    stopped.store(mine.is_none(), Ordering::Relaxed);
                    let join = |beside: ScopedJoinHandle<'_, Option<()>>| {
                        beside.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))
                    };
                    (mine, beside.ok().map(join))
                });
                mine?;
                // No thread is to be had: one after the other.
                beside.unwrap_or_else(work)?;
                best.join(&found);
                Some(())
            }
        }
    }
}

fn try_each<J: FnMut(&[usize], f64) -> f64 + ?Sized>(
    judge: &mut J,
    placements: &[Vec<usize>],
    best: &mut Best,
    effort: &Effort,
    keep_going: &dyn Fn(f64) -> bool,
) -> Option<()> {
    for (number, rests_at) in placements.iter().enumerate() {
        if number % effort.tries_a_look == 0 && !keep_going(number as f64 / placements.len() as f64) {
            return None;
        }
        best.put(judge(rests_at, best.limit()), rests_at);
    }
    Some(())
}
