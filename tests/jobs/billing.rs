//! What a stranger got past the total alone, each through the api as a window drives it, and its lawful counterpart. The
//! shop is in California, where nothing above or beside what was approved may be billed (16 CCR 3354, 3356; Cal. Bus. &
//! Prof. Code 9884.9).

use crate::one_door::at_once;
use crate::shop::*;
use api::entry::*;
use api::view::JobView;

fn labor(words: &str, price: &str) -> LineEntry {
    LineEntry { description: words.into(), ..line("labour", price) }
}

fn relay(condition: &str, price: &str) -> LineEntry {
    LineEntry {
        description: "Starter relay".into(),
        condition: condition.into(),
        part_number: "R-100".into(),
        taxed: true,
        ..line("part", price)
    }
}

fn coding(provider: &str) -> LineEntry {
    LineEntry { description: "Program the module".into(), provider: provider.into(), ..line("sublet", "180") }
}

fn whole() -> Vec<LineEntry> {
    vec![labor("Fit the relay", "120"), relay("new", "45"), coding("Harbor Lane Motors")]
}

/// 120 + 45 + 180 and 7.25 % of 45 (3.2625, third decimal 2: 3.26) are 348.26.
fn approved(shop: &Shop, answers: &[LineAnswer]) -> String {
    let job = shop.measuring();
    shop.workshop.estimate_keep(&job, &lines(whole())).unwrap();
    let entry = ApprovalEntry { answers: answers.to_vec(), ..approval(1) };
    shop.workshop.approval_keep(&job, &entry).unwrap();
    job
}

fn bill(shop: &Shop, job: &str, billed: Vec<LineEntry>) -> Result<JobView, api::ApiError> {
    shop.workshop.invoice_keep(job, &lines(billed))
}

fn paid(way: PaymentWay, amount: &str) -> PaymentEntry {
    PaymentEntry {
        way,
        means: Means::Card,
        amount: amount.into(),
        day: String::new(),
        reference: String::new(),
        note: String::new(),
        photos: vec![],
    }
}

#[test]
fn a_bill_differs_in_nothing_from_what_was_approved() {
    let shop = Shop::open();
    let job = approved(&shop, &[]);
    let with = |place: usize, line: LineEntry| {
        let mut billed = whole();
        billed[place] = line;
        api::ErrorView::from(bill(&shop, &job, billed).unwrap_err())
    };
    for (place, line, code) in [
        (1, relay("used", "45"), "bill_condition"),
        (1, LineEntry { part_number: "R-200".into(), ..relay("new", "45") }, "bill_part_number"),
        (1, relay("new", "45.01"), "bill_price"),
        (2, coding("Quayside Coding"), "bill_provider"),
        (0, LineEntry { quantity: "1.1".into(), ..labor("Fit the relay", "120") }, "bill_quantity"),
        (0, LineEntry { taxed: true, ..labor("Fit the relay", "120") }, "bill_taxed"),
        (0, labor("Fit something else", "120"), "bill_not_estimated"),
    ] {
        let refused = with(place, line);
        assert_eq!(
            (refused.code.as_str(), refused.values["line"].as_str()),
            (code, (place + 1).to_string().as_str())
        );
    }
    let kept = bill(&shop, &job, whole()).unwrap();
    assert_eq!(kept.balance.due, "34826");
    assert_eq!(kept.invoices[0].number, "INV-0001");
}

#[test]
fn declined_lines_are_not_billed_and_the_total_is_that_of_the_others() {
    let shop = Shop::open();
    let answers = [LineAnswer::Approved, LineAnswer::Declined, LineAnswer::Approved];
    let job = approved(&shop, &answers);
    assert_eq!(shop.workshop.job_view(&job).unwrap().approved_total, "30000");
    assert_eq!(Shop::code(bill(&shop, &job, whole())), "bill_declined");
    // What was declined may be asked about again.
    shop.workshop.approval_keep(&job, &approval(1)).unwrap();
    assert_eq!(Shop::code(bill(&shop, &job, whole())), "kept");
}

