//! The house's own rules, read off the source: which room may use which, and who may name what.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a test stops where it fails, and a bench prints"
)]

mod circles;
mod dependencies;
mod properties;
mod rules;
mod shape;

use std::fs;
use std::path::{Path, PathBuf};

/// The rooms with their floor. A room uses only rooms on lower floors, and those beside it that [`BESIDE`] allows.
const ROOMS: [(&str, u8); 19] = [
    // of tests only
    ("seeds", 0),
    ("units", 0),
    ("phrases", 1),
    ("syntax", 1),
    ("geometry", 1),
    ("model", 2),
    ("files", 3),
    ("edit", 3),
    ("layout", 4),
    ("driving", 4),
    ("checks", 5),
    ("siting", 5),
    ("advice", 5),
    ("scene", 6),
    ("report", 6),
    ("sheet", 6),
    ("paint", 7),
    ("app", 8),
    ("cli", 8),
];

/// Rooms that may use one on their own floor: (who, whom).
const BESIDE: [(&str, &str); 7] = [
    ("units", "seeds"),
    ("edit", "files"),
    ("siting", "checks"),
    ("driving", "layout"),
    ("advice", "checks"),
    ("advice", "siting"),
    ("scene", "report"),
];

/// Lines a file may have at most. A longer one has become two things.
const LONGEST: usize = 400;

/// Files that may be longer, each with its reason.
const LONGER: [(&str, usize, &str); 1] = [(
    "tests/window/main.rs",
    700,
    "one window is opened and driven through every part; its helpers are shared",
)];

/// Everything that may stand at the top of the project.
const TOP: [&str; 18] = [
    ".ci",
    ".gitattributes",
    ".github",
    ".gitignore",
    ".cargo",
    "CHANGELOG.md",
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE",
    "README.md",
    "assets",
    "bays",
    "clippy.toml",
    "demo",
    "rust-toolchain.toml",
    "rustfmt.toml",
    "src",
];

struct Source {
    /// Path from the project's root, with forward slashes.
    name: String,
    /// The room it belongs to; empty for `lib.rs` and `main.rs`.
    room: String,
    text: String,
    /// The text without comments, and without what stands in quotes.
    code: String,
}

impl Source {
    /// Tests in files of their own may read and write files, and look at the clock.
    fn is_test(&self) -> bool {
        self.name.ends_with("/tests.rs") || self.name.contains("/tests/")
    }
}

#[test]
fn rooms_use_only_rooms_below() {
    let mut wrong = Vec::new();
    for source in sources("src") {
        if source.room.is_empty() {
            continue;
        }
        let floor = floor(&source.room)
            .unwrap_or_else(|| panic!("{}: no room {:?} in the table", source.name, source.room));
        for used in rooms_named(&source.code) {
            let allowed = used == source.room
                || floor_of(&source, &used) < floor
                || BESIDE.contains(&(source.room.as_str(), used.as_str()))
                || (source.is_test() && used == "files");
            if !allowed {
                wrong.push(format!("{} uses {used}", source.name));
            }
        }
    }
    assert!(wrong.is_empty(), "not below:\n{}", wrong.join("\n"));
}

fn floor(room: &str) -> Option<u8> {
    ROOMS.iter().find(|(name, _)| *name == room).map(|(_, floor)| *floor)
}

fn floor_of(source: &Source, room: &str) -> u8 {
    floor(room).unwrap_or_else(|| panic!("{} names crate::{room}, which is no room", source.name))
}

/// The rooms named by `crate::room`, also in lists (`crate::{a::X, b}`); `super` never leaves a room but from its top.
fn rooms_named(code: &str) -> Vec<String> {
    let mut named = Vec::new();
    let mut rest = code;
    while let Some(at) = rest.find("crate::") {
        let before = rest[..at].chars().next_back();
        rest = &rest[at + "crate::".len()..];
        if before.is_some_and(|c| c.is_alphanumeric() || c == '_') {
            continue;
        }
        match rest.strip_prefix('{') {
            Some(list) => named.extend(first_words(list)),
            None => named.extend(word(rest)),
        }
    }
    // `crate::main` and the like: names at the top that are no rooms are told by their first letter
    named.retain(|n| n.starts_with(|c: char| c.is_ascii_lowercase()));
    named
}

