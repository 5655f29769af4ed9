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
