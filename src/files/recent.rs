//! The jobs and the workshops opened lately.

use std::path::{Path, PathBuf};

use super::state::{read_state, write_state};

/// Most jobs that are remembered as opened lately.
const RECENT: usize = 12;

/// The jobs opened lately, or the workshops, newest first.
#[derive(Clone, Debug)]
pub struct Recent {
    folder: PathBuf,
    file: &'static str,
}

impl Recent {
    pub fn new(folder: impl Into<PathBuf>) -> Self {
        Recent { folder: folder.into(), file: "recent.json" }
    }

    /// The folders of the workshops opened lately.
    pub fn workshops(folder: impl Into<PathBuf>) -> Self {
        Recent { folder: folder.into(), file: "workshops.json" }
    }

    /// The remembered paths, newest first, and a note when what was remembered cannot be read.
    pub fn list(&self) -> (Vec<PathBuf>, Option<String>) {
        let file = self.file();
        match read_state::<Vec<String>>(&file) {
            Ok(paths) => {
                (paths.unwrap_or_default().into_iter().take(RECENT).map(PathBuf::from).collect(), None)
            }
            Err(note) => (Vec::new(), Some(note)),
        }
    }

    /// Puts a job first. Gives a note when it cannot be remembered.
    pub fn add(&self, job: &Path) -> Option<String> {
        let job = std::path::absolute(job).unwrap_or_else(|_| job.to_path_buf());
        let mut paths = self.list().0;
        paths.retain(|p| *p != job);
        paths.insert(0, job);
        self.write(&paths)
    }

    /// Takes a job off the list, as when its file is gone.
    pub fn forget(&self, job: &Path) -> Option<String> {
        let job = std::path::absolute(job).unwrap_or_else(|_| job.to_path_buf());
        let mut paths = self.list().0;
        paths.retain(|p| *p != job);
        self.write(&paths)
    }

    fn write(&self, paths: &[PathBuf]) -> Option<String> {
        let texts: Vec<&str> = paths.iter().filter_map(|p| p.to_str()).take(RECENT).collect();
        write_state(&self.file(), &texts).err()
    }

    fn file(&self) -> PathBuf {
        self.folder.join(self.file)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn recent_jobs_come_newest_first_once_each_and_not_for_ever() {
        let dir = tempfile::tempdir().expect("folder");
        let recent = Recent::new(dir.path().join("not/yet/there"));
        assert_eq!(recent.list(), (vec![], None));
        let paths: Vec<PathBuf> = (0..RECENT + 3).map(|i| dir.path().join(format!("ä {i}.ron"))).collect();
        for path in &paths {
            assert_eq!(recent.add(path), None);
        }
        recent.add(&paths[10]);
        let list = recent.list().0;
        assert_eq!(list.len(), RECENT);
        assert_eq!(list[0], paths[10]);
        assert_eq!(list[1], paths[RECENT + 2]);
        assert_eq!(list.iter().filter(|p| **p == paths[10]).count(), 1);
        recent.forget(&paths[10]);
        assert!(!recent.list().0.contains(&paths[10]));
    }

    #[test]
    fn corrupt_state_is_passed_over_with_a_note_and_written_anew() {
        let dir = tempfile::tempdir().expect("folder");
        let recent = Recent::new(dir.path());
        for bad in [&b"{\"half"[..], b"\xff\xfe", b"", b"{\"a\": 1}"] {
            std::fs::write(dir.path().join("recent.json"), bad).expect("write");
            let (list, note) = recent.list();
            assert!(list.is_empty() && note.is_some_and(|n| n.contains("recent.json cannot be read")));
        }
        assert_eq!(recent.add(Path::new("job.ron")), None);
        assert_eq!(recent.list().0.len(), 1);
    }

    #[test]
    fn a_folder_that_cannot_be_written_gives_a_note() {
        let dir = tempfile::tempdir().expect("folder");
        let blocked = dir.path().join("a file");
        std::fs::write(&blocked, "").expect("write");
        assert!(Recent::new(&blocked).add(Path::new("job.ron")).is_some());
    }
}
