//! What the whole job comes to.

use leptos::prelude::*;
use risemark::{finding::Severity, quantity::Volume};

use crate::{planner::PlannedWall, session::Session, words};

/// Walls, holes, lines, foam and findings of the job.
pub fn totals(session: Session) -> AnyView {
    let shown = move || {
        let (walls, units) =
            (session.planned.with(|planned| planned.walls.clone()), session.units.get());
        let sum = |count: fn(&PlannedWall) -> usize| walls.iter().map(count).sum::<usize>();
        let volumes = walls.iter().map(|wall| wall.plan.volume_to_fill());
        let volume = volumes.fold(Volume::default(), |sum, volume| sum + volume);
        let counts = [Severity::Stop, Severity::Warning, Severity::Note].map(|severity| {
            let of = |wall: &PlannedWall| words::n_findings(&wall.plan.findings, severity);
            (severity, walls.iter().map(of).sum())
        });
        let rows = [
            (words::WALLS.text(), walls.len().to_string()),
            (words::HOLES.text(), sum(|wall| wall.plan.drill.holes.len()).to_string()),
            (words::LINES.text(), sum(|wall| wall.plan.drill.snap_lines.len()).to_string()),
            (words::TO_FILL.text(), words::volume(volume, units)),
            (words::FINDINGS.text(), words::counts(&counts)),
        ];
        let rows = rows.into_iter().map(|(name, value)| {
            view! { <div><dt>{name}</dt><dd>{value}</dd></div> }
        });
        (!walls.is_empty())
            .then(|| view! { <dl class="totals" id="totals">{rows.collect_view()}</dl> })
    };
    view! { {shown} }.into_any()
}
