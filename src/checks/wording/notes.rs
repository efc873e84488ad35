//! The notes of findings in words.

use super::{all_of, lack, thing, things};
use crate::checks::note::{Drive, InVain, Note, OffPlane, Ready, Sun};
use crate::driving::{InTheWay, WhyNot};
use crate::geometry::NOISE_MM;
use crate::layout::WhyLeftOut;
use crate::layout::pieces::Dimension;
use crate::model::further::Sits;
use crate::model::{RuleId, TargetKind};
use crate::phrases::{Phrase, Say, phrases, say};
use crate::units::{format_mm, format_mm_exact};

phrases! { pub in "notes";
    OFF_RIGHT_ANGLE = "off the right angle";
    EQUAL_LENGTHS = "equal lengths";
    TO_BE_SEEN = "an area to be seen, not kept empty: see sight-line and in-view";
    SEEN_BY_NOBODY = "an area to be seen, but the procedure does not say by which sensor: it lists no sight to it";
    LOW_ENOUGH = "low enough to be tolerated";
    NO_DOORWAY = "the bay lists no doorway";
    IN_HEIGHT = "in height";
    IN_WIDTH = "in width";
    WAY_NOT_ASKED = "the job does not ask for the way in (`drive_in: true`)";
    WAY_NOT_WORKED_OUT = "the way in is not worked out yet";
    TOO_HIGH = "the vehicle is {mm} mm too high for {door}";
    PLACE_TAKEN = "the place itself is not free: {thing}";
    PLACE_OFF_FLOOR = "the place is not on the bay's floor";
    NO_STRAIGHT_RUN = "no way in ends with {mm} mm straight; without that straight run there is one";
    NOT_EVEN_BAD = "no way in was found, not even a bad one";
    BLOCKED = "{thing} on the best way found";
    DEEP_IN_THE_WAY = "{thing} is {mm} mm in the way";
    IN_THE_WAY = "{thing} is in the way";
    NOT_LISTED = "the equipment file does not list it";
    WRONG_KIND = "a {asked} is asked for, it is a {is}";
    BOARD = "board";
    REFLECTOR = "reflector";
    MAT = "mat";
    SCREEN = "screen";
    PIPE = "pipe";
    LINES = "set of lines";
    WIDTH = "width";
    HEIGHT = "height";
    LENGTH = "length";
    THICKNESS = "thickness";
    NO_WALL_BEHIND = "no wall stands behind it";
    SHOPS_FIGURE = "the maker gives no figure; this one is the shop's";
    BARE_WALL = "bare wall";
    ENDS_AT = "it ends at {edge}";
    NO_VIEW_ANGLES = "the vehicle file gives no view angles";
    TURNED = "how its front is turned";
    BELOW_PLANE = "below the plane of the wheels";
    ABOVE_PLANE = "above the plane of the wheels";
    READING_ERROR = "; the survey's reading error makes that ±{mm} mm";
    MORE_THAN_LEFT = ", more than what is left";
    SHOPS_LEVEL = "; the maker gives no figure, yours is {mm} mm";
    RAISED = "the vehicle is raised: the floor's survey says nothing of the lift's plane";
    WHETHER_IT_APPLIES = "whether it applies";
    PICKS = "picks {variant}";
    PICKS_OTHER = "picks {variant}, but the job chooses {chosen}";
    NO_LIFT_MIDDLE = "neither runways nor posts tell where the lift's middle is";
    OFF_MIDDLE = "off the lift's middle line";
    OFF_MIDDLE_UNJUDGED = "{mm} mm off the lift's middle line; the bay gives no tolerance";
    BETWEEN_AXLES = "between the axles";
    THEN_BY = "then by {things}";
    ACCEPTED_IN_VAIN = "{rule} of {items} was accepted{by} but {why}";
    BY = " ({who})";
    CAN_MEAN_TWO = "{word} can mean two things: write {one} or {other}";
    DOES_NOT_FAIL = "does not fail here: take the acceptance back";
    NO_MIRRORS = "the vehicle file gives no mirrors: measure over them before driving in";
    IF_MADE_FOR = "if made for {market}: {lines}";
    VALID = "this text applies{from}{until}: check the vehicle's date";
    FROM = " from {date}";
    UNTIL = " until {date}";
    WRITE_DOWN = "write down: {line}";
    PRINTED = "{figure} is printed as {as_is}";
    LIGHT = "light: {note}";
    FLOOR = "floor: {note}";
    SURROUNDINGS = "surroundings: {note}";
    NOBODY = "nobody stands in {zone} while the sensor works";
    BEFORE_THE_FIRST = "before the first";
    DRIVE = "after {after}, for {setup}: {way}";
    LEAVE = "after {after}, for {setup}: leave {targets} standing; the vehicle stays";
    LEAVE_AND_DRIVE = "after {after}, for {setup}: leave {targets} standing and {way}";
    DRIVE_BACK = "drive {mm} mm back";
    DRIVE_FORWARD = "drive {mm} mm forward";
    BRING_RIGHT = "bring it {mm} mm to its right";
    BRING_LEFT = "bring it {mm} mm to its left";
    TURN_CLOCKWISE = "turn it {deg} degrees clockwise";
    TURN_ANTICLOCKWISE = "turn it {deg} degrees anticlockwise";
    SUN_UNKNOWN = "the sun at {when} cannot be told: the bay does not give its {figures}";
    SUN_NOWHERE = "{sun}; no open door or window lets it in";
    SUN_SHINES = "{sun}: {place}";
    SUN_DOWN = "at {when} the sun is below the horizon";
    SUN_UP = "at {when} the sun stands {deg} degrees high at compass {compass}";
    ON_NOTHING = "it shines in through {opening}, on no target and no sensor in use";
    ON_THESE = "it shines through {opening} on {things}; shut or shade it, or choose another hour";
    LIT = "{name} ({setup})";
    LAMPS = "the lamps listed give the face of {target} about {lux} lx, daylight not counted: measure it";
    LEFT_OUT = "{name} is left out: {why}";
    ONLY_WITH = "only with {variants}";
    ONLY_LEFT = "only where {sensor} sits on the left";
    ONLY_MIDDLE = "only where {sensor} sits in the middle";
    ONLY_RIGHT = "only where {sensor} sits on the right";
    STAYS_FROM = "its targets stay from {setup}, which is left out";
    NO_SENSOR = "the vehicle has no {sensor}";
    NO_PROCEDURE = "no procedure is chosen: nothing is placed, so there is nothing that fits or does not";
    NONE_APPLIES = "no procedure of this job applies to this vehicle: nothing is placed";
    SETS_NOTHING_UP = "{procedure} sets up no target, zone, sight or string: nothing is placed";
    NOTHING_OF = "nothing of {procedure} is set up here ({why})";
    NAMED = "{name}: {why}";
}

