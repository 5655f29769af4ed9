use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use ts_rs::TS;

/// A relay circuit as the technician puts it together from blocks. Names are those of the lists.
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct BlocksEntry {
    /// What the relay switches.
    pub load: String,
    /// What drives its coil: module_feeds, module_grounds, switch_feeds, switch_grounds.
    pub drive: String,
    /// What the coil's other end is on: ground, load_fuse, fuse, ignition.
    pub leg: String,
    /// A switch in that leg; may be empty.
    pub through: String,
    /// What lies across the coil: nothing, diode, resistor.
    pub across: String,
    /// The module that drives the coil; empty where a switch does.
    pub module: String,
    /// What asks for the load.
    pub asked: BlocksRequest,
    /// What else the module has to see.
    pub conditions: Vec<BlocksRequest>,
    /// Resistance of the coil in ohms; may be empty.
    pub coil_ohms: String,
    /// Numbers of pins in this vehicle: point → number; empty ones are left out.
    pub pins: BTreeMap<String, String>,
    /// Colours of wires by IEC 60757, base then stripe ("BUYE"): part → colour; empty ones are left out.
    pub colours: BTreeMap<String, String>,
}

/// Something that asks, and how it reaches the module.
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct BlocksRequest {
    /// What asks.
    pub by: String,
    /// switch_to_ground, switch_to_feed, over_the_bus; directly where the switch drives the coil itself.
    pub how: String,
}
