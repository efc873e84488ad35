//! What siting found, in sentences.

use crate::checks::wording::{all_of, thing, things};
use crate::checks::{Outcome, Verdict};
use crate::files::Unread;
use crate::layout::{Layout, Stance};
use crate::phrases::{Say, phrases, say};
use crate::report::Show;
use crate::report::words::headline as said;
use crate::siting::{Beside, Best, Between, Change, HeadingFound, Note, Shortfall, Siting, Swing, Tried};
use crate::units::{Round, format_fixed, format_spare, norm_deg};

phrases! { pub(super) in "siting";
    SLACK = "slack {mm} in any direction";
    NO_SLACK = "no slack: it touches";
    TO_SEE_TO = "; {n} more {n|thing|things} to see to there";
    VERDICT = "{verdict}:";
    THERE_IS_ROOM = "{verdict}; there is room";
    ROOM = "There is room";
    BUT_FAILS = ", but {n} {n|thing fails|things fail} there";
    FITS = "Fits";
    HEADLINE = "{fits} with {place}, {slack}, heading may be off by {deg} degrees{but}{and}";
    ONE_AFTER_OTHER = "Nothing in {bay} serves everything at once; {n} {n|place|places} to stand serve everything one after the other";
    NOTHING_FITS = "Nothing fits: {short}";
    NO_HEADING = "Nothing fits: no heading was tried";
    FLOOR_NONE_HERE = "Of these places none is level enough: the best is {mm} past its limit";
    FLOOR_NONE = "As far as the floor goes none is level enough: the best is {mm} past its limit";
    FLOOR_BEST_HERE = "Of these places the floor is best with {place}: within its limit by {mm}";
    FLOOR_BEST = "As far as the floor goes the floor is best with {place}: within its limit by {mm}";
    ALONG = "{mm} short along the vehicle";
    ACROSS = "{mm} short across";
    ACROSS_RIGHT = "{mm} short across (growing to its right)";
    ACROSS_LEFT = "{mm} short across (growing to its left)";
    OR = ", or ";
    NO_GROWTH = "no growth in one direction alone would be enough";
    BINDS = "{short}; it binds between {things}";
    EDGE = "the floor's edge";
    PLACE = "the front axle's middle {x} from the left edge line, {y} into the bay, {turn}";
    WITH_SLACK = "{place}, slack {slack}";
    NOSE_IN = "nose in";
    BACKED_IN = "backed in";
    HEADING = "heading {deg} degrees";
    USE = "use {bay}";
    OPEN = "open {door}";
    TURN_ROUND = "turn round: drive in the other way";
    CLEAR = "clear {thing}";
    CLEAR_BY = "clear {thing}: {how}";
    MOVE = "move between setups: {n} places to stand";
    MOVE_WITHIN = "move between the setups of {procedure}: {n} places to stand; its text does not allow it";
    MOVE_IN_VAIN = "move between the setups of {procedure}; its text does not allow it";
    FITS_THEN = "{change}: fits, {turn}, slack {slack}";
    NO_HELP = "{change}: does not help by itself";
    AREA = "{turn}: room to stand of {area} m², best {x} / {y}, slack {slack}";
    MISS = "{turn}: nowhere; nearest miss {mm} at {x} / {y} ({binds})";
    NOWHERE = "{turn}: nowhere";
    SWING = "{left} degrees to the left, {right} to the right";
    CLOSELY = "shortfall and several places to stand were looked for at {of} of {all} headings";
    ONE_BY_ONE = "{n} groups of setups: places to stand were found one after the other, perhaps not the fewest";
    UNREAD = "not looked at beside this job: {what}";
    LARGE = "{n} {n|file|files} larger than {kib} KiB";
    REST = "what was left after {n} files or {seconds} s";
    AND = ", and ";
}

