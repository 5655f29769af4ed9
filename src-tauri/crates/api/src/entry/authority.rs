use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// An authority to be asked for the time.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct AuthorityEntry {
    /// `https://…` or `http://…`.
    pub address: String,
    /// Root certificates of the authority (PEM), may be empty.
    #[serde(default)]
    pub roots: String,
}
