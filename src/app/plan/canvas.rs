//! The plan in the middle: panned, zoomed, pressed, and the vehicle dragged about on it.

use egui::{Id, Key, Modifiers, PointerButton, Rect, Response, Sense, Ui, pos2};

use crate::app::commands::command::{Act, Command};
use crate::app::plan::bay_edit::Hand;
use crate::app::plan::bottom::{floor_profile, margin_strip, survey_strip};
use crate::app::plan::drag::{self, Drag};
use crate::app::plan::over::{ear, signs, told};
use crate::app::plan::screen_position::page;
use crate::app::plan::{bay_edit, nudge, pick_finding, section_line, sensor_inset, status_bar, tape_tool};
use crate::app::state::panel_context::PanelContext;
use crate::app::state::view_state::BottomPanel;
use crate::edit::{Edit, Step};
use crate::paint::labels::PageBox;
use crate::paint::{Painted, View, pick, screen, under};
use crate::scene::Tag;

/// Space round a plan that fits, points.
const MARGIN: f64 = 26.0;
/// A window this high has room for the strip under the plan.
const ROOM_FOR_STRIP: f32 = 420.0;
/// Height of the line under the plan.
const FOOT: f32 = 34.0;
/// The most that one frame of the wheel, or one press of a key, zooms.
const STEP: f64 = 1.12;
/// How near to a thing a press counts, points.
const REACH: f32 = 7.0;

/// The plan's own state: how it is looked at, and what is held.
#[derive(Default)]
pub(crate) struct Canvas {
    view: Option<View>,
    /// Turned as a person wants it; `None`: as it fills the window better.
    quarter: Option<bool>,
    /// Zoomed or moved by a person: a new window size no longer fits it anew.
    touched: bool,
    drag: Option<Drag>,
    painted: Painted,
}

impl Canvas {
    /// The plan is to fit the window again.
    pub(crate) fn fit(&mut self) {
        self.touched = false;
        self.view = None;
    }

    /// Turns the plan by a quarter.
    pub(crate) fn turn(&mut self) {
        let now = self.view.is_some_and(|v| v.quarter);
        self.quarter = Some(!now);
        self.fit();
    }

    /// Zooms by one small step about the middle.
    pub(crate) fn step(&mut self, closer: bool) {
        if let Some(view) = &mut self.view {
            let middle = [view.size.0 as f32 / 2.0, view.size.1 as f32 / 2.0];
            view.zoom(middle, if closer { STEP } else { 1.0 / STEP });
            self.touched = true;
        }
    }

    /// Another bay: what a person turned and zoomed was about the other one.
    pub(crate) fn forget(&mut self) {
        *self = Canvas::default();
    }

    /// Whether something is held: Esc lets go of it.
    pub(crate) fn is_held(&self) -> bool {
        self.drag.is_some()
    }

    /// The page point of a bay point, for tests and for the strip under the plan.
    pub(crate) fn view(&self) -> Option<&View> {
        self.view.as_ref()
    }

