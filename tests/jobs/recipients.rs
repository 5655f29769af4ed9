//! Who gets to see what: packets and reports for somebody else than the customer.

use crate::one_door::approved;
use crate::shop::*;
use api::entry::*;
use api::view::JobView;
use std::process::Command;

const NAME: &str = "Odalys Brandt";
const PHONE: &str = "555-0142-77";
const PLATE: &str = "DEMO-77";
const COMPLAINT: &str = "It hums when parked near the quarry.";
const TECHNICIAN: &str = "Imre Valdsson";

fn job_with_names(shop: &Shop) -> JobView {
    let job = shop.job().job;
    let entry = IntakeEntry {
        customer: Some(NAME.into()),
        phone: Some(PHONE.into()),
        plate: Some(PLATE.into()),
        complaint: Some(COMPLAINT.into()),
        ..Default::default()
    };
    shop.workshop.intake_keep(&job, &entry).unwrap()
}

fn packet_of(view: &JobView, recipient: &str) -> (String, Vec<u8>) {
    let named = |packet: &&api::view::WrittenFileView| packet.name.contains(recipient);
    let path = view.packets.iter().find(named).unwrap().path.clone();
    let bytes = std::fs::read(&path).unwrap();
    (path, bytes)
}

fn holds(bytes: &[u8], text: &str) -> bool {
    bytes.windows(text.len()).any(|window| window == text.as_bytes())
}

/// What poppler's `pdftotext` reads from a report.
fn text_of(path: &str) -> String {
    let read = Command::new("pdftotext").args([path, "-"]).output().unwrap();
    assert!(read.status.success(), "{}", String::from_utf8_lossy(&read.stderr));
    String::from_utf8_lossy(&read.stdout).into_owned()
}

#[test]
fn the_suppliers_papers_name_nobody_and_every_proof_still_holds() {
    let shop = Shop::open();
    let job = job_with_names(&shop).job;
    let entry = PacketEntry::preset("en", Recipient::Supplier);
    shop.workshop.report_write(&job, &ReportEntry::full("en", Recipient::Supplier)).unwrap();
    shop.workshop.report_write(&job, &ReportEntry::full("en", Recipient::Customer)).unwrap();
    let verdict = shop.workshop.packet_write(&job, &entry).unwrap();
    assert!(verdict.good, "{:?}", verdict.problems);
    let view = shop.workshop.job_view(&job).unwrap();
    let (_, bytes) = packet_of(&view, "supplier");
    let told =
        shop.workshop.packet_preview(&job, &PacketEntry::preset("en", Recipient::Customer)).unwrap().values;
    for hidden in [NAME, PHONE, PLATE, COMPLAINT, TECHNICIAN] {
        assert!(!holds(&bytes, hidden), "{hidden} stands openly in the supplier's packet");
        let value = told.iter().find(|value| value.text == hidden).unwrap();
        assert!(!holds(&bytes, &format!("{}.txt", value.digest)), "{hidden} is disclosed to the supplier");
        assert!(holds(&bytes, &value.digest), "the digest of {hidden} is still proven");
    }
    let theirs = view.reports.iter().find(|report| report.name.contains("supplier")).unwrap();
    let customers = view.reports.iter().find(|report| report.name.contains("customer")).unwrap();
    assert!(text_of(&customers.path).contains(NAME), "the customer's own report does name them");
    for hidden in [NAME, PLATE, "quarry"] {
        assert!(!text_of(&theirs.path).contains(hidden), "{hidden} is in the supplier's report");
    }
    let preview = shop.workshop.packet_preview(&job, &entry).unwrap();
    assert_eq!((preview.reports.len(), preview.reports_withheld), (2, 1), "their own, and the packet's page");
}

