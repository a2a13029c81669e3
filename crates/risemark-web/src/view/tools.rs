//! What can be done to the drawing, as buttons: adding, showing, enlarging, and what becomes of the picked.

use leptos::prelude::*;
use risemark_sheets::Layer;

use super::{
    board::{Board, ZOOM_STEP},
    changeable::changeable,
};
use crate::{
    edit::{Entry, add::Kind},
    words::{self, Word},
};

/// The buttons over the drawing.
pub fn tools(board: Board) -> AnyView {
    let is_brick = board.is_brick();
    let kinds = move || {
        let fit = words::KINDS.iter().filter(|(kind, _)| !is_brick.get() || kind.is_in_brick());
        fit.map(|(kind, word)| kind_button(board, *kind, *word)).collect_view()
    };
    let layers = words::LAYERS.iter().map(|(layer, word)| layer_box(board, *layer, *word));
    view! {
        <div class="tools" id="tools">
            <div class="bar-of-kinds" role="group" aria-labelledby="add-label">
                <span id="add-label" class="quiet">{words::ADD.text()}</span>
                {changeable(board.session, kinds)}
            </div>
            <div class="row">
                <button type="button" id="several" aria-pressed=move || board.several.get().to_string()
                    on:click=move |_| board.several.update(|several| *several = !*several)>{words::SEVERAL.text()}</button>
                <details class="menu">
                    <summary>{words::SHOW.text()}</summary>
                    <div class="choices">{layers.collect_view()}</div>
                </details>
                <span class="group-of" role="group" aria-label=words::SIZE_OF_DRAWING.text()>
                    {button("zoom-out", "−", words::SMALLER.text(), move || board.zoom(1.0 / ZOOM_STEP, None))}
                    {button("zoom-in", "+", words::LARGER.text(), move || board.zoom(ZOOM_STEP, None))}
                    {button("zoom-fit", words::FIT.text(), words::FIT_HINT.text(), move || board.fit())}
                </span>
                <details class="menu" id="keys">
                    <summary>{words::KEYS.text()}</summary>
                    <p class="choices" id="drawing-keys">{words::KEYS_HINT.text()}</p>
                </details>
                <span class="for-picked">{changeable(board.session, for_picked(board))}</span>
            </div>
        </div>
    }
    .into_any()
}

fn for_picked(board: Board) -> AnyView {
    let picked = Memo::new(move |_| {
        let picked = board.picked();
        let is_edge = |entry: &Entry| matches!(entry, Entry::Top | Entry::Bottom);
        (picked.len(), picked.iter().filter(|entry| is_edge(entry)).count())
    });
    let buttons = move || {
        let (n_picked, n_edges) = picked.get();
        (0 < n_picked).then(|| {
            // A wall has its edges, and each once.
            let double = (n_edges == 0).then(|| {
                button("duplicate", words::DUPLICATE.text(), words::DUPLICATE.text(), move || {
                    board.double();
                })
            });
            let measure = (n_picked == 1).then(|| {
                button(
                    "measure",
                    words::MEASUREMENTS.text(),
                    words::MEASUREMENTS.text(),
                    move || board.open_form(),
                )
            });
            let remove = (n_edges < n_picked).then(|| {
                button("remove-picked", words::REMOVE.text(), words::REMOVE.text(), move || {
                    board.remove();
                })
            });
            view! {
                <span class="group-of" role="group" aria-label=words::PICKED.text() id="picked">
                    {double} {measure} {remove}
                </span>
            }
        })
    };
    view! { {buttons} }.into_any()
}

fn button(
    id: &'static str,
    sign: &'static str,
    label: &'static str,
    act: impl Fn() + 'static,
) -> AnyView {
    view! { <button type="button" id=id aria-label=label on:click=move |_| act()>{sign}</button> }
        .into_any()
}

fn kind_button(board: Board, kind: Kind, word: Word) -> AnyView {
    let is_chosen = move || board.adding.get() == Some(kind);
    let choose = move |_| {
        let chosen = untrack(is_chosen);
        board.adding.set((!chosen).then_some(kind));
        if let Some(holder) = board.holder.get_untracked().filter(|_| !chosen) {
            // The next key or touch belongs to the drawing; without the focus a touch still adds.
            let _focused = holder.focus();
            board.session.say(words::WHERE_TO_ADD.text().to_owned());
        }
    };
    view! {
        <button type="button" data-kind=word.id() aria-pressed=move || is_chosen().to_string() on:click=choose>{word.text()}</button>
    }
    .into_any()
}

fn layer_box(board: Board, layer: Layer, word: Word) -> AnyView {
    let is_shown = move || board.layers.with(|layers| layers.contains(&layer));
    let turn = move |_| {
        board.layers.update(|layers| {
            let n_shown = layers.len();
            layers.retain(|shown| *shown != layer);
            if layers.len() == n_shown {
                layers.push(layer);
            }
        });
    };
    view! {
        <label><input type="checkbox" name=word.id() prop:checked=is_shown on:change=turn/>{word.text()}</label>
    }
    .into_any()
}
