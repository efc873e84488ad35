//! Where the floor's height rests on how four spots are joined.

use super::ties::{apex, on_one_circle};
use super::{FloorField, twice_area};
use crate::geometry::P2;

/// A spot is put down with a tape no better than this, mm: four that lie on one circle within it can be joined either way.
const PLACED_MM: f64 = 10.0;

impl FloorField {
    /// By how much higher the floor would be at a place if the four spots round it were joined by their other diagonal,
    /// mm; the most where there are several such fours. `None` where nothing was chosen: four spots nearly on one circle
    /// (as those of a grid) can be joined either way, others cannot.
    pub fn other_diagonal(&self, p: P2) -> Option<f64> {
        let t = self.triangle_at(p)?;
        let height = self.height(p)?;
        let corners = self.triangles[t];
        let sides = (0..3).map(|i| (corners[i], corners[(i + 1) % 3], corners[(i + 2) % 3]));
        let others = sides.filter_map(|(a, b, c)| {
            let d = apex(self.triangles[self.beyond(t, a, b)?], a, b);
            on_one_circle(&self.spots, [a, d, b, c], PLACED_MM).then_some(())?;
            // the diagonal a-b becomes d-c
            let at = |i: usize| self.spots[i].xy();
            let near = if twice_area(at(d), at(c), p) >= 0.0 { a } else { b };
            let shares = self.shares_over([d, near, c], p);
            Some(shares.iter().map(|(i, share)| self.spots[*i].z * share).sum::<f64>() - height)
        });
        others.max_by(|a, b| a.abs().total_cmp(&b.abs()))
    }

    /// The triangle on the other side of a side.
    fn beyond(&self, t: usize, a: usize, b: usize) -> Option<usize> {
        let middle = nalgebra::center(&self.spots[a].xy(), &self.spots[b].xy());
        let near = self.index.near(middle).iter().copied();
        near.filter(|n| *n != t).find(|n| {
            let corners = self.triangles[*n];
            corners.contains(&a) && corners.contains(&b)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::P3;

    fn field(spots: &[(f64, f64, f64)]) -> FloorField {
        FloorField::new(spots.iter().map(|s| P3::new(s.0, s.1, s.2)), None)
    }

    /// A square whose one corner is 8 low. The diagonal from the corner with the smallest x, then y, is taken: (0, 0) to
    /// (1000, 1000). In the middle it gives 0 and the other one, through the low corner, (0 - 8) / 2.
    #[test]
    fn a_square_can_be_joined_either_way() {
        let square =
            field(&[(0.0, 0.0, 0.0), (1000.0, 0.0, -8.0), (0.0, 1000.0, 0.0), (1000.0, 1000.0, 0.0)]);
        for ((x, y), more) in [
            ((500.0, 500.0), -4.0),
            // at (750, 250): -8 * 0.5 as joined; on the other diagonal itself -8 * 0.75
            ((750.0, 250.0), -2.0),
            ((900.0, 500.0), -0.8),
            // at (500, 250): -8 * 0.25 as joined; over the triangle with (0, 0): -8 * 0.5
            ((500.0, 250.0), -2.0),
            ((250.0, 500.0), -2.0),
            // on the sides and on a spot both are the same
            ((500.0, 0.0), 0.0),
            ((0.0, 0.0), 0.0),
        ] {
            let p = P2::new(x, y);
            let found = square.other_diagonal(p).unwrap_or_else(|| panic!("{x} {y}: nothing"));
            assert!((found - more).abs() < 1e-9, "{x} {y}: {found}");
        }
        assert_eq!(square.other_diagonal(P2::new(1500.0, 500.0)), None, "off the survey");
    }

    #[test]
    fn what_cannot_be_joined_otherwise_rests_on_no_choice() {
        let kite =
            field(&[(0.0, 0.0, 0.0), (1000.0, -400.0, -8.0), (1000.0, 400.0, 0.0), (3000.0, 0.0, 0.0)]);
        assert_eq!(kite.other_diagonal(P2::new(1200.0, 0.0)), None);
        let alone = field(&[(0.0, 0.0, 0.0), (1000.0, 0.0, 0.0), (0.0, 1000.0, 0.0)]);
        assert_eq!(alone.other_diagonal(P2::new(200.0, 200.0)), None);
    }

    /// Turned, mirrored and listed otherwise the other diagonal tells as much.
    #[test]
    fn a_grid_of_any_order() {
        let mut spots: Vec<(f64, f64, f64)> = Vec::new();
        for i in 0..5 {
            for j in 0..4 {
                spots.push((f64::from(i) * 1000.0, f64::from(j) * 800.0, f64::from((i * 7 + j * 5) % 11)));
            }
        }
        let one = field(&spots);
        spots.reverse();
        let two = field(&spots);
        for (x, y) in [(500.0, 400.0), (1700.0, 900.0), (3999.0, 2399.0), (2500.0, 1700.0)] {
            let p = P2::new(x, y);
            let found = one.other_diagonal(p).unwrap();
            assert_eq!(Some(found), two.other_diagonal(p));
            // a four's heights over both diagonals at its middle differ by (z0 + z2 - z1 - z3) / 2
            let corner = |i: f64, j: f64| one.height(P2::new(i * 1000.0, j * 800.0)).unwrap();
            let (i, j) = ((x / 1000.0).floor(), (y / 800.0).floor());
            let twist = corner(i, j) + corner(i + 1.0, j + 1.0) - corner(i + 1.0, j) - corner(i, j + 1.0);
            let (u, v) = (x / 1000.0 - i, y / 800.0 - j);
            // linear from 0 on the four's sides to half the twist in its middle
            let share = (2.0 * u.min(1.0 - u).min(v).min(1.0 - v)).min(1.0);
            assert!((found.abs() - twist.abs() / 2.0 * share).abs() < 1e-9, "{x} {y}: {found} {twist}");
        }
    }
}
