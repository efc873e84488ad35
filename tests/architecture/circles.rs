//! No file of a room uses another that uses it in turn, over however many steps: what can be read by itself, can be changed
//! by itself.

use std::collections::{BTreeMap, BTreeSet};

use super::{Source, sources, without_tests};

/// Circles that still stand, each with what holds it together. The list, and each circle, may only grow smaller.
const KNOWN: [(&[&str], &str); 21] = [
    (
        &["src/advice/cards.rs", "src/advice/mod.rs", "src/advice/whole.rs"],
        "the room's answer is declared in its `mod.rs`, which makes it",
    ),
    (
        &[
            "src/checks/acceptance.rs",
            "src/checks/figures.rs",
            "src/checks/finding.rs",
            "src/checks/mod.rs",
            "src/checks/pairs.rs",
            "src/checks/rule.rs",
            "src/checks/wording/mod.rs",
            "src/checks/wording/notes.rs",
            "src/checks/wording/outcome.rs",
        ],
        "a finding knows its rule, a rule its findings' words; the context stands with the pairs",
    ),
    (
        &["src/checks/rules/clear_zone/around.rs", "src/checks/rules/clear_zone/mod.rs"],
        "the rule's file has the helpers of its parts",
    ),
    (
        &[
            "src/driving/connect.rs",
            "src/driving/course.rs",
            "src/driving/guide.rs",
            "src/driving/margin.rs",
            "src/driving/mirror.rs",
            "src/driving/mod.rs",
            "src/driving/search.rs",
        ],
        "the types of the answer stand in `mod.rs` with the driver",
    ),
    (
        &["src/edit/bay/floor.rs", "src/edit/bay/mod.rs", "src/edit/bay/put_down.rs"],
        "the room's thing is declared in `mod.rs`, which picks what is done",
    ),
    (&["src/files/folder.rs", "src/files/open.rs"], "how a file is found beside a job stands in both"),
    (
        &[
            "src/geometry/convex.rs",
            "src/geometry/depth.rs",
            "src/geometry/gap/mod.rs",
            "src/geometry/outline.rs",
            "src/geometry/polygon.rs",
            "src/geometry/shape.rs",
            "src/geometry/union.rs",
        ],
        "shapes measure their gaps, gaps are of shapes",
    ),
    (&["src/layout/applies.rs", "src/layout/rig.rs"], "the setup's faults"),
    (&["src/layout/floor/mod.rs", "src/layout/floor/ties.rs"], "the field's own types stand in `mod.rs`"),
    (&["src/layout/fresnel.rs", "src/layout/stations.rs"], "what a zone is made with"),
    (
        &["src/layout/marks.rs", "src/layout/setup.rs", "src/layout/strings.rs"],
        "a setup holds its marks and strings",
    ),
    (&["src/layout/sheets.rs", "src/layout/sides.rs", "src/layout/stage.rs"], "a stage holds its walls"),
    (&["src/model/further.rs", "src/model/language.rs"], "one language, in two files for length"),
    (
        &["src/paint/drawing/lettering.rs", "src/paint/drawing/mod.rs"],
        "the drawing's own types stand in `mod.rs`",
    ),
    (
        &["src/paint/labels/mod.rs", "src/paint/labels/places.rs", "src/paint/outline.rs"],
        "labels keep off outlines, which are made of labels' boxes",
    ),
    (
        &["src/paint/theme/mod.rs", "src/paint/theme/palette.rs", "src/paint/theme/table.rs"],
        "the theme's own types stand in `mod.rs`",
    ),
    (
        &[
            "src/report/floor.rs",
            "src/report/floor_text.rs",
            "src/report/json.rs",
            "src/report/moves.rs",
            "src/report/text.rs",
            "src/report/way_in.rs",
        ],
        "helpers of the page and of the JSON stand in the files that use them all",
    ),
    (
        &[
            "src/scene/bay.rs",
            "src/scene/findings.rs",
            "src/scene/mod.rs",
            "src/scene/plan.rs",
            "src/scene/setup.rs",
            "src/scene/things.rs",
            "src/scene/vehicle.rs",
            "src/scene/walls.rs",
        ],
        "the scene's own types stand in `mod.rs` with the list of what is drawn",
    ),
    (
        &[
            "src/siting/change.rs",
            "src/siting/choose.rs",
            "src/siting/find.rs",
            "src/siting/stands.rs",
            "src/siting/whole.rs",
        ],
        "the search's types stand with the search",
    ),
    (&["src/siting/grow/gaps.rs", "src/siting/grow/mod.rs"], "the growth's own types stand in `mod.rs`"),
    (
        &["src/syntax/build.rs", "src/syntax/token.rs", "src/syntax/tree.rs"],
        "a tree is built of tokens, and tokens know what they are in",
    ),
];

