//! What a procedure wants of the bay it is done in: installed things and painted lines.

use crate::model::bay::Bay;
use crate::model::further::FixedTo;
use crate::model::procedure::Procedure;

use super::Defects;

/// Installed things and painted lines that the bay has not.
pub(super) fn in_bay(p: &Procedure, bay: &Bay, out: &mut Defects) {
    let installed = || bay.installed.iter().map(|i| i.name.as_str());
    let lines = || bay.floor_lines.iter().map(|l| l.name.as_str());
    for setup in &p.setups {
        for station in &setup.stations {
            if let Some(FixedTo::Bay(name)) = &station.fixed_to
                && !installed().any(|n| name == n)
            {
                let text = format!("the bay {:?} has no installed {name:?}", bay.name);
                out.named(name, text, "installed thing", installed());
            }
        }
        if let Some(on) = &setup.stand_on
            && !lines().any(|n| on.floor_line == n)
        {
            let text = format!("the bay {:?} has no floor line {:?}", bay.name, on.floor_line);
            out.named(&on.floor_line, text, "floor line", lines());
        }
    }
}
