//! Marks on photos through the door: what is refused, what goes out beside the photo, what stays here. Info-ZIP's `unzip` takes
//! packets apart, poppler's `pdftotext` reads reports.

use crate::shop::*;
use api::entry::*;
use api::view::{JobPhotoView, PhotoStep};
use std::path::Path;
use std::process::Command;

const WORDS: &str = "<b>chafed</b> & green";

fn arrow() -> MarkEntry {
    MarkEntry {
        shape: MarkShape::Arrow,
        tone: MarkTone::Cold,
        x: 100,
        y: 100,
        to_x: 500,
        to_y: 500,
        text: String::new(),
    }
}

fn words(text: &str) -> MarkEntry {
    MarkEntry { shape: MarkShape::Text, to_x: 0, to_y: 0, text: text.to_owned(), ..arrow() }
}

fn entry(photo: &str, marks: Vec<MarkEntry>) -> MarksEntry {
    MarksEntry { photo: photo.to_owned(), marks }
}

fn preset(recipient: Recipient) -> PacketEntry {
    PacketEntry::preset("en", recipient)
}

fn run(program: &str, arguments: &[&str]) -> String {
    let done = Command::new(program).args(arguments).output().unwrap();
    assert!(done.status.success(), "{program}: {}", String::from_utf8_lossy(&done.stderr));
    String::from_utf8_lossy(&done.stdout).into_owned()
}

/// Writes a packet and takes it apart.
fn packet(shop: &Shop, job: &str, entry: &PacketEntry) -> (api::view::VerificationView, tempfile::TempDir) {
    let verdict = shop.workshop.packet_write(job, entry).unwrap();
    assert!(verdict.good, "{:?}", verdict.problems);
    let view = shop.workshop.job_view(job).unwrap();
    let written = view.packets.iter().find(|file| file.name.contains(entry.recipient.code())).unwrap();
    let folder = tempfile::tempdir().unwrap();
    run("unzip", &["-q", &written.path, "-d", folder.path().to_str().unwrap()]);
    (verdict, folder)
}

fn files(folder: &Path, part: &str) -> usize {
    let bag = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let bag = bag.into_iter().find(|path| path.join("data").is_dir()).unwrap_or_else(|| folder.to_owned());
    std::fs::read_dir(bag.join("data").join(part)).map_or(0, Iterator::count)
}

/// Does a text stand in what a packet discloses, or openly anywhere in it?
fn discloses(folder: &Path, text: &str) -> bool {
    let folder = folder.to_str().unwrap();
    let openly = Command::new("grep").args(["-rqF", text, folder]).status().unwrap();
    let each = "basenc --base64url -d < \"$1\" 2>/dev/null; echo";
    let told = run("find", &[folder, "-path", "*disclosures/*", "-exec", "sh", "-c", each, "_", "{}", ";"]);
    openly.success() || told.contains(text)
}

#[test]
fn what_cannot_be_drawn_is_refused_and_nothing_is_kept() {
    let shop = Shop::open();
    let job = shop.job().job;
    let photo = shop.photo(&job, PhotoPurpose::Part).sha256;
    let off = MarkEntry { to_x: 1001, ..arrow() };
    let flat = MarkEntry { shape: MarkShape::Ellipse, to_x: 100, ..arrow() };
    for (marks, code) in [
        (vec![arrow(); 41], "too_many_marks"),
        (vec![off], "mark_off_picture"),
        (vec![flat], "mark_off_picture"),
        (vec![words("  ")], "mark_without_text"),
        (vec![words(&"x".repeat(61))], "mark_text_too_long"),
        (vec![], "marks_unchanged"),
    ] {
        let before = shop.workshop.job_view(&job).unwrap().records;
        assert_eq!(Shop::code(shop.workshop.photo_mark(&job, &entry(&photo, marks))), code);
        assert_eq!(shop.workshop.job_view(&job).unwrap().records, before, "{code}");
    }
    let nobodys = entry(&"00".repeat(32), vec![arrow()]);
    assert_eq!(Shop::code(shop.workshop.photo_mark(&job, &nobodys)), "unknown_choice");
    let kept = entry(&photo, vec![arrow(); 40]);
    shop.workshop.photo_mark(&job, &kept).unwrap();
    assert_eq!(Shop::code(shop.workshop.photo_mark(&job, &kept)), "marks_unchanged");
}

