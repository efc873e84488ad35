//! Stations and zones of a setup, in vehicle axes.

use super::body;
use super::marks::{Found, Marks, NoWay};
use super::pieces::Piece;
use super::setup::{Area, FaceSize, Halo, Stand, Station, Zone};
use super::solid::{Band, Known, Missing, Solid, both};
use crate::geometry::{Frame, Line, OutlineFault, P2, Polygon, Shape, V2, rotate, union_outlines};
use crate::model::language::{FaceEdge, HeightRef, Looks, StandsBy, ZoneShape};
use crate::model::{Figure, Name, Spot, Target, TargetKind, language};
use crate::model::{Lack, procedure};

/// A face without thickness is drawn and measured this thick, and a flat thing this high, mm.
const THINNEST: f64 = 0.001;
/// Height of the room a person needs behind a target, mm.
const PERSON: f64 = 2000.0;

/// Hangs a target on its mark.
pub fn station(marks: &Marks, piece: Option<Piece>, def: &procedure::Station) -> Result<Station, NoWay> {
    let target = piece.map(|p| p.target).ok_or_else(|| Missing::one(def.target.text.clone()));
    let place = match both(both(marks.point(&def.at)?, turn_of(marks, def)?), target) {
        Ok(((mark, turn), target)) => stand(marks, def, target, mark, turn)?,
        Err(missing) => Err(missing),
    };
    Ok(Station {
        name: def.name.text.clone(),
        target: def.target.text.clone(),
        piece: piece.map(|p| p.name.clone()),
        mark: def.at.text.clone(),
        def: std::sync::Arc::new(def.clone()),
        place,
    })
}

/// Which way the target is turned before its own `turn` is added: a fixed direction, or toward a point.
#[derive(Clone, Copy)]
enum Facing {
    Way(V2),
    Toward(P2),
}

fn turn_of(marks: &Marks, def: &procedure::Station) -> Found<(Facing, f64)> {
    let spot = def.name.spot;
    let ahead = V2::new(1.0, 0.0);
    let facing = match (&def.faces, &def.looks) {
        (Some(line), _) | (None, Some(Looks::Against(line))) => {
            marks.line(line, spot)?.map(|l| Facing::Way(-l.dir))
        }
        (None, Some(Looks::Along(line))) => marks.line(line, spot)?.map(|l| Facing::Way(l.dir)),
        (None, None | Some(Looks::Forward)) => Ok(Facing::Way(ahead)),
        (None, Some(Looks::Backward)) => Ok(Facing::Way(-ahead)),
        (None, Some(Looks::Left)) => Ok(Facing::Way(V2::new(0.0, 1.0))),
        (None, Some(Looks::Right)) => Ok(Facing::Way(V2::new(0.0, -1.0))),
        (None, Some(Looks::At(mark))) => marks.point(mark)?.map(Facing::Toward),
        (None, Some(Looks::AtSensor(name))) => {
            body::feature(marks.vehicle, &language::Feature::Sensor(name.clone()))
                .map(|(p, _)| Facing::Toward(p))
        }
    };
    let turn = marks.values.maybe(&def.turn).map(|t| t.unwrap_or(0.0).to_radians());
    Ok(both(facing, turn))
}

