//! Colors of every form of JPEG and PNG, at full size and made smaller: ours beside ImageMagick's (libjpeg-turbo, libpng).

use crate::outside::{demo_photos, run};
use image::{RgbImage, load_from_memory};
use photo::for_report;
use std::path::{Path, PathBuf};
use tempfile::{TempDir, tempdir};

/// A part of a demo photo with sides that no block fits into, so that edges are filled up.
fn picture(folder: &TempDir) -> PathBuf {
    let photo = demo_photos().into_iter().find(|path| path.ends_with("a-05-relay-socket.jpg")).unwrap();
    let path = folder.path().join("part.png");
    let (from, to) = (photo.to_str().unwrap(), path.to_str().unwrap());
    run("convert", &[from, "-resize", "900x", "-crop", "611x437+90+70", "+repage", "-strip", to]);
    path
}

fn made(folder: &TempDir, from: &Path, name: &str, how: &[&str]) -> PathBuf {
    let path = folder.path().join(name);
    let mut arguments = vec![from.to_str().unwrap()];
    arguments.extend(how);
    arguments.push(path.to_str().unwrap());
    run("convert", &arguments);
    path
}

fn theirs(path: &Path) -> RgbImage {
    let flat =
        ["-background", "white", "-flatten", "-colorspace", "sRGB", "-depth", "8", "-type", "TrueColor"];
    let mut arguments = vec![path.to_str().unwrap()];
    arguments.extend(flat);
    arguments.push("png24:-");
    load_from_memory(&run("convert", &arguments)).unwrap().into_rgb8()
}

/// Ours at a side, in the best quality that a preview can have.
fn ours(path: &Path, side: u32) -> RgbImage {
    load_from_memory(&for_report(&std::fs::read(path).unwrap(), side, 100).unwrap()).unwrap().into_rgb8()
}

/// Mean and greatest difference in levels of 255.
fn apart(one: &RgbImage, other: &RgbImage) -> (f64, u8) {
    assert_eq!(one.dimensions(), other.dimensions());
    let differences = || one.as_raw().iter().zip(other.as_raw()).map(|(a, b)| a.abs_diff(*b));
    let sum: u64 = differences().map(u64::from).sum();
    (sum as f64 / one.as_raw().len() as f64, differences().max().unwrap_or(0))
}

/// Full size: what the decoders differ in, and one more round of JPEG in quality 100 (below one level on average by itself).
fn check(path: &Path) {
    let (mean, most) = apart(&ours(path, 5000), &theirs(path));
    assert!(mean < 1.0 && most < 24, "{}: {mean} levels apart on average, {most} at most", path.display());
}

#[test]
fn every_form_of_jpeg_has_its_colors() {
    let folder = tempdir().unwrap();
    let part = picture(&folder);
    for sampling in ["4:4:4", "4:2:2", "4:4:0", "4:2:0", "4:1:1"] {
        for (coding, how) in [("plain", "none"), ("progressive", "JPEG")] {
            let name = format!("{}-{coding}.jpg", sampling.replace(':', ""));
            let how = ["-sampling-factor", sampling, "-interlace", how, "-quality", "90"];
            check(&made(&folder, &part, &name, &how));
        }
    }
    let restarts = made(&folder, &part, "restarts.jpg", &["-quality", "90"]);
    let with = folder.path().join("with-restarts.jpg");
    run("vips", &["jpegsave", restarts.to_str().unwrap(), with.to_str().unwrap(), "--restart-interval", "3"]);
    assert!(std::fs::read(&with).unwrap().windows(2).filter(|pair| pair == b"\xFF\xD3").count() > 3);
    check(&with);
    check(&made(&folder, &part, "gray.jpg", &["-colorspace", "Gray", "-quality", "90"]));
    check(&made(
        &folder,
        &part,
        "gray-p.jpg",
        &["-colorspace", "Gray", "-interlace", "JPEG", "-quality", "90"],
    ));
}

#[test]
fn inks_have_their_colors_as_adobe_writes_them() {
    let folder = tempdir().unwrap();
    let part = picture(&folder);
    let path = made(&folder, &part, "inks.jpg", &["-colorspace", "CMYK", "-quality", "95"]);
    let said =
        String::from_utf8(run("exiftool", &["-s3", "-ColorTransform", path.to_str().unwrap()])).unwrap();
    assert_eq!(said.trim(), "YCCK");
    check(&path);
    let progressive = ["-colorspace", "CMYK", "-interlace", "JPEG", "-quality", "95"];
    check(&made(&folder, &part, "inks-p.jpg", &progressive));
    // Inks as they are: the transform field (byte 11 of Adobe's segment) says 0 and the channels are written so by vips.
    let tiff = made(&folder, &part, "inks.tif", &["-colorspace", "CMYK"]);
    let plain = folder.path().join("inks-plain.jpg");
    run("vips", &["jpegsave", tiff.to_str().unwrap(), plain.to_str().unwrap(), "--Q", "95"]);
    check(&plain);
}

