//! How the window is divided: its places, and round the plan the verdict, the job and the findings.

use egui::{CentralPanel, Frame, Margin, Panel, Ui};

use crate::app::commands::command::{Act, Command};
use crate::app::panels::side::{Widths, folded};
use crate::app::panels::{findings, job, siting, verdict_bar, workshop};
use crate::app::state::panel_context::PanelContext;
use crate::app::state::shop_place::ShopPlace;
use crate::app::widgets::style;
use crate::app::window::Window;
use crate::paint::Theme;
use crate::paint::screen::colour;

impl Window {
    /// Everything that is always there; what is asked for goes into `out`.
    pub(super) fn panels(&mut self, ui: &mut Ui, theme: &Theme, out: &mut Vec<Command>) {
        let panel = Frame::new().fill(colour(theme.ui.panel));
        let side = panel.inner_margin(Margin { left: 14, right: 8, top: 0, bottom: 0 });
        let wide = ui.available_width();
        let direction = self.canvas.view().map(|view| self.direction(view));
        // the plan changes how it is looked at while the rest is only read
        let mut canvas = std::mem::take(&mut self.canvas);
        let cx = PanelContext { curve: direction.and_then(|d| self.job.margins.curve(d)), ..self.cx(theme) };
        Panel::top("places")
            .frame(panel.inner_margin(Margin::symmetric(14, 0)))
            .exact_size(workshop::ROW_OF_PLACES)
            .show(ui, |ui| workshop::places(ui, cx, out));
        if self.view_state.place != ShopPlace::Plan {
            self.messages(ui, panel, theme);
            let frame = Frame::new().fill(colour(theme.ui.ground)).inner_margin(Margin::symmetric(18, 12));
            CentralPanel::default().frame(frame).show(ui, |ui| workshop::show(ui, cx, out));
            self.canvas = canvas;
            return;
        }
        Panel::top("verdict")
            .frame(panel.inner_margin(Margin::symmetric(14, 0)))
            .exact_size(verdict_bar::HEIGHT)
            .show(ui, |ui| {
                style::named_part(ui, "Verdict and menus");
                verdict_bar::show(ui, cx, &self.recent, out);
            });
        self.messages(ui, panel, theme);
        let tall = ui.available_height();
        let mut widths = cx.view_state.panels.widths;
        let sides = Widths::of(wide, widths);
        let shown = cx.view_state.panels.shown();
        if shown.0 {
            let panel =
                Panel::left("job").frame(side).default_size(sides.left).size_range(sides.left_range());
            let panel = panel.resizable(true).show(ui, |ui| {
                style::named_part(ui, "Job");
                style::within(ui, |ui| job::show(ui, cx, out));
            });
            sides.kept(panel.response.rect.width(), sides.left, &mut widths.0);
        } else {
            folded(ui, panel, Panel::left("job folded"), Act::JobPanel, out);
        }
        if shown.1 {
            let panel = Panel::right("findings")
                .frame(side)
                .default_size(sides.right)
                .size_range(sides.right_range());
            let panel = panel.resizable(true).show(ui, |ui| {
                style::named_part(ui, "Findings");
                style::within(ui, |ui| {
                    let size = siting::height(ui.ctx()).clamp(90.0, (tall * 0.42).max(90.0));
                    let frame = Frame::new().inner_margin(Margin { bottom: 6, ..Margin::ZERO });
                    Panel::bottom("stands").frame(frame).exact_size(size).resizable(false).show(ui, |ui| {
                        style::named_part(ui, "Where it can stand");
                        siting::show(ui, cx, out);
                    });
                    findings::show(ui, cx, out);
                });
            });
            sides.kept(panel.response.rect.width(), sides.right, &mut widths.1);
        } else {
            folded(ui, panel, Panel::right("findings folded"), Act::FindingsPanel, out);
        }
        let narrow = sides.narrow;
        CentralPanel::default().frame(Frame::new().fill(colour(theme.ui.ground))).show(ui, |ui| {
            style::named_part(ui, "Plan");
            canvas.show(ui, cx, out);
        });
        self.canvas = canvas;
        self.view_state.panels.widths = widths;
        if narrow != self.view_state.panels.narrow {
            self.view_state.panels.narrow = narrow;
            ui.ctx().request_discard("the window has become narrow, or wide again");
        }
    }

    /// What stands at the foot of every place: that work is not protected.
    fn messages(&self, ui: &mut Ui, panel: Frame, theme: &Theme) {
        if let Some(trouble) = self.persistence.trouble() {
            Panel::bottom("trouble").frame(panel.inner_margin(Margin::symmetric(14, 4))).show(ui, |ui| {
                let words = format!("Unsaved work is not protected against a crash: {trouble}");
                ui.add(
                    egui::Label::new(egui::RichText::new(words).color(colour(theme.ui.fails_text))).wrap(),
                );
            });
        }
    }
}
