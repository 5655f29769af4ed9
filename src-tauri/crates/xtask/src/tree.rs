//! Where things lie in the source tree, and where cargo puts what it builds.
use std::path::{Path, PathBuf};

/// The top of the source tree: three folders above this crate.
pub fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors().nth(3).unwrap_or(here).to_owned()
}

pub fn ui() -> PathBuf {
    root().join("ui")
}

/// The checks' tools: prebuilt ones (a Python virtual environment), and what cargo compiled beside them.
pub fn tools() -> PathBuf {
    root().join(".venv")
}

/// Cargo's target folder, wherever `CARGO_TARGET_DIR` puts it.
pub fn target() -> PathBuf {
    match std::env::var_os("CARGO_TARGET_DIR") {
        Some(folder) => root().join(folder),
        None => root().join("target"),
    }
}

/// One of our own programs, as the debug build leaves it.
pub fn built(program: &str) -> PathBuf {
    target().join("debug").join(program)
}
