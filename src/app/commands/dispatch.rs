//! The one place where commands are carried out.

use egui::Context;

use crate::app::commands::command::{Act, Command, PickedFile};
use crate::app::commands::load;
use crate::app::shell::file_dialog::Purpose;
use crate::app::state::after_saving::AfterSaving;
use crate::app::state::dialog::Dialog;
use crate::app::state::finding_list;
use crate::app::state::view_state::BottomPanel;
use crate::app::window::Window;
use crate::checks::Finding;
use crate::checks::acceptance::spelt;
use crate::edit::{After, Edit, Motion, Step, dropped};
use crate::files::{Settings, Sources};
use crate::model::Pose;
use crate::model::job::Accepted;
use crate::paint::Theme;
use crate::report::words;

impl Window {
    pub(in crate::app) fn dispatch(&mut self, ctx: &Context, command: Command) {
        match command {
            Command::Edit(edit, step) => self.edit(&edit, step),
            Command::Drag(stance) => self.job.drag = Some(stance),
            Command::Drop { keep } => self.dropped(keep),
            Command::Act(act) => self.act(ctx, act),
            Command::ShowSetup(setup) => self.view_state.setup = setup,
            Command::Choose { finding, look } => self.choose(finding, look),
            Command::FilterText(text) => self.view_state.filter = text,
            Command::FilterOutcome(outcome, hide) => {
                if hide {
                    self.view_state.hidden.insert(outcome);
                } else {
                    self.view_state.hidden.remove(&outcome);
                }
            }
            Command::Group(grouping) => self.view_state.grouping = grouping,
            Command::ShowPassed(show) => self.view_state.passed = show,
            Command::Why(rule) => self.dialog = Some(Dialog::Why(rule)),
            Command::AskAccept(at) => self.ask_accept(at),
            Command::Tick { line, done } => {
                if done {
                    self.view_state.ticked.insert(line);
                } else {
                    self.view_state.ticked.remove(&line);
                }
            }
            Command::Pick(pick) => self.pick(&pick),
            Command::OpenPath(path) => {
                self.close_dialog();
                self.unless_changed(ctx, AfterSaving::Open(path));
            }
            Command::Answer(settle) => self.answer_dialog(ctx, settle),
            Command::OtherWay(other) => self.view_state.other_way = other,
            Command::Bottom(under) => self.view_state.bottom = under,
            Command::HeightAt(at) => self.ask_height(at),
            Command::Bay(act) => self.bay(act),
            Command::TapeEnd(end) => {
                let held = self.view_state.tape.get_or_insert_default();
                if held.len() > 1 {
                    held.clear();
                }
                held.push(end);
            }
            Command::Dropped(paths) => self.dropped_files(ctx, paths),
            Command::Browse(purpose) => self.ask(purpose),
            Command::Shop(act) => self.shop_act(ctx, act),
        }
    }

    /// Brings what is derived up to date; tells whether something changed.
    pub(in crate::app) fn refresh(&mut self) -> bool {
        let way = self.job.drive_in.found(&self.job.document);
        let place = (self.job.drag, self.settled());
        match self.job.derived.refresh(&self.job.document, place, &self.view_state, way) {
            Ok(changed) => changed,
            Err(faults) => {
                // every change is laid out before it is accepted, so this is a state undo went back to
                let sources = self.job.document.sources();
                let faults = faults.iter().map(|f| sources.fault(f).to_string()).collect();
                self.dialog = Some(Dialog::Faults { tried: "The job cannot be drawn".into(), faults });
                false
            }
        }
    }

    pub(in crate::app) fn edit(&mut self, edit: &Edit, step: Step) {
        match self.job.document.after(edit) {
            Ok(after) => {
                self.accept(edit, after, step);
            }
            Err(why) => self.note = Some(words::capital(&why)),
        }
    }

    /// Takes a change over where it can be laid out, and tells whether it was; a pose never changes whether it can.
    pub(in crate::app) fn accept(&mut self, edit: &Edit, after: After, step: Step) -> bool {
        if !matches!(edit, Edit::Stand { .. })
            && let Err(faults) = self.job.derived.base().renewed(&after.bundle)
        {
            let sources = Sources::among(after.texts(), self.job.document.home(), &after.bundle.job);
            let faults = faults.iter().map(|f| sources.fault(f).to_string()).collect();
            self.refuse(format!("Cannot {}", edit.title()), faults);
            return false;
        }
        let gone =
            if edit.takes_along() { dropped(self.job.document.bundle(), &after.bundle) } else { Vec::new() };
        self.job.document.accept(edit, after, step);
        self.note = (!gone.is_empty())
            .then(|| format!("No longer in the job: {}. Undo brings it back.", gone.join("; ")));
        self.keep();
        true
    }

    /// Remembers the window as it is now, in case it ends without being closed.
    pub(in crate::app) fn keep(&self) {
        self.persistence.keep(&self.job.document, self.entered_heights());
    }