#[test]
fn the_latest_marks_count_and_the_earlier_ones_stay_in_the_log() {
    let shop = Shop::open();
    let job = shop.job().job;
    let kept = shop.photo(&job, PhotoPurpose::Part);
    let original = shop.workshop.photo_original(&kept.sha256).unwrap().0;
    shop.workshop.photo_mark(&job, &entry(&kept.sha256, vec![words("first"), arrow()])).unwrap();
    let view = shop.workshop.photo_mark(&job, &entry(&kept.sha256, vec![words("second")])).unwrap();
    let told: Vec<&str> = view
        .timeline
        .iter()
        .filter(|line| line.kind == "photo_marked")
        .map(|line| line.values["texts"].as_str())
        .collect();
    assert_eq!(told, ["first", "second"]);
    let marks = shop.workshop.photo_view(&job, &kept.sha256).unwrap().marks;
    assert_eq!(marks.iter().map(|mark| mark.text.as_str()).collect::<Vec<_>>(), ["second"]);
    shop.workshop.photo_mark(&job, &entry(&kept.sha256, vec![])).unwrap();
    assert!(shop.workshop.photo_view(&job, &kept.sha256).unwrap().marks.is_empty());
    assert_eq!(shop.workshop.photo_original(&kept.sha256).unwrap().0, original);
}

#[test]
fn a_copy_with_marks_goes_beside_what_goes_out_and_its_text_with_it() {
    let shop = Shop::open();
    let job = shop.job().job;
    let photo = shop.photo(&job, PhotoPurpose::Part).sha256;
    shop.workshop.photo_mark(&job, &entry(&photo, vec![words("an earlier word")])).unwrap();
    shop.workshop.photo_mark(&job, &entry(&photo, vec![arrow(), words(WORDS)])).unwrap();
    let preview = shop.workshop.packet_preview(&job, &preset(Recipient::Supplier)).unwrap();
    assert_eq!(preview.photos[0].marks, 2);
    let texts: Vec<bool> = preview.values.iter().filter(|v| v.field == "texts").map(|v| v.goes_out).collect();
    assert_eq!(texts, [false, true], "what was taken off goes to nobody");
    for recipient in [Recipient::Supplier, Recipient::Customer] {
        let (verdict, folder) = packet(&shop, &job, &preset(recipient));
        assert_eq!(files(folder.path(), "photos"), 1, "{recipient:?}");
        assert_eq!(files(folder.path(), "photos-redacted"), 1, "{recipient:?}");
        assert!(discloses(folder.path(), "chafed"), "{recipient:?}");
        assert!(!discloses(folder.path(), "an earlier word"), "{recipient:?}");
        // The original is here: nobody is told that only a covered copy is.
        assert!(
            !verdict.not_proven.iter().any(|said| said.en.contains("covered")),
            "{:?}",
            verdict.not_proven
        );
    }
    let redacted =
        |view: &api::view::JobView| view.timeline.iter().filter(|line| line.kind == "photo_redacted").count();
    assert_eq!(redacted(&shop.workshop.job_view(&job).unwrap()), 1, "one copy, whoever gets it");
    let held_back = PacketEntry {
        photos: vec![PhotoChoice { photo: photo.clone(), share: PhotoShare::Withheld }],
        ..preset(Recipient::Arbiter)
    };
    let text = preview.values.iter().find(|v| v.text.contains("chafed")).unwrap().digest.clone();
    let insisted =
        PacketEntry { values: vec![ValueChoice { digest: text, goes_out: true }], ..held_back.clone() };
    for entry in [held_back, insisted] {
        let (_, folder) = packet(&shop, &job, &entry);
        assert_eq!((files(folder.path(), "photos"), files(folder.path(), "photos-redacted")), (0, 0));
        assert!(!discloses(folder.path(), "chafed"), "the text goes where the photo goes");
    }
}

#[test]
fn beside_a_covered_copy_the_marked_one_is_covered_too() {
    let shop = Shop::open();
    let job = shop.job().job;
    let photo = shop.photo(&job, PhotoPurpose::Arrival).sha256;
    let area = AreaEntry { left: 250, top: 250, width: 500, height: 500 };
    shop.workshop.photo_cover(&job, &CoverEntry { photo: photo.clone(), areas: vec![area] }).unwrap();
    shop.workshop.photo_mark(&job, &entry(&photo, vec![words("here")])).unwrap();
    let (verdict, folder) = packet(&shop, &job, &preset(Recipient::Supplier));
    assert_eq!((files(folder.path(), "photos"), files(folder.path(), "photos-redacted")), (0, 2));
    assert!(
        verdict.proven.iter().any(|said| said.en.contains("1 photo shown with parts covered")),
        "{:?}",
        verdict.proven
    );
    let copies = run("find", &[folder.path().to_str().unwrap(), "-path", "*photos-redacted/*.jpg"]);
    for copy in copies.lines() {
        let copy = image::open(copy).unwrap().into_rgb8();
        let (width, height) = copy.dimensions();
        assert!(copy.get_pixel(width / 2, height / 2).0.iter().all(|value| *value < 24));
    }
}

