use evidence::Digest;
use money::Cents;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Who programs the module.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ProgrammingDecided {
    /// own_tool, remote_service, dealer_sublet.
    pub route: String,
    /// Provider: a business; empty for the own tool.
    #[serde(default)]
    pub provider: String,
    /// Quoted amount.
    pub quoted: Cents,
    /// What the model expected of every route when it was decided.
    pub weighed: Vec<WeighedRoute>,
    /// Appointment. Withheld.
    #[serde(default)]
    pub appointment: String,
    /// Why. Withheld.
    #[serde(default)]
    pub reason: String,
}

/// A route as it was weighed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WeighedRoute {
    /// Route.
    pub route: String,
    /// Expected cost.
    pub expected_cost: Cents,
    /// Expected hours, decimal.
    pub expected_hours: String,
    /// Probability of success, decimal.
    pub success: String,
}

/// What came of the programming.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ProgrammingReported {
    /// succeeded, failed, module_lost.
    pub outcome: String,
    /// Supply voltage logged, decimal volts; empty when not logged.
    #[serde(default)]
    pub supply_volts: String,
    /// Software number before.
    #[serde(default)]
    pub software_before: String,
    /// Software number after.
    #[serde(default)]
    pub software_after: String,
    /// Billed amount.
    pub billed: Cents,
    /// Photos of bill, charger, screen.
    #[serde(default)]
    pub photos: Vec<Digest>,
}
