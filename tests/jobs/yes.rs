//! When a yes came, in which language it was asked for, and what the rules of a region want in writing beforehand.

use crate::shop::*;
use api::entry::*;

fn in_region(region: &str, price: &str) -> (Shop, String) {
    let shop = Shop::open();
    shop.workshop.shop_set_up(&ShopEntry { tax_percent: "0".into(), ..entry(region) }).unwrap();
    let job = shop.measuring();
    shop.workshop.estimate_keep(&job, &lines(vec![line("labour", price)])).unwrap();
    (shop, job)
}

fn at(typed: &str) -> ApprovalEntry {
    ApprovalEntry { given_at: typed.into(), ..approval(1) }
}

fn by_phone(version: u32) -> ApprovalEntry {
    ApprovalEntry {
        channel: Channel::Phone,
        number_called: "555 0142".into(),
        signature: String::new(),
        ..approval(version)
    }
}

fn refused<T: std::fmt::Debug>(result: Result<T, api::ApiError>) -> (String, String) {
    let view = api::ErrorView::from(result.unwrap_err());
    (view.code, view.values.get("field").cloned().unwrap_or_default())
}

/// 16 CCR 3356(d): "the date, time, name of person" of an oral approval; the shop's clock shows 08:00 at -05:00.
#[test]
fn a_yes_has_its_own_day_and_time() {
    let (shop, job) = in_region("US-CA", "40");
    shop.at("2026-10-12T11:30:20-05:00");
    let yes = |typed: &str| shop.workshop.approval_keep(&job, &at(typed));
    assert_eq!(refused(yes("2026-10-12T07:59")), ("approval_before_estimate".into(), "given_at".into()));
    assert_eq!(refused(yes("2026-10-12T11:31")), ("time_in_future".into(), "given_at".into()));
    for odd in [
        "-1",
        "0",
        "1e9",
        "12,345",
        "🔧",
        "99/99/2099",
        "2026-02-30T10:00",
        "2026-10-12",
        "12026-10-12T10:00",
    ] {
        assert_eq!(refused(yes(odd)), ("not_a_time".into(), "given_at".into()), "{odd}");
    }
    // The minute of the estimate itself, and the same moment by another clock.
    let view = yes("2026-10-12T08:00").unwrap();
    assert_eq!(view.approvals[0].given_at, "2026-10-12T08:00:00-05:00");
    let (shop, job) = in_region("US-CA", "40");
    let view = shop.workshop.approval_keep(&job, &at("2026-10-12T13:00:00Z")).unwrap();
    assert_eq!(view.approvals[0].given_at, "2026-10-12T13:00:00+00:00");
    let (shop, job) = in_region("US-CA", "40");
    shop.at("2026-10-12T09:15:42-05:00");
    let view = shop.workshop.approval_keep(&job, &at(" ")).unwrap();
    assert_eq!(view.approvals[0].given_at, "2026-10-12T09:15:00-05:00", "now where nobody typed it");
}

#[test]
fn the_question_is_asked_in_the_customers_language() {
    let (shop, job) = in_region("US-CA", "40");
    let ask = |language: &str| ApprovalRequestEntry {
        version: 1,
        channel: Channel::TextMessage,
        language: language.into(),
        text: "Total".into(),
        to: String::new(),
    };
    assert_eq!(Shop::code(shop.workshop.approval_request(&job, &ask("fr"))), "unknown_choice");
    let view = shop.workshop.approval_request(&job, &ask("es")).unwrap();
    assert_eq!((view.requests[0].language.as_str(), view.request_longest), ("es", 480));
    let spoken = |code: &str| IntakeEntry { language: Some(code.into()), ..IntakeEntry::default() };
    assert_eq!(Shop::code(shop.workshop.intake_keep(&job, &spoken("xx"))), "unknown_choice");
    let language = |code: &str| shop.workshop.intake_keep(&job, &spoken(code)).unwrap().intake.language;
    assert_eq!((language("es"), language("")), ("es".to_owned(), String::new()));
}

