//! A floor survey put into a bay's file; the rest of its text stays as it is.

use std::path::Path;

use super::fault::FileFault;
use super::read::read_text;
use super::source::Source;
use super::write_whole::{reason, write_whole};
use crate::model::Bay;
use crate::model::bay::SpotHeight;
use crate::syntax::{self, Tree};

/// Spots on one line of the file.
const A_LINE: usize = 4;

/// A bay file's text with this survey in it instead of the one it has; comments inside the old list are lost. `error`:
/// standard error of one height, mm. Every fault of the text as it is, or as it would be.
pub fn with_survey(
    path: &Path,
    spots: &[SpotHeight],
    error: Option<f64>,
) -> Result<(String, Bay), Vec<FileFault>> {
    let source = Source::load(path).map_err(|fault| vec![fault])?;
    let mut wanted = read_text::<Bay>(&source.text, path)?;
    let refused = |text: &str| vec![FileFault::whole(path, text)];
    let text = put(&source.text, "heights", Some(&list(spots)));
    let text = text.and_then(|text| put(&text, "reading_error", error.map(|e| format!("{e}")).as_deref()));
    let text = text.ok_or_else(|| refused("the heights cannot be put into this file"))?;
    let bay = read_text::<Bay>(&text, path)?;
    (wanted.heights.0, wanted.reading_error) = (spots.to_vec(), error);
    if bay != wanted {
        return Err(refused("the heights cannot be put into this file: they would not read back the same"));
    }
    Ok((text, bay))
}

/// Writes a bay's file whole: it is the old one or the new one, never half of each.
pub fn save_bay_text(path: &Path, text: &str) -> Result<(), FileFault> {
    let why =
        |e: std::io::Error| FileFault::whole(path, format!("this file cannot be saved: {}", reason(&e)));
    write_whole(path, text.as_bytes()).map_err(why)
}

fn list(spots: &[SpotHeight]) -> String {
    let one = |s: &SpotHeight| format!("({}, {}, {}),", s.0 + 0.0, s.1 + 0.0, s.2 + 0.0);
    let lines = spots.chunks(A_LINE).map(|c| c.iter().map(one).collect::<Vec<_>>().join(" "));
    let lines: String = lines.map(|line| format!("\n        {line}")).collect();
    if lines.is_empty() { "[]".into() } else { format!("[{lines}\n    ]") }
}

/// The text with this value in a field of its outermost bracket; without one the field is taken out. `None` where the
/// text is no file of ours.
fn put(text: &str, field: &str, value: Option<&str>) -> Option<String> {
    let tree = Tree::new(text);
    let root = tree.root()?;
    let patch = match value {
        Some(value) => tree.set_field(root, field, value),
        None => tree.remove_field(root, field),
    };
    syntax::apply(text, patch.as_slice())
}

#[cfg(test)]
mod tests {
    use super::*;

    const BAY: &str = "// our own\n(\n    name: \"Shed\", // the old one\n    floor: [(0, 0), (4000, 0), (4000, 9000), (0, 9000)],\n    ceiling: 3000,\n    heights: [(0, 0, 1), // by the door\n              (4000, 0, 2)],\n    reading_error: 0.5,\n    rules: (walk_around: 600)\n)\n";

    fn survey(text: &str, spots: &[SpotHeight], error: Option<f64>) -> String {
        let dir = tempfile::tempdir().expect("folder");
        let path = dir.path().join("bay.ron");
        std::fs::write(&path, text).expect("write");
        let (new, bay) = with_survey(&path, spots, error).expect("a bay");
        assert_eq!((&bay.heights.0[..], bay.reading_error), (spots, error));
        save_bay_text(&path, &new).expect("saved");
        std::fs::read_to_string(&path).expect("read")
    }

    #[test]
    fn the_old_list_is_replaced_and_nothing_else() {
        let spots = [SpotHeight(0.0, 0.0, -1.5), SpotHeight(4000.0, 0.0, 0.0), SpotHeight(0.0, 9000.0, 2.0)];
        let new = survey(BAY, &spots, Some(0.3));
        let list =
            "heights: [\n        (0, 0, -1.5), (4000, 0, 0), (0, 9000, 2),\n    ],\n    reading_error: 0.3,";
        let expected = BAY
            .replace("heights: [(0, 0, 1), // by the door\n              (4000, 0, 2)],", "HERE,")
            .replace("HERE,\n    reading_error: 0.5,", list);
        assert_eq!(new, expected);
    }

    #[test]
    fn a_file_without_a_survey_gets_one_and_loses_it_again() {
        let bare = BAY
            .replace("    heights: [(0, 0, 1), // by the door\n              (4000, 0, 2)],\n", "")
            .replace("    reading_error: 0.5,\n", "");
        let spots = [SpotHeight(1.0, 2.0, 3.0)];
        let new = survey(&bare, &spots, Some(0.4));
        assert!(new.contains("rules: (walk_around: 600),\n    heights: [\n        (1, 2, 3),\n    ],\n    reading_error: 0.4,\n)"), "{new}");
        let back = survey(&new, &[], None);
        assert!(back.contains("rules: (walk_around: 600),\n    heights: [],\n)"), "{back}");
    }

    #[test]
    fn nothing_else_is_lost_with_the_reading_error() {
        // a note above it, and more behind it on its line
        let noted = BAY.replace(
            "\n    reading_error: 0.5,\n    rules",
            "\n    // the maker's word\n    reading_error: 0.5, rules",
        );
        let new = survey(&noted, &[], None);
        assert!(new.contains("    // the maker's word\n    rules: (walk_around: 600)\n)"), "{new}");
    }

    #[test]
    fn lines_end_as_they_do_in_the_file() {
        let spots = [SpotHeight(1.0, 2.0, 3.0)];
        let crlf = BAY.replace('\n', "\r\n");
        for error in [Some(0.3), None] {
            let new = survey(&crlf, &spots, error);
            assert!(!new.replace("\r\n", "").contains(['\r', '\n']), "{new:?}");
        }
    }

    #[test]
    fn a_note_behind_the_last_field_stays_beside_it() {
        let bare = "(\n    name: \"Shed\",\n    floor: [(0, 0), (4000, 0), (4000, 9000), (0, 9000)],\n    ceiling: 3000 // to the beam\n)\n";
        let new = survey(bare, &[SpotHeight(1.0, 2.0, 3.0)], None);
        assert!(
            new.contains("    ceiling: 3000, // to the beam\n    heights: [\n        (1, 2, 3),\n    ],\n)"),
            "{new}"
        );
    }

    #[test]
    fn a_file_with_faults_is_not_touched() {
        let dir = tempfile::tempdir().expect("folder");
        let path = dir.path().join("bay.ron");
        std::fs::write(&path, "(name: \"Shed\", flor: [])").expect("write");
        let faults = with_survey(&path, &[], None).expect_err("faults");
        assert!(faults.iter().any(|f| f.text.contains("flor")), "{faults:?}");
        // twice at one place
        std::fs::write(&path, BAY).expect("write");
        let twice = [SpotHeight(0.0, 0.0, 1.0), SpotHeight(0.0, 0.0, 2.0)];
        assert!(with_survey(&path, &twice, None).is_err());
        assert_eq!(std::fs::read_to_string(&path).expect("read"), BAY);
    }
}
