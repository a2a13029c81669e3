//! The page of the job: what it is called, its rules, its walls.

use leptos::{ev, html, prelude::*};
use risemark::{file, limits};

use super::{
    changeable::changeable,
    differ,
    field::{choice, number, optional_text, text},
    findings, jobs, language,
    later::later,
    rules, share,
    slot::{slot, slot_awaited},
    totals, walls,
};
use crate::{command::Command, files, part::Part, sample, session::Session, words};

/// The page of the job.
pub fn page(session: Session) -> AnyView {
    view! {
        <main id="content" class="with-panel" tabindex="-1">
            <div class="title">
                <h1>{move || session.job(|job| job.name.clone())}</h1>
                {notice(session)}
            </div>
            <div class="files">{slot_awaited(session, move |rest| (rest.files)(session))}</div>
            <section class="beside" aria-labelledby="walls-title">
                <h2 id="walls-title" tabindex="-1">{words::WALLS.text()}</h2>
                {empty(session)}
                {totals::totals(session)}
                {changeable(session, walls::list(session))}
                {slot(session, move |rest| changeable(session, (rest.add_wall)(session)))}
            </section>
            <section class="panel" aria-labelledby="about-title">
                <h2 id="about-title">{words::ABOUT_JOB.text()}</h2>
                {slot_awaited(session, move |rest| (rest.settings)(session))}
            </section>
        </main>
    }
    .into_any()
}

fn notice(session: Session) -> impl IntoView {
    move || {
        session
            .job(|job| job.name == sample::NAME)
            .then(|| view! { <p class="quiet" id="sample">{words::SAMPLE_NOTICE.text()}</p> })
    }
}

fn empty(session: Session) -> impl IntoView {
    move || {
        session
            .job(|job| job.walls.is_empty())
            .then(|| view! { <p class="quiet">{words::NO_WALLS.text()}</p> })
    }
}

/// What can be done with files and with the jobs on this device.
pub fn files(session: Session) -> AnyView {
    let picker = NodeRef::<html::Input>::new();
    let on_file = move |_: ev::Event| {
        if let Some(file) = picker.get().and_then(|picker| files::chosen(&picker)) {
            jobs::add_file(session, file);
        }
    };
    let save = move |_| {
        let (name, text) = session.job(|job| (words::job_file(&job.name), file::write(job)));
        // A job that is usable can be written, and a browser that shows this page can save it.
        if let Ok(text) = text {
            let _saved = files::save(&name, "application/json", &text);
        }
    };
    let read_only = move || session.keeper.is_read_only();
    let pick = move |_| {
        if let Some(picker) = picker.get() {
            picker.click();
        }
    };
    let refused = move || {
        let findings = session.refused_file();
        (!findings.is_empty()).then(|| {
            view! {
                <div class="refused" id="file-refused" role="alert">
                    <h2>{words::FILE_REFUSED.text()}</h2>
                    {findings::plain(session, &findings)}
                </div>
            }
        })
    };
    view! {
        <div class="actions">
            <button type="button" id="open-job" disabled=read_only on:click=pick>{words::OPEN_JOB.text()}</button>
            <button type="button" id="save-job" on:click=save>{words::SAVE_JOB.text()}</button>
            <button type="button" id="new-job" disabled=read_only
                on:click=move |_| session.add_empty()>{words::NEW_JOB.text()}</button>
            <button type="button" id="sample-job" disabled=read_only
                on:click=move |_| session.add(&sample::job())>{words::SAMPLE_JOB.text()}</button>
            <input type="file" id="job-file" accept=".json,application/json" hidden aria-label=words::OPEN_JOB.text()
                node_ref=picker on:change=on_file />
        </div>
        {refused} {share::share(session)} {jobs::jobs(session)} {language::choose(session)}
    }
    .into_any()
}

/// What is asked about the job: what it is called, and what holds for all its walls.
pub fn settings(session: Session) -> AnyView {
    view! {
        <div class="fields" id="about">{changeable(session, about(session))}</div>
        {later(move || changeable(session, (rules::rules(session), differ::settings(session))))}
    }
    .into_any()
}

fn about(session: Session) -> AnyView {
    let name = Part::of_job(session, |job| job.name.clone(), Command::Name);
    let place = Part::of_job(session, |job| job.place.clone(), Command::Place);
    let date = Part::of_job(session, |job| job.date.clone(), Command::Date);
    let units = Part::of_job(session, |job| job.units, Command::Units);
    let year = Part::of_job(session, |job| job.year_built, Command::YearBuilt);
    let reading = year.clone();
    let year = Part::new(
        move || reading.get().map(|year| year.map(f64::from)),
        move |value: Option<f64>| year.set(value.map(whole_year)),
    );
    view! {
        {text((words::JOB_NAME.text(), "name"), name)}
        {optional_text((words::PLACE.text(), "place"), place)}
        {optional_text((words::DATE.text(), "date"), date)}
        {choice((words::UNITS.text(), "units"), words::UNIT_SYSTEMS, units)}
        {number((words::YEAR_BUILT.text(), "year_built"), &limits::YEAR_BUILT, year, "")}
    }
    .into_any()
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "the bounds of a year lie far inside the range"
)]
fn whole_year(year: f64) -> i32 {
    year.round() as i32
}
