//! Every kind of file, written: what is spelt reads back equal, and a change leaves everything else of a text alone.

use std::path::{Path, PathBuf};

use super::super::{FileKind, Kind, Source, kind_of, read_text};
use crate::model::writing::{rewrite, spell_whole};
use crate::model::{Bay, Equipment, Job, Procedure, Vehicle, Workshop};
use crate::syntax::{Kind as Part, Tree};

/// Every file of the demonstration and of the cases, with its kind.
fn files() -> Vec<(PathBuf, Kind, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut folders = vec![root.join("demo"), root.join("bays"), root.join("tests/cases")];
    let mut files = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).expect("folder").flatten() {
            let path = entry.path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|e| e == "ron")
                && let Ok(source) = Source::load(&path)
                && let Some(kind) = kind_of(&source.text)
            {
                files.push((path, kind, source.text));
            }
        }
    }
    files.sort();
    let samples = super::samples::ALL.iter().enumerate();
    files.extend(samples.map(|(i, text)| {
        (PathBuf::from(format!("sample {i}")), kind_of(text).expect("a kind"), (*text).to_owned())
    }));
    files
}

/// Spells a file anew, and changes its name in its own text; tells whether it could be read at all.
fn holds<T: FileKind + PartialEq + std::fmt::Debug>(path: &Path, text: &str, rename: fn(&mut T)) -> bool {
    let Ok(value) = read_text::<T>(text, path) else { return false };
    let at = path.display();
    let spelt = spell_whole(&value).unwrap_or_else(|why| panic!("{at}: {why}"));
    assert_eq!(read_text::<T>(&spelt, path).as_ref(), Ok(&value), "{at}: {spelt}");
    assert!(spelt.lines().all(|l| l.trim_end() == l), "{at}: {spelt}");
    assert_eq!(rewrite(text, &value).as_deref(), Some(text), "{at}: nothing changed");
    let mut renamed = value;
    rename(&mut renamed);
    let new = rewrite(text, &renamed).unwrap_or_else(|| panic!("{at}: the name cannot be changed"));
    assert_eq!(read_text::<T>(&new, path).as_ref(), Ok(&renamed), "{at}");
    // the one stretch that differs is the name
    let same = text.bytes().zip(new.bytes()).take_while(|(a, b)| a == b).count();
    let rest = text.bytes().rev().zip(new.bytes().rev()).take_while(|(a, b)| a == b).count();
    assert!(
        new[same..new.len() - rest].len() <= "\"Another name\"".len(),
        "{at}: {}",
        &new[same..new.len() - rest]
    );
    true
}

#[test]
fn every_file_is_spelt_so_that_it_reads_back_and_changed_where_it_changes() {
    let (mut read, mut kinds) = (0, std::collections::BTreeSet::new());
    for (path, kind, text) in files() {
        let held = match kind {
            Kind::Bay => holds::<Bay>(&path, &text, |b| b.name = "Another name".into()),
            Kind::Vehicle => holds::<Vehicle>(&path, &text, |v| v.name = "Another name".into()),
            Kind::Equipment => holds::<Equipment>(&path, &text, |e| e.name = "Another name".into()),
            Kind::Procedure => holds::<Procedure>(&path, &text, |p| p.name = "Another name".into()),
            Kind::Job => holds::<Job>(&path, &text, |j| j.name = "Another name".into()),
            Kind::Workshop => holds::<Workshop>(&path, &text, |w| w.name = "Another name".into()),
        };
        if held {
            read += 1;
            kinds.insert(kind);
        }
    }
    assert!(read > 60 && kinds.len() == 6, "{read} files of {kinds:?}");
}

/// Numbers of a text changed one by one: the text is changed there and nowhere else. Tells how many could be.
fn patched<T: FileKind + PartialEq>(path: &Path, text: &str) -> usize {
    let mut changed = 0;
    let tree = Tree::new(text);
    let mut inside: Vec<_> = tree.root().into_iter().collect();
    while let Some(id) = inside.pop() {
        // `Exactly(5)` and `Some(5)` are said shorter once they change
        if !matches!(tree.word(id), "Exactly" | "Some") {
            inside.extend(tree.entries(id).iter().map(|e| e.value));
        }
        let old = tree.source(id);
        if tree.kind(id) != Part::Number || old.starts_with('-') {
            continue;
        }
        let new = format!("{}1", if old == "0" { "" } else { "1" });
        let range = tree.range(id);
        let other = format!("{}{new}{}", &text[..range.start], &text[range.end..]);
        let Ok(value) = read_text::<T>(&other, path) else { continue };
        let got = rewrite(text, &value);
        assert_eq!(got.as_ref(), Some(&other), "{}: {old} to {new}", path.display());
        changed += 1;
    }
    changed
}

#[test]
fn a_number_is_changed_at_its_place_and_nowhere_else() {
    let mut changed = 0;
    for (path, kind, text) in files().into_iter().filter(|(_, _, text)| text.len() < 8000) {
        changed += match kind {
            Kind::Bay => patched::<Bay>(&path, &text),
            Kind::Vehicle => patched::<Vehicle>(&path, &text),
            Kind::Equipment => patched::<Equipment>(&path, &text),
            Kind::Procedure => patched::<Procedure>(&path, &text),
            Kind::Job => patched::<Job>(&path, &text),
            Kind::Workshop => patched::<Workshop>(&path, &text),
        };
    }
    assert!(changed > 1000, "{changed}");
}

#[test]
fn a_plain_spelling_is_what_another_reader_of_the_notation_reads_too() {
    let options = ron::Options::default()
        .with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME)
        .with_default_extension(ron::extensions::Extensions::UNWRAP_NEWTYPES);
    for (path, kind, text) in files() {
        let spelt = match kind {
            Kind::Bay => read_text::<Bay>(&text, &path).ok().map(|v| spell_whole(&v)),
            Kind::Vehicle => read_text::<Vehicle>(&text, &path).ok().map(|v| spell_whole(&v)),
            Kind::Equipment => read_text::<Equipment>(&text, &path).ok().map(|v| spell_whole(&v)),
            Kind::Procedure => read_text::<Procedure>(&text, &path).ok().map(|v| spell_whole(&v)),
            Kind::Job => read_text::<Job>(&text, &path).ok().map(|v| spell_whole(&v)),
            Kind::Workshop => read_text::<Workshop>(&text, &path).ok().map(|v| spell_whole(&v)),
        };
        if let Some(spelt) = spelt {
            let spelt = spelt.unwrap_or_else(|why| panic!("{}: {why}", path.display()));
            let read = options.from_str::<serde::de::IgnoredAny>(&spelt);
            assert!(read.is_ok(), "{}: {read:?}", path.display());
        }
    }
}
