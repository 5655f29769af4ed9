//! What the keeper writes and the checks expect: an invented shop's job with one photo per record.

use std::collections::BTreeMap;

use evidence::{DeviceKey, Digest, LogId, Moment, NewRecord, PhotoRef, Sealed, seal};
use serde_json::json;
use store::{AppendRequest, JobRow, JobSummary, KeyProtection, Store, StoreError};

pub const JOB: &str = "job-1";

/// One acknowledgement, as the keeper prints it in a line: `kept <sequence> <leaf> <photo>`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kept {
    pub sequence: u64,
    pub leaf: Digest,
    pub photo: Digest,
}

impl Kept {
    /// The line that says it.
    pub fn line(&self) -> String {
        format!("kept {} {} {}\n", self.sequence, self.leaf, self.photo)
    }

    /// `None` for anything but a whole line.
    pub fn read(line: &str) -> Option<Self> {
        let mut words = line.strip_suffix('\n')?.strip_prefix("kept ")?.split(' ');
        let sequence = words.next()?.parse().ok()?;
        Some(Self { sequence, leaf: words.next()?.parse().ok()?, photo: words.next()?.parse().ok()? })
    }
}

pub fn log() -> LogId {
    LogId { shop: "shop-1".into(), job: JOB.into(), device: "device-1".into() }
}

/// Bytes no two photos share, as many as asked for.
pub fn photo(number: u64, bytes: usize) -> Vec<u8> {
    let seed = number.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1;
    let steps =
        std::iter::successors(Some(seed), |last| Some(last ^ (last << 13) ^ (last >> 7) ^ (last << 17)));
    [0xFF, 0xD8].into_iter().chain(steps.flat_map(u64::to_le_bytes)).take(bytes).collect()
}

/// Keeps a photo and then the record that names it.
pub fn keep_next(store: &Store, photo_bytes: usize) -> Result<Kept, StoreError> {
    let _turn = store.turn();
    let log = log();
    know(store, &log)?;
    let head = store.head(&log)?;
    let bytes = photo(head.size, photo_bytes);
    let sha256 = store.keep_original(&bytes, "jpg")?;
    let photos = vec![PhotoRef { sha256, bytes: bytes.len() as u64, media_type: "image/jpeg".into() }];
    let sealed = seal(&log, &head, new_record(head.size, photos), &mut || salt(head.size))?;
    let summary = summary(head.size);
    let signature = sign(store, &log, &sealed)?;
    let request = AppendRequest { summary: Some(&summary), ..AppendRequest::new(&log, &sealed, signature) };
    store.append(&request)?;
    Ok(Kept { sequence: sealed.sequence, leaf: sealed.leaf, photo: sha256 })
}

/// The key of every device in these checks.
pub fn device_key() -> DeviceKey {
    DeviceKey::from_seed([5; 32])
}

/// Gives the store its key and makes it known as that of a log's device.
pub fn know(store: &Store, log: &LogId) -> Result<(), StoreError> {
    if store.key_protection()? == KeyProtection::NoKey {
        store.keep_device_key(&device_key())?;
    }
    if store.public_keys_of(&log.device)?.is_empty() {
        store.keep_public_key(&log.device, &device_key().public_pem()?)?;
    }
    Ok(())
}

/// The device's signature over its log with a record that was just sealed.
pub fn sign(store: &Store, log: &LogId, sealed: &Sealed) -> Result<[u8; 64], StoreError> {
    know(store, log)?;
    Ok(device_key().sign_bytes(store.next_head(log, sealed.leaf)?.text().as_bytes()))
}

pub fn new_record(number: u64, photos: Vec<PhotoRef>) -> NewRecord {
    let wall = format!("2031-04-05T09:{:02}:{:02}.000-05:00", number / 60 % 60, number % 60);
    NewRecord {
        kind: "reading".into(),
        moment: Moment { wall, elapsed_ms: 1000 * number, boot: "boot-1".into() },
        others: BTreeMap::new(),
        photos,
        body: json!({ "value": "12.61 V" }),
        withheld: vec![("note".into(), json!(format!("reading {number} at the rear lamp")))],
    }
}

pub fn summary(number: u64) -> JobSummary {
    let row = JobRow {
        job: JOB.into(),
        number: 1,
        title: "Rear lamps dim".into(),
        vehicle: "2024 Calder Wren".into(),
        customer: "Ana Ñuflo".into(),
        stage: "diagnosis".into(),
        waiting: String::new(),
        opened: "2031-04-05T09:00:00.000-05:00".into(),
        changed: "2031-04-05T09:00:00.000-05:00".into(),
    };
    JobSummary { row, search_text: "7KX-042".into(), cache: vec![7; 64], cache_records: number + 1 }
}

pub fn salt(number: u64) -> [u8; 16] {
    (u128::from(number) + 1).to_be_bytes()
}
