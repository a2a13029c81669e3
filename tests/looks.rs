//! The style sheet against what is written down of it, and against the contrast that readers need.
//!
//! Contrast is that of WCAG 2.2 (success criteria 1.4.3 and 1.4.11, definition of relative luminance).

use std::fs;

use risemark_tests::top;

/// The darkest and the lightest pair that exist: W3C's definition gives them 21 to 1.
const BLACK_ON_WHITE: f64 = 21.0;

/// A row of the table of colours.
struct Pair {
    front: String,
    back: String,
    light: f64,
    dark: f64,
    need: f64,
}

fn style() -> String {
    fs::read_to_string(top().join("www/style.css")).expect("the style sheet")
}

/// The part of the developers' page about looks.
fn looks() -> String {
    let page = fs::read_to_string(top().join("DEVELOPERS.md")).expect("the developers' page");
    let part = page.split("\n## ").find(|part| part.starts_with("Looks\n"));
    part.expect("a part about looks").to_owned()
}

fn pairs() -> Vec<Pair> {
    let looks = looks();
    let rows = looks.lines().filter(|line| line.contains(" on ") && line.starts_with("| "));
    rows.map(|row| {
        let cells: Vec<&str> = row.trim_matches('|').split('|').map(str::trim).collect();
        let (front, back) = cells[0].split_once(" on ").expect("one colour on another");
        let figure = |at: usize| cells[at].parse().expect("a contrast");
        let need = match cells[3] {
            "words" => 4.5,
            "seen" => 3.0,
            other => panic!("“{other}” is no use of a colour"),
        };
        let (front, back) = (front.to_owned(), back.to_owned());
        Pair { front, back, light: figure(1), dark: figure(2), need }
    })
    .collect()
}

/// The value of a custom property; the first is for light, the last for dark where there are two.
fn property(style: &str, name: &str, dark: bool) -> String {
    let start = format!("--{name}: ");
    let mut values = style
        .lines()
        .filter_map(|line| line.trim().strip_prefix(&start))
        .map(|value| value.trim_end_matches(';').to_owned());
    let light = values.next().unwrap_or_else(|| panic!("the style sheet has no --{name}"));
    if dark { values.next_back().unwrap_or(light) } else { light }
}

fn luminance(colour: &str) -> f64 {
    let part = |at: usize| {
        let value = u8::from_str_radix(&colour[at..at + 2], 16).expect("a colour as #rrggbb");
        let value = f64::from(value) / 255.0;
        if value <= 0.04045 { value / 12.92 } else { libm::pow((value + 0.055) / 1.055, 2.4) }
    };
    0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5)
}

fn contrast(front: &str, back: &str) -> f64 {
    let (a, b) = (luminance(front), luminance(back));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn the_contrast_of_black_on_white_is_as_defined() {
    assert!((contrast("#000000", "#ffffff") - BLACK_ON_WHITE).abs() < 1e-9, "black on white");
}

#[test]
fn colours_are_as_written_down_and_can_be_read() {
    let (style, pairs) = (style(), pairs());
    assert!(7 < pairs.len(), "the table of colours was read");
    for Pair { front, back, light, dark, need } in pairs {
        for (told, is_dark) in [(light, false), (dark, true)] {
            let found =
                contrast(&property(&style, &front, is_dark), &property(&style, &back, is_dark));
            let which = if is_dark { "dark" } else { "light" };
            assert!((found - told).abs() < 0.051, "{front} on {back}, {which}: {found:.2}");
            assert!(need <= found, "{front} on {back}, {which}: {found:.2} of {need}");
        }
    }
}

#[test]
fn colours_and_sizes_come_from_the_table_of_properties() {
    let style = style();
    let (_, rules) =
        style.split_once("/* ---- Ground ---- */").expect("rules after the properties");
    for line in rules.lines() {
        assert!(!has_colour(line), "a colour of its own: {line}");
        if let Some((_, size)) = line.split_once("font-size: ") {
            let known = ["var(--text-", "inherit", "13px", "15px"];
            assert!(known.iter().any(|known| size.starts_with(known)), "a size of its own: {line}");
        }
    }
}

fn has_colour(line: &str) -> bool {
    let value = line.split_once(": ").map_or("", |(_, value)| value);
    let hex =
        value.split('#').skip(1).any(|rest| rest.starts_with(|c: char| c.is_ascii_hexdigit()));
    hex || value.contains("rgb(") || value.contains("hsl(")
}

#[test]
fn type_and_space_are_as_written_down() {
    let (style, looks) = (style(), looks());
    for (name, start) in [("text", "- **Type**: "), ("space", "- **Space**: ")] {
        let line =
            looks.lines().find_map(|line| line.strip_prefix(start)).expect("a line of sizes");
        let (told, _) = line.split_once(" px").expect("sizes in px");
        let told: Vec<f64> = told
            .replace(" and ", ", ")
            .split(", ")
            .map(|size| size.parse().expect("a size"))
            .collect();
        for (idx, told) in told.iter().enumerate() {
            let rem = property(&style, &format!("{name}-{}", idx + 1), false);
            let rem: f64 = rem.trim_end_matches("rem").parse().expect("a size in rem");
            assert!((rem * 16.0 - told).abs() < 0.01, "{name}-{}: {} px", idx + 1, rem * 16.0);
        }
        let next = format!("--{name}-{}:", told.len() + 1);
        assert!(!style.contains(&next), "{next} is not written down");
    }
}