#[test]
fn the_preview_says_exactly_what_the_packet_holds() {
    let shop = Shop::open();
    let job = job_with_names(&shop).job;
    let mut entry = PacketEntry::preset("en", Recipient::CardIssuer);
    let preset = shop.workshop.packet_preview(&job, &entry).unwrap();
    let phone = preset.values.iter().find(|value| value.field == "phone").unwrap();
    let name = preset.values.iter().find(|value| value.field == "customer").unwrap();
    assert!(name.goes_out && !phone.goes_out);
    entry.values = vec![
        ValueChoice { digest: name.digest.clone(), goes_out: false },
        ValueChoice { digest: phone.digest.clone(), goes_out: true },
    ];
    let changed = shop.workshop.packet_preview(&job, &entry).unwrap();
    assert!(shop.workshop.packet_write(&job, &entry).unwrap().good);
    let (_, bytes) = packet_of(&shop.workshop.job_view(&job).unwrap(), "card_issuer");
    for value in &changed.values {
        let file = format!("data/disclosures/{}.txt", value.digest);
        assert_eq!(holds(&bytes, &file), value.goes_out, "{}", value.field);
    }
}

#[test]
fn a_covered_copy_goes_out_in_place_of_the_original() {
    let shop = Shop::open();
    let job = job_with_names(&shop).job;
    let photo = shop.photo(&job, PhotoPurpose::Arrival);
    let areas = vec![AreaEntry { left: 100, top: 100, width: 300, height: 200 }];
    let view = shop.workshop.photo_cover(&job, &CoverEntry { photo: photo.sha256.clone(), areas }).unwrap();
    assert_eq!(view.timeline.last().unwrap().kind, "photo_redacted");
    let preview = shop.workshop.packet_preview(&job, &PacketEntry::preset("en", Recipient::Arbiter)).unwrap();
    assert_eq!(preview.photos[0].share, PhotoShare::Covered);
    let verdict = shop.workshop.packet_write(&job, &PacketEntry::preset("en", Recipient::Arbiter)).unwrap();
    assert!(verdict.good, "{:?}", verdict.problems);
    let (_, bytes) = packet_of(&shop.workshop.job_view(&job).unwrap(), "arbiter");
    let place = |folder: &str, hash: &str| format!("data/{folder}/{hash}.jpg");
    assert!(holds(&bytes, &place("photos-redacted", &preview.photos[0].covered)));
    assert!(!holds(&bytes, &place("photos", &photo.sha256)), "the original's bytes went out");
    assert!(holds(&bytes, &photo.sha256), "its hash stands in the records");
}

#[test]
fn choices_that_cannot_be_are_refused() {
    let shop = Shop::open();
    let job = job_with_names(&shop).job;
    let photo = shop.photo(&job, PhotoPurpose::Part);
    let refused = |change: &dyn Fn(&mut PacketEntry)| {
        let mut entry = PacketEntry::preset("en", Recipient::Customer);
        change(&mut entry);
        shop.workshop.packet_write(&job, &entry).unwrap_err().code()
    };
    let nobodys = ValueChoice { digest: "00".repeat(32), goes_out: true };
    assert_eq!(refused(&|entry| entry.values = vec![nobodys.clone()]), "unknown_choice");
    let covered = PhotoChoice { photo: photo.sha256.clone(), share: PhotoShare::Covered };
    assert_eq!(refused(&|entry| entry.photos = vec![covered.clone()]), "no_covered_copy");
    let outside = CoverEntry {
        photo: photo.sha256.clone(),
        areas: vec![AreaEntry { left: 990, top: 0, width: 20, height: 10 }],
    };
    assert_eq!(shop.workshop.photo_cover(&job, &outside).unwrap_err().code(), "no_area_marked");
}

/// Only a job's own papers are opened, shown or shared; a report that was moved away is written again.
#[test]
fn a_paper_is_found_by_its_name_and_nothing_else_is() {
    let shop = Shop::open();
    let job = job_with_names(&shop).job;
    let view = shop.workshop.report_write(&job, &ReportEntry::preset("en", Recipient::Customer)).unwrap();
    let (name, bytes) = (&view.reports[0].name, std::fs::read(&view.reports[0].path).unwrap());
    std::fs::remove_file(&view.reports[0].path).unwrap();
    let path = shop.workshop.written_path(&job, name).unwrap();
    assert_eq!(std::fs::read(path).unwrap(), bytes);
    for other in ["../testimeter.sqlite", "nothing.pdf", "", "/etc/passwd"] {
        assert_eq!(Shop::code(shop.workshop.written_path(&job, other)), "unknown_choice", "{other}");
    }
}

