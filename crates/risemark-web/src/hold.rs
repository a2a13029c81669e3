//! What a step changes on the page is drawn once the step is on the disk, or a moment later.
//!
//! The browser writes beside the page, yet on a machine of two cores drawing holds that up, and the page
//! hears of it only after it has drawn. A write takes less time than there is between two pictures, so
//! that nobody sees the difference; what the user did is safe earlier, and is said to be kept with the
//! very picture that shows it.

use std::{
    cell::{Cell, RefCell},
    fmt,
    pin::Pin,
    rc::Rc,
    task::{Context, Poll, Waker},
    time::Duration,
};

use any_spawner::{CustomExecutor, Executor, PinnedFuture, PinnedLocalFuture};
use leptos::prelude::set_timeout;
use wasm_bindgen_futures::spawn_local;

/// A disk that takes longer does not hold up the page.
const AT_MOST: Duration = Duration::from_millis(5);

thread_local! {
    static NOW: RefCell<Option<Rc<Moment>>> = const { RefCell::new(None) };
}

/// One moment in which nothing is drawn, and who waits for its end.
#[derive(Default)]
struct Moment {
    is_over: Cell<bool>,
    effects: RefCell<Vec<Waker>>,
    acts: RefCell<Vec<Box<dyn FnOnce()>>>,
}

impl fmt::Debug for Moment {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        to.debug_struct("Moment").field("is_over", &self.is_over).finish_non_exhaustive()
    }
}

impl Moment {
    fn now() -> Option<Rc<Self>> {
        NOW.with_borrow(|now| now.clone().filter(|moment| !moment.is_over.get()))
    }

    fn end(&self) {
        if self.is_over.replace(true) {
            return;
        }
        self.effects.take().into_iter().for_each(Waker::wake);
        self.acts.take().into_iter().for_each(|act| act());
    }
}

/// As long as this is there, and never for long, effects wait.
#[derive(Debug)]
pub struct Hold(Rc<Moment>);

impl Hold {
    /// Begins at once: effects of what has just changed wait already.
    pub fn begin() -> Self {
        let moment = Moment::now().unwrap_or_default();
        NOW.set(Some(Rc::clone(&moment)));
        let longest = Rc::clone(&moment);
        set_timeout(move || longest.end(), AT_MOST);
        Self(moment)
    }
}

impl Drop for Hold {
    fn drop(&mut self) {
        self.0.end();
    }
}

/// Does something as soon as effects do not wait, so that a frame asked for then comes after them.
pub fn after_hold(act: impl FnOnce() + 'static) {
    match Moment::now() {
        Some(moment) => moment.acts.borrow_mut().push(Box::new(act)),
        None => act(),
    }
}

/// Lets the framework's effects wait; to be called before it starts.
pub fn hold_effects() {
    // Whoever has set another executor before has effects that do not wait, which harms nobody.
    let _set = Executor::init_custom_executor(Effects);
}

struct Effects;

impl CustomExecutor for Effects {
    fn spawn(&self, effect: PinnedFuture<()>) {
        spawn_local(effect);
    }

    fn spawn_local(&self, effect: PinnedLocalFuture<()>) {
        spawn_local(Held(effect));
    }

    fn poll_local(&self) {}
}

/// An effect that goes on only when none has to wait.
struct Held(PinnedLocalFuture<()>);

impl Future for Held {
    type Output = ();

    fn poll(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<()> {
        let Some(moment) = Moment::now() else {
            return self.0.as_mut().poll(context);
        };
        moment.effects.borrow_mut().push(context.waker().clone());
        Poll::Pending
    }
}
