//! Connectors with what was noted at their pins, and which pin is probably which.

use super::{both, code, photos};
use crate::view::{ConnectorView, PinChanceView, PinView};
use ::circuit::{Circuit, ColorCode, Connector, Diagnosis, Pin};
use ::job::Job;
use std::collections::BTreeMap;

/// Shares below this aren't shown.
const WORTH_SHOWING: f64 = 0.005;

/// A connector.
pub(crate) fn connector(
    job: &Job,
    circuit: &Circuit,
    diagnosis: Option<&Diagnosis>,
    connector: &Connector,
) -> ConnectorView {
    let in_doubt = ::job::reasoning::pins_in_doubt(job, circuit);
    let first = in_doubt.first().is_some_and(|unknown| unknown.connector == connector.id);
    let pin = |pin: &Pin| {
        let full = format!("{}/{}", connector.id, pin.number);
        let weighed = ::job::reasoning::is_in_doubt(&in_doubt, &full);
        // The engine calls pins of the first connector by their numbers alone.
        let name = if first { &pin.number } else { &full };
        let likely = diagnosis.filter(|_| weighed).map(|diagnosis| likely(circuit, diagnosis, name));
        PinView { likely: likely.unwrap_or_default(), ..noted(job, &connector.id, pin) }
    };
    ConnectorView {
        id: connector.id.clone(),
        name: both(&connector.name),
        pins: connector.pins.iter().map(pin).collect(),
    }
}

fn noted(job: &Job, connector: &str, pin: &Pin) -> PinView {
    let noted = job.pins.get(&(connector.to_owned(), pin.number.clone())).map(|kept| &kept.event);
    let colour = noted.map(|n| n.colour.clone()).filter(|c| !c.is_empty());
    PinView {
        number: pin.number.clone(),
        point: pin.point.clone(),
        column: pin.x,
        row: pin.y,
        colour: colour.unwrap_or_else(|| colours(&pin.color)),
        function: both(&pin.function),
        noted: noted.is_some(),
        noted_function: noted.map(|n| n.function.clone()).unwrap_or_default(),
        note: noted.map(|n| n.note.clone()).unwrap_or_default(),
        in_doubt: noted.is_some_and(|n| n.in_doubt),
        likely: Vec::new(),
        photos: noted.map(|n| photos(job, &n.photos)).unwrap_or_default(),
    }
}

/// What the pin may carry, summed over all ways the pins may be assigned.
fn likely(circuit: &Circuit, diagnosis: &Diagnosis, number: &str) -> Vec<PinChanceView> {
    let mut shares: BTreeMap<&str, f64> = BTreeMap::new();
    for way in &diagnosis.pin_outs {
        if let Some(point) = way.pins.get(number) {
            *shares.entry(point).or_default() += way.probability;
        }
    }
    let view = |(id, probability): (&str, f64)| {
        let name = circuit.points.iter().find(|point| point.id == id).map(|point| both(&point.name));
        PinChanceView { point: id.to_owned(), name: name.unwrap_or_default(), probability }
    };
    let shown = shares.into_iter().filter(|(_, share)| *share >= WORTH_SHOWING);
    let mut all: Vec<PinChanceView> = shown.map(view).collect();
    all.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    all
}

/// Base then stripe, as IEC 60757 writes two colours: `BUYE`.
fn colours(codes: &[ColorCode]) -> String {
    codes.iter().map(code).collect()
}
