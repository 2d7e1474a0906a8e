//! Long work beside the window: one named thread that answers the newest question and forgets those it overtook.
//!
//! The window asks in any frame and takes what has come; nothing waits. A question under way goes on to its end unless
//! it is called off, so that answers keep coming while a drag asks in every frame.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread;

/// How the window is told that an answer has come.
#[derive(Clone)]
pub struct Wake(Arc<dyn Fn() + Send + Sync>);

impl Wake {
    /// Calls this, from another thread.
    pub fn by(call: impl Fn() + Send + Sync + 'static) -> Self {
        Self(Arc::new(call))
    }
}

impl Default for Wake {
    /// Tells nobody.
    fn default() -> Self {
        Self::by(|| {})
    }
}

impl std::fmt::Debug for Wake {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Wake")
    }
}

/// A thread that turns questions into answers.
pub struct Worker<Question, Answer> {
    desk: Arc<Desk<Question, Answer>>,
}

/// What window and thread share.
struct Desk<Question, Answer> {
    papers: Mutex<Papers<Question, Answer>>,
    /// A question was laid down, or the worker is let go.
    laid_down: Condvar,
    /// The work under way is no longer wanted.
    called_off: AtomicBool,
}

struct Papers<Question, Answer> {
    question: Option<Question>,
    answer: Option<Answer>,
    is_working: bool,
    let_go: bool,
}

impl<Question, Answer> Desk<Question, Answer> {
    /// A thread that panicked leaves the papers as they were.
    fn papers(&self) -> MutexGuard<'_, Papers<Question, Answer>> {
        self.papers.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl<Question: Send + 'static, Answer: Send + 'static> Worker<Question, Answer> {
    /// Starts the thread. `work` looks at its second argument from time to time and gives up where that says no; `wake`
    /// is called after every answer.
    pub fn start(
        name: &str,
        wake: Wake,
        work: impl Fn(Question, &dyn Fn() -> bool) -> Option<Answer> + Send + 'static,
    ) -> Self {
        let papers = Papers { question: None, answer: None, is_working: false, let_go: false };
        let desk = Arc::new(Desk {
            papers: Mutex::new(papers),
            laid_down: Condvar::new(),
            called_off: AtomicBool::new(false),
        });
        let own = Arc::clone(&desk);
        let run = move || {
            while let Some(question) = next(&own) {
                let answer = work(question, &|| !own.called_off.load(Ordering::Relaxed));
                let mut papers = own.papers();
                papers.is_working = false;
                if answer.is_some() {
                    papers.answer = answer;
                }
                drop(papers);
                (wake.0)();
            }
        };
        // Where no thread can be had there are no answers, and nothing else is the worse for it.
        let started = thread::Builder::new().name(name.to_owned()).spawn(run).is_ok();
        desk.papers().let_go = !started;
        Self { desk }
    }

    /// Lays a question down in place of any that still waits.
    pub fn ask(&self, question: Question) {
        let mut papers = self.desk.papers();
        if !papers.let_go {
            papers.question = Some(question);
            self.desk.laid_down.notify_one();
        }
    }

    /// Gives up what is under way and forgets what waits.
    pub fn call_off(&self) {
        let mut papers = self.desk.papers();
        papers.question = None;
        if papers.is_working {
            self.desk.called_off.store(true, Ordering::Relaxed);
        }
    }

    /// The newest answer, if one has come since the last look.
    pub fn take(&self) -> Option<Answer> {
        self.desk.papers().answer.take()
    }

    /// A question waits or is being worked on.
    pub fn is_busy(&self) -> bool {
        let papers = self.desk.papers();
        papers.is_working || papers.question.is_some()
    }
}

/// Waits for the next question; nothing once the worker is let go.
fn next<Question, Answer>(desk: &Desk<Question, Answer>) -> Option<Question> {
    let mut papers = desk.papers();
    loop {
        if papers.let_go {
            return None;
        }
        if let Some(question) = papers.question.take() {
            papers.is_working = true;
            desk.called_off.store(false, Ordering::Relaxed);
            return Some(question);
        }
        papers = desk.laid_down.wait(papers).unwrap_or_else(PoisonError::into_inner);
    }
}

impl<Question, Answer> Drop for Worker<Question, Answer> {
    fn drop(&mut self) {
        self.desk.papers().let_go = true;
        self.desk.called_off.store(true, Ordering::Relaxed);
        self.desk.laid_down.notify_one();
    }
}

impl<Question, Answer> std::fmt::Debug for Worker<Question, Answer> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Worker").finish_non_exhaustive()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::mpsc;

    #[test]
    fn the_newest_question_is_answered_and_those_overtaken_are_not() {
        let (begun, has_begun) = mpsc::channel();
        let (go_on, may_go_on) = mpsc::channel::<()>();
        let (woken, is_woken) = mpsc::channel();
        let woken = Mutex::new(woken);
        let wake = Wake::by(move || woken.lock().unwrap().send(()).unwrap());
        let worker = Worker::start("test", wake, move |question: i32, _| {
            begun.send(question).unwrap();
            may_go_on.recv().ok()?;
            Some(10 * question)
        });
        worker.ask(1);
        assert_eq!(has_begun.recv(), Ok(1));
        worker.ask(2);
        worker.ask(3);
        assert!(worker.is_busy());
        go_on.send(()).unwrap();
        is_woken.recv().unwrap();
        assert_eq!(worker.take(), Some(10));
        assert_eq!(worker.take(), None);
        assert_eq!(has_begun.recv(), Ok(3));
        go_on.send(()).unwrap();
        is_woken.recv().unwrap();
        assert_eq!(worker.take(), Some(30));
        assert!(!worker.is_busy());
    }

    #[test]
    fn what_is_called_off_has_no_answer_and_the_next_question_has() {
        let (begun, has_begun) = mpsc::channel();
        let (woken, is_woken) = mpsc::channel();
        let woken = Mutex::new(woken);
        let wake = Wake::by(move || woken.lock().unwrap().send(()).unwrap());
        let worker = Worker::start("test", wake, move |question: i32, keep_going| {
            begun.send(()).unwrap();
            while question == 1 && keep_going() {
                thread::yield_now();
            }
            keep_going().then_some(question)
        });
        worker.ask(1);
        has_begun.recv().unwrap();
        worker.call_off();
        is_woken.recv().unwrap();
        assert_eq!(worker.take(), None);
        worker.ask(2);
        is_woken.recv().unwrap();
        assert_eq!(worker.take(), Some(2));
    }
}
