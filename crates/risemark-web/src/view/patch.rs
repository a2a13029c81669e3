//! Brings a drawing on the page up to date: only elements that differ are made anew, so that a drag
//! costs what it changes.
//!
//! A drawing has one element a line, so that its lines tell what differs.

use web_sys::Element;

/// What becomes of the next line of the earlier drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Edit<'a> {
    /// It stays.
    Keep,
    /// Another stands in its place.
    Replace(&'a str),
    /// Another comes before it.
    Insert(&'a str),
    /// It goes.
    Remove,
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
    for (name, value) in resized(head, new_head)? {
        svg.set_attribute(name, value).ok()?;
    }
    let after: Vec<&str> = after.lines().collect();
    let mut next = svg.first_element_child();
    for edit in edits(&before, &after) {
        let here = next.clone();
        if !matches!(edit, Edit::Insert(_)) {
            next = here.as_ref().and_then(Element::next_element_sibling);
        }
        match (edit, here) {
            (Edit::Keep, _) => {}
            (Edit::Replace(line), Some(here)) => here.set_outer_html(line),
            (Edit::Insert(line), Some(here)) => {
                here.insert_adjacent_html("beforebegin", line).ok()?;
            }
            (Edit::Insert(line), None) => svg.insert_adjacent_html("beforeend", line).ok()?,
            (Edit::Remove, Some(here)) => here.remove(),
            (Edit::Replace(_) | Edit::Remove, None) => return None,
        }
    }
    Some(())
}

/// The attributes of a drawing whose values differ, as its first line tells them; nothing where it has
/// others, or where a value is more than plain text.
fn resized<'a>(head: &str, new_head: &'a str) -> Option<Vec<(&'a str, &'a str)>> {
    let (before, now) = (attributes(head)?, attributes(new_head)?);
    let is_alike = before.len() == now.len() && before.iter().zip(&now).all(|(a, b)| a.0 == b.0);
    let differ = before.iter().zip(now).filter(|(a, b)| a.1 != b.1).map(|(_, now)| now);
    let differ: Vec<(&str, &str)> = differ.collect();
    (is_alike && differ.iter().all(|(_, value)| !value.contains('&'))).then_some(differ)
}

/// Names and values of what stands in the tag that opens a drawing.
fn attributes(head: &str) -> Option<Vec<(&str, &str)>> {
    let mut rest = head.strip_prefix("<svg")?;
    let mut found = Vec::with_capacity(8);
    while rest != ">" {
        let (name, value) = rest.split_once("=\"")?;
        let (value, after) = value.split_once('"')?;
        found.push((name.trim_start(), value));
        rest = after;
    }
    Some(found)
}

/// The edits that make some lines into others, but for the last of both, which is the same.
fn edits<'a>(before: &[&str], after: &[&'a str]) -> Vec<Edit<'a>> {
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
                        edits.push(Edit::Replace(b));
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
                Edit::Replace(line) => {
                    assert!(lines.next().is_some(), "a line to replace");
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

    #[test]
    fn a_drawing_may_change_its_size() {
        let head = r#"<svg aria-label="a &amp; b" height="3" viewBox="0 0 4 3">"#;
        let wider = r#"<svg aria-label="a &amp; b" height="5" viewBox="0 -2 4 5">"#;
        let differ = vec![("height", "5"), ("viewBox", "0 -2 4 5")];
        assert_eq!(resized(head, wider), Some(differ), "height and room");
        assert_eq!(resized(head, head), Some(Vec::new()), "nothing");
        let renamed = r#"<svg aria-label="b &amp; a" height="3" viewBox="0 0 4 3">"#;
        for other in [renamed, "<svg>", r#"<svg height="3">"#, "<g>", r#"<svg height="3"#] {
            assert_eq!(resized(head, other), None, "{other}");
        }
    }

    #[test]
    fn what_is_the_same_stays() {
        let (before, after) = (["a", "b", "c", "d", "end"], ["a", "x", "c", "new", "d", "end"]);
        let expected =
            [Edit::Keep, Edit::Replace("x"), Edit::Keep, Edit::Insert("new"), Edit::Keep];
        assert_eq!(edits(&before, &after), expected);
    }
}
