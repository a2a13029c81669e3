//! Every sheet of every example, read by an independent SVG reader.

use std::{path::Path, sync::LazyLock};

use risemark::{
    Plan, finding::Staged, job::Job, language::Language, plan, pour, shoot, tape::reading,
};
use risemark_sheets::{OfNoWall, Orientation, Paper, Sheet, SheetOptions, WallShots, sheets};
use risemark_tests::{example_jobs, golden};

/// Paper that printers cannot reach: common practice, no source.
const MARGIN_MM: f32 = 12.7;
/// usvg counts in CSS pixels, 96 to the inch.
const PX_PER_MM: f32 = 96.0 / 25.4;

/// An example with its plan, and what is shot through the holes of each wall.
struct Example {
    name: String,
    job: Job,
    plan: Plan,
    shots: Vec<WallShots>,
}

/// The order of the shots takes longest; it is looked for once.
static EXAMPLES: LazyLock<Vec<Example>> = LazyLock::new(|| {
    let planned = |(name, job): (String, Job)| {
        let plan = plan(&job);
        let Staged { product: pour, mut findings } = pour(&job, &plan);
        let order = shoot(&job, &plan, &pour);
        findings.extend(order.findings);
        let walls = pour.walls.iter().enumerate();
        let shots = walls.map(|(idx, wall)| {
            let shots = WallShots::of(&pour.flow, wall, Some((&order.product, idx)));
            shots.with_findings(&plan.walls[idx], &findings, OfNoWall::at(idx, &plan))
        });
        let shots = shots.collect();
        Example { name, job, plan, shots }
    };
    example_jobs().into_iter().map(planned).collect()
});

fn all_sheets(paper: Paper, language: Language) -> Vec<(String, Sheet)> {
    let mut found = Vec::new();
    for Example { name, job, plan, shots } in EXAMPLES.iter() {
        for (idx, wall) in plan.walls.iter().enumerate() {
            let options = SheetOptions {
                paper,
                orientation: Orientation::Auto,
                acknowledged: None,
                language,
                shots: shots[idx].clone(),
            };
            let drawn = sheets(job, wall, &plan.rules, &options);
            assert!(!drawn.is_empty(), "{name}: wall {} has a sheet", idx + 1);
            let named =
                |sheet: Sheet| (format!("{name}.wall-{}.sheet-{}", idx + 1, sheet.number), sheet);
            found.extend(drawn.into_iter().map(named));
        }
    }
    found
}

#[test]
fn every_sheet_is_as_reviewed() {
    for (name, sheet) in all_sheets(Paper::Letter, Language::English) {
        let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("golden").join(format!("{name}.svg"));
        golden(&file, &sheet.svg);
    }
}

/// One wall stands for all: what differs from the English sheets is the words and their room.
#[test]
fn the_spanish_sheets_of_a_wall_are_as_reviewed() {
    let all = all_sheets(Paper::Letter, Language::Spanish);
    let wall: Vec<_> =
        all.into_iter().filter(|(name, _)| name.starts_with("workshop.wall-1.")).collect();
    assert!(!wall.is_empty(), "the example has that wall");
    for (name, sheet) in wall {
        let file =
            Path::new(env!("CARGO_MANIFEST_DIR")).join("golden").join(format!("{name}.es.svg"));
        golden(&file, &sheet.svg);
    }
}

#[test]
fn every_sheet_is_read_by_usvg_and_keeps_its_margins() {
    let spoken =
        Language::ALL.map(|language| [Paper::Letter, Paper::A4].map(|paper| (paper, language)));
    for (paper, language) in spoken.into_iter().flatten() {
        for (name, sheet) in all_sheets(paper, language) {
            let tree = usvg::Tree::from_str(&sheet.svg, &usvg::Options::default())
                .unwrap_or_else(|error| panic!("{name}: {error}"));
            let size = tree.size();
            let px = |mm: f64| format!("{:.2}", mm * 96.0 / 25.4);
            assert_eq!(format!("{:.2}", size.width()), px(sheet.width_mm), "{name}: true width");
            assert_eq!(format!("{:.2}", size.height()), px(sheet.height_mm), "{name}: true height");
            let bounds = tree.root().abs_stroke_bounding_box();
            let margin = MARGIN_MM * PX_PER_MM - 0.5;
            assert!(
                margin < bounds.left() && margin < bounds.top(),
                "{name}: starts at {bounds:?}"
            );
            assert!(bounds.right() < size.width() - margin, "{name}: ends at {bounds:?}");
            assert!(bounds.bottom() < size.height() - margin, "{name}: ends at {bounds:?}");
        }
    }
}

