//! Paper: the only place that prints.
//!
//! Every size of paper gets a named page of its own, so that a set with several sizes prints each at
//! 100 %. The rules go through an adopted style sheet, which the policy of the page allows.

use std::fmt::Write;

use js_sys::{Array, Reflect};
use leptos::prelude::{document, window};
use risemark_sheets::Sheet;
use wasm_bindgen::JsValue;
use web_sys::CssStyleSheet;

/// The class of a sheet, which is the name of its page too.
pub fn page_class(sheet: &Sheet) -> String {
    format!("paper-{:.0}-{:.0}", sheet.width_mm * 10.0, sheet.height_mm * 10.0)
}

/// The rules that give each of the sheets a page of exactly its size.
pub fn page_rules(sheets: &[Sheet]) -> String {
    let mut rules = String::new();
    let mut known: Vec<String> = Vec::new();
    for sheet in sheets {
        let class = page_class(sheet);
        if known.contains(&class) {
            continue;
        }
        let (width, height) = (sheet.width_mm, sheet.height_mm);
        // Writing to a string does not fail.
        let _written = write!(
            rules,
            "@page {class} {{ size: {width}mm {height}mm; margin: 0 }}\n\
             @media print {{ .{class} {{ page: {class}; width: {width}mm; height: {height}mm }} }}\n"
        );
        known.push(class);
    }
    rules
}

/// Prepares the page to print sheets, whichever way the user asks for it.
pub fn prepare(sheets: &[Sheet]) -> Result<(), JsValue> {
    let rules = CssStyleSheet::new()?;
    let replace = Reflect::get(&rules, &"replaceSync".into())?;
    let replace: js_sys::Function = replace.into();
    replace.call1(&rules, &page_rules(sheets).into())?;
    Reflect::set(&document(), &"adoptedStyleSheets".into(), &Array::of1(&rules)).map(drop)
}

/// Opens the browser's dialog for printing.
pub fn print() -> Result<(), JsValue> {
    window().print()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(width_mm: f64, height_mm: f64) -> Sheet {
        Sheet { number: 1, of: 1, width_mm, height_mm, svg: String::new() }
    }

    #[test]
    fn each_size_of_paper_has_one_page() {
        let rules = page_rules(&[sheet(215.9, 279.4), sheet(279.4, 215.9), sheet(215.9, 279.4)]);
        assert_eq!(rules.matches("@page").count(), 2, "{rules}");
        assert!(
            rules.contains("@page paper-2159-2794 { size: 215.9mm 279.4mm; margin: 0 }"),
            "{rules}"
        );
    }
}
