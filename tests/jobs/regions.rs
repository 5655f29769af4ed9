//! What the rules of a region demand of estimates, bills and hand-overs. The rules themselves are tested beside the texts
//! they come from in `job/src/rules/tests.rs`.

use crate::shop::{Shop, approval, entry, given_on_paper, line, lines, of_code};
use api::entry::{
    ApprovalEntry, Channel, HandOverEntry, IntakeEntry, LineEntry, OdometerUnit, OldParts, PaperKind,
    ProgrammingEntry, ProgrammingRoute, ShopEntry,
};

fn in_region(region: &str) -> (Shop, String) {
    let shop = Shop::open();
    shop.workshop.shop_set_up(&entry(region)).unwrap();
    let job = shop.measuring();
    (shop, job)
}

fn no_number(region: &str) -> ShopEntry {
    ShopEntry { registration: String::new(), ..entry(region) }
}

fn handed(old_parts: &str) -> HandOverEntry {
    HandOverEntry { old_parts: old_parts.into(), ..HandOverEntry::default() }
}

fn sublet(provider: &str) -> LineEntry {
    LineEntry { provider: provider.into(), ..line("sublet", "150") }
}

fn refusal<T: std::fmt::Debug>(result: Result<T, api::ApiError>) -> api::ErrorView {
    api::ErrorView::from(result.unwrap_err())
}

fn by_phone(version: u32) -> ApprovalEntry {
    ApprovalEntry {
        channel: Channel::Phone,
        number_called: "555 0142".into(),
        signature: String::new(),
        ..approval(version)
    }
}

/// 16 CCR 3356 as the trade press has it: no line for shop supplies; nothing is known of it in Rhode Island.
#[test]
fn a_line_for_supplies_is_refused_at_estimate_and_bill_where_the_rules_refuse_it() {
    let with_supplies = || lines(vec![line("labour", "100"), line("supplies", "9.50")]);
    let (shop, job) = in_region("US-CA");
    let refused = refusal(shop.workshop.estimate_keep(&job, &with_supplies()));
    assert_eq!((refused.code.as_str(), refused.values["line"].as_str()), ("supplies_not_allowed", "2"));
    assert!(shop.workshop.job_view(&job).unwrap().estimates.is_empty());
    shop.workshop.estimate_keep(&job, &lines(vec![line("labour", "200")])).unwrap();
    shop.workshop.approval_keep(&job, &approval(1)).unwrap();
    assert_eq!(refusal(shop.workshop.invoice_keep(&job, &with_supplies())).code, "supplies_not_allowed");
    assert_eq!(Shop::code(shop.workshop.invoice_keep(&job, &lines(vec![line("labour", "200")]))), "kept");
    let (shop, job) = in_region("US-RI");
    assert_eq!(Shop::code(shop.workshop.estimate_keep(&job, &with_supplies())), "kept");
}

/// 16 CCR 3356(b): "The invoice shall show the automotive repair dealer's registration number". A job that was opened
/// without one goes on once the settings hold it.
#[test]
fn no_estimate_and_no_bill_without_the_number_that_has_to_stand_on_it() {
    let shop = Shop::open();
    shop.workshop.shop_set_up(&no_number("US-CA")).unwrap();
    let job = shop.measuring();
    let bill = || lines(vec![line("labour", "200")]);
    assert_eq!(Shop::code(shop.workshop.estimate_keep(&job, &bill())), "no_registration_number");
    assert_eq!(
        Shop::code(shop.workshop.lines_total(&job, PaperKind::Estimate, &bill())),
        "kept",
        "reckoning seals nothing"
    );
    shop.workshop.shop_set_up(&entry("US-CA")).unwrap();
    assert_eq!(Shop::code(shop.workshop.estimate_keep(&job, &bill())), "kept");
    shop.workshop.approval_keep(&job, &approval(1)).unwrap();
    shop.workshop.shop_set_up(&no_number("US-CA")).unwrap();
    assert_eq!(Shop::code(shop.workshop.invoice_keep(&job, &bill())), "no_registration_number");
    // A job whose first record has the number isn't shut by a setting that was emptied later.
    shop.workshop.shop_set_up(&entry("US-CA")).unwrap();
    let named = shop.measuring();
    shop.workshop.shop_set_up(&no_number("US-CA")).unwrap();
    assert_eq!(Shop::code(shop.workshop.estimate_keep(&named, &bill())), "kept");
    let other = Shop::open();
    other.workshop.shop_set_up(&no_number("other")).unwrap();
    let job = other.measuring();
    assert_eq!(Shop::code(other.workshop.estimate_keep(&job, &bill())), "kept");
}

#[test]
fn a_registration_number_has_a_letter_or_a_digit() {
    let shop = Shop::open();
    for typed in ["🔧🔧", "---", "…"] {
        let odd = ShopEntry { registration: typed.into(), ..entry("US-CA") };
        let refused = refusal(shop.workshop.shop_set_up(&odd));
        assert_eq!(
            (refused.code.as_str(), refused.values["what"].as_str()),
            ("unknown_choice", "registration")
        );
    }
    for typed in ["", "🔧 ARD-123", "登録7", "\u{661}\u{662}"] {
        let fine = ShopEntry { registration: typed.into(), ..entry("US-CA") };
        assert_eq!(Shop::code(shop.workshop.shop_set_up(&fine)), "kept", "{typed}");
    }
}

