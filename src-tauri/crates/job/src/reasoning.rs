//! From the job's readings to the engine's observations and back. The engine itself lives in `circuit`.

use crate::event::ComplaintPresent;
use crate::measured::{in_base_unit, last_digit};
use crate::meter_mode::MeterMode;
use crate::observed;
use crate::{Job, Reading};
use circuit::{
    Circuit, CircuitError, ColorCode, Condition, Connector, Diagnosis, LEAST_COUNTS, Meter, Observation,
    Options, Pin, Present, UnknownPins,
};
use serde_json::Value;
use std::sync::Arc;

/// How readings are weighed: `circuit::diagnose`, or an engine that was prepared before. Both give the same result.
pub type Weigh<'w> =
    dyn Fn(&Circuit, &Meter, &[Observation], &Options) -> Result<Diagnosis, CircuitError> + 'w;

/// What the readings of a job prove, with the circuit they were weighed on.
#[derive(Clone, Debug)]
pub struct Reasoning {
    /// The circuit as it was chosen.
    pub circuit: Arc<Circuit>,
    /// The meter, as the engine knows it.
    pub meter: Meter,
    /// The engine's result.
    pub diagnosis: Diagnosis,
    /// What it was made from, in order of time; an observation's id is its record.
    pub observations: Vec<Observation>,
    /// Observations (records) that could not be weighed. They stay on record; the reasoning goes on without them.
    pub left_out: Vec<String>,
}

impl Reasoning {
    /// Weighs the job's readings. `None` while no circuit is chosen. `options` are the shop's (its closed jobs, its rate);
    /// what the job itself says, tests that can't be reached and pins in doubt, is added here.
    ///
    /// A reading the engine can't weigh is left out and named: one odd value must never shut the job.
    ///
    /// # Errors
    /// A circuit file the engine refuses.
    pub fn of(job: &Job, options: &Options, weigh: &Weigh<'_>) -> Result<Option<Reasoning>, CircuitError> {
        let Some(circuit) = job.circuit_file() else { return Ok(None) };
        let meter = meter(job);
        let in_doubt = pins_in_doubt(job, circuit);
        let mut observations: Vec<Observation> =
            readings_that_count(job).filter_map(|r| observation(circuit, &in_doubt, r)).collect();
        let cannot_reach = job.unreachable.iter().cloned().collect();
        let mut in_doubt = in_doubt.into_iter();
        let (unknown_pins, further_unknown_pins) = (in_doubt.next(), in_doubt.collect());
        let options = Options { cannot_reach, unknown_pins, further_unknown_pins, ..options.clone() };
        let mut left_out = Vec::new();
        loop {
            match weigh(circuit, &meter, &observations, &options) {
                Ok(diagnosis) => {
                    let circuit = Arc::clone(circuit);
                    return Ok(Some(Reasoning { circuit, meter, diagnosis, observations, left_out }));
                }
                Err(error) => left_out.push(leave_out(&mut observations, error)?),
            }
        }
    }
}

/// Takes out the observation the engine refused, or the newest one when it names none. What is wrong with the circuit, the
/// meter or the options no reading is to blame for.
fn leave_out(observations: &mut Vec<Observation>, error: CircuitError) -> Result<String, CircuitError> {
    use CircuitError as E;
    let named = match &error {
        E::Observation { id, .. } => observations.iter().position(|o| o.id == *id),
        E::Unreadable(_)
        | E::Invalid { .. }
        | E::OutOfRange { .. }
        | E::Field { .. }
        | E::Meter { .. }
        | E::Option { .. } => return Err(error),
        E::Unknown { .. } | E::NotFinite(_) | E::NoSolution(_) => None,
    };
    let last = observations.len().checked_sub(1);
    match named.or(last) {
        Some(place) => Ok(observations.remove(place).id),
        None => Err(error),
    }
}

/// Readings that take part in finding the fault. A reading without the complaint after the repair was approved shows the
/// repaired vehicle, not the fault: it belongs to the proof of the fix.
pub fn readings_that_count(job: &Job) -> impl Iterator<Item = &Reading> {
    job.valid_readings().filter(|r| !r.after_repair || r.reading.complaint_present == ComplaintPresent::Yes)
}

/// The meter of the job; values that were not entered are an ordinary meter's.
pub fn meter(job: &Job) -> Meter {
    let mut meter = Meter::default();
    if let Some(chosen) = &job.meter {
        let event = &chosen.event;
        meter.name.clone_from(&event.name);
        meter.volts_input_ohms = event.volts_input_ohms.parse().unwrap_or(meter.volts_input_ohms);
        meter.low_impedance_ohms = event.low_impedance_ohms.parse().ok();
        meter.volts_accuracy.percent = event.accuracy_percent.parse().unwrap_or(meter.volts_accuracy.percent);
        // A manual that names no counts leaves the rounding of the display.
        meter.volts_accuracy.counts = f64::from(event.accuracy_counts).clamp(LEAST_COUNTS, MOST_COUNTS);
    }
    meter.volts_accuracy.count_size =
        coarsest_count(job, MeterMode::is_volts).unwrap_or(meter.volts_accuracy.count_size);
    meter.ohms_accuracy.count_size =
        coarsest_count(job, |mode| mode == MeterMode::Ohms).unwrap_or(meter.ohms_accuracy.count_size);
    meter.amps_accuracy.count_size =
        coarsest_count(job, |mode| mode == MeterMode::AmpsDc).unwrap_or(meter.amps_accuracy.count_size);
    meter.millivolts_accuracy.count_size = coarsest_count(job, |mode| mode == MeterMode::MillivoltsDc)
        .unwrap_or(meter.millivolts_accuracy.count_size);
    meter.clamp_accuracy.count_size =
        coarsest_count(job, |mode| mode == MeterMode::AmpsClamp).unwrap_or(meter.clamp_accuracy.count_size);
    meter.duty_accuracy.count_size =
        coarsest_count(job, |mode| mode == MeterMode::Duty).unwrap_or(meter.duty_accuracy.count_size);
    meter.volts_ac_accuracy.count_size =
        coarsest_count(job, |mode| mode == MeterMode::VoltsAc).unwrap_or(meter.volts_ac_accuracy.count_size);
    meter.hertz_accuracy.count_size =
        coarsest_count(job, |mode| mode == MeterMode::Hertz).unwrap_or(meter.hertz_accuracy.count_size);
    meter
}

