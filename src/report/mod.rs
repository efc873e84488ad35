//! What to say: findings as sentences, the verdict, the page of text and the JSON. Neutral: no colours, no window.

pub mod words;
