//! The places of the workshop: the row that leads to them, and what each of them lists.

mod bays;
mod jobs;
mod parts;
mod start;
mod things;

pub(crate) use start::draft_id;

use egui::{Align, Button, Label, Layout, RichText, ScrollArea, Stroke, Ui, vec2};

use crate::app::commands::command::{Act, Command};
use crate::app::state::panel_context::PanelContext;
use crate::app::state::shop_place::ShopPlace;
use crate::app::widgets::style;
use crate::paint::screen::colour;

/// Height of the row of places.
pub(crate) const ROW_OF_PLACES: f32 = 30.0;

/// The row of places, and which workshop is open. The present place stands on a bar and says that it is chosen.
pub(crate) fn places(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    let here = match cx.view_state.place {
        // a job on its plan is one of the jobs
        ShopPlace::Plan => ShopPlace::Jobs,
        place => place,
    };
    ui.horizontal_centered(|ui| {
        for place in ShopPlace::OF_THE_SHOP {
            let can = cx.shop.contents.is_some();
            let words = match place == here {
                true => RichText::new(place.words()).strong(),
                false => RichText::new(place.words()),
            };
            let button = Button::selectable(place == here, words)
                .min_size(vec2(style::row_height(ui), ROW_OF_PLACES - 4.0));
            let act = Act::Show(place);
            let key = act.key().map(|k| ui.ctx().format_shortcut(&k)).unwrap_or_default();
            let pressed = ui
                .add_enabled(can, button)
                .on_hover_text(key)
                .on_disabled_hover_text("no workshop is open yet");
            if place == here {
                let bar = Stroke::new(2.5, colour(cx.theme.ui.text));
                ui.painter().hline(pressed.rect.x_range().shrink(4.0), pressed.rect.bottom() - 1.0, bar);
            }
            if pressed.clicked() {
                out.push(Command::Act(act));
            }
        }
        ui.separator();
        let name = match cx.shop.contents {
            Some(shop) => format!("workshop: {}", shop.name),
            None => "no workshop open yet".to_owned(),
        };
        let start = cx.view_state.place == ShopPlace::Start;
        let words = RichText::new(name).color(style::weak(ui));
        let button = Button::selectable(start, words).frame_when_inactive(false);
        if ui.add(button).on_hover_text("other workshops, a new one, recent jobs").clicked() {
            out.push(Command::Act(Act::Show(ShopPlace::Start)));
        }
        if cx.view_state.place != ShopPlace::Plan {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                let back = format!("back to {}", cx.document.job().name);
                if cx.shop.job_shown && ui.add(Button::new(back).truncate()).clicked() {
                    out.push(Command::Act(Act::Show(ShopPlace::Plan)));
                }
            });
        }
    });
}

/// What stands in the place that is shown; the plan is none of them.
pub(crate) fn show(ui: &mut Ui, cx: PanelContext, out: &mut Vec<Command>) {
    if let Some(note) = cx.note {
        ui.add(Label::new(note).wrap());
        ui.add_space(4.0);
    }
    let place = cx.view_state.place;
    ScrollArea::vertical().id_salt(place).auto_shrink([false, false]).show(ui, |ui| {
        let Some(shop) = cx.shop.contents.filter(|_| place != ShopPlace::Start) else {
            return start::show(ui, cx, out);
        };
        parts::faults_of_the_shop(ui, cx, shop);
        match place {
            ShopPlace::Jobs => jobs::show(ui, cx, shop, out),
            ShopPlace::Bays => bays::show(ui, cx, shop, out),
            ShopPlace::Vehicles => things::vehicles(ui, cx, shop, out),
            ShopPlace::Procedures => things::procedures(ui, cx, shop, out),
            ShopPlace::Equipment => things::equipment(ui, cx, shop, out),
            ShopPlace::Plan | ShopPlace::Start => {}
        }
        ui.add_space(12.0);
    });
}
