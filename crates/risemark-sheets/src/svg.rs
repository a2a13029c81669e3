//! Drawings as SVG text.
//!
//! Looks are presentation attributes and classes, never style sheets, so that a strict content
//! security policy lets the text into a page. What users wrote goes out as text alone, escaped.

use svg::{Document, Node, node::element::Element};

use crate::{
    drawing::{Anchor, At, Drawing, Item, Shape, Tag, Text, Unit},
    ink::{Kind, Look, Tone},
};

/// Type of the drawings, the widest family first: where it is missing, text gets narrower, not wider.
const FONTS: &str = "'DejaVu Sans', Verdana, 'Liberation Sans', Arial, sans-serif";

/// Writes a drawing, one element a line. The same drawing gives the same text.
pub fn svg(drawing: &Drawing) -> String {
    let (width, height) = (number(drawing.width), number(drawing.height));
    let unit = match drawing.unit {
        Unit::Millimetre => "mm",
        Unit::Pixel => "",
    };
    let mut document = Document::new()
        .set("width", format!("{width}{unit}"))
        .set("height", format!("{height}{unit}"))
        .set("viewBox", format!("0 0 {width} {height}"))
        .set("font-family", FONTS)
        .set("role", "img")
        .set("aria-label", clean(&drawing.title));
    // A title shows up as a tip over the whole picture, which is in the way on a screen.
    if drawing.unit == Unit::Millimetre {
        document = document.add(note("title", &drawing.title));
    }
    document = document.add(note("desc", &drawing.about));
    for item in &drawing.items {
        document = document.add(element(item, drawing.unit));
    }
    document.to_string()
}

/// A number rounded to a thousandth, as short as it can be written.
pub(crate) fn number(value: f64) -> String {
    let rounded = (value * 1000.0).round() / 1000.0;
    // A negative zero would be written with its sign.
    let rounded = if rounded == 0.0 || !rounded.is_finite() { 0.0 } else { rounded };
    rounded.to_string()
}

