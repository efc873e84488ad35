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
            let both = holds(line, a.as_str(), before) && holds(line, b.as_str(), before);
            both || (*line == LineRef::Centre && mirrored(a.as_str(), b.as_str(), before))
        }
        Construction::Under(feature) => under(line, feature),
        Construction::Bearing { .. } | Construction::Lengths { .. } => false,
    }
}

/// Whether two marks are made alike on the two sides of the vehicle, so that the centreline runs midway.
fn mirrored(a: &str, b: &str, made: &[&MarkDef]) -> bool {
    let how = |name| made.iter().rfind(|m| m.0 == name).map(|m| &m.1);
    match (how(a), how(b)) {
        (Some(Construction::Under(Feature::Wheel(c))), Some(Construction::Under(Feature::Wheel(d)))) => {
            use Corner::{FrontLeft, FrontRight, RearLeft, RearRight};
            matches!(
                (c, d),
                (FrontLeft, FrontRight)
                    | (FrontRight, FrontLeft)
                    | (RearLeft, RearRight)
                    | (RearRight, RearLeft)
            )
        }
        (
            Some(Construction::Along { line: k, from: p, by: r }),
            Some(Construction::Along { line: l, from: q, by: s }),
        ) => sides(k, l) && r == s && mirrored(p.as_str(), q.as_str(), made),
        (Some(Construction::Foot { line: k, from: p }), Some(Construction::Foot { line: l, from: q })) => {
            sides(k, l) && mirrored(p.as_str(), q.as_str(), made)
        }
        _ => false,
    }
}

fn sides(a: &LineRef, b: &LineRef) -> bool {
    match (a, b) {
        (LineRef::WheelSide(a), LineRef::WheelSide(b)) | (LineRef::BodySide(a), LineRef::BodySide(b)) => {
            a != b
        }
        _ => false,
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
