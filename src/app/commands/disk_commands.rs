//! What is written, what has become of it, and what is done about files that others have changed.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use egui::Context;

use crate::app::background::disk::{Saved, Wanted, Writing};
use crate::app::state::derived::DerivedState;
use crate::app::state::dialog::{ConflictChoice, Dialog, FileConflict};
use crate::app::window::Window;
use crate::edit::Document;
use crate::files::{Source, Texts, open_over, plain_path, save};

impl Window {
    /// Writes the job into the file at `path`, and every other file that was changed. `over`: whatever stands there goes.
    pub(in crate::app) fn write_all(&mut self, path: &Path, document: &Document, over: bool, ctx: &Context) {
        let job = plain_path(path);
        let texts = document.texts().get(&job).cloned();
        let others = document.changed().into_iter().filter(|s| plain_path(&s.path) != job);
        let sources: Vec<Arc<Source>> = texts.into_iter().chain(others).collect();
        let names: Vec<String> = sources.iter().map(|s| s.path.display().to_string()).collect();
        let done = format!("Saved: {}", names.join(", "));
        self.write_these(sources, Writing { job: path.to_owned(), over, done }, ctx);
    }

    /// Writes the bay's text; `done` is said then.
    pub(in crate::app) fn write_bay(&mut self, path: &Path, done: String, ctx: &Context) {
        let bay = self.job.document.texts().get(&plain_path(path)).cloned().into_iter().collect();
        let job = self.job.document.home().to_owned();
        self.write_these(bay, Writing { job, over: false, done }, ctx);
    }

    /// Writes some texts, after those that are being written: what the disk holds is known only then.
    fn write_these(&mut self, sources: Vec<Arc<Source>>, writing: Writing, ctx: &Context) {
        let paths: Vec<_> = sources.iter().map(|s| s.path.clone()).collect();
        if self.spares_the_demonstration(paths.iter()) {
            return;
        }
        if self.job.disk.is_writing() {
            return self.job.disk.next.push_back((writing, sources));
        }
        let known = |s: &Arc<Source>| {
            let new_place = writing.over && plain_path(&s.path) == plain_path(&writing.job);
            self.job.document.on_disk(&s.path).filter(|_| !new_place).cloned()
        };
        let wanted = sources.iter().map(|s| Wanted { source: s.clone(), known: known(s) }).collect();
        self.job.disk.write(wanted, &writing, ctx);
    }

    /// Takes up what the disk has answered; tells whether it did.
    pub(in crate::app) fn disk_beside(&mut self, ctx: &Context) -> bool {
        let mut new = false;
        if let Some((writing, saved)) = self.job.disk.writing.taken() {
            self.was_written(ctx, writing, saved);
            new = true;
        }
        // questions wait for one another
        if self.dialog.is_none()
            && !self.job.disk.is_writing()
            && let Some((theirs, asked)) = self.job.disk.looked(&self.job.document, ctx)
        {
            self.was_looked_at(theirs, asked);
            new = true;
        }
        new
    }

    fn was_written(&mut self, ctx: &Context, Writing { job, done, .. }: Writing, saved: Option<Vec<Saved>>) {
        let next = std::mem::take(&mut self.job.disk.next);
        let Some(saved) = saved else {
            self.after_saving = None;
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
            self.after_saving = None;
            return self.refuse("The job cannot be saved".into(), faults);
        }
        if let Some(source) = theirs {
            self.dialog =
                Some(Dialog::Changed(FileConflict { path: source.path.clone(), source, saving: true }));
            return;
        }
        self.note = self.persistence.opened(self.job.document.home()).or(Some(done));
        self.recent = self.persistence.recent();
        self.folders.look(self.job.document.home());
        if !next.is_empty() {
            return next.into_iter().for_each(|(writing, sources)| self.write_these(sources, writing, ctx));
        }
        if let Some(then) = self.after_saving.take() {
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
            self.dialog =
                Some(Dialog::Changed(FileConflict { path: source.path.clone(), source, saving: false }));
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
        match DerivedState::new(&document, &self.view_state) {
            Ok(seen) => {
                self.job.document = document;
                self.job.derived = seen;
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
    pub(in crate::app) fn between(&mut self, ctx: &Context, theirs: &FileConflict, how: ConflictChoice) {
        let mine = self.job.document.texts().get(&plain_path(&theirs.path)).cloned();
        match (how, mine) {
            (ConflictChoice::KeepMine, _) => {
                self.job.document.seen_on_disk(theirs.source.clone());
                self.keep();
                self.note =
                    Some(format!("{}: yours is kept; saving writes over the other", file_name(&theirs.path)));
            }
            (ConflictChoice::TakeTheirs, _) | (ConflictChoice::MineBeside, None) => {
                self.read_anew(std::slice::from_ref(&theirs.source))
            }
            (ConflictChoice::MineBeside, Some(mine)) => {
                let path = free_name(&theirs.path);
                if let Err(fault) = save(&mine.at(&path)) {
                    self.after_saving = None;
                    return self.refuse("Yours cannot be put beside it".into(), vec![fault.to_string()]);
                }
                self.read_anew(std::slice::from_ref(&theirs.source));
                self.note = Some(format!("Yours is in {}; the other is read", file_name(&path)));
            }
        }
        if theirs.saving && self.dialog.is_none() {
            self.save(ctx);
        }
    }
}

/// A file without the way to it.
pub(super) fn file_name(path: &Path) -> String {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::commands::command::{Act, Command, DialogAnswer};
    use crate::app::state::after_saving::AfterSaving;

    fn written(window: &mut Window, ctx: &Context) {
        while window.job.disk.is_busy() {
            window.disk_beside(ctx);
        }
    }

    #[test]
    fn a_save_waits_for_the_save_before_and_what_lets_go_of_the_job_for_both() {
        let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo/jobs/pickup-trolley.ron");
        let mut window = Window::new(&demo, None).unwrap();
        let (folder, ctx) = (tempfile::tempdir().unwrap(), Context::default());
        let path = folder.path().join("moved.ron");
        window.answer_dialog(&ctx, DialogAnswer::Overwrite(path.clone()));
        written(&mut window, &ctx);
        let before = std::fs::read_to_string(&path).unwrap();
        let turn = |window: &mut Window| window.dispatch(&ctx, Command::Act(Act::TurnRound));
        turn(&mut window);
        window.save(&ctx);
        window.answer_dialog(&ctx, DialogAnswer::Overwrite(folder.path().join("later.ron")));
        assert!(window.job.disk.is_writing());
        window.dispatch(&ctx, Command::Act(Act::Undo));
        assert!(!window.job.document.is_changed());
        window.unless_changed(&ctx, AfterSaving::New);
        assert!(window.dialog.is_none() && window.after_saving.is_some());
        written(&mut window, &ctx);
        // what was saved last is not what is shown by now: nothing is let go without a question
        assert_eq!(window.dialog, Some(Dialog::Unsaved));
        assert_ne!(std::fs::read_to_string(&path).unwrap(), before);
        assert_eq!(window.job.document.home(), folder.path().join("later.ron"));
    }
}
