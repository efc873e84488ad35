//! The other bays in the folder of a job's bay.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::kind::{Kind, kind_of};
use super::limits::{Limits, Unread};
use super::open::named_path;
use super::read::Read;
use crate::model::{Bay, Job};

/// The bays beside a job's own, by file name, each with its file as the job would name it. Nothing is looked at before
/// the first is asked for, and each is read when its turn comes. Files that are no bay, or are faulty, are passed over;
/// large ones are left out, and what is left after a few seconds, which is said.
pub struct BaysBeside<'a> {
    own: PathBuf,
    /// The folder as the job names it.
    named: PathBuf,
    limits: Limits<'a>,
    files: Option<std::vec::IntoIter<PathBuf>>,
}

impl<'a> BaysBeside<'a> {
    /// Beside the bay of the job at `path`; `stop` ends it early.
    pub fn new(job: &Job, path: &Path, stop: &'a dyn Fn() -> bool) -> BaysBeside<'a> {
        BaysBeside {
            own: named_path(path, &job.bay.text),
            named: Path::new(&*job.bay.text).parent().unwrap_or(Path::new("")).to_owned(),
            limits: Limits::new(stop),
            files: None,
        }
    }

    /// What was left out so far, and why.
    pub fn unread(&self) -> Option<Unread> {
        self.limits.unread()
    }

    fn list(&mut self) -> std::vec::IntoIter<PathBuf> {
        self.limits.begin();
        let Some(Ok(entries)) = self.own.parent().map(std::fs::read_dir) else {
            return Vec::new().into_iter();
        };
        let paths = entries.flatten().map(|e| e.path()).take_while(|_| !self.limits.is_over());
        let bays = paths.filter(|p| p.extension().is_some_and(|e| e == "ron"));
        let mut files: Vec<PathBuf> = bays.filter(|p| p.file_name() != self.own.file_name()).collect();
        files.sort();
        files.into_iter()
    }
}

impl Iterator for BaysBeside<'_> {
    type Item = (String, Arc<Bay>);

    fn next(&mut self) -> Option<(String, Arc<Bay>)> {
        if self.files.is_none() {
            self.files = Some(self.list());
        }
        loop {
            let file = self.files.as_mut()?.next()?;
            let source = self.limits.load(&file).filter(|s| kind_of(&s.text) == Some(Kind::Bay));
            if let (Some(source), Some(name)) = (source, file.file_name())
                && let Ok(bay) = Read::<Bay>::new(&source).result()
            {
                let name = self.named.join(name).to_string_lossy().replace('\\', "/");
                return Some((name, Arc::new(bay)));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::super::read_text;
    use super::*;

    fn shop() -> (tempfile::TempDir, Job) {
        let dir = tempfile::tempdir().expect("folder");
        let bay = |name: &str| format!("(name: \"{name}\", floor: [(0, 0), (5000, 0), (0, 5)])");
        for name in ["own", "one", "two"] {
            std::fs::write(dir.path().join(format!("{name}.ron")), bay(name)).expect("written");
        }
        let large = bay("large") + &" ".repeat(300 << 10);
        std::fs::write(dir.path().join("large.ron"), large).expect("written");
        std::fs::write(dir.path().join("bad.ron"), "(name: \"bad\", floor: 5)").expect("written");
        let job = "(name: \"J\", bay: \"own.ron\", vehicle: \"v\", equipment: \"e\", procedures: [], pose: Anywhere)";
        let job = read_text::<Job>(job, Path::new("job.ron")).expect("a job");
        (dir, job)
    }

    #[test]
    fn a_neighbour_that_is_too_large_is_left_out_and_told() {
        let (dir, job) = shop();
        let go_on = || false;
        let mut beside = BaysBeside::new(&job, &dir.path().join("job.ron"), &go_on);
        let names: Vec<String> = beside.by_ref().map(|b| b.0).collect();
        assert_eq!(names, ["one.ron", "two.ron"]);
        assert_eq!(beside.unread(), Some(Unread { large: 1, kib: 256, rest: None }));
    }

    #[test]
    fn nothing_is_read_once_the_time_is_over() {
        let (dir, job) = shop();
        let (go_on, stop) = (|| false, || true);
        let mut beside = BaysBeside::new(&job, &dir.path().join("job.ron"), &go_on);
        beside.limits = Limits::with_time(Duration::ZERO);
        assert!(beside.next().is_none());
        assert_eq!(beside.unread(), Some(Unread { large: 0, kib: 256, rest: Some((2000, 0)) }));
        let mut stopped = BaysBeside::new(&job, &dir.path().join("job.ron"), &stop);
        assert!(stopped.next().is_none() && stopped.unread().is_none());
    }
}
