//! The legend: what the signs of the plan mean, of those that are drawn just now. Folded until it is asked for.

use std::collections::BTreeSet;

use egui::{Rect, Sense, Stroke, Ui, Vec2, vec2};

use crate::app::state::panel_context::PanelContext;
use crate::app::widgets::icon::Icon;
use crate::app::widgets::style;
use crate::geometry::P2;
use crate::paint::labels::PageBox;
use crate::paint::screen::{self, colour};
use crate::paint::{Theme, View};
use crate::scene::{Item, Role, Scene};

/// Size of a sign, points.
const SIGN: Vec2 = vec2(26.0, 14.0);
/// Between the legend and the plan's edge.
const EDGE: f32 = 8.0;
const ROW: f32 = 19.0;
const WIDE: f32 = 220.0;
const HEAD: f32 = 24.0;
const FOLDED: f32 = 84.0;

/// What a role's sign means; `None` for what explains itself.
fn meaning(role: Role) -> Option<&'static str> {
    Some(match role {
        Role::Fixture => "stands fast",
        Role::FixtureMovable => "can be moved",
        Role::FixtureOverhead => "hangs overhead",
        Role::FixtureFlush => "lies in the floor",
        Role::FixtureLight => "lamp",
        Role::FixtureGlass => "glass",
        Role::FixtureCleared => "cleared for this job",
        Role::Post => "post of a lift",
        Role::Runway => "runway of a lift",
        Role::FloorLine => "line on the floor",
        Role::KeepClear => "to be kept clear",
        Role::Apron => "room before an open door",
        Role::ApronShut => "room before a shut door",
        Role::ThrustLine => "thrust line",
        Role::Sensor => "sensor",
        Role::Mark => "mark on the floor",
        Role::Tape => "tape or string",
        Role::Target => "target",
        Role::Foot => "stand of a target",
        Role::Mat => "mat",
        Role::Room => "room to work behind a target",
        Role::ZoneRadar => "no metal here",
        Role::ZoneLight => "no light, shine or glass here",
        Role::ZoneAnything => "nothing here",
        Role::ZonePattern => "no patterns here",
        Role::ZonePeople => "no people here",
        Role::ZoneSeen => "to be seen by the sensor",
        Role::ZoneOther => "area a procedure names",
        Role::Fail => "will not work",
        Role::Movable => "in the way, can be moved",
        Role::Tight => "tight",
        Role::Unknown => "not known",
        Role::Accepted => "accepted",
        Role::Pass => "fits",
        Role::Chosen => "what the chosen finding is about",
        Role::Swept => "ground swept on the way in",
        Role::Way => "way in, forward",
        Role::WayBack => "way in, backward",
        Role::Contour => "line of equal height",
        Role::SpotHeight => "height that was read",
        Role::Even => "floor level enough",
        Role::Ghost => "the vehicle or a target elsewhere",
        Role::Region => "front axle may stand here",
        Role::Ground
        | Role::Grid
        | Role::Floor
        | Role::Wall
        | Role::Threshold
        | Role::DoorShut
        | Role::DoorOpen
        | Role::Swing
        | Role::Body
        | Role::BodyInner
        | Role::Glazing
        | Role::Tyre
        | Role::Mirror
        | Role::Axle
        | Role::CentreLine
        | Role::TargetFront
        | Role::Dimension
        | Role::Name
        | Role::Backdrop
        | Role::HeightLow4
        | Role::HeightLow3
        | Role::HeightLow2
        | Role::HeightLow1
        | Role::HeightHigh1
        | Role::HeightHigh2
        | Role::HeightHigh3
        | Role::HeightHigh4 => return None,
    })
}

/// Roles of the plan that the legend explains, in the order of the roles.
fn shown(cx: PanelContext) -> BTreeSet<Role> {
    cx.derived.scene.items.iter().map(Item::role).filter(|r| meaning(*r).is_some()).collect()
}

/// Where the legend lies on the plan's page.
pub(in crate::app::plan) fn place(cx: PanelContext, page: Vec2) -> PageBox {
    let size = if cx.view_state.legend {
        vec2(WIDE, (HEAD + 6.0 + shown(cx).len() as f32 * ROW).min(page.y - EDGE * 2.0))
    } else {
        vec2(FOLDED, HEAD)
    };
    let top = (page.y - EDGE - size.y).max(0.0);
    PageBox::new([EDGE, top], [EDGE + size.x, top + size.y])
}

