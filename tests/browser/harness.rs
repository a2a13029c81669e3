//! Runs a test in a browser of its own.

use std::any::Any;
use std::fs;
use std::panic::{self, AssertUnwindSafe};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::mpsc::{self, Sender};
use std::thread;
use std::time::Duration;

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
    let server = serve(dir)?;
    let browser = Browser::start(&server, None, view)?;
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

/// A server with the files that a browser keeps; both outlive the browser.
pub(crate) struct Device {
    server: Server,
    files: PathBuf,
}

impl Device {
    /// A device on which no browser has run yet.
    pub(crate) fn new(name: &str) -> Result<Self> {
        let files = paths::target().join(format!("device-{name}"));
        if files.exists() {
            fs::remove_dir_all(&files)?;
        }
        Ok(Self { server: serve(&paths::app())?, files })
    }

    /// Runs `visit` in a browser that is ended without warning some time after `visit` asks for it.
    ///
    /// What `visit` returns when its browser is gone does not matter.
    pub(crate) fn visit_until_killed(
        &self,
        visit: impl AsyncFnOnce(&Page, Sender<Duration>) -> Result<()>,
    ) -> Result<()> {
        let browser = Browser::start(&self.server, Some(&self.files), View::DESK)?;
        let (ask, asked) = mpsc::channel();
        let files = &self.files;
        let killed = thread::scope(|scope| {
            let killer = scope.spawn(move || {
                let after = asked.recv().context("the visit ended before it asked to be killed")?;
                thread::sleep(after);
                kill_browser(files)
            });
            let outcome = browser.runtime.block_on(visit(&browser.page, ask));
            (killer.join(), outcome)
        });
        let (Ok(killed), outcome) = killed else { anyhow::bail!("the killer failed") };
        killed.with_context(|| format!("the visit ended with {outcome:?}"))
    }

    /// Runs `visit` in a browser that ends in peace.
    pub(crate) fn visit(&self, visit: impl AsyncFnOnce(&Page) -> Result<()>) -> Result<()> {
        let browser = Browser::start(&self.server, Some(&self.files), View::DESK)?;
        let outcome = browser.runtime.block_on(visit(&browser.page));
        browser.quit()?;
        outcome
    }
}

/// Ends a browser with all its processes at once, as a failing machine does; it is the one that keeps
/// its files in a folder of its own.
fn kill_browser(files: &Path) -> Result<()> {
    let marker = format!("--user-data-dir={}", files.display());
    let ids = processes()?;
    let mut doomed: Vec<u32> = Vec::new();
    for (id, _) in &ids {
        let line = fs::read_to_string(format!("/proc/{id}/cmdline")).unwrap_or_default();
        let is_browser = line.split('\0').any(|word| word == marker);
        let is_driver = line.split('\0').next().is_some_and(|word| word.contains("chromedriver"));
        if is_browser && !is_driver {
            doomed.push(*id);
        }
    }
    ensure!(!doomed.is_empty(), "no browser runs on {}", files.display());
    let mut n_known = 0;
    while n_known < doomed.len() {
        n_known = doomed.len();
        let children =
            ids.iter().filter(|(id, parent)| doomed.contains(parent) && !doomed.contains(id));
        let children: Vec<u32> = children.map(|(id, _)| *id).collect();
        doomed.extend(children);
    }
    let ids = doomed.iter().map(u32::to_string);
    // Processes that end by themselves in this moment make the command fail, and are gone as well.
    let _ended = Command::new("kill").arg("-KILL").args(ids).stderr(Stdio::null()).status()?;
    Ok(())
}

/// The processes of the machine with their parents.
fn processes() -> Result<Vec<(u32, u32)>> {
    let mut found = Vec::new();
    for entry in fs::read_dir("/proc").context("only Linux tells its processes here")? {
        let name = entry?.file_name();
        let Some(id) = name.to_str().and_then(|name| name.parse().ok()) else { continue };
        let stat = fs::read_to_string(format!("/proc/{id}/stat")).unwrap_or_default();
        // The name of the program stands in brackets and may hold blanks.
        let parent = stat.rsplit(')').next().and_then(|rest| rest.split_whitespace().nth(1));
        found.extend(parent.and_then(|parent| parent.parse().ok()).map(|parent| (id, parent)));
    }
    Ok(found)
}

fn serve(dir: &Path) -> Result<Server> {
    ensure!(dir.is_dir(), "there is no {}; run `cargo xtask build` first", dir.display());
    Ok(Server::start(dir, 0)?)
}

/// All that runs for one test. The fields are dropped in this order: the session before its driver, and
/// the permit last of all.
struct Browser {
    page: Page,
    /// More than one thread, because a session that is dropped waits for its own last request.
    runtime: Runtime,
    _driver: ChromeDriver,
    _permit: SemaphorePermit<'static>,
}

impl Browser {
    fn start(server: &Server, files: Option<&Path>, view: View) -> Result<Self> {
        let runtime = Builder::new_multi_thread().worker_threads(2).enable_all().build()?;
        let permit = runtime.block_on(FREE.acquire())?;
        let driver = ChromeDriver::start()?;
        let session =
            runtime.block_on(session(&driver, files, view)).context("cannot start the browser")?;
        let page = Page::new(session, server.url());
        Ok(Self { page, runtime, _driver: driver, _permit: permit })
    }

    fn quit(self) -> Result<()> {
        self.runtime.block_on(self.page.quit())
    }
}

async fn session(driver: &ChromeDriver, files: Option<&Path>, view: View) -> Result<WebDriver> {
    let mut wanted = DesiredCapabilities::chrome();
    if let Some(files) = files {
        wanted.add_arg(&format!("--user-data-dir={}", files.display()))?;
    }
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
