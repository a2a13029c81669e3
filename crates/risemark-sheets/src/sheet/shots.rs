//! What the sheets tell of the shots: seconds, and turns where there is an order.

use risemark::{
    Plan,
    finding::{Finding, Problem},
    foam::{Flow, FlowBasis, HolePour, WallPour},
    language::Language,
    plan::WallPlan,
    quantity::{Time, to_seconds, to_whole},
    shots::ShotPlan,
};

use crate::words;

/// What is shot through the holes of a wall; nothing as long as nobody has planned it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct WallShots {
    /// The shots, hole by hole; several through a hole that is filled in several.
    pub shots: Vec<HoleShot>,
    /// What their seconds rest on.
    pub by: SecondsBy,
    /// What was found of the shots of this wall.
    pub findings: Vec<Finding>,
}

/// One shot through a hole.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HoleShot {
    /// The mark of the hole.
    pub mark: usize,
    /// How long the gun sprays, in whole seconds.
    pub seconds: i64,
    /// Its place among all shots of the job, from 1, where their order is known.
    pub turn: Option<usize>,
}

/// What the seconds rest on.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum SecondsBy {
    /// The usual flow; nothing was tested.
    #[default]
    CommonPractice,
    /// A single test shot.
    OneTestShot,
    /// Several test shots.
    TestShots,
}

/// Where the findings stand that concern no wall but all of the job.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OfNoWall {
    /// On the sheets of this wall, which the crew takes up first.
    Borne,
    /// On those of another one.
    Elsewhere,
}

impl OfNoWall {
    /// Whether the wall at a position of a plan is the one that the crew takes up first.
    pub fn at(wall: usize, plan: &Plan) -> Self {
        if wall == plan.first_to_drill() { Self::Borne } else { Self::Elsewhere }
    }
}

impl WallShots {
    /// The shots of a wall; with their turns where there is an order, which knows the wall by its
    /// position in the plan.
    pub fn of(flow: &Flow, pour: &WallPour, order: Option<(&ShotPlan, usize)>) -> Self {
        let shots = pour.holes.iter().flat_map(|hole| {
            sprayed(hole).enumerate().map(move |(idx, time)| HoleShot {
                mark: hole.hole,
                seconds: to_whole(to_seconds(time)),
                turn: order.and_then(|(plan, wall)| turn(plan, wall, (hole.hole, idx + 1))),
            })
        });
        Self { shots: shots.collect(), by: (&flow.basis).into(), findings: Vec::new() }
    }

    /// The same with what of a job's findings concerns this wall, and those of no wall where it bears
    /// them.
    #[must_use]
    pub fn with_findings(
        mut self,
        wall: &WallPlan,
        found: &[Finding],
        of_no_wall: OfNoWall,
    ) -> Self {
        let is_here = |finding: &&Finding| {
            let place = finding.place.wall.as_ref();
            let is_borne = place
                .map_or(of_no_wall == OfNoWall::Borne, |place| place.number == wall.wall.number);
            is_borne && !is_told_by_the_table(&finding.problem)
        };
        self.findings.extend(found.iter().filter(is_here).cloned());
        self
    }

    /// Whether the order of the shots is known.
    pub(super) fn has_turns(&self) -> bool {
        self.shots.iter().any(|shot| shot.turn.is_some())
    }
}

impl From<&FlowBasis> for SecondsBy {
    fn from(basis: &FlowBasis) -> Self {
        match basis {
            FlowBasis::Assumed => Self::CommonPractice,
            FlowBasis::OneShot => Self::OneTestShot,
            FlowBasis::Fitted(_) => Self::TestShots,
        }
    }
}

/// What the seconds rest on stands beside them.
fn is_told_by_the_table(problem: &Problem) -> bool {
    matches!(problem, Problem::FlowUntested { .. } | Problem::OneTestShot { .. })
}

/// The shots that spray at all, as the order has them.
fn sprayed(hole: &HolePour) -> impl Iterator<Item = Time> {
    hole.shots.iter().copied().filter(|time| 0.0 < to_seconds(*time))
}

fn turn(plan: &ShotPlan, wall: usize, (hole, piece): (usize, usize)) -> Option<usize> {
    let place = plan
        .order
        .iter()
        .position(|shot| shot.wall == wall && shot.hole == hole && shot.piece == piece);
    place.map(|idx| idx + 1)
}

/// The seconds of the shots through a hole together, and the turn of the first: what the table has
/// room for. A star says that a note tells the shots one by one.
pub(super) fn in_the_table(shots: &[&HoleShot]) -> (String, String) {
    let seconds: i64 = shots.iter().map(|shot| shot.seconds).sum();
    let turn = shots.iter().find_map(|shot| shot.turn);
    let none = || words::NONE.to_owned();
    (
        match shots {
            [] => none(),
            [_] => seconds.to_string(),
            _ => format!("{seconds}*"),
        },
        turn.map_or_else(none, |turn| turn.to_string()),
    )
}

/// How a hole is filled in several shots, equal ones counted together: `2×31+30`, with their turns.
pub(super) fn in_a_note(shots: &[&HoleShot], language: Language) -> Option<String> {
    if shots.len() < 2 {
        return None;
    }
    let runs = shots.chunk_by(|a, b| a.seconds == b.seconds);
    let runs = runs.map(|run| match run {
        [shot] => shot.seconds.to_string(),
        _ => format!("{}×{}", run.len(), run[0].seconds),
    });
    let turns: Vec<String> =
        shots.iter().filter_map(|shot| shot.turn).map(|turn| turn.to_string()).collect();
    Some(words::split(&runs.collect::<Vec<_>>().join("+"), &turns.join("+"), language))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(shots: &[(i64, Option<usize>)], table: (&str, &str), note: Option<&str>) {
        let shots: Vec<HoleShot> =
            shots.iter().map(|&(seconds, turn)| HoleShot { mark: 1, seconds, turn }).collect();
        let shots: Vec<&HoleShot> = shots.iter().collect();
        let (seconds, turn) = in_the_table(&shots);
        assert_eq!((seconds.as_str(), turn.as_str()), table, "{shots:?}");
        assert_eq!(in_a_note(&shots, Language::English).as_deref(), note, "{shots:?}");
    }

    #[test]
    fn several_shots_are_told_in_a_note() {
        check(&[], ("–", "–"), None);
        check(&[(44, Some(7))], ("44", "7"), None);
        check(&[(44, None)], ("44", "–"), None);
        check(&[(31, None), (30, None)], ("61*", "–"), Some("shoot 31+30 s"));
        let three = [(61, Some(1)), (61, Some(5)), (60, Some(8))];
        check(&three, ("182*", "1"), Some("shoot 2×61+60 s, turns 1+5+8"));
    }
}
