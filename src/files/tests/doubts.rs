//! What is allowed and probably not meant.

use super::super::{Severity, validate};

#[test]
fn doubts_are_warnings() {
    let dir = tempfile::tempdir().expect("folder");
    let path = dir.path().join("p.ron");
    let text = "(name: \"P\", system: ForwardRadr, values: {\"u\": 1, \"w\": 2}, variants: {\"same\": {\"w\": 2}},
measured: {\"m\": (ask: \"x\"), \"banded\": (between: (1, 2))},
setups: [(name: \"S\", marks: [
(\"A\", Under(Point(\"front emblen\"))),
(\"B\", Along(line: Centre, from: \"N\", by: \"w\")),
(\"C\", Off(line: Centre, from: \"B\", by: 5)),
(\"D\", Off(line: Centre, from: \"C\", by: 5)),
(\"E\", Off(line: WheelSide(Left), from: \"D\", by: 5)),
(\"F\", Place(line: Centre, from: \"E\", along: 1, left: 0)),
(\"G\", Off(line: Centre, from: \"F\", by: 5)),
(\"H\", Off(line: Through(\"G\", \"A\"), from: \"A\", by: 5)),
(\"I\", Under(Wheel(RearLeft))), (\"J\", Under(Wheel(RearRight))), (\"Q\", Under(Wheel(FrontLeft))),
(\"K\", Along(line: WheelSide(Left), from: \"I\", by: -9)), (\"L\", Along(line: WheelSide(Right), from: \"J\", by: -9)),
(\"M\", Midway(\"K\", \"L\")), (\"O\", Off(line: Centre, from: \"M\", by: 5)),
(\"P\", Midway(\"Q\", \"O\")), (\"R\", Off(line: Centre, from: \"P\", by: 5)), (\"S\", Midway(\"R\", \"R\")),
], stations: [(name: \"s\", target: \"t\", at: \"H\")], sights: [(from: \"front rader\", to: \"s\")])])";
    std::fs::write(&path, text).expect("write");
    let notices = validate(&path);
    assert!(notices.iter().all(|n| n.severity == Severity::Warning), "{notices:#?}");
    let said: Vec<String> =
        notices.iter().map(|n| format!("{}:{}: {}", n.fault.line, n.fault.column, n.fault.text)).collect();
    assert_eq!(
        said,
        [
            "1:21: \"ForwardRadr\" is not among the agreed names of a system",
            "1:43: nothing uses the value \"u\"",
            "1:71: the variant \"same\" changes nothing",
            "2:12: nothing uses the measured figure \"m\", and it has no band to be in",
            "4:19: \"front emblen\" is not among the agreed names of a point",
            "7:31: \"D\" steps off from \"C\", which need not be on that line",
            "8:40: \"E\" steps off from \"D\", which need not be on that line",
            "15:56: \"R\" steps off from \"P\", which need not be on that line",
            "15:71: nothing uses the mark \"S\"",
            "16:67: \"front rader\" is not among the agreed names of a sensor",
        ]
    );
    assert_eq!(notices[0].fault.hint.as_deref(), Some("did you mean \"ForwardRadar\"?"));
    assert!(notices[0].to_string().starts_with("warning: "));
}
