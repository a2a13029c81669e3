//! Programs on the search path, and the several names that browsers and their drivers go by.

use std::env;
use std::ffi::OsStr;
use std::path::PathBuf;

/// Names of the browser in which the app is tested, the likeliest first.
pub const BROWSER: &[&str] =
    &["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"];

/// Names of the program that steers it.
pub const DRIVER: &[&str] = &["chromedriver", "chromium.chromedriver"];

/// The file of the first of some programs that the search path leads to.
pub fn find(names: &[&str]) -> Option<PathBuf> {
    find_in(&env::var_os("PATH")?, names)
}

fn find_in(path: &OsStr, names: &[&str]) -> Option<PathBuf> {
    let dirs: Vec<PathBuf> = env::split_paths(path).collect();
    let files = |name: &&str| {
        let file = format!("{name}{}", env::consts::EXE_SUFFIX);
        dirs.iter().map(|dir| dir.join(&file)).find(|file| file.is_file())
    };
    names.iter().find_map(files)
}

#[cfg(test)]
mod tests {
    use std::{fs, io};

    use super::*;

    #[test]
    fn a_program_is_found_by_any_of_its_names() -> io::Result<()> {
        let dir = env::temp_dir().join(format!("risemark-programs-{}", std::process::id()));
        fs::create_dir_all(&dir)?;
        let file = dir.join(format!("chromium.chromedriver{}", env::consts::EXE_SUFFIX));
        fs::write(&file, "")?;
        let path = env::join_paths([env::temp_dir().join("nowhere"), dir.clone()])
            .map_err(io::Error::other)?;
        let (driver, browser) = (find_in(&path, DRIVER), find_in(&path, BROWSER));
        fs::remove_dir_all(&dir)?;
        assert_eq!(driver, Some(file), "the driver by its second name");
        assert_eq!(browser, None, "there is no browser");
        Ok(())
    }
}
