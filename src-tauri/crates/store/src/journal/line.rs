//! The kinds of lines: a heading, a record with its disclosures, a checkpoint, digests that were forgotten.

use base64::Engine as _;
use base64::prelude::BASE64_STANDARD as BASE64;
use evidence::{Digest, Disclosure, LogId, SignedCheckpoint};
use serde::Deserialize;
use serde_json::value::RawValue;

use crate::{CopiedRecord, StoreError};

const VERSION: u64 = 1;

/// What one line says.
pub(crate) enum Line {
    Heading(LogId),
    Record(CopiedRecord),
    Checkpoint(SignedCheckpoint),
    Forgotten(Vec<Digest>),
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Fields<'a> {
    log: Option<String>,
    version: Option<u64>,
    #[serde(borrow)]
    record: Option<&'a RawValue>,
    disclosures: Option<Vec<Disclosure>>,
    signature: Option<String>,
    checkpoint: Option<String>,
    forgotten: Option<Vec<Digest>>,
}

impl Line {
    /// Reads a line without its line feed; the record's bytes are those that stand in the line.
    pub(crate) fn parse(text: &str) -> Result<Self, StoreError> {
        let fields: Fields<'_> = serde_json::from_str(text)?;
        match fields {
            Fields { log: Some(origin), version: Some(VERSION), record: None, .. } => {
                Ok(Self::Heading(LogId::parse(&origin)?))
            }
            Fields { record: Some(record), disclosures: Some(disclosures), signature, log: None, .. } => {
                let signature = signature.as_deref().map(signature_of).transpose()?;
                Ok(Self::Record(CopiedRecord {
                    bytes: record.get().as_bytes().to_vec(),
                    disclosures,
                    signature,
                }))
            }
            Fields { checkpoint: Some(note), log: None, record: None, .. } => {
                Ok(Self::Checkpoint(SignedCheckpoint::from_note(&note)?))
            }
            Fields { forgotten: Some(digests), log: None, record: None, .. } => Ok(Self::Forgotten(digests)),
            _ => Err(StoreError::Misfit { why: "a line is of no known kind".to_owned() }),
        }
    }
}

pub(crate) fn heading_line(log: &LogId) -> String {
    // Identifiers have no character that JSON escapes.
    format!("{{\"log\":\"{}\",\"version\":{VERSION}}}\n", log.origin())
}

/// The record's own bytes stand at the end of the line: whoever cuts them out holds what was hashed.
pub(crate) fn record_line(
    bytes: &[u8],
    disclosures: &[Disclosure],
    signature: Option<&[u8; 64]>,
) -> Result<String, StoreError> {
    let record = std::str::from_utf8(bytes)
        .map_err(|_| StoreError::Misfit { why: "the record isn't UTF-8".to_owned() })?;
    let encoded: Vec<&str> = disclosures.iter().map(Disclosure::encoded).collect();
    let signed =
        signature.map(|bytes| format!(",\"signature\":\"{}\"", BASE64.encode(bytes))).unwrap_or_default();
    Ok(format!("{{\"disclosures\":{}{signed},\"record\":{record}}}\n", serde_json::to_string(&encoded)?))
}

fn signature_of(text: &str) -> Result<[u8; 64], StoreError> {
    let bytes = BASE64.decode(text).ok().and_then(|bytes| bytes.try_into().ok());
    bytes.ok_or_else(|| StoreError::Misfit { why: "a signature isn't 64 bytes in base64".to_owned() })
}

pub(crate) fn checkpoint_line(signed: &SignedCheckpoint) -> Result<String, StoreError> {
    Ok(format!("{{\"checkpoint\":{}}}\n", serde_json::to_string(&signed.note)?))
}

pub(crate) fn forgotten_line(digests: &[Digest]) -> Result<String, StoreError> {
    Ok(format!("{{\"forgotten\":{}}}\n", serde_json::to_string(digests)?))
}
