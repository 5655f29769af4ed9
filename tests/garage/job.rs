//! One job: a vehicle with a complaint, and a technician with his meter.

use std::collections::{BTreeMap, BTreeSet};

use circuit::{Behavior, Circuit, MeasureMode, ObservedValue, Present, Test};

use super::Failure;
use super::answer;
use super::dice::Dice;
use super::display::Gauge;
use super::hidden::{Rhythm, Truth, Yard};
use super::measure;
use super::settle::Bench;
use super::slip;
use super::sort::{Mix, Sort};
use super::specimen::Vehicle;
use super::truth;

/// A vehicle in the shop, with what is truly wrong with it.
#[derive(Debug, Clone)]
pub struct Job {
    /// Place of the circuit in the library; 0 for a circuit that isn't in it.
    pub circuit: usize,
    pub sort: Sort,
    /// `component/mode`, where the circuit file lists what is wrong; empty = outside the file. Two faults give two. For a
    /// module that refuses it is the driver's `not_commanded` where the file has that mode.
    pub causes: Vec<String>,
    /// The module's hardware or its own board is truly bad. A module that refuses is good: software or a condition
    /// withholds its output, and a new one would refuse as well.
    pub in_module: bool,
    pub comes_and_goes: bool,
    /// What is wrong, in words.
    pub note: String,
    pub(super) drawing: Circuit,
    pub(super) healthy: Vehicle,
    pub(super) truth: Truth,
    gauge: Gauge,
    dice: Dice,
    pub(super) blown: BTreeSet<usize>,
    benches: BTreeMap<bool, Bench>,
    /// Complaint by whether what comes and goes is there, and by blown fuses.
    complaints: BTreeMap<(bool, BTreeSet<usize>), bool>,
    /// What comes and goes is there now.
    active: bool,
    taken: u32,
    cured: bool,
    /// What he answered to a question the last time, and what was true then.
    said: BTreeMap<String, (bool, bool)>,
    /// Old damage that has nothing to do with it, by look.
    harmless: BTreeMap<String, bool>,
}

/// Draws of one sort before a job is given up.
const TRIES: usize = 14;

impl Job {
    /// One job drawn as a shop meets them, or with a module truly bad; nothing if this draw shows no complaint.
    ///
    /// # Errors
    /// ngspice isn't there or finds no operating point.
    pub fn draw(circuit: &Circuit, mix: Mix, seed: u64) -> Result<Option<Self>, Failure> {
        let mut dice = Dice::named(&circuit.id, seed.wrapping_mul(0x9e37_79b9_7f4a_7c15));
        let sort = Sort::draw(mix, &mut dice);
        let healthy = Vehicle::healthy(circuit, &mut dice);
        let gauge = Gauge::drawn(&mut dice);
        if truth::complains(circuit, &mut Bench::new(healthy.clone(), BTreeSet::new()))? {
            return Ok(None);
        }
        for _ in 0..TRIES {
            let yard = Yard { circuit, vehicle: &healthy };
            let Some(found) = sort.break_it(&yard, &mut dice) else { continue };
            let edits = found.hidden.iter().flat_map(|one| &one.edits);
            let mut bench = Bench::new(healthy.with(edits), BTreeSet::new());
            if !truth::complains(circuit, &mut bench)? {
                continue;
            }
            let blown = bench.blown.clone();
            let library = circuit::library::files();
            let place =
                library.iter().position(|(name, _)| name.split('.').next() == Some(circuit.id.as_str()));
            return Ok(Some(Self {
                circuit: place.unwrap_or(0),
                sort,
                causes: found.causes.clone(),
                in_module: found.in_module,
                comes_and_goes: found.hidden.iter().any(|one| one.comes_and_goes),
                note: found.note.clone(),
                drawing: circuit.clone(),
                healthy,
                truth: found,
                gauge,
                dice,
                blown,
                benches: BTreeMap::from([(true, bench)]),
                complaints: BTreeMap::new(),
                active: true,
                taken: 0,
                cured: false,
                said: BTreeMap::new(),
                harmless: BTreeMap::new(),
            }));
        }
        Ok(None)
    }

    /// The meter's profile as the technician entered it.
    pub const fn meter(&self) -> &circuit::Meter {
        &self.gauge.manual
    }

    /// Fuses that have blown so far; new ones that blew in the state that put them in aside.
    pub fn blown_fuses(&self) -> Vec<&str> {
        self.blown
            .iter()
            .filter_map(|index| self.healthy.parts.get(*index))
            .map(|part| part.id.as_str())
            .collect()
    }

    /// A new fuse in a blown one's place.
    pub fn replace_fuse(&mut self, component: &str) {
        if let Some(index) = self.healthy.parts.iter().position(|part| part.id == component) {
            self.blown.remove(&index);
        }
    }

    /// The technician does a test now: what he writes down, and whether the complaint is there at that moment.
    ///
    /// # Errors
    /// ngspice finds no operating point.
    pub fn take(&mut self, test: &Test) -> Result<(ObservedValue, Present), Failure> {
        self.time_passes(test);
        let complaint = self.complaint_now()?;
        let value = match test.mode {
            MeasureMode::Look if !truth::renews(&self.healthy, test) => yes_or_no(self.look(test)),
            MeasureMode::Look | MeasureMode::YesNo => {
                let truth = self.on_bench(|_, bench| truth::happens(bench, test))?;
                yes_or_no(self.written(test, truth))
            }
            _ => self.read(test)?,
        };
        self.taken += 1;
        Ok((value, self.noticed(complaint)))
    }

