//! Conditions, what stands against a way, and remedies, in words.

use super::notes::{by, rule_called};
use super::{all_of, lacks_all, thing, things};
use crate::checks::figures::Show;
use crate::checks::note::{Against, By, Condition, Lacks, Remedy};
use crate::phrases::{Say, capital, phrases, say};
use crate::units::{Round, format_fixed};

phrases! { pub in "outcome";
    CLEAR_BY = "{thing}: {how}";
    MOVE = "move {thing} out of the way";
    IS_CLEARED = "{thing} is out of the way";
    STAYS_OPEN = "{door} stays open";
    ACCEPTED = "accepted: {rule} of {items}: {reason}{by}";
    NO_REASON = "no reason given";
    WAY_NONE_APPLIES = "none of its setups applies to this vehicle and variant";
    WAY_FAILS = "{rule} fails for {items}{by}";
    WAY_FAILS_IN = "{setup}: {rule} fails for {items}{by}";
    WAY_BY = " by {length}";
    WAY_BY_DEGREES = " by {deg} degrees";
    WAY_SHORT = ", {n} short";
    WAY_NOT_KNOWN = "{rule} is not known: {lacks}";
    WAY_UNDECIDED = "whether it applies is not known: {lacks}";
    WAY_NOTHING = "nothing is set up in it";
    CLOSE_BLIND = "Close a blind over {thing}";
    SWITCH_OFF = "Switch {thing} off";
    COVER = "Cover {thing}";
    CLEAR_OR_OTHER_BAY = "Clear {thing}, or use another bay";
    CLEAR_IT_OR_OTHER_BAY = "Clear it, or use another bay";
    SAY_HOW_MANY_OWNED = "Say in the equipment file how many are `owned`";
    CHOOSE_PROCEDURE = "Choose a procedure for this vehicle";
    CHOOSE_OTHER = "Choose another variant, way or procedure, or look up the sensors it depends on";
    LOOK_UP_HEIGHT = "Look up the height of this target again, and which edge of its face it is of";
}

/// What must be done or stay.
pub fn condition(condition: &Condition, say: Say) -> String {
    match condition {
        Condition::Move { name, by: Some(how) } | Condition::IsCleared { name, by: Some(how) } => {
            say!(say, CLEAR_BY, thing = name, how)
        }
        Condition::Move { name, by: None } => say!(say, MOVE, thing = name),
        Condition::IsCleared { name, by: None } => say!(say, IS_CLEARED, thing = name),
        Condition::StaysOpen(door) => say!(say, STAYS_OPEN, door),
        Condition::Accepted { rule, items, reason, by: who } => {
            let reason = if reason.is_empty() { say.word(NO_REASON) } else { reason.to_string() };
            let (rule, items) = (rule_called(rule, say), say.list(items, things::AND));
            say!(say, ACCEPTED, rule, items, reason, by = by(who, say))
        }
    }
}

/// All of them, each a line.
pub fn conditions(all: &[Condition], say: Say) -> Vec<String> {
    all.iter().map(|c| condition(c, say)).collect()
}

/// What stands against a way.
pub fn against(against: &Against, say: Say) -> String {
    match against {
        Against::NoneApplies => say.word(WAY_NONE_APPLIES),
        Against::Fails { setup, rule, items, by } => {
            let by = match *by {
                By::Mm(mm) => say!(say, WAY_BY, length = Show::Mm.up(mm)),
                By::Deg(deg) => say!(say, WAY_BY_DEGREES, deg = format_fixed(deg, 2, Round::Up)),
                By::Pieces(n) => say!(say, WAY_SHORT, n = format_fixed(n, 0, Round::Up)),
                By::Untold => String::new(),
            };
            let (rule, items) = (rule.said(say), all_of(items, things::AND, say));
            match setup {
                Some(setup) => say!(say, WAY_FAILS_IN, setup, rule, items, by),
                None => say!(say, WAY_FAILS, rule, items, by),
            }
        }
        Against::NotKnown(rule, lacks) => {
            let lacks = match lacks {
                Lacks::Figures(missing) => lacks_all(&missing.0, say),
                Lacks::Items(items) => all_of(items, things::COMMA, say),
            };
            say!(say, WAY_NOT_KNOWN, rule = rule.said(say), lacks)
        }
        Against::Undecided(missing) => say!(say, WAY_UNDECIDED, lacks = lacks_all(&missing.0, say)),
        Against::NothingSetUp => say.word(WAY_NOTHING),
    }
}

/// What helps where no move of the job does.
pub fn remedy(remedy: &Remedy, say: Say) -> String {
    match remedy {
        Remedy::By { thing: item, how } => say!(say, CLEAR_BY, thing = capital(&thing(item, say)), how),
        Remedy::CloseBlind(item) => say!(say, CLOSE_BLIND, thing = thing(item, say)),
        Remedy::SwitchOff(item) => say!(say, SWITCH_OFF, thing = thing(item, say)),
        Remedy::Cover(item) => say!(say, COVER, thing = thing(item, say)),
        Remedy::Clear(Some(item)) => say!(say, CLEAR_OR_OTHER_BAY, thing = thing(item, say)),
        Remedy::Clear(None) => say.word(CLEAR_IT_OR_OTHER_BAY),
        Remedy::SayHowManyOwned => say.word(SAY_HOW_MANY_OWNED),
        Remedy::ChooseProcedure => say.word(CHOOSE_PROCEDURE),
        Remedy::ChooseOther => say.word(CHOOSE_OTHER),
        Remedy::LookUpHeight => say.word(LOOK_UP_HEIGHT),
    }
}
