//! The number on a reading's photo: proposed, taken or not, and asked about where what was typed contradicts it. The photos
//! are the demo's meters; what each shows stands in `demo-data/photos.json`, the list that they were drawn from.

use crate::shop::{Shop, reading};
use api::entry::*;
use api::view::ProposalView;
use job::event::SeenDecision;
use job::rule::seen::{SeenLook, SeenRemark, SeenSays};
use std::path::Path;

/// Shows 12.48.
const FEED: &str = "c-06-module-feed.jpg";
/// Shows 6.74: fewer digits.
const CONTROL: &str = "a-08-control-loaded.jpg";

fn keep_photo(shop: &Shop, job: &str, file: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-data/photos").join(file);
    let entry = PhotoEntry { job: job.to_owned(), purpose: PhotoPurpose::Reading, live: false };
    shop.workshop.photo_keep(&entry, &std::fs::read(path).unwrap()).unwrap().sha256
}

fn ask(shop: &Shop, job: &str, photo: &str, mode: MeterMode, unit: Unit, range: &str) -> ProposalView {
    let entry = SeenEntry { photo: photo.to_owned(), mode, unit, range: range.to_owned() };
    shop.workshop.photo_seen(job, &entry).unwrap()
}

fn volts(shop: &Shop, job: &str, photo: &str) -> ProposalView {
    ask(shop, job, photo, MeterMode::VoltsDc, Unit::Volt, "")
}

#[test]
fn what_the_photo_shows_is_proposed_and_the_record_says_what_became_of_it() {
    let shop = Shop::open();
    let job = shop.measuring();
    let photo = keep_photo(&shop, &job, FEED);
    let proposal = volts(&shop, &job, &photo);
    assert_eq!((proposal.value.as_str(), proposal.says), ("12.48", SeenSays::Shows), "{proposal:?}");
    let cases = [
        ("12.48", true, SeenDecision::Taken),
        ("12.480", true, SeenDecision::Corrected),
        ("12.48", false, SeenDecision::Ignored),
    ];
    for (value, photo_taken, decision) in cases {
        let entry = ReadingEntry { photos: vec![photo.clone()], photo_taken, ..reading(value, "V") };
        let view = shop.workshop.reading_keep(&job, &entry).unwrap();
        let seen = view.readings.last().unwrap().seen.clone().unwrap();
        assert_eq!((seen.value.as_str(), seen.decision, seen.kept_against), ("12.48", decision, false));
    }
    // In millivolts the same number would be 12,480; 0.01248 is no contradiction either where the display showed millivolts.
    for (value, unit) in [("12480", "mV"), ("0.01248", "V")] {
        let entry = ReadingEntry { photos: vec![photo.clone()], ..reading(value, unit) };
        shop.workshop.reading_keep(&job, &entry).unwrap();
    }
}

#[test]
fn a_value_that_the_photo_contradicts_is_asked_about_once_and_the_answer_is_on_record() {
    let shop = Shop::open();
    let job = shop.measuring();
    let photo = keep_photo(&shop, &job, FEED);
    volts(&shop, &job, &photo);
    let typed = ReadingEntry { photos: vec![photo.clone()], ..reading("1.24", "V") };
    let refused = shop.workshop.reading_keep(&job, &typed).unwrap_err();
    let refused = api::ErrorView::from(refused);
    assert_eq!(refused.code, "photo_shows_other");
    assert_eq!(refused.values["seen"], "12.48");
    assert_eq!(refused.values["typed"], "1.24");
    assert!(shop.workshop.job_view(&job).unwrap().readings.is_empty(), "nothing is kept before the answer");
    let against = ReadingEntry { kept_against_photo: true, ..typed.clone() };
    let view = shop.workshop.reading_keep(&job, &against).unwrap();
    assert!(view.readings[0].seen.as_ref().unwrap().kept_against);
    // An answer to a question that nobody asked says nothing.
    let same = ReadingEntry { value: "12.48".into(), ..against };
    let view = shop.workshop.reading_keep(&job, &same).unwrap();
    assert!(!view.readings[1].seen.as_ref().unwrap().kept_against);
    // A correction goes by what was read for the reading it corrects, and asks the same.
    let wrong = CorrectionEntry {
        corrects: view.readings[0].record.clone(),
        reason: "Slip of the finger".into(),
        reading: ReadingEntry { value: "1.42".into(), ..typed.clone() },
    };
    assert_eq!(Shop::code(shop.workshop.reading_correct(&job, &wrong)), "photo_shows_other");
    let right = CorrectionEntry { reading: ReadingEntry { value: "12.48".into(), ..typed }, ..wrong };
    shop.workshop.reading_correct(&job, &right).unwrap();
    let verdict = shop.workshop.packet_write(&job, &PacketEntry::preset("en", Recipient::Customer)).unwrap();
    assert!(verdict.good, "{:?}", verdict.problems);
    let told = verdict.doubts.iter().filter(|one| format!("{one:?}").contains("read 12.48 on its photo"));
    assert_eq!(told.count(), 1, "{:?}", verdict.doubts);
}

