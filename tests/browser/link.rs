//! A job goes to another device in a link.

use anyhow::{Context, Result, ensure};
use serde_json::Value;

use crate::harness::{View, browse};
use crate::page::Page;

/// What is said of a job that is only looked at.
const LOOKED_AT: &str = "This job came with a link";

#[test]
fn a_job_is_sent_looked_at_and_kept() -> Result<()> {
    browse(View::PHONE, async |page| {
        page.open("").await?;
        page.click("#share-job").await?;
        page.wait_for("#link").await?;
        page.screenshot("share-phone").await?;
        let link = page.run("return document.getElementById('link').value;", vec![]).await?;
        let link = link.as_str().context("the link is a text")?.to_owned();
        // Another visit, as on another device: nothing of the first is kept.
        page.run(FORGET, vec![]).await?;
        open(page, &link).await?;
        page.wait_for_text_with("#kept", LOOKED_AT).await?;
        page.wait_for_text("main h1", "Old post office (sample)").await?;
        page.screenshot("shared-phone").await?;
        let disabled = page.run("return document.getElementById('undo').disabled;", vec![]).await?;
        ensure!(disabled == Value::Bool(true), "nothing can be changed in it");
        page.click("#keep-copy").await?;
        page.wait_for_text_with("#kept", "Kept on this device").await?;
        page.driver().refresh().await?;
        page.wait_for_text_with("#kept", "Kept on this device").await?;
        page.wait_for_text("main h1", "Old post office (sample)").await
    })
}

#[test]
fn a_link_that_was_cut_opens_nothing() -> Result<()> {
    browse(View::DESK, async |page| {
        for (hash, reason) in [
            ("#/shared/7ZZNb", "It was cut or changed"),
            ("#/shared/%3Cscript%3E", "It was cut or changed"),
            (&*format!("#/shared/{}", "A".repeat(300_000)), "more than any job needs"),
        ] {
            page.open(hash).await?;
            page.wait_for_text_with("#shared-refused", reason).await?;
            page.wait_for_text_with("#kept", "Kept on this device").await?;
        }
        Ok(())
    })
}

/// Leaves the page and what it kept behind.
const FORGET: &str = "return new Promise((done, failed) => { \
     const asked = indexedDB.databases().then(found => found.map(one => one.name)); \
     asked.then(names => names.forEach(name => indexedDB.deleteDatabase(name))).then(done, failed); });";

async fn open(page: &Page, address: &str) -> Result<()> {
    page.driver().goto("about:blank").await?;
    page.driver().goto(address).await?;
    Ok(())
}
