//! A list to pick one thing from.

use egui::{ComboBox, RichText, Ui};

/// One line of the list.
pub(crate) struct ComboEntry<T> {
    pub value: T,
    pub text: String,
    /// Why it cannot be picked.
    pub fault: Option<String>,
}

impl<T> ComboEntry<T> {
    pub(crate) fn new(value: T, text: impl Into<String>) -> ComboEntry<T> {
        ComboEntry { value, text: text.into(), fault: None }
    }
}

/// Shows what is picked, perhaps in fewer words; gives another when a person picks it. The list may be longer than the
/// screen.
pub(crate) fn combo<T>(
    ui: &mut Ui,
    label: &str,
    picked: &str,
    shown: &str,
    width: f32,
    choices: impl IntoIterator<Item = ComboEntry<T>>,
) -> Option<T> {
    let mut taken = None;
    let list = ComboBox::from_id_salt(label).width(width).truncate().selected_text(shown).show_ui(ui, |ui| {
        let mut any = false;
        for choice in choices {
            any = true;
            let is_picked = choice.text == picked;
            match choice.fault {
                Some(fault) => {
                    let text = RichText::new(format!("{}: cannot be used", choice.text)).weak();
                    ui.add_enabled(false, egui::Button::selectable(false, text))
                        .on_disabled_hover_text(fault);
                }
                None if ui.selectable_label(is_picked, choice.text).clicked() && !is_picked => {
                    taken = Some(choice.value);
                }
                None => {}
            }
        }
        if !any {
            ui.weak("none beside this job");
        }
    });
    list.response.accessible_name(label).on_hover_text(picked);
    taken
}
