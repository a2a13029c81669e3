//! A printed page as a second program reads it.

use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, ensure};
use uom::si::f64::Length;
use uom::si::length::inch;

/// A PDF file of the page.
#[derive(Debug)]
pub(crate) struct Pdf {
    file: PathBuf,
}

/// One sheet of paper with the words on it.
#[derive(Debug)]
pub(crate) struct Sheet {
    pub(crate) width: Length,
    pub(crate) height: Length,
    pub(crate) words: Vec<Word>,
}

/// A word and the box around it, measured from the sheet's top left corner.
#[derive(Debug)]
pub(crate) struct Word {
    pub(crate) text: String,
    pub(crate) left: Length,
    pub(crate) top: Length,
    pub(crate) right: Length,
    pub(crate) bottom: Length,
}

impl Pdf {
    pub(crate) fn new(file: PathBuf) -> Self {
        Self { file }
    }

    /// The file, for a reader of another kind.
    pub(crate) fn file(&self) -> &Path {
        &self.file
    }

    /// All text in reading order.
    pub(crate) fn text(&self) -> Result<String> {
        output(Command::new("pdftotext").arg("-layout").arg(&self.file).arg("-"))
    }

    /// The sheets with their sizes and the places of their words.
    pub(crate) fn sheets(&self) -> Result<Vec<Sheet>> {
        let boxes = output(Command::new("pdftotext").arg("-bbox").arg(&self.file).arg("-"))?;
        let mut sheets: Vec<Sheet> = Vec::new();
        for line in boxes.lines().map(str::trim) {
            if line.starts_with("<page ") {
                let (width, height) = (length(line, "width")?, length(line, "height")?);
                sheets.push(Sheet { width, height, words: Vec::new() });
            } else if line.starts_with("<word ") {
                let sheet = sheets.last_mut().context("a word before the first sheet")?;
                sheet.words.push(word(line)?);
            }
        }
        Ok(sheets)
    }

    /// Draws the sheets as PNG files beside the PDF, at this many pixels to the inch.
    pub(crate) fn pictures(&self, resolution: u32) -> Result<Vec<PathBuf>> {
        let resolution = resolution.to_string();
        let mut pictures = Vec::new();
        for number in 1..=self.sheets()?.len() {
            let page = number.to_string();
            let stem = self.file.with_extension(&page);
            let mut draw = Command::new("pdftoppm");
            draw.args(["-png", "-singlefile", "-r", &resolution, "-f", &page]);
            output(draw.arg(&self.file).arg(&stem))?;
            // The program adds its ending to the whole name that it is given.
            pictures.push(self.file.with_extension(format!("{page}.png")));
        }
        Ok(pictures)
    }
}

fn word(line: &str) -> Result<Word> {
    let inside = line.split_once('>').and_then(|(_, rest)| rest.rsplit_once("</word>"));
    let (text, _) = inside.with_context(|| format!("no word in `{line}`"))?;
    Ok(Word {
        text: unescape(text),
        left: length(line, "xMin")?,
        top: length(line, "yMin")?,
        right: length(line, "xMax")?,
        bottom: length(line, "yMax")?,
    })
}

/// The value of an attribute, which is written in points, 72 to the inch.
fn length(line: &str, name: &str) -> Result<Length> {
    let value = line.split_once(&format!(" {name}=\"")).and_then(|(_, rest)| rest.split_once('"'));
    let (value, _) = value.with_context(|| format!("no {name} in `{line}`"))?;
    let points: f64 = value.parse().with_context(|| format!("no number for {name} in `{line}`"))?;
    Ok(Length::new::<inch>(points / 72.0))
}

/// Turns the four signs back that the reader writes as names; the ampersand last, as it begins all names.
fn unescape(text: &str) -> String {
    text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
}

fn output(command: &mut Command) -> Result<String> {
    let output = command.output().context("cannot start the PDF reader; install poppler-utils")?;
    ensure!(
        output.status.success(),
        "cannot read the PDF: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    Ok(String::from_utf8_lossy(&output.stdout).into_owned())
}
