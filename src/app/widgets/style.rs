//! How the window looks: the theme put on egui, and the small parts every panel uses.

use egui::{
    Align, Color32, Context, CornerRadius, FontId, Layout, Margin, RichText, Stroke, TextStyle, Ui, Vec2,
    WidgetText, pos2, vec2,
};

use crate::checks::{Outcome, Verdict};
use crate::paint::screen::colour;
use crate::paint::{Symbol, Theme};
use crate::scene::Role;

/// Height of everything that can be pressed: for gloves.
const ROW: f32 = 28.0;
/// The same where fingers press: the target size of WCAG 2.2, 2.5.5.
const TOUCH_ROW: f32 = 44.0;

/// How high what can be pressed is in this window.
pub(crate) fn row_height(ui: &Ui) -> f32 {
    ui.spacing().interact_size.y
}

/// Puts a theme on the whole window. `touch`: what is pressed is large enough for fingers.
pub(crate) fn apply(ctx: &Context, theme: &Theme, touch: bool) {
    let row = if touch { TOUCH_ROW } else { ROW };
    let base = if theme.dark { egui::Visuals::dark() } else { egui::Visuals::light() };
    let side = if theme.dark { egui::Theme::Dark } else { egui::Theme::Light };
    ctx.set_theme(side);
    ctx.set_visuals_of(side, visuals(base, theme));
    ctx.all_styles_mut(|style| {
        style.text_styles = [
            (TextStyle::Heading, FontId::proportional(22.0)),
            (TextStyle::Body, FontId::proportional(13.5)),
            (TextStyle::Button, FontId::proportional(13.5)),
            (TextStyle::Small, FontId::proportional(12.0)),
            (TextStyle::Monospace, FontId::monospace(13.0)),
        ]
        .into();
        style.spacing.item_spacing = vec2(6.0, 4.0);
        style.spacing.button_padding = vec2(8.0, 4.0);
        style.spacing.interact_size = vec2(row, row);
        style.spacing.icon_width = 18.0;
        style.spacing.icon_width_inner = 11.0;
        style.spacing.combo_height = 420.0;
        style.spacing.window_margin = Margin::same(16);
        style.spacing.menu_margin = Margin::same(6);
        style.spacing.scroll = egui::style::ScrollStyle {
            bar_width: 9.0,
            floating_width: 5.0,
            floating_allocated_width: 8.0,
            foreground_color: true,
            dormant_handle_opacity: 0.35,
            active_handle_opacity: 0.5,
            interact_handle_opacity: 0.7,
            ..egui::style::ScrollStyle::thin()
        };
        style.visuals.text_cursor.blink = false;
        style.animation_time = 0.0;
        style.scroll_animation = egui::style::ScrollAnimation::none();
        style.interaction.selectable_labels = false;
        style.interaction.tooltip_delay = 0.4;
    });
}

fn visuals(mut v: egui::Visuals, theme: &Theme) -> egui::Visuals {
    let ui = &theme.ui;
    let (text, line, edge, raised) = (colour(ui.text), colour(ui.line), colour(ui.edge), colour(ui.raised));
    v.dark_mode = theme.dark;
    v.override_text_color = None;
    v.weak_text_color = Some(colour(ui.faint));
    v.hyperlink_color = colour(ui.accent);
    v.panel_fill = colour(ui.panel);
    v.window_fill = colour(ui.panel);
    v.window_stroke = Stroke::new(1.0, edge);
    v.extreme_bg_color = raised;
    v.faint_bg_color = colour(ui.ground);
    v.error_fg_color = colour(ui.fails_text);
    v.warn_fg_color = colour(ui.condition_text);
    v.selection.bg_fill = colour(ui.chosen);
    v.selection.stroke = Stroke::new(1.5, text);
    v.window_corner_radius = CornerRadius::same(6);
    v.menu_corner_radius = CornerRadius::same(6);
    let corner = CornerRadius::same(4);
    let w = &mut v.widgets;
    for (state, fill, edge, ink) in [
        (&mut w.noninteractive, colour(ui.panel), line, text),
        (&mut w.inactive, raised, edge, text),
        (&mut w.hovered, colour(ui.chosen), colour(ui.accent), text),
        (&mut w.active, colour(ui.chosen), colour(ui.accent), text),
        (&mut w.open, colour(ui.chosen), edge, text),
    ] {
        state.bg_fill = fill;
        state.weak_bg_fill = fill;
        state.bg_stroke = Stroke::new(1.0, edge);
        state.fg_stroke = Stroke::new(1.2, ink);
        state.corner_radius = corner;
        state.expansion = 0.0;
    }
    v
}

