use super::PhotoView;
use job::event::OdometerUnit;
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
    /// Who may approve costs.
    pub approver: String,
    /// Arrival photos.
    pub photos: Vec<PhotoView>,
}
