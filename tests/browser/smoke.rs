//! The app starts: alone, under the policy, at any path, and for everybody.

use anyhow::{Context, Result, ensure};
use serde_json::Value;
use xtask::paths;

use crate::harness::{View, browse, browse_in};

/// What the app shows as soon as it runs.
const HEADING: &str = "main h1";

#[test]
fn the_app_starts_without_an_error() -> Result<()> {
    browse(View::DESK, async |page| {
        page.open("").await?;
        page.wait_for(HEADING).await?;
        page.wait_until("the loading line to go", "!document.getElementById('loading')").await?;
        page.screenshot("start").await?;
        Ok(())
    })
}

#[test]
fn the_policy_stops_a_script_inside_the_page() -> Result<()> {
    browse(View::DESK, async |page| {
        page.open("").await?;
        page.wait_for(HEADING).await?;
        let inject = "const script = document.createElement('script'); \
             script.textContent = 'window.injected = true'; document.body.append(script); \
             return window.injected ?? null;";
        let injected = page.run(inject, vec![]).await?;
        ensure!(injected == Value::Null, "the inline script ran: {injected}");
        let errors = page.console_errors().await?;
        ensure!(
            errors.iter().any(|error| error.contains("Content Security Policy")),
            "expected the browser to say that its policy stopped the script, found {errors:?}"
        );
        Ok(())
    })
}

#[test]
fn the_app_starts_at_any_path() -> Result<()> {
    let app = paths::app();
    let above = app.parent().context("the app's folder lies in none")?;
    browse_in(above, View::DESK, async |page| {
        page.open("app/").await?;
        page.wait_for(HEADING).await?;
        Ok(())
    })
}

#[test]
fn the_app_fits_a_phone_and_is_accessible() -> Result<()> {
    browse(View::PHONE, async |page| {
        page.open("").await?;
        page.wait_for(HEADING).await?;
        page.screenshot("start-phone").await?;
        let width = page.run("return document.documentElement.scrollWidth;", vec![]).await?;
        // A scroll bar at the side leaves the page less than the window's width; more is an overflow.
        let fits = width.as_u64().is_some_and(|width| width <= u64::from(View::PHONE.width));
        ensure!(fits, "the page is {width} wide on a phone");
        let violations = page.axe_violations().await?;
        ensure!(violations.is_empty(), "accessibility: {violations:#?}");
        Ok(())
    })
}
