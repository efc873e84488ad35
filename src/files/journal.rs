//! Unsaved work, kept for the case that the program or the machine stops.
//!
//! Every window has an entry of its own, which it holds a lock on while it lives. The system lets go of the lock however
//! the window ends, so that an entry without a living owner is work to be found again; it stays under its own name until
//! it is taken up or thrown away.

use std::fs::{File, TryLockError};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};

use serde::{Deserialize, Serialize};

use super::folder::plain_path;
use super::heights::Typed;
use super::open::Texts;
use super::source::Source;
use super::state::{read_state, unreadable, write_state};
use super::write_whole::reason;

/// The unsaved work of one window.
#[derive(Debug)]
pub struct Journal {
    folder: PathBuf,
    /// The window's own entry, without its ending.
    own: PathBuf,
    /// Held while the window lives; `None` where it could not be had.
    _lock: Option<File>,
}

/// What is kept of a window.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Kept {
    /// The job's name, to be shown.
    pub name: String,
    /// The job's file, or where it would be.
    pub job: String,
    /// Whether the job has a file.
    pub named: bool,
    /// The files whose text is not what the disk holds.
    pub files: Vec<KeptFile>,
    /// Heights typed for the floor of a bay that are in no text yet.
    pub heights: Option<KeptHeights>,
}

/// A file's text that is in no file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeptFile {
    pub path: String,
    pub text: String,
}

/// A table of heights under change, and the bay's file it is for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeptHeights {
    pub bay: String,
    pub typed: Typed,
}

/// Unsaved work found again.
#[derive(Clone, Debug, PartialEq)]
pub struct Recovered {
    pub kept: Kept,
    entry: PathBuf,
}

impl Recovered {
    /// The job's file, if it has one.
    pub fn path(&self) -> Option<&Path> {
        self.kept.named.then_some(Path::new(&self.kept.job))
    }

    /// The same without the texts: what else was kept.
    pub fn without_files(&self) -> Recovered {
        let mut rest = self.clone();
        rest.kept.files.clear();
        rest
    }

    /// The texts that were kept.
    pub fn texts(&self) -> Texts {
        let source = |f: &KeptFile| (plain_path(Path::new(&f.path)), Arc::new(Source::new(&f.path, &f.text)));
        self.kept.files.iter().map(source).collect()
    }
}

impl Journal {
    /// A new window's entry in a folder of the user's state; a note where none can be made.
    pub fn new(state: &Path) -> (Self, Option<String>) {
        let folder = state.join("unsaved");
        static WINDOWS: AtomicU32 = AtomicU32::new(0);
        let began = std::time::UNIX_EPOCH.elapsed().map_or(0, |t| t.as_millis());
        let nth = WINDOWS.fetch_add(1, Ordering::Relaxed);
        let own = folder.join(format!("{began:x}-{:x}-{nth:x}", std::process::id()));
        let made = std::fs::create_dir_all(&folder)
            .and_then(|()| File::create(own.with_extension("lock")))
            .and_then(|file| file.lock().map(|()| file));
        match made {
            Ok(lock) => (Journal { folder, own, _lock: Some(lock) }, None),
            Err(e) => {
                let note = format!("{} cannot be written: {}", folder.display(), reason(&e));
                (Journal { folder, own, _lock: None }, Some(note))
            }
        }
    }

    /// Keeps what a window holds now in place of what was kept for it. A note where it cannot be kept.
    pub fn keep(&self, kept: &Kept) -> Option<String> {
        write_state(&self.entry(), kept).err()
    }

    /// The window ends, and nothing of it is to be kept.
    pub fn close(&self) {
        for ending in ["json", "lock"] {
            let _ = std::fs::remove_file(self.own.with_extension(ending)); // not there: nothing was kept
        }
    }

    /// Takes what was found out of the journal: it was taken up elsewhere, or thrown away.
    pub fn forget(&self, found: &Recovered) {
        for ending in ["json", "lock"] {
            let _ = std::fs::remove_file(found.entry.with_extension(ending)); // gone already
        }
    }

    /// Whether another window that lives has this job open.
    pub fn is_open_elsewhere(&self, job: &Path) -> bool {
        let job = plain_path(job);
        self.entries().iter().any(|entry| {
            is_alive(entry)
                && read_state::<Kept>(entry)
                    .is_ok_and(|kept| kept.is_some_and(|k| k.named && plain_path(Path::new(&k.job)) == job))
        })
    }

