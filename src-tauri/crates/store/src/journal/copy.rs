use std::collections::BTreeSet;
use std::fs::File;
use std::io::BufReader;
use std::path::Path;

use evidence::{Digest, LogId, PublicKey, Record, tree};

use crate::heads::Heads;
use crate::journal::{Contents, read};
use crate::{LogCopy, foreign};

/// A journal as far as it can be believed.
pub(crate) struct JournalCopy {
    /// The records that chain from the first on.
    pub(crate) copy: LogCopy,
    /// Their leaf hashes.
    pub(crate) leaves: Vec<Digest>,
    /// How many of them, from the first on, a known key of the device signed for.
    pub(crate) vouched: u64,
    /// Whether records were signed one by one.
    pub(crate) one_by_one: bool,
    /// What is wrong with the first line that stays out.
    pub(crate) complaint: Option<String>,
    /// How many records the file speaks of, those behind a damage included.
    pub(crate) seen: u64,
    /// Leaf hashes of all that can be read as a record, wherever it stands.
    pub(crate) everything: BTreeSet<Digest>,
}

impl JournalCopy {
    /// Reads a journal; `None` where there is none, not even its heading can be read, or it is another log's.
    pub(crate) fn read(
        path: &Path,
        expected: Option<&LogId>,
        keys: &dyn Fn(&LogId) -> Vec<PublicKey>,
    ) -> Option<Self> {
        if !std::fs::metadata(path).is_ok_and(|data| data.is_file()) {
            return None;
        }
        let Ok(file) = File::open(path) else { return None };
        let Contents { copy, complaint } = read(&mut BufReader::new(file));
        let copy = copy.filter(|copy| expected.is_none_or(|log| copy.log == *log))?;
        let everything = copy.records.iter().map(|record| tree::leaf(&record.bytes)).collect();
        let numbers = copy.records.iter().filter_map(|record| Record::parse(&record.bytes).ok());
        let seen = numbers.map(|record| record.sequence.saturating_add(1)).max().unwrap_or(0);
        let (mut copy, broken) = foreign::sound_part(copy);
        let begins = |first: &crate::CopiedRecord| {
            Record::parse(&first.bytes).is_ok_and(|record| record.sequence == 0)
        };
        if !copy.records.first().is_some_and(begins) {
            copy.records.clear();
        }
        let leaves: Vec<Digest> = copy.records.iter().map(|record| tree::leaf(&record.bytes)).collect();
        let heads = Heads::of_copy(&copy, 0);
        let vouched = heads.vouched(&copy.log, &leaves, &keys(&copy.log));
        let (one_by_one, complaint) = (heads.one_by_one, broken.or(complaint));
        Some(Self { copy, leaves, vouched, one_by_one, complaint, seen, everything })
    }

    /// How many values that may be withheld it holds of records that are `ours`, and that a text of the same log doesn't.
    pub(crate) fn values_beyond(&self, text: &str, ours: &BTreeSet<Digest>) -> u64 {
        let shared = self.copy.records.iter().zip(&self.leaves).filter(|(_, leaf)| ours.contains(leaf));
        let values = shared.flat_map(|(record, _)| &record.disclosures);
        values.filter(|value| !text.contains(value.encoded())).count() as u64
    }

    /// The records that may stand in for those of the database: what is signed for; of a journal from before records were
    /// signed one by one, all that chains.
    pub(crate) fn believed(&self) -> LogCopy {
        let length = if self.one_by_one { self.vouched } else { self.leaves.len() as u64 };
        self.copy.first(length)
    }
}
