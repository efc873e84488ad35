//! What the program is built from: where each library comes from, under which licence, and which of them come twice.

use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

use serde_json::Value;

/// Where libraries may come from: the public registry, which keeps what it once served.
const REGISTRY: &str = "registry+https://github.com/rust-lang/crates.io-index";

/// Licences that a program under the MIT licence may be built with, and given away with as a whole.
const LICENCES: [&str; 11] = [
    "MIT",
    "Apache-2.0",
    "Zlib",
    "ISC",
    "0BSD",
    "Unlicense",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "Unicode-3.0",
    // fonts, shipped unchanged inside the window library
    "OFL-1.1",
    "Ubuntu-font-1.0",
];

/// Libraries under another licence, each with the reason why that will do.
const OTHER_LICENCES: [(&str, &str, &str); 1] =
    [("option-ext", "MPL-2.0", "file by file: used unchanged, its source is public")];

/// Libraries that come in more than one version on Linux, each with who asks for another one than the rest.
const TWICE: [(&str, &str); 13] = [
    ("downcast-rs", "parry3d, of the tests, is newer than the window's connection to Wayland"),
    ("foldhash", "hash tables of different age"),
    ("getrandom", "ahash, of the window, is older than the random numbers of the tests"),
    ("glam", "parry3d and nalgebra name several, none of them built"),
    ("hashbrown", "spade, tables and the window each name their own"),
    ("linux-raw-sys", "comes with rustix"),
    ("miniz_oxide", "png is older than flate2"),
    ("rstar", "geo-types is older than geo"),
    ("rustc-hash", "libraries of the window of different age"),
    ("rustix", "the window's event loop is older than temporary files"),
    ("syn", "macros of different age, when building only"),
    ("thiserror", "libraries of different age"),
    ("thiserror-impl", "comes with thiserror"),
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
        assert_eq!(text(package, "source"), REGISTRY, "{name} comes from elsewhere");
        let excused = OTHER_LICENCES.iter().any(|(n, l, _)| *n == name && *l == licence);
        assert!(excused || allowed(&licence), "{name} is under {licence:?}");
    }
    for (name, ..) in OTHER_LICENCES {
        assert!(packages.iter().any(|p| p["name"] == name), "{name} needs no exception any more");
    }
}

/// Whether a licence expression can be met: one of each choice, and every part of a whole.
fn allowed(expression: &str) -> bool {
    let expression = expression.replace('/', " OR ");
    let part = |word: &str| {
        let plain = word.trim_matches(['(', ')', ' ']);
        let plain = plain.split(" WITH ").next().unwrap_or_default();
        LICENCES.contains(&plain)
    };
    // brackets hold choices only: "(MIT OR Apache-2.0) AND Unicode-3.0"
    !expression.is_empty() && expression.split(" AND ").all(|all| all.split(" OR ").any(part))
}

#[cfg(target_os = "linux")]
#[test]
fn no_library_comes_twice_without_a_reason() {
    let mut versions: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for package in packages() {
        let text = |key: &str| package[key].as_str().unwrap_or_default().to_owned();
        versions.entry(text("name")).or_default().insert(text("version"));
    }
    let twice: Vec<&str> = versions.iter().filter(|(_, v)| v.len() > 1).map(|(n, _)| n.as_str()).collect();
    let known: Vec<&str> = TWICE.iter().map(|(name, _)| *name).collect();
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
        ("MPL-2.0", false),
        ("", false),
    ] {
        assert_eq!(allowed(expression), is, "{expression}");
    }
}
