//! Findings in the margin; touching one selects its place.

use leptos::prelude::*;
use risemark::{
    finding::{Finding, Part, Severity},
    job::Wall,
    wording,
};

use crate::{
    session::{Selection, Session},
    words,
};

/// The findings of a wall.
pub fn findings(session: Session, findings: &[Finding]) -> AnyView {
    if findings.is_empty() {
        return view! { <p class="quiet">{words::NO_FINDINGS.text()}</p> }.into_any();
    }
    let (notes, rest): (Vec<_>, Vec<_>) = findings
        .iter()
        .cloned()
        .enumerate()
        .partition(|(_, finding)| finding.problem.severity() == Severity::Note);
    let n_notes = notes.len();
    let list = move |rows: Vec<(usize, Finding)>| {
        let rows = rows.into_iter().map(|(idx, finding)| row(session, idx, finding));
        view! { <ul class="findings">{rows.collect_view()}</ul> }
    };
    let notes = if n_notes <= MOST_NOTES {
        list(notes).into_any()
    } else {
        let summary = words::notes(n_notes);
        view! { <details><summary>{summary}</summary>{list(notes)}</details> }.into_any()
    };
    view! { {list(rest)} {notes} }.into_any()
}

/// More notes than these would push the form out of sight; they are folded.
const MOST_NOTES: usize = 2;

/// Findings without a place to go to, such as those of a file.
pub fn plain(session: Session, findings: &[Finding]) -> AnyView {
    let rows = findings.iter().map(|finding| {
        let line = wording::line(finding, words::speech(session.units.get()));
        let severity = finding.problem.severity();
        // A file that is refused says only what stops it.
        let marked = (severity != Severity::Stop).then(|| {
            let word = wording::severity(severity).of(words::language());
            view! { <span class="sign" aria-hidden="true">{words::sign(severity)}</span>" "<span class="severity">{word}</span>" " }
        });
        view! { <li>{marked}{line}</li> }
    });
    view! { <ul class="findings">{rows.collect_view()}</ul> }.into_any()
}

fn row(session: Session, idx: usize, finding: Finding) -> impl IntoView {
    let severity = finding.problem.severity();
    let speech = words::speech(session.units.get());
    let wall = finding.place.wall.as_ref().filter(|_| finding.place.part != Part::Whole);
    let part = |wall: &Wall| format!("{}: ", words::part_of(wall, &finding.place));
    let at = wall.and_then(|wall| session.wall(&wall.id, part)).unwrap_or_default();
    let message = wording::message(&finding.problem, speech);
    let hint = wording::hint(&finding.problem).of(speech.language);
    let target = finding.place.clone();
    let chosen = Memo::new(move |_| session.selection() == Selection::Place(target.clone()));
    view! {
        <li class=wording::severity(severity).english>
            <button type="button" data-finding=idx data-code=finding.problem.code()
                aria-pressed=move || chosen.get().to_string()
                on:click=move |_| session.select(Selection::Place(finding.place.clone()))>
                <span class="sign" aria-hidden="true">{words::sign(severity)}</span>
                <span>
                    <span class="severity">{wording::severity(severity).of(speech.language)}</span>" "
                    {at}{message}"; "<span class="quiet">{hint}"."</span>
                </span>
            </button>
        </li>
    }
}
