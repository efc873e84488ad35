//! Changing the bay: what its commands do.

use std::sync::Arc;

use crate::app::commands::command::{BayAct, Command};
use crate::app::window::Window;
use crate::edit::bay::{BayThing, begun, corner_added, put_down, several};
use crate::edit::{Edit, Step};
use crate::files::named_path;
use crate::geometry::{P2, V2};
use crate::model::Bay;
use crate::report::words::capital;

impl Window {
    /// Begins or ends changing the bay.
    pub(in crate::app) fn change_bay(&mut self) {
        if self.view_state.bay.take().is_none() && !self.keeps_survey() {
            self.view_state.bottom = crate::app::state::view_state::BottomPanel::Margins;
            self.view_state.bay = Some(Vec::new());
            self.show_bay_panel();
        }
    }

    /// The panel with the bay's fields, where the window has room for one panel only.
    fn show_bay_panel(&mut self) {
        self.view_state.panels.job = true;
        self.view_state.panels.job_first = true;
    }

    pub(in crate::app) fn bay(&mut self, act: BayAct) {
        let bay = self.job.document.bundle().bay.clone();
        match act {
            BayAct::Choose(things) => self.view_state.bay = Some(things),
            BayAct::Toggle(thing) => {
                let chosen = self.view_state.bay.get_or_insert_default();
                match chosen.iter().position(|t| *t == thing) {
                    Some(at) => drop(chosen.remove(at)),
                    None => chosen.push(thing),
                }
            }
            BayAct::Refused(why) => self.note = Some(capital(&why)),
            BayAct::PutDown(what, at) => {
                let equipment = self.job.document.bundle().equipment.targets.iter().next();
                let target = equipment.map(|(name, _)| name.to_string());
                let found = put_down(&bay, what, at.unwrap_or_else(|| self.middle()), target.as_deref());
                self.more(
                    &format!("put down a {}", what.words()),
                    found.map(|(bay, thing)| (bay, vec![thing])),
                );
            }
            BayAct::CornerAfter(at) => {
                let found = corner_added(&bay, at);
                self.more("add a corner", found.map(|(bay, thing)| (bay, vec![thing])));
            }
            BayAct::TakeAway(things) => {
                if self.is_free(&bay, &things) {
                    let title = format!("take {} away", several::names(&bay, &things));
                    self.view_state.bay = Some(Vec::new());
                    self.carry_out(Command::bay_rewritten(
                        title,
                        several::taken_away(&bay, &things),
                        Step::New,
                    ));
                }
            }
            BayAct::Copy(things) => {
                let (copies, others) = several::copied(&bay, &things);
                let what = match (copies.len(), others) {
                    (0, _) => {
                        "doorways, posts and corners belong to their wall, lift and floor: nothing is copied"
                            .into()
                    }
                    (n, 0) => format!("{} copied", count(n)),
                    (n, _) => {
                        format!("{} copied; doorways, posts and corners belong where they are", count(n))
                    }
                };
                if !copies.is_empty() {
                    self.copied = copies;
                }
                self.note = Some(capital(&what));
            }
            BayAct::Paste(at) => {
                let copies = self.copied.clone();
                self.put_in("paste", &bay, &copies, at);
            }
            BayAct::Duplicate(things) => {
                let (copies, _) = several::copied(&bay, &things);
                self.put_in("duplicate", &bay, &copies, None);
            }
            BayAct::Mirror(things, across) => {
                if self.is_free(&bay, &things) {
                    let title = format!("mirror {}", several::names(&bay, &things));
                    let next = several::mirrored(&bay, &things, across);
                    self.carry_out(Command::bay_rewritten(title, next, Step::New));
                }
            }
            BayAct::Align(things, to) => {
                if self.is_free(&bay, things.get(1..).unwrap_or_default()) {
                    let title = format!("align {}", to.words());
                    let next = several::aligned(&bay, &things, to);
                    self.carry_out(Command::bay_rewritten(title, next, Step::New));
                }
            }
            BayAct::Lock(things, locked) => {
                for name in things.iter().filter(|t| t.is_in(&bay)).map(|t| t.name(&bay)) {
                    match locked {
                        true => self.view_state.locked.insert(name),
                        false => self.view_state.locked.remove(&name),
                    };
                }
            }
        }
    }

    /// Whether none of them is locked; else it is said which.
    fn is_free(&mut self, bay: &Bay, things: &[BayThing]) -> bool {
        let locked = self.view_state.locked(bay, things);
        if let Some(name) = &locked {
            self.note = Some(capital(&format!("{name} is locked: let it go first")));
        }
        locked.is_none()
    }

    /// The middle of what the plan shows.
    fn middle(&self) -> P2 {
        self.canvas.view().map_or(P2::origin(), |view| view.centre)
    }

    /// What was copied put in, its middle at a place or a little beside where it was, and chosen.
    fn put_in(&mut self, title: &str, bay: &Bay, copies: &[several::Copied], at: Option<P2>) {
        /// So that a copy does not hide what it is a copy of, mm.
        const BESIDE: f64 = 200.0;
        let about = several::bounds_of(copies);
        let by = match (at, about) {
            (_, None) => {
                self.note = Some("Nothing is copied yet".into());
                return;
            }
            (Some(at), Some(about)) => (at - about.centre()).map(f64::round),
            (None, Some(_)) => V2::new(BESIDE, BESIDE),
        };
        self.more(title, several::put_in(bay, copies, by));
    }

    /// The bay with something more in it, which is then chosen.
    fn more(&mut self, title: &str, found: Result<(Bay, Vec<BayThing>), String>) {
        match found {
            Ok((next, things)) => {
                let before = self.job.document.revision();
                self.carry_out(Command::bay_rewritten(title.to_owned(), Ok(next), Step::New));
                if self.job.document.revision() != before {
                    self.view_state.bay = Some(things);
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
                    self.view_state.bay = Some(Vec::new());
                    self.show_bay_panel();
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

fn count(n: usize) -> String {
    if n == 1 { "one thing is".into() } else { format!("{n} things are") }
}
