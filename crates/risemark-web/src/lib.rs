//! The planner in the browser: the app, and the functions that other pages call.
//!
//! | module | what it is |
//! |---|---|
//! | [`command`], [`history`], [`step`] | what can be done to a job, and taken back |
//! | [`planner`] | the plan of a job, of which one edit renews one wall |
//! | [`search`], [`shooting`] | the searches for the best lines and for the order, in workers beside the screen |
//! | [`session`], [`part`] | the state as signals, and parts of it as forms see them |
//! | [`route`] | the places of the app and their addresses |
//! | [`fresh`], [`shape`], [`sample`] | new entries, other kinds of them, the sample job |
//! | [`rest`] | what the first picture does not wait for |
//! | [`room`] | what the walls of a room have in common |
//! | [`view`] | what is seen |
//! | [`store`] | keeps the jobs between two visits |
//! | [`hold`] | lets what is drawn wait for the disk |
//! | [`link`] | a whole job in an address |
//! | [`files`], [`printing`] | the only ones that touch files and paper |
//! | [`api`] | the functions for other pages |

pub mod api;
pub mod command;
pub mod edit;
pub mod files;
pub mod fresh;
pub mod history;
pub mod hold;
pub mod link;
pub mod part;
pub mod picture;
pub mod planner;
pub mod poured;
pub mod printing;
pub mod rest;
pub mod room;
pub mod route;
pub mod sample;
pub mod search;
pub mod session;
pub mod shape;
pub mod shooting;
pub mod step;
pub mod store;
pub mod view;
pub mod words;

use wasm_bindgen::prelude::{JsError, wasm_bindgen};
use wasm_bindgen_futures::spawn_local;

/// Opens the app in the page that calls this.
///
/// # Errors
/// When the job that is kept cannot be opened because part of the app cannot be loaded.
#[wasm_bindgen(js_name = openApp)]
pub async fn open_app() -> Result<(), JsError> {
    console_error_panic_hook::set_once();
    hold::hold_effects();
    // On its way while the browser opens its storage; who needs it hears whether it has come.
    spawn_local(async {
        let _asked = rest::rest().await;
    });
    let start = store::keeper::Start::find().await?;
    leptos::mount::mount_to_body(move || view::app(start));
    Ok(())
}
