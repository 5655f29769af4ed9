//! The shop, its rules, this device and the first start.

use super::series::{Numbered, code, prefixes};
use crate::entry::{Preferences, ShopEntry};
use crate::view::{BothLanguages, CheckView, DeviceView, LocaleView, RulesView, SeriesView, ShopView};
use crate::{ApiError, Workshop, settings, show, typed};
use job::Refused;
use job::rule::region::is_registration;
use job::rules::{self, Answer, Locale, RegionRules, RuleSource};
use money::{Cents, LineKind, Marks, Percent};
use serde::{Deserialize, Serialize};
use store::Store;

pub(crate) const SHOP: &str = "shop";
const PREFERENCES: &str = "preferences";
/// More years than this are a slip of the finger.
const MOST_YEARS: u32 = 100;

/// What is kept of the shop. Every job's first record repeats what matters for it.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(crate) struct Shop {
    pub shop_id: String,
    pub device_id: String,
    pub name: String,
    pub technician: String,
    pub registration: String,
    #[serde(default)]
    pub address: String,
    #[serde(default)]
    pub phone: String,
    #[serde(default)]
    pub email: String,
    pub region: String,
    pub labour_rate: Cents,
    pub tax_rate: Percent,
    /// Years that records are kept, where the shop chose a number.
    #[serde(default)]
    pub keeps_years: Option<u32>,
    /// Whether new lines for parts start as taxed, where the shop chose; then labor and sublet work, then core charges.
    #[serde(default)]
    pub parts_taxed: Option<bool>,
    #[serde(default)]
    pub labour_taxed: Option<bool>,
    #[serde(default)]
    pub core_taxed: Option<bool>,
    /// The number for the tax that stands on bills, where the shop has one.
    #[serde(default)]
    pub tax_number: String,
    /// What invoices' and credit notes' numbers begin with, where the shop chose.
    #[serde(default)]
    pub invoice_prefix: String,
    #[serde(default)]
    pub credit_prefix: String,
    /// This device's code stands in its numbers.
    #[serde(default)]
    pub numbered_apart: bool,
    /// Made from another device's backup: its code stays in its numbers.
    #[serde(default)]
    pub second: bool,
}

