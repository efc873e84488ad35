//! Figures and short texts on the plan.

use crate::checks::{Finding, RuleId, Unit};
use crate::units;

/// A length in whole mm, thousands parted by a thin space that does not break.
pub fn mm(length: f64) -> String {
    thin(units::format_mm(length))
}

fn thin(text: String) -> String {
    text.replace('\u{a0}', "\u{202f}")
}

/// What a finding's dimension says: "has 12, needs 100", "145 inside".
pub fn figure(f: &Finding) -> String {
    let (Some(have), Some(need)) = (f.have, f.need) else {
        return lacking(f);
    };
    match f.unit {
        Unit::Mm => {}
        Unit::Deg => return format!("has {have:.1}°, needs {need:.1}°"),
        Unit::Count => return format!("has {have:.0}, needs {need:.0}"),
        Unit::Other(unit) => return format!("has {have} {unit}, needs {need} {unit}"),
    }
    let (had, needed) = units::pair_to_show(have, need);
    let (had, needed) = (thin(had), thin(needed));
    let over = had.trim_start_matches('-');
    // a zone has things in it; everything else has things too near
    if have >= 0.0 || over == "0" {
        let room = if f.rule == RuleId::Headroom { "headroom" } else { "has" };
        format!("{room} {had}, needs {needed}")
    } else if f.rule == RuleId::ClearZone {
        format!("{over} inside")
    } else if need <= 0.0 {
        format!("overlaps by {over}")
    } else {
        format!("overlaps by {over}, needs {needed}")
    }
}

fn lacking(f: &Finding) -> String {
    match &f.missing[..] {
        [] => match f.items.first() {
            Some(item) => format!("not known: {item}"),
            None => f.rule.word().replace('-', " "),
        },
        [one] => format!("not known: {one}"),
        [one, rest @ ..] => format!("not known: {one} and {} more", rest.len()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome;

    #[test]
    fn lengths_are_grouped() {
        assert_eq!(mm(0.4), "0");
        assert_eq!(mm(12000.0), "12\u{202f}000");
    }

    #[test]
    fn figures_say_what_is_wrong() {
        let say = |rule, have, need| {
            figure(&Finding { have: Some(have), need: Some(need), ..Finding::new(rule, Outcome::Fail) })
        };
        assert_eq!(say(RuleId::TargetClear, 12.0, 100.0), "has 12, needs 100");
        assert_eq!(say(RuleId::TargetClear, 99.6, 100.0), "has 99.6, needs 100.0");
        assert_eq!(say(RuleId::ClearZone, -145.0, 0.0), "145 inside");
        assert_eq!(say(RuleId::VehicleClear, -20.0, 600.0), "overlaps by 20, needs 600");
        assert_eq!(say(RuleId::KeepClear, -20.0, 0.0), "overlaps by 20");
        let unknown =
            Finding { missing: vec!["distance".into()], ..Finding::new(RuleId::Measured, Outcome::Unknown) };
        assert_eq!(figure(&unknown), "not known: distance");
    }
}
