//! The app without a network, and the way from one version of it to the next.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, ensure};
use xtask::paths;
use xtask::server::Server;

use crate::harness::{View, browse};
use crate::page::Page;

/// What the app says once it opens without a network.
const READY: &str = "Opens without a network too.";

#[test]
fn the_app_opens_with_the_server_stopped_also_under_a_path() -> Result<()> {
    browse(View::PHONE, async |page| {
        let app = paths::app();
        let above = app.parent().context("the app's folder lies in none")?;
        let server = Server::start(above, 0)?;
        let address = format!("{}app/", server.url());
        page.driver().goto(&address).await?;
        page.wait_for_text("#offline", READY).await?;
        drop(server);
        page.driver().goto("about:blank").await?;
        page.driver().goto(format!("{address}?source=home#/wall/workshop-street")).await?;
        page.wait_for("#elevation svg").await?;
        let kept = page.run("return caches.keys().then(names => names.length);", vec![]).await?;
        ensure!(kept == 1, "one version is kept, found {kept}");
        Ok(())
    })
}

#[test]
fn a_new_version_waits_until_it_is_taken() -> Result<()> {
    let dir = Versions::new("versions")?;
    dir.publish("first")?;
    let server = Server::start(&dir.0, 0)?;
    browse(View::DESK, async |page| {
        page.driver().goto(server.url()).await?;
        page.wait_for_text("#offline", READY).await?;
        dir.publish("second")?;
        look_for_news(page).await?;
        page.wait_for("#take-new-version").await?;
        page.screenshot("new-version").await?;
        // Loading the page again is no consent.
        page.driver().refresh().await?;
        page.wait_for("#take-new-version").await?;
        ensure!(version(page).await? == "first", "the version in use stays");
        page.click("#take-new-version").await?;
        page.wait_until("the new version", "document.documentElement.dataset.version === 'second'")
            .await?;
        page.wait_for_text("#offline", READY).await?;
        let kept = page.run("return caches.keys().then(names => names.length);", vec![]).await?;
        ensure!(kept == 1, "the old version is cleared away, found {kept}");
        Ok(())
    })
}

async fn look_for_news(page: &Page) -> Result<()> {
    let look = "return navigator.serviceWorker.ready.then(kept => kept.update()).then(() => true);";
    page.run(look, vec![]).await?;
    Ok(())
}

async fn version(page: &Page) -> Result<String> {
    let found = page.run("return document.documentElement.dataset.version;", vec![]).await?;
    Ok(found.as_str().unwrap_or_default().to_owned())
}

/// A folder in which one version of the app follows another; it goes away at the end.
struct Versions(PathBuf);

impl Versions {
    fn new(name: &str) -> Result<Self> {
        let dir = paths::target().join("tmp").join(format!("{name}-{}", std::process::id()));
        fs::create_dir_all(&dir)?;
        Ok(Self(dir))
    }

    /// Puts the built app there, with a page and a list of files that bear a version of their own.
    fn publish(&self, version: &str) -> Result<()> {
        copy(&paths::app(), &self.0)?;
        let mark = |name: &str, from: &str, to: &str| mark(&self.0.join(name), from, to);
        mark("index.html", "<html ", &format!("<html data-version=\"{version}\" "))?;
        mark("precache.js", "version: \"", &format!("version: \"{version}-"))
    }
}

impl Drop for Versions {
    fn drop(&mut self) {
        // What cannot be removed lies in the build's folder and is cleared with it.
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn copy(from: &Path, to: &Path) -> Result<()> {
    fs::create_dir_all(to)?;
    for entry in fs::read_dir(from)? {
        let entry = entry?;
        let (source, target) = (entry.path(), to.join(entry.file_name()));
        if source.is_dir() {
            copy(&source, &target)?;
        } else {
            fs::copy(source, target)?;
        }
    }
    Ok(())
}

fn mark(file: &Path, from: &str, to: &str) -> Result<()> {
    let text = fs::read_to_string(file)?;
    ensure!(text.contains(from), "{} has no `{from}`", file.display());
    fs::write(file, text.replacen(from, to, 1))?;
    Ok(())
}
