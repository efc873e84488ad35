//! Trees of texts good and broken, and patches that leave the rest alone.

use super::*;
use proptest::prelude::*;

fn said(text: &str) -> Vec<(usize, String)> {
    Tree::new(text).faults().iter().map(|f| (f.at, f.text.clone())).collect()
}

#[test]
fn every_part_knows_its_place() {
    let text = "// head\n#![enable(implicit_some)]\nBay( // a: 1\n name: \"a, (b\", at: (1, -2.5), /* x: [ */ list: [Metal, Shine,], t: {\"k\": Round(d: 5)}, )";
    let tree = Tree::new(text);
    assert_eq!(tree.faults(), []);
    let root = tree.root().expect("a value");
    assert_eq!((tree.kind(root), tree.word(root)), (Kind::Fields, "Bay"));
    let keys: Vec<&str> = tree.entries(root).iter().map(|e| tree.key(e)).collect();
    assert_eq!(keys, ["name", "at", "list", "t"]);
    let at = |steps: &[Step]| tree.at(steps).map(|id| (tree.kind(id), tree.source(id)));
    assert_eq!(at(&[Step::Field("name")]), Some((Kind::Text, "\"a, (b\"")));
    assert_eq!(at(&[Step::Field("at"), Step::Index(1)]), Some((Kind::Number, "-2.5")));
    assert_eq!(at(&[Step::Field("list"), Step::Index(1)]), Some((Kind::Word, "Shine")));
    assert_eq!(at(&[Step::Field("t"), Step::Key("k")]), Some((Kind::Fields, "Round(d: 5)")));
    assert_eq!(at(&[Step::Field("t"), Step::Key("k"), Step::Field("d")]), Some((Kind::Number, "5")));
    assert_eq!(at(&[Step::Field("list"), Step::Index(2)]), None);
    assert_eq!(at(&[Step::Field("t"), Step::Field("k")]), None);
}

#[test]
fn what_is_not_closed_is_named_where_it_opens() {
    for (text, at, message) in [
        ("(a: [1, 2)", 4, "this `[` is never closed: a `)` comes first"),
        ("(a: [1, 2]", 0, "this `(` is never closed"),
        ("(a: 1))", 6, "this `)` closes nothing"),
        ("(a: \"x)", 4, "this text in quotes is never closed"),
        ("(a: \"x,\n b: \"y\",\n)", 4, "this text in quotes is never closed"),
        ("(a: 1 /* x )", 6, "this comment is never closed"),
        ("(a: 1 /* /* x */ )", 6, "this comment is never closed"),
        ("", 0, "the file holds nothing"),
        (" // only\n", 9, "the file holds nothing"),
    ] {
        assert_eq!(said(text), [(at, message.to_owned())], "{text}");
        assert_eq!(Tree::new(text).root(), None, "{text}");
    }
}

#[test]
fn what_cannot_be_understood_is_told_once_and_stepped_over() {
    for (text, faults, kept) in [
        ("(a: 1 b: 2)", &[(6, "expected a comma or the closing `)`, found `b`")][..], "a=1 b=2"),
        ("(a: 42 mm, b: 2)", &[(7, "expected a comma or the closing `)`, found `mm`")], "a=42 b=2"),
        ("(a: 1,, b: 2)", &[(6, "expected a value before this comma, found `,`")], "a=1 b=2"),
        ("(a: , b: 2)", &[(4, "expected a value before this comma, found `:`")], "a= b=2"),
        ("(a: )", &[(4, "expected a value, found `)`")], "a="),
        ("(a: 1, 5, b: 2)", &[(7, "expected a word, found `5`")], "a=1 b=2"),
        ("(a: ;, b: 2)", &[(4, "expected a value, found `;`")], "a=; b=2"),
        ("(a: 1) x", &[(7, "expected nothing after the last closing bracket, found `x`")], "a=1"),
        ("{\"k\" 5, \"l\": 2}", &[(5, "expected a colon after \"k\", found `5`")], "\"l\"=2"),
    ] {
        let tree = Tree::new(text);
        let wanted: Vec<_> = faults.iter().map(|(at, f)| (*at, (*f).to_owned())).collect();
        assert_eq!(said(text), wanted, "{text}");
        let root = tree.root().expect("a value");
        let entries = tree.entries(root).iter();
        let entries: Vec<_> = entries.map(|e| format!("{}={}", tree.key(e), tree.source(e.value))).collect();
        assert_eq!(entries.join(" "), kept, "{text}");
    }
    let deep = format!("{}{}", "(".repeat(5000), ")".repeat(5000));
    assert_eq!(said(&deep), [(128, "brackets are nested too deeply here".to_owned())]);
}

/// A text after one change, with `\n` for line ends; the same change of the text with `\r\n` must give the same lines.
fn changed(text: &str, change: impl Fn(&Tree) -> Option<Patch>) -> String {
    let of = |text: &str| {
        let tree = Tree::new(text);
        let patch = change(&tree).expect("a patch");
        let new = apply(text, std::slice::from_ref(&patch)).expect("fits");
        let back = apply(&new, &[patch.inverse(text).expect("fits")]).expect("fits");
        assert_eq!(back, text, "taken back");
        new
    };
    let new = of(text);
    let crlf = of(&text.replace('\n', "\r\n"));
    assert_eq!(crlf, new.replace('\n', "\r\n"));
    new
}