#[test]
fn a_photo_that_was_not_read_yet_keeps_nobody_waiting() {
    let shop = Shop::open();
    let job = shop.measuring();
    let photo = keep_photo(&shop, &job, FEED);
    let entry = ReadingEntry { photos: vec![photo], ..reading("1.24", "V") };
    let view = shop.workshop.reading_keep(&job, &entry).unwrap();
    assert!(view.readings[0].seen.is_none());
}

#[test]
fn a_meter_that_has_shown_more_digits_in_the_shop_is_to_be_looked_at() {
    let shop = Shop::open();
    let job = shop.measuring();
    let fewer = keep_photo(&shop, &job, CONTROL);
    assert_eq!(volts(&shop, &job, &fewer).says, SeenSays::Shows);
    shop.workshop.reading_keep(&job, &reading("12.48", "V")).unwrap();
    // In another job, with the same meter and with another one.
    let job = shop.measuring();
    let fewer = keep_photo(&shop, &job, CONTROL);
    let proposal = volts(&shop, &job, &fewer);
    assert_eq!((proposal.value.as_str(), proposal.says), ("6.74", SeenSays::MayShow));
    assert_eq!(proposal.look, [SeenLook::FewerDigits]);
    let other = MeterEntry { name: "other meter".into(), ..crate::shop::meter() };
    shop.workshop.meter_choose(&job, &other).unwrap();
    assert_eq!(volts(&shop, &job, &fewer).says, SeenSays::Shows);
}

#[test]
fn what_does_not_fit_the_reading_is_said_and_an_answer_needs_no_number() {
    let shop = Shop::open();
    let job = shop.measuring();
    let photo = keep_photo(&shop, &job, FEED);
    let remark = |mode, unit, range| ask(&shop, &job, &photo, mode, unit, range).remark;
    assert_eq!(remark(MeterMode::VoltsDc, Unit::Volt, "6"), Some(SeenRemark::AboveRange));
    assert_eq!(remark(MeterMode::VoltsDc, Unit::Volt, "60"), None);
    let beep = ask(&shop, &job, &photo, MeterMode::Continuity, Unit::YesNo, "");
    assert_eq!((beep.says, beep.value.as_str()), (SeenSays::Nothing, ""));
    let stranger = SeenEntry {
        photo: "ab".repeat(32),
        mode: MeterMode::VoltsDc,
        unit: Unit::Volt,
        range: String::new(),
    };
    assert_eq!(Shop::code(shop.workshop.photo_seen(&job, &stranger)), "unknown_choice");
}

#[test]
fn a_picture_without_a_number_proposes_nothing() {
    let shop = Shop::open();
    let job = shop.measuring();
    let photo = shop.photo(&job, PhotoPurpose::Reading).sha256;
    assert_eq!(volts(&shop, &job, &photo).says, SeenSays::Nothing);
}
