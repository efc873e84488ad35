//! Whether a bench measures, or is only tried.

/// How often to do what is measured so often: `cargo bench` says that it measures; otherwise (`cargo test --benches`)
/// once is enough to see that it runs and that its results agree.
pub(crate) fn rounds(measured: usize) -> usize {
    if std::env::args().any(|a| a == "--bench") { measured } else { 1 }
}
