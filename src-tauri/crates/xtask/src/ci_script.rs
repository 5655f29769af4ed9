//! The CI's scripts as checks; each says at its head what it needs and shows.
use crate::error::Error;
use crate::program::Program;
use crate::step::Outcome;

/// The exit code by which a check says that it can't be made here, as automake's test harness has it.
const CANNOT_BE_MADE_HERE: i32 = 77;

/// `missing` says what this machine lacks when the script can't make its check.
pub fn check(script: &str, missing: &str) -> Result<Outcome, Error> {
    let status = Program::new(&["bash", script]).status()?;
    Ok(match status.code() {
        Some(0) => Outcome::Passed,
        Some(CANNOT_BE_MADE_HERE) => Outcome::Skipped(missing.to_owned()),
        _ => Outcome::Failed(format!("{script} ended with {status}")),
    })
}
