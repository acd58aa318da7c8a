//! One reckoning at a time for each kind of call, each with a limit of time.
//!
//! A thread that reckons can't be stopped from outside. One that passes its limit is answered for, and its place is
//! given to the next, so that a hostile file can't shut the desk; only so many may be overdue at once.

use std::sync::Arc;
use std::sync::atomic::{AtomicU8, AtomicUsize, Ordering};
use std::time::Duration;

use tokio::sync::{OwnedSemaphorePermit, Semaphore};
use tokio::task::spawn_blocking;
use tokio::time::timeout;

use super::refused::Refused;

/// How long a call waits for its turn.
const WAIT: Duration = Duration::from_secs(20);
/// How long a scan may be read, or written and judged for the first time.
pub(crate) const SCAN: Duration = Duration::from_secs(120);
/// How many of a kind may be overdue.
const OVERDUE: usize = 3;

const RUNNING: u8 = 0;
const DONE: u8 = 1;
const REPLACED: u8 = 2;

/// The calls of one kind.
#[derive(Debug)]
pub(crate) struct Lane {
    turn: Arc<Semaphore>,
    overdue: Arc<AtomicUsize>,
    limit: Duration,
    work: Work,
}

/// What kind of work a lane does, for the words where it takes too long.
#[derive(Clone, Copy, Debug)]
enum Work {
    Reckons,
    /// It can't be called back: what it was about to write may still come.
    Writes,
    ReadsScans,
}

impl Work {
    fn late(self, seconds: u64) -> String {
        match self {
            Self::Reckons => format!(
                "This was not reckoned within {seconds} s, and is given up: the boat file asks for too much."
            ),
            Self::Writes => format!(
                "This was not done within {seconds} s, and may still be written: load the page again and look."
            ),
            Self::ReadsScans => format!(
                "The scan was not gone through within {seconds} s, and is given up: let the scanning program or a mesh program thin it out."
            ),
        }
    }
}

impl Lane {
    /// A lane whose work may take so long.
    pub(crate) fn of(limit: Duration) -> Self {
        Self {
            turn: Arc::new(Semaphore::new(1)),
            overdue: Arc::new(AtomicUsize::new(0)),
            limit,
            work: Work::Reckons,
        }
    }

    /// The same for work of another kind.
    fn doing(self, work: Work) -> Self {
        Self { work, ..self }
    }

    /// Does the work on a thread of its own when it is its turn. A defect in it is refused in one sentence.
    pub(crate) async fn run<T: Send + 'static>(
        &self,
        job: impl FnOnce() -> Result<T, Refused> + Send + 'static,
    ) -> Result<T, Refused> {
        self.run_within(self.limit, job).await
    }

    /// The same with a limit of its own, for work of the lane that takes longer.
    pub(crate) async fn run_within<T: Send + 'static>(
        &self,
        limit: Duration,
        job: impl FnOnce() -> Result<T, Refused> + Send + 'static,
    ) -> Result<T, Refused> {
        let busy = || Refused::busy("The program is still busy with the call before: try again.");
        let turn = timeout(WAIT, Arc::clone(&self.turn).acquire_owned())
            .await
            .map_err(|_| busy())?
            .map_err(|_| busy())?;
        let state = Arc::new(AtomicU8::new(RUNNING));
        let end = End {
            state: Arc::clone(&state),
            overdue: Arc::clone(&self.overdue),
            turn: Some(turn),
        };
        let work = spawn_blocking(move || {
            // Dropped at the end, and by a defect too.
            let _end = end;
            job()
        });
        match timeout(limit, work).await {
            Ok(Ok(done)) => done,
            Ok(Err(_)) => Err(Refused::defect()),
            Err(_) => {
                self.pass(&state);
                Err(Refused::busy(self.work.late(limit.as_secs())))
            }
        }
    }

    /// Gives the place of work that is overdue to the next.
    fn pass(&self, state: &AtomicU8) {
        let count = |overdue: usize| (overdue < OVERDUE).then_some(overdue + 1);
        let (set, get) = (Ordering::AcqRel, Ordering::Acquire);
        if self.overdue.fetch_update(set, get, count).is_err() {
            return;
        }
        match state.compare_exchange(RUNNING, REPLACED, set, get) {
            Ok(_) => self.turn.add_permits(1),
            // It came to its end just now.
            Err(_) => _ = self.overdue.fetch_sub(1, set),
        }
    }
}

