//! A job on its way to another device: as a link, and as a code for a camera.

use leptos::{prelude::*, task::spawn_local};
use risemark::file;
use risemark_sheets::qr::qr;

use crate::{link, route::Route, session::Session, words};

/// What became of the wish for a link.
#[derive(Debug, Clone, PartialEq)]
enum Link {
    /// Here it is.
    Made(String),
    /// It would not arrive whole; this is its length.
    TooLong(usize),
    /// The browser cannot make one.
    Impossible,
}

/// The button that makes a link of the open job, and the link.
pub fn share(session: Session) -> AnyView {
    let link = RwSignal::new(None);
    // A link of the job as it was would be taken for one of the job as it is.
    Effect::new(move || {
        session.job(|_| ());
        link.set(None);
    });
    let make = move |_| {
        let Ok(text) = session.job(file::write) else { return };
        spawn_local(async move { link.set(Some(made(&text).await)) });
    };
    view! {
        <div class="share">
            <div class="actions">
                <button type="button" id="share-job" on:click=make>{words::SEND_AS_LINK.text()}</button>
            </div>
            <div role="status">{move || link.get().map(shown)}</div>
            {move || session.refused_link().map(refused)}
        </div>
    }
    .into_any()
}

/// Opens the job that an address carries, and goes to it.
pub fn open_link(session: Session, packed: String) {
    spawn_local(async move {
        let text = link::text(&packed).await;
        session.refuse_link(text.as_ref().err().copied());
        if let Ok(text) = text {
            match file::read(&text) {
                Ok(job) => session.look_at(&job),
                Err(findings) => session.refuse_file(findings),
            }
        }
        // The address is a fragment of this page; going there cannot fail.
        let _gone = window().location().set_hash(&Route::Job.href());
    });
}

async fn made(text: &str) -> Link {
    let Some(fragment) = link::address(text).await else { return Link::Impossible };
    let here = window().location().href().unwrap_or_default();
    let page = here.split('#').next().unwrap_or_default();
    let address = format!("{page}{fragment}");
    if link::LONGEST < address.len() {
        return Link::TooLong(address.len());
    }
    Link::Made(address)
}

fn shown(link: Link) -> AnyView {
    match link {
        Link::Made(address) => ready(address),
        Link::TooLong(n_signs) => {
            view! { <p id="link-refused">{words::LINK_TOO_LONG.text()} " " {words::link_size(n_signs)}</p> }
                .into_any()
        }
        Link::Impossible => view! { <p id="link-refused">{words::NO_LINK.text()}</p> }.into_any(),
    }
}

fn ready(address: String) -> AnyView {
    let copied = RwSignal::new(false);
    let copying = address.clone();
    let copy = move |_| {
        let written = window().navigator().clipboard().write_text(&copying);
        spawn_local(async move {
            copied.set(wasm_bindgen_futures::JsFuture::from(written).await.is_ok());
        });
    };
    let code = qr(&address).map(|code| {
        view! {
            <figure class="code">
                <div inner_html=code></div>
                <figcaption class="quiet">{words::CODE_HINT.text()}</figcaption>
            </figure>
        }
    });
    let size = words::link_size(address.len());
    view! {
        <p class="quiet">{words::LINK_HINT.text()} " " {size}</p>
        <div class="link">
            <input type="text" id="link" readonly aria-label=words::LINK.text() value=address />
            <button type="button" id="copy-link" on:click=copy>{words::COPY_LINK.text()}</button>
            <span>{move || copied.get().then_some(words::COPIED.text())}</span>
        </div>
        {code}
    }
    .into_any()
}

fn refused(refusal: link::Refusal) -> AnyView {
    view! {
        <div class="refused" id="shared-refused" role="alert">
            <h2>{words::LINK_REFUSED.text()}</h2>
            <p>{words::link_refused(refusal)}</p>
        </div>
    }
    .into_any()
}
