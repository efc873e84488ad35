//! What a drawn thing is.

use crate::checks::Outcome;

/// What a drawn thing is; the theme turns it into ink.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Role {
    Ground,
    Grid,
    Floor,
    Apron,
    /// The apron of a shut door.
    ApronShut,
    Wall,
    /// The stretch of wall a doorway leaves open.
    Threshold,
    DoorShut,
    DoorOpen,
    /// The way a leaf swings.
    Swing,
    Fixture,
    FixtureMovable,
    FixtureOverhead,
    FixtureFlush,
    FixtureLight,
    FixtureGlass,
    FixtureCleared,
    Post,
    Runway,
    /// Painted on the floor.
    FloorLine,
    KeepClear,
    /// The judged outline of the body.
    Body,
    /// A plausible body drawn inside the judged outline, for the eye only.
    BodyInner,
    Glazing,
    Tyre,
    Mirror,
    Axle,
    CentreLine,
    ThrustLine,
    Sensor,
    Mark,
    Tape,
    Target,
    TargetFront,
    Foot,
    Mat,
    Room,
    ZoneRadar,
    ZoneLight,
    ZoneAnything,
    ZonePattern,
    ZonePeople,
    /// An area to be seen, not kept empty.
    ZoneSeen,
    ZoneOther,
    Dimension,
    Name,
    Fail,
    Movable,
    Tight,
    Unknown,
    Accepted,
    Pass,
    Chosen,
    /// Ground swept by body and mirrors on the way in.
    Swept,
    /// The way in, driven forward.
    Way,
    /// The way in, driven backward.
    WayBack,
    /// A wall in the picture of a sensor.
    Backdrop,
    /// Bands of the floor's height, the lowest first.
    HeightLow4,
    HeightLow3,
    HeightLow2,
    HeightLow1,
    HeightHigh1,
    HeightHigh2,
    HeightHigh3,
    HeightHigh4,
    /// A line of equal height.
    Contour,
    /// A spot of the floor survey.
    SpotHeight,
    /// Where the floor lies in one plane with the wheels.
    Even,
    Ghost,
    Region,
}

impl Role {
    /// How many roles there are; `Role::Region` is the last.
    pub const COUNT: usize = Role::Region as usize + 1;

    /// All roles, in their order.
    pub const ALL: [Role; Role::COUNT] = [
        Role::Ground,
        Role::Grid,
        Role::Floor,
        Role::Apron,
        Role::ApronShut,
        Role::Wall,
        Role::Threshold,
        Role::DoorShut,
        Role::DoorOpen,
        Role::Swing,
        Role::Fixture,
        Role::FixtureMovable,
        Role::FixtureOverhead,
        Role::FixtureFlush,
        Role::FixtureLight,
        Role::FixtureGlass,
        Role::FixtureCleared,
        Role::Post,
        Role::Runway,
        Role::FloorLine,
        Role::KeepClear,
        Role::Body,
        Role::BodyInner,
        Role::Glazing,
        Role::Tyre,
        Role::Mirror,
        Role::Axle,
        Role::CentreLine,
        Role::ThrustLine,
        Role::Sensor,
        Role::Mark,
        Role::Tape,
        Role::Target,
        Role::TargetFront,
        Role::Foot,
        Role::Mat,
        Role::Room,
        Role::ZoneRadar,
        Role::ZoneLight,
        Role::ZoneAnything,
        Role::ZonePattern,
        Role::ZonePeople,
        Role::ZoneSeen,
        Role::ZoneOther,
        Role::Dimension,
        Role::Name,
        Role::Fail,
        Role::Movable,
        Role::Tight,
        Role::Unknown,
        Role::Accepted,
        Role::Pass,
        Role::Chosen,
        Role::Swept,
        Role::Way,
        Role::WayBack,
        Role::Backdrop,
        Role::HeightLow4,
        Role::HeightLow3,
        Role::HeightLow2,
        Role::HeightLow1,
        Role::HeightHigh1,
        Role::HeightHigh2,
        Role::HeightHigh3,
        Role::HeightHigh4,
        Role::Contour,
        Role::SpotHeight,
        Role::Even,
        Role::Ghost,
        Role::Region,
    ];

    /// The bands of the floor's height, the lowest first.
    pub const HEIGHTS: [Role; 8] = [
        Role::HeightLow4,
        Role::HeightLow3,
        Role::HeightLow2,
        Role::HeightLow1,
        Role::HeightHigh1,
        Role::HeightHigh2,
        Role::HeightHigh3,
        Role::HeightHigh4,
    ];

    /// The role a finding is drawn in; `None` for what is not drawn on the plan.
    pub fn of(outcome: Outcome) -> Option<Role> {
        match outcome {
            Outcome::Fail => Some(Role::Fail),
            Outcome::Movable => Some(Role::Movable),
            Outcome::Unknown => Some(Role::Unknown),
            Outcome::Tight => Some(Role::Tight),
            Outcome::Accepted => Some(Role::Accepted),
            Outcome::Pass => Some(Role::Pass),
            Outcome::Confirm | Outcome::NotApplicable => None,
        }
    }

    /// Whether findings are drawn in it.
    pub fn is_outcome(self) -> bool {
        matches!(self, Role::Fail | Role::Movable | Role::Tight | Role::Unknown | Role::Accepted | Role::Pass)
    }
}