/// What is done when work ends, well or not.
struct End {
    state: Arc<AtomicU8>,
    overdue: Arc<AtomicUsize>,
    turn: Option<OwnedSemaphorePermit>,
}

impl Drop for End {
    fn drop(&mut self) {
        let was = self.state.swap(DONE, Ordering::AcqRel);
        if was == REPLACED {
            if let Some(turn) = self.turn.take() {
                turn.forget();
            }
            self.overdue.fetch_sub(1, Ordering::AcqRel);
        }
    }
}

/// The kinds of calls.
#[derive(Debug)]
pub(crate) struct Lanes {
    /// The whole answer.
    pub(crate) page: Lane,
    /// Whatever writes.
    pub(crate) edit: Lane,
    /// Sampled chances, behind the first answer.
    pub(crate) settle: Lane,
    /// Strip and loop.
    pub(crate) draw: Lane,
    /// A value that is being typed.
    pub(crate) value: Lane,
    /// Trials.
    pub(crate) trial: Lane,
    /// The survey.
    pub(crate) survey: Lane,
    /// Flow, order, filling, card.
    pub(crate) stage: Lane,
    /// PDF and other files.
    pub(crate) print: Lane,
    /// A look at the file on the disk.
    pub(crate) look: Lane,
    /// A scan that is read, pressed on or laid in.
    pub(crate) scan: Lane,
}

impl Default for Lanes {
    fn default() -> Self {
        let lane = |seconds| Lane::of(Duration::from_secs(seconds));
        Self {
            page: lane(20),
            edit: lane(20).doing(Work::Writes),
            settle: lane(60),
            draw: lane(20),
            value: lane(10),
            trial: lane(20),
            survey: lane(60),
            stage: lane(60),
            print: lane(120),
            look: lane(20),
            scan: Lane::of(SCAN).doing(Work::ReadsScans),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn run<T>(work: impl Future<Output = T>) -> T {
        tokio::runtime::Builder::new_multi_thread()
            .worker_threads(1)
            .enable_time()
            .build()
            .unwrap()
            .block_on(work)
    }

    #[test]
    fn work_that_never_ends_is_answered_for_and_bars_nobody() {
        run(async {
            let lane = Lane::of(Duration::from_millis(20));
            let (stop, held) = std::sync::mpsc::channel::<()>();
            let hung = lane.run(move || {
                // Until the test lets go of the other end.
                let _ = held.recv();
                Ok(())
            });
            assert_eq!(hung.await.unwrap_err().status, 503);
            assert_eq!(lane.run(|| Ok(7)).await.unwrap(), 7);
            drop(stop);
        });
    }

    #[test]
    fn a_late_scan_is_not_the_boat_files_fault() {
        run(async {
            let lane = Lane::of(Duration::from_millis(20)).doing(Work::ReadsScans);
            let (stop, held) = std::sync::mpsc::channel::<()>();
            let hung = lane.run(move || {
                let _ = held.recv();
                Ok(())
            });
            let why = hung.await.unwrap_err().wrong.why;
            assert!(
                why.contains("thin it out") && !why.contains("boat file"),
                "{why}"
            );
            drop(stop);
        });
    }

    #[test]
    fn a_defect_is_one_sentence() {
        run(async {
            let lane = Lane::of(Duration::from_secs(5));
            let broken: Result<(), Refused> = lane.run(|| panic!("a defect")).await;
            assert_eq!(broken.unwrap_err().status, 500);
            assert_eq!(lane.run(|| Ok(7)).await.unwrap(), 7);
        });
    }
}
