//! Files for programs, inside every paper (PDF/A-3, ISO 19005-3): what the paper says, as data.

use crate::words::{self, Language};
use crate::{FindingsInput, ReportError, lists};
use evidence::Digest;
use job::{Event, Job, TimelineRecord};
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;

/// A job's records as the reader of a paper may know them. A value that isn't told to this reader stands as if nobody had
/// entered it.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "JobRecords")]
pub struct JobRecords<'a> {
    /// Running number of the job in its shop.
    number: u32,
    /// The shop.
    shop: &'a str,
    /// When the paper was written, RFC 3339 with offset.
    written: &'a str,
    /// The signed checkpoint note over the job's records.
    checkpoint: &'a str,
    /// Records, oldest first.
    records: Vec<RecordLine<'a>>,
}

/// One record.
#[derive(Serialize, JsonSchema)]
struct RecordLine<'a> {
    /// Its leaf hash, SHA-256 as 64 hexadecimal digits.
    record: &'a Digest,
    /// The device whose log it stands in.
    device: &'a str,
    /// Place in that log, from 0.
    sequence: u64,
    /// Wall time, RFC 3339 with offset.
    wall: &'a str,
    /// Whether a known key signed for it.
    vouched: bool,
    /// Photos that it names, by SHA-256.
    photos: &'a [Digest],
    /// What happened; nothing where the record can't be used.
    event: Option<&'a Event>,
}

impl<'a> JobRecords<'a> {
    fn of(input: &'a FindingsInput) -> JobRecords<'a> {
        let job: &Job = input.job;
        let line = |record: &'a TimelineRecord| RecordLine {
            record: &record.record,
            device: &record.device,
            sequence: record.sequence,
            wall: &record.wall,
            vouched: record.vouched,
            photos: &record.photos,
            event: record.event.as_ref(),
        };
        JobRecords {
            number: job.opened.number,
            shop: &job.opened.shop,
            written: &input.written,
            checkpoint: &input.checkpoint.note,
            records: job.timeline.iter().map(line).collect(),
        }
    }
}

/// A file as the template attaches it.
#[derive(Serialize)]
pub(crate) struct Attached {
    path: &'static str,
    media: &'static str,
    /// How it relates to the paper: `data` or `supplement` (ISO 32000-2, 7.11.3).
    relation: &'static str,
    words: String,
}

/// Puts the files among the paper's: readings for a spreadsheet, the records with their schema, the signed checkpoint.
pub(crate) fn attach(
    input: &FindingsInput,
    language: Language,
    files: &mut BTreeMap<String, Vec<u8>>,
) -> Result<Vec<Attached>, ReportError> {
    let schema = serde_json::to_vec(&schemars::schema_for!(JobRecords<'_>))?;
    let readings = lists::readings_csv(std::slice::from_ref(input.job))?;
    let records = serde_json::to_vec(&JobRecords::of(input))?;
    let note = input.checkpoint.note.clone().into_bytes();
    let all = [
        ("readings.csv", "text/csv", "data", "attached_readings", readings),
        ("records.json", "application/json", "data", "attached_records", records),
        ("records.schema.json", "application/schema+json", "supplement", "attached_schema", schema),
        ("checkpoint.txt", "text/plain", "supplement", "attached_checkpoint", note),
    ];
    let attached = all.map(|(path, media, relation, key, bytes)| {
        files.insert(path.to_owned(), bytes);
        Attached { path, media, relation, words: words::say(language, key, &[]) }
    });
    Ok(attached.into_iter().collect())
}
