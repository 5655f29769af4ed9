//! What to do next: the test that tells most, else the first thing that the gate before the likeliest module lacks, else
//! the finding. While a fault that comes and goes is away, the step is to provoke it.

use crate::event::{ComplaintPresent, ReadingCondition};
use crate::reasoning::readings_that_count;
use crate::{Job, cautions};
use circuit::{Circuit, Diagnosis, Test, TestKind};
use std::collections::BTreeSet;

/// A module is worth proving from here on: it is more likely than not (judgement; the screen unfolds its gate there too).
const WORTH_PROVING: f64 = 0.5;
/// A fault that comes and goes is worth provoking from here on: one chance in twenty (judgment).
const WORTH_PROVOKING: f64 = 0.05;

/// What to do next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NextStep {
    /// Take the test that tells most.
    Test(String),
    /// Take a test that is missing before a module may be called.
    Gate {
        /// The test.
        test: String,
        /// The module's id.
        module: String,
    },
    /// Write down what was found.
    Finding,
}

impl NextStep {
    /// The next step of a job as it is taken now, with what to do to the circuit meanwhile.
    #[must_use]
    pub fn now(job: &Job, circuit: &Circuit, diagnosis: &Diagnosis) -> (NextStep, Option<ReadingCondition>) {
        Self::of(diagnosis, &job.unreachable).provoking(job, circuit, diagnosis)
    }

    /// The next step after a diagnosis; tests that can't be reached are no step.
    #[must_use]
    pub fn of(diagnosis: &Diagnosis, unreachable: &BTreeSet<String>) -> NextStep {
        if let Some(next) = diagnosis.next.first() {
            return NextStep::Test(next.test.clone());
        }
        let likeliest = diagnosis.modules.iter().max_by(|a, b| a.probability.total_cmp(&b.probability));
        let gate = likeliest.filter(|module| module.probability >= WORTH_PROVING && !module.may_be_called);
        let missing = gate.and_then(|module| {
            let mut tests = module.missing.iter().filter_map(|missing| missing.test.as_ref());
            let test = tests.find(|test| !unreachable.contains(*test))?.clone();
            Some(NextStep::Gate { test, module: module.module.clone() })
        });
        missing.unwrap_or(NextStep::Finding)
    }

    /// The test of the step.
    #[must_use]
    pub fn test(&self) -> Option<&str> {
        match self {
            NextStep::Test(test) | NextStep::Gate { test, .. } => Some(test),
            NextStep::Finding => None,
        }
    }

    /// The step as it is taken now, with what to do to the circuit meanwhile: while the complaint is away and a fault that comes and
    /// goes is still in play, a reading of the circuit left alone tells next to nothing. Where the circuit has a test made for
    /// that, at the same leads, it takes the place of the other.
    #[must_use]
    pub fn provoking(
        self,
        job: &Job,
        circuit: &Circuit,
        diagnosis: &Diagnosis,
    ) -> (NextStep, Option<ReadingCondition>) {
        let test = self.test().and_then(|id| circuit.tests.iter().find(|test| test.id == id));
        let wavering: f64 = diagnosis.causes.iter().map(|cause| cause.comes_and_goes).sum();
        let hides = is_away(job) && wavering >= WORTH_PROVOKING;
        let Some(test) = test.filter(|test| hides && test.kind() != TestKind::Look) else {
            return (self, None);
        };
        let made_for_it = circuit.tests.iter().find(|other| {
            let done = || readings_that_count(job).any(|one| one.reading.test == other.id);
            other.condition.is_some()
                && same_place(test, other)
                && !job.unreachable.contains(&other.id)
                && !done()
        });
        match (self, made_for_it) {
            (NextStep::Test(_), Some(other)) => {
                (NextStep::Test(other.id.clone()), other.condition.map(Into::into))
            }
            (step, _) => {
                let needed = cautions::of_test(&test.cautions, &test.state, test.load.is_some());
                let wiggled = cautions::allow_wiggling(&needed).then_some(ReadingCondition::Wiggled);
                (step, wiggled)
            }
        }
    }
}

/// Was the complaint away when somebody last looked?
fn is_away(job: &Job) -> bool {
    let said = readings_that_count(job).map(|one| one.reading.complaint_present);
    said.filter(|present| *present != ComplaintPresent::Unknown).last() == Some(ComplaintPresent::No)
}

fn same_place(test: &Test, other: &Test) -> bool {
    let of = |test: &Test| {
        (test.mode, test.red.clone(), test.black.clone(), test.load.clone(), test.state.clone())
    };
    of(test) == of(other)
}

#[cfg(test)]
mod tests {
    use super::*;
    use circuit::{Meter, Observation, ObservedValue, Options, diagnose, library};

    /// The output is dead while nothing else is known: the module leads, and its gate lacks nearly everything.
    fn dead_output() -> Diagnosis {
        let circuit = library::find("relay_high_side").unwrap();
        let test = circuit.tests.iter().find(|test| test.id == "control_open").unwrap();
        let mut state: circuit::State =
            circuit.variables.iter().map(|v| (v.id.clone(), v.default.clone())).collect();
        state.extend(test.state.clone());
        let seen = Observation {
            id: "r1".into(),
            test: Some(test.id.clone()),
            mode: test.mode,
            red: test.red.clone(),
            black: test.black.clone(),
            value: ObservedValue::Number(0.02),
            state,
            placement: 1,
            ..Observation::default()
        };
        diagnose(&circuit, &Meter::default(), &[seen], &Options::default()).unwrap()
    }

    #[test]
    fn what_tells_most_comes_first_then_the_gate_then_the_finding() {
        let mut diagnosis = dead_output();
        let offered = diagnosis.next[0].test.clone();
        let none = BTreeSet::new();
        assert_eq!(NextStep::of(&diagnosis, &none), NextStep::Test(offered));

        diagnosis.next.clear();
        diagnosis.modules[0].probability = 0.9;
        let lacking: Vec<String> =
            diagnosis.modules[0].missing.iter().filter_map(|m| m.test.clone()).collect();
        assert!(lacking.len() >= 2, "{lacking:?}");
        let NextStep::Gate { test, module } = NextStep::of(&diagnosis, &none) else { panic!("no gate") };
        assert_eq!((&test, &module), (&lacking[0], &diagnosis.modules[0].module));

        let first = BTreeSet::from([lacking[0].clone()]);
        let NextStep::Gate { test, .. } = NextStep::of(&diagnosis, &first) else { panic!("no gate") };
        assert_ne!(test, lacking[0], "what can't be reached is no step");

        let all: BTreeSet<String> = lacking.into_iter().collect();
        assert_eq!(NextStep::of(&diagnosis, &all), NextStep::Finding);
        diagnosis.modules[0].probability = 0.2;
        assert_eq!(
            NextStep::of(&diagnosis, &none),
            NextStep::Finding,
            "nobody has to prove an unlikely module"
        );
    }
}
