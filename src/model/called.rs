//! What figures that no procedure names are called where a person reads of them.

use std::sync::Arc;

/// The figure's own name, as files and JSON spell it, beside its name in words.
const CALLED: [(&str, &str); 5] = [
    ("rear_toe", "rear toe"),
    ("front_toe", "front toe"),
    ("ceiling", "ceiling height"),
    ("turning_circle", "turning circle"),
    ("owned", "number the shop owns"),
];

/// A missing figure's name in words. The names that procedures give are words already.
pub fn called(name: &str) -> &str {
    CALLED.iter().find(|(own, _)| *own == name).map_or(name, |(_, words)| words)
}

/// Several, parted by commas.
pub fn called_all(names: &[Arc<str>]) -> String {
    names.iter().map(|n| called(n)).collect::<Vec<_>>().join(", ")
}
