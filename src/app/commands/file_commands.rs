//! Opening, saving, closing: nothing that was not saved is let go without a question.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use egui::{Context, ViewportCommand};

use crate::app::commands::command::DialogAnswer;
use crate::app::commands::load;
use crate::app::open_job::OpenJob;
use crate::app::shell::file_dialog::Purpose;
use crate::app::shell::persistence::OPEN_ELSEWHERE;
use crate::app::state::after_saving::AfterSaving;
use crate::app::state::dialog::Dialog;
use crate::app::window::Window;
use crate::edit::Document;
use crate::files::{named_path, plain_path, relative_path};
use crate::layout::Stance;
use crate::model::{Bundle, Job, Pose};
use crate::report::words::capital;

impl Window {
    /// Does something that lets go of the job, after asking where changes would be lost.
    pub(in crate::app) fn unless_changed(&mut self, ctx: &Context, then: AfterSaving) {
        if self.keeps_survey() {
            return;
        }
        if self.job.document.is_changed() {
            self.after_saving = Some(then);
            self.dialog = Some(Dialog::Unsaved);
        } else if self.job.disk.is_writing() {
            // it follows once that is done, or is given up where that fails
            self.after_saving = Some(then);
        } else {
            self.carry_on(ctx, then);
        }
    }

    pub(in crate::app) fn carry_on(&mut self, ctx: &Context, then: AfterSaving) {
        match then {
            AfterSaving::Quit => {
                self.persistence.close();
                self.may_close = true;
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
            AfterSaving::Open(path) => self.open(&path),
            AfterSaving::OpenBay(bay) => self.open_bay(ctx, &bay),
            AfterSaving::AskOpen => self.ask_path(Purpose::Open),
            AfterSaving::New => self.new_job(),
            AfterSaving::Recover(at) => self.recover(at),
        }
    }

    /// What was done in a dialog.
    pub(in crate::app) fn answer_dialog(&mut self, ctx: &Context, settle: DialogAnswer) {
        self.close_dialog();
        match settle {
            DialogAnswer::Close => {
                self.after_saving = None;
                if self.has_entered() {
                    self.note = Some("Some lines of the table cannot be used; they are kept in it".into());
                }
            }
            DialogAnswer::Typed(Purpose::Open, text) => self.open(&self.path_of(&text)),
            DialogAnswer::Typed(Purpose::Folder, text) => {
                let folder = self.path_of(&text);
                self.open_folder(&folder);
            }
            DialogAnswer::Typed(Purpose::SaveAs, text) => {
                let path = with_ending(&self.path_of(&text));
                if path.exists() && self.job.document.path() != Some(&path) {
                    self.dialog = Some(Dialog::Overwrite(path));
                } else {
                    self.save_to(ctx, &path);
                }
            }
            DialogAnswer::Overwrite(path) => self.save_to(ctx, &path),
            DialogAnswer::SaveThen => self.save(ctx),
            DialogAnswer::LoseThen => {
                if let Some(then) = self.after_saving.take() {
                    self.carry_on(ctx, then);
                }
            }
            DialogAnswer::Recover(at) => self.unless_changed(ctx, AfterSaving::Recover(at)),
            DialogAnswer::Conflict(theirs, how) => self.between(ctx, &theirs, how),
            DialogAnswer::Survey(done) => self.survey_done(ctx, done),
            DialogAnswer::ForgetLost => {
                for lost in std::mem::take(&mut self.lost) {
                    self.persistence.forget(lost);
                }
            }
        }
    }

    /// A typed path: from the job's folder, or from the user's own with a leading `~/`.
    pub(in crate::app) fn path_of(&self, text: &str) -> PathBuf {
        let text = text.trim();
        match (text.strip_prefix("~/"), std::env::home_dir()) {
            (Some(rest), Some(home)) => home.join(rest),
            _ => named_path(self.job.document.home(), text),
        }
    }

    /// Asks for a path with the desktop's dialog.
    pub(in crate::app) fn ask(&mut self, purpose: Purpose) {
        let home = self.job.document.home();
        let folder = std::path::absolute(home.parent().unwrap_or(Path::new(""))).unwrap_or_default();
        let name = home.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
        self.dialogs.ask(purpose, &folder, &name);
    }

    /// Asks for a path with a box to type it into.
    pub(in crate::app) fn ask_path(&mut self, purpose: Purpose) {
        let home = self.job.document.home();
        let mut jobs: Vec<(String, PathBuf)> = self
            .folders
            .listing()
            .jobs
            .iter()
            .filter(|e| e.fault.is_none())
            .map(|e| (e.name.clone(), e.path.clone()))
            .collect();
        for path in &self.recent {
            if !jobs.iter().any(|(_, p)| p == path) {
                let name = path.file_stem().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
                jobs.push((name, path.clone()));
            }
        }
        let text = match purpose {
            Purpose::Open | Purpose::Folder => String::new(),
            Purpose::SaveAs => std::path::absolute(home).unwrap_or(home.to_owned()).display().to_string(),
        };
        self.dialog = Some(Dialog::Path { purpose, text, jobs, focused: false, browsed: false });
    }

    /// A path came from the desktop's dialog, which has asked about writing over a file itself.
    pub(in crate::app) fn on_file_chosen(&mut self, ctx: &Context, purpose: Purpose, path: &Path) {
        match purpose {
            Purpose::Open if self.keeps_survey() => {}
            Purpose::Open => self.open(path),
            Purpose::Folder => self.open_folder(path),
            Purpose::SaveAs => self.save_to(ctx, &with_ending(path)),
        }
    }

    pub(in crate::app) fn save(&mut self, ctx: &Context) {
        match self.job.document.path().map(Path::to_owned) {
            Some(path) => self.save_to(ctx, &path),
            None => self.ask_path(Purpose::SaveAs),
        }
    }

    /// Writes the job into a file, and all its other files that were changed.
    fn save_to(&mut self, ctx: &Context, path: &Path) {
        let new_place =
            plain_path(path) != plain_path(self.job.document.home()) || self.job.document.path().is_none();
        let mut document = self.job.document.clone();
        if let Err(why) = document.move_to(path, renamed(self.job.document.home(), path).as_deref()) {
            self.after_saving = None;
            return self.refuse("The job cannot be saved".into(), vec![why]);
        }
        self.write_all(path, &document, new_place, ctx);
    }

    /// The job stands in another file by now.
    pub(in crate::app) fn moved_to(&mut self, path: &Path) {
        let rename = renamed(self.job.document.home(), path);
        if let Err(why) = self.job.document.move_to(path, rename.as_deref()) {
            self.note = Some(capital(&why));
        }
        if let (Some(rename), Some(draft)) = (rename, self.job.survey.as_mut()) {
            draft.rename(rename);
        }
    }

    fn open(&mut self, path: &Path) {
        if path.is_dir() {
            return self.open_folder(path);
        }
        match load::job(path, &self.view_state) {
            Ok(opened) => {
                self.take_over(opened);
                let open = self.persistence.is_open_elsewhere(path);
                let open = open.then(|| OPEN_ELSEWHERE.to_owned());
                self.note = open.or(self.persistence.opened(path)).or(self.note.take());
                self.recent = self.persistence.recent();
            }
            Err(faults) => {
                if !path.exists() {
                    self.persistence.gone(path);
                    self.recent = self.persistence.recent();
                }
                let faults = faults.iter().map(ToString::to_string).collect();
                let name = path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
                self.refuse(format!("{name} cannot be opened"), faults);
            }
        }
    }

    /// The window turns to another job.
    pub(in crate::app) fn take_over(&mut self, job: OpenJob) {
        self.folders.look(job.document.home());
        self.shop.follow(job.document.home());
        self.job_shown = true;
        self.job = job;
        self.canvas.forget();
        self.fresh = true;
        self.view_state.forget_job();
        self.note = None;
        self.restore_survey_draft();
        self.keep();
    }

    /// A job with the same files and nothing decided yet.
    fn new_job(&mut self) {
        let home = self.job.document.home().with_file_name("new-job.ron");
        let mut bundle = self.job.document.bundle().clone();
        bundle.procedures.clear();
        bundle.job = Arc::new(blank(&bundle, self.job.derived.layout.stance));
        let document = Document::unsaved(home, bundle, &self.job.document);
        match load::laid(document, &self.view_state) {
            Ok(job) => self.take_over(job),
            Err(faults) => {
                let faults = faults.iter().map(ToString::to_string).collect();
                self.refuse("A new job cannot be made".into(), faults);
            }
        }
    }

    /// Shows what an earlier window left unsaved.
    pub(in crate::app) fn offer_recovery(&mut self) {
        let lines: Vec<(String, Option<PathBuf>)> = self
            .lost
            .iter()
            .filter(|l| !l.kept.files.is_empty())
            .map(|l| (l.kept.name.clone(), l.path().map(Path::to_owned)))
            .collect();
        if !lines.is_empty() {
            self.dialog = Some(Dialog::Lost(lines));
        }
    }

    fn recover(&mut self, at: usize) {
        let jobs: Vec<usize> =
            (0..self.lost.len()).filter(|i| !self.lost[*i].kept.files.is_empty()).collect();
        let Some(&at) = jobs.get(at) else { return };
        let lost = self.lost.remove(at);
        match load::recovered(&lost, &self.view_state) {
            Ok(found) => {
                if lost.kept.heights.is_some() {
                    // they are looked for once the job is there
                    self.lost.push(lost.without_files());
                }
                self.take_over(found);
                self.persistence.forget(lost);
                self.note = Some("Taken up again; save it to keep it".into());
            }
            Err(faults) => {
                let faults = faults.iter().map(ToString::to_string).collect();
                let name = lost.kept.name.clone();
                self.lost.insert(at, lost);
                self.refuse(format!("{name} cannot be taken up again"), faults);
            }
        }
    }
}

/// Another way of naming files.
type Rename = Box<dyn Fn(&str) -> String>;

/// How a job that moves from one file to another names its files then; `None` where they are in one folder.
fn renamed(from: &Path, to: &Path) -> Option<Rename> {
    let (from, to) = (folder_of(from), folder_of(to));
    (from != to).then(|| Box::new(move |name: &str| relative_path(&to, &from.join(name))) as _)
}

fn folder_of(path: &Path) -> PathBuf {
    let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
    path.parent().map(Path::to_owned).unwrap_or_default()
}

fn with_ending(path: &Path) -> PathBuf {
    if path.extension().is_none() { path.with_extension("ron") } else { path.to_owned() }
}

fn blank(bundle: &Bundle, at: Stance) -> Job {
    let job = &bundle.job;
    let pose = Pose::At { x: at.x, y: at.y, heading: at.heading };
    Job {
        drive_in: job.drive_in,
        straight_run: job.straight_run,
        ..Job::begun([job.bay.clone(), job.vehicle.clone(), job.equipment.clone()], pose)
    }
}
