//! Placing names and figures on the page so that they never cover each other nor what they name.
//!
//! The page is covered by small cells. What is drawn raises the cost of the cells it lies on; texts, points and symbols
//! forbid theirs. Each text tries places round what it names, nearest first, and takes the cheapest; the weightiest
//! texts choose first. The same wishes in the same order give the same places.

mod places;

use places::Candidates;

/// A box on the page, px.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PageBox {
    pub min: [f32; 2],
    pub max: [f32; 2],
}

impl PageBox {
    pub fn new(min: [f32; 2], max: [f32; 2]) -> PageBox {
        PageBox { min, max }
    }

    /// The box about some points; of none an empty one.
    pub fn about(points: &[[f32; 2]]) -> PageBox {
        let empty = PageBox::new([f32::INFINITY; 2], [f32::NEG_INFINITY; 2]);
        points.iter().fold(empty, |b, p| PageBox {
            min: [b.min[0].min(p[0]), b.min[1].min(p[1])],
            max: [b.max[0].max(p[0]), b.max[1].max(p[1])],
        })
    }

    pub fn centred(at: [f32; 2], size: [f32; 2]) -> PageBox {
        let half = [size[0] / 2.0, size[1] / 2.0];
        PageBox::new([at[0] - half[0], at[1] - half[1]], [at[0] + half[0], at[1] + half[1]])
    }

    pub fn centre(&self) -> [f32; 2] {
        [(self.min[0] + self.max[0]) / 2.0, (self.min[1] + self.max[1]) / 2.0]
    }

    pub fn size(&self) -> [f32; 2] {
        [self.max[0] - self.min[0], self.max[1] - self.min[1]]
    }

    pub fn grown(&self, by: f32) -> PageBox {
        PageBox::new([self.min[0] - by, self.min[1] - by], [self.max[0] + by, self.max[1] + by])
    }

    /// Whether they share more than an edge.
    pub fn overlaps(&self, o: &PageBox) -> bool {
        self.min[0] < o.max[0] && o.min[0] < self.max[0] && self.min[1] < o.max[1] && o.min[1] < self.max[1]
    }

    pub fn holds(&self, p: [f32; 2]) -> bool {
        (0..2).all(|k| self.min[k] <= p[k] && p[k] <= self.max[k])
    }

    pub fn within(&self, o: &PageBox) -> bool {
        o.holds(self.min) && o.holds(self.max)
    }

    pub fn meet(&self, o: &PageBox) -> PageBox {
        PageBox::new(
            [self.min[0].max(o.min[0]), self.min[1].max(o.min[1])],
            [self.max[0].min(o.max[0]), self.max[1].min(o.max[1])],
        )
    }

    /// The box's point nearest to `p`.
    pub fn nearest(&self, p: [f32; 2]) -> [f32; 2] {
        [0, 1].map(|k| p[k].clamp(self.min[k].min(self.max[k]), self.max[k].max(self.min[k])))
    }
}

/// What a text belongs to, on the page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Want {
    /// Close to a point.
    Near([f32; 2]),
    /// Outside a box.
    Beside(PageBox),
    /// Anywhere inside a box; beside it where it is too small.
    Within(PageBox),
    /// On a line where it is long enough, else beside its middle.
    Along([f32; 2], [f32; 2]),
}

/// A text that asks for a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wish {
    pub want: Want,
    pub size: [f32; 2],
    /// Higher chooses first.
    pub weight: u8,
    /// What covering its own area costs a cell; it may do so freely.
    pub own: u8,
}

/// The place a text got.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    pub at: PageBox,
    /// A line back to what it names, where the text had to go far.
    pub leader: Option<[[f32; 2]; 2]>,
}

/// Side of a cell, px.
const CELL: f32 = 4.0;
/// A cell no text may use.
const TAKEN: u8 = 255;
/// Texts keep this far apart and from the page's edge, px.
const APART: f32 = 2.0;
/// What one step down the list of places costs, in cells' cost.
const STEP: u32 = 60;
/// A text is left out rather than put at a place as bad as this, by cell it takes: trifles, names, and what says more.
const TOO_BAD: [u32; 3] = [10, 26, 60];

/// What is in the way on the page.
pub struct Field {
    page: PageBox,
    wide: usize,
    high: usize,
    cells: Vec<u8>,
}

impl Field {
    /// An empty page of this size, px. A size that is no number, or very large, is cut down.
    pub fn new(size: [f32; 2]) -> Field {
        let size = size.map(|s| if s.is_finite() { s.clamp(CELL, 16_000.0) } else { CELL });
        let (wide, high) = ((size[0] / CELL).ceil() as usize, (size[1] / CELL).ceil() as usize);
        Field { page: PageBox::new([0.0, 0.0], size), wide, high, cells: vec![0; wide * high] }
    }