/// More counts than this are no meter's; older records weren't held to it.
const MOST_COUNTS: f64 = 1e5;

/// The coarsest last digit shown in a mode. The engine holds one count size per mode; the coarsest never claims too much.
fn coarsest_count(job: &Job, wanted: impl Fn(MeterMode) -> bool) -> Option<f64> {
    job.valid_readings()
        .map(|r| &r.reading)
        .filter(|kept| wanted(kept.mode))
        .flat_map(|kept| {
            let shown = [&kept.value, &kept.lowest, &kept.highest];
            shown
                .into_iter()
                .filter(|value| !value.is_empty())
                .filter_map(|value| last_digit(value, kept.unit))
        })
        .reduce(f64::max)
}

/// Pins the engine weighs at once, of all connectors together.
const PINS_AT_ONCE: usize = 8;

/// The pins in doubt that are weighed: those of every connector with at least two, since one alone can only carry what is left
/// for it.
pub fn pins_in_doubt(job: &Job, circuit: &Circuit) -> Vec<UnknownPins> {
    let mut left = PINS_AT_ONCE;
    let of_connector = |connector: &Connector| {
        let noted =
            |pin: &Pin| job.pins.get(&(connector.id.clone(), pin.number.clone())).map(|kept| &kept.event);
        let in_doubt = connector.pins.iter().filter(|pin| noted(pin).is_some_and(|noted| noted.in_doubt));
        let pins: Vec<&Pin> = in_doubt.take(left).collect();
        let seen = |pin: &&Pin| Some((pin.number.clone(), colours(&noted(pin)?.colour)?));
        let unknown = UnknownPins {
            colors_seen: pins.iter().filter_map(seen).collect(),
            pins: pins.iter().map(|pin| pin.number.clone()).collect(),
            ..UnknownPins::of(&connector.id)
        };
        (unknown.pins.len() >= 2).then(|| {
            left = left.saturating_sub(unknown.pins.len());
            unknown
        })
    };
    circuit.connectors.iter().filter_map(of_connector).collect()
}

/// Is the pin of this name (`module_connector/4`) among those in doubt?
pub fn is_in_doubt(in_doubt: &[UnknownPins], name: &str) -> bool {
    name.split_once('/').is_some_and(|(connector, number)| {
        let here = in_doubt.iter().filter(|unknown| unknown.connector == connector);
        here.flat_map(|unknown| &unknown.pins).any(|pin| pin == number)
    })
}

/// Two letters a colour, base then stripe; `None` for anything else.
fn colours(noted: &str) -> Option<Vec<ColorCode>> {
    let letters: Vec<char> = noted.chars().collect();
    let code = |pair: &[char]| serde_json::from_value(Value::String(pair.iter().collect())).ok();
    let codes: Option<Vec<ColorCode>> = letters.chunks(2).map(code).collect();
    codes.filter(|codes| !codes.is_empty())
}

/// Where a lead was: a point, or a pin that is in doubt. A pin that no longer is carries what the circuit says.
fn lead(
    circuit: &Circuit,
    in_doubt: &[UnknownPins],
    point: &str,
    pin: &str,
) -> (Option<String>, Option<String>) {
    if pin.is_empty() {
        return (some_text(point), None);
    }
    if is_in_doubt(in_doubt, pin) {
        return (None, Some(pin.to_owned()));
    }
    let known = pin.split_once('/').and_then(|(connector, number)| {
        let connector = circuit.connectors.iter().find(|one| one.id == connector)?;
        connector.pins.iter().find(|pin| pin.number == number)
    });
    (known.map(|pin| pin.point.clone()), None)
}

fn observation(circuit: &Circuit, in_doubt: &[UnknownPins], reading: &Reading) -> Option<Observation> {
    let kept = &reading.reading;
    let (red, red_pin) = lead(circuit, in_doubt, &kept.red, &kept.red_pin);
    let (black, black_pin) = lead(circuit, in_doubt, &kept.black, &kept.black_pin);
    let seen = observed::of(kept, observed::about(circuit, &kept.test))?;
    Some(Observation {
        id: reading.record.to_string(),
        test: some_text(&kept.test).filter(|id| circuit.tests.iter().any(|t| t.id == *id)),
        mode: kept.mode.into(),
        red,
        black,
        red_pin,
        black_pin,
        value: seen.value,
        range: in_base_unit(&kept.range, kept.unit),
        lowest: seen.lowest,
        highest: seen.highest,
        condition: kept.condition.map(Condition::from),
        state: kept.state.clone(),
        load: some_text(&kept.load),
        complaint: match kept.complaint_present {
            ComplaintPresent::Yes => Present::Yes,
            ComplaintPresent::No => Present::No,
            ComplaintPresent::Unknown => Present::Unknown,
        },
        placement: kept.placement,
        ..Observation::default()
    })
}

fn some_text(text: &str) -> Option<String> {
    (!text.is_empty()).then(|| text.to_owned())
}
