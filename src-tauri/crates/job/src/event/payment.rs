use super::RecordKind;
use super::check::{self, Unusable};
use super::descriptor::{AGREED, Descriptor, Field};
use chrono::NaiveDate;
use evidence::Digest;
use money::Cents;
use money::ledger::Means;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Which way money went between shop and customer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum PaymentWay {
    /// The customer paid; before the first invoice that is a deposit.
    Received,
    /// The shop gave money back.
    Refunded,
}

/// Money between shop and customer.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PaymentKept {
    /// Which way it went.
    pub way: PaymentWay,
    /// How it changed hands.
    pub means: Means,
    /// How much, above zero.
    pub amount: Cents,
    /// Day on which it did, `YYYY-MM-DD`, local.
    pub day: String,
    /// Number of the check, last digits of the card, reference of the transfer. Withheld.
    #[serde(default)]
    pub reference: String,
    /// Note, such as why money was given back. Withheld.
    #[serde(default)]
    pub note: String,
    /// Photos of the slip, the check.
    #[serde(default)]
    pub photos: Vec<Digest>,
}

impl RecordKind for PaymentKept {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "payment_kept",
        &[
            Field::public("way"),
            Field::public("means"),
            Field::public("amount"),
            Field::public("day"),
            Field::withheld("reference", AGREED),
            Field::withheld("note", AGREED),
            Field::public("photos"),
        ],
    )
    .signed();

    fn photos(&self) -> Vec<Digest> {
        self.photos.clone()
    }

    fn admissible(&self) -> Result<(), Unusable> {
        above_zero(self.amount)?;
        day("day", &self.day).map(drop)
    }
}

/// An amount that moves is more than nothing.
pub(super) fn above_zero(amount: Cents) -> Result<(), Unusable> {
    check::amount("amount", amount)?;
    if amount == Cents::ZERO {
        return Err(Unusable::new("amount", "it is 0: write how much it was"));
    }
    Ok(())
}

/// A day as records write it.
pub(super) fn day(field: &'static str, text: &str) -> Result<NaiveDate, Unusable> {
    let read = NaiveDate::parse_from_str(text, "%Y-%m-%d").ok();
    let written = read.filter(|day| day.format("%Y-%m-%d").to_string() == text);
    written.ok_or_else(|| Unusable::new(field, format!("{text:?} is not a day: write year-month-day")))
}
