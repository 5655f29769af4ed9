use super::RecordKind;
use super::descriptor::{AGREED, CUSTOMER, Descriptor, Field, JUDGES};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// What an odometer counts in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum OdometerUnit {
    /// Miles.
    #[default]
    Mi,
    /// Kilometers.
    Km,
}

/// Fields of the intake that were entered together; an absent field is unchanged.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct IntakeKept {
    /// VIN, checked. Withheld.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub vin: Option<String>,
    /// The VIN's first eleven characters: maker, sort of vehicle, model year and works. They name no single vehicle, so
    /// they are public and stay when the rest is withheld (49 CFR 565.15: the serial number begins behind them).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub vin_start: Option<String>,
    /// Licence plate. Withheld.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub plate: Option<String>,
    /// Make.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub make: Option<String>,
    /// Model.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub model: Option<String>,
    /// Model year.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub year: Option<String>,
    /// Odometer, digits.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub odometer: Option<String>,
    /// Unit of the odometer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub odometer_unit: Option<OdometerUnit>,
    /// The complaint in the customer's own words. Withheld.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub complaint: Option<String>,
    /// Customer's name. Withheld.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub customer: Option<String>,
    /// Phone. Withheld.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub phone: Option<String>,
    /// E-mail. Withheld.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub email: Option<String>,
    /// Who may approve costs. Withheld.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub approver: Option<String>,
}

impl IntakeKept {
    /// Takes over every field that `newer` holds.
    pub fn merge(&mut self, newer: &IntakeKept) {
        if newer.odometer_unit.is_some() {
            self.odometer_unit = newer.odometer_unit;
        }
        let fields = [
            (&mut self.vin, &newer.vin),
            (&mut self.vin_start, &newer.vin_start),
            (&mut self.plate, &newer.plate),
            (&mut self.make, &newer.make),
            (&mut self.model, &newer.model),
            (&mut self.year, &newer.year),
            (&mut self.odometer, &newer.odometer),
            (&mut self.complaint, &newer.complaint),
            (&mut self.customer, &newer.customer),
            (&mut self.phone, &newer.phone),
            (&mut self.email, &newer.email),
            (&mut self.approver, &newer.approver),
        ];
        for (mine, theirs) in fields {
            if theirs.is_some() {
                mine.clone_from(theirs);
            }
        }
    }
}

impl RecordKind for IntakeKept {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "intake_kept",
        &[
            Field::withheld("vin", JUDGES),
            Field::public("vin_start"),
            Field::forgettable("plate", CUSTOMER),
            Field::public("make"),
            Field::public("model"),
            Field::public("year"),
            Field::public("odometer"),
            Field::public("odometer_unit"),
            Field::withheld("complaint", AGREED),
            Field::withheld("customer", AGREED),
            Field::forgettable("phone", CUSTOMER),
            Field::forgettable("email", CUSTOMER),
            Field::withheld("approver", AGREED),
        ],
    );
}
