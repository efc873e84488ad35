//! A table of spot heights as people type it, paste it from a spreadsheet or keep it in a CSV file: x, y and height above
//! the datum, one spot a line.

use std::collections::BTreeMap;
use std::path::Path;

use serde::{Deserialize, Serialize};

use super::fault::FileFault;
use super::source::Source;
use crate::model::bay::SpotHeight;
use crate::model::num::LARGEST;
use crate::units::parse_length;

/// The unit of the figures of a table that stand without one.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Bare {
    #[default]
    Mm,
    Metre,
    Inch,
}

impl Bare {
    pub const ALL: [Bare; 3] = [Bare::Mm, Bare::Metre, Bare::Inch];

    /// As it is written behind a figure.
    pub fn word(self) -> &'static str {
        match self {
            Bare::Mm => "mm",
            Bare::Metre => "m",
            Bare::Inch => "in",
        }
    }
}

/// A table as it is typed, before it is put into a bay's file.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Typed {
    pub text: String,
    /// Standard error of one reading, as typed.
    pub error: String,
    /// The units of x and y, and of the height.
    pub places: Bare,
    pub heights: Bare,
}

/// What a table says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HeightTable {
    pub spots: Vec<SpotHeight>,
    /// The line each spot stands on, from 1.
    pub lines: Vec<usize>,
    /// One sentence for every line that cannot be used, with the line's number from 1.
    pub faults: Vec<(usize, String)>,
}

impl HeightTable {
    /// Reads a table. Columns are parted by tabs, semicolons, commas or blanks; empty lines, lines that begin with `#` or
    /// `//` and headings (a first line, or any that names units) are passed over. Figures may carry their own unit; those
    /// without are in `places` (x, y) and `heights`, and headings that say otherwise are a fault. A decimal comma is read
    /// unless three digits follow it. What can be read in two ways is refused, and so is a place that was given before.
    pub fn read(text: &str, places: Bare, heights: Bare) -> HeightTable {
        let mut table = HeightTable::default();
        let mut seen: BTreeMap<(u64, u64), usize> = BTreeMap::new();
        let mut first = true;
        for (i, line) in text.lines().enumerate() {
            let line = line.trim_matches(|c: char| c == '\u{feff}' || c == '\r' || c == ' ');
            if line.trim().is_empty() || line.starts_with('#') || line.starts_with("//") {
                continue;
            }
            let units = heading_units(line);
            if is_heading(line) && (std::mem::take(&mut first) || units.is_some()) {
                let read = [("x", places), ("y", places), ("height", heights)];
                let other = units
                    .and_then(|u| u.into_iter().zip(read).find(|(u, r)| u.is_some_and(|u| u != r.1.word())));
                if let Some((Some(unit), (name, bare))) = other {
                    let word = bare.word();
                    let text = format!(
                        "the headings say {unit} for {name}, which is read in {word}; choose the unit, or take this line out"
                    );
                    table.faults.push((i + 1, text));
                }
                continue;
            }
            first = false;
            match spot(line, places, heights) {
                Ok(spot) => {
                    let key = ((spot.0 + 0.0).to_bits(), (spot.1 + 0.0).to_bits());
                    match seen.insert(key, i + 1) {
                        None => {
                            table.spots.push(spot);
                            table.lines.push(i + 1);
                        }
                        Some(before) => {
                            let text = format!("this place has a height already, on line {before}");
                            table.faults.push((i + 1, text));
                        }
                    }
                }
                Err(why) => table.faults.push((i + 1, why)),
            }
        }
        table
    }
}

/// A table as a person would type it, one spot a line, in mm.
pub fn write_heights(spots: &[SpotHeight]) -> String {
    spots.iter().map(|s| format!("{}, {}, {}\n", s.0 + 0.0, s.1 + 0.0, s.2 + 0.0)).collect()
}

/// The text of a table in a file of its own, without headings that name no units, so that it can stand behind another.
pub fn load_heights(path: &Path) -> Result<String, FileFault> {
    let text = Source::load(path)?.text;
    let first = text.split_inclusive('\n').next().unwrap_or("");
    let bare = is_heading(first) && heading_units(first).is_none();
    Ok(if bare { text[first.len()..].to_owned() } else { text })
}

/// Without a single digit: names of columns.
fn is_heading(line: &str) -> bool {
    !line.contains(|c: char| c.is_ascii_digit())
}

/// The units that the headings of three columns name, as in `x (mm)`, `x [mm]`, `x_mm` or `x/mm`; `None` without any.
fn heading_units(line: &str) -> Option<[Option<&'static str>; 3]> {
    let part = ['\t', ';', ','].into_iter().find(|c| line.contains(*c))?;
    let unit = |column: &str| {
        let word = column.trim_end_matches([')', ']', ' ']);
        let unit = word[word.rfind(['(', '[', '_', '/'])? + 1..].trim().to_lowercase();
        ["mm", "cm", "m", "in", "ft"].into_iter().find(|u| *u == unit)
    };
    let columns: Vec<_> = fields(line.split(part)).into_iter().map(unit).collect();
    <[_; 3]>::try_from(columns).ok().filter(|units| units.iter().any(Option::is_some))
}

