//! How long our work takes beside plain tools doing the same; measured by a program of the checks.
use clap::Args;
use std::path::Path;

use crate::error::{Error, at};
use crate::models;
use crate::node;
use crate::program::Program;
use crate::{setup, tree};

#[derive(Args)]
pub struct Bench {
    /// Only the figures of these areas: photo, paper, evidence, pages, reasoning, drawing, start, shop, ui; or `circuit` alone: simulated searches.
    #[arg(value_name = "AREA")]
    areas: Vec<String>,
    /// Number of simulated searches, for `circuit`.
    #[arg(long, value_name = "N")]
    jobs: Option<usize>,
    /// One JSON object, a ratio a key, for scripts.
    #[arg(long)]
    json: bool,
}

impl Bench {
    /// In the release build: that is what people run. Nothing is asserted about time. With `--json`, standard output
    /// holds the object and nothing else: what the set-up prints goes nowhere.
    pub fn go(self) -> Result<(), Error> {
        if !self.json {
            setup::for_checking()?;
            if self.reads_papers() {
                models::fetch(&tree::target())?;
            }
            if self.measures_screens() {
                node::build()?;
                bridge().run()?;
            }
            return self.program().run();
        }
        let ourselves = std::env::current_exe().map_err(at(Path::new("xtask")))?;
        let ourselves = ourselves.to_string_lossy();
        let quietly = |words: &[&str]| {
            let program = [&[ourselves.as_ref()], words].concat();
            let failed =
                || Error::Found(format!("it failed; type `cargo xtask {}` to see why", words.join(" ")));
            Program::new(&program).succeeds().then_some(()).ok_or_else(failed)
        };
        quietly(&["setup"])?;
        if self.reads_papers() {
            quietly(&["models"])?;
        }
        if self.measures_screens() {
            quietly(&["test", "--only", "pages"])?;
            bridge().output()?;
        }
        print!("{}", self.program().more("--json").output()?);
        Ok(())
    }

    fn measures_screens(&self) -> bool {
        self.areas.is_empty() || self.areas.iter().any(|area| area == "ui")
    }

    fn reads_papers(&self) -> bool {
        self.areas.is_empty() || self.areas.iter().any(|area| area == "paper")
    }

    fn program(&self) -> Program {
        if self.areas == ["circuit"] {
            let trials = checks("trials");
            return match self.jobs {
                Some(jobs) => trials.more("--jobs").more(&jobs.to_string()),
                None => trials,
            };
        }
        self.areas.iter().fold(checks("measure"), |program, area| program.more(area))
    }
}

/// What the screens are measured with, beside the program that measures.
fn bridge() -> Program {
    let words =
        ["cargo", "build", "--release", "--quiet", "--package", "testimeter-checks", "--all-features"];
    Program::new(&[&words[..], &["--bin", "bridge"]].concat())
}

/// A program of the checks.
fn checks(name: &str) -> Program {
    Program::new(&[
        "cargo",
        "run",
        "--release",
        "--quiet",
        "--package",
        "testimeter-checks",
        "--bin",
        name,
        "--",
    ])
}
