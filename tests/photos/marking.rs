//! Marks drawn into copies, beside ImageMagick's drawing of the same geometry; what a copy carries, by exiftool.

use crate::outside::{exiftool, run, set_tags};
use crate::samples;
use image::{Rgb, RgbImage, load_from_memory};
use photo::{Area, Mark, MarkShape, MarkTone, Spot, marked};
use std::path::Path;
use tempfile::{TempDir, tempdir};

const FONT: &str =
    concat!(env!("CARGO_MANIFEST_DIR"), "/../src-tauri/crates/report/fonts/DejaVuSans-Bold.ttf");
/// ImageMagick's whole numbers are the middles of pixels, ours their corners.
const MIDDLES: &str = "translate -0.5,-0.5";
const GROUND: Rgb<u8> = Rgb([128, 128, 128]);

fn font() -> Vec<u8> {
    std::fs::read(FONT).unwrap()
}

/// A plain picture of 800 × 600, without loss.
fn plain(folder: &TempDir) -> Vec<u8> {
    let path = folder.path().join("plain.png");
    RgbImage::from_pixel(800, 600, GROUND).save(&path).unwrap();
    samples::bytes(&path)
}

fn ours(bytes: &[u8], marks: &[Mark], covered: &[Area]) -> RgbImage {
    let jpeg = marked(bytes, 2400, 100, marks, covered, &font()).unwrap();
    load_from_memory(&jpeg).unwrap().into_rgb8()
}

/// The same picture drawn on by ImageMagick, in its own drawing language.
fn theirs(drawing: &[&str]) -> RgbImage {
    let mut arguments = vec!["-size", "800x600", "xc:rgb(128,128,128)", "-font", FONT];
    arguments.extend(drawing);
    arguments.push("png:-");
    load_from_memory(&run("convert", &arguments)).unwrap().into_rgb8()
}

/// The part of the pixels that are plainly lighter or darker: a JPEG keeps colors at half the sharpness.
fn apart(one: &RgbImage, other: &RgbImage) -> f64 {
    assert_eq!(one.dimensions(), other.dimensions());
    let light = |pixel: &Rgb<u8>| image::Pixel::to_luma(pixel).0[0];
    let differ = |a: &Rgb<u8>, b: &Rgb<u8>| light(a).abs_diff(light(b)) > 64;
    let count = one.pixels().zip(other.pixels()).filter(|(a, b)| differ(a, b)).count();
    count as f64 / (800.0 * 600.0)
}

fn mark(shape: MarkShape, tone: MarkTone) -> Mark {
    Mark { shape, tone }
}

fn spot(x: u32, y: u32) -> Spot {
    Spot { x, y }
}

/// `stroke`: 600 / 80 = 7.5 pixels, its casing twice as wide.
fn stroked(path: &str, core: &str, casing: &str) -> Vec<String> {
    let one = |color: &str, width: &str| {
        let draw = format!("{MIDDLES} stroke-linecap round stroke-linejoin round {path}");
        ["-fill", "none", "-stroke", color, "-strokewidth", width, "-draw", &draw].map(str::to_owned)
    };
    [one(casing, "15"), one(core, "7.5")].concat()
}

#[test]
fn arrows_and_ellipses_lie_where_imagemagick_draws_them() {
    let folder = tempdir().unwrap();
    let picture = plain(&folder);
    let area = Area { left: 250, top: 200, width: 400, height: 300 };
    let ellipse = ours(&picture, &[mark(MarkShape::Ellipse(area), MarkTone::Lamp)], &[]);
    let drawn = stroked("ellipse 360,210 160,90 0,360", "#ffce4a", "#15120d");
    let drawn: Vec<&str> = drawn.iter().map(String::as_str).collect();
    let difference = apart(&ellipse, &theirs(&drawn));
    assert!(difference < 0.0005, "ellipse: {difference}");

    // From 100,300 to 500,300; barbs of 45 pixels at 30°: 38.97 back, 22.5 aside.
    let arrow = MarkShape::Arrow { from: spot(125, 500), tip: spot(625, 500) };
    let arrow = ours(&picture, &[mark(arrow, MarkTone::Cold)], &[]);
    let path = "path 'M 100,300 L 500,300 M 461.03,277.5 L 500,300 L 461.03,322.5'";
    let drawn = stroked(path, "#0b3a75", "#ffffff");
    let drawn: Vec<&str> = drawn.iter().map(String::as_str).collect();
    let difference = apart(&arrow, &theirs(&drawn));
    assert!(difference < 0.0005, "arrow: {difference}");

    // Known places, so that nothing blank could have passed: core, casing, ground.
    assert_near(arrow.get_pixel(300, 300), [0x0b, 0x3a, 0x75]);
    assert_near(arrow.get_pixel(300, 306), [255, 255, 255]);
    assert_near(arrow.get_pixel(300, 315), GROUND.0);
    // A drawing that is a few pixels off is told from this one.
    let off = stroked(&path.replace("300", "305"), "#0b3a75", "#ffffff");
    let off: Vec<&str> = off.iter().map(String::as_str).collect();
    assert!(apart(&arrow, &theirs(&off)) > 0.005);
}

