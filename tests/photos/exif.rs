//! Kind, size, time, offset, orientation and position: ours beside exiftool's.

use crate::outside::{demo_photos, exiftool, set_tags};
use crate::samples;
use chrono::{DateTime, TimeZone, Utc};
use photo::{Doubt, Facts, inspect};
use serde_json::Value;
use std::fs;
use std::path::Path;
use tempfile::tempdir;

fn now() -> DateTime<Utc> {
    Utc.with_ymd_and_hms(2026, 11, 25, 12, 0, 0).unwrap()
}

/// Compares everything that both readers say about one file.
fn check(path: &Path, theirs: &Value) -> Facts {
    let ours =
        inspect(&samples::bytes(path), now()).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let name = path.display();
    let text = |tag: &str| theirs.get(tag).and_then(Value::as_str).map(str::to_owned);
    let number = |tag: &str| theirs.get(tag).and_then(Value::as_u64);
    assert_eq!(Some(ours.kind.media_type().to_owned()), text("File:MIMEType"), "{name}");
    let size = ours.size.expect("a size");
    let width = ["File:ImageWidth", "PNG:ImageWidth", "RIFF:ImageWidth", "Meta:MetaImageSize"];
    let their_width = width.iter().find_map(|tag| number(tag));
    match text("Meta:MetaImageSize") {
        Some(stated) => assert_eq!(format!("{} {}", size.width, size.height), stated, "{name}"),
        None => {
            assert_eq!(Some(u64::from(size.width)), their_width, "{name}");
            let height = ["File:ImageHeight", "PNG:ImageHeight", "RIFF:ImageHeight"];
            assert_eq!(Some(u64::from(size.height)), height.iter().find_map(|tag| number(tag)), "{name}");
        }
    }
    assert_eq!(u64::from(ours.orientation.exif()), number("IFD0:Orientation").unwrap_or(1), "{name}");
    assert_eq!(
        ours.taken.map(|taken| taken.wall.format("%Y:%m:%d %H:%M:%S").to_string()),
        their_time(theirs),
        "{name}"
    );
    let offset = ours.taken.and_then(|taken| taken.offset()).map(|offset| offset.to_string());
    // An offset without a time is of no use: ours drops it.
    let theirs_offset = text("ExifIFD:OffsetTimeOriginal").filter(|_| ours.taken.is_some());
    assert_eq!(offset, theirs_offset, "{name}");
    let located = theirs.get("GPS:GPSLatitude").is_some() || theirs.get("XMP-exif:GPSLatitude").is_some();
    assert_eq!(ours.has_location, located, "{name}");
    ours
}

/// Blanks and zeros are the standard's way of not saying it.
fn their_time(theirs: &Value) -> Option<String> {
    let time = theirs.get("ExifIFD:DateTimeOriginal")?.as_str()?.to_owned();
    (!time.starts_with("0000") && !time.trim_matches([' ', ':']).is_empty()).then_some(time)
}

#[test]
fn demo_photos_read_as_exiftool_reads_them() {
    let paths = demo_photos();
    let list: Value =
        serde_json::from_slice(&fs::read(paths[0].parent().unwrap().join("../photos.json")).unwrap())
            .unwrap();
    let theirs = exiftool(&paths.iter().map(AsRef::as_ref).collect::<Vec<_>>());
    assert_eq!(theirs.len(), paths.len());
    for (path, theirs) in paths.iter().zip(&theirs) {
        assert!(theirs.get("ExifTool:Warning").is_none(), "{}: {theirs}", path.display());
        let facts = check(path, theirs);
        let name = path.file_name().unwrap().to_str().unwrap();
        let entry = list.as_array().unwrap().iter().find(|entry| entry["file"] == name);
        let wanted =
            entry.unwrap_or_else(|| panic!("{name} is not in photos.json: delete it"))["taken"].as_str();
        let taken = facts.taken.unwrap().instant().unwrap();
        assert_eq!(taken, DateTime::parse_from_rfc3339(wanted.unwrap()).unwrap(), "{name}");
        assert!(!facts.has_location && facts.doubts.is_empty(), "{name}: {:?}", facts.doubts);
    }
}

#[test]
fn every_kind_reads_as_exiftool_reads_it() {
    let folder = tempdir().unwrap();
    let paths = samples::each_kind(&folder);
    let theirs = exiftool(&paths.iter().map(AsRef::as_ref).collect::<Vec<_>>());
    for (path, theirs) in paths.iter().zip(&theirs) {
        let facts = check(path, theirs);
        assert!(
            facts.has_location && facts.taken.is_some() && facts.orientation.exif() == 6,
            "{}",
            path.display()
        );
    }
}

#[test]
fn edited_pictures_read_as_exiftool_reads_them() {
    const TIME: &str = "-EXIF:DateTimeOriginal=2026:03:04 05:06:07";
    let cases: [(&[&str], &[Doubt]); 14] = [
        (&[TIME, "-EXIF:OffsetTimeOriginal=+05:45"], &[]),
        (&[TIME, "-EXIF:OffsetTimeOriginal=-09:30"], &[]),
        (&[TIME, "-EXIF:OffsetTimeOriginal=+00:00"], &[]),
        (&[TIME, "-EXIF:SubSecTimeOriginal=123", "-EXIF:OffsetTimeOriginal=+01:00"], &[]),
        (&[TIME], &[Doubt::NoOffset]),
        (&["-EXIF:OffsetTimeOriginal=+01:00"], &[Doubt::NoTime]),
        (&["-EXIF:DateTimeOriginal=0000:00:00 00:00:00"], &[Doubt::NoTime]),
        (&["-EXIF:ModifyDate=2026:03:04 05:06:07"], &[Doubt::NoTime]),
        (&["-EXIF:DateTimeOriginal=2099:01:01 00:00:00"], &[Doubt::NoOffset, Doubt::TimeInFuture]),
        // 13 h after `now` by the wall may still be the past in the farthest east; 15 h can't.
        (&["-EXIF:DateTimeOriginal=2026:11:26 01:00:00"], &[Doubt::NoOffset]),
        (&["-EXIF:DateTimeOriginal=2026:11:26 03:00:00"], &[Doubt::NoOffset, Doubt::TimeInFuture]),
        (
            &["-EXIF:DateTimeOriginal=2026:11:25 07:30:00", "-EXIF:OffsetTimeOriginal=-05:00"],
            &[Doubt::TimeInFuture],
        ),
        (&[TIME, "-XMP-exif:GPSLatitude=41.5"], &[Doubt::NoOffset]),
        (&[TIME, "-EXIF:GPSLatitude=0", "-EXIF:GPSLatitudeRef=N"], &[Doubt::NoOffset]),
    ];
    let folder = tempdir().unwrap();
    for (index, (tags, doubts)) in cases.into_iter().enumerate() {
        let path = samples::file(&folder, &format!("{index}.jpg"));
        set_tags(&path, tags);
        let facts = check(&path, &exiftool(&[&path])[0]);
        assert_eq!(facts.doubts, doubts, "{tags:?}");
    }
}
