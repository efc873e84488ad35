//! The changes a person can make to a job.

use std::sync::Arc;

use super::shop::ShopFigure;
use crate::model::bay::SpotHeight;
use crate::model::job::{Accepted, Found, Support, Toe};
use crate::model::when::When;
use crate::model::{Bay, Equipment, Name, Procedure, Vehicle};

/// One change of a job. Lengths are mm, angles degrees, as the job file holds them.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// The vehicle's origin in bay axes and its heading.
    Stand {
        x: f64,
        y: f64,
        heading: f64,
        how: Motion,
    },
    /// Files are named as the job file names them.
    ChooseBay {
        file: Name,
        bay: Arc<Bay>,
    },
    ChooseVehicle {
        file: Name,
        vehicle: Arc<Vehicle>,
    },
    ChooseEquipment {
        file: Name,
        equipment: Arc<Equipment>,
    },
    AddProcedure {
        file: Name,
        procedure: Arc<Procedure>,
    },
    RemoveProcedure(usize),
    /// Takes the procedure at `from` out and puts it in at `to`.
    MoveProcedure {
        from: usize,
        to: usize,
    },
    Variants {
        procedure: usize,
        variants: Vec<Name>,
    },
    /// One of the procedure's ways; `None`: the first that fits.
    Way {
        procedure: usize,
        way: Option<Name>,
    },
    /// A figure taken off the car or the bay, in its own unit; `None` forgets it.
    Measured {
        name: Name,
        value: Option<f64>,
    },
    /// A free value of a procedure; `None` leaves it open again.
    Choose {
        name: Name,
        value: Option<f64>,
    },
    /// A figure the procedure lacks, with who says so.
    Figure {
        name: Name,
        found: Option<Found>,
    },
    RearToe(Option<Toe>),
    FrontToe(Option<Toe>),
    Door {
        name: Name,
        open: bool,
    },
    /// A movable thing is out of the way, or stands.
    Clear {
        name: Name,
        away: bool,
    },
    Accept(Accepted),
    TakeBack {
        rule: Name,
        items: Vec<Name>,
    },
    Rename(String),
    /// One of the shop's own figures; `None` goes back to the bay's.
    ShopFigure {
        which: ShopFigure,
        mm: Option<f64>,
    },
    Support(Support),
    /// The doorway the vehicle comes in by; `None`: the first.
    EnterBy(Option<Name>),
    /// Whether the way in is judged too.
    DriveIn(bool),
    /// How long the last stretch of the way in must be straight, mm; `None`: the usual length.
    StraightRun(Option<f64>),
    /// The market the vehicle was made for.
    Market(Option<Name>),
    /// When the work is done, for the light.
    When(Option<When>),
    /// The survey of the bay's floor, in its file: spots, and the standard error of one reading, mm.
    Survey {
        spots: Vec<SpotHeight>,
        error: Option<f64>,
    },
    /// Another name for a fixture of the bay, in its file and wherever the job names it.
    RenameFixture {
        from: Name,
        to: Name,
    },
    /// One of the files the job names says something else.
    Rewrite {
        title: String,
        file: FileValue,
    },
}

/// What one of the files of a job is to say.
#[derive(Clone, Debug, PartialEq)]
pub enum FileValue {
    Bay(Arc<Bay>),
    Vehicle(Arc<Vehicle>),
    Equipment(Arc<Equipment>),
    /// The n-th procedure of the job.
    Procedure(usize, Arc<Procedure>),
}

/// How a pose came about, for the words of undo.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Motion {
    Move,
    Turn,
    TurnRound,
    Nudge,
    Type,
}

impl Edit {
    /// Whether it can take things out of the job's files, and with them what a person has entered about them.
    pub fn takes_along(&self) -> bool {
        matches!(
            self,
            Edit::ChooseBay { .. }
                | Edit::ChooseVehicle { .. }
                | Edit::ChooseEquipment { .. }
                | Edit::RemoveProcedure(_)
                | Edit::Variants { .. }
                | Edit::Rewrite { .. }
        )
    }

    /// What undo and redo call it: "Undo move vehicle".
    pub fn title(&self) -> String {
        match self {
            Edit::Stand { how, .. } => match how {
                Motion::Move | Motion::Nudge => "move vehicle".into(),
                Motion::Turn => "turn vehicle".into(),
                Motion::TurnRound => "turn vehicle round".into(),
                Motion::Type => "place vehicle".into(),
            },
            Edit::ChooseBay { .. } => "choose bay".into(),
            Edit::ChooseVehicle { .. } => "choose vehicle".into(),
            Edit::ChooseEquipment { .. } => "choose equipment".into(),
            Edit::AddProcedure { .. } => "add procedure".into(),
            Edit::RemoveProcedure(_) => "remove procedure".into(),
            Edit::MoveProcedure { .. } => "reorder procedures".into(),
            Edit::Variants { .. } => "choose variant".into(),
            Edit::Way { .. } => "choose way".into(),
            Edit::Market(_) => "choose market".into(),
            Edit::When(_) => "set date and time".into(),
            Edit::Measured { name, .. } | Edit::Choose { name, .. } | Edit::Figure { name, .. } => {
                format!("set {name}")
            }
            Edit::RearToe(_) => "set rear toe".into(),
            Edit::FrontToe(_) => "set front toe".into(),
            Edit::Door { name, open: true } => format!("open {name}"),
            Edit::Door { name, open: false } => format!("shut {name}"),
            Edit::Clear { name, away: true } => format!("clear {name}"),
            Edit::Clear { name, away: false } => format!("put {name} back"),
            Edit::Accept(_) => "accept finding".into(),
            Edit::TakeBack { .. } => "take back acceptance".into(),
            Edit::Rename(_) => "rename job".into(),
            Edit::ShopFigure { which, .. } => format!("set {}", which.words()),
            Edit::Support(_) => "choose support".into(),
            Edit::EnterBy(_) => "choose doorway".into(),
            Edit::DriveIn(true) => "judge the way in".into(),
            Edit::DriveIn(false) => "leave out the way in".into(),
            Edit::StraightRun(_) => "set straight run".into(),
            Edit::Survey { .. } => "change the floor survey".into(),
            Edit::RenameFixture { from, .. } => format!("rename {from}"),
            Edit::Rewrite { title, .. } => title.clone(),
        }
    }
}