/// A note.
pub fn note(note: &Note, say: Say) -> String {
    let word = |phrase| say.word(phrase);
    match note {
        Note::OffRightAngle => word(OFF_RIGHT_ANGLE),
        Note::EqualLengths => word(EQUAL_LENGTHS),
        Note::ToBeSeen => word(TO_BE_SEEN),
        Note::SeenByNobody => word(SEEN_BY_NOBODY),
        Note::LowEnough => word(LOW_ENOUGH),
        Note::NoDoorway => word(NO_DOORWAY),
        Note::InHeight => word(IN_HEIGHT),
        Note::InWidth => word(IN_WIDTH),
        Note::WayNotAsked => word(WAY_NOT_ASKED),
        Note::WayNotWorkedOut => word(WAY_NOT_WORKED_OUT),
        Note::NoWayIn(why) => no_way_in(why, say),
        Note::NotListed => word(NOT_LISTED),
        Note::WrongKind { asked, is } => {
            say!(say, WRONG_KIND, asked = kind(*asked, say), is = kind(*is, say))
        }
        Note::Size(of) => word(match of {
            Dimension::Width => WIDTH,
            Dimension::Height => HEIGHT,
            Dimension::Length => LENGTH,
            Dimension::Thickness => THICKNESS,
        }),
        Note::NoWallBehind => word(NO_WALL_BEHIND),
        Note::ShopsFigure => word(SHOPS_FIGURE),
        Note::BareWall => word(BARE_WALL),
        Note::EndsAt(edge) => say!(say, ENDS_AT, edge = thing(edge, say)),
        Note::NoViewAngles => word(NO_VIEW_ANGLES),
        Note::Turned => word(TURNED),
        Note::OffPlane(off) => off_plane(off, say),
        Note::Raised => word(RAISED),
        Note::WhetherItApplies => word(WHETHER_IT_APPLIES),
        Note::Picks(variant) => say!(say, PICKS, variant),
        Note::PicksOther(of) => say!(say, PICKS_OTHER, variant = of.picked, chosen = of.chosen),
        Note::NoLiftMiddle => word(NO_LIFT_MIDDLE),
        Note::OffMiddle => word(OFF_MIDDLE),
        Note::OffMiddleUnjudged(mm) => say!(say, OFF_MIDDLE_UNJUDGED, mm = format_mm(*mm)),
        Note::BetweenAxles => word(BETWEEN_AXLES),
        Note::ThenBy(others) => say!(say, THEN_BY, things = all_of(others, things::COMMA, say)),
        Note::Ready(ready) => on_the_day(ready, say),
        Note::AcceptedInVain(vain) => accepted_in_vain(vain, say),
    }
}

