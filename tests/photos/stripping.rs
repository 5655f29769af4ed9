//! What a file carries besides the picture, and the copy without it: exiftool writes the tags and reads the copies;
//! ImageMagick compares the pixels.

use crate::outside::{exiftool, run, set_tags};
use crate::samples;
use photo::{Carries, PhotoError, carried, without_metadata};
use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::{TempDir, tempdir};

/// Tags of every sort that exiftool can write into every kind of file here.
const TAGS: [&str; 25] = [
    "-EXIF:GPSLatitude=41.5",
    "-EXIF:GPSLatitudeRef=N",
    "-EXIF:GPSLongitude=90.25",
    "-EXIF:GPSLongitudeRef=W",
    "-EXIF:SerialNumber=SN-DEMO-4411",
    "-EXIF:LensSerialNumber=LENS-DEMO-9",
    "-EXIF:ImageUniqueID=00112233445566778899aabbccddeeff",
    "-EXIF:Artist=Odalys Brandt",
    "-EXIF:OwnerName=Odalys Brandt",
    "-EXIF:Copyright=Odalys Brandt 2026",
    "-EXIF:Make=Arvel",
    "-EXIF:Model=Tern Pocket",
    "-EXIF:Software=Firmware 7",
    "-EXIF:DateTimeOriginal=2026:03:04 05:06:07",
    "-EXIF:OffsetTimeOriginal=-06:00",
    "-EXIF:UserComment=behind the quarry",
    "-EXIF:XPKeywords=quarry",
    "-EXIF:ExposureTime=0.01",
    "-EXIF:Orientation=6",
    "-XMP-dc:Creator=Odalys Brandt",
    "-XMP-exif:GPSLatitude=41.5",
    "-XMP-aux:SerialNumber=SN-DEMO-4411",
    "-XMP-xmp:CreateDate=2026:03:04 05:06:07",
    "-XMP-photoshop:City=Tolliver",
    "-XMP-xmp:CreatorTool=Bench app 3",
];
/// Words of those tags that must not be found in a copy.
const WORDS: [&str; 9] =
    ["SN-DEMO", "LENS-DEMO", "Odalys", "Arvel", "Tern", "quarry", "Tolliver", "Bench app", "2026:03:04"];

/// What exiftool may still say of a copy: the file, the picture's own header, the color profile, how it is turned.
fn is_of_the_picture(name: &str) -> bool {
    let (group, tag) = name.split_once(':').unwrap_or(("", name));
    let header = ["SourceFile", "ExifTool", "System", "File", "JFIF", "Composite", "PNG", "PNG-pHYs", "RIFF"];
    header.contains(&group)
        || group.starts_with("ICC")
        || group.is_empty()
        || (group == "IFD0" && ["Orientation", "XResolution", "YResolution", "ResolutionUnit"].contains(&tag))
        || (group == "IFD0" && tag == "YCbCrPositioning")
}

fn check(original: &Path, copy: &[u8], folder: &TempDir) -> Value {
    let ending = original.extension().unwrap().to_str().unwrap();
    let path = folder.path().join(format!("copy.{ending}"));
    fs::write(&path, copy).unwrap();
    let said = exiftool(&[&path]).remove(0);
    for (name, value) in said.as_object().unwrap() {
        assert!(is_of_the_picture(name), "{}: {name} = {value} is left", original.display());
        assert!(name != "ExifTool:Warning", "{}: {value}", original.display());
    }
    let text = String::from_utf8_lossy(copy);
    for word in WORDS {
        assert!(!text.contains(word), "{}: {word} is left", original.display());
    }
    assert!(carried(copy).unwrap().is_empty());
    let before = exiftool(&[original]).remove(0);
    let turned = |said: &Value| said.get("IFD0:Orientation").and_then(Value::as_u64).unwrap_or(1);
    assert_eq!(turned(&before), turned(&said), "{}: how it is turned", original.display());
    assert_eq!(pixels(original), pixels(&path), "{}: the pixels", original.display());
    said
}

/// ImageMagick's own hash over the decoded pixels as they are stored.
fn pixels(path: &Path) -> String {
    let said = run("identify", &["-format", "%#", path.to_str().unwrap()]);
    String::from_utf8(said).unwrap()
}

