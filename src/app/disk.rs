//! The files on the disk, written and looked at beside the window: a slow disk never stops it, and what others have written
//! meanwhile is never written over without a question.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use egui::Context;

use super::Window;
use super::seen::Seen;
use super::sheet::Sheet;
use super::worker::Task;
use crate::edit::Document;
use crate::files::{FileFault, Source, Texts, open_over, plain_path, save};

/// A text to be written.
#[derive(Clone, Debug)]
pub struct Wanted {
    pub source: Arc<Source>,
    /// What the file is known to hold; what else it holds was written by somebody else. `None`: whatever it holds goes.
    pub known: Option<Arc<Source>>,
}

/// What has become of a text.
pub enum Saved {
    Written(Arc<Source>),
    /// The file holds something else by now, and was left alone.
    Theirs(Arc<Source>),
    Failed(FileFault),
}

/// What was written by others into files that are open.
#[derive(Clone, Debug, PartialEq)]
pub struct Theirs {
    pub path: PathBuf,
    /// What the file holds now.
    pub source: Arc<Source>,
    /// It came up while saving, which goes on once it is settled.
    pub saving: bool,
}

/// How a file that others have changed is dealt with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Between {
    KeepMine,
    TakeTheirs,
    /// Mine goes into a file of its own, theirs is taken.
    MineBeside,
}

/// Writing and looking.
#[derive(Default)]
pub struct Disk {
    writing: Option<Task<Writing, Vec<Saved>>>,
    looking: Option<Task<bool, Vec<Arc<Source>>>>,
}

/// What is being written.
#[derive(Clone)]
pub struct Writing {
    /// The job goes into this file from then on.
    job: PathBuf,
    /// What is said once it is done.
    done: String,
}

impl Disk {
    pub fn is_busy(&self) -> bool {
        self.writing.is_some() || self.looking.is_some()
    }

    pub fn is_writing(&self) -> bool {
        self.writing.is_some()
    }

    /// Reads the files again. `asked`: a person wants to know the outcome.
    pub fn look(&mut self, document: &Document, asked: bool, ctx: &Context) {
        let files: Texts = document.files().clone();
        let work = move |stop: &dyn Fn() -> bool| {
            let load =
                |known: &Arc<Source>| Source::load(&known.path).ok().filter(|now| now.text != known.text);
            files.values().take_while(|_| !stop()).filter_map(load).map(Arc::new).collect()
        };
        self.looking = Task::start("looking", ctx, asked, work);
    }

    fn write(&mut self, wanted: Vec<Wanted>, writing: Writing, ctx: &Context) {
        let work = move |_: &dyn Fn() -> bool| wanted.into_iter().map(write).collect();
        self.writing = Task::start("saving", ctx, writing, work);
    }
}

fn write(Wanted { source, known }: Wanted) -> Saved {
    if let Some(known) = known
        && let Ok(now) = Source::load(&source.path)
        && now.text != known.text
        && now.text != source.text
    {
        return Saved::Theirs(Arc::new(now));
    }
    match save(&source) {
        Ok(()) => Saved::Written(source),
        Err(fault) => Saved::Failed(fault),
    }
}

impl Window {
    /// Writes the job into the file at `path`, and every other file that was changed. `over`: whatever stands there goes.
    pub(super) fn write_all(&mut self, path: &Path, document: &Document, over: bool, ctx: &Context) {
        let job = plain_path(path);
        let texts = document.texts().get(&job).cloned();
        let others = document.changed().into_iter().filter(|s| plain_path(&s.path) != job);
        let sources: Vec<Arc<Source>> = texts.into_iter().chain(others).collect();
        let names: Vec<String> = sources.iter().map(|s| s.path.display().to_string()).collect();
        self.write_these(&sources, over, path, format!("Saved: {}", names.join(", ")), ctx);
    }

    /// Writes some texts; `done` is said then.
    pub(super) fn write_these(
        &mut self,
        sources: &[Arc<Source>],
        over: bool,
        job: &Path,
        done: String,
        ctx: &Context,
    ) {
        let known = |s: &Arc<Source>| {
            let new_place = over && plain_path(&s.path) == plain_path(job);
            self.job.document.on_disk(&s.path).filter(|_| !new_place).cloned()
        };
        let wanted = sources.iter().map(|s| Wanted { source: s.clone(), known: known(s) }).collect();
        self.disk.write(wanted, Writing { job: job.to_owned(), done }, ctx);
    }

    /// Takes up what the disk has answered; tells whether it did.
    pub(super) fn disk_beside(&mut self, ctx: &Context) -> bool {
        let mut new = false;
        if let Some((writing, saved)) = Task::ended(&mut self.disk.writing) {
            self.was_written(ctx, writing, saved);
            new = true;
        }
        // questions wait for one another
        if self.sheet.is_none()
            && !self.disk.is_writing()
            && let Some((asked, theirs)) = Task::ended(&mut self.disk.looking)
        {
            self.was_looked_at(theirs.unwrap_or_default(), asked);
            new = true;
        }
        new
    }

