pub use job::event::{FaultStatus, FrameLine, OdometerUnit};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Fields of the intake that were just entered; a field left out stays as it is.
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields, default)]
#[ts(export, optional_fields)]
pub struct IntakeEntry {
    /// VIN; a wrong one is refused.
    pub vin: Option<String>,
    /// Licence plate.
    pub plate: Option<String>,
    /// Make.
    pub make: Option<String>,
    /// Model.
    pub model: Option<String>,
    /// Model year.
    pub year: Option<String>,
    /// Odometer as typed ("84,210").
    pub odometer: Option<String>,
    /// Unit of the odometer.
    pub odometer_unit: Option<OdometerUnit>,
    /// The complaint in the customer's words.
    pub complaint: Option<String>,
    /// Customer's name.
    pub customer: Option<String>,
    /// Phone.
    pub phone: Option<String>,
    /// E-mail.
    pub email: Option<String>,
    /// Language in which the customer wants to be written to: `en`, `es`, or empty.
    pub language: Option<String>,
    /// Name of who may approve costs besides the customer.
    pub approver_name: Option<String>,
    /// Relation or role.
    pub approver_role: Option<String>,
    /// That person's phone.
    pub approver_phone: Option<String>,
    /// Up to which total, as typed ("600").
    pub approver_limit: Option<String>,
    /// Number of the job of this shop that the vehicle comes back from; empty for none.
    pub comes_back_from: Option<String>,
    /// Whether the customer claims the shop's warranty.
    pub warranty: Option<bool>,
    /// All fault codes: those on record that stay, and new ones.
    pub fault_codes: Option<Vec<FaultCodeEntry>>,
}

/// A fault code as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields, default)]
#[ts(export)]
pub struct FaultCodeEntry {
    /// The code, with its failure type where the tool shows one ("P0301", "U0100-87").
    pub code: String,
    /// Where it is kept.
    pub status: FaultStatus,
    /// The module that reported it; may be empty.
    pub module: String,
    /// Freeze frame; lines without a name and a value are left out.
    pub freeze_frame: Vec<FrameLine>,
}
