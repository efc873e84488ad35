//! Words that several rules' titles share: things by their names, what is missing, room between two things.
//!
//! What a rule says of its own stands in its file; what findings carry is worded in [`notes`].

pub mod notes;
pub mod outcome;

use super::figures::Figures;
use super::finding::Finding;
use super::rule::PARTS;
use crate::geometry::NOISE_MM;
use crate::layout::Layout;
use crate::layout::fixed::Axis;
use crate::model::language::{Corner, End, Feature};
use crate::model::{Called, Item, ItemKind, Lack};
use crate::phrases::{Phrase, Say, phrases, say};

pub mod things {
    //! Things that no file names, and how several are told.

    use super::phrases;

    phrases! { pub in "things";
        VEHICLE = "vehicle";
        MIRRORS = "mirrors";
        TYRES = "tyres";
        CEILING = "ceiling";
        FLOOR = "floor";
        SIDE = "wall {n}";
        POST = "{lift} post {n}";
        APRON = "{door} apron";
        JAMB = "{door} jamb";
        STRIP = "{door} strip";
        STRING = "string from {mark}";
        ALONG = "along";
        ACROSS = "across";
        TURN = "turn";
        LINE = "line";
        LIGHT = "light";
        SURROUNDINGS = "surroundings";
        SUN = "sun";
        VALIDITY = "validity";
        BEFORE_THE_FIRST = "before the first";
        FRONT_LEFT = "front left wheel";
        FRONT_RIGHT = "front right wheel";
        REAR_LEFT = "rear left wheel";
        REAR_RIGHT = "rear right wheel";
        FRONT_AXLE = "front axle";
        REAR_AXLE = "rear axle";
        NOSE = "nose";
        TAIL = "tail";
        /// A part of the vehicle as the subject of a sentence.
        THE_PART = "the {part}";
        AND = " and ";
        OR = " or ";
        COMMA = ", ";
        SEMICOLON = "; ";
    }
}

pub mod lacks {
    //! What is called by no file.

    use super::phrases;

    phrases! { pub in "missing";
        REAR_TOE = "rear toe";
        FRONT_TOE = "front toe";
        CEILING = "ceiling height";
        TURNING_CIRCLE = "turning circle";
        OWNED = "number the shop owns";
        FLOOR_SURVEY = "floor survey";
        PLACE = "place";
        BEARING = "bearing";
        WHEN = "when";
        HEIGHT_OF = "height of {thing}";
        PROCEDURE = "a procedure";
        PROCEDURE_THAT_APPLIES = "a procedure that applies to this vehicle";
        SETUP_OF = "a setup of {procedure} that applies";
    }
}

mod apart_words {
    use super::phrases;

    phrases! { pub(super) in "room";
        TOUCHES = "{what} just {n|touches|touch} {the still}";
        FROM = "{what} {n|is|are} {have} from {the still}";
        STANDS_INTO = "{what} {n|stands|stand} {depth} into {the still}";
        REACHES_INTO = "{what} {n|reaches|reach} {depth} into {the still}";
        TOO_CLOSE = "{what} {n|is|are} {short} too close to {the still}";
    }
}

/// Everything said here.
pub const PHRASES: &[&[Phrase]] =
    &[things::PHRASES, lacks::PHRASES, apart_words::PHRASES, notes::PHRASES, outcome::PHRASES];

/// A thing by its name.
#[allow(
    clippy::wildcard_enum_match_arm,
    reason = "few kinds are the only one; which, `ItemKind` says for every kind"
)]
pub fn thing(item: &Item, say: Say) -> String {
    match item.called() {
        Called::Name(name) if item.kind() == ItemKind::Words => line(name, say),
        Called::Name(name) => name.to_owned(),
        Called::Only(kind) => say.word(match kind {
            ItemKind::Mirrors => things::MIRRORS,
            ItemKind::Tyres => things::TYRES,
            ItemKind::Ceiling => things::CEILING,
            ItemKind::Floor => things::FLOOR,
            _ => things::VEHICLE,
        }),
        Called::Side(n) => say!(say, things::SIDE, n),
        Called::Post(lift, n) => say!(say, things::POST, lift, n),
        Called::Apron(door) => say!(say, things::APRON, door),
        Called::Jamb(door) => say!(say, things::JAMB, door),
        Called::Strip(door) => say!(say, things::STRIP, door),
        Called::String(mark) => say!(say, things::STRING, mark),
        Called::Axis(word) => match Axis::read(word) {
            Some(Axis::Along) => say.word(things::ALONG),
            Some(Axis::Across) => say.word(things::ACROSS),
            Some(Axis::Turn) => say.word(things::TURN),
            Some(Axis::Line) => say.word(things::LINE),
            None => word.to_owned(),
        },
    }
}

