//! The line that says whether what was done is kept, and where.

use leptos::{html, prelude::*};

use crate::{
    files,
    session::Session,
    store::{Fault, Record, keeper::Status, shelf::Shelf},
    words,
};

/// The line, with what can be done where something is wrong.
pub fn kept(session: Session) -> AnyView {
    let keeper = session.keeper;
    let problem = move || !matches!(keeper.status(), Status::Kept | Status::Keeping);
    let text = move || words::status(keeper.status(), keeper.is_lasting() == Some(true));
    let line: NodeRef<html::P> = NodeRef::new();
    // Said at once, whatever else waits to be drawn: a step that is done is not kept yet.
    ImmediateEffect::new_scoped(move || {
        line.get().iter().for_each(|line| line.set_text_content(Some(text())));
    });
    let again = move || {
        let retry = matches!(keeper.status(), Status::NotKept(Fault::Full | Fault::Failed));
        retry.then(|| {
            view! {
                <button type="button" id="keep-again" on:click=move |_| keeper.keep()>{words::TRY_AGAIN.text()}</button>
            }
        })
    };
    let keep_copy = move || {
        keeper.can_keep_shared().then(|| {
            view! {
                <button type="button" id="keep-copy" on:click=move |_| keeper.keep_shared()>{words::KEEP_COPY.text()}</button>
            }
        })
    };
    let damaged = Memo::new(move |_| keeper.shelf(|shelf| shelf.damaged().len()));
    let newer = Memo::new(move |_| keeper.shelf(|shelf| shelf.newer().len()));
    let gaps = Memo::new(move |_| keeper.shelf(Shelf::gaps));
    let clear = move |_| keeper.clear_damaged();
    view! {
        <div class="kept screen-only" class:problem=problem>
            <p id="kept" node_ref=line></p>
            <div class="actions">{again}{keep_copy}</div>
        </div>
        // Read out, since it is news only where something is wrong.
        <p class="said" role="alert">{move || problem().then(text)}</p>
        {move || (0 < newer.get()).then(|| view! {
            <div class="kept problem screen-only" id="newer" role="alert">
                <p>{words::NEWER.text()}</p>
                <div class="actions">{save_records(session, "save-newer", "newer-jobs.txt", Shelf::newer)}</div>
            </div>
        })}
        {move || (damaged.get() < gaps.get()).then(|| view! {
            <p class="kept problem screen-only" id="gap" role="alert">{words::GAP.text()}</p>
        })}
        {move || (0 < damaged.get()).then(|| view! {
            <div class="kept problem screen-only" id="damaged" role="alert">
                <p>{words::DAMAGED.text()}</p>
                <div class="actions">
                    {save_records(session, "save-damaged", "damaged-records.txt", Shelf::damaged)}
                    <button type="button" id="clear-damaged" disabled=move || keeper.is_read_only()
                        on:click=clear>{words::CLEAR_DAMAGED.text()}</button>
                </div>
            </div>
        })}
    }
    .into_any()
}

fn save_records(
    session: Session,
    id: &'static str,
    file: &'static str,
    records: fn(&Shelf) -> &[Record],
) -> impl IntoView {
    let save = move |_| {
        let text = session.keeper.shelf(|shelf| {
            let texts =
                records(shelf).iter().map(|Record { key, text }| format!("{key}\n{text}\n"));
            texts.collect::<String>()
        });
        // A browser that shows this page can save a file.
        let _saved = files::save(file, "text/plain", &text);
    };
    view! { <button type="button" id=id on:click=save>{words::SAVE_RECORDS.text()}</button> }
}
