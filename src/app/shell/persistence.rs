//! What outlives the window: unsaved work, jobs opened lately, how the window was set. Unsaved work is written beside the
//! window, on a thread of its own, so that a slow disk never holds up a drag.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Sender};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::JoinHandle;

use crate::edit::Document;
use crate::files::{Journal, Kept, KeptFile, KeptHeights, Recent, Recovered, Settings};

/// What is said of a job that another window has open.
pub(crate) const OPEN_ELSEWHERE: &str =
    "This job is open in another window too: what is saved there will be asked about here";

/// Keeps things in a folder of the user, or nowhere.
pub(crate) struct Persistence {
    folder: Option<PathBuf>,
    journal: Option<Arc<Journal>>,
    writer: Option<Writer>,
    /// Why the last state of the window could not be kept.
    trouble: Arc<Mutex<Option<String>>>,
    /// The window was closed, and nothing of it is to be found again.
    closed: bool,
}

struct Writer {
    send: Sender<JournalEntry>,
    thread: JoinHandle<()>,
}

enum JournalEntry {
    Keep(Kept),
    /// What was found is kept here by now, or thrown away.
    Forget(Recovered),
}

impl Persistence {
    /// `folder`: where; `None` keeps nothing.
    pub(crate) fn new(folder: Option<PathBuf>) -> Persistence {
        let trouble = Arc::new(Mutex::new(None));
        let journal = folder.as_deref().map(|folder| {
            let (journal, note) = Journal::new(folder);
            set_trouble(&trouble, note);
            Arc::new(journal)
        });
        let writer = journal.clone().and_then(|journal| {
            let writer = writer(journal, trouble.clone());
            if writer.is_none() {
                set_trouble(&trouble, Some("the system gives no thread to write it".into()));
            }
            writer
        });
        Persistence { folder, journal, writer, trouble, closed: false }
    }

    /// Remembers the window as it is now, in case it ends without being closed.
    pub(crate) fn keep(&self, document: &Document, heights: Option<KeptHeights>) {
        let full =
            |path: &Path| std::path::absolute(path).unwrap_or_else(|_| path.to_owned()).display().to_string();
        let files = document.changed();
        let files = files.iter().map(|s| KeptFile { path: full(&s.path), text: s.text.clone() });
        self.send(JournalEntry::Keep(Kept {
            name: document.job().name.to_string(),
            job: full(document.home()),
            named: document.path().is_some(),
            files: files.collect(),
            heights,
        }));
    }

    /// Why unsaved work is not protected now; `None` where it is, or where nothing is to be kept at all.
    pub(crate) fn trouble(&self) -> Option<String> {
        self.trouble.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// The window is being closed: nothing of it is to be found again.
    pub(crate) fn close(&mut self) {
        self.closed = true;
    }

    /// Whether another window has this job open.
    pub(crate) fn is_open_elsewhere(&self, job: &Path) -> bool {
        self.journal.as_ref().is_some_and(|j| j.is_open_elsewhere(job))
    }

    /// Unsaved work of windows that ended without being closed.
    pub(crate) fn lost(&self) -> (Vec<Recovered>, Vec<String>) {
        self.journal.as_ref().map(|j| j.recover()).unwrap_or_default()
    }

    /// What was found is taken up, or thrown away: it goes once what is kept now is written.
    pub(crate) fn forget(&self, found: Recovered) {
        self.send(JournalEntry::Forget(found));
    }

    pub(crate) fn recent(&self) -> Vec<PathBuf> {
        self.folder.as_ref().map(|f| Recent::new(f).list().0).unwrap_or_default()
    }

    /// The folders of the workshops opened lately, newest first.
    pub(crate) fn workshops(&self) -> Vec<PathBuf> {
        self.folder.as_ref().map(|f| Recent::workshops(f).list().0).unwrap_or_default()
    }

    /// Puts a workshop first; a note where it cannot be remembered.
    pub(crate) fn opened_workshop(&self, root: &Path) -> Option<String> {
        Recent::workshops(self.folder.as_ref()?).add(root)
    }

    /// Takes a workshop off the list.
    pub(crate) fn forget_workshop(&self, root: &Path) {
        if let Some(folder) = &self.folder {
            Recent::workshops(folder).forget(root);
        }
    }

    /// Puts a job first among those opened lately; a note where it cannot be remembered.
    pub(crate) fn opened(&self, path: &Path) -> Option<String> {
        Recent::new(self.folder.as_ref()?).add(path)
    }

    /// Takes a job whose file is gone from those opened lately.
    pub(crate) fn gone(&self, path: &Path) {
        if let Some(folder) = &self.folder {
            Recent::new(folder).forget(path);
        }
    }

    pub(crate) fn settings(&self) -> Settings {
        self.folder.as_ref().map(|f| Settings::read(f)).unwrap_or_default()
    }

    pub(crate) fn set(&self, settings: &Settings) -> Option<String> {
        settings.write(self.folder.as_ref()?)
    }

    fn send(&self, note: JournalEntry) {
        if let Some(writer) = &self.writer
            && writer.send.send(note).is_err()
        {
            set_trouble(&self.trouble, Some("the thread that writes it has ended".into()));
        }
    }
}

impl Drop for Persistence {
    /// Waits until everything is written.
    fn drop(&mut self) {
        if let Some(Writer { send, thread }) = self.writer.take() {
            drop(send);
            let _ = thread.join();
        }
        if let Some(journal) = self.journal.take().filter(|_| self.closed) {
            journal.close();
        }
    }
}

fn set_trouble(trouble: &Mutex<Option<String>>, note: Option<String>) {
    *trouble.lock().unwrap_or_else(PoisonError::into_inner) = note;
}

fn writer(journal: Arc<Journal>, trouble: Arc<Mutex<Option<String>>>) -> Option<Writer> {
    let (send, notes) = mpsc::channel::<JournalEntry>();
    let work = move || {
        while let Ok(note) = notes.recv() {
            // of several states only the last is worth writing
            let (mut last, mut found) = (None, Vec::new());
            for note in std::iter::once(note).chain(notes.try_iter()) {
                match note {
                    JournalEntry::Keep(kept) => last = Some(kept),
                    JournalEntry::Forget(one) => found.push(one),
                }
            }
            if let Some(kept) = last {
                set_trouble(&trouble, journal.keep(&kept));
            }
            found.iter().for_each(|one| journal.forget(one));
        }
    };
    let thread = std::thread::Builder::new().name("journal".into()).spawn(work).ok()?;
    Some(Writer { send, thread })
}
