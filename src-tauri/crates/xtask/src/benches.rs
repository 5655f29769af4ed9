//! How long our work takes beside plain tools doing the same; measured by a program of the checks.
use clap::Args;

use crate::error::Error;
use crate::program::Program;
use crate::setup;

#[derive(Args)]
pub struct Bench {
    /// One JSON object, a ratio a key, for scripts.
    #[arg(long)]
    json: bool,
}

impl Bench {
    /// In the release build: that is what people run. Nothing is asserted about time. With `--json`, standard output
    /// holds the object and nothing else.
    pub fn go(self) -> Result<(), Error> {
        if !self.json {
            setup::everything()?;
            return measure(&[]).run();
        }
        print!("{}", measure(&["--json"]).output()?);
        Ok(())
    }
}

fn measure(words: &[&str]) -> Program {
    let cargo =
        ["cargo", "run", "--release", "--quiet", "--package", "testimeter-checks", "--bin", "measure", "--"];
    Program::new(&[&cargo, words].concat())
}
