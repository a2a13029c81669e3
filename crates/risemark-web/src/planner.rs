//! Keeps the plan of a job current: only the walls that an edit touched are planned anew, and each
//! when its plan is asked for.
//!
//! A wall is planned quickly first, near its earlier plan; the best lines come from a search beside
//! the screen ([`crate::search`]) and are put in place once they are known.

use std::{
    cell::LazyCell,
    collections::BTreeMap,
    sync::{Arc, OnceLock},
};

use risemark::{
    drilling::{Earlier, Effort},
    framing::extent,
    geometry::{Point, Rect},
    job::{CrewSettings, FoamSettings, Job, Wall},
    plan::{WallPlan, plan_one},
    quantity::Length,
    rules::Rules,
};

/// In a job of more walls only the one in view is searched; paper searches the others when it is asked for.
pub const EAGER: usize = 60;

/// A job's plan, shared piece by piece with the plan before it.
#[derive(Debug, Clone)]
pub struct Planned {
    /// The rules that were used.
    pub rules: Arc<Rules>,
    /// One plan a wall, in the order of the job.
    pub walls: Vec<PlannedWall>,
    /// What the plan of every wall depends on beside the wall itself; the rest of the job is left out.
    pub settings: Arc<Job>,
    n_planned: usize,
}

/// A wall with its plan.
#[derive(Debug, Clone)]
pub struct PlannedWall {
    /// The wall that is planned.
    pub wall: Arc<Wall>,
    /// The room it takes, for which no plan is needed.
    pub extent: Rect,
    /// Counts the plans that were begun, so that no two of them bear one number.
    pub edition: usize,
    /// The best lines, once they are known.
    best: Option<Arc<Found>>,
    plan: Arc<OnceLock<Arc<WallPlan>>>,
    begins: Arc<Begins>,
}

/// What a plan is made of when it is asked for.
#[derive(Debug)]
struct Begins {
    settings: Arc<Job>,
    rules: Arc<Rules>,
    wall: Arc<Wall>,
    /// The position of the wall in the job.
    idx: usize,
    known: Known,
}

/// What is known of a wall before it is planned.
#[derive(Debug)]
enum Known {
    /// Nothing.
    Nothing,
    /// What an earlier plan of it came to.
    Near(Before),
    /// The best lines.
    Best(Arc<Found>),
}

impl Known {
    fn effort(&self) -> Effort<'_> {
        match self {
            Self::Nothing => Effort::Quick,
            Self::Near(before) => before.effort(),
            Self::Best(found) => found.effort(),
        }
    }
}

/// What a plan came to that a later one may keep.
#[derive(Debug, Clone)]
struct Before {
    lines: Vec<Length>,
    places: Vec<Point>,
}

impl Before {
    fn of(plan: &WallPlan) -> Self {
        Self { lines: plan.drill.snap_lines.clone(), places: plan.drill.places().collect() }
    }

    fn found(found: &Found) -> Self {
        Self { lines: found.lines.clone(), places: found.places.clone() }
    }

    fn effort(&self) -> Effort<'_> {
        Effort::Near(Earlier { lines: &self.lines, places: &self.places })
    }
}

/// The best lines of a wall, as a search has found them.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The wall that was searched.
    pub wall: Arc<Wall>,
    /// The settings it was searched by ([`Planned::settings`]).
    pub settings: Arc<Job>,
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

impl PartialEq for PlannedWall {
    /// Plans that are shared are equal; comparing them point by point would cost as much as planning.
    fn eq(&self, other: &Self) -> bool {
        self.edition == other.edition
    }
}

impl PlannedWall {
    /// The plan, which is made when it is asked for the first time.
    pub fn plan(&self) -> &Arc<WallPlan> {
        self.plan.get_or_init(|| {
            let Begins { settings, rules, wall, idx, known } = &*self.begins;
            Arc::new(plan_one(settings, (*idx, wall), rules, known.effort()))
        })
    }

    /// Whether a quick plan takes no longer than a blink; an air space of brick takes several.
    pub fn is_quick(&self) -> bool {
        !self.wall.construction.is_brick()
    }

