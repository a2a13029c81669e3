//! Fields of forms, by what they hold.

use std::sync::Arc;

use leptos::{ev, prelude::*};
use risemark::{
    finding::Finding,
    job::Lumber,
    limits::{self, Bounds, Limit, Origin},
    quantity::{Length, Units, at_step, inches, millimeters, round_to, to_whole},
    tape, wording,
};
use wasm_bindgen::JsCast;

use super::typed::{Label, Stride, Typed, new_id, typed};
use crate::{
    part::Part,
    session::Session,
    store::keeper::Status,
    words::{self, Choices},
};

/// How lengths of a field are shown.
pub type Notation = fn(Length, Units) -> String;

/// What holds while a length is not given.
#[derive(Clone, Copy)]
enum Otherwise {
    /// It must be given.
    Needed,
    /// Something is assumed.
    Assumed(Signal<Option<(Length, Origin)>>),
    /// What the words say.
    Words(&'static str),
}

/// A length that must be given.
pub fn length(label: Label, limit: &'static Limit, part: Part<Length>) -> AnyView {
    let optional = Part::new(
        {
            let part = part.clone();
            move || part.get().map(Some)
        },
        move |value: Option<Length>| value.map_or(Ok(()), |value| part.set(value)),
    );
    length_field(label, limit, optional, Otherwise::Needed)
}

/// A length that may be left out; the field says what is assumed then, and why.
pub fn measured(label: Label, limit: &'static Limit, part: Part<Option<Length>>) -> AnyView {
    let session = Session::here();
    let lumber = move || {
        let route = session.route();
        session.wall(route.wall()?, |wall| wall.lumber).flatten()
    };
    measured_of(label, limit, part, Signal::derive(lumber))
}

/// As [`measured`], where the lumber is not that of the wall that is shown.
pub fn measured_of(
    label: Label,
    limit: &'static Limit,
    part: Part<Option<Length>>,
    lumber: Signal<Option<Lumber>>,
) -> AnyView {
    let assumed = Signal::derive(move || limits::assumption(limit, lumber.get()));
    length_field(label, limit, part, Otherwise::Assumed(assumed))
}

/// A length that may be left out, with its own words for what happens then.
pub fn measured_or(
    label: Label,
    limit: &'static Limit,
    part: Part<Option<Length>>,
    otherwise: &'static str,
) -> AnyView {
    length_field(label, limit, part, Otherwise::Words(otherwise))
}

fn length_field(
    label: Label,
    limit: &'static Limit,
    part: Part<Option<Length>>,
    otherwise: Otherwise,
) -> AnyView {
    let session = Session::here();
    let notation = notation_of(limit);
    let (shown, given, accepting) = (part.clone(), part.clone(), part.clone());
    let shown = Memo::new(move |_| {
        let value = shown.get().flatten();
        value.map(|value| notation(value, session.units.get())).unwrap_or_default()
    });
    let assumed = move || match otherwise {
        Otherwise::Needed => None,
        Otherwise::Assumed(assumed) => assumed.get(),
        Otherwise::Words(_) => limits::assumption(limit, None),
    };
    let placeholder = Signal::derive(move || match otherwise {
        Otherwise::Needed => String::new(),
        Otherwise::Assumed(assumed) => assumed
            .get()
            .map(|(assumed, _)| tape::size(assumed, session.units.get()))
            .unwrap_or_default(),
        Otherwise::Words(words) => words.to_owned(),
    });
    let note = Signal::derive(move || match (given.get().flatten(), assumed()) {
        (None, Some((_, origin))) => words::assumed(origin),
        _ => String::new(),
    });
    let accept = move |text: &str| match (text.trim().is_empty(), otherwise) {
        (true, Otherwise::Needed) => Err(words::NEEDED.text().to_owned()),
        (true, _) => refused(accepting.set(None), session),
        (false, _) => {
            let value = tape::parse(text, session.units.get_untracked())
                .map_err(|refused| wording::not_a_length(&refused, words::language()))?;
            refused(accepting.set(Some(value)), session)
        }
    };
    let preview = move |text: &str| {
        let units = session.units.get();
        tape::parse(text, units).ok().map(|value| notation(value, units))
    };
    let step = move |text: &str, stride: Stride| {
        let units = session.units.get_untracked();
        let assumed = || untrack(assumed).map(|(assumed, _)| assumed);
        let from = tape::parse(text, units).ok().or_else(assumed)?;
        Some(notation(from + stride_length(stride, session.rules().marking_step, units), units))
    };
    typed(Typed {
        label,
        shown,
        placeholder,
        note,
        accept: Arc::new(accept),
        preview: Arc::new(preview),
        step: Some(Arc::new(step)),
        keyboard: "text",
    })
}

/// A count, an angle or a year that may be left out.
pub fn number(
    label: Label,
    bounds: &'static Bounds,
    part: Part<Option<f64>>,
    unit: &'static str,
) -> AnyView {
    number_field(label, bounds, part, unit, None)
}

/// A number that may be left out, with its own words for what happens then.
pub fn number_or(
    label: Label,
    bounds: &'static Bounds,
    part: Part<Option<f64>>,
    unit: &'static str,
    otherwise: &'static str,
) -> AnyView {
    number_field(label, bounds, part, unit, Some(otherwise))
}

fn number_field(
    label: Label,
    bounds: &'static Bounds,
    part: Part<Option<f64>>,
    unit: &'static str,
    otherwise: Option<&'static str>,
) -> AnyView {
    let session = Session::here();
    let (shown, given, accepting) = (part.clone(), part.clone(), part);
    let known = otherwise.is_none() && bounds.min <= bounds.default;
    let shown = Memo::new(move |_| {
        shown.get().flatten().map(|value| format!("{value}{unit}")).unwrap_or_default()
    });
    let note = Signal::derive(move || match given.get().flatten() {
        None if known => words::assumed(bounds.origin),
        None | Some(_) => String::new(),
    });
    let placeholder = match otherwise {
        None if known => format!("{}{unit}", bounds.default),
        None => words::UNKNOWN.text().to_owned(),
        Some(otherwise) => otherwise.to_owned(),
    };
    let read = move |text: &str| {
        let text = text.trim();
        let plain = text.strip_suffix(unit).unwrap_or(text).trim();
        let (sign, plain) = plain.strip_prefix('-').map_or((1.0, plain), |plain| (-1.0, plain));
        tape::decimal(&plain.replace(',', ".")).map(|number| sign * number)
    };
    let accept = move |text: &str| {
        if text.trim().is_empty() {
            return refused(accepting.set(None), session);
        }
        let value = read(text).ok_or_else(|| words::not_a_number(text, bounds))?;
        if value < bounds.min || bounds.max < value {
            return Err(words::not_a_number(text, bounds));
        }
        refused(accepting.set(Some(value)), session)
    };
    let step = move |text: &str, stride: Stride| {
        let by = match stride {
            Stride::Up => 1.0,
            Stride::Down => -1.0,
            Stride::FarUp => 10.0,
            Stride::FarDown => -10.0,
        };
        let from = read(text).or(known.then_some(bounds.default))?;
        Some(format!("{}{unit}", (from + by).clamp(bounds.min, bounds.max)))
    };
    typed(Typed {
        label,
        shown,
        placeholder: Signal::derive(move || placeholder.clone()),
        note,
        accept: Arc::new(accept),
        preview: Arc::new(|_| None),
        step: Some(Arc::new(step)),
        keyboard: "decimal",
    })
}

/// A temperature, which is kept in degrees Celsius, in the units of the job; its bounds in degrees Celsius
/// and in degrees Fahrenheit.
pub fn temperature(
    label: Label,
    [celsius, fahrenheit]: [&'static Bounds; 2],
    part: Part<Option<f64>>,
) -> AnyView {
    let session = Session::here();
    let field = move || match session.units.get() {
        Units::Metric => number(label, celsius, part.clone(), " °C"),
        Units::FeetInches => {
            let (reading, writing) = (part.clone(), part.clone());
            let read = move || {
                let kept = reading.get()?;
                Some(kept.map(|celsius| round_to(celsius * 1.8 + 32.0, 10.0)))
            };
            let write = move |value: Option<f64>| {
                writing.set(value.map(|degrees| round_to((degrees - 32.0) / 1.8, 100.0)))
            };
            number(label, fahrenheit, Part::new(read, write), " °F")
        }
    };
    view! { {field} }.into_any()
}

/// A whole number that may be left out.
pub fn whole(label: Label, bounds: &'static Bounds, part: Part<Option<u32>>) -> AnyView {
    let reading = part.clone();
    let part = Part::new(
        move || reading.get().map(|whole| whole.map(f64::from)),
        move |whole: Option<f64>| {
            part.set(whole.and_then(|whole| u32::try_from(to_whole(whole)).ok()))
        },
    );
    number(label, bounds, part, "")
}

/// A whole count that may be left out.
pub fn count(label: Label, bounds: &'static Bounds, part: Part<Option<u8>>) -> AnyView {
    let reading = part.clone();
    let part = Part::new(
        move || reading.get().map(|count| count.map(f64::from)),
        move |count: Option<f64>| part.set(count.map(rounded)),
    );
    number(label, bounds, part, "")
}

/// A text that must be given.
pub fn text(label: Label, part: Part<String>) -> AnyView {
    let reading = part.clone();
    let optional = Part::new(
        move || reading.get().map(Some),
        move |text: Option<String>| text.map_or(Ok(()), |text| part.set(text)),
    );
    text_field(label, optional, true)
}

/// A text that may be left out.
pub fn optional_text(label: Label, part: Part<Option<String>>) -> AnyView {
    text_field(label, part, false)
}

fn text_field(label: Label, part: Part<Option<String>>, required: bool) -> AnyView {
    let session = Session::here();
    let shown = part.clone();
    let shown = Memo::new(move |_| shown.get().flatten().unwrap_or_default());
    let accept = move |text: &str| match text.trim() {
        "" if required => Err(words::NEEDED.text().to_owned()),
        "" => refused(part.set(None), session),
        text => refused(part.set(Some(text.to_owned())), session),
    };
    typed(Typed {
        label,
        shown,
        placeholder: Signal::derive(String::new),
        note: Signal::derive(String::new),
        accept: Arc::new(accept),
        preview: Arc::new(|_| None),
        step: None,
        keyboard: "text",
    })
}

/// One of a few, chosen from a list.
pub fn choice<T>(label: Label, options: Choices<T>, part: Part<T>) -> AnyView
where
    T: Copy + PartialEq + Send + Sync + 'static,
{
    let reading = part.clone();
    let place = move |now: T| options.iter().position(|(value, _)| *value == now);
    let numbered = Part::new(
        move || reading.get().and_then(place),
        move |idx: usize| options.get(idx).map_or(Ok(()), |(value, _)| part.set(*value)),
    );
    let words = options.iter().map(|(_, word)| word.text().to_owned()).collect();
    chosen_of(label, Signal::stored(words), numbered)
}

/// One of a few words, which may change; the part is the position of the chosen one.
pub fn chosen_of(label: Label, options: Signal<Vec<String>>, part: Part<usize>) -> AnyView {
    let session = Session::here();
    let (id, message) = (new_id(), RwSignal::new(String::new()));
    let reading = part.clone();
    let chosen = Memo::new(move |_| reading.get());
    let on_change = move |event: ev::Event| {
        let Ok(idx) = event_target_value(&event).parse() else { return };
        message.set(refused(part.set(idx), session).err().unwrap_or_default());
        // A refused choice leaves the list where the job is.
        chosen.with_untracked(|idx| set_select(&event, *idx));
    };
    let choices = move || {
        let choices = options.get().into_iter().enumerate().map(|(idx, word)| {
            view! { <option value=idx.to_string() selected=move || chosen.get() == Some(idx)>{word}</option> }
        });
        choices.collect_view()
    };
    view! {
        <div class="field">
            <label for=id.clone()>{label.0}</label>
            <select id=id.clone() name=label.1 aria-describedby=format!("{id}-message")
                prop:value=move || chosen.get().map(|idx| idx.to_string()).unwrap_or_default()
                on:change=on_change>
                {choices}
            </select>
            <p class="message" id=format!("{id}-message") role="alert">{message}</p>
        </div>
    }
    .into_any()
}

fn set_select(event: &ev::Event, idx: Option<usize>) {
    let select = event_target::<web_sys::HtmlSelectElement>(event);
    select.set_value(&idx.map(|idx| idx.to_string()).unwrap_or_default());
}

/// The outcome of a change, as a field shows it.
pub fn refused(outcome: Result<(), Vec<Finding>>, session: Session) -> Result<(), String> {
    outcome.map_err(|findings| match findings.is_empty() {
        true if session.keeper.status_now() == Status::Shared => {
            words::KEEP_FIRST.text().to_owned()
        }
        true => words::READ_ONLY.text().to_owned(),
        false => words::all_messages(&findings, session.units.get_untracked()),
    })
}

fn notation_of(limit: &Limit) -> Notation {
    // Sizes are read in inches; places and whole walls as the tape shows them, in feet.
    if limit.default.is_some() { tape::size } else { tape::reading }
}

fn stride_length(stride: Stride, step: Length, units: Units) -> Length {
    let far = match units {
        Units::FeetInches => inches(12.0),
        Units::Metric => millimeters(100.0),
    };
    match stride {
        Stride::Up => step,
        Stride::Down => at_step(-1, step),
        Stride::FarUp => far,
        Stride::FarDown => -far,
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the bounds of every count lie between 0 and 255, and casts saturate"
)]
fn rounded(count: f64) -> u8 {
    count.round() as u8
}

/// Whether a field of the form holds a text that could not be read.
pub fn is_marked(event: &ev::SubmitEvent) -> bool {
    let form = event.target().and_then(|target| target.dyn_into::<web_sys::Element>().ok());
    form.is_some_and(|form| matches!(form.query_selector("[aria-invalid=true]"), Ok(Some(_))))
}
