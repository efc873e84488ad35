//! Jobs made for what those of the demonstration do not say.

use std::path::Path;

use baywright::files::{Opened, open_held, read_text};
use baywright::model::Job;

/// A job, and whether places to stand are looked for in it.
pub struct Made {
    pub name: String,
    pub opened: Opened,
    pub searched: bool,
}

/// Every procedure of the cases on the reference car, in the middle of a hall and in its corner.
pub fn jobs() -> Vec<Made> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/procedures");
    let mut made = Vec::new();
    let files = std::fs::read_dir(&folder).unwrap().map(|e| e.unwrap().file_name());
    let mut files: Vec<String> = files.map(|f| f.to_string_lossy().into_owned()).collect();
    files.retain(|f| f.ends_with(".ron") && f != "equipment.ron");
    files.sort();
    for file in files {
        for (place, more) in [
            ("x: 30000, y: 30000, heading: 0", ""),
            ("x: 700, y: 57000, heading: 3", "rear_toe: (left: 0.2, right: -0.1)"),
        ] {
            let text = format!(
                r#"(name: "Made", bay: "../empty-hall.ron", vehicle: "../reference-car.ron", equipment: "equipment.ron",
                    procedures: [(file: {file:?})], pose: At({place}), {more})"#
            );
            let path = folder.join("made.ron");
            let job: Job = read_text(&text, &path).unwrap_or_else(|f| panic!("{f:?}"));
            let opened = open_held(&job, &path).unwrap_or_else(|f| panic!("{f:?}"));
            made.push(Made { name: format!("{file} at {place}"), opened, searched: false });
        }
    }
    made
}
