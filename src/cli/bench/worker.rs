//! Work that goes on beside the server: the newest job alone, an older one is stopped for it.

use flyheft::study::Progress;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

/// How a job ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ended {
    /// It came to its end.
    Finished,
    /// Something newer stopped it.
    Stopped,
}

/// What became of the jobs of a worker.
#[derive(Debug, Default)]
pub(super) struct Counts {
    started: AtomicUsize,
    stopped: AtomicUsize,
    finished: AtomicUsize,
}

impl Counts {
    /// Started, stopped, finished.
    pub(super) fn read(&self) -> [usize; 3] {
        [&self.started, &self.stopped, &self.finished].map(|count| count.load(Ordering::Relaxed))
    }
}

/// While somebody is at work here, others wait between two launches: what is under a finger goes
/// before what is only on its way.
#[derive(Debug, Default)]
pub(super) struct Precedence {
    taken: Mutex<usize>,
    freed: Condvar,
}

impl Precedence {
    /// Takes precedence until what is handed back is dropped.
    pub(super) fn take(self: &Arc<Self>) -> Taken {
        *lock(&self.taken) += 1;
        Taken(Arc::clone(self))
    }

    fn wait(&self) {
        let mut taken = lock(&self.taken);
        while *taken > 0 {
            taken = self
                .freed
                .wait(taken)
                .unwrap_or_else(PoisonError::into_inner);
        }
    }
}

/// Precedence taken.
pub(super) struct Taken(Arc<Precedence>);

impl Drop for Taken {
    fn drop(&mut self) {
        *lock(&self.0.taken) -= 1;
        self.0.freed.notify_all();
    }
}

/// A lock; a job that panicked has left nothing half done behind it that others read.
pub(super) fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Whether a job is to stop, for those who ask and for those who wait.
#[derive(Debug, Default)]
struct Bell {
    rung: AtomicBool,
    waiting: Mutex<()>,
    heard: Condvar,
}

impl Bell {
    fn ring(&self) {
        let waiting = lock(&self.waiting);
        self.rung.store(true, Ordering::Relaxed);
        drop(waiting);
        self.heard.notify_all();
    }

    fn is_rung(&self) -> bool {
        self.rung.load(Ordering::Relaxed)
    }

    /// Waits for it, at most so long.
    fn wait(&self, longest: Duration) {
        let waiting = lock(&self.waiting);
        // Rung or not, whoever waited looks.
        let _ = self
            .heard
            .wait_timeout_while(waiting, longest, |()| !self.is_rung());
    }
}

/// Stops a study when something newer is wanted, and lets others go before it.
#[derive(Debug, Clone)]
pub(super) struct Watch {
    bell: Arc<Bell>,
    after: Option<Arc<Precedence>>,
}

impl Watch {
    /// Rests for something newer to come, and no longer than until it does.
    pub(super) fn rest(&self, longest: Duration) {
        self.bell.wait(longest);
    }
}

impl Progress for Watch {
    fn stopped(&self) -> bool {
        if let Some(after) = &self.after
            && !self.bell.is_rung()
        {
            after.wait();
        }
        self.bell.is_rung()
    }
}

/// A study that nobody's worker does: it is stopped when this is dropped.
#[derive(Debug)]
pub(super) struct Running(Watch);

impl Running {
    pub(super) fn new() -> Self {
        Self(Watch {
            bell: Arc::default(),
            after: None,
        })
    }

    /// What the study is given.
    pub(super) fn watch(&self) -> Watch {
        self.0.clone()
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        self.0.bell.ring();
    }
}

/// What is to be done next, and how to stop what is being done.
#[derive(Debug)]
struct Desk<J> {
    next: Option<J>,
    running: Option<Watch>,
}

#[derive(Debug)]
struct Shared<J> {
    desk: Mutex<Desk<J>>,
    given: Condvar,
    counts: Counts,
}

/// A thread that does the newest job it was given, and sleeps when there is none.
#[derive(Debug)]
pub(super) struct Worker<J> {
    shared: Arc<Shared<J>>,
}

