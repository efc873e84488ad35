//! A job under change with every file it names: what each file's text is, what was done, what can be undone.
//!
//! The texts are the truth. A change says what the files are to say; it becomes a change of their texts that leaves
//! everything else in them as it was, to the byte, and is refused unless the new texts read back as what was wanted.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::change::Edit;
use super::history::History;
use super::texts;
use crate::files::{Opened, Source, Sources, Texts, named_path, plain_path};
use crate::model::{Bundle, Job, Name};

/// Whether a change is an undo step of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    New,
    /// Joins the change before it where that has the same title: a held arrow key is one step.
    Same,
}

/// A job with its files and their one history. Undo goes on working after saving.
#[derive(Clone, Debug)]
pub struct Document {
    /// Where the job's file is, or would be: the names of its other files count from there.
    home: PathBuf,
    /// Whether a file stands there that this job was read from or written to.
    named: bool,
    now: State,
    history: History<State>,
    /// What the files on the disk held when they were last read or written here.
    on_disk: Texts,
    revisions: u64,
}

/// The job and the texts of its files at one time. Equal revisions hold equal jobs.
#[derive(Clone, Debug)]
pub(super) struct State {
    pub bundle: Bundle,
    /// Also of files the job does not name any more, in case they were changed.
    pub texts: Texts,
    revision: u64,
}

/// What a change would give.
#[derive(Clone, Debug)]
pub struct After {
    pub bundle: Bundle,
    texts: Texts,
    /// Files that were read for it.
    read: Texts,
}

impl After {
    /// The texts the files would have.
    pub fn texts(&self) -> &Texts {
        &self.texts
    }
}

impl Document {
    /// A job as it stands in its files.
    pub fn opened(opened: Opened) -> Document {
        let texts = opened.sources.texts();
        Document { named: true, ..Document::start(opened.path, opened.bundle, texts.clone(), texts) }
    }

    /// A job that no file holds in this form; its other files are named as seen from `home` and are as `like` has them.
    pub fn unsaved(home: impl Into<PathBuf>, bundle: Bundle, like: &Document) -> Document {
        let home = home.into();
        let old = plain_path(&like.home);
        let without = |texts: &Texts| -> Texts {
            texts.iter().filter(|(path, _)| **path != old).map(|(p, s)| (p.clone(), s.clone())).collect()
        };
        Document::start(home, bundle, without(&like.now.texts), without(&like.on_disk))
    }

    /// A job found again after it was lost. `on_disk`: what its files hold, as far as they do.
    pub fn recovered(opened: Opened, named: bool, on_disk: Texts) -> Document {
        let texts = opened.sources.texts();
        Document { named, ..Document::start(opened.path, opened.bundle, texts, on_disk) }
    }

    /// A job made in the program, in no file.
    pub fn made(home: impl Into<PathBuf>, bundle: Bundle) -> Document {
        Document::start(home.into(), bundle, Texts::new(), Texts::new())
    }

