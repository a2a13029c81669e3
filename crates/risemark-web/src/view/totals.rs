//! What the whole job comes to.

use leptos::prelude::*;
use risemark::{finding::Severity, plan::WallPlan, quantity::Volume};

use super::later::{Left, in_slices};
use crate::{planner::PlannedWall, session::Session, words};

const SEVERITIES: [Severity; 3] = [Severity::Stop, Severity::Warning, Severity::Note];

/// How many walls are planned at once where their sums are wanted, so that an edit shows no sums to come.
const AT_ONCE: usize = 4;

/// What walls come to together.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
struct Sums {
    n_walls: usize,
    n_holes: usize,
    n_lines: usize,
    volume: Volume,
    n_findings: [usize; 3],
}

impl Sums {
    fn add(&mut self, plan: &WallPlan) {
        self.n_walls += 1;
        self.n_holes += plan.drill.holes.len();
        self.n_lines += plan.drill.snap_lines.len();
        self.volume += plan.volume_to_fill();
        for (sum, severity) in self.n_findings.iter_mut().zip(SEVERITIES) {
            *sum += words::n_findings(&plan.findings, severity);
        }
    }
}

/// Walls, holes, lines, foam and findings of the job.
pub fn totals(session: Session) -> AnyView {
    // Until every wall is planned, what is known of them all is how many there are.
    let counted: RwSignal<Option<Sums>> = RwSignal::new(None);
    let n_walls = Memo::new(move |_| session.planned.with(|planned| planned.walls.len()));
    // Counts the times of counting: one that goes on while the job changes is of no use.
    let latest = StoredValue::new(0);
    Effect::new(move || {
        latest.update_value(|latest| *latest += 1);
        let now = latest.get_value();
        let is_wanted = move || latest.try_get_value() == Some(now);
        count(session.planned.with(|planned| planned.walls.clone()), counted, is_wanted);
    });
    let shown = move || {
        let n_walls = n_walls.get();
        (n_walls != 0).then(|| {
            let rows = rows(session, n_walls, counted.get());
            let rows = rows.into_iter().map(|(name, value)| {
                view! { <div><dt>{name}</dt><dd>{value}</dd></div> }
            });
            view! { <dl class="totals" id="totals">{rows.collect_view()}</dl> }
        })
    };
    view! { {shown} }.into_any()
}

fn rows(session: Session, n_walls: usize, sums: Option<Sums>) -> Vec<(&'static str, String)> {
    let walls = (words::WALLS.text(), n_walls.to_string());
    let Some(sums) = sums else {
        let counting = (words::FINDINGS.text(), words::COUNTING.text().to_owned());
        return vec![walls, counting];
    };
    let counts: Vec<_> = SEVERITIES.into_iter().zip(sums.n_findings).collect();
    let found = words::counts(&counts);
    let found = if found.is_empty() { words::NONE_FOUND.text().to_owned() } else { found };
    vec![
        walls,
        (words::HOLES.text(), sums.n_holes.to_string()),
        (words::LINES.text(), sums.n_lines.to_string()),
        (words::TO_FILL.text(), words::volume(sums.volume, session.units.get())),
        (words::FINDINGS.text(), found),
    ]
}

/// Adds up the walls: at once where few are yet to be planned, else between pictures.
fn count(
    walls: Vec<PlannedWall>,
    counted: RwSignal<Option<Sums>>,
    is_wanted: impl Fn() -> bool + 'static,
) {
    let mut sums = Sums::default();
    let (known, unknown): (Vec<_>, Vec<_>) =
        walls.into_iter().partition(|wall| wall.known().is_some());
    known.iter().for_each(|wall| sums.add(wall.plan()));
    if unknown.len() <= AT_ONCE && unknown.iter().all(PlannedWall::is_quick) {
        unknown.iter().for_each(|wall| sums.add(wall.plan()));
        return counted.set(Some(sums));
    }
    counted.set(None);
    let mut rest = unknown.into_iter();
    in_slices(Box::new(move || {
        if !is_wanted() {
            return Left::Nothing;
        }
        let Some(wall) = rest.next() else {
            counted.set(Some(sums));
            return Left::Nothing;
        };
        sums.add(wall.plan());
        Left::More
    }));
}
