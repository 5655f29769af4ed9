//! Numbers of invoices and credit notes: "a sequential number based on one or more series which uniquely identifies the
//! document" (Value Added Tax Regulations 1995, reg. 14(1)(a)), also where two devices never meet.

use crate::safe_keeping::{WORDS, restore};
use crate::shop::*;
use api::Workshop;
use api::entry::*;
use api::view::JobView;
use std::path::Path;

fn approved(workshop: &Workshop) -> String {
    let job = workshop.job_open().unwrap().job;
    workshop.estimate_keep(&job, &lines(vec![line("labour", "90")])).unwrap();
    workshop.approval_keep(&job, &approval(1)).unwrap();
    job
}

fn bill(workshop: &Workshop, job: &str) -> JobView {
    workshop.invoice_keep(job, &lines(vec![line("labour", "90")])).unwrap()
}

fn number(workshop: &Workshop) -> String {
    bill(workshop, &approved(workshop)).invoices[0].number.clone()
}

#[test]
fn two_devices_that_never_met_never_give_one_number() {
    let shop = Shop::open();
    assert_eq!(number(&shop.workshop), "INV-0001");
    let job = approved(&shop.workshop);
    let backup = shop.workshop.backup_write(WORDS, false).unwrap().file.path;
    let folders = [tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap()];
    let seconds = folders.each_ref().map(|folder| {
        let view = restore(&backup, folder.path(), "second_device").unwrap();
        assert!(view.series.numbered_apart && view.series.always_apart && view.series.other_devices);
        (Workshop::open_at(folder.path(), shop.clock.clone()).unwrap(), view.series.code)
    });
    // The same job billed on three devices, none of which knows of the others.
    let mut numbers = vec![bill(&shop.workshop, &job).invoices[0].number.clone()];
    for (workshop, code) in &seconds {
        let mine = bill(workshop, &job).invoices[0].number.clone();
        assert_eq!(mine, format!("INV-{code}-0001"), "a series of its own begins at 1");
        assert_eq!(number(workshop), format!("INV-{code}-0002"));
        numbers.push(mine);
        // The switch can't be turned off there.
        let view = workshop.shop_set_up(&entry("US-CA")).unwrap();
        assert!(view.series.numbered_apart);
    }
    numbers.sort();
    numbers.dedup();
    assert_eq!(numbers.len(), 3, "{numbers:?}");
    // What the second one wrote comes back to the first, whose own series goes on without a gap.
    let export = seconds[0].0.open_export().unwrap().file.path;
    let device = seconds[0].0.shop_view().unwrap().device;
    let series = shop.workshop.device_add(&device.device, &device.public_key).unwrap().series;
    assert!(series.other_devices && !series.numbered_apart);
    shop.workshop.open_import(Path::new(&export), &[]).unwrap();
    assert_eq!(number(&shop.workshop), "INV-0003");
    let code = series.code;
    shop.workshop.shop_set_up(&ShopEntry { numbered_apart: true, ..entry("US-CA") }).unwrap();
    assert_eq!(number(&shop.workshop), format!("INV-{code}-0001"));
}

#[test]
fn a_shop_chooses_how_its_numbers_begin() {
    let shop = Shop::open();
    let set = |invoice: &str, credit: &str| {
        let entry =
            ShopEntry { invoice_prefix: invoice.into(), credit_prefix: credit.into(), ..entry("US-CA") };
        shop.workshop.shop_set_up(&entry)
    };
    assert_eq!(number(&shop.workshop), "INV-0001");
    let series = set(" sc26 ", "2026/C").unwrap().series;
    assert_eq!((series.invoices_begin.as_str(), series.credit_notes_begin.as_str()), ("SC26-", "2026/C-"));
    assert_eq!(number(&shop.workshop), "SC26-0001");
    let job = approved(&shop.workshop);
    let invoice = bill(&shop.workshop, &job).invoices[0].record.clone();
    let note = CreditNoteEntry {
        invoice,
        lines: vec![CreditLineEntry { line: 1, quantity: String::new() }],
        reason: "Taken back.".into(),
    };
    let view = shop.workshop.credit_note_keep(&job, &note).unwrap();
    assert_eq!(view.credit_notes[0].number, "2026/C-0001");
    // Back to the usual: the earlier count goes on.
    set("", "").unwrap();
    assert_eq!(number(&shop.workshop), "INV-0002");
    for odd in ["a-b", "🔧", "with space", "12345678901", "é", "x;y", "\""] {
        let refused = api::ErrorView::from(set(odd, "").unwrap_err());
        assert_eq!(
            (refused.code.as_str(), refused.values["what"].as_str()),
            ("unknown_choice", "invoice_prefix"),
            "{odd}"
        );
    }
    for (invoice, credit) in [("X", "x"), ("CN", ""), ("", "inv")] {
        assert_eq!(Shop::code(set(invoice, credit)), "prefixes_alike", "{invoice} {credit}");
    }
}
