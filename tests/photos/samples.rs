//! Small pictures made when the test runs, in every kind that can be kept.

use crate::outside::{run, set_tags};
use image::{Rgb, RgbImage};
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// Colours that tell every corner apart, with a gradient so that blocks differ.
pub fn picture(width: u32, height: u32) -> RgbImage {
    RgbImage::from_fn(width, height, |x, y| {
        let shade = (x * 60 / width + y * 40 / height) as u8;
        match (x * 2 < width, y * 2 < height) {
            (true, true) => Rgb([200, 40 + shade, 40]),
            (false, true) => Rgb([40, 180, 40 + shade]),
            (true, false) => Rgb([40 + shade, 60, 200]),
            (false, false) => Rgb([220, 220, 40 + shade]),
        }
    })
}

/// A picture in the kind that the ending says, by vips for HEIC and by the image library for the others.
pub fn file(folder: &TempDir, name: &str) -> PathBuf {
    let path = folder.path().join(name);
    if name.ends_with(".heic") {
        let png = folder.path().join(format!("{name}.png"));
        picture(96, 64).save(&png).unwrap();
        run("vips", &["copy", png.to_str().unwrap(), path.to_str().unwrap()]);
    } else {
        picture(96, 64).save(&path).unwrap();
    }
    path
}

/// One of each kind, with a time, an orientation and a position written by exiftool.
pub fn each_kind(folder: &TempDir) -> Vec<PathBuf> {
    ["a.jpg", "a.png", "a.webp", "a.heic"]
        .into_iter()
        .map(|name| {
            let path = file(folder, name);
            set_tags(
                &path,
                &[
                    "-EXIF:DateTimeOriginal=2026:03:04 05:06:07",
                    "-EXIF:OffsetTimeOriginal=-06:00",
                    "-EXIF:Orientation=6",
                    "-EXIF:GPSLatitude=41.5",
                    "-EXIF:GPSLatitudeRef=N",
                    "-EXIF:GPSLongitude=90.25",
                    "-EXIF:GPSLongitudeRef=W",
                ],
            );
            path
        })
        .collect()
}

pub fn bytes(path: &Path) -> Vec<u8> {
    fs::read(path).unwrap()
}
