//! Entering the survey of the floor: a table that is typed or pasted, and heights pressed into the plan. Both change the
//! text of the bay's file, as every edit does; only a table with lines that cannot be read waits in a draft of its own.

use std::path::{Path, PathBuf};

use egui::Context;

use crate::app::commands::command::SurveyAction;
use crate::app::commands::disk_commands::file_name;
use crate::app::state::dialog::Dialog;
use crate::app::state::survey_draft::{Height, SurveyDraft};
use crate::app::state::view_state::BottomPanel;
use crate::app::widgets::number_field;
use crate::app::window::Window;
use crate::edit::{Edit, Step};
use crate::files::{HeightTable, KeptHeights, Recovered, load_heights, named_path, plain_path, read_text};
use crate::geometry::P2;
use crate::model::Bay;
use crate::model::bay::SpotHeight;
use crate::report::words::capital;

impl Window {
    /// Puts the dialog away; what was typed into the table is taken over, or kept where it cannot be yet.
    pub(in crate::app) fn close_dialog(&mut self) {
        if let Some(Dialog::Survey(draft)) = self.dialog.take() {
            self.take_draft(draft);
        }
    }

    /// Whether heights were typed that are in no text yet.
    pub(in crate::app) fn has_entered(&self) -> bool {
        let typed = match &self.dialog {
            Some(Dialog::Survey(draft)) => Some(draft),
            _ => self.job.survey.as_ref(),
        };
        typed.is_some_and(SurveyDraft::is_changed)
    }

    /// Puts a table into the text of the bay's file, as a step that can be undone; tells whether the bay says now what the
    /// table says. One that cannot be read stays a draft.
    fn take_draft(&mut self, draft: SurveyDraft) -> bool {
        self.job.survey = None;
        if !draft.is_changed() {
            return true;
        }
        let taken = match (draft.table(), draft.reading_error()) {
            (HeightTable { spots, faults, .. }, Ok(error)) if faults.is_empty() => {
                self.set_heights(spots, error)
            }
            _ => false,
        };
        if !taken {
            self.job.survey = Some(draft);
        }
        taken
    }

    /// The bay's floor has these heights from now on; tells whether it took them.
    fn set_heights(&mut self, spots: Vec<SpotHeight>, error: Option<f64>) -> bool {
        let edit = Edit::Survey { spots, error };
        match self.job.document.after(&edit) {
            Ok(after) => self.accept(&edit, after, Step::New),
            Err(why) => {
                self.note = Some(capital(&why));
                false
            }
        }
    }

    /// The table under change, to be kept for the case that the window ends without being closed.
    pub(in crate::app) fn entered_heights(&self) -> Option<KeptHeights> {
        let draft = match &self.dialog {
            Some(Dialog::Survey(draft)) => Some(draft),
            _ => self.job.survey.as_ref(),
        };
        let draft = draft.filter(|d| d.is_changed())?;
        Some(KeptHeights { bay: full(&self.bay_path()), typed: draft.typed.clone() })
    }

    /// Keeps it where it is not what was kept last. Called with every frame.
    pub(in crate::app) fn keep_heights(&mut self) {
        let entered = self.entered_heights();
        if entered != self.job.kept_heights {
            self.job.kept_heights = entered;
            self.keep();
        }
    }

    /// Takes up heights that an earlier window has left for the floor of this bay.
    pub(in crate::app) fn restore_survey_draft(&mut self) {
        let bay = full(&self.bay_path());
        let is_for = |l: &Recovered| l.kept.heights.as_ref().is_some_and(|h| h.bay == bay);
        let Some(at) = self.lost.iter().position(is_for) else { return };
        let Some(found) = self.lost[at].kept.heights.take() else { return };
        let mut draft = self.taken_survey();
        draft.typed = found.typed;
        if draft.is_changed() {
            self.job.survey = Some(draft);
            self.job.kept_heights = self.entered_heights();
            self.note = Some("Heights of the floor were found that were never written: G shows them".into());
        }
        self.keep();
        if self.lost[at].kept.files.is_empty() {
            let lost = self.lost.remove(at);
            self.persistence.forget(lost);
        }
    }

    /// Opens the table.
    pub(in crate::app) fn ask_survey(&mut self) {
        let draft = self.taken_survey();
        self.dialog = Some(Dialog::Survey(draft));
    }

    /// The table as it was typed, or that of the bay.
    fn taken_survey(&mut self) -> SurveyDraft {
        let typed = match self.dialog.take() {
            Some(Dialog::Survey(draft)) => Some(draft),
            _ => self.job.survey.take(),
        };
        let (job, bay) = (self.job.document.job(), &self.job.document.bundle().bay);
        typed.filter(|d| d.is_for(&self.job.document)).unwrap_or_else(|| SurveyDraft::of(&job.bay, bay))
    }