/// Why no way in was found.
pub fn no_way_in(why: &WhyNot, say: Say) -> String {
    let up = |mm: f64| format!("{:.0}", (mm - NOISE_MM).ceil());
    let thing = |t: &InTheWay| {
        let still = thing(&t.still, say);
        match t.depth {
            Some(depth) => say!(say, DEEP_IN_THE_WAY, thing = still, mm = up(depth)),
            None => say!(say, IN_THE_WAY, thing = still),
        }
    };
    match why {
        WhyNot::TooHigh(over, door) => say!(say, TOO_HIGH, mm = up(*over), door),
        WhyNot::PlaceTaken(by) => say!(say, PLACE_TAKEN, thing = thing(by)),
        WhyNot::PlaceOffFloor => say.word(PLACE_OFF_FLOOR),
        WhyNot::NoStraightRun(mm) => say!(say, NO_STRAIGHT_RUN, mm),
        WhyNot::NotEvenBad => say.word(NOT_EVEN_BAD),
        WhyNot::Blocked(by) => say!(say, BLOCKED, thing = thing(by)),
    }
}

fn kind(kind: TargetKind, say: Say) -> String {
    say.word(match kind {
        TargetKind::Board => BOARD,
        TargetKind::Reflector => REFLECTOR,
        TargetKind::Mat => MAT,
        TargetKind::Screen => SCREEN,
        TargetKind::Pipe => PIPE,
        TargetKind::Lines => LINES,
    })
}

fn off_plane(off: &OffPlane, say: Say) -> String {
    let mut words = say.word(if off.below { BELOW_PLANE } else { ABOVE_PLANE });
    if let Some((error, more_than_left)) = off.error {
        words += &say!(say, READING_ERROR, mm = format_mm_exact(error, 1));
        if more_than_left {
            words += &say.word(MORE_THAN_LEFT);
        }
    }
    if let Some(mm) = off.shops {
        words += &say!(say, SHOPS_LEVEL, mm);
    }
    words
}

/// A rule by the name that a file gives it.
pub(super) fn rule_called(name: &str, say: Say) -> String {
    RuleId::read(name).map_or_else(|| name.to_owned(), |rule| rule.said(say))
}

/// Who said so, in brackets.
pub(super) fn by(who: &str, say: Say) -> String {
    if who.is_empty() { String::new() } else { say!(say, BY, who) }
}

fn accepted_in_vain(vain: &InVain, say: Say) -> String {
    let why = match &vain.doubt {
        Some((one, other)) => {
            let quoted = |text: String| format!("{text:?}");
            let word = quoted(one.to_string());
            say!(say, CAN_MEAN_TWO, word, one = quoted(one.spelt()), other = quoted(other.spelt()))
        }
        None => say.word(DOES_NOT_FAIL),
    };
    let items = say.list(&vain.items, things::AND);
    say!(say, ACCEPTED_IN_VAIN, rule = rule_called(&vain.rule, say), items, by = by(&vain.by, say), why)
}

