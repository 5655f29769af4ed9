//! May a module be called the cause? Only when nothing on the list is missing.

use crate::answer::cause_share::{CauseShare, PairShare};
use crate::answer::diagnosis::UNMODELED;
use crate::answer::doubt::Doubt;
use crate::answer::options::Options;
use crate::answer::verdict::{Missing, MissingCode, ModuleVerdict};
use crate::choose::offer::{Candidate, Done, is_good};
use crate::file::module::{EvidenceCode, EvidenceNeed, Module};
use crate::file::observation::Present;
use crate::file::procedure::Test;
use crate::predict::model::Model;
use crate::predict::modules::{of_scan_tool, withheld_by};

/// Least probability of the module.
const LEAST: f64 = 0.95;
/// Highest probability of any rival.
const RIVAL: f64 = 0.03;
/// At so many placements a module's supply and ground are seen.
const PLACEMENTS: usize = 2;

/// Least probability of a module that may be called: the caller may only ask for more.
pub(crate) fn at_least(options: &Options) -> f64 {
    options.module_at_least.max(LEAST)
}

/// Is this probability certainly not below `least`? What is no number never is.
fn reaches(probability: f64, least: f64) -> bool {
    probability >= least
}

/// Is this probability not certainly within `most`? What is no number always is.
fn exceeds(probability: f64, most: f64) -> bool {
    probability.is_nan() || probability > most
}

/// In which turn what is missing is best done. Past the terminals after the look: then it is the failing reading taken
/// again as well.
const fn turn(code: MissingCode) -> u8 {
    match code {
        MissingCode::ConnectorNotInspected | MissingCode::ConnectorNotClean => 1,
        MissingCode::OutputNotObservedPastTerminal => 2,
        MissingCode::FailingReadingNotRepeated => 3,
        _ => 0,
    }
}

/// What the verdicts are made from.
pub(crate) struct Verdicts<'c, 'a> {
    pub model: &'c Model<'a>,
    pub tests: &'c [Candidate<'c>],
    pub done: &'c [Done<'c>],
    pub causes: &'c [CauseShare],
    pub pairs: &'c [PairShare],
    pub unmodeled: f64,
    pub inseparable: &'c [Vec<String>],
    pub doubts: &'c [Doubt],
    pub options: &'c Options,
}

impl Verdicts<'_, '_> {
    pub fn verdict(&self, module: &Module) -> ModuleVerdict {
        let inside = |cause: &&CauseShare| cause.module.as_ref() == Some(&module.id);
        let withheld = withheld_by(self.model, module);
        let or_programming = !withheld.is_empty() && !self.scan_tool_reaches(module);
        let unheard = if or_programming { self.named(&withheld) } else { Vec::new() };
        let counts = |cause: &&CauseShare| inside(cause) || unheard.contains(&cause.id);
        let probability = self.causes.iter().filter(counts).map(|cause| cause.probability).sum();
        let group = self.group(module);
        let mut missing = Vec::new();
        let needs = module.evidence.iter().filter(|need| !or_programming || !of_scan_tool(need.code));
        missing.extend(needs.clone().filter_map(|need| self.missing_evidence(need)));
        missing.extend(self.connector(module));
        missing.sort_by_key(|missing| turn(missing.code));
        missing.extend(needs.filter_map(|need| self.seen_once(need)));
        if !reaches(probability, at_least(self.options)) {
            missing.push(Missing { code: MissingCode::ProbabilityTooLow, about: None, test: None });
        }
        missing.extend(self.rivals(module, &unheard));
        let outside = |id: &&String| !self.causes.iter().filter(counts).any(|cause| cause.id == **id);
        for id in group.iter().filter(outside) {
            missing.push(Missing { code: MissingCode::NotSeparable, about: Some(id.clone()), test: None });
        }
        for doubt in self.doubts {
            let about = doubt.repeat.clone();
            let test = about.as_ref().and_then(|id| self.test_of(id));
            missing.push(Missing { code: MissingCode::ReadingsContradict, about, test });
        }
        ModuleVerdict {
            module: module.id.clone(),
            may_be_called: missing.is_empty(),
            probability,
            missing,
            group,
            or_programming,
            reasons: Vec::new(),
            overturned_by: Vec::new(),
        }
    }

    /// Can any of the tests be done that a scan tool is needed for?
    fn scan_tool_reaches(&self, module: &Module) -> bool {
        let tests =
            module.evidence.iter().filter(|need| of_scan_tool(need.code)).flat_map(|need| &need.tests);
        tests.into_iter().any(|test| !self.options.cannot_reach.contains(test))
    }

    fn named(&self, causes: &[usize]) -> Vec<String> {
        causes.iter().filter_map(|i| self.model.causes.get(*i)).map(|cause| cause.id.clone()).collect()
    }

