//! What each command does, in a sentence: for who points at it in a menu, and in the list of all commands.

use crate::app::commands::command::Act;
use crate::app::state::shop_place::ShopPlace;

impl Act {
    /// What it does.
    pub(crate) fn tells(self) -> &'static str {
        match self {
            Act::New => "begins a job with this bay, vehicle and equipment and no procedure yet",
            Act::Open => "asks for the file of another job",
            Act::Save => "writes every file that was changed, and nothing else in them",
            Act::SaveAs => "writes the job into another file",
            Act::ReadAnew => "looks on the disk for what others have changed",
            Act::Quit => "closes, and asks first where something would be lost",
            Act::Undo => "takes the last change back, whichever file it changed",
            Act::Redo => "makes the change again that was taken back",
            Act::TurnRound => "turns the vehicle by half a turn where it stands",
            Act::Show(ShopPlace::Start) => "where a workshop is opened, made or copied",
            Act::Show(ShopPlace::Plan) => "the job on the plan",
            Act::Show(ShopPlace::Jobs) => "the workshop's jobs and how they fare",
            Act::Show(ShopPlace::Bays) => "the workshop's bays to one scale",
            Act::Show(ShopPlace::Vehicles) => "the workshop's vehicles",
            Act::Show(ShopPlace::Procedures) => "the workshop's procedures",
            Act::Show(ShopPlace::Equipment) => "the workshop's targets and stands",
            Act::PlaceBest => "puts the vehicle where the search found the most room",
            Act::Search => "looks for all places where the vehicle can stand",
            Act::StopSearch => "ends the search that runs",
            Act::ChangeBay => {
                "moves, adds and takes away walls, doors and things of the bay; again: back to the job"
            }
            Act::NewBay => "begins a bay by its width, length and ceiling",
            Act::Survey => "takes heights of the floor as a table or on the plan",
            Act::Fit => "shows the whole bay",
            Act::Closer => "zooms in by one small step",
            Act::Farther => "zooms out by one small step",
            Act::TurnPlan => "turns the drawing by a quarter; the bay stays as it is",
            Act::Tapes => "shows or hides tapes and strings on the plan",
            Act::Names => "shows or hides names on the plan",
            Act::Way => "shows or hides the way in",
            Act::Picture => "shows or hides what a sensor sees",
            Act::Heights => "shows or hides the surveyed heights of the floor",
            Act::Profile => "cuts the floor along a line drawn on the plan",
            Act::HoldTape => "measures between two points, or between outlines",
            Act::Legend => "says what the signs on the plan mean",
            Act::JobPanel => "shows or hides the panel at the left",
            Act::FindingsPanel => "shows or hides the panel at the right",
            Act::StripUnder => "shows or hides the margins under the plan, and gives the plan their room",
            Act::NextSetup => "shows the next setup by itself",
            Act::PreviousSetup => "shows the setup before by itself",
            Act::AllSetups => "shows every setup together",
            Act::NextFinding => "chooses the next finding of the list",
            Act::PreviousFinding => "chooses the finding before",
            Act::Night => "dark colours for a dark shop",
            Act::FeetInches => "shows lengths in feet and inches; files stay in millimetres",
            Act::Bigger => "makes everything in the window larger",
            Act::Smaller => "makes everything in the window smaller",
            Act::UsualSize => "everything in the size it was made in",
            Act::Touch => "makes everything that is pressed 44 points high, for fingers and gloves",
            Act::Commands => "finds a command by a word",
            Act::Keys => "lists every key and what the pointer does",
        }
    }
}
