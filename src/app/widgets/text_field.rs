//! A field a figure is typed into. What is typed is taken on Enter, on Tab and on leaving the field; Esc forgets it;
//! what cannot be read stays, with the reason beneath.

use egui::{Id, Key, Response, TextEdit, Ui};

use crate::app::widgets::style;

/// A field on its way to the screen.
pub(crate) struct TextField<'a> {
    /// What it is called, for the ear and for tests.
    pub label: &'a str,
    /// What stands in it while nothing is typed.
    pub shown: String,
    /// The same, as a person would type it.
    pub plain: String,
    pub hint: &'a str,
    pub width: f32,
    /// Figures stand to the right, words to the left.
    pub figure: bool,
}

/// What a field remembers while it is typed into.
#[derive(Clone, Debug, Default, PartialEq)]
struct Typing {
    text: String,
    /// What stood there when typing began.
    before: String,
    focused: bool,
    fault: Option<String>,
}

impl TextField<'_> {
    /// Shows the field in a row behind its name, with the reason beneath where what was typed cannot be read.
    pub(crate) fn row<T>(
        self,
        ui: &mut Ui,
        name: &str,
        read: impl Fn(&str) -> Result<T, String>,
    ) -> Option<T> {
        let label = self.label;
        let taken = style::row(ui, name, |ui| self.edited(ui, read));
        fault(ui, label);
        taken
    }

    /// Shows the field by itself, with the reason beneath where what was typed cannot be read.
    pub(crate) fn show<T>(self, ui: &mut Ui, read: impl Fn(&str) -> Result<T, String>) -> Option<T> {
        let label = self.label;
        let taken = self.edited(ui, read);
        fault(ui, label);
        taken
    }

    /// Gives a value once, when something new that can be read was typed.
    fn edited<T>(self, ui: &mut Ui, read: impl Fn(&str) -> Result<T, String>) -> Option<T> {
        let id = id_of(self.label);
        let mut typing = ui.data(|d| d.get_temp::<Typing>(id)).unwrap_or_default();
        if !typing.focused && typing.fault.is_none() {
            typing.text.clone_from(&self.shown);
        }
        let response = self.edit(ui, id, &mut typing.text, typing.fault.is_some());
        let focused = response.has_focus();
        let escaped = ui.input(|i| i.key_pressed(Key::Escape));
        let (mut taken, mut stays) = (None, false);
        if focused && !typing.focused {
            if typing.fault.is_none() {
                typing.text.clone_from(&self.plain);
                typing.before.clone_from(&self.plain);
            }
            select_all(ui, id, &typing.text);
        }
        if typing.focused && !focused {
            if escaped || typing.text.trim() == typing.before.trim() {
                typing.fault = None;
            } else {
                match read(typing.text.trim()) {
                    Ok(value) => {
                        taken = Some(value);
                        typing.fault = None;
                    }
                    Err(why) => {
                        typing.fault = Some(why);
                        // Enter stays, to be mended; a press elsewhere and Tab go where they go
                        stays = ui.input(|i| i.key_pressed(Key::Enter));
                    }
                }
            }
        }
        if stays {
            response.request_focus();
            select_all(ui, id, &typing.text);
        }
        typing.focused = focused || stays;
        ui.data_mut(|d| d.insert_temp(id, typing));
        taken
    }

    fn edit(&self, ui: &mut Ui, id: Id, text: &mut String, faulty: bool) -> Response {
        let mut edit = TextEdit::singleline(text)
            .id(id.with("text"))
            .desired_width(self.width)
            .hint_text(self.hint.to_owned())
            .align(egui::Align2::LEFT_CENTER)
            .margin(egui::Margin::symmetric(6, 4))
            .min_size(egui::vec2(self.width, style::row_height(ui)));
        if self.figure {
            edit = edit.align(egui::Align2::RIGHT_CENTER);
        }
        if faulty {
            edit = edit.text_color(ui.visuals().error_fg_color);
        }
        let response = ui.add(edit);
        response.accessible_name(self.label)
    }
}

/// Gives a field the focus.
pub(crate) fn focus(ctx: &egui::Context, label: &str) {
    ctx.memory_mut(|m| m.request_focus(id_of(label).with("text")));
}

/// Forgets everything that was typed and not taken: another job has other figures.
pub(crate) fn forget(ctx: &egui::Context) {
    ctx.data_mut(|d| d.remove_by_type::<Typing>());
}

/// Labels are unique in the window.
fn id_of(label: &str) -> Id {
    Id::unique(("field", label))
}

fn fault(ui: &mut Ui, label: &str) {
    let typing = ui.data(|d| d.get_temp::<Typing>(id_of(label)));
    if let Some(fault) = typing.and_then(|t| t.fault) {
        let words = egui::RichText::new(fault).color(ui.visuals().error_fg_color).size(12.0);
        ui.add(egui::Label::new(words).wrap());
    }
}

fn select_all(ui: &Ui, id: Id, text: &str) {
    mark_all(ui.ctx(), id.with("text"), text);
}

/// Marks the whole text of a field, so that typing replaces it.
pub(crate) fn mark_all(ctx: &egui::Context, id: Id, text: &str) {
    use egui::text::{CCursor, CCursorRange};
    let mut state = TextEdit::load_state(ctx, id).unwrap_or_default();
    let all = CCursorRange::two(CCursor::new(0), CCursor::new(text.chars().count()));
    state.cursor.set_char_range(Some(all));
    TextEdit::store_state(ctx, id, state);
}