const BAY: &str = "(
    name: \"Shed\", // the old one
    // measured twice
    floor: [(0, 0), (4, 0), (4, 9)],
    walls: [
        (side: 1), // east
        (side: 2)
    ],
    z: (1, 2) // no more
)
";

#[test]
fn a_value_is_replaced_alone() {
    let root = |tree: &Tree| tree.root().expect("a value");
    let new = changed(BAY, |t| t.set_field(root(t), "name", "\"Yard\""));
    assert_eq!(new, BAY.replace("Shed", "Yard"));
    let new = changed(BAY, |t| Some(t.replace(t.at(&[Step::Field("floor"), Step::Index(2)])?, "(5, 9)")));
    assert_eq!(new, BAY.replace("(4, 9)", "(5, 9)"));
}

#[test]
fn what_is_inserted_is_set_as_its_neighbours_are() {
    let list = |t: &Tree, name: &str| t.at(&[Step::Field(name)]);
    for (field, at, new, old, wanted) in [
        ("floor", 3, "(0, 9)", "(4, 9)]", "(4, 9), (0, 9)]"),
        ("floor", 1, "(2, 0)", "(0, 0), (4, 0)", "(0, 0), (2, 0), (4, 0)"),
        ("floor", 0, "(2, 0)", "[(0, 0)", "[(2, 0), (0, 0)"),
        ("walls", 2, "(side: 3)", "(side: 2)\n", "(side: 2),\n        (side: 3),\n"),
        ("walls", 1, "(side: 3)", "// east\n", "// east\n        (side: 3),\n"),
        ("walls", 0, "(side: 3)", "[\n", "[\n        (side: 3),\n"),
    ] {
        let got = changed(BAY, |t| t.insert(list(t, field)?, at, new));
        assert_eq!(got, BAY.replacen(old, wanted, 1), "{field} {at}");
    }
    // a new field goes behind the note beside the last one
    let got = changed(BAY, |t| t.set_field(t.root()?, "ceiling", "4200"));
    assert_eq!(got, BAY.replace("(1, 2) // no more", "(1, 2), // no more\n    ceiling: 4200,"));
    for (text, wanted) in [
        ("()", "(a: 1)"),
        ("(b: 2)", "(b: 2, a: 1)"),
        ("(b: 2,)", "(b: 2, a: 1,)"),
        ("(b: 2 /* x */)", "(b: 2, a: 1 /* x */)"),
        ("(\n)", "(\n    a: 1,\n)"),
        ("(\n  b: 2, /* x\n y */ // z\n)", "(\n  b: 2, /* x\n y */ // z\n  a: 1,\n)"),
        ("(\n  b: 2)", "(\n  b: 2,\n  a: 1,)"),
    ] {
        assert_eq!(changed(text, |t| t.set_field(t.root()?, "a", "1")), wanted, "{text}");
    }
}

#[test]
fn what_is_taken_out_leaves_no_hole() {
    let list = |t: &Tree, name: &str| t.at(&[Step::Field(name)]);
    for (field, at, old, wanted) in [
        ("floor", 0, "(0, 0), ", ""),
        ("floor", 1, "(4, 0), ", ""),
        ("floor", 2, ", (4, 9)", ""),
        ("walls", 0, "(side: 1), // east", "// east"),
        ("walls", 1, "        (side: 2)\n", ""),
    ] {
        let got = changed(BAY, |t| t.remove(list(t, field)?, at));
        assert_eq!(got, BAY.replacen(old, wanted, 1), "{field} {at}");
    }
    let got = changed(BAY, |t| t.remove_field(t.root()?, "floor"));
    assert_eq!(got, BAY.replace("    floor: [(0, 0), (4, 0), (4, 9)],\n", ""));
    for (text, wanted) in [
        ("(a: 1)", "()"),
        ("(a: 1,)", "()"),
        ("(b: 2, a: 1)", "(b: 2)"),
        ("(a: 1, b: 2)", "(b: 2)"),
        ("(b: 2, a: 1,)", "(b: 2,)"),
        ("(b: 2, /* x */ a: 1)", "(b: 2, /* x */ )"),
    ] {
        assert_eq!(changed(text, |t| t.remove_field(t.root()?, "a")), wanted, "{text}");
    }
}

#[test]
fn patches_that_overlap_or_do_not_fit_are_refused() {
    let patch = |range, new: &str| Patch { range, new: new.to_owned() };
    assert_eq!(apply("abcdef", &[patch(4..5, "E"), patch(1..2, "BB")]), Some("aBBcdEf".to_owned()));
    assert_eq!(apply("abcdef", &[patch(1..3, ""), patch(2..4, "")]), None);
    assert_eq!(apply("abc", &[patch(2..9, "")]), None);
    assert_eq!(apply("äbc", &[patch(1..2, "")]), None, "inside a character");
}

