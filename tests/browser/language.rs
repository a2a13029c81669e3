//! The app in another language.

use anyhow::{Result, ensure};
use serde_json::json;

use crate::harness::{View, browse};
use crate::page::Page;

const CHOICE: &str = "[name=language]";

/// Chooses a language of the list by its position, as a person would with the keyboard.
async fn speak(page: &Page, position: &str) -> Result<()> {
    page.wait_for(CHOICE).await?;
    let choose = "const list = document.querySelector(arguments[0]); list.focus(); \
         list.value = arguments[1]; list.dispatchEvent(new Event('change', { bubbles: true }));";
    page.run(choose, vec![json!(CHOICE), json!(position)]).await?;
    Ok(())
}

/// The words of the three places, one a line.
async fn wait_for_places(page: &Page, places: &str) -> Result<()> {
    let found = "[...document.querySelectorAll('.places a')].map(a => a.textContent).join(' ')";
    page.wait_until(places, &format!("{found} === '{places}'")).await
}

async fn wait_for_language(page: &Page, code: &str) -> Result<()> {
    page.wait_until(code, &format!("document.documentElement.lang === '{code}'")).await
}

/// Nothing is wider than the page, and nothing is in the way of people who do not see it.
async fn is_sound(page: &Page, name: &str) -> Result<()> {
    page.screenshot(name).await?;
    let over =
        "return document.documentElement.scrollWidth - document.documentElement.clientWidth;";
    let over = page.run(over, vec![]).await?;
    ensure!(over.as_i64() == Some(0), "{name}: the page is {over} px too wide");
    let faults = page.axe_violations().await?;
    ensure!(faults.is_empty(), "{name}: {faults:#?}");
    Ok(())
}

#[test]
fn a_device_speaks_spanish_until_it_is_told_otherwise() -> Result<()> {
    browse(View::PHONE, async |page| {
        page.open("#/job").await?;
        wait_for_places(page, "Job Wall Foam Sheets").await?;
        speak(page, "1").await?;
        wait_for_places(page, "Trabajo Pared Espuma Hojas").await?;
        wait_for_language(page, "es").await?;
        let focus = "document.activeElement?.getAttribute('name') === 'language'";
        page.wait_until("the choice to keep the focus", focus).await?;
        is_sound(page, "spanish-job").await?;

        page.open("#/wall/workshop-north").await?;
        page.wait_for("#elevation [data-mark='1']").await?;
        let about = "document.querySelector('#elevation svg').textContent.includes('agujeros')";
        page.wait_until("the drawing to be described", about).await?;
        is_sound(page, "spanish-wall").await?;

        page.open("#/sheets/workshop-north").await?;
        page.wait_for_text_with(".sheet svg", "Imprima al 100 %.").await?;
        is_sound(page, "spanish-sheets").await?;

        // The choice is the device's: it outlasts the page.
        let kept = "document.getElementById('kept')?.textContent.startsWith('Guardado')";
        page.wait_until("the choice to be kept", kept).await?;
        page.driver().refresh().await?;
        wait_for_places(page, "Trabajo Pared Espuma Hojas").await?;
        wait_for_language(page, "es").await?;

        page.open("#/job").await?;
        speak(page, "0").await?;
        wait_for_places(page, "Job Wall Foam Sheets").await?;
        wait_for_language(page, "en").await
    })
}

#[test]
fn the_first_language_is_the_one_of_the_browser() -> Result<()> {
    browse(View::DESK, async |page| {
        page.run_first("Object.defineProperty(navigator, 'language', { get: () => 'es-MX' });")
            .await?;
        page.open("#/job").await?;
        wait_for_places(page, "Trabajo Pared Espuma Hojas").await?;
        wait_for_language(page, "es").await
    })
}
