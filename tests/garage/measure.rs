//! What a perfect eye would read from this meter on this vehicle: the meter loads the circuit, but makes no error.

use circuit::{Circuit, ComponentKind, MeasureMode, ObservedValue, Test};

use super::Failure;
use super::emit;
use super::settle::{Bench, Meter};
use super::specimen::holds;

/// What the meter in the technician's hand does to a circuit.
#[derive(Debug, Clone, PartialEq)]
pub struct Instrument {
    pub volts_input_ohms: f64,
    pub low_impedance_ohms: f64,
    pub amps_ohms: f64,
    pub lead_ohms: f64,
}

impl Instrument {
    /// The meter of the manual, with its leads' resistance taken off.
    pub const fn plain() -> Self {
        Self { volts_input_ohms: 10e6, low_impedance_ohms: 3e3, amps_ohms: 0.05, lead_ohms: 0.0 }
    }
}

/// Highest resistance shown.
const OHMS_LIMIT: f64 = 40e6;
/// Highest volts in millivolts.
const MILLIVOLTS_LIMIT: f64 = 0.6;
/// A duty meter triggers on swings above this, volts.
const SWING: f64 = 1.0;
/// Test current of each ohms range, ampere, with the range's end, ohm (typical).
const RANGES: [(f64, f64); 6] =
    [(600.0, 5e-4), (6e3, 7e-5), (60e3, 8e-6), (600e3, 8e-7), (6e6, 8e-8), (f64::INFINITY, 1e-8)];

/// What the display would show without error; nothing for looks and questions.
///
/// # Errors
/// ngspice finds no operating point.
pub fn perfect(
    circuit: &Circuit,
    bench: &mut Bench,
    test: &Test,
    instrument: &Instrument,
) -> Result<Option<ObservedValue>, Failure> {
    let (Some(red), Some(black)) = (&test.red, &test.black) else { return Ok(None) };
    let load = test.load.as_deref();
    let mut volts = |ohms: f64| -> Result<f64, Failure> {
        let meter = Meter::Across { red: red.clone(), black: black.clone(), ohms };
        Ok(bench.settle(&test.state, load, &meter)?.solution.between(red, black))
    };
    Ok(match test.mode {
        MeasureMode::VoltsDc => Some(ObservedValue::Number(volts(instrument.volts_input_ohms)?)),
        MeasureMode::VoltsLowImpedance => Some(ObservedValue::Number(volts(instrument.low_impedance_ohms)?)),
        MeasureMode::MillivoltsDc => {
            let shown = volts(instrument.volts_input_ohms)?;
            let fits = shown.abs() <= MILLIVOLTS_LIMIT;
            Some(if fits { ObservedValue::Number(shown) } else { ObservedValue::OverLimit })
        }
        MeasureMode::Ohms => Some(ohms(bench, test, (red, black), instrument)?),
        MeasureMode::Amps => {
            Some(ObservedValue::Number(amps(circuit, bench, test, (red, black), instrument)?))
        }
        MeasureMode::AmpsClamp => Some(ObservedValue::Number(clamp(circuit, bench, test, (red, black))?)),
        MeasureMode::Duty => {
            let meter =
                Meter::Across { red: red.clone(), black: black.clone(), ohms: instrument.volts_input_ohms };
            let pulses = bench.settle(&test.state, load, &meter)?.solution.pulses(red, black);
            let seen = pulses.filter(|(on, off, _)| (on - off).abs() > SWING);
            Some(seen.map_or(ObservedValue::OverLimit, |(on, off, share)| {
                ObservedValue::Number(100.0 * if on > off { share } else { 1.0 - share })
            }))
        }
        // Nothing here turns a wheel: `garage::on_the_bench` leaves such circuits out.
        MeasureMode::VoltsAc | MeasureMode::Hertz => None,
        // No file asks for a beep.
        MeasureMode::Continuity | MeasureMode::Look | MeasureMode::YesNo => None,
    })
}

/// The meter finds its range from above and below, as an auto-ranging one does. On a circuit that is fed it shows nonsense.
fn ohms(
    bench: &mut Bench,
    test: &Test,
    (red, black): (&str, &str),
    instrument: &Instrument,
) -> Result<ObservedValue, Failure> {
    let mut shown = f64::INFINITY;
    let mut range = 1_usize;
    for _ in 0..4 {
        let amps = RANGES.get(range).map_or(1e-8, |(_, amps)| *amps);
        let meter = Meter::Feeds { red: red.to_owned(), black: black.to_owned(), amps };
        let settled = bench.settle(&test.state, test.load.as_deref(), &meter)?;
        shown = settled.solution.between(red, black) / amps;
        let wanted = RANGES.iter().position(|(end, _)| shown.abs() <= *end).unwrap_or(5);
        if wanted == range {
            break;
        }
        range = wanted;
    }
    let shown = shown.max(0.0) + instrument.lead_ohms;
    Ok(if shown > OHMS_LIMIT { ObservedValue::OverLimit } else { ObservedValue::Number(shown) })
}

/// The part that joins two points in a test's state, and whether it runs from black to red.
fn joining(circuit: &Circuit, bench: &Bench, test: &Test, ends: (&str, &str)) -> Option<(usize, bool)> {
    let state = bench.vehicle.full_state(&test.state);
    circuit.components.iter().enumerate().find_map(|(index, component)| {
        let points = emit::ends(&component.kind);
        let [first, second] = points.as_slice() else { return None };
        let same = (first.as_str(), second.as_str()) == ends;
        let turned = (second.as_str(), first.as_str()) == ends;
        ((same || turned) && holds(&component.present_when, &state)).then_some((index, turned))
    })
}

fn amps(
    circuit: &Circuit,
    bench: &mut Bench,
    test: &Test,
    (red, black): (&str, &str),
    instrument: &Instrument,
) -> Result<f64, Failure> {
    let part = joining(circuit, bench, test, (red, black)).map(|(index, _)| index).filter(|index| {
        let kind = circuit.components.get(*index).map(|component| &component.kind);
        kind.is_some_and(|kind| {
            matches!(
                kind,
                ComponentKind::Fuse { .. }
                    | ComponentKind::Wire { .. }
                    | ComponentKind::Connection { .. }
                    | ComponentKind::Switch { .. }
            )
        })
    });
    let (red, black, ohms) = (red.to_owned(), black.to_owned(), instrument.amps_ohms);
    let meter = match part {
        Some(part) => Meter::InPlace { part, red: red.clone(), black: black.clone(), ohms },
        None => Meter::Across { red: red.clone(), black: black.clone(), ohms },
    };
    let settled = bench.settle(&test.state, test.load.as_deref(), &meter)?;
    Ok(settled.solution.between(&red, &black) / ohms)
}

fn clamp(circuit: &Circuit, bench: &mut Bench, test: &Test, ends: (&str, &str)) -> Result<f64, Failure> {
    let Some((part, turned)) = joining(circuit, bench, test, ends) else { return Ok(0.0) };
    let settled = bench.settle(&test.state, test.load.as_deref(), &Meter::Around(part))?;
    let amps = settled.solution.through(part);
    Ok(if turned { -amps } else { amps })
}