    /// Nothing may cover this box.
    pub fn forbid(&mut self, b: &PageBox) {
        self.each(b, |cell| *cell = TAKEN);
    }

    /// Covering this box costs `cost` a cell.
    pub fn burden(&mut self, b: &PageBox, cost: u8) {
        self.each(b, |cell| raise(cell, cost));
    }

    /// Covering this line costs `cost` a cell.
    pub fn burden_line(&mut self, a: [f32; 2], b: [f32; 2], cost: u8) {
        let Some((from, to)) = super::outline::clip(a, b, &self.page) else {
            return;
        };
        let (a, b) = (super::outline::between(a, b, from), super::outline::between(a, b, to));
        let steps = ((b[0] - a[0]).abs().max((b[1] - a[1]).abs()) / CELL).ceil() as usize + 1;
        let mut last = usize::MAX;
        for i in 0..=steps {
            let p = super::outline::between(a, b, i as f32 / steps as f32);
            let (x, y) = ((p[0] / CELL) as usize, (p[1] / CELL) as usize);
            let index = y.min(self.high - 1) * self.wide + x.min(self.wide - 1);
            if index != last {
                raise(&mut self.cells[index], cost);
                last = index;
            }
        }
    }

    /// Finds every wish its place, the weightiest first; `None` for what found no room.
    pub fn place(&mut self, wishes: &[Wish]) -> Vec<Option<Placed>> {
        let mut order: Vec<usize> = (0..wishes.len()).collect();
        order.sort_by_key(|i| (u8::MAX - wishes[*i].weight, *i));
        let mut placed = vec![None; wishes.len()];
        for i in order {
            placed[i] = self.settle(&wishes[i]);
        }
        placed
    }

    fn settle(&mut self, wish: &Wish) -> Option<Placed> {
        let inner = self.page.grown(-APART);
        if !wish.size.iter().all(|s| s.is_finite() && *s > 0.0) {
            return None;
        }
        let cells = ((wish.size[0] / CELL) as u32 + 1) * ((wish.size[1] / CELL) as u32 + 1);
        let mut best = match wish.weight {
            200.. => u32::MAX,
            106.. => cells * TOO_BAD[2],
            50.. => cells * TOO_BAD[1],
            _ => cells * TOO_BAD[0],
        };
        let mut found = None;
        for (rank, (at, leader)) in Candidates::new(wish, &inner).enumerate() {
            let rank = rank as u32 * STEP;
            if rank >= best {
                break;
            }
            if !at.within(&inner) {
                continue;
            }
            if let Some(cost) = self.cost(&at, wish.own, best - rank) {
                best = rank + cost;
                found = Some(Placed { at, leader });
            }
        }
        if let Some(placed) = &found {
            self.forbid(&placed.at.grown(APART));
        }
        found
    }

    /// What covering the box costs; `None` where it may not be covered or costs `limit` and more.
    fn cost(&self, b: &PageBox, own: u8, limit: u32) -> Option<u32> {
        let (columns, rows) = self.span(b)?;
        let mut sum = 0u32;
        for y in rows {
            for cell in &self.cells[y * self.wide + columns.start..y * self.wide + columns.end] {
                if *cell == TAKEN {
                    return None;
                }
                sum += u32::from(cell.saturating_sub(own));
            }
            if sum >= limit {
                return None;
            }
        }
        Some(sum)
    }

    fn each(&mut self, b: &PageBox, mut act: impl FnMut(&mut u8)) {
        if let Some((columns, rows)) = self.span(b) {
            for y in rows {
                for cell in &mut self.cells[y * self.wide + columns.start..y * self.wide + columns.end] {
                    act(cell);
                }
            }
        }
    }

    /// The cells a box touches.
    fn span(&self, b: &PageBox) -> Option<(std::ops::Range<usize>, std::ops::Range<usize>)> {
        let b = b.meet(&self.page);
        if b.min[0].is_nan() || b.min[1].is_nan() || b.min[0] >= b.max[0] || b.min[1] >= b.max[1] {
            return None;
        }
        let range = |k: usize, most: usize| {
            let from = (b.min[k] / CELL) as usize;
            let to = ((b.max[k] / CELL).ceil() as usize).min(most);
            from.min(to)..to
        };
        Some((range(0, self.wide), range(1, self.high)))
    }
}

fn raise(cell: &mut u8, cost: u8) {
    if *cell != TAKEN {
        *cell = cell.saturating_add(cost).min(TAKEN - 1);
    }
}

#[cfg(test)]
mod tests;
