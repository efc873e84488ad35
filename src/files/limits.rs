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
pub(super) struct Limits<'a> {
    began: Instant,
    time: Duration,
    stop: &'a dyn Fn() -> bool,
    files: usize,
    large: usize,
    cut: Cell<bool>,
}

impl<'a> Limits<'a> {
    /// `stop` ends it before its time.
    pub(super) fn new(stop: &'a dyn Fn() -> bool) -> Limits<'a> {
        Limits { began: Instant::now(), time: TIME, stop, files: 0, large: 0, cut: Cell::new(false) }
    }

    #[cfg(test)]
    pub(super) fn with_time(time: Duration) -> Limits<'static> {
        Limits { time, ..Limits::new(&|| false) }
    }

    /// The time counts from now on.
    pub(super) fn begin(&mut self) {
        self.began = Instant::now();
    }

    /// Asked before anything more is looked at: whether there is neither time nor room left.
    pub(super) fn is_over(&self) -> bool {
        let over = self.files >= FILES || self.began.elapsed() >= self.time;
        self.cut.set(self.cut.get() || over);
        over || (self.stop)()
    }

    /// The text of a file; none where it is too large, where it cannot be read, or where the time is over.
    pub(super) fn load(&mut self, path: &Path) -> Option<Source> {
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

    /// What was left out; none when all was looked at.
    pub(super) fn unread(&self) -> Option<Unread> {
        let rest = self.cut.get().then_some((FILES, self.time.as_secs()));
        let unread = Unread { large: self.large, kib: LARGEST >> 10, rest };
        (unread.large > 0 || rest.is_some()).then_some(unread)
    }
}

/// What beside a job was not looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Unread {
    /// So many files larger than `kib` KiB.
    pub large: usize,
    pub kib: u64,
    /// Whatever was left after so many files or so many seconds.
    pub rest: Option<(usize, u64)>,
}
