//! The part of the app that is loaded after its first picture.

use anyhow::{Result, ensure};
use serde_json::{Value, json};

use crate::harness::{View, browse};
use crate::page::Page;

/// The module of the rest, in any folder.
const REST: &str = "*/rest-*.wasm";

#[test]
fn the_job_is_seen_without_the_rest_and_changed_once_that_is_here() -> Result<()> {
    browse(View::PHONE, async |page| {
        block(page, &[REST]).await?;
        page.open("").await?;
        page.wait_for("#walls svg").await?;
        page.wait_for("#not-loaded").await?;
        page.screenshot("not-loaded").await?;
        ensure!(count(page, "#undo, #about input").await? == 0, "nothing can be changed yet");
        told(page).await?;
        block(page, &[]).await?;
        page.click("#load-again").await?;
        page.wait_for("#undo").await?;
        page.wait_for("#about input").await?;
        ensure!(count(page, "#not-loaded").await? == 0, "nothing is missing any more");
        page.click("#walls .copy").await?;
        page.wait_for("#undo:enabled").await?;
        Ok(())
    })
}

#[test]
fn a_kept_job_is_not_shown_as_lost_where_the_rest_is_missing() -> Result<()> {
    browse(View::DESK, async |page| {
        page.open("").await?;
        page.wait_for_text_with("#kept", "Kept on this device").await?;
        // What the browser keeps of the app would be there without a network.
        let clear = "return navigator.serviceWorker.ready.then(kept => kept.unregister()) \
            .then(() => caches.keys()).then(names => Promise.all(names.map(name => caches.delete(name)))) \
            .then(() => true);";
        page.run(clear, vec![]).await?;
        block(page, &[REST]).await?;
        page.driver().refresh().await?;
        page.wait_for_text_with("#loading", "could not start").await?;
        ensure!(count(page, "#walls").await? == 0, "no other job is shown in its place");
        told(page).await?;
        block(page, &[]).await?;
        page.driver().refresh().await?;
        page.wait_for("#walls svg").await?;
        Ok(())
    })
}

#[test]
fn another_page_calls_the_planner() -> Result<()> {
    browse(View::DESK, async |page| {
        page.open("").await?;
        let calls = "const job = arguments[0]; \
            return import(new URL('app.js', document.baseURI)).then(async ({ default: init, plan, sheet }) => { \
                await init(); \
                const planned = await plan(job, { order: false }); \
                const sheets = await sheet(job, planned.walls[0].id, { order: false }); \
                const refused = await plan({}).catch(error => error); \
                return { walls: planned.walls.length, svg: sheets[0].svg, findings: refused.findings }; \
            });";
        let text = include_str!("../../examples/plain-wall/job.json");
        let answer = page.run(calls, vec![serde_json::from_str::<Value>(text)?]).await?;
        ensure!(answer["walls"] == 1, "the walls of the plan: {}", answer["walls"]);
        ensure!(answer["svg"].as_str().is_some_and(|svg| svg.starts_with("<svg")), "a sheet");
        let findings = answer["findings"].as_array();
        ensure!(findings.is_some_and(|findings| !findings.is_empty()), "what is wrong: {answer}");
        Ok(())
    })
}

/// Lets the browser ask in vain for some addresses.
async fn block(page: &Page, addresses: &[&str]) -> Result<()> {
    let tools = page.driver().cdp();
    tools.send_raw("Network.enable", json!({})).await?;
    tools.send_raw("Network.setBlockedURLs", json!({ "urls": addresses })).await?;
    Ok(())
}

/// The console tells the cause to whoever helps, and nothing else from then on.
async fn told(page: &Page) -> Result<()> {
    let told = page.console_errors().await?;
    ensure!(told.iter().any(|line| line.contains("Failed to fetch")), "the cause: {told:?}");
    Ok(())
}

async fn count(page: &Page, selector: &str) -> Result<u64> {
    let script = "return document.querySelectorAll(arguments[0]).length;";
    Ok(page.run(script, vec![json!(selector)]).await?.as_u64().unwrap_or_default())
}
