//! What every set of sheets must hold, tried on generated walls.

use std::collections::BTreeSet;

use risemark::{
    Plan,
    finding::{Finding, Place, Problem},
    job::{End, Job, SkipReason},
    plan,
    quantity::{Units, seconds},
};

use super::*;
use crate::{
    drawing::{Anchor, At, Item, Shape, Unit},
    ink::Ink,
    samples::{job, level, walls},
    text,
};

fn drawn(job: &Job, paper: Paper, orientation: Orientation) -> Vec<Drawing> {
    drawn_in(Language::English, job, paper, orientation)
}

fn drawn_in(language: Language, job: &Job, paper: Paper, orientation: Orientation) -> Vec<Drawing> {
    let Plan { rules, walls } = plan(job);
    let shots = WallShots::default();
    let options = SheetOptions { paper, orientation, acknowledged: None, language, shots };
    drawings(job, &walls[0], &rules, &options)
}

/// The sheets of a job's wall with its seconds, and with its holes in turn as they are marked.
fn drawn_with_shots(language: Language, job: &Job, paper: Paper) -> Vec<Drawing> {
    let plan = plan(job);
    let poured = risemark::foam::pour_wall(job, &plan, &plan.walls[0]);
    let (flow, pour) = &poured.product;
    let mut shots = WallShots::of(flow, pour, None).with_findings(
        &plan.walls[0],
        &poured.findings,
        OfNoWall::Borne,
    );
    for (idx, shot) in shots.shots.iter_mut().enumerate() {
        shot.turn = Some(idx + 1);
    }
    let orientation = Orientation::Auto;
    let options = SheetOptions { paper, orientation, acknowledged: None, language, shots };
    drawings(job, &plan.walls[0], &plan.rules, &options)
}

fn texts(drawing: &Drawing) -> Vec<&crate::drawing::Text> {
    let texts = drawing.items.iter().filter_map(|item| match &item.shape {
        Shape::Text(text) => Some(text),
        _ => None,
    });
    texts.collect()
}

/// What is written with an ink on a set of sheets.
fn written(sheets: &[Drawing], ink: Ink) -> Vec<&crate::drawing::Text> {
    let items = sheets.iter().flat_map(|drawing| &drawing.items).filter(|item| item.ink == ink);
    let texts = items.filter_map(|item| match &item.shape {
        Shape::Text(text) => Some(text),
        _ => None,
    });
    texts.collect()
}

#[test]
fn sheets_can_be_read_at_the_wall() {
    for (idx, wall) in walls().iter().enumerate() {
        let (units, paper) =
            if idx % 2 == 0 { ("feet-inches", Paper::Letter) } else { ("metric", Paper::A4) };
        let job = job(wall, units);
        for language in Language::ALL {
            let plain = drawn_in(language, &job, paper, Orientation::Auto);
            for sheets in [plain, drawn_with_shots(language, &job, paper)] {
                nothing_touches(wall, &sheets);
                text_is_large_enough(wall, &sheets);
                every_hole_is_there(wall, &job, &sheets);
            }
        }
    }
}

/// Everything on the sheets that stops or warns, is assumed or is a caution, whatever the wall.
#[test]
fn long_sentences_keep_apart_in_every_language() {
    let rest = r#","construction":{"kind":"balloon-frame"},"finish":{"material":"board"},
        "bays":[{"at":100,"skip":"knob-and-tube"},{"at":2000,"depth":20}],
        "things":[{"kind":"flue","at":{"shape":"box","left":1000,"up":0,"width":200,"height":2400}}]"#;
    for (width, datum) in [(2400.0, "left"), (9000.0, "right")] {
        let rest = format!("{rest},\"datum\":\"{datum}\"");
        let job = job(&level(width, 2400.0, &rest), "feet-inches");
        for language in Language::ALL {
            for paper in Paper::ALL {
                let sheets = drawn_in(language, &job, paper, Orientation::Auto);
                nothing_touches(&format!("{width} on {paper:?} in {language:?}"), &sheets);
            }
        }
    }
}

