//! The harness itself, on a page that is made for it.

use std::fs;
use std::path::PathBuf;

use anyhow::{Result, ensure};
use thirtyfour::Key;
use uom::si::f64::Length;
use uom::si::length::millimeter;

use crate::harness::{View, browse_in};
use crate::page::{Page, Printer};

fn fixture() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("browser/fixture")
}

/// Opens the page, whose picture is missing, and takes that expected error out of the log.
async fn open(page: &Page) -> Result<()> {
    page.open("").await?;
    page.wait_for("#greeting").await?;
    let errors = page.console_errors().await?;
    ensure!(
        errors.len() == 1 && errors[0].contains("nothing.png"),
        "expected the missing picture, found {errors:?}"
    );
    Ok(())
}

#[test]
fn typing_clicking_and_waiting_reach_the_page() -> Result<()> {
    browse_in(&fixture(), View::DESK, async |page| {
        open(page).await?;
        page.type_into("#name", "Wall").await?;
        page.wait_for_text("#name", "Wall").await?;
        page.click("#greet").await?;
        page.wait_for_text("#greeting", "Hello <Wall>").await?;
        page.click("#name").await?;
        page.press(Key::End + "!").await?;
        page.press(Key::Enter).await?;
        page.wait_for_text_with("#greeting", "Wall!").await?;
        let title = page.driver().title().await?;
        ensure!(title == "Harness", "the driver sees the page: {title}");
        Ok(())
    })
}

#[test]
fn an_exception_in_the_page_fails_the_test() -> Result<()> {
    let outcome = browse_in(&fixture(), View::DESK, async |page| {
        open(page).await?;
        page.click("#fail").await
    });
    let Err(error) = outcome else {
        anyhow::bail!("the page threw, and the test passed");
    };
    ensure!(error.to_string().contains("told to fail"), "the error tells the cause: {error}");
    Ok(())
}

#[test]
fn the_view_has_the_size_of_a_phone() -> Result<()> {
    browse_in(&fixture(), View::PHONE, async |page| {
        open(page).await?;
        page.wait_until("a narrow view", "innerWidth === 390 && innerHeight === 844").await
    })
}

#[test]
fn faults_in_accessibility_are_found() -> Result<()> {
    browse_in(&fixture(), View::DESK, async |page| {
        open(page).await?;
        let violations = page.axe_violations().await?;
        let skipped = !xtask::paths::axe().exists();
        ensure!(
            skipped || violations.iter().any(|line| line.starts_with("image-alt")),
            "expected the picture without a text, found {violations:?}"
        );
        Ok(())
    })
}

#[test]
fn both_printers_keep_the_page_size_and_the_text() -> Result<()> {
    browse_in(&fixture(), View::DESK, async |page| {
        open(page).await?;
        page.click("#greet").await?;
        page.wait_for_text("#greeting", "Hello <old>").await?;
        check_print(page, "harness-webdriver", Printer::WebDriver).await?;
        check_print(page, "harness-devtools", Printer::DevTools).await
    })
}

async fn check_print(page: &Page, name: &str, printer: Printer) -> Result<()> {
    let pdf = page.print(name, printer).await?;
    let text = pdf.text()?;
    ensure!(text.contains("Hello <old>"), "{printer:?} prints the text: {text}");
    let sheets = pdf.sheets()?;
    ensure!(sheets.len() == 1, "{printer:?} prints one sheet: {sheets:?}");
    let mm = Length::new::<millimeter>;
    // Browsers round paper to whole points; a word has its place to a tenth of one.
    let near = |a: Length, b: f64| (a - mm(b)).abs() < mm(0.4);
    let sheet = &sheets[0];
    ensure!(
        near(sheet.width, 100.0) && near(sheet.height, 60.0),
        "{printer:?} keeps the size: {sheet:?}"
    );
    let Some(word) = sheet.words.iter().find(|word| word.text == "Hello") else {
        anyhow::bail!("{printer:?} prints no such word: {sheet:?}");
    };
    ensure!(near(word.left, 10.0), "{printer:?} keeps the margin: {word:?}");
    ensure!(word.right > word.left && word.bottom > word.top, "a word has a size: {word:?}");
    let pictures = pdf.pictures(50)?;
    ensure!(
        pictures.len() == 1 && fs::metadata(&pictures[0])?.len() > 0,
        "one picture of {:?}",
        pdf.file()
    );
    Ok(())
}
