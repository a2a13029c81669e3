//! The rest of the app: whatever changes a job, the pages beside that of the job, the searches, and the
//! functions for other pages.
//!
//! The first picture does not wait for it: in the published app (feature `split`) it is a module of its
//! own, on its way while the browser opens its storage. What lies in it is not written down anywhere: it
//! is whatever [`Rest`] alone leads to. So nothing outside may call what is named here but through this
//! table, or it lies with the first picture from then on, as `cargo xtask dist` will tell by its size.

use std::sync::OnceLock;

use js_sys::Function;
use leptos::{prelude::*, task::spawn_local};
use risemark::finding::Finding;
use wasm_bindgen::prelude::JsValue;
use wasm_split_helpers::SplitLoaderError;

use crate::{
    api,
    history::History,
    poured::poured,
    route::Route,
    search,
    session::Session,
    shooting,
    view::{add, foam, job, jobs, share, sheets, steps, wall, walls},
};

/// What the rest of the app does.
#[derive(Debug)]
pub struct Rest {
    /// Reads the job of a file, see [`History::read`].
    pub read: fn(String) -> Result<History, Vec<Finding>>,
    /// Begins, once, to follow what the user does anywhere on the page.
    pub begin: fn(Session),
    /// Opens the job that an address carries.
    pub open_link: fn(Session, String),
    /// The page of a place that is not the job's.
    pub page: fn(Session, Route) -> AnyView,
    /// The buttons that take steps back and do them again.
    pub steps: fn(Session) -> AnyView,
    /// What can be done with files and with the jobs on this device.
    pub files: fn(Session) -> AnyView,
    /// The questions for a new wall.
    pub add_wall: fn(Session) -> AnyView,
    /// What is asked about the job.
    pub settings: fn(Session) -> AnyView,
    /// What can be done with a wall of the list.
    pub wall_acts: fn(&walls::Listed, walls::List) -> AnyView,
    /// Moves a wall of the list to another position.
    pub move_wall: fn(&walls::Listed, walls::List, usize),
    /// See [`search::lines`].
    pub lines: fn(&str) -> Vec<f64>,
    /// See [`shooting::order`].
    pub order: fn(&[f64], &Function),
    /// See [`api::plan`].
    pub plan: fn(&JsValue, &JsValue) -> Result<JsValue, JsValue>,
    /// See [`api::sheet`].
    pub sheet: fn(&JsValue, &str, &JsValue) -> Result<JsValue, JsValue>,
}

static REST: Rest = Rest {
    read: History::read,
    begin,
    open_link: share::open_link,
    page,
    steps: steps::steps,
    files: job::files,
    add_wall: add::add_wall,
    settings: job::settings,
    wall_acts: walls::acts::acts,
    move_wall: walls::acts::move_to,
    lines: search::lines,
    order: shooting::order,
    plan: api::plan,
    sheet: api::sheet,
};

static HERE: OnceLock<&'static Rest> = OnceLock::new();

/// Loads the rest of the app; gives it at once where it is here already.
///
/// # Errors
/// When it cannot be loaded; the next call tries again.
pub async fn rest() -> Result<&'static Rest, SplitLoaderError> {
    if let Some(rest) = now() {
        return Ok(rest);
    }
    let rest = loaded().await?;
    // Whoever asked at the same time has set the same.
    Ok(HERE.get_or_init(|| rest))
}

/// The rest of the app, where it is here already.
pub fn now() -> Option<&'static Rest> {
    HERE.get().copied()
}

/// The way into the module of its own.
#[cfg(feature = "split")]
#[wasm_split_helpers::wasm_split(rest, fallible)]
fn loaded() -> Result<&'static Rest, SplitLoaderError> {
    Ok(&REST)
}

#[cfg(not(feature = "split"))]
async fn loaded() -> Result<&'static Rest, SplitLoaderError> {
    Ok(&REST)
}

/// How the rest of the app arrives; copies share it.
#[derive(Debug, Clone, Copy)]
pub struct Arrival {
    state: RwSignal<State>,
    /// What the rest follows it follows as long as the app is there, not as long as the page that asked.
    app: StoredValue<Owner>,
}

#[derive(Debug, Clone, Copy)]
enum State {
    Coming,
    Here(&'static Rest),
    Missing,
}

impl Arrival {
    /// Something that is still to come, for the part of the app that makes this.
    pub fn awaited() -> Self {
        let app = StoredValue::new(Owner::current().unwrap_or_default());
        Self { state: RwSignal::new(State::Coming), app }
    }

    /// The rest, once it is here.
    pub fn here(self) -> Option<&'static Rest> {
        match self.state.get() {
            State::Here(rest) => Some(rest),
            State::Coming | State::Missing => None,
        }
    }

    /// Whether it could not be loaded.
    pub fn is_missing(self) -> bool {
        matches!(self.state.get(), State::Missing)
    }

    /// Loads the rest for a session; where it is here already, it is taken in at once.
    pub fn load(self, session: Session) {
        if let Some(rest) = now() {
            return self.take(session, rest);
        }
        self.state.set(State::Coming);
        spawn_local(async move {
            match rest().await.ok().or_else(now) {
                Some(rest) => self.take(session, rest),
                None => self.state.set(State::Missing),
            }
        });
    }

    fn take(self, session: Session, rest: &'static Rest) {
        // Whoever asks twice has it begin once.
        if matches!(self.state.get_untracked(), State::Here(_)) {
            return;
        }
        self.app.get_value().with(|| (rest.begin)(session));
        self.state.set(State::Here(rest));
    }
}

fn begin(session: Session) {
    provide_context(poured(session));
    steps::follow_keys(session);
    jobs::follow_drops(session);
}

fn page(session: Session, route: Route) -> AnyView {
    match route {
        Route::Job => job::page(session),
        Route::Wall(id) => wall::page(session, id),
        Route::Foam => foam::page(session),
        Route::Sheets(id) => sheets::page(session, id),
    }
}
