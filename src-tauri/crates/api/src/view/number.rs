use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

/// A number that the shop may set, with where the one in use comes from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct NumberView {
    /// Code of what it is: cash, wait, success …
    pub name: String,
    /// What it counts: `amount` in minor units, `hours`, `percent`, `months`, `jobs`, `minutes` or `volts` as decimals.
    #[ts(type = "'amount' | 'hours' | 'percent' | 'months' | 'jobs' | 'minutes' | 'volts'")]
    pub unit: String,
    /// The number in use.
    pub value: String,
    /// What is used while nobody sets one; empty where nothing is.
    pub judged: String,
    /// What the shop set, as one would type it; empty while it set nothing.
    pub typed: String,
    /// Where the number in use comes from: judgment, setting, jobs, quote, received, estimate, typed.
    pub source: String,
    /// How many jobs it rests on.
    pub jobs: u32,
}