#[test]
fn no_files_of_a_room_stand_in_a_circle() {
    let mut wrong = Vec::new();
    let mut met = BTreeSet::new();
    for circle in circles(&sources("src")) {
        let known = KNOWN.iter().find(|(files, _)| circle.iter().all(|f| files.contains(&f.as_str())));
        match known {
            Some(_) => met.extend(circle),
            None => wrong.push(circle.join("\n  ")),
        }
    }
    assert!(wrong.is_empty(), "files in a circle:\n  {}", wrong.join("\n\n  "));
    for (files, reason) in KNOWN {
        assert!(!reason.is_empty());
        for file in files {
            assert!(met.contains(*file), "{file} stands in no circle any more: take it off the list");
        }
    }
}

/// The watch itself: a circle over three files, through a list in braces, a re-export and a path in the code.
#[test]
fn circles_are_found() {
    let file = |name: &str, code: &str| Source {
        name: name.into(),
        room: "a".into(),
        text: String::new(),
        code: code.into(),
    };
    let house = |last: &str| {
        [
            file("src/a/mod.rs", "mod one; mod two; mod three; pub use three::Third;"),
            file("src/a/one.rs", "use super::{two::{self, Second as S}, other}; "),
            file("src/a/two.rs", "use crate::a::Third; struct Second;"),
            file("src/a/three.rs", last),
        ]
    };
    let found = circles(&house("pub struct Third; fn f() { super::one::g() }"));
    assert_eq!(found, [["src/a/one.rs", "src/a/three.rs", "src/a/two.rs"]]);
    assert!(circles(&house("pub struct Third; #[cfg(test)]\nmod tests { use super::one; }")).is_empty());
    let up = [
        file("src/a/mod.rs", "mod one; pub fn help() {} fn f() { one::g() }"),
        file("src/a/one.rs", "use super::help;"),
    ];
    assert_eq!(circles(&up), [["src/a/mod.rs", "src/a/one.rs"]]);
}

/// Files that reach one another, in groups.
fn circles(sources: &[Source]) -> Vec<Vec<String>> {
    let house = House::of(sources.iter().filter(|s| !s.is_test()));
    let uses: BTreeMap<&str, BTreeSet<&str>> =
        house.files.values().map(|f| (f.name, house.uses(f))).collect();
    let reached: BTreeMap<&str, BTreeSet<&str>> = uses.keys().map(|f| (*f, reach(f, &uses))).collect();
    let mut groups = BTreeSet::new();
    for (file, far) in &reached {
        let group: Vec<String> =
            far.iter().filter(|other| reached[*other].contains(file)).map(ToString::to_string).collect();
        if group.len() > 1 {
            groups.insert(group);
        }
    }
    groups.into_iter().collect()
}

fn reach<'a>(from: &'a str, uses: &BTreeMap<&'a str, BTreeSet<&'a str>>) -> BTreeSet<&'a str> {
    let (mut found, mut next) = (BTreeSet::new(), vec![from]);
    while let Some(file) = next.pop() {
        for other in &uses[file] {
            if found.insert(*other) {
                next.push(other);
            }
        }
    }
    found
}

/// Every file by its module path.
struct House<'a> {
    files: BTreeMap<Vec<String>, File<'a>>,
}

struct File<'a> {
    name: &'a str,
    module: Vec<String>,
    code: &'a str,
    /// Paths of `use`, one for each name.
    imports: Vec<Import>,
    /// Other paths of the code.
    paths: Vec<Vec<String>>,
}

struct Import {
    path: Vec<String>,
    /// What it is called from then on; `*` for all.
    name: String,
    /// It is only passed on.
    public: bool,
}

impl<'a> House<'a> {
    fn of(sources: impl Iterator<Item = &'a Source>) -> House<'a> {
        let files = sources.map(|source| {
            let path = source.name.trim_start_matches("src/").trim_end_matches(".rs");
            let own = |p: &&str| !matches!(*p, "mod" | "lib" | "main");
            let module: Vec<String> = path.split('/').filter(own).map(str::to_owned).collect();
            let code = without_tests(&source.code);
            let (imports, paths) = named(code);
            (module.clone(), File { name: &source.name, module, code, imports, paths })
        });
        House { files: files.collect() }
    }

    /// The other files of its room that a file names. What it only passes on it does not use.
    fn uses(&self, file: &File) -> BTreeSet<&'a str> {
        let imports = file.imports.iter().filter(|i| !i.public).map(|i| &i.path);
        let all = imports.chain(&file.paths).filter_map(|path| self.file_of(&file.module, path, 0));
        let of_room = |f: &&File| f.module.first() == file.module.first() && f.module != file.module;
        all.filter(of_room).map(|f| f.name).collect()
    }

