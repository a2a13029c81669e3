//! What is poured through the holes of the job, for the places that show it.

use std::sync::Arc;

use leptos::prelude::*;
use risemark::{
    Plan,
    finding::Staged,
    foam::{PourPlan, pour},
};

use crate::{history::History, planner::Planned};

/// A job's plan with what is poured by it.
#[derive(Debug, Clone)]
pub struct Poured {
    /// The plan of the walls.
    pub plan: Plan,
    /// What is shot through their holes.
    pub pour: Staged<PourPlan>,
    /// Counts what was poured, so that no two of them bear one number.
    pub edition: usize,
}

impl PartialEq for Poured {
    fn eq(&self, other: &Self) -> bool {
        self.edition == other.edition
    }
}

/// Pours a job again whenever it or its plan changes, and somebody looks.
pub fn poured(history: RwSignal<History>, planned: Memo<Planned>) -> Memo<Arc<Poured>> {
    Memo::new(move |earlier: Option<&Arc<Poured>>| {
        let edition = earlier.map_or(0, |earlier| earlier.edition + 1);
        let plan = planned.with(|planned| {
            let walls = planned.walls.iter().map(|wall| (**wall.plan()).clone()).collect();
            Plan { rules: (*planned.rules).clone(), walls }
        });
        let pour = history.with(|history| pour(history.job(), &plan));
        Arc::new(Poured { plan, pour, edition })
    })
}
