//! The window: its parts, and one frame of it.

use std::path::{Path, PathBuf};

use egui::Ui;

use crate::advice::Advice;
use crate::app::background::folder_query::FolderQuery;
use crate::app::background::workshop_query::WorkshopQuery;
use crate::app::commands::command::{Act, BayAct, Command};
use crate::app::commands::{load, shortcuts};
use crate::app::dialogs;
use crate::app::open_job::OpenJob;
use crate::app::panels::job;
use crate::app::plan::bottom::margin_strip::along_the_page;
use crate::app::plan::canvas::Canvas;
use crate::app::shell::file_dialog::FileDialogs;
use crate::app::shell::persistence::{OPEN_ELSEWHERE, Persistence};
use crate::app::state::after_saving::AfterSaving;
use crate::app::state::dialog::Dialog;
use crate::app::state::panel_context::PanelContext;
use crate::app::state::shop_place::ShopPlace;
use crate::app::state::shop_view::ShopView;
use crate::app::state::view_state::{BottomPanel, ViewState, seen_as};
use crate::app::widgets::style;
use crate::checks::Judgement;
use crate::edit::Document;
use crate::edit::bay::several::Copied;
use crate::files::{FileFault, Recovered};
use crate::layout::Stance;
use crate::model::Pose;
use crate::paint::Theme;

/// The window on one job.
pub struct Window {
    pub(super) job: OpenJob,
    pub(super) view_state: ViewState,
    pub(super) folders: FolderQuery,
    pub(super) shop: WorkshopQuery,
    /// Folders of workshops opened lately.
    pub(super) shops: Vec<PathBuf>,
    /// The open job was chosen by a person.
    pub(super) job_shown: bool,
    pub(super) canvas: Canvas,
    pub(super) dialogs: FileDialogs,
    pub(super) dialog: Option<Dialog>,
    /// What to do once changes are saved or given up.
    pub(super) after_saving: Option<AfterSaving>,
    pub(super) persistence: Persistence,
    pub(super) recent: Vec<PathBuf>,
    pub(super) lost: Vec<Recovered>,
    /// One line at the foot: what was just done, or could not be.
    pub(super) note: Option<String>,
    /// Commands that wait until a field has given up what was typed.
    pub(super) later: Vec<Command>,
    /// Whether a field had the focus when the last frame ended.
    pub(super) typing: bool,
    pub(super) theme_set: Option<(bool, bool)>,
    pub(super) zoom: f32,
    /// Its size on the screen, points of the screen; as it was left, for the next time.
    pub(super) size: Option<[f32; 2]>,
    /// The field of a panel that was typed into last.
    pub(super) field: Option<egui::Id>,
    pub(super) had_focus: bool,
    pub(super) may_close: bool,
    /// Another job came in: fields forget what was typed about the last.
    pub(super) fresh: bool,
    /// Things of a bay that were copied.
    pub(super) copied: Vec<Copied>,
    /// What the window's frame says.
    pub(super) title: String,
}

impl Window {
    /// A window on the job at `job`. `state`: the folder in which it remembers things; `None` remembers nothing.
    /// Every fault that stands in the way of showing the job.
    pub fn new(job: &Path, state: Option<PathBuf>) -> Result<Window, Vec<FileFault>> {
        let mut window = Window::beneath(job, state)?;
        let open = window.persistence.is_open_elsewhere(job).then(|| OPEN_ELSEWHERE.to_owned());
        let note = open.or(window.persistence.opened(job));
        window.note = note.or(window.note.take());
        window.recent = window.persistence.recent();
        window.job_shown = true;
        window.shop.follow(window.job.document.home());
        Ok(window)
    }

    /// A window with a job that nobody has opened yet.
    fn beneath(job: &Path, state: Option<PathBuf>) -> Result<Window, Vec<FileFault>> {
        let persistence = Persistence::new(state);
        let settings = persistence.settings();
        let view_state = seen_as(&settings);
        let opened = load::job(job, &view_state)?;
        let (lost, notes) = persistence.lost();
        let mut window = Window {
            job: opened,
            folders: FolderQuery::default(),
            shop: WorkshopQuery::default(),
            shops: persistence.workshops(),
            job_shown: false,
            recent: persistence.recent(),
            view_state,
            canvas: Canvas::default(),
            dialogs: FileDialogs::default(),
            dialog: None,
            after_saving: None,
            persistence,
            lost,
            note: notes.into_iter().next(),
            later: Vec::new(),
            typing: false,
            theme_set: None,
            zoom: settings.zoom,
            size: settings.size,
            field: None,
            had_focus: true,
            may_close: false,
            fresh: false,
            copied: Vec::new(),
            title: String::new(),
        };
        window.folders.look(window.job.document.home());
        window.restore_survey_draft();
        window.keep();
        window.offer_recovery();
        Ok(window)
    }

