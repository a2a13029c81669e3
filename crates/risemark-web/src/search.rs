//! The search for the best snap lines, in a worker, so that it never holds up the screen.
//!
//! The worker is sent a job of one wall as the text of its file and answers with the lines. Where a
//! browser gives no worker, the search runs between two pictures.

use std::{cell::RefCell, rc::Rc, sync::Arc};

use js_sys::Float64Array;
use leptos::prelude::*;
use risemark::{
    drilling::Effort,
    file,
    geometry::Point,
    job::{Job, Wall},
    plan_wall,
    quantity::{Length, count, millimeters, to_mm, to_whole},
    rules::Rules,
};
use wasm_bindgen::{
    JsCast,
    prelude::{Closure, JsError, JsValue, wasm_bindgen},
};
use wasm_bindgen_futures::spawn_local;
use web_sys::{MessageEvent, Worker, WorkerOptions, WorkerType};

use crate::{
    planner::{EAGER, Found},
    rest::rest,
    route::Route,
    session::Session,
};

/// Searches in a worker; see [`lines`].
///
/// # Errors
/// When what searches cannot be loaded.
#[wasm_bindgen(js_name = searchLines)]
pub async fn search_lines(job: String) -> Result<Vec<f64>, JsError> {
    Ok((rest().await?.lines)(&job))
}

/// The best lines of a job of one wall, in millimetres: how many there are at least, how many there are,
/// their heights, and where the wall is of brick the places of its holes, each across and up.
///
/// Nothing where the text is no such job.
pub fn lines(job: &str) -> Vec<f64> {
    let Ok(job) = file::read(job) else { return Vec::new() };
    let Some(wall) = job.walls.first() else { return Vec::new() };
    let is_brick = wall.construction.is_brick();
    let drill = plan_wall(&job, 0, &Rules::of(&job), Effort::Thorough).drill;
    let mut answer = vec![count(drill.lines_bound), count(drill.snap_lines.len())];
    answer.extend(drill.snap_lines.iter().copied().map(to_mm));
    let places = drill.places().filter(|_| is_brick);
    answer.extend(places.flat_map(|place| [to_mm(place.x), to_mm(place.y)]));
    answer
}

/// A worker of the one program that all searches share; none where the browser gives none.
pub fn worker() -> Option<Worker> {
    let options = WorkerOptions::new();
    options.set_type(WorkerType::Module);
    Worker::new_with_options("./search.js", &options).ok()
}

/// What goes on beside the screen.
#[derive(Clone)]
struct Search {
    session: Session,
    found: RwSignal<Option<Found>>,
    /// What is being searched.
    busy: RwSignal<Option<Asked>>,
    worker: Rc<RefCell<Option<Worker>>>,
}

/// A wall that is being searched, and the settings by which it is.
#[derive(Debug, Clone)]
struct Asked {
    wall: Arc<Wall>,
    settings: Arc<Job>,
}

/// Searches the walls that were planned quickly, one after the other, the one in view first.
pub fn beside(session: Session, found: RwSignal<Option<Found>>) {
    let busy = RwSignal::new(None);
    let search = Search { session, found, busy, worker: Rc::new(RefCell::new(None)) };
    let due = RwSignal::new(false);
    let begin = search.clone();
    // The first picture need not wait for a second copy of the program to be loaded.
    request_animation_frame(move || {
        request_animation_frame(move || {
            *begin.worker.borrow_mut() = begin.start();
            let _begun = due.try_set(true);
        });
    });
    Effect::new(move || {
        if due.get() {
            search.next();
        }
    });
}

impl Search {
    fn start(&self) -> Option<Worker> {
        let worker = worker()?;
        let (answered, failed) = (self.clone(), self.clone());
        let on_message = Closure::<dyn Fn(MessageEvent)>::new(move |event: MessageEvent| {
            answered.take(&Float64Array::new(&event.data()).to_vec());
        });
        worker.set_onmessage(Some(on_message.as_ref().unchecked_ref()));
        let on_error = Closure::<dyn Fn()>::new(move || failed.go_on_alone());
        worker.set_onerror(Some(on_error.as_ref().unchecked_ref()));
        // The worker lives as long as the page.
        on_message.forget();
        on_error.forget();
        Some(worker)
    }

    /// Sends the next wall, if none is being searched.
    fn next(&self) {
        if self.busy.with(Option::is_some) {
            return;
        }
        let looked_at = match self.session.route() {
            Route::Wall(id) | Route::Sheets(id) => Some(id),
            Route::Job | Route::Foam => None,
        };
        let next = self.session.planned.with(|planned| {
            let next = planned.to_search(looked_at.as_deref())?;
            let in_view = looked_at.as_ref() == Some(&next.wall.id);
            let (wall, settings) = (Arc::clone(&next.wall), Arc::clone(&planned.settings));
            (in_view || planned.walls.len() <= EAGER).then_some(Asked { wall, settings })
        });
        let Some(asked) = next else { return };
        let Some(text) = self.text(&asked.wall) else { return };
        self.busy.set(Some(asked));
        let posted = self
            .worker
            .borrow()
            .as_ref()
            .map(|worker| worker.post_message(&JsValue::from_str(&text)));
        if !matches!(posted, Some(Ok(()))) {
            let search = self.clone();
            let lines = async move {
                // What cannot be loaded now leaves the quick plan as it is.
                if let Ok(rest) = rest().await {
                    search.take(&(rest.lines)(&text));
                }
            };
            set_timeout(move || spawn_local(lines), std::time::Duration::ZERO);
        }
    }

    fn text(&self, wall: &Wall) -> Option<String> {
        let job = self.session.alone(&wall.id)?;
        let job = Job { walls: vec![wall.clone()], ..job };
        file::write(&job).ok()
    }

    fn take(&self, answer: &[f64]) {
        let Some(Some(asked)) = self.busy.try_get_untracked() else { return };
        let whole = |figure: f64| usize::try_from(to_whole(figure)).unwrap_or(0);
        let (bound, lines, places) = match answer {
            [bound, n_lines, rest @ ..] => {
                let (lines, places) = rest.split_at(whole(*n_lines).min(rest.len()));
                (whole(*bound), lines, places)
            }
            _ => (0, answer, &[][..]),
        };
        let lines: Vec<Length> = lines.iter().map(|up| millimeters(*up)).collect();
        let place = |at: &[f64]| Point::new(millimeters(at[0]), millimeters(at[1]));
        let places = places.chunks_exact(2).map(place).collect();
        let Asked { wall, settings } = asked;
        self.found.set(Some(Found { wall, settings, lines, bound, places }));
        self.busy.set(None);
    }

    /// Without its worker the search runs here.
    fn go_on_alone(&self) {
        *self.worker.borrow_mut() = None;
        if self.busy.try_get_untracked().flatten().is_some() {
            self.busy.set(None);
        }
    }
}
