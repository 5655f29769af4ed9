//! A connector whose pins aren't known for certain, and what was found out about them.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::file::layout::ColorCode;

/// A connector whose pins aren't known for certain. Observations then name a pin instead of a point.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct UnknownPins {
    /// Connector id of the circuit.
    pub connector: String,
    /// Pins in doubt, by number, up to eight with those of other connectors; empty = all of the connector's. They carry the
    /// points the circuit file gives them, in an order that isn't known.
    #[serde(default)]
    pub pins: Vec<String>,
    /// Chance that the diagram (the circuit file) gives a pin the wrong function. 1 = the diagram says nothing.
    #[serde(default = "diagram_error")]
    pub diagram_error: f64,
    /// Chance that a wire's color isn't the one the diagram gives to its function (faded, repaired, other year).
    #[serde(default = "color_error", rename = "colour_error")]
    pub color_error: f64,
    /// Colors seen: pin number → base, then stripe.
    #[serde(default, rename = "colours_seen")]
    pub colors_seen: BTreeMap<String, Vec<ColorCode>>,
}

/// Judgement: one pin in ten of a diagram that isn't for exactly this vehicle.
const fn diagram_error() -> f64 {
    0.1
}

/// Judgement: one wire in ten.
const fn color_error() -> f64 {
    0.1
}

/// One way the pins may be assigned.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PinOut {
    /// Pin number → point behind it; on further connectors the pin is called by connector and number.
    pub pins: BTreeMap<String, String>,
    /// Probability.
    pub probability: f64,
}

impl UnknownPins {
    /// All pins of a connector in doubt, with the chances of error that hold where nobody says otherwise.
    #[must_use]
    pub fn of(connector: &str) -> Self {
        Self {
            connector: connector.to_owned(),
            pins: Vec::new(),
            diagram_error: diagram_error(),
            color_error: color_error(),
            colors_seen: BTreeMap::new(),
        }
    }
}