    /// A window on the workshop in a folder, or where everybody begins. `under`: the job that lies ready beneath, which is the
    /// demonstration's.
    pub fn without_job(
        folder: Option<&Path>,
        under: &Path,
        state: Option<PathBuf>,
    ) -> Result<Window, Vec<FileFault>> {
        let mut window = Window::beneath(under, state)?;
        match folder {
            Some(folder) => window.open_folder(folder),
            None => window.view_state.place = ShopPlace::Start,
        }
        Ok(window)
    }

    /// The job under change.
    pub fn document(&self) -> &Document {
        &self.job.document
    }

    /// What was found about the job as it is shown.
    pub fn judgement(&self) -> &Judgement {
        &self.job.derived.judgement
    }

    /// What helps, once it was tried on the job as it is shown.
    pub fn advice(&self) -> Option<&Advice> {
        self.job.advice.current()
    }

    /// The place in the judgement of the finding that is chosen.
    pub fn chosen(&self) -> Option<usize> {
        self.job.derived.chosen()
    }

    /// Whether something is still being worked out beside the window.
    pub fn is_busy(&self) -> bool {
        self.job.siting.progress().is_some()
            || self.job.margins.is_busy()
            || self.job.drive_in.is_busy()
            || self.job.floor.is_busy()
            || self.folders.is_busy()
            || self.shop.is_busy()
            || self.job.advice.is_busy()
            || self.job.disk.is_busy()
    }

    /// How many times the rules were run over the job.
    pub fn checks(&self) -> u64 {
        self.job.derived.checks
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
        let theme = Theme::of(self.view_state.night);
        let look = (theme.dark, self.view_state.touch);
        if self.theme_set != Some(look) {
            style::named_part(ui, "Baywright");
            style::apply(ui.ctx(), theme, self.view_state.touch);
            if self.theme_set.is_none() && (self.zoom - 1.0).abs() > 0.01 {
                ui.ctx().set_zoom_factor(self.zoom);
            }
            self.theme_set = Some(look);
            ui.ctx().request_repaint();
        }
        if self.dialog.is_none() {
            let away = match (self.view_state.bay.as_deref(), self.view_state.bottom) {
                _ if self.canvas.is_held() => None,
                _ if self.view_state.tape.is_some() => Some(Command::Act(Act::HoldTape)),
                (Some([]), _) => Some(Command::Act(Act::ChangeBay)),
                (Some(_), _) => Some(Command::Bay(BayAct::Choose(Vec::new()))),
                (None, BottomPanel::Margins) => None,
                (None, _) => Some(Command::Bottom(BottomPanel::Margins)),
            };
            let adrift = self.view_state.adrift;
            let on_the_plan = self.view_state.place == ShopPlace::Plan;
            let away = away.filter(|_| on_the_plan);
            shortcuts::read(ui.ctx(), self.typing, adrift, away, &mut commands);
            // nothing changes a job that is not seen
            commands.retain(|c| on_the_plan || !matches!(c, Command::Act(act) if !act.works_off_the_plan()));
        }
        if std::mem::take(&mut self.fresh) {
            job::forget(ui.ctx());
        }
        self.panels(ui, theme, &mut commands);
        if let Some(mut dialog) = self.dialog.take() {
            dialogs::show(ui, self.cx(theme), &mut dialog, &mut commands);
            self.dialog = Some(dialog);
        }
        self.view_state.reveal_card = false;
        self.view_state.reveal_spot = false;
        commands.extend(later);
        let any = !commands.is_empty();
        for command in commands {
            self.dispatch(ui.ctx(), command);
        }
        self.keep_heights();
        self.beside_the_window(ui.ctx());
        self.typing = ui.ctx().text_edit_focused();
        self.look_for_the_field(ui.ctx());
        self.set_title(ui.ctx());
        let refreshed = self.refresh();
        if self.curve_beside(ui.ctx()) || refreshed || any {
            ui.ctx().request_repaint();
        }
    }

    /// The curve of the strip, worked out beside the window for what is shown; tells whether there is something new.
    pub(super) fn curve_beside(&mut self, ctx: &egui::Context) -> bool {
        let Some(view) = self.canvas.view().copied() else { return false };
        let direction = self.direction(&view);
        self.job.margins.update(&self.job.derived, direction, ctx)
    }

