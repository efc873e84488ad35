//! Entering the survey of the floor: a table that is typed or pasted, heights pressed into the plan, and the way of both
//! into the bay's file. Until they are written there they are drawn, but nothing is judged by them.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use egui::{Align2, Key, Label, Rect, ScrollArea, TextEdit, Ui, vec2};

use super::Window;
use super::combo::{Choice, combo};
use super::command::{Act, Command, Settle};
use super::cx::Cx;
use super::session::Under;
use super::sheet::{Sheet, buttons, close, text, title};
use super::{figure, look};
use crate::edit::Document;
use crate::files::{
    Bare, HeightTable, load_heights, named_path, open_held, save_bay_text, with_survey, write_heights,
};
use crate::geometry::{P2, P3};
use crate::layout::{FloorField, Layout};
use crate::model::{Bay, Name};
use crate::paint::View;
use crate::paint::screen::colour;
use crate::units::format_height;

/// Endings of files that are read as a table of heights.
pub const TABLES: [&str; 3] = ["csv", "tsv", "txt"];
/// How many faults of a table are shown at once.
const MOST_FAULTS: usize = 5;
/// A press this near to a spot is about the spot, points.
const REACH: f32 = 9.0;

/// Heights of the floor under change.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// The bay's file, as the job names it.
    bay: Name,
    text: String,
    /// Standard error of one reading, as typed.
    error: String,
    places: Bare,
    heights: Bare,
    /// Text and error as the bay's file has them.
    before: (String, String),
    /// The floor as entered, but for the lines that cannot be read.
    pub floor: FloorField,
}

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

/// What is done in the sheets of the survey.
#[derive(Clone, Debug, PartialEq)]
pub enum Done {
    /// Goes on with presses on the plan.
    OnPlan,
    /// Asks before the bay's file is written over.
    Write,
    /// Writes it.
    Confirmed,
    /// Back to the table.
    Table,
    ThrowAway,
    /// A height was typed, in mm; `None` takes the spot out.
    Height {
        at: P2,
        line: Option<usize>,
        mm: Option<f64>,
    },
}

impl Draft {
    fn of(file: &Name, bay: &Bay) -> Draft {
        let text = write_heights(&bay.heights);
        let error = bay.reading_error.map(figure::number).unwrap_or_default();
        let draft = Draft {
            bay: file.clone(),
            before: (text.clone(), error.clone()),
            text,
            error,
            places: Bare::Mm,
            heights: Bare::Mm,
            floor: FloorField::default(),
        };
        draft.kept()
    }

    /// Whether it was entered for the bay the job stands in.
    pub fn is_for(&self, document: &Document) -> bool {
        self.bay == document.job().bay
    }

    /// Whether it says something else than the bay's file.
    pub fn is_changed(&self) -> bool {
        (self.text.trim(), self.error.trim()) != (self.before.0.trim(), self.before.1.trim())
    }

    /// With the floor brought up to date.
    pub fn kept(mut self) -> Draft {
        let spots = self.table().spots;
        let error = self.reading_error().ok().flatten();
        self.floor = FloorField::new(spots.iter().map(|s| P3::new(s.0, s.1, s.2)), error);
        self
    }

    fn table(&self) -> HeightTable {
        HeightTable::read(&self.text, self.places, self.heights)
    }

    fn reading_error(&self) -> Result<Option<f64>, String> {
        match self.error.trim() {
            "" => Ok(None),
            text => match figure::read_length(text) {
                Ok(mm) if mm >= 0.0 => Ok(Some(mm)),
                Ok(_) => Err("a reading error is not below 0".into()),
                Err(why) => Err(why),
            },
        }
    }

