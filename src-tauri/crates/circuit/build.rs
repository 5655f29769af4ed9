//! Lists the circuit files, so that adding a circuit is adding its file.
#![allow(
    clippy::disallowed_methods,
    reason = "a build step takes its folders from cargo and writes its list"
)]

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    let folder = Path::new(&env::var("CARGO_MANIFEST_DIR").map_err(io::Error::other)?).join("src/library");
    println!("cargo::rerun-if-changed={}", folder.display());
    let mut files: Vec<PathBuf> =
        fs::read_dir(&folder)?.map(|entry| entry.map(|entry| entry.path())).collect::<io::Result<_>>()?;
    files.retain(|file| file.extension().is_some_and(|end| end == "json"));
    files.sort();
    let mut list = String::from("&[\n");
    for file in files {
        let name = file.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        let _ = writeln!(list, "    ({name:?}, include_str!({:?})),", file.display().to_string());
    }
    list.push(']');
    fs::write(Path::new(&env::var("OUT_DIR").map_err(io::Error::other)?).join("library.rs"), list)
}
