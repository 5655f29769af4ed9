//! One sealed record: a JSON object in canonical form whose bytes are hashed, chained and signed for.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::{Digest, EvidenceError, Moment, canonical, naming, tree};

/// The version of the record's form that this program writes and reads.
pub const VERSION: u64 = 1;

/// The most bytes a record may have: 1 MiB. Long things are files, and the record holds their hash.
pub const MAX_BYTES: usize = 1 << 20;

/// A photo's original, by the hash of its bytes. In JSON: `{"bytes":…,"sha256":"…","type":"…"}`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PhotoRef {
    /// SHA-256 of the original bytes.
    pub sha256: Digest,
    /// How many bytes the original has.
    pub bytes: u64,
    /// Media type of the original, lowercase, without parameters: `image/jpeg`.
    #[serde(rename = "type")]
    pub media_type: String,
}

/// A record as it stands in the log.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Record {
    /// Form of the record, [`VERSION`].
    pub version: u64,
    /// Identifier of the job.
    pub job: String,
    /// Identifier of the device whose log this is.
    pub device: String,
    /// Place in the device's log, from 0.
    pub sequence: u64,
    /// What the record is about, `a-z 0-9 _`.
    pub kind: String,
    /// See [`Moment::wall`].
    pub wall: String,
    /// See [`Moment::elapsed_ms`].
    pub elapsed_ms: u64,
    /// See [`Moment::boot`].
    pub boot: String,
    /// Leaf hash of the record before this one; none for the first.
    pub previous: Option<Digest>,
    /// By device: the newest leaf hash this device knew of every other log of the job.
    pub others: BTreeMap<String, Digest>,
    /// Originals this record speaks for.
    pub photos: Vec<PhotoRef>,
    /// Public values; a JSON object.
    pub body: Value,
    /// Digests of the values that may be withheld, sorted (see [`crate::Disclosure`]).
    pub withheld: Vec<Digest>,
}

impl Record {
    /// Reads the exact bytes of a record.
    ///
    /// # Errors
    /// Bytes that aren't canonical (RFC 8785), unknown versions and fields, missing fields, inexact numbers,
    /// keys that aren't ASCII, identifiers with characters outside [`naming`](crate::seal::LogId)'s set.
    pub fn parse(bytes: &[u8]) -> Result<Self, EvidenceError> {
        if bytes.len() > MAX_BYTES {
            return Err(EvidenceError::TooLong(bytes.len()));
        }
        let value = canonical::parse(bytes)?;
        match value.get("version").and_then(Value::as_u64) {
            Some(VERSION) => {}
            Some(other) => return Err(EvidenceError::UnknownVersion(other)),
            None => return Err(EvidenceError::WrongField("version must be a number".into())),
        }
        let record: Self =
            serde_json::from_value(value).map_err(|cause| EvidenceError::WrongField(cause.to_string()))?;
        // A missing `previous` reads like null; writing it again tells them apart.
        if record.bytes()? == bytes { Ok(record) } else { Err(EvidenceError::NotCanonical) }
    }

    /// The canonical bytes, which are what is hashed.
    ///
    /// # Errors
    /// As [`Record::parse`].
    pub fn bytes(&self) -> Result<Vec<u8>, EvidenceError> {
        self.check()?;
        let bytes = canonical::bytes(self)?;
        if bytes.len() <= MAX_BYTES { Ok(bytes) } else { Err(EvidenceError::TooLong(bytes.len())) }
    }

    /// The leaf hash: SHA-256 of a zero byte and the canonical bytes (RFC 6962 section 2.1).
    ///
    /// # Errors
    /// As [`Record::bytes`].
    pub fn leaf(&self) -> Result<Digest, EvidenceError> {
        Ok(tree::leaf(&self.bytes()?))
    }

    /// When the device sealed it.
    pub fn moment(&self) -> Moment {
        Moment { wall: self.wall.clone(), elapsed_ms: self.elapsed_ms, boot: self.boot.clone() }
    }

    fn check(&self) -> Result<(), EvidenceError> {
        naming::identifier("job", &self.job)?;
        naming::identifier("device", &self.device)?;
        naming::kind(&self.kind)?;
        self.moment().check()?;
        naming::demand(
            (self.sequence == 0) == self.previous.is_none(),
            "previous",
            "set from the second record on",
        )?;
        naming::demand(!self.others.contains_key(&self.device), "others", "about other devices only")?;
        self.others.keys().try_for_each(|device| naming::identifier("others", device))?;
        self.photos.iter().try_for_each(|photo| naming::media_type(&photo.media_type))?;
        naming::demand(self.body.is_object(), "body", "a JSON object")?;
        let sorted = self.withheld.iter().zip(self.withheld.iter().skip(1)).all(|(a, b)| a < b);
        naming::demand(sorted, "withheld", "sorted and without repetition")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FIRST: &str = r#"{"body":{"a":"1 V"},"boot":"b1","device":"d1","elapsed_ms":5,"job":"j1","kind":"note","others":{},"photos":[],"previous":null,"sequence":0,"version":1,"wall":"2031-04-05T14:03:07.250Z","withheld":[]}"#;

    #[test]
    fn reads_and_writes_the_same_bytes() {
        let record = Record::parse(FIRST.as_bytes()).unwrap();
        assert_eq!(record.bytes().unwrap(), FIRST.as_bytes());
    }

    #[test]
    fn refuses_everything_but_the_one_form() {
        let changes = [
            ("\"a\":\"1 V\"", "\"a\": \"1 V\""),
            ("\"a\":\"1 V\"", "\"a\":1.5"),
            ("\"a\":\"1 V\"", "\"a\":1.0"),
            ("\"a\":\"1 V\"", "\"a\":1e2"),
            ("\"a\":\"1 V\"", "\"a\":-0"),
            ("\"a\":\"1 V\"", "\"a\":9007199254740992"),
            ("\"a\":\"1 V\"", "\"a\":\"1 V\",\"a\":\"1 V\""),
            ("\"a\":\"1 V\"", "\"ä\":\"1 V\""),
            ("\"a\":\"1 V\"", "\"a\":\"\\u0031 V\""),
            ("{\"a\":\"1 V\"}", "[]"),
            ("\"version\":1", "\"version\":2"),
            ("\"version\":1", "\"version\":\"1\""),
            ("\"previous\":null,", ""),
            ("\"withheld\":[]", "\"withheld\":[],\"x\":1"),
            ("\"job\":\"j1\"", "\"job\":\"../j1\""),
            ("\"kind\":\"note\"", "\"kind\":\"No te\""),
            ("\"sequence\":0", "\"sequence\":1"),
            (
                "\"others\":{}",
                "\"others\":{\"d1\":\"ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad\"}",
            ),
        ];
        for (from, to) in changes {
            let changed = FIRST.replace(from, to);
            assert_ne!(changed, FIRST, "{from}");
            assert!(Record::parse(changed.as_bytes()).is_err(), "{to}");
        }
        assert!(Record::parse(format!("{FIRST}\n").as_bytes()).is_err());
        assert!(Record::parse(format!("\u{feff}{FIRST}").as_bytes()).is_err());
    }
}
