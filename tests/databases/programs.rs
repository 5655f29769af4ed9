//! Outside programs these checks can't do without.

use std::ffi::OsStr;
use std::process::{Command, Output};

pub const KEEPER: &str = env!("CARGO_BIN_EXE_keeper");

/// Runs a program to its end; a missing one fails the test, because a check that didn't run proves nothing.
pub fn run<A: AsRef<OsStr>>(program: &str, arguments: &[A]) -> Output {
    let run = Command::new(program).args(arguments).output();
    run.unwrap_or_else(|error| panic!("this check needs `{program}`: {error}; install it and run again"))
}

/// As [`run`], for a program that must succeed; returns what it printed.
pub fn run_well<A: AsRef<OsStr>>(program: &str, arguments: &[A]) -> String {
    let output = run(program, arguments);
    let errors = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{program} failed: {errors}");
    String::from_utf8_lossy(&output.stdout).into_owned()
}
