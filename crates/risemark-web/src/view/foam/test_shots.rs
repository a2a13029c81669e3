//! Test shots: what was sprayed, how far it rose, and the flow that follows.

use std::sync::Arc;

use leptos::prelude::*;
use risemark::{
    job::{FoamSettings, ShotSpace, TestShot},
    limits,
    quantity::{inches, to_liters, to_liters_per_second},
};

use super::{Poured, plots, settings};
use crate::{
    part::Part,
    session::Session,
    view::field::{choice, length, number, refused},
    words,
};

/// The table of test shots, what comes of them, and how sure ranges are.
pub fn test_shots(session: Session, poured: Memo<Arc<Poured>>) -> AnyView {
    let settings = settings(session);
    let message = RwSignal::new(String::new());
    let list =
        settings.part(|foam| Some(foam.test_shots.clone()), |foam, shots| foam.test_shots = shots);
    let counted = list.clone();
    let n_shots = Memo::new(move |_| counted.get().map_or(0, |shots| shots.len()));
    let adding = list.clone();
    let add = move |_| {
        let mut shots = adding.get().unwrap_or_default();
        let next = shots.last().cloned().unwrap_or_else(usual);
        shots.push(next);
        message.set(refused(adding.set(shots), session).err().unwrap_or_default());
    };
    let rows = list.clone();
    let scatter = settings.part(|foam| Some(foam.scatter), |foam, scatter| foam.scatter = scatter);
    let confidence = settings
        .part(|foam: &FoamSettings| Some(foam.confidence), |foam, value| foam.confidence = value);
    let plot = move || {
        poured.with(|poured| {
            let pour = &poured.pour.product;
            (!pour.flow.shots.is_empty()).then(|| {
                let (width, height) = plots::SIZE;
                let content = plots::flow(&pour.flow, pour.rules.confidence);
                view! {
                    <svg class="plot" role="img" aria-label=words::FLOW_PLOT.text() width=width height=height inner_html=content></svg>
                }
            })
        })
    };
    view! {
        <section id="test-shots" aria-labelledby="test-shots-title">
            <h2 id="test-shots-title">{words::TEST_SHOTS.text()}</h2>
            <p class="quiet">{words::TEST_SHOTS_HINT.text()}</p>
            <ol class="entries">
                <For each=move || 0..n_shots.get() key=|idx| *idx let:idx>
                    {shot(session, &rows, idx)}
                </For>
            </ol>
            <button type="button" class="add" id="add-test-shot" on:click=add>{words::ADD_TEST_SHOT.text()}</button>
            <p class="message" role="alert">{message}</p>
            {plot}
            {move || poured.with(|poured| statistics(poured))}
            <div class="fields">
                {choice((words::SCATTER.text(), "scatter"), words::SCATTERS, scatter)}
                {number((words::CONFIDENCE.text(), "confidence"), &limits::CONFIDENCE, confidence, " %")}
            </div>
        </section>
    }
    .into_any()
}

/// Half a minute in the usual bay; an inch a second is common practice.
fn usual() -> TestShot {
    TestShot {
        seconds: 30.0,
        waited: Some(90.0),
        rise: inches(30.0),
        space: ShotSpace::Box { width: inches(14.5), depth: inches(3.5) },
        nozzle: None,
        temperature: None,
    }
}

fn shot(session: Session, list: &Part<Vec<TestShot>>, idx: usize) -> AnyView {
    let part = list.entry(idx);
    let given = |read: fn(&TestShot) -> Option<Option<f64>>,
                 put: fn(&mut TestShot, Option<f64>)| part.part(read, put);
    let seconds = given(
        |shot| Some(Some(shot.seconds)),
        |shot, value| {
            if let Some(value) = value {
                shot.seconds = value;
            }
        },
    );
    let waited = given(|shot| Some(shot.waited), |shot, value| shot.waited = value);
    let rise = part.part(|shot| Some(shot.rise), |shot, rise| shot.rise = rise);
    let width = part.part(
        |shot| match shot.space {
            ShotSpace::Box { width, .. } => Some(width),
            ShotSpace::Bay { .. } => None,
        },
        |shot, value| {
            if let ShotSpace::Box { width, .. } = &mut shot.space {
                *width = value;
            }
        },
    );
    let depth = part.part(
        |shot| match shot.space {
            ShotSpace::Box { depth, .. } => Some(depth),
            ShotSpace::Bay { .. } => None,
        },
        |shot, value| {
            if let ShotSpace::Box { depth, .. } = &mut shot.space {
                *depth = value;
            }
        },
    );
    let removing = list.clone();
    let message = RwSignal::new(String::new());
    let remove = move |_| {
        let Some(mut shots) = removing.get() else { return };
        if idx < shots.len() {
            shots.remove(idx);
            message.set(refused(removing.set(shots), session).err().unwrap_or_default());
        }
    };
    view! {
        <li id=format!("test-shot-{}", idx + 1)>
            <div class="fields">
                {number((words::SECONDS.text(), "seconds"), &limits::SPRAYED, seconds, " s")}
                {number((words::WAITED.text(), "waited"), &limits::WAITED, waited, " s")}
                {length((words::RISE.text(), "rise"), &limits::RISE, rise)}
                {length((words::BAY_WIDTH.text(), "width"), &limits::EXTENT, width)}
                {length((words::CAVITY_DEPTH.text(), "depth"), &limits::EXTENT, depth)}
            </div>
            <button type="button" class="remove" aria-label=words::remove_test_shot(idx + 1) on:click=remove>
                {words::REMOVE.text()}
            </button>
            <p class="message" role="alert">{message}</p>
        </li>
    }
    .into_any()
}

fn statistics(poured: &Poured) -> AnyView {
    let flow = &poured.pour.product.flow;
    let Some(fit) = flow.fit() else { return ().into_any() };
    let rows = [
        (words::FLOW.text(), format!("{:.4} L/s", to_liters_per_second(fit.rate))),
        (
            words::STANDARD_ERROR.text(),
            format!("{:.4} L/s", to_liters_per_second(fit.standard_error)),
        ),
        (words::SPREAD.text(), format!("{:.3} L", to_liters(fit.spread))),
        (words::R_SQUARED.text(), format!("{:.5}", fit.r_squared)),
    ];
    let rows =
        rows.into_iter().map(|(name, value)| view! { <div><dt>{name}</dt><dd>{value}</dd></div> });
    view! { <dl class="totals" id="flow-figures">{rows.collect_view()}</dl> }.into_any()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_test_shot_is_the_common_practice() {
        let shot = usual();
        let ShotSpace::Box { width, depth } = shot.space else { panic!("a box") };
        let litres = to_liters(width * depth * shot.rise);
        // 50.75 cubic inches a second for half a minute: common practice, no source.
        assert!((litres / 30.0 - 50.75 * 0.016_387_064).abs() < 1e-9, "{litres}");
    }
}
