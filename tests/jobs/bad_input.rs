//! Bad input gets a clear error and loses nothing.

use crate::shop::*;
use api::entry::*;
use std::process::Command;

fn photo(job: &str) -> PhotoEntry {
    PhotoEntry { job: job.into(), purpose: PhotoPurpose::Reading, live: false }
}

/// A real picture of the given size, drawn here.
fn jpeg(width: u32, height: u32) -> Vec<u8> {
    let picture =
        image::RgbImage::from_fn(width, height, |x, y| image::Rgb([(x % 251) as u8, (y % 241) as u8, 90]));
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut bytes, image::ImageFormat::Jpeg).unwrap();
    bytes.into_inner()
}

/// The picture with EXIF written by exiftool (Debian `libimage-exiftool-perl`).
fn with_exif(bytes: &[u8], tags: &[&str]) -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("photo.jpg");
    std::fs::write(&path, bytes).unwrap();
    let done = Command::new("exiftool").args(tags).arg("-overwrite_original").arg(&path).output();
    assert!(done.expect("exiftool is missing: install libimage-exiftool-perl").status.success());
    std::fs::read(&path).unwrap()
}

#[test]
fn photos_that_are_none() {
    let shop = Shop::open();
    let job = shop.job().job;
    let keep = |bytes: &[u8]| Shop::code(shop.workshop.photo_keep(&photo(&job), bytes));
    let picture = jpeg(640, 480);
    assert_eq!(keep(b""), "photo_empty");
    assert_eq!(keep(b"<html>hello</html>"), "photo_not_a_picture");
    assert_eq!(shop.workshop.job_view(&job).unwrap().timeline.len(), 1, "only the opening is on record");
    assert_eq!(keep(&picture), "kept");
    assert_eq!(keep(&picture), "kept", "the same picture twice is kept once and is no error");
    assert_eq!(shop.workshop.job_view(&job).unwrap().timeline.len(), 2);
}

#[test]
fn a_photo_that_was_cut_off_is_kept_with_a_doubt_and_shown_as_far_as_it_goes() {
    let shop = Shop::open();
    let job = shop.job().job;
    let picture = jpeg(640, 480);
    let cut = &picture[..picture.len() / 2];
    let kept = shop.workshop.photo_keep(&photo(&job), cut).unwrap();
    assert!(kept.doubts.iter().any(|doubt| doubt == "picture_cut_off"), "{:?}", kept.doubts);
    assert!(kept.has_preview);
    assert!(shop.workshop.photo_preview(&kept.sha256).unwrap().is_some());
    assert_eq!(shop.workshop.photo_original(&kept.sha256).unwrap().0, cut, "the original is byte for byte");
    // Nothing of the picture is there: kept all the same, and said.
    let start = shop.workshop.photo_keep(&photo(&job), &picture[..300]).unwrap();
    assert!(!start.has_preview);
    assert_eq!(shop.workshop.photo_preview(&start.sha256).unwrap(), None);
    let whole = shop.workshop.photo_keep(&photo(&job), &picture).unwrap();
    assert!(!whole.doubts.iter().any(|doubt| doubt == "picture_cut_off"), "{:?}", whole.doubts);
    let log = shop.workshop.job_view(&job).unwrap().timeline;
    assert_eq!(log.len(), 4);
    assert!(log[1].doubts.iter().any(|doubt| doubt == "picture_cut_off"));
}

#[test]
fn a_photo_of_sixty_megapixels_is_kept_and_shown_small() {
    let shop = Shop::open();
    let job = shop.job().job;
    let bytes = jpeg(10_000, 6_000);
    let kept = shop.workshop.photo_keep(&photo(&job), &bytes).unwrap();
    assert_eq!((kept.width, kept.height), (10_000, 6_000));
    let preview = shop.workshop.photo_preview(&kept.sha256).unwrap().expect("a preview");
    assert!(preview.len() < 500_000);
    assert_eq!(shop.workshop.photo_original(&kept.sha256).unwrap().0, bytes, "the original is byte for byte");
}

