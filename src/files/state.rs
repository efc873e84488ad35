//! What the program remembers between two runs, in the user's own folder: jobs opened lately, and unsaved work.
//!
//! Nothing here is ever in the way: what cannot be read or written is passed over, with a note for the user.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::model::Job;

use super::read::read_text;
use super::save::{to_text, write_whole};
use super::source::Source;

/// Most jobs that are remembered as opened lately.
const RECENT: usize = 12;

/// The user's folder for such things, or `None` where the system has none. `XDG_STATE_HOME` is followed on Linux.
pub fn state_folder() -> Option<PathBuf> {
    let dirs = directories::ProjectDirs::from("", "", "baywright")?;
    Some(
        dirs.state_dir()
            .unwrap_or(dirs.data_local_dir())
            .to_path_buf(),
    )
}

/// The jobs opened lately, newest first.
#[derive(Clone, Debug)]
pub struct Recent {
    folder: PathBuf,
}

impl Recent {
    pub fn new(folder: impl Into<PathBuf>) -> Self {
        Recent {
            folder: folder.into(),
        }
    }

    /// The remembered paths, newest first, and a note when what was remembered cannot be read.
    pub fn list(&self) -> (Vec<PathBuf>, Option<String>) {
        let file = self.file();
        match read_state::<Vec<String>>(&file) {
            Ok(paths) => (
                paths
                    .unwrap_or_default()
                    .into_iter()
                    .take(RECENT)
                    .map(PathBuf::from)
                    .collect(),
                None,
            ),
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
        let texts: Vec<&str> = paths
            .iter()
            .filter_map(|p| p.to_str())
            .take(RECENT)
            .collect();
        write_state(&self.file(), &texts).err()
    }

    fn file(&self) -> PathBuf {
        self.folder.join("recent.json")
    }
}

/// Unsaved work, kept so that it survives a crash: one entry for each job file, one for a job that has none yet.
#[derive(Clone, Debug)]
pub struct Journal {
    folder: PathBuf,
}

/// Unsaved work found again.
#[derive(Clone, Debug, PartialEq)]
pub struct Recovered {
    /// The file the job was opened from, if it had one.
    pub path: Option<PathBuf>,
    pub job: Job,
    /// The file does not say the same by now, or is gone.
    pub differs: bool,
}

#[derive(Serialize, Deserialize)]
struct Kept {
    path: Option<String>,
    job: String,
}

impl Journal {
    /// A journal in a folder of the user's state.
    pub fn new(folder: impl Into<PathBuf>) -> Self {
        Journal {
            folder: folder.into().join("unsaved"),
        }
    }

    /// Keeps the job as it is now in place of what was kept for the same file. Gives a note when it cannot be kept.
    pub fn keep(&self, path: Option<&Path>, job: &Job) -> Option<String> {
        let path = path.map(|p| std::path::absolute(p).unwrap_or_else(|_| p.to_path_buf()));
        let text = match to_text(job) {
            Ok(text) => text,
            Err(why) => return Some(why),
        };
        let kept = Kept {
            path: path.as_deref().and_then(Path::to_str).map(str::to_owned),
            job: text,
        };
        write_state(&self.file(path.as_deref()), &kept).err()
    }

    /// Forgets what was kept for a file, as after saving it.
    pub fn clear(&self, path: Option<&Path>) {
        let path = path.map(|p| std::path::absolute(p).unwrap_or_else(|_| p.to_path_buf()));
        let _ = std::fs::remove_file(self.file(path.as_deref())); // not there: nothing was kept
    }

    /// Everything that was kept, sorted by path, and a note for each entry that cannot be read.
    pub fn recover(&self) -> (Vec<Recovered>, Vec<String>) {
        let (mut found, mut notes) = (Vec::new(), Vec::new());
        let Ok(entries) = std::fs::read_dir(&self.folder) else {
            return (found, notes);
        };
        let mut files: Vec<PathBuf> = entries.flatten().map(|e| e.path()).collect();
        files.retain(|f| f.extension().is_some_and(|e| e == "json"));
        files.sort();
        for file in files {
            match read_state::<Kept>(&file) {
                Ok(Some(kept)) => match read_text::<Job>(&kept.job, &file) {
                    Ok(job) => {
                        let path = kept.path.map(PathBuf::from);
                        let saved = path.as_deref().and_then(|p| {
                            let source = Source::load(p).ok()?;
                            read_text::<Job>(&source.text, p).ok()
                        });
                        let differs = saved.as_ref() != Some(&job);
                        found.push(Recovered { path, job, differs });
                    }
                    Err(_) => notes.push(unreadable(&file)),
                },
                Ok(None) => {}
                Err(note) => notes.push(note),
            }
        }
        found.sort_by(|a, b| a.path.cmp(&b.path));
        (found, notes)
    }

