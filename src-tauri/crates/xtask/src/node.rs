//! The user interface's packages and its build.
use std::path::Path;
use std::time::SystemTime;

use crate::error::{Error, at};
use crate::program::Program;
use crate::tree;

/// Installs the packages of the lock file, when they are not the ones installed last.
pub fn install() -> Result<(), Error> {
    let lock = tree::ui().join("package-lock.json");
    let installed = tree::ui().join("node_modules/.installed-lock.json");
    let wanted = std::fs::read(&lock).map_err(at(&lock))?;
    if std::fs::read(&installed).is_ok_and(|present| present == wanted) {
        return Ok(());
    }
    Program::new(&["npm", "ci", "--no-audit", "--no-fund"]).within(&tree::ui()).run()?;
    std::fs::write(&installed, wanted).map_err(at(&installed))
}

/// Builds the user interface, when a source is younger than the last build: building anew would make cargo embed
/// and link the same pages again.
pub fn build() -> Result<(), Error> {
    let stamp = tree::ui().join("node_modules/.built");
    let built = std::fs::metadata(&stamp).and_then(|stamp| stamp.modified()).ok();
    let has_pages = tree::ui().join("dist/assets").is_dir();
    if has_pages && built.is_some_and(|built| built > youngest(&tree::ui())) {
        return Ok(());
    }
    Program::new(&["npm", "run", "build"]).within(&tree::ui()).run()?;
    std::fs::write(&stamp, "").map_err(at(&stamp))
}

/// When the youngest source below the folder was last written.
fn youngest(folder: &Path) -> SystemTime {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let sources = entries.filter(|entry| entry.file_name() != "node_modules" && entry.file_name() != "dist");
    let times = sources.map(|entry| {
        let own = entry.metadata().and_then(|about| about.modified()).unwrap_or(SystemTime::UNIX_EPOCH);
        if entry.path().is_dir() { own.max(youngest(&entry.path())) } else { own }
    });
    times.max().unwrap_or(SystemTime::UNIX_EPOCH)
}
