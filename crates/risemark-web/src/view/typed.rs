//! A field whose value is typed: it takes effect on Enter or when the field is left.
//!
//! Bad text stays as it was typed, is marked, and changes nothing.

use std::sync::{
    Arc,
    atomic::{AtomicUsize, Ordering},
};

use leptos::{ev, prelude::*};

/// What a field is called: for people, and in the job file.
pub type Label = (&'static str, &'static str);

/// Takes a text, or says why not.
pub type Accept = Arc<dyn Fn(&str) -> Result<(), String> + Send + Sync>;
/// Shows how a text is read.
pub type Preview = Arc<dyn Fn(&str) -> Option<String> + Send + Sync>;
/// Gives the text after a stride.
pub type Step = Arc<dyn Fn(&str, Stride) -> Option<String> + Send + Sync>;

/// How far an arrow key goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stride {
    /// A step up.
    Up,
    /// A step down.
    Down,
    /// A foot, 100 mm or ten up.
    FarUp,
    /// A foot, 100 mm or ten down.
    FarDown,
}

/// A field whose value is typed.
#[expect(missing_debug_implementations, reason = "it holds closures, which have nothing to show")]
pub struct Typed {
    /// What it is called.
    pub label: Label,
    /// The value as it is shown; empty when none is given.
    pub shown: Memo<String>,
    /// What stands in the field while it is empty.
    pub placeholder: Signal<String>,
    /// What is said under the label.
    pub note: Signal<String>,
    /// Takes a text, or says why not.
    pub accept: Accept,
    /// How a text is read, while it is typed.
    pub preview: Preview,
    /// The text after an arrow key, where the value has steps.
    pub step: Option<Step>,
    /// Which keys a phone shows.
    pub keyboard: &'static str,
}

/// What stands in a field at the moment.
#[derive(Debug, Clone, Copy)]
struct Typing {
    shown: Memo<String>,
    text: RwSignal<String>,
    message: RwSignal<String>,
}

impl Typing {
    fn new(shown: Memo<String>) -> Self {
        let typing = Self {
            shown,
            text: RwSignal::new(String::new()),
            message: RwSignal::new(String::new()),
        };
        Effect::new(move || {
            typing.text.set(shown.get());
            typing.message.set(String::new());
        });
        typing
    }

    /// Shows the value again as it is.
    fn restore(self) {
        self.text.set(self.shown.get_untracked());
        self.message.set(String::new());
    }

    fn is_changed(self) -> bool {
        self.text.get_untracked() != self.shown.get_untracked()
    }

    fn take(self, accept: &Accept) {
        // A field that goes away loses its focus last of all, when its state is gone already.
        let Some((typed, known)) =
            self.text.try_get_untracked().zip(self.shown.try_get_untracked())
        else {
            return;
        };
        if typed == known {
            return self.message.set(String::new());
        }
        match accept(&typed) {
            Ok(()) => self.restore(),
            Err(refusal) => self.message.set(refusal),
        }
    }

    fn on_key(self, event: &ev::KeyboardEvent, accept: &Accept, step: Option<&Step>) {
        match (event.key().as_str(), step) {
            ("Enter", _) => self.take(accept),
            ("Escape", _) => self.restore(),
            ("ArrowUp" | "ArrowDown", Some(step)) => {
                event.prevent_default();
                if let Some(stepped) = step(&self.text.get_untracked(), stride_of(event)) {
                    self.text.set(stepped);
                    self.take(accept);
                }
            }
            // Half-typed text is taken back by the browser; the job by the app.
            ("z" | "Z" | "y", _) if self.is_changed() => event.stop_propagation(),
            _ => {}
        }
    }

    /// How the text is read while it is typed, or else what the value rests on.
    fn hint(self, preview: &Preview, note: Signal<String>) -> String {
        let typed = self.text.get();
        match preview(&typed) {
            Some(read) if typed != self.shown.get() && typed.trim() != read => format!("= {read}"),
            _ => note.get(),
        }
    }
}

/// Shows a field whose value is typed.
pub fn typed(field: Typed) -> AnyView {
    let Typed { label, shown, placeholder, note, accept, preview, step, keyboard } = field;
    let (id, typing) = (new_id(), Typing::new(shown));
    let Typing { text, message, .. } = typing;
    let on_leave = Arc::clone(&accept);
    let invalid = move || message.with(|message| !message.is_empty()).to_string();
    view! {
        <div class="field">
            <label for=id.clone()>{label.0}</label>
            <input id=id.clone() name=label.1 type="text" inputmode=keyboard autocomplete="off"
                spellcheck="false" placeholder=placeholder prop:value=text
                aria-invalid=invalid
                aria-describedby=format!("{id}-note {id}-message")
                on:input=move |event| text.set(event_target_value(&event))
                on:keydown=move |event| typing.on_key(&event, &accept, step.as_ref())
                on:blur=move |_| typing.take(&on_leave) />
            <p class="assumption" id=format!("{id}-note")>{move || typing.hint(&preview, note)}</p>
            <p class="message" id=format!("{id}-message") role="alert">{message}</p>
        </div>
    }
    .into_any()
}

fn stride_of(event: &ev::KeyboardEvent) -> Stride {
    match (event.key() == "ArrowUp", event.shift_key()) {
        (true, false) => Stride::Up,
        (true, true) => Stride::FarUp,
        (false, false) => Stride::Down,
        (false, true) => Stride::FarDown,
    }
}

/// An id for an element that labels and notes refer to.
pub fn new_id() -> String {
    static NEXT: AtomicUsize = AtomicUsize::new(1);
    format!("f{}", NEXT.fetch_add(1, Ordering::Relaxed))
}
