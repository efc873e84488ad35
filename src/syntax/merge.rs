//! A text brought from one value to another, touching only what differs between the two.
//!
//! Both values are given as trees of their plain spelling; the text is a person's own spelling of the first. Where the
//! two trees say the same, the text stays to the byte: notes, blanks, order, the way numbers are written, fields that
//! say what would hold without them.

use super::{Id, Kind, Patch, Step, Tree, apply, number, unquote};

/// The text, which spells what `old` says, made to say what `new` says. Where a change cannot be placed in it, the
/// nearest part around it that can be is spelt anew; `None` where not even the whole can. What comes out has still to be
/// read back: only its reader knows what it means.
pub fn merge(text: &str, old: &Tree, new: &Tree) -> Option<String> {
    let mut merge = Merge { text: text.to_owned(), old, new, way: Vec::new() };
    merge.part(old.root()?, new.root()?)?;
    Some(merge.text)
}

/// Whether two parts say the same: numbers by value, texts by what they say, fields of one name each.
fn same(a: &Tree, x: Id, b: &Tree, y: Id) -> bool {
    if a.kind(x) != b.kind(y) {
        return false;
    }
    let (xs, ys) = (a.entries(x), b.entries(y));
    match a.kind(x) {
        Kind::Number => number(a.source(x)) == number(b.source(y)),
        Kind::Text => said(a.source(x)) == said(b.source(y)),
        Kind::Word | Kind::Bad => a.source(x) == b.source(y),
        Kind::Fields | Kind::Tuple | Kind::List | Kind::Map => {
            a.word(x) == b.word(y)
                && xs.len() == ys.len()
                && xs.iter().zip(ys).all(|(i, j)| a.key(i) == b.key(j) && same(a, i.value, b, j.value))
        }
    }
}

fn said(source: &str) -> Option<String> {
    // a key without quotes is a bare word, which says itself
    if source.contains('"') { unquote(source).ok() } else { Some(source.to_owned()) }
}

struct Merge<'a> {
    text: String,
    old: &'a Tree,
    new: &'a Tree,
    /// The way to the part at hand, in the text as in both trees.
    way: Vec<Way>,
}

#[derive(Clone, Debug, PartialEq)]
enum Way {
    Field(String),
    Index(usize),
    Key(String),
}

impl Way {
    fn step(&self) -> Step<'_> {
        match self {
            Way::Field(name) => Step::Field(name),
            Way::Index(i) => Step::Index(*i),
            Way::Key(key) => Step::Key(key),
        }
    }
}

