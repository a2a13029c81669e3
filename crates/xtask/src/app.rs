//! `cargo xtask build`: the compiled app and the page around it, in one folder.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use wasm_bindgen_cli::wasm_bindgen;
use xtask::paths;

use crate::arrange::arrange;
use crate::join::join;
use crate::split::{self, LINK, Parts, split};
use crate::{Subcommand, precache, shell, tools};

pub(crate) const SUBCOMMAND: Subcommand = Subcommand {
    name: "build",
    purpose: "Build the app into target/app",
    help: "Usage: cargo xtask build [--dev]

The folder holds the page of www/, the compiled app as app.js and app_bg.wasm, a module whose name
begins with rest- and that is loaded after the first picture, and app.d.ts with the types of its
JavaScript API.

  --dev   compile quickly, in one piece and without optimisation",
    run,
};

/// The module of the app as the compiler writes it.
const MODULE: &str = "risemark_web.wasm";

/// The name of the least page among the examples of the app's package.
const EMPTY_PAGE: &str = "empty_page";

/// What makes the published module smaller at no cost one sees: views of one erased type instead of a
/// type for every view, loops that count as they are written, which compress better than such as were
/// reshaped to save an addition, and fewer copies of what is called or done several times: without them
/// a search takes a seventh longer, and a picture no longer.
const SMALL: &str = "--cfg erase_components -C llvm-args=-disable-lsr \
    -C llvm-args=-unroll-threshold=20 -C llvm-args=-inline-threshold=60";

/// What tells which function calls which, so that the module can be split.
const RELOCATIONS: &str = "-C link-args=--emit-relocs";

/// How the app is compiled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Profile {
    /// Small and fast, as it is published.
    Release,
    /// Quick to compile, with assertions and function names.
    Dev,
}

impl Profile {
    /// The profile that `--dev` chooses; it is the only argument of the commands that use this.
    pub(crate) fn parse(mut args: lexopt::Parser) -> Result<Self> {
        let mut profile = Self::Release;
        while let Some(arg) = args.next()? {
            match arg {
                lexopt::Arg::Long("dev") => profile = Self::Dev,
                other => return Err(other.unexpected().into()),
            }
        }
        Ok(profile)
    }

    fn cargo_name(self) -> &'static str {
        match self {
            Self::Release => "wasm-release",
            Self::Dev => "dev",
        }
    }

    /// The folder's name differs from the profile's for cargo's own `dev` alone.
    fn folder(self) -> &'static str {
        match self {
            Self::Release => "wasm-release",
            Self::Dev => "debug",
        }
    }
}

/// Builds the app afresh and says where it is.
pub(crate) fn build(profile: Profile) -> Result<PathBuf> {
    tools::ensure_wasm_target()?;
    let app = paths::app();
    match profile {
        Profile::Release => build_split(&app)?,
        Profile::Dev => {
            let module = compile(profile, &["--lib"])?.join(MODULE);
            clear(&app)?;
            bind(profile, &module, None, &app)?;
        }
    }
    copy(&paths::www(), &app)?;
    precache::write(&app)?;
    Ok(app)
}

/// Builds the app in two parts: what its first picture needs, and the rest.
fn build_split(app: &Path) -> Result<()> {
    let module = compile(Profile::Release, &["--lib", "--features", "split"])?.join(MODULE);
    let folder = paths::target().join("split");
    clear(&folder)?;
    let Parts { first, rest, script } = split(&module, &folder)?;
    let rest = arranged(&rest)?;
    let name = split::name(&rest);
    let script =
        fs::read_to_string(&script).with_context(|| format!("cannot read {}", script.display()))?;
    clear(app)?;
    bind(Profile::Release, &first, Some(&split::link(&script, &name)?), app)?;
    fs::write(app.join(&name), rest).with_context(|| format!("cannot write {name}"))
}

/// Builds the least page of the app's framework, in the way the app is built.
pub(crate) fn build_empty_page() -> Result<()> {
    tools::ensure_wasm_target()?;
    let folder = compile(Profile::Release, &["--example", EMPTY_PAGE])?;
    let page = paths::empty_page();
    clear(&page)?;
    bind(
        Profile::Release,
        &folder.join("examples").join(EMPTY_PAGE).with_extension("wasm"),
        None,
        &page,
    )?;
    copy(&paths::root().join("tests/benches/empty-page"), &page)
}

