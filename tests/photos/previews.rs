//! Small pictures carry nothing but pixels.

use crate::outside::{demo_photos, exiftool};
use crate::samples;
use image::load_from_memory;
use photo::{PhotoError, WhyNoPreview, for_report, preview};
use std::fs;
use std::path::PathBuf;
use tempfile::tempdir;

#[test]
fn previews_carry_no_metadata() {
    let folder = tempdir().unwrap();
    let originals: Vec<PathBuf> = demo_photos().into_iter().chain(samples::each_kind(&folder)).collect();
    let mut made = Vec::new();
    for (index, original) in originals.iter().enumerate() {
        let bytes = samples::bytes(original);
        if original.extension().is_some_and(|ending| ending == "heic") {
            assert_eq!(preview(&bytes, 320), Err(PhotoError::NoPreview(WhyNoPreview::Heic)));
            continue;
        }
        for (name, jpeg) in [("preview", preview(&bytes, 320)), ("report", for_report(&bytes, 800, 70))] {
            let path = folder.path().join(format!("{name}-{index}.jpg"));
            fs::write(&path, jpeg.unwrap()).unwrap();
            made.push(path);
        }
    }
    let plain = ["SourceFile", "ExifTool:", "System:", "File:", "JFIF:", "Composite:"];
    for facts in exiftool(&made.iter().map(AsRef::as_ref).collect::<Vec<_>>()) {
        for (tag, value) in facts.as_object().unwrap() {
            let harmless = plain.iter().any(|start| tag.starts_with(start)) && !tag.contains("GPS");
            assert!(harmless && tag != "ExifTool:Warning", "{} carries {tag} = {value}", facts["SourceFile"]);
        }
        let name = facts["SourceFile"].as_str().unwrap();
        let longest = if name.contains("preview") { 320 } else { 800 };
        let side = facts["File:ImageWidth"].as_u64().max(facts["File:ImageHeight"].as_u64()).unwrap();
        assert!(side == longest || side == 96, "{name}: {side}");
    }
}

#[test]
fn a_clear_screenshot_becomes_white() {
    let clear = image::RgbaImage::from_pixel(40, 30, image::Rgba([200, 0, 0, 0]));
    let mut png = std::io::Cursor::new(Vec::new());
    clear.write_to(&mut png, image::ImageFormat::Png).unwrap();
    let seen = load_from_memory(&preview(png.get_ref(), 40).unwrap()).unwrap().into_rgb8();
    assert!(seen.pixels().all(|pixel| pixel.0.iter().all(|level| *level >= 254)));
}