/// Shows it; tells whether its head was pressed, which folds and unfolds it.
pub(in crate::app::plan) fn show(ui: &Ui, cx: PanelContext, rect: Rect) -> bool {
    let place = place(cx, rect.size());
    let place = Rect::from_min_max(place.min.into(), place.max.into()).translate(rect.min.to_vec2());
    let open = cx.view_state.legend;
    let mut pressed = false;
    let area = egui::Area::new(egui::Id::unique("legend")).order(egui::Order::Middle).fixed_pos(place.min);
    area.show(ui.ctx(), |ui| {
        let (whole, _) = ui.allocate_exact_size(place.size(), Sense::hover());
        let theme = &cx.theme.ui;
        let edge = Stroke::new(1.0, colour(theme.edge));
        ui.painter().rect(whole, 4.0, colour(theme.panel), edge, egui::StrokeKind::Inside);
        let head = Rect::from_min_size(whole.min, vec2(whole.width(), HEAD));
        let response = ui.interact(head, egui::Id::unique("legend head"), Sense::click());
        let words = if open { "fold the legend" } else { "unfold the legend" };
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, words));
        let tint = if response.has_focus() || response.hovered() { theme.accent } else { theme.text };
        let tint = colour(tint);
        let icon = if open { Icon::Down } else { Icon::Right };
        icon.draw(ui.painter(), head.left_center() + vec2(13.0, 0.0), 4.0, Stroke::new(1.4, tint));
        let font = egui::FontId::proportional(12.5);
        let at = head.left_center() + vec2(24.0, 0.0);
        ui.painter().text(at, egui::Align2::LEFT_CENTER, "legend", font, tint);
        pressed = response.on_hover_text("what the signs on the plan mean").clicked();
        if open {
            list(ui, cx, Rect::from_min_max(head.left_bottom(), whole.max));
        }
    });
    pressed
}

fn list(ui: &mut Ui, cx: PanelContext, rect: Rect) {
    let mut ui = ui.new_child(egui::UiBuilder::new().max_rect(rect.shrink2(vec2(8.0, 2.0))));
    egui::ScrollArea::vertical().id_salt("legend").auto_shrink([false, false]).show(&mut ui, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        ui.spacing_mut().interact_size.y = ROW;
        for role in shown(cx) {
            ui.horizontal(|ui| {
                ui.set_height(ROW);
                let (at, _) = ui.allocate_exact_size(SIGN, Sense::hover());
                sign(ui, role, at, cx.theme);
                ui.label(egui::RichText::new(meaning(role).unwrap_or_default()).size(12.0));
            });
        }
    });
}

/// A role's ink as a small area or line.
fn sign(ui: &Ui, role: Role, rect: Rect, theme: &Theme) {
    let at = |x: f64, y: f64| P2::new(x * f64::from(SIGN.x), y * f64::from(SIGN.y));
    let ink = theme.ink(role);
    let mut scene = Scene::default();
    let is_dot = matches!(role, Role::Mark | Role::Sensor | Role::SpotHeight);
    if is_dot {
        scene.items.push(Item::Dot { role, at: at(0.5, 0.5), tag: None });
    } else if ink.fill.is_some() || ink.hatch.is_some() {
        let outline = vec![at(0.06, 0.1), at(0.94, 0.1), at(0.94, 0.9), at(0.06, 0.9)];
        scene.items.push(Item::Area { role, outline, holes: Vec::new(), tag: None });
    } else {
        scene.items.push(Item::Line { role, points: vec![at(0.04, 0.5), at(0.96, 0.5)], tag: None });
    }
    let view = View {
        centre: at(0.5, 0.5),
        scale: 1.0,
        quarter: false,
        size: (f64::from(SIGN.x), f64::from(SIGN.y)),
    };
    screen::draw(ui.painter(), rect, &view, &scene, theme, &[]);
    if let Some(symbol) = ink.symbol {
        let tint = ink.pen.map_or(colour(theme.ui.text), |p| colour(p.colour));
        style::draw_symbol(ui.painter(), symbol, rect.center(), 5.0, tint);
    }
}
