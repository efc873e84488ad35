//! A finding's figures in few words: the line under a card's title, and the label on the plan. One wording for both.

use super::figures::Figures;
use crate::checks::wording::{lack, thing};
use crate::checks::{Finding, Unit};
use crate::geometry::NOISE_MM;
use crate::phrases::{Say, phrases, say};

phrases! { pub in "label";
    NOTHING_LEFT = "nothing left";
    LEFT = "{left} left";
    ALLOWS = "allows {need}, has {have}";
    NEEDS = "needs {need}, has {have}";
    OVERLAPS = "needs {need}, overlaps by {depth}";
    NOT_KNOWN = "not known: {what}";
    NOT_KNOWN_AND_MORE = "not known: {what} and {n} more";
}

/// "needs 100 mm, has 12 mm"; nothing where the title says all: where nothing to spare is asked, or a size is told.
pub fn line(finding: &Finding, say: Say) -> Option<String> {
    let size = finding.rule.rule().wording.title_tells && finding.unit == Unit::Mm;
    match (finding.have, finding.need) {
        (Some(_), Some(need)) if !size && need != 0.0 => {
            Some(asked(finding, &Figures::of(finding, say.show), say))
        }
        _ => None,
    }
}

/// What a finding's dimension on the plan says: the same, bare; "145 inside"; or what is not known.
pub fn label(finding: &Finding, say: Say) -> String {
    let figures = Figures::of(finding, say.show).bare();
    let (have, need) = match (finding.have, finding.need) {
        (Some(have), Some(need)) => (have, need),
        _ => return lacking(finding, say),
    };
    if need != 0.0 || matches!(finding.unit, Unit::Count | Unit::Other(_)) {
        return asked(finding, &figures, say);
    }
    match have {
        have if have.abs() <= NOISE_MM => say.word(NOTHING_LEFT),
        have if have > 0.0 => say!(say, LEFT, left = figures.left()),
        _ => say!(say, finding.rule.rule().wording.past, over = figures.depth()),
    }
}

fn asked(finding: &Finding, figures: &Figures, say: Say) -> String {
    let overlaps = finding.have.is_some_and(|h| h < -NOISE_MM);
    let phrase = match finding.rule.rule().wording.told {
        Some(told) => told,
        _ if figures.is_limit() => ALLOWS,
        _ if overlaps && finding.unit == Unit::Mm => OVERLAPS,
        _ => NEEDS,
    };
    say!(say, phrase, have = figures.have(), need = figures.need(), depth = figures.depth())
}

fn lacking(finding: &Finding, say: Say) -> String {
    if let Some(bare) = (finding.rule.rule().wording.bare)(finding) {
        return say.word(bare);
    }
    match &finding.missing[..] {
        [] => match finding.items.first() {
            Some(item) => say!(say, NOT_KNOWN, what = thing(item, say)),
            None => finding.rule.said(say).replace('-', " "),
        },
        [one] => say!(say, NOT_KNOWN, what = lack(one, say)),
        [one, rest @ ..] => say!(say, NOT_KNOWN_AND_MORE, what = lack(one, say), n = rest.len()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::{Outcome, RuleId};
    use crate::model::{Item, ItemKind, Lack};
    use crate::report::Show;

    fn found(rule: RuleId, have: f64, need: f64, margin: f64) -> Finding {
        Finding {
            have: Some(have),
            need: Some(need),
            margin: Some(margin),
            ..Finding::new(rule, if margin < 0.0 { Outcome::Fail } else { Outcome::Pass })
        }
    }

    #[test]
    fn labels_say_what_is_wrong() {
        let room = |rule, have: f64, need: f64| label(&found(rule, have, need, have - need), Say::PLAIN);
        for (said, wanted) in [
            (room(RuleId::TargetClear, 12.0, 100.0), "needs 100, has 12"),
            (room(RuleId::TargetClear, 99.6, 100.0), "needs 100, has 99"),
            (room(RuleId::TargetClear, 512.43, 609.6), "needs 609.6, has 512.4"),
            (room(RuleId::ClearZone, -144.2, 0.0), "145 inside"),
            (room(RuleId::VehicleClear, -19.2, 600.0), "needs 600, overlaps by 20"),
            (room(RuleId::KeepClear, -20.0, 0.0), "overlaps by 20"),
            (room(RuleId::KeepClear, 7.9, 0.0), "7 left"),
            (room(RuleId::KeepClear, -0.0, 0.0), "nothing left"),
            (room(RuleId::Doorway, -39.5, 0.0), "40 short"),
            (room(RuleId::FloorLine, 3999.5, 4000.0), "needs 4\u{202f}000, has 3\u{202f}999"),
        ] {
            assert_eq!(said, wanted);
        }
        let unknown =
            Finding { missing: vec![Lack::RearToe], ..Finding::new(RuleId::Measured, Outcome::Unknown) };
        assert_eq!(label(&unknown, Say::PLAIN), "not known: rear toe");
        let no_way = |outcome| Finding {
            items: vec![Item::only(ItemKind::Vehicle)],
            ..Finding::new(RuleId::DriveIn, outcome)
        };
        assert_eq!(label(&no_way(Outcome::Fail), Say::PLAIN), "cannot be driven in");
        assert_eq!(label(&no_way(Outcome::Unknown), Say::PLAIN), "not known: vehicle");
    }

    #[test]
    fn what_is_allowed_is_no_need() {
        // 25 off the lift's middle line, 20 are allowed; 31 mm are 19.5 sixteenths of an inch, 20 mm 12.6
        let lift = found(RuleId::OnLift, 30.02, 20.0, -10.02);
        assert_eq!(label(&lift, Say::PLAIN), "allows 20.0, has 30.1");
        assert_eq!(line(&lift, Say::PLAIN).unwrap(), "allows 20.0 mm, has 30.1 mm");
        assert_eq!(label(&lift, Say::english(Show::FeetInches)), "allows 13/16\", has 1-3/16\"");
        let items = ["lamp", "end wall", "along"].map(|name| Item::new(ItemKind::Words, name)).to_vec();
        let wall = Finding { items, ..found(RuleId::FixedPlace, -12.3, 5.0, -7.3) };
        assert_eq!(label(&wall, Say::PLAIN), "allows 5, has 13");
        let level = found(RuleId::Level, 4.97, 5.0, 0.03);
        assert_eq!(label(&found(RuleId::Level, 5.0, 5.0, 0.0), Say::PLAIN), "allows 5.0, has 5.0");
        assert_eq!(line(&level, Say::PLAIN).unwrap(), "allows 5.0 mm, has 5.0 mm");
    }

    #[test]
    fn in_feet_and_inches_what_fails_never_looks_as_if_it_passed() {
        let near = |have: f64| found(RuleId::TargetClear, have, 609.6, have - 609.6);
        assert_eq!(label(&near(304.8), Say::english(Show::FeetInches)), "needs 2' 0\", has 1' 0\"");
        assert_eq!(label(&near(609.2), Say::english(Show::FeetInches)), "needs 2' 0\", has 1' 11-15/16\"");
        assert_eq!(
            line(&near(609.2), Say::english(Show::FeetInches)).unwrap(),
            "needs 2' 0\" (609.6 mm), has 1' 11-15/16\" (609.2 mm)"
        );
    }
}
