//! The shop owns what the job needs, in number and in size.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::{Competes, InCurve, Judged, Page, Policy, Rule, RuleId, Wording};
use crate::checks::figures::Figures;
use crate::checks::finding::{Finding, Outcome, Unit};
use crate::checks::note::{Note, Remedy};
use crate::checks::pairs::Cx;
use crate::checks::wording::{all_of, notes, pair_name};
use crate::layout::{Layout, Setup, pieces};
use crate::model::{Item, ItemKind, Lack};
use crate::phrases::{Say, phrases, say};

phrases! { in "equipment";
    FOR_WHICH_STANDS = ", for which stands ";
    SIZE = "size";
    NOT_SO = "{name}: {what}";
    WRONG_SIZE = "{name} has the wrong {what}: {have} against {need}";
    RIGHT_SIZE = "{name} has the {what} asked for: {have} against {need}";
    NOT_THERE = "{name} is not there: {what}";
    TOO_FEW = "the shop owns {have} of the {need} pieces of {name} that stand at once";
    ENOUGH = "the shop owns {have} of {name}, {need} needed at once";
    HOW_MANY = "how many of {name} the shop owns is not known";
}

pub(crate) const RULE: Rule = Rule {
    id: RuleId::Equipment,
    page: Page {
        title: "Targets owned",
        checks: "The shop owns as many of each target as any one setup needs at the same time, and of the kind and size the procedure asks for.",
        matters: "A target that is not there on the day stops the job; one of the wrong size, or home-made, spoils it.",
        measured: "Pieces owned, by the equipment file, against the most that stand in one setup; a piece that visits its places in turn counts once. Where the file does not say how many are owned, it is not known. Sizes: the piece's face against what is asked.",
        remedy: "Borrow, hire or buy the target named, or send the job out.",
        source: "`owned`, `face` and `serves` of the equipment file; `needs` and the stations of the procedure.",
    },
    policy: Policy {
        competes: Competes::WhereItFails,
        curve: InCurve::NoRoom,
        judged: Judged::Together,
        ..Policy::PLAIN
    },
    wording: Wording { unknown, title_tells: true, remedy, ..Wording::titled(title) },
    phrases: PHRASES,
    about: &[&[ItemKind::Target]],
    run,
    pairs: None,
};

fn run(cx: &Cx, out: &mut Vec<Finding>) {
    let done: Vec<usize> = (0..cx.layout.setups.len()).filter(|s| !cx.is_idle(*s)).collect();
    judge(cx, &done, out);
}

fn judge(cx: &Cx, setups: &[usize], out: &mut Vec<Finding>) {
    counts(cx, setups, out);
    let mut told: Vec<(usize, Arc<str>)> = Vec::new();
    for setup in setups.iter().map(|s| &cx.layout.setups[*s]) {
        for station in &setup.stations {
            let key = (setup.procedure, station.target.clone());
            if !told.contains(&key) {
                sizes(cx, setup, &station.target, out);
                told.push(key);
            }
        }
    }
}

fn counts(cx: &Cx, setups: &[usize], out: &mut Vec<Finding>) {
    let layout = cx.layout;
    let mut most: BTreeMap<&Arc<str>, u32> = BTreeMap::new();
    for setup in setups.iter().map(|s| &layout.setups[*s]) {
        for (piece, count) in at_once(cx, setup) {
            let m = most.entry(piece).or_default();
            *m = count.max(*m);
        }
    }
    for (piece, need) in most {
        let listed = layout.bundle.equipment.targets.get(piece);
        let need = f64::from(need);
        let Some(owned) = listed.map_or(Some(0), |t| t.owned) else {
            out.push(Finding {
                items: vec![target(piece)],
                need: Some(need),
                unit: Unit::Count,
                missing: vec![Lack::Owned],
                ..Finding::new(RuleId::Equipment, Outcome::Unknown)
            });
            continue;
        };
        let have = f64::from(owned);
        out.push(Finding {
            items: vec![target(piece)],
            have: Some(have),
            need: Some(need),
            margin: Some(have - need),
            unit: Unit::Count,
            note: listed.is_none().then_some(Note::NotListed),
            ..Finding::new(RuleId::Equipment, if have < need { Outcome::Fail } else { Outcome::Pass })
        });
    }
}

fn target(name: &Arc<str>) -> Item {
    Item::new(ItemKind::Target, name.clone())
}

/// How many of each piece one setup needs at the same time.
fn at_once<'a>(cx: &Cx, setup: &'a Setup) -> BTreeMap<&'a Arc<str>, u32> {
    let procedure = &cx.layout.bundle.procedures[setup.procedure];
    let mut here: BTreeMap<&Arc<str>, (u32, u32)> = BTreeMap::new();
    for station in &setup.stations {
        let piece = station.piece.as_ref().unwrap_or(&station.target);
        let (standing, asked) = here.entry(piece).or_default();
        *standing = if setup.def.in_turn { 1 } else { *standing + 1 };
        let need = pieces::need(procedure, &setup.def, &station.target);
        *asked = (*asked).max(need.and_then(|n| n.count).unwrap_or(0));
    }
    here.into_iter().map(|(piece, (standing, asked))| (piece, standing.max(asked))).collect()
}

/// What the shop lacks for these setups alone, in number, kind or size; and what nobody said how many it has of.
pub(crate) fn lacking(cx: &Cx, setups: &[usize]) -> Vec<Finding> {
    let mut found = Vec::new();
    judge(cx, setups, &mut found);
    found.retain(|f| matches!(f.outcome, Outcome::Fail | Outcome::Unknown));
    found
}

