//! Which pin is which, found together with the fault.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::answer::diagnosis::Options;
use crate::error::CircuitError;
use crate::file::layout::{Circuit, ColourCode, Pin};
use crate::file::observation::Observation;

/// Most pins in doubt at once: 120 ways.
const MOST: usize = 5;
/// Ways below this share of the likeliest aren't weighed, before readings; after them they aren't listed.
const UNLIKELY: f64 = 1e-6;
const WORTH_NAMING: f64 = 0.001;

/// A connector whose pins aren't known for certain. Observations then name a pin instead of a point.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct UnknownPins {
    /// Connector id of the circuit.
    pub connector: String,
    /// Pins in doubt, by number, up to five; empty = all of the connector's. They carry the points the circuit file
    /// gives them, in an order that isn't known.
    #[serde(default)]
    pub pins: Vec<String>,
    /// Chance that the diagram (the circuit file) gives a pin the wrong function. 1 = the diagram says nothing.
    #[serde(default = "diagram_error")]
    pub diagram_error: f64,
    /// Chance that a wire's colour isn't the one the diagram gives to its function (faded, repaired, other year).
    #[serde(default = "colour_error")]
    pub colour_error: f64,
    /// Colours seen: pin number → base, then stripe.
    #[serde(default)]
    pub colours_seen: BTreeMap<String, Vec<ColourCode>>,
}

/// Judgement: one pin in ten of a diagram that isn't for exactly this vehicle.
const fn diagram_error() -> f64 {
    0.1
}

/// Judgement: one wire in ten.
const fn colour_error() -> f64 {
    0.1
}

/// One way the pins may be assigned.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PinOut {
    /// Pin number → point behind it.
    pub pins: BTreeMap<String, String>,
    /// Probability.
    pub probability: f64,
}

/// One way the pins may be assigned, with its probability before any reading.
#[derive(Debug, Clone)]
pub(crate) struct Way {
    pub pins: BTreeMap<String, String>,
    pub prior: f64,
}

/// All ways that count; a single empty one when no pin is in doubt.
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
pub(crate) fn assigned(way: &Way, observations: &[Observation]) -> Result<Vec<Observation>, CircuitError> {
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
    observations.iter().map(one).collect()
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
    /// All pins of a connector in doubt, with the chances of error that hold where nobody says otherwise.
    #[must_use]
    pub fn of(connector: &str) -> Self {
        Self {
            connector: connector.to_owned(),
            pins: Vec::new(),
            diagram_error: diagram_error(),
            colour_error: colour_error(),
            colours_seen: BTreeMap::new(),
        }
    }

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

    /// Chance that a pin carries what the diagram gives to another, with the colour that was seen on it.
    fn chance(&self, pin: &Pin, carries: &Pin, count: usize) -> f64 {
        let others = f64::from(u32::try_from(count.max(2) - 1).unwrap_or(1));
        let wrong = self.diagram_error.clamp(1e-4, others / (others + 1.0));
        let diagram = if pin.number == carries.number { 1.0 - wrong } else { wrong / others };
        let seen = self.colours_seen.get(&pin.number);
        let off = self.colour_error.clamp(1e-4, 0.9);
        match seen {
            Some(seen) if *seen == carries.colour => diagram * (1.0 - off),
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