    /// The file in which what a path names is written.
    fn file_of(&self, from: &[String], path: &[String], depth: usize) -> Option<&File<'a>> {
        let mut at = from.to_vec();
        let mut rest = path;
        match path.first()?.as_str() {
            "crate" => (at, rest) = (Vec::new(), &path[1..]),
            "self" => rest = &path[1..],
            "super" => {}
            child if self.files.contains_key(&[from, &[child.to_owned()]].concat()) => {}
            _ => return None,
        }
        for name in rest {
            if name == "super" {
                at.pop();
                continue;
            }
            at.push(name.clone());
            if !self.files.contains_key(&at) {
                at.pop();
                return self.item(&at, name, depth);
            }
        }
        self.files.get(&at)
    }

    /// The file of an item of a module, which may only pass it on.
    fn item(&self, module: &[String], name: &str, depth: usize) -> Option<&File<'a>> {
        let file = self.files.get(module)?;
        let follow = |import: &Import| self.file_of(module, &import.path, depth + 1);
        if depth < 8 && !defines(file.code, name) {
            if let Some(import) = file.imports.iter().find(|i| i.name == name) {
                return follow(import);
            }
            let all = file.imports.iter().filter(|i| i.name == "*").filter_map(follow);
            if let Some(found) = all.into_iter().find(|f| defines(f.code, name)) {
                return Some(found);
            }
        }
        Some(file)
    }
}

/// Whether an item of that name is written here.
fn defines(code: &str, name: &str) -> bool {
    let words = ["struct", "enum", "union", "trait", "type", "fn", "const", "static"];
    let tokens = tokens(code);
    tokens.windows(2).any(|pair| words.contains(&pair[0]) && pair[1] == name)
}

fn tokens(code: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let mut rest = code.trim_start();
    while let Some(first) = rest.chars().next() {
        let is_word = |c: char| c.is_alphanumeric() || c == '_';
        let length = match first {
            c if is_word(c) => rest.find(|c| !is_word(c)).unwrap_or(rest.len()),
            ':' if rest.starts_with("::") => 2,
            c => c.len_utf8(),
        };
        found.push(&rest[..length]);
        rest = rest[length..].trim_start();
    }
    found
}

/// What a source imports, and the other paths in its code.
fn named(code: &str) -> (Vec<Import>, Vec<Vec<String>>) {
    let tokens = tokens(code);
    let (mut imports, mut paths) = (Vec::new(), Vec::new());
    let mut at = 0;
    while at < tokens.len() {
        let before = at.checked_sub(1).map_or("", |b| tokens[b]);
        if tokens[at] == "use" {
            at += 1;
            tree(&tokens, &mut at, &[], before == "pub" || before == ")", &mut imports);
        } else if tokens.get(at + 1) == Some(&"::") && !matches!(before, "::" | ".") && is_name(tokens[at]) {
            let mut path = vec![tokens[at].to_owned()];
            while tokens.get(at + 1) == Some(&"::") && tokens.get(at + 2).is_some_and(|t| is_name(t)) {
                path.push(tokens[at + 2].to_owned());
                at += 2;
            }
            paths.push(path);
        }
        at += 1;
    }
    (imports, paths)
}

fn is_name(token: &str) -> bool {
    token.starts_with(|c: char| c.is_alphabetic() || c == '_')
}

/// One tree of `use`, after `before`; ends at what follows it.
fn tree(tokens: &[&str], at: &mut usize, before: &[String], public: bool, out: &mut Vec<Import>) {
    let mut path = before.to_vec();
    loop {
        match tokens.get(*at) {
            Some(&"{") => {
                *at += 1;
                while tokens.get(*at).is_some_and(|t| *t != "}") {
                    tree(tokens, at, &path, public, out);
                    if tokens.get(*at) == Some(&",") {
                        *at += 1;
                    }
                }
                *at += 1;
                return;
            }
            Some(&"*") => {
                *at += 1;
                return out.push(Import { path, name: "*".into(), public });
            }
            Some(&"::") => *at += 1,
            Some(&"self") if !path.is_empty() => *at += 1,
            Some(&"as") => {
                let name = tokens.get(*at + 1).copied().unwrap_or_default().to_owned();
                *at += 2;
                return out.push(Import { path, name, public });
            }
            Some(token) if is_name(token) => {
                path.push((*token).to_owned());
                *at += 1;
            }
            _ => {
                let name = path.last().cloned().unwrap_or_default();
                return out.push(Import { path, name, public });
            }
        }
    }
}
