//! Which module faults any meter could tell from what lies outside the module: by solving alone, without the engine.

use std::sync::OnceLock;

use circuit::{Circuit, Fault, FaultMode, Meter, ObservedValue};

use crate::Failure;
use crate::truth::{Truth, at_fault};
use crate::vehicle::{Instrument, Vehicle};

/// Severities per cause that are compared.
const SEVERITIES: u32 = 24;
/// Rounds of severities around the one that comes nearest.
const CLOSER: usize = 3;

/// Two readings within this share, and so many counts of the meter, can't be told apart.
#[derive(Debug, Clone, Copy)]
pub struct Alike {
    share: f64,
    counts: f64,
    /// Answers and looks count too; they are often wrong.
    answers: bool,
}

/// On one and the same vehicle, where only the meter's own errors count.
pub const ON_THE_SAME_VEHICLE: Alike = Alike { share: 0.01, counts: 5.0, answers: true };
/// On a vehicle whose parts nobody measured while they were whole: coils, lamps and motors differ by some ten percent, wires
/// and terminals by some tenths of a volt.
pub const ON_A_STRANGE_VEHICLE: Alike = Alike { share: 0.3, counts: 100.0, answers: false };

/// What every cause outside the modules shows in every test.
pub struct Outside {
    shown: Vec<Vec<ObservedValue>>,
    meter: Meter,
}

impl Outside {
    pub fn of(circuit: &Circuit, meter: &Meter) -> Result<Self, Failure> {
        let healthy = Vehicle::healthy(circuit);
        let mut shown = Vec::new();
        for part in &circuit.components {
            for spec in part.faults.iter().filter(|spec| !at_fault(circuit, &part.id, spec.mode)) {
                let severities: Vec<f64> = match (spec.min, spec.max) {
                    (Some(min), Some(max)) => severities(spec.mode, min, max).collect(),
                    _ => vec![0.0],
                };
                for severity in severities {
                    let (component, at) = (part.id.clone(), spec.at.clone());
                    let fault = Fault { component, mode: spec.mode, severity, at };
                    let vehicle = Vehicle { faults: vec![fault], ..healthy.clone() };
                    shown.push(signature(circuit, &vehicle, meter)?);
                }
            }
        }
        Ok(Self { shown, meter: meter.clone() })
    }

    /// Solved for the first job that asks: thousands of vehicles, each measured whole.
    pub fn once<'o>(known: &'o OnceLock<Self>, circuit: &Circuit) -> Result<&'o Self, Failure> {
        if let Some(known) = known.get() {
            return Ok(known);
        }
        let found = Self::of(circuit, &Meter::default())?;
        Ok(known.get_or_init(|| found))
    }

    /// True when no cause outside the modules shows the same in every test.
    pub fn tells_apart(&self, circuit: &Circuit, faults: &[Fault]) -> Result<bool, Failure> {
        let vehicle = Vehicle { faults: faults.to_vec(), ..Vehicle::healthy(circuit) };
        let own = signature(circuit, &vehicle, &self.meter)?;
        let alike = ON_THE_SAME_VEHICLE;
        Ok(!self.shown.iter().any(|other| apart(&own, other, alike, &self.meter) <= 1.0))
    }
}

/// Does one of these causes, put into the same vehicle at some severity, show the same in every test? Then no one could
/// have told them apart, whatever the fault is called.
pub fn shows_the_same(
    truth: &Truth,
    causes: &[String],
    alike: Alike,
    meter: &Meter,
) -> Result<bool, Failure> {
    let own = signature(&truth.healthy.circuit, &truth.faulty, meter)?;
    let off = |fault: Fault| {
        let vehicle = Vehicle { faults: vec![fault], ..truth.healthy.clone() };
        Ok::<f64, Failure>(apart(&own, &signature(&truth.healthy.circuit, &vehicle, meter)?, alike, meter))
    };
    for part in &truth.healthy.circuit.components {
        for spec in &part.faults {
            if !causes.contains(&cause_id(&part.id, spec.mode)) {
                continue;
            }
            let fault = |severity: f64| Fault {
                component: part.id.clone(),
                mode: spec.mode,
                severity,
                at: spec.at.clone(),
            };
            let (Some(mut min), Some(mut max)) = (spec.min, spec.max) else {
                if off(fault(0.0))? <= 1.0 {
                    return Ok(true);
                }
                continue;
            };
            // Ever closer around the severity that shows the least difference.
            for _ in 0..CLOSER {
                let mut best = (f64::INFINITY, min);
                for severity in severities(spec.mode, min, max) {
                    let difference = off(fault(severity))?;
                    if difference < best.0 {
                        best = (difference, severity);
                    }
                }
                if best.0 <= 1.0 {
                    return Ok(true);
                }
                let step = (max / min).powf(1.0 / f64::from(SEVERITIES));
                (min, max) = ((best.1 / step).max(min), (best.1 * step).min(max));
            }
        }
    }
    Ok(false)
}

pub fn cause_id(component: &str, mode: FaultMode) -> String {
    let mode = serde_json::to_value(mode).unwrap_or_default();
    format!("{component}/{}", mode.as_str().unwrap_or_default())
}

fn severities(mode: FaultMode, min: f64, max: f64) -> impl Iterator<Item = f64> {
    (0..=SEVERITIES).map(move |i| {
        let share = f64::from(i) / f64::from(SEVERITIES);
        if mode == FaultMode::LowVoltage { min + (max - min) * share } else { min * (max / min).powf(share) }
    })
}

/// The largest difference of two signatures, in what can't be told apart.
fn apart(left: &[ObservedValue], right: &[ObservedValue], alike: Alike, meter: &Meter) -> f64 {
    let counts = meter.volts_accuracy.count_size * alike.counts;
    let difference = |(left, right): (&ObservedValue, &ObservedValue)| match (left, right) {
        (ObservedValue::Number(left), ObservedValue::Number(right)) => {
            (left - right).abs() / (alike.share * left.abs().max(right.abs()) + counts)
        }
        (ObservedValue::Yes, _) | (ObservedValue::No, _) if !alike.answers => 0.0,
        (left, right) => {
            if left == right {
                0.0
            } else {
                f64::INFINITY
            }
        }
    };
    left.iter().zip(right).map(difference).fold(0.0, f64::max)
}

pub fn signature(circuit: &Circuit, vehicle: &Vehicle, meter: &Meter) -> Result<Vec<ObservedValue>, Failure> {
    let instrument = Instrument::perfect(meter);
    let at_first = vehicle.while_complaining()?;
    circuit
        .tests
        .iter()
        .map(|test| match (&test.question, &test.red, &test.black) {
            (None, Some(red), Some(black)) => {
                vehicle.reading_after(&at_first, test, (red, black), &instrument, None)
            }
            _ => {
                let yes = vehicle.answer_after(&at_first, test)?;
                Ok(if yes { ObservedValue::Yes } else { ObservedValue::No })
            }
        })
        .collect()
}
