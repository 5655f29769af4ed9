//! A log's records for the writer: read when they are needed, never all at once.

use crate::EvidenceError;

/// What is handed each record's exact bytes in turn.
pub type Visit<'v> = dyn FnMut(&[u8]) -> Result<(), EvidenceError> + 'v;

type Read<'a> = dyn Fn(&mut Visit<'_>) -> Result<(), EvidenceError> + 'a;

/// The exact bytes of a log's records in order, from sequence 0.
pub struct Records<'a>(Box<Read<'a>>);

impl<'a> Records<'a> {
    /// Records that lie elsewhere. `read` hands each one on and ends with the first error it is answered.
    ///
    /// It is called twice, before the packet is begun and while it is written; the writer refuses other bytes the
    /// second time.
    pub fn read_by(read: impl Fn(&mut Visit<'_>) -> Result<(), EvidenceError> + 'a) -> Self {
        Self(Box::new(read))
    }

    /// Reads all of them.
    ///
    /// # Errors
    /// What the source or `visit` answers.
    pub fn each(&self, visit: &mut Visit<'_>) -> Result<(), EvidenceError> {
        (self.0)(visit)
    }
}

impl From<Vec<Vec<u8>>> for Records<'_> {
    fn from(held: Vec<Vec<u8>>) -> Self {
        Self::read_by(move |visit| held.iter().try_for_each(|record| visit(record)))
    }
}

impl Default for Records<'_> {
    fn default() -> Self {
        Vec::new().into()
    }
}