/// Seconds and turns are worth no sheet more; in Spanish, which is longer, some walls take one.
#[test]
fn the_examples_take_as_many_sheets_with_their_shots_as_without() {
    let (orientation, language) = (Orientation::Auto, Language::English);
    for paper in [Paper::Letter, Paper::A4] {
        for Example { name, job, plan, shots } in EXAMPLES.iter() {
            for (wall, shots) in plan.walls.iter().zip(shots) {
                let n_sheets = |shots: WallShots| {
                    let options =
                        SheetOptions { paper, orientation, acknowledged: None, language, shots };
                    sheets(job, wall, &plan.rules, &options).len()
                };
                let (with, without) = (n_sheets(shots.clone()), n_sheets(WallShots::default()));
                // The many short rows of brick fill their sheets to the last line as it is.
                let spare = usize::from(name == "kiln-room");
                assert!(
                    with <= without + spare,
                    "{name}, {} on {paper:?}: {with} for {without}",
                    wall.wall.name
                );
            }
        }
    }
}

/// The reading of every column and of every snap line stands beside the drawing, not in the table alone.
#[test]
fn every_reading_stands_on_the_tape_and_the_pole() {
    for paper in [Paper::Letter, Paper::A4] {
        let options = SheetOptions {
            paper,
            orientation: Orientation::Auto,
            acknowledged: None,
            language: Language::English,
            shots: WallShots::default(),
        };
        for (name, job) in example_jobs() {
            let plan = plan(&job);
            for wall in &plan.walls {
                let drawn = sheets(&job, wall, &plan.rules, &options);
                let shown: Vec<String> =
                    drawn.iter().flat_map(|sheet| readings(&sheet.svg)).collect();
                for length in wall.drill.columns.iter().chain(&wall.drill.snap_lines) {
                    let wanted = reading(*length, job.units);
                    let bare = wanted.trim_end_matches(" mm");
                    let is_shown = shown.iter().any(|text| text == bare);
                    assert!(is_shown, "{name}, {paper:?}: {wanted} is not among {shown:?}");
                }
            }
        }
    }
}

/// What stands on rulers, each reading of a shared label for itself.
fn readings(svg: &str) -> Vec<String> {
    let texts = svg.lines().filter(|line| line.contains("class=\"reading"));
    let texts = texts.filter_map(|line| line.split_once('>')?.1.split_once("</text>"));
    texts
        .flat_map(|(text, _)| text.split("&amp;").map(str::to_owned).collect::<Vec<_>>())
        .map(|text| text.trim().trim_end_matches(" mm").replace("&quot;", "\""))
        .collect()
}

#[test]
fn a_hostile_name_is_just_a_text() {
    let hostile = "\"><script>alert(1)</script>";
    let (_, mut job) =
        example_jobs().into_iter().find(|(name, _)| name == "plain-wall").expect("the example");
    job.name = hostile.to_owned();
    job.walls[0].name = hostile.to_owned();
    let plan = plan(&job);
    let options = SheetOptions {
        paper: Paper::A4,
        orientation: Orientation::Auto,
        acknowledged: None,
        language: Language::English,
        shots: WallShots::default(),
    };
    for sheet in sheets(&job, &plan.walls[0], &plan.rules, &options) {
        assert!(!sheet.svg.contains("<script"), "no markup comes out of a name");
        assert!(sheet.svg.contains("&lt;script&gt;alert(1)&lt;/script&gt;"), "the name is printed");
        usvg::Tree::from_str(&sheet.svg, &usvg::Options::default())
            .expect("the sheet is well formed");
    }
}
