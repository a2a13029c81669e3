//! What a test does with the page, and how it waits for what the page does.

use std::fs;
use std::io::{self, Write};
use std::path::PathBuf;
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail};
use serde_json::{Value, json};
use thirtyfour::common::print::PrintParameters;
use thirtyfour::{By, Key, TypingData, WebDriver, WebElement};
use xtask::paths;

use crate::pdf::Pdf;

/// How the browser is asked for a PDF; both take the page's own sizes and print 1:1.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Printer {
    /// The standard command of browser drivers.
    WebDriver,
    /// The command of the browser's developer tools.
    DevTools,
}

/// The one page of a browser.
#[derive(Debug)]
pub(crate) struct Page {
    driver: WebDriver,
    server: String,
}

/// How long a wait lasts at most; long, since a busy machine is no reason to fail.
const DEADLINE: Duration = Duration::from_secs(20);

/// The time between two looks at the page while waiting.
const PAUSE: Duration = Duration::from_millis(30);

/// The text that a person reads at the first element that `arguments[0]` selects, null without one.
const TEXT: &str = "const e = document.querySelector(arguments[0]); \
     const own = typeof e?.value === 'string' ? e.value : null; \
     return e && (own ?? e.innerText ?? e.textContent).trim();";

impl Page {
    pub(crate) fn new(driver: WebDriver, server: String) -> Self {
        Self { driver, server }
    }

    /// The driver itself, for what this type has no name for.
    pub(crate) fn driver(&self) -> &WebDriver {
        &self.driver
    }

    /// Opens an address relative to the served folder; `""` is its index.
    pub(crate) async fn open(&self, path: &str) -> Result<()> {
        self.driver.goto(format!("{}{path}", self.server)).await?;
        Ok(())
    }

    /// Waits for an element and returns it.
    pub(crate) async fn wait_for(&self, css: &str) -> Result<WebElement> {
        let look = async || match self.driver.find_all(By::Css(css)).await?.into_iter().next() {
            Some(element) => Ok(Look::Done(element)),
            None => Ok(Look::Not("no such element".to_owned())),
        };
        wait(&format!("`{css}`"), look).await
    }

    /// Waits until an element's text, or a field's value, is `text`.
    pub(crate) async fn wait_for_text(&self, css: &str, text: &str) -> Result<()> {
        self.wait_for_text_that(css, &format!("to be `{text}`"), |found| found == text).await
    }

    /// Waits until an element's text, or a field's value, contains `part`.
    pub(crate) async fn wait_for_text_with(&self, css: &str, part: &str) -> Result<()> {
        self.wait_for_text_that(css, &format!("to contain `{part}`"), |found| found.contains(part))
            .await
    }

    /// Waits until a JavaScript expression is true; `what` names the condition in the failure.
    pub(crate) async fn wait_until(&self, what: &str, expression: &str) -> Result<()> {
        let script = format!("return ({expression});");
        let look = async || match self.run(&script, vec![]).await? {
            Value::Bool(true) => Ok(Look::Done(())),
            other => Ok(Look::Not(format!("`{expression}` is {other}"))),
        };
        wait(what, look).await
    }

    /// Clicks an element once it is there.
    pub(crate) async fn click(&self, css: &str) -> Result<()> {
        let element = self.wait_for(css).await?;
        // As a person scrolls: clear of the bars at the edges of the window.
        element.scroll_into_view().await?;
        element.click().await.with_context(|| format!("cannot click `{css}`"))
    }

    /// Replaces a field's content as a person does: selects all of it and types.
    pub(crate) async fn type_into(&self, css: &str, text: &str) -> Result<()> {
        let field = self.wait_for(css).await?;
        field.scroll_into_view().await?;
        field.click().await?;
        field.send_keys(Key::Control + "a").await?;
        field.send_keys(text).await.with_context(|| format!("cannot type into `{css}`"))
    }

    /// Presses keys where the focus is, such as `Key::Tab` or `Key::Control + "z"`.
    pub(crate) async fn press(&self, keys: impl Into<TypingData>) -> Result<()> {
        self.driver.active_element().await?.send_keys(keys).await?;
        Ok(())
    }

    /// Runs a function body with `arguments` in the page and returns what it returns.
    pub(crate) async fn run(&self, script: &str, arguments: Vec<Value>) -> Result<Value> {
        Ok(self.driver.execute(script, arguments).await?.json().clone())
    }

    /// Runs a script in every document of this tab, before the document's own.
    pub(crate) async fn run_first(&self, script: &str) -> Result<()> {
        let source = json!({ "source": script });
        self.driver.cdp().send_raw("Page.addScriptToEvaluateOnNewDocument", source).await?;
        Ok(())
    }