    /// Puts a height in, in place of the line that has this spot; or takes that line out.
    fn put(&mut self, at: P2, line: Option<usize>, mm: Option<f64>) {
        let unit = |bare: Bare| if bare == Bare::Mm { "" } else { " mm" };
        let (p, h) = (unit(self.places), unit(self.heights));
        let new = mm.map(|mm| format!("{}{p}, {}{p}, {}{h}", at.x, at.y, figure::number(mm)));
        let mut lines: Vec<String> = self.text.lines().map(str::to_owned).collect();
        match (line.map(|n| n - 1).filter(|i| *i < lines.len()), new) {
            (Some(i), Some(new)) => lines[i] = new,
            (Some(i), None) => {
                lines.remove(i);
            }
            (None, Some(new)) => lines.push(new),
            (None, None) => {}
        }
        self.text = lines.iter().flat_map(|l| [l.as_str(), "\n"]).collect();
    }

    /// How much there is, in words.
    fn told(&self, feet: bool) -> String {
        let table = self.table();
        let spots = match table.spots.len() {
            1 => "1 spot".to_owned(),
            n => format!("{n} spots"),
        };
        let range = self.floor.range().filter(|_| !table.spots.is_empty());
        let unit = if feet { "" } else { " mm" };
        let range = range.map_or(String::new(), |(lo, hi)| {
            format!(", {} to {}{unit}", format_height(lo, feet), format_height(hi, feet))
        });
        let faults = match table.faults.len() {
            0 => String::new(),
            1 => "; 1 line cannot be used".into(),
            n => format!("; {n} lines cannot be used"),
        };
        format!("{spots}{range}{faults}")
    }
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

