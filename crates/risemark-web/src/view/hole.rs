//! The hole that is chosen, in the margin.

use leptos::prelude::*;
use risemark::{
    drilling::{Hole, HoleState},
    job::{OwnState, RowsFrom, Wall},
    plan::WallPlan,
    quantity::Units,
    wording,
};

use super::{changeable::changeable, field::refused, reveal::focus_next};
use crate::{
    command::WallChange,
    edit::holes,
    session::Session,
    words::{self, Word},
};

/// What somebody can say about a hole.
type Act = fn(&Wall, &WallPlan, usize) -> Option<WallChange>;

/// The readings of a hole, why it is there, and what can be said about it.
pub fn hole(session: Session, plan: &WallPlan, hole: &Hole, units: Units) -> AnyView {
    let why = wording::why(hole, words::speech(units)).join(" ");
    let reading = plan.drill.reading(hole.up);
    let up = match plan.drill.rows_from {
        RowsFrom::Floor => words::up(reading, units),
        RowsFrom::Ceiling => words::down(reading, units),
    };
    view! {
        <section class="chosen-hole" id="hole" aria-labelledby="hole-title">
            <h2 id="hole-title" tabindex="-1">{words::hole_title(hole.mark)}</h2>
            <p class="reading" id="hole-across">{words::across(hole.across, units)}</p>
            <p class="reading" id="hole-up">{up}</p>
            {acts(session, &plan.wall.id, hole)}
            <h3>{words::FILLS.text()}</h3>
            <p>{words::fills(hole, units)}</p>
            <h3>{words::WHY_HERE.text()}</h3>
            <p id="hole-why">{why}</p>
            <h3>{words::MAY_MOVE.text()}</h3>
            <p id="hole-may-move">{wording::may_move(hole, words::speech(units))}</p>
            <p class="quiet">{words::bit_travel(hole, units)}</p>
        </section>
    }
    .into_any()
}

fn acts(session: Session, id: &str, hole: &Hole) -> AnyView {
    let keep: (Word, Act) =
        (words::KEEP_HERE, |wall, plan, mark| holes::stated(wall, plan, mark, OwnState::Set));
    let leave_out: (Word, Act) =
        (words::LEAVE_OUT, |wall, plan, mark| holes::stated(wall, plan, mark, OwnState::LeftOut));
    let drilled: (Word, Act) =
        (words::IS_DRILLED, |wall, plan, mark| holes::stated(wall, plan, mark, OwnState::Drilled));
    let patched: (Word, Act) =
        (words::IS_PATCHED, |wall, plan, mark| holes::stated(wall, plan, mark, OwnState::Patched));
    let give_back: (Word, Act) = (words::GIVE_BACK, holes::given_back);
    let offered: &[(Word, Act)] = match hole.state {
        HoleState::Planned => &[keep, leave_out, drilled],
        HoleState::Own(_, OwnState::Drilled) => &[patched, give_back],
        HoleState::Own(_, OwnState::Patched | OwnState::LeftOut) => &[give_back],
        HoleState::Own(_, OwnState::Set | OwnState::Marked) => &[drilled, leave_out, give_back],
    };
    let message = RwSignal::new(String::new());
    let mark = hole.mark;
    let buttons = offered.iter().map(|&(word, act)| {
        let id = id.to_owned();
        let run = move |_| {
            let planned = untrack(|| session.planned_wall(&id));
            let change = planned.and_then(|planned| act(&planned.wall, planned.plan(), mark));
            let done = change.map_or(Ok(()), |change| session.change_wall(&id, change));
            let refused = refused(done, session).err();
            if refused.is_none() {
                focus_next(vec!["#hole-title".to_owned()]);
            }
            message.set(refused.unwrap_or_default());
        };
        view! { <button type="button" data-act=word.id() on:click=run>{word.text()}</button> }
    });
    view! {
        <p class="acts">{changeable(session, buttons.collect_view())}</p>
        <p class="message" role="alert">{message}</p>
    }
    .into_any()
}