#[test]
fn a_heic_photo_is_kept_verbatim_with_a_sign_that_it_cannot_be_shown() {
    let shop = Shop::open();
    let job = shop.job().job;
    let folder = tempfile::tempdir().unwrap();
    let (jpg, heic) = (folder.path().join("a.jpg"), folder.path().join("a.heic"));
    std::fs::write(&jpg, jpeg(320, 240)).unwrap();
    let made = Command::new("vips").arg("heifsave").arg(&jpg).arg(&heic).output();
    assert!(made.expect("vips is missing: install libvips-tools").status.success());
    let bytes = std::fs::read(&heic).unwrap();
    let kept = shop.workshop.photo_keep(&photo(&job), &bytes).unwrap();
    assert_eq!(kept.media_type, "image/heic");
    assert!(!kept.has_preview);
    assert_eq!(shop.workshop.photo_preview(&kept.sha256).unwrap(), None);
    assert_eq!(shop.workshop.photo_original(&kept.sha256).unwrap(), (bytes, "image/heic"));
}

#[test]
fn times_that_cannot_be_are_doubts_not_errors() {
    let shop = Shop::open();
    let job = shop.job().job;
    shop.at("2026-10-12T08:30:00-05:00");
    let doubts = |bytes: &[u8]| shop.workshop.photo_keep(&photo(&job), bytes).unwrap().doubts;
    assert_eq!(doubts(&jpeg(64, 48)), ["no_capture_time"]);
    let time = |when: &str, offset: &str| {
        let (when, offset) = (format!("-DateTimeOriginal={when}"), format!("-OffsetTimeOriginal={offset}"));
        with_exif(&jpeg(66, 48), &[&when, &offset])
    };
    assert_eq!(doubts(&time("2099:01:01 00:00:00", "-05:00")), ["capture_time_in_future"]);
    assert_eq!(doubts(&time("2026:10:12 07:10:00", "-05:00")), ["capture_time_far_from_clock"]);
    assert_eq!(doubts(&time("2026:10:12 08:29:40", "-05:00")), [""; 0]);
    assert_eq!(doubts(&time("2026:10:12 15:29:50", "+02:00")), [""; 0], "the offset counts");
    let live = PhotoEntry { live: true, ..photo(&job) };
    let kept = shop.workshop.photo_keep(&live, &jpeg(68, 48)).unwrap();
    assert!(kept.live && kept.doubts.is_empty(), "a frame of the viewfinder was taken when it was kept");
}

#[test]
fn a_clock_set_back_is_shown_and_not_corrected() {
    let shop = Shop::open();
    let job = shop.measuring();
    shop.at("2026-10-12T09:00:00-05:00");
    shop.workshop.reading_keep(&job, &reading("12.40", "V")).unwrap();
    shop.at("2026-10-12T08:40:00-05:00");
    let view = shop.workshop.reading_keep(&job, &reading("12.41", "V")).unwrap();
    let last = view.timeline.last().unwrap();
    assert_eq!(last.doubts, ["clock_set_back"]);
    assert!(last.kept.starts_with("2026-10-12T08:40"), "what the clock said stays on record");
    assert!(view.doubts.iter().any(|doubt| doubt.code == "clock_set_back"));
}

/// The range that an over-limit was shown in: a number above zero in the reading's unit, or nothing.
#[test]
fn ranges_as_they_are_typed() {
    let shop = Shop::open();
    let job = shop.measuring();
    let kept = |range: &str| {
        let entry = ReadingEntry { range: range.into(), ..reading("OL", "V") };
        shop.workshop.reading_keep(&job, &entry)
    };
    for odd in ["-1", "0", "1e9", "1000000000", "12,345,6", "🦊", "99/99/2099"] {
        assert!(kept(odd).is_err(), "{odd:?}");
    }
    assert!(shop.workshop.job_view(&job).unwrap().readings.is_empty(), "nothing is sealed");
    assert_eq!(kept("2,5").unwrap().readings.last().unwrap().range, "2.5");
    assert_eq!(kept("").unwrap().readings.last().unwrap().range, "");
}

#[test]
fn values_as_they_are_typed() {
    let shop = Shop::open();
    let job = shop.measuring();
    let value = |typed: &str, unit: &str| {
        let kept = shop.workshop.reading_keep(&job, &reading(typed, unit));
        kept.map(|view| view.readings.last().unwrap().value.clone()).map_err(|error| error.code())
    };
    assert_eq!(value("12,4", "V"), Ok("12.4".into()));
    assert_eq!(value("-0.00", "V"), Ok("0.00".into()));
    assert_eq!(value("OL", "V"), Ok("OL".into()));
    let view = shop.workshop.job_view(&job).unwrap();
    let doubts = &view.diagnosis.expect("the reasoning goes on").doubts;
    assert!(doubts.iter().any(|d| d.code == "not_weighed" && d.numbers == [3]), "OL on volts proves nothing");
    assert_eq!(value("1e9", "V"), Err("reading_not_a_number"));
    assert_eq!(value("1000000000", "V"), Err("reading_out_of_range"));
    assert_eq!(value("", "V"), Err("reading_not_a_number"));
    assert_eq!(value("yes", "yes_no"), Err("reading_unit"), "a voltmeter shows no yes");
    assert_eq!(
        shop.workshop.job_view(&job).unwrap().readings.len(),
        3,
        "what was refused left nothing behind"
    );
}

