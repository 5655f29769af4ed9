#![no_main]

use photo::read_display;

// Bytes of a picture by anybody: they are no picture, or one is read, and the confidence is one.
libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    if let Ok(reading) = read_display(bytes) {
        assert!((0.0..=1.0).contains(&reading.confidence));
        assert!(reading.value.is_some() || reading.confidence == 0.0);
    }
});
