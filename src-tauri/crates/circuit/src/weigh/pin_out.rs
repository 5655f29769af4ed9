//! Which pin is which, found together with the fault.

use std::borrow::Cow;
use std::collections::BTreeMap;

use crate::answer::options::Options;
use crate::answer::pin_out::{PinOut, UnknownPins};
use crate::error::CircuitError;
use crate::file::layout::{Circuit, Pin};
use crate::file::observation::Observation;

/// Most pins in doubt at once: 120 ways.
const MOST: usize = 5;
/// Ways below this share of the likeliest aren't weighed, before readings; after them they aren't listed.
const UNLIKELY: f64 = 1e-6;
const WORTH_NAMING: f64 = 0.001;

/// One way the pins may be assigned, with its probability before any reading.
#[derive(Debug, Clone)]
pub(crate) struct Way {
    pub pins: BTreeMap<String, String>,
    pub prior: f64,
}

/// All ways that count; a single empty one when no pin is in doubt.
///
/// # Errors
/// Unknown connector or pin; more pins in doubt than can be weighed.
pub(crate) fn ways(circuit: &Circuit, options: &Options) -> Result<Vec<Way>, CircuitError> {
    let Some(unknown) = &options.unknown_pins else {
        return Ok(vec![Way { pins: BTreeMap::new(), prior: 1.0 }]);
    };
    let pins = unknown.pins_of(circuit)?;
    let mut ways: Vec<Way> = orders(pins.len())
        .iter()
        .map(|order| {
            let carried: Vec<&Pin> = order.iter().filter_map(|i| pins.get(*i).copied()).collect();
            let pairs = pins.iter().zip(&carried);
            Way {
                prior: pairs.clone().map(|(pin, carries)| unknown.chance(pin, carries, pins.len())).product(),
                pins: pairs.map(|(pin, carries)| (pin.number.clone(), carries.point.clone())).collect(),
            }
        })
        .collect();
    let top = ways.iter().map(|way| way.prior).fold(0.0, f64::max);
    ways.retain(|way| way.prior > top * UNLIKELY);
    let all: f64 = ways.iter().map(|way| way.prior).sum();
    ways.iter_mut().for_each(|way| way.prior /= all);
    Ok(ways)
}

/// The observations with points in the place of pins.
///
/// # Errors
/// A pin that isn't among those in doubt.
pub(crate) fn assigned<'o>(
    way: &Way,
    observations: &'o [Observation],
) -> Result<Cow<'o, [Observation]>, CircuitError> {
    if observations.iter().all(|seen| seen.red_pin.is_none() && seen.black_pin.is_none()) {
        return Ok(Cow::Borrowed(observations));
    }
    let point = |observation: &Observation, pin: &Option<String>, point: &Option<String>| match pin {
        None => Ok(point.clone()),
        Some(pin) => way.pins.get(pin).cloned().map(Some).ok_or_else(|| CircuitError::Observation {
            id: observation.id.clone(),
            problem: format!("pin {pin} isn't among the pins in doubt; name a point instead"),
        }),
    };
    let one = |observation: &Observation| {
        let red = point(observation, &observation.red_pin, &observation.red)?;
        let black = point(observation, &observation.black_pin, &observation.black)?;
        Ok(Observation { red, black, ..observation.clone() })
    };
    observations.iter().map(one).collect::<Result<Vec<_>, _>>().map(Cow::Owned)
}

/// Ways with their shares after the readings; none when no pin was in doubt.
pub(crate) fn found(ways: &[Way], shares: &[f64]) -> Vec<PinOut> {
    let in_doubt = ways.iter().zip(shares).filter(|(way, _)| !way.pins.is_empty());
    let mut all: Vec<PinOut> = in_doubt
        .map(|(way, share)| PinOut { pins: way.pins.clone(), probability: *share })
        .filter(|way| way.probability > WORTH_NAMING)
        .collect();
    all.sort_by(|left, right| right.probability.total_cmp(&left.probability));
    all
}

impl UnknownPins {
    fn pins_of<'c>(&self, circuit: &'c Circuit) -> Result<Vec<&'c Pin>, CircuitError> {
        let unknown = |kind, id: &str| CircuitError::Unknown { kind, id: id.to_owned() };
        let connector = circuit.connectors.iter().find(|connector| connector.id == self.connector);
        let connector = connector.ok_or_else(|| unknown("connector", &self.connector))?;
        let find = |number: &String| {
            let pin = connector.pins.iter().find(|pin| pin.number == *number);
            pin.ok_or_else(|| unknown("pin", number))
        };
        let pins: Vec<&Pin> = match self.pins.as_slice() {
            [] => connector.pins.iter().collect(),
            some => some.iter().map(find).collect::<Result<_, _>>()?,
        };
        let many = CircuitError::Invalid {
            circuit: circuit.id.clone(),
            place: format!("unknown_pins/{}", self.connector),
            problem: format!("at most {MOST} pins can be in doubt at once; name those that are"),
        };
        if pins.len() <= MOST { Ok(pins) } else { Err(many) }
    }

    /// Chance that a pin carries what the diagram gives to another, with the color that was seen on it.
    fn chance(&self, pin: &Pin, carries: &Pin, count: usize) -> f64 {
        let others = f64::from(u32::try_from(count.max(2) - 1).unwrap_or(1));
        let wrong = self.diagram_error.clamp(1e-4, others / (others + 1.0));
        let diagram = if pin.number == carries.number { 1.0 - wrong } else { wrong / others };
        let seen = self.colors_seen.get(&pin.number);
        let off = self.color_error.clamp(1e-4, 0.9);
        match seen {
            Some(seen) if *seen == carries.color => diagram * (1.0 - off),
            Some(_) => diagram * off / others,
            None => diagram,
        }
    }
}

/// Every order of so many things.
fn orders(count: usize) -> Vec<Vec<usize>> {
    let mut all = vec![Vec::new()];
    for _ in 0..count {
        let longer = |order: &Vec<usize>| {
            let left = (0..count).filter(|i| !order.contains(i));
            left.map(|i| order.iter().copied().chain([i]).collect()).collect::<Vec<Vec<usize>>>()
        };
        all = all.iter().flat_map(longer).collect();
    }
    all
}
