//! How much is read beside a job: whatever lies there must not keep anybody waiting.

use std::cell::Cell;
use std::path::Path;
use std::time::{Duration, Instant};

use super::source::Source;

/// Most bytes of one file that lies beside a job; ours are a few kilobytes.
const LARGEST: u64 = 256 << 10;

/// Most files that are looked at.
const FILES: usize = 2000;

/// Longest time that is spent.
const TIME: Duration = Duration::from_secs(5);

/// Counts what is read beside a job, and keeps in mind what was left out.
pub struct Limits<'a> {
    began: Instant,
    time: Duration,
    stop: &'a dyn Fn() -> bool,
    files: usize,
    large: usize,
    cut: Cell<bool>,
}

impl<'a> Limits<'a> {
    /// `stop` ends it before its time.
    pub fn new(stop: &'a dyn Fn() -> bool) -> Limits<'a> {
        Limits { began: Instant::now(), time: TIME, stop, files: 0, large: 0, cut: Cell::new(false) }
    }

    #[cfg(test)]
    pub fn with_time(time: Duration) -> Limits<'static> {
        Limits { time, ..Limits::new(&|| false) }
    }

    /// The time counts from now on.
    pub fn begin(&mut self) {
        self.began = Instant::now();
    }

    /// Asked before anything more is looked at: whether there is neither time nor room left.
    pub fn is_over(&self) -> bool {
        let over = self.files >= FILES || self.began.elapsed() >= self.time;
        self.cut.set(self.cut.get() || over);
        over || (self.stop)()
    }

    /// The text of a file; none where it is too large, where it cannot be read, or where the time is over.
    pub fn load(&mut self, path: &Path) -> Option<Source> {
        if self.is_over() {
            return None;
        }
        self.files += 1;
        if std::fs::metadata(path).is_ok_and(|m| m.is_file() && m.len() > LARGEST) {
            self.large += 1;
            return None;
        }
        Source::load_up_to(path, LARGEST).ok()
    }

    /// What was left out, in a sentence; none when all was looked at.
    pub fn note(&self) -> Option<String> {
        let large = match self.large {
            0 => None,
            1 => Some(format!("1 file larger than {} KiB", LARGEST >> 10)),
            n => Some(format!("{n} files larger than {} KiB", LARGEST >> 10)),
        };
        let rest = format!("what was left after {FILES} files or {} s", self.time.as_secs());
        let told: Vec<String> = large.into_iter().chain(self.cut.get().then_some(rest)).collect();
        (!told.is_empty()).then(|| format!("not looked at beside this job: {}", told.join(", and ")))
    }
}
