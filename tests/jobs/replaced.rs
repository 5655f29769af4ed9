//! Records of earlier versions: a job's invoice had the number of the job, and a second one took the place of the first.

use crate::ledger::{hledger, table};
use crate::one_door::{approved, seal_unasked};
use crate::shop::*;
use api::entry::*;
use job::Event;
use job::event::InvoiceKept;
use money::{Cents, Invoice, Line, LineKind, Quantity, TaxBasis, TaxRate};

fn old(cents: i64) -> Event {
    let line = Line::new(LineKind::Labor, "Line", Quantity::ONE, Cents(cents));
    let invoice = Invoice {
        number: "1".into(),
        estimate_version: 1,
        lines: vec![line],
        tax_rate: TaxRate::ZERO,
        tax_basis: TaxBasis::Invoice,
        tax_included: false,
    };
    let totals = invoice.totals().unwrap();
    Event::InvoiceKept(InvoiceKept { invoice, totals, approved: Cents(9_000), seller_number: String::new() })
}

#[test]
fn of_an_invoice_that_was_replaced_only_the_newest_counts_and_both_say_so() {
    let mut shop = Shop::open();
    let job = approved(&shop);
    shop.reopen_after(|folder| seal_unasked(folder, &job, &old(9_000)));
    shop.reopen_after(|folder| seal_unasked(folder, &job, &old(7_500)));
    shop.reopen_after(|folder| seal_unasked(folder, &job, &old(6_000)));
    let view = shop.workshop.job_view(&job).unwrap();
    assert_eq!(view.invoices.len(), 3, "all are shown");
    assert_eq!((view.balance.billed.as_str(), view.balance.due.as_str()), ("6000", "6000"));
    let [first, second, third] = view.invoices.as_slice() else { panic!("three") };
    assert!(first.replaces.is_empty() && !first.replaced.is_empty());
    assert_eq!((&second.replaces, &second.replaced), (&first.kept, &third.kept));
    assert!(!third.replaces.is_empty() && third.replaced.is_empty());
    let ledger = shop.workshop.ledger().unwrap();
    let theirs = hledger(&ledger.journal);
    assert_eq!(theirs, table(&ledger.csv));
    assert_eq!((theirs["assets:customers"], theirs["income:labor"]), (6_000, -6_000));
    let credit = |invoice: &str| CreditNoteEntry {
        invoice: invoice.into(),
        lines: vec![CreditLineEntry { line: 1, quantity: String::new() }],
        reason: "Taken back.".into(),
    };
    let keep = |record: &str| Shop::code(shop.workshop.credit_note_keep(&job, &credit(record)));
    assert_eq!(keep(&first.record), "invoice_was_replaced");
    // What is left of the approval may be billed in a paper of its own, which takes nobody's place.
    let rest = lines(vec![line("labour", "30")]);
    let view = shop.workshop.invoice_keep(&job, &rest).unwrap();
    assert_eq!((view.balance.billed.as_str(), view.invoices[3].number.as_str()), ("9000", "INV-0001"));
    let year = shop.workshop.year_view("2026").unwrap();
    assert_eq!((year.billed.as_str(), year.hours.as_str()), ("9000", "2"));
    assert!(view.invoices[3].replaces.is_empty() && view.invoices[2].replaced.is_empty());
    let more = lines(vec![line("labour", "0.01")]);
    assert_eq!(Shop::code(shop.workshop.invoice_keep(&job, &more)), "bill_before");
    assert_eq!(keep(&third.record), "kept");
}