#[test]
fn a_sheet_speaks_one_language() {
    let job = job(&walls()[3], "feet-inches");
    let said = |language| -> BTreeSet<String> {
        let sheets = drawn_in(language, &job, Paper::Letter, Orientation::Auto);
        sheets.iter().flat_map(texts).map(|text| text.content.clone()).collect()
    };
    let [english, spanish] = Language::ALL.map(said);
    let words = |text: &&String| 3 < text.chars().filter(|sign| sign.is_alphabetic()).count();
    let both: Vec<&String> = english.intersection(&spanish).filter(words).collect();
    // What the user wrote stays as it was written.
    let wall = &job.walls[0];
    let names = wall.openings.iter().filter_map(|opening| opening.name.as_ref());
    let own: Vec<&String> = names.chain([&job.name, &wall.name]).collect();
    let is_own = |text: &&String| own.iter().any(|own| text.contains(own.as_str()));
    assert!(both.iter().all(is_own), "in both languages: {both:?}");
}

#[test]
fn what_was_found_of_the_shots_of_a_wall_stands_on_its_sheets_alone() {
    let mut job = job(&level(2400.0, 2467.0, ""), "feet-inches");
    job.foam.longest_shot = Some(20.0);
    let mut other = job.walls[0].clone();
    other.id = "other".to_owned();
    job.walls.push(other);
    let plan = plan(&job);
    let mut found = risemark::pour(&job, &plan).findings;
    let of = |plan: &Plan, wall: usize, found: &[Finding]| {
        let of_no_wall = OfNoWall::at(wall, plan);
        WallShots::default().with_findings(&plan.walls[wall], found, of_no_wall).findings
    };
    let (here, there) = (of(&plan, 0, &found), of(&plan, 1, &found));
    assert_eq!((here.len(), there.len()), (1, 1), "one each of {found:?}");
    assert_ne!(here, there, "each its own");
    let problem = Problem::WaitsCostNozzles { n_waits: 2, longest: seconds(40.0) };
    found.push(Finding::new(Place::default(), problem));
    let told = |plan: &Plan| [0, 1].map(|wall| of(plan, wall, &found).len());
    assert_eq!(told(&plan), [2, 1], "the job's on the first");
    // Nobody takes up the sheets of a wall that is stopped.
    let mut stopped = plan.clone();
    let stop = Problem::Skipped { reason: SkipReason::KnobAndTube };
    stopped.walls[0].findings.push(Finding::new(Place::default(), stop));
    assert!(stopped.walls[0].is_stopped(), "old wiring stops the work");
    assert_eq!(told(&stopped), [1, 2], "the job's on the first that can be drilled");
    let said = |language| -> String {
        let sheets = drawn_with_shots(language, &job, Paper::Letter);
        let texts = sheets.iter().flat_map(texts);
        texts.map(|text| text.content.clone()).collect::<Vec<_>>().join(" ")
    };
    let english = said(Language::English);
    assert!(english.contains("shots over 20 s are split"), "{english}");
    let spanish = said(Language::Spanish);
    assert!(spanish.contains("inyecciones de más de 20 s se dividen"), "{spanish}");
}

fn nothing_touches(wall: &str, sheets: &[Drawing]) {
    for (idx, drawing) in sheets.iter().enumerate() {
        let found = drawing.collisions();
        assert!(found.is_empty(), "{wall}, sheet {}: {found:?}", idx + 1);
    }
}

/// ISO 3098 text heights are those of capitals; 3.5 mm is asked for on site.
fn text_is_large_enough(wall: &str, sheets: &[Drawing]) {
    let all = sheets.iter().flat_map(texts);
    assert!(all.into_iter().all(|text| 3.5 <= text::height(text.size)), "{wall}: 3.5 mm");
}

#[test]
fn hole_numbers_are_large_where_they_fit() {
    let job = job(&level(4876.8, 2467.0, ""), "feet-inches");
    let sheets = drawn(&job, Paper::Letter, Orientation::Auto);
    let numbers = written(&sheets, Ink::HoleNumber);
    assert!(!numbers.is_empty(), "holes have numbers");
    assert!(numbers.iter().all(|text| 5.0 <= text::height(text.size)), "5 mm between studs");
}

