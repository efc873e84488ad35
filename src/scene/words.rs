//! Figures and short texts on the plan.

use crate::checks::{Finding, RuleId, Unit};

/// A length in whole mm, thousands parted by a thin space.
pub fn mm(length: f64) -> String {
    if !length.is_finite() {
        return "-".into();
    }
    let whole = format!("{:.0}", length.abs());
    let mut out = String::with_capacity(whole.len() + 6);
    if length <= -0.5 {
        out.push('\u{2212}');
    }
    for (i, digit) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i).is_multiple_of(3) {
            out.push('\u{202f}');
        }
        out.push(digit);
    }
    out
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
    // a zone has things in it; everything else has things too near
    if have < -0.5 && f.rule == RuleId::ClearZone {
        format!("{} inside", mm(-have))
    } else if have < -0.5 && need <= 0.5 {
        format!("overlaps by {}", mm(-have))
    } else if have < -0.5 {
        format!("overlaps by {}, needs {}", mm(-have), mm(need))
    } else if f.rule == RuleId::Headroom {
        format!("headroom {}, needs {}", mm(have), mm(need))
    } else {
        format!("has {}, needs {}", mm(have), mm(need))
    }
}

fn lacking(f: &Finding) -> String {
    match &f.missing[..] {
        [] => f.rule.word().replace('-', " "),
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
        assert_eq!(mm(-0.4), "0");
        assert_eq!(mm(999.6), "1\u{202f}000");
        assert_eq!(mm(12000.0), "12\u{202f}000");
        assert_eq!(mm(-1234567.0), "\u{2212}1\u{202f}234\u{202f}567");
        assert_eq!(mm(f64::INFINITY), "-");
    }

    #[test]
    fn figures_say_what_is_wrong() {
        let say = |rule, have, need| {
            figure(&Finding {
                have: Some(have),
                need: Some(need),
                ..Finding::new(rule, Outcome::Fail)
            })
        };
        assert_eq!(say(RuleId::TargetClear, 12.0, 100.0), "has 12, needs 100");
        assert_eq!(say(RuleId::ClearZone, -145.0, 0.0), "145 inside");
        assert_eq!(say(RuleId::VehicleClear, -20.0, 600.0), "overlaps by 20, needs 600");
        assert_eq!(say(RuleId::KeepClear, -20.0, 0.0), "overlaps by 20");
        let unknown = Finding {
            missing: vec!["distance".into()],
            ..Finding::new(RuleId::Measured, Outcome::Unknown)
        };
        assert_eq!(figure(&unknown), "not known: distance");
    }
}
