//! Minutes until the part is known, by our choice of tests, by simpler rules, and at best.
//!
//! Every cause at three severities, weighed by the file's odds, shows its readings without any error; readings a meter
//! can tell apart part the causes. A search is over when the causes left lie in one part (or hold 97 % in one), or no
//! test parts them further. The best is found by exact dynamic programming over sets of causes, with what must be
//! proven first left aside: so it is a lower bound.

use std::collections::{BTreeMap, HashMap};

use circuit::{Circuit, Engine, Fault, FaultMode, Meter, Observation, ObservedValue, Options, Present};

use crate::Failure;
use crate::separable::signature;
use crate::vehicle::Vehicle;

/// Sets of causes looked at before the best is called out of reach.
const SETS: usize = 400_000;
const DECIDED: f64 = 0.97;
/// Readings nearer than this many counts and this share aren't told apart.
const COUNTS: f64 = 6.0;
const SHARE: f64 = 0.015;

/// Mean minutes.
#[derive(Debug, Clone, Default)]
pub struct Minutes {
    pub ours: f64,
    pub optimum: Option<f64>,
    pub cheapest_first: f64,
    pub half_split: f64,
    pub fixed_order: f64,
    pub causes: usize,
}

struct Cause {
    part: String,
    weight: f64,
    shown: Vec<ObservedValue>,
}

struct Bench {
    causes: Vec<Cause>,
    minutes: Vec<f64>,
    /// Test → cause → outcome.
    outcomes: Vec<Vec<usize>>,
}

type Set = Vec<u64>;

pub fn minutes(circuit: &Circuit, meter: &Meter) -> Result<Minutes, Failure> {
    let circuit = &truthful(circuit);
    let bench = Bench::of(circuit, meter)?;
    let options = Options { next_tests: 30, mis_probe: 1e-4, ..Options::default() };
    let engine = Engine::new(circuit, meter, &options)?;
    let all = bench.everything();
    let simple = |rule: &dyn Fn(&Set, &[usize]) -> Option<usize>| {
        bench.mean(|cause| bench.walk(cause, &all, &mut |set, done| rule(set, done)))
    };
    let parting = |set: &Set, done: &[usize]| -> Vec<usize> {
        (0..bench.minutes.len()).filter(|t| !done.contains(t) && bench.parts(set, *t).len() > 1).collect()
    };
    let cheapest_first = simple(&|set, done| {
        let tests = parting(set, done);
        tests.into_iter().min_by(|left, right| bench.minutes[*left].total_cmp(&bench.minutes[*right]))
    });
    let half_split = simple(&|set, done| {
        let total = bench.weight(set);
        let off = |test: &usize| {
            let top = bench.parts(set, *test).values().map(|part| bench.weight(part)).fold(0.0, f64::max);
            (top / total - 0.5).abs()
        };
        parting(set, done).into_iter().min_by(|left, right| off(left).total_cmp(&off(right)))
    });
    let fixed_order = simple(&|set, done| parting(set, done).into_iter().next());
    let ours = bench.ours(circuit, &engine)?;
    let mut known = HashMap::new();
    let optimum = bench.best(&all, &mut known);
    Ok(Minutes { ours, optimum, cheapest_first, half_split, fixed_order, causes: bench.causes.len() })
}

/// Nobody mishears and no lead slips: the engine is told what this bench assumes. It still reckons with the tolerances.
fn truthful(circuit: &Circuit) -> Circuit {
    let mut circuit = circuit.clone();
    for question in circuit.tests.iter_mut().filter_map(|test| test.question.as_mut()) {
        (question.miss, question.false_alarm) = (0.001, 0.001);
    }
    circuit
}