#[test]
fn a_no_leaves_what_was_approved_before_in_force() {
    let shop = Shop::open();
    let job = approved(&shop, &[]);
    let more = [whole(), vec![labor("Replace the starter", "300")]].concat();
    shop.workshop.estimate_keep(&job, &lines(more)).unwrap();
    let no =
        ApprovalEntry { answers: vec![LineAnswer::Declined; 4], signature: String::new(), ..approval(2) };
    let view = shop.workshop.approval_keep(&job, &no).unwrap();
    assert_eq!(view.approved_total, "34826");
    assert!(view.waiting.iter().all(|wait| wait.what != "customer"), "the customer has answered");
    assert_eq!(
        Shop::code(bill(&shop, &job, vec![labor("Replace the starter", "300")])),
        "bill_not_estimated"
    );
    assert_eq!(view.estimates[1].changes.len(), 1, "the version says what is new in it");
}

#[test]
fn a_limit_holds_below_the_total() {
    let shop = Shop::open();
    let job = shop.measuring();
    shop.workshop.estimate_keep(&job, &lines(whole())).unwrap();
    let none = ApprovalEntry { limit: "0".into(), ..approval(1) };
    assert_eq!(Shop::code(shop.workshop.approval_keep(&job, &none)), "approval_of_nothing");
    // Above the total a limit limits nothing: it may have been meant for something else.
    let above = ApprovalEntry { limit: "348.27".into(), ..approval(1) };
    let refused = api::ErrorView::from(shop.workshop.approval_keep(&job, &above).unwrap_err());
    assert_eq!(
        (refused.code.as_str(), refused.values["field"].as_str(), refused.values["total"].as_str()),
        ("approval_over_estimate", "limit", "34826")
    );
    let limited = ApprovalEntry { limit: "300".into(), ..approval(1) };
    assert_eq!(shop.workshop.approval_keep(&job, &limited).unwrap().approved_total, "30000");
    assert_eq!(Shop::code(bill(&shop, &job, whole())), "invoice_over_approved");
}

#[test]
fn what_is_taken_back_is_not_billed() {
    let shop = Shop::open();
    let job = approved(&shop, &[]);
    let view = shop.workshop.job_view(&job).unwrap();
    let back = ApprovalWithdrawalEntry {
        approval: view.approvals[0].record.clone(),
        channel: Channel::Phone,
        name: "Odalys Brandt".into(),
        words: "Stop, please.".into(),
        photos: vec![],
    };
    let view = shop.workshop.approval_withdraw(&job, &back).unwrap();
    assert_eq!(view.approved_total, "");
    assert_eq!(Shop::code(bill(&shop, &job, whole())), "nothing_approved");
    assert_eq!(Shop::code(shop.workshop.approval_withdraw(&job, &back)), "nothing_approved");
    shop.workshop.approval_keep(&job, &approval(1)).unwrap();
    bill(&shop, &job, whole()).unwrap();
    let again = shop.workshop.job_view(&job).unwrap().approvals[1].record.clone();
    let late = ApprovalWithdrawalEntry { approval: again, ..back };
    assert_eq!(Shop::code(shop.workshop.approval_withdraw(&job, &late)), "already_billed");
}

#[test]
fn each_way_of_answering_leaves_its_proof() {
    let shop = Shop::open();
    let job = shop.measuring();
    let named = IntakeEntry { customer: Some("Wendell Prior".into()), ..IntakeEntry::default() };
    shop.workshop.intake_keep(&job, &named).unwrap();
    shop.workshop.estimate_keep(&job, &lines(whole())).unwrap();
    let by = |channel: Channel| ApprovalEntry { channel, words: String::new(), ..approval(1) };
    assert_eq!(Shop::code(shop.workshop.approval_keep(&job, &by(Channel::Phone))), "field_empty");
    assert_eq!(Shop::code(shop.workshop.approval_keep(&job, &by(Channel::TextMessage))), "no_message_kept");
    let smiling = ApprovalEntry { number_called: "🙂".into(), ..by(Channel::Phone) };
    assert_eq!(Shop::code(shop.workshop.approval_keep(&job, &smiling)), "phone_form");
    let stranger = ApprovalEntry { signer_confirmed: false, ..approval(1) };
    assert_eq!(Shop::code(shop.workshop.approval_keep(&job, &stranger)), "signer_not_named");
    let called = ApprovalEntry {
        number_called: "555 0142".into(),
        name: " wendell  prior".into(),
        signer_confirmed: false,
        ..by(Channel::Phone)
    };
    // 16 CCR 3353: the estimate is in the customer's hands before a yes by phone.
    assert_eq!(Shop::code(shop.workshop.approval_keep(&job, &called)), "estimate_not_written");
    shop.workshop.approval_request(&job, &given_on_paper(1)).unwrap();
    let view = shop.workshop.approval_keep(&job, &called).unwrap();
    let kept = &view.approvals[0];
    assert_eq!((kept.number_called.as_str(), kept.called_by.as_str()), ("555 0142", "Imre Valdsson"));
    assert_eq!(kept.signer.map(|signer| job::code(&signer)), Some("customer".to_owned()));
}