    /// What is there now: the vehicle of this moment, with the fuses blown so far.
    fn on_bench<T>(
        &mut self,
        work: impl FnOnce(&Circuit, &mut Bench) -> Result<T, Failure>,
    ) -> Result<T, Failure> {
        let active = self.active;
        let (healthy, hidden) = (&self.healthy, &self.truth.hidden);
        let bench = self.benches.entry(active).or_insert_with(|| {
            let there = hidden.iter().filter(|one| active || !one.comes_and_goes);
            Bench::new(healthy.with(there.flat_map(|one| &one.edits)), BTreeSet::new())
        });
        bench.blown.clone_from(&self.blown);
        let done = work(&self.drawing, bench)?;
        self.blown.clone_from(&bench.blown);
        Ok(done)
    }

    fn complaint_now(&mut self) -> Result<bool, Failure> {
        let key = (self.active, self.blown.clone());
        if let Some(known) = self.complaints.get(&key) {
            return Ok(*known);
        }
        let complaint = self.on_bench(truth::complains)?;
        self.complaints.insert(key, complaint);
        Ok(complaint)
    }

    /// Movement, heat, unplugging.
    fn time_passes(&mut self, test: &Test) {
        match &self.truth.rhythm {
            Rhythm::Always => {}
            // A technician moves the loom until it shows; then it mostly stays.
            Rhythm::Wiggles => {
                let stays = if self.active { 0.85 } else { 0.55 };
                if !self.dice.chance(stays) {
                    self.active = !self.active;
                }
            }
            Rhythm::Heats => {
                let warm = self.taken >= 2;
                self.active = self.dice.chance(if warm { 0.88 } else { 0.35 });
            }
            Rhythm::UntilReseated(variable) => {
                let default = self.healthy.defaults.get(variable);
                let moved = test.state.get(variable).is_some_and(|value| Some(value) != default);
                self.cured |= moved && self.dice.chance(0.75);
                self.active = !self.cured;
            }
        }
    }

    /// What is noted beside the reading about the complaint.
    fn noticed(&mut self, complaint: bool) -> Present {
        let (nobody_looked, wrong) = if self.comes_and_goes { (0.25, 0.03) } else { (0.1, 0.003) };
        if self.dice.chance(nobody_looked) {
            return Present::Unknown;
        }
        if complaint != self.dice.chance(wrong) { Present::Yes } else { Present::No }
    }

    /// Who misheard a click mishears it again: half of the repeats are no new look.
    fn written(&mut self, test: &Test, truth: bool) -> bool {
        let before = self.said.get(&test.id).copied();
        if let Some((was, answer)) = before
            && was == truth
            && self.dice.chance(0.5)
        {
            return answer;
        }
        let question = test.question.as_ref();
        let answer = question.is_some_and(|question| answer::written(question, truth, &mut self.dice));
        self.said.insert(test.id.clone(), (truth, answer));
        answer
    }

    /// Looking twice doesn't help: what can't be seen can't be seen, and what looks bad still does.
    fn look(&mut self, test: &Test) -> bool {
        let Some(question) = &test.question else { return false };
        let Behavior::DamageSeen { components } = &question.behavior else { return false };
        let blown = self.blown_fuses().iter().any(|fuse| components.iter().any(|one| one == fuse));
        // What unplugging has wiped off can't be seen any more.
        let there = self.truth.hidden.iter().filter(|_| !self.cured);
        let hurt = there.flat_map(|one| &one.seen_on).any(|part| components.contains(part));
        let chance = question.false_alarm * 1.3;
        let dice = &mut self.dice;
        let harmless = *self.harmless.entry(test.id.clone()).or_insert_with(|| dice.chance(chance));
        let found = blown || hurt;
        // He overlooks it at times, though it could be seen.
        (found && !self.dice.chance((question.miss * 0.7).min(0.3))) || harmless
    }

    fn read(&mut self, test: &Test) -> Result<ObservedValue, Failure> {
        let slipped = slip::misprobed(&self.drawing, test, &mut self.dice);
        let instrument = self.gauge.instrument.clone();
        let Some(probed) = slipped else {
            // A lead that touches nothing.
            return Ok(slip::nothing(test, &mut self.dice));
        };
        let truth = self.on_bench(|circuit, bench| measure::perfect(circuit, bench, &probed, &instrument))?;
        let truth = truth.unwrap_or(ObservedValue::OverLimit);
        Ok(self.gauge.shows(test.mode, truth, &mut self.dice))
    }

    /// What a perfect meter would show now, or the true answer: for whoever prints the job.
    ///
    /// # Errors
    /// ngspice finds no operating point.
    pub fn truly(&mut self, test: &Test) -> Result<ObservedValue, Failure> {
        self.on_bench(|circuit, bench| {
            let shown = measure::perfect(circuit, bench, test, &measure::Instrument::plain())?;
            match shown {
                Some(value) => Ok(value),
                None => truth::happens(bench, test).map(yes_or_no),
            }
        })
    }
}

const fn yes_or_no(yes: bool) -> ObservedValue {
    if yes { ObservedValue::Yes } else { ObservedValue::No }
}
