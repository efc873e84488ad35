//! Walks a scene and draws it: first everything to scale, then the texts where they find room.

mod lettering;

use super::View;
use super::labels::{Field, PageBox, Want};
use super::outline::between;
use super::surface::Surface;
use super::theme::{Ink, Pen, Theme};
use crate::geometry::{P2, V2};
use crate::scene::{Item, Role, Scene, Spot, Tag, plan};
use lettering::Text;

pub use lettering::draw_symbol;

/// Radius of a mark's dot, px.
const DOT: f32 = 4.0;
/// A finding's dimension shorter than this on the page is ringed, px.
const SHORT: f32 = 9.0;

/// Where texts came to stand, with what they stand for: the pointer can choose these too.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Painted {
    pub texts: Vec<(PageBox, Tag)>,
}

impl Painted {
    /// What the text under a page point stands for.
    pub fn at(&self, page: [f32; 2]) -> Option<&Tag> {
        self.texts.iter().rev().find(|(b, _)| b.holds(page)).map(|(_, tag)| tag)
    }
}

/// Draws the scene. What lies wholly off the page is left out. No text comes to stand in the boxes of `kept`, page px: they
/// are for what is drawn over the scene.
pub fn draw(
    scene: &Scene,
    view: &View,
    theme: &Theme,
    kept: &[PageBox],
    surface: &mut dyn Surface,
) -> Painted {
    let size = [view.size.0 as f32, view.size.1 as f32];
    let mut pass = Pass {
        view,
        theme,
        surface,
        page: PageBox::new([0.0; 2], size).grown(20.0),
        field: Field::new(size),
        points: Vec::new(),
        floors: Vec::new(),
        texts: Vec::new(),
    };
    for item in &scene.items {
        pass.item(item);
    }
    kept.iter().for_each(|taken| pass.field.forbid(taken));
    pass.letter()
}

struct Pass<'a, 's> {
    view: &'a View,
    theme: &'a Theme,
    surface: &'a mut dyn Surface,
    page: PageBox,
    field: Field,
    /// Scratch.
    points: Vec<[f32; 2]>,
    /// Floor and aprons: texts off them stand on the ground.
    floors: Vec<Vec<[f32; 2]>>,
    texts: Vec<Text<'s>>,
}

