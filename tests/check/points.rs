//! `baywright points`: a job in, a table of points out.

use std::fs;
use std::path::Path;

use crate::program::{answer, run};

fn demo() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("demo")
}

/// Lines of a table without quotes inside its cells.
fn rows(text: &str) -> Vec<Vec<String>> {
    let cells = |line: &str| match line.strip_prefix('"') {
        Some(quoted) => {
            let (name, rest) = quoted.split_once("\",").unwrap();
            std::iter::once(name.to_owned()).chain(rest.split(',').map(str::to_owned)).collect()
        }
        None => line.split(',').map(str::to_owned).collect(),
    };
    text.split('\n').filter(|l| !l.is_empty()).map(cells).collect()
}

/// Every mark stands where `check --json` has it, and every target where its face is.
#[test]
fn the_points_are_those_of_the_check() {
    let job = "jobs/estate-surround-rear.ron";
    let (told, _) = answer(&demo(), &["check", job, "--json"]);
    let ran = run(&demo(), &["points", job]);
    let rows = rows(&ran.out);
    assert_eq!((ran.exit, rows[0].join(",")), (0, "name,x,y,z,tolerance".to_owned()));
    assert!(rows.iter().all(|r| r.len() == 5), "{rows:?}");
    let mut compared = 0;
    for (list, of, is) in [("marks", "mark", ""), ("stations", "station", ", middle of its face")] {
        for thing in told[list].as_array().unwrap() {
            let word = |key: &str| thing[key].as_str().unwrap();
            let name = format!("{}: {}: {}{is}", word("procedure"), word("setup"), word(of));
            let row = rows.iter().find(|r| r[0] == name).unwrap_or_else(|| panic!("no {name}: {rows:?}"));
            for axis in 0..2 {
                let (is, want): (f64, f64) =
                    (row[1 + axis].parse().unwrap(), thing["bay_mm"][axis].as_f64().unwrap());
                assert!((is - want).abs() < 0.006, "{row:?}: {want}");
            }
            compared += 1;
        }
    }
    assert!(compared >= 24, "{compared} points");
    let corner: Vec<&str> = rows[2][..3].iter().map(String::as_str).collect();
    assert_eq!(corner, ["corner 1", "8200", "0"]);
}

#[test]
fn what_has_no_place_is_told_and_a_file_that_is_there_stays() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("points.csv");
    let path = out.to_str().unwrap();
    // a height of this job's reflectors is torn off the page
    let ran = run(&demo(), &["points", "jobs/estate-front-corners.ron", "--out", path]);
    let listed = run(&demo(), &["points", "jobs/estate-front-corners.ron"]);
    assert!(ran.exit == 1 && ran.err.contains("has no place: not known"), "{} {}", ran.exit, ran.err);
    assert_eq!(fs::read_to_string(&out).unwrap(), listed.out);
    let again = run(&demo(), &["points", "jobs/estate-surround-rear.ron", "--out", path]);
    assert!(again.exit == 2 && again.err.contains("is there already"), "{}", again.err);
    assert_eq!(fs::read_to_string(&out).unwrap(), listed.out);
    let other = run(&demo(), &["points", "jobs/estate-surround-rear.ron", "--out", "points.pdf"]);
    assert!(other.exit == 2 && other.err.contains("ends in .csv"), "{}", other.err);
    let gone = run(folder.path(), &["points", "nothing.ron"]);
    assert!(gone.exit == 2 && !gone.err.is_empty());
}
