//! The planner for filling hollow walls with slow-rise foam, from the wall as measured to the holes.
//!
//! The domain is a line of stages. Each is one module with one public function and one product:
//!
//! | stage | module | from | product |
//! |---|---|---|---|
//! | read | [`file`] | text of a job file | [`job::Job`] |
//! | frame | [`framing`] | [`job::Wall`] | [`framing::Frame`] |
//! | divide | [`compartments`] | frame | [`compartments::Compartment`]s |
//! | drill | [`drilling`] | compartments and [`rules::Rules`] | [`drilling::DrillPlan`] |
//! | pour | [`foam`] | job and plan | [`foam::PourPlan`] |
//! | shoot | [`shots`] | plan and what is poured | [`shots::ShotPlan`] |
//! | all | [`mod@plan`] | job | [`plan::Plan`] |
//!
//! It does no I/O, reads no clock, uses no randomness and knows nothing of paper or screens.

pub mod cautions;
pub mod check;
pub mod compartments;
pub mod drilling;
pub mod file;
pub mod finding;
pub mod foam;
pub mod found;
pub mod framing;
pub mod geometry;
pub mod job;
pub mod language;
pub mod limits;
mod mirror;
pub mod order;
pub mod plan;
pub mod quantity;
mod random;
pub mod rules;
pub mod shots;
pub mod tape;
pub mod wording;

pub use check::check;
pub use foam::pour;
pub use plan::{Plan, WallPlan, plan, plan_wall};
pub use shots::shoot;
