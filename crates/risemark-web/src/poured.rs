//! What is poured through the holes of the job, for the places that show it.

use std::sync::Arc;

use leptos::prelude::*;
use risemark::{
    Plan,
    finding::Staged,
    foam::{PourPlan, pour},
    job::Job,
    plan::WallPlan,
};

use crate::session::Session;

/// A job's plan with what is poured by it.
#[derive(Debug, Clone)]
pub struct Poured {
    /// The plan of the walls.
    pub plan: Plan,
    /// What is shot through their holes.
    pub pour: Staged<PourPlan>,
    /// Counts what was poured, so that no two of them bear one number.
    pub edition: usize,
    job: Arc<Job>,
    walls: Vec<Arc<WallPlan>>,
}

impl Poured {
    fn is_of(&self, job: &Arc<Job>, walls: &[Arc<WallPlan>]) -> bool {
        let same = |(a, b): (&Arc<WallPlan>, &Arc<WallPlan>)| Arc::ptr_eq(a, b);
        Arc::ptr_eq(&self.job, job)
            && self.walls.len() == walls.len()
            && self.walls.iter().zip(walls).all(same)
    }
}

impl PartialEq for Poured {
    fn eq(&self, other: &Self) -> bool {
        self.edition == other.edition
    }
}

/// What is poured in the app that this is called in.
pub fn poured_here() -> Memo<Arc<Poured>> {
    expect_context()
}

/// Pours a job again whenever it or its plan changes, and somebody looks.
pub fn poured(session: Session) -> Memo<Arc<Poured>> {
    Memo::new(move |earlier: Option<&Arc<Poured>>| {
        let job = session.shared_job();
        let (rules, walls) = session.planned.with(|planned| {
            let walls = planned.walls.iter().map(|wall| Arc::clone(wall.plan()));
            ((*planned.rules).clone(), walls.collect::<Vec<_>>())
        });
        if let Some(same) = earlier.filter(|earlier| earlier.is_of(&job, &walls)) {
            return Arc::clone(same);
        }
        let edition = earlier.map_or(0, |earlier| earlier.edition + 1);
        let plan = Plan { rules, walls: walls.iter().map(|wall| (**wall).clone()).collect() };
        let pour = pour(&job, &plan);
        Arc::new(Poured { plan, pour, edition, job, walls })
    })
}
