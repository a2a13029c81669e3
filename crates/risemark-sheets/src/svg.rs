//! Drawings as SVG text.
//!
//! Looks are presentation attributes and classes, never style sheets, so that a strict content
//! security policy lets the text into a page. What users wrote goes out as text alone, escaped.

use svg::{
    Document, Node,
    node::{Text as Content, element::Element},
};

use crate::{
    drawing::{Anchor, At, Drawing, Item, Shape, Tag, Text, Unit},
    ink::{Kind, Look, Tone},
};

/// Type of the drawings, the widest family first: where it is missing, text gets narrower, not wider.
const FONTS: &str = "'DejaVu Sans', Verdana, 'Liberation Sans', Arial, sans-serif";

/// How a document ends.
const END: &str = "\n</svg>";

/// Writes a drawing, one element a line. The same drawing gives the same text.
pub fn svg(drawing: &Drawing) -> String {
    let mut text = document(drawing);
    // A picture has hundreds of items and is drawn again while something is dragged: as nodes of the
    // document they would take longer than all the rest, and even its text is only written on.
    text.truncate(text.len() - END.len());
    text.reserve(drawing.items.len() * 256);
    for item in &drawing.items {
        text.push('\n');
        push_item(&mut text, item, drawing.unit);
    }
    text.push_str(END);
    text
}

/// A number rounded to a thousandth, as short as it can be written.
pub(crate) fn number(value: f64) -> String {
    let mut text = String::new();
    push_number(&mut text, value);
    text
}

