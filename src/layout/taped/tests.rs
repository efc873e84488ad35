//! Bays taped by hand and at random.

use super::*;
use crate::files::read_text;
use crate::geometry::rotate;

/// Numbers from a seed (the generator of Vigna's splitmix64, from memory).
struct Dice(u64);

impl Dice {
    fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Of the normal distribution (Box and Muller, 1958).
    fn normal(&mut self) -> f64 {
        (-2.0 * (1.0 - self.unit()).ln()).sqrt() * (std::f64::consts::TAU * self.unit()).cos()
    }
}

/// A bay with a door in its first side and tapes between these points: each an index of a corner, or 100 and 101 for the
/// door's jambs. What is read is what the shape has, and `off` more for one of them.
fn taped(shape: &[(f64, f64)], tapes: &[(usize, usize)], off: impl Fn(usize) -> f64) -> Bay {
    let at = |i: usize| P2::new(shape[i].0, shape[i].1);
    let way = (at(1) - at(0)).normalize();
    let point = |i: usize| match i {
        100 => at(0) + way * 900.0,
        101 => at(0) + way * 3500.0,
        _ => at(i),
    };
    let spelt = |i: usize| match i {
        100 => "Jamb(\"d\", From)".to_owned(),
        101 => "Jamb(\"d\", To)".to_owned(),
        _ => i.to_string(),
    };
    let readings: Vec<String> = tapes
        .iter()
        .enumerate()
        .map(|(n, (a, b))| {
            format!("({}, {}, {:?})", spelt(*a), spelt(*b), (point(*b) - point(*a)).norm() + off(n))
        })
        .collect();
    // the file's own floor is only roughly right
    let rough: Vec<(f64, f64)> =
        shape.iter().map(|p| ((p.0 / 50.0).round() * 50.0, (p.1 / 50.0).round() * 50.0)).collect();
    let text = format!(
        "(name: \"B\", floor: {rough:?}, doorways: [{}], taped: [{}])",
        if (at(1) - at(0)).norm() > 3500.0 {
            "(name: \"d\", side: 0, from: 900, width: 2600, height: 3000)"
        } else {
            ""
        },
        readings.join(", ")
    );
    read_text(&text, std::path::Path::new("bay.ron")).unwrap()
}

const RECTANGLE: [(f64, f64); 4] = [(0.0, 0.0), (5510.0, 0.0), (5510.0, 11990.0), (0.0, 11990.0)];
const ELEVEN: [(usize, usize); 11] =
    [(0, 1), (1, 2), (2, 3), (3, 0), (0, 2), (1, 3), (2, 100), (3, 100), (2, 101), (3, 101), (0, 100)];
const L: [(f64, f64); 8] = [
    (0.0, 0.0),
    (6020.0, 30.0),
    (6000.0, 5010.0),
    (9030.0, 5000.0),
    (9000.0, 12040.0),
    (3010.0, 12000.0),
    (3000.0, 9000.0),
    (-20.0, 9010.0),
];

fn all_pairs(n: usize) -> Vec<(usize, usize)> {
    (0..n).flat_map(|i| (i + 1..n).map(move |j| (i, j))).collect()
}

#[test]
fn exact_readings_give_the_shape_back() {
    for (shape, tapes) in [(&RECTANGLE[..], ELEVEN.to_vec()), (&L[..], all_pairs(8))] {
        let found = corners(&taped(shape, &tapes, |_| 0.0), TapeError::default()).unwrap();
        // the side from corner 0 to corner 1 keeps the direction it has in the file
        let rough = ((shape[1].1 / 50.0).round() * 50.0).atan2((shape[1].0 / 50.0).round() * 50.0);
        let turn = rough - shape[1].1.atan2(shape[1].0);
        for (p, want) in found.corners.iter().zip(shape) {
            let want = rotate(V2::new(want.0, want.1), turn);
            assert!((p.coords - want).norm() < 1e-4, "{p} is not {want}");
        }
        assert!(found.residuals.iter().all(|v| v.abs() < 1e-6) && found.doubt == Doubt::None);
        assert!(found.sigma0.unwrap() < 1e-6);
    }
}

/// Baarda's test points at the reading that was put off, or at none, and never at another.
#[test]
fn a_reading_put_off_is_pointed_at_and_never_another() {
    for (shape, tapes) in [(&RECTANGLE[..], ELEVEN.to_vec()), (&L[..], all_pairs(8))] {
        let mut pointed = 0;
        for wrong in 0..tapes.len() {
            for by in [30.0, -30.0] {
                let bay = taped(shape, &tapes, |n| if n == wrong { by } else { 0.0 });
                match corners(&bay, TapeError::default()).unwrap().doubt {
                    Doubt::Reading(at) => {
                        assert_eq!(at, wrong, "{by} on {:?}", tapes[wrong]);
                        pointed += 1;
                    }
                    Doubt::None => panic!("30 mm on {:?} is not seen", tapes[wrong]),
                    Doubt::Undecided => {}
                }
            }
        }
        assert!(pointed >= tapes.len(), "{pointed} of {}", 2 * tapes.len());
    }
}

