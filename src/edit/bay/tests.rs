//! Things of a bay moved, put down and taken away.

use std::path::Path;

use super::*;
use crate::files::read_text;
use crate::geometry::Bounds;

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
        let (after, thing) = put_down(&all, what, P2::new(3000.0, 9000.0), Some("board")).unwrap();
        assert!(named.insert(thing.name(&after)), "{}", thing.name(&after));
        let both = |lift| [0, 1].map(|post| BayThing::Post { lift, post }).to_vec();
        let all_of_it = if let BayThing::Post { lift, .. } = thing { both(lift) } else { vec![thing] };
        assert_eq!(several::taken_away(&after, &all_of_it).unwrap(), before, "{what:?}");
        // a window goes into the nearest wall, a lift is known by its first post
        if what != PutDown::Doorway {
            assert!((thing.place(&after).unwrap().y - 9000.0).abs() < 1e-9);
            all = after;
        }
    }
    assert!(named.contains("cabinet 2"), "the bay has a cabinet already: {named:?}");
    let (after, thing) = put_down(&bay(), PutDown::Doorway, P2::new(5900.0, 6000.0), None).unwrap();
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

#[test]
fn several_are_moved_mirrored_aligned_and_taken_away_together() {
    let bay = bay();
    let [cabinet, drum, rack] = [0, 1, 2].map(BayThing::Fixture);
    let post = BayThing::Post { lift: 0, post: 0 };
    let next =
        several::moved(&bay, &[cabinet, post, BayThing::Corner(2), BayThing::Corner(3)], V2::new(0.0, 500.0));
    let next = next.unwrap();
    assert_eq!(cabinet.place(&next).unwrap(), P2::new(5200.0, 6700.0));
    assert_eq!(next.floor.points, vec![(0.0, 0.0), (6000.0, 0.0), (6000.0, 12_500.0), (0.0, 12_500.0)]);
    // one by one the corners would cross: 13 m down is through the front, both of them is a bay behind it
    assert!(BayThing::Corner(2).moved(&bay, V2::new(-7000.0, 0.0)).is_err());

    let twice = |across| {
        several::mirrored(
            &several::mirrored(&bay, &[cabinet, drum, rack], across).unwrap(),
            &[cabinet, drum, rack],
            across,
        )
    };
    assert_eq!(twice(true).unwrap().fixtures[0], bay.fixtures[0]);
    let next = several::mirrored(&bay, &[cabinet, drum], true).unwrap();
    // the box about both runs from 200 to 5450: its middle is 2825
    assert_eq!((cabinet.place(&next).unwrap().x, drum.place(&next).unwrap().x), (450.0, 5150.0));
    let turned = BayThing::Fixture(0)
        .reshaped(&bay, ShapeDef::Box { at: (3000.0, 3000.0), size: (500.0, 900.0), turn: 30.0 });
    let next = several::mirrored(&turned.unwrap(), &[cabinet], false).unwrap();
    assert!(matches!(cabinet.shape(&next).unwrap().def(), ShapeDef::Box { turn: -30.0, .. }));

    for (to, x, y) in [
        (several::Align::Left, 5250.0, 500.0),
        (several::Align::Right, 5150.0, 500.0),
        (several::Align::Front, 500.0, 6050.0),
        (several::Align::Back, 500.0, 6350.0),
        (several::Align::MiddleAcross, 5200.0, 500.0),
        (several::Align::MiddleAlong, 500.0, 6200.0),
    ] {
        let next = several::aligned(&bay, &[cabinet, drum], to).unwrap();
        assert_eq!(drum.place(&next).unwrap(), P2::new(x, y), "{to:?}");
        assert_eq!(cabinet.place(&next), cabinet.place(&bay));
    }
    assert!(several::aligned(&bay, &[cabinet], several::Align::Left).is_err());

    let next =
        several::taken_away(&bay, &[drum, cabinet, BayThing::Doorway(1), post, BayThing::KeepClear(0)])
            .unwrap();
    assert_eq!(next.fixtures.iter().map(|f| f.name.as_str()).collect::<Vec<_>>(), ["rack"]);
    assert_eq!((next.doorways.len(), next.lifts[0].posts.len(), next.keep_clear.len()), (1, 1, 0));
}

#[test]
fn what_is_copied_is_put_in_under_names_of_its_own() {
    let bay = bay();
    let things = [BayThing::Fixture(0), BayThing::KeepClear(0), BayThing::Doorway(0)];
    let (copies, others) = several::copied(&bay, &things);
    assert_eq!((copies.len(), others), (2, 1));
    let (next, new) = several::put_in(&bay, &copies, V2::new(-1000.0, 0.0)).unwrap();
    assert_eq!(new.iter().map(|t| t.name(&next)).collect::<Vec<_>>(), ["cabinet 2", "exit 2"]);
    let (next, new) = several::put_in(&next, &copies, V2::new(-2000.0, 0.0)).unwrap();
    assert_eq!(new[0].name(&next), "cabinet 3");
    assert_eq!(new[0].place(&next).unwrap(), P2::new(3200.0, 6200.0));
    // a copy of a copy counts on
    let (copies, _) = several::copied(&next, &new[..1]);
    let (last, new) = several::put_in(&next, &copies, V2::zeros()).unwrap();
    assert_eq!(new[0].name(&last), "cabinet 4");
    assert_eq!(
        several::within(&bay, &Bounds::of([P2::new(0.0, 0.0), P2::new(900.0, 5500.0)])),
        [BayThing::Fixture(1), BayThing::Fixture(2)]
    );
}

