//! Splits the compiled app into what its first picture needs and the rest, for which it does not wait.
//!
//! The library that does it finds the functions that are called from the split point of the app alone
//! (`rest.rs` in the app), and moves them with their data into a module that shares the memory of the
//! first.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow, ensure};
use flate2::Crc;
use wasm_split_cli_support::{Options, transform};

/// What the library calls the module of the rest.
const SPLIT_OFF: &str = "split_rest.wasm";

/// What the name of that module begins with in the folder of the app.
const REST: &str = "rest-";

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
    /// The library's script that loads the rest.
    pub script: PathBuf,
}

/// Splits a module, which must have been linked with its relocations; writes into a folder.
///
/// # Errors
/// When the module cannot be split, or not into these two parts.
pub(crate) fn split(module: &Path, folder: &Path) -> Result<Parts> {
    let input = fs::read(module).with_context(|| format!("cannot read {}", module.display()))?;
    let (first, rest) = (folder.join("app.wasm"), folder.join(SPLIT_OFF));
    let mut options = Options::new(&input);
    options.output_dir = folder;
    options.main_out_path = &first;
    options.main_module = "./app.js";
    options.link_name = LINK;
    let split = transform(options)
        .map_err(|error| anyhow!("cannot split {}: {error:?}", module.display()))?;
    ensure!(
        split.split_modules == [rest.clone()],
        "expected the app and its rest, found {:?}",
        split.split_modules
    );
    Ok(Parts { first, rest, script: folder.join(LINK) })
}

/// The name of a module of the rest. It changes with the module, so that the first part of one version
/// never takes in the rest of another, whose addresses in their memory differ.
pub(crate) fn name(rest: &[u8]) -> String {
    let mut sum = Crc::new();
    sum.update(rest);
    format!("{REST}{:08x}.wasm", sum.sum())
}

/// Whether a file of the app is the module of the rest.
pub(crate) fn is_rest(file: &Path) -> bool {
    let name = file.file_name().unwrap_or_default().to_string_lossy();
    name.starts_with(REST) && name.ends_with(".wasm")
}

/// The script that loads the rest from any host, made of the library's.
///
/// # Errors
/// When that script is another than is expected.
pub(crate) fn link(script: &str, rest: &str) -> Result<String> {
    for expected in [STREAMED, SPLIT_OFF] {
        ensure!(script.contains(expected), "the script that loads the rest has no {expected}");
    }
    let script = script.replace(STREAMED, INSTANTIATED).replace(SPLIT_OFF, rest);
    Ok(format!("{script}{INSTANTIATE}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn another_rest_bears_another_name() {
        let (one, two) = (name(b"one"), name(b"two"));
        assert_ne!(one, two, "of two modules");
        assert!(is_rest(&Path::new("app").join(&one)), "{one} is known again");
        assert!(!is_rest(Path::new("app/app_bg.wasm")), "the first part is another");
    }

    #[test]
    fn the_script_asks_for_the_rest_by_its_name() {
        let script = format!("new URL(\"./{SPLIT_OFF}\"); {STREAMED};\n");
        let linked = link(&script, "rest-1.wasm").expect("a script of the library");
        assert!(linked.starts_with("new URL(\"./rest-1.wasm\"); instantiated("), "{linked}");
        assert!(link("fetch(src)", "rest-1.wasm").is_err(), "another script is refused");
    }
}
