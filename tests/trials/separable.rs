//! Which module faults any meter could tell from what lies outside the module: by solving alone, without the engine.

use circuit::{Circuit, Fault, FaultMode, Meter, ObservedValue};

use crate::Failure;
use crate::vehicle::{Instrument, Vehicle};

/// Severities per cause that are compared.
const SEVERITIES: u32 = 24;
/// Two readings within this share, and so many counts, can't be told apart.
const ALIKE_SHARE: f64 = 0.01;
const ALIKE_COUNTS: f64 = 5.0;

/// What every cause outside the modules shows in every test.
pub struct Outside {
    shown: Vec<Vec<ObservedValue>>,
    meter: Meter,
}

impl Outside {
    pub fn of(circuit: &Circuit, meter: &Meter) -> Result<Self, Failure> {
        let inside = |part: &String| circuit.modules.iter().any(|module| module.components.contains(part));
        let mut shown = Vec::new();
        for part in circuit.components.iter().filter(|part| !inside(&part.id)) {
            for spec in &part.faults {
                let severities: Vec<f64> = match (spec.min, spec.max) {
                    (Some(min), Some(max)) => (0..=SEVERITIES)
                        .map(|i| {
                            let share = f64::from(i) / f64::from(SEVERITIES);
                            if spec.mode == FaultMode::LowVoltage {
                                min + (max - min) * share
                            } else {
                                min * (max / min).powf(share)
                            }
                        })
                        .collect(),
                    _ => vec![0.0],
                };
                for severity in severities {
                    let (component, at) = (part.id.clone(), spec.at.clone());
                    let fault = Fault { component, mode: spec.mode, severity, at };
                    let vehicle = Vehicle { faults: vec![fault], ..Vehicle::healthy(circuit) };
                    shown.push(signature(circuit, &vehicle, meter)?);
                }
            }
        }
        Ok(Self { shown, meter: meter.clone() })
    }

    /// True when no cause outside the modules shows the same in every test.
    pub fn tells_apart(&self, circuit: &Circuit, faults: &[Fault]) -> Result<bool, Failure> {
        let vehicle = Vehicle { faults: faults.to_vec(), ..Vehicle::healthy(circuit) };
        let own = signature(circuit, &vehicle, &self.meter)?;
        let counts = self.meter.volts_accuracy.count_size * ALIKE_COUNTS;
        let alike = |(left, right): (&ObservedValue, &ObservedValue)| match (left, right) {
            (ObservedValue::Number(left), ObservedValue::Number(right)) => {
                (left - right).abs() <= ALIKE_SHARE * left.abs().max(right.abs()) + counts
            }
            (left, right) => left == right,
        };
        Ok(!self.shown.iter().any(|other| own.iter().zip(other).all(alike)))
    }
}

pub fn signature(circuit: &Circuit, vehicle: &Vehicle, meter: &Meter) -> Result<Vec<ObservedValue>, Failure> {
    let instrument = Instrument::perfect(meter);
    circuit
        .tests
        .iter()
        .map(|test| match (&test.question, &test.red, &test.black) {
            (None, Some(red), Some(black)) => vehicle.reading(test, (red, black), &instrument, None),
            _ => Ok(if vehicle.answer(test)? { ObservedValue::Yes } else { ObservedValue::No }),
        })
        .collect()
}
