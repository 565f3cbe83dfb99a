//! The commands of the project.
fn main() {}
