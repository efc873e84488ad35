//! The figures of one finding: worked out once, so that title, card, page, JSON and the plan's label show the same.

pub use crate::units::Show;

use crate::checks::{Finding, Judgement, RuleId, Unit};
use crate::geometry::NOISE_MM;
use crate::units::{Put, Round, decimals_of, format_fixed, format_number};

/// What a finding's figures say of each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    /// As much as is asked must be there.
    Room,
    /// There may be no more than is allowed.
    Limit,
    /// Two figures that are only told.
    Told,
}

/// How a finding's figures are shown.
#[derive(Clone, Copy, Debug)]
pub struct Figures<'a> {
    finding: &'a Finding,
    kind: Kind,
    show: Show,
    put: Put,
}

impl<'a> Figures<'a> {
    pub fn of(finding: &'a Finding, show: Show) -> Figures<'a> {
        let kind = kind(finding);
        // a survey and a printed length are read to a tenth; else whole millimetres, but for what is asked in fractions
        let least = match finding.rule {
            RuleId::Level => 1,
            RuleId::OnLift if kind != Kind::Room => 1,
            _ => 0,
        };
        let of = |v: Option<f64>, most| v.map_or(0, |v| decimals_of(v, most));
        let decimals = match finding.rule {
            RuleId::CheckLength => 1,
            _ if kind == Kind::Told => of(finding.have, 2).max(of(finding.need, 2)),
            _ => of(finding.need, 3),
        };
        let put = Put { decimals: decimals.max(least), round: Round::Nearest, bare: false };
        Figures { finding, kind, show, put }
    }

    /// The same for the plan: bare of units where it leaves no doubt.
    pub fn bare(self) -> Figures<'a> {
        Figures { put: Put { bare: true, ..self.put }, ..self }
    }

    /// What may not be exceeded, rather than what must be there.
    pub fn is_limit(&self) -> bool {
        self.kind == Kind::Limit
    }

    /// What is there.
    pub fn have(&self) -> String {
        let have = self.finding.have.unwrap_or(0.0);
        match self.finding.unit {
            Unit::Mm if self.finding.need.is_some() => self.pair().0,
            // told without anything asked
            Unit::Mm => self.length(have, Round::Nearest),
            _ => self.plain(if self.is_limit() { have.abs() } else { have }, self.of_have()),
        }
    }

    /// What is asked or allowed.
    pub fn need(&self) -> String {
        let need = self.finding.need.unwrap_or(0.0);
        match self.finding.unit {
            Unit::Mm => self.pair().1,
            _ => self.plain(need, Round::Nearest),
        }
    }

    /// By how much it reaches into what it should be clear of: what is there, below zero, without its sign.
    pub fn depth(&self) -> String {
        let depth = -self.finding.have.unwrap_or(0.0);
        match self.finding.unit {
            Unit::Mm => self.length(depth, Round::Up),
            _ => self.plain(depth, Round::Up),
        }
    }

    /// What is lacking: never less than it is.
    pub fn short(&self) -> String {
        self.margin(-1.0, Round::Up)
    }

    /// What is left: never more than it is.
    pub fn left(&self) -> String {
        self.margin(1.0, Round::Down)
    }

    fn margin(&self, sign: f64, round: Round) -> String {
        // below zero there is nothing left, and nothing short
        let margin = (sign * self.finding.margin.unwrap_or(0.0)).max(0.0);
        match self.finding.unit {
            Unit::Mm => self.length(margin, round),
            _ => self.plain(margin, round),
        }
    }

    fn pair(&self) -> (String, String) {
        let (have, need) = (self.finding.have.unwrap_or(0.0), self.finding.need.unwrap_or(0.0));
        match self.kind {
            Kind::Room => self.show.pair(have, need, false, self.put),
            Kind::Limit => self.show.pair(have.abs(), need, true, self.put),
            Kind::Told => (self.length(have, Round::Nearest), self.length(need, Round::Nearest)),
        }
    }

    fn of_have(&self) -> Round {
        match self.kind {
            Kind::Room => Round::Down,
            Kind::Limit => Round::Up,
            Kind::Told => Round::Nearest,
        }
    }

    /// By how much two lengths that should be equal are not: never less than it is.
    pub fn apart(&self) -> String {
        let apart = (self.finding.have.unwrap_or(0.0) - self.finding.need.unwrap_or(0.0)).abs();
        self.show.put(apart, Put { decimals: decimals_of(apart, 1), round: Round::Up, ..self.put })
    }

    fn length(&self, mm: f64, round: Round) -> String {
        self.show.put(mm, Put { round, ..self.put })
    }

    /// A figure that is no length, with its unit.
    fn plain(&self, v: f64, round: Round) -> String {
        match self.finding.unit {
            Unit::Deg => format!("{}°", format_fixed(v, 2, round)),
            Unit::Other(word) => format!("{} {word}", format_number(v, 4, round)),
            Unit::Count | Unit::Mm => format_number(v, 4, round),
        }
    }
}

/// The least margin in words: what is left of a tolerance is no room, and is told beside the room there is.
pub fn least(judgement: &Judgement, show: Show) -> Option<String> {
    let finding = judgement.binding.and_then(|i| judgement.findings.get(i))?;
    let limit = |f: &Finding| Figures::of(f, show).is_limit();
    let told = amount(finding, show);
    if !limit(finding) || finding.margin.is_some_and(|m| m < 0.0) {
        return Some(told);
    }
    let room = judgement.findings.iter().filter(|f| f.competes() && !limit(f));
    let room = room.min_by(|a, b| a.margin.unwrap_or(0.0).total_cmp(&b.margin.unwrap_or(0.0)));
    Some(room.map_or_else(|| told.clone(), |f| format!("{}, {told}", amount(f, show))))
}

/// What is left or short of one finding: "550 mm to spare", "60 mm short", "the floor within its limit by 1.3 mm".
pub fn amount(finding: &Finding, show: Show) -> String {
    let figures = Figures::of(finding, show);
    let what = match finding.rule {
        RuleId::Level => "the floor",
        RuleId::OnLift => "its place on the lift",
        _ => "its place",
    };
    let short = finding.margin.is_some_and(|m| m < 0.0);
    match (figures.is_limit(), short) {
        (false, false) => format!("{} to spare", figures.left()),
        (false, true) => format!("{} short", figures.short()),
        (true, false) => format!("{what} within its limit by {}", figures.left()),
        (true, true) => format!("{what} is {} past its limit", figures.short()),
    }
}

/// By the rule, else by the sums: what is left is what is there less what is asked, or the other way.
fn kind(f: &Finding) -> Kind {
    let (Some(have), Some(need), Some(margin)) = (f.have, f.need, f.margin) else { return Kind::Told };
    let left = |v: f64| (v - margin).abs() <= 2.0 * NOISE_MM;
    match f.rule {
        RuleId::Measured | RuleId::CheckLength => Kind::Told,
        RuleId::Level => Kind::Limit,
        RuleId::OnLift if need > 0.0 => Kind::Limit,
        // station, what holds it, and along which axis it is off
        RuleId::FixedPlace if f.items.len() == 3 => Kind::Limit,
        _ if left(have - need) => Kind::Room,
        _ if left(need - have) => Kind::Limit,
        _ => Kind::Told,
    }
}
