//! Lists the regions' rules, so that adding a region is adding its file.
#![allow(
    clippy::disallowed_methods,
    reason = "a build step takes its folders from cargo and writes its list"
)]

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    let folder = Path::new(&env::var("CARGO_MANIFEST_DIR").map_err(io::Error::other)?).join("rules");
    println!("cargo::rerun-if-changed={}", folder.display());
    let mut files: Vec<PathBuf> =
        fs::read_dir(&folder)?.map(|entry| entry.map(|entry| entry.path())).collect::<io::Result<_>>()?;
    files.retain(|file| file.extension().is_some_and(|end| end == "json"));
    files.sort();
    let mut list = String::from("&[\n");
    for file in files {
        let _ = writeln!(list, "    include_str!({:?}),", file.display().to_string());
    }
    list.push(']');
    fs::write(Path::new(&env::var("OUT_DIR").map_err(io::Error::other)?).join("regions.rs"), list)
}
