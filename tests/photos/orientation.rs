//! All eight orientations, judged in pixels by ImageMagick's `-auto-orient`.

use crate::outside::{run, set_tags};
use crate::samples;
use image::{RgbImage, load_from_memory};
use photo::{Orientation, for_report};
use tempfile::tempdir;

/// Mean difference of two pictures of one size, in levels of 255; `None` if the sizes differ.
fn difference(a: &RgbImage, b: &RgbImage) -> Option<f64> {
    let sum: u64 = a.as_raw().iter().zip(b.as_raw()).map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
    (a.dimensions() == b.dimensions()).then(|| sum as f64 / a.as_raw().len() as f64)
}

#[test]
fn previews_stand_upright_as_imagemagick_turns_them() {
    let folder = tempdir().unwrap();
    let mut seen = Vec::new();
    for value in 1..=8_u32 {
        let path = samples::file(&folder, &format!("{value}.jpg"));
        set_tags(&path, &[&format!("-EXIF:Orientation={value}")]);
        let theirs = run("convert", &[path.to_str().unwrap(), "-auto-orient", "-strip", "png:-"]);
        let theirs = load_from_memory(&theirs).unwrap().into_rgb8();
        let ours =
            load_from_memory(&for_report(&samples::bytes(&path), 96, 100).unwrap()).unwrap().into_rgb8();
        let apart = difference(&ours, &theirs).unwrap_or_else(|| panic!("orientation {value}: sizes differ"));
        // Two JPEG decoders and one more JPEG round: about one level. A wrong turn is dozens.
        assert!(apart < 3.0, "orientation {value}: {apart} levels apart");
        assert_eq!(Orientation::from_exif(value).exif(), value);
        seen.push(ours);
    }
    // The sample tells all eight apart, so that a wrong turn could not have passed.
    for (index, one) in seen.iter().enumerate() {
        for other in seen.iter().skip(index + 1) {
            assert!(difference(one, other).is_none_or(|apart| apart > 20.0));
        }
    }
}
