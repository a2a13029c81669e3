//! `cargo xtask dist`: the app as a folder for any static host.

use std::fs::{self, File};
use std::io::Write;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, ensure};
use flate2::Compression;
use flate2::write::GzEncoder;
use xtask::paths;

use crate::app::{self, Profile};
use crate::split::is_rest;
use crate::{Subcommand, precache};

pub(crate) const SUBCOMMAND: Subcommand = Subcommand {
    name: "dist",
    purpose: "Put the app into target/dist for a static host",
    help: "Usage: cargo xtask dist

The folder can lie at any path of any host that serves plain files. Beside each file of text or code lie a
.gz and a .br of it for hosts that send those. Fails when the code that the page must have before it is
seen and can be used is larger than its budget.",
    run,
};

/// What the page's code may weigh as it crosses the network, in bytes of brotli.
const BUDGET: u64 = 400_000;

/// What the budget is about.
const CODE: [&str; 3] = ["wasm", "js", "css"];

/// Kinds of files that are text or code; pictures and fonts are compressed by their own formats.
const COMPRESSIBLE: [&str; 9] =
    ["wasm", "js", "css", "html", "svg", "json", "webmanifest", "ts", "txt"];

/// A file's size before and after compression, in bytes.
struct Weight {
    file: PathBuf,
    raw: u64,
    gzip: u64,
    brotli: u64,
}

fn run(mut args: lexopt::Parser) -> Result<()> {
    if let Some(arg) = args.next()? {
        return Err(arg.unexpected().into());
    }
    let app = app::build(Profile::Release)?;
    let dist = paths::dist();
    app::clear(&dist)?;
    app::copy(&app, &dist)?;
    let files = precache::files(&dist)?;
    let weights: Vec<Weight> = files
        .iter()
        .filter(|file| has_extension(file, &COMPRESSIBLE))
        .map(|file| compress(file))
        .collect::<Result<_>>()?;
    report(&dist, &weights)
}

/// Holds what an app must have before it is seen against its budget.
///
/// # Errors
/// When it is over the budget.
pub(crate) fn hold_budget(app: &Path) -> Result<()> {
    let files = precache::files(app)?;
    let code = files.iter().filter(|file| has_extension(file, &CODE) && !is_rest(file));
    let sizes = code.map(|file| {
        let bytes = fs::read(file).with_context(|| format!("cannot read {}", file.display()))?;
        let mut compressed = Vec::new();
        brotli::BrotliCompress(&mut bytes.as_slice(), &mut compressed, &strongest(bytes.len()))?;
        Ok(u64::try_from(compressed.len())?)
    });
    within_budget(sizes.sum::<Result<u64>>()?)
}

/// How hard brotli tries for so many bytes.
fn strongest(size_hint: usize) -> brotli::enc::BrotliEncoderParams {
    brotli::enc::BrotliEncoderParams { size_hint, ..Default::default() }
}

fn within_budget(bytes: u64) -> Result<()> {
    println!(
        "wasm, js and css before the first picture: {} kB brotli of {} kB",
        kilobytes(bytes),
        kilobytes(BUDGET)
    );
    ensure!(
        bytes <= BUDGET,
        "the page's code is over its budget by {} kB",
        kilobytes(bytes - BUDGET)
    );
    Ok(())
}

fn has_extension(file: &Path, extensions: &[&str]) -> bool {
    extensions.iter().any(|extension| file.extension().is_some_and(|found| found == *extension))
}

/// Writes both compressed forms of a file beside it.
fn compress(file: &Path) -> Result<Weight> {
    let bytes = fs::read(file).with_context(|| format!("cannot read {}", file.display()))?;
    let gzip_file = beside(file, ".gz");
    let mut gzip = GzEncoder::new(File::create(&gzip_file)?, Compression::best());
    gzip.write_all(&bytes)?;
    gzip.finish()?;
    let brotli_file = beside(file, ".br");
    let mut written = File::create(&brotli_file)?;
    brotli::BrotliCompress(&mut bytes.as_slice(), &mut written, &strongest(bytes.len()))?;
    Ok(Weight {
        file: file.to_path_buf(),
        raw: fs::metadata(file)?.len(),
        gzip: fs::metadata(gzip_file)?.len(),
        brotli: fs::metadata(brotli_file)?.len(),
    })
}

fn beside(file: &Path, suffix: &str) -> PathBuf {
    let mut name = file.as_os_str().to_owned();
    name.push(suffix);
    name.into()
}

/// Prints the sizes and holds the code against its budget.
fn report(dist: &Path, weights: &[Weight]) -> Result<()> {
    println!("{:<24}{:>10}{:>10}{:>10}", "bytes", "raw", "gzip", "brotli");
    for Weight { file, raw, gzip, brotli } in weights {
        let name = file.strip_prefix(dist).unwrap_or(file).display().to_string();
        println!("{name:<24}{raw:>10}{gzip:>10}{brotli:>10}");
    }
    let code = weights.iter().filter(|weight| has_extension(&weight.file, &CODE));
    let (after, before): (Vec<&Weight>, Vec<&Weight>) =
        code.partition(|weight| is_rest(&weight.file));
    let sum = |weights: &[&Weight]| weights.iter().map(|weight| weight.brotli).sum::<u64>();
    println!("the rest after the first picture: {} kB brotli", kilobytes(sum(&after)));
    within_budget(sum(&before))?;
    println!("ready {}", dist.display());
    Ok(())
}

/// Thousands of bytes with one decimal.
fn kilobytes(bytes: u64) -> String {
    format!("{}.{}", bytes / 1000, bytes % 1000 / 100)
}