impl<J: Send + 'static> Worker<J> {
    /// A worker; `after` goes before its jobs.
    ///
    /// # Errors
    /// When the system gives no thread.
    pub(super) fn new(
        name: &str,
        after: Option<Arc<Precedence>>,
        job: impl Fn(J, &Watch) -> Ended + Send + 'static,
    ) -> std::io::Result<Self> {
        let shared = Arc::new(Shared {
            desk: Mutex::new(Desk {
                next: None,
                running: None,
            }),
            given: Condvar::new(),
            counts: Counts::default(),
        });
        let mine = Arc::clone(&shared);
        std::thread::Builder::new()
            .name(name.to_owned())
            .spawn(move || work(&mine, after.as_ref(), &job))?;
        Ok(Self { shared })
    }

    /// Gives it a job in place of any older one.
    pub(super) fn give(&self, job: J) {
        let mut desk = lock(&self.shared.desk);
        desk.next = Some(job);
        stop(&desk);
        self.shared.given.notify_one();
    }

    /// Stops what it does.
    pub(super) fn stop(&self) {
        let mut desk = lock(&self.shared.desk);
        desk.next = None;
        stop(&desk);
    }

    /// What became of its jobs.
    pub(super) fn counts(&self) -> [usize; 3] {
        self.shared.counts.read()
    }

    /// Whether it has anything to do.
    pub(super) fn is_idle(&self) -> bool {
        let desk = lock(&self.shared.desk);
        desk.next.is_none() && desk.running.is_none()
    }
}

fn stop<J>(desk: &Desk<J>) {
    if let Some(running) = &desk.running {
        running.bell.ring();
    }
}

fn work<J>(
    shared: &Shared<J>,
    after: Option<&Arc<Precedence>>,
    job: &(impl Fn(J, &Watch) -> Ended + ?Sized),
) {
    loop {
        let (next, watch) = wait_for(shared, after);
        shared.counts.started.fetch_add(1, Ordering::Relaxed);
        let ended = job(next, &watch);
        let count = match ended {
            Ended::Finished => &shared.counts.finished,
            Ended::Stopped => &shared.counts.stopped,
        };
        count.fetch_add(1, Ordering::Relaxed);
        lock(&shared.desk).running = None;
    }
}

fn wait_for<J>(shared: &Shared<J>, after: Option<&Arc<Precedence>>) -> (J, Watch) {
    let mut desk = lock(&shared.desk);
    loop {
        if let Some(next) = desk.next.take() {
            let watch = Watch {
                bell: Arc::default(),
                after: after.cloned(),
            };
            desk.running = Some(watch.clone());
            return (next, watch);
        }
        desk = shared
            .given
            .wait(desk)
            .unwrap_or_else(PoisonError::into_inner);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::mpsc::channel;

    /// Far longer than any of these steps takes, and short enough to fail by.
    const LONG: Duration = Duration::from_secs(20);

    fn until(holds: impl Fn() -> bool) {
        let start = std::time::Instant::now();
        while !holds() {
            assert!(start.elapsed() < LONG, "it never came to hold");
            std::thread::yield_now();
        }
    }

    /// A job that is overtaken is stopped, those between are never begun, the newest is done.
    #[test]
    fn law_the_newest_job_is_done_and_older_ones_are_stopped() {
        let (tell, told) = channel();
        let worker = Worker::new("test", None, move |job: u32, watch: &Watch| {
            let _ = tell.send(job);
            if job == 9 {
                return Ended::Finished;
            }
            until(|| watch.stopped());
            Ended::Stopped
        })
        .expect("a thread");
        worker.give(1);
        assert_eq!(told.recv_timeout(LONG), Ok(1));
        worker.give(9);
        assert_eq!(told.recv_timeout(LONG), Ok(9));
        until(|| worker.is_idle());
        assert_eq!(worker.counts(), [2, 1, 1]);
    }

    /// A job at rest is woken by a newer one, not by its own patience.
    #[test]
    fn law_who_rests_is_woken_by_something_newer() {
        let (tell, told) = channel();
        let worker = Worker::new("test", None, move |job: u32, watch: &Watch| {
            let _ = tell.send(job);
            if job == 1 {
                watch.rest(Duration::MAX);
            }
            Ended::Finished
        })
        .expect("a thread");
        worker.give(1);
        assert_eq!(told.recv_timeout(LONG), Ok(1));
        worker.give(2);
        assert_eq!(told.recv_timeout(LONG), Ok(2));
    }

    #[test]
    fn law_what_is_under_the_finger_goes_first() {
        let precedence = Arc::new(Precedence::default());
        let (tell, told) = channel();
        let worker = Worker::new(
            "test",
            Some(Arc::clone(&precedence)),
            move |(), watch: &Watch| {
                let stopped = watch.stopped();
                let _ = tell.send(stopped);
                Ended::Finished
            },
        )
        .expect("a thread");
        let taken = precedence.take();
        worker.give(());
        assert!(told.recv_timeout(Duration::from_millis(50)).is_err());
        drop(taken);
        assert_eq!(told.recv_timeout(LONG), Ok(false));
    }
}
