//! Photos on their way out: what their files carry, copies without that, originals that are lost. exiftool writes the tags and
//! reads what came out; Info-ZIP's `unzip` takes the packets apart.

use crate::shop::*;
use api::entry::*;
use api::view::{OriginalState, PhotoShareView, PhotoView};
use serde_json::Value;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::Command;

const TAGS: [&str; 8] = [
    "-EXIF:GPSLatitude=41.5",
    "-EXIF:GPSLatitudeRef=N",
    "-EXIF:SerialNumber=SN-DEMO-4411",
    "-EXIF:Artist=Odalys Brandt",
    "-XMP-dc:Creator=Odalys Brandt",
    "-IPTC:City=Tolliver",
    "-EXIF:Orientation=6",
    "-EXIF:DateTimeOriginal=2026:10:12 07:59:00",
];

fn run(program: &str, arguments: &[&str]) -> Vec<u8> {
    let done = Command::new(program).args(arguments).output();
    let done = done.unwrap_or_else(|error| panic!("{program} can't be started: {error}"));
    assert!(done.status.success(), "{program}: {}", String::from_utf8_lossy(&done.stderr));
    done.stdout
}

/// A small photo full of tags, drawn here; `shade` makes it another one.
fn tagged(shade: u8) -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.jpg");
    image::RgbImage::from_fn(96, 64, |x, y| image::Rgb([x as u8, y as u8, shade])).save(&path).unwrap();
    let path = path.to_str().unwrap();
    run("exiftool", &[&["-q", "-overwrite_original", "-n"], &TAGS[..], &[path]].concat());
    std::fs::read(path).unwrap()
}

fn keep(shop: &Shop, job: &str, purpose: PhotoPurpose, bytes: &[u8]) -> PhotoView {
    shop.workshop.photo_keep(&PhotoEntry { job: job.to_owned(), purpose, live: false }, bytes).unwrap()
}

fn preset(recipient: Recipient) -> PacketEntry {
    PacketEntry::preset("en", recipient)
}

fn shown(shop: &Shop, job: &str, recipient: Recipient) -> PhotoShareView {
    shop.workshop.packet_preview(job, &preset(recipient)).unwrap().photos.remove(0)
}

fn kinds(shop: &Shop, job: &str, kind: &str) -> usize {
    shop.workshop.job_view(job).unwrap().timeline.iter().filter(|entry| entry.kind == kind).count()
}

/// Writes a packet and takes it apart: its verdict and its folder.
fn packet(shop: &Shop, job: &str, entry: &PacketEntry) -> (api::view::VerificationView, tempfile::TempDir) {
    let verdict = shop.workshop.packet_write(job, entry).unwrap();
    assert!(verdict.good, "{:?}", verdict.problems);
    let view = shop.workshop.job_view(job).unwrap();
    let written = view.packets.iter().find(|file| file.name.contains(entry.recipient.code())).unwrap();
    let folder = tempfile::tempdir().unwrap();
    run("unzip", &["-q", &written.path, "-d", folder.path().to_str().unwrap()]);
    (verdict, folder)
}

fn below(folder: &Path, part: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut left = vec![folder.to_owned()];
    while let Some(path) = left.pop() {
        if path.is_dir() {
            left.extend(std::fs::read_dir(&path).unwrap().map(|entry| entry.unwrap().path()));
        } else if path.to_string_lossy().contains(part) {
            found.push(path);
        }
    }
    found
}

/// Where an original lies in the data folder.
fn file_of(shop: &Shop, sha256: &str) -> PathBuf {
    below(&shop.folder.path().join("originals"), sha256).remove(0)
}

#[test]
fn a_supplier_gets_the_picture_and_not_what_the_camera_saved() {
    let shop = Shop::open();
    let job = shop.job().job;
    let photo = keep(&shop, &job, PhotoPurpose::Part, &tagged(120));
    let before = shown(&shop, &job, Recipient::Supplier);
    assert_eq!(before.share, PhotoShare::Stripped);
    for what in ["location", "serial", "person", "date", "xmp", "iptc"] {
        assert!(before.carries.iter().any(|code| code == what), "{what}: {:?}", before.carries);
    }
    for recipient in [Recipient::Customer, Recipient::Arbiter] {
        assert_eq!(shown(&shop, &job, recipient).share, PhotoShare::Original, "{recipient:?}");
    }
    let (verdict, folder) = packet(&shop, &job, &preset(Recipient::Supplier));
    assert!(
        verdict.proven.iter().any(|said| said.en.contains("without what the camera had saved")),
        "{:?}",
        verdict.proven
    );
    assert!(below(folder.path(), "data/photos/").is_empty(), "the original went out");
    let copy = below(folder.path(), "data/photos-redacted/").remove(0);
    let said: Value =
        serde_json::from_slice(&run("exiftool", &["-j", "-n", "-G1", copy.to_str().unwrap()])).unwrap();
    let said = said[0].as_object().unwrap();
    let groups = ["GPS", "ExifIFD", "XMP", "IPTC", "IFD1"];
    let left: Vec<&String> =
        said.keys().filter(|name| groups.iter().any(|group| name.starts_with(group))).collect();
    assert!(left.is_empty(), "{left:?}");
    assert_eq!(said["IFD0:Orientation"], 6);
    let bytes = std::fs::read(&copy).unwrap();
    assert!(!String::from_utf8_lossy(&bytes).contains("Odalys"));
    let records: String =
        below(folder.path(), "/records/").iter().map(|path| std::fs::read_to_string(path).unwrap()).collect();
    assert!(records.contains(&photo.sha256), "the original's hash stays in the records");
    assert!(records.contains("\"change\":\"metadata_removed\""));

    packet(&shop, &job, &preset(Recipient::Supplier));
    packet(&shop, &job, &preset(Recipient::CardIssuer));
    assert_eq!(kinds(&shop, &job, "photo_redacted"), 1, "one record a photo, whoever gets it");
}