/// Where the vehicle stands, or by how much nothing fits: one sentence.
pub fn headline(found: &Siting, say: Say) -> String {
    let bay = &found.layout.bundle.bay.name;
    if let Some(best) = &found.best {
        let (place, swing) = (best.place, best.swing);
        let slack = match place.slack {
            slack if slack >= 1.0 => say!(say, SLACK, mm = say.down(place.slack_down())),
            _ => say.word(NO_SLACK),
        };
        let fails = best.also.iter().filter(|f| f.outcome == Outcome::Fail).count();
        let unknown = best.also.iter().filter(|f| f.outcome == Outcome::Unknown).count();
        let rest = best.also.len() - fails - if fails == 0 { unknown } else { 0 };
        let and = if rest == 0 { String::new() } else { say!(say, TO_SEE_TO, n = rest) };
        // what the search does not look at may still fail, or not be known, where it found room
        let verdict = found.judgement.as_ref().map(|j| (j.verdict, j));
        let (fits, but) = match verdict {
            Some((Verdict::FitsIf, j)) => (say!(say, VERDICT, verdict = said(j, say)), String::new()),
            Some((Verdict::NotKnown, j)) => (say!(say, THERE_IS_ROOM, verdict = said(j, say)), String::new()),
            Some((Verdict::DoesNotFit, _)) => (say.word(ROOM), say!(say, BUT_FAILS, n = fails)),
            _ => (say.word(FITS), String::new()),
        };
        let deg = format_fixed(swing.left.min(swing.right), 1, Round::Down);
        return say!(say, HEADLINE, fits, place = self::place(&place.stance, say), slack, deg, but, and);
    }
    if found.poses.len() > 1 && found.unserved.is_empty() {
        return say!(say, ONE_AFTER_OTHER, bay, n = found.poses.len());
    }
    match found.shortfall.as_ref().map(|s| shortfall(s, say)) {
        Some(short) => say!(say, NOTHING_FITS, short),
        None => say.word(NO_HEADING),
    }
}

/// Where the floor is best, and how much is left there. `within`: of the places where everything else fits.
pub fn floor((stance, margin): &(Stance, f64), within: bool, say: Say) -> String {
    let mm = format_spare(*margin, say.show == Show::FeetInches);
    let phrase = match (*margin < 0.0, within) {
        (true, true) => FLOOR_NONE_HERE,
        (true, false) => FLOOR_NONE,
        (false, true) => FLOOR_BEST_HERE,
        (false, false) => FLOOR_BEST,
    };
    say!(say, phrase, mm, place = self::place(stance, say))
}

/// "300 mm short along", "100 mm short across (to the right)", or that growing helps neither way.
pub fn shortfall(short: &Shortfall, say: Say) -> String {
    let along = short.along.map(|mm| say!(say, ALONG, mm = say.up(mm)));
    let across = short.across.map(|mm| {
        let phrase = match short.across_side {
            None => ACROSS,
            Some(Beside::Right) => ACROSS_RIGHT,
            Some(Beside::Left) => ACROSS_LEFT,
        };
        say!(say, phrase, mm = say.up(mm))
    });
    let both: Vec<String> = [along, across].into_iter().flatten().collect();
    let told = if both.is_empty() { say.word(NO_GROWTH) } else { say.list(both, OR) };
    if short.binding.is_empty() {
        return told;
    }
    say!(say, BINDS, short = told, things = say.list(all_between(&short.binding, say), things::COMMA))
}

/// Two things that a rule holds apart.
pub fn between(between: &Between, say: Say) -> String {
    let still = |at: usize| between.items.get(at).map_or_else(|| say.word(EDGE), |i| thing(i, say));
    match (between.rule.rule().wording.pair)(&between.items) {
        Some(phrase) => say!(say, phrase, moving = still(0), still = still(1)),
        None if between.items.len() < 2 => say.list([still(0), still(1)], things::AND),
        None => all_of(&between.items, things::AND, say),
    }
}

/// Several, each once.
pub(super) fn all_between(all: &[Between], say: Say) -> Vec<String> {
    let mut told: Vec<String> = Vec::new();
    for one in all.iter().map(|b| between(b, say)) {
        if !told.contains(&one) {
            told.push(one);
        }
    }
    told
}

