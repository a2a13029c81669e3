//! The language of the screen, chosen for the device and not for a job.

use leptos::prelude::*;
use risemark::language::Language;
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;

use super::field::choice;
use crate::{part::Part, session::Session, words};

/// What the choice is called in the page.
const NAME: &str = "language";

/// The choice.
pub fn choose(session: Session) -> AnyView {
    let language = Part::new(
        move || Some(session.language()),
        move |language| {
            session.speak(language);
            Ok(())
        },
    );
    view! {
        <div class="fields">{choice((words::LANGUAGE.text(), NAME), words::LANGUAGES, language)}</div>
    }
    .into_any()
}

/// The page says which language it is in, and the choice keeps the focus while all is drawn anew.
pub fn follow(session: Session) {
    Effect::new(move |earlier: Option<Language>| {
        let language = session.language();
        if let Some(page) = document().document_element() {
            // A name like this is never refused.
            let _set = page.set_attribute("lang", language.code());
        }
        if earlier.is_some_and(|earlier| earlier != language) {
            request_animation_frame(focus);
        }
        language
    });
}

fn focus() {
    let choice = document().query_selector(&format!("[name={NAME}]")).ok().flatten();
    if let Some(choice) = choice.and_then(|choice| choice.dyn_into::<HtmlElement>().ok()) {
        // What is on the page can be focused.
        let _focused = choice.focus();
    }
}
