use evidence::Digest;
use sha2::{Digest as _, Sha256};

/// SHA-256 over bytes that come piece by piece.
#[derive(Default)]
pub(crate) struct Hashing(Sha256);

impl Hashing {
    pub(crate) fn add(&mut self, bytes: &[u8]) {
        self.0.update(bytes);
    }

    pub(crate) fn finish(self) -> Digest {
        Digest(self.0.finalize().into())
    }
}
