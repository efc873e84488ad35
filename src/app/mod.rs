//! The window: a thin reader of the job. Panels read and send commands; `obey` carries them out at one place.

mod advise;
mod background;
mod bay;
mod beside;
mod canvas;
mod combo;
mod command;
mod cx;
mod dialog;
mod disk;
mod even;
mod field;
mod figure;
mod filing;
mod findings;
mod help;
mod icon;
mod keeper;
mod keys;
mod leaf;
mod left;
mod look;
mod margins;
mod obey;
mod open;
mod open_job;
mod picture;
mod profile;
mod queries;
mod search;
mod seen;
mod session;
mod sheet;
mod stands;
mod start;
mod strip;
mod survey;
mod way;

pub use start::open;

use std::path::{Path, PathBuf};

use egui::{CentralPanel, Frame, Margin, Panel, Ui};

use crate::advice::Advice;
use crate::checks::Judgement;
use crate::edit::Document;
use crate::files::{FileFault, Recovered};
use crate::layout::Stance;
use crate::model::Pose;
use crate::paint::Theme;
use crate::paint::screen::colour;

use beside::Beside;
use canvas::Canvas;
use command::{Act, BayAct, Command};
use cx::Cx;
use dialog::{Answer, Dialogs};
use filing::Then;
use keeper::Keeper;
use open_job::OpenJob;
use session::{Session, Under};
use sheet::Sheet;

/// The window on one job.
pub struct Window {
    job: OpenJob,
    session: Session,
    beside: Beside,
    canvas: Canvas,
    dialogs: Dialogs,
    sheet: Option<Sheet>,
    /// What to do once changes are saved or given up.
    then: Option<Then>,
    keeper: Keeper,
    recent: Vec<PathBuf>,
    lost: Vec<Recovered>,
    /// One line at the foot: what was just done, or could not be.
    note: Option<String>,
    /// Commands that wait until a field has given up what was typed.
    later: Vec<Command>,
    /// Whether a field had the focus when the last frame ended.
    typing: bool,
    theme_set: Option<bool>,
    zoom: f32,
    had_focus: bool,
    may_close: bool,
    /// Another job came in: fields forget what was typed about the last.
    fresh: bool,
    /// What the window's frame says.
    title: String,
}

impl Window {
    /// A window on the job at `job`. `state`: the folder in which it remembers things; `None` remembers nothing.
    /// Every fault that stands in the way of showing the job.
    pub fn new(job: &Path, state: Option<PathBuf>) -> Result<Window, Vec<FileFault>> {
        let keeper = Keeper::new(state);
        let settings = keeper.settings();
        let session = Session { night: settings.night, feet: settings.feet, ..Session::default() };
        let opened = open::job(job, &session)?;
        let open = keeper.is_open_elsewhere(job).then(|| filing::OPEN_ELSEWHERE.to_owned());
        let note = open.or(keeper.opened(job));
        let (lost, notes) = keeper.lost();
        let mut window = Window {
            job: opened,
            beside: Beside::default(),
            recent: keeper.recent(),
            session,
            canvas: Canvas::default(),
            dialogs: Dialogs::default(),
            sheet: None,
            then: None,
            keeper,
            lost,
            note: note.or_else(|| notes.into_iter().next()),
            later: Vec::new(),
            typing: false,
            theme_set: None,
            zoom: settings.zoom,
            had_focus: true,
            may_close: false,
            fresh: false,
            title: String::new(),
        };
        window.beside.look(window.job.document.home());
        window.find_heights();
        window.keep();
        window.offer_lost();
        Ok(window)
    }

    /// The job under change.
    pub fn document(&self) -> &Document {
        &self.job.document
    }

    /// What was found about the job as it is shown.
    pub fn judgement(&self) -> &Judgement {
        &self.job.seen.judgement
    }

    /// What helps, once it was tried on the job as it is shown.
    pub fn advice(&self) -> Option<&Advice> {
        self.job.advising.current()
    }

    /// The place in the judgement of the finding that is chosen.
    pub fn chosen(&self) -> Option<usize> {
        self.job.seen.chosen()
    }

    /// Whether something is still being worked out beside the window.
    pub fn is_busy(&self) -> bool {
        self.job.search.progress().is_some()
            || self.job.margins.is_busy()
            || self.job.way.is_busy()
            || self.job.ground.is_busy()
            || self.beside.is_busy()
            || self.job.advising.is_busy()
            || self.job.disk.is_busy()
    }

