//! A job under change: where it is kept, what was done to it, what can be undone.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::change::Edit;
use crate::model::{Bay, Bundle, Job};

/// How many changes can be undone.
const MOST_STEPS: usize = 500;

/// Whether a change is an undo step of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    New,
    /// Joins the change before it where that has the same title: a held arrow key is one step.
    Same,
}

/// A job with its file and its history. Undo goes on working after saving.
#[derive(Clone, Debug)]
pub struct Document {
    /// Where the job's file is, or would be: the names of its other files count from there.
    home: PathBuf,
    /// Whether a file stands there that this job was read from or written to.
    named: bool,
    now: State,
    past: Vec<(State, String)>,
    future: Vec<(State, String)>,
    saved: Option<u64>,
    revisions: u64,
}

/// The job at one time. Equal revisions hold equal jobs.
#[derive(Clone, Debug)]
struct State {
    bundle: Bundle,
    revision: u64,
}

impl Document {
    /// A job as it stands in its file.
    pub fn opened(path: impl Into<PathBuf>, bundle: Bundle) -> Document {
        Document { named: true, saved: Some(0), ..Document::unsaved(path, bundle) }
    }

    /// A job that no file holds in this form; its other files are named as seen from `home`.
    pub fn unsaved(home: impl Into<PathBuf>, bundle: Bundle) -> Document {
        Document {
            home: home.into(),
            named: false,
            now: State { bundle, revision: 0 },
            past: Vec::new(),
            future: Vec::new(),
            saved: None,
            revisions: 0,
        }
    }

    /// A job that was found again after it was lost: changed since its file was written, if it has one.
    pub fn recovered(home: impl Into<PathBuf>, named: bool, bundle: Bundle) -> Document {
        Document { named, ..Document::unsaved(home, bundle) }
    }

    /// The job's file; `None` until it is first saved.
    pub fn path(&self) -> Option<&Path> {
        self.named.then_some(self.home.as_path())
    }

    /// From where the job names its files.
    pub fn home(&self) -> &Path {
        &self.home
    }

    pub fn bundle(&self) -> &Bundle {
        &self.now.bundle
    }

    pub fn job(&self) -> &Job {
        &self.now.bundle.job
    }

    /// Changes with every change of the job and comes back with undo: what was derived from it can be kept by it.
    pub fn revision(&self) -> u64 {
        self.now.revision
    }

    /// Whether something would be lost by closing.
    pub fn is_changed(&self) -> bool {
        self.saved != Some(self.now.revision)
    }

    /// The bundle an edit would give, or why it cannot be made.
    pub fn after(&self, edit: &Edit) -> Result<Bundle, String> {
        edit.apply(&self.now.bundle)
    }

    /// Makes a change whose result [`Document::after`] gave. A change that changes nothing leaves no trace.
    pub fn accept(&mut self, edit: &Edit, bundle: Bundle, step: Step) {
        if bundle.is_same(&self.now.bundle) {
            return;
        }
        self.revisions += 1;
        let next = State { bundle, revision: self.revisions };
        let title = edit.title();
        let joins = step == Step::Same
            && self.future.is_empty()
            && self.is_changed()
            && self.past.last().is_some_and(|(_, last)| *last == title);
        let before = std::mem::replace(&mut self.now, next);
        self.future.clear();
        if !joins {
            self.past.push((before, title));
            if self.past.len() > MOST_STEPS {
                self.past.remove(0);
            }
        }
    }

    /// Applies an edit as a step of its own.
    pub fn apply(&mut self, edit: &Edit) -> Result<(), String> {
        let bundle = self.after(edit)?;
        self.accept(edit, bundle, Step::New);
        Ok(())
    }

    /// What undo would take back.
    pub fn can_undo(&self) -> Option<&str> {
        self.past.last().map(|(_, title)| title.as_str())
    }

    /// What redo would do again.
    pub fn can_redo(&self) -> Option<&str> {
        self.future.last().map(|(_, title)| title.as_str())
    }

    /// Takes back the last change; the title of what was undone.
    pub fn undo(&mut self) -> Option<String> {
        let (before, title) = self.past.pop()?;
        let after = std::mem::replace(&mut self.now, before);
        self.future.push((after, title.clone()));
        Some(title)
    }

    /// Does the last undone change again; its title.
    pub fn redo(&mut self) -> Option<String> {
        let (after, title) = self.future.pop()?;
        let before = std::mem::replace(&mut self.now, after);
        self.past.push((before, title.clone()));
        Some(title)
    }

    /// The job was written to this file.
    pub fn saved_to(&mut self, path: &Path) {
        self.home = path.to_owned();
        self.named = true;
        self.saved = Some(self.now.revision);
    }

    /// The file of the bay the job stands in was written anew: every state of the history in that bay has it as it is
    /// now. What was derived is no longer kept by its revision; whether the job is saved stays as it was.
    pub fn reread_bay(&mut self, bay: &Arc<Bay>) {
        let file = self.now.bundle.job.bay.clone();
        let shift = self.revisions + 1;
        let states = self.past.iter_mut().chain(&mut self.future).map(|(s, _)| s);
        for state in states.chain([&mut self.now]) {
            state.revision += shift;
            if state.bundle.job.bay == file {
                state.bundle.bay = bay.clone();
            }
        }
        self.saved = self.saved.map(|saved| saved + shift);
        self.revisions += shift;
    }

    /// Rewrites how every state of the history names its files: the job moves to another folder.
    pub fn rename_files(&mut self, rename: impl Fn(&str) -> String) {
        let states = self.past.iter_mut().chain(&mut self.future).map(|(s, _)| s);
        for state in states.chain([&mut self.now]) {
            let job = Arc::make_mut(&mut state.bundle.job);
            for name in [&mut job.bay, &mut job.vehicle, &mut job.equipment] {
                *name = rename(name.as_str()).into();
            }
            for procedure in &mut job.procedures.0 {
                procedure.file = rename(procedure.file.as_str()).into();
            }
        }
    }
}
