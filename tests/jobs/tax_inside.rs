//! Where prices have the tax in them, what is typed is what is paid, from the estimate to the journal. Worked examples: HM
//! Revenue and Customs' VAT fraction, a sixth of the price at 20 % ("Calculating VAT for VAT-inclusive and VAT-exclusive
//! prices"); the same rule gives 21/121 in Spain.

use crate::shop::*;
use api::entry::*;
use api::view::JobView;

fn in_region(region: &str, percent: &str) -> (Shop, String) {
    let shop = Shop::open();
    let entry = ShopEntry { tax_percent: percent.into(), labour_rate: "60".into(), ..entry(region) };
    shop.workshop.shop_set_up(&entry).unwrap();
    let job = shop.measuring();
    (shop, job)
}

fn work() -> LinesEntry {
    let taxed = |kind: &str, words: &str, price: &str| LineEntry {
        description: words.into(),
        taxed: true,
        ..line(kind, price)
    };
    let disposal = LineEntry { description: "Disposal".into(), ..line("fee", "5") };
    lines(vec![taxed("part", "Relay", "120"), taxed("labour", "Fit it", "60"), disposal])
}

fn billed(shop: &Shop, job: &str) -> JobView {
    shop.workshop.estimate_keep(job, &work()).unwrap();
    let approved = shop.workshop.approval_keep(job, &approval(1)).unwrap();
    assert_eq!(approved.approved_total, "18500", "what is typed is what is approved");
    shop.workshop.invoice_keep(job, &work()).unwrap()
}

#[test]
fn a_sixth_of_the_price_is_vat_from_the_estimate_to_the_journal() {
    let (shop, job) = in_region("GB", "20");
    let reckoned = shop.workshop.lines_total(&job, PaperKind::Estimate, &work()).unwrap();
    assert_eq!((reckoned.tax.as_str(), reckoned.total.as_str()), ("3000", "18500"));
    let view = billed(&shop, &job);
    let totals = &view.invoices[0].totals;
    let sums = [&totals.parts, &totals.labour, &totals.other, &totals.tax, &totals.total];
    assert_eq!(sums.map(String::as_str), ["10000", "5000", "500", "3000", "18500"]);
    assert!(totals.tax_included);
    assert_eq!(view.balance.due, "18500");
    assert_eq!(view.invoices[0].seller_number, "DEMO 7001");
    let ledger = shop.workshop.ledger().unwrap();
    assert_eq!(crate::ledger::hledger(&ledger.journal), crate::ledger::table(&ledger.csv));
    let theirs = crate::ledger::hledger(&ledger.journal);
    assert_eq!((theirs["liabilities:sales tax"], theirs["assets:customers"]), (-3_000, 18_500));
    assert_eq!((theirs["income:parts"], theirs["income:labor"]), (-10_000, -5_000));
}

#[test]
fn a_credited_line_gives_back_its_own_tax() {
    let (shop, job) = in_region("ES", "21");
    let view = billed(&shop, &job);
    // 120 x 21/121 = 20.826, 60 x 21/121 = 10.413: third decimals six and three.
    assert_eq!(view.invoices[0].totals.tax, "3124");
    let invoice = view.invoices[0].record.clone();
    for (number, tax) in [(1, "2083"), (2, "1041"), (3, "0")] {
        let lines = vec![CreditLineEntry { line: number, quantity: String::new() }];
        let note = CreditNoteEntry { invoice: invoice.clone(), lines, reason: "Taken back.".into() };
        let view = shop.workshop.credit_note_keep(&job, &note).unwrap();
        assert_eq!(view.credit_notes.last().unwrap().totals.tax, tax);
    }
    let view = shop.workshop.job_view(&job).unwrap();
    assert_eq!((view.balance.credited.as_str(), view.balance.due.as_str()), ("18500", "0"));
    assert_eq!(
        crate::ledger::hledger(&shop.workshop.ledger().unwrap().journal).len(),
        0,
        "all is taken back"
    );
}

/// What an estimate of an older version added on top stays on top in its bill.
#[test]
fn a_bill_is_reckoned_as_what_was_approved() {
    let (shop, job) = in_region("GB", "20");
    shop.workshop.estimate_keep(&job, &work()).unwrap();
    shop.workshop.approval_keep(&job, &approval(1)).unwrap();
    let later = ShopEntry { tax_percent: "25".into(), ..entry("GB") };
    shop.workshop.shop_set_up(&later).unwrap();
    let bill = shop.workshop.lines_total(&job, PaperKind::Invoice, &work()).unwrap();
    assert_eq!(bill.tax, "3000", "the bill keeps the approved rate");
    let next = shop.workshop.lines_total(&job, PaperKind::Estimate, &work()).unwrap();
    assert_eq!(next.tax, "3600", "a fifth is in the price at 25 %");
}

/// Value Added Tax Regulations 1995, reg. 14(1)(d); who isn't registered charges no tax and has no number.
#[test]
fn the_sellers_number_stands_on_the_bill_where_the_rule_wants_it() {
    for (region, percent, code) in [
        ("GB", "20", "no_seller_number"),
        ("GB", "0", "kept"),
        ("ES", "0", "no_seller_number"),
        ("MX", "16", "no_seller_number"),
        ("CA-ON", "13", "kept"),
        ("US-CA", "7.25", "kept"),
    ] {
        let (shop, job) = in_region(region, percent);
        let none = ShopEntry { tax_number: "  ".into(), tax_percent: percent.into(), ..entry(region) };
        shop.workshop.shop_set_up(&none).unwrap();
        shop.workshop.estimate_keep(&job, &work()).unwrap();
        shop.workshop.approval_keep(&job, &approval(1)).unwrap();
        assert_eq!(Shop::code(shop.workshop.invoice_keep(&job, &work())), code, "{region} {percent}");
        shop.workshop.shop_set_up(&ShopEntry { tax_percent: percent.into(), ..entry(region) }).unwrap();
        if code != "kept" {
            assert_eq!(Shop::code(shop.workshop.invoice_keep(&job, &work())), "kept", "{region}");
        }
    }
    let odd = ShopEntry { tax_number: "🔧 -".into(), ..entry("GB") };
    let refused = api::ErrorView::from(Shop::open().workshop.shop_set_up(&odd).unwrap_err());
    assert_eq!((refused.code.as_str(), refused.values["what"].as_str()), ("unknown_choice", "tax_number"));
}