fn spot(line: &str, places: Bare, heights: Bare) -> Result<SpotHeight, String> {
    let readings: Vec<Vec<&str>> = if line.contains('\t') {
        vec![fields(line.split('\t'))]
    } else if line.contains(';') {
        vec![fields(line.split(';'))]
    } else {
        let blanks: Vec<&str> = line.split_whitespace().collect();
        // a comma at the end of a word parts columns
        let by_blanks = !blanks.iter().any(|b| b.ends_with(','));
        [Some(fields(line.split(','))), by_blanks.then_some(blanks)].into_iter().flatten().collect()
    };
    let mut read = Vec::new();
    let mut why = None;
    for fields in readings.iter().filter(|f| f.len() == 3) {
        match three(fields, places, heights) {
            Ok(spot) => read.push(spot),
            Err(fault) => why = why.or(Some(fault)),
        }
    }
    match read[..] {
        [spot] => Ok(spot),
        [a, b, ..] if a == b => Ok(a),
        [_, _, ..] => Err("this can be read in two ways; part the columns by semicolons".into()),
        [] => Err(why.unwrap_or_else(|| {
            let n = readings.iter().map(Vec::len).max().unwrap_or(0);
            match n {
                1 => "one figure; three are needed: x, y, height".into(),
                n => format!("{n} figures; three are needed: x, y, height"),
            }
        })),
    }
}

/// Fields without the quotes of a CSV file and without empty ones at the end.
fn fields<'a>(parts: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    // a mark of inches stands behind a figure alone
    let bare = |p: &'a str| p.strip_prefix('"').and_then(|p| p.strip_suffix('"')).unwrap_or(p).trim();
    let mut fields: Vec<&str> = parts.map(|p| bare(p.trim())).collect();
    while fields.last().is_some_and(|f| f.is_empty()) {
        fields.pop();
    }
    fields
}

fn three(fields: &[&str], places: Bare, heights: Bare) -> Result<SpotHeight, String> {
    let read = |i: usize, name: &str, bare: Bare| {
        let text = fields[i];
        let has_unit = text.contains(|c: char| c.is_alphabetic() || c == '\'' || c == '"');
        let whole = if has_unit { text.to_owned() } else { format!("{text} {}", bare.word()) };
        let mm = if text.is_empty() { Err("nothing is written".into()) } else { parse(&whole) };
        mm.map_err(|why: String| format!("{name}: {why}"))
    };
    let comma = fields.iter().any(|f| f.contains(','));
    if comma && fields.iter().any(|f| parts_thousands(f)) {
        return Err("a point with three digits beside a decimal comma can be read in two ways".into());
    }
    Ok(SpotHeight(read(0, "x", places)?, read(1, "y", places)?, read(2, "height", heights)?))
}

/// Whether a point in a figure may part thousands: behind one to three digits and before exactly three.
fn parts_thousands(text: &str) -> bool {
    let digits = |s: &str| s.bytes().take_while(u8::is_ascii_digit).count();
    let Some((whole, part)) = text.split_once('.') else { return false };
    let whole = whole.trim_start_matches(|c: char| !c.is_ascii_digit());
    (1..=3).contains(&whole.len()) && !whole.starts_with('0') && digits(part) == 3
}

