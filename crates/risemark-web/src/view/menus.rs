//! Menus that lie over the page: whoever goes on beside one, or presses Escape, closes it.

use leptos::{ev, prelude::*};
use wasm_bindgen::JsCast;
use web_sys::{HtmlDetailsElement, HtmlElement, Node};

/// Closes the menu that nobody looks at any more.
pub fn follow_menus() {
    let _kept_for_ever = window_event_listener(ev::pointerdown, |event| {
        let target = event.target().and_then(|target| target.dyn_into::<Node>().ok());
        if let Some(menu) = open_menu().filter(|menu| !menu.contains(target.as_ref())) {
            menu.set_open(false);
        }
    });
    let _kept_for_ever = window_event_listener(ev::keydown, |event| {
        let Some(menu) = open_menu().filter(|_| event.key() == "Escape") else { return };
        let had_focus = menu.contains(document().active_element().as_deref());
        menu.set_open(false);
        if had_focus && let Some(summary) = summary(&menu) {
            // Who cannot take the focus has not opened the menu by keys.
            let _taken = summary.focus();
        }
    });
}

/// The menu that is open; whoever opens another has closed it.
fn open_menu() -> Option<HtmlDetailsElement> {
    document().query_selector("details.menu[open]").ok()??.dyn_into().ok()
}

fn summary(menu: &HtmlDetailsElement) -> Option<HtmlElement> {
    menu.query_selector("summary").ok()??.dyn_into().ok()
}
