//! The button that sends a form.

use leptos::{ev, prelude::*};
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;

use crate::words::Word;

/// A button that sends its form with all that is typed in it.
///
/// A field takes its text when it is left, and its message may go then: a button that moves up with that
/// would be missed by the pointer. So the field is left only when the button has been let go.
pub fn submit(id: &'static str, class: &'static str, word: Word) -> AnyView {
    let stay = |event: ev::MouseEvent| event.prevent_default();
    let leave = |event: ev::MouseEvent| {
        // Whoever sends a form by a key stays in the field.
        let pressed = event.target().filter(|_| 0 < event.detail());
        if let Some(button) = pressed.and_then(|target| target.dyn_into::<HtmlElement>().ok()) {
            // A button that cannot take the focus leaves it where it is.
            let _taken = button.focus();
        }
    };
    view! {
        <button type="submit" class=class id=id on:mousedown=stay on:click=leave>{word.text()}</button>
    }
    .into_any()
}
