//! The browser app of the planner.

use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

/// Shows the app in the page's body.
///
/// # Errors
///
/// Fails when the page refuses the new element.
#[wasm_bindgen(start)]
pub fn start() -> Result<(), JsValue> {
    console_error_panic_hook::set_once();
    let Some(document) = web_sys::window().and_then(|window| window.document()) else {
        return Ok(());
    };
    let main = document.create_element("main")?;
    for (tag, text) in [("h1", "Risemark"), ("p", "Plans slow-rise foam for hollow walls.")] {
        let element = document.create_element(tag)?;
        element.set_text_content(Some(text));
        main.append_child(&element)?;
    }
    match document.body() {
        Some(body) => body.append_child(&main).map(drop),
        None => Ok(()),
    }
}
