use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use ts_rs::TS;

/// A circuit of one load as the technician puts it together from blocks. Names are those of the lists.
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct BlocksEntry {
    /// What is switched; "named" = the load of one's own below.
    pub load: String,
    /// A load that isn't listed.
    #[serde(default)]
    pub own: BlocksOwnLoad,
    /// What carries its current: relay, solid_state_relay, module_output.
    #[serde(default = "relay")]
    pub switched_by: String,
    /// What drives the relay's coil, or which side of the load a module's output is on: module_feeds, module_grounds,
    /// switch_feeds, switch_grounds.
    pub drive: String,
    /// What the coil's other end is on: ground, load_fuse, fuse, ignition; not looked at without a relay.
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

fn relay() -> String {
    "relay".to_owned()
}

/// A load that isn't listed, in the technician's words.
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct BlocksOwnLoad {
    /// What it is called.
    pub name: String,
    /// The complaint.
    pub complaint: String,
    /// Sort of load: motor, lamp, heater, magnet.
    pub sort: String,
    /// One number as typed: what it draws, or what it measures cold and at rest.
    pub amount: String,
    /// What that number is: amps, ohms.
    pub unit: String,
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
