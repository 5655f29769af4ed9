//! How long our work takes beside plain tools doing the same; measured by a program of the checks.
use clap::Args;

use crate::error::Error;
use crate::program::Program;
use crate::setup;

#[derive(Args)]
pub struct Bench {
    /// Only the figures of these areas: photo, evidence, reasoning, start.
    #[arg(value_name = "AREA")]
    areas: Vec<String>,
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
            return measure(&self.areas).run();
        }
        print!("{}", measure(&self.areas).more("--json").output()?);
        Ok(())
    }
}

fn measure(areas: &[String]) -> Program {
    let cargo =
        ["cargo", "run", "--release", "--quiet", "--package", "testimeter-checks", "--bin", "measure", "--"];
    areas.iter().fold(Program::new(&cargo), |program, area| program.more(area))
}
