//! The list of files that a browser keeps, for `www/service-worker.js`.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use flate2::Crc;

/// The file that is written.
const FILE: &str = "precache.js";

/// What the app itself never loads: types for other programs, and what the browser fetches by itself.
const NOT_KEPT: [&str; 3] = [".d.ts", FILE, "service-worker.js"];

/// Writes the list of an app's files, with a version that changes with any of them.
pub(crate) fn write(app: &Path) -> Result<()> {
    let name = |file: PathBuf| {
        file.strip_prefix(app).unwrap_or(&file).display().to_string().replace('\\', "/")
    };
    let mut names: Vec<String> = files(app)?.into_iter().map(name).collect();
    names.retain(|name| !NOT_KEPT.iter().any(|end| name.ends_with(end)));
    let mut sum = Crc::new();
    for name in &names {
        sum.update(name.as_bytes());
        sum.update(&fs::read(app.join(name)).with_context(|| format!("cannot read {name}"))?);
    }
    let list: Vec<String> = names.iter().map(|name| format!("  \"{name}\",\n")).collect();
    let text = format!(
        "// Written by the build.\nself.precache = {{ version: \"{:08x}\", files: [\n  \"./\",\n{}] }};\n",
        sum.sum(),
        list.concat()
    );
    fs::write(app.join(FILE), text).with_context(|| format!("cannot write {FILE}"))
}

/// Every file of a folder and of the folders in it, in the order of their paths.
pub(crate) fn files(dir: &Path) -> Result<Vec<PathBuf>> {
    let mut files = Vec::new();
    collect(dir, &mut files)?;
    files.sort();
    Ok(files)
}

fn collect(dir: &Path, files: &mut Vec<PathBuf>) -> Result<()> {
    for entry in fs::read_dir(dir).with_context(|| format!("cannot read {}", dir.display()))? {
        let entry = entry?;
        if entry.file_type()?.is_dir() {
            collect(&entry.path(), files)?;
        } else {
            files.push(entry.path());
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn list_of(dir: &Path) -> Result<String> {
        write(dir)?;
        Ok(fs::read_to_string(dir.join(FILE))?)
    }

    #[test]
    fn the_version_changes_with_any_file() -> Result<()> {
        let dir = std::env::temp_dir().join(format!("precache-{}", std::process::id()));
        fs::create_dir_all(dir.join("inner"))?;
        fs::write(dir.join("app.js"), "one")?;
        fs::write(dir.join("app.d.ts"), "types")?;
        fs::write(dir.join("inner/part.js"), "two")?;
        let first = list_of(&dir)?;
        assert!(first.contains("\"app.js\"") && first.contains("\"inner/part.js\""), "{first}");
        assert!(!first.contains("d.ts") && !first.contains(FILE), "{first}");
        assert_eq!(list_of(&dir)?, first, "the list itself changes nothing");
        fs::write(dir.join("inner/part.js"), "three")?;
        assert_ne!(list_of(&dir)?, first, "a changed file");
        fs::remove_dir_all(dir)?;
        Ok(())
    }
}
