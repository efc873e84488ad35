//! Entering the survey of the floor: a table that is typed or pasted, heights pressed into the plan, and the way of both
//! into the bay's file. Until they are written there they are drawn, but nothing is judged by them.

mod draft;
mod sheets;

pub use draft::Draft;
pub use sheets::{height, pressed, strip, table, write};

use std::path::{Path, PathBuf};

use egui::Context;

use super::Window;
use super::command::Done;
use super::figure;
use super::session::Under;
use super::sheet::Sheet;
use crate::edit::{Edit, Step};
use crate::files::{KeptHeights, Recovered, load_heights, named_path, plain_path, read_bay};
use crate::geometry::P2;

/// Endings of files that are read as a table of heights.
pub const TABLES: [&str; 3] = ["csv", "tsv", "txt"];

/// A height that is being typed for a place of the floor.
#[derive(Clone, Debug, PartialEq)]
pub struct Height {
    at: P2,
    /// The line of the table with this spot, where it has one.
    line: Option<usize>,
    text: String,
    fault: Option<String>,
    focused: bool,
}

/// A bay's file that a survey is to be written into.
#[derive(Clone, Debug, PartialEq)]
pub struct Over {
    path: PathBuf,
    /// How many heights it has and will have.
    before: usize,
    after: usize,
    /// Its heights are others than those that were read for this job.
    changed: bool,
}

impl Window {
    /// Puts the sheet away; what was typed into the table is kept.
    pub(super) fn put_away(&mut self) {
        if let Some(Sheet::Survey(draft)) = self.sheet.take() {
            self.survey = Some(draft.kept());
        }
    }

    /// Whether heights were entered that the bay's file has not.
    pub(super) fn has_entered(&self) -> bool {
        let typed = match &self.sheet {
            Some(Sheet::Survey(draft)) => Some(draft),
            _ => self.survey.as_ref(),
        };
        typed.is_some_and(Draft::is_changed)
    }

    /// The table under change, to be kept for the case that the window ends without being closed.
    pub(super) fn entered_heights(&self) -> Option<KeptHeights> {
        let draft = match &self.sheet {
            Some(Sheet::Survey(draft)) => Some(draft),
            _ => self.survey.as_ref(),
        };
        let draft = draft.filter(|d| d.is_changed())?;
        Some(KeptHeights { bay: full(&self.bay_path()), typed: draft.typed.clone() })
    }

    /// Keeps it where it is not what was kept last. Called with every frame.
    pub(super) fn keep_heights(&mut self) {
        let entered = self.entered_heights();
        if entered != self.kept_heights {
            self.kept_heights = entered;
            self.keep();
        }
    }

    /// Takes up heights that an earlier window has left for the floor of this bay.
    pub(super) fn find_heights(&mut self) {
        let bay = full(&self.bay_path());
        let is_for = |l: &Recovered| l.kept.heights.as_ref().is_some_and(|h| h.bay == bay);
        let Some(at) = self.lost.iter().position(is_for) else { return };
        let Some(found) = self.lost[at].kept.heights.take() else { return };
        let draft = self.taken_survey().with(found.typed);
        if draft.is_changed() {
            self.survey = Some(draft);
            self.kept_heights = self.entered_heights();
            self.note = Some("Heights of the floor were found that were never written: G shows them".into());
        }
        self.keep();
        if self.lost[at].kept.files.is_empty() {
            let lost = self.lost.remove(at);
            self.keeper.forget(lost);
        }
    }

    /// Opens the table.
    pub(super) fn ask_survey(&mut self) {
        let draft = self.taken_survey();
        self.sheet = Some(Sheet::Survey(draft));
    }

    /// The heights under change, or those of the bay.
    fn taken_survey(&mut self) -> Draft {
        let (job, bay) = (self.document.job(), &self.document.bundle().bay);
        let fresh = || Draft::of(&job.bay, bay);
        let typed = match self.sheet.take() {
            Some(Sheet::Survey(draft)) => Some(draft.kept()),
            _ => self.survey.take(),
        };
        typed.filter(|d| d.is_for(&self.document)).unwrap_or_else(fresh)
    }