#[test]
fn red_green_and_blue_that_were_never_turned_are_told_by_adobes_segment() {
    let folder = tempdir().unwrap();
    let path = made(&folder, &picture(&folder), "rgb.jpg", &["-quality", "95", "-colorspace", "RGB"]);
    check_if_rgb(&path);
}

/// ImageMagick writes no such file by itself: the segment is put into a gray-free picture by hand, and both must see the same.
fn check_if_rgb(path: &Path) {
    let bytes = std::fs::read(path).unwrap();
    let adobe = b"\xFF\xEE\x00\x0EAdobe\x00\x64\x00\x00\x00\x00\x00";
    let end = bytes.windows(2).position(|pair| pair == b"\xFF\xDB").unwrap();
    // Without JFIF's segment, which says YCbCr.
    let told = [&bytes[..2], adobe, &bytes[end..]].concat();
    let other = path.with_file_name("told.jpg");
    std::fs::write(&other, told).unwrap();
    assert!(apart(&theirs(path), &theirs(&other)).0 > 10.0, "the segment makes no difference");
    check(&other);
}

#[test]
fn every_form_of_png_has_its_colors() {
    let folder = tempdir().unwrap();
    let part = picture(&folder);
    let cases: [(&str, &[&str]); 9] = [
        (
            "sixteen.png",
            &["-depth", "16", "-blur", "0x3", "-define", "png:bit-depth=16", "-define", "png:color-type=2"],
        ),
        (
            "gray16.png",
            &[
                "-colorspace",
                "Gray",
                "-blur",
                "0x3",
                "-define",
                "png:bit-depth=16",
                "-define",
                "png:color-type=0",
            ],
        ),
        ("gray.png", &["-colorspace", "Gray", "-define", "png:color-type=0"]),
        (
            "bits.png",
            &[
                "-colorspace",
                "Gray",
                "-monochrome",
                "-define",
                "png:bit-depth=1",
                "-define",
                "png:color-type=0",
            ],
        ),
        ("palette.png", &["-colors", "40", "-define", "png:color-type=3"]),
        (
            "clear.png",
            &["-alpha", "set", "-channel", "A", "-fx", "i/w", "+channel", "-define", "png:color-type=6"],
        ),
        (
            "clear16.png",
            &[
                "-alpha",
                "set",
                "-channel",
                "A",
                "-fx",
                "j/h",
                "+channel",
                "-depth",
                "16",
                "-define",
                "png:color-type=6",
            ],
        ),
        (
            "clear-gray.png",
            &[
                "-colorspace",
                "Gray",
                "-alpha",
                "set",
                "-channel",
                "A",
                "-fx",
                "i/w",
                "+channel",
                "-define",
                "png:color-type=4",
            ],
        ),
        ("interlaced.png", &["-interlace", "PNG", "-define", "png:color-type=2"]),
    ];
    for (name, how) in cases {
        check(&made(&folder, &part, name, how));
    }
}

#[test]
fn smaller_sizes_look_like_the_whole_made_smaller() {
    let folder = tempdir().unwrap();
    let part = picture(&folder);
    for (name, how) in [("plain.jpg", "none"), ("progressive.jpg", "JPEG")] {
        let path =
            made(&folder, &part, name, &["-interlace", how, "-sampling-factor", "4:2:0", "-quality", "92"]);
        // 611 pixels: each of these sides takes another number of eighths.
        for side in [40, 76, 150, 220, 300, 380, 450, 530, 600] {
            let ours = ours(&path, side);
            // ImageMagick's `-scale` averages over areas, as ours does.
            let size = format!("{}x{}!", ours.width(), ours.height());
            let scaled = run("convert", &[path.to_str().unwrap(), "-scale", &size, "png24:-"]);
            let wanted = load_from_memory(&scaled).unwrap().into_rgb8();
            let (mean, _) = apart(&ours, &wanted);
            // Fewer coefficients are not the same as averaged pixels; a picture one pixel beside is told from that below.
            assert!(mean < 4.0, "{name} at {side}: {mean} levels apart");
            let shifted = RgbImage::from_fn(ours.width(), ours.height(), |x, y| {
                *wanted.get_pixel((x + 1).min(ours.width() - 1), y)
            });
            assert!(apart(&ours, &shifted).0 > 1.3 * mean, "{name} at {side}: a pixel beside isn't told");
        }
    }
}
