//! One tab at a time may write: it holds a lock that the browser frees with the tab.

use js_sys::{Array, Function, Promise};
use leptos::prelude::window;
use wasm_bindgen::{JsCast, JsValue, closure::Closure, prelude::wasm_bindgen};
use wasm_bindgen_futures::JsFuture;

const NAME: &str = "risemark-writer";

/// A page that is loaded again waits this long for its own lock from before, at most.
const SOON_MS: i32 = 400;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(catch, js_namespace = ["navigator", "locks"])]
    fn request(name: &str, held: &JsValue) -> Result<Promise, JsValue>;
}

/// The turn of this tab, which may be yet to come.
#[derive(Debug, Clone)]
pub struct Turn(Promise);

impl Turn {
    /// Asks for the turn; it is held until the tab is closed.
    ///
    /// # Errors
    /// When the browser has no locks.
    pub fn ask() -> Result<Self, JsValue> {
        let mut outcome = Ok(());
        let comes = Promise::new(&mut |resolve: Function, _| {
            let held = Closure::once_into_js(move || {
                // Nobody minds when nobody waits any more.
                let _told = resolve.call0(&JsValue::UNDEFINED);
                Promise::new(&mut |_, _| {})
            });
            outcome = request(NAME, &held).map(drop);
        });
        outcome.map(|()| Self(comes))
    }

    /// Whether it is this tab's turn now or in a moment.
    pub async fn comes_soon(&self) -> bool {
        let too_late = Promise::new(&mut |_, reject| {
            // Without a timer the page would only wait longer.
            let _timer =
                window().set_timeout_with_callback_and_timeout_and_arguments_0(&reject, SOON_MS);
        });
        let first = Promise::race(Array::of2(&self.0, &too_late).unchecked_ref());
        JsFuture::from(first).await.is_ok()
    }

    /// Waits for this tab's turn.
    pub async fn comes(self) {
        // The promise has no way to fail.
        let _came = JsFuture::from(self.0).await;
    }
}
