//! Keeps the plan of a job current: only the walls that an edit touched are planned anew.
//!
//! A wall is planned quickly first, near its earlier plan; the best lines come from a search beside
//! the screen ([`crate::search`]) and are put in place once they are known.

use std::sync::Arc;

use risemark::{
    drilling::{DrillPlan, Earlier, Effort},
    geometry::Point,
    job::{Job, RuleSettings, Wall},
    plan::{WallPlan, plan_wall},
    quantity::{Length, Units},
    rules::Rules,
};

/// A job's plan, shared piece by piece with the plan before it.
#[derive(Debug, Clone)]
pub struct Planned {
    /// The rules that were used.
    pub rules: Arc<Rules>,
    /// One plan a wall, in the order of the job.
    pub walls: Vec<PlannedWall>,
    settings: Settings,
    n_planned: usize,
}

/// A wall with its plan.
#[derive(Debug, Clone)]
pub struct PlannedWall {
    /// The wall that was planned.
    pub wall: Arc<Wall>,
    /// Its plan.
    pub plan: Arc<WallPlan>,
    /// Counts the plans that were made, so that no two of them bear one number.
    pub edition: usize,
    /// Whether the best lines are known.
    pub is_best: bool,
}

/// The best lines of a wall, as a search has found them.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The wall that was searched.
    pub wall: Arc<Wall>,
    /// Heights of its snap lines.
    pub lines: Vec<Length>,
    /// How many there are at least.
    pub bound: usize,
    /// The centres of the planner's holes, where the search had to choose them one by one.
    pub places: Vec<Point>,
}

impl Found {
    fn effort(&self) -> Effort<'_> {
        Effort::Known(Earlier { lines: &self.lines, places: &self.places }, self.bound)
    }
}

/// What the plan of every wall depends on beside the wall itself.
#[derive(Debug, Clone, PartialEq)]
struct Settings {
    units: Units,
    year_built: Option<i32>,
    rules: RuleSettings,
}

impl PartialEq for PlannedWall {
    /// Plans that are shared are equal; comparing them point by point would cost as much as planning.
    fn eq(&self, other: &Self) -> bool {
        self.edition == other.edition
    }
}

impl PartialEq for Planned {
    fn eq(&self, other: &Self) -> bool {
        self.settings == other.settings && self.walls == other.walls
    }
}

impl Planned {
    /// Plans a job, taking over from an earlier plan what still holds, and what was found since.
    pub fn of(job: &Job, earlier: Option<&Self>, found: Option<&Found>) -> Self {
        let settings =
            Settings { units: job.units, year_built: job.year_built, rules: job.rules.clone() };
        let mut n_planned = earlier.map_or(0, |earlier| earlier.n_planned);
        let earlier = earlier.filter(|earlier| earlier.settings == settings);
        let rules =
            earlier.map_or_else(|| Arc::new(Rules::of(job)), |earlier| Arc::clone(&earlier.rules));
        let known = earlier.map_or(&[][..], |earlier| &earlier.walls);
        let mut planned = |idx: usize, wall: &Arc<Wall>, effort: Effort<'_>| {
            n_planned += 1;
            let plan = Arc::new(plan_wall(job, idx, &rules, effort));
            let is_best = matches!(effort, Effort::Known(..));
            PlannedWall { wall: Arc::clone(wall), plan, edition: n_planned, is_best }
        };
        let walls = job.walls.iter().enumerate().map(|(idx, wall)| {
            // A plan names its wall by its position too, so it holds only there.
            let before = known.get(idx).filter(|before| before.wall.id == wall.id);
            let same = before.filter(|before| *before.wall == *wall);
            let better = found.filter(|found| *found.wall == *wall);
            match (same, better) {
                (Some(same), None) => same.clone(),
                (Some(same), Some(_)) if same.is_best => same.clone(),
                (Some(same), Some(found)) => {
                    let best = planned(idx, &same.wall, found.effort());
                    // What was the best already stays, and nothing is drawn anew.
                    let is_same = best.plan == same.plan;
                    if is_same { PlannedWall { is_best: true, ..same.clone() } } else { best }
                }
                (None, Some(found)) => {
                    let effort = found.effort();
                    planned(idx, &Arc::new(wall.clone()), effort)
                }
                (None, None) => {
                    let drill = before.map(|before| &before.plan.drill);
                    let places: Vec<Point> =
                        drill.into_iter().flat_map(DrillPlan::places).collect();
                    let effort = drill.map_or(Effort::Quick, |drill| {
                        Effort::Near(Earlier { lines: &drill.snap_lines, places: &places })
                    });
                    planned(idx, &Arc::new(wall.clone()), effort)
                }
            }
        });
        let walls = walls.collect();
        Self { rules, walls, settings, n_planned }
    }

    /// The wall to search next: the one that is looked at, else the first that was planned quickly.
    pub fn to_search(&self, looked_at: Option<&str>) -> Option<&PlannedWall> {
        let mut open = self.walls.iter().filter(|planned| !planned.is_best);
        let first = open.clone().next();
        open.find(|planned| Some(planned.wall.id.as_str()) == looked_at).or(first)
    }

    /// The wall that bears an id, with its plan.
    pub fn wall(&self, id: &str) -> Option<&PlannedWall> {
        self.walls.iter().find(|planned| planned.wall.id == id)
    }
}

