use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

/// A year of the shop, from records alone. Amounts in minor units.
#[derive(Clone, Debug, Default, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct YearView {
    /// The year.
    pub year: u32,
    /// The first year that has a job, and the last.
    pub first: u32,
    /// The last year that has a job.
    pub last: u32,
    /// Jobs that were opened.
    pub opened: u32,
    /// Jobs that were handed over.
    pub closed: u32,
    /// Hours of labor on the bills of that year, decimal.
    pub hours: String,
    /// What was approved: the approvals in force of that year.
    pub agreed: String,
    /// What was billed.
    pub billed: String,
    /// What was paid, less what was given back.
    pub paid: String,
    /// Jobs opened that year which came back from another.
    pub comebacks: u32,
    /// Of all jobs opened that year, those with a claim on the shop's warranty.
    pub warranty: u32,
    /// Modules that were bought.
    pub modules_bought: u32,
    /// What was paid for them.
    pub modules_cost: String,
    /// Modules that were suspected or asked for and not bought, because another cause was found.
    pub modules_spared: u32,
    /// What that saved: prices that somebody wrote down, and no other.
    pub modules_saved: String,
    /// Those of them whose price nobody wrote down: they count, but save nothing here.
    pub without_price: u32,
    /// Each of them.
    pub spared: Vec<ModuleSparedView>,
}

/// A module that was not bought.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ModuleSparedView {
    /// The job.
    pub job: String,
    /// Its number.
    pub number: u32,
    /// The module's price as it was written down; empty where nobody did.
    pub price: String,
    /// Where that price stands: `declined` estimate or `typed`; empty where nowhere.
    pub from: String,
}