/// With one reading to spare all tests are equal: a fact of the adjustment (the residuals of one condition are all
/// multiples of one number), and of common textbooks.
#[test]
fn with_one_to_spare_nothing_is_pointed_at() {
    let tapes = &ELEVEN[..6];
    for wrong in 0..6 {
        let bay = taped(&RECTANGLE, tapes, |n| if n == wrong { 41.0 } else { 0.0 });
        let found = corners(&bay, TapeError::default()).unwrap();
        assert_eq!((found.redundant, found.doubt), (1, Doubt::Undecided));
        assert!(!found.next.is_empty());
    }
}

#[test]
fn the_errors_are_those_of_many_draws() {
    let tapes = ELEVEN;
    let mut dice = Dice(7);
    let draws = 4000;
    let mut sums = [V2::zeros(); 4];
    for _ in 0..draws {
        let noise: Vec<f64> = (0..tapes.len()).map(|_| 2.0 * dice.normal()).collect();
        let found = corners(&taped(&RECTANGLE, &tapes, |n| noise[n]), TapeError::default()).unwrap();
        for (sum, (p, want)) in sums.iter_mut().zip(found.corners.iter().zip(RECTANGLE)) {
            let off = p - P2::new(want.0, want.1);
            *sum += off.component_mul(&off);
        }
    }
    let told = corners(&taped(&RECTANGLE, &tapes, |_| 0.0), TapeError::default()).unwrap().errors;
    for (n, (sum, told)) in sums.iter().zip(told).enumerate() {
        let drawn = (sum / f64::from(draws)).map(f64::sqrt);
        for (drawn, told) in [(drawn.x, told.x), (drawn.y, told.y)] {
            assert!((drawn - told).abs() <= 0.05 * told + 1e-9, "corner {n}: {drawn} drawn, {told} told");
        }
    }
}

#[test]
fn a_longer_tape_errs_more_and_counts_less() {
    let bay = taped(&RECTANGLE, &ELEVEN, |n| if n == 4 { 9.0 } else { 0.0 });
    let even = corners(&bay, TapeError::default()).unwrap();
    let growing = corners(&bay, TapeError { error: 0.3, per_metre: 0.2 }).unwrap();
    assert!(even.residuals[4].abs() > 3.0 && growing.residuals[4].abs() > even.residuals[4].abs());
    assert!((TapeError { error: 3.0, per_metre: 0.4 }.of(10_000.0) - 5.0).abs() < 1e-12);
}

#[test]
fn what_lies_in_a_line_or_contradicts_itself_is_told() {
    let flat = [(0.0, 0.0), (3000.0, 0.0), (6000.0, 0.0), (6000.0, 5000.0), (0.0, 5000.0)];
    let found = corners(&taped(&flat, &all_pairs(5), |_| 0.0), TapeError::default()).unwrap();
    assert!((found.corners[2] - P2::new(6000.0, 0.0)).norm() < 1e-3);
    let mut dice = Dice(3);
    for _ in 0..300 {
        let off: Vec<f64> = (0..6).map(|_| 6000.0 * dice.normal().abs()).collect();
        // whatever is read: an answer or a refusal, never a floor that is none
        if let Ok(found) = corners(&taped(&RECTANGLE, &ELEVEN[..6], |n| off[n]), TapeError::default()) {
            assert!(found.corners.iter().all(|p| p.x.is_finite() && p.y.is_finite()));
            assert!(Polygon::new(found.corners).is_ok());
        }
    }
}

#[test]
fn many_corners_are_no_trouble() {
    let n = 100;
    let shape: Vec<(f64, f64)> = (0..n)
        .map(|i| {
            let angle = std::f64::consts::TAU * f64::from(i) / f64::from(n);
            (9000.0 * angle.cos() + 3.0, 9000.0 * angle.sin() + 3.0)
        })
        .collect();
    let n = n as usize;
    let mut tapes: Vec<(usize, usize)> = (0..n).map(|i| (i, (i + 1) % n)).collect();
    tapes.extend((0..n).map(|i| (i, (i + 2) % n)));
    tapes.extend((0..n / 2).map(|i| (i, i + n / 2)));
    let found = corners(&taped(&shape, &tapes, |_| 0.0), TapeError::default()).unwrap();
    assert!(found.redundant == tapes.len() - (2 * n - 3) && found.doubt == Doubt::None);
}

