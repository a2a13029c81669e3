//! Where the project keeps its sources and where the tool puts what it makes.

use std::env;
use std::path::PathBuf;

/// The checkout that this tool was compiled in.
pub fn root() -> PathBuf {
    let crate_dir = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    match crate_dir.ancestors().nth(2) {
        Some(root) => root.to_path_buf(),
        None => crate_dir,
    }
}

/// Cargo's target directory, also when the environment moves it elsewhere.
pub fn target() -> PathBuf {
    match env::var_os("CARGO_TARGET_DIR") {
        Some(dir) => root().join(dir),
        None => root().join("target"),
    }
}

/// The sources of the page: everything in here is part of the app as it is.
pub fn www() -> PathBuf {
    root().join("www")
}

/// The built app, ready to be served.
pub fn app() -> PathBuf {
    target().join("app")
}

/// The least page of the app's framework, ready to be served; it lies beside the app.
pub fn empty_page() -> PathBuf {
    target().join("empty-page")
}

/// The app as it goes to a static host.
pub fn dist() -> PathBuf {
    target().join("dist")
}

/// Screenshots and printed pages of the browser tests.
pub fn shots() -> PathBuf {
    target().join("shots")
}

/// The accessibility checker's script, once it has been fetched.
pub fn axe() -> PathBuf {
    target().join("axe").join("axe.min.js")
}
