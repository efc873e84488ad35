//! How bay coordinates come onto the page: a centre, a scale, and whether the plan is turned by a quarter.

use crate::geometry::{Bounds, P2, V2};

/// The least and the greatest scale, px per mm.
pub const SCALES: (f64, f64) = (0.002, 10.0);

/// A view of the bay. The page has x to the right and y down, its origin at the upper left corner, in px.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// The bay point in the middle of the page.
    pub centre: P2,
    /// px per mm
    pub scale: f64,
    /// Turned by a quarter: the way into the bay runs to the right, the bay's right side is below.
    pub quarter: bool,
    /// Width and height of the page, px.
    pub size: (f64, f64),
}

impl View {
    /// Shows `bounds` whole, at least `margin` px from the page's edges, turned where that makes it larger.
    pub fn fit(bounds: Bounds, size: (f64, f64), margin: f64) -> View {
        let upright = View::fit_turned(bounds, size, margin, false);
        let turned = View::fit_turned(bounds, size, margin, true);
        if turned.scale > upright.scale { turned } else { upright }
    }

    /// Shows `bounds` whole, turned as told. Bounds without extent, or a page smaller than its margins, give a sane view.
    pub fn fit_turned(bounds: Bounds, size: (f64, f64), margin: f64, quarter: bool) -> View {
        let mut view = View { centre: P2::origin(), scale: 0.05, quarter, size };
        let extent = bounds.size();
        if !(extent.x >= 0.0 && extent.y >= 0.0 && extent.x.is_finite() && extent.y.is_finite()) {
            return view;
        }
        view.centre = bounds.centre();
        let (across, down) = if quarter { (extent.y, extent.x) } else { (extent.x, extent.y) };
        let room = |page: f64| (page - 2.0 * margin).max(1.0);
        let scale = (room(size.0) / across.max(1.0)).min(room(size.1) / down.max(1.0));
        view.scale = clamped(scale);
        view
    }

    /// A bay point on the page, px.
    pub fn to_page(&self, p: P2) -> [f32; 2] {
        let [x, y] = self.turn(p - self.centre);
        [(self.size.0 / 2.0 + x) as f32, (self.size.1 / 2.0 + y) as f32]
    }

    /// The bay point under a page point.
    pub fn to_bay(&self, page: [f32; 2]) -> P2 {
        let x = f64::from(page[0]) - self.size.0 / 2.0;
        let y = f64::from(page[1]) - self.size.1 / 2.0;
        self.centre + self.back([x, y])
    }

    /// A way in the bay as a way on the page, px.
    pub fn way_to_page(&self, way: V2) -> [f32; 2] {
        self.turn(way).map(|v| v as f32)
    }

    /// A way on the page, px, as a way in the bay, mm.
    pub fn way_to_bay(&self, way: [f32; 2]) -> V2 {
        self.back(way.map(f64::from))
    }

    /// Zooms by `factor`; the bay point under `page` stays there.
    pub fn zoom(&mut self, page: [f32; 2], factor: f64) {
        if !(factor > 0.0 && factor.is_finite()) {
            return;
        }
        let kept = self.to_bay(page);
        self.scale = clamped(self.scale * factor);
        self.centre += kept - self.to_bay(page);
    }

    /// Moves what is seen by so many px.
    pub fn pan(&mut self, right: f64, down: f64) {
        self.centre -= self.back([right, down]);
    }

    /// Keeps the centre and the scale on a page of another size.
    pub fn resize(&mut self, size: (f64, f64)) {
        self.size = size;
    }

    /// The part of the bay that is seen.
    pub fn seen(&self) -> Bounds {
        let far = [self.size.0 as f32, self.size.1 as f32];
        Bounds::of([self.to_bay([0.0, 0.0]), self.to_bay(far)])
    }

    fn turn(&self, d: V2) -> [f64; 2] {
        if self.quarter {
            [d.y * self.scale, d.x * self.scale]
        } else {
            [d.x * self.scale, -d.y * self.scale]
        }
    }

    fn back(&self, [x, y]: [f64; 2]) -> V2 {
        if self.quarter {
            V2::new(y / self.scale, x / self.scale)
        } else {
            V2::new(x / self.scale, -y / self.scale)
        }
    }
}