#[test]
fn whoever_sends_may_send_the_original_anyhow_or_a_covered_copy() {
    let shop = Shop::open();
    let job = shop.job().job;
    let photo = keep(&shop, &job, PhotoPurpose::Part, &tagged(121)).sha256;
    let choice = |share| PacketEntry {
        photos: vec![PhotoChoice { photo: photo.clone(), share }],
        ..preset(Recipient::Supplier)
    };
    let (_, folder) = packet(&shop, &job, &choice(PhotoShare::Original));
    assert_eq!(below(folder.path(), &format!("data/photos/{photo}.jpg")).len(), 1);
    assert_eq!(kinds(&shop, &job, "photo_redacted"), 0);
    packet(&shop, &job, &choice(PhotoShare::Stripped));
    let areas = vec![AreaEntry { left: 100, top: 100, width: 300, height: 200 }];
    shop.workshop.photo_cover(&job, &CoverEntry { photo: photo.clone(), areas }).unwrap();
    let before = shown(&shop, &job, Recipient::Supplier);
    assert_eq!(before.share, PhotoShare::Covered);
    let (verdict, folder) = packet(&shop, &job, &preset(Recipient::Supplier));
    assert!(verdict.proven.iter().any(|said| said.en.contains("parts covered")));
    assert!(!verdict.proven.iter().any(|said| said.en.contains("without what the camera had saved")));
    assert_eq!(below(folder.path(), &format!("data/photos-redacted/{}.jpg", before.covered)).len(), 1);
}

#[test]
fn a_photo_that_carries_nothing_is_its_own_copy() {
    let shop = Shop::open();
    let job = shop.job().job;
    let photo = shop.photo(&job, PhotoPurpose::Part);
    let before = shown(&shop, &job, Recipient::Supplier);
    assert_eq!((before.share, before.carries.len()), (PhotoShare::Original, 0));
    let (_, folder) = packet(&shop, &job, &preset(Recipient::Supplier));
    assert_eq!(below(folder.path(), &format!("data/photos/{}.jpg", photo.sha256)).len(), 1);
    assert_eq!(kinds(&shop, &job, "photo_redacted"), 0);
}

#[test]
fn a_lost_copy_is_made_again_and_needs_no_second_record() {
    let shop = Shop::open();
    let job = shop.job().job;
    keep(&shop, &job, PhotoPurpose::Part, &tagged(122));
    let (_, first) = packet(&shop, &job, &preset(Recipient::Supplier));
    let copy = below(first.path(), "data/photos-redacted/").remove(0);
    let name = copy.file_stem().unwrap().to_str().unwrap().to_owned();
    std::fs::write(file_of(&shop, &name), b"other bytes").unwrap();
    let (_, second) = packet(&shop, &job, &preset(Recipient::Supplier));
    let again = below(second.path(), "data/photos-redacted/").remove(0);
    assert_eq!(std::fs::read(copy).unwrap(), std::fs::read(again).unwrap());
    assert_eq!(kinds(&shop, &job, "photo_redacted"), 1);
}

