pub use job::event::OdometerUnit;
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
    /// Who may approve costs.
    pub approver: Option<String>,
}