    /// Whether heights were entered that are in no file: then the table is opened instead of letting them go.
    pub(super) fn keeps_survey(&mut self) -> bool {
        let keeps = self.has_entered();
        if keeps {
            self.ask_survey();
            self.note = Some(
                "Heights were entered that are not in the bay's file: write them or throw them away".into(),
            );
        }
        keeps
    }

    /// Adds the lines of a table from a file. What waited for an answer is given up.
    pub(super) fn heights_from(&mut self, path: &Path) {
        self.then = None;
        match load_heights(path) {
            Ok(text) => {
                let mut draft = self.taken_survey();
                if !draft.typed.text.is_empty() && !draft.typed.text.ends_with('\n') {
                    draft.typed.text.push('\n');
                }
                draft.typed.text.push_str(&text);
                self.sheet = Some(Sheet::Survey(draft.kept()));
            }
            Err(fault) => self.refuse("The table cannot be read".into(), vec![fault.to_string()]),
        }
    }

    /// Asks for the height at a place, or about the spot that is there.
    pub(super) fn ask_height(&mut self, at: P2) {
        let draft = self.taken_survey();
        let table = draft.table();
        let there = table.spots.iter().position(|s| s.0 == at.x && s.1 == at.y);
        self.survey = Some(draft);
        self.sheet = Some(Sheet::Height(Height {
            at,
            line: there.and_then(|i| table.lines.get(i).copied()),
            text: there.map(|i| figure::number(table.spots[i].2)).unwrap_or_default(),
            fault: None,
            focused: false,
        }));
    }

    pub(super) fn survey_done(&mut self, ctx: &Context, done: Done) {
        match done {
            Done::OnPlan => self.session.under = Under::Survey,
            Done::Table => self.ask_survey(),
            Done::ThrowAway => {
                self.survey = Some(self.taken_survey().thrown_away());
                self.session.under = Under::default();
                self.note =
                    Some("The heights that were entered are thrown away; the table takes that back".into());
            }
            Done::TakeBack => {
                let draft = self.taken_survey().take_back();
                match self.session.under {
                    Under::Survey => self.survey = Some(draft),
                    _ => self.sheet = Some(Sheet::Survey(draft)),
                }
            }
            Done::Height { at, line, mm } => {
                let mut draft = self.taken_survey();
                draft.put(at, line, mm);
                self.survey = Some(draft.kept());
            }
            Done::Write => {
                let draft = self.taken_survey();
                let (path, after) = (self.bay_path(), draft.table().spots.len());
                let known = &self.document.bundle().bay.heights;
                let now = read_bay(&path).map_or_else(|_| known.clone(), |bay| bay.heights);
                let (before, changed) = (now.len(), now != *known);
                self.survey = Some(draft);
                self.sheet = Some(Sheet::WriteSurvey(Over { path, before, after, changed }));
            }
            Done::Confirmed => {
                if let Err(faults) = self.write_survey(ctx) {
                    self.refuse("The survey cannot be put into the bay's file".into(), faults);
                }
            }
        }
    }

    fn bay_path(&self) -> PathBuf {
        named_path(self.document.home(), self.document.job().bay.as_str())
    }

    /// Puts the survey into the text of the bay's file, and writes that file.
    fn write_survey(&mut self, ctx: &Context) -> Result<(), Vec<String>> {
        let draft = self.taken_survey();
        let (path, table, error) = (self.bay_path(), draft.table(), draft.reading_error());
        self.survey = Some(draft);
        let error = error.map_err(|why| vec![why])?;
        if let Some((line, why)) = table.faults.first() {
            return Err(vec![format!("line {line}: {why}")]);
        }
        let edit = Edit::Survey { spots: table.spots, error };
        let after = self.document.after(&edit).map_err(|why| vec![why])?;
        if !self.accept(&edit, after, Step::New) {
            return Ok(()); // told already
        }
        self.survey = None;
        self.session.under = Under::default();
        self.session.heights = true;
        let bay: Vec<_> = self.document.texts().get(&plain_path(&path)).cloned().into_iter().collect();
        let (home, done) =
            (self.document.home().to_owned(), format!("The survey is written into {}", name_of(&path)));
        self.write_these(&bay, false, &home, done, ctx);
        Ok(())
    }
}

fn full(path: &Path) -> String {
    plain_path(path).display().to_string()
}

/// A file without the way to it.
fn name_of(path: &Path) -> String {
    path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default()
}
