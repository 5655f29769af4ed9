use super::RecordKind;
use super::check::Unusable;
use super::descriptor::{AGREED, Descriptor, Field};
use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The longest warranties that anybody gives on a repair, with room (judgment): beyond is a slip of the finger.
const MOST_MONTHS: u32 = 240;
const MOST_DISTANCE: u32 = 1_000_000;

fn within(field: &'static str, number: Option<u32>, most: u32) -> Result<(), Unusable> {
    match number {
        Some(number) if number == 0 || number > most => {
            Err(Unusable::new(field, format!("{number} is not between 1 and {most}")))
        }
        _ => Ok(()),
    }
}

/// The vehicle went back to the customer.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HandedOver {
    /// Warranty terms. Withheld.
    #[serde(default)]
    pub warranty: String,
    /// The warranty in months from this day, where it was agreed so. Withheld.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub warranty_months: Option<u32>,
    /// The warranty in miles or kilometers from this odometer, whichever comes first. Withheld.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub warranty_distance: Option<u32>,
    /// Odometer at hand-over, digits; empty where nobody read it. Withheld.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub odometer: String,
    /// What was done with the old parts. Withheld.
    #[serde(default)]
    pub old_parts: String,
    /// Photos.
    #[serde(default)]
    pub photos: Vec<Digest>,
}

impl RecordKind for HandedOver {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "handed_over",
        &[
            Field::withheld("warranty", AGREED),
            Field::withheld("warranty_months", AGREED),
            Field::withheld("warranty_distance", AGREED),
            Field::withheld("odometer", AGREED),
            Field::withheld("old_parts", AGREED),
            Field::public("photos"),
        ],
    )
    .signed();

    fn admissible(&self) -> Result<(), Unusable> {
        within("warranty_months", self.warranty_months, MOST_MONTHS)?;
        within("warranty_distance", self.warranty_distance, MOST_DISTANCE)?;
        if self.odometer.bytes().all(|byte| byte.is_ascii_digit()) {
            return Ok(());
        }
        Err(Unusable::new("odometer", format!("{} is not a number of digits", self.odometer)))
    }

    fn photos(&self) -> Vec<Digest> {
        self.photos.clone()
    }
}
