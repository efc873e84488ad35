//! What a procedure says that only shows when it is read whole.

use std::path::Path;

use super::super::read_text;
use super::faults;
use crate::model::Procedure;

/// A procedure with one setup.
fn procedure(head: &str, setup: &str) -> String {
    format!("(name: \"P\", {head}\nsetups: [(name: \"S\",\n{setup})])")
}

#[test]
fn marks() {
    for (setup, said) in [
        ("marks: [(\"A\", Midway(\"N\", \"rear axle\"))]", vec![]),
        ("marks: [(\"A\", Midway(\"N\", \"Q\"))]", vec!["3:27: there is no mark \"Q\""]),
        (
            "marks: [(\"A\", Foot(line: Centre, from: \"B\")), (\"B\", Under(Nose))]",
            vec!["3:40: the mark \"B\" is used before it is made"],
        ),
        ("marks: [(\"A\", Under(Nose)), (\"A\", Under(Tail))]", vec!["3:30: the mark \"A\" is made twice"]),
        ("marks: [(\"G\", Under(Nose))]", vec!["3:10: the mark \"G\" is made twice"]),
        ("marks: [(\"N\", Under(Axle(Front)))]", vec![]),
        (
            "marks: [(\"A\", Foot(line: Through(\"N\", \"N\"), from: \"T\"))]",
            vec!["3:39: a line through \"N\" and \"N\" has no direction"],
        ),
        (
            "marks: [(\"A\", Lengths(a: (\"N\", 0), b: (\"N\", 5), side: Left))]",
            vec![
                "3:32: a tape needs a length above zero",
                "3:40: both tapes of the mark \"A\" start at \"N\"",
            ],
        ),
        ("marks: [(\"A\", Crossing(Nose, Nose))]", vec!["3:10: the mark \"A\" crosses a line with itself"]),
        (
            "stations: [(name: \"s\", target: \"t\", at: \"Z\", looks: At(\"Y\"))]",
            vec!["3:41: there is no mark \"Z\"", "3:56: there is no mark \"Y\""],
        ),
        (
            "level: (over: Marks([\"N\", \"X\", \"N\"]))",
            vec!["3:27: there is no mark \"X\"", "3:32: \"N\" is listed twice as a mark"],
        ),
        (
            "lines: [(line: Through(\"N\", \"K\"), from: \"L\", reach: 5)]",
            vec!["3:29: there is no mark \"K\"", "3:41: there is no mark \"L\""],
        ),
    ] {
        let text = procedure("marks: [(\"G\", Under(Nose))],", setup);
        assert_eq!(faults(&text), said, "{setup}");
    }
}