/// A line of the list of the day by the word it is known by; those of a file in their own words.
fn line(word: &str, say: Say) -> String {
    say.word(match word {
        "light" => things::LIGHT,
        "floor" => things::FLOOR,
        "surroundings" => things::SURROUNDINGS,
        "sun" => things::SUN,
        "validity" => things::VALIDITY,
        "before the first" => things::BEFORE_THE_FIRST,
        own => return own.to_owned(),
    })
}

/// Several: "board and north wall".
pub fn all_of(items: &[Item], between: Phrase, say: Say) -> String {
    say.list(items.iter().map(|i| thing(i, say)), between)
}

/// All it is about: "board and north wall".
pub fn pair_name(finding: &Finding, say: Say) -> String {
    all_of(&finding.items, things::AND, say)
}

/// The n-th thing it is about; nothing where there is none.
pub fn item(finding: &Finding, i: usize, say: Say) -> String {
    finding.items.get(i).map_or_else(String::new, |item| thing(item, say))
}

/// The first two.
pub fn two(finding: &Finding, say: Say) -> (String, String) {
    (item(finding, 0, say), item(finding, 1, say))
}

/// What is missing, in words. The names that procedures give are words already.
pub fn lack(lack: &Lack, say: Say) -> String {
    let phrase = match lack {
        Lack::Named(name) => return name.to_string(),
        Lack::HeightOf(thing) => return say!(say, lacks::HEIGHT_OF, thing),
        Lack::HeightOfFeature(of) => return say!(say, lacks::HEIGHT_OF, thing = feature(of, say)),
        Lack::SetupOf(procedure) => return say!(say, lacks::SETUP_OF, procedure),
        Lack::RearToe => lacks::REAR_TOE,
        Lack::FrontToe => lacks::FRONT_TOE,
        Lack::Ceiling => lacks::CEILING,
        Lack::TurningCircle => lacks::TURNING_CIRCLE,
        Lack::Owned => lacks::OWNED,
        Lack::FloorSurvey => lacks::FLOOR_SURVEY,
        Lack::Place => lacks::PLACE,
        Lack::Bearing => lacks::BEARING,
        Lack::When => lacks::WHEN,
        Lack::Procedure => lacks::PROCEDURE,
        Lack::ProcedureThatApplies => lacks::PROCEDURE_THAT_APPLIES,
    };
    say.word(phrase)
}

/// Several, parted by commas.
pub fn lacks_all(all: &[Lack], say: Say) -> String {
    say.list(all.iter().map(|l| lack(l, say)), things::COMMA)
}

/// A feature of the vehicle.
pub fn feature(of: &Feature, say: Say) -> String {
    say.word(match of {
        Feature::Wheel(Corner::FrontLeft) => things::FRONT_LEFT,
        Feature::Wheel(Corner::FrontRight) => things::FRONT_RIGHT,
        Feature::Wheel(Corner::RearLeft) => things::REAR_LEFT,
        Feature::Wheel(Corner::RearRight) => things::REAR_RIGHT,
        Feature::Axle(End::Front) => things::FRONT_AXLE,
        Feature::Axle(End::Rear) => things::REAR_AXLE,
        Feature::Nose => things::NOSE,
        Feature::Tail => things::TAIL,
        Feature::Sensor(name) | Feature::Point(name) => return name.to_string(),
    })
}

/// The title of a rule that holds two things apart.
pub fn apart(finding: &Finding, _: &Layout, say: Say) -> String {
    let (moving, _) = two(finding, say);
    let kind = finding.items.first().map(Item::kind);
    let is_part = kind.is_some_and(|k| PARTS.contains(&k));
    let subject = if is_part { say!(say, things::THE_PART, part = moving) } else { moving };
    let plural = matches!(kind, Some(ItemKind::Mirrors | ItemKind::Tyres));
    apart_as(&subject, plural, finding, say)
}

/// The same under another name for what moves.
pub fn apart_as(what: &str, plural: bool, finding: &Finding, say: Say) -> String {
    let (_, still) = two(finding, say);
    let n = if plural { 2 } else { 1 };
    let have = finding.have.unwrap_or(0.0);
    let need = finding.need.unwrap_or(0.0);
    let figures = Figures::of(finding, say.show);
    if finding.margin.unwrap_or(0.0) >= 0.0 {
        if have <= NOISE_MM {
            return say!(say, apart_words::TOUCHES, what, n, still);
        }
        return say!(say, apart_words::FROM, what, n, have = figures.have(), still);
    }
    if have < -NOISE_MM {
        let into = if need > 0.0 { apart_words::STANDS_INTO } else { apart_words::REACHES_INTO };
        return say!(say, into, what, n, depth = figures.depth(), still);
    }
    say!(say, apart_words::TOO_CLOSE, what, n, short = figures.short(), still)
}
