//! The adjustment by itself: a textbook's trilateration, and sums that can be followed by hand.

use super::*;

/// A reading of a sum of unknowns, each with its factor.
fn sum(read: f64, error: f64, parts: &'static [(usize, f64)]) -> Reading<'static> {
    let model = move |x: &[f64]| (parts.iter().map(|(k, d)| x[*k] * d).sum(), parts.to_vec());
    Reading { read, error, model: Box::new(model) }
}

/// One station from three known ones: C. D. Ghilani, Adjustment Computations, chapter on trilateration (the data from
/// memory, ft). The coordinates, residuals and cofactors beside it are NumPy 2.3's, `linalg.lstsq` repeated until it rests.
#[test]
fn one_station_from_three() {
    let known = [(865.40, 4527.15, 6049.00), (2432.55, 2047.25, 4736.83), (2865.22, 27.15, 5446.49)];
    let readings: Vec<Reading> = known
        .into_iter()
        .map(|(east, north, read)| Reading {
            read,
            error: 1.0,
            model: Box::new(move |x: &[f64]| {
                let (e, n) = (x[0] - east, x[1] - north);
                let long = e.hypot(n);
                (long, vec![(0, e / long), (1, n / long)])
            }),
        })
        .collect();
    let found = adjust(&[6000.0, 3000.0], &readings).unwrap();
    for (got, want) in found.unknowns.iter().zip([6861.31678772, 3727.81856572]) {
        assert!((got - want).abs() < 1e-6, "{got} is not {want}");
    }
    for (got, want) in found.residuals.iter().zip([-0.03737265, 0.07679284, -0.04736557]) {
        assert!((got - want).abs() < 1e-7, "{got} is not {want}");
    }
    for (at, want) in [((0, 0), 0.63018897), ((0, 1), -0.72835387), ((1, 1), 2.49468854)] {
        assert!((found.covariance[at] - want).abs() < 1e-7, "{} is not {want}", found.covariance[at]);
    }
    assert!((found.sigma0.unwrap() - 0.00953735311885825f64.sqrt()).abs() < 1e-9);
    // one reading to spare: what shows of each adds up to it, and all tests are one figure
    assert!((found.shows.iter().sum::<f64>() - 1.0).abs() < 1e-9);
    let first = found.tests[0].unwrap();
    assert!(found.tests.iter().all(|t| (t.unwrap() - first).abs() < 1e-6));
}

/// By hand: a length read as 10 and 13 with errors 1 and 2 is (10·1 + 13·¼) / 1.25 = 10.6, its variance 1 / 1.25 = 0.8.
#[test]
fn a_weighted_mean() {
    let found = adjust(&[0.0], &[sum(10.0, 1.0, &[(0, 1.0)]), sum(13.0, 2.0, &[(0, 1.0)])]).unwrap();
    assert!((found.unknowns[0] - 10.6).abs() < 1e-12 && (found.covariance[(0, 0)] - 0.8).abs() < 1e-12);
    // of a mistake shows what the others weigh: 0.2 of the better reading, 0.8 of the worse
    assert!((found.shows[0] - 0.2).abs() < 1e-12 && (found.shows[1] - 0.8).abs() < 1e-12);
    // 0.6 by 1·√0.2, and 2.4 by 2·√0.8: both 1.3416
    for test in found.tests {
        assert!((test.unwrap() - 1.8f64.sqrt()).abs() < 1e-12);
    }
    assert!((found.sigma0.unwrap() - 1.8f64.sqrt()).abs() < 1e-12);
}

#[test]
fn what_is_open_is_named_and_what_would_settle_it() {
    // of three unknowns the first two are seen only as their sum
    let readings = [sum(5.0, 1.0, &[(0, 1.0), (1, 1.0)]), sum(2.0, 1.0, &[(2, 1.0)])];
    let Err(NotAdjusted::Open { unknowns, free }) = adjust(&[0.0; 3], &readings) else {
        panic!("a sum does not settle its parts")
    };
    assert_eq!((unknowns, free.ncols()), (vec![0, 1], 1));
    // the sum again and what is known already help nothing; the difference does, and then no more is needed
    let candidates = [vec![(0, 2.0), (1, 2.0)], vec![(2, 1.0)], vec![(0, 1.0), (1, -1.0)], vec![(0, 1.0)]];
    assert_eq!(settling(free, &candidates, 4), [2]);
    let Err(NotAdjusted::Open { unknowns, free }) = adjust(&[0.0; 3], &readings[..1]) else {
        panic!("two are open")
    };
    assert_eq!((unknowns, free.ncols()), (vec![0, 1, 2], 2));
    assert_eq!(settling(free.clone(), &candidates, 4), [1, 2]);
    assert_eq!(settling(free, &candidates, 1), [1]);
}

#[test]
fn the_reading_that_checks_most_is_asked_for() {
    // the first unknown is read twice; the second and third once
    let readings = [
        sum(1.0, 1.0, &[(0, 1.0)]),
        sum(1.0, 1.0, &[(0, 1.0)]),
        sum(2.0, 1.0, &[(1, 1.0)]),
        sum(3.0, 1.0, &[(2, 1.0)]),
    ];
    let found = adjust(&[0.0; 3], &readings).unwrap();
    assert_eq!((found.unchecked(), found.doubt), (vec![2, 3], Doubt::None));
    let own = [row(&found.unknowns, &readings[2]), row(&found.unknowns, &readings[3])];
    let candidates = [vec![(0, 1.0)], vec![(1, 1.0)], vec![(1, 1.0), (2, 1.0)], vec![(2, 1.0)]];
    assert_eq!(found.checking(&own, &candidates, 4), [2], "one sum checks both");
    assert_eq!(found.checking(&own, &[candidates[1].clone(), candidates[3].clone()], 4), [0, 1]);
    assert_eq!(
        found.checking(&own, &candidates[..1], 4),
        [0usize; 0],
        "the first unknown says nothing of them"
    );
    // a third of a mistake shows: after the sum, (1·1)² / (1 + 2) of each
    let after: Vec<Reading> = readings.into_iter().chain([sum(5.0, 1.0, &[(1, 1.0), (2, 1.0)])]).collect();
    let found = adjust(&[0.0; 3], &after).unwrap();
    assert!((found.shows[2] - 1.0 / 3.0).abs() < 1e-12 && found.unchecked().is_empty());
}

#[test]
fn a_reading_put_off_is_named_only_where_it_stands_out() {
    let three =
        |read: f64| [sum(1.0, 1.0, &[(0, 1.0)]), sum(read, 1.0, &[(0, 1.0)]), sum(1.0, 1.0, &[(0, 1.0)])];
    assert_eq!(adjust(&[0.0], &three(1.0)).unwrap().doubt, Doubt::None);
    assert_eq!(adjust(&[0.0], &three(9.0)).unwrap().doubt, Doubt::Reading(1));
    // by hand: v = 2/3 off, of its own deviation √(2/3): in doubt above 3.29 · √(3/2) = 4.0294
    for (off, doubt) in [(4.02, Doubt::None), (4.04, Doubt::Reading(1))] {
        assert_eq!(adjust(&[0.0], &three(1.0 + off)).unwrap().doubt, doubt, "{off}");
    }
    // two readings contradict each other and neither stands out
    let found = adjust(&[0.0], &three(9.0)[..2]).unwrap();
    assert_eq!((found.doubt, found.alike()), (Doubt::Undecided, vec![0, 1]));
}
