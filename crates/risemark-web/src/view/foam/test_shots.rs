//! Test shots: what was sprayed, how far it rose, and the flow that follows.

use std::sync::Arc;

use leptos::{ev, prelude::*};
use risemark::{
    compartments::{Compartment, State},
    finding::CompartmentId,
    foam::bay_at,
    job::{FoamSettings, ShotSpace, TestShot, Wall},
    limits::{self, Bounds},
    plan::WallPlan,
    quantity::{Length, Units, inches},
};
use risemark_sheets::Picture;

use super::{new_shot::new_shot, plots, settings, spaces};
use crate::{
    part::Part,
    poured::Poured,
    session::Session,
    view::{
        elevation::{number_at, with_chosen},
        field::{choice, chosen_of, length, number, refused, temperature, whole},
    },
    words,
};

/// What may be noted of a shot; nothing is assumed of it.
static NOZZLE: Bounds = Bounds { default: f64::NEG_INFINITY, ..limits::NOZZLE };
static CELSIUS: Bounds = Bounds { default: f64::NEG_INFINITY, ..limits::COMPONENTS };
static DEGREES_FAHRENHEIT: Bounds =
    Bounds { default: f64::NEG_INFINITY, ..limits::COMPONENTS_FAHRENHEIT };

/// The table of test shots, what comes of them, and how sure ranges are.
pub fn test_shots(session: Session, poured: Memo<Arc<Poured>>) -> AnyView {
    let settings = settings(session);
    let list =
        settings.part(|foam| Some(foam.test_shots.clone()), |foam, shots| foam.test_shots = shots);
    let counted = list.clone();
    let n_shots = Memo::new(move |_| counted.get().map_or(0, |shots| shots.len()));
    let rows = list.clone();
    let scatter = settings.part(|foam| Some(foam.scatter), |foam, scatter| foam.scatter = scatter);
    let confidence = settings
        .part(|foam: &FoamSettings| Some(foam.confidence), |foam, value| foam.confidence = value);
    let plot = move || {
        poured.with(|poured| {
            let pour = &poured.pour.product;
            (!pour.flow.shots.is_empty()).then(|| {
                let (width, height) = plots::SIZE;
                let content = plots::flow(&pour.flow, pour.rules.confidence, session.units.get());
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
            {new_shot(session, list)}
            {plot}
            {move || poured.with(|poured| statistics(poured, session.units.get()))}
            <div class="fields">
                {choice((words::SCATTER.text(), "scatter"), words::SCATTERS, scatter)}
                {number((words::CONFIDENCE.text(), "confidence"), &limits::CONFIDENCE, confidence, " %")}
            </div>
        </section>
    }
    .into_any()
}

/// The clear size of the usual bay.
pub(super) fn usual_box() -> ShotSpace {
    ShotSpace::Box { width: inches(14.5), depth: inches(3.5) }
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
    let space = part.part(|shot| Some(shot.space.clone()), |shot, space| shot.space = space);
    let nozzle = part.optional(|shot| shot.nozzle, |shot, nozzle| shot.nozzle = nozzle);
    let degrees = given(|shot| Some(shot.temperature), |shot, value| shot.temperature = value);
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
            <h4>{words::test_shot(idx + 1)}</h4>
            <div class="fields">
                {number((words::SECONDS.text(), "seconds"), &limits::SPRAYED, seconds, " s")}
                {number((words::WAITED.text(), "waited"), &limits::WAITED, waited, " s")}
                {length((words::RISE.text(), "rise"), &limits::RISE, rise)}
                {space_of(session, space)}
                {whole((words::NOZZLE_NUMBER.text(), "nozzle"), &NOZZLE, nozzle)}
                {temperature((words::TEMPERATURE.text(), "temperature"), [&CELSIUS, &DEGREES_FAHRENHEIT], degrees)}
            </div>
            <button type="button" class="remove" aria-label=words::remove_test_shot(idx + 1) on:click=remove>
                {words::REMOVE.text()}
            </button>
            <p class="message" role="alert">{message}</p>
        </li>
    }
    .into_any()
}

/// What a shot was sprayed into: a box of any size, or a bay of a wall.
pub(super) fn space_of(session: Session, space: Part<ShotSpace>) -> AnyView {
    let walls = Memo::new(move |_| {
        let named = |wall: &Wall| (wall.id.clone(), wall.name.clone());
        session.job(|job| job.walls.iter().map(named).collect::<Vec<_>>())
    });
    let options = Signal::derive(move || {
        let bays = walls.get().into_iter().map(|(_, name)| words::bay_of(&name));
        std::iter::once(words::A_BOX.text().to_owned()).chain(bays).collect()
    });
    let (reading, writing, kind) = (space.clone(), space.clone(), space.clone());
    let which = Part::new(
        move || match reading.get()? {
            ShotSpace::Box { .. } => Some(0),
            ShotSpace::Bay { wall, .. } => {
                walls.with(|walls| Some(1 + walls.iter().position(|(id, _)| *id == wall)?))
            }
        },
        move |idx: usize| {
            let wall =
                idx.checked_sub(1).and_then(|at| Some(walls.get_untracked().get(at)?.0.clone()));
            let now = untrack(|| writing.get());
            writing.set(wall.map_or_else(|| as_box(session, now), |id| first_bay(session, id)))
        },
    );
    let is_bay = Memo::new(move |_| matches!(kind.get(), Some(ShotSpace::Bay { .. })));
    let sizes = move || if is_bay.get() { bay(session, space.clone()) } else { sizes(&space) };
    view! {
        <div class="stacked">{chosen_of((words::SPRAYED_INTO.text(), "space"), options, which)}</div>
        {sizes}
    }
    .into_any()
}

/// The box of a shot, at first as large as its bay.
fn as_box(session: Session, space: Option<ShotSpace>) -> ShotSpace {
    let Some(ShotSpace::Bay { wall, at }) = space else { return usual_box() };
    let planned = untrack(|| session.planned_wall(&wall));
    let bay = planned.as_ref().and_then(|planned| bay_at(planned.plan(), at));
    bay.map_or_else(usual_box, |bay| ShotSpace::Box { width: bay.clear_width, depth: bay.depth })
}

fn first_bay(session: Session, wall: String) -> ShotSpace {
    let planned = untrack(|| session.planned_wall(&wall));
    let first = planned.and_then(|planned| Some(middle(bays(planned.plan()).next()?)));
    ShotSpace::Bay { wall, at: first.unwrap_or(inches(1.0)) }
}

/// The bays that a shot can be sprayed into from the bottom.
fn bays(plan: &WallPlan) -> impl Iterator<Item = &Compartment> {
    let is_hit = |bay: &&Compartment| {
        bay.state == State::Fillable
            && bay_at(plan, middle(bay)).is_some_and(|lowest| lowest.id == bay.id)
    };
    plan.compartments.iter().filter(is_hit)
}

fn middle(bay: &Compartment) -> Length {
    bay.polygon.bounds().x.middle()
}

fn sizes(space: &Part<ShotSpace>) -> AnyView {
    let width = space.part(
        |space| match space {
            ShotSpace::Box { width, .. } => Some(*width),
            ShotSpace::Bay { .. } => None,
        },
        |space, value| {
            if let ShotSpace::Box { width, .. } = space {
                *width = value;
            }
        },
    );
    let depth = space.part(
        |space| match space {
            ShotSpace::Box { depth, .. } => Some(*depth),
            ShotSpace::Bay { .. } => None,
        },
        |space, value| {
            if let ShotSpace::Box { depth, .. } = space {
                *depth = value;
            }
        },
    );
    view! {
        {length((words::BOX_WIDTH.text(), "width"), &limits::EXTENT, width)}
        {length((words::BOX_DEPTH.text(), "depth"), &limits::EXTENT, depth)}
    }
    .into_any()
}

/// The bay of a shot, from a list of those of its wall or touched on its picture.
fn bay(session: Session, space: Part<ShotSpace>) -> AnyView {
    let picture = picture(session, space.clone());
    let reading = space.clone();
    // Places with their words, and the position of the chosen one.
    let list = Memo::new(move |_| {
        let Some(ShotSpace::Bay { wall, at }) = reading.get() else { return (Vec::new(), 0) };
        let planned = session.planned_wall(&wall);
        let plan = planned.as_ref().map(|planned| &**planned.plan());
        let units = session.units.get();
        let mut list = Vec::new();
        let here = plan.and_then(|plan| bay_at(plan, at)).map(|bay| bay.id);
        let mut chosen = None;
        for bay in plan.into_iter().flat_map(bays) {
            chosen = chosen.or((here == Some(bay.id)).then_some(list.len()));
            list.push((middle(bay), words::bay_to_spray(bay, units)));
        }
        // What the job names is shown even where there is no such bay any more.
        let chosen = chosen.unwrap_or(list.len());
        if chosen == list.len() {
            list.push((at, words::no_bay_at(at, units)));
        }
        (list, chosen)
    });
    let options = Signal::derive(move || {
        list.with(|(list, _)| list.iter().map(|(_, words)| words.clone()).collect())
    });
    let which = Part::new(
        move || Some(list.with(|(_, chosen)| *chosen)),
        move |idx: usize| {
            let to = list.with_untracked(|(list, _)| Some(list.get(idx)?.0));
            match (space.get(), to) {
                (Some(ShotSpace::Bay { wall, .. }), Some(at)) => {
                    space.set(ShotSpace::Bay { wall, at })
                }
                _ => Ok(()),
            }
        },
    );
    let choice = chosen_of((words::THE_BAY.text(), "bay"), options, which);
    view! {
        <div class="stacked">{choice}</div>
        {picture}
    }
    .into_any()
}

/// The wall of a shot, to touch the bay that it was sprayed into.
fn picture(session: Session, space: Part<ShotSpace>) -> AnyView {
    let reading = space.clone();
    let shot_at = move || match reading.get()? {
        ShotSpace::Bay { wall, at } => Some((session.planned_wall(&wall)?, at)),
        ShotSpace::Box { .. } => None,
    };
    let shot_at = Memo::new(move |_| shot_at());
    let pick = move |event: ev::MouseEvent| {
        let Some((planned, _)) = shot_at.get_untracked() else { return };
        let plan = planned.plan();
        let touched = number_at(&event, "data-compartment");
        let touched = touched.and_then(|number| plan.compartment(CompartmentId(number)));
        // Foam that is sprayed in from the bottom rises in the lowest space there.
        let bay = touched.and_then(|touched| bay_at(plan, middle(touched)));
        if let Some(bay) = bay.filter(|bay| bay.state == State::Fillable) {
            let (wall, at) = (planned.wall.id.clone(), middle(bay));
            // A place in a bay of the wall is always a good one.
            drop(space.set(ShotSpace::Bay { wall, at }));
        }
    };
    let drawn = move || {
        let (planned, at) = shot_at.get()?;
        let Picture { svg, .. } = spaces(planned.plan(), session.units.get());
        let bay = bay_at(planned.plan(), at);
        Some(match bay {
            Some(bay) => with_chosen(&svg, bay.id),
            None => svg,
        })
    };
    view! {
        <p class="quiet">{words::TOUCH_THE_BAY.text()}</p>
        <div class="threaded" tabindex="0" role="region" aria-label=words::THE_BAY.text()>
            <div class="picture bays" on:click=pick inner_html=move || drawn().unwrap_or_default()></div>
        </div>
    }
    .into_any()
}

fn statistics(poured: &Poured, units: Units) -> AnyView {
    let flow = &poured.pour.product.flow;
    let Some(fit) = flow.fit() else { return ().into_any() };
    let rows = [
        (words::FLOW.text(), words::exact_flow(fit.rate, units)),
        (words::STANDARD_ERROR.text(), words::exact_flow(fit.standard_error, units)),
        (words::SPREAD.text(), words::exact_amount(fit.spread, units)),
        (words::R_SQUARED.text(), format!("{:.5}", fit.r_squared)),
    ];
    let rows =
        rows.into_iter().map(|(name, value)| view! { <div><dt>{name}</dt><dd>{value}</dd></div> });
    view! { <dl class="totals" id="flow-figures">{rows.collect_view()}</dl> }.into_any()
}

#[cfg(test)]
mod tests {
    use risemark::quantity::to_liters;

    use super::*;

    #[test]
    fn an_inch_in_the_usual_bay_is_a_second_by_common_practice() {
        let ShotSpace::Box { width, depth } = usual_box() else { panic!("a box") };
        let litres = to_liters(width * depth * inches(1.0));
        // 50.75 cubic inches a second: common practice, no source.
        assert!((litres - 50.75 * 0.016_387_064).abs() < 1e-9, "{litres}");
    }
}
