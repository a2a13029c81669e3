//! What tests of several crates share: the example jobs, generated walls, golden files.

use std::{
    fs,
    path::{Path, PathBuf},
};

use risemark::job::Job;

pub mod classes;
pub mod gun;
pub mod random;
pub mod walls;

/// The project's top folder.
pub fn top() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// The text of every example job, with the name of its folder.
///
/// # Panics
/// When there is no example, so that a loop over them cannot pass by finding nothing.
pub fn example_texts() -> Vec<(String, String)> {
    let folder = top().join("examples");
    let entries = fs::read_dir(&folder).expect("the examples folder is readable");
    let folders = entries.map(|entry| entry.expect("an entry of the examples folder").path());
    let jobs = folders.filter(|path| path.join("job.json").is_file());
    let mut texts: Vec<(String, String)> = jobs
        .map(|path| {
            let name =
                path.file_name().expect("a folder has a name").to_string_lossy().into_owned();
            (name, fs::read_to_string(path.join("job.json")).expect("the job file is readable"))
        })
        .collect();
    texts.sort();
    assert!(4 < texts.len(), "expected the example jobs in {}", folder.display());
    texts
}

/// Every example job that can be read.
pub fn example_jobs() -> Vec<(String, Job)> {
    let read = |(name, text): (String, String)| Some((name, risemark::file::read(&text).ok()?));
    example_texts().into_iter().filter_map(read).collect()
}

/// Compares a text with its golden file, or accepts it when `RISEMARK_GOLDEN=accept` is set.
///
/// # Panics
/// When they differ, with the first line that does.
pub fn golden(file: &Path, found: &str) {
    if std::env::var("RISEMARK_GOLDEN").is_ok_and(|wish| wish == "accept") {
        fs::create_dir_all(file.parent().expect("a golden file is in a folder"))
            .expect("the folder can be made");
        fs::write(file, found).expect("the golden file can be written");
        return;
    }
    let wanted = fs::read_to_string(file).unwrap_or_default();
    let differs = wanted.lines().zip(found.lines()).position(|(wanted, found)| wanted != found);
    let line = differs.unwrap_or_else(|| wanted.lines().count().min(found.lines().count()));
    assert!(
        wanted == found,
        "{} differs from line {}: look at the change, then accept it with `cargo xtask golden`\n  golden: {}\n  found:  {}",
        file.display(),
        line + 1,
        wanted.lines().nth(line).unwrap_or("(end)"),
        found.lines().nth(line).unwrap_or("(end)"),
    );
}
