//! Folders and names: one style of module files, folders that can be taken in at a glance, names that mean one thing.

use std::collections::{BTreeMap, BTreeSet};

use super::{Source, root, sources, without_tests};

/// Rust files a folder of `src` holds at most, without those of its folders.
const MOST: usize = 12;

/// Folders that hold more, with how many and why. A number may only get smaller.
const FULLER: [(&str, usize, &str); 10] = [
    ("src/checks/rules", 19, "a rule is a file, and the list of rules is the folder"),
    ("src/driving", 17, "one search; not yet parted into the car, the space and the ways"),
    ("src/files", 18, "not yet parted into reading, writing and what is remembered"),
    ("src/geometry", 13, "one subject a file; the last few are small"),
    ("src/layout", 27, "not yet parted into vehicle, construction, stations and bay"),
    ("src/model", 22, "a kind of file is a file; not yet parted from what reads and writes them"),
    ("src/model/faults", 14, "a kind of file is a file, and each has its faults"),
    ("src/report", 16, "not yet parted into page, JSON and words"),
    ("src/scene", 15, "what is drawn is a file each"),
    ("src/siting", 23, "not yet parted into obstacles, search and what else is answered"),
];

/// Public types of one name, with the meanings it has. A name on the list may only lose meanings.
const MEANS_MORE: [(&str, usize, &str); 38] = [
    ("Ask", 3, "what is asked of a search for a way in, of one of its ways, of the search for a place"),
    (
        "Bench",
        2,
        "a job that trials are made on; the job a rule's table of cases is judged on, in tests alone",
    ),
    ("Best", 2, "the best way in; the best place"),
    ("Entry", 2, "a file in a list; a field of a tree"),
    ("Fault", 2, "what is wrong in a file; in a typed length"),
    ("Floor", 2, "the outline of a bay; what the page tells of it"),
    ("Found", 5, "what a private search answers, each in its own room"),
    ("Gap", 2, "a signed distance; the room under a straight edge"),
    ("Item", 4, "what a finding is about; a thing drawn; a wall of a search"),
    ("Judged", 2, "how a rule judges; a trial with its judgement"),
    ("Kept", 2, "what the journal keeps; a keep-clear area as laid out"),
    ("Kind", 2, "a kind of file; a kind of node"),
    ("Limit", 2, "least room on the way in; a bound of a place"),
    ("Mirrored", 2, "a setup used for both sides; a bay turned over"),
    ("Note", 2, "of a finding; of a search"),
    ("Pair", 2, "things whose distance is judged; lengths that are compared"),
    ("Patch", 2, "a piece of a map; a change of a text"),
    ("Piece", 2, "of equipment; of an obstacle"),
    ("Plane", 2, "of the floor; of an upper bound"),
    ("Pose", 2, "as a job spells it; on a way driven"),
    ("Reading", 2, "a figure read on the day; one equation of an adjustment"),
    ("Ready", 2, "what a readiness line is about; what a search was made ready with"),
    ("Setup", 2, "as a procedure spells it; as laid out"),
    ("Show", 2, "what is drawn; how lengths are written"),
    ("Side", 3, "of a bay; of a vehicle; of an obstacle"),
    ("Spot", 2, "a place in a text; a place on the plan"),
    ("Stage", 2, "what stays in a bay; a step of the tries for a way in"),
    ("Stand", 2, "a target set down; a stop of the vehicle"),
    ("Station", 2, "as a procedure spells it; as laid out"),
    ("Step", 2, "of undoing; of a path in a tree"),
    ("Stopped", 2, "a search was told to stop; a trial was"),
    ("Sun", 2, "where it stands; what a finding says of it"),
    ("Surface", 2, "of a floor; what is painted on"),
    ("Token", 2, "of a file; of a typed length"),
    ("Tried", 2, "a change that opens a bay; a step of advice"),
    ("Unit", 3, "of a length as typed; of a figure in a file; of a finding"),
    ("View", 2, "what a sensor sees; how the plan is looked at"),
    ("Zone", 2, "as a procedure spells it; as laid out"),
];

/// A folder's own file is its `mod.rs`: no `x.rs` stands beside a folder `x`.
#[test]
fn a_module_with_parts_is_a_folder_with_mod_rs() {
    for source in sources("src").into_iter().chain(sources("tests")) {
        let folder = source.name.trim_end_matches(".rs");
        assert!(
            !root().join(folder).is_dir(),
            "{} stands beside its folder: make it {folder}/mod.rs",
            source.name
        );
    }
}

#[test]
fn a_folder_is_taken_in_at_a_glance() {
    let mut files: BTreeMap<String, usize> = BTreeMap::new();
    for source in sources("src") {
        let folder = source.name.rsplit_once('/').map_or("", |(folder, _)| folder);
        *files.entry(folder.to_owned()).or_default() += 1;
    }
    for (folder, number) in &files {
        let most = FULLER.iter().find(|(name, ..)| name == folder).map_or(MOST, |(_, most, _)| *most);
        assert!(*number <= most, "{folder} holds {number} files, {most} at most: part it by subject");
    }
    for (folder, most, reason) in FULLER {
        assert!(
            files.get(folder).is_some_and(|n| *n == most) && most > MOST && !reason.is_empty(),
            "{folder} holds fewer"
        );
        assert!(!folder.starts_with("src/app"), "the window's folders hold a dozen");
    }
}

#[test]
fn a_name_means_one_thing() {
    let sources = sources("src");
    let met = meanings(&sources);
    let wrong: Vec<String> = met
        .iter()
        .filter(|(name, files)| {
            let listed = MEANS_MORE.iter().find(|(n, ..)| n == *name).map_or(1, |(_, most, _)| *most);
            files.len() > listed
        })
        .map(|(name, files)| format!("{name}: {}", files.iter().copied().collect::<Vec<_>>().join(", ")))
        .collect();
    assert!(wrong.is_empty(), "public types of one name:\n  {}", wrong.join("\n  "));
    for (name, most, reason) in MEANS_MORE {
        let files = met.get(name).map_or(0, BTreeSet::len);
        assert!(files == most && most > 1 && !reason.is_empty(), "{name} has {files} meanings, not {most}");
    }
}

/// The files in which a public type of each name is declared.
fn meanings(sources: &[Source]) -> BTreeMap<String, BTreeSet<&str>> {
    let mut found: BTreeMap<String, BTreeSet<&str>> = BTreeMap::new();
    for source in sources.iter().filter(|s| !s.is_test()) {
        for line in without_tests(&source.code).lines() {
            let Some(rest) = line.trim_start().strip_prefix("pub") else { continue };
            let rest = rest.trim_start_matches(|c| c != ')' && c != ' ').trim_start_matches([')', ' ']);
            let Some((kind, rest)) = rest.split_once(' ') else { continue };
            if ["struct", "enum", "trait", "type", "union"].contains(&kind) {
                let name: String = rest.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
                found.entry(name).or_default().insert(&source.name);
            }
        }
    }
    found
}

#[test]
fn a_name_of_two_meanings_is_found() {
    let file = |name: &str, code: &str| Source {
        name: name.into(),
        room: String::new(),
        text: String::new(),
        code: code.into(),
    };
    let house = [
        file("a.rs", "pub struct Way {\n}\n  pub(super) enum Item<T> {\nstruct Own;"),
        file(
            "b.rs",
            "pub type Way = f64;\nstruct Own;\npub fn way() {}\n#[cfg(test)]\nmod tests {\npub struct Item;",
        ),
    ];
    let found = meanings(&house);
    assert_eq!(found["Way"].len(), 2);
    assert_eq!((found["Item"].len(), found.get("Own")), (1, None));
}
