use std::collections::BTreeSet;
use std::path::Path;

use evidence::{Digest, Disclosure};

use crate::journal::JournalCopy;
use crate::{Notice, Store, StoreError, foreign};

impl Store {
    /// Brings a log that the database doesn't know back from its journal, as far as somebody known signed for it. After
    /// the loss of a database, journals from before records were signed one by one come back whole, and so do all while the
    /// key is locked: what isn't vouched for is kept apart.
    pub(crate) fn take_back(&self, path: &Path, database_lost: bool) -> Result<Option<Notice>, StoreError> {
        let Some(journal) = JournalCopy::read(path, None, &|log| self.keys_for(log)) else { return Ok(None) };
        let older = database_lost && (!journal.one_by_one || !self.key_is_at_hand());
        let length = if older { journal.leaves.len() as u64 } else { journal.vouched };
        let left_behind = journal.seen.max(journal.everything.len() as u64).saturating_sub(length);
        let log = journal.copy.log.origin();
        if length == 0 {
            let aside = left_behind > 0;
            let to = if aside { self.put_aside(path)? } else { return Ok(None) };
            return Ok(Some(Notice::NotVouched { log, records: left_behind, to }));
        }
        let mut copy = journal.copy.first(length);
        // What was really forgotten stands in no line: a digest whose value is still here was put on the list by somebody else.
        let here: BTreeSet<Digest> =
            copy.records.iter().flat_map(|record| &record.disclosures).map(Disclosure::digest).collect();
        copy.forgotten.retain(|digest| !here.contains(digest));
        if left_behind > 0 {
            // What comes after is in no database: it must outlive the journal's replacement.
            self.put_aside(path)?;
        }
        let union = self.unite(&copy, foreign::Rule::TakeWhatHolds)?;
        self.rewrite_journal(&copy.log);
        let complaint = journal.complaint;
        Ok((union.added > 0).then_some(Notice::RecordsRecovered {
            log,
            records: union.added,
            left_behind,
            complaint,
        }))
    }
}
