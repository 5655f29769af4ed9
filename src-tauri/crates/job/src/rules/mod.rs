//! Rules of authorisation, invoicing and tax by region, as data with their sources.
//!
//! Examples to start from, never advice: every set carries `check_local_rules`, and the screens say so. What no
//! source supports is `unknown`, and the app then takes the stricter way: written estimate, no margin.
//!
//! A region is one file in `rules`; the build finds it there.

mod locale;
mod source;
#[cfg(test)]
mod tests;

pub use locale::{DateOrder, Locale, Paper, SellerNumber, SignPlace, TaxName};
pub use source::{Answer, RuleSource, SourceStatus};

use crate::event::OdometerUnit;
use money::{Cents, LineKind, MarginRule, Percent, TaxBasis, TaxRate, Taxation};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::sync::LazyLock;

const FILES: &[&str] = include!(concat!(env!("OUT_DIR"), "/regions.rs"));

/// The files, read once.
static ON_FILE: LazyLock<Vec<RegionRules>> = LazyLock::new(|| all().unwrap_or_default());

/// Rules of one region.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RegionRules {
    /// Code: ISO 3166-2 ("US-CA"), a country ("MX"), or a rest ("US-other", "other").
    pub region: String,
    /// Name in English.
    pub name: String,
    /// Name in Spanish.
    pub name_es: String,
    /// Currency, ISO 4217; empty where the region has no single one.
    pub currency: String,
    /// How the region writes amounts, dates and distances.
    pub locale: Locale,
    /// Estimate in writing before work.
    pub written_estimate: Answer,
    /// The written estimate is asked for above this total only; everywhere without it.
    #[serde(default)]
    pub written_above_cents: Option<Cents>,
    /// The customer may do without the written estimate.
    #[serde(default)]
    pub waiver: Answer,
    /// Working days for which an estimate holds, at least.
    #[serde(default)]
    pub estimate_valid_days: Option<u32>,
    /// Margin over the approved total, share.
    #[serde(default)]
    pub margin_percent: Option<Percent>,
    /// Margin over the approved total, amount.
    #[serde(default)]
    pub margin_cents: Option<Cents>,
    /// With both: the smaller holds.
    #[serde(default)]
    pub margin_lesser: bool,
    /// The most the margin may come to.
    #[serde(default)]
    pub margin_cap_cents: Option<Cents>,
    /// The margin counts for each line, not for the total.
    #[serde(default)]
    pub margin_per_line: Answer,
    /// An approval by phone names the number that was called.
    #[serde(default)]
    pub called_number: Answer,
    /// Parts replaced in work that was approved by phone are held until the vehicle is picked up.
    #[serde(default)]
    pub telephone_holds_parts: Answer,
    /// Years the rule wants records kept, where known.
    #[serde(default)]
    pub law_keeps_years: Option<u32>,
    /// Years the app keeps them: six unless the rule wants more.
    pub keeps_years: u32,
    /// Sublet work is disclosed to the customer beforehand.
    pub sublet_disclosed: Answer,
    /// Days after the first card statement with a charge within which a cardholder's written notice reaches the card issuer.
    #[serde(default)]
    pub card_notice_days: Option<u32>,
    /// Replaced parts are offered back.
    pub old_parts_offered: Answer,
    /// The shop's registration number stands on estimate or invoice.
    pub registration_number: Answer,
    /// The shop's number for its tax ([`Locale::seller_number`]) stands on the bill.
    #[serde(default)]
    pub seller_number_on_bill: Answer,
    /// The invoice says of each part whether it is new, used or rebuilt.
    pub part_condition_on_invoice: Answer,
    /// A line for unspecified shop supplies may be billed.
    pub supplies_line: Answer,
    /// Least warranty on the work: days.
    #[serde(default)]
    pub warranty_days: Option<u32>,
    /// Least warranty on the work: months, where the rule counts in them.
    #[serde(default)]
    pub warranty_months: Option<u32>,
    /// Least warranty on the work: distance, whichever comes first.
    #[serde(default)]
    pub warranty_distance: Option<u32>,
    /// What that distance is counted in.
    #[serde(default)]
    pub warranty_unit: Option<OdometerUnit>,
    /// What tax is rounded on unless the shop chooses the other.
    pub tax_basis: TaxBasis,
    /// Whether a new part line starts as taxed.
    pub parts_taxed: bool,
    /// Whether a new labour line starts as taxed.
    pub labour_taxed: bool,
    /// Whether a new core charge starts as taxed; as parts where unknown.
    #[serde(default)]
    pub core_taxed: Answer,
    /// Always true: shown beside every rule.
    pub check_local_rules: bool,
    /// Where each rule comes from.
    pub sources: Vec<RuleSource>,
}

