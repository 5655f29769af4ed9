use super::PhotoView;
use job::event::{ProgrammingOutcome, ProgrammingRoute};
use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

/// The three routes for this job, weighed, and what was decided and done.
#[derive(Clone, Debug, Default, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ProgrammingView {
    /// Routes, cheapest in expectation first.
    pub routes: Vec<RouteView>,
    /// Decision on record.
    pub decision: Option<ProgrammingDecisionView>,
    /// Outcome on record.
    pub outcome: Option<ProgrammingOutcomeView>,
}

/// One route.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct RouteView {
    /// own_tool, remote_service, dealer_sublet.
    pub route: ProgrammingRoute,
    /// Expected cost in minor units.
    pub expected_cost: String,
    /// How it can end and what it costs then, likeliest first.
    pub cases: Vec<RouteCaseView>,
    /// Expected hours until the vehicle is finished.
    pub expected_hours: f64,
    /// Probability of success on this route.
    pub success: f64,
    /// Probability that it is done within the working day (8 h).
    pub done_in_8_hours: f64,
    /// True for the cheapest.
    pub cheapest: bool,
}

/// What was decided.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ProgrammingDecisionView {
    /// Record.
    pub record: String,
    /// Time.
    pub kept: String,
    /// Route.
    pub route: ProgrammingRoute,
    /// Provider.
    pub provider: String,
    /// Quoted amount, minor units.
    pub quoted: String,
    /// Appointment, as written.
    pub appointment: String,
    /// Why this route.
    pub reason: String,
}

/// What came of it.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ProgrammingOutcomeView {
    /// Record.
    pub record: String,
    /// Time.
    pub kept: String,
    /// succeeded, failed, module_lost.
    pub outcome: ProgrammingOutcome,
    /// Supply voltage logged while programming, volts, decimal.
    pub supply_volts: String,
    /// Software number before.
    pub software_before: String,
    /// Software number after.
    pub software_after: String,
    /// Billed amount, minor units.
    pub billed: String,
    /// Billed minus quoted, minor units; may be negative.
    pub over_quote: String,
    /// Photos (bill, charger).
    pub photos: Vec<PhotoView>,
}

/// One way programming can end on a route.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct RouteCaseView {
    /// first_attempt, further_attempt, or lost: the module has to be bought and programmed again.
    pub ending: String,
    /// How likely that is, from 0 to 1.
    pub probability: f64,
    /// What it costs then on average, minor units.
    pub cost: String,
}
