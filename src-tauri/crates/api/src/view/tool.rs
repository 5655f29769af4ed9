use super::NumberView;
use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

/// Whether the shop should buy a programming tool, with everything that the answer rests on.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ToolView {
    /// Code of the answer: `buy`, `leave` or `unsure`, each with what an average year does (`buy_brings`, `buy_loses` …);
    /// `no_other` where there is no other way to compare with.
    pub answer: String,
    /// What a year brings on average at the expected number of jobs, in minor units; may be negative.
    pub yearly: String,
    /// One year in ten brings less.
    pub yearly_low: String,
    /// One year in ten brings more.
    pub yearly_high: String,
    /// Probability that it pays, with doubt about jobs and about the shop's own success.
    pub pays: f64,
    /// Modules a year that are expected to need programming.
    pub jobs: f64,
    /// Nine times in ten it is more.
    pub jobs_low: f64,
    /// Nine times in ten it is fewer.
    pub jobs_high: f64,
    /// Modules a year from which on it pays; nothing where no number is enough, or every one is.
    pub break_even: Option<f64>,
    /// Jobs of the shop with programming in the last twelve months.
    pub seen_jobs: u32,
    /// Months that were looked at, each that has begun counted whole, up to twelve.
    pub seen_months: u32,
    /// What one job costs with the own tool, on average, in minor units.
    pub own_cost: String,
    /// What it costs the best other way.
    pub other_cost: String,
    /// Which way that is; empty where there is none.
    pub other: String,
    /// Chance of success per attempt from which on the own tool is the cheaper way; nothing where that doesn't depend on it.
    pub success_needed: Option<f64>,
    /// Months after which it has paid for itself as likely as not, in plain cash; nothing within those looked ahead.
    pub paid_after: Option<u32>,
    /// What waiting and counting jobs for six months would be worth, in minor units.
    pub waiting_worth: String,
    /// What would be missed meanwhile.
    pub waiting_missed: String,
    /// Everything it was reckoned with, to be changed.
    pub numbers: Vec<NumberView>,
    /// The picture: what a year brings by the number of modules.
    pub picture: Vec<YearlyGainView>,
}

/// What a year brings at one number of modules, in major units.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct YearlyGainView {
    /// Modules a year.
    pub jobs: f64,
    /// One year in ten brings less.
    pub low: f64,
    /// The average.
    pub average: f64,
    /// One year in ten brings more.
    pub high: f64,
}
