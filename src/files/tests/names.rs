//! What a bay, a vehicle or a job says that only shows when it is read whole.

use super::faults;

#[test]
fn bays() {
    let bay =
        |more: &str| format!("(name: \"B\", floor: [(0, 0), (5500, 0), (5500, 9000), (0, 9000)],\n{more})");
    let door = |name: &str, rest: &str| format!("(name: \"{name}\", height: 2000, {rest})");
    for (more, said) in [
        ("walls: [(side: 4)]".into(), vec!["2:16: the floor has no side 4"]),
        ("walls: [(side: 1), (side: 1)]".into(), vec!["2:27: side 1 is listed twice"]),
        (
            "walls: [(side: 1, name: \"w\"), (side: 2, name: \"w\")]".into(),
            vec!["2:47: \"w\" is the name of another wall, doorway, fixture or lift already"],
        ),
        (
            "lifts: [(name: \"l\", heights: [0, -5]), (name: \"l\")]".into(),
            vec![
                "2:34: a lift height of -5 is below the floor",
                "2:47: \"l\" is the name of another wall, doorway, fixture or lift already",
            ],
        ),
        (
            "heights: [(1, 2, 0), (3, 2, 0), (1, 2, 5)]".into(),
            vec!["2:33: the floor at (1, 2) is surveyed twice, as spot 1 and spot 3"],
        ),
        (
            format!("doorways: [{}]", door("d", "side: 0, from: 2000, width: 3501.5")),
            vec!["2:66: the doorway \"d\" reaches to 5501.5 along side 0, which is only 5500 long"],
        ),
        (format!("doorways: [{}]", door("d", "side: 0, from: 2000, width: 3500")), vec![]),
        (
            format!(
                "doorways: [{}, {}]",
                door("d", "side: 2, from: 0, width: 3000"),
                door("e", "side: 2, from: 2900, width: 1000")
            ),
            vec!["2:111: the doorways \"d\" and \"e\" overlap on side 2"],
        ),
        (
            format!(
                "doorways: [{}, {}]",
                door("d", "side: 2, from: 0, width: 3000"),
                door("e", "side: 2, from: 3000, width: 1000")
            ),
            vec![],
        ),
        (
            format!(
                "doorways: [{}]",
                door(
                    "d",
                    "side: 0, from: 0, width: 900, apron: [(2000, -9), (4000, -9), (4000, 0), (2000, 0)]"
                )
            ),
            vec!["2:75: the apron of \"d\" does not touch the doorway's stretch of side 0"],
        ),
        (
            format!(
                "doorways: [{}]",
                door(
                    "d",
                    "side: 0, from: 0, width: 900, apron: [(100, -900), (400, -900), (400, -0.5), (100, 0)]"
                )
            ),
            vec![],
        ),
    ] {
        assert_eq!(faults(&bay(&more)), said, "{more}");
    }
}

#[test]
fn vehicles() {
    let vehicle = |change: (&str, &str), more: &str| {
        let text =
            "(name: \"V\", length: 4000, width: 1800, height: 1500, wheelbase: 2500, front_overhang: 800,
            track: (front: 1500, rear: 1500), tyre: (width: 200, diameter: 600), ground_clearance: 100,\n";
        format!("{}{more})", text.replace(change.0, change.1))
    };
    for (change, more, said) in [
        (("4000", "3300"), "", vec![]),
        (
            ("4000", "3299.5"),
            "",
            vec!["1:21: the length of 3299.5 is less than front_overhang and wheelbase together, 3300"],
        ),
        (
            ("clearance: 100", "clearance: 1500"),
            "",
            vec!["2:100: the ground clearance of 1500 is not below the height of 1500"],
        ),
        (
            ("", ""),
            "mirrors: (width: 1799, behind_front_axle: 1, depth: 2, z: (3, 4))",
            vec!["3:10: the width over the mirrors, 1799, is less than the body's, 1800"],
        ),
        (("", ""), "outline: [(801, 899), (-3201, 899), (-3201, -899), (801, -899)]", vec![]),
        (
            ("", ""),
            "outline: [(802, 900), (-3200, 900), (-3200, -898)]",
            vec![
                "3:10: the outline reaches 802 ahead of the front axle, where front_overhang says 800",
                "3:10: the outline reaches 898 to the right, where half the width is 900",
            ],
        ),
        (
            ("", ""),
            "sensors: {\"front radar\": (kind: Radar, at: (1, 2, 3))}, without: [\"front radar\", \"x\", \"x\"]",
            vec![
                "3:67: \"front radar\" is listed in `sensors` and in `without`",
                "3:87: \"x\" is the name of another sensor it has not already",
            ],
        ),
    ] {
        assert_eq!(faults(&vehicle(change, more)), said, "{change:?} {more}");
    }
}

#[test]
fn jobs_alone() {
    let job = |more: &str| {
        format!("(name: \"J\", bay: \"b\", vehicle: \"v\", equipment: \"e\", pose: Anywhere,\n{more})")
    };
    for (more, said) in [
        ("procedures: []", vec![]),
        (
            "procedures: [(file: \"p\"), (file: \"p\", variant: \"x\"), (file: \"p\")]",
            vec!["2:61: \"p\" is listed twice"],
        ),
        (
            "procedures: [(file: \"\")], accepted: [(rule: \"vehicle-claer\", items: [])]",
            vec!["2:45: there is no rule \"vehicle-claer\""],
        ),
        ("procedures: [], pose: Nowhere", vec!["2:17: `pose` is given twice in a job"]),
    ] {
        assert_eq!(faults(&job(more)), said, "{more}");
    }
}
