//! What an equipment file says that cannot be used.

use crate::model::equipment::Equipment;

use super::{Defect, Defects};

/// Targets without a name, and stands of things that lie on the floor.
pub fn equipment(equipment: &Equipment) -> Vec<Defect> {
    let mut out = Defects::default();
    for (name, target) in equipment.targets.iter() {
        if name.as_str().trim().is_empty() {
            out.at(name.spot, "a target needs a name", None);
        }
        if target.kind.lies_flat() && target.stand.is_some() {
            let text = format!("{name:?} lies on the floor and can have no stand");
            out.at(name.spot, text, None);
        }
    }
    out.0
}
