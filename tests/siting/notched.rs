//! Random bays that are not convex, with a vehicle, a target and zones of every shape. All of it is invented.

use std::fmt::Write;

use baywright::geometry::{P2, V2, rotate};

use crate::bays::{Dice, Parts};

/// A random bay as drawn, and turned.
pub(crate) struct Case {
    /// Corners of the floor before it is turned.
    pub floor: Vec<(f64, f64)>,
    pub plain: Parts,
    pub turned: Parts,
    /// Degrees.
    pub turn: f64,
    /// A target hangs on a wall.
    pub hung: bool,
}

/// Corners of a floor that is not convex, anticlockwise; side 0 is the front.
pub(crate) fn floor(dice: &mut Dice) -> Vec<(f64, f64)> {
    let (w, l) = (dice.mm(7000.0, 11_000.0), dice.mm(10_000.0, 16_000.0));
    let (x0, x1) = ((w * dice.of(0.05, 0.25)).round(), (w * dice.of(0.65, 0.95)).round());
    let (y0, y1) = ((l * dice.of(0.25, 0.5)).round(), (l * dice.of(0.55, 0.8)).round());
    match dice.below(5) {
        // L
        0 => vec![(0.0, 0.0), (x1, 0.0), (x1, y0), (w, y0), (w, l), (0.0, l)],
        // T
        1 => vec![(x0, 0.0), (x1, 0.0), (x1, y0), (w, y0), (w, l), (0.0, l), (0.0, y0), (x0, y0)],
        // stepped on one side
        2 => vec![
            (0.0, 0.0),
            (x1, 0.0),
            (x1, y0),
            ((x1 + w) / 2.0, y0),
            ((x1 + w) / 2.0, y1),
            (w, y1),
            (w, l),
            (0.0, l),
        ],
        // a nib out of one wall
        3 => vec![(0.0, 0.0), (w, 0.0), (w, l), (0.0, l), (0.0, y1), (x0, y1), (x0, y0), (0.0, y0)],
        // slanted at one corner
        _ => vec![(0.0, 0.0), (w, 0.0), (w, y1), (x1, l), (0.0, l)],
    }
}

pub(crate) fn case(seed: u64) -> Case {
    let mut dice = Dice::new(seed);
    let floor = floor(&mut dice);
    let (w, l) = floor.iter().fold((0.0, 0.0), |(w, l): (f64, f64), p| (w.max(p.0), l.max(p.1)));
    let turn = dice.of(0.0, 360.0);
    let mut walls = String::new();
    for side in 0..floor.len() {
        let surface = ["", "Metal", "Light", "Metal, Light"][dice.below(4) as usize];
        let _ = write!(walls, "(side: {side}, name: \"side {side}\", surface: [{surface}]), ");
    }
    let front = floor[1].0 - floor[0].0;
    let width = (front * dice.of(0.3, 0.6)).round();
    let from = ((front - width) * dice.of(0.1, 0.9)).round();
    let (left, right) = (floor[0].0 + from, floor[0].0 + from + width);
    let own = ["", "surface: [Metal],", "surface: [],"][dice.below(3) as usize];
    let apron = dice.below(2) == 0;
    let open = dice.below(3) == 0;
    let mut things = String::new();
    let mut turned_things = String::new();
    let at = |x: f64, y: f64| P2::from(rotate(V2::new(x, y), turn.to_radians()));
    for i in 0..dice.below(6) {
        let (x, y) = (dice.mm(0.0, w), dice.mm(0.0, l));
        let size = (dice.mm(100.0, 1200.0), dice.mm(100.0, 1200.0));
        let own_turn = dice.mm(0.0, 180.0);
        let kind = dice.below(3);
        let d = dice.mm(300.0, 900.0);
        let shape = |at: &dyn Fn(f64, f64) -> P2, turn: f64| {
            let p = at(x, y);
            match kind {
                0 => format!("Round(at: ({:?}, {:?}), diameter: {:?})", p.x, p.y, size.0),
                1 => format!(
                    "Box(at: ({:?}, {:?}), size: ({:?}, {:?}), turn: {:?})",
                    p.x,
                    p.y,
                    size.0,
                    size.1,
                    own_turn + turn
                ),
                _ => {
                    let corners =
                        [(0.0, 0.0), (d, 0.0), (d, d / 3.0), (d / 3.0, d / 3.0), (d / 3.0, d), (0.0, d)];
                    let corners: Vec<String> = corners
                        .iter()
                        .map(|(a, b)| at(x + a, y + b))
                        .map(|p| format!("({:?}, {:?})", p.x, p.y))
                        .collect();
                    format!("Outline([{}])", corners.join(", "))
                }
            }
        };
        let more = format!(
            "z: (0, {}), surface: [{}], movable: {}",
            dice.mm(250.0, 2500.0),
            ["", "Metal", "Light"][dice.below(3) as usize],
            dice.below(2) == 0
        );
        let _ = write!(things, "(name: \"f{i}\", shape: {}, {more}), ", shape(&P2::new, 0.0));
        let _ = write!(turned_things, "(name: \"f{i}\", shape: {}, {more}), ", shape(&at, turn));
    }
    let bay = |at: &dyn Fn(f64, f64) -> P2, things: &str| {
        let list = |points: &[(f64, f64)]| {
            let points = points.iter().map(|p| at(p.0, p.1)).map(|p| format!("({:?}, {:?})", p.x, p.y));
            points.collect::<Vec<_>>().join(", ")
        };
        let apron = match apron {
            true => {
                format!("apron: [{}]", list(&[(left, -3000.0), (right, -3000.0), (right, 0.0), (left, 0.0)]))
            }
            false => String::new(),
        };
        format!(
            "(name: \"Random\", floor: [{}], walls: [{walls}], ceiling: 6000, fixtures: [{things}],
              doorways: [(name: \"door\", side: 0, from: {from:?}, width: {width:?}, height: 3000, {own} {apron})])",
            list(&floor)
        )
    };
    let hung = dice.below(4) == 0;
    let procedure = procedure(&mut dice, hung);
    let walk = [0.0, 300.0, 600.0][dice.below(3) as usize];
    let open = if open { "doors_open: [\"door\"]," } else { "" };
    let accepted = accepted(&mut dice, floor.len());
    let (x, y) = (dice.mm(0.0, w), dice.mm(0.0, l));
    let quarter = f64::from(dice.below(4)) * 90.0;
    let heading = if dice.below(3) == 0 && !hung { dice.of(0.0, 360.0) } else { quarter };
    let parts = |bay: String, at: P2, turn: f64| {
        let mut parts = Parts::alone(&bay, walk);
        parts.equipment = r#"(name: "Shop", targets: {
            "board": (kind: Board, face: (width: 600, height: 800, thickness: 40), stand: Box(at: (-150, 0), size: (500, 700)), stand_height: 300, room_behind: 400, owned: 9),
            "sheet": (kind: Screen, face: (width: 800, height: 700, thickness: 1), owned: 9)})"#
            .into();
        parts.procedures.push(procedure.clone());
        parts.job = format!(
            "pose: At(x: {:?}, y: {:?}, heading: {:?}), rules: (walk_around: {walk}), {open} accepted: [{accepted}]",
            at.x,
            at.y,
            heading + turn
        );
        parts
    };
    Case {
        plain: parts(bay(&P2::new, &things), P2::new(x, y), 0.0),
        turned: parts(bay(&at, &turned_things), at(x, y), turn),
        floor,
        turn,
        hung,
    }
}

