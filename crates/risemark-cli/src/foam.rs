//! Foam in words: flow, seconds of each hole, kits, and the shopping list.

use risemark::{
    Plan, WallPlan,
    finding::Finding,
    foam::{
        Buying, Choice, Consumables, FlowBasis, HolePour, PourPlan, ShotTotals, Total, WallPour,
        consumables,
    },
    job::Job,
    language::{Language, Speech},
    pour,
    quantity::{round_to, to_seconds},
    shoot,
    wording::{self, foam as words},
};

use crate::args::Output;

/// The foam of a job as text, or the shopping list as comma-separated values.
pub(crate) fn printed(job: &Job, plan: &Plan, output: Output) -> String {
    let poured = pour(job, plan);
    // Nozzles and hours as the order of the shots has them.
    let shot = shoot(job, plan, &poured.product).product;
    let totals = ShotTotals { nozzles: shot.n_nozzles, time: shot.end };
    let needed = consumables(job, plan, &poured.product, &totals);
    match output {
        Output::Csv => words::shopping_list(&needed, Language::English),
        Output::Summary | Output::Json => {
            let speech = Speech::english(plan.rules.units);
            let mut lines = vec![flow(&poured.product, speech)];
            lines.extend(sum(&poured.product, speech));
            let walls = plan.walls.iter().zip(&poured.product.walls);
            lines.extend(walls.flat_map(|(wall, pour)| wall_lines(wall, pour, speech)));
            lines.extend(kits(&poured.product.buying, job, speech));
            lines.extend(costs(&needed, job));
            lines.extend(poured.findings.iter().map(|finding| said(finding, speech)));
            lines.join("\n") + "\n"
        }
    }
}

fn flow(pour: &PourPlan, speech: Speech) -> String {
    let rate = words::flow(pour.flow.rate, speech);
    match &pour.flow.basis {
        FlowBasis::Assumed => format!("flow: {rate}, common practice until it is tested"),
        FlowBasis::OneShot => format!("flow: {rate}, from one test shot"),
        FlowBasis::Fitted(fit) => format!(
            "flow: {rate} from {} test shots, standard error {}, residual deviation {}, R2 {}",
            fit.n_shots,
            words::flow(fit.standard_error, speech),
            words::volume(fit.spread, speech),
            round_to(fit.r_squared, 1e4)
        ),
    }
}

fn sum(pour: &PourPlan, speech: Speech) -> Vec<String> {
    let all = format!(
        "all holes: {} in {}",
        words::volume(pour.volume, speech),
        words::seconds(pour.time)
    );
    let sprayed = pour.sprayed.map(|range| {
        format!(
            "with {} % confidence these seconds spray {} to {}",
            round_to(pour.rules.confidence * 100.0, 10.0),
            words::volume(range.low, speech),
            words::volume(range.high, speech)
        )
    });
    std::iter::once(all).chain(sprayed).collect()
}

fn wall_lines(wall: &WallPlan, pour: &WallPour, speech: Speech) -> Vec<String> {
    let head = format!(
        "{}: {} in {}",
        wall.wall.name,
        words::volume(pour.volume, speech),
        words::seconds(pour.time)
    );
    let holes = pour.holes.iter().map(|hole| hole_line(hole, speech));
    std::iter::once(head).chain(holes).collect()
}

fn hole_line(hole: &HolePour, speech: Speech) -> String {
    let mut line = format!(
        "  hole {}: {}, {}",
        hole.hole,
        words::volume(hole.volume, speech),
        words::seconds(hole.time)
    );
    if let Some(range) = hole.range {
        let (low, high) = (to_seconds(range.low), to_seconds(range.high));
        line += &format!(" ({} to {})", round_to(low, 10.0), round_to(high, 10.0));
    }
    if 1 < hole.shots.len() {
        let shots: Vec<String> =
            hole.shots.iter().map(|shot| to_seconds(*shot).to_string()).collect();
        line += &format!(", as {} s", shots.join(" + "));
    }
    line
}

fn kits(buying: &Buying, job: &Job, speech: Speech) -> Vec<String> {
    let mut lines = vec![format!(
        "to buy for: {} with waste, {} % of the nominal yield usable",
        words::volume(buying.with_waste, speech),
        round_to(buying.share * 100.0, 10.0)
    )];
    lines.extend(buying.choices.iter().map(|choice| choice_line(choice, job, speech)));
    lines.extend(buying.advice.map(|advice| {
        format!(
            "worth adding: one kit of {} for {}; the chance grows from {} to {} %, and running short would cost {} on average",
            words::board_feet(advice.kit.nominal, speech.language),
            money(advice.price, job),
            percent(advice.without),
            percent(advice.with),
            money(advice.risk, job)
        )
    }));
    lines
}

fn choice_line(choice: &Choice, job: &Job, speech: Speech) -> String {
    let kits: Vec<String> = choice
        .kits
        .iter()
        .map(|(size, n_kits)| {
            format!("{n_kits} x {}", words::board_feet(size.nominal, speech.language))
        })
        .collect();
    let kits = if kits.is_empty() { "no kit".to_owned() } else { kits.join(" + ") };
    let cost = choice.cost.filter(|_| !choice.kits.is_empty());
    let cost = cost.map_or(String::new(), |cost| format!(", {}", money(cost, job)));
    format!(
        "  {} %: {kits}{cost}; finishes with a chance of {} %, about {} left",
        percent(choice.asked),
        percent(choice.chance.chance),
        words::volume(choice.left, speech)
    )
}

fn costs(needed: &Consumables, job: &Job) -> Vec<String> {
    let tasks: Vec<String> = needed
        .tasks
        .iter()
        .map(|task| {
            let hours = round_to(to_seconds(task.time) / 3_600.0, 10.0);
            format!("{} {hours} h", wording::foam::task(task.kind).of(Language::English))
        })
        .collect();
    vec![
        format!("work of {} people together: {}", needed.people, tasks.join(", ")),
        format!("cost of what is bought: {}", total(needed.material, job)),
        format!("cost of work: {}", total(needed.work, job)),
    ]
}

fn total(total: Total, job: &Job) -> String {
    match total.n_unknown {
        0 => money(total.known, job),
        n_unknown => format!("{}, {n_unknown} without a price", money(total.known, job)),
    }
}

fn money(amount: f64, job: &Job) -> String {
    let currency = job.foam.prices.currency.as_deref().unwrap_or_default();
    format!("{currency}{amount:.2}")
}

fn percent(share: f64) -> f64 {
    round_to(share * 100.0, 10.0)
}

fn said(finding: &Finding, speech: Speech) -> String {
    let severity = wording::severity(finding.problem.severity()).of(speech.language);
    format!("{severity}: {}", wording::line(finding, speech))
}