impl Merge<'_> {
    fn part(&mut self, old: Id, new: Id) -> Option<()> {
        let (o, n) = (self.old, self.new);
        if same(o, old, n, new) {
            return Some(());
        }
        if o.kind(old) == n.kind(new) && o.word(old) == n.word(new) {
            let before = self.text.clone();
            let done = match o.kind(old) {
                Kind::Fields | Kind::Map => self.named(old, new),
                Kind::Tuple if o.entries(old).len() == n.entries(new).len() => self.each(old, new),
                Kind::List => self.list(old, new),
                _ => None,
            };
            if done.is_some() {
                return done;
            }
            self.text = before;
        }
        let spelt = n.source(new);
        self.change(|tree, id| Some(tree.replace(id, spelt)))
    }

    /// Fields and entries of tables: by their names.
    fn named(&mut self, old: Id, new: Id) -> Option<()> {
        let (o, n) = (self.old, self.new);
        let is_map = o.kind(old) == Kind::Map;
        let way = |key: &str| -> Option<Way> {
            Some(if is_map { Way::Key(said(key)?) } else { Way::Field(key.to_owned()) })
        };
        for entry in o.entries(old) {
            let way = way(o.key(entry))?;
            if n.entry_at(new, way.step()).is_none() {
                self.change(|tree, id| tree.remove(id, tree.entry_at(id, way.step())?))?;
            }
        }
        for entry in n.entries(new) {
            let way = way(n.key(entry))?;
            let spelt = format!("{}: {}", n.key(entry), n.source(entry.value));
            match o.entry_at(old, way.step()) {
                Some(i) => {
                    self.way.push(way);
                    let done = self.part(o.entries(old)[i].value, entry.value);
                    self.way.pop();
                    done?;
                }
                // the text may say it already, where it says what holds anyway
                None => self.change(|tree, id| match tree.entry_at(id, way.step()) {
                    Some(i) => Some(tree.replace(tree.entries(id)[i].value, n.source(entry.value))),
                    None => tree.insert(id, tree.entries(id).len(), &spelt),
                })?,
            }
        }
        Some(())
    }

    /// As many values as before, each by its number.
    fn each(&mut self, old: Id, new: Id) -> Option<()> {
        for i in 0..self.old.entries(old).len() {
            self.at_index(i, old, i, new, i)?;
        }
        Some(())
    }

    /// The value that stands `at` in the text brought from the i-th of the old to the j-th of the new.
    fn at_index(&mut self, at: usize, old: Id, i: usize, new: Id, j: usize) -> Option<()> {
        let (from, to) = (self.old.entries(old)[i].value, self.new.entries(new)[j].value);
        self.way.push(Way::Index(at));
        let done = self.part(from, to);
        self.way.pop();
        done
    }

    /// Lists: what stays in its order stays; what comes and goes does so around it.
    fn list(&mut self, old: Id, new: Id) -> Option<()> {
        let (o, n) = (self.old, self.new);
        let (olds, news) = (o.entries(old), n.entries(new));
        let here = self.here(&Tree::new(self.text.as_str()))?;
        if olds.len() != here.1 || olds.len() * news.len() > MOST_PAIRS {
            return None;
        }
        let kept = kept(olds.len(), news.len(), |i, j| same(o, olds[i].value, n, news[j].value));
        if olds.len().max(news.len()) - kept.len() > MOST_CHANGES {
            return None;
        }
        // from the end, so that what comes before keeps its number
        let (mut i, mut j) = (olds.len(), news.len());
        for (a, b) in kept.into_iter().rev().chain([(usize::MAX, usize::MAX)]) {
            let (from, to) = (a.wrapping_add(1), b.wrapping_add(1));
            while i > from && j > to {
                (i, j) = (i - 1, j - 1);
                self.at_index(i, old, i, new, j)?;
            }
            while i > from {
                i -= 1;
                self.change(|tree, id| tree.remove(id, i))?;
            }
            while j > to {
                j -= 1;
                let spelt = n.source(news[j].value);
                self.change(|tree, id| tree.insert(id, i, spelt))?;
            }
            (i, j) = (a, b);
        }
        Some(())
    }

    /// The part of the text at the way so far, and how many parts it has.
    fn here(&self, tree: &Tree) -> Option<(Id, usize)> {
        let steps: Vec<Step> = self.way.iter().map(Way::step).collect();
        let id = tree.at(&steps)?;
        Some((id, tree.entries(id).len()))
    }

    fn change(&mut self, patch: impl Fn(&Tree, Id) -> Option<Patch>) -> Option<()> {
        let tree = Tree::new(self.text.as_str());
        let (id, _) = self.here(&tree)?;
        self.text = apply(&self.text, &[patch(&tree, id)?])?;
        Some(())
    }
}

/// Lists longer than this, the one's length times the other's, are written anew.
const MOST_PAIRS: usize = 1 << 20;

/// So are lists of which more parts than this come, go or change.
const MOST_CHANGES: usize = 100;

