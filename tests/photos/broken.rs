//! Pictures that stop early are kept and shown as far as they go; what is empty or no picture is refused, with words that help.

use crate::outside::{demo_photos, run};
use crate::samples;
use chrono::Utc;
use image::{RgbImage, load_from_memory};
use photo::{
    Doubt, Kind, PhotoError, Preview, WhyNoPreview, carried, for_report, inspect, preview, without_metadata,
};
use std::path::Path;
use tempfile::tempdir;

fn refused(bytes: &[u8], what: &str) -> PhotoError {
    let error = inspect(bytes, Utc::now()).expect_err(what);
    assert_eq!(preview(bytes, 320).expect_err(what), error, "{what}");
    let words = error.to_string();
    assert!(["again", "choose"].iter().any(|remedy| words.contains(remedy)), "{what}: {words}");
    error
}

#[test]
fn cut_at_every_twentieth_it_is_kept_with_a_doubt() {
    let folder = tempdir().unwrap();
    let paths = samples::each_kind(&folder).into_iter().chain(demo_photos().into_iter().take(3));
    for path in paths {
        let whole = samples::bytes(&path);
        let sound = inspect(&whole, Utc::now()).unwrap();
        assert!(!sound.doubts.contains(&Doubt::CutOff), "{}", path.display());
        let cuts = (1..20).map(|share| whole.len() * share / 20).chain([whole.len() - 1]);
        for cut in cuts {
            let bytes = &whole[..cut];
            let what = format!("{} cut to {cut} of {} bytes", path.display(), whole.len());
            let facts = inspect(bytes, Utc::now()).expect(&what);
            assert_eq!(facts.kind, sound.kind, "{what}");
            assert!(facts.doubts.contains(&Doubt::CutOff), "{what}");
            // What was promised when it was kept is what happens.
            match (facts.preview, preview(bytes, 320)) {
                (Preview::Possible, Ok(_)) => {}
                (Preview::NotPossible(why), Err(PhotoError::NoPreview(said))) => {
                    assert_eq!(why, said, "{what}");
                    assert!(said.to_string().contains("kept as it is"), "{what}: {said}");
                }
                other => panic!("{what}: {other:?}"),
            }
            // Nobody gets a copy that is said to be clean and wasn't followed to its end.
            assert!(carried(bytes).is_err() || facts.kind == Kind::Heic, "{what}");
            assert!(without_metadata(bytes).is_err(), "{what}");
        }
    }
    assert_eq!(refused(b"", "nothing"), PhotoError::Empty);
}

fn shown(bytes: &[u8]) -> RgbImage {
    load_from_memory(&for_report(bytes, 5000, 100).unwrap()).unwrap().into_rgb8()
}

/// Mean difference of rows, in levels.
fn rows_apart(one: &RgbImage, other: &RgbImage, rows: std::ops::Range<u32>) -> f64 {
    let values = |picture: &RgbImage| {
        let rows = picture.rows().skip(rows.start as usize).take(rows.len());
        rows.flatten().flat_map(|pixel| pixel.0).collect::<Vec<u8>>()
    };
    let (one, other) = (values(one), values(other));
    one.iter().zip(&other).map(|(a, b)| f64::from(a.abs_diff(*b))).sum::<f64>() / one.len() as f64
}

fn is_flat(picture: &RgbImage, rows: std::ops::Range<u32>) -> bool {
    let rows = picture.rows().skip(rows.start as usize).take(rows.len());
    let values: Vec<u8> = rows.flatten().flat_map(|pixel| pixel.0).collect();
    values.iter().max().unwrap() - values.iter().min().unwrap() <= 3
}

fn half(path: &Path) -> (RgbImage, RgbImage) {
    let bytes = samples::bytes(path);
    (shown(&bytes), shown(&bytes[..bytes.len() / 2]))
}

#[test]
fn half_a_picture_shows_what_is_there() {
    let folder = tempdir().unwrap();
    let from = demo_photos().remove(0);
    let made = |name: &str, how: &[&str]| {
        let path = folder.path().join(name);
        let mut arguments = vec![from.to_str().unwrap(), "-resize", "640x480!", "-strip"];
        arguments.extend(how);
        arguments.push(path.to_str().unwrap());
        run("convert", &arguments);
        path
    };
    for path in [made("a.jpg", &["-quality", "90"]), made("a.png", &[])] {
        let (whole, cut) = half(&path);
        assert_eq!(whole.dimensions(), cut.dimensions());
        assert!(rows_apart(&whole, &cut, 0..150) < 1.0, "{}: the upper rows are there", path.display());
        assert!(is_flat(&cut, 460..480), "{}: the lower rows are not", path.display());
        assert!(!is_flat(&whole, 460..480), "{}: they would have shown something", path.display());
    }
    // A progressive one is there to its lower edge, less sharp.
    let (whole, cut) = half(&made("b.jpg", &["-interlace", "JPEG", "-quality", "90"]));
    let apart = rows_apart(&whole, &cut, 0..480);
    assert!(apart > 0.5 && apart < 8.0, "{apart}");
}

#[test]
fn a_cut_picture_of_a_kind_that_is_read_whole_says_so() {
    let folder = tempdir().unwrap();
    let bytes = samples::bytes(&samples::file(&folder, "a.webp"));
    let facts = inspect(&bytes[..bytes.len() / 2], Utc::now()).unwrap();
    assert_eq!(facts.preview, Preview::NotPossible(WhyNoPreview::Unreadable));
}

#[test]
fn what_is_no_picture_is_refused() {
    assert_eq!(refused(b"", "nothing"), PhotoError::Empty);
    let others: [&[u8]; 5] =
        [b"%PDF-1.7\n", b"Dear shop,", &[0; 4096], b"II*\0\x08\0\0\0", b"\0\0\0\x18ftypisom\0\0\0\0isommp42"];
    for bytes in others {
        assert_eq!(refused(bytes, "no picture"), PhotoError::NotAPicture);
    }
}

#[test]
fn the_bytes_say_what_it_is_and_not_the_name() {
    let folder = tempdir().unwrap();
    for (ending, kind) in
        [("png", Kind::Png), ("webp", Kind::Webp), ("heic", Kind::Heic), ("jpg", Kind::Jpeg)]
    {
        let path = samples::file(&folder, &format!("right.{ending}"));
        let wrong = folder.path().join("wrong.jpg");
        std::fs::copy(&path, &wrong).unwrap();
        let facts = inspect(&samples::bytes(&wrong), Utc::now()).unwrap();
        assert_eq!((facts.kind, facts.kind.extension()), (kind, ending));
        // exiftool goes by the bytes, too.
        let said = run("exiftool", &["-s3", "-MIMEType", wrong.to_str().unwrap()]);
        assert_eq!(String::from_utf8(said).unwrap().trim(), kind.media_type());
    }
}