    pub(in crate::app) fn refuse(&mut self, tried: String, faults: Vec<String>) {
        self.close_dialog();
        self.dialog = Some(Dialog::Faults { tried, faults });
    }

    fn dropped(&mut self, keep: bool) {
        let Some(to) = self.job.drag.take() else { return };
        let turned = match self.job.document.job().pose {
            Pose::At { heading, .. } => heading != to.heading,
            Pose::Anywhere => false,
        };
        if keep {
            let how = if turned { Motion::Turn } else { Motion::Move };
            self.edit(&Edit::Stand { x: to.x, y: to.y, heading: to.heading, how }, Step::New);
        }
    }

    fn act(&mut self, ctx: &Context, act: Act) {
        let of_the_file = matches!(act, Act::New | Act::Open | Act::Save | Act::SaveAs | Act::Quit);
        if of_the_file && ctx.text_edit_focused() {
            // first the field gives up what was typed
            ctx.memory_mut(|m| m.stop_text_input());
            self.later.push(Command::Act(act));
            return;
        }
        match act {
            Act::New => self.unless_changed(ctx, AfterSaving::New),
            Act::Open => self.unless_changed(ctx, AfterSaving::AskOpen),
            Act::Save => self.save(ctx),
            Act::SaveAs => self.ask_path(Purpose::SaveAs),
            Act::ReadAnew => self.job.disk.look(true),
            Act::Quit => self.unless_changed(ctx, AfterSaving::Quit),
            Act::Undo | Act::Redo => self.step_back_or_on(act),
            Act::TurnRound => self.turn_round(),
            Act::Fit => self.canvas.fit(),
            Act::TurnPlan => self.canvas.turn(),
            Act::NextSetup => self.step_setup(1),
            Act::PreviousSetup => self.step_setup(-1),
            Act::AllSetups => self.view_state.setup = None,
            Act::NextFinding => self.step_finding(1),
            Act::PreviousFinding => self.step_finding(-1),
            Act::Night => self.view_state.night = !self.view_state.night,
            Act::FeetInches => self.view_state.feet = !self.view_state.feet,
            Act::Bigger => ctx.set_zoom_factor((ctx.zoom_factor() + 0.1).min(2.5)),
            Act::Smaller => ctx.set_zoom_factor((ctx.zoom_factor() - 0.1).max(0.6)),
            Act::UsualSize => ctx.set_zoom_factor(1.0),
            Act::Keys => self.dialog = Some(Dialog::Keys),
            Act::Tapes => self.view_state.tapes = !self.view_state.tapes,
            Act::Names => self.view_state.names = !self.view_state.names,
            Act::Way => self.view_state.way = !self.view_state.way,
            Act::Picture => self.view_state.picture = !self.view_state.picture,
            Act::Heights | Act::Profile if self.job.derived.layout.stage.survey.is_empty() => {
                self.note = Some("The bay's file has no floor survey; G enters one".into());
            }
            Act::Heights => self.view_state.heights = !self.view_state.heights,
            Act::Profile => {
                let shown = self.view_state.bottom.is_profile();
                self.view_state.bottom = if shown { BottomPanel::Margins } else { BottomPanel::Draw };
            }
            Act::Survey => self.ask_survey(),
            Act::ChangeBay => self.change_bay(),
            Act::NewBay => self.new_bay(),
            Act::HoldTape => {
                let held = self.view_state.tape.take();
                self.view_state.tape = held.is_none().then(Vec::new);
            }
            Act::Search => self.job.siting.again(),
            Act::StopSearch => self.job.siting.stop(),
            Act::PlaceBest => self.place_best(),
            Act::Commands => self.dialog = Some(Dialog::Commands { text: String::new(), focused: false }),
            Act::Legend => self.view_state.legend = !self.view_state.legend,
            Act::Closer => self.canvas.step(true),
            Act::Farther => self.canvas.step(false),
            Act::JobPanel => self.view_state.panels.switch(true),
            Act::FindingsPanel => self.view_state.panels.switch(false),
            Act::StripUnder => self.view_state.panels.strip = !self.view_state.panels.strip,
            Act::Touch => self.view_state.touch = !self.view_state.touch,
            Act::Show(place) => self.show_place(place),
        }
        let how_it_looks = [
            Act::Night,
            Act::FeetInches,
            Act::Legend,
            Act::JobPanel,
            Act::FindingsPanel,
            Act::StripUnder,
            Act::Touch,
        ];
        if how_it_looks.contains(&act) {
            self.remember();
        }
    }

    /// Keeps how the window is set for the next time.
    pub(in crate::app) fn remember(&mut self) {
        let (seen, panels) = (&self.view_state, &self.view_state.panels);
        let settings = Settings {
            night: seen.night,
            feet: seen.feet,
            zoom: self.zoom,
            touch: seen.touch,
            legend: seen.legend,
            job_panel: panels.job,
            findings_panel: panels.findings,
            strip: panels.strip,
            widths: [panels.widths.0, panels.widths.1],
            size: self.size,
        };
        if let Some(note) = self.persistence.set(&settings) {
            self.note = Some(note);
        }
    }

