//! One figure, one number: over the demonstration and jobs made from it at random.

use std::path::Path;
use std::sync::Arc;

use super::figures::{Show, least};
use super::{json, label, text, words};
use crate::advice::Advice;
use crate::checks::wording::notes;
use crate::checks::{Finding, Judgement, Outcome, RuleId, Unit, check};
use crate::files::open_job;
use crate::layout::{Layout, Stance};
use crate::model::Bundle;
use crate::report::Say;

/// A row of numbers that looks like chance and is the same every time.
struct Chance(u64);

impl Chance {
    /// From 0 up to 1.
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    fn within(&mut self, lo: f64, hi: f64) -> f64 {
        lo + (hi - lo) * self.next()
    }
}

fn demo() -> Vec<Bundle> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo/jobs");
    let mut jobs: Vec<_> = std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
    jobs.sort();
    assert!(jobs.len() >= 14);
    jobs.iter().map(|j| open_job(j).unwrap().bundle).collect()
}

/// Every demo job as it is, then turned, shifted and with other needs of the shop, whole and broken ones.
fn each(mut judge: impl FnMut(&Layout, &Judgement)) {
    let mut chance = Chance(20_261_201);
    for mut bundle in demo() {
        let layout = Layout::new(&bundle).unwrap();
        judge(&layout, &check(&layout));
        for round in 0..12 {
            let rules = &mut Arc::make_mut(&mut bundle.job).rules;
            rules.walk_around = match round % 4 {
                0 => Some(609.6),
                1 => Some(chance.within(0.0, 900.0)),
                2 => Some(0.0),
                _ => None,
            };
            rules.clearance = (round % 3 == 0).then(|| chance.within(0.0, 200.0));
            rules.level = (round % 3 == 1).then(|| chance.within(0.0, 9.0));
            let here = Layout::new(&bundle).unwrap();
            let s = here.stance;
            let stance = Stance {
                x: s.x + chance.within(-400.0, 400.0),
                y: s.y + chance.within(-900.0, 900.0),
                heading: s.heading + chance.within(-4.0, 4.0),
            };
            let there = here.at(stance);
            judge(&there, &check(&there));
        }
    }
}

/// The numbers of a text in front of a unit, or all of them.
fn numbers(text: &str, unit: Option<&str>) -> Vec<f64> {
    let plain = text.replace(['\u{a0}', '\u{202f}'], "");
    let is_part = |c: char| c.is_ascii_digit() || c == '.';
    let mut found = Vec::new();
    let mut rest = plain.as_str();
    while let Some(at) = rest.find(|c: char| c.is_ascii_digit()) {
        let end = rest[at..].find(|c| !is_part(c)).map_or(rest.len(), |e| at + e);
        let sign = if rest[..at].ends_with('-') { -1.0 } else { 1.0 };
        if unit.is_none_or(|u| rest[end..].starts_with(u))
            && let Ok(number) = rest[at..end].trim_end_matches('.').parse::<f64>()
        {
            found.push(sign * number);
        }
        rest = &rest[end..];
    }
    found
}

/// "-0", "-0.0" and the like, but not "-0.5".
fn has_negative_zero(text: &str) -> bool {
    let mut rest = text;
    while let Some(at) = rest.find("-0") {
        let tail = &rest[at + 1..];
        let end = tail.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(tail.len());
        if tail[..end].trim_end_matches('.').parse::<f64>() == Ok(0.0) {
            return true;
        }
        rest = &rest[at + 2..];
    }
    false
}

/// What may be shown of a finding in mm, worked out here by hand: what is there, what is asked, and the margin, to the step
/// that what is asked is given in.
struct Shown {
    have: f64,
    need: f64,
    margin: f64,
}