#[test]
fn the_report_shows_marks_and_says_that_they_were_drawn_in() {
    let shop = Shop::open();
    let job = shop.job().job;
    let mut jpeg = std::io::Cursor::new(Vec::new());
    let gray = image::RgbImage::from_pixel(400, 300, image::Rgb([110, 110, 110]));
    gray.write_to(&mut jpeg, image::ImageFormat::Jpeg).unwrap();
    let entry_of = PhotoEntry { job: job.clone(), purpose: PhotoPurpose::Part, live: false };
    let photo = shop.workshop.photo_keep(&entry_of, &jpeg.into_inner()).unwrap().sha256;
    let text_of = |language: &str| {
        let view =
            shop.workshop.report_write(&job, &ReportEntry::full(language, Recipient::Customer)).unwrap();
        let path = view.reports.last().unwrap().path.clone();
        (run("pdftotext", &["-raw", &path, "-"]).split_whitespace().collect::<Vec<_>>().join(" "), path)
    };
    let (plain, before) = text_of("en");
    assert!(!plain.contains("marks drawn in"));
    shop.workshop.photo_mark(&job, &entry(&photo, vec![arrow()])).unwrap();
    let (told, after) = text_of("en");
    assert!(told.contains("marks drawn in by the shop; the original has none"), "{told}");
    assert!(text_of("es").0.contains("con marcas dibujadas por el taller"));
    // The arrow's white casing is in its picture; in the one before all is gray.
    let white = |path: &str| {
        let folder = tempfile::tempdir().unwrap();
        run("pdfimages", &["-png", path, folder.path().join("p").to_str().unwrap()]);
        std::fs::read_dir(folder.path()).unwrap().any(|entry| {
            let picture = image::open(entry.unwrap().path()).unwrap().into_rgb8();
            picture.dimensions() == (400, 300) && picture.pixels().any(|pixel| pixel.0[1] > 205)
        })
    };
    assert!(white(&after) && !white(&before));
}

#[test]
fn forgetting_the_customer_takes_texts_and_marked_copies_along() {
    let shop = Shop::open();
    let job = shop.job().job;
    let photo = shop.photo(&job, PhotoPurpose::Reading).sha256;
    shop.workshop.photo_mark(&job, &entry(&photo, vec![words("Odalys at work")])).unwrap();
    packet(&shop, &job, &preset(Recipient::Customer));
    let plan = shop.workshop.forgetting_view(&job).unwrap();
    assert!(plan.goes.iter().any(|field| field.field == "texts"), "{:?}", plan.goes);
    assert_eq!(
        plan.files, 2,
        "the marked copy and the packet's page; the reading's own photo stays while records must be kept"
    );
    shop.workshop.customer_forget(&job).unwrap();
    let marks = shop.workshop.photo_view(&job, &photo).unwrap().marks;
    assert_eq!((marks.len(), marks[0].text.as_str()), (1, ""));
    let (_, folder) = packet(&shop, &job, &preset(Recipient::Arbiter));
    assert!(!discloses(folder.path(), "Odalys at work"));
}

fn listed(shop: &Shop, job: &str) -> Vec<JobPhotoView> {
    shop.workshop.job_photos(job).unwrap()
}

#[test]
fn the_list_of_photos_says_what_each_belongs_to_and_which_are_in_no_paper() {
    let shop = Shop::open();
    let job = shop.measuring();
    let arrival = shop.photo(&job, PhotoPurpose::Arrival).sha256;
    let view = shop.workshop.report_write(&job, &ReportEntry::full("en", Recipient::Supplier)).unwrap();
    assert_eq!(view.photos_total, 1);
    assert!(!listed(&shop, &job)[0].in_papers, "a supplier's report holds back how the vehicle arrived");
    shop.workshop.report_write(&job, &ReportEntry::full("en", Recipient::Customer)).unwrap();
    shop.at("2026-10-12T08:05:00-05:00");
    let mut jpeg = std::io::Cursor::new(Vec::new());
    image::RgbImage::from_pixel(40, 30, image::Rgb([9, 90, 9]))
        .write_to(&mut jpeg, image::ImageFormat::Jpeg)
        .unwrap();
    let meter = PhotoEntry { job: job.clone(), purpose: PhotoPurpose::Reading, live: false };
    let meter = shop.workshop.photo_keep(&meter, &jpeg.into_inner()).unwrap().sha256;
    let taken = ReadingEntry { photos: vec![meter.clone()], ..reading("12.4", "V") };
    shop.workshop.reading_keep(&job, &taken).unwrap();
    let all = listed(&shop, &job);
    let told: Vec<(&str, PhotoStep, bool)> =
        all.iter().map(|one| (one.photo.sha256.as_str(), one.step, one.in_papers)).collect();
    assert_eq!(
        told,
        [(arrival.as_str(), PhotoStep::Intake, true), (meter.as_str(), PhotoStep::Readings, false),]
    );
    assert_eq!(
        all[1].readings.iter().map(|one| (one.number, one.value.as_str())).collect::<Vec<_>>(),
        [(1, "12.4")]
    );
    packet(&shop, &job, &preset(Recipient::Supplier));
    assert!(listed(&shop, &job)[1].in_papers, "it went out in a packet");
}
