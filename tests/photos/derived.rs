//! Every picture that is made of another carries nothing of what exiftool wrote into that one: previews, pictures for paper,
//! covered, marked and clean copies.

use crate::outside::{exiftool, run, set_tags};
use crate::samples;
use photo::{
    Area, Carries, Mark, MarkShape, MarkTone, Spot, carried, for_report, marked, preview, redact,
    without_metadata,
};
use serde_json::Value;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use tempfile::{TempDir, tempdir};

/// In every text that is written below, and in no picture by chance.
const SECRET: &str = "Tolliver-4411-quarry";

/// One tag of each sort that exiftool can write.
const TAGS: [&str; 10] = [
    "EXIF:Artist",
    "EXIF:UserComment",
    "EXIF:SerialNumber",
    "EXIF:GPSAreaInformation",
    "XMP-dc:Creator",
    "XMP-photoshop:City",
    "XMP-iptcCore:Location",
    "IPTC:By-line",
    "PNG:Comment",
    "JPEG:Comment",
];

/// Writes what the kind can hold; says which groups exiftool then sees.
fn told(folder: &TempDir, ending: &str) -> (PathBuf, BTreeSet<String>) {
    let path = samples::file(folder, &format!("told.{ending}"));
    for tag in TAGS {
        // Tags that a kind can't hold are passed over.
        let written = std::process::Command::new("exiftool")
            .args([
                "-q",
                "-q",
                "-m",
                "-overwrite_original",
                &format!("-{tag}={SECRET}"),
                path.to_str().unwrap(),
            ])
            .status();
        written.unwrap();
    }
    let small = samples::file(folder, "small.jpg");
    set_tags(&small, &[&format!("-EXIF:Artist={SECRET}")]);
    set_tags(&path, &[&format!("-EXIF:ThumbnailImage<={}", small.display()), "-EXIF:Orientation=6"]);
    if ending == "jpg" {
        with_makers_notes(&path);
    }
    let profile = folder.path().join("profile.icc");
    run(
        "exiftool",
        &[
            "-q",
            "-o",
            profile.to_str().unwrap(),
            "-TagsFromFile",
            color_profile(folder).to_str().unwrap(),
            "-ICC_Profile",
        ],
    );
    set_tags(&path, &[&format!("-ICC_Profile<={}", profile.display())]);
    let groups = groups(&exiftool(&[&path]).remove(0));
    (path, groups)
}

/// A picture with the profile that vips brings along.
fn color_profile(folder: &TempDir) -> PathBuf {
    let plain = samples::file(folder, "plain.png");
    let path = folder.path().join("profiled.jpg");
    let (from, to) = (plain.to_str().unwrap(), path.to_str().unwrap());
    run("vips", &["icc_transform", from, to, "srgb", "--input-profile", "srgb"]);
    path
}

/// exiftool changes makers' notes and writes none: the user's comment, whose form is the same, becomes one of a maker unknown.
fn with_makers_notes(path: &Path) {
    let mut bytes = std::fs::read(path).unwrap();
    let at = bytes.windows(SECRET.len()).position(|text| text == SECRET.as_bytes());
    assert!(at.is_some(), "nothing was written");
    // Tag 0x9286 of type UNDEFINED becomes 0x927C (CIPA DC-008, 4.6.5).
    let exif = bytes.windows(4).position(|field| field == b"\x92\x86\0\x07").expect("the comment's field");
    bytes[exif + 1] = 0x7C;
    std::fs::write(path, bytes).unwrap();
}

fn groups(said: &Value) -> BTreeSet<String> {
    let names = said.as_object().unwrap().keys().filter_map(|name| name.split_once(':'));
    names.map(|(group, _)| group.to_owned()).collect()
}

fn contains(bytes: &[u8], text: &str) -> bool {
    let wide: Vec<u8> = text.encode_utf16().flat_map(u16::to_be_bytes).collect();
    let narrow: Vec<u8> = text.encode_utf16().flat_map(u16::to_le_bytes).collect();
    [text.as_bytes(), &wide, &narrow]
        .iter()
        .any(|form| bytes.windows(form.len()).any(|window| &window == form))
}

#[test]
fn no_derived_picture_carries_what_the_original_carries() {
    let font = std::fs::read(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../src-tauri/crates/report/fonts/DejaVuSans-Bold.ttf"
    ))
    .unwrap();
    let wanted: [(&str, &[&str]); 3] = [
        ("jpg", &["IFD0", "ExifIFD", "GPS", "IFD1", "XMP-dc", "XMP-photoshop", "XMP-iptcCore", "IPTC"]),
        ("png", &["IFD0", "ExifIFD", "GPS", "XMP-dc", "XMP-photoshop", "XMP-iptcCore"]),
        ("webp", &["IFD0", "ExifIFD", "GPS", "XMP-dc", "XMP-photoshop", "XMP-iptcCore"]),
    ];
    for (ending, wanted) in wanted {
        let folder = tempdir().unwrap();
        let (path, written) = told(&folder, ending);
        for group in wanted {
            assert!(written.contains(*group), "{ending}: {group} wasn't written: {written:?}");
        }
        let bytes = samples::bytes(&path);
        assert!(contains(&bytes, SECRET), "{ending}: the text isn't found where it is");
        let notes = carried(&bytes).unwrap().contains(&Carries::MakerNotes);
        assert_eq!(notes, ending == "jpg", "the maker's notes");
        let area = Area { left: 100, top: 100, width: 200, height: 200 };
        let mark = Mark {
            shape: MarkShape::Arrow { from: Spot { x: 1, y: 1 }, tip: Spot { x: 900, y: 700 } },
            tone: MarkTone::Lamp,
        };
        let made = [
            ("preview", preview(&bytes, 960).unwrap()),
            ("paper", for_report(&bytes, 1400, 82).unwrap()),
            ("covered", redact(&bytes, &[area]).unwrap()),
            ("marked", marked(&bytes, 2400, 90, &[mark], &[area], &font).unwrap()),
            ("clean", without_metadata(&bytes).unwrap()),
        ];
        for (name, made) in made {
            let clean = name == "clean";
            let path =
                folder.path().join(if clean { format!("clean.{ending}") } else { format!("{name}.jpg") });
            std::fs::write(&path, &made).unwrap();
            assert!(!contains(&made, SECRET), "{ending}: {name} holds the text");
            assert!(!contains(&made, "Exif\0\0") || clean, "{ending}: {name} holds an EXIF block");
            let said = exiftool(&[&path]).remove(0);
            for (tag, value) in said.as_object().unwrap() {
                let group = tag.split(':').next().unwrap();
                let of_the_file =
                    ["SourceFile", "ExifTool", "System", "File", "JFIF", "Composite"].contains(&group);
                // A clean copy keeps the pixels as they are, so it says how they are turned and in which colors; nothing else.
                let of_the_pixels = clean
                    && (group.starts_with("ICC")
                        || ["PNG", "RIFF"].contains(&group)
                        || tag == "IFD0:Orientation");
                let harmless =
                    of_the_file && !tag.contains("GPS") && tag != "File:Comment" && tag != "ExifTool:Warning";
                assert!(harmless || of_the_pixels, "{ending}: {name} carries {tag} = {value}");
            }
        }
    }
}