/// A job without any supplier: the page in a supplier's packet tells nothing of what the customer agreed to or was billed.
#[test]
fn a_supplier_with_no_account_reads_nothing_of_the_customers_amounts() {
    let shop = Shop::open();
    let job = approved(&shop);
    let view = shop.workshop.report_write(&job, &ReportEntry::preset("en", Recipient::Supplier)).unwrap();
    let text = text_of(&view.reports[0].path);
    assert!(text.contains("No amount between us is on record."), "{text}");
    assert!(!text.contains('$'), "{text}");
}

/// Looking at the message changes nothing: no record, no checkpoint.
#[test]
fn the_result_message_signs_nothing() {
    let shop = Shop::open();
    let job = job_with_names(&shop).job;
    let before = shop.workshop.job_view(&job).unwrap();
    let text = shop.workshop.result_message(&job, "en").unwrap();
    let after = shop.workshop.job_view(&job).unwrap();
    assert!(!text.is_empty() && text.chars().count() <= 480, "{text}");
    assert_eq!(before.records, after.records);
    assert_eq!(before.checkpoint.map(|one| one.size), after.checkpoint.map(|one| one.size));
}

/// Refused before anything is written: a supplier of another job, and the customer's page for somebody else.
#[test]
fn a_paper_about_nobody_or_for_the_wrong_reader_is_refused() {
    let shop = Shop::open();
    let job = job_with_names(&shop).job;
    let about = |supplier: &str| {
        let entry =
            ReportEntry { supplier: supplier.into(), ..ReportEntry::preset("en", Recipient::Supplier) };
        Shop::code(shop.workshop.report_write(&job, &entry))
    };
    for supplier in ["-1", "12,345", "Norbury Supply"] {
        assert_eq!(about(supplier), "unknown_choice", "{supplier}");
    }
    for form in [ReportForm::Summary, ReportForm::Page] {
        let entry = ReportEntry { form, ..ReportEntry::preset("en", Recipient::Supplier) };
        assert_eq!(Shop::code(shop.workshop.report_write(&job, &entry)), "unknown_choice", "{form:?}");
    }
    assert!(shop.workshop.job_view(&job).unwrap().reports.is_empty(), "nothing was written");
}

#[test]
fn the_page_for_a_phone_goes_along_in_the_packet() {
    let shop = Shop::open();
    let job = job_with_names(&shop).job;
    let page = ReportEntry { form: ReportForm::Page, ..ReportEntry::preset("en", Recipient::Customer) };
    let name = shop.workshop.report_write(&job, &page).unwrap().reports.last().unwrap().name.clone();
    assert!(name.ends_with(".html"));
    let packet = PacketEntry::preset("en", Recipient::Customer);
    let verdict = shop.workshop.packet_write(&job, &packet).unwrap();
    assert!(verdict.good, "{:?}", verdict.problems);
    let (path, _) = packet_of(&shop.workshop.job_view(&job).unwrap(), "customer");
    let listed = Command::new("unzip").args(["-Z1", &path]).output().unwrap();
    let listed = String::from_utf8_lossy(&listed.stdout).into_owned();
    assert!(listed.contains(&format!("data/report/{name}")), "{listed}");
    assert!(listed.contains("-summary-customer-en-2.pdf"), "{listed}");
}

/// Somebody taps "Stop" all the time while a report is made.
#[test]
fn a_report_that_is_stopped_leaves_neither_record_nor_file() {
    let shop = Shop::open();
    let job = job_with_names(&shop).job;
    shop.photo(&job, PhotoPurpose::Arrival);
    let before = shop.workshop.job_view(&job).unwrap().timeline.len();
    let ended = std::sync::atomic::AtomicBool::new(false);
    let written = std::thread::scope(|scope| {
        scope.spawn(|| {
            while !ended.load(std::sync::atomic::Ordering::Acquire) {
                shop.workshop.work_cancel();
            }
        });
        let written = shop.workshop.report_write(&job, &ReportEntry::preset("en", Recipient::Customer));
        ended.store(true, std::sync::atomic::Ordering::Release);
        written
    });
    assert_eq!(Shop::code(written), "cancelled");
    let view = shop.workshop.job_view(&job).unwrap();
    assert_eq!((view.timeline.len(), view.reports.len()), (before, 0));
    assert!(!shop.folder.path().join("exports").exists(), "nothing was written");
    assert!(shop.workshop.report_write(&job, &ReportEntry::preset("en", Recipient::Customer)).is_ok());
}
