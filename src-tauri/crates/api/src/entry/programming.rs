use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// The route that is taken.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct ProgrammingEntry {
    /// own_tool, remote_service, dealer_sublet.
    pub route: String,
    /// Provider, may be empty for the own tool.
    pub provider: String,
    /// Quoted amount as typed.
    pub quoted: String,
    /// Appointment as written.
    pub appointment: String,
    /// Why this route.
    pub reason: String,
}

/// What came of the programming.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct ProgrammedEntry {
    /// succeeded, failed, module_lost.
    pub outcome: String,
    /// Supply voltage logged, as typed.
    pub supply_volts: String,
    /// Software number before.
    pub software_before: String,
    /// Software number after.
    pub software_after: String,
    /// Billed amount as typed.
    pub billed: String,
    /// Photos kept before, by hash.
    pub photos: Vec<String>,
}