fn parse(text: &str) -> Result<f64, String> {
    let mm = parse_length(text).map_err(|e| e.to_string())?;
    if mm.abs() > LARGEST { Err(format!("\"{text}\" is more than one kilometre")) } else { Ok(mm + 0.0) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> HeightTable {
        HeightTable::read(text, Bare::Mm, Bare::Mm)
    }

    #[test]
    fn one_spot_in_every_way_it_is_written() {
        for line in [
            "3450, 2200, -9.5",
            "3450,2200,-9.5",
            "3450;2200;-9,5",
            "3450\t2200\t-9,5",
            "3450 2200 -9.5",
            "3450 2200 -9,5",
            "3 450; 2 200; -9,5",
            "3 450, 2 200, -9.5",
            "  3450,\u{a0}2200, \u{2212}9.5 ",
            "\"3450\";\"2200\";\"-9.5\";",
            "3.45 m, 2.2 m, -9.5 mm",
            "3450, 2200, -9.5\r",
        ] {
            let table = read(line);
            assert_eq!(
                (table.spots, table.faults),
                (vec![SpotHeight(3450.0, 2200.0, -9.5)], vec![]),
                "{line:?}"
            );
        }
        let metres = HeightTable::read("3.45; 2,2; -9.5", Bare::Metre, Bare::Mm);
        assert_eq!(metres.spots, [SpotHeight(3450.0, 2200.0, -9.5)]);
        let inches = HeightTable::read("100 50 -0.25", Bare::Inch, Bare::Inch);
        assert_eq!(inches.spots, [SpotHeight(2540.0, 1270.0, -6.35)]);
    }

    #[test]
    fn headings_notes_and_empty_lines_are_passed_over() {
        let table = read("\u{feff}x;y;height (datum)\n\n# by the drain\n0;0;1\n// the end\n10;0;2\n\n");
        assert_eq!(table.spots, [SpotHeight(0.0, 0.0, 1.0), SpotHeight(10.0, 0.0, 2.0)]);
        assert_eq!((table.faults, table.lines), (vec![], vec![4, 6]));
    }

    #[test]
    fn every_line_that_cannot_be_used_says_why() {
        let table = read("0, 0, 1\n5, 5\n7\n1,2,3,4\n0 0 2\n3,450 2200 -9\na, b, c\n1;;3\n2e9; 0; 0");
        let said: Vec<(usize, &str)> = table.faults.iter().map(|(n, w)| (*n, w.as_str())).collect();
        for ((line, text), (n, part)) in said.iter().zip([
            (2, "2 figures; three are needed"),
            (3, "one figure; three are needed"),
            (4, "4 figures; three are needed"),
            (5, "this place has a height already, on line 1"),
            (6, "x: cannot read \"3,450 mm\""),
            (7, "x: cannot read"),
            (8, "y: nothing is written"),
            (9, "x: "),
        ]) {
            assert!(*line == n && text.contains(part), "{line}: {text}");
        }
        assert_eq!((said.len(), table.spots.len()), (8, 1));
        // 1; 2345; 4567 and 1.2; 345.4; 567
        let two = read("1,2 345,4 567");
        assert!(two.faults[0].1.contains("two ways"), "{two:?}");
    }

    #[test]
    fn marks_of_inches_are_no_quotes_of_a_csv_file() {
        for line in ["100\", 50\", -0.25\"", "100\"; 50\"; -0.25\"", "\"100 in\",\"50 in\",\"-0.25 in\""] {
            let table = read(line);
            assert_eq!(
                (table.spots, table.faults),
                (vec![SpotHeight(2540.0, 1270.0, -6.35)], vec![]),
                "{line}"
            );
        }
    }

    #[test]
    fn points_of_thousands_are_refused_beside_a_decimal_comma() {
        for line in ["3.450;2.200;-9,5", "3.450\t2.200\t-9,5", "3.450 2.200 -9,5", "3450;2.200;-9,5"] {
            let table = read(line);
            assert!(table.spots.is_empty() && table.faults[0].1.contains("two ways"), "{line}: {table:?}");
        }
        // with a comma between columns the points are decimal
        assert_eq!(read("3.450, 2.200, -9.500").spots, [SpotHeight(3.45, 2.2, -9.5)]);
        assert_eq!(read("3.450;2.200;-9.500").spots, [SpotHeight(3.45, 2.2, -9.5)]);
    }

    #[test]
    fn headings_that_name_another_unit_are_not_passed_over() {
        let said = |text: &str, places, heights| HeightTable::read(text, places, heights).faults;
        for heading in
            ["x (m);y (m);z (mm)", "x_m,y_m,z_mm", "\"X [m]\"\t\"Y [m]\"\t\"Z [mm]\"", "x/m, y/m, z/mm"]
        {
            let text = format!("{heading}\n3.45; 2.2; -9.5\n");
            assert!(said(&text, Bare::Mm, Bare::Mm)[0].1.contains("the headings say m for x"), "{heading}");
            assert!(said(&text, Bare::Metre, Bare::Metre)[0].1.contains("say mm for height"), "{heading}");
            assert_eq!(said(&text, Bare::Metre, Bare::Mm), [], "{heading}");
            // behind another table as well
            assert_eq!(said(&format!("1; 1; 1\n{text}"), Bare::Metre, Bare::Mm), [], "{heading}");
        }
        let dir = tempfile::tempdir().expect("folder");
        let path = dir.path().join("a.csv");
        for (text, kept) in [("x;y;z\n1;2;3\n", "1;2;3\n"), ("x_m;y_m;z_m\n1;2;3\n", "x_m;y_m;z_m\n1;2;3\n")]
        {
            std::fs::write(&path, text).expect("write");
            assert_eq!(load_heights(&path).expect("read"), kept);
        }
    }

    #[test]
    fn what_is_written_reads_back() {
        let spots = vec![SpotHeight(0.0, -0.0, 1.25), SpotHeight(3450.5, 2200.0, -9.0)];
        assert_eq!(read(&write_heights(&spots)).spots, spots);
    }
}
