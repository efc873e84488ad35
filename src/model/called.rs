//! What is missing for an answer: figures, and what has to be there before anything can be placed.

use std::borrow::Cow;
use std::cmp::Ordering;
use std::fmt;
use std::sync::Arc;

use super::language::Feature;

/// One thing that is not known. Files and JSON name it by its word.
#[derive(Clone, Debug, PartialEq)]
pub enum Lack {
    /// A figure or a thing by the name that a file gives it.
    Named(Arc<str>),
    RearToe,
    FrontToe,
    Ceiling,
    TurningCircle,
    /// How many the shop owns.
    Owned,
    FloorSurvey,
    /// Where on the earth the bay is.
    Place,
    /// Its bearing by the compass.
    Bearing,
    /// Date and time.
    When,
    HeightOf(Arc<str>),
    HeightOfFeature(Feature),
    Procedure,
    /// One that applies to this vehicle.
    ProcedureThatApplies,
    /// A setup of this procedure that applies.
    SetupOf(Arc<str>),
}

impl Lack {
    /// The word of files and JSON.
    pub fn word(&self) -> Cow<'_, str> {
        Cow::Borrowed(match self {
            Lack::Named(name) => name,
            Lack::RearToe => "rear_toe",
            Lack::FrontToe => "front_toe",
            Lack::Ceiling => "ceiling",
            Lack::TurningCircle => "turning_circle",
            Lack::Owned => "owned",
            Lack::FloorSurvey => "floor survey",
            Lack::Place => "place",
            Lack::Bearing => "bearing",
            Lack::When => "when",
            Lack::HeightOf(name) => return format!("height of {name}").into(),
            Lack::HeightOfFeature(feature) => return format!("height of {}", feature_word(feature)).into(),
            Lack::Procedure => "a procedure",
            Lack::ProcedureThatApplies => "a procedure that applies to this vehicle",
            Lack::SetupOf(procedure) => return format!("a setup of {procedure} that applies").into(),
        })
    }

    /// Whether it is what a file calls by this name.
    pub fn is_named(&self, name: &str) -> bool {
        matches!(self, Lack::Named(own) if **own == *name)
    }
}

/// A feature of the vehicle by its word.
fn feature_word(feature: &Feature) -> &str {
    use super::language::{Corner, End};
    match feature {
        Feature::Wheel(Corner::FrontLeft) => "front left wheel",
        Feature::Wheel(Corner::FrontRight) => "front right wheel",
        Feature::Wheel(Corner::RearLeft) => "rear left wheel",
        Feature::Wheel(Corner::RearRight) => "rear right wheel",
        Feature::Axle(End::Front) => "front axle",
        Feature::Axle(End::Rear) => "rear axle",
        Feature::Nose => "nose",
        Feature::Tail => "tail",
        Feature::Sensor(name) | Feature::Point(name) => name.as_str(),
    }
}

impl From<Arc<str>> for Lack {
    fn from(name: Arc<str>) -> Lack {
        Lack::Named(name)
    }
}

impl fmt::Display for Lack {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str(&self.word())
    }
}

impl Eq for Lack {}

/// By word; of two alike that of a file comes last.
impl Ord for Lack {
    fn cmp(&self, other: &Lack) -> Ordering {
        let named = |lack: &Lack| matches!(lack, Lack::Named(_));
        (self.word(), named(self)).cmp(&(other.word(), named(other)))
    }
}

impl PartialOrd for Lack {
    fn partial_cmp(&self, other: &Lack) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