/// Makes a folder empty, so that no file of an earlier build stays in it.
pub(crate) fn clear(dir: &Path) -> Result<()> {
    if dir.exists() {
        fs::remove_dir_all(dir).with_context(|| format!("cannot empty {}", dir.display()))?;
    }
    fs::create_dir_all(dir).with_context(|| format!("cannot make {}", dir.display()))
}

/// Copies a folder with all that is in it, except hidden files.
pub(crate) fn copy(from: &Path, to: &Path) -> Result<()> {
    fs::create_dir_all(to).with_context(|| format!("cannot make {}", to.display()))?;
    for entry in fs::read_dir(from).with_context(|| format!("cannot read {}", from.display()))? {
        let entry = entry?;
        let target = to.join(entry.file_name());
        if entry.file_name().to_string_lossy().starts_with('.') {
            continue;
        }
        if entry.file_type()?.is_dir() {
            copy(&entry.path(), &target)?;
            continue;
        }
        fs::copy(entry.path(), &target)
            .with_context(|| format!("cannot write {}", target.display()))?;
    }
    Ok(())
}

fn run(args: lexopt::Parser) -> Result<()> {
    let app = build(Profile::parse(args)?)?;
    println!("built {}", app.display());
    Ok(())
}

/// Compiles a part of the app's package and says in which folder the module is.
fn compile(profile: Profile, part: &[&str]) -> Result<PathBuf> {
    let name = profile.cargo_name();
    let mut cargo = shell::cargo(&["build", "--package", "risemark-web"]);
    cargo.args(part).args(["--target", tools::WASM_TARGET, "--profile", name]);
    if profile == Profile::Release {
        let flags = format!("{SMALL} {RELOCATIONS}");
        cargo.env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS", flags);
    }
    shell::run(&mut cargo)?;
    Ok(paths::target().join(tools::WASM_TARGET).join(profile.folder()))
}

/// Writes the JavaScript that loads the module and the module as that expects it; `link` is the script
/// that loads what was split off.
fn bind(profile: Profile, module: &Path, link: Option<&str>, out: &Path) -> Result<()> {
    let mut args = vec!["wasm-bindgen", "--target", "web", "--out-name", "app"];
    if profile == Profile::Release {
        // A third of the module is function names that only a debugger reads.
        args.extend(["--remove-producers-section", "--remove-name-section"]);
    }
    if link.is_some() {
        // The table of functions is the one that the rest adds its own to.
        args.push("--keep-lld-exports");
    }
    let (module, out) = (module.display().to_string(), out.display().to_string());
    args.extend(["--out-dir", &out, &module]);
    wasm_bindgen::run_cli_with_args(args).context("cannot bind the compiled app to JavaScript")?;
    let out = Path::new(&out);
    join_scripts(out, link)?;
    if profile == Profile::Release {
        let module = out.join("app_bg.wasm");
        fs::write(&module, arranged(&module)?)
            .with_context(|| format!("cannot write {}", module.display()))?;
    }
    Ok(())
}

/// Joins the scripts of the app to its loader and takes away what is no longer asked for.
fn join_scripts(out: &Path, link: Option<&str>) -> Result<()> {
    let read = |file: &Path| {
        fs::read_to_string(file).with_context(|| format!("cannot read {}", file.display()))
    };
    let loader = out.join("app.js");
    let joined = join(&read(&loader)?, |script| match link.filter(|_| script == LINK) {
        Some(link) => Ok(link.to_owned()),
        None => read(&out.join(script)),
    })?;
    fs::write(&loader, &joined).with_context(|| format!("cannot write {}", loader.display()))?;
    let scripts = out.join("snippets");
    if scripts.exists() && !joined.contains("'./snippets/") {
        fs::remove_dir_all(&scripts)
            .with_context(|| format!("cannot take away {}", scripts.display()))?;
    }
    Ok(())
}

fn arranged(file: &Path) -> Result<Vec<u8>> {
    arrange(&fs::read(file).with_context(|| format!("cannot read {}", file.display()))?)
}
