//! Runs a test in a browser of its own.

use std::any::Any;
use std::panic::{self, AssertUnwindSafe};
use std::path::Path;
use std::thread;

use anyhow::{Context, Result, ensure};
use thirtyfour::{ChromiumLikeCapabilities, DesiredCapabilities, LoggingPrefsLogLevel, WebDriver};
use tokio::runtime::{Builder, Runtime};
use tokio::sync::{Semaphore, SemaphorePermit};
use xtask::paths;
use xtask::programs;
use xtask::server::Server;

use crate::chromedriver::ChromeDriver;
use crate::page::Page;

/// The size of the page's view in CSS pixels.
#[derive(Clone, Copy, Debug)]
pub(crate) struct View {
    pub(crate) width: u32,
    pub(crate) height: u32,
}

impl View {
    /// A window on a desk.
    pub(crate) const DESK: Self = Self { width: 1280, height: 900 };
    /// A phone held upright, on the scaffold.
    pub(crate) const PHONE: Self = Self { width: 390, height: 844 };
}

/// Browsers that run at the same time; more of them only wait for each other on a small machine.
static FREE: Semaphore = Semaphore::const_new(2);

/// What the browser is started with.
///
/// Over the pipe the browser notices the end of its driver and ends too. The rest keeps it from asking
/// for a sandbox that root does not get, for much shared memory, for a graphics card, or for the network.
const ARGUMENTS: [&str; 9] = [
    "--remote-debugging-pipe",
    "--headless=new",
    "--no-sandbox",
    "--disable-dev-shm-usage",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
];

/// Serves the built app, runs `test` in a fresh browser, and asserts that the page logged no error.
///
/// `test` opens the page itself. A test that fails leaves `target/shots/failed-NAME.png` and prints
/// what the page had logged.
pub(crate) fn browse(view: View, test: impl AsyncFnOnce(&Page) -> Result<()>) -> Result<()> {
    browse_in(&paths::app(), view, test)
}

/// As `browse`, but serves another folder.
pub(crate) fn browse_in(
    dir: &Path,
    view: View,
    test: impl AsyncFnOnce(&Page) -> Result<()>,
) -> Result<()> {
    ensure!(dir.is_dir(), "there is no {}; run `cargo xtask build` first", dir.display());
    let browser = Browser::start(dir, view)?;
    let page = &browser.page;
    let outcome = panic::catch_unwind(AssertUnwindSafe(|| {
        browser.runtime.block_on(async { test(page).await })
    }));
    let errors = browser.runtime.block_on(page.console_errors())?;
    if !matches!(outcome, Ok(Ok(()))) {
        browser.runtime.block_on(keep_traces(page, &errors));
    }
    browser.quit()?;
    outcome.unwrap_or_else(|panic: Box<dyn Any + Send>| panic::resume_unwind(panic))?;
    ensure!(errors.is_empty(), "the page logged errors:\n{}", errors.join("\n"));
    Ok(())
}

/// All that runs for one test. The fields are dropped in this order: the session before its driver, and
/// the permit last of all.
struct Browser {
    page: Page,
    /// More than one thread, because a session that is dropped waits for its own last request.
    runtime: Runtime,
    _driver: ChromeDriver,
    _server: Server,
    _permit: SemaphorePermit<'static>,
}

impl Browser {
    fn start(dir: &Path, view: View) -> Result<Self> {
        let runtime = Builder::new_multi_thread().worker_threads(2).enable_all().build()?;
        let permit = runtime.block_on(FREE.acquire())?;
        let server = Server::start(dir, 0)?;
        let driver = ChromeDriver::start()?;
        let session =
            runtime.block_on(session(&driver, view)).context("cannot start the browser")?;
        let page = Page::new(session, server.url());
        Ok(Self { page, runtime, _driver: driver, _server: server, _permit: permit })
    }

    fn quit(self) -> Result<()> {
        self.runtime.block_on(self.page.quit())
    }
}

async fn session(driver: &ChromeDriver, view: View) -> Result<WebDriver> {
    let mut wanted = DesiredCapabilities::chrome();
    for argument in ARGUMENTS {
        wanted.add_arg(argument)?;
    }
    if let Some(browser) = programs::find(programs::BROWSER) {
        // The driver itself knows fewer names.
        wanted.set_binary(&browser.to_string_lossy())?;
    }
    wanted.set_browser_log_level(LoggingPrefsLogLevel::All)?;
    let session = WebDriver::new(driver.url(), wanted).await?;
    // A window has a smallest width and a frame; the emulated screen has exactly the view's size.
    let screen = serde_json::json!({
        "width": view.width, "height": view.height, "deviceScaleFactor": 1, "mobile": false,
    });
    session.cdp().send_raw("Emulation.setDeviceMetricsOverride", screen).await?;
    Ok(session)
}

/// Shows what the failed test's page looked like and had logged, as far as it still answers.
async fn keep_traces(page: &Page, errors: &[String]) {
    let test = thread::current().name().unwrap_or("test").replace("::", "-");
    match page.screenshot(&format!("failed-{test}")).await {
        Ok(file) => eprintln!("the page looked like {}", file.display()),
        Err(error) => eprintln!("there is no picture of the page: {error:#}"),
    }
    for error in errors {
        eprintln!("the page logged: {error}");
    }
}
