#![no_main]

use photo::{Effort, read_label};

// Bytes of a picture by anybody: they are no picture, or one is looked at, and what is found lies somewhere.
libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    if let Ok(Some(label)) = read_label(bytes, Effort::Frame(0), &|_| true) {
        assert!(label.corners.iter().all(|(x, y)| x.is_finite() && y.is_finite()));
    }
});