/// What XML cannot hold, and what would turn the reading direction, is left out.
fn clean(text: &str) -> impl Iterator<Item = char> {
    let spaced =
        text.chars().map(|sign| if matches!(sign, '\t' | '\n' | '\r') { ' ' } else { sign });
    let bad = |sign: &char| {
        let turns = matches!(sign, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
        sign.is_control() || turns || matches!(sign, '\u{fffe}' | '\u{ffff}')
    };
    spaced.filter(move |sign| !bad(sign))
}

/// The document around the items.
fn document(drawing: &Drawing) -> String {
    let (left, top) = (number(drawing.corner.x), number(drawing.corner.y));
    let (width, height) = (number(drawing.width), number(drawing.height));
    let unit = match drawing.unit {
        Unit::Millimetre => "mm",
        Unit::Pixel => "",
    };
    let mut document = Document::new()
        .set("width", format!("{width}{unit}"))
        .set("height", format!("{height}{unit}"))
        .set("viewBox", format!("{left} {top} {width} {height}"))
        .set("font-family", FONTS)
        .set("role", "img")
        .set("aria-label", clean(&drawing.title).collect::<String>());
    // A title shows up as a tip over the whole picture, which is in the way on a screen.
    if drawing.unit == Unit::Millimetre {
        document = document.add(note("title", &drawing.title));
    }
    document.add(note("desc", &drawing.about)).to_string()
}

fn note(name: &str, content: &str) -> Element {
    let mut element = Element::new(name);
    element.append(Content::new(clean(content).collect::<String>()));
    element
}

fn push_item(text: &mut String, item: &Item, unit: Unit) {
    let name = match &item.shape {
        Shape::Line(..) => "line",
        Shape::Lines(_) | Shape::Chains(_) | Shape::Rings(_) => "path",
        Shape::Rect(_) => "rect",
        Shape::Ellipse { .. } => "ellipse",
        Shape::Text(_) => "text",
    };
    text.push('<');
    text.push_str(name);
    push_look(text, item, unit);
    push_tag(text, item.tag);
    push_place(text, &item.shape);
    match &item.shape {
        Shape::Text(words) => {
            text.push('>');
            push_content(text, &words.content);
            text.push_str("</text>");
        }
        _ => text.push_str("/>"),
    }
}

fn push_look(text: &mut String, item: &Item, unit: Unit) {
    let Look { class, fill, line } = item.ink.look();
    push_attribute(text, "class", class);
    push_attribute(text, "fill", fill.map_or("none", Tone::colour));
    if let Some((tone, width, kind)) = line {
        push_attribute(text, "stroke", tone.colour());
        push_figure(text, "stroke-width", width.of(unit));
        if let Some(dashes) = kind.dashes(unit) {
            push_attribute(text, "stroke-dasharray", dashes);
        }
        if kind == Kind::Dots {
            push_attribute(text, "stroke-linecap", "round");
        }
    }
    if let Shape::Text(words) = &item.shape {
        if item.ink.is_bold() {
            push_attribute(text, "font-weight", "bold");
        }
        if item.ink.has_halo() {
            push_attribute(text, "stroke", Tone::White.colour());
            push_figure(text, "stroke-width", words.size / 4.0);
            push_attribute(text, "stroke-linejoin", "round");
            push_attribute(text, "paint-order", "stroke");
        }
    }
}

fn push_tag(text: &mut String, tag: Option<Tag>) {
    let (name, number) = match tag {
        Some(Tag::Hole(mark)) => ("data-mark", mark),
        Some(Tag::Compartment(id)) => ("data-compartment", id),
        Some(Tag::Finding(idx)) => ("data-finding", idx),
        None => return,
    };
    push_attribute(text, name, &number.to_string());
}

fn push_place(text: &mut String, shape: &Shape) {
    match shape {
        Shape::Line(from, to) => {
            push_figures(text, [("x1", from.x), ("y1", from.y), ("x2", to.x), ("y2", to.y)]);
        }
        Shape::Lines(lines) => {
            text.push_str(" d=\"");
            lines.iter().for_each(|(from, to)| push_chain(text, &[*from, *to]));
            text.push('"');
        }
        Shape::Chains(chains) => {
            text.push_str(" d=\"");
            chains.iter().for_each(|chain| push_chain(text, chain));
            text.push('"');
        }
        Shape::Rings(rings) => {
            text.push_str(" fill-rule=\"evenodd\" d=\"");
            for ring in rings {
                push_chain(text, ring);
                text.push('Z');
            }
            text.push('"');
        }
        Shape::Rect(area) => {
            push_figures(text, [("x", area.left), ("y", area.top)]);
            push_figures(text, [("width", area.width()), ("height", area.height())]);
        }
        Shape::Ellipse { centre, rx, ry } => {
            push_figures(text, [("cx", centre.x), ("cy", centre.y), ("rx", *rx), ("ry", *ry)]);
        }
        Shape::Text(Text { at, anchor, size, .. }) => {
            push_figures(text, [("x", at.x), ("y", at.y), ("font-size", *size)]);
            match anchor {
                Anchor::Start => {}
                Anchor::Middle => push_attribute(text, "text-anchor", "middle"),
                Anchor::End => push_attribute(text, "text-anchor", "end"),
            }
        }
    }
}

/// An attribute whose value needs no escaping.
fn push_attribute(text: &mut String, name: &str, value: &str) {
    text.push(' ');
    text.push_str(name);
    text.push_str("=\"");
    text.push_str(value);
    text.push('"');
}

fn push_figure(text: &mut String, name: &str, value: f64) {
    text.push(' ');
    text.push_str(name);
    text.push_str("=\"");
    push_number(text, value);
    text.push('"');
}

fn push_figures<const N: usize>(text: &mut String, figures: [(&str, f64); N]) {
    figures.into_iter().for_each(|(name, value)| push_figure(text, name, value));
}

fn push_chain(text: &mut String, chain: &[At]) {
    for (idx, at) in chain.iter().enumerate() {
        text.push(if idx == 0 { 'M' } else { 'L' });
        push_number(text, at.x);
        text.push(' ');
        push_number(text, at.y);
    }
}

/// Words of users, so that they stay words.
fn push_content(text: &mut String, content: &str) {
    for sign in clean(content) {
        match sign {
            '&' => text.push_str("&amp;"),
            '<' => text.push_str("&lt;"),
            '>' => text.push_str("&gt;"),
            _ => text.push(sign),
        }
    }
}

/// Thousandths are written as whole numbers: most of a drawing is numbers, and looking for the shortest
/// text of any float would take most of the time.
fn push_number(text: &mut String, value: f64) {
    // What is not finite, or too large for any drawing, is nothing to draw.
    let sound = if value.abs() < MOST { value } else { 0.0 };
    let thousandths = thousandths(sound.abs());
    if sound < 0.0 && 0 < thousandths {
        text.push('-');
    }
    text.push_str(itoa::Buffer::new().format(thousandths / 1000));
    let fraction = thousandths % 1000;
    if fraction != 0 {
        push_fraction(text, fraction);
    }
}

/// Thousandths below a whole one; zeros at the end say nothing.
fn push_fraction(text: &mut String, fraction: u32) {
    let (tenths, hundredths, last) = (fraction / 100, fraction / 10 % 10, fraction % 10);
    text.push('.');
    text.push(digit(tenths));
    if fraction != tenths * 100 {
        text.push(digit(hundredths));
    }
    if last != 0 {
        text.push(digit(last));
    }
}

/// The sign of a figure from 0 to 9.
fn digit(figure: u32) -> char {
    char::from_digit(figure, 10).unwrap_or('0')
}

/// Larger than any drawing, and small enough for its thousandths in 32 bits.
const MOST: f64 = 4e6;

/// A number from 0 to [`MOST`] in thousandths, halves rounded up.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the whole part of what lies between 0 and 4e9"
)]
fn thousandths(value: f64) -> u32 {
    (value * 1000.0 + 0.5) as u32
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ink::Ink;

    const EVIL: &str = "\"><script>alert(1)</script>";

    fn drawing(unit: Unit, items: Vec<Item>) -> Drawing {
        Drawing {
            unit,
            corner: At::new(0.0, 0.0),
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
            (0.05, "0.05"),
            (-0.7, "-0.7"),
            (1200.0, "1200"),
            (-3_999_999.999, "-3999999.999"),
            (0.05, "0.05"),
            (1200.0, "1200"),
            (-3_999_999.999, "-3999999.999"),
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