fn tagged(folder: &TempDir, name: &str) -> PathBuf {
    let path = samples::file(folder, name);
    set_tags(&path, &TAGS);
    path
}

#[test]
fn everything_that_exiftool_wrote_is_named_and_gone_from_the_copy() {
    let folder = tempdir().unwrap();
    // A lossless WebP as the image library writes it has no extended header; exiftool adds one.
    for name in ["a.jpg", "a.png", "a.webp"] {
        let path = tagged(&folder, name);
        let bytes = samples::bytes(&path);
        let wanted = BTreeSet::from([
            Carries::Location,
            Carries::Serial,
            Carries::Person,
            Carries::Device,
            Carries::Date,
            Carries::Xmp,
            Carries::Text,
            Carries::Other,
        ]);
        assert_eq!(carried(&bytes).unwrap(), wanted, "{name}");
        check(&path, &without_metadata(&bytes).unwrap(), &folder);
    }
}

#[test]
fn what_only_a_jpeg_can_carry_goes_too() {
    let folder = tempdir().unwrap();
    let path = tagged(&folder, "b.jpg");
    let small = samples::file(&folder, "small.jpg");
    let thumbnail = format!("-EXIF:ThumbnailImage<={}", small.display());
    set_tags(
        &path,
        &["-IPTC:City=Tolliver", "-IPTC:By-line=Odalys Brandt", "-Comment=behind the quarry", &thumbnail],
    );
    // A video behind the end, as phones append it, and the index to it (CIPA DC-007).
    let mut bytes = samples::bytes(&path);
    bytes.extend(b"\0\0\0\x18ftypmp42Odalys speaks");
    let found = carried(&bytes).unwrap();
    for what in [Carries::Iptc, Carries::Text, Carries::Thumbnail, Carries::Appended] {
        assert!(found.contains(&what), "{what:?}: {found:?}");
    }
    fs::write(&path, &bytes).unwrap();
    check(&path, &without_metadata(&bytes).unwrap(), &folder);
}

#[test]
fn makers_notes_are_named_and_gone() {
    let folder = tempdir().unwrap();
    // exiftool can't write maker notes anew: a block of them by hand, in an EXIF field (0x927C) of type UNDEFINED.
    let note = b"ARVEL\0SN-DEMO-4411\0\0";
    let mut exif = b"Exif\0\0MM\0\x2A\0\0\0\x08\0\x01\x87\x69\0\x04\0\0\0\x01\0\0\0\x1A\0\0\0\0".to_vec();
    exif.extend(b"\0\x01\x92\x7C\0\x07\0\0\0\x14\0\0\0\x2C\0\0\0\0");
    exif.extend(note);
    let plain = samples::bytes(&samples::file(&folder, "c.jpg"));
    let mut bytes = plain[..2].to_vec();
    bytes.extend([0xFF, 0xE1]);
    bytes.extend(u16::try_from(exif.len() + 2).unwrap().to_be_bytes());
    bytes.extend(&exif);
    bytes.extend(&plain[2..]);
    let path = folder.path().join("noted.jpg");
    fs::write(&path, &bytes).unwrap();
    let theirs = exiftool(&[&path]).remove(0);
    assert!(
        theirs["ExifTool:Warning"].as_str().unwrap().contains("MakerNotes"),
        "exiftool sees it: {theirs}"
    );
    assert_eq!(carried(&bytes).unwrap(), BTreeSet::from([Carries::MakerNotes]));
    check(&path, &without_metadata(&bytes).unwrap(), &folder);
}

#[test]
fn a_color_profile_stays() {
    let folder = tempdir().unwrap();
    let plain = samples::file(&folder, "plain.png");
    for name in ["d.jpg", "d.png", "d.webp"] {
        let path = folder.path().join(name);
        let (from, to) = (plain.to_str().unwrap(), path.to_str().unwrap());
        // vips writes its own sRGB profile into the file.
        run("vips", &["icc_transform", from, to, "srgb", "--input-profile", "srgb"]);
        set_tags(&path, &TAGS);
        let bytes = samples::bytes(&path);
        let said = check(&path, &without_metadata(&bytes).unwrap(), &folder);
        let kept = said.as_object().unwrap().keys().any(|name| name.starts_with("ICC"));
        assert!(kept, "{name}: the color profile is lost: {said}");
    }
}

