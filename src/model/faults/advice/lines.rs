//! Is a mark on a line whatever the vehicle, by the way it was made?

use crate::model::figure::Figure;
use crate::model::language::{Construction, Corner, End, Feature, Hand, LineRef};
use crate::model::procedure::MarkDef;

/// Whether the mark lies on the line by construction; the marks made so far tell how. `false` means that it need not.
pub(super) fn holds(line: &LineRef, mark: &str, made: &[&MarkDef]) -> bool {
    match line {
        LineRef::Through(a, b) if a == mark || b == mark => return true,
        LineRef::Square { at, .. } if at == mark => return true,
        LineRef::Reversed(line) => return holds(line, mark, made),
        _ => {}
    }
    let Some(i) = made.iter().rposition(|m| m.0 == mark) else {
        return built_in(line, mark);
    };
    let before = &made[..i];
    match &made[i].1 {
        Construction::Along { line: l, .. } | Construction::Foot { line: l, .. } => same(l, line),
        Construction::Place { line: l, left, .. } => same(l, line) && zero(left),
        Construction::Off { line: l, from, by } => {
            same(l, line) && zero(by) && holds(line, from.as_str(), before)
        }
        Construction::Crossing(a, b) => same(a, line) || same(b, line),
        Construction::Midway(a, b) => {
            holds(line, a.as_str(), before) && holds(line, b.as_str(), before)
        }
        Construction::Under(feature) => under(line, feature),
        Construction::Bearing { .. } | Construction::Lengths { .. } => false,
    }
}

fn same(a: &LineRef, b: &LineRef) -> bool {
    let turned = match (a, b) {
        (LineRef::Reversed(a), b) | (b, LineRef::Reversed(a)) => same(a, b),
        (LineRef::Through(a, b), LineRef::Through(c, d)) => a == d && b == c,
        _ => false,
    };
    a == b || turned
}

fn zero(figure: &Figure) -> bool {
    figure.plain() == Some(0.0)
}

fn built_in(line: &LineRef, mark: &str) -> bool {
    let feature = match mark {
        "nose" | "N" => Feature::Nose,
        "tail" | "T" => Feature::Tail,
        "front axle" | "FA" => Feature::Axle(End::Front),
        "rear axle" | "RA" => Feature::Axle(End::Rear),
        _ => return false,
    };
    under(line, &feature)
}

fn under(line: &LineRef, feature: &Feature) -> bool {
    match (line, feature) {
        (LineRef::Centre, Feature::Nose | Feature::Tail | Feature::Axle(_)) => true,
        (LineRef::Thrust, Feature::Axle(End::Rear)) => true,
        (LineRef::Nose, Feature::Nose) | (LineRef::Tail, Feature::Tail) => true,
        (LineRef::WheelPlane(of), Feature::Wheel(corner)) => of == corner,
        (LineRef::WheelSide(Hand::Left), Feature::Wheel(c)) => {
            matches!(c, Corner::FrontLeft | Corner::RearLeft)
        }
        (LineRef::WheelSide(Hand::Right), Feature::Wheel(c)) => {
            matches!(c, Corner::FrontRight | Corner::RearRight)
        }
        _ => false,
    }
}