#[test]
fn an_apron_goes_with_its_doorway() {
    let text = r#"(name: "B", floor: [(0, 0), (6000, 0), (6000, 12000), (0, 12000)], doorways: [(name: "door", side: 0, from: 900,
        width: 3600, height: 3000, apron: [(900, 0), (4500, 0), (4500, -5000), (900, -5000)])])"#;
    let bay: Bay = read_text(text, Path::new("bay.ron")).unwrap();
    let along = door_at(&bay, 0, 1000.0).unwrap();
    assert_eq!(along.doorways[0].apron.as_ref().unwrap().written()[0], (1000.0, 0.0));
    // the front is turned about corner 0 until it runs 3 along and 4 into the bay: 900 of it are (540, 720), and the
    // apron lies to its right
    let long = several::moved(&bay, &[BayThing::Corner(1)], V2::new(-2400.0, 4800.0)).unwrap();
    let apron = long.doorways[0].apron.as_ref().unwrap().written().to_vec();
    assert_eq!(apron[0], (540.0, 720.0));
    assert_eq!(apron[3], (540.0 + 4000.0, 720.0 - 3000.0));
}

#[test]
fn tapes_put_the_corners_and_the_jambs() {
    use crate::model::Spot;
    use crate::model::taped::TapedPoint;
    let bay = bay();
    let corner = |n| TapedPoint::Corner(n, Spot::NOWHERE);
    let read = tape_read(&tape_read(&bay, &corner(0), &corner(1), 6100.0), &corner(0), &corner(2), 13_462.0);
    let corners =
        [(7.0, 7.0), (6100.04, 0.0), (6099.96, 12_000.26), (-0.04, 12_000.0)].map(|p| P2::new(p.0, p.1));
    let taken =
        corners_taken(&read, &corners, &[(0, [Some(1000.04), Some(4700.0)]), (1, [None, Some(1700.0)])])
            .unwrap();
    // the first corner stays to the last digit
    assert_eq!(taken.floor.points, vec![(0.0, 0.0), (6100.0, 0.0), (6100.0, 12_000.3), (0.0, 12_000.0)]);
    let [door, back] = [0, 1].map(|i| (taken.doorways[i].from, taken.doorways[i].width));
    assert_eq!((door, back), ((1000.0, 3700.0), (700.0, 1000.0)));
    assert_eq!(taken.taped.len(), 2, "the readings stay");
    assert_eq!(tape_reread(&taken, 1, None).unwrap().taped.len(), 1);
    assert_eq!(tape_reread(&taken, 1, Some(1410.0)).unwrap().taped[1].2, 1410.0);
    assert!(tape_reread(&taken, 2, None).is_err());
    // a doorway that would reach beyond its side, jambs that change places
    let narrow = [(0.0, 0.0), (4000.0, 0.0), (4000.0, 12_000.0), (0.0, 12_000.0)].map(|p| P2::new(p.0, p.1));
    assert!(corners_taken(&bay, &narrow, &[]).unwrap_err().contains("beyond its side"));
    assert!(
        corners_taken(&bay, &corners, &[(0, [Some(4700.0), Some(1000.0)])]).unwrap_err().contains("places")
    );
}

#[test]
fn what_draws_wins_in_its_order() {
    use snap::{Guides, SnapTo};
    let bay = bay();
    let drum = [BayThing::Fixture(1)];
    let own = several::bounds(&bay, &drum).unwrap();
    let guides = Guides::new(&bay, &drum, Some(P2::new(3100.0, 4000.0)));
    let to = |x: f64, y: f64, reach: f64| guides.snapped(&own, V2::new(x - 500.0, y - 500.0), reach);
    // its left edge at the left wall: the corners lie there too, and a corner comes first
    let found = to(290.0, 7777.0, 40.0);
    assert_eq!((found.by.x, &found.to[0]), (-200.0, &Some(SnapTo::Corner(0))));
    // the middle of the front wins over the lift and the axle beside it
    let found = to(3010.0, 2555.0, 120.0);
    assert_eq!((found.by.x, &found.to[0]), (2500.0, &Some(SnapTo::MiddleOfWall(0))));
    // flush with the cabinet's far edge, at 6650
    let found = to(4100.0, 6355.0, 20.0);
    assert_eq!((found.by.y, &found.to[1]), (6350.0 - 500.0, &Some(SnapTo::Thing("cabinet".into()))));
    let found = to(4000.0, 6990.0, 20.0);
    assert_eq!((found.by.y, &found.to[1]), (6500.0, &Some(SnapTo::Lift("lift".into()))));
    let found = to(4008.0, 4005.0, 20.0);
    assert_eq!(found.to, [Some(SnapTo::Grid), Some(SnapTo::Vehicle)]);
    assert_eq!(found.by, V2::new(3500.0, 3500.0));
    // nothing near: as it was
    let found = to(4060.0, 4255.0, 8.0);
    assert_eq!((found.by, found.to), (V2::new(3560.0, 3755.0), [None, None]));
    let (east, wall) =
        (SnapTo::MiddleOfWall(1), |i: usize| if i == 1 { "east".to_owned() } else { String::new() });
    assert_eq!(east.words(wall), "the middle of east");
}