    /// Shows the plan.
    pub(crate) fn show(&mut self, ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
        let whole = ui.available_rect_before_wrap();
        let tool = cx.view_state.bottom != BottomPanel::Margins;
        let room = whole.height() > ROOM_FOR_STRIP && (cx.view_state.panels.strip || tool);
        // the plan keeps by far the most of the height
        let strip = if room { (whole.height() * 0.2).clamp(112.0, margin_strip::HEIGHT) } else { 0.0 };
        let rect = Rect::from_min_max(whole.min, pos2(whole.max.x, whole.max.y - FOOT - strip));
        let margin = Rect::from_min_max(pos2(whole.min.x, rect.max.y), pos2(whole.max.x, rect.max.y + strip));
        let foot = Rect::from_min_max(pos2(whole.min.x, margin.max.y), whole.max);
        if rect.width() < 40.0 || rect.height() < 40.0 {
            return;
        }
        let response = ui.interact(rect, Id::unique("plan"), Sense::click_and_drag());
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, "plan of the bay"));
        let size = (f64::from(rect.width()), f64::from(rect.height()));
        let mut view = self.view_for(cx, size);
        self.zoom_with_wheel(ui, &response, rect, &mut view);
        if cx.view_state.reveal_spot {
            self.reveal(cx, &mut view);
        }
        self.drag(ui, cx, &response, rect, &mut view, out);
        self.view = Some(view);
        let kept = self.kept(ui, cx, &view, rect);
        self.painted = screen::draw(ui.painter(), rect, &view, &cx.derived.scene, cx.theme, &kept);
        if signs::show(ui, cx, rect) {
            out.push(Command::Act(Act::Legend));
        }
        sensor_inset::show(ui, cx, rect, &view, &self.painted);
        match &cx.view_state.bay {
            Some(chosen) => bay_edit::over(ui, (cx, chosen), &response, rect, &view, self.drag.as_ref(), out),
            None => drag::handle(ui, cx, rect, &view, self.drag.as_ref()),
        }
        if let Some(held) = &cx.view_state.tape {
            tape_tool::show(ui, cx, rect, &view, held, response.hover_pos());
        }
        let along = floor_profile::over(ui, cx, margin, strip > 0.0);
        section_line::show(ui, cx, rect, &view, along);
        self.hover_text(cx, &view, &response, rect);
        ear::tell(ui, cx, &response, &view);
        if response.clicked() {
            response.request_focus();
            let more = ui.input(|i| i.modifiers.shift);
            match (cx.view_state.bottom, response.interact_pointer_pos()) {
                (_, Some(at)) if cx.view_state.tape.is_some() => {
                    tape_tool::press(cx, rect, &view, at, more, out)
                }
                _ if cx.view_state.bay.is_some() => bay_edit::press(cx, &view, &response, rect, more, out),
                (BottomPanel::Survey, Some(at)) => out.push(survey_strip::pressed(cx, &view, page(rect, at))),
                _ => self.press(cx, &view, &response, rect, out),
            }
        }
        self.nudge(ui, &response, &view, cx, out);
        if strip > 0.0 {
            match cx.view_state.bottom {
                BottomPanel::Margins => margin_strip::show(ui, cx, margin, &view, cx.curve, out),
                BottomPanel::Draw | BottomPanel::Profile(..) => floor_profile::show(ui, cx, margin, out),
                BottomPanel::Survey => survey_strip::show(ui, cx, margin, out),
            }
        }
        let pointer = response.hover_pos().map(|at| view.to_bay(page(rect, at)));
        status_bar::show(ui, cx, foot, &view, self.drag.as_ref(), pointer);
        ui.advance_cursor_after_rect(whole);
    }

    /// Where no text may stand: under what is drawn over the plan.
    fn kept(&self, ui: &Ui, cx: PanelContext, view: &View, rect: Rect) -> Vec<PageBox> {
        let mut kept = vec![signs::place(cx, rect.size())];
        // the picture stands where it stood in the frame before
        let picture = ui.ctx().memory(|m| m.area_rect(Id::unique("picture")));
        let picture = picture.filter(|_| cx.view_state.picture && cx.derived.picture().is_some());
        kept.extend(
            picture
                .map(|r| r.translate(-rect.min.to_vec2()))
                .map(|r| PageBox::new(r.min.into(), r.max.into())),
        );
        if cx.view_state.bay.is_none() {
            let at = drag::handle_at(cx, view);
            kept.push(PageBox::centred([at.x, at.y], [drag::HANDLE * 2.0 + 4.0; 2]));
        }
        kept
    }

    fn view_for(&self, cx: PanelContext, size: (f64, f64)) -> View {
        let bounds = cx.derived.home();
        let fitted = || match self.quarter {
            Some(quarter) => View::fit_turned(bounds, size, MARGIN, quarter),
            None => View::fit(bounds, size, MARGIN),
        };
        match self.view {
            Some(view) if view.size == size => view,
            Some(mut view) if self.touched || self.drag.is_some() => {
                view.resize(size);
                view
            }
            _ => fitted(),
        }
    }

    fn zoom_with_wheel(&mut self, ui: &Ui, response: &Response, rect: Rect, view: &mut View) {
        let Some(pointer) = response.hover_pos() else { return };
        let (scroll, zoom) = ui.input(|i| (i.smooth_scroll_delta(), i.zoom_delta()));
        let factor = f64::from(zoom) * f64::from(scroll.y / 240.0).exp();
        if factor != 1.0 {
            // a notch of a coarse wheel is one small step
            view.zoom(page(rect, pointer), factor.clamp(1.0 / STEP, STEP));
            self.touched = true;
        }
    }

    /// Brings the chosen finding into sight.
    fn reveal(&mut self, cx: PanelContext, view: &mut View) {
        let spot = cx.derived.chosen().and_then(|i| cx.findings()[i].at());
        let Some(spot) = spot else { return };
        let [x, y] = view.to_page(spot).map(f64::from);
        let edge = 60.0_f64.min(view.size.0 / 4.0).min(view.size.1 / 4.0);
        let inside = x > edge && y > edge && x < view.size.0 - edge && y < view.size.1 - edge;
        if !inside {
            view.pan(view.size.0 / 2.0 - x, view.size.1 / 2.0 - y);
            self.touched = true;
        }
    }

    /// Dragging: the vehicle where it is held, the plan elsewhere.
    fn drag(
        &mut self,
        ui: &Ui,
        cx: PanelContext,
        response: &Response,
        rect: Rect,
        view: &mut View,
        out: &mut Vec<Command>,
    ) {
        // Esc ended the drag, and now the button is up too
        if self.drag == Some(Drag::Cancelled) && !ui.input(|i| i.pointer.any_down()) {
            self.drag = None;
        }
        let started = response.drag_started();
        if started && let Some(at) = ui.input(|i| i.pointer.press_origin()) {
            response.request_focus();
            let modifiers = ui.input(|i| i.modifiers);
            let second = response.dragged_by(PointerButton::Secondary);
            let plan = response.dragged_by(PointerButton::Middle);
            let from = view.to_bay(page(rect, at));
            let stance = cx.layout().stance;
            let on_handle =
                drag::handle_at(cx, view).distance(pos2(0.0, 0.0) + (at - rect.min)) <= drag::HANDLE + 4.0;
            let end = section_line::other_end(cx, rect, view, at);
            let draws = cx.view_state.bottom == BottomPanel::Draw && !second && !plan;
            let on_vehicle = under(view, &cx.derived.scene, page(rect, at), 2.0).contains(&Tag::Vehicle);
            let bay = cx
                .view_state
                .bay
                .as_deref()
                .map(|chosen| bay_edit::begin(cx, view, chosen, (page(rect, at), from), modifiers, out));
            self.drag = Some(if plan {
                Drag::Plan
            } else if let Some(drag) = bay {
                drag
            } else if let Some(from) = end.or(draws.then_some(from)) {
                let from = drag::line_to(from, from, false);
                Drag::Line { from, before: cx.view_state.bottom }
            } else if on_handle || (on_vehicle && (second || modifiers.command)) {
                Drag::turn(from, stance)
            } else if on_vehicle && !second {
                Drag::Vehicle { from, stance }
            } else {
                Drag::Plan
            });
        }
        let Some(grab) = &mut self.drag else {
            self.pointer_shape(ui, cx, response, rect, view);
            return;
        };
        if ui.input(|i| i.key_pressed(Key::Escape)) {
            if grab.moves_the_vehicle() {
                out.push(Command::Drop { keep: false });
            } else if let Drag::Line { before, .. } = grab {
                out.push(Command::Bottom(*before));
            } else if let Drag::Thing(dragged) = grab {
                dragged.let_go(out);
            }
            self.drag = Some(Drag::Cancelled);
            return;
        }
        match (grab, response.interact_pointer_pos()) {
            (Drag::Plan, _) => {
                let delta = response.drag_delta();
                view.pan(f64::from(delta.x), f64::from(delta.y));
                self.touched |= delta != egui::Vec2::ZERO;
            }
            (Drag::Line { from, .. }, Some(pointer)) if response.dragged() => {
                let straight = ui.input(|i| i.modifiers.shift);
                let to = drag::line_to(*from, view.to_bay(page(rect, pointer)), straight);
                let line = BottomPanel::Profile(*from, to);
                if to != *from && line != cx.view_state.bottom {
                    out.push(Command::Bottom(line));
                }
            }
            (Drag::Thing(dragged), Some(pointer)) if response.dragged() => {
                let modifiers = ui.input(|i| i.modifiers);
                let hand = Hand { straight: modifiers.shift, free: modifiers.alt, scale: view.scale };
                dragged.type_into(ui);
                dragged.drag(view.to_bay(page(rect, pointer)), hand, out);
            }
            (Drag::Choose { to, .. }, Some(pointer)) if response.dragged() => {
                *to = view.to_bay(page(rect, pointer));
            }
            (grab, Some(pointer)) if response.dragged() => {
                let straight = ui.input(|i| i.modifiers.shift);
                let to = grab.stance(view.to_bay(page(rect, pointer)), straight);
                if let Some(stance) = to.filter(|to| *to != cx.layout().stance) {
                    out.push(Command::Drag(stance));
                }
            }
            _ => {}
        }
        if response.drag_stopped() {
            if self.drag.as_ref().is_some_and(Drag::moves_the_vehicle) {
                out.push(Command::Drop { keep: true });
            }
            if let Some(Drag::Choose { from, to, before }) = &self.drag {
                bay_edit::choose_within(cx, (*from, *to), before, out);
            }
            self.drag = None;
        }
    }

    fn pointer_shape(&self, ui: &Ui, cx: PanelContext, response: &Response, rect: Rect, view: &View) {
        let Some(at) = response.hover_pos() else { return };
        let on_end = section_line::other_end(cx, rect, view, at).is_some();
        let at = page(rect, at);
        if on_end {
            ui.ctx().set_cursor_icon(egui::CursorIcon::Move);
        } else if matches!(cx.view_state.bottom, BottomPanel::Draw | BottomPanel::Survey) {
            ui.ctx().set_cursor_icon(egui::CursorIcon::Crosshair);
        } else if drag::handle_at(cx, view).distance(pos2(at[0], at[1])) <= drag::HANDLE + 4.0 {
            ui.ctx().set_cursor_icon(egui::CursorIcon::Alias);
        } else if self.painted.at(at).is_some() {
            ui.ctx().set_cursor_icon(egui::CursorIcon::PointingHand);
        } else if under(view, &cx.derived.scene, at, 2.0).contains(&Tag::Vehicle) {
            ui.ctx().set_cursor_icon(egui::CursorIcon::Grab);
        }
    }

    /// What is under the pointer, in words.
    fn hover_text(&self, cx: PanelContext, view: &View, response: &Response, rect: Rect) {
        let Some(pointer) = response.hover_pos().filter(|_| self.drag.is_none()) else { return };
        let at = page(rect, pointer);
        let tag = self.painted.at(at).cloned().or_else(|| pick(view, &cx.derived.scene, at, REACH));
        if let Some(words) = tag.and_then(|tag| told::told(cx, &tag)) {
            response.clone().on_hover_text_at_pointer(words);
        }
    }

    /// A press chooses the finding under it, or the worst finding about the thing under it; again: the next one.
    fn press(&self, cx: PanelContext, view: &View, response: &Response, rect: Rect, out: &mut Vec<Command>) {
        let Some(pointer) = response.interact_pointer_pos() else { return };
        let at = page(rect, pointer);
        let tag = self.painted.at(at).cloned().or_else(|| pick(view, &cx.derived.scene, at, REACH));
        let finding = tag.and_then(|tag| pick_finding::about(cx, &tag));
        if finding != cx.derived.chosen() {
            out.push(Command::Choose { finding, look: false });
        }
    }

    /// The arrow keys, while nothing is typed and no list has the focus.
    fn nudge(&self, ui: &Ui, response: &Response, view: &View, cx: PanelContext, out: &mut Vec<Command>) {
        let focus = ui.memory(|m| m.focused());
        let elsewhere = focus.is_some_and(|id| id != response.id) || egui::Popup::is_any_open(ui.ctx());
        if elsewhere || self.drag.is_some() || cx.view_state.adrift {
            return;
        }
        if focus == Some(response.id) {
            let filter =
                egui::EventFilter { horizontal_arrows: true, vertical_arrows: true, ..Default::default() };
            ui.memory_mut(|m| m.set_focus_lock_filter(response.id, filter));
        }
        let presses: Vec<(Key, Modifiers, bool)> = ui.input(|i| {
            let keys = i.events.iter().filter_map(|e| match e {
                egui::Event::Key { key, pressed: true, repeat, modifiers, .. } => {
                    Some((*key, *modifiers, *repeat))
                }
                _ => None,
            });
            keys.collect()
        });
        let mut at = cx.layout().stance;
        for (key, modifiers, repeat) in presses {
            if let Some(chosen) = &cx.view_state.bay {
                bay_edit::key(cx, chosen, (key, modifiers, repeat), view, out);
                continue;
            }
            let Some((next, how)) = nudge::nudged(at, key, modifiers, view) else { continue };
            at = next;
            let edit = Edit::Stand { x: at.x, y: at.y, heading: at.heading, how };
            out.push(Command::Edit(edit, if repeat { Step::Same } else { Step::New }));
        }
    }
}
