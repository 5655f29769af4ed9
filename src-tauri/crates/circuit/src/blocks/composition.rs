//! What a technician says of a relay circuit: which blocks it is made of, and what is this vehicle's own.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::blocks::load::Load;
use crate::blocks::named_load::{NAMED, NamedLoad};
use crate::file::layout::ColorCode;
use crate::file::text::Text;

/// A relay and everything around it, as a few blocks. [`Composition::circuit`] makes the whole circuit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Composition {
    /// Version of this format; 1.
    pub blocks: u32,
    /// Short name of the circuit that is made.
    pub id: String,
    /// Version of its data; grows with every change of this file or of a block.
    pub version: u32,
    /// Display name; absent = made from the blocks.
    #[serde(default)]
    pub title: Option<Text>,
    /// What is switched.
    pub load: LoadChoice,
    /// What carries the load's current.
    #[serde(default)]
    pub switched_by: SwitchedBy,
    /// What drives the relay's coil; of a module's own output, which side of the load it is on.
    pub drive: Drive,
    /// What the coil's other end is on; left out where there is no relay.
    #[serde(default)]
    pub leg: Leg,
    /// What lies across the coil, inside the relay.
    #[serde(default)]
    pub across: Across,
    /// Resistance of the coil, ohm; absent = 75 (of a solid-state relay's input 1000).
    #[serde(default)]
    pub coil_ohms: Option<f64>,
    /// The module that drives the coil; only where one does.
    #[serde(default)]
    pub module: Option<ModuleChoice>,
    /// What has to ask for the load, each one of them.
    pub requests: Vec<Request>,
    /// Numbers of pins in this vehicle: point → number on the connector's face.
    #[serde(default)]
    pub pins: BTreeMap<String, String>,
    /// Wires of this vehicle: part → color, length, size.
    #[serde(default)]
    pub wires: BTreeMap<String, VehicleWire>,
    /// Groups of tests that are left out.
    #[serde(default)]
    pub without: Vec<TestGroup>,
}

impl Composition {
    /// A short name for circuits of the same blocks: pins, colors and other numbers of one vehicle don't count, so that a
    /// shop's closed jobs are counted for all of them together.
    #[must_use]
    pub fn id_of_blocks(&self) -> String {
        let load = match &self.load {
            LoadChoice::Listed(id) => id.as_str(),
            LoadChoice::Own(load) => load.id.as_str(),
            LoadChoice::Named(_) => NAMED,
        };
        let requests = self.requests.iter().map(|one| (&one.by, one.how));
        let requests: Vec<_> = requests.collect();
        let said =
            serde_json::to_string(&(&self.load, self.drive, &self.leg, self.across, &self.module, requests));
        let mut said = said.unwrap_or_default();
        // With a relay the name is what it was before there was anything else: closed jobs are counted by it.
        if self.switched_by != SwitchedBy::Relay {
            said.push_str(&serde_json::to_string(&self.switched_by).unwrap_or_default());
        }
        format!("{load}-{:016x}", fnv(said.as_bytes()))
    }
}

/// FNV-1a, 64 bits (Fowler, Noll, Vo): the same in every version and on every machine.
fn fnv(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |hash: u64, byte| {
        (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3)
    })
}

/// A load.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum LoadChoice {
    /// One of the list, by its id.
    Listed(String),
    /// One that isn't on the list, with everything the list would say of it.
    Own(Box<Load>),
    /// One that isn't on the list, in the technician's words and with one number.
    Named(NamedLoad),
}

/// What carries the load's current.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SwitchedBy {
    /// A relay with coil and contact.
    #[default]
    Relay,
    /// A relay without moving parts: a transistor in the place of the contact, an input in the place of the coil.
    SolidStateRelay,
    /// An output of the module itself.
    ModuleOutput,
}

impl SwitchedBy {
    /// Is there a relay, of either sort, in a socket?
    #[must_use]
    pub const fn by_relay(self) -> bool {
        matches!(self, Self::Relay | Self::SolidStateRelay)
    }
}

