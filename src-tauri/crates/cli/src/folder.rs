//! The data folder: the one of the app unless another is named.

use std::path::PathBuf;

/// Names a data folder to use in place of the app's own.
const VARIABLE: &str = "TESTIMETER_DATA";

/// Identifier of the app, which names its folder.
const IDENTIFIER: &str = "app.testimeter";

/// The folder that was named, else that of the variable, else the app's own.
pub fn data(named: Option<PathBuf>) -> PathBuf {
    named.or_else(|| set(VARIABLE)).unwrap_or_else(|| system().join(IDENTIFIER))
}

fn system() -> PathBuf {
    let home = set("HOME").unwrap_or_default();
    if cfg!(target_os = "macos") {
        home.join("Library/Application Support")
    } else {
        set("XDG_DATA_HOME").unwrap_or_else(|| home.join(".local/share"))
    }
}

fn set(variable: &str) -> Option<PathBuf> {
    std::env::var_os(variable).filter(|value| !value.is_empty()).map(PathBuf::from)
}