#[test]
fn every_hole_stands_over_its_own_reading() {
    for wall in walls() {
        let job = job(&wall, "feet-inches");
        let plan = plan(&job).walls.remove(0);
        let sheets = drawn(&job, Paper::Tabloid, Orientation::Auto);
        let said: Vec<String> = written(&sheets, Ink::Reading)
            .into_iter()
            .flat_map(|text| text.content.split(" & ").map(str::to_owned).collect::<Vec<_>>())
            .collect();
        for hole in &plan.drill.holes {
            let across = risemark::tape::reading(hole.across, Units::FeetInches);
            assert!(said.contains(&across), "{wall}: {across} of hole {} in {said:?}", hole.mark);
        }
    }
}

#[test]
fn a_plain_wall_with_few_holes_takes_one_sheet() {
    let whole = include_str!("../../../../examples/plain-wall/job.json");
    let mut job = risemark::file::read(whole).expect("the example is sound");
    for paper in [Paper::Legal, Paper::Tabloid, Paper::A3] {
        assert_eq!(drawn(&job, paper, Orientation::Auto).len(), 1, "{paper:?}, 24 holes");
    }
    job.walls[0].width = risemark::quantity::inches(64.0);
    for paper in [Paper::Letter, Paper::A4] {
        assert_eq!(drawn(&job, paper, Orientation::Auto).len(), 1, "{paper:?}, few holes");
    }
}

fn every_hole_is_there(wall: &str, job: &Job, sheets: &[Drawing]) {
    let words = |ink| -> Vec<String> {
        written(sheets, ink).into_iter().map(|text| text.content.clone()).collect()
    };
    let (numbers, table) = (words(Ink::HoleNumber), words(Ink::Heading));
    for hole in &plan(job).walls[0].drill.holes {
        let mark = hole.mark.to_string();
        assert_eq!(
            numbers.iter().filter(|number| **number == mark).count(),
            1,
            "{wall}: number {mark}"
        );
        assert!(table.contains(&mark), "{wall}: row {mark}");
    }
}

#[test]
fn check_bars_are_exact() {
    let job = job(&level(4876.8, 2467.0, ""), "feet-inches");
    for paper in Paper::ALL {
        for drawing in drawn(&job, paper, Orientation::Portrait) {
            let bars = drawing.items.iter().filter(|item| item.ink == Ink::CheckBar);
            let lengths = bars.filter_map(|item| match &item.shape {
                Shape::Line(from, to) => Some(to.x - from.x),
                _ => None,
            });
            let lengths: Vec<f64> = lengths.collect();
            assert_eq!(lengths.len(), 2, "{paper:?}: two bars");
            // 4 in are 101.6 mm by definition.
            let exact = (lengths[0] - 100.0).abs() < 1e-9 && (lengths[1] - 101.6).abs() < 1e-9;
            assert!(exact, "{paper:?}: {lengths:?}");
        }
    }
}

/// Where the rings of a wall lie on its first sheet, by their marks.
fn rings(drawing: &Drawing) -> Vec<(usize, At)> {
    let rings = drawing.items.iter().filter_map(|item| match (&item.shape, item.tag) {
        (Shape::Ellipse { centre, .. }, Some(crate::drawing::Tag::Hole(mark))) => {
            Some((mark, *centre))
        }
        _ => None,
    });
    rings.collect()
}

#[test]
fn the_elevation_is_to_the_scale_it_names() {
    let ratios = [
        ("1\" = 1 ft", 12.0),
        ("3/4\" = 1 ft", 16.0),
        ("1/2\" = 1 ft", 24.0),
        ("3/8\" = 1 ft", 32.0),
    ];
    let job = job(&level(4876.8, 2467.0, ""), "feet-inches");
    let holes = &plan(&job).walls[0].drill.holes;
    let sheets = drawn(&job, Paper::Letter, Orientation::Auto);
    let named = texts(&sheets[0])
        .into_iter()
        .find_map(|text| text.content.split_once("scale "))
        .map(|(_, words)| words);
    let ratio = ratios
        .iter()
        .find(|(words, _)| Some(*words) == named)
        .map(|(_, ratio)| *ratio)
        .expect("a scale is named");
    let rings = rings(&sheets[0]);
    let at = |mark: usize| {
        rings
            .iter()
            .find(|(found, _)| *found == mark)
            .map(|(_, at)| *at)
            .expect("on the first sheet")
    };
    let (first, last) = (&holes[0], &holes[holes.len() - 1]);
    let (across, up) = (
        (last.centre.x - first.centre.x).value * 1000.0,
        (last.centre.y - first.centre.y).value * 1000.0,
    );
    let (from, to) = (at(first.mark), at(last.mark));
    assert!((to.x - from.x - across / ratio).abs() < 1e-6, "across: {from:?} to {to:?}");
    assert!((from.y - to.y - up / ratio).abs() < 1e-6, "up: {from:?} to {to:?}");
}

