//! Studs as they are called out from the wall: typed, or tapped with gloves on.

use leptos::prelude::*;
use risemark::{
    found::{Fit, FoundStud, ReadAt, Standing, centres, fit, run},
    job::{Studs, Wall},
    quantity::{Length, NotALength, Units},
};

use crate::{
    command::Command,
    part::Part,
    session::Session,
    view::{
        field::{choice, refused},
        typed::new_id,
    },
    words,
};

/// A run with the layout that fits it.
#[derive(Debug, Clone, PartialEq)]
struct Called {
    readings: Vec<Result<Length, NotALength>>,
    fit: Fit,
}

/// How studs are made of a fit.
type Make = fn(&Fit, &Wall) -> Studs;

/// The run, its keys, what fits and what does not, and the two ways to take it.
pub fn found(session: Session, id: &str) -> AnyView {
    let text = RwSignal::new(String::new());
    let read_at = RwSignal::new(ReadAt::Centre);
    let message = RwSignal::new(String::new());
    let wall = StoredValue::new(id.to_owned());
    let called = Memo::new(move |_| {
        let units = session.units.get();
        let readings = text.with(|text| run(text, units));
        let good: Vec<Length> = readings.iter().flatten().copied().collect();
        let fit_to = |wall: &Wall| fit(wall, &centres(wall, &good, read_at.get()), units);
        session.wall(&wall.read_value(), fit_to).map(|fit| Called { readings, fit })
    });
    let take = move |make: Make| {
        let Some(Called { fit, .. }) = called.get_untracked() else { return };
        let taken = |wall: &Wall| Wall { studs: make(&fit, wall), ..wall.clone() };
        let Some(wall) = session.wall(&wall.read_value(), taken) else { return };
        let command = Command::Whole { what: words::FOUND_STUDS, walls: vec![wall] };
        message.set(refused(session.run(command), session).err().unwrap_or_default());
    };
    let part = Part::new(
        move || Some(read_at.get()),
        move |value| {
            read_at.set(value);
            Ok(())
        },
    );
    let label = new_id();
    view! {
        <details class="found" id="found">
            <summary><h4>{words::FOUND_STUDS.text()}</h4></summary>
            <div class="fields">
                <p class="quiet">{words::FOUND_HINT.text()}</p>
                {choice((words::READ_AT.text(), "read_at"), words::READINGS_AT, part)}
                <label for=label.clone()>{words::READINGS.text()}</label>
                <textarea id=label name="run" rows="3" autocomplete="off" spellcheck="false" prop:value=text
                    on:input=move |event| text.set(event_target_value(&event))></textarea>
                {keys(session, text)}
                {verdict(session, called)}
                {takes(called, take)}
                <p class="message" role="alert">{message}</p>
            </div>
        </details>
    }
    .into_any()
}

fn takes(
    called: Memo<Option<Called>>,
    take: impl Fn(Make) + Copy + Send + Sync + 'static,
) -> AnyView {
    // Half a run would move the studs that were read well, and leave the others where they were.
    let usable = Memo::new(move |_| {
        called.get().is_some_and(|called| {
            let outside = |stud: &FoundStud| stud.place == Standing::Outside;
            let good = called.readings.iter().all(Result::is_ok);
            good && called.fit.layout.is_some() && !called.fit.studs.iter().any(outside)
        })
    });
    view! {
        <div class="takes">
            <button type="button" id="take-regular" disabled=move || !usable.get()
                on:click=move |_| take(Fit::regular)>{words::TAKE_REGULAR.text()}</button>
            <button type="button" id="take-measured" disabled=move || !usable.get()
                on:click=move |_| take(Fit::one_by_one)>{words::TAKE_MEASURED.text()}</button>
        </div>
    }
    .into_any()
}