/// Cal. Bus. & Prof. Code 9884.9(b) as the state's courts describe it: work by others stands in the estimate and needs
/// consent.
#[test]
fn whoever_else_programs_the_module_stands_in_an_approved_estimate() {
    let (shop, job) = in_region("US-CA");
    let decide = |route, provider: &str| ProgrammingEntry {
        route: Some(route),
        provider: provider.into(),
        quoted: "150".into(),
        appointment: String::new(),
        reason: String::new(),
    };
    let warned = |job: &str| {
        let view = shop.workshop.job_view(job).unwrap();
        view.advice.iter().any(|code| code == "provider_not_disclosed")
    };
    let bill = || lines(vec![line("labour", "200")]);
    shop.workshop.estimate_keep(&job, &bill()).unwrap();
    shop.workshop.approval_keep(&job, &approval(1)).unwrap();
    assert!(!warned(&job));
    let remote = ProgrammingRoute::RemoteService;
    shop.workshop.programming_decide(&job, &decide(remote, "Odrin  Remote Coding")).unwrap();
    assert!(warned(&job));
    let refused = refusal(shop.workshop.invoice_keep(&job, &bill()));
    assert_eq!(refused.code, "provider_not_disclosed");
    assert_eq!(refused.values["provider"], "Odrin  Remote Coding");
    // An estimate that nobody approved discloses nothing.
    shop.workshop
        .estimate_keep(&job, &lines(vec![line("labour", "200"), sublet("Odrin remote coding ")]))
        .unwrap();
    assert!(warned(&job));
    shop.workshop.approval_keep(&job, &approval(2)).unwrap();
    assert!(!warned(&job));
    assert_eq!(Shop::code(shop.workshop.invoice_keep(&job, &bill())), "kept");
    // The shop's own tool is nobody else.
    let (shop, job) = in_region("US-CA");
    shop.workshop.estimate_keep(&job, &bill()).unwrap();
    shop.workshop.approval_keep(&job, &approval(1)).unwrap();
    shop.workshop.programming_decide(&job, &decide(ProgrammingRoute::OwnTool, "")).unwrap();
    assert_eq!(Shop::code(shop.workshop.invoice_keep(&job, &bill())), "kept");
}

/// Replaced parts are offered back in California on request; nothing is known of it in Rhode Island.
#[test]
fn the_hand_over_says_what_became_of_the_old_parts() {
    let billed = |region: &str, kind: &str| {
        let (shop, job) = in_region(region);
        let bill = || lines(vec![line(kind, "200")]);
        shop.workshop.estimate_keep(&job, &bill()).unwrap();
        shop.workshop.approval_keep(&job, &approval(1)).unwrap();
        shop.workshop.invoice_keep(&job, &bill()).unwrap();
        (shop, job)
    };
    let (shop, job) = billed("US-CA", "part");
    assert_eq!(Shop::code(shop.workshop.hand_over(&job, &handed("  "))), "old_parts_unanswered");
    assert_eq!(Shop::code(shop.workshop.hand_over(&job, &handed("given back"))), "kept");
    let (shop, job) = billed("US-CA", "labour");
    assert_eq!(Shop::code(shop.workshop.hand_over(&job, &handed(""))), "kept", "no part was replaced");
    let (shop, job) = billed("US-RI", "part");
    assert_eq!(Shop::code(shop.workshop.hand_over(&job, &handed(""))), "kept");
}

/// Vehicle and Traffic Law 398-d(1): "for such work authorized over the telephone, shall keep until the customer's motor
/// vehicle is retrieved, all replaced parts".
#[test]
fn new_york_holds_the_parts_of_work_approved_by_phone() {
    let held = |region: &str, channel: Channel, old_parts: OldParts| {
        let (shop, job) = in_region(region);
        shop.workshop.estimate_keep(&job, &lines(vec![line("part", "200")])).unwrap();
        let signature = approval(1).signature;
        shop.workshop.approval_request(&job, &given_on_paper(1)).unwrap();
        let approved = ApprovalEntry { channel, old_parts, signature, ..by_phone(1) };
        let view = shop.workshop.approval_keep(&job, &approved).unwrap();
        view.advice.iter().any(|code| code == "parts_are_held")
    };
    assert!(held("US-NY", Channel::Phone, OldParts::KeepByShop));
    assert!(held("US-NY", Channel::Phone, OldParts::Exchange));
    assert!(!held("US-NY", Channel::Phone, OldParts::Return));
    assert!(!held("US-NY", Channel::InPerson, OldParts::KeepByShop));
    assert!(!held("US-CA", Channel::Phone, OldParts::KeepByShop));
}