/// The symbol of an outcome and its colour.
pub(crate) fn symbol_of(outcome: Outcome, theme: &Theme) -> (Symbol, Color32) {
    let role = Role::of(outcome).unwrap_or(Role::Unknown);
    let ink = theme.ink(role);
    let tint = match outcome {
        Outcome::Confirm | Outcome::NotApplicable => colour(theme.ui.faint),
        _ => ink.pen.map_or(colour(theme.ui.text), |p| colour(p.colour)),
    };
    let symbol = match outcome {
        Outcome::Confirm | Outcome::NotApplicable => Symbol::Ring,
        _ => ink.symbol.unwrap_or(Symbol::Question),
    };
    (symbol, tint)
}

/// The symbol of a verdict and its colour.
pub(crate) fn symbol_of_verdict(verdict: Verdict, theme: &Theme) -> (Symbol, Color32) {
    match verdict {
        Verdict::Fits => (Symbol::Tick, colour(theme.ui.fits)),
        Verdict::FitsIf => (Symbol::Triangle, colour(theme.ui.condition)),
        Verdict::DoesNotFit => (Symbol::Cross, colour(theme.ui.fails)),
        Verdict::NotKnown => (Symbol::Question, colour(theme.ui.unknown)),
    }
}

/// Draws a symbol `half` points to each side of its middle.
pub(crate) fn draw_symbol(
    painter: &egui::Painter,
    symbol: Symbol,
    middle: egui::Pos2,
    half: f32,
    tint: Color32,
) {
    let pen = Stroke::new((half * 0.36).max(1.5), tint);
    for stroke in symbol.strokes() {
        let points: Vec<_> =
            stroke.points.iter().map(|[x, y]| pos2(middle.x + x * half, middle.y + y * half)).collect();
        painter.add(if stroke.closed {
            egui::Shape::closed_line(points, pen)
        } else {
            egui::Shape::line(points, pen)
        });
    }
}

/// A symbol in a row of text, named for the ear.
pub(crate) fn symbol(ui: &mut Ui, outcome: Outcome, theme: &Theme) {
    let (rect, response) = ui.allocate_exact_size(Vec2::splat(16.0), egui::Sense::hover());
    let (shape, tint) = symbol_of(outcome, theme);
    draw_symbol(ui.painter(), shape, rect.center(), 5.0, tint);
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, word_of(outcome)));
    response.on_hover_text(word_of(outcome));
}

/// What an outcome is called in the window.
pub(crate) fn word_of(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Fail => "will not work",
        Outcome::Movable => "in the way, can be moved",
        Outcome::Unknown => "not known",
        Outcome::Tight => "tight",
        Outcome::Confirm => "to confirm on the day",
        Outcome::Accepted => "accepted",
        Outcome::Pass => "fits",
        Outcome::NotApplicable => "does not apply",
    }
}

/// A heading of a panel's section, with something small at its right end.
pub(crate) fn section(ui: &mut Ui, words: &str, right: impl FnOnce(&mut Ui)) {
    ui.add_space(12.0);
    ui.horizontal(|ui| {
        let heading = ui.label(small_capitals(words, ui));
        ui.ctx().accesskit_node_builder(heading.id, |node| {
            node.set_role(egui::Role::Heading);
            node.set_label(words);
        });
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| side_by_side(ui, words, right));
    });
}

/// Names the part of the window that this is, for the ear.
pub(crate) fn named_part(ui: &Ui, name: &str) {
    ui.ctx().accesskit_node_builder(ui.unique_id(), |node| {
        node.set_role(egui::Role::Region);
        node.set_label(name);
    });
}

