use super::{BothLanguages, NumberView, PhotoView};
use job::event::{ProgrammingCheck, ProgrammingOutcome, ProgrammingRoute};
use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

/// The routes for this job, weighed, and what was decided and done.
#[derive(Clone, Debug, Default, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ProgrammingView {
    /// Routes that can be had, cheapest in expectation first.
    pub routes: Vec<RouteView>,
    /// Routes that the shop's settings leave out.
    pub left_out: Vec<ProgrammingRoute>,
    /// Decision in force.
    pub decision: Option<ProgrammingDecisionView>,
    /// Decisions before it, oldest first.
    pub earlier_decisions: Vec<ProgrammingDecisionView>,
    /// Every attempt, oldest first, corrected ones included.
    pub attempts: Vec<ProgrammingOutcomeView>,
    /// What the attempts cost; nothing while there is none.
    pub cost: Option<ProgrammingCostView>,
    /// The circuit's modules: a part that came may be one of them.
    pub modules: Vec<JobModuleView>,
    /// What to do after a session that failed: codes of steps, in order; none where the last attempt succeeded.
    pub lost_session: Vec<String>,
    /// Minutes before an appointment at which the interface is hooked up.
    pub hook_up_minutes: u32,
}

/// A module of the job's circuit.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct JobModuleView {
    /// Its id.
    pub module: String,
    /// Its name.
    pub name: BothLanguages,
}

/// What all attempts cost.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ProgrammingCostView {
    /// Quotes of the decisions that attempts were made under, minor units.
    pub quoted: String,
    /// Bills of all attempts, minor units.
    pub billed: String,
    /// Billed minus quoted, minor units; may be negative.
    pub over_quote: String,
}

/// One route.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct RouteView {
    /// own_tool, remote_service, dealer_sublet.
    pub route: ProgrammingRoute,
    /// Who does it, by the shop's settings; may be empty.
    pub provider: String,
    /// What was quoted for this job, as typed; empty while nothing was.
    pub quote: String,
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
    /// The numbers that were weighed, each with where it comes from.
    pub numbers: Vec<NumberView>,
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
    /// Appointment: with its offset (RFC 3339), or as an older record wrote it.
    pub appointment: String,
    /// Why this route.
    pub reason: String,
}

/// What came of it.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ProgrammingOutcomeView {
    /// Running number, from 1.
    pub number: u32,
    /// Record.
    pub record: String,
    /// Time.
    pub kept: String,
    /// The route of the decision that it was made under; nothing where none can be used.
    pub route: Option<ProgrammingRoute>,
    /// Who did it, by that decision.
    pub provider: String,
    /// What was quoted in that decision, minor units.
    pub quoted: String,
    /// Number of the attempt that corrects this one; 0 for none.
    pub corrected_by: u32,
    /// Number of the attempt that this one corrects; 0 for none.
    pub corrects: u32,
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
    /// Photos (bill, charger).
    pub photos: Vec<PhotoView>,
    /// What was made sure of beforehand.
    pub checks: Vec<ProgrammingCheck>,
    /// Supply voltages while it ran, oldest first.
    pub voltages: Vec<VoltageView>,
    /// Ends of the maker's window in volts, lowest first; empty where none is on record.
    pub window: Vec<f64>,
    /// Voltages below that window.
    pub below_window: u32,
}

/// A supply voltage at a time.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct VoltageView {
    /// Minutes since it began.
    pub minute: f64,
    /// Volts.
    pub volts: f64,
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

/// What the shop has set about programming.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ProgrammingSettingsView {
    /// Each route.
    pub routes: Vec<RouteSettingView>,
    /// What holds for all of them: the price of a module while a job says none.
    pub numbers: Vec<NumberView>,
}

/// What the shop has set for one route.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct RouteSettingView {
    /// own_tool, remote_service, dealer_sublet.
    pub route: ProgrammingRoute,
    /// Whether it can be had.
    pub available: bool,
    /// Who does it.
    pub provider: String,
    /// Its numbers.
    pub numbers: Vec<NumberView>,
    /// Attempts that succeeded in the shop's closed jobs.
    pub successes: u32,
    /// Attempts that failed there.
    pub failures: u32,
}