/// The first word of each entry of a list in braces.
fn first_words(list: &str) -> Vec<String> {
    let mut depth = 0;
    let mut words = Vec::new();
    let mut start = true;
    for (i, c) in list.char_indices() {
        match c {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            ',' if depth == 0 => start = true,
            c if start && !c.is_whitespace() => {
                words.extend(word(&list[i..]));
                start = false;
            }
            _ => {}
        }
    }
    words
}

fn word(text: &str) -> Option<String> {
    let word: String = text.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
    (!word.is_empty()).then_some(word)
}

#[test]
fn each_library_is_named_in_its_rooms_alone() {
    // what is named, and the rooms that may; `main.rs` and `lib.rs` have the room ""
    for (named, rooms) in [
        (&["geo::"][..], &["geometry"][..]),
        (&["std::fs", "fs::File", "File::open"], &["files"]),
        (&["egui::", "eframe::", "egui_plot::"], &["paint", "app"]),
        (&["rfd::"], &["app"]),
        (&["clap::"], &["cli"]),
        (&["ron::"], &["model", "files"]),
        (&["println!", "eprintln!", "dbg!"], &[]),
        (&["std::process::exit"], &[]),
        (&["SystemTime::now"], &["app"]),
        // `files` measures how long it reads what nobody asked for by name
        (&["Instant::now"], &["app", "files"]),
    ] {
        for source in sources("src") {
            if rooms.contains(&source.room.as_str()) || source.is_test() {
                continue;
            }
            let code = without_tests(&source.code);
            for name in named {
                assert!(!names(code, name), "{} names {name}; only {rooms:?} may", source.name);
            }
        }
    }
}

/// `screen.rs` turns the theme's colours into the window library's, and makes none.
#[test]
fn colours_live_in_the_theme() {
    let own = ["src/paint/theme/mod.rs", "src/paint/screen/mod.rs"];
    for source in sources("src").iter().filter(|s| !own.contains(&s.name.as_str())) {
        for name in
            ["Color32::from_", "Color32::WHITE", "Color32::BLACK", "Color32::RED", "Rgba::from_", "Hsva::new"]
        {
            assert!(
                !names(&source.code, name),
                "{} makes a colour ({name}); colours come from the theme",
                source.name
            );
        }
    }
}

/// Whether the code names it, not as the end of a longer word.
fn names(code: &str, name: &str) -> bool {
    code.match_indices(name).any(|(at, _)| {
        let before = code[..at].chars().next_back();
        !before.is_some_and(|c| c.is_alphanumeric() || c == '_' || c == ':')
    })
}

#[test]
fn files_stay_short() {
    for source in sources("src").into_iter().chain(sources("tests")) {
        let lines = source.text.lines().count();
        let limit =
            LONGER.iter().find(|(name, ..)| *name == source.name).map_or(LONGEST, |(_, limit, _)| *limit);
        assert!(lines <= limit, "{} has {lines} lines, {limit} at most: split it", source.name);
    }
    for (name, limit, reason) in LONGER {
        let text = fs::read_to_string(root().join(name)).unwrap_or_else(|e| panic!("{name}: {e}"));
        assert!(
            text.lines().count() > LONGEST && limit > LONGEST && !reason.is_empty(),
            "{name} needs no exception"
        );
    }
}

#[test]
fn nothing_else_stands_at_the_top() {
    let own = ["tests", "target", ".git"];
    for entry in fs::read_dir(root()).expect("the project") {
        let name = entry.expect("an entry").file_name().to_string_lossy().into_owned();
        assert!(
            TOP.contains(&name.as_str()) || own.contains(&name.as_str()),
            "{name} is not on the agreed list"
        );
    }
    for name in [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "LICENSE",
        "src",
        "assets",
        "bays",
        "demo",
        "tests",
    ] {
        assert!(root().join(name).exists(), "{name} is missing");
    }
}

