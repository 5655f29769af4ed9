//! A search in a simulated vehicle that follows the engine: what a technician would do who asks for nothing himself.

use circuit::{Circuit, Diagnosis, Engine, Fault, Meter, Observation, ObservedValue, Options, Present};

use crate::random::Random;
use crate::technician::{Ended, ended};
use crate::vehicle::{Instrument, Vehicle};

/// Tests of one search at the most.
const MOST: usize = 60;

pub struct Search<'s> {
    engine: &'s Engine<'s>,
    vehicle: Vehicle,
    instrument: Instrument,
    random: Random,
    pub observations: Vec<Observation>,
}

pub fn engine(circuit: &Circuit) -> Engine<'_> {
    let options = Options { next_tests: 3, ..Options::default() };
    Engine::new(circuit, &Meter::default(), &options).unwrap()
}

impl<'s> Search<'s> {
    pub fn new(engine: &'s Engine<'s>, circuit: &Circuit, fault: &Fault, seed: u64) -> Self {
        let vehicle = Vehicle { faults: vec![fault.clone()], ..Vehicle::healthy(circuit) };
        let mut random = Random::new(seed);
        let instrument = Instrument::new(&Meter::default(), &mut random);
        Self { engine, vehicle, instrument, random, observations: Vec::new() }
    }

    /// Does this fault bring the complaint?
    pub fn complains(&self) -> bool {
        self.vehicle.complains().unwrap()
    }

    pub fn take(&mut self, id: &str) {
        let test = self.vehicle.circuit.tests.iter().find(|test| test.id == id).unwrap().clone();
        let value = match (&test.red, &test.black) {
            (Some(red), Some(black)) => {
                let leads = (red.as_str(), black.as_str());
                self.vehicle.reading(&test, leads, &self.instrument, Some(&mut self.random)).unwrap()
            }
            _ if self.vehicle.answer(&test).unwrap() => ObservedValue::Yes,
            _ => ObservedValue::No,
        };
        let number = u32::try_from(self.observations.len()).unwrap() + 1;
        let seen = Observation::at(&test, format!("{number} {id}"), value, number);
        self.observations.push(Observation { complaint: Present::Yes, ..seen });
    }

    /// The complaint, then what the engine asks for, until something is called or nothing is left.
    pub fn finish(&mut self) -> (Ended, Diagnosis) {
        let complaint = self.vehicle.circuit.complaint.test.clone();
        self.take(&complaint);
        loop {
            let found = self.engine.diagnose(&self.observations).unwrap();
            let end = ended(&found, 0.97);
            let fresh = |test: &&String| {
                self.observations.iter().filter(|seen| seen.test.as_ref() == Some(*test)).count() < 3
            };
            let suspected = found.modules.iter().filter(|module| module.probability > 0.5);
            let wanted = suspected.flat_map(|module| &module.missing);
            let wanted = wanted.filter_map(|missing| missing.test.as_ref()).find(fresh);
            let next = wanted.or_else(|| found.next.iter().map(|next| &next.test).find(fresh)).cloned();
            match next.filter(|_| end == Ended::NotProven && self.observations.len() < MOST) {
                Some(test) => self.take(&test),
                None => return (ended(&found, 0.9), found),
            }
        }
    }

    pub fn taken(&self) -> Vec<String> {
        self.observations.iter().filter_map(|seen| seen.test.clone()).collect()
    }
}

/// The leading part, all its ways to fail taken together.
pub fn leading_part(found: &Diagnosis) -> (String, f64) {
    let mut parts = std::collections::BTreeMap::<&str, f64>::new();
    for cause in &found.causes {
        *parts.entry(&cause.component).or_default() += cause.probability;
    }
    let most = parts.into_iter().max_by(|one, other| one.1.total_cmp(&other.1));
    most.map(|(part, share)| (part.to_owned(), share)).unwrap_or_default()
}