#[test]
fn a_png_says_things_in_texts_of_its_own() {
    let folder = tempdir().unwrap();
    let path = samples::file(&folder, "e.png");
    set_tags(
        &path,
        &[
            "-PNG:Author=Odalys Brandt",
            "-PNG:Comment=behind the quarry",
            "-PNG:Software=Arvel",
            "-PNG:CreationTime=2026:03:04 05:06:07",
            "-PNG:ModifyDate=2026:03:04 05:06:07",
        ],
    );
    let bytes = samples::bytes(&path);
    let wanted = BTreeSet::from([Carries::Person, Carries::Device, Carries::Date, Carries::Text]);
    assert_eq!(carried(&bytes).unwrap(), wanted);
    check(&path, &without_metadata(&bytes).unwrap(), &folder);
}

#[test]
fn every_way_to_hold_the_camera_is_kept() {
    let folder = tempdir().unwrap();
    for (index, name) in ["f.jpg", "f.png", "f.webp"].into_iter().enumerate() {
        for value in 1..=8 {
            let path = samples::file(&folder, &format!("{index}-{value}-{name}"));
            set_tags(&path, &[&format!("-EXIF:Orientation={value}"), "-EXIF:Artist=Odalys"]);
            let bytes = samples::bytes(&path);
            let copy = without_metadata(&bytes).unwrap();
            check(&path, &copy, &folder);
            let shown = |bytes: &[u8]| photo::preview(bytes, 96).unwrap();
            assert_eq!(shown(&bytes), shown(&copy), "{name} {value}: it looks the same");
        }
    }
}

#[test]
fn a_picture_that_carries_nothing_comes_out_as_it_is() {
    let folder = tempdir().unwrap();
    for name in ["g.jpg", "g.png", "g.webp"] {
        let bytes = samples::bytes(&samples::file(&folder, name));
        assert_eq!(carried(&bytes).unwrap(), BTreeSet::new(), "{name}");
        assert_eq!(without_metadata(&bytes).unwrap(), bytes, "{name}");
    }
}

#[test]
fn progressive_pictures_keep_every_scan() {
    let folder = tempdir().unwrap();
    let plain = samples::file(&folder, "h.png");
    let path = folder.path().join("h.jpg");
    run("convert", &[plain.to_str().unwrap(), "-interlace", "JPEG", path.to_str().unwrap()]);
    set_tags(&path, &TAGS);
    let bytes = samples::bytes(&path);
    assert!(bytes.windows(2).filter(|pair| pair == b"\xFF\xDA").count() > 3, "not progressive");
    check(&path, &without_metadata(&bytes).unwrap(), &folder);
}

#[test]
fn a_heic_says_what_it_carries_and_stays_whole() {
    let folder = tempdir().unwrap();
    let path = tagged(&folder, "i.heic");
    let bytes = samples::bytes(&path);
    let found = carried(&bytes).unwrap();
    for what in [Carries::Location, Carries::Serial, Carries::Person, Carries::Date, Carries::Xmp] {
        assert!(found.contains(&what), "{what:?}: {found:?}");
    }
    assert!(matches!(without_metadata(&bytes), Err(PhotoError::CannotStrip { .. })));
}

#[test]
fn damaged_pictures_are_refused_and_never_panic() {
    let folder = tempdir().unwrap();
    for name in ["j.jpg", "j.png", "j.webp"] {
        let path = tagged(&folder, name);
        let bytes = samples::bytes(&path);
        for cut in (0..bytes.len()).step_by(41) {
            let _ = without_metadata(&bytes[..cut]);
        }
        for at in (0..bytes.len()).step_by(7) {
            let mut changed = bytes.clone();
            changed[at] ^= 0x55;
            if let Ok(copy) = without_metadata(&changed) {
                assert!(carried(&copy).unwrap().is_empty(), "{name} {at}");
            }
        }
    }
}
