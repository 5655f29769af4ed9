//! The shop's ledger read by hledger (hledger manual, "Journal" and "Commands: balance"), which adds everything up anew.

use crate::shop::*;
use api::entry::*;
use std::collections::BTreeMap;
use std::process::Command;

/// Balances that hledger finds, in cents, by account.
pub fn hledger(journal: &str) -> BTreeMap<String, i64> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shop.journal");
    std::fs::write(&path, journal).unwrap();
    // Its strict mode also checks that each transaction adds up to nothing.
    let run = |arguments: &[&str]| {
        let output =
            Command::new("hledger").arg("-f").arg(&path).args(arguments).env("LC_ALL", "C.UTF-8").output();
        let output = output.expect("hledger is installed by the checks' set-up");
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).unwrap()
    };
    run(&["check"]);
    let table = run(&["balance", "--flat", "--no-total", "-O", "csv"]);
    let mut rows = csv::Reader::from_reader(table.as_bytes());
    let cents = |text: &str| {
        let digits: String = text.chars().filter(|c| c.is_ascii_digit() || *c == '-').collect();
        digits.parse::<i64>().unwrap()
    };
    rows.records().map(|row| row.unwrap()).map(|row| (row[0].to_owned(), cents(&row[1]))).collect()
}

/// The same from our own table for the bookkeeper.
pub fn table(csv: &str) -> BTreeMap<String, i64> {
    let mut sums = BTreeMap::new();
    for row in csv::Reader::from_reader(csv.as_bytes()).records() {
        let row = row.unwrap();
        let cents = |text: &str| text.replace('.', "").parse::<i64>().unwrap_or(0);
        *sums.entry(row[3].to_owned()).or_default() += cents(&row[4]) - cents(&row[5]);
    }
    sums.retain(|_, sum| *sum != 0);
    sums
}

#[test]
fn hledger_agrees_to_the_cent() {
    let shop = Shop::open();
    for (number, price) in ["0.01", "89.99", "1,234.56", "45"].into_iter().enumerate() {
        let job = shop.measuring();
        let work = LineEntry { quantity: "1.25".into(), ..line("labour", price) };
        let part = LineEntry { description: "; (odd) = part".into(), taxed: true, ..line("part", price) };
        shop.workshop.estimate_keep(&job, &lines(vec![work.clone(), part.clone()])).unwrap();
        shop.workshop.approval_keep(&job, &approval(1)).unwrap();
        let view = shop.workshop.invoice_keep(&job, &lines(vec![work, part])).unwrap();
        let pay = |way: PaymentWay, amount: &str| PaymentEntry {
            way,
            means: [Means::Cash, Means::Card, Means::Check, Means::Transfer][number],
            amount: amount.into(),
            day: String::new(),
            reference: "(no. 7) ; x".into(),
            note: String::new(),
            photos: vec![],
        };
        shop.workshop.payment_keep(&job, &pay(PaymentWay::Received, "0.01")).unwrap();
        let lines = vec![CreditLineEntry { line: 2, quantity: String::new() }];
        let invoice = view.invoices[0].record.clone();
        let note = CreditNoteEntry { invoice, lines, reason: "Taken back.".into() };
        shop.workshop.credit_note_keep(&job, &note).unwrap();
        for (step, what) in [
            (SupplierStep::Quoted, CostKind::Part),
            (SupplierStep::Billed, CostKind::Part),
            (SupplierStep::Billed, CostKind::Core),
            (SupplierStep::Paid, CostKind::Part),
            (SupplierStep::Credited, CostKind::Core),
        ] {
            let entry = SupplierStepEntry {
                step,
                supplier: "Fenn:row  & (Söhne); | ☕".into(),
                what,
                description: "=1+1".into(),
                amount: "17.35".into(),
                means: Some(Means::Transfer),
                day: String::new(),
                due: String::new(),
                reference: String::new(),
                by: String::new(),
                photos: vec![],
            };
            shop.workshop.supplier_step_keep(&job, &entry).unwrap();
        }
    }
    let ledger = shop.workshop.ledger().unwrap();
    let (theirs, ours) = (hledger(&ledger.journal), table(&ledger.csv));
    assert_eq!(theirs, ours, "{}", ledger.journal);
    assert_eq!(ours.values().sum::<i64>(), 0);
    let due: i64 = shop.workshop.jobs_search(&JobsEntry::of("")).unwrap().rows.iter().fold(0, |sum, row| {
        sum + shop.workshop.job_view(&row.job).unwrap().balance.due.parse::<i64>().unwrap()
    });
    assert_eq!(ours.get("assets:customers").copied().unwrap_or(0), due);
    assert!(ledger.csv.contains("'=") || !ledger.csv.contains(",=1"), "{}", ledger.csv);
}

/// A deposit is the customer's until an invoice takes it up: a liability (IFRS 15, paragraph 106: a contract liability, not
/// read here). hledger adds the accounts up anew.
#[test]
fn what_is_paid_ahead_is_owed_until_an_invoice_takes_it_up() {
    let shop = Shop::open();
    let pay = |job: &str, way: PaymentWay, amount: &str| {
        let entry = PaymentEntry {
            way,
            means: Means::Cash,
            amount: amount.into(),
            day: String::new(),
            reference: String::new(),
            note: String::new(),
            photos: vec![],
        };
        shop.workshop.payment_keep(job, &entry).unwrap();
    };
    let deposits = || {
        let ledger = shop.workshop.ledger().unwrap();
        let theirs = hledger(&ledger.journal);
        assert_eq!(theirs, table(&ledger.csv), "{}", ledger.journal);
        let of = |account: &str| theirs.get(account).copied().unwrap_or(0);
        (of("liabilities:customer deposits"), of("assets:customers"), of("assets:funds:cash"))
    };
    let job = shop.measuring();
    let work = |price: &str| lines(vec![LineEntry { description: price.into(), ..line("labour", price) }]);
    let both = LinesEntry { lines: [work("100").lines, work("60").lines].concat() };
    shop.workshop.estimate_keep(&job, &both).unwrap();
    shop.workshop.approval_keep(&job, &approval(1)).unwrap();
    pay(&job, PaymentWay::Received, "120");
    pay(&job, PaymentWay::Received, "20");
    assert_eq!(deposits(), (-14_000, 0, 14_000));
    pay(&job, PaymentWay::Refunded, "10");
    assert_eq!(deposits(), (-13_000, 0, 13_000));
    shop.workshop.invoice_keep(&job, &work("100")).unwrap();
    assert_eq!(deposits(), (-3_000, 0, 13_000), "the invoice takes up what it comes to");
    shop.workshop.invoice_keep(&job, &work("60")).unwrap();
    assert_eq!(deposits(), (0, 3_000, 13_000), "the next one takes up the rest");
    pay(&job, PaymentWay::Received, "30");
    assert_eq!(deposits(), (0, 0, 16_000), "what is paid later is no deposit");
    // Another job's deposit that is never taken up goes back.
    let other = shop.measuring();
    shop.workshop.estimate_keep(&other, &work("50")).unwrap();
    shop.workshop.approval_keep(&other, &approval(1)).unwrap();
    pay(&other, PaymentWay::Received, "50");
    shop.workshop
        .invoice_keep(&other, &lines(vec![LineEntry { description: "50".into(), ..line("labour", "20") }]))
        .unwrap();
    pay(&other, PaymentWay::Refunded, "30");
    assert_eq!(deposits(), (0, 0, 18_000));
}