#[test]
fn stations_zones_and_what_refers_to_them() {
    let station = |rest: &str| format!("stations: [(name: \"s\", target: \"t\", at: \"N\", {rest})]");
    let zone = |shape: &str| format!("zones: [(name: \"z\", shape: {shape})]");
    for (setup, said) in [
        (
            station("looks: Left, faces: Nose, anchor: (0, 0), stands_by: Back"),
            vec![
                "3:66: the station \"s\" gives `looks` and `faces`, which say the same thing",
                "3:99: the station \"s\" gives `anchor` and `stands_by`; only one can hold",
            ],
        ),
        (
            station("height: Floor(-1), tolerance: (along: -2)"),
            vec!["3:60: a height above the floor cannot be below zero, found -1", "3:84: a tolerance cannot be below zero, found -2"],
        ),
        (
            "stations: [(name: \"s\", target: \"t\", at: \"N\"), (name: \"s\", target: \"t\", at: \"T\")]".into(),
            vec!["3:54: \"s\" is the name of another station of this setup already"],
        ),
        // the far end may be a point of the bay; what is nearly a station's name is a slip
        ("sights: [(from: \"front radar\", to: \"head left\")]".into(), vec![]),
        (
            "stations: [(name: \"board\", target: \"t\", at: \"N\")], sights: [(from: \"front radar\", to: \"bord\")]"
                .into(),
            vec!["3:87: there is no station in this setup \"bord\""],
        ),
        ("level: (over: Zone(\"q\"))".into(), vec!["3:20: there is no zone in this setup \"q\""]),
        (zone("Around(beside: 5)"), vec!["3:28: the zone \"z\" is around nothing: it needs `stations` or `station`"]),
        (zone("Around(station: \"s\", above: -5)"), vec!["3:44: there is no station in this setup \"s\"", "3:56: a distance around a station cannot be below zero, found -5"]),
        (zone("Corners([\"N\", \"T\"])"), vec!["3:28: the zone \"z\" has 2 corners and needs at least 3"]),
        (
            zone("Strip(line: Centre, from: \"N\", along: (0, 9))"),
            vec!["3:28: the strip of zone \"z\" needs `left` or `across` and gives neither"],
        ),
        (
            zone("Strip(line: Centre, from: \"N\", along: (0, 9), left: (-1, 1), across: 5)"),
            vec!["3:28: the strip of zone \"z\" needs `left` or `across` and gives both; only one can hold"],
        ),
        (
            zone("Strip(line: Centre, from: \"N\", along: (9, 9), across: 0)"),
            vec!["3:67: the first figure of `along` must be below the second", "3:82: `across` must be above zero, found 0"],
        ),
        (
            zone("Fan(at: \"N\", line: Centre, angles: (-200, 200), reach: -1)"),
            vec!["3:64: a fan opens at most 360 degrees", "3:83: `reach` must be above zero, found -1"],
        ),
        (zone("Lane(from: \"N\", to: \"N\", width: 5)"), vec!["3:48: a lane from \"N\" to \"N\" leads nowhere"]),
        (
            "zones: [(name: \"z\", shape: NotRead(\"x\"), z: (9, 3))]".into(),
            vec!["3:46: the zone \"z\" ends below where it starts"],
        ),
        (
            "zones: [(name: \"shared\", shape: NotRead(\"x\"))]".into(),
            vec!["3:16: \"shared\" is the name of another zone of this setup already"],
        ),
    ] {
        let text = procedure("zones: [(name: \"shared\", shape: NotRead(\"x\"))],", &setup);
        assert_eq!(faults(&text), said, "{setup}");
    }
    assert_eq!(faults("(name: \"P\", setups: [])"), ["1:21: a procedure needs at least one setup"]);
    assert_eq!(
        faults("(name: \"P\", setups: [(name: \"S\"), (name: \"S\")])"),
        ["1:42: \"S\" is the name of another setup already"]
    );
}

#[test]
fn values_and_figures() {
    for (head, setup, said) in [
        (
            "values: {\"a\": \"b + 1\", \"b\": \"c\", \"c\": \"2 - a\"},",
            "",
            vec!["1:22: these values rest on each other in a circle: \"a\", \"b\", \"c\", \"a\""],
        ),
        (
            "values: {\"a\": \"a\"},",
            "",
            vec!["1:22: these values rest on each other in a circle: \"a\", \"a\""],
        ),
        (
            "values: {\"a\": \"b\", \"b\": 1}, variants: {\"v\": {\"b\": \"a\"}},",
            "",
            vec!["1:58: these values rest on each other in a circle: \"a\", \"b\", \"a\""],
        ),
        ("values: {\"a\": \"gone\"},", "", vec!["1:27: there is no value or measured figure \"gone\""]),
        (
            "values: {\"a\": 1}, variants: {\"v\": {\"aa\": 2}},",
            "",
            vec!["1:48: the variant \"v\" changes \"aa\", which is not among the values"],
        ),
        (
            "values: {\"a\": 1}, measured: {\"a\": ()},",
            "",
            vec!["1:42: \"a\" is a value already and cannot be measured too"],
        ),
        (
            "values: {\"a\": 1}, measured: {\"m\": ()},",
            "marks: [(\"A\", Along(line: Centre, from: \"N\", by: \"-a + m - 3\")), (\"B\", Along(line: Centre, from: \"N\", by: \"a-m\"))]",
            vec!["3:107: there is no value or measured figure \"a-m\""],
        ),
        (
            "values: {\"a\": OneOf([]), \"b\": Between(2, 1), \"c\": \"\", \"d\": \"1 + \", \"e\": Betwen(1, 2), \"f\": true},",
            "",
            vec![
                "1:27: OneOf needs at least one number",
                "1:43: the first number of Between(2, 1) is above the second",
                "1:63: \"\" has an empty term",
                "1:72: \"1 +\" is neither a number nor a name; terms are joined by \" + \" or \" - \" and nothing else",
                "1:85: `Betwen` is not a word that may stand here",
                "1:104: `true` is not a word that may stand here",
            ],
        ),
    ] {
        assert_eq!(faults(&procedure(head, setup)), said, "{head} {setup}");
    }
}

