//! What the program is built from: where each library comes from, under which licence, and which of them come twice.

use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

use serde_json::Value;

/// Where libraries may come from: a registry, which keeps what it once served; all from the same one.
const REGISTRY: &str = "registry+";

/// Licences that a program under the MIT licence may be built with, each with the reason.
const LICENCES: [(&str, &str); 11] = [
    ("MIT", "our own"),
    ("Apache-2.0", "asks for its text and notices"),
    ("Zlib", "asks for its text in the source"),
    ("ISC", "asks for its text"),
    ("0BSD", "asks for nothing"),
    ("Unlicense", "asks for nothing"),
    ("BSD-2-Clause", "asks for its text"),
    ("BSD-3-Clause", "asks for its text, and that nobody advertises with the authors' names"),
    ("Unicode-3.0", "tables of letters: asks for its text"),
    ("OFL-1.1", "fonts, shipped unchanged inside the window library"),
    ("Ubuntu-font-1.0", "fonts, shipped unchanged inside the window library"),
];

/// Exceptions that a licence may come WITH. An exception only ever allows more, but only of these is it known.
const EXCEPTIONS: [&str; 1] = ["LLVM-exception"];

/// Libraries under another licence, each with the reason why that will do.
const OTHER_LICENCES: [(&str, &str, &str); 1] =
    [("option-ext", "MPL-2.0", "file by file: used unchanged, its source is public")];

/// Libraries that come in more than one version on Linux: how many, and who asks for another one than the rest.
const TWICE: [(&str, usize, &str); 13] = [
    ("downcast-rs", 2, "parry3d, of the tests, is newer than the window's connection to Wayland"),
    ("foldhash", 2, "hash tables of different age"),
    ("getrandom", 2, "ahash, of the window, is older than the random numbers of the tests"),
    ("glam", 5, "parry3d and nalgebra name several, none of them built"),
    ("hashbrown", 3, "spade, tables and the window each name their own"),
    ("linux-raw-sys", 2, "comes with rustix"),
    ("miniz_oxide", 2, "png is older than flate2"),
    ("rstar", 2, "geo-types is older than geo"),
    ("rustc-hash", 2, "libraries of the window of different age"),
    ("rustix", 2, "the window's event loop is older than temporary files"),
    ("syn", 2, "macros of different age, when building only"),
    ("thiserror", 2, "libraries of different age"),
    ("thiserror-impl", 2, "comes with thiserror"),
];

/// Every library that goes into the program or its tests on this machine, as cargo tells it.
fn packages() -> Vec<Value> {
    let host = Command::new("rustc").arg("-vV").output().expect("rustc runs");
    let host = String::from_utf8_lossy(&host.stdout).into_owned();
    let host = host.lines().find_map(|l| l.strip_prefix("host: ")).expect("rustc names its host");
    let told = Command::new(env!("CARGO"))
        .args(["metadata", "--locked", "--offline", "--format-version", "1", "--filter-platform", host])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("cargo runs");
    assert!(told.status.success(), "{}", String::from_utf8_lossy(&told.stderr));
    let told: Value = serde_json::from_slice(&told.stdout).expect("cargo's words");
    told["packages"].as_array().expect("packages").clone()
}

#[test]
fn every_library_comes_from_the_registry_under_a_licence_that_will_do() {
    let packages = packages();
    assert!(packages.len() > 100, "only {} libraries", packages.len());
    let text = |p: &Value, key: &str| p[key].as_str().unwrap_or_default().to_owned();
    for package in packages.iter().filter(|p| p["name"] != "baywright") {
        let (name, licence) = (text(package, "name"), text(package, "license"));
        assert!(text(package, "source").starts_with(REGISTRY), "{name} comes from elsewhere");
        let excused = OTHER_LICENCES.iter().any(|(n, l, _)| *n == name && *l == licence);
        assert!(excused || allowed(&licence), "{name} is under {licence:?}");
    }
    for (name, ..) in OTHER_LICENCES {
        assert!(packages.iter().any(|p| p["name"] == name), "{name} needs no exception any more");
    }
}