/// A board ahead or a sheet on a wall, with zones of every shape.
pub(crate) fn procedure(dice: &mut Dice, hung: bool) -> String {
    let words = |dice: &mut Dice| {
        ["Metal", "Light", "Anything", "Metal, Light", "Anything, Metal", "Anything, Light"]
            [dice.below(6) as usize]
    };
    let shape = match dice.below(4) {
        0 => format!(
            "Strip(line: Centre, from: \"nose\", along: ({}, {}), left: ({}, {}))",
            dice.mm(0.0, 500.0),
            dice.mm(600.0, 3500.0),
            dice.mm(-1500.0, -200.0),
            dice.mm(200.0, 2500.0)
        ),
        1 => format!(
            "Fan(at: \"nose\", line: Centre, angles: ({}, {}), reach: {})",
            dice.mm(-60.0, -5.0),
            dice.mm(5.0, 70.0),
            dice.mm(500.0, 3500.0)
        ),
        // an L of corners: across before the nose, and forward on the left
        2 => "Corners([\"A\", \"B\", \"C\", \"D\", \"E\", \"F\"])".into(),
        _ => format!(
            "AroundVehicle(ahead: {}, behind: {}, left: {}, right: {})",
            dice.mm(100.0, 2500.0),
            dice.mm(100.0, 800.0),
            dice.mm(100.0, 1500.0),
            dice.mm(100.0, 1500.0)
        ),
    };
    let (reach, wide) = (dice.mm(1500.0, 3500.0), dice.mm(700.0, 1500.0));
    let corner = |name: &str, along: f64, left: f64| {
        format!("(\"{name}\", Place(line: Centre, from: \"nose\", along: {along}, left: {left})), ")
    };
    let mut marks = String::new();
    for (name, along, left) in [
        ("A", 100.0, -wide),
        ("B", 600.0, -wide),
        ("C", 600.0, wide / 3.0),
        ("D", reach, wide / 3.0),
        ("E", reach, wide),
        ("F", 100.0, wide),
    ] {
        marks += &corner(name, along, left);
    }
    let station = if hung {
        marks += &format!("(\"X\", Along(line: Centre, from: \"nose\", by: {})), ", dice.mm(100.0, 2500.0));
        "(name: \"board\", target: \"sheet\", at: \"X\", looks: Backward, height: Floor(400), fixed_to: Wall, tolerance: (along: 400, turn: 2))".to_string()
    } else {
        marks += &corner("X", dice.mm(300.0, 2500.0), dice.mm(-1200.0, 1200.0));
        format!(
            "(name: \"board\", target: \"board\", at: \"X\", looks: {}, turn: {}, height: Floor(400))",
            ["Backward", "Left", "Forward"][dice.below(3) as usize],
            dice.mm(-60.0, 60.0)
        )
    };
    let (flat, round) = (words(dice), words(dice));
    let around = format!(
        "(name: \"round\", shape: Around(station: \"board\", beside: {}, above: 300, below: 200, behind: {}, ahead: {}), free_of: [{round}])",
        dice.mm(100.0, 900.0),
        dice.mm(50.0, 600.0),
        dice.mm(50.0, 900.0)
    );
    let around = if dice.below(2) == 0 { around } else { String::new() };
    format!(
        "(name: \"P\", setups: [(name: \"S\", marks: [{marks}], stations: [{station}], zones: [(name: \"field\", shape: {shape}, free_of: [{flat}]), {around}])])"
    )
}

/// Sometimes a wall that the zones may break as far as they do.
pub(crate) fn accepted(dice: &mut Dice, sides: usize) -> String {
    let side = dice.below(2 * sides as u32);
    let of = |zone: &str| {
        format!("(rule: \"clear-zone\", items: [{zone:?}, \"side {side}\"], reason: \"r\", by: \"b\"), ")
    };
    if side < sides as u32 { of("field") + &of("round") } else { String::new() }
}
