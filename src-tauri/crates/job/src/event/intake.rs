use super::RecordKind;
use super::check::{self, Unusable};
use super::descriptor::{AGREED, CUSTOMER, Descriptor, Field, JUDGES};
use super::fault_code::{self, FaultCode};
use money::Cents;
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
    /// Language in which the customer wants to be written to: en or es; empty when it was taken back.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub language: Option<String>,
    /// Who may approve costs, in free words. Withheld. Since there are fields for each part of it, nothing new is written
    /// here; it is no name to sign with.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub approver: Option<String>,
    /// Name of who may approve costs besides the customer. Withheld.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub approver_name: Option<String>,
    /// What that person is to the customer: relation or role. Withheld.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub approver_role: Option<String>,
    /// That person's phone. Withheld.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub approver_phone: Option<String>,
    /// Up to which total that person may approve: an amount in minor units as a decimal text. Withheld.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub approver_limit: Option<String>,
    /// All fault codes that were read when the vehicle came in; a later list takes the place of an earlier one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fault_codes: Option<Vec<FaultCode>>,
    /// Number of the job of this shop that the vehicle comes back from, digits; empty when it was taken back.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub comes_back_from: Option<String>,
    /// Whether the customer claims the shop's warranty.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub warranty: Option<bool>,
    /// Names of withheld fields that were emptied: their earlier text counts no longer, whoever still has it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub emptied: Vec<String>,
}

impl IntakeKept {
    /// Takes over every field that `newer` holds.
    pub fn merge(&mut self, newer: &IntakeKept) {
        if newer.odometer_unit.is_some() {
            self.odometer_unit = newer.odometer_unit;
        }
        if newer.warranty.is_some() {
            self.warranty = newer.warranty;
        }
        if newer.fault_codes.is_some() {
            self.fault_codes.clone_from(&newer.fault_codes);
        }
        for (name, mine) in self.texts() {
            if newer.emptied.iter().any(|emptied| emptied == name) {
                *mine = None;
            }
        }
        let mut newer = newer.clone();
        for ((_, mine), (_, theirs)) in self.texts().into_iter().zip(newer.texts()) {
            if theirs.is_some() {
                mine.clone_from(theirs);
            }
        }
    }

    /// An empty text in a withheld field would leave no trace in the record: what was emptied is named instead.
    #[must_use]
    pub fn with_emptied(mut self) -> IntakeKept {
        let mut emptied = Vec::new();
        for (name, text) in self.texts() {
            let withheld = Self::DESCRIPTOR.withheld().any(|field| field == name);
            if withheld && text.as_ref().is_some_and(String::is_empty) {
                *text = None;
                emptied.push(name.to_owned());
            }
        }
        IntakeKept { emptied, ..self }
    }

    /// Every field that is a text, by its name.
    fn texts(&mut self) -> [(&'static str, &mut Option<String>); 18] {
        [
            ("vin", &mut self.vin),
            ("vin_start", &mut self.vin_start),
            ("plate", &mut self.plate),
            ("make", &mut self.make),
            ("model", &mut self.model),
            ("year", &mut self.year),
            ("odometer", &mut self.odometer),
            ("complaint", &mut self.complaint),
            ("customer", &mut self.customer),
            ("phone", &mut self.phone),
            ("email", &mut self.email),
            ("language", &mut self.language),
            ("approver", &mut self.approver),
            ("approver_name", &mut self.approver_name),
            ("approver_role", &mut self.approver_role),
            ("approver_phone", &mut self.approver_phone),
            ("approver_limit", &mut self.approver_limit),
            ("comes_back_from", &mut self.comes_back_from),
        ]
    }
}

impl IntakeKept {
    /// Up to which total the approver may approve, where it was said and can be reckoned with.
    #[must_use]
    pub fn limit(&self) -> Option<Cents> {
        let text = self.approver_limit.clone().filter(|text| !text.is_empty())?;
        Cents::try_from(text).ok()
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
            Field::public("language"),
            Field::withheld("approver", AGREED),
            Field::withheld("approver_name", AGREED),
            Field::withheld("approver_role", AGREED),
            Field::forgettable("approver_phone", CUSTOMER),
            Field::withheld("approver_limit", AGREED),
            Field::public("fault_codes"),
            Field::public("comes_back_from"),
            Field::public("warranty"),
            Field::public("emptied"),
        ],
    );

    fn admissible(&self) -> Result<(), Unusable> {
        fault_code::admissible(self.fault_codes.as_deref().unwrap_or_default())?;
        match &self.approver_limit {
            Some(text) if !text.is_empty() => {
                let limit = Cents::try_from(text.clone());
                let limit = limit.map_err(|error| Unusable::new("approver_limit", error.to_string()))?;
                check::amount("approver_limit", limit)
            }
            _ => Ok(()),
        }
    }
}
