//! What a file probably did not mean to say: doubts, not faults.
