//! The result: what the readings prove, what to test next, whether a module may be called.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::choose::overturn::Overturn;
use crate::choose::test_or_buy::{ModulePrice, TestOrBuy};
use crate::file::fault::FaultMode;
use crate::file::meter::Meter;
use crate::weigh::grounds::Ground;
use crate::weigh::pin_out::{PinOut, UnknownPins};

/// Name and version of the engine; frozen with every finding. The number after the plus sign grows with every change by
/// which the same readings may give other probabilities, whatever the program's version is.
pub const ENGINE: &str = concat!("testimeter-circuit ", env!("CARGO_PKG_VERSION"), "+4");

/// What the caller can set.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Options {
    /// Tests that can't be done here (point not in reach, tool missing).
    pub cannot_reach: Vec<String>,
    /// Severity points per decade. Doubling it must change no probability by more than 0.005.
    pub points_per_decade: u32,
    /// Chance that the leads were on the wrong points.
    pub mis_probe: f64,
    /// How many next tests to return.
    pub next_tests: usize,
    /// Least probability of a module that may be called; below 0.95 counts as 0.95.
    pub module_at_least: f64,
    /// Highest probability of any rival of such a module; above 0.03 counts as 0.03.
    pub rival_at_most: f64,
    /// The shop's own closed jobs on this circuit: cause id (or `unmodelled`) → how often it was the proven cause.
    pub closed_jobs: BTreeMap<String, u32>,
    /// How many closed jobs the circuit file's own odds weigh as much as (Dirichlet).
    pub odds_weigh_jobs: f64,
    /// Further meters; an observation names the one it was taken with.
    pub meters: Vec<Meter>,
    /// A connector whose pins aren't known for certain.
    pub unknown_pins: Option<UnknownPins>,
    /// What an hour on the bench costs, cents: with it come the answers of `test_or_buy`.
    pub bench_cents_per_hour: Option<f64>,
    /// Module id → what a new one costs.
    pub module_prices: BTreeMap<String, ModulePrice>,
}

impl Default for Options {
    fn default() -> Self {
        Self {
            cannot_reach: Vec::new(),
            points_per_decade: 240,
            mis_probe: 0.02,
            next_tests: 5,
            module_at_least: 0.97,
            rival_at_most: 0.02,
            closed_jobs: BTreeMap::new(),
            odds_weigh_jobs: 30.0,
            meters: Vec::new(),
            unknown_pins: None,
            bench_cents_per_hour: None,
            module_prices: BTreeMap::new(),
        }
    }
}

/// Everything the readings say.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Diagnosis {
    /// Engine name and version.
    pub engine: String,
    /// Circuit id.
    pub circuit: String,
    /// Circuit data version.
    pub circuit_version: u32,
    /// Causes, most probable first.
    pub causes: Vec<CauseShare>,
    /// Pairs of faults, only where no single cause fits all readings.
    pub pairs: Vec<PairShare>,
    /// Probability of something this circuit doesn't contain.
    pub unmodelled: f64,
    /// Groups of cause ids that no test of this circuit can separate (only causes above 0.5 %).
    pub inseparable: Vec<Vec<String>>,
    /// Tests worth doing, best first.
    pub next: Vec<NextTest>,
    /// Tests not offered, and why.
    pub withheld_tests: Vec<WithheldTest>,
    /// One verdict per module.
    pub modules: Vec<ModuleVerdict>,
    /// Readings that do not go together.
    pub doubts: Vec<Doubt>,
    /// What a healthy circuit, and the leading cause, would have shown.
    pub expected: Vec<Expected>,
    /// Fuses that may be open. A fuse opens because of what flowed through it: that has to be found before a new one
    /// goes in.
    #[serde(default)]
    pub open_fuses: Vec<String>,
    /// What would overturn the leading cause, most useful first.
    #[serde(default)]
    pub overturned_by: Vec<Overturn>,
    /// Ways the pins in doubt may be assigned, most probable first (only those above 0.1 %).
    #[serde(default)]
    pub pin_outs: Vec<PinOut>,
    /// Testing on against fitting a module now; only with the shop's rate and the module's price.
    #[serde(default)]
    pub test_or_buy: Vec<TestOrBuy>,
}

/// Probability of one cause.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CauseShare {
    /// `component/mode`.
    pub id: String,
    /// Part.
    pub component: String,
    /// Way of failing.
    pub mode: FaultMode,
    /// Probability, 0 to 1 (steady and coming-and-going together).
    pub probability: f64,
    /// Part of that probability that belongs to a fault that comes and goes.
    pub comes_and_goes: f64,
    /// Probability before any reading.
    pub prior: f64,
    /// The word for it.
    pub word: LikelihoodWord,
    /// Severity that is most probable and its central 90 % (ohm, volt or factor, by mode).
    pub severity: Option<SeverityEstimate>,
    /// Module it belongs to.
    pub module: Option<String>,
    /// Set when it is ruled out.
    pub ruled_out: Option<RuledOut>,
    /// The readings that did most for or against it, strongest first.
    #[serde(default)]
    pub grounds: Vec<Ground>,
}

/// Severity with its central 90 %.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SeverityEstimate {
    /// 5 % point.
    pub low: f64,
    /// Median.
    pub median: f64,
    /// 95 % point.
    pub high: f64,
}

/// Two faults together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PairShare {
    /// The two cause ids.
    pub causes: Vec<String>,
    /// Probability.
    pub probability: f64,
}

/// The reading that ruled a cause out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RuledOut {
    /// Observation with the largest drop.
    pub by: String,
    /// How many times the odds fell over all observations.
    pub factor: f64,
}