    fn was_written(&mut self, ctx: &Context, Writing { job, done }: Writing, saved: Option<Vec<Saved>>) {
        let Some(saved) = saved else {
            self.then = None;
            return self
                .refuse("Saving broke off".into(), vec!["what was not written yet is still unsaved".into()]);
        };
        let (mut faults, mut theirs) = (Vec::new(), None);
        for saved in saved {
            match saved {
                Saved::Written(source) => {
                    if plain_path(&source.path) == plain_path(&job) && self.job.document.home() != job {
                        self.moved_to(&job);
                    }
                    self.job.document.wrote(source);
                }
                Saved::Theirs(source) => theirs = theirs.or(Some(source)),
                Saved::Failed(fault) => faults.push(fault.to_string()),
            }
        }
        self.keep();
        if !faults.is_empty() {
            self.then = None;
            return self.refuse("The job cannot be saved".into(), faults);
        }
        if let Some(source) = theirs {
            self.sheet = Some(Sheet::Changed(Theirs { path: source.path.clone(), source, saving: true }));
            return;
        }
        self.note = self.keeper.opened(self.job.document.home()).or(Some(done));
        self.recent = self.keeper.recent();
        self.beside.look(self.job.document.home());
        if let Some(then) = self.then.take() {
            self.unless_changed(ctx, then);
        }
    }

    fn was_looked_at(&mut self, theirs: Vec<Arc<Source>>, asked: bool) {
        let news =
            |s: &Arc<Source>| self.job.document.on_disk(&s.path).is_some_and(|known| known.text != s.text);
        let theirs: Vec<Arc<Source>> = theirs.into_iter().filter(news).collect();
        let clash = theirs.iter().find(|s| self.job.document.is_file_changed(&s.path));
        if let Some(source) = clash {
            let source = source.clone();
            self.sheet = Some(Sheet::Changed(Theirs { path: source.path.clone(), source, saving: false }));
        } else if !theirs.is_empty() {
            self.read_anew(&theirs);
        } else if asked {
            self.note = Some("The files on the disk say what is shown".into());
        }
    }

    /// Puts what others have written in place of what was read.
    fn read_anew(&mut self, theirs: &[Arc<Source>]) {
        let new: Texts = theirs.iter().map(|s| (plain_path(&s.path), s.clone())).collect();
        let mut texts = self.job.document.texts().clone();
        texts.extend(new.clone());
        let names: Vec<String> = theirs.iter().map(|s| file_name(&s.path)).collect();
        let names = names.join(", ");
        let opened = match open_over(self.job.document.home(), &texts) {
            Ok(opened) => opened,
            Err(faults) => {
                return self.not_taken(theirs, &names, faults.iter().map(ToString::to_string).collect());
            }
        };
        let mut document = self.job.document.clone();
        document.read_anew(opened, new);
        match Seen::new(&document, &self.session) {
            Ok(seen) => {
                self.job.document = document;
                self.job.seen = seen;
                self.job.drag = None;
                self.keep();
                self.note = Some(format!("Changed on the disk by somebody else and read anew: {names}"));
            }
            Err(faults) => {
                let faults = faults.iter().map(|f| document.sources().fault(f).to_string()).collect();
                self.not_taken(theirs, &names, faults);
            }
        }
    }

    /// What others have written cannot be used: the window goes on with what it has, which the disk does not hold any more.
    fn not_taken(&mut self, theirs: &[Arc<Source>], names: &str, faults: Vec<String>) {
        for source in theirs {
            self.job.document.seen_on_disk(source.clone());
        }
        self.keep();
        let tried = format!("{names}: changed by somebody else, and cannot be used as it is now");
        self.refuse(tried, faults);
    }

    /// A file that others have changed is dealt with as a person said.
    pub(super) fn between(&mut self, ctx: &Context, theirs: &Theirs, how: Between) {
        let mine = self.job.document.texts().get(&plain_path(&theirs.path)).cloned();
        match (how, mine) {
            (Between::KeepMine, _) => {
                self.job.document.seen_on_disk(theirs.source.clone());
                self.keep();
                self.note =
                    Some(format!("{}: yours is kept; saving writes over the other", file_name(&theirs.path)));
            }
            (Between::TakeTheirs, _) | (Between::MineBeside, None) => {
                self.read_anew(std::slice::from_ref(&theirs.source))
            }
            (Between::MineBeside, Some(mine)) => {
                let path = free_name(&theirs.path);
                if let Err(fault) = save(&mine.at(&path)) {
                    self.then = None;
                    return self.refuse("Yours cannot be put beside it".into(), vec![fault.to_string()]);
                }
                self.read_anew(std::slice::from_ref(&theirs.source));
                self.note = Some(format!("Yours is in {}; the other is read", file_name(&path)));
            }
        }
        if theirs.saving && self.sheet.is_none() {
            self.save(ctx);
        }
    }
}

/// A file without the way to it.
pub fn file_name(path: &Path) -> String {
    path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default()
}

/// A name beside a file that is not taken yet.
fn free_name(path: &Path) -> PathBuf {
    let stem = path.file_stem().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
    let nth = |n: usize| if n == 1 { format!("{stem}-mine.ron") } else { format!("{stem}-mine-{n}.ron") };
    (1..)
        .map(|n| path.with_file_name(nth(n)))
        .find(|p| !p.exists())
        .unwrap_or_else(|| path.with_extension("mine"))
}
