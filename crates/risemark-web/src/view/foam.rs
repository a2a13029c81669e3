//! The place for foam: how much, what to buy, seconds from test shots, and the order of shots.

pub mod buying;
mod new_shot;
pub mod order;
pub mod plots;
pub mod test_shots;
pub mod wishes;

use leptos::prelude::*;
use risemark::{
    foam::FlowBasis, job::FoamSettings, limits::Bounds, plan::WallPlan, quantity::Units,
    wording::foam as said,
};
use risemark_sheets::{Fit, Layer, Picture, View, screen};

use super::{changeable::changeable, field::number, findings, later::later};
use crate::{
    command::Command,
    part::Part,
    poured::{Poured, poured_here},
    session::Session,
    words::{self, Word},
};

/// The page.
pub fn page(session: Session) -> AnyView {
    let poured = poured_here();
    view! {
        <main id="content" class="with-panel" tabindex="-1">
            <div class="title">
                <h1>{words::FOAM.text()}</h1>
                {move || poured.with(|poured| summary(session, poured))}
            </div>
            <section class="beside" aria-labelledby="order-title">
                {move || poured.with(|poured| walls(session, poured))}
                {move || poured.with(|poured| {
                    let said = &poured.pour.findings;
                    (!said.is_empty()).then(|| findings::plain(session, said))
                })}
                <h2 id="order-title">{words::ORDER.text()}</h2>
                {order::order(session, poured)}
            </section>
            <section class="panel" aria-label=words::PANEL.text()>
                {changeable(session, test_shots::test_shots(session, poured))}
                {later(move || changeable(session, buying::buying(session, poured)))}
            </section>
        </main>
    }
    .into_any()
}

/// One figure of some settings: its label and name, its bounds, its unit, and how it is read and set.
type Figure<S> = (
    (Word, &'static str),
    &'static Bounds,
    &'static str,
    fn(&S) -> Option<f64>,
    fn(&mut S, Option<f64>),
);

/// The fields of figures that may be left out.
fn figures<S: Send + Sync + 'static>(settings: &Part<S>, figures: &[Figure<S>]) -> AnyView {
    let fields = figures.iter().map(|((word, name), bounds, unit, get, put)| {
        number((word.text(), *name), bounds, settings.optional(*get, *put), unit)
    });
    fields.collect_view().into_any()
}

/// The foam settings of the job as a part.
fn settings(session: Session) -> Part<FoamSettings> {
    Part::of_job(session, |job| job.foam.clone(), |foam| Command::Foam(Box::new(foam)))
}

/// Pixels a millimetre of wall: a bay is as wide as a finger, and numbers of three figures in
/// neighbouring bays stand apart.
const SCALE: f64 = 0.14;

/// A wall with its spaces and nothing that is marked on it.
fn spaces(plan: &WallPlan, units: Units) -> Picture {
    let layers = vec![Layer::Framing, Layer::Compartments];
    let fit = Fit::Scale(SCALE);
    screen(plan, units, &View { fit, layers, language: words::language(), ..View::wide(0.0) })
}

fn summary(session: Session, poured: &Poured) -> AnyView {
    let speech = words::speech(session.units.get());
    let pour = &poured.pour.product;
    let flow = said::flow(pour.flow.rate, speech);
    let basis = match &pour.flow.basis {
        FlowBasis::Assumed => words::FLOW_OF_PRACTICE.text(),
        FlowBasis::OneShot => words::FLOW_OF_ONE_SHOT.text(),
        FlowBasis::Fitted(_) => words::FLOW_OF_SHOTS.text(),
    };
    view! {
        <p class="quiet" id="foam-summary">
            {words::foam_summary(&said::volume(pour.volume, speech), &said::volume(pour.buying.with_waste, speech), pour.time)}
        </p>
        <p class="quiet" id="flow">{flow}" · "{basis}</p>
        <p class="caution">{words::FOAM_CAUTION.text()}</p>
    }
    .into_any()
}

fn walls(session: Session, poured: &Poured) -> AnyView {
    if poured.plan.walls.is_empty() {
        return view! { <p class="quiet">{words::NO_WALLS_TO_FILL.text()}</p> }.into_any();
    }
    let speech = words::speech(session.units.get());
    let rows = poured.plan.walls.iter().zip(&poured.pour.product.walls).map(|(wall, pour)| {
        view! {
            <tr>
                <th scope="row">{wall.wall.name.clone()}</th>
                <td>{wall.drill.holes.len()}</td>
                <td>{said::volume(pour.volume, speech)}</td>
                <td>{said::seconds(pour.time)}</td>
            </tr>
        }
    });
    view! {
        <table id="foam-walls">
            <thead>
                <tr>
                    <th scope="col">{words::WALL.text()}</th>
                    <th scope="col">{words::HOLES.text()}</th>
                    <th scope="col">{words::TO_FILL.text()}</th>
                    <th scope="col">{words::SPRAYING.text()}</th>
                </tr>
            </thead>
            <tbody>{rows.collect_view()}</tbody>
        </table>
    }
    .into_any()
}