    /// Whether the best lines are known.
    pub fn is_best(&self) -> bool {
        self.best.is_some()
    }

    /// The plan, if it was asked for already.
    pub fn known(&self) -> Option<&Arc<WallPlan>> {
        self.plan.get()
    }

    /// What a later plan may keep.
    fn before(&self) -> Known {
        match (self.known(), &self.begins.known) {
            (Some(plan), _) => Known::Near(Before::of(plan)),
            (None, Known::Nothing) => Known::Nothing,
            (None, Known::Near(before)) => Known::Near(before.clone()),
            (None, Known::Best(found)) => Known::Near(Before::found(found)),
        }
    }
}

impl PartialEq for Planned {
    fn eq(&self, other: &Self) -> bool {
        let best =
            |planned: &Self| planned.walls.iter().map(PlannedWall::is_best).collect::<Vec<_>>();
        self.settings == other.settings && self.walls == other.walls && best(self) == best(other)
    }
}

impl Planned {
    /// Plans a job, taking over from an earlier plan what still holds, and what was found since.
    pub fn of(job: &Job, earlier: Option<&Self>, found: Option<&Found>) -> Self {
        let settings = settings_of(job);
        let mut n_planned = earlier.map_or(0, |earlier| earlier.n_planned);
        let earlier = earlier.filter(|earlier| *earlier.settings == settings);
        // By other settings other lines are the best.
        let found = found.filter(|found| *found.settings == settings);
        let (settings, rules) = earlier.map_or_else(
            || (Arc::new(settings), Arc::new(Rules::of(job))),
            |earlier| (Arc::clone(&earlier.settings), Arc::clone(&earlier.rules)),
        );
        let earlier = earlier.map_or(&[][..], |earlier| &earlier.walls);
        let by_id = LazyCell::new(|| {
            earlier.iter().map(|planned| (&planned.wall.id, planned)).collect::<BTreeMap<_, _>>()
        });
        let mut begin = |idx: usize, wall: Arc<Wall>, known: Known| {
            n_planned += 1;
            let extent = extent(&wall);
            let (settings, rules) = (Arc::clone(&settings), Arc::clone(&rules));
            let best = if let Known::Best(found) = &known { Some(Arc::clone(found)) } else { None };
            let begins = Begins { settings, rules, wall: Arc::clone(&wall), idx, known };
            let (plan, edition) = (Arc::default(), n_planned);
            PlannedWall { wall, extent, edition, best, plan, begins: Arc::new(begins) }
        };
        let walls = job.walls.iter().enumerate().map(|(idx, wall)| {
            let here = earlier.get(idx).filter(|before| before.wall.id == wall.id);
            let before = here.or_else(|| by_id.get(&wall.id).copied());
            let same = before.filter(|before| *before.wall == *wall);
            let best = same.and_then(|same| same.best.clone()).or_else(|| {
                found.filter(|found| *found.wall == *wall).map(|found| Arc::new(found.clone()))
            });
            // A plan names its wall by its position too, so it holds only there.
            let stays = same.filter(|_| here.is_some());
            if let Some(stays) = stays.filter(|stays| stays.is_best() == best.is_some()) {
                return stays.clone();
            }
            let wall = same.map_or_else(|| Arc::new(wall.clone()), |same| Arc::clone(&same.wall));
            let Some(best) = best else {
                return begin(idx, wall, before.map_or(Known::Nothing, PlannedWall::before));
            };
            let planned = begin(idx, wall, Known::Best(Arc::clone(&best)));
            match stays {
                // What was the best already stays, and nothing is drawn anew.
                Some(stays) if stays.known() == Some(planned.plan()) => {
                    PlannedWall { best: Some(best), ..stays.clone() }
                }
                _ => planned,
            }
        });
        let walls = walls.collect();
        Self { rules, walls, settings, n_planned }
    }

