//! Any bytes as a backup file: the header and the encrypted stream.
#![no_main]

use std::ops::ControlFlow;

use libfuzzer_sys::fuzz_target;
use store::check_backup;

fuzz_target!(|bytes: &[u8]| {
    // A header may ask for up to 2^18 of work, which would leave no time for anything else.
    if costly(bytes) {
        return;
    }
    let verdict = check_backup(&mut &bytes[..], "words", &mut |_| ControlFlow::Continue(()));
    assert!(verdict.is_err(), "bytes that nobody encrypted were taken for a backup");
});

fn costly(bytes: &[u8]) -> bool {
    let header = &bytes[..bytes.len().min(300)];
    header.split(|byte| *byte == b'\n').any(|line| {
        line.starts_with(b"-> scrypt") && !line.ends_with(b" 1") && !line.ends_with(b" 2")
    })
}
