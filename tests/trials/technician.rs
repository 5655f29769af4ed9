//! A technician who does what the engine offers: the next test, then what the gate before a module still wants.

use rustix::time::{ClockId, clock_gettime};

use circuit::{Diagnosis, Engine, MissingCode, Observation, Present};

use crate::Failure;
use crate::world::World;

/// After so many tests the technician gives up.
const PATIENCE: usize = 40;
/// A cause that isn't a module is called from here on, with those that no test tells from it: until then the next
/// test is done.
const CALLED_FROM: f64 = 0.90;

/// At the end, when no test tells more, a finding may name it from here on.
const NAMED_FROM: f64 = 0.84;

/// How a search ended.
#[derive(Debug, Clone)]
pub struct Search {
    pub minutes: f64,
    pub tests: usize,
    pub ended: Ended,
    /// For every step and module: all evidence but the probabilities is there; probability; likeliest rival.
    pub gate: Vec<Gate>,
    /// Seconds on a core of every update, so that other work on the machine doesn't count.
    pub updates: Vec<f64>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gate {
    pub ready: bool,
    pub probability: f64,
    pub rival: f64,
}

#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ended {
    ModuleCalled(String),
    CauseCalled(Vec<String>),
    NotProven,
}

pub struct Technician<'t, W> {
    engine: &'t Engine<'t>,
    world: W,
    observations: Vec<Observation>,
    minutes: f64,
}

impl<'t, W: World> Technician<'t, W> {
    pub const fn new(engine: &'t Engine<'t>, world: W) -> Self {
        Self { engine, world, observations: Vec::new(), minutes: 0.0 }
    }

    /// Does what the engine offers until something is called or nothing tells more.
    pub fn search(mut self) -> Result<(Search, Diagnosis), Failure> {
        self.searched()
    }

    /// The same, and after it every test until each is done twice: what all readings say together, none of them resting on
    /// one placement of the leads.
    pub fn search_and_all_else(mut self) -> Result<(Search, Diagnosis), Failure> {
        let (search, _) = self.searched()?;
        let tests: Vec<String> = self.world.circuit().tests.iter().map(|test| test.id.clone()).collect();
        for test in tests {
            let taken = self.observations.iter().filter(|seen| seen.test.as_ref() == Some(&test)).count();
            (taken..2).try_for_each(|_| self.take(&test))?;
        }
        Ok((search, self.engine.diagnose(&self.observations)?))
    }

    fn searched(&mut self) -> Result<(Search, Diagnosis), Failure> {
        let complaint = self.world.circuit().complaint.test.clone();
        self.take(&complaint)?;
        let (mut gate, mut updates) = (Vec::new(), Vec::new());
        loop {
            let start = on_core();
            let found = self.engine.diagnose(&self.observations)?;
            updates.push(on_core() - start);
            gate.push(gate_of(&found));
            let ended = ended(&found, CALLED_FROM);
            let next = if ended == Ended::NotProven { self.next(&found) } else { None };
            match next.filter(|_| self.observations.len() < PATIENCE) {
                Some(test) => self.take(&test)?,
                None => {
                    let tests = self.observations.len();
                    let ended = self::ended(&found, NAMED_FROM);
                    let search = Search { minutes: self.minutes, tests, ended, gate, updates };
                    return Ok((search, found));
                }
            }
        }
    }

