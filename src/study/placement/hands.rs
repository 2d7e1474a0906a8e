//! Who tries placements: one thread, or two, each a fixed half of what is to be tried; and two for the parts of one
//! placement.
//!
//! Each of the two keeps the best of its half, thrown out only by what it found itself: what all placements come to, and
//! in which order, is then the same whatever the machine does. The price is a bound that is a little later to fall.

use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
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
    /// What is not better than this is not kept either.
    worst: f64,
}

impl Best {
    /// None so far, and room for so many.
    pub fn of(n_kept: usize) -> Self {
        Self { kept: Vec::new(), n_kept, worst: f64::INFINITY }
    }

    /// None so far, and room for as many that are better than all of these.
    pub fn only_better(&self) -> Self {
        Self { worst: self.least(), ..Self::of(self.n_kept) }
    }

    /// What is worse than this is not kept.
    pub fn limit(&self) -> f64 {
        if self.kept.len() < self.n_kept { self.worst } else { self.kept[self.n_kept - 1].value }
    }

    pub fn put(&mut self, value: f64, rests_at: &[usize]) {
        if value < self.limit() {
            let at = self.kept.partition_point(|tried| tried.value <= value);
            self.kept.insert(at, Tried { value, rests_at: rests_at.to_vec() });
            self.kept.truncate(self.n_kept);
        }
    }

    /// Keeps no more than so many from now on.
    pub fn keep_only(&mut self, n_kept: usize) {
        self.n_kept = self.n_kept.min(n_kept);
        self.kept.truncate(self.n_kept);
    }

    pub fn least(&self) -> f64 {
        self.kept.first().map_or(f64::INFINITY, |tried| tried.value)
    }

    /// Takes over what another one found that began with the same placements.
    pub fn join(&mut self, other: &Self) {
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

/// What these parts come to, in order, up to the first that is enough; `None` where `keep_going` said no. Two threads take
/// what is next; what comes out does not hang on which of them is faster.
pub fn in_order<T: Sync, R: Send + Sync>(
    parts: &[T],
    work: impl Fn(&T, &dyn Fn() -> bool) -> R + Sync,
    is_enough: impl Fn(&R) -> bool + Sync,
    keep_going: &dyn Fn() -> bool,
) -> Option<Vec<R>> {
    let done: Vec<OnceLock<R>> = parts.iter().map(|_| OnceLock::new()).collect();
    let (next, enough, stopped) = (AtomicUsize::new(0), AtomicUsize::new(usize::MAX), AtomicBool::new(false));
    let take = |going: &dyn Fn() -> bool| {
        loop {
            let number = next.fetch_add(1, Ordering::Relaxed);
            let Some(part) = parts.get(number) else { break };
            let is_wanted = || number <= enough.load(Ordering::Relaxed) && going();
            let found = work(part, &is_wanted);
            if !is_wanted() {
                break;
            }
            if is_enough(&found) {
                enough.fetch_min(number, Ordering::Relaxed);
            }
            done[number].get_or_init(|| found);
        }
    };
    std::thread::scope(|scope| {
        if parts.len() > 1 {
            let beside = || take(&|| !stopped.load(Ordering::Relaxed));
            // Where no thread is to be had this one does all.
            let _ = std::thread::Builder::new().name("parts".to_owned()).spawn_scoped(scope, beside);
        }
        take(&|| {
            let going = keep_going();
            stopped.fetch_or(!going, Ordering::Relaxed);
            going
        });
    });
    let n_wanted = enough.into_inner().saturating_add(1).min(parts.len());
    done.into_iter().take(n_wanted).map(OnceLock::into_inner).collect()
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

#[cfg(test)]
mod tests {
    use super::in_order;

    #[test]
    fn parts_come_in_order_up_to_the_first_that_is_enough() {
        let parts: Vec<u32> = (0..40).collect();
        let slow_if_early = |part: &u32, _: &dyn Fn() -> bool| {
            std::thread::sleep(std::time::Duration::from_micros(u64::from(40 - part) * 20));
            part * part
        };
        for enough in [0, 9 * 9, 30 * 30, u32::MAX] {
            let found = in_order(&parts, slow_if_early, |square| *square >= enough, &|| true);
            let expected: Vec<u32> = (0..40).map(|part| part * part).collect();
            let n = expected.iter().position(|square| *square >= enough).map_or(40, |at| at + 1);
            assert_eq!(found.as_deref(), Some(&expected[..n]));
        }
        assert_eq!(in_order(&parts, slow_if_early, |_| false, &|| false), None);
    }
}
