//! Brings a drawing on the page up to date: only what differs is changed, so that a drag costs what it
//! changes.
//!
//! A drawing has one element a line, so that its lines tell what differs. An element that differs in
//! values alone keeps its place and gets those; any other is made anew.

use wasm_bindgen::prelude::{JsValue, wasm_bindgen};
use web_sys::Element;

/// What becomes of the next line of the earlier drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Edit<'a> {
    /// It stays.
    Keep,
    /// Another stands in the place of this one.
    Replace(&'a str, &'a str),
    /// Another comes before it.
    Insert(&'a str),
    /// It goes.
    Remove,
}

/// An element as it is written.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Written<'a> {
    name: &'a str,
    /// Names and values.
    attributes: Vec<(&'a str, &'a str)>,
    /// What stands between its two tags; nothing where it has but one.
    content: Option<&'a str>,
}

/// What makes one element into another of its kind.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Alteration<'a> {
    /// Names and values of the attributes that differ.
    attributes: Vec<(&'a str, &'a str)>,
    /// Its text, where that differs.
    text: Option<&'a str>,
}

/// Sets the words of a step apart: the unit separator of ASCII, which no drawing holds.
const APART: char = '\u{1f}';

#[wasm_bindgen(module = "/src/view/patch.js")]
extern "C" {
    #[wasm_bindgen(catch)]
    fn patch(svg: &Element, steps: &str) -> Result<(), JsValue>;
}

/// How far ahead the same line is looked for after one that differs.
const AHEAD: usize = 60;

/// Shows a drawing in its holder, in which an earlier one stands or none.
pub fn show(holder: &Element, earlier: Option<&str>, now: &str) {
    if earlier.is_none_or(|earlier| patched(holder, earlier, now).is_none()) {
        // Line ends between elements would be nodes of their own.
        holder.set_inner_html(&now.replace(">\n<", "><"));
    }
}

/// Changes what differs; nothing where the page holds another drawing.
fn patched(holder: &Element, earlier: &str, now: &str) -> Option<()> {
    let ((head, before), (new_head, after)) = (earlier.split_once('\n')?, now.split_once('\n')?);
    let before: Vec<&str> = before.lines().collect();
    let svg = holder.first_element_child()?;
    // The last line closes the drawing.
    let n_elements = usize::try_from(svg.child_element_count()).ok()?;
    if n_elements + 1 != before.len() {
        return None;
    }
    if head != new_head {
        for (name, value) in alteration(head, new_head)?.attributes {
            svg.set_attribute(name, value).ok()?;
        }
    }
    let after: Vec<&str> = after.lines().collect();
    patch(&svg, &steps(&before, &after)).ok()
}

/// What has to be done to the elements of a drawing, as `patch.js` reads it.
fn steps(before: &[&str], after: &[&str]) -> String {
    let (mut steps, mut n_kept) = (String::new(), 0);
    for edit in edits(before, after) {
        if edit == Edit::Keep {
            n_kept += 1;
            continue;
        }
        if 0 < n_kept {
            push_step(&mut steps, ["keep", &std::mem::take(&mut n_kept).to_string()]);
        }
        match edit {
            Edit::Keep => {}
            Edit::Replace(earlier, line) => match alteration(earlier, line) {
                Some(alteration) => {
                    push_step(&mut steps, ["alter"].into_iter().chain(alteration.words()));
                }
                None => {
                    push_made(&mut steps, line);
                    push_step(&mut steps, ["remove"]);
                }
            },
            Edit::Insert(line) => push_made(&mut steps, line),
            Edit::Remove => push_step(&mut steps, ["remove"]),
        }
    }
    steps
}

/// A new element, which the page takes ten times as long to read as to make.
fn push_made(steps: &mut String, line: &str) {
    match Written::read(line).filter(Written::is_plain) {
        Some(Written { name, attributes, content }) => {
            let alteration = Alteration { attributes, text: content };
            push_step(steps, ["make", name].into_iter().chain(alteration.words()));
        }
        None => push_step(steps, ["read", line]),
    }
}

fn push_step<'a>(steps: &mut String, words: impl IntoIterator<Item = &'a str>) {
    if !steps.is_empty() {
        steps.push('\n');
    }
    for (idx, word) in words.into_iter().enumerate() {
        if 0 < idx {
            steps.push(APART);
        }
        steps.push_str(word);
    }
}