#[test]
fn from_the_right_the_pole_stands_at_the_right() {
    for (datum, end) in [("left", End::Left), ("right", End::Right)] {
        let job = job(&level(4876.8, 2467.0, &format!(r#","datum":"{datum}""#)), "feet-inches");
        let wall = &plan(&job).walls[0];
        assert_eq!(wall.frame.datum, end, "as it was asked for");
        let sheet = &drawn(&job, Paper::Letter, Orientation::Landscape)[0];
        let outline = sheet
            .items
            .iter()
            .find(|item| item.ink == Ink::Outline)
            .map(Item::area)
            .expect("an outline");
        let up = risemark::tape::reading(wall.drill.snap_lines[0], Units::FeetInches);
        let reading = texts(sheet)
            .into_iter()
            .find(|text| text.content == up)
            .expect("the lowest line has its reading");
        let (outside, anchor) = match end {
            End::Left => (reading.at.x < outline.left, Anchor::End),
            End::Right => (outline.right < reading.at.x, Anchor::Start),
        };
        assert!(outside && reading.anchor == anchor, "{datum}: {reading:?}");
    }
}

#[test]
fn a_long_wall_goes_on_at_match_lines() {
    let job = job(&level(12_000.0, 2500.0, ""), "metric");
    let sheets = drawn(&job, Paper::A4, Orientation::Landscape);
    let n_drawn = sheets
        .iter()
        .filter(|sheet| sheet.items.iter().any(|item| item.ink == Ink::MatchLine))
        .count();
    // 12 m at 1:30, the least scale, are 400 mm on sheets 297 mm wide.
    assert!(2 <= n_drawn, "{n_drawn} sheets with match lines");
    let first = texts(&sheets[0]).into_iter().any(|text| text.content == "match line, sheet 2");
    assert!(first, "the first sheet names the second");
}

#[test]
fn a_name_stays_text() {
    let name = "\"><script>alert(1)</script>";
    let mut job = job(&level(4876.8, 2467.0, ""), "feet-inches");
    job.walls[0].name = name.to_owned();
    job.name = name.to_owned();
    let Plan { rules, walls } = plan(&job);
    let options = SheetOptions {
        paper: Paper::A4,
        orientation: Orientation::Auto,
        acknowledged: None,
        language: Language::English,
        shots: WallShots::default(),
    };
    for sheet in sheets(&job, &walls[0], &rules, &options) {
        assert!(!sheet.svg.contains("<script"), "no element of the user's making");
        assert!(
            sheet.svg.contains(">\"&gt;&lt;script&gt;alert(1)&lt;/script&gt;</text>"),
            "the name as it was written"
        );
    }
}

#[test]
fn the_same_plan_gives_the_same_bytes() {
    let job = job(&walls()[3], "feet-inches");
    let Plan { rules, walls } = plan(&job);
    let options = SheetOptions {
        paper: Paper::Letter,
        orientation: Orientation::Auto,
        acknowledged: None,
        language: Language::English,
        shots: WallShots::default(),
    };
    let once = || sheets(&job, &walls[0], &rules, &options);
    assert_eq!(once(), once(), "twice the same");
    assert!(
        drawn(&job, Paper::Letter, Orientation::Auto)
            .iter()
            .all(|sheet| sheet.unit == Unit::Millimetre),
        "in mm"
    );
}

/// What stands in the row of a hole behind its mark, up to the next hole.
fn row(sheets: &[Drawing], mark: &str) -> Vec<String> {
    let all: Vec<(Ink, String)> = sheets
        .iter()
        .flat_map(|drawing| &drawing.items)
        .filter_map(|item| match &item.shape {
            Shape::Text(text) => Some((item.ink, text.content.clone())),
            _ => None,
        })
        .collect();
    let at = all.iter().position(|(ink, text)| *ink == Ink::Heading && text == mark);
    let behind = all.into_iter().skip(at.expect("a row of that mark") + 1);
    behind.take_while(|(ink, _)| *ink == Ink::Text).map(|(_, text)| text).take(3).collect()
}

#[test]
fn the_table_tells_the_seconds_and_a_dash_where_a_hole_is_filled_already() {
    let wall = level(444.5, 2438.4, "");
    let job = job(&wall, "feet-inches");
    let before = plan(&job).walls.remove(0);
    let pour = risemark::foam::pour_wall(&job, &plan(&job), &before).product.1;
    let seconds = |idx: usize| risemark::quantity::to_seconds(pour.holes[idx].time).to_string();
    let told = drawn_with_shots(Language::English, &job, Paper::Letter);
    assert_eq!(row(&told, "1")[1..], [seconds(0), "1".to_owned()], "seconds and turn");
    assert!(1 < before.drill.holes.len(), "a hole over the first");

    let mut patched = job;
    let first = &before.drill.holes[0];
    patched.walls[0].drilling.holes = vec![risemark::job::OwnHole {
        state: risemark::job::OwnState::Patched,
        at: first.centre,
        mark: Some(1),
    }];
    let told = drawn_with_shots(Language::English, &patched, Paper::Letter);
    assert_eq!(row(&told, "1")[1..], ["–", "–"], "nothing to shoot");
    assert_eq!(row(&told, "2")[1..], [seconds(1), "1".to_owned()], "the next is the first");
}

#[test]
fn sheets_say_what_their_seconds_rest_on() {
    let wall = level(4876.8, 2467.0, "");
    let job = job(&wall, "feet-inches");
    let said = |language| -> String {
        let sheets = drawn_with_shots(language, &job, Paper::Letter);
        sheets.iter().flat_map(texts).map(|text| text.content.clone() + " ").collect()
    };
    assert!(said(Language::English).contains("Seconds by common practice: test first."));
    assert!(said(Language::Spanish).contains("Segundos según la práctica común"));
    let plain = drawn(&job, Paper::Letter, Orientation::Auto);
    let untold = plain.iter().flat_map(texts).all(|text| !text.content.contains("econds"));
    assert!(untold, "nothing of seconds where nobody has planned them");
}

#[test]
fn the_reason_for_going_on_is_printed() {
    let rest = ",\"bays\":[{\"at\":100,\"skip\":\"knob-and-tube\"}]";
    let job = job(&level(2400.0, 2400.0, rest), "metric");
    let Plan { rules, walls } = plan(&job);
    let printed = |acknowledged: Option<&str>| {
        let acknowledged = acknowledged.map(str::to_owned);
        let options = SheetOptions {
            paper: Paper::A4,
            orientation: Orientation::Auto,
            acknowledged,
            language: Language::English,
            shots: WallShots::default(),
        };
        let sheets = sheets(&job, &walls[0], &rules, &options);
        sheets.iter().any(|sheet| sheet.svg.contains("cleared on 3 May"))
    };
    assert!(printed(Some("cleared on 3 May")), "the user's reason");
    assert!(!printed(None), "no reason was given");
}

#[test]
fn a_hole_that_was_drilled_into_a_stud_is_drawn_where_it_is() {
    let n_dots = |holes: &str| {
        let wall = level(4876.8, 2467.0, &format!(r#","drilling":{{"holes":[{holes}]}}"#));
        let sheets = drawn(&job(&wall, "metric"), Paper::Letter, Orientation::Auto);
        let dots = sheets.iter().flat_map(|sheet| &sheet.items);
        dots.filter(|item| item.ink == Ink::HoleDot).count()
    };
    assert_eq!(n_dots(""), 0, "nothing is drilled");
    // The second regular stud, 32 in from the datum end, and a bay beside it.
    assert_eq!(n_dots(r#"{"state":"drilled","at":[812.8,1200]}"#), 1, "in a stud");
    assert_eq!(n_dots(r#"{"state":"drilled","at":[1000,1200]}"#), 1, "in a bay");
    assert_eq!(n_dots(r#"{"state":"left-out","at":[812.8,1200]}"#), 0, "no hole");
}
