use super::BothLanguages;
use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

/// What a circuit of one load can be put together from.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct BlocksView {
    /// What can be switched.
    pub loads: Vec<BlocksLoad>,
    /// What can ask for a load that isn't listed; the commonest first.
    pub named_asked_by: Vec<String>,
    /// What can ask for it.
    pub switches: Vec<BlocksSwitch>,
    /// Modules that can drive it.
    pub modules: Vec<BlocksModule>,
}

/// A load.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct BlocksLoad {
    /// Its name in the list.
    pub id: String,
    /// The complaint it is opened for.
    pub complaint: BothLanguages,
    /// What usually asks for it; the commonest first.
    pub asked_by: Vec<String>,
    /// What else usually has to be so.
    pub conditions: Vec<String>,
    /// The module that usually drives it; empty = none in particular.
    pub usual_module: String,
}

/// Something that asks.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct BlocksSwitch {
    /// Its name in the list.
    pub id: String,
    /// What it is called.
    pub name: BothLanguages,
    /// How it usually reaches a module: switch_to_ground, switch_to_feed, over_the_bus.
    pub how: String,
}

/// A module.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct BlocksModule {
    /// Its name in the list.
    pub id: String,
    /// What it is called.
    pub name: BothLanguages,
}
