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
    let spoken_of = |kind| finding.rule.rule().about.iter().any(|kinds| kinds.contains(&kind));
    let other = |item: &Item, o: &Item| o.kind().is_apart(item.kind()) && spoken_of(o.kind());
    let spelt = |item: &Item| match items.called(item.name()).any(|o| other(item, o)) {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Outcome::{Accepted as Accept, Confirm, Fail};
    use crate::checks::rules::workbench::{Bench, Found, noted};
    use crate::model::{ItemKind, RuleId};

    fn accepted(rule: &str, items: &str) -> String {
        format!(r#"accepted: [(rule: "{rule}", items: {items}, reason: "known")]"#)
    }

    /// How the findings of a rule about things of these names came out, by kind.
    fn outcomes(found: &Found, rule: RuleId, names: &[&str]) -> Vec<(ItemKind, crate::checks::Outcome)> {
        found.about(rule, names).iter().map(|f| (f.items[1].kind(), f.outcome)).collect()
    }

    #[test]
    fn a_fixture_called_tyres_is_told_from_the_tyres() {
        // a low ramp before a tyre, and tyres piled up beside the body
        let bench = Bench::new()
            .fixture("ramp", "Box(at: (4250, 9000), size: (200, 1600))", "z: (0, 100)")
            .fixture("tyres", "Box(at: (6300, 9000), size: (400, 400))", "z: (0, 1200)");
        let of = |items: &str| bench.clone().job(&accepted("vehicle-clear", items)).check();
        let all = |found: &Found| {
            let one = |names: &[&str]| found.one("one", RuleId::VehicleClear, names).outcome;
            [one(&["vehicle", "tyres"]), one(&["tyres", "ramp"])]
        };
        assert_eq!(all(&bench.check()), [Fail, Fail]);
        for (items, wanted) in [
            (r#"["vehicle", "tyres"]"#, [Accept, Fail]),
            (r#"["fixture: tyres", "vehicle"]"#, [Accept, Fail]),
            (r#"["ramp", "tyres"]"#, [Fail, Accept]),
            (r#"["vehicle part: tyres", "fixture: ramp"]"#, [Fail, Accept]),
            (r#"["vehicle", "vehicle part: tyres"]"#, [Fail, Fail]),
        ] {
            assert_eq!(all(&of(items)), wanted, "{items}");
        }
    }

    #[test]
    fn what_could_mean_two_things_accepts_neither_until_it_says_which() {
        let mat = r#""mat": (kind: Mat, face: (width: 2000, height: 1000, thickness: 5), owned: 2)"#;
        let setup = r#"name: "S", stations: [(name: "mat", target: "mat", at: "FA", looks: Backward),
            (name: "tyres", target: "mat", at: "FA", looks: Backward)]"#;
        let bench = Bench::new().targets(mat).setup(setup);
        let of = |items: &str| bench.clone().job(&accepted("targets-apart", items)).check();
        let rule = RuleId::TargetsApart;
        let pair = ["mat", "tyres"];
        let (station, tyres) = (ItemKind::Station, ItemKind::Tyres);
        assert_eq!(outcomes(&bench.check(), rule, &pair), [(tyres, Fail), (station, Fail)]);
        let torn = of(r#"["mat", "tyres"]"#);
        assert_eq!(outcomes(&torn, rule, &pair), [(tyres, Fail), (station, Fail)]);
        let told = torn.of(RuleId::Readiness);
        let told: Vec<String> = told.iter().filter(|f| f.outcome == Confirm).map(|f| noted(f)).collect();
        let words = r#"write "vehicle part: tyres" or "station: tyres""#;
        assert!(told.iter().any(|note| note.contains(words)), "{told:?}");
        let of_station = of(r#"["mat", "station: tyres"]"#);
        assert_eq!(outcomes(&of_station, rule, &pair), [(tyres, Fail), (station, Accept)]);
        let of_tyres = of(r#"["mat", "vehicle part: tyres"]"#);
        assert_eq!(outcomes(&of_tyres, rule, &pair), [(tyres, Accept), (station, Fail)]);
    }

    #[test]
    fn a_finding_is_spelt_with_kinds_only_where_names_could_mean_two_things() {
        let mat = r#""mat": (kind: Mat, face: (width: 2000, height: 1000, thickness: 5), owned: 2)"#;
        let setup = r#"name: "S", stations: [(name: "mat", target: "mat", at: "FA", looks: Backward),
            (name: "tyres", target: "mat", at: "FA", looks: Backward)]"#;
        let bench = Bench::new().targets(mat).setup(setup).fixture(
            "tyres",
            "Box(at: (6300, 9000), size: (400, 400))",
            "z: (0, 1200)",
        );
        let found = bench.check();
        let mut spellings: Vec<Vec<String>> = Vec::new();
        for finding in found.judgement.findings.iter().filter(|f| f.outcome == Fail) {
            let words = spelt(&found.layout.bundle, finding);
            let list = format!("{:?}", words.iter().map(|w| w.as_str()).collect::<Vec<_>>());
            let again = bench.clone().job(&accepted(finding.rule.word(), &list)).check();
            let is_accepted = |f: &&Finding| f.outcome == Accept;
            let taken: Vec<_> =
                again.judgement.findings.iter().filter(is_accepted).map(Finding::key).collect();
            assert_eq!(taken, [finding.key()], "{list} accepts this finding and no other");
            spellings.push(words.iter().map(ToString::to_string).collect());
        }
        for wanted in [["vehicle", "tyres"], ["mat", "station: tyres"], ["mat", "vehicle part: tyres"]] {
            assert!(spellings.iter().any(|s| s == &wanted), "{spellings:?}");
        }
    }
}
