//! How a region writes money, dates and distances, and what it calls its tax.

use crate::event::OdometerUnit;
use money::{Cents, Marks};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Where the sign of the currency stands.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum SignPlace {
    /// Before the amount: $1,234.50.
    #[default]
    Before,
    /// Behind it, with a space between that doesn't break: 1.234,50 €.
    After,
}

/// Order of day, month and year in a date of digits.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum DateOrder {
    /// 11/30/2026.
    MonthDayYear,
    /// 30/11/2026.
    DayMonthYear,
    /// 2026-11-30 (ISO 8601).
    #[default]
    YearMonthDay,
}

/// Size of a sheet.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum Paper {
    /// 8.5 by 11 inches.
    Letter,
    /// 210 by 297 mm (ISO 216).
    #[default]
    A4,
}

/// What the tax on a bill is called.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum TaxName {
    /// No particular name.
    #[default]
    Tax,
    /// Sales tax.
    SalesTax,
    /// Value added tax.
    Vat,
    /// Goods and services tax, harmonized sales tax.
    GstHst,
    /// Impuesto sobre el valor añadido, impuesto al valor agregado.
    Iva,
}

/// Which number of the seller stands on a bill for its tax.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum SellerNumber {
    /// None that is known.
    #[default]
    None,
    /// VAT registration number.
    Vat,
    /// GST/HST account number.
    GstHst,
    /// Número de identificación fiscal.
    Nif,
    /// Registro Federal de Contribuyentes.
    Rfc,
}

/// How a region writes amounts, dates and distances.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Locale {
    /// Sign of the currency, "$"; empty where the region has no single one.
    pub sign: String,
    /// Where it stands.
    pub sign_place: SignPlace,
    /// Mark before the cents.
    pub decimal: char,
    /// Mark between thousands.
    pub group: char,
    /// Order of a date of digits.
    pub date_order: DateOrder,
    /// Paper of reports.
    pub paper: Paper,
    /// What odometers count in.
    pub distance: OdometerUnit,
    /// What the tax is called.
    pub tax_name: TaxName,
    /// Whether prices told to customers have the tax in them: then what is typed is what is paid.
    pub prices_include_tax: bool,
    /// Which number of the seller stands on a bill.
    pub seller_number: SellerNumber,
}

impl Default for Locale {
    /// Where nothing is known of the region: no sign, a decimal point, ISO dates and paper.
    fn default() -> Locale {
        Locale {
            sign: String::new(),
            sign_place: SignPlace::Before,
            decimal: '.',
            group: ',',
            date_order: DateOrder::YearMonthDay,
            paper: Paper::A4,
            distance: OdometerUnit::Km,
            tax_name: TaxName::Tax,
            prices_include_tax: false,
            seller_number: SellerNumber::None,
        }
    }
}

impl Locale {
    /// An amount as the region writes it: "$1,234.50", "-$0.05", "1.234,50 €", "£1,234.50".
    #[must_use]
    pub fn amount(&self, amount: Cents) -> String {
        let text = amount.grouped(self.group, self.decimal);
        let (minus, size) = text.strip_prefix('-').map_or(("", text.as_str()), |size| ("-", size));
        match self.sign_place {
            _ if self.sign.is_empty() => text,
            SignPlace::Before => format!("{minus}{}{size}", self.sign),
            // A no-break space, so that the sign never starts a line of its own.
            SignPlace::After => format!("{minus}{size}\u{a0}{}", self.sign),
        }
    }

    /// The marks that a typed amount is read with; none where nobody knows what currency is written there.
    #[must_use]
    pub fn marks(&self) -> Option<Marks> {
        (!self.sign.is_empty()).then_some(Marks { decimal: self.decimal, group: self.group })
    }
}