/// The longest run of pairs that are the same, in the order of both lists.
fn kept(a: usize, b: usize, same: impl Fn(usize, usize) -> bool) -> Vec<(usize, usize)> {
    let mut longest = vec![vec![0u32; b + 1]; a + 1];
    for i in (0..a).rev() {
        for j in (0..b).rev() {
            longest[i][j] = match same(i, j) {
                true => longest[i + 1][j + 1] + 1,
                false => longest[i + 1][j].max(longest[i][j + 1]),
            };
        }
    }
    let (mut i, mut j, mut pairs) = (0, 0, Vec::new());
    while i < a && j < b {
        if same(i, j) {
            pairs.push((i, j));
            (i, j) = (i + 1, j + 1);
        } else if longest[i + 1][j] >= longest[i][j + 1] {
            i += 1;
        } else {
            j += 1;
        }
    }
    pairs
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn merged(text: &str, old: &str, new: &str) -> String {
        merge(text, &Tree::new(old), &Tree::new(new)).expect("it can be placed")
    }

    const TEXT: &str = "// by hand
(
    name: \"J\", /* ours */ bay: \"b.ron\",
    drive_in: false, // says what holds anyway
    procedures: [
        (file: \"a.ron\"), // first
        (file: \"b.ron\",
         variant: \"x\"),
    ],
    choose: {\"gap\": 9_00, \"lift\": 1.50},
    cleared: [\"bin\", \"cart\"], pose: At(x: 2_750, y: 5400.0, heading: 0)
)
";
    const OLD: &str = "(name: \"J\", bay: \"b.ron\", procedures: [(file: \"a.ron\"), (file: \"b.ron\", variant: \"x\")], choose: {\"gap\": 900, \"lift\": 1.5}, cleared: [\"bin\", \"cart\"], pose: At(x: 2750, y: 5400, heading: 0))";

    #[test]
    fn only_what_differs_is_touched() {
        assert_eq!(merged(TEXT, OLD, OLD), TEXT);
        for (from, to, was, is) in [
            ("heading: 0", "heading: 180", "heading: 0", "heading: 180"),
            ("\"cart\"]", "\"cart\", \"lamp\"]", "\"cart\"]", "\"cart\", \"lamp\"]"),
            ("[\"bin\", \"cart\"]", "[\"cart\"]", "[\"bin\", \"cart\"]", "[\"cart\"]"),
            (
                "[\"bin\", \"cart\"]",
                "[\"bin\", \"lamp\", \"cart\"]",
                "[\"bin\", \"cart\"]",
                "[\"bin\", \"lamp\", \"cart\"]",
            ),
            ("\"lift\": 1.5", "\"lift\": 2", "\"lift\": 1.50", "\"lift\": 2"),
            ("\"gap\": 900, ", "", "\"gap\": 9_00, ", ""),
            ("variant: \"x\"", "variant: \"y\"", "variant: \"x\"", "variant: \"y\""),
            ("(file: \"a.ron\"), ", "", "        (file: \"a.ron\"), // first\n", "        // first\n"),
            (
                "pose: At(x: 2750, y: 5400, heading: 0)",
                "pose: Anywhere",
                "At(x: 2_750, y: 5400.0, heading: 0)",
                "Anywhere",
            ),
            ("name: \"J\", ", "name: \"J\", drive_in: true, ", "drive_in: false", "drive_in: true"),
            (
                ", pose: At(x: 2750, y: 5400, heading: 0)",
                "",
                ", pose: At(x: 2_750, y: 5400.0, heading: 0)",
                "",
            ),
        ] {
            let new = OLD.replacen(from, to, 1);
            let got = merged(TEXT, OLD, &new);
            assert_eq!(got, TEXT.replacen(was, is, 1), "{from} -> {to}");
        }
    }

    #[test]
    fn what_cannot_be_placed_is_spelt_anew_and_its_head_stays() {
        let new = "(a: [1, 2, 3])";
        let merge = |text: &str| merge(text, &Tree::new("(a: [1, 2])"), &Tree::new(new));
        assert_eq!(merge("// head\n[1, 2]\n").as_deref(), Some("// head\n(a: [1, 2, 3])\n"));
        assert_eq!(merge("( /* x */ a: [1])").as_deref(), Some("( /* x */ a: [1, 2, 3])"));
        assert_eq!(merge("(a: ["), None);
    }

    fn value() -> impl Strategy<Value = String> {
        let leaf = prop::sample::select(vec!["1", "2", "\"a\"", "\"b\"", "Metal"]).prop_map(str::to_owned);
        leaf.prop_recursive(3, 24, 4, |inner| {
            (prop::collection::vec(inner, 0..5), 0..4usize).prop_map(|(items, kind)| {
                let parts = items.iter().enumerate().map(|(i, v)| match kind {
                    0 => format!("f{i}: {v}"),
                    1 => format!("\"k{i}\": {v}"),
                    _ => v.clone(),
                });
                let (open, close) = [("(", ")"), ("{", "}"), ("[", "]"), ("Box(", ")")][kind];
                format!("{open}{}{close}", parts.collect::<Vec<_>>().join(", "))
            })
        })
    }

    proptest! {
        #![proptest_config(crate::seeds::cases(256))]
        #[test]
        fn whatever_changes_the_text_says_the_new(old in value(), new in value(), lines in any::<bool>()) {
            let text = if lines { old.replace(", ", ", // note\n  ").replace('[', "[\n  ") } else { old.clone() };
            let (a, b) = (Tree::new(old.as_str()), Tree::new(new.as_str()));
            let got = merge(&text, &a, &b).expect("it can be placed");
            let got_tree = Tree::new(got.as_str());
            prop_assert_eq!(got_tree.faults(), &[], "{}", got);
            let plain = sorted(&got_tree, got_tree.root().expect("a value"));
            prop_assert_eq!(plain, sorted(&b, b.root().expect("a value")), "{}", got);
        }
    }

    /// What a tree says, fields in the order of their names.
    fn sorted(tree: &Tree, id: Id) -> String {
        let mut inner: Vec<String> =
            tree.entries(id).iter().map(|e| format!("{}:{}", tree.key(e), sorted(tree, e.value))).collect();
        match tree.kind(id) {
            Kind::Word | Kind::Number | Kind::Text | Kind::Bad => return tree.source(id).to_owned(),
            Kind::Fields | Kind::Map => inner.sort(),
            Kind::Tuple | Kind::List => {}
        }
        format!(
            "{:?}{}<{}>",
            if inner.is_empty() && tree.kind(id) == Kind::Fields { Kind::Tuple } else { tree.kind(id) },
            tree.word(id),
            inner.join(",")
        )
    }
}
