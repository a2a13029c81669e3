//! The jobs that are kept on this device, and files that become jobs.

use leptos::{ev, prelude::*, task::spawn_local};
use risemark::file;
use web_sys::{DataTransfer, File};

use super::reveal::show_field_of_job;
use crate::{files, route::Route, session::Session, store::keeper::Keeper, words};

/// The list of jobs, and of those that were removed from it.
pub fn jobs(session: Session) -> AnyView {
    let keeper = session.keeper;
    let listed = Memo::new(move |_| keeper.shelf(|shelf| shelf.jobs(false)));
    let removed = Memo::new(move |_| keeper.shelf(|shelf| shelf.jobs(true)));
    let bring_back = move |(id, name): (u32, String)| {
        view! {
            <li>
                <span class="name">{name.clone()}</span>
                <div class="actions">{action(keeper, (id, Signal::stored(name.clone())), words::BRING_BACK.text(), Keeper::bring_back)}</div>
            </li>
        }
    };
    view! {
        <details class="group" id="jobs">
            <summary>{words::JOBS_HERE.text()}{move || format!(" · {}", listed.read().len())}</summary>
            <ul class="jobs">{move || listed.get().into_iter().map(|job| row(session, job)).collect_view()}</ul>
            {move || (!removed.read().is_empty()).then(|| view! {
                <h2>{words::REMOVED_JOBS.text()}</h2>
                <ul class="jobs" id="removed-jobs">{removed.get().into_iter().map(bring_back).collect_view()}</ul>
                <button type="button" id="clear-removed" disabled=move || keeper.is_read_only()
                    on:click=move |_| keeper.clear_removed()>{words::CLEAR_REMOVED.text()}</button>
            })}
        </details>
    }
    .into_any()
}

/// Reads a file and takes its job beside the others.
pub fn add_file(session: Session, file: File) {
    spawn_local(async move {
        let text = files::text(&file).await.unwrap_or_default();
        match file::read(&text) {
            Ok(job) => session.add_read(job, text.len()),
            Err(findings) => session.refuse_file(findings),
        }
    });
}

/// A job file that is dropped anywhere on the page is opened.
pub fn follow_drops(session: Session) {
    let _kept_for_ever = window_event_listener(ev::dragover, |event| {
        // Without this the browser would show the file in place of the planner.
        if event.data_transfer().is_some_and(|carried| carries_files(&carried)) {
            event.prevent_default();
        }
    });
    let _kept_for_ever = window_event_listener(ev::drop, move |event| {
        let carried = event.data_transfer().and_then(|carried| carried.files());
        let Some(file) = carried.and_then(|files| files.get(0)) else { return };
        event.prevent_default();
        if !session.keeper.status_now().is_read_only() {
            add_file(session, file);
            // The address is a fragment of this page; going there cannot fail.
            let _gone = window().location().set_hash(&Route::Job.href());
        }
    });
}

fn carries_files(carried: &DataTransfer) -> bool {
    carried.types().includes(&"Files".into(), 0)
}

fn row(session: Session, (id, name): (u32, String)) -> AnyView {
    let keeper = session.keeper;
    if keeper.id() != id {
        return view! {
            <li>
                <span class="name">{name.clone()}</span>
                <div class="actions">
                    {action(keeper, (id, Signal::stored(name.clone())), words::OPEN.text(), Keeper::open)}
                    {actions(keeper, (id, Signal::stored(name)))}
                </div>
            </li>
        }
        .into_any();
    }
    let name = Signal::derive(move || session.job(|job| job.name.clone()));
    view! {
        <li aria-current="true">
            <span class="name">{name}" · "{words::OPEN_NOW.text()}</span>
            <div class="actions">{actions(keeper, (id, name))}</div>
        </li>
    }
    .into_any()
}

fn actions(keeper: Keeper, job: (u32, Signal<String>)) -> impl IntoView + use<> {
    (
        action(keeper, job, words::RENAME.text(), rename),
        action(keeper, job, words::COPY.text(), Keeper::duplicate),
        action(keeper, job, words::REMOVE.text(), Keeper::remove),
    )
}

/// A job bears its name in its own form, where a change of it is a step like any other.
fn rename(keeper: Keeper, id: u32) {
    spawn_local(async move {
        keeper.switch(id).await;
        request_animation_frame(|| show_field_of_job("name"));
    });
}

fn action(
    keeper: Keeper,
    (id, name): (u32, Signal<String>),
    word: &'static str,
    run: fn(Keeper, u32),
) -> AnyView {
    view! {
        <button type="button" aria-label=move || words::action_on(word, &name.get()) disabled=move || keeper.is_read_only()
            on:click=move |_| run(keeper, id)>{word}</button>
    }
    .into_any()
}
