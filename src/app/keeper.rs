//! What outlives the window: unsaved work, jobs opened lately, how the window was set. Written beside the window, on a
//! thread of its own, so that a slow disk never holds up a drag.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{self, Sender};
use std::thread::JoinHandle;

use crate::edit::Document;
use crate::files::{Journal, Recent, Recovered, Settings, Typed, named_path};
use crate::model::Job;

/// Keeps things in a folder of the user, or nowhere.
pub struct Keeper {
    folder: Option<PathBuf>,
    journal: Option<Writer>,
}

struct Writer {
    send: Sender<Note>,
    thread: JoinHandle<()>,
}

enum Note {
    Keep(Option<PathBuf>, Arc<Job>),
    Clear(Option<PathBuf>),
    /// Heights typed for the floor of a bay's file; `None` forgets them.
    Heights(PathBuf, Option<Typed>),
}

impl Keeper {
    /// `folder`: where; `None` keeps nothing.
    pub fn new(folder: Option<PathBuf>) -> Keeper {
        let journal = folder.as_ref().and_then(|f| writer(Journal::new(f)));
        Keeper { folder, journal }
    }

    /// Remembers the job as it is now, in case the window ends without being closed.
    pub fn keep(&self, document: &Document) {
        if document.is_changed() {
            let job = match document.path() {
                Some(_) => document.bundle().job.clone(),
                None => Arc::new(absolute(document)),
            };
            self.note(Note::Keep(document.path().map(Path::to_owned), job));
        } else {
            self.clear(document.path());
        }
    }

    /// Forgets what was kept for a job: it is saved, or was given up.
    pub fn clear(&self, path: Option<&Path>) {
        self.note(Note::Clear(path.map(Path::to_owned)));
    }

    /// Remembers heights typed for the floor of a bay's file, or forgets them.
    pub fn keep_heights(&self, bay: &Path, typed: Option<Typed>) {
        self.note(Note::Heights(bay.to_owned(), typed));
    }

    /// Heights that an earlier window has left unwritten for this bay's file.
    pub fn heights(&self, bay: &Path) -> Option<Typed> {
        self.folder.as_ref().and_then(|f| Journal::new(f).heights(bay))
    }

    /// Unsaved work of an earlier time that its file does not hold.
    pub fn lost(&self) -> (Vec<Recovered>, Vec<String>) {
        let Some(folder) = &self.folder else { return Default::default() };
        let (mut found, notes) = Journal::new(folder).recover();
        found.retain(|r| r.differs);
        (found, notes)
    }

    pub fn recent(&self) -> Vec<PathBuf> {
        self.folder.as_ref().map(|f| Recent::new(f).list().0).unwrap_or_default()
    }

    /// Puts a job first among those opened lately; a note where it cannot be remembered.
    pub fn opened(&self, path: &Path) -> Option<String> {
        Recent::new(self.folder.as_ref()?).add(path)
    }

    /// Takes a job whose file is gone from those opened lately.
    pub fn gone(&self, path: &Path) {
        if let Some(folder) = &self.folder {
            Recent::new(folder).forget(path);
        }
    }

    pub fn settings(&self) -> Settings {
        self.folder.as_ref().map(|f| Settings::read(f)).unwrap_or_default()
    }

    pub fn set(&self, settings: &Settings) -> Option<String> {
        settings.write(self.folder.as_ref()?)
    }

    fn note(&self, note: Note) {
        if let Some(writer) = &self.journal {
            let _ = writer.send.send(note); // the thread ended: nothing can be kept any more
        }
    }
}

impl Drop for Keeper {
    /// Waits until everything is written.
    fn drop(&mut self) {
        if let Some(Writer { send, thread }) = self.journal.take() {
            drop(send);
            let _ = thread.join();
        }
    }
}

fn writer(journal: Journal) -> Option<Writer> {
    let (send, notes) = mpsc::channel::<Note>();
    let work = move || {
        while let Ok(mut note) = notes.recv() {
            // of several states of one job only the last is worth writing
            while let Ok(next) = notes.try_recv() {
                if about(&next) != about(&note) {
                    write(&journal, &note);
                }
                note = next;
            }
            write(&journal, &note);
        }
    };
    let thread = std::thread::Builder::new().name("journal".into()).spawn(work).ok()?;
    Some(Writer { send, thread })
}

/// What a note is about: a job or a floor, and its file.
fn about(note: &Note) -> (bool, Option<&Path>) {
    match note {
        Note::Keep(path, _) | Note::Clear(path) => (false, path.as_deref()),
        Note::Heights(bay, _) => (true, Some(bay)),
    }
}

fn write(journal: &Journal, note: &Note) {
    match note {
        Note::Keep(path, job) => {
            journal.keep(path.as_deref(), job);
        }
        Note::Clear(path) => journal.clear(path.as_deref()),
        Note::Heights(bay, typed) => {
            journal.keep_heights(bay, typed.as_ref());
        }
    }
}

/// The job with its files named in full: a job without a file of its own has no folder to name them from.
fn absolute(document: &Document) -> Job {
    let mut job = (*document.bundle().job).clone();
    let full = |name: &str| {
        let path = named_path(document.home(), name);
        std::path::absolute(&path).unwrap_or(path).display().to_string()
    };
    for name in [&mut job.bay, &mut job.vehicle, &mut job.equipment] {
        *name = full(name.as_str()).into();
    }
    for procedure in &mut job.procedures.0 {
        procedure.file = full(procedure.file.as_str()).into();
    }
    job
}