/// What makes an element into another; nothing where the two are not of one kind, or where what differs
/// is more than plain text.
fn alteration<'a>(earlier: &str, now: &'a str) -> Option<Alteration<'a>> {
    let (earlier, now) = (Written::read(earlier)?, Written::read(now)?);
    let (before, after) = (&earlier.attributes, &now.attributes);
    let is_alike = earlier.name == now.name
        && earlier.content.is_some() == now.content.is_some()
        && before.len() == after.len()
        && before.iter().zip(after).all(|(a, b)| a.0 == b.0);
    let differ = before.iter().zip(after).filter(|(a, b)| a.1 != b.1).map(|(_, now)| *now);
    let attributes: Vec<(&str, &str)> = differ.collect();
    let text = now.content.filter(|_| earlier.content != now.content);
    // Text that was content before may have been an element, which no text tells.
    let content = text.and(earlier.content).unwrap_or_default();
    let mut changed = attributes.iter().map(|(_, value)| *value).chain(text).chain([content]);
    (is_alike && changed.all(is_plain)).then_some(Alteration { attributes, text })
}

/// Whether a text says what it is: no sign stands for another or begins an element, and none sets words
/// apart.
fn is_plain(text: &str) -> bool {
    !text.contains(['&', '<', APART])
}

impl<'a> Alteration<'a> {
    fn words(&self) -> impl Iterator<Item = &'a str> {
        self.attributes.iter().flat_map(|(name, value)| [*name, *value]).chain(self.text)
    }
}

impl<'a> Written<'a> {
    fn is_plain(&self) -> bool {
        let values = self.attributes.iter().map(|(_, value)| *value);
        values.chain(self.content).all(is_plain)
    }

    /// Takes a line apart that is one element, or the tag that opens one.
    fn read(line: &'a str) -> Option<Self> {
        let tag = line.strip_prefix('<')?;
        let (name, mut rest) = tag.split_at(tag.find([' ', '/', '>'])?);
        let mut attributes = Vec::with_capacity(12);
        while let Some(attribute) = rest.strip_prefix(' ') {
            let (name, value) = attribute.split_once("=\"")?;
            let (value, after) = value.split_once('"')?;
            attributes.push((name, value));
            rest = after;
        }
        let content = match rest {
            ">" | "/>" => None,
            _ => Some(
                rest.strip_prefix('>')?
                    .strip_suffix('>')?
                    .strip_suffix(name)?
                    .strip_suffix("</")?,
            ),
        };
        Some(Self { name, attributes, content })
    }
}

