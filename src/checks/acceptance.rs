//! What a job's accepted findings mean: their words read against the things of the job.
//!
//! A word is a name, or a kind and a name (`fixture: tyres`). A finding is accepted where every word names one of its
//! items and no item is left over. Where a plain name could mean two things that the rule may speak of, nothing is
//! accepted until the file says which is meant: nobody is taken to have accepted what they have not seen.

use super::Finding;
use crate::model::items::Items;
use crate::model::job::Accepted;
use crate::model::{Bundle, Item, Name, RuleId};

/// The accepted findings of a job, in the file's order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Acceptances(Vec<Acceptance>);

/// One of them.
#[derive(Clone, Debug, PartialEq)]
pub struct Acceptance {
    /// `None` where the file names no rule there is.
    rule: Option<RuleId>,
    words: Vec<Name>,
    /// Two things that one of its words could mean.
    pub doubt: Option<(Item, Item)>,
}

impl Acceptances {
    pub fn of(bundle: &Bundle) -> Acceptances {
        if bundle.job.accepted.is_empty() {
            return Acceptances::default();
        }
        let items = Items::of(bundle);
        Acceptances(bundle.job.accepted.iter().map(|a| Acceptance::of(a, &items)).collect())
    }

    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    pub fn iter(&self) -> impl Iterator<Item = &Acceptance> {
        self.0.iter()
    }

    /// The place in the job's list of what accepts a finding of this rule about these things.
    pub fn place(&self, rule: RuleId, items: &[Item]) -> Option<usize> {
        self.0.iter().position(|a| a.covers(rule, items))
    }
}

/// What a person said when they accepted this finding.
pub fn entry<'a>(bundle: &'a Bundle, finding: &Finding) -> Option<&'a Accepted> {
    bundle.job.accepted.get(Acceptances::of(bundle).place(finding.rule, &finding.items)?)
}

/// A finding's items as a file names them: by name, and with the kind before it where the name could mean something else.
pub fn spelt(bundle: &Bundle, finding: &Finding) -> Vec<Name> {
    let items = Items::of(bundle);
    let plain: Vec<Name> = finding.items.iter().map(|i| Name::from(&**i.name())).collect();
    if doubt(finding.rule, &plain, &items).is_none() {
        return plain;
    }
    let spelt = |item: &Item| match items.called(item.name()).any(|other| other.kind().is_apart(item.kind())) {
        true => Name::from(item.spelt().as_str()),
        false => Name::from(&**item.name()),
    };
    finding.items.iter().map(spelt).collect()
}

impl Acceptance {
    fn of(accepted: &Accepted, items: &Items) -> Acceptance {
        let rule = RuleId::read(accepted.rule.as_str());
        let doubt = rule.and_then(|rule| doubt(rule, &accepted.items, items));
        Acceptance { rule, words: accepted.items.clone(), doubt }
    }

    /// Whether it accepts a finding of this rule about these things.
    pub fn covers(&self, rule: RuleId, items: &[Item]) -> bool {
        self.doubt.is_none() && self.names(rule, items)
    }

    /// Whether its words name these things, whatever else they could mean.
    pub fn names(&self, rule: RuleId, items: &[Item]) -> bool {
        if self.rule != Some(rule) || self.words.len() != items.len() {
            return false;
        }
        let mut left: Vec<&Item> = items.iter().collect();
        let mut take = |word: &Name, means: fn(&Item, &str) -> bool| {
            let at = left.iter().position(|item| means(item, word.as_str()));
            at.map(|at| left.swap_remove(at)).is_some()
        };
        // what says its kind first: the plain names take what is left
        let plain: Vec<&Name> = self.words.iter().filter(|w| !take(w, Item::is_spelt)).collect();
        plain.into_iter().all(|word| take(word, |item, word| **item.name() == *word))
    }
}

/// The most words of an acceptance that are looked at for a double meaning: longer lists hold marks alone.
const MOST: usize = 3;

/// Two things that the same word means in two ways of reading these words as a finding of this rule.
fn doubt(rule: RuleId, words: &[Name], items: &Items) -> Option<(Item, Item)> {
    if words.len() > MOST || words.iter().all(|w| items.called(w.as_str()).nth(1).is_none()) {
        return None;
    }
    let mut readings: Vec<Vec<Option<&Item>>> = Vec::new();
    read(rule, words, items, 0, &mut vec![None; words.len()], &mut vec![false; words.len()], &mut readings);
    let first = readings.first()?;
    readings.iter().skip(1).find_map(|other| {
        let mut pairs = first.iter().zip(other).filter_map(|(a, b)| a.zip(*b));
        pairs.find(|(a, b)| a.kind().is_apart(b.kind())).map(|(a, b)| (a.clone(), b.clone()))
    })
}

/// Every way to take the words as the rule's items, in its order: what each word means then. A word that names nothing the
/// bundle has may be a line's own words.
fn read<'a>(
    rule: RuleId,
    words: &'a [Name],
    items: &'a Items,
    at: usize,
    meant: &mut Vec<Option<&'a Item>>,
    used: &mut Vec<bool>,
    found: &mut Vec<Vec<Option<&'a Item>>>,
) {
    if at == words.len() {
        found.push(meant.clone());
        return;
    }
    let about = rule.rule().about;
    let Some(kinds) = about.get(at).or(about.last()) else { return };
    for w in 0..words.len() {
        if used[w] {
            continue;
        }
        used[w] = true;
        let mut any = false;
        for item in items.called(words[w].as_str()).filter(|i| kinds.contains(&i.kind())) {
            any = true;
            meant[w] = Some(item);
            read(rule, words, items, at + 1, meant, used, found);
        }
        if !any && kinds.iter().any(|k| k.is_free()) {
            meant[w] = None;
            read(rule, words, items, at + 1, meant, used, found);
        }
        meant[w] = None;
        used[w] = false;
    }
}