    /// How many times the rules were run over the job.
    pub fn checks(&self) -> u64 {
        self.job.seen.checks
    }

    /// How the plan is looked at, once it was shown.
    pub fn plan_view(&self) -> Option<&crate::paint::View> {
        self.canvas.view()
    }

    /// One frame of the window.
    pub fn show(&mut self, ui: &mut Ui) {
        let later = std::mem::take(&mut self.later);
        let mut commands = Vec::new();
        self.outside(ui.ctx(), &mut commands);
        let theme = Theme::of(self.session.night);
        if self.theme_set != Some(theme.dark) {
            look::apply(ui.ctx(), theme);
            if self.theme_set.is_none() && (self.zoom - 1.0).abs() > 0.01 {
                ui.ctx().set_zoom_factor(self.zoom);
            }
            self.theme_set = Some(theme.dark);
            ui.ctx().request_repaint();
        }
        if self.sheet.is_none() {
            let away = match (self.session.bay, self.session.under) {
                _ if self.canvas.is_held() => None,
                (Some(Some(_)), _) => Some(Command::Bay(BayAct::Choose(None))),
                (Some(None), _) => Some(Command::Act(Act::ChangeBay)),
                (None, Under::Margins) => None,
                (None, _) => Some(Command::Under(Under::Margins)),
            };
            keys::read(ui.ctx(), self.typing, away, &mut commands);
        }
        if std::mem::take(&mut self.fresh) {
            left::forget(ui.ctx());
        }
        self.panels(ui, theme, &mut commands);
        if let Some(mut sheet) = self.sheet.take() {
            sheet::show(ui, self.cx(theme), &mut sheet, &mut commands);
            self.sheet = Some(sheet);
        }
        self.session.reveal_card = false;
        self.session.reveal_spot = false;
        commands.extend(later);
        let any = !commands.is_empty();
        for command in commands {
            self.obey(ui.ctx(), command);
        }
        self.keep_heights();
        self.beside_the_window(ui.ctx());
        self.typing = ui.ctx().text_edit_focused();
        self.entitle(ui.ctx());
        let refreshed = self.refresh();
        if self.curve_beside(ui.ctx()) || refreshed || any {
            ui.ctx().request_repaint();
        }
    }

    /// The curve of the strip, worked out beside the window for what is shown; tells whether there is something new.
    fn curve_beside(&mut self, ctx: &egui::Context) -> bool {
        let Some(view) = self.canvas.view().copied() else { return false };
        let direction = self.direction(&view);
        self.job.margins.update(&self.job.seen, direction, ctx)
    }

    fn cx<'a>(&'a self, theme: &'a Theme) -> Cx<'a> {
        Cx {
            document: &self.job.document,
            seen: &self.job.seen,
            session: &self.session,
            theme,
            beside: self.beside.listing(),
            survey: self.job.survey.as_ref(),
            note: self.note.as_deref(),
            found: self.job.search.found(&self.job.document).map(|s| &**s),
            advice: self.job.advising.current(),
            searching: self.job.search.progress(),
            seeking_way: self.job.way.is_busy(),
            even: self.job.ground.found().map(|e| &**e),
            curve: None,
        }
    }

    /// Where a job without a pose is judged, once that was searched for, and whether it fits there.
    fn settled(&self) -> Option<(Stance, bool)> {
        let anywhere = self.job.document.job().pose == Pose::Anywhere;
        let found = self.job.search.found(&self.job.document).filter(|_| anywhere)?;
        found.judged().map(|(place, fits)| (place.stance, fits))
    }

    /// The direction the strip under the plan shows.
    fn direction(&self, view: &crate::paint::View) -> crate::siting::Direction {
        use crate::siting::Direction;
        match (margins::along_the_page(view), self.session.other_way) {
            (Direction::Along, false) | (Direction::Across, true) => Direction::Along,
            (Direction::Across, false) | (Direction::Along, true) => Direction::Across,
        }
    }

    /// Tells the window's frame which job it holds.
    fn entitle(&mut self, ctx: &egui::Context) {
        let mark = if self.job.document.is_changed() { "*" } else { "" };
        let title = format!("{mark}{} - Baywright", self.job.document.job().name);
        if title != self.title {
            ctx.send_viewport_cmd(egui::ViewportCommand::Title(title.clone()));
            self.title = title;
        }
    }

