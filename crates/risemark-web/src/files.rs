//! The files of the user: the only place that opens and saves them.

use js_sys::{Array, Uint8Array};
use leptos::prelude::document;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Blob, BlobPropertyBag, File, HtmlAnchorElement, HtmlInputElement, Url};

/// The file that was chosen in a file picker; the picker forgets it, so that it can be chosen again.
pub fn chosen(picker: &HtmlInputElement) -> Option<File> {
    let file = picker.files().and_then(|files| files.get(0));
    picker.set_value("");
    file
}

/// Reads a file as text.
pub async fn text(file: &File) -> Option<String> {
    // A text of JavaScript would be turned into one of its own kind and back.
    let bytes = wasm_bindgen_futures::JsFuture::from(file.array_buffer()).await.ok()?;
    let text = String::from_utf8(Uint8Array::new(&bytes).to_vec());
    Some(text.unwrap_or_else(|bytes| String::from_utf8_lossy(bytes.as_bytes()).into_owned()))
}

/// Hands a text to the user as a file.
pub fn save(name: &str, kind: &str, text: &str) -> Result<(), JsValue> {
    let options = BlobPropertyBag::new();
    options.set_type(kind);
    let parts = Array::of1(&JsValue::from_str(text));
    let blob = Blob::new_with_str_sequence_and_options(&parts, &options)?;
    let address = Url::create_object_url_with_blob(&blob)?;
    let link: HtmlAnchorElement = document().create_element("a")?.unchecked_into();
    link.set_href(&address);
    link.set_download(name);
    link.click();
    // The download has its own hold on the data by now.
    Url::revoke_object_url(&address)
}