    pub(super) fn cx<'a>(&'a self, theme: &'a Theme) -> PanelContext<'a> {
        PanelContext {
            document: &self.job.document,
            derived: &self.job.derived,
            view_state: &self.view_state,
            theme,
            folders: self.folders.listing(),
            survey: self.job.survey.as_ref(),
            note: self.note.as_deref(),
            found: self.job.siting.found(&self.job.document).map(|s| &**s),
            advice: self.job.advice.current(),
            searching: self.job.siting.progress(),
            seeking_way: self.job.drive_in.is_busy(),
            even: self.job.floor.found().map(|e| &**e),
            curve: None,
            shop: ShopView {
                contents: self.shop.shop().map(|s| &**s),
                fates: self.shop.fates(),
                judging: self.shop.is_judging(),
                recent_shops: &self.shops,
                recent_jobs: &self.recent,
                job_shown: self.job_shown,
            },
        }
    }

    /// Where a job without a pose is judged, once that was searched for, and whether it fits there.
    pub(super) fn settled(&self) -> Option<(Stance, bool)> {
        let anywhere = self.job.document.job().pose == Pose::Anywhere;
        let found = self.job.siting.found(&self.job.document).filter(|_| anywhere)?;
        found.judged().map(|(place, fits)| (place.stance, fits))
    }

    /// The direction the strip under the plan shows.
    pub(super) fn direction(&self, view: &crate::paint::View) -> crate::siting::Direction {
        use crate::siting::Direction;
        match (along_the_page(view), self.view_state.other_way) {
            (Direction::Along, false) | (Direction::Across, true) => Direction::Along,
            (Direction::Across, false) | (Direction::Along, true) => Direction::Across,
        }
    }

    /// Tells the window's frame which job it holds.
    pub(super) fn set_title(&mut self, ctx: &egui::Context) {
        let mark = if self.job.document.is_changed() { "*" } else { "" };
        let name = match (self.job_shown, self.shop.shop()) {
            (true, _) => self.job.document.job().name.to_string(),
            (false, Some(shop)) => shop.name.clone(),
            (false, None) => "Workshops".to_owned(),
        };
        let title = format!("{mark}{name} - Baywright");
        if title != self.title {
            ctx.send_viewport_cmd(egui::ViewportCommand::Title(title.clone()));
            self.title = title;
        }
    }

    /// Whether the field that was typed into last is still there; where it is gone, plain keys wait until a person presses or
    /// steps somewhere.
    fn look_for_the_field(&mut self, ctx: &egui::Context) {
        let elsewhere = ctx.input(|i| {
            i.pointer.any_pressed() || i.key_pressed(egui::Key::Tab) || i.key_pressed(egui::Key::Escape)
        });
        if self.typing && self.dialog.is_none() {
            self.field = ctx.memory(|m| m.focused());
            self.view_state.adrift = false;
        } else if elsewhere {
            self.field = None;
            self.view_state.adrift = false;
        } else if let Some(field) = self.field {
            self.view_state.adrift = ctx.read_response(field).is_none();
        }
    }

    /// Whether closing now would lose a change, or something that is being typed.
    pub(super) fn would_lose(&self, ctx: &egui::Context) -> bool {
        self.job.document.is_changed() || self.has_entered() || ctx.text_edit_focused()
    }

    /// What reaches the window from outside: file dialogs, dropped files, the wish to close it.
    pub(super) fn outside(&mut self, ctx: &egui::Context, commands: &mut Vec<Command>) {
        if let Some((purpose, answer)) = self.dialogs.poll(ctx) {
            match answer {
                Some(path) => {
                    self.close_dialog();
                    self.on_file_chosen(ctx, purpose, &path);
                }
                // the box to type into is still there
                None => {
                    if let Some(Dialog::Path { browsed, .. }) = &mut self.dialog {
                        *browsed = true;
                    }
                }
            }
        }
        let dropped: Vec<PathBuf> =
            ctx.input(|i| i.raw.dropped_files.iter().map(|f| f.path().to_path_buf()).collect());
        if !dropped.is_empty() {
            commands.push(Command::Dropped(dropped));
        }
        let focused = ctx.input(|i| i.focused);
        if focused && !self.had_focus {
            self.folders.look(self.job.document.home());
            self.job.disk.look(false);
        }
        self.had_focus = focused;
        if ctx.input(|i| i.viewport().close_requested()) && !self.may_close {
            if self.would_lose(ctx) || self.job.disk.is_writing() {
                ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
                commands.push(Command::Act(Act::Quit));
            } else {
                self.remember();
                self.persistence.close();
            }
        }
        let zoom = ctx.zoom_factor();
        let inner = ctx.input(|i| i.viewport().inner_rect);
        self.size = inner.map(|r| [r.width() * zoom, r.height() * zoom]).or(self.size);
        if (zoom - self.zoom).abs() > 0.01 && self.theme_set.is_some() {
            self.zoom = zoom;
            self.remember();
        }
    }
}
