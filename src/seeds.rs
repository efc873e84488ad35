//! How every random property is tried: the seed of a case that failed is kept in `tests/seeds`, which is in git, and is
//! tried first from then on, on every machine.

use proptest::test_runner::{Config, FileFailurePersistence};

/// So many cases of one property. The seeds stand in a file named as the source is.
pub(crate) fn cases(cases: u32) -> Config {
    let seeds = FileFailurePersistence::SourceParallel("tests/seeds");
    Config { failure_persistence: Some(Box::new(seeds)), ..Config::with_cases(cases) }
}