#[test]
fn an_invoice_is_never_replaced_and_nothing_is_billed_twice() {
    let shop = Shop::open();
    let job = approved(&shop, &[]);
    bill(&shop, &job, vec![relay("new", "45")]).unwrap();
    assert_eq!(Shop::code(bill(&shop, &job, whole())), "bill_before");
    let view = bill(&shop, &job, vec![labor("Fit the relay", "120")]).unwrap();
    let numbers: Vec<&str> = view.invoices.iter().map(|invoice| invoice.number.as_str()).collect();
    assert_eq!(numbers, ["INV-0001", "INV-0002"]);
    assert_eq!(view.balance.billed, "16826");
    // The series runs through the whole shop.
    let other = approved(&shop, &[]);
    assert_eq!(bill(&shop, &other, whole()).unwrap().invoices[0].number, "INV-0003");
}

#[test]
fn a_credit_note_takes_back_what_was_billed_and_no_more() {
    let shop = Shop::open();
    let job = approved(&shop, &[]);
    let invoice = bill(&shop, &job, whole()).unwrap().invoices[0].record.clone();
    let note = |line: u32, quantity: &str| CreditNoteEntry {
        invoice: invoice.clone(),
        lines: vec![CreditLineEntry { line, quantity: quantity.into() }],
        reason: "The relay went back.".into(),
    };
    let credit = |entry: &CreditNoteEntry| shop.workshop.credit_note_keep(&job, entry);
    assert_eq!(Shop::code(credit(&note(2, "2"))), "credit_not_billed");
    assert_eq!(Shop::code(credit(&note(9, ""))), "unknown_choice");
    assert_eq!(Shop::code(credit(&note(2, "-1"))), "amount_below_zero");
    assert_eq!(Shop::code(credit(&note(2, "0"))), "value_refused");
    assert_eq!(Shop::code(credit(&CreditNoteEntry { reason: " ".into(), ..note(2, "") })), "field_empty");
    // 45 and its tax of 3.26.
    let view = credit(&note(2, "")).unwrap();
    assert_eq!((view.balance.credited.as_str(), view.balance.due.as_str()), ("4826", "30000"));
    assert_eq!(view.credit_notes[0].number, "CN-0001");
    assert_eq!(Shop::code(credit(&note(2, ""))), "credit_not_billed");
    assert_eq!(Shop::code(credit(&note(1, "0.5"))), "kept");
}

