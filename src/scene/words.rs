//! Figures and short texts on the plan.

use crate::checks::{Finding, Outcome, RuleId, Unit};
use crate::geometry::NOISE_MM;
use crate::units;

/// A length in whole mm, thousands parted by a thin space that does not break; or in feet and inches.
pub fn length(mm: f64, feet: bool) -> String {
    if feet { units::feet_inches(mm, 16).text } else { thin(units::format_mm(mm)) }
}

fn thin(text: String) -> String {
    text.replace('\u{a0}', "\u{202f}")
}

/// What a finding's dimension says: "has 12, needs 100", "145 inside".
pub fn figure(f: &Finding, feet: bool) -> String {
    let (Some(have), Some(need)) = (f.have, f.need) else {
        return lacking(f);
    };
    match f.unit {
        Unit::Mm => lengths(f, have, need, feet),
        Unit::Deg if f.rule == RuleId::FixedPlace => {
            format!("turned by {:.2}°, at most {need:.2}°", have.abs())
        }
        Unit::Deg => format!("has {have:.1}°, needs {need:.1}°"),
        Unit::Count => format!("has {have:.0}, needs {need:.0}"),
        Unit::Other(unit) => format!("has {have} {unit}, needs {need} {unit}"),
    }
}

fn lengths(f: &Finding, have: f64, need: f64, feet: bool) -> String {
    let (had, needed) = if feet { tape(have, need) } else { units::pair_to_show(have, need) };
    let (had, needed) = (thin(had), thin(needed));
    let over = had.trim_start_matches('-');
    // a miss counts both ways; room counts one way
    let misses = f.margin.is_some_and(|m| (m - (need - have.abs())).abs() <= NOISE_MM);
    match f.rule {
        RuleId::Level => format!("off level by {had}, at most {needed}"),
        RuleId::FixedPlace if misses => format!("off by {over}, at most {needed}"),
        RuleId::CheckLength => format!("is {had}, printed {needed}"),
        RuleId::FloorLine => format!("floor for {had}, needs {needed}"),
        RuleId::Doorway if have < 0.0 => format!("short by {over}"),
        RuleId::Doorway => format!("{had} left"),
        RuleId::Headroom if have >= 0.0 => format!("headroom {had}, needs {needed}"),
        _ if have >= 0.0 || over == "0" || over == "0\"" => format!("has {had}, needs {needed}"),
        RuleId::ClearZone => format!("{over} inside"),
        _ if need <= 0.0 => format!("overlaps by {over}"),
        _ => format!("overlaps by {over}, needs {needed}"),
    }
}

/// Two lengths in sixteenths of an inch, in mm where that would make them look alike.
fn tape(have: f64, need: f64) -> (String, String) {
    let [had, needed] = [have, need].map(|mm| units::feet_inches(mm, 16).text);
    if had == needed && have != need { units::pair_to_show(have, need) } else { (had, needed) }
}

fn lacking(f: &Finding) -> String {
    match (f.rule, f.outcome) {
        (_, Outcome::Unknown) => {}
        (RuleId::SightLine, _) => return "sight blocked".into(),
        (RuleId::DriveIn, Outcome::Fail) => return "cannot be driven in".into(),
        _ => {}
    }
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

    #[test]
    fn lengths_are_grouped() {
        assert_eq!(length(0.4, false), "0");
        assert_eq!(length(12000.0, false), "12\u{202f}000");
        assert_eq!(length(3657.6, true), "12' 0\"");
    }

    #[test]
    fn figures_say_what_is_wrong() {
        let say = |rule, have, need| {
            figure(
                &Finding { have: Some(have), need: Some(need), ..Finding::new(rule, Outcome::Fail) },
                false,
            )
        };
        assert_eq!(say(RuleId::TargetClear, 12.0, 100.0), "has 12, needs 100");
        assert_eq!(say(RuleId::TargetClear, 99.6, 100.0), "has 99.6, needs 100.0");
        assert_eq!(say(RuleId::ClearZone, -145.0, 0.0), "145 inside");
        assert_eq!(say(RuleId::VehicleClear, -20.0, 600.0), "overlaps by 20, needs 600");
        assert_eq!(say(RuleId::KeepClear, -20.0, 0.0), "overlaps by 20");
        let near = |have| Finding {
            have: Some(have),
            need: Some(609.6),
            ..Finding::new(RuleId::TargetClear, Outcome::Fail)
        };
        assert_eq!(figure(&near(304.8), true), "has 1' 0\", needs 2' 0\"");
        // less than a sixteenth short: the inches would look alike, so the millimetres speak
        assert_eq!(figure(&near(609.2), true), "has 609, needs 610");
        let unknown =
            Finding { missing: vec!["distance".into()], ..Finding::new(RuleId::Measured, Outcome::Unknown) };
        assert_eq!(figure(&unknown, false), "not known: distance");
        let no_way =
            |outcome| Finding { items: vec!["vehicle".into()], ..Finding::new(RuleId::DriveIn, outcome) };
        assert_eq!(figure(&no_way(Outcome::Fail), false), "cannot be driven in");
        assert_eq!(figure(&no_way(Outcome::Unknown), false), "not known: vehicle");
    }
}