    /// Whether heights were typed that are in no text: then the table is opened instead of letting them go.
    pub(in crate::app) fn keeps_survey(&mut self) -> bool {
        if let Some(Dialog::Survey(_)) = self.dialog {
            self.close_dialog();
        }
        let keeps = self.has_entered();
        if keeps {
            self.ask_survey();
            self.note = Some(UNREADABLE.into());
        }
        keeps
    }

    /// Adds the lines of a table from a file. What waited for an answer is given up.
    pub(in crate::app) fn heights_from(&mut self, path: &Path) {
        self.after_saving = None;
        match load_heights(path) {
            Ok(text) => {
                let mut draft = self.taken_survey();
                if !draft.typed.text.is_empty() && !draft.typed.text.ends_with('\n') {
                    draft.typed.text.push('\n');
                }
                draft.typed.text.push_str(&text);
                self.dialog = Some(Dialog::Survey(draft));
            }
            Err(fault) => self.refuse("The table cannot be read".into(), vec![fault.to_string()]),
        }
    }

    /// Asks for the height at a place, or about the spot that is there.
    pub(in crate::app) fn ask_height(&mut self, at: P2) {
        if self.keeps_survey() {
            return;
        }
        let heights = &self.job.document.bundle().bay.heights;
        let spot = heights.iter().position(|s| s.0 == at.x && s.1 == at.y);
        let text = spot.map(|i| number_field::number(heights[i].2)).unwrap_or_default();
        self.dialog = Some(Dialog::Height(Height { at, spot, text, fault: None, focused: false }));
    }

    pub(in crate::app) fn survey_done(&mut self, ctx: &Context, done: SurveyAction) {
        match done {
            SurveyAction::OnPlan => self.view_state.bottom = BottomPanel::Survey,
            SurveyAction::ThrowAway => self.throw_heights_away(),
            SurveyAction::Height { at, spot, mm } => {
                let bay = &self.job.document.bundle().bay;
                let (mut spots, error) = (bay.heights.0.clone(), bay.reading_error);
                let new = mm.map(|mm| SpotHeight(at.x, at.y, mm));
                match (spot.filter(|i| *i < spots.len()), new) {
                    (Some(i), Some(new)) => spots[i] = new,
                    (Some(i), None) => drop(spots.remove(i)),
                    (None, new) => spots.extend(new),
                }
                self.set_heights(spots, error);
            }
            SurveyAction::Write if self.job.survey.is_some() => {
                self.ask_survey();
                self.note = Some(UNREADABLE.into());
            }
            SurveyAction::Write => {
                let path = self.bay_path();
                let done = format!("The survey is written into {}", file_name(&path));
                self.view_state.bottom = BottomPanel::default();
                self.view_state.heights = true;
                self.write_bay(&path, done, ctx);
            }
        }
    }

    /// The heights of the bay's file as the disk has it; what was entered comes back with undo.
    fn throw_heights_away(&mut self) {
        if let Some(draft) = self.job.survey.take() {
            self.take_draft(draft);
        }
        self.job.survey = None;
        self.view_state.bottom = BottomPanel::default();
        let path = self.bay_path();
        let disk = self.job.document.on_disk(&path).and_then(|s| read_text::<Bay>(&s.text, &path).ok());
        let bay = &self.job.document.bundle().bay;
        if let Some(disk) = disk
            && (&disk.heights, disk.reading_error) != (&bay.heights, bay.reading_error)
        {
            self.set_heights(disk.heights.0, disk.reading_error);
        }
        self.note = Some("The heights that were entered are thrown away; undo brings them back".into());
        self.job.kept_heights = None;
        self.keep();
    }

    fn bay_path(&self) -> PathBuf {
        named_path(self.job.document.home(), self.job.document.job().bay.as_str())
    }
}

/// Said where a table is to be taken over that cannot be read whole.
const UNREADABLE: &str = "Some lines of the table cannot be used: mend them, or throw them away";

fn full(path: &Path) -> String {
    plain_path(path).display().to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::commands::command::DialogAnswer;

    #[test]
    fn heights_that_were_typed_go_along_into_another_folder() {
        let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo/jobs/pickup-trolley.ron");
        let mut window = Window::new(&demo, None).unwrap();
        window.ask_survey();
        if let Some(Dialog::Survey(draft)) = &mut window.dialog {
            draft.typed.text.push_str("1234, 2345, 7\n5\n");
        }
        window.close_dialog();
        let folder = tempfile::tempdir().unwrap();
        let ctx = Context::default();
        window.answer_dialog(&ctx, DialogAnswer::Overwrite(folder.path().join("moved.ron")));
        while window.job.disk.is_busy() {
            window.disk_beside(&ctx);
        }
        window.ask_survey();
        let Some(Dialog::Survey(after)) = &window.dialog else { unreachable!("no table") };
        assert!(after.is_for(&window.job.document) && after.typed.text.ends_with("1234, 2345, 7\n5\n"));
        assert_eq!(window.job.document.path(), Some(&*folder.path().join("moved.ron")));
        assert!(!window.job.document.is_changed());
    }
}