    fn start(home: PathBuf, mut bundle: Bundle, mut texts: Texts, on_disk: Texts) -> Document {
        // a job without a text is spelt; one that cannot be is told of when it is changed or saved
        let _ = texts::put(&mut texts, &home, &mut bundle.job);
        let now = State { bundle, texts, revision: 0 };
        Document { home, named: false, now, history: History::default(), on_disk, revisions: 0 }
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

    /// The files of the job with their texts, to say where a fault stands.
    pub fn sources(&self) -> Sources {
        Sources::among(&self.now.texts, &self.home, self.job())
    }

    /// Every text that is open, by plain path.
    pub fn texts(&self) -> &Texts {
        &self.now.texts
    }

    /// What a file on the disk held when it was last read or written here.
    pub fn on_disk(&self, path: &Path) -> Option<&Arc<Source>> {
        self.on_disk.get(&plain_path(path))
    }

    /// Every file that was read or written here.
    pub fn files(&self) -> &Texts {
        &self.on_disk
    }

    /// Changes with every change of the job and comes back with undo: what was derived from it can be kept by it.
    pub fn revision(&self) -> u64 {
        self.now.revision
    }

    /// The files whose text is not what the disk holds, the job first.
    pub fn changed(&self) -> Vec<Arc<Source>> {
        let job = plain_path(&self.home);
        let differs = |path: &Path, source: &Arc<Source>| {
            self.on_disk.get(path).is_none_or(|d| !Arc::ptr_eq(d, source) && d.text != source.text)
        };
        let texts = self.now.texts.iter().filter(|(path, source)| differs(path, source));
        let mut changed: Vec<(&PathBuf, &Arc<Source>)> = texts.collect();
        changed.sort_by_key(|(path, _)| **path != job);
        changed.into_iter().map(|(_, source)| source.clone()).collect()
    }

    /// Whether something would be lost by closing.
    pub fn is_changed(&self) -> bool {
        !self.changed().is_empty()
    }

    /// Whether the text of one of its files is not what the disk holds.
    pub fn is_file_changed(&self, path: &Path) -> bool {
        let path = plain_path(path);
        self.changed().iter().any(|s| plain_path(&s.path) == path)
    }

    /// What a change would give, or why it cannot be made.
    pub fn after(&self, edit: &Edit) -> Result<After, String> {
        let before = &self.now.bundle;
        let mut after =
            After { bundle: edit.apply(before)?, texts: self.now.texts.clone(), read: Texts::new() };
        let After { bundle, texts, read } = &mut after;
        let job = bundle.job.clone();
        let path = |name: &Name| named_path(&self.home, name.as_str());
        let same = |old: &Name, new: &Name| plain_path(&path(old)) == plain_path(&path(new));
        let (b, e) = (&before.job, &job);
        texts::follow(
            texts,
            read,
            &path(&e.bay),
            same(&b.bay, &e.bay).then_some(&before.bay),
            &mut bundle.bay,
        )?;
        let old = same(&b.vehicle, &e.vehicle).then_some(&before.vehicle);
        texts::follow(texts, read, &path(&e.vehicle), old, &mut bundle.vehicle)?;
        let old = same(&b.equipment, &e.equipment).then_some(&before.equipment);
        texts::follow(texts, read, &path(&e.equipment), old, &mut bundle.equipment)?;
        for (chosen, procedure) in e.procedures.iter().zip(&mut bundle.procedures) {
            let had = b.procedures.iter().position(|p| same(&p.file, &chosen.file));
            let old = had.and_then(|i| before.procedures.get(i));
            texts::follow(texts, read, &path(&chosen.file), old, procedure)?;
        }
        if !Arc::ptr_eq(&before.job, &bundle.job) {
            texts::put(texts, &self.home, &mut bundle.job)?;
        }
        Ok(after)
    }

    /// Makes a change whose result [`Document::after`] gave. A change that changes nothing leaves no trace.
    pub fn accept(&mut self, edit: &Edit, after: After, step: Step) {
        let After { bundle, texts, read } = after;
        if bundle.is_same(&self.now.bundle) {
            return;
        }
        let joins = step == Step::Same && self.is_changed();
        self.on_disk.extend(read);
        self.step(edit.title(), bundle, texts, joins);
    }

    fn step(&mut self, title: String, bundle: Bundle, texts: Texts, joins: bool) {
        self.revisions += 1;
        let next = State { bundle, texts, revision: self.revisions };
        let before = std::mem::replace(&mut self.now, next);
        self.history.push(before, title, joins);
    }

    /// Applies an edit as a step of its own.
    pub fn apply(&mut self, edit: &Edit) -> Result<(), String> {
        let after = self.after(edit)?;
        self.accept(edit, after, Step::New);
        Ok(())
    }

    /// What undo would take back.
    pub fn can_undo(&self) -> Option<&str> {
        self.history.undo_title()
    }

    /// What redo would do again.
    pub fn can_redo(&self) -> Option<&str> {
        self.history.redo_title()
    }

    /// Takes back the last change; the title of what was undone.
    pub fn undo(&mut self) -> Option<String> {
        self.history.back(&mut self.now)
    }

    /// Does the last undone change again; its title.
    pub fn redo(&mut self) -> Option<String> {
        self.history.forward(&mut self.now)
    }

    /// A text was written into its file.
    pub fn wrote(&mut self, source: Arc<Source>) {
        let path = plain_path(&source.path);
        self.named |= path == plain_path(&self.home);
        self.on_disk.insert(path, source);
    }

    /// The files were read again, with what others have written into them: `opened` is what they say now, `on_disk` what
    /// they hold. What was there before comes back with undo.
    pub fn read_anew(&mut self, opened: Opened, on_disk: Texts) {
        let mut texts = self.now.texts.clone();
        texts.extend(opened.sources.texts());
        self.on_disk.extend(on_disk);
        self.step("read the files anew".into(), opened.bundle, texts, false);
    }

    /// The disk holds this by now, and nothing of it was taken over: the next save writes over it.
    pub fn seen_on_disk(&mut self, source: Arc<Source>) {
        self.on_disk.insert(plain_path(&source.path), source);
    }

    /// The job is to be written to another file, and names its files as `rename` says from there. Every state of the
    /// history goes along. Why it cannot be, where it cannot.
    pub fn move_to(&mut self, path: &Path, rename: Option<&dyn Fn(&str) -> String>) -> Result<(), String> {
        let (from, to) = (plain_path(&self.home), plain_path(path));
        let mut moved = self.clone();
        for state in moved.history.states().chain([&mut moved.now]) {
            if let Some(text) = state.texts.remove(&from) {
                state.texts.insert(to.clone(), Arc::new(text.at(path)));
            }
            if let Some(rename) = rename {
                let job = Arc::make_mut(&mut state.bundle.job);
                for name in [&mut job.bay, &mut job.vehicle, &mut job.equipment] {
                    *name = rename(name.as_str()).into();
                }
                for procedure in &mut job.procedures.0 {
                    procedure.file = rename(procedure.file.as_str()).into();
                }
                texts::put(&mut state.texts, path, &mut state.bundle.job)?;
            }
        }
        moved.home = path.to_owned();
        moved.named &= from == to;
        *self = moved;
        Ok(())
    }
}
