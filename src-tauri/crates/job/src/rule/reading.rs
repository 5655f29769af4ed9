//! What readings and their corrections demand: points, tests, positions and loads of the circuit that was chosen.

use super::{keep_reading, require, seen};
use crate::event::{ReadingCorrected, ReadingKept};
use crate::measured::{Unit, in_base_unit};
use crate::refused::{Permission, Refused};
use crate::{Job, observed, reasoning};
use circuit::{Circuit, UNKNOWN};

pub(super) fn kept(job: &Job, reading: &ReadingKept) -> Permission {
    keep_reading(job)?;
    let circuit = job.circuit_file().ok_or_else(|| Refused::because("choose_circuit_first"))?;
    fits(job, circuit, reading)?;
    seen::asked(reading)
}

pub(super) fn corrected(job: &Job, correction: &ReadingCorrected) -> Permission {
    let target = job.reading(&correction.corrects);
    let target = target.ok_or_else(|| Refused::unknown("reading", &correction.corrects.to_string()))?;
    require(target.corrected_by.is_none(), "already_corrected")?;
    if correction.reason.is_empty() {
        return Err(Refused::because("field_empty").with("field", "reason"));
    }
    if correction.withdrawn {
        return keep_reading(job);
    }
    require(correction.reading.placement == target.reading.placement, "not_the_same_test")?;
    kept(job, &correction.reading)
}

fn fits(job: &Job, circuit: &Circuit, reading: &ReadingKept) -> Permission {
    let seen = reading.mode.is_seen();
    if reading.mode.is_answered() != (reading.unit == Unit::YesNo) {
        return Err(Refused::because("reading_unit").with("detail", reading.unit.code()));
    }
    if !seen {
        known_place(job, circuit, "red_lead", &reading.red, &reading.red_pin)?;
        known_place(job, circuit, "black_lead", &reading.black, &reading.black_pin)?;
    }
    one_of("test", &reading.test, circuit.tests.iter().map(|test| &test.id))?;
    one_of("load", &reading.load, circuit.loads.iter().map(|load| &load.id))?;
    recording(circuit, reading)?;
    known_state(circuit, reading)
}

/// A recording in order, and one number of the reading that counts.
fn recording(circuit: &Circuit, reading: &ReadingKept) -> Permission {
    let number = |value: &str| in_base_unit(value, reading.unit);
    let in_order = number(&reading.lowest).zip(number(&reading.highest));
    require(in_order.is_none_or(|(lowest, highest)| lowest <= highest), "recording_out_of_order")?;
    let counts = observed::which(reading, observed::about(circuit, &reading.test));
    require(counts.is_some(), "reading_value_missing")
}

/// One of the circuit's, or none.
fn one_of<'a>(what: &str, id: &str, mut known: impl Iterator<Item = &'a String>) -> Permission {
    if id.is_empty() || known.any(|known| known == id) { Ok(()) } else { Err(Refused::unknown(what, id)) }
}

/// A point, or a pin in doubt instead of it; never both.
fn known_place(job: &Job, circuit: &Circuit, what: &str, point: &str, pin: &str) -> Permission {
    if pin.is_empty() {
        let known = circuit.points.iter().any(|known| known.id == point);
        return if known { Ok(()) } else { Err(Refused::unknown(what, point)) };
    }
    let in_doubt = reasoning::pins_in_doubt(job, circuit);
    let known = reasoning::is_in_doubt(&in_doubt, pin);
    if known && point.is_empty() { Ok(()) } else { Err(Refused::unknown(what, pin)) }
}

/// Every variable of the circuit in one of its positions or unknown, and no other.
fn known_state(circuit: &Circuit, reading: &ReadingKept) -> Permission {
    for variable in &circuit.variables {
        let position = reading.state.get(&variable.id);
        let listed = |position: &String| variable.values.iter().any(|value| value.id == *position);
        if !position.is_some_and(|position| position == UNKNOWN || listed(position)) {
            let value = format!("{} {}", variable.id, position.map_or("", String::as_str));
            return Err(Refused::unknown("position", &value));
        }
    }
    let unknown = reading.state.keys().find(|id| !circuit.variables.iter().any(|known| known.id == **id));
    unknown.map_or(Ok(()), |id| Err(Refused::unknown("position", id)))
}
