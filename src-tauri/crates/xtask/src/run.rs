//! Running the app, in a window or without one.
use std::path::PathBuf;

use clap::Args;

use crate::error::{Error, at};
use crate::program::Program;
use crate::{node, setup, tree};

#[derive(Args)]
pub struct Run {
    /// Play the demo jobs without a window; so it is also where there is no display.
    #[arg(long)]
    headless: bool,
    /// Where the demo's reports and packets go when there is no window; `demo` in cargo's target folder if not given.
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
}

impl Run {
    pub fn go(self) -> Result<(), Error> {
        setup::for_running()?;
        build()?;
        if self.headless || !has_display() { self.play() } else { open() }
    }

    /// Plays every demo job; the exit code is the player's.
    fn play(&self) -> Result<(), Error> {
        let out = self.out.clone().unwrap_or_else(|| tree::target().join("demo"));
        // The caller's path, from the caller's folder: our programs run at the top of the tree.
        let out = std::path::absolute(&out).map_err(at(&out))?;
        testimeter(&["demo", "play", "--out"]).and(&out).run()
    }
}

/// Draws the photographs of the demo jobs into `demo-data`.
pub fn draw_photos() -> Result<(), Error> {
    // Rays of light are followed one by one: only the optimised build is bearable.
    Program::new(&["cargo", "run", "--release", "--package", "demo-photos"]).run()
}

fn build() -> Result<(), Error> {
    node::build()?;
    Program::new(&[
        "cargo",
        "build",
        "--workspace",
        "--all-features",
        "--bin",
        "testimeter-app",
        "--bin",
        "testimeter",
    ])
    .run()
}

fn open() -> Result<(), Error> {
    // It does nothing where a shop has been set up.
    testimeter(&["demo", "load"]).run()?;
    Program::new(&[&tree::built("testimeter-app").to_string_lossy()]).run()
}

fn testimeter(words: &[&str]) -> Program {
    let program = tree::built("testimeter");
    Program::new(&[&[&*program.to_string_lossy()], words].concat())
}

fn has_display() -> bool {
    let is_set = |variable| std::env::var_os(variable).is_some_and(|value| !value.is_empty());
    is_set("DISPLAY") || is_set("WAYLAND_DISPLAY") || cfg!(any(target_os = "macos", target_os = "windows"))
}