    /// Whether closing now would lose a change, or something that is being typed.
    fn would_lose(&self, ctx: &egui::Context) -> bool {
        self.job.document.is_changed() || self.has_entered() || ctx.text_edit_focused()
    }

    /// What reaches the window from outside: file dialogs, dropped files, the wish to close it.
    fn outside(&mut self, ctx: &egui::Context, commands: &mut Vec<Command>) {
        if let Some((purpose, answer)) = self.dialogs.poll(ctx) {
            match answer {
                Answer::Path(path) => self.answered(ctx, purpose, &path),
                Answer::Cancelled => self.then = None,
                Answer::NoDialog => self.ask_path(purpose),
            }
        }
        let dropped = ctx.input(|i| i.raw.dropped_files.first().map(|f| f.path().to_path_buf()));
        commands.extend(dropped.map(|path| {
            let is_table =
                path.extension().is_some_and(|e| survey::TABLES.iter().any(|t| e.eq_ignore_ascii_case(t)));
            if is_table { Command::HeightsFrom(path) } else { Command::OpenPath(path) }
        }));
        let focused = ctx.input(|i| i.focused);
        if focused && !self.had_focus {
            self.beside.look(self.job.document.home());
            self.job.disk.look(false);
        }
        self.had_focus = focused;
        if ctx.input(|i| i.viewport().close_requested()) && !self.may_close {
            if self.would_lose(ctx) || self.job.disk.is_writing() {
                ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
                commands.push(Command::Act(Act::Quit));
            } else {
                self.keeper.close();
            }
        }
        let zoom = ctx.zoom_factor();
        if (zoom - self.zoom).abs() > 0.01 && self.theme_set.is_some() {
            self.zoom = zoom;
            self.remember();
        }
    }

    fn panels(&mut self, ui: &mut Ui, theme: &Theme, out: &mut Vec<Command>) {
        let panel = Frame::new().fill(colour(theme.ui.panel));
        let side = panel.inner_margin(Margin { left: 14, right: 8, top: 0, bottom: 0 });
        let wide = ui.available_width();
        let direction = self.canvas.view().map(|view| self.direction(view));
        // the plan changes how it is looked at while the rest is only read
        let mut canvas = std::mem::take(&mut self.canvas);
        let cx = Cx { curve: direction.and_then(|d| self.job.margins.curve(d)), ..self.cx(theme) };
        Panel::top("verdict")
            .frame(panel.inner_margin(Margin::symmetric(14, 0)))
            .exact_size(strip::HEIGHT)
            .show(ui, |ui| {
                strip::show(ui, cx, &self.recent, out);
            });
        if let Some(trouble) = self.keeper.trouble() {
            Panel::bottom("trouble").frame(panel.inner_margin(Margin::symmetric(14, 4))).show(ui, |ui| {
                let words = format!("Unsaved work is not protected against a crash: {trouble}");
                ui.add(egui::Label::new(egui::RichText::new(words).color(colour(theme.ui.fails))).wrap());
            });
        }
        if self.dialogs.waiting().is_some() {
            Panel::bottom("dialog").frame(panel.inner_margin(Margin::symmetric(14, 2))).show(ui, |ui| {
                ui.horizontal(|ui| {
                    look::quiet(ui, "The file dialog is open.");
                    if ui.button("type the path instead").clicked() {
                        out.push(Command::TypePath);
                    }
                });
            });
        }
        let left = (wide * 0.19).clamp(256.0, 330.0);
        Panel::left("job").frame(side).exact_size(left).resizable(false).show(ui, |ui| {
            left::show(ui, cx, out);
        });
        let right = (wide * 0.23).clamp(296.0, 400.0);
        Panel::right("findings").frame(side).exact_size(right).resizable(false).show(ui, |ui| {
            let tall = ui.available_height();
            let size = stands::height(ui.ctx()).clamp(90.0, (tall * 0.42).max(90.0));
            let frame = Frame::new().inner_margin(Margin { bottom: 6, ..Margin::ZERO });
            Panel::bottom("stands").frame(frame).exact_size(size).resizable(false).show(ui, |ui| {
                stands::show(ui, cx, out);
            });
            findings::show(ui, cx, out);
        });
        CentralPanel::default().frame(Frame::new().fill(colour(theme.ui.ground))).show(ui, |ui| {
            canvas.show(ui, cx, out);
        });
        self.canvas = canvas;
    }
}