    /// The work of windows that ended without being closed, the oldest first, and a note for each entry that cannot be read.
    /// What the files hold by now is no longer told of.
    pub fn recover(&self) -> (Vec<Recovered>, Vec<String>) {
        let (mut found, mut notes) = (Vec::new(), Vec::new());
        for entry in self.entries() {
            if is_alive(&entry) {
                continue;
            }
            match read_state::<Kept>(&entry) {
                Ok(Some(mut kept)) => {
                    kept.files.retain(|f| {
                        let disk = Source::load(Path::new(&f.path));
                        disk.map_or(true, |disk| disk.text != f.text)
                    });
                    let found_again = Recovered { kept, entry };
                    match found_again.kept.files.is_empty() && found_again.kept.heights.is_none() {
                        true => self.forget(&found_again),
                        false => found.push(found_again),
                    }
                }
                Ok(None) => {}
                Err(_) => notes.push(unreadable(&entry)),
            }
        }
        (found, notes)
    }

    fn entry(&self) -> PathBuf {
        self.own.with_extension("json")
    }

    /// The entries of all other windows, the oldest first.
    fn entries(&self) -> Vec<PathBuf> {
        let Ok(entries) = std::fs::read_dir(&self.folder) else { return Vec::new() };
        let mut files: Vec<PathBuf> = entries.flatten().map(|e| e.path()).collect();
        files.retain(|f| f.extension().is_some_and(|e| e == "json") && *f != self.entry());
        files.sort();
        files
    }
}

/// Whether the window of an entry lives: it holds its lock.
fn is_alive(entry: &Path) -> bool {
    let Ok(lock) = File::options().write(true).open(entry.with_extension("lock")) else { return false };
    matches!(lock.try_lock(), Err(TryLockError::WouldBlock))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kept(name: &str, files: &[(&Path, &str)]) -> Kept {
        let file = |(path, text): &(&Path, &str)| KeptFile {
            path: path.display().to_string(),
            text: (*text).to_owned(),
        };
        let job = files.first().map(|f| f.0.display().to_string()).unwrap_or_default();
        Kept { name: name.into(), job, named: true, files: files.iter().map(file).collect(), heights: None }
    }

    fn names(journal: &Journal) -> Vec<String> {
        journal.recover().0.into_iter().map(|r| r.kept.name).collect()
    }

    #[test]
    fn work_of_a_window_that_ended_is_found_until_it_is_taken_up() {
        let dir = tempfile::tempdir().expect("folder");
        let job = dir.path().join("job.ron");
        std::fs::write(&job, "(old)").expect("write");
        let (first, note) = Journal::new(dir.path());
        assert_eq!(note, None);
        assert_eq!(first.keep(&kept("one", &[(&job, "(new)")])), None);
        let (second, _) = Journal::new(dir.path());
        assert_eq!(names(&second), Vec::<String>::new(), "its window lives");
        assert!(second.is_open_elsewhere(&job) && !first.is_open_elsewhere(&job));
        drop(first);
        assert!(!second.is_open_elsewhere(&job));
        assert_eq!(names(&second), ["one"]);
        assert_eq!(names(&second), ["one"], "and again, as long as nobody decides");
        // what the new window keeps takes nothing away from it
        assert_eq!(second.keep(&kept("two", &[(&job, "(newer)")])), None);
        drop(second);
        let (third, _) = Journal::new(dir.path());
        assert_eq!(names(&third), ["one", "two"]);
        let (found, _) = third.recover();
        let texts = found[0].texts();
        assert_eq!(texts.get(&plain_path(&job)).map(|s| s.text.as_str()), Some("(new)"));
        third.forget(&found[0]);
        assert_eq!(names(&third), ["two"]);
        std::fs::write(&job, "(newer)").expect("write");
        assert_eq!(names(&third), Vec::<String>::new(), "the file says the same by now");
        third.close();
        assert_eq!(std::fs::read_dir(dir.path().join("unsaved")).expect("folder").count(), 0);
    }

    #[test]
    fn a_torn_entry_is_noted_and_the_others_are_kept() {
        let dir = tempfile::tempdir().expect("folder");
        let (journal, _) = Journal::new(dir.path());
        journal.keep(&kept("one", &[(Path::new("no/such.ron"), "(x)")]));
        drop(journal);
        std::fs::write(dir.path().join("unsaved/0.json"), "{\"name\": \"").expect("write");
        let (journal, _) = Journal::new(dir.path());
        let (found, notes) = journal.recover();
        assert_eq!((found.len(), notes.len()), (1, 1));
    }

    #[test]
    fn a_folder_that_cannot_be_written_gives_a_note() {
        let dir = tempfile::tempdir().expect("folder");
        let blocked = dir.path().join("a file");
        std::fs::write(&blocked, "").expect("write");
        let (journal, note) = Journal::new(&blocked);
        assert!(note.is_some() && journal.keep(&Kept::default()).is_some());
    }
}