#[test]
fn payments_stay_within_what_is_due_and_refunds_within_what_was_paid() {
    let shop = Shop::open();
    let early = shop.measuring();
    let pay = |job: &str, way: PaymentWay, amount: &str| shop.workshop.payment_keep(job, &paid(way, amount));
    assert_eq!(Shop::code(pay(&early, PaymentWay::Received, "10")), "nothing_approved");
    let job = approved(&shop, &[]);
    assert_eq!(Shop::code(pay(&job, PaymentWay::Received, "348.27")), "deposit_over_approved");
    assert_eq!(pay(&job, PaymentWay::Received, "100").unwrap().balance.due, "-10000");
    assert_eq!(Shop::code(pay(&job, PaymentWay::Refunded, "100.01")), "refund_over_paid");
    bill(&shop, &job, whole()).unwrap();
    assert_eq!(Shop::code(pay(&job, PaymentWay::Received, "248.27")), "payment_over_due");
    assert_eq!(pay(&job, PaymentWay::Received, "248.26").unwrap().balance.due, "0");
    // Money back for a bill needs its credit note first.
    assert_eq!(Shop::code(pay(&job, PaymentWay::Refunded, "45")), "refund_over_paid");
    for (odd, code) in [
        ("0", "value_refused"),
        ("-5", "amount_below_zero"),
        ("1e9", "amount_unreadable"),
        ("☕", "amount_unreadable"),
        ("", "amount_unreadable"),
    ] {
        let refused = api::ErrorView::from(pay(&job, PaymentWay::Received, odd).unwrap_err());
        assert_eq!(refused.code, code, "{odd}");
        assert!(refused.values.values().any(|value| value == "amount"), "the field is named: {refused:?}");
    }
    let records = shop.workshop.job_view(&job).unwrap().records;
    let on = |day: &str| PaymentEntry { day: day.into(), ..paid(PaymentWay::Received, "1") };
    for (day, code) in [
        ("2026-10-13", "day_in_future"),
        ("2026-10-11", "day_before_job"),
        ("99/99/2099", "not_a_day"),
        ("2026-02-30", "not_a_day"),
    ] {
        assert_eq!(Shop::code(shop.workshop.payment_keep(&job, &on(day))), code, "{day}");
    }
    assert_eq!(shop.workshop.job_view(&job).unwrap().records, records, "nothing refused is kept");
}

#[test]
fn after_the_hand_over_there_are_only_corrections() {
    let shop = Shop::open();
    let job = approved(&shop, &[]);
    let invoice = bill(&shop, &job, vec![labor("Fit the relay", "120")]).unwrap().invoices[0].record.clone();
    let over = HandOverEntry {
        warranty: "12 months".into(),
        old_parts: "returned".into(),
        ..HandOverEntry::default()
    };
    shop.workshop.hand_over(&job, &over).unwrap();
    assert_eq!(Shop::code(bill(&shop, &job, vec![relay("new", "45")])), "handed_over_already");
    assert_eq!(Shop::code(shop.workshop.estimate_keep(&job, &lines(whole()))), "handed_over_already");
    assert_eq!(Shop::code(shop.workshop.payment_keep(&job, &paid(PaymentWay::Received, "120"))), "kept");
    let line = CreditLineEntry { line: 1, quantity: String::new() };
    let note = CreditNoteEntry { invoice, lines: vec![line], reason: "Goodwill.".into() };
    assert_eq!(shop.workshop.credit_note_keep(&job, &note).unwrap().balance.due, "-12000");
    assert_eq!(Shop::code(shop.workshop.payment_keep(&job, &paid(PaymentWay::Refunded, "120"))), "kept");
}

#[test]
fn the_question_fits_a_message_whatever_the_lines_are() {
    let shop = Shop::open();
    let job = shop.measuring();
    let long = |number: usize| labor(&format!("Line {number} {}", "wire ".repeat(number % 30)), "10");
    shop.workshop.estimate_keep(&job, &lines((0..60).map(long).collect())).unwrap();
    let view = shop.workshop.job_view(&job).unwrap();
    for text in [&view.request_draft.en, &view.request_draft.es] {
        assert!(text.chars().count() <= 480, "{text}");
        assert!(text.contains("$600.00"), "{text}");
    }
    assert!(view.request_draft.en.contains("more lines"), "{}", view.request_draft.en);
    let ask = |version: u32, text: &str| ApprovalRequestEntry {
        version,
        channel: Channel::TextMessage,
        language: "en".into(),
        text: text.into(),
        to: "555 0142".into(),
    };
    assert_eq!(
        Shop::code(shop.workshop.approval_request(&job, &ask(1, &"x".repeat(481)))),
        "message_too_long"
    );
    assert_eq!(Shop::code(shop.workshop.approval_request(&job, &ask(2, "x"))), "not_the_latest_version");
    let view = shop.workshop.approval_request(&job, &ask(1, &view.request_draft.en)).unwrap();
    assert_eq!(view.requests.len(), 1);
}

