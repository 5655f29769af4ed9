pub use job::event::{PaymentWay, SupplierStep};
pub use money::ledger::{CostKind, Means};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// What of an invoice is credited.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct CreditNoteEntry {
    /// Record of the invoice.
    pub invoice: String,
    /// Lines that are credited; a line that isn't named stays billed.
    pub lines: Vec<CreditLineEntry>,
    /// Why.
    pub reason: String,
}

/// How much of a line is credited.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct CreditLineEntry {
    /// Place of the line in the invoice, from 1.
    pub line: u32,
    /// Hours or pieces as typed; empty for all of it.
    pub quantity: String,
}

/// Money between shop and customer.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct PaymentEntry {
    /// Which way it went.
    pub way: PaymentWay,
    /// How it changed hands.
    #[ts(type = "'cash' | 'card' | 'check' | 'transfer'")]
    pub means: Means,
    /// How much, as typed.
    pub amount: String,
    /// Day on which it did ("2026-11-28"); empty for today.
    pub day: String,
    /// Number of the check, last digits of the card, reference of the transfer.
    pub reference: String,
    /// Note.
    pub note: String,
    /// Photos kept before, by hash.
    pub photos: Vec<String>,
}

/// One step between the shop and a supplier.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct SupplierStepEntry {
    /// What happened.
    pub step: SupplierStep,
    /// The business.
    pub supplier: String,
    /// What it is for.
    #[ts(type = "'part' | 'core' | 'labour' | 'sublet' | 'programming' | 'other'")]
    pub what: CostKind,
    /// In words.
    pub description: String,
    /// How much, as typed.
    pub amount: String,
    /// How it was paid: cash, card, check, transfer; null for anything but a payment.
    #[ts(type = "'cash' | 'card' | 'check' | 'transfer' | null")]
    pub means: Option<Means>,
    /// Day on which it was ("2026-11-28"); empty for today.
    pub day: String,
    /// Day until which a return is taken or credit is due; may be empty.
    pub due: String,
    /// Number of the quote, the bill, the check.
    pub reference: String,
    /// Who of the supplier said so.
    pub by: String,
    /// Photos kept before, by hash.
    pub photos: Vec<String>,
}
