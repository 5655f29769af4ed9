use super::RecordKind;
use super::check::{self, Unusable};
use super::descriptor::{Descriptor, Field, JUDGES, MEASURED};
use evidence::Digest;
use money::Cents;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Who programs a module.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum ProgrammingRoute {
    /// The shop, with its own pass-thru tool.
    OwnTool,
    /// A remote service, by appointment.
    RemoteService,
    /// A dealer, as sublet work.
    DealerSublet,
}

/// How programming ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum ProgrammingOutcome {
    /// The module runs.
    Succeeded,
    /// It doesn't; it may be tried again.
    Failed,
    /// The module is beyond recovery.
    ModuleLost,
}

/// Who programs the module.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ProgrammingDecided {
    /// The route that is taken.
    pub route: ProgrammingRoute,
    /// Provider: a business; empty for the own tool.
    #[serde(default)]
    pub provider: String,
    /// Quoted amount.
    pub quoted: Cents,
    /// What the model expected of every route when it was decided.
    pub weighed: Vec<WeighedRoute>,
    /// Appointment as it was written down, without a zone. Withheld. Since there is a field with the zone, nothing new is
    /// written here.
    #[serde(default)]
    pub appointment: String,
    /// Appointment with its offset (RFC 3339). Withheld.
    #[serde(default)]
    pub appointment_at: String,
    /// Why. Withheld.
    #[serde(default)]
    pub reason: String,
}

/// A route as it was weighed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WeighedRoute {
    /// Route.
    pub route: ProgrammingRoute,
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
    /// How it ended.
    pub outcome: ProgrammingOutcome,
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
    /// Record of the attempt that was written down wrong and is corrected by this one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub corrects: Option<Digest>,
}

impl ProgrammingDecided {
    /// The appointment as it is known: with its offset, or as an older record has it. Empty where there is none.
    #[must_use]
    pub fn due(&self) -> &str {
        if self.appointment_at.is_empty() { &self.appointment } else { &self.appointment_at }
    }
}

impl RecordKind for ProgrammingDecided {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "programming_decided",
        &[
            Field::public("route"),
            Field::public("provider"),
            Field::public("quoted"),
            Field::public("weighed"),
            Field::withheld("appointment", MEASURED),
            Field::withheld("appointment_at", MEASURED),
            Field::withheld("reason", JUDGES),
        ],
    );

    fn admissible(&self) -> Result<(), Unusable> {
        check::amount("quoted", self.quoted)
    }
}

impl RecordKind for ProgrammingReported {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "programming_reported",
        &[
            Field::public("outcome"),
            Field::public("supply_volts"),
            Field::public("software_before"),
            Field::public("software_after"),
            Field::public("billed"),
            Field::public("photos"),
            Field::public("corrects"),
        ],
    );

    fn photos(&self) -> Vec<Digest> {
        self.photos.clone()
    }

    fn admissible(&self) -> Result<(), Unusable> {
        check::amount("billed", self.billed)
    }
}
