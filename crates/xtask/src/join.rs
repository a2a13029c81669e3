//! Joins the small scripts of the app to the one that loads its module, so that a page need not ask for
//! each of them, and not after it has read that one.

/// A line that takes names from a script beside the module.
#[derive(Debug, PartialEq, Eq)]
struct Import<'a> {
    names: &'a str,
    path: &'a str,
}

/// The loader with the scripts that it imports in place of the imports; `read` gives the text of a script.
///
/// # Errors
/// When a script cannot be read.
pub(crate) fn join<E>(loader: &str, read: impl Fn(&str) -> Result<String, E>) -> Result<String, E> {
    let mut joined = String::with_capacity(loader.len());
    for line in loader.lines() {
        match import(line) {
            Some(import) => joined.push_str(&closed(&import, &read(import.path)?)),
            None => joined.push_str(line),
        }
        joined.push('\n');
    }
    Ok(joined)
}

/// What a line imports; `None` where it is another line, or gives a name another one.
fn import(line: &str) -> Option<Import<'_>> {
    let (names, path) = line.strip_prefix("import { ")?.split_once(" } from './")?;
    let path = path.strip_suffix("';")?;
    (path.starts_with("snippets/") && !names.contains(" as ")).then_some(Import { names, path })
}

/// A script as a value of which only what it exports can be seen.
fn closed(import: &Import<'_>, script: &str) -> String {
    let lines = script.lines().map(|line| line.strip_prefix("export ").unwrap_or(line));
    let body = lines.collect::<Vec<&str>>().join("\n");
    let names = import.names;
    format!("const {{ {names} }} = (() => {{\n{body}\nreturn {{ {names} }};\n}})();")
}

#[cfg(test)]
mod tests {
    use super::*;

    const SCRIPT: &str =
        "// Says so.\nexport function say() { return word(); }\nfunction word() { return 1; }\n";

    fn joined(loader: &str) -> String {
        join(loader, |path| match path {
            "snippets/a/say.js" => Ok(SCRIPT.to_owned()),
            other => Err(other.to_owned()),
        })
        .expect("each script is there")
    }

    #[test]
    fn a_script_takes_the_place_of_its_import() {
        let loader =
            "/* made */\nimport { say } from './snippets/a/say.js';\nconst word = say();\n";
        let expected = "/* made */\nconst { say } = (() => {\n// Says so.\nfunction say() { return \
            word(); }\nfunction word() { return 1; }\nreturn { say };\n})();\nconst word = say();\n";
        assert_eq!(joined(loader), expected, "its own names stay its own");
    }

    #[test]
    fn other_lines_stay() {
        let loader =
            "import { say as tell } from './snippets/a/say.js';\nimport { x } from './x.js';\n";
        assert_eq!(joined(loader), loader, "names that change, and files of other places");
    }

    #[test]
    fn a_script_that_is_missing_is_said() {
        let read = |path: &str| Err::<String, String>(path.to_owned());
        let refused = join("import { a } from './snippets/a.js';", read);
        assert_eq!(refused, Err("snippets/a.js".to_owned()), "with its path");
    }
}