impl Shown {
    fn of(f: &Finding) -> Option<Shown> {
        let (have, need, margin) = (f.have?, f.need?, f.margin?);
        if f.unit != Unit::Mm || matches!(f.rule, RuleId::Measured | RuleId::CheckLength | RuleId::Equipment)
        {
            return None;
        }
        let whole = |step: f64| ((need / step) - (need / step).round()).abs() < 1e-4;
        let steps: &[f64] = match f.rule {
            RuleId::Level => &[0.1, 0.01, 0.001],
            RuleId::OnLift if need > 0.0 => &[0.1, 0.01, 0.001],
            _ => &[1.0, 0.1, 0.01, 0.001],
        };
        let step = steps.iter().copied().find(|s| whole(*s)).unwrap_or(0.001);
        let down = |v: f64| (v / step + 1e-6).floor() * step;
        let limit = f.rule == RuleId::Level
            || (need - have.abs() - margin).abs() < 1e-5 && (have - need - margin).abs() > 1e-5;
        let have = if limit { -down(-have.abs()) } else { down(have) };
        Some(Shown { have, need: (need / step).round() * step, margin: down(margin) })
    }

    fn has(&self, number: f64) -> bool {
        [self.have, self.need, self.margin].iter().any(|v| (number.abs() - v.abs()).abs() < 1e-4)
    }
}

#[test]
fn title_card_label_page_and_json_show_one_number() {
    let mut seen = 0;
    each(|layout, judgement| {
        let page = text::check(layout, judgement, &Advice::default(), Say::PLAIN);
        let json: serde_json::Value =
            serde_json::from_str(&json::check(layout, judgement, &Advice::default(), None, true)).unwrap();
        for (i, f) in judgement.findings.iter().enumerate() {
            let title = words::title(f, layout, Say::PLAIN);
            let line = words::figures(f, Say::PLAIN);
            assert_eq!(json["findings"][i]["text"], *title);
            let worst = matches!(f.outcome, Outcome::Fail | Outcome::Movable | Outcome::Tight);
            if worst {
                let told = line.as_ref().map_or(title.clone(), |line| format!("{title} ({line})"));
                assert!(page.contains(&told), "{told}\n{page}");
            }
            let Some(shown) = Shown::of(f) else { continue };
            // what a rule's own note says stands beside the figures
            let note = f.note.as_ref().map_or("no note".into(), |n| notes::note(n, Say::PLAIN));
            let feet = words::title(f, layout, Say::english(Show::FeetInches)).replace(&note, "");
            let spoken = [title.replace(&note, ""), line.unwrap_or_default(), feet];
            for text in &spoken {
                for number in numbers(text, Some(" mm")) {
                    seen += 1;
                    assert!(shown.has(number), "{number} in {text:?}: {f:?}");
                }
            }
            let label = label::label(f, Say::PLAIN);
            for number in numbers(&label, None) {
                assert!(shown.has(number), "{number} in {label:?}: {f:?}");
            }
            let margin = f.margin.unwrap();
            assert!(shown.margin <= margin + 1e-5 && shown.margin > margin - 1.0);
        }
    });
    assert!(seen > 10_000, "{seen}");
}

#[test]
fn nothing_is_made_better_by_rounding_and_zero_has_no_sign() {
    each(|layout, judgement| {
        for show in [Say::PLAIN, Say::english(Show::FeetInches)] {
            assert!(!has_negative_zero(&text::check(layout, judgement, &Advice::default(), show)));
            for f in &judgement.findings {
                let texts = [
                    words::title(f, layout, show),
                    words::figures(f, show).unwrap_or_default(),
                    label::label(f, show),
                ];
                for text in texts {
                    assert!(!has_negative_zero(&text), "{text}");
                }
                if let (Unit::Deg, Some(margin), RuleId::InView) = (f.unit, f.margin, f.rule) {
                    for deg in numbers(&words::title(f, layout, show), Some("°")) {
                        let fair = if margin < 0.0 { deg >= -margin - 1e-6 } else { deg <= margin + 1e-6 };
                        assert!(fair, "{deg}° for {margin}");
                    }
                }
            }
            let (Some(said), Some(margin)) = (least(judgement, show), judgement.margin) else { continue };
            let binding = &judgement.findings[judgement.binding.unwrap()];
            // the last number is the binding finding's own
            let shown = *numbers(&said, Some(" mm")).last().unwrap();
            let fair = if margin < 0.0 { shown >= -margin - 1e-5 } else { shown <= margin + 1e-5 };
            assert!(fair, "{said} for {margin}");
            assert!(Shown::of(binding).is_none_or(|s| s.has(shown)), "{said}: {binding:?}");
            let limit = matches!(binding.rule, RuleId::Level);
            assert!(!limit || !said.ends_with("to spare"), "{said}");
        }
    });
}