/// Words for likelihood (one scale; the number is always shown with it).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum LikelihoodWord {
    /// Over 99 %.
    AlmostCertain,
    /// 90 to 99 %.
    VeryLikely,
    /// 66 to 90 %.
    Likely,
    /// 33 to 66 %.
    AboutAsLikelyAsNot,
    /// 10 to 33 %.
    Unlikely,
    /// 1 to 10 %.
    VeryUnlikely,
    /// Under 1 %.
    PracticallyRuledOut,
}

impl LikelihoodWord {
    /// The word for a probability.
    #[must_use]
    pub fn of(probability: f64) -> Self {
        match probability {
            p if p > 0.99 => Self::AlmostCertain,
            p if p >= 0.90 => Self::VeryLikely,
            p if p >= 0.66 => Self::Likely,
            p if p >= 0.33 => Self::AboutAsLikelyAsNot,
            p if p >= 0.10 => Self::Unlikely,
            p if p >= 0.01 => Self::VeryUnlikely,
            _ => Self::PracticallyRuledOut,
        }
    }
}

/// A test worth doing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NextTest {
    /// Test id.
    pub test: String,
    /// Expected information about which part is at fault, bits.
    pub gain_bits: f64,
    /// Minutes.
    pub minutes: f64,
    /// Bits per minute.
    pub per_minute: f64,
    /// Bits still unknown, at the pace of this test and the best one after it (one-step roll-out); sorted by it.
    pub expected_minutes: f64,
    /// Caution codes to show first.
    pub cautions: Vec<String>,
    /// What a healthy circuit would show (V, ohm, A), for readings.
    pub healthy: Option<f64>,
    /// Expected cents of bench time until the cause is proven, beginning with this test; only with the shop's rate.
    #[serde(default)]
    pub expected_cents: Option<f64>,
}

/// A test not offered.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WithheldTest {
    /// Test id.
    pub test: String,
    /// Why.
    pub why: WithheldCode,
    /// Tests that would open it.
    pub needs: Vec<String>,
    /// Its caution codes.
    pub cautions: Vec<String>,
}

/// Why a test isn't offered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WithheldCode {
    /// Something must be proven first.
    NeedsProofFirst,
    /// The technician said it can't be reached.
    CannotReach,
    /// The meter has no such mode.
    MeterCannot,
    /// Already done with the complaint present; a repeat tells nothing new.
    AlreadyDone,
}

/// May the module be called the cause?
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ModuleVerdict {
    /// Module id.
    pub module: String,
    /// True only when nothing is missing.
    pub may_be_called: bool,
    /// Probability that the module is at fault.
    pub probability: f64,
    /// What is missing; empty = may be called.
    pub missing: Vec<Missing>,
    /// Cause ids named together with the module because no reading separates them.
    pub group: Vec<String>,
    /// The readings that did most for or against the module, strongest first.
    #[serde(default)]
    pub grounds: Vec<Ground>,
    /// What would overturn this verdict, most useful first.
    #[serde(default)]
    pub overturned_by: Vec<Overturn>,
}

/// One thing missing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Missing {
    /// Sort.
    pub code: MissingCode,
    /// Evidence id, cause id or observation id it is about.
    pub about: Option<String>,
    /// Test that would fill it.
    pub test: Option<String>,
}

/// Sort of missing evidence.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum MissingCode {
    /// A supply wasn't observed while the complaint was present.
    SupplyNotObserved,
    /// A supply was observed and isn't good.
    SupplyNotGood,
    /// A ground wasn't observed while the complaint was present.
    GroundNotObserved,
    /// A ground was observed and isn't good.
    GroundNotGood,
    /// An input wasn't observed (often enough, independently) while the complaint was present.
    InputNotObserved,
    /// An input was observed and isn't good.
    InputNotGood,
    /// The output wasn't observed under load while the complaint was present.
    OutputNotObservedUnderLoad,
    /// An output not measured past its terminal while the complaint was present.
    OutputNotObservedPastTerminal,
    /// The output was observed under load and doesn't fail.
    OutputDoesNotFail,
    /// What hangs on the connector wasn't observed with the module unplugged.
    HarnessNotObserved,
    /// It was observed and isn't good.
    HarnessNotGood,
    /// The connector wasn't opened, looked at and tested for grip.
    ConnectorNotInspected,
    /// The connector was found damaged.
    ConnectorNotClean,
    /// The failing reading wasn't repeated, leads placed anew, after the connector was looked at.
    FailingReadingNotRepeated,
    /// Probability below what a call needs.
    ProbabilityTooLow,
    /// Another cause is more probable than a call allows.
    RivalTooLikely,
    /// A cause outside the module can't be separated from it by any reading.
    NotSeparable,
    /// Readings contradict each other.
    ReadingsContradict,
}

/// Readings that don't go together.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Doubt {
    /// Sort.
    pub code: DoubtCode,
    /// The observations.
    pub observations: Vec<String>,
    /// Which of them to repeat first.
    pub repeat: Option<String>,
}

/// Sort of doubt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum DoubtCode {
    /// No single cause can show both.
    Contradiction,
    /// No single cause fits all readings, though every two go together.
    NoCauseFitsAll,
    /// No cause of this circuit can show this reading.
    NotInThisCircuit,
}

/// What was to be expected.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Expected {
    /// Observation id.
    pub observation: String,
    /// Reading in a healthy circuit (V, ohm, A; yes = 1, no = 0); absent = over-limit or unsteady.
    pub healthy: Option<f64>,
    /// Reading under the leading cause at its most probable severity.
    pub leading_cause: Option<f64>,
}