/// The edits that make some lines into others, but for the last of both, which is the same.
fn edits<'a>(before: &[&'a str], after: &[&'a str]) -> Vec<Edit<'a>> {
    let before = &before[..before.len().saturating_sub(1)];
    let after = &after[..after.len().saturating_sub(1)];
    let mut edits = Vec::with_capacity(after.len());
    let (mut old, mut new) = (0, 0);
    while old < before.len() || new < after.len() {
        match (before.get(old), after.get(new)) {
            (Some(a), Some(b)) if a == b => {
                edits.push(Edit::Keep);
                (old, new) = (old + 1, new + 1);
            }
            (Some(a), Some(b)) => {
                let inserted = after[new..].iter().take(AHEAD).position(|line| line == a);
                let removed = before[old..].iter().take(AHEAD).position(|line| line == b);
                match (inserted, removed) {
                    (Some(n), removed) if removed.is_none_or(|removed| n <= removed) => {
                        edits.extend(after[new..new + n].iter().map(|line| Edit::Insert(line)));
                        new += n;
                    }
                    (_, Some(n)) => {
                        edits.extend((0..n).map(|_| Edit::Remove));
                        old += n;
                    }
                    _ => {
                        edits.push(Edit::Replace(a, b));
                        (old, new) = (old + 1, new + 1);
                    }
                }
            }
            (None, Some(b)) => {
                edits.push(Edit::Insert(b));
                new += 1;
            }
            (_, None) => {
                edits.push(Edit::Remove);
                old += 1;
            }
        }
    }
    edits
}

#[cfg(test)]
mod tests {
    use super::*;

    fn made(before: &[&str], after: &[&str]) -> Vec<String> {
        let mut lines = before[..before.len() - 1].iter();
        let mut made = Vec::new();
        for edit in edits(before, after) {
            match edit {
                Edit::Keep => made.extend(lines.next().map(|line| (*line).to_owned())),
                Edit::Replace(earlier, line) => {
                    assert_eq!(lines.next().copied(), Some(earlier), "a line to replace");
                    made.push(line.to_owned());
                }
                Edit::Insert(line) => made.push(line.to_owned()),
                Edit::Remove => assert!(lines.next().is_some(), "a line to remove"),
            }
        }
        made.push("end".to_owned());
        made
    }

    #[test]
    fn edits_make_one_drawing_into_another() {
        let words = ["a", "b", "c", "a", "d", "e", "f", "g"];
        // Every drawing of some of these lines into every other.
        let some = |which: u32| -> Vec<&str> {
            let lines = words.iter().enumerate().filter(|(idx, _)| which & (1 << idx) != 0);
            lines.map(|(_, line)| *line).chain(["end"]).collect()
        };
        for from in 0..256 {
            for to in 0..256 {
                assert_eq!(made(&some(from), &some(to)), some(to), "{:?}", some(from));
            }
        }
    }

    fn altered<'a>(
        attributes: &[(&'a str, &'a str)],
        text: Option<&'a str>,
    ) -> Option<Alteration<'a>> {
        Some(Alteration { attributes: attributes.to_vec(), text })
    }

    #[test]
    fn a_drawing_may_change_its_size() {
        let head = r#"<svg aria-label="a &amp; b" height="3" viewBox="0 0 4 3">"#;
        let wider = r#"<svg aria-label="a &amp; b" height="5" viewBox="0 -2 4 5">"#;
        let differ = altered(&[("height", "5"), ("viewBox", "0 -2 4 5")], None);
        assert_eq!(alteration(head, wider), differ, "height and room");
        assert_eq!(alteration(head, head), altered(&[], None), "nothing");
        let renamed = r#"<svg aria-label="b &amp; a" height="3" viewBox="0 0 4 3">"#;
        for other in [renamed, "<svg>", r#"<svg height="3">"#, "<g>", r#"<svg height="3"#] {
            assert_eq!(alteration(head, other), None, "{other}");
        }
    }

    #[test]
    fn an_element_keeps_what_is_not_said_anew() {
        let hole = r#"<ellipse class="hole" cx="3" cy="4" data-mark="7"/>"#;
        let next = r#"<ellipse class="hole" cx="3" cy="4" data-mark="8"/>"#;
        assert_eq!(alteration(hole, next), altered(&[("data-mark", "8")], None), "its number");
        let seven = r#"<text class="hole-number" x="3" y="9">7</text>"#;
        let eight = r#"<text class="hole-number" x="3" y="8">8</text>"#;
        assert_eq!(alteration(seven, eight), altered(&[("y", "8")], Some("8")), "place and words");
        let lower = r#"<text class="hole-number" x="3" y="8">7</text>"#;
        assert_eq!(alteration(seven, lower), altered(&[("y", "8")], None), "place alone");
        // What is more than plain text, or of another kind, is made anew.
        let others = [
            hole,
            r#"<text class="hole-number" x="3" y="9">&lt;</text>"#,
            r#"<text class="hole-number" x="3" y="9"><tspan>7</tspan></text>"#,
            r#"<text class="hole-number" x="3" y="9" data-chosen>7</text>"#,
            r#"<text class="hole-number" x="3">7</text>"#,
            r#"<text class="hole-number" x="3" y="9">"#,
            "7",
        ];
        for other in others {
            assert_eq!(alteration(seven, other), None, "{other}");
            assert_eq!(alteration(other, seven), None, "{other}, the other way");
        }
    }

    #[test]
    fn steps_say_what_is_done_to_the_elements() {
        let before = [
            r#"<line class="leader" x1="1"/>"#,
            r#"<ellipse class="hole" cx="3" data-mark="7"/>"#,
            r#"<text class="hole-number" x="3">7</text>"#,
            r#"<path class="timber" d="M0 0"/>"#,
            "</svg>",
        ];
        let after = [
            r#"<line class="leader" x1="1"/>"#,
            r#"<ellipse class="hole" cx="4" data-mark="8"/>"#,
            r#"<text class="hole-number" x="3">8</text>"#,
            r#"<text class="wall-word" x="1">oak</text>"#,
            r#"<text class="wall-word" x="2">oak &amp; ash</text>"#,
            "</svg>",
        ];
        let expected = [
            "keep|1",
            "alter|cx|4|data-mark|8",
            "alter|8",
            "make|text|class|wall-word|x|1|oak",
            "remove",
            r#"read|<text class="wall-word" x="2">oak &amp; ash</text>"#,
        ];
        let steps = steps(&before, &after).replace(APART, "|");
        assert_eq!(steps.lines().collect::<Vec<_>>(), expected);
        assert_eq!(super::steps(&before, &before), "", "nothing");
    }

    #[test]
    fn what_is_the_same_stays() {
        let (before, after) = (["a", "b", "c", "d", "end"], ["a", "x", "c", "new", "d", "end"]);
        let expected =
            [Edit::Keep, Edit::Replace("b", "x"), Edit::Keep, Edit::Insert("new"), Edit::Keep];
        assert_eq!(edits(&before, &after), expected);
    }
}