/// The other systems' libraries are not on this machine to be asked for their licence, but the lock says whence they come.
#[test]
fn every_source_in_the_lock_is_the_registry() {
    let lock = std::fs::read_to_string(super::root().join("Cargo.lock")).expect("a lock");
    let sources: Vec<&str> = lock.lines().filter_map(|l| l.strip_prefix("source = ")).collect();
    assert!(sources.len() > 100, "only {} sources", sources.len());
    for source in &sources {
        assert!(source.trim_matches('"').starts_with(REGISTRY) && *source == sources[0], "{source}");
    }
    // only what lies in this folder has none
    assert_eq!(lock.matches("[[package]]").count(), lock.matches("\nsource = ").count() + 1);
}

/// Whether a licence expression can be met: one of each choice, and every part of a whole. AND binds before OR; the slash
/// of old is OR. What cannot be read is not allowed.
fn allowed(expression: &str) -> bool {
    let spaced = expression.replace('/', " OR ").replace('(', " ( ").replace(')', " ) ");
    let mut words = spaced.split_whitespace().peekable();
    choice(&mut words) == Some(true) && words.next().is_none()
}

type Words<'a> = std::iter::Peekable<std::str::SplitWhitespace<'a>>;

/// `whole OR whole ...`; `None` where it cannot be read.
fn choice(words: &mut Words) -> Option<bool> {
    let mut met = whole(words)?;
    while words.next_if_eq(&"OR").is_some() {
        met |= whole(words)?;
    }
    Some(met)
}

/// `part AND part ...`
fn whole(words: &mut Words) -> Option<bool> {
    let mut met = part(words)?;
    while words.next_if_eq(&"AND").is_some() {
        met &= part(words)?;
    }
    Some(met)
}

/// A licence, one WITH an exception, or a choice in brackets.
fn part(words: &mut Words) -> Option<bool> {
    if words.next_if_eq(&"(").is_some() {
        let met = choice(words)?;
        return words.next_if_eq(&")").map(|_| met);
    }
    let licence = words.next().filter(|w| !["AND", "OR", "WITH", ")"].contains(w))?;
    let known = match words.next_if_eq(&"WITH") {
        Some(_) => EXCEPTIONS.contains(&words.next()?),
        None => true,
    };
    Some(known && LICENCES.iter().any(|(name, _)| *name == licence))
}

#[cfg(target_os = "linux")]
#[test]
fn no_library_comes_twice_without_a_reason() {
    let mut versions: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for package in packages() {
        let text = |key: &str| package[key].as_str().unwrap_or_default().to_owned();
        versions.entry(text("name")).or_default().insert(text("version"));
    }
    let twice: Vec<(&str, usize)> =
        versions.iter().filter(|(_, v)| v.len() > 1).map(|(name, v)| (name.as_str(), v.len())).collect();
    let known: Vec<(&str, usize)> = TWICE.iter().map(|(name, count, _)| (*name, *count)).collect();
    assert_eq!(twice, known, "libraries that come in more than one version");
}

#[test]
fn licences_are_read_as_they_are_written() {
    for (expression, is) in [
        ("MIT", true),
        ("MIT OR GPL-3.0-only", true),
        ("Apache-2.0/MIT", true),
        ("Apache-2.0 WITH LLVM-exception", true),
        ("(MIT OR Apache-2.0) AND Unicode-3.0", true),
        ("(MIT OR Apache-2.0) AND GPL-2.0", false),
        ("GPL-2.0-only AND MIT OR Zlib", true),
        ("MIT OR Zlib AND GPL-2.0-only", true),
        ("Zlib AND (GPL-2.0-only OR (MIT AND ISC))", true),
        ("MIT AND (GPL-2.0-only OR MPL-2.0)", false),
        ("MIT WITH Unknown-exception", false),
        ("GPL-2.0-only WITH LLVM-exception", false),
        ("MPL-2.0", false),
        ("MIT OR", false),
        ("(MIT", false),
        ("MIT)", false),
        ("MIT Zlib", false),
        ("", false),
    ] {
        assert_eq!(allowed(expression), is, "{expression}");
    }
}
