//! The app in a real browser.
//!
//! `cargo xtask test` runs this; alone it is `cargo xtask build`, then
//! `cargo test -p risemark-tests --test browser`. A test is a plain function that calls
//! `harness::browse` with what to do in the page.
#![allow(clippy::print_stderr, reason = "a failing test tells what it saw through this")]

mod chromedriver;
mod editing;
mod fast;
mod foam;
mod harness;
mod harness_tests;
mod holes;
mod keeping;
mod language;
mod link;
mod offline;
mod page;
mod pdf;
mod rest;
mod smoke;
mod tasks;
