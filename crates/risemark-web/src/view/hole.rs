//! The hole that is chosen, in the margin.

use leptos::prelude::*;
use risemark::{drilling::Hole, quantity::Units, wording};

use crate::words;

/// The readings of a hole and why it is there.
pub fn hole(hole: &Hole, units: Units) -> AnyView {
    let why = wording::why(hole, words::speech(units)).join(" ");
    view! {
        <section class="chosen-hole" id="hole" aria-labelledby="hole-title">
            <h2 id="hole-title">{words::hole_title(hole.mark)}</h2>
            <p class="reading" id="hole-across">{words::across(hole.across, units)}</p>
            <p class="reading" id="hole-up">{words::up(hole.up, units)}</p>
            <h3>{words::FILLS.text()}</h3>
            <p>{words::fills(hole, units)}</p>
            <h3>{words::WHY_HERE.text()}</h3>
            <p id="hole-why">{why}</p>
            <h3>{words::MAY_MOVE.text()}</h3>
            <p>{wording::may_move(hole, words::speech(units))}</p>
            <p class="quiet">{words::bit_travel(hole, units)}</p>
        </section>
    }
    .into_any()
}
