//! The search for the order of the shots, in a worker, so that it never holds up the screen.
//!
//! The worker is sent the problem as plain numbers and tells what it has found after every slice.
//! Where a browser gives no worker, the slices run between two pictures.

use std::{sync::Arc, time::Duration};

use js_sys::{Float64Array, Function};
use leptos::prelude::*;
use risemark::{
    finding::{Finding, Staged},
    quantity::{count, to_whole},
    shots::{Found, Problem, Search, ShotPlan, Unordered},
};
use wasm_bindgen::{
    JsCast,
    prelude::{Closure, JsError, JsValue, wasm_bindgen},
};
use web_sys::{MessageEvent, Worker};

use crate::{rest::rest, search};

/// Changes of the order that are tried before the page hears of it.
const TOLD: usize = 20_000;

/// Changes of the order that are tried between two pictures.
const SLICE: usize = 1_000;

/// Searches in a worker; see [`order`].
///
/// # Errors
/// When what searches cannot be loaded.
#[wasm_bindgen(js_name = searchOrder)]
pub async fn search_order(numbers: Vec<f64>, tell: Function) -> Result<(), JsError> {
    (rest().await?.order)(&numbers, &tell);
    Ok(())
}

/// Searches the order for a row of numbers: the search's number, then its problem.
///
/// Tells the number, how much is done, the bound, and the best order where it is a better one.
pub fn order(numbers: &[f64], tell: &Function) {
    let Some((turn, problem)) = numbers.split_first() else { return };
    let Some(problem) = Problem::of_numbers(problem) else { return };
    let mut search = Search::new(problem);
    let mut told = f64::INFINITY;
    loop {
        let done = search.advance(TOLD);
        let mut answer = vec![*turn, share(&search, done), search.bound()];
        if let Some(best) = search.best().filter(|best| done || best.cost < told) {
            told = best.cost;
            answer.extend(best.to_numbers());
        }
        // A page that is gone hears nothing, and ends this worker.
        let _told = tell.call1(&JsValue::NULL, &Float64Array::from(&answer[..]));
        if done {
            return;
        }
    }
}

fn share(search: &Search, done: bool) -> f64 {
    if done { 1.0 } else { search.share_done().min(0.99) }
}

/// What the search has found; copies share it.
#[derive(Debug, Clone, Copy)]
pub struct OrderSearch {
    /// The best order so far.
    pub plan: RwSignal<Option<Arc<ShotPlan>>>,
    /// What is to be said of it.
    pub said: RwSignal<Vec<Finding>>,
    /// How much of the search is done, from 0 to 1.
    pub share: RwSignal<f64>,
    /// The edition of what is poured that is searched or was.
    edition: RwSignal<Option<usize>>,
    /// Counts searches; what an earlier one still tells is not heard.
    turn: RwSignal<usize>,
    shots: StoredValue<Option<Unordered>>,
    helper: StoredValue<Option<Helper>, LocalStorage>,
}

/// A worker that searches, and what hears it; it ends with this.
struct Helper {
    worker: Worker,
    _answered: Closure<dyn Fn(MessageEvent)>,
    _failed: Closure<dyn Fn()>,
}

impl Drop for Helper {
    fn drop(&mut self) {
        self.worker.set_onmessage(None);
        self.worker.set_onerror(None);
        self.worker.terminate();
    }
}

impl Default for OrderSearch {
    /// Nothing yet.
    fn default() -> Self {
        Self {
            plan: RwSignal::new(None),
            said: RwSignal::new(Vec::new()),
            share: RwSignal::new(1.0),
            edition: RwSignal::new(None),
            turn: RwSignal::new(0),
            shots: StoredValue::new(None),
            helper: StoredValue::new_local(None),
        }
    }
}

impl OrderSearch {
    /// Searches the order of what is poured, and no longer of what was before.
    pub fn seek(self, edition: usize, shots: impl FnOnce() -> Unordered) {
        if untrack(|| self.edition.get()) != Some(edition) {
            self.begin(shots());
            self.edition.set(Some(edition));
        }
    }

    /// Searches nothing until there is something to seek.
    pub fn wait(self) {
        self.stop();
        self.edition.set(None);
        self.share.set(0.0);
    }

