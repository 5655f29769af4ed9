//! Papers that are numbered through the whole shop.

use crate::{Store, StoreError};

/// A kind of paper with a series of numbers of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// An invoice.
    Invoice,
    /// A credit note.
    CreditNote,
}

impl Store {
    /// How many papers of a kind are on record, over all jobs and devices. Records are never taken away, so that one more
    /// is a number that no paper of this store has.
    ///
    /// # Errors
    /// Those of the database.
    pub fn papers_of(&self, paper: Paper) -> Result<u64, StoreError> {
        // The kind stands in the text, or the index over that kind alone would not be used.
        let count = match paper {
            Paper::Invoice => "SELECT count(*) FROM records WHERE kind = 'invoice_kept'",
            Paper::CreditNote => "SELECT count(*) FROM records WHERE kind = 'credit_note_kept'",
        };
        Ok(self.database().prepare_cached(count)?.query_row([], |row| row.get(0))?)
    }
}