/// The mean of a point's readings is what counts, and two readings of one tape check each other.
#[test]
fn a_tape_read_twice_is_two_readings() {
    let twice: Vec<(usize, usize)> = ELEVEN[..5].iter().copied().chain([(2, 0)]).collect();
    let bay = taped(&RECTANGLE, &twice, |n| if n == 5 { 4.0 } else { 0.0 });
    let found = corners(&bay, TapeError::default()).unwrap();
    assert_eq!((found.redundant, found.doubt), (1, Doubt::None));
    assert!((found.residuals[4] - 2.0).abs() < 1e-6 && (found.residuals[5] + 2.0).abs() < 1e-6);
    assert_eq!(found.unchecked, [0, 1, 2, 3], "the sides are still read but once");
    // and they settle what one tape of each left open: the wrong diagonal is read again
    let again: Vec<(usize, usize)> = ELEVEN[..6].iter().copied().chain([(1, 3)]).collect();
    let bay = taped(&RECTANGLE, &again, |n| if n == 5 { 41.0 } else { 0.0 });
    let found = corners(&bay, TapeError::default()).unwrap();
    assert_eq!((found.redundant, found.doubt), (2, Doubt::Reading(5)));
}

/// What no other reading checks is named, and the tapes that are asked for check it.
#[test]
fn a_reading_that_nothing_checks_is_named() {
    let five = [(0.0, 0.0), (5500.0, 0.0), (5500.0, 12000.0), (0.0, 12000.0), (-900.0, 6000.0)];
    let mut tapes = vec![(0, 1), (1, 2), (2, 3), (3, 0), (0, 2), (1, 3), (3, 4), (4, 0)];
    for off in [0.0, 1500.0] {
        let found =
            corners(&taped(&five, &tapes, |n| if n == 6 { off } else { 0.0 }), TapeError::default()).unwrap();
        assert_eq!((found.redundant, found.doubt), (1, Doubt::None));
        assert_eq!(found.unchecked, [6, 7]);
        assert_eq!(found.next, [(corner(2), corner(4))]);
    }
    tapes.push((2, 4));
    let found =
        corners(&taped(&five, &tapes, |n| if n == 6 { 1500.0 } else { 0.0 }), TapeError::default()).unwrap();
    assert!(found.unchecked.is_empty() && found.doubt != Doubt::None, "{found:?}");
    // exactly enough: every reading hangs in the air, whatever is left to tape is asked for
    let found = corners(&taped(&RECTANGLE, &ELEVEN[..5], |_| 0.0), TapeError::default()).unwrap();
    assert_eq!((found.unchecked.len(), found.next.len()), (5, 1));
    let triangle = corners(&taped(&RECTANGLE[..3], &all_pairs(3), |_| 0.0), TapeError::default()).unwrap();
    assert_eq!((triangle.unchecked.len(), triangle.next.len()), (3, 3), "read again: nothing else is left");
}

fn corner(n: usize) -> TapedPoint {
    TapedPoint::Corner(n, Spot::NOWHERE)
}

/// Turning and shifting the whole bay changes neither residuals nor errors, nor what is asked for.
#[test]
fn the_bay_may_lie_as_it_likes() {
    let tapes = all_pairs(8);
    let noise = |n: usize| 3.0 * (n as f64 * 2.399).sin();
    let lying = corners(&taped(&L, &tapes, noise), TapeError::default()).unwrap();
    for turn in [0.3, 1.1, 2.0, 3.0, 4.4] {
        let turned: Vec<(f64, f64)> = L
            .iter()
            .map(|p| rotate(V2::new(p.0, p.1), turn) + V2::new(700.0, -300.0))
            .map(|p| (p.x, p.y))
            .collect();
        let found = corners(&taped(&turned, &tapes, noise), TapeError::default()).unwrap();
        for (a, b) in found.residuals.iter().zip(&lying.residuals) {
            assert!((a - b).abs() < 1e-4, "turned by {turn}: {a} and {b}");
        }
        for (a, b) in found.errors.iter().zip(&lying.errors) {
            assert!((a.norm() - b.norm()).abs() < 1e-3, "turned by {turn}: {a} and {b}");
        }
    }
}

/// One tape on a floor of 200 corners: what is missing is told at once. Before, the time grew with the fourth power of the
/// corners: 28 s for these.
#[test]
fn much_that_is_missing_is_told_at_once() {
    let shape: Vec<(f64, f64)> = (0..200)
        .map(|i| std::f64::consts::TAU * f64::from(i) / 200.0)
        .map(|angle| (9000.0 * angle.cos(), 9000.0 * angle.sin()))
        .collect();
    let bay = taped(&shape, &[(0, 1)], |_| 0.0);
    let started = std::time::Instant::now();
    let Err(NoCorners::Open { points, missing, needed }) = corners(&bay, TapeError::default()) else {
        panic!("one tape does not settle 200 corners")
    };
    assert_eq!((points.len(), missing, needed.len()), (198, 396, MOST));
    assert!(started.elapsed().as_secs_f64() < 5.0, "{:?}", started.elapsed());
}
