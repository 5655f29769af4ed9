//! How long our work takes beside plain tools doing the same; measured by a program of the checks.
use clap::Args;
use std::path::Path;

use crate::error::{Error, at};
use crate::program::Program;
use crate::setup;

#[derive(Args)]
pub struct Bench {
    /// Only the figures of these areas: photo, evidence, reasoning, drawing, start, shop; or `circuit` alone: simulated searches.
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
            return self.program().run();
        }
        let ourselves = std::env::current_exe().map_err(at(Path::new("xtask")))?;
        if !Program::new(&[&ourselves.to_string_lossy(), "setup"]).succeeds() {
            return Err(Error::Found("the set-up failed; type `cargo xtask setup` to see why".to_owned()));
        }
        print!("{}", self.program().more("--json").output()?);
        Ok(())
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
