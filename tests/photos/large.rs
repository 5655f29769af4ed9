//! Sixty megapixels and more, within a stated memory.

use crate::outside::run;
use crate::samples;
use chrono::Utc;
use image::load_from_memory;
use photo::{MAX_DECODE_BYTES, PhotoError, Preview, WhyNoPreview, inspect, preview};
use std::env;
use std::fs;
use tempfile::tempdir;

/// A picture of this size by vips, in the form that the name and options say; then measured alone.
fn peak(name: &str, (width, height): (u32, u32)) -> u64 {
    let folder = tempdir().unwrap();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    run("vips", &["eye", &at("one.v"), &width.to_string(), &height.to_string(), "--uchar"]);
    let one = at("one.v");
    run("vips", &["bandjoin", &format!("{one} {one} {one}"), &at(name)]);
    let path = at(name.split('[').next().unwrap());
    let facts = inspect(&fs::read(&path).unwrap(), Utc::now()).unwrap();
    assert_eq!(facts.size.map(|size| (size.width, size.height)), Some((width, height)));
    assert_eq!(facts.preview, Preview::Possible);
    let peak = peak_of_preview(&path);
    println!("{name} of {width} × {height}: {} MB at most", peak / 1_000_000);
    peak
}

/// 9000 × 6700 = 60.3 megapixels.
const SIXTY: (u32, u32) = (9000, 6700);
/// Twice as wide as high, 100 megapixels.
const PANORAMA: (u32, u32) = (14_142, 7_071);

/// Starts this test program again for one picture only, and reads its greatest resident memory (`VmHWM`).
fn peak_of_preview(path: &str) -> u64 {
    let output = std::process::Command::new(env::current_exe().unwrap())
        .args(["--exact", "large::alone", "--ignored", "--nocapture"])
        .env("LARGE_PICTURE", path)
        .output()
        .unwrap();
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(output.status.success(), "{text}{}", String::from_utf8_lossy(&output.stderr));
    let line = text.lines().find_map(|line| line.split("peak kB ").nth(1)).expect(&text);
    line.trim().parse::<u64>().unwrap() * 1024
}

#[test]
#[ignore = "started by the tests below, in a process of its own"]
fn alone() {
    let Ok(path) = env::var("LARGE_PICTURE") else { return };
    let small = load_from_memory(&preview(&fs::read(path).unwrap(), 1024).unwrap()).unwrap();
    assert_eq!(small.width().max(small.height()), 1024);
    let status = fs::read_to_string("/proc/self/status").unwrap();
    let peak = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).unwrap();
    println!("peak kB {}", peak.trim().trim_end_matches(" kB"));
}

#[test]
fn large_pictures_are_shown_with_little_memory() {
    // File and small picture.
    for size in [SIXTY, PANORAMA] {
        for name in ["big.jpg[Q=85]", "big.png[compression=1]"] {
            let peak = peak(name, size);
            assert!(peak < 120_000_000, "{name} of {size:?}: {peak} bytes");
        }
    }
}

#[test]
fn forms_that_are_decoded_whole_stay_below_the_limit() {
    for (name, size) in [
        // All coefficients are held until the last scan has come.
        ("big.jpg[Q=85,interlace]", SIXTY),
        ("big.jpg[Q=85,interlace]", PANORAMA),
        ("big.png[compression=1,interlace]", SIXTY),
        ("big.webp[effort=0]", SIXTY),
        ("big.webp[effort=0]", PANORAMA),
    ] {
        let peak = peak(name, size);
        assert!(peak < MAX_DECODE_BYTES, "{name} of {size:?}: {peak} bytes");
    }
}

#[test]
fn a_header_that_claims_too_much_is_told_without_decoding() {
    let folder = tempdir().unwrap();
    let mut bytes = samples::bytes(&samples::file(&folder, "a.jpg"));
    // The frame header (SOF0): length, precision, height, width; claimed 60,000 × 60,000.
    let frame = bytes.windows(2).position(|pair| pair == [0xFF, 0xC0]).unwrap();
    bytes[frame + 5..frame + 9].copy_from_slice(&[0xEA, 0x60, 0xEA, 0x60]);
    let facts = inspect(&bytes, Utc::now()).unwrap();
    assert_eq!(facts.preview, Preview::NotPossible(WhyNoPreview::TooLarge));
    assert_eq!(preview(&bytes, 320), Err(PhotoError::NoPreview(WhyNoPreview::TooLarge)));
}