/// "the front axle's middle 2750 mm from the left edge line, 4120 mm into the bay, nose in".
pub fn place(stance: &Stance, say: Say) -> String {
    say!(say, PLACE, x = say.one(stance.x), y = say.one(stance.y), turn = turn(stance.heading, say))
}

/// The best place in whole figures, with the slack it has.
pub(super) fn proposed(best: &Best, say: Say) -> String {
    let slack = say.down(best.proposed.slack_down());
    say!(say, WITH_SLACK, place = place(&best.proposed.stance, say), slack)
}

/// "nose in", "backed in", or the heading in degrees.
pub fn turn(heading: f64, say: Say) -> String {
    match norm_deg(heading) {
        0.0 => say.word(NOSE_IN),
        180.0 => say.word(BACKED_IN),
        h => say!(say, HEADING, deg = format!("{h:.2}")),
    }
}

/// A change as a request: "clear tool cabinet".
pub fn to_do(tried: &Tried, layout: &Layout, say: Say) -> String {
    let bundle = &layout.bundle;
    let n = tried.stands.len();
    match &tried.change {
        Change::Clear(thing) => {
            let fixture = bundle.bay.fixtures.iter().find(|f| *f.name.text == **thing);
            match fixture.and_then(|f| f.clear_by.as_ref()) {
                Some(how) => say!(say, CLEAR_BY, thing, how),
                None => say!(say, CLEAR, thing),
            }
        }
        Change::Open(door) => say!(say, OPEN, door),
        Change::TurnRound => say.word(TURN_ROUND),
        Change::Move(None) => say!(say, MOVE, n),
        Change::Move(Some(p)) => {
            let phrase = if tried.place.is_some() { MOVE_WITHIN } else { MOVE_IN_VAIN };
            say!(say, phrase, procedure = bundle.procedures[*p].name, n)
        }
        Change::UseBay(_, bay) => say!(say, USE, bay = bay.name),
    }
}

/// A change with what comes of it.
pub fn change(tried: &Tried, layout: &Layout, say: Say) -> String {
    let change = to_do(tried, layout, say);
    match tried.place {
        Some(place) => {
            let (turn, slack) = (turn(place.stance.heading, say), say.down(place.slack_down()));
            say!(say, FITS_THEN, change, turn, slack)
        }
        None => say!(say, NO_HELP, change),
    }
}

/// What one heading gives.
pub(super) fn heading(found: &HeadingFound, say: Say) -> String {
    let turn = turn(found.heading, say);
    let at = |stance: &Stance| (say.one(stance.x), say.one(stance.y));
    match (&found.best, &found.miss) {
        (Some(best), _) => {
            let area = format!("{:.3}", found.allowed.area / 1e6);
            let (x, y) = at(&best.stance);
            say!(say, AREA, turn, area, x, y, slack = say.down(best.slack_down()))
        }
        (None, Some((miss, binds))) => {
            let binds = binds.as_ref().map_or_else(String::new, |b| between(b, say));
            let (x, y) = at(&miss.stance);
            say!(say, MISS, turn, mm = say.up(-miss.slack), x, y, binds)
        }
        (None, None) => say!(say, NOWHERE, turn),
    }
}

/// How far the heading may be off each way.
pub(super) fn swing(swing: &Swing, say: Say) -> String {
    let down = |deg| format_fixed(deg, 2, Round::Down);
    say!(say, SWING, left = down(swing.left), right = down(swing.right))
}

/// What was left out of the search.
pub(super) fn note(note: &Note, say: Say) -> String {
    match note {
        Note::Closely { of, all } => say!(say, CLOSELY, of, all),
        Note::OneByOne(n) => say!(say, ONE_BY_ONE, n),
        Note::Unread(what) => unread(what, say),
    }
}

/// What lies beside a job and was not looked at.
pub fn unread(what: &Unread, say: Say) -> String {
    let large = (what.large > 0).then(|| say!(say, LARGE, n = what.large, kib = what.kib));
    let rest = what.rest.map(|(n, seconds)| say!(say, REST, n, seconds));
    say!(say, UNREAD, what = say.list(large.into_iter().chain(rest), AND))
}
