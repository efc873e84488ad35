//! Findings as sentences.
