use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// What a new module would cost, as typed; for the comparison with testing on.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct BuyPriceEntry {
    /// The part ("389.50"); empty = as in the latest estimate.
    pub part: String,
    /// Its programming, may be empty.
    pub programming: String,
}