impl Bench {
    fn of(circuit: &Circuit, meter: &Meter) -> Result<Self, Failure> {
        let healthy = Vehicle::healthy(circuit);
        let mut causes = Vec::new();
        for part in &circuit.components {
            for spec in &part.faults {
                let severities: Vec<f64> = match (spec.min, spec.max) {
                    (Some(min), Some(max)) => [0.15, 0.5, 0.85]
                        .iter()
                        .map(|share| match spec.mode {
                            FaultMode::LowVoltage => min + (max - min) * share,
                            _ => min * (max / min).powf(*share),
                        })
                        .collect(),
                    _ => vec![0.0],
                };
                let count = severities.len() as f64;
                for severity in severities {
                    let (component, at) = (part.id.clone(), spec.at.clone());
                    let fault = Fault { component, mode: spec.mode, severity, at };
                    let vehicle = Vehicle { faults: vec![fault], ..healthy.clone() };
                    if vehicle.complains()? {
                        let shown = signature(circuit, &vehicle, meter)?;
                        let module = circuit.modules.iter().find(|m| m.components.contains(&part.id));
                        let part = module.map_or(&part.id, |module| &module.id).clone();
                        causes.push(Cause { part, weight: spec.odds / count, shown });
                    }
                }
            }
        }
        let outcomes = (0..circuit.tests.len()).map(|test| outcomes(&causes, test, meter, circuit)).collect();
        let minutes = circuit.tests.iter().map(|test| test.minutes).collect();
        Ok(Self { causes, minutes, outcomes })
    }

    fn everything(&self) -> Set {
        let mut set = vec![0; self.causes.len().div_ceil(64)];
        (0..self.causes.len()).for_each(|i| set[i / 64] |= 1 << (i % 64));
        set
    }

    fn members<'s>(&self, set: &'s Set) -> impl Iterator<Item = usize> + 's {
        let count = self.causes.len();
        (0..count).filter(|i| set[i / 64] & (1 << (i % 64)) != 0)
    }

    fn weight(&self, set: &Set) -> f64 {
        self.members(set).map(|i| self.causes[i].weight).sum()
    }

    fn parts(&self, set: &Set, test: usize) -> BTreeMap<usize, Set> {
        let mut parts: BTreeMap<usize, Set> = BTreeMap::new();
        for i in self.members(set) {
            let part = parts.entry(self.outcomes[test][i]).or_insert_with(|| vec![0; set.len()]);
            part[i / 64] |= 1 << (i % 64);
        }
        parts
    }

    fn decided(&self, set: &Set) -> bool {
        let mut by_part: BTreeMap<&str, f64> = BTreeMap::new();
        for i in self.members(set) {
            *by_part.entry(&self.causes[i].part).or_default() += self.causes[i].weight;
        }
        let total: f64 = by_part.values().sum();
        by_part.values().any(|weight| *weight >= DECIDED * total)
    }

    fn mean(&self, minutes: impl Fn(usize) -> f64) -> f64 {
        let total: f64 = self.causes.iter().map(|cause| cause.weight).sum();
        let sum: f64 = self.causes.iter().enumerate().map(|(i, cause)| cause.weight * minutes(i)).sum();
        sum / total
    }

    /// Follows a rule with a given cause hidden.
    fn walk(&self, cause: usize, all: &Set, rule: &mut dyn FnMut(&Set, &[usize]) -> Option<usize>) -> f64 {
        let (mut set, mut done, mut spent) = (all.clone(), Vec::new(), 0.0);
        while !self.decided(&set) {
            let Some(test) = rule(&set, &done) else { break };
            spent += self.minutes[test];
            done.push(test);
            set = self.parts(&set, test).remove(&self.outcomes[test][cause]).unwrap_or(set);
        }
        spent
    }

    /// The engine's own offers, given the readings as shown.
    fn ours(&self, circuit: &Circuit, engine: &Engine<'_>) -> Result<f64, Failure> {
        let all = self.everything();
        let mut failure = None;
        let mut known: HashMap<Vec<(usize, String)>, Option<usize>> = HashMap::new();
        let mean = {
            let mut minutes = vec![0.0; self.causes.len()];
            for (i, entry) in minutes.iter_mut().enumerate() {
                let mut seen: Vec<Observation> = Vec::new();
                *entry = self.walk(i, &all, &mut |set, done| {
                    if let Some(last) = done.last() {
                        seen.push(observation(circuit, *last, self.causes[i].shown[*last]));
                    }
                    // Causes that showed the same to the last digit are offered the same next.
                    let shown = |test: &usize| (*test, format!("{:?}", self.causes[i].shown[*test]));
                    let key = done.iter().map(shown).collect();
                    *known.entry(key).or_insert_with(|| match engine.diagnose(&seen) {
                        Ok(found) if self.is_known(circuit, &found) => None,
                        Ok(found) => found
                            .next
                            .iter()
                            .filter_map(|next| circuit.tests.iter().position(|test| test.id == next.test))
                            // What can't part those left would only be done to be surer of what was seen.
                            .find(|test| !done.contains(test) && self.parts(set, *test).len() > 1)
                            .or_else(|| {
                                let left = |t: &usize| !done.contains(t) && self.parts(set, *t).len() > 1;
                                (0..self.minutes.len()).find(left)
                            }),
                        Err(error) => {
                            failure = Some(error);
                            None
                        }
                    })
                });
            }
            self.mean(|cause| minutes[cause])
        };
        failure.map_or(Ok(mean), |error| Err(error.into()))
    }

    /// One part, or one module, holds 97 % by the engine's own reckoning.
    fn is_known(&self, circuit: &Circuit, found: &circuit::Diagnosis) -> bool {
        let modules = found.modules.iter().map(|module| module.probability);
        let parts = circuit.components.iter().map(|part| {
            found
                .causes
                .iter()
                .filter(|cause| cause.component == part.id)
                .map(|cause| cause.probability)
                .sum::<f64>()
        });
        modules.chain(parts).any(|probability| probability >= DECIDED)
    }

    /// Mean minutes from a set at best; nothing when there are too many sets.
    fn best(&self, all: &Set, known: &mut HashMap<Set, f64>) -> Option<f64> {
        if let Some(minutes) = known.get(all) {
            return Some(*minutes);
        }
        if self.decided(all) {
            return Some(0.0);
        }
        if known.len() > SETS {
            return None;
        }
        let total = self.weight(all);
        let mut tests: Vec<(usize, BTreeMap<usize, Set>)> = (0..self.minutes.len())
            .map(|test| (test, self.parts(all, test)))
            .filter(|(_, parts)| parts.len() > 1)
            .collect();
        tests.sort_by(|left, right| self.minutes[left.0].total_cmp(&self.minutes[right.0]));
        let cheapest = tests.first().map_or(0.0, |(test, _)| self.minutes[*test]);
        let mut best = if tests.is_empty() { 0.0 } else { f64::INFINITY };
        for (test, parts) in tests {
            let mut minutes = self.minutes[test];
            // Every part that isn't decided costs at least the cheapest test.
            let share = |part: &Set| self.weight(part) / total;
            let mut open: f64 =
                parts.values().filter(|part| self.open(part)).map(|part| share(part) * cheapest).sum();
            for part in parts.values() {
                if minutes + open >= best {
                    minutes = f64::INFINITY;
                    break;
                }
                if self.open(part) {
                    open -= share(part) * cheapest;
                }
                minutes += share(part) * self.best(part, known)?;
            }
            best = best.min(minutes);
        }
        known.insert(all.clone(), best);
        Some(best)
    }

    /// Not decided, and some test parts it.
    fn open(&self, set: &Set) -> bool {
        !self.decided(set) && (0..self.minutes.len()).any(|test| self.parts(set, test).len() > 1)
    }
}

