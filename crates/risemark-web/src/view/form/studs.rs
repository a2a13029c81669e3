//! Where the studs of a wall stand.

use leptos::prelude::*;
use risemark::{
    job::{End, StudLayout},
    limits,
    quantity::{Length, inches},
};

use super::{entries, found, list};
use crate::{
    command::WallChange,
    part::Part,
    session::Session,
    shape::{LayoutKind, layout_as, layout_kind},
    view::field::{choice, length, measured, measured_or, refused},
    words,
};

/// Thickness, layout, what differs from it and what stands beside it.
pub fn studs(session: Session, id: &str) -> AnyView {
    let thickness =
        Part::of_wall(session, id, |wall| wall.studs.thickness, WallChange::StudThickness);
    let layout = Part::of_wall(session, id, |wall| wall.studs.layout.clone(), WallChange::Layout);
    view! {
        {found::found(session, id)}
        {measured((words::STUD_THICKNESS.text(), "stud_thickness"), &limits::STUD_THICKNESS, thickness)}
        {choice((words::LAYOUT.text(), "layout"), words::LAYOUTS, kind(session, id, &layout))}
        {layout_fields(session, layout)}
        <h4>{words::CORRECTIONS.text()}</h4>
        {list::list(session, id, entries::CORRECTIONS)}
        <h4>{words::EXTRA_STUDS.text()}</h4>
        {list::list(session, id, entries::EXTRA)}
    }
    .into_any()
}

fn kind(session: Session, id: &str, layout: &Part<StudLayout>) -> Part<LayoutKind> {
    let (reading, writing, id) = (layout.clone(), layout.clone(), id.to_owned());
    Part::new(
        move || reading.get().map(|layout| layout_kind(&layout)),
        move |kind| {
            let width = session.wall(&id, |wall| wall.width);
            match (writing.get(), width) {
                (Some(layout), Some(width)) => writing.set(layout_as(&layout, kind, width)),
                _ => Ok(()),
            }
        },
    )
}

fn layout_fields(session: Session, layout: Part<StudLayout>) -> AnyView {
    let reading = layout.clone();
    let kind = Memo::new(move |_| reading.get().map(|layout| layout_kind(&layout)));
    let fields = move || match kind.get() {
        None => ().into_any(),
        Some(LayoutKind::Regular) => regular(&layout),
        Some(LayoutKind::Measured) => one_by_one(session, &layout),
    };
    view! { {fields} }.into_any()
}

fn regular(layout: &Part<StudLayout>) -> AnyView {
    let spacing = layout.part(
        |layout| match layout {
            StudLayout::Regular { spacing, .. } => Some(*spacing),
            StudLayout::Measured { .. } => None,
        },
        |layout, value| {
            if let StudLayout::Regular { spacing, .. } = layout {
                *spacing = value;
            }
        },
    );
    let first = layout.part(
        |layout| match layout {
            StudLayout::Regular { first, .. } => Some(*first),
            StudLayout::Measured { .. } => None,
        },
        |layout, value| {
            if let StudLayout::Regular { first, .. } = layout {
                *first = value;
            }
        },
    );
    let from = layout.part(
        |layout| match layout {
            StudLayout::Regular { from, .. } => Some(*from),
            StudLayout::Measured { .. } => None,
        },
        |layout, value: End| {
            if let StudLayout::Regular { from, .. } = layout {
                *from = value;
            }
        },
    );
    view! {
        {measured((words::STUD_SPACING.text(), "spacing"), &limits::STUD_SPACING, spacing)}
        {measured_or((words::FIRST_STUD.text(), "first"), &limits::ACROSS, first, words::ONE_SPACING.text())}
        {choice((words::LAYOUT_FROM.text(), "from"), words::ENDS, from)}
    }
    .into_any()
}

fn one_by_one(session: Session, layout: &Part<StudLayout>) -> AnyView {
    let centres: Part<Vec<Length>> = layout.part(
        |layout| match layout {
            StudLayout::Measured { centres } => Some(centres.clone()),
            StudLayout::Regular { .. } => None,
        },
        |layout, centres| *layout = StudLayout::Measured { centres },
    );
    let reading = centres.clone();
    let n_studs = Memo::new(move |_| reading.get().map_or(0, |centres| centres.len()));
    let message = RwSignal::new(String::new());
    let centres = StoredValue::new(centres);
    let put = move |list| {
        message.set(refused(centres.read_value().set(list), session).err().unwrap_or_default());
    };
    let add = move |_| {
        let Some(mut list) = centres.read_value().get() else { return };
        list.push(list.last().map_or(inches(16.0), |last| *last + inches(16.0)));
        put(list);
    };
    let remove = move |idx: usize| {
        let Some(mut list) = centres.read_value().get() else { return };
        if idx < list.len() {
            list.remove(idx);
            put(list);
        }
    };
    let row = move |idx: usize| {
        view! {
            <li class="point">
                {length((words::CENTRE.text(), "centre"), &limits::ACROSS, centres.read_value().entry(idx))}
                <button type="button" class="remove" aria-label=words::remove_entry(words::STUD.text(), idx + 1)
                    on:click=move |_| remove(idx)>{words::REMOVE.text()}</button>
            </li>
        }
    };
    view! {
        <ol class="points">
            <For each=move || 0..n_studs.get() key=|idx| *idx let:idx>{row(idx)}</For>
        </ol>
        <button type="button" class="add" on:click=add>{words::ADD_STUD.text()}</button>
        <p class="message" role="alert">{message}</p>
    }
    .into_any()
}
