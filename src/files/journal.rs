//! Unsaved work, kept for the case that the program or the machine stops.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::model::Job;

use super::heights::Typed;
use super::read::read_text;
use super::save::to_text;
use super::source::Source;
use super::state::{read_state, unreadable, write_state};

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

#[derive(Serialize, Deserialize)]
struct KeptHeights {
    bay: String,
    typed: Typed,
}

impl Journal {
    /// A journal in a folder of the user's state.
    pub fn new(folder: impl Into<PathBuf>) -> Self {
        Journal { folder: folder.into().join("unsaved") }
    }

    /// Keeps heights that were typed for the floor of a bay's file, or with `None` forgets them. Gives a note when they
    /// cannot be kept.
    pub fn keep_heights(&self, bay: &Path, typed: Option<&Typed>) -> Option<String> {
        let bay = std::path::absolute(bay).unwrap_or_else(|_| bay.to_path_buf());
        let file = self.heights_file(&bay);
        match typed {
            None => {
                let _ = std::fs::remove_file(file); // not there: nothing was kept
                None
            }
            Some(typed) => {
                let kept = KeptHeights { bay: bay.display().to_string(), typed: typed.clone() };
                write_state(&file, &kept).err()
            }
        }
    }

    /// Heights that were kept for the floor of a bay's file.
    pub fn heights(&self, bay: &Path) -> Option<Typed> {
        let bay = std::path::absolute(bay).unwrap_or_else(|_| bay.to_path_buf());
        let kept = read_state::<KeptHeights>(&self.heights_file(&bay)).ok()??;
        (kept.bay == bay.display().to_string()).then_some(kept.typed)
    }

    /// In a folder of their own: the others hold jobs.
    fn heights_file(&self, bay: &Path) -> PathBuf {
        let name = format!("{:016x}", fingerprint(bay.to_string_lossy().as_bytes()));
        self.folder.join("heights").join(name).with_extension("json")
    }

    /// Keeps the job as it is now in place of what was kept for the same file. Gives a note when it cannot be kept.
    pub fn keep(&self, path: Option<&Path>, job: &Job) -> Option<String> {
        let path = path.map(|p| std::path::absolute(p).unwrap_or_else(|_| p.to_path_buf()));
        let text = match to_text(job) {
            Ok(text) => text,
            Err(why) => return Some(why),
        };
        let kept = Kept { path: path.as_deref().and_then(Path::to_str).map(str::to_owned), job: text };
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

#[cfg(test)]
mod tests {
    use super::*;

    const JOB: &str = "(name: \"J\", bay: \"b.ron\", vehicle: \"v.ron\", equipment: \"e.ron\", procedures: [], pose: Anywhere)";

    fn job() -> Job {
        read_text(JOB, Path::new("job.ron")).expect("a job")
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
        let told: Vec<_> =
            found.iter().map(|r| (r.path.as_deref(), r.job.name.as_str(), r.differs)).collect();
        assert_eq!(told, [(None, "changed", true), (Some(&*saved), "J", false)]);
        assert_eq!(journal.keep(Some(&saved), &changed), None);
        assert!(journal.recover().0[1].differs, "the later one takes the place of the first");
        journal.clear(None);
        journal.clear(Some(&saved));
        assert_eq!(journal.recover(), (vec![], vec![]));
    }

    #[test]
    fn heights_are_found_again_for_their_bay_alone() {
        let dir = tempfile::tempdir().expect("folder");
        let journal = Journal::new(dir.path());
        let (bay, other) = (dir.path().join("bay.ron"), dir.path().join("other.ron"));
        let typed = Typed { text: "0; 0; 1\n5".into(), error: "0.5".into(), ..Typed::default() };
        assert_eq!(journal.heights(&bay), None);
        assert_eq!(journal.keep_heights(&bay, Some(&typed)), None);
        assert_eq!((journal.heights(&bay), journal.heights(&other)), (Some(typed), None));
        assert_eq!(journal.recover(), (vec![], vec![]), "they are no jobs");
        journal.keep_heights(&bay, None);
        assert_eq!(journal.heights(&bay), None);
    }

    #[test]
    fn a_torn_journal_entry_is_noted_and_the_others_are_kept() {
        let dir = tempfile::tempdir().expect("folder");
        let journal = Journal::new(dir.path());
        journal.keep(None, &job());
        std::fs::write(dir.path().join("unsaved/0.json"), "{\"path\": null, \"job\": \"(name:")
            .expect("write");
        std::fs::write(dir.path().join("unsaved/1.json"), "{\"path\": null, \"job\": \"(name:\"}")
            .expect("write");
        let (found, notes) = journal.recover();
        assert_eq!((found.len(), notes.len()), (1, 2));
    }

    #[test]
    fn a_folder_that_cannot_be_written_gives_a_note() {
        let dir = tempfile::tempdir().expect("folder");
        let blocked = dir.path().join("a file");
        std::fs::write(&blocked, "").expect("write");
        assert!(Journal::new(&blocked).keep(None, &job()).is_some());
    }
}
