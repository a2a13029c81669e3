//! Whole tasks, as a planner does them.

use std::path::PathBuf;

use anyhow::{Context, Result, ensure};
use risemark::quantity::{MM_PER_INCH, inches, to_mm};
use serde_json::{Value, json};
use thirtyfour::Key;
use xtask::paths;

use crate::harness::{View, browse};
use crate::page::{Page, Printer};
use crate::pdf::Pdf;

/// The plain wall of the sample job: 16 ft, studs at 16 in on centre.
const PLAIN: &str = "workshop-north";
const WIDTH: &str = "#group-size [name=width]";

async fn open_wall(page: &Page, id: &str) -> Result<()> {
    page.open(&format!("#/wall/{id}")).await?;
    page.wait_for("#elevation [data-mark='1']").await?;
    Ok(())
}

async fn open_group(page: &Page, id: &str) -> Result<()> {
    let open = "document.querySelector(arguments[0]).open = true;";
    page.wait_for(id).await?;
    page.run(open, vec![json!(id)]).await?;
    Ok(())
}

async fn n_holes(page: &Page) -> Result<u64> {
    let count = "return document.querySelectorAll('#holes tr[data-mark]').length;";
    page.run(count, vec![]).await?.as_u64().context("a count of rows")
}

async fn wait_for_holes(page: &Page, n_holes: u64) -> Result<()> {
    let rows = "document.querySelectorAll('#holes tr[data-mark]').length";
    page.wait_until(&format!("{n_holes} holes"), &format!("{rows} === {n_holes}")).await
}

/// Puts a listener in the way of the download, and returns the text that was to be saved.
async fn saved(page: &Page) -> Result<String> {
    let listen = "const make = URL.createObjectURL; \
         URL.createObjectURL = blob => { blob.text().then(text => { window.savedText = text; }); \
         return make.call(URL, blob); };";
    page.run(listen, vec![]).await?;
    page.open("#/job").await?;
    page.click("#save-job").await?;
    page.wait_until("the saved text", "typeof window.savedText === 'string'").await?;
    let text = page.run("return window.savedText;", vec![]).await?;
    text.as_str().map(str::to_owned).context("the saved job is a text")
}

async fn open_job(page: &Page, name: &str, text: &str) -> Result<()> {
    let file: PathBuf = paths::target().join(format!("{name}.json"));
    std::fs::write(&file, text)?;
    page.open("#/job").await?;
    let picker = page.wait_for("#job-file").await?;
    picker.send_keys(file.to_string_lossy().as_ref()).await?;
    Ok(())
}

#[test]
fn a_width_is_typed_undone_saved_and_found_again() -> Result<()> {
    browse(View::DESK, async |page| {
        open_wall(page, PLAIN).await?;
        ensure!(n_holes(page).await? == 24, "two holes in each of twelve bays");
        open_group(page, "#group-size").await?;
        page.type_into(WIDTH, "12' 0\"").await?;
        page.press(Key::Enter).await?;
        wait_for_holes(page, 18).await?;
        page.click("#undo").await?;
        wait_for_holes(page, 24).await?;
        page.click("#redo").await?;
        wait_for_holes(page, 18).await?;
        let text = saved(page).await?;
        let job: Value = serde_json::from_str(&text)?;
        ensure!(job["job"]["walls"][0]["width"] == json!(3657.6), "12 ft in the file: {text}");
        page.click("#sample-job").await?;
        open_job(page, "reopened", &text).await?;
        page.wait_for_text_with("#wall-workshop-north", "18 holes").await?;
        open_wall(page, PLAIN).await?;
        wait_for_holes(page, 18).await
    })
}