#[test]
fn a_suppliers_bill_stands_beside_what_was_agreed() {
    let shop = Shop::open();
    let job = approved(&shop, &[]);
    let step = |step: SupplierStep, amount: &str| SupplierStepEntry {
        step,
        supplier: "Harbor Lane  motors".into(),
        what: CostKind::Programming,
        description: "Program the module".into(),
        amount: amount.into(),
        means: Some(Means::Transfer),
        day: String::new(),
        due: String::new(),
        reference: "HL-7".into(),
        by: "Wendell".into(),
        photos: vec![],
    };
    let keep = |entry: &SupplierStepEntry| shop.workshop.supplier_step_keep(&job, entry);
    keep(&step(SupplierStep::Quoted, "150")).unwrap();
    keep(&SupplierStepEntry { supplier: "Harbor Lane Motors".into(), ..step(SupplierStep::Agreed, "145") })
        .unwrap();
    keep(&step(SupplierStep::Billed, "195")).unwrap();
    let view = keep(&step(SupplierStep::Paid, "145")).unwrap();
    assert_eq!(view.suppliers.len(), 1, "one business, however its name is typed");
    let account = &view.suppliers[0];
    assert_eq!((account.over_expected.as_str(), account.owed.as_str()), ("5000", "5000"));
    let nameless = SupplierStepEntry { supplier: " ".into(), ..step(SupplierStep::Billed, "1") };
    assert_eq!(Shop::code(keep(&nameless)), "field_empty");
    let unpaid = SupplierStepEntry { means: None, ..step(SupplierStep::Paid, "1") };
    assert_ne!(Shop::code(keep(&unpaid)), "kept");
}

/// Of two hands that bill, pay and credit the same, one does.
#[test]
fn two_papers_at_once_are_one() {
    let shop = Shop::open();
    for round in 0..5 {
        let job = approved(&shop, &[]);
        let workshop = &shop.workshop;
        let bill = |workshop: &api::Workshop| workshop.invoice_keep(&job, &lines(whole()));
        assert_eq!(at_once(workshop, bill, bill), 1, "{round}: invoices");
        let pay =
            |workshop: &api::Workshop| workshop.payment_keep(&job, &paid(PaymentWay::Received, "348.26"));
        assert_eq!(at_once(workshop, pay, pay), 1, "{round}: payments");
        let invoice = workshop.job_view(&job).unwrap().invoices[0].record.clone();
        let lines = vec![CreditLineEntry { line: 3, quantity: String::new() }];
        let note = CreditNoteEntry { invoice, lines, reason: "Not done.".into() };
        let credit = |workshop: &api::Workshop| workshop.credit_note_keep(&job, &note);
        assert_eq!(at_once(workshop, credit, credit), 1, "{round}: credit notes");
        let view = workshop.job_view(&job).unwrap();
        assert_eq!((view.balance.due.as_str(), view.invoices.len()), ("-18000", 1));
    }
}

/// Days counted on a calendar, miles by hand: 61,204 and 12,000.
#[test]
fn a_warranty_ends_on_a_day_or_at_a_distance() {
    let shop = Shop::open();
    shop.at("2031-04-05T09:00:00-05:00");
    let job = approved(&shop, &[]);
    let intake = IntakeEntry { odometer: Some("61,204".into()), ..Default::default() };
    shop.workshop.intake_keep(&job, &intake).unwrap();
    shop.workshop.invoice_keep(&job, &lines(whole())).unwrap();
    let over = |months: &str, distance: &str, odometer: &str| HandOverEntry {
        warranty: "on the repaired wire".into(),
        warranty_months: months.into(),
        warranty_distance: distance.into(),
        odometer: odometer.into(),
        old_parts: "returned".into(),
        photos: vec![],
    };
    for wrong in ["-1", "0", "1e9", "twelve", "🔧", "1.5", "9999999999"] {
        assert_ne!(Shop::code(shop.workshop.hand_over(&job, &over(wrong, "", ""))), "kept", "{wrong} months");
        assert_ne!(Shop::code(shop.workshop.hand_over(&job, &over("", wrong, ""))), "kept", "{wrong} miles");
        if wrong != "0" && wrong != "1.5" {
            assert_ne!(Shop::code(shop.workshop.hand_over(&job, &over("", "", wrong))), "kept", "{wrong}");
        }
    }
    let view = shop.workshop.hand_over(&job, &over("12", "12,000", "")).unwrap().hand_over.unwrap();
    let handed = view.kept.split('T').next().unwrap();
    assert_eq!(view.warranty_until, handed.replacen("2031", "2032", 1));
    assert_eq!(view.warranty_odometer, "73204");
}
