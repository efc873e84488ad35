//! What a finding carries beside its figures: enums with figures and things. Words are made of them in
//! [`super::wording`], and nowhere else.

use std::sync::Arc;

use crate::driving::WhyNot;
use crate::layout::pieces::Dimension;
use crate::layout::{Missing, WhyLeftOut};
use crate::model::equipment::TargetKind;
use crate::model::{Item, RuleId};

/// Why, where figures do not say it: a reason not to apply, a thing to confirm, what of several things it is about.
#[derive(Clone, Debug, PartialEq)]
pub enum Note {
    /// A corner that should be right.
    OffRightAngle,
    /// Two lengths that should be equal.
    EqualLengths,
    /// A zone that is to be seen, not kept empty.
    ToBeSeen,
    /// The same, but no sight leads to it.
    SeenByNobody,
    /// So low that the zone lets it stay.
    LowEnough,
    NoDoorway,
    InHeight,
    InWidth,
    /// The job does not ask for the way in.
    WayNotAsked,
    WayNotWorkedOut,
    NoWayIn(WhyNot),
    /// Not in the equipment file.
    NotListed,
    WrongKind {
        asked: TargetKind,
        is: TargetKind,
    },
    Size(Dimension),
    NoWallBehind,
    /// The maker gives no figure, the shop does.
    ShopsFigure,
    BareWall,
    /// Where free floor ends.
    EndsAt(Item),
    NoViewAngles,
    /// How the front of a target is turned, not where it stands in the view.
    Turned,
    OffPlane(Box<OffPlane>),
    /// On a lift the survey of the floor says nothing.
    Raised,
    /// A setup of which it is not known whether it applies.
    WhetherItApplies,
    /// A reading picks this variant.
    Picks(Arc<str>),
    /// The same, but the job chooses another.
    PicksOther(Box<PicksOther>),
    /// Neither runways nor posts.
    NoLiftMiddle,
    OffMiddle,
    /// So far off it, mm; the bay gives no tolerance.
    OffMiddleUnjudged(f64),
    BetweenAxles,
    /// What else blocks a sight, after the first.
    ThenBy(Vec<Item>),
    Ready(Box<Ready>),
    /// A person accepted what does not fail.
    AcceptedInVain(Box<InVain>),
}

/// What a reading picks, and what the job chooses.
#[derive(Clone, Debug, PartialEq)]
pub struct PicksOther {
    pub picked: Arc<str>,
    pub chosen: Arc<str>,
}

/// How the floor lies off the plane of the wheels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OffPlane {
    pub below: bool,
    /// What the survey's reading error makes of it, mm, and whether that is more than what is left.
    pub error: Option<(f64, bool)>,
    /// The limit in mm, where it is the shop's and not the maker's.
    pub shops: Option<f64>,
}

/// A line of the list of the day.
#[derive(Clone, Debug, PartialEq)]
pub enum Ready {
    NoMirrors,
    /// In the procedure's own words.
    Line(Arc<str>),
    /// What holds where the vehicle was made for this market.
    IfMadeFor(Arc<str>, Vec<Arc<str>>),
    Valid {
        from: Option<Arc<str>>,
        until: Option<Arc<str>>,
    },
    WriteDown(Arc<str>),
    Printed {
        figure: Arc<str>,
        as_is: Arc<str>,
    },
    Light(Arc<str>),
    Floor(Arc<str>),
    Surroundings(Arc<str>),
    /// Nobody stands in this zone.
    Nobody(Arc<str>),
    Drive(Drive),
    Sun {
        at: Arc<str>,
        sun: Sun,
    },
    /// What the lamps give a face, lx.
    Lamps(Arc<str>, f64),
    LeftOut(Arc<str>, WhyLeftOut),
    NoSensor(Arc<str>),
    NoProcedure,
    NoneApplies,
    /// This procedure sets nothing up.
    SetsNothingUp(Arc<str>),
    /// Nothing of this procedure is set up: setups, and why each is left out.
    NothingOf(Arc<str>, Vec<(Arc<str>, WhyLeftOut)>),
}

/// Where the vehicle is driven between two setups, and which targets stay.
#[derive(Clone, Debug, PartialEq)]
pub struct Drive {
    /// The setup before; `None`: before the first.
    pub after: Option<Arc<str>>,
    pub setup: Arc<str>,
    pub leave: Vec<Arc<str>>,
    /// Forward, mm; 0 where it does not matter. So are the others.
    pub ahead: f64,
    /// To its left, mm.
    pub left: f64,
    /// Anticlockwise, degrees.
    pub turn: f64,
}

impl Drive {
    pub fn stays(&self) -> bool {
        self.ahead == 0.0 && self.left == 0.0 && self.turn == 0.0
    }
}

/// What can be told of the sun.
#[derive(Clone, Debug, PartialEq)]
pub enum Sun {
    /// The bay does not give what tells it.
    Unknown(Missing),
    /// It comes in nowhere. Elevation and compass, degrees.
    Nowhere(f64, f64),
    /// Through this opening, on these: name, setup.
    Through { elevation: f64, compass: f64, opening: Item, on: Vec<(Arc<str>, Arc<str>)> },
}

/// An acceptance that does nothing.
#[derive(Clone, Debug, PartialEq)]
pub struct InVain {
    pub rule: Arc<str>,
    /// As the file names them.
    pub items: Vec<Arc<str>>,
    pub by: Arc<str>,
    /// Two things that one of its words can mean; otherwise what it accepts does not fail.
    pub doubt: Option<(Item, Item)>,
}

/// What must be done or stay so that a job fits.
#[derive(Clone, Debug, PartialEq)]
pub enum Condition {
    /// In the words of the bay's file, where it has any.
    Move {
        name: Arc<str>,
        by: Option<Arc<str>>,
    },
    IsCleared {
        name: Arc<str>,
        by: Option<Arc<str>>,
    },
    StaysOpen(Arc<str>),
    Accepted {
        rule: Arc<str>,
        items: Vec<Arc<str>>,
        reason: Arc<str>,
        by: Arc<str>,
    },
}

/// What stands against a way of doing a procedure.
#[derive(Clone, Debug, PartialEq)]
pub enum Against {
    NoneApplies,
    Fails {
        setup: Option<Arc<str>>,
        rule: RuleId,
        items: Vec<Item>,
        by: By,
    },
    NotKnown(RuleId, Lacks),
    /// Whether it applies.
    Undecided(Missing),
    NothingSetUp,
}

impl Against {
    /// Fails; otherwise something is not known.
    pub fn fails(&self) -> bool {
        matches!(self, Against::NoneApplies | Against::Fails { .. })
    }
}

/// By how much a rule fails.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum By {
    Mm(f64),
    Deg(f64),
    Pieces(f64),
    Untold,
}

/// What is not known of it.
#[derive(Clone, Debug, PartialEq)]
pub enum Lacks {
    Figures(Missing),
    Items(Vec<Item>),
}

/// What helps where no move of the job does.
#[derive(Clone, Debug, PartialEq)]
pub enum Remedy {
    /// In the words of the bay's file.
    By {
        thing: Item,
        how: Arc<str>,
    },
    CloseBlind(Item),
    SwitchOff(Item),
    Cover(Item),
    /// Or use another bay; `None`: nothing is named.
    Clear(Option<Item>),
    SayHowManyOwned,
    ChooseProcedure,
    ChooseOther,
    LookUpHeight,
}
