//! What a technician stands before: a vehicle with something hidden, that answers tests.

use circuit::{Circuit, Meter, Observation, ObservedValue, Present, Test};

use crate::Failure;
use crate::random::Random;
use crate::truth::Truth;
use crate::vehicle::{Instrument, Vehicle};

const MIS_PROBE: f64 = 0.02;
/// Answers are wrong this much more often than the circuit file says.
const WORSE_EYES: f64 = 1.5;
/// A fault that comes and goes is there at this share of the moments.
const THERE: f64 = 0.6;
/// How often nobody looks whether the complaint is there at that moment.
const NOT_LOOKED: f64 = 0.1;

/// A vehicle that answers tests.
pub trait World {
    /// The circuit by which tests are chosen.
    fn circuit(&self) -> &Circuit;

    /// What a test shows now, and whether the complaint is there.
    fn take(&mut self, test: &Test, before: &[Observation]) -> Result<(ObservedValue, Present), Failure>;
}

/// A truth of the first generator, before a technician with a meter of his own.
pub struct Bay<'t> {
    truth: &'t Truth,
    instrument: Instrument,
    random: Random,
}

impl<'t> Bay<'t> {
    pub fn new(truth: &'t Truth, meter: &Meter, mut random: Random) -> Self {
        let instrument = Instrument::new(meter, &mut random);
        Self { truth, instrument, random }
    }

    /// A mis-probe puts one lead on some other point within reach.
    fn reading(&mut self, test: &Test, vehicle: &Vehicle) -> Result<ObservedValue, Failure> {
        let (red, black) = test.red.as_deref().zip(test.black.as_deref()).ok_or("a reading without leads")?;
        let reachable: Vec<&str> = vehicle
            .circuit
            .points
            .iter()
            .filter(|point| point.reachable)
            .map(|point| point.id.as_str())
            .collect();
        let astray = self.random.chance(MIS_PROBE);
        let red = if astray { self.random.pick(&reachable).copied().unwrap_or(red) } else { red };
        let value = vehicle.reading(test, (red, black), &self.instrument, Some(&mut self.random))?;
        // A current or volts reading that is over the limit is taken again on a higher range; here: as the limit.
        Ok(match (value, test.mode) {
            (ObservedValue::OverLimit, circuit::MeasureMode::Amps | circuit::MeasureMode::AmpsClamp) => {
                ObservedValue::Number(0.0)
            }
            (value, _) => value,
        })
    }
}

impl World for Bay<'_> {
    fn circuit(&self) -> &Circuit {
        &self.truth.faulty.circuit
    }

    fn take(&mut self, test: &Test, before: &[Observation]) -> Result<(ObservedValue, Present), Failure> {
        let truth = self.truth;
        let there = before.is_empty() || !truth.comes_and_goes || self.random.chance(THERE);
        let vehicle = if there { &truth.faulty } else { &truth.healthy };
        let complaint = match (there, truth.comes_and_goes && self.random.chance(NOT_LOOKED)) {
            (_, true) if !before.is_empty() => Present::Unknown,
            (true, _) => Present::Yes,
            (false, _) => Present::No,
        };
        let value = match &test.question {
            Some(question) => {
                // Damage stays to be seen while the fault itself is gone.
                let looked = if test.mode == circuit::MeasureMode::Look { &truth.faulty } else { vehicle };
                let yes = looked.answer(test)?;
                let wrong = if yes { question.miss } else { question.false_alarm };
                let said = yes != (!before.is_empty() && self.random.chance(wrong * WORSE_EYES));
                if said { ObservedValue::Yes } else { ObservedValue::No }
            }
            None => self.reading(test, vehicle)?,
        };
        Ok((value, complaint))
    }
}