/// Numbers the outcomes of a test: readings nearer to their neighbour than a meter can tell go together.
fn outcomes(causes: &[Cause], test: usize, meter: &Meter, circuit: &Circuit) -> Vec<usize> {
    let count = circuit.tests.get(test).and_then(|t| meter.accuracy(t.mode)).map_or(1.0, |a| a.count_size);
    let mut numbers: Vec<f64> = causes
        .iter()
        .filter_map(|cause| match cause.shown[test] {
            ObservedValue::Number(number) => Some(number),
            _ => None,
        })
        .collect();
    numbers.sort_by(f64::total_cmp);
    let mut starts = Vec::new();
    for (i, number) in numbers.iter().enumerate() {
        let before = if i == 0 { f64::NEG_INFINITY } else { numbers[i - 1] };
        if number - before > COUNTS * count + SHARE * number.abs() {
            starts.push(*number);
        }
    }
    causes
        .iter()
        .map(|cause| match cause.shown[test] {
            ObservedValue::Number(number) => 3 + starts.partition_point(|start| *start <= number),
            ObservedValue::OverLimit => 2,
            ObservedValue::Yes => 1,
            ObservedValue::No => 0,
        })
        .collect()
}

fn observation(circuit: &Circuit, test: usize, value: ObservedValue) -> Observation {
    let test = &circuit.tests[test];
    Observation {
        id: test.id.clone(),
        test: Some(test.id.clone()),
        mode: test.mode,
        red: test.red.clone(),
        black: test.black.clone(),
        value,
        state: test.state.clone(),
        load: test.load.clone(),
        complaint: Present::Yes,
        placement: 1,
        ..Observation::default()
    }
}
