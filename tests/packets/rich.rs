//! A packet with everything that can lie in one: two devices of which one vouches for the other, a changed key,
//! time-stamps of two authorities, a photo with parts covered.
//!
//! The tokens in `stamped/` were made once by `openssl ts` with its clock set into the year of the invented job; the
//! checkpoints under them are the same at each run, because keys, salts and times are.

use std::path::{Path, PathBuf};

use evidence::packet::{PacketTimestamp, missing, redaction};
use evidence::timestamp::{self, TimestampBody};
use evidence::{DeviceKey, Digest, PhotoRef, succession};
use serde_json::{json, to_value};

use crate::sample::{Chance, Device, Sample};

/// The number sent with the first query.
pub const NONCE: u64 = 0x51ee_4000_0000_0001;

/// The key that follows the first one of the bench phone.
pub fn second_key() -> DeviceKey {
    DeviceKey::from_seed([11; 32])
}

/// The certificate of an authority: `tower-clock` or `sun-dial`.
pub fn root(name: &str) -> Vec<u8> {
    std::fs::read(stamped(&format!("{name}.crt"))).unwrap()
}

pub fn stamped(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("packets/stamped").join(name)
}

impl Sample {
    /// With the tokens that lie in `stamped/`.
    pub fn rich() -> Self {
        Self::stamped_by(&|authority, text, _| {
            let token = std::fs::read(stamped(&format!("{authority}.tst"))).unwrap();
            timestamp::check(&token, text.as_bytes(), None, &[]).unwrap();
            token
        })
    }

    /// The same, with a signature over each head from the third record on; the key changes with the eighth.
    pub fn signed_one_by_one() -> Self {
        let mut sample = Self::rich();
        let bench = &mut sample.devices[0];
        bench.sign_heads(3, 7, &bench.key.clone());
        bench.sign_heads(8, 10, &second_key());
        sample
    }

    /// `stamp` answers with the token of an authority over a text, given the number of the query.
    pub fn stamped_by(stamp: &dyn Fn(&str, &str, u64) -> Vec<u8>) -> Self {
        let mut chance = Chance(43);
        let (mut bench, mut desk) = (Device::new("bench-phone", 1), Device::new("desk-tablet", 2));
        let withheld = [("owner", "Ana Ñúñez"), ("phone", "555 0100"), ("plate", "XYZ-0001")];
        bench.record("job_opened", json!({"odometer": "81234 km"}), &[], &withheld, &[]);
        let photos: Vec<_> = (0..3).map(|number| picture(&mut chance, 9000 + 7001 * number)).collect();
        for (photo, _) in &photos {
            bench.record("reading_kept", json!({"value": "12.41 V"}), std::slice::from_ref(photo), &[], &[]);
        }
        bench.sign();
        let checkpoint = bench.checkpoint();
        let token = stamp("tower-clock", &checkpoint.text(), NONCE);
        let body = TimestampBody::new("https://tower-clock.example/stamp", &checkpoint, NONCE, &token);
        bench.record(timestamp::KIND, to_value(body).unwrap(), &[], &[], &[]);
        let shop = bench.id.shop.clone();
        let added = succession::add(&shop, "desk-tablet", &bench.key, &desk.key.public()).unwrap();
        bench.record(succession::ADDED, to_value(added).unwrap(), &[], &[], &[]);
        desk.record("approval", json!({"cents": "12999"}), &[], &[("words", "go ahead")], &[&bench]);
        desk.sign();
        let covered = picture(&mut chance, 8000);
        let covers = redaction::Redactions { redactions: vec![stands_in(&photos[1].0.sha256, &covered.0)] };
        bench.record(redaction::KIND, to_value(covers).unwrap(), &[], &[], &[&desk]);
        bench.sign();
        let changed = succession::change(&shop, "bench-phone", &bench.key, &second_key().public()).unwrap();
        bench.record(succession::CHANGED, to_value(changed).unwrap(), &[], &[], &[]);
        bench.newest = Some(second_key());
        bench.record("finding", json!({"result": "open ground"}), &[], &[], &[&desk]);
        let report = [b"%PDF-1.7 an invented report ".to_vec(), chance.bytes(5000)].concat();
        bench.record("report_written", json!({"sha256": Digest::of(&report)}), &[], &[], &[&desk]);
        bench.sign();
        let last = bench.checkpoint();
        let token = stamp("sun-dial", &last.text(), NONCE + 1);
        bench.loose = vec![PacketTimestamp { size: last.size, token }];
        let kept_back = vec![photos[1].0.sha256];
        Self { devices: vec![bench, desk], photos, redacted: vec![covered], kept_back, report }
    }
}

