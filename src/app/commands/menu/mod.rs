//! The menus: what stands in them, what it is called, and its key.

mod tells;

use egui::{Key, KeyboardShortcut, Modifiers};

use crate::app::commands::command::Act;
use crate::app::state::shop_place::ShopPlace;

/// The menus, in order.
pub(crate) const MENUS: &[(&str, &[Option<Act>])] = &[
    (
        "Job",
        &[
            Some(Act::New),
            Some(Act::Open),
            None,
            Some(Act::Save),
            Some(Act::SaveAs),
            Some(Act::ReadAnew),
            None,
            Some(Act::Quit),
        ],
    ),
    (
        "Workshop",
        &[
            Some(Act::Show(ShopPlace::Jobs)),
            Some(Act::Show(ShopPlace::Bays)),
            Some(Act::Show(ShopPlace::Vehicles)),
            Some(Act::Show(ShopPlace::Procedures)),
            Some(Act::Show(ShopPlace::Equipment)),
            None,
            Some(Act::Show(ShopPlace::Start)),
        ],
    ),
    (
        "Edit",
        &[
            Some(Act::Undo),
            Some(Act::Redo),
            None,
            Some(Act::TurnRound),
            Some(Act::PlaceBest),
            None,
            Some(Act::Search),
            Some(Act::StopSearch),
            None,
            Some(Act::ChangeBay),
            Some(Act::NewBay),
            Some(Act::Survey),
        ],
    ),
    (
        "View",
        &[
            Some(Act::Fit),
            Some(Act::Closer),
            Some(Act::Farther),
            Some(Act::TurnPlan),
            Some(Act::Tapes),
            Some(Act::Names),
            Some(Act::Way),
            Some(Act::Picture),
            Some(Act::Heights),
            Some(Act::Profile),
            Some(Act::HoldTape),
            Some(Act::Legend),
            None,
            Some(Act::JobPanel),
            Some(Act::FindingsPanel),
            Some(Act::StripUnder),
            None,
            Some(Act::NextSetup),
            Some(Act::PreviousSetup),
            Some(Act::AllSetups),
            Some(Act::NextFinding),
            Some(Act::PreviousFinding),
            None,
            Some(Act::Night),
            Some(Act::FeetInches),
            Some(Act::Bigger),
            Some(Act::Smaller),
            Some(Act::UsualSize),
            Some(Act::Touch),
            None,
            Some(Act::Commands),
            Some(Act::Keys),
        ],
    ),
];

const CTRL: Modifiers = Modifiers::COMMAND;
const PLAIN: Modifiers = Modifiers::NONE;
const CTRL_SHIFT: Modifiers = Modifiers::COMMAND.plus(Modifiers::SHIFT);