    fn file(&self, path: Option<&Path>) -> PathBuf {
        let name = match path {
            None => "untitled".to_owned(),
            Some(path) => format!("{:016x}", fingerprint(path.to_string_lossy().as_bytes())),
        };
        self.folder.join(name).with_extension("json")
    }
}

/// FNV-1a, the same on every machine and in every version.
fn fingerprint(bytes: &[u8]) -> u64 {
    let step = |hash: u64, byte: &u8| (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3);
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, step)
}

fn unreadable(file: &Path) -> String {
    format!("{} cannot be read and is passed over", file.display())
}

/// `None` when there is no such file.
pub(super) fn read_state<T: for<'de> Deserialize<'de>>(file: &Path) -> Result<Option<T>, String> {
    if !file.exists() {
        return Ok(None);
    }
    let source = Source::load(file).map_err(|_| unreadable(file))?;
    serde_json::from_str(&source.text)
        .map(Some)
        .map_err(|_| unreadable(file))
}

pub(super) fn write_state<T: Serialize>(file: &Path, value: &T) -> Result<(), String> {
    let failed = |e: &dyn std::fmt::Display| format!("{} cannot be written: {e}", file.display());
    if let Some(folder) = file.parent() {
        std::fs::create_dir_all(folder).map_err(|e| failed(&e))?;
    }
    let text = serde_json::to_string_pretty(value).map_err(|e| failed(&e))?;
    write_whole(file, text.as_bytes()).map_err(|e| failed(&e))
}

#[cfg(test)]
mod tests {
    use super::*;

    const JOB: &str = "(name: \"J\", bay: \"b.ron\", vehicle: \"v.ron\", equipment: \"e.ron\", procedures: [], pose: Anywhere)";

    fn job() -> Job {
        read_text(JOB, Path::new("job.ron")).expect("a job")
    }

    #[test]
    fn recent_jobs_come_newest_first_once_each_and_not_for_ever() {
        let dir = tempfile::tempdir().expect("folder");
        let recent = Recent::new(dir.path().join("not/yet/there"));
        assert_eq!(recent.list(), (vec![], None));
        let paths: Vec<PathBuf> = (0..RECENT + 3)
            .map(|i| dir.path().join(format!("ä {i}.ron")))
            .collect();
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
            assert!(
                list.is_empty() && note.is_some_and(|n| n.contains("recent.json cannot be read"))
            );
        }
        assert_eq!(recent.add(Path::new("job.ron")), None);
        assert_eq!(recent.list().0.len(), 1);
    }

    #[test]
    fn unsaved_work_is_found_again_and_forgotten_when_saved() {
        let dir = tempfile::tempdir().expect("folder");
        let journal = Journal::new(dir.path());
        assert_eq!(journal.recover(), (vec![], vec![]));
        let saved = dir.path().join("saved.ron");
        std::fs::write(&saved, JOB).expect("write");
        let mut changed = job();
        changed.name = "changed".into();
        assert_eq!(journal.keep(None, &changed), None);
        assert_eq!(journal.keep(Some(&saved), &job()), None);
        let (found, notes) = journal.recover();
        assert!(notes.is_empty());
        let told: Vec<_> = found
            .iter()
            .map(|r| (r.path.as_deref(), r.job.name.as_str(), r.differs))
            .collect();
        assert_eq!(told, [(None, "changed", true), (Some(&*saved), "J", false)]);
        assert_eq!(journal.keep(Some(&saved), &changed), None);
        assert!(
            journal.recover().0[1].differs,
            "the later one takes the place of the first"
        );
        journal.clear(None);
        journal.clear(Some(&saved));
        assert_eq!(journal.recover(), (vec![], vec![]));
    }

    #[test]
    fn a_torn_journal_entry_is_noted_and_the_others_are_kept() {
        let dir = tempfile::tempdir().expect("folder");
        let journal = Journal::new(dir.path());
        journal.keep(None, &job());
        std::fs::write(
            dir.path().join("unsaved/0.json"),
            "{\"path\": null, \"job\": \"(name:",
        )
        .expect("write");
        std::fs::write(
            dir.path().join("unsaved/1.json"),
            "{\"path\": null, \"job\": \"(name:\"}",
        )
        .expect("write");
        let (found, notes) = journal.recover();
        assert_eq!((found.len(), notes.len()), (1, 2));
    }

    #[test]
    fn a_folder_that_cannot_be_written_gives_a_note() {
        let dir = tempfile::tempdir().expect("folder");
        let blocked = dir.path().join("a file");
        std::fs::write(&blocked, "").expect("write");
        assert!(Recent::new(&blocked).add(Path::new("job.ron")).is_some());
        assert!(Journal::new(&blocked).keep(None, &job()).is_some());
    }
}