/// The piece that stands for a target, against the kind and the sizes asked for.
fn sizes(cx: &Cx, setup: &Setup, name: &Arc<str>, out: &mut Vec<Finding>) {
    let layout = cx.layout;
    let procedure = &layout.bundle.procedures[setup.procedure];
    let Some(need) = pieces::need(procedure, &setup.def, name) else { return };
    let Some(piece) = pieces::find(&layout.bundle.equipment, Some(need), name) else { return };
    let base = |outcome| Finding {
        procedure: Some(setup.procedure),
        items: if piece.name == name { vec![target(name)] } else { vec![target(name), target(piece.name)] },
        ..Finding::new(RuleId::Equipment, outcome)
    };
    if let Some(kind) = need.kind.filter(|_| !pieces::is_kind(piece.target, need)) {
        let note = Note::WrongKind { asked: kind, is: piece.target.kind };
        out.push(Finding { note: Some(note), ..base(Outcome::Fail) });
    }
    for size in pieces::sizes(piece.target, need) {
        out.push(Finding {
            have: Some(size.have),
            need: Some(size.need),
            margin: Some(size.spare),
            note: Some(Note::Size(size.of)),
            ..base(if size.spare < 0.0 { Outcome::Fail } else { Outcome::Pass })
        });
    }
}

fn title(finding: &Finding, _: &Layout, say: Say) -> String {
    let figures = Figures::of(finding, say.show);
    let note = finding.note.as_ref().map(|n| notes::note(n, say));
    let fails = finding.outcome == Outcome::Fail;
    let phrase = match finding.unit {
        Unit::Mm if fails && finding.have.is_none() => NOT_SO,
        Unit::Mm if fails => WRONG_SIZE,
        Unit::Mm => RIGHT_SIZE,
        Unit::Deg | Unit::Count | Unit::Other(_) if fails && note.is_some() => NOT_THERE,
        Unit::Deg | Unit::Count | Unit::Other(_) if fails => TOO_FEW,
        Unit::Deg | Unit::Count | Unit::Other(_) => ENOUGH,
    };
    let name = all_of(&finding.items, FOR_WHICH_STANDS, say);
    let what = note.unwrap_or_else(|| say.word(SIZE));
    say!(say, phrase, name, what, have = figures.have(), need = figures.need())
}

fn unknown(finding: &Finding, say: Say) -> Option<String> {
    Some(say!(say, HOW_MANY, name = pair_name(finding, say)))
}

fn remedy(finding: &Finding, _: &Layout) -> Option<Remedy> {
    (finding.outcome == Outcome::Unknown).then_some(Remedy::SayHowManyOwned)
}

#[cfg(test)]
mod tests {
    use super::RuleId::Equipment as RULE;
    use super::Unit;
    use crate::checks::Outcome::{Fail, Pass};
    use crate::checks::Verdict;
    use crate::checks::rules::workbench::{BOARD, Bench};

    /// Setups of so many pieces each.
    fn pieces(owned: &str, setups: &[usize]) -> Bench {
        let targets =
            format!(r#""mark": (kind: Mat, face: (width: 100, height: 100, thickness: 1), {owned})"#);
        setups.iter().enumerate().fold(Bench::new().targets(&targets), |bench, (s, count)| {
            let mark =
                |i: &usize| format!(r#"("M{i}", Along(line: Centre, from: "FA", by: {}))"#, 2000 + 200 * i);
            let station = |i: &usize| format!(r#"(name: "mark {i}", target: "mark", at: "M{i}")"#);
            let all =
                |f: &dyn Fn(&usize) -> String| (0..*count).map(|i| f(&i)).collect::<Vec<_>>().join(", ");
            bench.setup(&format!(r#"name: "S{s}", marks: [{}], stations: [{}]"#, all(&mark), all(&station)))
        })
    }

    #[test]
    fn how_many_are_owned_is_not_guessed() {
        let found = pieces("", &[1]).check();
        found.lacks("left out", RULE, &["mark"], &["owned"]);
        assert_eq!(found.judgement.verdict, Verdict::NotKnown);
        assert_eq!(found.one("needed", RULE, &["mark"]).need, Some(1.0));
        pieces("owned: 1", &[1]).check().says("said", RULE, &["mark"], Pass, 0.0);
    }

    #[test]
    fn owned_against_the_most_of_one_setup() {
        for (case, owned, setups, outcome, margin) in [
            ("one over", "owned: 3", &[2][..], Pass, 1.0),
            ("exactly equal", "owned: 2", &[2], Pass, 0.0),
            ("one short", "owned: 1", &[2], Fail, -1.0),
            ("none owned", "owned: 0", &[1], Fail, -1.0),
            ("not all setups together", "owned: 2", &[2, 1, 2], Pass, 0.0),
            ("the setup with the most", "owned: 2", &[1, 3], Fail, -1.0),
        ] {
            let found = pieces(owned, setups).check();
            found.says(case, RULE, &["mark"], outcome, margin);
            assert_eq!(found.one(case, RULE, &["mark"]).unit, Unit::Count);
        }
        Bench::new().check().idle("no targets asked for", RULE);
    }

    #[test]
    fn counts_do_not_compete_for_the_margin() {
        let found = pieces("owned: 1", &[2]).check();
        assert!(found.judgement.margin.is_some_and(|m| m >= 0.0), "{:?}", found.judgement.margin);
    }

    #[test]
    fn a_target_the_shop_does_not_list() {
        let found = Bench::new().setup(&BOARD.replace(r#"target: "board""#, r#"target: "mirror""#)).check();
        found.says("missing", RULE, &["mirror"], Fail, -1.0);
        assert!(found.one("missing", RULE, &["mirror"]).note.is_some());
    }
}
