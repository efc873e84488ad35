//! Random properties: none loses what it once found.

use super::sources;

/// The seed of a failed case is kept for everybody, whoever met it.
#[test]
fn every_property_keeps_its_seeds() {
    let mut met = 0;
    for source in sources("src").into_iter().chain(sources("tests")) {
        for block in source.code.split("proptest! {").skip(1) {
            met += 1;
            let kept = block.trim_start().starts_with("#![proptest_config(crate::seeds::cases(");
            assert!(kept, "{} has properties without `crate::seeds`", source.name);
        }
    }
    assert!(met > 10, "only {met} blocks of properties");
}
