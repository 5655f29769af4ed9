//! The programs we compare with.

use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Runs a program and returns what it printed; a missing or failing program fails the test.
pub fn run(program: &str, arguments: &[&str]) -> Vec<u8> {
    let output = Command::new(program).args(arguments).output().unwrap_or_else(|error| {
        panic!("{program} can't be started ({error}): install it as the set-up does, then test again")
    });
    assert!(
        output.status.success(),
        "{program} {arguments:?}: {}{}",
        String::from_utf8_lossy(&output.stderr),
        String::from_utf8_lossy(&output.stdout)
    );
    output.stdout
}

/// What exiftool says of files, one object each, numbers as numbers.
pub fn exiftool(paths: &[&Path]) -> Vec<Value> {
    let mut arguments = vec!["-j", "-n", "-a", "-G1"];
    arguments.extend(paths.iter().map(|path| path.to_str().unwrap()));
    serde_json::from_slice(&run("exiftool", &arguments)).unwrap()
}

/// Writes tags into a file in place.
pub fn set_tags(path: &Path, tags: &[&str]) {
    let mut arguments = vec!["-q", "-m", "-overwrite_original", "-n"];
    arguments.extend(tags);
    arguments.push(path.to_str().unwrap());
    run("exiftool", &arguments);
}

/// The demo's photographs, by name.
pub fn demo_photos() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-data/photos");
    let mut paths: Vec<PathBuf> = std::fs::read_dir(&folder)
        .unwrap_or_else(|error| panic!("{}: {error}", folder.display()))
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "jpg"))
        .collect();
    paths.sort();
    assert!(paths.len() >= 20, "only {} demo photos: draw them with `demo-photos`", paths.len());
    paths
}