impl Act {
    /// What the menu calls it.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Act::New => "New job from these files",
            Act::Open => "Open…",
            Act::Save => "Save",
            Act::SaveAs => "Save as…",
            Act::ReadAnew => "Read the files anew",
            Act::Quit => "Close the window",
            Act::Undo => "Undo",
            Act::Redo => "Redo",
            Act::TurnRound => "Turn the vehicle round",
            Act::Fit => "Fit the plan",
            Act::TurnPlan => "Turn the plan",
            Act::NextSetup => "Next setup",
            Act::PreviousSetup => "Previous setup",
            Act::AllSetups => "All setups together",
            Act::NextFinding => "Next finding",
            Act::PreviousFinding => "Previous finding",
            Act::Night => "Night colours",
            Act::FeetInches => "Show feet and inches",
            Act::Bigger => "Bigger text",
            Act::Smaller => "Smaller text",
            Act::UsualSize => "Usual text size",
            Act::Keys => "Keys",
            Act::Tapes => "Tapes and strings",
            Act::Names => "Names",
            Act::Way => "The way in",
            Act::Picture => "What a sensor sees",
            Act::Heights => "Heights of the floor",
            Act::Profile => "Profile of the floor",
            Act::Survey => "Survey of the floor…",
            Act::ChangeBay => "Change the bay",
            Act::NewBay => "New bay",
            Act::HoldTape => "Tape between two points",
            Act::Search => "Search where it can stand",
            Act::StopSearch => "Stop the search",
            Act::PlaceBest => "Place the vehicle where it stands best",
            Act::Commands => "All commands…",
            Act::Legend => "Legend",
            Act::Closer => "Closer",
            Act::Farther => "Farther",
            Act::JobPanel => "Panel of the job",
            Act::FindingsPanel => "Panel of findings",
            Act::StripUnder => "Strip under the plan",
            Act::Touch => "Large targets for fingers",
            Act::Show(place) => place.words(),
        }
    }

    /// Its key. Plain letters work only while nothing is being typed.
    pub(crate) fn key(self) -> Option<KeyboardShortcut> {
        let (modifiers, key) = match self {
            Act::New => (CTRL, Key::N),
            Act::Open => (CTRL, Key::O),
            Act::Save => (CTRL, Key::S),
            Act::SaveAs => (CTRL_SHIFT, Key::S),
            Act::ReadAnew => (PLAIN, Key::F5),
            Act::Quit => (CTRL, Key::Q),
            Act::Undo => (CTRL, Key::Z),
            Act::Redo => (CTRL_SHIFT, Key::Z),
            Act::TurnRound => (CTRL, Key::R),
            Act::Fit => (PLAIN, Key::F),
            Act::TurnPlan => (PLAIN, Key::Q),
            Act::NextSetup => (PLAIN, Key::S),
            Act::PreviousSetup => (Modifiers::SHIFT, Key::S),
            Act::AllSetups => (PLAIN, Key::A),
            Act::NextFinding => (PLAIN, Key::N),
            Act::PreviousFinding => (PLAIN, Key::P),
            Act::Night => (PLAIN, Key::D),
            Act::FeetInches => (PLAIN, Key::U),
            Act::Bigger => (CTRL, Key::Plus),
            Act::Smaller => (CTRL, Key::Minus),
            Act::UsualSize => (CTRL, Key::Num0),
            Act::Keys => (PLAIN, Key::F1),
            Act::Tapes => (PLAIN, Key::T),
            Act::Names => (PLAIN, Key::L),
            Act::Way => (PLAIN, Key::I),
            Act::Picture => (PLAIN, Key::C),
            Act::Heights => (PLAIN, Key::H),
            Act::Profile => (PLAIN, Key::X),
            Act::Survey => (PLAIN, Key::G),
            Act::ChangeBay => (PLAIN, Key::E),
            Act::NewBay => (CTRL_SHIFT, Key::N),
            Act::HoldTape => (PLAIN, Key::J),
            Act::Search => (PLAIN, Key::W),
            Act::StopSearch => (Modifiers::SHIFT, Key::W),
            Act::PlaceBest => (CTRL, Key::B),
            Act::Commands => (CTRL, Key::K),
            Act::Legend => (PLAIN, Key::K),
            Act::Closer => (PLAIN, Key::Plus),
            Act::Farther => (PLAIN, Key::Minus),
            Act::JobPanel => (PLAIN, Key::F7),
            Act::FindingsPanel => (PLAIN, Key::F8),
            Act::StripUnder => (PLAIN, Key::F9),
            Act::Touch => return None,
            Act::Show(ShopPlace::Jobs) => (Modifiers::ALT, Key::Num1),
            Act::Show(ShopPlace::Bays) => (Modifiers::ALT, Key::Num2),
            Act::Show(ShopPlace::Vehicles) => (Modifiers::ALT, Key::Num3),
            Act::Show(ShopPlace::Procedures) => (Modifiers::ALT, Key::Num4),
            Act::Show(ShopPlace::Equipment) => (Modifiers::ALT, Key::Num5),
            Act::Show(ShopPlace::Start) => (Modifiers::ALT, Key::Num0),
            Act::Show(ShopPlace::Plan) => return None,
        };
        Some(KeyboardShortcut::new(modifiers, key))
    }

    /// Whether its key is also a letter a person could be typing.
    pub(crate) fn types_a_letter(self) -> bool {
        let of_the_top_row = |key: Key| key.name().len() > 1 && key.name().starts_with('F');
        self.key().is_some_and(|k| !k.modifiers.command && !k.modifiers.alt && !of_the_top_row(k.logical_key))
    }

    #[cfg(test)]
    /// Whether it changes the job or the bay: a single letter never does that.
    pub(crate) fn changes_the_job(self) -> bool {
        match self {
            Act::New | Act::Undo | Act::Redo | Act::TurnRound | Act::PlaceBest | Act::NewBay => true,
            Act::Open
            | Act::Save
            | Act::SaveAs
            | Act::ReadAnew
            | Act::Quit
            | Act::Fit
            | Act::TurnPlan
            | Act::NextSetup
            | Act::PreviousSetup
            | Act::AllSetups
            | Act::NextFinding
            | Act::PreviousFinding
            | Act::Night
            | Act::FeetInches
            | Act::Bigger
            | Act::Smaller
            | Act::UsualSize
            | Act::Keys
            | Act::Tapes
            | Act::Names
            | Act::Way
            | Act::Picture
            | Act::Heights
            | Act::Profile
            | Act::Survey
            | Act::ChangeBay
            | Act::HoldTape
            | Act::Search
            | Act::StopSearch
            | Act::Commands
            | Act::Legend
            | Act::Closer
            | Act::Farther
            | Act::JobPanel
            | Act::FindingsPanel
            | Act::StripUnder
            | Act::Touch
            | Act::Show(_) => false,
        }
    }

    /// Whether it means something where no plan is shown.
    pub(crate) fn works_off_the_plan(self) -> bool {
        let of_the_window = [
            Act::Night,
            Act::FeetInches,
            Act::Bigger,
            Act::Smaller,
            Act::UsualSize,
            Act::Keys,
            Act::Commands,
            Act::Touch,
        ];
        let of_files = [Act::Open, Act::Save, Act::Quit];
        matches!(self, Act::Show(_)) || of_the_window.contains(&self) || of_files.contains(&self)
    }

    /// Every act of the menus.
    pub(crate) fn all() -> impl Iterator<Item = Act> {
        MENUS.iter().flat_map(|(_, acts)| acts.iter().flatten().copied())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_acts_share_a_key() {
        let acts: Vec<Act> = Act::all().collect();
        for (i, a) in acts.iter().enumerate() {
            for b in &acts[i + 1..] {
                assert!(a.key().is_none() || a.key() != b.key(), "{a:?} and {b:?}");
            }
        }
    }

    #[test]
    fn every_act_has_words_and_says_what_it_does() {
        for act in Act::all() {
            assert!(!act.words().is_empty() && act.tells().len() > 10, "{act:?}");
        }
    }

    #[test]
    fn no_single_letter_changes_the_job() {
        for act in Act::all().filter(|a| a.changes_the_job()) {
            assert!(act.key().is_none_or(|k| k.modifiers.command), "{act:?}");
        }
    }

    #[test]
    fn letters_and_signs_are_typed_keys_of_the_top_row_are_not() {
        for (act, typed) in [
            (Act::Fit, true),
            (Act::Closer, true),
            (Act::NextSetup, true),
            (Act::Keys, false),
            (Act::ReadAnew, false),
            (Act::JobPanel, false),
            (Act::Save, false),
        ] {
            assert_eq!(act.types_a_letter(), typed, "{act:?}");
        }
    }
}
