//! The command line of the planner.
fn main() {}