fn stand(
    marks: &Marks,
    def: &procedure::Station,
    target: &Target,
    mark: P2,
    (facing, turn): (Facing, f64),
) -> Found<Stand> {
    let spot = def.name.spot;
    let size = face_size(target);
    let anchor = match &def.anchor {
        Some(a) => both(marks.values.of(&a.0), marks.values.of(&a.1)).map(|(x, y)| V2::new(x, y)),
        None => Ok(V2::new(
            match def.stands_by {
                Some(StandsBy::Front) => size.front,
                Some(StandsBy::Axis) => (size.front + size.back) / 2.0,
                Some(StandsBy::Back) => size.back,
                None => 0.0,
            },
            0.0,
        )),
    };
    let (anchor, lower) = match both(anchor, lower_edge(marks, def, target, &size)?) {
        Ok(known) => known,
        Err(missing) => return Ok(Err(missing)),
    };
    let frame_at = |mark: P2| -> Result<Frame, NoWay> {
        let way = match facing {
            Facing::Way(way) => way,
            Facing::Toward(p) => match Line::through(mark, p) {
                Some(line) => line.dir,
                None => {
                    let text = format!("station {:?} looks at the point it stands on", def.name);
                    return Err((spot, text));
                }
            },
        };
        let turned = Frame { origin: P2::origin(), x: rotate(way, turn) };
        Ok(Frame { origin: mark - turned.dir(anchor), x: turned.x })
    };
    let mut frames = vec![frame_at(mark)?];
    for name in &def.path {
        match marks.point(name)? {
            Ok(p) => frames.push(frame_at(p)?),
            Err(missing) => return Ok(Err(missing)),
        }
    }
    let bad = |fault: OutlineFault| (spot, format!("target {:?} cannot be drawn: {fault}", def.target));
    let (face, foot, room) = solids(target, size, lower).map_err(bad)?;
    let frame = frames[0];
    let whole: Vec<&Solid> = std::iter::once(&face).chain(&foot).collect();
    let parts = swept(&frames, &whole).map_err(bad)?;
    let footprint = outline_of(&swept(&frames, &[&face]).map_err(bad)?).map_err(bad)?;
    let room: Vec<Solid> = swept(&frames, &room.iter().collect::<Vec<_>>()).map_err(bad)?;
    Ok(Ok(Stand {
        mark,
        frame,
        lower,
        size,
        path: frames,
        face: face.place(&frame, 0.0),
        foot: foot.map(|f| f.place(&frame, 0.0)),
        room,
        parts,
        footprint,
    }))
}

/// What some solids, given in target axes, cover while the target is moved from place to place; at one place themselves.
fn swept(frames: &[Frame], solids: &[&Solid]) -> Result<Vec<Solid>, OutlineFault> {
    if let [only] = frames {
        return Ok(solids.iter().map(|s| s.place(only, 0.0)).collect());
    }
    let mut parts = Vec::new();
    for two in frames.windows(2) {
        for solid in solids {
            let points: Vec<P2> = two
                .iter()
                .flat_map(|f| solid.shape.outline().points().iter().map(|p| f.to_world(*p)))
                .collect();
            parts.push(Solid::new(Shape::hull(&points)?, solid.z));
        }
    }
    Ok(parts)
}

/// The outer edge of some solids that hang together.
fn outline_of(solids: &[Solid]) -> Result<Polygon, OutlineFault> {
    if let [only] = solids {
        return Ok(only.shape.outline().clone());
    }
    let outlines: Vec<Vec<P2>> = solids.iter().map(|s| s.shape.outline().points().to_vec()).collect();
    let rings = union_outlines(&outlines).into_iter().filter_map(|r| Polygon::new(r).ok());
    rings.max_by(|a, b| a.area().abs().total_cmp(&b.area().abs())).ok_or(OutlineFault::NoArea)
}

/// The face's box in target axes.
pub fn face_size(target: &Target) -> FaceSize {
    let face = target.face;
    let (back, front, height) = match target.kind {
        TargetKind::Mat | TargetKind::Lines => (-face.height / 2.0, face.height / 2.0, face.thickness),
        TargetKind::Pipe => (-face.width / 2.0, face.width / 2.0, face.height),
        TargetKind::Board | TargetKind::Reflector | TargetKind::Screen => {
            (-face.thickness.max(THINNEST), 0.0, face.height)
        }
    };
    FaceSize {
        back,
        front,
        half_width: face.width / 2.0,
        height,
        flat: target.kind.lies_flat(),
        has_front: target.kind.has_front(),
    }
}

/// Height of the face's lower edge above the tyre plane.
fn lower_edge(marks: &Marks, def: &procedure::Station, target: &Target, size: &FaceSize) -> Found<f64> {
    let edge = match &def.height {
        None if target.kind.lies_flat() => return Ok(Ok(0.0)),
        None => return Ok(Err(Missing::one(Lack::HeightOf(def.name.text.clone())))),
        Some(HeightRef::Floor(h)) => marks.values.of(h),
        Some(HeightRef::Level(feature, plus)) => marks.height(feature, plus, def.name.spot)?,
    };
    let down = match def.of {
        FaceEdge::Lower => 0.0,
        FaceEdge::Middle => size.height / 2.0,
        FaceEdge::Upper => size.height,
    };
    Ok(edge.map(|z| z - down))
}

type Parts = (Solid, Option<Solid>, Option<Solid>);