    /// The wall to search next: the one that is looked at, else the first that was planned quickly.
    pub fn to_search(&self, looked_at: Option<&str>) -> Option<&PlannedWall> {
        let mut open = self.walls.iter().filter(|planned| !planned.is_best());
        let first = open.clone().next();
        open.find(|planned| Some(planned.wall.id.as_str()) == looked_at).or(first)
    }

    /// Whether better lines are still to come for some wall of a job that is searched to its end.
    pub fn awaits_lines(&self) -> bool {
        self.walls.len() <= EAGER && self.walls.iter().any(|planned| !planned.is_best())
    }

    /// The wall that bears an id, with its plan.
    pub fn wall(&self, id: &str) -> Option<&PlannedWall> {
        self.walls.iter().find(|planned| planned.wall.id == id)
    }
}

/// A job of the same settings, and of nothing that no plan depends on.
fn settings_of(job: &Job) -> Job {
    Job {
        name: String::new(),
        place: None,
        date: None,
        units: job.units,
        year_built: job.year_built,
        rules: job.rules.clone(),
        foam: FoamSettings::default(),
        crew: CrewSettings::default(),
        walls: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use risemark::{
        plan::plan,
        quantity::{Units, inches},
    };

    use super::*;
    use crate::sample;

    fn n_shared(earlier: &Planned, now: &Planned) -> usize {
        let pairs = earlier.walls.iter().zip(&now.walls);
        pairs.filter(|(a, b)| Arc::ptr_eq(a.plan(), b.plan())).count()
    }

    #[test]
    fn one_edit_plans_one_wall() {
        let mut job = sample::job();
        let first = Planned::of(&job, None, None);
        job.walls[1].depth = Some(inches(5.5));
        let second = Planned::of(&job, Some(&first), None);
        assert_eq!(n_shared(&first, &second), job.walls.len() - 1, "all other walls are shared");
        assert!(
            !Arc::ptr_eq(first.walls[1].plan(), second.walls[1].plan()),
            "the edited wall is planned"
        );
    }

    #[test]
    fn a_wall_is_planned_when_its_plan_is_asked_for() {
        let mut job = sample::job();
        let first = Planned::of(&job, None, None);
        assert!(first.walls.iter().all(|wall| wall.known().is_none()), "nobody has asked");
        let plan = Arc::clone(first.walls[1].plan());
        job.name = "Pottery".to_owned();
        let second = Planned::of(&job, Some(&first), None);
        assert!(second.walls[1].known().is_some_and(|known| Arc::ptr_eq(known, &plan)), "once");
        assert!(second.walls[0].known().is_none(), "nobody has asked for this one yet");
        assert_eq!(plan.wall.number, 2, "a plan names its wall by its position");
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
        let mut last: Option<Found> = None;
        for step in 0..5 {
            match step {
                0 => job.walls[0].width += inches(1.0),
                1 => job.walls.swap(0, 1),
                2 => drop(job.walls.remove(1)),
                3 => job.units = Units::Metric,
                _ => job.year_built = None,
            }
            planned = Planned::of(&job, Some(&planned), last.as_ref());
            let is_moved = matches!(step, 1 | 2);
            while let Some(open) = planned.to_search(None) {
                assert!(!is_moved, "what is known of a wall moves with it");
                assert!(planned.awaits_lines(), "{} is open", open.wall.id);
                let alone = Job { walls: vec![(*open.wall).clone()], ..job.clone() };
                let drill = plan(&alone).walls.remove(0).drill;
                let places = drill.places().collect();
                let (lines, bound) = (drill.snap_lines, drill.lines_bound);
                let settings = Arc::clone(&planned.settings);
                let found = Found { wall: Arc::clone(&open.wall), settings, lines, bound, places };
                planned = Planned::of(&job, Some(&planned), Some(&found));
                last = Some(found);
            }
            let plans: Vec<WallPlan> =
                planned.walls.iter().map(|wall| (**wall.plan()).clone()).collect();
            assert!(
                plans == plan(&job).walls,
                "planning anew gives something else after step {step}"
            );
            assert!(!planned.awaits_lines(), "all walls have their best lines");
        }
    }
}
