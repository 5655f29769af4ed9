pub use job::event::{ProgrammingCheck, ProgrammingOutcome, ProgrammingRoute};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// The route that is taken.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct ProgrammingEntry {
    /// The route; null while none is picked, which is refused.
    pub route: Option<ProgrammingRoute>,
    /// Provider, may be empty for the own tool.
    pub provider: String,
    /// Quoted amount as typed; empty = what was kept as the quote for this route.
    pub quoted: String,
    /// Appointment: local day and time ("2026-11-28T14:30"), which gets the device's offset on that day, or one with its
    /// offset (RFC 3339); or empty.
    pub appointment: String,
    /// Why this route.
    pub reason: String,
}

/// What came of the programming.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct ProgrammedEntry {
    /// How it ended.
    pub outcome: ProgrammingOutcome,
    /// Supply voltage logged, as typed.
    pub supply_volts: String,
    /// True when a supply outside 5 to 20 V was asked about and is right.
    #[serde(default)]
    pub supply_confirmed: bool,
    /// Software number before.
    pub software_before: String,
    /// Software number after.
    pub software_after: String,
    /// Billed amount as typed.
    pub billed: String,
    /// Photos kept before, by hash.
    pub photos: Vec<String>,
    /// Record of the attempt that was written down wrong and that this one corrects; empty for a further attempt.
    #[serde(default)]
    pub corrects: String,
    /// What was made sure of beforehand.
    #[serde(default)]
    pub checks: Vec<ProgrammingCheck>,
    /// Supply voltages while it ran, a line each: minutes since it began, then volts ("0 13.6").
    #[serde(default)]
    pub voltages: String,
    /// Lowest volts of the maker's window as typed; empty with `window_highest` for none.
    #[serde(default)]
    pub window_lowest: String,
    /// Highest volts of the maker's window as typed.
    #[serde(default)]
    pub window_highest: String,
}

/// What was quoted for a job on one route.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct QuoteEntry {
    /// The route.
    pub route: ProgrammingRoute,
    /// Quoted amount as typed; empty takes it back.
    pub quoted: String,
}

/// One setting of the shop as it is typed.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct SettingEntry {
    /// Which one: of programming `module` or `hook_up_minutes`, or a route and a name of it ("own_tool/cash", "own_tool/provider",
    /// "own_tool/available"); of a tool its name alone.
    pub place: String,
    /// As typed; empty puts the judgment back. "yes" or "no" for what is available.
    pub typed: String,
}
