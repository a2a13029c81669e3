//! The order of the shots as a list that one person calls out to the other at the gun.

use risemark::{
    Plan,
    finding::Finding,
    job::Job,
    language::{Language, Speech, alike, counted},
    pour,
    quantity::{round_to, to_seconds},
    shoot,
    shots::{PlannedShot, ShotPlan},
    tape, wording,
};

/// The list for the caller.
pub(crate) fn printed(job: &Job, plan: &Plan) -> String {
    let shot = shoot(job, plan, &pour(job, plan).product);
    let shots = &shot.product;
    let mut lines = vec![head(shots)];
    for (at, each) in shots.order.iter().enumerate() {
        let before = at.checked_sub(1).map(|before| shots.order[before]);
        lines.extend(changes(plan, before, each));
        lines.push(line(plan, at + 1, each));
    }
    let speech = Speech::english(plan.rules.units);
    lines.extend(shot.findings.iter().map(|finding| said(finding, speech)));
    lines.join("\n") + "\n"
}

fn head(shots: &ShotPlan) -> String {
    let within = shots.within_percent();
    let counted = |n: usize, one: &'static str, more: &'static str| {
        counted(n, [alike(one), alike(more)], Language::English)
    };
    format!(
        "{} in {}, {}, {}; within {within} % of the best possible",
        counted(shots.order.len(), "shot", "shots"),
        clock(to_seconds(shots.end)),
        counted(shots.n_nozzles, "nozzle", "nozzles"),
        counted(shots.n_kits, "kit", "kits")
    )
}

/// What is done before a shot beside going to its hole.
fn changes(plan: &Plan, before: Option<PlannedShot>, shot: &PlannedShot) -> Vec<String> {
    let mut lines = Vec::new();
    if before.is_none_or(|before| before.wall != shot.wall) {
        lines.push(format!("{}:", plan.walls[shot.wall].wall.name));
    }
    let Some(before) = before else { return lines };
    if before.kit != shot.kit {
        lines.push(format!("  change to kit {} and nozzle {}", shot.kit, shot.nozzle));
    } else if before.nozzle != shot.nozzle {
        lines.push(format!("  change to nozzle {}", shot.nozzle));
    }
    lines
}

fn line(plan: &Plan, number: usize, shot: &PlannedShot) -> String {
    let units = plan.rules.units;
    let hole = plan.walls[shot.wall].hole(shot.hole);
    let place = hole.map_or(String::new(), |hole| {
        format!(
            ", {} across, {} up",
            tape::reading(hole.across, units),
            tape::reading(hole.up, units)
        )
    });
    let piece = if shot.n_pieces == 1 {
        String::new()
    } else {
        format!(", shot {} of {}", shot.piece, shot.n_pieces)
    };
    format!(
        "  {number}. at {} hole {}{place}{piece}: {} s",
        clock(to_seconds(shot.start)),
        shot.hole,
        round_to(to_seconds(shot.duration), 10.0)
    )
}

/// Minutes and seconds since the first shot.
fn clock(seconds: f64) -> String {
    let minutes = (seconds / 60.0).floor();
    format!("{minutes}:{:02}", (seconds - minutes * 60.0).floor())
}

fn said(finding: &Finding, speech: Speech) -> String {
    let severity = wording::severity(finding.problem.severity()).of(speech.language);
    format!("{severity}: {}", wording::line(finding, speech))
}