/// Values as people write them, with notes and blanks between.
fn value() -> impl Strategy<Value = String> {
    let blank = prop::sample::select(vec!["", " ", "\n  ", " /* ) */ ", " // ] \n", "\r\n\t"]);
    let leaf = prop::sample::select(vec!["1", "-2.5", "\"a, ) b\"", "Metal", "r#\"x\"y\"#", "true", "\"ä\""]);
    leaf.prop_map(str::to_owned).prop_recursive(4, 40, 4, move |inner| {
        let items = prop::collection::vec((blank.clone(), inner, blank.clone()), 0..4);
        (items, 0..4usize, any::<bool>()).prop_map(|(items, kind, comma)| {
            let (open, close) = [("(", ")"), ("Box(", ")"), ("[", "]"), ("{", "}")][kind];
            let parts = items.iter().enumerate().map(|(i, (a, v, b))| match kind {
                1 => format!("{a}f{i}: {v}{b}"),
                3 => format!("{a}\"k{i}\": {v}{b}"),
                _ => format!("{a}{v}{b}"),
            });
            let comma = if comma && !items.is_empty() { "," } else { "" };
            format!("{open}{}{comma}{close}", parts.collect::<Vec<_>>().join(","))
        })
    })
}

/// Every bracket of a tree.
fn brackets(tree: &Tree) -> Vec<Id> {
    let mut open: Vec<Id> = tree.root().into_iter().collect();
    let mut all = Vec::new();
    while let Some(id) = open.pop() {
        if matches!(tree.kind(id), Kind::Fields | Kind::Tuple | Kind::List | Kind::Map) {
            all.push(id);
        }
        open.extend(tree.entries(id).iter().map(|e| e.value));
    }
    all
}

/// What a tree says, without blanks and notes.
fn spelt(tree: &Tree, id: Id) -> String {
    let inner: Vec<String> =
        tree.entries(id).iter().map(|e| format!("{}:{}", tree.key(e), spelt(tree, e.value))).collect();
    match tree.kind(id) {
        Kind::Word | Kind::Number | Kind::Text | Kind::Bad => tree.source(id).to_owned(),
        kind => format!("{kind:?}{}<{}>", tree.word(id), inner.join(",")),
    }
}

proptest! {
    #![proptest_config(crate::seeds::cases(256))]
    #[test]
    fn no_text_is_too_strange(text in "\\PC{0,60}", signs in "[()\\[\\]{},:\"'/*a1 \n-]{0,60}") {
        for text in [text, signs] {
            let tree = Tree::new(text.as_str());
            prop_assert!(tree.root().is_some() || !tree.faults().is_empty());
            for id in brackets(&tree) {
                for entry in tree.entries(id) {
                    prop_assert!(text.get(tree.entry_range(entry)).is_some());
                }
            }
        }
    }

    #[test]
    fn a_change_changes_what_it_is_about_and_nothing_else(text in value(), which in any::<prop::sample::Index>(), at in any::<prop::sample::Index>(), take in any::<bool>()) {
        let tree = Tree::new(text.as_str());
        prop_assert_eq!(tree.faults(), &[]);
        let all = brackets(&tree);
        prop_assume!(!all.is_empty());
        let id = all[which.index(all.len())];
        let entries = tree.entries(id);
        let new = match tree.kind(id) { Kind::Fields => "new: 7", Kind::Map => "\"new\": 7", _ => "7" };
        let (patch, wanted) = if take && !entries.is_empty() {
            let i = at.index(entries.len());
            (tree.remove(id, i), entries.len() - 1)
        } else {
            (tree.insert(id, at.index(entries.len() + 1), new), entries.len() + 1)
        };
        let patch = patch.expect("a patch");
        let new = apply(&text, std::slice::from_ref(&patch)).expect("fits");
        let after = Tree::new(new.as_str());
        prop_assert_eq!(after.faults(), &[], "{}", new);
        prop_assert_eq!(apply(&new, &[patch.inverse(&text).expect("fits")]), Some(text.clone()));
        // notes are all still there
        let notes = |t: &str| (t.matches("/* ) */").count(), t.matches("// ]").count());
        let held: usize = if take && !entries.is_empty() { let e = &entries[at.index(entries.len())]; let s = &text[tree.entry_range(e)]; notes(s).0 + notes(s).1 } else { 0 };
        prop_assert_eq!(notes(&text).0 + notes(&text).1 - held, notes(&new).0 + notes(&new).1);
        // the same bracket is found again by counting, and holds one part more or less
        let again = brackets(&after);
        prop_assert!(again.iter().any(|b| after.entries(*b).len() == wanted));
        if !take || entries.is_empty() {
            let back = again.iter().find_map(|b| {
                let i = after.entries(*b).iter().position(|e| after.source(e.value) == "7")?;
                after.remove(*b, i)
            });
            let back = apply(&new, &[back.expect("the new part")]).expect("fits");
            let back = Tree::new(back.as_str());
            prop_assert_eq!(spelt(&back, back.root().expect("a value")), spelt(&tree, tree.root().expect("a value")));
        }
    }
}