/// Face, foot and working room in target axes, z from the tyre plane.
fn solids(target: &Target, size: FaceSize, lower: f64) -> Result<Parts, OutlineFault> {
    let middle = P2::new((size.front + size.back) / 2.0, 0.0);
    let shape = match target.kind {
        TargetKind::Pipe => Shape::round(middle, target.face.width)?,
        _ => Shape::rect(middle, V2::new(size.front - size.back, target.face.width), 0.0)?,
    };
    let face = Solid::new(shape, Band::new(lower, lower + size.height.max(THINNEST)));
    let foot = target.stand.as_ref().map(|s| {
        let top = target.stand_height.unwrap_or(1.0).max(1.0);
        Solid::new(s.0.clone(), Band::new(f64::NEG_INFINITY, top))
    });
    let mut rear = size.back;
    let (mut right, mut left) = (-size.half_width, size.half_width);
    if let Some(f) = &foot {
        let b = f.shape.bounds();
        (rear, right, left) = (rear.min(b.min.x), right.min(b.min.y), left.max(b.max.y));
    }
    let room = match target.room_behind {
        Some(depth) if depth > 0.0 => {
            let centre = P2::new(rear - depth / 2.0, (left + right) / 2.0);
            let shape = Shape::rect(centre, V2::new(depth, left - right), 0.0)?;
            Some(Solid::new(shape, Band::new(0.0, PERSON)))
        }
        _ => None,
    };
    Ok((face, foot, room))
}

/// Lays out a zone; `stations` are those of the same setup.
pub fn zone(marks: &Marks, stations: &[Station], def: &language::Zone) -> Result<Zone, NoWay> {
    let printed = match &def.z {
        Some(z) => marks.values.pair(z).map(Some),
        None => Ok(None),
    };
    let place = match printed {
        Ok(z) => area(marks, stations, def, z)?,
        Err(missing) => Err(missing),
    };
    Ok(Zone {
        name: def.name.text.clone(),
        free_of: def.free_of.clone(),
        seen: def.seen,
        tolerate_below: marks.values.maybe(&def.tolerate_below),
        place,
    })
}

fn area(marks: &Marks, stations: &[Station], def: &language::Zone, z: Option<(f64, f64)>) -> Found<Area> {
    let spot = def.name.spot;
    let v = marks.values;
    let bad = |fault: OutlineFault| (spot, format!("zone {:?} cannot be drawn: {fault}", def.name));
    let plan = |shape: Shape| {
        let band = z.map_or(Band::new(0.0, f64::INFINITY), |(lo, hi)| Band::new(lo.min(hi), hi.max(lo)));
        Area::Plan { solid: Solid::new(shape, band), printed: z.is_some() }
    };
    let known: Known<Shape> = match &def.shape {
        ZoneShape::Strip { line, from, along, left, across } => {
            let sides = match (left, across) {
                (Some(pair), _) => v.pair(pair),
                (None, Some(w)) => v.of(w).map(|w| (-w / 2.0, w / 2.0)),
                (None, None) => {
                    return Err((spot, format!("zone {:?} gives neither `left` nor `across`", def.name)));
                }
            };
            match both(both(marks.line(line, spot)?, marks.point(from)?), both(v.pair(along), sides)) {
                Ok(((line, from), ((a, b), (r, l)))) => {
                    let foot = line.foot(from);
                    let corner = |along: f64, left: f64| foot + line.dir * along + line.left() * left;
                    let points = vec![corner(a, r), corner(b, r), corner(b, l), corner(a, l)];
                    Ok(Shape::polygon(Polygon::new(points).map_err(bad)?))
                }
                Err(missing) => Err(missing),
            }
        }
        ZoneShape::Fan { at, line, angles, reach } => {
            match both(both(marks.line(line, spot)?, marks.point(at)?), both(v.pair(angles), v.of(reach))) {
                Ok(((line, at), ((from, to), reach))) => {
                    let start = rotate(line.dir, from.min(to).to_radians());
                    Ok(Shape::sector(at, start, (to - from).abs().to_radians(), reach).map_err(bad)?)
                }
                Err(missing) => Err(missing),
            }
        }
        ZoneShape::Corners(names) => {
            let mut points = Ok(Vec::new());
            for name in names {
                points = both(points, marks.point(name)?).map(|(mut all, p)| {
                    all.push(p);
                    all
                });
            }
            match points {
                Ok(points) => Ok(Shape::polygon(Polygon::new(points).map_err(bad)?)),
                Err(missing) => Err(missing),
            }
        }
        ZoneShape::Lane { from, to, width } => {
            match both(both(marks.point(from)?, marks.point(to)?), v.of(width)) {
                Ok(((a, b), width)) => {
                    let Some(line) = Line::through(a, b) else {
                        return Err((
                            spot,
                            format!("zone {:?} runs between two marks at the same point", def.name),
                        ));
                    };
                    let half = line.left() * (width / 2.0);
                    let points = vec![a - half, b - half, b + half, a + half];
                    Ok(Shape::polygon(Polygon::new(points).map_err(bad)?))
                }
                Err(missing) => Err(missing),
            }
        }
        ZoneShape::AroundVehicle { ahead, behind, left, right } => {
            both(v.of(ahead), both(v.of(behind), both(v.of(left), v.of(right))))
                .map(|(ahead, (behind, (left, right)))| {
                    let b = marks.body.hull[0].shape.bounds();
                    let (min, max) = (
                        P2::new(b.min.x - behind, b.min.y - right),
                        P2::new(b.max.x + ahead, b.max.y + left),
                    );
                    Shape::rect(nalgebra::center(&min, &max), max - min, 0.0).map_err(bad)
                })
                .map_or_else(|m| Ok(Err(m)), |shape| shape.map(Ok))?
        }
        ZoneShape::Fresnel { .. } => return super::fresnel::area(marks, stations, def, z),
        ZoneShape::NotRead(drawing) => Err(Missing::one(drawing.text.clone())),
        ZoneShape::Around { .. } => {
            return Ok(around(marks, stations, def)?.map(Area::Around));
        }
    };
    Ok(known.map(plan))
}

