//! Joins the small scripts of the app to the one that loads its module, so that a page need not ask for
//! each of them, and not after it has read that one.

/// A line that takes something from a script beside the module.
#[derive(Debug, PartialEq, Eq)]
struct Import<'a> {
    taken: Taken<'a>,
    path: &'a str,
}

/// What is taken from a script.
#[derive(Debug, PartialEq, Eq)]
enum Taken<'a> {
    /// Some names.
    Names(&'a str),
    /// All that it exports, under one name.
    All(&'a str),
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
    if let Some((name, path)) =
        line.strip_prefix("import * as ").and_then(|line| line.split_once(" from \""))
    {
        return Some(Import { taken: Taken::All(name), path: path.strip_suffix('"')? });
    }
    let (names, path) = line.strip_prefix("import { ")?.split_once(" } from './")?;
    let path = path.strip_suffix("';")?;
    let is_plain = path.starts_with("snippets/") && !names.contains(" as ");
    is_plain.then_some(Import { taken: Taken::Names(names), path })
}

/// A script as a value of which only what it exports can be seen; what it imports of the loader it finds
/// around it.
fn closed(import: &Import<'_>, script: &str) -> String {
    let lines = script.lines().filter(|line| !line.starts_with("import { "));
    let lines = lines.map(|line| line.strip_prefix("export ").unwrap_or(line));
    let body = lines.collect::<Vec<&str>>().join("\n");
    let (bound, names) = match import.taken {
        Taken::Names(names) => (format!("{{ {names} }}"), names.to_owned()),
        Taken::All(name) => (name.to_owned(), exported(script).join(", ")),
    };
    format!("const {bound} = (() => {{\n{body}\nreturn {{ {names} }};\n}})();")
}

/// The names of the constants that a script exports.
fn exported(script: &str) -> Vec<&str> {
    let constants = script.lines().filter_map(|line| line.strip_prefix("export const "));
    constants.filter_map(|line| Some(line.split_once(" = ")?.0)).collect()
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
    fn a_script_that_is_taken_whole_finds_the_loader_around_it() {
        let script = "import { start } from \"./app.js\";\nexport const go = start;\n";
        let loader = "import * as more from \"./more.js\"\nfunction start() {}\n";
        let joined = join(loader, |_| Ok::<_, String>(script.to_owned()));
        let expected = "const more = (() => {\nconst go = start;\nreturn { go };\n})();\n\
            function start() {}\n";
        assert_eq!(joined, Ok(expected.to_owned()), "under the name of the loader");
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
