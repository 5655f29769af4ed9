use super::PhotoView;
use job::event::{FaultStatus, FrameLine, OdometerUnit};
use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

/// What was written down when the vehicle came in.
#[derive(Clone, Debug, Default, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct IntakeView {
    /// VIN, 17 characters, or empty.
    pub vin: String,
    /// Licence plate.
    pub plate: String,
    /// Make, model and year as the technician wrote them.
    pub make: String,
    /// Model.
    pub model: String,
    /// Model year.
    pub year: String,
    /// Odometer reading, digits.
    pub odometer: String,
    /// `mi` or `km`.
    pub odometer_unit: OdometerUnit,
    /// The complaint in the customer's own words.
    pub complaint: String,
    /// Customer's name.
    pub customer: String,
    /// Customer's phone.
    pub phone: String,
    /// Customer's e-mail.
    pub email: String,
    /// Language in which the customer wants to be written to; empty where nobody asked.
    pub language: String,
    /// Who may approve costs, in the free words of older records.
    pub approver: String,
    /// Name of who may approve costs besides the customer.
    pub approver_name: String,
    /// Relation or role.
    pub approver_role: String,
    /// That person's phone.
    pub approver_phone: String,
    /// Up to which total, minor units; empty where no limit was given.
    pub approver_limit: String,
    /// Fault codes in the order they were written down.
    pub fault_codes: Vec<FaultCodeView>,
    /// Arrival photos.
    pub photos: Vec<PhotoView>,
    /// Number of the job that the vehicle comes back from; empty for none.
    pub comes_back_from: String,
    /// Whether the customer claims the shop's warranty.
    pub warranty: bool,
}

/// A fault code.
#[derive(Clone, Debug, Default, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct FaultCodeView {
    /// The code, with its failure type ("U0100-87").
    pub code: String,
    /// Where it is kept.
    pub status: FaultStatus,
    /// The module that reported it; may be empty.
    pub module: String,
    /// What the module kept with it.
    pub freeze_frame: Vec<FrameLine>,
}