fn clamped(scale: f64) -> f64 {
    if scale.is_nan() { SCALES.0 } else { scale.clamp(SCALES.0, SCALES.1) }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn views() -> impl Strategy<Value = View> {
        let place = -30_000.0..30_000.0;
        (place.clone(), place, 0.01..1.0, any::<bool>(), 200.0..3000.0, 200.0..2000.0).prop_map(
            |(x, y, scale, quarter, w, h): (f64, f64, f64, bool, f64, f64)| View {
                centre: P2::new(x, y),
                scale,
                quarter,
                size: (w, h),
            },
        )
    }

    fn points() -> impl Strategy<Value = P2> {
        (-40_000.0..40_000.0, -40_000.0..40_000.0).prop_map(|(x, y): (f64, f64)| P2::new(x, y))
    }

    proptest! {
        #![proptest_config(crate::seeds::cases(256))]
        #[test]
        fn there_and_back(view in views(), p in points()) {
            // a page coordinate is an f32: its last digit is worth up to 2^-8 px at 60 000 px
            let off = (view.to_bay(view.to_page(p)) - p).norm() * view.scale;
            prop_assert!(off < 0.01, "{off} px");
        }

        #[test]
        fn zooming_keeps_the_point_under_the_pointer(view in views(), fx in 0.0..1.0f32, fy in 0.0..1.0f32, factor in 0.01..100.0) {
            let page = [view.size.0 as f32 * fx, view.size.1 as f32 * fy];
            let before = view.to_bay(page);
            let mut after = view;
            after.zoom(page, factor);
            prop_assert!((after.to_bay(page) - before).norm() < 1e-6);
            prop_assert!(after.scale >= SCALES.0 && after.scale <= SCALES.1);
        }

        #[test]
        fn panning_moves_by_px(view in views(), p in points(), right in -500.0..500.0, down in -500.0..500.0) {
            let mut after = view;
            after.pan(right, down);
            let (a, b) = (view.to_page(p), after.to_page(p));
            prop_assert!((f64::from(b[0] - a[0]) - right).abs() < 0.1);
            prop_assert!((f64::from(b[1] - a[1]) - down).abs() < 0.1);
        }

        #[test]
        fn fitting_shows_everything_with_its_margin(a in points(), b in points(), w in 300.0..3000.0, h in 300.0..2000.0) {
            let bounds = Bounds::of([a, b]);
            let view = View::fit(bounds, (w, h), 40.0);
            for p in [a, b] {
                let [x, y] = view.to_page(p).map(f64::from);
                prop_assert!(x > 39.9 && x < w - 39.9 && y > 39.9 && y < h - 39.9, "{x} {y}");
            }
            let other = View::fit_turned(bounds, (w, h), 40.0, !view.quarter);
            prop_assert!(other.scale <= view.scale);
        }
    }

    #[test]
    fn the_page_runs_down_and_a_quarter_runs_into_the_bay_to_the_right() {
        let mut view =
            View { centre: P2::new(1000.0, 2000.0), scale: 0.1, quarter: false, size: (400.0, 300.0) };
        assert_eq!(view.to_page(P2::new(1100.0, 2500.0)), [210.0, 100.0]);
        view.quarter = true;
        // 500 mm into the bay: right; 100 mm to the bay's right: down
        assert_eq!(view.to_page(P2::new(1100.0, 2500.0)), [250.0, 160.0]);
    }

    #[test]
    fn nothing_to_fit_gives_a_view_all_the_same() {
        let empty = Bounds::of(Vec::<P2>::new());
        assert!(View::fit(empty, (400.0, 300.0), 20.0).scale > 0.0);
        let dot = Bounds::of([P2::new(5.0, 5.0)]);
        assert_eq!(View::fit(dot, (10.0, 10.0), 20.0).centre, P2::new(5.0, 5.0));
        let nan = Bounds { min: P2::new(f64::NAN, 0.0), max: P2::new(1.0, 1.0) };
        assert!(View::fit(nan, (400.0, 300.0), 20.0).to_page(P2::origin())[0].is_finite());
    }
}
