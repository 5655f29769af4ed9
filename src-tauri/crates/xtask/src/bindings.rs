//! Files written from the Rust types: TypeScript types for the user interface, JSON Schemas for the file formats.
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use crate::error::{Error, at};
use crate::program::Program;
use crate::step::Outcome;
use crate::tree;

/// A committed folder and how its files are written.
struct Generated {
    folder: &'static str,
    write: fn(&Path) -> Result<(), Error>,
}

const GENERATED: &[Generated] = &[
    Generated { folder: "ui/src/bindings", write: write_types },
    Generated { folder: "src-tauri/crates/cli/schemas", write: write_schemas },
];

/// Writes all of them anew in their places.
pub fn rewrite() -> Result<(), Error> {
    for generated in GENERATED {
        let place = tree::root().join(generated.folder);
        empty(&place)?;
        (generated.write)(&place)?;
    }
    Ok(())
}

/// Writes all of them elsewhere and compares: what lies in the tree must be the same, no file more, none less.
pub fn check() -> Result<Outcome, Error> {
    let mut wrong = Vec::new();
    for generated in GENERATED {
        let fresh = tree::target().join("generated").join(generated.folder);
        empty(&fresh)?;
        (generated.write)(&fresh)?;
        let (fresh, kept) = (read(&fresh)?, read(&tree::root().join(generated.folder))?);
        wrong.extend(differing(&fresh, &kept).into_iter().map(|file| format!("{}/{file}", generated.folder)));
    }
    let say = || format!("out of date: {}; type `cargo xtask bindings` and commit", wrong.join(", "));
    Ok(if wrong.is_empty() { Outcome::Passed } else { Outcome::Failed(say()) })
}

/// ts-rs writes in tests of its own making, named `export_bindings_…`; one process at a time, as they share files.
fn write_types(folder: &Path) -> Result<(), Error> {
    let words =
        ["cargo", "test", "--workspace", "--all-features", "--lib", "--quiet", "--", "export_bindings"];
    Program::new(&words).with("TS_RS_EXPORT_DIR", &folder.to_string_lossy()).run()
}

fn write_schemas(folder: &Path) -> Result<(), Error> {
    Program::new(&["cargo", "build", "--workspace", "--all-features", "--bin", "testimeter", "--quiet"])
        .run()?;
    Program::new(&[&tree::built("testimeter").to_string_lossy(), "schema"]).and(folder).run()
}

fn empty(folder: &Path) -> Result<(), Error> {
    if folder.exists() {
        std::fs::remove_dir_all(folder).map_err(at(folder))?;
    }
    std::fs::create_dir_all(folder).map_err(at(folder))
}

type Files = BTreeMap<String, Vec<u8>>;

/// Every file below a folder, by its path from there.
fn read(folder: &Path) -> Result<Files, Error> {
    let mut files = Files::new();
    let mut folders: Vec<PathBuf> = vec![folder.to_owned()];
    while let Some(next) = folders.pop() {
        for entry in std::fs::read_dir(&next).map_err(at(&next))?.flatten() {
            let path = entry.path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let name = path.strip_prefix(folder).unwrap_or(&path).to_string_lossy().into_owned();
                files.insert(name, std::fs::read(&path).map_err(at(&path))?);
            }
        }
    }
    Ok(files)
}

fn differing<'a>(fresh: &'a Files, kept: &'a Files) -> Vec<&'a str> {
    let changed = fresh.iter().filter(|(name, bytes)| kept.get(*name) != Some(bytes)).map(|(name, _)| name);
    let left_over = kept.keys().filter(|name| !fresh.contains_key(*name));
    changed.chain(left_over).map(String::as_str).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changed_missing_and_left_over_files_are_all_named() {
        let files = |list: &[(&str, &str)]| -> Files {
            list.iter().map(|(name, text)| ((*name).to_owned(), text.as_bytes().to_vec())).collect()
        };
        let fresh = files(&[("Job.ts", "new"), ("Same.ts", "same"), ("Vin.ts", "vin")]);
        let kept = files(&[("Gone.ts", "gone"), ("Job.ts", "old"), ("Same.ts", "same")]);
        assert_eq!(differing(&fresh, &kept), ["Job.ts", "Vin.ts", "Gone.ts"]);
        assert!(differing(&kept, &kept).is_empty());
    }
}
