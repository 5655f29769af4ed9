//! Sealing: a new record gets its place in the chain, and its values that may be withheld get their salts.

use std::collections::{BTreeMap, BTreeSet};

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::record::VERSION;
use crate::{Digest, Disclosure, EvidenceError, Moment, PhotoRef, Record, naming, tree};

/// Which log: one per job and device. Each part is 1 to 64 of `A-Z a-z 0-9 . _ -`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
pub struct LogId {
    /// The shop.
    pub shop: String,
    /// The job.
    pub job: String,
    /// The device that writes the log; no other may.
    pub device: String,
}

impl LogId {
    /// `shop/job/device`, the first line of the log's checkpoints.
    pub fn origin(&self) -> String {
        format!("{}/{}/{}", self.shop, self.job, self.device)
    }

    /// Reads an origin line.
    ///
    /// # Errors
    /// [`EvidenceError::WrongField`] if it isn't three identifiers.
    pub fn parse(origin: &str) -> Result<Self, EvidenceError> {
        let mut parts = origin.split('/').map(str::to_owned);
        let (Some(shop), Some(job), Some(device), None) =
            (parts.next(), parts.next(), parts.next(), parts.next())
        else {
            return Err(EvidenceError::WrongField("origin must be shop/job/device".into()));
        };
        let id = Self { shop, job, device };
        id.check()?;
        Ok(id)
    }

    fn check(&self) -> Result<(), EvidenceError> {
        naming::identifier("shop", &self.shop)?;
        naming::identifier("job", &self.job)?;
        naming::identifier("device", &self.device)
    }
}

/// The end of a log: how many records it has and the leaf hash of the last.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct LogHead {
    /// How many records.
    pub size: u64,
    /// Leaf hash of the last; none in an empty log.
    pub last: Option<Digest>,
}

/// What the caller wants to record.
#[derive(Clone, Debug, PartialEq)]
pub struct NewRecord {
    /// What the record is about, `a-z 0-9 _`.
    pub kind: String,
    /// When.
    pub moment: Moment,
    /// By device: the newest leaf hash known of every other log of the job.
    pub others: BTreeMap<String, Digest>,
    /// Originals the record speaks for; they must be durable before the record is.
    pub photos: Vec<PhotoRef>,
    /// Public values: a JSON object without fractions (measured values are decimal strings with unit).
    pub body: Value,
    /// Name and value of what may be withheld later: personal and free-text values.
    pub withheld: Vec<(String, Value)>,
}

/// A sealed record, ready to be kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Sealed {
    /// The exact bytes of the record.
    pub bytes: Vec<u8>,
    /// Its leaf hash.
    pub leaf: Digest,
    /// Its place in the log, from 0.
    pub sequence: u64,
    /// The values that may be withheld, in the order they were given. Kept apart from the record.
    pub disclosures: Vec<Disclosure>,
}

impl Sealed {
    /// The log's head once this record is kept.
    pub fn head(&self) -> LogHead {
        LogHead { size: self.sequence.saturating_add(1), last: Some(self.leaf) }
    }
}

/// Seals `new` as the next record of the log. `salts` gives 16 random bytes at each call.
///
/// # Errors
/// [`EvidenceError::WrongHead`] if `head` contradicts itself, and what [`Record::parse`] refuses.
pub fn seal(
    log: &LogId,
    head: &LogHead,
    new: NewRecord,
    salts: &mut dyn FnMut() -> [u8; 16],
) -> Result<Sealed, EvidenceError> {
    log.check()?;
    if (head.size == 0) != head.last.is_none() {
        return Err(EvidenceError::WrongHead(head.size));
    }
    let disclosures = hide(new.withheld, salts)?;
    let mut withheld: Vec<Digest> = disclosures.iter().map(Disclosure::digest).collect();
    // Sorted, so that the order of the digests tells nothing of the order of the values (RFC 9901 section 4.2.4.1).
    withheld.sort();
    let record = Record {
        version: VERSION,
        job: log.job.clone(),
        device: log.device.clone(),
        sequence: head.size,
        kind: new.kind,
        wall: new.moment.wall,
        elapsed_ms: new.moment.elapsed_ms,
        boot: new.moment.boot,
        previous: head.last,
        others: new.others,
        photos: new.photos,
        body: new.body,
        withheld,
    };
    let bytes = record.bytes()?;
    Ok(Sealed { leaf: tree::leaf(&bytes), bytes, sequence: head.size, disclosures })
}

fn hide(
    values: Vec<(String, Value)>,
    salts: &mut dyn FnMut() -> [u8; 16],
) -> Result<Vec<Disclosure>, EvidenceError> {
    let mut names = BTreeSet::new();
    let mut disclosures = Vec::with_capacity(values.len());
    for (name, value) in values {
        naming::demand(names.insert(name.clone()), "withheld", "named once each")?;
        disclosures.push(Disclosure::new(salts(), &name, value)?);
    }
    Ok(disclosures)
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    fn log() -> LogId {
        LogId::parse("shop/job/device").unwrap()
    }

    fn new() -> NewRecord {
        let moment = Moment { wall: "2031-04-05T14:03:07.250-05:00".into(), elapsed_ms: 9, boot: "b".into() };
        let withheld = vec![("name".to_owned(), json!("Ana Ñu")), ("phone".to_owned(), json!("555 0100"))];
        let (others, photos) = (BTreeMap::new(), Vec::new());
        NewRecord {
            kind: "job_opened".into(),
            moment,
            others,
            photos,
            body: json!({"odometer": "1 km"}),
            withheld,
        }
    }

    #[test]
    fn records_chain_by_leaf_hash_and_hold_only_digests_of_what_may_be_withheld() {
        let mut count = 0_u8;
        let mut salts = || {
            count += 1;
            [count; 16]
        };
        let first = seal(&log(), &LogHead::default(), new(), &mut salts).unwrap();
        let second = seal(&log(), &first.head(), new(), &mut salts).unwrap();
        let record = Record::parse(&second.bytes).unwrap();
        assert_eq!((record.sequence, record.previous), (1, Some(first.leaf)));
        assert_eq!(first.leaf, Digest::of_parts(&[&[0], &first.bytes]));
        let mut digests: Vec<_> = second.disclosures.iter().map(Disclosure::digest).collect();
        digests.sort();
        assert_eq!(record.withheld, digests);
        assert!(!String::from_utf8(second.bytes).unwrap().contains("555"));
    }

    #[test]
    fn a_repeated_salt_a_repeated_name_and_a_wrong_head_are_refused() {
        let mut salt = || [7; 16];
        let mut twice = new();
        twice.withheld = vec![("a".into(), json!(1)), ("a".into(), json!(2))];
        assert!(seal(&log(), &LogHead::default(), twice, &mut salt).is_err());
        assert!(seal(&log(), &LogHead { size: 3, last: None }, new(), &mut salt).is_err());
        assert!(LogId::parse("a/../b").is_err() && LogId::parse("a/b").is_err());
    }
}