/// Every region on file, in the order of the list a shop chooses from: states of the US, other countries, the rest.
///
/// # Errors
/// A file that doesn't hold what it should; the tests read them all.
pub fn all() -> Result<Vec<RegionRules>, serde_json::Error> {
    let mut regions: Vec<RegionRules> =
        FILES.iter().map(|text| serde_json::from_str(text)).collect::<Result<_, _>>()?;
    let rank = |region: &str| match region {
        "US-other" => 1,
        "other" => 3,
        state if state.starts_with("US-") => 0,
        _ => 2,
    };
    regions.sort_by(|a, b| (rank(&a.region), &a.name).cmp(&(rank(&b.region), &b.name)));
    Ok(regions)
}

/// Rules of a region; an unknown state of the US gets `US-other`, everything else unknown gets `other`, under
/// the code that was asked for. Neither has a margin.
pub fn of_region(region: &str) -> RegionRules {
    let rest = if region.starts_with("US-") { "US-other" } else { "other" };
    let found = [region, rest].iter().find_map(|code| ON_FILE.iter().find(|rules| rules.region == **code));
    let mut rules = found.cloned().unwrap_or_else(RegionRules::strictest);
    region.clone_into(&mut rules.region);
    rules
}

impl RegionRules {
    /// How far an invoice may pass the approved total.
    pub fn margin(&self) -> MarginRule {
        MarginRule {
            margin_percent: self.margin_percent,
            margin_cents: self.margin_cents,
            lesser: self.margin_lesser,
            cap: self.margin_cap_cents,
        }
    }

    /// How tax at a rate is reckoned on a new paper.
    pub fn taxation(&self, rate: TaxRate) -> Taxation {
        let included = self.locale.prices_include_tax;
        let basis = if included { TaxBasis::Line } else { self.tax_basis };
        Taxation { rate, basis, included }
    }

    /// Whether the app asks for an estimate in writing: unless the rule is known to leave it to the customer.
    pub fn requires_written(&self) -> bool {
        matches!(self.written_estimate, Answer::Yes | Answer::Unknown)
    }

    /// Whether any rule of authorisation is on file.
    pub fn known(&self) -> bool {
        self.written_estimate != Answer::Unknown
    }

    /// Whether a new line of a kind starts as taxed. A starting point: each line has its own switch.
    pub fn starts_taxed(&self, kind: LineKind) -> bool {
        match kind {
            LineKind::Part | LineKind::Supplies => self.parts_taxed,
            LineKind::CoreCharge => match self.core_taxed {
                Answer::Yes => true,
                Answer::No => false,
                Answer::OnRequest | Answer::Unknown => self.parts_taxed,
            },
            LineKind::Diagnosis | LineKind::Labor | LineKind::Programming | LineKind::Sublet => {
                self.labour_taxed
            }
            // What lowers or rounds off the bill follows it where the whole of it is taxed.
            LineKind::CoreCredit | LineKind::Fee | LineKind::Discount => {
                self.parts_taxed && self.labour_taxed
            }
        }
    }

    /// Years that records are kept when the shop chose a number: never fewer than the rule wants.
    pub fn keeps(&self, chosen: Option<u32>) -> u32 {
        chosen.unwrap_or(self.keeps_years).max(self.law_keeps_years.unwrap_or(0))
    }

    fn strictest() -> RegionRules {
        RegionRules {
            region: String::new(),
            name: "Other".into(),
            name_es: "Otro".into(),
            currency: String::new(),
            locale: Locale::default(),
            written_estimate: Answer::Unknown,
            written_above_cents: None,
            waiver: Answer::Unknown,
            estimate_valid_days: None,
            margin_percent: None,
            margin_cents: None,
            margin_lesser: false,
            margin_cap_cents: None,
            margin_per_line: Answer::Unknown,
            called_number: Answer::Unknown,
            telephone_holds_parts: Answer::Unknown,
            law_keeps_years: None,
            card_notice_days: None,
            keeps_years: 6,
            sublet_disclosed: Answer::Unknown,
            old_parts_offered: Answer::Unknown,
            registration_number: Answer::Unknown,
            seller_number_on_bill: Answer::Unknown,
            part_condition_on_invoice: Answer::Unknown,
            supplies_line: Answer::Unknown,
            warranty_days: None,
            warranty_months: None,
            warranty_distance: None,
            warranty_unit: None,
            tax_basis: TaxBasis::Invoice,
            parts_taxed: true,
            labour_taxed: false,
            core_taxed: Answer::Unknown,
            check_local_rules: true,
            sources: Vec::new(),
        }
    }
}