/// TB-ST-40 and Fla. Admin. Code 12A-1.006 tax labor too; California's guide for garages taxes parts and their cores.
#[test]
fn new_lines_start_taxed_as_the_region_taxes_them() {
    let kinds = |region: &str| {
        let (shop, job) = in_region(region);
        let mut kinds = shop.workshop.job_view(&job).unwrap().taxed_kinds;
        kinds.sort();
        kinds
    };
    assert_eq!(kinds("US-CA"), ["core_charge", "part", "supplies"]);
    for region in ["US-NY", "US-FL", "GB", "ES", "CA-ON", "MX"] {
        assert_eq!(kinds(region).len(), 10, "{region}");
    }
}

#[test]
fn a_shop_says_otherwise_where_its_office_does() {
    let (shop, job) = in_region("US-CA");
    let chosen = ShopEntry { labour_taxed: "yes".into(), core_taxed: "no".into(), ..entry("US-CA") };
    let view = shop.workshop.shop_set_up(&chosen).unwrap();
    assert_eq!(
        (view.parts_taxed.as_str(), view.labour_taxed.as_str(), view.core_taxed.as_str()),
        ("", "yes", "no")
    );
    let kinds = shop.workshop.job_view(&job).unwrap().taxed_kinds;
    assert!(kinds.contains(&"labour".into()) && !kinds.contains(&"core_charge".into()), "{kinds:?}");
    let odd = ShopEntry { parts_taxed: "maybe".into(), ..entry("US-CA") };
    assert_eq!(refusal(shop.workshop.shop_set_up(&odd)).values["what"], "parts_taxed");
}

/// 16 CCR 3358: "at least three years".
#[test]
fn records_are_kept_no_shorter_than_the_rule_wants() {
    let shop = Shop::open();
    let years = |typed: &str, region: &str| ShopEntry { keeps_years: typed.into(), ..entry(region) };
    let refused = refusal(shop.workshop.shop_set_up(&years("2", "US-CA")));
    assert_eq!((refused.code.as_str(), refused.values["years"].as_str()), ("keeps_years_below_law", "3"));
    for typed in ["0", "101", "six", "-3", "3.5", "🔧"] {
        let refused = refusal(shop.workshop.shop_set_up(&years(typed, "US-CA")));
        assert_eq!(
            (refused.code.as_str(), refused.values["what"].as_str()),
            ("unknown_choice", "keeps_years")
        );
    }
    assert_eq!(shop.workshop.shop_set_up(&years(" 3 ", "US-CA")).unwrap().keeps_years, "3");
    let job = shop.measuring();
    assert_eq!(shop.workshop.forgetting_view(&job).unwrap().years, 3);
    assert_eq!(shop.workshop.shop_set_up(&years("", "US-CA")).unwrap().keeps_years, "");
    assert_eq!(shop.workshop.forgetting_view(&job).unwrap().years, 6);
    // One year is enough for Florida, but not for a job of California.
    shop.workshop.shop_set_up(&years("1", "US-FL")).unwrap();
    assert_eq!(shop.workshop.forgetting_view(&job).unwrap().years, 3);
}

#[test]
fn amounts_are_read_as_they_are_written_at_home() {
    let total = |region: &str, price: &str| {
        let (shop, job) = in_region(region);
        shop.workshop
            .lines_total(&job, PaperKind::Estimate, &lines(vec![line("labour", price)]))
            .map(|totals| totals.other + &totals.labour)
    };
    assert_eq!(total("ES", "1.250").unwrap(), "0125000");
    assert_eq!(total("ES", "1.250,00 €").unwrap(), "0125000");
    assert_eq!(total("GB", "£1,250.00").unwrap(), "0125000");
    assert_eq!(total("GB", "£100").unwrap(), "010000");
    assert_eq!(Shop::code(total("US-CA", "1.250")), "amount_ambiguous");
    assert_eq!(Shop::code(total("other", "1,250")), "amount_ambiguous");
}

/// What a record doesn't say reads as miles: where odometers count kilometers, the record says so.
#[test]
fn the_first_odometer_is_in_the_unit_of_the_region() {
    let unit = |region: &str, picked: Option<OdometerUnit>| {
        let (shop, job) = in_region(region);
        let offered = shop.workshop.job_view(&job).unwrap().intake.odometer_unit;
        let entry =
            IntakeEntry { odometer: Some("81250".into()), odometer_unit: picked, ..IntakeEntry::default() };
        let kept = shop.workshop.intake_keep(&job, &entry).unwrap();
        (offered, kept.intake.odometer_unit)
    };
    let (mi, km) = (OdometerUnit::Mi, OdometerUnit::Km);
    assert_eq!(unit("US-CA", None).1, mi);
    assert_eq!((unit("ES", None).0, unit("ES", None).1), (km, km));
    assert_eq!(unit("CA-ON", Some(mi)).1, mi);
    assert_eq!(unit("GB", None).1, mi);
}

#[test]
fn an_unknown_region_is_refused_and_sets_nothing_up() {
    let shop = Shop::open();
    for region in ["XX", "", "us-ca", "🔧"] {
        let refused = refusal(shop.workshop.shop_set_up(&entry(region)));
        assert_eq!((refused.code.as_str(), refused.values["what"].as_str()), ("unknown_choice", "region"));
    }
    assert_eq!(of_code::<OldParts>("exchange"), OldParts::Exchange);
}
