//! The table of contents of the program: a job becomes its plan, stage by stage.

use uom::ConstZero;

use crate::{
    cautions::{Caution, cautions},
    compartments::{Compartment, State, divide},
    drilling::{DrillPlan, Effort, Hole, drill},
    finding::{CompartmentId, Finding, Problem, Severity, Staged, WallRef},
    foam::{Lift, lifts},
    framing::{Frame, frame},
    job::{Job, Wall},
    quantity::Volume,
    rules::Rules,
};

/// Everything the planner knows about a job.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The rules that were used.
    pub rules: Rules,
    /// One plan a wall, in the order of the job.
    pub walls: Vec<WallPlan>,
}

/// Everything the planner knows about one wall.
#[derive(Debug, Clone, PartialEq)]
pub struct WallPlan {
    /// Which wall it is.
    pub wall: WallRef,
    /// Members, openings, what to keep off.
    pub frame: Frame,
    /// Every empty space.
    pub compartments: Vec<Compartment>,
    /// Where to drill.
    pub drill: DrillPlan,
    /// What is filled through each hole, in the order of the holes.
    pub lifts: Vec<Lift>,
    /// What the people at this wall must know.
    pub cautions: Vec<Caution>,
    /// What every stage had to say, worst first.
    pub findings: Vec<Finding>,
}

/// Plans a whole job. The plan of a wall depends on that wall and the job's settings alone.
pub fn plan(job: &Job) -> Plan {
    let rules = Rules::of(job);
    let walls =
        (0..job.walls.len()).map(|idx| plan_wall(job, idx, &rules, Effort::Thorough)).collect();
    Plan { rules, walls }
}

/// Plans the wall at a position of the list.
///
/// # Panics
/// When the job has no wall at that position.
pub fn plan_wall(job: &Job, idx: usize, rules: &Rules, effort: Effort<'_>) -> WallPlan {
    plan_one(job, (idx, &job.walls[idx]), rules, effort)
}

/// Plans a wall that stands at a position of the job's list; of the job only its settings are asked.
pub fn plan_one(
    settings: &Job,
    (idx, wall): (usize, &Wall),
    rules: &Rules,
    effort: Effort<'_>,
) -> WallPlan {
    // Put up every stud, plate and opening as it was measured, and note what was assumed.
    let Staged { product: frame, mut findings } = frame(wall);

    // Find every separate space that is left between them.
    let Staged { product: compartments, findings: found } = divide(&frame, rules);
    findings.extend(found);

    // Choose the holes that fill each space, on as few lines as that allows.
    let Staged { product: drill, findings: found } =
        drill(&frame, &compartments, rules, &wall.drilling, effort);
    findings.extend(found);

    // Share each space among its holes.
    let lifts = lifts(&compartments, &drill);

    // Say what the people at this wall must know before they start.
    let Staged { product: cautions, findings: found } =
        cautions(settings, wall, &frame, &compartments);
    findings.extend(found);

    // Put the findings on this wall, worst first; within a severity in the order of the stages.
    let wall = WallRef { number: idx + 1, id: wall.id.clone(), name: wall.name.clone() };
    let mut findings: Vec<Finding> =
        findings.into_iter().map(|finding| finding.on(&wall)).collect();
    crate::order::sort_by_key(&mut findings, |finding| finding.problem.severity());
    WallPlan { wall, frame, compartments, drill, lifts, cautions, findings }
}

impl Plan {
    /// The position of the wall whose sheets the crew takes up first: the first on which nothing stops
    /// the work, or simply the first.
    pub fn first_to_drill(&self) -> usize {
        self.walls.iter().position(|wall| !wall.is_stopped()).unwrap_or(0)
    }
}

impl WallPlan {
    /// Why a compartment stays empty; `None` when it is filled.
    pub fn why_empty<'a>(&'a self, compartment: &'a Compartment) -> Option<&'a Problem> {
        let unreached = self.drill.unreached.iter().find(|(id, _)| *id == compartment.id);
        match &compartment.state {
            State::Empty(problem) => Some(problem),
            State::Fillable => unreached.map(|(_, problem)| problem),
        }
    }

    /// How much foam it takes to fill every compartment that is filled.
    pub fn volume_to_fill(&self) -> Volume {
        let filled = self.compartments.iter().filter(|space| self.why_empty(space).is_none());
        filled.fold(Volume::ZERO, |sum, space| sum + space.volume)
    }

    /// The compartment that bears an id.
    pub fn compartment(&self, id: CompartmentId) -> Option<&Compartment> {
        self.compartments.iter().find(|compartment| compartment.id == id)
    }

    /// The hole that bears a mark.
    pub fn hole(&self, mark: usize) -> Option<&Hole> {
        self.drill.holes.iter().find(|hole| hole.mark == mark)
    }

    /// Whether a finding blocks printing until the user has said why to go on.
    pub fn is_stopped(&self) -> bool {
        self.findings.iter().any(|finding| finding.problem.severity() == Severity::Stop)
    }
}
