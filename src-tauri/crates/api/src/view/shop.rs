use super::{BothLanguages, CheckView, Verdict};
use crate::entry::Preferences;
use job::event::OdometerUnit;
use job::rules::{DateOrder, SellerNumber, SignPlace, TaxName};
use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

/// The shop, this device and how the screens look.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ShopView {
    /// False until the first start has been answered.
    pub set_up: bool,
    /// Shop name.
    pub name: String,
    /// Technician's name as it stands in the records.
    pub technician: String,
    /// Registration number of the shop where the region asks for one.
    pub registration: String,
    /// Street, place, state and code.
    pub address: String,
    /// Phone.
    pub phone: String,
    /// E-mail.
    pub email: String,
    /// Region code ("US-CA").
    pub region: String,
    /// Labour rate in minor units per hour.
    pub labour_rate: String,
    /// Sales tax in hundred-thousandths (7.25 % is 7250).
    pub tax_rate: u32,
    /// Whether new lines for parts start as taxed: `yes`, `no`, or empty for the region's own.
    pub parts_taxed: String,
    /// The same for labor and sublet work.
    pub labour_taxed: String,
    /// The same for core charges.
    pub core_taxed: String,
    /// The number for the tax that stands on bills; empty where the shop has none.
    pub tax_number: String,
    /// Its series of numbers for invoices and credit notes.
    pub series: SeriesView,
    /// Years that records are kept, where the shop chose a number; empty otherwise.
    pub keeps_years: String,
    /// The rules of the region.
    pub rules: RulesView,
    /// The device that signs.
    pub device: DeviceView,
    /// When everything that is kept was last checked.
    pub check: CheckView,
    /// Language, theme, hand, vibration.
    pub preferences: Preferences,
}

/// How invoices and credit notes are numbered on this device.
#[derive(Clone, Debug, Default, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct SeriesView {
    /// What the shop chose for invoices; empty for the usual.
    pub invoice_prefix: String,
    /// What the shop chose for credit notes; empty for the usual.
    pub credit_prefix: String,
    /// What the numbers of its next invoices begin with ("INV-").
    pub invoices_begin: String,
    /// What the numbers of its next credit notes begin with ("CN-K7QX-").
    pub credit_notes_begin: String,
    /// This device's code.
    pub code: String,
    /// The code stands in its numbers.
    pub numbered_apart: bool,
    /// It can't be left out: the device was made from another one's backup.
    pub always_apart: bool,
    /// Another device of the shop is known.
    pub other_devices: bool,
}

/// Rules of authorisation of one region, as data with sources. Always shown with "check your local rules".
#[derive(Clone, Debug, Default, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct RulesView {
    /// Region code.
    pub region: String,
    /// Region name.
    pub name: BothLanguages,
    /// How the region writes amounts and dates.
    pub locale: LocaleView,
    /// Whether any rule of authorization is known of the region.
    pub known: bool,
    /// Written estimate required.
    pub requires_written: bool,
    /// Margin above the approved total in percent.
    pub margin_percent: String,
    /// Margin above the approved total in minor units, empty when there is none.
    pub margin_cents: String,
    /// With both margins: the smaller holds.
    pub margin_lesser: bool,
    /// The most the margin may come to in minor units, empty when there is no such limit.
    pub margin_cap_cents: String,
    /// The written estimate is asked for above this total in minor units; empty where it is always.
    pub written_above_cents: String,
    /// The customer may do without it.
    pub waiver: bool,
    /// Working days for which an estimate holds at least; 0 where none is known.
    pub estimate_valid_days: u32,
    /// The shop's registration number has to stand on estimates and bills.
    pub registration_number: bool,
    /// The shop's number for its tax has to stand on bills.
    pub seller_number_on_bill: bool,
    /// An approval by phone names the number that was called.
    pub called_number: bool,
    /// Parts replaced after an approval by phone are held.
    pub telephone_holds_parts: bool,
    /// Least warranty in days; 0 where none is known.
    pub warranty_days: u32,
    /// Least warranty in months, where the rule counts in them; 0 otherwise.
    pub warranty_months: u32,
    /// Least warranty as a distance; 0 where none is known.
    pub warranty_distance: u32,
    /// What that is counted in.
    pub warranty_unit: OdometerUnit,
    /// Years that records are kept unless the shop chose another number.
    pub keeps_years: u32,
    /// The fewest years that the rule wants; 0 where none is known.
    pub law_keeps_years: u32,
    /// Where each rule comes from, with its status.
    pub sources: Vec<String>,
}

/// How a region writes amounts and dates, and what it calls its tax.
#[derive(Clone, Debug, Default, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct LocaleView {
    /// Sign of the currency, "$"; empty where the region has no single one.
    pub sign: String,
    /// Whether it stands before or behind the amount.
    pub sign_place: SignPlace,
    /// Mark before the cents.
    pub decimal: String,
    /// Mark between thousands.
    pub group: String,
    /// Order of day, month and year.
    pub date_order: DateOrder,
    /// What odometers count in.
    pub distance: OdometerUnit,
    /// What the tax is called.
    pub tax_name: TaxName,
    /// Whether prices told to customers have the tax in them.
    pub prices_include_tax: bool,
    /// Which number of the seller stands on a bill.
    pub seller_number: SellerNumber,
}

/// The device's signing key, shown so that a customer can note it.
#[derive(Clone, Debug, Default, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct DeviceView {
    /// Device name in the logs.
    pub device: String,
    /// SHA-256 of the public key, hexadecimal; empty before the first start.
    pub fingerprint: String,
    /// The same in eight words.
    pub fingerprint_words: String,
    /// The same as a QR code (SVG).
    pub fingerprint_qr: String,
    /// The public key (PEM), for another device of the shop to be added.
    pub public_key: String,
    /// How the key is protected: `owner_only_file`, `passphrase`, `hardware`, `no_key`.
    pub protection: String,
    /// `ready`, `locked` (its passphrase is asked for) or `lost`.
    pub state: String,
    /// Characters that a new passphrase needs at least.
    pub passphrase_least: u32,
    /// Keys before this one.
    pub earlier_keys: u32,
}

/// What is said of a VIN while it is being typed.
#[derive(Clone, Debug, Default, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct VinView {
    /// The VIN in capitals without spaces.
    pub vin: String,
    /// Whether it can be a VIN; the reason names the position that can't be.
    pub verdict: Verdict,
    /// Position from 1 that can't be, 0 when none.
    pub position: u32,
    /// Model year if its code says one, by the rule for cars and light trucks.
    pub model_year: String,
    /// The other year with the same code, for heavy trucks, trailers and motorcycles; empty where it is still to come.
    pub model_year_otherwise: String,
    /// Region that the maker's code was given out in: africa, asia, europe, north_america, oceania, south_america; empty where
    /// the first character names none.
    pub region: String,
}