    /// The test of that name; nothing when the circuit has none.
    fn candidate(&self, test: &str) -> Option<&Candidate<'_>> {
        self.tests.iter().find(|candidate| candidate.test.id == test)
    }

    /// The latest result of a test while the complaint was present: good or not.
    fn latest(&self, test: &str) -> Option<bool> {
        self.latest_while(test, |complaint| complaint == Present::Yes)
    }

    fn latest_while(&self, test: &str, counts: impl Fn(Present) -> bool) -> Option<bool> {
        let candidate = self.candidate(test)?;
        let column = candidate.column?;
        let seen = |done: &&Done<'_>| {
            self.model.same_reading(done.column, column) && counts(done.observation.complaint)
        };
        is_good(self.model, candidate.test, self.done.iter().rfind(seen)?)
    }

    fn missing_evidence(&self, need: &EvidenceNeed) -> Option<Missing> {
        // With the module unplugged nobody sees the complaint: only what was read while it was gone doesn't count.
        let counts = |complaint| match need.code {
            EvidenceCode::Harness => complaint != Present::No,
            _ => complaint == Present::Yes,
        };
        let results: Vec<Option<bool>> =
            need.tests.iter().map(|test| self.latest_while(test, counts)).collect();
        let taken = need.tests.iter().zip(&results).filter(|(_, result)| result.is_some());
        let seen = self.different_readings(taken.map(|(test, _)| test.as_str()));
        let any_bad = results.contains(&Some(false));
        let (unseen, wrong, is_wrong) = match need.code {
            EvidenceCode::Supply => (MissingCode::SupplyNotObserved, MissingCode::SupplyNotGood, any_bad),
            EvidenceCode::Ground => (MissingCode::GroundNotObserved, MissingCode::GroundNotGood, any_bad),
            EvidenceCode::Input => (MissingCode::InputNotObserved, MissingCode::InputNotGood, any_bad),
            EvidenceCode::Harness => (MissingCode::HarnessNotObserved, MissingCode::HarnessNotGood, any_bad),
            EvidenceCode::OutputUnderLoad => {
                (MissingCode::OutputNotObservedUnderLoad, MissingCode::OutputDoesNotFail, !any_bad)
            }
            EvidenceCode::PastTerminal => {
                (MissingCode::OutputNotObservedPastTerminal, MissingCode::OutputDoesNotFail, !any_bad)
            }
            EvidenceCode::Conditions => {
                (MissingCode::ConditionsNotRead, MissingCode::ConditionsNotMet, any_bad)
            }
            EvidenceCode::OutputTest => {
                (MissingCode::OutputTestNotDone, MissingCode::OutputTestWorks, !any_bad)
            }
        };
        let about = Some(need.id.clone());
        // A need that asks for no look would open the gate by itself.
        if seen < need.looks.max(1) {
            let open = need
                .tests
                .iter()
                .zip(&results)
                .find(|(test, result)| result.is_none() && !self.options.cannot_reach.contains(test));
            return Some(Missing { code: unseen, about, test: open.map(|(test, _)| test.clone()) });
        }
        let test = need.tests.iter().zip(&results).find(|(_, result)| **result == Some(false));
        is_wrong.then(|| Missing { code: wrong, about, test: test.map(|(test, _)| test.clone()) })
    }

    /// A supply or ground seen at one placement only: one lead put wrong would show a feed where there is none. Last of all,
    /// because it takes a minute while the leads that bypass the terminals are in place.
    fn seen_once(&self, need: &EvidenceNeed) -> Option<Missing> {
        let code = match need.code {
            EvidenceCode::Supply => MissingCode::SupplyNotObserved,
            EvidenceCode::Ground => MissingCode::GroundNotObserved,
            _ => return None,
        };
        if self.missing_evidence(need).is_some() || self.placements(need) >= PLACEMENTS {
            return None;
        }
        let reachable = |test: &&String| !self.options.cannot_reach.contains(*test);
        let open = need.tests.iter().filter(reachable).find(|test| self.latest(test).is_none());
        let test = open.or(need.tests.iter().find(reachable)).cloned();
        Some(Missing { code, about: Some(need.id.clone()), test })
    }

    /// At how many placements of the leads it was seen while the complaint was present.
    fn placements(&self, need: &EvidenceNeed) -> usize {
        let columns: Vec<usize> = need.tests.iter().filter_map(|test| self.candidate(test)?.column).collect();
        let seen = self.done.iter().filter(|done| {
            done.observation.complaint == Present::Yes
                && columns.iter().any(|column| self.model.same_reading(*column, done.column))
        });
        let mut placements: Vec<u32> = seen.map(|done| done.observation.placement).collect();
        placements.sort_unstable();
        placements.dedup();
        placements.len()
    }

    /// How many of these tests are different readings: one that is listed twice, or that another test takes too, counts
    /// once.
    fn different_readings<'t>(&self, tests: impl Iterator<Item = &'t str>) -> usize {
        let mut known: Vec<usize> = Vec::new();
        for column in tests.filter_map(|test| self.candidate(test)?.column) {
            if !known.iter().any(|other| self.model.same_reading(*other, column)) {
                known.push(column);
            }
        }
        known.len()
    }

    /// Connector opened, looked at and gripped, and the failing reading taken again after that, leads placed anew.
    fn connector(&self, module: &Module) -> Option<Missing> {
        let missing = |code, test: Option<String>| Some(Missing { code, about: None, test });
        let Some(candidate) = self.candidate(&module.inspection) else {
            return missing(MissingCode::ConnectorNotInspected, None);
        };
        // Looking needs no complaint: the module may be unplugged for it.
        let looked = self.done.iter().rposition(|done| Some(done.column) == candidate.column);
        let Some(looked) = looked else {
            return missing(MissingCode::ConnectorNotInspected, Some(module.inspection.clone()));
        };
        let result = self.done.get(looked).and_then(|done| is_good(self.model, candidate.test, done));
        if result != Some(true) {
            return missing(MissingCode::ConnectorNotClean, Some(module.inspection.clone()));
        }
        let is_output = |code| matches!(code, EvidenceCode::OutputUnderLoad | EvidenceCode::PastTerminal);
        let outputs = module.evidence.iter().filter(|need| is_output(need.code));
        let tests: Vec<&String> = outputs.flat_map(|need| &need.tests).collect();
        if tests.iter().any(|test| self.failed_again(test, &tests, looked)) {
            return None;
        }
        let first = tests.iter().find(|test| self.latest(test) == Some(false)).or(tests.first());
        missing(MissingCode::FailingReadingNotRepeated, first.map(|test| (*test).clone()))
    }

    /// Failed after the look, and at another placement too: before it, or once more after it. The other time may be the same
    /// output past its terminal, or at it (decision 20): that tells more than the same reading twice. Never another output.
    fn failed_again(&self, test: &str, outputs: &[&String], looked: usize) -> bool {
        let Some(candidate) = self.candidate(test) else { return false };
        let same_output = |other: &&&String| {
            self.candidate(other).is_some_and(|other| looks_at_the_same(candidate.test, other.test))
        };
        let failed = |of: &Candidate<'_>, done: &&Done<'_>| {
            Some(done.column) == of.column
                && done.observation.complaint == Present::Yes
                && is_good(self.model, of.test, done) == Some(false)
        };
        let after = self.done.iter().skip(looked + 1).filter(|done| failed(candidate, done));
        let placements: Vec<u32> = after.map(|done| done.observation.placement).collect();
        outputs.iter().filter(same_output).filter_map(|other| self.candidate(other)).any(|other| {
            let mut all = self.done.iter().filter(|done| failed(other, done));
            all.any(|done| placements.iter().any(|placement| *placement != done.observation.placement))
        })
    }

    fn rivals(&self, module: &Module, unheard: &[String]) -> Vec<Missing> {
        let rival =
            |about: String| Missing { code: MissingCode::RivalTooLikely, about: Some(about), test: None };
        let most = self.options.rival_at_most.min(RIVAL);
        let outside = self
            .causes
            .iter()
            .filter(|cause| cause.module.as_ref() != Some(&module.id) && !unheard.contains(&cause.id));
        let singles =
            outside.filter(|cause| exceeds(cause.probability, most)).map(|cause| rival(cause.id.clone()));
        let inside = |id: &String| {
            self.causes.iter().any(|cause| cause.id == *id && cause.module.as_ref() == Some(&module.id))
        };
        let pairs = self
            .pairs
            .iter()
            .filter(|pair| exceeds(pair.probability, most) && !pair.causes.iter().any(inside));
        let pairs = pairs.map(|pair| rival(pair.causes.join(" + ")));
        let unmodeled = exceeds(self.unmodeled, most).then(|| rival(UNMODELED.to_owned()));
        singles.chain(pairs).chain(unmodeled).collect()
    }

    fn group(&self, module: &Module) -> Vec<String> {
        let inside = |id: &String| {
            self.causes.iter().any(|cause| cause.id == *id && cause.module.as_ref() == Some(&module.id))
        };
        let mut group: Vec<String> =
            self.inseparable.iter().filter(|group| group.iter().any(inside)).flatten().cloned().collect();
        group.sort();
        group.dedup();
        group
    }

    fn test_of(&self, observation: &str) -> Option<String> {
        let done = self.done.iter().find(|done| done.observation.id == observation)?;
        let same = |candidate: &&Candidate<'_>| candidate.column == Some(done.column);
        self.tests.iter().find(same).map(|candidate| candidate.test.id.clone())
    }
}

/// The same leads in the same mode with the same load, or the same question: what differs is what the state puts between.
fn looks_at_the_same(left: &Test, right: &Test) -> bool {
    let of = |test: &Test| (test.mode, test.red.clone(), test.black.clone(), test.load.clone());
    of(left) == of(right) && left.question == right.question
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_number_is_below_every_least_and_above_every_most() {
        assert!(!reaches(f64::NAN, LEAST) && exceeds(f64::NAN, RIVAL));
        assert!(reaches(LEAST, LEAST) && !exceeds(RIVAL, RIVAL));
    }
}
