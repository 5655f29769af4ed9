//! What lies at the top of the tree, and how long a file may be.
use std::collections::BTreeSet;

use crate::error::Error;
use crate::program::Program;
use crate::step::Outcome;
use crate::tree;

const TOP: &[&str] = &[
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE-APACHE",
    "LICENSE-MIT",
    "README.md",
    "demo-data",
    "icons-own",
    "src-tauri",
    "tests",
    "ui",
];
/// Settings of tools that look for them here, and CI.
const HIDDEN: &[&str] = &[
    ".cargo",
    ".ci",
    ".clippy.toml",
    ".config",
    ".gitattributes",
    ".gitignore",
    ".rustfmt.toml",
    ".typos.toml",
];

/// More lines than this in a source mean that it has two subjects.
const LINES: usize = 400;
const SOURCES: &[&str] = &[".rs", ".ts", ".svelte", ".css", ".mjs"];
/// Written by programs, not by us.
const GENERATED: &[&str] = &["ui/src/bindings/", "src-tauri/gen/"];

pub fn check() -> Result<Outcome, Error> {
    let listed = Program::new(&["git", "ls-files", "--cached", "--others", "--exclude-standard"]).output()?;
    let files: Vec<&str> = listed.lines().collect();
    let wrong: Vec<String> =
        unnamed(&files).into_iter().chain(files.iter().filter_map(|file| too_long(file))).collect();
    Ok(if wrong.is_empty() { Outcome::Passed } else { Outcome::Failed(wrong.join("; ")) })
}

fn unnamed(files: &[&str]) -> Vec<String> {
    let top: BTreeSet<&str> = files.iter().filter_map(|file| file.split('/').next()).collect();
    let strangers = top.into_iter().filter(|name| !TOP.contains(name) && !HIDDEN.contains(name));
    strangers.map(|name| format!("the design names no `{name}` at the top")).collect()
}

fn too_long(file: &str) -> Option<String> {
    let is_ours = SOURCES.iter().any(|end| file.ends_with(end))
        && !GENERATED.iter().any(|start| file.starts_with(start));
    // A file deleted but not yet committed is still listed.
    let text = is_ours.then(|| std::fs::read_to_string(tree::root().join(file)).ok()).flatten()?;
    let lines = text.lines().count();
    (lines > LINES)
        .then(|| format!("{file} has {lines} lines, more than {LINES}: which two subjects are in it?"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stranger_at_the_top_is_named() {
        assert!(unnamed(&["README.md", "ui/index.html", ".ci/run"]).is_empty());
        assert_eq!(unnamed(&["utils/a.rs", "ui/b.ts"]), ["the design names no `utils` at the top"]);
    }
}