    /// Runs a function body that calls `done` with what it returns in the end.
    pub(crate) async fn run_until_done(&self, script: &str) -> Result<Value> {
        let script = format!("const done = arguments[0]; {script}");
        Ok(self.driver.execute_async(script, vec![]).await?.json().clone())
    }

    /// Takes a picture of the view into `target/shots/NAME.png`.
    pub(crate) async fn screenshot(&self, name: &str) -> Result<PathBuf> {
        let picture = self.driver.screenshot_as_png().await?;
        let file = paths::shots().join(format!("{name}.png"));
        fs::create_dir_all(paths::shots())?;
        fs::write(&file, picture)?;
        Ok(file)
    }

    /// Prints the page into `target/shots/NAME.pdf`.
    pub(crate) async fn print(&self, name: &str, printer: Printer) -> Result<Pdf> {
        let bytes = match printer {
            Printer::WebDriver => {
                // Shrinking to fit would make the driver ignore the page's own paper sizes.
                let parameters =
                    PrintParameters { shrink_to_fit: false, ..PrintParameters::default() };
                self.driver.print_page(parameters).await?
            }
            Printer::DevTools => {
                let parameters = json!({ "preferCSSPageSize": true, "printBackground": true });
                let answer = self.driver.cdp().send_raw("Page.printToPDF", parameters).await?;
                let data = answer["data"].as_str().context("the browser printed nothing")?;
                thirtyfour::support::base64_decode(data)?
            }
        };
        let file = paths::shots().join(format!("{name}.pdf"));
        fs::create_dir_all(paths::shots())?;
        fs::write(&file, bytes)?;
        Ok(Pdf::new(file))
    }

    /// Takes the errors out of the browser's log: exceptions, refused or failed loads, `console.error`.
    ///
    /// What this returns no longer fails the test at its end.
    pub(crate) async fn console_errors(&self) -> Result<Vec<String>> {
        let log = self.driver.browser_log().await?;
        Ok(log
            .into_iter()
            .filter(|entry| entry.level == "SEVERE")
            .map(|entry| entry.message)
            .collect())
    }

    /// Looks at the page as a reader does who prefers light or dark colours.
    pub(crate) async fn prefer_colours(&self, scheme: &str) -> Result<()> {
        let wish = json!({ "features": [{ "name": "prefers-color-scheme", "value": scheme }] });
        self.driver.cdp().send_raw("Emulation.setEmulatedMedia", wish).await?;
        Ok(())
    }

    /// Faults in accessibility that the checker finds in the page as it is now, one line each.
    ///
    /// Where `cargo xtask test` could not fetch the checker, this says that it is skipped and finds none.
    pub(crate) async fn axe_violations(&self) -> Result<Vec<String>> {
        let Ok(checker) = fs::read_to_string(paths::axe()) else {
            // Not by `eprintln!`, which the test runner hides for tests that pass.
            writeln!(
                io::stderr(),
                "skipped: accessibility of {}",
                self.driver.current_url().await?
            )?;
            return Ok(Vec::new());
        };
        self.run(&checker, vec![]).await?;
        let script = "const done = arguments[0]; \
            const line = v => `${v.id}: ${v.help}: ${v.nodes.map(n => n.target).join(' ')}`; \
            axe.run(document, { resultTypes: ['violations'] }) \
              .then(r => done({ Ok: r.violations.map(line) }), e => done({ Err: String(e) }));";
        let answer = self.driver.execute_async(script, vec![]).await?;
        let outcome: std::result::Result<Vec<String>, String> = answer.convert()?;
        outcome.map_err(|error| anyhow::anyhow!("the accessibility checker failed: {error}"))
    }

    /// Closes the browser.
    pub(crate) async fn quit(self) -> Result<()> {
        Ok(self.driver.quit().await?)
    }

    async fn wait_for_text_that(
        &self,
        css: &str,
        what: &str,
        is: impl Fn(&str) -> bool,
    ) -> Result<()> {
        let look = async || match self.run(TEXT, vec![css.into()]).await? {
            Value::String(text) if is(&text) => Ok(Look::Done(())),
            Value::String(text) => Ok(Look::Not(format!("it is `{text}`"))),
            _ => Ok(Look::Not("no such element".to_owned())),
        };
        wait(&format!("`{css}` {what}"), look).await
    }
}

/// What one look at the page found.
enum Look<T> {
    Done(T),
    /// Not what is waited for, but this.
    Not(String),
}

async fn wait<T>(what: &str, look: impl AsyncFn() -> Result<Look<T>>) -> Result<T> {
    let start = Instant::now();
    loop {
        let found = match look().await? {
            Look::Done(value) => return Ok(value),
            Look::Not(found) => found,
        };
        if start.elapsed() > DEADLINE {
            bail!("waited {} s for {what}: {found}", DEADLINE.as_secs());
        }
        tokio::time::sleep(PAUSE).await;
    }
}