/// The layout that fits, and each reading with where it stands.
fn verdict(session: Session, called: Memo<Option<Called>>) -> AnyView {
    let shown = move || {
        let (called, units) = (called.get()?, session.units.get());
        if called.readings.is_empty() {
            return None;
        }
        let summary = called.fit.layout.map(|layout| {
            words::layout_that_fits(layout.spacing, layout.first, called.fit.n_on_layout(), units)
        });
        let mut studs = called.fit.studs.iter();
        let mut rows: Vec<(String, String)> = Vec::new();
        for reading in &called.readings {
            let row = match (reading, reading.is_ok().then(|| studs.next()).flatten()) {
                (Ok(reading), Some(stud)) => words::found_stud(*reading, stud, units),
                (Ok(_), None) => continue,
                (Err(refused), _) => (refused.found.clone(), words::unread(refused)),
            };
            rows.push(row);
        }
        // Places are said in the same terms as the readings.
        let first = called.readings.iter().flatten().next().zip(called.fit.studs.first());
        let shift = first.map_or(Length::default(), |(reading, stud)| stud.centre - *reading);
        let missing = called.fit.missing.iter();
        rows.extend(missing.map(|place| words::stud_not_called(*place - shift, units)));
        let rows = rows.into_iter().map(|(reading, verdict)| {
            view! { <li><span>{reading}</span><span>{verdict}</span></li> }
        });
        Some(view! {
            <p id="found-layout">{summary}</p>
            <ol class="readings" id="found-readings">{rows.collect_view()}</ol>
        })
    };
    view! { <div aria-live="polite">{shown}</div> }.into_any()
}

/// The key that ends a reading.
const NEXT: &str = "next";
/// The key that takes the last key back.
const BACK: &str = "⌫";

const INCH_KEYS: [&str; 20] = [
    "1", "2", "3", "1/8", "1/4", "4", "5", "6", "3/8", "1/2", "7", "8", "9", "5/8", "3/4", "'",
    "0", BACK, "7/8", NEXT,
];
const METRIC_KEYS: [&str; 12] = ["1", "2", "3", "4", "5", "6", "7", "8", "9", BACK, "0", NEXT];

fn keys(session: Session, text: RwSignal<String>) -> AnyView {
    let key = move |key: &'static str| {
        let name = match key {
            BACK => words::TAKE_KEY_BACK.text(),
            NEXT => words::NEXT_READING.text(),
            key => key,
        };
        let press = move |_| text.update(|text| *text = pressed(text, key));
        let shown = if key == NEXT { words::NEXT_READING.text() } else { key };
        view! { <button type="button" aria-label=name on:click=press>{shown}</button> }
    };
    let keys = move || match session.units.get() {
        Units::FeetInches => INCH_KEYS.map(key).collect_view(),
        Units::Metric => METRIC_KEYS.map(key).collect_view(),
    };
    let class = move || match session.units.get() {
        Units::FeetInches => "keys",
        Units::Metric => "keys metric",
    };
    view! { <div class=class role="group" aria-label=words::READING_KEYS.text()>{keys}</div> }
        .into_any()
}

/// The text after a key was tapped.
fn pressed(text: &str, key: &str) -> String {
    let fraction = INCH_KEYS.iter().find(|key| key.contains('/') && text.ends_with(**key));
    let ends_in_digit = text.ends_with(|last: char| last.is_ascii_digit());
    match key {
        BACK => match fraction {
            Some(fraction) => {
                let rest = &text[..text.len() - fraction.len()];
                rest.strip_suffix('-').unwrap_or(rest).to_owned()
            }
            None => {
                let mut rest = text.trim_end_matches([' ', ',']).to_owned();
                // The key that ended a reading is one key, however many signs it made.
                if rest.len() == text.len() {
                    rest.pop();
                }
                rest
            }
        },
        NEXT if ends_in_digit || text.ends_with(['\'', '"', '.']) => format!("{text}, "),
        NEXT => text.to_owned(),
        // After a fraction the next reading begins, so that nobody taps 14-1/23.
        key if fraction.is_some() => format!("{text}, {key}"),
        key if key.contains('/') && ends_in_digit => format!("{text}-{key}"),
        key => format!("{text}{key}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_run_can_be_tapped() {
        let keys = ["1", "4", "1/2", "3", "0", "3/4", NEXT, "4", "7", NEXT, NEXT, "5", "'", "3"];
        let text = keys.iter().fold(String::new(), |text, key| pressed(&text, key));
        assert_eq!(text, "14-1/2, 30-3/4, 47, 5'3", "four readings");
        let read: Vec<_> = run(&text, Units::FeetInches).into_iter().flatten().collect();
        assert_eq!(read.len(), 4, "each of them is read");
    }

    #[test]
    fn a_key_is_taken_back() {
        assert_eq!(pressed("14-1/2", BACK), "14", "a fraction is one key");
        assert_eq!(pressed("14, ", BACK), "14", "so is the end of a reading");
        assert_eq!(pressed("14", BACK), "1", "a digit");
        assert_eq!(pressed("", BACK), "", "nothing");
    }
}