#[test]
fn the_preview_shows_every_value_that_leaves() {
    let shop = Shop::open();
    let job = shop.measuring();
    let entry =
        IntakeEntry { make: Some("Arvel".into()), complaint: Some("x".repeat(300)), ..Default::default() };
    shop.workshop.intake_keep(&job, &entry).unwrap();
    keep(&shop, &job, PhotoPurpose::Reading, &tagged(123));
    shop.workshop.reading_keep(&job, &reading("12.4", "V")).unwrap();
    let preview = shop.workshop.packet_preview(&job, &preset(Recipient::Arbiter)).unwrap();
    let told: BTreeSet<(String, String)> = preview
        .records
        .iter()
        .flat_map(|record| {
            let body = record.values.iter().map(|value| (format!("body.{}", value.name), value.text.clone()));
            let around = record.around.iter().map(|value| (value.name.clone(), value.text.clone()));
            body.chain(around).collect::<Vec<_>>()
        })
        .collect();
    let (_, folder) = packet(&shop, &job, &preset(Recipient::Arbiter));
    let mut records = below(folder.path(), "/records/");
    records.sort();
    assert_eq!(records.len(), preview.records.len() + 1, "and the page that was made for this packet");
    let mut leaves = 0;
    for path in records {
        let record: Value = serde_json::from_slice(&std::fs::read(path).unwrap()).unwrap();
        if record["kind"] == "report_written" {
            continue;
        }
        let mut left = vec![(String::new(), record)];
        while let Some((name, value)) = left.pop() {
            let join = |part: &str| if name.is_empty() { part.to_owned() } else { format!("{name}.{part}") };
            match value {
                Value::Object(fields) => {
                    left.extend(fields.into_iter().map(|(part, value)| (join(&part), value)))
                }
                Value::Array(items) => {
                    left.extend(items.into_iter().enumerate().map(|(n, item)| (join(&n.to_string()), item)));
                }
                scalar => {
                    let text = scalar.as_str().map_or_else(|| scalar.to_string(), str::to_owned);
                    assert!(told.contains(&(name.clone(), text.clone())), "{name} = {text} is not shown");
                    leaves += 1;
                }
            }
        }
    }
    assert!(leaves > 60, "{leaves}");
    let complaint = preview.values.iter().find(|value| value.field == "complaint").unwrap();
    assert_eq!(complaint.text.len(), 300, "withheld values are shown whole, too");
}

#[test]
fn a_lost_original_is_said_by_preview_packet_report_and_backup() {
    let shop = Shop::open();
    let job = shop.job().job;
    let bytes = tagged(124);
    let photo = keep(&shop, &job, PhotoPurpose::Part, &bytes).sha256;
    assert!(shop.workshop.photo_preview(&photo).unwrap().is_some());
    let file = file_of(&shop, &photo);
    std::fs::remove_file(&file).unwrap();
    assert_eq!(
        Shop::code(shop.workshop.photo_preview(&photo)),
        "photo_not_kept",
        "an earlier preview isn't shown"
    );
    let before = shown(&shop, &job, Recipient::Customer);
    assert_eq!((before.original, before.share), (OriginalState::Missing, PhotoShare::Withheld));
    assert_eq!(before.missing_since, "");

    shop.at("2026-10-13T09:00:00-05:00");
    let (verdict, _) = packet(&shop, &job, &preset(Recipient::Customer));
    assert!(
        verdict.not_proven.iter().any(|said| said.en.contains("no longer has")),
        "{:?}",
        verdict.not_proven
    );
    assert!(
        !verdict.not_proven.iter().any(|said| said.en.contains("not in the packet")),
        "it isn't said to be left out"
    );
    assert!(shown(&shop, &job, Recipient::Customer).missing_since.starts_with("2026-10-13T09:00:00"));
    shop.at("2026-10-14T09:00:00-05:00");
    packet(&shop, &job, &preset(Recipient::Customer));
    let view = shop.workshop.report_write(&job, &ReportEntry::full("en", Recipient::Customer)).unwrap();
    assert_eq!(kinds(&shop, &job, "photo_missing"), 1, "said once");
    let text = String::from_utf8(run("pdftotext", &[&view.reports.last().unwrap().path, "-"])).unwrap();
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("original missing at the shop since"), "{text}");
    let backup = shop.workshop.backup_write("a passphrase of some words", true).unwrap();
    assert_eq!(backup.missing_photos, std::slice::from_ref(&photo));

    keep(&shop, &job, PhotoPurpose::Part, &bytes);
    assert_eq!(
        shown(&shop, &job, Recipient::Customer).original,
        OriginalState::Here,
        "the same bytes make it whole"
    );
    let (verdict, _) = packet(&shop, &job, &preset(Recipient::Customer));
    assert!(!verdict.not_proven.iter().any(|said| said.en.contains("no longer has")));
    assert_eq!(kinds(&shop, &job, "photo_kept"), 1);
}

