//! Stage 5, shoot: the order of the shots with one gun.

mod anneal;
mod bound;
mod exact;
mod problem;
mod retiming;
mod search;
mod starts;
mod timing;

pub use problem::{Crew, Kit, Problem, Refused, Shot, Wishes};
pub use search::{Found, Search};
