//! Builds the user interface, so that a plain `cargo build` embeds the one in the tree.
//! `SKIP_UI=1` leaves `ui/dist` as it is (`cargo xtask` builds it beforehand and sets the switch).
use std::path::Path;
use std::process::{Command, ExitCode};

const UI: &str = "../ui";
const DIST: &str = "../ui/dist";
const SOURCES: [&str; 9] = [
    "src",
    "index.html",
    "package-lock.json",
    "vite.config.ts",
    "svelte.config.js",
    "tsconfig.json",
    // What the screens share with others: the catalogue of words, our icons.
    "../icons-own/ui",
    "../src-tauri/crates/words/en",
    "../src-tauri/crates/words/es",
];

fn main() -> ExitCode {
    println!("cargo:rerun-if-env-changed=SKIP_UI");
    let built = if std::env::var_os("SKIP_UI").is_some() { take_what_is_there() } else { build() };
    if let Err(reason) = built {
        println!("cargo:error=the user interface was not built: {reason}");
        return ExitCode::FAILURE;
    }
    tauri_build::build();
    ExitCode::SUCCESS
}

/// Watches the sources only: `ui/dist` is younger than the moment this script started, so watching it here would
/// run the script on every build.
fn build() -> Result<(), String> {
    for source in SOURCES {
        println!("cargo:rerun-if-changed={UI}/{source}");
    }
    if !Path::new(UI).join("node_modules").exists() {
        npm(&["ci"])?;
    }
    npm(&["run", "build"])
}

/// The window needs some page to embed; type-checks of a fresh clone get an empty one.
fn take_what_is_there() -> Result<(), String> {
    let page = Path::new(DIST).join("index.html");
    if !page.exists() {
        std::fs::create_dir_all(DIST).map_err(|error| format!("{DIST}: {error}"))?;
        std::fs::write(&page, "<!doctype html><title>Testimeter</title>\n")
            .map_err(|error| format!("{}: {error}", page.display()))?;
    }
    println!("cargo:rerun-if-changed={DIST}");
    Ok(())
}

fn npm(arguments: &[&str]) -> Result<(), String> {
    let shown = format!("npm {}", arguments.join(" "));
    let status = Command::new("npm")
        .args(arguments)
        .current_dir(UI)
        .status()
        .map_err(|error| format!("{shown}: {error}; install Node 20 or set SKIP_UI=1"))?;
    if status.success() { Ok(()) } else { Err(format!("{shown} failed ({status}); its own words are above")) }
}