    /// Shows no order of anything that was poured before.
    pub fn forget_all_but(self, edition: usize) {
        if untrack(|| self.edition.get()) != Some(edition) {
            self.plan.set(None);
            self.said.set(Vec::new());
        }
    }

    /// The order of what is poured, and what is to be said of it, once the search is over.
    pub fn found(self, edition: usize) -> Option<(Arc<ShotPlan>, Vec<Finding>)> {
        let is_over = self.edition.get() == Some(edition) && 1.0 <= self.share.get();
        is_over.then(|| Some((self.plan.get()?, self.said.get()))).flatten()
    }

    fn begin(self, shots: Unordered) {
        self.stop();
        let turn = untrack(|| self.turn.get());
        self.share.set(0.0);
        let problem = shots.problem().clone();
        self.shots.set_value(Some(shots));
        let mut numbers = vec![count(turn)];
        numbers.extend(problem.to_numbers());
        if !self.ask(&numbers) {
            self.slice(turn, Search::new(problem));
        }
    }

    /// Stops; the best order so far stays.
    pub fn stop(self) {
        // A worker that is at work hears nothing until it is done.
        if untrack(|| self.share.get()) < 1.0 {
            self.helper.set_value(None);
        }
        self.turn.update(|turn| *turn += 1);
        self.share.set(1.0);
    }

    fn ask(self, numbers: &[f64]) -> bool {
        self.helper.update_value(|helper| {
            if helper.is_none() {
                *helper = self.helper();
            }
        });
        let numbers = Float64Array::from(numbers);
        let post = |helper: &Helper| helper.worker.post_message(&numbers).is_ok();
        self.helper.with_value(|helper| helper.as_ref().is_some_and(post))
    }

    fn helper(self) -> Option<Helper> {
        let worker = search::worker()?;
        let answered = Closure::<dyn Fn(MessageEvent)>::new(move |event: MessageEvent| {
            self.hear(&Float64Array::new(&event.data()).to_vec());
        });
        let failed = Closure::<dyn Fn()>::new(move || self.go_on_alone());
        worker.set_onmessage(Some(answered.as_ref().unchecked_ref()));
        worker.set_onerror(Some(failed.as_ref().unchecked_ref()));
        Some(Helper { worker, _answered: answered, _failed: failed })
    }

    fn hear(self, answer: &[f64]) {
        let [turn, share, bound, found @ ..] = answer else { return };
        let turn = usize::try_from(to_whole(*turn)).unwrap_or(0);
        self.take(turn, (*share, *bound), Found::of_numbers(found).as_ref());
    }

    /// Without its worker the search runs here.
    fn go_on_alone(self) {
        let turn = untrack(|| self.turn.get());
        let problem = self.shots.with_value(|shots| Some(shots.as_ref()?.problem().clone()));
        // Whoever is told of the failure is dropped with the worker, and so not before it has been told.
        let begin = move || {
            let _dropped = self.helper.try_set_value(None);
            if let Some(problem) = problem {
                self.slice(turn, Search::new(problem));
            }
        };
        set_timeout(begin, Duration::ZERO);
    }

    /// One slice of the search, and the next after the page had its turn.
    fn slice(self, turn: usize, mut search: Search) {
        let go_on = move || {
            // The signals may be gone by then, and the search with them.
            if self.turn.try_get_untracked() != Some(turn) {
                return;
            }
            let done = search.advance(SLICE);
            let first = self.plan.with_untracked(Option::is_none);
            let found = search.best().filter(|_| done || first);
            self.take(turn, (share(&search, done), search.bound()), found);
            if !done {
                self.slice(turn, search);
            }
        };
        set_timeout(go_on, Duration::ZERO);
    }

    fn take(self, turn: usize, (share, bound): (f64, f64), found: Option<&Found>) {
        if self.turn.try_get_untracked() != Some(turn) {
            return;
        }
        // A slice that found nothing better tells no order.
        let is_told = found.is_some() || 1.0 <= share;
        let order = |shots: &Option<Unordered>| {
            shots.as_ref().filter(|_| is_told).map(|shots| shots.ordered(found, bound))
        };
        if let Some(Staged { product, findings }) = self.shots.with_value(order) {
            self.said.set(findings);
            self.plan.set(Some(Arc::new(product)));
        }
        self.share.set(share);
    }
}