impl Workshop {
    /// The shop, set up or not.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn shop_view(&self) -> Result<ShopView, ApiError> {
        let preferences = self.preferences()?;
        match self.shop() {
            Ok(shop) => self.set_up_view(&shop, preferences),
            Err(ApiError::NotSetUp) => Ok(blank_view(preferences)),
            Err(error) => Err(error),
        }
    }

    /// Regions whose rules are known, then the one for all others.
    pub fn regions(&self) -> Vec<RulesView> {
        rules::all().unwrap_or_default().iter().map(rules_view).collect()
    }

    /// Answers the first start, or changes the answers. The device's key is made once and never replaced here: a lost key is
    /// a matter of its own, see `key_lost`.
    ///
    /// # Errors
    /// Empty name, unknown region, an amount that can't be read.
    pub fn shop_set_up(&self, entry: &ShopEntry) -> Result<ShopView, ApiError> {
        let earlier = self.shop().ok();
        let rules = rules::of_region(&entry.region);
        let rate = typed::price(&entry.labour_rate, rules.locale.marks())?;
        let percent = if entry.tax_percent.trim().is_empty() { "0" } else { entry.tax_percent.trim() };
        if !self.regions().iter().any(|rules| rules.region == entry.region) {
            return Err(ApiError::Unknown { what: "region", value: entry.region.clone() });
        }
        let (invoice_prefix, credit_prefix) = prefixes(&entry.invoice_prefix, &entry.credit_prefix)?;
        let second = earlier.as_ref().is_some_and(|earlier| earlier.second);
        let shop = Shop {
            invoice_prefix,
            credit_prefix,
            numbered_apart: second || entry.numbered_apart,
            second,
            shop_id: earlier.as_ref().map_or_else(|| new_id("shop"), |s| Ok(s.shop_id.clone()))?,
            device_id: earlier.as_ref().map_or_else(|| new_id("device"), |s| Ok(s.device_id.clone()))?,
            name: typed::required("shop_name", &entry.name)?,
            technician: typed::required("technician", &entry.technician)?,
            registration: number("registration", &entry.registration)?,
            address: typed::text("shop_address", &entry.address)?,
            phone: contact("shop_phone", &entry.phone, job::contact::phone)?,
            email: contact("shop_email", &entry.email, job::contact::email)?,
            region: entry.region.clone(),
            labour_rate: rate,
            tax_rate: percent.parse()?,
            keeps_years: keeps_years(&entry.keeps_years, &rules)?,
            parts_taxed: taxed("parts_taxed", &entry.parts_taxed)?,
            labour_taxed: taxed("labour_taxed", &entry.labour_taxed)?,
            core_taxed: taxed("core_taxed", &entry.core_taxed)?,
            tax_number: number("tax_number", &entry.tax_number)?,
        };
        keep_in(&self.store, &shop)?;
        self.make_key(&shop.device_id)?;
        self.shop_view()
    }

    /// Keeps how the screens look.
    ///
    /// # Errors
    /// A code that isn't known.
    pub fn preferences_keep(&self, entry: &Preferences) -> Result<ShopView, ApiError> {
        typed::one_of("language", &entry.language, &["en", "es"])?;
        typed::one_of("theme", &entry.theme, &["light", "dark", "system"])?;
        typed::one_of("hand", &entry.hand, &["right", "left"])?;
        typed::one_of("text_size", &entry.text_size.to_string(), &["100", "125", "150", "200"])?;
        self.store.set_setting(PREFERENCES, &settings::written(PREFERENCES, entry)?)?;
        self.shop_view()
    }

    /// Kinds of lines that start as taxed in a job: by its region, unless the shop chose otherwise.
    pub(crate) fn taxed_kinds(&self, mut rules: RegionRules) -> Vec<String> {
        if let Ok(shop) = self.shop() {
            rules.parts_taxed = shop.parts_taxed.unwrap_or(rules.parts_taxed);
            rules.labour_taxed = shop.labour_taxed.unwrap_or(rules.labour_taxed);
            let core = |taxed| if taxed { Answer::Yes } else { Answer::No };
            rules.core_taxed = shop.core_taxed.map_or(rules.core_taxed, core);
        }
        LineKind::ALL.iter().filter(|kind| rules.starts_taxed(**kind)).map(show::code).collect()
    }

    /// How the shop's region writes.
    pub(crate) fn home(&self) -> Locale {
        self.shop().map(|shop| rules::of_region(&shop.region).locale).unwrap_or_default()
    }

    /// An amount in minor units as the shop's region writes it.
    pub fn amount(&self, minor: i64) -> String {
        self.home().amount(Cents(minor))
    }

    /// How amounts are typed there.
    pub(crate) fn marks(&self) -> Option<Marks> {
        self.home().marks()
    }

    pub(crate) fn shop(&self) -> Result<Shop, ApiError> {
        kept_in(&self.store)
    }

    fn preferences(&self) -> Result<Preferences, ApiError> {
        let kept = self.store.setting(PREFERENCES)?;
        Ok(kept.and_then(|value| serde_json::from_value(value).ok()).unwrap_or_default())
    }

    fn set_up_view(&self, shop: &Shop, preferences: Preferences) -> Result<ShopView, ApiError> {
        let device = self.device_view(&shop.device_id)?;
        Ok(ShopView {
            set_up: true,
            name: shop.name.clone(),
            technician: shop.technician.clone(),
            registration: shop.registration.clone(),
            address: shop.address.clone(),
            phone: shop.phone.clone(),
            email: shop.email.clone(),
            region: shop.region.clone(),
            labour_rate: shop.labour_rate.into(),
            tax_rate: shop.tax_rate.parts(),
            parts_taxed: chosen(shop.parts_taxed),
            labour_taxed: chosen(shop.labour_taxed),
            core_taxed: chosen(shop.core_taxed),
            tax_number: shop.tax_number.clone(),
            series: self.series_view(shop)?,
            keeps_years: shop.keeps_years.map(|years| years.to_string()).unwrap_or_default(),
            rules: rules_view(&rules::of_region(&shop.region)),
            device,
            check: self.check_view()?,
            preferences,
        })
    }
}

impl Workshop {
    fn series_view(&self, shop: &Shop) -> Result<SeriesView, ApiError> {
        Ok(SeriesView {
            invoice_prefix: shop.invoice_prefix.clone(),
            credit_prefix: shop.credit_prefix.clone(),
            invoices_begin: Numbered::Invoice.head(shop),
            credit_notes_begin: Numbered::CreditNote.head(shop),
            code: code(&shop.device_id),
            numbered_apart: shop.numbered_apart,
            always_apart: shop.second,
            other_devices: self.has_other_devices(shop)?,
        })
    }
}

/// The shop that a store holds.
pub(crate) fn kept_in(store: &Store) -> Result<Shop, ApiError> {
    let value = store.setting(SHOP)?.ok_or(ApiError::NotSetUp)?;
    settings::read(SHOP, value)
}

/// Keeps the shop in a store.
pub(crate) fn keep_in(store: &Store, shop: &Shop) -> Result<(), ApiError> {
    Ok(store.set_setting(SHOP, &settings::written(SHOP, shop)?)?)
}

/// A way to reach the shop, or nothing.
fn contact(
    field: &'static str,
    typed: &str,
    check: fn(&str) -> Result<(), Refused>,
) -> Result<String, ApiError> {
    let text = typed::text(field, typed)?;
    if !text.is_empty() {
        check(&text).map_err(|refused| ApiError::Refused(refused.with("field", field)))?;
    }
    Ok(text)
}

