//! Builds, serves, tests and measures the project.
fn main() {}