#[test]
fn texts_are_lettered_as_imagemagick_letters_them() {
    let folder = tempdir().unwrap();
    let text = "Chafed: 0.31 V ñ";
    let at = spot(100, 400);
    let shape = MarkShape::Text { at, text: text.to_owned() };
    let picture = ours(&plain(&folder), &[mark(shape, MarkTone::Ink)], &[]);
    // em 37.5; the plate begins at 80,240; the em box 13.125 right of it and 7.5 below. DejaVu Sans Bold: ascender 1901 and
    // descender -483 of 2048 units, so the baseline lies 0.5 + (1901 - 483) / 4096 ems below the em box's upper edge.
    let baseline = 240.0 + 7.5 + 37.5 * (0.5 + (1901.0 - 483.0) / 4096.0);
    let right = (80..800).rev().find(|x| is_near(picture.get_pixel(*x, 244), [0x15, 0x12, 0x0d])).unwrap();
    let plate = format!("{MIDDLES} roundrectangle 80,240 {right},292.5 7,7");
    let letters = format!("{MIDDLES} text 93.125,{baseline:.2} '{text}'");
    let drawn = [
        "-fill",
        "#15120d",
        "-stroke",
        "white",
        "-strokewidth",
        "7.5",
        "-draw",
        &plate,
        "-stroke",
        "none",
        "-fill",
        "white",
        "-pointsize",
        "37.5",
        "-draw",
        &letters,
    ];
    let difference = apart(&picture, &theirs(&drawn));
    assert!(difference < 0.006, "text: {difference}");
    let lettered = (93..right).flat_map(|x| (250..285).map(move |y| (x, y)));
    let ink = lettered.filter(|(x, y)| is_near(picture.get_pixel(*x, *y), [255, 255, 255])).count();
    assert!(ink > 1000, "no letters: {ink}");
}

#[test]
fn a_text_stays_on_the_picture_and_letters_no_font_has_do_no_harm() {
    let folder = tempdir().unwrap();
    let picture = plain(&folder);
    for text in ["x".repeat(60), "回路🔧<b>&amp;".to_owned()] {
        let shape = MarkShape::Text { at: spot(1000, 1000), text };
        let drawn = ours(&picture, &[mark(shape, MarkTone::Cold)], &[]);
        assert_near(drawn.get_pixel(790, 590), [0x0b, 0x3a, 0x75]);
        assert_near(drawn.get_pixel(400, 100), GROUND.0);
    }
}

