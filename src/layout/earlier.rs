//! Targets that stay where an earlier setup put them, while the vehicle is driven on.

use super::body::Body;
use super::marks::NoWay;
use super::setup::{Moved, Setup};
use crate::geometry::{Frame, NOISE_MM, P2};
use crate::model::further::FixedTo;

/// How far two targets of one setup may disagree about where the vehicle is by then, mm.
const AGREE: f64 = 1.0;

/// Where the vehicle stands for `setup`, in the axes of its first place, if some of its targets stay from an earlier
/// setup; `before` are the setups laid out so far. The body is filled in by the caller.
pub fn moved(before: &[Setup], setup: &Setup) -> Result<Option<Moved>, NoWay> {
    let mut found: Option<Moved> = None;
    for station in &setup.stations {
        let Some(FixedTo::Earlier(name)) = &station.def.fixed_to else { continue };
        let earlier = before
            .iter()
            .find(|s| s.procedure == setup.procedure && *name == *s.name)
            .ok_or_else(|| (name.spot, no_setup(name.as_str(), before, setup)))?;
        let theirs = earlier.stations.iter().find(|s| s.name == station.name).ok_or_else(|| {
            (name.spot, format!("setup {name:?} has no station {:?} that could stay", station.name))
        })?;
        let (Ok(there), Ok(here)) = (&theirs.place, &station.place) else { continue };
        // the target stays: its frame seen from the old place is the new place's frame times its frame seen from there
        let frame = there.frame.compose(&inverse(&here.frame));
        if let Some(first) = &found {
            let off = (frame.origin - first.frame.origin).norm();
            if off > AGREE || (frame.x - first.frame.x).norm() * 1000.0 > AGREE {
                let text = format!(
                    "station {:?} and the others of this setup cannot all stay where setup {name:?} put them: they disagree by {off:.1} mm",
                    station.name
                );
                return Err((station.def.name.spot, text));
            }
            continue;
        }
        let body = Body { hull: Vec::new(), mirrors: Vec::new(), tyres: Vec::new() };
        found = Some(Moved { after: earlier.name.clone(), frame, body });
    }
    Ok(found.filter(|m| (m.frame.origin - P2::origin()).norm() > NOISE_MM || m.frame.x.y.abs() > 1e-12))
}

fn no_setup(name: &str, before: &[Setup], setup: &Setup) -> String {
    let known: Vec<String> =
        before.iter().filter(|s| s.procedure == setup.procedure).map(|s| format!("{:?}", s.name)).collect();
    let known = if known.is_empty() {
        "there is none".to_string()
    } else {
        format!("before it come {}", known.join(", "))
    };
    format!(
        "setup {:?} keeps targets of {name:?}, which is no earlier setup of this procedure: {known}",
        setup.name
    )
}

fn inverse(frame: &Frame) -> Frame {
    let origin = frame.to_local(P2::origin());
    let x = nalgebra::Vector2::new(frame.x.x, -frame.x.y);
    Frame { origin, x }
}
