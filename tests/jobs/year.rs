//! The shop's year: every sum by hand. The shop, its jobs and amounts are invented.

use crate::one_door::seal_unasked;
use crate::shop::*;
use api::entry::*;
use job::Event;
use job::event::{FindingKept, Outcome};

/// A finding that calls another part than the module.
fn another_cause() -> Event {
    Event::FindingKept(FindingKept {
        outcome: Outcome::CauseCalled,
        cause: "wire/open".into(),
        cause_en: String::new(),
        cause_es: String::new(),
        probability: String::new(),
        likelihood: String::new(),
        words: String::new(),
        engine: "1".into(),
        circuit: "relay_high_side".into(),
        circuit_sha256: evidence::Digest::of(b"circuit"),
        readings: vec![],
        closed_jobs: Default::default(),
        result: serde_json::json!({}),
    })
}

fn named(description: &str, kind: &str, price: &str) -> LineEntry {
    LineEntry { description: description.into(), ..line(kind, price) }
}

#[test]
fn a_year_is_counted_from_its_records() {
    let mut shop = Shop::open();
    // Job 1: 2026, handed over in 2027; 1.5 hours of labor billed.
    let first = shop.measuring();
    let hours = LineEntry { quantity: "1.5".into(), ..named("Work", "labour", "10") };
    shop.workshop.estimate_keep(&first, &lines(vec![hours.clone()])).unwrap();
    shop.workshop.approval_keep(&first, &approval(1)).unwrap();
    shop.at("2027-01-04T09:00:00-05:00");
    shop.workshop.invoice_keep(&first, &lines(vec![hours])).unwrap();
    let payment = PaymentEntry {
        way: PaymentWay::Received,
        means: Means::Cash,
        amount: "10".into(),
        day: "2026-12-30".into(),
        reference: String::new(),
        note: String::new(),
        photos: vec![],
    };
    shop.workshop.payment_keep(&first, &payment).unwrap();
    let over = HandOverEntry::default();
    shop.workshop.hand_over(&first, &over).unwrap();
    // Job 2: it comes back, under warranty; a module on an estimate that was taken back, then another cause.
    let second = shop.measuring();
    let work = &shop.workshop;
    let module = work.job_view(&second).unwrap().programming.modules[0].name.en.clone();
    for bad in ["0", "-1", "2", "99", "1e9", "NaN", "🙂", "99/99/2099", "4294967297"] {
        let entry = IntakeEntry { comes_back_from: Some(bad.into()), ..Default::default() };
        let error = api::ErrorView::from(work.intake_keep(&second, &entry).unwrap_err());
        assert_eq!(
            (error.code.as_str(), error.values["what"].as_str()),
            ("unknown_choice", "comes_back_from"),
            "{bad}"
        );
    }
    let back = IntakeEntry { comes_back_from: Some("#1".into()), warranty: Some(true), ..Default::default() };
    let view = work.intake_keep(&second, &back).unwrap();
    assert_eq!((view.intake.comes_back_from.as_str(), view.intake.warranty), ("1", true));
    assert_eq!(work.intake_keep(&second, &back).unwrap().records, view.records, "the same again is no news");
    work.estimate_keep(&second, &lines(vec![named(&format!("New {module}"), "part", "389.50")])).unwrap();
    work.estimate_keep(&second, &lines(vec![named("Wire", "part", "12")])).unwrap();
    // Jobs 3 and 4: a price typed at "test on or buy"; nothing that says a module was ever suspected.
    let third = shop.measuring();
    let typed = BuyPriceEntry { part: "410".into(), programming: String::new() };
    shop.workshop.buy_price_keep(&third, &typed).unwrap();
    let fourth = shop.measuring();
    // Job 5: the customer came asking for it; nobody wrote a price down.
    let fifth = shop.measuring();
    let asked = IntakeEntry {
        complaint: Some(format!("Needs a new {module}, my cousin says")),
        ..Default::default()
    };
    shop.workshop.intake_keep(&fifth, &asked).unwrap();
    for job in [&second, &third, &fourth, &fifth] {
        shop.reopen_after(|folder| seal_unasked(folder, job, &another_cause()));
        // The line of the list follows with the next record.
        shop.workshop
            .intake_keep(job, &IntakeEntry { plate: Some("TST 1".into()), ..Default::default() })
            .unwrap();
    }

    let year = shop.workshop.year_view("2027").unwrap();
    assert_eq!((year.first, year.last), (2026, 2027));
    assert_eq!((year.opened, year.closed, year.hours.as_str()), (4, 1, "1.5"));
    assert_eq!((year.agreed.as_str(), year.billed.as_str()), ("0", "1500"));
    assert_eq!((year.comebacks, year.warranty, year.paid.as_str()), (1, 1, "0"));
    assert_eq!((year.modules_bought, year.modules_cost.as_str()), (0, "0"));
    assert_eq!((year.modules_spared, year.modules_saved.as_str()), (0, "0"));
    // The findings are sealed with a wall time of 2026, where they count. 389.50 from the estimate that was taken back and
    // 410 as typed; the fifth has no price, the fourth no suspicion.
    let before = shop.workshop.year_view("2026").unwrap();
    assert_eq!((before.opened, before.closed), (1, 0));
    assert_ne!(before.agreed, "0", "what was approved in 2026 counts there");
    assert_eq!(before.paid, "1000", "a payment counts on its own day");
    assert_eq!((before.modules_spared, before.modules_saved.as_str(), before.without_price), (3, "79950", 1));
    let spared: Vec<_> =
        before.spared.iter().map(|one| (one.number, one.price.as_str(), one.from.as_str())).collect();
    assert_eq!(spared, [(2, "38950", "declined"), (3, "41000", "typed"), (5, "", "")]);
    for bad in ["", "0", "-1", "99999", "1e9", "NaN", "🙂", "99/99/2099"] {
        assert_eq!(Shop::code(shop.workshop.year_view(bad)), "unknown_choice", "{bad}");
    }
}
