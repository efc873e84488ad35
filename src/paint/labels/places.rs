//! The places a text tries, the best first.

use super::{PageBox, Want, Wish};
use crate::paint::outline::{between, clip};

/// Gap between a text and what it names, px.
const GAP: f32 = 5.0;
/// Gap between a text and the edge of the area it stands in, px.
const INSIDE: f32 = 2.0;
/// From this distance on a text needs a line back to what it names, px.
const FAR: f32 = 14.0;

type Place = (PageBox, Option<[[f32; 2]; 2]>);

/// The places for one wish.
pub(super) struct Candidates {
    size: [f32; 2],
    /// Where the text's middle may be.
    middles: Vec<[f32; 2]>,
    /// What a leader goes back to.
    home: PageBox,
    /// So many of the first places need no leader: they lie on or in what the text names.
    at_home: usize,
    next: usize,
}

impl Candidates {
    pub(super) fn new(wish: &Wish, page: &PageBox) -> Candidates {
        let mut c = Candidates {
            size: wish.size,
            middles: Vec::with_capacity(40),
            home: PageBox::new([0.0; 2], [0.0; 2]),
            at_home: 0,
            next: 0,
        };
        match wish.want {
            Want::Near(p) => {
                c.home = PageBox::new(p, p);
                c.round(GAP, page);
            }
            Want::Beside(b) => {
                c.home = b;
                c.round(GAP - 1.0, page);
            }
            Want::Within(b) => {
                c.home = b;
                c.fill(page);
                c.round(GAP, page);
            }
            Want::Along(a, b) => c.line(a, b, page),
        }
        c
    }

    /// Round the home box at growing distances: below, above, beside, then the corners.
    fn round(&mut self, gap: f32, page: &PageBox) {
        let seen = self.home.meet(page);
        let home = if seen.min[0] <= seen.max[0] && seen.min[1] <= seen.max[1] {
            seen
        } else {
            return;
        };
        let [w, h] = [self.size[0] / 2.0, self.size[1] / 2.0];
        let [cx, cy] = home.centre();
        for gap in [gap, gap + 12.0, gap + 28.0, gap + 48.0, gap + 76.0] {
            let (left, right) = (home.min[0] - gap - w, home.max[0] + gap + w);
            let (above, below) = (home.min[1] - gap - h, home.max[1] + gap + h);
            // flush with the box's ends
            let (near, far) = (home.min[0] + w, home.max[0] - w);
            self.middles.extend([
                [cx, below],
                [cx, above],
                [right, cy],
                [left, cy],
                [near, below],
                [near, above],
                [far, below],
                [far, above],
                [right, above],
                [right, below],
                [left, above],
                [left, below],
            ]);
        }
    }

    /// All over the inside of the home box, what shows of it, the middle and the long edges first.
    fn fill(&mut self, page: &PageBox) {
        let b = self.home.meet(page);
        let [w, h] = [self.size[0] / 2.0 + INSIDE, self.size[1] / 2.0 + INSIDE];
        let (x, y) = ((b.min[0] + w, b.max[0] - w), (b.min[1] + h, b.max[1] - h));
        if x.0 > x.1 || y.0 > y.1 {
            return;
        }
        let at = |f: f32, g: f32| [x.0 + (x.1 - x.0) * f, y.0 + (y.1 - y.0) * g];
        for g in [0.5, 1.0, 0.0, 0.25, 0.75] {
            for f in [0.5, 0.0, 1.0, 0.25, 0.75] {
                self.middles.push(at(f, g));
            }
        }
        self.at_home = self.middles.len();
    }

    /// On the line where it is long enough, then beside it.
    fn line(&mut self, a: [f32; 2], b: [f32; 2], page: &PageBox) {
        let Some((from, to)) = clip(a, b, page) else {
            let at = between(a, b, 0.5);
            if page.holds(at) {
                self.home = PageBox::new(at, at);
                self.round(GAP + 3.0, page);
            }
            return;
        };
        let (a, b) = (between(a, b, from), between(a, b, to));
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let length = dx.hypot(dy);
        let (ux, uy) = if length > 0.0 { (dx / length, dy / length) } else { (1.0, 0.0) };
        let [w, h] = self.size;
        let covered = (w * ux.abs()).max(h * uy.abs()).min(w.hypot(h));
        if length > covered + 16.0 {
            self.middles.extend([0.5, 0.35, 0.65, 0.22, 0.78].map(|f| between(a, b, f)));
        }
        let middle = between(a, b, 0.5);
        self.home = PageBox::new(middle, middle);
        // how far the text reaches along the line's normal
        let aside = w / 2.0 * uy.abs() + h / 2.0 * ux.abs() + GAP + 1.0;
        for f in [0.5, 0.3, 0.7] {
            let [x, y] = between(a, b, f);
            for side in [1.0, -1.0] {
                self.middles.push([x - uy * aside * side, y + ux * aside * side]);
            }
        }
        let past = w / 2.0 * ux.abs() + h / 2.0 * uy.abs() + GAP + 3.0;
        self.middles.push([b[0] + ux * past, b[1] + uy * past]);
        self.middles.push([a[0] - ux * past, a[1] - uy * past]);
        self.at_home = self.middles.len();
        self.round(GAP + 6.0, page);
    }
}

impl Iterator for Candidates {
    type Item = Place;

    fn next(&mut self) -> Option<Place> {
        let middle = *self.middles.get(self.next)?;
        self.next += 1;
        let at = PageBox::centred(middle, self.size);
        if self.next <= self.at_home {
            return Some((at, None));
        }
        let home = self.home.nearest(middle);
        let edge = at.nearest(home);
        let (dx, dy) = ((edge[0] - home[0]).abs(), (edge[1] - home[1]).abs());
        // off a corner of a box it could belong to what lies beside it
        let off_corner = self.home.size() != [0.0; 2] && dx.min(dy) > 0.5;
        Some((at, (off_corner || dx.hypot(dy) > FAR).then_some([home, edge])))
    }
}
