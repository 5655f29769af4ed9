//! Rules of authorisation, invoicing and tax by region, as data with their sources.
//!
//! Examples to start from, never advice: every set carries `check_local_rules`, and the screens say so. What no
//! source supports is `unknown`, and the app then takes the stricter way: written estimate, no margin.

use money::{Cents, MarginRule, Percent, TaxBasis};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

const FILES: [&str; 8] = [
    include_str!("../rules/us-ca.json"),
    include_str!("../rules/us-mi.json"),
    include_str!("../rules/us-ny.json"),
    include_str!("../rules/us-ri.json"),
    include_str!("../rules/us-other.json"),
    include_str!("../rules/es.json"),
    include_str!("../rules/mx.json"),
    include_str!("../rules/other.json"),
];

/// What a region's rule says on one question.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Answer {
    /// It does.
    Yes,
    /// It doesn't.
    No,
    /// If the customer asks.
    OnRequest,
    /// No source at hand.
    Unknown,
}

/// How much weight a source bears.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SourceStatus {
    /// The text of the rule was read.
    TextRead,
    /// An office or a journal describes the rule; its text was not read.
    DescribedByOthers,
    /// Known from memory: look it up before leaning on it.
    FromMemory,
    /// Common practice, no source.
    CommonPractice,
}

/// Where one rule comes from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RuleSource {
    /// Which fields rest on it.
    pub supports: Vec<String>,
    /// Citation.
    pub text: String,
    /// How it is known.
    pub status: SourceStatus,
}

/// Rules of one region.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RegionRules {
    /// Code: ISO 3166-2 ("US-CA"), a country ("MX"), or a rest ("US-other", "other").
    pub region: String,
    /// Name in English.
    pub name: String,
    /// Currency, ISO 4217; empty where the region has no single one.
    pub currency: String,
    /// Estimate in writing before work.
    pub written_estimate: Answer,
    /// Margin over the approved total, share.
    #[serde(default)]
    pub margin_percent: Option<Percent>,
    /// Margin over the approved total, amount.
    #[serde(default)]
    pub margin_cents: Option<Cents>,
    /// With both: the smaller holds.
    #[serde(default)]
    pub margin_lesser: bool,
    /// Years the rule wants records kept, where known.
    #[serde(default)]
    pub law_keeps_years: Option<u32>,
    /// Years the app keeps them: six unless the rule wants more.
    pub keeps_years: u32,
    /// Sublet work is disclosed to the customer beforehand.
    pub sublet_disclosed: Answer,
    /// Replaced parts are offered back.
    pub old_parts_offered: Answer,
    /// The shop's registration number stands on estimate or invoice.
    pub registration_number: Answer,
    /// The invoice says of each part whether it is new, used or rebuilt.
    pub part_condition_on_invoice: Answer,
    /// A line for unspecified shop supplies may be billed.
    pub supplies_line: Answer,
    /// What tax is rounded on unless the shop chooses the other.
    pub tax_basis: TaxBasis,
    /// Whether a new part line starts as taxed.
    pub parts_taxed: bool,
    /// Whether a new labour line starts as taxed.
    pub labour_taxed: bool,
    /// Always true: shown beside every rule.
    pub check_local_rules: bool,
    /// Where each rule comes from.
    pub sources: Vec<RuleSource>,
}

/// Every region on file, in the order of the list a shop chooses from.
///
/// # Errors
/// A file that doesn't hold what it should; the tests read them all.
pub fn all() -> Result<Vec<RegionRules>, serde_json::Error> {
    FILES.iter().map(|text| serde_json::from_str(text)).collect()
}

/// Rules of a region; an unknown state of the US gets `US-other`, everything else unknown gets `other`, under
/// the code that was asked for. Neither has a margin.
pub fn of_region(region: &str) -> RegionRules {
    let rest = if region.starts_with("US-") { "US-other" } else { "other" };
    let on_file = all().unwrap_or_default();
    let found = [region, rest].iter().find_map(|code| on_file.iter().find(|rules| rules.region == **code));
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
        }
    }

    /// Whether the app asks for an estimate in writing: unless the rule is known to leave it to the customer.
    pub fn requires_written(&self) -> bool {
        matches!(self.written_estimate, Answer::Yes | Answer::Unknown)
    }

    /// Whether any rule of authorisation is on file.
    pub fn known(&self) -> bool {
        self.written_estimate != Answer::Unknown
    }

    fn strictest() -> RegionRules {
        RegionRules {
            region: String::new(),
            name: "Other".into(),
            currency: String::new(),
            written_estimate: Answer::Unknown,
            margin_percent: None,
            margin_cents: None,
            margin_lesser: false,
            law_keeps_years: None,
            keeps_years: 6,
            sublet_disclosed: Answer::Unknown,
            old_parts_offered: Answer::Unknown,
            registration_number: Answer::Unknown,
            part_condition_on_invoice: Answer::Unknown,
            supplies_line: Answer::Unknown,
            tax_basis: TaxBasis::Invoice,
            parts_taxed: true,
            labour_taxed: false,
            check_local_rules: true,
            sources: Vec::new(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_file_reads_and_every_known_rule_names_a_source() {
        let regions = all().unwrap();
        assert_eq!(regions.len(), FILES.len());
        for rules in &regions {
            let sources = |field: &str| rules.sources.iter().any(|s| s.supports.iter().any(|f| f == field));
            assert!(rules.check_local_rules, "{}", rules.region);
            assert!(rules.keeps_years >= rules.law_keeps_years.unwrap_or(0).max(6), "{}", rules.region);
            let answers = [
                ("written_estimate", rules.written_estimate),
                ("sublet_disclosed", rules.sublet_disclosed),
                ("old_parts_offered", rules.old_parts_offered),
                ("registration_number", rules.registration_number),
                ("part_condition_on_invoice", rules.part_condition_on_invoice),
                ("supplies_line", rules.supplies_line),
            ];
            for (field, answer) in answers {
                assert_eq!(answer != Answer::Unknown, sources(field), "{} {field}", rules.region);
            }
            let has_margin = rules.margin_percent.is_some() || rules.margin_cents.is_some();
            assert_eq!(has_margin || rules.known(), sources("margin"), "{} margin", rules.region);
            assert_eq!(rules.law_keeps_years.is_some(), sources("keeps_years"), "{} years", rules.region);
            assert!(sources("labour_taxed"), "{} tax", rules.region);
        }
    }

    #[test]
    fn unknown_regions_have_no_margin_and_ask_for_writing() {
        for region in ["US-TX", "FR", "", "US-other", "other", "MX", "ES"] {
            let rules = of_region(region);
            assert_eq!(rules.region, region);
            assert_eq!(rules.margin(), MarginRule::default(), "{region}");
            assert!(rules.requires_written() && !rules.known(), "{region}");
        }
        assert_eq!(
            RegionRules {
                name: "Other country".into(),
                sources: of_region("").sources,
                ..RegionRules::strictest()
            },
            of_region("")
        );
    }

    /// Michigan's Department of State, "Amended Estimates" (read): approval before exceeding the estimate "by
    /// more than $10 or 10%, whichever is less".
    #[test]
    fn michigan_allows_the_lesser_of_ten_dollars_and_ten_per_cent() {
        let margin = of_region("US-MI").margin();
        assert_eq!(margin.margin_on(Cents(8_000)), Cents(800));
        assert_eq!(margin.margin_on(Cents(80_000)), Cents(1_000));
        assert!(!of_region("US-NY").requires_written());
        assert_eq!(of_region("US-CA").law_keeps_years, Some(3));
    }
}