#[test]
fn a_bad_text_stays_is_marked_and_changes_nothing() -> Result<()> {
    browse(View::PHONE, async |page| {
        open_wall(page, PLAIN).await?;
        open_group(page, "#group-size").await?;
        page.type_into(WIDTH, "twelve feet").await?;
        page.press(Key::Enter).await?;
        page.wait_for(&format!("{WIDTH}[aria-invalid=true]")).await?;
        page.wait_for_text(WIDTH, "twelve feet").await?;
        ensure!(n_holes(page).await? == 24, "the plan is as it was");
        page.press(Key::Escape).await?;
        page.wait_for_text(WIDTH, "16' 0\"").await?;
        page.wait_for(&format!("{WIDTH}:not([aria-invalid=true])")).await?;
        Ok(())
    })
}

#[test]
fn a_chosen_hole_says_why_it_is_there() -> Result<()> {
    browse(View::DESK, async |page| {
        open_wall(page, "workshop-street").await?;
        page.run("document.querySelector(\"#holes tr[data-mark='9'] button, #holes tr[data-mark='9']\").click();", vec![]).await?;
        page.wait_for_text_with("#hole-why", "deep").await?;
        page.screenshot("wall-desk").await?;
        Ok(())
    })
}

#[test]
fn a_hostile_name_is_just_a_name() -> Result<()> {
    browse(View::DESK, async |page| {
        let hostile = "\"><script>window.owned = 1</script><img src=x onerror='window.owned = 1'>";
        let text =
            std::fs::read_to_string(risemark_tests::top().join("examples/plain-wall/job.json"))?;
        let mut job: Value = serde_json::from_str(&text)?;
        job["job"]["name"] = json!(hostile);
        job["job"]["walls"][0]["name"] = json!(hostile);
        page.open("#/job").await?;
        open_job(page, "hostile", &job.to_string()).await?;
        page.wait_for_text_with("main h1, .title h1", "<script>").await?;
        page.open("#/sheets/workshop-north").await?;
        page.wait_for(".sheet svg").await?;
        page.wait_for_text_with(".sheet svg", "<img").await?;
        let owned = page.run("return window.owned ?? null;", vec![]).await?;
        ensure!(owned == Value::Null, "the name ran as a script");
        Ok(())
    })
}

#[test]
fn a_faulty_file_is_refused_with_its_places() -> Result<()> {
    browse(View::DESK, async |page| {
        let text = std::fs::read_to_string(
            risemark_tests::top().join("examples/full-of-faults/job.json"),
        )?;
        page.open("#/job").await?;
        open_job(page, "faulty", &text).await?;
        page.wait_for_text_with("#file-refused", "wall 2").await?;
        page.screenshot("job-refused").await?;
        page.wait_for("#walls > li#wall-workshop-north").await?;
        Ok(())
    })
}

/// The sizes of everything drawn on a printed sheet: left, top, width, height in millimetres.
fn drawn(pdf: &Pdf, sheet: usize) -> Result<Vec<[f64; 4]>> {
    let file = pdf.file().with_extension("drawn.svg");
    let number = sheet.to_string();
    let done = std::process::Command::new("pdftocairo")
        .args(["-svg", "-f", &number, "-l", &number])
        .args([pdf.file(), &file])
        .status()
        .context("pdftocairo is part of poppler-utils")?;
    ensure!(done.success(), "pdftocairo read the sheet");
    let tree = usvg::Tree::from_str(&std::fs::read_to_string(&file)?, &usvg::Options::default())?;
    let mut found = Vec::new();
    collect(tree.root(), &mut found);
    Ok(found)
}

fn collect(group: &usvg::Group, found: &mut Vec<[f64; 4]>) {
    let mm = |px: f32| f64::from(px) / 96.0 * MM_PER_INCH;
    for node in group.children() {
        match node {
            usvg::Node::Group(group) => collect(group, found),
            usvg::Node::Path(path) => {
                let size = path.abs_bounding_box();
                found.push([mm(size.left()), mm(size.top()), mm(size.width()), mm(size.height())]);
            }
            usvg::Node::Image(_) | usvg::Node::Text(_) => {}
        }
    }
}

