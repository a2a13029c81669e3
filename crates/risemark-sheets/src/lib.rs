//! Finished plans become drawings, and drawings become SVG text.
//!
//! Nothing is decided about a wall here: what is drawn is what the plan says. One elevation serves
//! paper and screen alike; only its sizes differ.
//!
//! | module | from -> product |
//! |---|---|
//! | `elevation` | a wall's plan -> the items of its elevation |
//! | `screen` | a wall's plan -> the picture that is edited |
//! | `thumbnail` | a wall's plan -> the small picture of the list |
//! | `sheet` | a wall's plan -> the sheets that are taped beside the wall |
//! | `svg` | a drawing -> SVG text |
//!
//! What stands on them beside the planner's sentences is in `words`.
//! | `qr` | a text -> the square code that a camera reads |

pub mod drawing;
mod elevation;
pub mod ink;
pub mod qr;
#[cfg(test)]
mod samples;
mod scale;
mod screen;
pub mod sheet;
pub mod svg;
pub mod text;
mod thumbnail;
mod words;

pub use elevation::Layer;
pub use screen::{Beside, Fit, Picture, View, beside, screen};
pub use sheet::{
    HoleShot, OfNoWall, Orientation, Paper, SecondsBy, Sheet, SheetOptions, WallShots, sheets,
};
pub use thumbnail::{common_scale, thumbnail};