fn on_the_day(ready: &Ready, say: Say) -> String {
    match ready {
        Ready::NoMirrors => say.word(NO_MIRRORS),
        Ready::Line(line) => line.to_string(),
        Ready::IfMadeFor(market, lines) => {
            say!(say, IF_MADE_FOR, market, lines = say.list(lines, things::SEMICOLON))
        }
        Ready::Valid { from, until } => {
            let from = from.as_ref().map_or(String::new(), |date| say!(say, FROM, date));
            let until = until.as_ref().map_or(String::new(), |date| say!(say, UNTIL, date));
            say!(say, VALID, from, until)
        }
        Ready::WriteDown(line) => say!(say, WRITE_DOWN, line),
        Ready::Printed { figure, as_is } => say!(say, PRINTED, figure, as_is),
        Ready::Light(note) => say!(say, LIGHT, note),
        Ready::Floor(note) => say!(say, FLOOR, note),
        Ready::Surroundings(note) => say!(say, SURROUNDINGS, note),
        Ready::Nobody(zone) => say!(say, NOBODY, zone),
        Ready::Drive(leg) => drive(leg, say),
        Ready::Sun { at, sun } => sunlight(at, sun, say),
        Ready::Lamps(target, lux) => say!(say, LAMPS, target, lux = format!("{lux:.0}")),
        Ready::LeftOut(name, why) => say!(say, LEFT_OUT, name, why = left_out(why, say)),
        Ready::NoSensor(sensor) => say!(say, NO_SENSOR, sensor),
        Ready::NoProcedure => say.word(NO_PROCEDURE),
        Ready::NoneApplies => say.word(NONE_APPLIES),
        Ready::SetsNothingUp(procedure) => say!(say, SETS_NOTHING_UP, procedure),
        Ready::NothingOf(procedure, out) => {
            let each = out.iter().map(|(name, why)| say!(say, NAMED, name, why = left_out(why, say)));
            say!(say, NOTHING_OF, procedure, why = say.list(each, things::SEMICOLON))
        }
    }
}

fn drive(leg: &Drive, say: Say) -> String {
    let whole = |mm: f64| format!("{:.0}", mm.abs());
    let mut way = Vec::new();
    if leg.ahead != 0.0 {
        let phrase = if leg.ahead < 0.0 { DRIVE_BACK } else { DRIVE_FORWARD };
        way.push(say!(say, phrase, mm = whole(leg.ahead)));
    }
    if leg.left != 0.0 {
        let phrase = if leg.left < 0.0 { BRING_RIGHT } else { BRING_LEFT };
        way.push(say!(say, phrase, mm = whole(leg.left)));
    }
    if leg.turn != 0.0 {
        let phrase = if leg.turn < 0.0 { TURN_CLOCKWISE } else { TURN_ANTICLOCKWISE };
        way.push(say!(say, phrase, deg = format!("{:.1}", leg.turn.abs())));
    }
    let way = say.list(way, things::COMMA);
    let after = leg.after.as_ref().map_or_else(|| say.word(BEFORE_THE_FIRST), |s| s.to_string());
    let (setup, targets) = (&leg.setup, say.list(&leg.leave, things::COMMA));
    let phrase = match (leg.leave.is_empty(), leg.stays()) {
        (true, _) => DRIVE,
        (false, true) => LEAVE,
        (false, false) => LEAVE_AND_DRIVE,
    };
    say!(say, phrase, after, setup, targets, way)
}

fn sunlight(when: &str, sun: &Sun, say: Say) -> String {
    let stands = |elevation: f64, compass: f64| {
        let up = elevation > 0.0;
        let (deg, compass) = (format!("{elevation:.1}"), format!("{compass:.0}"));
        say!(say, if up { SUN_UP } else { SUN_DOWN }, when, deg, compass)
    };
    match sun {
        Sun::Unknown(missing) => {
            say!(
                say,
                SUN_UNKNOWN,
                when,
                figures = say.list(missing.0.iter().map(|l| lack(l, say)), things::AND)
            )
        }
        Sun::Nowhere(elevation, compass) => say!(say, SUN_NOWHERE, sun = stands(*elevation, *compass)),
        Sun::Through { elevation, compass, opening, on } => {
            let opening = thing(opening, say);
            let lit = on.iter().map(|(name, setup)| say!(say, LIT, name, setup));
            let phrase = if on.is_empty() { ON_NOTHING } else { ON_THESE };
            let place = say!(say, phrase, opening, things = say.list(lit, things::COMMA));
            say!(say, SUN_SHINES, sun = stands(*elevation, *compass), place)
        }
    }
}

/// Why a setup or station does not apply.
pub fn left_out(why: &WhyLeftOut, say: Say) -> String {
    match why {
        WhyLeftOut::OnlyWith(variants) => say!(say, ONLY_WITH, variants = say.list(variants, things::OR)),
        WhyLeftOut::OnlyWhere(sensor, sits) => {
            let phrase: Phrase = match sits {
                Sits::Left => ONLY_LEFT,
                Sits::Middle => ONLY_MIDDLE,
                Sits::Right => ONLY_RIGHT,
            };
            say!(say, phrase, sensor)
        }
        WhyLeftOut::StaysFrom(setup) => say!(say, STAYS_FROM, setup),
    }
}