/// What drives the coil, and which of its terminals.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Drive {
    /// A module feeds terminal 86.
    ModuleFeeds,
    /// A module pulls terminal 85 to ground.
    ModuleGrounds,
    /// A switch feeds terminal 86.
    SwitchFeeds,
    /// A switch puts terminal 85 on ground.
    SwitchGrounds,
}

impl Drive {
    /// Does it feed the coil (or ground it)?
    #[must_use]
    pub const fn feeds(self) -> bool {
        matches!(self, Self::ModuleFeeds | Self::SwitchFeeds)
    }

    /// Is it a module?
    #[must_use]
    pub const fn by_module(self) -> bool {
        matches!(self, Self::ModuleFeeds | Self::ModuleGrounds)
    }
}

/// The coil's other leg.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Leg {
    /// What it is on at its far end.
    pub on: LegOn,
    /// A switch in it, by its id in the list of switches (the range switch of a starter).
    #[serde(default)]
    pub through: Option<String>,
}

/// Far end of the coil's other leg: ground where the coil is fed, one of the feeds where it is grounded.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum LegOn {
    /// Body ground.
    #[default]
    Ground,
    /// The load's own fuse.
    LoadFuse,
    /// A fuse of its own, battery feed.
    Fuse,
    /// The ignition switch: feed with the key on.
    Ignition,
}

/// What lies across the coil.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Across {
    /// Nothing.
    #[default]
    Nothing,
    /// A diode, its cathode at 86.
    Diode,
    /// A resistor of 680 ohm.
    Resistor,
}

/// A module.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ModuleChoice {
    /// One of the list, by its id.
    Listed(String),
    /// In the technician's words.
    Own(String),
}

/// Something that has to be so before the load is switched on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Request {
    /// Short name, part of the ids of what belongs to it; the only one of a circuit is usually called `request`.
    pub id: String,
    /// What asks, by its id in the list of switches.
    pub by: String,
    /// How it reaches the module; a switch that drives the coil itself is `directly` in its way.
    pub how: How,
}

/// How a request comes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum How {
    /// A switch pulls an input of the module to ground.
    SwitchToGround,
    /// A switch feeds an input of the module.
    SwitchToFeed,
    /// Over the data bus, or by the module's own decision: no lead sees it, the scan tool does.
    OverTheBus,
    /// The switch carries the coil's current.
    Directly,
}

/// A wire as it is in this vehicle; what is left out stays as in the block.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VehicleWire {
    /// Color: base, then stripe.
    #[serde(default, rename = "colour")]
    pub color: Vec<ColorCode>,
    /// Length, m.
    #[serde(default)]
    pub length_m: Option<f64>,
    /// Cross-section, mm².
    #[serde(default)]
    pub area_mm2: Option<f64>,
}

/// Tests that belong together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum TestGroup {
    /// A known-good relay in place of the fitted one.
    SpareRelay,
    /// Terminals fed or grounded by a fused lead.
    Leads,
    /// What hangs on the module's output, with the module unplugged, and its line on the list before a call.
    Harness,
    /// The coil's other leg, and the terminal that a coil is grounded by, with the relay out.
    Leg,
    /// Contact, current and ground of the load; the load unplugged where a module drives it.
    LoadSide,
    /// Both sides of a switch that asks the module, and its plug.
    AtSwitch,
}

#[cfg(test)]
mod tests {
    /// Published test values of FNV-1a, 64 bits (draft-eastlake-fnv, appendix C).
    #[test]
    fn the_hash_is_fnv_1a() {
        assert_eq!(super::fnv(b""), 0xcbf2_9ce4_8422_2325);
        assert_eq!(super::fnv(b"a"), 0xaf63_dc4c_8601_ec8c);
        assert_eq!(super::fnv(b"foobar"), 0x8594_4171_f739_67e8);
    }
}
