//! The parts of the project's tool that the browser tests use too.
//!
//! Everything else of the tool belongs to its binary, `cargo xtask --help`.

pub mod paths;
pub mod programs;
pub mod server;
