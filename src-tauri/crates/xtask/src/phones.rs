//! The phones' type-check; the script beside the CI's says how it is done without their development kits.
use crate::error::Error;
use crate::program::Program;
use crate::step::Outcome;

/// The exit code by which a check says that it can't be made here, as automake's test harness has it.
const CANNOT_BE_MADE_HERE: i32 = 77;

pub fn check() -> Result<Outcome, Error> {
    let status = Program::new(&["bash", ".ci/check-phones"]).status()?;
    Ok(match status.code() {
        Some(0) => Outcome::Passed,
        Some(CANNOT_BE_MADE_HERE) => Outcome::Skipped("Debian's packages for it are missing".to_owned()),
        _ => Outcome::Failed(format!("the type-check ended with {status}")),
    })
}
