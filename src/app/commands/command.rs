//! Everything the window can be told: changes of the job, and acts of the window itself. Panels only send these; the
//! window carries them out at one place.

use std::path::PathBuf;
use std::sync::Arc;

use crate::app::shell::file_dialog::Purpose;
use crate::app::state::dialog::{ConflictChoice, FileConflict};
use crate::app::state::shop_place::ShopPlace;
use crate::app::state::view_state::{BottomPanel, Grouping, TapeEnd};
use crate::checks::{Outcome, RuleId};
use crate::edit::bay::several::Align;
use crate::edit::bay::{BayThing, PutDown};
use crate::edit::{Edit, FileValue, Step};
use crate::files::NewShop;
use crate::geometry::P2;
use crate::layout::Stance;
use crate::model::Bay;

/// What a panel asks for.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Command {
    Edit(Edit, Step),
    /// The vehicle is being dragged here; not yet a change.
    Drag(Stance),
    /// The drag ends: where it is now becomes the job's pose, or the drag is forgotten.
    Drop {
        keep: bool,
    },
    Act(Act),
    /// Shows one setup alone, or all together.
    ShowSetup(Option<usize>),
    /// Chooses a finding by its place in the judgement; `look` brings it into sight on the plan.
    Choose {
        finding: Option<usize>,
        look: bool,
    },
    FilterText(String),
    FilterOutcome(Outcome, bool),
    Group(Grouping),
    /// Opens the page about a rule.
    Why(RuleId),
    /// Opens the box in which a finding is accepted.
    AskAccept(usize),
    Tick {
        line: String,
        done: bool,
    },
    /// Shows or folds what passed.
    ShowPassed(bool),
    /// Reads a file of the job's folders and puts it into the job.
    Pick(PickedFile),
    /// Opens a job; asks first where something would be lost.
    OpenPath(PathBuf),
    Answer(DialogAnswer),
    /// Which direction the strip under the plan shows.
    OtherWay(bool),
    /// What lies under the plan.
    Bottom(BottomPanel),
    /// Asks for the height of the floor at a place of the bay.
    HeightAt(P2),
    /// Files were dropped on the window.
    Dropped(Vec<PathBuf>),
    /// Looks for a file with the desktop's dialog.
    Browse(Purpose),
    /// An end of the tape that is held on the plan; after two, the first of another.
    TapeEnd(TapeEnd),
    /// Something about the bay that is being changed.
    Bay(BayAct),
    /// Something about the workshop.
    Shop(ShopAct),
}

impl Command {
    /// The command that has the bay say something else; refused sentences come from where it is made.
    pub(crate) fn bay_rewritten(title: String, bay: Result<Bay, String>, step: Step) -> Command {
        match bay {
            Ok(bay) => Command::Edit(Edit::Rewrite { title, file: FileValue::Bay(Arc::new(bay)) }, step),
            Err(why) => Command::Bay(BayAct::Refused(why)),
        }
    }
}

/// What is done to the bay beyond an edit of its file.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum BayAct {
    Choose(Vec<BayThing>),
    /// Chosen besides what is chosen, or no longer.
    Toggle(BayThing),
    /// At a place of the bay, or in the middle of what the plan shows.
    PutDown(PutDown, Option<P2>),
    /// A corner more in the side that begins at this one.
    CornerAfter(usize),
    TakeAway(Vec<BayThing>),
    Copy(Vec<BayThing>),
    /// What was copied last, its middle at a place of the bay, or beside where it was.
    Paste(Option<P2>),
    Duplicate(Vec<BayThing>),
    /// Left and right changed over, or front and back.
    Mirror(Vec<BayThing>, bool),
    Align(Vec<BayThing>, Align),
    /// Hand and keys move them no more, or again.
    Lock(Vec<BayThing>, bool),
    /// A change that cannot be made, and why.
    Refused(String),
}

/// What is asked of a workshop.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum ShopAct {
    OpenFolder(PathBuf),
    /// A folder is chosen with the desktop's dialog, or typed.
    AskFolder,
    /// Takes a folder off the list of those opened lately.
    Forget(PathBuf),
    Make(NewShop),
    /// Shows a bay on the plan.
    OpenBay(PathBuf),
    /// Begins a bay in the workshop and shows it on the plan, to be typed or measured.
    NewBay,
    /// Unfolds the figures of one file of a list, or of none.
    Unfold(Option<PathBuf>),
    /// Opens the job the demonstration begins with.
    Demonstration,
}

/// A file chosen from the lists beside the job.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum PickedFile {
    Bay(PathBuf),
    Vehicle(PathBuf),
    Equipment(PathBuf),
    Procedure(PathBuf),
}

/// What is done in a dialog.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum DialogAnswer {
    Close,
    /// The path was typed.
    Typed(Purpose, String),
    /// Writes over the file that is there.
    Overwrite(PathBuf),
    /// Saves first, then does what was asked.
    SaveThen,
    /// Does what was asked and lets the changes go.
    LoseThen,
    Recover(usize),
    ForgetLost,
    /// A file that others have changed.
    Conflict(FileConflict, ConflictChoice),
    Survey(SurveyAction),
}

/// What is done in the dialogs of the survey.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum SurveyAction {
    /// Goes on with presses on the plan.
    OnPlan,
    /// Writes the bay's file.
    Write,
    ThrowAway,
    /// A height was typed, in mm; `None` takes the spot out.
    Height {
        at: P2,
        /// Which of the bay's heights it is, where it is one.
        spot: Option<usize>,
        mm: Option<f64>,
    },
}

/// Everything with a menu entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Act {
    New,
    Open,
    Save,
    SaveAs,
    ReadAnew,
    Quit,
    Undo,
    Redo,
    TurnRound,
    Fit,
    TurnPlan,
    NextSetup,
    PreviousSetup,
    AllSetups,
    NextFinding,
    PreviousFinding,
    Night,
    FeetInches,
    Bigger,
    Smaller,
    UsualSize,
    Keys,
    Tapes,
    Names,
    Way,
    Picture,
    Heights,
    Profile,
    Survey,
    ChangeBay,
    NewBay,
    HoldTape,
    Search,
    StopSearch,
    PlaceBest,
    /// The list of all commands.
    Commands,
    Legend,
    Closer,
    Farther,
    JobPanel,
    FindingsPanel,
    StripUnder,
    Touch,
    /// Turns to a place of the window.
    Show(ShopPlace),
}