#[test]
fn points_positions_and_photos_that_are_not_there() {
    let shop = Shop::open();
    let job = shop.measuring();
    let keep = |change: &dyn Fn(&mut ReadingEntry)| {
        let mut entry = reading("12.4", "V");
        change(&mut entry);
        Shop::code(shop.workshop.reading_keep(&job, &entry))
    };
    assert_eq!(keep(&|e| e.red = "nowhere".into()), "unknown_choice");
    assert_eq!(keep(&|e| e.test = "guess".into()), "unknown_choice");
    assert_eq!(keep(&|e| e.load = "toaster".into()), "unknown_choice");
    assert_eq!(keep(&|e| drop(e.state.insert("key".into(), "sideways".into()))), "unknown_choice");
    assert_eq!(keep(&|e| drop(e.state.insert("moon".into(), "full".into()))), "unknown_choice");
    assert_eq!(keep(&|e| e.photos = vec!["00".repeat(32)]), "unknown_choice");
    assert_eq!(keep(&|_| {}), "kept");
}

#[test]
fn texts_of_every_kind_come_back_as_they_were() {
    let shop = Shop::open();
    let job = shop.job().job;
    let long = "It quits at lights. ".repeat(500);
    assert_eq!(long.chars().count(), 10_000);
    for text in [
        long.trim(),
        "🔧 fan 🥵",
        "المروحة لا تعمل",
        "<b>bold</b> & <script>alert(1)</script>",
        "#strong[x] $ x^2 $ = Heading \\ `raw`",
        "a\nb",
    ] {
        let entry = IntakeEntry { complaint: Some(text.into()), ..Default::default() };
        assert_eq!(shop.workshop.intake_keep(&job, &entry).unwrap().intake.complaint, text);
    }
    let entry = IntakeEntry { complaint: Some("x".repeat(20_001)), ..Default::default() };
    assert_eq!(Shop::code(shop.workshop.intake_keep(&job, &entry)), "field_too_long");
}

#[test]
fn vins_that_cannot_be() {
    let shop = Shop::open();
    let job = shop.job().job;
    let keep = |vin: &str| {
        let entry = IntakeEntry { vin: Some(vin.into()), ..Default::default() };
        Shop::code(shop.workshop.intake_keep(&job, &entry))
    };
    for vin in ["0ZX4C2HBIGT010427", "0ZX4C2HBOGT010427", "0ZX4C2HBQGT010427", "0ZX4C2HB1GT010427", "0ZX4"] {
        assert_eq!(keep(vin), "vin_refused", "{vin}");
    }
    assert_eq!(shop.workshop.vin_check("0ZX4C2HBIGT010427").position, 9);
    assert_eq!(shop.workshop.vin_check("0ZX4C2HB1GT010427").verdict.reason, "vin_check_digit");
    assert_eq!(keep("0zx4c2hb0gt010427"), "kept");
    assert_eq!(keep(""), "kept", "an emptied field is kept as empty");
}

#[test]
fn empty_names_and_amounts() {
    let shop = Shop::open();
    assert_eq!(
        Shop::code(shop.workshop.shop_set_up(&ShopEntry { name: "  ".into(), ..entry("US-CA") })),
        "field_empty"
    );
    assert_eq!(
        Shop::code(shop.workshop.shop_set_up(&ShopEntry { labour_rate: "a lot".into(), ..entry("US-CA") })),
        "amount_unreadable"
    );
    assert_eq!(Shop::code(shop.workshop.shop_set_up(&entry("Atlantis"))), "unknown_choice");
    assert_eq!(
        shop.workshop.shop_view().unwrap().name,
        "Sable Creek Auto Electric",
        "the answers before stay"
    );
}

#[test]
fn a_second_start_on_the_same_folder_is_refused() {
    let shop = Shop::open();
    assert_eq!(Shop::code(api::Workshop::open(shop.folder.path())), "already_open");
    assert_eq!(shop.workshop.jobs_search(&JobsEntry::of("")).unwrap().rows.len(), 0, "the first goes on");
}