impl Sample {
    /// One photo here, one as a copy without metadata, one that the shop says it no longer has.
    pub fn stripped_and_lost() -> Self {
        let mut chance = Chance(44);
        let mut bench = Device::new("bench-phone", 1);
        let photos: Vec<_> = (0..3).map(|number| picture(&mut chance, 9000 + 7001 * number)).collect();
        for (photo, _) in &photos {
            bench.record("photo_kept", json!({"purpose": "part"}), std::slice::from_ref(photo), &[], &[]);
        }
        let copy = picture(&mut chance, 8000);
        let redaction = redaction::Redaction {
            change: Some(redaction::METADATA_REMOVED.into()),
            ..stands_in(&photos[1].0.sha256, &copy.0)
        };
        let copies = redaction::Redactions { redactions: vec![redaction] };
        bench.record(redaction::KIND, to_value(copies).unwrap(), &[], &[], &[]);
        let lost = missing::MissingPhoto { original: photos[2].0.sha256 };
        let lost = missing::Missing { missing: vec![lost] };
        bench.record(missing::KIND, to_value(lost).unwrap(), &[], &[], &[]);
        let report = b"%PDF-1.7 an invented report".to_vec();
        bench.record("report_written", json!({"sha256": Digest::of(&report)}), &[], &[], &[]);
        bench.sign();
        let kept_back = vec![photos[1].0.sha256, photos[2].0.sha256];
        Self { devices: vec![bench], photos, redacted: vec![copy], kept_back, report }
    }

    /// Copies with marks beside an original, beside a copy without metadata, and alone.
    pub fn marked() -> Self {
        let mut chance = Chance(45);
        let mut bench = Device::new("bench-phone", 1);
        let photos: Vec<_> = (0..3).map(|number| picture(&mut chance, 9000 + 7001 * number)).collect();
        for (photo, _) in &photos {
            bench.record("photo_kept", json!({"purpose": "part"}), std::slice::from_ref(photo), &[], &[]);
        }
        let mut redacted = Vec::new();
        let mut redactions = Vec::new();
        let changes =
            [redaction::MARKS_DRAWN; 3].into_iter().zip(0..3).chain([(redaction::METADATA_REMOVED, 1)]);
        for (change, place) in changes {
            let copy = picture(&mut chance, 8000);
            let one = stands_in(&photos[place].0.sha256, &copy.0);
            redactions.push(redaction::Redaction { change: Some(change.into()), ..one });
            redacted.push(copy);
        }
        let copies = redaction::Redactions { redactions };
        bench.record(redaction::KIND, to_value(copies).unwrap(), &[], &[], &[]);
        let report = b"%PDF-1.7 an invented report".to_vec();
        bench.record("report_written", json!({"sha256": Digest::of(&report)}), &[], &[], &[]);
        bench.sign();
        let kept_back = vec![photos[1].0.sha256, photos[2].0.sha256];
        Self { devices: vec![bench], photos, redacted, kept_back, report }
    }
}

fn picture(chance: &mut Chance, length: usize) -> (PhotoRef, Vec<u8>) {
    let bytes = chance.bytes(length);
    let photo =
        PhotoRef { sha256: Digest::of(&bytes), bytes: length as u64, media_type: "image/jpeg".into() };
    (photo, bytes)
}

fn stands_in(original: &Digest, derivative: &PhotoRef) -> redaction::Redaction {
    let PhotoRef { sha256, bytes, media_type } = derivative.clone();
    redaction::Redaction { original: *original, sha256, bytes, media_type, change: None }
}
