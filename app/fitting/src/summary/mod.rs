//! What is kept, shared and printed.

mod text;

pub use text::{at_most_bytes, plain_lines, plain_text};