#[test]
fn a_damaged_original_is_neither_sent_nor_shown() {
    let shop = Shop::open();
    let job = shop.job().job;
    let bytes = tagged(125);
    let photo = keep(&shop, &job, PhotoPurpose::Part, &bytes).sha256;
    shop.workshop.photo_preview(&photo).unwrap();
    shop.workshop.report_write(&job, &ReportEntry::full("en", Recipient::Customer)).unwrap();
    let mut changed = bytes.clone();
    let middle = changed.len() / 2;
    changed[middle] ^= 1;
    let file = file_of(&shop, &photo);
    std::fs::write(&file, changed).unwrap();
    for refused in
        [Shop::code(shop.workshop.photo_preview(&photo)), Shop::code(shop.workshop.photo_original(&photo))]
    {
        assert_eq!(refused, "original_damaged");
    }
    assert_eq!(shown(&shop, &job, Recipient::Customer).original, OriginalState::Damaged);
    let (verdict, folder) = packet(&shop, &job, &preset(Recipient::Customer));
    assert!(below(folder.path(), "data/photos/").is_empty());
    assert!(verdict.not_proven.iter().any(|said| said.en.contains("no longer has")));
    let records: String =
        below(folder.path(), "/records/").iter().map(|path| std::fs::read_to_string(path).unwrap()).collect();
    assert!(records.contains("\"found\":\"other_bytes\""));
}

/// Leaves a file as an ended run does that had no time for its record.
fn leave(folder: &Path, bytes: &[u8], ending: &str) -> String {
    let name = evidence::Digest::of(bytes).to_string();
    let shard = folder.join("originals").join(name.get(..2).unwrap());
    std::fs::create_dir_all(&shard).unwrap();
    std::fs::write(shard.join(format!("{name}.{ending}")), bytes).unwrap();
    name
}

#[test]
fn a_photo_without_a_record_is_offered_and_put_on_a_job_or_thrown_away() {
    let mut shop = Shop::open();
    let job = shop.job().job;
    keep(&shop, &job, PhotoPurpose::Part, &tagged(126));
    packet(&shop, &job, &preset(Recipient::Supplier));
    shop.workshop.report_write(&job, &ReportEntry::full("en", Recipient::Customer)).unwrap();
    assert!(shop.workshop.found_photos().unwrap().is_empty(), "reports and copies aren't offered");
    let (first, second) = (tagged(127), tagged(128));
    let mut names = Vec::new();
    shop.reopen_after(|folder| {
        names.extend([leave(folder, &first, "jpg"), leave(folder, &second, "jpg")]);
        leave(folder, b"%PDF-1.7 a report whose record was not kept", "pdf");
    });
    let found = shop.workshop.found_photos().unwrap();
    let offered: BTreeSet<&str> = found.iter().map(|photo| photo.sha256.as_str()).collect();
    assert_eq!(offered, names.iter().map(String::as_str).collect());
    assert_eq!((found[0].taken.as_str(), found[0].width, found[0].height), ("2026-10-12T07:59:00", 64, 96));
    assert!(shop.workshop.photo_preview(&names[0]).unwrap().is_some());

    let entry = FoundPhotoEntry { sha256: names[0].clone(), purpose: PhotoPurpose::Repair };
    let view = shop.workshop.found_photo_attach(&job, &entry).unwrap();
    let last = view.timeline.last().unwrap();
    assert_eq!((last.kind.as_str(), last.values["found_later"].as_str()), ("photo_kept", "true"));
    assert_eq!(last.photos[0].sha256, names[0]);
    assert_eq!(shop.workshop.found_photos().unwrap().len(), 1);
    let code = |sha256: &str| Shop::code(shop.workshop.found_photo_destroy(sha256));
    assert_eq!(code(&names[0]), "unknown_choice", "a photo on record is not thrown away");

    shop.workshop.photo_preview(&names[1]).unwrap();
    assert!(shop.workshop.found_photo_destroy(&names[1]).unwrap().is_empty());
    for place in ["originals", "previews"] {
        assert!(below(&shop.folder.path().join(place), &names[1]).is_empty(), "{place}");
    }
    assert_eq!(
        Shop::code(
            shop.workshop.found_photo_attach(&job, &FoundPhotoEntry { sha256: names[1].clone(), ..entry })
        ),
        "unknown_choice"
    );
}

#[test]
fn what_a_customer_had_destroyed_is_not_kept_again_by_accident() {
    let shop = Shop::open();
    let job = shop.job().job;
    let bytes = tagged(129);
    keep(&shop, &job, PhotoPurpose::Arrival, &bytes);
    shop.workshop.customer_forget(&job).unwrap();
    assert_eq!(shown(&shop, &job, Recipient::Customer).original, OriginalState::Forgotten);
    for job in [job.clone(), shop.job().job] {
        let entry = PhotoEntry { job: job.clone(), purpose: PhotoPurpose::Part, live: false };
        assert_eq!(Shop::code(shop.workshop.photo_keep(&entry, &bytes)), "photo_forgotten");
    }
    assert!(shop.workshop.found_photos().unwrap().is_empty(), "nothing of it lies here again");
    let (verdict, _) = packet(&shop, &job, &preset(Recipient::Customer));
    assert!(
        !verdict.not_proven.iter().any(|said| said.en.contains("no longer has")),
        "destroyed on request isn't lost"
    );
}
