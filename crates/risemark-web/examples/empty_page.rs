//! The least page of the app's framework: `cargo xtask bench` holds the app's start against it.

use leptos::prelude::*;

fn main() {
    mount_to_body(|| view! { <main><h1>"Empty"</h1></main> });
}
