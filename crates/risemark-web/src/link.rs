//! A whole job in an address: packed after the `#`, which browsers send to no server.

use wasm_bindgen::{JsValue, prelude::wasm_bindgen};

/// The longest link that is offered, in characters: messengers and mail programs cut longer ones
/// (common practice, no source). A longer job goes as a file.
pub const LONGEST: usize = 8_000;

/// The longest packed job that is opened, in characters.
const MOST_PACKED: usize = 200_000;

/// The longest job that a link may unpack to, in bytes; a few characters could stand for gigabytes.
const MOST_TEXT: u32 = 4_000_000;

/// What stands before the packed job in an address.
const BEFORE: &str = "#/shared/";

/// Why a link does not open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Refusal {
    /// It was cut or changed on its way.
    Damaged,
    /// It stands for more than any job needs.
    TooLarge,
}

#[wasm_bindgen(module = "/src/packing.js")]
extern "C" {
    #[wasm_bindgen(catch)]
    async fn pack(text: &str) -> Result<JsValue, JsValue>;
    #[wasm_bindgen(catch)]
    async fn unpack(packed: &str, most: u32) -> Result<JsValue, JsValue>;
}

/// The packed job that an address carries, if it carries one.
pub fn packed_in(hash: &str) -> Option<&str> {
    hash.strip_prefix(BEFORE)
}

/// The address of a job's text, after the address of the app.
///
/// `None` where the browser cannot pack.
pub async fn address(text: &str) -> Option<String> {
    let packed = pack(text).await.ok()?.as_string()?;
    Some(format!("{BEFORE}{packed}"))
}

/// The text of the job that was packed.
///
/// # Errors
/// When it cannot be unpacked, or only into more than a job may be.
pub async fn text(packed: &str) -> Result<String, Refusal> {
    if MOST_PACKED < packed.len() {
        return Err(Refusal::TooLarge);
    }
    match unpack(packed, MOST_TEXT).await {
        Ok(text) => text.as_string().ok_or(Refusal::Damaged),
        Err(reason) if reason.as_string().as_deref() == Some("too-large") => Err(Refusal::TooLarge),
        Err(_) => Err(Refusal::Damaged),
    }
}