/// Shows something in all the room there is and no more: what is too large is cut, and pushes nothing aside.
pub(crate) fn within<R>(ui: &mut Ui, add: impl FnOnce(&mut Ui) -> R) -> R {
    let rect = ui.available_rect_before_wrap();
    let mut child = ui.new_child(egui::UiBuilder::new().max_rect(rect).layout(Layout::top_down(Align::Min)));
    child.shrink_clip_rect(rect.expand(4.0));
    let result = add(&mut child);
    ui.advance_cursor_after_rect(rect);
    result
}

/// Several things in a row from left to right, also where the row stands at the right end: Tab goes through them as they
/// are read. How wide they are is known from the frame before; the first one is drawn twice.
pub(crate) fn side_by_side<R>(
    ui: &mut Ui,
    salt: impl std::hash::Hash + std::fmt::Debug,
    add: impl FnOnce(&mut Ui) -> R,
) -> R {
    let id = ui.unique_id().with(("side by side", salt));
    let known = ui.data(|d| d.get_temp::<f32>(id));
    let size = vec2(known.unwrap_or(ui.available_width()).min(ui.available_width()), row_height(ui));
    let shown = ui.allocate_ui_with_layout(size, Layout::left_to_right(Align::Center), add);
    let wide = shown.response.rect.width();
    if known.is_none_or(|known| (known - wide).abs() > 0.5) {
        ui.data_mut(|d| d.insert_temp(id, wide));
        ui.ctx().request_discard("things at the right end are measured");
    }
    shown.inner
}

fn small_capitals(words: &str, ui: &Ui) -> RichText {
    RichText::new(words.to_uppercase()).size(11.5).color(weak(ui))
}

/// The colour of what is said quietly.
pub(crate) fn weak(ui: &Ui) -> Color32 {
    ui.visuals().weak_text_color()
}

/// A row with its name at the left and its part at the right, filling the rest.
pub(crate) fn row<R>(ui: &mut Ui, name: impl Into<WidgetText>, part: impl FnOnce(&mut Ui) -> R) -> R {
    ui.horizontal(|ui| {
        ui.set_min_height(row_height(ui));
        ui.label(name);
        ui.with_layout(Layout::right_to_left(Align::Center), part).inner
    })
    .inner
}

/// A wrapped line of small, quiet text.
pub(crate) fn quiet(ui: &mut Ui, words: impl Into<String>) -> egui::Response {
    let tint = weak(ui);
    ui.add(egui::Label::new(RichText::new(words).size(12.0).color(tint)).wrap())
}

/// A button that is only its text until it is pointed at.
pub(crate) fn bare_button(ui: &mut Ui, words: impl Into<String>) -> egui::Response {
    let row = row_height(ui);
    ui.add(egui::Button::new(RichText::new(words)).frame_when_inactive(false).min_size(vec2(row, row)))
}

/// A button in the accent colour: the one thing to do here.
pub(crate) fn main_button(ui: &mut Ui, words: &str, theme: &Theme) -> egui::Response {
    let text = RichText::new(words).color(colour(theme.ui.on_accent));
    ui.add(egui::Button::new(text).fill(colour(theme.ui.accent)).min_size(vec2(72.0, row_height(ui))))
}

/// A plot that fills a rectangle and is only looked at: nothing in it is dragged or zoomed. A line of the grid for every
/// metre along.
pub(crate) fn still_plot<'a>(name: &str, rect: egui::Rect, theme: &Theme) -> egui_plot::Plot<'a> {
    egui_plot::Plot::new(name)
        .width(rect.width())
        .height(rect.height())
        .x_grid_spacer(egui_plot::uniform_grid_spacer(|_| [1000.0, 1000.0, 1000.0]))
        .show_background(false)
        .grid_color(colour(theme.ui.line))
        .grid_fade(0.0)
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_double_click_reset(false)
        .set_margin_fraction(Vec2::ZERO)
        .label_formatter(|_| None)
        .show_x(false)
        .show_y(false)
}
