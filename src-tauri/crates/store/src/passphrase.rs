//! Encryption by passphrase in the age format (age-encryption.org/v1, scrypt recipient), which Debian's `age` reads.
//!
//! The library draws its own salts and keys: it is the one place in this crate where randomness isn't passed in.

use std::cell::Cell;
use std::io::{self, Read, Write};
use std::rc::Rc;

use age::armor::{ArmoredReader, ArmoredWriter, Format};
use age::secrecy::SecretString;
use age::stream::{StreamReader, StreamWriter};
use age::{DecryptError, Decryptor, Encryptor, scrypt};

use crate::StoreError;

/// scrypt with N = 2^16, r = 8, p = 1: 64 MiB and about a second on a phone. Half the N that OWASP's "Password Storage
/// Cheat Sheet" asks for with p = 1, because a phone has to do it in memory beside the app.
pub(crate) const WORK: u8 = 16;
/// The most that is worked for a file from elsewhere: N = 2^18 takes 256 MiB.
const MOST_WORK: u8 = 18;
/// A header for one passphrase has about 150 bytes.
const LONGEST_HEADER: u64 = 4096;

/// Begins an encrypted stream; its `finish` writes the last chunk, without which the file counts as cut off.
pub(crate) fn seal<W: Write>(output: W, passphrase: &str, work: u8) -> Result<StreamWriter<W>, StoreError> {
    let mut recipient = scrypt::Recipient::new(SecretString::from(passphrase));
    recipient.set_work_factor(work.clamp(1, MOST_WORK));
    let encryptor = Encryptor::with_recipients(std::iter::once(&recipient as &dyn age::Recipient))
        .map_err(|error| StoreError::Encryption(error.to_string()))?;
    encryptor.wrap_output(output).map_err(|error| StoreError::Encryption(error.to_string()))
}

/// Opens an encrypted stream. What is read from it is authentic, chunk by chunk; damage is an error of reading.
pub(crate) fn open<R: Read>(input: R, passphrase: &str) -> Result<StreamReader<Limited<R>>, StoreError> {
    let left = Rc::new(Cell::new(LONGEST_HEADER));
    let limited = Limited { input, left: Rc::clone(&left) };
    let decryptor = Decryptor::new(limited).map_err(told)?;
    left.set(u64::MAX);
    if !decryptor.is_scrypt() {
        return Err(StoreError::NotABackup { why: "it isn't encrypted by a passphrase".to_owned() });
    }
    let mut identity = scrypt::Identity::new(SecretString::from(passphrase));
    identity.set_max_work_factor(MOST_WORK);
    decryptor.decrypt(std::iter::once(&identity as &dyn age::Identity)).map_err(told)
}

/// Encrypts a short text; the result is text, too.
pub(crate) fn seal_text(plain: &[u8], passphrase: &str) -> Result<String, StoreError> {
    let io = |error: io::Error| StoreError::Encryption(error.to_string());
    let armoured = ArmoredWriter::wrap_output(Vec::new(), Format::AsciiArmor).map_err(io)?;
    let mut stream = seal(armoured, passphrase, WORK)?;
    stream.write_all(plain).map_err(io)?;
    let bytes = stream.finish().and_then(ArmoredWriter::finish).map_err(io)?;
    String::from_utf8(bytes).map_err(|error| StoreError::Encryption(error.to_string()))
}

/// Opens what [`seal_text`] made.
pub(crate) fn open_text(text: &str, passphrase: &str) -> Result<Vec<u8>, StoreError> {
    let mut plain = Vec::new();
    let mut stream = open(ArmoredReader::new(text.as_bytes()), passphrase)?;
    let read = stream.read_to_end(&mut plain);
    read.map_err(|error| StoreError::NotABackup { why: error.to_string() })?;
    Ok(plain)
}

/// A reader that stops giving until the header is known to be one.
pub(crate) struct Limited<R> {
    input: R,
    left: Rc<Cell<u64>>,
}

impl<R: Read> Read for Limited<R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let most = usize::try_from(self.left.get()).unwrap_or(usize::MAX).min(buffer.len());
        let read = self.input.read(buffer.get_mut(..most).unwrap_or_default())?;
        self.left.set(self.left.get().saturating_sub(read as u64));
        Ok(read)
    }
}

fn told(error: DecryptError) -> StoreError {
    match error {
        DecryptError::ExcessiveWork { required, .. } => StoreError::TooCostly { work: required },
        // The key of the header is checked before anything else, so a damaged salt reads like a wrong passphrase.
        DecryptError::DecryptionFailed | DecryptError::KeyDecryptionFailed | DecryptError::NoMatchingKeys => {
            StoreError::WrongPassphrase
        }
        DecryptError::Io(error) => StoreError::NotABackup { why: error.to_string() },
        other => StoreError::NotABackup { why: other.to_string() },
    }
}
