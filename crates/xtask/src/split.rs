//! Splits the compiled app into what its first picture needs and the rest, which is loaded after it.
//!
//! The library that does it finds the functions that are called from the split point of the app alone
//! (`rest.rs` in the app), and moves them with their data into a module that shares the memory of the
//! first.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow, ensure};
use wasm_split_cli_support::{Options, transform};

/// The module of the rest, in the folder of the app.
pub(crate) const REST: &str = "rest.wasm";

/// What the library calls that module.
const SPLIT_OFF: &str = "split_rest.wasm";

/// The script that joins the two, which the first part asks for under this name.
pub(crate) const LINK: &str = "./__wasm_split.js";

/// How that script takes what the host has answered.
const STREAMED: &str = "WebAssembly.instantiateStreaming(src, imports)";

/// The same for hosts that refuse, or that give modules another type.
const INSTANTIATED: &str = "instantiated(src, imports)";

const INSTANTIATE: &str = r"
async function instantiated(asked, imports) {
    const answer = await asked;
    if (!answer.ok) throw new Error(`${answer.url}: ${answer.status}`);
    if (answer.headers.get('content-type') === 'application/wasm') {
        return WebAssembly.instantiateStreaming(answer, imports);
    }
    return WebAssembly.instantiate(await answer.arrayBuffer(), imports);
}
";

/// An app in two parts.
pub(crate) struct Parts {
    /// The module of the first part, which is still to be bound to JavaScript.
    pub first: PathBuf,
    /// The module of the rest.
    pub rest: PathBuf,
    /// The script that loads the rest.
    pub link: String,
}

/// Splits a module, which must have been linked with its relocations; writes into a folder.
///
/// # Errors
/// When the module cannot be split, or not into these two parts.
pub(crate) fn split(module: &Path, folder: &Path) -> Result<Parts> {
    let read =
        |file: &Path| fs::read(file).with_context(|| format!("cannot read {}", file.display()));
    let (input, first) = (read(module)?, folder.join("app.wasm"));
    let mut options = Options::new(&input);
    options.output_dir = folder;
    options.main_out_path = &first;
    options.main_module = "./app.js";
    options.link_name = LINK;
    let split = transform(options)
        .map_err(|error| anyhow!("cannot split {}: {error:?}", module.display()))?;
    let rest = folder.join(SPLIT_OFF);
    ensure!(
        split.split_modules == [rest.clone()],
        "expected the app and its rest, found {:?}",
        split.split_modules
    );
    Ok(Parts { first, rest, link: link(&String::from_utf8(read(&folder.join(LINK))?)?)? })
}

/// The script of the library, for any host, and with our name of the module.
fn link(script: &str) -> Result<String> {
    ensure!(script.contains(STREAMED), "the script that loads the rest does not say {STREAMED}");
    let script = script.replace(STREAMED, INSTANTIATED).replace(SPLIT_OFF, REST);
    Ok(format!("{script}{INSTANTIATE}"))
}