#[test]
fn a_printed_sheet_is_to_scale() -> Result<()> {
    browse(View::DESK, async |page| {
        page.open(&format!("#/sheets/{PLAIN}")).await?;
        page.wait_for(".sheet svg").await?;
        page.wait_until(
            "the turns of the shots",
            "document.querySelector('#order-searching') === null",
        )
        .await?;
        page.screenshot("sheets-desk").await?;
        for (name, printer) in
            [("print-devtools", Printer::DevTools), ("print-webdriver", Printer::WebDriver)]
        {
            let pdf = page.print(name, printer).await?;
            let text = pdf.text()?;
            ensure!(text.contains("scale 3/8\" = 1 ft"), "the sheet says its scale: {text}");
            check_scale(&drawn(&pdf, 1)?)?;
        }
        Ok(())
    })
}

/// Three eighths of an inch to the foot are 1 to 32; the holes of the first row stand at 8-1/4 in, 24 in and
/// 40 in from the corner: the middles of bays of 13-3/4 in and 14-1/2 in, on quarter inches.
fn check_scale(drawn: &[[f64; 4]]) -> Result<()> {
    for bar in [100.0, 101.6] {
        let is_bar = |[_, _, width, height]: &[f64; 4]| (width - bar).abs() < 0.1 && *height < 0.01;
        ensure!(drawn.iter().any(is_bar), "a check bar of {bar} mm is not among {drawn:?}");
    }
    let ring = |[_, _, width, height]: &&[f64; 4]| {
        (width - 2.5).abs() < 0.05 && (height - 2.76).abs() < 0.05
    };
    let mut rings: Vec<(f64, f64)> = drawn
        .iter()
        .filter(ring)
        .map(|[left, top, width, height]| (left + width / 2.0, top + height / 2.0))
        .collect();
    rings.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.total_cmp(&b.0)));
    rings.dedup_by(|a, b| (a.0 - b.0).abs() < 0.01 && (a.1 - b.1).abs() < 0.01);
    ensure!(rings.len() == 24, "24 holes are drawn, found {}", rings.len());
    let (lowest, first) = (rings[0].1, rings[0].0);
    let mut row: Vec<f64> =
        rings.iter().filter(|(_, y)| (y - lowest).abs() < 0.1).map(|(x, _)| x - first).collect();
    row.sort_by(f64::total_cmp);
    for (found, reading) in row.iter().zip([8.25, 24.0, 40.0]) {
        let wanted = to_mm(inches(reading - 8.25)) / 32.0;
        ensure!(
            (found - wanted).abs() < 0.1,
            "a hole at {reading} in is drawn {found} mm on, wanted {wanted}"
        );
    }
    Ok(())
}

#[test]
fn every_place_is_neat_on_a_phone_and_a_desk_in_light_and_dark() -> Result<()> {
    for (view, on) in [(View::PHONE, "phone"), (View::DESK, "desk")] {
        browse(view, async |page| {
            for (name, address) in [
                ("job", "#/job"),
                ("wall", "#/wall/workshop-street"),
                ("foam", "#/foam"),
                ("sheets", "#/sheets/attic-east"),
            ] {
                page.open(address).await?;
                page.wait_for("main h1").await?;
                page.wait_for("main svg").await?;
                let over = "return document.documentElement.scrollWidth - document.documentElement.clientWidth;";
                ensure!(page.run(over, vec![]).await? == json!(0), "{name} is wider than the {on}");
                for scheme in ["light", "dark"] {
                    page.prefer_colours(scheme).await?;
                    page.screenshot(&format!("{name}-{on}-{scheme}")).await?;
                    let faults = page.axe_violations().await?;
                    ensure!(faults.is_empty(), "{name} on a {on} in {scheme}: {faults:#?}");
                }
            }
            Ok(())
        })?;
    }
    Ok(())
}
