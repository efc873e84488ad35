//! How far a search has come, and the way to stop it from another thread.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

/// Shared between a search and whoever waits for it.
#[derive(Debug, Default)]
pub struct Progress {
    done: AtomicUsize,
    total: AtomicUsize,
    stop: AtomicBool,
}

/// The search was stopped before it had an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stopped;

impl Progress {
    pub fn new() -> Progress {
        Progress::default()
    }

    /// Asks the search to stop; it does so within a few milliseconds.
    pub fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    pub fn is_stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }

    /// Steps done and steps known of so far.
    pub fn steps(&self) -> (usize, usize) {
        (self.done.load(Ordering::Relaxed), self.total.load(Ordering::Relaxed))
    }

    /// From 0 to 1.
    pub fn fraction(&self) -> f32 {
        let (done, total) = self.steps();
        if total == 0 { 0.0 } else { (done as f32 / total as f32).min(1.0) }
    }

    pub(super) fn expect(&self, steps: usize) {
        self.total.fetch_add(steps, Ordering::Relaxed);
    }

    pub(super) fn step(&self) {
        self.done.fetch_add(1, Ordering::Relaxed);
    }

    pub(super) fn go_on(&self) -> Result<(), Stopped> {
        if self.is_stopped() { Err(Stopped) } else { Ok(()) }
    }
}