/// Text without what XML cannot hold, and without what would turn the reading direction.
pub(crate) fn clean(text: &str) -> String {
    let spaced =
        text.chars().map(|sign| if matches!(sign, '\t' | '\n' | '\r') { ' ' } else { sign });
    let bad = |sign: &char| {
        let turns = matches!(sign, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
        sign.is_control() || turns || matches!(sign, '\u{fffe}' | '\u{ffff}')
    };
    spaced.filter(|sign| !bad(sign)).collect()
}

fn element(item: &Item, unit: Unit) -> Element {
    let mut element = match &item.shape {
        Shape::Line(from, to) => {
            placed("line", [("x1", from.x), ("y1", from.y), ("x2", to.x), ("y2", to.y)])
        }
        Shape::Chains(chains) => path(data(chains, "")),
        Shape::Rings(rings) => {
            let mut element = path(data(rings, "Z"));
            element.assign("fill-rule", "evenodd");
            element
        }
        Shape::Rect(area) => {
            let size = [
                ("x", area.left),
                ("y", area.top),
                ("width", area.width()),
                ("height", area.height()),
            ];
            placed("rect", size)
        }
        Shape::Ellipse { centre, rx, ry } => {
            placed("ellipse", [("cx", centre.x), ("cy", centre.y), ("rx", *rx), ("ry", *ry)])
        }
        Shape::Text(text) => words(text),
    };
    for (name, value) in attributes(item, unit) {
        element.assign(name, value);
    }
    element
}

fn placed<const N: usize>(name: &str, places: [(&str, f64); N]) -> Element {
    let mut element = Element::new(name);
    for (name, value) in places {
        element.assign(name, number(value));
    }
    element
}

fn path(data: String) -> Element {
    let mut element = Element::new("path");
    element.assign("d", data);
    element
}

fn words(text: &Text) -> Element {
    let mut element =
        placed("text", [("x", text.at.x), ("y", text.at.y), ("font-size", text.size)]);
    match text.anchor {
        Anchor::Start => {}
        Anchor::Middle => element.assign("text-anchor", "middle"),
        Anchor::End => element.assign("text-anchor", "end"),
    }
    element.append(svg::node::Text::new(clean(&text.content)));
    element
}

fn note(name: &str, content: &str) -> Element {
    let mut element = Element::new(name);
    element.append(svg::node::Text::new(clean(content)));
    element
}

fn attributes(item: &Item, unit: Unit) -> Vec<(&'static str, String)> {
    let Look { class, fill, line } = item.ink.look();
    let mut list =
        vec![("class", class.to_owned()), ("fill", fill.map_or("none", Tone::colour).to_owned())];
    if let Some((tone, width, kind)) = line {
        list.push(("stroke", tone.colour().to_owned()));
        list.push(("stroke-width", number(width.of(unit))));
        list.extend(kind.dashes(unit).map(|dashes| ("stroke-dasharray", dashes.to_owned())));
        if kind == Kind::Dots {
            list.push(("stroke-linecap", "round".to_owned()));
        }
    }
    if let Shape::Text(text) = &item.shape {
        if item.ink.is_bold() {
            list.push(("font-weight", "bold".to_owned()));
        }
        if item.ink.has_halo() {
            list.push(("stroke", Tone::White.colour().to_owned()));
            list.push(("stroke-width", number(text.size / 4.0)));
            list.push(("stroke-linejoin", "round".to_owned()));
            list.push(("paint-order", "stroke".to_owned()));
        }
    }
    list.extend(item.tag.map(|tag| match tag {
        Tag::Hole(mark) => ("data-mark", mark.to_string()),
        Tag::Compartment(id) => ("data-compartment", id.to_string()),
        Tag::Finding(idx) => ("data-finding", idx.to_string()),
    }));
    list
}

fn data(chains: &[Vec<At>], end: &str) -> String {
    let mut text = String::new();
    for chain in chains {
        for (idx, at) in chain.iter().enumerate() {
            text.push(if idx == 0 { 'M' } else { 'L' });
            text.push_str(&number(at.x));
            text.push(' ');
            text.push_str(&number(at.y));
        }
        text.push_str(end);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ink::Ink;

    const EVIL: &str = "\"><script>alert(1)</script>";

    fn drawing(unit: Unit, items: Vec<Item>) -> Drawing {
        Drawing {
            unit,
            width: 210.0,
            height: 297.0,
            margin: 0.0,
            title: EVIL.into(),
            about: EVIL.into(),
            items,
        }
    }

    #[test]
    fn what_users_wrote_stays_text() {
        let item = Item::text(
            Ink::Text,
            (At::new(1.0, 2.0), Anchor::Start),
            5.0,
            format!("\u{0}\u{8}{EVIL}\u{202e}"),
        );
        let text = svg(&drawing(Unit::Millimetre, vec![item]));
        assert!(!text.contains("<script"), "no element of the user's making");
        assert!(!text.contains("label=\"\">"), "no way out of an attribute");
        let shown = "\">&lt;script&gt;alert(1)&lt;/script&gt;".replace("\">", "\"&gt;");
        assert!(
            text.contains(&format!(">{shown}</text>")),
            "the words as they were written: {text}"
        );
        assert!(!text.contains(['\u{0}', '\u{8}', '\u{202e}']), "no control characters");
    }

    #[test]
    fn a_sheet_is_as_large_as_its_paper() {
        let text = svg(&drawing(Unit::Millimetre, Vec::new()));
        for wanted in ["width=\"210mm\"", "height=\"297mm\"", "viewBox=\"0 0 210 297\""] {
            assert!(text.contains(wanted), "{wanted} in {text}");
        }
    }

    #[test]
    fn numbers_are_short() {
        let pairs = [
            (-0.0001, "0"),
            (1.0 / 3.0, "0.333"),
            (12.7, "12.7"),
            (f64::NAN, "0"),
            (-2.0005, "-2.001"),
        ];
        for (value, expected) in pairs {
            assert_eq!(number(value), expected, "{value}");
        }
    }

    #[test]
    fn no_style_sheet_and_no_link() {
        let line = Item::line(Ink::SnapLine, At::new(0.0, 0.0), At::new(10.0, 0.0));
        let text = svg(&drawing(Unit::Pixel, vec![line]));
        for unwanted in ["style", "href", "<!--"] {
            assert!(!text.contains(unwanted), "{unwanted} in {text}");
        }
        assert!(text.contains("class=\"snap-line\""), "a class for the screen");
    }
}
