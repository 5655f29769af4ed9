use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Answers of the first start; may be sent again to change them.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct ShopEntry {
    /// Shop name.
    pub name: String,
    /// Technician's name.
    pub technician: String,
    /// Region code of `regions`.
    pub region: String,
    /// Registration number, may be empty.
    pub registration: String,
    /// Street, place, state and code as they stand on its papers; may be empty.
    #[serde(default)]
    pub address: String,
    /// Phone, may be empty.
    #[serde(default)]
    pub phone: String,
    /// E-mail, may be empty.
    #[serde(default)]
    pub email: String,
    /// Labour rate per hour as typed ("120", "119,50").
    pub labour_rate: String,
    /// Sales tax in percent as typed ("7.25").
    pub tax_percent: String,
    /// Whether new lines for parts start as taxed: `yes`, `no`, or empty for the region's own.
    #[serde(default)]
    pub parts_taxed: String,
    /// The same for labor and sublet work.
    #[serde(default)]
    pub labour_taxed: String,
    /// The same for core charges.
    #[serde(default)]
    pub core_taxed: String,
    /// The number for the tax that stands on bills, may be empty.
    #[serde(default)]
    pub tax_number: String,
    /// What invoices' numbers begin with, may be empty for the usual.
    #[serde(default)]
    pub invoice_prefix: String,
    /// What credit notes' numbers begin with, may be empty for the usual.
    #[serde(default)]
    pub credit_prefix: String,
    /// This device's code stands in its numbers; always so on a device made from another one's backup.
    #[serde(default)]
    pub numbered_apart: bool,
    /// Years to keep records as typed; empty for the usual number.
    #[serde(default)]
    pub keeps_years: String,
}

/// How the screens look and feel.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct Preferences {
    /// `en` or `es`.
    pub language: String,
    /// `light`, `dark` or `system`.
    pub theme: String,
    /// `right` or `left`.
    pub hand: String,
    /// Vibrate when something was kept or failed.
    pub vibration: bool,
    /// Size of text, percent of the usual: 100, 125, 150 or 200.
    #[serde(default = "usual_size")]
    pub text_size: u16,
}

/// Of shops that were set up before it could be chosen.
const fn usual_size() -> u16 {
    100
}

impl Default for Preferences {
    fn default() -> Self {
        Preferences {
            language: "en".into(),
            theme: "system".into(),
            hand: "right".into(),
            vibration: true,
            text_size: usual_size(),
        }
    }
}

/// A backup to be restored on a device that was not set up yet.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct RestoreEntry {
    /// The file.
    pub path: String,
    /// Its passphrase.
    pub passphrase: String,
    /// `same_device` or `second_device`.
    pub restore_as: String,
}