#[test]
fn all_eight_orientations_have_the_mark_at_the_same_place_of_the_upright_picture() {
    let folder = tempdir().unwrap();
    let area = Area { left: 550, top: 100, width: 300, height: 200 };
    for value in 1..=8_u32 {
        let path = folder.path().join(format!("{value}.jpg"));
        samples::picture(480, 320).save(&path).unwrap();
        set_tags(&path, &[&format!("-EXIF:Orientation={value}")]);
        let bytes = samples::bytes(&path);
        let bare = ours(&bytes, &[], &[]);
        let drawn = ours(&bytes, &[mark(MarkShape::Ellipse(area), MarkTone::Lamp)], &[]);
        // The upright picture, as ImageMagick turns it, drawn on by ImageMagick.
        let (width, height) = bare.dimensions();
        let [cx, cy, rx, ry] =
            [0.70 * width as f32, 0.2 * height as f32, 0.15 * width as f32, 0.1 * height as f32];
        let line = width.min(height) as f32 / 80.0;
        let (core, casing) = (line.max(1.0).to_string(), (line.max(1.0) * 2.0).to_string());
        let ellipse = format!("{MIDDLES} ellipse {cx},{cy} {rx},{ry} 0,360");
        let arguments = [
            path.to_str().unwrap(),
            "-auto-orient",
            "-strip",
            "-fill",
            "none",
            "-stroke",
            "#15120d",
            "-strokewidth",
            &casing,
            "-draw",
            &ellipse,
            "-stroke",
            "#ffce4a",
            "-strokewidth",
            &core,
            "-draw",
            &ellipse,
            "png:-",
        ];
        let theirs = load_from_memory(&run("convert", &arguments)).unwrap().into_rgb8();
        assert_eq!(theirs.dimensions(), drawn.dimensions(), "orientation {value}");
        let mean = |one: &RgbImage, other: &RgbImage| {
            let sum: u64 =
                one.as_raw().iter().zip(other.as_raw()).map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
            sum as f64 / one.as_raw().len() as f64
        };
        assert!(mean(&drawn, &theirs) < 2.5, "orientation {value}: {}", mean(&drawn, &theirs));
        assert!(mean(&drawn, &bare) > 2.0 * mean(&drawn, &theirs), "orientation {value}: nothing was drawn");
    }
}

#[test]
fn no_mark_shows_above_a_covered_area() {
    let folder = tempdir().unwrap();
    let covered = Area { left: 250, top: 250, width: 500, height: 500 };
    let marks = [
        mark(MarkShape::Arrow { from: spot(0, 500), tip: spot(500, 500) }, MarkTone::Lamp),
        mark(MarkShape::Ellipse(Area { left: 200, top: 200, width: 600, height: 600 }), MarkTone::Cold),
        mark(MarkShape::Text { at: spot(240, 300), text: "plate".into() }, MarkTone::Lamp),
    ];
    let drawn = ours(&plain(&folder), &marks, &[covered]);
    for x in 200..600 {
        for y in 150..450 {
            let inside = drawn.get_pixel(x, y);
            // The outermost pixels share a JPEG block with what lies outside.
            let edge = !(208..592).contains(&x) || !(158..442).contains(&y);
            assert!(edge || inside.0.iter().all(|value| *value < 16), "{x},{y}: {inside:?}");
        }
    }
    assert_near(drawn.get_pixel(100, 300), [0xff, 0xce, 0x4a]);
}

#[test]
fn a_marked_copy_carries_nothing_besides_the_picture() {
    let folder = tempdir().unwrap();
    let marks = [mark(MarkShape::Text { at: spot(100, 100), text: "here".into() }, MarkTone::Cold)];
    for path in samples::each_kind(&folder).iter().filter(|path| !path.to_string_lossy().ends_with("heic")) {
        let copy = folder.path().join("copy.jpg");
        std::fs::write(&copy, marked(&samples::bytes(path), 2400, 85, &marks, &[], &font()).unwrap())
            .unwrap();
        let said = exiftool(&[Path::new(&copy)]).remove(0);
        let groups: Vec<&str> = said
            .as_object()
            .unwrap()
            .keys()
            .filter_map(|name| name.split_once(':').map(|(group, _)| group))
            .filter(|group| !["ExifTool", "System", "File", "JFIF", "Composite"].contains(group))
            .collect();
        assert!(groups.is_empty(), "{}: {groups:?}", path.display());
        assert!(photo::carried(&samples::bytes(&copy)).unwrap().is_empty());
    }
}

fn is_near(pixel: &Rgb<u8>, color: [u8; 3]) -> bool {
    pixel.0.iter().zip(color).all(|(value, wanted)| value.abs_diff(wanted) <= 24)
}

fn assert_near(pixel: &Rgb<u8>, color: [u8; 3]) {
    assert!(is_near(pixel, color), "{pixel:?} is not {color:?}");
}
