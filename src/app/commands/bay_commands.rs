//! Changing the bay: what its commands do.

use std::sync::Arc;

use crate::app::commands::command::{BayAct, Command};
use crate::app::window::Window;
use crate::edit::bay::{BayThing, begun, corner_added, put_down};
use crate::edit::{Edit, Step};
use crate::files::named_path;
use crate::geometry::P2;
use crate::model::Bay;
use crate::report::words::capital;

impl Window {
    /// Begins or ends changing the bay.
    pub(in crate::app) fn change_bay(&mut self) {
        if self.view_state.bay.take().is_none() && !self.keeps_survey() {
            self.view_state.bottom = crate::app::state::view_state::BottomPanel::Margins;
            self.view_state.bay = Some(None);
        }
    }

    pub(in crate::app) fn bay(&mut self, act: BayAct) {
        let bay = self.job.document.bundle().bay.clone();
        match act {
            BayAct::Choose(thing) => self.view_state.bay = Some(thing),
            BayAct::Refused(why) => self.note = Some(capital(&why)),
            BayAct::PutDown(what) => {
                let at = self.canvas.view().map_or(P2::origin(), |view| view.centre);
                self.more(&format!("put down a {}", what.words()), put_down(&bay, what, at));
            }
            BayAct::CornerAfter(at) => self.more("add a corner", corner_added(&bay, at)),
            BayAct::TakeAway(thing) => {
                let title = format!("take {} away", thing.name(&bay));
                self.view_state.bay = Some(None);
                self.carry_out(Command::bay_rewritten(title, thing.taken_away(&bay), Step::New));
            }
        }
    }

    /// The bay with something more in it, which is then chosen.
    fn more(&mut self, title: &str, found: Result<(Bay, BayThing), String>) {
        match found {
            Ok((next, thing)) => {
                let before = self.job.document.revision();
                self.carry_out(Command::bay_rewritten(title.to_owned(), Ok(next), Step::New));
                if self.job.document.revision() != before {
                    self.view_state.bay = Some(Some(thing));
                }
            }
            Err(why) => self.note = Some(capital(&why)),
        }
    }

    fn carry_out(&mut self, command: Command) {
        match command {
            Command::Edit(edit, step) => self.edit(&edit, step),
            Command::Bay(BayAct::Refused(why)) => self.note = Some(capital(&why)),
            _ => {}
        }
    }

    /// A new bay beside the present one, with nothing in it: the job stands in it, and its file is written when the job is
    /// saved.
    pub(in crate::app) fn new_bay(&mut self) {
        if self.keeps_survey() {
            return;
        }
        let home = self.job.document.home();
        let present = self.job.document.job().bay.to_string();
        let folder = present.rfind('/').map_or("", |at| &present[..=at]).to_owned();
        let listed = self.folders.listing().bays.len();
        let names = (1..).map(|n| if n == 1 { "new bay".to_owned() } else { format!("new bay {n}") });
        let free = names.take(listed + 1000).find(|name| {
            let file = format!("{folder}{}.ron", name.replace(' ', "-"));
            let path = named_path(home, &file);
            !path.exists() && !self.job.document.texts().contains_key(&crate::files::plain_path(&path))
        });
        let Some(name) = free else { return };
        let file = format!("{folder}{}.ron", name.replace(' ', "-"));
        match begun(&capital(&name)) {
            Ok(bay) => {
                let edit = Edit::ChooseBay { file: file.as_str().into(), bay: Arc::new(bay) };
                self.edit(&edit, Step::New);
                if self.job.document.job().bay.as_str() == file {
                    self.canvas.forget();
                    self.job.survey = None;
                    self.view_state.bay = Some(None);
                    let note = format!("{file} is written when the job is saved");
                    self.note = Some(match self.note.take() {
                        Some(gone) => format!("{note}. {gone}"),
                        None => note,
                    });
                }
            }
            Err(why) => self.note = Some(capital(&why)),
        }
    }
}
