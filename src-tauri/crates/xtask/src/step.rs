//! A check, how it is run, and what is said about all of them at the end.
use std::time::{Duration, Instant};

use crate::error::Error;
use crate::program::Program;

/// One thing the project holds itself to.
pub struct Step {
    pub name: &'static str,
    /// What we know once it passed.
    pub proves: &'static str,
    pub work: Work,
}

pub enum Work {
    /// Passes when the program says 0.
    Run(&'static [&'static str]),
    /// The same, inside the folder `ui`.
    InUi(&'static [&'static str]),
    /// The same, with one environment variable set.
    With(&'static str, &'static str, &'static [&'static str]),
    /// A check of our own.
    Own(fn(Counts) -> Result<Outcome, Error>),
}

#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    Passed,
    /// Why the check can't be made on this machine.
    Skipped(String),
    /// What was seen.
    Failed(String),
}

/// How often the repeating tests repeat: they read `TESTIMETER_FULL`.
#[derive(Clone, Copy)]
pub enum Counts {
    Reduced,
    Full,
}

/// Runs round after round, the steps of a round at once, going on after a failure so that one run shows all that is wrong,
/// and closes with the sum.
pub fn run_all(rounds: &[Vec<&Step>], counts: Counts) -> Result<(), Error> {
    let ended: Vec<(&Step, Outcome, Duration)> =
        rounds.iter().flat_map(|round| run_round(round, counts)).collect();
    println!("\n{:=<72}", "");
    for (step, outcome, took) in &ended {
        println!("{}", line(step, outcome, *took));
    }
    let (passed, failed, skipped) = count(ended.iter().map(|(_, outcome, _)| outcome));
    println!("{}", sum(passed, failed, skipped));
    if failed == 0 { Ok(()) } else { Err(Error::Checks { failed }) }
}

fn run_round<'s>(round: &[&'s Step], counts: Counts) -> Vec<(&'s Step, Outcome, Duration)> {
    std::thread::scope(|scope| {
        let running: Vec<_> =
            round.iter().map(|step| (*step, scope.spawn(move || run_shown(step, counts)))).collect();
        let broken = || Outcome::Failed("the check broke off".to_owned());
        let ended = |(step, run): (&'s Step, std::thread::ScopedJoinHandle<'_, _>)| {
            run.join().unwrap_or_else(|_| (step, broken(), Duration::ZERO))
        };
        running.into_iter().map(ended).collect()
    })
}

fn run_shown(step: &Step, counts: Counts) -> (&Step, Outcome, Duration) {
    println!("\n== {}: {}", step.name, step.proves);
    let start = Instant::now();
    let outcome = step.work.run(counts).unwrap_or_else(|error| Outcome::Failed(error.to_string()));
    let took = start.elapsed();
    println!("{}", line(step, &outcome, took));
    (step, outcome, took)
}

impl Work {
    fn run(&self, counts: Counts) -> Result<Outcome, Error> {
        let program = match self {
            Work::Own(check) => return check(counts),
            Work::Run(words) => Program::new(words),
            Work::InUi(words) => Program::new(words).within(&crate::tree::ui()),
            Work::With(variable, value, words) => Program::new(words).with(variable, value),
        };
        let program = match counts {
            Counts::Full => program.with("TESTIMETER_FULL", "1"),
            Counts::Reduced => program,
        };
        program.run().map(|()| Outcome::Passed)
    }
}

fn line(step: &Step, outcome: &Outcome, took: Duration) -> String {
    let seconds = took.as_secs_f64();
    match outcome {
        Outcome::Passed => format!("  ok      {:<13} {seconds:>7.1} s", step.name),
        Outcome::Skipped(why) => format!("  skipped {:<13} {seconds:>7.1} s  {why}", step.name),
        Outcome::Failed(seen) => format!("  FAILED  {:<13} {seconds:>7.1} s  {seen}", step.name),
    }
}

fn count<'a>(outcomes: impl Iterator<Item = &'a Outcome>) -> (usize, usize, usize) {
    outcomes.fold((0, 0, 0), |(passed, failed, skipped), outcome| match outcome {
        Outcome::Passed => (passed + 1, failed, skipped),
        Outcome::Failed(_) => (passed, failed + 1, skipped),
        Outcome::Skipped(_) => (passed, failed, skipped + 1),
    })
}

fn sum(passed: usize, failed: usize, skipped: usize) -> String {
    let counted = format!("{passed} passed, {failed} failed");
    if skipped == 0 { counted } else { format!("{counted}, {skipped} skipped") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_failure_is_counted_and_fails_the_whole() {
        let good = Step { name: "good", proves: "", work: Work::Own(|_| Ok(Outcome::Passed)) };
        let bad = Step { name: "bad", proves: "", work: Work::Run(&["false"]) };
        let absent = Step { name: "absent", proves: "", work: Work::Run(&["no-such-program"]) };
        assert!(run_all(&[vec![&good]], Counts::Reduced).is_ok());
        let rounds = [vec![&good], vec![&bad, &absent]];
        assert!(matches!(run_all(&rounds, Counts::Full), Err(Error::Checks { failed: 2 })));
    }

    #[test]
    fn the_sum_names_skipped_checks_only_when_there_are_some() {
        assert_eq!(sum(12, 0, 0), "12 passed, 0 failed");
        assert_eq!(sum(12, 1, 2), "12 passed, 1 failed, 2 skipped");
    }
}
