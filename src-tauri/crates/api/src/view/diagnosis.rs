use super::BothLanguages;
use job::event::ReadingCondition;
use job::measured::Unit;
use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

/// What the readings prove so far and what to test next.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct DiagnosisView {
    /// Engine version.
    pub engine: String,
    /// Causes, most likely first.
    pub causes: Vec<CauseView>,
    /// Probability of something that this circuit does not contain.
    pub unmodelled: f64,
    /// Tests in the order of what they tell per minute.
    pub next: Vec<NextTestView>,
    /// What to do next.
    pub next_step: NextStepView,
    /// Tests not offered now, with the reason.
    pub held_back: Vec<HeldBackTestView>,
    /// Whether each module of the circuit may be called the cause, likeliest first; empty for a circuit without one.
    pub modules: Vec<ModuleView>,
    /// Readings that contradict each other or the circuit.
    pub doubts: Vec<DoubtView>,
    /// Fuses that may be open: what opened them has to be found before a new one goes in.
    pub open_fuses: Vec<BothLanguages>,
    /// What would take the lead from the leading cause, most useful first.
    pub overturned_by: Vec<OverturnView>,
    /// Closed jobs of the shop with this circuit that count here.
    pub closed_jobs: u32,
    /// Testing on against buying the module; null for a circuit without one.
    pub test_or_buy: Option<TestOrBuyView>,
}

/// A reading that made a verdict.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct GroundView {
    /// Reading's record.
    pub record: String,
    /// Its number in the job.
    pub number: u32,
    /// What was measured; nothing where the reading isn't on record.
    pub reading: Option<MeasuredView>,
    /// True when it speaks for, false when it speaks against.
    pub speaks_for: bool,
    /// How much it says: little, something, much, very_much.
    pub weight: String,
    /// How many times it raised (or, against, lowered) the odds; at least 1.
    pub times: f64,
}

/// What a reading measured, in short.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct MeasuredView {
    /// Test of the circuit it answers, or empty.
    pub test: String,
    /// Value as it was entered; empty where only a recording was read.
    pub value: String,
    /// Highest value of the range that was chosen by hand; else empty.
    pub range: String,
    /// Lowest value of a minimum/maximum recording; else empty.
    pub lowest: String,
    /// Highest value of such a recording; else empty.
    pub highest: String,
    /// Unit as the meter showed it.
    pub unit: Unit,
}

/// A result that would overturn a verdict.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct OverturnView {
    /// Test that could do it.
    pub test: String,
    /// Which result: between, over_limit, yes, no.
    pub result: String,
    /// Not below, in the base unit of the test's mode; null when there is no bound.
    pub from: Option<f64>,
    /// Not above.
    pub to: Option<f64>,
    /// Base unit: V, ohm, A, percent; empty for yes and no.
    pub unit: String,
    /// Chance of such a result.
    pub chance: f64,
    /// Probability of what the verdict is about after it.
    pub probability_after: f64,
    /// What would lead after it.
    pub leading_after: BothLanguages,
}

/// Expected cost until the fix is proven: testing on against fitting the module now. Advice; the gate before a module
/// stays as it is. Amounts are minor units, empty while something is missing.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct TestOrBuyView {
    /// The module's name.
    pub module: BothLanguages,
    /// The shop's labour rate an hour.
    pub labour_rate: String,
    /// Price of the part.
    pub part: String,
    /// Price of its programming.
    pub programming: String,
    /// Where the price is from: typed, estimate, or empty when there is none.
    pub price_from: String,
    /// Next test, empty when none is left.
    pub test: String,
    /// Expected cost of testing on.
    pub test_cost: String,
    /// Expected cost of fitting the module now.
    pub buy_cost: String,
    /// Cheaper: test, buy, or empty when it can't be said.
    pub cheaper: String,
    /// By how much.
    pub by: String,
}

/// One cause.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct CauseView {
    /// Cause id.
    pub id: String,
    /// Name: the part and what is wrong with it.
    pub name: BothLanguages,
    /// Component id.
    pub component: String,
    /// Probability.
    pub probability: f64,
    /// Code of the word for it: almost_certain … practically_ruled_out.
    pub likelihood: String,
    /// True for a fault of the module.
    pub module: bool,
    /// Reading's record that ruled it out, or empty.
    pub ruled_out_by: String,
    /// Number of that reading in the job, 0 when not ruled out.
    pub ruled_out_by_number: u32,
    /// Most likely size of the fault in ohms, null when it has none.
    pub severity_ohms: Option<f64>,
    /// The readings that did most for or against it, strongest first.
    pub grounds: Vec<GroundView>,
}

/// What to do next.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct NextStepView {
    /// `test` for the test that tells most, `gate` for one that is missing before a module may be called, `finding` for
    /// writing down what was found.
    #[ts(type = "'test' | 'gate' | 'finding'")]
    pub step: String,
    /// The test, empty for `finding`.
    pub test: String,
    /// The module's name, for `gate`.
    pub module: BothLanguages,
    /// What to do to the circuit meanwhile, because the complaint is away just now; else null.
    pub condition: Option<ReadingCondition>,
}

/// A test that is offered.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct NextTestView {
    /// Test id.
    pub test: String,
    /// Information in bits.
    pub bits: f64,
    /// Minutes.
    pub minutes: f64,
    /// Cautions not yet acknowledged in this job.
    pub cautions: Vec<String>,
}

/// A test that is not offered now.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct HeldBackTestView {
    /// Test id.
    pub test: String,
    /// Code of the reason.
    pub reason: String,
    /// What has to be proven first (a test id), or empty.
    pub needs: String,
}

/// May the module be called the cause?
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ModuleView {
    /// Its name.
    pub name: BothLanguages,
    /// True only when all that DIAGNOSIS asks for is on record.
    pub may_be_called: bool,
    /// Probability of a module fault.
    pub probability: f64,
    /// Code of the word for it.
    pub likelihood: String,
    /// What is missing.
    pub missing: Vec<MissingView>,
    /// Causes that no meter reading can separate from the module, named together.
    pub group: Vec<BothLanguages>,
    /// No scan tool reaches the module: its programming may be the cause just as well.
    pub or_programming: bool,
    /// The readings that did most for or against the module, strongest first.
    pub grounds: Vec<GroundView>,
    /// What would carry the module over, or under, what a call needs.
    pub overturned_by: Vec<OverturnView>,
}

/// Something that is missing before the module may be called.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct MissingView {
    /// Code, as the engine names it: supply_not_observed, ground_not_good, connector_not_inspected, rival_too_likely …
    pub code: String,
    /// Test that would fill it, or empty.
    pub test: String,
    /// What it is about (a point's or a cause's name).
    pub about: BothLanguages,
}

/// Readings that don't fit together.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct DoubtView {
    /// Code: contradiction, no_cause_fits_all, not_in_this_circuit, not_weighed, clock_set_back, clock_jumped,
    /// capture_time_far_from_clock, capture_time_in_future, no_capture_time.
    pub code: String,
    /// Records it is about.
    pub records: Vec<String>,
    /// Numbers of those readings in the job.
    pub numbers: Vec<u32>,
    /// Which reading to repeat (its number), 0 when none.
    pub repeat: u32,
}
