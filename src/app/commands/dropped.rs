//! Files dropped on the window, any number at once: a job is opened, its parts are put into the job that is open, a table of
//! heights goes into the survey.

use std::path::{Path, PathBuf};

use egui::Context;

use crate::app::commands::command::PickedFile;
use crate::app::state::after_saving::AfterSaving;
use crate::app::state::survey_draft::TABLES;
use crate::app::window::Window;
use crate::files::{Kind, Source, kind_of};

impl Window {
    /// Does with each of the files what its kind asks for, and says what came of it.
    pub(in crate::app) fn dropped_files(&mut self, ctx: &Context, paths: Vec<PathBuf>) {
        let is_table = |path: &PathBuf| {
            path.extension().is_some_and(|e| TABLES.iter().any(|t| e.eq_ignore_ascii_case(t)))
        };
        let (tables, files): (Vec<PathBuf>, Vec<PathBuf>) = paths.into_iter().partition(is_table);
        let (mut parts, mut jobs, mut faults) = (Vec::new(), Vec::new(), Vec::new());
        for path in files {
            match Source::load(&path) {
                Err(fault) => faults.push(fault.to_string()),
                Ok(source) => match kind_of(&source.text) {
                    Some(Kind::Bay) => parts.push(PickedFile::Bay(path)),
                    Some(Kind::Vehicle) => parts.push(PickedFile::Vehicle(path)),
                    Some(Kind::Equipment) => parts.push(PickedFile::Equipment(path)),
                    Some(Kind::Procedure) => parts.push(PickedFile::Procedure(path)),
                    Some(Kind::Job) => jobs.push(path),
                    Some(Kind::Workshop) => faults.push(format!(
                        "{}: a workshop is opened by its folder: drop the folder, or open it under Start",
                        path.display()
                    )),
                    None => faults.push(format!(
                        "{}: this is no file of a job; files that end in .csv or .txt are read as heights of the floor",
                        path.display()
                    )),
                },
            }
        }
        if let Some(job) = jobs.first() {
            let left = parts.len() + tables.len() + jobs.len() - 1;
            self.close_dialog();
            self.unless_changed(ctx, AfterSaving::Open(job.clone()));
            if left > 0 {
                let words = if left == 1 {
                    "1 other file was left".into()
                } else {
                    format!("{left} other files were left")
                };
                self.note = Some(format!("{words}: drop them again to put them into this job"));
            }
        } else {
            for part in &parts {
                self.pick(part);
            }
            if let [path, rest @ ..] = &tables[..] {
                self.heights_from(path);
                if !rest.is_empty() {
                    self.note = Some(format!("Tables are read one at a time; this is {}", name_of(path)));
                }
            }
        }
        if !faults.is_empty() {
            self.refuse("Not every file can be used".into(), faults);
        }
    }
}

fn name_of(path: &Path) -> String {
    path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default()
}