/// A number that an office gave the shop, or nothing.
fn number(what: &'static str, typed: &str) -> Result<String, ApiError> {
    let text = typed::text(what, typed)?;
    if text.is_empty() || is_registration(&text) {
        return Ok(text);
    }
    Err(ApiError::Unknown { what, value: text })
}

/// Years that the shop chose to keep records, never fewer than the region's rule wants.
fn keeps_years(typed: &str, rules: &RegionRules) -> Result<Option<u32>, ApiError> {
    let text = typed.trim();
    if text.is_empty() {
        return Ok(None);
    }
    let years = text.parse().ok().filter(|years| (1..=MOST_YEARS).contains(years));
    let years = years.ok_or_else(|| ApiError::Unknown { what: "keeps_years", value: text.to_owned() })?;
    match rules.law_keeps_years {
        Some(law) if years < law => {
            Err(ApiError::Refused(Refused::because("keeps_years_below_law").with("years", &law.to_string())))
        }
        _ => Ok(Some(years)),
    }
}

/// Whether lines start as taxed; nothing for the region's own.
fn taxed(field: &'static str, typed: &str) -> Result<Option<bool>, ApiError> {
    typed::one_of(field, typed, &["", "yes", "no"])?;
    Ok((!typed.is_empty()).then_some(typed == "yes"))
}

fn chosen(taxed: Option<bool>) -> String {
    taxed.map_or("", |taxed| if taxed { "yes" } else { "no" }).to_owned()
}

fn blank_view(preferences: Preferences) -> ShopView {
    ShopView {
        set_up: false,
        name: String::new(),
        technician: String::new(),
        registration: String::new(),
        address: String::new(),
        phone: String::new(),
        email: String::new(),
        region: String::new(),
        labour_rate: String::new(),
        tax_rate: 0,
        parts_taxed: String::new(),
        labour_taxed: String::new(),
        core_taxed: String::new(),
        tax_number: String::new(),
        series: SeriesView::default(),
        keeps_years: String::new(),
        rules: RulesView::default(),
        device: DeviceView::default(),
        check: CheckView::default(),
        preferences,
    }
}

pub(crate) fn rules_view(rules: &RegionRules) -> RulesView {
    RulesView {
        region: rules.region.clone(),
        name: region_name(rules),
        locale: locale_view(&rules.locale),
        known: rules.known(),
        requires_written: rules.requires_written(),
        margin_percent: rules.margin_percent.map(|p| p.to_string()).unwrap_or_default(),
        margin_cents: rules.margin_cents.map(String::from).unwrap_or_default(),
        margin_lesser: rules.margin_lesser,
        margin_cap_cents: rules.margin_cap_cents.map(String::from).unwrap_or_default(),
        written_above_cents: rules.written_above_cents.map(String::from).unwrap_or_default(),
        waiver: rules.waiver == Answer::Yes,
        estimate_valid_days: rules.estimate_valid_days.unwrap_or(0),
        registration_number: rules.registration_number == Answer::Yes,
        seller_number_on_bill: rules.seller_number_on_bill == Answer::Yes,
        called_number: rules.called_number == Answer::Yes,
        telephone_holds_parts: rules.telephone_holds_parts == Answer::Yes,
        warranty_days: rules.warranty_days.unwrap_or(0),
        warranty_months: rules.warranty_months.unwrap_or(0),
        warranty_distance: rules.warranty_distance.unwrap_or(0),
        warranty_unit: rules.warranty_unit.unwrap_or_default(),
        keeps_years: rules.keeps_years,
        law_keeps_years: rules.law_keeps_years.unwrap_or(0),
        sources: rules
            .sources
            .iter()
            .filter(is_rule)
            .map(|s| format!("{} ({})", s.text, show::code(&s.status)))
            .collect(),
    }
}

pub(crate) fn region_name(rules: &RegionRules) -> BothLanguages {
    BothLanguages { en: rules.name.clone(), es: rules.name_es.clone() }
}

fn locale_view(locale: &Locale) -> LocaleView {
    LocaleView {
        sign: locale.sign.clone(),
        sign_place: locale.sign_place,
        decimal: locale.decimal.to_string(),
        group: locale.group.to_string(),
        date_order: locale.date_order,
        distance: locale.distance,
        tax_name: locale.tax_name,
        prices_include_tax: locale.prices_include_tax,
        seller_number: locale.seller_number,
    }
}

/// How numbers are written is no rule that anybody has to look up.
fn is_rule(source: &&RuleSource) -> bool {
    source.supports.iter().any(|field| field != "locale")
}

/// A short random id that is safe in file names and origins.
pub(crate) fn new_id(prefix: &str) -> Result<String, ApiError> {
    let mut bytes = [0; 6];
    getrandom::fill(&mut bytes).map_err(|_| ApiError::NoRandomness)?;
    let hex: String = bytes.iter().map(|b| format!("{b:02x}")).collect();
    Ok(format!("{prefix}-{hex}"))
}
