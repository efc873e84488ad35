//! The bays beside are taken one by one, and only where nothing fits.

use baywright::siting::{Ask, Change, OtherBay, Progress, find_among};

use crate::bays::Parts;

fn hall(length: f64) -> Parts {
    Parts::alone(
        &format!("(name: \"Hall\", floor: [(0, 0), (5000, 0), (5000, {length}), (0, {length})])"),
        600.0,
    )
}

/// How many bays were asked for, and whether the answer speaks of one of them.
fn taken(length: f64) -> (usize, bool) {
    let mut asked = 0;
    let other = hall(9000.0).bundle().bay;
    let mut bays = std::iter::from_fn(|| {
        asked += 1;
        (asked == 1).then(|| OtherBay { path: "other.ron".into(), bay: other.clone() })
    });
    let found = find_among(&hall(length).bundle(), &Ask::usual(), &mut bays, &Progress::new()).unwrap();
    let spoken_of = found
        .changes
        .iter()
        .any(|t| matches!(&t.change, Change::UseBay(path, _) if path == "other.ron") && t.place.is_some());
    (asked, spoken_of)
}

#[test]
fn no_other_bay_is_read_while_the_job_fits() {
    // the car is 4000 long and wants 600 before and behind it
    assert_eq!(taken(9000.0), (0, false));
    assert_eq!(taken(5000.0), (2, true), "one, and that there is no more");
}
