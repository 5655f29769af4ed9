use super::CircuitView;
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;
use ts_rs::TS;

/// One line of the list of the shop's own circuits.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct OwnCircuitRow {
    /// Id, to choose it in a job.
    pub id: String,
    /// Title.
    pub title: String,
    /// Complaint.
    pub complaint: String,
    /// The diagram it is from.
    pub source: String,
    /// Number of parts.
    pub parts: u32,
    /// When it was kept (wall time).
    pub kept: String,
}

/// What is to be said of a circuit while it is being entered: its problems, or the circuit, drawn and solved.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct OwnCircuitCheckView {
    /// Everything that is wrong, each with its field; empty when the circuit is whole.
    pub problems: Vec<OwnCircuitProblem>,
    /// The circuit with the volts of every point in the state asked for.
    pub circuit: Option<CircuitView>,
    /// That state, complete.
    pub state: BTreeMap<String, String>,
    /// False when it never comes to rest in that state: a relay chatters.
    pub steady: bool,
}

/// One thing that is wrong.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct OwnCircuitProblem {
    /// Field: "title", "parts/3/length_m", "connectors/0/pins/2/point", "modules/0/feed"; "parts/3" for the part as a whole.
    pub place: String,
    /// Code: unreadable, too_large, name, not_listed, number, contradiction, floating, no_feed, no_return, out_of_reach,
    /// unsafe, healthy_fails, bus_ends, hidden_character.
    pub code: String,
    /// What is wrong and what to do, in English.
    pub detail: String,
}
