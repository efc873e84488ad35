//! Things of a bay moved, put down and taken away.

use std::path::Path;

use super::*;
use crate::files::read_text;

fn bay() -> Bay {
    let text = r#"(name: "B", floor: [(0, 0), (6000, 0), (6000, 12000), (0, 12000)],
        walls: [(side: 1, name: "east", surface: [Metal]), (side: 2, name: "end")],
        doorways: [(name: "door", side: 0, from: 900, width: 3600, height: 3000), (name: "back", side: 2, from: 500, width: 1000, height: 2100)],
        fixtures: [(name: "cabinet", shape: Box(at: (5200, 6200), size: (500, 900)), z: (0, 1100)),
                   (name: "drum", shape: Round(at: (500, 500), diameter: 600)),
                   (name: "rack", shape: Outline([(100, 3000), (600, 3000), (600, 5000), (100, 5000)]))],
        lifts: [(name: "lift", posts: [Box(at: (1500, 7000), size: (300, 300)), Box(at: (4500, 7000), size: (300, 300))], heights: [1000])],
        keep_clear: [(name: "exit", shape: Box(at: (300, 11500), size: (600, 900)))])"#;
    read_text(text, Path::new("bay.ron")).unwrap()
}

const ALL: [BayThing; 8] = [
    BayThing::Fixture(0),
    BayThing::Fixture(1),
    BayThing::Fixture(2),
    BayThing::KeepClear(0),
    BayThing::Post { lift: 0, post: 1 },
    BayThing::Doorway(0),
    BayThing::Doorway(1),
    BayThing::Corner(2),
];

#[test]
fn what_is_moved_and_moved_back_is_as_it_was() {
    let bay = bay();
    for thing in ALL {
        let there = thing.moved(&bay, V2::new(130.0, 70.0)).unwrap();
        let (a, b) = (thing.place(&bay).unwrap(), thing.place(&there).unwrap());
        let want = match thing {
            BayThing::Doorway(_) => V2::new(130.0, 0.0),
            _ => V2::new(130.0, 70.0),
        };
        let off = b - a;
        assert!((off - want).norm() < 1e-9, "{thing:?}: {off}");
        assert_eq!(thing.moved(&there, V2::new(-130.0, -70.0)).unwrap(), bay, "{thing:?}");
        // nothing else changes
        for other in ALL.iter().filter(|o| **o != thing && !matches!(thing, BayThing::Corner(_))) {
            assert_eq!(other.place(&bay), other.place(&there), "{thing:?} {other:?}");
        }
    }
    // a doorway stays on its side, walls that cross are refused
    let far = BayThing::Doorway(0).moved(&bay, V2::new(9000.0, 0.0)).unwrap();
    assert_eq!(far.doorways[0].from, 2400.0);
    let crossed = BayThing::Corner(2).moved(&bay, V2::new(-3000.0, -13_000.0));
    assert_eq!(crossed.unwrap_err(), "the walls would cross");
}

#[test]
fn what_is_put_down_has_a_name_of_its_own_and_goes_again() {
    let mut all = bay();
    let mut named = std::collections::BTreeSet::new();
    let twice = PutDown::ALL.into_iter().chain(PutDown::ALL.into_iter().filter(|w| *w != PutDown::Doorway));
    for what in twice {
        let before = all.clone();
        let (after, thing) = put_down(&all, what, P2::new(3000.0, 9000.0)).unwrap();
        assert!(named.insert(thing.name(&after)), "{}", thing.name(&after));
        assert_eq!(thing.taken_away(&after).unwrap(), before);
        if what != PutDown::Doorway {
            assert!((thing.place(&after).unwrap().y - 9000.0).abs() < 1e-9);
            all = after;
        }
    }
    assert!(named.contains("cabinet 2"), "the bay has a cabinet already: {named:?}");
    let (after, thing) = put_down(&bay(), PutDown::Doorway, P2::new(5900.0, 6000.0)).unwrap();
    let BayThing::Doorway(at) = thing else { panic!("{thing:?}") };
    let door = &after.doorways[at];
    assert_eq!((door.side.index, door.from, door.width), (1, 4500.0, 3000.0));
}

#[test]
fn a_rectangle_is_made_wider_and_its_doors_stay_on_their_sides() {
    let bay = bay();
    assert_eq!(rectangle(&bay), Some((6000.0, 12_000.0)));
    let next = sized(&bay, 6100.0, 11_400.0).unwrap();
    assert_eq!(next.floor.points, vec![(0.0, 0.0), (6100.0, 0.0), (6100.0, 11_400.0), (0.0, 11_400.0)]);
    let narrow = sized(&bay, 3000.0, 12_000.0).unwrap();
    assert_eq!((narrow.doorways[0].from, narrow.doorways[0].width), (0.0, 3000.0));
    assert!(sized(&bay, 0.0, 100.0).is_err() && sized(&bay, f64::NAN, 100.0).is_err());
    let bent = BayThing::Corner(2).moved(&bay, V2::new(-500.0, 0.0)).unwrap();
    assert!(rectangle(&bent).is_none() && sized(&bent, 1.0, 1.0).is_err());
}

#[test]
fn a_corner_more_changes_nothing_until_it_is_moved() {
    let bay = bay();
    let area = |b: &Bay| b.floor.outline.0.area();
    let (more, corner) = corner_added(&bay, 1).unwrap();
    assert_eq!(
        (corner, more.floor.points[2], area(&more)),
        (BayThing::Corner(2), (6000.0, 6000.0), area(&bay))
    );
    // the end wall and the back door are on side 3 by now; both halves of the east wall are of metal
    assert_eq!(more.doorways[1].side.index, 3);
    let surfaces: Vec<(usize, usize)> = more.walls.iter().map(|w| (w.side.index, w.surface.len())).collect();
    assert_eq!(surfaces, vec![(1, 1), (3, 0), (2, 1)]);
    let back = corner.taken_away(&more).unwrap();
    assert_eq!(back.floor, bay.floor);
    assert_eq!(back.doorways, bay.doorways);
    // a door across the middle of the side
    assert!(corner_added(&bay, 0).unwrap_err().contains("door is in the middle of that side"));
    assert!(BayThing::Corner(0).taken_away(&bay).unwrap_err().contains("take it away first"));
}

#[test]
fn the_walls_beside_a_thing() {
    let bay = bay();
    let of = BayThing::Fixture(0).shape(&bay).unwrap().0.bounds();
    let [across, along] = to_walls(&bay, &of);
    // 6000 - 5200 - 250, and 12000 - 6200 - 450
    assert_eq!(across.map(|w| (w.0, w.1)), Some((550.0, 1)));
    assert_eq!(along.map(|w| (w.0, w.1)), Some((5350.0, 2)));
}

#[test]
fn a_bay_to_begin_with_can_be_written() {
    let bay = begun("New bay").unwrap();
    let text = crate::model::writing::spell_whole(&bay).unwrap();
    assert_eq!(read_text::<Bay>(&text, Path::new("bay.ron")).unwrap(), bay);
    assert_eq!((bay.doorways[0].from, bay.ceiling), (1500.0, None));
}
