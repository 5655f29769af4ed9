//! Pictures that stop early, are empty, or are no pictures: refused, with words that help.

use crate::outside::demo_photos;
use crate::samples;
use chrono::Utc;
use photo::{PhotoError, inspect, preview};
use tempfile::tempdir;

fn refused(bytes: &[u8], what: &str) -> PhotoError {
    let error = inspect(bytes, Utc::now()).expect_err(what);
    assert_eq!(preview(bytes, 320).expect_err(what), error, "{what}");
    let words = error.to_string();
    assert!(["again", "choose"].iter().any(|remedy| words.contains(remedy)), "{what}: {words}");
    error
}

#[test]
fn cut_at_every_twentieth_is_refused() {
    let folder = tempdir().unwrap();
    let paths = samples::each_kind(&folder).into_iter().chain(demo_photos().into_iter().take(3));
    for path in paths {
        let whole = samples::bytes(&path);
        assert!(inspect(&whole, Utc::now()).is_ok(), "{}", path.display());
        for share in 0..20 {
            let cut = whole.len() * share / 20;
            let what = format!("{} cut to {cut} of {} bytes", path.display(), whole.len());
            let error = refused(&whole[..cut], &what);
            if cut == 0 {
                assert_eq!(error, PhotoError::Empty);
            } else {
                assert!(matches!(error, PhotoError::Truncated { .. }), "{what}: {error:?}");
            }
        }
        refused(&whole[..whole.len() - 1], "one byte short");
    }
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