    /// While something else may still be it, the test that tells most; then what the gate asks for.
    fn next(&self, found: &Diagnosis) -> Option<String> {
        let module =
            found.modules.iter().max_by(|left, right| left.probability.total_cmp(&right.probability));
        let again = |test: &&String| {
            let seen =
                |seen: &&Observation| seen.test.as_ref() == Some(*test) && seen.complaint == Present::Yes;
            self.observations.iter().filter(seen).count() < 6
        };
        let wanted = module.filter(|module| module.probability > 0.5).and_then(|module| {
            // A reading that contradicts the others first; the failing reading again last.
            let rank = |code: MissingCode| match code {
                MissingCode::ReadingsContradict => 0,
                MissingCode::FailingReadingNotRepeated => 2,
                _ => 1,
            };
            let mut missing: Vec<_> = module.missing.iter().collect();
            missing.sort_by_key(|missing| rank(missing.code));
            missing.iter().filter_map(|missing| missing.test.as_ref()).find(again).cloned()
        });
        let offered = found.next.iter().map(|next| &next.test).find(again).cloned();
        let doubted = found.doubts.iter().find_map(|doubt| {
            let id = doubt.repeat.as_ref()?;
            self.observations.iter().find(|seen| seen.id == *id)?.test.as_ref().filter(again)
        });
        wanted.or(offered).or_else(|| doubted.cloned())
    }

    fn take(&mut self, id: &str) -> Result<(), Failure> {
        let tests = &self.world.circuit().tests;
        let test = tests.iter().find(|test| test.id == id).ok_or("no such test")?.clone();
        let (value, complaint) = self.world.take(&test, &self.observations)?;
        self.minutes += test.minutes;
        let number = u32::try_from(self.observations.len())? + 1;
        let seen = Observation::at(&test, format!("{number} {id}"), value, number);
        self.observations.push(Observation { complaint, ..seen });
        Ok(())
    }
}

/// Seconds this thread was on a core so far.
#[allow(clippy::cast_precision_loss, reason = "a bench's seconds stay far below 2^53")]
fn on_core() -> f64 {
    let time = clock_gettime(ClockId::ThreadCPUTime);
    time.tv_sec as f64 + time.tv_nsec as f64 / 1e9
}

/// What leads, with what no reading can tell from it.
pub fn leading_group(found: &Diagnosis) -> Vec<String> {
    let Some(leading) = found.causes.first() else { return Vec::new() };
    let group = found.inseparable.iter().find(|group| group.contains(&leading.id));
    group.cloned().unwrap_or_else(|| vec![leading.id.clone()])
}

pub fn ended(found: &Diagnosis, from: f64) -> Ended {
    if let Some(module) = found.modules.iter().find(|module| module.may_be_called) {
        return Ended::ModuleCalled(module.module.clone());
    }
    let Some(leading) = found.causes.first() else { return Ended::NotProven };
    let inside = |id: &String| found.causes.iter().any(|cause| cause.id == *id && cause.module.is_some());
    let pair = found.pairs.first().filter(|pair| pair.probability >= from && !pair.causes.iter().any(inside));
    if let Some(pair) = pair {
        return Ended::CauseCalled(pair.causes.clone());
    }
    let ids = leading_group(found);
    let together: f64 =
        found.causes.iter().filter(|cause| ids.contains(&cause.id)).map(|cause| cause.probability).sum();
    if leading.module.is_none() && together >= from { Ended::CauseCalled(ids) } else { Ended::NotProven }
}

fn gate_of(found: &Diagnosis) -> Gate {
    let best = found.modules.iter().max_by(|left, right| left.probability.total_cmp(&right.probability));
    let Some(module) = best else { return Gate { ready: false, probability: 0.0, rival: 1.0 } };
    let by_number = |code| matches!(code, MissingCode::ProbabilityTooLow | MissingCode::RivalTooLikely);
    let outside = found.causes.iter().filter(|cause| cause.module.as_ref() != Some(&module.module));
    let inside = |id: &String| {
        found.causes.iter().any(|cause| cause.id == *id && cause.module.as_ref() == Some(&module.module))
    };
    let pairs = found.pairs.iter().filter(|pair| !pair.causes.iter().any(inside));
    let rivals = outside.map(|cause| cause.probability).chain(pairs.map(|pair| pair.probability));
    Gate {
        ready: module.missing.iter().all(|missing| by_number(missing.code)),
        probability: module.probability,
        rival: rivals.chain([found.unmodeled]).fold(0.0, f64::max),
    }
}
