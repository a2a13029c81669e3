//! Parts of a page in which something is changed.

use leptos::prelude::*;

use crate::session::Session;

/// A part in which something is changed; where this page may only read, nothing in it can be used.
pub fn changeable(session: Session, part: impl IntoView + 'static) -> AnyView {
    let disabled = move || session.keeper.is_read_only();
    view! { <fieldset class="changeable" disabled=disabled>{part.into_any()}</fieldset> }.into_any()
}