#[test]
fn further_parts_name_what_is_there() {
    let two = |first: &str, second: &str| {
        let head = "(name: \"P\", variants: {\"v\": {}}, measured: {\"m\": (between: (1, 2))},";
        let marks = "marks: [(\"A\", Under(Nose))],";
        format!("{head}\n{first}\nsetups: [(name: \"S\", {marks}\n{second}), (name: \"Z\")])")
    };
    let station = |rest: &str| format!("stations: [(name: \"s\", target: \"t\", at: \"A\", {rest})]");
    for (first, second, said) in [
        (
            "ways: {\"w\": [\"S\", \"O\"], ^\"x\": []},",
            "mirrored: (name: \"O\", swap: [(\"A\", \"N\")])".to_owned(),
            vec!["the way \"x\" has no setups"],
        ),
        ("ways: {\"w\": [^\"R\"]},", String::new(), vec!["there is no setup \"R\""]),
        (
            "",
            "mirrored: (name: ^\"Z\", swap: [(^\"B\", ^\"C\")])".into(),
            vec![
                "\"Z\" is the name of another setup already",
                "\"B\" is no mark or station of this setup, so it cannot be swapped",
            ],
        ),
        (
            "derived: {\"d\": Mean([\"m\", ^\"n\"]), ^^\"m\": Mean([])},",
            String::new(),
            vec![
                "there is no measured figure \"n\"",
                "\"m\" is an average of nothing",
                "\"m\" is measured already and cannot be an average",
            ],
        ),
        (
            "pick: (by: ^\"q\", from: [(5, 3, ^\"v\"), (1, 2, ^\"u\")]),",
            String::new(),
            vec![
                "there is no value or measured figure \"q\"",
                "the band of \"v\" ends below where it starts",
                "there is no variant \"u\"",
            ],
        ),
        ("", "only: [\"v\", ^\"w\"]".into(), vec!["there is no variant \"w\""]),
        (
            "",
            "checks: [Length(\"A\", ^\"X\", ^\"y\")], draw: [(from: \"A\", to: ^\"W\")],
             stand_on: (mark: ^\"V\", floor_line: \"f\")"
                .into(),
            vec![
                "there is no mark \"X\"",
                "there is no value or measured figure \"y\"",
                "there is no mark \"W\"",
                "there is no mark \"V\"",
            ],
        ),
        (
            "",
            station("fixed_to: Earlier(^\"Z\"), path: [^\"Q\"], on_face: [Upright(^\"U\")]"),
            vec![
                "the setup \"Z\" does not come before this one",
                "there is no mark \"Q\"",
                "there is no mark \"U\"",
            ],
        ),
        ("", station("fixed_to: Earlier(^\"K\")"), vec!["there is no earlier setup \"K\""]),
        (
            "needs: {\"n\": (width: ^-5, height: ^Between(9, 3))},",
            String::new(),
            vec![
                "expected a size above zero, found -5",
                "the first number of Between(9, 3) is above the second",
            ],
        ),
    ] {
        let marked = two(first, &second);
        let text = marked.replace('^', "");
        let source = super::Source::new("p.ron", &text);
        let places = marked.match_indices('^').enumerate().map(|(i, (at, _))| source.place(at - i));
        let said: Vec<String> =
            places.zip(said).map(|((line, column), said)| format!("{line}:{column}: {said}")).collect();
        assert_eq!(faults(&text), said, "{marked}");
    }
}

#[test]
fn sums_are_read_as_a_person_writes_them() {
    let text =
        procedure("values: {\"lamp height\": 1, \"x\": \"-lamp height - 40 + 2.5\", \"y\": Exactly(3)},", "");
    let p: Procedure = read_text(&text, Path::new("p.ron")).expect("a procedure");
    let Some(crate::model::Value::Is(x)) = p.values.get("x") else {
        panic!("x is a figure");
    };
    let told: Vec<String> = x.terms.iter().map(|(sign, term)| format!("{sign} {term:?}")).collect();
    // whether "40" is a number or a value of that name is told by the values, once all are read
    let either = ["-1 Either(\"40\", 40.0)", "1 Either(\"2.5\", 2.5)"];
    assert_eq!(told, ["-1 Named(\"lamp height\")", either[0], either[1]]);
    assert_eq!(p.values.get("y").map(|v| format!("{v:?}").contains("Number(3.0)")), Some(true));
}
