//! Brings what was selected into view: opens the groups around it, scrolls to it, puts the focus there.

use leptos::{ev, prelude::*};
use risemark::finding::{Part, Place};
use wasm_bindgen::JsCast;
use web_sys::{
    Element, FocusOptions, HtmlDetailsElement, HtmlElement, ScrollIntoViewOptions,
    ScrollLogicalPosition,
};

use super::form::entry_id;
use crate::{
    edit::Entry,
    hold::after_hold,
    session::{Selection, Session},
};

/// Shows the entry or field of each place that gets selected.
pub fn follow_selection(session: Session) {
    Effect::new(move || match session.selection() {
        // An entry that was just added is in the document only after this round of effects.
        Selection::Place(place) => request_animation_frame(move || show(&place)),
        Selection::Entries(entries) => {
            let place = untrack(|| place_of(session, &entries));
            place
                .into_iter()
                .for_each(|place| request_animation_frame(move || open_beside(&place)));
        }
        // The readings of the hole stand at the head of the panel, which may have been scrolled away.
        Selection::Hole(_) => request_animation_frame(|| {
            document().get_element_by_id("hole").iter().for_each(scroll_panel_to);
        }),
        Selection::Nothing => {}
    });
}

/// The place of what is picked on the drawing, if it is a single entry of a form.
fn place_of(session: Session, entries: &[Entry]) -> Option<Place> {
    let (route, [entry]) = (session.route(), entries) else { return None };
    session.wall(route.wall()?, |wall| entry.place(wall)).flatten()
}

/// Opens the fields of an entry and leaves the focus on the drawing.
fn open_beside(place: &Place) {
    let entry = holder(place).filter(|_| matches!(place.part, Part::Entry { .. }));
    let Some(holder) = entry else { return };
    open_around(&holder);
    open_inside(&holder);
    scroll_panel_to(&holder);
}

/// Brings a part of the panel into view. Only the panel moves: the page stays under the hand that is on
/// the drawing.
fn scroll_panel_to(part: &Element) {
    let Ok(Some(panel)) = part.closest(".panel") else { return };
    let (room, taken) = (panel.get_bounding_client_rect(), part.get_bounding_client_rect());
    if taken.top() < room.top() || room.bottom() < taken.bottom() {
        panel.scroll_by_with_x_and_y(0.0, taken.top() - room.top());
    }
}

fn scroll_to(target: &Element) {
    let options = ScrollIntoViewOptions::new();
    options.set_block(ScrollLogicalPosition::Nearest);
    target.scroll_into_view_with_scroll_into_view_options(&options);
}

/// Puts the focus on the first of some places that is there once what was asked for is drawn: the
/// button that asked may be gone by then, and what stands in its place must not answer the same key.
/// The page stays where it is under the hand.
pub fn focus_next(places: Vec<String>) {
    after_hold(move || request_animation_frame(move || focus_first(&places)));
}

fn focus_first(places: &[String]) {
    let found = places.iter().find_map(|place| document().query_selector(place).ok()?);
    if let Some(next) = found.and_then(|found| found.dyn_into::<HtmlElement>().ok()) {
        let options = FocusOptions::new();
        options.set_prevent_scroll(true);
        let _taken = next.focus_with_options(&options);
    }
}

/// Puts the focus behind the header.
pub fn skip_to_content(event: ev::MouseEvent) {
    event.prevent_default();
    if let Some(content) = document().get_element_by_id("content") {
        focus(&content);
    }
}

/// Shows a field of the job itself and puts the focus there.
pub fn show_field_of_job(name: &str) {
    let about = document().get_element_by_id("about");
    let Some(field) = about.and_then(|about| named(&about, name)) else { return };
    scroll_to(&field);
    focus(&field);
}

fn show(place: &Place) {
    let Some(holder) = holder(place) else { return };
    let field = place.field.as_deref().and_then(|field| named(&holder, field));
    open_around(field.as_ref().unwrap_or(&holder));
    open_inside(&holder);
    let first = || holder.query_selector("summary").ok().flatten();
    let target = field.or_else(first).unwrap_or_else(|| holder.clone());
    scroll_to(&target);
    focus(&target);
}

fn holder(place: &Place) -> Option<Element> {
    let id = match &place.part {
        Part::Entry { noun, number } => entry_id(*noun, *number),
        Part::Whole if place.field.is_some() => "wall-form".to_owned(),
        Part::Whole | Part::Compartment(_) => return None,
    };
    document().get_element_by_id(&id)
}

fn named(holder: &Element, field: &str) -> Option<Element> {
    let name = field.rsplit('.').next()?;
    let plain = name.bytes().all(|byte| byte.is_ascii_alphanumeric() || byte == b'_');
    plain.then(|| holder.query_selector(&format!("[name={name}]")).ok().flatten()).flatten()
}

fn open_around(element: &Element) {
    let mut around = Some(element.clone());
    while let Some(element) = around {
        open(&element);
        around = element.parent_element();
    }
}

fn open_inside(holder: &Element) {
    if let Ok(Some(details)) = holder.query_selector(":scope > details") {
        open(&details);
    }
}

fn open(element: &Element) {
    if let Some(details) = element.dyn_ref::<HtmlDetailsElement>() {
        details.set_open(true);
    }
}

fn focus(element: &Element) {
    if let Some(element) = element.dyn_ref::<HtmlElement>() {
        // Focus is a help; an element that does not take it is still shown.
        let _taken = element.focus();
    }
}