#[cfg(test)]
mod tests {
    use risemark::{plan::plan, quantity::inches};

    use super::*;
    use crate::sample;

    fn n_shared(earlier: &Planned, now: &Planned) -> usize {
        let pairs = earlier.walls.iter().zip(&now.walls);
        pairs.filter(|(a, b)| Arc::ptr_eq(&a.plan, &b.plan)).count()
    }

    #[test]
    fn one_edit_plans_one_wall() {
        let mut job = sample::job();
        let first = Planned::of(&job, None, None);
        job.walls[1].depth = Some(inches(5.5));
        let second = Planned::of(&job, Some(&first), None);
        assert_eq!(n_shared(&first, &second), job.walls.len() - 1, "all other walls are shared");
        assert!(
            !Arc::ptr_eq(&first.walls[1].plan, &second.walls[1].plan),
            "the edited wall is planned"
        );
    }

    #[test]
    fn a_change_beside_the_walls_plans_none() {
        let mut job = sample::job();
        let first = Planned::of(&job, None, None);
        job.name = "Pottery".to_owned();
        assert_eq!(
            n_shared(&first, &Planned::of(&job, Some(&first), None)),
            job.walls.len(),
            "a name"
        );
    }

    #[test]
    fn a_rule_plans_every_wall() {
        let mut job = sample::job();
        let first = Planned::of(&job, None, None);
        job.rules.bit = Some(inches(0.75));
        assert_eq!(n_shared(&first, &Planned::of(&job, Some(&first), None)), 0, "the bit");
    }

    #[test]
    fn what_is_shared_is_what_planning_anew_gives() {
        let mut job = sample::job();
        let mut planned = Planned::of(&job, None, None);
        for step in 0..4 {
            match step {
                0 => job.walls[0].width += inches(1.0),
                1 => job.walls.swap(0, 1),
                2 => drop(job.walls.remove(1)),
                _ => job.year_built = None,
            }
            planned = Planned::of(&job, Some(&planned), None);
            while let Some(open) = planned.to_search(None) {
                let alone = Job { walls: vec![(*open.wall).clone()], ..job.clone() };
                let drill = plan(&alone).walls.remove(0).drill;
                let (lines, bound) = (drill.snap_lines, drill.lines_bound);
                let wall = Arc::clone(&open.wall);
                let found = Found { wall, lines, bound, places: Vec::new() };
                planned = Planned::of(&job, Some(&planned), Some(&found));
            }
            let plans: Vec<WallPlan> =
                planned.walls.iter().map(|wall| (*wall.plan).clone()).collect();
            assert_eq!(plans, plan(&job).walls, "after step {step}");
        }
    }
}
