//! The figures of one finding: worked out once, so that title, card, page, JSON and the plan's label show the same.

pub use crate::units::Show;

use super::finding::{Finding, Unit};
use super::rule::Decimals;
use crate::geometry::NOISE_MM;
use crate::units::{Put, Round, decimals_of, format_fixed, format_number};

/// What a finding's figures say of each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asks {
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
    asks: Asks,
    show: Show,
    put: Put,
}

impl<'a> Figures<'a> {
    pub fn of(finding: &'a Finding, show: Show) -> Figures<'a> {
        let wording = &finding.rule.rule().wording;
        let known = finding.have.is_some() && finding.need.is_some() && finding.margin.is_some();
        let asks = if known { (wording.asks)(finding) } else { Asks::Told };
        let of = |v: Option<f64>, most| v.map_or(0, |v| decimals_of(v, most));
        let as_asked = match asks {
            Asks::Told => of(finding.have, 2).max(of(finding.need, 2)),
            Asks::Room | Asks::Limit => of(finding.need, 3),
        };
        let decimals = match wording.decimals {
            Decimals::Tenths => 1,
            Decimals::TenthsOfLimits if asks != Asks::Room => as_asked.max(1),
            Decimals::TenthsOfLimits | Decimals::AsAsked => as_asked,
        };
        let put = Put { decimals, round: Round::Nearest, bare: false };
        Figures { finding, asks, show, put }
    }

    /// The same for the plan: bare of units where it leaves no doubt.
    pub fn bare(self) -> Figures<'a> {
        Figures { put: Put { bare: true, ..self.put }, ..self }
    }

    /// What may not be exceeded, rather than what must be there.
    pub fn is_limit(&self) -> bool {
        self.asks == Asks::Limit
    }

    /// What is there.
    pub fn have(&self) -> String {
        let have = self.finding.have.unwrap_or(0.0);
        match self.finding.unit {
            Unit::Mm if self.finding.need.is_some() => self.pair().0,
            // told without anything asked
            Unit::Mm => self.length(have, Round::Nearest),
            Unit::Deg | Unit::Count | Unit::Other(_) => {
                self.plain(if self.is_limit() { have.abs() } else { have }, self.of_have())
            }
        }
    }

    /// What is asked or allowed.
    pub fn need(&self) -> String {
        let need = self.finding.need.unwrap_or(0.0);
        match self.finding.unit {
            Unit::Mm => self.pair().1,
            Unit::Deg | Unit::Count | Unit::Other(_) => self.plain(need, Round::Nearest),
        }
    }

    /// By how much it reaches into what it should be clear of: what is there, below zero, without its sign.
    pub fn depth(&self) -> String {
        let depth = -self.finding.have.unwrap_or(0.0);
        match self.finding.unit {
            Unit::Mm => self.length(depth, Round::Up),
            Unit::Deg | Unit::Count | Unit::Other(_) => self.plain(depth, Round::Up),
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
            Unit::Deg | Unit::Count | Unit::Other(_) => self.plain(margin, round),
        }
    }

    fn pair(&self) -> (String, String) {
        let (have, need) = (self.finding.have.unwrap_or(0.0), self.finding.need.unwrap_or(0.0));
        match self.asks {
            Asks::Room => self.show.pair(have, need, false, self.put),
            Asks::Limit => self.show.pair(have.abs(), need, true, self.put),
            Asks::Told => (self.length(have, Round::Nearest), self.length(need, Round::Nearest)),
        }
    }

    fn of_have(&self) -> Round {
        match self.asks {
            Asks::Room => Round::Down,
            Asks::Limit => Round::Up,
            Asks::Told => Round::Nearest,
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

/// What a finding's figures say of each other, told from the sums: what is left is what is there less what is asked, or the
/// other way.
pub fn by_sums(f: &Finding) -> Asks {
    let (Some(have), Some(need), Some(margin)) = (f.have, f.need, f.margin) else { return Asks::Told };
    let left = |v: f64| (v - margin).abs() <= 2.0 * NOISE_MM;
    if left(have - need) {
        Asks::Room
    } else if left(need - have) {
        Asks::Limit
    } else {
        Asks::Told
    }
}