impl<'s> Pass<'_, 's> {
    fn item(&mut self, item: &'s Item) {
        let role = item.role();
        let theme = self.theme;
        let ink = theme.ink(role);
        match item {
            Item::Area { outline, holes, .. } => self.area(role, ink, outline, holes),
            Item::Line { points, .. } => self.line(role, ink, points),
            Item::Dot { at, .. } => self.dot(role, ink, *at),
            Item::Arrow { at, toward, .. } => self.arrow(role, ink, *at, *toward),
            Item::Label { spot, text, weight, tag, .. } => {
                let want = match spot {
                    Spot::Near(p) => Want::Near(self.view.to_page(*p)),
                    Spot::Beside(b) => Want::Beside(self.boxed(b.min, b.max)),
                    Spot::Within(b) => Want::Within(self.boxed(b.min, b.max)),
                };
                self.wish(role, text, *weight, tag.as_ref(), want);
            }
            Item::Dimension { a, b, aside, text, weight, tag, .. } => {
                let (a, b) = self.dimension(role, ink, *a, *b, *aside);
                self.wish(role, text, *weight, tag.as_ref(), Want::Along(a, b));
            }
        }
    }

    fn area(&mut self, role: Role, ink: &Ink, outline: &[P2], holes: &[Vec<P2>]) {
        self.points.clear();
        self.points.extend(outline.iter().map(|p| self.view.to_page(*p)));
        let about = PageBox::about(&self.points);
        if !about.overlaps(&self.page) {
            return;
        }
        if matches!(role, Role::Floor | Role::Apron) {
            self.floors.push(self.points.clone());
        }
        let page = |ring: &Vec<P2>| ring.iter().map(|p| self.view.to_page(*p)).collect();
        let holes: Vec<Vec<[f32; 2]>> = holes.iter().map(page).collect();
        self.surface.begin(role);
        match ink.fill {
            Some(fill) if holes.is_empty() => self.surface.fill(&self.points, fill),
            Some(fill) => self.surface.fill_around(&self.points, &holes, fill),
            None => {}
        }
        if let Some(hatch) = &ink.hatch {
            let origin = self.view.to_page(P2::origin());
            self.surface.hatch(&self.points, hatch, origin);
        }
        if let Some(pen) = &ink.pen {
            self.surface.stroke(&self.points, true, pen);
            for hole in &holes {
                self.surface.stroke(hole, true, pen);
            }
        }
        if role == Role::Post {
            // the one thing of a lift that a technician steers by
            self.field.forbid(&about);
        }
        let (within, edge) = burden(role);
        if within > 0 {
            self.field.burden(&about, within);
        }
        if edge > 0 {
            for i in 0..self.points.len() {
                let b = self.points[(i + 1) % self.points.len()];
                self.field.burden_line(self.points[i], b, edge);
            }
        }
    }

    fn line(&mut self, role: Role, ink: &Ink, line: &[P2]) {
        self.points.clear();
        self.points.extend(line.iter().map(|p| self.view.to_page(*p)));
        if !PageBox::about(&self.points).grown(1.0).overlaps(&self.page) {
            return;
        }
        self.surface.begin(role);
        if let Some(pen) = &ink.pen {
            self.surface.stroke(&self.points, false, pen);
        }
        let (_, edge) = burden(role);
        if edge > 0 {
            for pair in self.points.windows(2) {
                self.field.burden_line(pair[0], pair[1], edge);
            }
        }
    }

    fn dot(&mut self, role: Role, ink: &Ink, at: P2) {
        let at = self.view.to_page(at);
        if !self.page.holds(at) {
            return;
        }
        let radius = if role == Role::Sensor { 2.5 } else { DOT };
        self.surface.begin(role);
        self.surface.circle(at, radius, ink.fill, ink.pen.as_ref());
        if role != Role::Sensor {
            self.field.forbid(&PageBox::centred(at, [radius * 2.0; 2]));
        }
    }

    fn arrow(&mut self, role: Role, ink: &Ink, at: P2, toward: V2) {
        const LENGTH: f32 = 15.0;
        const HEAD: [f32; 2] = [6.0, 3.2];
        let at = self.view.to_page(at);
        let [x, y] = self.view.way_to_page(toward);
        let length = x.hypot(y);
        if !self.page.holds(at) || length <= 0.0 {
            return;
        }
        let (x, y) = (x / length, y / length);
        let point = |along: f32, left: f32| [at[0] + x * along - y * left, at[1] + y * along + x * left];
        self.surface.begin(role);
        if let Some(pen) = &ink.pen {
            let thin = Pen { width: 1.3, ..*pen };
            self.surface.stroke(&[point(0.0, 0.0), point(LENGTH - HEAD[0], 0.0)], false, &thin);
        }
        if let Some(fill) = ink.fill {
            let head =
                [point(LENGTH, 0.0), point(LENGTH - HEAD[0], HEAD[1]), point(LENGTH - HEAD[0], -HEAD[1])];
            self.surface.fill(&head, fill);
        }
        self.field.burden_line(at, point(LENGTH, 0.0), 60);
    }

    /// Draws the line of a dimension and gives its ends on the page.
    fn dimension(&mut self, role: Role, ink: &Ink, a: P2, b: P2, aside: f64) -> ([f32; 2], [f32; 2]) {
        let shift = plan::aside_of(a, b, aside);
        let (from, to) = (self.view.to_page(a + shift), self.view.to_page(b + shift));
        let Some(pen) = &ink.pen else {
            return (from, to);
        };
        if !PageBox::about(&[from, to]).grown(1.0).overlaps(&self.page) {
            return (from, to);
        }
        self.surface.begin(role);
        self.surface.stroke(&[from, to], false, pen);
        self.field.burden_line(from, to, if role == Role::Tape { 6 } else { 24 });
        let length = (to[0] - from[0]).hypot(to[1] - from[1]);
        let (ux, uy) =
            if length > 0.0 { ((to[0] - from[0]) / length, (to[1] - from[1]) / length) } else { (1.0, 0.0) };
        let thin = Pen { width: 1.0, ..*pen };
        if role == Role::Dimension {
            // the slanted ticks of a builder's plan, and lines back to what is measured
            for (end, home) in [(from, a), (to, b)] {
                let (tx, ty) = ((ux - uy) * 4.5, (uy + ux) * 4.5);
                let tick = Pen { width: 1.6, ..*pen };
                self.surface.stroke(&[[end[0] - tx, end[1] - ty], [end[0] + tx, end[1] + ty]], false, &tick);
                if aside != 0.0 {
                    let home = self.view.to_page(home + shift * 0.45);
                    let past = between(home, end, 1.06);
                    self.surface.stroke(&[home, past], false, &thin);
                }
            }
        } else if role.is_outcome() {
            let bar = 4.5;
            let ends: &[[f32; 2]] = if length < SHORT { &[] } else { &[from, to] };
            for end in ends {
                let (nx, ny) = (-uy * bar, ux * bar);
                self.surface.stroke(&[[end[0] - nx, end[1] - ny], [end[0] + nx, end[1] + ny]], false, pen);
            }
            if length < SHORT {
                let middle = between(from, to, 0.5);
                self.surface.circle(middle, SHORT, None, Some(&thin));
                self.field.forbid(&PageBox::centred(middle, [SHORT * 2.0; 2]));
            }
        }
        (from, to)
    }

    fn boxed(&self, a: P2, b: P2) -> PageBox {
        PageBox::about(&[self.view.to_page(a), self.view.to_page(b)])
    }
}

/// What it costs to put a text on the inside and on the edge of this role.
fn burden(role: Role) -> (u8, u8) {
    match role {
        Role::Wall => (110, 0),
        Role::Post | Role::Tyre | Role::Target | Role::Foot => (60, 0),
        Role::Fixture | Role::FixtureMovable | Role::FixtureGlass | Role::KeepClear | Role::Mirror => (40, 0),
        Role::FixtureFlush | Role::FixtureLight | Role::DoorShut | Role::Threshold => (30, 0),
        Role::FixtureOverhead | Role::FixtureCleared => (8, 8),
        Role::TargetFront | Role::DoorOpen | Role::Swing => (0, 20),
        Role::Glazing => (6, 0),
        Role::Body => (5, 14),
        Role::Mat => (0, 8),
        Role::ZoneRadar
        | Role::ZoneLight
        | Role::ZoneAnything
        | Role::ZonePattern
        | Role::ZonePeople
        | Role::ZoneSeen
        | Role::ZoneOther
        | Role::Room
        | Role::Runway
        | Role::Apron
        | Role::ApronShut => (0, 6),
        Role::CentreLine | Role::ThrustLine | Role::Axle | Role::Tape => (0, 6),
        Role::Way | Role::WayBack => (0, 10),
        Role::Chosen => (0, 4),
        _ => (0, 0),
    }
}