    /// Adds the lines of a table from a file.
    pub(super) fn heights_from(&mut self, path: &Path) {
        match load_heights(path) {
            Ok(text) => {
                let mut draft = self.taken_survey();
                if !draft.text.is_empty() && !draft.text.ends_with('\n') {
                    draft.text.push('\n');
                }
                draft.text.push_str(&text);
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

    pub(super) fn survey_done(&mut self, done: Done) {
        match done {
            Done::OnPlan => self.session.under = Under::Survey,
            Done::Table => self.ask_survey(),
            Done::ThrowAway => {
                self.survey = None;
                self.session.under = Under::default();
                self.note = Some("The heights that were entered are thrown away".into());
            }
            Done::Height { at, line, mm } => {
                let mut draft = self.taken_survey();
                draft.put(at, line, mm);
                self.survey = Some(draft.kept());
            }
            Done::Write => {
                let draft = self.taken_survey();
                let (path, after) = (self.bay_path(), draft.table().spots.len());
                let before = self.document.bundle().bay.heights.len();
                self.survey = Some(draft);
                self.sheet = Some(Sheet::WriteSurvey { path, before, after });
            }
            Done::Confirmed => {
                if let Err(faults) = self.write_survey() {
                    self.refuse("The survey cannot be put into the bay's file".into(), faults);
                }
            }
        }
    }

    fn bay_path(&self) -> PathBuf {
        named_path(self.document.home(), self.document.job().bay.as_str())
    }

    fn write_survey(&mut self) -> Result<(), Vec<String>> {
        let draft = self.taken_survey();
        let (path, table, error) = (self.bay_path(), draft.table(), draft.reading_error());
        self.survey = Some(draft);
        let all =
            |faults: Vec<crate::files::FileFault>| faults.iter().map(ToString::to_string).collect::<Vec<_>>();
        let error = error.map_err(|why| vec![why])?;
        if let Some((line, why)) = table.faults.first() {
            return Err(vec![format!("line {line}: {why}")]);
        }
        let (text, bay) = with_survey(&path, &table.spots, error).map_err(all)?;
        let bay = Arc::new(bay);
        let mut bundle = self.document.bundle().clone();
        bundle.bay = bay.clone();
        Layout::new(&bundle)
            .map_err(|faults| faults.iter().map(|f| self.sources.fault(f).to_string()).collect::<Vec<_>>())?;
        save_bay_text(&path, &text).map_err(|fault| vec![fault.to_string()])?;
        self.document.reread_bay(&bay);
        if let Ok(opened) = open_held(self.document.job(), self.document.home()) {
            self.sources = opened.sources;
        }
        self.survey = None;
        self.session.under = Under::default();
        self.session.heights = true;
        self.note = Some(format!("The survey is written into {}", name_of(&path)));
        Ok(())
    }
}

fn name_of(path: &Path) -> String {
    path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default()
}

/// What a press on the plan is about: the spot under it, or the place itself in whole mm.
pub fn pressed(cx: Cx, view: &View, at: [f32; 2]) -> Command {
    let spots = cx.survey.map_or(cx.layout().stage.survey.spots(), |d| d.floor.spots());
    let apart = |p: P2| {
        let [x, y] = view.to_page(p);
        (x - at[0]).hypot(y - at[1])
    };
    let near = spots.iter().map(|s| s.xy()).min_by(|a, b| apart(*a).total_cmp(&apart(*b)));
    let free = view.to_bay(at);
    let free = P2::new(free.x.round(), free.y.round());
    Command::HeightAt(near.filter(|p| apart(*p) <= REACH).unwrap_or(free))
}

/// What lies under the plan while heights are pressed into it.
pub fn strip(ui: &mut Ui, cx: Cx, rect: Rect, out: &mut Vec<Command>) {
    ui.painter().rect_filled(rect, 0.0, colour(cx.theme.ui.raised));
    let bay = &cx.document.bundle().bay.heights;
    let told = cx.survey.map_or_else(|| format!("{} spots", bay.len()), |d| d.told(cx.session.feet));
    let changed = cx.survey.is_some_and(Draft::is_changed);
    let state = match changed {
        true => "not in the bay's file yet, and nothing is judged by it",
        false => "as the bay's file has it",
    };
    let mut ui = ui.new_child(egui::UiBuilder::new().max_rect(rect.shrink2(vec2(14.0, 10.0))));
    ui.spacing_mut().item_spacing.y = 8.0;
    ui.label("Press on the plan where a height was read, or on a spot to change it.");
    look::quiet(&mut ui, format!("{told}: {state}"));
    ui.horizontal(|ui| {
        if ui.button("table").clicked() {
            out.push(Command::Act(Act::Survey));
        }
        if ui.add_enabled(changed, egui::Button::new("write into the bay's file")).clicked() {
            out.push(Command::Settle(Settle::Survey(Done::Write)));
        }
        if ui.button("close").on_hover_text("Esc; what was entered stays in the table").clicked() {
            out.push(Command::Under(Under::Margins));
        }
    });
}

/// The table.
pub fn table(ui: &mut Ui, cx: Cx, draft: &mut Draft, height: f32, out: &mut Vec<Command>) {
    title(ui, &format!("Floor survey of {}", cx.document.bundle().bay.name));
    look::quiet(
        ui,
        "One spot a line: x to the right, y into the bay, height above the datum. Tabs, semicolons, commas or blanks part the columns, so a table can be pasted from a spreadsheet, or its file dropped here.",
    );
    ui.horizontal(|ui| {
        for (name, bare) in [("places in", &mut draft.places), ("heights in", &mut draft.heights)] {
            ui.label(name);
            let choices = Bare::ALL.map(|b| Choice::new(b, b.word()));
            if let Some(picked) = combo(ui, name, bare.word(), bare.word(), 64.0, choices) {
                *bare = picked;
            }
        }
        ui.label("reading error");
        let edit = TextEdit::singleline(&mut draft.error)
            .hint_text("mm")
            .desired_width(70.0)
            .min_size(vec2(70.0, look::ROW));
        let edit = ui.add(edit.align(Align2::RIGHT_CENTER));
        edit.accessible_name("reading error")
            .on_hover_text("standard error of one reading of the instrument");
    });
    let rows = ((height / 18.0) as usize).clamp(5, 14);
    ScrollArea::vertical().max_height(rows as f32 * 18.0).id_salt("heights").show(ui, |ui| {
        let edit = TextEdit::multiline(&mut draft.text)
            .font(egui::TextStyle::Monospace)
            .hint_text("3450, 2200, -9")
            .desired_rows(rows)
            .desired_width(f32::INFINITY);
        ui.add(edit).accessible_name("heights of the floor");
    });
    let read = draft.table();
    let error = draft.reading_error();
    let wrong = colour(cx.theme.ui.fails);
    let fault = |ui: &mut Ui, words: String| {
        ui.add(Label::new(egui::RichText::new(words).color(wrong).size(12.5)).wrap());
    };
    for (line, why) in read.faults.iter().take(MOST_FAULTS) {
        fault(ui, format!("line {line}: {why}"));
    }
    if read.faults.len() > MOST_FAULTS {
        fault(ui, format!("and {} more lines that cannot be used", read.faults.len() - MOST_FAULTS));
    }
    if let Err(why) = &error {
        fault(ui, format!("reading error: {why}"));
    }
    look::quiet(ui, draft.clone().kept().told(cx.session.feet));
    let ready = read.faults.is_empty() && error.is_ok();
    let changed = draft.is_changed();
    buttons(ui, |ui| {
        let write = ui
            .add_enabled_ui(ready && changed, |ui| {
                look::main_button(ui, "write into the bay's file", cx.theme)
            })
            .inner;
        let why = if ready { "the bay's file says the same" } else { "some lines cannot be used" };
        if write.on_disabled_hover_text(why).clicked() {
            out.push(Command::Settle(Settle::Survey(Done::Write)));
        }
        if ui.button("enter on the plan").clicked() {
            out.push(Command::Settle(Settle::Survey(Done::OnPlan)));
        }
        if changed && ui.button("throw it away").clicked() {
            out.push(Command::Settle(Settle::Survey(Done::ThrowAway)));
        }
        close(ui, "close", out);
    });
}

/// The height at one place.
pub fn height(ui: &mut Ui, cx: Cx, height: &mut Height, out: &mut Vec<Command>) {
    let feet = cx.session.feet;
    let known = height.line.is_some();
    title(ui, if known { "This spot of the floor" } else { "Height of the floor here" });
    let (x, y) = (figure::length(height.at.x, feet), figure::length(height.at.y, feet));
    look::quiet(ui, format!("{x} to the right, {y} into the bay; above the datum, below it with a minus"));
    let edit = TextEdit::singleline(&mut height.text)
        .hint_text("mm")
        .desired_width(140.0)
        .align(Align2::RIGHT_CENTER)
        .min_size(vec2(140.0, look::ROW));
    let response = ui.add(edit).accessible_name("height");
    if !height.focused {
        response.request_focus();
        height.focused = true;
    }
    let entered = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
    if response.changed() {
        height.fault = None;
    }
    if let Some(fault) = &height.fault {
        ui.add(Label::new(egui::RichText::new(fault).color(colour(cx.theme.ui.fails))).wrap());
    }
    let done = |mm| Command::Settle(Settle::Survey(Done::Height { at: height.at, line: height.line, mm }));
    let mut fault = None;
    buttons(ui, |ui| {
        if look::main_button(ui, "enter", cx.theme).clicked() || entered {
            match figure::read_length(height.text.trim()) {
                Ok(mm) => out.push(done(Some(mm))),
                Err(why) => fault = Some(why),
            }
        }
        if known && ui.button("take it out").clicked() {
            out.push(done(None));
        }
        close(ui, "leave it", out);
    });
    if fault.is_some() {
        height.fault = fault;
        height.focused = false;
    }
}

/// The question before the bay's file is written over.
pub fn write(ui: &mut Ui, cx: Cx, path: &Path, (before, after): (usize, usize), out: &mut Vec<Command>) {
    title(ui, "Write the survey into the bay's file");
    text(ui, name_of(path)).on_hover_text(path.display().to_string());
    let had = match before {
        0 => "It has no heights yet".into(),
        1 => "Its one height is replaced".into(),
        n => format!("Its {n} heights are replaced"),
    };
    text(ui, format!("{had}; {after} will stand in it. The rest of the file stays as it is."));
    look::quiet(ui, "Every job in this bay is judged by it from then on. This cannot be undone here.");
    buttons(ui, |ui| {
        if look::main_button(ui, "write it", cx.theme).clicked() {
            out.push(Command::Settle(Settle::Survey(Done::Confirmed)));
        }
        if ui.button("back to the table").clicked() {
            out.push(Command::Settle(Settle::Survey(Done::Table)));
        }
    });
}