fn around(marks: &Marks, stations: &[Station], def: &language::Zone) -> Found<Vec<Halo>> {
    let ZoneShape::Around { stations: many, station, beside, above, below, behind, ahead } = &def.shape
    else {
        return Ok(Ok(Vec::new()));
    };
    let spot = def.name.spot;
    let v = marks.values;
    let need = |figure: &Option<Figure>, word: &str| match figure {
        Some(f) => Ok(v.of(f)),
        None => Err((spot, format!("zone {:?} does not say how far `{word}`", def.name))),
    };
    let beside_mm = need(beside, "beside")?;
    let upright = both(need(above, "above")?, need(below, "below")?);
    let deep = both(v.maybe(behind), v.maybe(ahead));
    let (beside, (above, below), (behind, ahead)) = match both(beside_mm, both(upright, deep)) {
        Ok((beside, (upright, deep))) => (beside, upright, deep),
        Err(missing) => return Ok(Err(missing)),
    };
    let mut halos = Ok(Vec::new());
    for name in many.iter().chain(station) {
        let Some(station) = stations.iter().find(|s| *name == *s.name) else {
            return Err((name.spot, no_station(name, stations)));
        };
        let stand = station.place.clone();
        halos = match both(halos, stand) {
            Ok((mut all, stand)) => {
                let needs = [beside, above, below, behind.unwrap_or(beside), ahead.unwrap_or(beside)];
                for frame in &stand.path {
                    all.push(halo(&stand, *frame, needs, def, spot)?);
                }
                Ok(all)
            }
            Err(missing) => Err(missing),
        };
    }
    Ok(halos)
}

pub(super) fn no_station(name: &Name, stations: &[Station]) -> String {
    let known: Vec<_> = stations.iter().map(|s| format!("{:?}", s.name)).collect();
    format!("this setup has no station {name:?}; it has {}", known.join(", "))
}

/// The box round the face at one of its places.
fn halo(
    stand: &Stand,
    frame: Frame,
    [beside, above, below, behind, ahead]: [f64; 5],
    def: &language::Zone,
    spot: Spot,
) -> Result<Halo, NoWay> {
    let s = stand.size;
    let (back, front, half) = (s.back - behind, s.front + ahead, s.half_width + beside);
    let corners = [(back, -half), (front, -half), (front, half), (back, half)];
    let points = corners.map(|(x, y)| frame.to_world(P2::new(x, y))).to_vec();
    let outline = Polygon::new(points)
        .map_err(|fault| (spot, format!("zone {:?} cannot be drawn: {fault}", def.name)))?;
    Ok(Halo { frame, size: s, lower: stand.lower, beside, above, below, behind, ahead, outline })
}
