//! What asks for a load: switches, buttons, messages, with their faults and phrases, as data.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::blocks::composition::How;
use crate::blocks::load::Asking;
use crate::error::CircuitError;
use crate::file::component::Conditions;
use crate::file::fault::FaultSpec;
use crate::file::layout::Variable;
use crate::file::text::Text;

/// One thing that asks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Switch {
    /// Its name in the list, and its part's id.
    pub id: String,
    /// States in which it asks; empty = always, unless it is broken.
    pub closed_when: Conditions,
    /// The state variable it brings with it; absent = it goes by key or range selector, or by none.
    #[serde(default)]
    pub variable: Option<Variable>,
    /// Resistance when closed, ohm.
    pub closed_ohms: f64,
    /// The ways it fails; none = nothing of it is in the circuit but the request.
    #[serde(default)]
    pub faults: Vec<FaultSpec>,
    /// Short name that its request usually has.
    pub request: String,
    /// How its request usually reaches a module.
    pub how: How,
    /// How it is spoken of.
    pub words: SwitchWords,
}

/// Phrases of what asks.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SwitchWords {
    /// "temperature switch" / "termocontacto".
    pub part: Text,
    /// "of the temperature switch" / "del termocontacto".
    pub of: Text,
    /// The signal it gives: "fan request" / "petición de ventilador".
    pub signal: Text,
    /// What the module is to see: "the request" / "la petición".
    pub seen: Text,
    /// A sentence on it.
    pub about: Text,
    /// What shows it without a scan tool, for what comes over the bus: "Security light: does it go out…?".
    #[serde(default)]
    pub shows: Option<Text>,
    /// How it is said that it asks, where that is better than what the load says.
    #[serde(default)]
    pub asking: Option<Asking>,
}

const LISTED: &str = include_str!("switches.json");

/// Everything on the list.
///
/// # Errors
/// A list that can't be read: a mistake in our own data.
pub fn switches() -> Result<Vec<Switch>, CircuitError> {
    let unreadable = |error| CircuitError::Unreadable(format!("list of switches: {error}"));
    serde_json::from_str(LISTED).map_err(unreadable)
}

/// One of them by its id.
///
/// # Errors
/// No such switch.
pub fn switch(id: &str) -> Result<Switch, CircuitError> {
    let unknown = || CircuitError::Unknown { kind: "switch", id: id.to_owned() };
    switches()?.into_iter().find(|switch| switch.id == id).ok_or_else(unknown)
}

/// A module of the list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ListedModule {
    /// Its name in the list, and in the circuit.
    pub id: String,
    /// "engine module" / "módulo de motor".
    pub name: Text,
    /// "of the engine module" / "del módulo de motor".
    pub of: Text,
}

const MODULES: &str = include_str!("modules.json");

/// Every module of the list.
///
/// # Errors
/// A list that can't be read: a mistake in our own data.
pub fn modules() -> Result<Vec<ListedModule>, CircuitError> {
    let unreadable = |error| CircuitError::Unreadable(format!("list of modules: {error}"));
    serde_json::from_str(MODULES).map_err(unreadable)
}

/// One module by its id.
///
/// # Errors
/// No such module.
pub fn module(id: &str) -> Result<ListedModule, CircuitError> {
    let unknown = || CircuitError::Unknown { kind: "module", id: id.to_owned() };
    modules()?.into_iter().find(|module| module.id == id).ok_or_else(unknown)
}
