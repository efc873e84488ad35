//! Work done beside the window by a thread of its own, which wakes the window once it has its answer.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::thread::{Builder, JoinHandle};

use egui::Context;

/// One piece of work under way.
pub struct Worker<T> {
    answer: Receiver<T>,
    thread: JoinHandle<()>,
}

/// What has become of a piece of work.
pub enum Outcome<T> {
    UnderWay(Worker<T>),
    Done(T),
    /// It ended without an answer.
    Lost,
}

impl<T: Send + 'static> Worker<T> {
    /// Starts the work; `None` where the system gives no thread.
    pub fn start(name: &str, ctx: &Context, work: impl FnOnce() -> T + Send + 'static) -> Option<Worker<T>> {
        let (send, answer) = channel();
        let ctx = ctx.clone();
        let called = name.to_owned();
        let whole = move || {
            match std::panic::catch_unwind(std::panic::AssertUnwindSafe(work)) {
                Ok(answer) => {
                    if send.send(answer).is_err() {
                        return; // nobody waits for it any more
                    }
                }
                Err(_) => {
                    drop(send);
                    ctx.data_mut(|d| d.insert_temp(broken(), called));
                }
            }
            ctx.request_repaint();
        };
        let thread = Builder::new().name(name.into()).spawn(whole).ok()?;
        Some(Worker { answer, thread })
    }

    /// The answer, once it is there. The thread is waited for then: it has only to wake the window, and does not do so
    /// later, when nothing is new any more.
    pub fn poll(self) -> Outcome<T> {
        let outcome = match self.answer.try_recv() {
            Err(TryRecvError::Empty) => return Outcome::UnderWay(self),
            Ok(answer) => Outcome::Done(answer),
            Err(TryRecvError::Disconnected) => Outcome::Lost,
        };
        // a thread that panicked has sent nothing, which the outcome says
        let _ = self.thread.join();
        outcome
    }
}

fn broken() -> egui::Id {
    egui::Id::unique("work that broke off")
}

/// What a piece of work was called that broke off by a fault of the program since this was last asked.
pub fn take_broken(ctx: &Context) -> Option<String> {
    ctx.data_mut(|d| d.remove_temp(broken()))
}

/// Work about something, told to stop once nobody waits for it any more.
pub struct Task<K, T> {
    pub about: K,
    worker: Worker<T>,
    stop: Stop,
}

/// Tells the work to stop when it is let go.
struct Stop(Arc<AtomicBool>);

impl Drop for Stop {
    fn drop(&mut self) {
        self.0.store(true, Ordering::Relaxed);
    }
}

impl<K, T: Send + 'static> Task<K, T> {
    /// Starts the work, which asks now and then whether it is to stop; `None` where the system gives no thread.
    pub fn start(
        name: &str,
        ctx: &Context,
        about: K,
        work: impl FnOnce(&dyn Fn() -> bool) -> T + Send + 'static,
    ) -> Option<Task<K, T>> {
        let stop = Arc::new(AtomicBool::new(false));
        let watched = stop.clone();
        let worker = Worker::start(name, ctx, move || work(&|| watched.load(Ordering::Relaxed)))?;
        Some(Task { about, worker, stop: Stop(stop) })
    }

    /// Takes a task that has ended, with its answer if it had one; leaves one that is under way.
    pub fn ended(running: &mut Option<Task<K, T>>) -> Option<(K, Option<T>)> {
        let Task { about, worker, stop } = running.take()?;
        match worker.poll() {
            Outcome::UnderWay(worker) => {
                *running = Some(Task { about, worker, stop });
                None
            }
            Outcome::Done(answer) => Some((about, Some(answer))),
            Outcome::Lost => Some((about, None)),
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::AtomicUsize;

    use super::*;

    fn ended<T: Send + 'static>(mut worker: Worker<T>) -> Option<T> {
        loop {
            match worker.poll() {
                Outcome::UnderWay(still) => worker = still,
                Outcome::Done(answer) => return Some(answer),
                Outcome::Lost => return None,
            }
            std::thread::yield_now();
        }
    }

    #[test]
    fn once_the_answer_is_taken_the_window_was_woken() {
        for _ in 0..200 {
            let ctx = Context::default();
            let woken = Arc::new(AtomicUsize::new(0));
            let count = woken.clone();
            ctx.set_request_repaint_callback(move |_| {
                count.fetch_add(1, Ordering::SeqCst);
            });
            let worker = Worker::start("test", &ctx, || 7).unwrap();
            assert_eq!(ended(worker), Some(7));
            assert_eq!(woken.load(Ordering::SeqCst), 1);
        }
    }

    #[test]
    fn work_that_breaks_off_is_lost_and_not_waited_for() {
        let ctx = Context::default();
        let worker: Worker<u8> =
            Worker::start("test", &ctx, || std::panic::resume_unwind(Box::new(()))).unwrap();
        assert_eq!(ended(worker), None);
        assert_eq!(take_broken(&ctx).as_deref(), Some("test"), "and is told of, once");
        assert_eq!(take_broken(&ctx), None);
    }

    #[test]
    fn a_task_nobody_waits_for_is_told_to_stop() {
        let told = Arc::new(AtomicBool::new(false));
        let tell = told.clone();
        let work = move |stop: &dyn Fn() -> bool| {
            while !stop() {
                std::thread::yield_now();
            }
            tell.store(true, Ordering::SeqCst);
        };
        let mut running = Task::start("test", &Context::default(), 7, work);
        assert!(Task::ended(&mut running).is_none() && running.as_ref().is_some_and(|t| t.about == 7));
        drop(running);
        while !told.load(Ordering::SeqCst) {
            std::thread::yield_now();
        }
    }
}