    fn step_back_or_on(&mut self, act: Act) {
        let bay = self.job.document.job().bay.clone();
        let (done, words) = match act {
            Act::Undo => (self.job.document.undo(), "Undone"),
            _ => (self.job.document.redo(), "Done again"),
        };
        if bay != self.job.document.job().bay {
            if self.has_entered() {
                let _ = if act == Act::Undo { self.job.document.redo() } else { self.job.document.undo() };
                self.keeps_survey();
                return;
            }
            self.job.survey = None;
        }
        if let Some(title) = done {
            self.job.drag = None;
            self.note = Some(format!("{words}: {title}"));
            self.keep();
        }
    }

    fn turn_round(&mut self) {
        let at = self.job.derived.layout.stance;
        let edit = Edit::Stand { x: at.x, y: at.y, heading: at.heading + 180.0, how: Motion::TurnRound };
        self.edit(&edit, Step::New);
    }

    fn place_best(&mut self) {
        let Some(best) = self.job.siting.found(&self.job.document).and_then(|s| s.best.as_ref()) else {
            self.note = Some("No place is known where everything fits".into());
            return;
        };
        let at = best.proposed.stance;
        self.edit(&Edit::Stand { x: at.x, y: at.y, heading: at.heading, how: Motion::Move }, Step::New);
    }

    fn step_setup(&mut self, by: isize) {
        let n = self.job.derived.layout.setups.len();
        // one place more than there are setups: all together
        let now = self.job.derived.setup().map_or(0, |s| s + 1);
        let next = now.saturating_add_signed(by.rem_euclid(n as isize + 1)) % (n + 1);
        self.view_state.setup = next.checked_sub(1);
    }

    fn step_finding(&mut self, by: isize) {
        let order = finding_list::order(self.cx(Theme::of(self.view_state.night)));
        let n = order.len();
        if n == 0 {
            return;
        }
        let now = self.job.derived.chosen().and_then(|c| order.iter().position(|i| *i == c));
        let next = match now {
            Some(at) => at.saturating_add_signed(by.rem_euclid(n as isize)) % n,
            None if by < 0 => n - 1,
            None => 0,
        };
        self.choose(Some(order[next]), true);
        self.view_state.reveal_card = true;
    }

    fn choose(&mut self, finding: Option<usize>, look: bool) {
        let finding = finding.and_then(|at| self.job.derived.judgement.findings.get(at));
        self.view_state.chosen = finding.map(Finding::key);
        if let Some(finding) = finding {
            let elsewhere = self.job.derived.setup().is_some()
                && finding.setup.is_some()
                && finding.setup != self.job.derived.setup();
            if elsewhere {
                self.view_state.setup = finding.setup;
            }
            if finding_list::is_quiet(finding.outcome) {
                self.view_state.passed = true;
            }
        }
        self.view_state.reveal_spot = look;
        self.view_state.reveal_card = !look;
    }

    fn ask_accept(&mut self, at: usize) {
        let Some(finding) = self.job.derived.judgement.findings.get(at) else { return };
        let show = self.cx(Theme::of(self.view_state.night)).show();
        let last_by = self.job.document.job().accepted.last().map(|a| a.by.clone()).unwrap_or_default();
        self.dialog = Some(Dialog::Accept {
            title: words::title(finding, &self.job.derived.layout, show),
            draft: Accepted {
                rule: finding.rule.word().into(),
                items: spelt(self.job.document.bundle(), finding),
                reason: String::new(),
                by: last_by,
                on: today(),
            },
        });
    }

    pub(in crate::app) fn pick(&mut self, pick: &PickedFile) {
        if matches!(pick, PickedFile::Bay(_)) && self.keeps_survey() {
            return;
        }
        let edit = match load::picked(&self.job.document, pick) {
            Ok(edit) => edit,
            Err(faults) => {
                let faults = faults.iter().map(ToString::to_string).collect();
                return self.refuse("The file cannot be used".into(), faults);
            }
        };
        let after = match self.job.document.after(&edit) {
            Ok(after) => after,
            Err(why) => return self.note = Some(words::capital(&why)),
        };
        let doubts = load::doubts(&self.job.document, &after);
        if !doubts.is_empty() {
            return self.refuse(format!("Cannot {}", edit.title()), doubts);
        }
        self.accept(&edit, after, Step::New);
        if matches!(edit, Edit::ChooseBay { .. }) {
            self.canvas.forget();
            self.job.survey = None;
            self.restore_survey_draft();
        }
        if !matches!(edit, Edit::ChooseVehicle { .. }) {
            self.view_state.setup = None;
        }
    }
}

/// The date of today as a job file writes it, in universal time.
fn today() -> String {
    jiff::Timestamp::now().strftime("%Y-%m-%d").to_string()
}
