//! Any bytes as the inside of a backup, encrypted as one: what somebody who knows the passphrase could send.
#![no_main]

use std::io::Write;
use std::ops::ControlFlow;

use age::secrecy::SecretString;
use age::{Encryptor, scrypt};
use libfuzzer_sys::fuzz_target;
use store::{OpenOptions, RestoreAs, restore};

fuzz_target!(|inside: &[u8]| {
    let mut recipient = scrypt::Recipient::new(SecretString::from("words"));
    recipient.set_work_factor(1);
    let encryptor = Encryptor::with_recipients(std::iter::once(&recipient as &dyn age::Recipient)).unwrap();
    let mut stream = encryptor.wrap_output(Vec::new()).unwrap();
    stream.write_all(inside).unwrap();
    let bytes = stream.finish().unwrap();
    let above = tempfile::tempdir().unwrap();
    let folder = above.path().join("data");
    let go_on = &mut |_| ControlFlow::Continue(());
    let options = OpenOptions::default();
    let restored = restore(&mut &bytes[..], "words", &folder, &RestoreAs::SameDevice, &options, go_on);
    // Whatever it was, it wrote into its folder or nowhere.
    let left = std::fs::read_dir(above.path()).unwrap().count();
    assert_eq!(left, usize::from(restored.is_ok()));
});