/// Fla. Stat. 559.905(1): above $100. Michigan: "Unless legally waived by the customer"; its department: "$50 or more".
#[test]
fn the_first_yes_by_phone_needs_the_estimate_in_writing_above_the_rules_amount() {
    for (region, price, code) in [
        ("US-FL", "100", "kept"),
        ("US-FL", "100.01", "estimate_not_written_or_waived"),
        ("US-MI", "49.99", "kept"),
        ("US-MI", "50", "estimate_not_written_or_waived"),
        ("US-CA", "1", "estimate_not_written"),
        ("US-NY", "900", "kept"),
        ("other", "900", "kept"),
    ] {
        let (shop, job) = in_region(region, price);
        assert_eq!(shop.workshop.job_view(&job).unwrap().written_wanted, code != "kept", "{region} {price}");
        assert_eq!(Shop::code(shop.workshop.approval_keep(&job, &by_phone(1))), code, "{region} {price}");
        if code == "kept" {
            continue;
        }
        let sent = ApprovalRequestEntry {
            version: 1,
            channel: Channel::Email,
            language: "en".into(),
            text: "Total".into(),
            to: String::new(),
        };
        shop.workshop.approval_request(&job, &sent).unwrap();
        assert_eq!(Shop::code(shop.workshop.approval_keep(&job, &by_phone(1))), "kept", "{region}");
        // More work later: oral consent is what these rules ask for.
        shop.workshop
            .estimate_keep(&job, &lines(vec![line("labour", price), line("diagnosis", "500")]))
            .unwrap();
        assert_eq!(Shop::code(shop.workshop.approval_keep(&job, &by_phone(2))), "kept", "{region}");
    }
}

/// 815 ILCS 306/20: "You may waive your right to a written estimate"; a Spanish consumer office: work begins after a proven
/// waiver.
#[test]
fn a_waiver_is_in_writing_and_only_where_the_rules_know_one() {
    let waiver = |channel: Channel| EstimateWaiverEntry {
        channel,
        name: "Odalys Brandt".into(),
        words: "I do without it.".into(),
        signature: "M10 20 L40 60 L80 20".into(),
        photos: vec![],
    };
    for region in ["US-CA", "US-NY", "GB", "other"] {
        let (shop, job) = in_region(region, "900");
        assert_eq!(
            Shop::code(shop.workshop.estimate_waive(&job, &waiver(Channel::InPerson))),
            "no_waiver_here",
            "{region}"
        );
    }
    for region in ["US-FL", "US-IL", "US-MI", "ES"] {
        let (shop, job) = in_region(region, "900");
        let keep = |entry: &EstimateWaiverEntry| Shop::code(shop.workshop.estimate_waive(&job, entry));
        assert_eq!(keep(&waiver(Channel::Phone)), "waiver_not_written");
        let bare = EstimateWaiverEntry { signature: String::new(), ..waiver(Channel::InPerson) };
        assert_eq!(keep(&bare), "no_signature");
        let dot = EstimateWaiverEntry { signature: "M1 1 L2 2".into(), ..waiver(Channel::InPerson) };
        assert_eq!(keep(&dot), "signature_too_short");
        assert_eq!(keep(&EstimateWaiverEntry { words: " ".into(), ..waiver(Channel::Email) }), "field_empty");
        assert_eq!(keep(&waiver(Channel::InPerson)), "kept", "{region}");
        assert_eq!(keep(&waiver(Channel::InPerson)), "already_waived");
        let view = shop.workshop.approval_keep(&job, &by_phone(1)).unwrap();
        assert_eq!((view.waivers.len(), view.written_wanted), (1, false), "{region}");
    }
}

/// Real Decreto 1457/1986, art. 14.1: "una validez mínima de doce días hábiles". Monday 2026-10-12 and twelve days from
/// Tuesday to Friday and Monday to Friday end on Wednesday 2026-10-28.
#[test]
fn an_estimate_that_ran_out_asks_for_a_new_version() {
    let (shop, job) = in_region("ES", "90");
    assert_eq!(shop.workshop.job_view(&job).unwrap().estimates[0].holds_until, "2026-10-28");
    shop.at("2026-10-29T00:00:00-05:00");
    assert_eq!(refused(shop.workshop.approval_keep(&job, &approval(1))).0, "estimate_expired");
    let no = ApprovalEntry { answers: vec![LineAnswer::Declined], signature: String::new(), ..approval(1) };
    assert_eq!(Shop::code(shop.workshop.approval_keep(&job, &no)), "kept", "a no is never too late");
    assert_eq!(
        Shop::code(shop.workshop.approval_keep(&job, &at("2026-10-28T23:59"))),
        "kept",
        "said in time, kept later"
    );
    shop.workshop.estimate_keep(&job, &lines(vec![line("labour", "95")])).unwrap();
    assert_eq!(Shop::code(shop.workshop.approval_keep(&job, &approval(2))), "kept");
    let (shop, job) = in_region("US-CA", "90");
    shop.at("2027-10-29T00:00:00-05:00");
    assert_eq!(Shop::code(shop.workshop.approval_keep(&job, &approval(1))), "kept", "no rule, no end");
}