/// Every module says at its head what it is.
#[test]
fn every_file_opens_with_what_it_is() {
    for source in sources("src").into_iter().chain(sources("tests")) {
        assert!(source.text.starts_with("//! "), "{} has no words at its head", source.name);
    }
}

/// The table itself can fail: a source that breaks each rule is found out.
#[test]
fn the_watch_is_awake() {
    let code = code_of(
        "use crate::{app::Window, units}; // crate::cli\nlet s = \"crate::files\"; crate::layout::Layout::new();",
    );
    assert_eq!(rooms_named(&code), ["app", "units", "layout"]);
    assert!(names("use geo::Polygon;", "geo::") && !names("use my_geo::Polygon;", "geo::"));
    assert!(!names(&code_of("/* println! */ let a = 'x'; // dbg!"), "println!"));
    assert_eq!(without_tests("code\n#[cfg(test)]\nmod tests {\n std::fs }"), "code\n");
    assert!(floor("siting") == floor("checks") && floor("app") == floor("cli"));
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every Rust source under a folder of the project, sorted.
fn sources(folder: &str) -> Vec<Source> {
    let mut paths = Vec::new();
    walk(&root().join(folder), &mut paths);
    paths.sort();
    assert!(!paths.is_empty(), "no sources in {folder}");
    paths
        .iter()
        .map(|path| {
            let name = path.strip_prefix(root()).expect("under the root").components();
            let parts: Vec<String> = name.map(|c| c.as_os_str().to_string_lossy().into_owned()).collect();
            let text = fs::read_to_string(path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
            let room = match parts.len() {
                0..=2 => {
                    parts[1].strip_suffix(".rs").filter(|n| !matches!(*n, "lib" | "main")).unwrap_or_default()
                }
                _ => &parts[1],
            };
            Source { name: parts.join("/"), room: room.into(), code: code_of(&text), text }
        })
        .collect()
}

fn walk(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap_or_else(|e| panic!("{}: {e}", folder.display())) {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            walk(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
}

/// The text up to its tests: those may read and write files.
fn without_tests(code: &str) -> &str {
    let end = code.find("#[cfg(test)]\nmod tests {").unwrap_or(code.len());
    &code[..end]
}

/// A source without its comments and without what stands in quotes.
fn code_of(text: &str) -> String {
    let mut code = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        let skipped = if rest.starts_with("//") {
            rest.find('\n').unwrap_or(rest.len())
        } else if rest.starts_with("/*") {
            rest.find("*/").map_or(rest.len(), |end| end + 2)
        } else if let Some(hashes) = raw_string(rest) {
            let close = format!("\"{}", "#".repeat(hashes));
            let open = hashes + 2;
            rest[open..].find(&close).map_or(rest.len(), |end| open + end + close.len())
        } else if c == '"' {
            quoted(rest)
        } else if rest.starts_with("'\"'") || rest.starts_with("'\\''") || rest.starts_with("'\\\"'") {
            rest[1..].find('\'').map_or(rest.len(), |_| if rest.starts_with("'\"'") { 3 } else { 4 })
        } else {
            0
        };
        if skipped == 0 {
            code.push(c);
            rest = &rest[c.len_utf8()..];
        } else {
            rest = &rest[skipped..];
        }
    }
    code
}

/// The hashes of a raw string that starts here.
fn raw_string(text: &str) -> Option<usize> {
    let after = text.strip_prefix('r')?;
    let hashes = after.len() - after.trim_start_matches('#').len();
    after[hashes..].starts_with('"').then_some(hashes)
}

/// The length of a string in quotes.
fn quoted(text: &str) -> usize {
    let mut escaped = false;
    for (i, c) in text.char_indices().skip(1) {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => return i + 1,
            _ => {}
        }
    }
    text.len()
}
